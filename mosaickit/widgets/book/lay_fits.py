"""Fits: the counts of repeats that come near the size that was typed, as the panel Lay lists them.

Where nothing fits, it says what comes nearest, at which gauge that would be exact, and what to allow. Where the design
cannot be worked as it is, another way that was tried stands in for it, and is named.
"""

from __future__ import annotations

from math import ceil
from typing import Any, NamedTuple

from mosaickit.errors import MosaickitError, OptionError, UnworkableError, WidthError, number_of
from mosaickit.sizes import Design, Fit, WidthPlan, plan_widths
from mosaickit.widgets.book.entries import in_labels
from mosaickit.widgets.book.lay_typed import Asked, asked_for
from mosaickit.widgets.book.lay_ways import WayOut, swapped, ways_out
from mosaickit.widgets.book.ledger import squares_of_motif

MOST_IN_PICTURES = 400_000
"""The most squares in all pictures of a list together; fits after that have no picture."""

MOST_NEAREST = 4
"""The number of near misses shown where nothing fits."""

MOST_STRUCK_OUT = 12
"""The most fits shown that take too many skeins."""

MOST_ALLOWED = 30
"""A tolerance of more percent is not suggested: that is another size."""

MOST_BY_HOOK = 0.2
LEAST_BY_HOOK = 0.005
"""By so much at most, and at least, another hook is taken to change a gauge; our choice, no source."""


class FoundSizes(NamedTuple):
    """What was found: for the page, and the fits that can be taken, by their keys."""

    view: dict[str, Any]
    fits: dict[str, Fit]


def find(design: Design, typed: dict[str, str], most: int) -> FoundSizes:
    """Find what comes near the size that was typed.

    Parameters
    ----------
    design : Design
        What is laid; its own counts of repeats are left aside where the size decides them.
    typed : dict of str to str
        What stands in the boxes; see `Desk`.
    most : int
        The number of fits to list.
    """
    asked = asked_for(design, typed)
    view: dict[str, Any] = {
        "faults": asked.faults, "said": "", "notes": [], "fits": [], "more": 0, "nearest": [], "struck": [],
        "struckSaid": "", "allow": "", "ways": [],
    }  # fmt: skip
    if design.gauge is None or asked.width is None or asked.faults:
        return FoundSizes(view, {})
    try:
        laid, plan, error = _first_that_can_be_worked(design, asked, view)
    except MosaickitError as refused:
        view["said"] = in_labels(str(refused))
        return FoundSizes(view, {})
    if isinstance(plan, WidthPlan):
        fits = _listed(plan, design, asked, most, view)
    else:
        fits = _nothing_fits(error, laid, design, asked, view)
    if laid is design and (plan is None or plan.unworkable) and (way := swapped(laid)) and _does(way.design, asked):
        view["ways"] = [{"key": way.key, "word": way.word}]
        view["allow"] = ""
    return FoundSizes(view, fits)


def _first_that_can_be_worked(
    design: Design, asked: Asked, view: dict[str, Any]
) -> tuple[Design, WidthPlan | None, WidthError | None]:
    """Plan the design, or, if none of it can be worked, the first other way that can."""
    refused: UnworkableError | None = None
    ways: list[WayOut | None] = [None]
    for way in ways:
        laid = way.design if way else design
        try:
            plan, error = _planned(laid, asked), None
        except WidthError as nothing:
            plan, error = None, nothing
        except UnworkableError as cannot:
            if refused is None:
                refused = cannot
                ways += ways_out(design) or [swapped(design)]
            continue
        if way:
            view["notes"].append(
                f"As it is now, this cannot be worked in any size. The sizes listed come with one change, and so does "
                f"taking one: {way.word}."
            )
        return laid, plan, error
    why = refused.report.errors_in_words if refused else ""
    raise OptionError(f"This cannot be worked in any size, and no other choice was found that helps. {why}")


def _planned(design: Design, asked: Asked, tolerance: float | None = None) -> WidthPlan:
    return plan_widths(
        design,
        width=asked.width,
        length=asked.length,
        unit=asked.unit,
        tolerance=asked.tolerance if tolerance is None else tolerance,
        worked=asked.worked,
    )


def _does(design: Design, asked: Asked, tolerance: float | None = None) -> bool:
    try:
        _planned(design, asked, tolerance)
    except MosaickitError:
        return False
    return True


# ---- what fits ---------------------------------------------------------------------------------------------


def _listed(plan: WidthPlan, design: Design, asked: Asked, most: int, view: dict[str, Any]) -> dict[str, Fit]:
    """List the fits of a plan; those that take too many skeins apart."""
    over = {id(fit): _over(fit, asked) for fit in plan.fits} if asked.limits else {}
    within = [fit for fit in plan.fits if not over.get(id(fit))]
    struck = [fit for fit in plan.fits if over.get(id(fit))]
    shown, left = within[:most], MOST_IN_PICTURES
    for fit in shown:
        squares = fit.rows * fit.stitches
        view["fits"].append(_fit(fit, design, picture=squares <= left))
        left -= squares
    verb = "fits" if len(within) == 1 else "fit"
    view["said"] = f"{number_of(len(within), 'size')} {verb}{', closest first' * (len(within) > 1)}."
    if not within:
        view["said"] = "No size fits with these skeins."
    view["more"] = len(within) - len(shown)
    if plan.unworkable:
        cannot = number_of(len(plan.unworkable), "count")
        view["notes"].append(f"{cannot} of repeats near this size cannot be worked as laid, so left out.")
    if asked.worked == "along":
        view["notes"].append("Rows run along the length: the rows of the pattern are as long as the piece.")
    if struck:
        more, verb = " more" * bool(within), "takes" if len(struck) == 1 else "take"
        view["struckSaid"] = f"{len(struck):,}{more} {'size' if len(struck) == 1 else 'sizes'} {verb} too many skeins."
        view["struck"] = [
            {"key": _key(fit), "counts": _counts(fit), "size": str(fit.size), "why": over[id(fit)]}
            for fit in struck[:MOST_STRUCK_OUT]
        ]
        if len(struck) > MOST_STRUCK_OUT:
            view["struckSaid"] += f" The {MOST_STRUCK_OUT} closest are shown."
    return {_key(fit): fit for fit in shown}


def _over(fit: Fit, asked: Asked) -> str:
    """Say of which yarns a fit takes more skeins than there may be; empty if of none."""
    skeins: dict[str, int] = {}
    for total in fit.by_yarn:
        skeins[total.yarn.name] = skeins.get(total.yarn.name, 0) + (total.skeins or 0)
    return "; ".join(
        f"{number_of(skeins[name], 'skein')} of {name}, {most} at most"
        for name, most in asked.limits.items()
        if skeins.get(name, 0) > most
    )


def _key(fit: Fit) -> str:
    return f"{fit.across} × {fit.up}"


def _counts(fit: Fit) -> str:
    return f"{_key(fit)} repeats"


def _fit(fit: Fit, design: Design, *, picture: bool) -> dict[str, Any]:
    about = f"{_counts(fit)}, {fit.size}"
    squares = None
    if picture:
        squares = squares_of_motif(fit.design.picture, fit.design, word=_counts(fit), about=about)
    return {
        "key": _key(fit),
        "counts": _counts(fit),
        "stitches": f"{number_of(fit.stitches, 'stitch')} × {number_of(fit.rows, 'row')}",
        "size": str(fit.size),
        "off": _off(fit),
        "yarns": [
            {
                "name": total.yarn.name,
                "colour": total.yarn.colour,
                "said": f"{total.likely_m:.0f} m"
                + (f" · {number_of(total.skeins, 'skein')}" if total.skeins is not None else ""),
            }
            for total in fit.by_yarn
        ],
        "taken": fit.design == design,
        "picture": squares,
        "gauge": "",
    }


def _off(fit: Fit) -> str:
    """Say by how much a fit is off: "2.3% wider, 0.4% shorter"."""
    parts = []
    for off, more, less in ((fit.deviation, "wider", "narrower"), (fit.length_deviation, "longer", "shorter")):
        if off is not None and abs(off) >= 0.0005:
            parts.append(f"{abs(off):.1%} {more if off > 0 else less}")
    return ", ".join(parts) or "exactly that size"


# ---- nothing fits ------------------------------------------------------------------------------------------


def _nothing_fits(
    error: WidthError | None, laid: Design, design: Design, asked: Asked, view: dict[str, Any]
) -> dict[str, Fit]:
    """Say what comes nearest, at which gauge it would be exact, and the tolerance that takes the nearest in."""
    nearest = error.nearest[:MOST_NEAREST] if error else ()
    if not nearest:
        view["said"] = "More sizes fit than a list can hold: let it differ by less."
        if error and error.tolerance is not None and _does(laid, asked, error.tolerance):
            view["allow"] = f"{100 * error.tolerance:g}"
        return {}
    direction = nearest[0].wanted.directions[0]
    too_small = all(getattr(fit, direction) == 1 and fit.deviation > 0 for fit in nearest)
    why = ": one repeat is wider than that" if too_small else ""
    come = "This comes" if len(nearest) == 1 else "These come"
    view["said"] = f"Nothing fits within {100 * asked.tolerance:g}%{why}. {come} nearest:"
    left = MOST_IN_PICTURES
    for fit in nearest:
        squares = fit.rows * fit.stitches
        view["nearest"].append(_fit(fit, design, picture=squares <= left) | {"gauge": gauge_said(fit)})
        left -= squares
    percent = min(ceil(1000 * max(abs(fit.deviation), abs(fit.length_deviation or 0))) / 10 for fit in nearest)
    if percent <= MOST_ALLOWED and _does(laid, asked, percent / 100):
        view["allow"] = f"{percent:g}"
    return {_key(fit): fit for fit in nearest}


def gauge_said(fit: Fit) -> str:
    """Say which gauge would make a fit exactly the size asked for, and whether another hook may give it."""
    try:
        exact = fit.exact_gauge
    except OptionError:
        return "No gauge makes it that size."
    now = fit.wanted.gauge
    told = [exact.stitches / now.stitches - 1, exact.rows / now.rows - 1]
    if fit.length_deviation is None:  # then only one side is asked for, and the other follows the hook
        told = [max(told, key=abs)]
    said = f"Exact at {exact.sentence.removeprefix('Gauge: ')}."
    if max(map(abs, told)) > MOST_BY_HOOK:
        return f"{said} That is further than another hook takes it."
    if all(change > LEAST_BY_HOOK for change in told):
        return f"{said} Try a smaller hook, and swatch to be sure."
    if all(change < -LEAST_BY_HOOK for change in told):
        return f"{said} Try a larger hook, and swatch to be sure."
    return f"{said} A hook changes stitches and rows together, so it does not do this by itself."
