"""Hands: what is believed of makers before they are measured, and what measurements say of them, in numbers alone.

The method is our own. Each kind of stitch is some number of times as long as its default. These numbers share a part,
as a loose hand makes every stitch longer, and each has a smaller part of its own; what a swatch took is the sum of its
stitches, give or take the scale and the unevenness of handwork. All of it is Gaussian, so what is known afterwards
follows by the rule of Bayes: a plain swatch sets the shared part, a reversible one beside it tells the stitches apart.
How uneven a hand is and how unusual is learned as well: both are tried at several sizes, and those that explain the
swatches count for more, above all where swatches or colours repeat each other. A hand far off in all its stitches is
thought to be one whose kinds of stitches differ more, too, so that each tells of the other. So few swatches leave
intervals with long tails, as Student's are, and they hold for uneven and unusual hands too. Metres and grams are kept
apart: how many metres a gram is depends on the label and on the moisture of the day, and no stitch grows longer for it.

How often intervals of 90 percent hold the truth was simulated, for hands that differ by 15 or 20 percent in all their
stitches and by 7 or 10 in each kind, and that are 2 or 4 percent uneven. After a plain and a reversible swatch, or two
of each, it is 87 to 95 times in 100, for a piece and for every kind of stitch, also those that are hardly in the
swatches. A lone swatch tells its own unevenness by its two colours alone: its intervals are wide enough for uneven
hands, and hold 90 to 99 times in 100.

Here a measurement is a row of numbers, how many metres each kind of stitch has in it by default, and an amount that it
took: `swatches` makes them. Arrays are over G hands that are thought of, L measurements, K kinds and H makers.
"""

from __future__ import annotations

from math import erf, sqrt

import numpy as np
from numpy.typing import NDArray

from mosaickit.yarn.lengths import KINDS

COMMON_SPREAD = 0.18
"""How far a hand may be off the defaults in all its stitches, over all hands.

Hobby measurements disagree by about 15 percent. Makers differ beside that: of 12 knitters with the same yarn and
needles the loosest was about 10 percent larger and the tightest 20 percent smaller than the label ("Differences in
gauge", a page on gauge; knitting, as no such figures were found for crochet). Twelve drawn with a spread of 9 percent
are on average 30 percent apart, and 15 and 9 percent together are 18.
"""

STITCH_SPREAD, STITCH_DOUBT = 0.078, 1.18
"""How far each kind of stitch may be off beside that, and the spread of its logarithm, since that is not sure either.

Our choice, no source, as the next ones are: with them intervals hold for the hands that the tests make up.
"""

TOGETHER = 0.54
"""With which power of the spread of its kinds of stitches a hand's spread in all of them grows."""

UNEVENNESS, UNEVENNESS_DOUBT = 0.034, 1.35
"""How far two swatches by one hand differ, and the spread of its logarithm."""

STITCH_TRIED, UNEVENNESS_TRIED = (-1.9, 1.55), (-1.8, 0.75)
"""From where to where the logarithms are tried, in their spreads.

Up to 49 percent of difference and 9 of unevenness: where nothing tells, more would only make every interval longer.
"""

SIZES_TRIED = 5
"""How many sizes of each are tried."""

WIDEST_COMMON, WIDEST_STITCH, WIDEST_UNEVENNESS = 0.20, 0.10, 0.04
"""The spreads of the most unusual hands that are believed; our choice, no source."""

WEIGHT_SPREAD = 0.03
"""How far the metres of a gram may be off the label's, with the moisture of the day; our choice, no source."""

FARTHEST = {1: 16.0, 2: 19.4}
"""A swatch is refused if its amounts, one or two, have a squared distance above this from what is expected.

The chi-square distribution exceeds it in 6 of 100,000 swatches by the most unusual hands that are believed.
"""


def prior_covariance(common: float, own: float, *, weighed: bool) -> NDArray[np.float64]:
    """Give how far the kinds of stitches, and last the metres of a gram, may be off, (7, 7)."""
    count = len(KINDS)
    covariance = np.zeros((count + 1, count + 1))
    covariance[:count, :count] = common**2 + own**2 * np.eye(count)
    covariance[count, count] = WEIGHT_SPREAD**2 if weighed else 0.0
    return covariance


def noise_of(
    metres: NDArray[np.float64], step_m: float | NDArray[np.float64], unevennesses: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Give the variances of L measurements by G hands, (G, L): the step of the scale, spread evenly, and handwork."""
    variances: NDArray[np.float64] = step_m**2 / 12 + np.outer(unevennesses, metres.sum(axis=1)) ** 2
    return variances


def hands(
    common_spread: float, stitch_spread: float
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """List the hands that are thought of, four times (G,).

    How likely each is; how far off in all its stitches, which over all hands is `common_spread`; how far its kinds
    differ beside that; how uneven it is.
    """
    steps = np.meshgrid(np.linspace(*STITCH_TRIED, SIZES_TRIED), np.linspace(*UNEVENNESS_TRIED, SIZES_TRIED))
    unusual, uneven = (each.ravel() for each in steps)
    weights = np.exp(-(unusual**2 + uneven**2) / 2)
    weights /= weights.sum()
    owns = np.exp(STITCH_DOUBT * unusual)
    commons = owns**TOGETHER
    commons *= common_spread / np.sqrt(weights @ commons**2)
    return weights, commons, stitch_spread * owns, UNEVENNESS * np.exp(UNEVENNESS_DOUBT * uneven)


def gain_from(
    design: NDArray[np.float64], noise: NDArray[np.float64], covariances: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Give by how much L measurements move K numbers, (G, K, L), how sure these are then, and what is expected."""
    expected = design @ covariances @ design.T + noise[:, :, np.newaxis] * np.eye(len(design))
    gain = np.swapaxes(np.linalg.solve(expected, design @ covariances), 1, 2)
    after = covariances - gain @ design @ covariances
    return gain, (after + np.swapaxes(after, 1, 2)) / 2, expected


def learn(
    design: NDArray[np.float64],
    took: NDArray[np.float64],
    noise: NDArray[np.float64],
    weights: NDArray[np.float64],
    mean: NDArray[np.float64],
    covariances: NDArray[np.float64],
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Learn from amounts of H makers, (H, L): weights (G, H), means (G, H, K) and covariances (G, K, K)."""
    gain, after, expected = gain_from(design, noise, covariances)
    off = took - mean @ design.T
    half = np.linalg.cholesky(expected)
    distance = (np.linalg.solve(half, np.broadcast_to(off.T, (len(half), *off.T.shape))) ** 2).sum(axis=1)
    fit = -distance / 2 - np.log(np.diagonal(half, axis1=1, axis2=2)).sum(axis=1)[:, np.newaxis]
    fit += np.log(weights)[:, np.newaxis]
    learned = np.exp(fit - fit.max(axis=0))
    return learned / learned.sum(axis=0), mean + np.einsum("gkl,hl->ghk", gain, off), after


def quantile(
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


def distances_of(
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
