"""Words: what a designer says about a piece, as the page of its pattern prints it."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import KW_ONLY, dataclass
from typing import Literal

from mosaickit.errors import OptionError, one_of, shortly, text, true_or_false
from mosaickit.wording import PHRASINGS, TERMS, Phrasing, Terms

LONGEST_TITLE, LONGEST_NOTE, MOST_NOTES = 200, 20_000, 200
"""Characters of a title and of a note, and how many notes: so that a page stays a page."""

ProjectLevel = Literal["basic", "easy", "intermediate", "complex"]
LEVELS: dict[str, str] = {
    "basic": "Only basic stitches, perhaps with simple increases and decreases.",
    "easy": "Simple stitch patterns, colour work or shaping.",
    "intermediate": "More involved stitch patterns, colour work or shaping.",
    "complex": "Several involved stitch patterns or techniques at the same time.",
}
"""The Craft Yarn Council's four project levels (2018), in our words; they grade the project, not the worker."""


@dataclass(frozen=True)
class PatternWords:
    """What a pattern says in its designer's own words, and in which terms.

    Parameters
    ----------
    title : str
        One line of at most 200 characters; the motif's name if empty.
    designer : str
        Who designed it, in one line; printed on the page, and the author of the PDF.
    terms : "US" or "UK"
        The terms that an English page is printed in. In the language of `Publishing`, if rows are written in it, there
        is one set of terms.
    phrasing : "natural" or "shortest"
        Where written rows are broken: at the motif's repeats, or wherever the fewest characters tell the row.
    level : "basic", "easy", "intermediate" or "complex", optional
        The project level of the Craft Yarn Council.
    intro : str
        What you say first; empty lines part paragraphs.
    notes : texts
        What else there is to say, each a note of its own, or one text; kept as a tuple.
    for_children : bool
        Whether to print the cautions about what children wear and sleep under.

    Raises
    ------
    OptionError
        If one of them is not as described.

    Examples
    --------
    >>> PatternWords(title="Leaf scarf", notes="Block it wet.").notes
    ('Block it wet.',)
    """

    _: KW_ONLY
    title: str = ""
    designer: str = ""
    terms: Terms = "US"
    phrasing: Phrasing = "natural"
    level: ProjectLevel | None = None
    intro: str = ""
    notes: Iterable[str] = ()
    for_children: bool = False

    def __post_init__(self) -> None:
        check_prose("title", self.title, LONGEST_TITLE)
        check_prose("designer", self.designer, LONGEST_TITLE)
        check_prose("intro", self.intro, LONGEST_NOTE)
        one_of("terms", self.terms, TERMS)
        one_of("phrasing", self.phrasing, PHRASINGS)
        if self.level is not None:
            one_of("level", self.level, LEVELS)
        kept = several_texts(
            "notes", self.notes, MOST_NOTES, lambda field, note: check_prose(field, note, LONGEST_NOTE)
        )
        object.__setattr__(self, "notes", kept)
        object.__setattr__(self, "for_children", true_or_false("for_children", self.for_children))


def several_texts(field: str, given: object, most: int, check: Callable[[str, object], None]) -> tuple[str, ...]:
    """Give one text or several as a tuple, each checked under its own name, as "notes[0]".

    Raises
    ------
    OptionError
        If it is neither, if there are more than `most`, or if one of them fails the check.
    """
    texts = (given,) if isinstance(given, str) else given
    if not isinstance(texts, Iterable):
        raise OptionError(f"`{field}` must be a text, or several; got {shortly(given)}.")
    kept = tuple(texts)
    if len(kept) > most:
        raise OptionError(f"`{field}` must be at most {most:,}; got {len(kept):,}.")
    for number, one in enumerate(kept):
        check(f"{field}[{number}]", one)
    return kept


def check_prose(field: str, prose: object, most: int) -> None:
    """Raise `OptionError` unless something is printable text of at most so many characters."""
    told = text(field, prose)
    if len(told) > most:
        raise OptionError(f"`{field}` must have at most {most:,} characters; got {len(told):,}.")
    check_characters(field, told)


def check_characters(field: str, told: str) -> None:
    """Raise `OptionError` if text holds what cannot be printed: control characters, halves of pairs, none at all."""
    if told.isprintable():
        return
    breaks = "" if field in ("title", "designer") else "\n"
    bad = next((c for c in told if unicodedata.category(c) in ("Cc", "Cs", "Co", "Cn") and c not in breaks), None)
    if bad is not None:
        raise OptionError(f"`{field}` must be printable text; found {bad!r}.")
