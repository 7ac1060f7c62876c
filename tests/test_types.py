"""The types in the comments of all JavaScript, checked at once: a compiler is mostly what it loads first."""

import shutil
import subprocess
from pathlib import Path

import pytest
from lab import PATIENCE, need

import mosaickit as mk

PACKAGE = Path(mk.__file__).parent
SEARCH = Path(__file__).parent.parent / "docs" / "search"


@pytest.mark.thorough
def test_the_types_in_the_pages_of_widgets_of_what_is_shared_and_of_the_search_hold():
    tsc = shutil.which("tsc")
    skipped = "TypeScript's tsc is not installed: the types in JavaScript were not checked."
    need(tsc, "TypeScript", left_out="the types in JavaScript", skipped=skipped)
    options = ["--noEmit", "--checkJs", "--allowJs", "--strict", "--target", "es2022", "--module", "es2022"]
    options += ["--moduleDetection", "force"]  # no file takes a name that only another one has
    pages = sorted(
        page for folder in (PACKAGE / "widgets", PACKAGE / "sharing", SEARCH) for page in folder.rglob("*.js")
    )
    command = [tsc, *options, "--lib", "es2022,dom,dom.iterable", *map(str, pages)]
    ran = subprocess.run(command, capture_output=True, text=True, timeout=PATIENCE)
    assert (ran.returncode, ran.stdout) == (0, "")
    assert PACKAGE / "widgets" / "book" / "page.js" in pages
    assert len([page for page in pages if page.parent == PACKAGE / "sharing"]) == 2
    assert {page.name for page in pages if page.parent == SEARCH} == {"words.js", "ranking.js", "page.js"}
