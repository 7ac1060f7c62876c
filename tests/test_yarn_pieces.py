"""Finished pieces as their yarn lies: where border, fringe and sides are, and in which colours, pixel by pixel."""

import matplotlib.pyplot as plt
import numpy as np
import pytest

import mosaickit as mk

GAUGE = mk.Gauge(14, 16)
LEAF = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf").with_yarns(
    mk.Yarns(mk.Yarn("red", "#ff0000"), mk.Yarn("blue", "#0000ff"))
)
MAT = mk.Design(LEAF, GAUGE).but(across=5, up=5, colours="swap", between_rows="cut", title="Mat")


@pytest.fixture(autouse=True)
def pictures_closed():
    yield
    plt.close("all")


def shown(axes):
    """The picture, and what says which pixel is at a place in cm."""
    (image,) = axes.images
    pixels, (left, right, _, top) = image.get_array(), image.get_extent()

    def around(x, y, cm=0.25):
        """The pixels with yarn within a square about a place."""
        wide = pixels.shape[1]
        per = wide / (right - left)
        rows = slice(max(int((top - y - cm) * per), 0), int((top - y + cm) * per) + 1)
        columns = slice(max(int((x - left - cm) * per), 0), int((x - left + cm) * per) + 1)
        part = pixels[rows, columns]
        return part[part[..., 3] > 0]

    return pixels, around


def mostly(part):
    """The colour that most pixels are nearest to."""
    assert len(part)
    return "red" if (part[:, 0].astype(int) > part[:, 2]).mean() > 0.5 else "blue"


@pytest.mark.parametrize("side", ["front", "back"])
def test_a_border_goes_all_around_in_its_colour(side):
    design = MAT.but(border_rounds=3, finish_colour="CC")
    _, around = shown(mk.draw.worked_piece(design, side=side))
    (width, length), deep = design.size, design.edging.depth_cm
    for x in np.linspace(deep / 2, width - deep / 2, 7):
        for y in (deep / 2, length - deep / 2):
            assert mostly(around(x, y)) == mostly(around(y, x)) == "blue"
    assert mostly(around(width - deep / 2, length / 2)) == "blue"
    # row 1 is in the other colour
    assert mostly(around(width / 2, deep + GAUGE.row_height_cm / 2, 0.1)) == "red"


def test_an_edging_along_row_ends_leaves_top_and_foundation_free():
    design = MAT.but(border_rounds=2, border_along="row ends", finish_colour="CC")
    _, around = shown(mk.draw.worked_piece(design))
    (width, length), deep = design.size, design.edging.depth_cm
    assert mostly(around(deep / 2, length / 2)) == mostly(around(width - deep / 2, length / 2)) == "blue"
    assert mostly(around(width / 2, GAUGE.row_height_cm / 2, 0.1)) == "red"


def test_a_fringe_hangs_at_both_ends_in_the_yarns_of_the_rows():
    design = MAT.but(ends="fringe", fringe_cm=8)
    pixels, around = shown(mk.draw.worked_piece(design))
    width, length = design.size
    for x in (-7.5, width + 7.5):
        colours = {mostly(part) for y in np.arange(0, length, 0.3) if len(part := around(x, y, 0.08))}
        assert colours == {"red", "blue"}
    assert not len(around(-8.3, length / 2))
    bare = shown(mk.draw.worked_piece(MAT))[0]
    assert pixels.shape[1] > bare.shape[1]


@pytest.mark.thorough
def test_the_fabric_in_the_middle_is_what_worked_draws():
    alone = mk.draw.worked(MAT.chart, gauge=GAUGE, across=3).images[0].get_array()
    whole = shown(mk.draw.worked_piece(MAT.but(ends="fringe", fringe_cm=8)))[0]
    high, wide = alone.shape[:2]
    middle = alone[high // 3 : high // 2, wide // 3 : wide // 2]
    found = np.lib.stride_tricks.sliding_window_view(whole[..., 0], middle.shape[:2])
    assert (found == middle[..., 0]).all(axis=(2, 3)).any()


def test_a_cowl_shows_half_of_its_rounds_and_the_join_behind():
    cowl = MAT.but(in_the_round=True, across=10, border_rounds=2, finish_colour="CC")
    front, around = shown(mk.draw.worked_piece(cowl))
    back, _ = shown(mk.draw.worked_piece(cowl, side="back"))
    assert front.shape == back.shape
    assert front.shape[1] == pytest.approx(
        cowl.size.width_cm / 2 * front.shape[0] / (cowl.size.length_cm + 1.5), rel=0.1
    )
    assert mostly(around(5, 0.6)) == mostly(around(5, cowl.size.length_cm - 0.6)) == "blue"
    # in front the middle is as it is a repeat further on; behind, the join is there once
    repeat = round(front.shape[1] / 5)
    middle = slice(front.shape[1] // 2 - repeat // 4, front.shape[1] // 2 + repeat // 4)
    further = slice(middle.start + repeat, middle.stop + repeat)
    differ = [np.abs(one[:, middle].astype(int) - one[:, further]).mean() for one in (front, back)]
    assert differ[1] > 1.2 * differ[0]


@pytest.mark.parametrize("hand", ["right", "left"])
def test_a_square_from_the_centre_shows_its_picture_in_front_and_its_rounds_behind(hand):
    rounds = 7
    grid = np.random.default_rng(4).random((2 * rounds + 1,) * 2) < 0.4
    motif = mk.Motif(grid, yarns=LEAF.yarns)
    square = mk.centre.nearest(mk.centre.CentreOut(motif, hand)).square
    design = mk.CentreDesign(square, mk.Gauge(10, 10))
    _, front = shown(mk.draw.worked_square(design, across=4))
    _, behind = shown(mk.draw.worked_square(design, side="back", across=4))
    cc, n = square.motif.grid, 2 * rounds + 1
    at = [(row, column) for row in range(n) for column in range(n) if max(abs(row - rounds), abs(column - rounds)) > 1]
    # the middle of a square, as the foot of what is above it leans in
    right = [mostly(front(c + 0.5, n - r - 0.5, 0.2)) == ("blue" if cc[r, c] else "red") for r, c in at]
    assert np.mean(right) > 0.93
    own = [
        mostly(behind(n - c - 0.5, n - r - 0.5, 0.2)) == ("blue" if square.ring_is_cc[r, c] else "red") for r, c in at
    ]
    assert np.mean(own) > 0.9
