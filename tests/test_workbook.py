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
    assert [line["FLdc"] for line in counts] == [str(n) for n in mk.count(chart)["FLdc"]]
    assert [line["likely m"] for line in yarn] == [f"{n:.1f}" for n in mk.yarn_totals(usage)["likely m"]]
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
        total = sum(float(row["likely m"]) for row in csv.DictReader(file))
    assert total == pytest.approx(book.usage(book.chart).total_m.sum())
    assert {path.name for path in tmp_path.iterdir()} == {
        "f.sketch", "letter-F.json", "letter-F.png", "letter-F-chart.svg", "letter-F-stitches.csv", "letter-F-yarn.csv",
    }  # fmt: skip


def test_an_export_that_fails_says_why(book, tmp_path):
    book.folder = tmp_path / "missing"
    book._export(book.export_json)
    assert (
        book.exported.value == "'letter-F.json' could not be written, and nothing was changed: there is no such folder."
    )
    book.folder = tmp_path
    book.motif = two_stacked
    book._export(book.export_svg)
    assert book.exported.value.startswith("This picture cannot be worked;")
    book._export(book.export_png)
    assert book.exported.value == "Saved motif.png"
