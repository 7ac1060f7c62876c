"""Words: title, terms and notes."""

from __future__ import annotations

from typing import Any

from mosaickit.widgets.book.entries import shown
from mosaickit.widgets.book.panel import Book, Panel

GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("The pattern", ("title", "designer", "motif_name", "terms", "level", "for_children")),
    ("In your own words", ("intro", "notes")),
)
"""What is asked for, under which headings."""


class WordsPanel(Panel):
    """Title, terms and notes."""

    name, word, hint = "words", "Words", "Title, terms and notes"

    def view(self, book: Book) -> dict[str, Any]:
        """Give the entries under their headings."""
        return {"groups": [{"word": word, "entries": shown(book.design, names)} for word, names in GROUPS]}


PANEL = WordsPanel()
