"""Words: rows as the library writes them, with what changed marked, and editions that are kept, opened and compared."""

import re
from dataclasses import replace
from datetime import date

import pytest
from samples import letter_f, two_stacked
from test_book_share import GAUGE, SCARF, Pressing

import mosaickit as mk
from mosaickit.sizes import Edition
from mosaickit.widgets.book.words import LINES_AT_ONCE, SELLING_GROUPS, WORDS_GROUPS
from mosaickit.widgets.book.yarn_colours import with_yarns


@pytest.fixture
def press(tmp_path):
    return lambda start=SCARF: Pressing(start, tmp_path, "words")


def enter(pressed, name, value):
    return pressed._send(kind="set", name=name, value=value)


def all_lines(pressed, answer):
    """The lines of all rows, as they are turned through."""
    found = list(answer["lines"])
    while answer["last"] < answer["of"]:
        answer = pressed("lines", first=answer["last"] + 1)
        found += answer["lines"]
    return found


# ---- entries -----------------------------------------------------------------------------------------------

ENTERED = {
    "title": 'Two / "scarves"', "designer": "Me", "motif_name": "F", "terms": "UK", "phrasing": "shortest",
    "level": "easy",
    "for_children": False, "intro": "First.\n\nThen.", "notes": "Block it.\nWash it.",
}  # fmt: skip


def test_every_word_of_a_pattern_can_be_entered(press):
    pressed = press()
    assert {name for _, names in WORDS_GROUPS for name in names} == set(ENTERED)
    for name, value in ENTERED.items():
        assert "error" not in enter(pressed, name, value)
    words = mk.PatternWords(
        title='Two / "scarves"', designer="Me", terms="UK", phrasing="shortest", level="easy", intro="First.\n\nThen.",
        notes=["Block it.", "Wash it."],
    )  # fmt: skip
    assert (pressed.book.design.words, pressed.book.design.motif.name) == (words, "F")
    shown = {entry["name"]: entry["value"] for group in pressed.view["groups"] for entry in group["entries"]}
    assert shown == ENTERED
    assert "at most 200 characters" in enter(pressed, "title", "x" * 201)["error"]
    assert pressed.book.design.title == 'Two / "scarves"'


SOLD = {
    "contact": "patterns@tidepool-example.org", "copyright_line": "© 2026 Me", "licence_line": "Sell what you make.",
    "edition_line": "Edition 2", "published": "2026-03-14", "errata": "tidepool-example.org", "language": "en-GB",
    "gauge_stitch": "BLsc", "notions": "2 stitch markers\n1 needle",
    "finishing": "Weave in.\n\nBlock.", "blocking": "Wet.",
    "unblocked_cm": "40 × 30.5", "blocked_cm": "41 × 31",
}  # fmt: skip


def test_what_a_pattern_has_to_be_sold_can_be_entered(press):
    pressed = press()
    assert {name for _, names in SELLING_GROUPS for name in names} == set(SOLD)
    for name, value in SOLD.items():
        assert "error" not in enter(pressed, name, value)
    assert pressed.book.design.publishing == mk.Publishing(
        contact="patterns@tidepool-example.org", copyright_line="© 2026 Me", licence_line="Sell what you make.",
        edition_line="Edition 2", published=date(2026, 3, 14), errata="tidepool-example.org", language="en-GB",
        gauge_stitch="BLsc", notions=["2 stitch markers", "1 needle"], finishing="Weave in.\n\nBlock.", blocking="Wet.",
        unblocked_cm=(40, 30.5), blocked_cm=(41, 31),
    )  # fmt: skip
    shown = {entry["name"]: entry["value"] for group in pressed.view["selling"] for entry in group["entries"]}
    assert {name: shown[name] for name in SOLD} == SOLD
    assert "Day of the edition: write year, month and day" in enter(pressed, "published", "14 March")["error"]
    assert "Measured after blocking: write width × height" in enter(pressed, "blocked_cm", "wide")["error"]
    assert "error" not in enter(pressed, "blocked_cm", "")
    assert pressed.book.design.publishing.blocked_cm is None


def test_the_label_of_each_yarn_can_be_entered_and_goes_with_a_new_name(press):
    pressed = press()
    names = pressed.book.design.motif.yarns.names
    second = names[1]
    labels = [group for group in pressed.view["selling"] if group["word"].startswith("Label of")]
    assert [group["word"] for group in labels] == [f"Label of {name}" for name in names]
    for name, value in (("line", "Pier DK"), ("weight", 3), ("wash", "wash by hand"), ("dry", "dry flat")):
        assert "error" not in enter(pressed, f"label1_{name}", value)
    label = mk.YarnLabel(second, line="Pier DK", weight=3, wash="wash by hand", dry="dry flat")
    assert pressed.book.design.publishing.labels == (label,)
    assert '"Fibre" must be one line' in enter(pressed, "label1_fibre", "a\nb")["error"]
    assert "must be one of those to be chosen" in enter(pressed, "label1_wash", "boil")["error"]
    assert "This yarn is no longer there." in enter(pressed, "label7_line", "x")["error"]
    yarns = pressed.book.design.motif.yarns
    mc, cc = (
        [(row, replace(yarn, name="night") if yarn.name == second else yarn) for row, yarn in of_role]
        for of_role in (yarns.mc, yarns.cc)
    )
    renamed = mk.Yarns(mc, cc)
    after, _ = with_yarns(pressed.book.design, renamed, {"night": second})
    assert after.publishing.labels == (replace(label, yarn="night"),)


# ---- rows --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("changes", [{}, {"terms": "UK"}, {"hand": "left"}, {"in_the_round": True}, {"up": 40}])
def test_the_rows_are_those_of_the_library(press, changes):
    design = SCARF.but(**changes)
    pressed = press(design)
    answer = pressed("rows")
    written = mk.write_rows(
        mk.compile_chart(design.picture, True, hand=design.hand, in_the_round=design.surround.in_the_round),
        terms=design.words.terms,
        repeat=design.repeat,
    )
    lines = all_lines(pressed, answer)
    assert [f"{line['label']}: {line['text']}" for line in lines] == list(map(str, written.lines))
    assert len(answer["lines"]) <= LINES_AT_ONCE
    assert set(answer["before"]) == {*written.notes, written.foundation, written.multiple} - {""}
    assert dict(map(tuple, answer["key"])) == dict((*written.abbreviations, *written.special_stitches))
    assert not any(line["changed"] for line in lines)
    assert answer["said"] == ""


def test_the_view_writes_no_rows(press, monkeypatch):
    def never(*_, **__):
        raise AssertionError("written unasked")

    monkeypatch.setattr("mosaickit.wording.write_rows", never)
    pressed = press()
    enter(pressed, "title", "Other")
    assert "written unasked" in pressed("rows")["error"]


def test_rows_that_read_otherwise_than_last_time_are_marked(press):
    pressed = press(mk.Design(letter_f, GAUGE).but(across=2))
    before = {line["label"]: line["text"] for line in pressed("rows")["lines"]}
    assert not pressed.view["old"]
    pressed.book.change(letter_f.with_grid(painted(letter_f, (1, 2))), "paint")
    assert pressed.view["old"]
    answer = pressed("rows")
    changed = {line["label"] for line in answer["lines"] if line["changed"]}
    assert changed == {line["label"] for line in answer["lines"] if before.get(line["label"]) != line["text"]}
    assert 0 < len(changed) < len(answer["lines"])
    first = next(number for number, line in enumerate(answer["lines"], 1) if line["changed"])
    assert answer["said"].endswith(f"The first is in line {first}; they are marked.")
    assert re.match(r"\d+ rows? of 7 changed since you last read them\.", answer["said"])
    assert pressed("lines", first=1)["lines"] == answer["lines"]  # turned through, they stay marked
    again = pressed("rows")
    assert again["said"] == "Every row reads as it did last time."
    assert not any(line["changed"] for line in again["lines"])


def painted(motif, where):
    grid = motif.grid.copy()
    grid[where] = not grid[where]
    return grid


def test_rows_are_not_old_when_only_other_words_changed(press):
    pressed = press()
    pressed("rows")
    enter(pressed, "title", "Other")
    assert not pressed.view["old"]
    enter(pressed, "terms", "UK")
    assert pressed.view["old"]


def test_fewer_rows_are_said_so(press):
    pressed = press(mk.Design(letter_f, GAUGE).but(rows_above=2))
    pressed("rows")
    pressed.book.change(mk.Design(letter_f, GAUGE).but(rows_above=0), "rows")
    assert len(pressed("rows")["lines"]) <= 7


def test_rows_that_cannot_be_written_say_why_and_what_was_read_stays(press):
    pressed = press(mk.Design(two_stacked, GAUGE))
    assert pressed.view["lacks"].startswith("The rows cannot be written yet. Rows 3 and 4, stitch 3")
    assert pressed("rows")["error"] == pressed.view["lacks"]
    assert pressed("lines", first=1)["error"] == "Write the rows first."
    assert pressed("dance")["error"] == "Words knows no 'dance'."


# ---- editions ----------------------------------------------------------------------------------------------


def test_an_edition_is_kept_with_its_line_and_listed_with_its_day(press):
    pressed = press()
    pressed("keep", changed="  begun ")
    (kept,) = pressed.book.design.editions
    assert kept == Edition(date.today(), "begun", SCARF)
    (shown,) = pressed.view["editions"]
    assert (shown["number"], shown["date"], shown["changed"]) == (1, date.today().isoformat(), "begun")
    assert shown["same"]
    assert "Nothing changed since edition 1" in pressed("keep", changed="again")["error"]
    enter(pressed, "across", 3)
    assert not pressed.view["editions"][0]["same"]
    pressed("keep", changed="wider")
    assert [each["changed"] for each in pressed.view["editions"]] == ["begun", "wider"]


@pytest.mark.parametrize("changed", ["", "  ", None, "two\nlines", "x" * 201])
def test_an_edition_without_a_line_of_what_changed_is_not_kept(press, changed):
    pressed = press()
    assert "line" in (said := pressed("keep", changed=changed)["error"]) or "200 characters" in said
    assert pressed.book.design == SCARF


def test_an_edition_is_opened_again_loses_none_of_the_others_and_is_undone(press):
    pressed = press()
    pressed("keep", changed="begun")
    enter(pressed, "across", 3)
    pressed("keep", changed="wider")
    enter(pressed, "up", 5)
    before = pressed.book.design
    pressed("open", number=1)
    assert pressed.book.design == SCARF.but(editions=before.editions)
    assert pressed.book.said == "This is edition 1 again. Undo brings back what was here."
    pressed._send(kind="undo")
    assert pressed.book.design == before
    for number in (0, 3, "1", None):
        assert "error" in pressed("open", number=number)
    assert pressed.book.design == before


def test_an_edition_is_compared_with_what_is_now_in_the_librarys_words(press):
    pressed = press()
    pressed("keep", changed="begun")
    enter(pressed, "across", 3)
    answer = pressed("compare", number=1)
    assert answer["said"] == str(mk.compare(SCARF, SCARF.but(across=3))).splitlines()
    assert answer["said"][0] == "Repeats across: 2, now 3"
    pressed("open", number=1)
    assert pressed("compare", number=1)["said"] == ["Nothing differs."]
    assert "There is no edition 2; the last is 1." in pressed("compare", number=2)["error"]
