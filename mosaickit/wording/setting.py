"""How written rows are set as text, of one chart or of several sizes: labels, the words of a row, and the sections."""

from __future__ import annotations

from collections.abc import Iterable

from mosaickit.errors import WordingError
from mosaickit.fabric import Chart, Foundation
from mosaickit.wording import remarks
from mosaickit.wording.faults import LONGEST_TEXT, MOST_WORDS
from mosaickit.wording.languages import book_of
from mosaickit.wording.lexicons import lexicon_of
from mosaickit.wording.lexing import count_words
from mosaickit.wording.phrases import RowPart, plain, short
from mosaickit.wording.terms import STYLES, Style, Tongue

Pairs = tuple[tuple[str, str], ...]


class ChartLines:
    """What the lines of one chart say.

    Attributes
    ----------
    yarns : list of Yarn
        The yarn of each row.
    changed : list of bool
        For each row whether it changes to another yarn than the last row of its colour had.
    first : str
        Row 1 as it goes into the foundation chain; empty if it is worded as any other.
    """

    def __init__(self, chart: Chart, terms: Tongue, style: Style, foundation: Foundation = "chain") -> None:
        self.book, self.number = book_of(terms), STYLES.index(style)
        self.chart, self.terms, self.style = chart, terms, style
        self.yarns = [chart.yarns.at(row, colour) for row, colour in enumerate(chart.row_colours, 1)]
        starts = {row for row, *_ in chart.yarns.starts(chart.row_colours)}
        self.changed = [row > 2 and row in starts for row in range(1, len(self.yarns) + 1)]
        self.first = remarks.first_row(chart, terms, style, foundation)

    def words(self, parts: tuple[RowPart, ...], *, every: bool = True) -> str:
        """Put the parts of a row in words; `every` tells whether one that a stitch fills says so."""
        filled = remarks.every_stitch(parts, self.chart, self.terms, self.style) if every else ""
        return filled or (short if self.style == "short" else plain)(parts, self.terms)

    def change(self, row: int) -> str:
        """Say that a row changes to another yarn; empty if it does not."""
        return remarks.change(self.yarns[row - 1], self.terms, self.style) if self.changed[row - 1] else ""

    def label(self, row: int, numbers: object) -> str:
        """Label a row with its number, or its numbers in several sizes, and its colour."""
        colour = remarks.role_name(self.chart.row_colours[row - 1], self.terms, self.style)
        return self.book.label[self.number].format(row=self.word, n=numbers, colour=colour)

    def tally(self, counts: str, most: int) -> str:
        """Write the count of a row, or its counts in several sizes, of which `most` is the largest."""
        return f"{counts} {self.book.units[self.number][most > 1]}"

    def again(self, numbers: str, block: tuple[int, int], times: str) -> tuple[str, str]:
        """Give label and words of a line that repeats a block of rows; `times` is empty for once."""
        several = self.book.rows(in_the_round=self.chart.in_the_round, style=self.style)[1]
        said = self.book.again[self.number][bool(times)]
        words = said.format(rows=several, small=several.lower(), span=self.span(*block), n=times)
        return f"{several} {numbers}", words

    def span(self, first: int, last: int) -> str:
        """Write the numbers of rows, first and last."""
        return self.book.span[self.number].format(first=first, last=last)

    @property
    def word(self) -> str:
        """What a row is called."""
        return self.book.rows(in_the_round=self.chart.in_the_round, style=self.style)[0]


def whole_text(
    heading: Iterable[str],
    yarns: tuple[str, ...],
    abbreviations: Pairs,
    special_stitches: Pairs,
    notes: tuple[str, ...],
    below: Iterable[str],
    terms: Tongue,
) -> str:
    """Set the sections of a text, with an empty line between them; those without a line are left out."""
    titles = book_of(terms).sections
    sections = [
        "\n".join(heading),
        _section(titles[0], yarns),
        _section(titles[1], map(": ".join, abbreviations)),
        _section(titles[2], map(": ".join, special_stitches)),
        _section(titles[3], notes),
        "\n".join(filter(None, below)),
    ]
    return "\n\n".join(filter(None, sections)) + "\n"


def _section(title: str, lines: Iterable[str]) -> str:
    """Set lines below their title; without lines there is no title either."""
    told = [*lines]
    return "\n".join([f"{title}:", *told]) if told else ""


def check_length(text: str, what: str, cure: str, terms: Tongue) -> None:
    """Raise `WordingError` if a text were too long to be read back; `what` takes so much, and `cure` is what to do."""
    if len(text) > LONGEST_TEXT:
        raise WordingError(f"{what} {len(text):,} characters in words, and a text has at most {LONGEST_TEXT:,}: {cure}")
    if len(text) > MOST_WORDS and (words := _words_in(text, terms)) > MOST_WORDS:
        raise WordingError(f"{what} {words:,} words, and a text has at most {MOST_WORDS:,}: {cure}")


def _words_in(text: str, terms: Tongue) -> int:
    lexicon = lexicon_of(terms)
    return sum(count_words(line, lexicon) for line in text.split("\n"))
