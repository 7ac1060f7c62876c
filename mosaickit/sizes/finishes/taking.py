"""Taking: the yarn that a finish takes, on top of what a piece without one does."""

from __future__ import annotations

from mosaickit.sizes.finishes.edging import Edging
from mosaickit.sizes.layouts.layout import Layout
from mosaickit.sizes.layouts.usage import LayoutUsage


def with_edging(usage: LayoutUsage, layout: Layout, edging: Edging) -> LayoutUsage:
    """Give the yarn of a piece with its foundation, border and added strands.

    The border is worked in the yarn that its colour has in the last of its rows, which is at hand when it begins.
    """
    lengths, tail_cm = usage.rates.in_stitches, usage.rates.yarn_settings.tail_cm
    if more := edging.foundation_m(lengths):
        usage = usage.with_more(layout.first, layout.first_yarn, more, 0.0)
    role = edging.finish.finish_colour
    worked, cut = edging.border_m(lengths), edging.cut_m(tail_cm)
    return usage.with_more(role, layout.last_yarn(role), worked, cut) if worked or cut else usage
