"""The symbols, and where numbers and heavy lines stand."""

import re
from functools import cache
from io import BytesIO
from itertools import combinations, pairwise

import numpy as np
import pytest
import typst
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from scipy.ndimage import binary_dilation, gaussian_filter

from mosaickit import Stitch
from mosaickit.errors import OptionError
from mosaickit.svg import (
    BY_SYMBOLS,
    CORNER,
    SQUARE,
    SYMBOLS,
    WIDTH,
    YARN_PATTERNS,
    heavy_lines,
    ink_on,
    marks_of,
    number_step,
    numbers_shown,
    patterns_over,
    symbols_over,
)

SC, BLSC, FLDC, TOG_BACK, TOG_FRONT = SYMBOLS
DRAWN = [symbol for symbol in SYMBOLS if symbol.lines]


def test_each_symbol_stands_at_its_stitchs_number():
    assert [symbol.abbreviation for symbol in SYMBOLS] == [stitch.abbreviation for stitch in Stitch]


def test_the_stitch_that_is_worked_nearly_everywhere_is_an_empty_square_and_no_other_is():
    assert [symbol for symbol in SYMBOLS if not symbol.lines] == [BLSC]


@pytest.mark.parametrize("symbol", DRAWN)
def test_a_symbol_stays_inside_its_square(symbol):
    points = np.concatenate(symbol.unit_lines) * SQUARE
    assert points.min() > WIDTH / 2 + 1
    assert points.max() < SQUARE - WIDTH / 2 - 1
    assert [line.tolist() for line in symbol.unit_lines] == [
        (np.array(line) / SQUARE).tolist() for line in symbol.lines
    ]


@pytest.mark.parametrize("symbol", DRAWN)
def test_no_symbol_reaches_the_mark_of_cc_in_the_corner(symbol):
    (_, top), (right, _), _ = CORNER
    for line in symbol.lines:
        for start, end in pairwise(line):
            x, y = (np.array(start) + (np.array(end) - start) * np.linspace(0, 1, 50)[:, np.newaxis]).T
            # the distance from the slope of the corner
            assert ((x + (top - y) - right) / 2**0.5).min() > WIDTH / 2 + 0.5


# Craft Yarn Council, "Crochet Chart Symbols": sc is a plus or an X; dc is a T with one slash; worked together, stems
# meet in one top. That the arc of the front loop opens up and that of the back loop down is from memory.


def test_sc_is_a_cross():
    (a, b), (c, d) = SC.lines
    assert np.array_equal(np.add(a, b), np.add(c, d)), "both go through the same middle"
    assert np.dot(np.subtract(b, a), np.subtract(d, c)) == 0


def test_fldc_is_a_t_with_one_slash():
    (bar_left, bar_right), (top, foot), (slash_left, slash_right) = FLDC.lines
    assert bar_left[1] == bar_right[1] == top[1] > foot[1]
    assert bar_left[0] < top[0] == foot[0] < bar_right[0]
    assert slash_left[0] < top[0] < slash_right[0]
    assert slash_left[1] != slash_right[1]


def test_worked_together_is_two_stems_that_meet_in_one_top():
    for symbol in (TOG_BACK, TOG_FRONT):
        one, other, arc = symbol.lines[-3:]
        assert one[0] == other[0]
        assert one[0][1] > one[1][1] == other[1][1]
        assert one[1][0] + other[1][0] == 2 * one[0][0] == SQUARE
        assert min(y for _, y in arc) < one[1][1]


@pytest.mark.parametrize(("symbol", "opens"), [(TOG_FRONT, 1), (TOG_BACK, -1)])
def test_the_arc_of_a_front_loop_opens_up_and_that_of_a_back_loop_down(symbol, opens):
    heights = [y for _, y in symbol.lines[-1]]
    assert np.sign(heights[0] - heights[len(heights) // 2]) == opens
    assert heights == heights[::-1]


# ---- told apart --------------------------------------------------------------------------------------------

# An eye at 40 cm tells 0.12 mm (one minute of arc); here twice as much is lost, on squares of 2.5 mm.
SQUARE_PX, BLUR = 60, 0.1
MC, CC, PALE_CC = "#f4ead5", "#1d3f66", "#7fa0a0"
LETTERS = marks_of("letters")


# how far apart, and how strong the difference; a reader knows letters by more than where their ink lies
LEAST_UNLIKE = {"symbols": (0.4, 0.2), "letters": (0.15, 0.15)}
each_kind = pytest.mark.parametrize("marks", [BY_SYMBOLS, LETTERS], ids=["symbols", "letters"])


@cache
def drawn(body, ground="#ffffff", around=""):
    """A square as another program draws it, in grey from 0 for black to 1 for white."""
    inner = f'<rect width="1" height="1" fill="{ground}"/>{around}{body}'
    text = f'<svg xmlns="http://www.w3.org/2000/svg" width="20" height="20" viewBox="0 0 1 1">{inner}</svg>'
    page = b'#set page(width: 20pt, height: 20pt, margin: 0pt)\n#image("x.svg", width: 20pt, height: 20pt)'
    png = typst.compile({"main": page, "x.svg": text.encode()}, format="png", ppi=72 * SQUARE_PX / 20)
    return np.asarray(Image.open(BytesIO(png)).convert("L").resize((SQUARE_PX, SQUARE_PX)), dtype=float) / 255


def mark(stitch, ground="#ffffff", marks=BY_SYMBOLS, halo=False):
    return symbols_over(np.array([[stitch]]), np.zeros((1, 1), dtype=int), [ground], marks, halo=halo)


def blurred(picture, ground):
    """What is left of a picture for an eye that does not see sharp, as a difference from its ground."""
    return gaussian_filter(picture - ground, BLUR * SQUARE_PX, mode="constant")


def unlike(one, other):
    """How much two pictures differ, from 0 to 1, by the stronger of both."""
    strength = max(np.linalg.norm(one), np.linalg.norm(other))
    return np.linalg.norm(one - other) / strength if strength else 0.0


def tone(colour):
    return float(drawn("", colour).mean())


@each_kind
@pytest.mark.parametrize("ground", [MC, CC, PALE_CC, "#ffffff", "#000000"])
def test_stitches_are_told_apart_on_small_squares_by_an_eye_that_sees_no_sharp_lines(ground, marks):
    looks = [blurred(drawn(mark(stitch, ground, marks), ground), tone(ground)) for stitch in Stitch]
    range_ = 1 - tone(ground) if ink_on(ground) == "#ffffff" else tone(ground)
    least, strong = LEAST_UNLIKE[marks.kind]
    for one, other in combinations(looks, 2):
        assert unlike(one, other) > least
        assert np.abs(one - other).max() > strong * range_


@each_kind
@pytest.mark.parametrize(("ground", "other"), [(MC, CC), (CC, MC), ("#d8c27a", "#33556b"), ("#ffffff", "#777777")])
def test_the_picture_is_seen_through_the_marks(ground, other, marks):
    for stitch in Stitch:
        mean = drawn(mark(stitch, ground, marks), ground).mean()
        assert abs(mean - tone(ground)) < abs(mean - tone(other)), stitch


def pattern_of(number):
    return patterns_over(np.array([[number]]))


@each_kind
def test_with_little_ink_stitches_are_told_apart_over_the_pattern_of_every_yarn(marks):
    least, strong = LEAST_UNLIKE[marks.kind]
    for number in range(len(YARN_PATTERNS)):
        looks = [
            blurred(drawn(mark(stitch, marks=marks, halo=True), around=pattern_of(number)), 1.0) for stitch in Stitch
        ]
        for one, other in combinations(looks, 2):
            assert unlike(one, other) > 0.8 * least, "the pattern is the same in both"
            assert np.abs(one - other).max() > strong


def test_with_little_ink_the_patterns_of_yarns_are_told_apart_with_any_stitch_over_them():
    assert len(YARN_PATTERNS) == 5
    for stitch in Stitch:
        looks = [
            blurred(drawn(mark(stitch, halo=True), around=pattern_of(number)), 1.0)
            for number in range(len(YARN_PATTERNS))
        ]
        for one, other in combinations(looks, 2):
            assert np.abs(one - other).max() > 0.08
    bare = [blurred(drawn("", around=pattern_of(number)), 1.0) for number in range(len(YARN_PATTERNS))]
    assert all(unlike(one, other) > 0.4 for one, other in combinations(bare, 2))


def test_with_little_ink_patterns_stay_clear_of_the_symbol():
    for stitch in Stitch:
        symbol = drawn(mark(stitch)) < 0.5
        if not symbol.any():
            continue
        near = binary_dilation(symbol, iterations=SQUARE_PX // SQUARE)
        for number in range(1, len(YARN_PATTERNS)):
            both = drawn(mark(stitch, halo=True), around=pattern_of(number)) < 0.5
            assert not (both & near & ~binary_dilation(symbol)).any()
            assert (both & ~near).any(), "some of it is left to be seen"
            assert drawn("", around=pattern_of(number)).mean() > 0.8


# ---- letters -----------------------------------------------------------------------------------------------


def test_letters_stand_on_their_squares_and_one_stitch_may_go_without():
    own = {"sc": "c", "FLdc": "X", "tog-b": "hb", Stitch.TOG_FRONT: "hf"}
    assert marks_of(own).letters == ("c", "", "X", "hb", "hf")
    assert [marks_of(own).shows(stitch) for stitch in Stitch] == [True, False, True, True, True]
    assert not any(marks_of("plain").shows(stitch) for stitch in Stitch)
    stitches = np.array([[Stitch.FLDC, Stitch.BLSC, Stitch.FLDC]])
    text = symbols_over(stitches, np.zeros((1, 3), dtype=int), ["#ffffff"], marks_of(own))
    assert '<text x="10 50"' in text
    assert ">XX</text>" in text


@pytest.mark.parametrize(
    ("marks", "said"),
    [
        ("signs", "`marks` must be one of 'symbols', 'plain', 'letters', or letters by stitch"),
        (3, "`marks` must be one of"),
        ({"dc": "x"}, "A chart marks no stitch 'dc': the stitches are sc, BLsc, FLdc, tog-b, tog-f"),
        ({9: "x"}, "A chart marks no stitch 9"),
        ({"FLdc": "abc"}, "The letters of FLdc must be 1 or 2 letters, digits or signs that can be printed, without"),
        ({"FLdc": " "}, "The letters of FLdc must be 1 or 2"),
        ({"FLdc": "\u0301"}, "The letters of FLdc must be 1 or 2"),
        ({"FLdc": ["x"]}, "The letters of FLdc must be 1 or 2"),
        ({"FLdc": "x"}, "One stitch may go without letters; sc, BLsc, tog-b and tog-f do. Give letters to all of them"),
        (
            {"sc": "x", "FLdc": "X", "tog-b": "b", "tog-f": "f"},
            "The letters of sc and FLdc, 'x' and 'X', cannot be told apart in a small square. Choose others",
        ),
        ({"sc": "l", "FLdc": "1", "tog-b": "b", "tog-f": "f"}, "'l' and '1', cannot be told apart"),
    ],
)
def test_letters_that_say_nothing_are_refused_in_a_sentence(marks, said):
    with pytest.raises(OptionError, match=re.escape(said)):
        marks_of(marks)


# ---- numbers and lines -------------------------------------------------------------------------------------


@given(st.floats(0.05, 100), st.floats(1, 40), st.integers(1, 300))
def test_numbers_that_are_shown_have_room_and_one_is_always_shown(pitch, room, last):
    numbers = np.arange(last, 0, -1)
    shown = numbers[numbers_shown(numbers, number_step(pitch, room))]
    assert shown[-1] == 1
    assert (np.abs(np.diff(shown)) * pitch >= room).all()


def test_every_number_is_shown_where_there_is_room():
    assert number_step(10, 10) == 1


@given(st.integers(1, 60), st.integers(1, 12), st.booleans())
def test_heavy_lines_run_after_every_tenth_as_the_maker_counts(last, every, rising):
    numbers = list(range(1, last + 1)) if rising else list(range(last, 0, -1))
    expected = [
        line
        for line in range(1, last)
        if {numbers[line - 1], numbers[line]} in [{n, n + 1} for n in range(every, last, every)]
    ]
    assert heavy_lines(np.array(numbers), every).tolist() == expected
