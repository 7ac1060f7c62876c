"""What a square from the centre takes: stitches by round, yarn, and how large it becomes.

Lengths of stitches, bands and skeins are those of flat work (`yarn`). What is different in rounds from a centre is
added here: the ring, the start and the join of each round, and two yarns that wait at the join, since the yarn is not
cut ("Center-Out", ashleeslint).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mosaickit.centre.rings import SIDES
from mosaickit.centre.square import EXPERIMENTAL, CentreOut
from mosaickit.centre.stitches import CentreChart
from mosaickit.centre.working import IN_A_CORNER
from mosaickit.colours import Yarn
from mosaickit.errors import ChartError, OptionError, number_of, of_kind
from mosaickit.fabric import Stitch
from mosaickit.gauge import CM_PER_INCH, Gauge
from mosaickit.motif import read_only
from mosaickit.orientation import ROLES, Role
from mosaickit.yarn import (
    USUAL_YARN_SETTINGS,
    Usage,
    YarnRates,
    YarnSettings,
    YarnTotal,
    accuracy,
    skein_of_each,
    used_again,
)

RING_CHAINS = 5
"""The ring at the centre in lengths of a chain: a ring of 4 chains and its join, or a drawn-up ring, which takes about
as much (common practice, no source)."""

ENDS_OF_A_ROUND = 2
"""Chains a round: the one that starts it, and the join, which takes a chain's length."""

LIES_FLAT_WITHIN = 0.05
"""Where a stitch's width and a row's height differ by more, a caution is given: our choice, no source."""


# ---- stitches ----------------------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False, repr=False)
class RoundCounts:
    """How many stitches of each kind every round has.

    Attributes
    ----------
    stitches : int array, (n, 5)
        Element [i - 1, kind] is the number of stitches of that `Stitch` in round i.
    round_colours : tuple of "MC" and "CC", n long
        The colour of each round.
    yarns : tuple of Yarn, n long
        The yarn of each round.
    """

    stitches: NDArray[np.int64]
    round_colours: tuple[Role, ...]
    yarns: tuple[Yarn, ...]

    @property
    def around(self) -> NDArray[np.int64]:
        """The stitches of each round, (n,): 8, 16, 24 and so on."""
        around: NDArray[np.int64] = self.stitches.sum(axis=1)
        return around

    @property
    def total(self) -> NDArray[np.int64]:
        """The stitches of each kind in all rounds, (5,)."""
        total: NDArray[np.int64] = self.stitches.sum(axis=0)
        return total

    @property
    def by_colour(self) -> dict[Role, NDArray[np.int64]]:
        """The stitches of each kind by the colour that they are worked in, (5,) each."""
        cc = np.array([colour == "CC" for colour in self.round_colours])
        return {"MC": self.stitches[~cc].sum(axis=0), "CC": self.stitches[cc].sum(axis=0)}

    def __repr__(self) -> str:
        kinds = ", ".join(f"{int(n):,} {kind.abbreviation}" for kind, n in zip(Stitch, self.total, strict=True) if n)
        return f"<RoundCounts {number_of(len(self.stitches), 'round')}: {kinds}>"


def check_around(counts: ArrayLike) -> None:
    """Raise unless every round uses up the stitches of the round below and makes 8 more.

    Parameters
    ----------
    counts : int array, (n, 5)
        Stitches of each kind a round, round 1 first.

    Raises
    ------
    ChartError
        Naming the first round whose count does not follow from the round below.

    Examples
    --------
    >>> check_around([[8, 0, 0, 0, 0], [0, 16, 0, 0, 0]])
    """
    made = np.asarray(counts).sum(axis=1)
    # each stitch below takes one, each of the four corners takes more
    wanted = np.concatenate([[2 * SIDES], made[:-1] + SIDES * (IN_A_CORNER - 1)])
    wrong = np.flatnonzero(made != wanted)
    if len(wrong):
        number = int(wrong[0]) + 1
        raise ChartError(f"Round {number} makes {made[number - 1]} stitches instead of {wanted[number - 1]}.")


def count(chart: CentreChart) -> RoundCounts:
    """Count the stitches of each kind in every round.

    Parameters
    ----------
    chart : CentreChart
        8i stitches for round i, in working order.

    Returns
    -------
    RoundCounts
        (n, 5) counts with the colour and the yarn of each round.

    Examples
    --------
    >>> import numpy as np
    >>> count(CentreChart((np.full(8, Stitch.SC), np.full(16, Stitch.BLSC)), ("MC", "CC")))
    <RoundCounts 2 rounds: 8 sc, 16 BLsc>
    """
    of_kind("chart", chart, CentreChart)
    counts = np.stack([np.bincount(stitches, minlength=len(Stitch)) for stitches in chart.rounds])
    check_around(counts)
    of_role = {role: chart.yarns.by_row(len(counts), role) for role in ROLES}
    yarns = tuple(of_role[role][index] for index, role in enumerate(chart.round_colours))
    return RoundCounts(read_only(counts), chart.round_colours, yarns)


# ---- yarn --------------------------------------------------------------------------------------------------


class CentreUsage(Usage):
    """How much yarn a square from the centre takes: a `Usage` whose rows are rounds, from round 1 outward.

    Its foundation is the ring at the centre.
    """

    @cached_property
    def by_yarn(self) -> tuple[YarnTotal, ...]:
        """How much of each yarn. A new ball is joined anywhere in a round, so none is kept for a whole one."""
        return tuple(replace(total, rows=None) for total in super().by_yarn)

    @property
    def summary(self) -> str:
        """One line: rounds, the likely amount and its band, and what is done between rounds."""
        low, likely, high = (float(amount.sum()) for amount in (self.low_m, self.total_m, self.high_m))
        rounds = number_of(len(self.stitches_m), "round")
        return f"{rounds}, {likely:.1f} m of yarn, from {low:.1f} to {high:.1f} m, {self.between_rows} between rounds"

    def __str__(self) -> str:
        return "\n".join([EXPERIMENTAL, self.summary, *map(str, self.by_yarn), accuracy(self.lengths)])

    def __repr__(self) -> str:
        return f"<CentreUsage {self.summary} (experimental)>"


def usage(chart: CentreChart, gauge: Gauge, *, yarn_settings: YarnSettings = USUAL_YARN_SETTINGS) -> CentreUsage:
    """Estimate the yarn that a square from the centre takes. Experimental: never tried on wool.

    Each round starts with a chain of 1 and is joined; carried yarn waits at the join and climbs two rounds. It has one
    tail where it starts and one where it ends; cut yarn has two in every round.

    Parameters
    ----------
    chart : CentreChart
        8i stitches for round i, in working order.
    gauge : Gauge
        The size of a stitch.
    yarn_settings : YarnSettings
        How yarn is calculated: what is done between rounds, lengths of stitches and tails, skeins.

    Returns
    -------
    CentreUsage
        Metres for each of the n rounds and for each yarn.

    Raises
    ------
    OptionError
        If an argument is not as described, or the skeins of the settings lack a yarn of the chart or name another.

    Examples
    --------
    >>> import numpy as np
    >>> square = CentreChart((np.full(8, Stitch.SC), np.full(16, Stitch.BLSC)), ("MC", "CC"))
    >>> usage(square, Gauge(16, 16, over=4, unit="in"))
    <CentreUsage 2 rounds, 2.5 m of yarn, from 2.2 to 2.8 m, carried between rounds (experimental)>
    """
    counts = count(chart)
    rates = YarnRates(gauge, yarn_settings)
    carried = used_again(counts.yarns) & (yarn_settings.between_rows == "carried")
    carried_to = np.concatenate([[False, False], carried])[: len(carried)]
    tails = 2 - carried_to.astype(np.int64) - carried
    chain = rates.in_stitches.chain
    foundation = np.zeros(len(carried))
    foundation[0] = RING_CHAINS * chain
    return CentreUsage(
        stitches_m=_metres(counts.stitches @ rates.in_stitches.by_stitch),
        foundation_m=_metres(foundation),
        chain_m=_metres(np.full(len(carried), ENDS_OF_A_ROUND * chain)),
        carried_m=_metres(carried * rates.strand_cm(1, in_the_round=True)),
        tails_m=_metres(tails * yarn_settings.tail_cm),
        row_colours=counts.round_colours,
        yarns=counts.yarns,
        between_rows=yarn_settings.between_rows,
        lengths=rates.in_stitches,
        margin=yarn_settings.margin,
        skeins=skein_of_each(counts.yarns, yarn_settings.skeins),
    )


def _metres(centimetres: NDArray[Any]) -> NDArray[np.float64]:
    return read_only(centimetres / 100)


# ---- size --------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class CentreSize:
    """How large a square from the centre becomes.

    Attributes
    ----------
    edge_cm : float
        The last round, along one side: its stitches, 2n + 1.
    across_cm : float
        Through the centre: n rounds on either side and the centre, 2n + 1 rounds high.
    """

    edge_cm: float
    across_cm: float

    @property
    def lies_flat(self) -> bool:
        """Whether edge and middle agree, so that 8 more stitches a round are what the square needs."""
        return abs(self.edge_cm / self.across_cm - 1) <= LIES_FLAT_WITHIN

    @property
    def sentence(self) -> str:
        """The size, and what to expect where it does not lie flat."""
        size = f"{self.across_cm:.1f} cm ({self.across_cm / CM_PER_INCH:.1f} in) square"
        if self.lies_flat:
            return f"About {size}. {EXPERIMENTAL}"
        off = self.edge_cm / self.across_cm - 1
        which, does, cure = ("more", "ripples", "taller") if off > 0 else ("less", "cups", "wider")
        return (
            f"About {size}, but its edge measures {self.edge_cm:.1f} cm, {abs(off):.0%} {which}, so it {does}: "
            f"stitches {cure} in proportion lie flatter. {EXPERIMENTAL}"
        )

    def __str__(self) -> str:
        return self.sentence


def size(square: CentreOut | CentreChart, gauge: Gauge) -> CentreSize:
    """Work out how large a square from the centre becomes, and whether it lies flat. Experimental.

    Eight more stitches a round lie flat where a stitch is as wide as a row is high. Published squares of 41 × 41 and
    81 × 81 measure 10 in and 20 in in category 4 yarn ("Joining Squares", ashleeslint).

    Parameters
    ----------
    square : CentreOut or CentreChart
        What is worked.
    gauge : Gauge
        The size of a stitch.

    Returns
    -------
    CentreSize
        Edge and width through the centre, in cm.

    Raises
    ------
    OptionError
        If an argument is of another kind.

    Examples
    --------
    >>> from mosaickit.motif import Motif
    >>> print(size(CentreOut(Motif.from_array([[0] * 41] * 41)), Gauge(16.4, 16.4, over=4, unit="in")))
    About 25.4 cm (10.0 in) square. Experimental: worked out from loops, never tried on wool.
    """
    if not isinstance(square, CentreOut | CentreChart):
        raise OptionError(f"`square` must be a `CentreOut` or a `CentreChart`; got {square!r}.")
    of_kind("gauge", gauge, Gauge)
    side = square.side if isinstance(square, CentreChart) else len(square.motif.grid)
    edge, across = gauge.size_cm(side, side)
    return CentreSize(edge, across)
