"""What a file of a pattern knows of itself, whatever its form: title, author, subject, language, date."""

from __future__ import annotations

from typing import Any

from mosaickit.publish import contents
from mosaickit.publish.page import Page


def known_of_itself(page: Page) -> dict[str, Any]:
    """Give it as the templates read it, with what stands at the foot of every page."""
    own = page.publishing
    language, _, region = own.language.partition("-")
    return {
        "title": page.title,
        "author": [page.designer] if page.designer else [],
        "summary": contents.summary(page),
        "keywords": contents.keywords(page),
        "language": language,
        "region": region or None,
        "date": None if own.published is None else [own.published.year, own.published.month, own.published.day],
        "foot": contents.foot(page),
    }
