"""Learning: from swatches that were measured to what is known; a swatch that cannot be believed is named.

The defaults are the estimate of `lengths`, or the lengths along the drawn `thread`, by the option `prior`. What depends
on that was simulated: hands whose true lengths are drawn round either, with spreads of 20 percent for all and 10 for
each stitch. After a plain and a reversible swatch nothing does: a piece is known to about 2 percent either way. After a
plain swatch alone a reversible piece is known to 8 to 10 percent by the prior that the hand was drawn round, to 9 to 14
by the other, whichever is which. As nothing published tells which is nearer to the truth, the estimate stays the
default: it holds for any yarn, the thread's lengths only where a row is three and a half yarn diameters high.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import OptionError, SwatchError, each_of_kind, one_of, within
from mosaickit.yarn.calibration.hands import (
    COMMON_SPREAD,
    STITCH_SPREAD,
    WIDEST_COMMON,
    WIDEST_STITCH,
    WIDEST_UNEVENNESS,
    distances_of,
    hands,
    learn,
    noise_of,
    prior_covariance,
)
from mosaickit.yarn.calibration.known import Calibration
from mosaickit.yarn.calibration.swatches import PRIORS, Part, Prior, Swatch, default_metres
from mosaickit.yarn.lengths import KINDS

LEAST = 0.2
"""A swatch whose stitches took less than this share of the default lost a digit; our choice, no source."""


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
        first is over all hands, the second the one of a usual hand, and larger and smaller ones are tried.
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
    >>> from mosaickit import Chart, Gauge
    >>> from mosaickit.yarn import yarn_usage
    >>> chart, gauge = Chart.from_text(chr(10).join(["." * 20] * 20)), Gauge(16, 18)
    >>> took = 1.1 * yarn_usage(chart, gauge).total_m.sum()
    >>> learned = calibrate([Swatch(chart, gauge, metres={"all": took})])
    >>> round(float(learned.factors[1]), 2)
    1.08
    """
    swatches = each_of_kind("swatches", swatches, Swatch)
    one_of("prior", prior, PRIORS)
    common, own = (
        within(name, share, 1e-6, 10)
        for name, share in (("common_spread", common_spread), ("stitch_spread", stitch_spread))
    )
    weighed = any(swatch.grams is not None for swatch in swatches)
    lines = [line for number, swatch in enumerate(swatches, 1) for line in _lines(number, swatch, prior)]
    count = len(KINDS)
    mean = np.append(np.ones(count), 0.0)
    weights, commons, owns, unevennesses = hands(common, own)
    covariances = np.array([prior_covariance(*each, weighed=weighed) for each in zip(commons, owns, strict=True)])
    if lines:
        design = np.array([line.design for line in lines])
        took = np.array([line.took for line in lines])
        steps = np.array([line.step_m for line in lines])
        widest = prior_covariance(max(common, WIDEST_COMMON), max(own, WIDEST_STITCH), weighed=weighed)
        noise = noise_of(design[:, :count], steps, np.array([WIDEST_UNEVENNESS]))
        _check(lines, took - design @ mean, design @ widest @ design.T + np.diag(noise[0]))
        noise = noise_of(design[:, :count], steps, unevennesses)
        of_hands, means, covariances = learn(design, took[np.newaxis], noise, weights, mean, covariances)
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


def _lines(number: int, swatch: Swatch, prior: Prior) -> Iterator[_Line]:
    measured = swatch.measured
    if not measured:
        raise OptionError(f"Swatch {number} was not measured: give its `metres` or its `grams`.")
    metres, other = default_metres(swatch, measured, prior)
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


def _check(lines: Sequence[_Line], off: NDArray[np.float64], expected: NDArray[np.float64]) -> None:
    """Raise if a swatch is too far from what any hand makes, or from the others."""
    whose = np.array([line.swatch for line in lines]) - 1
    distances, far = distances_of(whose, off[np.newaxis], expected)
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
