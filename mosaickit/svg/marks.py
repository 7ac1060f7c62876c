"""How a chart marks its stitches: by symbols, by letters of the author's own, or not at all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal
from unicodedata import category

from mosaickit.errors import OptionError, shortly
from mosaickit.svg.symbols import SYMBOLS

MarkKind = Literal["symbols", "plain", "letters"]
Marks = MarkKind | Mapping[str, str] | Mapping[int, str]
"""A way to mark stitches, or your own letter for each stitch: ``{"FLdc": "X", ...}``, or by the stitch's number."""

MARK_KINDS: tuple[MarkKind, ...] = ("symbols", "plain", "letters")
"""The ways to mark stitches."""

USUAL_LETTERS: dict[str, str] = {"sc": "c", "FLdc": "D", "tog-b": "b", "tog-f": "f"}
"""The letters of stitches if nothing else is said; the square of a BLsc stays empty."""

_ALIKE = ("1il|!", "0o", "5s", "2z", "8b", "uv")
"""Characters that cannot be told apart in a small square; nor can capitals and small letters."""


@dataclass(frozen=True)
class ChartMarks:
    """How stitches are marked; `marks_of` makes one and checks it.

    Attributes
    ----------
    kind : "symbols", "plain" or "letters"
        The way.
    letters : tuple of str
        For letters, those of each stitch by the stitch's number; empty for an empty square.
    """

    kind: MarkKind = "symbols"
    letters: tuple[str, ...] = ()

    def shows(self, stitch: int) -> bool:
        """Whether the square of a stitch, by its number, holds a mark."""
        if self.kind == "letters":
            return bool(self.letters[stitch])
        return self.kind == "symbols" and bool(SYMBOLS[stitch].lines)


BY_SYMBOLS = ChartMarks()
"""What is usual."""


def marks_of(marks: Marks) -> ChartMarks:
    """Check how stitches are to be marked.

    Parameters
    ----------
    marks : "symbols", "plain", "letters" or mapping
        Symbols, squares only, the usual letters, or your own: a mapping from a `Stitch`, or from its abbreviation in US
        terms, to 1 or 2 characters. One of the stitches may go without, and stands as an empty square.

    Raises
    ------
    OptionError
        If it is none of these, or letters cannot be told apart.

    Examples
    --------
    >>> marks_of({"sc": "s", "FLdc": "X", "tog-b": "b", "tog-f": "f"}).letters
    ('s', '', 'X', 'b', 'f')
    """
    if isinstance(marks, Mapping):
        return _letters(tuple((_stitch(stitch), _text(stitch, letters)) for stitch, letters in marks.items()))
    if not isinstance(marks, str) or marks not in MARK_KINDS:
        raise OptionError(
            f"`marks` must be one of {', '.join(map(repr, MARK_KINDS))}, or letters by stitch, as "
            f"{{'FLdc': 'X', …}}; got {shortly(marks)}."
        )
    if marks == "letters":
        return _letters(tuple(USUAL_LETTERS.items()))
    return ChartMarks(next(kind for kind in MARK_KINDS if kind == marks))


_NAMES = [symbol.abbreviation for symbol in SYMBOLS]


def _stitch(stitch: object) -> str:
    if isinstance(stitch, int) and 0 <= stitch < len(_NAMES):
        return _NAMES[stitch]
    if stitch not in _NAMES:
        raise OptionError(f"A chart marks no stitch {shortly(stitch)}: the stitches are {', '.join(_NAMES)}.")
    return str(stitch)


def _text(stitch: object, letters: object) -> str:
    """Give letters that each take a place of their own, or raise."""
    if not isinstance(letters, str) or len(letters) > 2 or any(category(one)[0] not in "LNPS" for one in letters):
        raise OptionError(
            f"The letters of {_stitch(stitch)} must be 1 or 2 letters, digits or signs that can be printed, without "
            f"spaces; got {shortly(letters)}."
        )
    return letters


@lru_cache(maxsize=64)
def _letters(given: tuple[tuple[str, str], ...]) -> ChartMarks:
    chosen = {name: dict(given).get(name, "") for name in _NAMES}
    empty = [name for name, letters in chosen.items() if not letters]
    if len(empty) > 1:
        raise OptionError(f"One stitch may go without letters; {_and(empty)} do. Give letters to all of them but one.")
    seen: dict[str, str] = {}
    for name, letters in chosen.items():
        other = seen.setdefault(_as_looked_at(letters), name)
        if other != name:
            raise OptionError(
                f"The letters of {other} and {name}, {chosen[other]!r} and {letters!r}, cannot be told apart in a "
                "small square. Choose others for one of them."
            )
    return ChartMarks("letters", tuple(chosen.values()))


def _as_looked_at(letters: str) -> str:
    """Give what letters look like when they are small: case and characters of one shape are alike."""
    shapes = {one: alike[0] for alike in _ALIKE for one in alike}
    return "".join(shapes.get(one, one.casefold()) for one in letters)


def _and(names: list[str]) -> str:
    return f"{', '.join(names[:-1])} and {names[-1]}"
