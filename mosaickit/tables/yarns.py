"""Tables of yarn: what each row takes, and how much of each to have at hand."""

from __future__ import annotations

from typing import Any

import pandas as pd

from mosaickit.errors import of_kind
from mosaickit.tables.stitches import TOTAL
from mosaickit.yarn import Usage


def yarn_rows(usage: Usage) -> pd.DataFrame:
    """Table the yarn that each row takes.

    Parameters
    ----------
    usage : Usage
        What `yarn_usage` found.

    Returns
    -------
    DataFrame, R lines
        Index "row": 1 to R. Columns: colour, yarn; in metres what goes into stitches, foundation, chains, carried
        strand and tails; and the whole: low, likely, high.
    """
    of_kind("usage", usage, Usage)
    return pd.DataFrame(
        {
            "colour": list(usage.row_colours),
            "yarn": [yarn.name for yarn in usage.yarns],
            "stitches m": usage.stitches_m,
            "foundation m": usage.foundation_m,
            "chains m": usage.chain_m,
            "carried m": usage.carried_m,
            "tails m": usage.tails_m,
            "at least m": usage.low_m,
            "yarn m": usage.total_m,
            "at most m": usage.high_m,
        },
        index=pd.RangeIndex(1, len(usage.yarns) + 1, name="row"),
    )


def yarn_totals(usage: Usage) -> pd.DataFrame:
    """Table how much of each yarn to have at hand.

    Parameters
    ----------
    usage : Usage
        What `yarn_usage` found.

    Returns
    -------
    DataFrame
        Index "yarn": the names, in the order in which they are first used, then "total". Columns: at least m, yarn m,
        at most m, yarn yd; and, where the skeins are known, grams, skeins (whole ones to buy, for at most m) and
        leftover m (what is likely left of them).
    """
    of_kind("usage", usage, Usage)
    totals = usage.by_yarn
    columns: dict[str, list[Any]] = {
        "at least m": [total.low_m for total in totals],
        "yarn m": [total.likely_m for total in totals],
        "at most m": [total.high_m for total in totals],
        "yarn yd": [total.likely_yd for total in totals],
    }
    if all(total.skein is not None for total in totals):
        columns["grams"] = [total.grams for total in totals]
        columns["skeins"] = [total.skeins for total in totals]
        columns["leftover m"] = [total.leftover_m for total in totals]
    return pd.DataFrame(
        {name: [*column, sum(column)] for name, column in columns.items()},
        index=pd.Index([*(total.yarn.name for total in totals), TOTAL], dtype=object, name="yarn"),
    )
