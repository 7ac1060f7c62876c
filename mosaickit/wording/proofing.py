"""Proofs: a text held against its chart, and a row as it was worked held against the row as charted.

A proof says which stitches differ, what the fabric would look like, and whether a hook could work it. For a maker who
has gone wrong it says where, and how far back the cure is: in the row in hand, by dropping a longer stitch down later,
or by pulling rows out. That a missed front loop double crochet may be made up for by a longer one is common practice,
no source; everything else follows from the loops.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import Yarn
from mosaickit.errors import OptionError, StitchError, of_kind, one_of, whole_number
from mosaickit.fabric import Chart, Fabric, Stitch, work
from mosaickit.wording.faults import Fault, WordingError
from mosaickit.wording.reading import read_closely
from mosaickit.wording.terms import TERMS, Terms

_SHOWN = 10
"""A proof as text shows so many differences."""

# ---- a text against its chart ------------------------------------------------------------------------------


@dataclass(frozen=True)
class Difference:
    """A stitch that is not the one that was expected.

    Attributes
    ----------
    row, stitch : int
        Where, from 1, in working order.
    expected, found : Stitch or None
        What the chart has and what there is; None beyond the end of a row.
    line, column : int or None
        Where in the text, from 1, if there is one.
    """

    row: int
    stitch: int
    expected: Stitch | None
    found: Stitch | None
    line: int | None = None
    column: int | None = None

    def __str__(self) -> str:
        expected, found = (
            "no stitch" if stitch is None else stitch.abbreviation for stitch in (self.expected, self.found)
        )
        place = f" (line {self.line}, column {self.column})" if self.line is not None else ""
        return f"Row {self.row}, stitch {self.stitch}: expected {expected}, found {found}{place}."


@dataclass(frozen=True, eq=False, repr=False)
class Proof:
    """A text held against a chart.

    Attributes
    ----------
    chart : Chart
        What was expected.
    found : Chart or None
        What the text says; None if it cannot be read.
    faults : tuple of Fault
        Why it cannot be read, all of it.
    about : tuple of str
        How the two differ as a whole: size, colours, yarns, how they are worked.
    differences : tuple of Difference
        The stitches that differ, row 1 first, as far as both charts reach.
    """

    chart: Chart
    found: Chart | None
    faults: tuple[Fault, ...]
    about: tuple[str, ...]
    differences: tuple[Difference, ...]

    @property
    def ok(self) -> bool:
        """Whether the text says what the chart does."""
        return self.found is not None and not self.about and not self.differences

    @cached_property
    def _worked(self) -> tuple[Fabric | None, str]:
        """What the text makes, or why it makes nothing."""
        if self.found is None:
            return None, ""
        try:
            return work(self.found), ""
        except StitchError as error:
            return None, str(error)

    @property
    def fabric(self) -> Fabric | None:
        """What the text makes, None if it makes nothing."""
        return self._worked[0]

    @property
    def trouble(self) -> str:
        """Why no hook can work what the text says; empty if one can, or if the text cannot be read."""
        return self._worked[1]

    @cached_property
    def _charted(self) -> Fabric:
        return work(self.chart)

    def wrong(self, side: Literal["front", "back"] = "front") -> NDArray[np.bool_] | None:
        """Say which squares of a face look otherwise than charted.

        Parameters
        ----------
        side : "front" or "back"
            Which face.

        Returns
        -------
        bool array, (R, N), or None
            As seen from that side; None if the text makes no fabric, or one of another size.
        """
        one_of("side", side, ("front", "back"))
        if self.fabric is None or self.fabric.shape != self.chart.shape:
            return None
        found, expected = (getattr(fabric, side) for fabric in (self.fabric, self._charted))
        return np.asarray(found != expected)

    def __str__(self) -> str:
        if self.found is None:
            return f"The text cannot be read.\n{WordingError.of(list(self.faults))}"
        if self.ok:
            return "The text and the chart are the same."
        count = len(self.differences)
        lines = [*self.about, f"{count} {'stitch differs' if count == 1 else 'stitches differ'}."]
        lines += [str(one) for one in self.differences[:_SHOWN]]
        if count > _SHOWN:
            lines.append(f"… and {count - _SHOWN} more.")
        lines.append(f"A hook cannot work it: {self.trouble}" if self.trouble else "A hook can work it all the same.")
        return "\n".join(lines)

    def __repr__(self) -> str:
        return f"<Proof {str(self).splitlines()[0]}>"


def proof(text: str, chart: Chart, *, terms: Terms | None = None) -> Proof:
    """Hold a text, edited or a stranger's, against a chart.

    Parameters
    ----------
    text : str
        Written rows, as `read_rows` takes them.
    chart : Chart
        (R, N) stitches: what the text ought to say.
    terms : "US" or "UK", optional
        The terms of the stitches, if the text does not say.

    Returns
    -------
    Proof
        What differs, and what that makes. A text that cannot be read is a proof as well, with all its faults.

    Raises
    ------
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> chart = Chart.from_text('''
    ... ..|.
    ... ....
    ... ....
    ... ''')
    >>> print(proof('''Written in US terms
    ... Row 1 (MC): sc in next 4 sts
    ... Row 2 (CC): BLsc across
    ... Row 3 (MC): BLsc in next 2 sts, FLdc in next st, BLsc in last st''', chart))
    2 stitches differ.
    Row 3, stitch 2: expected FLdc, found BLsc (line 4, column 13).
    Row 3, stitch 3: expected BLsc, found FLdc (line 4, column 33).
    A hook can work it all the same.
    """
    of_kind("chart", chart, Chart)
    try:
        reading = read_closely(text, terms=terms)
    except WordingError as error:
        if not error.faults:
            raise
        return Proof(chart, None, error.faults, (), ())
    found = reading.chart
    places = {row.row: row.places for row in reading.rows}
    rows, stitches = (min(pair) for pair in zip(chart.shape, found.shape, strict=True))
    differ = np.argwhere(chart.stitches[:rows, :stitches] != found.stitches[:rows, :stitches])
    return Proof(
        chart,
        found,
        (),
        _about(chart, found),
        tuple(
            Difference(
                row + 1,
                stitch + 1,
                Stitch(chart.stitches[row, stitch]),
                Stitch(found.stitches[row, stitch]),
                *places[row + 1][stitch].tolist(),
            )
            for row, stitch in differ.tolist()
        ),
    )


def _about(chart: Chart, found: Chart) -> tuple[str, ...]:
    """Say how two charts differ as a whole."""
    (rows, stitches), (found_rows, found_stitches) = chart.shape, found.shape
    pairs = (
        ("rows", rows, found_rows),
        ("stitches a row", stitches, found_stitches),
        ("row 1 in", chart.first, found.first),
        ("work", *("in the round" if one.in_the_round else "flat" for one in (chart, found))),
        ("a hook in the hand", chart.hand, found.hand),
    )
    return (
        *(f"Expected {what}: {one}; found {other}." for what, one, other in pairs if one != other),
        *(sentence for role in orientation.ROLES for sentence in _yarns(chart, found, role)),
    )


def _yarns(chart: Chart, found: Chart, role: orientation.Role) -> Iterator[str]:
    """Say in which rows of a colour the text has another yarn than the chart, as far as both reach."""
    rows: dict[tuple[Yarn, Yarn], list[int]] = {}
    both = min(len(chart.row_colours), len(found.row_colours))
    pairs = zip(chart.yarns.by_row(both, role), found.yarns.by_row(both, role), strict=True)
    for row, (colour, pair) in enumerate(zip(chart.row_colours, pairs, strict=False), 1):
        if colour == role and pair[0] != pair[1]:
            rows.setdefault(pair, []).append(row)
    for (one, other), where in rows.items():
        stretches = [f"{start} to {end}" if start < end else f"{start}" for start, end in _stretches(where)]
        some = ", ".join(stretches[:_SHOWN]) + (" and more" if len(stretches) > _SHOWN else "")
        yield (
            f"Expected {role} in {'row' if len(where) == 1 else 'rows'} {some}: {one.name} {one.colour}; found "
            f"{other.name} {other.colour}."
        )


def _stretches(rows: list[int]) -> list[tuple[int, int]]:
    """Join rows of one colour, which are two apart, to stretches, as (first, last)."""
    found: list[tuple[int, int]] = []
    for row in rows:
        if found and row == found[-1][1] + 2:
            found[-1] = (found[-1][0], row)
        else:
            found.append((row, row))
    return found


# ---- a row as it was worked --------------------------------------------------------------------------------

Way = Literal["nothing to mend", "in this row", "drop down", "go back"]


@dataclass(frozen=True, eq=False, repr=False)
class Mend:
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
        lines = [str(one) for one in self.differences[:_SHOWN]]
        if len(self.differences) > _SHOWN:
            lines.append(f"… and {len(self.differences) - _SHOWN} more.")
        return "\n".join([*lines, self._cure(), self._left()])

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
        return f"<Mend row {self.row}, {self.way}>"


def mend(
    chart: Chart, row: int, worked: str | Sequence[Stitch], *, now: int | None = None, terms: Terms = "US"
) -> Mend:
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
    terms : "US" or "UK"
        The terms of the words.

    Returns
    -------
    Mend
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
    >>> missed = mend(chart, 3, "BLsc in next 4 sts", now=4)
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
    one_of("terms", terms, TERMS)
    found, expected = _stitches(worked, terms), chart.stitches[row - 1].tolist()
    differences = tuple(
        Difference(
            row, number + 1, *(Stitch(line[number]) if number < len(line) else None for line in (expected, found))
        )
        for number in range(max(len(expected), len(found)))
        if number >= min(len(expected), len(found)) or expected[number] != found[number]
    )
    if not differences:
        return Mend(row, now, (), "nothing to mend", None, 0, "", 0, 0)
    trouble, wrong = _left(chart, row, found)
    drop_in = _drop_in(chart, row, now, differences)
    way: Way = "in this row" if now == row else "drop down" if drop_in is not None else "go back"
    return Mend(
        row,
        now,
        differences,
        way,
        drop_in if way == "drop down" else None,
        now - row if way == "go back" else 0,
        trouble,
        *wrong,
    )


def _stitches(worked: str | Sequence[Stitch], terms: Terms) -> list[int]:
    if not isinstance(worked, str):
        stitches = list(worked)
        if not stitches or not all(isinstance(stitch, Stitch) for stitch in stitches):
            raise OptionError(f"`worked` must be the words of a row, or stitches; got {worked!r}.")
        return [int(stitch) for stitch in stitches]
    read = read_closely(f"Row 1 (MC): {worked.strip()}", terms=terms).chart
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
