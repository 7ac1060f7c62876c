"""One text of written rows for several sizes: what differs stands as ``16 (24, 32)``, a number for each size.

The sizes are written one by one and laid over each other. Where two differ in numbers only, the numbers are set side
by side; a row whose words differ is written once for each size, with the reason above it. Where one size has
more repeats upward than another, a line says how many more times each size works them. `read_sizes` takes the text
apart again: it picks the numbers of one size, and reads what is left as any text of written rows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from mosaickit.errors import OptionError, of_kind, one_of, shortly, whole_number
from mosaickit.fabric import Chart, Ends, Foundation
from mosaickit.motif import BETWEEN_ROWS, BetweenRows
from mosaickit.wording import remarks
from mosaickit.wording.again import plan
from mosaickit.wording.alike import alike_across, alike_up
from mosaickit.wording.languages import book_of, in_tongue, terms_or_language, tongue_of
from mosaickit.wording.natural import natural
from mosaickit.wording.series import MOST_SIZES, check_size_name, in_series, merged
from mosaickit.wording.setting import ChartLines, check_length, whole_text
from mosaickit.wording.terms import STYLES, Style, Terms, Tongue
from mosaickit.wording.writing import check_finished, write_rows


@dataclass(frozen=True)
class SizedRow:
    """A line of rows for several sizes.

    Attributes
    ----------
    label, text, tally : str
        What stands before the colon, what to work, and the count; see `WrittenRow`.
    rows : tuple of (int, int) or None
        For each size the first and last row that it stands for; None where it is not worked.
    """

    label: str
    text: str
    tally: str
    rows: tuple[tuple[int, int] | None, ...]

    def __str__(self) -> str:
        return " ".join(filter(None, (f"{self.label}:", f"{self.text}.", self.tally)))


@dataclass(frozen=True, repr=False)
class WrittenSizes:
    """Charts of several sizes in words; `str` gives the whole text.

    Attributes
    ----------
    names : tuple of str
        The sizes, in the order in which their numbers stand.
    terms, style
        As of `WrittenRows`; so are `heading`, `yarns`, `abbreviations`, `special_stitches`, `notes`, `multiple` and
        `foundation`, with a number for each size where they differ.
    lines : tuple of SizedRow
        The rows, row 1 first; those that hold for one size only say so in their label.
    """

    names: tuple[str, ...]
    terms: Tongue
    style: Style
    heading: tuple[str, ...]
    yarns: tuple[str, ...]
    abbreviations: tuple[tuple[str, str], ...]
    special_stitches: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    multiple: tuple[str, ...]
    foundation: tuple[str, ...]
    lines: tuple[SizedRow | str, ...]

    def __str__(self) -> str:
        below = (*self.multiple, *self.foundation, *map(str, self.lines))
        return whole_text(
            self.heading, self.yarns, self.abbreviations, self.special_stitches, self.notes, below, self.terms
        )

    def __repr__(self) -> str:
        told = terms_or_language(self.terms)
        return f"<WrittenSizes {in_series(self.names)}, {len(self.lines)} lines, {told}, {self.style}>"


# ---- writing -----------------------------------------------------------------------------------------------


def write_sizes(
    charts: Mapping[str, Chart],
    *,
    terms: Terms | None = None,
    language: str = "en",
    style: Style = "short",
    repeat: int | None = None,
    repeat_from: int | None = None,
    between_rows: BetweenRows = "carried",
    foundation: Foundation = "chain",
    ends: Ends = "as they come",
) -> WrittenSizes:
    r"""Write the charts of several sizes as one text.

    Parameters
    ----------
    charts : dict of name to Chart
        2 to 12 sizes, the smallest first, of the same kind of fabric, hand and yarns. A name is a short text without
        commas, colons, brackets and quotes.
    terms, language, style, repeat, repeat_from, between_rows, foundation, ends
        As of `write_rows`, and the same for all sizes; rows have its natural phrasing.

    Returns
    -------
    WrittenSizes
        `read_sizes` gives the very charts back.

    Raises
    ------
    OptionError
        If an argument is not as described, or the charts do not belong together.
    WordingError
        If the text were too long to be read back.

    Examples
    --------
    >>> sizes = {n: Chart.from_text(f"{'.||.' * k}\n{'....' * k}\n{'....' * k}") for n, k in (("S", 2), ("M", 3))}
    >>> print(write_sizes(sizes).lines[2])
    Row 3 (MC): *BLsc in next st, FLdc in next 2 sts, BLsc in next st; rep from * 1 (2) more times. 8 (12) sts.
    """
    tongue = tongue_of(terms, language)
    book = book_of(tongue)
    one_of("style", style, STYLES)
    one_of("between_rows", between_rows, BETWEEN_ROWS)
    check_finished(foundation, ends, tongue)
    if repeat is not None:
        repeat = whole_number("repeat", repeat, least=1)
    names = _checked(charts)
    if repeat_from is not None:
        most = min(chart.shape[1] for chart in charts.values())
        repeat_from = whole_number("repeat_from", repeat_from, least=1, most=most)
    sizes = _Sizes(names, tuple(charts.values()), tongue, style, repeat, repeat_from, foundation)
    lines = sizes.lines()
    each = list(charts.values())
    chained = sizes.told([[remarks.foundation(chart, tongue, style, foundation)] for chart in each])
    multiple = sizes.told(
        [[remarks.multiple(chart, tongue, style, across, foundation)] for chart, across in sizes.repeated]
    )
    used = "\n".join([*map(str, lines), *chained, *multiple, *book.roles[0].values()])
    found: dict[str, str] = {}
    special: dict[str, str] = {}
    for chart in each:
        found |= dict(remarks.abbreviations(used, chart, tongue) if style == "short" else ())
        special |= dict(remarks.special_stitches(chart, tongue, style, between_rows, foundation))
    first = each[0]
    written = WrittenSizes(
        names=names,
        terms=tongue,
        style=style,
        heading=(*remarks.heading(first, tongue, style), book.sizes.format(names=in_series(names))),
        yarns=sizes.told([remarks.yarn_lines(chart.yarns, tongue, style) for chart in each]),
        abbreviations=tuple(sorted(found.items(), key=lambda pair: pair[0].lower())),
        special_stitches=tuple(special.items()),
        notes=(
            book.sizes_note.format(names=in_series(names)),
            *sizes.told([remarks.notes(chart, tongue, style, between_rows, foundation, ends) for chart in each]),
        ),
        multiple=multiple,
        foundation=chained,
        lines=lines,
    )
    check_length(str(written), "These sizes take", "write each by itself.", tongue)
    return written


def _checked(charts: Mapping[str, Chart]) -> tuple[str, ...]:
    """Give the names of sizes that belong together; raises `OptionError` if they do not."""
    if not isinstance(charts, Mapping) or not 2 <= len(charts) <= MOST_SIZES:
        got = f"{len(charts)} sizes" if isinstance(charts, Mapping) else shortly(charts)
        raise OptionError(f"`charts` must be 2 to {MOST_SIZES} sizes, each with its name; got {got}.")
    for name, chart in charts.items():
        check_size_name(name)
        of_kind(f"charts[{name!r}]", chart, Chart)
    first = next(iter(charts.values()))
    for name, chart in charts.items():
        for what in ("hand", "in_the_round", "first", "name"):
            if getattr(chart, what) != getattr(first, what):
                raise OptionError(
                    f"All sizes must be worked alike; size {name} differs in its "
                    f"{'first colour' if what == 'first' else what.replace('_', ' ')}."
                )
    return tuple(charts)


class _Sizes:
    """The charts of several sizes, and the lines that say them all."""

    def __init__(
        self,
        names: tuple[str, ...],
        charts: tuple[Chart, ...],
        terms: Tongue,
        style: Style,
        repeat: int | None,
        repeat_from: int | None,
        foundation: Foundation,
    ) -> None:
        self.names, self.charts, self.terms, self.style = names, charts, terms, style
        self.repeat, self.repeat_from, self.foundation = repeat, repeat_from, foundation
        self.book = book_of(terms)
        self.repeated = list(zip(charts, alike_across(charts, repeat, repeat_from), strict=True))
        self.own = [ChartLines(chart, terms, style, foundation) for chart in charts]

    def told(self, remarked: Sequence[Sequence[str]]) -> tuple[str, ...]:
        """Lay what is said of each size over each other; what differs in words is said for each size."""
        each = [(name, said) for name, own in zip(self.names, remarked, strict=True) for said in own if said]
        if len({len(own) for own in remarked}) > 1:
            return tuple(self.book.for_size.format(name=name, said=said) for name, said in each)
        found: list[str] = []
        for same in zip(*remarked, strict=True):
            one = merged(same, book=self.book)
            if one is None:
                found += [
                    self.book.for_size.format(name=name, said=said)
                    for name, said in zip(self.names, same, strict=True)
                    if said
                ]
            elif one:
                found.append(one)
        return tuple(found)

    # ---- rows ------------------------------------------------------------------------------------------

    def lines(self) -> tuple[SizedRow | str, ...]:
        """Lay the rows of all sizes over each other, from the bottom and from the top."""
        heights = [chart.shape[0] for chart in self.charts]
        found = (heights[0], 0, [0] * len(heights)) if len(set(heights)) == 1 else alike_up(self.keys, heights)
        if found is None:
            return self.one_by_one()
        below, block, times = found
        lines = self.base(below, block, times)
        if block:
            lines.append(
                self.again(
                    below + 1, below + block, [max(often - 1, 0) for often in times], [below + block] * len(times)
                )
            )
        ends = [below + block * often for often in times]
        above = heights[0] - ends[0]
        rows = list(zip(*(range(end + 1, end + above + 1) for end in ends), strict=True))
        alike = self.like_the_block(below, block, rows) if min(times, default=0) else 0
        if alike > 1:
            lines.append(self.again(below + 1, below + alike, [1] * len(ends), ends))
            rows = rows[alike:]
        for each in rows:
            lines += self.row(each)
        return tuple(lines)

    def base(self, below: int, block: int, times: list[int]) -> list[SizedRow | str]:
        """Give the rows that all sizes start with and those of the block, where they have the same numbers."""
        lines: list[SizedRow | str] = []
        full = [place for place, often in enumerate(times) if often or not block]
        rows = below + block
        stitches = np.hstack([self.charts[place].stitches[:rows] for place in full])
        yarns = list(zip(*(self.own[place].yarns[:rows] for place in full), strict=True))
        changed = [any(self.own[place].changed[row] for place in full) for row in range(rows)]
        planned = plan(stitches, yarns, changed, bool(self.own[full[0]].first))
        for row, covered, source in planned:
            if not covered or row <= below < row + covered - 1:
                # a line that some sizes would leave in its middle is written out
                for each in range(row, row + max(covered, 1)):
                    lines += self.row([each if each <= below or often else None for often in times or [1]])
                continue
            worked = [1 if row <= below or often else 0 for often in times]
            repeated = covered // (source[1] - source[0] + 1)
            lines.append(self.again(*source, [repeated * one for one in worked], [row - 1] * len(times)))
        return lines

    def like_the_block(self, below: int, block: int, rows: list[tuple[int, ...]]) -> int:
        """Count the rows from the given ones on that are as those of the block are."""
        for number, each in enumerate(rows[:block]):
            if any(own[row - 1] != own[below + number] for own, row in zip(self.keys, each, strict=True)):
                return number
        return min(len(rows), block)

    def one_by_one(self) -> tuple[SizedRow | str, ...]:
        """Give the rows of every size by themselves."""
        several = self.book.rows(in_the_round=self.charts[0].in_the_round, style="plain words")[1]
        lines: list[SizedRow | str] = [self.book.all_differ.format(rows=several)]
        for place, (name, chart) in enumerate(zip(self.names, self.charts, strict=True)):
            written = write_rows(
                chart,
                **in_tongue(self.terms),
                style=self.style,
                repeat=self.repeat,
                repeat_from=self.repeat_from,
                foundation=self.foundation,
            )
            for line in written.lines:
                worked = tuple((line.first, line.last) if at == place else None for at in range(len(self.names)))
                words = " ".join(filter(None, (line.change, line.text)))
                lines.append(SizedRow(self.book.for_size.format(name=name, said=line.label), words, line.tally, worked))
        return tuple(lines)

    @cached_property
    def keys(self) -> list[list[object]]:
        """What makes two rows of a size the same: stitches, colour, yarn, and whether the yarn is new."""
        return [
            list(zip(map(bytes, own.chart.stitches), own.chart.row_colours, own.yarns, own.changed, strict=True))
            for own in self.own
        ]

    def words(self, place: int, row: int) -> tuple[str, int]:
        """Put a row of a size in words; gives them and the number of its steps."""
        own, (chart, across) = self.own[place], self.repeated[place]
        parts = natural(chart.stitches[row - 1], across)
        said = own.first if row == 1 and own.first else own.words(parts)
        return " ".join(filter(None, (own.change(row), said))), len(parts)

    def tally(self, counts: Sequence[int]) -> str:
        told = self.own[0].tally(in_series(counts), max(counts))
        return f"{told}." if self.style == "short" else self.book.in_all.format(told=told)

    def row(self, rows: Sequence[int | None]) -> list[SizedRow | str]:
        """Give a row of all sizes: as one line, or as one for each size below the reason why; None is not worked."""
        worked = {place: row for place, row in enumerate(rows) if row}
        said = {place: self.words(place, row) for place, row in worked.items()}
        one = merged(
            [words for words, _ in said.values()], [place in worked for place in range(len(rows))], book=self.book
        )
        place, numbers = next(iter(worked)), in_series([row or 0 for row in rows])
        if one is not None:
            tally = self.tally([self.charts[at].shape[1] if at in worked else 0 for at in range(len(rows))])
            spans = tuple((row, row) if row else None for row in rows)
            return [SizedRow(self.own[place].label(worked[place], numbers), one, tally, spans)]
        steps = {at: number for at, (_, number) in said.items()}
        if len(set(steps.values())) > 1:
            told = ", ".join(self.book.steps_of.format(n=number, name=self.names[at]) for at, number in steps.items())
            why = self.book.why_steps.format(told=told)
        else:
            other = next(
                at for at, (words, _) in said.items() if merged([said[place][0], words], book=self.book) is None
            )
            why = self.book.why_order.format(other=self.names[other], one=self.names[place])
        return [
            self.book.differs.format(row=self.own[0].word, n=numbers, why=why),
            *(self.only(at, row) for at, row in worked.items()),
        ]

    def only(self, place: int, row: int) -> SizedRow:
        """Give a row of one size."""
        spans = tuple((row, row) if at == place else None for at in range(len(self.names)))
        label = self.book.for_size.format(name=self.names[place], said=self.own[place].label(row, row))
        return SizedRow(label, self.words(place, row)[0], self.tally([self.charts[place].shape[1]]), spans)

    def again(self, first: int, last: int, times: Sequence[int], after: Sequence[int]) -> SizedRow:
        """Give the line that repeats rows `times` times in each size, where it follows the row `after`."""
        block = last - first + 1
        spans = tuple(
            (start + 1, start + block * often) if often else None for start, often in zip(after, times, strict=True)
        )
        own = self.own[0]
        numbers = in_series(["0" if rows is None else own.span(*rows) for rows in spans])
        label, words = own.again(numbers, (first, last), "" if set(times) <= {0, 1} else in_series(times))
        return SizedRow(label, words, "", spans)
