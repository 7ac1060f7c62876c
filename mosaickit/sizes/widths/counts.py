"""Counts: a design with another count of repeats, if there may be such a picture, and why one cannot be worked."""

from __future__ import annotations

from typing import Any

from mosaickit.errors import MotifError
from mosaickit.sizes.designs.design import Design


def laid(design: Design, **counts: Any) -> Design | None:  # noqa: ANN401 — as `Design.but` takes them
    """Give a design with some counts of repeats, or None if it would be larger than a picture may be."""
    try:
        return design.but(**counts)
    except MotifError:
        return None


def why_not(design: Design) -> str:
    """Say why a design cannot be worked, and the cure if it lies in the colours of the repeats or the frame."""
    layout, cures = design.layout, []
    if design.surround.rings_around and layout.inner_rows % 2 == 0:
        cures.append(f"A ring closes only around an odd number of rows, and {layout.inner_rows} is even. ")
    if design.surround.colours != "swap":
        swapped = (laid(design, colours="swap", up=design.up + more) for more in (0, 1))
        if any(one is not None and one.layout.workable for one in swapped):
            cures.append('Try colours="swap" in the surround. ')
    return f"{''.join(cures)}What is wrong: {layout.what_is_wrong}"
