"""What the lists and tables of a page hold, an entry each: yarns, the rows in words, and what each row takes."""

from __future__ import annotations

from dataclasses import dataclass

from mosaickit.motif import LEAST_CONTRAST
from mosaickit.orientation import Role
from mosaickit.wording import Tongue
from mosaickit.yarn import Skein


@dataclass(frozen=True)
class PageYarn:
    """A yarn and how much of it the pattern takes, in metres; the skeins to buy and a sentence on them, if known.

    Its letter is what tables, chart and key call it; letters follow the order in which yarns are first used.
    """

    letter: str
    name: str
    colour: str
    roles: tuple[Role, ...]
    low_m: float
    likely_m: float
    high_m: float
    skeins: int | None = None
    advice: str = ""
    ball: Skein | None = None
    likely_skeins: int | None = None


@dataclass(frozen=True)
class YarnStart:
    """A row that begins another yarn than the last row of its colour, and the letter of that yarn."""

    row: int
    role: Role
    letter: str


@dataclass(frozen=True)
class Meeting:
    """Two yarns that meet from a row on, and how well they can be told apart (WCAG 2.2 contrast ratios)."""

    row: int
    mc: str
    cc: str
    ratio: float
    weakest: float
    vision: str

    @property
    def clear(self) -> bool:
        """Whether everybody can tell them apart by contrast alone."""
        return self.weakest >= LEAST_CONTRAST


@dataclass(frozen=True)
class PageRow:
    """A line of the written rows: one row, or several that one line orders.

    Parameters
    ----------
    label : str
        As "Row 3" or "Rows 5 to 8".
    rows : (int, int)
        The first and the last row that the line is about.
    role, yarn : str
        The colour and the yarn of its first row.
    text : str
        What to work, without label and count.
    count : int
        The stitches of a row.
    """

    label: str
    rows: tuple[int, int]
    role: Role
    yarn: str
    text: str
    count: int


@dataclass(frozen=True)
class Instructions:
    """Everything that is said in US or in UK terms.

    Parameters
    ----------
    terms : "US" or "UK"
        Which.
    foundation : str
        What the stitches are a multiple of, if they repeat across, and how the work begins.
    rows : tuple of PageRow
        The lines as printed, which together order every row once.
    steps : tuple of PageRow, R long
        Every row by itself, for a maker who is led row by row.
    remarks : tuple of str
        What holds for all rows.
    abbreviations : tuple of (abbreviation, meaning)
        Those used and no others.
    special : tuple of (stitch, how it is made)
        Those used and no others.
    finishing : tuple of str
        What is done at the edges when the last row is worked, a step each.
    """

    terms: Tongue
    foundation: str
    rows: tuple[PageRow, ...]
    steps: tuple[PageRow, ...]
    remarks: tuple[str, ...] = ()
    abbreviations: tuple[tuple[str, str], ...] = ()
    special: tuple[tuple[str, str], ...] = ()
    finishing: tuple[str, ...] = ()


FOUNDATION_SC = "Foundation sc"
"""What the line of a foundation of single crochet is called."""


@dataclass(frozen=True)
class EdgeUse:
    """The stitches of foundation, border or fringe beyond the rows, and the yarn that they take, in metres."""

    what: str
    role: Role
    letter: str
    yarn: str
    stitches: int
    low_m: float
    likely_m: float
    high_m: float


@dataclass(frozen=True)
class SizedInstructions:
    """The instructions of several sizes in US or in UK terms, with a number for each size where they differ.

    Parameters
    ----------
    terms : "US" or "UK"
        Which.
    foundation : str
        As of `Instructions`; so are `remarks`, `abbreviations`, `special` and `finishing`.
    rows : tuple of (label, text, count)
        The lines as printed; one without a label says why the next are given for each size.
    text : str
        All of it as one text, which `read_sizes` reads back.
    """

    terms: Tongue
    foundation: str
    rows: tuple[tuple[str, str, str], ...]
    remarks: tuple[str, ...]
    abbreviations: tuple[tuple[str, str], ...]
    special: tuple[tuple[str, str], ...]
    text: str
    finishing: tuple[str, ...] = ()


@dataclass(frozen=True)
class RowUse:
    """The stitches of a row and the yarn that it takes, in metres."""

    row: int
    role: Role
    letter: str
    yarn: str
    stitches: int
    low_m: float
    likely_m: float
    high_m: float
