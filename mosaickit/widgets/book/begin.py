"""Begin: a new sheet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from mosaickit.errors import OptionError, whole_number
from mosaickit.motif import LARGEST_SIDE, Motif
from mosaickit.sizes import Design
from mosaickit.widgets.book.panel import Book, Panel

USUAL_SHEET = (31, 24)
"""Rows and stitches of a sheet whose size is not said."""


def empty_sheet(rows: int = USUAL_SHEET[0], stitches: int = USUAL_SHEET[1]) -> Motif:
    """Make a sheet on which nothing is drawn yet: plain rows, each in its own colour, which can be worked.

    Examples
    --------
    >>> empty_sheet(3, 2).to_text().split()
    ['..', '##', '..']
    """
    columns = np.zeros((rows, stitches), dtype=np.bool_)
    return Motif(columns).with_grid(Motif(columns).row_is_cc | columns)


class BeginPanel(Panel):
    """A design begins here."""

    name, word, hint = "begin", "Begin", "A new sheet"

    def view(self, book: Book) -> dict[str, Any]:
        """Give the size that a new sheet has if nothing is said."""
        rows, stitches = USUAL_SHEET
        return {"rows": rows, "stitches": stitches, "most": LARGEST_SIDE}

    def do(self, book: Book, name: str, values: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        """Begin a new sheet of the size that `values` name."""
        if name != "sheet":
            return super().do(book, name, values, buffers)
        rows = whole_number("Rows", values.get("rows"), least=1)
        stitches = whole_number("Stitches", values.get("stitches"), least=1)
        if max(rows, stitches) > LARGEST_SIDE:
            raise OptionError(f"A sheet has at most {LARGEST_SIDE:,} rows and stitches.")
        book.change(Design(empty_sheet(rows, stitches)), "new sheet")
        book.open_panel("picture")
        return {}


PANEL = BeginPanel()
