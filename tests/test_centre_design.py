"""The design of a square worked from the centre: kept in a file, printed on a screen and on paper, drawn as yarn."""

import json
import pickle
import re
from pathlib import Path

import jsonschema
import numpy as np
import pypdf
import pytest
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st
from papers import dense

import mosaickit as mk
from mosaickit.cli import main
from mosaickit.errors import FileError, OptionError, UnworkableError

GAUGE = mk.Gauge(16, 16)
SCHEMA = json.loads((Path(mk.__file__).parent / "sizes" / "centred" / "square.schema.json").read_text("utf-8"))


def square_of(rounds, seed, hand="right", name=""):
    """Rings with marks by chance, mended."""
    side = 2 * rounds + 1
    grid = np.random.default_rng(seed).random((side, side)) < 0.4
    return mk.centre.nearest(mk.centre.CentreOut(mk.Motif(grid, name=name), hand)).square


POND = mk.CentreDesign(square_of(6, 3, name="pond"), GAUGE, hook_mm=5).but(
    title="Pond cushion", designer="Mo", intro="Two of these make a cushion.", notes=["Sew on a back."]
)


@st.composite
def designs(draw):
    name = draw(st.sampled_from(["", "pond", "тина"]))
    square = square_of(
        draw(st.integers(1, 5)), draw(st.integers(0, 99)), draw(st.sampled_from(["right", "left"])), name
    )
    gauge = draw(st.none() | st.builds(mk.Gauge, st.integers(8, 24), st.integers(8, 24)))
    words = mk.PatternWords(
        title=draw(st.sampled_from(["", "Pond cushion"])), terms=draw(st.sampled_from(["US", "UK"])), notes=["a", "b"]
    )
    settings = mk.YarnSettings(between_rows=draw(st.sampled_from(["cut", "carried"])), skeins=mk.Skein(100, 50))
    return mk.CentreDesign(square, gauge, words=words, yarn_settings=settings, hook_mm=draw(st.none() | st.just(4.5)))


# ---- the file ----------------------------------------------------------------------------------------------


@given(designs())
def test_what_is_saved_is_loaded_and_is_as_the_schema_says(tmp_path_factory, design):
    file = tmp_path_factory.mktemp("squares") / "one.square"
    mk.save(design, file)
    assert mk.load(file) == design
    jsonschema.Draft202012Validator(SCHEMA).validate(json.loads(file.read_text("utf-8")))
    assert pickle.loads(pickle.dumps(design)) == design


def test_a_picture_alone_is_saved_as_a_design_of_nothing_else(tmp_path):
    mk.save(POND.square, tmp_path / "pond.square")
    assert mk.load(tmp_path / "pond.square") == mk.CentreDesign(POND.square)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"format": "mosaickit design"}, "format"),
        ({"version": 2}, "version"),
        ({"hand": "both"}, "hand"),
        ({"gauge": None, "hook_mm": -1}, "hook_mm"),
        ({"colour": "red"}, "colour"),
        ({"motif": {"first": "MC", "rows": ["..", ".."]}}, "square with an odd side"),
    ],
)
def test_a_file_that_is_none_is_refused_with_its_place(tmp_path, change, says):
    file = tmp_path / "odd.square"
    mk.save(POND, file)
    file.write_text(json.dumps({**json.loads(file.read_text("utf-8")), **change}), "utf-8")
    with pytest.raises(FileError, match=rf"'odd.square'.*{says}"):
        mk.load(file)


def test_each_kind_has_its_ending(tmp_path):
    with pytest.raises(OptionError, match=r"ends in \.square, without `format`.*'pond.json'"):
        mk.save(POND, tmp_path / "pond.json")
    with pytest.raises(OptionError, match=r"ends in \.square"):
        mk.save(POND, tmp_path / "pond.square", square=2)
    with pytest.raises(OptionError, match=r"\.square is for squares from the centre: save mk.CentreDesign"):
        mk.save(POND.square.motif, tmp_path / "pond.square")
    mk.save(POND, tmp_path / "pond.square")
    with pytest.raises(OptionError, match="says everything itself"):
        mk.load(tmp_path / "pond.square", first="MC")
    with pytest.raises(FileError, match="which is no design in rows"):
        mk.sizes.load_design(tmp_path / "pond.square")


# ---- the value ---------------------------------------------------------------------------------------------


def test_what_follows_is_what_the_verbs_of_the_centre_give():
    assert POND.report.ok
    assert POND.chart == mk.centre.chart(POND.square)
    assert np.array_equal(POND.fabric.front, POND.square.motif.grid)
    assert mk.centre.read(POND.rounds) == POND.chart
    assert str(POND.usage) == str(mk.centre.usage(POND.chart, GAUGE))
    assert str(POND.size) == str(mk.centre.size(POND.square, GAUGE))
    assert repr(POND) == (
        "<CentreDesign Pond cushion: 13 × 13 squares, 6 rounds from the centre, round 1 in "
        f"{POND.square.motif.first} (experimental)>"
    )
    assert mk.CentreDesign(square_of(1, 1)).title == "A square from the centre"


def test_changes_go_to_the_part_that_they_are_of():
    other = POND.but(title="Well", between_rows="cut", hook_mm=4, terms="UK")
    assert (other.title, other.yarn_settings.between_rows, other.hook_mm) == ("Well", "cut", 4)
    assert other.rounds.count("dc") > 0
    with pytest.raises(OptionError, match="no `rings`: known are "):
        POND.but(rings=2)
    with pytest.raises(OptionError, match="no gauge: give it one"):
        mk.CentreDesign(POND.square).usage  # noqa: B018
    bad = mk.CentreDesign(mk.centre.CentreOut(mk.Motif(np.eye(7, dtype=bool))))
    assert not bad.report.ok
    with pytest.raises(UnworkableError, match="cannot be worked from the centre"):
        bad.chart  # noqa: B018


# ---- the page ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("terms", ["US", "UK"])
def test_screen_and_paper_say_the_same(tmp_path, terms):
    design = POND.but(terms=terms, for_children=True, level="intermediate")
    screen = mk.publish.html_from_centre(design, tmp_path / "pond.html").read_text("utf-8")
    page = BeautifulSoup(screen, "html.parser")
    reader = pypdf.PdfReader(mk.publish.pdf_from_centre(design, tmp_path / "pond.pdf"))
    paper = "".join(dense(sheet.extract_text()) for sheet in reader.pages)
    paper = re.sub(rf"Pondcushion\d/{len(reader.pages)}", "", paper)
    for line in [item.get_text() for item in page.select("li, main p, h1, h2")]:
        assert dense(line) in paper, line
    text = page.get_text()
    for said in (
        "Never tried on wool",
        "Two of these make",
        "Sew on a back.",
        "Designed by Mo.",
        "Small parts",
        "5 mm",
    ):
        assert said in text
    assert ("FLtr" in text) is (terms == "UK")
    assert ("FLdc" in text) is (terms == "US")
    assert ("Tension: " in text) is (terms == "UK")
    rounds = [item.get_text() for item in page.select(".rows li")]
    assert rounds == design.rounds.strip().splitlines()[-6:]
    assert (reader.metadata.title, reader.metadata.author) == ("Pond cushion", "Mo")
    again = mk.publish.pdf_from_centre(design, tmp_path / "again.pdf").read_bytes()
    assert again == (tmp_path / "pond.pdf").read_bytes()


def test_a_design_says_itself_what_a_chart_is_told(tmp_path):
    with pytest.raises(OptionError, match="says its own `gauge`: leave it out"):
        mk.publish.html_from_centre(POND, tmp_path / "a.html", gauge=GAUGE)
    with pytest.raises(OptionError, match="`gauge`"):
        mk.publish.html_from_centre(POND.chart, tmp_path / "a.html")
    with pytest.raises(OptionError, match="no gauge"):
        mk.publish.pdf_from_centre(mk.CentreDesign(POND.square), tmp_path / "a.pdf")
    with pytest.raises(OptionError, match="`paper` must be one of"):
        mk.publish.pdf_from_centre(POND, tmp_path / "a.pdf", paper="a5")
    assert not list(tmp_path.iterdir())


def test_the_command_line_writes_its_pattern_and_says_where_it_is_none(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    mk.save(POND, "pond.square")
    assert main(["pattern", "pond.square", "pond.html", "--terms", "UK", "--title", "Well"]) == 0
    mk.publish.html_from_centre(POND.but(terms="UK", title="Well"), "same.html")
    assert Path("pond.html").read_bytes() == Path("same.html").read_bytes()
    assert main(["pattern", "pond.square", "pond.pdf", "--paper", "us-letter"]) == 0
    assert pypdf.PdfReader("pond.pdf").pages[0].mediabox.width == pytest.approx(612, abs=1)
    for said, *arguments in (
        ("--guide is not for a square from the centre", "pattern", "pond.square", "a.html", "--guide"),
        ("has no `--reversible`", "pattern", "pond.square", "a.html", "--reversible"),
        ("`mosaickit pattern` writes its pattern", "check", "pond.square"),
        ("`mosaickit pattern` writes its pattern", "chart", "pond.square", "a.svg"),
        ("square from the centre", "widths", "pond.square", "--width", "30cm", "--gauge", "16x16"),
    ):
        assert main(arguments) != 0
        assert said in capsys.readouterr().err, arguments
    assert not Path("a.html").exists()
