"""Folders of designs: each design is the one in its file, what cannot be read says so, and the wall can be read."""

import os
import re
from html.parser import HTMLParser
from pathlib import Path

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from test_designs import random_design

import mosaickit as mk
from mosaickit import svg
from mosaickit.errors import FileError, OptionError
from mosaickit.sizes.designs import listing
from mosaickit.sizes.designs.wall import MOST_ON_A_WALL, corner_of

ROOT = Path(__file__).parent.parent
LEAF = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf")
SCARF = mk.Design(LEAF, mk.Gauge(16, 18)).but(
    across=12, up=40, colours="swap", title="Leaf <b>scarf</b>", skeins=mk.Skein(105, 50)
)
UNWORKABLE = mk.Design(mk.Motif.from_text("#.\n#.\n#."), mk.Gauge(16, 18))
SWATCH = mk.Swatch(mk.compile_chart(LEAF), mk.Gauge(16, 18), metres={"all": 900})  # no one works so loosely


@pytest.fixture
def folder(tmp_path):
    """A folder with everything in it that a maker's may have."""
    here = tmp_path / "mine"
    here.mkdir()
    mk.save(SCARF, here / "leaf-scarf.design")
    mk.save(SCARF.but(gauge=None, title="").edition("begun").but(across=3), here / "Belt.design")
    mk.save(LEAF, here / "leaf.json")
    mk.save(UNWORKABLE, here / "nowhere.design")
    mk.save(SCARF.but(skeins=None, swatches=[SWATCH]), here / "loose.design")
    (here / "broken.design").write_text('{"format": "mosaickit design"', "utf-8")
    (here / "empty.json").touch()
    (here / ".hidden.design").touch()
    (here / "notes.txt").write_text("Ask for more moss.", "utf-8")
    (here / "older").mkdir()
    mk.save(SCARF, here / "older" / "x.design")
    return here


class Wall(HTMLParser):
    """What stands on a wall: for each item its texts, and what its picture says to those who cannot see it."""

    def __init__(self, html):
        super().__init__()
        self.items, self.around, self.open, self.tags = [], [], [], []
        self.feed(html)

    def handle_starttag(self, tag, attributes):
        self.tags.append(tag)
        self.open.append((tag, dict(attributes)))
        if tag == "li":
            self.items.append({"said": [], "picture": None})
        if tag in ("rect", "path"):
            self.open.pop()

    def handle_endtag(self, tag):
        if tag not in ("rect", "path"):
            assert self.open.pop()[0] == tag

    def handle_data(self, text):
        inside = [tag for tag, _ in self.open]
        if inside[-1] == "title":
            assert dict(self.open)["svg"]["role"] == "img"
            self.items[-1]["picture"] = text
        elif "li" in inside:
            self.items[-1]["said"].append(text)
        elif "style" not in inside:
            self.around.append(text)


@pytest.mark.thorough
def test_the_corner_of_a_piece_is_that_of_the_whole_one_whatever_is_laid_around_it():
    rng = np.random.default_rng(11)
    cut = 0
    for _ in range(1500):
        design = random_design(rng)
        design = design.but(across=int(rng.integers(1, 30)), up=int(rng.integers(1, 30)))
        most = int(rng.integers(1, 40))
        index, colours = corner_of(design, most)
        whole, (rows, stitches) = design.picture, design.shape
        as_seen = np.array(colours)[index]
        expected, of_all = svg.yarn_colours(whole.grid, whole.shown_rows, whole.yarns)
        lower = np.array(of_all)[expected][-min(rows, most) :]
        begun = lower[:, -min(stitches, most) :] if design.hand == "right" else lower[:, : min(stitches, most)]
        assert np.array_equal(as_seen, begun), design
        cut += as_seen.size < whole.grid.size / 4
    assert cut > 400


def test_a_folder_is_a_mapping_of_the_designs_that_can_be_read(folder):
    listed = mk.designs(folder)
    assert list(listed) == ["Belt.design", "leaf-scarf.design", "leaf.json", "loose.design", "nowhere.design"]
    assert len(listed) == 5
    assert dict(listed)["leaf-scarf.design"] == SCARF
    assert listed["leaf-scarf"] == listed[1] == listed[-4] == SCARF
    assert listed[1:3] == (SCARF, mk.Design(LEAF))
    assert "leaf" in listed
    assert "broken" not in listed
    assert 3 not in listed
    assert listed.get("x.design") is None
    assert listed.get("leaf-scarf") == SCARF
    assert set(listed.faults) == {"broken.design", "empty.json"}
    assert listed.others == ("notes.txt",)
    assert repr(listed) == f"<DesignFolder 5 designs in '{folder}', 2 files that cannot be read>"


@pytest.mark.parametrize(
    ("ask", "kind", "sentence"),
    [
        ("broken", FileError, r"'broken\.design': Line 1, column 30: this is no JSON"),
        ("empty.json", FileError, r"'empty\.json': The file is empty\."),
        (
            "x",
            FileError,
            r"No design is called 'x' in .*; there are Belt\.design, .* and 5 more\. .* by `\.again\(\)`\.$",
        ),
        ("leaf", FileError, r"Several files are called 'leaf'; say which: leaf\.design, leaf\.json\."),
        (9, OptionError, r"There are 6 designs, numbered from 0; got 9\."),
        (True, OptionError, r"by the name of its file or by number; got True\."),
        (2.0, OptionError, r"by the name of its file or by number; got 2\.0\."),
    ],
)
def test_what_is_not_there_is_refused_in_a_sentence(folder, ask, kind, sentence):
    mk.save(SCARF, folder / "leaf.design")
    listed = mk.designs(folder)
    with pytest.raises(kind, match=sentence):
        listed[ask]


def test_a_folder_that_is_none_says_so(folder):
    with pytest.raises(FileError, match=r"nowhere' could not be looked into: there is no such folder\."):
        mk.designs(folder / "nowhere")
    with pytest.raises(FileError, match=r"notes\.txt' is a file, not a folder: mk\.load opens it\."):
        mk.designs(folder / "notes.txt")
    with pytest.raises(FileError, match="could not be looked into: its name holds a character"):
        mk.designs("a\0b")
    with pytest.raises(OptionError, match="`folder` must be a path"):
        mk.designs(3)


def test_an_empty_folder_is_an_empty_list_that_says_how_to_fill_it(tmp_path):
    listed = mk.designs(tmp_path)
    assert (len(listed), listed.faults, dict(listed)) == (0, {}, {})
    assert (
        "No file in it ends in .design, .square or .json. mk.save(design, path) puts one there." in listed._repr_html_()
    )
    assert len(mk.tables.listed(listed)) == 0
    with pytest.raises(FileError, match="there are none"):
        listed["leaf"]


def test_only_what_is_asked_for_is_read_and_again_only_if_it_changed(folder, monkeypatch):
    read = []
    monkeypatch.setattr(listing, "load", lambda path: read.append(path.name) or mk.load(path))
    listed = mk.designs(folder)
    assert read == []
    assert listed["leaf-scarf"] is listed["leaf-scarf.design"]
    assert read == ["leaf-scarf.design"]
    mk.save(SCARF.but(across=9), folder / "leaf-scarf.design")
    assert listed["leaf-scarf"].across == 9
    assert read == ["leaf-scarf.design"] * 2
    os.utime(folder / "leaf-scarf.design", (0, 0))
    assert mk.tables.listed(listed).loc["leaf-scarf.design", "changed"].year in (1969, 1970)


def test_a_file_that_went_or_broke_meanwhile_is_a_fault_and_comes_back(folder):
    listed = mk.designs(folder)
    assert len(listed) == 5
    whole = (folder / "leaf-scarf.design").read_bytes()
    (folder / "leaf-scarf.design").unlink()
    (folder / "leaf.json").write_text("[]", "utf-8")
    assert len(listed) == 3
    assert "There is no such file in the folder" in listed.faults["leaf-scarf.design"]
    assert "leaf.json" in listed.faults
    assert "There is no such file" in listed._repr_html_()
    (folder / "leaf-scarf.design").write_bytes(whole)
    (folder / "new.design").write_bytes(whole)
    assert listed["leaf-scarf"] == SCARF
    assert "new" not in listed
    assert listed.again()["new"] == SCARF
    assert listed.again()["loose"] is listed["loose"]


def test_the_table_says_what_the_designs_say(folder):
    table = mk.tables.listed(mk.designs(folder))
    assert list(table.index) == list(mk.designs(folder).names)
    line = table.loc["leaf-scarf.design"]
    assert tuple(line[["motif rows", "motif stitches", "rows", "stitches"]]) == (5, 4, *SCARF.shape)
    assert tuple(line[["width cm", "length cm"]]) == pytest.approx(SCARF.size)
    assert line["yarn m"] == pytest.approx(sum(total.likely_m for total in SCARF.usage.by_yarn))
    assert line["skeins"] == sum(total.skeins for total in SCARF.usage.by_yarn)
    assert line["can be worked"]
    assert line["title"] == "Leaf <b>scarf</b>"
    assert line["why not"] == ""
    belt = table.loc["Belt.design"]
    assert (belt["title"], belt["editions"]) == ("leaf", 1)
    assert belt[["width cm", "length cm", "yarn m", "skeins"]].isna().all()
    assert not table.loc["nowhere.design", "can be worked"]
    assert "cannot be worked" in table.loc["nowhere.design", "why not"]
    assert re.search("swatch", table.loc["loose.design", "why not"], re.IGNORECASE)
    assert table.loc["broken.design"].isna().sum() == 11
    assert table.loc["broken.design", "why not"].startswith("'broken.design': Line 1")
    assert {str(table[name].dtype) for name in ("rows", "skeins", "editions")} == {"Int64"}


def test_a_table_of_what_is_all_known_or_all_unknown_has_no_holes():
    table = mk.tables.listed(mk.designs(ROOT / "gallery" / "motifs"))
    assert len(table) == len(list((ROOT / "gallery" / "motifs").glob("*.json")))
    assert not table.isna().any(axis=None)
    assert not {"width cm", "yarn m", "skeins", "why not"} & set(table.columns)


def test_the_wall_shows_each_design_with_title_size_yarn_and_date_in_words_too(folder):
    html = mk.designs(folder)._repr_html_()
    wall = Wall(html)
    assert len(wall.items) == 7
    by_file = {
        next(text for text in item["said"] if Path(text).suffix in (".design", ".json")): item for item in wall.items
    }
    scarf = by_file["leaf-scarf.design"]
    assert scarf["picture"] == f"Leaf <b>scarf</b>, {SCARF.size}; shown: the first 80 rows and 50 stitches"
    title, file, size, yarn, day = scarf["said"]
    assert (title, file, size) == ("Leaf <b>scarf</b>", "leaf-scarf.design", str(SCARF.size))
    assert re.fullmatch(rf"{SCARF.usage.likely_m:,.0f} m, \d+ skeins", yarn)
    assert re.fullmatch(r"\d{4}-\d\d-\d\d", day)
    assert by_file["Belt.design"]["said"][2] == "200 rows × 14 stitches"
    assert "cannot be worked" in by_file["nowhere.design"]["said"]
    assert "yarn cannot be told" in by_file["loose.design"]["said"]
    assert by_file["broken.design"]["picture"] is None
    assert "this is no JSON" in by_file["broken.design"]["said"][1]
    assert "Of more than 80 rows or stitches the picture shows the corner where the work begins." in wall.around
    assert "Not listed, but may hold motifs, which mk.load opens: notes.txt." in wall.around
    assert "Open one by its name, as listed['Belt.design']." in wall.around
    assert not {"script", "img", "a", "b"} & set(wall.tags)
    assert "http" not in html.replace("http://www.w3.org/2000/svg", "")


def test_a_wall_of_300_files_shows_part_and_says_so(tmp_path):
    file = mk.save(SCARF, tmp_path / "0.design").read_bytes()
    for number in range(1, 300):
        (tmp_path / f"{number}.design").write_bytes(file)
    listed = mk.designs(tmp_path)
    wall = Wall(listed._repr_html_())
    assert len(wall.items) == MOST_ON_A_WALL
    assert f"Shown are the first {MOST_ON_A_WALL}; 180 more are listed. mk.tables.listed has them all." in wall.around
    assert len(mk.tables.listed(listed)) == len(listed) == 300


@pytest.mark.parametrize("colours", ["background: #ffffff; color: #1a1a1a", "background: #111111; color: #e8e8e8"])
def test_axe_finds_nothing_on_a_wall_and_nothing_runs_over_the_side(folder, tab, tmp_path, colours):
    page = tmp_path / "wall.html"
    wall = mk.designs(folder)._repr_html_()
    head = '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Wall</title></head>'
    page.write_text(f'{head}<body style="{colours}"><main><h1>Wall</h1>{wall}</main></body></html>', "utf-8")
    shown = tab(viewport={"width": 320, "height": 700})
    shown.goto(page.as_uri())
    found = Axe().run(shown).response["violations"]
    assert [(fault["id"], [node["html"] for node in fault["nodes"]]) for fault in found] == []
    assert shown.evaluate("document.documentElement.scrollWidth") <= 320
    assert shown.get_by_role("listitem").count() == 7
    assert shown.get_by_role("img").count() == 5
    assert shown.get_by_role("img", name="leaf, 5 rows × 6 stitches", exact=True).count() == 1
