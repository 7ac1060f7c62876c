"""Usage: how much yarn a chart takes, row by row and yarn by yarn.

Amounts are in metres, rows in working order. They follow from counts and from the lengths of stitches, which `lengths`
estimates from a gauge; foundation, ends of rows, tails and carried strands come on top. Every amount has a band: a
piece may take 15 to 20 percent more or less than the defaults say.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit.colours import Yarn
from mosaickit.errors import of_kind
from mosaickit.fabric import Chart, RowCounts, count_rows
from mosaickit.gauge import Gauge
from mosaickit.motif import BetweenRows
from mosaickit.orientation import Role
from mosaickit.yarn.lengths import StitchLengths, accuracy, band
from mosaickit.yarn.rates import YarnRates
from mosaickit.yarn.settings import USUAL_YARN_SETTINGS, YarnSettings
from mosaickit.yarn.totals import Skein, YarnTotal, skein_of_each


@dataclass(frozen=True, eq=False, repr=False)
class Usage:
    """How much yarn a chart takes, in metres, row by row and yarn by yarn.

    Attributes
    ----------
    stitches_m : float array, (R,)
        The yarn in each row's stitches.
    foundation_m : float array, (R,)
        The foundation chain; 0 above row 1, whose yarn it is worked in.
    chain_m : float array, (R,)
        Start chain and lock of each row, or start chain and join of each round.
    carried_m : float array, (R,)
        The strand brought from the end of this row to where its yarn is used next.
    tails_m : float array, (R,)
        The tails where a yarn starts or ends in this row.
    row_colours : tuple of "MC" and "CC", R long
        The colour of each row.
    yarns : tuple of Yarn, R long
        The yarn of each row.
    between_rows : "carried" or "cut"
        What is done with the yarn between rows.
    lengths : StitchLengths
        The length of each stitch that was calculated with.
    margin : float
        The share to buy on top of the likely amount at least.
    skeins : tuple of (Yarn, Skein or None)
        The yarns in the order in which they are first used, and what each is sold in, if known.
    """

    stitches_m: NDArray[np.float64]
    foundation_m: NDArray[np.float64]
    chain_m: NDArray[np.float64]
    carried_m: NDArray[np.float64]
    tails_m: NDArray[np.float64]
    row_colours: tuple[Role, ...]
    yarns: tuple[Yarn, ...]
    between_rows: BetweenRows
    lengths: StitchLengths
    margin: float
    skeins: tuple[tuple[Yarn, Skein | None], ...]

    @property
    def worked_m(self) -> NDArray[np.float64]:
        """All but the tails, (R,): what the band of `low_m` and `high_m` is about."""
        return self.stitches_m + self.foundation_m + self.chain_m + self.carried_m

    @property
    def total_m(self) -> NDArray[np.float64]:
        """The likely amount, (R,)."""
        return band(self.worked_m, self.tails_m, self.lengths)[1]

    @property
    def low_m(self) -> NDArray[np.float64]:
        """The amount if all that is worked takes as little as `lengths.low` says, (R,)."""
        return band(self.worked_m, self.tails_m, self.lengths)[0]

    @property
    def high_m(self) -> NDArray[np.float64]:
        """The amount if all that is worked takes as much as `lengths.high` says, (R,)."""
        return band(self.worked_m, self.tails_m, self.lengths)[2]

    @cached_property
    def by_yarn(self) -> tuple[YarnTotal, ...]:
        """How much of each yarn, in the order in which they are first used."""
        number = {yarn: index for index, (yarn, _) in enumerate(self.skeins)}
        yarn_of_row = [number[yarn] for yarn in self.yarns]
        low, likely, high = (
            np.bincount(yarn_of_row, weights=amount).tolist() for amount in (self.low_m, self.total_m, self.high_m)
        )
        rows = np.bincount(yarn_of_row).tolist()
        return tuple(
            YarnTotal(yarn, low[index], likely[index], high[index], self.margin, skein, rows[index])
            for index, (yarn, skein) in enumerate(self.skeins)
        )

    @property
    def summary(self) -> str:
        """One line: rows, the likely amount and its band, and what is done between rows."""
        low, likely, high = (float(amount.sum()) for amount in (self.low_m, self.total_m, self.high_m))
        rows = len(self.stitches_m)
        return f"{rows} rows, {likely:.1f} m of yarn, from {low:.1f} to {high:.1f} m, {self.between_rows} between rows"

    def __str__(self) -> str:
        return "\n".join([self.summary, *map(str, self.by_yarn), accuracy(self.lengths)])

    def __repr__(self) -> str:
        return f"<Usage {self.summary}>"


def yarn_usage(chart: Chart, gauge: Gauge, *, yarn_settings: YarnSettings = USUAL_YARN_SETTINGS) -> Usage:
    """Estimate the yarn that a chart takes.

    Worked flat, the foundation is one chain more than there are stitches (chain 15 for 14 sc), that one chain being
    row 1's start chain; every later row starts with a chain of 1, and every row ends with a lock, a chain's length.
    In the round, the foundation is a chain for each stitch, joined; every round starts with a chain of 1 and is
    joined at its end; a join takes a chain's length.

    Carried yarn is laid back along the whole row when the next row of its colour is in the same yarn, which costs
    the row's width and `ease` (which also takes it up the side). In the round it waits at the join and only climbs
    two rows. It has one tail where it starts and one where it ends. Cut yarn has two tails in every row.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches in working order.
    gauge : Gauge
        The size of a stitch.
    yarn_settings : YarnSettings
        How yarn is calculated: what is done between rows, lengths of stitches and tails, skeins.

    Returns
    -------
    Usage
        Metres for each of the R rows and for each yarn.

    Raises
    ------
    OptionError
        If an argument is not as described, or the `skeins` of the settings lack a yarn of the chart or name another.
    ChartError
        If a row does not use up exactly the stitches of the row below.

    Examples
    --------
    >>> chart = Chart.from_text('''
    ... ....
    ... ....
    ... ....
    ... ''')
    >>> yarn_settings = YarnSettings(skeins=Skein(metres=150, grams=50))
    >>> print(yarn_usage(chart, Gauge(16, 18, over=4, unit="in"), yarn_settings=yarn_settings))
    3 rows, 1.7 m of yarn, from 1.5 to 1.9 m, carried between rows
    cream: 1.1 m (1.2 yd), from 1.0 to 1.3 m; 0 g. Buy 1 skein of 150 m / 50 g; about 145 m will be left over.
    ink blue: 0.6 m (0.7 yd), from 0.6 to 0.7 m; 0 g. Buy 1 skein of 150 m / 50 g; about 145 m will be left over.
    Expect to use 15–20% more or less; swatch to be sure.
    """
    of_kind("chart", chart, Chart)
    rates = YarnRates(gauge, yarn_settings)
    return usage_of_rows(count_rows(chart), rates, in_the_round=chart.in_the_round)


def usage_of_rows(counts: RowCounts, rates: YarnRates, *, in_the_round: bool = False) -> Usage:
    """Estimate the yarn of rows whose stitches are counted; `yarn_usage` says how.

    Raises
    ------
    OptionError
        If the skeins of the settings lack a yarn of the rows or name another.
    """
    skein_of_yarn = skein_of_each(counts.yarns, rates.yarn_settings.skeins)
    stitches = int(counts.across[0])
    foundation, chains = _chains(len(counts.stitches), stitches, in_the_round)
    carried = used_again(counts.yarns) & (rates.yarn_settings.between_rows == "carried")
    return Usage(
        stitches_m=_metres(counts.stitches @ rates.in_stitches.by_stitch),
        foundation_m=_metres(foundation * rates.in_stitches.chain),
        chain_m=_metres(chains * rates.in_stitches.chain),
        carried_m=_metres(carried * rates.strand_cm(stitches, in_the_round)),
        tails_m=_metres(_tails(carried) * rates.yarn_settings.tail_cm),
        row_colours=counts.row_colours,
        yarns=counts.yarns,
        between_rows=rates.yarn_settings.between_rows,
        lengths=rates.in_stitches,
        margin=rates.yarn_settings.margin,
        skeins=skein_of_yarn,
    )


def _metres(centimetres: NDArray[Any]) -> NDArray[np.float64]:
    metres: NDArray[np.float64] = centimetres / 100
    metres.flags.writeable = False
    return metres


def _chains(rows: int, stitches: int, in_the_round: bool) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Count the chains of the foundation and those at the ends of each row, (R,) and (R,)."""
    foundation = np.zeros(rows, dtype=np.int64)
    foundation[0] = stitches + 1  # flat: and the start chain of row 1; in the round: and the join
    ends = np.full(rows, 2, dtype=np.int64)
    if not in_the_round:
        ends[0] = 1
    return foundation, ends


def used_again(yarns: tuple[Yarn, ...]) -> NDArray[np.bool_]:
    """Tell after which rows the yarn is used in the next row of its colour, which is two rows up, (R,)."""
    again = [yarn == next_of_its_colour for yarn, next_of_its_colour in zip(yarns, yarns[2:], strict=False)]
    return np.array([*again, False, False][: len(yarns)])


def _tails(carried: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Count the tails of each row, (R,): one unless the yarn was carried to it, one unless it is carried on."""
    carried_to = np.concatenate([np.zeros(2, dtype=np.bool_), carried])[: len(carried)]
    return 2 - carried_to.astype(np.int64) - carried
