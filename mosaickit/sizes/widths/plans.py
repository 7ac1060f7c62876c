"""Plans: every count of repeats that comes near a wanted width, and length, the nearest first."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import isqrt
from typing import Any

from mosaickit.errors import (
    OptionError,
    UnworkableError,
    WidthError,
    number_of,
    of_kind,
    one_of,
    positive,
    shortly,
    within,
)
from mosaickit.gauge import Gauge, Unit
from mosaickit.motif import Motif
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.layouts.multiples import Multiple
from mosaickit.sizes.layouts.surround import Surround, check_any_count
from mosaickit.sizes.layouts.usage import check_skeins
from mosaickit.sizes.widths.counts import laid, why_not
from mosaickit.sizes.widths.fits import Fit
from mosaickit.sizes.widths.sides import Side
from mosaickit.sizes.widths.wanted import WORKED, Direction, Wanted, Worked, asked_cm
from mosaickit.yarn import YarnRates, YarnSettings, accuracy, carry_or_cut_width_cm

USUAL_TOLERANCE = 0.05
"""The share by which a size may differ if nothing is said: our choice, no source."""

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
    unworkable : tuple of Design
        For each count of repeats up that is within the tolerance but cannot be worked, one design; the
        `findings_at_joins` of its layout say why. In a half-drop, where repeats across count too, one for each pair.
    """

    wanted: Wanted
    fits: tuple[Fit, ...]
    unworkable: tuple[Design, ...]

    @property
    def nearest(self) -> Fit:
        """The fit that comes nearest."""
        return self.fits[0]

    @property
    def design(self) -> Design:
        """The design of the fit that comes nearest."""
        return self.nearest.design

    @property
    def multiple(self) -> Multiple:
        """What the counts of all fits are multiples of."""
        return self.design.multiple

    @property
    def carry_or_cut_width_cm(self) -> float:
        """The length of a row, in cm, below which carrying takes less yarn than cutting, worked flat."""
        return carry_or_cut_width_cm(self.design.yarn_settings)

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
        lines += [f"  left out, {_counts(design)}: {why_not(design)}" for design in self.unworkable[:most]]
        if len(self.unworkable) > most:
            lines.append(f"  … and {len(self.unworkable) - most} more left out")
        if not self.design.surround.in_the_round:
            limit = wanted.size(self.carry_or_cut_width_cm)
            lines.append(f"In rows shorter than {limit}, carrying takes less yarn than cutting; in longer ones, more.")
        return "\n".join([*lines, accuracy(self.nearest.usage.rates.in_stitches)])

    def __repr__(self) -> str:
        return f"<WidthPlan {len(self.fits)} fits, the nearest {self.nearest}>"


def plan_widths(
    motif: Motif | Design,
    gauge: Gauge | None = None,
    width: float | None = None,
    *,
    length: float | None = None,
    unit: Unit = "cm",
    tolerance: float | None = 0.05,
    worked: Worked = "across",
    surround: Surround | None = None,
    reversible: bool | None = None,
    yarn_settings: YarnSettings | None = None,
    stitches_a_minute: float = 20.0,
) -> WidthPlan:
    """Find the counts of repeats that come near a wanted width, and length, of a piece.

    Parameters
    ----------
    motif : Motif or Design
        One repeat, (R, C); or a design, which says the rest itself: gauge, surround, yarn settings, reversible and how
        repeats are laid. What is given beside a design changes it first, as `Design.but` does, and each fit's design
        keeps everything else of it.
    gauge : Gauge
        The size of a stitch; left out where a design says it.
    width : float
        The wanted width of the finished piece, in `unit`; in the round, with rows across, the way around.
    length : float, optional
        Its wanted length, in `unit`. Without one, the repeats along the length are those of the design, or, of a motif,
        as few as can be worked.
    unit : "cm" or "in"
        The unit of both.
    tolerance : float or None
        The share by which a size may differ from what is wanted, 0 to 1; our choice, no source. None: 0.05, and if
        nothing comes so near, whatever comes nearest.
    worked : "across" or "along"
        Whether rows run across the width, so that repeats across make it, or along the length, so that repeats up do.
    surround : Surround, optional
        What stands around the repeats; if nothing is said, an edge stitch at both ends of a row, none in the round.
    reversible : bool, optional
        Whether the back is closed.
    yarn_settings : YarnSettings, optional
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
        the tolerance that would take the nearest in; the error holds them as `nearest` and `tolerance`.
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
    >>> scarf = Design(leaf, Gauge(16, 18)).but(rings=1, colours="swap", title="Leaf scarf")
    >>> plan_widths(scarf, width=22, length=160, tolerance=0.1).design
    <Design Leaf scarf: 8 × 57 repeats, 287 rows × 36 stitches, 22.5 × 159.4 cm (8.9 × 62.8 in)>
    """
    one_of("worked", worked, WORKED)
    given = {"gauge": gauge, "surround": surround, "reversible": reversible, "yarn_settings": yarn_settings}
    one = _asked(motif, {name: value for name, value in given.items() if value is not None})
    check_any_count(one.surround)
    wanted = Wanted(
        width_cm=asked_cm("width", width, unit),
        length_cm=None if length is None else asked_cm("length", length, unit),
        worked=worked,
        unit=unit,
        tolerance=USUAL_TOLERANCE if tolerance is None else within("tolerance", tolerance, 0, 1),
        gauge=one.known_gauge,
        stitches_a_minute=positive("stitches_a_minute", stitches_a_minute),
    )
    check_skeins(one.layout.yarns_of_motifs, YarnRates(one.known_gauge, one.yarn_settings))
    try:
        return _plan(one, wanted, as_few_up=isinstance(motif, Motif))
    except WidthError as error:
        if tolerance is not None or not error.nearest:
            raise
        off = max(max(abs(fit.deviation), abs(fit.length_deviation or 0.0)) for fit in error.nearest)
        return WidthPlan(replace(wanted, tolerance=off), error.nearest, ())


def _asked(motif: Motif | Design, given: dict[str, Any]) -> Design:
    """Give the design that is asked about, a motif with what is said beside it or a design that this changes."""
    if isinstance(motif, Design):
        return motif.but(**given)
    if not isinstance(motif, Motif):
        raise OptionError(f"`motif` must be a `Motif` or a `Design`; got {shortly(motif)}.")
    of_kind("gauge", given.get("gauge"), Gauge)
    return Design(motif, **given)


def _plan(one: Design, wanted: Wanted, *, as_few_up: bool) -> WidthPlan:
    """Try all counts of repeats for the sides that were asked for; `as_few_up` if no count upward was decided."""
    sides = _sides(one, wanted)
    drops = one.laying == "half-drop"  # a drop moves the joins, so there repeats across decide too what can be worked
    if "across" in sides:
        near = sides["across"].near() if drops else []
        one = near[0] if near else sides["across"].laid(1)
    if "up" in sides or as_few_up:
        one = _fewest_up(one)
    elif not one.layout.workable:
        raise UnworkableError(f"With {_counts(one)} this cannot be worked. {why_not(one)}", one.layout.report)
    sides = _sides(one, wanted)
    near_up = sides["up"].near() if "up" in sides else [one]
    can: dict[Direction, list[Design]] = {
        "across": sides["across"].near() if "across" in sides else [one],
        "up": [design for design in near_up if design.layout.workable],
    }
    for direction, side in sides.items():
        if not can[direction]:
            error = side.nothing_near()
            raise WidthError(str(error), error.tolerance, _nearest(one, sides, can, wanted))
    across, up = [design.across for design in can["across"]], [design.up for design in can["up"]]
    if len(across) * len(up) > MOST_FITS:
        narrower = min(side.tolerance_for(isqrt(MOST_FITS)) for side in sides.values())
        raise WidthError(
            f"{len(across)} × {len(up)} counts of repeats come within {100 * wanted.tolerance:.3g} percent, more than "
            f"the {MOST_FITS:,} of a plan: take a tolerance of {narrower:g}.",
            narrower,
        )
    one.but(across=max(across), up=max(up))  # which is no larger than a picture may be, or says so
    pairs = [one.but(across=i, up=j) for i in across for j in up]
    if one.bands is not None:
        pairs = _of_bands(can["across"], sides.get("up"))
    unworkable = [design for design in near_up if not design.layout.workable]
    if drops or one.bands is not None:
        unworkable += [design for design in pairs if not design.layout.workable]
        pairs = [design for design in pairs if design.layout.workable]
    fits = sorted((Fit(design, wanted) for design in pairs), key=lambda fit: fit.far)
    return WidthPlan(wanted, tuple(fits), tuple(unworkable))


def _of_bands(wide: list[Design], upward: Side | None) -> list[Design]:
    """Lay each of some designs up as often as comes near, since the rows put in between bands may differ with width."""
    if upward is None:
        return wide
    return [design for one in wide for design in replace(upward, one=one).near()]


def _sides(one: Design, wanted: Wanted) -> dict[Direction, Side]:
    """Give the sides that were asked for, by the direction in which repeats make them."""
    asked = zip(("width", "length"), (wanted.width_cm, wanted.length_cm), wanted.directions, strict=True)
    return {direction: Side(name, cm, direction, one, wanted) for name, cm, direction in asked if cm is not None}


def _nearest(
    one: Design, sides: dict[Direction, Side], can: dict[Direction, list[Design]], wanted: Wanted
) -> list[Fit]:
    """Give what comes nearest where nothing is within the tolerance: on each side that was asked for, the two nearest.

    Of a side that nothing is within the tolerance of, these are the one below and the one above.
    """
    counts: dict[Direction, list[int]] = {"across": [one.across], "up": [one.up]}
    for direction, side in sides.items():
        near = can[direction] or [design for design in side.beside if design is not None]
        nearest = sorted(near, key=lambda design, side=side: abs(side.deviation(design)))[:2]  # type: ignore[misc]
        counts[direction] = [design.across if direction == "across" else design.up for design in nearest]
    pairs = [laid(one, across=across, up=up) for across in counts["across"] for up in counts["up"]]
    fits = [Fit(design, wanted) for design in pairs if design is not None and design.layout.workable]
    return sorted(fits, key=lambda fit: fit.far)


def _fewest_up(one: Design) -> Design:
    """Repeat upward as few times as can be worked."""
    for up in range(1, 4):  # what cannot be worked with any of these cannot be with more
        design = laid(one, up=up)
        if design is not None and design.layout.workable:
            return design
    one = one.but(up=1)
    raise UnworkableError(
        f"No number of repeats of this can be worked; `mk.nearest_workable` mends a motif. {why_not(one)}",
        one.layout.report,
    )


def _counts(design: Design) -> str:
    """Write the repeats that decide whether a design can be worked."""
    if design.laying == "half-drop":
        return f"{design.across} × {design.up} repeats"
    return f"{number_of(design.up, 'repeat')} up"
