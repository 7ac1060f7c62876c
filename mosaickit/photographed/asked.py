"""Asked: whether the arguments of `read_work` make sense."""

from __future__ import annotations

import numpy as np

from mosaickit.errors import OptionError, of_kind, one_of, shortly
from mosaickit.fabric import Chart
from mosaickit.gauge import Gauge
from mosaickit.orientation import FACES, checked_span
from mosaickit.photographed.straight import Reals

ORDER = "top left, top right, bottom right, bottom left, as the fabric is seen upright"

STRAIGHTEST = 0.02
"""Three corners lie on a line if the sine of the angle between is below this."""


def checked_corners(corners: object, width: int, height: int) -> Reals:
    """Return four corners, (4, 2) in pixels, or raise `OptionError`."""
    try:
        given = np.asarray(corners, dtype=np.float64)
    except (TypeError, ValueError):
        given = np.zeros(0)
    if given.shape != (4, 2) or not np.isfinite(given).all():
        raise OptionError(f"`corners` must be four points (x, y) in pixels: {ORDER}; got {shortly(corners)}.")
    outside = (given < 0).any(axis=1) | (given > (width, height)).any(axis=1)
    if outside.any():
        x, y = given[int(np.argmax(outside))].tolist()
        raise OptionError(
            f"`corners` must lie in the picture, which is {width:,} × {height:,} pixels, counted from its top left; "
            f"got ({x:g}, {y:g})."
        )
    sides = np.roll(given, -1, axis=0) - given
    after = np.roll(sides, -1, axis=0)
    lengths = np.hypot(*sides.T)
    turns = (sides[:, 0] * after[:, 1] - sides[:, 1] * after[:, 0]) / np.maximum(lengths * np.roll(lengths, -1), 1e-9)
    if (np.abs(turns) < STRAIGHTEST).any():
        raise OptionError(
            f"`corners` must be those of a figure with four sides; three of these lie on one line, or two on one spot: "
            f"{shortly(given.tolist())}."
        )
    if (turns < 0).all():
        raise OptionError(f"`corners` must go round clockwise: {ORDER}. These go round the other way.")
    if (turns < 0).any():
        raise OptionError(
            f"`corners` must be in order: {ORDER}. The lines between these cross, or one corner lies inside."
        )
    return given


def checked_parts(
    chart: Chart, face: object, rows: object, stitches: object, gauge: object
) -> tuple[tuple[int, int], tuple[int, int]]:
    """Return which rows, all that may be there, and which stitches are seen, or raise `OptionError`."""
    of_kind("chart", chart, Chart)
    one_of("face", face, FACES)
    of_kind("gauge", gauge, Gauge, or_none=True)
    if face == "back" and not chart.reversible:
        raise OptionError(
            "`face` must be 'front' for this chart: the back of plain fabric shows only stripes, whatever was worked. "
            "Photograph the right side."
        )
    count, across = chart.shape
    return (
        (1, count) if rows is None else checked_span("rows", rows, count),  # type: ignore[arg-type]  # it looks
        (1, across) if stitches is None else checked_span("stitches", stitches, across),  # type: ignore[arg-type]
    )
