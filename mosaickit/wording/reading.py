"""Written rows back into a chart, or all that is wrong with them.

Reading is tolerant of how people type and strict in what it takes to be meant: where words say two things, and
nothing in the text settles which, it says so and takes neither. Rows are read in working order, row 1 first.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from lark import Token

from mosaickit.errors import OptionError, WordingError
from mosaickit.fabric import Chart
from mosaickit.orientation import role_of_row
from mosaickit.wording.claims import Claims
from mosaickit.wording.faults import LONGEST_TEXT, FaultKind, Faults, error_of
from mosaickit.wording.headings import Headings
from mosaickit.wording.languages import told_tongue
from mosaickit.wording.lexicons import composed, lexicon_for
from mosaickit.wording.lines import RowLine
from mosaickit.wording.nations import settle_terms, stitch_words
from mosaickit.wording.parsing import parse_line
from mosaickit.wording.rows import RowAsRead, Rows
from mosaickit.wording.series import NAMED_SIZES
from mosaickit.wording.sorting import Remark, Source, may_begin
from mosaickit.wording.terms import Terms, Tongue


@dataclass(frozen=True, eq=False)
class Reading:
    """What a text says.

    Attributes
    ----------
    chart : Chart
        Its chart.
    rows : tuple of RowAsRead
        Its rows, row 1 first, with the place in the text of every stitch.
    terms : "US", "UK" or "de"
        The terms it was read in, or the code of another language.
    notes : tuple of str
        What was settled by other words of the text, as sentences with their places.
    """

    chart: Chart
    rows: tuple[RowAsRead, ...]
    terms: Tongue
    notes: tuple[str, ...]


class _Text:
    """A text being read: what its lines said so far, and their faults."""

    def __init__(self, text: str, told: Tongue | None) -> None:
        self.told = told
        self.faults = Faults()
        self.notes: list[str] = []
        self.source = Source(text, lexicon_for(text, told))
        self.headings = Headings(self.faults)
        self.claims = Claims(self.source, self.faults)
        self.lines: list[RowLine] = []
        self.stitch_words: dict[str, Token] = {}
        for line in self.source.lines():
            if isinstance(line, Remark):
                self.claims.take(line)
            else:
                self.read_line(line)

    def read_line(self, found: list[Token]) -> None:
        """Take the tokens of a row or of a heading."""
        if not may_begin(found[0]):
            expected = "a row as 'Row 1 (MC): …' or a heading as 'Notes:'"
            kind: FaultKind = "unknown" if found[0].type == "UNKNOWN" else "malformed"
            sentence = f"expected {expected}, found {self.source.found(found[0])}; remarks stand under 'Notes:'."
            self.faults.say(kind, found[0], None, sentence, expected)
            return
        value, faults = parse_line(found, self.source.text_of, self.source.lexicon)
        self.faults.take(faults)
        if isinstance(value, RowLine):
            self.lines.append(value)
            for word, token in stitch_words(found):
                self.stitch_words.setdefault(word, token)
        elif value is not None:
            self.headings.take(value)

    def in_the_round(self) -> bool:
        """Settle rows or rounds by the heading, or by the first row that says it."""
        labels = [line for line in self.lines if line.label is not None]
        worked = self.headings.worked.in_the_round if self.headings.worked else bool(labels) and labels[0].in_the_round
        for line in labels:
            if line.in_the_round != worked:
                word, other = ("Rnd", "Row") if worked else ("Row", "Rnd")
                sentence = f"expected {word!r}, as the work is {'in the round' if worked else 'flat'}; found {other!r}."
                self.faults.say("row", line.at, line.label.first if line.label else None, sentence, repr(word))
                break
        return worked

    def reading(self) -> Reading:
        """Put together what the lines said, in these terms if they are told, and hold the one against the other."""
        headings = self.headings
        terms = settle_terms(self.told, headings.terms, self.stitch_words, self.faults)
        in_the_round = self.in_the_round()
        rows = Rows(terms, in_the_round, headings.stitches(in_the_round) or None, self.faults.say, self.note)
        labels = [line.label.first if line.label else None for line in self.lines]
        for line, following in zip(self.lines, [*labels[1:], None], strict=False):
            rows.take(line, following)
        first = rows.first_role(headings.foundation.role if headings.foundation else None)
        headings.check_foundation(rows.width, first, in_the_round)
        self.claims.check(len(rows.read), headings.hand, in_the_round)
        if not self.lines and not self.faults:
            raise WordingError("The text has no row; expected lines as 'Row 1 (MC): sc in next 16 sts. (16 sts)'.")
        # of a row that is malformed the colour may be lost as well
        if first is None and self.lines and all(line.body is not None for line in self.lines):
            sentence = "no row says its colour; expected (MC) or (CC) in row 1."
            self.faults.say("ambiguous", self.lines[0].at, 1, sentence, "MC or CC")
        read = tuple(row for row in rows.read if row is not None)
        if self.faults or first is None or len(read) < len(rows.read):
            raise error_of(self.faults.all)
        headings.check_changes(rows.changes, first)
        if self.faults:
            raise error_of(self.faults.all)
        chart = Chart(
            np.stack([row.stitches for row in read]),
            tuple(role_of_row(row.row, first) for row in read),
            yarns=headings.yarns,
            hand=headings.hand or "right",
            in_the_round=in_the_round,
            name=headings.name,
        )
        return Reading(chart, read, terms, tuple(self.notes))

    def note(self, at: Token, row: int, sentence: str) -> None:
        """Note what other words of the text settled."""
        self.notes.append(f"Line {at.line}, column {at.column} (row {row}): {sentence}")


def read_closely(text: str, *, terms: Terms | None = None, language: str | None = None) -> Reading:
    """Read written rows, and keep where in the text every stitch stands; `read_rows` says how.

    Parameters
    ----------
    text : str
        The whole text.
    terms : "US" or "UK", optional
        The terms of the stitches, if the text does not say.
    language : str, optional
        The language by its code, as "de", if the text does not say.

    Returns
    -------
    Reading
        The chart, its rows as read, the terms, and notes on what other words settled.

    Raises
    ------
    OptionError, WordingError
        As `read_rows`.

    Examples
    --------
    >>> reading = read_closely("Row 1 (MC): *sc in next 2 sts; rep from * twice. (6 sts)", terms="US")
    >>> reading.notes
    ("Line 1, column 43 (row 1): 'twice' is taken as 3 times in all, as the row's count is 6.",)
    """
    if not isinstance(text, str):
        raise OptionError(f"`text` must be a str; got {type(text).__name__}.")
    told = told_tongue(terms, language)
    if len(text) > LONGEST_TEXT:
        raise WordingError(f"A text has at most {LONGEST_TEXT:,} characters; this one has {len(text):,}.")
    text = composed(text)
    if NAMED_SIZES.search(text):
        raise WordingError("This text holds several sizes; `mk.read_sizes` reads it.")
    return _Text(text, told).reading()


def read_rows(text: str, *, terms: Terms | None = None, language: str | None = None) -> Chart:
    """Read written rows back into their chart.

    Upper and lower case, spaces, dashes and the usual spellings (`st`, `sts`, `stitches`, `rep`, `repeat`, "4 BLsc",
    "BLsc in next 4 sts") are one. Remarks stand under "Notes:", up to an empty line, and are passed over.

    Parameters
    ----------
    text : str
        The whole text, as `write_rows` gives it or as people type it.
    terms : "US" or "UK", optional
        The terms of the stitches, if the text does not say.
    language : str, optional
        The language by its code, as "de", if the text does not say.

    Returns
    -------
    Chart
        (R, N) stitches in working order. What the text leaves out is as for any chart: cream and ink blue yarn, flat,
        right-handed, no name.

    Raises
    ------
    OptionError
        If `text` is no str, `terms` no terms, or rows are not read in the language.
    WordingError
        If the text is too long or holds no chart; its `faults` are all that is wrong, with line, column and row.

    Examples
    --------
    >>> print(read_rows('''
    ... Written in US terms
    ... Row 1 (MC): 8 sc (8 sts)
    ... Row 2 (CC): BLsc across
    ... Row 3 (MC): [blsc in next 2 sts, FLdc in next st] twice; BLsc in last 2 sts - 8 sts
    ... ''').to_text())
    ..|..|..
    ........
    ........
    """
    return read_closely(text, terms=terms, language=language).chart
