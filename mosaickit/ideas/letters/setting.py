"""Setting: a line of text becomes squares, along the rows or up a side, before anything is mended."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from typing import Literal

import numpy as np

from mosaickit.errors import OptionError
from mosaickit.errors import text as checked_text
from mosaickit.ideas.letters.alphabets import ALPHABET_NAMES, Alphabet, Drawn, alphabet_named

LineWay = Literal["along", "up", "down"]
LINE_WAYS: tuple[LineWay, ...] = ("along", "up", "down")

QUARTER_TURNS: dict[LineWay, int] = {"along": 0, "up": 1, "down": -1}
"""How often a line is turned by a quarter, against the clock."""

LONGEST_LINE = 80
"""The most characters that a line of text may have."""

_TYPED = str.maketrans({"‘": "'", "’": "'", "“": '"', "”": '"', "„": '"', "–": "-", "—": "-", "…": "..."})
"""What telephones and writing programs put in for plain signs, and what it is set as."""


@dataclass(frozen=True)
class Scale:
    """How large a square of an alphabet is: stitches across, and rows up or, in lines, pairs of rows."""

    across: int
    up: int


def characters_of(text: object, alphabet: Alphabet) -> str:
    """Give the characters that a text is set in.

    Raises
    ------
    OptionError
        If there are none or too many, or if the alphabet lacks one, which the message names.
    """
    line = unicodedata.normalize("NFC", checked_text("text", text)).strip().translate(_TYPED)
    if "\n" in line or "\r" in line:
        raise OptionError("Lettering is one line of text: make each line by itself, and lay one above the other.")
    line = " ".join(line.split())
    if not line:
        raise OptionError("There is no text to set in letters.")
    if len(line) > LONGEST_LINE:
        raise OptionError(f"A line of lettering has at most {LONGEST_LINE} characters; this one has {len(line)}.")
    made = line.upper() if alphabet.only_capitals else line
    for character in made:
        if character != " " and character not in alphabet.characters:
            others = [f'"{name}"' for name in ALPHABET_NAMES if character in alphabet_named(name).characters]
            instead = f"; there is one in {' and '.join(others)}" if others else ", and no other has one"
            raise OptionError(f'The alphabet "{alphabet.name}" has no {character!r}{instead}.')
    return made


def set_in_line(characters: str, alphabet: Alphabet, spacing: int) -> tuple[Drawn, list[tuple[int, int]]]:
    """Set characters side by side.

    Returns
    -------
    bool array, (H, width)
        What is drawn of the line, as high as the alphabet.
    list of (first, end)
        The columns of each character; `end` is the first that is no longer part of it.
    """
    high = len(next(iter(alphabet.characters.values())))
    parts, places, at = [], [], 0
    for character in characters:
        drawn = np.zeros((high, alphabet.space), dtype=np.bool_)
        if character != " ":
            drawn = alphabet.characters[character]
        parts += [drawn, np.zeros((high, spacing), dtype=np.bool_)]
        places.append((at, at + drawn.shape[1]))
        at += drawn.shape[1] + spacing
    return np.concatenate(parts[:-1], axis=1), places


def in_squares(drawn: Drawn, alphabet: Alphabet, scale: Scale, way: LineWay) -> Drawn:
    """Turn what is drawn and lay it out in squares of the picture: (rows, stitches)."""
    turned = np.rot90(drawn, QUARTER_TURNS[way])
    large = np.repeat(np.repeat(turned, scale.up, axis=0), scale.across, axis=1)
    if not alphabet.in_lines:
        return large
    squares = np.zeros((2 * len(large) - 1, large.shape[1]), dtype=np.bool_)
    squares[::2] = large
    squares[1::2] = large[:-1] & large[1:]
    return squares
