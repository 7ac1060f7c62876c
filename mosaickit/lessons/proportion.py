"""Lesson 7: gauge and proportion.

The scenario: somebody who bakes bread crochets a cloth for the basket, with a round loaf on it. Sizes follow from the
gauge; what is painted is measured in centimetres.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import MosaickitError
from mosaickit.gauge import Gauge
from mosaickit.lessons.answers import function, motif, two_counts
from mosaickit.lessons.exercises import AnswerPart, Exercise
from mosaickit.lessons.parts import can_be_worked
from mosaickit.motif import Motif
from mosaickit.orientation import to_working

CLOTH_GAUGE = Gauge(17, 21)
_WIDTH_CM, _HEIGHT_CM = 30.0, 24.0

_TRIED = (
    (Gauge(16, 20), 12.0),
    (Gauge(16, 18, over=4, unit="in"), 30.0),
    (Gauge(22, 24, over=(12.5, 10)), 20.0),
    (Gauge(13.5, 17, blocked=False), 7.5),
)
"""Gauges and sides in cm that a function for a square is tried on."""

LOAF_GAUGE = Gauge(14, 19)
_LEAST_LOAF_CM = 8.0
_MOST_SQUARES = 100
_PROPORTION = 0.1
_OUT_OF_ROUND = 0.12
"""The share of its squares by which a loaf may differ from a circle of its area: squares have corners."""


# ---- counts for a size -------------------------------------------------------------------------------------


def _stitches_and_rows(answer: object) -> tuple[int, int]:
    return two_counts(answer, "the stitches of a row and the rows")


def _as_near_as_can_be(count: int, each_cm: float, wanted_cm: float, what: str, way: str) -> str | None:
    if abs(count * each_cm - wanted_cm) <= each_cm / 2 + 1e-9:
        return None
    return f"{count} {what} measure {count * each_cm:.1f} cm {way}; a count comes nearer to {wanted_cm:g} cm."


def _near_the_width(counts: tuple[int, int]) -> str | None:
    return _as_near_as_can_be(counts[0], CLOTH_GAUGE.stitch_width_cm, _WIDTH_CM, "stitches", "across")


def _near_the_height(counts: tuple[int, int]) -> str | None:
    return _as_near_as_can_be(counts[1], CLOTH_GAUGE.row_height_cm, _HEIGHT_CM, "rows", "upward")


# ---- a function for a square -------------------------------------------------------------------------------


def _called(make: Callable[..., Any], gauge: Gauge, side_cm: float) -> tuple[tuple[int, int] | None, str]:
    """Call what a learner wrote; give its two counts, or else what is wrong with them, in a sentence."""
    given = f"Given {gauge.stitches:g} sts by {gauge.rows:g} rows to {_over(gauge)} and a side of {side_cm:g} cm, it"
    try:
        made = make(gauge, side_cm)
    except Exception as error:  # whatever it is, the learner hears of it
        return None, f"{given} raised {type(error).__name__}."
    if isinstance(made, np.ndarray):
        made = made.ravel().tolist()
    if isinstance(made, list | tuple):
        with suppress(MosaickitError):
            return two_counts(made, "rows and stitches"), ""
    return None, f"{given} gave a `{type(made).__name__}`, not two whole numbers of 1 or more, rows and stitches."


def _gives_two_counts(make: Callable[..., Any]) -> str | None:
    for gauge, side_cm in _TRIED:
        counts, said = _called(make, gauge, side_cm)
        if counts is None:
            return said
    return None


def _measures(which: int, what: str, way: str) -> Callable[[Callable[..., Any]], str | None]:
    """Look whether the first (rows) or second (stitches) count comes near the side at every gauge."""

    def look(make: Callable[..., Any]) -> str | None:
        for gauge, side_cm in _TRIED:
            counts, said = _called(make, gauge, side_cm)
            if counts is None:
                return said
            each_cm = (gauge.row_height_cm, gauge.stitch_width_cm)[which]
            trouble = _as_near_as_can_be(counts[which], each_cm, side_cm, what, way)
            if trouble:
                return f"At {gauge.stitches:g} sts by {gauge.rows:g} rows to {_over(gauge)}, the {trouble}"
        return None

    return look


def _over(gauge: Gauge) -> str:
    over = gauge.over if isinstance(gauge.over, tuple) else (gauge.over,)
    return " × ".join(f"{length:g}" for length in over) + f" {gauge.unit}"


# ---- a round loaf ------------------------------------------------------------------------------------------


def _loaf_cm(made: Motif) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Give the middles of all squares in cm, (R, C, 2) in working order, and those of the dark ones, (K, 2)."""
    squares = np.moveaxis(np.indices(made.shape), 0, -1) + 0.5
    middles = squares * [LOAF_GAUGE.row_height_cm, LOAF_GAUGE.stitch_width_cm]
    return middles, middles[to_working(made.grid)]


def _sides_cm(made: Motif) -> tuple[float, float]:
    """Measure the dark squares across and upward."""
    _, dark = _loaf_cm(made)
    if not len(dark):
        return 0.0, 0.0
    up, across = np.ptp(dark, axis=0).tolist()
    return across + LOAF_GAUGE.stitch_width_cm, up + LOAF_GAUGE.row_height_cm


def _large_enough(made: Motif) -> str | None:
    if max(made.shape) > _MOST_SQUARES:
        return f"It should have at most {_MOST_SQUARES} rows and stitches; it has {made.shape[0]} and {made.shape[1]}."
    across, up = _sides_cm(made)
    if min(across, up) >= _LEAST_LOAF_CM:
        return None
    return f"Its CC squares measure {across:.1f} cm across and {up:.1f} cm upward: {_LEAST_LOAF_CM:g} cm are wanted."


def _as_wide_as_high(made: Motif) -> str | None:
    across, up = _sides_cm(made)
    if abs(across / up - 1) <= _PROPORTION:
        return None
    flat = "flat" if across > up else "tall"
    return f"The loaf is too {flat}: {across:.1f} cm across and {up:.1f} cm upward."


def _round(made: Motif) -> str | None:
    middles, dark = _loaf_cm(made)
    area = len(dark) * LOAF_GAUGE.row_height_cm * LOAF_GAUGE.stitch_width_cm
    beyond = np.linalg.norm(middles - dark.mean(axis=0), axis=-1) - np.sqrt(area / np.pi)
    wrong = to_working(made.grid) ^ (beyond <= 0)
    if wrong.sum() <= _OUT_OF_ROUND * len(dark):
        return None
    row, stitch = np.unravel_index(int(np.argmax(np.abs(beyond) * wrong)), made.shape)
    what = "bulges" if beyond[row, stitch] > 0 else "is hollow"
    return f"{wrong.sum()} squares are out of round; it {what} most at row {int(row) + 1}, stitch {int(stitch) + 1}."


EXERCISES = (
    Exercise(
        "stitches and rows of a cloth",
        _stitches_and_rows,
        (
            AnswerPart("The stitches make the width, as near as whole stitches can.", _near_the_width),
            AnswerPart("The rows make the height, as near as whole rows can.", _near_the_height),
        ),
        CLOTH_GAUGE,
    ),
    Exercise(
        "a square in stitches and rows",
        function,
        (
            AnswerPart("It gives two whole numbers, whatever the gauge.", _gives_two_counts, needed=True),
            AnswerPart("The rows make the height of the square.", _measures(0, "rows", "upward")),
            AnswerPart("The stitches make its width.", _measures(1, "stitches", "across")),
        ),
        because="Where a square is wider than high, a square piece has more rows than stitches.",
    ),
    Exercise(
        "a round loaf",
        motif,
        (
            AnswerPart("It has a size for a basket.", _large_enough, needed=True),
            AnswerPart("It is as wide as high, once it is worked.", _as_wide_as_high),
            AnswerPart("It is round, once it is worked.", _round),
            can_be_worked(),
        ),
        LOAF_GAUGE,
        "On squared paper it is taller than wide; the gauge makes it round.",
    ),
)
