"""Calibration: what a weighed or unravelled swatch says about the yarn in each kind of stitch.

The method is our own. Each kind of stitch is some number of times as long as its default. These numbers share a part,
as a loose hand makes every stitch longer, and each has a smaller part of its own; what a swatch took is the sum of its
stitches, give or take the scale and the unevenness of handwork. All of it is Gaussian, so what is known afterwards
follows by the rule of Bayes: a plain swatch sets the shared part, a reversible one beside it tells the stitches apart.
How uneven a hand is and how far its kinds of stitches differ is learned as well: both are tried at several sizes, and
those that explain the swatches count for more, above all where swatches or colours repeat each other. So few swatches
leave intervals with long tails, as Student's are, and they hold for uneven and unusual hands too. Metres and grams are
kept apart: how many metres a gram is depends on the label and on the moisture of the day, and no stitch grows longer
for it.

How often intervals of 90 percent hold the truth was simulated, for hands that differ by 15 or 20 percent in all their
stitches and by 7 or 10 in each kind, and that are 2 or 4 percent uneven. After a plain and a reversible swatch, or two
of each, it is 87 to 95 times in 100 for a piece and for the kinds that the swatches are made of. Of a kind that is
hardly in them only the other kinds tell how far it may be off, so its interval holds the truth 87 to 97 times in 100,
the most for uneven hands that differ little. A lone swatch tells its own unevenness by its two colours alone: its
intervals are wide enough for uneven hands, and hold 90 to 99 times in 100.

The defaults are the estimate of `lengths`, or the lengths along the drawn `thread`, by the option `prior`. What depends
on that was simulated: hands whose true lengths are drawn round either, with spreads of 20 percent for all and 10 for
each stitch. After a plain and a reversible swatch nothing does: a piece is known to about 2 percent either way. After a
plain swatch alone a reversible piece is known to 8 to 10 percent by the prior that the hand was drawn round, to 9 to 14
by the other, whichever is which. As nothing published tells which is nearer to the truth, the estimate stays the
default: it holds for any yarn, the thread's lengths only where a row is three and a half yarn diameters high.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import erf, sqrt
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import OptionError, SwatchError, of_kind, one_of, positive, within
from mosaickit.fabric import Chart, count_rows
from mosaickit.gauge import Gauge
from mosaickit.motif import BetweenRows
from mosaickit.orientation import ROLES
from mosaickit.yarn.lengths import KINDS, StitchLengths
from mosaickit.yarn.thread.rows import lengths_of_thread
from mosaickit.yarn.usage import Skein, YarnRates, usage_of_rows

COMMON_SPREAD = 0.18
"""How far a hand may be off the defaults in all its stitches.

Hobby measurements disagree by about 15 percent. Makers differ beside that: of 12 knitters with the same yarn and
needles the loosest was about 10 percent larger and the tightest 20 percent smaller than the label ("Differences in
gauge", a page on gauge; knitting, as no such figures were found for crochet). Twelve drawn with a spread of 9 percent
are on average 30 percent apart, and 15 and 9 percent together are 18.
"""

STITCH_SPREAD, STITCH_DOUBT = 0.08, 0.8
"""How far each kind of stitch may be off beside that, and the spread of its logarithm, since that is not sure either.

Our choice, no source, as the next one is: with them intervals hold for the hands that the tests make up.
"""

UNEVENNESS, UNEVENNESS_DOUBT = 0.036, 1.3
"""How far two swatches by one hand differ, and the spread of its logarithm."""

STEPS = 7
"""How many sizes of each are tried."""

WIDEST_COMMON, WIDEST_STITCH, WIDEST_UNEVENNESS = 0.20, 0.10, 0.04
"""The spreads of the most unusual hands that are believed; our choice, no source."""

WEIGHT_SPREAD = 0.03
"""How far the metres of a gram may be off the label's, with the moisture of the day; our choice, no source."""

FARTHEST = {1: 16.0, 2: 19.4}
"""A swatch is refused if its amounts, one or two, have a squared distance above this from what is expected.

The chi-square distribution exceeds it in 6 of 100,000 swatches by the most unusual hands that are believed.
"""

LEAST = 0.2
"""A swatch whose stitches took less than this share of the default lost a digit; our choice, no source."""

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
        """What its yarn is calculated from by default."""
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


def _covariance(common: float, own: float, *, weighed: bool) -> NDArray[np.float64]:
    """Give how far the kinds of stitches, and last the metres of a gram, may be off, (7, 7)."""
    count = len(KINDS)
    covariance = np.zeros((count + 1, count + 1))
    covariance[:count, :count] = common**2 + own**2 * np.eye(count)
    covariance[count, count] = WEIGHT_SPREAD**2 if weighed else 0.0
    return covariance


@dataclass(frozen=True, eq=False, repr=False)
class Calibration:
    """How much longer the stitches of one hand and yarn are than the defaults.

    Attributes
    ----------
    weights : float array, (G,)
        How likely each of G hands is, which differ in how uneven they are and how far their kinds of stitches differ.
    means : float array, (G, 6)
        The likely number for each kind by each of them, in the order of `KINDS`.
    covariances : float array, (G, 6, 6)
        How sure that is.
    unevennesses : float array, (G,)
        How far, as a share, two swatches by each of them differ.
    grams_factor : float
        How many times as many metres a gram is as the label says; 1 where nothing was weighed. A scale alone cannot
        tell this from the stitches: it moves only where lengths were measured too.
    prior : "estimate" or "thread"
        Which lengths the defaults are.
    """

    weights: NDArray[np.float64]
    means: NDArray[np.float64]
    covariances: NDArray[np.float64]
    unevennesses: NDArray[np.float64]
    grams_factor: float
    prior: Prior = "estimate"

    @property
    def factors(self) -> NDArray[np.float64]:
        """The likely number for each kind, (6,): 1.1 for 10 percent longer than the default."""
        factors: NDArray[np.float64] = self.weights @ self.means
        return factors

    @property
    def covariance(self) -> NDArray[np.float64]:
        """How sure the factors are, (6, 6)."""
        off = self.means - self.factors
        covariance: NDArray[np.float64] = np.tensordot(self.weights, self.covariances, 1) + (self.weights * off.T) @ off
        return covariance

    @property
    def spreads(self) -> NDArray[np.float64]:
        """The standard deviation of each factor, (6,)."""
        return np.sqrt(np.diag(self.covariance))

    def intervals(self) -> dict[str, tuple[float, float, float]]:
        """Give for each kind of stitch the lower end, the middle and the upper end of 90 percent of its factor."""
        spreads = np.sqrt(np.diagonal(self.covariances, axis1=1, axis2=2))
        return {
            kind: (_quantile(0.05, self.weights, *of_kind_), float(middle), _quantile(0.95, self.weights, *of_kind_))
            for kind, middle, *of_kind_ in zip(KINDS, self.factors, self.means.T, spreads.T, strict=True)
        }

    def lengths(self, chart: Chart, gauge: Gauge, *, yarn_mm: float | None = None) -> StitchLengths:
        """Give the lengths of stitches for a piece, to be handed to `yarn_usage` as `lengths`.

        Parameters
        ----------
        chart : Chart
            The piece: how far its yarn may be off depends on how many it has of each stitch.
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
        amounts, spreads = self._amounts(piece)
        low, high = (_quantile(share, self.weights, amounts, spreads) for share in (0.05, 0.95))
        likely = float(self.weights @ amounts)
        default = _rates(piece, self.prior).in_stitches
        by_kind = {kind: getattr(default, kind) * float(k) for kind, k in zip(KINDS, self.factors, strict=True)}
        return StitchLengths(**by_kind, low=min(max(low / likely, 0.0), 1.0), high=max(high / likely, 1.0))

    def spread_of(self, piece: Swatch) -> float:
        """Give the spread of all that is worked in a piece, as a share of it: the handwork's unevenness included."""
        amounts, spreads = self._amounts(piece)
        likely = self.weights @ amounts
        return sqrt(float(self.weights @ (spreads**2 + (amounts - likely) ** 2))) / float(likely)

    def _amounts(self, piece: Swatch) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Give what a piece's stitches take by each hand, in metres, and the spread of that, (G,) and (G,)."""
        metres = _design(piece, ["all"], self.prior)[0][0]
        variances = np.einsum("i,gij,j->g", metres, self.covariances, metres)
        return self.means @ metres, np.sqrt(variances + (self.unevennesses * metres.sum()) ** 2)

    def after(self, swatch: Swatch) -> Calibration:
        """Give what would be known if a swatch were unravelled and took what is expected of it.

        Parameters
        ----------
        swatch : Swatch
            One that need not have been measured: its colours are taken to be measured apart.
        """
        metres, _ = _design(swatch, ROLES, self.prior)
        noise = _noise(metres, swatch.step_m, self.unevennesses)
        gain, covariances, _ = _gain(metres, noise, self.covariances)
        off = (self.factors - self.means) @ metres.T
        means = self.means + np.einsum("gkl,gl->gk", gain, off)
        return replace(self, means=means, covariances=covariances)

    def tells_most(self, swatches: Mapping[str, Swatch], piece: Swatch) -> dict[str, float]:
        """Say which swatch, worked next, would help most with a piece.

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
        return "\n".join([*lines, "In brackets: the range that holds it 9 times in 10."])

    def __repr__(self) -> str:
        return f"<Calibration {', '.join(f'{kind} {k:.2f}' for kind, k in zip(KINDS, self.factors, strict=True))}>"


# ---- learning ----------------------------------------------------------------------------------------------


def _noise(
    metres: NDArray[np.float64], step_m: float | NDArray[np.float64], unevennesses: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Give the variances of L measurements by G hands, (G, L): the step of the scale, spread evenly, and handwork."""
    variances: NDArray[np.float64] = step_m**2 / 12 + np.outer(unevennesses, metres.sum(axis=1)) ** 2
    return variances


def _hands(stitch_spread: float) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """List the hands that are thought of: how likely, how far kinds differ, and how uneven, three times (G,)."""
    # at most 17 percent uneven: where nothing tells, more would only make every interval longer
    steps = np.meshgrid(np.linspace(-2, 2, STEPS), np.linspace(-2, 1.2, STEPS))
    own, uneven = (each.ravel() for each in steps)
    weights = np.exp(-(own**2 + uneven**2) / 2)
    return (
        weights / weights.sum(),
        stitch_spread * np.exp(STITCH_DOUBT * own),
        UNEVENNESS * np.exp(UNEVENNESS_DOUBT * uneven),
    )


def _gain(
    design: NDArray[np.float64], noise: NDArray[np.float64], covariances: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Give by how much L measurements move K numbers, (G, K, L), how sure these are then, and what is expected."""
    expected = design @ covariances @ design.T + noise[:, :, np.newaxis] * np.eye(len(design))
    gain = np.swapaxes(np.linalg.solve(expected, design @ covariances), 1, 2)
    after = covariances - gain @ design @ covariances
    return gain, (after + np.swapaxes(after, 1, 2)) / 2, expected


def _learn(
    design: NDArray[np.float64],
    took: NDArray[np.float64],
    noise: NDArray[np.float64],
    weights: NDArray[np.float64],
    mean: NDArray[np.float64],
    covariances: NDArray[np.float64],
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Learn from amounts of H makers, (H, L): weights (G, H), means (G, H, K) and covariances (G, K, K)."""
    gain, after, expected = _gain(design, noise, covariances)
    off = took - mean @ design.T
    half = np.linalg.cholesky(expected)
    distance = (np.linalg.solve(half, np.broadcast_to(off.T, (len(half), *off.T.shape))) ** 2).sum(axis=1)
    fit = -distance / 2 - np.log(np.diagonal(half, axis1=1, axis2=2)).sum(axis=1)[:, np.newaxis]
    fit += np.log(weights)[:, np.newaxis]
    learned = np.exp(fit - fit.max(axis=0))
    return learned / learned.sum(axis=0), mean + np.einsum("gkl,hl->ghk", gain, off), after


def _quantile(
    share: float, weights: NDArray[np.float64], means: NDArray[np.float64], spreads: NDArray[np.float64]
) -> float:
    """Give the number below which a share of a mixture of normal distributions is, by halving."""
    low, high = float((means - 9 * spreads).min()), float((means + 9 * spreads).max())
    of_hand = list(zip(weights.tolist(), means.tolist(), (sqrt(2) * spreads).tolist(), strict=True))
    for _ in range(50):
        middle = (low + high) / 2
        if sum(weight * (1 + erf((middle - mean) / spread)) for weight, mean, spread in of_hand) < 2 * share:
            low = middle
        else:
            high = middle
    return (low + high) / 2


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
        How far, as shares, all stitches together and each kind on its own may be off the defaults beforehand; the
        second is the middle of the sizes that are tried.
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
    1.08
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
    mean = np.append(np.ones(count), 0.0)
    weights, owns, unevennesses = _hands(own)
    covariances = np.array([_covariance(common, each, weighed=weighed) for each in owns])
    if lines:
        design = np.array([line.design for line in lines])
        took = np.array([line.took for line in lines])
        steps = np.array([line.step_m for line in lines])
        widest = _covariance(max(common, WIDEST_COMMON), max(own, WIDEST_STITCH), weighed=weighed)
        noise = _noise(design[:, :count], steps, np.array([WIDEST_UNEVENNESS]))
        _check(lines, took - design @ mean, design @ widest @ design.T + np.diag(noise[0]))
        noise = _noise(design[:, :count], steps, unevennesses)
        of_hands, means, covariances = _learn(design, took[np.newaxis], noise, weights, mean, covariances)
        weights, means = of_hands[:, 0], means[:, 0]
    else:
        means = np.tile(mean, (len(weights), 1))
    grams_factor = 1 / (1 + float(weights @ means[:, count]))
    return Calibration(weights, means[:, :count], covariances[:, :count, :count], unevennesses, grams_factor, prior)


@dataclass(frozen=True, eq=False)
class _Line:
    """One measurement: metres of each kind of stitch, and of all if a gram is more metres than the label says."""

    swatch: int
    part: Part
    design: NDArray[np.float64]
    took: float
    step_m: float


def _lines(number: int, swatch: object, prior: Prior) -> Iterator[_Line]:
    if not isinstance(swatch, Swatch):
        raise OptionError(f"`swatches` must be `Swatch`es; swatch {number} is {swatch!r}.")
    measured = swatch.measured
    if not measured:
        raise OptionError(f"Swatch {number} was not measured: give its `metres` or its `grams`.")
    metres, other = _design(swatch, measured, prior)
    took = sum(measured.values()) - float(other.sum())
    for part, row, rest, amount in zip(measured, metres, other, measured.values(), strict=True):
        if amount <= rest:
            raise SwatchError(
                f"Swatch {number} took {amount:.3g} m of {part}, but its tails and carried strands alone are "
                f"{rest:.3g} m: is the amount right, or were they cut off?"
            )
        if took < LEAST * metres.sum():
            raise _contradiction(number, "what any hand makes", " and ".join(measured), took, float(metres.sum()))
        weighed = row.sum() + rest if swatch.grams is not None else 0.0
        yield _Line(number, part, np.append(row, weighed), amount - rest, swatch.step_m)


def _distances(
    whose: NDArray[np.int64], off: NDArray[np.float64], expected: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Tell how far swatches are from what any hand makes, and from the others.

    Parameters
    ----------
    whose : int array, (L,)
        To which of S swatches, from 0, each measurement belongs.
    off : float array, (H, L)
        How far they are from the defaults, in metres, for H makers.
    expected : float array, (L, L)
        The covariance of that, by the most unusual hands that are believed.

    Returns
    -------
    distances : float array, (2, S, H)
        Squared distances, in terms of the farthest that is believed: above 1 is too far.
    far : float array, (2, H, L)
        How far each measurement is from what was expected, in metres.
    """
    inverse = np.linalg.inv(expected)
    distances, far = np.empty((2, int(whose.max()) + 1, len(off))), np.empty((2, *off.shape))
    for swatch in range(distances.shape[1]):
        own = np.flatnonzero(whose == swatch)
        block = np.ix_(own, own)
        far[0][:, own] = off[:, own]
        far[1][:, own] = np.linalg.solve(inverse[block], (off @ inverse)[:, own].T).T
        for which, precision in enumerate((np.linalg.inv(expected[block]), inverse[block])):
            distance = np.einsum("hi,ij,hj->h", far[which][:, own], precision, far[which][:, own])
            distances[which, swatch] = distance / FARTHEST[len(own)]
    return distances, far


def _check(lines: Sequence[_Line], off: NDArray[np.float64], expected: NDArray[np.float64]) -> None:
    """Raise if a swatch is too far from what any hand makes, or from the others."""
    whose = np.array([line.swatch for line in lines]) - 1
    distances, far = _distances(whose, off[np.newaxis], expected)
    for which, what in enumerate(("what any hand makes", "the others")):
        swatch = int(distances[which, :, 0].argmax())
        if distances[which, swatch, 0] > 1:
            worst = int(np.where(whose == swatch, np.abs(far[which, 0]), -1).argmax())
            line = lines[worst]
            raise _contradiction(line.swatch, what, line.part, line.took, line.took - float(far[which, 0, worst]))


def _contradiction(number: int, what: str, part: str, took: float, expected: float) -> SwatchError:
    return SwatchError(
        f"Swatch {number} contradicts {what}: its stitches took {took:.3g} m of {part}, where about "
        f"{max(expected, 0):.3g} m was expected. Check the amount, its unit, the chart and the gauge."
    )
