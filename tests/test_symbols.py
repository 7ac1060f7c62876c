"""The symbols, and where numbers and heavy lines stand."""

from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mosaickit import Stitch
from mosaickit.svg import SQUARE, SYMBOLS, heavy_lines, number_step, numbers_shown

FLDC, TOG_BACK, TOG_FRONT = (SYMBOLS[stitch] for stitch in (Stitch.FLDC, Stitch.TOG_BACK, Stitch.TOG_FRONT))
DRAWN = (FLDC, TOG_BACK, TOG_FRONT)


def test_each_symbol_stands_at_its_stitchs_number():
    assert [symbol.abbreviation for symbol in SYMBOLS] == [stitch.abbreviation for stitch in Stitch]


def test_a_plain_stitch_is_an_empty_square_and_no_other_is():
    assert [symbol for symbol in SYMBOLS if not symbol.lines] == [SYMBOLS[Stitch.SC], SYMBOLS[Stitch.BLSC]]


@pytest.mark.parametrize("symbol", DRAWN)
def test_a_symbol_stays_inside_its_square(symbol):
    points = np.concatenate(symbol.unit_lines)
    assert points.min() > 0
    assert points.max() < 1
    assert [line.tolist() for line in symbol.unit_lines] == [
        (np.array(line) / SQUARE).tolist() for line in symbol.lines
    ]


# Craft Yarn Council, "Crochet Chart Symbols": dc is a T with one slash; worked together, stems meet in one top.
# That the arc of the front loop opens up and that of the back loop down is from memory.


def test_fldc_is_a_t_with_one_slash_and_an_arc_at_its_foot():
    (bar_left, bar_right), (top, foot), (slash_left, slash_right), arc = FLDC.lines
    assert bar_left[1] == bar_right[1] == top[1] > foot[1]
    assert bar_left[0] < top[0] == foot[0] < bar_right[0]
    assert slash_left[0] < top[0] < slash_right[0]
    assert slash_left[1] != slash_right[1]
    assert foot in arc


def test_worked_together_is_two_stems_that_meet_in_one_top():
    for symbol in (TOG_BACK, TOG_FRONT):
        _, dc, _, sc, _ = symbol.lines[:5]
        assert dc[0] == sc[0]
        assert dc[1] != sc[1]
        assert sc[1][1] > dc[1][1], "the single crochet is the shorter"


@pytest.mark.parametrize(("symbol", "opens"), [(FLDC, 1), (TOG_FRONT, 1), (TOG_BACK, -1)])
def test_the_arc_of_a_front_loop_opens_up_and_that_of_a_back_loop_down(symbol, opens):
    heights = [y for _, y in symbol.lines[-1]]
    assert np.sign(heights[0] - heights[len(heights) // 2]) == opens
    assert heights == heights[::-1]


def touched(symbol, pixels):
    """Which of pixels × pixels a symbol runs through."""
    squares = set()
    for line in symbol.unit_lines:
        for start, end in pairwise(line):
            points = start + (end - start) * np.linspace(0, 1, 100)[:, np.newaxis]
            squares |= set(map(tuple, np.floor(points * pixels).astype(int).tolist()))
    return squares


@pytest.mark.parametrize(("one", "two"), list(combinations(DRAWN, 2)))
def test_symbols_differ_in_an_eighth_of_the_pixels_of_a_square_of_eight(one, two):
    assert len(touched(one, 8) ^ touched(two, 8)) >= 8


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
