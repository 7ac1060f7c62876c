"""Checks: a row as it was worked held against the row as charted.

For a maker who has gone wrong it is said where, and how far back the cure is: in the row in hand, by dropping a longer
stitch down later, or by pulling rows out. That a missed front loop double crochet may be made up for by a longer one is
common practice, no source; everything else follows from the loops.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from mosaickit import orientation
from mosaickit.errors import OptionError, StitchError, of_kind, shortly, whole_number
from mosaickit.fabric import Chart, Stitch, work
from mosaickit.wording.differences import Difference, in_lines
from mosaickit.wording.languages import book_of, in_tongue, tongue_of
from mosaickit.wording.reading import read_closely
from mosaickit.wording.terms import Terms, Tongue

Way = Literal["nothing to mend", "in this row", "drop down", "go back"]


@dataclass(frozen=True, eq=False, repr=False)
class RowCheck:
    """Where a row as worked left the chart, and the nearest way to mend it.

    Attributes
    ----------
    row, now : int
        The row that was worked, and the row in hand, from 1.
    differences : tuple of Difference
        The stitches that are not as charted.
    way : str
        "nothing to mend", "in this row": pull back within the row in hand; "drop down": a longer stitch of a row to
        come covers it; or "go back": pull rows out.
    drop_in : int or None
        The row that the longer stitches are dropped from, if that is the way.
    rows_back : int
        How many whole rows are pulled out, if that is the way, beside part of the row itself.
    trouble : str
        If it is left as it is: why the rest cannot be worked as charted; empty if it can.
    wrong_front, wrong_back : int or None
        If it is left as it is and the rest worked as charted: how many squares of each face look otherwise.
    """

    row: int
    now: int
    differences: tuple[Difference, ...]
    way: Way
    drop_in: int | None
    rows_back: int
    trouble: str
    wrong_front: int | None
    wrong_back: int | None

    def __str__(self) -> str:
        if not self.differences:
            return f"Row {self.row} is as charted."
        return "\n".join([*in_lines(self.differences), self._cure(), self._left()])

    def _cure(self) -> str:
        stitch = self.differences[0].stitch
        if self.way == "in this row":
            return f"Pull row {self.row} back to before stitch {stitch}, and work on from there."
        if self.way == "drop down":
            where = "stitch" if len(self.differences) == 1 else "each of these stitches"
            depth = (self.drop_in or 0) - self.row + 2
            return (
                f"Nothing need be pulled out: in row {self.drop_in}, at the same {where}, work the double crochet "
                f"{depth} rows down instead of two, into the front loop that was left free in row {self.row - 2}, as a "
                "longer stitch that hides what is between."
            )
        rows = f"{self.rows_back} {'row' if self.rows_back == 1 else 'rows'}"
        return (
            f"Pull out {rows}, down to row {self.row + 1}, and row {self.row} back to before stitch {stitch}; work on "
            "from there."
        )

    def _left(self) -> str:
        if self.trouble:
            return f"It cannot be left: {self.trouble}"
        front, back = (
            f"{count} {'square' if count == 1 else 'squares'}" for count in (self.wrong_front, self.wrong_back)
        )
        return f"Left as it is, {front} of the front and {back} of the back look otherwise than charted."

    def __repr__(self) -> str:
        return f"<RowCheck row {self.row}, {self.way}>"


def check_row(
    chart: Chart,
    row: int,
    worked: str | Sequence[Stitch],
    *,
    now: int | None = None,
    terms: Terms | None = None,
    language: str = "en",
) -> RowCheck:
    """Say where a row as it was worked left the chart, and how it is mended.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches.
    row : int
        Which row was worked, from 1.
    worked : str, or sequence of Stitch
        Its stitches in working order: the words of a row ("BLsc in next 4 sts, FLdc in next st"), or the stitches
        themselves.
    now : int, optional
        The row in hand, `row` or later: the rows between are as charted. Left out, it is the row itself.
    terms : "US" or "UK", optional
        The terms of English words; US terms if left out.
    language : str
        The language of the words by its code, as "de".

    Returns
    -------
    RowCheck
        The differences, the nearest way to mend them, and what happens if they are left.

    Raises
    ------
    OptionError
        If there is no such row, or an argument is not as described.
    WordingError
        If the words are no stitches.

    Examples
    --------
    >>> chart = Chart.from_text('''
    ... .|..
    ... ....
    ... .|..
    ... ....
    ... ....
    ... ''')
    >>> missed = check_row(chart, 3, "BLsc in next 4 sts", now=4)
    >>> print(missed.differences[0])
    Row 3, stitch 3: expected FLdc, found BLsc.
    >>> missed.way, missed.drop_in, missed.wrong_front
    ('drop down', 5, 1)
    """
    of_kind("chart", chart, Chart)
    rows = chart.shape[0]
    row = whole_number("row", row, least=1)
    now = row if now is None else whole_number("now", now, least=row)
    if max(row, now) > rows:
        raise OptionError(f"`row` and `now` must be rows from 1 to {rows}; got {row} and {now}.")
    tongue = tongue_of(terms, language)
    found, expected = _stitches(worked, tongue), chart.stitches[row - 1].tolist()
    differences = tuple(
        Difference(
            row, number + 1, *(Stitch(line[number]) if number < len(line) else None for line in (expected, found))
        )
        for number in range(max(len(expected), len(found)))
        if number >= min(len(expected), len(found)) or expected[number] != found[number]
    )
    if not differences:
        return RowCheck(row, now, (), "nothing to mend", None, 0, "", 0, 0)
    trouble, wrong = _left(chart, row, found)
    drop_in = _drop_in(chart, row, now, differences)
    way: Way = "in this row" if now == row else "drop down" if drop_in is not None else "go back"
    return RowCheck(
        row,
        now,
        differences,
        way,
        drop_in if way == "drop down" else None,
        now - row if way == "go back" else 0,
        trouble,
        *wrong,
    )


def _stitches(worked: str | Sequence[Stitch], tongue: Tongue) -> list[int]:
    if not isinstance(worked, str):
        stitches = list(worked) if isinstance(worked, Iterable) else []
        if not stitches or not all(isinstance(stitch, Stitch) for stitch in stitches):
            raise OptionError(f"`worked` must be the words of a row, or stitches; got {shortly(worked)}.")
        return [int(stitch) for stitch in stitches]
    book = book_of(tongue)
    label = book.label[0].format(row=book.row_words[0], n=1, colour=book.roles[0]["MC"])
    read = read_closely(f"{label}: {worked.strip()}", **in_tongue(tongue)).chart
    return [int(stitch) for stitch in read.stitches[0]]


def _left(chart: Chart, row: int, found: list[int]) -> tuple[str, tuple[int | None, int | None]]:
    """Say what comes of working on as charted: why that fails, or how many squares of each face look otherwise."""
    if len(found) != chart.shape[1]:
        more = "more" if len(found) > chart.shape[1] else "fewer"
        return f"row {row} has {len(found)} stitches, {more} than the {chart.shape[1]} charted.", (None, None)
    stitches = chart.stitches.copy()
    stitches[row - 1] = found
    try:
        fabric, right = work(replace(chart, stitches=stitches)), work(chart)
    except StitchError as error:
        return str(error), (None, None)
    return "", (int((fabric.front != right.front).sum()), int((fabric.back != right.back).sum()))


def _drop_in(chart: Chart, row: int, now: int, differences: tuple[Difference, ...]) -> int | None:
    """Give the row from which longer stitches can cover what was missed, None if none can.

    The stitch hangs from its row over everything below it, down to the square that was to be covered, so all of these
    must show the row's colour. The back is mended by no stitch in front, so reversible work is left out.
    """
    drop_in = now + (now - row) % 2
    if drop_in == row or drop_in > chart.shape[0] or chart.reversible:
        return None
    if any((one.expected, one.found) != (Stitch.FLDC, Stitch.BLSC) for one in differences):
        return None
    cc = chart.row_colours[row - 1] == "CC"
    front = orientation.to_working(work(chart).front, chart.hand)
    columns = [one.stitch - 1 for one in differences]
    hidden = front[row - 2 : drop_in - 1, columns]
    return drop_in if bool((hidden == cc).all()) else None
