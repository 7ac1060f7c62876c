"""Lengths: the gauge and the lengths of stitches by which the yarn of a design is calculated, and that yarn."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from mosaickit.errors import OptionError
from mosaickit.gauge import Gauge
from mosaickit.sizes.finishes.finish import USUAL_FINISH
from mosaickit.sizes.finishes.taking import Taken
from mosaickit.sizes.layouts.usage import LayoutUsage, check_skeins
from mosaickit.yarn import StitchLengths, YarnRates, YarnSettings, calibrate, lengths_of_thread

if TYPE_CHECKING:
    from mosaickit.sizes.designs.design import Design


def gauge_of(design: Design) -> Gauge:
    """Give the gauge of a design, or raise `OptionError`."""
    if design.gauge is None:
        raise OptionError(
            "This design has no gauge, so its size and yarn cannot be told: give it one, as "
            "`design.but(gauge=mk.Gauge(16, 18))`."
        )
    return design.gauge


def lengths_of(design: Design) -> StitchLengths:
    """Give the lengths of stitches; see `Design.lengths`."""
    gauge, yarn_mm = design.known_gauge, design.yarn_settings.yarn_mm
    if design.swatches:
        learned = calibrate(design.swatches, prior="thread" if design.by_thread else "estimate")
        return learned.lengths(design.chart, gauge, yarn_mm=yarn_mm)
    return lengths_of_thread(gauge, yarn_mm) if design.by_thread else design.yarn_settings.lengths_at(gauge)


def settings_of(design: Design) -> YarnSettings:
    """Give the yarn settings with the lengths that thread or swatches give; see `Design.calculated_by`."""
    if not design.by_thread and not design.swatches:
        return design.yarn_settings
    return replace(design.yarn_settings, lengths=design.lengths, yarn_mm=None)


def usage_of(design: Design) -> LayoutUsage:
    """Give the yarn of the whole piece; see `Design.usage`."""
    rates, layout = _rates_at(design.known_gauge, settings_of(design)), design.layout
    check_skeins(layout.yarns_of_motifs, rates)
    worked = layout.usage_at(rates, reversible=design.reversible)
    return worked if design.finish == USUAL_FINISH else Taken.of(design.edging, rates).on_top_of(worked, layout)


@lru_cache(maxsize=64)  # a design that is changed asks for the same ones again and again
def _rates_at(gauge: Gauge, yarn_settings: YarnSettings) -> YarnRates:
    return YarnRates(gauge, yarn_settings)
