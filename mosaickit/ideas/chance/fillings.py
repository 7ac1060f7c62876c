"""Fillings: the ways to overlay some classes of one chain, no two of them neighbours, counted and drawn.

A chain knows nothing of the other chains, so all that is counted here is small: how many fillings have each number of
overlaid squares. What many chains hold together is for the plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import groupby, product
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import OptionError, number_of
from mosaickit.ideas.chance.odds import Odds

if TYPE_CHECKING:
    from mosaickit.ideas.chance.chains import Chain


MOST_PRODUCTS = 10_000_000_000
"""Fillings of a chain are counted for no more classes times numbers times classes than this, some seconds."""

Polynomial = dict[int, int]
"""How many fillings there are, by their number of overlaid squares; only what is above 0."""


@lru_cache(maxsize=64)
def _ways(classes: int) -> tuple[int, ...]:
    """Count the choices of 0, 1, 2, … out of so many classes in a row, no two of them neighbours.

    There are C(n − m + 1, m) of m out of n. Of −1, which stands for a row that ends before it begins, there is the
    empty choice, and of fewer none.
    """
    if classes < 0:
        return (1,) if classes == -1 else ()
    ways = [1]
    for m in range((classes + 1) // 2):
        ways.append(ways[-1] * (classes - 2 * m + 1) * (classes - 2 * m) // ((classes - m + 1) * (m + 1)))
    return tuple(ways)


class Fillings:
    """The fillings of a chain, counted by their number of overlaid squares and drawn.

    The chain is cut into runs of classes that hold equally many squares and are all plain or all free. How many ways
    there are to fill a run follows from binomials, given whether the class before it is overlaid and whether its own
    last class is to be; ``counts[j][f, s]`` counts the fillings from run j on, where f and s say whether the first
    class (of a ring; 0 otherwise) and the one before are overlaid.
    """

    def __init__(self, column: Chain, times: int) -> None:
        self.ring = column.ring
        kinds = [(plain, times * squares) for plain, squares in zip(column.plain.tolist(), column.squares, strict=True)]
        # the first class of a ring decides what the last one may be, so it is a run by itself
        alone = [(0, kinds[0]), *((1, kind) for kind in kinds[1:])] if self.ring else [(0, kind) for kind in kinds]
        self.runs = [(len(list(run)), *kind) for (_, kind), run in groupby(alone)]
        firsts = (0, 1) if self.ring else (0,)
        last: dict[tuple[int, int], Polynomial] = {(f, s): {} if f and s else {0: 1} for f in firsts for s in (0, 1)}
        self.counts = [last]
        for j in range(len(self.runs) - 1, -1, -1):
            after, here = self.counts[0], {}
            if self.runs[j][0] * len(after[0, 0]) * len(column.plain) > MOST_PRODUCTS:
                raise OptionError(_say_uneven(len(column.place), len(column.plain)))
            befores = (0,) if j == 0 or self.runs[j - 1][1] else (0, 1)  # after a plain run only 0 can be
            for f, s in product(firsts, befores):
                here[f, s] = total = dict[int, int]()
                for _, squares, ways, further in self._options(j, f, s, after):
                    for more, count in further.items():
                        total[squares + more] = total.get(squares + more, 0) + ways * count
            self.counts.insert(0, here)
        self.polynomial = dict(sorted(self.counts[0][0, 0].items()))
        self.classes = len(kinds)

    def _options(
        self, j: int, f: int, s: int, after: dict[tuple[int, int], Polynomial]
    ) -> Iterator[tuple[int, int, int, Polynomial]]:
        """Give the ways to fill a run: its last class, its overlaid squares, their number, and what may follow."""
        length, plain, squares = self.runs[j]
        for end in (0,) if plain else (0, 1):
            # a class beside one that is overlaid is plain
            free = 0 if plain else length - 1 - s - end
            first = end if self.ring and j == 0 else f
            for chosen, ways in enumerate(_ways(free)):
                yield end, (chosen + end) * squares, ways, after[first, end]

    def draw(self, numbers: NDArray[np.int64], rng: np.random.Generator) -> NDArray[np.bool_]:
        """Draw a filling with each of these numbers, (N,), of overlaid squares: bool (N, n)."""
        chosen = np.zeros((len(numbers), self.classes), dtype=np.bool_)
        left, first, before = numbers.copy(), np.zeros_like(numbers), np.zeros_like(numbers)
        start = 0
        for j, (length, plain, squares) in enumerate(self.runs):
            for state, places in () if plain else alike((left * 2 + first) * 2 + before):
                f, s = state // 2 % 2, state % 2
                options = [
                    (end, taken, ways * count)
                    for end, taken, ways, further in self._options(j, f, s, self.counts[j + 1])
                    if (count := further.get(state // 4 - taken, 0))
                ]
                picked = Odds([ways for *_, ways in options]).draw(len(places), rng)
                for option, some in alike(picked):
                    end, taken, _ = options[option]
                    here = places[some]
                    filled = _choices(length - 1 - s - end, taken // squares - end, len(here), rng)
                    chosen[here[:, np.newaxis], np.arange(start + s, start + s + filled.shape[1])] = filled
                    chosen[here, start + length - 1] = end
                    left[here] -= taken
                    before[here] = end
            if plain:
                before[:] = 0
            if j == 0 and self.ring:
                first = before.copy()
            start += length
        return chosen


def _say_uneven(rows: int, up: int) -> str:
    even = max(n for n in range(1, up + 1) if rows % n == 0)
    return (
        f"Of so long a repeat, the last one cut off, the motifs would take very long to count: take a `repeat_up` that "
        f"divides the {number_of(rows, 'row')}, as repeat_up={even}."
    )


def alike(values: NDArray[np.int64]) -> Iterator[tuple[int, NDArray[np.int64]]]:
    """Give each value there is, and its places."""
    found, starts = np.unique(np.sort(values), return_index=True)
    return zip(found.tolist(), np.split(np.argsort(values, kind="stable"), starts[1:]), strict=True)


def _choices(classes: int, chosen: int, size: int, rng: np.random.Generator) -> NDArray[np.bool_]:
    """Draw so many choices out of classes in a row, no two of them neighbours, all equally likely: bool (size, n)."""
    filled = np.zeros((size, max(classes, 0)), dtype=np.bool_)
    if chosen:
        # each chosen one but the last takes the next class with it: any choice of the places that are left will do
        places = np.zeros((size, classes - chosen + 1), dtype=np.bool_)
        places[:, :chosen] = True
        which, place = np.nonzero(rng.permuted(places, axis=1))
        filled[which, place + np.tile(np.arange(chosen), size)] = True
    return filled
