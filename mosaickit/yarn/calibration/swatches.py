"""Swatches: what was worked, what it took, and what the defaults say that its stitches take."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import OptionError, of_kind, positive
from mosaickit.fabric import Chart, count_rows
from mosaickit.fixed import FixedMapping
from mosaickit.gauge import Gauge
from mosaickit.yarn.rates import YarnRates
from mosaickit.yarn.settings import USUAL_YARN_SETTINGS, YarnSettings
from mosaickit.yarn.thread.rows import lengths_of_thread
from mosaickit.yarn.totals import Skein
from mosaickit.yarn.usage import usage_of_rows

Part = Literal["MC", "CC", "all"]
PARTS: tuple[Part, ...] = ("MC", "CC", "all")

Prior = Literal["estimate", "thread"]
PRIORS: tuple[Prior, ...] = ("estimate", "thread")


@dataclass(frozen=True)
class Swatch:
    """A swatch that was measured, or one that could be.

    Parameters
    ----------
    chart : Chart
        What was worked, flat or in the round as the chart says: chains, joins and carried strands are calculated so,
        whatever the piece is.
    gauge : Gauge
        Its stitches and rows over a measured length.
    metres, grams : mapping of "MC", "CC" or "all" to float, optional
        What it took of each colour, or in all: unravelled and measured, or weighed. One of the two; none for a swatch
        that is only thought of.
    resolution : float
        The smallest step that the tape or the scale shows, in metres or in grams.
    yarn_settings : YarnSettings
        How its yarn is calculated: what was measured holds the tails and carried strands. Its skein, one for all, is
        the label that says how many metres a gram is, wanted with `grams`; its lengths must be left out, as they are
        what a swatch tells.

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
    yarn_settings: YarnSettings = USUAL_YARN_SETTINGS

    def __post_init__(self) -> None:
        of_kind("chart", self.chart, Chart)
        of_kind("gauge", self.gauge, Gauge)
        of_kind("yarn_settings", self.yarn_settings, YarnSettings)
        if self.yarn_settings.lengths is not None:
            raise OptionError(
                "The lengths of stitches are what a swatch tells, so leave them out of its `yarn_settings`: "
                "dataclasses.replace(yarn_settings, lengths=None)."
            )
        if self.metres is not None and self.grams is not None:
            raise OptionError("Give `metres` or `grams` of a swatch, not both: which one was measured?")
        if self.grams is not None and self._skein is None:
            raise OptionError(
                "`grams` need the label of one skein, which says how many metres they are: "
                f"yarn_settings=mk.YarnSettings(skeins=mk.Skein(105, 50)); got skeins={self.yarn_settings.skeins!r}."
            )
        for name, amounts in (("metres", self.metres), ("grams", self.grams)):
            if amounts is None:
                continue
            if not isinstance(amounts, Mapping) or not amounts or not set(amounts) <= set(PARTS):
                raise OptionError(f"`{name}` must give the amount of 'MC', 'CC' or 'all'; got {amounts!r}.")
            if len(amounts) == len(PARTS) or ("all" in amounts and len(amounts) > 1):
                raise OptionError(f"`{name}` must give 'all' or the colours, not both; got {dict(amounts)!r}.")
            took = {part: positive(f"{name}[{part!r}]", amount) for part, amount in amounts.items()}
            self.__dict__[name] = FixedMapping(took)
        positive("resolution", self.resolution)

    @property
    def rates(self) -> YarnRates:
        """What its yarn is calculated from by default."""
        return YarnRates(self.gauge, self.yarn_settings)

    @property
    def _skein(self) -> Skein | None:
        skeins = self.yarn_settings.skeins
        return skeins if isinstance(skeins, Skein) else None

    @property
    def measured(self) -> Mapping[Part, float]:
        """What was measured, in metres by the label."""
        if self.metres is not None:
            return self.metres
        return {part: grams * self._metres_a_gram for part, grams in (self.grams or {}).items()}

    @property
    def _metres_a_gram(self) -> float:
        return 1.0 if self.grams is None or self._skein is None else self._skein.metres / self._skein.grams

    @property
    def step_m(self) -> float:
        """The smallest step of the tape or the scale, in metres."""
        return self.resolution * self._metres_a_gram


def rates_of(swatch: Swatch, prior: Prior) -> YarnRates:
    """Give what the yarn of a swatch is calculated from, by the defaults that are chosen."""
    if prior == "estimate":
        return swatch.rates
    lengths = lengths_of_thread(swatch.gauge, swatch.yarn_settings.yarn_mm)
    return YarnRates(swatch.gauge, replace(swatch.yarn_settings, yarn_mm=None, lengths=lengths))


def default_metres(
    swatch: Swatch, parts: Iterable[Part], prior: Prior = "estimate"
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Give the default metres of each kind of stitch in parts of a swatch, (P, 6), and those of no stitch, (P,)."""
    counts, rates = count_rows(swatch.chart), rates_of(swatch, prior)
    usage = usage_of_rows(counts, rates, in_the_round=swatch.chart.in_the_round)
    chains = usage.foundation_m + usage.chain_m
    by_row = np.column_stack([chains, counts.stitches * rates.in_stitches.by_stitch / 100])
    other = usage.carried_m + usage.tails_m
    cc = np.array([role == "CC" for role in counts.row_colours])
    rows = {"MC": ~cc, "CC": cc, "all": np.ones(len(cc), dtype=bool)}
    chosen = [rows[part] for part in parts]
    return np.array([by_row[part].sum(axis=0) for part in chosen]), np.array([other[part].sum() for part in chosen])
