import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from samples import letter_f, single
from strategies import workable_motifs

from mosaickit import Stitch, Surround, Yarn, Yarns, YarnSettings, compile_chart
from mosaickit.errors import ChartError
from mosaickit.fabric import Chart
from mosaickit.gauge import Gauge
from mosaickit.ideas import family
from mosaickit.sizes import plan_widths, rank
from mosaickit.tables import count, count_by_yarn, fits, variants, yarn_rows, yarn_totals
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
    known = yarn_usage(chart, gauge, yarn_settings=YarnSettings(skeins=Skein(100, 50)))
    for table in (count(chart), count_by_yarn(chart)):
        assert all(table[column].dtype == np.int64 for column in [*KINDS, "stitches"])
        assert not table.isna().any(axis=None)
    for table in (yarn_rows(usage), yarn_totals(usage), yarn_totals(known)):
        assert not table.isna().any(axis=None)
    assert yarn_totals(known)["skeins"].dtype == np.int64


def test_the_yarn_of_each_row_is_what_the_usage_holds():
    usage = yarn_usage(compile_chart(sea_f, True), gauge, yarn_settings=YarnSettings(between_rows="cut"))
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
        "at least m": usage.low_m,
        "yarn m": usage.total_m,
        "at most m": usage.high_m,
    }.items():
        assert table[column].tolist() == part.tolist()
    assert list(table.columns[:2]) == ["colour", "yarn"]
    assert len(table.columns) == 10


def test_the_totals_hold_every_yarn_and_their_sum():
    usage = yarn_usage(compile_chart(sea_f, True), gauge, yarn_settings=YarnSettings(skeins=Skein(2, 1)))
    table = yarn_totals(usage)
    assert list(table.index) == ["sand", "deep", "foam", "total"]
    assert list(table.columns) == ["at least m", "yarn m", "at most m", "yarn yd", "grams", "skeins", "leftover m"]
    for line, total in enumerate(usage.by_yarn):
        expected = [total.low_m, total.likely_m, total.high_m, total.likely_yd]
        assert table.iloc[line].tolist() == [*expected, total.grams, total.skeins, total.leftover_m]
    assert table.loc["total"].tolist() == pytest.approx(table.iloc[:-1].sum().tolist())


def test_without_skeins_the_totals_have_no_column_for_them():
    table = yarn_totals(yarn_usage(compile_chart(sea_f), gauge))
    assert list(table.columns) == ["at least m", "yarn m", "at most m", "yarn yd"]


def test_a_chart_whose_count_across_changes_makes_no_table():
    chart = Chart([[0, 0], [0, 1]], ("MC", "CC"))
    for table in (count, count_by_yarn):
        with pytest.raises(ChartError, match="Row 2 makes 2 stitches, works into 1 and skips 0 of the 2"):
            table(chart)


def test_the_fits_of_a_plan_are_a_line_each_in_their_order():
    plan = plan_widths(
        sea_f,
        gauge,
        30,
        length=40,
        tolerance=0.2,
        reversible=True,
        surround=Surround(colours="swap", balance_up=1),
        yarn_settings=YarnSettings(skeins=Skein(20, 10)),
    )
    table = fits(plan)
    assert list(table.index) == list(range(1, len(plan.fits) + 1))
    assert table.index.name == "fit"
    assert len(plan.fits) > 3
    for line, fit in zip(table.to_dict("records"), plan.fits, strict=True):
        expected = {
            "repeats across": fit.layout.across,
            "repeats up": fit.layout.up,
            "stitches": fit.layout.stitches,
            "foundation chain": fit.layout.stitches + 1,
            "rows": fit.layout.rows,
            "width cm": fit.layout.stitches * 4 * 2.54 / 16,
            "width in": fit.layout.stitches * 4 / 16,
            "length cm": fit.layout.rows * 4 * 2.54 / 18,
            "length in": fit.layout.rows * 4 / 18,
            "width off percent": fit.layout.stitches * 4 * 2.54 / 16 / 30 * 100 - 100,
            "length off percent": fit.layout.rows * 4 * 2.54 / 18 / 40 * 100 - 100,
            "centred": False,
            "FLdc percent": 100 * fit.layout.build().overlaid.mean(),
            "at least m": fit.usage.low_m,
            "yarn m": fit.usage.likely_m,
            "at most m": fit.usage.high_m,
        }
        for total in fit.usage.by_yarn:
            expected |= {
                f"{total.yarn.name}: at least m": total.low_m,
                f"{total.yarn.name}: yarn m": total.likely_m,
                f"{total.yarn.name}: at most m": total.high_m,
                f"{total.yarn.name}: skeins": total.skeins,
                f"{total.yarn.name}: leftover m": total.leftover_m,
            }
        carried, cut = fit.carried_and_cut_m
        expected |= {"reversible surcharge percent": 100 * fit.surcharge, "carried m": carried, "cut m": cut}
        expected |= {"minutes": fit.layout.rows * fit.layout.stitches / 20}
        assert list(line) == list(expected)
        assert line == pytest.approx(expected)
    assert all(table[f"{name}: skeins"].dtype == np.int64 for name in ("sand", "deep", "foam"))


def test_the_table_of_fits_leaves_out_what_is_not_known_and_has_no_hole():
    # the yarn of row 1 for CC comes in only where the repeat is turned over onto the other colours
    rare = letter_f.with_yarns(Yarns(sand, [(1, deep), (2, foam)]))
    plan = plan_widths(rare, gauge, 30, length=9, tolerance=0.7, surround=Surround(colours="swap"))
    table = fits(plan)
    assert {fit.up for fit in plan.fits} == {1, 2, 3}
    assert not table.isna().any(axis=None)
    assert (table["deep: yarn m"] == 0).tolist() == [fit.up == 1 for fit in plan.fits]
    assert not [name for name in table.columns if "skeins" in name or "leftover" in name]
    assert "length off percent" not in fits(plan_widths(rare, gauge, 28, surround=Surround(colours="swap")))


def test_yarns_of_one_name_share_their_columns():
    alike = letter_f.with_yarns(Yarns(Yarn("sea", "#e9dcc3"), Yarn("sea", "#123f5a")))
    table = fits(plan_widths(alike, gauge, 28))
    assert table["sea: yarn m"].tolist() == pytest.approx(table["yarn m"].tolist())


def test_the_variants_of_a_family_are_a_line_each_with_all_their_figures():
    of_f = family(letter_f)
    table = variants(of_f)
    assert (table.index.name, list(table.index)) == ("variant", list(range(1, len(of_f) + 1)))
    assert len({variant.changed for variant in of_f}) > 1
    for line, variant in zip(table.to_dict("records"), of_f, strict=True):
        rows, stitches = variant.motif.shape
        charts = [compile_chart(variant.motif, reversible) for reversible in (False, True)]
        plain, reversible = (count(chart).loc["total"] for chart in charts)
        assert list(line.values())[:4] == [variant.name, rows, stitches, variant.changed]
        assert line["FLdc percent"] == pytest.approx(100 * plain["FLdc"] / plain["stitches"])
        assert line["CC percent"] == pytest.approx(100 * variant.motif.grid.mean())
        assert (line["reversible surcharge percent"] > 0) == (reversible["tog-b"] + reversible["tog-f"] > 0)
        longest = max(map(len, re.findall(r"\|+", charts[0].to_text())), default=0)
        assert line["FLdc side by side"] == longest
        figures = variant.figures
        assert line["reversible surcharge percent"] == 100 * figures.surcharge
        assert line["back differs percent"] == 100 * figures.back_contrast
        assert line["similar percent"] == 100 * figures.similarity
    assert len(table.columns) == 10
    assert all(table[name].dtype == np.int64 for name in ("rows", "stitches", "mended", "FLdc side by side"))


def test_some_variants_make_a_table_in_their_order_and_none_an_empty_one():
    of_f = family(letter_f)
    assert list(variants([of_f[4], of_f[1]])["name"]) == [of_f[4].name, of_f[1].name]
    assert list(variants(variant for variant in of_f)["name"]) == [variant.name for variant in of_f]
    assert list(variants([]).columns) == list(variants(of_f).columns)


def test_variants_are_ranked_by_their_table():
    of_f = family(letter_f)
    shares = [variant.motif.overlaid.mean() for variant in of_f]
    fewest_first = sorted(range(1, len(of_f) + 1), key=lambda number: shares[number - 1])
    assert list(rank(variants(of_f), ["FLdc percent"]).index) == fewest_first
