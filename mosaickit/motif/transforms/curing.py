"""Curing: a picture that could be worked and comes out unworkable is refused, with cures that were tried.

A transform hands over how it does the same with other arguments; these are tried one by one and together, and with
rows added.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import chain, combinations
from typing import Any

from mosaickit.cures import Cure, cures_in_words, simplest
from mosaickit.errors import MotifError, OptionError, UnworkableError, number_of, true_or_false
from mosaickit.motif.motif import Motif
from mosaickit.motif.rules.checking import check
from mosaickit.motif.rules.deciding import FIRST_ROW, LAST_ROW, WORKABLE
from mosaickit.motif.transforms.moving import Colours, padded

Again = Callable[..., Motif]
"""Does the same to a motif, given first, with some other arguments, whether it can be worked or not."""


def settled(
    before: Motif,
    after: Motif,
    must_work: bool,
    what: str,
    again: Again,
    others: Iterable[Mapping[str, Any]],
    why: str = "",
    taller: bool = False,
) -> Motif:
    """Give `after`, unless it lost the workability of `before` and has to keep it.

    `others` are arguments that may cure it, to be tried one by one and together; with rows added to the result; and, if
    it may be `taller`, with a row added on top of the motif.
    """
    if true_or_false("must_work", must_work) and check(before, rules=WORKABLE).ok:
        report = check(after, rules=WORKABLE)
        if not report.ok:
            cures = simplest(_cures(before, again, list(others), taller))
            raise UnworkableError(
                f"{what} makes a picture that cannot be worked. {why}{cures_in_words(cures)} (Or take it all the "
                f"same, with must_work=False.) What is wrong: {report.errors_in_words}",
                report,
                cures,
            )
    return after


def _with_rows(motif: Motif, rows: Mapping[str, int]) -> Motif:
    return padded(motif, rows.get("top", 0), rows.get("bottom", 0), 0, 0, "keep")


def _cures(motif: Motif, again: Again, others: list[Mapping[str, Any]], taller: bool) -> list[Cure]:
    """Find what cures a move, without added rows first."""
    together = chain.from_iterable(combinations(others, n) for n in range(len(others) + 1))
    cures = []
    for options in ({name: value for other in some for name, value in other.items()} for some in together):
        for before in ({}, {"top": 1}) if taller else ({},):
            try:
                result = again(_with_rows(motif, before), **options)
                ends = {rule.name for rule, _ in check(result, rules=WORKABLE).masks}
                after = {side: 1 for side, rule in (("bottom", FIRST_ROW), ("top", LAST_ROW)) if rule.name in ends}
                if check(_with_rows(result, after), rules=WORKABLE).ok:
                    needed = {**options, "must_work": False} if after else options
                    cures.append(Cure(needed, before, after))
            except (MotifError, OptionError):  # larger than a motif may be, or arguments that do not go together
                continue
    return sorted(cures, key=lambda cure: (len(cure.after), len(cure.before)))


def say_odd(rows: int) -> str:
    """Say why colours that keep do not fit where an odd number of rows comes round."""
    return f"{number_of(rows, 'row')} is an odd number, so what comes around is on the other row colours. "


def other_way(colours: Colours) -> Colours:
    """Give the other of the two ways with colours."""
    return "swap" if colours == "keep" else "keep"
