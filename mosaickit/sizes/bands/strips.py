"""Strips: how many squares are overlaid in one band of a piece, without building it.

A strip is a band at its full width. It says what `Repeats` says of repeats, so that a frame may go around it: counts
come from the sums over one repeat, and only where two bands meet are the squares of a row looked at. Everything is in
working order, for a right-hander.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import Yarn
from mosaickit.orientation import ROLES, Role
from mosaickit.sizes.layouts.repeats import Repeats

YarnsOfRow = tuple[Yarn, Yarn]
"""What MC and CC would be worked in, in some row."""


@dataclass(frozen=True, eq=False)
class Strip:
    """A band at its full width.

    Attributes
    ----------
    repeats : Repeats or None
        What is laid in it; None where no motif is.
    rows, stitches : int
        Its size.
    right : int
        The plain stitches before stitch 1 of the repeats.
    first : "MC" or "CC" or None
        The colour that its row 1 has as drawn; None where any will do.
    whole_rows : tuple of int
        Where no motif is laid: the rows, from 1, that are overlaid all across.
    upside_down, mirrored : bool
        Whether what is laid is turned.
    either : bool
        Whether it is a line of two rows, of which either may have its colour.
    cut : int
        The stitches of its repeats that were left out at both sides.
    workable : bool
        Whether no two overlaid squares lie one above the other in it.
    by_parity : (int, int)
        How many squares are overlaid in all even rows, and in all odd ones.
    at_ends : (int, int)
        How many are overlaid in row 1, and in the last row.
    """

    repeats: Repeats | None
    rows: int
    stitches: int
    right: int = 0
    first: Role | None = None
    whole_rows: tuple[int, ...] = ()
    upside_down: bool = False
    mirrored: bool = False
    either: bool = False
    cut: int = 0
    workable: bool = field(init=False)
    by_parity: tuple[int, int] = field(init=False)
    at_ends: tuple[int, int] = field(init=False)

    def __post_init__(self) -> None:
        own, repeats = self.__dict__, self.repeats  # a sweep makes many of these
        if repeats is None:
            odd = sum(row % 2 for row in self.whole_rows)
            even = len(self.whole_rows) - odd
            own["workable"] = True
        else:
            even, odd = repeats.by_parity()
            own["workable"] = repeats.workable
        if repeats is None:
            own["by_parity"] = self.stitches * even, self.stitches * odd
        else:
            own["by_parity"] = (odd, even) if self.upside_down and self.rows % 2 == 0 else (even, odd)
        own["at_ends"] = self.in_row(1), self.in_row(self.rows)

    def in_row(self, row: int) -> int:
        """Count the overlaid squares in a row, from 1."""
        if self.repeats is None:
            return self.stitches * (row in self.whole_rows)
        return self.repeats.in_row(self._drawn(row))

    def by_row(self) -> NDArray[np.int64]:
        """Count the overlaid squares in each row, (rows,), row 1 first."""
        if self.repeats is None:
            counts = np.zeros(self.rows, dtype=np.int64)
            counts[[row - 1 for row in self.whole_rows]] = self.stitches
            return counts
        counts = self.repeats.by_row()
        return counts[::-1] if self.upside_down else counts

    def squares_of(self, rows: Sequence[int]) -> NDArray[np.bool_]:
        """Give the overlaid squares of some rows, from 1, (len(rows), stitches)."""
        if self.repeats is None:
            return np.array([[row in self.whole_rows] * self.stitches for row in rows])
        laid = _laid(self.repeats, np.array([self._drawn(row) - 1 for row in rows]))
        if self.mirrored:
            laid = laid[:, ::-1]
        return np.pad(laid, ((0, 0), (self.right, self.stitches - self.right - laid.shape[1])))

    def squares(self) -> NDArray[np.bool_]:
        """Give all its overlaid squares, (rows, stitches)."""
        return self.squares_of(range(1, self.rows + 1))

    @property
    def centred(self) -> bool:
        """Whether every row reads the same from either edge."""
        if self.repeats is None or not any(self.by_parity):
            return True
        if self.stitches - 2 * self.right != self.repeats.stitches:
            return False
        return self.repeats.centred

    def yarns(self) -> list[YarnsOfRow] | None:
        """Give the yarns of each row as drawn, row 1 first; None where they are those of the band beside it."""
        if self.repeats is None:
            return None
        rows = self.repeats.sums.shape[0]
        of_motif = list(zip(*(self.repeats.sums.motif.yarns.by_row(rows, role) for role in ROLES), strict=True))
        return [of_motif[(self._drawn(row) - 1) % rows] for row in range(1, self.rows + 1)]

    def _drawn(self, row: int) -> int:
        """Give the row, from 1, of what is laid before it is turned."""
        return orientation.row_turned(row, self.rows) if self.upside_down else row


def divider_strip(rows: int, stitches: int, colour: Role | None) -> Strip:
    """Give a line of one colour: the row between the two of its colour is overlaid, or one of only two."""
    return Strip(None, rows, stitches, first=colour, whole_rows=(2,) if rows > 1 else (), either=rows == 2)


def plain_strip(rows: int, stitches: int) -> Strip:
    """Give plain rows as a strip."""
    return Strip(None, rows, stitches)


def _laid(repeats: Repeats, rows: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Lay some rows, from 0, of repeats: (len(rows), stitches)."""
    squares = orientation.to_working(repeats.sums.motif.overlaid)
    high, wide = squares.shape
    laid = squares[np.ix_(rows % high, np.arange(repeats.stitches) % wide)]
    turned: NDArray[np.bool_] = repeats.turn & (rows // high % 2 == 1)
    found: NDArray[np.bool_] = laid ^ turned[:, np.newaxis]
    return found
