"""Changes of a whole picture: turned, cleared, or with rows and columns put in, taken out or repeated at the focus.

Where a row is put in or taken out, the rows above it take the other row colour, while their squares keep their colours:
the maker who draws on sees the picture that was there. Two rows at a time leave the row colours as they are.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from mosaickit import orientation
from mosaickit.errors import OptionError
from mosaickit.motif import Motif, counterchange, half_turn, mirror, up_down


def _rows_taken(motif: Motif, tops: list[int]) -> Motif:
    """Give the picture of these rows as seen, each with its yarns; rows keep their colours as squares."""
    numbers = orientation.row_numbers(motif.shape[0])[tops]
    return motif.with_grid(motif.grid[tops], yarns=motif.yarns.gather(reversed(numbers.tolist())))


def _insert_row(motif: Motif, top: int, left: int) -> Motif:
    twice = _repeat_row(motif, top, left)
    grid = twice.grid.copy()
    grid[top] = twice.row_is_cc[top]
    return twice.with_grid(grid)


def _repeat_row(motif: Motif, top: int, left: int) -> Motif:
    tops = list(range(motif.shape[0]))
    return _rows_taken(motif, [*tops[: top + 1], *tops[top:]])


def _delete_row(motif: Motif, top: int, left: int) -> Motif:
    if motif.shape[0] == 1:
        raise OptionError("The last row cannot be deleted.")
    return _rows_taken(motif, [row for row in range(motif.shape[0]) if row != top])


def _delete_two_rows(motif: Motif, top: int, left: int) -> Motif:
    """Delete the row in focus and the one below it (above it, at the lower edge): the others keep their colours."""
    if motif.shape[0] < 3:
        raise OptionError("A picture must keep a row: there are no two to delete.")
    lower = min(top, motif.shape[0] - 2)
    return _delete_row(_delete_row(motif, lower + 1, left), lower, left)


def _insert_column(motif: Motif, top: int, left: int) -> Motif:
    return motif.with_grid(np.insert(motif.grid, left, motif.row_is_cc[:, 0], axis=1))


def _repeat_column(motif: Motif, top: int, left: int) -> Motif:
    return motif.with_grid(np.insert(motif.grid, left, motif.grid[:, left], axis=1))


def _delete_column(motif: Motif, top: int, left: int) -> Motif:
    if motif.shape[1] == 1:
        raise OptionError("The last column cannot be deleted.")
    return motif.with_grid(np.delete(motif.grid, left, axis=1))


CHANGES: dict[str, Callable[[Motif, int, int], Motif]] = {
    "mirror": lambda motif, top, left: mirror(motif),
    "up-down": lambda motif, top, left: up_down(motif),
    "half-turn": lambda motif, top, left: half_turn(motif),
    "counterchange": lambda motif, top, left: counterchange(motif),
    "insert row": _insert_row,
    "insert two rows": lambda motif, top, left: _insert_row(_insert_row(motif, top, left), top, left),
    "delete row": _delete_row,
    "delete two rows": _delete_two_rows,
    "repeat row": _repeat_row,
    "insert column": _insert_column,
    "delete column": _delete_column,
    "repeat column": _repeat_column,
    "clear": lambda motif, top, left: motif.with_grid(np.zeros(motif.shape, dtype=np.bool_)),
}
"""Every change by its name: from a motif, and the row and the column as seen of the square in focus."""
