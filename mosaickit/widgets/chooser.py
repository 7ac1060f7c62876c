"""The chooser: a table whose lines can be sorted by any column and of which one can be chosen.

Python gives the lines and their order; the page sorts what it was given and tells which line was chosen.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import anywidget
import numpy as np
import pandas as pd
import traitlets

from mosaickit.errors import OptionError, as_whole, of_kind, shortly, text


class Chooser(anywidget.AnyWidget):
    """A table to choose a line from.

    Parameters
    ----------
    table : DataFrame
        Its index, whole numbers, says what a line is called.
    caption : str
        What the table is, for everyone and for screen readers.

    Attributes
    ----------
    chosen : int or None
        The index of the line that is chosen; set it, or observe it.

    Examples
    --------
    >>> chooser = Chooser(pd.DataFrame({"rows": [7, 9]}, index=[1, 2]), caption="Fits")
    >>> chooser.chosen
    1
    """

    _esm = Path(__file__).with_name("chooser.js")
    _css = Path(__file__).with_name("chooser.css")

    caption = traitlets.Unicode().tag(sync=True)
    """What the table is."""
    heads: traitlets.List[str] = traitlets.List().tag(sync=True)
    """The names of the columns, that of the index first."""
    lines: traitlets.List[dict[str, Any]] = traitlets.List().tag(sync=True)
    """A line: its key, what its cells say, and what they are sorted by."""
    chosen = traitlets.Int(None, allow_none=True).tag(sync=True)
    """The key of the line that is chosen."""

    def __init__(self, table: pd.DataFrame, *, caption: str) -> None:
        of_kind("table", table, pd.DataFrame)
        text("caption", caption)
        super().__init__(caption=caption)
        self.show(table)

    def show(self, table: pd.DataFrame) -> None:
        """Show another table; the line that was chosen stays chosen if it is there, else the first one is."""
        keys = [_whole(key) for key in table.index]
        columns = [_column(table[name]) for name in table.columns]
        lines = [
            {
                "key": key,
                "cells": [str(key), *(said[at] for said, _ in columns)],
                "by": [key, *(by[at] for _, by in columns)],
            }
            for at, key in enumerate(keys)
        ]
        chosen = self.chosen if self.chosen in keys else keys[0] if keys else None
        with self.hold_trait_notifications():
            self.heads = [str(table.index.name or "line"), *map(str, table.columns)]
            self.lines = lines
            self.chosen = chosen

    def offline(self) -> dict[str, dict[str, Any]]:
        """Give what the page needs where there is no Python, by the id of the model: see `mosaickit.sharing`."""
        return {self.model_id: {"note": "To choose a line, open the notebook."}}

    @traitlets.validate("chosen")
    def _one_of_the_lines(self, proposal: Any) -> int | None:  # noqa: ANN401 — traitlets' own
        key: int | None = proposal["value"]
        if key is not None and key not in {line["key"] for line in self.lines}:
            raise OptionError(f"`chosen` must be one of the {len(self.lines)} lines of the table; got {key!r}.")
        return key


def _whole(key: object) -> int:
    number = as_whole(key)
    if number is None:
        raise OptionError(
            f"`table` must have whole numbers for its index; got {shortly(key)}. `table.reset_index()` gives it them."
        )
    return number


def _column(values: pd.Series[Any]) -> tuple[list[str], list[Any]]:
    """Give what the cells of a column say, and what they are sorted by."""
    if pd.api.types.is_bool_dtype(values):
        return ["yes" if value else "no" for value in values], [int(value) for value in values]
    if pd.api.types.is_float_dtype(values):
        said = ["" if np.isnan(value) else f"{value:.1f}" for value in values]
        return said, [None if np.isnan(value) else float(value) for value in values]
    if pd.api.types.is_integer_dtype(values):
        return [str(value) for value in values], [int(value) for value in values]
    return [str(value) for value in values], [str(value) for value in values]
