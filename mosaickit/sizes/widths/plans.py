"""Plans: every count of repeats that comes near a wanted width, and length, the nearest first."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import isqrt

from mosaickit.errors import UnworkableError, WidthError, one_of, positive, true_or_false, within
from mosaickit.gauge import Gauge, Unit
from mosaickit.motif import Motif, checked_size
from mosaickit.sizes.layouts.cures import why_not
from mosaickit.sizes.layouts.layout import Layout
from mosaickit.sizes.layouts.multiples import Multiple
from mosaickit.sizes.layouts.surround import USUAL_SURROUND, Surround
from mosaickit.sizes.layouts.usage import check_skeins
from mosaickit.sizes.widths.fits import Fit
from mosaickit.sizes.widths.sides import Side
from mosaickit.sizes.widths.wanted import WORKED, Wanted, Worked, asked_cm
from mosaickit.yarn import USUAL_YARN_SETTINGS, YarnRates, YarnSettings, accuracy, carry_or_cut_width_cm

MOST_FITS = 10_000
"""No plan has more fits than this: no one chooses among so many."""


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
        return carry_or_cut_width_cm(self.wanted.rates.yarn_settings)

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
        lines += [f"  left out, {layout.up} repeats up: {why_not(layout)}" for layout in self.unworkable[:most]]
        if len(self.unworkable) > most:
            lines.append(f"  … and {len(self.unworkable) - most} more left out")
        if not self.nearest.layout.surround.in_the_round:
            limit = wanted.size(self.carry_or_cut_width_cm)
            lines.append(f"In rows shorter than {limit}, carrying takes less yarn than cutting; in longer ones, more.")
        return "\n".join([*lines, accuracy(wanted.rates.in_stitches)])

    def __repr__(self) -> str:
        return f"<WidthPlan {len(self.fits)} fits, the nearest {self.nearest}>"


def plan_widths(
    motif: Motif,
    gauge: Gauge,
    width: float,
    *,
    length: float | None = None,
    unit: Unit = "cm",
    tolerance: float = 0.05,
    worked: Worked = "across",
    surround: Surround = USUAL_SURROUND,
    reversible: bool = False,
    yarn_settings: YarnSettings = USUAL_YARN_SETTINGS,
    stitches_a_minute: float = 20.0,
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
    surround : Surround
        What stands around the repeats; if nothing is said, an edge stitch at both ends of a row, none in the round.
    reversible : bool
        Whether the back is closed.
    yarn_settings : YarnSettings
        How yarn is calculated; its skeins name every yarn of the motif, if they name any.
    stitches_a_minute : float
        How fast the maker works, above 0: 20 is our choice, no source.

    Returns
    -------
    WidthPlan
        With ``.fits``, the nearest first.

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
        reversible=true_or_false("reversible", reversible),
        rates=YarnRates(gauge, yarn_settings),
        stitches_a_minute=positive("stitches_a_minute", stitches_a_minute),
    )
    one = _fewest_up(Layout(motif, surround=surround))
    checked_size(*one.shape)
    check_skeins(motif, wanted.rates)
    return _plan(one, wanted)


def _fewest_up(one: Layout) -> Layout:
    """Repeat upward as few times as can be worked."""
    for up in range(1, 4):  # what cannot be worked with any of these cannot be with more
        layout = replace(one, up=up)
        if layout.workable:
            return layout
    raise UnworkableError(
        f"No number of repeats of this can be worked; `mk.nearest_workable` mends a motif. {why_not(one)}", one.report
    )


def _plan(one: Layout, wanted: Wanted) -> WidthPlan:
    """Try all counts of repeats for the sides that were asked for."""
    sides = [Side("width", wanted.width_cm, wanted.directions[0], one, wanted)]
    if wanted.length_cm is not None:
        sides.append(Side("length", wanted.length_cm, wanted.directions[1], one, wanted))
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
            f"{len(across)} × {len(up)} counts of repeats come within {100 * wanted.tolerance:.3g} percent, more than "
            f"the {MOST_FITS:,} of a plan: take a tolerance of {narrower:g}.",
            narrower,
        )
    checked_size(*replace(one, across=max(across), up=max(up)).shape)
    fits = (Fit(replace(one, across=i, up=j), wanted) for i in across for j in up)
    return WidthPlan(wanted, tuple(sorted(fits, key=lambda fit: fit.far)), unworkable)
