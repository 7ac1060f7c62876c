"""Motifs beside each other at one scale: variants of one, in the order of what is asked for, or any.

All squares of all variants are one artist, so that a wall of them draws in a moment.
"""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Any

import matplotlib.pyplot as plt
import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection
from numpy.typing import NDArray

from mosaickit import svg
from mosaickit.draw.style import OUTLINE, SMALL
from mosaickit.errors import OptionError, each_of_kind, of_kind, one_of, whole_number
from mosaickit.gauge import Gauge
from mosaickit.ideas import FIGURES, FigureName, Variant, in_order
from mosaickit.motif import Motif

SAID: dict[FigureName, str] = {
    "fldc_share": "{:.0%} FLdc",
    "surcharge": "{:.0%} more yarn",
    "cc_share": "{:.0%} CC",
    "longest_bare": "{} FLdc side by side",
    "back_contrast": "{:.0%} of the back differs",
    "similarity": "{:.0%} similar",
}
"""How a figure is written below a variant."""

TILE_IN = 1.5
"""How wide a variant's place is in a new figure, in inches."""

LETTERS = 20
"""A line of a name below a variant has at most so many."""


def variants(
    variants: Sequence[Variant],
    *,
    columns: int = 6,
    sort_by: FigureName | None = None,
    gauge: Gauge | None = None,
    ax: Axes | None = None,
) -> Axes:
    """Draw variants beside each other at one scale, each with its name and the figure that it stands in line by.

    Parameters
    ----------
    variants : sequence of Variant
        A `mk.family`, or some of one.
    columns : int
        How many stand side by side, 1 or more.
    sort_by : str, optional
        A figure: the variant that has the most of it comes first, and those that are alike stay in their order. Left
        out, all do.
    gauge : Gauge, optional
        Gives squares their true proportion; without it they are square.
    ax : Axes, optional
        Where to draw; a new figure that fits if left out.

    Returns
    -------
    Axes
        In widths of a stitch: x from the left, y from the top down.

    Raises
    ------
    OptionError
        If there is no variant, or an option has no meaning.

    Examples
    --------
    >>> from matplotlib.figure import Figure
    >>> from mosaickit.ideas import family
    >>> dash = Motif.from_array(np.pad([[1, 1]], 1))
    >>> ax = variants(family(dash, kinds=["frames"]), sort_by="similarity", ax=Figure().add_subplot())
    >>> print(ax.texts[0].get_text())
    as it is
    100% similar
    """
    variants = each_of_kind("variants", variants, Variant)
    of_kind("gauge", gauge, Gauge, or_none=True)
    of_kind("ax", ax, Axes, or_none=True)
    if not variants:
        raise OptionError("`variants` must be at least one variant; got none.")
    whole_number("columns", columns, least=1)
    if sort_by is not None:
        one_of("sort_by", sort_by, FIGURES)
        variants = in_order(variants, sort_by)
    captions = [_caption(variant, sort_by) for variant in variants]
    return _wall([variant.motif for variant in variants], captions, columns, gauge, ax)


def motifs(
    motifs: Sequence[Motif],
    *,
    captions: Sequence[str] = (),
    columns: int = 6,
    gauge: Gauge | None = None,
    ax: Axes | None = None,
) -> Axes:
    """Draw motifs beside each other at one scale, in their yarns.

    Parameters
    ----------
    motifs : sequence of Motif
        1 or more, workable or not.
    captions : sequence of str
        What stands below each of them, a line of text each; nothing if left out.
    columns : int
        How many stand side by side, 1 or more.
    gauge : Gauge, optional
        Gives squares their true proportion; without it they are square.
    ax : Axes, optional
        Where to draw; a new figure that fits if left out.

    Returns
    -------
    Axes
        In widths of a stitch: x from the left, y from the top down.

    Raises
    ------
    OptionError
        If there is no motif, or not a caption for each.

    Examples
    --------
    >>> from matplotlib.figure import Figure
    >>> dash = Motif.from_array(np.pad([[1, 1]], 1))
    >>> ax = motifs([dash, dash], captions=["left", "right"], ax=Figure().add_subplot())
    >>> [text.get_text() for text in ax.texts]
    ['left', 'right']
    """
    motifs = each_of_kind("motifs", motifs, Motif)
    captions = each_of_kind("captions", captions, str)
    of_kind("gauge", gauge, Gauge, or_none=True)
    of_kind("ax", ax, Axes, or_none=True)
    whole_number("columns", columns, least=1)
    if not motifs:
        raise OptionError("`motifs` must be at least one motif; got none.")
    if captions and len(captions) != len(motifs):
        raise OptionError(f"`captions` must be one for each of the {len(motifs)} motifs; got {len(captions)}.")
    below = [textwrap.fill(caption, LETTERS) for caption in captions] or [""] * len(motifs)
    return _wall(motifs, below, columns, gauge, ax)


def _wall(motifs: Sequence[Motif], captions: Sequence[str], columns: int, gauge: Gauge | None, ax: Axes | None) -> Axes:
    """Draw motifs in rows, all of a row on one line, with their captions below it."""
    columns = min(columns, len(motifs))
    aspect = 1.0 if gauge is None else gauge.aspect
    figure = None
    if ax is None:
        figure = plt.figure(figsize=(TILE_IN * columns, 1))
        ax = figure.add_axes((0, 0, 1, 1))
    wide = 1.1 * max(motif.shape[1] for motif in motifs) + 1
    inch = columns * wide * ax.figure.dpi / ax.get_window_extent().width
    line = 1.3 * SMALL / 72 * inch
    corners, top = [], 0.5 * line
    for start in range(0, len(motifs), columns):
        row = motifs[start : start + columns]
        foot = top + max(motif.shape[0] for motif in row) / aspect
        here = captions[start : start + columns]
        for number, (motif, caption) in enumerate(zip(row, here, strict=True)):
            middle = (number + 0.5) * wide
            corners.append((middle - motif.shape[1] / 2, foot - motif.shape[0] / aspect))
            if caption:
                ax.text(middle, foot + 0.3 * line, caption, ha="center", va="top", fontsize=SMALL, parse_math=False)
        top = foot + line * (max(caption.count("\n") + bool(caption) for caption in here) + 1.2)
    _draw_pictures(ax, motifs, corners, 1 / aspect)
    ax.set(xlim=(0, columns * wide), ylim=(top, 0), aspect="equal", xticks=[], yticks=[])
    ax.set_frame_on(False)
    if figure is not None:
        figure.set_figheight(top / inch)
    return ax


def _caption(variant: Variant, sort_by: FigureName | None) -> str:
    """Give the name, and the figure on a line of its own."""
    name = textwrap.fill(variant.name, LETTERS)
    return name if sort_by is None else f"{name}\n{SAID[sort_by].format(getattr(variant.figures, sort_by))}"


def _draw_pictures(ax: Axes, motifs: Sequence[Motif], corners: list[tuple[float, float]], tall: float) -> None:
    """Draw each motif with its upper left corner at a point, in squares 1 wide and so tall."""
    boxes, colours, outlines = [], [], []
    for motif, corner in zip(motifs, corners, strict=True):
        index, names = svg.yarn_colours(motif.grid, motif.shown_rows, motif.yarns)
        for number, name in enumerate(names):
            found = svg.runs(index == number)
            boxes.append(_boxes(found, tall) + corner)
            colours += [name] * len(found)
        rows, columns = motif.shape
        outlines.append(_boxes(np.array([[0, 0, columns]]), tall * rows)[0] + corner)
    look: dict[str, Any] = {"antialiaseds": False, "linewidths": 0}  # else seams show between squares
    ax.add_collection(
        PolyCollection([*np.concatenate(boxes)], facecolors=colours, label="squares", **look), autolim=False
    )
    ax.add_collection(
        PolyCollection(outlines, facecolors="none", edgecolors=OUTLINE, linewidths=0.6, label="outlines"), autolim=False
    )


def _boxes(runs: NDArray[np.intp], tall: float) -> NDArray[np.float64]:
    """Give the corners of runs of squares, (K, 4, 2), from their row, first column, and one past the last, (K, 3)."""
    row, left, right = runs.T
    x, y = np.stack([left, right, right, left], axis=1), np.stack([row, row, row + 1, row + 1], axis=1)
    return np.stack([x, y * tall], axis=2)
