"""Moving squares: the one place where row colours and yarns are kept in step with squares that move.

Every transform gives a function that moves the squares of any array, and takes from here what becomes of the colours.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import one_of
from mosaickit.motif.motif import Motif, checked_size
from mosaickit.orientation import Role

Colours = Literal["keep", "swap"]

COLOURS: tuple[Colours, ...] = ("keep", "swap")

Moving = Callable[[NDArray[Any]], NDArray[Any]]
"""Moves the squares of any array as seen, (R, C)."""


def moved(motif: Motif, move: Moving, first: Role, colours: Colours) -> Motif:
    """Move squares and the yarns of their rows; `first` is row 1's colour if the squares keep theirs."""
    one_of("colours", colours, COLOURS)
    row_numbers = np.broadcast_to(orientation.row_numbers(motif.shape[0])[:, np.newaxis], motif.shape)
    # in a half-drop the columns differ; the yarns stay with the first one as seen, which does not drop
    sources = orientation.to_working(move(row_numbers)[:, :1])[:, 0].tolist()
    if colours == "swap":
        return motif.with_overlaid(move(motif.overlaid), motif.first, motif.yarns.gather(sources))
    return motif.with_grid(move(motif.grid), first, motif.yarns.gather(sources))


def padded(motif: Motif, top: int, bottom: int, left: int, right: int, colours: Colours) -> Motif:
    """Add plain rows and columns around the picture; `colours` says what an odd `bottom` does to it."""
    rows, _ = checked_size(motif.shape[0] + top + bottom, motif.shape[1] + left + right)
    overlaid = np.pad(motif.overlaid, ((top, bottom), (left, right)))
    first = orientation.role_of_row(1 - bottom, motif.first) if colours == "keep" else motif.first
    sources = [min(row - bottom, motif.shape[0]) for row in range(1, rows + 1)]
    return motif.with_overlaid(overlaid, first, motif.yarns.gather(sources))
