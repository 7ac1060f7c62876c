"""A table into a file, so that it is read back as it is."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from io import BytesIO
from os import PathLike
from pathlib import Path

import pandas as pd

from mosaickit.errors import OptionError, of_kind, one_of
from mosaickit.files import Owner, as_path, save_bytes
from mosaickit.tables.spreadsheet import LINES_OF_PART, spreadsheet_in_parts

TABLE_ENDINGS = (".csv", ".xlsx")
"""What the name of a table's file may end in."""


class TableFile:
    r"""What a file holds of a table, made a part at a time, so that one can see how far it is and stop.

    Parameters
    ----------
    table : DataFrame
        Any table with one row of column names.
    ending : ".csv" or ".xlsx"
        The ending of the file.

    Attributes
    ----------
    done : int
        How many lines are made.

    Raises
    ------
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> made = TableFile(pd.DataFrame({"rows": [7, 9]}), ".csv")
    >>> while made.step():
    ...     print(made.done, "of", made.of)
    >>> made.data
    b',rows\n0,7\n1,9\n'
    """

    def __init__(self, table: pd.DataFrame, ending: str) -> None:
        of_kind("table", table, pd.DataFrame)
        one_of("ending", ending, TABLE_ENDINGS)
        self.table, self.ending, self.done = table, ending, 0
        self._into = BytesIO()
        self._parts = spreadsheet_in_parts(table, self._into) if ending == ".xlsx" else self._lines_of_text()

    @property
    def of(self) -> int:
        """How many lines there are."""
        return len(self.table)

    def step(self) -> bool:
        """Make the next part, and say whether there are more."""
        done = next(self._parts, None)
        self.done = self.of if done is None else done
        return done is not None and done < self.of

    @cached_property
    def data(self) -> bytes:
        """All that the file holds; makes what is left."""
        while self.step():
            pass
        return self._into.getvalue()

    @cached_property
    def content(self) -> str:
        """The table as text, which is the same for the same table."""
        return self.table.to_csv(lineterminator="\n")

    def _lines_of_text(self) -> Iterator[int]:
        for start in range(0, max(len(self.table), 1), LINES_OF_PART):
            part = self.table.iloc[start : start + LINES_OF_PART]
            self._into.write(part.to_csv(lineterminator="\n", header=not start).encode("utf-8"))
            yield start + len(part)


def save_table(
    table: pd.DataFrame | TableFile, path: str | PathLike[str], *, design: str = "", replace: bool = False
) -> Path:
    """Write a table to a file.

    Parameters
    ----------
    table : DataFrame or TableFile
        Any table with one row of column names; its index is written as the first column. Or what was made of one.
    path : path
        Ends in .csv or .xlsx.
    design : str
        The name of the design that it belongs to, as ``chart.name``. Left out, a table that is there is replaced by
        the very same one only.
    replace : bool
        Whether to replace whatever file is there. Otherwise only the same design's own earlier file is, if nothing
        changed it since.

    Returns
    -------
    Path
        The file. Numbers are written so that they are read back as they are, and text as text: what begins with an
        equals sign is no formula. A spreadsheet shows as many decimals as are of use; its cells hold them all.

    Raises
    ------
    OptionError
        If the path has another ending.
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    if not isinstance(table, TableFile):
        of_kind("table", table, pd.DataFrame)
    file = as_path(path)
    ending = file.suffix.lower()
    if ending not in TABLE_ENDINGS:
        raise OptionError(f"`path` must end in .csv or .xlsx; got {str(file)!r}.")
    made = table if isinstance(table, TableFile) else TableFile(table, ending)
    if made.ending != ending:
        raise OptionError(f"`path` must end in {made.ending}, as the table was made; got {str(file)!r}.")
    known = Owner("table", design)
    return save_bytes(file, made.data, known if design else Owner("table", "", made.content), replace=replace)
