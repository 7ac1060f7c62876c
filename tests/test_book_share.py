"""Share: every file holds what the library says of the design, nothing of another's is lost, what cannot be says so.

Files are read back by other programs: PDFs by pypdf and pypdfium2, tables by pandas, pictures by Pillow and an XML
reader, and the code of a design by Python.
"""

import base64
import io
import os
import re
import signal
import subprocess
import sys
import xml.etree.ElementTree as ET
import zipfile
from pathlib import Path
from time import monotonic

import matplotlib.pyplot as plt
import numpy as np
import pandas as pd
import pypdf
import pypdfium2
import pytest
from hypothesis import given
from papers import sheet_texts
from PIL import Image
from samples import letter_f, two_stacked
from test_design_files import designs, full

import mosaickit as mk
from mosaickit.errors import OptionError
from mosaickit.widgets.book.share import PANEL
from mosaickit.widgets.book.share_files import FILES
from mosaickit.widgets.book.share_options import ShareOptions
from mosaickit.widgets.book.share_python import python_of
from mosaickit.widgets.book.share_work import ShareTask

pytestmark = pytest.mark.thorough

GAUGE = mk.Gauge(16, 18)
YARNS = mk.Yarns(mk.Yarn("oat", "#e8dcc0"), [(1, mk.Yarn("moss", "#3c5a3a")), (4, mk.Yarn("plum", "#6b2f5c"))])
SCARF = mk.Design(mk.Motif(letter_f.grid, "MC", YARNS, "letter F"), GAUGE, reversible=True).but(
    across=2, up=3, colours="swap", title="Letter scarf", for_children=True, skeins=mk.Skein(105, 50)
)
NAMES = {
    "pattern.pdf": "Letter-scarf.pdf", "pattern.html": "Letter-scarf.html", "guide.html": "Letter-scarf-guide.html",
    "chart.svg": "Letter-scarf-chart.svg", "chart.png": "Letter-scarf-chart.png",
    "stitches.csv": "Letter-scarf-stitches.csv", "stitches.xlsx": "Letter-scarf-stitches.xlsx",
    "yarn-by-row.csv": "Letter-scarf-yarn-by-row.csv", "yarn-by-row.xlsx": "Letter-scarf-yarn-by-row.xlsx",
    "yarn.csv": "Letter-scarf-yarn.csv", "yarn.xlsx": "Letter-scarf-yarn.xlsx",
    "design": "Letter-scarf.design", "motif.json": "Letter-scarf-motif.json", "motif.png": "Letter-scarf-motif.png",
}  # fmt: skip


class Pressing:
    """A workbook whose panel is pressed as its page presses it."""

    def __init__(self, start, folder, panel):
        self.book = mk.widgets.Workbook(start, autosave=folder / "x.sketch", folder=folder)
        self.folder, self.panel, self.answers = folder, panel, []
        self.book.send = self.answers.append
        self._send(kind="open", panel=panel)

    def _send(self, **content):
        self.book._receive(None, {"view": "v", "seq": len(self.answers) + 1, **content}, [])
        return self.answers[-1]

    def __call__(self, name, **values):
        return self._send(kind="do", panel=self.panel, name=name, values=values)

    def save(self, what, **values):
        return self("save", what=what, **values)

    @property
    def view(self):
        return self.book.panel


@pytest.fixture
def press(tmp_path):
    return lambda start=SCARF: Pressing(start, tmp_path, "share")


# ---- every file --------------------------------------------------------------------------------------------


def test_every_button_saves_a_file_that_others_read_as_the_library_says_it(press, tmp_path):
    pressed = press()
    shown = [what for group in pressed.view["groups"] for thing in group["things"] for what, _ in thing["files"]]
    assert shown == list(FILES) == list(NAMES)
    for what, name in NAMES.items():
        assert pressed.save(what)["saved"]["name"] == name
    files = {what: tmp_path / name for what, name in NAMES.items()}
    chart = SCARF.chart
    usage = mk.yarn_usage(chart, GAUGE, yarn_settings=SCARF.yarn_settings)
    text = " ".join("\n".join(sheet_texts(files["pattern.pdf"])).split())
    for told in ("Letter scarf", *(heading for heading, _ in SCARF.page().cautions)):
        assert told in text
    assert files["pattern.html"].read_text("utf-8") == mk.publish.html(SCARF.page(), tmp_path / "x.html").read_text()
    assert "Letter scarf" in files["guide.html"].read_text("utf-8")
    for ending, read in ((".csv", pd.read_csv), (".xlsx", pd.read_excel)):
        stitches, rows, yarn = (read(files[f"{name}{ending}"]) for name in ("stitches", "yarn-by-row", "yarn"))
        assert list(stitches["FLdc"]) == list(mk.tables.count(chart)["FLdc"])
        assert np.allclose(rows["yarn m"], usage.total_m)
        assert yarn["skeins"].iloc[-1] == sum(total.skeins for total in usage.by_yarn)
    assert mk.load(files["design"]) == SCARF
    assert mk.load(files["motif.json"]) == SCARF.motif
    assert mk.load(files["motif.png"]) == SCARF.motif
    assert not plt.get_fignums()  # else a notebook shows the chart beneath the next cell


def test_the_chart_shows_the_whole_piece_with_title_key_and_row_colours(press, tmp_path):
    pressed = press(SCARF.but(title='A "long" / title of $x_2$ ' + "very many words " * 10))
    rows, stitches = SCARF.shape
    assert pressed.view["whole"] == f"{rows} rows × {stitches} stitches"
    svg = tmp_path / pressed.save("chart.svg")["saved"]["name"]
    told = svg.read_text("utf-8")
    for text in ("title of $x_2$", f"{rows} rows × {stitches} stitches", "oat", "moss", "plum", "FLdc: double"):
        assert text in told  # matplotlib notes each text beside its outlines
    assert ET.parse(svg).getroot().tag.endswith("svg")
    picture = Image.open(tmp_path / pressed.save("chart.png")["saved"]["name"]).convert("RGB")
    assert picture.height > 24 * rows
    assert picture.width < picture.height * 3  # a long title goes on in the next line
    colours = {tuple(bytes.fromhex(yarn.colour[1:])) for yarn in SCARF.chart.yarns.of("MC")[0][1:]}
    assert colours <= {colour for _, colour in picture.getcolors(1 << 24)}


def test_the_chart_of_the_motif_once_says_so_and_has_a_file_of_its_own(press, tmp_path):
    pressed = press()
    assert pressed.view["once"] == "7 rows × 9 stitches"
    saved = pressed.save("chart.svg", options={"whole": False})["saved"]["name"]
    assert saved == "Letter-scarf-motif-chart.svg"
    assert "The motif once: 7 rows × 9 stitches" in (tmp_path / saved).read_text("utf-8")
    pressed.book.change(SCARF.but(across=1, up=1), "once")
    assert pressed.view["once"] == ""


def test_forms_of_the_pdf_do_not_replace_each_other(press, tmp_path):
    pressed = press()
    options = {"form": "large print", "paper": "us-letter"}
    assert pressed.save("pattern.pdf")["saved"]["name"] == "Letter-scarf.pdf"
    saved = pressed.save("pattern.pdf", options=options)["saved"]["name"]
    assert saved == "Letter-scarf-large-print-us-letter.pdf"
    assert round(float(pypdf.PdfReader(tmp_path / saved).pages[0].mediabox.height)) == 792  # 11 in, in points
    assert "must be one of" in pressed.save("pattern.pdf", options={"form": "tiny"})["error"]


def test_a_pattern_charts_a_repeat_once_or_the_whole_piece(press, tmp_path):
    pressed = press()
    for options, once in (({}, True), ({"in_full": True}, False)):
        saved = pressed.save("pattern.html", options=options, answer=None)
        if "taken" in saved:
            saved = pressed.save("pattern.html", options=options, answer="replace")
        html = (tmp_path / saved["saved"]["name"]).read_text("utf-8")
        assert ("repeat these 7 stitches once more" in html) == once
    assert "must be yes or no" in pressed.save("pattern.pdf", options={"in_full": "no"})["error"]


def test_stitches_are_marked_as_was_chosen_in_every_chart(press, tmp_path):
    pressed = press()
    assert pressed.view["marks"][0] == ["symbols", "Symbols"]
    own = pressed.view["letters"] | {"FLdc": "Q", "tog-b": "W"}
    options = {"marks": "letters", "letters": own, "in_full": True}
    assert "fits" in pressed("marks", options=options)
    html = (tmp_path / pressed.save("pattern.html", options=options)["saved"]["name"]).read_text("utf-8")
    for letter, kind in (("Q", mk.Stitch.FLDC), ("W", mk.Stitch.TOG_BACK)):
        # each has a square in the key too, in both terms
        found = "".join(re.findall(r"<text x=[^>]*>([^<\d]*)</text>", html))
        assert found.count(letter) == (SCARF.chart.stitches == kind).sum() + 2
    sheets = sheet_texts(tmp_path / pressed.save("pattern.pdf", options=options)["saved"]["name"])
    assert sum(sheet.count("Q") for sheet in sheets) > 0
    plain = (tmp_path / pressed.save("chart.svg", options={"marks": "plain"})["saved"]["name"]).read_text("utf-8")
    assert "FLdc: double" not in plain
    clash = {"marks": "letters", "letters": own | {"tog-f": "q"}}
    for answer in (pressed("marks", options=clash), pressed.save("chart.png", options=clash)):
        assert answer["error"].startswith("The letters of FLdc and tog-f, 'Q' and 'q', cannot be told apart")


@pytest.mark.parametrize(
    ("title", "stem"),
    [
        ("", "letter-F"),
        ('Two / "scarves"', "Two-scarves"),
        ("..", "motif"),
        ("x" * 200, "x" * 120),
        ("é" * 200, "é" * 60),
    ],
)
def test_a_title_of_any_kind_gives_a_name_that_a_disk_takes(press, tmp_path, title, stem):
    pressed = press(SCARF.but(title=title))
    assert pressed.view["stem"] == stem
    assert pressed.save("yarn-by-row.csv")["saved"]["name"] == f"{stem}-yarn-by-row.csv"
    assert (tmp_path / f"{stem}-yarn-by-row.csv").is_file()
    assert pressed.save("pattern.pdf")["saved"]["name"] == f"{stem}.pdf"


def test_two_designs_without_a_name_do_not_replace_each_others_files(press, tmp_path):
    nameless = SCARF.but(title="", motif=SCARF.motif.named(""))
    first = press(nameless)
    for what in FILES:
        assert "saved" in first.save(what)
    kept = {path: path.read_bytes() for path in tmp_path.iterdir() if path.is_file() and path.suffix != ".sketch"}
    first.book.change(nameless.but(up=4), "longer")
    for what in FILES:
        if not what.startswith("motif"):
            assert "taken" in first.save(what), what
    assert all(path.read_bytes() == held for path, held in kept.items())


# ---- what is another's -------------------------------------------------------------------------------------


@pytest.mark.parametrize("what", list(FILES))
def test_a_file_of_anothers_is_left_until_one_of_two_buttons_is_pressed(press, tmp_path, what):
    there = tmp_path / NAMES[what]
    there.write_bytes(b"mine")
    pressed = press()
    taken = pressed.save(what)["taken"]
    free = there.with_stem(f"{there.stem}-2")
    assert (taken["name"], taken["free"]) == (there.name, free.name)
    assert taken["found"].startswith(f"{there.name!r} is there already and was left as it is")
    assert there.read_bytes() == b"mine"
    assert not free.exists()
    assert pressed.save(what, answer="free")["saved"]["name"] == free.name
    assert there.read_bytes() == b"mine"
    assert "taken" in pressed.save(what)
    assert pressed.save(what, answer="replace")["saved"]["name"] == there.name
    assert inside(there) == inside(free)


def inside(file):
    """What a file holds; of a spreadsheet its sheets, as the archive around them says when it was made."""
    if file.suffix != ".xlsx":
        return file.read_bytes()
    with zipfile.ZipFile(file) as parts:
        return {part.filename: part.CRC for part in parts.infolist() if part.filename != "docProps/core.xml"}


def test_an_answer_to_what_was_not_asked_replaces_nothing(press, tmp_path):
    (tmp_path / "Letter-scarf.design").write_bytes(b"mine")
    pressed = press()
    for answer in ("replace", "free"):
        assert "was not asked" in pressed.save("design", answer=answer)["error"]
    assert "must be one of" in pressed.save("design", answer="yes")["error"]
    assert "must be one of" in pressed.save("../design")["error"]
    assert (tmp_path / "Letter-scarf.design").read_bytes() == b"mine"


def test_one_name_taken_while_it_was_offered_is_asked_about_again(press, tmp_path):
    (tmp_path / "Letter-scarf.design").write_bytes(b"mine")
    pressed = press()
    pressed.save("design")
    (tmp_path / "Letter-scarf-2.design").write_bytes(b"mine too")
    taken = pressed.save("design", answer="free")["taken"]
    assert (taken["name"], taken["free"]) == ("Letter-scarf-2.design", "Letter-scarf-3.design")


def test_a_save_that_fails_says_why_and_leaves_the_design(press, tmp_path):
    pressed = press()
    pressed.book.folder = tmp_path / "gone"
    for what in FILES:
        assert "could not be written, and nothing was changed: there is no such folder." in pressed.save(what)["error"]
    assert pressed.book.design == SCARF


# ---- what cannot be made -----------------------------------------------------------------------------------


def test_of_a_design_that_cannot_be_worked_the_design_and_the_motif_are_saved(press, tmp_path):
    pressed = press(mk.Design(two_stacked, GAUGE))
    assert "cannot be worked yet. Rows 3 and 4, stitch 3" in pressed.view["lacks"]
    for what, (_, needs) in FILES.items():
        answer = pressed.save(what)
        assert ("saved" in answer) == (needs == ""), what
        assert needs == "" or answer["error"] == pressed.view["lacks"]
    assert mk.load(tmp_path / "A-design.design") == pressed.book.design
    assert "error" in pressed("preview", sheet=1)


def test_without_a_gauge_what_needs_none_is_saved(press):
    pressed = press(SCARF.but(gauge=None))
    assert pressed.view["lacks"] == "Size and yarn are not known yet. Enter the gauge under Yarn."
    for what, (_, needs) in FILES.items():
        assert ("saved" in pressed.save(what)) == (needs != "gauge"), what


def test_a_piece_too_large_to_be_drawn_says_so(press):
    wide = mk.Design(letter_f, GAUGE).but(across=200, up=130, colours="swap")
    said = press(wide).save("chart.png")["error"]
    assert said == "A picture of a chart shows at most 1,000,000 squares, and this piece has 1,275,820."


def test_a_character_that_no_font_has_is_named_with_a_cure_that_was_tried(press, tmp_path):
    pressed = press(SCARF.but(notes=["Block it. \U0001f9f6"]))
    for answer in (pressed.save("pattern.pdf"), pressed("preview", sheet=1)):
        assert answer["error"].startswith(
            "A note has '\U0001f9f6' (U+1F9F6), which the fonts of the PDF cannot show. Write it "
        )
    can = "tick" in answer["error"]
    again = pressed.save("pattern.pdf", options={"system_fonts": True})
    assert ("saved" in again) == can  # as it was said, on any computer


# ---- what is looked at and fetched -------------------------------------------------------------------------


def picture_in(answer):
    return np.asarray(Image.open(io.BytesIO(base64.b64decode(answer["data"]))).convert("L"), float)


def test_the_preview_shows_the_pages_of_the_pdf(press, tmp_path):
    pressed = press()
    document = pypdfium2.PdfDocument(tmp_path / pressed.save("pattern.pdf")["saved"]["name"])
    sheets = [pressed("preview", sheet=number) for number in range(1, len(document) + 1)]
    assert {answer["of"] for answer in sheets} == {len(document)}
    for answer, page in zip(sheets, document, strict=True):
        ours = picture_in(answer)
        height, width = ours.shape
        theirs = page.render(scale=100 / 72).to_pil().convert("L").resize((width, height))
        assert np.abs(ours - np.asarray(theirs, float)).mean() < 4
    assert pressed("preview", sheet=999)["sheet"] == len(document)
    assert "must be a whole number" in pressed("preview", sheet=0)["error"]
    document.close()


def test_the_page_can_tell_when_what_it_shows_is_of_an_earlier_design(press):
    pressed = press()
    before = pressed("preview", sheet=1)
    assert before["design"] == pressed.view["design"]
    pressed.book.change(SCARF.but(title="Other"), "title")
    assert pressed.view["design"] != before["design"]
    after = pressed("preview", sheet=1)
    assert after["design"] == pressed.view["design"]
    assert after["data"] != before["data"]


def test_two_workbooks_know_nothing_of_each_other(tmp_path):
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    one, other = (Pressing(SCARF, tmp_path / name, "share") for name in "ab")
    one.save("design")
    assert "Save it first" in other("fetch", what="design")["error"]


def test_what_was_saved_can_be_fetched_and_nothing_else(press, tmp_path):
    pressed = press()
    for what in ("design", "x.sketch", "../x", None):
        assert pressed("fetch", what=what)["error"] == "Save it first; then it can be downloaded."
    saved = pressed.save("pattern.pdf")["saved"]["name"]
    fetched = pressed("fetch", what="pattern.pdf")
    assert (fetched["name"], fetched["kind"]) == (saved, "application/pdf")
    assert base64.b64decode(fetched["data"]) == (tmp_path / saved).read_bytes()
    (tmp_path / saved).unlink()
    assert "There is no such file" in pressed("fetch", what="pattern.pdf")["error"]


def test_a_view_is_quick_data_and_an_unknown_press_says_so(press):
    pressed = press()
    assert Path(pressed.view["folder"]) == pressed.folder
    assert pressed("dance")["error"] == "Share knows no 'dance'."
    assert set(PANEL.view(pressed.book)) == set(pressed.view) - {"name"}


# ---- the code ----------------------------------------------------------------------------------------------


def run(code):
    left = {}
    exec(code, left)
    return left["design"]


@given(designs())
def test_the_code_of_a_design_makes_an_equal_one(design):
    assert run(python_of(design)) == design


def test_the_code_says_what_differs_and_nothing_else(press):
    assert run(press(full())("python")["text"]) == full()
    told = python_of(mk.Design(letter_f, GAUGE).but(rings=2, title='It\'s "two"\u2028'))
    assert "surround=mk.Surround(rings=2)" in told
    for usual in ("across", "edges", "yarn_settings", "hand", "terms", "yarns", "first", "blocked"):
        assert usual not in told
    assert len(told.split("Motif.from_text")) == 2
    edition = SCARF.edition("begun")
    assert python_of(edition).count("from_text") == 1  # the same motif is written once


def test_code_that_no_one_could_read_is_refused():
    large = mk.Motif.from_array(np.zeros((1001, 1000), bool))
    with pytest.raises(OptionError, match="more than 1,000,000 squares"):
        python_of(mk.Design(large))


# ---- what takes long ---------------------------------------------------------------------------------------

LONG = mk.Design(letter_f, GAUGE).but(across=30, up=20, colours="swap", title="Long")


def to_the_end(pressed, most_s=300):
    """Ask for part after part, as the page does; gives what was shown on the way, and the last answer."""
    shown, ends = [], monotonic() + most_s
    while monotonic() < ends:
        shown.append(pressed.view["work"])
        answer = pressed._send(kind="part", panel="share")
        if not answer["left"]:
            return shown, answer
    raise AssertionError(f"nothing came of it: {shown[-1]}")


def test_a_large_pattern_is_made_while_other_things_are_done(press, tmp_path, slow):
    pressed = press(LONG)
    assert pressed.save("pattern.pdf") == {"view": "v", "seq": 2, "working": True}
    assert pressed.save("chart.svg")["error"] == "Another file is being made. Wait until it is done, or stop it."
    assert "saved" in pressed.save("design")
    pressed.book.change(LONG.but(title="Other"), "title")
    shown, answer = to_the_end(pressed)
    assert {each["what"] for each in shown} == {"pattern.pdf"}
    assert "Saving Long.pdf, step" in shown[-1]["said"]
    assert "setting the pages" in shown[-1]["said"]
    assert answer["what"] == "pattern.pdf"
    saved = answer["outcome"]["saved"]
    assert saved["design"] < pressed.view["design"]  # so the page says that the design has changed since
    assert pressed.view["work"] is None
    made = (tmp_path / saved["name"]).read_bytes()
    assert made == mk.publish.pdf(LONG.page(), tmp_path / "x.pdf").read_bytes()
    assert pressed("fetch", what="pattern.pdf")["name"] == "Long.pdf"
    # a file of another's is asked about before anything is made
    (tmp_path / "Other.pdf").write_bytes(b"mine")
    taken = pressed.save("pattern.pdf")["taken"]
    assert (taken["name"], taken["free"]) == ("Other.pdf", "Other-2.pdf")
    assert pressed.view["work"] is None


def test_what_takes_long_is_stopped_at_once_and_leaves_nothing(press, tmp_path, slow):
    pressed = press(LONG)
    before = set(tmp_path.rglob("*"))
    assert pressed("preview", sheet=1)["working"]
    process = PANEL._of(pressed.book).work._process
    assert process.is_alive()
    assert "error" not in pressed("stop")
    assert not process.is_alive()
    assert pressed.book.said == "Stopped. Nothing was saved."
    assert pressed._send(kind="part", panel="share") == {
        "view": "v", "seq": 4, "left": False, "what": "preview", "outcome": {"stopped": True},
    }  # fmt: skip
    assert pressed._send(kind="part", panel="share")["left"] is False
    assert set(tmp_path.rglob("*")) == before


def test_what_cannot_be_made_there_says_why_and_one_that_dies_too(press, slow):
    pressed = press(LONG.but(notes=["Block it. \U0001f9f6"]))
    pressed.save("pattern.pdf")
    _, answer = to_the_end(pressed)
    assert answer["outcome"]["error"].startswith("A note has '\U0001f9f6' (U+1F9F6), which the fonts of the PDF")
    pressed.save("chart.png")
    PANEL._of(pressed.book).work._process.kill()
    _, answer = to_the_end(pressed)
    assert answer["outcome"]["error"].startswith("It was not made: what worked at it ended by itself.")


ENDED = """
import atexit, os, signal, sys
import mosaickit as mk
from multiprocessing import Pipe
from mosaickit.widgets.book.share_options import ShareOptions
from mosaickit.widgets.book.share_work import ShareTask, _make

class Asks:
    def __del__(self):
        os.kill(os.getpid(), signal.SIGTERM)
        sum(range(1000))  # which lets Python look at its signals

class Task(ShareTask):
    def made(self, of):
        if sys.argv[1] == "in a finalizer":
            Asks()
            signal.pause()
        return mk.save(self.design, self.path)

if sys.argv[1] == "when it is done":
    atexit.register(lambda: os.kill(os.getpid(), signal.SIGTERM))
hears, tells = Pipe(duplex=False)
_make(Task("design", mk.Design(mk.Motif.from_text("...")), ShareOptions(), "dots.design"), tells)
"""


@pytest.mark.skipif(os.name == "nt", reason="on Windows a process is ended without being asked")
@pytest.mark.parametrize("when", ["when it is done", "in a finalizer"])
def test_a_process_that_is_ended_writes_nothing_into_the_log(slow, tmp_path, when):
    ended = subprocess.run(
        [sys.executable, "-c", ENDED, when], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert (ended.stderr, ended.stdout) == ("", "")
    assert ended.returncode == (-signal.SIGTERM if when == "when it is done" else 0)
    assert (tmp_path / "dots.design").exists() == (when == "when it is done")


def test_the_sheets_of_a_large_piece_are_kept_until_it_changes(press, slow):
    pressed = press(LONG)
    pressed("preview", sheet=2)
    _, answer = to_the_end(pressed)
    assert (answer["what"], answer["outcome"]["sheet"]) == ("preview", 2)
    third = pressed("preview", sheet=3)
    assert (third["sheet"], third["of"]) == (3, answer["outcome"]["of"])
    assert third["data"] != answer["outcome"]["data"]


@pytest.mark.parametrize(
    ("what", "options", "design", "long"),
    [
        ("chart.png", {}, LONG, True), ("chart.png", {"whole": False}, LONG, False), ("pattern.html", {}, LONG, True),
        ("yarn.csv", {}, LONG, False), ("design", {}, LONG, False), ("pattern.pdf", {}, SCARF, False),
    ],
)  # fmt: skip
def test_only_what_takes_long_is_made_elsewhere(what, options, design, long):
    assert ShareTask(what, design, ShareOptions(**options)).long == long


# ---- what an editor would mark -----------------------------------------------------------------------------


def test_the_editor_marks_what_the_library_says_of_the_pattern(press):
    pressed = press()
    answer = pressed("edit")
    report = mk.tech_edit(SCARF)
    assert answer["head"] == report.head
    assert [mark["message"] for mark in answer["marks"]] == [each.message for each in report.findings]
    assert [mark["severity"] for mark in answer["marks"]] == [each.severity for each in report.findings]
    assert answer["unjudged"] == list(report.unjudged)
    assert answer["design"] == pressed.view["design"]
    # another design is another number, so that the page says that it changed since
    pressed.book.design = SCARF.but(title="Other")
    assert pressed("edit")["design"] != answer["design"]


def test_a_design_that_lacks_something_is_not_edited(press):
    assert "gauge" in press(mk.Design(letter_f))("edit")["error"]
    assert press(mk.Design(two_stacked, GAUGE))("edit")["error"]


def test_a_large_pattern_is_edited_in_a_process_of_its_own():
    large = SCARF.but(across=30, up=30)
    assert ShareTask("edit", large, ShareOptions()).long
    assert not ShareTask("edit", SCARF, ShareOptions()).long
