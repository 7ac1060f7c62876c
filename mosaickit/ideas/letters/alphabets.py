"""Alphabets: the characters that a line of text is set in, as squares.

Some are those of an open bitmap font, of which each row is a row of the picture; most of them have to be mended. The
others are made for this craft, and never need it. On a ground of one colour every second row is in the letters' own
colour, and whatever is drawn there alone can be worked. So of these a character is drawn in lines, each of which is
worked on a row of the letters' colour; on the row between two lines stands what both of them show.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

import numpy as np
from numpy.typing import NDArray

AlphabetName = Literal["capitals", "tall", "small", "book", "large"]
ALPHABET_NAMES: tuple[AlphabetName, ...] = ("capitals", "tall", "small", "book", "large")

Drawn = NDArray[np.bool_]
"""A character, (lines or rows, width), as seen; True where it is drawn."""


@dataclass(frozen=True, eq=False)
class Alphabet:
    """The characters of one alphabet.

    Attributes
    ----------
    name : str
        What it is called.
    characters : mapping of str to bool array
        (H, width) each, with nothing empty at its sides; all are equally high.
    in_lines : bool
        Whether what is drawn are lines with a row between, which needs no mending.
    aspect : float
        The width of what is drawn as one square over its height.
    spacing, space : int
        Squares between two characters, and the width of a space.
    only_capitals : bool
        Whether small letters are set in capitals.
    """

    name: AlphabetName
    characters: Mapping[str, Drawn]
    in_lines: bool = False
    aspect: float = 1.0
    spacing: int = 1
    space: int = 3
    only_capitals: bool = False


@cache
def alphabet_named(name: AlphabetName) -> Alphabet:
    """Give an alphabet by its name."""
    if name == "capitals":
        return Alphabet(name, _capitals(), in_lines=True, aspect=0.5, only_capitals=True)
    if name == "tall":
        return Alphabet(name, _open("6 10"), in_lines=True, aspect=0.5)
    if name == "small":
        return Alphabet(name, _open("6 10"))
    return Alphabet(name, _open("9 15" if name == "book" else "10 20"), spacing=2, space=5)


# ---- the open font -----------------------------------------------------------------------------------------


@cache
def _open(size: str) -> dict[str, Drawn]:
    """Read one size of the open font."""
    found: dict[str, Drawn] = {}
    wide = 0
    for line in _lines("open.txt"):
        if line.startswith("size"):
            wide = int(line.split()[1]) if line.startswith(f"size {size} ") else 0
        elif wide:
            number, *rows = line.split()
            bits = [[bit == "1" for bit in f"{int(row, 16):0{wide}b}"] for row in rows]
            found[chr(int(number, 16))] = _without_empty_sides(np.array(bits))
    return found


def _lines(file: str) -> Iterator[str]:
    """Give the lines of a file beside this one, but for those that explain it."""
    text = Path(__file__).with_name(file).read_text("utf-8")
    return (line for line in text.splitlines() if line and not line.startswith("## "))


def _without_empty_sides(drawn: Drawn) -> Drawn:
    columns = np.flatnonzero(drawn.any(axis=0))
    return drawn[:, columns[0] : columns[-1] + 1]


# ---- our own -----------------------------------------------------------------------------------------------

_ABOVE, _BELOW = 3, 2
"""Lines that accents take above and below a capital."""

_ACCENTS = {
    "\N{COMBINING GRAVE ACCENT}": "#. .# ..",
    "\N{COMBINING ACUTE ACCENT}": ".# #. ..",
    "\N{COMBINING CIRCUMFLEX ACCENT}": "..#.. .#.#. .....",
    "\N{COMBINING TILDE}": ".##.# #.##. .....",
    "\N{COMBINING DIAERESIS}": "... #.# ...",
    "\N{COMBINING RING ABOVE}": "### #.# ###",
    "\N{COMBINING CARON}": ".#.#. ..#.. .....",
    "\N{COMBINING CEDILLA}": ".# ##",
}
"""Accents, by what Unicode calls them, line by line."""


def _capitals() -> dict[str, Drawn]:
    """Read our own capitals, and put the accents of Western Europe on them."""
    plain = {character: _drawn(rows) for character, _, rows in (line.partition(" ") for line in _lines("capitals.txt"))}
    found = {character: _with_lines(drawn) for character, drawn in plain.items()}
    for number in range(0xC0, 0x180):
        base, *accents = list(unicodedata.normalize("NFD", chr(number)))
        if base in plain and len(accents) == 1 and accents[0] in _ACCENTS:
            found[chr(number)] = _accented(plain[base], _drawn(_ACCENTS[accents[0]]))
    return found


def _drawn(rows: str) -> Drawn:
    return np.array([[square == "#" for square in row] for row in rows.split()])


def _with_lines(drawn: Drawn) -> Drawn:
    return np.pad(drawn, ((_ABOVE, _BELOW), (0, 0)))


def _accented(letter: Drawn, accent: Drawn) -> Drawn:
    """Put an accent on the middle of a capital, above it or, if it has two lines, below."""
    wide = max(letter.shape[1], accent.shape[1])
    whole = np.zeros((_ABOVE + len(letter) + _BELOW, wide), dtype=np.bool_)
    top = _ABOVE + len(letter) if len(accent) == _BELOW else 0
    for part, at in ((letter, _ABOVE), (accent, top)):
        left = (wide - part.shape[1]) // 2
        whole[at : at + len(part), left : left + part.shape[1]] = part
    return whole
