"""Totals: how much of one yarn a piece takes, and what that is in skeins.

Skeins are advised for the upper end of the band: yarn left over is a smaller worry than yarn that ran out. What becomes
of skeins that are there already is said by `skeins`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, floor

from mosaickit.colours import Yarn
from mosaickit.errors import OptionError, of_kind, shortly, within
from mosaickit.fixed import FixedMapping
from mosaickit.gauge import METRES_PER_YARD


def rounded_up(amount: float) -> float:
    """Round an estimated length up to what an estimate is worth: whole numbers, from 20 on fives, from 200 on tens.

    Examples
    --------
    >>> rounded_up(3.2), rounded_up(51.1), rounded_up(278.4)
    (4, 55, 280)
    """
    return _step(amount) * ceil(amount / _step(amount) - 1e-9)


def rounded_down(amount: float) -> float:
    """Round the lower end of an estimate down, in the steps of `rounded_up`."""
    return _step(amount) * floor(amount / _step(amount) + 1e-9)


def _step(amount: float) -> int:
    return 1 if amount < 20 else 5 if amount < 200 else 10


@dataclass(frozen=True)
class Skein:
    """A skein as its label describes it.

    Parameters
    ----------
    metres, grams : float
        Length and weight of one skein.

    Raises
    ------
    OptionError
        If either is not a number above 0, or is out of all proportion.
    """

    metres: float
    grams: float

    def __post_init__(self) -> None:
        object.__setattr__(self, "metres", within("metres", self.metres, 0.1, 1e6))
        object.__setattr__(self, "grams", within("grams", self.grams, 0.1, 1e6))


class NamedSkeins(FixedMapping[str, Skein]):
    """Skeins by the names of their yarns.

    Raises
    ------
    OptionError
        If it is made from what is no mapping from text to `Skein`.
    """

    def __init__(self, skeins: object) -> None:
        if not isinstance(skeins, Mapping) or not all(isinstance(name, str) for name in skeins):
            raise OptionError(
                f"`skeins` must be a `Skein`, or name a `Skein` for each yarn, as in {{'cream': mk.Skein(105, 50)}}; "
                f"got {shortly(skeins)}."
            )
        for name, skein in skeins.items():
            of_kind(f"skeins[{name!r}]", skein, Skein)
        super().__init__(dict(sorted(skeins.items())))


@dataclass(frozen=True)
class YarnTotal:
    """How much of one yarn a chart takes.

    Attributes
    ----------
    yarn : Yarn
        Which yarn; all its rows count, whichever role it plays in them.
    low_m, likely_m, high_m : float
        Metres: the estimate, and the band that it is good to.
    margin : float
        The share bought on top of the likely amount at least, also where the upper end is nearer.
    skein : Skein or None
        What it is sold in, if known.
    rows : int or None
        The rows that are worked in it, if known. A ball serves whole rows, so what is left of each is left over.
    """

    yarn: Yarn
    low_m: float
    likely_m: float
    high_m: float
    margin: float
    skein: Skein | None = None
    rows: int | None = None

    @property
    def likely_yd(self) -> float:
        """The likely amount in yards."""
        return self.likely_m / METRES_PER_YARD

    @property
    def grams(self) -> float | None:
        """The weight of the likely amount, if the skein is known."""
        return None if self.skein is None else self.likely_m / self.skein.metres * self.skein.grams

    @property
    def skeins(self) -> int | None:
        """Whole skeins to buy, if the skein is known: for the upper end, and for the likely amount and the margin."""
        return self._whole(self._wanted_m)

    @property
    def likely_skeins(self) -> int | None:
        """Whole skeins that the likely amount needs, if the skein is known."""
        return self._whole(self.likely_m)

    @property
    def leftover_m(self) -> float | None:
        """Metres of the skeins to buy that are likely left, if the skein is known."""
        return None if self.skein is None or self.skeins is None else self.skeins * self.skein.metres - self.likely_m

    @property
    def advice(self) -> str:
        """What to buy, in a sentence; empty if the skein is not known. All that advises skeins says this."""
        skein, skeins, likely = self.skein, self.skeins, self.likely_skeins
        if skein is None or skeins is None or likely is None:
            return ""
        buy = f"Buy {_skeins(skeins)} of {skein.metres:g} m / {skein.grams:g} g"
        if likely == skeins:
            return f"{buy}; about {rounded_down(self.leftover_m or 0):g} m will be left over."
        return f"{buy}, enough for the upper end; the likely amount needs {likely}."

    @property
    def _wanted_m(self) -> float:
        return max(self.high_m, self.likely_m * (1 + self.margin))

    def _whole(self, metres: float) -> int | None:
        """Give how many balls so much yarn takes, each of which serves whole rows, all as long as the mean row."""
        if self.skein is None:
            return None
        # 220 m are two skeins of 110 m, whatever the last binary digit says
        if self.rows and metres and (of_a_ball := floor(self.skein.metres * self.rows / metres + 1e-9)):
            return ceil(self.rows / of_a_ball)
        return ceil(metres / self.skein.metres - 1e-9)

    def __str__(self) -> str:
        band = f"from {self.low_m:.1f} to {self.high_m:.1f} m"
        text = f"{self.yarn.name}: {self.likely_m:.1f} m ({self.likely_yd:.1f} yd), {band}"
        return f"{text}; {self.grams:.0f} g. {self.advice}" if self.skein else text


def _skeins(count: int) -> str:
    return f"{count} skein{'s' * (count != 1)}"


def skein_of_each(
    yarns: tuple[Yarn, ...], skeins: Skein | Mapping[str, Skein] | None
) -> tuple[tuple[Yarn, Skein | None], ...]:
    """Pair each yarn with its skein, in the order in which they are first used."""
    used = dict.fromkeys(yarns)
    if skeins is None or isinstance(skeins, Skein):
        return tuple((yarn, skeins) for yarn in used)
    names = dict.fromkeys(yarn.name for yarn in used)
    if skeins.keys() != names.keys():
        wanted, given = (", ".join(map(repr, some)) or "none" for some in (names, skeins))
        raise OptionError(f"`skeins` must name each yarn of the chart, {wanted}, and no other; got {given}.")
    return tuple((yarn, skeins[yarn.name]) for yarn in used)
