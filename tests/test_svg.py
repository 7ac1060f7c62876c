"""Pictures for notebooks: what the SVG shows, read back from its text."""

import re
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp
from samples import letter_f
from strategies import colours, hands, motifs, workable_motifs

from mosaickit import Chart, Motif, Stitch, Yarn, Yarns, compile_chart, contrast, orientation, svg, work
from mosaickit.fabric.stitches import front_rows
from mosaickit.svg import SQUARE, SYMBOLS, ink_on

masks = hnp.arrays(np.bool_, hnp.array_shapes(min_dims=2, max_dims=2, max_side=9))
SVG = "{http://www.w3.org/2000/svg}"


def read(text):
    return ElementTree.fromstring(text)


def mask_of(path, shape):
    """The squares that a path of runs covers."""
    mask = np.zeros(shape, dtype=bool)
    pattern = r"M(\d+) (\d+)H(\d+)V(\d+)H(\d+)z"
    assert re.sub(pattern, "", path) == ""
    for left, top, right, bottom, back in re.findall(pattern, path):
        assert (back, int(bottom)) == (left, int(top) + 1)
        mask[int(top), int(left) : int(right)] = True
    return mask


def squares_in(group, shape):
    """The colour of every square that the elements of a group show, (R, C)."""
    ground = group.find(f"{SVG}rect")
    assert (int(ground.get("width")), int(ground.get("height"))) == shape[::-1]
    shown = np.full(shape, ground.get("fill"))
    for path in group.findall(f"{SVG}path"):
        shown[mask_of(path.get("d"), shape)] = path.get("fill")
    return shown


def stamps_in(group):
    """What stands where: {(row, column): (ink, polylines)}, from the paths of a chart's symbols."""
    stamps = {}
    for path in group.findall(f"{SVG}path"):
        for corner, drawn in re.findall(r"M(\d+ \d+)((?:m[^mM]+)+)", path.get("d")):
            x, y = start = tuple(map(int, corner.split()))
            lines = []
            for line in drawn.split("m")[1:]:
                steps = np.array(line.split(), dtype=int).reshape(-1, 2)
                points = np.add((x, y), np.cumsum(steps, axis=0))
                x, y = points[-1]
                lines.append(tuple(map(tuple, ((points - start) * (1, -1) + (0, SQUARE)).tolist())))
            stamps[start[1] // SQUARE, start[0] // SQUARE] = (path.get("stroke"), tuple(lines))
    return stamps


def colours_of(shows, rows, yarns):
    """The colour of each square, looked up square by square."""
    pairs = zip(shows.ravel().tolist(), rows.ravel().tolist(), strict=True)
    return np.array([yarns.at(row, "CC" if cc else "MC").colour for cc, row in pairs]).reshape(shows.shape)


@given(colours)
def test_ink_can_be_read_on_every_colour(colour):
    # WCAG 2.2, 1.4.3: 4.5 to 1 for text
    assert contrast(ink_on(colour), colour) >= 4.5


charts = st.builds(
    lambda motif, reversible, hand: compile_chart(motif, reversible, hand=hand), workable_motifs(), st.booleans(), hands
)


@given(masks)
def test_runs_give_back_the_mask(mask):
    rebuilt = np.zeros_like(mask)
    for row, start, end in svg.runs(mask):
        assert not rebuilt[row, max(start - 1, 0) : end].any(), "runs that touch are one run"
        rebuilt[row, start:end] = True
    assert np.array_equal(mask, rebuilt)


@given(masks)
def test_a_path_of_runs_covers_the_mask(mask):
    assert np.array_equal(mask, mask_of(svg.runs_path(mask), mask.shape))


@given(charts)
def test_the_quick_look_at_the_front_is_what_the_hook_makes(chart):
    assert np.array_equal(work(chart).front_rows, orientation.to_seen(front_rows(chart.stitches), chart.hand))


@given(charts)
def test_a_chart_shows_the_front_with_a_symbol_on_every_stitch_that_is_not_plain(chart):
    fabric = work(chart)
    group = read(chart._repr_svg_()).find(f"{SVG}g")
    expected = colours_of(fabric.front, fabric.front_rows, chart.yarns)
    assert np.array_equal(expected, squares_in(group, chart.shape))

    stitches = orientation.to_seen(chart.stitches, chart.hand)
    assert stamps_in(group.findall(f"{SVG}g")[1]) == {
        (row, column): (ink_on(expected[row, column]), SYMBOLS[stitches[row, column]].lines)
        for row, column in np.argwhere(stitches != Stitch.BLSC).tolist()
    }


@given(charts)
def test_a_fabric_shows_both_faces_from_their_own_side(chart):
    fabric = work(chart)
    front, back = read(fabric._repr_svg_()).findall(f"{SVG}g")
    for group, shows, rows in ((front, fabric.front, fabric.front_rows), (back, fabric.back, fabric.back_rows)):
        assert np.array_equal(colours_of(shows, rows, chart.yarns), squares_in(group, fabric.shape))


@given(motifs())
def test_a_motif_shows_its_squares(motif):
    expected = colours_of(motif.grid, motif.shown_rows, motif.yarns)
    assert np.array_equal(expected, squares_in(read(motif._repr_svg_()), motif.shape))


def texts(root):
    """The numbers of a chart: those of rows, from the top, and those of stitches, from the left."""
    elements = root.findall(f"{SVG}text")
    below = max(float(element.get("y")) for element in elements)
    rows = [element for element in elements if float(element.get("y")) < below]
    return rows, [element for element in elements if element not in rows]


@pytest.mark.parametrize("hand", ["right", "left"])
def test_row_numbers_stand_at_the_working_edge_and_stitch_numbers_below(hand):
    chart = Chart.from_text("...\n...\n...\n...\n...", hand=hand)
    root = read(chart._repr_svg_())
    rows, stitches = texts(root)
    assert [element.text for element in rows] == ["5", "4", "3", "2", "1"]
    assert [element.text for element in stitches] == (["3", "2", "1"] if hand == "right" else ["1", "2", "3"])
    heights = [float(element.get("y")) for element in rows]
    assert heights == sorted(heights)
    places = [float(element.get("x")) for element in stitches]
    assert places == sorted(places)
    edge = max(places) if hand == "right" else min(places)
    assert all((float(element.get("x")) > edge) == (hand == "right") for element in rows)


def test_numbers_follow_the_one_place_that_knows_them(monkeypatch):
    monkeypatch.setattr(orientation, "row_numbers", lambda rows: np.arange(1, rows + 1))
    monkeypatch.setattr(orientation, "stitch_numbers", lambda columns, hand: np.arange(1, columns + 1))
    monkeypatch.setattr(orientation, "working_edge", lambda hand: "left")
    rows, stitches = texts(read(compile_chart(letter_f)._repr_svg_()))
    assert [element.text for element in rows] == [element.text for element in stitches] == list("1234567")
    assert {element.get("text-anchor") for element in rows} == {"end"}


def test_numbers_are_dark_on_a_light_ground_of_their_own():
    chart = compile_chart(letter_f)
    for root in (read(chart._repr_svg_()), read(work(chart)._repr_svg_())):
        ground = root[1] if root[1].tag == f"{SVG}rect" else root[2]
        assert (ground.get("fill"), ground.get("width"), ground.get("height")) == (
            "#ffffff",
            root.get("width"),
            root.get("height"),
        )
        assert {element.get("fill") for element in root.findall(f"{SVG}text")} == {"#222222"}


def test_a_screen_reader_is_told_what_the_picture_shows():
    chart = compile_chart(letter_f, reversible=True)
    root = read(chart._repr_svg_())
    assert root.get("role") == "img"
    assert root.find(f"{SVG}title").text == chart.summary
    assert root.find(f"{SVG}desc").text == chart.to_text()
    assert read(work(chart)._repr_svg_()).find(f"{SVG}title").text == work(chart).summary


def test_names_are_shown_as_they_are_written():
    motif = letter_f.named('<b> & "F" </title>').with_yarns(Yarns(mc=Yarn("<&>", "#ffffff")))
    chart = compile_chart(motif)
    for shown in (motif, chart, work(chart)):
        assert read(shown._repr_svg_()).find(f"{SVG}title").text == shown.summary


@pytest.fixture(scope="module")
def large():
    """130 rows of 125 stitches, an FLdc in the first and in the last stitch of rows 3 and 130."""
    stripes = Motif(np.zeros((130, 125), dtype=bool))
    overlaid = np.zeros((130, 125), dtype=bool)
    overlaid[[1, 1, -2, -2], [0, -1, 0, -1]] = True
    return stripes.with_grid(overlaid ^ stripes.row_is_cc)


@pytest.mark.parametrize("hand", ["right", "left"])
def test_a_large_chart_is_cut_to_the_corner_where_it_starts_and_says_so(large, hand):
    chart = compile_chart(large, hand=hand)
    text = chart._repr_svg_()
    root = read(text)
    assert root.find(f"{SVG}title").text == f"{chart.summary} (shown: the first 120 rows and 120 stitches)"
    squares_in(root.find(f"{SVG}g"), (120, 120))
    at_stitch_1 = 119 if hand == "right" else 0
    stamps = stamps_in(root.find(f"{SVG}g").findall(f"{SVG}g")[1])
    row_1 = {(119, column) for column in range(120)}
    assert set(stamps) == {(117, at_stitch_1)} | row_1, "row 3, stitch 1, and all of row 1, which is sc"
    rows, stitches = texts(root)
    assert (rows[0].text, rows[-1].text) == ("120", "1")
    assert {stitches[0].text, stitches[-1].text} == {"120", "1"}
    assert len(text) < 60_000


@pytest.mark.parametrize("hand", ["right", "left"])
def test_a_large_fabric_shows_the_same_stitches_of_both_faces(large, hand):
    fabric = work(compile_chart(large, hand=hand, reversible=True))
    root = read(fabric._repr_svg_())
    assert root.find(f"{SVG}title").text.endswith("(shown: the first 120 rows and 120 stitches)")
    front, back = root.findall(f"{SVG}g")
    first = slice(-120, None) if hand == "right" else slice(120)
    last = slice(120) if hand == "right" else slice(-120, None)
    expected = colours_of(fabric.front[-120:, first], fabric.front_rows[-120:, first], fabric.yarns)
    assert np.array_equal(expected, squares_in(front, (120, 120)))
    expected = colours_of(fabric.back[-120:, last], fabric.back_rows[-120:, last], fabric.yarns)
    assert np.array_equal(expected, squares_in(back, (120, 120)))


def test_heavier_lines_run_after_row_10_and_stitch_10():
    root = read(Chart.from_text("\n".join(["." * 12] * 13))._repr_svg_())
    fine, heavy = root.find(f"{SVG}g").findall(f"{SVG}g")[0]
    assert float(heavy.get("stroke-width")) > 2 * float(fine.get("stroke-width"))
    assert heavy.get("d") == "M0 3H12M2 0V13"
