"""Asked: how large a motif is wanted from which part of a picture, and whether what was asked makes sense."""

from __future__ import annotations

from typing import Literal

import numpy as np

from mosaickit.errors import OptionError, number_of, one_of, whole_number, within
from mosaickit.files.pictures.light import Floats
from mosaickit.gauge import Gauge
from mosaickit.motif import LARGEST_SIDE
from mosaickit.orientation import ROLES

LEAST_SIDE = 3
"""A motif from a picture has so many stitches and rows at least: with fewer rows nothing can be overlaid."""

AskedFirst = Literal["MC", "CC", "better"]
ASKED_FIRSTS: tuple[AskedFirst, ...] = (*ROLES, "better")

Threshold = Literal["otsu", "adaptive"] | float
Dither = Literal["error diffusion"]


def side_of(name: str, value: object) -> int:
    """Return how many stitches or rows were asked for, or raise `OptionError`; `name` is what the message calls it."""
    side = whole_number(name, value, least=LEAST_SIDE)
    if side > LARGEST_SIDE:
        raise OptionError(f"`{name}` must be at most {LARGEST_SIDE:,}; got {value!r}.")
    return side


def stitches_wide(stitches: object, width_cm: float | None, gauge: Gauge | None) -> int:
    """Give how many stitches wide the motif is."""
    if (stitches is None) == (width_cm is None):
        raise OptionError("Say how wide the motif is: give either `stitches`, or `width_cm` and a `gauge`.")
    if width_cm is None:
        return side_of("stitches", stitches)
    if gauge is None:
        raise OptionError("`width_cm` needs a `gauge`, which says how many stitches that is.")
    count = round(gauge.stitches_for(width_cm, "cm"))
    if not LEAST_SIDE <= count <= LARGEST_SIDE:
        raise OptionError(
            f"`width_cm` must make from {LEAST_SIDE} to {LARGEST_SIDE:,} stitches; {width_cm!r} makes {count:,}."
        )
    return count


def rows_high(window: Floats, columns: int, gauge: Gauge | None) -> int:
    """Give how many rows keep the proportion of the window."""
    left, top, right, bottom = window.tolist()
    rows: int = round(columns * (1.0 if gauge is None else gauge.aspect) * (bottom - top) / (right - left))
    if not LEAST_SIDE <= rows <= LARGEST_SIDE:
        raise OptionError(
            f"With {number_of(columns, 'stitch')} the picture is {number_of(rows, 'row')} high, which must be "
            f"from {LEAST_SIDE} to {LARGEST_SIDE:,}: give other `stitches`, another `crop`, or the `rows`."
        )
    return rows


def check_threshold(threshold: object, dither: object) -> None:
    """Raise `OptionError` unless a threshold is one, and none is given beside dots."""
    if isinstance(threshold, str):
        one_of("threshold", threshold, ("otsu", "adaptive"))
    else:
        within("threshold", threshold, 0, 1)
    if dither is not None and threshold != "otsu":
        raise OptionError(f"Error diffusion has no threshold: leave out `threshold`, or `dither`; got {threshold!r}.")


def window_of(crop: object, width: int, height: int) -> Floats:
    """Give the part to take: left, top, right, bottom in pixels."""
    size = np.array([width, height, width, height], dtype=np.float64)
    if crop is None:
        return size * [0, 0, 1, 1]
    try:
        asked = np.asarray(crop)
    except ValueError:  # ragged
        asked = np.zeros(0)
    if asked.shape != (4,) or asked.dtype.kind not in "iuf":
        raise OptionError(f"`crop` must be four numbers, (left, top, right, bottom); got {crop!r}.")
    in_pixels = asked.dtype.kind != "f"
    left, top, right, bottom = window = asked * (np.ones(4) if in_pixels else size)
    if not (0 <= left < right <= width and 0 <= top < bottom <= height):
        raise OptionError(
            f"`crop` must leave something of the picture's {width:,} × {height:,} pixels, left < right and top < "
            f"bottom, in whole pixels or all as shares from 0.0 to 1.0; got {crop!r}."
        )
    if in_pixels and (right - left) * (bottom - top) == 1 < width * height:
        raise OptionError(f"`crop` is one pixel, since whole numbers are pixels; for shares write 1.0; got {crop!r}.")
    return window
