"""Photographs of a design: inside its file, bounded, on its page and in the workbook; what is no picture says so."""

import base64
import io
import json

import jsonschema
import numpy as np
import pytest
from PIL import Image
from test_book_share import Pressing
from test_publishing import picture

import mosaickit as mk
from mosaickit import Photograph
from mosaickit.errors import FileError, MosaickitError, OptionError
from mosaickit.sizes import MOST_PHOTOGRAPH_BYTES, MOST_PHOTOGRAPHS
from mosaickit.sizes.designs import documents
from mosaickit.widgets.book.share_python import python_of
from mosaickit.widgets.sketch import Sketch

MAT = mk.Design(mk.Motif.from_text("...\n###\n.#.\n###\n...", name="mat"), mk.Gauge(16, 18))


def noise(side, seed, kind="JPEG", **options):
    """A picture that cannot be written small."""
    pixels = np.random.default_rng(seed).integers(0, 256, (side, side + 20, 3), dtype=np.uint8)
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, kind, **options)
    return out.getvalue()


WHOLE = Photograph(noise(60, 1), "The whole mat on a table.", "On the table")
BACK = Photograph(picture(), "Its back.")
PICTURED = MAT.but(photographs=[WHOLE, BACK])


def test_a_design_with_photographs_comes_back_from_its_file_to_the_byte(tmp_path):
    file = mk.save(PICTURED, tmp_path / "mat.design")
    back = mk.load(file)
    assert back == PICTURED
    assert [each.data for each in back.photographs] == [WHOLE.data, BACK.data]
    assert mk.save(back, tmp_path / "again.design").read_bytes() == file.read_bytes()
    # in base64, as RFC 4648 has it, read here by the standard library
    told = json.loads(file.read_text("utf-8"))["photographs"]
    assert [base64.b64decode(each["picture"]) for each in told] == [WHOLE.data, BACK.data]
    jsonschema.validate(json.loads(file.read_text("utf-8")), json.loads(documents.schema()))


def test_a_page_has_the_photographs_of_its_design_unless_others_are_given():
    assert PICTURED.page().photographs == (WHOLE, BACK)
    assert PICTURED.page([BACK]).photographs == (BACK,)
    assert PICTURED.page([]).photographs == ()
    sized = PICTURED.but(sizes=[mk.NamedSize("S"), mk.NamedSize("M", across=2)], colours="swap")
    assert sized.page().photographs == (WHOLE, BACK)


def test_a_picture_that_is_as_it_is_kept_stays_to_the_byte_and_all_else_is_written_again():
    plain = noise(40, 2)
    assert Photograph(plain, "x").data == plain
    with_notes = Image.Exif()
    with_notes[0x010E] = "taken at home"
    for other in (
        noise(40, 2, exif=with_notes.tobytes()),
        plain + b"something behind the end",
        plain[:2] + b"\xff\xfe\x00\x09a note" + plain[2:],
        noise(40, 2, progressive=True),
    ):
        kept = Photograph(other, "x").data
        assert kept != other
        assert b"taken at home" not in kept
        assert b"something" not in kept
        assert b"a note" not in kept
        assert Photograph(kept, "x").data == kept


def test_editions_have_no_pictures_and_two_designs_are_compared_by_what_theirs_show():
    kept = PICTURED.edition("first")
    assert kept.photographs == (WHOLE, BACK)
    assert kept.editions[0].design.photographs == ()
    assert "Photographs: The whole mat on a table.; Its back., now none" in str(mk.compare(PICTURED, MAT))


def test_python_of_a_design_says_that_its_photographs_are_in_its_file():
    code = python_of(PICTURED)
    assert "# its photographs stand in the design's file only" in code
    there = {}
    exec(code, there)
    assert there["design"] == MAT


# ---- what cannot be ----------------------------------------------------------------------------------------


def changed(change):
    told = json.loads(documents.design_to_json(PICTURED))
    change(told["photographs"])
    return json.dumps(told)


def bomb():
    """A PNG that says that it has a million million pixels; its checksums are right."""
    import struct
    import zlib

    def chunk(name, data):
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", 10**6, 10**6, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


def in_base64(data):
    return base64.b64encode(data).decode()


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (lambda all: all[1].update(picture="no base64!"), r"photographs.*2.*picture"),
        (lambda all: all[1].update(picture="AAAAA"), "Expected the bytes of a JPEG or PNG file in base64"),
        (lambda all: all[0].update(picture=in_base64(b"<script>alert(1)</script>")), "must be a PNG or JPEG file"),
        (lambda all: all[0].update(picture=in_base64(WHOLE.data[: len(WHOLE.data) // 2])), "photographs"),
        (lambda all: all[0].update(picture=in_base64(b"\xff\xd8\xff\xd9")), "photographs"),
        (lambda all: all[0].update(picture=in_base64(bomb())), "pixels"),
        (lambda all: all[0].update(text=""), "text"),
        (lambda all: all[0].update(text="   "), "must say what a photograph shows"),
        (lambda all: all[0].update(place="here"), "place"),
        (lambda all: all[0].pop("text"), "text"),
        (lambda all: all.extend(all[:1] * MOST_PHOTOGRAPHS), "photographs"),
    ],
)
def test_damaged_and_hostile_pictures_are_refused_in_a_sentence_that_names_them(change, sentence, tmp_path):
    file = tmp_path / "mat.design"
    file.write_text(changed(change), "utf-8")
    before = file.read_bytes()
    with pytest.raises(FileError, match=sentence) as refused:
        mk.load(file)
    assert str(refused.value).startswith("'mat.design': At ")
    assert file.read_bytes() == before


def test_photographs_are_bounded_together_and_each_says_what_it_shows():
    large = [Photograph(noise(1600, number), f"part {number}") for number in range(6)]
    assert sum(len(each.data) for each in large) > MOST_PHOTOGRAPH_BYTES
    with pytest.raises(OptionError, match="`photographs` of a design may have 8,000,000 bytes together; these have"):
        MAT.but(photographs=large)
    with pytest.raises(OptionError, match=f"`photographs` must be at most {MOST_PHOTOGRAPHS}; got 13"):
        MAT.but(photographs=[BACK] * 13)
    with pytest.raises(OptionError, match="photographs"):
        MAT.but(photographs=["a.jpg"])


# ---- in the workbook ---------------------------------------------------------------------------------------


@pytest.fixture
def pressed(tmp_path):
    (tmp_path / "front.jpg").write_bytes(WHOLE.data)
    (tmp_path / "back.PNG").write_bytes(picture())
    (tmp_path / "broken.jpg").write_bytes(b"\xff\xd8\xff nothing more")
    (tmp_path / "notes.txt").write_text("not a picture")
    return Pressing(MAT, tmp_path, "share")


def test_photographs_are_chosen_worded_led_and_taken_out_in_the_workbook(pressed, tmp_path):
    assert pressed.view["photographs"]["files"] == ["back.PNG", "broken.jpg", "front.jpg"]
    assert "error" not in pressed("add_photograph", file="back.PNG", text="Its back.", caption="")
    pressed("add_photograph", file="front.jpg", text="The whole mat on a table.", caption="On the table")
    assert pressed.book.design.photographs == (BACK, WHOLE)
    pressed("lead_photograph", at=2)
    assert pressed.book.design == PICTURED
    shown = pressed.view["photographs"]["kept"]
    assert [(each["text"], each["size"]) for each in shown] == [
        (WHOLE.text, "80 × 60 pixels"),
        (BACK.text, "40 × 20 pixels"),
    ]
    small = Image.open(io.BytesIO(base64.b64decode(shown[0]["picture"].partition(",")[2])))
    assert max(small.size) <= 160
    pressed("word_photograph", at=2, text="The back, with its strands.", caption="")
    assert pressed.book.design.photographs[1].text == "The back, with its strands."
    assert pressed.book.design.photographs[1].data == BACK.data
    file = tmp_path / pressed.save("design")["saved"]["name"]
    assert mk.load(file) == pressed.book.design
    page = (tmp_path / pressed.save("pattern.html")["saved"]["name"]).read_text("utf-8")
    assert base64.b64encode(WHOLE.data).decode() in page
    assert "The back, with its strands." in page
    pressed("drop_photograph", at=2)
    assert pressed.book.design.photographs == (WHOLE,)


def test_the_journal_keeps_photographs_once_and_gives_them_back_with_every_step(tmp_path):
    large = Photograph(noise(400, 3), "large")
    first = Pressing(MAT.but(photographs=[large]), tmp_path, "share")
    for across in range(2, 12):
        first.book.change(first.book.design.but(across=across), f"{across} across")
    designs = first.book.design
    journal = tmp_path / "x.sketch"
    assert journal.stat().st_size < 3 * len(large.data)  # eleven times it would be more
    first.book.close()
    again = Sketch.read(journal)
    assert again.design == designs
    for across in range(10, 0, -1):
        again.undo()
        assert (again.design.across, again.design.photographs) == (across, (large,))


@pytest.mark.parametrize(
    ("name", "values", "sentence"),
    [
        ("add_photograph", {"file": "", "text": "x"}, "Choose a file first"),
        ("add_photograph", {"file": "broken.jpg", "text": "x"}, "broken.jpg"),
        ("add_photograph", {"file": "gone.jpg", "text": "x"}, "There is no such file"),
        ("add_photograph", {"file": "../front.jpg", "text": "x"}, "is a file in the folder of this workbook"),
        ("add_photograph", {"file": "notes.txt", "text": "x"}, "must be a PNG or JPEG file"),
        ("add_photograph", {"file": "front.jpg", "text": " "}, "must say what a photograph shows"),
        ("add_photograph", {"file": "front.jpg", "text": 3}, "must be text"),
        ("lead_photograph", {"at": 2}, "The design has no photograph"),
        ("drop_photograph", {}, "The design has no photograph"),
    ],
)
def test_what_cannot_be_is_a_sentence_and_leaves_the_design_as_it_was(pressed, name, values, sentence):
    before = pressed.book.design
    assert sentence in pressed(name, **values)["error"]
    assert pressed.book.design is before


def test_a_number_of_no_photograph_is_refused(pressed):
    pressed("add_photograph", file="front.jpg", text="The whole mat on a table.")
    for at in (0, 2, "1", None):
        assert '"photograph" must be a whole number from 1 to 1' in pressed("drop_photograph", at=at)["error"]
    with pytest.raises(MosaickitError):
        Photograph(b"", "x")
