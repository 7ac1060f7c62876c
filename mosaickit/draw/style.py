"""How charts look, as one frozen value, and the colours that all pictures share.

Marks are black or white, whichever stands out on the square below; what a mark means is told by its shape.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from numpy.typing import NDArray

from mosaickit.errors import OptionError, each_of_kind, positive, shortly, whole_number
from mosaickit.svg import Marks, marks_of

OUTLINE = "#333333"
"""Around bars and samples of yarn, so that pale ones show on white paper."""

SMALL = 8.0
"""Points: numbers, keys and captions."""

PALE = 0.35
"""How much of their colour squares keep on which something else is to be seen; the rest is white."""


@dataclass(frozen=True)
class ChartStyle:
    """How a chart looks.

    Parameters
    ----------
    every : int
        A heavier grid line runs after every so many rows and stitches, counted from row 1 and stitch 1.
    marks : "symbols", "plain", "letters" or mapping
        How stitches are marked: by symbols, not at all, by the usual letters, or by letters of one's own, as
        ``{"sc": "s", "FLdc": "X", "tog-b": "b", "tog-f": "f"}``.
    row_bar, key : bool
        Whether to draw the yarn of each row along the working edge, and the key.
    cc_mark : bool or None
        Whether CC squares carry a mark in a corner, so that the picture can be read without telling the colours
        apart. None: where the contrast of two yarns that meet is below 3 to 1.
    grid : str
        Colour of the grid lines.
    font_size : float
        Points; the title is a little larger.
    square_in : float or None
        Side of a square in inches, where a new figure is made. None: 0.22, down to 0.08 in larger charts.

    Raises
    ------
    OptionError
        If a number is not above 0, or letters cannot be told apart.
    """

    every: int = 10
    marks: Marks = "symbols"
    row_bar: bool = True
    key: bool = True
    cc_mark: bool | None = None
    grid: str = "#7f7f7f"
    font_size: float = SMALL
    square_in: float | None = None

    def __post_init__(self) -> None:
        whole_number("every", self.every, least=1)
        marks_of(self.marks)
        positive("font_size", self.font_size, "points")
        if self.square_in is not None:
            positive("square_in", self.square_in, "inches")


def some_axes(axes: object, count: int) -> None:
    """Raise `OptionError` unless there are so many axes to draw into, or none."""
    if axes is not None and len(each_of_kind("axes", list(np.atleast_1d(np.asarray(axes, object))), Axes)) != count:
        raise OptionError(f"`axes` must be {count} `Axes`, or None; got {shortly(axes)}.")


def rgb(index: NDArray[np.intp], colours: list[str]) -> NDArray[np.uint8]:
    """Turn squares that say which of the colours ("#rrggbb") they have, (R, C), into an image, (R, C, 3)."""
    channels = [[int(colour[i : i + 2], 16) for i in (1, 3, 5)] for colour in colours]
    return np.array(channels, dtype=np.uint8)[index]


def paled(image: NDArray[np.uint8], strength: float | NDArray[np.float64]) -> NDArray[np.uint8]:
    """Mix an image, (R, C, 3), with white: of its colours a share from 0 to 1 stays."""
    return (255 - strength * (255.0 - image)).round().astype(np.uint8)


def in_cm(ax: Axes) -> None:
    """Write along both sides of a picture at its true size that they are in cm."""
    ax.set_xlabel("cm", fontsize=SMALL)
    ax.set_ylabel("cm", fontsize=SMALL)
    ax.tick_params(labelsize=SMALL)
