"""Judging: what each square shows, and how sure that is.

How a square of this fabric looks in this light is learnt from the picture itself: most squares are worked as the chart
says, so a weighting of the pixels about a square's middle is fitted to the chart, and each square is then judged by a
weighting that was fitted to the others alone. How far the judgements of squares that should look alike spread gives the
sureness. What the hook can make is known too: nothing of the last row is overlaid, and no two squares one above the
other are.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mosaickit.photographed.expected import Expected
from mosaickit.photographed.straight import Grid, Reals, in_logarithms

CELLS = 4
"""A square is judged by this many cells across and down, and by half as many more on each side."""

PIXELS_READ = 12
"""Pixels to a square's side when its colours are read."""

USUAL_MISTAKES = 1 / 300
"""The share of stitches that is expected to be wrong before the picture is looked at: our choice, no source."""

WEIGHT_OF_EVIDENCE = 1.6
"""Evidence counts for this much more than the spread says, as the spread is taken wide. Measured on drawn fabric in
poor light whose yarns can hardly be told apart: of findings called 90 % sure, nine of ten are true."""

MOST_EVIDENCE = 14.0
"""No square says more than this for one yarn or the other, in natural logarithms of odds."""


@dataclass(frozen=True, eq=False)
class Judged:
    """What the squares show, as seen.

    Attributes
    ----------
    chance : float array, (n, C)
        How likely each square is overlaid, from 0 to 1.
    apart : float
        How many spreads lie between squares that are overlaid and those that are not; below 3, yarns or picture are
        too poor to be sure.
    colours : float array, (K, 3)
        The yarns' tones in the picture, from 0 to 1, in its middle light.
    """

    chance: Reals
    apart: float
    colours: Reals

    @property
    def overlaid(self) -> NDArray[np.bool_]:
        """Which squares are read as overlaid."""
        return self.chance > 0.5


def judged(tones: NDArray[np.float32], grid: Grid, part: Expected) -> Judged:
    """Judge every square of a chart that was laid over a picture."""
    rows, columns = part.shape
    raw = grid.flat(tones, (PIXELS_READ, PIXELS_READ), margin=1)
    side = PIXELS_READ // CELLS
    cells = in_logarithms(raw.reshape((rows + 2) * CELLS, side, (columns + 2) * CELLS, side, 3).mean(axis=(1, 3)))
    inner = cells[CELLS:-CELLS, CELLS:-CELLS].reshape(rows, CELLS, columns, CELLS, 3)
    middles = inner[:, 1:-1, :, 1:-1].mean(axis=(1, 3))
    labels = part.overlaid
    trusted = np.ones(part.shape, dtype=np.bool_)
    for _ in range(3):
        light, yarns, noise = _yarns_and_light(middles, part.showing(labels), len(part.yarns), trusted)
        scores, apart = _scores(cells, light, yarns, noise, part, labels, trusted)
        evidence = _evidence(scores, part, labels, trusted)
        chance = _chance(evidence, part)
        # a square that speaks against the chart teaches nothing about it
        trusted = np.where(labels, evidence, -evidence) > -2
    colours = np.exp(yarns + light.mean(axis=(0, 1)))
    return Judged(chance, apart, np.clip(colours, 0, 1))


def _yarns_and_light(
    middles: Reals, shows: NDArray[np.intp], count: int, trusted: NDArray[np.bool_]
) -> tuple[Reals, Reals, Reals]:
    """Part the squares' colours into uneven light, (n, C, 3), that of the yarns, (K, 3), and a spread, (3, 3)."""
    rows, columns = shows.shape
    v, u = (np.linspace(-1, 1, side)[:, np.newaxis] if side > 1 else np.zeros((1, 1)) for side in (rows, columns))
    v, u = np.broadcast_arrays(v, u.T)
    surface = np.stack([u, v, u * v, u**2 - 1 / 3, v**2 - 1 / 3], axis=-1).reshape(-1, 5)
    which = np.eye(count)[shows.ravel()]
    system, values = np.concatenate([which, surface], axis=1), middles.reshape(-1, 3)
    weight = trusted.ravel().astype(np.float64)
    # the light is smooth: small pictures say little about it
    stiff = np.diag([1e-6] * count + [0.5] * 5)
    for _ in range(4):
        solved = np.linalg.solve(
            system.T @ (system * weight[:, np.newaxis]) + stiff, system.T @ (values * weight[:, np.newaxis])
        )
        off = values - system @ solved
        size = np.sqrt((off**2).sum(axis=1))
        typical = max(float(np.median(size)), 1e-3)
        weight = trusted.ravel() / np.maximum(1, size / (2 * typical))
    noise = (off.T * weight) @ off / max(weight.sum(), 1) + 4e-4 * np.eye(3)
    light: Reals = (surface @ solved[count:]).reshape(rows, columns, 3)
    yarns: Reals = solved[:count]
    return light, yarns, noise


def _scores(
    cells: Reals,
    light: Reals,
    yarns: Reals,
    noise: Reals,
    part: Expected,
    labels: NDArray[np.bool_],
    trusted: NDArray[np.bool_],
) -> tuple[Reals, float]:
    """Give how much each square looks overlaid, about +1, or not, about -1, judged by what the others teach."""
    rows, columns = part.shape
    towards = (yarns[part.above] - yarns[part.own]) @ np.linalg.inv(noise)  # (n, 3)
    between = (yarns[part.above] + yarns[part.own]) / 2
    length = np.maximum((towards * (yarns[part.above] - yarns[part.own])).sum(axis=1) / 2, 1e-9)
    reach = 2 * CELLS
    views = np.lib.stride_tricks.sliding_window_view(cells, (reach, reach), axis=(0, 1))
    views = views[CELLS // 2 :: CELLS, CELLS // 2 :: CELLS][:rows, :columns]  # (n, C, 3, reach, reach)
    even = views - (light + between[:, np.newaxis])[..., np.newaxis, np.newaxis]
    patches = np.einsum("rckij,rk->rcij", even, towards / length[:, np.newaxis]).clip(-3, 3).reshape(-1, reach * reach)
    # row colours in step with the patches, as light yarn over dark looks other than dark over light
    lighter = np.sign((yarns[part.above] - yarns[part.own]).sum(axis=1))
    phase = np.repeat(lighter, columns)
    features = np.concatenate([patches, phase[:, np.newaxis], np.ones((len(patches), 1))], axis=1)
    start = np.concatenate([_middle(reach).ravel(), [0.0, 0.0]])
    wanted = np.where(labels.ravel(), 1.0, -1.0)
    share = np.clip(labels.mean(), 0.1, 0.9)
    weight = trusted.ravel() * np.where(labels.ravel(), 0.5 / share, 0.5 / (1 - share))
    off = wanted - features @ start
    spread = float((weight * off**2).sum() / max(weight.sum(), 1)) or 1.0
    # each weight strays from the start by about a fortieth: many cells share what there is to learn
    stiff = np.diag([spread / 0.03**2] * (reach * reach) + [spread / 0.3**2] * 2)
    inverse = np.linalg.inv(features.T @ (features * weight[:, np.newaxis]) + stiff)
    learnt = inverse @ (features.T @ (weight * off))
    leverage = weight * ((features @ inverse) * features).sum(axis=1)
    without = (off - features @ learnt) / np.maximum(1 - leverage, 0.05)  # what is left over if it is not learnt from
    scores = wanted - without
    apart = _apart(scores, labels.ravel(), trusted.ravel())
    return scores.reshape(rows, columns), apart


def _middle(reach: int) -> Reals:
    """Give the weights that are right for an even square: those of its middle."""
    places = (np.arange(reach) + 0.5) / CELLS - 1
    bell = np.exp(-((places / 0.32) ** 2) / 2)
    weights: Reals = np.outer(bell, bell)
    return weights / float(weights.sum())


def _centres(scores: Reals, labels: NDArray[np.bool_], trusted: NDArray[np.bool_]) -> tuple[float, float, float]:
    """Give where squares that are not overlaid and those that are lie, and how they spread about it."""
    low, high = (scores[(labels == which) & trusted] for which in (False, True))
    # with few squares of a kind, an even square's -1 and +1 count as five more
    middles = [
        (float(np.median(kind)) * len(kind) + five * 5) / (len(kind) + 5) if len(kind) else five
        for kind, five in ((low, -1.0), (high, 1.0))
    ]
    off = np.sort(np.concatenate([np.abs(low - middles[0]), np.abs(high - middles[1])]))
    kept = off[: len(off) - max(1, len(off) // 50)]  # what is farthest off may be worked wrong
    spread = np.hypot(1.15 * np.sqrt(np.mean(kept**2)) if len(kept) else 1.0, 0.05 + 0.5 / np.sqrt(len(off) + 1))
    return middles[0], middles[1], float(spread)


def _apart(scores: Reals, labels: NDArray[np.bool_], trusted: NDArray[np.bool_]) -> float:
    low, high, spread = _centres(scores, labels, trusted)
    return max(high - low, 0.0) / spread


def _evidence(scores: Reals, part: Expected, labels: NDArray[np.bool_], trusted: NDArray[np.bool_]) -> Reals:
    """Give what each square says for being overlaid, in natural logarithms of odds."""
    low, high, spread = _centres(scores.ravel(), labels.ravel(), trusted.ravel())
    evidence = WEIGHT_OF_EVIDENCE * (high - low) / spread**2 * (scores - (high + low) / 2)
    result: Reals = np.clip(evidence, -MOST_EVIDENCE, MOST_EVIDENCE)
    return result


def _chance(evidence: Reals, part: Expected) -> Reals:
    """Give how likely each square is overlaid, where no two squares one above the other can be."""
    rows, columns = part.shape
    wrong = USUAL_MISTAKES
    says = evidence + np.where(part.overlaid, 1.0, -1.0) * np.log((1 - wrong) / wrong)
    odds = np.exp(np.clip(says, -40, 40))
    if part.top_is_last:
        odds[0] = 0.0
    # the sums of all that may lie above a square, and below it, with and without an overlaid neighbour
    above = np.ones((rows + 1, 2, columns)) * np.array([1.0, 0.0])[:, np.newaxis]
    below = above.copy()
    for row in range(rows):
        above[row + 1] = _onward(above[row], odds[row])
        below[rows - row - 1] = _onward(below[rows - row], odds[rows - row - 1])
    over = odds * above[:-1, 0] * below[1:, 0]
    not_over = above[:-1].sum(axis=1) * below[1:].sum(axis=1)
    chance: Reals = over / (over + not_over)
    return chance


def _onward(sums: Reals, odds: Reals) -> Reals:
    ahead = np.stack([sums[0] + sums[1], odds * sums[0]])
    result: Reals = ahead / ahead.sum(axis=0)
    return result
