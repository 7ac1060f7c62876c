"""The motif as a value, and orientation, which everything that faces a maker rests on."""

import pickle

import numpy as np
import pytest
from hypothesis import given
from samples import letter_f, single, stripes
from strategies import hands, motifs, shapes
from strategies import yarns as any_yarns

from mosaickit import Motif, Yarn, Yarns, orientation
from mosaickit.errors import MotifError
from mosaickit.motif import LARGEST_SIDE


@given(motifs())
def test_text_read_and_written_is_the_same_motif(motif):
    assert Motif.from_text(motif.to_text(), motif.first, yarns=motif.yarns, name=motif.name) == motif


@given(motifs())
def test_equal_content_is_an_equal_motif_and_a_pickle_keeps_it(motif):
    twin = pickle.loads(pickle.dumps(motif))
    assert twin == motif
    assert hash(twin) == hash(motif)
    assert not twin.grid.flags.writeable
    assert motif.with_grid(~motif.grid) != motif


def test_a_motif_does_not_follow_the_array_it_was_made_from():
    squares = np.zeros((2, 2), dtype=bool)
    motif = Motif(squares)
    squares[0, 0] = True
    assert not motif.grid.any()
    with pytest.raises(ValueError, match="read-only"):
        motif.grid[0, 0] = True


def test_overlaid_squares_are_those_that_do_not_show_their_rows_colour():
    # rows from the bottom: MC, CC, MC, CC, MC, CC, MC
    assert Motif(letter_f.overlaid).to_text().split() == [
        ".......",
        ".......",
        ".#...#.",
        "...#...",
        ".#.....",
        ".......",
        ".......",
    ]
    assert not stripes.overlaid.any()


@given(shapes(), hands)
def test_place_and_square_are_inverses_and_agree_with_the_arrays(shape, hand):
    rows, columns = shape
    numbers = np.array([[orientation.place((i, x), shape, hand) for x in range(columns)] for i in range(rows)])
    assert np.array_equal(orientation.to_working(numbers, hand)[0, 0], (1, 1))
    assert np.array_equal(numbers[:, 0, 0], orientation.row_numbers(rows))
    assert np.array_equal(numbers[0, :, 1], orientation.stitch_numbers(columns, hand))
    for i, x in np.ndindex(*shape):
        assert orientation.square(*orientation.place((i, x), shape, hand), shape, hand) == (i, x)
    assert np.array_equal(orientation.to_seen(orientation.to_working(numbers, hand), hand), numbers)


def test_the_four_corners_of_an_f_as_a_maker_names_them():
    corners = {"top left": (0, 0), "top right": (0, 6), "bottom left": (6, 0), "bottom right": (6, 6)}
    right = {name: orientation.place(square, letter_f.shape) for name, square in corners.items()}
    left = {name: orientation.place(square, letter_f.shape, "left") for name, square in corners.items()}
    assert right == {"top left": (7, 7), "top right": (7, 1), "bottom left": (1, 7), "bottom right": (1, 1)}
    assert left == {"top left": (7, 1), "top right": (7, 7), "bottom left": (1, 1), "bottom right": (1, 7)}


def test_row_colours_alternate_from_row_1():
    assert orientation.contrast_rows(5, "MC").tolist() == [False, True, False, True, False]
    assert [orientation.role_of_row(row, "CC") for row in (-1, 0, 1, 2)] == ["CC", "MC", "CC", "MC"]


@given(any_yarns)
def test_yarns_by_row_agree_with_asking_row_by_row(yarns):
    for role in ("MC", "CC"):
        assert list(yarns.by_row(15, role)) == [yarns.at(row, role) for row in range(1, 16)]
    assert yarns.gather(range(1, 16)) == yarns


def test_a_change_to_the_same_yarn_is_no_change():
    sand = Yarn("sand", "#E9DCC3")
    assert sand.colour == "#e9dcc3"
    assert Yarns(mc=[(1, sand), (4, sand), (6, sand)]) == Yarns(mc=sand)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "The picture is empty"),
        ("\n \n", "The picture is empty"),
        ("..\n.x", "Line 2, column 2: expected '.' for MC or '#' for CC, found 'x'."),
        ("\n\n..\n.é", "Line 4, column 2: expected '.' for MC or '#' for CC, found 'é'."),
        ("..\n...\n..", "Line 2 has 3 squares, but line 1 has 2: all rows of a picture are equally long."),
        ("..\n\n..", "Line 2 has 0 squares, but line 1 has 2"),
        ("." * (LARGEST_SIDE + 1), "at most 10,000 rows or columns .* got 1 × 10,001"),
        (7, "A picture in text must be a str; got 7."),
    ],
)
def test_text_that_is_no_picture_is_refused_with_its_place(text, message):
    with pytest.raises(MotifError, match=message):
        Motif.from_text(text)


@pytest.mark.parametrize(
    ("array", "message"),
    [
        ([[0, 1], [1]], "The rows of a picture must be equally long; these are ragged."),
        ([0, 1], "A picture must have two dimensions, rows and columns; got 1."),
        ([[0, 1], [2, 0]], "Line 2, column 1: expected 0 for MC or 1 for CC, found 2."),
        ([[0.5]], "Line 1, column 1: expected 0 for MC or 1 for CC, found 0.5."),
        ([[float("nan")]], "Line 1, column 1: .* found nan."),
        ([["a"]], "A picture must hold 0 and 1 or booleans; got <U1."),
        (np.zeros((0, 3)), "A motif must have at least 1 row and 1 column; got 0 × 3."),
    ],
)
def test_an_array_that_is_no_picture_is_refused_with_its_place(array, message):
    with pytest.raises(MotifError, match=message):
        Motif.from_array(array)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: Motif([[0, 1]]), "must be a boolean array of two dimensions, True for CC; got 2 dimensions of int64"),
        (lambda: Motif(single.grid, "red"), "The colour of row 1 must be 'MC' or 'CC'; got 'red'."),
        (lambda: Motif(single.grid, "MC", "blue"), "A motif's yarns must be `Yarns`; got 'blue'."),
        (lambda: single.named("two\nlines"), r"one line of printable characters; found '\\n'."),
        (lambda: single.named("x" * 201), "at most 200 characters; got 201"),
        (lambda: Yarn("sand", "beige"), "must be written '#rrggbb', as '#1f4e79'; got 'beige'."),
        (lambda: Yarn(3, "#000000"), "A yarn's name must be text; got 3."),
        (lambda: Yarns(mc=[(2, Yarn("a", "#000000"))]), r"The first yarn of MC must start at row 1; got rows \[2\]."),
        (
            lambda: Yarns(cc=[(1, Yarn("a", "#000000")), (1, Yarn("b", "#000000"))]),
            r"The yarns of CC must change at rising rows; got rows \[1, 1\].",
        ),
        (
            lambda: single.with_yarns(Yarns(mc=[(1, Yarn("a", "#000000")), (2, Yarn("b", "#ffffff"))])),
            "must not change above its last row, 1; they change at row 2. Give yarns for more rows to the finished",
        ),
        (lambda: Yarns(mc="red"), r"The yarns of MC must be a Yarn or pairs of \(row, Yarn\); got 'red'."),
        (lambda: Yarns(mc=[(1, "red")]), r"must be pairs of \(row, Yarn\); got \(1, 'red'\)."),
    ],
)
def test_what_is_no_motif_or_yarn_is_refused_with_a_sentence(make, message):
    with pytest.raises(MotifError, match=message):
        make()


def test_a_small_motif_shows_its_squares_and_a_large_one_its_size():
    assert repr(stripes) == f"<Motif 4 rows × 4 stitches, row 1 in MC, 50% of squares CC>\n{stripes.to_text()}"
    large = Motif(np.zeros((41, 300), dtype=bool), name="plain")
    assert repr(large) == "<Motif plain: 41 rows × 300 stitches, row 1 in MC, 0% of squares CC>"


@given(motifs())
def test_a_picture_is_made_from_its_overlaid_squares_whatever_was_in_it(motif):
    other = motif.with_grid(np.random.default_rng(1).random(motif.shape) < 0.5)
    assert other.with_overlaid(motif.overlaid) == motif
