"""Symmetry: drawn examples of every group, published totals, and an opponent that tries all moves in plain Python."""

from collections import Counter
from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from samples import letter_f
from strategies import hands, motifs

import mosaickit as mk
from mosaickit.errors import OptionError
from mosaickit.motif import Motif, Move, symmetry

# The top row first, rows apart by a space. One-colour examples have no move that swaps the colours.
BORDERS = {
    "p111": "##.. .#..",
    "p1a1": "..#.##.. ##....#.",
    "p1m1": "##. .## ##.",
    "pm11": ".. #.",
    "p112": ".#. #..",
    "pma2": "###. #.##",
    "pmm2": "#",
}
TWO_COLOUR_BORDERS = {
    "p111/p111": ".##. ##.. ..##",
    "p1a1/p111": "...# ##.. #.##",
    "p1m1/p111": "##.#... ..#.###",
    "p1m1/p1m1": "##.. #..# ##..",
    "p1m1/p1a1": "###.##...#.. ...#..###.##",
    "pm11/p111": "#.#. ..##",
    "pm11/pm11": "#...## #.#.#.",
    "p112/p111": ".#. .##",
    "p112/p112": ".##. ..##",
    "pma2/p112": "##..#. #.#..#",
    "pma2/pm11": ".### ..#.",
    "pma2/p1a1": "#..# #.#. .##.",
    "pmm2/p1m1": ".##.#.",
    "pmm2/pm11": "..# ##.",
    "pmm2/p112": "#.#..# .#.##.",
    "pmm2/pma2": ".# #.",
    "pmm2/pmm2": "#.",
}
PLANES = {
    "p1": "... #.# ..#",
    "p2": "#.. ..# .#.",
    "pm": "#..# .#..",
    "pg": "#### ##.. .#.# ..##",
    "cm": ".### #### #.#. ##.# #### #.#.",
    "pmm": "## .#",
    "pmg": "#. ## .#",
    "pgg": ".#.. #... ..#. ...#",
    "cmm": ".# .. #. ..",
}
TWO_COLOUR_PLANES = {
    "p1/p1": "#..# ..## .##. .##.",
    "p2/p1": "..#. ..## #.##",
    "p2/p2": ".##. ..## ##..",
    "pm/p1": "..## #.#. #.#. .#.#",
    "pm/pg": "...### ..#.## ###... ##.#..",
    "pm/cm": "#..# ..## ##.. .##. ##.. ..##",
    "pm/pm(m)": "#..# ..## #..#",
    "pm/pm(m′)": ".####... #.##.#.. .#..#.## .####...",
    "pg/p1": "#..# ###. .#..",
    "pg/pg": "#.#.#. ...### .#.#.# #...##",
    "cm/p1": "#...## .##.#. .###.. .#..##",
    "cm/pm": "#... .#.# ##.# #.#.",
    "cm/pg": ".#.. ...# ..#. ##.# ###. #.## .### #...",
    "pmm/p2": ".##. .#.# #.#. #..#",
    "pmm/pm": ".. ## #. .#",
    "pmm/pmm": "#.. .##",
    "pmm/pmg": "..## #.#. ..## ##.. .#.# ##..",
    "pmm/cmm": ".# #.",
    "pmg/p2": "..## .#.# #.#.",
    "pmg/pm": "#.. #.#",
    "pmg/pg": "..## ##.. .#.#",
    "pmg/pmg": ".##. ..##",
    "pmg/pgg": "..## ##.. #..# .##.",
    "pgg/p2": "##.. ##.# #..# #...",
    "pgg/pg": "#... #.## ###. ..#.",
    "cmm/p2": ".##.#. #..#.# .#..## #.##..",
    "cmm/cm": "#..# #.#. .##. #.#.",
    "cmm/pmm": ".. #. ## #.",
    "cmm/pmg": "##.# ..#. #... .###",
    "cmm/pgg": "#.##.. .#..## .##.#. #..#.#",
}
# How many of the 46 two-colour plane groups have each of these nine as the group of all their moves, and that the
# other eight have 16 (p4 2, p4m 5, p4g 3, p31m 1, p3m1 1, p6 1, p6m 3, p3 none): from memory.
TWO_COLOURED = {"p1": 1, "p2": 2, "pm": 5, "pg": 2, "cm": 3, "pmm": 5, "pmg": 5, "pgg": 2, "cmm": 5}
OTHERS = 2 + 5 + 3 + 1 + 1 + 1 + 3


def picture(text):
    return Motif.from_text(text.replace(" ", "\n"))


# ---- the opponent: try every move, one square after the other ----------------------------------------------


def image(move, row, stitch):
    """Where a move brings a square; rows and stitches from 1."""
    if move.kind in ("mirror", "glide"):
        return row + move.up, 2 * move.stitch - stitch
    if move.kind in ("up-down", "up-down glide"):
        return 2 * move.row - row, stitch + move.along
    if move.kind == "half-turn":
        return 2 * move.row - row, 2 * move.stitch - stitch
    return row + move.up, stitch + move.along


def does(squares, move, border):
    """Whether the move does to the squares, {(row, stitch): colour}, what it says."""
    rows, stitches = max(squares)
    for (row, stitch), colour in squares.items():
        to_row, to_stitch = image(move, row, stitch)
        if border and not 1 <= to_row <= rows:
            return False
        if (squares[int(to_row - 1) % rows + 1, int(to_stitch - 1) % stitches + 1] != colour) != move.swaps:
            return False
    return True


def all_moves(squares, border):
    rows, stitches = max(squares)
    ups, alongs = range(1 if border else rows), range(stitches)
    row_places, stitch_places = ([1 + k / 2 for k in range(2 * size)] for size in (rows, stitches))
    for swaps in (False, True):
        candidates = [
            *(Move("shift", swaps, up=up, along=along) for up, along in product(ups, alongs)),
            *(Move("glide" if up else "mirror", swaps, up=up, stitch=s) for up, s in product(ups, stitch_places)),
            *(
                Move("up-down glide" if along else "up-down", swaps, along=along, row=row)
                for row, along in product(row_places, alongs)
            ),
            *(Move("half-turn", swaps, row=row, stitch=s) for row, s in product(row_places, stitch_places)),
        ]
        yield from (move for move in candidates if does(squares, move, border))


def named(moves, border):
    """Name a group by which lines it has, as a flow chart does: no shift is looked at."""
    kinds = {move.kind for move in moves}
    proper = any(  # a glide along a line that is no mirror
        (m.kind == "glide" and not any(n.kind == "mirror" and n.stitch == m.stitch for n in moves))
        or (m.kind == "up-down glide" and not any(n.kind == "up-down" and n.row == m.row for n in moves))
        for m in moves
    )
    across, upward = kinds & {"mirror", "glide"}, kinds & {"up-down", "up-down glide"}
    if border:
        second = "m" if "up-down" in kinds else "a" if upward else "1"
        return f"p{'m' if across else '1'}{second}{'2' if 'half-turn' in kinds else '1'}"
    if across and upward:
        straight = len(kinds & {"mirror", "up-down"})
        return {0: "pgg", 1: "pmg", 2: "cmm" if proper else "pmm"}[straight]
    if across or upward:
        return "pg" if not kinds & {"mirror", "up-down"} else "cm" if proper else "pm"
    return "p2" if "half-turn" in kinds else "p1"


def by_hand(motif, found, border):
    """The squares of one repeat, read off the text, and all moves of it."""
    lines = motif.to_text().split()[::-1]
    squares = {
        (row, stitch): lines[row - 1][-stitch] == "#"
        for row in range(1, found.rows + 1)
        for stitch in range(1, found.stitches + 1)
    }
    return squares, list(all_moves(squares, border))


def compare(motif, as_):
    border = as_ == "border"
    found = symmetry(motif, as_=as_)
    _, moves = by_hand(motif, found, border)
    keeping = [move for move in moves if not move.swaps]
    swapping = [move for move in moves if move.swaps]
    assert found.group == named(keeping, border)
    pair = f"{named(moves, border)}/{found.group}" if swapping else ""
    assert found.two_colour.removesuffix("(m)").removesuffix("(m′)") == pair
    if pair == "pm/pm":
        some_swap = any(move.kind in ("mirror", "up-down") for move in swapping)
        assert found.two_colour == ("pm/pm(m′)" if some_swap else "pm/pm(m)")
    assert Counter(m for m in found.moves if m.kind != "shift") == Counter(m for m in moves if m.kind != "shift")
    shifts = {(m.up, m.along) for m in keeping if m.kind == "shift"}
    assert shifts == made_by(found, swaps=False)
    assert {(m.up, m.along) for m in swapping if m.kind == "shift"} == made_by(found, swaps=True)
    return found


def made_by(found, swaps):
    """All shifts within one repeat that the listed ones make."""
    made, new = set(), {(0, 0, False)}
    while new:
        made |= new
        new = {
            ((up + m.up) % found.rows, (along + m.along) % found.stitches, s != m.swaps)
            for up, along, s in new
            for m in found.moves
            if m.kind == "shift"
        } - made
    return {(up, along) for up, along, s in made if s == swaps}


SMALL = [*((r, c) for r in range(1, 8) for c in range(1, 8) if r * c <= 6), (2, 4), (4, 2)]


@pytest.mark.thorough
@pytest.mark.parametrize("as_", ["repeat", "border"])
def test_every_picture_of_up_to_6_squares_and_more_has_the_moves_that_trying_all_finds(as_):
    groups = set()
    for rows, columns in SMALL:
        for bits in range(1 << rows * columns):
            grid = np.array([bits >> k & 1 for k in range(rows * columns)], dtype=bool).reshape(rows, columns)
            found = compare(Motif(grid), as_)
            groups |= {found.group, found.two_colour or found.group}
    known = {**PLANES, **TWO_COLOUR_PLANES} if as_ == "repeat" else {**BORDERS, **TWO_COLOUR_BORDERS}
    assert groups <= set(known)
    assert len(groups) >= 10


@pytest.mark.parametrize("shape", [(4, 4), (3, 4), (4, 6), (6, 4)], ids=str)
def test_pictures_put_together_at_random_have_the_moves_that_trying_all_finds(shape):
    rng = np.random.default_rng(shape)
    rows, columns = shape
    for _ in range(40):
        grid = rng.random((rows // 2, columns // 2 if rng.random() < 0.7 else columns)) < 0.5
        # lay a piece beside a moved or swapped copy of itself, both ways
        for axis in (0, 1):
            copy = grid[:: rng.choice([-1, 1]), :: rng.choice([-1, 1])] ^ (rng.random() < 0.4)
            copy = np.roll(copy, rng.integers(3), axis=1 - axis)
            grid = np.concatenate([grid, copy], axis=axis)
        compare(Motif(grid), "repeat")
        compare(Motif(grid), "border")


# ---- drawn examples and published totals -------------------------------------------------------------------


@pytest.mark.parametrize(("group", "text"), BORDERS.items(), ids=BORDERS)
def test_a_border_of_each_of_the_7_groups(group, text):
    found = compare(picture(text), "border")
    assert found.group == group
    assert found.two_colour == ""


@pytest.mark.parametrize(("pair", "text"), TWO_COLOUR_BORDERS.items(), ids=TWO_COLOUR_BORDERS)
def test_a_border_of_each_two_colour_group(pair, text):
    found = compare(picture(text), "border")
    assert found.two_colour == pair
    assert pair.endswith("/" + found.group)


@pytest.mark.parametrize(("group", "text"), PLANES.items(), ids=PLANES)
def test_a_repeat_of_each_plane_group_whose_rows_are_not_columns(group, text):
    found = compare(picture(text), "repeat")
    assert found.group == group
    assert found.two_colour == ""


@pytest.mark.parametrize(("pair", "text"), TWO_COLOUR_PLANES.items(), ids=TWO_COLOUR_PLANES)
def test_a_repeat_of_each_two_colour_plane_group(pair, text):
    assert compare(picture(text), "repeat").two_colour == pair


def test_there_are_as_many_groups_as_are_published():
    # 7 friezes: any handbook. 17 in two colours: Shubnikov and Belov; Washburn and Crowe, 1988 (from memory). Both
    # together are the "precisely twenty four" border types of G. Baloglou, Isometrica, chapter 5.
    assert (len(BORDERS), len(TWO_COLOUR_BORDERS)) == (7, 17)
    assert len(BORDERS | TWO_COLOUR_BORDERS) == 24
    # 46 in two colours: J. D. Jarratt and R. L. E. Schwarzenberger, Acta Cryst. A36 (1980) 884
    assert Counter(pair.partition("/")[0] for pair in TWO_COLOUR_PLANES) == TWO_COLOURED
    assert len(TWO_COLOUR_PLANES) + OTHERS == 46


# ---- laws --------------------------------------------------------------------------------------------------


@given(motifs(), st.integers(-5, 5), st.integers(-5, 5), st.sampled_from(["repeat", "border"]))
def test_a_picture_shifted_mirrored_swapped_or_repeated_keeps_its_groups(motif, right, up, as_):
    found = symmetry(motif, as_=as_)
    up = up if as_ == "repeat" else 0
    for same in (
        mk.shift(motif, right=right, up=up, must_work=False),
        mk.mirror(motif),
        mk.up_down(motif),
        mk.counterchange(motif),
        mk.repeat(motif, across=2, up=2 if as_ == "repeat" else 1, must_work=False),
    ):
        again = symmetry(same, as_=as_)
        assert (again.group, again.two_colour) == (found.group, found.two_colour)
        assert (again.rows, again.stitches) == (found.rows, found.stitches)


@given(motifs(shape=st.tuples(st.sampled_from([2, 4, 6]), st.integers(1, 6))))
def test_stitches_follow_the_moves_that_say_so_and_no_others(motif):
    # the row colours go on evenly, as the number of rows is even
    overlaid = motif.overlaid[::-1, ::-1]
    rows, stitches = motif.shape
    for move in symmetry(motif).moves:
        if move.upside_down:
            assert not move.stitches_too
            continue
        moved = {
            overlaid[row - 1, stitch - 1] == overlaid[(row - 1 + move.up) % rows, int(to) % stitches]
            for row in range(1, rows + 1)
            for stitch in range(1, stitches + 1)
            for to in [image(move, row, stitch)[1] - 1]
        }
        assert moved == {move.stitches_too}


@given(motifs(), hands)
def test_the_other_hand_counts_stitches_from_the_other_edge(motif, hand):
    assert symmetry(motif, hand=hand) == symmetry(mk.mirror(motif), hand="left" if hand == "right" else "right")


def test_an_odd_number_of_rows_can_swap_its_colours_from_repeat_to_repeat():
    kept, swapped = symmetry(letter_f), symmetry(letter_f, colours="swap")
    assert (kept.rows, kept.two_colour) == (7, "")
    assert (swapped.rows, swapped.two_colour) == (14, "p1/p1")
    assert swapped.swapping == (Move("shift", True, up=7),)
    assert swapped.swapping[0].stitches_too
    assert symmetry(letter_f, as_="border", colours="swap") == symmetry(letter_f, as_="border")


def test_plain_stripes_swap_their_colours_by_one_row_as_the_craft_does():
    found = symmetry(picture("## .. ## .."))
    assert (found.rows, found.stitches, found.two_colour) == (2, 1, "pmm/pmm")
    shift = next(move for move in found.swapping if move.kind == "shift")
    assert (shift.up, shift.along, shift.stitches_too) == (1, 0, True)


# ---- words -------------------------------------------------------------------------------------------------


def test_a_repeat_is_described_in_plain_words():
    assert symmetry(picture(".#. ### .#. ...")).words == (
        "Plane group pmm, and no move swaps the colours.",
        "It repeats every 4 rows up and every 3 stitches along.",
        "It reads the same mirrored left to right about stitch 2 or the line between stitch 3 and the next repeat.",
        "It reads the same turned upside down about row 1 or row 3.",
        "It reads the same after half a turn about row 1, stitch 2 or row 1, stitch 3½ or row 3, stitch 2 or row 3, "
        "stitch 3½, where ½ lies between two.",
        "What turns it upside down is a symmetry of the picture only, not of its stitches: a dc never drops up.",
    )


def test_glides_and_swaps_are_described_in_plain_words():
    assert symmetry(picture("..## ##.. .#.#")).words == (
        "Plane group pg, in two colours pmg/pg.",
        "It repeats every 3 rows up and every 4 stitches along.",
        "It reads the same turned upside down about row 1 or the line between rows 2 and 3 and then shifted 2 "
        "stitches on.",
        "It swaps its colours mirrored left to right about the line between stitches 2 and 3 or the line between "
        "stitch 4 and the next repeat.",
        "It swaps its colours after half a turn about row 1, stitch 1½ or row 1, stitch 3½ or row 2½, stitch 1½ or "
        "row 2½, stitch 3½, where ½ lies between two.",
        "What turns it upside down is a symmetry of the picture only, not of its stitches: a dc never drops up.",
        "Where colours swap though an even number of rows is moved, or none, overlaid squares end up on plain "
        "ones: that is a symmetry of the picture only.",
        "Where colours keep though an odd number of rows is moved, overlaid squares end up on plain ones: that is "
        "a symmetry of the picture only.",
    )
    stripes = symmetry(picture("## ..")).words
    assert "It swaps its colours shifted 1 row up." in stripes
    assert stripes[-1] == "Where an odd number of rows swaps the colours, stitches follow: row colours alternate."


def test_many_places_are_counted_not_listed():
    diagonal = Motif(np.eye(12, dtype=bool))
    assert str(symmetry(diagonal)).count(" or ") < 20
    assert "or 42 more places, where ½ lies between two." in str(symmetry(diagonal))


@given(motifs(), st.sampled_from(["repeat", "border"]))
def test_every_sentence_is_one(motif, as_):
    found = symmetry(motif, as_=as_)
    assert all(line.endswith(".") and "{" not in line and "  " not in line for line in found.words)
    assert str(found) == "\n".join(found.words)
    assert found.words[0] in repr(found)


def test_what_is_neither_a_repeat_nor_a_border_is_refused():
    with pytest.raises(OptionError, match=r"`as_` must be one of 'repeat', 'border'; got 'frieze'\."):
        symmetry(letter_f, as_="frieze")
    with pytest.raises(OptionError, match="`colours` must be one of 'keep', 'swap'; got 'both'"):
        symmetry(letter_f, colours="both")
