"""Publishing: what a pattern that is sold says beside its title and notes, all of it optional.

Who can be asked and what is allowed, the edition, what the yarn's labels say, what else is needed, how the piece is
finished, and what it measured. It is printed as it stands here; nothing of the piece follows from it. Weights of yarn
are those of the Craft Yarn Council's table. Care is said in words, in the order of ISO 3758 (wash, bleach, dry, iron,
professional care): its symbols are registered marks and are never drawn.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import KW_ONLY, dataclass, fields
from datetime import date
from typing import Any

from mosaickit.colours import checked_name
from mosaickit.errors import OptionError, each_of_kind, one_of, shortly, whole_number, within
from mosaickit.sizes.designs.words import LONGEST_NOTE, check_prose, several_texts

LONGEST_FOOT_LINE, MOST_NOTIONS, MOST_LABELS = 120, 50, 100
"""Characters of a line that stands at the foot of each page, and how many notions and labels there may be."""

YARN_WEIGHTS = ("Lace", "Super Fine", "Fine", "Light", "Medium", "Bulky", "Super Bulky", "Jumbo")
"""The Craft Yarn Council's categories 0 to 7."""

_SHADE = ("line dry", "drip dry", "dry flat", "drip dry flat")
# steps of washing, bleaching and drying as ISO 3758 has them; those of ironing and professional care from memory
CARE: dict[str, tuple[str, ...]] = {
    "wash": (
        *(f"wash at {heat}" for heat in ("95 °C", "70 °C", "60 °C", "60 °C, mild", "50 °C, mild", "40 °C")),
        *(f"wash at {heat}" for heat in ("40 °C, mild", "40 °C, very mild", "30 °C", "30 °C, mild")),
        "wash at 30 °C, very mild",
        "wash by hand",
        "do not wash",
    ),
    "bleach": ("any bleach", "oxygen bleach only", "do not bleach"),
    "tumble": ("tumble dry", "tumble dry low", "do not tumble dry"),
    "dry": (*_SHADE, *(f"{way} in the shade" for way in _SHADE)),
    "iron": (*(f"iron at up to {heat} °C" for heat in (200, 150, 110)), "do not iron"),
    "professional": ("dry clean", "dry clean, mild", "wet clean", "wet clean, mild", "do not dry clean"),
}
"""How a yarn may be cared for, in the order in which it is said."""


@dataclass(frozen=True)
class YarnLabel:
    """What the label of a yarn says; length and weight of a ball are those of its `Skein`.

    Parameters
    ----------
    yarn : str
        The yarn's name in the design.
    line : str
        What the yarn is sold as, in one line.
    weight : int, optional
        The Craft Yarn Council's category, 0 to 7.
    fibre : str
        What it is made of, in one line.
    wash, bleach, tumble, dry, iron, professional : str, optional
        How it is cared for, each one of those of `CARE`.

    Raises
    ------
    OptionError
        If one of them is not as described.

    Examples
    --------
    >>> YarnLabel("oat", weight=3, wash="wash at 30 °C, mild", dry="dry flat").care
    'Wash at 30 °C, mild; dry flat.'
    """

    yarn: str
    _: KW_ONLY
    line: str = ""
    weight: int | None = None
    fibre: str = ""
    wash: str | None = None
    bleach: str | None = None
    tumble: str | None = None
    dry: str | None = None
    iron: str | None = None
    professional: str | None = None

    def __post_init__(self) -> None:
        checked_name("The yarn of a label", self.yarn)
        check_line("line", self.line)
        check_line("fibre", self.fibre)
        if self.weight is not None:
            object.__setattr__(self, "weight", whole_number("weight", self.weight, most=len(YARN_WEIGHTS) - 1))
        for step, words in CARE.items():
            if getattr(self, step) is not None:
                one_of(step, getattr(self, step), words)

    @property
    def care(self) -> str:
        """How it is cared for, in a sentence; empty if nothing is said."""
        said = "; ".join(filter(None, (getattr(self, step) for step in CARE)))
        return f"{said[:1].upper()}{said[1:]}." if said else ""

    @property
    def category(self) -> str:
        """The weight in words; empty if it is not said."""
        return "" if self.weight is None else f"weight {self.weight}, {YARN_WEIGHTS[self.weight]} (Craft Yarn Council)"


@dataclass(frozen=True)
class Publishing:
    """What a pattern that is sold says beside its words.

    Parameters
    ----------
    contact : str
        Where questions go, as an address; at most 120 characters, printed at the foot of every page.
    copyright_line : str
        As "© 2026 The pier club", at most 120 characters, printed at the foot of every page.
    licence_line : str
        What a maker may do with the pattern and the piece, in one line.
    edition_line : str
        Which edition it is, in one line.
    published : date, optional
        The day of the edition; the date of the PDF.
    errata : str
        Where corrections are found, as an address.
    language : str
        The language of the page, as "en", "en-GB" or "de". In German ("de") all of the page that you did not write is
        German: rows, key, headings and sentences. In any other language that stays English, since not all of its terms
        have a published source; the page is marked as being in the language.
    gauge_stitch : str
        What the swatch of the gauge was worked in, in one line, as "the mosaic pattern, worked flat".
    notions : texts
        What else is needed, each with its number, as "2 stitch markers"; kept as a tuple.
    finishing, blocking : str
        How the piece is finished and blocked; empty lines part paragraphs.
    unblocked_cm, blocked_cm : (width, height), optional
        What the finished piece measured before and after it was blocked; in the round the width is the way around.
    labels : YarnLabels
        What the labels of the yarns say, one for each at most; kept as a tuple.

    Raises
    ------
    OptionError
        If one of them is not as described.

    Examples
    --------
    >>> Publishing(notions="2 stitch markers", language="en-GB").notions
    ('2 stitch markers',)
    """

    _: KW_ONLY
    contact: str = ""
    copyright_line: str = ""
    licence_line: str = ""
    edition_line: str = ""
    published: date | None = None
    errata: str = ""
    language: str = "en"
    gauge_stitch: str = ""
    notions: Iterable[str] = ()
    finishing: str = ""
    blocking: str = ""
    unblocked_cm: tuple[float, float] | None = None
    blocked_cm: tuple[float, float] | None = None
    labels: tuple[YarnLabel, ...] = ()

    def __post_init__(self) -> None:
        own = self.__dict__
        for name in ("contact", "copyright_line", "licence_line", "edition_line", "errata", "gauge_stitch"):
            check_line(name, own[name], 200 if name in ("licence_line", "errata") else LONGEST_FOOT_LINE)
        for name in ("finishing", "blocking"):
            check_prose(name, own[name], LONGEST_NOTE)
        if self.published is not None and type(self.published) is not date:
            raise OptionError(f"`published` must be a day, as 2026-03-14; got {shortly(self.published)}.")
        if not isinstance(self.language, str) or not re.fullmatch(r"[a-z]{2,3}(-[A-Z]{2})?", self.language):
            raise OptionError(f"`language` must be a code, as 'en' or 'en-GB'; got {shortly(self.language)}.")
        own["notions"] = several_texts("notions", self.notions, MOST_NOTIONS, check_line)
        for name in ("unblocked_cm", "blocked_cm"):
            own[name] = None if own[name] is None else _measured(name, own[name])
        own["labels"] = each_of_kind("labels", self.labels, YarnLabel)
        names = [label.yarn for label in self.labels]
        again = next((name for number, name in enumerate(names) if name in names[:number]), None)
        if again is not None:
            raise OptionError(f"`labels` must have one label for each yarn; got two for {again!r}.")
        if len(names) > MOST_LABELS:
            raise OptionError(f"`labels` must be at most {MOST_LABELS}; got {len(names):,}.")

    def label(self, yarn: str) -> YarnLabel:
        """Give the label of the yarn of that name, or an empty one."""
        return next((label for label in self.labels if label.yarn == yarn), YarnLabel(yarn))

    def labelled(self, label: YarnLabel) -> dict[str, Any]:
        """Give the changes of a design, as `Design.but` takes them, that put a label in place of that of its yarn."""
        others = [other for other in self.labels if other.yarn != label.yarn]
        says = any(getattr(label, each.name) not in ("", None) for each in fields(label) if each.name != "yarn")
        return {"labels": (*others, *([label] if says else []))}


def check_line(field: str, told: object, most: int = LONGEST_FOOT_LINE) -> None:
    """Raise `OptionError` unless something is one line of printable text with at most `most` characters."""
    check_prose(field, told, most)
    if isinstance(told, str) and "\n" in told:
        raise OptionError(f"`{field}` must be one line; got {shortly(told)}.")


def _measured(name: str, given: object) -> tuple[float, float]:
    if not isinstance(given, tuple | list) or len(given) != 2:
        raise OptionError(f"`{name}` must be a pair of width and height in cm; got {shortly(given)}.")
    width, height = (within(name, length, 0.1, 1e5) for length in given)
    return width, height


USUAL_PUBLISHING = Publishing()
"""Nothing beside the words."""
