"""Rounds in words as somebody else writes them: each read by itself, and all that is wrong with them at once.

`reading` reads what `writing` writes and stops at the first fault, since all of such a text means something. Here what
stands above the rounds is an author's own, a round may leave out its count, and one that cannot be read hides no other.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any, NamedTuple

from mosaickit.centre.reading import _NEXT_YARN, _Line, _read_round, _swap, _yarns
from mosaickit.centre.stitches import CentreChart
from mosaickit.centre.working import work
from mosaickit.colours import Yarns
from mosaickit.errors import OptionError, StitchError, WordingError, of_kind, one_of, shortly, text
from mosaickit.orientation import HANDS, Hand, Role
from mosaickit.wording import TERMS, Fault, Terms

_LOOSE = re.compile(
    rf"(?:Rnd|Round) (?P<number>[1-9]\d{{0,3}}) \((?P<colour>MC|CC)\): (?:change to {_NEXT_YARN}; )?"
    r"(?P<words>.+?)\.?(?:\s*[(\[](?P<count>\d{1,6})(?: sts?| stitches)?[)\]])?\.?"
)
_NUMBER = re.compile(r"\s*\w+ ([1-9]\d{0,3})\b")


class RoundsRead(NamedTuple):
    """What written rounds say."""

    chart: CentreChart | None
    """Their stitches, if all of them can be read."""
    terms: Terms
    """Those they are written in."""
    faults: tuple[Fault, ...]
    """What is wrong, at most one fault a round."""
    trouble: str
    """Why no hook can work them; empty if one can, or if they cannot be read."""


def read_rounds(
    rounds: Iterable[tuple[int, str]],
    *,
    terms: Terms | None = None,
    yarns: Yarns | None = None,
    hand: Hand = "right",
    above: str = "",
) -> RoundsRead:
    """Read written rounds, each by itself.

    Parameters
    ----------
    rounds : (line, text) pairs
        Each round with its label, and the number of its line.
    terms : "US" or "UK", optional
        The terms of the stitches; left out, they are those of the ring: 8 sc are US, 8 dc UK terms.
    yarns : Yarns, optional
        Where yarns change. Left out, they are those that `above` tells; without any, changes are not judged.
    hand : "right" or "left"
        The hand of the chart.
    above : str
        What stands above the rounds, with a line for the yarns of each colour.

    Raises
    ------
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> found = read_rounds([(1, "Rnd 1 (MC): 8 sc in ring."), (2, "Rnd 2 (CC): BLsc in next st, 3 BLsc in corner st")])
    >>> print(found.faults[0].sentence)
    round 1 has 6 stitches left.
    """
    given: Any = rounds
    told = list(given) if isinstance(given, Iterable) and not isinstance(given, str | bytes) else []
    if (not told and given != []) or not all(
        isinstance(each, tuple) and [*map(type, each)] == [int, str] for each in told
    ):
        raise OptionError(f"`rounds` must be pairs of a line's number and its text, as a list; got {shortly(given)}.")
    if terms is not None:
        one_of("terms", terms, TERMS)
    of_kind("yarns", yarns, Yarns, or_none=True)
    one_of("hand", hand, HANDS)
    if yarns is None:
        yarns = _yarns_above(text("above", above))
    if terms is None:
        terms = "UK" if any(re.search(r"\b8 dc in (?:the )?ring", words) for _, words in told) else "US"
    colour = _LOOSE.fullmatch(told[0][1].strip()) if told else None
    first: Role = "CC" if colour and colour["colour"] == "CC" else "MC"
    made, number = [], 0
    faults: list[Fault] = []
    labels = (_NUMBER.match(words) for _, words in told)
    numbers = [None if label is None else int(label[1]) for label in labels]
    for (place, words), said, following in zip(told, numbers, [*numbers[1:], None], strict=True):
        line, number = _Line(place, words.strip()), number + 1
        try:
            if said is not None and said != number:
                wanted = number
                # a label that is wrong, or else rounds that are missing or there twice: those after it count on from it
                number = number if following == number + 1 else said
                line.round = said
                line.refuse("row", 4, f"expected round {wanted}, found {said}.", f"Rnd {wanted}")
            made.append(_read_round(line, number, first, yarns, terms, _LOOSE))
        except WordingError as error:
            faults += error.faults
    if faults or not made:
        return RoundsRead(None, terms, tuple(faults), "")
    colours = tuple(first if at % 2 == 0 else _swap(first) for at in range(len(made)))
    chart = CentreChart(tuple(made), colours, yarns or Yarns(), hand)
    try:
        work(chart)
    except StitchError as error:
        return RoundsRead(chart, terms, (), str(error))
    return RoundsRead(chart, terms, (), "")


def _yarns_above(told: str) -> Yarns | None:
    """Read the yarns that stand above rounds, a line for each colour; None if they are not told so."""
    try:
        return _yarns([_Line(number, line.strip()) for number, line in enumerate(told.splitlines(), 1)])
    except WordingError:
        return None
