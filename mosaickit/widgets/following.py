"""What the squares under a hand become: the part of a picture they name, and the squares that follow them.

A hand names squares as seen, (x, y) from the top left, each with a colour. Squares follow it where a symmetry is kept
or the picture repeats; on a row of the other colour they take the other colour, so that what was overlaid stays
overlaid. The hand's own squares come first, and the first square to name a place counts: so it does not matter in
how many pieces a stroke arrives, or when.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from mosaickit.doors import late
from mosaickit.motif import SYMMETRIES, Motif, SymmetryName, with_the_third

if TYPE_CHECKING:
    from scipy import ndimage  # type: ignore[import-untyped]  # it ships no types
else:
    ndimage = late("scipy.ndimage")

Squares = NDArray[np.intp]
"""Squares as seen, (n, 2): x from the left and y from the top."""


@dataclass(frozen=True)
class Following:
    """Which squares follow the hand.

    Parameters
    ----------
    symmetry : tuple of "mirror", "up-down" and "half-turn"
        The symmetries to keep; two of them make the third.
    across, up : int
        After how many stitches and rows the picture repeats; 0 for no repeat.
    """

    symmetry: tuple[SymmetryName, ...] = ()
    across: int = 0
    up: int = 0

    def turns(self, shape: tuple[int, int]) -> NDArray[np.intp]:
        """Give the symmetries as moves of squares in a picture of shape (R, C), the first of which moves nothing.

        Returns
        -------
        int array, (n, 4)
            sx, ox, sy, oy: (x, y) goes to (sx · x + ox, sy · y + oy).

        Examples
        --------
        >>> Following(("mirror",)).turns((3, 5)).tolist()
        [[1, 0, 1, 0], [-1, 4, 1, 0]]
        """
        rows, columns = shape
        mirrored = {"mirror": (-1, 1), "up-down": (1, -1), "half-turn": (-1, -1)}
        kept = with_the_third(self.symmetry)
        signs = [(1, 1), *(mirrored[name] for name in SYMMETRIES if name in kept)]
        return np.array([[sx, (columns - 1) * (sx < 0), sy, (rows - 1) * (sy < 0)] for sx, sy in signs], dtype=np.intp)

    def paint(self, motif: Motif, squares: Squares, colours: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """Paint squares, and what follows them, into a picture.

        Parameters
        ----------
        motif : Motif
            The picture.
        squares : int array, (n, 2)
            In the hand's order; those outside the picture are left out, and nothing follows them.
        colours : bool array, (n,)
            True for CC.

        Returns
        -------
        bool array, (R, C)
            The squares afterwards, as seen.

        Examples
        --------
        >>> dots = Motif.from_text("....")
        >>> Following(("mirror",)).paint(dots, np.array([[0, 0]]), np.array([True])).astype(int)
        array([[1, 0, 0, 1]])
        """
        rows, columns = motif.shape
        inside = ((squares >= 0) & (squares < (columns, rows))).all(axis=1)
        (x, y), colours = squares[inside].T, colours[inside]
        role = motif.row_is_cc[:, 0]
        overlaid = colours ^ role[y]  # which is what all that follow have in common
        # squares in the same class follow each other, whatever the repeat; the first move to reach one counts
        across, up = self.across or columns, self.up or rows
        sx, ox, sy, oy = self.turns(motif.shape).T[:, :, np.newaxis]
        reached = ((sy * y + oy) % up * across + (sx * x + ox) % across).T.ravel()
        first = np.full(across * up, -1)
        classes, at = np.unique(reached, return_index=True)
        first[classes] = at // len(sx)
        lines, stitches = np.indices(motif.shape)
        by = first[lines % up * across + stitches % across]
        grid = motif.grid.copy()
        followed = by >= 0
        grid[followed] = (overlaid[by] ^ role[lines])[followed] if len(x) else False
        own, at = np.unique(y * columns + x, return_index=True)
        grid.ravel()[own] = colours[at]
        return grid


def area(grid: NDArray[np.bool_], x: int, y: int) -> Squares:
    """Give the squares of the same colour that are connected to a square, edge to edge, row by row as seen.

    Examples
    --------
    >>> area(np.array([[False, True], [False, False]]), 0, 0).tolist()
    [[0, 0], [0, 1], [1, 1]]
    """
    pieces, _ = ndimage.label(grid == grid[y, x])
    lines, stitches = np.nonzero(pieces == pieces[y, x])
    return np.column_stack([stitches, lines])


def box(x0: int, y0: int, x1: int, y1: int) -> Squares:
    """Give all squares of the box between two corners, both included, row by row as seen.

    Examples
    --------
    >>> box(1, 1, 0, 1).tolist()
    [[0, 1], [1, 1]]
    """
    lines, stitches = np.mgrid[min(y0, y1) : max(y0, y1) + 1, min(x0, x1) : max(x0, x1) + 1]
    return np.column_stack([stitches.ravel(), lines.ravel()])


def ellipse(x0: int, y0: int, x1: int, y1: int) -> Squares:
    """Give the squares of the ellipse that fills the box between two corners, row by row as seen.

    They are those whose middle is in it, and all of its middle rows and columns, so that it reaches every side.

    Examples
    --------
    >>> ellipse(0, 0, 3, 3).tolist()[:3]
    [[1, 0], [2, 0], [0, 1]]
    """
    squares = box(x0, y0, x1, y1)
    wide, high = abs(x1 - x0) + 1, abs(y1 - y0) + 1
    # twice the way from the ellipse's middle, in whole numbers, so that no two places where it is worked out can differ
    across, up = (2 * squares - [x0 + x1, y0 + y1]).T
    within = (across * high) ** 2 + (up * wide) ** 2 <= (wide * high) ** 2
    inside: Squares = squares[within | (np.abs(across) <= 1) | (np.abs(up) <= 1)]
    return inside


def line(x0: int, y0: int, x1: int, y1: int) -> Squares:
    """Give the squares on a straight line between two squares, both included, without gaps, from the first on.

    Examples
    --------
    >>> line(0, 0, 3, 1).tolist()
    [[0, 0], [1, 0], [2, 1], [3, 1]]
    """
    steps = max(abs(x1 - x0), abs(y1 - y0))
    walked, whole = np.arange(steps + 1), max(steps, 1)
    # halves are rounded up, in whole numbers, so that no two places where it is worked out can differ
    across, up = ((2 * walked * way + whole) // (2 * whole) for way in (x1 - x0, y1 - y0))
    return np.column_stack([x0 + across, y0 + up])


def placed(part: NDArray[np.bool_], x: int, y: int) -> Squares:
    """Give the squares that a part of a picture takes when its upper left corner is at (x, y), row by row as seen.

    Examples
    --------
    >>> placed(np.array([[True, False]]), 4, 2).tolist()
    [[4, 2], [5, 2]]
    """
    lines, stitches = np.indices(part.shape)
    return np.column_stack([stitches.ravel() + x, lines.ravel() + y])
