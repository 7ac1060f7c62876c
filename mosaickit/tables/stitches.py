"""Tables of stitches: how many of each kind are in every row, and in every yarn."""

from __future__ import annotations

import numpy as np
import pandas as pd

from mosaickit.fabric import Chart, Stitch, count_rows

TOTAL = "total"
"""The label of the last line of a table that has one."""

STITCH_COLUMNS = [kind.abbreviation for kind in Stitch]
"""A column for each kind of stitch."""


def count(chart: Chart) -> pd.DataFrame:
    """Table the stitches of each row.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches in working order.

    Returns
    -------
    DataFrame, (R + 1) lines
        Index "row": 1 to R, then "total". Columns: colour ("MC" or "CC"), yarn, a column for each kind of stitch
        (sc, BLsc, FLdc, tog-b, tog-f; 0 where there is none), and stitches, their sum. Colour and yarn of the
        last line are empty.

    Raises
    ------
    ChartError
        If a row does not use up exactly the stitches of the row below.

    Examples
    --------
    >>> chart = Chart.from_text('''
    ... |.
    ... ..
    ... ..
    ... ''')
    >>> count(chart)[["colour", "sc", "BLsc", "FLdc", "stitches"]]
          colour  sc  BLsc  FLdc  stitches
    row
    1         MC   2     0     0         2
    2         CC   0     2     0         2
    3         MC   0     1     1         2
    total          2     3     1         6
    """
    counts = count_rows(chart)
    numbers = np.vstack([counts.stitches, counts.total])
    return pd.DataFrame(
        {
            "colour": [*counts.row_colours, ""],
            "yarn": [*(yarn.name for yarn in counts.yarns), ""],
            **dict(zip(STITCH_COLUMNS, numbers.T, strict=True)),
            "stitches": numbers.sum(axis=1),
        },
        index=pd.Index([*range(1, len(numbers)), TOTAL], dtype=object, name="row"),
    )


def count_by_yarn(chart: Chart) -> pd.DataFrame:
    """Table the rows and stitches of each yarn in each colour.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches in working order.

    Returns
    -------
    DataFrame
        Index "yarn": the names, in the order of their first rows, then "total"; a yarn that plays both colours
        has a line for each. Columns: colour, rows, the kinds of stitch, and stitches.

    Raises
    ------
    ChartError
        If a row does not use up exactly the stitches of the row below.
    """
    counts = count_rows(chart)
    line_of_row = list(zip(counts.yarns, counts.row_colours, strict=True))
    lines = {line: number for number, line in enumerate(dict.fromkeys(line_of_row))}
    numbers = np.zeros((len(lines) + 1, len(STITCH_COLUMNS) + 1), dtype=np.int64)
    rows_and_stitches = np.column_stack([np.ones(len(counts.stitches), dtype=np.int64), counts.stitches])
    np.add.at(numbers, [lines[line] for line in line_of_row], rows_and_stitches)
    numbers[-1] = rows_and_stitches.sum(axis=0)
    return pd.DataFrame(
        {
            "colour": [*(colour for _, colour in lines), ""],
            **dict(zip(["rows", *STITCH_COLUMNS], numbers.T, strict=True)),
            "stitches": numbers[:, 1:].sum(axis=1),
        },
        index=pd.Index([*(yarn.name for yarn, _ in lines), TOTAL], dtype=object, name="yarn"),
    )
