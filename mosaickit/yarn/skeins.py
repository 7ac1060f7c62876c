"""Skeins in hand: how far they reach, where a new ball begins, and how heavy the fabric is.

Yarn is joined at the beginning of a row only, so that a ball serves whole rows and what is left of it is left over.
How many skeins to buy is said by `totals`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mosaickit.colours import Yarn
from mosaickit.errors import OptionError, of_kind, positive
from mosaickit.fabric import Chart
from mosaickit.gauge import Gauge
from mosaickit.yarn.totals import Skein
from mosaickit.yarn.usage import Usage

DYE_LOT = (
    "Buy all skeins of a colour from one dye lot, as the next lot may differ. If you have to mix two lots, use them "
    "alternately, two rows of the colour from each."
)
"""From "The Dye Lot Dilemma", a shop's page: one lot and a spare skein, or two lots alternated every few rows.

No spare is asked for here, since the skeins advised reach the upper end of the band.
"""


@dataclass(frozen=True)
class Reach:
    """How far yarn in hand reaches.

    Attributes
    ----------
    yarn : Yarn
        Which one.
    metres : float
        How much there is of it.
    worst, likely, best : int
        The last row, from 1, that it finishes with all rows of its own before it: if the piece takes much, what is
        likely, or little. 0 if it does not finish the first.
    last : int
        The last row that is worked in it.
    """

    yarn: Yarn
    metres: float
    worst: int
    likely: int
    best: int
    last: int

    def __str__(self) -> str:
        amount = f"{self.yarn.name}: {self.metres:.4g} m"
        if self.worst >= self.last:
            return f"{amount} is enough: it reaches row {self.last}, the last."
        verdict = "may be enough" if self.best >= self.last else "is not enough"
        reached = f"about row {self.likely} (between {self.worst} and {self.best})" if self.best else "no row"
        return f"{amount} {verdict}: it finishes {reached} of {self.last}."


def _rows_of(usage: Usage, yarn: Yarn) -> NDArray[np.int64]:
    rows = np.array([number for number, one in enumerate(usage.yarns, 1) if one == yarn], dtype=np.int64)
    if not len(rows):
        names = ", ".join(repr(one.name) for one in dict.fromkeys(usage.yarns))
        raise OptionError(f"`yarn` must be one that the piece is worked in, {names}; got {yarn!r}.")
    return rows


def reach(usage: Usage, yarn: Yarn, metres: float) -> Reach:
    """Say which row is the last that the yarn in hand will finish.

    Parameters
    ----------
    usage : Usage
        What the piece takes, row by row.
    yarn : Yarn
        Which of its yarns.
    metres : float
        How much of it there is, above 0.

    Raises
    ------
    OptionError
        If the piece is not worked in that yarn, or there is none of it.

    Examples
    --------
    >>> from mosaickit.yarn import yarn_usage
    >>> chart = Chart.from_text(chr(10).join(["." * 20] * 30))
    >>> print(reach(yarn_usage(chart, Gauge(16, 18)), chart.yarns.mc[0][1], 5))
    cream: 5 m is not enough: it finishes about row 3 (between 3 and 5) of 29.
    """
    of_kind("usage", usage, Usage)
    of_kind("yarn", yarn, Yarn)
    metres, rows = positive("metres", metres, "m"), _rows_of(usage, yarn)
    reached = []
    for amounts in (usage.high_m, usage.total_m, usage.low_m):
        whole = int((np.cumsum(amounts[rows - 1]) <= metres + 1e-9).sum())
        reached.append(int(rows[whole - 1]) if whole else 0)
    worst, likely, best = reached
    return Reach(yarn, metres, worst, likely, best, int(rows[-1]))


def new_balls(usage: Usage, yarn: Yarn, skein: Skein | None = None) -> tuple[int, ...]:
    """List the rows at which a new ball of a yarn is likely to start: its first row, and where a ball runs short.

    Parameters
    ----------
    usage : Usage
        What the piece takes, row by row.
    yarn : Yarn
        Which of its yarns.
    skein : Skein, optional
        What it is sold in; that of the usage if left out.

    Returns
    -------
    tuple of int
        Rows from 1; as many as balls are begun. With what is left of each, that may be one more than the metres say.

    Raises
    ------
    OptionError
        If no skein is known, the piece is not worked in that yarn, or one row takes more than a ball.
    """
    of_kind("usage", usage, Usage)
    of_kind("yarn", yarn, Yarn)
    of_kind("skein", skein, Skein, or_none=True)
    rows = _rows_of(usage, yarn)
    skein = skein or next((known for one, known in usage.skeins if one == yarn), None)
    if skein is None:
        raise OptionError(f"`skein` must say how many metres of {yarn.name!r} a ball has; got None.")
    begun, left = [], 0.0
    for row in rows.tolist():
        takes = float(usage.total_m[row - 1])
        if takes > skein.metres:
            raise OptionError(
                f"Row {row} takes {takes:.4g} m of {yarn.name!r} and a ball has {skein.metres:.4g}: yarn is joined at "
                "the beginning of a row, so take longer skeins or shorter rows."
            )
        if takes > left:
            begun.append(row)
            left = skein.metres
        left -= takes
    return tuple(begun)


def grams_per_square_metre(chart: Chart, usage: Usage, gauge: Gauge) -> float:
    """Give how heavy the fabric is, without its tails: the likely grams of a square metre.

    Parameters
    ----------
    chart, usage, gauge
        A piece, what it takes, with its skeins known, and its gauge.

    Raises
    ------
    OptionError
        If the skeins are not known.
    """
    of_kind("chart", chart, Chart)
    of_kind("usage", usage, Usage)
    of_kind("gauge", gauge, Gauge)
    skeins = {yarn: skein for yarn, skein in usage.skeins if skein is not None}
    if len(skeins) < len(usage.skeins):
        raise OptionError("The skeins must be known for the weight: give `yarn_usage` `yarn_settings` with `skeins`.")
    grams_a_metre = np.array([skeins[yarn].grams / skeins[yarn].metres for yarn in usage.yarns])
    width_cm, height_cm = gauge.size_cm(*chart.shape)
    return float((usage.worked_m * grams_a_metre).sum() / (width_cm * height_cm) * 1e4)
