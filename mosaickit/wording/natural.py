"""The words of one row as a technical editor would break it: at the motif's repeats, and where one stitch ends.

The rule, by which the same thing has the same words in all rows of a pattern:

- Where the motif is repeated across, the star stands for it, or for a part that fits it a whole number of times; it
  starts and stops with the motif. What stands at the edges is kept apart.
- A run of one stitch is split nowhere else, and a stitch that fills the row is worked "in each st across".
- What comes again inside a repeat, or at an edge, stands in brackets. A row with one such repeat and no other has the
  star for it.

`shortening` finds the fewest characters instead, which may break a row at any stitch.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from operator import itemgetter
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit.fabric import Chart, Stitch
from mosaickit.wording.phrases import Repeat, RowPart, Run, short
from mosaickit.wording.shortening import LONGEST_REPEAT, agreeing, shortest
from mosaickit.wording.terms import Phrasing

Breaking = Callable[[NDArray[np.uint8]], tuple[RowPart, ...]]
"""What makes the parts of a row, (N,) stitches in working order."""


class Across(NamedTuple):
    """What all rows of a chart repeat across: the stitches before it, those of one repeat, and how often it comes."""

    start: int
    period: int
    times: int


def repeats_across(stitches: NDArray[np.uint8], repeat: int | None, repeat_from: int | None = None) -> Across | None:
    """Find what all rows repeat across; None if they repeat nothing.

    Parameters
    ----------
    stitches : uint8 array, (R, N)
        Stitches in working order.
    repeat : int, optional
        The columns of the motif that is repeated; two of them are tried where every other one is mirrored. Left out,
        it is what the whole width repeats.
    repeat_from : int, optional
        The stitch, from 1, with which the first repeat that was laid begins. Of all places where as many repeats
        begin, the one is taken that lies as those lie, or else the first, as in the box of a chart.
    """
    count = stitches.shape[1]
    if repeat is None:
        wanted = (m for m in range(1, count // 2 + 1) if np.array_equal(stitches[:, m:], stitches[:, :-m]))
        periods = [next(wanted, 0)]
    else:
        periods = [repeat, 2 * repeat]
    for period in periods:
        if not 2 <= period <= count // 2:
            continue
        agree = agreeing(np.all(stitches[:, period:] == stitches[:, :-period], axis=0))
        first = int(agree.argmax())
        times, spare = divmod(int(agree[first]) + period, period)
        if times > 1:
            edge = (count - times * period) // 2  # as many stitches at either side, where the repeats allow it
            start = min(max(edge, first), first + spare)
            if repeat_from is not None:
                shift = (repeat_from - 1 - first) % period
                start = first + (shift if shift <= spare else 0)
            elif repeat is None:  # no motif says where it starts: where most runs do
                starts = np.arange(max(first, 1), first + spare + 1)
                begun = (stitches[:, starts] != stitches[:, starts - 1]).sum(axis=0)
                start = int(starts[begun.argmax()]) if begun.any() else start
            return Across(start, period, times)
    return None


def breaking(
    chart: Chart, phrasing: Phrasing, repeat: int | None, across: Across | None, repeat_from: int | None = None
) -> Breaking:
    """Give what breaks each row of a chart into its parts; `across` is what its rows repeat."""
    if phrasing == "shortest":
        edges = chart.shape[1] % repeat // 2 if repeat is not None else 0
        if repeat is not None and repeat_from is not None:
            edges = (repeat_from - 1) % repeat
        return lambda row: shortest(row, repeat=repeat, edges=edges)
    return lambda row: natural(row, across)


def natural(stitches: NDArray[np.uint8], across: Across | None = None) -> tuple[RowPart, ...]:
    """Break a row where a maker would.

    Parameters
    ----------
    stitches : uint8 array, (N,)
        Stitches in working order.
    across : Across, optional
        What is repeated in it.

    Returns
    -------
    tuple of Run and Repeat

    Examples
    --------
    >>> row = np.array([1, 1, 1, 2, 1, 1, 1, 2, 1, 1, 1, 1], dtype=np.uint8)
    >>> short(natural(row, Across(1, 4, 2)))
    'BLsc in next st; *BLsc in next 2 sts, FLdc in next st, BLsc in next st; rep from * 1 more time; BLsc in last 3 sts'
    >>> short(natural(row))
    '*BLsc in next 3 sts, FLdc in next st; rep from * 1 more time; BLsc in last 4 sts'
    """
    if across is not None:
        start, period, times = across
        unit = stitches[start : start + period]
        small = next(p for p in range(1, period + 1) if period % p == 0 and (unit[p:] == unit[: period - p]).all())
        if small > 1:
            stop = start + period * times
            star = Repeat(in_brackets(unit[:small]), times * period // small)
            return (*in_brackets(stitches[:start]), star, *in_brackets(stitches[stop:]))
    parts = in_brackets(stitches)
    alone = sum(isinstance(part, Repeat) for part in parts) == 1
    return tuple(replace(part, star=alone) if isinstance(part, Repeat) else part for part in parts)


def in_brackets(stitches: NDArray[np.uint8]) -> tuple[RowPart, ...]:
    """Write stitches run by run, and in brackets where whole runs come again, so that it is as short as this allows.

    At each place a repeat is taken as often as it comes, or not at all; of equally short ones the first.
    """
    if not len(stitches):
        return ()
    starts = np.flatnonzero(np.append(True, stitches[1:] != stitches[:-1]))
    counts = np.diff(np.append(starts, len(stitches)))
    kinds = stitches[starts]
    runs = [Run(Stitch(kind), count) for kind, count in zip(kinds.tolist(), counts.tolist(), strict=True)]
    lengths = [len(short((run,))) + len(", ") for run in runs]
    best = [0] * (len(runs) + 1)  # characters from a run to the end
    taken = [[1, 1] for _ in runs]  # how many runs come next, and how often
    again = _blocks_again(kinds.astype(np.int64) * (len(stitches) + 1) + counts)
    for at in reversed(range(len(runs))):
        ways = [
            (sum(lengths[at : at + size]) + len(f"[] {times} times") + best[at + size * times], size, times)
            for size, times in again.get(at, ())
        ]
        alone = (lengths[at] + best[at + 1], 1, 1)
        best[at], *taken[at] = min([*ways, alone], key=itemgetter(0))
    parts: list[RowPart] = []
    at = 0
    while at < len(runs):
        size, times = taken[at]
        parts += runs[at : at + 1] if times == 1 else [Repeat(tuple(runs[at : at + size]), times, star=False)]
        at += size * times
    return tuple(parts)


def _blocks_again(runs: NDArray[np.int64]) -> dict[int, list[tuple[int, int]]]:
    """Find which runs, told as numbers, come again at once: from each run on, (how many, how often in all)."""
    found: dict[int, list[tuple[int, int]]] = {}
    for size in range(2, min(len(runs) // 2, LONGEST_REPEAT) + 1):
        same = runs[size:] == runs[:-size]
        agree = agreeing(same)
        for at in np.flatnonzero(agree >= size).tolist():
            found.setdefault(at, []).append((size, int(agree[at]) // size + 1))
    return found
