"""What is drawn over and instead of coloured squares, as SVG text in units of squares: grid and marks."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mosaickit.svg import heavy_lines

GRID = "#7f7f7f"
REGION = "#b8b8b8"
"""Where regions of CC are not outlined and have no colour."""


def corners_path(here: NDArray[np.bool_]) -> str:
    """Mark the upper left corner of squares, clear of any symbol, as the `d` of one path."""
    return "".join(f"M{x} {y}h.25l-.25 .25z" for y, x in np.argwhere(here).tolist())


def dots_path(here: NDArray[np.bool_]) -> str:
    """Mark the middle of squares, as the `d` of one path."""
    return "".join(f"M{x + 0.38:g} {y + 0.38:g}h.24v.24h-.24z" for y, x in np.argwhere(here).tolist())


def lines_after(numbers: NDArray[np.int64], number: int) -> list[int]:
    """Find the grid line that runs after a row or stitch, as the maker counts; `numbers` are as seen.

    Examples
    --------
    >>> lines_after(np.array([5, 4, 3, 2, 1]), 2), lines_after(np.array([1, 2, 3, 4, 5]), 2)
    ([3], [2])
    """
    found: list[int] = (np.flatnonzero(np.minimum(numbers[:-1], numbers[1:]) == number) + 1).tolist()
    return found


def grid(row_numbers: NDArray[np.int64], stitch_numbers: NDArray[np.int64]) -> str:
    """Draw the grid in units of squares, heavier after every tenth row and stitch."""
    rows, columns = len(row_numbers), len(stitch_numbers)
    drawn = ""
    for width, downs, acrosses in (
        (0.05, range(rows + 1), range(columns + 1)),
        (0.13, heavy_lines(row_numbers).tolist(), heavy_lines(stitch_numbers).tolist()),
    ):
        path = "".join(f"M0 {row}H{columns}" for row in downs) + "".join(f"M{x} 0V{rows}" for x in acrosses)
        drawn += f'<path stroke-width="{width}" d="{path}"/>'
    return f'<g fill="none" stroke="{GRID}">{drawn}</g>'
