"""Mending: the nearest motifs that may make a piece workable, the least changed first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from mosaickit.motif import FLIPPED_AXES, Motif, nearest_workable

if TYPE_CHECKING:
    from mosaickit.sizes.designs.design import Design


def mended(design: Design) -> Design:
    """Give the design with the nearest motif that can be worked as it is laid, itself if it can; raises if none can."""
    if design.layout.workable:
        return design
    for motif in _nearest(design.motif):
        better = design.but(motif=motif)
        if better.layout.workable:
            return better
    hopeless = design.but(motif=nearest_workable(design.motif).motif)
    hopeless.layout.must_work()  # which says why, with the report and what helps
    return hopeless


def _nearest(motif: Motif) -> Iterator[Motif]:
    """Give the nearest motif that goes on upward, and the nearest that may also end there, the less changed first.

    Symmetries that the motif has are kept. (They are seen in the overlaid squares, as the repair sees them.)
    """
    overlaid = motif.overlaid
    symmetries = [name for name, axes in FLIPPED_AXES.items() if np.array_equal(overlaid, np.flip(overlaid, axes))]
    found = [nearest_workable(motif, symmetry=symmetries, repeats_up=goes_on) for goes_on in (True, False)]
    yield from (one.motif for one in sorted(found, key=lambda repair: repair.cost))
