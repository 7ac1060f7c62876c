"""Begin: what is taken is what the library makes of it, in one step, and nothing of the design before stays."""

import base64
import io
import os
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw
from samples import letter_f, two_stacked

import mosaickit as mk
from mosaickit.errors import FileError
from mosaickit.files import gallery_motifs, motif_in, pixels_of
from mosaickit.sizes import all_designs, design_in, load_design
from mosaickit.widgets.book.begin_files import LARGEST_ARRIVAL
from mosaickit.widgets.book.begin_picture import MARK
from mosaickit.widgets.book.workbook import Workbook

GALLERY = Path(mk.__file__).parents[1] / "gallery" / "motifs"
OLD = mk.Design(letter_f, mk.Gauge(20, 24)).but(across=3, up=2, rings=2, title="Old", notes=["old"], reversible=True)
THREE_YARNS = mk.Motif(
    letter_f.grid,
    letter_f.first,
    mk.Yarns(mc=mk.Yarn("sand", "#e9dcc3"), cc=[(1, mk.Yarn("deep", "#123f5a")), (4, mk.Yarn("foam", "#3d8f92"))]),
    "three",
)


def opened(folder):
    book = Workbook(OLD, autosave=folder / "x.sketch", folder=folder)
    book.answers = []
    book.send = lambda content, buffers=None: book.answers.append(content)
    book._receive(None, {"view": "v", "seq": 0, "kind": "open", "panel": "begin"}, [])
    return book


@pytest.fixture
def book(tmp_path):
    return opened(tmp_path)


def press(book, what, buffers=(), /, kind="do", **values):
    content = {"view": "v", "seq": 1, "kind": kind, "panel": "begin", "name": what, "values": values}
    book._receive(None, content, list(buffers))
    return book.answers[-1]


def arrive(book, data, name, use="file", part=1000, **values):
    """Send a file as the page does; gives the last answer."""
    for at in range(0, max(len(data), 1), part):
        piece = [memoryview(data[at : at + part])] if data else []
        answer = press(book, "part", piece, key="k", at=at, total=len(data), name=name, use=use, **values)
        if "error" in answer:
            break
    return answer


def untouched(book):
    return book.design == OLD and book.head["open"] == "begin" and book.head["undo"] == ""


def house():
    """A drawing with shades, larger than the motif that is made of it."""
    image = Image.new("RGB", (320, 240), "#cfe0f5")
    pen = ImageDraw.Draw(image)
    pen.polygon([(0, 200), (120, 60), (240, 200)], fill="#4a3020")
    pen.rectangle([60, 150, 180, 239], fill="#904030")
    pen.ellipse([240, 20, 300, 80], fill="#fff0c0")
    return image


def png(image):
    kept = io.BytesIO()
    image.save(kept, "PNG")
    return kept.getvalue()


# ---- a new sheet -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("stitches", "rows"), [(1, 1), (24, 31), (400, 300)])
def test_a_sheet_is_plain_rows_that_can_be_worked(book, stitches, rows):
    assert press(book, "size", measure="squares", across=stitches, up=rows)["said"].startswith(f"{stitches} stitch")
    assert untouched(book)
    assert "error" not in press(book, "sheet", measure="squares", across=stitches, up=rows)
    assert book.design.motif.shape == (rows, stitches)
    assert not book.design.motif.overlaid.any()
    assert mk.check(book.design.motif).ok


@pytest.mark.parametrize(
    ("unit", "across", "up", "shape"),
    # by hand: 24 × 16.5 / 10 = 39.6, 31 × 18 / 10 = 55.8; 6 × 16.5 / 4 = 24.75, 8 × 18 / 4 = 36
    [("cm", 24, 31, (56, 40)), ("in", 6, 8, (36, 25))],
)
def test_a_size_in_lengths_is_counted_at_the_gauge_that_was_entered(book, unit, across, up, shape):
    asked = {"measure": unit, "across": across, "up": up, "gauge": {"stitches": 16.5, "rows": 18, "unit": unit}}
    said = press(book, "size", **asked)["said"]
    press(book, "sheet", **asked)
    assert book.design.motif.shape == shape
    assert book.design.gauge == mk.Gauge(16.5, 18, 10 if unit == "cm" else 4, unit)
    assert said == f"{shape[1]} stitches, {shape[0]} rows. Piece with its edge stitches: {book.design.size}."


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({"across": 0, "up": 9}, '"Stitches" must be a whole number of 1 or more'),
        ({"across": 9, "up": 2.5}, '"Rows" must be a whole number of 1 or more'),
        ({"across": None, "up": 9}, "Enter how wide and how high"),
        ({"across": "no number", "up": 9}, '"Stitches" must be'),
        ({"across": 10_001, "up": 9}, "10,000"),
        ({"measure": "cm", "across": 9, "up": 9}, "Enter the gauge too"),
        ({"measure": "cm", "across": 9, "up": 9, "gauge": {"stitches": 16, "rows": None}}, "enter the rows too"),
        ({"measure": "cm", "across": 0.1, "up": 9, "gauge": {"stitches": 16, "rows": 17}}, "less than half a stitch"),
        ({"measure": "cm", "across": "no number", "up": 9, "gauge": {"stitches": 16, "rows": 17}}, "Width"),
        ({"measure": "miles", "across": 9, "up": 9}, "measure"),
        ({"across": 9, "up": 9, "gauge": {"stitches": -1, "rows": 17}}, "Stitches"),
    ],
)
def test_what_is_no_size_says_why_and_changes_nothing(book, asked, sentence):
    for name in ("size", "sheet"):
        assert sentence in press(book, name, **asked)["error"]
        assert untouched(book)


# ---- the gallery and the folder ----------------------------------------------------------------------------


def test_the_gallery_is_what_its_files_hold(book):
    tiles = press(book, "gallery")["tiles"]
    motifs = {motif.name: motif for motif in map(mk.load, GALLERY.glob("*.json"))}
    assert [tile["name"] for tile in tiles] == sorted(motifs)
    assert all(tile["picture"].startswith("<svg") for tile in tiles)
    assert gallery_motifs() == motifs
    press(book, "motif", name="tawny owl")
    assert book.design == mk.Design(motifs["tawny owl"])
    assert "From the gallery: tawny owl: 21 stitches, 43 rows." in book.said
    assert "The gallery has no motif" in press(book, "motif", name="../seed")["error"]


@pytest.fixture
def folder(tmp_path):
    """Files of all kinds, each older than the one before."""
    scarf = mk.Design(letter_f, mk.Gauge(16, 18)).but(across=4, title="Scarf")
    mk.save(scarf, tmp_path / "scarf.design")
    mk.save(THREE_YARNS, tmp_path / "three.json")
    mk.save(letter_f, tmp_path / "f.png", square=4)
    mk.save(letter_f, tmp_path / "f.csv")
    mk.save(two_stacked, tmp_path / "stacked.txt")
    (tmp_path / "broken.design").write_text("{")
    (tmp_path / "diary.txt").write_text("Dear diary")
    (tmp_path / "long.csv").write_text("0,1\n" * 300_000)
    order = ["scarf.design", "three.json", "f.png", "f.csv", "stacked.txt", "broken.design", "diary.txt", "long.csv"]
    for number, name in enumerate(order):
        os.utime(tmp_path / name, (1_700_000_000 - number * 100,) * 2)
    return tmp_path


def test_the_folder_is_shown_the_latest_first_and_what_holds_no_design_says_why(book, folder):
    shown = press(book, "files")
    names = [tile["name"] for tile in shown["tiles"]]
    assert names == ["scarf.design", "three.json", "f.png", "f.csv", "stacked.txt", "long.csv"]
    scarf, three, *_, long = shown["tiles"]
    assert scarf["title"] == "Scarf"
    assert scarf["lines"][0] == str(load_design(folder / "scarf.design").size)
    assert scarf["lines"][-1].startswith("2023-11-1")
    assert all(colour in three["picture"] for colour in ("#e9dcc3", "#123f5a", "#3d8f92"))
    assert long["picture"] == ""
    assert [fault.partition(":")[0] for fault in shown["faults"]] == ["'broken.design'", "'diary.txt'"]
    few = press(book, "files", most=2)
    assert ([tile["name"] for tile in few["tiles"]], few["more"]) == (["scarf.design", "three.json"], 6)
    assert untouched(book)


@pytest.mark.parametrize("name", ["scarf.design", "three.json", "f.png", "f.csv", "stacked.txt"])
def test_a_file_of_the_folder_is_opened_as_it_is_now(book, folder, name):
    press(book, "files")
    press(book, "open", name=name)
    assert book.design == load_design(folder / name)
    assert book.said.startswith(f"Opened {name}: ")


def test_a_file_that_changed_since_it_was_shown_is_read_again(book, folder):
    press(book, "files")
    mk.save(two_stacked, folder / "three.json", replace=True)
    press(book, "open", name="three.json")
    assert book.design.motif == two_stacked


@pytest.mark.parametrize("name", ["broken.design", "diary.txt", "gone.json", "../elsewhere/f.json", None])
def test_a_file_that_cannot_be_opened_says_so_and_changes_nothing(book, folder, name):
    (folder.parent / "elsewhere").mkdir(exist_ok=True)
    mk.save(letter_f, folder.parent / "elsewhere" / "f.json", replace=True)
    assert repr(name) in press(book, "open", name=name)["error"] or name is None
    assert "error" in book.answers[-1]
    assert untouched(book)


def test_all_designs_lists_what_may_hold_motifs_too(folder):
    found = all_designs(folder)
    assert set(found.names) == {*mk.designs(folder).names, *mk.designs(folder).others}
    assert found["f.csv"].motif == mk.load(folder / "f.csv")
    (folder / "new.txt").write_text("..\n")
    assert "new.txt" in found.again().names


def test_a_folder_that_is_gone_is_said(book, tmp_path):
    book.folder = tmp_path / "gone"
    assert "could not be looked into" in press(book, "files")["error"]


# ---- from the device ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("part", [7, 10**6])
@pytest.mark.parametrize("name", ["scarf.design", "three.json", "f.png", "f.csv", "stacked.txt"])
def test_a_file_from_the_device_is_read_as_load_reads_it(book, folder, name, part):
    assert arrive(book, (folder / name).read_bytes(), f"C:\\fakepath\\{name}", part=part) == {
        "view": "v", "seq": 1, "whole": True,
    }  # fmt: skip
    assert book.design == load_design(folder / name)
    assert book.said.startswith(f"Opened {name}: ")


FAULTY = {
    "broken.png": (lambda: png(house())[:400], "cut short"),
    "note.png": (lambda: b"Dear diary", "This is no PNG picture"),
    "empty.json": (lambda: b"", "The file is empty."),
    "empty.design": (lambda: b"", "The file is empty."),
    "house.png": (lambda: png(house()), "is a third colour"),
    "list.json": (lambda: b"[" * 100_000, "nested too deeply"),
    "old.design": (lambda: b'{"format": "mosaickit design", "version": 99}', "version"),
    "noise.csv": (lambda: bytes(range(256)), "must be UTF-8 text"),
    "house.jpg": (lambda: b"\xff\xd8\xff" * 9, "ends in one of .json, .png, .csv, .txt"),
    "passwd": (lambda: b"..\n", "ends in one of"),
}


@pytest.mark.parametrize("name", FAULTY)
def test_a_faulty_file_says_its_sentence_and_changes_nothing(book, name):
    make, sentence = FAULTY[name]
    said = arrive(book, make(), f"../../{name}", part=10**6)["error"]
    assert said.startswith(f"'{name}': ")
    assert sentence in said
    assert untouched(book)


def test_a_png_is_known_by_its_bytes_whatever_its_name_says(tmp_path):
    file = mk.save(letter_f, tmp_path / "f.png", square=3)
    assert motif_in(file.read_bytes(), "f.json") == design_in(file.read_bytes(), "f.txt").motif == letter_f
    with pytest.raises(FileError, match=r"'f\.design': This is a PNG picture"):
        design_in(file.read_bytes(), "f.design")


def test_parts_that_do_not_fit_and_files_that_are_too_long_are_refused(book):
    data = mk.files.to_json(letter_f).encode()
    said = press(book, "part", [data[50:]], key="k", at=50, total=len(data), name="f.json", use="file")["error"]
    assert said == "'f.json' did not arrive whole: choose it again."
    press(book, "part", [data[:50]], key="one", at=0, total=len(data), name="f.json", use="file")
    answer = press(book, "part", [data[50:]], key="two", at=50, total=len(data), name="f.json", use="file")
    assert "did not arrive whole" in answer["error"]
    answer = press(book, "part", [data[60:]], key="one", at=60, total=len(data), name="f.json", use="file")
    assert "did not arrive whole" in answer["error"], "ten bytes are missing"
    answer = press(book, "part", [data], key="k", at=0, total=LARGEST_ARRIVAL + 1, name="f.json", use="file")
    assert answer["error"] == "'f.json' has 20.0 MB; at most 20 MB are read."
    assert untouched(book)


# ---- from a picture ----------------------------------------------------------------------------------------

SETTINGS = [
    ({}, {"stitches": 48}),
    ({"stitches": 30, "rows": 21, "invert": True}, {"stitches": 30, "rows": 21, "invert": True}),
    ({"greys": "dots", "stitches": 40}, {"stitches": 40, "dither": "error diffusion"}),
    ({"dark": "adaptive", "edges": 0}, {"stitches": 48, "threshold": "adaptive", "edges_weight": 0}),
    ({"dark": "tone", "tone": 70, "first": "CC"}, {"stitches": 48, "threshold": 0.7, "first": "CC"}),
    ({"left": 20, "top": 10, "right": 25, "bottom": 5}, {"stitches": 48, "crop": (0.2, 0.1, 0.75, 0.95)}),
]


@pytest.mark.parametrize(("asked", "options"), SETTINGS)
def test_a_picture_becomes_what_from_picture_makes_of_it(book, tmp_path, asked, options):
    house().save(tmp_path / "house.png")
    gauge = {"stitches": 16, "rows": 20, "unit": "cm"}
    arrive(book, (tmp_path / "house.png").read_bytes(), "house.png", "picture", part=10**6, gauge=gauge)
    press(book, "trace", gauge=gauge, **asked)
    direct = mk.from_picture(tmp_path / "house.png", gauge=mk.Gauge(16, 20), name="house", **options)
    shown = book.panel["traced"]
    assert untouched(book), "nothing lands in the design before it is taken"
    after = np.frombuffer(shown["after"]["squares"], np.uint8).reshape(direct.motif.shape)
    colours = [direct.motif.yarns.at(1, "MC").colour, direct.motif.yarns.at(1, "CC").colour]
    assert (after == np.where(direct.motif.grid, *map(shown["after"]["colours"].index, reversed(colours)))).all()
    before = np.frombuffer(shown["before"]["squares"], np.uint8).reshape(direct.motif.shape)
    assert ((before == shown["before"]["colours"].index(MARK)) == direct.changed).all()
    wrong = mk.check(mk.Motif(direct.before, direct.first)).count("error")
    assert shown["before"]["word"] == (
        f"Before: {wrong:,} squares cannot be worked" if wrong else "Before: all squares can be worked"
    )
    press(book, "use", gauge=gauge, **asked)
    assert book.design == mk.Design(direct.motif, mk.Gauge(16, 20))
    assert mk.check(book.design.motif).ok


def test_the_picture_itself_is_shown_small_as_it_is(book):
    arrive(book, png(house().resize((1000, 750))), "house.png", "picture", part=10**6)
    shown = press(book, "original")
    pixels = np.frombuffer(base64.b64decode(shown["pixels"]), np.uint8).reshape(shown["high"], shown["wide"], 4)
    assert (pixels[..., :3] == np.asarray(house().resize((1000, 750)))[::3, ::3]).all()
    assert (pixels[..., 3] == 255).all()
    grey = Image.fromarray(np.arange(100, dtype=np.uint16).reshape(10, 10) * 600)
    arrive(book, png(grey), "grey.png", "picture")
    pixels = np.frombuffer(base64.b64decode(press(book, "original")["pixels"]), np.uint8).reshape(10, 10, 4)
    assert (pixels[..., 0] == np.arange(100).reshape(10, 10) * 600 >> 8).all()


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({"stitches": 2}, "3 or more"),
        ({"stitches": None}, "Stitches"),
        ({"left": 60, "right": 40}, "must leave something"),
        ({"left": "no number"}, "left"),
        ({"dark": "tone", "tone": 101}, "tone"),
        ({"dark": "moon"}, "dark"),
        ({"greys": "lines"}, "greys"),
        ({"gauge": {"stitches": 16, "rows": None}}, "enter the rows too"),
    ],
)
def test_settings_that_cannot_be_are_refused_and_what_was_shown_stays(book, asked, sentence):
    arrive(book, png(house()), "house.png", "picture", part=10**6)
    before = book.panel["traced"]
    for name in ("trace", "use"):
        assert sentence in press(book, name, **asked)["error"]
        assert book.panel["traced"] == before
        assert untouched(book)


def test_what_is_no_picture_leaves_the_one_that_is_held(book):
    assert press(book, "use")["error"] == press(book, "trace")["error"] == "There is no picture yet: choose one."
    arrive(book, png(house()), "house.png", "picture", part=10**6)
    for name in ("note.png", "broken.png", "empty.json"):
        said = arrive(book, FAULTY[name][0](), name, "picture", part=10**6)["error"]
        assert said.startswith(f"'{name}': ")
        assert book.panel["traced"]["name"] == "house.png"
    assert untouched(book)
    with pytest.raises(FileError, match="no picture that can be read"):
        pixels_of(b"Dear diary")


def test_each_workbook_holds_its_own_picture(tmp_path):
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    one, other = opened(tmp_path / "a"), opened(tmp_path / "b")
    arrive(one, png(house()), "house.png", "picture", part=10**6)
    assert one.panel["traced"]["name"] == "house.png"
    assert "no picture yet" in press(other, "trace")["error"]
    assert other.panel["traced"] is None


# ---- at random ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("share", [16, 40])
@pytest.mark.parametrize("symmetry", ["none", "mirror", "up-down", "half-turn", "both"])
def test_what_is_drawn_at_random_is_as_asked_and_is_what_is_taken(book, symmetry, share):
    asked = {"stitches": 16, "rows": 21, "symmetry": symmetry, "share": share}
    press(book, "draw", **asked)
    shown = book.panel["chance"]["squares"]
    assert untouched(book)
    grid = np.frombuffer(shown["squares"], np.uint8).reshape(21, 16)
    turned = {
        "none": [grid],
        "mirror": [grid[:, ::-1]],
        "up-down": [grid[::-1]],
        "half-turn": [grid[::-1, ::-1]],
        "both": [grid[:, ::-1], grid[::-1]],
    }
    assert all((grid == other).all() for other in turned[symmetry])
    press(book, "keep")
    assert (np.array(shown["colours"])[grid] == np.where(
        book.design.motif.grid, book.design.motif.yarns.at(1, "CC").colour, book.design.motif.yarns.at(1, "MC").colour
    )).all()  # fmt: skip
    assert mk.check(book.design.motif).ok
    assert share - 2 <= 100 * book.design.motif.overlaid.mean() <= share + 2


def test_another_one_is_another_one(book):
    drawn = set()
    for _ in range(3):
        press(book, "draw", stitches=16, rows=21, symmetry="none", share=None)
        drawn.add(book.panel["chance"]["squares"]["squares"])
    assert len(drawn) == 3, "of more than 10,946 to the 16th"


def test_a_share_that_no_motif_has_names_one_that_can_be_drawn(book):
    asked = {"stitches": 16, "rows": 21, "symmetry": "both"}
    assert press(book, "keep")["error"] == "Nothing is drawn yet."
    said = press(book, "draw", share=80, **asked)["error"]
    assert said.startswith("No motif of this size and symmetry has about 80% of its squares overlaid; the nearest")
    near = int(said.split("about ")[-1].rstrip("%."))
    assert "error" not in press(book, "draw", share=near, **asked)
    assert "error" in press(book, "draw", share=near + 1, **asked)
    assert "at least 1 row" in press(book, "draw", stitches=3, rows=0, share=80)["error"]
    assert untouched(book)


# ---- what is taken -----------------------------------------------------------------------------------------

GAUGE = {"stitches": 18, "rows": 22, "unit": "in"}


def take(book, way, gauge):
    if way == "sheet":
        return press(book, "sheet", across=5, up=7, gauge=gauge)
    if way == "motif":
        return press(book, "motif", name="seed", gauge=gauge)
    if way == "open":
        mk.save(THREE_YARNS, book.folder / "three.json")
        return press(book, "open", name="three.json", gauge=gauge)
    if way == "part":
        return arrive(book, mk.files.to_json(THREE_YARNS).encode(), "three.json", gauge=gauge)
    if way == "use":
        arrive(book, png(house()), "house.png", "picture", part=10**6)
        return press(book, "use", stitches=20, gauge=gauge)
    if way == "relative":
        name = press(book, "family", of="seed")["tiles"][2]["name"]
        return press(book, "relative", name=name, gauge=gauge)
    press(book, "draw")
    return press(book, "keep", gauge=gauge)


@pytest.mark.parametrize("way", ["sheet", "motif", "relative", "open", "part", "use", "keep"])
@pytest.mark.parametrize("gauge", [None, GAUGE])
def test_nothing_of_the_design_before_stays_and_one_undo_brings_it_back(book, way, gauge):
    assert "error" not in take(book, way, gauge)
    files_know_theirs = way in ("open", "part")
    wanted = None if gauge is None or files_know_theirs else mk.Gauge(18, 22, 4, "in")
    assert book.design == mk.Design(book.design.motif, wanted)
    assert book.design.motif.yarns == (THREE_YARNS if files_know_theirs else book.design.motif).yarns
    assert book.head["open"] == "picture"
    assert book.said.endswith("Undo brings back what was open before.")
    book._receive(None, {"view": "v", "seq": 2, "kind": "undo"}, [])
    assert book.design == OLD
    assert book.head["undo"] == ""


@pytest.mark.parametrize("late", ["gallery", "family", "files", "size", "trace", "original", "draw"])
def test_what_was_asked_while_the_hand_pressed_leaves_what_came_of_the_press_said(book, late):
    take(book, "use", None)
    said = book.said
    assert said.startswith("From the picture house.png: ")
    sheet = {"measure": "squares", "across": 9, "up": 9}
    assert "error" not in press(book, late, kind="ask", **sheet)
    assert book.said == said
    press(book, late, **sheet)
    assert book.said == ""


@pytest.mark.parametrize("of", ["", "seed"])
def test_a_family_is_that_of_the_motif_in_hand_or_of_one_of_the_gallery(book, of):
    wanted = mk.family(mk.files.gallery_motifs()["seed"] if of else OLD.motif, most=60)
    answer = press(book, "family", of=of)
    assert [tile["name"] for tile in answer["tiles"]] == [each.name for each in wanted]
    assert answer["gallery"] == list(mk.files.gallery_motifs())
    assert untouched(book)
    for at in (0, len(wanted) - 1):
        assert "error" not in press(book, "relative", name=answer["tiles"][at]["name"])
        assert (book.design.motif.grid == wanted[at].motif.grid).all()
        assert mk.check(book.design.motif).ok


def test_a_family_that_is_not_there_says_so_and_changes_nothing(book):
    assert press(book, "relative", name="mirrored")["error"] == "No family is shown yet: choose a motif first."
    assert "no motif 'dragon'" in press(book, "family", of="dragon")["error"]
    press(book, "family", of="seed")
    assert "No variant is named 'dragon'" in press(book, "relative", name="dragon")["error"]
    assert untouched(book)
    press(book, "sheet", across=201, up=101)
    assert "20,301 squares; a family is made of motifs of up to 20,000" in press(book, "family", of="")["error"]


def test_what_begin_does_not_know_is_refused(book):
    assert press(book, "dance")["error"] == "Begin knows no 'dance'."
    assert "use" in press(book, "part", key="k", at=0, total=0, use="dance")["error"]
    assert untouched(book)
