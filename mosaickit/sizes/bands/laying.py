"""Laying: an order of bands made into a stack, at the width that the field gives."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from dataclasses import replace
from functools import cached_property

from mosaickit.colours import Yarn, Yarns
from mosaickit.errors import OptionError, number_of
from mosaickit.motif import LARGEST_SIDE, Laying, Motif, Seam
from mosaickit.sizes.bands.columns import Columns
from mosaickit.sizes.bands.fitting import SumsKept, Widths, common_widths, strip_of, ways, widths_of
from mosaickit.sizes.bands.order import AnyBand, Bands, name_of
from mosaickit.sizes.bands.stacking import Stack, stacked
from mosaickit.sizes.bands.strips import Strip, divider_strip, plain_strip
from mosaickit.sizes.bands.values import Band, Divider, Field, Plain
from mosaickit.sizes.layouts.surround import Surround

MOST_STACKS_KEPT, MOST_STRIPS_KEPT = 1024, 4096
"""So many are kept at most of those that were laid."""

MOST_MOTIFS_KEPT = 8
"""Of so many motifs in the same bands it is kept what was worked out."""

MOST_WIDTHS_NAMED = 3


class BandsKept:
    """What was worked out for a motif and bands, so that another count of repeats or frame costs next to nothing.

    Parameters
    ----------
    motif : Motif
        The field's repeat.
    bands : Bands
        With a `Field` among them.
    """

    def __init__(self, motif: Motif, bands: Bands) -> None:
        if not any(isinstance(band, Field) for band in bands.order):
            raise OptionError(
                "These bands have no field: put mk.Field() in their order, where the design's own motif lies; or leave "
                "out the motif, and the highest band becomes the field."
            )
        self.motif, self.bands = motif, bands
        self._sums = SumsKept()
        self._strips: dict[tuple[int, int, bool], Strip] = {}
        self._stacks: dict[Hashable, Stack] = {}

    @cached_property
    def yarns(self) -> tuple[Yarns, ...]:
        """The yarns of the field and of each band, each once."""
        of_bands = (band.motif.yarns for band in self.bands.order if isinstance(band, Band | Columns))
        return tuple(dict.fromkeys([self.motif.yarns, *of_bands]))

    @cached_property
    def one_of_each(self) -> tuple[Yarn, Yarn] | None:
        """The one yarn of MC and of CC that all of them are worked in, if that is so."""
        (yarns, *others) = self.yarns
        return (yarns.mc[0][1], yarns.cc[0][1]) if not others and len(yarns.mc) == len(yarns.cc) == 1 else None

    def stack(self, way: Hashable, field: Callable[[], Band], *, in_the_round: bool) -> Stack:
        """Give the stack of the bands with a field that is laid in some way, as `field` gives it."""
        if way not in self._stacks:
            if len(self._stacks) >= MOST_STACKS_KEPT:
                self._stacks.clear()
            self._stacks[way] = self._laid(field(), in_the_round)
        return self._stacks[way]

    def _laid(self, field: Band, in_the_round: bool) -> Stack:
        bands = self.bands
        along, _ = ways(field, field.across or 1, in_the_round)
        width = along.whole
        strips = []
        for number, band in enumerate(bands.order, 1):
            if isinstance(band, Field):
                strips.append((number, strip_of(as_band(band, field), width, self._sums, in_the_round=in_the_round)))
                continue
            place = number, width, in_the_round
            if place not in self._strips:
                if len(self._strips) >= MOST_STRIPS_KEPT:
                    self._strips.clear()
                try:
                    self._strips[place] = self._strip(band, width, in_the_round)
                except OptionError as error:
                    raise OptionError(_refused(bands, field, number, width, in_the_round, str(error))) from None
            strips.append((number, self._strips[place]))
        return stacked(strips, names_of(bands, field.motif.name), bands.step)

    def _strip(self, band: AnyBand, width: int, in_the_round: bool) -> Strip:
        match band:
            case Plain():
                return plain_strip(band.count, width)
            case Divider():
                return divider_strip(band.rows, width, band.colour)
            case Columns():
                return strip_of(band.band, width, self._sums, in_the_round=in_the_round)
            case Band():
                return strip_of(band, width, self._sums, in_the_round=in_the_round)
        raise AssertionError(band)


def kept_of(bands: Bands, motif: Motif) -> BandsKept:
    """Give what was worked out for a motif in some bands, with which it is kept."""
    all_kept: list[BandsKept] = bands.__dict__.setdefault("_kept", [])
    found = next((kept for kept in all_kept if kept.motif is motif), None)
    if found is None:
        found = BandsKept(motif, bands)
        del all_kept[: len(all_kept) + 1 - MOST_MOTIFS_KEPT]
        all_kept.append(found)
    return found


def as_band(given: Field, field: Band) -> Band:
    """Give the field as it is turned in its place."""
    if not given.upside_down and not given.mirrored:
        return field
    return replace(field, upside_down=given.upside_down, mirrored=given.mirrored)


def names_of(bands: Bands, field: str) -> list[str]:
    """Write what the bands are called in sentences, band 1 first; `field` is the name of the field's motif."""
    return [name_of(number, band, field) for number, band in enumerate(bands.order, 1)]


def field_of(
    motif: Motif,
    surround: Surround,
    *,
    across: int = 1,
    up: int = 1,
    laying: Laying = "straight",
    seam: Seam = "double",
) -> Band:
    """Give a field as a band: what closes it is said by the surround."""
    balance_across, balance_up = surround.closing(motif.shape)
    return Band(
        motif,
        across=across,
        up=up,
        laying=laying,
        seam=seam,
        colours=surround.colours,
        balance_across=balance_across,
        balance_up=balance_up,
    )


def counts_across(bands: Bands, field: Band, *, in_the_round: bool) -> range:
    """Give the counts of the field across at which all bands fill the width; raises `OptionError` if there is none."""
    widths = widths_of_bands(bands, field, in_the_round=in_the_round)
    if widths is None:
        raise OptionError(
            'There is no width that all of these bands fill: give some of them fit="centre" or fit="fill", or other '
            "counts across."
        )
    start = across_of(widths.least, field, in_the_round=in_the_round)
    if not widths.apart:
        return range(start, start + 1)
    along, _ = ways(field, 1, in_the_round)
    return range(start, LARGEST_SIDE + 1, widths.apart // along.step)


def widths_of_bands(bands: Bands, field: Band, *, in_the_round: bool) -> Widths | None:
    """Give the widths in stitches that all bands fill, with any count of the field across; None if there is none."""
    return common_widths(_widths(bands, field, in_the_round))


def _widths(bands: Bands, field: Band, in_the_round: bool) -> Iterator[Widths | None]:
    yield widths_of(replace(field, across=None), in_the_round)
    for band in bands.order:
        if isinstance(band, Band | Columns):
            yield widths_of(band if isinstance(band, Band) else band.band, in_the_round)


def across_of(width: int, field: Band, *, in_the_round: bool) -> int:
    """Give how often the field is laid across at a width that it fills."""
    along, _ = ways(field, 1, in_the_round)
    return (width - along.whole) // max(along.step, 1) + 1


def _refused(bands: Bands, field: Band, number: int, width: int, in_the_round: bool, why: str) -> str:
    """Say which band does not fill the width, and what does."""
    band, name = bands.order[number - 1], names_of(bands, field.motif.name)[number - 1]
    assert isinstance(band, Band | Columns)
    cures = [f'fit="{fit}"' for fit in _other_fits(band, width)]
    either = f"give it {' or '.join(cures)}" if cures else ""
    common = widths_of_bands(bands, field, in_the_round=in_the_round)
    if common is None:
        together = "There is no width that all bands fill as they are"
    else:
        widths = [common.least + i * common.apart for i in range(MOST_WIDTHS_NAMED if common.apart else 1)]
        more = " and so on" if common.apart else ""
        counts = [str(across_of(each, field, in_the_round=in_the_round)) for each in widths]
        together = (
            f"All bands fill {', '.join(f'{each:,}' for each in widths)}{more} stitches, which are across="
            f"{', '.join(counts)}{more} of the field"
        )
    return (
        f"{name[0].upper()}{name[1:]}, does not fill the {number_of(width, 'stitch')} of the field: {why}. "
        f"{together}{'; or ' if either else ''}{either}."
    )


def _other_fits(band: Band | Columns, width: int) -> list[str]:
    wide = (band.band if isinstance(band, Columns) else band).motif.shape[1]
    closed = isinstance(band, Band) and band.balance_across
    fits = ["centre"] if band.fit == "whole" and wide * (band.across or 1) <= width else []
    return fits if band.across is not None or closed else [*fits, "fill"] if band.fit != "fill" else []
