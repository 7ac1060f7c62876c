"""Known: how long the stitches of one hand and yarn are, and what that says about a piece and about the next swatch."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from mosaickit.fabric import Chart
from mosaickit.gauge import Gauge
from mosaickit.motif import read_only
from mosaickit.orientation import ROLES
from mosaickit.yarn.calibration.hands import gain_from, noise_of, quantile
from mosaickit.yarn.calibration.swatches import Prior, Swatch, default_metres, rates_of
from mosaickit.yarn.lengths import KINDS, StitchLengths
from mosaickit.yarn.settings import YarnSettings

NINETY_PERCENT = 1.6448536269514722
"""Spreads on either side of the middle that hold 90 percent of a normal distribution."""


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

    def __post_init__(self) -> None:
        for array in (self.weights, self.unevennesses, self.means, self.covariances):
            read_only(array)

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
            kind: (quantile(0.05, self.weights, *of_kind), float(middle), quantile(0.95, self.weights, *of_kind))
            for kind, middle, *of_kind in zip(KINDS, self.factors, self.means.T, spreads.T, strict=True)
        }

    def lengths(self, chart: Chart, gauge: Gauge, *, yarn_mm: float | None = None) -> StitchLengths:
        """Give the lengths of stitches for a piece, for ``YarnSettings(lengths=...)``.

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
        piece = Swatch(chart, gauge, yarn_settings=YarnSettings(yarn_mm=yarn_mm))
        amounts, spreads = self._amounts(piece)
        low, high = (quantile(share, self.weights, amounts, spreads) for share in (0.05, 0.95))
        likely = float(self.weights @ amounts)
        default = rates_of(piece, self.prior).in_stitches
        by_kind = {kind: getattr(default, kind) * float(k) for kind, k in zip(KINDS, self.factors, strict=True)}
        return StitchLengths(**by_kind, low=min(max(low / likely, 0.0), 1.0), high=max(high / likely, 1.0))

    def spread_of(self, piece: Swatch) -> float:
        """Give the spread of all that is worked in a piece, as a share of it: the handwork's unevenness included."""
        amounts, spreads = self._amounts(piece)
        likely = self.weights @ amounts
        return sqrt(float(self.weights @ (spreads**2 + (amounts - likely) ** 2))) / float(likely)

    def _amounts(self, piece: Swatch) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Give what a piece's stitches take by each hand, in metres, and the spread of that, (G,) and (G,)."""
        metres = default_metres(piece, ["all"], self.prior)[0][0]
        variances = np.einsum("i,gij,j->g", metres, self.covariances, metres)
        return self.means @ metres, np.sqrt(variances + (self.unevennesses * metres.sum()) ** 2)

    def after(self, swatch: Swatch) -> Calibration:
        """Give what would be known if a swatch were unravelled and took what is expected of it.

        Parameters
        ----------
        swatch : Swatch
            One that need not have been measured: its colours are taken to be measured apart.
        """
        metres, _ = default_metres(swatch, ROLES, self.prior)
        noise = noise_of(metres, swatch.step_m, self.unevennesses)
        gain, covariances, _ = gain_from(metres, noise, self.covariances)
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
