"""What the charts of several sizes have in common: repeats across from the same stitch on, and rows that all repeat."""

from __future__ import annotations

from collections.abc import Sequence
from math import gcd

import numpy as np
from numpy.typing import NDArray

from mosaickit.fabric import Chart
from mosaickit.wording.natural import Across, repeats_across
from mosaickit.wording.shortening import agreeing


def alike_across(charts: Sequence[Chart], repeat: int | None, repeat_from: int | None = None) -> list[Across | None]:
    """Find what the sizes repeat across, all from the same stitch on; a size in which it stands once has it once."""
    found = [repeats_across(chart.stitches, repeat, repeat_from) for chart in charts]
    known = next((across for across in found if across is not None), None)
    if known is None:
        return found
    edges = min(chart.shape[1] - one.times * one.period for chart, one in zip(charts, found, strict=True) if one)
    for place, chart in enumerate(charts):
        if found[place] is None and chart.shape[1] == edges + known.period:
            found[place] = Across(known.start, known.period, 1)
    return found


def alike_up(keys: list[list[object]], heights: list[int]) -> tuple[int, int, list[int]] | None:
    """Find rows that all sizes repeat upward.

    Gives how many rows lie below the first repeat, how many rows a repeat has, and how often each size repeats it.
    What lies below the repeats, and above them, has the same number of rows in all sizes. A repeat has an even number
    of rows, which keeps the colours. Of several, the one that leaves the fewest rows to be written out is taken.
    """
    most = max(range(len(heights)), key=heights.__getitem__)
    apart = gcd(*(heights[most] - rows for rows in heights))
    kinds: dict[object, int] = {}
    numbers = [np.array([kinds.setdefault(key, len(kinds)) for key in own]) for own in keys]
    best: tuple[tuple[bool, int, int], tuple[int, int, list[int]]] | None = None
    for block in range(2, apart + 1, 2):
        if apart % block:
            continue
        longest = numbers[most]
        agree = agreeing(longest[block:] == longest[:-block])
        for start in np.flatnonzero((agree > 0) & (np.append(0, agree[:-1]) == 0)).tolist():
            stop = start + block + int(agree[start])
            spare = (stop - start) % block
            # what is left of the last repeat stands above the others, or below where a size has no whole one else
            for below, above in ((start, heights[most] - stop + spare), (start + spare, heights[most] - stop)):
                times = [(rows - below - above) // block for rows in heights]
                if min(times) >= 0 and all(
                    _repeats(own[below : rows - above], block) for own, rows in zip(numbers, heights, strict=True)
                ):
                    written = (min(times) == 0, below + block + above, -below)
                    if best is None or written < best[0]:
                        best = written, (below, block, times)
    return best and best[1]


def _repeats(rows: NDArray[np.int64], block: int) -> bool:
    return bool((rows[block:] == rows[:-block]).all())
