"""Two pictures beside each other and over each other: a picture that became a motif, and two designs compared."""

from __future__ import annotations

import matplotlib.pyplot as plt
import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Patch
from numpy.typing import NDArray

from mosaickit import svg
from mosaickit.draw.stamps import Strokes, stamp
from mosaickit.draw.style import OUTLINE, PALE, SMALL, paled, rgb, some_axes
from mosaickit.errors import of_kind, true_or_false
from mosaickit.files import Traced
from mosaickit.gauge import Gauge
from mosaickit.motif import Motif
from mosaickit.sizes import Comparison

HIGHEST_IN = 7.5
"""Pictures are no higher, in inches, so that a tall motif stays on a screen."""

FULL: Strokes = (np.array([(0, 0), (1, 0), (1, 1), (0, 1), (0, 0)]),)
"""The whole of a square."""


def traced(
    traced: Traced, *, gauge: Gauge | None = None, axes: tuple[Axes, Axes, Axes] | None = None
) -> tuple[Axes, Axes, Axes]:
    """Draw a picture's squares before and after they were made to be workable, and which of them changed.

    Parameters
    ----------
    traced : Traced
        What `mk.from_picture` made, (R, C).
    gauge : Gauge, optional
        Gives squares their true proportion; without it they are square.
    axes : three Axes, optional
        Where to draw; a new figure if left out.

    Returns
    -------
    tuple of Axes
        Before, after, and what changed; in squares as seen, x from the left and y from the top down. In the third the
        motif is pale, and on it a square that became CC is filled and one that became MC is open.
    """
    of_kind("traced", traced, Traced)
    of_kind("gauge", gauge, Gauge, or_none=True)
    some_axes(axes, 3)
    return _before_and_after(traced.motif.with_grid(traced.before), traced.motif, gauge, axes, "nothing had to change")


def compared(
    comparison: Comparison, *, whole: bool = False, axes: tuple[Axes, Axes, Axes] | None = None
) -> tuple[Axes, Axes, Axes]:
    """Draw two designs beside each other, and which squares differ.

    Parameters
    ----------
    comparison : Comparison
        What `mk.compare` found.
    whole : bool
        Whether to draw the whole pieces instead of their motifs.
    axes : three Axes, optional
        Where to draw; a new figure if left out.

    Returns
    -------
    tuple of Axes
        As of `traced`. Pictures of two sizes lie on each other at row 1, stitch 1; the third is then the later one,
        and only squares that both have are marked.
    """
    of_kind("comparison", comparison, Comparison)
    some_axes(axes, 3)
    whole = true_or_false("whole", whole)
    before, after = (design.picture if whole else design.motif for design in (comparison.before, comparison.after))
    return _before_and_after(before, after, comparison.after.gauge, axes, "no square differs")


def _before_and_after(
    before: Motif, after: Motif, gauge: Gauge | None, axes: tuple[Axes, Axes, Axes] | None, if_same: str
) -> tuple[Axes, Axes, Axes]:
    aspect = 1.0 if gauge is None else gauge.aspect
    if axes is None:
        rows, columns = np.maximum(before.shape, after.shape)
        _, (left, middle, right) = plt.subplots(
            1, 3, figsize=(11, 0.9 + min(3.6 * rows / columns / aspect, HIGHEST_IN)), layout="constrained"
        )
        axes = left, middle, right
    for ax, picture, title in zip(axes, (before, after, after), ("before", "after", "what changed"), strict=True):
        image = rgb(*svg.yarn_colours(picture.grid, picture.shown_rows, picture.yarns))
        if ax is axes[2]:
            image = paled(image, PALE)
        _draw_squares(ax, image, aspect, title)
    rows, columns = np.minimum(before.shape, after.shape)
    changed = np.zeros(after.shape, dtype=np.bool_)
    changed[-rows:, -columns:] = before.grid[-rows:, -columns:] ^ after.grid[-rows:, -columns:]
    _draw_changes(axes[2], changed, after, if_same)
    if before.shape != after.shape:
        axes[2].set_title("what changed, in what both have", loc="left", fontsize=SMALL + 1)
    return axes


def _draw_squares(ax: Axes, image: NDArray[np.uint8], aspect: float, title: str) -> None:
    rows, columns = image.shape[:2]
    ax.imshow(image, extent=(0, columns, rows, 0), interpolation="none", aspect=1 / aspect)
    ax.set_title(title, loc="left", fontsize=SMALL + 1)
    ax.set(xticks=[], yticks=[])
    ax.spines[:].set(color=OUTLINE, linewidth=0.6)


def _draw_changes(ax: Axes, changed: NDArray[np.bool_], after: Motif, if_same: str) -> None:
    """Mark the squares that changed, and say in a key below how many."""
    pitch = ax.get_window_extent().width * 72 / ax.figure.dpi / after.shape[1]
    key = []
    for role, to_cc, fill in (("CC", True, "black"), ("MC", False, "white")):
        here = changed & (after.grid == to_cc)
        count = np.count_nonzero(here)
        label = f"became {role}: {count:,} {'square' if count == 1 else 'squares'}"
        stamp(ax, FULL, here, label, facecolors=fill, edgecolors="black", linewidths=min(1.0, 0.12 * pitch))
        if count:
            key.append(Patch(facecolor=fill, edgecolor="black", linewidth=0.8, label=label))
    if key:
        ax.legend(handles=key, loc="upper left", bbox_to_anchor=(0, 0), frameon=False, fontsize=SMALL, borderpad=0.2)
    else:
        ax.set_title(if_same, loc="left", fontsize=SMALL + 1)
