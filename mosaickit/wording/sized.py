"""One text of written rows for several sizes: what differs stands as ``16 (24, 32)``, a number for each size.

The sizes are written one by one and laid over each other. Where two differ in numbers only, the numbers are set side
by side; a row whose words differ is written once for each size, with the reason above it. Rows between which one size
has more repeats than another are told as so many more times. `read_sizes` takes the text apart again: for each size it
picks that size's numbers and reads what is left as any text of written rows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from mosaickit.errors import OptionError, WordingError, of_kind, one_of, shortly, whole_number
from mosaickit.fabric import Chart
from mosaickit.motif import BETWEEN_ROWS, BetweenRows
from mosaickit.wording import remarks
from mosaickit.wording.again import plan
from mosaickit.wording.alike import alike_across, alike_up
from mosaickit.wording.faults import LONGEST_TEXT
from mosaickit.wording.natural import natural
from mosaickit.wording.phrases import plain, short
from mosaickit.wording.series import MOST_SIZES, check_size_name, merged, series
from mosaickit.wording.terms import ROLE_WORDS, STYLES, TERMS, Style, Terms, render
from mosaickit.wording.writing import section, write_rows


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
    terms: Terms
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
        sections = [
            "\n".join(self.heading),
            section("Yarns", self.yarns),
            section("Abbreviations", [": ".join(pair) for pair in self.abbreviations]),
            section("Special stitches", [": ".join(pair) for pair in self.special_stitches]),
            section("Notes", self.notes),
            "\n".join([*self.multiple, *self.foundation, *map(str, self.lines)]),
        ]
        return "\n\n".join(filter(None, sections)) + "\n"

    def __repr__(self) -> str:
        return f"<WrittenSizes {series(self.names)}, {len(self.lines)} lines, {self.terms} terms, {self.style}>"


# ---- writing -----------------------------------------------------------------------------------------------


def write_sizes(
    charts: Mapping[str, Chart],
    *,
    terms: Terms = "US",
    style: Style = "short",
    repeat: int | None = None,
    between_rows: BetweenRows = "carried",
) -> WrittenSizes:
    r"""Write the charts of several sizes as one text.

    Parameters
    ----------
    charts : dict of name to Chart
        2 to 12 sizes, the smallest first, of the same kind of fabric, hand and yarns. A name is a short text without
        commas, colons, brackets and quotes.
    terms, style, repeat, between_rows
        As of `write_rows`; rows have its natural phrasing.

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
    one_of("terms", terms, TERMS)
    one_of("style", style, STYLES)
    one_of("between_rows", between_rows, BETWEEN_ROWS)
    if repeat is not None:
        repeat = whole_number("repeat", repeat, least=1)
    names = _checked(charts)
    sizes = _Sizes(names, tuple(charts.values()), terms, style, repeat)
    lines = sizes.lines()
    each = list(charts.values())
    foundation = sizes.told([[remarks.foundation(chart, terms, style)] for chart in each])
    multiple = sizes.told([[remarks.multiple(chart, style, across)] for chart, across in sizes.repeated])
    used = "\n".join([*map(str, lines), *foundation, *multiple, "MC CC"])
    found: dict[str, str] = {}
    special: dict[str, str] = {}
    for chart in each:
        found |= dict(remarks.abbreviations(used, chart, terms) if style == "short" else ())
        special |= dict(remarks.special_stitches(chart, terms, style, between_rows))
    first = each[0]
    written = WrittenSizes(
        names=names,
        terms=terms,
        style=style,
        heading=(*remarks.heading(first, terms, style), f"Sizes: {series(names)}."),
        yarns=sizes.told([remarks.yarn_lines(chart.yarns, terms, style) for chart in each]),
        abbreviations=tuple(sorted(found.items(), key=lambda pair: pair[0].lower())),
        special_stitches=tuple(special.items()),
        notes=(
            f"The numbers stand for the sizes {series(names)}. A lone number holds for all of them; what has a 0 is "
            "not worked in that size.",
            *sizes.told([remarks.notes(chart, terms, style, between_rows) for chart in each]),
        ),
        multiple=multiple,
        foundation=foundation,
        lines=lines,
    )
    if len(str(written)) > LONGEST_TEXT:
        raise WordingError(
            f"These sizes take {len(str(written)):,} characters in words, and a text has at most {LONGEST_TEXT:,}: "
            "write each by itself."
        )
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
    """The charts of several sizes, and what is said of their rows."""

    def __init__(
        self, names: tuple[str, ...], charts: tuple[Chart, ...], terms: Terms, style: Style, repeat: int | None
    ) -> None:
        self.names, self.charts, self.terms, self.style, self.repeat = names, charts, terms, style, repeat
        self.repeated = list(zip(charts, alike_across(charts, repeat), strict=True))
        yarns = [[chart.yarns.at(row, colour) for row, colour in enumerate(chart.row_colours, 1)] for chart in charts]
        self.yarns = yarns
        self.changed = [[row > 2 and own[row - 1] != own[row - 3] for row in range(1, len(own) + 1)] for own in yarns]

    def told(self, remarked: Sequence[Sequence[str]]) -> tuple[str, ...]:
        """Lay what is said of each size over each other; what differs in words is said for each size."""
        said: list[str] = []
        if len({len(own) for own in remarked}) == 1:
            for same in zip(*remarked, strict=True):
                one = merged(same)
                said += (
                    [one] if one is not None else [f"For size {n}, {t}" for n, t in zip(self.names, same, strict=True)]
                )
        else:
            said += [f"For size {n}, {t}" for n, own in zip(self.names, remarked, strict=True) for t in own]
        return tuple(filter(None, said))

    # ---- rows ------------------------------------------------------------------------------------------

    def lines(self) -> tuple[SizedRow | str, ...]:
        """Lay the rows of all sizes over each other, from the bottom and from the top."""
        heights = [chart.shape[0] for chart in self.charts]
        found = (heights[0], 0, [0] * len(heights)) if len(set(heights)) == 1 else alike_up(self.keys(), heights)
        if found is None:
            return self.one_by_one()
        below, block, times = found
        lines = self.base(below, block, times)
        if block:
            lines.append(self.again(below + 1, below + block, [max(often - 1, 0) for often in times], below + block))
        ends = [below + block * often for often in times]
        above = heights[0] - ends[0]
        rows = list(zip(*(range(end + 1, end + above + 1) for end in ends), strict=True))
        alike = self.like_the_block(below, block, rows) if min(times, default=0) else 0
        if alike > 1:
            lines.append(self.again(below + 1, below + alike, [1] * len(ends), None, ends))
            rows = rows[alike:]
        for each in rows:
            lines += self.row(each)
        return tuple(lines)

    def base(self, below: int, block: int, times: list[int]) -> list[SizedRow | str]:
        """Give the rows that all sizes start with and those of the block, where they have the same numbers."""
        lines: list[SizedRow | str] = []
        full = [place for place, often in enumerate(times) if often or not block]
        first = full[0]
        rows = below + block
        stitches = np.hstack([self.charts[place].stitches[:rows] for place in full])
        alone = bool(remarks.first_row(self.charts[first], self.terms, self.style))
        yarns = list(zip(*(self.yarns[place][:rows] for place in full), strict=True))
        changed = [any(self.changed[place][row] for place in full) for row in range(rows)]
        planned = plan(stitches, yarns, changed, alone)
        for row, covered, source in planned:
            if not covered or row <= below < row + covered - 1:
                # a line that some sizes would leave in its middle is written out
                for each in range(row, row + max(covered, 1)):
                    lines += self.row([each if each <= below or often else None for often in times or [1]])
                continue
            worked = [1 if row <= below or often else 0 for often in times]
            repeated = covered // (source[1] - source[0] + 1)
            lines.append(self.again(*source, [repeated * one for one in worked], row - 1))
        return lines

    def like_the_block(self, below: int, block: int, rows: list[tuple[int, ...]]) -> int:
        """Count the rows from the given ones on that are as those of the block are."""
        keys = self.keys()
        for number, each in enumerate(rows[:block]):
            if any(own[row - 1] != own[below + number] for own, row in zip(keys, each, strict=True)):
                return number
        return min(len(rows), block)

    def one_by_one(self) -> tuple[SizedRow | str, ...]:
        """Give the rows of every size by themselves."""
        word = "Rounds differ" if self.charts[0].in_the_round else "Rows differ"
        lines: list[SizedRow | str] = [
            f"{word} by size: no even number of them is repeated from each size to the next."
        ]
        for place, (name, chart) in enumerate(zip(self.names, self.charts, strict=True)):
            for line in write_rows(chart, terms=self.terms, style=self.style, repeat=self.repeat).lines:
                worked = tuple((line.first, line.last) if at == place else None for at in range(len(self.names)))
                words = " ".join(filter(None, (line.change, line.text)))
                lines.append(SizedRow(f"For size {name}, {line.label}", words, line.tally, worked))
        return tuple(lines)

    def keys(self) -> list[list[object]]:
        """Give what makes two rows of a size the same: stitches, colour, yarn, and whether the yarn is new."""
        return [
            list(zip([row.tobytes() for row in chart.stitches], chart.row_colours, yarns, changed, strict=True))
            for chart, yarns, changed in zip(self.charts, self.yarns, self.changed, strict=True)
        ]

    def words(self, place: int, row: int) -> tuple[str, int]:
        """Put a row of a size in words; gives them and the number of its steps."""
        chart, across = self.repeated[place]
        parts = natural(chart.stitches[row - 1], across)
        said = remarks.first_row(chart, self.terms, self.style) if row == 1 else ""
        said = said or remarks.every_stitch(parts, chart, self.terms, self.style)
        said = said or (short if self.style == "short" else plain)(parts, self.terms)
        if self.changed[place][row - 1]:
            said = f"{remarks.change(self.yarns[place][row - 1], self.style)} {said}"
        return said, len(parts)

    def label(self, rows: Sequence[int | None], place: int = 0) -> str:
        """Say which row it is in each size, 0 where it is not worked, and its colour."""
        row = next(row for row in rows if row)
        colour = self.charts[place].row_colours[row - 1]
        numbers = series([row or 0 for row in rows])
        if self.style == "short":
            return f"{self.row_word} {numbers} ({colour})"
        return f"{self.row_word} {numbers}, {render(ROLE_WORDS[colour], self.terms)}"

    @property
    def row_word(self) -> str:
        if not self.charts[0].in_the_round:
            return "Row"
        return "Rnd" if self.style == "short" else "Round"

    def tally(self, counts: Sequence[int]) -> str:
        one, more = ("st", "sts") if self.style == "short" else ("stitch", "stitches")
        return f"{series(counts)} {more if max(counts) > 1 else one}{'.' if self.style == 'short' else ' in all.'}"

    def row(self, rows: Sequence[int | None]) -> list[SizedRow | str]:
        """Give a row of all sizes: as one line, or as one for each size below the reason why; None is not worked."""
        worked = {place: row for place, row in enumerate(rows) if row}
        said = {place: self.words(place, row) for place, row in worked.items()}
        one = merged([words for words, _ in said.values()], [place in worked for place in range(len(rows))])
        place = next(iter(worked))
        if one is not None:
            tally = self.tally([self.charts[at].shape[1] if at in worked else 0 for at in range(len(rows))])
            spans = tuple((row, row) if row else None for row in rows)
            return [SizedRow(self.label(rows, place), one, tally, spans)]
        steps = {at: number for at, (_, number) in said.items()}
        if len(set(steps.values())) > 1:
            told = ", ".join(f"{number} in size {self.names[at]}" for at, number in steps.items())
            why = f"its steps are {told}"
        else:
            other = next(at for at, (words, _) in said.items() if merged([said[place][0], words]) is None)
            why = f"its stitches come in another order in size {self.names[other]} than in size {self.names[place]}"
        return [
            f"{self.row_word} {series([row or 0 for row in rows])} differs by size: {why}.",
            *(self.only(at, row) for at, row in worked.items()),
        ]

    def only(self, place: int, row: int) -> SizedRow:
        """Give a row of one size."""
        spans = tuple((row, row) if at == place else None for at in range(len(self.names)))
        label = f"For size {self.names[place]}, {self.label([row], place)}"
        return SizedRow(label, self.words(place, row)[0], self.tally([self.charts[place].shape[1]]), spans)

    def again(
        self, first: int, last: int, times: Sequence[int], after: int | None, ends: Sequence[int] = ()
    ) -> SizedRow:
        """Give a line that repeats rows so many times in each size, after the row that it follows there."""
        to, verb = ("-", "rep") if self.style == "short" else (" to ", "repeat")
        starts = [after] * len(times) if after is not None else ends
        block = last - first + 1
        spans = tuple(
            (start + 1, start + block * often) if often else None for start, often in zip(starts, times, strict=True)
        )
        numbers = series(["0" if rows is None else f"{rows[0]}{to}{rows[1]}" for rows in spans])
        often = "" if set(times) <= {0, 1} else f", {series(times)} more times"
        words = f"{verb} {self.row_word.lower()}s {first}{to}{last}{often}"
        return SizedRow(f"{self.row_word}s {numbers}", words, "", spans)
