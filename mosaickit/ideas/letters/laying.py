"""Laying: a line of text on its ground, mended where it has to be, and what keeps apart letters that may be misread."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import OptionError
from mosaickit.gauge import Gauge
from mosaickit.ideas.letters.alphabets import Alphabet, AlphabetName, Drawn, alphabet_named
from mosaickit.ideas.letters.confusing import read_as
from mosaickit.ideas.letters.setting import LineWay, Scale, characters_of, in_squares, set_in_line
from mosaickit.motif import Motif, checked_size, nearest_workable

LARGEST_LETTERS, WIDEST_LETTERS = 10, 40
"""The most rows, or pairs of rows, and the most stitches that one square of an alphabet may become."""

_LETTERS_WEIGH = 2.5
"""What a square of a letter weighs when it is mended, beside 1 of the ground: strokes grow thicker before they go.

With 1, single strokes on rows of the ground's colour would be left out; tried with 1, 1.5 and 2.5, this keeps most
letters apart.
"""


def stitches_across(alphabet: Alphabet, up: int, gauge: Gauge | None, way: LineWay) -> int:
    """Give the stitches to a square of the alphabet that come nearest to its proportion."""
    rows = up * (2 if alphabet.in_lines else 1)
    aspect = alphabet.aspect if way == "along" else 1 / alphabet.aspect
    return max(1, round(rows * aspect / (gauge.aspect if gauge else 1.0)))


@dataclass(frozen=True, eq=False)
class LaidLine:
    """A line in CC on its ground."""

    motif: Motif
    changed: NDArray[np.bool_]
    cost: float
    confused: tuple[tuple[str, str], ...]

    @property
    def badness(self) -> tuple[int, float]:
        """What it is chosen by: letters that may be misread, then squares that were mended."""
        return len(self.confused), self.cost


def lay_line(
    characters: str, alphabet: Alphabet, scale: Scale, way: LineWay, spacing: int, margin: int, mend: bool
) -> LaidLine:
    """Lay a line on its ground, with the number of rows below it that leaves it the most legible."""
    line, places = set_in_line(characters, alphabet, spacing)
    whole = in_squares(line, alphabet, scale, way)
    inked = [np.flatnonzero(whole.any(axis=axis)) for axis in (1, 0)]
    (top, bottom), (left, right) = ((int(each[0]), int(each[-1]) + 1) for each in inked)
    drawn = whole[top:bottom, left:right]
    # the ground's rows are the odd ones; lines have to lie on even rows, and what is mended may as well not
    least = margin + (1 - margin % 2) if alphabet.in_lines else margin
    laid = []
    for below in (least,) if alphabet.in_lines else (margin, margin + 1):
        above = margin + (1 - (margin + below + len(drawn)) % 2)
        checked_size(above + len(drawn) + below, drawn.shape[1] + 2 * margin)
        before = Motif(np.pad(drawn, ((above, below), (margin, margin))))
        repair = nearest_workable(before, weights=np.where(before.grid, _LETTERS_WEIGH, 1.0)) if mend else None
        if repair is None or not repair.changed.any():
            laid.append(LaidLine(before, np.zeros(before.shape, dtype=np.bool_), 0.0, ()))
            continue
        # back to where the line would be if nothing were cut off, with one square around it
        sheet = np.zeros((len(whole) + 2, whole.shape[1] + 2), dtype=np.bool_)
        inner = repair.motif.grid[above - 1 : above + len(drawn) + 1, margin - 1 : margin + drawn.shape[1] + 1]
        sheet[top : bottom + 2, left : right + 2] = inner
        confused = _confused(characters, places, sheet, alphabet, scale, way)
        laid.append(LaidLine(repair.motif, repair.changed, repair.cost, confused))
    return min(laid, key=lambda each: each.badness)


def _confused(
    characters: str, places: list[tuple[int, int]], sheet: Drawn, alphabet: Alphabet, scale: Scale, way: LineWay
) -> tuple[tuple[str, str], ...]:
    """Give the letters of a mended line that may be misread, each once."""
    long = places[-1][1]
    found = {}
    for character, (first, end) in zip(characters, places, strict=True):
        if not character.isalnum():
            continue
        if way == "along":
            window = sheet[:, first * scale.across : end * scale.across + 2]
        else:
            start, stop = (long - end, long - first) if way == "up" else (first, end)
            window = sheet[start * scale.up : stop * scale.up + 2]
        other = read_as(character, window, alphabet.name, scale, way)
        if other is not None:
            found[character] = other
    return tuple(found.items())


MOST_INSTEAD = 2
"""How many other alphabets and sizes are named, at most, where letters may be misread."""


def kept_apart(
    characters: str, alphabet: AlphabetName, size: int, way: LineWay, gauge: Gauge | None
) -> list[tuple[AlphabetName, int]]:
    """Find alphabets and sizes in which no letter of a text is confused: the next size, and the alphabets of lines."""
    tries: list[tuple[AlphabetName, int]] = [
        ("tall", 1),
        ("large", 1),
        ("book", 1),
        (alphabet, size + 1),
        ("capitals", 1),
    ]
    found: list[tuple[AlphabetName, int]] = []
    for name, larger in tries:
        letters = alphabet_named(name)
        if len(found) == MOST_INSTEAD or larger > LARGEST_LETTERS or (name, larger) == (alphabet, size):
            continue
        try:
            set_so = characters_of(characters, letters)
        except OptionError:
            continue
        scale = Scale(stitches_across(letters, larger, gauge, way), larger)
        if not lay_line(set_so, letters, scale, way, letters.spacing, 1, True).confused:
            found.append((name, larger))
    return found
