"""Layout: one repeat laid across and up and all that stands around it, counted without being built.

A layout is a fabric that has not been built. Its stitches, its yarn and whether it can be worked follow from sums over
the one repeat, which are made once (`RepeatSums`) and shared, so that a layout costs the same whether it is laid twice
or two thousand times. Everything is thought in overlaid squares and in working order. `Layout.build` makes the very
picture from transforms; the tests hold everything else against it.
"""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass, field, replace
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import Yarn
from mosaickit.errors import OptionError, number_of, of_kind, one_of, true_or_false, whole_number
from mosaickit.fabric import RowCounts
from mosaickit.gauge import Gauge
from mosaickit.motif import COLOURS, WORKABLE, Colours, Finding, Motif, Report, check, crop, frame, pad, repeat
from mosaickit.orientation import ROLES, Role
from mosaickit.sizes.layouts.cures import unworkable
from mosaickit.sizes.layouts.framed import Framed
from mosaickit.sizes.layouts.multiples import Multiple
from mosaickit.sizes.layouts.repeats import Repeats, RepeatSums
from mosaickit.sizes.layouts.stitches import stitches_of_colours, stitches_of_rows
from mosaickit.sizes.layouts.usage import LayoutUsage, check_skeins, usage_by_row, usage_of_colours
from mosaickit.yarn import YarnRates


@dataclass(frozen=True, repr=False)
class Layout:
    """One repeat laid across and up, and what stands around it.

    From the inside out: the repeats; after the last one, in working order for a right-hander, the first stitches and
    rows of the repeat once more, so that rows can begin and end alike; a frame; edge stitches and plain rows.

    Parameters
    ----------
    motif : Motif
        One repeat, (R, C).
    across, up : int
        How many times it is laid, 1 or more.
    balance_across : int
        How many of its first stitches close each row: 0 to C − 1.
    balance_up : int
        How many of its first rows close the fabric: 0 to R − 1.
    rings : int
        The rings of a frame, as `frame` makes them.
    edges : int
        Plain edge stitches at each side.
    rows_below, rows_above : int
        Plain rows.
    colours : "keep" or "swap"
        What happens to every second repeat up if R is odd: see `repeat`. Frame and plain rows leave the colours of the
        squares inside alone; row 1 takes the colour that follows.
    in_the_round : bool
        Whether the last stitch of a row meets its first.
    sums : RepeatSums, optional
        Those of the motif, if they are known, else they are made: from every square, so make them once for many
        layouts. ``dataclasses.replace(layout, across=5)`` keeps them.

    Attributes
    ----------
    inner_rows, inner_stitches : int
        The size of the repeats with what closes them: what a frame goes around.
    rows, stitches : int
        The whole size.
    framed : Framed
        All but the edge stitches, whose overlaid squares are counted there.

    Raises
    ------
    OptionError
        If a number is not as described, or edges, closing stitches or a frame are asked for in the round.

    Examples
    --------
    >>> leaf = Motif.from_text('''
    ... ....
    ... ####
    ... .##.
    ... ####
    ... ....
    ... ''')
    >>> layout = Layout(leaf, across=12, balance_across=1, edges=1)
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
    balance_across: int = 0
    balance_up: int = 0
    rings: int = 0
    edges: int = 0
    rows_below: int = 0
    rows_above: int = 0
    colours: Colours = "keep"
    in_the_round: bool = False
    sums: RepeatSums = field(default=None, compare=False)  # type: ignore[assignment]  # made below if not given
    inner_rows: int = field(init=False, compare=False)
    inner_stitches: int = field(init=False, compare=False)
    rows: int = field(init=False, compare=False)
    stitches: int = field(init=False, compare=False)
    framed: Framed = field(init=False, compare=False)

    def __post_init__(self) -> None:
        one_of("colours", self.colours, COLOURS)
        true_or_false("in_the_round", self.in_the_round)
        of_kind("motif", self.motif, Motif)
        own = self.__dict__  # a sweep makes 100,000 of these: setting fields one by one is too slow
        for name, least in _LEAST.items():
            if type(own[name]) is not int or own[name] < least:
                own[name] = whole_number(name, own[name], least=least)
        rows, columns = self.motif.shape
        for name, most, what in (("balance_across", columns, "stitch"), ("balance_up", rows, "row")):
            if own[name] >= most:
                raise OptionError(
                    f"`{name}` must be below the {number_of(most, what)} of the repeat, of which it is a part; "
                    f"got {own[name]}."
                )
        if own["sums"] is None or not self.sums.are_of(self.motif):
            own["sums"] = RepeatSums.of(self.motif)
        turn = self.colours == "keep" and rows % 2 == 1
        inner = Repeats(self.sums, self.across, self.up, self.balance_across, self.balance_up, turn)
        own["framed"] = Framed(inner, self.rings, self.rows_below, self.rows_above)
        own["inner_rows"], own["inner_stitches"] = inner.rows, inner.stitches
        own["rows"] = self.inner_rows + 2 * self.rings + self.rows_below + self.rows_above
        own["stitches"] = self.inner_stitches + 2 * (self.rings + self.edges)
        if self.in_the_round and (self.edges or self.balance_across or self.rings):
            raise OptionError(
                f"In the round stitch {self.stitches} meets stitch 1, so there are no edges to close: `edges`, "
                f"`balance_across` and `rings` must be 0; got {self.edges}, {self.balance_across} and {self.rings}."
            )

    # ---- size ----------------------------------------------------------------------------------------------

    @property
    def shape(self) -> tuple[int, int]:
        """(rows, stitches), as of the motif that `build` makes."""
        return self.rows, self.stitches

    @property
    def foundation_chain(self) -> int:
        """The chains to start with: one more than stitches worked flat, a chain for each in the round."""
        return self.stitches + (not self.in_the_round)

    @property
    def multiple(self) -> Multiple:
        """What the counts are multiples of."""
        rows, columns = self.motif.shape
        beside = self.stitches - columns * self.across
        return Multiple(
            stitches=columns,
            plus_stitches=beside,
            rows=rows,
            plus_rows=self.rows - rows * self.up,
            plus_chains=beside + (not self.in_the_round),
        )

    @cached_property
    def first(self) -> Role:
        """The colour of row 1."""
        return orientation.role_of_row(1 - self.framed.rows_under, self.motif.first)

    # ---- the picture ---------------------------------------------------------------------------------------

    def build(self) -> Motif:
        """Make the picture, (rows, stitches), whether it can be worked or not.

        Raises
        ------
        MotifError
            If it is larger than a motif may be.
        """
        laid = repeat(
            self.motif,
            across=self.across + (self.balance_across > 0),
            up=self.up + (self.balance_up > 0),
            colours=self.colours,
            must_work=False,
        )
        inner = crop(laid, rows=(1, self.inner_rows), stitches=(1, self.inner_stitches), must_work=False)
        return pad(
            frame(inner, self.rings, must_work=False),
            left=self.edges,
            right=self.edges,
            bottom=self.rows_below,
            top=self.rows_above,
            must_work=False,
        )

    @property
    def centred(self) -> bool:
        """Whether the picture is its own mirror left to right, so that every row reads the same from either edge.

        Whether it is depends on the repeat and on `balance_across` alone.
        """
        columns = self.motif.shape[1]
        squares = orientation.to_working(self.motif.grid)
        # stitch s from the other edge is stitch balance + 1 − s of some repeat
        from_the_other_edge = (self.balance_across - 1 - np.arange(columns)) % columns
        return np.array_equal(squares, squares[:, from_the_other_edge])

    # ---- what can be worked --------------------------------------------------------------------------------

    @cached_property
    def workable(self) -> bool:
        """Whether the picture can be worked, found from the repeat and its joins without building it."""
        return self.framed.workable

    @property
    def sample(self) -> Layout:
        """The smallest layout with the same joins, ends and colours: at most 3 repeats up, 1 across."""
        return replace(self, across=1, balance_across=0, up=self.up if self.up <= 3 else 2 + self.up % 2)

    @property
    def report(self) -> Report:
        """What the rules that decide find in `sample`; rows and stitches are counted there."""
        return check(self.sample.build(), in_the_round=self.in_the_round, rules=WORKABLE)

    @property
    def findings_at_joins(self) -> tuple[Finding, ...]:
        """The errors of `report`; none if the layout can be worked."""
        return self.report.findings

    def _must_work(self) -> None:
        if not self.workable:
            raise unworkable(self)

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
            If the layout cannot be worked; its `cures` are changes for ``dataclasses.replace(layout, …)``.
        """
        return np.array(self._counts(reversible), dtype=np.int64)

    def _counts(self, reversible: bool) -> tuple[list[int], list[int]]:
        self._must_work()
        of_first, of_other = stitches_of_colours(self._overlaid, self.rows, self.stitches, reversible)
        return (of_first, of_other) if self.first == "MC" else (of_other, of_first)

    def row_counts(self, reversible: bool = False) -> RowCounts:
        """Count the stitches of every row without building the picture; see `counts`, and `count_rows`."""
        self._must_work()
        counts = stitches_of_rows(self.framed.overlaid_by_row(), self.stitches, reversible)
        cc = orientation.contrast_rows(self.rows, self.first)
        return RowCounts(counts, tuple(ROLES[int(row)] for row in cc), self._yarn_of_rows(cc))

    def _yarn_of_rows(self, cc: NDArray[np.bool_]) -> tuple[Yarn, ...]:
        """Give the yarn of each row: that of the repeat's row which lies there, as `repeat` and `pad` carry it."""
        rows = self.motif.shape[0]
        inner = np.clip(np.arange(self.rows) - self.framed.rows_under, 0, self.inner_rows - 1)
        yarns = [self.motif.yarns.by_row(rows, role) for role in ROLES]
        return tuple(yarns[role][row] for role, row in zip(cc.tolist(), (inner % rows).tolist(), strict=True))

    # ---- yarn ----------------------------------------------------------------------------------------------

    def usage(self, gauge: Gauge, *, reversible: bool = False, **options: Any) -> LayoutUsage:  # noqa: ANN401
        """Estimate the yarn of the layout without building it.

        Parameters
        ----------
        gauge : Gauge
            The size of a stitch.
        reversible : bool
            Whether the back is closed.
        **options
            What `yarn_usage` takes; `skeins` name every yarn of the motif, if they name any.

        Returns
        -------
        LayoutUsage
            The totals that `yarn_usage` gives for the picture built and compiled.

        Raises
        ------
        UnworkableError
            If the layout cannot be worked.
        OptionError
            If an option has a value that `yarn_usage` does not take.
        """
        rates = YarnRates(gauge, **options)
        check_skeins(self.motif, rates)
        return self.usage_at(rates, reversible=reversible)

    def usage_at(self, rates: YarnRates, *, reversible: bool = False) -> LayoutUsage:
        """Estimate the yarn at rates that were checked before: `usage` for many layouts."""
        yarns = self.motif.yarns
        if len(yarns.mc) == len(yarns.cc) == 1:
            of_role, counts = (yarns.mc[0][1], yarns.cc[0][1]), self._counts(reversible)
            return usage_of_colours(counts, self.shape, self.first, of_role, rates, in_the_round=self.in_the_round)
        return usage_by_row(self.row_counts(reversible), rates, in_the_round=self.in_the_round)

    def __repr__(self) -> str:
        around = {name: value for name in _LEAST if (value := getattr(self, name)) > _LEAST[name]}
        said = "".join(f", {name}={value}" for name, value in around.items())
        size = f"{number_of(self.rows, 'row')} × {number_of(self.stitches, 'stitch')}"
        return f"<Layout of {self.motif.name or 'a motif'} {size}{said}>"


_LEAST = {
    "across": 1,
    "up": 1,
    "balance_across": 0,
    "balance_up": 0,
    "rings": 0,
    "edges": 0,
    "rows_below": 0,
    "rows_above": 0,
}
"""The numbers of a layout and the least that each may be."""
