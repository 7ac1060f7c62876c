"""What one line of written rows says, as values that hang on no terms and no other line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from lark import Token

from mosaickit.orientation import Hand, Role
from mosaickit.wording.terms import Terms

How = Literal["in all", "more", "unclear", "to end"]


@dataclass(frozen=True)
class Often:
    """How often a repeat is worked: `count` in all, once and `count` more, either, or until `count` are left."""

    how: How
    count: int
    at: Token


@dataclass(frozen=True)
class ReadRun:
    """So many stitches of one kind, or, if `often` says so, as many as the row has left."""

    word: Token
    count: int
    often: Often | None
    last: Token | None
    """The word "last", where the run claims to end the row."""


@dataclass(frozen=True)
class ReadRepeat:
    """Steps that are repeated."""

    steps: tuple[Step, ...]
    often: Often
    star: bool


Step: TypeAlias = "ReadRun | ReadRepeat"


@dataclass(frozen=True)
class Span:
    """Rows first to last."""

    first: int
    last: int
    at: Token


@dataclass(frozen=True)
class Count:
    """The stitches that a row says it has."""

    stitches: int
    at: Token


@dataclass(frozen=True)
class TermsLine:
    """The terms the rows are written in."""

    terms: Terms
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
    hand: Hand
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


@dataclass(frozen=True)
class RowLine:
    """One row or several: their numbers and colours if they say so, and their steps or the rows they repeat.

    There is no body where the line has a malformed place.
    """

    label: Span | None
    in_the_round: bool
    roles: tuple[Role, ...]
    body: tuple[Step, ...] | RowsAgain | None
    count: Count | None
    at: Token


@dataclass(frozen=True)
class RowsAgain:
    """Rows to work again."""

    rows: Span
    often: Often | None


Line: TypeAlias = TermsLine | NameLine | WorkedLine | YarnLine | FoundationLine | RowLine | None
