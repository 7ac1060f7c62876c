"""The design of a square worked from the centre: kept in a file, printed on a screen and on paper, drawn as yarn."""

import base64
import io
import json
import pickle
import re
from dataclasses import replace
from datetime import date
from pathlib import Path

import jsonschema
import numpy as np
import pypdf
import pytest
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st
from papers import dense, sheet_texts
from PIL import Image

import mosaickit as mk
from mosaickit.cli import main
from mosaickit.errors import FileError, OptionError, UnworkableError
from mosaickit.sizes.centred.forms import square_to_json

GAUGE = mk.Gauge(16, 16)
SCHEMA = json.loads((Path(mk.__file__).parent / "sizes" / "centred" / "square.schema.json").read_text("utf-8"))


def label(yarn):
    return mk.YarnLabel(
        yarn, line="Pier DK", weight=3, fibre="100% cotton", wash="wash at 30 °C, mild", dry="dry flat"
    )  # fmt: skip


OWN = mk.Publishing(
    contact="patterns@tidepool-example.org", copyright_line="© 2026 The pier club",
    licence_line="You may sell what you make.", edition_line="Edition 2", published=date(2026, 3, 14),
    errata="https://tidepool-example.org/corrections", notions=["4 stitch markers", "1 yarn needle", "8 pins"],
    finishing="Weave in the ends.", blocking="Soak it and pin it out.", blocked_cm=(8.2, 8.1),
    gauge_stitch="the mosaic pattern, in rounds", labels=[label("cream"), label("ink blue")],
)  # fmt: skip


def square_of(rounds, seed, hand="right", name=""):
    """Rings with marks by chance, mended."""
    side = 2 * rounds + 1
    grid = np.random.default_rng(seed).random((side, side)) < 0.4
    return mk.centre.nearest(mk.centre.CentreOut(mk.Motif(grid, name=name), hand)).square


def picture(size=(60, 40)):
    kept = io.BytesIO()
    Image.new("RGB", size, "#7a5c3e").save(kept, "PNG")
    return kept.getvalue()


PHOTOGRAPHS = (
    mk.Photograph(picture(), "The whole cushion on a grey chair.", "In use"),
    mk.Photograph(picture((30, 40)), "A corner of it."),
)
POND = mk.CentreDesign(square_of(6, 3, name="pond"), GAUGE, hook_mm=5).but(
    title="Pond cushion", designer="Mo", intro="Two of these make a cushion.", notes=["Sew on a back."]
)


KEPT = json.loads(square_to_json(POND))
PUBLISHED = KEPT["publishing"]
EARLIER = {name: value for name, value in KEPT.items() if name not in ("format", "version", "editions")}


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
    own = mk.Publishing(contact=draw(st.sampled_from(["", "a@b-example.org"])), published=draw(st.none() | st.dates()))
    settings = mk.YarnSettings(between_rows=draw(st.sampled_from(["cut", "carried"])), skeins=mk.Skein(100, 50))
    hook = draw(st.none() | st.just(4.5))
    design = mk.CentreDesign(square, gauge, words=words, publishing=own, yarn_settings=settings, hook_mm=hook)
    if draw(st.booleans()):
        design = design.edition("first", date=draw(st.dates())).but(notes=["mended"])
    return design


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
        ({"editions": [{"number": 2, "date": "2026-01-01", "changed": "", "design": EARLIER}]}, "numbered from 1"),
        ({"editions": [{"number": 1, "date": "2026-02-30", "changed": "", "design": EARLIER}]}, "a day that there is"),
        ({"publishing": {**json.loads(json.dumps(PUBLISHED)), "contact": "a\nb"}}, "one line"),
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
    with pytest.raises(OptionError, match="A square from the centre has no `zigzag`: known are "):
        POND.but(zigzag=2)
    with pytest.raises(OptionError, match="no gauge: give it one"):
        mk.CentreDesign(POND.square).usage  # noqa: B018
    bad = mk.CentreDesign(mk.centre.CentreOut(mk.Motif(np.eye(7, dtype=bool))))
    assert not bad.report.ok
    with pytest.raises(UnworkableError, match="cannot be worked from the centre"):
        bad.chart  # noqa: B018


# ---- editions ----------------------------------------------------------------------------------------------


def test_an_edition_is_what_the_square_was_whatever_it_becomes(tmp_path):
    first = POND.edition("first", date=date(2026, 1, 2))
    later = first.but(hook_mm=4).edition("a smaller hook", date=date(2026, 2, 3))
    assert [(each.date, each.changed) for each in later.editions] == [
        (date(2026, 1, 2), "first"),
        (date(2026, 2, 3), "a smaller hook"),
    ]
    assert [each.design.hook_mm for each in later.editions] == [5, 4]
    assert later.editions[0].design == POND
    assert not later.editions[1].design.editions
    mk.save(later, tmp_path / "pond.square")
    assert mk.load(tmp_path / "pond.square") == later
    # a design in rows keeps editions by the very same sentences
    for design in (later, mk.Design(mk.Motif.from_text("...."), GAUGE).edition("first")):
        with pytest.raises(OptionError, match="Nothing changed since edition"):
            design.edition("again")
        with pytest.raises(OptionError, match="`changed` must be one line"):
            design.edition("")


def test_photographs_stand_in_the_file_but_in_no_edition(tmp_path):
    design = POND.but(photographs=PHOTOGRAPHS).edition("with pictures")
    assert design.editions[0].design.photographs == ()
    mk.save(design, tmp_path / "pond.square")
    assert mk.load(tmp_path / "pond.square") == design
    with pytest.raises(OptionError, match="`photographs\\[0\\]` must be"):
        POND.but(photographs=[3])
    with pytest.raises(OptionError, match="`publishing`"):
        POND.but(publishing="me")
    with pytest.raises(OptionError, match="`editions\\[0\\]` must be"):
        POND.but(editions=["first"])


# ---- a folder ----------------------------------------------------------------------------------------------


def test_a_folder_lists_squares_beside_designs(tmp_path):
    dash = mk.Design(mk.Motif.from_text("....", name="dash"), mk.Gauge(16, 18))
    mk.save(dash, tmp_path / "dash.design")
    mk.save(POND.edition("first"), tmp_path / "pond.square")
    bad = mk.CentreDesign(mk.centre.CentreOut(mk.Motif(np.eye(7, dtype=bool))), GAUGE)
    mk.save(bad, tmp_path / "slant.square")
    mk.save(POND.but(gauge=None), tmp_path / "unmeasured.square")
    (tmp_path / "torn.square").write_text("{", "utf-8")
    folder = mk.designs(tmp_path)
    assert folder.names == ("dash.design", "pond.square", "slant.square", "torn.square", "unmeasured.square")
    assert (folder["dash"], folder["pond"], folder["slant"]) == (dash, POND.edition("first"), bad)
    assert [*folder.faults] == ["torn.square"]
    table = mk.tables.listed(folder)
    line = table.loc["pond.square"]
    assert (line["title"], line["motif rows"], line["rows"], line["stitches"]) == ("Pond cushion", 13, 13, 13)
    assert line["width cm"] == line["length cm"] == pytest.approx(13 / 16 * 10)
    assert line["yarn m"] == pytest.approx(float(POND.usage.total_m.sum()))
    assert (line["editions"], line["can be worked"]) == (1, True)
    assert not table.loc["slant.square"]["can be worked"]
    assert "cannot be worked from the centre" in table.loc["slant.square"]["why not"]
    shown = folder._repr_html_()
    assert shown.count("<svg") == 4
    assert "8.1 × 8.1 cm" in shown
    assert "6 rounds from the centre" in shown
    assert "cannot be worked" in shown
    # what is worked with in rows leaves them out
    assert mk.sizes.all_designs(tmp_path).names == ("dash.design",)
    wall = mk.widgets.DesignWall(folder)
    wall.pick("pond")
    assert wall.design == POND.edition("first")


@pytest.mark.parametrize("rounds", [3, 45])
def test_a_thumbnail_has_the_colours_of_the_square(rounds):
    square = square_of(rounds, 5)
    design = mk.CentreDesign(square, GAUGE)
    drawn = BeautifulSoup(mk.sizes.DesignTile("a.square", design, "", ("",)).picture, "html.parser").svg
    side = 2 * min(rounds, 40) + 1
    cut = (len(square.motif.grid) - side) // 2
    cc = square.motif.grid[cut : cut + side, cut : cut + side]
    blue, cream = (square.motif.yarns.at(1, role).colour for role in ("CC", "MC"))
    ground = cream if cc.mean() <= 0.5 else blue
    wanted = cc if ground == cream else ~cc
    path = next(path for path in drawn("path") if path.get("fill") in {blue, cream} - {ground})
    painted = np.zeros_like(cc)
    wide = float(drawn("rect")[0]["width"]) / side if float(drawn("rect")[0]["width"]) > side else 1.0
    for x, y, right in re.findall(r"M([\d.]+) ([\d.]+)H([\d.]+)", path["d"]):
        left, row, end = (round(float(each) / wide) for each in (x, y, right))
        painted[row, left:end] = True
    assert np.array_equal(painted, wanted)
    said = mk.sizes.said_of_corners([mk.sizes.DesignTile("a.square", design, "", ("",))])
    assert said == ("Of a square of more than 40 rounds it shows the first 40." if rounds > 40 else "")


# ---- the page ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("terms", ["US", "UK"])
def test_screen_and_paper_say_the_same(tmp_path, terms):
    design = POND.but(terms=terms, for_children=True, level="intermediate")
    screen = mk.publish.html_from_centre(design, tmp_path / "pond.html").read_text("utf-8")
    page = BeautifulSoup(screen, "html.parser")
    reader = pypdf.PdfReader(mk.publish.pdf_from_centre(design, tmp_path / "pond.pdf"))
    sheets = [dense(sheet) for sheet in sheet_texts(tmp_path / "pond.pdf")]
    paper = "".join(sheets)
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


def test_a_page_shows_the_square_as_yarn_or_its_photographs(tmp_path):
    def shown(design, form="regular"):
        screen = mk.publish.html_from_centre(design, tmp_path / "a.html", replace=True).read_text("utf-8")
        page = BeautifulSoup(screen, "html.parser")
        paper = pypdf.PdfReader(mk.publish.pdf_from_centre(design, tmp_path / "a.pdf", form=form, replace=True))
        return page("img"), sum(len(sheet.images) for sheet in paper.pages)

    images, on_paper = shown(POND)
    assert [image["alt"] for image in images] == [
        f"The {side} of the square as its yarn lies: 6 rounds from the centre." for side in ("front", "back")
    ]
    assert on_paper == 2
    for image, side in zip(images, ("front", "back"), strict=True):
        data = base64.b64decode(image["src"].partition(",")[2])
        pixels = np.asarray(Image.open(io.BytesIO(data)).convert("RGBA")).astype(int)
        assert pixels.shape[:2] == (int(image["height"]), int(image["width"]))
        # the middle of the outermost ring's squares, seen from its side, is in the yarn of round 6 behind
        half = pixels.shape[0] // 2
        part = pixels[:, half - 20 : half + 20][pixels[:, half - 20 : half + 20, 3] > 0]
        blue = (part[:, 2] > part[:, 0] + 20).mean()
        assert 0.2 < blue < 0.8, side
    images, on_paper = shown(POND.but(photographs=PHOTOGRAPHS))
    assert [image["alt"] for image in images] == [each.text for each in PHOTOGRAPHS]
    assert on_paper == 2
    assert shown(POND.but(photographs=PHOTOGRAPHS), "low ink")[1] == 0
    left_out = dense("To save ink, photographs are left out of this file.")
    assert left_out in dense("".join(sheet_texts(tmp_path / "a.pdf")))
    shown(POND, "low ink")
    assert left_out not in dense("".join(sheet_texts(tmp_path / "a.pdf")))
    assert shown(mk.CentreDesign(square_of(51, 1), GAUGE))[0] == []  # drawing it would take longer than all the rest


def test_low_ink_fills_no_squares_and_draws_the_regions(tmp_path):
    chart = POND.chart
    drawn = BeautifulSoup(chart.drawn(whole=True, filled=False), "html.parser")
    fills = {each["fill"] for each in drawn.find_all(fill=True)}
    assert not fills & {yarn.colour for yarn in POND.usage.yarns}
    cc, edges = POND.square.motif.grid, set()
    for across, row, end in re.findall(r"M(\d+) (\d+)H(\d+)", drawn.find("path", attrs={"stroke-width": "0.12"})["d"]):
        edges |= {(int(row), x, "above") for x in range(int(across), int(end))}
    side = len(cc)
    assert edges == {(r, c, "above") for r in range(1, side) for c in range(side) if cc[r, c] != cc[r - 1, c]}
    small, large = (
        mk.publish.pdf_from_centre(POND, tmp_path / f"{form}.pdf", form=form).read_bytes()
        for form in ("low ink", "regular")
    )
    assert len(small) < len(large) / 3
    with pytest.raises(OptionError, match="`form` must be one of"):
        mk.publish.pdf_from_centre(POND, tmp_path / "a.pdf", form="booklet")


def test_what_is_published_is_printed_on_screen_and_paper(tmp_path):
    design = POND.but(publishing=replace(OWN, language="da"), skeins=mk.Skein(105, 50))
    screen = mk.publish.html_from_centre(design, tmp_path / "pond.html").read_text("utf-8")
    page = BeautifulSoup(screen, "html.parser")
    mk.publish.pdf_from_centre(design, tmp_path / "pond.pdf")
    sheets = [dense(sheet) for sheet in sheet_texts(tmp_path / "pond.pdf")]
    paper = "".join(sheets)
    for said in (
        *("4 stitch markers", "1 yarn needle", "8 pins", "Weave in the ends.", "Soak it and pin it out.", "Edition 2"),
        *("14 March 2026", OWN.errata, OWN.contact, OWN.copyright_line, OWN.licence_line, "5 mm (US H-8)"),
        *("in the mosaic pattern, in rounds", "Measured after blocking: 8.2 cm wide × 8.1 cm high"),
        "Pier DK; weight 3, Light (Craft Yarn Council); 100% cotton; 105 m / 50 g a ball (115 yd / 1.8 oz).",
    ):
        assert said in page.get_text(), said
        assert dense(said) in paper, said
    foot = dense("Pond cushion · © 2026 The pier club · patterns@tidepool-example.org")
    assert all(foot in sheet for sheet in sheets)
    # what the author wrote is in the author's language, the rest in English
    assert page.html["lang"] == "en"
    assert {each.get_text() for each in page.find_all(lang="da")} >= {"Weave in the ends.", "Pond cushion"}
    assert not page.select(".rows [lang]")
    assert ".." not in page.get_text().replace("…", "")


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
        ("--marks is not for a square", "pattern", "pond.square", "a.html", "--marks", "letters"),
        ("set as regular or low-ink; got --form booklet", "pattern", "pond.square", "a.pdf", "--form", "booklet"),
        ("`mosaickit pattern` writes its pattern; `mosaickit check`", "chart", "pond.square", "a.svg"),
        ("square from the centre", "widths", "pond.square", "--width", "30cm", "--gauge", "16x16"),
    ):
        assert main(arguments) != 0
        assert said in capsys.readouterr().err, arguments
    assert not Path("a.html").exists()
