"""A table as a spreadsheet, a part at a time.

openpyxl writes all that stands around the lines: widths, filters, formats, the frozen head. The lines themselves are
written here, as the text that the file holds of them, since a table of many lines takes several times as long when each
cell is an object first. All cells of a column look alike, so the text of a value is made once for each value.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime
from io import BytesIO
from math import isfinite
from typing import Any
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, ZipFile

import numpy as np
import pandas as pd
from openpyxl import Workbook  # type: ignore[import-untyped]  # it ships no types
from openpyxl.styles import Font  # type: ignore[import-untyped]
from openpyxl.utils import get_column_letter  # type: ignore[import-untyped]
from openpyxl.utils.datetime import to_excel  # type: ignore[import-untyped]

from mosaickit.errors import OptionError

MOST_ROWS, MOST_COLUMNS, MOST_LETTERS = 1_048_576, 16_384, 32_767
"""What a sheet of this format can hold, and a cell of it."""

LINES_OF_PART = 2_000
"""How many lines are written at a time."""

_WIDEST, _ROOM_FOR_FILTER = 60, 3  # in letters
_LARGE_SHEET = 20_000_000  # cells from which the text of a sheet may be longer than an ordinary archive holds
_SHEET = "xl/worksheets/sheet1.xml"
_UNWRITABLE = re.compile("[\x00-\x08\x0b-\x1f\ud800-\udfff\ufffe\uffff]|_(?=x[0-9A-Fa-f]{4}_)")


def spreadsheet_in_parts(table: pd.DataFrame, into: BytesIO) -> Iterator[int]:
    """Write a table as XLSX, and give after each part how many lines are written.

    Parameters
    ----------
    table : DataFrame
        Any table with one row of column names; its index is the first column.
    into : BytesIO
        Where it is written. It holds the file when the last number has been given.

    Yields
    ------
    int
        The lines written so far; the last is their number, also of a table without lines.

    Raises
    ------
    OptionError
        If the table has more lines or columns than a sheet can hold.
    """
    columns = [table.index.to_series(name=table.index.name or ""), *(table.iloc[:, at] for at in range(table.shape[1]))]
    rows = len(table) + 1
    if rows > MOST_ROWS or len(columns) > MOST_COLUMNS:
        raise OptionError(
            f"A spreadsheet holds at most {MOST_ROWS - 1:,} lines and {MOST_COLUMNS - 1:,} columns, and this table has "
            f"{len(table):,} and {table.shape[1]:,}. Save it as .csv."
        )
    around, head_style, styles = _around(columns, rows)
    cells = [_Cells(style) for style in styles]
    with ZipFile(into, "w", ZIP_DEFLATED) as file, ZipFile(around) as empty:
        for name in empty.namelist():
            if name != _SHEET:
                file.writestr(empty.getinfo(name), empty.read(name), ZIP_DEFLATED)
        before, after = re.split("<sheetData.*</sheetData>", empty.read(_SHEET).decode(), flags=re.DOTALL)
        with file.open(_SHEET, "w", force_zip64=rows * len(columns) > _LARGE_SHEET) as sheet:
            head = _Cells(head_style)
            names = "".join(
                f'<c r="{get_column_letter(at)}1{head[str(each.name) or None]}' for at, each in enumerate(columns, 1)
            )
            sheet.write(f'{before}<sheetData><row r="1">{names}</row>'.encode())
            for start in range(0, len(table), LINES_OF_PART):
                numbers = range(start + 2, min(start + LINES_OF_PART, len(table)) + 2)
                written = [
                    _column(get_column_letter(at), numbers, each.iloc[start : start + LINES_OF_PART], made)
                    for at, (each, made) in enumerate(zip(columns, cells, strict=True), 1)
                ]
                lines = zip(numbers, map("".join, zip(*written, strict=True)), strict=True)
                sheet.write("".join(f'<row r="{row}">{line}</row>' for row, line in lines).encode())
                if numbers[-1] < rows:
                    yield numbers[-1] - 1
            sheet.write(f"</sheetData>{after}".encode())
    yield len(table)


class _Cells(dict[Any, str]):
    """What stands in a cell after its column and row, by the value; each is made when it is first asked for."""

    def __init__(self, style: int) -> None:
        self.style = f'" s="{style}"'

    def __missing__(self, value: Any) -> str:  # noqa: ANN401 — a value of any column
        made = self[value] = f"{self.style}{_content(value[0] if isinstance(value, tuple) else value)}"
        return made


def _content(value: Any) -> str:  # noqa: ANN401
    if value is None:
        return "/>"
    if isinstance(value, bool):
        return f' t="b"><v>{value:d}</v></c>'
    if isinstance(value, datetime):
        return f"><v>{to_excel(value)}</v></c>"
    if isinstance(value, int | float) and isfinite(value):
        return f"><v>{value!r}</v></c>"
    return f' t="inlineStr"><is><t xml:space="preserve">{escape(_kept(str(value)))}</t></is></c>'


def _column(letter: str, numbers: range, part: pd.Series[Any], cells: _Cells) -> list[str]:
    """Give the cells of some lines of one column."""
    values: list[Any] = part.tolist()
    if part.dtype == object:  # 1, 1.0 and True are one key, but three values
        values = [_key(value.item() if isinstance(value, np.generic) else value) for value in values]
    if part.hasnans:
        values = [None if none else value for value, none in zip(values, part.isna(), strict=True)]
    return [f'<c r="{letter}{row}{cells[value]}' for row, value in zip(numbers, values, strict=True)]


def _key(value: Any) -> Any:  # noqa: ANN401
    if isinstance(value, int | float):
        return value, type(value)
    return value if value is None or isinstance(value, str | datetime) else str(value)


def _kept(text: str) -> str:
    """Write what no XML can hold as this format does, and end what is too long for a cell where it is seen."""
    told = _UNWRITABLE.sub(lambda found: f"_x{ord(found[0]):04X}_", text)
    return told if len(told) <= MOST_LETTERS else f"{told[: MOST_LETTERS - 1]}…"


def _around(columns: list[pd.Series[Any]], rows: int) -> tuple[BytesIO, int, list[int]]:
    """Give a file without lines, the style of its head, and that of each column."""
    book, file = Workbook(), BytesIO()
    sheet: Any = book.active
    sheet.title, sheet.freeze_panes = "Table", "B2"
    sheet.auto_filter.ref = f"A1:{get_column_letter(len(columns))}{rows}"
    sheet["A1"].font = Font(bold=True)
    sheet.cell(rows, len(columns))  # the size of the sheet is that of its cells
    styles = []
    for at, column in enumerate(columns, 1):
        look = sheet.column_dimensions[get_column_letter(at)]
        look.number_format, longest = _format(column)
        look.width = min(max(len(str(column.name)), longest) + _ROOM_FOR_FILTER, _WIDEST)
        styles.append(look.style_id)
    head = sheet["A1"].style_id
    book.save(file)
    return file, head, styles


def _format(column: pd.Series[Any]) -> tuple[str, int]:
    """Give how the values of a column are shown, and the most letters of one."""
    kind = column.dtype.kind
    if kind == "M":
        return "yyyy-mm-dd hh:mm", 16
    if kind not in "iuf":
        return "General", max((len(str(value)) for value in column.drop_duplicates()), default=0)
    values = np.abs(column.to_numpy(float, na_value=np.nan))
    values = values[np.isfinite(values)]
    largest = values.max(initial=0)
    decimals = 0 if (values == np.floor(values)).all() else _decimals(str(column.name), largest)
    return f"#,##0{'.' * (decimals > 0)}{'0' * decimals}", len(f"{-largest:,.{decimals}f}")


def _decimals(name: str, largest: float) -> int:
    """Give how many decimals a column is read with: one for sizes and percents, three figures of anything else."""
    if name.endswith((" cm", " in", " percent")):
        return 1
    return next((decimals for decimals, least in enumerate((100, 10, 1)) if largest >= least), 3)
