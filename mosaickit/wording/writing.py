"""A chart as written rows: every row in words, natural or the fewest, and rows that come again by their numbers.

`write_rows` gives a value whose parts a page may set as it likes; its `str` is the whole text, which `read_rows`
turns back into the same chart. Rows are in working order, row 1 first.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from mosaickit.errors import OptionError, WordingError, of_kind, one_of, whole_number
from mosaickit.fabric import ENDS, FOUNDATIONS, Chart, Ends, Foundation
from mosaickit.motif import BETWEEN_ROWS, LARGEST_SIDE, BetweenRows
from mosaickit.orientation import ROLES, Role
from mosaickit.wording import remarks
from mosaickit.wording.again import plan
from mosaickit.wording.languages import book_of, terms_or_language, tongue_of
from mosaickit.wording.natural import Breaking, breaking, repeats_across
from mosaickit.wording.setting import ChartLines, check_length, whole_text
from mosaickit.wording.terms import PHRASINGS, STYLES, Phrasing, Style, Terms, Tongue


@dataclass(frozen=True)
class WrittenRow:
    """One line of written rows: a row, or neighbouring rows that repeat earlier ones.

    Attributes
    ----------
    first, last : int
        The rows it stands for, from 1; the same number for one row.
    colour : "MC" or "CC"
        The colour of the first of them.
    label : str
        What stands before the colon, as "Row 3 (MC)".
    change : str
        That the row changes to another yarn, in words that stand before what to work; empty if it does not.
    text : str
        What to work, without a full stop at the end.
    count : int
        The stitches of each row.
    repeats : (int, int) or None
        First and last of the rows it repeats, None if it writes out its stitches.
    tally : str
        The count as the row's end shows it; empty where the row repeats others.
    """

    first: int
    last: int
    colour: Role
    label: str
    change: str
    text: str
    count: int
    repeats: tuple[int, int] | None
    tally: str

    @property
    def numbers(self) -> range:
        """The numbers of the rows it stands for."""
        return range(self.first, self.last + 1)

    def __str__(self) -> str:
        return " ".join(filter(None, (f"{self.label}:", self.change, f"{self.text}.", self.tally)))


@dataclass(frozen=True, repr=False)
class WrittenRows:
    """A chart in words; `str` gives the whole text.

    Attributes
    ----------
    terms : "US", "UK" or "de"
        The terms of English rows, or the code of another language.
    style : "short" or "plain words"
        With the trade's abbreviations, asterisks and brackets, or without any of them.
    heading : tuple of str
        The terms, the name if there is one, and how the work goes.
    yarns : tuple of str
        The yarns of MC and of CC.
    abbreviations : tuple of (str, str)
        Those that the rows use and no others, with their meaning; none in plain words.
    special_stitches : tuple of (str, str)
        The stitches used that are no common ones, and how each is made.
    notes : tuple of str
        How rows start and end, and what edges and last row ask for.
    multiple : str
        What the stitches are a multiple of; empty if none are repeated across.
    foundation : str
        The foundation chain; empty where row 1 is worked in foundation sc.
    lines : tuple of WrittenRow
        The rows, row 1 first.
    """

    terms: Tongue
    style: Style
    heading: tuple[str, ...]
    yarns: tuple[str, ...]
    abbreviations: tuple[tuple[str, str], ...]
    special_stitches: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    multiple: str
    foundation: str
    lines: tuple[WrittenRow, ...]

    def line_of(self, row: int) -> WrittenRow:
        """Give the line that a row, from 1, stands in.

        Raises
        ------
        OptionError
            If there is no such row.
        """
        for line in self.lines:
            if line.first <= row <= line.last:
                return line
        raise OptionError(f"`row` must be a row from 1 to {self.lines[-1].last}; got {row!r}.")

    @cached_property
    def by_row(self) -> tuple[str, ...]:
        """What to work in every row, also where a line repeats others, with its change of yarn; row 1 first."""
        texts = [""]
        for line in self.lines:
            for row in line.numbers:
                if line.repeats is None:
                    texts.append(" ".join(filter(None, (line.change, line.text))))
                else:
                    first, last = line.repeats
                    texts.append(texts[first + (row - line.first) % (last - first + 1)])
        return tuple(texts[1:])

    def __str__(self) -> str:
        below = (self.multiple, self.foundation, *map(str, self.lines))
        return whole_text(
            self.heading, self.yarns, self.abbreviations, self.special_stitches, self.notes, below, self.terms
        )

    def __repr__(self) -> str:
        rows = self.lines[-1].last
        return f"<WrittenRows {rows} rows in {len(self.lines)} lines, {terms_or_language(self.terms)}, {self.style}>"


def write_rows(
    chart: Chart,
    *,
    terms: Terms | None = None,
    language: str = "en",
    style: Style = "short",
    phrasing: Phrasing = "natural",
    repeat: int | None = None,
    repeat_from: int | None = None,
    between_rows: BetweenRows = "carried",
    foundation: Foundation = "chain",
    ends: Ends = "as they come",
) -> WrittenRows:
    """Write a chart's rows in words.

    A row is broken where the motif repeats and where one stitch ends, so that the same thing has the same words in all
    rows, or as the fewest characters ask for; row 1 says how it goes into the foundation chain. Two rows or more that
    are the same as earlier ones, which are written out, in the same yarns are written as a repeat of those. A row that
    changes to another yarn says so.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches in working order.
    terms : "US" or "UK", optional
        The terms of the stitches of English rows; the first line says which. Left out, US terms.
    language : str
        The language by its code: "en", or "de" for German, which has one set of terms. The first line says it.
    style : "short" or "plain words"
        The trade's syntax, or whole words without asterisks and brackets, as a screen reader reads them best.
    phrasing : "natural" or "shortest"
        Where rows are broken: at the motif's repeats, or wherever the fewest characters tell the row (of equally short
        rows, those whose repeats start and stop with the motif's are preferred). The fewest characters are those of
        English rows; other languages break where these do.
    repeat : int, optional
        The columns of the motif that the chart repeats. Stitches beyond whole motifs count as edge stitches, half at
        either side. Left out, it is the columns that the whole chart repeats, if it does.
    repeat_from : int, optional
        The stitch with which the first repeat begins, from 1, where edge stitches are not half at either side: the star
        then begins there, or a whole number of repeats from there.
    between_rows : "carried" or "cut"
        What is done with the yarn at the end of a row.
    foundation : "chain" or "foundation sc"
        What row 1 stands on; foundation sc are row 1.
    ends : "as they come", "woven in", "fringe" or "enclosed"
        What becomes of the tails after the last row.

    Returns
    -------
    WrittenRows
        The lines of rows 1 to R and what stands around them.

    Raises
    ------
    OptionError
        If an argument is not as described, or words of the language have no published source.
    WordingError
        If the text were too long to be read back, or a yarn changes above any row there may be.

    Notes
    -----
    The natural phrasing keeps to three rules. The star stands for the motif's repeat, or for a part that fits it a
    whole number of times, and what stands at the edges is kept apart from it. A run of one stitch is split nowhere
    else; one that fills the row is worked "in each st across". What comes again inside a repeat or at an edge stands in
    brackets; a row that has one such repeat and no other has the star for it. Over the motifs of the gallery, repeated
    four times, this takes 14 percent more characters than the shortest phrasing.

    Examples
    --------
    >>> written = write_rows(Chart.from_text('''
    ... |...||.
    ... .......
    ... .......
    ... '''))
    >>> print(written.lines[2])
    Row 3 (MC): BLsc in next st, FLdc in next 2 sts, BLsc in next 3 sts, FLdc in last st. (7 sts)
    >>> print(written.lines[1])
    Row 2 (CC): BLsc in each st across. (7 sts)
    """
    of_kind("chart", chart, Chart)
    tongue = tongue_of(terms, language)
    one_of("style", style, STYLES)
    one_of("phrasing", phrasing, PHRASINGS)
    one_of("between_rows", between_rows, BETWEEN_ROWS)
    check_finished(foundation, ends, tongue)
    if repeat is not None:
        repeat = whole_number("repeat", repeat, least=1)
    if repeat_from is not None:
        repeat_from = whole_number("repeat_from", repeat_from, least=1, most=chart.shape[1])
    last_change = max(chart.yarns.of(role)[-1][0] for role in ROLES)
    if last_change > LARGEST_SIDE:
        raise WordingError(f"A yarn changes at row {last_change}, but no chart has more than {LARGEST_SIDE:,} rows.")
    across = repeats_across(chart.stitches, repeat, repeat_from)
    own = ChartLines(chart, tongue, style, foundation)
    lines = _lines(own, phrasing, breaking(chart, phrasing, repeat, across, repeat_from))
    chained = remarks.foundation(chart, tongue, style, foundation)
    multiple = remarks.multiple(chart, tongue, style, across, foundation)
    yarns = remarks.yarn_lines(chart.yarns, tongue, style)
    used = "\n".join(
        [
            *(f"{line.label} {line.text} {line.tally}" for line in lines),
            chained,
            multiple,
            *book_of(tongue).roles[0].values(),
        ]
    )
    written = WrittenRows(
        terms=tongue,
        style=style,
        heading=remarks.heading(chart, tongue, style),
        yarns=yarns,
        abbreviations=remarks.abbreviations(used, chart, tongue) if style == "short" else (),
        special_stitches=remarks.special_stitches(chart, tongue, style, between_rows, foundation),
        notes=remarks.notes(chart, tongue, style, between_rows, foundation, ends),
        multiple=multiple,
        foundation=chained,
        lines=lines,
    )
    what = f"A chart of {chart.shape[0]:,} rows × {chart.shape[1]:,} stitches takes"
    check_length(str(written), what, "write its parts one by one.", tongue)
    return written


def check_finished(foundation: object, ends: object, tongue: Tongue) -> None:
    """Raise `OptionError` unless a piece begins and ends in one of the ways that there are words for."""
    one_of("foundation", foundation, FOUNDATIONS)
    one_of("ends", ends, ENDS)
    if foundation == "foundation sc" and not book_of(tongue).foundation_sc:
        raise OptionError(
            f"Foundation sc has no published word in {terms_or_language(tongue)}: choose `foundation='chain'`, or "
            "write the rows in English."
        )


def _lines(own: ChartLines, phrasing: Phrasing, parts_of: Breaking) -> tuple[WrittenRow, ...]:
    chart = own.chart
    texts: dict[bytes, str] = {}
    lines = []
    for row, covered, block in plan(chart.stitches, own.yarns, own.changed, bool(own.first)):
        if covered:
            lines.append(_again(own, row, row + covered - 1, block))
            continue
        stitches = chart.stitches[row - 1]
        key = stitches.tobytes()
        if row == 1 and own.first:
            text = own.first
        else:
            if key not in texts:
                texts[key] = own.words(parts_of(stitches), every=phrasing == "natural")
            text = texts[key]
        lines.append(_one(own, row, text))
    return tuple(lines)


def _one(own: ChartLines, row: int, text: str) -> WrittenRow:
    count = own.chart.shape[1]
    told = own.tally(str(count), count)
    tally = f"({told})" if own.style == "short" else own.book.in_all.format(told=told)
    colour = own.chart.row_colours[row - 1]
    return WrittenRow(row, row, colour, own.label(row, row), own.change(row), text, count, None, tally)


def _again(own: ChartLines, first: int, last: int, block: tuple[int, int]) -> WrittenRow:
    times = (last - first + 1) // (block[1] - block[0] + 1)
    label, words = own.again(own.span(first, last), block, str(times) if times > 1 else "")
    colour, count = own.chart.row_colours[first - 1], own.chart.shape[1]
    return WrittenRow(first, last, colour, label, "", words, count, block, "")
