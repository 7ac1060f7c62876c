"""Yarn: gauge, hook and yarn."""

from __future__ import annotations

from typing import Any

from mosaickit.widgets.book.entries import shown
from mosaickit.widgets.book.panel import Book, Panel

GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Gauge", ("gauge_stitches", "gauge_rows", "gauge_over", "gauge_unit", "hook_mm")),
    ("Yarn", ("between_rows", "yarn_mm", "tail_cm")),
)
"""What is asked for, under which headings."""


class YarnPanel(Panel):
    """Gauge, hook and yarn."""

    name, word, hint = "yarn", "Yarn", "Gauge, hook and yarn"

    def view(self, book: Book) -> dict[str, Any]:
        """Give the entries under their headings."""
        return {"groups": [{"word": word, "entries": shown(book.design, names)} for word, names in GROUPS]}


PANEL = YarnPanel()
