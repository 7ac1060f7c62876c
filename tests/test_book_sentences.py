"""Whatever is entered or pressed with nonsense in the workbook, no sentence shown has a name of Python in it."""

import re
from pathlib import Path

import pytest
from books import HandAtBook
from samples import letter_f, two_stacked

import mosaickit as mk
from mosaickit.widgets.book.entries import ENTRIES, in_labels
from mosaickit.widgets.book.workbook import PANELS

pytestmark = pytest.mark.thorough

CODE = re.compile(r"`|\bmk\.|\b[a-z]+_[a-z_]+\b|\w=\S")
BAD = [-1, 0, 0.5, 1e300, 10**12, "", "abc", "x" * 500, "two\nlines", "\x00", True, None, [], [1, 2], {}]
VALUES = ["width", "length", "stitches", "rows", "sheet", "size", "count", "value", "rings", "line", "number", "text"]
FOLDER = Path(mk.widgets.__file__).parent / "book"


def pressed_names(panel):
    """What the messages of a panel are called, as its Python compares or lists them."""
    text = "\n".join(file.read_text("utf-8") for file in FOLDER.glob(f"{panel}*.py"))
    return sorted(
        {
            *re.findall(r'name == "(\w+)"', text),
            *re.findall(r'^ +"(\w+)": (?:partial|lambda|self|_)', text, re.MULTILINE),
        }
    )


def named(sentence):
    """Whether a sentence has code in it, apart from what came."""
    return CODE.search(sentence.partition("; got")[0])


def book_of(start, folder):
    return HandAtBook(mk.widgets.Workbook(start, autosave=folder / "x.sketch", folder=folder))


DESIGNS = {
    "flat": mk.Design(letter_f, mk.Gauge(16, 18)).but(across=2, up=2, colours="swap"),
    "round": mk.Design(letter_f, mk.Gauge(16, 18)).but(in_the_round=True),
    "unworkable": mk.Design(two_stacked, mk.Gauge(16, 18)),
    "without a gauge": mk.Design(letter_f),
}


@pytest.mark.parametrize("which", DESIGNS)
def test_a_bad_entry_is_refused_in_the_words_of_its_field(which, tmp_path):
    hand = book_of(DESIGNS[which], tmp_path)
    refused = []
    for name in ENTRIES:
        for bad in BAD:
            if said := hand.ask("set", name=name, value=bad).get("error"):
                refused.append((name, bad, said))
            hand.ask("undo")
    assert len(refused) > len(ENTRIES)
    assert [each for each in refused if named(each[2])] == []


@pytest.mark.parametrize("panel", PANELS)
@pytest.mark.parametrize("which", ["round", "unworkable", "without a gauge"])
def test_what_cannot_be_pressed_says_so_without_a_name_of_python(which, panel, tmp_path):
    hand, design = book_of(DESIGNS[which], tmp_path), DESIGNS[which]
    told = []
    for name in pressed_names(panel):
        for bad in (-1, 1e300, "abc", "", None, [1, 2]):
            hand.open(panel)
            answer = hand.ask("do", panel=panel, name=name, values=dict.fromkeys(VALUES, bad))
            told += [(name, bad, said) for said in (answer.get("error", ""), hand.book.said) if said]
            if hand.book.design is not design:
                hand.book.change(design, "back")
    assert [each for each in told if named(each[2])] == []
    assert panel == "picture" or told


@pytest.mark.parametrize(
    ("said", "shown"),
    [
        ("`title` must be a line of text; got 3.", '"Title" must be a line of text; got 3.'),
        ("This is a PNG picture, whatever its name says: give `format='png'`.",
         "This is a PNG picture, whatever its name says. Rename it so that its name ends in .png."),
        ("`hook_mm` must be a number above 0 or None; got -1.", '"Hook" must be a number above 0; got -1.'),
        ("A sentence of words.", "A sentence of words."),
    ],
)  # fmt: skip
def test_names_of_the_library_become_words(said, shown):
    assert in_labels(said) == shown
