"""Charts of squares worked from the centre: symbols turned to their sides, rounds numbered in their corners."""

from __future__ import annotations

from typing import Any

import matplotlib.pyplot as plt
import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Patch, Rectangle
from matplotlib.path import Path
from matplotlib.patheffects import withStroke
from numpy.typing import NDArray

from mosaickit import svg
from mosaickit.centre import CentreChart, work
from mosaickit.draw.stamps import grid_lines, joined, points_of, stamp
from mosaickit.draw.style import OUTLINE, SMALL, rgb
from mosaickit.errors import of_kind
from mosaickit.fabric import Stitch
from mosaickit.orientation import ROLES
from mosaickit.svg import SQUARE, SYMBOLS, WIDTH

_GRID = "#7f7f7f"
_EVERY = 5
_MEANINGS = {
    Stitch.SC: "single crochet into the ring",
    Stitch.FLDC: "double crochet in the front loop two rounds below",
}
_BLSC = "BLsc: single crochet in the back loop; 3 in a corner stitch"


def rounds(chart: CentreChart, *, ax: Axes | None = None, title: str | None = None) -> Axes:
    """Draw the chart of a square that is worked from the centre. Experimental: such squares were never tried on wool.

    Every symbol stands with its foot towards the centre. The number of a round is in its top right corner square; the
    thick line is where rounds start and are joined.

    Parameters
    ----------
    chart : CentreChart
        A chart that the hook can work.
    ax : Axes, optional
        Where to draw; a new figure that fits if left out.
    title : str, optional
        In place of the summary; "" for none.

    Returns
    -------
    Axes
        In squares as seen: x from the left, y from the top down.

    Raises
    ------
    OptionError
        If an argument is of another kind.
    StitchError
        If no hook can work the chart.
    """
    of_kind("chart", chart, CentreChart)
    of_kind("ax", ax, Axes, or_none=True)
    of_kind("title", title, str, or_none=True)
    fabric = work(chart)
    index, colours = svg.yarn_colours(fabric.front, fabric.front_rounds, chart.yarns)
    side, middle = chart.side, len(chart.rounds)
    if ax is None:
        inches = side * min(max(0.08, min(0.22, 12 / side)), 40 / side)
        ax = plt.figure(figsize=(inches + 0.6, inches + 1.8)).add_subplot()
    ax.imshow(rgb(index, colours), extent=(0, side, side, 0), interpolation="none")
    ax.set(xlim=(0, side), ylim=(side, 0), aspect="equal", xticks=[], yticks=[])
    ax.set_frame_on(False)
    ax.apply_aspect()
    (left, _), (right, _) = ax.transData.transform([(0, 0), (1, 0)])
    pitch = float(right - left) * 72 / ax.figure.dpi
    inks = np.array([svg.ink_on(colour) for colour in colours])[index]
    _draw_lines(ax, side, pitch)
    _draw_symbols(ax, chart, inks, pitch)
    ring = Circle((middle + 0.5, middle + 0.5), 0.27, fc="none", ec=inks[middle, middle], lw=0.09 * pitch, label="ring")
    ax.add_patch(ring)
    for colour, share, label in (("white", 0.3, "_ground"), ("black", 0.14, "join")):
        look: dict[str, Any] = {"color": colour, "lw": min(share * pitch, 18 * share), "label": label}
        ax.plot([chart.join] * 2, [0, middle], solid_capstyle="butt", **look)
    step = svg.number_step(pitch, SMALL + 3)
    for number in range(max(step, 2), middle + 1, step):  # the corners of round 1 have symbols
        down, across = middle - number, middle + number
        # a number that is wider than its square keeps clear of those beside it
        halo = [withStroke(linewidth=2.5, foreground=colours[index[down, across]])]
        look = {"color": inks[down, across], "ha": "center", "va": "center", "path_effects": halo}
        ax.text(across + 0.5, down + 0.5, str(number), size=SMALL - 1, **look)
    ax.set_title(chart.summary if title is None else title, loc="left", fontsize=SMALL + 1, parse_math=False)
    _draw_key(ax, chart)
    return ax


def _draw_lines(ax: Axes, side: int, pitch: float) -> None:
    """Draw the grid, with a heavier line round every fifth round."""
    at = np.arange(side + 1)
    grid_lines(ax, at, at, (side, side), colors=_GRID, linewidths=min(0.6, 0.05 * pitch), label="grid")
    middle, heavy = side // 2, min(2.0, 0.16 * pitch)
    for number in range(_EVERY, middle, _EVERY):
        corner, wide = (middle - number, middle - number), 2 * number + 1
        ax.add_patch(Rectangle(corner, wide, wide, fc="none", ec=_GRID, lw=heavy, label="heavy grid"))


def _draw_symbols(ax: Axes, chart: CentreChart, inks: NDArray[np.str_], pitch: float) -> None:
    width = min(max(WIDTH / SQUARE * pitch, 0.4), 2.2)
    for number, symbol in enumerate(SYMBOLS):
        if not symbol.lines:
            continue
        for turns in range(4):
            here = (chart.as_seen == number) & (chart.turns == turns)
            lines = [_turned(line, turns) for line in symbol.unit_lines]
            stamp(ax, lines, here, symbol.abbreviation, facecolors="none", edgecolors=inks[here], linewidths=width)


def _turned(line: NDArray[np.float64], turns: int) -> NDArray[np.float64]:
    """Turn a polyline in a square of 1 × 1, y up, about its middle: quarter turns against the clock."""
    cos, sin = [(1, 0), (0, 1), (-1, 0), (0, -1)][turns]
    turned: NDArray[np.float64] = (line - 0.5) @ np.array([[cos, sin], [-sin, cos]]) + 0.5
    return turned


def _draw_key(ax: Axes, chart: CentreChart) -> None:
    entries: list[Artist] = []
    for role in ROLES:
        used = [(start, yarn) for start, yarn in chart.yarns.of(role) if start <= len(chart.rounds)]
        for start, yarn in used:
            since = f" from round {start}" if start > 1 else ""
            entries.append(Patch(fc=yarn.colour, ec=OUTLINE, lw=0.6, label=f"{role}{since}: {yarn.name}"))
    entries += [_key_of(stitch, meaning) for stitch, meaning in _MEANINGS.items() if (chart.as_seen == stitch).any()]
    if len(chart.rounds) > 1:
        entries.append(Patch(fc="none", ec=_GRID, lw=0.6, label=_BLSC))
    towards = "left" if chart.hand == "right" else "right"
    entries.append(Line2D([], [], color="black", lw=2, label=f"where rounds start, worked towards the {towards}"))
    legend = ax.legend(
        handles=entries, loc="upper left", bbox_to_anchor=(0, -0.01), borderaxespad=0, borderpad=0, frameon=False,
        fontsize=SMALL, handlelength=1.4, handleheight=1.2,
    )  # fmt: skip
    for text in legend.get_texts():
        text.set_parse_math(False)


def _key_of(stitch: Stitch, meaning: str) -> Artist:
    path, ink = joined(SYMBOLS[stitch].unit_lines), plt.rcParams["text.color"]
    return Line2D(
        [],
        [],
        marker=Path(points_of(path) - 0.5, path.codes),  # a marker turns about the middle
        linestyle="none",
        markersize=1.4 * SMALL,
        markerfacecolor="none",
        markeredgecolor=ink,
        markeredgewidth=0.9,
        label=f"{stitch.abbreviation}: {meaning}",
    )
