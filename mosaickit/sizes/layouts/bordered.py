"""Bordered: repeats with a mosaic border and plain rows around them, counted as `Framed` counts a frame.

A border is the sum of its parts: the rows below and above the inside, corners included, and the columns beside it.
Only their squares are looked at; what is inside says its own sums. Everything is in working order.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from mosaickit.motif import BorderParts, Motif, border_parts, strip_marks
from mosaickit.sizes.layouts.framed import Framed, Inside
from mosaickit.sizes.layouts.surround import Surround


@dataclass(frozen=True, eq=False)
class Bordered:
    """Repeats, a strip around all four sides of them, and plain rows.

    Attributes
    ----------
    inner : Inside
        What the border goes around.
    strip : Motif
        (rings, stitches), as `mosaic_border` takes it.
    start : int
        The stitch of the strip that stands in the corners, from 1.
    rows_below, rows_above : int
        Plain rows.
    """

    inner: Inside
    strip: Motif
    start: int
    rows_below: int
    rows_above: int

    @property
    def rows_under(self) -> int:
        """The rows below the first repeat."""
        return self.strip.shape[0] + self.rows_below

    @cached_property
    def parts(self) -> BorderParts:
        """The overlaid squares of the border."""
        rings = self.strip.shape[0]
        shape = self.inner.rows + 2 * rings, self.inner.stitches + 2 * rings
        return border_parts(strip_marks(self.strip), shape, self.start - 1)

    @cached_property
    def workable(self) -> bool:
        """Whether it can be worked."""
        inner, parts = self.inner, self.parts
        if not inner.workable or parts.clash:
            return False
        bare_below, bare_above = not self.rows_below, not self.rows_above
        if (bare_below and parts.lowest[0].any()) or (bare_above and parts.highest[-1].any()):
            return False
        return not (self._meets(parts.lowest[-1], 1) or self._meets(parts.highest[0], inner.rows))

    def _meets(self, border: NDArray[np.bool_], row: int) -> bool:
        """Whether overlaid squares of a row of the border lie right above or below such of a row inside."""
        rings = self.strip.shape[0]
        beside = border[rings:-rings]
        if not beside.any() or not self.inner.in_row(row):
            return False
        return bool((beside & self.inner.squares_in(row)).any())

    def overlaid(self) -> tuple[int, int, int]:
        """Count the overlaid squares in all even rows, in all odd rows, and in the last row but one.

        It must be workable.
        """
        of_border = self._of_border()
        of_parity = [int(of_border[1::2].sum()), int(of_border[::2].sum())]  # even rows, odd ones
        even, odd = self.inner.by_parity()
        turned = self.strip.shape[0] % 2
        of_parity[turned] += even
        of_parity[1 - turned] += odd
        below_last = 0
        if self.rows_above == 1:
            below_last = int(of_border[-1])
        elif self.rows_above == 0:
            below_last = int(of_border[-2])
            if self.strip.shape[0] == 1:
                below_last += self.inner.in_row(self.inner.rows)
        if self.rows_below % 2:
            of_parity.reverse()
        return of_parity[0], of_parity[1], below_last

    def overlaid_by_row(self) -> NDArray[np.int64]:
        """Count the overlaid squares in each row, row 1 first."""
        counts, rings = self._of_border(), self.strip.shape[0]
        counts[rings : rings + self.inner.rows] += self.inner.by_row()
        return np.pad(counts, (self.rows_below, self.rows_above))

    def _of_border(self) -> NDArray[np.int64]:
        lowest, highest, sides = self.parts
        return np.concatenate([part.sum(axis=1, dtype=np.int64) for part in (lowest, sides, highest)])


def around(inner: Inside, surround: Surround) -> Framed | Bordered:
    """Put what a surround has around repeats or bands, but for the edge stitches."""
    rows = surround.rows_below, surround.rows_above
    if surround.strip is None:
        return Framed(inner, surround.rings, *rows)
    return Bordered(inner, surround.strip, surround.strip_start, *rows)
