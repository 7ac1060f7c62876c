"""Foundation, ends, fringe and border: sums against the hook that works them move by move, and published figures.

The hook knows places and loops only. A border's counts are held against squares of a grid too: a round of single
crochet with 3 in each corner is the ring of squares around a rectangle.
"""

import json
import re
from dataclasses import fields, replace
from itertools import pairwise

import matplotlib.pyplot as plt
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from matplotlib.colors import to_rgba
from samples import letter_f
from strategies import workable_motifs

import mosaickit as mk
from mosaickit import guiding
from mosaickit.errors import ChartError, OptionError
from mosaickit.fabric import EdgeMove, EdgePlace, edge_tails, work_edges
from mosaickit.publish import contents
from mosaickit.sizes import (
    USUAL_FINISH,
    Edging,
    design_from_json,
    design_to_json,
    edge_moves,
    finishing_cautions,
    finishing_steps,
    flat_pick_up,
)
from mosaickit.sizes.designs.documents import schema
from mosaickit.sizes.finishes.finish import strand_for, tail_for
from mosaickit.sizes.finishes.moves import row_ends
from mosaickit.widgets.book.edges import edge_names
from mosaickit.widgets.book.entries import entered

pytestmark = pytest.mark.thorough

IN = 2.54
GAUGE = mk.Gauge(14, 16)
LEAF = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf")
MAT = mk.Design(LEAF, GAUGE).but(across=8, up=9, colours="swap", between_rows="cut", title="Leaf mat")
"""45 rows of 34 stitches, yarn cut."""
SCHEMA = Draft202012Validator(json.loads(schema()))

rounds = st.integers(1, 5)
ratios = st.none() | st.tuples(st.integers(1, 9), st.integers(1, 9))
corners = st.sampled_from(["3 sc", "5 sc", "sc, ch 1, sc", "sc, ch 2, sc"])
borders = {"border_rounds": rounds, "border_corner": corners, "border_ratio": ratios, "crab_stitch": st.booleans()}
roles = st.sampled_from(["MC", "CC"])
foundations = st.sampled_from(["chain", "foundation sc"])
finishes = st.one_of(
    st.builds(mk.Finish, foundation=foundations, ends=st.sampled_from(["as they come", "woven in"])),
    st.builds(
        mk.Finish,
        ends=st.sampled_from(["woven in", "enclosed"]),
        foundation=foundations,
        finish_colour=roles,
        **borders,
    ),
    st.builds(mk.Finish, border_along=st.just("row ends"), finish_colour=roles, **borders),
    st.builds(
        mk.Finish,
        ends=st.just("fringe"),
        fringe_cm=st.floats(1, 11),
        tails_a_knot=st.integers(1, 2),
        added_strands=st.integers(0, 3),
        trimmed=st.booleans(),
        finish_colour=roles,
    ),
)


@st.composite
def finished(draw):
    """A design that can be worked, with a finish; its yarn is cut."""
    gauge = mk.Gauge(draw(st.integers(8, 24)), draw(st.integers(8, 24)))
    motif = draw(workable_motifs(st.tuples(st.integers(2, 8), st.integers(1, 8))))
    edges, hand = draw(st.integers(0, 2)), draw(st.sampled_from(["right", "left"]))
    finish = draw(finishes)
    in_the_round = (
        finish.ends in ("as they come", "woven in") and finish.border_along == "all sides" and draw(st.booleans())
    )
    around = {"in_the_round": True} if in_the_round else {"edges": edges}
    return mk.Design(motif, gauge).but(between_rows="cut", hand=hand, finish=finish, **around)


def in_the_round(design):
    return design.surround.in_the_round


def crab(design):
    """A round of crab stitch, if there is one: one in each stitch below it, three in each of four corners."""
    finish, edging = design.finish, design.edging
    if not finish.crab_stitch:
        return []
    if in_the_round(design) or finish.border_along == "row ends":
        return [edging.rounds[-1]]
    return [(edging.closing or edging.rounds[-1]) + 4 * (3 if "ch" in finish.border_corner else 2)]


def bare(design):
    return design.but(finish=USUAL_FINISH)


# ---- nothing changes unless it is asked for ----------------------------------------------------------------


@pytest.mark.parametrize("between_rows", ["carried", "cut"])
@pytest.mark.parametrize("in_the_round", [False, True])
def test_the_usual_finish_changes_nothing(between_rows, in_the_round):
    design = mk.Design(LEAF, GAUGE, across=3).but(between_rows=between_rows, in_the_round=in_the_round)
    chart = mk.compile_chart(design.picture, in_the_round=in_the_round)
    by_hand = mk.yarn_usage(chart, GAUGE, yarn_settings=design.yarn_settings)
    assert [total.likely_m for total in design.usage.by_yarn] == pytest.approx(
        [total.likely_m for total in by_hand.by_yarn]
    )
    assert design.size == GAUGE.size_cm(*design.shape)
    assert str(design.rows) == str(mk.write_rows(chart, between_rows=between_rows, repeat=4))
    assert finishing_steps(design) == ()
    page = design.page()
    assert page == replace(
        mk.pattern(
            chart, title="leaf", gauge=GAUGE, yarn_settings=design.yarn_settings, repeat=4
        ),
        first_repeat=page.first_repeat,
    )  # fmt: skip
    assert (page.border_cm, page.fringe_cm, page.edge_use) == ((0, 0), 0, ())
    assert [what for what, _ in page.cautions] == ["Your hands"]


def test_a_design_kept_before_there_was_a_finish_has_the_usual_one():
    kept = json.loads(design_to_json(MAT.but(border_rounds=2)))
    del kept["finish"]
    assert design_from_json(json.dumps(kept)) == MAT


# ---- the hook is the witness -------------------------------------------------------------------------------


@given(finished())
def test_the_hook_works_what_the_sums_say_and_leaves_nothing_open(design):
    edging, worked = design.edging, work_edges(design.chart, edge_moves(design))
    assert worked.left_open == ()
    assert worked.stitches == edging.border_stitches
    more = crab(design)
    of_layer = {name: [sc for layer, sc, _ in worked.rounds if layer == name] for name in ("front", "back", "both")}
    if design.finish.border_along == "row ends" or in_the_round(design):
        assert of_layer["front"] == 2 * [*edging.rounds, *more]
    else:
        two = design.finish.layers == 2
        assert of_layer["front"] == [*edging.rounds, *([] if two else more)]
        assert of_layer["back"] == ([*edging.rounds] if two else [])
        assert of_layer["both"] == ([edging.closing, *more] if two else [])
    if edging.rounds and in_the_round(design):
        stitches = design.shape[1]
        assert worked.entered == {"foundation": stitches, "top": stitches, "first ends": 0, "last ends": 0}
    elif edging.rounds:
        rows, stitches = design.shape
        around = design.finish.border_along == "all sides"
        assert worked.entered["top"] == worked.entered["foundation"] == stitches * around
        # as many row ends as there are stitches, where there are fewer of these
        assert worked.entered["first ends"] == worked.entered["last ends"] == min(edging.side, rows)
        assert len(worked.skipped_ends) == 2 * max(rows - edging.side, 0)


@given(finished())
def test_the_yarn_of_a_finish_is_that_of_the_stitches_the_hook_makes(design):
    worked = work_edges(design.chart, edge_moves(design))
    moves = edge_moves(design)
    lengths, tail_cm = design.lengths, design.yarn_settings.tail_cm
    a_space = {"3 sc": 0, "5 sc": 0, "sc, ch 1, sc": 1, "sc, ch 2, sc": 2}[design.finish.border_corner]
    chains = a_space * sum(spaces for _, _, spaces in worked.rounds)
    # a chain to start each round or row, and one to join a round or to end both sides
    turned = design.finish.border_along == "row ends"
    chains += len(worked.rounds) * (1 if turned else 2)
    chains += design.finish.foundation == "foundation sc"
    own_tails = sum(move.do in ("join yarn", "fasten off") for move in moves)
    knots = sum(move.do == "knot" for move in moves)
    strands = knots * design.finish.added_strands * strand_for(design.finish.fringe_cm)
    expected = worked.stitches * lengths.sc + chains * lengths.chain + own_tails * tail_cm + strands
    assert design.usage.likely_m - bare(design).usage.likely_m == pytest.approx(expected / 100)
    assert sum(each.likely_m for each in design.usage.by_yarn) == pytest.approx(design.usage.likely_m)
    ruled = (own_tails * tail_cm + strands) / 100
    assert design.usage.tails_m - bare(design).usage.tails_m == pytest.approx(ruled)


@given(finished(), st.data())
def test_whatever_move_is_left_out_the_hook_notices(design, data):
    moves = [*edge_moves(design)]
    at = data.draw(st.integers(0, len(moves) - 1))
    left = [*moves[:at], *moves[at + 1 :]]
    try:
        worked = work_edges(design.chart, left)
    except ChartError:
        return
    assert not worked.closed or worked.rounds != work_edges(design.chart, moves).rounds


def test_two_layers_that_nothing_closes_are_open():
    design = MAT.but(ends="enclosed", border_rounds=2)
    moves = edge_moves(design)
    closing = [at for at, move in enumerate(moves) if len(move.at) == 2]
    left = [*moves[: closing[0]], *moves[closing[-1] + 2 :]]
    assert work_edges(design.chart, left).left_open == ("the two layers are not closed by a round through both",)
    late = [move for move in moves if move.do != "tuck in"]
    late[-3:-3] = [move for move in moves if move.do == "tuck in"]
    with pytest.raises(ChartError, match="nothing closes them yet"):
        work_edges(design.chart, late)


@pytest.mark.parametrize(
    ("moves", "says"),
    [
        ([EdgeMove("sc", (EdgePlace("top", 1),))], "no yarn is joined in the front layer"),
        ([EdgeMove("join yarn"), EdgeMove("join yarn")], "has its yarn already"),
        ([EdgeMove("join yarn"), EdgeMove("sc", (EdgePlace("top", 8),))], "no place 8 at its top"),
        ([EdgeMove("join yarn"), EdgeMove("sc", (EdgePlace("border", 1),))], "no stitch 1 in a round below"),
        ([EdgeMove("join yarn"), EdgeMove("sc")], "goes into one place"),
        ([EdgeMove("join yarn"), *[EdgeMove("sc", (EdgePlace("top", n),)) for n in (1, 2, 1)]], "already worked into"),
        ([EdgeMove("join yarn"), EdgeMove("close round")], "no stitch of the round is worked"),
        (
            [EdgeMove("join yarn"), EdgeMove("sc", (EdgePlace("top", 1),)), EdgeMove("fasten off")],
            "its round is not closed",
        ),
        ([EdgeMove("fasten off")], "no yarn is joined"),
        ([EdgeMove("weave in", (EdgePlace("top", 1),))], "no tail hangs at the top"),
        ([EdgeMove("weave in", (EdgePlace("first ends", 1),))] * 2, "already woven in"),
        ([EdgeMove("weave in")], "no tail left"),
        ([EdgeMove("knot", (EdgePlace("first ends", 1), EdgePlace("first ends", 3)))], "hang beside each other"),
        ([EdgeMove("knot", (EdgePlace("first ends", 1), EdgePlace("last ends", 1)))], "hang beside each other"),
        ([EdgeMove("tuck in", (EdgePlace("first ends", 1),))], "only when both are worked"),
        ([EdgeMove("sew")], "no move 'sew'"),
        ([EdgeMove("join yarn"), EdgeMove("crab", (EdgePlace("top", 1),))], "goes over a round of sc"),
        (
            [
                *[EdgeMove("join yarn"), *[EdgeMove("sc", (EdgePlace("top", n),)) for n in (1, 2, 3, 4, 5)]],
                *[EdgeMove("close round"), *[EdgeMove("crab", (EdgePlace("border", n),)) for n in (1, 2)]],
            ],
            "crab stitch goes backwards",
        ),
    ],
)
def test_what_no_hook_can_do_is_refused(moves, says):
    with pytest.raises(ChartError, match=says):
        work_edges(mk.compile_chart(letter_f), moves)


def test_tails_hang_where_yarn_begins_and_ends():
    assert len(edge_tails(MAT.chart, "cut")) == 2 * 45
    carried = edge_tails(MAT.chart, "carried")
    assert carried == tuple(EdgePlace(*each) for each in (
        ("first ends", 1), ("first ends", 2), ("last ends", 44), ("last ends", 45)
    ))  # fmt: skip


# ---- rings of squares --------------------------------------------------------------------------------------


def ring(wide, high, distance):
    """Count the squares at a distance from a rectangle, as a king walks."""
    return sum(
        max(max(-x, x - wide + 1, 0), max(-y, y - high + 1, 0)) == distance
        for x in range(-distance, wide + distance)
        for y in range(-distance, high + distance)
    )


@given(st.integers(1, 20), st.integers(1, 20), rounds, corners)
def test_a_round_is_a_ring_of_squares(rows, stitches, count, corner):
    """Five in a corner are two stitches more than the ring has there."""
    edging = Edging(mk.Finish(border_rounds=count, border_corner=corner, border_ratio=(1, 1)), rows, stitches)
    spaces = 4 if "ch" in corner else 0  # a space in place of the corner's square
    more = 8 if corner == "5 sc" else 0
    assert [*edging.rounds] == [
        ring(stitches, rows, number) - spaces + more * (number - 1) for number in range(1, count + 1)
    ]
    first = edging.rounds[0]
    assert edging.border_stitches == count * first + (8 + more) // 2 * count * (count - 1)


@given(st.integers(1, 300), st.integers(1, 9), st.integers(1, 9))
def test_what_is_picked_up_is_the_ratio_to_the_nearest_stitch_and_spread_evenly(rows, stitches, of_rows):
    edging = Edging(mk.Finish(border_rounds=1, border_ratio=(stitches, of_rows)), rows, 5)
    assert abs(edging.side - rows * stitches / of_rows) <= 0.5 or edging.side == 1
    ends = row_ends(edging)
    assert len(ends) == edging.side
    assert ends == sorted(ends)
    assert min(ends) >= 1
    assert max(ends) <= rows
    steps = [b - a for a, b in pairwise(ends)]
    assert not steps or max(steps) - min(steps) <= 1


@given(st.floats(5, 40), st.floats(5, 40))
def test_the_ratio_worked_out_lies_flat(stitches, rows):
    found = flat_pick_up(mk.Gauge(stitches, rows))
    assert found.flat == pytest.approx(stitches / rows)
    assert abs(found.stitches / found.rows / (stitches / rows) - 1) <= 0.01
    smaller = [(a, b) for b in range(1, found.rows) for a in range(1, 101)]
    assert all(abs(a / b / (stitches / rows) - 1) > 0.01 for a, b in smaller)


# ---- published figures -------------------------------------------------------------------------------------


def test_one_stitch_a_row_lies_flat_where_stitches_are_as_wide_as_rows_are_high():
    """Sc rows 1 a row: "Crochet Evenly Around" (crochetspot.com); 14 × 14: "Practice Graph" (Karis' Crafts, 2022)."""
    assert str(flat_pick_up(mk.Gauge(14, 14, over=4, unit="in"))) == "1 stitch for each row"


def test_seven_stitches_for_eight_rows():
    """At 7 st = 2 in and 4 rows = 1 in ("Narrow Step Afghan", knitting-crochet.com): 14 × 16 over 4 in."""
    assert flat_pick_up(mk.Gauge(7, 8, over=2, unit="in"))[:2] == (7, 8)


def test_foundation_sc_or_chains_of_the_practice_graph():
    """15 chart stitches and 2 are 17: 17 fsc or ch 18 ("Practice Graph", Karis' Crafts, 2022)."""
    graph = mk.Design(mk.Motif.from_text("#" * 15 + "\n" + "." * 15), GAUGE)
    assert "ch 18" in graph.rows.foundation
    fsc = graph.but(foundation="foundation sc").rows
    assert fsc.lines[0].text == "17 foundation sc"
    assert fsc.foundation == ""


@pytest.mark.parametrize(("strand", "fringe"), [(7, 3), (14, 6)])
def test_strands_of_a_published_fringe(strand, fringe):
    """7 in trimmed to 3, 14 in to 6 ("Scarf with Fringe", emihhh.blogspot.com, 2012)."""
    assert strand_for(fringe * IN) / IN == pytest.approx(strand)


def test_yarn_of_a_published_fringe():
    """56 strands of 11.5 in are 18 yd ("Seed Stitch Scarf", beachton.com, 2016)."""
    fringe_cm = next(cm / 100 for cm in range(500, 3000) if strand_for(cm / 100) >= 11.5 * IN)
    finish = mk.Finish(ends="fringe", fringe_cm=fringe_cm, tails_a_knot=2, added_strands=1)
    edging = Edging(finish, 56, 30)
    assert edging.added_strands == 56
    assert round(edging.cut_m(15) / 0.9144) == 18
    # and the tails of 28 cut rows, as long
    rows = mk.Design(mk.Motif([[row % 2 == 1] * 9 for row in range(28)][::-1]), GAUGE).but(
        between_rows="cut", tail_cm=11.5 * IN
    )
    assert round(rows.usage.tails_m / 0.9144) == 18


def test_tails_that_are_left_12_in_long_make_a_fringe_of_10_in():
    """12 in left at each end ("Narrow Step Afghan", knitting-crochet.com)."""
    assert tail_for(10 * IN) <= 12 * IN < tail_for(12 * IN)


def test_a_double_border_goes_round_the_edge_at_every_row_end_the_last_row_included():
    """One a row in each layer, one in each stitch of the last row: "Envelope Border" (Karis' Crafts, 2023)."""
    design = MAT.but(ends="enclosed", border_rounds=2, border_ratio=(1, 1), border_corner="sc, ch 2, sc")
    worked = work_edges(design.chart, edge_moves(design))
    assert worked.skipped_ends == ()
    assert worked.entered == {"foundation": 34, "top": 34, "first ends": 45, "last ends": 45}
    assert worked.rounds[0] == ("back", 2 * (34 + 45), 4)


def test_four_rounds_are_an_inch_deep():
    """16 to 14 rows in 10 cm, the gauges of the pages above: 2.5 to 2.9 cm."""
    for rows, cm in ((16, 2.5), (14, 2.9)):
        design = MAT.but(gauge=mk.Gauge(14, rows), border_rounds=4)
        assert round(design.edging.depth_cm, 1) == cm


def test_crab_stitch_goes_back_over_a_round_with_three_in_a_corner():
    """One a stitch, 2 or 3 in a corner, over a round of sc: "Crab Stitch sample" (knittersedge.com)."""
    design = MAT.but(border_rounds=2, border_ratio=(1, 1), crab_stitch=True)
    worked = work_edges(design.chart, edge_moves(design))
    assert [sc for _, sc, _ in worked.rounds] == [162, 170, 178]
    backwards = [move.at[0].number for move in edge_moves(design) if move.do == "crab"]
    assert backwards == sorted(backwards, reverse=True)
    assert sum(backwards.count(number) == 3 for number in set(backwards)) == 4
    assert "work sc backwards into the round below, from left to right" in finishing_steps(design)[-2]
    assert "from right to left" in finishing_steps(design.but(hand="left"))[-2]


def test_a_cowl_has_the_same_rounds_at_both_edges():
    cowl = MAT.but(in_the_round=True, border_rounds=3, crab_stitch=True, finish_colour="CC")
    worked = work_edges(cowl.chart, edge_moves(cowl))
    assert [sc for _, sc, _ in worked.rounds] == [32] * 8
    assert cowl.edging.adds_cm == (0, 2 * 4 * GAUGE.row_height_cm)
    assert finishing_steps(cowl, "UK")[2:4] == (
        "Rounds 2 to 3: ch 1, dc in each st around; join with a slip stitch. (32 dc)",
        "Crab stitch: do not turn; ch 1, work dc backwards into the round below, from left to right, 1 in each st; "
        "join with a slip stitch. (32 dc)",
    )
    page = cowl.page()
    assert page.finished_cm == pytest.approx(cowl.size)
    assert page.edge_use[0].stitches == 8 * 32


# ---- size, plans, time -------------------------------------------------------------------------------------


@given(finished())
def test_the_size_grows_by_a_row_for_each_round_at_every_side(design):
    (width, length), high = bare(design).size, design.gauge.row_height_cm
    finish = design.finish
    deep = (finish.border_rounds + (finish.layers == 2) + finish.crab_stitch) * high
    assert design.size.width_cm == pytest.approx(width + 2 * deep * (not in_the_round(design)))
    assert design.size.length_cm == pytest.approx(length + 2 * deep * (finish.border_along == "all sides"))


@pytest.mark.parametrize("worked", ["across", "along"])
def test_a_plan_counts_the_border_in(worked):
    design = MAT.but(border_rounds=5)
    plan = mk.plan_widths(design, None, 40, length=60, tolerance=0.1, worked=worked)
    found = {(fit.across, fit.up) for fit in plan.fits}
    wide, long = (40, 60) if worked == "across" else (60, 40)
    tried = [design.but(across=across, up=up) for across in range(1, 30) for up in range(1, 30)]
    near = {
        (one.across, one.up)
        for one in tried
        if abs(one.size.width_cm / wide - 1) <= 0.1 and abs(one.size.length_cm / long - 1) <= 0.1
    }
    assert found == near
    fit = plan.nearest
    exact = fit.design.but(gauge=fit.exact_gauge).edging
    assert exact.rounds  # the gauge is one
    without = mk.plan_widths(bare(design), None, 40, length=60, tolerance=0.2, worked=worked).fits
    other = next(one for one in without if (one.across, one.up) == (fit.across, fit.up))
    assert fit.minutes - other.minutes == pytest.approx(fit.design.edging.border_stitches / 20)


# ---- words -------------------------------------------------------------------------------------------------


@given(finished(), st.sampled_from(["US", "UK"]))
def test_the_steps_count_what_the_hook_counts(design, terms):
    steps = finishing_steps(design, terms)
    worked = work_edges(design.chart, edge_moves(design))
    told = []
    for step in steps:
        counts = re.search(r"\(([\d,]+(?:(?:, | and )[\d,]+)*) (?:sc|dc)\)$", step)
        if counts:
            assert counts[0].endswith("sc)" if terms == "US" else "dc)")
            told += [int(each.replace(",", "")) for each in re.findall(r"[\d,]*\d", counts[1])]
    rounds_ = [sc for _, sc, _ in worked.rounds]
    if design.finish.border_along == "row ends" or in_the_round(design):
        # one side or edge is told, the rows after the first together
        assert set(told) == set(rounds_)
    else:
        assert told == rounds_
    if terms == "UK":
        assert not re.search(r"\bsc\b", " ".join(steps))
    if design.finish.ends == "fringe":
        knots = sum(move.do == "knot" for move in edge_moves(design)) // 2
        assert re.search(rf"\b{knots} knots? at each side", " ".join(steps))


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize("in_the_round", [False, True])
def test_rows_on_foundation_sc_are_read_back(terms, in_the_round):
    design = mk.Design(LEAF, GAUGE, across=3).but(
        foundation="foundation sc", terms=terms, in_the_round=in_the_round, up=3, colours="swap"
    )
    text = str(design.rows)
    assert mk.read_rows(text) == design.chart
    assert not re.search(r"\bch\b|2nd|add 1 for", text.split("Notes:")[1])
    assert "second chain" not in "".join(design.rows.notes)
    plain = mk.write_rows(design.chart, terms=terms, style="plain words", foundation="foundation sc")
    assert mk.read_rows(str(plain)) == design.chart


@pytest.mark.parametrize(
    ("ends", "says"),
    [("woven in", "weave in the ends"), ("fringe", "stay as a fringe"), ("enclosed", "leave the tails for the border")],
)
def test_the_note_after_the_last_row_says_what_becomes_of_the_tails(ends, says):
    design = MAT.but(ends=ends, border_rounds=2 * (ends == "enclosed"))
    assert says in design.rows.notes[-1]
    assert says in design.page().words.remarks[-1]


def test_steps_name_the_yarn_where_a_colour_is_several():
    yarns = mk.Yarns(
        mc=mk.Yarn("oat", "#e8dcc0"), cc=[(1, mk.Yarn("moss", "#3d5a3a")), (3, mk.Yarn("plum", "#5b2a4e"))]
    )
    design = MAT.but(motif=LEAF.with_yarns(yarns), border_rounds=1, finish_colour="CC")
    assert "Border of 1 round in CC (plum)." in finishing_steps(design)[0]
    more = {total.yarn.name: total.likely_m for total in design.usage.by_yarn}
    less = {total.yarn.name: total.likely_m for total in bare(design).usage.by_yarn}
    assert [name for name in more if more[name] > less[name] + 1e-9] == ["plum"]


def test_a_ratio_that_does_not_lie_flat_is_said():
    said = finishing_steps(MAT.but(border_rounds=1, border_ratio=(1, 1)))[0]
    assert "Along the sides 1 stitch for each row is 14.3% more than would lie flat" in said
    assert "may wave" in said
    assert "may pull in" in finishing_steps(MAT.but(border_rounds=1, border_ratio=(1, 2)))[0]
    assert "lies flat with exactly 7 stitches for every 8 rows" in finishing_steps(MAT.but(border_rounds=1))[0]


def test_cautions_follow_from_the_ends():
    heads = {ends: [head for head, _ in finishing_cautions(mk.Finish(ends=ends))] for ends in ("woven in", "fringe")}
    assert heads == {"woven in": ["Tails", "Scissors and strands"], "fringe": ["Loose strands", "Scissors and strands"]}
    assert finishing_cautions(USUAL_FINISH) == ()


# ---- the page ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "changes",
    [
        {"border_rounds": 2, "finish_colour": "CC"},
        {"border_rounds": 3, "ends": "enclosed", "foundation": "foundation sc"},
        {"ends": "fringe", "added_strands": 2, "for_children": True},
        {"ends": "woven in", "terms": "UK"},
    ],
)
def test_the_page_says_what_follows_from_the_finish(changes):
    design = MAT.but(skeins=mk.Skein(105, 50), **changes)
    page = design.page()
    assert page.finished_cm == pytest.approx(design.size)
    assert page.words.finishing == finishing_steps(design, page.terms)
    assert [yarn.likely_m for yarn in page.yarns] == [total.likely_m for total in design.usage.by_yarn]
    assert [yarn.skeins for yarn in page.yarns] == [total.skeins for total in design.usage.by_yarn]
    table = contents.row_use(page)
    assert float(table.lines[-1][-2]) == pytest.approx(design.usage.likely_m, abs=0.051)
    stitches = design.counts.sum() + design.edging.border_stitches
    assert table.lines[-1][-3] == str(stitches)
    facts = dict(contents.facts(page, "US"))
    assert (", with its border" in facts["Finished size"]) is bool(design.edging.rounds)
    assert ("without the fringe of 10.0 cm" in facts["Finished size"]) is (design.finish.ends == "fringe")
    cautions = [head for head, _ in page.cautions]
    assert cautions[-1] == "Rules differ" or not design.words.for_children
    assert [head for head, _ in finishing_cautions(design.finish)] == [
        head for head in cautions if head in ("Loose strands", "Tails", "Scissors and strands")
    ]


def test_a_border_in_a_colour_that_has_no_row_has_its_yarn_on_the_page():
    one_row = mk.Design(mk.Motif.from_text("....."), GAUGE).but(border_rounds=2, finish_colour="CC")
    page = one_row.page()
    assert [(yarn.letter, yarn.roles) for yarn in page.yarns] == [("A", ("MC",)), ("B", ())]
    assert contents.yarn_lines(page)[1][1].startswith("The border: about")


# ---- the picture -------------------------------------------------------------------------------------------


def test_the_picture_has_the_border_and_the_fringe_in_true_proportion():
    for changes in ({}, {"border_rounds": 2, "finish_colour": "CC"}, {"border_rounds": 3, "border_along": "row ends"}):
        design = MAT.but(**changes)
        axes = mk.draw.finished(design)
        width, length = design.size
        beside, above = (added / 2 for added in design.edging.adds_cm)
        (image,) = axes.images
        assert image.get_extent() == pytest.approx([beside, width - beside, above, length - above])
        outline = [patch for patch in axes.patches if not patch.get_fill()]
        assert len(outline) == 1 + design.finish.border_rounds
        assert (outline[0].get_width(), outline[0].get_height()) == pytest.approx((width, length))
        filled = [patch.get_facecolor() for patch in axes.patches if patch.get_fill()]
        assert filled == [to_rgba(design.layout.last_yarn("CC" if "finish_colour" in changes else "MC").colour)] * bool(
            changes
        )
        plt.close(axes.figure)
    axes = mk.draw.finished(MAT.but(ends="fringe", fringe_cm=8, added_strands=1))
    tips = np.array(axes.collections[0].get_segments())[:, -1, 0]
    assert set(np.round(tips, 6)) == {-8.0, round(MAT.size.width_cm + 8, 6)}
    # a tail of each row at both sides, and two ends of each added strand
    assert len(tips) == 2 * (45 + 2 * 12)
    plt.close(axes.figure)


# ---- as a decision -----------------------------------------------------------------------------------------


@given(finished())
def test_a_finish_is_kept_in_a_file(design):
    text = design_to_json(design)
    assert design_from_json(text) == design
    SCHEMA.validate(json.loads(text))


@given(finishes)
def test_a_finish_is_written_as_the_call_that_makes_it(finish):
    assert eval(repr(finish), {"Finish": mk.Finish}) == finish


def test_comparing_names_what_differs():
    said = str(mk.compare(MAT, MAT.but(border_rounds=2, border_ratio=(7, 8), ends="enclosed")))
    for line in (
        "Rounds of the border: 0, now 2",
        "Picked up for the border: none, now 7 for 8 rows",
        "Ends: as they come, now enclosed",
        "Stitches of the border: none, now 782",
        "Width: 24.3 cm, now 28.0 cm",
    ):
        assert line in said.splitlines()


def test_whatever_is_worked_out_follows_a_change():
    _ = MAT.usage, MAT.rows, MAT.edging, MAT.chart
    other = MAT.but(border_rounds=2)
    assert other.__dict__["chart"] is MAT.chart  # the stitches are the same
    assert other.edging.rounds
    assert other.usage.likely_m > MAT.usage.likely_m


# ---- what is refused ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"border_rounds": -1}, "`border_rounds` must be a whole number from 0 to 50; got -1"),
        ({"border_rounds": 51}, "from 0 to 50; got 51"),
        ({"fringe_cm": 0}, "`fringe_cm` must be a number from 1 to 100"),
        ({"fringe_cm": -3.0}, "`fringe_cm`"),
        ({"tails_a_knot": -1}, "`tails_a_knot`"),
        ({"added_strands": 99}, "`added_strands`"),
        ({"border_ratio": (7, 0)}, r"`border_ratio` must be a pair of whole numbers from 1 to 100.*got \(7, 0\)"),
        ({"border_ratio": 1}, "`border_ratio`"),
        ({"border_corner": "4 sc"}, "`border_corner` must be one of '3 sc', '5 sc'"),
        ({"crab_stitch": 1}, "`crab_stitch` must be True or False"),
        ({"crab_stitch": True}, "over a round of single crochet: set `border_rounds` to 1 or more"),
        ({"foundation": "knots"}, "`foundation` must be one of 'chain', 'foundation sc'; got 'knots'"),
        ({"ends": "glued"}, "`ends` must be one of"),
        ({"finish_colour": "red"}, "`finish_colour`"),
        ({"trimmed": 1}, "`trimmed`"),
        ({"ends": "enclosed"}, "set `border_rounds` to 1 or more"),
        ({"ends": "enclosed", "border_rounds": 2, "border_along": "row ends"}, "`border_along` to 'all sides'"),
        ({"ends": "fringe", "border_rounds": 2}, "where a fringe hangs: set `border_rounds` to 0"),
        ({"ends": "fringe", "tails_a_knot": 0, "added_strands": 1}, "`tails_a_knot` is 0: make it 1 or more"),
        ({"ends": "fringe", "between_rows": "carried"}, "no tails.*`ends` cannot be 'fringe': set `between_rows`"),
        (
            {"ends": "enclosed", "border_rounds": 2, "between_rows": "carried"},
            "`ends` cannot be 'enclosed': set `between_rows` to 'cut'",
        ),
        ({"ends": "fringe", "tails_a_knot": 46}, "at most the 45 tails at one side of the piece.*got 46"),
        ({"ends": "fringe", "fringe_cm": 20}, "takes tails of 22.5 cm or more.*`tail_cm`.*got tails of 15 cm"),
        (
            {"in_the_round": True, "border_rounds": 2, "border_along": "row ends"},
            "In the round rows have no ends, so `border_along` cannot be 'row ends'",
        ),
        ({"in_the_round": True, "ends": "fringe"}, "In the round rows have no ends"),
        ({"in_the_round": True, "ends": "enclosed", "border_rounds": 1}, "In the round rows have no ends"),
    ],
)
def test_what_cannot_be_is_refused_with_its_cure(changes, says):
    with pytest.raises(OptionError, match=says):
        MAT.but(**changes)


def test_a_border_without_gauge_or_ratio_says_what_it_needs():
    unknown = MAT.but(gauge=None, border_rounds=2)
    with pytest.raises(OptionError, match=r"give it one.*or say `border_ratio`"):
        finishing_steps(unknown)
    assert unknown.but(border_ratio=(1, 1)).edging.rounds == (162, 170)
    assert "2 rounds" in finishing_steps(unknown.but(border_ratio=(1, 1)))[0]


def test_a_hand_is_asked_for_what_means_something_and_may_write_a_ratio_as_it_likes():
    assert edge_names(MAT) == ["foundation", "ends", "border_rounds"]
    assert edge_names(MAT.but(ends="fringe")) == [
        *("foundation", "ends", "fringe_cm", "tails_a_knot", "added_strands", "trimmed")
    ]
    assert "border_along" not in edge_names(MAT.but(ends="enclosed", border_rounds=1))
    cowl = MAT.but(in_the_round=True)
    assert edge_names(cowl) == ["foundation", "ends", "border_rounds"]
    assert edge_names(cowl.but(border_rounds=1)) == [*edge_names(cowl), "crab_stitch", "finish_colour"]
    border = MAT.but(border_rounds=1)
    assert "crab_stitch" in edge_names(border)
    for typed in ("7 for 8", "7:8", "7/8", " 7 for 8 rows "):
        assert entered(border, "border_ratio", typed).finish.border_ratio == (7, 8)
    assert entered(border, "border_ratio", "").finish.border_ratio is None
    with pytest.raises(OptionError, match="write stitches for rows, as 7 for 8"):
        entered(border, "border_ratio", "seven")
    with pytest.raises(OptionError, match='"Picked up along the rows" must be a pair'):
        entered(border, "border_ratio", "0 for 8")
    with pytest.raises(OptionError, match=r'Carried yarn leaves no tails.*"Tails" cannot be'):
        entered(MAT.but(between_rows="carried"), "ends", "fringe")


def test_every_field_of_a_finish_is_tried_above():
    tried = {each.name for each in fields(mk.Finish) if each.name != "_"}
    assert tried == {
        *("foundation", "ends", "fringe_cm", "tails_a_knot", "added_strands", "trimmed"),
        *("border_rounds", "border_along", "border_corner", "border_ratio", "crab_stitch", "finish_colour"),
    }


# ---- several sizes, and the guide --------------------------------------------------------------------------


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize("in_the_round", [False, True])
def test_rows_of_several_sizes_begin_and_end_as_the_design_does(terms, in_the_round):
    sizes = (mk.NamedSize("S", across=3, up=2), mk.NamedSize("M", across=5, up=2))
    design = MAT.but(sizes=sizes, in_the_round=in_the_round, terms=terms, foundation="foundation sc", ends="woven in")
    written = design.sized_rows
    sc = {"US": "sc", "UK": "dc"}[terms]
    across = (12, 20) if in_the_round else (14, 22)
    assert written.lines[0].text == f"{across[0]} ({across[1]}) foundation {sc}"
    assert written.foundation == ()
    assert "weave in the ends" in written.notes[-1]
    charts = mk.read_sizes(str(written))
    assert charts == {name: one.chart for name, one in design.in_sizes.items()}
    assert MAT.but(sizes=sizes).sized_rows.foundation != ()


@pytest.mark.parametrize("terms", ["US", "UK"])
def test_the_guide_begins_a_piece_of_foundation_sc_without_a_chain(terms, tmp_path):
    design = MAT.but(foundation="foundation sc", across=2, up=1)
    data = guiding.steps(design.chart, terms=terms, between_rows="cut", foundation="foundation sc")
    kind = next(kind for kind in data["kinds"] if kind["name"] == {"US": "sc", "UK": "dc"}[terms])
    assert [move["loops"] for move in kind["moves"]] == [1, 2, 2, 1]
    assert "chain at the foot" in kind["moves"][0]["text"]
    assert "into the next chain of the foundation" not in str(data)
    assert "second chain" not in str(data["about"])
    page = design.page()
    assert (page.foundation, bare(design).page().foundation) == ("foundation sc", "chain")
    html = mk.publish.html(page, tmp_path / "mat.html", guide=True).read_text("utf-8")
    assert "chain at the foot of the stitch before" in html
    plain = guiding.steps(design.chart, terms=terms, between_rows="cut")
    assert "into the next chain of the foundation" in str(plain)
