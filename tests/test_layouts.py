"""Layouts: what follows from one repeat, held against the picture built, checked, compiled and counted."""

import pickle
from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from samples import letter_f, single, stripes, two_stacked
from strategies import motifs, roles, workable_motifs, yarns_for

from mosaickit import Motif, Stitch, Surround, Yarn, Yarns, YarnSettings, check, compile_chart
from mosaickit.errors import MotifError, OptionError, UnworkableError
from mosaickit.fabric import Chart, count_rows, place_stitches
from mosaickit.gauge import Gauge
from mosaickit.motif import WORKABLE
from mosaickit.orientation import ROLES
from mosaickit.sizes import Layout
from mosaickit.sizes.layouts.repeats import RepeatSums
from mosaickit.yarn import Skein, yarn_usage

gauge = Gauge(14, 16, over=4, unit="in")
sand, deep, foam = Yarn("sand", "#e9dcc3"), Yarn("deep", "#123f5a"), Yarn("foam", "#3d8f92")
few, more = st.integers(0, 2), st.integers(1, 5)
reversibles = st.booleans()
BARE = Surround(edges=0)
yarn_settings = st.fixed_dictionaries(
    {},
    optional={
        "between_rows": st.sampled_from(["carried", "cut"]),
        "tail_cm": st.floats(0, 30),
        "ease": st.floats(0, 1),
        "margin": st.floats(0, 1),
        "yarn_mm": st.floats(1, 9),
        "skeins": st.just(Skein(100, 50)),
    },
).map(lambda given: YarnSettings(**given))


@st.composite
def alternating_motifs(draw):
    """Each column overlaid in every second row, or nowhere, now and then with a fault: the ones that can be turned."""
    rows, columns = draw(st.tuples(st.integers(1, 7), st.integers(1, 5)))
    start = draw(st.lists(st.integers(0, 1), min_size=columns, max_size=columns))
    overlaid = (np.arange(rows)[:, np.newaxis] + np.array(start)) % 2 == 1
    plain = Motif(np.zeros((rows, columns), dtype=bool), draw(roles), draw(yarns_for(rows)))
    return plain.with_grid(overlaid ^ plain.row_is_cc)


@st.composite
def layouts(draw):
    one = draw(st.one_of(workable_motifs(most=6), motifs(most=4), alternating_motifs()))
    rows, columns = one.shape
    flat = draw(st.booleans())
    return Layout(
        one,
        across=draw(more),
        up=draw(more),
        surround=Surround(
            balance_across=draw(st.integers(0, columns - 1)) if flat else 0,
            balance_up=draw(st.integers(0, rows - 1)),
            rings=draw(st.integers(0, 3)) if flat else 0,
            edges=draw(few) if flat else 0,
            rows_below=draw(few),
            rows_above=draw(few),
            colours=draw(st.sampled_from(["keep", "swap"])),
            in_the_round=not flat,
        ),
    )


workable_layouts = layouts().filter(lambda layout: layout.workable)


def built(layout, reversible=False):
    return compile_chart(layout.build(), reversible, in_the_round=layout.surround.in_the_round)


# ---- laws --------------------------------------------------------------------------------------------------


@given(layouts())
def test_a_layout_can_be_worked_just_when_the_picture_can(layout):
    assert layout.workable == check(layout.build(), in_the_round=layout.surround.in_the_round).ok


@given(layouts())
def test_a_layout_has_findings_at_its_joins_just_when_it_cannot_be_worked(layout):
    whole = check(layout.build(), rules=WORKABLE)
    # not the places, but the kinds of error are those of the whole
    assert {finding.rule for finding in layout.findings_at_joins} == {finding.rule for finding in whole.findings}
    sample = layout.sample
    assert sample.up <= 3
    assert sample.across == 1
    assert sample.sample == sample


@given(layouts())
def test_a_layout_knows_the_size_of_its_picture_and_the_colour_of_row_1(layout):
    motif = layout.build()
    assert (layout.shape, layout.first) == (motif.shape, motif.first)
    assert layout.foundation_chain == motif.shape[1] + (0 if layout.surround.in_the_round else 1)


@given(workable_layouts, reversibles)
def test_the_counts_are_those_of_the_picture_built_compiled_and_counted(layout, reversible):
    expected = count_rows(built(layout, reversible))
    by_role = [[role == row for row in expected.row_colours] for role in ROLES]
    assert layout.counts(reversible).tolist() == [expected.stitches[rows].sum(axis=0).tolist() for rows in by_role]


@given(workable_layouts, reversibles)
def test_the_counts_of_every_row_are_those_of_the_picture_built_compiled_and_counted(layout, reversible):
    counts, expected = layout.row_counts(reversible), count_rows(built(layout, reversible))
    assert counts.stitches.tolist() == expected.stitches.tolist()
    assert counts.row_colours == expected.row_colours
    assert counts.yarns == expected.yarns


def one_yarn_a_role(layout, yarns):
    return replace(layout, motif=layout.motif.with_yarns(yarns))


yarn_pairs = st.sampled_from([Yarns(), Yarns(sand, deep), Yarns(sand, sand)])


@given(workable_layouts, reversibles, yarn_settings, st.none() | yarn_pairs)
def test_the_yarn_is_that_of_the_picture_built_and_compiled(layout, reversible, yarn_settings, yarns):
    if yarns is not None:
        layout = one_yarn_a_role(layout, yarns)
    usage = layout.usage(gauge, reversible=reversible, yarn_settings=yarn_settings)
    expected = yarn_usage(built(layout, reversible), gauge, yarn_settings=yarn_settings)
    amounts = np.stack([expected.low_m, expected.total_m, expected.high_m])
    for role, line in zip(ROLES, usage.by_role, strict=True):
        of_role = [row == role for row in expected.row_colours]
        assert line == pytest.approx(amounts[:, of_role].sum(axis=1), rel=1e-9)
    totals = usage.low_m, usage.likely_m, usage.high_m
    assert totals == pytest.approx(amounts.sum(axis=1), rel=1e-9)
    assert usage.carried_m == pytest.approx(expected.carried_m.sum(), rel=1e-9)
    assert usage.tails_m == pytest.approx(expected.tails_m.sum(), rel=1e-9)
    assert [total.yarn for total in usage.by_yarn] == [total.yarn for total in expected.by_yarn]
    for ours, theirs in zip(usage.by_yarn, expected.by_yarn, strict=True):
        assert ours.low_m == pytest.approx(theirs.low_m, rel=1e-9)
        assert ours.likely_m == pytest.approx(theirs.likely_m, rel=1e-9)
        assert ours.high_m == pytest.approx(theirs.high_m, rel=1e-9)
        assert (ours.margin, ours.skein) == (theirs.margin, theirs.skein)


@given(layouts())
def test_centred_is_to_be_its_own_mirror(layout):
    grid = layout.build().grid
    assert layout.centred == np.array_equal(grid, grid[:, ::-1])


@given(layouts())
def test_a_layout_in_its_own_sums_is_the_same_layout(layout):
    sums = RepeatSums.of(layout.motif)
    again = replace(layout, sums=sums)
    assert again == layout
    assert again.sums is sums
    assert pickle.loads(pickle.dumps(again)) == layout


@given(workable_layouts, workable_layouts)
def test_the_sums_of_another_motif_are_not_taken(layout, other):
    assert replace(layout, sums=other.sums).counts().tolist() == layout.counts().tolist()


@given(workable_layouts)
def test_a_repeat_more_adds_the_stitches_of_the_multiple(layout):
    multiple = layout.multiple
    assert layout.stitches == multiple.stitches * layout.across + multiple.plus_stitches
    assert layout.foundation_chain == multiple.stitches * layout.across + multiple.plus_chains
    assert layout.rows == multiple.rows * layout.up + multiple.plus_rows


# ---- everything --------------------------------------------------------------------------------------------


def every_small_column():
    """All motifs of one column and up to 3 rows, laid in all ways up to 5 repeats, with ring and plain rows or not."""
    for rows in (1, 2, 3):
        for squares in product([False, True], repeat=rows):
            one = Layout(Motif(np.array(squares)[:, np.newaxis]), surround=BARE)
            ways = product(range(1, 6), range(rows), (0, 1), (0, 1), (0, 1, 2), ("keep", "swap"))
            for up, balance_up, rings, below, above, colours in ways:
                around = {"balance_up": balance_up, "rings": rings, "rows_below": below, "rows_above": above}
                yield replace(one, up=up, surround=Surround(edges=0, colours=colours, **around))


@pytest.mark.usefixtures("slow")
def test_of_every_small_column_in_every_layout_all_is_as_in_the_picture():
    workable = 0
    for layout in every_small_column():
        picture = layout.build()
        assert layout.workable == check(picture, rules=WORKABLE).ok, layout
        if layout.up > 3:  # up to there the smallest layout is the whole
            assert layout.workable == (not layout.findings_at_joins), layout
        if layout.workable:
            workable += 1
            for reversible in (False, True):
                expected = count_rows(Chart(place_stitches(picture, reversible), layout.row_counts().row_colours))
                assert layout.counts(reversible).sum(axis=0).tolist() == expected.total.tolist(), layout
                assert layout.row_counts(reversible).stitches.tolist() == expected.stitches.tolist(), layout
    assert workable > 500


# ---- by example --------------------------------------------------------------------------------------------


def test_the_closing_stitches_are_the_first_in_working_order():
    # stitch 1 lies at the right, so the repeat's right-hand columns come once more at the left
    across = Layout(Motif.from_text("#.."), across=2, surround=Surround(balance_across=2, edges=0))
    assert across.build().to_text() == "..#..#.."
    up = Layout(Motif.from_text("#\n.\n."), up=2, surround=Surround(balance_up=2, edges=0))
    assert up.build().to_text().split() == list("..#..#..")


def test_a_framed_layout_can_be_read():
    layout = Layout(letter_f, across=2, surround=Surround(balance_across=1, rings=1, edges=1, rows_above=1))
    assert layout.build().to_text() == "\n".join(
        [
            "...................",
            "###################",
            ".#...............#.",
            "###################",
            ".#..#...#..#...#.#.",
            "######.######.#####",
            ".#..#......#.....#.",
            "###################",
            ".#...............#.",
            "###################",
        ]
    )


def test_an_odd_repeat_in_its_own_colours_clashes_from_the_second_one_on():
    assert Layout(letter_f).workable
    twice = Layout(letter_f, up=2)
    assert not twice.workable
    assert Layout(letter_f, up=2, surround=Surround(colours="swap")).workable
    assert twice.findings_at_joins[0].message.startswith("Rows 8 and 9, stitch")


def test_what_cannot_be_worked_is_not_counted_but_raised_with_its_report():
    layout = Layout(two_stacked, across=30, up=9, surround=BARE)
    for verb in (layout.counts, layout.row_counts, lambda: layout.usage(gauge)):
        with pytest.raises(
            UnworkableError, match=r"smallest one with the same joins, 15 rows of 3 stitches: Rows 3"
        ) as e:
            verb()
        assert not e.value.report.ok


def test_an_even_number_of_rows_takes_no_frame_but_one_ring_between_plain_rows():
    assert not Layout(stripes, surround=Surround(rings=1)).workable
    assert not Layout(stripes, surround=Surround(rings=2, rows_above=1)).workable
    assert Layout(stripes, surround=Surround(rings=1, rows_above=1)).workable


def test_if_nothing_is_said_there_is_an_edge_stitch_at_each_side_and_none_in_the_round():
    assert Layout(letter_f) == Layout(letter_f, surround=Surround())
    assert Layout(letter_f) == Layout(letter_f, surround=Surround(edges=1))
    assert Layout(letter_f, surround=Surround(balance_across="half")).surround == Surround(balance_across=3, edges=1)
    assert Layout(letter_f, across=4).foundation_chain == 31
    assert Layout(letter_f, across=4, surround=Surround(in_the_round=True)).foundation_chain == 28


def test_bad_numbers_are_refused_in_a_sentence():
    for name in ("across", "up"):
        with pytest.raises(OptionError, match=rf"`{name}` must be a whole number of 1 or more; got 0\."):
            Layout(letter_f, **{name: 0})
    with pytest.raises(OptionError, match=r"`balance_across` must be below the 7 stitches of the repeat, .* got 7\."):
        Layout(letter_f, surround=Surround(balance_across=7))
    with pytest.raises(OptionError, match=r"`balance_up` must be below the 7 rows of the repeat, .* got 9\."):
        Layout(letter_f, surround=Surround(balance_up=9))
    with pytest.raises(OptionError, match="`motif` must be a `Motif`; got 'F'"):
        Layout("F")
    with pytest.raises(OptionError, match=r"`surround` must be a `Surround`; got \{'rings': 1\}\."):
        Layout(letter_f, surround={"rings": 1})
    with pytest.raises(
        OptionError, match="`skeins` must name each yarn of the chart, 'cream', 'ink blue', and no other"
    ):
        Layout(letter_f).usage(gauge, yarn_settings=YarnSettings(skeins={"cream": Skein(100, 50)}))


def test_a_layout_may_be_counted_that_is_too_large_to_be_built():
    layout = Layout(single, across=100_000, up=3, surround=BARE)
    assert layout.counts().sum() == 300_000
    with pytest.raises(MotifError, match="at most 10,000 rows or columns"):
        layout.build()


def test_numbers_from_numpy_are_numbers():
    layout = Layout(letter_f, across=np.int64(3), surround=BARE)
    assert (type(layout.across), layout.shape) == (int, (7, 21))


# Published worked examples of "multiple of m plus b". How-to posts: weak evidence, but the sums are sums.
@pytest.mark.parametrize(
    ("repeat", "plus", "times", "stitches"),
    [
        (8, 10, 12, 106),  # how-to post: 12 repeats of 8 plus 10
        (12, 2, 9, 110),  # how-to post: 12 plus 2
        (6, 2, 11, 68),  # how-to post: 6 plus 2, near 70
        (3, 1, 2, 7),  # a needlework encyclopedia of the 19th century, filet: 1 + 3n
        (3, 1, 3, 10),
        (3, 1, 4, 13),
    ],
)
def test_published_multiples_come_out(repeat, plus, times, stitches):
    edges, balance = divmod(plus, 2)
    layout = Layout(
        Motif(np.zeros((2, repeat), dtype=bool)), across=times, surround=Surround(edges=edges, balance_across=balance)
    )
    assert layout.stitches == stitches
    multiple = layout.multiple
    assert (multiple.stitches, multiple.plus_stitches, multiple.plus_chains) == (repeat, plus, plus + 1)


# Craft Yarn Council, reading guide: "Ch 15; sc in 2nd ch from hook and across = 14 sc"; ch 21 gives 20 sc
@pytest.mark.parametrize(("chain", "sc"), [(15, 14), (21, 20)])
def test_the_published_foundation_chain_gives_its_stitches(chain, sc):
    layout = Layout(single, across=sc, surround=BARE)
    assert layout.foundation_chain == chain
    assert layout.counts()[:, Stitch.SC].sum() == sc


def test_a_multiple_prints_both_ways_of_saying_it():
    assert str(Layout(letter_f, surround=Surround(edges=1)).multiple) == (
        "Stitches: a multiple of 7 plus 2. Foundation: a multiple of 7 plus 3 chains. Rows: a multiple of 7."
    )
    assert "multiple of 7 plus 1 chain." in str(Layout(letter_f, surround=BARE).multiple)
    assert "Foundation: a multiple of 7." in str(Layout(letter_f, surround=Surround(in_the_round=True)).multiple)
