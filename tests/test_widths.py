"""Widths: every count of repeats near a wanted size, against trying all of them on pictures that are really built."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from samples import letter_f, single, stripes, two_stacked
from strategies import motifs, workable_motifs

from mosaickit import Motif, Surround, Yarn, Yarns, YarnSettings, check, compile_chart
from mosaickit.errors import MotifError, OptionError, UnworkableError, WidthError
from mosaickit.fabric import count_rows
from mosaickit.gauge import Gauge
from mosaickit.sizes import Layout, WidthPlan, plan_widths
from mosaickit.sizes.widths.sides import SLACK
from mosaickit.yarn import Skein, carry_or_cut_width_cm, surcharge, yarn_usage

INCH = 2.54
common = Gauge(14, 16, over=4, unit="in")
# a swatch of 6 stitches and 7 rows to the inch, as in a how-to post: weak evidence, but the sums are sums
sixes = Gauge(6, 7, over=1, unit="in")
gauges = st.builds(Gauge, st.floats(8, 30), st.floats(8, 30))
worked_ways = st.sampled_from(["across", "along"])


@st.composite
def around(draw, motif):
    """What a motif may be surrounded by."""
    rows, columns = motif.shape
    flat = draw(st.booleans())
    few = st.integers(0, 2)
    return Surround(
        edges=draw(few) if flat else 0,
        balance_across=draw(st.integers(0, columns - 1)) if flat else 0,
        balance_up=draw(st.integers(0, rows - 1)),
        rings=draw(few) if flat else 0,
        rows_below=draw(few),
        rows_above=draw(few),
        colours=draw(st.sampled_from(["keep", "swap"])),
        in_the_round=not flat,
    )


# ---- the opponent ------------------------------------------------------------------------------------------


def sizes_cm(motif, gauge, worked):
    rows, stitches = motif.shape
    along_row, along_column = stitches * gauge.swatch_cm[0] / gauge.stitches, rows * gauge.swatch_cm[1] / gauge.rows
    return (along_row, along_column) if worked == "across" else (along_column, along_row)


def try_all(motif, gauge, width, length, tolerance, worked, surround, most=7):
    """All counts of repeats that fit, by building each picture, checking it and measuring it."""
    found = {}
    for across in range(1, most + 1):
        for up in range(1, most + 1):
            picture = Layout(motif, across=across, up=up, surround=surround).build()
            true = sizes_cm(picture, gauge, worked)
            near = [
                wanted is None or abs(size - wanted) <= (tolerance + SLACK) * wanted
                for size, wanted in zip(true, (width, length), strict=True)
            ]
            if all(near) and check(picture, in_the_round=surround.in_the_round).ok:
                found[across, up] = true
    return found


@given(st.data())
def test_the_fits_are_those_of_trying_all_counts(data):
    motif = data.draw(st.one_of(workable_motifs(most=4), motifs(most=3)))
    gauge, worked, surround = data.draw(gauges), data.draw(worked_ways), data.draw(around(motif))
    tolerance = data.draw(st.floats(0, 0.3))
    # at most 3 repeats each way and what stands beside them, 8 at most, so that 7 are enough
    about = sizes_cm(Layout(motif, across=3, up=3, surround=surround).build(), gauge, worked)
    width, length = (size * data.draw(st.floats(0.4, 1)) for size in about)
    expected = try_all(motif, gauge, width, length, tolerance, worked, surround)
    plan = plan_or_error(motif, gauge, width, length=length, tolerance=tolerance, worked=worked, surround=surround)
    if isinstance(plan, Exception):
        assert expected == {}
        return
    assert {(fit.across, fit.up): (fit.width_cm, fit.length_cm) for fit in plan.fits} == {
        counts: pytest.approx(sizes) for counts, sizes in expected.items()
    }
    far = [(abs(fit.deviation), abs(fit.length_deviation)) for fit in plan.fits]
    assert far == sorted(far, key=lambda pair: (round(pair[0], 9), round(pair[1], 9)))
    for design in plan.unworkable:
        assert not check(design.picture, in_the_round=surround.in_the_round).ok
        assert design.layout.findings_at_joins


def plan_or_error(*args, **options):
    try:
        return plan_widths(*args, **options)
    except (WidthError, UnworkableError) as error:
        return error


@given(st.data())
def test_the_tolerance_that_an_error_holds_is_enough_and_hardly_less_is(data):
    motif = data.draw(workable_motifs(most=4))
    options = {"worked": data.draw(worked_ways), "surround": data.draw(around(motif))}
    asked = motif, data.draw(gauges), data.draw(st.floats(2, 60))
    error = plan_or_error(*asked, tolerance=0, **options)
    assume(isinstance(error, WidthError))
    if error.tolerance is None:
        with pytest.raises(WidthError, match="is too small: the least that can be worked is"):
            plan_widths(*asked, tolerance=1, **options)
        return
    plan = plan_widths(*asked, tolerance=error.tolerance, **options)
    assert error.tolerance - 0.001 - SLACK < abs(plan.nearest.deviation) <= error.tolerance + SLACK
    if error.tolerance > 0.001:
        with pytest.raises(WidthError, match=rf"take a tolerance of {error.tolerance:g}\."):
            plan_widths(*asked, tolerance=error.tolerance - 0.001, **options)


@given(st.data())
def test_what_a_fit_costs_is_what_its_picture_costs(data):
    motif = data.draw(workable_motifs(most=5))
    surround = data.draw(around(motif))
    reversible, between = data.draw(st.booleans()), data.draw(st.sampled_from(["carried", "cut"]))
    yarn_settings = YarnSettings(between_rows=between, skeins=Skein(30, 50), margin=0.2)
    around_it = {"surround": surround, "yarn_settings": yarn_settings}
    plan = plan_or_error(motif, common, 9, tolerance=1, reversible=reversible, stitches_a_minute=12, **around_it)
    assume(isinstance(plan, WidthPlan))
    fit = plan.nearest
    picture = fit.layout.build()
    chart = compile_chart(picture, reversible, in_the_round=surround.in_the_round)
    assert (fit.rows, fit.stitches) == picture.shape
    assert fit.findings == ()
    assert fit.centred == np.array_equal(picture.grid, picture.grid[:, ::-1])
    assert fit.minutes == pytest.approx(picture.grid.size / 12)
    assert fit.fldc_share == pytest.approx(picture.overlaid.mean())
    usage = yarn_usage(chart, common, yarn_settings=yarn_settings)
    for ours, theirs in zip(fit.by_yarn, usage.by_yarn, strict=True):
        assert (ours.yarn, ours.skeins) == (theirs.yarn, theirs.skeins)
        amounts = theirs.low_m, theirs.likely_m, theirs.high_m, theirs.leftover_m
        assert (ours.low_m, ours.likely_m, ours.high_m, ours.leftover_m) == pytest.approx(amounts, rel=1e-9)
    assert fit.surcharge == pytest.approx(
        surcharge(picture, common, in_the_round=surround.in_the_round, yarn_settings=YarnSettings(between_rows=between))
    )
    both = [
        yarn_usage(chart, common, yarn_settings=YarnSettings(between_rows=way)).total_m.sum()
        for way in ("carried", "cut")
    ]
    assert fit.carried_and_cut_m == pytest.approx(both, rel=1e-9)
    assert count_rows(chart).stitches.sum() == fit.rows * fit.stitches


# ---- published worked examples -----------------------------------------------------------------------------


def test_36_in_at_6_stitches_and_7_rows_to_the_inch_are_216_stitches_and_252_rows():
    # how-to post (weak): 36 in × 6 st/in = 216; rows 36 × 7 = 252
    plan = plan_widths(single, sixes, 36, length=36, unit="in", tolerance=0, surround=Surround(edges=0, colours="swap"))
    (fit,) = plan.fits
    assert (fit.stitches, fit.rows) == (216, 252)
    assert (fit.width_in, fit.length_in) == pytest.approx((36, 36))
    assert (fit.width_cm, fit.length_cm) == pytest.approx((91.44, 91.44))
    assert (fit.deviation, fit.length_deviation) == pytest.approx((0, 0), abs=1e-12)


@pytest.mark.parametrize(
    ("repeat", "plus", "near", "times", "stitches"),
    [
        (8, 10, 106, 12, 106),  # how-to post (weak): 12 repeats of 8 plus 10
        (12, 2, 110, 9, 110),  # how-to post (weak): 12 plus 2
        (6, 2, 70, 11, 68),  # how-to post (weak): 6 plus 2 near 70
        (3, 1, 7, 2, 7),  # a needlework encyclopedia of the 19th century, filet: 1 + 3n
        (3, 1, 10, 3, 10),
        (3, 1, 13, 4, 13),
    ],
)
def test_published_multiples_are_found_from_the_width(repeat, plus, near, times, stitches):
    motif = Motif(np.zeros((1, repeat), dtype=bool))
    edges, balance = divmod(plus, 2)
    width = near / 6  # inches, at 6 stitches to the inch
    plan = plan_widths(motif, sixes, width, unit="in", surround=Surround(edges=edges, balance_across=balance))
    assert (plan.nearest.across, plan.nearest.stitches) == (times, stitches)
    assert (plan.multiple.stitches, plan.multiple.plus_stitches) == (repeat, plus)
    assert plan.nearest.foundation_chain == stitches + 1


@pytest.mark.parametrize(("chain", "sc"), [(15, 14), (21, 20)])
def test_the_published_foundation_chain_belongs_to_its_stitches(chain, sc):
    # Craft Yarn Council, reading guide: "Ch 15; sc in 2nd ch from hook and across = 14 sc"; ch 21 gives 20 sc
    fit = plan_widths(single, common, sc * 4 / 14, unit="in", tolerance=0, surround=Surround(edges=0)).nearest
    assert (fit.stitches, fit.foundation_chain) == (sc, chain)


@pytest.mark.parametrize(
    ("width", "length"),
    # custom, no standard: scarf, child's scarf, and afghans from infant to adult, in inches
    [(8, 60), (6, 31), (24, 30), (30, 36), (36, 42), (36, 48), (48, 60), (50, 70)],
)
@pytest.mark.parametrize("worked", ["across", "along"])
def test_customary_sizes_are_met_within_15_percent_by_a_motif_of_7(width, length, worked):
    plan = plan_widths(
        letter_f,
        common,
        width,
        length=length,
        unit="in",
        worked=worked,
        tolerance=0.15,
        surround=Surround(colours="swap"),
    )
    fit = plan.nearest
    assert fit.width_in == pytest.approx(width, rel=0.15)
    assert fit.length_in == pytest.approx(length, rel=0.15)
    row = fit.stitches / 14 * 4
    assert row == pytest.approx(fit.width_in if worked == "across" else fit.length_in)
    assert fit.row_cm == pytest.approx(row * INCH)


def test_a_fit_buys_skeins_for_the_upper_end():
    fit = plan_widths(letter_f, common, 100, yarn_settings=YarnSettings(skeins=Skein(10, 50))).nearest
    for total in fit.by_yarn:
        assert total.margin == 0.10
        assert (total.skeins - 1) * 10 < total.high_m <= total.skeins * 10


# ---- by example --------------------------------------------------------------------------------------------


def test_half_a_repeat_closes_the_row_and_can_centre_it():
    motif = Motif.from_text("......\n.#..#.\n......")
    plain, half = (plan_widths(motif, common, 50, surround=Surround(balance_across=balance)) for balance in (0, "half"))
    assert half.nearest.stitches == plain.nearest.stitches + 3
    assert plain.nearest.centred
    assert half.nearest.centred
    assert not plan_widths(letter_f, common, 50).nearest.centred
    assert plan_widths(
        Motif.from_text("...\n#..\n..."), common, 50, surround=Surround(balance_across=2)
    ).nearest.centred


def test_edges_are_one_stitch_a_side_flat_and_none_in_the_round():
    assert plan_widths(letter_f, common, 50).nearest.layout.surround.edge_stitches == 1
    in_the_round = plan_widths(letter_f, common, 50, surround=Surround(in_the_round=True)).nearest.layout
    assert (in_the_round.surround.edge_stitches, in_the_round.stitches % 7) == (0, 0)


def test_without_a_length_there_are_as_few_repeats_up_as_can_be_worked():
    assert {fit.up for fit in plan_widths(letter_f, common, 50, tolerance=0.2).fits} == {1}
    # three rows, closed by a fourth: a ring closes around an odd number of them
    closed = plan_widths(
        Motif.from_text("..\n##\n.."), common, 9, surround=Surround(balance_up=1, rings=1, colours="swap")
    )
    assert closed.nearest.up == 2


def test_what_cannot_be_worked_is_left_out_and_says_why():
    plan = plan_widths(letter_f, common, 50, length=100, surround=Surround(rings=1, colours="swap"))
    assert {fit.up % 2 for fit in plan.fits} == {1}
    assert {design.up % 2 for design in plan.unworkable} == {0}
    assert "left out, 22 repeats up: A ring closes only around an odd number of rows, and 154 is even." in str(plan)


def test_a_plan_can_be_read():
    plan = plan_widths(
        letter_f,
        common,
        8,
        unit="in",
        tolerance=0.15,
        surround=Surround(balance_across=1),
        yarn_settings=YarnSettings(skeins=Skein(100, 50)),
    )
    assert str(plan) == "\n".join(
        [
            "For a width of 8 in (20.32 cm), to 0.15 of it; rows run across the width.",
            "Stitches: a multiple of 7 plus 3. Foundation: a multiple of 7 plus 4 chains. Rows: a multiple of 7.",
            "Fits: 2, the nearest first.",
            f"  {plan.fits[0]}",
            f"  {plan.fits[1]}",
            "In rows shorter than 11.25 in (28.57 cm), carrying takes less yarn than cutting; in longer ones, more.",
            "Expect to use 15–20% more or less; swatch to be sure.",
        ]
    )
    likely = plan.nearest.usage.likely_m
    assert str(plan.nearest).startswith(
        "4 × 1 repeats: 31 stitches (chain 32) × 7 rows = 8.857 in (22.5 cm) wide, 1.75 in (4.445 cm) long; "
        f"width +10.7%; not centred; {likely:.1f} m of yarn, from "
    )
    assert str(plan.nearest).endswith(" m; 0 h 11 min")


def test_a_long_plan_shows_its_beginning():
    plan = plan_widths(letter_f, common, 300, length=300, tolerance=0.3, surround=Surround(rings=1, colours="swap"))
    assert len(plan.fits) > 10
    assert len(plan.unworkable) > 10
    text = str(plan)
    assert f"\n  … and {len(plan.fits) - 10} more\n" in text
    assert f"\n  … and {len(plan.unworkable) - 10} more left out\n" in text
    assert len(text.splitlines()) == 3 + 11 + 11 + 2


def test_carry_or_cut_follows_tail_and_ease():
    plan = plan_widths(letter_f, common, 50, yarn_settings=YarnSettings(tail_cm=10, ease=0.2))
    assert plan.carry_or_cut_width_cm == carry_or_cut_width_cm(YarnSettings(tail_cm=10, ease=0.2))
    assert "carrying takes less" not in str(plan_widths(letter_f, common, 50, surround=Surround(in_the_round=True)))


# ---- bad input ---------------------------------------------------------------------------------------------


def test_a_width_below_one_repeat_names_the_smallest():
    with pytest.raises(
        WidthError,
        match=r"A width of 5 cm \(1\.969 in\) is too small: the least that can be worked is 1 repeat, 6\.531 cm "
        r"\(2\.571 in\)\. Ask for that, or take a tolerance of 0\.307\.",
    ) as error:
        plan_widths(letter_f, common, 5)
    assert error.value.tolerance == 0.307
    with pytest.raises(WidthError, match=r"Ask for that\.$") as error:
        plan_widths(letter_f, common, 3)
    assert error.value.tolerance is None


def test_no_fitting_count_names_its_neighbours_and_the_tolerance_that_would_do():
    with pytest.raises(
        WidthError,
        match=r"No count of repeats that can be worked comes within 1 percent of a width of 20 cm \(7\.874 in\): the "
        r"nearest are 3 repeats, 16\.69 cm \(6\.571 in\), and 4 repeats, 21\.77 cm \(8\.571 in\)\. Ask for one of "
        r"them, or take a tolerance of 0\.089\.",
    ):
        plan_widths(letter_f, common, 20, tolerance=0.01)
    with pytest.raises(WidthError, match=r"of a length of 20 cm .* 4 repeats, 17\.78 cm .* and 5 repeats, 22\.23 cm"):
        plan_widths(letter_f, common, 22, length=20, surround=Surround(colours="swap"))


def test_a_length_that_only_unworkable_counts_reach_says_why_and_names_the_cure():
    with pytest.raises(
        WidthError, match=r"2 repeats up come near\. Try colours=\"swap\" in the surround\. What is wrong: Rows 8 and 9"
    ):
        plan_widths(letter_f, common, 22, length=2 * 7 * 4 / 16 * INCH)


@pytest.mark.parametrize("width", [49.8, 50.2])  # 28 repeats and two rings are 50 in
def test_the_counts_named_are_those_that_can_be_worked(width):
    with pytest.raises(
        WidthError,
        match=r"nearest are 27 repeats, .* and 29 repeats, .*28 repeats up come near\. A ring closes only around an "
        r"odd number of rows, and 196 is even\. What is wrong: Rows",
    ):
        plan_widths(
            letter_f,
            common,
            width,
            unit="in",
            tolerance=0.01,
            worked="along",
            surround=Surround(colours="swap", rings=2),
        )


def test_a_size_beyond_any_motif_is_refused():
    with pytest.raises(WidthError, match=r"is too large: the most that can be worked is 1428 repeats"):
        plan_widths(letter_f, common, 1e6)
    with pytest.raises(OptionError, match=r"`width in cm` must be a number from 0 to 1e\+07; got 1e\+300"):
        plan_widths(letter_f, common, 1e300, tolerance=1)
    with pytest.raises(MotifError, match="at most 10,000 rows or columns"):
        plan_widths(letter_f, common, 50, surround=Surround(rings=5000))
    with pytest.raises(MotifError, match="16,000,000 squares in all"):
        plan_widths(single, common, 9000 * 4 / 14 * INCH, length=9000 * 4 / 16 * INCH, tolerance=0.001)


def test_a_tolerance_that_takes_in_more_than_can_be_chosen_from_is_refused_with_one_that_does_not():
    with pytest.raises(
        WidthError, match=r"689 × 394 counts .* more than the 10,000 of a plan: take a tolerance"
    ) as error:
        plan_widths(single, common, 500, length=500, tolerance=0.5)
    fits = plan_widths(single, common, 500, length=500, tolerance=error.value.tolerance).fits
    assert 1000 < len(fits) <= 10_000


def test_a_motif_that_cannot_be_worked_at_any_count_is_refused_with_its_report():
    with pytest.raises(UnworkableError, match=r"No number of repeats of this can be worked; .*Rows 3 and 4") as error:
        plan_widths(two_stacked, common, 20)
    assert not error.value.report.ok
    with pytest.raises(UnworkableError, match="A ring closes only around an odd number of rows, and 4 is even"):
        plan_widths(stripes, common, 20, surround=Surround(rings=2))


@pytest.mark.parametrize("bad", [-0.1, 1.1, float("nan"), "5%"])
def test_a_tolerance_is_a_share(bad):
    with pytest.raises(OptionError, match=r"`tolerance` must be a number from 0 to 1; got"):
        plan_widths(letter_f, common, 20, tolerance=bad)


@pytest.mark.parametrize("bad", [0, -3, float("nan"), float("inf"), "wide", None])
def test_a_size_is_above_0(bad):
    with pytest.raises(OptionError, match=r"`width` must be a number of in above 0; got"):
        plan_widths(letter_f, common, bad, unit="in")
    if bad is not None:
        with pytest.raises(OptionError, match=r"`length` must be a number of cm above 0; got"):
            plan_widths(letter_f, common, 20, length=bad)


def test_other_bad_options_are_refused_in_a_sentence():
    with pytest.raises(OptionError, match=r"`stitches` must be a number above 0; got 0"):
        Gauge(0, 16)
    with pytest.raises(OptionError, match=r"`gauge` must be a `Gauge`; got 14"):
        plan_widths(letter_f, 14, 20)
    with pytest.raises(OptionError, match=r"`motif` must be a `Motif` or a `Design`; got 'F'"):
        plan_widths("F", common, 20)
    with pytest.raises(OptionError, match=r"`worked` must be one of 'across', 'along'; got 'up'"):
        plan_widths(letter_f, common, 20, worked="up")
    with pytest.raises(OptionError, match=r"`unit` must be one of 'cm', 'in'; got 'ft'"):
        plan_widths(letter_f, common, 20, unit="ft")
    with pytest.raises(OptionError, match=r"`surround` must be a `Surround`; got 'framed'"):
        plan_widths(letter_f, common, 20, surround="framed")
    with pytest.raises(OptionError, match=r"`balance_across` must be below the 7 stitches of the repeat, .* got 7\."):
        plan_widths(letter_f, common, 20, surround=Surround(balance_across=7))
    with pytest.raises(OptionError, match=r"`stitches_a_minute` must be a number above 0; got 0"):
        plan_widths(letter_f, common, 20, stitches_a_minute=0)
    with pytest.raises(OptionError, match=r"`yarn_settings` must be a `YarnSettings`; got \{'tail_cm': 10\}"):
        plan_widths(letter_f, common, 20, yarn_settings={"tail_cm": 10})


def test_yarns_that_change_with_the_rows_have_a_total_each():
    foam = Yarn("foam", "#3d8f92")
    sea = letter_f.with_yarns(Yarns(cc=[(1, Yarn("deep", "#123f5a")), (4, foam)]))
    fit = plan_widths(sea, common, 22, length=9 * 7 * 4 / 16 * INCH, surround=Surround(colours="swap")).nearest
    assert [total.yarn.name for total in fit.by_yarn] == ["cream", "deep", "foam"]
    assert replace(fit.layout, motif=letter_f).usage(common).likely_m < fit.usage.likely_m  # more tails


def test_skeins_name_every_yarn_of_the_motif_also_one_that_a_fit_does_not_use():
    # the yarn of row 1 for CC comes in only where the repeat is on the other colours
    rare = letter_f.with_yarns(Yarns(cc=[(1, Yarn("deep", "#123f5a")), (2, Yarn("foam", "#3d8f92"))]))
    skeins = {"cream": Skein(100, 50), "deep": Skein(90, 50), "foam": Skein(80, 50)}
    plan = plan_widths(rare, common, 22, yarn_settings=YarnSettings(skeins=skeins))
    assert [(total.yarn.name, total.skein.metres) for total in plan.nearest.by_yarn] == [("cream", 100), ("foam", 80)]
    del skeins["deep"]
    with pytest.raises(OptionError, match="`skeins` must name each yarn of the chart, 'cream', 'deep', 'foam', and no"):
        plan_widths(rare, common, 22, yarn_settings=YarnSettings(skeins=skeins))
