"""A table into a file, so that it is read back as it is."""

from __future__ import annotations

from io import BytesIO
from os import PathLike
from pathlib import Path

import pandas as pd

from mosaickit.errors import OptionError, of_kind
from mosaickit.files import Owner, as_path, save_bytes


def save_table(table: pd.DataFrame, path: str | PathLike[str], *, design: str = "", replace: bool = False) -> Path:
    """Write a table to a file.

    Parameters
    ----------
    table : DataFrame
        Any table with one row of column names; its index is written as the first column.
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
        equals sign is no formula.

    Raises
    ------
    OptionError
        If the path has another ending.
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    of_kind("table", table, pd.DataFrame)
    file = as_path(path)
    ending = file.suffix.lower()
    if ending not in (".csv", ".xlsx"):
        raise OptionError(f"`path` must end in .csv or .xlsx; got {str(file)!r}.")
    text = table.to_csv(lineterminator="\n")
    known = Owner("table", design, text)
    if ending == ".csv":
        return save_bytes(file, text.encode("utf-8"), known, replace=replace)
    data = BytesIO()
    with pd.ExcelWriter(data, engine="openpyxl") as writer:
        table.to_excel(writer, freeze_panes=(1, 1))
        for row in writer.book.worksheets[0].iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    cell.data_type = "s"
    return save_bytes(file, data.getvalue(), known, replace=replace)
