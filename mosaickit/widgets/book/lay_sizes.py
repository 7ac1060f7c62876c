"""What each named size of a design comes to, for the panel Lay: measures, repeats, rows and stitches, and yarn."""

from __future__ import annotations

from mosaickit.errors import MosaickitError, number_of
from mosaickit.sizes import Design


def sizes_told(design: Design) -> list[dict[str, str]]:
    """Say of each size of a design what it comes to, the smallest first; nothing if it has none.

    A measure needs a gauge, and so does an amount of yarn, which a piece that cannot be worked has not.
    """
    found = []
    for size in design.sizes:
        one = design.in_sizes[size.name]
        rows, stitches = one.shape
        row = "round" if one.surround.in_the_round else "row"
        wanted = " × ".join(filter(None, (size.width, size.length)))
        measure = "" if one.gauge is None else str(one.size)
        found.append(
            {
                "name": size.name,
                "measure": f"{measure}, wanted {wanted}" if wanted else measure,
                "laid": f"{one.across} × {one.up} repeats, {number_of(rows, row)} × {number_of(stitches, 'stitch')}",
                "yarn": _yarn(one),
            }
        )
    return found


def _yarn(design: Design) -> str:
    if design.gauge is None:
        return ""
    try:
        totals = design.usage.by_yarn
    except MosaickitError:
        return ""
    return ", ".join(f"{total.yarn.name} {total.likely_m:.0f} m" for total in totals)
