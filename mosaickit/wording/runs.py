"""A run of stitches, of its words: "4 BLsc", "BLsc in next 4 sts", "BLsc in each st across", and numbers that clash."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from lark import Token

from mosaickit.wording.faults import FaultKind, counted
from mosaickit.wording.lines import Often, ReadRun
from mosaickit.wording.shaping import increase


@dataclass(frozen=True, slots=True)
class HowMany:
    """How many places are spoken of: their number if it is given, and the word for them."""

    number: int | None
    place: Token | None

    @property
    def count(self) -> int:
        """Their number, one where none is given."""
        return 1 if self.number is None else self.number


@dataclass(frozen=True, slots=True)
class Where:
    """Where a run is worked: in so many places, or as far as `often` says."""

    each: bool
    often: Often | None = None
    amount: HowMany | None = None
    last: Token | None = None
    chain: Token | None = None
    ordinal: Token | None = None


def run_of(word: Token, number: Token | None, where: Where | None) -> ReadRun:
    """Make a run of its words, and say if its numbers put several stitches in one place."""
    stitches = None if number is None else int(number)
    if where is None:
        return ReadRun(word, 1 if stitches is None else stitches, bare=stitches is not None)
    wrong: tuple[FaultKind, str, str] | None = None
    count = 1
    if where.often is not None or where.ordinal is not None:
        places = "each stitch" if where.often is not None else "the chain"
        if stitches is not None and stitches != 1 and (where.each or where.ordinal is not None):
            wrong = increase(f"{stitches} in {places}")
        elif stitches is not None and not where.each and where.ordinal is None:
            sentence = f"a number and 'across' say two things; write '{word} across' or '{stitches} {word}'."
            wrong = ("ambiguous", sentence, "one of the two")
        elif where.ordinal is not None and where.ordinal != "2":
            sentence = (
                f"expected the 2nd chain from the hook, as row 1 starts with a chain of 1; found {where.ordinal}."
            )
            wrong = ("malformed", sentence, "the 2nd chain")
    elif where.amount is not None:
        count, place = where.amount.count, where.amount.place
        if where.amount.number is None and place in ("sts", "chs"):
            wrong = ("malformed", f"expected how many '{place}' that is, as in 'next 4 {place}'.", "a number")
        elif stitches is not None and stitches != count and not (where.each and stitches == 1):
            if where.each or (count and stitches > count):
                wrong = increase(f"{stitches} in {'each' if where.each else counted(count, 'place')}")
            else:
                sentence = (
                    "expected as many stitches as places, 1 or more: the count across never changes; write "
                    f"'{word} in next {max(count, stitches)} sts' or '{word} in next {counted(stitches, 'st')}'."
                )
                wrong = ("malformed", sentence, "as many stitches as places")
        elif stitches is not None and stitches > 1 and where.each:
            wrong = increase(f"{stitches} in each")
    return ReadRun(
        word,
        count,
        where.often,
        where.last,
        where.chain,
        first_chain=where.ordinal is not None,
        wrong=wrong,
    )


def runs_of(words: Token, number: Token | None) -> list[ReadRun]:
    """Take runs in the writer's words apart; a number before them belongs to the first."""
    found = []
    column, line = words.column or 1, words.line
    for text in str(words).split(", "):
        name, where, count = _run_words(text)
        word = Token("STITCH", name, None, line, column)
        last = None
        if where == "last":
            last = Token("LAST", "last", None, line, column + text.rindex(" l") + 1)
        if number is not None:
            found.append(run_of(word, number, Where(False, None, HowMany(count, None), last)))
            number = None
        else:
            found.append(ReadRun(word, count, None, last))
        column += len(text) + len(", ")
    return found


@lru_cache(maxsize=4096)
def _run_words(text: str) -> tuple[str, str, int]:
    # as all languages have it: the stitch, "in", whether next or last, and a number unless it is one
    name, _, place = text.partition(" in ")
    number = re.search(r"[0-9]+", place)
    return name, "last" if re.search(r"\b(?:last|letzten?)\b", place) else "next", int(number[0]) if number else 1
