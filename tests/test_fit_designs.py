"""Designs of fits and of lines: what a plan or a sweep tells of a piece is what its design tells, built or not.

A plan is held against trying all counts of repeats on pictures that are really built, a fit against the layout of its
motif, and a line of a sweep against the table.
"""

import numpy as np
import pytest
from samples import letter_f
from test_designs import GAUGE, LAYINGS, LEAF, random_design

import mosaickit as mk
from mosaickit.errors import OptionError, UnworkableError, WidthError
from mosaickit.sizes import Layout

SKEIN = mk.Skein(7, 5)


def asked_near(design, rng, worked):
    """A width and a length near those of a few repeats, by chance."""
    about = design.but(across=int(rng.integers(1, 5)), up=int(rng.integers(1, 5))).size
    sizes = [cm * rng.uniform(0.7, 1.2) for cm in about]
    return sizes if worked == "across" else sizes[::-1]


@pytest.mark.thorough
def test_the_design_of_a_fit_is_its_layout_and_its_yarn_and_skeins():
    rng, seen = np.random.default_rng(3), 0
    while seen < 300:
        start = random_design(rng)
        worked = rng.choice(["across", "along"]).item()
        width, length = asked_near(start.but(laying="straight"), rng, worked)
        settings = mk.YarnSettings(between_rows=rng.choice(["carried", "cut"]).item(), skeins=SKEIN)
        options = {"surround": start.surround, "reversible": start.reversible, "yarn_settings": settings}
        length = length if rng.random() < 0.6 else None
        try:
            plan = mk.plan_widths(start.motif, GAUGE, width, length=length, tolerance=0.5, worked=worked, **options)
        except (UnworkableError, WidthError):
            continue
        seen += 1
        assert plan.design == plan.fits[0].design
        for fit in (plan.fits[0], plan.fits[-1]):
            layout = Layout(start.motif, across=fit.across, up=fit.up, surround=start.surround)
            design, usage = fit.design, layout.usage(GAUGE, reversible=start.reversible, yarn_settings=settings)
            assert design == mk.Design(start.motif, GAUGE, across=fit.across, up=fit.up, **options)
            assert design.picture == layout.build() == fit.layout.build()
            assert (fit.rows, fit.stitches) == design.shape == layout.shape
            assert fit.foundation_chain == layout.foundation_chain
            assert design.counts.tolist() == layout.counts(start.reversible).tolist()
            assert design.usage == fit.usage == usage
            assert [total.skeins for total in design.usage.by_yarn] == [total.skeins for total in fit.by_yarn]
            assert (design.size.width_cm, fit.row_cm) == pytest.approx((fit.row_cm, layout.stitches * 10 / 16))
            sides = (fit.width_cm, fit.length_cm) if worked == "across" else (fit.length_cm, fit.width_cm)
            assert sides == tuple(design.size)


@pytest.mark.thorough
def test_the_fits_of_a_design_are_those_of_trying_all_counts_however_it_is_laid():
    rng, seen = np.random.default_rng(4), dict.fromkeys(LAYINGS, 0)
    while min(seen.values()) < 75:
        start = random_design(rng).but(hook_mm=4, title="A piece", skeins=SKEIN)
        worked = rng.choice(["across", "along"]).item()
        width, length = asked_near(start, rng, worked)
        tolerance = rng.uniform(0.02, 0.4)
        expected = set()
        for across in range(1, 7):
            for up in range(1, 7):
                design = start.but(across=across, up=up)
                sides = GAUGE.size_cm(*design.shape)[:: 1 if worked == "across" else -1]
                near = [abs(cm / asked - 1) <= tolerance for cm, asked in zip(sides, (width, length), strict=True)]
                if all(near) and mk.check(design.picture, in_the_round=start.surround.in_the_round).ok:
                    expected.add((across, up))
        try:
            plan = mk.plan_widths(start, width=width, length=length, tolerance=tolerance, worked=worked)
        except (UnworkableError, WidthError):
            found = {}
        else:
            seen[start.laying] += 1
            found = {(fit.across, fit.up): fit for fit in plan.fits}
            for design in plan.unworkable:
                assert not design.report.ok
                assert design.layout.findings_at_joins
        # repeats of one row or stitch that share it are one, however many
        if start.laying == "mirrored" and start.seam == "shared" and 1 in start.motif.shape:
            expected = {counts for counts in expected if (start.motif.shape[1] > 1 or counts[0] == 1)}
            expected = {counts for counts in expected if (start.motif.shape[0] > 1 or counts[1] == 1)}
        assert {counts for counts in found if max(counts) <= 6} == expected, start
        for (across, up), fit in list(found.items())[:2]:
            assert fit.design == start.but(across=across, up=up)
            assert (fit.rows, fit.stitches) == fit.design.picture.shape
            chart = mk.compile_chart(fit.design.picture, start.reversible, in_the_round=start.surround.in_the_round)
            usage = mk.yarn_usage(chart, GAUGE, yarn_settings=fit.design.calculated_by)
            assert fit.usage.likely_m == pytest.approx(usage.total_m.sum())
            assert [one.skeins for one in fit.by_yarn] == [one.skeins for one in usage.by_yarn]
            assert sum(fit.carried_and_cut_m) > 0
            assert fit.surcharge > 0 or fit.fldc_share == 0


@pytest.mark.thorough
def test_the_design_of_a_line_has_the_size_stitches_yarn_and_skeins_of_the_line():
    rng, seen = np.random.default_rng(5), 0
    while seen < 300:
        start = random_design(rng)
        around = {"surrounds": [start.surround, mk.Surround(colours="swap", rows_above=1)]}
        settings = [mk.YarnSettings(between_rows=way, skeins=SKEIN) for way in ("carried", "cut")]
        worked = rng.choice(["across", "along"]).item()
        counts = {"across": [1, 3], "up": [2, 1]} if rng.random() < 0.5 else {"width": 9.0, "length": 8.0}
        swept = mk.sweep(
            {"one": start.motif, "F": letter_f},
            {"coarse": GAUGE, "fine": mk.Gauge(22, 25)},
            variants={"as drawn": lambda motif: motif, "mirrored": mk.mirror},
            yarn_settings=settings,
            reversible=[False, True],
            worked=worked,
            batch=mk.Batch(progress=False),
            **around,
            **counts,
        )
        for line in rng.choice(swept.table.index, 6, replace=False).tolist():
            row = swept.table.loc[line]
            if "closes" in row["why not"] or "In the round" in row["why not"] or not row["rows"]:
                with pytest.raises(OptionError):
                    swept.design(line)
                continue
            design = swept.design(line)
            seen += 1
            assert design.picture == swept.layout(line).build()
            assert design.shape == (row["rows"], row["stitches"])
            assert (design.across, design.up) == (row["repeats across"], row["repeats up"])
            sides = tuple(row[["width cm", "length cm"]])
            assert tuple(design.size) == pytest.approx(sides if worked == "across" else sides[::-1])
            assert design.report.ok == row["can be worked"]
            if design.report.ok:
                amounts = design.usage.low_m, design.usage.likely_m, design.usage.high_m
                assert amounts == pytest.approx(tuple(row[["at least m", "yarn m", "at most m"]]))
                assert sum(total.skeins for total in design.usage.by_yarn) == row["skeins"]
                assert design.layout.overlaid * 100 == pytest.approx(row["FLdc percent"] * design.picture.grid.size)
                assert design.yarn_settings.between_rows == row["between rows"]
                assert design.reversible == row["reversible"]


# ---- by example --------------------------------------------------------------------------------------------


def decided():
    """A design that says all but its counts."""
    swatch = mk.Swatch(mk.compile_chart(LEAF), GAUGE, metres={"all": 1.4})
    design = mk.Design(LEAF, GAUGE, reversible=True, hand="left", hook_mm=4, swatches=[swatch])
    design = design.but(rings=1, colours="swap", title="Leaf scarf", terms="UK", skeins=SKEIN, up=3)
    return design.edition("begun").but(notes=["Block it."])


def test_a_fit_keeps_everything_else_of_a_design():
    design = decided()
    plan = mk.plan_widths(design, width=22, length=60, tolerance=0.1)
    for fit in plan.fits:
        assert fit.design == design.but(across=fit.across, up=fit.up)
        assert fit.usage == design.but(across=fit.across, up=fit.up).usage  # as the swatch taught
    assert len({fit.design.lengths.fldc for fit in plan.fits} - {mk.Design(LEAF, GAUGE).lengths.fldc}) == 1


def test_without_a_length_a_design_keeps_its_own_repeats_along_it():
    design = decided()
    assert {fit.up for fit in mk.plan_widths(design, width=22, tolerance=0.3).fits} == {3}
    along = mk.plan_widths(design.but(across=2), width=22, worked="along", tolerance=0.3)
    assert {fit.across for fit in along.fits} == {2}
    assert all(fit.width_cm == fit.design.size.length_cm for fit in along.fits)


def test_what_is_given_beside_a_design_changes_it_first():
    design, finer = decided(), mk.Gauge(22, 25)
    given = {"surround": mk.Surround(edges=2), "reversible": False, "yarn_settings": mk.YarnSettings(tail_cm=9)}
    plan = mk.plan_widths(design.but(up=1), finer, 22, tolerance=0.3, **given)
    changed = design.but(gauge=finer, up=1, **given)
    assert plan.design == changed.but(across=plan.design.across)
    assert plan.wanted.gauge == finer


def test_a_plan_counts_in_the_repeats_of_the_design():
    mirrored = mk.Design(LEAF, GAUGE, laying="mirrored", seam="shared", surround=mk.Surround(colours="swap"))
    plan = mk.plan_widths(mirrored, width=22, length=30, tolerance=0.1)
    assert str(plan.multiple).startswith("Stitches: a multiple of 3 plus 3.")
    assert all(fit.stitches == 3 * fit.across + 3 for fit in plan.fits)
    assert "10 × " in str(plan)


def test_a_half_drop_that_closes_only_with_some_counts_leaves_the_others_out_in_sight():
    # the dropped repeats begin and end in the middle of the motif, where this one is overlaid
    motif = mk.Motif.from_text("..\n##\n..")
    design = mk.Design(motif, GAUGE, laying="half-drop")
    with pytest.raises(UnworkableError, match=r"With 8 × 1 repeats this cannot be worked\. "):
        mk.plan_widths(design, width=11.25, tolerance=0.02)
    plan = mk.plan_widths(design, width=3, tolerance=0.5)
    assert [fit.across for fit in plan.fits] == [1]
    assert "\n  left out, 2 × 1 repeats: " in str(plan)


def test_a_sweep_takes_from_designs_what_is_not_given_and_gives_all_else_back():
    leaf = mk.Design(LEAF, GAUGE, reversible=True, hook_mm=4).but(rings=1, colours="swap", title="Leaf", skeins=SKEIN)
    letter = leaf.but(motif=letter_f, title="Letter", hand="left", up=7)
    choices = {"across": [1, 2], "up": [1, 3], "variants": {"as drawn": lambda one: one, "mirrored": mk.mirror}}
    quiet = mk.Batch(progress=False)
    by_hand = mk.sweep(
        {"a": LEAF, "b": letter_f},
        GAUGE,
        surrounds=leaf.surround,
        yarn_settings=leaf.yarn_settings,
        reversible=True,
        batch=quiet,
        **choices,
    )
    swept = mk.sweep({"a": leaf, "b": letter}, batch=quiet, **choices)
    assert swept.table.equals(by_hand.table)
    for line in swept.table.index:
        row = swept.table.loc[line]
        start = leaf if row["motif"] == "a" else letter
        motif = mk.mirror(start.motif) if row["variant"] == "mirrored" else start.motif
        expected = start.but(motif=motif, across=int(row["repeats across"]), up=int(row["repeats up"]))
        assert swept.design(line) == expected
    assert list(mk.sweep([leaf, letter], batch=quiet).table["motif"]) == ["Leaf", "Letter"]
    assert mk.sweep(leaf, mk.Gauge(20, 22), reversible=False, batch=quiet).design(1) == leaf.but(
        gauge=mk.Gauge(20, 22), reversible=False
    )


@pytest.mark.parametrize(
    ("motifs", "sentence"),
    [
        ([mk.Design(LEAF)], "`gauges` must be a `Gauge` or several; got None"),
        (mk.Design(LEAF, GAUGE, laying="brick"), "A sweep lays repeats straight, and 'leaf' is laid brick: "),
        (mk.Design(LEAF, GAUGE, by_thread=True), "The lengths of stitches in 'leaf' were measured, .* give `yarn_sett"),
        (
            {"a": mk.Design(LEAF, GAUGE), "b": mk.Design(LEAF, GAUGE).but(rings=1)},
            "The designs differ in their surround: give `surrounds`, for all",
        ),
        ({"a": mk.Design(LEAF, GAUGE), "b": "leaf.json"}, "`motifs` must be a `Motif` or several; got 'leaf.json'"),
    ],
)
def test_designs_that_no_sweep_can_take_are_refused_in_a_sentence(motifs, sentence):
    with pytest.raises(OptionError, match=sentence):
        mk.sweep(motifs, batch=mk.Batch(progress=False))


@pytest.mark.parametrize(
    ("call", "error", "sentence"),
    [
        (lambda: mk.plan_widths(mk.Design(LEAF), width=22), OptionError, "This design has no gauge"),
        (lambda: mk.plan_widths(decided()), OptionError, "`width` must be a number of cm above 0; got None"),
        (lambda: mk.plan_widths(LEAF, width=22), OptionError, "`gauge` must be a `Gauge`; got None"),
        (lambda: mk.plan_widths("leaf.json", GAUGE, 22), OptionError, "`motif` must be a `Motif` or a `Design`; got "),
        (
            lambda: mk.plan_widths(decided().but(up=2), width=22, tolerance=0.3),
            UnworkableError,
            "With 2 repeats up this cannot be worked. A ring closes only around an odd number of rows, and 10 is even",
        ),
        (
            lambda: mk.plan_widths(mk.Design(LEAF, GAUGE, up=2), width=22),
            UnworkableError,
            'With 2 repeats up this cannot be worked. Try colours="swap" in the surround. What is wrong: Rows 6 and 7',
        ),
        (
            lambda: mk.plan_widths(decided(), width=22, yarn_settings=mk.YarnSettings(skeins={"moss": SKEIN})),
            OptionError,
            "`skeins` must name each yarn of the chart",
        ),
    ],
)
def test_what_cannot_be_planned_is_refused_in_a_sentence(call, error, sentence):
    with pytest.raises(error, match=sentence):
        call()


def test_a_line_that_is_not_there_has_no_design():
    swept = mk.sweep(LEAF, GAUGE, across=[1, 2], batch=mk.Batch(progress=False))
    with pytest.raises(OptionError, match=r"`line` must be one of the 2 lines of the sweep, from 1; got 3"):
        swept.design(3)
