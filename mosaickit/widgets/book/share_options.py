"""What a file is made of: the design, and what was chosen beside the buttons."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from mosaickit import publish
from mosaickit.errors import of_kind, one_of, true_or_false
from mosaickit.sizes import Design
from mosaickit.svg import MARK_KINDS, Marks, marks_of

SYSTEM_FONTS = "Look in this computer's fonts too"
"""What the tick is called that lets the PDF use other fonts than its own."""


@dataclass(frozen=True)
class ShareOptions:
    """What was chosen beside the buttons; raises `OptionError` where it is none of the choices.

    Attributes
    ----------
    form, paper : str
        How the PDF is set, and on what.
    system_fonts : bool
        Whether characters are looked for in this computer's fonts too.
    whole : bool
        Whether the chart shows the whole piece, or the motif laid once.
    marks : "symbols", "plain" or "letters"
        How charts mark stitches, on paper, on a web page and in a picture.
    letters : dict
        For letters, those of each stitch.
    in_full : bool
        Whether a pattern charts the whole piece, and not a repeat of it once.
    """

    form: Any = field(default_factory=lambda: publish.FORMS[0])
    paper: Any = field(default_factory=lambda: publish.PAPERS[0])
    system_fonts: bool = False
    whole: bool = True
    marks: Any = MARK_KINDS[0]
    letters: Any = field(default_factory=dict)
    in_full: bool = False

    def __post_init__(self) -> None:
        one_of("form", self.form, publish.FORMS)
        one_of("paper", self.paper, publish.PAPERS)
        true_or_false("system_fonts", self.system_fonts)
        true_or_false("whole", self.whole)
        true_or_false("in_full", self.in_full)
        one_of("marks", self.marks, MARK_KINDS)
        of_kind("letters", self.letters, dict)
        marks_of(self.chosen_marks)

    @property
    def chosen_marks(self) -> Marks:
        """How stitches are marked, as the library takes it."""
        kind: Marks = self.letters if self.marks == "letters" and self.letters else self.marks
        return kind

    @property
    def setting(self) -> dict[str, Any]:
        """What is said to the verbs that set a page."""
        return {
            "form": self.form,
            "paper": self.paper,
            "system_fonts": self.system_fonts,
            "marks": self.chosen_marks,
            "in_full": self.in_full,
        }

    @property
    def sheet_ending(self) -> str:
        """What the name of a PDF ends in, so that one form does not replace another."""
        said = [self.form] * (self.form != publish.FORMS[0]) + [self.paper] * (self.paper != publish.PAPERS[0])
        return "".join(f"-{each.replace(' ', '-')}" for each in said) + ".pdf"


@dataclass(frozen=True)
class Sharing:
    """A design that files are made of.

    Attributes
    ----------
    design : Design
        What is shared.
    options : ShareOptions
        What was chosen.
    page : function
        Gives the page of its pattern; set from what was asked for before where it can be.
    begins : function
        Is told of each step when it begins: its words, which it is, of how many.
    """

    design: Design
    options: ShareOptions
    page: Callable[[], publish.Page]
    begins: Callable[[str, int, int], object] = lambda *_: None

    @property
    def name(self) -> str:
        """What the files are known by: the design's title, or its motif's name; empty if it has neither."""
        return self.design.words.title or self.design.motif.name
