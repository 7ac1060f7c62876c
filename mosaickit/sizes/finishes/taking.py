"""Taking: the yarn that a finish takes, on top of what a piece without one does."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from mosaickit.orientation import Role
from mosaickit.sizes.finishes.edging import Edging
from mosaickit.sizes.finishes.finish import Finish
from mosaickit.sizes.layouts.layout import Layout
from mosaickit.sizes.layouts.usage import LayoutUsage, Metres, more_of_role
from mosaickit.yarn import YarnRates, band


class Taken(NamedTuple):
    """What a finish takes around one piece."""

    colour: Role
    """The colour of border and added strands."""
    foundation: Metres | None
    """What the foundation takes more than a chain, if anything; it is of the colour of row 1."""
    edges: Metres | None
    """Border and added strands, if there are any."""
    tails_m: float
    """How much of that is tails and strands, cut by the ruler."""
    border_stitches: int
    """All sc of the border."""

    @classmethod
    def of(cls, edging: Edging, rates: YarnRates) -> Taken:
        """Work it out for one piece."""
        lengths = rates.in_stitches
        foundation_m, worked_m = edging.foundation_m(lengths), edging.border_m(lengths)
        cut_m = edging.cut_m(rates.yarn_settings.tail_cm)
        return cls(
            edging.finish.finish_colour,
            band(foundation_m, 0.0, lengths) if foundation_m else None,
            band(worked_m, cut_m, lengths) if worked_m or cut_m else None,
            cut_m,
            edging.border_stitches,
        )

    def on_top_of(self, usage: LayoutUsage, layout: Layout) -> LayoutUsage:
        """Give the yarn of a piece with its foundation, border and added strands.

        The border is worked in the yarn that its colour has in the last of its rows, which is at hand when it begins.
        """
        if self.foundation:
            usage = usage.with_more(layout.first, layout.first_yarn, self.foundation, 0.0)
        if self.edges:
            usage = usage.with_more(self.colour, layout.last_yarn(self.colour), self.edges, self.tails_m)
        return usage

    def with_roles(self, by_role: tuple[Metres, Metres], first: Role) -> tuple[Metres, Metres]:
        """Give the metres of MC and of CC alone, as `on_top_of` does; `first` is the colour of row 1."""
        if self.foundation:
            by_role = more_of_role(by_role, first, self.foundation)
        return more_of_role(by_role, self.colour, self.edges) if self.edges else by_role


class TakenByMany:
    """What one finish takes around each of many pieces; what they share is worked out once.

    A sweep asks for it 100,000 times. Pieces differ in what is picked up along their edges, and in their knots.

    Parameters
    ----------
    finish : Finish
        The finish of all of them.
    rates : YarnRates
        The gauge, and what yarn is calculated from.
    in_the_round : bool
        Whether they are worked in the round.
    """

    def __init__(self, finish: Finish, rates: YarnRates, in_the_round: bool) -> None:
        self._lengths, self._tail_cm = rates.in_stitches, rates.yarn_settings.tail_cm
        self._one = one = Edging(finish, 1, 1, rates.gauge, in_the_round)
        self._of_one = Taken.of(one, rates)
        self._edges, self._sides = one.goes_along if finish.border_rounds else (0, 0)
        self._times = one.times_around
        self._without = one.border_stitches - self._times * one.picked_up  # what corners have more
        self._of_rows: dict[int, tuple[int, float]] = {}

    def around(self, rows: int, stitches: int) -> Taken:
        """Give what it takes around a piece of a size."""
        if rows not in self._of_rows:
            edging = replace(self._one, rows=rows)
            self._of_rows[rows] = self._sides * edging.side if self._sides else 0, edging.cut_m(self._tail_cm)
        along_rows, cut_m = self._of_rows[rows]
        border_stitches = self._without + self._times * (along_rows + self._edges * stitches)
        worked_m = self._one.metres_of(border_stitches, self._lengths)
        edges = band(worked_m, cut_m, self._lengths) if worked_m or cut_m else None
        colour, foundation, *_ = self._of_one
        return Taken(colour, foundation, edges, cut_m, border_stitches)
