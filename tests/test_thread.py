from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from samples import letter_f
from scipy.spatial import cKDTree
from strategies import workable_motifs

from mosaickit import (
    Chart,
    Gauge,
    Motif,
    Stitch,
    Yarn,
    Yarns,
    YarnSettings,
    compile_chart,
    nearest_workable,
    work,
    yarn_usage,
)
from mosaickit.errors import OptionError
from mosaickit.fabric.hook import _Work
from mosaickit.yarn import Piece, StitchLengths, covering, curve, lengths_of_thread, surcharge, thread_of
from mosaickit.yarn.thread.curves import STEPS, length, smooth
from mosaickit.yarn.thread.faces import uppermost
from mosaickit.yarn.thread.rows import SQUEEZED, piece_length_cm

STITCHES = (Piece.SC, Piece.BLSC, Piece.FLDC, Piece.TOG_BACK, Piece.TOG_FRONT)
W, H, D = 1.0, 0.9, 0.1  # a stitch ten yarns wide: thin yarn, as the published models of crochet can show
THIN = Gauge(10 / W, 10 / H)
# heights and yarns in widths: a row three and a half yarns high has room for its strands, a lower one has not
widths, heights, yarns = st.floats(0.2, 3), st.floats(0.7, 1.4), st.floats(0.02, 0.2)
worsted = Gauge(16, 18, over=4, unit="in")


def random_motif(seed, shape=(9, 9), share=0.5):
    """A picture that can be worked, near to a random one with this share of overlaid squares."""
    plain = Motif(np.zeros(shape, dtype=bool))
    overlaid = np.random.default_rng(seed).random(shape) < share
    return nearest_workable(plain.with_grid(plain.row_is_cc ^ overlaid)).motif


def firmness(gauge, yarn_mm):
    """How much longer a tog-f is at an edge, in cm."""
    size = gauge.stitch_width_cm, gauge.row_height_cm, yarn_mm / 10 * SQUEEZED
    return piece_length_cm(Piece.EDGE_TOG_FRONT, *size) - piece_length_cm(Piece.TOG_FRONT, *size)


def firm_edges(chart):
    """The pieces of each row of a chart worked flat: a tog-f at an edge is worked through both loops."""
    rows = [[Piece(stitch) for stitch in row] for row in chart.stitches.tolist()]
    for row in rows:
        for edge in {0, len(row) - 1}:
            row[edge] = Piece.EDGE_TOG_FRONT if row[edge] == Piece.TOG_FRONT else row[edge]
    return rows


def thin_thread(chart, **options):
    return thread_of(chart, THIN, yarn_settings=YarnSettings(yarn_mm=10 * D / SQUEEZED, **options))


# ---- curves ------------------------------------------------------------------------------------------------


def test_a_curve_goes_through_its_key_points_and_is_straight_where_they_are():
    keys = np.array([[0, 0, 0], [1, 0, 0], [1, 2, 0], [4, 2, 1], [5, 2, 1]], dtype=float)
    assert smooth(keys)[::STEPS] == pytest.approx(keys[1:-1])
    line = np.array([[0, 0, 0], [1, 1, 0], [3, 3, 0], [4, 4, 0]], dtype=float)
    assert length(smooth(line)) == pytest.approx(2 * 2**0.5)


def test_pieces_that_share_the_points_round_their_joint_join_without_a_kink():
    keys = np.random.default_rng(5).random((9, 3))
    whole = smooth(keys)
    assert np.concatenate([smooth(keys[:6]), smooth(keys[3:])[1:]]) == pytest.approx(whole)


def test_finer_steps_change_no_stitch_by_more_than_two_in_a_thousand(monkeypatch):
    coarse = {piece: piece_length_cm(piece, W, H, D) for piece in Piece}
    monkeypatch.setattr("mosaickit.yarn.thread.curves.STEPS", 20 * STEPS)
    for piece in Piece:
        assert coarse[piece] == pytest.approx(piece_length_cm(piece, W, H, D), rel=2e-3)


# ---- lengths: laws -----------------------------------------------------------------------------------------


@given(widths, heights, yarns, st.floats(0.1, 10))
def test_all_sizes_k_times_as_large_make_every_piece_k_times_as_long(w, h, d, k):
    for piece in Piece:
        small, large = (piece_length_cm(piece, *(f * size for size in (w, h * w, d * w))) for f in (1, k))
        assert large == pytest.approx(k * small)


@given(widths, heights, yarns, st.floats(1.02, 1.5))
def test_every_stitch_grows_with_its_width_its_height_and_the_yarn(w, h, d, more):
    w, h, d = w, h * w, d * w
    for piece in STITCHES:
        before = piece_length_cm(piece, w, h, d)
        for larger in ((w * more, h, d), (w, h * more, d), (w, h, d * more)):
            assert piece_length_cm(piece, *larger) > before, (piece, larger)


@given(widths, heights, yarns, st.floats(1.02, 1.5))
def test_a_chain_grows_with_its_width_and_the_yarn_and_knows_no_row_height(w, h, d, more):
    before = piece_length_cm(Piece.CHAIN, w, h * w, d * w)
    assert piece_length_cm(Piece.CHAIN, w * more, h * w, d * w) > before
    assert piece_length_cm(Piece.CHAIN, w, h * w, d * w * more) > before
    assert piece_length_cm(Piece.CHAIN, w, h * w * more, d * w) == pytest.approx(before)


@given(widths, heights, yarns)
def test_chain_sc_fldc_and_tog_take_ever_more_yarn(w, h, d):
    lengths = lengths_of_thread(Gauge(1, 1, over=(w, h * w)), yarn_mm=10 * d * w)
    assert isinstance(lengths, StitchLengths)
    assert lengths.chain < lengths.sc == lengths.blsc < lengths.fldc < min(lengths.tog_back, lengths.tog_front)
    # closing an FLdc's top over an sc's drawn loop saves the sc's own top
    assert max(lengths.tog_back, lengths.tog_front) < lengths.fldc + lengths.sc


def test_a_yarn_that_was_not_measured_is_a_third_of_a_stitch_thick():
    assert lengths_of_thread(worsted) == lengths_of_thread(worsted, 10 * worsted.stitch_width_cm / 3)


@settings(max_examples=20)
@given(workable_motifs(most=7), st.booleans())
def test_the_thread_of_a_chart_is_as_long_as_its_usage_says(motif, reversible):
    chart = compile_chart(motif, reversible)
    usage = yarn_usage(chart, worsted, yarn_settings=YarnSettings(lengths=lengths_of_thread(worsted, 2.0)))
    thread = thread_of(chart, worsted, yarn_settings=YarnSettings(yarn_mm=2.0))
    stitches = chart.shape[1]
    worked = [sum(length(row.of(stitch)) for stitch in range(1, stitches + 1)) for row in thread.rows]
    firm = [row.pieces.count(Piece.EDGE_TOG_FRONT) for row in thread.rows]  # one length a kind cannot tell these apart
    assert firm[:-1] == [0] * (len(firm) - 1)
    assert worked == pytest.approx(100 * usage.stitches_m + np.array(firm) * firmness(worsted, 2.0))
    of_kind = {kind: sum(s.length_cm for s in thread.strands if s.kind == kind) for kind in ("carried", "tail")}
    assert of_kind["tail"] == pytest.approx(100 * usage.tails_m.sum())
    # up the side and back along the row: calculated as the row's width and a little ease
    carried = int(np.count_nonzero(usage.carried_m))
    width = stitches * worsted.stitch_width_cm
    assert carried * width <= of_kind["carried"] <= carried * (width + 5 * worsted.row_height_cm)


# ---- one thread a row --------------------------------------------------------------------------------------


@settings(max_examples=20)
@given(workable_motifs(most=6), st.booleans())
def test_every_row_is_one_thread_from_the_working_edge_to_the_other(motif, reversible):
    chart = compile_chart(motif, reversible)
    thread = thin_thread(chart)
    rows, stitches = chart.shape
    assert len(thread.rows) == rows
    for number, row in enumerate(thread.rows):
        assert row.pieces == (Piece.START, *firm_edges(chart)[number], Piece.LOCK)
        steps = np.diff(row.points, axis=0)
        strides = np.linalg.norm(steps, axis=1)
        assert 0 < strides.min() < strides.max() < 0.2 * W
        turns = (steps[:-1] * steps[1:]).sum(axis=1) / (strides[:-1] * strides[1:])
        assert turns.min() > 0  # no corner, none at a joint either
        assert row.points[0, 0] < 0
        assert row.points[-1, 0] > stitches * W
        assert row.length_cm == pytest.approx(sum(length(row.of(piece)) for piece in range(stitches + 2)))
        for one, two in pairwise(range(stitches + 2)):
            assert row.of(one)[-1] == pytest.approx(row.of(two)[0])
        assert [length(row.points[row.stitch == stitch]) > 0 for stitch in range(stitches + 2)]
        middles = [row.of(stitch)[:, 0].mean() / W for stitch in range(1, stitches + 1)]
        assert np.all(np.abs(middles - np.arange(stitches) - 0.5) < 0.3)


def test_the_foundation_goes_on_into_row_1_and_carried_yarn_from_row_to_row():
    chart = compile_chart(letter_f)
    thread = thin_thread(chart)
    foundation, *others = thread.strands
    assert foundation.kind == "foundation"
    assert foundation.points[0, 0] > (chart.shape[1] - 0.5) * W
    assert foundation.points[-1] == pytest.approx(thread.rows[0].points[0])
    carried = [strand for strand in others if strand.kind == "carried"]
    assert [strand.row for strand in carried] == [1, 2, 3, 4, 5]
    for strand in carried:
        assert strand.points[0] == pytest.approx(thread.rows[strand.row - 1].points[-1])
        assert strand.points[-1] == pytest.approx(thread.rows[strand.row + 1].points[0])
        # it lies on the row above the one that it comes from
        assert strand.points[1:3, 1] == pytest.approx((strand.row + 1) * H, abs=2 * D)


@pytest.mark.parametrize(
    ("options", "carried", "tails"),
    [({}, 5, 4), ({"between_rows": "cut"}, 0, 14), ({"tail_cm": 4.0}, 5, 4)],
)
def test_yarn_is_carried_or_cut(options, carried, tails):
    strands = thin_thread(compile_chart(letter_f), **options).strands
    kinds = [strand.kind for strand in strands]
    assert (kinds.count("foundation"), kinds.count("carried"), kinds.count("tail")) == (1, carried, tails)
    tail_cm = options.get("tail_cm", 15.0)
    assert all(s.length_cm == pytest.approx(tail_cm) for s in strands if s.kind == "tail")


def test_a_yarn_that_changes_is_not_carried():
    changing = letter_f.with_yarns(Yarns(mc=[(1, Yarn("sand", "#e9dcc3")), (5, Yarn("foam", "#3d8f92"))]))
    carried = [s.row for s in thin_thread(compile_chart(changing)).strands if s.kind == "carried"]
    assert carried == [1, 2, 4, 5]


def test_rounds_have_no_firm_edge_and_their_yarn_climbs_at_the_join_as_the_usage_says():
    chart = compile_chart(random_motif(1), reversible=True, in_the_round=True)
    assert chart.stitches[-1, 0] == Stitch.TOG_FRONT
    thread = thread_of(chart, worsted, yarn_settings=YarnSettings(yarn_mm=2.0))
    assert thread.rows[-1].pieces[1] == Piece.TOG_FRONT
    usage = yarn_usage(chart, worsted, yarn_settings=YarnSettings(lengths=lengths_of_thread(worsted, 2.0)))
    carried = [strand for strand in thread.strands if strand.kind == "carried"]
    assert [strand.row for strand in carried] == (np.flatnonzero(usage.carried_m) + 1).tolist()
    around = np.array([9 * worsted.stitch_width_cm, 0, 0])
    for strand in carried:
        # the far edge is the working edge, once round
        assert strand.points[0] == pytest.approx(thread.rows[strand.row - 1].points[-1])
        assert strand.points[-1] == pytest.approx(thread.rows[strand.row + 1].points[0] + around)
        # what the usage calculates is from foot to foot of two rounds, and here the yarn waits at the top of the first
        assert strand.length_cm == pytest.approx(worsted.row_height_cm, rel=0.6)
    tails = sum(strand.length_cm for strand in thread.strands if strand.kind == "tail")
    assert tails == pytest.approx(100 * usage.tails_m.sum())


# ---- what the yarn goes through ----------------------------------------------------------------------------


def crossings(points, axis, level):
    """Where a curve crosses the plane of an axis at a level, (n, 3)."""
    above = points[:, axis] >= level
    at = np.flatnonzero(above[:-1] != above[1:])
    share = (level - points[at, axis]) / (points[at + 1, axis] - points[at, axis])
    return points[at] + share[:, np.newaxis] * (points[at + 1] - points[at])


def inside(places, row, stitch):
    """Which places lie within a square's width and just under the top of a row (both from 1; row 0: foundation)."""
    x, y = places[:, 0] / W - (stitch - 1), (places[:, 1] - row * H) / D
    return (x > 0.15) & (x < 0.85) & (y > -2) & (y < 0)


def strand_of_top(points, row, stitch, side):
    """The front or the back loop of a stitch's top in the middle of its square, (n, 3)."""
    x, y, z = points[:, 0] / W - (stitch - 1), (points[:, 1] - row * H) / D, points[:, 2] / D
    sign = 1 if side == "front" else -1
    return points[(np.abs(x - 0.5) < 0.2) & (np.abs(y) < 0.7) & (np.abs(sign * z - 1.2) < 0.3)]


def loops_of(thread):
    """How far in front of the fabric's middle the loops of all tops lie: {(row, stitch, side): z}."""
    loops = {}
    for row, of_row in enumerate(thread.rows, 1):
        for stitch in range(1, len(of_row.pieces) - 1):
            for side in ("front", "back"):
                strand = strand_of_top(of_row.of(stitch), row, stitch, side)
                assert len(strand) >= 3
                loops[row, stitch, side] = strand[:, 2].mean()
    return loops


def loops_taken(loops, points, row):
    """The loops of rows below that a stitch's yarn goes under and comes back under again."""
    under = {loop: inside(crossings(points, 2, z), *loop[:2]).sum() for loop, z in loops.items() if loop[0] < row}
    assert set(under.values()) <= {0, 2}
    return {loop for loop, times in under.items() if times}


def loops_hidden(loops, points, row):
    """The front loops of rows below that a stitch's yarn hangs in front of without going under them."""
    hidden = set()
    for below, stitch, side in loops:
        if side == "front" and below < row:
            places = crossings(points, 1, below * H)
            before = (np.abs(places[:, 0] / W - stitch + 0.5) < 0.4) & (places[:, 2] > 1.8 * D)
            if before.sum() > 2:  # two legs come out under a loop that is taken; a dc before a loop has four strands
                hidden.add((below, stitch, side))
    return hidden


def loops_of_the_hook(chart):
    """For each row and stitch, the loops that the hook says are gone after it and were free before."""
    hook = _Work(chart)
    gone = {}
    for row, stitches in enumerate(chart.stitches):
        before = {"front": hook.front_free.copy(), "back": hook.back_free.copy()}
        hook.work_row(row, stitches)
        for side, after in (("front", hook.front_free), ("back", hook.back_free)):
            for below, stitch in np.argwhere(before[side] & ~after):
                gone.setdefault((row + 1, stitch + 1), set()).add((below + 1, stitch + 1, side))
    return gone


@settings(max_examples=10, deadline=None)
@given(workable_motifs(shape=st.just((7, 4))), st.booleans())
def test_the_yarn_goes_through_the_loops_that_the_hook_takes_and_before_those_it_buries(motif, reversible):
    chart = compile_chart(motif, reversible)
    thread, gone = thin_thread(chart), loops_of_the_hook(chart)
    loops = loops_of(thread)
    for row in range(1, 8):
        for stitch in range(1, 5):
            points = thread.rows[row - 1].of(stitch)
            taken, hidden = loops_taken(loops, points, row), loops_hidden(loops, points, row)
            assert taken | hidden == gone.get((row, stitch), set()), (row, stitch)
            dc_in_front = chart.stitches[row - 1, stitch - 1] in (Stitch.FLDC, Stitch.TOG_FRONT)
            assert hidden == ({(row - 1, stitch, "front")} if dc_in_front else set())


def test_an_sc_of_row_1_goes_under_the_back_loop_of_its_chain():
    thread = thin_thread(Chart.from_text("..."))
    foundation = thread.strands[0].points
    for stitch in (1, 2, 3):
        back = strand_of_top(foundation, 0, stitch, "back")
        assert len(back) >= 3
        own, *others = (
            inside(crossings(thread.rows[0].of(other), 2, back[:, 2].mean()), 0, stitch).sum()
            for other in (stitch, *({1, 2, 3} - {stitch}))
        )
        assert own == 2
        assert others == [0, 0]


@pytest.mark.parametrize("piece", [*STITCHES, Piece.PLAIN_SC, Piece.PLAIN_DC, Piece.CHAIN])
def test_the_next_top_is_drawn_through_the_top_and_through_every_loop_drawn_up(piece):
    """Both legs of a top come up inside the top before; what was drawn up goes round them behind."""
    own, after = curve(piece, W, H, D), curve(Piece.BLSC, W, H, D) + np.array([W, 0, 0])
    top = own[: 12 * STEPS]  # up at the joint, back loop, turn, front loop
    turn = top[np.abs(top[:, 0] - W) < 1.6 * D]
    assert turn[:, 0].max() > W + D
    assert turn[:, 2].min() < -D < D < turn[:, 2].max()
    legs = crossings(np.concatenate([own, after[1:]]), 1, H - 0.8 * D)
    legs = legs[(np.abs(legs[:, 0] - W) < D) & (np.abs(legs[:, 2]) < D)]
    assert len(legs) == 2
    assert np.linalg.norm(legs[0] - legs[1]) > 0.8 * D
    if piece != Piece.CHAIN:
        heads = own[(np.abs(own[:, 0] - W) < 0.2 * D) & (own[:, 1] < H - 1.2 * D) & (own[:, 1] > H - 2.2 * D)]
        behind = heads[heads[:, 2] < -1.4 * D]
        assert len({round(place[2] / D) for place in behind}) == (2 if piece.name.startswith("TOG") else 1)


def closest(thread, yarn):
    """The smallest distance of two centre lines, in yarn diameters, where they are not neighbours on one thread."""
    places, threads, along, far = [], [], [], []
    for number, curve_ in enumerate([*(row.points for row in thread.rows), *(s.points for s in thread.strands)]):
        s = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(curve_, axis=0), axis=1))])
        at = np.arange(0, s[-1], yarn / 8)
        places.append(np.stack([np.interp(at, s, curve_[:, axis]) for axis in range(3)], axis=1))
        threads.append(np.full(len(at), number))
        along.append(at)
        far.append((at > 3 * yarn) & (at < s[-1] - 3 * yarn))  # where two threads share an end, they meet
    places, threads, along, far = map(np.concatenate, (places, threads, along, far))
    one, two = cKDTree(places).query_pairs(1.5 * yarn, output_type="ndarray").T
    same = threads[one] == threads[two]
    apart = np.where(same, np.abs(along[one] - along[two]) > 3 * yarn, far[one] & far[two])
    return float(np.linalg.norm(places[one] - places[two], axis=1)[apart].min() / yarn)


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("reversible", [False, True])
def test_thin_yarn_keeps_out_of_its_own_way(seed, reversible):
    """A key-point model of chain, slip stitch and sc is free of interpenetration up to yarn of a tenth of a stitch.

    J. Industrial Textiles 2022, doi 10.1177/15280837221139250 (abstract). Ours touches: strands are pressed
    together by a fifth of their diameter at most.
    """
    chart = compile_chart(random_motif(seed), reversible)
    assert {Stitch.TOG_BACK, Stitch.TOG_FRONT} <= set(chart.stitches.ravel().tolist()) or not reversible
    assert 0.78 < closest(thin_thread(chart, tail_cm=0.001), D) < 1


# ---- published values --------------------------------------------------------------------------------------

# One hobby measurement: one worker, worsted yarn, 5 mm hook; inches of yarn to a row's inch and to a square inch,
# row heights from their quotient. The stitches' width was not reported: 12.5 to 4 in and 10.5 wraps to the inch are
# the middles of the ranges that the Craft Yarn Council's standard yarn weight system gives for that weight.
INCH = 2.54
WIDTH, SC_ROW, DC_ROW = INCH * 4 / 12.5, 0.337 * INCH, 0.646 * INCH
YARN = INCH / 10.5 * SQUEEZED


def test_a_dc_row_takes_about_as_much_more_than_an_sc_row_as_was_measured():
    """1.92 by the measurement, 1.6 if a dc fabric takes 16 percent less by area, as another of its kind has it."""
    sc, dc = piece_length_cm(Piece.PLAIN_SC, WIDTH, SC_ROW, YARN), piece_length_cm(Piece.PLAIN_DC, WIDTH, DC_ROW, YARN)
    assert 1.65 < dc / sc < 2.2
    assert dc / sc == pytest.approx(20.4 / 10.6, rel=0.15)  # published hobby data disagree by 15 percent


def test_plain_sc_and_dc_fabric_take_about_the_yarn_that_was_measured():
    for piece, row, measured in ((Piece.PLAIN_SC, SC_ROW, 31.42), (Piece.PLAIN_DC, DC_ROW, 31.60)):
        inches = piece_length_cm(piece, WIDTH, row, YARN) / INCH / (WIDTH * row / INCH**2)
        assert inches == pytest.approx(measured, rel=0.15), piece


def test_an_fldc_takes_a_dc_of_its_height_less_the_way_under_a_second_loop():
    """A dropped dc spans two rows of sc; going under one loop of the V instead of two saves what it saves an sc."""
    for yarn in (0.05, 0.1, 0.18, 0.2):
        fldc = piece_length_cm(Piece.FLDC, W, H, yarn)
        dc = piece_length_cm(Piece.PLAIN_DC, W, 2 * H, yarn)
        one_loop = piece_length_cm(Piece.PLAIN_SC, W, H, yarn) - piece_length_cm(Piece.BLSC, W, H, yarn)
        assert fldc == pytest.approx(dc - one_loop, rel=0.04)


@pytest.mark.parametrize("piece", [Piece.TOG_BACK, Piece.TOG_FRONT])
def test_a_tog_takes_an_fldc_and_an_sc_that_share_one_top(piece):
    """The top is a chain's worth of yarn; what runs to the next stitch is there once, too."""
    for yarn in (0.05, 0.1, 0.18):
        of = {each: piece_length_cm(each, W, H, yarn) for each in (piece, Piece.FLDC, Piece.BLSC, Piece.CHAIN)}
        both = of[Piece.FLDC] + of[Piece.BLSC] - of[Piece.CHAIN]
        assert of[piece] == pytest.approx(both, rel=0.06)


def test_a_firm_tog_f_is_longer_by_the_way_under_a_second_loop_and_round_the_legs_in_front():
    for yarn in (0.05, 0.1, 0.18):
        firm, free, both, one = (
            piece_length_cm(piece, W, H, yarn)
            for piece in (Piece.EDGE_TOG_FRONT, Piece.TOG_FRONT, Piece.PLAIN_SC, Piece.BLSC)
        )
        assert both - one < firm - free < 2 * (both - one)


def test_sc_in_the_back_loop_only_takes_less_than_through_both():
    assert piece_length_cm(Piece.BLSC, WIDTH, SC_ROW, YARN) < piece_length_cm(Piece.PLAIN_SC, WIDTH, SC_ROW, YARN)


@pytest.mark.parametrize(("wanted", "share"), [(0.21, 0.17), (0.3, 0.22), (0.4, 0.28), (0.55, 0.35)])
def test_reversible_work_takes_about_the_common_surcharge(wanted, share):
    """15 to 30 percent for shares of FLdc from 0.17 to 0.35: common practice, no source.

    That is about 0.87 times the share, and rests on sc, FLdc and tog as 1, 1.5 and 2. The thread gives 0.78 to 0.86
    times for yarn of a sixth of a stitch and 0.91 to 1.03 for yarn of a third: where strands are thick, the ways round
    them grow and the rest does not, and a tog has more of them than an sc. So a share of 0.35 costs up to 32 percent in
    thick yarn, two points above what is said, and the band round the rule of thumb is 20 percent of it.
    """
    for seed in (1, 2):
        motif = random_motif(seed, (61, 61), wanted)
        assert np.mean(compile_chart(motif).stitches == Stitch.FLDC) == pytest.approx(share, abs=0.01)
        common = 0.15 + (share - 0.17) / (0.35 - 0.17) * 0.15
        for yarn_mm in (1.0, 1.5, None):
            extra = surcharge(motif, worsted, yarn_settings=YarnSettings(lengths=lengths_of_thread(worsted, yarn_mm)))
            assert extra == pytest.approx(common, rel=0.2)
            assert 0.14 < extra < 0.325


def test_reversible_work_is_thicker_than_plain_by_the_dc_on_its_back():
    front, back = [], []
    for reversible in (False, True):
        thread = thin_thread(compile_chart(random_motif(0), reversible))
        z = np.concatenate([row.points[:, 2] for row in thread.rows]) / D
        front.append(np.percentile(z, 99))
        back.append(np.percentile(z, 1))
    assert front[0] == pytest.approx(front[1], abs=0.5)
    assert back[1] < back[0] - 1  # by a strand of yarn and more


# ---- what is seen ------------------------------------------------------------------------------------------


@pytest.mark.thorough
@pytest.mark.parametrize("reversible", [False, True])
@pytest.mark.parametrize(("gauge", "yarn"), [(worsted, None), (worsted, 0.28), (Gauge(16, 16), 0.36)])
def test_the_yarn_that_covers_a_square_is_the_one_that_the_hook_shows(gauge, yarn, reversible):
    """The Craft Yarn Council's yarn weights have yarns of 0.28 to 0.36 of a stitch's width: see `lengths`."""
    agree = []
    for seed, hand in ((0, "right"), (1, "left")):
        chart = compile_chart(random_motif(seed, (9, 6)), reversible, hand=hand)
        assert np.count_nonzero(chart.stitches == Stitch.FLDC) > 6
        thread = thread_of(
            chart,
            gauge,
            yarn_settings=YarnSettings(yarn_mm=None if yarn is None else 10 * yarn * gauge.stitch_width_cm),
        )
        fabric = work(chart)
        agree += [covering(thread, "front") == fabric.front, covering(thread, "back") == fabric.back]
    assert np.mean(agree) >= 0.99


def test_the_nearer_strand_is_uppermost():
    thread = thread_of(Chart.from_text("...\n...\n..."), worsted)
    front, pixel = uppermost(thread, "front")
    back, _ = uppermost(thread, "back")
    assert front.shape == back.shape
    assert front.shape == pytest.approx((3 * thread.height_cm / pixel, 3 * thread.width_cm / pixel), abs=1)
    assert np.array_equal(front == 0, back == 0)
    assert set(np.unique(front)) - {0} == {1, 2, 3}
    # at the front, the front loop of row 1 lies before row 2, which comes out behind it
    line = round(thread.height_cm / pixel) - 4
    assert (front[line] == 1).mean() > 0.9
    assert (back[line] == 1).mean() < 0.9


# ---- bad input ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"chart": "...."}, "`chart` must be a `Chart`; got '....'"),
        ({"gauge": 5}, "`gauge` must be a `Gauge`; got 5"),
        ({"yarn_settings": 0.6}, "`yarn_settings` must be a `YarnSettings`; got 0.6"),
    ],
)
def test_what_makes_no_thread_is_refused_in_a_sentence(options, message):
    arguments = {"chart": Chart.from_text(".."), "gauge": worsted} | options
    with pytest.raises(OptionError, match=message):
        thread_of(arguments.pop("chart"), arguments.pop("gauge"), **arguments)


def test_a_face_that_there_is_not_is_refused():
    with pytest.raises(OptionError, match="`side` must be one of 'front', 'back'; got 'inside'"):
        covering(thread_of(Chart.from_text(".."), worsted), "inside")
