"""The workbook: what stands beside the painter is what the library says of the picture and the settings."""

import csv
import re

import pytest
from samples import letter_f, two_stacked
from test_painter import Hand

import mosaickit as mk
from mosaickit.widgets import Workbook


@pytest.fixture
def book(tmp_path):
    return Workbook(letter_f, autosave=tmp_path / "f.sketch", folder=tmp_path)


def lines_of(table):
    """The lines of an HTML table as dicts by the names over its columns."""
    head, *lines = [re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", line) for line in table.split("<tr")[1:]]
    return [dict(zip(head, line, strict=True)) for line in lines]


def test_everything_shown_is_what_the_library_says(book):
    chart = mk.compile_chart(letter_f, reversible=True)
    usage = mk.yarn_usage(chart, mk.Gauge(16, 17))
    assert book.size.value == "7 rows of 7 stitches: 4.4 × 4.1 cm"
    assert book.faces.value == mk.work(chart)._repr_svg_()
    counts, yarn = lines_of(book.counts.value), lines_of(book.yarn.value)
    assert [line["FLdc"] for line in counts] == [str(n) for n in mk.tables.count(chart)["FLdc"]]
    assert [line["yarn m"] for line in yarn] == [f"{n:.1f}" for n in mk.tables.yarn_totals(usage)["yarn m"]]
    assert re.fullmatch(
        r'<img alt="[^"]* m of yarn[^"]*" style="max-width: 100%" src="data:image/png;base64,[\w+/=]+">',
        book.bars.value,
    )
    assert book.trouble.value == ""


@pytest.mark.parametrize(
    ("setting", "value", "parts"),
    [
        ("fabric", "plain", ["faces", "counts", "yarn", "bars"]),
        ("between_rows", "cut", ["yarn", "bars"]),
        ("shape", "in the round", ["yarn", "bars"]),
        ("stitches", 20, ["size", "yarn", "bars"]),
        ("rows", 21, ["size", "yarn", "bars"]),
    ],
)
def test_a_setting_changes_all_that_depends_on_it_and_nothing_else(book, setting, value, parts):
    names = ["size", "faces", "counts", "yarn", "bars"]
    before = {name: getattr(book, name).value for name in names}
    getattr(book, setting).value = value
    assert [name for name in names if getattr(book, name).value != before[name]] == parts


def test_a_stroke_changes_what_follows_and_an_unworkable_one_says_so(book):
    hand = Hand(book.painter)
    before = book.faces.value
    hand.paint((3, 2))
    assert book.motif.grid[4, 5]
    assert book.faces.value != before
    assert mk.check(book.motif).ok
    hand.paint((1, 1))
    assert book.faces.value == book.counts.value == book.yarn.value == ""
    assert "follow when the picture can be worked" in book.trouble.value
    hand(kind="act", name="undo", x=0, y=0)
    assert book.trouble.value == ""
    assert book.faces.value != ""


def test_the_motif_can_be_set_and_got(book):
    book.motif = two_stacked
    assert book.painter.motif == book.motif == two_stacked
    assert book.size.value.startswith("5 rows of 3 stitches")


def test_exports_read_back(book, tmp_path):
    (json_file,) = book.export_json()
    (png_file,) = book.export_png()
    assert mk.load(json_file) == mk.load(png_file) == letter_f
    (svg_file,) = book.export_svg()
    assert svg_file.read_text("utf-8") == book.chart._repr_svg_()
    stitches, yarn = book.export_csv()
    with stitches.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert [int(row["stitches"]) for row in rows] == [7] * 7 + [49]
    with yarn.open(encoding="utf-8") as file:
        total = sum(float(row["yarn m"]) for row in csv.DictReader(file))
    assert total == pytest.approx(book.usage(book.chart).total_m.sum())
    assert {path.name for path in tmp_path.glob("[!.]*") if path.is_file()} == {
        "f.sketch", "letter-F.json", "letter-F.png", "letter-F-chart.svg", "letter-F-stitches.csv", "letter-F-yarn.csv",
    }  # fmt: skip


def save_button(book, name):
    """The button of the workbook's last line with this name."""
    return next(one for one in book.children[1].children[-1].children if getattr(one, "description", "") == name)


def said(book):
    return re.sub("<[^>]*>", "", book.saving.said.value)


def test_an_export_that_fails_says_why(book, tmp_path):
    book.folder = tmp_path / "missing"
    save_button(book, "Save JSON").click()
    assert said(book) == "'letter-F.json' could not be written, and nothing was changed: there is no such folder."
    book.folder = tmp_path
    book.motif = two_stacked
    save_button(book, "Save SVG").click()
    assert said(book).startswith("This picture cannot be worked;")
    save_button(book, "Save PNG").click()
    assert said(book) == "Saved motif.png"


def asks(book):
    """The names of the buttons that ask, if they are to be seen."""
    return [one.description for one in (book.saving.as_free, book.saving.replace) if one.layout.display != "none"]


@pytest.mark.parametrize("name", ["JSON", "PNG", "SVG", "CSV"])
def test_a_drawing_that_goes_on_is_saved_again_without_being_asked(tmp_path, name):
    book = Workbook(letter_f.named(""), autosave=tmp_path / "f.sketch", folder=tmp_path)
    save_button(book, f"Save {name}").click()
    before = {path: path.read_bytes() for path in tmp_path.glob("motif*.*")}
    Hand(book.painter).paint((3, 2))
    save_button(book, f"Save {name}").click()
    assert asks(book) == []
    assert all(path.read_bytes() != data for path, data in before.items())
    assert {*tmp_path.glob("motif*.*")} == {*before}


def test_a_file_of_another_drawing_is_asked_about_and_either_answer_is_followed(tmp_path):
    first, other = (
        Workbook(motif.named(""), autosave=tmp_path / f"{number}.sketch", folder=tmp_path)
        for number, motif in enumerate((letter_f, two_stacked))
    )
    save_button(first, "Save PNG").click()
    assert asks(first) == []
    file, free = tmp_path / "motif.png", tmp_path / "motif-2.png"
    before = file.read_bytes()
    save_button(other, "Save PNG").click()
    assert asks(other) == ["Save as motif-2.png", "Replace it"]
    assert said(other).startswith("'motif.png' is there already and was left as it is: it is a motif of the design ")
    assert "role='status'" in other.saving.said.value
    assert (file.read_bytes(), free.exists()) == (before, False), "nothing is written before a button is pressed"
    Hand(other.painter).paint((1, 1))
    other.saving.as_free.click()
    assert (file.read_bytes(), mk.load(free)) == (before, other.motif), "what is saved is the picture as it is now"
    assert (asks(other), said(other)) == ([], "Saved motif-2.png")
    save_button(other, "Save PNG").click()
    other.saving.replace.click()
    assert mk.load(file) == other.motif
    assert (asks(other), said(other)) == ([], "Saved motif.png")


def test_of_two_files_each_is_asked_about_by_itself(book, tmp_path):
    (tmp_path / "letter-F-yarn.csv").write_bytes(b"mine")
    save_button(book, "Save CSV").click()
    assert asks(book) == ["Save as letter-F-yarn-2.csv", "Replace it"]
    assert said(book).startswith("Saved letter-F-stitches.csv. 'letter-F-yarn.csv' is there already and ")
    book.saving.as_free.click()
    assert said(book) == "Saved letter-F-stitches.csv, letter-F-yarn-2.csv"
    assert (tmp_path / "letter-F-yarn.csv").read_bytes() == b"mine"


def test_the_keyboard_goes_to_the_question_and_back_to_the_button_that_asked(book, tmp_path, monkeypatch):
    went = []
    monkeypatch.setattr(type(book.saving.as_free), "focus", lambda self: went.append(self.description))
    (tmp_path / "letter-F.png").write_bytes(b"mine")
    save_button(book, "Save PNG").click()
    book.saving.replace.click()
    assert went == ["Save as letter-F-2.png", "Save PNG"]
    save_button(book, "Save PNG").click()
    assert len(went) == 2, "where nothing was asked the keyboard stays where it is"


def test_a_name_that_is_taken_while_the_question_stands_is_asked_about_too(book, tmp_path):
    (tmp_path / "letter-F.png").write_bytes(b"mine")
    save_button(book, "Save PNG").click()
    (tmp_path / "letter-F-2.png").write_bytes(b"mine too")
    book.saving.as_free.click()
    assert asks(book) == ["Save as letter-F-3.png", "Replace it"]
    assert book.saving.replace.tooltip == "Replace letter-F-2.png"
    book.saving.replace.click()
    assert (tmp_path / "letter-F.png").read_bytes() == b"mine"
    assert mk.load(tmp_path / "letter-F-2.png") == letter_f
