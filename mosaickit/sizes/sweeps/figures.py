"""Figures: what a sweep works out of each combination, without building any.

All that is known of a combination follows from its number, so that a batch of work is two numbers, whatever process or
machine it goes to. A line costs the same for a bookmark and for a bedspread: see `layouts`.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from itertools import product
from math import ceil, prod
from typing import Any

from mosaickit.errors import MosaickitError, OptionError
from mosaickit.motif import LARGEST_SIDE
from mosaickit.orientation import ROLES
from mosaickit.sizes.bands.banded import BandedLayout
from mosaickit.sizes.bands.laying import FieldLaid, kept_of
from mosaickit.sizes.finishes.finish import USUAL_FINISH, Finish, check_finish
from mosaickit.sizes.finishes.taking import TakenByMany
from mosaickit.sizes.layouts.layout import Layout
from mosaickit.sizes.layouts.repeats import RepeatSums
from mosaickit.sizes.layouts.surround import Surround
from mosaickit.sizes.sweeps.choices import Task
from mosaickit.sizes.widths.sides import SLACK, counts_near
from mosaickit.yarn import YarnRates

LineFigures = tuple[Any, ...]
LINE_FIGURES = (
    *("number", "across", "up", "rows", "stitches", "centred", "overlaid"),
    *("low", "high", "mc", "cc", "skeins", "mc skeins", "cc skeins", "leftover", "edge stitches", "why"),
)
"""What is worked out for each line, in the order in which a batch keeps it."""

NOT_LAID = ("gauges", "yarn_settings", "reversible")
"""The choices that a layout does not depend on. They change fastest, so that one layout serves them all."""


class Calculator:
    """Works out combinations of a task, and keeps what many of them share."""

    def __init__(self, task: Task) -> None:
        self.task = task
        self.cells = [(gauge.stitch_width_cm, gauge.row_height_cm) for gauge in task.choices["gauges"].values]
        # only what there is a choice of depends on the number; a sweep asks for the others 100,000 times
        self.first = {name: choice.values[0] for name, choice in task.choices.items()}
        several = [(name, choice.values) for name, choice in task.choices.items() if len(choice.values) > 1]
        self.several = [(name, values, len(values)) for name, values in reversed(several)]
        self.nowhere = dict.fromkeys(task.choices, 0)
        self.alike = prod(len(task.choices[name].values) for name in NOT_LAID)
        self.before: tuple[int, Layout] | None = None
        self.ones: dict[tuple[int, ...], Layout] = {}
        self.near: dict[tuple[Any, ...], list[int]] = {}
        self.sums: dict[tuple[int, int], RepeatSums] = {}
        self.settled: dict[tuple[int, int, int], Surround] = {}
        self.centred: dict[tuple[int, int, Hashable], bool] = {}
        self.finishes = [None if finish == USUAL_FINISH else finish for finish in task.finishes]
        self.taken: dict[tuple[int, int, int, bool], TakenByMany] = {}
        self.edges: dict[tuple[int, int, int], tuple[float, float]] = {}
        self.reasons: dict[tuple[Any, ...], str] = {}

    def chosen(self, number: int) -> tuple[dict[str, int], dict[str, Any]]:
        """Give the place and the value of each choice in a combination."""
        at, value = self.nowhere.copy(), self.first.copy()
        for name, values, count in self.several:
            number, place = divmod(number, count)
            at[name], value[name] = place, values[place]
        return at, value

    def lines(self, number: int) -> Iterable[LineFigures]:
        """Give the figures of each count of repeats of a combination."""
        at, value = self.chosen(number)
        laid = number // self.alike
        if self.before is None or self.before[0] != laid:
            try:
                self.before = laid, self.begun(at, value)
            except MosaickitError as err:  # this combination makes no sense; others do
                yield (number, 1, 1, 0, 0, *[None] * 11, str(err))
                return
        one = self.before[1]
        rates = self.task.rates[at["gauges"]][at["yarn_settings"]]
        reversible = value["reversible"]
        if value["width"] is value["length"] is None:
            yield (number, one.across, one.up, *self.figures(one, at, rates, reversible))
            return
        for i, j in self.pairs(one, at, value):
            yield (number, i, j, *self.figures(self.laid(at, value, i, j), at, rates, reversible))

    def begun(self, at: Mapping[str, int], value: Mapping[str, Any]) -> Layout:
        """Lay what the counts of a combination begin with, which many wanted sizes share."""
        counts = self.across(at, value), value["up"]
        if value["width"] is value["length"] is None:
            return self.laid(at, value, *counts)
        place = at["motifs"], at["variants"], at["surrounds"], *counts
        if place not in self.ones:
            self.ones[place] = self.laid(at, value, *counts)
        return self.ones[place]

    def across(self, at: Mapping[str, int], value: Mapping[str, Any]) -> int:
        """Give the repeats across to begin with: as given, or the fewest at which all bands fill the width."""
        bands = self.task.bands[at["motifs"]]
        if bands is None or self.task.across_asked:
            return int(value["across"])
        motif = self.task.pictures[at["motifs"]][at["variants"]]
        return kept_of(bands, motif).counts_across(FieldLaid.of(motif, value["surrounds"], 1, 1))[0]

    def laid(self, at: Mapping[str, int], value: Mapping[str, Any], across: int, up: int) -> Layout:
        """Lay the repeat, with all that stands around it."""
        place = at["motifs"], at["variants"]
        motif = self.task.pictures[place[0]][place[1]]
        if place not in self.sums:
            self.sums[place] = RepeatSums.of(motif)
        around = *place, at["surrounds"]
        surround = self.settled.get(around, value["surrounds"])
        bands = self.task.bands[place[0]]
        if bands is None:
            layout = Layout(motif, across=across, up=up, surround=surround, sums=self.sums[place])
        else:
            layout = BandedLayout(motif, across=across, up=up, surround=surround, bands=bands)
        self.settled[around] = layout.surround
        return layout

    def pairs(self, one: Layout, at: Mapping[str, int], value: Mapping[str, Any]) -> Iterable[tuple[int, int]]:
        """Give the counts of repeats across and up: as given, or those that come near the wanted sizes."""
        wanted = [value["width"], value["length"]]
        if value["worked"] == "along":
            wanted.reverse()
        cells = self.cells[at["gauges"]]
        where = at["motifs"], at["surrounds"], at["gauges"]
        edges_cm = self.edges.get(where) or self.edges.setdefault(where, self.task.edges_add_cm(*where))
        if isinstance(one, BandedLayout):
            yield from self.pairs_of_bands(one, (wanted[0], wanted[1]), cells, edges_cm)
            return
        repeat = one.multiple
        across = self._near(wanted[0], cells[0], repeat.plus_stitches, repeat.stitches, edges_cm[0]) or [one.across]
        up = self._near(wanted[1], cells[1], repeat.plus_rows, repeat.rows, edges_cm[1]) or [one.up]
        yield from product(across, up)

    def pairs_of_bands(
        self,
        one: BandedLayout,
        wanted: tuple[float | None, float | None],
        cells: tuple[float, float],
        edges_cm: tuple[float, float],
    ) -> Iterable[tuple[int, int]]:
        """Give the same for bands: counts across at which all fill the width, and up with the rows that are put in."""
        # `ones` keeps these layouts, so an id is that of one; a border is as wide as the rows of its gauge are high
        place = id(one), wanted[0], cells[0], edges_cm[0]
        if place not in self.near:
            counts, repeat = one.counts_across, one.of_a_repeat
            beside = one.stitches - repeat.stitches * (counts.index(one.across) + 1)
            numbers = self._near(wanted[0], cells[0], beside, repeat.stitches, edges_cm[0]) if len(counts) > 1 else []
            self.near[place] = [counts[number - 1] for number in numbers] or [one.across]
        for across in self.near[place]:
            over = id(one), across, wanted[1], cells[1], edges_cm[1]
            if over not in self.near:
                self.near[over] = self._near_up(one, across, wanted[1], cells[1], edges_cm[1])
            yield from product([across], self.near[over])

    def _near_up(
        self, one: BandedLayout, across: int, wanted_cm: float | None, cell_cm: float, edges_cm: float
    ) -> list[int]:
        """List the counts up whose rows, with those put in, are within the tolerance, or those on both sides."""
        if wanted_cm is None:
            return [one.up]
        repeat, tolerance = one.of_a_repeat, self.task.tolerance
        astray = 1 + ceil(2 * len(one.bands.order) / repeat.rows)
        most = max((LARGEST_SIDE - repeat.plus_rows) // repeat.rows - astray, 1)
        low, high = (
            int(((wanted_cm * (1 + off) - edges_cm) / cell_cm - repeat.plus_rows) // repeat.rows)
            for off in (-tolerance, tolerance)
        )
        about = range(min(max(low - astray, 1), most), min(max(high + astray, 1), most) + 1)
        off = {up: (rows * cell_cm + edges_cm) / wanted_cm - 1 for up, rows in one.rows_of(across, about).items()}
        near = [up for up in about if abs(off[up]) <= tolerance + SLACK]
        if near:
            return near
        below, above = [up for up in about if off[up] < 0], [up for up in about if off[up] >= 0]
        return [*below[-1:], *above[:1]]

    def _near(self, wanted_cm: float | None, cell_cm: float, beside: int, repeat: int, edges_cm: float) -> list[int]:
        """List the counts within the tolerance; if there is none, those on both sides of what is wanted."""
        if wanted_cm is None:
            return []
        most = max((LARGEST_SIDE - beside) // repeat, 1)
        first_cm, repeat_cm = (repeat + beside) * cell_cm + edges_cm, repeat * cell_cm
        counts = counts_near(wanted_cm, self.task.tolerance, first_cm, repeat_cm, most)
        if not counts:
            below = int(((wanted_cm - edges_cm) / cell_cm - beside) // repeat)
            counts = sorted({min(max(count, 1), most) for count in (below, below + 1)})
        return counts

    def figures(self, layout: Layout, at: Mapping[str, int], rates: YarnRates, reversible: bool) -> LineFigures:
        """Give the figures of one line, from its rows on."""
        if not layout.workable:
            return (layout.rows, layout.stitches, *[None] * 11, self.reason(layout))
        usage, edge_stitches = layout.usage_at(rates, reversible=reversible), 0
        by_role, finish = usage.by_role, self.finishes[at["motifs"]]
        sold = rates.yarn_settings.skeins is not None
        if finish is not None:
            try:
                check_finish(finish, layout.surround, rates.yarn_settings, layout.rows)
            except OptionError as err:
                return (layout.rows, layout.stitches, *[None] * 11, str(err))
            taken = self.taken_at(finish, at, rates, layout.surround.in_the_round).around(layout.rows, layout.stitches)
            edge_stitches, by_role = taken.border_stitches, taken.with_roles(by_role, layout.first)
            if sold:  # which yarn plays which colour matters for skeins alone
                usage = taken.on_top_of(usage, layout)
        bought: tuple[float | None, ...] = (None, None, None, None)
        if sold:
            skeins = sum(total.skeins or 0 for total in usage.by_yarn)
            leftover = sum(total.leftover_m or 0.0 for total in usage.by_yarn)
            bought = (skeins, *map(usage.skeins_of, ROLES), leftover)
        place = at["motifs"], at["variants"], layout.centred_by
        if place not in self.centred:
            self.centred[place] = layout.centred
        centred, overlaid = self.centred[place], layout.overlaid
        (low_mc, of_mc, high_mc), (low_cc, of_cc, high_cc) = by_role
        amounts = low_mc + low_cc, high_mc + high_cc, of_mc, of_cc
        return layout.rows, layout.stitches, centred, overlaid, *amounts, *bought, edge_stitches, ""

    def taken_at(self, finish: Finish, at: Mapping[str, int], rates: YarnRates, in_the_round: bool) -> TakenByMany:
        """Give what a motif's finish takes around each of its pieces."""
        where = at["motifs"], at["gauges"], at["yarn_settings"], in_the_round
        if where not in self.taken:
            self.taken[where] = TakenByMany(finish, rates, in_the_round)
        return self.taken[where]

    def reason(self, layout: Layout) -> str:
        """Say why a layout cannot be worked; the same for all with the same joins."""
        sample = layout.sample
        bands = id(layout.bands) if isinstance(layout, BandedLayout) else None
        key = id(sample.motif), bands, sample.across, sample.up, sample.surround
        if key not in self.reasons:
            self.reasons[key] = sample.what_is_wrong
        return self.reasons[key]


def calculate(task: Task, numbers: tuple[int, int]) -> list[Any]:
    """Work out the combinations from the first number to before the second.

    Returns
    -------
    list
        How many lines there are, and a list for each figure; or, where it is the same in all lines, of that one.
    """
    calculator = Calculator(task)
    lines = [line for number in range(*numbers) for line in calculator.lines(number)]
    columns = [list(column) for column in zip(*lines, strict=True)]
    return [len(lines), *(column[:1] if column.count(column[0]) == len(column) else column for column in columns)]
