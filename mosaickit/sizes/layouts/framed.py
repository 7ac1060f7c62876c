"""Framed: repeats with rings and plain rows around them: what is overlaid then, and whether it can be worked.

Edge stitches are plain, and so leave every count and every verdict here alone. Everything is in working order.
"""

from __future__ import annotations

from typing import NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray


class Inside(Protocol):
    """What a frame may go around: `Repeats`, or whatever else is counted without being built; in working order."""

    @property
    def rows(self) -> int:
        """All rows."""

    @property
    def stitches(self) -> int:
        """The stitches of a row."""

    @property
    def workable(self) -> bool:
        """Whether no two overlaid squares lie one above the other."""

    def in_row(self, row: int) -> int:
        """Count the overlaid squares in a row, from 1."""

    def squares_in(self, row: int) -> NDArray[np.bool_]:
        """Give which squares of a row, from 1, are overlaid, (stitches,)."""

    def by_row(self) -> NDArray[np.int64]:
        """Count the overlaid squares in each row, (rows,), row 1 first."""

    def by_parity(self) -> tuple[int, int]:
        """Count the overlaid squares in all even rows, and in all odd ones."""


class Framed(NamedTuple):
    """Repeats, the rings of a frame around them, and plain rows.

    Attributes
    ----------
    inner : Inside
        What the frame goes around.
    rings : int
        The rings of the frame.
    rows_below, rows_above : int
        Plain rows.
    """

    inner: Inside
    rings: int
    rows_below: int
    rows_above: int

    @property
    def rows_under(self) -> int:
        """The rows below the first repeat."""
        return self.rings + self.rows_below

    @property
    def workable(self) -> bool:
        """Whether it can be worked."""
        inner = self.inner
        if not inner.workable:
            return False
        bare_below, bare_above = not self.rows_under, not (self.rings + self.rows_above)
        if (bare_below and inner.in_row(1)) or (bare_above and inner.in_row(inner.rows)):
            return False
        if self.rings and inner.rows % 2 == 0:
            # the top of a ring is on the other colour: one may, between plain rows
            return self.rings == 1 and self.rows_above > 0 and not inner.in_row(inner.rows)
        return True

    def overlaid(self) -> tuple[int, int, int]:
        """Count the overlaid squares in all even rows, in all odd rows, and in the last row but one.

        It must be workable.
        """
        even, odd = self.inner.by_parity()
        of_parity = [odd, even] if self.rows_under % 2 else [even, odd]
        framed = self.inner.rows + 2 * self.rings
        for ring in range(self.rings):
            # both sides, every second row from the one above the ring's foot to its top
            of_parity[(self.rows_below + ring) % 2] += 2 * ((framed - 1) // 2 - ring)
        top = 0
        if self.rings and framed % 2 == 0:  # one ring between plain rows
            top = self.inner.stitches + 2 * self.rings
            of_parity[self.rows_below % 2] += top
        return of_parity[0], of_parity[1], self._overlaid_below_last(top)

    def _overlaid_below_last(self, top: int) -> int:
        """Count the overlaid squares in the last row but one; `top` of them in the top of an only ring."""
        inner = self.inner
        if self.rows_above > 1:
            return 0
        if self.rows_above == 1:
            return top if self.rings else inner.in_row(inner.rows)
        if not self.rings:
            return inner.in_row(inner.rows - 1) if inner.rows > 1 else 0
        return 2 + (inner.in_row(inner.rows) if self.rings == 1 else 0)

    def overlaid_by_row(self) -> NDArray[np.int64]:
        """Count the overlaid squares in each row, row 1 first."""
        rows, stitches = self.inner.rows, self.inner.stitches
        framed = np.zeros(rows + 2 * self.rings, dtype=np.int64)
        framed[self.rings : self.rings + rows] = self.inner.by_row()
        for ring in range(self.rings):
            top = len(framed) - ring - 1
            framed[ring + 1 : top : 2] += 2
            if len(framed) % 2 == 0:
                framed[top] = stitches + 2 * (self.rings - ring)
        return np.pad(framed, (self.rows_below, self.rows_above))
