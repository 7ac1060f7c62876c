"""What one line of written rows says, as values that depend on no terms and no other line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from lark import Token

from mosaickit.orientation import Hand, Role
from mosaickit.wording.faults import FaultKind, counted
from mosaickit.wording.terms import Tongue

How = Literal["in all", "more", "unclear", "to end"]


@dataclass(frozen=True)
class Often:
    """How often a repeat is worked: `count` in all, once and `count` more, either, or until `count` are left."""

    how: How
    count: int
    at: Token

    @property
    def words(self) -> str:
        """What the text calls it, where that may be read in two ways."""
        if self.at.type == "TWICE":
            return "once" if self.count == 1 else "twice"
        return counted(self.count, "time")


@dataclass(frozen=True, slots=True)
class ReadRun:
    """So many stitches of one kind, or, if `often` says so, as many as the row has left."""

    word: Token
    count: int
    often: Often | None = None
    last: Token | None = None
    """The word "last", where the run claims to end the row."""
    chain: Token | None = None
    """The word "ch", where the run is worked into the foundation chain."""
    first_chain: bool = False
    """Whether that is the second chain from the hook, in which a first row begins."""
    bare: bool = False
    """Whether it is a number and a stitch and no more, as a count at the end of a row is."""
    wrong: tuple[FaultKind, str, str] | None = None
    """What is wrong with its numbers: kind, sentence, what was expected."""


@dataclass(frozen=True)
class ReadRepeat:
    """Steps that are repeated."""

    steps: tuple[ReadStep, ...]
    often: Often
    star: bool


ReadStep: TypeAlias = "ReadRun | ReadRepeat"


@dataclass(frozen=True)
class Span:
    """Rows first to last."""

    first: int
    last: int
    at: Token


@dataclass(frozen=True)
class Count:
    """The stitches that a row says it has, and how many of each kind if it says that."""

    stitches: int
    at: Token
    kinds: tuple[tuple[Token, int], ...] = ()
    sound: bool = True
    """Whether what stands there is a count at all."""


@dataclass(frozen=True)
class TermsLine:
    """The terms the rows are written in."""

    terms: Tongue
    at: Token


@dataclass(frozen=True)
class NameLine:
    """The pattern's name."""

    name: str
    at: Token


@dataclass(frozen=True)
class WorkedLine:
    """How the work goes."""

    in_the_round: bool
    hand: Hand | None
    at: Token


@dataclass(frozen=True)
class YarnsLine:
    """The heading above the yarns."""

    at: Token


@dataclass(frozen=True)
class MultipleLine:
    """What the stitches are a multiple of, how many stand beside it, and how many chains more the foundation has."""

    stitches: int
    plus: int
    more_chains: int | None
    at: Token


@dataclass(frozen=True)
class YarnLine:
    """The yarns of a role: (row from which on, name, colour)."""

    role: Role
    changes: tuple[tuple[int, str, str], ...]
    at: Token


@dataclass(frozen=True)
class FoundationLine:
    """The foundation chain."""

    role: Role | None
    chains: Count
    join: Token | None


@dataclass(frozen=True)
class RowLine:
    """One row or several: their numbers and colours if they say so, and their steps or the rows they repeat.

    There is no body where the line has a malformed place.
    """

    label: Span | None
    in_the_round: bool
    roles: tuple[Role, ...]
    body: tuple[ReadStep, ...] | RowsAgain | None
    count: Count | None
    at: Token
    change: tuple[str, Token] | None = None
    """The name of the yarn that the row changes to."""
    tail: int = 0
    """How many of the last steps may be the row's count instead: they stand after a full stop, as "4 BLsc" alone."""


@dataclass(frozen=True)
class RowsAgain:
    """Rows to work again."""

    rows: Span
    often: Often | None


ReadLine: TypeAlias = (
    TermsLine | NameLine | WorkedLine | YarnsLine | YarnLine | FoundationLine | MultipleLine | RowLine | None
)


def count_of(steps: tuple[ReadStep, ...]) -> Count:
    """Take steps for the count of a row: "6 BLsc, 2 FLdc"; what is more than numbers and stitches is no count."""
    runs = [step for step in steps if isinstance(step, ReadRun) and step.bare]
    at = first_word(steps)
    kinds = tuple((run.word, run.count) for run in runs)
    return Count(sum(run.count for run in runs), at, kinds, sound=len(runs) == len(steps))


def first_word(steps: tuple[ReadStep, ...]) -> Token:
    """Give the first stitch word of some steps."""
    step = steps[0]
    return step.word if isinstance(step, ReadRun) else first_word(step.steps)
