"""Banded: the layout of a piece made of bands, counted without being built as any other."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import KW_ONLY, dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import Yarn, Yarns
from mosaickit.errors import UnworkableError, number_of, of_kind, one_of, whole_number
from mosaickit.motif import LAYINGS, SEAMS, WORKABLE, Laying, Motif, Report, Seam, check
from mosaickit.orientation import Role
from mosaickit.sizes.bands.fitting import Widths, ways
from mosaickit.sizes.bands.growing import FEW, Grown
from mosaickit.sizes.bands.laying import BandsKept, FieldLaid, kept_of, names_of
from mosaickit.sizes.bands.order import Bands
from mosaickit.sizes.bands.reporting import BandRows, rows_of, said_of, unworkable, where_wrong
from mosaickit.sizes.bands.stacking import Stack
from mosaickit.sizes.bands.values import Field
from mosaickit.sizes.layouts.bordered import around
from mosaickit.sizes.layouts.layout import Layout
from mosaickit.sizes.layouts.multiples import Multiple
from mosaickit.sizes.layouts.repeats import Repeats


@dataclass(frozen=True, repr=False)
class BandedLayout(Layout):
    """Bands with a field of repeats among them, and what stands around all of it.

    Parameters
    ----------
    motif : Motif
        The field's repeat, (R, C).
    across, up : int
        How many times it is laid.
    surround : Surround
        What closes the field, and what stands around all bands.
    bands : Bands
        With a `Field` among them.
    laying : "straight", "brick", "half-drop" or "mirrored"
        How the field is laid.
    seam : "double" or "shared"
        Where it is mirrored, whether the row and column at a mirror line stand twice or once.

    Raises
    ------
    OptionError
        If an argument is not as described, a band does not fill the width, or colours get out of step and that is
        refused; the sentence names the band.
    """

    _: KW_ONLY
    bands: Bands
    laying: Laying = "straight"
    seam: Seam = "double"
    kept: BandsKept = field(init=False, compare=False)
    laid: FieldLaid = field(init=False, compare=False)
    inside: Stack | Grown = field(init=False, compare=False)

    def __post_init__(self) -> None:
        of_kind("motif", self.motif, Motif)
        of_kind("bands", self.bands, Bands)
        one_of("laying", self.laying, LAYINGS)
        one_of("seam", self.seam, SEAMS)
        own = self.__dict__
        for name in ("across", "up"):
            if type(own[name]) is not int or own[name] < 1:
                own[name] = whole_number(name, own[name], least=1)
        surround = self.surround
        laid = own["laid"] = FieldLaid.of(self.motif, surround, self.across, self.up, self.laying, self.seam)
        beside = laid.balance_across
        if surround.edges is None or surround.balance_across != beside:
            own["surround"] = surround = surround.closed_by(beside, laid.balance_up)
        kept = own["kept"] = kept_of(self.bands, self.motif)
        inside = own["inside"] = kept.inside(laid)
        own["framed"] = around(inside, surround)
        own["inner_rows"], own["inner_stitches"] = inside.rows, inside.stitches
        own["rows"], own["stitches"] = surround.around((inside.rows, inside.stitches))

    @cached_property
    def stack(self) -> Stack:
        """The bands one on the other."""
        return self.kept.stack(self.laid)

    # ---- size ----------------------------------------------------------------------------------------------

    @cached_property
    def widths(self) -> Widths:
        """The widths in stitches that all bands fill, without what stands around them."""
        found = self.kept.widths(self.laid)
        assert found is not None  # this layout has one of them
        return found

    @property
    def counts_across(self) -> range:
        """The counts of the field across at which all bands fill the width."""
        return self.kept.counts_across(self.laid)

    @property
    def multiple(self) -> Multiple:
        """What the counts are multiples of: the rows of the field's repeats, and the stitches that all bands divide.

        Where rows that are put in come and go with every second repeat, the rows of two of them.
        """
        of_a_repeat, one_more = self.of_a_repeat, self.rows_with(self.across, self.up + 1) - self.rows
        if one_more == of_a_repeat.rows or self.inner_rows == of_a_repeat.plus_rows:
            return of_a_repeat
        return replace(
            of_a_repeat, rows=2 * of_a_repeat.rows, plus_rows=self.rows - 2 * of_a_repeat.rows * (self.up // 2)
        )

    @cached_property
    def of_a_repeat(self) -> Multiple:
        """The same as if every repeat of the field brought its own rows alone."""
        along, above = ways(self.kept.field(self.laid), self.across, self.surround.in_the_round)
        fields = sum(isinstance(band, Field) for band in self.bands.order)
        step = fields * above.step, self.widths.apart or along.step
        repeats = self.up, self.inner_stitches // max(step[1], 1)
        return Multiple.of(self.shape, step, repeats, in_the_round=self.surround.in_the_round)

    def rows_with(self, across: int, up: int) -> int:
        """Give all rows with other counts of repeats."""
        return self.kept.inside(self.laid._replace(across=across, up=up)).rows + self.rows - self.inner_rows

    def rows_of(self, across: int, ups: range) -> dict[int, int]:
        """Give, for each count up, all rows that the piece then has; `across` is the count across."""
        apart = self.of_a_repeat.rows
        few = [self.rows_with(across, FEW + odd) - (FEW + odd) * apart for odd in (0, 1)] if ups[-1] >= FEW else []
        return {up: few[up % 2] + up * apart if up >= FEW else self.rows_with(across, up) for up in ups}

    @property
    def _inner_first(self) -> Role:
        return self.inside.first

    @property
    def first_repeats(self) -> tuple[Repeats, int]:
        """The repeats of the field where it lies first, and the rows of the bands below."""
        order = self.bands.order
        field = next(one for one in self.stack.placed if one.band and isinstance(order[one.band - 1], Field))
        assert field.strip.repeats is not None
        return field.strip.repeats, field.below

    # ---- the picture ---------------------------------------------------------------------------------------

    def build_inside(self) -> Motif:
        """Make the picture of the bands, (inner_rows, inner_stitches)."""
        squares = orientation.to_seen(self.stack.squares())
        mc, cc = zip(*self.stack.yarns_of_rows(), strict=True)
        yarns = Yarns(list(enumerate(mc, 1)), list(enumerate(cc, 1)))
        picture = Motif(squares, self.stack.first, yarns, self.motif.name)
        return picture.with_overlaid(squares)

    @property
    def centred(self) -> bool:
        """Whether the picture is its own mirror left to right, so that every row reads the same from either edge."""
        return self.inside.centred

    @property
    def centred_by(self) -> Hashable:
        """What decides, of one motif, whether it is `centred`."""
        return self.across, self.surround.balance_across

    @property
    def sample(self) -> BandedLayout:
        """The smallest layout with the same joins, ends and colours: at most 3 repeats of the field up."""
        return replace(self, up=self.up if self.up <= 3 else 2 + self.up % 2)

    # ---- what is said --------------------------------------------------------------------------------------

    @cached_property
    def names(self) -> list[str]:
        """What the bands are called in sentences, band 1 first."""
        return names_of(self.kept.bands, self.motif.name)

    @cached_property
    def band_rows(self) -> tuple[BandRows, ...]:
        """The bands, and the plain rows put in between them, with their rows in the piece, the lowest first."""
        return rows_of(self.stack, self.names, self.framed.rows_under)

    @property
    def bands_in_words(self) -> tuple[str, ...]:
        """Each band, and the plain rows put in, with its rows or rounds, from the foundation up."""
        return tuple(one.in_words("round" if self.surround.in_the_round else "row") for one in self.band_rows)

    @property
    def said(self) -> tuple[str, ...]:
        """What was done by itself, in sentences: rows put in, colours swapped, repeats centred and cut."""
        under, in_the_round = self.framed.rows_under, self.surround.in_the_round
        return said_of(self.kept.bands, self.stack, self.names, under, in_the_round=in_the_round)

    @property
    def report(self) -> Report:
        """What the rules that decide find in the whole piece."""
        return check(self.build(), in_the_round=self.surround.in_the_round, rules=WORKABLE)

    @property
    def what_is_wrong(self) -> str:
        """What a sentence says of `report`: in which bands and rows it is, the first error, and how many more."""
        report = self.report
        return f"{where_wrong(report, self.band_rows)}{report.errors_in_words}"

    def _unworkable(self) -> UnworkableError:
        return unworkable(self, self.kept.bands, self.stack, self.names)

    # ---- yarn ----------------------------------------------------------------------------------------------

    @property
    def yarns_of_motifs(self) -> tuple[Yarns, ...]:
        """The yarns of the field and of each band."""
        return self.kept.yarns

    @property
    def _one_of_each(self) -> tuple[Yarn, Yarn] | None:
        return self.kept.one_of_each

    def _yarn_inside(self, row: int, role: Role) -> Yarn:
        alike = self._one_of_each
        return (alike or self.stack.yarns_of_rows()[row])[orientation.ROLES.index(role)]

    def _yarn_of_rows(self, cc: NDArray[np.bool_]) -> tuple[Yarn, ...]:
        inside = self.stack.yarns_of_rows()
        rows = np.clip(np.arange(self.rows) - self.framed.rows_under, 0, self.inner_rows - 1)
        return tuple(inside[row][role] for role, row in zip(cc.astype(int).tolist(), rows.tolist(), strict=True))

    def __repr__(self) -> str:
        size = f"{number_of(self.rows, 'row')} × {number_of(self.stitches, 'stitch')}"
        return f"<BandedLayout of {number_of(len(self.bands.order), 'band')} {size}, {self.surround}>"
