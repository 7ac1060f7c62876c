"""The charts of a pattern in several sizes: one with a repeat that holds for all of them, or one for each size."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import Yarn
from mosaickit.publish.box_lines import sentences
from mosaickit.publish.boxes import ChartView, RepeatBox, box_of
from mosaickit.publish.charts import Drawings
from mosaickit.publish.page import Page
from mosaickit.wording import Tongue


@dataclass(frozen=True)
class SizedChart:
    """A chart of a page, and the sizes that it is of.

    Attributes
    ----------
    names : tuple of str
        The sizes; none where the pattern has no sizes.
    drawings : Drawings
        Those of the size whose rows and stitches the numbers of the chart are.
    view : ChartView
        What of the chart is drawn.
    wholes : tuple of Drawings
        For each size its own, for the whole piece in small.
    """

    names: tuple[str, ...]
    drawings: Drawings
    view: ChartView
    wholes: tuple[Drawings, ...]

    @property
    def title(self) -> str:
        """The size, where the chart is of one of several."""
        return f"Size {self.names[0]}" if len(self.names) == 1 else ""

    @property
    def words(self) -> str:
        """Say what stands in the box and how often it is worked; empty if there is none.

        Beyond the box the numbers differ by size, so it is said whose they are.
        """
        if self.view.box is None:
            return ""
        said = sentences(self.view.box, self.drawings.chart.shape, self.drawings.word)
        if len(self.names) < 2:
            return said
        mine = next(name for name, each in zip(self.names, self.wholes, strict=True) if each is self.drawings)
        return f"{said} The numbers beyond the box are those of size {mine}."


def sized_charts(page: Page, terms: Tongue, *, in_full: bool = False) -> tuple[SizedChart, ...]:
    """Give the charts of a page, the size in front first; `in_full` where each size is drawn whole."""
    if len(page.sizes) < 2:
        drawings = Drawings(page, terms)
        return (SizedChart((), drawings, drawings.in_full if in_full else drawings.once, (drawings,)),)
    boxes = None if in_full else shared_boxes(page)
    names = tuple(size.name for size in page.sizes)
    each = [
        Drawings(replace(size.page, photographs=()), terms, box)
        for size, box in zip(page.sizes, boxes or [None] * len(names), strict=True)
    ]
    lead = names.index(page.size_name)
    if boxes is not None:
        return (SizedChart(names, each[lead], each[lead].once, tuple(each)),)
    order = [lead, *(place for place in range(len(names)) if place != lead)]
    return tuple(
        SizedChart((names[at],), each[at], each[at].in_full if in_full else each[at].once, (each[at],)) for at in order
    )


def in_order(page: Page, charts: tuple[SizedChart, ...]) -> list[Drawings]:
    """Give the drawings of the charts of a page in the order of its sizes."""
    if len(page.sizes) < 2:
        return [charts[0].drawings]
    by_name = {name: whole for chart in charts for name, whole in zip(chart.names, chart.wholes, strict=True)}
    return [by_name[size.name] for size in page.sizes]


def shared_boxes(page: Page) -> tuple[RepeatBox, ...] | None:
    """Find the box of a repeat that is worked more or less often in each size, all else being the same in all of them.

    Gives it as it is worked in each size; None if there is no such box.
    """
    pages = [size.page for size in page.sizes]
    tallest, widest = (max(pages, key=lambda one: one.chart.shape[way]) for way in (0, 1))
    above, along = (
        None if one.first_repeat is None else box_of(one.chart, one.front, one.first_repeat)
        for one in (tallest, widest)
    )
    rows = (1, tallest.chart.shape[0]) if above is None else above.rows
    stitches = (1, widest.chart.shape[1]) if along is None else along.stitches
    own = RepeatBox(rows, stitches, 1, 1, above is not None and above.swaps)
    # what stands around the box is the same in all sizes
    around = [
        tallest.chart.shape[0] - (0 if above is None else above.up) * own.shape[0],
        widest.chart.shape[1] - (0 if along is None else along.across) * own.shape[1],
    ]
    times = []
    for one in pages:
        up, across = ((one.chart.shape[way] - around[way]) // own.shape[way] for way in (0, 1))
        if min(up, across) < 1 or (around[0] + up * own.shape[0], around[1] + across * own.shape[1]) != one.chart.shape:
            return None
        times.append((up, across))
    boxes = tuple(replace(own, up=up, across=across, sizes=tuple(times)) for up, across in times)
    seen: dict[tuple[str, Yarn], int] = {}
    drawn = [_drawn(one, box, seen) for one, box in zip(pages, boxes, strict=True)]
    first = drawn[0]
    alike = all(one is not None and first is not None and np.array_equal(one, first) for one in drawn)
    return boxes if alike else None


def _drawn(page: Page, box: RepeatBox, seen: dict[tuple[str, Yarn], int]) -> NDArray[np.int64] | None:
    """Give numbers for what is drawn of a chart; None if it is another when it is worked as its box says."""
    chart, front = page.chart, page.front

    def number(role: str, yarn: Yarn) -> int:
        return seen.setdefault((role, yarn), len(seen))

    codes = np.array(
        [[number(role, yarn) for yarn in front.yarns.by_row(len(front.grid), role)] for role in orientation.ROLES]
    )
    shown = orientation.to_working(codes[front.grid.astype(np.intp), front.shown_rows - 1], chart.hand)
    bar = [number(role, chart.yarns.at(row, role)) for row, role in enumerate(chart.row_colours, 1)]
    whole: NDArray[np.int64] = np.column_stack([chart.stitches + 8 * shown, bar]).astype(np.int64)
    rows, stitches = box.drawn(chart.shape)
    drawn = np.ix_(rows - 1, np.append(stitches - 1, chart.shape[1]))
    # where an odd number of rows comes again, every second time it is in the other colours
    worked = chart.stitches + 8 * orientation.to_working(front.overlaid, chart.hand) if box.swaps else whole
    some = np.ix_(rows - 1, stitches - 1) if box.swaps else drawn
    return whole[drawn] if np.array_equal(box.unfold(worked[some]), worked) else None
