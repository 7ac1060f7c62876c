"""Laying: an order of bands made into a stack, at the width that the field gives."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property, partial
from typing import NamedTuple

from mosaickit.colours import Yarn, Yarns
from mosaickit.errors import OptionError, number_of
from mosaickit.motif import LARGEST_SIDE, Colours, Laying, Motif, Seam, checked_size
from mosaickit.sizes.bands.columns import Columns
from mosaickit.sizes.bands.fitting import SumsKept, Widths, common_widths, strip_of, ways, widths_of
from mosaickit.sizes.bands.growing import FEW, Grown
from mosaickit.sizes.bands.order import AnyBand, Bands, name_of
from mosaickit.sizes.bands.stacking import Stack, stacked
from mosaickit.sizes.bands.strips import Strip, divider_strip, plain_strip
from mosaickit.sizes.bands.values import Band, Divider, Field, Plain, going_on
from mosaickit.sizes.layouts.surround import Surround

MOST_STACKS_KEPT, MOST_STRIPS_KEPT = 1024, 4096
"""No more of them are kept."""

MOST_MOTIFS_KEPT = 8
"""What was worked out is kept for the last few motifs in the same bands."""

MOST_WIDTHS_NAMED = 3


class FieldLaid(NamedTuple):
    """How the field is laid."""

    across: int
    up: int
    laying: Laying
    seam: Seam
    colours: Colours
    balance_across: int
    balance_up: int
    in_the_round: bool

    @classmethod
    def of(
        cls, motif: Motif, surround: Surround, across: int, up: int, laying: Laying = "straight", seam: Seam = "double"
    ) -> FieldLaid:
        """Give it for a motif: what closes the field is said by the surround."""
        beside, over = surround.closing(motif.shape)
        return cls(across, up, laying, seam, surround.colours, beside, over, surround.in_the_round)


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
        self.motif, self.bands = motif, bands.with_field(motif)
        self._sums = SumsKept()
        self._strips: dict[tuple[int, int, bool], Strip] = {}
        self._stacks: dict[FieldLaid, Stack] = {}
        # by all of how the field is laid, but for how many more repeats it has up
        self._grows: dict[tuple[object, ...], tuple[Stack, Stack]] = {}
        # by all of that but its counts
        self._fields: dict[tuple[object, ...], Band] = {}
        self._widths: dict[tuple[object, ...], Widths | None] = {}
        self._counts: dict[tuple[object, ...], range] = {}

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

    def inside(self, laid: FieldLaid) -> Stack | Grown:
        """Give what the bands are with a field that is laid so, to be counted."""
        if laid.up < 2 * FEW:
            return self.stack(laid)
        few = FEW + laid.up % 2
        across, _, *way = laid
        alike = across, few, *way
        if alike not in self._grows:
            if len(self._grows) >= MOST_STACKS_KEPT:
                self._grows.clear()
            self._grows[alike] = self.stack(laid._replace(up=few)), self.stack(laid._replace(up=few + 2))
        return Grown(*self._grows[alike], (laid.up - few) // 2, partial(self.stack, laid))

    def stack(self, laid: FieldLaid) -> Stack:
        """Give the bands, with a field that is laid so, as a stack."""
        if laid not in self._stacks:
            if len(self._stacks) >= MOST_STACKS_KEPT:
                self._stacks.clear()
            self._stacks[laid] = self._stacked(laid)
        return self._stacks[laid]

    def field(self, laid: FieldLaid) -> Band:
        """Give a field as a band, whatever its counts of repeats are."""
        way = laid[2:]
        if way not in self._fields:
            self._fields[way] = Band(
                self.motif,
                across=1,
                laying=laid.laying,
                seam=laid.seam,
                colours=laid.colours,
                balance_across=laid.balance_across,
                balance_up=laid.balance_up,
            )
        return self._fields[way]

    def counts_across(self, laid: FieldLaid) -> range:
        """Give the counts across at which all bands fill the width; raises `OptionError` if there is none."""
        widths, way = self.widths(laid), laid[2:]
        if way in self._counts:
            return self._counts[way]
        if widths is None:
            raise OptionError(
                'There is no width that all of these bands fill: give some of them fit="centre" or fit="fill", or '
                "other counts across."
            )
        start = self._across_of(widths.least, laid)
        along, _ = ways(self.field(laid), 1, laid.in_the_round)
        end, step = (LARGEST_SIDE + 1, widths.apart // along.step) if widths.apart else (start + 1, 1)
        self._counts[way] = range(start, end, step)
        return self._counts[way]

    def widths(self, laid: FieldLaid) -> Widths | None:
        """Give the widths in stitches that all bands fill, with any count of the field across.

        None if no width that a picture may have is one.
        """
        way = laid[2:]
        if way not in self._widths:
            of_field = widths_of(replace(self.field(laid), across=None), laid.in_the_round)
            bands = [band.band if isinstance(band, Columns) else band for band in self.bands.order]
            of_bands = (widths_of(band, laid.in_the_round) for band in bands if isinstance(band, Band))
            found = common_widths([of_field, *of_bands])
            self._widths[way] = None if found is None or found.least > LARGEST_SIDE else found
        return self._widths[way]

    def _across_of(self, width: int, laid: FieldLaid) -> int:
        along, _ = ways(self.field(laid), 1, laid.in_the_round)
        return (width - along.whole) // max(along.step, 1) + 1

    def _stacked(self, laid: FieldLaid) -> Stack:
        bands, field, in_the_round = self.bands, self.field(laid), laid.in_the_round
        for number, band in enumerate(bands.order, 1):
            if in_the_round and isinstance(band, Band) and band.balance_across:
                raise OptionError(
                    "In the round the last stitch meets the first, so no stitches close a row: `balance_across` of "
                    f"{going_on(name_of(number, band))} must be 0; got {band.balance_across}."
                )
        along, _ = ways(field, laid.across, in_the_round)
        width = along.whole
        checked_size(1, width)
        strips = []
        for number, band in enumerate(bands.order, 1):
            if isinstance(band, Field):
                turned = as_band(band, field)
                counts = {"across": laid.across, "up": laid.up}
                strips.append((number, strip_of(turned, width, self._sums, in_the_round=in_the_round, **counts)))
                continue
            place = number, width, in_the_round
            if place not in self._strips:
                if len(self._strips) >= MOST_STRIPS_KEPT:
                    self._strips.clear()
                try:
                    self._strips[place] = self._strip(band, width, in_the_round)
                except OptionError as error:
                    raise OptionError(self._refused(laid, number, width, str(error))) from None
            strips.append((number, self._strips[place]))
        return stacked(strips, lambda: names_of(bands, field.motif.name), bands.step)

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

    def _refused(self, laid: FieldLaid, number: int, width: int, why: str) -> str:
        """Say which band does not fill the width, and what does."""
        band, name = self.bands.order[number - 1], names_of(self.bands, self.motif.name)[number - 1]
        assert isinstance(band, Band | Columns)
        cures = [f'fit="{fit}"' for fit in _other_fits(band, width)]
        either = f"; or give it {' or '.join(cures)}" if cures else ""
        common = self.widths(laid)
        together = "There is no width that all bands fill as they are"
        if common is not None:
            widths = [common.least + i * common.apart for i in range(MOST_WIDTHS_NAMED if common.apart else 1)]
            more = " and so on" if common.apart else ""
            counts = ", ".join(str(self._across_of(each, laid)) for each in widths)
            together = (
                f"All bands fill {', '.join(f'{each:,}' for each in widths)}{more} stitches, which are across={counts}"
                f"{more} of the field"
            )
        return (
            f"{going_on(name, begins=True)} does not fill the {number_of(width, 'stitch')} of the field: {why}. "
            f"{together}{either}."
        )


def kept_of(bands: Bands, motif: Motif) -> BandsKept:
    """Give what was worked out for a motif in some bands, with which it is kept."""
    all_kept: list[BandsKept] = bands.__dict__.setdefault("_kept", [])
    if all_kept and all_kept[-1].motif is motif:
        return all_kept[-1]
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


def _other_fits(band: Band | Columns, width: int) -> list[str]:
    wide = (band.band if isinstance(band, Columns) else band).motif.shape[1]
    closed = isinstance(band, Band) and band.balance_across
    fits = ["centre"] if band.fit == "whole" and wide * (band.across or 1) <= width else []
    return fits if band.across is not None or closed else [*fits, "fill"] if band.fit != "fill" else []
