"""Nearest: bands with the nearest motifs that can be worked in place of those that cannot."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import replace

from mosaickit.motif import nearest_workable
from mosaickit.sizes.bands.columns import Columns
from mosaickit.sizes.bands.order import AnyBand, Bands
from mosaickit.sizes.bands.stacking import Stack
from mosaickit.sizes.bands.values import Band


def wrong_bands(stack: Stack) -> frozenset[int]:
    """Give the numbers, from 1, of the bands that cannot be worked by themselves."""
    return frozenset(one.band for one in stack.placed if not one.strip.workable)


def with_nearest(bands: Bands, which: Container[int], *, repeats_up: bool) -> Bands:
    """Give the bands with the nearest motifs in some of them, by their numbers from 1.

    Parameters
    ----------
    bands : Bands
        In an order.
    which : container of int
        The numbers of those to be mended.
    repeats_up : bool
        Whether motifs only have to go on upward; otherwise nothing is overlaid in their first and last rows.
    """
    order = tuple(
        _nearest(band, repeats_up=repeats_up) if number in which else band for number, band in enumerate(bands.order, 1)
    )
    return replace(bands, order=order)


def _nearest(band: AnyBand, *, repeats_up: bool) -> AnyBand:
    if isinstance(band, Columns):
        # of columns none goes on by itself: beside each other they end in one row
        columns = [_nearest(column, repeats_up=False) for column in band.columns]
        return replace(band, columns=tuple(columns))  # type: ignore[arg-type]  # bands and plain ones they stay
    if not isinstance(band, Band):
        return band
    # a band of one repeat has nothing to go on into
    goes_on = repeats_up and band.up > 1
    return replace(band, motif=nearest_workable(band.motif, repeats_up=goes_on).motif)
