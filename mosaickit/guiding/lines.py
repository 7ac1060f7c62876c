"""The rows in words, in pieces that a page can mark one by one while a maker works through them.

Every piece, and every other text that comes again and again, stands in a table once, and a row is numbers. That keeps
a large chart small enough for a page: see `data`.
"""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterator
from typing import Any, Generic, TypeVar

from mosaickit.wording import STITCH_NAMES, STITCH_WORDS, STYLES, RowPart, Run, Style, Terms, plain, short

Item = TypeVar("Item", bound=Hashable)


class Numbered(Generic[Item]):
    """Values that are numbered in the order in which they come.

    Examples
    --------
    >>> table = Numbered()
    >>> [table.number(value) for value in "abba"], table.values
    ([0, 1, 1, 0], ['a', 'b'])
    """

    def __init__(self) -> None:
        self._numbers: dict[Item, int] = {}

    def number(self, value: Item) -> int:
        """Give the number of a value, a new one if it is new."""
        return self._numbers.setdefault(value, len(self._numbers))

    @property
    def values(self) -> list[Item]:
        """The values by their numbers."""
        return list(self._numbers)


class RowsInWords:
    """The rows of a chart in words, in both styles.

    Attributes
    ----------
    pieces : Numbered of (text, text)
        In the order of `STYLES`.
    times, said : Numbered of str
        Which time of a repeat it is, and what a run is called for ears.
    """

    def __init__(self, terms: Terms) -> None:
        self.terms = terms
        self.pieces: Numbered[tuple[str, ...]] = Numbered()
        self.times: Numbered[str] = Numbered()
        self.said: Numbered[str] = Numbered()

    def line(self, parts: tuple[RowPart, ...], words: tuple[str, ...] = ()) -> dict[str, Any]:
        """Lay out a row.

        Parameters
        ----------
        parts : tuple of RowPart
            What is worked.
        words : tuple of str
            What a row of a single run is called, in the order of `STYLES`; left out, it is said as any other.

        Returns
        -------
        dict
            ``pieces`` are numbers of pieces; every second one, the first time at place 1, is a run. ``groups`` are the
            runs in the order of work, four numbers each: the stitches done after it, the number of the run among those
            of the text, and the numbers of `times` and `said`.
        """
        told = [["", text, ""] for text in words] or [self._pieces(parts, style) for style in STYLES]
        both = zip(*told, strict=True)
        groups: list[int] = []
        done = 0
        for run, part, times in _visits(parts):
            done += part.count
            stitches = "stitch" if part.count == 1 else "stitches"
            said = f"{STITCH_WORDS[self.terms][part.stitch]}, {part.count} {stitches}"
            groups += [done, run, self.times.number(times), self.said.number(said)]
        return {"pieces": [self.pieces.number(piece) for piece in both], "groups": groups}

    def _pieces(self, parts: tuple[RowPart, ...], style: Style) -> list[str]:
        """Cut the text of a row at its runs: text, run, text, and so on to a text; texts may be empty."""
        text = (short if style == "short" else plain)(parts, self.terms)
        return re.split(f"({_run_pattern(self.terms, style)})", text)


def _run_pattern(terms: Terms, style: Style) -> str:
    names = sorted((STITCH_NAMES if style == "short" else STITCH_WORDS)[terms], key=len, reverse=True)
    where = r" in (?:next|last) (?:st|\d+ sts)\b"
    if style == "plain words":
        where = r" in the (?:next|last) (?:stitch|\d+ stitches)\b"
    return f"(?:{'|'.join(map(re.escape, names))}){where}"


def _visits(parts: tuple[RowPart, ...], run: int = 0, times: str = "") -> Iterator[tuple[int, Run, str]]:
    """Walk a row's runs as they are worked: which run of the text it is, the run, and which time of which repeat."""
    for part in parts:
        if isinstance(part, Run):
            yield run, part, times
            run += 1
        else:
            for time in range(1, part.times + 1):
                inside = f", in {times}" if times else ""
                yield from _visits(part.parts, run, f"time {time} of {part.times}{inside}")
            run += _runs_in(part.parts)


def _runs_in(parts: tuple[RowPart, ...]) -> int:
    return sum(1 if isinstance(part, Run) else _runs_in(part.parts) for part in parts)
