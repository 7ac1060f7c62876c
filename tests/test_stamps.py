"""Lettering and stamps in the painter's hand, as a page sends it: what is taken, laid, cut off, swapped and undone."""

import re
from itertools import count
from pathlib import Path

import numpy as np
import pytest

import mosaickit as mk
from mosaickit.widgets import MotifPainter

WORDS = (Path(mk.__file__).parent / "widgets" / "painter_words.js").read_text("utf-8")
GROUND = mk.Motif(np.zeros((30, 40), dtype=bool))
NAME = {"text": "Ida", "alphabet": "capitals", "size": 1, "colour": "CC", "way": "along", "margin": 1}


class Hand:
    """Sends what a page sends."""

    def __init__(self, painter):
        self.painter, self.numbers, self.told = painter, count(1), []
        painter.send = lambda answer, buffers=None: self.told.append(answer)

    def __call__(self, kind, **content):
        self.painter._receive(None, {"view": "v", "seq": next(self.numbers), "kind": kind, **content}, [])
        return self.painter.said["note"]

    def letters(self, **other):
        self("take", name="lettering", values=NAME | other)
        return self.painter.held

    def lay(self, x, y):
        return self("part", name="lay", x=x, y=y)


@pytest.fixture
def painter(tmp_path):
    return MotifPainter(GROUND, autosave=tmp_path / "sheet.sketch")


@pytest.fixture
def hand(painter):
    return Hand(painter)


def test_a_line_of_letters_is_held_as_the_library_sets_it(painter, hand):
    held = hand.letters(text="Jörg", alphabet="large", way="up", margin=2)
    made = mk.lettering("Jörg", alphabet="large", way="up", margin=2)
    assert (held["rows"], held["columns"]) == made.motif.shape
    assert held["corner"] == (held["columns"] - 1, held["rows"] - 1)  # row 1, stitch 1
    assert painter.held_cells == made.motif.grid.tobytes()
    assert held["said"] == f"{made.summary} {made.legible}".strip()
    assert held["behind"] == made.back
    assert not held["fault"]
    assert painter.motif == GROUND  # nothing is laid yet
    assert painter.said["undo"] == ""


def test_letters_keep_their_proportion_at_the_gauge_of_the_design(tmp_path):
    painter = MotifPainter(mk.Design(GROUND, mk.Gauge(10, 20)), autosave=tmp_path / "gauge.sketch")
    Hand(painter).letters(alphabet="book", size=2)
    made = mk.lettering("Ida", alphabet="book", size=2, gauge=mk.Gauge(10, 20))
    assert painter.held["columns"] == made.motif.shape[1]


def test_what_cannot_be_set_is_said_beside_it_and_nothing_is_held(painter, hand):
    assert hand.letters(text=" ")["said"] == "Type a name, a date or a few words."
    held = hand.letters(text="I ☃ it")
    assert held["fault"]
    assert "has no '☃'" in held["said"]
    assert (held["rows"], painter.held_cells) == (0, b"")
    assert "has no '☃'" in hand.lay(3, 3)
    assert painter.motif == GROUND
    assert "`name` must be one of" in hand("take", name="a brush")


@pytest.mark.parametrize("maker", ["right", "left"])
def test_letters_are_laid_in_one_step_from_the_square_in_focus_on(painter, hand, maker):
    hand("set", name="hand", value=maker)
    hand.letters()
    motif = mk.lettering("Ida").motif
    rows, columns = motif.shape
    right = maker == "right"
    assert hand.lay(30 if right else 9, 27) == "Laid from row 3, stitch 10 on."
    expected = GROUND.grid.copy()
    expected[28 - rows : 28, slice(31 - columns, 31) if right else slice(9, 9 + columns)] = motif.grid
    assert np.array_equal(painter.motif.grid, expected)
    assert painter.said["undo"] == "lettering"
    hand("act", name="undo")
    assert painter.motif == GROUND
    assert painter.said["undo"] == ("" if right else "hand")


@pytest.mark.parametrize("swapped", [False, True])
def test_what_is_laid_keeps_a_workable_sheet_workable(tmp_path, swapped):
    blank = mk.Motif(np.zeros((30, 40), dtype=bool))
    blank = blank.with_overlaid(np.zeros(blank.shape, dtype=bool))
    painter = MotifPainter(blank, autosave=tmp_path / "rows.sketch")
    hand = Hand(painter)
    hand.letters(alphabet="book", text="Øre")
    part = mk.lettering("Øre", alphabet="book").motif
    rows, columns = part.shape
    y = 30 - 3 - int(swapped)  # row 3 or 4
    note = hand.lay(39, y)
    assert ("its colours are swapped; one row up or down they stay" in note) == swapped
    assert mk.check(painter.motif).count("error") == 0
    laid = painter.motif.overlaid[y + 1 - rows : y + 1, 40 - columns :]
    assert np.array_equal(laid, part.overlaid)
    # and one row down they do stay, as the sentence says
    hand.lay(39, y + 1)
    shows = painter.motif.grid[y + 2 - rows : y + 2, 40 - columns :]
    assert np.array_equal(shows, part.grid) == swapped


def test_what_goes_beyond_the_picture_is_left_out_and_said(painter, hand):
    hand.letters()
    motif = mk.lettering("Ida").motif
    rows, columns = motif.shape
    note = hand.lay(columns - 4, rows - 3)
    assert note.startswith("Laid from row ")
    assert note.endswith("2 rows and 3 stitches of it lie outside the picture and are left out.")
    assert np.array_equal(painter.motif.grid[: rows - 2, : columns - 3], ~motif.grid[2:, 3:])  # in swapped colours


def test_only_what_can_be_worked_and_what_follows_the_hand_hold_for_it_too(painter, hand):
    hand("set", name="mirror", value=True)
    hand.letters(text="I")
    hand.lay(6, 15)
    assert np.array_equal(painter.motif.grid, painter.motif.grid[:, ::-1])
    assert painter.motif.grid[:, :20].any()


# ---- stamps ------------------------------------------------------------------------------------------------


def test_the_gallery_and_the_files_of_the_folder_are_offered_once_asked_for(tmp_path):
    (tmp_path / "mine").mkdir()
    leaf = mk.Motif.from_text("...\n.#.\n...", name="leaf")
    mk.save(leaf, tmp_path / "mine" / "leaf.json")
    (tmp_path / "mine" / "broken.design").write_text("{", "utf-8")
    painter = MotifPainter(GROUND, autosave=tmp_path / "x.sketch", folder=tmp_path / "mine")
    assert painter.stamps == {}
    hand = Hand(painter)
    hand("stamps", most=24)
    names = [tile["name"] for tile in painter.stamps["gallery"]]
    assert names == list(mk.files.gallery_motifs())
    assert [tile["name"] for tile in painter.stamps["folder"]["tiles"]] == ["leaf.json"]
    (fault,) = painter.stamps["folder"]["faults"]
    assert "broken.design" in fault
    hand("take", name="stamp", values={"place": "folder", "name": "leaf.json"})
    assert painter.held_cells == leaf.grid.tobytes()
    assert painter.held["said"] == f"{leaf.summary}."
    hand("take", name="stamp", values={"place": "gallery", "name": "seed"})
    assert painter.held_cells == mk.files.gallery_motifs()["seed"].grid.tobytes()
    hand.lay(14, 15)
    assert painter.said["undo"] == "stamp seed"


def test_a_stamp_that_is_not_there_is_refused_beside_it(painter, hand):
    hand("take", name="stamp", values={})
    assert painter.held["said"] == "Choose a stamp."
    assert hand.lay(0, 0) == "Choose a stamp."
    hand("take", name="stamp", values={"place": "gallery", "name": "no such"})
    assert painter.held["said"] == "The gallery has no motif 'no such'."
    assert painter.held["fault"]
    hand("take", name="stamp", values={"place": "folder", "name": "no such"})
    assert "no such" in painter.held["said"]


def test_a_folder_that_is_not_there_is_said_beside_the_gallery(tmp_path):
    painter = MotifPainter(GROUND, autosave=tmp_path / "x.sketch", folder=tmp_path / "nowhere")
    Hand(painter)("stamps", most=24)
    assert painter.stamps["gallery"]
    assert "there is no such folder" in painter.stamps["fault"]


def test_a_workbook_offers_the_files_of_its_folder(tmp_path):
    (tmp_path / "mine").mkdir()
    mk.save(GROUND.named("ground"), tmp_path / "mine" / "ground.json")
    book = mk.widgets.Workbook(GROUND, autosave=tmp_path / "x.sketch", folder=tmp_path / "mine")
    Hand(book.painter)("stamps", most=24)
    assert [tile["name"] for tile in book.painter.stamps["folder"]["tiles"]] == ["ground.json"]


def test_the_page_offers_what_the_library_takes():
    def options(name):
        listed = WORDS.partition(f'["{name}", ')[2].partition("]]")[0]
        return re.findall(r'\["(\w+)", "', listed)

    assert options("alphabet") == list(mk.ideas.ALPHABET_NAMES)
    assert options("way") == list(mk.ideas.LINE_WAYS)
    assert "{ length: 10 }" in WORDS
    assert mk.ideas.LARGEST_LETTERS == 10
