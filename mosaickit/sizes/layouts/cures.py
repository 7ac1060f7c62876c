"""Cures: what is said of a layout that cannot be worked, with what was tried and makes it workable."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, product
from typing import TYPE_CHECKING, Any

from mosaickit.cures import Cure, cures_in_words, simplest
from mosaickit.errors import MosaickitError, UnworkableError, number_of
from mosaickit.motif import COLOURS, nearest_workable

if TYPE_CHECKING:
    from mosaickit.sizes.layouts.layout import Layout

MOST_CLOSING_ROWS = 4
"""Where a layout cannot be worked, up to fewer than so many rows are tried to close it."""


def unworkable(layout: Layout) -> UnworkableError:
    """Say why a layout cannot be worked and what cures it."""
    report, cures = layout.report, cures_of(layout, mend=True)
    rows, stitches = report.motif.shape
    where = "(All but the motif is of the surround.) " if any(cure.options for cure in cures) else ""
    return UnworkableError(
        f"This layout cannot be worked. {cures_in_words(cures)} {where}What is wrong, in the smallest one with the "
        f"same joins, {number_of(rows, 'row')} of {number_of(stitches, 'stitch')}: {report.errors_in_words}",
        report,
        cures,
    )


def cures_of(layout: Layout, *, mend: bool = False) -> tuple[Cure, ...]:
    """Find what else of its surround, and if need be and asked for mended squares, makes the layout workable."""
    (rows, _), surround = layout.motif.shape, layout.surround
    if surround.strip is not None:
        return ()  # another count of rows would not turn the corners
    others: dict[str, list[Any]] = {
        "colours": [colours for colours in COLOURS if colours != surround.colours],
        "balance_up": [n for n in range(min(rows, MOST_CLOSING_ROWS)) if n != surround.balance_up],
        "rings": [0] if surround.rings else [],
        "rows_below": [surround.rows_below + 1],
        "rows_above": [surround.rows_above + 1],
    }
    for mended in (False, True)[: 1 + mend]:
        motif = nearest_workable(layout.motif).motif if mended else layout.motif
        start = replace(layout, motif=motif)
        for n in range(len(others) + 1):
            changes = (
                dict(zip(names, values, strict=True))
                for names in combinations(others, n)
                for values in product(*(others[name] for name in names))
            )
            cures = [Cure(options, mend=mended) for options in changes if _works(start, options)]
            if cures:  # with more changes none is simpler
                return simplest(cures)
    return ()


def _works(layout: Layout, options: dict[str, Any]) -> bool:
    """Tell whether a layout can be worked with another surround."""
    try:
        return replace(layout, surround=replace(layout.surround, **options)).workable
    except MosaickitError:  # colours of bands that get out of step, where that is refused
        return False
