"""Sides: which counts of repeats come near the wanted size of one side of a piece."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import ceil, floor

from mosaickit.errors import WidthError
from mosaickit.motif import LARGEST_AREA, LARGEST_SIDE
from mosaickit.sizes.bands.banded import BandedLayout
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.layouts.multiples import Multiple
from mosaickit.sizes.widths.counts import why_not
from mosaickit.sizes.widths.wanted import Direction, Wanted

SLACK = 1e-9
"""A size may miss its tolerance by this share, so that 216 stitches at 6 to the inch are 36 inches."""


def counts_near(wanted_cm: float, tolerance: float, first_cm: float, repeat_cm: float, most: int) -> list[int]:
    """List the counts of repeats whose size is within a share of the wanted one.

    Parameters
    ----------
    wanted_cm, tolerance : float
        The size, and the share by which it may differ.
    first_cm, repeat_cm : float
        The size of one repeat with all that stands beside it, and of each repeat more.
    most : int
        No count is larger.

    Examples
    --------
    >>> counts_near(20, 0.1, 5, 4, 100)
    [5]
    """
    low, high = (_count_for(wanted_cm * (1 + off), first_cm, repeat_cm, most) for off in (-tolerance, tolerance))
    return [
        count
        for count in range(max(low - 1, 1), min(high + 1, most) + 1)
        if abs((first_cm + (count - 1) * repeat_cm) / wanted_cm - 1) <= tolerance + SLACK
    ]


def _count_for(cm: float, first_cm: float, repeat_cm: float, most: int) -> int:
    return floor(min(max((cm - first_cm) / repeat_cm + 1, 0), most))


@dataclass(frozen=True)
class Side:
    """One side of the piece, and the direction in which repeats make it."""

    name: str
    wanted_cm: float
    direction: Direction
    one: Design
    wanted: Wanted

    def laid(self, count: int) -> Design:
        """Lay this count of repeats in its direction; of bands, only counts at which all fill the width are counted."""
        if self.direction == "across" and self.one.bands is not None:
            count = self.one.layout.counts_across[count - 1]
        return self.one.but(**{self.direction: count})

    def cm(self, design: Design) -> float:
        """Give how long this side of a design is."""
        along_row, along_column = self.wanted.gauge.size_cm(*design.shape)
        wider, longer = design.edging.adds_cm
        return along_row + wider if self.direction == "across" else along_column + longer

    def deviation(self, design: Design) -> float:
        """Give the share by which that is too large, below 0 if it is too small."""
        return self.cm(design) / self.wanted_cm - 1

    @cached_property
    def first_cm(self) -> float:
        """The size of one repeat and all that stands beside it."""
        return self.cm(self.laid(1))

    @cached_property
    def repeat_cm(self) -> float:
        """The size of a repeat more."""
        multiple, gauge = self._of_a_repeat, self.wanted.gauge
        if self.direction == "across":
            return multiple.stitches * gauge.stitch_width_cm
        return multiple.rows * gauge.row_height_cm

    @cached_property
    def _of_a_repeat(self) -> Multiple:
        """What the counts are multiples of, if each repeat more is of one size."""
        layout = self.one.layout
        return layout.of_a_repeat if isinstance(layout, BandedLayout) else self.one.multiple

    @cached_property
    def most(self) -> int:
        """The most repeats that a picture can hold."""
        if self.direction == "across" and len(self.one.layout.counts_across) == 1:
            return 1
        multiple, (rows, stitches) = self._of_a_repeat, self.laid(1).shape
        if self.direction == "across":
            step, beside, other = multiple.stitches, multiple.plus_stitches, rows
            alone = beside == stitches and self.one.bands is None
        else:
            step, beside, other = multiple.rows, multiple.plus_rows, stitches
            alone = beside == rows
        if alone:  # repeats of one row that share it are that row, however many
            return 1
        return (min(LARGEST_SIDE, LARGEST_AREA // other) - beside) // step - self._astray

    def count_for(self, cm: float) -> int:
        """Give the most repeats that are about so large, give or take one; 0 to `most`."""
        return _count_for(cm, self.first_cm, self.repeat_cm, self.most)

    def near(self) -> list[Design]:
        """All within the tolerance, whether they can be worked or not."""
        if not self._astray:
            counts = counts_near(self.wanted_cm, self.wanted.tolerance, self.first_cm, self.repeat_cm, self.most)
            return [self.laid(count) for count in counts]
        tolerance = self.wanted.tolerance
        low, high = (self.count_for(self.wanted_cm * (1 + off)) for off in (-tolerance, tolerance))
        about = range(max(low - 1 - self._astray, 1), min(high + 1 + self._astray, self.most) + 1)
        return [one for one in map(self.laid, about) if abs(self.deviation(one)) <= tolerance + SLACK]

    @cached_property
    def _astray(self) -> int:
        """By how many repeats up a count may be off, as rows put in between bands come and go with the repeats."""
        if self.one.bands is None or self.direction == "across":
            return 0
        return ceil(2 * len(self.one.bands.order) / self._of_a_repeat.rows)

    def tolerance_for(self, most: int) -> float:
        """Give a tolerance that takes in at most so many counts, rounded down."""
        furthest = sorted(abs(self.deviation(design)) for design in self.near())[:most][-1]
        return floor(furthest * 1e4 - 1) / 1e4

    @cached_property
    def beside(self) -> tuple[Design | None, Design | None]:
        """The nearest that can be worked on both sides of the wanted size: the smaller one and the larger one."""
        about = self.count_for(self.wanted_cm)
        off = 1 + self._astray
        smaller = (self.laid(count) for count in range(min(about + off, self.most), 0, -1))
        larger = (self.laid(count) for count in range(max(about - off, 1), min(about + 5 + off, self.most) + 1))
        below = next((one for one in smaller if self.deviation(one) < 0 and one.layout.workable), None)
        above = next((one for one in larger if self.deviation(one) > 0 and one.layout.workable), None)
        return below, above

    def nothing_near(self) -> WidthError:
        """Say which counts come nearest, and what tolerance takes one of them in."""
        below, above = self.beside
        nearest = min(abs(self.deviation(one)) for one in (below, above) if one)
        tolerance = ceil(nearest * 1e3) / 1e3 if nearest <= 1 else None
        cure = "." if tolerance is None else f", or take a tolerance of {tolerance:g}."
        asked = f"{self.name} of {self.wanted.size(self.wanted_cm)}"
        if below and above:
            text = (
                f"No count of repeats that can be worked comes within {100 * self.wanted.tolerance:.3g} percent of a "
                f"{asked}: the nearest are {self._say(below)}, and {self._say(above)}. Ask for one of them"
            )
        elif above:
            text = f"A {asked} is too small: the least that can be worked is {self._say(above)}. Ask for that"
        else:
            text = f"A {asked} is too large: the most that can be worked is {self._say(below)}. Ask for that"
        why = "".join(f" {one.up} repeats up come near. {why_not(one)}" for one in self.near()[:1])
        return WidthError(text + cure + why, tolerance)

    def _say(self, design: Design | None) -> str:
        if design is None:
            return "none"
        count = design.across if self.direction == "across" else design.up
        return f"{count} repeat{'' if count == 1 else 's'}, {self.wanted.size(self.cm(design))}"
