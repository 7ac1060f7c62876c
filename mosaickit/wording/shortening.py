"""The search for the shortest text of one row, in the grammar that `phrases` describes.

Three searches lie in each other. Stitches written run by run are as long as sums over runs say. What stands inside a
star repeat, runs and bracket repeats, is searched from every stitch to every other within reach at once. The row
itself, runs and star repeats, is searched from its first stitch on. All repeats, at every place with every period,
are found beforehand. So the result is exact, up to repeats of `LONGEST_REPEAT` stitches and rows of `LONGEST_EXACT`.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit.fabric import Stitch
from mosaickit.wording.phrases import Repeat, RowPart, Run, short

LONGEST_REPEAT = 200
"""Repeats of more stitches are not looked for, which rows of up to twice as many do not notice."""

LONGEST_EXACT = 2000
"""In rows of more stitches a repeat is looked for as often as it fits only, so that memory lasts."""

# lengths of the texts between the runs; a test holds what the search counted against what is printed
_SEPARATOR = len(", ")
_STAR, _MORE_TIMES = len("*; rep from * "), len(" more times")
_BRACKET, _TIMES = len("[] "), len(" times")

# a character weighs more than all breaks of a row at places that are not wanted
_CHARACTER = 1 << 20


@lru_cache(maxsize=256)
def _run_lengths(kind: int, most: int) -> NDArray[np.int64]:
    """Give the length of a run of 0 to `most` stitches of a kind (0 stands for nothing), (most + 1,)."""
    lengths = [len(short((Run(Stitch(kind), count),))) for count in range(1, most + 1)]
    return np.array([0, *lengths])


def _digits(numbers: NDArray[np.int64]) -> NDArray[np.int64]:
    digits: NDArray[np.int64] = np.searchsorted(10 ** np.arange(1, 6), numbers, side="right") + 1
    return digits


def agreeing(same: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Count from each place on how many follow each other that are so, (K,)."""
    here = np.arange(len(same))
    ends = np.where(same, len(same), here)
    counts: NDArray[np.int64] = np.minimum.accumulate(ends[::-1])[::-1] - here
    return counts


class _Row:
    """A row of n stitches with what the search asks of it."""

    def __init__(self, stitches: NDArray[np.uint8]) -> None:
        self.stitches = stitches
        self.n = n = len(stitches)
        starts = np.flatnonzero(np.concatenate([[True], stitches[1:] != stitches[:-1]]))
        ends = np.append(starts[1:], n)
        self.run_of = np.repeat(np.arange(len(starts)), ends - starts)
        self.run_start, self.run_end = starts[self.run_of], ends[self.run_of]
        longest = int((ends - starts).max())
        self.run_length = np.stack([_run_lengths(kind, longest) for kind in range(len(Stitch))])
        whole = self.run_length[stitches[starts], ends - starts] + _SEPARATOR
        self.runs_before = np.concatenate([[0], np.cumsum(whole)])

    def flat(self, i: NDArray[np.int64], j: NDArray[np.int64]) -> NDArray[np.int64]:
        """Give the length of stitches i to j (from 0, j not included) written run by run."""
        first, last = self.run_of[i], self.run_of[j - 1]
        head = self.run_length[self.stitches[i], np.minimum(self.run_end[i], j) - i]
        tail = self.run_length[self.stitches[j - 1], j - self.run_start[j - 1]] + _SEPARATOR
        between = self.runs_before[last] - self.runs_before[np.minimum(first + 1, last)]
        lengths: NDArray[np.int64] = head + np.where(first == last, 0, between + tail)
        return lengths

    def run(self, i: int, j: int) -> Run:
        """Give stitches i to j, which are of one kind, as a run."""
        return Run(Stitch(int(self.stitches[i])), j - i)

    def runs(self, i: int, j: int) -> tuple[Run, ...]:
        """Give stitches i to j run by run."""
        found = []
        while i < j:
            end = min(int(self.run_end[i]), j)
            found.append(self.run(i, end))
            i = end
        return tuple(found)

    def repeats(self) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.int64]]:
        """Find all repeats of 2 or more kinds of stitch: (start, period, times), all of the same length.

        A block that itself repeats a shorter one is left out: repeating that one oftener is shorter.
        """
        places: list[tuple[NDArray[np.int64], int]] = []
        agrees = np.zeros((min(self.n // 2, LONGEST_REPEAT) + 1, self.n), dtype=np.int32)
        for period in range(2, len(agrees)):
            same = self.stitches[:-period] == self.stitches[period:]
            here = np.arange(len(same))
            agrees[period, : len(same)] = agreeing(same)
            start = np.flatnonzero(
                (agrees[period, : len(same)] >= period) & (self.run_end[: len(same)] < here + period)
            )
            for shorter in range(2, period // 2 + 1):
                if start.size and period % shorter == 0:
                    start = start[agrees[shorter, start] < period - shorter]
            if start.size:
                places.append((start, period))
        if not places:
            nothing = np.zeros(0, dtype=np.int64)
            return nothing, nothing, nothing
        starts = np.concatenate([start for start, _ in places])
        periods = np.repeat([period for _, period in places], [len(start) for start, _ in places])
        copies = agrees[periods, starts] // periods  # beyond the first
        if self.n > LONGEST_EXACT:
            return starts, periods, copies + 1
        first = np.repeat(np.cumsum(copies) - copies, copies)
        times = np.arange(len(first)) - first + 2
        return np.repeat(starts, copies), np.repeat(periods, copies), times


class _Found(NamedTuple):
    """Repeats that may be worth their words: stitches start to stop, as often as `times` in all, `cost` long."""

    start: NDArray[np.int64]
    period: NDArray[np.int64]
    times: NDArray[np.int64]
    cost: NDArray[np.int64]

    @property
    def stop(self) -> NDArray[np.int64]:
        return self.start + self.period * self.times

    def where(self, mask: NDArray[np.bool_]) -> _Found:
        return _Found(*(array[mask] for array in self))

    def cheapest(self) -> _Found:
        """Keep one repeat for each stretch of stitches, sorted by where it stops."""
        order = np.lexsort((self.cost, self.start, self.stop))
        sorted_ = _Found(*(array[order] for array in self))
        new = np.ones(len(order), dtype=np.bool_)
        new[1:] = (np.diff(sorted_.start) != 0) | (np.diff(sorted_.stop) != 0)
        return sorted_.where(new)


class _Inside:
    """The shortest inner text of a star repeat from any stitch to any other, up to `reach` stitches on."""

    def __init__(self, row: _Row, brackets: _Found, reach: int) -> None:
        self.row = row
        self.brackets = list(zip(*(array.tolist() for array in brackets), strict=True))
        self.ending: dict[int, list[int]] = {}
        for index, stop in enumerate(brackets.stop.tolist()):
            self.ending.setdefault(stop, []).append(index)
        # element [j, d]: the length of stitches j - d to j, j not included
        self.length = np.full((row.n + 1, reach + 1), np.iinfo(np.int32).max // 2, dtype=np.int32)
        self.length[:, 0] = -_SEPARATOR
        for j in range(1, row.n + 1):
            here = self.length[j]
            in_run = min(j - int(row.run_start[j - 1]), reach)
            here[1 : in_run + 1] = row.run_length[row.stitches[j - 1], 1 : in_run + 1]
            for s, cost in self._last_parts(j):
                back = j - s
                if back <= reach:
                    np.minimum(here[back:], self.length[s, : reach + 1 - back] + (cost + _SEPARATOR), out=here[back:])

    def _last_parts(self, j: int) -> list[tuple[int, int]]:
        """List the parts that may come last before stitch j, as (where it starts, its length)."""
        begin = int(self.row.run_start[j - 1])
        reach = self.length.shape[1] - 1
        starts = [begin, *(s for s in range(max(begin + 1, j - reach), j) if s in self.ending)]
        kind = self.row.stitches[j - 1]
        runs = [(s, int(self.row.run_length[kind, j - s])) for s in starts]
        return runs + [(self.brackets[index][0], self.brackets[index][3]) for index in self.ending.get(j, ())]

    def parts(self, i: int, j: int) -> tuple[RowPart, ...]:
        """Give the parts of the shortest text of stitches i to j."""
        found: list[RowPart] = []
        while i < j:
            if int(self.row.run_start[j - 1]) <= i:
                found.append(self.row.run(i, j))
                break
            here = int(self.length[j, j - i])
            s, cost = next(
                (s, cost)
                for s, cost in self._last_parts(j)
                if s >= i and int(self.length[s, s - i]) + _SEPARATOR + cost == here
            )
            bracket = next((b for k in self.ending.get(j, ()) if (b := self.brackets[k])[::3] == (s, cost)), None)
            if bracket is None:
                found.append(self.row.run(s, j))
            else:
                _, period, times, _ = bracket
                found.append(Repeat(self.row.runs(s, s + period), times))
            j = s
        return tuple(reversed(found))


def shortest(stitches: NDArray[np.uint8], *, repeat: int | None = None, edges: int = 0) -> tuple[RowPart, ...]:
    """Find the parts whose short text is the shortest there is for a row.

    Parameters
    ----------
    stitches : uint8 array, (N,)
        Stitches in working order.
    repeat : int, optional
        The stitches of one repeat of the motif: of equally short texts, one whose star repeats start and stop at
        whole repeats is preferred.
    edges : int
        The stitches before the first repeat.

    Returns
    -------
    tuple of Run and Repeat

    Examples
    --------
    >>> short(shortest(np.array([1, 1, 2, 1, 1, 2, 1, 1, 2, 1, 1], dtype=np.uint8)))
    'BLsc in next 2 sts; *FLdc in next st, BLsc in next 2 sts; rep from * 2 more times'
    """
    return search(stitches, repeat, edges)[0]


def search(stitches: NDArray[np.uint8], repeat: int | None, edges: int) -> tuple[tuple[RowPart, ...], int]:
    """Find the parts as `shortest` does, and the length that the search counted with."""
    row = _Row(stitches)
    start, period, times = row.repeats()
    reach = min(row.n // 2, LONGEST_REPEAT)
    group = row.flat(start, start + period)
    brackets = _Found(start, period, times, group + (_BRACKET + _TIMES) + _digits(times))
    stop = brackets.stop
    written_out = row.flat(start, stop)
    inside = _Inside(row, brackets.where((brackets.cost < written_out) & (stop - start <= reach)).cheapest(), reach)
    cost = inside.length[start + period, period] + (_STAR + _MORE_TIMES) + _digits(times - 1) - (times == 2)
    stars = _Found(start, period, times, cost).where(cost < written_out)
    off = np.zeros(len(stars.start), dtype=np.int64)
    if repeat is not None:
        off = ((stars.start - edges) % repeat != 0) + ((stars.stop - edges) % repeat != 0).astype(np.int64)
    return _whole_row(row, stars._replace(cost=stars.cost * _CHARACTER + off).cheapest(), inside)


def _whole_row(row: _Row, stars: _Found, inside: _Inside) -> tuple[tuple[RowPart, ...], int]:
    """Choose runs and stars from the first stitch on; the costs of the stars count in `_CHARACTER`."""
    listed = list(zip(*(array.tolist() for array in stars), strict=True))
    bounds = np.searchsorted(stars.stop, np.arange(row.n + 2)).tolist()
    best = [-_SEPARATOR * _CHARACTER]
    last: list[tuple[int, int]] = [(0, -1)]  # where the last part starts, and which star it is
    for j in range(1, row.n + 1):
        begin = int(row.run_start[j - 1])
        lengths = row.run_length[row.stitches[j - 1]]
        choices = [
            (best[s] + int(lengths[j - s]) * _CHARACTER, s, -1)
            for s in range(begin, j)
            if s == begin or bounds[s] < bounds[s + 1]
        ]
        choices += [(best[listed[k][0]] + listed[k][3], listed[k][0], k) for k in range(bounds[j], bounds[j + 1])]
        cost, s, star = min(choices)
        best.append(cost + _SEPARATOR * _CHARACTER)
        last.append((s, star))
    found: list[RowPart] = []
    j = row.n
    while j:
        s, star = last[j]
        if star < 0:
            found.append(row.run(s, j))
        else:
            _, period, times, _ = listed[star]
            found.append(Repeat(inside.parts(s, s + period), times))
        j = s
    return tuple(reversed(found)), best[row.n] // _CHARACTER
