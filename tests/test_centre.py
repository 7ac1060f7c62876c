"""Squares worked from the centre: rules, hook and chart against plain opponents, and the laws they must obey."""

import pickle
import re
from itertools import combinations, product

import centre_opponents as opponents
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp
from matplotlib.figure import Figure
from strategies import hands, names, roles, yarns_for

import mosaickit as mk
from mosaickit.centre import CentreChart, CentreOut, chart, check, count, nearest, work
from mosaickit.centre.amounts import check_around
from mosaickit.centre.stitches import place_stitches
from mosaickit.errors import ChartError, MotifError, OptionError, StitchError, UnworkableError

pytestmark = pytest.mark.thorough

KINDS = {mk.Stitch.SC: "sc", mk.Stitch.BLSC: "BLsc", mk.Stitch.FLDC: "FLdc"}


@st.composite
def squares(draw, least=1, most=6):
    """Any picture with its rounds: rings in their colours and some squares that differ."""
    n = draw(st.integers(least, most))
    first, hand = draw(roles), draw(hands)
    rings = np.array([[max(abs(y), abs(x), 1) for x in range(-n, n + 1)] for y in range(-n, n + 1)])
    plain = (rings % 2 == 1) == (first == "CC")
    differ = draw(hnp.arrays(np.bool_, plain.shape, elements=st.sampled_from([False, False, False, True])))
    return CentreOut(mk.Motif(plain ^ differ, first, draw(yarns_for(n)), draw(names)), hand)


workable_squares = squares(most=5).map(lambda square: nearest(square).square)


def near_plain(n, marked, first="MC", hand="right"):
    """The picture of plain rings but for some squares, named by (down, across) from the centre."""
    grid = np.array(
        [[opponents.colour_of_ring(max(abs(y), abs(x)), first) for x in range(-n, n + 1)] for y in range(-n, n + 1)]
    )
    for down, across in marked:
        grid[n + down, n + across] ^= True
    return CentreOut(mk.Motif(grid, first), hand)


def in_kinds(rounds):
    return [[KINDS[mk.Stitch(int(stitch))] for stitch in stitches] for stitches in rounds]


def chart_of(rounds, first="MC", hand="right"):
    colours = tuple(("MC", "CC")[(number + (first == "CC")) % 2] for number in range(len(rounds)))
    return CentreChart(rounds, colours, hand=hand)


def plain_rounds(n):
    rounds = [np.full(8 * number, mk.Stitch.BLSC) for number in range(1, n + 1)]
    rounds[0][:] = mk.Stitch.SC
    return rounds


def makes_it(square):
    """Whether the hook makes the picture from the stitches that would stand for it."""
    try:
        made = work(chart_of(place_stitches(square), square.motif.first, square.hand))
    except StitchError:
        return False
    return bool((made.front == square.motif.grid).all())


def agree(square):
    """Whether the rules allow a picture; opponents and hook say the same."""
    ok = check(square).ok
    assert ok == opponents.workable(square.motif.grid, square.motif.first) == makes_it(square)
    return ok


# ---- rules and hook agree ----------------------------------------------------------------------------------


@pytest.mark.parametrize("first", ["MC", "CC"])
def test_of_all_pictures_of_one_round_the_hook_makes_the_one_that_the_rules_allow(first):
    pictures = (np.array(bits).reshape(3, 3) for bits in product([False, True], repeat=9))
    assert sum(agree(CentreOut(mk.Motif(grid, first))) for grid in pictures) == 1


def test_of_two_rounds_none_but_plain_rings_can_be_worked():
    squares_of_it = list(product(range(-2, 3), repeat=2))
    marked = [(), *combinations(squares_of_it, 1), *combinations(squares_of_it, 2)]
    assert [some for some in marked if agree(near_plain(2, some))] == [()]


@pytest.mark.thorough
def test_of_all_pictures_of_three_rounds_that_differ_in_the_second_the_hook_makes_1296():
    sides = [
        (2 * y + s * abs(x), 2 * x + s * abs(y)) for y, x in ((1, 0), (-1, 0), (0, 1), (0, -1)) for s in (-1, 0, 1)
    ]
    can = sum(
        agree(near_plain(3, [square for square, bit in zip(sides, bits, strict=True) if bit]))
        for bits in product([False, True], repeat=12)
    )
    # the middle of each side is free; of the two squares beside each corner one may be overlaid, or none
    assert can == 2**4 * 3**4


def test_of_three_rounds_with_up_to_two_squares_overlaid_rules_and_hook_agree():
    places = list(product(range(-3, 4), repeat=2))
    assert sum(agree(near_plain(3, some)) for some in combinations(places, 1)) == 12
    # 12 squares: 66 pairs, of which 4 meet in a corner
    free, _ = opponents.conflicts(3)
    assert sum(agree(near_plain(3, some, "CC", "left")) for some in combinations(free, 2)) == 66 - 4


@given(squares())
def test_the_hook_makes_a_picture_just_when_the_rules_allow_it(square):
    agree(square)


@given(workable_squares)
def test_what_the_rules_allow_is_made_as_it_was_drawn(square):
    assert agree(square)
    worked_up = work(chart(square))
    assert np.array_equal(worked_up.front, square.motif.grid)
    assert np.array_equal(worked_up.front_rounds, chart(square).front_rounds)
    assert worked_up.yarns == square.motif.yarns


@st.composite
def charts(draw):
    """Charts that the hook can work, and such with up to three stitches changed."""
    drawn = chart(draw(workable_squares))
    rounds = [stitches.copy() for stitches in drawn.rounds]
    for _ in range(draw(st.integers(0, 3))):
        stitches = rounds[draw(st.integers(0, len(rounds) - 1))]
        stitches[draw(st.integers(0, len(stitches) - 1))] = draw(st.sampled_from([2, 2, 2, 1, 0]))
    return chart_of(rounds, drawn.round_colours[0], drawn.hand)


@given(charts())
def test_the_hook_does_what_a_hook_does_stitch_by_stitch(subject):
    kinds, left_handed = in_kinds(subject.rounds), subject.hand == "left"
    refused = None
    try:
        expected = opponents.seen(kinds, subject.round_colours[0], left_handed)
    except opponents.RefusedError as error:
        refused = error.args
    if refused:
        with pytest.raises(StitchError) as stopped:
            work(subject)
        assert (stopped.value.row, stopped.value.stitch) == refused
        return
    made = work(subject)
    assert np.array_equal(made.front, expected)
    assert np.array_equal(made.front_rounds, subject.front_rounds)
    left = [
        (number, position)
        for number, stitches in enumerate(opponents.worked(kinds)[:-1], 1)
        for position, stitch in enumerate(stitches, 1)
        if stitch.back_free
    ]
    assert made.open_loops.tolist() == [list(place) for place in left]
    # nothing else can be made: what comes out is a picture that the rules allow, and its chart is this one
    square = CentreOut(mk.Motif(made.front, subject.round_colours[0]), subject.hand)
    assert check(square).ok
    assert chart(square) == subject


def test_every_single_fldc_that_the_hook_makes_is_one_that_the_rules_allow():
    n, made = 4, 0
    for number in range(2, n + 1):
        for at in range(8 * number):
            rounds = plain_rounds(n)
            rounds[number - 1][at] = mk.Stitch.FLDC
            subject = chart_of(rounds)
            try:
                front = work(subject).front
            except StitchError:
                continue
            made += 1
            assert chart(CentreOut(mk.Motif(front))) == subject
    # rounds 2 and 3 may have squares overlaid, all but their corners
    assert made == (16 - 4) + (24 - 4)


@given(workable_squares)
def test_the_only_loops_left_open_are_those_behind_fldc(square):
    open_loops = {tuple(place) for place in work(chart(square)).open_loops.tolist()}
    n = square.rounds
    behind = {
        (number, position)
        for number in range(1, n + 1)
        for position, place in enumerate(opponents.walk(n, number, square.hand == "left"), 1)
        if square.overlaid[place]
    }
    assert open_loops == behind


# ---- findings ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("marked", "said"),
    [
        ([(0, 0)], r"^The centre square does not show the colour of round 1.*Make the square MC\.$"),
        ([(-1, 0)], r"^Round 1, stitch 1 \(top side\).*the ring at the centre.*Make the square MC\.$"),
        ([(1, 1)], r"^Round 1, stitch 6 \(bottom right corner\).*no square of a corner.*Make the square MC\.$"),
        ([(0, -4)], r"^Round 4, stitch 9 \(left side\).*no round outside it.*Make the square CC, or add a round\.$"),
        ([(3, 0), (2, 0)], r"^Round 2, stitch 9 \(bottom side\) and the square straight outward of it, in round 3"),
        (
            [(-2, -1), (-1, -2)],
            r"^Round 2, stitch 2 \(top side\) and stitch 4 round the corner.*corner stitch of round 1",
        ),
        ([(-3, 2), (-2, 3)], r"^Round 3, stitch 21 \(right side\) and stitch 23 round the corner"),
    ],
)
def test_what_cannot_be_worked_is_said_in_a_sentence(marked, said):
    report = check(near_plain(4, marked))
    assert not report.ok
    assert len(report.errors) == 1
    assert report.errors[0].message == report.errors_in_words
    with pytest.raises(UnworkableError, match=r"This picture cannot be worked from the centre") as error:
        chart(report.square)
    assert error.value.report.errors == report.errors
    assert re.match(said, report.errors[0].message)


def test_a_left_hander_meets_the_sides_the_other_way_round():
    found = check(near_plain(3, [(0, 3)], hand="left")).errors[0]
    assert (found.round, found.stitch, found.side) == (3, 7, "right side")
    assert check(near_plain(3, [(0, -3)])).errors[0].stitch == 7


@given(squares(most=5))
def test_whoever_does_what_the_errors_say_ends_with_a_picture_that_can_be_worked(square):
    for _ in range(square.overlaid.sum()):
        report = check(square)
        if report.ok:
            break
        found = report.errors[0]
        n = square.rounds
        walk = opponents.walk(n, found.round, square.hand == "left") if found.round else [(n, n)]
        grid = square.motif.grid.copy()
        place = walk[max(found.stitch, 1) - 1]
        assert re.search(rf"Make (?:the square |the inner |one of them ){'MC' if grid[place] else 'CC'}", found.message)
        grid[place] ^= True
        square = CentreOut(square.motif.with_grid(grid), square.hand)
    assert check(square).ok


def test_an_fldc_beside_a_corner_is_advised_against_and_can_be_worked():
    report = check(near_plain(4, [(-2, 1)]))
    assert report.ok
    (found,) = report.findings
    assert (found.rule, found.severity) == ("FLdc into a corner stitch", "advice")
    assert "corner stitch of round 1" in found.message
    assert "never tried on wool" in str(report)
    assert check(near_plain(4, [(-3, 1)])).findings == ()


def test_yarns_that_are_too_alike_are_advised_against():
    alike = mk.Yarns(mk.Yarn("chalk", "#eeeeee"), [(1, mk.Yarn("ink", "#101040")), (3, mk.Yarn("milk", "#dddddd"))])
    (found,) = check(CentreOut(near_plain(4, []).motif.with_yarns(alike))).findings
    assert (found.rule, found.round) == ("low contrast", 3)
    assert "From round 3 on, 'chalk' and 'milk' have a contrast of 1.1" in found.message


# ---- the nearest workable ----------------------------------------------------------------------------------

TURN = (lambda square: (square[1], -square[0]),)
TURN_AND_MIRROR = (*TURN, lambda square: (square[0], -square[1]))
KEPT = {"none": (), "quarter-turn": TURN, "quarter-turn and mirror": TURN_AND_MIRROR}


@pytest.mark.parametrize("symmetry", KEPT)
@given(square=squares(1, 3))
def test_no_picture_of_up_to_three_rounds_is_nearer(symmetry, square):
    found = nearest(square, symmetry=symmetry)
    assert opponents.workable(found.square.motif.grid, square.motif.first)
    assert np.array_equal(found.changed, found.square.motif.grid ^ square.motif.grid)
    assert found.changed.sum() == opponents.least_change(square.motif.grid, square.motif.first, KEPT[symmetry])


@pytest.mark.thorough
@pytest.mark.parametrize("symmetry", KEPT)
@pytest.mark.parametrize("n", [4, 5, 6, 8])
def test_an_integer_program_finds_nothing_nearer(symmetry, n):
    rng = np.random.default_rng(n)
    for first in ("MC", "CC"):
        square = CentreOut(mk.Motif(rng.random((2 * n + 1, 2 * n + 1)) < 0.5, first))
        found = nearest(square, symmetry=symmetry)
        grid = found.square.motif.grid
        assert opponents.workable(grid, first)
        assert symmetry == "none" or np.array_equal(np.rot90(grid), grid)
        assert "mirror" not in symmetry or np.array_equal(grid[:, ::-1], grid)
        assert found.changed.sum() == opponents.least_change(square.motif.grid, first, KEPT[symmetry])


def test_trying_everything_that_may_be_overlaid_in_three_rounds_finds_nothing_nearer():
    rng = np.random.default_rng(3)
    free, pairs = opponents.conflicts(3)
    square = CentreOut(mk.Motif(rng.random((7, 7)) < 0.5))
    marked = opponents.overlaid(square.motif.grid, "MC")
    best = min(
        sum(marked[place] != (place in chosen) for place in marked)
        for bits in product([False, True], repeat=len(free))
        for chosen in [{place for place, bit in zip(free, bits, strict=True) if bit}]
        if not any(a in chosen and b in chosen for a, b in pairs)
    )
    assert nearest(square).changed.sum() == best


@given(workable_squares)
def test_what_can_be_worked_is_nearest_to_itself(square):
    assert str(nearest(square)) == "Nothing to change."
    assert nearest(square).square == square


def test_round_1_takes_the_colour_that_needs_less_change():
    square = near_plain(4, [], "CC")
    other = CentreOut(square.motif.with_grid(square.motif.grid, "MC"))
    found = nearest(other, first="either")
    assert (found.first_changed, found.changed.any(), found.square.motif.first) == (True, False, "CC")
    assert str(found) == "Nothing to change. Round 1 is now in CC."
    assert nearest(other).changed.sum() == opponents.least_change(square.motif.grid, "MC")


# ---- laws of chart and counts ------------------------------------------------------------------------------


@given(workable_squares)
def test_after_a_quarter_turn_the_rounds_start_a_quarter_later(square):
    turned = CentreOut(square.motif.with_grid(np.rot90(square.motif.grid).copy()), square.hand)
    way = 1 if square.hand == "right" else -1
    for number, (one, two) in enumerate(zip(chart(square).rounds, chart(turned).rounds, strict=True), 1):
        assert np.array_equal(np.roll(one, way * 2 * number), two)
    assert np.array_equal(count(chart(square)).stitches, count(chart(turned)).stitches)


@given(workable_squares)
def test_a_left_hander_works_the_stitches_of_the_mirrored_picture(square):
    other = "left" if square.hand == "right" else "right"
    mirrored = CentreOut(mk.mirror(square.motif), other)
    for one, two in zip(chart(square).rounds, chart(mirrored).rounds, strict=True):
        assert np.array_equal(one, two)
    assert np.array_equal(work(chart(mirrored)).front, square.motif.grid[:, ::-1])


@given(workable_squares)
def test_every_round_has_8_stitches_more(square):
    counts = count(chart(square))
    assert counts.around.tolist() == [8 * number for number in range(1, square.rounds + 1)]
    assert counts.total.tolist() == [
        8,
        counts.around.sum() - 8 - square.overlaid.sum(),
        square.overlaid.sum(),
        0,
        0,
    ]
    by_colour = counts.by_colour
    assert np.array_equal(by_colour["MC"] + by_colour["CC"], counts.total)
    # an overlaid square is covered in the colour that it shows
    in_cc = square.motif.grid[square.overlaid].sum()
    assert by_colour["CC"][mk.Stitch.FLDC] == in_cc


@given(workable_squares)
def test_charts_travel_and_are_compared_by_what_they_hold(square):
    subject = chart(square)
    copy = pickle.loads(pickle.dumps(subject))
    assert copy == subject
    assert hash(copy) == hash(subject)
    assert not copy.rounds[0].flags.writeable
    assert "experimental" in subject.summary
    assert f"{2 * square.rounds + 1} × " in repr(work(subject))


def test_a_blanket_of_81_by_81_goes_all_the_way():
    rng = np.random.default_rng(81)
    found = nearest(CentreOut(mk.Motif(rng.random((81, 81)) < 0.5)), symmetry="quarter-turn")
    subject = chart(found.square)
    assert np.array_equal(work(subject).front, found.square.motif.grid)
    assert mk.centre.read(mk.centre.write(subject)) == subject
    assert count(subject).around.sum() == 81 * 81 - 1


# ---- yarn and size -----------------------------------------------------------------------------------------


def test_squares_of_41_and_81_measure_what_is_published():
    # flat squares of 41 × 41 and 81 × 81 measure 10 in and 20 in, category 4 yarn ("Joining Squares", ashleeslint)
    gauge = mk.Gauge(16.4, 16.4, over=4, unit="in")
    for side, inches in ((41, 10), (81, 20)):
        size = mk.centre.size(CentreOut(mk.Motif(np.zeros((side, side), dtype=bool))), gauge)
        assert size.across_cm / 2.54 == pytest.approx(inches, rel=0.02)
        assert size.lies_flat
        # worked flat in category 4 yarn: 14 stitches by 14 rows to 4 in ("Practice Graph", kariscraftsonline, 2022)
        flat = mk.centre.size(CentreOut(mk.Motif(np.zeros((side, side), dtype=bool))), mk.Gauge(14, 14, 4, "in"))
        assert 1 < flat.across_cm / 2.54 / inches < 1.2


def test_a_gauge_that_is_not_square_is_said_not_to_lie_flat():
    square = near_plain(4, [])
    assert (
        "its edge measures 6.5 cm, 14% more, so it ripples" in mk.centre.size(square, mk.Gauge(14, 16, 10.16)).sentence
    )
    assert "less, so it cups: stitches wider" in str(mk.centre.size(chart(square), mk.Gauge(16, 14)))


@given(workable_squares, st.sampled_from(["carried", "cut"]))
def test_the_yarn_is_what_is_counted_by_hand(square, between):
    gauge = mk.Gauge(16, 15)
    lengths = mk.StitchLengths.from_gauge(gauge)
    settings = mk.YarnSettings(between_rows=between)
    used = mk.centre.usage(chart(square), gauge, yarn_settings=settings)
    expected, by_round = {}, []
    n = square.rounds
    rounds = in_kinds(chart(square).rounds)
    yarns = [square.motif.yarns.at(number, colour) for number, colour in enumerate(square.round_colours, 1)]
    for number, (kinds, yarn) in enumerate(zip(rounds, yarns, strict=True), 1):
        cm = sum({"sc": lengths.sc, "BLsc": lengths.blsc, "FLdc": lengths.fldc}[kind] for kind in kinds)
        cm += 2 * lengths.chain + (5 * lengths.chain if number == 1 else 0)
        goes_on = between == "carried" and number + 2 <= n and yarns[number + 1] == yarn
        comes = between == "carried" and number > 2 and yarns[number - 3] == yarn
        cm += 2 * gauge.row_height_cm * 1.05 if goes_on else 15
        cm += 0 if comes else 15
        expected[yarn] = expected.get(yarn, 0) + cm / 100
        by_round.append(cm / 100)
    assert {total.yarn: pytest.approx(total.likely_m) for total in used.by_yarn} == expected
    assert used.total_m.tolist() == pytest.approx(by_round)
    assert "never tried on wool" in str(used)


def test_skeins_are_advised_and_a_new_ball_may_be_joined_within_a_round():
    square = near_plain(20, [])
    settings = mk.YarnSettings(skeins=mk.Skein(20, 10))
    used = mk.centre.usage(chart(square), mk.Gauge(16.4, 16.4, 4, "in"), yarn_settings=settings)
    for total in used.by_yarn:
        assert total.skeins == -(-max(total.high_m, 1.1 * total.likely_m) // 20)


# ---- bad input ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("shape", [(1, 1), (4, 4), (3, 5), (2, 2), (40, 41)])
def test_a_picture_without_a_centre_square_is_refused(shape):
    with pytest.raises(MotifError, match=f"odd side of 3 or more.*got {shape[0]} × {shape[1]}"):
        CentreOut(mk.Motif(np.zeros(shape, dtype=bool)))


def test_yarns_change_by_rounds():
    three = mk.Yarns(cc=[(1, mk.Yarn("ink", "#101040")), (3, mk.Yarn("rust", "#b5502f"))])
    with pytest.raises(MotifError, match=r"those of rounds, 1 to 2 for a picture of 5 × 5; got a yarn from 3 on"):
        CentreOut(mk.Motif(np.zeros((5, 5), dtype=bool), yarns=three))
    square = CentreOut(near_plain(4, [(2, 0)]).motif.with_yarns(three))
    assert [yarn.name for yarn in count(chart(square)).yarns] == ["cream", "ink", "cream", "rust"]
    assert "#b5502f" in chart(square)._repr_svg_()


@pytest.mark.parametrize(
    ("rounds", "colours", "said"),
    [
        ([], (), "needs at least 1 round"),
        (5, (), "must be a sequence of rounds"),
        ([np.zeros(7, dtype=int)], ("MC",), r"Round 1 must be a sequence of 8 stitches.*shape \(7,\)"),
        ([np.zeros(8)], ("MC",), "Round 1 must be a sequence of 8 stitches.*float64"),
        (
            [np.full(8, mk.Stitch.TOG_BACK)],
            ("MC",),
            "Round 1, stitch 1: .* of sc, BLsc, FLdc; got stitch number 3",
        ),
        ([np.zeros(8, dtype=int)], ("MC", "CC"), "colour of each of 1 rounds"),
        ([np.zeros(8, dtype=int)], ("red",), "colour of each of 1 rounds"),
        ([np.zeros(8, dtype=int)], None, "colour of each of 1 rounds"),
        ([np.zeros(8, dtype=int), np.ones(16, dtype=int)], ("MC", "MC"), "Rounds 1 and 2 are both in MC"),
    ],
)
def test_what_is_no_chart_is_refused(rounds, colours, said):
    with pytest.raises(ChartError, match=said):
        CentreChart(rounds, colours)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({1: {3: mk.Stitch.BLSC}}, r"Round 1, stitch 4 \(bottom left corner\): BLsc cannot be made, as round 1 is sc"),
        ({3: {5: mk.Stitch.SC}}, r"Round 3, stitch 6 \(left side\): sc cannot be made, as only round 1"),
        ({2: {0: mk.Stitch.FLDC}}, "Round 2, stitch 1 .*which has no front loop"),
        ({3: {3: mk.Stitch.FLDC}}, r"Round 3, stitch 4 \(top left corner\): .* one of three in a corner stitch"),
        ({3: {2: mk.Stitch.FLDC}}, r"Round 3, stitch 3 \(top side\): .* one of three in a corner stitch"),
        ({3: {0: mk.Stitch.FLDC}, 4: {0: mk.Stitch.FLDC}}, "Round 4, stitch 1 .* lies under a double crochet"),
        ({3: {1: mk.Stitch.FLDC, 5: mk.Stitch.FLDC}}, r"Round 3, stitch 6 \(left side\): .* is taken already"),
    ],
)
def test_what_no_hook_makes_is_refused(changes, said):
    rounds = plain_rounds(4)
    for number, stitches in changes.items():
        for at, stitch in stitches.items():
            rounds[number - 1][at] = stitch
    with pytest.raises(StitchError, match=said):
        work(chart_of(rounds))


def test_counts_that_do_not_follow_from_the_round_below_are_refused():
    with pytest.raises(ChartError, match="Round 2 makes 15 stitches instead of 16"):
        check_around([[8, 0, 0, 0, 0], [0, 15, 0, 0, 0]])


def test_wrong_arguments_are_answered_in_sentences():
    with pytest.raises(OptionError, match="`motif` must be a `Motif`"):
        CentreOut("x")
    with pytest.raises(OptionError, match="`hand` must be one of"):
        CentreOut(near_plain(1, []).motif, "both")
    with pytest.raises(OptionError, match="`symmetry` must be one of"):
        nearest(near_plain(1, []), symmetry="mirror")
    with pytest.raises(OptionError, match="`square` must be a `CentreOut` or a `CentreChart`"):
        mk.centre.size(3, mk.Gauge(16, 16))


# ---- pictures ----------------------------------------------------------------------------------------------


def test_symbols_stand_with_their_feet_towards_the_centre():
    turns = chart(near_plain(3, [])).turns
    assert turns[0].tolist() == [0] * 7
    assert turns[6].tolist() == [2] * 7
    assert (turns[3, 0], turns[3, 6]) == (1, 3)


@pytest.mark.parametrize("hand", ["right", "left"])
def test_a_picture_of_the_rounds_has_each_symbol_in_its_square(hand):
    square = near_plain(5, [(-3, 0), (0, 4)], hand=hand)
    ax = mk.draw.rounds(chart(square), ax=Figure().add_subplot())
    drawn = [collection for collection in ax.collections if collection.get_label() == "FLdc"]
    places = {tuple(place) for collection in drawn for place in collection.get_offsets().tolist()}
    # an FLdc stands straight outward of what it covers: (x from the left, y from the top)
    assert places == {(5, 1), (10, 5)}
    # the bar at its top lies away from the centre: above, and at the right
    tops = {tuple(one.get_offsets().tolist()[0]): one.get_paths()[0].vertices[:2] for one in drawn}
    assert tops[5, 1][:, 1].tolist() == pytest.approx([0.15, 0.15])
    assert tops[10, 5][:, 0].tolist() == pytest.approx([0.85, 0.85])
    assert {text.get_text(): text.get_position() for text in ax.texts}["5"] == (10.5, 0.5)
    join = next(line for line in ax.lines if line.get_label() == "join")
    assert set(join.get_xdata()) == {6 if hand == "right" else 5}
    key = [text.get_text() for text in ax.get_legend().get_texts()]
    assert key[-1] == f"where rounds start, worked towards the {'left' if hand == 'right' else 'right'}"
    assert "experimental" in ax.get_title(loc="left")


def test_a_large_square_is_cut_to_its_middle_in_a_notebook_and_says_so():
    drawn = chart(near_plain(61, []))._repr_svg_()
    assert "shown: the first 60 rounds" in drawn
    assert ">60</text>" in drawn
    assert ">61</text>" not in drawn
    assert "shown" not in chart(near_plain(20, []))._repr_svg_()


# ---- any motif in the middle -------------------------------------------------------------------------------


@given(hnp.arrays(bool, st.tuples(st.integers(1, 14), st.integers(1, 14))), roles, st.sampled_from([3, 7, 11]))
def test_a_motif_is_laid_in_the_middle_of_plain_rounds_or_cut_to_its_own_middle(grid, first, most):
    laid = mk.centre.fitted(mk.Motif.from_array(grid, first=first, name="leaf"), most=most)
    side = len(laid.motif.grid)
    assert side == max(3, min(most, max(grid.shape) + 1 - max(grid.shape) % 2))
    assert (laid.motif.first, laid.motif.name) == (first, "leaf")
    for row, column in product(range(side), repeat=2):
        # where it came from: as far from the middle of the motif as from the middle of the square, give or take a half
        from_row = row - (side - min(grid.shape[0], side)) // 2 + max(grid.shape[0] - side, 0) // 2
        from_column = column - (side - min(grid.shape[1], side)) // 2 + max(grid.shape[1] - side, 0) // 2
        inside = 0 <= from_row < grid.shape[0] and 0 <= from_column < grid.shape[1]
        ring = max(abs(row - side // 2), abs(column - side // 2), 1)
        plain = (ring % 2 == 1) == (first == "CC")
        assert laid.motif.grid[row, column] == (grid[from_row, from_column] if inside else plain)


def test_a_square_that_is_one_already_stays_and_yarns_that_start_too_late_are_left_out():
    yarns = mk.Yarns(cc=[(1, mk.Yarn("deep", "#123f5a")), (4, mk.Yarn("foam", "#3d8f92"))])
    nine = mk.Motif.from_array(np.eye(9), first="CC").with_yarns(yarns)
    assert mk.centre.fitted(nine) == CentreOut(nine)
    assert mk.centre.fitted(nine, hand="left") == CentreOut(nine, "left")
    assert [start for start, _ in mk.centre.fitted(nine, most=7).motif.yarns.cc] == [1]


def test_a_square_of_an_even_side_is_refused():
    with pytest.raises(OptionError, match=r"`most` must be odd, so that there is a centre square; got 8\."):
        mk.centre.fitted(mk.Motif.from_text("..."), most=8)
