"""Motif files: what is saved is loaded again, what is wrong is told in one sentence, and no file is left half-written.

The opponents: `jsonschema` reads our schema, Pillow reads and writes PNG.
"""

import errno
import io
import json
import os
import re
import stat
import struct
import zlib
from pathlib import Path
from tempfile import TemporaryDirectory

import jsonschema
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageOps, PngImagePlugin
from samples import letter_f, single, two_stacked
from strategies import motifs

import mosaickit as mk
from mosaickit import Motif, Yarn, Yarns
from mosaickit.errors import FileError, MosaickitError, OptionError
from mosaickit.files import formats, load, png, save, write_whole

SCHEMA = json.loads((Path(mk.__file__).parent / "files" / "motif.schema.json").read_text("utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
NOTE_VALIDATOR = jsonschema.Draft202012Validator({"$defs": SCHEMA["$defs"], "$ref": "#/$defs/PngNote"})

SEA = Yarns(
    mc=[(1, Yarn("sand", "#e9dcc3")), (4, Yarn("Düne ⛱", "#d8c4a0"))],
    cc=[(1, Yarn("deep", "#123f5a")), (3, Yarn('"foam", \\', "#3d8f92"))],
)
FLAG = Motif.from_text("....\n.##.\n.#..\n....", "CC", yarns=SEA, name="Fahne <&> \U0001f9f6")


def put(folder, name, data):
    file = folder / name
    file.write_bytes(data.encode("utf-8") if isinstance(data, str) else data)
    return file


def picture(pixels, mode=None, **options):
    """A PNG of Pillow's making."""
    out = io.BytesIO()
    image = Image.fromarray(np.asarray(pixels, dtype=np.uint8))
    (image.convert(mode) if mode else image).save(out, "PNG", **options)
    return out.getvalue()


def chunk(kind, body):
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def raw_png(width, height, depth, kind, lines, *extra, interlaced=0):
    """A PNG put together by hand, for what Pillow would not write."""
    header = struct.pack(">IIBBBBB", width, height, depth, kind, 0, 0, interlaced)
    parts = [(b"IHDR", header), *extra, (b"IDAT", zlib.compress(lines)), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunk(*part) for part in parts)


def note_of(file):
    with Image.open(file) as image:
        return json.loads(image.text["mosaickit motif"])


def with_note(note, pixels=((255, 0), (0, 255))):
    info = PngImagePlugin.PngInfo()
    info.add_text("mosaickit motif", note if isinstance(note, str) else json.dumps(note))
    return picture(pixels, pnginfo=info)


NOTE = {
    "format": "mosaickit motif",
    "version": 1,
    "first": "CC",
    "square": 1,
    "pixels": {"MC": "#ffffff", "CC": "#000000"},
}


# ---- laws ------------------------------------------------------------------------------------------------


@given(motifs())
def test_a_motif_saved_as_json_and_loaded_is_the_same_motif(motif):
    with TemporaryDirectory() as folder:
        file = save(motif, Path(folder) / "motif.json")
        assert load(file) == load(file, first=motif.first) == motif
        VALIDATOR.validate(json.loads(file.read_bytes()))


@given(motifs(), st.integers(1, 3))
def test_a_motif_saved_as_png_and_loaded_is_the_same_motif(motif, square):
    with TemporaryDirectory() as folder:
        file = save(motif, Path(folder) / "motif.png", square=square)
        assert load(file) == load(file, square=square, first=motif.first) == motif
        NOTE_VALIDATOR.validate(note_of(file))


@given(motifs(), st.sampled_from(["csv", "txt"]))
def test_csv_and_text_keep_the_squares(motif, ending):
    with TemporaryDirectory() as folder:
        file = save(motif, Path(folder) / f"motif.{ending}")
        assert load(file, first=motif.first) == Motif(motif.grid, motif.first)
        assert load(file).first == "MC"


@given(motifs(), st.integers(1, 3))
def test_pillow_sees_the_first_yarns_in_a_saved_png(motif, square):
    mc, cc = motif.yarns.at(1, "MC").colour, motif.yarns.at(1, "CC").colour
    if mc == cc:
        mc, cc = "#ffffff", "#000000"
    with TemporaryDirectory() as folder:
        file = save(motif, Path(folder) / "motif.png", square=square)
        with Image.open(file) as image:
            assert image.mode == "P"
            seen = np.asarray(image.convert("RGB"))
    colours = np.array([list(bytes.fromhex(colour[1:])) for colour in (mc, cc)])
    assert np.array_equal(seen, colours[motif.grid.repeat(square, 0).repeat(square, 1).astype(int)])


@settings(max_examples=15)
@given(motifs())
def test_equal_motifs_give_equal_bytes(motif):
    with TemporaryDirectory() as folder:
        for ending in formats.FORMATS:
            one, two = (save(motif, Path(folder) / f"{n}.{ending}").read_bytes() for n in "12")
            assert one == two


def test_a_json_file_reads_well(tmp_path):
    assert save(FLAG, tmp_path / "flag.json").read_text("utf-8").split('"yarns"')[0] == (
        '{\n  "format": "mosaickit motif",\n  "version": 1,\n  "name": "Fahne <&> \U0001f9f6",\n  "first": "CC",\n'
        '  "rows": [\n    "....",\n    ".##.",\n    ".#..",\n    "...."\n  ],\n  '
    )
    assert (tmp_path / "flag.json").read_bytes().endswith(b"}\n")


def test_a_csv_and_a_text_file_read_well(tmp_path):
    assert save(FLAG, tmp_path / "flag.csv").read_bytes() == b"0,0,0,0\n0,1,1,0\n0,1,0,0\n0,0,0,0\n"
    assert save(FLAG, tmp_path / "flag.txt").read_bytes() == b"....\n.##.\n.#..\n....\n"


def test_the_ending_says_the_format_in_either_case_and_an_argument_overrides_it(tmp_path):
    assert load(save(FLAG, str(tmp_path / "flag.JSON"))) == FLAG
    assert load(save(FLAG, tmp_path / "flag.bak", format="png"), format="png") == FLAG


# ---- the schema ------------------------------------------------------------------------------------------

GOOD = {
    "format": "mosaickit motif",
    "version": 1,
    "name": "leaf",
    "first": "MC",
    "rows": ["..", ".#", ".."],
    "yarns": {
        "MC": [{"from_row": 1, "name": "sand", "colour": "#E9DCC3"}],
        "CC": [
            {"from_row": 1, "name": "deep", "colour": "#123f5a"},
            {"from_row": 3, "name": "foam", "colour": "#3d8f92"},
        ],
    },
}


def changed(document, *place, to=None):
    """A copy with one thing set, or taken out."""
    copy = json.loads(json.dumps(document))
    inner = copy
    for part in place[:-1]:
        inner = inner[part]
    if to is None:
        del inner[place[-1]]
    else:
        inner[place[-1]] = to
    return copy


def test_the_schema_is_one():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    NOTE_VALIDATOR.validate(NOTE)
    assert list(NOTE_VALIDATOR.iter_errors(changed(NOTE, "square")))


@pytest.mark.parametrize("left_out", [(), ("name",), ("yarns",)])
def test_what_may_be_left_out_is_filled_in(tmp_path, left_out):
    document = changed(GOOD, *left_out) if left_out else GOOD
    VALIDATOR.validate(document)
    motif = load(put(tmp_path, "leaf.json", "\ufeff" + json.dumps(document).replace(", ", ",\r\n")))
    assert motif.to_text() == "..\n.#\n.."
    assert (motif.name or "-") == ("-" if left_out == ("name",) else "leaf")
    assert motif.yarns.at(3, "CC").name == ("ink blue" if left_out == ("yarns",) else "foam")


# each is refused by the schema too
BROKEN = {
    "no object": ([], 'This is no motif: expected an object with "format": "mosaickit motif".'),
    "no format": (changed(GOOD, "format"), "This is no motif: expected an object"),
    "another format": (changed(GOOD, "format", to="chart"), "This is no motif: expected an object"),
    "no version": (changed(GOOD, "version"), 'The key "version" is missing.'),
    "a later version": (
        changed(GOOD, "version", to=7),
        "This file is of version 7; this mosaickit reads version 1: save the file in that version",
    ),
    "a version in words": (changed(GOOD, "version", to="1"), "At \"version\": Expected a whole .*, found '1'."),
    "a version that is true": (changed(GOOD, "version", to=True), 'At "version": Expected a whole .*, found true.'),
    "no first": (changed(GOOD, "first"), 'The key "first" is missing.'),
    "another first": (changed(GOOD, "first", to="red"), 'At "first": Expected "MC" or "CC", found \'red\'.'),
    "a first that is a list": (
        changed(GOOD, "first", to=["MC"]),
        r"At .first.: Expected .MC. or .CC., found \['MC'\].",
    ),
    "an unknown key": (
        changed(GOOD, "stitch", to=1),
        'The key \'stitch\' is unknown here; known are "format", "version", "name", "first", "rows", "yarns".',
    ),
    "a name that is a number": (changed(GOOD, "name", to=3), 'At "name": Expected text in quotes.*, found 3.'),
    "a long name": (changed(GOOD, "name", to="x" * 201), 'At "name": Expected text .*, of at most 200 characters'),
    "no rows": (changed(GOOD, "rows"), 'The key "rows" is missing.'),
    "empty rows": (changed(GOOD, "rows", to=[]), r'At "rows": Expected a list of 1 to 10,000 entries, found \[\].'),
    "an empty row": (changed(GOOD, "rows", to=[""]), 'At "rows": The picture is empty'),
    "rows in one": (changed(GOOD, "rows", to=".."), "At \"rows\": Expected a list of 1 to 10,000 .* found '..'."),
    "a row that is a number": (changed(GOOD, "rows", 1, to=7), 'At "rows", entry 2: Expected text .*, found 7.'),
    "another square": (changed(GOOD, "rows", 1, to=".x"), "At \"rows\": Line 2, column 2: expected .*, found 'x'."),
    "too many rows": (changed(GOOD, "rows", to=["."] * 10_001), 'At "rows": Expected a list of 1 to 10,000'),
    "a row too long": (changed(GOOD, "rows", to=["." * 10_001]), 'At "rows", entry 1: .* at most 10,000 characters'),
    "yarns in a list": (changed(GOOD, "yarns", to=[]), r'At "yarns": Expected an object in braces, found \[\].'),
    "one colour's yarns": (changed(GOOD, "yarns", "CC"), 'At "yarns": The key "CC" is missing.'),
    "no yarn": (
        changed(GOOD, "yarns", "CC", to=[]),
        r'At "yarns", "CC": Expected a list of 1 to 10,000 entries, found \[\].',
    ),
    "a yarn without name": (changed(GOOD, "yarns", "CC", 1, "name"), 'At "yarns", "CC", entry 2: The key "name" is'),
    "a yarn with weight": (
        changed(GOOD, "yarns", "CC", 1, "weight", to=1),
        'At "yarns", "CC", entry 2: The key \'weight\' is unknown here; known are "from_row", "name", "colour".',
    ),
    "a colour in words": (
        changed(GOOD, "yarns", "CC", 1, "colour", to="red"),
        r'At "yarns", "CC", entry 2, "colour": Expected text in quotes, as "#1f4e79" \(red, .* each\), found .red.\.',
    ),
    "a colour that is a number": (
        changed(GOOD, "yarns", "MC", 0, "colour", to=0),
        'At "yarns", "MC", entry 1, "colour": Expected text in quotes, as "#1f4e79" .*, found 0.',
    ),
    "row 0": (changed(GOOD, "yarns", "CC", 0, "from_row", to=0), 'At "yarns", "CC", entry 1, "from_row": Expected a'),
    "half a row": (changed(GOOD, "yarns", "CC", 1, "from_row", to=1.5), '.*entry 2, "from_row": .* found 1.5.'),
}


@pytest.mark.parametrize("case", BROKEN)
def test_json_that_is_no_motif_is_refused_by_us_and_by_the_schema(tmp_path, case):
    document, message = BROKEN[case]
    assert list(VALIDATOR.iter_errors(document))
    with pytest.raises(FileError, match=f"^'leaf.json': {message}"):
        load(put(tmp_path, "leaf.json", json.dumps(document)))


TEXT = json.dumps(GOOD)


# what a schema cannot say
@pytest.mark.parametrize(
    ("text", "message"),
    [
        (TEXT[:-1], r"Line 1, column \d+: this is no JSON \(Expecting ',' delimiter\)."),
        (
            TEXT.replace(', "name": "leaf"', ',\n"name": leaf'),
            r"Line 2, column 9: this is no JSON \(Expecting value\).",
        ),
        (TEXT + TEXT, r"Line 1, column \d+: this is no JSON \(Extra data\)."),
        (TEXT.replace('"name"', '"first": "CC", "name"'), "The key 'first' stands twice in one object; keep one of"),
        (TEXT.replace('"version": 1', '"version": NaN'), "NaN is no number of JSON."),
        (TEXT.replace('"version": 1', '"version": -Infinity'), "-Infinity is no number of JSON."),
        (TEXT.replace('"version": 1', '"version": 1e999'), 'At "version": Expected a whole number .*, found inf.'),
        (TEXT.replace('"version": 1', '"version": 1.0'), 'At "version": Expected a whole number .*, found 1.0.'),
        (
            TEXT.replace('"version": 1', '"version": ' + "9" * 5000),
            "No number in a file has 5,000 digits; it may have 18.",
        ),
        ("[" * 100_000, "Its lists or objects are nested too deeply."),
        (TEXT.replace('"name": "leaf"', '"name": ' + "[" * 100_000 + "]" * 100_000), "are nested too deeply."),
        (TEXT.replace("leaf", r"a\nb"), r'At "name": A name must be one line of printable characters; found .\\n.\.'),
        (
            TEXT.replace("leaf", r"\ud800"),
            r'At "name": Expected text of whole characters, found half of one in .\\ud800.\.',
        ),
        (TEXT.replace("foam", r"\u0000"), r'At "yarns", "CC", entry 2, "name": A name must be one line of pri'),
        (TEXT.replace('".#"', '".#."'), 'At "rows": Line 2 has 3 squares, but line 1 has 2'),
        (TEXT.replace('"from_row": 3', '"from_row": 1'), 'At "yarns": The yarns of CC must change at rising rows'),
        (
            TEXT.replace('"from_row": 3', '"from_row": 4'),
            "must not change above its last row, 3; they change at row 4.",
        ),
        (TEXT.replace('"from_row": 1', '"from_row": 2'), 'At "yarns": The first yarn of MC must start at row 1'),
    ],
)
def test_json_that_no_schema_would_refuse_is_refused_with_its_place(tmp_path, text, message):
    with pytest.raises(FileError, match=f"^'leaf.json': .*{message}"):
        load(put(tmp_path, "leaf.json", text))


def test_a_first_that_the_file_denies_is_refused(tmp_path):
    for file in (save(FLAG, tmp_path / "flag.json"), save(FLAG, tmp_path / "flag.png")):
        with pytest.raises(FileError, match="The file says that row 1 is worked in CC, but `first` says MC: leave"):
            load(file, first="MC")


# ---- PNG pictures from elsewhere -------------------------------------------------------------------------

F_GREYS = np.where(letter_f.grid, 40, 200).astype(np.uint8)


def rgb(greys, *offset):
    return np.stack([greys - np.uint8(shift) for shift in offset], axis=-1)


PICTURES = {
    "1": (lambda: picture(255 * ~letter_f.grid, "1"), "#ffffff", "#000000"),
    "L": (lambda: picture(F_GREYS), "#c8c8c8", "#282828"),
    "P": (lambda: picture(F_GREYS, "P"), "#c8c8c8", "#282828"),
    "P, transparent colour unused": (lambda: picture(F_GREYS, "P", transparency=7), "#c8c8c8", "#282828"),
    "RGB": (lambda: picture(rgb(F_GREYS, 0, 1, 2)), "#c8c7c6", "#282726"),
    "RGBA": (lambda: picture(F_GREYS, "RGBA"), "#c8c8c8", "#282828"),
    "LA": (lambda: picture(F_GREYS, "LA"), "#c8c8c8", "#282828"),
    "2 bits": (
        # two squares to a byte's quarter: 0 is black, 2 of 3 is light grey
        lambda: raw_png(
            7,
            7,
            2,
            0,
            b"".join(
                b"\0" + np.packbits(np.pad(~row, (0, 1)).repeat(2) & [True, False] * 8).tobytes()
                for row in letter_f.grid
            ),
        ),
        "#aaaaaa",
        "#000000",
    ),
    "16 bits": (
        lambda: raw_png(7, 7, 16, 0, b"".join(b"\0" + row.tobytes() for row in F_GREYS.astype(">u2") * 257)),
        "#c8c8c8",
        "#282828",
    ),
    # Pillow would refuse to unpack the text, if it were given it
    "with a text of two million characters": (
        lambda: raw_png(
            7,
            7,
            8,
            0,
            b"".join(b"\0" + row.tobytes() for row in F_GREYS),
            (b"zTXt", b"Comment\0\0" + zlib.compress(bytes(2_000_000))),
        ),
        "#c8c8c8",
        "#282828",
    ),
    "with profile, text and turn": (
        lambda: picture(
            F_GREYS,
            icc_profile=b"no profile",
            exif=b"Exif\0\0II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0\x06\0\0\0\0\0\0\0",
        ),
        "#c8c8c8",
        "#282828",
    ),
}


@pytest.mark.parametrize("kind", PICTURES)
def test_a_picture_of_any_mode_is_read_and_its_darker_colour_is_cc(tmp_path, kind):
    make, light, dark = PICTURES[kind]
    motif = load(put(tmp_path, "f.png", make()), first="CC")
    assert motif == Motif(letter_f.grid, "CC", Yarns(Yarn("light", light), Yarn("dark", dark)))


def test_an_orientation_noted_by_a_camera_is_left_out_of_account(tmp_path):
    file = put(tmp_path, "f.png", PICTURES["with profile, text and turn"][0]())
    with Image.open(file) as image:
        assert ImageOps.exif_transpose(image).getexif() != image.getexif()  # Pillow would turn it
    assert np.array_equal(load(file).grid, letter_f.grid)


@settings(max_examples=20)
@given(motifs())
def test_every_mode_that_pillow_writes_gives_the_same_squares(motif):
    greys = 255 * ~motif.grid
    with TemporaryDirectory() as folder:
        for mode in ("1", "L", "P", "RGB", "RGBA", "LA"):
            loaded = load(put(Path(folder), "m.png", picture(greys, mode)))
            assert np.array_equal(loaded.grid, motif.grid) or len(np.unique(greys)) == 1


@given(motifs(), st.sampled_from([1, 2, 4, 8]))
def test_an_interlaced_picture_is_read_like_any_other(motif, depth):
    # each of the seven passes is a small picture of its own (PNG specification, third edition, 8.2)
    rows, columns = motif.shape
    values = motif.grid * np.uint8(255 >> (8 - depth))
    lines = b""
    for x, y, step_x, step_y in [
        (0, 0, 8, 8),
        (4, 0, 8, 8),
        (0, 4, 4, 8),
        (2, 0, 4, 4),
        (0, 2, 2, 4),
        (1, 0, 2, 2),
        (0, 1, 1, 2),
    ]:
        part = values[y::step_y, x::step_x]
        if part.size:
            bits = (part[..., np.newaxis] >> np.arange(depth)[::-1]) & 1
            packed = np.packbits(bits.reshape(len(part), -1).astype(bool), axis=1)
            lines += b"".join(b"\0" + row.tobytes() for row in packed)
    with TemporaryDirectory() as folder:
        loaded = load(put(Path(folder), "m.png", raw_png(columns, rows, depth, 0, lines, interlaced=1)))
    assert np.array_equal(loaded.grid, ~motif.grid) or motif.grid.all() or not motif.grid.any()


@pytest.mark.parametrize(("grey", "cc"), [(255, "#1d3f66"), (0, "#1d3f66")])
def test_a_picture_of_one_colour_is_all_main_colour(tmp_path, grey, cc):
    motif = load(put(tmp_path, "plain.png", picture(np.full((2, 3), grey))))
    assert motif.to_text() == "...\n..."
    assert motif.yarns.at(1, "MC") == Yarn("the picture's colour", f"#{grey:02x}{grey:02x}{grey:02x}")
    assert motif.yarns.at(1, "CC").colour == cc


def test_a_picture_in_the_colour_of_the_usual_cc_gets_another_cc(tmp_path):
    ink = np.broadcast_to(np.array([0x1D, 0x3F, 0x66]), (1, 1, 3))
    assert load(put(tmp_path, "ink.png", picture(ink))).yarns.at(1, "CC").name == "cream"


def test_of_two_equally_dark_colours_that_of_the_first_pixel_is_mc(tmp_path, monkeypatch):
    monkeypatch.setattr(png, "contrast", lambda one, two: 7.0)
    for pixels in ([[0, 255]], [[255, 0]]):
        assert load(put(tmp_path, "two.png", picture(pixels))).to_text() == ".#"


def test_squares_of_many_pixels_are_counted_as_squares(tmp_path):
    big = put(tmp_path, "f.png", picture(F_GREYS.repeat(3, axis=0).repeat(3, axis=1)))
    assert np.array_equal(load(big, square=3).grid, letter_f.grid)
    assert load(big).shape == (21, 21)


def test_the_callers_side_of_a_square_comes_before_the_files(tmp_path):
    file = save(single, tmp_path / "one.png", square=np.int64(6))
    assert load(file).shape == (1, 1)
    assert load(file, square=2).shape == (3, 3)
    with pytest.raises(FileError, match=r"The picture has 6 × 6 pixels, which do not divide by 4."):
        load(file, square=4)


def test_a_picture_edited_in_its_own_colours_keeps_yarns_and_name(tmp_path):
    file = save(FLAG, tmp_path / "flag.png")
    with Image.open(file) as image:
        image.load()
        info = PngImagePlugin.PngInfo()
        info.add_text("mosaickit motif", image.text["mosaickit motif"])
        edited = image.convert("RGB")
    edited.putpixel((0, 0), edited.getpixel((1, 1)))
    edited.save(file, pnginfo=info)
    grid = FLAG.grid.copy()
    grid[0, 0] = True
    assert load(file) == FLAG.with_grid(grid)


THREE = np.array([[255, 255, 0], [0, 9, 255]])
CLEAR = rgb(np.full((2, 3), 255), 0, 0, 0, 0)
CLEAR[1, 2, 3] = 254
BLOCKS = np.full((4, 4), 255)
BLOCKS[2, 3] = 0
ONE_LINE = b"\0\xff\0"
BIG = struct.pack(">IIBBBBB", 100_000, 100_000, 8, 0, 0, 0, 0)


@pytest.mark.parametrize(
    ("data", "options", "message"),
    [
        (picture(THREE), {}, "The pixel in column 2, row 2 from the top left is a third colour, #090909, after #ffffff "
         "and #000000: reduce the picture to two colours, without soft edges."),
        (picture(CLEAR), {}, "The pixel in column 3, row 2 from the top left is not fully opaque: fill the picture's"),
        (picture(255 * np.eye(2), "P", transparency=255), {}, "The pixel in column 1, row 1 .* is not fully opaque"),
        (picture(255 * np.eye(2), "L", transparency=0), {}, "The pixel in column 2, row 1 .* is not fully opaque"),
        (raw_png(2, 1, 2, 0, b"\0\x30", (b"tRNS", b"\0\3")), {}, "The pixel in column 2, row 1 .* is not fully opaq"),
        (raw_png(2, 1, 4, 0, b"\0\x2f", (b"tRNS", b"\0\2")), {}, "The pixel in column 1, row 1 .* is not fully opaq"),
        (raw_png(2, 1, 16, 0, b"\0\0\0\7\7", (b"tRNS", b"\7\7")), {}, "The pixel in column 2, row 1 .* is not fully"),
        (picture(BLOCKS), {"square": 2}, "The pixel in column 4, row 3 from the top left differs from others of its "
         "square, which is 2 × 2 pixels."),
        (picture(BLOCKS), {"square": 3}, "The picture has 4 × 4 pixels, which do not divide by 3."),
        (raw_png(1, 1, 16, 0, b"\0\x12\x34"), {}, "The picture has 16 bits a grey, of which .* keeps 8: save it wi"),
        (raw_png(1, 1, 16, 2, b"\0" + bytes(6)), {}, "The picture has 16 bits a channel, of which .*: save it with 8."),
        (raw_png(2, 1, 8, 0, ONE_LINE, (b"acTL", struct.pack(">II", 1, 0))), {}, "The picture moves: save one of its"),
        (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", BIG) + chunk(b"IDAT", b"") + chunk(b"IEND", b""), {},
         "A motif may have at most 10,000 rows or columns and 16,000,000 squares in all; got 100,000 × 100,000."),
        (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", BIG) + chunk(b"IDAT", b"") + chunk(b"IEND", b""), {"square": 100},
         "A picture has at most 32,000,000 pixels; 100,000 × 100,000 are more."),
        (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", bytes(13)) + chunk(b"IEND", b""), {}, "its header describes no picture"),
        (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", BIG[:12]) + chunk(b"IEND", b""), {}, "its header must have 13 bytes."),
        (b"\x89PNG\r\n\x1a\n" + chunk(b"IEND", b""), {}, "one header must stand at its start, and only there."),
        (raw_png(2, 1, 8, 0, ONE_LINE, (b"IHDR", BIG)), {}, "one header must stand at its start, and only there."),
        (raw_png(2, 1, 3, 0, ONE_LINE), {}, "its header describes no picture."),
        (raw_png(2, 2, 8, 0, ONE_LINE), {}, "it does not hold as many pixels as its header says."),
        (raw_png(1, 1, 8, 0, ONE_LINE), {}, "it does not hold as many pixels as its header says."),
        (raw_png(2, 1, 8, 0, b"\x09\xff\0"), {}, "The picture is damaged: its pixels cannot be unpacked."),
        (raw_png(2, 1, 8, 3, b"\0\0\1", (b"PLTE", bytes(3))), {}, "it uses colour 2 of a palette of 1."),
        (raw_png(2, 1, 8, 3, b"\0\0\1"), {}, "it uses colour 2 of a palette of 0."),
        (raw_png(2, 1, 8, 3, b"\0\0\1", (b"PLTE", bytes(6)), (b"PLTE", bytes(6))), {}, "it has two chunks PLTE."),
        (raw_png(2, 1, 8, 0, ONE_LINE, (b"WOOL", b"")), {}, "needs a chunk that mosaickit does not know: b'WOOL'."),
        (picture(THREE)[:-6], {}, "The picture is cut short: the file ends before the picture does."),
        (picture(THREE)[:20], {}, "The picture is cut short"),
        (picture(THREE).replace(b"IHDR\0", b"IHDR\1"), {}, "damaged: the checksum of the chunk at byte 9 is wrong."),
        (b"GIF89a" + bytes(50), {}, "This is no PNG picture: it does not start as every PNG does."),
        (with_note("{"), {}, r"The motif's note in the picture cannot be read: Line 1, column 2: this is no JSON"),
        (with_note("\xe9"), {}, "note in the picture cannot be read: It must be a tEXt chunk in ASCII characters."),
        (raw_png(2, 1, 8, 0, ONE_LINE, (b"zTXt", b"mosaickit motif\0\0")), {}, "It must be a tEXt chunk in ASCII"),
        (raw_png(2, 1, 8, 0, ONE_LINE, *[(b"tEXt", b"mosaickit motif\0{}")] * 2), {}, "There must be one at most."),
        (with_note({**NOTE, "version": 7}), {}, "This file is of version 7; this mosaickit reads version 1"),
        (with_note({**NOTE, "square": 0}), {}, 'At "square": Expected a whole number from 1 to 10,000, found 0.'),
        (with_note({**NOTE, "square": 4}), {}, "The picture has 2 × 2 pixels, which do not divide by 4."),
        (with_note({**NOTE, "rows": []}), {}, "The key 'rows' is unknown here"),
        (with_note(changed(NOTE, "pixels", "CC", to="#FFFFFF")), {}, 'At "pixels": MC and CC must be different colo'),
        (with_note(changed(NOTE, "pixels", "CC", to="ink")), {}, 'At "pixels", "CC": Expected text in quotes, as'),
        (with_note(changed(NOTE, "pixels", "CC", to="#000001")), {}, "The pixel in column 2, row 1 from the top left "
         "is #000000, but the motif's note in the picture knows #ffffff for MC and #000001 for CC only"),
    ],
)  # fmt: skip
def test_a_png_that_is_no_motif_is_refused_with_its_place(tmp_path, data, options, message):
    with pytest.raises(FileError, match=f"^'leaf.png': .*{message}"):
        load(put(tmp_path, "leaf.png", data), **options)


def test_what_the_file_says_of_itself_is_used(tmp_path):
    for white in ("#ffffff", "#FFffFF"):
        note = {**NOTE, "name": "cross", "pixels": {"MC": white, "CC": "#000000"}}
        motif = load(put(tmp_path, "note.png", with_note(note)))
        assert motif == Motif.from_text(".#\n#.", "CC", name="cross")


def test_a_small_file_cannot_make_us_unpack_much(tmp_path, monkeypatch):
    bomb = raw_png(2, 1, 8, 0, bytes(50_000_000))
    asked = []
    real = zlib.decompressobj

    class Watch:
        def __init__(self):
            self.inner = real()

        def decompress(self, data, most):
            asked.append(most)
            return self.inner.decompress(data, most)

        @property
        def eof(self):
            return self.inner.eof

    monkeypatch.setattr(zlib, "decompressobj", Watch)
    with pytest.raises(FileError, match="does not hold as many pixels"):
        load(put(tmp_path, "bomb.png", bomb))
    assert asked == [4]


def test_pillows_own_limit_is_not_told(tmp_path, monkeypatch):
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 30)  # a warning from 31 pixels on, an error from 61
    assert load(save(letter_f, tmp_path / "f.png")) == letter_f
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 3)
    with pytest.raises(FileError, match="its pixels cannot be unpacked"):
        load(tmp_path / "f.png")


def test_a_picture_too_large_to_be_loaded_is_not_saved(tmp_path):
    with pytest.raises(
        FileError, match=r"'f.png' was not written: A picture has at most 32,000,000 pixels; 7,000 × 7,"
    ):
        save(letter_f, tmp_path / "f.png", square=1000)
    assert list(tmp_path.iterdir()) == []


# ---- CSV and text ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text", ["0,1\n1,1\n", "\ufeff0,1\r\n1,1\r\n\r\n", " 0 , 1\n1,\t1", '"0","1"\n1,1\n \n', "\n0,1\n1,1"]
)
def test_csv_as_spreadsheets_write_it_is_read(tmp_path, text):
    assert load(put(tmp_path, "leaf.csv", text), first="CC") == Motif.from_text(".#\n##", "CC")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("0,1\n1,2\n", "Line 2, column 2: expected 0 for MC or 1 for CC between commas, found '2'."),
        ("0;1\n1;1\n", "Line 1, column 1: expected 0 for MC or 1 for CC between commas, found '0;1'."),
        ("0,1,\n1,1,\n", "Line 1, column 3: .* found ''."),
        ("\n\n0,1\n1\n", "Line 4 has 1 square, but line 3 has 2"),
        ("0,1\n\n0,1\n", "Line 2 has 0 squares, but line 1 has 2"),
        ("0,1\n,,\n0,1\n", "Line 2, column 1: .* found ''."),
        ("\n \n", "The picture is empty"),
        ('0,1\n"0,1\n', r"Line 2 is no line of a CSV file \(unexpected end of data\)."),
        ("0," + "1" * 200_000, r"Line 1 is no line of a CSV file \(field larger than field limit"),
        ("0\0,1", r"Line 1, column 1: .* found '0\\x00'."),
        ("0\n" * 30_000, "A motif may have at most 10,000 rows or columns .*; got 20,001 × 1."),
        (",".join("0" * 10_001), "A motif may have at most 10,000 rows or columns .*; got 1 × 10,001."),
    ],
)
def test_csv_that_is_no_picture_is_refused_with_its_place(tmp_path, text, message):
    with pytest.raises(FileError, match=f"^'leaf.csv': {message}"):
        load(put(tmp_path, "leaf.csv", text))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("..\n.x\n", "Line 2, column 2: expected '.' for MC or '#' for CC, found 'x'."),
        ("..\n...\n", "Line 2 has 3 squares, but line 1 has 2"),
        (" \n", "The picture is empty"),
    ],
)
def test_text_that_is_no_picture_is_refused_with_its_place(tmp_path, text, message):
    with pytest.raises(FileError, match=f"^'leaf.txt': {message}"):
        load(put(tmp_path, "leaf.txt", text))


# ---- any file --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("ending", formats.FORMATS)
def test_a_file_that_cannot_be_read_is_refused(tmp_path, monkeypatch, ending):
    with pytest.raises(FileError, match=rf"'none.{ending}': There is no such file in the folder '{tmp_path}'."):
        load(tmp_path / f"none.{ending}")
    with pytest.raises(FileError, match=rf"'a.{ending}': The file is empty."):
        load(put(tmp_path, f"a.{ending}", b""))
    (tmp_path / f"b.{ending}").mkdir()
    with pytest.raises(FileError, match=rf"'b.{ending}': This is a folder, not a file."):
        load(tmp_path / f"b.{ending}")
    os.mkfifo(tmp_path / f"c.{ending}")
    with pytest.raises(FileError, match=rf"'c.{ending}': This is no ordinary file."):
        load(tmp_path / f"c.{ending}")
    with pytest.raises(FileError, match="The file could not be read: its name holds a character that no file name"):
        load(tmp_path / f"d\0.{ending}")
    with pytest.raises(FileError, match=r"The file could not be read: part of its path is no folder."):
        load(tmp_path / f"a.{ending}" / f"e.{ending}")

    def refuse(*_):
        raise PermissionError(errno.EACCES, "Permission denied")

    put(tmp_path, f"a.{ending}", b"1")
    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(FileError, match=rf"'a.{ending}': The file could not be read: permission is denied."):
        load(tmp_path / f"a.{ending}")


def test_a_file_too_long_is_refused_unread(tmp_path, monkeypatch):
    file = tmp_path / "long.json"
    with file.open("wb") as opened:
        opened.truncate(64_000_001)
    monkeypatch.setattr(Path, "open", None)
    with pytest.raises(
        FileError, match=r"'long.json': A file may have at most 64,000,000 bytes; this one has 64,000,0"
    ):
        load(file)


@pytest.mark.parametrize("ending", ["json", "csv", "txt"])
def test_a_file_of_another_kind_is_refused(tmp_path, ending):
    with pytest.raises(FileError, match=rf"'a.{ending}': This is a PNG picture, .*: give `format='png'`."):
        load(put(tmp_path, f"a.{ending}", picture(THREE)))
    with pytest.raises(FileError, match=r"The file must be UTF-8 text, which line 2 is not, at byte 4."):
        load(put(tmp_path, f"b.{ending}", b"..\n\xff."))
    with pytest.raises(FileError, match=r"must be UTF-8 text, which line 1 is not, at byte 1."):
        load(put(tmp_path, f"c.{ending}", "..".encode("utf-16")))


@pytest.mark.parametrize("name", ["leaf.bmp", "leaf", "json", ".json"])
def test_an_unknown_ending_is_refused_with_those_known(tmp_path, name):
    message = rf"'{name}': The name of a motif file ends in one of .json, .png, .csv, .txt; or say its `format`."
    with pytest.raises(FileError, match=message):
        load(tmp_path / name)
    with pytest.raises(FileError, match=message):
        save(single, tmp_path / name)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: load(7), "`path` must be a path, as text or a `Path`; got 7."),
        (lambda: save(single, None), "`path` must be a path, as text or a `Path`; got None."),
        (lambda: load(b"a.json"), "`path` must be a path, as text or a `Path`; got b'a.json'."),
        (lambda: save("..", "a.json"), "`motif` must be a `Motif`; got '..'."),
        (lambda: load("a.json", format="gif"), "`format` must be one of 'json', 'png', 'csv', 'txt'; got 'gif'."),
        (lambda: load("a.txt", first="red"), "`first` must be one of 'MC', 'CC'; got 'red'."),
        (lambda: load("a.png", square=0), "`square` must be a whole number of 1 or more; got 0."),
        (lambda: load("a.csv", square=2), "`square` is the side of a square in pixels, for PNG only; got 2 for csv."),
        (lambda: save(single, "a.txt", square=2), "for PNG only; got 2 for txt."),
    ],
)
def test_an_argument_that_fits_nothing_is_refused(call, message):
    with pytest.raises(OptionError, match=re.escape(message)):
        call()


# ---- whole or not at all ---------------------------------------------------------------------------------


def raising(number):
    def fail(*_):
        raise OSError(number, os.strerror(number))

    return fail


class ShortDisk(io.BytesIO):
    """A file on a disk that takes a few bytes."""

    def __init__(self, inner):
        self.inner = inner

    def write(self, data):
        self.inner.write(data[:10])
        raise OSError(errno.ENOSPC, "No space left on device")

    def close(self):
        self.inner.close()


@pytest.mark.parametrize(
    ("step", "there"),
    [*((step, True) for step in ("write", "fsync", "replace", "chmod")), ("write", False), ("fsync", False)],
)
@pytest.mark.parametrize("ending", formats.FORMATS)
def test_a_failure_in_the_middle_leaves_the_old_file_whole_and_nothing_beside_it(
    tmp_path, monkeypatch, step, there, ending
):
    file = tmp_path / f"leaf.{ending}"
    if there:
        file.write_bytes(b"the old file")
    with monkeypatch.context() as patch:
        if step == "write":
            real = Path.open
            patch.setattr(Path, "open", lambda self, mode: ShortDisk(real(self, mode)))
        else:
            patch.setattr(Path if step == "chmod" else os, step, raising(errno.ENOSPC))
        with pytest.raises(FileError, match=rf"'leaf.{ending}' could .*, and nothing was changed: the disk is full\."):
            save(two_stacked, file, replace=there)
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == (
        {file.name: b"the old file"} if there else {}
    )


def test_an_interruption_leaves_the_old_file_whole(tmp_path, monkeypatch):
    file = put(tmp_path, "leaf.txt", b"the old file")

    def interrupt(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", interrupt)
    with pytest.raises(KeyboardInterrupt):
        save(single, file, replace=True)
    assert [path.read_bytes() for path in tmp_path.iterdir()] == [b"the old file"]


def test_a_file_that_cannot_be_written_is_refused(tmp_path, monkeypatch):
    def refused(path, reason):
        with pytest.raises(FileError, match=f"could not be written, and nothing was changed: {reason}"):
            write_whole(path, b"new")

    refused(tmp_path / "none" / "leaf.txt", "there is no such folder.")
    refused(put(tmp_path, "file", b"old") / "leaf.txt", "part of its path is no folder.")
    refused(tmp_path, "this is a folder.")
    refused(tmp_path / ("x" * 300), "its name is too long.")
    refused(tmp_path / "a\0", "its name holds a character that no file name may hold.")
    os.mkfifo(tmp_path / "pipe")
    refused(tmp_path / "pipe", "this is no ordinary file.")
    assert stat.S_ISFIFO((tmp_path / "pipe").stat().st_mode)
    monkeypatch.setattr(os, "access", lambda *_: False)
    refused(tmp_path / "file", "permission is denied.")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["file", "pipe"]
    assert (tmp_path / "file").read_bytes() == b"old"
    monkeypatch.setattr(Path, "open", raising(errno.EIO))
    refused(tmp_path / "new", "the system says Input/output error.")


def test_an_old_file_keeps_its_permissions_and_a_new_one_gets_the_usual_ones(tmp_path):
    usual = put(tmp_path, "usual", b"")
    assert save(single, tmp_path / "new.txt").stat().st_mode == usual.stat().st_mode
    for mode in (0o600, 0o664):
        (tmp_path / "new.txt").chmod(mode)
        assert stat.S_IMODE(save(single, tmp_path / "new.txt").stat().st_mode) == mode


def test_a_link_is_followed_not_replaced(tmp_path):
    (tmp_path / "far").mkdir()
    target, link = tmp_path / "far" / "leaf.txt", tmp_path / "leaf.txt"
    link.symlink_to(target)
    for motif in (single, letter_f):  # the first makes the file
        save(motif, link, design="leaf")
        assert link.is_symlink()
        assert load(target).grid.shape == motif.shape


def test_every_error_is_one_of_ours(tmp_path):
    with pytest.raises(MosaickitError) as caught:
        load(tmp_path / "none.json")
    assert caught.value.__cause__ is None
    assert str(caught.value).endswith(".")
