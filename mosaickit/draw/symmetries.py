"""The symmetry of a motif, drawn over it.

What symmetries there are and where they lie is what `mk.symmetry` finds; here its lines and centres are only
laid again with each repeat. The signs are those of the International Tables for Crystallography: a mirror line is
solid, a glide line dashed, and a lens is the centre of a half-turn. A sign is filled where colours are kept and open
where they are swapped. Signs are black on a paled picture, so that they show on every yarn.

Places are in working order, as the axes are: x in stitches, growing from the working edge, and y in rows from the foot.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Any

import matplotlib.pyplot as plt
import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.lines import Line2D
from matplotlib.patches import FancyArrowPatch, Rectangle
from matplotlib.path import Path
from matplotlib.patheffects import Normal, Stroke
from matplotlib.transforms import ScaledTranslation

from mosaickit import orientation, svg
from mosaickit.draw.style import PALE, SMALL, paled, rgb
from mosaickit.errors import OptionError, of_kind, whole_number
from mosaickit.gauge import Gauge
from mosaickit.motif import As, Colours, Motif, Move, MoveKind, Symmetry, repeat
from mosaickit.motif import symmetry as symmetry_of
from mosaickit.orientation import Hand
from mosaickit.svg import number_step, numbers_shown

MIRROR, GLIDE, CENTRE, SHIFT = "mirror line", "glide line", "centre of a half-turn", "shift"
SIGNS: dict[MoveKind, str] = {
    "mirror": MIRROR,
    "up-down": MIRROR,
    "glide": GLIDE,
    "up-down glide": GLIDE,
    "half-turn": CENTRE,
    "shift": SHIFT,
}
"""The sign that each kind of move has."""

DASHES = (4.0, 3.0)
"""Points of a glide line's dashes and gaps."""

STRENGTH = 0.6
"""How much of their colour squares keep in the smallest repeat; the rest is white."""

LENS = Path(
    [(0, -1), (0.95, 0), (0, 1), (-0.95, 0), (0, -1), (0, -1)],
    [Path.MOVETO, Path.CURVE3, Path.CURVE3, Path.CURVE3, Path.CURVE3, Path.CLOSEPOLY],
)

Point = tuple[float, float]


def symmetry(
    motif: Motif,
    *,
    across: int = 2,
    up: int | None = None,
    as_: As = "repeat",
    colours: Colours = "keep",
    hand: Hand = "right",
    gauge: Gauge | None = None,
    ax: Axes | None = None,
) -> Axes:
    """Draw a motif laid again and again, with its mirror and glide lines, centres of half-turns and smallest repeat.

    Parameters
    ----------
    motif : Motif
        One repeat, (R, C), workable or not.
    across, up : int
        How many times it is drawn, 1 or more; `up` is 2 if left out, and of a border 1.
    as_, colours, hand
        As `mk.symmetry` takes them.
    gauge : Gauge, optional
        Gives squares their true proportion; without it they are square.
    ax : Axes, optional
        Where to draw; a new figure if left out.

    Returns
    -------
    Axes
        x in stitches and y in rows as the maker counts them: 4.0 is the middle of the fourth, 4.5 between it and the
        fifth. Each kind of sign is one artist, whose label says what it is.

    Raises
    ------
    OptionError
        If an option has no meaning, as a border that is repeated up.

    Examples
    --------
    >>> from matplotlib.figure import Figure
    >>> ax = symmetry(Motif.from_text(".#."), as_="border", ax=Figure().add_subplot())
    >>> ax.get_title(loc="left")
    'Border group pmm2, and no move swaps the colours'
    """
    of_kind("gauge", gauge, Gauge, or_none=True)
    of_kind("ax", ax, Axes, or_none=True)
    found = symmetry_of(motif, as_=as_, colours=colours, hand=hand)
    up = (2 if as_ == "repeat" else 1) if up is None else whole_number("up", up, least=1)
    if as_ == "border" and up > 1:
        raise OptionError(f"A border is laid along its rows only, so `up` must be 1; got {up!r}.")
    laid = repeat(motif, across=across, up=up, colours=colours, must_work=False)
    if ax is None:
        ax = _new_axes(laid.shape)
    _draw_squares(ax, laid, found, hand, gauge)
    pitch = _pitch(ax, laid.shape)
    # neighbouring centres lie at least half a repeat apart
    room = pitch * min(found.rows, found.stitches) / 2
    drawn = [*_draw_lines(ax, found, laid.shape, room), *_draw_centres(ax, found, laid.shape, room)]
    drawn += _draw_shifts(ax, found)
    _draw_numbers(ax, laid.shape, hand, pitch)
    name = f"{motif.name}\n" if motif.name else ""
    ax.set_title(f"{name}{found.words[0].rstrip('.')}", loc="left", fontsize=SMALL + 1, parse_math=False)
    ax.legend(
        handles=[*drawn, _draw_cell(ax, found)],
        loc="upper left",
        bbox_to_anchor=(0, 0),
        bbox_transform=ax.transAxes + ScaledTranslation(0, -1.5 * SMALL / 72, ax.figure.dpi_scale_trans),
        frameon=False,
        fontsize=SMALL,
        handlelength=3,
        handleheight=1.4,
    )
    return ax


# ---- the picture -------------------------------------------------------------------------------------------


def _new_axes(shape: tuple[int, int]) -> Axes:
    rows, columns = shape
    side = min(0.5, 5 / max(shape))
    _, ax = plt.subplots(figsize=(max(columns * side + 1, 4.5), rows * side + 2.4), layout="constrained")
    return ax


def _draw_squares(ax: Axes, laid: Motif, found: Symmetry, hand: Hand, gauge: Gauge | None) -> None:
    """Draw the picture, the smallest repeat in stronger colours, and set the axes up."""
    rows, columns = laid.shape
    image = orientation.to_working(rgb(*svg.yarn_colours(laid.grid, laid.shown_rows, laid.yarns)), hand)
    strength = np.full((rows, columns, 1), PALE)
    strength[: found.rows, : found.stitches] = STRENGTH
    ax.imshow(
        paled(image, strength),
        extent=(0.5, columns + 0.5, 0.5, rows + 0.5),
        origin="lower",
        interpolation="none",
        aspect=1.0 if gauge is None else 1 / gauge.aspect,
    )
    # lines reach a little beyond the picture, so that those along its edges are seen
    beyond = 0.5 - 0.03 * max(rows, columns)
    sides = (beyond, columns + 1 - beyond)
    ax.set_xlim(sides[::-1] if orientation.working_edge(hand) == "right" else sides)
    ax.set_ylim(beyond, rows + 1 - beyond)
    ax.set_frame_on(False)


def _pitch(ax: Axes, shape: tuple[int, int]) -> float:
    """Measure about how long a side of a square is, in points."""
    extent = ax.get_window_extent()
    rows, columns = shape
    return min(extent.width / columns, extent.height / rows) * 72 / ax.figure.dpi


def _draw_numbers(ax: Axes, shape: tuple[int, int], hand: Hand, pitch: float) -> None:
    """Write row numbers at the working edge and stitch numbers below, as many as there is room for."""
    rows, columns = shape
    for axis, count, room in (
        (ax.yaxis, rows, 1.1 * SMALL),
        (ax.xaxis, columns, 0.65 * SMALL * len(str(columns)) + 2),
    ):
        numbers = np.arange(1, count + 1)
        shown = numbers[numbers_shown(numbers, number_step(pitch, room))]
        axis.set_ticks(shown, labels=[str(number) for number in shown])
    ax.yaxis.set_ticks_position(orientation.working_edge(hand))
    ax.tick_params(length=0, pad=2, labelsize=SMALL)


# ---- the signs ---------------------------------------------------------------------------------------------


def _again(at: float, step: int, size: int) -> list[float]:
    """Give the places from the first edge to the last at which what lies in the first repeat lies again."""
    places = (at + step * n for n in range(-1, size // step + 1))
    return [place for place in places if 0.5 <= place <= size + 0.5]


def _of(found: Symmetry, sign: str, swaps: bool) -> list[Move]:
    """Give the moves that have one sign and do the same to the colours."""
    return [move for move in found.moves if SIGNS[move.kind] == sign and move.swaps == swaps]


def _lines(moves: list[Move], found: Symmetry, shape: tuple[int, int]) -> list[tuple[Point, Point]]:
    """Give the lines of moves from edge to edge, and a little beyond, each as two points (stitch, row)."""
    rows, columns = shape
    beyond = 0.02 * max(shape)
    low, high, far = 0.5 - beyond, rows + 0.5 + beyond, columns + 0.5 + beyond
    lines: list[tuple[Point, Point]] = []
    for move in moves:
        if move.stitch is not None:
            lines += [((x, low), (x, high)) for x in _again(move.stitch, found.stitches, columns)]
        if move.row is not None:
            lines += [((low, y), (far, y)) for y in _again(move.row, found.rows, rows)]
    return lines


def _centres(moves: list[Move], found: Symmetry, shape: tuple[int, int]) -> Iterator[Point]:
    """Give the centres of half-turns as points (stitch, row)."""
    rows, columns = shape
    for move in moves:
        if move.row is not None and move.stitch is not None:
            for y in _again(move.row, found.rows, rows):
                yield from ((x, y) for x in _again(move.stitch, found.stitches, columns))


def _says(sign: str, swaps: bool) -> str:
    return f"{sign}, {'swaps' if swaps else 'keeps'} the colours"


def _draw_lines(ax: Axes, found: Symmetry, shape: tuple[int, int], room: float) -> Iterator[Artist]:
    """Draw mirror and glide lines, and give their signs for the key; a line may be both, one of which swaps."""
    for swaps, sign in product((True, False), (MIRROR, GLIDE)):
        lines = _lines(_of(found, sign, swaps), found, shape)
        if lines:
            # an open line is wide enough that a filled one inside it is seen
            width = min(1.8, 0.2 * room) * (2 if swaps else 1)
            edge = Stroke(linewidth=width * (1.6 if swaps else 2), foreground="black" if swaps else "white")
            dashes: Any = (0, tuple(points / width for points in DASHES)) if sign == GLIDE else "-"
            look: dict[str, Any] = {"color": "white" if swaps else "black", "path_effects": [edge, Normal()]}
            look |= {"linewidth": width, "linestyle": dashes, "label": _says(sign, swaps)}
            ax.add_collection(LineCollection(lines, zorder=3 if swaps else 4, **look), autolim=False)
            yield Line2D([], [], **look)


def _draw_centres(ax: Axes, found: Symmetry, shape: tuple[int, int], room: float) -> Iterator[Artist]:
    for swaps in (True, False):
        points = np.array(list(_centres(_of(found, CENTRE, swaps), found, shape)))
        if len(points):
            fill, edge = ("white", "black") if swaps else ("black", "white")
            look: dict[str, Any] = {"marker": LENS, "linestyle": "none", "label": _says(CENTRE, swaps)}
            look |= {"markerfacecolor": fill, "markeredgecolor": edge, "markeredgewidth": min(1.2, 0.1 * room)}
            ax.plot(*points.T, markersize=min(13.0, 0.8 * room), zorder=5, clip_on=False, **look)
            yield Line2D([], [], markersize=11, **look)


def _draw_shifts(ax: Axes, found: Symmetry) -> Iterator[Artist]:
    """Draw an arrow from the first square for each shift that the smallest repeat does not show already."""
    for swaps in (True, False):
        fill, label = "white" if swaps else "black", _says(SHIFT, swaps)
        shifts = [move for move in _of(found, SHIFT, swaps) if swaps or (move.up and move.along)]
        look: dict[str, Any] = {"arrowstyle": "-|>", "mutation_scale": 14, "shrinkA": 0, "shrinkB": 0, "linewidth": 1.2}
        look |= {"facecolor": fill, "edgecolor": "black", "label": label, "zorder": 6}
        look["path_effects"] = [Stroke(linewidth=2.8, foreground="white"), Normal()]
        for move in shifts:
            ax.add_patch(FancyArrowPatch((1, 1), (1 + move.along, 1 + move.up), **look))
        if shifts:
            yield Line2D([], [], color="black", linewidth=1.2, marker=">", markerfacecolor=fill, label=label)


def _draw_cell(ax: Axes, found: Symmetry) -> Artist:
    """Draw the outline of the smallest repeat where the work starts, and give its sign for the key."""
    stitches = f"{found.stitches} {'stitch' if found.stitches == 1 else 'stitches'}"
    rows = f"{found.rows} {'row' if found.rows == 1 else 'rows'} of " if found.as_ == "repeat" else ""
    label = f"smallest repeat, {rows}{stitches}"
    look: dict[str, Any] = {"fill": False, "edgecolor": "black", "linestyle": ":", "linewidth": 1.4}
    ax.add_patch(Rectangle((0.5, 0.5), found.stitches, found.rows, zorder=2, label=label, **look))
    return Rectangle((0, 0), 1, 1, label=label, **look)
