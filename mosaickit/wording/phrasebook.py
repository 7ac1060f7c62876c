"""What the writer says in one language: every word and sentence of written rows, one table for each language.

The tables themselves are `english` and `german`. A sentence holds its numbers and names in braces. Where a style has
words of its own, a pair of texts holds them in the order of `STYLES`: the short style first, then plain words.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from mosaickit.fabric import Ends, Stitch
from mosaickit.orientation import Hand, Role
from mosaickit.wording.terms import STYLES, Style

WordPair = tuple[str, str]
"""In the short style, and in plain words; or for one, and for several."""
NextOrLast = Literal["next", "last"]


@dataclass(frozen=True, kw_only=True)
class Phrasebook:
    """The words of one language.

    Attributes
    ----------
    roles : (roles in the short style, roles in plain words)
        What MC and CC are called in labels.
    role_words : mapping
        The two colours in full.
    places : mapping from where to (for one stitch, for several), for each style
        "in next st", "in next {n} sts".
    star, bracket, following : texts
        Repeats: with a star for one more time and for several, in brackets, and in plain words.
    joined, after_star : texts
        What stands between steps: in the short style and in plain words within a repeat; between the parts of a row.
    labels, spans, row_words, round_words : texts
        The label of a row, the numbers of several rows, and what a row and several rows are called.
    """

    roles: tuple[Mapping[Role, str], Mapping[Role, str]]
    role_words: Mapping[Role, str]

    # a row
    places: tuple[Mapping[NextOrLast, WordPair], Mapping[NextOrLast, WordPair]]
    star: WordPair
    bracket: str
    following: str
    ends: WordPair
    then: WordPair
    every: tuple[WordPair, WordPair]
    first_flat: tuple[WordPair, WordPair]
    first_round: WordPair
    change: WordPair

    # the lines
    row_words: WordPair
    round_words: tuple[WordPair, WordPair]
    label: WordPair
    span: WordPair
    units: tuple[WordPair, WordPair]
    in_all: str
    again: tuple[WordPair, WordPair]

    # around the rows
    sections: tuple[str, str, str, str]
    written: WordPair
    name: str
    worked: tuple[str, str]
    handed: Mapping[Hand, str]
    yarn_from: str
    foundation: tuple[WordPair, WordPair]
    multiple: WordPair
    plus: str
    more_chains: str
    rounds: tuple[str, str]
    how: Mapping[Stitch, str]
    strand: str
    abbreviations: tuple[tuple[str, str, str], ...]
    meanings: Mapping[Stitch, str]
    notes_flat: tuple[str, ...]
    notes_flat_cut: tuple[str, ...]
    notes_flat_carried: tuple[str, ...]
    notes_round: tuple[str, ...]
    notes_round_cut: tuple[str, ...]
    notes_round_carried: tuple[str, ...]
    edges: Mapping[Hand, str]
    towards: Mapping[Hand, str]
    firm_edges: str
    last_row: str
    fasten_off: Mapping[Ends, str]
    foundation_sc: WordPair
    how_foundation_sc: str
    note_foundation_sc: WordPair  # flat and in the round

    # several sizes
    sizes: str
    sizes_note: str
    for_size: str
    all_differ: str
    differs: str
    why_steps: str
    steps_of: str
    why_order: str
    one_as_many: tuple[tuple[str, str], ...]
    many_as_one: tuple[tuple[str, str], ...]

    def rows(self, *, in_the_round: bool, style: Style) -> WordPair:
        """Give what a row and several rows are called."""
        return self.round_words[STYLES.index(style)] if in_the_round else self.row_words

    def in_rounds(self, text: str) -> str:
        """Put a sentence about rows into rounds."""
        return re.sub(*self.rounds, text)
