"""What would change the count across, or turn the work, in the tokens of a row: increases, decreases, chains, spaces.

No row of this fabric does so. It is said by its own name, as a maker who writes it means it, not as a misspelling.
"""

from __future__ import annotations

from typing import NamedTuple

from lark import Token

from mosaickit.wording.faults import FaultKind

MEANINGS = {
    "increase": "works more than one stitch into one place",
    "group": "is a group of stitches in one place",
    "decrease": "works stitches together, so that there are fewer",
    "skip": "leaves a stitch of the row below without one; what is behind an overlay stitch is skipped without a word",
    "space": "is a gap under chains, which has no stitch to work into",
    "chain": "makes chains within the row; a chain of 1 that starts a row is no stitch and stands under 'Notes:'",
    "turn": "turns the work, but its right side faces you in every row",
    "wrong side": "is the back of the work, but the right side faces you in every row",
}
"""What changes the count across or turns the work, which nothing in this fabric does, as the end of a sentence."""

NEVER = "the count across never changes in this fabric: each stitch of the row below takes one stitch"

_ENDS_STEP = {"_SEMI", "_COMMA", "_THEN", "_COLON", "_DOT"}
_BEFORE_PLACES = {"IN", "EACH", "NUMBER", "NEXT", "LAST", "ORDINAL"}
_NO_COUNT = {"turn", "wrong side", "chain"}


def increase(what: str) -> tuple[FaultKind, str, str]:
    """Give what is wrong with several stitches in one place: the kind of the fault, a sentence, what was expected."""
    return "shaping", f"{what} is an increase, but {NEVER}.", "one stitch in each place"


class Shaping(NamedTuple):
    """What changes the count in a step."""

    token: Token
    """The word that does."""
    sentence: str
    """What it does and why no row does so, as the end of a sentence."""
    stop: int
    """The token behind the step."""


def shaping_around(tokens: list[Token], k: int) -> Shaping | None:
    """Find what changes the count in the step that a token stands in, if anything does there."""
    start, stop = _step_around(tokens, k)
    spaces = [number for number in range(start, stop) if tokens[number] == "space"]
    numbered = False
    for number in range(start, stop):
        key = _shape_at(tokens, start, number, stop, numbered, bool(spaces) and spaces[-1] >= number)
        numbered = numbered or tokens[number].type == "NUMBER"
        if key:
            law = "" if key in _NO_COUNT else f"; {NEVER}"
            return Shaping(tokens[number], f"{MEANINGS[key]}{law}", stop)
    return None


def _shape_at(tokens: list[Token], start: int, number: int, stop: int, numbered: bool, spaced: bool) -> str:
    """Tell what a token of a step does to the count, as a key of `MEANINGS`; empty if nothing.

    Whether a number stands before it in the step, and a space under chains at it or behind, is known to the caller.
    """
    before = tokens[number - 1].type if number > start else ""
    token, after = tokens[number], tokens[number + 1].type if number + 1 < stop else ""
    if token.type == "SHAPING":
        return str(token)
    if token.type == "CH":
        if spaced:
            return "space"
        return "" if before in _BEFORE_PLACES and after != "NUMBER" else "chain"
    if token.type == "IN":
        return "increase" if (numbered and after == "NUMBER") or before in ("RPAR", "RSQ", "RBRACE") else ""
    return ""


def _step_around(tokens: list[Token], k: int) -> tuple[int, int]:
    """Give the tokens of the step that a token stands in: first, and behind the last."""
    start = k
    while start and tokens[start - 1].type not in _ENDS_STEP:
        start -= 1
    stop = k
    while stop < len(tokens) and (stop == k or tokens[stop].type not in _ENDS_STEP):
        stop += 1
    return start, stop
