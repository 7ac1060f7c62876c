"""A table of what differs between a photograph of the work and its chart."""

from __future__ import annotations

import pandas as pd

from mosaickit.errors import of_kind
from mosaickit.photographed import PhotographedWork


def wrong_squares(work: PhotographedWork) -> pd.DataFrame:
    """Table the squares that differ, a line for each. Experimental: never tried on wool.

    Parameters
    ----------
    work : PhotographedWork
        What `mk.read_work` read.

    Returns
    -------
    DataFrame
        Columns: row and stitch of the square; chart and photograph, its colour in each, "MC" or "CC"; stitch row, the
        row of the stitch that is probably wrong; should be and probably is, what that stitch is; and sureness, how
        likely the square really differs, from 0 to 1. From row 1 up and stitch 1 on.
    """
    of_kind("work", work, PhotographedWork)
    found = work.findings
    return pd.DataFrame(
        {
            "row": pd.Series([each.row for each in found], dtype="int64"),
            "stitch": pd.Series([each.stitch for each in found], dtype="int64"),
            "chart": pd.Series([each.chart_says for each in found], dtype="object"),
            "photograph": pd.Series([each.photograph_shows for each in found], dtype="object"),
            "stitch row": pd.Series([each.stitch_row for each in found], dtype="int64"),
            "should be": pd.Series([each.should_be.abbreviation for each in found], dtype="object"),
            "probably is": pd.Series([each.probably_is.abbreviation for each in found], dtype="object"),
            "sureness": pd.Series([each.sureness for each in found], dtype="float64"),
        }
    )
