"""Pictures as small SVG text, with nothing but NumPy, so that values can show themselves in a notebook.

Squares of one colour that lie side by side are drawn as one run and all runs of a colour as one path, which
keeps a 60 × 200 picture under 100 kB. A picture too large to be looked at whole is cut to the corner where the
work starts, and says so. Arrays come as seen; nothing here knows what a picture means.
"""

from __future__ import annotations

from collections.abc import Callable
from html import escape
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit.colours import Yarns

LARGEST_WHOLE = 120
"""A picture with more rows or columns than this is shown as a corner of this size."""

Window = tuple[slice, slice]
"""Which rows and columns of an array as seen."""


def yarn_colours(
    grid: NDArray[np.bool_], shown_rows: NDArray[np.int64], yarns: Yarns
) -> tuple[NDArray[np.intp], list[str]]:
    """Find the colour of every square.

    Parameters
    ----------
    grid : bool array, (R, C)
        True where CC shows.
    shown_rows : int array, (R, C)
        The maker's number of the row whose yarn shows.
    yarns : Yarns
        The yarns of MC and CC by row.

    Returns
    -------
    index : int array, (R, C)
        Which of the colours each square has.
    colours : list of str
        "#rrggbb", each once.
    """
    rows = int(shown_rows.max(initial=1))
    names = [yarn.colour for role in ("MC", "CC") for yarn in yarns.by_row(rows, role)]
    colours = list(dict.fromkeys(names))
    table = np.array([colours.index(name) for name in names]).reshape(2, rows)
    return table[grid.astype(np.intp), shown_rows - 1], colours


def runs(mask: NDArray[np.bool_]) -> NDArray[np.intp]:
    """Find the runs of True in each row of a mask, (K, 3): row, first column, one past the last column."""
    padded = np.zeros((mask.shape[0], mask.shape[1] + 2), dtype=np.int8)
    padded[:, 1:-1] = mask
    step = np.diff(padded, axis=1)
    starts, ends = np.argwhere(step == 1), np.argwhere(step == -1)
    return np.column_stack([starts, ends[:, 1]])


def runs_path(mask: NDArray[np.bool_], width: float = 1.0, height: float = 1.0) -> str:
    """Draw the True squares of a mask as the `d` of one SVG path, squares of the given width and height."""
    return "".join(
        f"M{left * width:g} {row * height:g}H{right * width:g}V{(row + 1) * height:g}H{left * width:g}z"
        for row, left, right in runs(mask).tolist()
    )


def picture(
    index: NDArray[np.intp],
    colours: list[str],
    *,
    title: str,
    aspect: float = 1.0,
    over: str = "",
    description: str = "",
    square: float = 12.0,
) -> str:
    """Draw squares in colours.

    Parameters
    ----------
    index : int array, (R, C)
        Which colour each square has, as seen.
    colours : list of str
        "#rrggbb".
    title : str
        What a screen reader says; escaped here.
    aspect : float
        Width of a square over its height.
    over : str
        SVG elements drawn on top, in units of squares.
    description : str
        A longer text for those who cannot see the picture; escaped here.
    square : float
        Height of a square in pixels, made smaller so that the picture is at most 720 wide.

    Returns
    -------
    str
        An `svg` element.
    """
    rows, columns = index.shape
    high = min(square, 720 / (columns * aspect))
    ground = int(np.bincount(index.ravel(), minlength=len(colours)).argmax())
    paths = "".join(
        f'<path fill="{colour}" d="{runs_path(index == number)}"/>'
        for number, colour in enumerate(colours)
        if number != ground and np.any(index == number)
    )
    about = f"<desc>{escape(description)}</desc>" if description else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{columns * aspect * high:g}" '
        f'height="{rows * high:g}" viewBox="0 0 {columns} {rows}" preserveAspectRatio="none" '
        f'shape-rendering="crispEdges"><title>{escape(title)}</title>{about}'
        f'<rect width="{columns}" height="{rows}" fill="{colours[ground]}"/>{paths}{over}</svg>'
    )


def corner(shape: tuple[int, int], hand: str = "right") -> Window:
    """Cut a picture to the part that is shown: the corner where the work starts, or all of it."""
    rows, columns = shape
    most = LARGEST_WHOLE
    across = slice(max(columns - most, 0), columns) if hand == "right" else slice(0, most)
    return slice(max(rows - most, 0), rows), across


def notebook_picture(
    as_seen: NDArray[Any],
    colours_in: Callable[[Window], tuple[NDArray[np.intp], list[str]]],
    *,
    title: str,
    hand: str = "right",
    over_in: Callable[[Window], str] = lambda window: "",
) -> str:
    """Draw a picture for a notebook, or its first corner with a title that says so when it is large."""
    window = corner(as_seen.shape, hand)
    shown = as_seen[window].shape
    if shown != as_seen.shape:
        title = f"{title} (shown: the first {shown[0]} rows and {shown[1]} stitches)"
    index, colours = colours_in(window)
    return picture(index, colours, title=title, over=over_in(window))
