"""Widths: which counts of repeats come near a wanted size, and what each of them takes in yarn and time.

A piece has a width and a length. Its rows run across the width, so that repeats across make the width and repeats up
the length, or along the length, and then it is the other way about. `plan_widths` finds every count of repeats that
comes near enough; what a `Fit` costs is worked out from its layout when it is asked for, without building it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil, floor, isqrt
from typing import Any, Literal

from mosaickit.errors import UnworkableError, WidthError, one_of, positive, within
from mosaickit.gauge import CM_PER_INCH, Gauge, Unit, to_cm
from mosaickit.motif import BETWEEN_ROWS, LARGEST_SIDE, Colours, Finding, Motif, checked_size
from mosaickit.sizes.layouts.layout import Layout
from mosaickit.sizes.layouts.multiples import Multiple
from mosaickit.sizes.layouts.usage import LayoutUsage, check_skeins
from mosaickit.yarn import YarnRates, YarnTotal, accuracy, carry_or_cut_width_cm

Worked = Literal["across", "along"]
WORKED: tuple[Worked, ...] = ("across", "along")
Direction = Literal["across", "up"]

MOST_FITS = 10_000
"""No plan has more fits than this: no one chooses among so many."""

LARGEST_CM = 1e7
"""No piece is larger than 100 km: such a size is a slip of the pen."""

SLACK = 1e-9
"""A size may miss its tolerance by this share, so that 216 stitches at 6 to the inch are 36 inches."""


@dataclass(frozen=True)
class Wanted:
    """What was asked for.

    Attributes
    ----------
    width_cm : float
        The width of the piece.
    length_cm : float or None
        Its length, if one was asked for.
    worked : "across" or "along"
        Whether rows run across the width or along the length.
    unit : "cm" or "in"
        The unit in which sizes are written first.
    tolerance : float
        The share by which a size may differ.
    reversible : bool
        Whether the back is closed.
    rates : YarnRates
        Gauge, lengths of stitches, skeins and the rest that yarn is calculated from.
    stitches_a_minute : float
        How fast the maker works.
    """

    width_cm: float
    length_cm: float | None
    worked: Worked
    unit: Unit
    tolerance: float
    reversible: bool
    rates: YarnRates
    stitches_a_minute: float

    def size(self, cm: float) -> str:
        """Write a size in both units, the one asked in first."""
        in_cm, in_inches = f"{cm:.4g} cm", f"{cm / CM_PER_INCH:.4g} in"
        return f"{in_cm} ({in_inches})" if self.unit == "cm" else f"{in_inches} ({in_cm})"


# ---- one count of repeats ----------------------------------------------------------------------------------


@dataclass(frozen=True, repr=False)
class Fit:
    """A layout that comes near the wanted size, and what it costs.

    Attributes
    ----------
    layout : Layout
        The repeats with all that stands around them; it can be worked.
    wanted : Wanted
        What was asked for.
    """

    layout: Layout
    wanted: Wanted

    # ---- size ----------------------------------------------------------------------------------------------

    @property
    def across(self) -> int:
        """Repeats along a row."""
        return self.layout.across

    @property
    def up(self) -> int:
        """Repeats one above the other, in working order."""
        return self.layout.up

    @property
    def stitches(self) -> int:
        """The stitches of a row."""
        return self.layout.stitches

    @property
    def foundation_chain(self) -> int:
        """The chains to start with."""
        return self.layout.foundation_chain

    @property
    def rows(self) -> int:
        """The rows, or rounds."""
        return self.layout.rows

    @property
    def width_cm(self) -> float:
        """The true width of the piece."""
        return _sides_cm(self.layout, self.wanted)[0]

    @property
    def length_cm(self) -> float:
        """The true length of the piece."""
        return _sides_cm(self.layout, self.wanted)[1]

    @property
    def width_in(self) -> float:
        """The true width in inches."""
        return self.width_cm / CM_PER_INCH

    @property
    def length_in(self) -> float:
        """The true length in inches."""
        return self.length_cm / CM_PER_INCH

    @property
    def row_cm(self) -> float:
        """How long a row is: the width or the length, whichever the rows run along."""
        return self.width_cm if self.wanted.worked == "across" else self.length_cm

    @property
    def deviation(self) -> float:
        """The share by which the width is too large, below 0 if it is too small."""
        return self.width_cm / self.wanted.width_cm - 1

    @property
    def length_deviation(self) -> float | None:
        """The same for the length, if one was asked for."""
        return None if self.wanted.length_cm is None else self.length_cm / self.wanted.length_cm - 1

    @property
    def _far(self) -> tuple[float, float, int]:
        """How far it is from what was asked: width first, then length, then the fewer stitches."""
        width, length = (round(abs(off or 0.0), 9) for off in (self.deviation, self.length_deviation))
        return width, length, self.rows * self.stitches

    # ---- looks ---------------------------------------------------------------------------------------------

    @property
    def centred(self) -> bool:
        """Whether the picture is its own mirror left to right, so that every row reads the same from either edge."""
        return self.layout.centred

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What cannot be worked at the joins: nothing, in the fits of a plan."""
        return self.layout.findings_at_joins

    @property
    def fldc_share(self) -> float:
        """The share of all stitches that are FLdc, in the plain fabric: the share of squares that are overlaid."""
        return self.layout.overlaid / (self.rows * self.stitches)

    # ---- yarn and time -------------------------------------------------------------------------------------

    @cached_property
    def usage(self) -> LayoutUsage:
        """The yarn, as it was asked for: reversible or plain, carried or cut."""
        return self.layout.usage_at(self.wanted.rates, reversible=self.wanted.reversible)

    @property
    def by_yarn(self) -> tuple[YarnTotal, ...]:
        """Each yarn's low, likely and high metres, and the skeins to buy, if they are known."""
        return self.usage.by_yarn

    @cached_property
    def surcharge(self) -> float:
        """The share of the plain fabric's yarn that the reversible one takes on top."""
        plain, reversible = (
            self.layout.usage_at(self.wanted.rates, reversible=closed).likely_m for closed in (False, True)
        )
        return reversible / plain - 1

    @cached_property
    def carried_and_cut_m(self) -> tuple[float, float]:
        """The likely metres in all if the yarn is carried between rows, and if it is cut."""
        carried, cut = (
            self.layout.usage_at(replace(self.wanted.rates, between_rows=way), reversible=self.wanted.reversible)
            for way in BETWEEN_ROWS
        )
        return carried.likely_m, cut.likely_m

    @property
    def minutes(self) -> float:
        """The minutes that its stitches take, each as long as any other; chains, ends and breaks are not counted."""
        return self.rows * self.stitches / self.wanted.stitches_a_minute

    def around(self, share: float = 0.5) -> tuple[Fit, ...]:
        """Give the same with other counts of repeats, narrower ones first.

        Parameters
        ----------
        share : float
            By how much their widths may differ from the wanted one, 0 to 1.

        Returns
        -------
        tuple of Fit
            Those that can be worked; this one among them, if it is as near itself.
        """
        direction = _directions(self.wanted.worked)[0]
        wanted = replace(self.wanted, tolerance=within("share", share, 0, 1))
        near = _Side("width", wanted.width_cm, direction, self.layout, wanted).near()
        return tuple(Fit(layout, self.wanted) for layout in near if layout.workable)

    def __str__(self) -> str:
        wanted, usage = self.wanted, self.usage
        off = f"width {self.deviation:+.1%}"
        if self.length_deviation is not None:
            off += f", length {self.length_deviation:+.1%}"
        centred = "centred" if self.centred else "not centred"
        hours, minutes = divmod(round(self.minutes), 60)
        return (
            f"{self.across} × {self.up} repeats: {self.stitches} stitches (chain {self.foundation_chain}) × "
            f"{self.rows} rows = {wanted.size(self.width_cm)} wide, {wanted.size(self.length_cm)} long; {off}; "
            f"{centred}; {usage.likely_m:.1f} m of yarn, from {usage.low_m:.1f} to {usage.high_m:.1f} m; "
            f"{hours} h {minutes} min"
        )

    def __repr__(self) -> str:
        return f"<Fit {self}>"


def _sides_cm(layout: Layout, wanted: Wanted) -> tuple[float, float]:
    """Give the true (width, length) of a layout."""
    along_row, along_column = wanted.rates.gauge.size_cm(*layout.shape)
    return (along_row, along_column) if wanted.worked == "across" else (along_column, along_row)


# ---- counts of repeats -------------------------------------------------------------------------------------


def counts_near(wanted_cm: float, tolerance: float, first_cm: float, repeat_cm: float, most: int) -> list[int]:
    """List the counts of repeats whose size is within a share of the wanted one.

    Parameters
    ----------
    wanted_cm, tolerance : float
        The size, and the share by which it may differ.
    first_cm, repeat_cm : float
        The size of one repeat with all that stands beside it, and of each repeat more.
    most : int
        No count is larger.

    Examples
    --------
    >>> counts_near(20, 0.1, 5, 4, 100)
    [5]
    """
    low, high = (_count_for(wanted_cm * (1 + off), first_cm, repeat_cm, most) for off in (-tolerance, tolerance))
    return [
        count
        for count in range(max(low - 1, 1), min(high + 1, most) + 1)
        if abs((first_cm + (count - 1) * repeat_cm) / wanted_cm - 1) <= tolerance + SLACK
    ]


def _count_for(cm: float, first_cm: float, repeat_cm: float, most: int) -> int:
    return floor(min(max((cm - first_cm) / repeat_cm + 1, 0), most))


# ---- the plan ----------------------------------------------------------------------------------------------


@dataclass(frozen=True, repr=False)
class WidthPlan:
    """Every count of repeats that comes near the wanted size.

    Attributes
    ----------
    wanted : Wanted
        What was asked for.
    fits : tuple of Fit
        All within the tolerance that can be worked, the nearest first: nearest in width, then in length, then the
        one of fewer stitches.
    unworkable : tuple of Layout
        For each count of repeats up that is within the tolerance but cannot be worked, one layout; its
        `findings_at_joins` say why.
    """

    wanted: Wanted
    fits: tuple[Fit, ...]
    unworkable: tuple[Layout, ...]

    @property
    def nearest(self) -> Fit:
        """The fit that comes nearest."""
        return self.fits[0]

    @property
    def multiple(self) -> Multiple:
        """What the counts of all fits are multiples of."""
        return self.nearest.layout.multiple

    @property
    def carry_or_cut_width_cm(self) -> float:
        """The length of a row, in cm, below which carrying takes less yarn than cutting, worked flat."""
        return carry_or_cut_width_cm(self.wanted.rates.tail_cm, self.wanted.rates.ease)

    def __str__(self) -> str:
        wanted, most = self.wanted, 10
        length = "" if wanted.length_cm is None else f" and a length of {wanted.size(wanted.length_cm)}"
        runs = "across the width" if wanted.worked == "across" else "along the length"
        lines = [
            f"For a width of {wanted.size(wanted.width_cm)}{length}, to {wanted.tolerance:.3g} of it; rows run {runs}.",
            str(self.multiple),
            f"Fits: {len(self.fits)}, the nearest first.",
            *(f"  {fit}" for fit in self.fits[:most]),
        ]
        if len(self.fits) > most:
            lines.append(f"  … and {len(self.fits) - most} more")
        lines += [f"  left out, {layout.up} repeats up: {_why_not(layout)}" for layout in self.unworkable[:most]]
        if len(self.unworkable) > most:
            lines.append(f"  … and {len(self.unworkable) - most} more left out")
        if not self.nearest.layout.in_the_round:
            limit = wanted.size(self.carry_or_cut_width_cm)
            lines.append(f"In rows shorter than {limit}, carrying takes less yarn than cutting; in longer ones, more.")
        return "\n".join([*lines, accuracy(wanted.rates.in_stitches)])

    def __repr__(self) -> str:
        return f"<WidthPlan {len(self.fits)} fits, the nearest {self.nearest}>"


def _why_not(layout: Layout) -> str:
    """Say why a layout cannot be worked, and the cure if it lies in the colours of the repeats or the frame."""
    cures = []
    if layout.rings and layout.inner_rows % 2 == 0:
        cures.append(f"A ring closes only around an odd number of rows, and {layout.inner_rows} is even. ")
    if layout.colours == "keep" and any(
        replace(layout, colours="swap", up=layout.up + more).workable for more in (0, 1)
    ):
        cures.append('Try colours="swap". ')
    return f"{''.join(cures)}What is wrong: {layout.report.errors_in_words}"


def plan_widths(
    motif: Motif,
    gauge: Gauge,
    width: float,
    *,
    length: float | None = None,
    unit: Unit = "cm",
    tolerance: float = 0.05,
    worked: Worked = "across",
    edges: int | None = None,
    balance_across: int | Literal["half"] = 0,
    balance_up: int = 0,
    rings: int = 0,
    rows_below: int = 0,
    rows_above: int = 0,
    colours: Colours = "keep",
    in_the_round: bool = False,
    reversible: bool = False,
    stitches_a_minute: float = 20.0,
    **yarn: Any,  # noqa: ANN401 — what yarn_usage takes
) -> WidthPlan:
    """Find the counts of repeats that come near a wanted width, and length, of a piece.

    Parameters
    ----------
    motif : Motif
        One repeat, (R, C).
    gauge : Gauge
        The size of a stitch.
    width : float
        The wanted width of the finished piece, in `unit`; in the round, with rows across, the way around.
    length : float, optional
        Its wanted length, in `unit`. Without one, the repeats along the length are as few as can be worked.
    unit : "cm" or "in"
        The unit of both.
    tolerance : float
        The share by which a size may differ from what is wanted, 0 to 1; our choice, no source.
    worked : "across" or "along"
        Whether rows run across the width, so that repeats across make it, or along the length, so that repeats up do.
    edges : int, optional
        Plain edge stitches at both ends of a row: 1 if not given, none in the round.
    balance_across : int or "half"
        How many stitches of the repeat close each row, or half a repeat, rounded down.
    balance_up, rings, rows_below, rows_above, colours, in_the_round
        As in `Layout`.
    reversible : bool
        Whether the back is closed.
    stitches_a_minute : float
        How fast the maker works, above 0: 20 is our choice, no source.
    **yarn
        What `yarn_usage` takes: between_rows, yarn_mm, lengths, skeins (for every yarn of the motif), tail_cm, ease,
        margin.

    Returns
    -------
    WidthPlan
        With `.fits`, the nearest first.

    Raises
    ------
    WidthError
        If no count that can be worked comes within the tolerance; the message names the nearest below and above and
        the tolerance that would take the nearest in, which the error holds as `tolerance`.
    UnworkableError
        If it cannot be worked whatever the count; holds the report.
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> leaf = Motif.from_text('''
    ... ....
    ... ####
    ... .##.
    ... ####
    ... ....
    ... ''')
    >>> plan = plan_widths(leaf, Gauge(14, 16, over=4, unit="in"), 8, unit="in", tolerance=0.1)
    >>> for fit in plan.fits:
    ...     print(fit.across, fit.stitches, fit.foundation_chain, f"{fit.width_in:.2f} in {fit.deviation:+.1%}")
    6 26 27 7.43 in -7.1%
    7 30 31 8.57 in +7.1%
    """
    one_of("worked", worked, WORKED)
    wanted = Wanted(
        width_cm=asked_cm("width", width, unit),
        length_cm=None if length is None else asked_cm("length", length, unit),
        worked=worked,
        unit=unit,
        tolerance=within("tolerance", tolerance, 0, 1),
        reversible=bool(reversible),
        rates=YarnRates(gauge, **yarn),
        stitches_a_minute=positive("stitches_a_minute", stitches_a_minute),
    )
    one = Layout(
        motif,
        balance_up=balance_up,
        rings=rings,
        edges=int(not in_the_round) if edges is None else edges,
        rows_below=rows_below,
        rows_above=rows_above,
        colours=colours,
        in_the_round=in_the_round,
    )
    one = replace(one, balance_across=motif.shape[1] // 2 if balance_across == "half" else balance_across)
    one = _fewest_up(one)
    checked_size(*one.shape)
    check_skeins(motif, wanted.rates)
    return _plan(one, wanted)


def asked_cm(name: str, size: object, unit: Unit) -> float:
    """Return a size that was asked for in cm, or raise `OptionError`; `name` is what the message calls it."""
    return within(f"{name} in cm", to_cm(name, size, unit), 0, LARGEST_CM)


def _fewest_up(one: Layout) -> Layout:
    """Repeat upward as few times as can be worked."""
    for up in range(1, 4):  # what cannot be worked with any of these cannot be with more
        layout = replace(one, up=up)
        if layout.workable:
            return layout
    raise UnworkableError(
        f"No number of repeats of this can be worked; `mk.nearest_workable` mends a motif. {_why_not(one)}", one.report
    )


def _plan(one: Layout, wanted: Wanted) -> WidthPlan:
    """Try all counts of repeats for the sides that were asked for."""
    directions = _directions(wanted.worked)
    sides = [_Side("width", wanted.width_cm, directions[0], one, wanted)]
    if wanted.length_cm is not None:
        sides.append(_Side("length", wanted.length_cm, directions[1], one, wanted))
    near = {side.direction: side.near() for side in sides}
    unworkable = tuple(layout for layouts in near.values() for layout in layouts if not layout.workable)
    can = {direction: [layout for layout in layouts if layout.workable] for direction, layouts in near.items()}
    for side in sides:
        if not can[side.direction]:
            raise side.nothing_near()
    across, up = ([getattr(layout, way) for layout in can.get(way, [one])] for way in ("across", "up"))
    if len(across) * len(up) > MOST_FITS:
        narrower = min(side.tolerance_for(isqrt(MOST_FITS)) for side in sides)
        raise WidthError(
            f"{len(across)} × {len(up)} counts of repeats come within {wanted.tolerance:.3g}, more than the "
            f"{MOST_FITS:,} of a plan: take a tolerance of {narrower:g}.",
            narrower,
        )
    checked_size(*replace(one, across=max(across), up=max(up)).shape)
    fits = (Fit(replace(one, across=i, up=j), wanted) for i in across for j in up)
    return WidthPlan(wanted, tuple(sorted(fits, key=lambda fit: fit._far)), unworkable)


def _directions(worked: Worked) -> tuple[Direction, Direction]:
    """Say in which direction repeats make the width, and in which the length."""
    return ("across", "up") if worked == "across" else ("up", "across")


@dataclass(frozen=True)
class _Side:
    """One side of the piece, and the direction in which repeats make it."""

    name: str
    wanted_cm: float
    direction: Direction
    one: Layout
    wanted: Wanted

    def laid(self, count: int) -> Layout:
        return replace(self.one, across=count) if self.direction == "across" else replace(self.one, up=count)

    def cm(self, layout: Layout) -> float:
        along_row, along_column = self.wanted.rates.gauge.size_cm(*layout.shape)
        return along_row if self.direction == "across" else along_column

    def deviation(self, layout: Layout) -> float:
        return self.cm(layout) / self.wanted_cm - 1

    @cached_property
    def first_cm(self) -> float:
        """The size of one repeat and all that stands beside it."""
        return self.cm(self.laid(1))

    @cached_property
    def repeat_cm(self) -> float:
        """The size of a repeat more."""
        return self.cm(self.laid(2)) - self.first_cm

    @cached_property
    def most(self) -> int:
        """The most repeats that a motif can hold."""
        multiple = self.one.multiple
        if self.direction == "across":
            return (LARGEST_SIDE - multiple.plus_stitches) // multiple.stitches
        return (LARGEST_SIDE - multiple.plus_rows) // multiple.rows

    def count_for(self, cm: float) -> int:
        """Give the most repeats that are about so large, give or take one; 0 to `most`."""
        return _count_for(cm, self.first_cm, self.repeat_cm, self.most)

    def near(self) -> list[Layout]:
        """All within the tolerance, whether they can be worked or not."""
        counts = counts_near(self.wanted_cm, self.wanted.tolerance, self.first_cm, self.repeat_cm, self.most)
        return [self.laid(count) for count in counts]

    def tolerance_for(self, most: int) -> float:
        """Give a tolerance that takes in at most so many counts, rounded down."""
        furthest = sorted(abs(self.deviation(layout)) for layout in self.near())[:most][-1]
        return floor(furthest * 1e4 - 1) / 1e4

    def nothing_near(self) -> WidthError:
        """Say which counts come nearest, and what tolerance takes one of them in."""
        about = self.count_for(self.wanted_cm)
        smaller = (self.laid(count) for count in range(min(about + 1, self.most), 0, -1))
        larger = (self.laid(count) for count in range(max(about - 1, 1), min(about + 6, self.most) + 1))
        below = next((layout for layout in smaller if self.deviation(layout) < 0 and layout.workable), None)
        above = next((layout for layout in larger if self.deviation(layout) > 0 and layout.workable), None)
        nearest = min(abs(self.deviation(layout)) for layout in (below, above) if layout)
        tolerance = ceil(nearest * 1e3) / 1e3 if nearest <= 1 else None
        cure = "." if tolerance is None else f", or take a tolerance of {tolerance:g}."
        asked = f"{self.name} of {self.wanted.size(self.wanted_cm)}"
        if below and above:
            text = (
                f"No count of repeats that can be worked comes within {self.wanted.tolerance:.3g} of a {asked}: the "
                f"nearest are {self._say(below)}, and {self._say(above)}. Ask for one of them"
            )
        elif above:
            text = f"A {asked} is too small: the least that can be worked is {self._say(above)}. Ask for that"
        else:
            text = f"A {asked} is too large: the most that can be worked is {self._say(below)}. Ask for that"
        why = "".join(f" {layout.up} repeats up come near. {_why_not(layout)}" for layout in self.near()[:1])
        return WidthError(text + cure + why, tolerance)

    def _say(self, layout: Layout | None) -> str:
        if layout is None:
            return "none"
        count = layout.across if self.direction == "across" else layout.up
        return f"{count} repeat{'' if count == 1 else 's'}, {self.wanted.size(self.cm(layout))}"
