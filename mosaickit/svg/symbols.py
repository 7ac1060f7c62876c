"""What every chart is drawn from: the symbols, the marks of yarns, and where numbers and heavy lines stand.

The symbols are built from the parts that the Craft Yarn Council publishes ("Crochet Chart Symbols"): a single crochet
is a cross, a double crochet is a T with one slash across its stem, stitches worked together are stems that meet in
one top, and an arc at the foot marks a loop, opening up for the front loop and down for the back loop (the shape of
the arcs is from memory). So that the picture is seen through them, they are no more than that: the stitch that is
worked nearly everywhere, BLsc, is an empty square, an FLdc goes without the arc of the one loop it may take, and a
tog-b, which shows nothing of its dc on the front, without the bar at the top. Each symbol is a few polylines, so that
SVG, matplotlib and a browser draw the same; each is told from every other where a square is 2.5 mm wide. Numbers come
in as `orientation` gives them; nothing here knows at which edge a row starts.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

SQUARE = 20
"""A square is this many units wide and high; symbols keep to whole units."""

Stroke = tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Symbol:
    """How a chart draws a stitch.

    Parameters
    ----------
    abbreviation : str
        How a written row names the stitch (US terms).
    words : str
        The stitch in plain words, for a key.
    lines : tuple of polylines
        Points (x, y) in units, x to the right and y up, of a square `SQUARE` wide and high; none
        for an empty square.
    """

    abbreviation: str
    words: str
    lines: tuple[Stroke, ...] = ()

    @cached_property
    def unit_lines(self) -> tuple[NDArray[np.float64], ...]:
        """The polylines in a square of 1 × 1, each (K, 2)."""
        return tuple(np.array(line) / SQUARE for line in self.lines)


WIDTH = 1.8
"""How wide the lines of a symbol are, in units."""

_TOP: Stroke = ((5, 17), (15, 17))
_FRONT_LOOP: Stroke = ((3, 8), (4, 5), (7, 3), (10, 3), (13, 3), (16, 5), (17, 8))
_BACK_LOOP: Stroke = ((3, 3), (5, 5), (8, 7), (10, 7), (12, 7), (15, 5), (17, 3))

SYMBOLS: tuple[Symbol, ...] = (
    Symbol("sc", "single crochet into the foundation chain", (((6, 6), (14, 14)), ((6, 14), (14, 6)))),
    Symbol("BLsc", "single crochet in the back loop"),
    Symbol(
        "FLdc",
        "double crochet in the front loop two rows below",
        (_TOP, ((10, 17), (10, 3)), ((6, 7), (14, 12))),
    ),
    Symbol(
        "tog-b",
        "sc and dc together, dc in the back loop two rows below",
        (((10, 17), (5, 8)), ((10, 17), (15, 8)), _BACK_LOOP),
    ),
    Symbol(
        "tog-f",
        "sc and dc together, dc in the front loop two rows below",
        (_TOP, ((10, 17), (4, 9)), ((10, 17), (16, 9)), _FRONT_LOOP),
    ),
)
"""The symbol of each stitch, by the stitch's number."""

CORNER: Stroke = ((0, 20), (5, 20), (0, 15))
"""The mark of CC where two yarns are hard to tell apart: a filled corner that no symbol reaches."""

YARN_PATTERNS: tuple[tuple[Stroke, ...], ...] = (
    (),
    (((0, 0), (20, 20)), ((0, 10), (10, 20)), ((10, 0), (20, 10))),
    (((0, 17), (20, 17)), ((0, 3), (20, 3))),
    tuple(
        ((x, y), (x + 2, y), (x + 2, y + 1), (x, y + 1), (x, y + 2), (x + 2, y + 2)) for x in (1, 17) for y in (1, 17)
    ),
    (((2, 0), (2, 20)), ((18, 0), (18, 20))),
)
"""How squares of up to five yarns are told apart where nothing is filled: thin lines, a set for each yarn."""


def number_step(pitch: float, room: float) -> int:
    """Choose whether every number is shown, or 1 and every 5th, 10th, 20th, 50th and so on.

    Parameters
    ----------
    pitch : float
        How far neighbouring rows or stitches lie apart.
    room : float
        How much a number needs, in the same unit.

    Examples
    --------
    >>> number_step(12, 10), number_step(6, 10), number_step(0.9, 10)
    (1, 5, 20)
    """
    # 1 and the first step lie nearest, one less than a step apart
    steps = (1, 5, *(digit * 10**power for power in (1, 2, 3) for digit in (1, 2, 5)))
    return next((step for step in steps if max(step - 1, 1) * pitch >= room), 10_000)


def numbers_shown(numbers: NDArray[np.int64], step: int) -> NDArray[np.bool_]:
    """Tell which numbers of rows or stitches are shown: 1 and every `step`-th; (K,), the numbers' order."""
    return np.equal(numbers, 1) | np.equal(numbers % step, 0)


def heavy_lines(numbers: NDArray[np.int64], every: int = 10) -> NDArray[np.intp]:
    """Find where heavier grid lines run: after every tenth row or stitch, counted as the maker counts.

    Parameters
    ----------
    numbers : int array, (K,)
        The maker's numbers as seen, from the top or from the left.
    every : int
        How many rows or stitches lie between two heavy lines.

    Returns
    -------
    int array
        Line i runs between the i-th and the next of the numbers, so 1 to K - 1.

    Examples
    --------
    >>> heavy_lines(np.arange(12, 0, -1))
    array([2])
    """
    below = np.minimum(numbers[:-1], numbers[1:])
    return np.flatnonzero(below % every == 0) + 1
