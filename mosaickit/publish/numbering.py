"""How a chart is printed: its squares and type in points, and the numbers of its rows and stitches around it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from html import escape

import numpy as np
from numpy.typing import NDArray

from mosaickit.publish.boxes import RepeatBox
from mosaickit.svg import BY_SYMBOLS, ChartMarks, number_step, numbers_shown

BAR_AT, BAR_WIDE = 0.3, 0.8
"""Squares from the working edge: where the bar of row colours starts, and its width."""
DIGIT = 0.56
"""How wide a digit is at most, of the size of type."""


@dataclass(frozen=True)
class PrintStyle:
    """How a chart is drawn: square side and type in points, fills, the numbers' font, and how stitches are marked.

    `letters` is how many letters stand at most beside the number of a row in which a yarn begins.
    """

    square: float
    type_size: float
    filled: bool = True
    font: str = "Libertinus Serif"
    marks: ChartMarks = BY_SYMBOLS
    letters: int = 0

    def around(self, rows: int, stitches: int, box: RepeatBox | None = None) -> tuple[float, float]:
        """Give the room that bar, numbers and the words at a box need: beside the squares and below them, in points."""
        beside, below = room_of_numbers(self.type_size, rows, stitches, self.letters)
        across, up = box is not None and box.comes_across, box is not None and box.comes_up
        bar = (BAR_AT + BAR_WIDE + 0.3) * self.square
        return beside + bar + self.label_room(up), below + self.label_room(across)

    def label_room(self, labelled: bool) -> float:
        """Give the room of a bracket and the words at it."""
        return 1.4 * self.type_size + 8 if labelled else 0.0


def room_of_numbers(type_size: float, rows: int, stitches: int, letters: int = 0) -> tuple[float, float]:
    """Give the room, in points, that the numbers need: of rows beside the squares, of stitches below them."""
    wide = len(str(rows)) + (1 + 1.5 * letters if letters else 0)
    # half a number stands out at the far edge
    return DIGIT * type_size * (wide + len(str(stitches)) / 2) + 2, 1.3 * type_size + 4


def numbers_around(
    numbers: tuple[NDArray[np.int64], NDArray[np.int64]],
    look: PrintStyle,
    left: float,
    at_right: bool,
    begun: Mapping[int, str],
    *,
    beyond: float | None = None,
    least: int = 1,
) -> str:
    """Write row numbers at the working edge and stitch numbers below, as many as there is room for.

    They begin `beyond` points from the squares, or else behind the bar; they are multiples of `least`, and 1. A row in
    which a yarn begins has its number and the letter of the yarn.
    """
    rows, stitches = numbers
    size, square = look.type_size, look.square
    beyond = (BAR_AT + BAR_WIDE + 0.3) * square if beyond is None else beyond
    x, anchor = (left + len(stitches) * square + beyond, "start") if at_right else (left - beyond, "end")
    texts: list[tuple[float, float, str, str]] = []
    shown = numbers_shown(rows, max(least, number_step(square, 0.9 * size))) | np.isin(rows, list(begun))
    for y in np.flatnonzero(shown).tolist():
        said = [str(rows[y]), *filter(None, [begun.get(int(rows[y]))])]
        text = " ".join(said if at_right else reversed(said))
        texts.append((x, 1 + (y + 0.5) * square + 0.33 * size, anchor, text))
    room = DIGIT * size * (len(str(stitches.max())) + 0.5)
    for column in np.flatnonzero(numbers_shown(stitches, max(least, number_step(square, room)))).tolist():
        at = left + (column + 0.5) * square
        texts.append((at, 1 + len(rows) * square + 1.1 * size, "middle", str(stitches[column])))
    drawn = "".join(
        f'<text x="{x:.5g}" y="{y:.5g}" text-anchor="{anchor}">{text}</text>' for x, y, anchor, text in texts
    )
    font = f' font-family="{escape(look.font)}"' if look.font else ""
    return f'<g fill="currentColor" font-size="{size:g}"{font}>{drawn}</g>'
