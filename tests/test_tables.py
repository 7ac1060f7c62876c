import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from samples import letter_f, single
from strategies import workable_motifs

from mosaickit import Stitch, Yarn, Yarns, compile_chart
from mosaickit.errors import ChartError
from mosaickit.gauge import Gauge
from mosaickit.stitches import Chart
from mosaickit.tables import count, count_by_yarn, yarn_rows, yarn_totals
from mosaickit.yarn import Skein, yarn_usage

KINDS = ["sc", "BLsc", "FLdc", "tog-b", "tog-f"]
gauge = Gauge(16, 18, over=4, unit="in")

sand, deep, foam = Yarn("sand", "#e9dcc3"), Yarn("deep", "#123f5a"), Yarn("foam", "#3d8f92")
sea_f = letter_f.with_yarns(Yarns(sand, [(1, deep), (4, foam)]))


@given(workable_motifs(), st.booleans())
def test_the_lines_of_a_count_are_those_of_walking_the_chart(motif, reversible):
    chart = compile_chart(motif, reversible)
    table = count(chart)
    assert list(table.index) == [*range(1, motif.shape[0] + 1), "total"]
    for row, stitches in enumerate(chart.stitches, 1):
        line = table.loc[row]
        assert line["colour"] == chart.row_colours[row - 1]
        assert line["yarn"] == chart.yarns.at(row, chart.row_colours[row - 1]).name
        names = [Stitch(int(stitch)).abbreviation for stitch in stitches]
        assert [line[kind] for kind in KINDS] == [names.count(kind) for kind in KINDS]
        assert line["stitches"] == len(names)
    rows, total = table.iloc[:-1], table.loc["total"]
    assert all(total[column] == rows[column].sum() for column in [*KINDS, "stitches"])
    assert (total["colour"], total["yarn"]) == ("", "")


@given(workable_motifs(), st.booleans())
def test_the_count_by_yarn_is_the_count_gathered_by_colour_and_yarn(motif, reversible):
    chart = compile_chart(motif, reversible)
    by_yarn, rows = count_by_yarn(chart), count(chart).iloc[:-1]
    yarn_of_row = [chart.yarns.at(row, role) for row, role in enumerate(chart.row_colours, 1)]
    in_order = list(dict.fromkeys(zip(yarn_of_row, chart.row_colours, strict=True)))
    assert list(by_yarn.index) == [*(yarn.name for yarn, _ in in_order), "total"]
    assert list(by_yarn["colour"]) == [*(colour for _, colour in in_order), ""]
    for line, (yarn, colour) in enumerate(in_order):
        own = [(one, other) == (yarn, colour) for one, other in zip(yarn_of_row, chart.row_colours, strict=True)]
        assert by_yarn.iloc[line]["rows"] == sum(own)
        for column in [*KINDS, "stitches"]:
            assert by_yarn.iloc[line][column] == rows[column].to_numpy()[own].sum()
    total = by_yarn.iloc[-1]  # a yarn may be called "total" too
    assert (total["rows"], total["stitches"]) == (motif.shape[0], motif.grid.size)


def test_the_count_of_the_letter_f_can_be_read():
    assert count(compile_chart(sea_f, reversible=True)).to_string() == "\n".join(
        [
            "      colour  yarn  sc  BLsc  FLdc  tog-b  tog-f  stitches",
            "row                                                       ",
            "1         MC  sand   7     0     0      0      0         7",
            "2         CC  deep   0     7     0      0      0         7",
            "3         MC  sand   0     7     0      0      0         7",
            "4         CC  foam   0     6     1      0      0         7",
            "5         MC  sand   0     5     1      1      0         7",
            "6         CC  foam   0     4     2      1      0         7",
            "7         MC  sand   0     5     0      2      0         7",
            "total                7    34     4      4      0        49",
        ]
    )


def test_the_count_by_yarn_of_the_letter_f_can_be_read():
    assert count_by_yarn(compile_chart(sea_f, reversible=True)).to_string() == "\n".join(
        [
            "      colour  rows  sc  BLsc  FLdc  tog-b  tog-f  stitches",
            "yarn                                                      ",
            "sand      MC     4   7    17     1      3      0        28",
            "deep      CC     1   0     7     0      0      0         7",
            "foam      CC     2   0    10     3      1      0        14",
            "total            7   7    34     4      4      0        49",
        ]
    )


@pytest.mark.parametrize("motif", [sea_f, single])
def test_counts_are_whole_numbers_and_no_table_has_a_hole(motif):
    chart = compile_chart(motif)
    usage = yarn_usage(chart, gauge)
    known = yarn_usage(chart, gauge, skeins=Skein(100, 50))
    for table in (count(chart), count_by_yarn(chart)):
        assert all(table[column].dtype == np.int64 for column in [*KINDS, "stitches"])
        assert not table.isna().any(axis=None)
    for table in (yarn_rows(usage), yarn_totals(usage), yarn_totals(known)):
        assert not table.isna().any(axis=None)
    assert yarn_totals(known)["skeins"].dtype == np.int64


def test_the_yarn_of_each_row_is_what_the_usage_holds():
    usage = yarn_usage(compile_chart(sea_f, True), gauge, between_rows="cut")
    table = yarn_rows(usage)
    assert list(table.index) == [1, 2, 3, 4, 5, 6, 7]
    assert table.index.name == "row"
    assert list(table["colour"]) == list(usage.row_colours)
    assert list(table["yarn"]) == ["sand", "deep", "sand", "foam", "sand", "foam", "sand"]
    for column, part in {
        "stitches m": usage.stitches_m,
        "foundation m": usage.foundation_m,
        "chains m": usage.chain_m,
        "carried m": usage.carried_m,
        "tails m": usage.tails_m,
        "low m": usage.low_m,
        "likely m": usage.total_m,
        "high m": usage.high_m,
    }.items():
        assert table[column].tolist() == part.tolist()
    assert list(table.columns[:2]) == ["colour", "yarn"]
    assert len(table.columns) == 10


def test_the_totals_hold_every_yarn_and_their_sum():
    usage = yarn_usage(compile_chart(sea_f, True), gauge, skeins=Skein(2, 1))
    table = yarn_totals(usage)
    assert list(table.index) == ["sand", "deep", "foam", "total"]
    assert list(table.columns) == ["low m", "likely m", "high m", "likely yd", "grams", "skeins", "leftover m"]
    for line, total in enumerate(usage.by_yarn):
        expected = [total.low_m, total.likely_m, total.high_m, total.likely_yd]
        assert table.iloc[line].tolist() == [*expected, total.grams, total.skeins, total.leftover_m]
    assert table.loc["total"].tolist() == pytest.approx(table.iloc[:-1].sum().tolist())


def test_without_skeins_the_totals_have_no_column_for_them():
    table = yarn_totals(yarn_usage(compile_chart(sea_f), gauge))
    assert list(table.columns) == ["low m", "likely m", "high m", "likely yd"]


def test_a_chart_whose_count_across_changes_makes_no_table():
    chart = Chart([[0, 0], [0, 1]], ("MC", "CC"))
    for table in (count, count_by_yarn):
        with pytest.raises(ChartError, match="Row 2 makes 2 stitches, works into 1 and skips 0 of the 2"):
            table(chart)
