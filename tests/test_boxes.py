"""A repeat charted once: worked as its box says, it is the whole chart, and it is drawn and worded as the box is."""

import re

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from papers import sheet_texts
from strategies import hands, surrounds, workable_motifs

import mosaickit as mk
from mosaickit import orientation
from mosaickit.publish import contents, filling
from mosaickit.publish.box_lines import rows_said, sentences, stitches_said
from mosaickit.publish.boxes import ChartView, RepeatBox, box_of
from mosaickit.publish.charts import Drawings, all_of
from mosaickit.publish.gathering import gathered, listed
from mosaickit.publish.numbering import PrintStyle
from mosaickit.svg import yarn_colours

pytestmark = pytest.mark.thorough

GAUGE = mk.Gauge(16, 18)


@st.composite
def laid(draw):
    """Designs that can be worked, laid more than once."""
    in_the_round = draw(st.booleans())
    motif = draw(workable_motifs(most=7))
    rows, columns = motif.shape
    design = mk.Design(
        motif,
        GAUGE,
        across=draw(st.integers(1, 6)),
        up=draw(st.integers(1, 6)),
        laying=draw(st.sampled_from(["straight", "brick", "half-drop", "mirrored"])),
        seam=draw(st.sampled_from(["double", "shared"])),
        surround=draw(surrounds(rows, columns, in_the_round)),
        reversible=draw(st.booleans()),
        hand=draw(hands),
    )
    assume(design.across * design.up > 1)
    assume(design.layout.workable)
    return design


def worked(box, shape):
    """The numbers of the drawn rows, or stitches, in the order in which the box has them worked."""
    orders = []
    for size, (first, last), times in ((shape[0], box.rows, box.up), (shape[1], box.stitches, box.across)):
        order = list(range(1, last + 1))
        for _ in range(times - 1):
            order += range(first, last + 1)
        # what comes after the box is numbered as it is in the whole
        order += range(last + (times - 1) * (last - first + 1) + 1, size + 1)
        orders.append(np.array(order) - 1)
    return orders


@given(laid())
def test_what_is_drawn_worked_as_its_box_says_is_the_whole_chart(design):
    page = design.page()
    chart = page.chart
    view = Drawings(page, "US").once
    box = view.box
    if box is None:
        assert view.shape == chart.shape
        return
    rows, stitches = worked(box, chart.shape)
    assert np.array_equal(chart.stitches[np.ix_(rows, stitches)], chart.stitches)
    drawn = chart.stitches[np.ix_(view.rows - 1, view.stitches - 1)]
    assert np.array_equal(box.unfold(drawn), chart.stitches)
    assert box.up * box.across > 1
    assert set(view.rows) == set(rows + 1)
    assert set(view.stitches) == set(stitches + 1)

    front = page.front
    colours = orientation.to_working(yarn_colours(front.grid, front.shown_rows, front.yarns)[0], chart.hand)
    overlaid = orientation.to_working(front.overlaid, chart.hand)
    bar = np.array([chart.yarns.at(row, role).colour + role for row, role in enumerate(chart.row_colours, 1)])
    assert box.swaps == (box.up > 1 and box.shape[0] % 2 == 1)
    if box.swaps:
        # every square is in the other colour, as there are no more than two
        assert len(front.yarns.mc) == len(front.yarns.cc) == 1
        assert np.array_equal(overlaid[np.ix_(rows, stitches)], overlaid)
    else:
        assert np.array_equal(colours[np.ix_(rows, stitches)], colours)
        assert np.array_equal(bar[rows], bar)


@given(laid())
def test_a_chart_is_drawn_with_the_numbers_of_the_rows_and_stitches_that_it_has_left(design):
    drawing = Drawings(design.page(), "US")
    view = drawing.once
    look = PrintStyle(30, 4)
    body = drawing.part(all_of(view), look, view).body
    found = re.findall(r'<text x="[\d.]+" y="[\d.]+" text-anchor="(\w+)">(?:[A-Z]+ )?(\d+)(?: [A-Z]+)?</text>', body)
    assert [int(number) for anchor, number in found if anchor != "middle"] == view.rows[::-1].tolist()
    assert [int(number) for anchor, number in found if anchor == "middle"] == view.numbers((1, 1), (1, view.shape[1]))[
        1
    ].tolist()
    said = re.findall(r">((?:repeat|work) [^<]*)</text>", body)
    box = view.box
    assert set(said) <= ({stitches_said(box), rows_said(box, drawing.word)} if box else set())


def waves(rows=22, stitches=14):
    """A motif whose rows and columns all differ."""
    rng = np.random.default_rng(3)
    overlaid = rng.random((rows, stitches)) < 0.3
    overlaid[[0, -1]] = False
    for row in range(1, rows):
        overlaid[row] &= ~overlaid[row - 1]
    plain = mk.Motif(np.zeros((rows, stitches), dtype=bool), name="waves")
    return plain.with_grid(overlaid ^ plain.row_is_cc)


def box_in(design):
    return Drawings(design.page(), "US").once.box


@pytest.mark.parametrize(("hand", "first"), [("right", 2), ("left", 4)])
def test_the_box_stands_around_the_motif_as_it_was_laid(hand, first):
    design = mk.Design(waves(), GAUGE, hand=hand).but(
        across=4, up=14, rows_below=6, rows_above=6, balance_across=2, title="Scarf"
    )
    assert box_in(design) == RepeatBox((7, 28), (first, first + 13), 14, 4)
    (low, high), (left, right) = design.page().first_repeat
    assert (low, high, left, right) == (7, 28, first, first + 13)


def test_a_brick_is_charted_with_the_two_rows_of_it_that_differ():
    design = mk.Design(waves(8, 6), GAUGE).but(across=5, up=6, laying="brick", rows_below=1, rows_above=1)
    box = box_in(design)
    assert box.shape == (16, 6)
    assert (box.up, box.across) == (3, 5)
    drop = box_in(design.but(laying="half-drop", up=5, across=6))
    assert drop.shape == (8, 12)


def test_an_odd_number_of_rows_is_charted_once_only_where_the_colours_swap():
    motif = mk.Motif.from_text("....\n####\n.##.\n####\n....")
    design = mk.Design(motif, GAUGE).but(across=3, up=6, colours="swap", rows_below=1, rows_above=1)
    box = box_in(design)
    assert (box.shape[0], box.swaps, box.up) == (5, True, 6)
    assert sentences(box, design.shape).endswith(
        "another 5 times, then go on with row 32. MC and CC change places each time."
    )
    # where a yarn changes on its way, the colours of a repeat are not those of another
    yarns = mk.Yarns(mk.Yarn("oat", "#e8dcc0"), [(1, mk.Yarn("moss", "#3c5a3a")), (4, mk.Yarn("plum", "#6b2f5c"))])
    changed = box_in(mk.Design(motif.with_yarns(yarns), GAUGE).but(across=3, up=6, colours="swap", rows_below=1))
    assert not changed.swaps
    assert changed.shape[0] % 2 == 0 or changed.up == 1


def test_what_is_laid_once_is_drawn_in_full():
    assert mk.Design(waves(), GAUGE).page().first_repeat is None
    assert Drawings(mk.Design(waves(), GAUGE).page(), "US").once.box is None
    page = mk.Design(waves(), GAUGE).but(across=3, balance_across=5).page()
    no_rows_again = box_of(page.chart, page.front, page.first_repeat)
    assert (no_rows_again.up, no_rows_again.across, no_rows_again.rows) == (1, 3, (1, 22))


def test_a_box_is_said_in_a_sentence():
    box = RepeatBox((5, 26), (2, 23), 5, 5)
    assert sentences(box, (120, 113)) == (
        "Stitches 2 to 23 stand in the box: in every row repeat these 22 stitches 4 more times, then go on with stitch "
        "112. After row 26 work rows 5 to 26 another 4 times, then go on with row 115."
    )
    twice = RepeatBox((1, 4), (1, 3), 2, 2)
    assert sentences(twice, (8, 6), "round") == (
        "Stitches 1 to 3 stand in the box: in every round repeat these 3 stitches once more. "
        "After round 4 work rounds 1 to 4 once more."
    )
    assert ChartView(mk.Design(waves(), GAUGE).but(across=2).chart).words((1, 2), (3, 3)) == "rows 1 to 2, stitch 3"


# ---- in a pattern ------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def scarf():
    return mk.Design(waves(), GAUGE).but(across=4, up=14, rows_below=6, rows_above=6, balance_across=2, title="Scarf")


def test_a_long_scarf_takes_few_pages_and_says_what_its_box_says(scarf, tmp_path):
    assert scarf.shape == (320, 60)
    page = scarf.page()
    file = mk.publish.pdf(page, tmp_path / "x.pdf")
    sheets = sheet_texts(file)
    assert len(sheets) <= 8
    assert file.stat().st_size < 2_000_000
    text = " ".join("\n".join(sheets).split())
    assert sentences(box_in(scarf), scarf.shape) in text
    assert "repeat these 14 stitches 3 more times" in text
    assert "The whole piece" in text
    full = sheet_texts(mk.publish.pdf(page, tmp_path / "full.pdf", in_full=True))
    assert len(full) > 16
    assert "The whole piece" not in "".join(full)


@pytest.mark.parametrize("hand", ["right", "left"])
def test_the_whole_piece_is_shown_small_with_numbers_every_ten_and_the_box(scarf, hand):
    drawing = Drawings(scarf.but(hand=hand).page(), "US")
    picture = drawing.overview(PrintStyle(9, 8), (480, 640))
    assert picture.width <= 480
    assert picture.height <= 640
    found = re.findall(r'<text x="([\d.]+)" y="[\d.]+" text-anchor="(\w+)">(\d+)</text>', picture.body)
    assert [int(n) for _, anchor, n in found if anchor != "middle"] == [*range(320, 0, -10), 1]
    assert {anchor for _, anchor, _ in found} == {"middle", "start" if hand == "right" else "end"}
    x, y, width, height = map(
        int, re.search(r'<rect x="(\d+)" y="(\d+)" width="(\d+)" height="(\d+)"', picture.body).groups()
    )
    (low, high), (first, _) = drawing.once.box.rows, drawing.once.box.stitches
    assert (width, height) == (14, 22)
    assert y == 320 - high
    assert x == (60 - first - 13 if hand == "right" else first - 1)
    assert low == high - 21


def test_rows_that_take_the_same_stand_in_one_line(scarf):
    page = scarf.page()
    table = contents.row_use(page)
    short = gathered(table, 22)
    assert len(short.lines) < 30
    assert short.lines[-1] == table.lines[-1]
    rows = []
    for label, *said in short.lines[:-1]:
        for part in re.split("[;,]", label.split(" ", 1)[1]):
            ends = [int(number) for number in re.findall(r"\d+", part)]
            rows += [(number, said) for number in (range(ends[0], ends[1] + 1, 22) if "…" in part else ends)]
    assert {number for number, _ in rows} == set(range(1, 321))
    assert all(table.lines[number - 1][1:] == tuple(said) for number, said in rows)


@given(st.sets(st.integers(1, 200), min_size=1), st.integers(1, 30))
def test_a_short_list_names_every_number_once(numbers, step):
    named = []
    for part in re.split("[;,]", listed(sorted(numbers), step)):
        ends = [int(number) for number in re.findall(r"\d+", part)]
        named += range(ends[0], ends[1] + 1, step) if "…" in part else ends
    assert sorted(named) == sorted(numbers)


def counted(words):
    """Count the stitches of some words of a row, by their numbers alone."""
    total = 0
    for inner, times in re.findall(r"\[([^\]]*)\] (\d+) times", words):
        total += counted(inner) * int(times)
    for number in re.findall(r"in (?:next|last) (?:(\d+) sts|st\b)", re.sub(r"\[[^\]]*\] \d+ times", "", words)):
        total += int(number or 1)
    return total


def stars(text):
    """Give where the star of a row begins, the stitches that it stands for in all, and those of one."""
    before, _, after = text.partition("*")
    inner, _, rest = after.partition("; rep from * ")
    if not rest:
        return None
    unit = counted(inner)
    return counted(before) + 1, unit * (int(rest.split()[0]) + 1), unit


@pytest.mark.parametrize("terms", ["US", "UK"])
@given(design=laid())
def test_the_star_of_the_words_begins_with_the_first_stitch_of_the_box(design, terms):
    page = design.but(terms=terms).page()
    box = Drawings(page, terms).once.box
    if box is None or box.across == 1 or box.shape[1] != page.repeat:
        return
    for row in page.words.rows:
        found = stars(row.text)
        if found is not None and found[1] == box.across * box.shape[1] and box.shape[1] % found[2] == 0:
            assert found[0] == box.stitches[0], (row.text, box)
    assert page.words == filling.instructions(page.chart, design.but(terms=terms).rows)


def test_a_scarf_with_closing_stitches_begins_star_and_box_with_the_same_stitch():
    motif = mk.Motif.from_text("........\n#.##.##.\n........")
    scarf = mk.Design(motif, GAUGE).but(across=4, up=3, balance_across=3, colours="swap")
    page = scarf.page()
    box = Drawings(page, "US").once.box
    assert box.stitches == (2, 9)
    (row,) = {row.text for row in page.words.rows if "*" in row.text}
    assert stars(row) == (2, 32, 8)
    # the half of the closing stitches, as before there was a first repeat to go by
    alone = mk.write_rows(scarf.chart, repeat=8)
    assert {stars(line.text)[0] for line in alone.lines if "*" in line.text} == {3}
