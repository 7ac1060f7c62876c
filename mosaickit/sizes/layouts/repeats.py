"""Repeats: how many squares are overlaid in one repeat laid across and up, and whether its joins can be worked.

All that looks at squares is done once for a repeat (`RepeatSums`); what is laid of it (`Repeats`) is a matter of a few
sums, however often. Nothing here knows of frames, plain rows or edge stitches. Everything is in working order.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.motif import Motif


@dataclass(frozen=True, eq=False, repr=False)
class RepeatSums:
    """What layouts need to know of one repeat of R rows and C stitches; see `of`.

    Repeated upward in its own colours, a repeat of an odd number of rows is on the other row colours every second
    time: then exactly the squares that are otherwise not overlaid are. It is called turned there.

    Attributes
    ----------
    motif : Motif
        The repeat; what yarns it is in does not matter.
    overlaid : int array, (R + 1, C + 1)
        Working order: element [r, s] counts the overlaid squares among the first s stitches of rows r, r − 2, r − 4
        and so on.
    clear_rows : (int, int)
        How many rows from row 1 up hold no two overlaid squares one above the other, as drawn and turned.
    clashes : (bool, bool)
        Whether a repeat as drawn, and one that is turned, right above one as drawn puts two overlaid squares one
        above the other. (One as drawn above one that is turned need not be asked about: where a turned repeat of an
        odd number of rows can be worked, overlaid and other squares take turns in every column, joins and all.)
    """

    motif: Motif
    overlaid: NDArray[np.int32]
    clear_rows: tuple[int, int]
    clashes: tuple[bool, bool]

    @classmethod
    def of(cls, motif: Motif) -> RepeatSums:
        """Sum up a motif: the one step that looks at every square."""
        squares = orientation.to_working(motif.overlaid)
        rows, columns = squares.shape
        sums = np.zeros((rows + 1, columns + 1), dtype=np.int32)
        np.cumsum(squares, axis=1, out=sums[1:, 1:])
        for start in (1, 2):
            np.cumsum(sums[start::2], axis=0, out=sums[start::2])
        sums.flags.writeable = False
        turned = ~squares
        return cls(
            motif,
            sums,
            clear_rows=(_clear_rows(squares), _clear_rows(turned)),
            clashes=(bool((squares[-1] & squares[0]).any()), bool((squares[-1] & turned[0]).any())),
        )

    @cached_property
    def shape(self) -> tuple[int, int]:
        """The repeat's (rows, stitches)."""
        return self.motif.shape

    def are_of(self, motif: Motif) -> bool:
        """Whether these are the sums of a motif, or of the same squares in other yarns."""
        return self.motif is motif or np.array_equal(self.motif.overlaid, motif.overlaid)

    def in_row(self, row: int, stitches: int) -> int:
        """Count the overlaid squares among the first stitches of a row, from 1."""
        below = self.overlaid.item(row - 2, stitches) if row > 1 else 0
        return self.overlaid.item(row, stitches) - below

    def centred(self, closing: int) -> bool:
        """Whether repeats across read the same from either edge; `closing` is how many stitches close them."""
        known: dict[int, bool] = self.__dict__.setdefault("_centred", {})  # bands at many widths ask for the same few
        if closing not in known:
            columns = self.shape[1]
            squares = orientation.to_working(self.motif.overlaid)
            # stitch s from the other edge is stitch closing + 1 − s of some repeat
            from_the_other_edge = (closing - 1 - np.arange(columns)) % columns
            known[closing] = np.array_equal(squares, squares[:, from_the_other_edge])
        return known[closing]

    def in_rows(self, stitches: int) -> NDArray[np.int64]:
        """Count the overlaid squares among the first stitches of each row, (R,), row 1 first."""
        counts = self.overlaid[1:, stitches].astype(np.int64)
        counts[2:] -= self.overlaid[1:-2, stitches]
        return counts


def _clear_rows(squares: NDArray[np.bool_]) -> int:
    clash = (squares[:-1] & squares[1:]).any(axis=1)
    return int(clash.argmax()) + 1 if clash.any() else len(squares)


class Repeats(NamedTuple):
    """Repeats laid across and up, and what closes them: all that a frame goes around.

    Attributes
    ----------
    sums : RepeatSums
        Of the one repeat.
    across, up : int
        How many times it is laid.
    balance_across, balance_up : int
        How many of its first stitches close each row, and of its first rows the last.
    turn : bool
        Whether every second repeat up is turned: see `RepeatSums`.
    """

    sums: RepeatSums
    across: int
    up: int
    balance_across: int
    balance_up: int
    turn: bool

    @property
    def rows(self) -> int:
        """All rows."""
        return self.sums.shape[0] * self.up + self.balance_up

    @property
    def stitches(self) -> int:
        """The stitches of a row."""
        return self.sums.shape[1] * self.across + self.balance_across

    @property
    def centred(self) -> bool:
        """Whether every row reads the same from either edge, which depends on the repeat and what closes it alone."""
        return self.sums.centred(self.balance_across)

    @property
    def workable(self) -> bool:
        """Whether no two overlaid squares lie one above the other, in a repeat or at a join."""
        sums = self.sums
        rows = sums.shape[0]
        last = self.up if self.balance_up else self.up - 1
        second = self._turned(1)  # how every second repeat lies, from the second one on
        if sums.clear_rows[0] < rows or (self.up > 1 and sums.clear_rows[second] < rows):
            return False
        if sums.clear_rows[self._turned(last)] < self.balance_up:
            return False
        return not (last > 0 and sums.clashes[second])

    def _turned(self, number: int) -> int:
        """1 if the repeat of this number, from 0 below, is turned, else 0."""
        return number % 2 if self.turn else 0

    def in_row(self, row: int) -> int:
        """Count the overlaid squares in a row, from 1."""
        number, above = divmod(row - 1, self.sums.shape[0])
        overlaid = self.across * self.sums.in_row(above + 1, self.sums.shape[1])
        overlaid += self.sums.in_row(above + 1, self.balance_across)
        return self.stitches - overlaid if self._turned(number) else overlaid

    def squares_in(self, row: int) -> NDArray[np.bool_]:
        """Give which squares of a row, from 1, are overlaid, (stitches,), for a right-hander."""
        number, above = divmod(row - 1, self.sums.shape[0])
        drawn = orientation.to_working(self.sums.motif.overlaid)[above]
        laid: NDArray[np.bool_] = np.resize(drawn, self.stitches)
        return ~laid if self._turned(number) else laid

    def by_row(self) -> NDArray[np.int64]:
        """Count the overlaid squares in each row, (rows,), row 1 first."""
        drawn = self.across * self.sums.in_rows(self.sums.shape[1]) + self.sums.in_rows(self.balance_across)
        turned = self.stitches - drawn if self.turn else drawn
        return np.resize([drawn, turned], self.rows)

    def by_parity(self) -> tuple[int, int]:
        """Count the overlaid squares in all even rows, and in all odd ones."""
        rows, firsts, seconds = self.sums.shape[0], (self.up + 1) // 2, self.up // 2
        # every repeat lies like the first or like the second one
        (even, odd), (even_too, odd_too) = self._in_repeat(0, rows), self._in_repeat(1, rows)
        even, odd = firsts * even + seconds * even_too, firsts * odd + seconds * odd_too
        if self.balance_up:
            even_too, odd_too = self._in_repeat(self.up, self.balance_up)
            even, odd = even + even_too, odd + odd_too
        return even, odd

    def _in_repeat(self, number: int, rows: int) -> tuple[int, int]:
        """Count the overlaid squares in the first rows of a repeat, from 0 below, all across: in even rows, in odd."""
        item, columns, closing = self.sums.overlaid.item, self.sums.shape[1], self.balance_across
        last, other = self.across * item(rows, columns) + item(rows, closing), 0
        if rows > 1:
            other = self.across * item(rows - 1, columns) + item(rows - 1, closing)
        if self._turned(number):
            last = self.stitches * ((rows + 1) // 2) - last
            other = self.stitches * (rows // 2) - other
        last_is_odd = (number * self.sums.shape[0] + rows) % 2
        return (other, last) if last_is_odd else (last, other)
