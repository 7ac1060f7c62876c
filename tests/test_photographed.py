"""Photographed work: squares, rows and wrong stitches against fabric that is drawn and photographed by other code."""

import io
from itertools import product

import matplotlib.pyplot as plt
import numpy as np
import pytest
from photographing import drawn, eight, photograph, wrong_stitches
from PIL import Image

import mosaickit as mk
from mosaickit.errors import FileError, OptionError, PhotographError
from mosaickit.photographed.expected import expected
from mosaickit.photographed.judging import USUAL_MISTAKES, _chance
from mosaickit.photographed.straight import colours_of, homography, through


def chart_by_chance(rng, rows=20, stitches=20, **compiled):
    return mk.compile_chart(mk.random_motif(rows, stitches, rng=rng), **compiled)


def lowest(chart, rows):
    return mk.Chart(
        chart.stitches[:rows], chart.row_colours[:rows], chart.yarns, chart.hand, chart.in_the_round, chart.name
    )


def found_stitches(work):
    return [(each.stitch_row, each.stitch) for each in work.findings]


def one_trial(seed, **how):
    """A picture of 300 × 300 pixels of 20 × 20 squares with one stitch worked wrong, from any fabric."""
    rng = np.random.default_rng(seed)
    chart = chart_by_chance(rng)
    made, places = wrong_stitches(chart, rng)
    data, _ = photograph(made, rng, **how)
    return mk.read_work(data, chart), mk.work(made).front, places


# ---- the main job ------------------------------------------------------------------------------------------


@pytest.mark.thorough
def test_squares_and_a_wrong_stitch_are_read_from_photographs_of_fifteen_pixels_a_square():
    right = found = 0
    for seed in range(3):
        work, front, places = one_trial(seed)
        right += np.count_nonzero(work.shows_cc == front)
        found += found_stitches(work) == places
        assert work.rows == (1, 20)
        assert all(each.sureness > 0.5 for each in work.findings)
    assert right >= 0.99 * 3 * 400
    assert found == 3


@pytest.mark.thorough
def test_of_many_photographs_99_squares_of_100_and_95_wrong_stitches_of_100_are_right():
    right = found = 0
    for seed in range(1000, 1040):
        work, front, places = one_trial(seed)
        right += np.count_nonzero(work.shows_cc == front) if work.shape == front.shape else 0
        found += set(places) <= set(found_stitches(work))
    assert right >= 0.99 * 40 * 400
    assert found >= 0.95 * 40


@pytest.mark.thorough
def test_of_findings_with_a_sureness_about_so_many_are_true():
    # poor pictures of yarns that are hardly told apart, so that there are doubts
    said, true = [], []
    sand = np.array([176, 156, 132])
    for seed in range(4000, 4080):
        rng = np.random.default_rng(seed)
        darker = (sand * rng.uniform(0.6, 0.9)).astype(int)
        yarns = mk.Yarns(*(mk.Yarn("", "#{:02x}{:02x}{:02x}".format(*tones)) for tones in (sand, darker)))
        chart = chart_by_chance(rng, 12, 12)
        chart = mk.Chart(chart.stitches, chart.row_colours, yarns)
        made, places = wrong_stitches(chart, rng, int(rng.integers(1, 6)))
        poor = {"noise": rng.uniform(20, 60), "blur": rng.uniform(1, 2.4), "light": 0.7, "quality": 40}
        data, corners = photograph(made, rng, size=(130, 130), ground="#303840", **poor)
        try:
            work = mk.read_work(data, chart, corners=corners, rows=(1, 12))
        except PhotographError:
            continue  # it said that it cannot be sure
        said += [each.sureness for each in work.findings]
        true += [place in places for place in found_stitches(work)]
    said, true = np.array(said), np.array(true)
    sure = said >= 0.9
    assert sure.sum() > 25
    assert np.count_nonzero(~sure) > 12
    assert true[sure].mean() >= 0.9
    assert abs(true.mean() - said.mean()) < 0.12


@pytest.mark.thorough
def test_a_part_that_is_not_worked_yet_is_not_missed_and_rows_are_counted():
    rng = np.random.default_rng(8)
    chart = chart_by_chance(rng)
    for rows in (9, 14):
        data, corners = photograph(lowest(chart, rows), rng, size=(320, 260))
        near = corners + rng.uniform(-5, 5, (4, 2))  # a finger does not hit a corner
        for work in (mk.read_work(data, chart), mk.read_work(data, chart, corners=near)):
            assert (work.rows, work.findings) == ((1, rows), ())
            assert np.array_equal(work.shows_cc, mk.work(lowest(chart, rows)).front)
    assert f"Rows 1 to 14 of 20 ({work.rows_sureness:.0%} sure)" in str(work) or "over 99%" in str(work)


@pytest.mark.thorough
def test_the_back_of_reversible_work_by_a_left_hand_is_read_with_its_own_stitches():
    rng = np.random.default_rng(3)
    chart = chart_by_chance(rng, 16, 18, reversible=True, hand="left")
    stitches = chart.stitches.copy()
    row, stitch = np.argwhere(stitches == mk.Stitch.TOG_BACK)[7].tolist()
    stitches[row - 1, stitch] = stitches[row, stitch] = int(mk.Stitch.BLSC)  # an FLdc forgotten, so no tog-b above it
    made = mk.Chart(stitches, chart.row_colours, chart.yarns, "left")
    for face in ("front", "back"):
        data, _ = photograph(made, rng, side=face)
        work = mk.read_work(data, chart, face=face)
        shown = mk.work(made).front if face == "front" else mk.work(made).back
        assert np.array_equal(work.shows_cc, shown)
        (one,) = work.findings
        wrong = (row, mk.Stitch.FLDC) if face == "front" else (row + 1, mk.Stitch.TOG_BACK)
        assert (one.stitch_row, one.should_be) == wrong
        assert (one.row, one.stitch, one.probably_is) == (one.stitch_row - 1, stitch + 1, mk.Stitch.BLSC)
    with pytest.raises(PhotographError, match="The back fits: give `face='back'`"):
        mk.read_work(data, chart)


def test_a_yarn_that_changes_on_the_way_is_read():
    rng = np.random.default_rng(11)
    chart = chart_by_chance(rng, 14, 14)
    warm = [(1, mk.Yarn("rose", "#e8b8a8")), (8, mk.Yarn("lemon", "#f2e08a"))]
    chart = mk.Chart(chart.stitches, chart.row_colours, mk.Yarns(warm, mk.Yarn("pine", "#1f4a3a")))
    made, places = wrong_stitches(chart, rng, 2)
    data, _ = photograph(made, rng, ground="#556070")
    work = mk.read_work(data, chart)
    assert found_stitches(work) == places
    assert [name for name, _ in work.yarns_seen] == ["rose", "pine", "lemon"]
    colour = {name: [int(seen[at : at + 2], 16) for at in (1, 3, 5)] for name, seen in work.yarns_seen}
    assert colour["lemon"][2] < colour["rose"][2]  # less blue
    assert max(colour["pine"]) < min(colour["lemon"])


def test_a_part_of_a_wide_piece_is_read_by_its_rows_and_stitches():
    rng = np.random.default_rng(12)
    chart = chart_by_chance(rng, 18, 24)
    made, _ = wrong_stitches(chart, rng, 12)
    data, corners = photograph(made, rng, size=(420, 360), bend=0)
    # rows 5 to 13 and stitches 4 to 18, whose squares lie where a plane seen askew puts them
    plane = eight(corners, np.array([(0, 0), (24, 0), (24, 18), (0, 18)]))
    there = [(24 - 18, 18 - 13), (24 - 3, 18 - 13), (24 - 3, 18 - 4), (24 - 18, 18 - 4)]
    part = [
        (plane[0:3] @ (x, y, 1) / (plane[6:8] @ (x, y) + 1), plane[3:6] @ (x, y, 1) / (plane[6:8] @ (x, y) + 1))
        for x, y in there
    ]
    work = mk.read_work(data, chart, corners=part, rows=(5, 13), stitches=(4, 18))
    assert (work.rows, work.stitches, work.rows_sureness) == ((5, 13), (4, 18), 1.0)
    assert np.array_equal(work.shows_cc, mk.work(made).front[5:14, 6:21])


# ---- laws and opponents ------------------------------------------------------------------------------------


def test_a_homography_takes_its_corners_and_what_lies_between_as_pillow_does():
    rng = np.random.default_rng(1)
    one = np.array([(0.0, 0), (90, 5), (100, 80), (-5, 70)])
    two = one + rng.uniform(-20, 20, (4, 2))
    matrix = homography(one, two)
    assert np.allclose(through(matrix, one), two)
    a = eight(two, one)
    x, y = 40.0, 33.0
    assert np.allclose(
        through(matrix, np.array([x, y])), np.array([a[0:3] @ (x, y, 1), a[3:6] @ (x, y, 1)]) / (a[6:8] @ (x, y) + 1)
    )


@pytest.mark.parametrize("top_is_last", [True, False])
def test_chances_are_those_of_all_columns_that_a_hook_can_make(top_is_last):
    rng = np.random.default_rng(2)
    chart = chart_by_chance(rng, 7, 3)
    part = expected(chart, "front", (1, 7 if top_is_last else 6), (1, 3))
    evidence = rng.normal(0, 4, part.shape)
    chance = _chance(evidence, part)
    rows = part.shape[0]
    for column in range(3):
        total, over = 0.0, np.zeros(rows)
        for choice in product((False, True), repeat=rows):
            made = np.array(choice)
            if (made[1:] & made[:-1]).any() or (top_is_last and made[0]):
                continue
            kept = np.where(made == part.overlaid[:, column], 1 - USUAL_MISTAKES, USUAL_MISTAKES)
            weight = kept.prod() * np.exp(evidence[made, column].sum())
            total += weight
            over += weight * made
        assert np.allclose(chance[:, column], over / total)


def test_a_reduced_picture_keeps_its_light_and_its_clear_parts_are_white():
    pixels = np.zeros((40, 30, 4), dtype=np.uint8)
    pixels[..., 3] = 255
    pixels[:20, :, 3] = 0
    tones, factor = colours_of(pixels, 10)
    assert (factor, tones.shape) == (4, (10, 7, 3))
    assert np.array_equal(tones[:, 0, 0], [1] * 5 + [0] * 5)


# ---- how pictures come ---------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def pictured():
    rng = np.random.default_rng(21)
    chart = chart_by_chance(rng, 12, 13)
    data, corners = photograph(chart, rng, size=(240, 220))
    return chart, data, corners


@pytest.mark.thorough
def test_a_picture_is_turned_as_the_camera_noted_and_fabric_on_its_side_is_found(pictured):
    chart, data, _ = pictured
    upright = Image.open(io.BytesIO(data))
    noted = upright.getexif()
    noted[0x0112] = 6  # to be turned by a quarter, clockwise; from memory
    out = io.BytesIO()
    upright.rotate(90, expand=True).save(out, "JPEG", quality=90, exif=noted)
    assert mk.read_work(out.getvalue(), chart).remarks == ()
    for turn in (90, 180, 270):
        work = mk.read_work(upright.rotate(turn, expand=True), chart)
        assert work.findings == ()
        assert "turned in the photograph" in work.remarks[0]


def test_what_is_wrong_as_a_whole_is_named(pictured):
    chart, data, _ = pictured
    swapped = mk.Chart(chart.stitches, chart.row_colours, mk.Yarns(chart.yarns.cc, chart.yarns.mc))
    work = mk.read_work(data, swapped)
    assert (work.findings, work.remarks[0][:36]) == ((), "Light and dark are the other way aro")
    with pytest.raises(PhotographError, match="Mirrored, it fits: was the picture mirrored"):
        mk.read_work(Image.open(io.BytesIO(data)).transpose(Image.Transpose.FLIP_LEFT_RIGHT), chart)
    with pytest.raises(PhotographError, match="Check that it is this chart"):
        mk.read_work(data, chart_by_chance(np.random.default_rng(77), 12, 13))


ORDER = "top left, top right, bottom right, bottom left"
BAD_CORNERS = {
    "four points": ([(0, 0), (9, 9)], rf"`corners` must be four points \(x, y\) in pixels: {ORDER}"),
    "outside": ([(0, 0), (900, 0), (200, 200), (0, 200)], r"is 240 × 220 pixels, .*; got \(900, 0\)"),
    "crossing": ([(0, 0), (200, 200), (200, 0), (0, 200)], rf"in order: {ORDER}.* these cross"),
    "dented": ([(0, 0), (200, 0), (20, 20), (0, 200)], "one corner lies inside"),
    "on a line": ([(0, 0), (100, 0), (200, 0), (0, 200)], "three of these lie on one line"),
    "on one spot": ([(5, 5)] * 4, "two on one spot"),
    "round the other way": ([(0, 200), (200, 200), (200, 0), (0, 0)], "must go round clockwise"),
    "no numbers": ([(np.nan, 0), (1, 0), (1, 1), (0, 1)], "must be four points"),
}


@pytest.mark.parametrize("name", BAD_CORNERS)
def test_bad_corners_are_refused_with_their_order(pictured, name):
    chart, data, _ = pictured
    corners, said = BAD_CORNERS[name]
    with pytest.raises(OptionError, match=said):
        mk.read_work(data, chart, corners=corners)


def test_pictures_without_readable_fabric_are_refused_with_a_cure(pictured, tmp_path):
    chart, data, corners = pictured
    rng = np.random.default_rng(4)
    with pytest.raises(PhotographError, match="one colour all over"):
        mk.read_work(np.full((60, 60), 0.5), chart)
    with pytest.raises(PhotographError, match=rf"give `corners`.*{ORDER}"):
        mk.read_work(rng.random((120, 120, 3)), chart)
    with pytest.raises(PhotographError, match=r"are about 3.1 pixels wide .* at least 6 .* take it from nearer"):
        mk.read_work(data, chart, corners=[(0, 0), (40, 0), (40, 40), (0, 40)])
    plate = np.full((200, 200, 3), 0.5)
    plate[60:150, 50:160] = 0.8
    with pytest.raises(PhotographError, match=r"Check .* `corners` are those of its squares"):
        mk.read_work(plate, chart)
    (tmp_path / "cut.jpg").write_bytes(data[:3000])
    with pytest.raises(FileError, match=r"cut\.jpg.*: The picture is damaged or cut short"):
        mk.read_work(tmp_path / "cut.jpg", chart)
    with pytest.raises(OptionError, match="`chart`, or the part of it that is seen, must have at least 3 rows"):
        mk.read_work(data, mk.compile_chart(mk.Motif(np.zeros((1, 1), bool))), corners=corners)
    with pytest.raises(OptionError, match="`face` must be 'front' for this chart: the back of plain fabric"):
        mk.read_work(data, chart, face="back")
    with pytest.raises(PhotographError, match="far too wide or too high for 3 rows"):
        mk.read_work(data, chart, rows=(1, 3), corners=[(0, 0), (100, 0), (100, 210), (0, 210)])


def test_yarns_of_low_contrast_are_called_unsure_or_refused():
    for pale, outcome in (("#a08468", "refused"), ("#ac9478", "unsure")):
        rng = np.random.default_rng(6)
        chart = chart_by_chance(rng, 12, 12)
        yarns = mk.Yarns(mk.Yarn("sand", pale), mk.Yarn("earth", "#927860"))
        near = mk.Chart(chart.stitches, chart.row_colours, yarns)
        data, corners = photograph(near, rng, size=(240, 240), ground="#222222", noise=20)
        if outcome == "refused":
            with pytest.raises(PhotographError, match="or the yarns are too alike in it"):
                mk.read_work(data, near, corners=corners)
        else:
            work = mk.read_work(data, near, corners=corners)
            assert any("so nothing here is sure" in each for each in work.remarks)


def test_stripes_alone_say_that_nothing_tells_where_stitches_are():
    stripes = mk.compile_chart(mk.Motif.from_text("\n".join(("." * 10, "#" * 10)[row % 2] for row in range(9))))
    data, _ = photograph(stripes, np.random.default_rng(9), size=(240, 220))
    work = mk.read_work(data, stripes)
    assert any("nothing tells where its stitches are but the corners" in each for each in work.remarks)


# ---- what is shown of it -------------------------------------------------------------------------------------


def test_table_drawing_and_words_say_the_same_and_that_it_is_experimental():
    rng = np.random.default_rng(31)
    chart = chart_by_chance(rng, 14, 16)
    made, places = wrong_stitches(chart, rng, 3)
    work = mk.read_work(photograph(made, rng)[0], chart)
    table = mk.tables.wrong_squares(work)
    assert list(zip(table["stitch row"], table["stitch"], strict=True)) == places
    assert (table["row"] == table["stitch row"] - 1).all()
    for (row, stitch), should, probably in zip(places, table["should be"], table["probably is"], strict=True):
        assert should == mk.Stitch(chart.stitches[row - 1, stitch - 1]).abbreviation
        assert probably == mk.Stitch(made.stitches[row - 1, stitch - 1]).abbreviation
        assert f"Row {row}, stitch {stitch}: {probably} where {should} should be (" in str(work)
    for text in (str(work), work.summary, repr(work), mk.read_work.__doc__, mk.draw.photographed.__doc__):
        assert "experimental" in text.lower()
    assert "never tried on wool" in str(work)
    # a frame on its ground stands on each square, on chart and photograph alike
    axes = mk.draw.photographed(work)
    squares = sorted((16 - stitch, 14 - (row - 1)) for row, stitch in places)
    for ax in axes:
        marks = [each for each in ax.collections if each.get_label() in ("differs", "may differ")]
        stood = sorted(tuple(map(int, at)) for each in marks for at in each.get_offsets())
        assert stood == squares
    assert axes[1].images[0].get_array().shape == work.straight.shape
    plt.close("all")
    again, both = drawn(chart)
    assert again.size[0] > both[1, 0] > both[0, 0] > 0
