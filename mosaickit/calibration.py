"""Calibration: what a weighed or unravelled swatch says about the yarn in each kind of stitch.

Each kind of stitch is taken to be some number of times as long as its default. All of these numbers share a part, as a
loose hand makes every stitch longer, and each has a smaller part of its own. Both are about 1 before anything is
measured, with a spread; what a swatch took is the sum of its stitches, give or take the scale and the unevenness of
handwork. All of it is Gaussian and linear, so what is known afterwards follows exactly, by the rule of Bayes: a plain
swatch sets the common part, a reversible one beside it tells the stitches apart. Metres and grams are kept apart: how
many metres a gram is hangs on the label and on the moisture of the day, and no stitch grows longer for it.

The defaults are the estimate of `lengths`, or the lengths along the drawn `thread`, by the option `prior`. What hangs
on that was simulated: hands whose true lengths are drawn round either, with spreads of 20 percent for all and 10 for
each stitch. After a plain and a reversible swatch nothing does: a piece is known to about 2 percent either way. After a
plain swatch alone a reversible piece is known to 8 to 10 percent by the prior that the hand was drawn round, to 9 to 14
by the other, whichever is which. As nothing published tells which is nearer to the truth, the estimate stays the
default: it holds for any yarn, the thread's lengths only where a row is three and a half yarn diameters high.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from math import sqrt
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit.counts import count_rows
from mosaickit.errors import OptionError, SwatchError, of_kind, one_of, positive, within
from mosaickit.gauge import Gauge
from mosaickit.lengths import KINDS, StitchLengths
from mosaickit.orientation import ROLES
from mosaickit.rules import BetweenRows
from mosaickit.stitches import Chart
from mosaickit.thread import lengths_of_thread
from mosaickit.yarn import Skein, YarnRates, usage_of_rows

COMMON_SPREAD = 0.15
"""How far a hand may be off the defaults in all its stitches: hobby measurements disagree by about 15 percent."""

STITCH_SPREAD = 0.07
"""How far each kind of stitch may be off beside that; our choice, no source."""

UNEVENNESS = 0.02
"""How far two swatches by one hand differ, measured exactly; our choice, no source."""

WEIGHT_SPREAD = 0.03
"""How far the metres of a gram may be off the label's, with the moisture of the day; our choice, no source."""

FARTHEST = 4.0
"""A measurement so many spreads from what is expected contradicts the others, or is a slip of the pen."""

NINETY_PERCENT = 1.6448536269514722
"""Spreads on either side of the middle that hold 90 percent of a normal distribution."""

Part = Literal["MC", "CC", "all"]
PARTS: tuple[Part, ...] = ("MC", "CC", "all")

Prior = Literal["estimate", "thread"]
PRIORS: tuple[Prior, ...] = ("estimate", "thread")


@dataclass(frozen=True, eq=False)
class Swatch:
    """A swatch that was measured, or one that could be.

    Parameters
    ----------
    chart : Chart
        What was worked.
    gauge : Gauge
        Its stitches and rows over a measured length.
    metres, grams : mapping of "MC", "CC" or "all" to float, optional
        What it took of each colour, or in all: unravelled and measured, or weighed. One of the two; none for a swatch
        that is only thought of.
    resolution : float
        The smallest step that the tape or the scale shows, in metres or in grams.
    skein : Skein, optional
        The label of the yarn, which says how many metres a gram is; wanted with `grams`.
    between_rows, tail_cm, ease
        As `yarn_usage` takes them: what was measured holds the tails and carried strands.
    yarn_mm : float, optional
        The yarn's diameter.

    Raises
    ------
    OptionError
        If an argument is not as described.
    """

    chart: Chart
    gauge: Gauge
    metres: Mapping[Part, float] | None = None
    grams: Mapping[Part, float] | None = None
    resolution: float = 0.01
    skein: Skein | None = None
    between_rows: BetweenRows = "carried"
    tail_cm: float = 15.0
    ease: float = 0.05
    yarn_mm: float | None = None

    def __post_init__(self) -> None:
        of_kind("chart", self.chart, Chart)
        if self.metres is not None and self.grams is not None:
            raise OptionError("Give `metres` or `grams` of a swatch, not both: which one was measured?")
        if self.grams is not None and not isinstance(self.skein, Skein):
            raise OptionError(
                f"`grams` need the `skein`, whose label says how many metres they are; got {self.skein!r}."
            )
        for name, amounts in (("metres", self.metres), ("grams", self.grams)):
            if amounts is None:
                continue
            if not isinstance(amounts, Mapping) or not amounts or not set(amounts) <= set(PARTS):
                raise OptionError(f"`{name}` must give the amount of 'MC', 'CC' or 'all'; got {amounts!r}.")
            if len(amounts) == len(PARTS) or ("all" in amounts and len(amounts) > 1):
                raise OptionError(f"`{name}` must give 'all' or the colours, not both; got {dict(amounts)!r}.")
            for part, amount in amounts.items():
                positive(f"{name}[{part!r}]", amount)
        positive("resolution", self.resolution)
        self.rates  # noqa: B018 — raises if one of the rest is not as described

    @property
    def rates(self) -> YarnRates:
        """What its yarn is reckoned from by default."""
        return YarnRates(
            self.gauge,
            between_rows=self.between_rows,
            yarn_mm=self.yarn_mm,
            tail_cm=self.tail_cm,
            ease=self.ease,
        )

    @property
    def measured(self) -> Mapping[Part, float]:
        """What was measured, in metres by the label."""
        if self.metres is not None:
            return self.metres
        return {part: grams * self._metres_a_gram for part, grams in (self.grams or {}).items()}

    @property
    def _metres_a_gram(self) -> float:
        return 1.0 if self.grams is None or self.skein is None else self.skein.metres / self.skein.grams

    @property
    def step_m(self) -> float:
        """The smallest step of the tape or the scale, in metres."""
        return self.resolution * self._metres_a_gram


# ---- the model ---------------------------------------------------------------------------------------------


def _rates(swatch: Swatch, prior: Prior) -> YarnRates:
    if prior == "estimate":
        return swatch.rates
    return replace(swatch.rates, yarn_mm=None, lengths=lengths_of_thread(swatch.gauge, swatch.yarn_mm))


def _design(
    swatch: Swatch, parts: Iterable[Part], prior: Prior = "estimate"
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Give the default metres of each kind of stitch in parts of a swatch, (P, 6), and those of no stitch, (P,)."""
    counts, rates = count_rows(swatch.chart), _rates(swatch, prior)
    usage = usage_of_rows(counts, rates, in_the_round=swatch.chart.in_the_round)
    chains = usage.foundation_m + usage.chain_m
    by_row = np.column_stack([chains, counts.stitches * rates.in_stitches.by_stitch / 100])
    other = usage.carried_m + usage.tails_m
    cc = np.array([role == "CC" for role in counts.row_colours])
    rows = {"MC": ~cc, "CC": cc, "all": np.ones(len(cc), dtype=bool)}
    chosen = [rows[part] for part in parts]
    return np.array([by_row[part].sum(axis=0) for part in chosen]), np.array([other[part].sum() for part in chosen])


def _covariance(common: float, own: float) -> NDArray[np.float64]:
    count = len(KINDS)
    return common**2 * np.ones((count, count)) + own**2 * np.eye(count)


@dataclass(frozen=True, eq=False, repr=False)
class Calibration:
    """How much longer the stitches of one hand and yarn are than the defaults.

    Attributes
    ----------
    factors : float array, (6,)
        The likely number for each kind, in the order of `KINDS`: 1.1 for 10 percent longer than the default.
    covariance : float array, (6, 6)
        How sure that is.
    grams_factor : float
        How many times as many metres a gram is as the label says; 1 where nothing was weighed. A scale alone cannot
        tell this from the stitches: it moves only where lengths were measured too.
    prior : "estimate" or "thread"
        Which lengths the defaults are.
    """

    factors: NDArray[np.float64]
    covariance: NDArray[np.float64]
    grams_factor: float
    prior: Prior = "estimate"

    @property
    def spreads(self) -> NDArray[np.float64]:
        """The standard deviation of each factor, (6,)."""
        return np.sqrt(np.diag(self.covariance))

    def intervals(self) -> dict[str, tuple[float, float, float]]:
        """Give for each kind of stitch the lower end, the middle and the upper end of 90 percent of its factor."""
        reach = NINETY_PERCENT * self.spreads
        ends = zip(self.factors - reach, self.factors, self.factors + reach, strict=True)
        return {
            kind: (float(low), float(middle), float(high))
            for kind, (low, middle, high) in zip(KINDS, ends, strict=True)
        }

    def lengths(self, chart: Chart, gauge: Gauge, *, yarn_mm: float | None = None) -> StitchLengths:
        """Give the lengths of stitches for a piece, to be handed to `yarn_usage` as `lengths`.

        Parameters
        ----------
        chart : Chart
            The piece: how far its yarn may be off hangs on how many it has of each stitch.
        gauge : Gauge
            Its gauge.
        yarn_mm : float, optional
            The yarn's diameter, as for the swatches.

        Returns
        -------
        StitchLengths
            Its `low` and `high` hold 90 percent of what the piece may take.
        """
        piece = Swatch(chart, gauge, yarn_mm=yarn_mm)
        reach = NINETY_PERCENT * self.spread_of(piece)
        default = _rates(piece, self.prior).in_stitches
        by_kind = {kind: getattr(default, kind) * float(k) for kind, k in zip(KINDS, self.factors, strict=True)}
        return StitchLengths(**by_kind, low=max(1 - reach, 0.0), high=1 + reach)

    def spread_of(self, piece: Swatch) -> float:
        """Give the spread of all that is worked in a piece, as a share of it: the handwork's unevenness included."""
        metres = _design(piece, ["all"], self.prior)[0][0]
        return sqrt(float(metres @ self.covariance @ metres) / float(metres @ self.factors) ** 2 + UNEVENNESS**2)

    def after(self, swatch: Swatch) -> Calibration:
        """Give what would be known if a swatch were unravelled and measured, whatever came of it.

        Parameters
        ----------
        swatch : Swatch
            One that need not have been measured: its colours are taken to be measured apart.
        """
        metres, _ = _design(swatch, ROLES, self.prior)
        noise = np.diag(_noise(metres, swatch.step_m))
        gain = self.covariance @ metres.T @ np.linalg.inv(metres @ self.covariance @ metres.T + noise)
        return replace(self, covariance=self.covariance - gain @ metres @ self.covariance)

    def tells_most(self, swatches: Mapping[str, Swatch], piece: Swatch) -> dict[str, float]:
        """Say which swatch, worked next, would tell most about a piece.

        Parameters
        ----------
        swatches : mapping of name to Swatch
            Those that could be worked.
        piece : Swatch
            The piece that is planned.

        Returns
        -------
        dict
            The spread of the piece's yarn after each, as a share, the smallest first.
        """
        spreads = {name: self.after(swatch).spread_of(piece) for name, swatch in swatches.items()}
        return dict(sorted(spreads.items(), key=lambda item: item[1]))

    def __str__(self) -> str:
        default = "the default" if self.prior == "estimate" else "the thread's length"
        lines = [
            f"{kind.replace('_', ' ')}: {middle:.2f} times {default} ({low:.2f} to {high:.2f})"
            for kind, (low, middle, high) in self.intervals().items()
        ]
        return "\n".join([*lines, "In brackets: 90 percent of what is likely."])

    def __repr__(self) -> str:
        return f"<Calibration {', '.join(f'{kind} {k:.2f}' for kind, k in zip(KINDS, self.factors, strict=True))}>"


def _noise(metres: NDArray[np.float64], step_m: float) -> NDArray[np.float64]:
    """Give the variance of measuring parts of a swatch: the step of the scale, spread evenly, and uneven handwork."""
    variances: NDArray[np.float64] = step_m**2 / 12 + (UNEVENNESS * metres.sum(axis=1)) ** 2
    return variances


def calibrate(
    swatches: Iterable[Swatch],
    *,
    common_spread: float = COMMON_SPREAD,
    stitch_spread: float = STITCH_SPREAD,
    prior: Prior = "estimate",
) -> Calibration:
    """Learn from swatches by one hand in one yarn how long the stitches are.

    Parameters
    ----------
    swatches : iterable of Swatch
        All measured; none gives back what is believed before any is.
    common_spread, stitch_spread : float
        How far, as shares, all stitches together and each kind on its own may be off the defaults beforehand.
    prior : "estimate" or "thread"
        Which lengths the defaults are: those of `StitchLengths.from_gauge` or those of `lengths_of_thread`. After a
        plain and a reversible swatch it makes no difference worth the name; the module's opening has the figures.

    Returns
    -------
    Calibration
        The factors of the six kinds and how sure they are.

    Raises
    ------
    OptionError
        If a swatch was not measured, or an argument is not as described.
    SwatchError
        If a swatch took less than its tails and strands alone, or contradicts what is believed and the others: it is
        named, from 1, with what was expected.

    Examples
    --------
    >>> from mosaickit.yarn import yarn_usage
    >>> chart, gauge = Chart.from_text(chr(10).join(["." * 20] * 20)), Gauge(16, 18)
    >>> took = 1.1 * yarn_usage(chart, gauge).total_m.sum()
    >>> learned = calibrate([Swatch(chart, gauge, metres={"all": took})])
    >>> round(float(learned.factors[1]), 2)
    1.09
    """
    swatches = list(swatches)
    one_of("prior", prior, PRIORS)
    common, own = (
        within(name, share, 1e-6, 10)
        for name, share in (("common_spread", common_spread), ("stitch_spread", stitch_spread))
    )
    weighed = any(isinstance(swatch, Swatch) and swatch.grams is not None for swatch in swatches)
    lines = [line for number, swatch in enumerate(swatches, 1) for line in _lines(number, swatch, prior)]
    count = len(KINDS)
    mean, covariance = np.ones(count + 1), np.zeros((count + 1, count + 1))
    covariance[:count, :count] = _covariance(common, own)
    covariance[count, count] = WEIGHT_SPREAD**2 if weighed else 0.0
    mean[count] = 0.0
    if lines:
        design = np.array([line.design for line in lines])
        took = np.array([line.took for line in lines])
        expected = design @ covariance @ design.T + np.diag([line.variance for line in lines])
        _check(lines, took - design @ mean, expected)
        gain = np.linalg.solve(expected, design @ covariance).T
        mean = mean + gain @ (took - design @ mean)
        covariance = covariance - gain @ design @ covariance
    known = (covariance + covariance.T)[:count, :count] / 2
    return Calibration(mean[:count], known, 1 / (1 + float(mean[count])), prior)


@dataclass(frozen=True, eq=False)
class _Line:
    """One measurement: metres of each kind of stitch, and of all if a gram is more metres than the label says."""

    swatch: int
    part: Part
    design: NDArray[np.float64]
    took: float
    variance: float


def _lines(number: int, swatch: object, prior: Prior) -> Iterable[_Line]:
    if not isinstance(swatch, Swatch):
        raise OptionError(f"`swatches` must be `Swatch`es; swatch {number} is {swatch!r}.")
    measured = swatch.measured
    if not measured:
        raise OptionError(f"Swatch {number} was not measured: give its `metres` or its `grams`.")
    metres, other = _design(swatch, measured, prior)
    variances = _noise(metres, swatch.step_m)
    for part, row, rest, amount, variance in zip(measured, metres, other, measured.values(), variances, strict=True):
        if amount <= rest:
            raise SwatchError(
                f"Swatch {number} took {amount:.3g} m of {part}, but its tails and carried strands alone are "
                f"{rest:.3g} m: is the amount right, or were they cut off?"
            )
        weighed = row.sum() + rest if swatch.grams is not None else 0.0
        yield _Line(number, part, np.append(row, weighed), amount - rest, variance)


def _check(lines: list[_Line], off: NDArray[np.float64], expected: NDArray[np.float64]) -> None:
    """Raise if a measurement is too far from what the defaults lead to expect, or they and all the others."""
    inverse = np.linalg.inv(expected)
    from_others = (inverse @ off) / np.diag(inverse)
    for what, far, spread in (
        ("what any hand makes", off, np.sqrt(np.diag(expected))),
        ("the others", from_others, 1 / np.sqrt(np.diag(inverse))),
    ):
        worst = int(np.abs(far / spread).argmax())
        if abs(far[worst]) > FARTHEST * spread[worst]:
            line = lines[worst]
            raise SwatchError(
                f"Swatch {line.swatch} contradicts {what}: its stitches took {line.took:.3g} m of {line.part}, and "
                f"{line.took - far[worst]:.3g} m were to be expected. Are chart and gauge the right ones?"
            )
