"""How written rows are set as text, of one chart or of several sizes: labels, the words of a row, and the sections."""

from __future__ import annotations

from collections.abc import Iterable

from mosaickit.errors import WordingError
from mosaickit.fabric import Chart, Foundation
from mosaickit.wording import remarks
from mosaickit.wording.faults import LONGEST_TEXT, MOST_WORDS
from mosaickit.wording.lexing import count_words
from mosaickit.wording.phrases import RowPart, plain, short
from mosaickit.wording.terms import ROLE_WORDS, Style, Terms, render

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

    def __init__(self, chart: Chart, terms: Terms, style: Style, foundation: Foundation = "chain") -> None:
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
        return remarks.change(self.yarns[row - 1], self.style) if self.changed[row - 1] else ""

    def label(self, row: int, numbers: object) -> str:
        """Label a row with its number, or its numbers in several sizes, and its colour."""
        colour = self.chart.row_colours[row - 1]
        told = f"({colour})" if self.style == "short" else render(ROLE_WORDS[colour], self.terms)
        return f"{self.word} {numbers}{' ' if self.style == 'short' else ', '}{told}"

    def tally(self, counts: str, most: int) -> str:
        """Write the count of a row, or its counts in several sizes, of which `most` is the largest."""
        one, more = ("st", "sts") if self.style == "short" else ("stitch", "stitches")
        return f"{counts} {more if most > 1 else one}"

    def again(self, numbers: str, block: tuple[int, int], times: str) -> tuple[str, str]:
        """Give label and words of a line that repeats a block of rows; `times` is empty for once."""
        verb = "rep" if self.style == "short" else "repeat"
        often = f", {times} more times" if times else ""
        return f"{self.word}s {numbers}", f"{verb} {self.word.lower()}s {self.span(*block)}{often}"

    def span(self, first: int, last: int) -> str:
        """Write the numbers of rows, first and last."""
        return f"{first}{'-' if self.style == 'short' else ' to '}{last}"

    @property
    def word(self) -> str:
        """What a row is called."""
        if not self.chart.in_the_round:
            return "Row"
        return "Rnd" if self.style == "short" else "Round"


def whole_text(
    heading: Iterable[str],
    yarns: tuple[str, ...],
    abbreviations: Pairs,
    special_stitches: Pairs,
    notes: tuple[str, ...],
    below: Iterable[str],
) -> str:
    """Set the sections of a text, with an empty line between them; those without a line are left out."""
    sections = [
        "\n".join(heading),
        _section("Yarns", yarns),
        _section("Abbreviations", map(": ".join, abbreviations)),
        _section("Special stitches", map(": ".join, special_stitches)),
        _section("Notes", notes),
        "\n".join(filter(None, below)),
    ]
    return "\n\n".join(filter(None, sections)) + "\n"


def _section(title: str, lines: Iterable[str]) -> str:
    """Set lines below their title; without lines there is no title either."""
    told = [*lines]
    return "\n".join([f"{title}:", *told]) if told else ""


def check_length(text: str, what: str, cure: str) -> None:
    """Raise `WordingError` if a text were too long to be read back; `what` takes so much, and `cure` is what to do."""
    if len(text) > LONGEST_TEXT:
        raise WordingError(f"{what} {len(text):,} characters in words, and a text has at most {LONGEST_TEXT:,}: {cure}")
    if len(text) > MOST_WORDS and (words := sum(map(count_words, text.split("\n")))) > MOST_WORDS:
        raise WordingError(f"{what} {words:,} words, and a text has at most {MOST_WORDS:,}: {cure}")
