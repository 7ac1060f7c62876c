"""A pattern in several sizes, as an editor reads it: the figures of each size, and whether every size has its numbers.

A page has a page for each of its sizes. Of an author's text each size is picked as a maker reads it, the first number
of "36 (40, 44)" for the first size, and read as a text of its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from mosaickit.publish.editing.draft import Draft, SizeFigures
from mosaickit.publish.editing.findings import EditKind, Marked
from mosaickit.publish.editing.measures import in_cm
from mosaickit.wording import NAMED_SIZES, in_series

MULTIPLE_SIZES = "Multiple Sizes, dailyhandmade.com: smallest first, the rest in brackets"

_NUMBER = r"\d+(?:[.,]\d+)?(?:\s?[¼½¾])?"
_SERIES = re.compile(rf"(?<![\d.,#])({_NUMBER}) ?\(({_NUMBER}(?:, ?{_NUMBER})*)\)")
_QUOTED = re.compile(r'"(?:[^"\\]|\\.)*"')
_ONLY_FOR = re.compile(r"\s*(?:for )?size ([^:,]{1,30})[:,]\s*(.*)", re.IGNORECASE)


def names_in(text: str) -> tuple[str, ...]:
    """Find the sizes that a text names, the first first; none if it is in one size.

    Examples
    --------
    >>> names_in("A mat"), names_in("Sizes: S (M, L).")
    ((), ('S', 'M', 'L'))
    """
    found = NAMED_SIZES.findall(text)
    # "Finished size: 20 (24) cm" names none
    if len(found) != 1:
        return ()
    return (found[0][0].strip(), *(name.strip() for name in found[0][1].split(",")))


def of_one_size(text: str, names: tuple[str, ...], place: int) -> str:
    """Pick what a text says for one of its sizes, line by line.

    Examples
    --------
    >>> of_one_size("Width: 20 (24) cm", ("S", "M"), 1)
    'Width: 24 cm'
    """
    return "\n".join(_line_for(line, names, place) for line in text.split("\n"))


def _line_for(line: str, names: tuple[str, ...], place: int) -> str:
    if NAMED_SIZES.fullmatch(line):
        return ""
    only = _ONLY_FOR.fullmatch(line)
    if only is not None and only[1] in names:
        if only[1] != names[place]:
            return ""
        line = only[2]

    def own(match: re.Match[str]) -> str:
        values = _values(match)
        return values[place] if len(values) == len(names) else match[0]

    return _SERIES.sub(own, line)


def _values(series: re.Match[str]) -> list[str]:
    return [series[1], *(each.strip() for each in re.split(r",(?!\d)|, ", series[2]))]


# ---- kinds -------------------------------------------------------------------------------------------------


def _out_of_order(draft: Draft) -> Iterator[Marked]:
    areas = [(own.name, _area(own)) for own in draft.sized]
    for (before, one), (after, other) in pairwise(areas):
        if one is not None and other is not None and other < one:
            yield (
                draft.spot("size"),
                f"Size {after} is smaller than size {before}, which stands before it.",
                f"Put the smallest first, as {in_series([name for name, _ in sorted(areas, key=_by_area)])}.",
            )
            return


def _by_area(named: tuple[str, float | None]) -> float:
    return named[1] or 0.0


def _area(own: SizeFigures) -> float | None:
    """Give how large a size is, by its stitches if they are known, or else as is stated."""
    if own.extent is not None:
        return float(own.extent.rows * own.extent.stitches)
    stated = [in_cm(size) for size in own.sizes]
    return stated[0][0] * stated[0][1] if stated else None


def _numbers(draft: Draft) -> Iterator[Marked]:
    sizes = len(draft.sized)
    for said in draft.in_series if sizes > 1 else ():
        for match in _SERIES.finditer(_QUOTED.sub("", said.text)):
            values = _values(match)
            if len(values) != sizes:
                yield (
                    said.spot,
                    f"{match[0]} are {len(values)} numbers, and the pattern has {sizes} sizes.",
                    "Give a number for each size, or one that holds for all.",
                )


SIZE_KINDS: tuple[EditKind, ...] = (
    EditKind(
        "sizes out of order", "error", "Sizes go from the smallest to the largest.", MULTIPLE_SIZES, _out_of_order
    ),
    EditKind(
        "not a number for each size", "error", "What differs by size has as many numbers as there are sizes.",
        MULTIPLE_SIZES, _numbers,
    ),
)  # fmt: skip
"""What is looked for in a pattern of several sizes."""
