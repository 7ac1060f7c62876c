"""Words: what a designer says about a piece, as the page of its pattern prints it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import KW_ONLY, dataclass

from mosaickit.errors import OptionError, one_of, shortly, text, true_or_false
from mosaickit.wording import TERMS, Terms


@dataclass(frozen=True)
class PatternWords:
    """What a pattern says in its designer's own words, and in which terms.

    Parameters
    ----------
    title : str
        One line of at most 200 characters; the motif's name if empty.
    terms : "US" or "UK"
        The terms that the page is printed in.
    level : "basic", "easy", "intermediate" or "complex", optional
        The project level of the Craft Yarn Council.
    intro : str
        What you say first; empty lines part paragraphs.
    notes : texts
        What else there is to say, each a note of its own; kept as a tuple.
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
    terms: Terms = "US"
    level: str | None = None
    intro: str = ""
    notes: tuple[str, ...] = ()
    for_children: bool = False

    def __post_init__(self) -> None:
        for name in ("title", "intro"):
            text(name, getattr(self, name))
        one_of("terms", self.terms, TERMS)
        if self.level is not None:
            text("level", self.level)
        notes = (self.notes,) if isinstance(self.notes, str) else self.notes
        if not isinstance(notes, Iterable):
            raise OptionError(f"`notes` must be a text, or several; got {shortly(notes)}.")
        object.__setattr__(self, "notes", tuple(text(f"notes[{n}]", note) for n, note in enumerate(notes)))
        object.__setattr__(self, "for_children", true_or_false("for_children", self.for_children))
