"""Tables as spreadsheets, read back by openpyxl and by pandas: every cell, its type and look, what stands around."""

from datetime import datetime
from io import BytesIO

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook
from openpyxl.utils.escape import unescape

from mosaickit.errors import OptionError
from mosaickit.tables import TableFile, save_table
from mosaickit.tables import spreadsheet as writer

TEXTS = st.text(st.characters(blacklist_categories=["Cs"], blacklist_characters="\r"), max_size=12)
VALUES = st.one_of(
    st.none(), st.booleans(), st.integers(-(10**12), 10**12), st.floats(allow_nan=False, allow_infinity=False), TEXTS,
    st.sampled_from(["=1+1", "+1", "-1", "@A1", "_x0041_", " a ", "<&>\"'", "1", "TRUE", "a\nb", ""]),
)  # fmt: skip


def sheet_of(table):
    return load_workbook(BytesIO(TableFile(table, ".xlsx").data)).active


@given(st.data())
def test_every_cell_is_read_back_with_its_value_and_its_type(data):
    width = data.draw(st.integers(1, 4))
    lines = data.draw(st.lists(st.lists(VALUES, min_size=width, max_size=width), max_size=8))
    table = pd.DataFrame(lines, columns=[f"=c{at}" for at in range(width)], dtype=object)
    sheet = sheet_of(table)
    assert [cell.value for cell in sheet[1]] == [None, *table.columns]
    for line, row in zip(lines, sheet.iter_rows(min_row=2), strict=True):
        for value, cell in zip(line, row[1:], strict=True):
            assert cell.data_type == ("b" if isinstance(value, bool) else "s" if isinstance(value, str) else "n")
            assert (unescape(cell.value) == value) if isinstance(value, str) else cell.value == value
            assert cell.data_type != "f"


def test_the_columns_of_pandas_are_read_back_as_they_were():
    table = pd.DataFrame(
        {
            "name": ["leaf", "leaf", None],
            "rows": [7, 9, 11],
            "worked": [True, False, True],
            "width cm": [18.1234567890123, np.nan, 1e-7],
            "yarn m": [120.26, 8000.5, np.nan],
            "changed": pd.to_datetime(["2026-11-29 10:30", None, "2024-02-29 23:59"]),
            "count": pd.array([1, None, 3], dtype="Int64"),
            "odd": [np.int64(3), np.float64(2.5), True],
        },
        index=pd.RangeIndex(1, 4, name="line"),
    )
    sheet = sheet_of(table)
    rows = [[cell.value for cell in row] for row in sheet.iter_rows()]
    assert rows == [
        ["line", *table.columns],
        [1, "leaf", 7, True, 18.1234567890123, 120.26, datetime(2026, 11, 29, 10, 30), 1, 3],
        [2, "leaf", 9, False, None, 8000.5, None, None, 2.5],
        [3, None, 11, True, 1e-7, None, datetime(2024, 2, 29, 23, 59), 3, True],
    ]
    looks = {cell.value: below.number_format for cell, below in zip(sheet[1], sheet[2], strict=True)}
    assert looks["rows"] == looks["line"] == looks["count"] == "#,##0"
    assert (looks["width cm"], looks["yarn m"], looks["name"]) == ("#,##0.0", "#,##0", "General")
    assert sheet["A1"].font.bold
    assert not sheet["A2"].font.bold


@pytest.mark.parametrize(
    ("name", "values", "shown"),
    [
        ("minutes", [52.5, 4.25], "#,##0.0"), ("yarn m", [0.35, 2.5], "#,##0.00"), ("share", [0.12, 0.5], "#,##0.000"),
        ("width in", [300.5], "#,##0.0"), ("length off percent", [-6.25], "#,##0.0"), ("yarn m", [3, None], "#,##0"),
        ("x", [np.inf, 1.5], "#,##0.00"),
    ],
)  # fmt: skip
def test_a_column_is_shown_with_as_many_decimals_as_are_of_use(name, values, shown):
    assert sheet_of(pd.DataFrame({name: values}))["B2"].number_format == shown


def test_widths_filters_and_the_frozen_head():
    table = pd.DataFrame({"motif": ["leaf"] * 3, "why not": ["x" * 500, "", "y"], "rows": [1_234_567, 1, 2]})
    sheet = sheet_of(table)
    assert sheet.freeze_panes == "B2"
    assert sheet.auto_filter.ref == sheet.dimensions == "A1:D4"
    widths = [sheet.column_dimensions[letter].width for letter in "BCD"]
    assert len("motif") < widths[0] < 12
    assert widths[1] == 60
    assert len("1,234,567") < widths[2] < 16


def test_a_table_without_lines_and_one_beyond_a_sheet():
    sheet = sheet_of(pd.DataFrame({"rows": []}))
    assert sheet.dimensions == "A1:B1"
    with pytest.raises(OptionError, match=r"at most 1,048,575 lines and 16,383 columns, and this table has 1,048,576"):
        TableFile(pd.DataFrame({"rows": np.zeros(1_048_576, np.int8)}), ".xlsx").step()


def test_what_is_too_long_for_a_cell_ends_where_it_is_seen():
    told = sheet_of(pd.DataFrame({"why not": ["x" * 40_000]}))["B2"].value
    assert len(told) == writer.MOST_LETTERS
    assert told.endswith("x…")


@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
def test_made_in_parts_a_file_is_the_one_that_is_saved_at_once(tmp_path, ending, monkeypatch):
    lines = 2 * writer.LINES_OF_PART + 5
    table = pd.DataFrame({"row": range(lines), "name": [f"n{at % 7}" for at in range(lines)]})
    made, told = TableFile(table, ending), []
    while made.step():
        told.append(made.done)
    assert told == [writer.LINES_OF_PART, 2 * writer.LINES_OF_PART]
    assert (made.done, made.of) == (lines, lines)
    saved = save_table(made, tmp_path / f"parts{ending}")
    read = {".csv": pd.read_csv, ".xlsx": pd.read_excel}[ending]
    pd.testing.assert_frame_equal(read(saved, index_col=0), table)
    if ending == ".csv":
        assert saved.read_bytes() == save_table(table, tmp_path / "once.csv").read_bytes()
    with pytest.raises(OptionError, match=f"must end in {ending}, as the table was made"):
        save_table(made, tmp_path / f"x{'.csv' if ending == '.xlsx' else '.xlsx'}")


def test_a_table_is_made_for_an_ending_that_is_known():
    with pytest.raises(OptionError, match="`ending` must be"):
        TableFile(pd.DataFrame(), ".ods")
    with pytest.raises(OptionError, match="`table` must be a `DataFrame`"):
        TableFile([], ".csv")
