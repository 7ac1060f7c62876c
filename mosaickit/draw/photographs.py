"""A photograph of the work beside its chart, with the squares that differ marked on both."""

from __future__ import annotations

import matplotlib.pyplot as plt
import numpy as np
from matplotlib.axes import Axes
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.draw.charts import chart
from mosaickit.draw.stamps import FRAME, stamp_outlined
from mosaickit.draw.style import OUTLINE, SMALL, ChartStyle, some_axes
from mosaickit.errors import of_kind
from mosaickit.photographed import PhotographedWork
from mosaickit.svg import number_step, numbers_shown

SURE = 0.9
"""A finding is marked by a full line from so much sureness on, and by a dotted one below."""

LEAST_FRAME = 11.0
"""A frame is at least this wide, in points: on a chart of many squares it reaches around its square's neighbours."""

MOST_KEYS = 11
"""The lines of the chart's key that have room below it in a new figure."""

WIDEST_IN, HIGHEST_OF_TWO_IN = 14.0, 7.5
"""A new figure is no larger, in inches."""


def photographed(
    work: PhotographedWork,
    *,
    axes: tuple[Axes, Axes] | None = None,
    style: ChartStyle = ChartStyle(),  # noqa: B008 — frozen
) -> tuple[Axes, Axes]:
    """Draw the chart and the straightened photograph, and mark the squares that differ. Experimental.

    Never tried on wool.

    Parameters
    ----------
    work : PhotographedWork
        What `mk.read_work` read.
    axes : pair of Axes, optional
        Where to draw the chart and the photograph; a new figure if left out.
    style : ChartStyle
        How the chart looks.

    Returns
    -------
    tuple of Axes
        Those of the chart, as `chart` gives, and of the photograph, in squares as seen. A square that differs has a
        frame, full where that is at least 90% sure and dotted otherwise; rows of the chart that are not seen in the
        photograph have no mark. The back is seen from behind, so its photograph is a mirror image of the chart.
    """
    of_kind("work", work, PhotographedWork)
    some_axes(axes, 2)
    of_kind("style", style, ChartStyle)
    rows, columns = work.shape
    high, wide = work.straight.shape[0] / rows, work.straight.shape[1] / columns
    if axes is None:
        axes = _two_axes(work.chart.shape, rows * high / (columns * wide), style)
    differ = np.zeros(work.chart.shape, dtype=np.bool_)
    sure = differ.copy()
    for each in work.findings:
        at = orientation.square(each.row, each.stitch, work.chart.shape, work.chart.hand)
        differ[at], sure[at] = True, each.sureness >= SURE
    chart(work.chart, ax=axes[0], style=style)
    _mark(axes[0], differ, sure, work.chart.shape[1])
    _draw_photograph(axes[1], work, high / wide, style)
    differ = work.shows_cc != work.chart_says_cc
    _mark(axes[1], differ, differ & (work.sureness >= SURE), columns)
    return axes


def _two_axes(shape: tuple[int, int], tall: float, style: ChartStyle) -> tuple[Axes, Axes]:
    """Make a figure with two axes of one width, their tops level, and room for titles and the key, in inches."""
    across = min((WIDEST_IN - 1.6) / 2, HIGHEST_OF_TWO_IN / max(tall, shape[0] / shape[1]))
    line = style.font_size / 72 * 1.6
    above, below = 4 * line, (MOST_KEYS if style.key else 2) * line
    chart_high, high = across * shape[0] / shape[1], across * tall
    width, height = 2 * across + 1.6, above + max(chart_high + below, high + 2 * line)
    figure = plt.figure(figsize=(width, height))
    left, right = (
        figure.add_axes((at / width, (height - above - each) / height, across / width, each / height))
        for at, each in ((0.5, chart_high), (across + 1.2, high))
    )
    return left, right


def _mark(ax: Axes, differ: NDArray[np.bool_], sure: NDArray[np.bool_], columns: int) -> None:
    pitch = ax.get_window_extent().width * 72 / ax.figure.dpi / columns
    width = min(max(0.12 * pitch, 1.0), 2.5)
    larger = max(1.0, LEAST_FRAME / pitch)
    frame = [0.5 + larger * (line - 0.5) for line in FRAME]
    stamp_outlined(ax, frame, differ & sure, "differs", width=width, style="-")
    stamp_outlined(ax, frame, differ & ~sure, "may differ", width=width, style=":")


def _draw_photograph(ax: Axes, work: PhotographedWork, proportion: float, style: ChartStyle) -> None:
    rows, columns = work.shape
    ax.imshow(work.straight, extent=(0, columns, rows, 0), interpolation="auto", aspect=proportion)
    ax.set_title(work.summary.replace(", ", ",\n", 1), loc="left", fontsize=style.font_size + 1, parse_math=False)
    ax.spines[:].set(color=OUTLINE, linewidth=0.6)
    pitch = ax.get_window_extent().width * 72 / ax.figure.dpi / columns
    numbers = np.arange(work.rows[1], work.rows[0] - 1, -1)
    stitches = np.arange(work.stitches[1], work.stitches[0] - 1, -1)
    edge = orientation.working_edge(work.chart.hand)
    if (edge == "left") == (work.face == "front"):
        stitches, side = stitches[::-1], "left"
    else:
        side = "right"
    for axis, shown, room in (
        (ax.yaxis, numbers, 1.1 * style.font_size),
        (ax.xaxis, stitches, 0.65 * style.font_size * len(str(columns)) + 2),
    ):
        at = np.flatnonzero(numbers_shown(shown, number_step(pitch, room)))
        axis.set_ticks(at + 0.5, labels=[str(number) for number in shown[at]])
    ax.yaxis.set_ticks_position("left" if side == "left" else "right")
    ax.tick_params(length=0, pad=2, labelsize=min(SMALL, style.font_size))
