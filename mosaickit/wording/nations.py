"""Whose terms a text is written in: as it says, as it is told, or as the words give away that only one of them has."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from lark import Token

from mosaickit.wording.faults import Faults
from mosaickit.wording.languages import terms_or_language
from mosaickit.wording.lines import TermsLine
from mosaickit.wording.terms import STITCH_NAMES, TERMS, Terms, Tongue

_TWO_MEANINGS = {
    "sc": "is a stitch of its own in US terms, but a slip stitch in old UK ones",
    "dc": "is a double crochet in US terms, but what US terms call sc in UK ones",
}
_CURE = "say 'Written in US terms' or 'Written in UK terms' on the first line, or give `terms`."


def stitch_words(found: list[Token]) -> Iterator[tuple[str, Token]]:
    """Give the words for stitches in the tokens of a row, and where they stand."""
    for token in found:
        if token.type == "STITCH":
            yield str(token), token
        elif token.type == "RUN":
            yield from ((run.partition(" ")[0], token) for run in dict.fromkeys(str(token).split(", ")))


def settle_terms(told: Tongue | None, line: TermsLine | None, found: Mapping[str, Token], faults: Faults) -> Tongue:
    """Settle the terms of a text, or that it is in another language.

    Parameters
    ----------
    told : "US", "UK" or another language, optional
        What the reader was told.
    line : TermsLine, optional
        What it says itself.
    found : mapping from word to Token
        The words for stitches in it, with the place of each.
    faults : Faults
        Takes a fault if they do not agree, or do not settle it.
    """
    stated = line.terms if line else None
    if told and line and told != line.terms:
        says, wanted = terms_or_language(line.terms), terms_or_language(told)
        sentence = f"the text says that it is in {says}, but it is to be read in {wanted}."
        faults.say("ambiguous", line.at, None, sentence, wanted)
    if told or stated:
        return told or stated or "US"
    only: dict[Terms, Token] = {}
    words: dict[Terms, str] = {}
    for word, token in found.items():
        knowing = [terms for terms in TERMS if word in STITCH_NAMES[terms]]
        if len(knowing) == 1 and word not in ("sc", "dc"):
            only.setdefault(knowing[0], token)
            words.setdefault(knowing[0], word)
    doubtful = next((word for word in ("sc", "dc") if word in found), None)
    if len(only) == 2:
        sentence = f"{words['US']} is a US word and {words['UK']} a UK word: say on the first line which it is."
        faults.say("ambiguous", only["UK"], None, sentence, "one of the two terms")
    elif not only and doubtful is not None:
        sentence = f"{doubtful} {_TWO_MEANINGS[doubtful]}; {_CURE}"
        faults.say("ambiguous", found[doubtful], None, sentence, "the terms")
    return next(iter(only), "UK" if doubtful == "dc" else "US")
