"""Charts: the picture in its yarns, a mark on every stitch that is not plain, and what a maker counts by.

Squares show what the front of the work shows, a symbol or letter stands where its stitch is made: an FLdc in its own
square, while the square below it shows its colour. Everything is drawn as seen; numbers, and the edge they
stand at, come from `orientation`. Squares are one image and each kind of mark is one artist, so that a blanket
of 100 × 400 draws in a moment.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import matplotlib.pyplot as plt
import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.font_manager import FontProperties
from matplotlib.lines import Line2D
from matplotlib.patches import Patch, Rectangle
from matplotlib.path import Path
from matplotlib.textpath import TextPath
from matplotlib.transforms import ScaledTranslation
from numpy.typing import NDArray

from mosaickit import orientation, svg
from mosaickit.colours import Yarns, contrast
from mosaickit.draw.stamps import CC_CORNER, FOOT, HATCH, grid_lines, joined, points_of, stamp, stamp_outlined
from mosaickit.draw.style import OUTLINE, ChartStyle, rgb
from mosaickit.errors import OptionError, of_kind
from mosaickit.fabric import Chart, work
from mosaickit.motif import LEAST_CONTRAST, Motif, Report, check
from mosaickit.orientation import ROLES, Hand
from mosaickit.svg import (
    SQUARE,
    SYMBOLS,
    WIDTH,
    ChartMarks,
    heavy_lines,
    letter_size,
    marks_of,
    number_step,
    numbers_shown,
)

MOST_STARTS = 4
"""The most rows that the key names for one yarn; the rest are counted."""

_LETTERS = FontProperties(family="DejaVu Sans Mono", weight="bold")

_BAR = (0.35, 1.15)  # squares from the working edge: where the bar of row colours starts and ends


def chart(
    subject: Chart | Motif,
    *,
    ax: Axes | None = None,
    report: Report | None = None,
    title: str | None = None,
    style: ChartStyle = ChartStyle(),  # noqa: B008 — frozen
) -> Axes:
    """Draw a chart with its symbols, or a picture with what is to be said against it.

    Parameters
    ----------
    subject : Chart or Motif
        A chart is drawn as worked, with symbols. A motif need not be workable: it is drawn in squares, those of
        errors hatched and those of advice with a dotted foot.
    ax : Axes, optional
        Where to draw; a new figure that fits if left out.
    report : Report, optional
        For a motif: the findings to mark; those of ``check(motif)`` if left out. Its hand is the chart's.
    title : str, optional
        In place of the summary; "" for none.
    style : ChartStyle
        How it looks.

    Returns
    -------
    Axes
        In squares as seen: x from the left, y from the top down.

    Raises
    ------
    OptionError
        If `subject` is neither, or `report` belongs to another picture.
    StitchError
        If no hook can work the chart.

    Examples
    --------
    >>> from matplotlib.figure import Figure
    >>> ax = chart(Chart.from_text("..."), ax=Figure().add_subplot())
    >>> [label.get_text() for label in ax.get_xticklabels()]
    ['3', '2', '1']
    """
    of_kind("ax", ax, Axes, or_none=True)
    of_kind("report", report, Report, or_none=True)
    sheet = _sheet(subject, report)
    entries = _key(sheet, style) if style.key else []
    if ax is None:
        ax = _new_axes(sheet.shape, len(entries), style)
    _draw_squares(ax, sheet, style)
    pitch = _pitch(ax)
    _draw_grid(ax, sheet, style, pitch)
    _draw_marks(ax, sheet, style, pitch)
    _draw_numbers(ax, sheet, style, pitch)
    ax.set_title(sheet.title if title is None else title, loc="left", fontsize=style.font_size + 1, parse_math=False)
    if entries:
        _draw_key(ax, entries, style)
    return ax


@dataclass(frozen=True, eq=False)
class _Sheet:
    """What is drawn, all as seen."""

    cc: NDArray[np.bool_]
    """(R, C): where CC shows."""
    index: NDArray[np.intp]
    """(R, C): which of the colours shows."""
    colours: list[str]
    row_is_cc: NDArray[np.bool_]
    """(R, 1)"""
    yarns: Yarns
    hand: Hand
    title: str
    stitches: NDArray[np.uint8] | None = None
    report: Report | None = None

    @property
    def shape(self) -> tuple[int, int]:
        rows, columns = self.cc.shape
        return rows, columns

    @property
    def inks(self) -> NDArray[np.str_]:
        """(R, C): black or white, whichever stands out on the square."""
        return np.array([svg.ink_on(colour) for colour in self.colours])[self.index]


def _sheet(subject: Chart | Motif, report: Report | None) -> _Sheet:
    if isinstance(subject, Chart):
        if report is not None:
            raise OptionError("`report` goes with a Motif: a Chart holds stitches, and `mk.work` judges those.")
        return _sheet_of_chart(subject)
    if isinstance(subject, Motif):
        report = check(subject) if report is None else report
        if not np.array_equal(report.motif.overlaid, subject.overlaid):
            raise OptionError(
                f"`report` must be what `mk.check` finds in this motif; got that of {report.motif.summary!r}."
            )
        colours = svg.yarn_colours(subject.grid, subject.shown_rows, subject.yarns)
        hand = report.setting.hand
        return _Sheet(subject.grid, *colours, subject.row_is_cc, subject.yarns, hand, _lines(subject), report=report)
    raise OptionError(f"`subject` must be a Chart or a Motif; got {subject!r}.")


def _sheet_of_chart(chart: Chart) -> _Sheet:
    fabric = work(chart)
    row_is_cc = np.array([[colour == "CC"] for colour in chart.row_colours])
    return _Sheet(
        fabric.front,
        *svg.yarn_colours(fabric.front, fabric.front_rows, chart.yarns),
        orientation.to_seen(row_is_cc, chart.hand),
        chart.yarns,
        chart.hand,
        _lines(chart),
        stitches=orientation.to_seen(chart.stitches, chart.hand),
    )


def _lines(subject: Chart | Motif) -> str:
    """Give the summary, the name on a line of its own."""
    return subject.summary.replace(f"{subject.name}: ", f"{subject.name}\n", 1) if subject.name else subject.summary


# ---- the parts ---------------------------------------------------------------------------------------------


def _new_axes(shape: tuple[int, int], entries: int, style: ChartStyle) -> Axes:
    """Make a figure that holds the squares at a readable size, with room for title, numbers and key, in inches."""
    rows, columns = shape
    side = style.square_in or min(max(0.08, min(0.22, 12 / max(shape))), 40 / max(shape))
    wide, high = (columns + _BAR[1]) * side, rows * side
    line = style.font_size / 72 * 1.5
    left, below, above = 0.4, 0.3 + (entries + 1) * line, 0.2 + 3 * line
    width, height = max(left + wide + 0.4, 4.5), below + high + above
    figure = plt.figure(figsize=(width, height))
    return figure.add_axes((left / width, below / height, wide / width, high / height))


def _draw_squares(ax: Axes, sheet: _Sheet, style: ChartStyle) -> None:
    """Draw the picture and the bar of row colours, and set the axes up."""
    rows, columns = sheet.shape
    ax.imshow(rgb(sheet.index, sheet.colours), extent=(0, columns, rows, 0), interpolation="none")
    start, end = _BAR if style.row_bar else (0, 0)
    at_left = orientation.working_edge(sheet.hand) == "left"
    if style.row_bar:
        bar = svg.yarn_colours(sheet.row_is_cc, orientation.row_numbers(rows)[:, np.newaxis], sheet.yarns)
        sides = (-end, -start) if at_left else (columns + start, columns + end)
        ax.imshow(rgb(*bar), extent=(*sides, rows, 0), interpolation="none")
        ax.add_patch(Rectangle((sides[0], 0), end - start, rows, fc="none", ec=OUTLINE, lw=0.6, clip_on=False))
    ax.set(xlim=(-end, columns) if at_left else (0, columns + end), ylim=(rows, 0), aspect="equal", anchor="W")
    ax.set_frame_on(False)
    ax.apply_aspect()


def _pitch(ax: Axes) -> float:
    """Measure the side of a square in points."""
    (left, _), (right, _) = ax.transData.transform([(0, 0), (1, 0)])
    return float(right - left) * 72 / ax.figure.dpi


def _draw_grid(ax: Axes, sheet: _Sheet, style: ChartStyle, pitch: float) -> None:
    rows, columns = sheet.shape
    fine, heavy = min(0.6, 0.05 * pitch), min(2.0, 0.2 * pitch)
    across, down = np.arange(columns + 1), np.arange(rows + 1)
    grid_lines(ax, across, down, sheet.shape, colors=style.grid, linewidths=fine, label="grid")
    across = heavy_lines(orientation.stitch_numbers(columns, sheet.hand), style.every)
    down = heavy_lines(orientation.row_numbers(rows), style.every)
    grid_lines(ax, across, down, sheet.shape, colors=style.grid, linewidths=heavy, label="heavy grid")


def _draw_marks(ax: Axes, sheet: _Sheet, style: ChartStyle, pitch: float) -> None:
    """Draw everything that stands on squares: marks of CC, symbols, findings."""
    inks = sheet.inks
    if _marks_cc(sheet, style):
        stamp(ax, CC_CORNER, sheet.cc, "CC", facecolors=inks[sheet.cc], edgecolors="none")
    width = min(max(WIDTH / SQUARE * pitch, 0.4), 2.2)
    marks = marks_of(style.marks)
    if sheet.stitches is not None:
        for number, symbol in enumerate(SYMBOLS):
            if marks.shows(number):
                here = sheet.stitches == number
                look: dict[str, Any] = {"facecolors": "none", "edgecolors": inks[here], "linewidths": width}
                if marks.kind == "letters":
                    look = {"facecolors": inks[here], "linewidths": 0}
                stamp(ax, _mark_lines(number, marks), here, symbol.abbreviation, **look)
    if sheet.report is not None:
        advice, errors = sheet.report.squares("advice"), sheet.report.squares("error")
        stamp_outlined(ax, FOOT, advice & ~errors, "advice", width=width, style=":")
        stamp_outlined(ax, HATCH, errors, "error", width=width, style="-")


def _mark_lines(number: int, marks: ChartMarks) -> Path:
    """Give the mark of a stitch as a path in a square of 1 × 1, y up."""
    if marks.kind != "letters":
        return joined(SYMBOLS[number].unit_lines)
    letters = marks.letters[number]
    drawn = TextPath((0, 0), letters, size=1, prop=_LETTERS)
    points = points_of(drawn)
    middle = (points.max(axis=0) + points.min(axis=0)) / 2
    return Path((points - middle) * (letter_size(letters) / SQUARE) + 0.5, drawn.codes)


def _marks_cc(sheet: _Sheet, style: ChartStyle) -> bool:
    if style.cc_mark is not None:
        return style.cc_mark
    pairs = sheet.yarns.meetings(sheet.shape[0])
    return any(contrast(mc.colour, cc.colour) < LEAST_CONTRAST for _, mc, cc in pairs)


def _draw_numbers(ax: Axes, sheet: _Sheet, style: ChartStyle, pitch: float) -> None:
    """Write row numbers at the working edge and stitch numbers below, as many as there is room for."""
    rows, columns = sheet.shape
    wide = 0.65 * style.font_size
    for axis, numbers, room in (
        (ax.yaxis, orientation.row_numbers(rows), 1.1 * style.font_size),
        (ax.xaxis, orientation.stitch_numbers(columns, sheet.hand), wide * len(str(columns)) + 2),
    ):
        at = np.flatnonzero(numbers_shown(numbers, number_step(pitch, room)))
        axis.set_ticks(at + 0.5, labels=[str(number) for number in numbers[at]])
    ax.yaxis.set_ticks_position(orientation.working_edge(sheet.hand))
    ax.xaxis.set_ticks_position("bottom")
    ax.tick_params(length=0, pad=2, labelsize=style.font_size)


# ---- the key -----------------------------------------------------------------------------------------------


def _key(sheet: _Sheet, style: ChartStyle) -> list[Artist]:
    """List what the chart shows, as handles of a legend: the yarns by role, the symbols used, the findings."""
    entries: list[Artist] = []
    for role in ROLES:
        used = [(start, yarn) for start, yarn in sheet.yarns.of(role) if start <= sheet.shape[0]]
        mark = " (marked in the corner)" if role == "CC" and _marks_cc(sheet, style) else ""
        for yarn in dict.fromkeys(yarn for _, yarn in used):
            since = _since([start for start, each in used if each == yarn]) if len(used) > 1 else ""
            entries.append(Patch(fc=yarn.colour, ec=OUTLINE, lw=0.6, label=f"{role}{since}: {yarn.name}{mark}"))
    marks = marks_of(style.marks)
    if sheet.stitches is not None and marks.kind != "plain":
        entries += [_key_of_stitch(number, marks, style) for number in np.unique(sheet.stitches).tolist()]
    if sheet.report is not None:
        if sheet.report.squares("error").any():
            entries.append(Patch(fc="white", ec="black", hatch="/////", lw=0.8, label="cannot be worked"))
        if sheet.report.squares("advice").any():
            entries.append(Line2D([], [], color="black", ls=":", lw=1.2, label="advice"))
    return entries


def _since(starts: list[int]) -> str:
    """Say from which rows on a yarn is used; of many the first, as yarns that change come again with every repeat."""
    if len(starts) == 1:
        return f" from row {starts[0]}"
    named = ", ".join(f"{start:,}" for start in starts[:MOST_STARTS])
    more = len(starts) - MOST_STARTS
    return f" from rows {named}" + (f" and {more:,} more" if more > 0 else "")


def _key_of_stitch(number: int, marks: ChartMarks, style: ChartStyle) -> Artist:
    symbol = SYMBOLS[number]
    label = f"{symbol.abbreviation}: {symbol.words}"
    if not marks.shows(number):
        return Patch(fc="none", ec=style.grid, lw=0.6, label=label)
    drawn = _mark_lines(number, marks)
    letters = marks.kind == "letters"
    ink = plt.rcParams["text.color"]
    return Line2D(
        [],
        [],
        # a marker is scaled by its farthest point, and turns about the middle
        marker=Path(points_of(drawn) - 0.5, drawn.codes),
        linestyle="none",
        markersize=1.4 * style.font_size,
        markerfacecolor=ink if letters else "none",
        markeredgecolor=ink,
        markeredgewidth=0 if letters else 0.9,
        label=label,
    )


def _draw_key(ax: Axes, entries: list[Artist], style: ChartStyle) -> None:
    """Set the key below the numbers, its left side at that of the chart."""
    legend = ax.legend(
        handles=entries,
        loc="upper left",
        bbox_to_anchor=(0, 0),
        bbox_transform=ax.transAxes + ScaledTranslation(0, -2 * style.font_size / 72, ax.figure.dpi_scale_trans),
        borderaxespad=0,
        borderpad=0,
        frameon=False,
        fontsize=style.font_size,
        handlelength=1.4,
        handleheight=1.2,
    )
    for text in legend.get_texts():
        text.set_parse_math(False)
