"""Ranking: which lines of a table come first, when several figures count.

A criterion is a column with a weight: the less, the better; with a weight below 0, the more. Columns that say by how
much a size is off count by how far they are from 0. Lines that cannot be worked never take part.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from mosaickit.doors import late
from mosaickit.errors import OptionError, of_kind, shortly

if TYPE_CHECKING:
    import pandas as pd
else:
    pd = late("pandas")

OFF = "off percent"
"""How a column ends whose distance from 0 counts."""

Criteria = Mapping[str, float] | Iterable[str]
"""Columns and their weights, or columns that weigh alike."""


def rank(table: pd.DataFrame, weights: Criteria) -> pd.DataFrame:
    """Put lines in order, the best first.

    Parameters
    ----------
    table : DataFrame
        Lines to choose from, as of `fits` or of a sweep.
    weights : mapping of column to number, or columns
        What counts, and how much: the less of it the better, or, with a weight below 0, the more.

    Returns
    -------
    DataFrame
        The lines that can be worked, with a column "score" in front: each criterion is put on a scale from 0, the best
        in the table, to 1, the worst, and the score is their mean by weight, so 0 is the best there could be. Lines
        of one score stay in their order.

    Raises
    ------
    OptionError
        If there is no such column of numbers, no weight, or no line that can be worked.

    Examples
    --------
    >>> table = pd.DataFrame({"width off percent": [-4.0, 1.0], "yarn m": [90.0, 110.0]}, index=[1, 2])
    >>> rank(table, {"width off percent": 3, "yarn m": 1})["score"].to_dict()
    {2: 0.25, 1: 0.75}
    """
    of_kind("table", table, pd.DataFrame)
    table, criteria, weighed = _criteria("weights", table, weights)
    least, most = criteria.min(axis=0), criteria.max(axis=0)
    scale = np.where(most > least, most - least, 1.0)
    share = np.array(weighed) / sum(weighed)
    ranked = table.copy()
    ranked.insert(0, "score", ((criteria - least) / scale) @ share)
    return ranked.sort_values("score", kind="stable")


def pareto(table: pd.DataFrame, criteria: Criteria) -> pd.DataFrame:
    """Keep the lines that no other line beats: none is as good in every criterion and better in one.

    Parameters
    ----------
    table : DataFrame
        Lines to choose from, as of `fits` or of a sweep.
    criteria : columns, or mapping of column to number
        What counts: the less of it the better, or, with a number below 0, the more.

    Returns
    -------
    DataFrame
        The lines that can be worked and that are not beaten, in their order. Lines that are alike in all criteria stay
        or go together.

    Raises
    ------
    OptionError
        As `rank`.

    Examples
    --------
    >>> table = pd.DataFrame({"yarn m": [90.0, 110.0, 95.0], "minutes": [60, 40, 70]}, index=[1, 2, 3])
    >>> list(pareto(table, ["yarn m", "minutes"]).index)
    [1, 2]
    """
    of_kind("table", table, pd.DataFrame)
    table, values, _ = _criteria("criteria", table, criteria)
    return table[_unbeaten(values)]


def _criteria(name: str, table: pd.DataFrame, given: Criteria) -> tuple[pd.DataFrame, NDArray[np.float64], list[float]]:
    """Give the lines that take part, their criteria, less being better, (lines, criteria), and the weights' sizes."""
    if isinstance(given, str):
        given = [given]
    if not isinstance(given, Iterable):
        raise OptionError(f"`{name}` must be columns, or weights of columns; got {shortly(given)}.")
    weights = dict(given) if isinstance(given, Mapping) else dict.fromkeys(given, 1.0)
    if "can be worked" in table:
        table = table[table["can be worked"]]
    if not len(table):
        raise OptionError("There is no line that can be worked, so there is none to choose.")
    numbers = [column for column in table if pd.api.types.is_numeric_dtype(table[column])]
    for column, weight in weights.items():
        if column not in numbers:
            raise OptionError(f"`{name}` must name columns of numbers: {', '.join(map(str, numbers))}; got {column!r}.")
        if isinstance(weight, bool) or not isinstance(weight, int | float) or not 0 < abs(weight) < float("inf"):
            raise OptionError(f"`{name}` must give {column!r} a number other than 0; got {weight!r}.")
        if table[column].isna().any():
            raise OptionError(f"{column!r} is not known for every line, so it cannot be a criterion.")
    if not weights:
        raise OptionError(f"`{name}` is empty: name at least one column.")
    values = table[list(weights)].to_numpy(dtype=np.float64, copy=True)
    for index, (column, weight) in enumerate(weights.items()):
        if str(column).endswith(OFF):
            values[:, index] = np.abs(values[:, index])
        if weight < 0:
            values[:, index] *= -1
    return table, values, [abs(weight) for weight in weights.values()]


def _unbeaten(values: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Say which lines are not beaten, (lines,): the least sum of what is left never is, and goes on to beat others."""
    # ranks instead of values, so that no criterion drowns another in the sum
    ranks = np.stack([np.unique(column, return_inverse=True)[1] for column in values.T], axis=1)
    left = np.argsort(ranks.sum(axis=1), kind="stable")
    unbeaten = np.zeros(len(values), dtype=bool)
    while len(left):
        best = ranks[left[0]]
        alike = (ranks[left] == best).all(axis=1)
        unbeaten[left[alike]] = True
        left = left[~(ranks[left] >= best).all(axis=1)]
    return unbeaten
