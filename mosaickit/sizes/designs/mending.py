"""Mending: the nearest motifs that may make a piece workable, the least changed first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from mosaickit.motif import FLIPPED_AXES, Motif, nearest_workable
from mosaickit.sizes.bands.banded import BandedLayout
from mosaickit.sizes.bands.nearest import with_nearest, wrong_bands

if TYPE_CHECKING:
    from mosaickit.sizes.designs.design import Design


def mended(design: Design) -> Design:
    """Give the design with the nearest motif that can be worked as it is laid, itself if it can; raises if none can."""
    if design.layout.workable:
        return design
    for better in _better(design):
        if better.layout.workable:
            return better
    if design.bands is None:
        design.layout.must_work()  # which says why, with the report and what helps beside a mended motif
    hopeless = design.but(motif=nearest_workable(design.motif).motif)
    hopeless.layout.must_work()
    return hopeless


def _better(design: Design) -> Iterator[Design]:
    """Give designs that may be workable: with another motif, and with other bands, first those that are wrong."""
    layout = design.layout
    if not isinstance(layout, BandedLayout):
        yield from (design.but(motif=motif) for motif in _nearest(design.motif))
        return
    assert design.bands is not None
    wrong, every = wrong_bands(layout.stack), range(1, len(design.bands.order) + 1)
    for which in (wrong, every):
        for goes_on in (True, False):
            with_bands = design.but(bands=with_nearest(design.bands, which, repeats_up=goes_on))
            yield with_bands
            yield from (with_bands.but(motif=motif) for motif in _nearest(design.motif))


def _nearest(motif: Motif) -> Iterator[Motif]:
    """Give the nearest motif that goes on upward, and the nearest that may also end there, the less changed first.

    Symmetries that the motif has are kept. (They are seen in the overlaid squares, as the repair sees them.)
    """
    overlaid = motif.overlaid
    symmetries = [name for name, axes in FLIPPED_AXES.items() if np.array_equal(overlaid, np.flip(overlaid, axes))]
    found = [nearest_workable(motif, symmetry=symmetries, repeats_up=goes_on) for goes_on in (True, False)]
    yield from (one.motif for one in sorted(found, key=lambda repair: repair.cost))
