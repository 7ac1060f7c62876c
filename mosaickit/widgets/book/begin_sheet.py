"""A new sheet: what was entered for its size and its gauge becomes plain rows that can be worked."""

from __future__ import annotations

from typing import Any

import numpy as np

from mosaickit.errors import OptionError, number_of, one_of, whole_number
from mosaickit.gauge import UNITS, Gauge, Unit
from mosaickit.motif import Motif, checked_size
from mosaickit.sizes import Design

USUAL_SHEET = (31, 24)
"""Rows and stitches of a sheet whose size is not said."""

SWATCH: dict[Unit, float] = {"cm": 10.0, "in": 4.0}
"""Over what length a gauge is counted, by its unit."""


def empty_sheet(rows: int = USUAL_SHEET[0], stitches: int = USUAL_SHEET[1]) -> Motif:
    """Make a sheet on which nothing is drawn yet: plain rows, each in its own colour, which can be worked.

    Examples
    --------
    >>> empty_sheet(3, 2).to_text().split()
    ['..', '##', '..']
    """
    columns = np.zeros((rows, stitches), dtype=np.bool_)
    return Motif(columns).with_grid(Motif(columns).row_is_cc | columns)


def gauge_in(values: dict[str, Any]) -> Gauge | None:
    """Read the gauge that was entered; None if both counts were left empty.

    Raises
    ------
    OptionError
        If only one of them was entered, or they are no gauge.
    """
    entered = values.get("gauge") or {}
    stitches, rows = entered.get("stitches"), entered.get("rows")
    if stitches is None and rows is None:
        return None
    if stitches is None or rows is None:
        missing = "stitches" if stitches is None else "rows"
        raise OptionError(f"Gauge: enter the {missing} too, or leave both empty.")
    unit = entered.get("unit", "cm")
    one_of("unit", unit, UNITS)
    return Gauge(stitches, rows, SWATCH[unit], unit)


def sheet_in(values: dict[str, Any]) -> Design:
    """Make the sheet that was asked for.

    Parameters
    ----------
    values : dict
        `measure` says what `across` and `up` count: "squares", "cm" or "in"; lengths need a `gauge`.

    Raises
    ------
    MosaickitError
        If that is no size of a sheet.
    """
    measure = values.get("measure", "squares")
    one_of("measure", measure, ("squares", *UNITS))
    gauge, across, up = gauge_in(values), values.get("across"), values.get("up")
    if across is None or up is None:
        raise OptionError("Enter how wide and how high the sheet is.")
    if measure == "squares":
        stitches, rows = whole_number("Stitches", across, least=1), whole_number("Rows", up, least=1)
    elif gauge is None:
        raise OptionError("Enter the gauge too: it says how many stitches and rows that makes.")
    else:
        stitches, rows = round(gauge.stitches_for(across, measure)), round(gauge.rows_for(up, measure))
        if min(stitches, rows) < 1:
            raise OptionError("That is less than half a stitch or half a row: enter a larger size.")
    checked_size(rows, stitches)
    return Design(empty_sheet(rows, stitches), gauge)


def said_of_size(design: Design) -> str:
    """Say how large a sheet is, before it is begun."""
    rows, stitches = design.motif.shape
    said = f"{number_of(stitches, 'stitch')}, {number_of(rows, 'row')}."
    return said if design.gauge is None else f"{said} Piece with its edge stitches: {design.size}."
