"""The plan: all motifs that are asked for, counted together, and overlaid squares dealt out to their chains.

Chains meet here and nowhere else: only the sum of what they hold is limited. The odds are tilted so that the sum is hit
often; what misses it is thrown away, or, where hardly anything fits, all ways to make it are counted.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from math import gcd, log, log10, prod, sqrt

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import OptionError, number_of
from mosaickit.ideas.chance.chains import ColumnKind
from mosaickit.ideas.chance.fillings import Polynomial, alike
from mosaickit.ideas.chance.odds import Odds, Tilt

DRAWN_AT_ONCE = 1_000_000
"""Numbers that are drawn in one go, so that memory stays small."""

MOST_SUMS = 20_000_000
"""Sums are made one by one for no more steps than this, some seconds."""

MOST_BYTES = 200_000_000
"""Sums are kept for no more than about so many bytes."""

MOST_DIGITS = 20_000_000_000
"""Motifs are counted by their overlaid squares for no more products of digits than this, about a minute."""

MOST_IN_VAIN = 75
"""So many times the deviation of a sum, sums are thrown away in vain: 30 times as often as one fits, if any may be."""


@dataclass(frozen=True, eq=False)
class Plan:
    """All motifs that are asked for.

    Parameters
    ----------
    allowed : (int, int) or None
        The least and the most squares that may be overlaid; None for any.
    """

    shape: tuple[int, int]
    kinds: list[ColumnKind]
    allowed: tuple[int, int] | None

    @cached_property
    def polynomials(self) -> list[tuple[Polynomial, int]]:
        """What the chains of each kind may hold, and how many chains there are."""
        return [(kind.fillings.polynomial, len(kind.columns)) for kind in self.kinds]

    @cached_property
    def grain(self) -> int:
        """All numbers of overlaid squares are multiples of this."""
        return gcd(*(number for polynomial, _ in self.polynomials for number in polynomial)) or 1

    @cached_property
    def most(self) -> int:
        """The most squares that can be overlaid."""
        return sum(max(polynomial) * chains for polynomial, chains in self.polynomials)

    @cached_property
    def ends(self) -> tuple[int, int]:
        """The least and the most overlaid squares that are allowed and may be, in grains."""
        least, most = self.allowed or (0, self.most)
        return -(-least // self.grain), min(most, self.most) // self.grain

    @property
    def unlimited(self) -> bool:
        """Whether every workable picture with the symmetries is allowed."""
        least, most = self.ends
        return least <= 0 and most * self.grain >= self.most

    # ---- counting

    @cached_property
    def everything(self) -> int:
        """How many motifs there are with any number of overlaid squares."""
        return prod(sum(polynomial.values()) ** chains for polynomial, chains in self.polynomials)

    @cached_property
    def count(self) -> int:
        """How many motifs there are, or an `OptionError` if that takes too long to count."""
        least, most = self.ends
        if least > most:
            return 0
        if self.unlimited:
            return self.everything
        if self._digits() > MOST_DIGITS:
            raise OptionError(self._say_too_large())
        if most * self.grain >= self.most:
            return self.everything - self._upto(least - 1)
        return self._upto(most) - self._upto(least - 1)

    def _upto(self, most: int) -> int:
        """Count the motifs with at most so many grains overlaid.

        Their numbers are the coefficients q of a product of powers, Q = P₁ⁿ¹ P₂ⁿ² …. With D = P₁ P₂ … its logarithm's
        derivative gives x Q′ D = E Q, and so every coefficient follows from those before it.
        """
        if most < 0:
            return 0
        plain, derived = self._series
        steps = sorted((plain.keys() | derived.keys()) - {0})
        last: deque[int] = deque([1], maxlen=steps[-1] if steps else 1)
        total = 1
        for n in range(1, most + 1):
            found = sum(
                (derived.get(k, 0) - (n - k) * plain.get(k, 0)) * last[-k] for k in steps if k <= n and last[-k]
            )
            last.append(found // n)
            total += last[-1]
        return total

    @cached_property
    def _series(self) -> tuple[Polynomial, Polynomial]:
        """Give D and E of `_upto`, in grains."""
        plain, derived = {0: 1}, dict[int, int]()
        for polynomial, chains in self.polynomials:
            here = {number // self.grain: count for number, count in polynomial.items()}
            own = {number: chains * number * count for number, count in here.items()}
            derived = _sum(_product(derived, here), _product(plain, own))
            plain = _product(plain, here)
        return plain, derived

    def _digits(self) -> int:
        """Estimate how many products of digits `_upto` takes."""
        least, most = self.ends
        steps = least if most * self.grain >= self.most else most
        long, short = self.everything.bit_length() // 30 + 1, max(self._series[1].values()).bit_length() // 30 + 2
        return steps * len(self._series[0]) * (long * short // 2 + 100)

    def _say_too_large(self) -> str:
        rows, columns = self.shape
        return (
            f"Counting the pictures of {number_of(rows, 'row')} × {number_of(columns, 'stitch')} by how many squares "
            f"are overlaid would take very long: there are about 10^{log10(self.everything):,.0f} in all. Leave out "
            "`overlaid` and `fldc_share`, or take fewer stitches; `random_motif` can draw them without counting."
        )

    # ---- what there is

    @cached_property
    def there(self) -> int | None:
        """Which numbers of overlaid squares there are, in grains: the bits of a number; None if too many steps."""
        bits, steps = 1, 0
        for polynomial, chains in self.polynomials:
            numbers = [number // self.grain for number in polynomial]
            step = numbers[1] if len(numbers) > 1 else 1
            if numbers == list(range(0, numbers[-1] + 1, step)):
                bits = _spread(bits, step, chains * numbers[-1] // step)
                continue
            steps += chains * len(numbers) * (self.most // self.grain // 64 + 1)
            if steps > MOST_SUMS:
                return None
            for _ in range(chains):
                before, bits = bits, 0
                for number in numbers:
                    bits |= before << number
        return bits

    def check(self) -> None:
        """Raise `OptionError` if there is no such motif, naming numbers of overlaid squares that there are."""
        least, most = self.ends
        if self.there is None or (least <= most and self.there >> least & ((1 << most - least + 1) - 1)):
            return
        fewer, more = self.there & ((1 << least) - 1), self.there >> most + 1
        near = [(fewer.bit_length() - 1) * self.grain] if fewer else []
        if more:
            near.append((most + (more & -more).bit_length()) * self.grain)
        raise OptionError(f"No workable picture of {self._said}: take {' or '.join(map(str, near))}, or another size.")

    @property
    def _said(self) -> str:
        rows, columns = self.shape
        least, most = self.allowed or (0, self.most)
        asked = number_of(least, "overlaid square") if least == most else f"{least} to {most} overlaid squares"
        return f"{number_of(rows, 'row')} × {number_of(columns, 'stitch')} that is as asked has {asked}"

    # ---- drawing

    def draw(self, count: int, rng: np.random.Generator) -> NDArray[np.bool_]:
        """Draw the overlaid squares of so many motifs, bool (K, R, C)."""
        rows, columns = self.shape
        across = sum(len(kind.columns) + int((kind.images != kind.columns).sum()) for kind in self.kinds)
        repeat = np.empty((count, rows, across), dtype=np.bool_)
        for kind, numbers in zip(self.kinds, self.deal(count, rng), strict=True):
            filled = kind.fillings.draw(numbers.ravel(), rng).reshape(count, len(kind.columns), -1)
            for place, where in ((kind.column.place, kind.columns), (kind.image_place, kind.images)):
                repeat[:, :, where] = np.moveaxis(filled[:, :, place], 1, 2)
        return repeat if across == columns else repeat[:, :, np.arange(columns) % across]

    def deal(self, count: int, rng: np.random.Generator) -> list[NDArray[np.int64]]:
        """Deal out numbers of overlaid squares, (count, chains) for each kind, as uniform motifs have them.

        Each chain draws its number for itself, as its counts say, all tilted alike so that their sum comes near to what
        is allowed. Sums that are not allowed are thrown away; of the others the tilt favours some, and just as much
        more of these are thrown away. What is left is as likely as its number of fillings, exactly. Where hardly any
        sum is allowed, all ways to make it are counted instead.
        """
        found = self._thrown(count, rng)
        missing = count - len(found[0])
        if missing:
            exact = self._dealt(missing, rng)
            found = [np.concatenate(pair) for pair in zip(found, exact, strict=True)]
        return found

    @cached_property
    def _moments(self) -> Callable[[float], tuple[float, float]]:
        """The mean and the variance of the number of overlaid grains, for weights tilted by e to a power."""
        kinds = [
            (np.array(list(polynomial)) / self.grain, np.array([log(n) for n in polynomial.values()]), chains)
            for polynomial, chains in self.polynomials
        ]

        def moments(tilt: float) -> tuple[float, float]:
            mean = variance = 0.0
            for numbers, logs, chains in kinds:
                weights = logs + tilt * numbers
                weights = np.exp(weights - weights.max())
                weights /= weights.sum()
                centre = float(weights @ numbers)
                mean += chains * centre
                variance += chains * float(weights @ (numbers - centre) ** 2)
            return mean, variance

        return moments

    @cached_property
    def _tilt(self) -> tuple[Tilt, float]:
        """The tilt with which sums come near to what is allowed, and their deviation. Neither needs to be exact."""
        least, most = self.ends
        mean, variance = self._moments(0)
        low, high = (-40.0, 0.0) if mean > most else (0.0, 40.0) if mean < least else (0.0, 0.0)
        # the outermost numbers would need an endless tilt
        wanted = max(most, 0.5) if mean > most else min(least, self.most / self.grain - 0.5)
        for _ in range(50 if low < high else 0):
            middle = (low + high) / 2
            mean, variance = self._moments(middle)
            low, high = (middle, high) if mean < wanted else (low, middle)
        return Tilt.near((low + high) / 2), sqrt(variance)

    @cached_property
    def _odds(self) -> list[tuple[NDArray[np.int64], Odds]]:
        """The numbers of grains that a chain of each kind may hold, and their odds."""
        least, most = self.ends
        odds = []
        for polynomial, _ in self.polynomials:
            # with more, or with so few, the sum cannot be what is allowed
            fewest = max(polynomial) // self.grain - (self.most // self.grain - least)
            fitting = {k // self.grain: n for k, n in polynomial.items() if fewest <= k // self.grain <= most}
            odds.append((np.array(list(fitting)), Odds(list(fitting.values()), list(fitting), self._tilt[0])))
        return odds

    def _thrown(self, count: int, rng: np.random.Generator) -> list[NDArray[np.int64]]:
        """Deal as `deal` does by throwing away, so often as makes sense: (count or fewer, chains) for each kind."""
        (least, most), (tilt, deviation) = self.ends, self._tilt
        width = sum(chains for _, chains in self.polynomials)
        limit, size = max(1, DRAWN_AT_ONCE // width), 2 * count + 16
        found = [[np.zeros((0, chains), dtype=np.int64)] for _, chains in self.polynomials]
        missing, in_vain = count, 0
        while missing and in_vain < MOST_IN_VAIN * (deviation + 1):
            size = min(size, limit)
            drawn = [
                numbers[odds.draw((size, chains), rng)]
                for (numbers, odds), (_, chains) in zip(self._odds, self.polynomials, strict=True)
            ]
            sums = np.sum([numbers.sum(axis=1) for numbers in drawn], axis=0)
            kept = np.flatnonzero((sums >= least) & (sums <= most))
            kept = kept[tilt.happens(sums[kept] - least if tilt.to_more else most - sums[kept], rng)][:missing]
            for some, numbers in zip(found, drawn, strict=True):
                some.append(numbers[kept] * self.grain)
            missing, in_vain, size = missing - len(kept), 0 if len(kept) else in_vain + size, 2 * size
        return [np.concatenate(some) for some in found]

    def _dealt(self, count: int, rng: np.random.Generator) -> list[NDArray[np.int64]]:
        """Deal as `deal` does by counting all ways, if they are not too many, else raise `OptionError`."""
        least, most = self.ends
        chains = [polynomial for polynomial, chains in self.polynomials for _ in range(chains)]
        bytes_ = len(chains) * (most + 2) * (40 + self.everything.bit_length() // 16)
        if bytes_ > MOST_BYTES or sum(map(len, chains)) * (most + 2) > MOST_SUMS:
            raise OptionError(self._say_too_few(rng))
        # how many ways the last 0, 1, 2, … chains have to hold fewer than 0, 1, 2, … grains
        ways = np.ones(most + 2, dtype=object)
        ways[0] = 0
        fewer = [ways]
        for polynomial in chains[:0:-1]:
            ways = np.zeros_like(ways)
            for number, fillings in polynomial.items():
                step = number // self.grain
                ways[step:] += fillings * fewer[-1][: len(ways) - step]
            fewer.append(ways)
        dealt = np.zeros((count, len(chains)), dtype=np.int64)
        used = np.zeros(count, dtype=np.int64)
        for i, polynomial in enumerate(chains):
            numbers = np.array(list(polynomial)) // self.grain
            for so_far, places in alike(used):
                upto, under = (np.clip(end - so_far - numbers, 0, None) for end in (most + 1, least))
                weights = np.array(list(polynomial.values()), dtype=object) * (fewer[-1][upto] - fewer[-1][under])
                some = np.flatnonzero(weights)
                dealt[places, i] = numbers[some[Odds(weights[some].tolist()).draw(len(places), rng)]]
            used += dealt[:, i]
            fewer.pop()
        ends = np.cumsum([chains for _, chains in self.polynomials])[:-1]
        return np.split(dealt * self.grain, ends, axis=1)

    def _say_too_few(self, rng: np.random.Generator) -> str:
        """Name a wider range, and draw from it before."""
        least, most = self.allowed or (0, self.most)
        width = max(most - least + 1, int(self._tilt[1] * self.grain / 8))
        while True:
            wider = replace(self, allowed=(max(0, least - width), min(self.most, most + width)))
            if len(wider._thrown(1, rng)[0]):
                break
            width *= 2
        return (
            f"There are too few workable pictures of {self._said}, or none, to draw one of them: take a wider range, "
            f"as overlaid={wider.allowed}."
        )


def _sum(one: Polynomial, other: Polynomial) -> Polynomial:
    return {number: one.get(number, 0) + other.get(number, 0) for number in one.keys() | other.keys()}


def _product(one: Polynomial, other: Polynomial) -> Polynomial:
    made: Polynomial = {}
    for number, ways in one.items():
        for more, count in other.items():
            made[number + more] = made.get(number + more, 0) + ways * count
    return made


def _spread(bits: int, step: int, times: int) -> int:
    """Give the numbers, as bits, that come of adding a step up to so many times."""
    done = 0
    while done < times:
        further = min(done + 1, times - done)
        bits |= bits << further * step
        done += further
    return bits
