"""Odds: chance compared with whole numbers of any size, so that nothing is rounded and nothing biased.

Nothing here knows of motifs: weights go in, and places in their list come out, each exactly as often as it should.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import MAX_EMAX, MIN_EMIN, Context, Decimal
from functools import lru_cache
from itertools import accumulate
from math import exp, log

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True)
class Tilt:
    """A fraction, ``share / 2**bits``, by whose powers weights are tilted to fewer squares, or to more."""

    share: int = 1
    bits: int = 0
    to_more: bool = False

    @classmethod
    def near(cls, log: float) -> Tilt:
        """Give a tilt whose factor for each square is near e to some power, good to four digits."""
        exponent = max(0, int(abs(log) / _LOG_2))
        bits = exponent + 14 if log else 0
        return cls(round(exp(-abs(log)) * 2.0**bits), bits, log > 0)

    def happens(self, times: NDArray[np.int64], rng: np.random.Generator) -> NDArray[np.bool_]:
        """Tell for each number of times, (N,), whether something as likely as the fraction happened that often."""
        still = np.flatnonzero(times) if self.bits else np.zeros(0, dtype=np.int64)
        happened = np.ones(len(times), dtype=np.bool_)
        left = times.copy()
        while len(still):
            failed = rng.integers(1 << self.bits, size=len(still)) >= self.share
            happened[still[failed]] = False
            left[still] -= 1
            still = still[~failed & (left[still] > 0)]
        return happened


class Odds:
    """Draw numbers from 0 on, each as often as its weight says, exactly, however large the weights are.

    A number is drawn as a binary fraction, and of that only as many digits as are needed to tell between which two
    sums of weights it lies: `bits` of them, and more for the few that lie at a border that far. So it is as if all
    digits had been drawn and compared with the exact fractions.

    The borders are worked out with `_ROUGHLY` decimal digits. A weight is off by less than one part in 10⁵⁵ then, a sum
    of 10,000 of them by less than one in 10⁵⁰, and a border by less than 1 in the last of 62 bits, or of 19 decimal
    digits; what lies that near to a border is compared with the exact sums.

    Parameters
    ----------
    counts : sequence of int
        1 or more each.
    numbers : sequence of int, optional
        The weights are the counts times the tilt's fraction for each square more (or fewer) than these.
    """

    def __init__(
        self, counts: Sequence[int], numbers: Sequence[int] = (), tilt: Tilt | None = None, bits: int = 62
    ) -> None:
        self.counts, self.tilt, self.bits = counts, tilt or Tilt(), bits
        ends = (min(numbers), max(numbers)) if numbers else (0, 0)
        favoured = [ends[1] - n if self.tilt.to_more else n - ends[0] for n in numbers] or [0] * len(counts)
        self.favoured, self.most = favoured, ends[1] - ends[0]
        fraction = _ROUGHLY.divide(Decimal(self.tilt.share), Decimal(1 << self.tilt.bits))
        weights = (
            _ROUGHLY.multiply(_rough(count), _ROUGHLY.power(fraction, n))
            for count, n in zip(counts, favoured, strict=True)
        )
        *upto, total = accumulate(weights, _ROUGHLY.add)
        scale = _ROUGHLY.divide(Decimal(1 << bits), total)
        self.borders = np.array([int(_ROUGHLY.multiply(border, scale)) for border in upto], dtype=np.uint64)

    def draw(self, size: int | tuple[int, ...], rng: np.random.Generator) -> NDArray[np.int64]:
        """Draw numbers, independent of one another."""
        if not len(self.borders):
            return np.zeros(size, dtype=np.int64)
        fractions = rng.integers(1 << self.bits, size=size, dtype=np.uint64)
        numbers = np.searchsorted(self.borders, fractions, side="right")
        near = (numbers > 0) & (fractions - self.borders[np.maximum(numbers - 1, 0)] < 2)
        near |= (numbers < len(self.borders)) & (
            self.borders[np.minimum(numbers, len(self.borders) - 1)] - fractions < 2
        )
        for place in np.argwhere(near).tolist():
            numbers[tuple(place)] = self._tell(int(fractions[tuple(place)]), rng)
        return numbers

    def _tell(self, fraction: int, rng: np.random.Generator) -> int:
        """Draw more digits, until the fraction lies between two sums of weights, which are exact here."""
        share, places = self.tilt.share, self.tilt.bits
        weights = (
            count * share**n << places * (self.most - n) for count, n in zip(self.counts, self.favoured, strict=True)
        )
        *borders, total = accumulate(weights)
        bits = self.bits
        while any(fraction * total < border << bits < (fraction + 1) * total for border in borders):
            fraction, bits = fraction << 64 | int.from_bytes(rng.bytes(8)), bits + 64
        return sum(border << bits <= fraction * total for border in borders)


_ROUGHLY = Context(prec=60, Emax=MAX_EMAX, Emin=MIN_EMIN)


def _rough(number: int) -> Decimal:
    """Give a whole number with more than enough digits for `_ROUGHLY`: long ones take long to turn into decimals."""
    spare = max(0, number.bit_length() - 256) // 64 * 64
    return _ROUGHLY.multiply(Decimal(number >> spare), _power_of_2(spare))


@lru_cache(maxsize=1024)
def _power_of_2(power: int) -> Decimal:
    return _ROUGHLY.power(Decimal(2), power)


_LOG_2 = log(2)
