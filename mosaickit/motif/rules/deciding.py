"""The three rules that decide: a picture that breaks none of them can be worked, and nothing else is impossible."""

from __future__ import annotations

import numpy as np

from mosaickit import orientation
from mosaickit.motif.motif import Motif
from mosaickit.motif.rules.findings import Mask, Rule, Setting, in_row, nowhere, row_colour


def _overlaid_first_row(motif: Motif, setting: Setting) -> Mask:
    return nowhere(motif) if setting.repeats_up else in_row(motif, 1, motif.overlaid)


def _overlaid_last_row(motif: Motif, setting: Setting) -> Mask:
    return nowhere(motif) if setting.repeats_up else in_row(motif, motif.shape[0], motif.overlaid)


def _two_overlaid(motif: Motif, setting: Setting) -> Mask:
    """Mark the lower of any two overlaid squares that lie one above the other."""
    working = orientation.to_working(motif.overlaid)
    lower = np.zeros_like(working)
    np.logical_and(working[:-1], working[1:], out=lower[:-1])
    if setting.repeats_up:
        lower[-1] = working[-1] & working[0]
    return orientation.to_seen(lower)


def _say_first_row(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    return (
        f"Row 1, stitch {stitch} does not show its row's colour, and row 2 has nothing two rows below it to reach "
        f"into. Make the square {row_colour(motif, 1)}, or add a row below the picture."
    )


def _say_last_row(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    return (
        f"Row {row}, stitch {stitch} does not show its row's colour, and there is no row above to cover it. Make the "
        f"square {row_colour(motif, row)}, or add a row above the picture."
    )


def _say_two_overlaid(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    rows = motif.shape[0]
    above = row % rows + 1
    of_repeat = " of the next repeat" if above == 1 else ""
    return (
        f"Rows {row} and {above}{of_repeat}, stitch {stitch}: both squares show the other colour, but the FLdc over "
        f"the lower hides the loop that the FLdc over the upper needs. Make row {row} {row_colour(motif, row)} "
        f"or row {above} {row_colour(motif, above)} there."
    )


FIRST_ROW = Rule(
    "overlaid in row 1",
    "error",
    "No square of row 1 can be overlaid: the row above it finds nothing two rows below to reach into.",
    _overlaid_first_row,
    _say_first_row,
    counted=("overlaid square in row 1", "overlaid squares in row 1"),
)
LAST_ROW = Rule(
    "overlaid in the last row",
    "error",
    "No square of the last row can be overlaid: there is no row above it.",
    _overlaid_last_row,
    _say_last_row,
    counted=("overlaid square in the last row", "overlaid squares in the last row"),
)
TWO_OVERLAID = Rule(
    "two overlaid in a column",
    "error",
    "No two overlaid squares can lie one above the other.",
    _two_overlaid,
    _say_two_overlaid,
    rows=2,
    counted=("pair overlaid in a column", "pairs overlaid in a column"),
)

WORKABLE: tuple[Rule, ...] = (FIRST_ROW, LAST_ROW, TWO_OVERLAID)
"""The rules that decide whether a picture can be worked."""
