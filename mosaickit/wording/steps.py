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
from mosaickit.wording.faults import FaultKind, counted
from mosaickit.wording.lines import Often, ReadRepeat, ReadRun, ReadStep, first_word
from mosaickit.wording.terms import NATIONS, STITCH_NAMES, TERMS, Terms, Tongue, meaning

Say = Callable[[FaultKind, Token, str, str], None]
"""Takes a fault of the row: its kind, where, a sentence, and what was expected."""


@dataclass(frozen=True, eq=False)
class WorkedRow:
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
    def __init__(self, row: int, in_the_round: bool, terms: Tongue, width: int | None, say: Say) -> None:
        self.row, self.in_the_round = row, in_the_round
        self.terms, self.width, self.say = terms, width, say
        self.sound = True
        self.unclear: list[Often] = []

    def fault(self, kind: FaultKind, at: Token, sentence: str, expected: str) -> None:
        self.sound = False
        self.say(kind, at, sentence, expected)

    # ---- what may be asked of each step alone ----------------------------------------------------------

    def check(self, steps: tuple[ReadStep, ...], *, inside: bool, in_star: bool) -> None:
        for number, step in enumerate(steps, 1):
            first, ends_row = not inside and number == 1, not inside and number == len(steps)
            if step.often is not None and step.often.count < 0:
                self.fault("malformed", step.often.at, "expected how many last stitches that is.", "a number")
            elif step.often is not None and step.often.how == "to end" and inside:
                self.fault(
                    "malformed",
                    step.often.at,
                    "only a step outside all repeats can reach to the end of the row; say how many.",
                    "a number of times or stitches",
                )
            if isinstance(step, ReadRun):
                self.check_run(step, first, ends_row)
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

    def check_run(self, run: ReadRun, first: bool, ends_row: bool) -> None:
        if run.word.type == "UNKNOWN":
            self.sound = False  # the parser has said so
        elif meaning(run.word, self.terms) is None:
            self.fault(*no_stitch(run.word, self.terms))
        if run.wrong is not None:
            kind, sentence, expected = run.wrong
            self.fault(kind, run.word, sentence, expected)
        elif not run.count:
            self.fault(
                "malformed",
                run.word,
                "expected as many stitches as places, 1 or more: the count across never changes.",
                "a number from 1",
            )
        if run.chain is not None and self.row > 1:
            self.fault("malformed", run.chain, "only row 1 is worked into chains; expected stitches.", "'sts'")
        elif run.first_chain and (self.in_the_round or not first):
            how = "in the round row 1 begins in the first chain" if self.in_the_round else "there a row begins"
            self.fault("malformed", run.chain or run.word, f"{how}; write 'next st'.", "'next st'")
        if run.last is not None and not ends_row:
            self.fault("malformed", run.last, "expected the end of the row after its 'last' stitches.", "'next'")

    # ---- measuring -------------------------------------------------------------------------------------

    def times(self, step: ReadRepeat, more: bool) -> int:
        often = step.often
        return often.count + (often.how == "more" or (often.how == "unclear" and more))

    def length(self, steps: tuple[ReadStep, ...], more: bool) -> int:
        return sum(
            step.count if isinstance(step, ReadRun) else self.times(step, more) * self.length(step.steps, more)
            for step in steps
        )

    def settled(self, steps: tuple[ReadStep, ...], more: bool, say: Say) -> list[tuple[ReadStep, int]] | None:
        """Give each step with how many stitches or times it is; None if one cannot reach the end of the row."""
        found: list[tuple[ReadStep, int]] = []
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
                        f"there is room for {max(left, 0)} of the row's {counted(self.width, 'stitch', 'stitches')}.",
                        "whole repeats",
                    )
                    return None
            found.append((step, count))
            done += count * one
        return found

    # ---- writing out -----------------------------------------------------------------------------------

    def write_out(self, steps: list[tuple[ReadStep, int]], more: bool) -> WorkedRow:
        parts: list[WorkedRow] = []
        runs: list[tuple[int, int, int, int]] = []  # neighbouring runs, which are written out at once
        for step, count in steps:
            if isinstance(step, ReadRun):
                stitch = meaning(step.word, self.terms) or 0
                runs.append((stitch, step.word.line or 1, step.word.column or 1, count))
                continue
            parts += _of_runs(runs)
            runs = []
            inner = [(one, one.count if isinstance(one, ReadRun) else self.times(one, more)) for one in step.steps]
            block = self.write_out(inner, more)
            parts.append(WorkedRow(np.tile(block.stitches, count), np.tile(block.places, (count, 1))))
        parts += _of_runs(runs)
        return WorkedRow(
            np.concatenate([part.stitches for part in parts]), np.concatenate([part.places for part in parts])
        )


def _of_runs(runs: list[tuple[int, int, int, int]]) -> list[WorkedRow]:
    if not runs:
        return []
    table = np.array(runs, dtype=np.int32)
    counts = table[:, 3]
    return [WorkedRow(np.repeat(table[:, 0].astype(np.uint8), counts), np.repeat(table[:, 1:3], counts, axis=0))]


def _total(settled: list[tuple[ReadStep, int]], row: _Row, more: bool) -> int:
    return sum(count * (1 if isinstance(step, ReadRun) else row.length(step.steps, more)) for step, count in settled)


def no_stitch(word: Token, terms: Tongue) -> tuple[FaultKind, Token, str, str]:
    """Say what is wrong with a stitch word that these terms do not have for overlay mosaic."""
    expected = ", ".join(STITCH_NAMES[terms])
    if terms == "de":
        return "unknown", word, f"{word} is no stitch of overlay mosaic in German; expected {expected}.", expected
    other: Terms = TERMS[1 - TERMS.index(terms)]
    if terms == "UK" and word == "sc":
        sentence = "in UK terms sc may be what old British patterns call a slip stitch, or US sc, which is UK dc"
        return "ambiguous", word, f"{sentence}; expected {expected}.", expected
    if meaning(word, other) is not None:
        sentence = f"{word} is a word of {NATIONS[other]} ({other}) terms, and the text is in {terms} terms"
        return "ambiguous", word, f"{sentence}; expected {expected}.", expected
    return "unknown", word, f"{word} is no stitch of overlay mosaic in {terms} terms; expected {expected}.", expected


def work_out(
    steps: tuple[ReadStep, ...],
    *,
    row: int,
    in_the_round: bool,
    terms: Tongue,
    width: int | None,
    stated: int | None,
    say: Say,
    note: Callable[[Token, str], None],
) -> WorkedRow | None:
    """Turn the steps of a row into its stitches.

    Parameters
    ----------
    steps : tuple of ReadRun and ReadRepeat
        As the parser gives them.
    row : int
        The row's number, from 1: only row 1 is worked into chains.
    in_the_round : bool
        Whether the work goes in the round.
    terms : "US", "UK" or another language
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
    WorkedRow or None
        The stitches, None if there was a fault.
    """
    work = _Row(row, in_the_round, terms, stated if width is None else width, say)
    work.check(steps, inside=False, in_star=False)
    if not work.sound:
        return None
    more = False
    if work.unclear:
        settled = {more: work.settled(steps, more, unsaid) for more in (False, True)}
        totals = {more: _total(way, work, more) for more, way in settled.items() if way is not None}
        fitting = [more for more, total in totals.items() if total == stated]
        if len(fitting) != 1:
            work.fault("ambiguous", *_unclear(work.unclear[0], totals))
            return None
        more = fitting[0]
        for often in work.unclear:
            taken = f"taken as {counted(often.count + more, 'time')} in all"
            note(often.at, f"'{often.words}' is {taken}, as the row's count is {stated}.")
    way = work.settled(steps, more, work.fault)
    if way is None:
        return None
    total = _total(way, work, more)
    if total > LARGEST_SIDE:
        work.fault(
            "count",
            first_word(steps),
            f"expected at most {LARGEST_SIDE:,} stitches in a row, found {_shown(total)}.",
            "fewer stitches",
        )
        return None
    return work.write_out(way, more)


def unsaid(kind: FaultKind, at: Token, sentence: str, expected: str) -> None:
    """Take a fault of a way to read a row that is only being tried."""


def _shown(number: int) -> str:
    return f"{number:,}" if number < 10**12 else "far more"


def _unclear(often: Often, totals: dict[bool, int]) -> tuple[Token, str, str]:
    n = often.count
    made = [
        f"{_shown(totals[more])} {'stitch' if totals[more] == 1 else 'stitches'}" if more in totals else "no whole row"
        for more in (False, True)
    ]
    expected = f"'{counted(n, 'time')} in all' or '{n} more {'time' if n == 1 else 'times'}'"
    sentence = (
        f"'{often.words}' may mean {n} in all, which makes {made[0]}, or {n + 1} in all, which makes {made[1]}; write "
        f"{expected}, or a count at the row's end that fits one of them."
    )
    return often.at, sentence, expected
