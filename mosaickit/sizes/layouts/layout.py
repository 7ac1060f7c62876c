"""Layout: one repeat laid across and up and all that stands around it, counted without being built.

A layout is a fabric that has not been built. Its stitches, its yarn and whether it can be worked follow from sums over
the one repeat, which are made once (`RepeatSums`) and shared, so that a layout costs the same whether it is laid twice
or two thousand times. Everything is thought in overlaid squares and in working order. `Layout.build` makes the very
picture from transforms; the tests hold everything else against it.
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import KW_ONLY, dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import Yarn, Yarns
from mosaickit.errors import UnworkableError, number_of, of_kind, whole_number
from mosaickit.fabric import RowCounts
from mosaickit.gauge import Gauge
from mosaickit.motif import (
    LARGEST_SIDE,
    WORKABLE,
    Finding,
    Motif,
    Report,
    check,
    crop,
    frame,
    mosaic_border,
    pad,
    repeat,
)
from mosaickit.orientation import ROLES, Hand, Role
from mosaickit.sizes.layouts.bordered import Bordered, around
from mosaickit.sizes.layouts.cures import unworkable
from mosaickit.sizes.layouts.framed import Framed
from mosaickit.sizes.layouts.multiples import Multiple
from mosaickit.sizes.layouts.repeats import Repeats, RepeatSums
from mosaickit.sizes.layouts.stitches import stitches_of_colours, stitches_of_rows
from mosaickit.sizes.layouts.surround import USUAL_SURROUND, Surround
from mosaickit.sizes.layouts.usage import LayoutUsage, check_skeins, usage_by_row, usage_of_colours
from mosaickit.yarn import USUAL_YARN_SETTINGS, YarnRates, YarnSettings


@dataclass(frozen=True, repr=False)
class Layout:
    """One repeat laid across and up, and what stands around it.

    Parameters
    ----------
    motif : Motif
        One repeat, (R, C).
    across, up : int
        How many times it is laid, 1 or more.
    surround : Surround
        What stands around the repeats; if nothing is said, an edge stitch at each side. The layout keeps it with every
        number said.
    sums : RepeatSums, optional
        Those of the motif, if they are known, else they are made: from every square, so make them once for many
        layouts. ``dataclasses.replace(layout, across=5)`` keeps them.

    Attributes
    ----------
    inner_rows, inner_stitches : int
        The size of the repeats with what closes them: what a frame goes around.
    rows, stitches : int
        The whole size.
    repeats : Repeats
        What is laid of the motif.
    framed : Framed or Bordered
        All but the edge stitches, whose overlaid squares are counted there.

    Raises
    ------
    OptionError
        If an argument is not as described, or more closes a row or the fabric than the repeat has.

    Examples
    --------
    >>> leaf = Motif.from_text('''
    ... ....
    ... ####
    ... .##.
    ... ####
    ... ....
    ... ''')
    >>> layout = Layout(leaf, across=12, surround=Surround(balance_across=1))
    >>> layout.stitches, layout.foundation_chain
    (51, 52)
    >>> print(layout.multiple)
    Stitches: a multiple of 4 plus 3. Foundation: a multiple of 4 plus 4 chains. Rows: a multiple of 5.
    >>> from mosaickit import Stitch
    >>> layout.counts()[:, Stitch.FLDC]
    array([ 0, 24])
    """

    motif: Motif
    _: KW_ONLY
    across: int = 1
    up: int = 1
    surround: Surround = USUAL_SURROUND
    sums: RepeatSums = field(default=None, compare=False)  # type: ignore[assignment]  # made below if not given
    inner_rows: int = field(init=False, compare=False)
    inner_stitches: int = field(init=False, compare=False)
    rows: int = field(init=False, compare=False)
    stitches: int = field(init=False, compare=False)
    repeats: Repeats = field(init=False, compare=False)
    framed: Framed | Bordered = field(init=False, compare=False)

    def __post_init__(self) -> None:
        of_kind("motif", self.motif, Motif)
        of_kind("surround", self.surround, Surround)
        own = self.__dict__  # a sweep makes 100,000 of these: setting fields one by one is too slow
        for name in ("across", "up"):
            if type(own[name]) is not int or own[name] < 1:
                own[name] = whole_number(name, own[name], least=1)
        surround = self.surround
        balance_across, balance_up = surround.closing(self.motif.shape)
        if surround.edges is None or surround.balance_across != balance_across:
            own["surround"] = surround.closed_by(balance_across, balance_up)
        if own["sums"] is None or not self.sums.are_of(self.motif):
            own["sums"] = RepeatSums.of(self.motif)
        turn = surround.colours == "keep" and self.motif.shape[0] % 2 == 1
        inner = own["repeats"] = Repeats(self.sums, self.across, self.up, balance_across, balance_up, turn)
        own["framed"] = around(inner, surround)
        own["inner_rows"], own["inner_stitches"] = inner.rows, inner.stitches
        own["rows"], own["stitches"] = surround.around((inner.rows, inner.stitches))

    # ---- size ----------------------------------------------------------------------------------------------

    @property
    def shape(self) -> tuple[int, int]:
        """(rows, stitches), as of the motif that `build` makes."""
        return self.rows, self.stitches

    @property
    def foundation_chain(self) -> int:
        """The chains to start with: one more than stitches worked flat, a chain for each in the round."""
        return self.stitches + (not self.surround.in_the_round)

    @property
    def counts_across(self) -> range:
        """The counts of repeats across that go with all that the layout has: any."""
        return range(1, LARGEST_SIDE + 1)

    @property
    def multiple(self) -> Multiple:
        """What the counts are multiples of."""
        return Multiple.of(
            self.shape, self.motif.shape, (self.up, self.across), in_the_round=self.surround.in_the_round
        )

    @cached_property
    def first(self) -> Role:
        """The colour of row 1."""
        return orientation.role_of_row(1 - self.framed.rows_under, self._inner_first)

    @property
    def first_repeats(self) -> tuple[Repeats, int]:
        """The repeats, and the rows that lie below them inside a frame and plain rows."""
        return self.repeats, 0

    @property
    def _inner_first(self) -> Role:
        """The colour of the first row inside a frame and plain rows."""
        return self.motif.first

    # ---- the picture ---------------------------------------------------------------------------------------

    def build(self) -> Motif:
        """Make the picture, (rows, stitches), whether it can be worked or not.

        Raises
        ------
        MotifError
            If it is larger than a motif may be.
        """
        surround, inside = self.surround, self.build_inside()
        strip, start = surround.strip, surround.strip_start
        return pad(
            frame(inside, surround.rings, must_work=False)
            if strip is None
            else mosaic_border(inside, strip, start=start, must_work=False),
            left=surround.edge_stitches,
            right=surround.edge_stitches,
            bottom=surround.rows_below,
            top=surround.rows_above,
            must_work=False,
        )

    def build_inside(self) -> Motif:
        """Make the picture of what a frame goes around, (inner_rows, inner_stitches)."""
        across, up = self.surround.closing(self.motif.shape)
        laid = repeat(
            self.motif,
            across=self.across + (across > 0),
            up=self.up + (up > 0),
            colours=self.surround.colours,
            must_work=False,
        )
        return crop(laid, rows=(1, self.inner_rows), stitches=(1, self.inner_stitches), must_work=False)

    @property
    def centred(self) -> bool:
        """Whether the picture is its own mirror left to right, so that every row reads the same from either edge."""
        return self.repeats.centred

    @property
    def centred_by(self) -> Hashable:
        """What decides, of one motif, whether it is `centred`."""
        return self.repeats.balance_across

    def first_repeat(self, hand: Hand) -> tuple[tuple[int, int], tuple[int, int]] | None:
        """Give the rows and stitches, first and last, of the first repeat that a hand works; None if it is alone."""
        if self.across == self.up == 1:
            return None
        repeats, under = self.first_repeats
        rows, columns = repeats.sums.shape
        below, beside = self.framed.rows_under + under, self.surround.edge_stitches + self.surround.rings_around
        if hand == "left":  # what closes a row lies at its start
            beside += repeats.balance_across
        return (below + 1, below + rows), (beside + 1, beside + columns)

    # ---- what can be worked --------------------------------------------------------------------------------

    @cached_property
    def workable(self) -> bool:
        """Whether the picture can be worked, found from the repeat and its joins without building it."""
        return self.framed.workable

    @property
    def sample(self) -> Layout:
        """The smallest layout with the same joins, ends and colours: at most 3 repeats up, 1 across."""
        if self.surround.strip is not None:  # which fits around few sizes
            return self
        up = self.up if self.up <= 3 else 2 + self.up % 2
        return replace(self, across=1, up=up, surround=replace(self.surround, balance_across=0))

    @property
    def report(self) -> Report:
        """What the rules that decide find in `sample`; rows and stitches are counted there."""
        return check(self.sample.build(), in_the_round=self.surround.in_the_round, rules=WORKABLE)

    @property
    def findings_at_joins(self) -> tuple[Finding, ...]:
        """The errors of `report`; none if the layout can be worked."""
        return self.report.findings

    @property
    def what_is_wrong(self) -> str:
        """What a sentence says of `report`: the first error, and how many more there are."""
        return self.report.errors_in_words

    @property
    def bands_in_words(self) -> tuple[str, ...]:
        """Each band with its rows, from the foundation up; nothing where all rows are of the repeats."""
        return ()

    @property
    def said(self) -> tuple[str, ...]:
        """What was done by itself, in sentences: nothing, where only repeats are laid."""
        return ()

    def must_work(self) -> None:
        """Raise `UnworkableError` if the layout cannot be worked; see `counts`."""
        if not self.workable:
            raise self._unworkable()

    def _unworkable(self) -> UnworkableError:
        return unworkable(self)

    @cached_property
    def _overlaid(self) -> tuple[int, int, int]:
        return self.framed.overlaid()

    @property
    def overlaid(self) -> int:
        """How many squares are overlaid: in the plain fabric, how many stitches are FLdc."""
        even, odd, _ = self._overlaid
        return even + odd

    # ---- stitches ------------------------------------------------------------------------------------------

    def counts(self, reversible: bool = False) -> NDArray[np.int64]:
        """Count all stitches by colour and kind, as fast for any number of repeats.

        Parameters
        ----------
        reversible : bool
            Whether the back is closed.

        Returns
        -------
        int array, (2, 5)
            Element [role, kind]: MC and CC, and the kinds of `Stitch`.

        Raises
        ------
        UnworkableError
            If the layout cannot be worked; its `cures` are changes for
            ``dataclasses.replace(layout.surround, …)``.
        """
        return np.array(self._counts(reversible), dtype=np.int64)

    def _counts(self, reversible: bool) -> tuple[list[int], list[int]]:
        self.must_work()
        of_first, of_other = stitches_of_colours(self._overlaid, self.rows, self.stitches, reversible)
        return (of_first, of_other) if self.first == "MC" else (of_other, of_first)

    def row_counts(self, reversible: bool = False) -> RowCounts:
        """Count the stitches of every row without building the picture; see `counts`, and `count_rows`."""
        self.must_work()
        counts = stitches_of_rows(self.framed.overlaid_by_row(), self.stitches, reversible)
        cc = orientation.contrast_rows(self.rows, self.first)
        return RowCounts(counts, tuple(ROLES[int(row)] for row in cc), self._yarn_of_rows(cc))

    def _yarn_of_rows(self, cc: NDArray[np.bool_]) -> tuple[Yarn, ...]:
        """Give the yarn of each row: that of the repeat's row which lies there, as `repeat` and `pad` carry it."""
        rows = self.motif.shape[0]
        inner = np.clip(np.arange(self.rows) - self.framed.rows_under, 0, self.inner_rows - 1)
        yarns = [self.motif.yarns.by_row(rows, role) for role in ROLES]
        return tuple(yarns[role][row] for role, row in zip(cc.tolist(), (inner % rows).tolist(), strict=True))

    @property
    def first_yarn(self) -> Yarn:
        """The yarn of row 1, and of the foundation."""
        return self._yarn_inside(0, self.first)

    def last_yarn(self, role: Role) -> Yarn:
        """Give the yarn that plays a colour in the last of its rows; the first that it has if it has no row."""
        last = self.rows - (orientation.role_of_row(self.rows, self.first) != role)
        inner = min(max(last - 1 - self.framed.rows_under, 0), self.inner_rows - 1)
        return self._yarn_inside(inner, role)

    def _yarn_inside(self, row: int, role: Role) -> Yarn:
        """Give the yarn that would play a colour in a row, from 0, of what a frame goes around."""
        return self.motif.yarns.at(row % self.motif.shape[0] + 1, role)

    # ---- yarn ----------------------------------------------------------------------------------------------

    @property
    def yarns_of_motifs(self) -> tuple[Yarns, ...]:
        """The yarns of the motif; skeins by name name all of them."""
        return (self.motif.yarns,)

    @property
    def _one_of_each(self) -> tuple[Yarn, Yarn] | None:
        """The one yarn of MC and of CC, where it does not change with the rows."""
        yarns = self.motif.yarns
        return (yarns.mc[0][1], yarns.cc[0][1]) if len(yarns.mc) == len(yarns.cc) == 1 else None

    def usage(
        self, gauge: Gauge, *, reversible: bool = False, yarn_settings: YarnSettings = USUAL_YARN_SETTINGS
    ) -> LayoutUsage:
        """Estimate the yarn of the layout without building it.

        Parameters
        ----------
        gauge : Gauge
            The size of a stitch.
        reversible : bool
            Whether the back is closed.
        yarn_settings : YarnSettings
            How yarn is calculated; its skeins name every yarn of the motif, if they name any.

        Returns
        -------
        LayoutUsage
            The totals that `yarn_usage` gives for the picture built and compiled.

        Raises
        ------
        UnworkableError
            If the layout cannot be worked.
        OptionError
            If an argument is not as described.
        """
        rates = YarnRates(gauge, yarn_settings)
        check_skeins(self.yarns_of_motifs, rates)
        return self.usage_at(rates, reversible=reversible)

    def usage_at(self, rates: YarnRates, *, reversible: bool = False) -> LayoutUsage:
        """Estimate the yarn at rates that were checked before: `usage` for many layouts."""
        of_role = self._one_of_each
        if of_role is not None:
            counts = self._counts(reversible)
            return usage_of_colours(
                counts, self.shape, self.first, of_role, rates, in_the_round=self.surround.in_the_round
            )
        return usage_by_row(self.row_counts(reversible), rates, in_the_round=self.surround.in_the_round)

    def __repr__(self) -> str:
        numbers = {"across": self.across, "up": self.up}
        said = "".join(f", {name}={value}" for name, value in numbers.items() if value > 1)
        size = f"{number_of(self.rows, 'row')} × {number_of(self.stitches, 'stitch')}"
        return f"<Layout of {self.motif.name or 'a motif'} {size}{said}, {self.surround}>"
