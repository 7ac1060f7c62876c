"""The command line: what it prints and writes is the library's, and what goes wrong is one sentence and a number."""

import json
import os
import re
import shlex
import shutil
import socket
import subprocess
import sys
import urllib.request
from datetime import date
from functools import partial
from itertools import product
from pathlib import Path

import matplotlib.pyplot as plt
import nbformat
import numpy as np
import pytest
from at_command import BOAT, called
from hypothesis import given
from hypothesis import strategies as st
from lab import PATIENCE, answers, wait_until
from PIL import Image
from samples import letter_f, two_stacked

import mosaickit as mk
from mosaickit import cli
from mosaickit.cli import lab, values
from mosaickit.files import bundle

pytestmark = pytest.mark.thorough

ROOT = Path(__file__).parent.parent
GAUGE = mk.Gauge(16, 18)
SCARF = mk.Design(letter_f, GAUGE, reversible=True, hand="left").but(
    across=3, up=3, colours="swap", rings=1, title="Letter scarf", terms="UK", hook_mm=4, skeins=mk.Skein(105, 50)
)


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    """A folder to work in, with motifs and designs of which some cannot be worked."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("MPLBACKEND", "Agg")
    plt.switch_backend("Agg")
    mk.save(letter_f, "f.json")
    mk.save(two_stacked, "stacked.txt")
    mk.save(SCARF, "scarf.design")
    mk.save(SCARF.but(across=4, edges=2), "wider.design")
    mk.save(mk.Design(two_stacked).but(rings=1), "stacked.design")
    mk.save(SCARF.but(colours="keep"), "askew.design")
    yield tmp_path
    plt.close("all")


@pytest.fixture
def call(capsys):
    """Run a command line; gives what it ends with, its output and its complaint."""
    return partial(called, capsys=capsys)


# ---- check -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("hand", "in_the_round", "repeats_up", "between_rows"),
    list(product(["right", "left"], [False, True], [False, True], ["carried", "cut"])),
)
def test_check_prints_the_findings_of_the_library(call, hand, in_the_round, repeats_up, between_rows):
    options = f"--hand {hand} --between-rows {between_rows}"
    options += " --in-the-round" * in_the_round + " --repeats-up" * repeats_up
    settings = {"hand": hand, "in_the_round": in_the_round, "repeats_up": repeats_up, "between_rows": between_rows}
    askew = mk.Motif.from_text("....\n##.#\n..#.\n####\n....")
    mk.save(askew, "askew.csv")
    for file, motif in (("f.json", letter_f), ("stacked.txt", two_stacked), ("askew.csv", askew)):
        report = mk.check(motif, **settings)
        ended, out, err = call(f"check {file} {options}")
        assert (ended, err) == (0 if report.ok else 1, "")
        assert out.splitlines()[1:] == [f"  {finding}" for finding in report.findings]


def test_check_says_row_and_stitch_and_what_to_do(call):
    ended, out, _ = call("check stacked.txt")
    assert ended == 1
    assert out.startswith("stacked.txt: 5 rows × 3 stitches, cannot be worked. Findings: ")
    assert "  error: Rows 3 and 4, stitch 2: both squares show the other colour" in out


def test_check_goes_on_after_a_file_that_cannot_be_read(call):
    ended, out, err = call("check nowhere.json stacked.txt f.json")
    assert ended == 2
    assert [line.split(":")[0] for line in out.splitlines() if not line.startswith(" ")] == ["stacked.txt", "f.json"]
    assert err == "mosaickit: 'nowhere.json': There is no such file in the folder '.'.\n"


def test_check_works_a_reversible_fabric_loop_by_loop(call):
    assert "reversible: every stitch can be made; back loops left open: 0." in call("check f.json --reversible")[1]
    assert "reversible" not in call("check stacked.txt --reversible")[1]


def test_mend_writes_the_nearest_workable_picture_and_says_what_changed(call):
    ended, out, err = call("check stacked.txt --mend mended.json --hand left")
    nearest = mk.nearest_workable(two_stacked, hand="left")
    assert (ended, err) == (0, "")
    assert out.splitlines()[-1] == f"mended.json: {nearest}"
    assert mk.load("mended.json") == nearest.motif
    assert call("check mended.json")[0] == 0


def test_mend_says_when_a_format_forgets_the_colour_of_row_one(call):
    mk.save(two_stacked.with_grid(two_stacked.grid, "CC"), "other.json")
    ended, out, _ = call("check other.json --mend mended.txt")
    assert (ended, out.splitlines()[-1].strip()) == (
        0,
        "This format does not keep that row 1 is in CC: read it with --first CC.",
    )
    assert call("check mended.txt --first CC")[0] == 0
    assert "does not keep" not in call("check stacked.txt --mend mended.txt")[1]


# ---- chart and pattern -------------------------------------------------------------------------------------


@pytest.mark.parametrize("ending", ["svg", "png", "pdf"])
def test_a_chart_is_the_librarys(call, ending):
    assert call(f"chart f.json out.{ending} --reversible --hand left --in-the-round")[::2] == (0, "")
    chart = mk.compile_chart(letter_f, True, hand="left", in_the_round=True)
    expected = mk.draw.save(mk.draw.chart(chart), f"expected.{ending}")
    assert Path(f"out.{ending}").read_bytes() == expected.read_bytes()


def test_a_chart_and_a_pattern_mark_stitches_as_they_were_told(call):
    chart = mk.compile_chart(letter_f, True)
    own = {"sc": "c", "FLdc": "X", "tog-b": "bk", "tog-f": "f"}
    for said, marks in (("--marks plain", "plain"), ("--letters sc=c,FLdc=X,tog-b=bk,tog-f=f", own)):
        assert call(f"chart f.json out.svg --reversible {said}")[::2] == (0, "")
        drawn = mk.draw.chart(chart, style=mk.draw.ChartStyle(marks=marks))
        assert Path("out.svg").read_bytes() == mk.draw.save(drawn, "expected.svg", replace=True).read_bytes()
        page = mk.pattern(chart, title="letter F", gauge=GAUGE)
        for kind, write in (("pdf", mk.publish.pdf), ("html", mk.publish.html)):
            assert call(f"pattern f.json out.{kind} --gauge 16x18 --reversible {said}")[::2] == (0, "")
            expected = write(page, f"expected.{kind}", marks=marks, replace=True)
            assert Path(f"out.{kind}").read_bytes() == expected.read_bytes()


def test_letters_that_cannot_be_told_apart_are_refused(call):
    said = call("chart f.json out.svg --letters sc=c,FLdc=C,tog-b=b,tog-f=f")[2]
    assert "'c' and 'C', cannot be told apart in a small square" in said
    assert "expected letters of stitches, as sc=c" in call("chart f.json out.svg --letters c")[2]
    assert "say two things" in call("chart f.json out.svg --marks plain --letters sc=c,FLdc=X,tog-b=b,tog-f=f")[2]
    assert "do not go with `--faces`" in call("chart f.json out.svg --faces --marks plain")[2]


def test_faces_are_the_librarys_at_the_gauge_given(call):
    assert call("chart f.json out.svg --faces --gauge 16x20")[::2] == (0, "")
    figure = mk.draw.faces(mk.work(mk.compile_chart(letter_f)), gauge=mk.Gauge(16, 20))[0].figure
    assert Path("out.svg").read_bytes() == mk.draw.save(figure, "expected.svg").read_bytes()
    call("chart f.json square.svg --faces")
    assert Path("out.svg").read_bytes() != Path("square.svg").read_bytes()


def test_a_page_is_the_librarys_with_all_that_was_said(call):
    line = (
        'pattern f.json out.html --gauge 16x18 --reversible --title "Letter pillow" --terms UK --hook-mm 4 --level easy'
        ' --skein 105m/50g --intro Warm. --note "Block it." --note Rest. --for-children --between-rows cut'
    )
    assert call(line) == (0, "out.html\n", "")
    page = mk.pattern(
        mk.compile_chart(letter_f, True),
        title="Letter pillow",
        gauge=GAUGE,
        terms="UK",
        hook_mm=4,
        level="easy",
        intro="Warm.",
        notes=("Block it.", "Rest."),
        for_children=True,
        yarn_settings=mk.YarnSettings(between_rows="cut", skeins=mk.Skein(105, 50)),
    )
    assert Path("out.html").read_bytes() == mk.publish.html(page, "expected.html").read_bytes()


def test_a_pdf_takes_form_and_paper(call):
    assert call("pattern f.json out.pdf --gauge 16x18 --form large-print --paper us-letter") == (0, "out.pdf\n", "")
    page = mk.pattern(mk.compile_chart(letter_f), title="letter F", gauge=GAUGE)
    expected = mk.publish.pdf(page, "expected.pdf", form="large print", paper="us-letter")
    assert Path("out.pdf").read_bytes() == expected.read_bytes()


def test_a_page_leads_from_stitch_to_stitch_if_asked_to(call):
    assert call("pattern f.json out.html --gauge 16x18 --guide") == (0, "out.html\n", "")
    page = mk.pattern(mk.compile_chart(letter_f), title="letter F", gauge=GAUGE)
    assert Path("out.html").read_bytes() == mk.publish.html(page, "led.html", guide=True).read_bytes()
    assert Path("out.html").read_bytes() != mk.publish.html(page, "rows.html").read_bytes()


WORDS = """
contact = "patterns@tidepool-example.org"
notions = ["2 stitch markers"]
blocked_cm = [13.5, 8]
published = 2026-03-14
title = "From the file"
level = "easy"

[[yarns]]
yarn = "cream"
weight = 3
wash = "wash at 30 °C"
metres = 105
grams = 50

[[yarns]]
yarn = "ink blue"
metres = 100
grams = 50

[[photographs]]
file = "shown.png"
text = "The scarf on a table."
"""


def test_the_words_of_a_pattern_may_stand_in_a_file(call):
    Path("words").mkdir()
    mk.draw.save(mk.draw.chart(mk.compile_chart(letter_f)), "words/shown.png")
    Path("words/scarf.toml").write_text(WORDS, "utf-8")
    line = "pattern f.json out.html --gauge 16x18 --words words/scarf.toml --title Said"
    assert call(line) == (0, "out.html\n", "")
    skeins = {"cream": mk.Skein(105, 50), "ink blue": mk.Skein(100, 50)}
    labels = [mk.YarnLabel("cream", weight=3, wash="wash at 30 °C"), mk.YarnLabel("ink blue")]
    design = mk.Design(letter_f, GAUGE, surround=mk.Surround(edges=0)).but(
        title="Said", contact="patterns@tidepool-example.org", notions=["2 stitch markers"], blocked_cm=(13.5, 8),
        published=date(2026, 3, 14), level="easy", labels=labels, skeins=skeins,
    )  # fmt: skip
    page = design.page([mk.Photograph("words/shown.png", "The scarf on a table.")])
    assert Path("out.html").read_bytes() == mk.publish.html(page, "expected.html").read_bytes()


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("contact = ", r"scarf\.toml is not written as TOML: invalid value"),
        ("contakt = 'x'", r"scarf\.toml has a field .contakt., which is not known: did you mean .contact.\?"),
        ("contact = 3", r"scarf\.toml: .contact. must be text; got 3"),
        ("yarns = 'cream'", r".yarns. must be tables, each begun with \[\[yarns\]\]; got 'cream'"),
        ("[[yarns]]\nyarn = 'moss'", r"Each of \[\[yarns\]\] must say which .yarn. it is, one of 'cream', 'ink blue'"),
        ("[[yarns]]\nyarn = 'cream'\nmetres = 3", r"The ball of 'cream' needs both .metres. and .grams."),
        ("[[yarns]]\nyarn = 'cream'\nwash = 'boil'", r"scarf\.toml: .wash. must be one of"),
        ("[[photographs]]\ntext = 'x'", r"Each of \[\[photographs\]\] must name its .file.; got none"),
        ("[[photographs]]\nfile = 'f.json'", ".text. must say what a photograph shows"),
    ],
)
def test_a_faulty_file_of_words_is_told_in_a_sentence(call, text, sentence):
    Path("scarf.toml").write_text(text, "utf-8")
    ended, _, err = call("pattern f.json out.html --gauge 16x18 --words scarf.toml")
    assert ended == 2
    assert re.search(sentence, err)
    assert not Path("out.html").exists()


def test_a_pattern_without_a_title_is_called_as_its_file(call):
    mk.save(letter_f, "pillow.txt")
    call("pattern pillow.txt out.html --gauge 16x18")
    assert "<title>pillow" in Path("out.html").read_text("utf-8")


# ---- widths ------------------------------------------------------------------------------------------------


def test_widths_prints_the_plan_and_writes_its_table(call):
    line = (
        "widths f.json --gauge 16x18 --width 22cm --length 60 --tolerance 10% --edges 2 --rings 1 --colours swap"
        " --reversible --between-rows cut --skein 105m/50g --csv fits.csv"
    )
    plan = mk.plan_widths(
        letter_f,
        GAUGE,
        22,
        length=60,
        tolerance=0.1,
        surround=mk.Surround(rings=1, edges=2, colours="swap"),
        reversible=True,
        yarn_settings=mk.YarnSettings(between_rows="cut", skeins=mk.Skein(105, 50)),
    )
    assert call(line) == (0, f"{plan}\nfits.csv\n", "")
    assert Path("fits.csv").read_bytes() == mk.tables.save_table(mk.tables.fits(plan), "expected.csv").read_bytes()


def test_a_length_may_be_said_in_another_unit_than_the_width(call):
    ended, mixed, _ = call("widths f.json --gauge 14x16/4in --width 20in --length 50.8cm --worked along --colours swap")
    gauge = mk.Gauge(14, 16, over=4, unit="in")
    plan = mk.plan_widths(
        letter_f, gauge, 20, length=20, unit="in", worked="along", surround=mk.Surround(colours="swap")
    )
    assert (ended, mixed) == (0, f"{plan}\n")


def test_a_width_that_nothing_fits_is_not_so(call):
    ended, out, err = call("widths f.json --gauge 16x18 --width 1cm")
    assert (ended, out) == (1, "")
    assert "is too small: the least that can be worked is 1 repeat" in err


@given(st.floats(1, 60), st.floats(1, 60), st.floats(1, 20), st.sampled_from(["cm", "in"]))
def test_a_gauge_is_read_as_it_is_written(stitches, rows, over, unit):
    stitches, rows, over = (round(number, 3) for number in (stitches, rows, over))
    assert values.gauge(f"{stitches:f}x{rows:f}/{over:f}{unit}") == mk.Gauge(stitches, rows, over=over, unit=unit)


# ---- designs -----------------------------------------------------------------------------------------------


def test_a_design_is_checked_as_the_whole_piece(call):
    report = mk.check(SCARF.picture, hand="left")
    ended, out, err = call("check scarf.design")
    assert (ended, err) == (0, "")
    assert out.splitlines() == [
        f"scarf.design: 23 rows × 25 stitches, can be worked. Findings: {len(report.findings)}.",
        *(f"  {finding}" for finding in report.findings),
        "  reversible: every stitch can be made; back loops left open: 0.",
    ]
    plain = mk.check(SCARF.picture, between_rows="cut")
    assert call("check scarf.design --no-reversible --hand right --between-rows cut")[1].splitlines()[1:] == [
        f"  {finding}" for finding in plain.findings
    ]


def test_a_design_is_mended_as_a_design(call):
    ended, out, err = call("check stacked.design --mend mended.design")
    design = mk.load("stacked.design")
    assert (ended, err) == (0, "")
    assert mk.load("mended.design") == design.mended()
    assert out.endswith(f"mended.design: {mk.compare(design, design.mended())}\n")
    assert call("check mended.design")[0] == 0


def test_chart_faces_and_page_of_a_design_are_the_designs(call):
    assert call("chart scarf.design chart.svg") == (0, f"chart.svg: {SCARF.chart.summary}\n", "")
    assert call("chart scarf.design faces.svg --faces")[0] == 0
    assert call("pattern scarf.design page.html") == (0, "page.html\n", "")
    mk.draw.save(mk.draw.chart(SCARF.chart), "chart too.svg")
    mk.draw.save(mk.draw.faces(SCARF.fabric, gauge=GAUGE)[0], "faces too.svg")
    mk.publish.html(SCARF.page(), "page too.html")
    for file in ("chart.svg", "faces.svg", "page.html"):
        assert Path(file).read_bytes() == Path(file.replace(".", " too.")).read_bytes()


def test_a_design_with_sizes_gives_the_pattern_of_all_of_them(call):
    sized = SCARF.but(sizes=[mk.NamedSize("S", up=1), mk.NamedSize("M", up=5)])
    mk.save(sized, "sized.design")
    assert call("pattern sized.design page.html") == (0, "page.html\n", "")
    assert Path("page.html").read_bytes() == mk.publish.html(sized.page(), "page too.html").read_bytes()
    assert call("pattern sized.design m.html --size M --guide") == (0, "m.html\n", "")
    led = sized.page().led_by("M")
    assert Path("m.html").read_bytes() == mk.publish.html(led, "m too.html", guide=True).read_bytes()
    assert call("pattern sized.design page.pdf --form poster --size M")[::2] == (0, "")


def test_an_option_beside_a_design_changes_it(call):
    line = "pattern scarf.design page.html --gauge 20x22 --title Shawl --no-reversible --hand right --terms US"
    assert call(f"{line} --note Rest. --between-rows cut")[::2] == (0, "")
    said = {"title": "Shawl", "reversible": False, "hand": "right", "terms": "US", "notes": ["Rest."]}
    changed = SCARF.but(gauge=mk.Gauge(20, 22), between_rows="cut", **said)
    assert Path("page.html").read_bytes() == mk.publish.html(changed.page(), "page too.html").read_bytes()


def test_widths_of_a_design_need_no_more_than_the_width(call):
    plan = mk.plan_widths(SCARF, width=22, tolerance=0.1)
    assert call("widths scarf.design --width 22cm --tolerance 10%") == (0, f"{plan}\n", "")
    wider = mk.plan_widths(SCARF.but(edges=3, rings=2), mk.Gauge(20, 22), 22, length=60, tolerance=0.1)
    line = "widths scarf.design --width 22cm --length 60cm --tolerance 10% --gauge 20x22 --edges 3 --rings 2"
    assert call(line) == (0, f"{wider}\n", "")


def test_compare_says_what_differs_and_ends_as_diff_does(call):
    ended, out, err = call("compare scarf.design wider.design --picture both.png --whole --table both.csv")
    assert (ended, err) == (1, "")
    assert out == f"{COMPARED}both.png\nboth.csv\n"
    comparison = mk.compare(SCARF, SCARF.but(across=4, edges=2))
    drawn = mk.draw.save(mk.draw.compared(comparison, whole=True)[0], "expected.png")
    assert Path("both.png").read_bytes() == drawn.read_bytes()
    table = mk.tables.save_table(mk.tables.compared(comparison), "expected.csv")
    assert Path("both.csv").read_bytes() == table.read_bytes()
    assert call("compare scarf.design scarf.design") == (0, "Nothing differs.\n", "")
    assert call("compare f.json f.json") == (0, "Nothing differs.\n", "")


COMPARED = """\
Repeats across: 3, now 4
Edge stitches at each side: as usual, now 2
Stitches: 25, now 34
Width: 15.6 cm, now 21.2 cm
Sc in all: 25, now 34
BLsc in all: 436, now 610
FLdc in all: 56, now 68
Tog-b in all: 56, now 68
Ink blue, likely: 25 m, now 34 m
Cream, likely: 23 m, now 31 m
Rows 3 to 23 read otherwise in words.
"""


# ---- edit --------------------------------------------------------------------------------------------------


def test_edit_prints_the_report_of_the_library_and_ends_by_its_errors(call):
    assert call("edit scarf.design") == (0, f"{mk.tech_edit(SCARF)}\n", "")
    rows = str(SCARF.rows)
    assert "FLtr in next st" in rows
    Path("rows.txt").write_text(rows.replace("FLtr in next st", "BLdc in next st"), "utf-8")
    ended, out, err = call("edit scarf.design --rows rows.txt --errors")
    assert (ended, err) == (1, "")
    errors = [kind for kind in mk.publish.EDIT_KINDS if kind.severity == "error"]
    assert out == f"{mk.tech_edit(SCARF.page(), Path('rows.txt').read_text('utf-8'), kinds=errors)}\n"
    assert "expected FLdc, found BLsc" in out
    Path("own.md").write_text("A cloth\n\nRow 1 (MC): dc in next 4 sts\n", "utf-8")
    assert "line 3 (row 1): This row does not say" in call("edit own.md --terms UK")[1]
    assert "This row does not say" not in call('edit own.md --terms UK --without "row without a count"')[1]
    # the words of a file are those of the pattern
    Path("words.toml").write_text("licence_line = 'Sell what you make.'", "utf-8")
    assert "what a maker may do" in call("edit scarf.design")[1]
    assert "what a maker may do" not in call("edit scarf.design --words words.toml")[1]
    assert call("edit --kinds")[1].count("\n") == len(mk.publish.EDIT_KINDS)


# ---- share -------------------------------------------------------------------------------------------------


def test_share_writes_what_the_library_writes(call):
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_markdown_cell("# Eins"), executed_cell()])
    nbformat.write(notebook, "lesson.ipynb")
    assert call("share lesson.ipynb out.html --slides --no-code --lang de") == (0, "out.html\n", "")
    expected = mk.share("lesson.ipynb", "expected.html", slides=True, code=False, lang="de")
    assert Path("out.html").read_bytes() == expected.path.read_bytes()
    assert "6 * 7" not in Path("out.html").read_text("utf-8")


def executed_cell():
    output = nbformat.v4.new_output("execute_result", {"text/plain": "42"}, execution_count=1)
    return nbformat.v4.new_code_cell("6 * 7", execution_count=1, outputs=[output])


# ---- what goes wrong ---------------------------------------------------------------------------------------

BAD = {
    "": (2, r"mosaickit: The following arguments are required: COMMAND; `mosaickit --help` shows how\."),
    "knit f.json": (2, "Argument COMMAND: invalid choice: 'knit'"),
    "check": (2, r"mosaickit check: The following arguments are required: FILE"),
    "check f.json --hand both": (2, "invalid choice: 'both'"),
    "check f.json --square 4": (2, "`--square` is the side of a square in pixels, for PNG only"),
    "check f.json --first CC": (2, "'f.json'"),
    "check f.json stacked.txt --mend out.json": (2, r"give one FILE with it; got 2\."),
    "check f.json --reversible --repeats-up": (2, "does not go with `--repeats-up`"),
    "check stacked.txt --mend out.gif": (2, r"ends in one of \.json, \.png, \.csv, \.txt"),
    "check stacked.txt --mend no/where.json": (2, "there is no such folder"),
    "check .": (2, r"ends in one of"),
    "check broken.json": (2, "'broken.json': "),
    "check empty.txt": (2, r"'empty\.txt': The file is empty\."),
    "chart stacked.txt out.svg": (
        1,
        r"stacked\.txt cannot be worked; `mosaickit check stacked\.txt --mend OUT` writes the nearest picture that "
        r"can\. What is wrong: Rows 3 and 4, stitch 2: both squares show",
    ),
    "chart f.json out.gif": (2, r"OUT must end in \.svg, \.png or \.pdf; got 'out\.gif'"),
    "chart f.json out.svg --gauge 16x18": (2, "goes with `--faces`"),
    "chart nowhere.png out.svg": (2, "'nowhere.png': There is no such file"),
    "pattern f.json out.pdf": (2, r"f\.json says no gauge: give `--gauge`, stitches x rows, as 16x18 or 16x18/4in\."),
    "pattern scarf.design out.pdf --size M": (
        2,
        r"`--size` names a size of the design, and scarf\.design has no sizes; got 'M'",
    ),
    "pattern stacked.design out.pdf": (2, r"stacked\.design says no gauge: give `--gauge`"),
    "widths stacked.design --width 22": (2, r"stacked\.design says no gauge: give `--gauge`"),
    "check scarf.design --first CC": (2, r"A file that ends in \.design says everything itself"),
    "check scarf.design --repeats-up": (2, r"scarf\.design says itself how it repeats, so it does not go with `--rep"),
    "check stacked.design --mend out.json": (2, r"A design is saved under a name that ends in \.design"),
    "check f.json --mend out.design": (2, r"\.design is for designs: `mosaickit new` makes one of a motif; save a"),
    "check askew.design --mend out.design": (1, r"`mosaickit repeat askew\.design OUT\.design --colours swap` writes"),
    "chart stacked.design out.svg": (
        1,
        r"stacked\.design cannot be worked; `mosaickit check stacked\.design --mend OUT\.design` writes the nearest "
        r"picture that can\. What is wrong: Rows 4 and 5, stitch 4: both squares show",
    ),
    "chart askew.design out.svg": (1, r"worked\. `mosaickit repeat askew\.design OUT\.design --colours swap` writes"),
    "chart scarf.design out.svg --gauge 16x18": (2, "goes with `--faces`"),
    "widths askew.design --width 22": (1, r"With 3 repeats up this cannot be worked\. Try `--colours swap`\. What"),
    "widths scarf.design --width 1": (1, "is too small: the least that can be worked is 1 repeat"),
    "edit": (2, "needs a FILE, or --kinds"),
    "edit f.json": (2, r"from a \.design, a \.square, or from a text that ends in \.txt or \.md; got 'f\.json'"),
    "edit nowhere.txt": (2, "no such file"),
    "edit empty.txt": (2, "empty"),
    "edit stacked.design": (2, r"stacked\.design says no gauge"),
    "edit askew.design": (1, r"cannot be worked"),
    "edit scarf.design --terms US": (2, "`--terms` goes with a text"),
    "edit empty.txt --rows empty.txt": (2, r"go with a \.design"),
    "edit scarf.design --without hooks": (2, "must name a kind that `mosaickit edit --kinds` lists; got 'hooks'"),
    "compare scarf.design": (2, "required: AFTER"),
    "compare scarf.design nowhere.design": (2, r"'nowhere\.design': There is no such file"),
    "compare broken.json scarf.design": (2, r"'broken\.json': "),
    "compare scarf.design wider.design --whole": (2, "`--whole` is about the picture, so it goes with `--picture`"),
    "compare scarf.design wider.design --picture out.gif": (2, r"`--picture` must end in \.svg, \.png or \.pdf"),
    "compare scarf.design wider.design --table out.doc": (2, r"`--table` must end in \.csv or \.xlsx"),
    "pattern f.json out.docx --gauge 16x18": (2, r"written as \.pdf or \.html; got 'out\.docx'"),
    "pattern f.json out.html --gauge 16x18 --form low-ink": (2, r"--form is about paper, and goes with \.pdf only"),
    "pattern f.json out.pdf --gauge 16x18 --guide": (2, r"--guide is about a web page, and goes with \.html only"),
    "pattern f.json out.html --gauge 16by18": (2, "expected stitches x rows over 10 cm, as 16x18, or as 16x18/4in"),
    "pattern f.json out.html --gauge 0x18": (2, 'Argument --gauge: "stitches" must be a number above 0; got 0.0'),
    "pattern f.json out.html --gauge 16x18 --hook-mm -1": (2, "`--hook-mm` must be a number of mm above 0; got -1.0"),
    "pattern f.json out.html --gauge 16x18 --skein 50": (2, "expected metres and grams of a skein, as 105m/50g"),
    "pattern f.json out.pdf --gauge 16x18 --title 中": (2, "中"),
    "pattern stacked.txt out.pdf --gauge 16x18": (1, "cannot be worked; `mosaickit check"),
    "widths f.json --gauge 16x18 --width wide": (2, "expected a length, as 22cm or 8.5in; got 'wide'"),
    "widths f.json --gauge 16x18 --width 0cm": (2, "`--width` must be a number of cm above 0"),
    "widths f.json --gauge 16x18 --width 22 --tolerance 3": (2, "`--tolerance` must be a number from 0 to 1; got 3.0"),
    "widths f.json --gauge 16x18 --width 22 --tolerance few": (2, "expected a share, as 0.05 or 5%"),
    "widths f.json --gauge 16x18 --width 22 --tolerance 9% --csv fits.doc": (2, r"`--csv` must end in \.csv or \.xlsx"),
    "widths stacked.txt --gauge 16x18 --width 22": (1, "No number of repeats of this can be worked"),
    "share nowhere.ipynb out.html": (2, r"'nowhere\.ipynb' could not be read: no such file or directory\."),
    "share f.json out.html": (2, r"'f\.json' is no notebook: it does not say its \"nbformat\"\."),
    "lab f.json --no-open": (2, "could not be laid out in 'f.json/"),
}


@pytest.mark.parametrize("line", BAD)
def test_what_goes_wrong_is_one_sentence_and_a_number(call, line):
    Path("broken.json").write_text('{"format": "mosaickit"', "utf-8")
    Path("empty.txt").touch()
    before = sorted(Path().iterdir())
    ended, _, err = call(line)
    code, sentence = BAD[line]
    assert ended == code
    assert re.search(sentence, err)
    assert err.startswith("mosaickit")
    assert err.endswith(".\n")
    assert err.count("\n") == 1
    assert sorted(Path().iterdir()) == before, "nothing is written when something is wrong"


# ---- help --------------------------------------------------------------------------------------------------


@pytest.mark.thorough
@pytest.mark.parametrize("command", cli.COMMANDS, ids=lambda command: command.name)
def test_the_examples_in_the_help_run(call, monkeypatch, command):
    monkeypatch.setattr(lab, "run_module", lambda name, run_name: None)
    monkeypatch.setattr(sys, "argv", [])
    mk.save(two_stacked, "boat.png")
    Image.effect_noise((60, 50), 90).save("harbour.png")
    mk.save(SCARF.but(bands=[mk.Plain(2), mk.Field()]), "banded.design")
    sizes = {"sizes": [mk.NamedSize("S", up=1), mk.NamedSize("M", up=3)]}
    bordered = {"rings": 0, "balance_across": 1, "across": 2, "up": 5}  # around which the strip turns its corners
    mk.save(SCARF.but(**bordered if command.name == "edges" else sizes), "mat.design")
    shutil.copy(ROOT / "gallery" / "articles" / "whirlpool-cushion.square", "cushion.square")
    for motif, file in (("hazel-leaf", "leaf.json"), ("seed", "seed.json")):
        mk.save(mk.load(ROOT / "gallery" / "motifs" / f"{motif}.json"), file)
    assert command.examples in call(f"{command.name} --help")[1]
    Path("scarf.toml").write_text("contact = 'patterns@tidepool-example.org'", "utf-8")
    for file in ("rows.txt", "cloth.txt"):
        Path(file).write_text(str(SCARF.rows), "utf-8")
    Path("rounds.txt").write_text(mk.load("cushion.square").rounds, "utf-8")
    mk.save(mk.Motif.from_text("....\n#.##\n....", name="pearls"), "strip.json")
    shutil.copy(ROOT / "notebooks" / "01-begin.ipynb", "lesson.ipynb")
    monkeypatch.setattr(mk, "share", lambda notebook, out, **options: mk.sharing.Shared(out, False, ()))
    for line in command.examples.splitlines():
        example = re.split(r"\s{3,}", line.strip())[0].removeprefix("mosaickit ").replace("*.json", "leaf.json f.json")
        ended, _, err = call(example)
        not_so = example == "check boat.png" or command.name == "compare"  # where something is found, or differs
        assert (ended, err) == (1 if not_so else 0, ""), example


def test_the_first_help_and_the_readme_show_a_way_that_can_be_gone(call, folder, monkeypatch):
    (folder / "first").mkdir()
    monkeypatch.chdir(folder / "first")
    mk.save(BOAT, "boat.png")
    first = [line for line in call("--help")[1].splitlines() if line.startswith("  mosaickit ")]
    assert len(first) == 4
    (block,) = re.findall(r"```sh\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.DOTALL)
    for line in [*first, *block.splitlines()]:
        ended, _, err = call(re.split(r"\s{3,}", line.strip())[0].removeprefix("mosaickit "))
        assert (ended, err) == (0, ""), line
    assert Path("scarf.pdf").exists()


def test_help_names_every_command_and_what_it_ends_with(call):
    ended, out, _ = call("--help")
    assert ended == 0
    assert all(re.search(rf"^ +{command.name} ", out, re.MULTILINE) for command in cli.COMMANDS)
    assert "1  what was asked is not so" in out
    assert call("--version") == (0, f"mosaickit {mk.__version__}\n", "")


def test_help_loads_nothing_heavy():
    heavy = "matplotlib", "pandas", "typst", "lark", "jinja2", "PIL", "anywidget", "jupyterlab", "nbconvert"
    code = f"import sys, mosaickit.cli as c; c.parser(); print([n for n in {heavy} if n in sys.modules])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout.strip() == "[]"


# ---- as a process ------------------------------------------------------------------------------------------


def process(*arguments, **options):
    return subprocess.run(
        [sys.executable, "-m", "mosaickit", *arguments], capture_output=True, timeout=PATIENCE, **options
    )


def test_a_process_ends_as_the_command_does():
    done = process("check", "stacked.txt", text=True, encoding="utf-8", env=os.environ | {"PYTHONUTF8": "1"})
    assert (done.returncode, done.stderr) == (1, "")
    assert "cannot be worked" in done.stdout
    done = process("check", "nowhere.txt", text=True)
    assert done.returncode == 2
    assert done.stderr == "mosaickit: 'nowhere.txt': There is no such file in the folder '.'.\n"


def test_a_console_that_lacks_a_character_shows_another():
    done = process("check", "f.json", env=os.environ | {"PYTHONUTF8": "0", "PYTHONIOENCODING": "ascii"})
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"7 rows ? 7 stitches" in done.stdout


@pytest.mark.skipif(os.name == "nt", reason="Windows has no pipes that close like this.")
def test_a_reader_who_has_had_enough_is_left_in_peace():
    mk.save(mk.Motif.from_array(np.indices((200, 200)).sum(axis=0) % 2), "busy.txt")
    line = f"{shlex.quote(sys.executable)} -m mosaickit check busy.txt | head -n 1"
    done = subprocess.run(line, shell=True, capture_output=True, text=True, timeout=PATIENCE)
    assert done.stdout.startswith("busy.txt: 200 rows")
    assert done.stderr == ""


@pytest.mark.thorough
def test_pictures_need_no_screen():
    done = process("chart", "f.json", "f.png", env=os.environ | {"MPLBACKEND": "module://no_screen"})
    assert (done.returncode, done.stderr) == (0, b"")


# ---- the notebooks -----------------------------------------------------------------------------------------


def test_notebooks_and_motifs_are_laid_out_as_they_are(call, folder):
    ended, out, err = call("lab lessons --no-open")
    laid = {path.relative_to("lessons").as_posix() for path in Path("lessons").rglob("*") if path.is_file()}
    assert laid == {*bundle.bundled(), bundle.NOTE}
    assert (ended, out, err) == (0, f"lessons: {len(bundle.bundled())} new.\n", "")
    for name in ("notebooks/01-begin.ipynb", "gallery/motifs/seed.json"):
        assert (folder / "lessons" / name).read_bytes() == (ROOT / name).read_bytes()
    assert call("lab lessons --no-open") == (0, "lessons: all files were there.\n", "")


def test_whatever_a_notebook_loads_by_a_relative_path_is_laid_out():
    found = bundle.lay_out("lessons").folder / "notebooks"
    named = 0
    for file in found.glob("*.ipynb"):
        cells = nbformat.read(file, 4).cells
        text = "\n".join(cell.source for cell in cells)
        for cell in cells:
            for path in re.findall(r"""mk\.(?:begin|load)\(["']([^"']+)["']""", cell.source):
                if path.startswith("made/"):  # where notebooks put what they make
                    assert re.search(rf'mk\.save\(\w+, "{path}"', text), (file.name, path)
                    continue
                assert (file.parent / path).is_file(), (file.name, path)
                named += 1
    assert named >= 10


def test_a_changed_file_is_left_alone_and_an_older_one_is_brought_up_to_date(monkeypatch):
    older = {"notebooks/a.ipynb": b"a", "notebooks/b.ipynb": b"b", "gallery/motifs/c.json": b"c", "notebooks/d": b"d"}
    newer = older | {"notebooks/a.ipynb": b"A", "notebooks/b.ipynb": b"B", "notebooks/e.ipynb": b"E"}
    monkeypatch.setattr(bundle, "bundled", lambda: older)
    assert bundle.lay_out("lessons").new == tuple(older)
    Path("lessons/notebooks/b.ipynb").write_bytes(b"mine")
    Path("lessons/notebooks/e.ipynb").write_bytes(b"mine too")
    monkeypatch.setattr(bundle, "bundled", lambda: newer)
    laid = bundle.lay_out("lessons")
    assert (laid.new, laid.updated, laid.kept) == (
        (),
        ("notebooks/a.ipynb",),
        ("notebooks/b.ipynb", "notebooks/e.ipynb"),
    )
    assert "notebooks/b.ipynb was changed by you, and is left as it is" in str(laid)
    files = {path.name: path.read_bytes() for path in Path("lessons").glob("*/**/*") if path.is_file()}
    assert files == {"a.ipynb": b"A", "b.ipynb": b"mine", "c.json": b"c", "d": b"d", "e.ipynb": b"mine too"}
    # what was put back as it had been laid is no longer anybody's change
    Path("lessons/notebooks/b.ipynb").write_bytes(b"b")
    assert bundle.lay_out("lessons").updated == ("notebooks/b.ipynb",)


@pytest.mark.parametrize("note", ["", "[1]", '{"notebooks/a.ipynb": 7}'])
def test_a_damaged_note_vouches_for_no_file(monkeypatch, note):
    monkeypatch.setattr(bundle, "bundled", lambda: {"notebooks/a.ipynb": b"a"})
    bundle.lay_out("lessons")
    Path("lessons", bundle.NOTE).write_text(note, "utf-8")
    monkeypatch.setattr(bundle, "bundled", lambda: {"notebooks/a.ipynb": b"A"})
    assert bundle.lay_out("lessons").kept == ("notebooks/a.ipynb",)


def test_an_installation_without_notebooks_says_so(monkeypatch, tmp_path, call):
    monkeypatch.setattr(bundle, "_PACKAGE", tmp_path / "mosaickit")
    ended, _, err = call("lab lessons")
    assert (ended, err) == (
        2,
        "mosaickit: This installation of mosaickit carries no notebooks; install it from its wheel.\n",
    )


def test_without_jupyterlab_the_lab_says_how_to_get_it(monkeypatch, call):
    monkeypatch.setattr(lab, "find_spec", lambda name: None)
    assert call("lab lessons")[::2] == (
        2,
        'mosaickit: JupyterLab is not installed here; `python -m pip install "mosaickit-crochet[lab]"` adds it.\n',
    )


@pytest.mark.usefixtures("slow")
def test_the_lab_opens_in_the_folder_on_the_first_notebook(folder, monkeypatch):
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    for name in ("CONFIG_DIR", "DATA_DIR", "RUNTIME_DIR"):
        monkeypatch.setenv(f"JUPYTER_{name}", str(folder / name))
    for name in ("JUPYTERLAB_SETTINGS_DIR", "JUPYTERLAB_WORKSPACES_DIR", "IPYTHONDIR"):
        monkeypatch.setenv(name, str(folder / name))
    (folder / "CONFIG_DIR").mkdir()
    server = {"ip": "127.0.0.1", "port": port, "port_retries": 0, "open_browser": False, "allow_root": True}
    server["disable_check_xsrf"] = True  # so that the test may stop it
    settings = {"ServerApp": server, "IdentityProvider": {"token": ""}, "LabApp": {"extension_manager": "readonly"}}
    (folder / "CONFIG_DIR" / "jupyter_server_config.json").write_text(json.dumps(settings), "utf-8")
    with (folder / "log").open("w") as log:
        lab = subprocess.Popen([sys.executable, "-m", "mosaickit", "lab", "lessons"], stdout=log, stderr=log)
    address = f"http://127.0.0.1:{port}"
    try:
        wait_until(lambda: answers(address, lab, folder / "log"), "the lab does not answer")
        with urllib.request.urlopen(f"{address}/api/contents/notebooks", timeout=PATIENCE) as answer:
            listed = json.load(answer)["content"]
        assert "01-begin.ipynb" in {file["name"] for file in listed}
        with urllib.request.urlopen(address, timeout=PATIENCE) as answer:
            assert answer.url.endswith("/lab/tree/notebooks/01-begin.ipynb")
        urllib.request.urlopen(
            urllib.request.Request(f"{address}/api/shutdown", method="POST"), timeout=PATIENCE
        ).close()
        assert lab.wait(PATIENCE) == 0
    finally:
        lab.kill()
        lab.wait()
