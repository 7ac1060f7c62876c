"""What the reader knows of one language: a table of phrases, and how its lines, remarks and sizes are told.

A phrase makes one token of the grammar, whatever the language. Where a language has another order of words than the
grammar, `in_order` puts the tokens into that of the grammar; each token keeps its own place in the text. The tables
themselves are `english_words` and `german_words`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from lark import Token

from mosaickit.orientation import Hand
from mosaickit.wording.terms import STITCH_NAMES, Tongue

Spelled = tuple[str, str, tuple[str, ...]]
"""The type of a token, what it stands for, and how that is spelled."""


@dataclass(frozen=True)
class Phrase:
    """Words that make one token of the grammar: its type and what it stands for."""

    words: tuple[str, ...]
    type: str
    value: str


HYPHENED = frozenset({"STITCH", "HANDED", "SHAPING"})
"""Types of phrases that people join with hyphens: "BL-sc", "left-handed". A dash in another one parts its words."""

MARKS = {
    "*": "STAR",
    "[": "LSQ",
    "]": "RSQ",
    "(": "LPAR",
    ")": "RPAR",
    "{": "LBRACE",
    "}": "RBRACE",
    ",": "_COMMA",
    ";": "_SEMI",
    ":": "_COLON",
    ".": "_DOT",
    "=": "_EQUALS",
    "×": "TIMES",
    **dict.fromkeys("-‐‑‒–—−", "_DASH"),
}
"""Punctuation marks: hyphens, dashes and the minus sign are one."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Lexicon:
    """The words of one language.

    Attributes
    ----------
    tongues : tuple
        Whose words these are.
    noise : frozenset of str
        Words that carry nothing: "in the next 4 sts" is "in next 4 sts".
    table : tuple of Spelled
        The phrases.
    token_words : mapping
        What a fault calls a token that was expected.
    run : pattern
        What stands behind the stitch of a run in the very words of the writer.
    ordinal, fused : patterns
        A number that counts places, and one that a decrease is fused to.
    in_order : function
        Puts the tokens of a line into the order of the grammar.
    sides : mapping from str to Hand
        The words for right and left in remarks.
    edge, towards, handed, last_row : patterns
        What remarks claim of the hand and of the last row; a blank stands for blanks and noise.
    differs, for_size : patterns
        A line that says why a row differs by size; and what stands before a line of one size.
    """

    tongues: tuple[Tongue, ...]
    noise: frozenset[str]
    table: tuple[Spelled, ...]
    token_words: Mapping[str, str]
    run: str
    ordinal: str
    fused: str
    in_order: Callable[[list[Token]], list[Token]]
    sides: Mapping[str, Hand]
    edge: str
    towards: str
    handed: str
    last_row: str
    differs: str
    for_size: str

    def split_words(self, phrase: str) -> tuple[str, ...]:
        """Split a phrase as a reader sees it: lower case, at spaces and hyphens, without noise."""
        return tuple(word for word in phrase.lower().replace("-", " ").split() if word not in self.noise)

    @cached_property
    def phrases(self) -> dict[str, tuple[Phrase, ...]]:
        """All phrases by their first word, the longest first."""
        found: dict[str, list[Phrase]] = {}
        for type_, value, spellings in self.table:
            for spelling in spellings:
                words = self.split_words(spelling)
                found.setdefault(words[0], []).append(Phrase(words, type_, value))
        return {
            first: tuple(sorted(phrases, key=lambda phrase: -len(phrase.words))) for first, phrases in found.items()
        }

    @cached_property
    def alone(self) -> dict[str, Phrase]:
        """The phrases of one word."""
        single = (phrase for phrases in self.phrases.values() for phrase in phrases if len(phrase.words) == 1)
        found: dict[str, Phrase] = {}
        for phrase in single:
            found.setdefault(phrase.words[0], phrase)
        return found

    @cached_property
    def longer(self) -> dict[tuple[str, str], list[Phrase]]:
        """The others by their first two words, the longest first."""
        found: dict[tuple[str, str], list[Phrase]] = {}
        for phrase in (phrase for phrases in self.phrases.values() for phrase in phrases if len(phrase.words) > 1):
            found.setdefault((phrase.words[0], phrase.words[1]), []).append(phrase)
        return found

    @cached_property
    def pieces(self) -> re.Pattern[str]:
        """What a line is taken apart by: names in quotes, colours, runs, numbers, words and marks."""
        return re.compile(self._pieces(f"{self._run}(?:,\\ {self._run})*+"), re.VERBOSE)

    @cached_property
    def pieces_without_runs(self) -> re.Pattern[str]:
        """The same where a run is taken apart."""
        return re.compile(self._pieces("(?!)"), re.VERBOSE)

    @property
    def _run(self) -> str:
        names = {re.escape(name) for tongue in self.tongues for name in STITCH_NAMES[tongue]}
        stitch = "|".join(sorted(names, key=len, reverse=True))
        return rf"(?:{stitch})(?:{self.run})(?=[,;.\]])".replace(" ", r"\ ")

    def _pieces(self, run: str) -> str:
        # What an unclosed quote passed over is one piece, or many of them would each search the rest of the line. A
        # number with a point or a thousands mark is no whole number; one that a "tog" is fused to is a decrease, as in
        # sc2tog.
        return rf"""(?P<STRING>"(?:[^"\\]|\\.){{0,200}}+"|“[^“”]{{0,200}}+”|„[^“”„]{{0,200}}+[“”])
          | (?P<UNCLOSED>"(?:[^"\\]|\\.){{0,200}}+)
          | (?P<COLOUR>\#[0-9a-fA-F]{{6}}(?!\w))
          | (?P<RUN>{run})
          | (?P<DECIMAL>[0-9]+(?:[.,'/][0-9]+)++)
          | (?P<FUSED>{self.fused})
          | (?P<ORDINAL>{self.ordinal})
          | (?P<NUMBER>[0-9]+)
          | (?P<WORD>[^\W\d_]+)
          | (?P<MARK>\S)
        """

    def may_lead(self, types: Iterable[str]) -> re.Pattern[str]:
        """Find lines that begin with a word that a token of some types may begin with."""
        wanted = set(types)
        leading = sorted(word for word, phrases in self.phrases.items() if any(p.type in wanted for p in phrases))
        return re.compile(
            rf"\W*(?:(?:{'|'.join(sorted(self.noise))})\b\W*)*(?:{'|'.join(leading)})(?![^\W\d_])", re.IGNORECASE
        )

    def remark(self, words: str) -> re.Pattern[str]:
        """Find words whatever spaces and words that carry nothing stand between them."""
        letter = r"[^\W\d_]"
        gap = rf"\s+(?:(?:{'|'.join(sorted(self.noise))})(?!{letter})\s*)*"
        return re.compile(rf"(?<!{letter}){words.replace(' ', gap)}(?!{letter})", re.IGNORECASE)
