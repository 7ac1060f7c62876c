"""Fitting: how bands fill one width, and the widths at which all of them do."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from math import gcd
from typing import NamedTuple

import numpy as np

from mosaickit.errors import OptionError, number_of
from mosaickit.motif import Motif
from mosaickit.orientation import role_of_row
from mosaickit.sizes.bands.strips import Strip
from mosaickit.sizes.bands.values import Band
from mosaickit.sizes.designs.laying import LaidWay, larger_repeat, ways_closed_by
from mosaickit.sizes.layouts.repeats import Repeats, RepeatSums

MOST_SUMS_KEPT = 64
"""The sums of 64 repeats are kept at most: a design has a few bands, each with one."""


class SumsKept(dict[tuple[object, ...], tuple[Motif, RepeatSums]]):
    """The sums of the repeats that were laid, so that bands at another width cost next to nothing.

    A motif is known by being the very same one, and is kept with its sums, so that no other takes its place.
    """

    def of(self, motif: Motif, way: tuple[object, ...], make: Callable[[], Motif]) -> RepeatSums:
        """Give the sums of a motif laid in some way, as `make` gives it."""
        place = (id(motif), *way)
        if place not in self:
            if len(self) >= MOST_SUMS_KEPT:
                self.clear()
            self[place] = motif, RepeatSums.of(make())
        return self[place][1]


class Widths(NamedTuple):
    """Widths in stitches that lie equally far apart."""

    least: int
    """The least of them."""
    apart: int
    """How far they lie apart; 0 if there is only the one."""

    def __contains__(self, width: object) -> bool:
        assert isinstance(width, int)
        over = width - self.least
        return over >= 0 and (over % self.apart == 0 if self.apart else over == 0)

    def both(self, other: Widths) -> Widths | None:
        """Give the widths that are among these and others; None if none is.

        Exact, also where the distances have common factors: a width that both have is looked for among as many of these
        as it takes until the others' distance comes round.
        """
        one, two = (self, other) if self.apart >= other.apart else (other, self)
        if not one.apart:
            return one if one.least in two else None
        if not two.apart:
            return two if two.least in one else None
        start = one.least + max(0, -((one.least - two.least) // one.apart)) * one.apart
        step = one.apart // gcd(one.apart, two.apart) * two.apart
        found = next((width for width in range(start, start + step, one.apart) if width in two), None)
        return None if found is None else Widths(found, step)


def ways(band: Band, across: int, in_the_round: bool, up: int | None = None) -> tuple[LaidWay, LaidWay]:
    """Give the repeats of a band along a row and those up; `across` and `up` are how many there are."""
    closing = band.balance_across, band.balance_up
    return ways_closed_by(closing, band.motif.shape, (across, up or band.up), band.laying, band.seam, in_the_round)


def widths_of(band: Band, in_the_round: bool) -> Widths | None:
    """Give the widths that a band fills whole; None if it fills any."""
    along, _ = ways(band, band.across or 1, in_the_round)
    if band.fit == "fill":
        return None if along.step > 0 else Widths(along.whole, 0)
    if band.fit == "centre":
        return Widths(along.whole, 1)
    return Widths(along.whole, 0 if band.across is not None or along.step < 1 else along.step)


def strip_of(
    band: Band,
    width: int,
    kept: SumsKept,
    *,
    across: int | None = None,
    up: int | None = None,
    in_the_round: bool = False,
) -> Strip:
    """Lay a band across a width; `across` and `up` are other counts of repeats than its own.

    Raises
    ------
    OptionError
        If it does not fill it in the way that was chosen; says what does, to be put behind what the band is called.
    """
    number = across or band.across
    along, above = ways(band, number or 1, in_the_round, up)
    if band.fit == "fill":
        return _cut(band, along, above, width, kept)
    if number is None:
        along = along._replace(number=max((width - along.shared - along.closing) // max(along.step, 1), 1))
    if along.whole > width or (band.fit == "whole" and along.whole != width):
        raise OptionError(_does_not_fit(band, along, width))
    sums = _sums(band, along, above, kept)
    (wide, beside), (high, over) = along.counts, above.counts
    return _strip(band, Repeats(sums, wide, high, beside, over, _turns(band, sums)), width)


def _does_not_fit(band: Band, along: LaidWay, width: int) -> str:
    said = number_of(along.whole, "stitch")
    if along.whole > width:
        return f"{number_of(along.number, 'repeat')} across {'is' if along.number == 1 else 'are'} {said} wide"
    return f"{number_of(along.number, 'repeat')} across {'is' if along.number == 1 else 'are'} only {said} wide"


def _turns(band: Band, sums: RepeatSums) -> bool:
    return band.colours == "keep" and sums.shape[0] % 2 == 1


def _strip(band: Band, repeats: Repeats, width: int) -> Strip:
    rows, first = repeats.rows, band.motif.first
    return Strip(
        repeats,
        rows,
        width,
        right=(width - repeats.stitches) // 2,
        first=role_of_row(rows, first) if band.upside_down else first,
        upside_down=band.upside_down,
        mirrored=band.mirrored,
    )


def _sums(band: Band, along: LaidWay, above: LaidWay, kept: SumsKept) -> RepeatSums:
    """Give the sums of the repeat that, laid straight, is the motif laid as asked."""
    way: tuple[object, ...] = ()
    if along.by_two or above.by_two:
        way = (band.laying, band.seam, band.colours, along.few, along.larger, above.few, above.larger)
    return kept.of(band.motif, way, lambda: _larger(band, along, above))


def _larger(band: Band, along: LaidWay, above: LaidWay) -> Motif:
    return larger_repeat(band.motif, along, above, band.laying, band.seam, band.colours)


def _cut(band: Band, along: LaidWay, above: LaidWay, width: int, kept: SumsKept) -> Strip:
    """Lay the fewest repeats that cover a width and cut them at both sides alike, an odd stitch more at the left."""
    along = along._replace(number=max(-((along.shared - width) // max(along.step, 1)), 1))
    cut = along.whole - width
    if cut < 0:
        raise OptionError("sharing its only column is 1 stitch wide, however often it is laid")
    pair = along._replace(number=2 if along.turns else 1, closes=True)
    wide = pair.larger
    # from the left of what is laid, the column that becomes stitch 1
    last = along.whole - 1 - cut // 2 - (along.shared if pair.by_two else 0)
    right = wide - 1 - last % wide
    kept_wide = min(wide, width)  # of a repeat that is wider than the piece only a part is there to be looked at
    way = ("cut", band.laying, band.seam, band.colours, above.few, above.larger, right, kept_wide)

    def rolled() -> Motif:
        large = _larger(band, pair, above)
        return large.with_grid(np.roll(large.grid, right, axis=1)[:, wide - kept_wide :])

    sums = kept.of(band.motif, way, rolled)
    (across, beside), (up, over) = divmod(width, kept_wide), above.counts
    return replace(_strip(band, Repeats(sums, across, up, beside, over, _turns(band, sums)), width), cut=cut)


def common_widths(all_widths: Iterable[Widths | None]) -> Widths | None:
    """Give the widths that all of these have in common; None if they have none."""
    common: Widths | None = Widths(1, 1)
    for widths in all_widths:
        if common is not None and widths is not None:
            common = common.both(widths)
    return common
