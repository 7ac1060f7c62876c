"""What is wrong with a text of written rows: each fault with its place, all faults in one error.

Lines and columns count from 1, columns in characters of the line.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from lark import Token

from mosaickit.errors import WordingError

FaultKind = Literal["malformed", "unknown", "shaping", "ambiguous", "count", "row", "colour"]
"""What sort of fault it is.

malformed: words in an order that says nothing; unknown: a word that is none of the trade's or of these terms;
shaping: what changes the count across or turns the work, as no row of this fabric does; ambiguous: words that say two
things; count: a row whose count is not what it states or not that of the row below;
row: row numbers that are missing, doubled or not there; colour: colours that do not alternate.
"""

LONGEST_TEXT = 4_000_000
"""A text has at most this many characters, about as much as 400 rows of 600 stitches without a repeat."""

MOST_WORDS = 250_000
"""A text has at most so many words, numbers, marks and lines, which bounds time and memory.

Runs in the writer's words, as "BLsc in next 4 sts, FLdc in next st", count as one; a remark that looks like a line
above the rows counts as `A_TRIED_LINE` more.
"""

A_TRIED_LINE = 20

TOO_MANY_WORDS = (
    f"A text has at most {MOST_WORDS:,} words, numbers, marks and lines; this one has more: read its parts one by one."
)

MOST_FAULTS = 1000
"""Reading stops at so many: a text with more is no pattern."""

MOST_FAULTS_SHOWN = 10
"""The error's own text shows so many."""


def counted(number: int, one: str, many: str | None = None) -> str:
    """Give a number with its noun.

    Examples
    --------
    >>> counted(1, "stitch", "stitches"), counted(2, "row")
    ('1 stitch', '2 rows')
    """
    return f"{number:,} {one if number == 1 else many or one + 's'}"


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong.

    Attributes
    ----------
    kind : str
        See `FaultKind`.
    line, column : int
        Where, from 1.
    row : int or None
        The row it belongs to, from 1, if it belongs to one.
    sentence : str
        What was expected, what came and what would mend it.
    expected : str
        What was expected there, in a few words.
    """

    kind: FaultKind
    line: int
    column: int
    row: int | None
    sentence: str
    expected: str

    def __str__(self) -> str:
        row = f" (row {self.row})" if self.row is not None else ""
        return f"Line {self.line}, column {self.column}{row}: {self.sentence}"


def error_of(faults: list[Fault]) -> WordingError:
    """Make the error of one fault or more."""
    ordered = tuple(sorted(faults, key=lambda fault: (fault.line, fault.column)))
    if len(ordered) == 1:
        return WordingError(str(ordered[0]), ordered)
    more = len(ordered) - MOST_FAULTS_SHOWN
    tail = [f"and {more} more, all in `faults`."] if more > 0 else []
    shown = [f"The text has {len(ordered)} faults.", *map(str, ordered[:MOST_FAULTS_SHOWN]), *tail]
    return WordingError("\n".join(shown), ordered)


class Faults:
    """The faults of a text that is being read, as they are met."""

    def __init__(self) -> None:
        self.all: list[Fault] = []

    def __bool__(self) -> bool:
        return bool(self.all)

    def say(self, kind: FaultKind, at: Token, row: int | None, sentence: str, expected: str) -> None:
        """Take a fault: its kind, where, its row, a sentence, and what was expected."""
        self.take([Fault(kind, at.line or 1, at.column or 1, row, sentence, expected)])

    def take(self, faults: list[Fault]) -> None:
        """Take faults; there may be too many to go on."""
        self.all += faults
        if len(self.all) >= MOST_FAULTS:
            raise error_of(self.all[:MOST_FAULTS])
