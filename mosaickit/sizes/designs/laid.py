"""Laid: the layout of a design, its size, and what its counts are multiples of."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mosaickit.sizes.bands.banded import BandedLayout
from mosaickit.sizes.designs.laying import LaidWay, kept_sums, ways_of
from mosaickit.sizes.layouts.layout import Layout
from mosaickit.sizes.layouts.multiples import Multiple

if TYPE_CHECKING:
    from mosaickit.sizes.designs.design import Design


def layout_of(design: Design) -> Layout:
    """Lay what a design says."""
    if design.bands is not None:
        return BandedLayout(
            design.motif,
            across=design.across,
            up=design.up,
            surround=design.surround,
            bands=design.bands,
            laying=design.laying,
            seam=design.seam,
        )
    along, above = _ways(design)
    sums = kept_sums(design._sums, design.motif, along, above, design.laying, design.seam, design.surround.colours)
    (across, beside), (up, over) = along.counts, above.counts
    surround = design.surround.closed_by(beside, over)
    return Layout(sums.motif, across=across, up=up, surround=surround, sums=sums)


def shape_of(design: Design) -> tuple[int, int]:
    """Give (rows, stitches) of the whole piece."""
    if design.bands is not None:
        return design.layout.shape
    along, above = _ways(design)
    return design.surround.around((above.whole, along.whole))


def multiple_of(design: Design) -> Multiple:
    """Give what the counts of stitches, chains and rows are multiples of."""
    if design.bands is not None:
        return design.layout.multiple
    along, above = _ways(design)
    step, repeats = (above.step, along.step), (above.number, along.number)
    return Multiple.of(design.shape, step, repeats, in_the_round=design.surround.in_the_round)


def _ways(design: Design) -> tuple[LaidWay, LaidWay]:
    return ways_of(design.motif, design.across, design.up, design.surround, design.laying, design.seam)
