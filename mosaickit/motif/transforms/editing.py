"""Edits: rows and columns put in, repeated or taken out at one place, as a maker does who draws on.

Where a row is put in or taken out, the rows above it take the other row colour, while their squares keep their colours:
the maker sees the picture that was there. Two rows at a time leave the row colours as they are. Nothing is asked about
workability, as a drawing may be unfinished. Places are as seen, from 0 at the top and at the left.
"""

from __future__ import annotations

import numpy as np

from mosaickit import orientation
from mosaickit.errors import OptionError, one_of
from mosaickit.motif.motif import Motif
from mosaickit.motif.transforms.moving import COLOURS, Colours


def _rows_taken(motif: Motif, tops: list[int]) -> Motif:
    """Give the picture of these rows as seen, each with its yarns; rows keep their colours as squares."""
    numbers = orientation.row_numbers(motif.shape[0])[tops]
    return motif.with_grid(motif.grid[tops], yarns=motif.yarns.gather(reversed(numbers.tolist())))


def insert_row(motif: Motif, top: int, *, colours: Colours = "keep") -> Motif:
    """Put a plain row in above a row, in the yarns of that row.

    Parameters
    ----------
    motif : Motif
        (R, C).
    top : int
        The row as seen, from 0.
    colours : "keep" or "swap"
        Whether the squares above keep their colours, so that others are overlaid there, or swap them, so that the same
        ones are: a workable picture then stays workable.

    Examples
    --------
    >>> print(insert_row(Motif.from_text("#.#"), 0).to_text())
    ###
    #.#
    """
    one_of("colours", colours, COLOURS)
    twice = repeat_row(motif, top)
    if colours == "swap":
        return twice.with_overlaid(np.insert(motif.overlaid, top, False, axis=0))
    grid = twice.grid.copy()
    grid[top] = twice.row_is_cc[top]
    return twice.with_grid(grid)


def repeat_row(motif: Motif, top: int) -> Motif:
    """Put a row in once more, above itself."""
    tops = list(range(motif.shape[0]))
    return _rows_taken(motif, [*tops[: top + 1], *tops[top:]])


def repeat_two_rows(motif: Motif, top: int) -> Motif:
    """Put a row and the one below it (above it, at the lower edge) in once more: a workable picture stays workable."""
    if motif.shape[0] < 2:
        raise OptionError("A picture of one row has no two to repeat.")
    upper = min(top, motif.shape[0] - 2)
    tops = list(range(motif.shape[0]))
    return _rows_taken(motif, [*tops[: upper + 2], *tops[upper:]])


def delete_row(motif: Motif, top: int) -> Motif:
    """Take a row out; `OptionError` if it is the only one."""
    if motif.shape[0] == 1:
        raise OptionError("The last row cannot be deleted.")
    return _rows_taken(motif, [row for row in range(motif.shape[0]) if row != top])


def delete_two_rows(motif: Motif, top: int) -> Motif:
    """Take out a row and the one below it (above it, at the lower edge): the others keep their row colours."""
    if motif.shape[0] < 3:
        raise OptionError("A picture must keep a row: there are no two to delete.")
    lower = min(top, motif.shape[0] - 2)
    return delete_row(delete_row(motif, lower + 1), lower)


def insert_column(motif: Motif, left: int) -> Motif:
    """Put a plain column in at the left of a column."""
    return motif.with_grid(np.insert(motif.grid, left, motif.row_is_cc[:, 0], axis=1))


def repeat_column(motif: Motif, left: int) -> Motif:
    """Put a column in once more, beside itself."""
    return motif.with_grid(np.insert(motif.grid, left, motif.grid[:, left], axis=1))


def delete_column(motif: Motif, left: int) -> Motif:
    """Take a column out; `OptionError` if it is the only one."""
    if motif.shape[1] == 1:
        raise OptionError("The last column cannot be deleted.")
    return motif.with_grid(np.delete(motif.grid, left, axis=1))
