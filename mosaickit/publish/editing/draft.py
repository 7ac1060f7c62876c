"""A pattern as an editor reads it: what it says in words, part by part, and the figures that follow from them.

A page and an author's text both become a `Draft`, so that every kind of finding is written once. What is not there is
empty or None, and what could not be made out is said in `unjudged`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from mosaickit.centre import CentreChart
from mosaickit.errors import number_of
from mosaickit.fabric import Chart
from mosaickit.gauge import Gauge
from mosaickit.publish.entries import Meeting
from mosaickit.wording import TERMS, Fault, Tongue

PARTS_READ = (
    *("title", "designer", "pictures", "intro", "size", "gauge", "hook", "level", "terms", "yarn", "notions"),
    *("abbreviations", "special stitches", "rows", "finishing", "blocking", "notes", "care", "edition", "date"),
    *("errata", "contact", "copyright", "licence"),
)
"""The parts of a pattern, in the order in which a page has them."""


_ROUND = re.compile(r"\W*(?:rnd|round)", re.IGNORECASE)
_WHERE = {
    "pictures": "Photographs",
    "intro": "Introduction",
    "size": "Finished size",
    "notions": "Notions",
    "errata": "Corrections",
    "licence": "Licence",
    "terms": "Terms",
}
"""What a part is called in a finding, where that is not its own name."""


class Spot(NamedTuple):
    """Where something stands: its part, the line or row in it, and the same in words."""

    part: str
    words: str
    row: int | None = None
    line: int | None = None
    of: int = 0
    """Which of several wordings, from 0."""


def spot_of(part: str) -> Spot:
    """Give where a part of a page is."""
    return Spot(part, _WHERE.get(part, part.capitalize()))


class Said(NamedTuple):
    """A text and where it stands."""

    text: str
    spot: Spot


class Pair(NamedTuple):
    """An abbreviation or a stitch, its explanation, and where."""

    short: str
    meaning: str
    spot: Spot


def row_or_round(label: str) -> str:
    """Give what a label says: "row" or "round"."""
    return "round" if _ROUND.match(label) else "row"


class DraftRow(NamedTuple):
    """A line of the rows: label, what to work, its count as printed ("" if there is no count), and where.

    `again` says that it repeats other rows, which have counts of their own.
    """

    label: str
    text: str
    tally: str
    again: bool
    spot: Spot

    @property
    def what(self) -> str:
        """What it calls itself: a row, or a round."""
        return row_or_round(self.label)


@dataclass(frozen=True)
class RowsSaid:
    """The rows in one set of terms, and what belongs to them.

    Attributes
    ----------
    terms : "US", "UK", "de" or None
        The terms, or the language, if they are known.
    rows : tuple of DraftRow
        The lines.
    around : tuple of Said
        Foundation and remarks.
    abbreviations, special : tuple of Pair
        What is explained.
    faults : tuple of (Fault, Spot)
        Why it cannot be read as a chart.
    differs : tuple of Said
        Where it is not what was charted.
    settled : tuple of Said
        What had to be settled by other words of the text.
    trouble : str
        Why no hook can work it.
    """

    terms: Tongue | None
    rows: tuple[DraftRow, ...] = ()
    around: tuple[Said, ...] = ()
    abbreviations: tuple[Pair, ...] = ()
    special: tuple[Pair, ...] = ()
    faults: tuple[tuple[Fault, Spot], ...] = ()
    differs: tuple[Said, ...] = ()
    settled: tuple[Said, ...] = ()
    trouble: str = ""


@dataclass(frozen=True)
class DraftYarn:
    """A yarn as a pattern tells of it; lengths in metres, None where nothing is said.

    Attributes
    ----------
    name : str
        What it is called.
    spot : Spot
        Where.
    lacks : tuple of str
        What of its label is not said.
    most_m : float or None
        The upper end of what the piece takes.
    sample_m : float or None
        What the sample took, if that alone is said.
    by_row_m : float or None
        What the rows take together at most, where they are tabled.
    skeins, ball_m
        How many skeins to buy, and how long one is.
    """

    name: str
    spot: Spot
    lacks: tuple[str, ...] = ()
    most_m: float | None = None
    sample_m: float | None = None
    by_row_m: float | None = None
    skeins: int | None = None
    ball_m: float | None = None


class SizeSaid(NamedTuple):
    """A size that a pattern states: width and height, in cm and in inches where given, and where."""

    cm: tuple[float, float] | None
    inches: tuple[float, float] | None
    spot: Spot


class Extent(NamedTuple):
    """What a size follows from: rows and stitches, whether they close to a round, and the same in words."""

    rows: int
    stitches: int
    in_the_round: bool
    words: str
    from_centre: bool = False
    """Whether it is a square that is worked outward, all sides of which are alike."""


def extent_of(chart: Chart | CentreChart | None) -> Extent | None:
    """Give what the size of a chart follows from."""
    if chart is None:
        return None
    if isinstance(chart, CentreChart):
        rounds = number_of(len(chart.rounds), "round")
        words = f"{rounds} from the centre, {chart.side} stitches from side to side,"
        return Extent(chart.side, chart.side, False, words, from_centre=True)
    rows, stitches = chart.shape
    return Extent(rows, stitches, chart.in_the_round, f"{stitches} stitches and {rows} rows")


class SizeFigures(NamedTuple):
    """What has to agree in figures, of the one size of a pattern or of one of several; fields as of `Draft`."""

    name: str
    extent: Extent | None
    gauge: Gauge | None
    sizes: tuple[SizeSaid, ...]
    yarns: tuple[DraftYarn, ...]
    border_cm: tuple[float, float] = (0.0, 0.0)

    def told(self, sentence: str) -> str:
        """Say of which size a sentence is, if there are several."""
        return f"Size {self.name}: {sentence}" if self.name else sentence


@dataclass(frozen=True)
class Draft:
    """A pattern as it is read.

    Attributes
    ----------
    title : str
        What it is called in the report.
    is_text : bool
        Whether it is an author's text, and not a page.
    parts : mapping of str to Said
        What each part of `PARTS_READ` says; a part that is missing is not there.
    sets : tuple of RowsSaid
        The rows, once for each of the terms.
    extent : Extent or None
        What the size follows from, if the stitches are known.
    gauge : Gauge or None
        The gauge, if it is known.
    sizes : tuple of SizeSaid
        Sizes that ought to follow from the gauge.
    yarns : tuple of DraftYarn
        The yarns.
    meetings : tuple of Meeting
        How well yarns that meet can be told apart.
    pictures : tuple of Said
        What photographs show, in words for those who do not see them.
    prose : tuple of Said
        What is said in sentences: introduction, notes, finishing and the like.
    notions : tuple of Said
        What is needed beside yarn and hook.
    unjudged : tuple of str
        What could not be made out.
    border_cm : (float, float)
        What a border adds to width and height.
    sized : tuple of SizeFigures
        Those of each size, in the order of the pattern, if it has several.
    in_series : tuple of Said
        What may have a number for each size.
    """

    title: str
    is_text: bool
    parts: Mapping[str, Said]
    sets: tuple[RowsSaid, ...]
    extent: Extent | None = None
    gauge: Gauge | None = None
    sizes: tuple[SizeSaid, ...] = ()
    yarns: tuple[DraftYarn, ...] = ()
    meetings: tuple[Meeting, ...] = ()
    pictures: tuple[Said, ...] = ()
    prose: tuple[Said, ...] = ()
    notions: tuple[Said, ...] = ()
    unjudged: tuple[str, ...] = ()
    border_cm: tuple[float, float] = (0.0, 0.0)
    sized: tuple[SizeFigures, ...] = ()
    in_series: tuple[Said, ...] = ()

    @property
    def worked(self) -> str:
        """Name what takes yarn."""
        return "rounds" if self.extent is not None and self.extent.from_centre else "rows and edges"

    @property
    def figures(self) -> tuple[SizeFigures, ...]:
        """The figures of each size, or those of the one that there is."""
        return self.sized or (SizeFigures("", self.extent, self.gauge, self.sizes, self.yarns, self.border_cm),)

    def spot(self, part: str) -> Spot:
        """Give where a part is, or where it ought to be."""
        return self.parts[part].spot if part in self.parts else spot_of(part)


def not_english(sets: Iterable[RowsSaid]) -> list[str]:
    """Say what is not judged in rows of another language than English; nothing if there are none."""
    if all(rows.terms is None or rows.terms in TERMS for rows in sets):
        return []
    return [
        "Whether abbreviations and special stitches are used and explained, and terms alike: only English words are "
        "known for that."
    ]
