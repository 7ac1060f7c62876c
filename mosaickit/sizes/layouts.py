"""Layouts: one repeat, laid so many times across and up, with its closing stitches and rows, frame and edges.

A layout is a fabric that has not been built. Its stitches, its yarn and whether it can be worked follow from sums over
the one repeat, which are made once (`RepeatSums`) and shared, so that a layout costs the same whether it is laid twice
or two thousand times. Everything is thought in overlaid squares and in working order. `Layout.build` makes the very
picture from transforms; the tests hold everything else against it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import KW_ONLY, dataclass, field, replace
from functools import cached_property
from itertools import combinations, product
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import Yarn
from mosaickit.errors import (
    Cure,
    OptionError,
    UnworkableError,
    cures_in_words,
    number_of,
    of_kind,
    one_of,
    simplest,
    true_or_false,
    whole_number,
)
from mosaickit.fabric import RowCounts, Stitch
from mosaickit.gauge import Gauge
from mosaickit.motif import (
    COLOURS,
    WORKABLE,
    Colours,
    Finding,
    Motif,
    Report,
    check,
    crop,
    frame,
    nearest_workable,
    pad,
    repeat,
)
from mosaickit.orientation import ROLES, Role
from mosaickit.yarn import YarnRates, YarnTotal, band, skein_of_each, usage_of_rows

Band = tuple[float, float, float]
"""Metres: low, likely, high."""

_NOTHING: Band = (0.0, 0.0, 0.0)

MOST_CLOSING_ROWS = 4
"""Where a layout cannot be worked, up to fewer than so many rows are tried to close it."""

# ---- small values ------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Multiple:
    """The counts that a layout has: a multiple of one repeat plus what stands beside it.

    Some say the trade's "multiple of 8 plus 10" about stitches and some about chains, which differ by one worked flat;
    printed, this says which is which.

    Attributes
    ----------
    stitches, plus_stitches : int
        The stitches of a repeat, and all others: closing stitches, frame and edge stitches.
    rows, plus_rows : int
        The same for the rows.
    plus_chains : int
        What stands beside the repeats in the foundation chain.

    Examples
    --------
    >>> print(Multiple(stitches=8, plus_stitches=10, rows=6, plus_rows=1, plus_chains=11))
    Stitches: a multiple of 8 plus 10. Foundation: a multiple of 8 plus 11 chains. Rows: a multiple of 6 plus 1.
    """

    _: KW_ONLY
    stitches: int
    plus_stitches: int
    rows: int
    plus_rows: int
    plus_chains: int

    def __str__(self) -> str:
        return (
            f"Stitches: {_multiple(self.stitches, self.plus_stitches)}. "
            f"Foundation: {_multiple(self.stitches, self.plus_chains, 'chain')}. "
            f"Rows: {_multiple(self.rows, self.plus_rows)}."
        )


def _multiple(of: int, plus: int, what: str = "") -> str:
    beside = number_of(plus, what) if what else str(plus)
    return f"a multiple of {of}{f' plus {beside}' if plus else ''}"


@dataclass(frozen=True)
class LayoutUsage:
    """How much yarn a layout takes in all.

    Attributes
    ----------
    by_role : pair of (low, likely, high)
        Metres of MC and of CC.
    yarns : tuple of (Yarn, (low, likely, high))
        Metres of each yarn, in the order in which they are first used.
    carried_m, tails_m : float
        How much of the likely amount is carried strand, and how much tails.
    rates : YarnRates
        What it was calculated from.
    """

    by_role: tuple[Band, Band]
    yarns: tuple[tuple[Yarn, Band], ...]
    carried_m: float
    tails_m: float
    rates: YarnRates

    @cached_property
    def by_yarn(self) -> tuple[YarnTotal, ...]:
        """How much of each yarn, with the skeins to buy if they are known."""
        used, skeins = tuple(yarn for yarn, _ in self.yarns), self.rates.skeins
        if isinstance(skeins, Mapping):  # a yarn of the motif may have no row in this layout
            skeins = {yarn.name: skeins[yarn.name] for yarn in used if yarn.name in skeins}
        return tuple(
            YarnTotal(yarn, *amounts, self.rates.margin, skein)
            for (yarn, amounts), (_, skein) in zip(self.yarns, skein_of_each(used, skeins), strict=True)
        )

    @property
    def low_m(self) -> float:
        """Metres if all that is worked takes as little as the stitches' lengths allow."""
        return self.by_role[0][0] + self.by_role[1][0]

    @property
    def likely_m(self) -> float:
        """The likely metres."""
        return self.by_role[0][1] + self.by_role[1][1]

    @property
    def high_m(self) -> float:
        """Metres if all that is worked takes as much as the stitches' lengths allow."""
        return self.by_role[0][2] + self.by_role[1][2]


def check_skeins(motif: Motif, rates: YarnRates) -> None:
    """Raise `OptionError` unless the skeins are one for all yarns or name each yarn of the motif and no other."""
    skein_of_each(tuple(yarn for role in ROLES for _, yarn in motif.yarns.of(role)), rates.skeins)


@dataclass(frozen=True, eq=False, repr=False)
class RepeatSums:
    """What layouts need to know of one repeat of R rows and C stitches; see `of`.

    Repeated upward in its own colours, a repeat of an odd number of rows is on the other row colours every second
    time: then exactly the squares that are otherwise not overlaid are. It is called turned there.

    Attributes
    ----------
    motif : Motif
        The repeat; what yarns it is in does not matter.
    overlaid : int array, (R + 1, C + 1)
        Working order: element [r, s] counts the overlaid squares among the first s stitches of rows r, r − 2, r − 4
        and so on.
    clear_rows : (int, int)
        How many rows from row 1 up hold no two overlaid squares one above the other, as drawn and turned.
    clashes : (bool, bool)
        Whether a repeat as drawn, and one that is turned, right above one as drawn puts two overlaid squares one
        above the other. (One as drawn above one that is turned need not be asked about: where a turned repeat of an
        odd number of rows can be worked, overlaid and other squares take turns in every column, joins and all.)
    """

    motif: Motif
    overlaid: NDArray[np.int32]
    clear_rows: tuple[int, int]
    clashes: tuple[bool, bool]

    @classmethod
    def of(cls, motif: Motif) -> RepeatSums:
        """Sum up a motif: the one step that looks at every square."""
        squares = orientation.to_working(motif.overlaid)
        rows, columns = squares.shape
        sums = np.zeros((rows + 1, columns + 1), dtype=np.int32)
        np.cumsum(squares, axis=1, out=sums[1:, 1:])
        for start in (1, 2):
            np.cumsum(sums[start::2], axis=0, out=sums[start::2])
        sums.flags.writeable = False
        turned = ~squares
        return cls(
            motif,
            sums,
            clear_rows=(_clear_rows(squares), _clear_rows(turned)),
            clashes=(bool((squares[-1] & squares[0]).any()), bool((squares[-1] & turned[0]).any())),
        )

    def are_of(self, motif: Motif) -> bool:
        """Whether these are the sums of a motif, or of the same squares in other yarns."""
        return self.motif is motif or np.array_equal(self.motif.overlaid, motif.overlaid)

    def in_row(self, row: int, stitches: int) -> int:
        """Count the overlaid squares among the first stitches of a row, from 1."""
        below = self.overlaid.item(row - 2, stitches) if row > 1 else 0
        return self.overlaid.item(row, stitches) - below

    def in_rows(self, stitches: int) -> NDArray[np.int64]:
        """Count the overlaid squares among the first stitches of each row, (R,), row 1 first."""
        counts = self.overlaid[1:, stitches].astype(np.int64)
        counts[2:] -= self.overlaid[1:-2, stitches]
        return counts


def _clear_rows(squares: NDArray[np.bool_]) -> int:
    clash = (squares[:-1] & squares[1:]).any(axis=1)
    return int(clash.argmax()) + 1 if clash.any() else len(squares)


# ---- the layout --------------------------------------------------------------------------------------------


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
        own["inner_rows"] = rows * self.up + self.balance_up
        own["inner_stitches"] = columns * self.across + self.balance_across
        own["rows"] = self.inner_rows + 2 * self.rings + self.rows_below + self.rows_above
        own["stitches"] = self.inner_stitches + 2 * (self.rings + self.edges)
        if self.in_the_round and (self.edges or self.balance_across or self.rings):
            raise OptionError(
                f"In the round stitch {self.stitches} meets stitch 1, so there are no edges to close: `edges`, "
                f"`balance_across` and `rings` must be 0; got {self.edges}, {self.balance_across} and {self.rings}."
            )
        if own["sums"] is None or not self.sums.are_of(self.motif):
            own["sums"] = RepeatSums.of(self.motif)

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
        return orientation.role_of_row(1 - self._rows_under, self.motif.first)

    @property
    def _rows_under(self) -> int:
        """The rows below the first repeat."""
        return self.rings + self.rows_below

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
    def _turns(self) -> bool:
        """Whether every second repeat up is turned."""
        return self.colours == "keep" and self.motif.shape[0] % 2 == 1

    @cached_property
    def workable(self) -> bool:
        """Whether the picture can be worked, found from the repeat and its joins without building it."""
        sums, rows = self.sums, self.motif.shape[0]
        last = self.up if self.balance_up else self.up - 1
        second = self._turned(1)  # how every second repeat lies, from the second one on
        if sums.clear_rows[0] < rows or (self.up > 1 and sums.clear_rows[second] < rows):
            return False
        if sums.clear_rows[self._turned(last)] < self.balance_up:
            return False
        if last > 0 and sums.clashes[second]:
            return False
        bare_below, bare_above = not self._rows_under, not (self.rings + self.rows_above)
        if (bare_below and self._inner_overlaid(1)) or (bare_above and self._inner_overlaid(self.inner_rows)):
            return False
        if self.rings and self.inner_rows % 2 == 0:
            # the top of a ring is on the other colour: one may, between plain rows
            return self.rings == 1 and self.rows_above > 0 and not self._inner_overlaid(self.inner_rows)
        return True

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
            report, cures = self.report, self._cures()
            rows, stitches = report.motif.shape
            raise UnworkableError(
                f"This layout cannot be worked. {cures_in_words(cures)} What is wrong, in the smallest one with the "
                f"same joins, {number_of(rows, 'row')} of {number_of(stitches, 'stitch')}: {report.errors_in_words}",
                report,
                cures,
            )

    def _cures(self) -> tuple[Cure, ...]:
        """Find what else of its own, and if need be mended squares, makes the layout workable."""
        rows, _ = self.motif.shape
        others: dict[str, list[Any]] = {
            "colours": [colours for colours in COLOURS if colours != self.colours],
            "balance_up": [n for n in range(min(rows, MOST_CLOSING_ROWS)) if n != self.balance_up],
            "rings": [0] if self.rings else [],
            "rows_below": [self.rows_below + 1],
            "rows_above": [self.rows_above + 1],
        }
        for mend in (False, True):
            motif = nearest_workable(self.motif).motif if mend else self.motif
            start = replace(self, motif=motif)
            for n in range(len(others) + 1):
                changes = (
                    dict(zip(names, values, strict=True))
                    for names in combinations(others, n)
                    for values in product(*(others[name] for name in names))
                )
                cures = [Cure(options, mend=mend) for options in changes if replace(start, **options).workable]
                if cures:  # with more changes none is simpler
                    return simplest(cures)
        return ()

    # ---- overlaid squares ----------------------------------------------------------------------------------

    def _turned(self, number: int) -> int:
        """1 if the repeat of this number, from 0 below, is turned, else 0."""
        return number % 2 if self._turns else 0

    def _inner_overlaid(self, row: int) -> int:
        """Count the overlaid squares in a row of the repeats, from 1."""
        number, above = divmod(row - 1, self.motif.shape[0])
        overlaid = self.across * self.sums.in_row(above + 1, self.motif.shape[1])
        overlaid += self.sums.in_row(above + 1, self.balance_across)
        return self.inner_stitches - overlaid if self._turned(number) else overlaid

    def _overlaid_in_repeat(self, number: int, rows: int) -> tuple[int, int]:
        """Count the overlaid squares in the first rows of a repeat, from 0 below, all across.

        Those in its rows that are even rows of the fabric without frame and plain rows, and those in odd ones.
        """
        item, columns, closing = self.sums.overlaid.item, self.motif.shape[1], self.balance_across
        last, other = self.across * item(rows, columns) + item(rows, closing), 0
        if rows > 1:
            other = self.across * item(rows - 1, columns) + item(rows - 1, closing)
        if self._turned(number):
            last = self.inner_stitches * ((rows + 1) // 2) - last
            other = self.inner_stitches * (rows // 2) - other
        last_is_odd = (number * self.motif.shape[0] + rows) % 2
        return (other, last) if last_is_odd else (last, other)

    @cached_property
    def _overlaid(self) -> tuple[int, int, int]:
        """Count the overlaid squares in all even rows, in all odd rows, and in the last row but one."""
        rows, firsts, seconds = self.motif.shape[0], (self.up + 1) // 2, self.up // 2
        # every repeat lies like the first or like the second one
        (even, odd), (even_too, odd_too) = self._overlaid_in_repeat(0, rows), self._overlaid_in_repeat(1, rows)
        even, odd = firsts * even + seconds * even_too, firsts * odd + seconds * odd_too
        if self.balance_up:
            even_too, odd_too = self._overlaid_in_repeat(self.up, self.balance_up)
            even, odd = even + even_too, odd + odd_too
        of_parity = [odd, even] if self._rows_under % 2 else [even, odd]
        framed = self.inner_rows + 2 * self.rings
        for ring in range(self.rings):
            # both sides, every second row from the one above the ring's foot to its top
            of_parity[(self.rows_below + ring) % 2] += 2 * ((framed - 1) // 2 - ring)
        top = 0
        if self.rings and framed % 2 == 0:  # one ring between plain rows
            top = self.inner_stitches + 2 * self.rings
            of_parity[self.rows_below % 2] += top
        return of_parity[0], of_parity[1], self._overlaid_below_last(top)

    def _overlaid_below_last(self, top: int) -> int:
        """Count the overlaid squares in the last row but one; `top` of them in the top of an only ring."""
        if self.rows_above > 1 or self.rows == 1:
            return 0
        if self.rows_above == 1:
            return top if self.rings else self._inner_overlaid(self.inner_rows)
        if not self.rings:
            return self._inner_overlaid(self.inner_rows - 1) if self.inner_rows > 1 else 0
        return 2 + (self._inner_overlaid(self.inner_rows) if self.rings == 1 else 0)

    @property
    def overlaid(self) -> int:
        """How many squares are overlaid: in the plain fabric, how many stitches are FLdc."""
        even, odd, _ = self._overlaid
        return even + odd

    def _overlaid_by_row(self) -> NDArray[np.int64]:
        """Count the overlaid squares in each row, (rows,), row 1 first."""
        drawn = self.across * self.sums.in_rows(self.motif.shape[1]) + self.sums.in_rows(self.balance_across)
        turned = self.inner_stitches - drawn if self._turns else drawn
        framed = np.zeros(self.inner_rows + 2 * self.rings, dtype=np.int64)
        framed[self.rings : self.rings + self.inner_rows] = np.resize([drawn, turned], self.inner_rows)
        for ring in range(self.rings):
            top = len(framed) - ring - 1
            framed[ring + 1 : top : 2] += 2
            if len(framed) % 2 == 0:
                framed[top] = self.inner_stitches + 2 * (self.rings - ring)
        return np.pad(framed, (self.rows_below, self.rows_above))

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

    def _counts(self, reversible: bool) -> list[list[int]]:
        self._must_work()
        rows, stitches = self.rows, self.stitches
        even, odd, below_last = self._overlaid
        # by the parity of the row, even first: an FLdc stands on the row above the square that it overlays, a tog-b
        # on the row above the FLdc; the last row's FLdc are tog-f if the back is closed
        fldc = [odd, even]
        tog_back, tog_front = [0, 0], [0, 0]
        if reversible:
            tog_back = [even, odd]
            tog_back[(rows - 1) % 2] -= below_last  # none follows the last row
            tog_front[rows % 2] = below_last
            fldc[rows % 2] -= below_last
        counts = []
        for parity, of_parity in ((1, (rows + 1) // 2), (0, rows // 2)):
            sc = stitches if parity else 0
            plain = of_parity * stitches - sc - fldc[parity] - tog_back[parity] - tog_front[parity]
            counts.append([sc, plain, fldc[parity], tog_back[parity], tog_front[parity]])
        return counts if self.first == "MC" else counts[::-1]

    def row_counts(self, reversible: bool = False) -> RowCounts:
        """Count the stitches of every row without building the picture; see `counts`, and `count_rows`."""
        self._must_work()
        overlaid = self._overlaid_by_row()
        counts = np.zeros((self.rows, len(Stitch)), dtype=np.int64)
        counts[1:, Stitch.FLDC] = overlaid[:-1]
        if reversible:
            counts[2:, Stitch.TOG_BACK] = overlaid[:-2]
            counts[-1, Stitch.TOG_FRONT] = counts[-1, Stitch.FLDC]
            counts[-1, Stitch.FLDC] = 0
        counts[0, Stitch.SC] = self.stitches
        counts[1:, Stitch.BLSC] = self.stitches - counts[1:].sum(axis=1)
        counts.flags.writeable = False
        cc = orientation.contrast_rows(self.rows, self.first)
        return RowCounts(counts, tuple(ROLES[int(row)] for row in cc), self._yarn_of_rows(cc))

    def _yarn_of_rows(self, cc: NDArray[np.bool_]) -> tuple[Yarn, ...]:
        """Give the yarn of each row: that of the repeat's row which lies there, as `repeat` and `pad` carry it."""
        rows = self.motif.shape[0]
        inner = np.clip(np.arange(self.rows) - self._rows_under, 0, self.inner_rows - 1)
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
            return self._usage_by_role(rates, reversible, (yarns.mc[0][1], yarns.cc[0][1]))
        return self._usage_by_row(rates, reversible)

    def _usage_by_role(self, rates: YarnRates, reversible: bool, yarn_of_role: tuple[Yarn, Yarn]) -> LayoutUsage:
        """Sum the yarn where each role has one throughout: a row's ends and strands are alike in all its rows."""
        rows, stitches, first = self.rows, self.stitches, ROLES.index(self.first)
        counts = self._counts(reversible)
        sc_cm, blsc_cm, fldc_cm, back_cm, front_cm = rates.by_stitch
        chain_cm, strand_cm = rates.in_stitches.chain, rates.strand_cm(stitches, self.in_the_round)
        by_role = [_NOTHING, _NOTHING]
        carried_cm = tails_cm = 0.0
        order = (first, 1 - first)[:rows]
        for role in order:
            of_role = (rows + (role == first)) // 2
            # every row but its last hands its yarn on
            strands = of_role - 1 if rates.between_rows == "carried" else 0
            chains = 2 * of_role
            if role == first:
                chains += stitches + self.in_the_round
            sc, blsc, fldc, back, front = counts[role]
            worked_cm = chains * chain_cm + strands * strand_cm + sc * sc_cm + blsc * blsc_cm + fldc * fldc_cm
            worked_cm += back * back_cm + front * front_cm
            own_tails_cm = 2 * (of_role - strands) * rates.tail_cm
            by_role[role] = band(worked_cm / 100, own_tails_cm / 100, rates.in_stitches)
            carried_cm, tails_cm = carried_cm + strands * strand_cm, tails_cm + own_tails_cm
        yarns = tuple((yarn_of_role[role], by_role[role]) for role in order)
        if len(order) == 2 and yarn_of_role[0] == yarn_of_role[1]:
            low, likely, high = map(sum, zip(*by_role, strict=True))
            yarns = ((yarn_of_role[0], (low, likely, high)),)
        return LayoutUsage((by_role[0], by_role[1]), yarns, carried_cm / 100, tails_cm / 100, rates)

    def _usage_by_row(self, rates: YarnRates, reversible: bool) -> LayoutUsage:
        """Sum the yarn row by row, where it changes with the rows."""
        counts = self.row_counts(reversible)
        usage = usage_of_rows(counts, replace(rates, skeins=None), in_the_round=self.in_the_round)
        cc = np.array([role == "CC" for role in counts.row_colours])
        of_mc, of_cc = (
            band(float(usage.worked_m[rows].sum()), float(usage.tails_m[rows].sum()), rates.in_stitches)
            for rows in (~cc, cc)
        )
        yarns = tuple((total.yarn, (total.low_m, total.likely_m, total.high_m)) for total in usage.by_yarn)
        carried_m, tails_m = float(usage.carried_m.sum()), float(usage.tails_m.sum())
        return LayoutUsage((of_mc, of_cc), yarns, carried_m, tails_m, rates)

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
