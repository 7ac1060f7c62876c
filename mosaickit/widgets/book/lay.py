"""Lay: repeats, frame and edges."""

from __future__ import annotations

from typing import Any

from mosaickit.widgets.book.entries import shown
from mosaickit.widgets.book.panel import Book, Panel

GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Repeats", ("across", "up", "laying", "seam", "colours")),
    ("What closes them", ("balance_across", "balance_up")),
    ("Frame and edges", ("rings", "edges", "rows_below", "rows_above")),
    ("Fabric", ("reversible", "in_the_round", "hand")),
)
"""What is asked for, under which headings."""


class LayPanel(Panel):
    """Repeats, frame and edges."""

    name, word, hint = "lay", "Lay", "Repeats, frame and edges"

    def view(self, book: Book) -> dict[str, Any]:
        """Give the entries under their headings."""
        return {"groups": [{"word": word, "entries": shown(book.design, names)} for word, names in GROUPS]}


PANEL = LayPanel()
