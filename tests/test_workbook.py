"""The workbook: what stands beside its panels is what the library says, and all that is done is one line of steps."""

from dataclasses import fields

import numpy as np
import pytest
from books import HandAtBook, squares_in
from hypothesis import given, settings
from hypothesis import strategies as st
from samples import letter_f, two_stacked
from test_design_files import designs
from test_designs import GAUGE, LEAF, YARNS

import mosaickit as mk
from mosaickit.errors import FileError, MosaickitError, OptionError
from mosaickit.motif.rules import advice
from mosaickit.widgets import Workbook
from mosaickit.widgets.book.entries import ENTRIES, entered, in_labels, shown
from mosaickit.widgets.book.ledger import ledger
from mosaickit.widgets.book.workbook import PANELS

SCARF = mk.Design(LEAF, GAUGE).but(across=3, up=4, colours="swap", title="Leaf scarf")


@pytest.fixture
def hand(tmp_path):
    return HandAtBook(Workbook(SCARF, autosave=tmp_path / "a.sketch", folder=tmp_path))


# ---- what is in sight ------------------------------------------------------------------------------------------


@given(designs())
def test_the_ledger_says_what_the_library_says(design):
    said = ledger(design)
    rows, stitches = design.picture.shape
    assert said["counts"].split() == [
        str(stitches),
        f"stitch{'es' * (stitches != 1)},",
        str(rows),
        f"row{'s' * (rows != 1)}",
    ]
    assert bool(said["wrong"]) is not mk.check(design.picture, in_the_round=design.surround.in_the_round).ok
    if design.gauge is None:
        assert (said["size"], said["yarns"]) == ("", [])
    else:
        width, height = design.gauge.size_cm(rows, stitches)
        assert said["size"] == f"{width:.1f} × {height:.1f} cm"
        assert said["inches"] == f"{width / 2.54:.1f} × {height / 2.54:.1f} in"
    if said["wrong"]:
        assert said["faces"] == said["yarns"] == []
        return
    if any(mc.colour == cc.colour for _, mc, cc in design.picture.yarns.meetings(rows)):
        return  # two yarns that look the same are drawn black on white
    front, *back = [squares_in(face) for face in said["faces"]]
    assert (front == colours_of(design.picture)).all()
    assert len(back) == design.reversible
    if back:
        fabric = mk.work(design.chart)
        named = [
            design.picture.yarns.at(int(row), "CC" if cc else "MC").colour
            for row, cc in zip(fabric.back_rows.flat, fabric.back.flat, strict=True)
        ]
        assert back[0].ravel().tolist() == named
    if design.gauge is not None and said["note"]:
        with pytest.raises(MosaickitError) as refused:
            _ = design.usage
        assert (said["yarns"], said["note"]) == ([], in_labels(str(refused.value)))
    elif design.gauge is not None:
        assert [line["metres"] for line in said["yarns"]] == [f"{each.likely_m:.0f} m" for each in design.usage.by_yarn]


def colours_of(motif):
    """The colour of every square: one of the other colour than its row is covered by a stitch of the row above."""
    rows, stitches = motif.shape
    seen = np.empty((rows, stitches), dtype=object)
    for number in range(1, rows + 1):
        own = ("MC", "CC")[(number % 2 == 0) ^ (motif.first == "CC")]
        for at in range(stitches):
            role = "CC" if motif.grid[rows - number, at] else "MC"
            row = number if role == own else number + 1
            seen[rows - number, at] = motif.yarns.at(row, role).colour
    return seen


def test_every_kind_of_advice_has_its_words_and_is_folded():
    plain = mk.Motif(np.zeros((5, 30), dtype=bool))
    (bare,) = [line for line in ledger(mk.Design(plain, GAUGE))["advice"] if line["kind"] == advice.BARE_STRAND.name]
    report = mk.Design(plain, GAUGE).report
    number = sum(each.rule == advice.BARE_STRAND.name for each in report.findings)
    assert number > 1
    assert bare["said"] == f"{number} long bare strands"
    assert all(rule.counted for rule in mk.motif.RULES)


def test_the_painter_and_the_ledger_call_what_is_found_by_one_phrase(tmp_path):
    rules, both = {rule.name: rule for rule in mk.motif.RULES}, set()
    for start in (mk.Motif(np.zeros((6, 30), dtype=bool)), two_stacked):
        book = Workbook(start, autosave=tmp_path / f"{start.shape}.sketch")
        painted = {kind["rule"]: kind["said"] for kind in book.painter.said["findings"]}
        folded = {line["kind"]: line["said"] for line in book.ledger["advice"]}
        for name, said in [*painted.items(), *folded.items()]:
            assert said == rules[name].said(int(said.split()[0].replace(",", "")))
        both |= painted.keys() & folded.keys()
    assert both


def test_a_new_sheet_can_be_worked_and_greets_with_no_advice(tmp_path):
    book = Workbook(autosave=tmp_path / "a.sketch")
    assert book.head["open"] == "begin"
    assert (book.ledger["wrong"], book.ledger["advice"]) == (None, [])


# ---- decisions -------------------------------------------------------------------------------------------------

BY_OTHER_MEANS = {
    "motif": "painted", "gauge": "entered number by number", "swatches": "a form of its own", "editions": "words",
    "skeins": "a form of its own", "lengths": "Python alone", "by_thread": "yarn", "ease": "yarn", "margin": "yarn",
    "surround": "its parts", "yarn_settings": "its parts", "words": "its parts",
    "publishing": "its parts", "bands": "a list on Lay", "photographs": "a form of its own", "finish": "its parts",
    "labels": "yarn by yarn", "strip": "Python and the command line", "strip_start": "Python and the command line",
}  # fmt: skip


def test_every_decision_of_a_design_can_be_made():
    kinds = (mk.Design, mk.Surround, mk.Finish, mk.YarnSettings, mk.PatternWords, mk.Publishing)
    decisions = {each.name for kind in kinds for each in fields(kind) if each.name != "_"}
    assert decisions - set(ENTRIES) <= set(BY_OTHER_MEANS)


@given(designs(), st.data())
def test_what_is_entered_is_what_the_design_has_and_the_page_shows_it(design, data):
    name = data.draw(st.sampled_from(sorted(ENTRIES)))
    entry = ENTRIES[name]
    value = data.draw(
        {
            "choice": st.sampled_from([value for value, _ in entry.options or [(0, "")]]),
            "count": st.integers(0, 5),
            "number": st.floats(0.5, 40),
            "line": st.sampled_from(["", "Oat field", "L'été"]),
            "text": st.sampled_from(["", "One line", "Two\nlines"]),
            "tick": st.booleans(),
        }[entry.kind]
    )
    try:
        after = entered(design, name, value)
    except MosaickitError:
        return  # what the design says is its own tests' matter
    (told,) = shown(after, [name])
    assert told["value"] == (pytest.approx(value, abs=1e-6) if entry.kind == "number" else value)
    (again,) = shown(entered(after, name, told["value"]), [name])
    assert again["value"] == told["value"]


def test_what_cannot_be_entered_is_said_and_changes_nothing(hand):
    before = hand.book.design
    for name, value, says in [
        ("across", 0, "Repeats across"), ("across", "no number", "Repeats across"), ("across", None, "enter a number"),
        ("laying", "heap", "one of those"), ("gauge_stitches", -2, "Stitches"), ("dance", 1, "no entry 'dance'"),
        ("edges", -1, "Edge stitches"), ("title", "x" * 999, "Title"), ("balance_across", 99, "Stitches that close"),
    ]:  # fmt: skip
        answer = hand.ask("set", name=name, value=value)
        assert says in answer["error"], answer
        assert hand.book.design is before


# ---- one line of steps -----------------------------------------------------------------------------------------


def paint(book, *squares):
    """Paint with the brush in CC, as the painter's page tells it."""
    named = np.array(squares, dtype="<i4").tobytes()
    message = {"view": "p", "seq": 1, "kind": "paint", "tool": "brush", "colour": 1}
    book.painter._receive(None, message, [named])


def test_what_is_done_in_any_panel_is_undone_in_the_order_in_which_it_was_done(hand):
    book = hand.book
    states = [book.design]

    def did(label):
        assert book.head["undo"] == label
        assert book.design != states[-1]
        states.append(book.design)

    hand.enter("rings", 2)
    did("Rings of the frame")
    paint(book, (1, 0))
    did("paint")
    hand.enter("gauge_rows", 20)
    did("Rows")
    hand.press("begin", "sheet", up=9, across=6)
    did("new sheet")
    book.design = SCARF.but(across=7)
    did("set in Python")
    for state in reversed(states[:-1]):
        hand.ask("undo")
        assert book.design == book.painter.design == state
        assert book.painter.motif == state.motif
    assert book.head["undo"] == ""
    for state in states[1:]:
        hand.ask("redo")
        assert book.design == state
    assert book.head["redo"] == ""


def test_running_the_cell_again_brings_all_of_it_back(hand, tmp_path):
    hand.enter("title", "Moss stole")
    hand.enter("hand", "left")
    paint(hand.book, (1, 0))
    again = Workbook(SCARF, autosave=tmp_path / "a.sketch", folder=tmp_path)
    assert again.design == hand.book.design
    assert (again.head["title"], again.head["undo"], again.head["open"]) == ("Moss stole", "paint", "picture")
    answer = hand.ask("set", name="across", value=9)
    assert answer["error"] == "This drawing went on in a newer painter, which writes a.sketch now."
    HandAtBook(again).ask("undo")
    assert again.design.motif == SCARF.motif


def test_what_cannot_be_worked_is_said_and_mended(tmp_path):
    bad = LEAF.with_grid(np.ones((5, 4), dtype=bool))
    hand = HandAtBook(Workbook(mk.Design(bad, GAUGE), autosave=tmp_path / "a.sketch"))
    wrong = hand.book.ledger["wrong"]
    assert wrong["said"].endswith(" cannot be worked")
    assert wrong["where"] == "picture"
    assert wrong["why"] == mk.check(hand.book.design.picture).errors_in_words
    hand.ask("mend")
    assert hand.book.design == mk.Design(bad, GAUGE).mended()
    assert hand.book.ledger["wrong"] is None
    changed = (hand.book.design.motif.grid != bad.grid).sum()
    assert hand.book.said == f"Squares of the motif changed: {changed}."
    hand.ask("mend")
    assert hand.book.said == "Nothing to mend."


def test_where_the_laying_is_what_cannot_be_worked_the_hand_is_sent_there():
    """A repeat of five rows lands on the other row colours the second time, if its colours are kept."""
    assert mk.check(LEAF).ok
    assert ledger(SCARF.but(colours="keep"))["wrong"]["where"] == "lay"
    assert ledger(SCARF)["wrong"] is None


@settings(max_examples=10)
@given(designs())
def test_every_panel_shows_any_design(tmp_path_factory, design):
    book = Workbook(design, autosave=tmp_path_factory.mktemp("book") / "a.sketch")
    hand = HandAtBook(book)
    for name in PANELS:
        view = hand.open(name)
        assert view["name"] == name
        assert book.said == ""


def test_of_three_yarns_each_is_counted(tmp_path):
    book = Workbook(SCARF.but(motif=LEAF.with_yarns(YARNS)), autosave=tmp_path / "a.sketch")
    assert sorted(line["name"] for line in book.ledger["yarns"]) == ["moss", "oat", "plum"]


# ---- messages and doors ----------------------------------------------------------------------------------------


def test_a_message_that_makes_no_sense_is_answered_in_a_sentence(hand):
    assert hand.ask("dance")["error"] == "A workbook knows no message 'dance'."
    assert hand.ask("do", panel="cellar", name="x")["error"] == "A workbook has no panel 'cellar'."
    assert hand.ask("open", panel="cellar")["error"].startswith('"panel" must be one of ')
    assert hand.refused("lay", "jump") == "Lay knows no 'jump'."
    assert "error" in hand.ask("do", panel="begin", name="sheet", values={"rows": "many"})


def test_it_starts_from_a_file_and_from_nothing_else_than_it_says(tmp_path):
    mk.save(SCARF, tmp_path / "scarf.design")
    mk.save(two_stacked, tmp_path / "two.json")
    assert Workbook(tmp_path / "scarf.design", autosave=tmp_path / "1.sketch").design == SCARF
    assert Workbook(str(tmp_path / "two.json"), autosave=tmp_path / "2.sketch").design == mk.Design(two_stacked)
    assert Workbook(letter_f, autosave=tmp_path / "3.sketch").design == mk.Design(letter_f)
    with pytest.raises(FileError, match=r"none\.design"):
        Workbook(tmp_path / "none.design")
    with pytest.raises(OptionError, match=r"`start` must be a `Motif` or a `Design`; got 3\."):
        Workbook(3)


# ---- what is in no design, and comes back all the same ---------------------------------------------------------


def test_what_was_entered_and_is_in_no_design_comes_back_with_the_workbook(tmp_path):
    file = tmp_path / "kept.sketch"
    mk.save(LEAF, tmp_path / "leaf.json")
    hand = HandAtBook(Workbook(SCARF, autosave=file, folder=tmp_path))
    for panel in PANELS:
        hand.open(panel)
    hand.press("lay", "type", width="22", unit="in", **{"limit:" + YARNS.mc[0][1].name: "3"})
    hand.press("yarn", "price", name="", price=4.5)
    hand.press("yarn", "currency", currency="crowns")
    hand.press("yarn", "sold in", sold_in="one")
    hand.press("yarn", "skein", name="", metres=85)
    handed_in = mk.files.to_json(letter_f).encode()
    hand.press("many", "files", names=["f.json"], buffers=[handed_in])
    hand.press("many", "tick", group="motifs", key="leaf.json", on=True)
    hand.press("many", "add", group="gauge", stitches="17.5", rows="19")
    hand.press("many", "add", group="width in inches", size="9.5")
    hand.press("many", "tolerance", value="7")
    hand.press("many", "limit", role="CC", value="4")
    steps = hand.book.painter.said["undo"]
    views = {panel: hand.open(panel) for panel in ("lay", "yarn", "many")}
    assert views["many"]["count"] == 3 * 1 * 1

    again = HandAtBook(Workbook(SCARF, autosave=file, folder=tmp_path))
    assert again.book.painter.said["undo"] == steps
    for panel, view in views.items():
        assert again.open(panel) == view, panel
    again.press("many", "start")
    (tmp_path / "leaf.json").unlink()
    again.press("many", "look")
    assert again.open("many")["notes"] == ["Ticked before and not in the folder any more: leaf.json."]
    assert hand.refused("yarn", "price", name="", price=1).startswith("This drawing went on in a newer painter")
