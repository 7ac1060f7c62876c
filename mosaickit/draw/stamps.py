"""Marks on squares: the same shape on many squares as one artist, which is what keeps large charts quick.

Axes are as seen, in squares: x from the left, y from the top down, so square (i, j) spans j to j + 1 and i to
i + 1. A stamp grows with its square, however the axes are zoomed.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection, PathCollection
from matplotlib.path import Path
from matplotlib.transforms import AffineDeltaTransform
from numpy.typing import NDArray

from mosaickit import svg

Strokes = Sequence[NDArray[np.float64]]
"""Polylines in a square of 1 × 1, x to the right and y up, each (K, 2)."""

FRAME: Strokes = (np.array([(0.06, 0.06), (0.94, 0.06), (0.94, 0.94), (0.06, 0.94), (0.06, 0.06)]),)
FOOT: Strokes = (np.array([(0.12, 0.1), (0.88, 0.1)]),)
HATCH: Strokes = (
    *FRAME,
    np.array([(0.06, 0.5), (0.5, 0.94)]),
    np.array([(0.06, 0.06), (0.94, 0.94)]),
    np.array([(0.5, 0.06), (0.94, 0.5)]),
)
CC_CORNER: Strokes = (np.array([*svg.CORNER, svg.CORNER[0]]) / svg.SQUARE,)


def points_of(path: Path) -> NDArray[np.float64]:
    """Give the points of a path, (K, 2)."""
    return np.asarray(path.vertices, dtype=np.float64)


def joined(lines: Strokes) -> Path:
    """Join polylines to one path."""
    return Path.make_compound_path(*(Path(line) for line in lines))


def stamp(ax: Axes, shape: Strokes | Path, here: NDArray[np.bool_], label: str, **look: Any) -> None:  # noqa: ANN401 — matplotlib's
    """Draw the same shape on every True square of a mask, (R, C) as seen; `look` goes to `PathCollection`."""
    top, left = np.nonzero(here)
    if len(top) == 0:
        return
    path = shape if isinstance(shape, Path) else joined(shape)
    path = Path(points_of(path) * (1, -1) + (0, 1), path.codes)
    ax.add_collection(
        PathCollection(
            [path],
            offsets=np.column_stack([left, top]),
            offset_transform=ax.transData,
            transform=AffineDeltaTransform(ax.transData),  # type: ignore[arg-type]  # its scales are linear
            label=label,
            **look,
        ),
        autolim=False,
    )


def stamp_outlined(ax: Axes, lines: Strokes, here: NDArray[np.bool_], label: str, *, width: float, style: str) -> None:
    """Draw polylines in black on a white ground of their own, so that they show on every colour."""
    stamp(ax, lines, here, "_ground", facecolors="none", edgecolors="white", linewidths=2.4 * width)
    stamp(ax, lines, here, label, facecolors="none", edgecolors="black", linewidths=width, linestyles=style)


def grid_lines(ax: Axes, across: NDArray[np.intp], down: NDArray[np.intp], shape: tuple[int, int], **look: Any) -> None:  # noqa: ANN401
    """Draw lines over a chart of a shape: vertical ones at each x of `across`, level ones at each y of `down`."""
    rows, columns = shape
    lines = [[(x, 0), (x, rows)] for x in across] + [[(0, y), (columns, y)] for y in down]
    ax.add_collection(LineCollection(lines, **look), autolim=False)
