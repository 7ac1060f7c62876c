"""What was read from a photograph: rows, squares, and those that differ from the chart."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import number_of
from mosaickit.fabric import Chart, Stitch
from mosaickit.orientation import Face, Role
from mosaickit.photographed.straight import Reals

NEVER_ON_WOOL = "Experimental: never tried on wool."

MOST_SQUARES_PRINTED = 20
"""The most findings that are printed; the others are counted."""


@dataclass(frozen=True)
class WrongSquare:
    """A square of the photograph that differs from the chart, and the stitch that is probably wrong.

    Attributes
    ----------
    row, stitch : int
        The square, from 1, as a maker counts.
    chart_says, photograph_shows : "MC" or "CC"
        Its colour.
    stitch_row : int
        The row of the stitch that is probably wrong: it hangs over the square, so it is one row up.
    should_be, probably_is : Stitch
        What the chart says there, and what was probably worked.
    sureness : float
        How likely the square really differs, from 0 to 1.
    """

    row: int
    stitch: int
    chart_says: Role
    photograph_shows: Role
    stitch_row: int
    should_be: Stitch
    probably_is: Stitch
    sureness: float

    @property
    def message(self) -> str:
        """The finding in a sentence or two."""
        return (
            f"Row {self.stitch_row}, stitch {self.stitch}: {self.probably_is.abbreviation} where "
            f"{self.should_be.abbreviation} should be ({in_percent(self.sureness)} sure). The square below it, in row "
            f"{self.row}, shows {self.photograph_shows}; the chart says {self.chart_says}."
        )

    def __str__(self) -> str:
        return self.message


def in_percent(share: float) -> str:
    """Write how likely something is; nothing is quite sure."""
    return "over 99%" if share > 0.99 else f"{100 * share:.0f}%"


@dataclass(frozen=True, eq=False, repr=False)
class PhotographedWork:
    """What a photograph shows of worked fabric. Experimental: never tried on wool.

    All arrays are as seen in the photograph, its fabric upright: n rows of C stitches, the top one first.

    Attributes
    ----------
    chart : Chart
        What the work was compared with.
    face : "front" or "back"
        Which face is seen.
    rows, stitches : (first, last)
        The part of the chart that is seen, from 1, as a maker counts.
    rows_sureness : float
        How likely the count of rows is right, from 0 to 1; 1 if the rows were given.
    shows_cc, chart_says_cc : bool array, (n, C)
        Where a CC yarn shows, and where the chart says so.
    sureness : float array, (n, C)
        How likely each square was read rightly, from 0.5 to 1.
    findings : tuple of WrongSquare
        The squares that differ, from row 1 up and stitch 1 on.
    corners : float array, (4, 2)
        The corners of the squares in the photograph, in pixels, where they were found to lie: top left, top right,
        bottom right and bottom left of the fabric.
    straight : uint8 array, (height, width, 3)
        The photograph of the squares, straightened; its squares are all of one size.
    yarns_seen : tuple of (str, str)
        The name of each yarn and its colour in the photograph, "#rrggbb".
    remarks : tuple of str
        What else a maker should know, such as that the colours are the other way around.
    """

    chart: Chart
    face: Face
    rows: tuple[int, int]
    stitches: tuple[int, int]
    rows_sureness: float
    shows_cc: NDArray[np.bool_]
    chart_says_cc: NDArray[np.bool_]
    sureness: Reals
    findings: tuple[WrongSquare, ...]
    corners: Reals
    straight: NDArray[np.uint8]
    yarns_seen: tuple[tuple[str, str], ...]
    remarks: tuple[str, ...]

    @property
    def shape(self) -> tuple[int, int]:
        """(n, C): rows and stitches that are seen."""
        rows, columns = self.shows_cc.shape
        return rows, columns

    @property
    def summary(self) -> str:
        """One line: what is seen, how much of it differs, and that it is experimental."""
        rows, columns = self.shape
        name = f"{self.chart.name}: " if self.chart.name else ""
        differ = f"{number_of(len(self.findings), 'square')} differ" if self.findings else "no square differs"
        if len(self.findings) == 1:
            differ = "1 square differs"
        seen = f"{number_of(rows, 'row')} × {number_of(columns, 'stitch')} seen on the {self.face}"
        return f"{name}{seen}, {differ} (experimental)"

    def __str__(self) -> str:
        total = self.chart.shape[0]
        first, last = self.rows
        sure = "" if self.rows_sureness == 1 else f" ({in_percent(self.rows_sureness)} sure)"
        lines = [f"{self.summary}. {NEVER_ON_WOOL}", f"Rows {first} to {last} of {total}{sure}."]
        lines += [f"  {finding}" for finding in self.findings[:MOST_SQUARES_PRINTED]]
        more = len(self.findings) - MOST_SQUARES_PRINTED
        lines += [f"  … and {more:,} more"] if more > 0 else []
        return "\n".join([*lines, *self.remarks])

    def __repr__(self) -> str:
        return f"<PhotographedWork {self.summary}>"
