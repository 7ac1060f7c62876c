"""Bands on the panel Lay: whatever is pressed, the design is the one that the order makes; each press is one step."""

import json

import numpy as np
import pytest
from books import HandAtBook
from hypothesis import given, settings
from hypothesis import strategies as st

import mosaickit as mk
from mosaickit.widgets.book.lay_bands import BAND_ACTIONS, bands_shown
from mosaickit.widgets.book.lay_finish import finish_shown
from mosaickit.widgets.book.workbook import Workbook

GAUGE = mk.Gauge(16, 17)
LEAF = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf")
DOT = mk.Motif.from_text("...\n.#.\n...", name="dot")
PIECE = mk.Design(LEAF, GAUGE).but(across=6, up=2, colours="swap")


def hand_at(folder, design=PIECE, name="x"):
    hand = HandAtBook(Workbook(design, autosave=folder / f"{name}.sketch", folder=folder))
    hand.open("lay")
    return hand


def words(hand):
    """What lies there, the highest first."""
    return [band["word"] for band in hand.book.panel["bands"]["order"]]


def order(hand):
    return hand.book.design.bands.order


def test_bands_are_laid_moved_turned_mirrored_and_taken_away_a_step_each(tmp_path):
    mk.save(DOT, tmp_path / "dot.json")
    hand = hand_at(tmp_path)
    assert hand.book.panel["bands"]["on"] is False
    hand.press("lay", "bands")
    assert hand.book.design.picture == PIECE.picture, "a field alone is the piece as it was"
    offer = hand.press("lay", "band_offer")
    assert offer["folder"] == ["dot.json"]
    assert "seed" in offer["gallery"]
    assert len(offer["family"]) > 4
    assert hand.press("lay", "band_add", kind="motif", of="folder", name="dot.json")["at"] == 0
    hand.press("lay", "band_add", kind="plain")
    hand.press("lay", "band_add", kind="divider")
    assert order(hand) == (mk.Band(DOT), mk.Plain(2), mk.Divider(1), mk.Field())
    assert words(hand) == ["leaf (the field)", "A line of 1 row", "2 plain rows", "Dot"]
    hand.press("lay", "band_move", at=0, to=2)
    assert order(hand) == (mk.Plain(2), mk.Divider(1), mk.Band(DOT), mk.Field())
    hand.press("lay", "band_set", at=1, name="rows", value=3)
    hand.press("lay", "band_set", at=1, name="colour", value="CC")
    hand.press("lay", "band_set", at=0, name="count", value=4)
    hand.press("lay", "band_set", at=2, name="up", value=2)
    hand.press("lay", "band_set", at=2, name="fit", value="fill")
    hand.press("lay", "band_set", at=2, name="upside_down", value=True)
    below = (mk.Plain(4), mk.Divider(3, colour="CC"), mk.Band(DOT, up=2, fit="fill", upside_down=True))
    assert order(hand) == (*below, mk.Field())
    hand.press("lay", "band_mirror")
    assert hand.book.design.bands == mk.Bands.mirrored(below)
    before = hand.book.design
    hand.press("lay", "band_drop", at=5)
    assert len(order(hand)) == 6
    hand.ask("undo")
    assert hand.book.design == before
    for _ in range(30):
        hand.ask("undo")
    assert hand.book.design == PIECE


def test_what_is_said_and_the_rows_are_those_of_the_design(tmp_path):
    hand = hand_at(tmp_path, PIECE.but(up=1, colours="keep"))
    hand.press("lay", "bands")
    hand.press("lay", "band_add", kind="motif", of="gallery", name="seed")
    hand.press("lay", "band_move", at=0, to=1)
    shown = hand.book.panel["bands"]
    assert shown["said"] == list(hand.book.design.said)
    assert shown["said"][0] == "Row 6 is plain and was put in, so that band 2, seed, begins on its colour."
    assert [band["rows"] for band in shown["order"]] == ["rows 7 to 17", "rows 1 to 5"]
    hand.press("lay", "band_step", step="swap")
    assert "colours swapped" in hand.book.panel["bands"]["said"][0]
    around = hand_at(tmp_path, PIECE.but(in_the_round=True), "round")
    around.press("lay", "bands")
    assert around.book.panel["bands"]["order"][0]["rows"] == "rounds 1 to 10"


def test_a_band_that_does_not_divide_the_width_stands_in_the_middle_in_the_yarns_of_the_piece(tmp_path):
    own = LEAF.with_yarns(mk.Yarns(mk.Yarn("sand", "#e0d0b0"), mk.Yarn("moss", "#3d5a3a")))
    hand = hand_at(tmp_path, mk.Design(own, GAUGE, across=5))
    hand.press("lay", "bands")
    hand.press("lay", "band_add", kind="motif", of="gallery", name="seed")
    assert order(hand)[0].fit == "centre"
    assert order(hand)[0].motif.yarns == own.yarns
    narrow = hand_at(tmp_path, mk.Design(own, GAUGE, across=1), "narrow")
    narrow.press("lay", "bands")
    narrow.press("lay", "band_add", kind="motif", of="gallery", name="seed")
    assert order(narrow)[0].fit == "fill"


def test_a_band_of_the_family_is_the_motif_varied(tmp_path):
    hand = hand_at(tmp_path)
    hand.press("lay", "bands")
    for name in hand.press("lay", "band_offer")["family"]:
        before = len(order(hand))
        hand.press("lay", "band_add", kind="motif", of="family", name=name)
        added = order(hand)[before - 1]
        assert np.array_equal(added.motif.grid, mk.family(LEAF, most=24).member(name).motif.grid)
        hand.ask("undo")


@pytest.mark.parametrize(
    ("name", "values", "says"),
    [
        ("band_drop", {"at": 1}, "The field stays"),
        ("band_drop", {"at": 9}, "bands have changed since"),
        ("band_drop", {"at": True}, "bands have changed since"),
        ("band_move", {"at": 0, "to": -1}, "bands have changed since"),
        ("band_move", {"at": "0", "to": 1}, "bands have changed since"),
        ("band_set", {"at": 0, "name": "rows", "value": 2}, "has no 'rows'"),
        ("band_set", {"at": 0, "name": "count", "value": 0}, '"Rows" must be a whole number'),
        ("band_set", {"at": 0, "name": "count", "value": "no number"}, '"Rows" must be a whole number'),
        ("band_add", {"kind": "motif", "of": "gallery", "name": "nothing"}, "no motif 'nothing'"),
        ("band_add", {"kind": "motif", "of": "folder", "name": "../x.json"}, "no file '../x.json' any more"),
        ("band_add", {"kind": "motif"}, "Choose a motif for the band first"),
        ("band_add", {"kind": "motif", "of": "family", "name": "nobody"}, "nobody"),
        ("band_step", {"step": "maybe"}, "must be one of"),
    ],
)
def test_what_cannot_be_is_refused_in_the_words_of_the_page(tmp_path, name, values, says):
    hand = hand_at(tmp_path)
    hand.press("lay", "bands")
    hand.press("lay", "band_add", kind="plain")
    said = hand.refused("lay", name, **values)
    assert says in said
    assert "mk." not in said


def test_without_bands_their_buttons_say_what_to_press(tmp_path):
    hand = hand_at(tmp_path)
    for name in BAND_ACTIONS - {"bands", "no_bands", "band_offer"}:
        assert "Lay in bands" in hand.refused("lay", name, at=0, to=0, kind="plain", name="count", step="swap")


def test_sentences_about_widths_and_colours_are_in_the_words_of_the_page(tmp_path):
    hand = hand_at(tmp_path)
    hand.press("lay", "bands")
    hand.press("lay", "band_add", kind="motif", of="gallery", name="seed")
    said = hand.refused("lay", "band_set", at=0, name="fit", value="whole")
    assert said.endswith("or let the band stand in the middle, or be cut at both sides.")
    hand.press("lay", "band_move", at=0, to=1)
    hand.enter("up", 1)
    said = hand.refused("lay", "band_step", step="refuse")
    assert said.endswith("Add a plain row below it, or choose what is done where colours get out of step.")


actions = st.lists(
    st.tuples(
        st.sampled_from(
            ["plain", "divider", "gallery", "move", "drop", "mirror", "fit", "turn", "step", "undo", "redo"]
        ),
        st.integers(0, 5),
        st.integers(0, 5),
    ),
    max_size=8,
)


@settings(max_examples=25)
@given(actions)
def test_whatever_the_hand_does_the_page_shows_the_design_and_the_file_keeps_it(tmp_path_factory, done):
    folder = tmp_path_factory.mktemp("bands")
    hand = hand_at(folder)
    hand.press("lay", "bands")
    for what, one, two in done:
        values = {
            "plain": ("band_add", {"kind": "plain"}),
            "divider": ("band_add", {"kind": "divider"}),
            "gallery": ("band_add", {"kind": "motif", "of": "gallery", "name": ("seed", "rain", "hourglass")[one % 3]}),
            "move": ("band_move", {"at": one, "to": two}),
            "drop": ("band_drop", {"at": one}),
            "mirror": ("band_mirror", {}),
            "fit": ("band_set", {"at": one, "name": "fit", "value": ("centre", "fill")[two % 2]}),
            "turn": ("band_set", {"at": one, "name": "mirrored", "value": two % 2 == 0}),
            "step": ("band_step", {"step": ("divider", "swap")[one % 2]}),
        }
        before = hand.book.design
        if what in ("undo", "redo"):
            hand.ask(what)
        else:
            name, given = values[what]
            answer = hand.ask("do", panel="lay", name=name, values=given)
            assert "error" not in answer or hand.book.design is before
        design, view = hand.book.design, hand.book.panel["bands"]
        assert view == bands_shown(design)
        if design.bands is not None:
            assert len(view["order"]) == len(design.bands.order)
            assert [band["field"] for band in view["order"]].count(True) == 1
            assert design.layout.workable
        json.dumps(view)
    kept = Workbook(autosave=folder / "x.sketch", folder=folder)
    assert kept.design == hand.book.design


# ---- the finished piece ------------------------------------------------------------------------------------


def test_the_piece_is_shown_with_its_border_and_its_fringe(tmp_path):
    hand = hand_at(tmp_path, PIECE.but(border_rounds=3, finish_colour="CC", crab_stitch=True))
    finish = hand.book.panel["piece"]["finish"]
    assert (finish["beside"], finish["above"], finish["hangs"]) == (4, 4, 0)
    assert finish["colour"] == LEAF.yarns.cc[0][1].colour
    assert hand_at(tmp_path, PIECE, "bare").book.panel["piece"]["finish"] is None
    assert finish_shown(PIECE.but(border_rounds=2, border_along="row ends"))["above"] == 0
    assert finish_shown(PIECE.but(border_rounds=2, in_the_round=True))["beside"] == 0
    cut = PIECE.but(between_rows="cut", ends="enclosed", border_rounds=2)
    assert finish_shown(cut)["above"] == 3
    # its proportion is that of the finished piece
    design = PIECE.but(border_rounds=3)
    wide = design.shape[1] * GAUGE.aspect + 2 * finish_shown(design)["beside"]
    high = design.shape[0] + 2 * finish_shown(design)["above"]
    assert wide / high == pytest.approx(design.size.width_cm / design.size.length_cm)


@pytest.mark.parametrize("gauge", [GAUGE, None])
def test_a_fringe_has_a_strand_for_each_row_in_its_yarn(gauge):
    design = PIECE.but(gauge=gauge, between_rows="cut", ends="fringe", fringe_cm=8, tails_a_knot=4, added_strands=1)
    shown = finish_shown(design)
    assert shown["hangs"] == pytest.approx(8 / GAUGE.row_height_cm, abs=0.2)
    strands = {strand["colour"]: strand["d"].count("M") for strand in shown["strands"]}
    rows = design.shape[0]
    added = 2 * len(range(0, rows, 4))
    mc, cc = (LEAF.yarns.of(role)[0][1].colour for role in ("MC", "CC"))
    assert strands == {mc: (rows + 1) // 2 + added, cc: rows // 2}
