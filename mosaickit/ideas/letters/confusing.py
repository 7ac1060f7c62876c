"""Confusing letters: which characters of a line are read as others once they are mended.

A mended character is read as the one that it is nearest to, by the number of squares that differ where the two are
laid over each other as well as they go. So one that is nearer to another, or as near, may be misread.
"""

from __future__ import annotations

from functools import cache
from itertools import product

import numpy as np
from numpy.typing import NDArray

from mosaickit.ideas.letters.alphabets import AlphabetName, Drawn, alphabet_named
from mosaickit.ideas.letters.setting import LineWay, Scale, in_squares

_MOVES = tuple(product((-1, 0, 1), (-1, 0, 1)))
"""Squares up and to the right by which two characters may be moved against each other."""


def read_as(character: str, mended: Drawn, alphabet: AlphabetName, scale: Scale, way: LineWay) -> str | None:
    """Give the letter or digit that a mended one may be read as, the likeliest; None if it is read as itself.

    Parameters
    ----------
    character : str
        A letter or a digit of the alphabet.
    mended : bool array
        What is drawn of it in the picture, as `in_squares` gives it, one square larger on each side.
    alphabet, scale, way
        What it is set in, how large and which way.
    """
    names, unmended = _all_unmended(alphabet, scale, way)
    window = _in_the_middle(mended, unmended.shape[1:])
    moved = [np.roll(window, move, axis=(0, 1)) for move in _MOVES]
    differ = np.min([np.count_nonzero(one ^ unmended, axis=(1, 2)) for one in moved], axis=0)
    own = names.index(character)
    others = (unmended != unmended[own]).any(axis=(1, 2))  # some characters look the same in any case
    nearer = np.flatnonzero(others & (differ <= differ[own]))
    return names[nearer[differ[nearer].argmin()]] if len(nearer) else None


@cache
def _all_unmended(name: AlphabetName, scale: Scale, way: LineWay) -> tuple[list[str], NDArray[np.bool_]]:
    """Give the letters and digits of an alphabet, and each in the middle of a sheet as large as the largest needs."""
    alphabet = alphabet_named(name)
    names = [character for character in alphabet.characters if character.isalnum()]
    pictures = [np.pad(in_squares(alphabet.characters[each], alphabet, scale, way), 1) for each in names]
    size = tuple(np.max([picture.shape for picture in pictures], axis=0).tolist())
    return names, np.stack([_in_the_middle(picture, size) for picture in pictures])


def _in_the_middle(picture: Drawn, size: tuple[int, ...]) -> Drawn:
    room = [most - own for most, own in zip(size, picture.shape, strict=True)]
    return np.pad(picture, [(free // 2, free - free // 2) for free in room])
