"""The steps of one row into its stitches, once the terms are known.

A row is measured before it is written out, so that no number in a text, however large, makes more stitches than a
chart may have.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from lark import Token
from numpy.typing import NDArray

from mosaickit.motif import LARGEST_SIDE
from mosaickit.wording.faults import Kind
from mosaickit.wording.lines import Often, ReadRepeat, ReadRun, Step
from mosaickit.wording.terms import NATIONS, STITCH_NAMES, TERMS, Terms, meaning

Say = Callable[[Kind, Token, str, str], None]
"""Takes a fault of the row: its kind, where, a sentence, and what was expected."""


@dataclass(frozen=True, eq=False)
class Worked:
    """The stitches of a row and where in the text each stands.

    Attributes
    ----------
    stitches : uint8 array, (N,)
        In working order.
    places : int array, (N, 2)
        Line and column, from 1, of the word that made each.
    """

    stitches: NDArray[np.uint8]
    places: NDArray[np.int32]


class _Row:
    def __init__(self, terms: Terms, width: int | None, say: Say) -> None:
        self.terms, self.width, self.say = terms, width, say
        self.sound = True
        self.unclear: list[Often] = []

    def fault(self, kind: Kind, at: Token, sentence: str, expected: str) -> None:
        self.sound = False
        self.say(kind, at, sentence, expected)

    # ---- what may be asked of each step alone ----------------------------------------------------------

    def check(self, steps: tuple[Step, ...], *, inside: bool, in_star: bool) -> None:
        for number, step in enumerate(steps, 1):
            ends_row = not inside and number == len(steps)
            if step.often is not None and step.often.how == "to end" and inside:
                self.fault(
                    "malformed",
                    step.often.at,
                    "only a step outside all repeats can reach to the end of the row; say how many.",
                    "a number of times or stitches",
                )
            if isinstance(step, ReadRun):
                self.check_run(step, ends_row)
                continue
            if step.often.how == "unclear":
                self.unclear.append(step.often)
            if step.star and in_star:
                self.fault(
                    "ambiguous",
                    step.often.at,
                    "a * stands within the repeat of another *, and 'from *' may mean either; put the inner in [ ].",
                    "one * at a time",
                )
            self.check(step.steps, inside=True, in_star=in_star or step.star)

    def check_run(self, run: ReadRun, ends_row: bool) -> None:
        if run.word.type == "UNKNOWN":
            self.sound = False  # the parser has said so
        elif meaning(run.word, self.terms) is None:
            self.fault(*_no_stitch(run.word, self.terms))
        if not run.count:
            self.fault(
                "malformed",
                run.word,
                "expected as many stitches as places, 1 or more: the count across never changes.",
                "a number from 1",
            )
        if run.last is not None and not ends_row:
            self.fault("malformed", run.last, "expected the end of the row after its 'last' stitches.", "'next'")

    # ---- measuring -------------------------------------------------------------------------------------

    def times(self, step: ReadRepeat, more: bool) -> int:
        often = step.often
        return often.count + (often.how == "more" or (often.how == "unclear" and more))

    def length(self, steps: tuple[Step, ...], more: bool) -> int:
        return sum(
            step.count if isinstance(step, ReadRun) else self.times(step, more) * self.length(step.steps, more)
            for step in steps
        )

    def settled(self, steps: tuple[Step, ...], more: bool, say: Say) -> list[tuple[Step, int]] | None:
        """Give each step with how many stitches or times it is; None if one cannot reach the end of the row."""
        found: list[tuple[Step, int]] = []
        done = 0
        for step in steps:
            one = 1 if isinstance(step, ReadRun) else self.length(step.steps, more)
            if step.often is None or step.often.how != "to end":
                count = step.count if isinstance(step, ReadRun) else self.times(step, more)
            elif self.width is None:
                say(
                    "count",
                    step.often.at,
                    "nothing says yet how many stitches the row has; state it at its end.",
                    "a number",
                )
                return None
            else:
                left = self.width - done - step.often.count
                count, over = divmod(left, one)
                if left < one or over:
                    say(
                        "count",
                        step.often.at,
                        f"expected room for {'a stitch' if one == 1 else f'whole repeats of {one} stitches'} to there; "
                        f"there is room for {max(left, 0)} of the row's {self.width} stitches.",
                        "whole repeats",
                    )
                    return None
            found.append((step, count))
            done += count * one
        return found

    # ---- writing out -----------------------------------------------------------------------------------

    def write_out(self, steps: list[tuple[Step, int]], more: bool) -> Worked:
        parts = []
        for step, count in steps:
            if isinstance(step, ReadRun):
                stitch = meaning(step.word, self.terms) or 0
                place = np.array([[step.word.line or 1, step.word.column or 1]], dtype=np.int32)
                parts.append(Worked(np.full(count, stitch, dtype=np.uint8), np.repeat(place, count, axis=0)))
            else:
                inner = [(one, one.count if isinstance(one, ReadRun) else self.times(one, more)) for one in step.steps]
                block = self.write_out(inner, more)
                parts.append(Worked(np.tile(block.stitches, count), np.tile(block.places, (count, 1))))
        return Worked(
            np.concatenate([part.stitches for part in parts]), np.concatenate([part.places for part in parts])
        )


def _total(settled: list[tuple[Step, int]], row: _Row, more: bool) -> int:
    return sum(count * (1 if isinstance(step, ReadRun) else row.length(step.steps, more)) for step, count in settled)


def _no_stitch(word: Token, terms: Terms) -> tuple[Kind, Token, str, str]:
    """Say what is wrong with a stitch word that these terms do not have for overlay mosaic."""
    other: Terms = TERMS[1 - TERMS.index(terms)]
    expected = ", ".join(STITCH_NAMES[terms])
    if terms == "UK" and word == "sc":
        sentence = "in UK terms sc may be what old British patterns call a slip stitch, or US sc, which is UK dc"
        return "ambiguous", word, f"{sentence}; expected {expected}.", expected
    if meaning(word, other) is not None:
        sentence = f"{word} is {NATIONS[other]} ({other}) terms, and the text is in {terms} terms; expected {expected}."
        return "ambiguous", word, sentence, expected
    return "unknown", word, f"{word} is no stitch of overlay mosaic in {terms} terms; expected {expected}.", expected


def work_out(
    steps: tuple[Step, ...],
    *,
    terms: Terms,
    width: int | None,
    stated: int | None,
    say: Say,
    note: Callable[[Token, str], None],
) -> Worked | None:
    """Turn the steps of a row into its stitches.

    Parameters
    ----------
    steps : tuple of ReadRun and ReadRepeat
        As the parser gives them.
    terms : "US" or "UK"
        What the stitch words mean.
    width : int or None
        The stitches of the row below, if known.
    stated : int or None
        The stitches that the row says it has.
    say : function
        Is told each fault.
    note : function
        Is told what the stated count settled.

    Returns
    -------
    Worked or None
        The stitches, None if there was a fault.
    """
    row = _Row(terms, stated if width is None else width, say)
    row.check(steps, inside=False, in_star=False)
    if not row.sound:
        return None
    more = False
    if row.unclear:
        settled = {more: row.settled(steps, more, _unsaid) for more in (False, True)}
        totals = {more: _total(way, row, more) for more, way in settled.items() if way is not None}
        fitting = [more for more, total in totals.items() if total == stated]
        if len(fitting) != 1:
            row.fault("ambiguous", *_unclear(row.unclear[0], totals))
            return None
        more = fitting[0]
        for often in row.unclear:
            taken = f"taken as {often.count + more} times in all"
            note(often.at, f"'{_times(often.count)}' is {taken}, as the row's count is {stated}.")
    way = row.settled(steps, more, row.fault)
    if way is None:
        return None
    total = _total(way, row, more)
    if total > LARGEST_SIDE:
        at = _first_word(steps)
        row.fault(
            "count",
            at,
            f"expected at most {LARGEST_SIDE:,} stitches in a row, found {_shown(total)}.",
            "fewer stitches",
        )
        return None
    return row.write_out(way, more)


def _unsaid(kind: Kind, at: Token, sentence: str, expected: str) -> None:
    """Take a fault of a way to read a row that is only being tried."""


def _shown(number: int) -> str:
    return f"{number:,}" if number < 10**12 else "far more"


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def _unclear(often: Often, totals: dict[bool, int]) -> tuple[Token, str, str]:
    n = often.count
    made = [f"{_shown(totals[more])} stitches" if more in totals else "no whole row" for more in (False, True)]
    expected = f"'{n} more time{'s' * (n != 1)}' or '{max(n - 1, 1)} more time{'s' * (n > 2)}'"
    sentence = (
        f"'{_times(n)}' may mean {n} in all, which makes {made[0]}, or {n + 1} in all, which makes {made[1]}; write "
        f"{expected}, or a count at the row's end that fits one of them."
    )
    return often.at, sentence, expected


def _first_word(steps: tuple[Step, ...]) -> Token:
    step = steps[0]
    return step.word if isinstance(step, ReadRun) else _first_word(step.steps)
