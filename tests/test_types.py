"""The types in the comments of all JavaScript, checked at once: a compiler is mostly what it loads first."""

from pathlib import Path

import pytest
from lab import types_of

import mosaickit as mk

PACKAGE = Path(mk.__file__).parent
SEARCH = Path(__file__).parent.parent / "docs" / "search"


@pytest.mark.thorough
def test_the_types_in_the_pages_of_widgets_of_what_is_shared_and_of_the_search_hold():
    pages, ran = types_of(PACKAGE / "widgets", PACKAGE / "sharing", SEARCH)
    assert (ran.returncode, ran.stdout) == (0, "")
    assert PACKAGE / "widgets" / "book" / "page.js" in pages
    assert len([page for page in pages if page.parent == PACKAGE / "sharing"]) == 2
    assert {page.name for page in pages if page.parent == SEARCH} == {"words.js", "ranking.js", "page.js"}
