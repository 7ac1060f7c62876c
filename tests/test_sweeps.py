"""Sweeps: each line against the fabric built, and the same lines however they were worked out."""

from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from itertools import product
from multiprocessing import get_context

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from samples import letter_f, single, two_stacked
from strategies import motifs, workable_motifs

from mosaickit import Batch, Motif, Surround, YarnSettings, check, compile_chart, mirror, shift
from mosaickit.errors import MosaickitError, OptionError, UnworkableError
from mosaickit.gauge import Gauge
from mosaickit.sizes import Design, Divider, Field, Layout, Plain, plan_widths, sweep
from mosaickit.sizes.sweeps import sweeping
from mosaickit.yarn import Skein, yarn_usage

common = Gauge(14, 16, over=4, unit="in")
fine = Gauge(22, 25)
INCH = 2.54
few = st.lists(st.integers(0, 2), min_size=1, max_size=2, unique=True)
some = st.lists(st.integers(1, 4), min_size=1, max_size=2, unique=True)


def quiet(*args, **options):
    return sweep(*args, **{"batch": Batch(progress=False), **options})


# ---- every line is true ------------------------------------------------------------------------------------


@pytest.mark.usefixtures("slow")
@settings(max_examples=40)
@given(
    st.one_of(workable_motifs(most=4), motifs(most=3)),
    st.fixed_dictionaries(
        {
            "across": some,
            "up": some,
            "reversible": st.sampled_from([True, [False, True]]),
            "between_rows": st.sampled_from([["cut"], ["carried", "cut"]]),
        }
    ),
    st.fixed_dictionaries(
        {
            "rings": few,
            "edges": few,
            "rows_above": few,
            "colours": st.sampled_from(["keep", ["keep", "swap"]]),
            "balance_across": st.sampled_from([0, "half"]),
        }
    ),
)
def test_each_line_is_what_the_fabric_built_costs(motif, choices, around):
    ways = choices.pop("between_rows")
    yarn_settings = [YarnSettings(between_rows=way, tail_cm=9, skeins=Skein(7, 5)) for way in ways]
    swept = quiet(motif, [common, fine], surrounds=Surround.each(**around), yarn_settings=yarn_settings, **choices)
    for number, found in swept.table.iterrows():
        layout = swept.layout(number)
        picture = layout.build()
        assert (found["rows"], found["stitches"]) == picture.shape
        assert found["foundation chain"] == picture.shape[1] + 1
        assert found["can be worked"] == check(picture).ok
        assert found["can be worked"] == (found["why not"] == "")
        if not found["can be worked"]:
            assert found[["at least m", "yarn m", "at most m", "FLdc percent", "skeins"]].isna().all()
            continue
        reversible, way = found.get("reversible", choices["reversible"]), found.get("between rows", ways[0])
        gauge = {str(one): one for one in (common, fine)}[found["gauge"]]
        chart = compile_chart(picture, reversible)
        usage = yarn_usage(chart, gauge, yarn_settings=YarnSettings(between_rows=way, tail_cm=9, skeins=Skein(7, 5)))
        amounts = usage.low_m.sum(), usage.total_m.sum(), usage.high_m.sum()
        assert tuple(found[["at least m", "yarn m", "at most m"]]) == pytest.approx(amounts)
        cc = [role == "CC" for role in usage.row_colours]
        assert found["CC yarn m"] == pytest.approx(usage.total_m[cc].sum())
        assert found["MC yarn m"] + found["CC yarn m"] == pytest.approx(found["yarn m"])
        assert found["skeins"] == sum(total.skeins for total in usage.by_yarn)
        played = {*zip(usage.row_colours, usage.yarns, strict=True)}
        for role in ("MC", "CC"):
            of_role = sum(total.skeins for total in usage.by_yarn if (role, total.yarn) in played)
            assert found[f"{role} skeins"] == of_role
        assert found["leftover m"] == pytest.approx(sum(total.leftover_m for total in usage.by_yarn))
        assert found["FLdc percent"] == pytest.approx(100 * picture.overlaid.mean())
        assert found["centred"] == np.array_equal(picture.grid, picture.grid[:, ::-1])
        assert found["width cm"] == pytest.approx(picture.shape[1] * gauge.stitch_width_cm)
        assert found["length cm"] == pytest.approx(picture.shape[0] * gauge.row_height_cm)
        assert found["minutes"] == pytest.approx(picture.grid.size / 20)


@settings(max_examples=60)
@given(workable_motifs(most=5), st.sampled_from(["across", "along"]), st.floats(10, 40), st.floats(10, 40))
def test_the_counts_near_a_wanted_size_are_those_of_a_plan(motif, worked, width, length):
    options, surround = {"tolerance": 0.08, "worked": worked}, Surround(colours="swap", rings=1)
    table = quiet(motif, common, width=width, length=length, surrounds=surround, **options).table
    fits = table[table["within tolerance"] & table["can be worked"]]
    try:
        plan = plan_widths(motif, common, width, length=length, surround=surround, **options).fits
    except MosaickitError:
        plan = ()
    expected = {(fit.across, fit.up): (100 * fit.deviation, 100 * fit.length_deviation) for fit in plan}
    found = zip(fits["repeats across"], fits["repeats up"], strict=True)
    off = zip(fits["width off percent"], fits["length off percent"], strict=True)
    assert dict(zip(found, off, strict=True)) == {
        counts: pytest.approx(shares, abs=1e-9) for counts, shares in expected.items()
    }


def test_where_no_count_fits_both_neighbours_are_shown():
    table = quiet(letter_f, common, width=[5, 20, 1e5], tolerance=0.01).table
    assert table["wanted width cm"].tolist() == [5, 20, 20, 1e5]
    assert table["repeats across"].tolist() == [1, 3, 4, 1428]  # 1428 × 7 + 2 stitches: the most a motif holds
    assert not table["within tolerance"].any()
    assert np.sign(table["width off percent"]).tolist() == [1, -1, 1, -1]


def test_lines_are_the_product_of_all_choices_the_last_fastest():
    table = quiet(
        {"F": letter_f, "dot": single},
        {"medium": common, "fine": fine},
        across=[3, 1],
        up=range(1, 4, 2),
        variants={"as drawn": lambda motif: motif, "mirrored": mirror},
        reversible=[True, False],
        surrounds=Surround(colours="swap"),
    ).table
    names = ["motif", "variant", "repeats across", "repeats up", "gauge", "reversible"]
    expected = product(["F", "dot"], ["as drawn", "mirrored"], [3, 1], [1, 3], ["medium", "fine"], [True, False])
    assert list(table[names].itertuples(index=False, name=None)) == list(expected)
    assert list(table.index) == list(range(1, 65))
    assert list(table.columns[:4]) == ["motif", "variant", "gauge", "reversible"]
    assert "colours" not in table


def test_a_combination_that_makes_no_sense_says_so_and_the_others_stand():
    surrounds = Surround.each(balance_across=[0, 7], edges=[0, 1]) + Surround.each(in_the_round=True)
    table = quiet(letter_f, common, surrounds=surrounds).table
    assert table["can be worked"].tolist() == [True, True, False, False, True]
    assert table["foundation chain"].tolist() == [8, 10, 1, 1, 7]
    assert table["why not"].iloc[2].startswith("`balance_across` must be below the 7 stitches of the repeat")
    assert table["in the round"].tolist() == [False, False, False, False, True]
    unworkable = quiet([letter_f.named("F"), two_stacked.named("stack")], common, up=[1, 2]).table
    assert unworkable["can be worked"].tolist() == [True, False, False, False]
    assert "Rows 3 and 4" in unworkable["why not"].iloc[-1]


# ---- the same however it runs ------------------------------------------------------------------------------


@pytest.fixture
def small_batches(monkeypatch):
    monkeypatch.setattr(sweeping, "BATCH", 5)


def much(**batch):
    return quiet(
        [letter_f.named("F"), single.named("dot")],
        [common, fine],
        width=[11, 20.5],
        reversible=[False, True],
        surrounds=Surround.each(rings=[0, 1, 2], colours=["keep", "swap"]),
        yarn_settings={"soft": YarnSettings(yarn_mm=2.4), "firm": YarnSettings(skeins=Skein(90, 50))},
        batch=Batch(progress=False, **batch),
    ).table


@pytest.mark.usefixtures("small_batches")
def test_lines_are_the_same_in_threads_and_processes():
    table = much()
    assert len(table) > 150
    with ThreadPoolExecutor(3) as threads:
        pd.testing.assert_frame_equal(much(executor=threads), table, check_exact=True)
    with ProcessPoolExecutor(2, mp_context=get_context("forkserver")) as processes:
        pd.testing.assert_frame_equal(much(executor=processes), table, check_exact=True)


@pytest.mark.usefixtures("small_batches")
def test_a_sweep_that_was_stopped_goes_on_without_working_anything_out_twice(tmp_path, monkeypatch):
    table = much()
    worked_out, calculate = [], sweeping.calculate

    def counting(task, numbers):
        worked_out.append(numbers)
        return calculate(task, numbers)

    monkeypatch.setattr(sweeping, "calculate", counting)
    with pytest.raises(MosaickitError, match="7 of 39"):
        much(kept_in=tmp_path, stop=lambda: len(worked_out) >= 7)
    pd.testing.assert_frame_equal(much(kept_in=tmp_path), table, check_exact=True)
    assert len(worked_out) == len(set(worked_out)) == 39
    pd.testing.assert_frame_equal(much(kept_in=tmp_path), table, check_exact=True)
    assert len(worked_out) == 39


def test_what_was_kept_of_another_sweep_is_not_taken(tmp_path):
    kept = {"batch": Batch(progress=False, kept_in=tmp_path)}
    quiet(letter_f, common, across=[1, 2], **kept)
    others = {"across": [1, 3]}, {"reversible": True}, {"surrounds": Surround(rings=1)}
    for other in (*others, {"yarn_settings": YarnSettings(tail_cm=14)}):
        with pytest.raises(MosaickitError, match="another"):
            quiet(letter_f, common, **{"across": [1, 2]} | other, **kept)
    with pytest.raises(MosaickitError, match="another"):
        quiet(mirror(letter_f), common, across=[1, 2], **kept)
    # the speed of the maker changes no figure that is kept
    faster = quiet(letter_f, common, across=[1, 2], stitches_a_minute=40, **kept).table
    assert faster["minutes"].tolist() == [9 * 7 / 40, 16 * 7 / 40]


# ---- what one does with it ---------------------------------------------------------------------------------


def test_a_line_gives_its_layout_also_after_ranking():
    swept = quiet(
        letter_f, common, width=[20, 30], length=[30, 50], surrounds=Surround.each(rings=[0, 1], colours="swap")
    )
    best = swept.rank({"width off percent": 1, "length off percent": 1})
    assert len(best) > 3
    line = best.index[0]
    layout = swept.layout(line)
    assert isinstance(layout, Layout)
    assert layout.stitches == best.loc[line, "stitches"]
    assert layout.surround.rings == best.loc[line, "rings"]
    assert set(swept.pareto(["width off percent", "minutes"]).index) <= set(swept.table.index)
    with pytest.raises(OptionError, match=r"`line` must be one of the \d+ lines of the sweep, from 1; got 0"):
        swept.layout(0)


def test_a_sweep_shows_itself_as_its_table():
    swept = quiet(letter_f, common, up=[1, 2])
    assert repr(swept) == "<Sweep of 2 candidates, 1 can be worked>"
    assert "foundation chain" in swept._repr_html_()
    assert len(swept) == 2


# ---- bad input ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"across": []}, "`across` is empty: give one value, or several to choose from"),
        ({"across": [2, 2]}, "`across` has two that are called 2"),
        ({"width": 0}, "`width` must be a number of cm above 0; got 0"),
        ({"width": [20, None]}, "`width` must be a number of cm above 0; got None"),
        ({"width": 20, "across": 3}, "`across` and `width` both say how many repeats there are: give one of them"),
        ({"width": 20, "up": 3, "worked": ["across", "along"]}, "Worked 'along', `up` and `width` both say"),
        ({"tolerance": 2}, "`tolerance` must be a number from 0 to 1; got 2"),
        ({"worked": "up"}, "`worked` must be one of 'across', 'along'; got 'up'"),
        ({"reversible": "yes"}, "`reversible` must be one of False, True; got 'yes'"),
        ({"surrounds": {"a": 1}}, "`surrounds` must be a `Surround` or several; got 1"),
        ({"surrounds": "framed"}, "`surrounds` must be a `Surround` or several; got 'framed'"),
        ({"surrounds": [Surround()] * 2}, r"`surrounds` has two that are called Surround\(\)"),
        ({"batch": "here"}, "`batch` must be a `Batch`; got 'here'"),
        (
            {"yarn_settings": [{"tail_cm": 10}]},
            r"`yarn_settings` must be a `YarnSettings` or several; got \{'tail_cm': 10\}",
        ),
        ({"surrounds": [{"rings": 1}, Surround()]}, r"`surrounds` must be a `Surround` or several; got \{'rings': 1\}"),
        ({"worked": [["across"]]}, r"`worked` must be one of 'across', 'along'; got \['across'\]"),
        ({"yarn_settings": [15]}, "`yarn_settings` must be a `YarnSettings` or several; got 15"),
        (
            {"yarn_settings": [YarnSettings(), YarnSettings(skeins=Skein(100, 50))]},
            "`yarn_settings` that differ in skeins need names: give them as in {'soft': …, 'firm': …}",
        ),
        ({"stitches_a_minute": -1}, "`stitches_a_minute` must be a number above 0; got -1"),
        ({"variants": {"mirrored": "mirror"}}, "`variants` must give a function .* 'mirrored' is 'mirror'"),
        ({"variants": {"none": lambda motif: None}}, "The variant 'none' must make a `Motif`; it made None"),
        ({"across": range(1, 3000), "up": range(1, 3000)}, "a sweep of 8,994,001 combinations; the most are 5,000,000"),
    ],
)
def test_bad_choices_are_refused_in_a_sentence(options, message):
    with pytest.raises(OptionError, match=message):
        quiet(letter_f, common, **options)


@pytest.mark.parametrize("name", ["across", "up", "width", "reversible"])
@pytest.mark.parametrize("count", [10**7, 10**30])
def test_a_choice_of_too_many_is_refused_before_it_is_read(name, count):
    with pytest.raises(
        OptionError, match=f"This is a sweep of {count:,} combinations; the most are 5,000,000, so leave"
    ):
        quiet(letter_f, common, **{name: range(1, count + 1)})


def test_sizes_that_too_many_counts_come_near_are_refused_before_any_is_tried():
    with pytest.raises(OptionError, match=r"about 100,000,000 lines; .*: ask for fewer or smaller sizes, or a smaller"):
        quiet(single, common, width=1e5, length=1e5, tolerance=1)
    # the cure: a smaller tolerance
    assert len(quiet(single, common, width=1e4, length=30, tolerance=0.001)) > 1


def test_what_differs_has_a_column_and_names_have_one_too():
    def columns(**options):
        return list(quiet(letter_f, common, **options).table.columns.drop(plain, errors="ignore"))

    plain = quiet(letter_f, common).table.columns
    ways = [YarnSettings(between_rows=way, tail_cm=tail) for way in ("carried", "cut") for tail in (10, 15)]
    assert columns(yarn_settings=ways) == ["between rows", "tail cm"]
    assert columns(yarn_settings={"a": ways[0], "b": ways[1]}) == ["yarn settings", "tail cm"]
    assert columns(surrounds=Surround.each(rings=[0, 1], rows_above=2)) == ["rings"]
    named = {"bare": Surround(edges=0), "framed": Surround(rings=1)}
    assert columns(surrounds=named, yarn_settings=ways[:1]) == ["surround", "rings", "edges"]
    table = quiet(letter_f, common, surrounds=named).table
    assert table["surround"].tolist() == ["bare", "framed"]
    assert table["rings"].tolist() == [0, 1]
    assert columns(surrounds=Surround(rings=1), yarn_settings=ways[0]) == []


def test_motifs_and_gauges_are_asked_for_by_kind():
    with pytest.raises(OptionError, match="`motifs` must be a `Motif` or several; got 'F'"):
        quiet("F", common)
    with pytest.raises(OptionError, match="`gauges` must be a `Gauge` or several; got 14"):
        quiet(letter_f, [14])
    with pytest.raises(OptionError, match="`motifs` has two that are called 'F'"):
        quiet([letter_f.named("F"), mirror(letter_f).named("F")], common)
    with pytest.raises(UnworkableError, match='Use colours="swap"'):
        quiet(letter_f, common, variants={"a row up": lambda motif: shift(motif, up=1)})
    with pytest.raises(OptionError, match="`skeins` must name each yarn"):
        quiet(letter_f, common, yarn_settings=YarnSettings(skeins={"nothing": Skein(90, 50)}))


def test_a_motif_without_a_name_is_numbered():
    nameless = Motif(np.zeros((3, 2), dtype=bool))
    assert quiet([nameless, letter_f.named("F")], common).table["motif"].tolist() == ["motif 1", "F"]


# ---- finishes ----------------------------------------------------------------------------------------------

PLAIN = Design(letter_f, Gauge(16, 18)).but(colours="swap")
FINISHED = {
    "plain": PLAIN,
    "two rounds": PLAIN.but(border_rounds=2, finish_colour="CC"),
    "folded": PLAIN.but(border_rounds=1, ends="enclosed", between_rows="cut"),
    "at row ends": PLAIN.but(border_rounds=3, border_along="row ends", crab_stitch=True),
    "fringe": PLAIN.but(ends="fringe", between_rows="cut", tail_cm=16),
    "begun in sc": PLAIN.but(foundation="foundation sc", border_rounds=1, border_ratio=(3, 4)),
}


def finished(**options):
    alike = {"yarn_settings": YarnSettings(between_rows="cut", tail_cm=16, skeins=Skein(50, 20)), **options}
    return sweep(FINISHED, batch=Batch(progress=False), **alike)


def test_each_line_of_a_sweep_over_finishes_is_its_design():
    around = [Surround(colours="swap", **more) for more in ({}, {"rings": 1}, {"edges": 0, "in_the_round": True})]
    swept = finished(across=[1, 4], up=[2, 3], surrounds=around)
    seen = set()
    refused = swept.table[~swept.table["can be worked"] & swept.table["in the round"]]
    assert set(refused["motif"]) >= {"folded", "at row ends", "fringe"}
    assert refused["why not"].str.contains("In the round rows have no ends").sum() == 3 * 4
    for line in swept.table.index[swept.table["can be worked"]]:
        of, design = swept.table.loc[line], swept.design(line)
        assert design.finish == FINISHED[of["motif"]].finish
        assert (of["width cm"], of["length cm"]) == pytest.approx(tuple(design.size))
        assert of["yarn m"] == pytest.approx(design.usage.likely_m)
        assert (of["at least m"], of["at most m"]) == pytest.approx((design.usage.low_m, design.usage.high_m))
        assert of["skeins"] == sum(total.skeins for total in design.usage.by_yarn)
        assert of["minutes"] == pytest.approx(design.shape[0] * design.shape[1] / 20 + design.edging.minutes(20))
        seen.add(
            (
                of["motif"],
                bool(design.surround.in_the_round),
                design.size.width_cm - design.gauge.size_cm(*design.shape)[0] > 0.1,
            )
        )
    assert {name for name, _, wider in seen if wider} == {"two rounds", "folded", "at row ends", "begun in sc"}
    assert {name for name, in_the_round, _ in seen if in_the_round} >= {"plain", "two rounds"}


@pytest.mark.parametrize("skeins", [None, Skein(50, 20)])
def test_what_a_finish_takes_is_to_the_last_digit_what_the_design_of_the_line_says(skeins):
    # of any size, so that what many pieces share is asked for at few and at many stitches along each edge
    finished = {name: design for name, design in FINISHED.items() if name != "plain"}
    finished["all of it"] = PLAIN.but(border_rounds=2, ends="enclosed", between_rows="cut", crab_stitch=True)
    finished["all of it"] = finished["all of it"].but(border_corner="sc, ch 2, sc", foundation="foundation sc")
    finished["a full fringe"] = PLAIN.but(ends="fringe", between_rows="cut", tail_cm=16, added_strands=2)
    finished["in bands"] = FINISHED["two rounds"].but(bands=[Plain(3), Field(), Divider(), Field()])
    around = [Surround(colours="swap", **more) for more in ({}, {"rings": 2}, {"edges": 0, "in_the_round": True})]
    swept = sweep(
        finished,
        [Gauge(16, 18), Gauge(11, 19)],
        across=[1, 31],
        up=[2, 3],
        surrounds=around,
        yarn_settings=YarnSettings(between_rows="cut", tail_cm=16, skeins=skeins),
        batch=Batch(progress=False),
    )
    seen = set()
    for line in swept.table.index[swept.table["can be worked"]]:
        of, design = swept.table.loc[line], swept.design(line)
        usage = design.usage
        (_, of_mc, _), (_, of_cc, _) = usage.by_role
        amounts = ["at least m", "yarn m", "at most m", "MC yarn m", "CC yarn m"]
        assert tuple(of[amounts]) == (usage.low_m, usage.likely_m, usage.high_m, of_mc, of_cc)
        assert of["minutes"] == (design.shape[0] * design.shape[1] + design.edging.border_stitches) / 20
        if skeins:
            assert of["skeins"] == sum(total.skeins for total in usage.by_yarn)
        seen.add((of["motif"], design.surround.in_the_round))
    assert {name for name, in_the_round in seen if not in_the_round} == finished.keys()
    assert {name for name, in_the_round in seen if in_the_round} == {"two rounds", "begun in sc", "in bands"}


def test_gauges_with_stitches_alike_and_other_rows_each_get_their_own_counts_around_a_border():
    # how wide a border is follows from the height of a row, so counts across are not those of the other gauge
    banded = FINISHED["two rounds"].but(border_rounds=20, bands=[Plain(3), Field(), Divider(), Field()])
    gauges = Gauge(16, 8), Gauge(16, 24)

    def counts(*some):
        found = sweep({"banded": banded}, list(some), width=60, length=90, batch=Batch(progress=False)).table
        return found[["repeats across", "repeats up", "rows", "stitches"]].to_numpy().tolist()

    apart = [counts(gauge) for gauge in gauges]
    assert apart[0] != apart[1]
    assert sorted(counts(*gauges)) == sorted(apart[0] + apart[1])


@pytest.mark.parametrize("worked", ["across", "along"])
def test_a_wanted_size_is_that_of_the_piece_with_its_border(worked):
    table = finished(width=40, length=60, tolerance=0.08, worked=worked).table
    for name, design in FINISHED.items():
        near = set()
        for across in range(1, 40):
            for up in range(1, 40):
                size = design.but(across=across, up=up).size
                width, length = size if worked == "across" else (size.length_cm, size.width_cm)
                if abs(width / 40 - 1) <= 0.08 and abs(length / 60 - 1) <= 0.08:
                    near.add((across, up))
        lines = table[table["motif"] == name]
        assert set(zip(lines["repeats across"], lines["repeats up"], strict=True)) == near
        assert near
