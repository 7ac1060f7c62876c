"""What is saved: no file of another design is replaced without being asked, whatever the verb and the format."""

import ast
import errno
import inspect
import json
import os
import pickle
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Barrier

import matplotlib.pyplot as plt
import nbformat
import numpy as np
import pandas as pd
import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule
from matplotlib.lines import Line2D
from samples import letter_f

import mosaickit as mk
from mosaickit import cli, tables
from mosaickit.errors import FileError, OptionError, TakenError
from mosaickit.files import saved
from mosaickit.widgets import WidthPlanner

pytestmark = pytest.mark.thorough

PACKAGE = Path(mk.__file__).parent
GAUGE = mk.Gauge(16, 18)
SEED = Path(__file__).parent.parent / "gallery" / "motifs" / "seed.json"


@pytest.fixture(autouse=True)
def pictures_closed():
    yield
    plt.close("all")


# ---- every verb that saves -------------------------------------------------------------------------------


def motif_of(design, version):
    """A workable motif, other in each version."""
    grid = np.array(mk.Motif.from_array(np.zeros((5, 5 + version))).grid)
    grid[2, 1 : 2 + version] = True
    return mk.nearest_workable(mk.Motif.from_array(grid, name=design)).motif


def chart_of(design, version):
    return mk.compile_chart(motif_of(design, version))


def motif(path, design, version, **options):
    return mk.save(motif_of(design, version), path, **options)


def motif_without_a_name(path, design, version, **options):
    return mk.save(motif_of("", version), path, design=design, **options)


def picture(path, design, version, **options):
    figure = plt.figure(figsize=(1, 1))  # without axes, which take far longer to draw
    figure.add_artist(Line2D([0.1, 0.9], [0.1, version / 10]))
    return mk.draw.save(figure, path, design=design, **options)


def table(path, design, version, **options):
    return mk.tables.save_table(pd.DataFrame({"rows": [version]}), path, design=design, **options)


def page_of(design, version):
    return mk.pattern(chart_of("", version), title=design, gauge=GAUGE)


def html(path, design, version, **options):
    return mk.publish.html(page_of(design, version), path, **options)


def html_from_centre(path, design, version, **options):
    grid = np.zeros((2 * version + 3, 2 * version + 3), dtype=bool)
    square = mk.centre.nearest(mk.centre.CentreOut(mk.Motif(grid, name=design))).square
    return mk.publish.html_from_centre(mk.centre.chart(square), path, gauge=GAUGE, **options)


def square_of(design, version):
    grid = np.zeros((2 * version + 3, 2 * version + 3), dtype=bool)
    return mk.CentreDesign(mk.centre.nearest(mk.centre.CentreOut(mk.Motif(grid, name=design))).square, GAUGE)


def square(path, design, version, **options):
    return mk.save(square_of(design, version), path, **options)


def pdf_from_centre(path, design, version, **options):
    return mk.publish.pdf_from_centre(square_of(design, version), path, **options)


def pdf(path, design, version, **options):
    return mk.publish.pdf(page_of(design, version), path, **options)


def sent_out(design, version):
    return mk.Design(motif_of("", version), GAUGE).but(title=design).edition("sent to testers", date=date(2026, 3, 14))


def report_form(path, design, version, **options):
    return mk.publish.report_form(sent_out(design, version), path, **options)


def pack_for_testers(path, design, version, **options):
    return mk.publish.pack_for_testers(sent_out(design, version), path, **options)


def share(path, design, version, **options):
    """Here a design is a notebook."""
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_markdown_cell(f"# Version {version}", id="one")])
    nbformat.write(notebook, path.with_name(f"{design}.ipynb"))
    return mk.share(path.with_name(f"{design}.ipynb"), path, **options).path


def notebook_of(folder, design, version):
    file = folder / f"{design}.ipynb"
    cells = [nbformat.v4.new_markdown_cell(f"# Version {version}", id="one")]
    nbformat.write(nbformat.v4.new_notebook(cells=cells), file)
    return file


def handout(path, design, version, **options):
    return mk.lessons.handout(notebook_of(path.parent, design, version), path, **options)


def teachers_copy(path, design, version, **options):
    return mk.lessons.teachers_copy(notebook_of(path.parent, design, version), path, **options)


def lesson(path, design, version, **options):
    """Here a design is the title of a lesson."""
    made = mk.lessons.exercise(
        "rows",
        question="How many?",
        answer="a whole number",
        parts=[mk.lessons.this_number(version)],
        solution=version,
    )
    return mk.lessons.keep(mk.lessons.Lesson(design, [made]), path, **options)


@dataclass(frozen=True)
class Verb:
    """A verb that saves: how it is called here, how it may end, and what its files are said to be."""

    call: Callable
    endings: tuple[str, ...]
    said: str
    nameless: bool = True  # whether it saves for a design without a name


VERBS = {
    "files.formats.save": Verb(motif, (".json", ".png", ".csv", ".txt"), "a motif of the design"),
    "draw.files.save": Verb(picture, (".svg", ".png", ".pdf"), "a picture of the design"),
    "tables.saving.save_table": Verb(table, (".csv", ".xlsx"), "a table of the design"),
    "publish.screen.html": Verb(html, (".html",), "a pattern of the design", nameless=False),
    "publish.centred.html_from_centre": Verb(html_from_centre, (".html",), "a pattern of the design", nameless=False),
    "publish.centred.pdf_from_centre": Verb(pdf_from_centre, (".pdf",), "a pattern of the design", nameless=False),
    "sizes.designs.saving._save_square": Verb(square, (".square",), "a square of the design", nameless=False),
    "publish.paper.pdf": Verb(pdf, (".pdf",), "a pattern of the design", nameless=False),
    "publish.testers.report_form": Verb(report_form, (".html",), "a tester's form of the design", nameless=False),
    "publish.testers.pack_for_testers": Verb(
        pack_for_testers, (".zip",), "a tester's pack of the design", nameless=False
    ),
    "sharing.pages.share": Verb(share, (".html",), "a page of the notebook", nameless=False),
    "lessons.handouts.handout": Verb(handout, (".html",), "a handout of the notebook", nameless=False),
    "lessons.handouts.teachers_copy": Verb(
        teachers_copy, (".html",), "a teacher's copy of the notebook", nameless=False
    ),
    "lessons.documents.save_lesson": Verb(lesson, (".lesson",), "a lesson with the title", nameless=False),
}
CALLS = [(verb, ending) for name, verb in VERBS.items() for ending in verb.endings]
IDS = [f"{name}-{ending}" for name, verb in VERBS.items() for ending in verb.endings]
every_format = pytest.mark.parametrize(("verb", "ending"), CALLS, ids=IDS)
nameless_formats = pytest.mark.parametrize(
    ("verb", "ending"),
    [one for one in CALLS if one[0].nameless],
    ids=[name for name, one in zip(IDS, CALLS, strict=True) if one[0].nameless],
)

# what writes files, and how it goes about files that are there
# a design is in test_design_files, what the workbook shares in test_book_share
BY_NOTES = {*VERBS, "sizes.designs.saving.save", "cli.rows._act"}
BY_OTHER_MEANS = {
    "files.saved": "keeps the notes",
    "files.bundle": "keeps a note of what it laid; test_cli",
    "batches": "refuses a folder that holds anything else; test_batches",
    "widgets.journal": "takes up the drawing that is there; test_sketch",
    "scripts": "writes in its example only",
    "files.locks": "writes who holds a file into a hidden file of its own; test_sketch",
    "tables.spreadsheet": "writes into memory only",
    "publish.booklet": "lays pages out in a folder that is gone afterwards; test_publish_pdf",
    "publish.fonts": "copies fonts into a folder of its own; test_publish_pdf",
    "guiding.places": "takes up the place that is there; test_guide",
}


def functions(tree, inside=""):
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.ClassDef | ast.FunctionDef):
            yield from functions(node, f"{inside}.{node.name}".lstrip("."))
        if isinstance(node, ast.FunctionDef):
            yield f"{inside}.{node.name}".lstrip("."), node


WRITING = re.compile(
    r"\b(write_whole|write_new|write_text|write_bytes|os\.(replace|rename|link|open)|shutil\.\w+)\(|"
    r"""open\([^)]*["'][rb]?[wax+]"""
)


def test_whatever_writes_files_goes_by_the_notes_or_is_known_to_have_a_law_of_its_own():
    by_notes, others = set(), set()
    for path in PACKAGE.rglob("*.py"):
        module = ".".join(path.relative_to(PACKAGE).with_suffix("").parts)
        for name, node in functions(ast.parse(path.read_text("utf-8"))):
            text = ast.unparse(node)
            if re.search(r"(?<!def )\bsave_bytes\b", text):
                by_notes.add(f"{module}.{name}")
            if WRITING.search(text) and module not in ("files.disk", "cli.running"):  # which only ends its output
                others.add(module)
    assert by_notes == BY_NOTES
    assert others == set(BY_OTHER_MEANS)


def test_every_public_verb_that_saves_takes_replace_by_its_name_only_and_says_so():
    homes = {name: getattr(mk, name) for name in mk.__all__ if name != "__version__"}
    for module in ("draw", "publish", "tables", "widgets", "lessons"):
        homes |= {f"{module}.{name}": getattr(homes[module], name) for name in homes[module].__all__}
    verbs = dict(homes)
    for name, home in homes.items():
        if inspect.isclass(home):
            verbs |= {f"{name}.{each}": verb for each, verb in vars(home).items() if inspect.isfunction(verb)}
    saving = {
        name
        for name, verb in verbs.items()
        if inspect.isfunction(verb) and re.match(r"(Write|Save|Set a page|Lay)", verb.__doc__ or "")
        if {"path", "folder"} & set(inspect.signature(verb).parameters) or ".export" in name
    }
    plain = {
        "save",
        "draw.save",
        "tables.save_table",
        "publish.html",
        "publish.html_from_centre",
        "publish.pdf_from_centre",
        "publish.pdf",
        "share",
    }
    plain |= {"publish.report_form", "publish.pack_for_testers"}
    plain |= {"lessons.keep", "lessons.handout", "lessons.teachers_copy"}
    assert saving == {*plain, "widgets.WidthPlanner.export"}
    for name in saving:
        replace = inspect.signature(verbs[name]).parameters["replace"]
        assert (replace.kind, replace.default) == (replace.KEYWORD_ONLY, False), name
        assert "replace" in verbs[name].__doc__, name


# ---- laws of all of them ---------------------------------------------------------------------------------


def bytes_of(folder):
    """What the files of a folder hold, by name, but for notebooks that were made to be shared."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file() and path.suffix != ".ipynb"}


def refused(verb, path, design, version, said):
    """Save where that must be refused; then try both cures that the message names. Gives the message."""
    before = bytes_of(path.parent)
    with pytest.raises(TakenError, match=said) as caught:
        verb.call(path, design, version)
    taken = caught.value
    assert bytes_of(path.parent) == before, "nothing is written when it is refused"
    assert taken.path == path
    assert not taken.free.exists()
    assert f"Save as {taken.free.name!r}, which is free, or replace it with `replace=True`." in str(taken)
    verb.call(taken.free, design, version)
    assert bytes_of(path.parent).keys() == {*before, taken.free.name}
    assert bytes_of(path.parent)[path.name] == before[path.name]
    verb.call(path, design, version, replace=True)
    assert bytes_of(path.parent)[path.name] != before[path.name]
    return str(taken)


@every_format
def test_a_design_replaces_its_own_earlier_file_without_being_asked(tmp_path, verb, ending):
    file = tmp_path / f"made{ending}"
    held = []
    for version in (1, 2, 2, 3):
        assert verb.call(file, "Leaf", version) == file
        held.append(file.read_bytes())
    assert len({*held}) >= 3
    assert bytes_of(tmp_path).keys() == {file.name}


@every_format
def test_a_file_of_another_design_is_left_and_both_cures_work(tmp_path, verb, ending):
    file = tmp_path / f"made{ending}"
    verb.call(file, "Leaf", 1)
    size = file.stat().st_size
    minute = r"\d{4}-\d\d-\d\d at \d\d:\d\d"
    message = refused(verb, file, "Boat", 2, rf"^'made{ending}' is there already and was left as it is: it is ")
    assert re.search(
        rf": it is {verb.said} 'Leaf(\.ipynb)?', saved {minute}, {size:,} bytes?\. Save as 'made-2", message
    )
    # the file is now the other's, and the first has to ask
    verb.call(file, "Boat", 3)
    refused(verb, file, "Leaf", 1, "'Boat")


STRANGERS = {
    "empty": lambda file, own: file.write_bytes(b""),
    "a letter": lambda file, own: file.write_bytes(b"Dear neighbour, here is the scarf."),
    "edited": lambda file, own: file.write_bytes(own + b"\n"),
    "cut short": lambda file, own: file.write_bytes(own[:-1]),
    "a motif from elsewhere": lambda file, own: file.write_bytes(elsewhere(".json")),
    "a picture from elsewhere": lambda file, own: file.write_bytes(elsewhere(".png")),
}


def elsewhere(ending):
    with TemporaryDirectory() as folder:
        return mk.save(letter_f, Path(folder) / f"f{ending}").read_bytes()


@pytest.mark.parametrize("stranger", STRANGERS)
@pytest.mark.parametrize("noted", [True, False])
@every_format
def test_a_strangers_file_is_never_taken_for_ones_own(tmp_path, verb, ending, stranger, noted):
    file = tmp_path / f"made{ending}"
    verb.call(file, "Leaf", 1)
    STRANGERS[stranger](file, file.read_bytes())
    if not noted:
        shutil.rmtree(tmp_path / saved.NOTES)
    message = refused(verb, file, "Leaf", 1, "is there already and was left as it is: it is a")
    assert "last changed" in message
    assert ("it is no longer" in message) == noted
    named = stranger in ("a motif from elsewhere", "a picture from elsewhere")
    assert ("a motif named 'letter F'" in message) == named


@every_format
def test_a_file_that_was_copied_or_renamed_to_a_name_is_nobodys(tmp_path, verb, ending):
    file, other = tmp_path / f"made{ending}", tmp_path / f"other{ending}"
    verb.call(file, "Leaf", 1)
    verb.call(other, "Leaf", 2)
    shutil.copyfile(other, file)
    refused(verb, file, "Leaf", 3, "it is no longer")
    other.rename(tmp_path / f"third{ending}")
    refused(verb, tmp_path / f"third{ending}", "Leaf", 3, "is there already")


@every_format
def test_the_same_bytes_may_be_saved_by_anyone_and_then_neither_replaces_the_others(tmp_path, verb, ending):
    file = tmp_path / f"made{ending}"
    data = verb.call(file, "Leaf", 1).read_bytes()
    for design in ("Boat", "Leaf"):
        saved.save_bytes(file, data, saved.Owner("motif", design))
    refused(verb, file, "Leaf", 2, "a motif of the design 'Boat' and ")


@nameless_formats
def test_designs_without_a_name_replace_nothing_but_their_like(tmp_path, verb, ending):
    file = tmp_path / f"made{ending}"
    verb.call(file, "", 1)
    verb.call(file, "", 1)
    message = refused(verb, file, "", 2, "of a design without a name, saved")
    assert message.endswith('A design with a name, as `design="Leaf"` gives it, later replaces its own files without '
                            "being asked.")  # fmt: skip
    refused(verb, file, "Leaf", 1, "of a design without a name, saved")


@nameless_formats
def test_a_name_that_is_given_is_what_a_nameless_design_is_known_by(tmp_path, verb, ending):
    file = tmp_path / f"made{ending}"
    call = motif_without_a_name if verb.call is motif else verb.call
    assert len({call(file, "Leaf", version).read_bytes() for version in (1, 2, 3)}) == 3
    with pytest.raises(OptionError, match="`design` must be text; got 7"):
        call(file, 7, 1)


def test_a_motif_is_not_replaced_by_its_own_chart(tmp_path):
    file = mk.save(letter_f, tmp_path / "f.png")
    with pytest.raises(TakenError, match="it is a motif of the design 'letter F', saved"):
        picture(file, "letter F", 1)


def test_a_motif_without_a_name_keeps_its_file_when_only_its_squares_grow(tmp_path):
    for square in (1, 8):
        file = mk.save(letter_f.named(""), tmp_path / "f.png", square=square)
    assert mk.load(file).grid.shape == (7, 7)


def test_a_table_without_a_name_is_known_by_what_it_says_though_each_spreadsheet_has_other_bytes(tmp_path, monkeypatch):
    file = table(tmp_path / "fits.xlsx", "", 1)
    before = file.read_bytes()
    monkeypatch.setattr("mosaickit.tables.spreadsheet._WIDEST", 4)
    assert table(file, "", 1).read_bytes() != before


@pytest.mark.parametrize("gone", ["to another folder", "in another process"])
def test_a_design_is_known_again_elsewhere_and_later(tmp_path, gone):
    (tmp_path / "one").mkdir()
    file = mk.save(letter_f, tmp_path / "one" / "f.json")
    folder = (tmp_path / "one").rename(tmp_path / "two") if gone == "to another folder" else file.parent
    code = f"""
import sys, mosaickit as mk
mk.save(mk.counterchange(mk.load(sys.argv[1])).named({letter_f.name!r}), sys.argv[1])
"""
    subprocess.run([sys.executable, "-c", code, folder / "f.json"], check=True, timeout=60)
    assert mk.load(folder / "f.json") != letter_f


def test_a_page_is_its_notebooks_also_when_both_were_moved_and_not_one_of_the_same_name_elsewhere(tmp_path):
    (tmp_path / "course").mkdir()
    share(tmp_path / "course" / "page.html", "lesson", 1)
    course = (tmp_path / "course").rename(tmp_path / "moved")
    share(course / "page.html", "lesson", 2)
    (course / "other").mkdir()
    shutil.copy(course / "lesson.ipynb", course / "other")
    share(course / "other" / "page.html", "lesson", 3)
    with pytest.raises(TakenError, match=r"a page of the notebook 'lesson\.ipynb'"):
        mk.share(course / "other" / "lesson.ipynb", course / "page.html")


# ---- what is said ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("a.pdf", b"%PDF-1.7 and more", "a PDF document"),
        ("a.png", b"\x89PNG cut short", "a PNG picture"),
        ("a.xlsx", b"PK\x03\x04 and more", "a spreadsheet or another archive"),
        ("a.svg", b'<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg"/>', "an SVG picture"),
        ("a.html", b"<!DOCTYPE HTML>\n<HTML lang='en'>", "a web page"),
        ("a.csv", b"0,1\n", "a .csv file"),
        ("a", b"\xff\xfe\x00", "a file"),
        ("a.json", b"", "an empty file"),
    ],
)
def test_a_file_that_is_not_known_is_told_by_its_content(tmp_path, name, data, said):
    file = tmp_path / name
    file.write_bytes(data)
    os.utime(file, (0, 0))
    with pytest.raises(
        TakenError, match=rf"it is {said}, last changed 19(69|70)-[\d-]+ at [\d:]+, {len(data)} bytes\."
    ):
        saved.save_bytes(file, b"new", saved.Owner("motif", "Leaf"))


def test_a_time_that_no_calendar_has_a_long_name_and_a_long_file_are_bearable(tmp_path, monkeypatch):
    class Calendar(datetime):
        @classmethod
        def fromtimestamp(cls, *_):
            raise OverflowError("year 5138 is out of range")

    file = mk.save(letter_f.named("x" * 90), tmp_path / "f.json")
    shutil.rmtree(tmp_path / saved.NOTES)
    monkeypatch.setattr(saved, "datetime", Calendar)
    with pytest.raises(TakenError, match=f"it is a motif named '{'x' * 60}…', changed at an unknown time, "):
        saved.save_bytes(file, b"new", saved.Owner("motif", "Leaf"))
    with file.open("wb") as opened:
        opened.truncate(70_000_000)
    with pytest.raises(TakenError, match=r"a file that cannot be read, changed at an unknown time, 70,000,000 bytes\."):
        saved.save_bytes(file, b"new", saved.Owner("motif", "Leaf"))


def test_a_refusal_survives_the_way_between_processes(tmp_path):
    taken = TakenError(tmp_path / "a.png", tmp_path / "a-2.png", "it is a file", "A hint.")
    again = pickle.loads(pickle.dumps(taken))
    assert (again.path, again.free, again.there, str(again)) == (taken.path, taken.free, taken.there, str(taken))


@pytest.mark.parametrize(
    ("name", "there", "free"),
    [
        ("leaf.png", [], "leaf-2.png"),
        ("leaf.png", ["leaf-2.png", "leaf-3.png"], "leaf-4.png"),
        ("leaf-2.png", [], "leaf-3.png"),
        ("leaf-09.png", [], "leaf-09-2.png"),
        ("leaf", [], "leaf-2"),
        (".json", [], ".json-2"),
        ("-2.png", [], "-2-2.png"),
        (f"{'x' * 251}.png", [], f"{'x' * 249}-2.png"),
        (f"{'é' * 125}.png", [], f"{'é' * 124}-2.png"),  # 254 bytes, of which a name may have 255
        (f"a.{'x' * 253}", [], "a-3"),
    ],
)
def test_a_free_name_is_one_that_can_be_written(tmp_path, name, there, free):
    for one in (name, *there):
        (tmp_path / one).write_bytes(b"mine")
    with pytest.raises(TakenError) as caught:
        saved.save_bytes(tmp_path / name, b"new", saved.Owner("motif", "Leaf"))
    assert caught.value.free.name == free
    saved.save_bytes(caught.value.free, b"new", saved.Owner("motif", "Leaf"))


def test_a_broken_link_has_a_name_too(tmp_path):
    (tmp_path / "leaf-2.txt").symlink_to(tmp_path / "gone")
    (tmp_path / "leaf.txt").write_bytes(b"mine")
    with pytest.raises(TakenError, match=r"'leaf-3\.txt', which is free"):
        mk.save(letter_f, tmp_path / "leaf.txt")


# ---- notes -----------------------------------------------------------------------------------------------

DAMAGE = {
    "empty": lambda text: "",
    "no JSON": lambda text: text[:-9],
    "a list": lambda text: "[]",
    "a number": lambda text: "7",
    "deep": lambda text: "[" * 100_000,
    "no digest": lambda text: text.replace("sha256", "sha1"),
    "no time": lambda text: text.replace('"saved": "2', '"saved": "A'),
    "time is a number": lambda text: re.sub('"saved": "[^"]+"', '"saved": 7', text),
    "designs are no list": lambda text: text.replace("[", "{", 1).replace("[", "").replace("]", ""),
    "designs are numbers": lambda text: re.sub(r'"designs": \[.*\]', '"designs": [1, 2]', text, flags=re.DOTALL),
    "a name is a number": lambda text: text.replace('"Leaf"', "7"),
    "another file's": lambda text: text.replace("f.json", "g.json"),
    "no UTF-8": lambda text: text.replace("motif", "\udcff"),
}


@pytest.mark.parametrize("damage", DAMAGE)
def test_a_damaged_note_vouches_for_nothing_and_is_made_anew(tmp_path, damage):
    file = mk.save(letter_f.named("Leaf"), tmp_path / "f.json")
    (note,) = (tmp_path / saved.NOTES).iterdir()
    whole = note.read_text("utf-8")
    assert json.loads(whole)["file"] == "f.json"
    note.write_text(DAMAGE[damage](whole), "utf-8", errors="surrogateescape")
    with pytest.raises(TakenError, match="a motif named 'Leaf', last changed"):
        mk.save(mk.counterchange(letter_f).named("Leaf"), file)
    mk.save(mk.counterchange(letter_f).named("Leaf"), file, replace=True)
    mk.save(letter_f.named("Leaf"), file)


@pytest.mark.parametrize("there", ["a file", "a folder", "nothing"])
def test_where_no_note_can_be_kept_files_are_saved_and_asked_about_later(tmp_path, there, monkeypatch):
    notes = tmp_path / saved.NOTES
    if there == "a file":
        notes.write_bytes(b"mine")
    elif there == "a folder":
        saved._note_of(tmp_path / "f.json").mkdir(parents=True)
    else:
        real = Path.mkdir

        def refuse(self, *a, **k):
            if self.name == saved.NOTES:
                raise OSError(errno.EROFS, "Read-only file system")
            real(self, *a, **k)

        monkeypatch.setattr(Path, "mkdir", refuse)
    file = mk.save(letter_f, tmp_path / "f.json")
    assert mk.load(file) == mk.load(mk.save(letter_f, file)) == letter_f
    with pytest.raises(TakenError, match="a motif named 'letter F', last changed"):
        mk.save(mk.counterchange(letter_f), file)
    if there == "a file":
        assert notes.read_bytes() == b"mine"


@pytest.mark.skipif(os.name == "nt", reason="Windows has other rules for names.")
@pytest.mark.parametrize("name", ["x" * 251 + ".txt", os.fsdecode(b"\xff.txt"), "a\nb.txt", "Blatt 🍃.txt"])
def test_every_name_that_a_file_may_have_can_be_noted(tmp_path, name):
    for motif in (letter_f, mk.counterchange(letter_f)):
        file = mk.save(motif, tmp_path / name, design="Leaf")
    assert file.read_bytes() == mk.save(motif, tmp_path / "same.txt").read_bytes()


def test_a_link_and_the_file_it_leads_to_are_one(tmp_path):
    (tmp_path / "far").mkdir()
    link = tmp_path / "leaf.txt"
    link.symlink_to(tmp_path / "far" / "real.txt")
    mk.save(letter_f, link)
    mk.save(mk.counterchange(letter_f).named(letter_f.name), tmp_path / "far" / "real.txt")
    mk.save(letter_f, link)
    assert link.is_symlink()
    assert not (tmp_path / saved.NOTES).exists()
    (tmp_path / "far" / "real.txt").write_bytes(b"mine")
    with pytest.raises(TakenError, match=r"'leaf\.txt' is there already .* Save as 'leaf-2\.txt'") as caught:
        mk.save(letter_f, link)
    assert caught.value.free == tmp_path / "leaf-2.txt"


# ---- whole or not at all ---------------------------------------------------------------------------------


def no_links(monkeypatch):
    def refuse(*_, **__):
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)


@pytest.mark.parametrize("links", [True, False])
def test_of_many_that_save_one_new_name_at_once_one_wins_and_the_others_are_asked(tmp_path, links, monkeypatch):
    if not links:
        no_links(monkeypatch)
    many, rounds = 8, 12
    start = Barrier(many)

    def one(number):
        won = []
        for name in range(rounds):
            start.wait(60)
            try:
                saved.save_bytes(tmp_path / str(name), bytes([number]) * 50_000, saved.Owner("motif", str(number)))
                won.append(name)
            except TakenError:
                pass
        return won

    with ThreadPoolExecutor(many) as pool:
        won = list(pool.map(one, range(many)))
    assert sorted(name for names in won for name in names) == list(range(rounds))
    for number, names in enumerate(won):
        for name in names:
            assert (tmp_path / str(name)).read_bytes() == bytes([number]) * 50_000
    assert {path.name for path in tmp_path.iterdir()} == {saved.NOTES, *map(str, range(rounds))}


def test_a_new_file_that_cannot_get_its_name_leaves_nothing_behind(tmp_path, monkeypatch):
    no_links(monkeypatch)

    def refuse(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "replace", refuse)
    with pytest.raises(FileError, match="could not be written, and nothing was changed: the disk is full"):
        mk.save(letter_f, tmp_path / "f.json")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_may_not_be_written_to_is_said_in_place_of_a_question(tmp_path, monkeypatch):
    (tmp_path / "f.json").write_bytes(b"mine")
    may = os.access
    monkeypatch.setattr(os, "access", lambda path, mode: path != tmp_path and may(path, mode))
    with pytest.raises(FileError, match="could not be written, and nothing was changed: permission is denied"):
        mk.save(letter_f, tmp_path / "f.json")


def test_a_folder_in_the_place_of_the_file_is_said_in_place_of_a_question(tmp_path):
    (tmp_path / "f.json").mkdir()
    for replace in (False, True):
        with pytest.raises(FileError, match=r"could not be written, and nothing was changed: this is a folder\."):
            mk.save(letter_f, tmp_path / "f.json", replace=replace)


# ---- against a plain model -------------------------------------------------------------------------------

NAMES = st.sampled_from(["a.txt", "b.txt"])
DATA = st.sampled_from([b"one", b"two", b"three"])
WHO = st.sampled_from(["Leaf", "Boat"])


class Folder(RuleBasedStateMachine):
    """Two designs save, and others edit, delete, rename and copy; each file has the designs that may replace it.

    A file is a design's when that design alone saved just these bytes under this name since the name was last saved.
    """

    def __init__(self):
        super().__init__()
        self.temporary = TemporaryDirectory()
        self.folder = Path(self.temporary.name)
        self.files = {}
        self.saved = {}  # by name: the bytes that were last saved, and for whom

    def teardown(self):
        self.temporary.cleanup()

    @rule(name=NAMES, data=DATA, who=WHO, replace=st.booleans())
    def save(self, name, data, who, replace):
        there = self.files.get(name)
        bytes_saved, owners = self.saved.get(name, (None, set()))
        known = owners if there == bytes_saved else set()
        may = replace or there is None or there == data or known == {who}
        file, design = self.folder / name, saved.Owner("motif", who)
        if may:
            saved.save_bytes(file, data, design, replace=replace)
            shared = known if there == data and not replace else set()
            self.files[name], self.saved[name] = data, (data, shared | {who})
        else:
            with pytest.raises(TakenError) as caught:
                saved.save_bytes(file, data, design)
            assert all(f"'{each}'" in str(caught.value) for each in owners)

    @rule(name=NAMES, data=DATA)
    def edit(self, name, data):
        (self.folder / name).write_bytes(data)
        self.files[name] = data

    @rule(name=NAMES)
    def delete(self, name):
        (self.folder / name).unlink(missing_ok=True)
        self.files.pop(name, None)

    @rule(old=NAMES, new=NAMES)
    def rename(self, old, new):
        if old in self.files:
            (self.folder / old).replace(self.folder / new)
            self.files[new] = self.files.pop(old)

    @rule(old=NAMES, new=NAMES)
    def copy(self, old, new):
        if old in self.files and old != new:
            shutil.copyfile(self.folder / old, self.folder / new)
            self.files[new] = self.files[old]

    @invariant()
    def the_files_are_what_they_should_be(self):
        assert bytes_of(self.folder) == self.files


TestFolder = Folder.TestCase
TestFolder.settings = settings(max_examples=60, stateful_step_count=25, deadline=None)


# ---- the command line ------------------------------------------------------------------------------------

COMMANDS = {
    "check {0} --mend out.json": "out.json",
    "chart {0} out.svg": "out.svg",
    "chart {0} out.png --faces": "out.png",
    "pattern {0} out.html --gauge 16x18": "out.html",
    "pattern {0} out.pdf --gauge 16x18": "out.pdf",
    "widths {0} --gauge 16x18 --width 22 --tolerance 50% --csv out.csv": "out.csv",
    "widths {0} --gauge 16x18 --width 22 --tolerance 50% --csv out.xlsx": "out.xlsx",
    "share {1} out.html": "out.html",
    "new {0} out.design": "out.design",
    "new {0} out.json": "out.json",
    "repeat {0} out.design --across 2": "out.design",
    "frame {0} out.design --rings 0": "out.design",
    "edges {0} out.design --edges 2": "out.design",
    "bands {0} out.design plain:2 field": "out.design",
    "sizes {0} out.design S:~1~across,~1~up": "out.design",
    "rows {0} out.txt": "out.txt",
    "yarn {0} --gauge 16x18 --table out.csv": "out.csv",
}


def test_the_commands_tried_here_are_all_that_write_but_the_one_that_lays_out():
    # the one that compares ends with 1 where something differs, so it is tried by itself, below; so is what reads
    # a text; the editor's and the shell's write none
    assert {line.split()[0] for line in COMMANDS} | {"lab", "compare", "edit", "read", "completion"} == {
        command.name for command in cli.COMMANDS
    }


@pytest.mark.parametrize(("option", "out"), [("--table", "out.csv"), ("--picture", "out.png")])
def test_a_comparison_asks_for_replace_and_names_a_free_file(tmp_path, monkeypatch, capsys, option, out):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("MPLBACKEND", "Agg")
    for number, name in enumerate("abc", 1):
        mk.save(motif_of("", number), f"{name}.txt")
    assert cli.main(["compare", "a.txt", "b.txt", option, out]) == 1
    assert cli.main(["compare", "a.txt", "b.txt", option, out]) == 1, "its own file is replaced"
    before = Path(out).read_bytes()
    capsys.readouterr()
    assert cli.main(["compare", "a.txt", "c.txt", option, out]) == 2
    assert "which is free, or add `--replace` to replace it" in capsys.readouterr().err
    assert Path(out).read_bytes() == before
    assert cli.main(["compare", "a.txt", "c.txt", option, out, "--replace"]) == 1


@pytest.mark.thorough
@pytest.mark.parametrize("line", COMMANDS)
def test_a_command_that_writes_asks_for_replace_names_a_free_file_and_replaces_its_own(
    tmp_path, monkeypatch, capsys, line
):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("MPLBACKEND", "Agg")
    out = Path(COMMANDS[line])
    for name in ("leaf", "boat"):
        mk.save(motif_of("", 1), f"{name}.txt")
        share(Path(f"{name}.html"), name, 1)

    def call(name, *more, to=out.name):
        words = line.format(f"{name}.txt", f"{name}.ipynb").replace(out.name, to).split()
        return cli.main([*(word.replace("~", " ") for word in words), *more])

    def edit(name, version):
        mk.save(motif_of("", version), f"{name}.txt", replace=True)
        share(Path(f"{name}.html"), name, version)

    assert call("leaf") == 0
    edit("leaf", 2)
    edit("boat", 3)
    assert call("leaf") == 0, "the same picture's file is replaced, though it was drawn further"
    before = out.read_bytes()
    capsys.readouterr()
    assert call("boat") == 2
    said = capsys.readouterr().err
    free = f"out-2{out.suffix}"
    assert re.match(rf"mosaickit: '{out.name}' is there already and was left as it is: it is a \w+ of the \w+ '", said)
    assert said.endswith(f" bytes. Write '{free}', which is free, or add `--replace` to replace it.\n")
    assert said.count("\n") == 1
    assert (out.read_bytes(), Path(free).exists()) == (before, False)
    assert call("boat", to=free) == 0
    assert call("boat", "--replace") == 0
    assert out.read_bytes() != before


@pytest.mark.parametrize("line", [line for line in COMMANDS if "{0}" in line])
def test_pictures_of_one_name_in_two_folders_are_two_designs(tmp_path, monkeypatch, capsys, line):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("MPLBACKEND", "Agg")
    for number, folder in enumerate(("one", "two"), 1):
        Path(folder).mkdir()
        mk.save(motif_of("", number), f"{folder}/leaf.txt")
    for file, ended in (("one/leaf.txt", 0), ("two/leaf.txt", 2)):
        assert cli.main([word.replace("~", " ") for word in line.format(file).split()]) == ended
    assert "of the design 'one/leaf.txt', saved" in capsys.readouterr().err


def test_a_text_that_is_read_goes_into_no_file_of_another_design(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    for number, name in enumerate(("leaf", "boat"), 1):
        text = str(mk.write_rows(mk.compile_chart(motif_of(name, number))))
        Path(f"{name}-rows.txt").write_text(text, "utf-8")
    assert cli.main(["read", "leaf-rows.txt", "out.json"]) == 0
    assert cli.main(["read", "leaf-rows.txt", "out.json"]) == 0
    assert cli.main(["read", "boat-rows.txt", "out.json"]) == 2
    assert "which is free, or add `--replace`" in capsys.readouterr().err
    assert cli.main(["read", "boat-rows.txt", "out.json", "--replace"]) == 0


def test_the_file_that_was_read_may_be_written_again_whoever_saved_it(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    mk.save(mk.Design(motif_of("", 1)), "leaf.design")
    shutil.copy("leaf.design", "copied.design")
    assert cli.main(["repeat", "copied.design", "./copied.design", "--across", "2"]) == 0
    assert mk.load("copied.design").across == 2
    assert cli.main(["repeat", "leaf.design", "copied.design", "--across", "3"]) == 2


def test_a_free_name_in_another_folder_is_given_with_the_folder(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    Path("made").mkdir()
    mk.save(letter_f, "f.json")
    Path("made/f.svg").write_text("mine", "utf-8")
    assert cli.main(["chart", "f.json", "made/f.svg"]) == 2
    assert f"Write {str(Path('made/f-2.svg'))!r}, which is free" in capsys.readouterr().err


def test_notebooks_that_were_changed_are_put_back_only_if_asked(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert cli.main(["lab", "lessons", "--no-open"]) == 0
    (file,) = Path("lessons").rglob("01-reading-a-chart.ipynb")
    own = file.read_bytes()
    file.write_bytes(b"mine")
    capsys.readouterr()
    assert cli.main(["lab", "lessons", "--no-open"]) == 0
    assert capsys.readouterr().out.splitlines()[1:] == [
        "  notebooks/lessons/01-reading-a-chart.ipynb was changed by you, and is left as it is",
        "  Another folder would get them all as they come; `--replace` puts them back as they come here.",
    ]
    assert file.read_bytes() == b"mine"
    assert cli.main(["lab", "other", "--no-open"]) == 0
    assert (Path("other") / file.relative_to("lessons")).read_bytes() == own
    assert cli.main(["lab", "lessons", "--no-open", "--replace"]) == 0
    assert capsys.readouterr().out.endswith("lessons: 1 brought up to date.\n")
    assert file.read_bytes() == own


# ---- widgets ---------------------------------------------------------------------------------------------


def test_every_save_verb_of_the_widgets_asks_and_both_cures_work(tmp_path):
    planner = WidthPlanner(mk.load(SEED), folder=tmp_path / "made")
    (tmp_path / "made").mkdir()
    verbs = [planner.export]
    for verb in verbs:
        written = verb()
        first = written[0] if isinstance(written, list) else written
        verb()  # its own
        first.write_bytes(b"mine")
        with pytest.raises(TakenError, match="it is no longer"):
            verb()
        assert first.read_bytes() == b"mine"
        verb(replace=True)
        assert first.read_bytes() != b"mine"
    assert tables.save_table is mk.tables.save_table
