"""Growing: a stack with more repeats of the field up, counted from two that have few.

Two repeats more leave every colour, every end of a band and all that was put in as it was. So what a frame and the yarn
ask for grows by as much as it grew before, and a sweep over lengths costs no more for bands than for one motif.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit.orientation import Role
from mosaickit.sizes.bands.stacking import Stack

FEW = 4
"""Four repeats up have every join that a larger even number has, however they are laid, and five that of an odd one."""


class Grown(NamedTuple):
    """A stack that is counted without being made.

    Attributes
    ----------
    few : Stack
        The same with few repeats of the field up: as many fewer as is even.
    step : Stack
        The same with two repeats more than `few`.
    times : int
        How often it grows by two.
    whole : function
        Makes the stack itself, for what needs it.
    """

    few: Stack
    step: Stack
    times: int
    whole: Callable[[], Stack]

    @property
    def rows(self) -> int:
        """All rows."""
        return self.few.rows + self.times * (self.step.rows - self.few.rows)

    @property
    def stitches(self) -> int:
        """The stitches of a row."""
        return self.few.stitches

    @property
    def first(self) -> Role:
        """The colour of row 1."""
        return self.few.first

    @property
    def workable(self) -> bool:
        """Whether no two overlaid squares lie one above the other."""
        return self.few.workable

    @property
    def centred(self) -> bool:
        """Whether every row reads the same from either edge."""
        return self.few.centred

    def in_row(self, row: int) -> int:
        """Count the overlaid squares in a row, from 1."""
        below_top = self.rows - row
        if row == 1:
            return self.few.in_row(1)
        return self.few.in_row(self.few.rows - below_top) if below_top < 2 else self.whole().in_row(row)

    def squares_in(self, row: int) -> NDArray[np.bool_]:
        """Give which squares of a row, from 1, are overlaid, (stitches,)."""
        below_top = self.rows - row
        if row == 1:
            return self.few.squares_in(1)
        return self.few.squares_in(self.few.rows - below_top) if below_top < 2 else self.whole().squares_in(row)

    def by_row(self) -> NDArray[np.int64]:
        """Count the overlaid squares in each row, (rows,), row 1 first."""
        return self.whole().by_row()

    def by_parity(self) -> tuple[int, int]:
        """Count the overlaid squares in all even rows, and in all odd ones."""
        (even, odd), (more_even, more_odd) = self.few.parities, self.step.parities
        return even + self.times * (more_even - even), odd + self.times * (more_odd - odd)
