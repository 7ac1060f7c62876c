"""Look: the whole piece, front and back."""

from __future__ import annotations

from typing import Any

from mosaickit.widgets.book.ledger import faces
from mosaickit.widgets.book.panel import Book, Panel


class LookPanel(Panel):
    """Both faces of the whole piece."""

    name, word, hint = "look", "Look", "The whole piece, front and back"

    def view(self, book: Book) -> dict[str, Any]:
        """Give both faces; of what cannot be worked, those of the nearest that can."""
        design = book.design
        if design.layout.workable:
            return {"faces": faces(design), "note": ""}
        better = design.mended()
        note = "This is the nearest piece that can be worked: the picture cannot be worked yet."
        return {"faces": faces(better), "note": note}


PANEL = LookPanel()
