"""A repeat that is charted once: which rows and stitches stand in its box, how often they are worked, and the proof.

A chart that comes again is drawn up to the end of one repeat, and from the end of the last one on. What is left out is
worked by repeating what stands in the box. Where the box lies is found in the chart itself, in its stitches and in the
colours of its squares, beginning with the size of the motif that was laid; so whatever is laid, a brick or mirrored,
what is charted is the true repeat, and a chart that has none is drawn in full. Everything is in working order, from 1.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.fabric import Chart
from mosaickit.motif import Motif
from mosaickit.publish.contents import several
from mosaickit.sizes import Design

FirstLast = tuple[int, int]
"""The first and the last of some rows or stitches, from 1."""

Numbers = NDArray[np.int64]


@dataclass(frozen=True)
class RepeatBox:
    """Rows and stitches that are charted once and worked several times.

    Attributes
    ----------
    rows, stitches : (int, int)
        First and last row, and stitch, that stand in the box.
    up, across : int
        How often in all they are worked, 1 or more.
    swaps : bool
        Whether MC and CC change places from one repeat up to the next, as an odd number of rows makes them.
    """

    rows: FirstLast
    stitches: FirstLast
    up: int
    across: int
    swaps: bool = False

    @property
    def shape(self) -> tuple[int, int]:
        """The rows and stitches of the box."""
        return self.rows[1] - self.rows[0] + 1, self.stitches[1] - self.stitches[0] + 1

    def drawn(self, shape: tuple[int, int]) -> tuple[Numbers, Numbers]:
        """Give the numbers of the rows and stitches of a chart of (R, N) that are drawn, the first first."""
        (rows, stitches), (high, wide) = shape, self.shape
        return _drawn(rows, self.rows[1], (self.up - 1) * high), _drawn(
            stitches, self.stitches[1], (self.across - 1) * wide
        )

    def unfold(self, drawn: NDArray[np.generic]) -> NDArray[np.generic]:
        """Work the drawn rows and stitches, (r, n), as the box says: gives those of the whole chart, (R, N)."""
        return _unfolded(_unfolded(drawn, self.rows, self.up).T, self.stitches, self.across).T


def _drawn(size: int, last: int, left_out: int) -> Numbers:
    return np.concatenate([np.arange(1, last + 1), np.arange(last + left_out + 1, size + 1)])


def _unfolded(lines: NDArray[np.generic], span: FirstLast, times: int) -> NDArray[np.generic]:
    first, last = span
    return np.concatenate([lines[: first - 1], *[lines[first - 1 : last]] * times, lines[last:]])


def box_of(chart: Chart, front: Motif, first_repeat: tuple[FirstLast, FirstLast]) -> RepeatBox | None:
    """Find what of a chart need be drawn once only.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches.
    front : Motif
        The front of it, with its yarns.
    first_repeat : two spans
        The rows and the stitches of the first repeat that was laid.

    Returns
    -------
    RepeatBox or None
        None if the chart has to be drawn in full.
    """
    keys = _squares(chart, front)
    up, across = (last - first + 1 for first, last in first_repeat)
    along = _found(_kinds(keys.T), [across], first_repeat[1][0], step=1)
    rows = _kinds(np.column_stack([keys, _bar(chart)]))
    above = _found(rows, [up, 2 * up], first_repeat[0][0], step=2)
    swaps = False
    if up % 2 and len(front.yarns.mc) == len(front.yarns.cc) == 1:
        # an odd number of rows may come again in the other colours, if every square does
        turned = _found(
            _kinds(np.column_stack([chart.stitches, _overlaid(chart, front)])), [up], first_repeat[0][0], step=1
        )
        if turned is not None and turned[0][1] - turned[0][0] + 1 == up:
            above, swaps = turned, True
    if along is None and above is None:
        return None
    whole_rows, whole_stitches = chart.shape
    (box_rows, times_up), (box_stitches, times_across) = (
        above or ((1, whole_rows), 1),
        along or ((1, whole_stitches), 1),
    )
    return RepeatBox(box_rows, box_stitches, times_up, times_across, swaps)


def _overlaid(chart: Chart, front: Motif) -> NDArray[np.bool_]:
    return orientation.to_working(front.overlaid, chart.hand)


def _squares(chart: Chart, front: Motif) -> NDArray[np.int64]:
    """Give each square a number that says its stitch and its yarn, (R, N) in working order."""
    yarns = _numbered(front.yarns.by_row(len(front.grid), role) for role in orientation.ROLES)
    shown = yarns[front.grid.astype(np.intp), front.shown_rows - 1]
    stitches: NDArray[np.int64] = chart.stitches + 8 * orientation.to_working(shown, chart.hand)
    return stitches


def _bar(chart: Chart) -> NDArray[np.int64]:
    """Give each row a number that says its colour and its yarn, (R,)."""
    of_rows = [(role, chart.yarns.at(row, role)) for row, role in enumerate(chart.row_colours, 1)]
    return _numbered([of_rows]).ravel()


def _numbered(lines: Iterable[Iterable[object]]) -> NDArray[np.int64]:
    seen: dict[object, int] = {}
    return np.array([[seen.setdefault(each, len(seen)) for each in line] for line in lines])


def _kinds(lines: NDArray[np.generic]) -> NDArray[np.int64]:
    """Give lines numbers, the same where they are equal, (K,)."""
    return _numbered([[np.ascontiguousarray(line).tobytes() for line in lines]]).ravel()


def _found(kinds: NDArray[np.int64], sizes: list[int], start: int, *, step: int) -> tuple[FirstLast, int] | None:
    """Find which lines come again, and how often in all; None if none do.

    The sizes are tried first. If none of them comes again, the size with which the fewest lines are left is taken, if
    it leaves out a third of them at least. Sizes are multiples of `step`.
    """
    for size in sizes:
        if size % step == 0 and (found := _again(kinds, size, start))[1] > 1:
            return found
    best, left = None, (2 * len(kinds)) // 3
    for size in range(2, len(kinds) // 2 + 1):
        span, times = _again(kinds, size, start) if size % step == 0 else ((1, 1), 1)
        if times > 1 and len(kinds) - (times - 1) * size <= left - (best is not None):
            best, left = (span, times), len(kinds) - (times - 1) * size
    return best


def _again(kinds: NDArray[np.int64], size: int, start: int) -> tuple[FirstLast, int]:
    """Find the longest stretch in which every line comes again `size` lines later: its first repeat, and how often.

    Of all places in it where as many repeats begin, the one is taken that lies as the repeats lie that were laid.
    """
    same = np.concatenate([[False], kinds[size:] == kinds[:-size], [False]])
    turns = np.flatnonzero(same[1:] != same[:-1])
    if len(turns) == 0:
        return (1, size), 1
    begins, lengths = turns[::2], turns[1::2] - turns[::2]
    longest = int(lengths.argmax())
    begin, length = int(begins[longest]), int(lengths[longest]) + size
    times = length // size
    spare = length - times * size
    shift = (start - 1 - begin) % size
    first = begin + (shift if shift <= spare else 0) + 1
    return (first, first + size - 1), times


def first_repeat(design: Design) -> tuple[FirstLast, FirstLast] | None:
    """Give the rows and the stitches of the first repeat that a design lays; None if it lays only one."""
    layout = design.layout
    if layout.across == layout.up == 1:
        return None
    repeats, under = layout.first_repeats
    rows, columns = repeats.sums.shape
    below, beside = layout.framed.rows_under + under, layout.surround.edge_stitches + layout.surround.rings
    if design.hand == "left":  # what closes a row lies at its start
        beside += repeats.balance_across
    return (below + 1, below + rows), (beside + 1, beside + columns)


class ChartView:
    """The rows and stitches of a chart that are drawn: all of them, or those that a box leaves.

    Attributes
    ----------
    box : RepeatBox or None
        None where all are drawn.
    rows, stitches : int arrays
        The maker's numbers of what is drawn, the first first.
    """

    def __init__(self, chart: Chart, box: RepeatBox | None = None) -> None:
        self.box, self.hand, self.whole = box, chart.hand, chart.shape
        self.word = "round" if chart.in_the_round else "row"
        rows, stitches = chart.shape
        self.rows, self.stitches = (
            box.drawn(chart.shape) if box else (np.arange(1, rows + 1), np.arange(1, stitches + 1))
        )

    @property
    def shape(self) -> tuple[int, int]:
        """How many rows and stitches are drawn."""
        return len(self.rows), len(self.stitches)

    def numbers(self, rows: FirstLast, stitches: FirstLast) -> tuple[Numbers, Numbers]:
        """Give the numbers of some of the drawn rows and stitches as seen: from the top, and from the left."""
        return (
            orientation.to_seen(self.rows[rows[0] - 1 : rows[1], np.newaxis], self.hand)[:, 0],
            orientation.to_seen(self.stitches[np.newaxis, stitches[0] - 1 : stitches[1]], self.hand)[0],
        )

    def window(self, rows: FirstLast, stitches: FirstLast) -> tuple[NDArray[np.intp], ...]:
        """Find them in an array as seen, as an index of it."""
        own, along = self.numbers(rows, stitches)
        top = [orientation.square(row, 1, self.whole, self.hand)[0] for row in own.tolist()]
        left = [orientation.square(1, stitch, self.whole, self.hand)[1] for stitch in along.tolist()]
        return np.ix_(top, left)

    def words(self, rows: FirstLast, stitches: FirstLast) -> str:
        """Say which they are."""
        own, along = self.rows[rows[0] - 1 : rows[1]], self.stitches[stitches[0] - 1 : stitches[1]]
        return f"{_in_words(self.word, own)}, {_in_words('stitch', along)}"


def _in_words(what: str, numbers: Numbers) -> str:
    """Write numbers that rise as runs, after what they count."""
    runs = np.split(numbers, np.flatnonzero(np.diff(numbers) > 1) + 1)
    said = " and ".join(f"{run[0]} to {run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs)
    return f"{several(len(numbers), what).split()[1]} {said}"
