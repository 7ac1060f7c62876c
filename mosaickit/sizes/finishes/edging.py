"""Edging: what follows from a finish for one piece, in stitches, size and yarn, as sums.

A border of N rounds whose first has P stitches grows by 8 a round: one more stitch than its sides in each corner of the
first, three in a corner after that ("Going round the bend", Simply Crochet, 2017). So a layer takes N P + 4 N (N - 1)
stitches; with five in a corner it grows by 16. In the round there are no corners, and each edge has its own rounds.
Crab stitch is one in each stitch of the last round and three in a corner ("Crab Stitch sample", knittersedge.com, which
has two or three). `moves` works the same border stitch by stitch, and `mosaickit.fabric.work_edges` proves it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import ceil
from typing import NamedTuple

from mosaickit.errors import OptionError, number_of
from mosaickit.gauge import Gauge
from mosaickit.sizes.finishes.finish import MOST_IN_RATIO, Finish, strand_for
from mosaickit.yarn import StitchLengths

FLAT_WITHIN = 0.01
"""A border lies flat if its stitches differ by at most this share from what the gauge asks for; our choice."""

CORNERS_ROUND = 4
IN_A_CRAB_CORNER = 3


class PickUp(NamedTuple):
    """How many stitches are picked up along how many rows.

    Attributes
    ----------
    stitches, rows : int
        The two numbers of the ratio, as 7 and 8.
    flat : float or None
        The stitches for a row with which a border lies flat at the gauge; None if no gauge is known.
    """

    stitches: int
    rows: int
    flat: float | None = None

    @property
    def off(self) -> float:
        """The share by which it picks up too many stitches to lie flat, below 0 if too few; 0 if that is not known."""
        return 0.0 if self.flat is None else self.stitches / self.rows / self.flat - 1

    def along(self, rows: int) -> int:
        """Give the stitches along a number of rows: the nearest whole number, 1 or more."""
        return max(1, (2 * rows * self.stitches + self.rows) // (2 * self.rows))

    def __str__(self) -> str:
        rows = "each row" if self.rows == 1 else f"every {self.rows} rows"
        return f"{number_of(self.stitches, 'stitch')} for {rows}"


@lru_cache(maxsize=256)  # a sweep asks for few gauges very often
def flat_pick_up(gauge: Gauge) -> PickUp:
    """Find the smallest ratio with which a border lies flat: stitch gauge to row gauge.

    Examples
    --------
    >>> print(flat_pick_up(Gauge(14, 16)))
    7 stitches for every 8 rows
    """
    flat = gauge.row_height_cm / gauge.stitch_width_cm
    tried = [PickUp(min(max(round(flat * rows), 1), MOST_IN_RATIO), rows, flat) for rows in range(1, MOST_IN_RATIO + 1)]
    return next((each for each in tried if abs(each.off) <= FLAT_WITHIN), min(tried, key=lambda each: abs(each.off)))


@dataclass(frozen=True)
class Edging:
    """What a finish comes to around one piece.

    Attributes
    ----------
    finish : Finish
        What was decided.
    rows, stitches : int
        The size of the piece.
    gauge : Gauge or None
        The size of a stitch, if it is known.
    in_the_round : bool
        Whether the piece has two edges and no row ends.
    """

    finish: Finish
    rows: int
    stitches: int
    gauge: Gauge | None = None
    in_the_round: bool = False

    # ---- stitches ------------------------------------------------------------------------------------------

    @cached_property
    def pick_up(self) -> PickUp:
        """How stitches are picked up along the row ends.

        Raises
        ------
        OptionError
            If neither the ratio nor a gauge is known.
        """
        if self.finish.border_ratio is not None:
            flat = None if self.gauge is None else self.gauge.row_height_cm / self.gauge.stitch_width_cm
            return PickUp(*self.finish.border_ratio, flat)
        if self.gauge is None:
            raise OptionError(
                "How many stitches a border picks up follows from the gauge, and this design has none: give it one, as "
                "`design.but(gauge=mk.Gauge(16, 18))`, or say `border_ratio`."
            )
        return flat_pick_up(self.gauge)

    @property
    def side(self) -> int:
        """The stitches that are picked up along the rows at one side."""
        return self.pick_up.along(self.rows)

    @property
    def edges_apart(self) -> int:
        """How many edges are worked by themselves: 2 in the round and along row ends, else 1 that goes all around."""
        return 2 if self.in_the_round or self.finish.border_along == "row ends" else 1

    @property
    def goes_along(self) -> tuple[int, int]:
        """Along how many rows of stitches a round goes, and along how many sides of row ends."""
        if self.in_the_round:
            return 1, 0
        return (0, 1) if self.edges_apart == 2 else (2, 2)

    @property
    def grows_by(self) -> int:
        """The stitches by which a round is longer than the one before."""
        if self.edges_apart == 2:
            return 0
        in_a_corner = self.finish.corner_sc - (0 if self.finish.corner_chains else 1)
        return CORNERS_ROUND * in_a_corner

    @property
    def picked_up(self) -> int:
        """The stitches that a border picks up along all that it goes along, without corners; 0 without a border."""
        if not self.finish.border_rounds:
            return 0
        edges, sides = self.goes_along
        return edges * self.stitches + (sides * self.side if sides else 0)

    @cached_property
    def rounds(self) -> tuple[int, ...]:
        """The sc of each round of a layer; where there are two edges, those of each round or row at one of them."""
        count = self.finish.border_rounds
        if not count:
            return ()
        first = self.picked_up
        if self.edges_apart == 1 and not self.finish.corner_chains:
            first += CORNERS_ROUND  # the corner of the first round is one stitch more, or a space of chains
        return tuple(first + self.grows_by * number for number in range(count))

    @property
    def closing(self) -> int:
        """The sc of the round that closes two layers; 0 if there are not two."""
        return self.rounds[-1] + self.grows_by if self.finish.layers == 2 else 0

    @property
    def crab(self) -> int:
        """The stitches of the crab stitch round, at one edge if there are two; 0 without such a round."""
        if not self.finish.crab_stitch:
            return 0
        if self.edges_apart == 2:
            return self.rounds[-1]
        in_a_corner = IN_A_CRAB_CORNER - (0 if self.finish.corner_chains else 1)
        return (self.closing or self.rounds[-1]) + CORNERS_ROUND * in_a_corner

    @cached_property
    def border_stitches(self) -> int:
        """All sc of the border: both layers and the round that closes them, or both edges; crab stitch with them."""
        times = self.edges_apart if self.edges_apart == 2 else self.finish.layers
        return times * sum(self.rounds) + self.closing + self.edges_apart * self.crab

    @property
    def times_around(self) -> int:
        """How many rounds and rows are worked in all: each has one sc more if one more is picked up along it."""
        times = self.edges_apart if self.edges_apart == 2 else self.finish.layers
        return (
            times * self.finish.border_rounds + (self.finish.layers == 2) + self.edges_apart * self.finish.crab_stitch
        )

    def minutes(self, stitches_a_minute: float) -> float:
        """Give the minutes that the border's stitches take."""
        return self.border_stitches / stitches_a_minute

    # ---- size ----------------------------------------------------------------------------------------------

    @property
    def depth_cm(self) -> float:
        """How far the border reaches beyond the piece: a round is as high as a row.

        A closing round is one more, and so is one of crab stitch (common practice, no source).
        """
        if not self.finish.border_rounds:
            return 0.0
        assert self.gauge is not None
        return self.rounds_deep * self.gauge.row_height_cm

    @property
    def rounds_deep(self) -> int:
        """How many rounds lie beside each other in the border, the closing one and crab stitch counted."""
        return self.finish.border_rounds + (self.finish.layers == 2) + self.finish.crab_stitch

    @property
    def adds_cm(self) -> tuple[float, float]:
        """By how much the border makes the piece wider and higher; a fringe is not counted."""
        along_rows = self.finish.border_along == "row ends"
        return 0.0 if self.in_the_round else 2 * self.depth_cm, 0.0 if along_rows else 2 * self.depth_cm

    # ---- fringe --------------------------------------------------------------------------------------------

    @property
    def knots(self) -> int:
        """The knots of the fringe at one side."""
        finish = self.finish
        return ceil(self.rows / finish.tails_a_knot) if finish.ends == "fringe" and finish.tails_a_knot else 0

    @property
    def added_strands(self) -> int:
        """The strands that are added to the fringe, at both sides together."""
        return 2 * self.knots * self.finish.added_strands

    @property
    def strand_cm(self) -> float:
        """How long each of them is cut."""
        return strand_for(self.finish.fringe_cm)

    # ---- yarn ----------------------------------------------------------------------------------------------

    def border_m(self, lengths: StitchLengths) -> float:
        """Give the metres of yarn in the border, without its tails.

        A round starts with a chain and is joined at its end, a row starts with a chain; each takes a chain's length.
        Crab stitch is taken to be as long as sc (common practice, no source).
        """
        return self.metres_of(self.border_stitches, lengths)

    def metres_of(self, border_stitches: int, lengths: StitchLengths) -> float:
        """Give the metres in a border from the count of its sc, which may be that of a piece of another size."""
        return (border_stitches * lengths.sc + self.border_chains * lengths.chain) / 100

    @cached_property
    def border_chains(self) -> int:
        """The chains of the border, and what is as long as a chain."""
        finish, crab = self.finish, int(self.finish.crab_stitch)
        if self.edges_apart == 2:
            ends = 2 if self.in_the_round else 1
            return 2 * ends * (finish.border_rounds + crab)
        rounds = finish.layers * finish.border_rounds + (finish.layers == 2)
        return rounds * (2 + CORNERS_ROUND * finish.corner_chains) + 2 * crab

    def cut_m(self, tail_cm: float) -> float:
        """Give the metres that are measured by the ruler: tails of the border, two a layer or a side, and strands."""
        tails = 0
        if self.finish.border_rounds:
            tails = 4 if self.edges_apart == 2 else 2 * self.finish.layers
        return (tails * tail_cm + self.added_strands * self.strand_cm) / 100

    def foundation_m(self, lengths: StitchLengths) -> float:
        """Give the metres that foundation sc take more than a chain and row 1: the one chain more that starts them.

        From memory: foundation sc start with two chains, a foundation chain is one longer than its stitches.
        """
        return lengths.chain / 100 if self.finish.foundation == "foundation sc" else 0.0
