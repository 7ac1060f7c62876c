"""The look panel of the workbook: both sides of the whole piece, a part of it as yarn, and the loops of a square."""

from base64 import b64decode
from io import BytesIO

import numpy as np
import pytest
from matplotlib.image import imread
from samples import letter_f
from test_book_yarn import DEEP, FOAM, GAUGE, LEAF, SAND, Pressed

import mosaickit as mk

SCARF = mk.Design(LEAF.with_yarns(mk.Yarns(SAND, [(1, DEEP), (3, FOAM)])), GAUGE, reversible=True).but(
    across=8, up=9, colours="swap"
)
ONE_COLOUR_EACH = mk.Design(LEAF, GAUGE, reversible=True).but(across=3, up=3, colours="swap")
BAD = mk.Motif.from_text("......\n######\n..##..\n..##..\n######\n......\n......", name="bad")


def look_at(start, folder):
    return Pressed(start, folder, "look")


def squares(face):
    """The colour of each square, (rows, stitches), as seen."""
    index = np.frombuffer(face["squares"], np.uint8).reshape(face["rows"], face["stitches"])
    return np.array(face["colours"])[index]


def picture_in(answer):
    data = b64decode(answer["picture"].removeprefix("data:image/png;base64,"))
    return imread(BytesIO(data), format="png")


# ---- the sides ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("hand_of", ["right", "left"])
def test_the_back_is_the_negative_one_row_higher_and_mirrored_and_the_front_comes_back(tmp_path, hand_of):
    look = look_at(ONE_COLOUR_EACH.but(hand=hand_of), tmp_path)
    front = squares(look.view["face"])
    assert look("turn") == ""
    assert look.view["side"] == "back"
    back = squares(look.view["face"])[:, ::-1]
    # rows 2 to R - 1 of the back have the other colour of the row below on the front
    assert (back[1:-1] != front[2:]).all()
    assert look("turn") == ""
    assert (squares(look.view["face"]) == front).all()


def test_a_plain_back_shows_its_rows(tmp_path):
    look = look_at(SCARF.but(reversible=False, across=2, up=2), tmp_path)
    look("turn")
    back = squares(look.view["face"])[::-1]
    assert all(len(set(row)) == 1 for row in back)
    second = [SAND, DEEP, SAND, FOAM, SAND]  # the yarns of the motif's rows, which the second repeat swaps
    third = [DEEP, SAND, FOAM, SAND, FOAM]
    assert [row[0] for row in back] == [yarn.colour for yarn in (*second, *third)]


@pytest.mark.parametrize(("hand_of", "edge", "other"), [("right", "right", "left"), ("left", "left", "right")])
def test_it_is_said_where_counting_starts_on_either_side(tmp_path, hand_of, edge, other):
    look = look_at(ONE_COLOUR_EACH.but(hand=hand_of), tmp_path)
    rows, stitches = look.design.shape
    assert look.view["edge"] == f"Row 1 is at the bottom, stitch 1 at the {edge}."
    column = {"right": stitches - 1, "left": 0}
    assert (look.view["square"]["top"], look.view["square"]["left"]) == (rows - 1, column[edge])
    look("turn")
    assert look.view["edge"] == f"Row 1 is at the bottom, stitch 1 at the {other}."
    assert look.view["square"]["left"] == column[other]


# ---- touching ----------------------------------------------------------------------------------------------


def test_a_touched_square_is_the_same_one_on_either_side(tmp_path):
    look = look_at(SCARF, tmp_path)
    rows, stitches = SCARF.shape
    assert look("touch", top=4, left=6) == ""
    assert look.view["square"]["place"] == f"Row {rows - 4}, stitch {stitches - 6}"
    look("turn")
    assert (look.view["square"]["top"], look.view["square"]["left"]) == (4, stitches - 1 - 6)
    assert look("touch", top=4, left=stitches - 1 - 6) == ""
    assert look.view["square"]["place"] == f"Row {rows - 4}, stitch {stitches - 6}"
    assert look("touch", top=rows, left=0) == "There is no such square in this piece."


def test_its_loops_are_those_of_the_loop_view(tmp_path):
    look = look_at(mk.Design(LEAF, GAUGE, reversible=True).but(edges=0), tmp_path)
    view = mk.widgets.LoopView(LEAF, reversible=True)
    for square in range(20):
        top, left = divmod(square, 4)
        assert look("touch", top=top, left=left) == ""
        said, drawn = view.shown["looks"]["of"][square]
        shown = look.view["square"]
        assert shown["said"].endswith(view.shown["looks"]["said"][said])
        assert shown["picture"] == view.shown["looks"]["pictures"][drawn]["picture"]
        assert [name for name, _ in shown["levels"]] == view.shown["names"][top]
        assert shown["inks"] == view.shown["inks"][top]


def test_the_part_follows_a_touch_outside_it_only_and_stays_in_the_piece(tmp_path):
    look = look_at(SCARF, tmp_path)
    rows, stitches = SCARF.shape
    before = look.view["part"]
    assert (before["height"], before["width"], before["top"], before["left"]) == (24, 24, rows - 24, stitches - 24)
    look("touch", top=rows - 3, left=stitches - 9)
    assert look.view["part"] == before
    look("touch", top=0, left=0)
    part = look.view["part"]
    assert (part["top"], part["left"], part["height"], part["width"]) == (0, 0, 24, 24)
    look("turn")
    assert look.view["part"]["left"] == stitches - 24
    look("touch", top=20, left=5)
    part, square = look.view["part"], look.view["square"]
    assert part["top"] <= square["top"] < part["top"] + part["height"]
    assert part["left"] <= square["left"] < part["left"] + part["width"]


@pytest.mark.parametrize(
    ("values", "sentence"),
    [
        ({"row": 0}, "From row: enter a whole number from 1 to 45."),
        ({"stitch": 35}, "From stitch: enter a whole number from 1 to 34."),
        ({"rows": 61}, "Rows: enter a whole number from 1 to 60."),
        ({"stitches": None}, "Stitches: enter a whole number from 1 to 60."),
    ],
)
def test_a_part_by_numbers_that_cannot_be_is_said(tmp_path, values, sentence):
    look = look_at(SCARF, tmp_path)
    before = look.view["part"]
    assert look("part", **values) == sentence
    assert look.view["part"] == before


# ---- as yarn -----------------------------------------------------------------------------------------------


def test_the_yarn_is_what_the_library_draws_of_that_part_from_that_side(tmp_path):
    look = look_at(SCARF, tmp_path)
    assert look("part", row=11, stitch=7, rows=10, stitches=12) == ""
    patch = mk.widgets.TurnOver(SCARF.chart, gauge=GAUGE, rows=(11, 20), stitches=(7, 18)).patch
    thread = mk.thread_of(patch, GAUGE, yarn_settings=mk.YarnSettings(tail_cm=0))
    for side in ("front", "back"):
        answer = look.send(kind="do", panel="look", name="draw", values={})
        assert answer["about"].startswith(
            f"{side.capitalize()} as yarn: rows 11 to 20 of 45 and stitches 7 to 18 of 34."
        )
        assert answer["key"] == look.view["part"]["key"]
        wanted = imread(BytesIO(mk.draw.worked_png(thread, patch, side=side, across=12)), format="png")
        assert np.array_equal(picture_in(answer), wanted)
        look("turn")


def cloth_of(image, shape):
    """How much of each square is dark in a picture of yarn, which has room for 1.2 squares on each side."""
    dark = np.where(image[..., 3] > 0, image[..., :3].mean(axis=2) < 0.2, np.nan)
    tops, lefts = (
        [round(side * (each + 1.2) / (count + 2.4)) for each in range(count + 1)]
        for side, count in zip(dark.shape, shape, strict=True)
    )
    rows, stitches = shape
    return np.array(
        [
            [np.nanmean(dark[tops[row] : tops[row + 1], lefts[at] : lefts[at + 1]]) for at in range(stitches)]
            for row in range(rows)
        ]
    )


@pytest.mark.parametrize("hand_of", ["right", "left"])
def test_squares_and_yarn_show_the_same_from_either_side(tmp_path, hand_of):
    """Where the squares are dark the yarn is dark: the thread lies as the hook works, and neither side is mirrored."""
    black, white = mk.Yarn("black", "#101010"), mk.Yarn("white", "#f8f8f8")
    motif = letter_f.with_yarns(mk.Yarns(white, black))
    look = look_at(mk.Design(motif, GAUGE, hand=hand_of, reversible=True).but(across=2), tmp_path)
    for _ in range(2):
        face = squares(look.view["face"]) == black.colour
        shown = cloth_of(picture_in(look.send(kind="do", panel="look", name="draw", values={})), face.shape)
        alike, mirrored = (
            np.corrcoef(cloth[1:-1, 1:-1].ravel(), face[1:-1, 1:-1].ravel())[0, 1] for cloth in (shown, shown[:, ::-1])
        )
        assert alike > 0.9
        assert mirrored < alike - 0.05
        look("turn")


def test_the_key_changes_with_what_the_yarn_depends_on_and_with_nothing_else(tmp_path):
    look = look_at(SCARF, tmp_path)
    keys = [look.view["part"]["key"]]
    look.send(kind="set", name="title", value="Another")
    look("touch", top=SCARF.shape[0] - 1, left=SCARF.shape[1] - 2)
    assert look.view["part"]["key"] == keys[0]
    for name, value in [("yarn_mm", 2), ("gauge_rows", 20), ("between_rows", "cut"), ("reversible", False)]:
        look.send(kind="set", name=name, value=value)
        keys.append(look.view["part"]["key"])
    look("turn")
    keys.append(look.view["part"]["key"])
    look("part", rows=12)
    keys.append(look.view["part"]["key"])
    assert len(set(keys)) == len(keys)


def test_a_yarn_too_thin_to_draw_is_said_and_a_smaller_part_cures_it(tmp_path):
    look = look_at(SCARF.but(yarn_mm=0.1), tmp_path)
    look("part", rows=60, stitches=60)
    assert "show fewer rows and stitches of it" in look("draw")
    look("part", rows=2, stitches=2)
    assert look("draw") == ""


@pytest.mark.parametrize(
    ("start", "said"),
    [
        (mk.Design(mk.Motif.from_text(".")).but(edges=0), "No gauge is entered, so it is drawn at 16 stitches and 17"),
        (SCARF.but(in_the_round=True, up=2), "all 10 rows and stitches 1 to 24 of 32."),
        (SCARF.but(in_the_round=True, up=2), "Rounds are laid out flat."),
        (SCARF.but(across=2, up=2, hand="left"), "Front as yarn: the whole piece."),
    ],
)
def test_it_is_said_what_is_drawn(tmp_path, start, said):
    look = look_at(start, tmp_path)
    assert said in look.send(kind="do", panel="look", name="draw", values={})["about"]


# ---- what cannot be worked ---------------------------------------------------------------------------------


def test_the_nearest_piece_is_shown_as_such_with_what_is_wrong_where_it_was_touched(tmp_path):
    design = mk.Design(BAD, GAUGE)
    look = look_at(design, tmp_path)
    nearest = mk.nearest_workable(BAD)
    assert look.view["note"].startswith("The picture cannot be worked yet. This is the nearest piece that can;")
    assert look.view["note"].endswith(f"that differ: {len(nearest.squares)}.")
    rows, columns = design.shape
    wrong = np.zeros(design.shape, dtype=bool)
    for top in range(rows):
        for left in range(columns):
            look("touch", top=top, left=left)
            wrong[top, left] = look.view["square"]["drawn"] != ""
    assert np.array_equal(wrong, design.report.squares("error"))
    assert look("draw") == ""
    look.send(kind="mend")
    assert look.view["note"] == ""
    assert look.view["square"]["drawn"] == ""


def test_where_no_piece_can_be_worked_the_sentence_says_why_and_its_cure_cures(tmp_path):
    look = look_at(mk.Design(LEAF, GAUGE).but(up=2), tmp_path)
    trouble = look.view["trouble"]
    assert trouble.startswith("No motif near this one can be worked as it is laid")
    assert "under Lay: Set “Every second repeat up” to “swaps its colours”." in trouble
    assert look("draw") == trouble
    look.send(kind="set", name="colours", value="swap")
    assert "trouble" not in look.view
    assert look.view["note"] == ""


def test_any_size_is_looked_at(tmp_path):
    big = mk.random_motif(300, 400, rng=np.random.default_rng(5))
    look = look_at(mk.Design(big, GAUGE, reversible=True), tmp_path)
    assert (look.view["face"]["rows"], look.view["face"]["stitches"]) == (300, 402)
    assert look("touch", top=150, left=200) == ""
    assert look("part", rows=60, stitches=60) == ""
    assert look("draw") == ""
    assert look("dance") == "Look knows no 'dance'."
