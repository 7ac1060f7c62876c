"""Reports: what one tester says of the piece she made, by itself.

A tester is known by a letter or a pseudonym, never by more. Rows and stitches are the maker's own, from 1 in working
order. A report says only what was typed; `editions` holds it against what was tested.
"""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass
from typing import Literal, get_args

from mosaickit.errors import OptionError, each_of_kind, of_kind, one_of, shortly, whole_number, within
from mosaickit.gauge import Gauge
from mosaickit.motif import LARGEST_SIDE
from mosaickit.sizes.designs.words import check_prose
from mosaickit.yarn import Skein

SnagKind = Literal["error", "unclear", "other"]
SNAG_KINDS: tuple[SnagKind, ...] = get_args(SnagKind)
"""What a tester thinks a snag is: an error of the pattern, words that are not clear, or something else."""

LONGEST_LABEL, LONGEST_SNAG, LONGEST_REMARKS = 40, 500, 2000
"""Characters of a tester's label or a size, of what puzzled, and of remarks."""
MOST_SNAGS, MOST_YARNS_USED = 200, 100
LEAST_HOOK_MM, MOST_HOOK_MM = 0.4, 40.0
"""Hooks from the finest steel ones to those for arm-thick yarn: from memory, no source."""
MOST_METRES, MOST_HOURS, MOST_CM = 1e5, 1e4, 1e4
LEAST_USED, LEAST_CM, LEAST_HOURS = 0.1, 0.1, 0.1

REPORT_LENGTHS = {"tester": LONGEST_LABEL, "snag": LONGEST_SNAG, "remarks": LONGEST_REMARKS}
"""How many characters the texts of a report may have."""

REPORT_LIMITS = {
    "hook_mm": (LEAST_HOOK_MM, MOST_HOOK_MM),
    "hours": (LEAST_HOURS, MOST_HOURS),
    "used": (LEAST_USED, MOST_METRES),
    "cm": (LEAST_CM, MOST_CM),
    "snags": (0, MOST_SNAGS),
}
"""From where to where the numbers of a report may be; metres and grams are "used", "snags" how many there are."""


@dataclass(frozen=True)
class Snag:
    """Something that puzzled a tester.

    Parameters
    ----------
    text : str
        What puzzled her, in at most 500 characters.
    row : int, optional
        In which row, from 1 at the bottom; of a snag that is in no row, as in the list of yarns, none.
    stitch : int, optional
        At which stitch of that row, from 1 at the edge where rows start.
    kind : "error", "unclear" or "other"
        What she thinks it is.

    Raises
    ------
    OptionError
        If something is not as described, or a stitch has no row.
    """

    text: str
    _: KW_ONLY
    row: int | None = None
    stitch: int | None = None
    kind: SnagKind = "unclear"

    def __post_init__(self) -> None:
        if not _line("text", self.text, LONGEST_SNAG, breaks=True).strip():
            raise OptionError("`text` must say what puzzled; got an empty text.")
        one_of("kind", self.kind, SNAG_KINDS)
        for name in ("row", "stitch"):
            if (value := getattr(self, name)) is not None:
                object.__setattr__(self, name, whole_number(name, value, least=1, most=LARGEST_SIDE))
        if self.stitch is not None and self.row is None:
            raise OptionError(f"`row` must be given with `stitch`; got stitch {self.stitch} and no row.")

    @property
    def where(self) -> str:
        """The place in words: "Row 4, stitch 2", "Row 4", or "The pattern"."""
        if self.row is None:
            return "The pattern"
        return f"Row {self.row}" + ("" if self.stitch is None else f", stitch {self.stitch}")


@dataclass(frozen=True)
class YarnUsed:
    """How much of one yarn a tester used, measured or weighed.

    Parameters
    ----------
    yarn : str
        The yarn's name in the design, whatever she worked it in.
    metres, grams : float, optional
        How much; one of the two. The balls are best weighed before and after.
    ball : Skein, optional
        What the label of her own yarn says, by which grams become metres; the design's skein if left out.

    Raises
    ------
    OptionError
        If something is not as described, or both or neither of metres and grams are given.
    """

    yarn: str
    _: KW_ONLY
    metres: float | None = None
    grams: float | None = None
    ball: Skein | None = None

    def __post_init__(self) -> None:
        if not _line("yarn", self.yarn, LONGEST_SNAG).strip():
            raise OptionError("`yarn` must name a yarn of the design; got an empty text.")
        if (self.metres is None) == (self.grams is None):
            got = "neither" if self.metres is None else "both"
            raise OptionError(f"`metres` or `grams` must be given for {self.yarn!r}, one of the two; got {got}.")
        for name in ("metres", "grams"):
            if (value := getattr(self, name)) is not None:
                object.__setattr__(self, name, within(name, value, LEAST_USED, MOST_METRES))
        of_kind("ball", self.ball, Skein, or_none=True)

    def metres_by(self, skein: Skein | None) -> float:
        """Give the metres, those of grams by her own ball or else by the design's skein.

        Raises
        ------
        OptionError
            If it was weighed and no label says how many metres a gram is.
        """
        if self.metres is not None:
            return self.metres
        ball = self.ball or skein
        if ball is None or self.grams is None:
            raise OptionError(
                f"{self.yarn!r} was weighed, but no label says how many metres a gram is: give its `ball`, or give the "
                "design its `skeins`."
            )
        return self.grams * ball.metres / ball.grams


@dataclass(frozen=True)
class PieceReport:
    """What one tester reports of the piece she made.

    Parameters
    ----------
    tester : str
        A letter or pseudonym, at most 40 characters; no real name is needed.
    design : str
        The title of the pattern.
    edition : int
        Which edition she made, from 1.
    size : str
        Which size, where the pattern has several.
    hook_mm : float, optional
        The hook she used.
    gauge : Gauge, optional
        Her own gauge, if she measured it.
    yarns : YarnsUsed
        How much of each yarn she used, each yarn once at most; kept as a tuple.
    before_cm, after_cm : (width, length), optional
        What her finished piece measured before and after it was blocked.
    hours : float, optional
        How long it took.
    snags : Snags
        What puzzled her; kept as a tuple.
    remarks : str
        Anything else, in at most 2,000 characters.

    Raises
    ------
    OptionError
        If something is not as described.

    Examples
    --------
    >>> report = PieceReport("A", "Leaf scarf", 1, yarns=[YarnUsed("cream", metres=210)])
    >>> report.yarns[0].metres
    210.0
    """

    tester: str
    design: str
    edition: int
    _: KW_ONLY
    size: str = ""
    hook_mm: float | None = None
    gauge: Gauge | None = None
    yarns: tuple[YarnUsed, ...] = ()
    before_cm: tuple[float, float] | None = None
    after_cm: tuple[float, float] | None = None
    hours: float | None = None
    snags: tuple[Snag, ...] = ()
    remarks: str = ""

    def __post_init__(self) -> None:
        own = self.__dict__
        if not _line("tester", self.tester, LONGEST_LABEL).strip():
            raise OptionError("`tester` must be a letter or a pseudonym; got an empty text.")
        _line("design", self.design, LONGEST_SNAG)
        _line("size", self.size, LONGEST_LABEL)
        _line("remarks", self.remarks, LONGEST_REMARKS, breaks=True)
        own["edition"] = whole_number("edition", self.edition, least=1, most=1000)
        of_kind("gauge", self.gauge, Gauge, or_none=True)
        for name, least, most in (("hook_mm", LEAST_HOOK_MM, MOST_HOOK_MM), ("hours", LEAST_HOURS, MOST_HOURS)):
            if own[name] is not None:
                own[name] = within(name, own[name], least, most)
        for name in ("before_cm", "after_cm"):
            own[name] = None if own[name] is None else _pair(name, own[name])
        own["yarns"] = each_of_kind("yarns", self.yarns, YarnUsed)
        own["snags"] = each_of_kind("snags", self.snags, Snag)
        for name, most in (("yarns", MOST_YARNS_USED), ("snags", MOST_SNAGS)):
            if len(own[name]) > most:
                raise OptionError(f"`{name}` must be at most {most}; got {len(own[name]):,}.")
        names = [used.yarn for used in self.yarns]
        if twice := next((name for number, name in enumerate(names) if name in names[:number]), None):
            raise OptionError(f"`yarns` must have each yarn once; got {twice!r} twice.")


def check_size_label(size: object) -> None:
    """Raise `OptionError` unless something can be the label of a size: one line, empty where there is one size."""
    _line("size", size, LONGEST_LABEL)


def _line(name: str, told: object, most: int, *, breaks: bool = False) -> str:
    check_prose(name, told, most)
    line = str(told)
    if not breaks and "\n" in line:
        raise OptionError(f"`{name}` must be one line; got {shortly(told)}.")
    return line


def _pair(name: str, given: object) -> tuple[float, float]:
    if not isinstance(given, tuple | list) or len(given) != 2:
        raise OptionError(f"`{name}` must be a pair of width and length in cm; got {shortly(given)}.")
    width, length = (within(name, side, LEAST_CM, MOST_CM) for side in given)
    return width, length
