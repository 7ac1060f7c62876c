"""Dots: squares that imitate greys and can be worked as they are.

Mending dots would change every eighth square and the brightness with them. So the error diffusion knows what can be
worked, and carries on what it could not do.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.files.pictures.asked import AskedFirst
from mosaickit.files.pictures.light import Floats
from mosaickit.motif import Motif
from mosaickit.orientation import Role


def dotted(blank: Motif, wanted: Floats, invert: bool, first: AskedFirst) -> Motif:
    """Make dots that are as dark as is wanted, (R, C) from 0 to 1, and can be worked."""
    own = blank.first
    choices = (own, orientation.other(own)) if first == "better" else (first,)
    dark_rows = {role: blank.with_grid(blank.grid, role).row_is_cc[:, 0] ^ invert for role in choices}

    def off(role: Role) -> float:
        # rounded, so that what is equally far off is a tie
        return round(float(sum(np.abs(wanted[end] - dark_rows[role][end]).sum() for end in (0, -1))), 9)

    best = min(choices, key=off)
    return blank.with_grid(_diffused(wanted, dark_rows[best]) ^ invert, best)


def _diffused(wanted: Floats, row_is_dark: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Choose squares from the top left, each carrying its error on to its neighbours, overlaid only where that works.

    The error goes 7/16 to the right and 3/16, 5/16 and 1/16 below (Floyd and Steinberg, 1976, from memory). So squares
    that lie two to the left for each row below do not touch each other, and are chosen together.
    """
    rows, columns = wanted.shape
    carried = np.zeros((rows + 1, columns + 2))  # what leaves the picture at a side or below is lost
    carried[:rows, 1:-1] = wanted
    overlaid = np.zeros((rows + 1, columns), dtype=np.bool_)  # the last row is also what lies above row 0
    for step in range(columns + 2 * rows - 2):
        row = np.arange(max(0, (step - columns + 2) // 2), min(rows - 1, step // 2) + 1)
        column = step - 2 * row
        # no square can be more than full: what is beyond would smear
        value = np.clip(carried[row, column + 1], -0.5, 1.5)
        own = row_is_dark[row]
        over = ((value > 0.5) != own) & ~overlaid[row - 1, column] & (row > 0) & (row < rows - 1)
        overlaid[row, column] = over
        error = value - (own ^ over)
        for down, right, share in ((0, 2, 7), (1, 0, 3), (1, 1, 5), (1, 2, 1)):
            carried[row + down, column + right] += share / 16 * error
    return overlaid[:rows] ^ row_is_dark[:, np.newaxis]
