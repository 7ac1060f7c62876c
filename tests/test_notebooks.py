"""The notebooks, run with their own motifs and with twelve others: no cell fails, every figure is whole.

They run here in this process, as a hundred and thirty kernels would take many minutes; with its own motif each runs in
a kernel as well, where it is shared (test_share_offline.py). What a notebook shows is checked here, since a reader's
motif shows something else.
"""

import gc
import io
import os
import re
import shutil
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from bs4 import BeautifulSoup
from notebook_cells import OWN, cells_of, run
from others_motifs import OTHERS, write_others
from PIL import Image

import mosaickit as mk
from mosaickit.scripts import one_script

ROOT = Path(__file__).parents[1]
FILES = sorted((ROOT / "notebooks").glob("*.ipynb"))
NAMES = [file.stem for file in FILES]
JOBS = ["01-begin", "02-explore", "03-plan-a-scarf", "04-test-many-widths", "05-publish", "06-teach"]
WIDEST_WORD = 44
"""No word of an output is longer, in characters: that is a line of a page 390 pixels wide."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A copy of notebooks, gallery and the twelve others' files, as a reader would have it."""
    there = tmp_path_factory.mktemp("reader")
    shutil.copytree(ROOT / "notebooks", there / "notebooks", ignore=shutil.ignore_patterns("made", "*.sketch"))
    shutil.copytree(ROOT / "gallery" / "motifs", there / "gallery" / "motifs")
    write_others(there / "notebooks")
    return there / "notebooks"


@pytest.fixture
def inside(folder, monkeypatch):
    monkeypatch.chdir(folder)
    yield folder
    gc.collect()  # widgets hold one another in circles
    gc.freeze()  # what is left belongs to modules that were loaded, and is not looked through again


@pytest.fixture(scope="module")
def own(slow, folder):
    """Give what a notebook came to with its own motif; each is run once."""

    @cache
    def ran(name):
        before = Path.cwd()
        os.chdir(folder)
        try:
            return run(folder / f"{name}.ipynb")
        finally:
            os.chdir(before)

    return ran


# ---- as they are stored ------------------------------------------------------------------------------------


def test_the_notebooks_are_named_by_job_and_those_come_first():
    assert NAMES[:6] == JOBS
    assert len(NAMES) == len({name[:2] for name in NAMES})


@pytest.mark.parametrize("file", FILES, ids=NAMES)
def test_each_opens_with_one_cell_for_a_file_of_ones_own(file):
    texts, code = cells_of(file, "markdown"), cells_of(file)
    assert len(OWN.findall("\n".join(code))) == 1
    asked = OWN.search(code[0])
    assert asked
    assert (file.parent / asked[1]).is_file()
    assert f"**Your own file:** put it beside this notebook and write its name in place of `{asked[1]}`" in " ".join(
        texts[0].split()
    )


@pytest.mark.parametrize("file", FILES, ids=NAMES)
def test_nothing_in_them_checks_or_fails_by_itself(file):
    for source in cells_of(file):
        assert not re.search(r"\bassert\b|\braise\b|\btry:", source)
        assert "Greys" not in source
    for name in re.findall(r"`([\w-]+\.ipynb)`", "\n".join(cells_of(file, "markdown"))):
        assert (file.parent / name).is_file()


# ---- run ---------------------------------------------------------------------------------------------------


def svgs_of(ran):
    """All SVG pictures that were shown, those in HTML too."""
    told = "\n".join(ran.all_shown("svg") + ran.all_shown("html"))
    return BeautifulSoup(told, "html.parser").find_all("svg")


def check_whole(ran):
    """Every figure has a size, a margin all around what is drawn, and texts that can be read."""
    for svg in svgs_of(ran):
        box = svg.get("viewbox") or svg.get("viewBox")
        x, y, wide, high = map(float, box.split())
        assert wide > 0 < high
        for side in ("width", "height"):
            assert not re.match(r"0*(\.0*)?(px|mm)?$", svg.get(side, "1"))
        for text in svg.find_all("text"):
            assert x <= float(text.get("x", 0)) <= x + wide
            assert y <= float(text.get("y", 0)) <= y + high
    for png in ran.all_shown("png"):
        pixels = np.asarray(Image.open(io.BytesIO(png)).convert("RGB"))
        assert min(pixels.shape[:2]) >= 30
        assert (pixels != 255).any()
        for edge in (pixels[0], pixels[-1], pixels[:, 0], pixels[:, -1]):
            assert (edge == 255).all(), "something is cut"
    assert ran.overlapping == []
    words = {word for written in ran.written for word in re.split(r"[\s/-]+", written)}
    assert [word for word in words if len(word) > WIDEST_WORD] == []


@pytest.mark.parametrize("name", NAMES)
def test_with_its_own_motif_every_figure_is_whole_and_in_its_yarns(name, own):
    ran = own(name)
    check_whole(ran)
    yarns = ran.names["mine"].design.motif.yarns
    wanted = {tuple(bytes.fromhex(yarn.colour[1:])) for _, yarn in (*yarns.mc, *yarns.cc)}
    seen = set()
    for png in ran.all_shown("png"):
        pixels = np.asarray(Image.open(io.BytesIO(png)).convert("RGB")).reshape(-1, 3)
        assert np.ptp(pixels.astype(int), axis=1).max() > 12, "black on white"
        seen |= set(map(tuple, pixels.tolist()))
    assert wanted & seen or not seen


@pytest.mark.thorough
@pytest.mark.parametrize("other", OTHERS)
@pytest.mark.parametrize("name", NAMES)
def test_with_the_motif_of_another_no_cell_fails_and_every_figure_is_whole(name, other, inside):
    ran = run(inside / f"{name}.ipynb", other)
    check_whole(ran)
    mine = ran.names["mine"]
    assert mine.design.report.ok
    drawn = mk.begin(other).drawn
    if not drawn.report.ok and name != "10-from-the-centre":  # which has rules of its own
        assert "It cannot be worked as it is. Row" in ran.written[0]


# ---- what they show with their own -------------------------------------------------------------------------


def test_begin_mends_lays_and_proves(own, folder):
    names = own("01-begin").names
    mine, piece = names["mine"], names["piece"]
    assert not mk.check(mine.drawn.motif).ok
    assert "And 59 more." in own("01-begin").written[0]
    assert (piece.fabric.front == piece.picture.grid).all(), "the hook makes the picture"
    back = piece.fabric.back[:, ::-1]  # the back as if seen through the front
    assert (back[1:-1] == ~piece.fabric.front[2:]).all(), "the negative law: one row apart"
    assert len(piece.fabric.open_loops) == 0
    assert mk.load(folder / "made" / "harbour-boat.design") == piece
    words = re.sub("<[^>]*>", "", (folder / "made" / "harbour-boat.html").read_text("utf-8"))
    assert all(line.text in words for line in piece.rows.lines[:10])


def test_explore_walks_among_what_can_be_worked(own):
    names = own("02-explore").names
    assert all(mk.check(variant.motif).ok for variant in names["family"])
    assert names["together"].name == "laid mirrored with a double seam"
    # a column of 12 rows has the twelfth Fibonacci number of fillings, 144 (OEIS A000045)
    assert f"{144**12:,}" in "".join(own("02-explore").written)
    for motif in names["drawn"]:
        assert mk.check(motif).ok
        assert np.array_equal(motif.grid, motif.grid[:, ::-1])
    found = names["found"]
    assert list(found.scores) == sorted(found.scores, reverse=True)
    assert all(mk.check(motif).ok for motif in found.motifs)


def test_the_scarf_is_as_planned(own, folder):
    names = own("03-plan-a-scarf").names
    nearest, scarf = names["plan"].nearest, names["scarf"]
    assert abs(nearest.deviation) <= 0.05
    assert abs(nearest.length_deviation) <= 0.05
    assert nearest.stitches == nearest.across * 7 + 4
    assert nearest.foundation_chain == nearest.stitches + 1
    assert abs(names["usage"].total_m.sum() - nearest.usage.likely_m) < 1e-6
    assert [total.skeins for total in names["usage"].by_yarn] == [total.skeins for total in nearest.by_yarn]
    assert mk.load(folder / "made" / "seed-scarf.design") == scarf


def test_the_best_of_many_widths_are_as_measured(own):
    names = own("04-test-many-widths").names
    assert len(names["swept"]) > 5_000
    assert set(names["honest"].index) <= set(names["best"].index)
    assert names["best"]["score"].is_monotonic_increasing
    for line, found in names["chosen"].iterrows():
        motif = names["swept"].layout(line).build()
        assert motif.shape == (found["rows"], found["stitches"])
        assert mk.check(motif).ok


def test_what_is_published_says_the_chart(own, folder):
    names = own("05-publish").names
    piece, slipped = names["piece"], names["slipped"]
    assert mk.read_rows(str(names["written"])) == piece.chart
    assert not slipped.ok
    assert len(own("05-publish").all_shown("png")) == 1, "the slip is shown"
    html = (folder / "made" / "fern-walk.html").read_text("utf-8")
    words = re.sub("<[^>]*>", "", html)
    assert all(row.text in words for row in names["page"].words.rows)
    assert "http://" not in html.replace("http://www.w3.org/2000/svg", "")
    assert [file.name for file in names["files"]] == [
        f"fern-walk{ending}" for ending in (".html", ".pdf", "-large-print.pdf", "-low-ink.pdf", "-test.zip")
    ]


def test_the_lesson_has_a_mistake_to_find(own, folder):
    ran = own("06-teach")
    assert any("Row 9" in written and "as charted" not in written for written in ran.written)
    assert "12. " in "".join(ran.written)
    text = (folder / "made" / "picket-fence-lesson.html").read_text("utf-8")
    assert one_script(Path(mk.__file__).parent / "widgets" / "guide_desk.js") in text


def test_the_workbook_keeps_what_was_made(own):
    names = own("07-workbook").names
    assert names["book"].design == names["made"] == names["mine"].drawn
    assert names["book"].painter.autosave.name == "hazel-leaf-workbook.sketch"


def test_swatches_teach(own):
    names = own("08-yarn-and-swatches").names
    thread, one = names["thread"], names["one"]
    assert thread.chain < thread.sc < thread.fldc < thread.tog_back
    assert abs(mk.lengths_of_thread(mk.Gauge(8, 9)).fldc - 2 * thread.fldc) < 1e-9
    assert (one.factors > 1).all()
    two = mk.calibrate([names["first"], names["second"]])
    assert (two.spreads[3:5] < one.spreads[3:5]).all()
    scarf, learned = names["scarf"], names["learned"]
    assert learned.lengths == two.lengths(scarf.chart, scarf.gauge)
    assert learned.lengths.high - 1 < scarf.lengths.high - 1


def test_the_guide_keeps_its_place(own, folder):
    names = own("09-row-guide").names
    kept = mk.guiding.PlaceFile(folder / "made" / "teacups.place", names["rug"].chart)
    assert kept.place == names["guide"].at == mk.guiding.Place(5, 0)
    other = mk.guiding.PlaceFile(folder / "made" / "teacups.place", names["mine"].design.chart)
    assert "It belongs to another chart" in other.note


def test_the_cushion_is_what_the_hook_makes(own, folder):
    names = own("10-from-the-centre").names
    cushion, chart = names["cushion"], names["chart"]
    assert not names["report"].ok
    assert np.array_equal(np.rot90(cushion.motif.grid), cushion.motif.grid)
    assert np.array_equal(mk.centre.work(chart).front, cushion.motif.grid)
    assert mk.centre.read(mk.centre.write(chart)) == chart
    assert mk.load(folder / "made" / "tide-pool-cushion.square").square == cushion
