"""Share: files of the design, for others and for later."""

from __future__ import annotations

from typing import Any

from mosaickit.widgets.book.panel import Book, Panel


class SharePanel(Panel):
    """What is published and saved."""

    name, word, hint = "share", "Share", "Pattern, pictures and files"

    def view(self, book: Book) -> dict[str, Any]:
        """Give nothing: this page needs nothing of the design."""
        return {}


PANEL = SharePanel()
