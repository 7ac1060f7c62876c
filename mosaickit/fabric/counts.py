"""Stitches counted row by row, and proof that the count across never changes.

Counts are in working order, row 1 first. In overlay mosaic every stitch leaves one stitch on its top and uses up
one stitch of the row below, either by being worked into it (BLsc, tog-b, tog-f) or by skipping it (FLdc, which
hangs from two rows below); in row 1 every sc uses up one chain of the foundation. So a row has as many stitches as
the row below. That is checked here from the numbers of each kind, not assumed from the shape of the chart.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mosaickit.colours import Yarn
from mosaickit.errors import ChartError, number_of, of_kind
from mosaickit.fabric.stitches import Chart, Stitch
from mosaickit.orientation import ROLES, Role

WORKED_INTO_THE_ROW_BELOW = (Stitch.BLSC, Stitch.TOG_BACK, Stitch.TOG_FRONT)


@dataclass(frozen=True, eq=False, repr=False)
class RowCounts:
    """How many stitches of each kind every row has.

    Attributes
    ----------
    stitches : int array, (R, 5)
        Element [r - 1, kind] is the number of stitches of that `Stitch` in row r.
    row_colours : tuple of "MC" and "CC", R long
        The colour of each row.
    yarns : tuple of Yarn, R long
        The yarn of each row.
    """

    stitches: NDArray[np.int64]
    row_colours: tuple[Role, ...]
    yarns: tuple[Yarn, ...]

    @property
    def across(self) -> NDArray[np.int64]:
        """The stitches of each row, (R,)."""
        across: NDArray[np.int64] = self.stitches.sum(axis=1)
        return across

    @property
    def total(self) -> NDArray[np.int64]:
        """The stitches of each kind in all rows, (5,)."""
        total: NDArray[np.int64] = self.stitches.sum(axis=0)
        return total

    def __repr__(self) -> str:
        kinds = ", ".join(f"{int(n)} {kind.abbreviation}" for kind, n in zip(Stitch, self.total, strict=True) if n)
        size = f"{number_of(len(self.stitches), 'row')} × {number_of(self.across[0], 'stitch')}"
        return f"<RowCounts {size}: {kinds}>"


def check_across(counts: ArrayLike) -> None:
    """Raise unless every row uses up exactly the stitches that the row below offers, one for each that it makes.

    Parameters
    ----------
    counts : int array, (R, 5)
        Stitches of each kind a row, row 1 first.

    Raises
    ------
    ChartError
        Naming the first row that uses up more or fewer stitches than it makes or there are below it; or if
        `counts` are no such numbers.

    Examples
    --------
    >>> check_across([[4, 0, 0, 0, 0], [0, 3, 1, 0, 0]])
    >>> check_across([[4, 0, 0, 0, 0], [0, 3, 0, 0, 0]])  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    mosaickit.errors.ChartError: Row 2 makes 3 stitches, works into 3 and skips 0 of the 4 stitches of row 1: ...
    """
    counted = np.asarray(counts)
    if counted.ndim != 2 or counted.shape[1] != len(Stitch) or not len(counted) or counted.dtype.kind not in "iu":
        raise ChartError(
            f"Counts must be whole numbers, a line of {len(Stitch)} for each of 1 row or more; got {counted.dtype} of "
            f"shape {counted.shape}."
        )
    if counted.min() < 0:
        raise ChartError(f"Counts must be 0 or more; got {counted.min()}.")
    made = counted.sum(axis=1)
    used = counted[:, list(WORKED_INTO_THE_ROW_BELOW)].sum(axis=1)
    skipped = counted[:, Stitch.FLDC].copy()
    # the foundation has a chain for every stitch of row 1, and only sc is worked into it
    used[0], skipped[0] = counted[0, Stitch.SC], 0
    offered = np.concatenate([made[:1], made[:-1]])
    wrong = np.flatnonzero((used + skipped != offered) | (used + skipped != made))
    if wrong.size:
        row = int(wrong[0])
        below = f"stitches of row {row}" if row else "chains of the foundation"
        raise ChartError(
            f"Row {row + 1} makes {made[row]} stitches, works into {used[row]} and skips {skipped[row]} of the "
            f"{offered[row]} {below}: the count across never changes, so each must use up exactly one below it."
        )


def count_rows(chart: Chart) -> RowCounts:
    """Count the stitches of each kind in every row.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches in working order.

    Returns
    -------
    RowCounts
        (R, 5) counts with the colour and the yarn of each row.

    Raises
    ------
    ChartError
        If a row does not use up exactly the stitches of the row below: sc above row 1, or anything but sc in it.

    Examples
    --------
    >>> count_rows(Chart.from_text('''
    ... .|.|
    ... ....
    ... ....
    ... '''))
    <RowCounts 3 rows × 4 stitches: 4 sc, 6 BLsc, 2 FLdc>
    """
    of_kind("chart", chart, Chart)
    # five passes over the whole chart cost less than one walk over its rows
    counts = np.stack([np.count_nonzero(chart.stitches == kind, axis=1) for kind in Stitch], axis=1)
    check_across(counts)
    counts.flags.writeable = False
    rows = len(counts)
    of_role = {role: chart.yarns.by_row(rows, role) for role in ROLES}
    yarns = tuple(of_role[role][index] for index, role in enumerate(chart.row_colours))
    return RowCounts(counts, chart.row_colours, yarns)
