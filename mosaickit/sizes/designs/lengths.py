"""Lengths: the gauge and the lengths of stitches by which the yarn of a design is calculated."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from mosaickit.errors import OptionError
from mosaickit.gauge import Gauge
from mosaickit.yarn import StitchLengths, YarnSettings, calibrate, lengths_of_thread

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
