"""Picture: the motif in the painter, which talks with Python by itself."""

from __future__ import annotations

from typing import Any

from mosaickit.widgets.book.panel import Book, Panel


class PicturePanel(Panel):
    """The motif is painted here."""

    name, word, hint = "picture", "Picture", "Paint the motif"

    def view(self, book: Book) -> dict[str, Any]:
        """Give nothing: this page needs nothing of the design."""
        return {}


PANEL = PicturePanel()
