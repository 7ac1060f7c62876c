"""Pictures in: drawings that come back, laws of size and brightness, a slow opponent, real photographs, bad files."""

import io
import struct
import zlib

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp
from PIL import Image
from samples import letter_f
from skimage import data, filters
from strategies import shapes, workable_motifs

from mosaickit import Gauge, Motif, Yarn, Yarns, check, counterchange
from mosaickit.errors import FileError, MotifError, OptionError
from mosaickit.files import from_picture
from mosaickit.files.pictures.darkness import INK_OFFSET, edges_of
from mosaickit.files.pictures.pixels import LARGEST_PICTURE

sides = st.integers(3, 9)
gauges = st.builds(Gauge, st.floats(8, 40), st.floats(8, 40))
pictures = hnp.arrays(np.uint8, st.tuples(st.integers(1, 24), st.integers(1, 24)))


def drawing(motif, times=1):
    """Draw a motif in black on white, each square so many pixels wide and high."""
    return np.kron(~motif.grid, np.ones((times, times), dtype=bool))


def traced(picture, **options):
    """Trace a small picture into as many squares as it has pixels, if nothing else is said."""
    rows, stitches = np.asarray(picture).shape[:2]
    return from_picture(picture, **{"rows": max(rows, 3), "stitches": max(stitches, 3)} | options)


# ---- laws --------------------------------------------------------------------------------------------------


@given(workable_motifs(st.tuples(sides, sides)), st.integers(1, 7))
def test_a_drawing_of_a_workable_motif_comes_back_as_that_very_motif(motif, times):
    found = from_picture(
        drawing(motif, times),
        stitches=motif.shape[1],
        rows=motif.shape[0],
        threshold=0.5,
        first=motif.first,
        yarns=motif.yarns,
        name=motif.name,
    )
    assert found.motif == motif
    assert np.array_equal(found.before, motif.grid)
    assert found.cost == found.share_changed == 0


@given(pictures, st.sampled_from(["MC", "CC", "better"]), st.sampled_from([None, "error diffusion"]))
def test_an_inverted_picture_gives_the_counterchanged_motif(picture, first, dither):
    other = {"MC": "CC", "CC": "MC", "better": "better"}[first]
    straight = traced(picture, first=first, dither=dither)
    inverted = traced(picture, first=other, dither=dither, invert=True)
    assert inverted.motif == counterchange(straight.motif)
    assert np.array_equal(inverted.before, ~straight.before)
    assert np.array_equal(inverted.changed, straight.changed)


def test_a_negative_gives_the_counterchanged_motif_too():
    positive, negative = drawing(letter_f, 5), ~drawing(letter_f, 5)
    for threshold in ("otsu", 0.5):
        one = from_picture(positive, stitches=7, threshold=threshold, first="MC")
        other = from_picture(negative, stitches=7, threshold=threshold, first="CC")
        assert other.motif == counterchange(one.motif)


@given(st.tuples(st.integers(5, 60), st.integers(5, 60)), st.integers(8, 60), gauges)
def test_the_piece_keeps_the_proportion_of_the_picture_within_half_a_row(size, stitches, gauge):
    height, width = size
    try:
        rows = from_picture(np.ones(size), stitches=stitches, gauge=gauge).motif.shape[0]
    except OptionError:  # fewer than three rows
        assert height / width * stitches * gauge.aspect < 3
        return
    wide, high = gauge.size_cm(rows, stitches)
    assert abs(high - wide * height / width) <= gauge.row_height_cm / 2 + 1e-9


@given(
    pictures,
    st.sampled_from(["MC", "CC", "better"]),
    st.sampled_from(["otsu", "adaptive", 0.0, 0.3, 1.0]),
    st.booleans(),
    st.sampled_from([0.0, 2.0, 1000.0]),
)
def test_every_motif_can_be_worked_and_differs_just_where_it_says(picture, first, threshold, dots, edges_weight):
    way = {"dither": "error diffusion"} if dots else {"threshold": threshold}
    found = traced(picture, first=first, edges_weight=edges_weight, **way)
    assert check(found.motif).ok
    assert np.array_equal(found.changed, found.before != found.motif.grid)
    assert first in (found.first, "better")


@given(pictures, st.sampled_from([0.0, 1.0, 5.0]))
def test_the_better_first_colour_costs_the_less_of_both(picture, edges_weight):
    better, mc, cc = (traced(picture, first=first, edges_weight=edges_weight) for first in ("better", "MC", "CC"))
    assert better.cost == min(mc.cost, cc.cost)
    assert better.motif == (mc if mc.cost <= cc.cost else cc).motif


@given(st.floats(0, 1), st.integers(40, 60), st.integers(40, 60))
@settings(max_examples=30)
def test_dots_keep_the_mean_brightness(tone, rows, stitches):
    found = traced(np.full((rows, stitches), tone), dither="error diffusion")
    light = ((tone + 0.055) / 1.055) ** 2.4 if tone > 0.04045 else tone / 12.92
    # a row at each end cannot show what is wanted, and one at most can make up for it
    assert 1 - found.motif.grid.mean() == pytest.approx(light, abs=0.5 / rows + 0.02)


def test_a_change_is_dearer_on_an_edge_and_far_from_the_threshold():
    """Rows 4 and 5 are both overlaid where the picture has a dark and a light square: the clearer of them stays."""
    tones = np.ones((8, 9))
    tones[::2] = 0  # row 1 in MC, row 8 in CC
    tones[3:5] = [0], [1]  # swapped: both rows are overlaid
    for clear, faint in ((3, 4), (4, 3)):
        grey = tones.copy()
        grey[faint] = 0.4 if tones[faint, 0] == 0 else 0.6
        found = traced(grey, threshold=0.5, first="MC", edges_weight=100)
        assert found.changed[faint].all()
        assert not found.changed[clear].any()
        assert found.changed.sum() == 9


def test_a_change_is_dearer_where_dark_meets_light():
    """Rows 4 and 5 are both overlaid and equally clear: the one beside a row that is nearly as grey gives way."""
    for beside, grey, gives_way in ((2, 0.45, 3), (5, 0.55, 4)):
        tones = np.ones((8, 9))
        tones[::2] = 0
        tones[3:5] = [0], [1]
        tones[beside] = grey
        found = traced(tones, threshold=0.5, first="MC", edges_weight=100)
        assert found.changed[gives_way].all()
        assert found.changed.sum() == 9


@pytest.mark.parametrize("way", [{}, {"dither": "error diffusion"}], ids=str)
def test_of_two_first_colours_that_are_as_good_it_is_mc_or_inverted_cc(way):
    for tone in (0, 4, 99, 255):
        picture = np.full(
            (14, 5), tone, dtype=np.uint8
        )  # an even number of rows: one end is off, whichever comes first
        assert traced(picture, **way).first == "MC"
        assert traced(picture, invert=True, **way).first == "CC"


def test_weights_of_nothing_make_the_fewest_changes():
    for picture in (data.coins()[::6, ::6], data.camera()[::9, ::9]):
        few, dear = (traced(picture, edges_weight=weight, first="MC") for weight in (0, 50))
        assert few.cost == few.changed.sum() <= dear.changed.sum()


# ---- opponents ---------------------------------------------------------------------------------------------


def slow_tone(pixels, top, bottom, left, right):
    """Average the light of whole pixels one by one, and turn the mean into the grey that a screen shows."""
    total = 0.0
    for y in range(top, bottom):
        for x in range(left, right):
            red, green, blue, opacity = (int(value) / 255 for value in pixels[y][x])
            light = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in (red, green, blue)]
            grey = 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2]
            total += opacity * grey + (1 - opacity)
    mean = total / ((bottom - top) * (right - left))
    return mean * 12.92 if mean <= 0.0031308 else 1.055 * mean ** (1 / 2.4) - 0.055


@pytest.mark.parametrize("times", [1, 2, 5])
def test_tones_and_threshold_are_those_of_a_plain_loop(times):
    rng = np.random.default_rng(times)
    pixels = rng.integers(0, 256, (6 * times, 5 * times, 4), dtype=np.uint8)
    for opaque in (False, True):
        pixels[..., 3] = 255 if opaque else pixels[..., 3]
        expected = [
            [slow_tone(pixels, i * times, (i + 1) * times, j * times, (j + 1) * times) for j in range(5)]
            for i in range(6)
        ]
        found = from_picture(pixels, stitches=5, rows=6, threshold=0.6)
        np.testing.assert_allclose(found.tones, expected, atol=1e-9)
        assert found.before.tolist() == [[tone <= 0.6 for tone in row] for row in expected]


@given(hnp.arrays(np.uint8, shapes(20)), st.integers(3, 15), st.integers(3, 15))
def test_squares_that_cut_pixels_get_their_shares_of_them(picture, rows, stitches):
    """The same as repeating each pixel until no square cuts one."""
    fine = np.kron(picture, np.ones((rows, stitches), dtype=np.uint8))
    one, other = (from_picture(p, rows=rows, stitches=stitches).tones for p in (picture, fine))
    np.testing.assert_allclose(one, other, atol=1e-9)


def slow_otsu(tones):
    """Try every tone as the threshold: the one that parts dark from light with the largest variance between them."""
    tones = sorted(tones)
    best = max(
        range(1, len(tones)),
        key=lambda n: n * (len(tones) - n) * (np.mean(tones[:n]) - np.mean(tones[n:])) ** 2,
    )
    return tones[best - 1]


def test_otsus_threshold_parts_the_tones_as_trying_all_of_them():
    rng = np.random.default_rng(8)
    for _ in range(20):
        found = traced(rng.integers(0, 256, (9, 9)).astype(np.uint8))
        assert found.before.tolist() == (found.tones <= slow_otsu(found.tones.ravel())).tolist()


@pytest.mark.parametrize("picture", ["coins", "camera", "page", "moon"])
def test_thresholds_and_edges_are_scikit_images(picture):
    photograph = getattr(data, picture)()
    found = traced(photograph, stitches=90, threshold="adaptive")
    window = min(found.tones.shape) // 8 | 1
    near = filters.threshold_local(found.tones, window, offset=INK_OFFSET)
    assert found.before.tolist() == (found.tones <= near).tolist()

    bins = 4096  # it takes the middle of the last dark bin as the limit
    limit = filters.threshold_otsu(found.tones, bins)
    parted = np.sort(found.tones[traced(photograph, stitches=90).before])[-1]
    assert parted == pytest.approx(limit, abs=2 / bins)

    # an edge weighs as much as Sobel's filter finds, 1 at the least: scaled so that a straight one weighs all there is
    edges = np.minimum(filters.sobel(found.tones) / np.sqrt(0.5), 1)
    np.testing.assert_allclose(edges_of(found.tones), edges, atol=1e-12)


def slow_dots(wanted, first):
    """Choose squares one after the other in reading order; squares that may not be overlaid take their row's colour."""
    rows, columns = wanted.shape
    carried, overlaid = wanted.tolist(), [[False] * columns for _ in range(rows)]
    shown = np.zeros(wanted.shape, dtype=bool)
    for i in range(rows):
        own = ((rows - i) % 2 == 1) == (first == "CC")
        for j in range(columns):
            value = min(max(carried[i][j], -0.5), 1.5)
            may = 0 < i < rows - 1 and not overlaid[i - 1][j]
            shown[i, j] = (value > 0.5) if may else own
            overlaid[i][j] = bool(shown[i, j] != own)
            for down, right, share in ((0, 1, 7), (1, -1, 3), (1, 0, 5), (1, 1, 1)):
                if i + down < rows and 0 <= j + right < columns:
                    carried[i + down][j + right] += share / 16 * (value - shown[i, j])
    return shown


@given(pictures, st.sampled_from(["MC", "CC"]))
def test_dots_chosen_together_are_those_chosen_one_by_one(picture, first):
    rows, stitches = (max(side, 3) for side in picture.shape)
    found = traced(picture, dither="error diffusion", first=first)
    tones = found.tones
    light = np.where(tones <= 0.04045, tones / 12.92, ((tones + 0.055) / 1.055) ** 2.4)
    assert found.motif.shape == (rows, stitches)
    assert (found.motif.grid != slow_dots(1 - light, first)).mean() == 0


# ---- what a picture may be ---------------------------------------------------------------------------------


def saved(image, format, **options):
    file = io.BytesIO()
    image.save(file, format, **options)
    return file.getvalue()


def test_files_images_and_arrays_of_one_picture_give_one_motif(tmp_path):
    picture = drawing(letter_f, 8)
    image = Image.fromarray(picture)
    expected = from_picture(picture, stitches=7).motif
    assert np.array_equal(expected.grid, letter_f.grid)
    for format in ("PNG", "JPEG", "WEBP", "GIF", "BMP", "TIFF"):
        file = tmp_path / f"letter.{format.lower()}"
        file.write_bytes(saved(image.convert("L" if format == "WEBP" else "RGB").convert("RGB"), format))
        assert from_picture(file, stitches=7).motif == expected
        assert from_picture(str(file), stitches=7).motif == expected
    for mode in ("1", "L", "P", "RGB", "RGBA", "CMYK", "LA", "I;16"):
        same = (
            image.convert("L").convert(mode) if mode != "I;16" else Image.fromarray(picture.astype(np.uint16) * 65535)
        )
        assert from_picture(same, stitches=7).motif == expected, mode
    grey = picture.astype(np.uint8) * 255
    for array in (
        grey,
        grey / 255,
        (grey / 255).astype(np.float32),
        grey.astype(np.uint16) * 257,
        np.dstack([grey] * 3),
    ):
        assert from_picture(array, stitches=7).motif == expected


def test_what_is_transparent_counts_as_white(tmp_path):
    opacity = np.uint8(255) * letter_f.grid
    ink = np.dstack([np.zeros_like(opacity)] * 3 + [opacity])
    palette = Image.fromarray(letter_f.grid.astype(np.uint8))
    palette.putpalette([0, 0, 0, 0, 0, 0])  # black on black, the first of them clear
    file = tmp_path / "clear.png"
    palette.save(file, transparency=0)
    for picture in (ink, Image.fromarray(ink), file):
        assert np.array_equal(from_picture(picture, stitches=7, threshold=0.5).before, letter_f.grid)


def test_a_photograph_is_turned_as_the_camera_noted(tmp_path):
    lying = Image.fromarray(drawing(letter_f, 8)).convert("L").transpose(Image.Transpose.ROTATE_90)
    exif = Image.Exif()
    exif[0x0112] = 6  # to be turned by a quarter, clockwise
    file = tmp_path / "lying.jpg"
    lying.save(file, quality=95, exif=exif)
    assert np.array_equal(from_picture(file, stitches=7).before, letter_f.grid)


def test_a_crop_is_in_pixels_or_in_shares():
    picture = np.ones((90, 140), dtype=bool)
    picture[10:80, 35:105] = drawing(letter_f, 10)
    for crop in ((35, 10, 105, 80), (0.25, 1 / 9, 0.75, 8 / 9), np.array([35, 10, 105, 80])):
        assert np.array_equal(from_picture(picture, stitches=7, crop=crop).before, letter_f.grid)


def test_a_picture_of_one_tone_is_dark_or_light():
    for tone, cc in ((0, True), (100, True), (155, False), (255, False)):
        assert (traced(np.full((5, 5), tone, dtype=np.uint8)).before == cc).all()


def test_a_width_and_a_gauge_give_the_stitches():
    found = from_picture(np.ones((10, 20)), width_cm=25, gauge=Gauge(16, 18))
    assert found.motif.shape == (22, 40)  # 25 cm are 40 stitches; 12.5 cm are 22.5 rows


def test_yarns_and_name_are_the_motifs():
    yarns = Yarns(Yarn("snow", "#ffffff"), Yarn("coal", "#000000"))
    motif = from_picture(drawing(letter_f), stitches=7, yarns=yarns, name="letter F").motif
    assert motif == letter_f.with_yarns(yarns)


@pytest.mark.parametrize("name", ["camera", "coins", "chelsea", "page"])
@pytest.mark.parametrize("way", [{}, {"threshold": "adaptive"}, {"dither": "error diffusion"}], ids=str)
def test_real_photographs_become_motifs_that_look_like_them(name, way):
    found = from_picture(getattr(data, name)(), stitches=100, gauge=Gauge(16, 18), **way)
    assert check(found.motif).ok
    assert found.share_changed < 0.12
    # what became CC is darker than what became MC
    assert found.tones[found.motif.grid].mean() < found.tones[~found.motif.grid].mean() - 0.02


def test_an_adaptive_threshold_reads_a_page_in_uneven_light_that_otsus_cannot():
    # a shadow lies over the left of the page, and an eighth of its width holds as much ink there as elsewhere
    even, uneven = (from_picture(data.page(), stitches=384, threshold=way).before for way in ("adaptive", "otsu"))
    assert 0.1 < even[:, :48].mean() < 0.3
    assert uneven[:, :48].mean() > 0.9


def test_it_says_what_it_made():
    found = from_picture(drawing(letter_f), stitches=7, first="CC")
    count = int(found.changed.sum())
    assert count > 0
    assert repr(found) == (
        f"<Traced 7 rows × 7 stitches, row 1 in CC; changed {count} of 49 squares ({count / 49:.1%}) so that it can be "
        "worked.>"
    )
    for way in ({}, {"dither": "error diffusion"}):
        found = from_picture(drawing(letter_f), stitches=7, **way)
        for array in (found.before, found.changed, found.tones):
            assert array.shape == (7, 7)
            assert not array.flags.writeable


# ---- bad input ---------------------------------------------------------------------------------------------


def png_header(width, height):
    body = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    idat = b"IDAT" + zlib.compress(b"")
    chunks = [len(c[4:]).to_bytes(4, "big") + c + zlib.crc32(c).to_bytes(4, "big") for c in (body, idat)]
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks)


@pytest.mark.parametrize(
    ("name", "make", "message"),
    [
        ("none.png", None, r"'none.png': There is no such file in the folder"),
        ("empty.png", lambda: b"", "'empty.png': The file is empty."),
        (
            "noise.jpg",
            lambda: b"noise" * 99,
            "'noise.jpg': This is no picture that can be read: it must be one of PNG,",
        ),
        (
            "drawing.eps",
            lambda: b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n",
            "'drawing.eps': This is no picture that can be read",
        ),
        ("wide.png", lambda: png_header(9000, 8000), "has at most 64,000,000 pixels; 9,000 × 8,000 are more"),
        ("bomb.png", lambda: png_header(60_000, 60_000), "has at most 64,000,000 pixels; this one has more"),
        ("torn.png", lambda: png_header(9, 9), "'torn.png': The picture is damaged or cut short"),
    ],
    ids=lambda value: value if isinstance(value, str) and "." in value[:12] else "",
)
def test_bad_files_are_refused_with_a_sentence(tmp_path, name, make, message):
    if make is not None:
        (tmp_path / name).write_bytes(make())
    with pytest.raises(FileError, match=message):
        from_picture(tmp_path / name, stitches=9)


@pytest.mark.parametrize("format", ["PNG", "JPEG", "WEBP", "GIF", "BMP", "TIFF"])
def test_a_file_cut_short_or_damaged_anywhere_is_read_or_refused_with_a_sentence(tmp_path, format):
    rng = np.random.default_rng(3)
    good = saved(Image.fromarray(data.coins()[:60, :50]), format)
    refused = 0
    for number in range(120):
        at = int(rng.integers(len(good)))
        bad = good[:at] if number % 2 else good[:at] + bytes([good[at] ^ (1 << rng.integers(8))]) + good[at + 1 :]
        file = tmp_path / f"{number}"
        file.write_bytes(bad)
        try:
            found = from_picture(file, stitches=9)
        except (FileError, OptionError):  # a damaged size may leave too few rows
            refused += 1
        else:
            assert check(found.motif).ok
    assert refused >= 20


def test_pillows_own_limit_is_kept(monkeypatch):
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 99)
    with pytest.raises(FileError, match=r"has at most 99 pixels; 10 × 10 are more: make it smaller first\."):
        from_picture(Image.new("L", (10, 10)), stitches=9)
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", None)
    with pytest.raises(FileError, match=f"at most {LARGEST_PICTURE:,} pixels"):
        from_picture(Image.new("1", (8001, 8000)), stitches=9)


GREY = np.ones((20, 30))


@pytest.mark.parametrize(
    ("picture", "options", "error", "message"),
    [
        (
            7,
            {"stitches": 9},
            OptionError,
            "`picture` must be a path, a PIL image, a NumPy array or a file's bytes; got 7.",
        ),
        (np.ones(3), {"stitches": 9}, MotifError, r"must be \(H, W\), \(H, W, 3\) or \(H, W, 4\); got \(3,\)."),
        (np.ones((0, 3)), {"stitches": 9}, MotifError, r"got \(0, 3\)"),
        (GREY * 255, {"stitches": 9}, MotifError, "numbers from 0 to 1 only; divide by its largest."),
        (GREY * np.nan, {"stitches": 9}, MotifError, "numbers from 0 to 1 only"),
        (GREY.astype(int), {"stitches": 9}, MotifError, r"got int64: `.astype\(np.uint8\)`"),
        (Image.new("F", (3, 3)), {"stitches": 9}, FileError, "more than 16 bits a grey: save it with 8 or 16."),
        (Image.new("L", (0, 3)), {"stitches": 9}, FileError, "The picture is empty: it has no pixels."),
        (GREY, {}, OptionError, "give either `stitches`, or `width_cm` and a `gauge`."),
        (GREY, {"stitches": 9, "width_cm": 9}, OptionError, "give either `stitches`, or"),
        (GREY, {"stitches": 2}, OptionError, "`stitches` must be a whole number of 3 or more; got 2."),
        (GREY, {"stitches": 10_001}, OptionError, "`stitches` must be at most 10,000; got 10001."),
        (GREY, {"stitches": 9, "rows": 2.5}, OptionError, "`rows` must be a whole number of 3 or more; got 2.5."),
        (GREY, {"width_cm": 9}, OptionError, "`width_cm` needs a `gauge`"),
        (GREY, {"width_cm": 1, "gauge": Gauge(16, 18)}, OptionError, "from 3 to 10,000 stitches; 1 makes 2."),
        (GREY, {"stitches": 9, "gauge": 16}, OptionError, "`gauge` must be a `Gauge`; got 16."),
        (np.ones((2, 99)), {"stitches": 50}, OptionError, "With 50 stitches the picture is 1 row high, which must be"),
        (np.ones((30, 10)), {"stitches": 9000}, OptionError, "With 9,000 stitches the picture is 27,000 rows high"),
        (GREY, {"stitches": 9000}, MotifError, "16,000,000 squares in all; got 6,000 × 9,000."),
        (GREY, {"stitches": 9, "crop": (1, 2, 3)}, OptionError, r"`crop` must be four numbers, .*; got \(1, 2, 3\)."),
        (GREY, {"stitches": 9, "crop": "middle"}, OptionError, "`crop` must be four numbers"),
        (GREY, {"stitches": 9, "crop": (0, [1], 2, 3)}, OptionError, "`crop` must be four numbers"),
        (GREY, {"stitches": 9, "crop": (5, 5, 5, 9)}, OptionError, "leave something of the picture's 30 × 20 pixels"),
        (GREY, {"stitches": 9, "crop": (0, 0, 0.5, 1.5)}, OptionError, "as shares from 0.0 to 1.0; got"),
        (GREY, {"stitches": 9, "crop": (0, 0, np.nan, 1)}, OptionError, "leave something"),
        (GREY, {"stitches": 9, "crop": (0, 0, 1, 1)}, OptionError, "is one pixel, .*; for shares write 1.0"),
        (GREY, {"stitches": 9, "threshold": "mean"}, OptionError, "`threshold` must be one of 'otsu', 'adaptive'"),
        (GREY, {"stitches": 9, "threshold": 128}, OptionError, "`threshold` must be a number from 0 to 1; got 128."),
        (GREY, {"stitches": 9, "dither": "dots"}, OptionError, "`dither` must be one of None, 'error diffusion'"),
        (
            GREY,
            {"stitches": 9, "dither": "error diffusion", "threshold": 0.5},
            OptionError,
            "Error diffusion has no threshold: leave out `threshold`, or `dither`; got 0.5.",
        ),
        (GREY, {"stitches": 9, "first": "either"}, OptionError, "`first` must be one of 'MC', 'CC', 'better'"),
        (GREY, {"stitches": 9, "invert": "yes"}, OptionError, "`invert` must be True or False; got 'yes'."),
        (GREY, {"stitches": 9, "edges_weight": -1}, OptionError, "`edges_weight` must be a number from 0 to 1000"),
        (GREY, {"stitches": 9, "name": "two\nlines"}, MotifError, "A motif's name"),
    ],
)
def test_bad_arguments_are_refused_with_a_sentence(picture, options, error, message):
    with pytest.raises(error, match=message):
        from_picture(picture, **options)


def test_a_picture_is_left_as_it_is():
    array = data.chelsea().copy()
    image = Image.fromarray(array)
    from_picture(array, stitches=50)
    from_picture(image, stitches=50)
    assert np.array_equal(array, data.chelsea())
    assert np.array_equal(np.asarray(image), data.chelsea())
    assert isinstance(from_picture(array, stitches=50).motif, Motif)
