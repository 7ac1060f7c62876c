"""Stitches: which stitches the overlaid squares of a fabric become, counted, without a chart.

An FLdc stands on the row above the square that it overlays. If the back is closed, a tog-b stands on the row above the
FLdc, and the last row's FLdc are tog-f.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mosaickit.fabric import Stitch


def stitches_of_colours(
    overlaid: tuple[int, int, int], rows: int, stitches: int, reversible: bool
) -> tuple[list[int], list[int]]:
    """Count the stitches of row 1's colour, and of the other one, by the kinds of `Stitch`.

    Parameters
    ----------
    overlaid : (int, int, int)
        The overlaid squares in all even rows, in all odd rows, and in the last row but one.
    rows, stitches : int
        The size of the fabric.
    reversible : bool
        Whether the back is closed.
    """
    even, odd, below_last = overlaid
    # by the parity of the row, even first
    fldc = [odd, even]
    tog_back, tog_front = [0, 0], [0, 0]
    if reversible:
        tog_back = [even, odd]
        tog_back[(rows - 1) % 2] -= below_last  # none follows the last row
        tog_front[rows % 2] = below_last
        fldc[rows % 2] -= below_last
    counts = []
    for parity, of_parity in ((1, (rows + 1) // 2), (0, rows // 2)):
        sc = stitches if parity else 0
        plain = of_parity * stitches - sc - fldc[parity] - tog_back[parity] - tog_front[parity]
        counts.append([sc, plain, fldc[parity], tog_back[parity], tog_front[parity]])
    return counts[0], counts[1]


def stitches_of_rows(overlaid: NDArray[np.int64], stitches: int, reversible: bool) -> NDArray[np.int64]:
    """Count the stitches of each row, (R, 5), by the kinds of `Stitch`, from the overlaid squares of each, (R,)."""
    counts = np.zeros((len(overlaid), len(Stitch)), dtype=np.int64)
    counts[1:, Stitch.FLDC] = overlaid[:-1]
    if reversible:
        counts[2:, Stitch.TOG_BACK] = overlaid[:-2]
        counts[-1, Stitch.TOG_FRONT] = counts[-1, Stitch.FLDC]
        counts[-1, Stitch.FLDC] = 0
    counts[0, Stitch.SC] = stitches
    counts[1:, Stitch.BLSC] = stitches - counts[1:].sum(axis=1)
    counts.flags.writeable = False
    return counts
