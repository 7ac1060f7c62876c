"""Tables to choose from: the fits of a plan, and the variants of a family."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import pandas as pd

from mosaickit.errors import each_of_kind, of_kind
from mosaickit.ideas import Variant
from mosaickit.sizes import WidthPlan
from mosaickit.yarn import YarnTotal


def fits(plan: WidthPlan) -> pd.DataFrame:
    """Table what each fit of a plan measures and costs.

    Parameters
    ----------
    plan : WidthPlan
        What `plan_widths` found.

    Returns
    -------
    DataFrame, a line for each fit
        Index "fit": 1 for the nearest, and so on. Columns: repeats across, repeats up, stitches, foundation chain,
        rows; width cm, width in, length cm, length in; width off percent (below 0 if too small) and, if a length was
        asked for, length off percent; centred; FLdc percent; at least m, yarn m, at most m of all yarn; for each yarn
        "NAME: at least m", yarn m and at most m and, where skeins are known, skeins and leftover m (yarns of one name
        are summed, and a yarn that a fit does not use is 0); what the reversible fabric takes on top of the plain one
        in percent; the likely metres if yarn is carried and if it is cut; minutes.
    """
    of_kind("plan", plan, WidthPlan)
    known = plan.design.yarn_settings.skeins is not None
    measured = pd.DataFrame(
        {
            "repeats across": [fit.across for fit in plan.fits],
            "repeats up": [fit.up for fit in plan.fits],
            "stitches": [fit.stitches for fit in plan.fits],
            "foundation chain": [fit.foundation_chain for fit in plan.fits],
            "rows": [fit.rows for fit in plan.fits],
            "width cm": [fit.width_cm for fit in plan.fits],
            "width in": [fit.width_in for fit in plan.fits],
            "length cm": [fit.length_cm for fit in plan.fits],
            "length in": [fit.length_in for fit in plan.fits],
            "width off percent": [100 * fit.deviation for fit in plan.fits],
            "length off percent": [100 * (fit.length_deviation or 0.0) for fit in plan.fits],
            "centred": [fit.centred for fit in plan.fits],
            "FLdc percent": [100 * fit.fldc_share for fit in plan.fits],
            "at least m": [fit.usage.low_m for fit in plan.fits],
            "yarn m": [fit.usage.likely_m for fit in plan.fits],
            "at most m": [fit.usage.high_m for fit in plan.fits],
        }
    )
    if plan.wanted.length_cm is None:
        del measured["length off percent"]
    of_yarns = pd.DataFrame([_amounts(fit.by_yarn, known) for fit in plan.fits]).fillna(0)
    if known:
        whole = [name for name in of_yarns.columns if name.endswith(": skeins")]
        of_yarns = of_yarns.astype(dict.fromkeys(whole, np.int64))
    compared = pd.DataFrame(
        {
            "reversible surcharge percent": [100 * fit.surcharge for fit in plan.fits],
            "carried m": [fit.carried_and_cut_m[0] for fit in plan.fits],
            "cut m": [fit.carried_and_cut_m[1] for fit in plan.fits],
            "minutes": [fit.minutes for fit in plan.fits],
        }
    )
    table = pd.concat([measured, of_yarns, compared], axis=1)
    table.index = pd.RangeIndex(1, len(table) + 1, name="fit")
    return table


def _amounts(totals: tuple[YarnTotal, ...], known: bool) -> dict[str, float]:
    """Name the amounts of each yarn as columns; yarns of one name are summed."""
    amounts: dict[str, float] = {}
    for total in totals:
        named = {"at least m": total.low_m, "yarn m": total.likely_m, "at most m": total.high_m}
        if known:
            named |= {"skeins": total.skeins or 0, "leftover m": total.leftover_m or 0.0}
        for what, amount in named.items():
            column = f"{total.yarn.name}: {what}"
            amounts[column] = amounts.get(column, 0) + amount
    return amounts


def variants(variants: Iterable[Variant]) -> pd.DataFrame:
    """Table the figures of variants.

    Parameters
    ----------
    variants : variants in order
        A `mk.family`, or some of one.

    Returns
    -------
    DataFrame, a line for each variant
        Index "variant": 1 for the first, and so on. Columns: name, rows, stitches; mended, the squares that had to
        change; FLdc percent; what the reversible fabric takes on top of the plain one in percent; CC percent; the
        most FLdc side by side; on how many percent of squares the back differs from the front; how many percent are as
        in the original. `mk.rank` and `mk.pareto` take it.

    Examples
    --------
    >>> from mosaickit.ideas import family
    >>> from mosaickit.motif import Motif
    >>> dash = Motif.from_array(np.pad([[1, 1]], 1))
    >>> variants(family(dash, kinds=["frames"]))[["name", "rows", "stitches", "mended"]]
                             name  rows  stitches  mended
    variant
    1                    as it is     3         4       0
    2            framed in 1 ring     5         6       0
    3           framed in 2 rings     7         8       0
    4           framed in 3 rings     9        10       0
    """
    listed = each_of_kind("variants", variants, Variant)
    return pd.DataFrame(
        {
            "name": pd.Series([variant.name for variant in listed], dtype=object),
            "rows": [variant.motif.shape[0] for variant in listed],
            "stitches": [variant.motif.shape[1] for variant in listed],
            "mended": [variant.changed for variant in listed],
            "FLdc percent": [100 * variant.figures.fldc_share for variant in listed],
            "reversible surcharge percent": [100 * variant.figures.surcharge for variant in listed],
            "CC percent": [100 * variant.figures.cc_share for variant in listed],
            "FLdc side by side": [variant.figures.longest_bare for variant in listed],
            "back differs percent": [100 * variant.figures.back_contrast for variant in listed],
            "similar percent": [100 * variant.figures.similarity for variant in listed],
        }
    ).set_index(pd.RangeIndex(1, len(listed) + 1, name="variant"))
