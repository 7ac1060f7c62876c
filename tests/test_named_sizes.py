"""Designs in several sizes: each is laid as it says, and the page tells of each what is calculated from its chart."""

import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from papers import dense, text_of
from strategies import hands, surrounds, workable_motifs
from test_book_share import Pressing
from test_boxes import worked

import mosaickit as mk
from mosaickit.errors import OptionError, UnworkableError
from mosaickit.publish import contents
from mosaickit.publish.laid_over import laid_over
from mosaickit.publish.printed import printed_words, tables_of_sizes
from mosaickit.publish.schematic import schematic
from mosaickit.publish.sized_charts import shared_boxes, sized_charts
from mosaickit.widgets.book.share_python import python_of

pytestmark = pytest.mark.thorough

GAUGE = mk.Gauge(16, 20)
STITCH_CM, ROW_CM = 10 / 16, 10 / 20
LEAF = mk.Motif.from_text(
    """
    ....
    ####
    .##.
    ####
    ....
    """,
    name="leaf",
)
SKEINS = mk.Skein(105, 50)
NAMES = ("S", "M 2", "L", "to 40")


@st.composite
def in_sizes(draw, least=1):
    """Designs that can be worked in 1 to 4 sizes."""
    in_the_round = draw(st.booleans())
    motif = draw(workable_motifs(most=6))
    rows, columns = motif.shape
    design = mk.Design(
        motif,
        GAUGE,
        laying=draw(st.sampled_from(["straight", "straight", "brick", "half-drop", "mirrored"])),
        surround=draw(surrounds(rows, columns, in_the_round)),
        reversible=draw(st.booleans()),
        hand=draw(hands),
        yarn_settings=mk.YarnSettings(
            between_rows=draw(st.sampled_from(["carried", "cut"])), skeins=draw(st.none() | st.just(mk.Skein(5, 2)))
        ),
        words=mk.PatternWords(title="A piece", terms=draw(st.sampled_from(["US", "UK"]))),
    )
    counts = draw(st.lists(st.tuples(st.integers(1, 5), st.integers(1, 5)), min_size=least, max_size=4, unique=True))
    ordered = sorted(counts, key=lambda count: np.prod(design.but(across=count[0], up=count[1]).shape))
    sizes = [mk.NamedSize(name, across=a, up=u) for name, (a, u) in zip(NAMES, ordered, strict=False)]
    try:
        design = design.but(sizes=sizes)
        assume(all(one.layout.workable for one in design.in_sizes.values()))
    except OptionError:
        assume(False)  # two counts may come out the same, as where a seam is shared
    return design


def picked(text, place, count):
    """What a text says of one of the sizes: of numbers side by side the one at its place."""

    def pick(found):
        values = [found[1], *(value.strip() for value in found[2].split(", "))]
        return values[place] if len(values) == count else found[0]

    return re.sub(r"(\d+(?:\.\d+)?) \((\d+(?:\.\d+)?(?:, \d+(?:\.\d+)?)*)\)", pick, text)


def numbers(text):
    return re.findall(r"\d+(?:\.\d+)?", text)


@settings(max_examples=15, deadline=None)
@given(in_sizes())
def test_the_text_of_every_size_is_read_back_as_its_own_chart(design):
    page = design.page()
    charts = {name: one.chart for name, one in design.in_sizes.items()}
    assert [size.name for size in page.sizes] == list(charts)
    assert {size.name: size.page.chart for size in page.sizes} == charts
    assert page.chart == next(iter(charts.values()))
    if len(charts) == 1:
        assert page.sized == ()
        rows = printed_words(page, page.terms).rows
        assert [label for label, *_ in rows] == [row.label for row in page.words.rows]
        return
    for sized in page.sized:
        assert mk.read_sizes(sized.text) == charts
        # what is printed is what was read back
        printed = printed_words(page, sized.terms)
        said = [" ".join(filter(None, (label and f"{label}:", text, tally))) for label, text, tally in printed.rows]
        assert sized.text.endswith("\n".join(said) + "\n")
        assert all(line in sized.text for line in (*printed.remarks, *(f"{a}: {b}" for a, b in printed.special)))
        assert printed.foundation in sized.text.replace("\n", " ")
    assert str(design.sized_rows) == next(sized.text for sized in page.sized if sized.terms == design.words.terms)


@settings(max_examples=15, deadline=None)
@given(in_sizes(least=2))
def test_every_measure_metre_and_skein_is_that_of_the_size_by_hand(design):
    page, count = design.page(), len(design.sizes)
    facts = dict(contents.facts(page, "US"))
    (table,) = tables_of_sizes(page, 12)
    lines = {name: values for name, *values in table.lines}
    assert facts["Sizes"].startswith(f"{NAMES[0]} ({', '.join(NAMES[1:count])}). ")
    assert table.head == ("Size", *NAMES[:count])
    around = design.surround.in_the_round
    for place, (name, one) in enumerate(design.in_sizes.items()):
        rows, stitches = one.chart.shape
        wide, high = stitches * STITCH_CM, rows * ROW_CM
        shown = [f"{wide:.1f}", f"{high:.1f}", f"{wide / 2.54:.1f}", f"{high / 2.54:.1f}"]
        assert numbers(picked(facts["Finished size"], place, count)) == shown
        chains = stitches + (0 if around else 1)
        assert numbers(picked(facts["Foundation"], place, count)) == [str(chains)]
        assert numbers(picked(facts["Rounds" if around else "Rows"], place, count)) == [str(rows), str(stitches)]
        laid = next(size for size in design.sizes if size.name == name)
        assert numbers(picked(facts["Repeats"], place, count)) == [str(laid.across), str(laid.up)]
        column = {what: values[place] for what, values in lines.items()}
        side = "Around" if around else "Width"
        assert [column[f"{what} ({unit})"] for unit in ("cm", "in") for what in (side, "Height")] == shown
        assert (column["Foundation chains"], column["Stitches"]) == (str(chains), str(stitches))
        assert column["Rounds" if around else "Rows"] == str(rows)
        # yarn, from the chart of this size alone
        usage = mk.yarn_usage(one.chart, GAUGE, yarn_settings=design.yarn_settings)
        bought = {total.yarn: total for total in usage.by_yarn}
        told = contents.yarn_lines(page)
        of_yarns = {(said.name, said.colour) for size in page.sizes for said in size.page.yarns}
        assert len(told) == len(of_yarns)
        for title, said, colour in told:
            total = next(
                (
                    each
                    for yarn, each in bought.items()
                    if colour == yarn.colour and title.endswith(yarn.name or "yarn")
                ),
                None,
            )
            if len({name for name, _ in of_yarns}) < len(of_yarns):
                continue  # some yarns share a name
            amounts = re.search(r"about ([^.]*?) m", said)
            metres = picked(amounts[1], place, count)
            assert metres == (f"{whole(total.likely_m):g}" if total else "0")
            bare = title.partition(": ")[2] if title.partition(": ")[0] in ("A", "B", "C", "D") else title
            if f"{bare} (m)" in column:
                assert column[f"{bare} (m)"] == metres
            skeins = re.search(r"Buy (.*?) skeins? of", said)
            assert (skeins is None) == (design.yarn_settings.skeins is None)
            if skeins:
                assert picked(skeins[1], place, count) == str(total.skeins if total else 0)
        # and everything is what the page of this size alone says
        alone = dict(contents.facts(one.page(), "US"))
        for what, text in facts.items():
            if what in alone:
                assert numbers(picked(text, place, count)) == numbers(alone[what]), what


def whole(amount):
    step = 1 if amount < 20 else 5 if amount < 200 else 10
    return step * int(np.ceil(amount / step - 1e-9))


@settings(max_examples=15, deadline=None)
@given(in_sizes(least=2))
def test_a_repeat_charted_once_is_the_chart_of_every_size_when_it_is_worked_as_often_as_is_said(design):
    page = design.page()
    charts = sized_charts(page, "US")
    boxes = shared_boxes(page)
    if boxes is None:
        assert [chart.names for chart in charts] == [(name,) for name in design.in_sizes]
        for chart in charts:
            assert chart.title == f"Size {chart.names[0]}"
        return
    (only,) = charts
    assert only.names == tuple(design.in_sizes)
    drawn = only.drawings.chart.stitches[np.ix_(only.view.rows - 1, only.view.stitches - 1)]
    colours = [mk.orientation.to_working(size.page.front.grid, size.page.chart.hand) for size in page.sizes]
    for size, box, front in zip(page.sizes, boxes, colours, strict=True):
        chart = size.page.chart
        assert np.array_equal(box.unfold(drawn), chart.stitches)
        rows, stitches = worked(box, chart.shape)
        assert np.array_equal(chart.stitches[np.ix_(rows, stitches)], chart.stitches)
        if not box.swaps:
            assert np.array_equal(front[np.ix_(rows, stitches)], front)
    said = only.words
    for way, form in (("across", r"these .*? stitch\w* (.*?) more times"), ("up", r"another (.*?) times")):
        times = [getattr(box, way) - 1 for box in boxes]
        found = re.search(form, said)
        if set(times) == {1}:
            assert "once more" in said
        elif any(times):
            assert [int(picked(found[1], place, len(boxes))) for place in range(len(boxes))] == times
        else:
            assert found is None
    assert said.endswith(f"The numbers beyond the box are those of size {NAMES[0]}.")


def test_sizes_that_share_no_box_have_a_chart_each():
    # the last column of a piece is never dropped, so the first is in one of them and is not in the other
    motif = mk.Motif.from_text("######\n......\n#..#.#\n......")
    design = mk.Design(motif, GAUGE).but(
        laying="half-drop", rows_above=2, sizes=[mk.NamedSize("S", across=2, up=2), mk.NamedSize("M", across=5, up=2)]
    )
    page = design.page()
    assert shared_boxes(page) is None
    assert [chart.title for chart in sized_charts(page, "US")] == ["Size S", "Size M"]
    assert "differs by size: " in page.sized[0].text
    assert [chart.title for chart in sized_charts(page.led_by("M"), "US")] == ["Size M", "Size S"]


def test_sizes_whose_rows_end_in_other_colours_share_no_box():
    # of five rows each, so that after two repeats the last plain row is in the other colour than after three
    design = mk.Design(LEAF, GAUGE).but(
        colours="swap", rows_above=2, sizes=[mk.NamedSize("S", up=2), mk.NamedSize("M", up=3)]
    )
    assert shared_boxes(design.page()) is None
    both = design.but(sizes=[mk.NamedSize("S", up=2), mk.NamedSize("M", up=4)])
    assert [(box.up, box.swaps) for box in shared_boxes(both.page())] == [(2, True), (4, True)]


def test_a_yarn_that_one_size_does_without_has_a_0_there():
    stripe = mk.Design(mk.Motif.from_text("...."), GAUGE).but(colours="swap", skeins=SKEINS)
    page = stripe.but(sizes=[mk.NamedSize("S", up=1), mk.NamedSize("M", up=2)]).page()
    mc, cc = (said for _, said, _ in contents.yarn_lines(page))
    assert mc.startswith("MC: about 1 m")
    assert cc.startswith("CC: about 0 (1) m")
    assert "Buy 0 (1) skeins of 105 m / 50 g" in cc
    (table,) = tables_of_sizes(page, 6)
    lines = {name: values for name, *values in table.lines}
    assert lines["ink blue (m)"] == lines["ink blue (skeins)"] == ["0", "1"]


# ---- how a size is laid ------------------------------------------------------------------------------------


@given(
    st.integers(1, 6),
    st.integers(1, 6),
    st.integers(0, 2),
    st.integers(0, 2),
    st.floats(0.5, 60),
    st.sampled_from(["cm", "in"]),
)
def test_a_wanted_size_is_met_by_the_fewest_repeats_that_reach_it(columns, rows, edges, rings, wanted, unit):
    wanted = round(wanted, 2)
    motif = mk.Motif(np.zeros((rows, columns), dtype=bool) | (np.arange(rows)[:, None] % 2 == 1))
    plain = mk.Design(motif, GAUGE).but(edges=edges, colours="swap", rings=rings)
    design = plain.but(sizes=[mk.NamedSize("M", width=f"{wanted} {unit}", length=f"{wanted} {unit}")])
    laid = design.in_size("M")
    cm = wanted * (2.54 if unit == "in" else 1)

    def reaches(one):
        return one.shape[1] * STITCH_CM >= cm - STITCH_CM / 2 - 1e-7, one.shape[0] * ROW_CM >= cm - ROW_CM / 2 - 1e-7

    across = next(n for n in range(1, 1000) if reaches(plain.but(across=n))[0])
    # the first count that can be worked, as a ring closes only around an odd number of rows
    up = next(n for n in range(1, 1000) if reaches(plain.but(up=n))[1])
    works = [n for n in range(up, up + 3) if plain.but(up=n).layout.workable]
    assert (laid.across, laid.up) == (across, works[0] if works else up)
    assert laid == plain.but(across=laid.across, up=laid.up)


@pytest.mark.parametrize("wanted", [30, 47.5, 120])
@pytest.mark.parametrize("border", [0, 2])
@pytest.mark.parametrize("banded", [False, True])
def test_bands_and_a_border_count_in_what_a_size_is_to_measure(wanted, border, banded):
    bands = [mk.Band(LEAF, up=3, colours="swap"), mk.Divider(3), mk.Field(), mk.Divider(3), mk.Band(LEAF)]
    plain = mk.Design(LEAF, GAUGE).but(colours="swap", border_rounds=border, bands=bands if banded else None)
    laid = plain.but(sizes=[mk.NamedSize("M", width=f"{wanted / 2} cm", length=f"{wanted} cm")]).in_size("M")

    def reaches(one):
        return one.size.width_cm >= (wanted - STITCH_CM) / 2 - 1e-7, one.size.length_cm >= wanted - ROW_CM / 2 - 1e-7

    across = next(n for n in range(1, 1000) if reaches(plain.but(across=n))[0])
    up = next(n for n in range(1, 1000) if reaches(plain.but(across=across, up=n))[1])
    works = [n for n in range(up, up + 3) if plain.but(across=across, up=n).layout.workable]
    assert (laid.across, laid.up) == (across, works[0] if works else up)


def test_usual_sizes_and_what_they_then_measure():
    design = mk.Design(LEAF, GAUGE).but(
        colours="swap",
        sizes=[mk.NamedSize.usual("lovey", unit="in"), mk.NamedSize.usual("child's scarf", name="Scarf")],
    )
    assert [str(size) for size in design.sizes] == ["lovey: 12 in wide, 12 in long", "Scarf: 13 cm wide, 79 cm long"]
    # 12 in are 30.48 cm: 48.8 stitches and 61 rows, so 50 and 65 with an edge stitch at each side
    assert design.in_size("lovey").shape == (65, 50)
    assert design.sizes_in_words[0] == (
        "lovey: 12 × 13 repeats, 65 rows × 50 stitches, 31.2 × 32.5 cm (12.3 × 12.8 in); "
        "wanted 12 in wide and 12 in long"
    )
    assert mk.NamedSize.usual("child's scarf").name == "child’s scarf"


def test_what_was_measured_before_and_after_blocking_is_in_proportion():
    design = mk.Design(LEAF, GAUGE).but(across=2, up=2, blocked_cm=(7, 5.5), unblocked_cm=(6, 5), colours="swap")
    sized = design.but(sizes=[mk.NamedSize("S"), mk.NamedSize("M", across=5, up=4)])
    # 10 and 22 stitches, 10 and 20 rows
    assert sized.in_size("S").publishing.blocked_cm == (7, 5.5)
    assert sized.in_size("M").publishing.blocked_cm == (round(7 * 22 / 10, 1), 11)
    facts = dict(contents.facts(sized.page(), "US"))
    assert facts["Finished size"] == (
        "7.0 (15.4) cm wide × 5.5 (11.0) cm high, 2.8 (6.1) × 2.2 (4.3) in, measured after blocking."
    )
    assert facts["Before blocking"] == "6.0 (13.2) cm wide × 5.0 (10.0) cm high, 2.4 (5.2) × 2.0 (3.9) in."
    assert "in proportion" in facts["Sizes"]


SIZED = mk.Design(LEAF, GAUGE).but(
    colours="swap",
    title="Leaf mat",
    skeins=SKEINS,
    sizes=[
        mk.NamedSize("S", across=2, up=3),
        mk.NamedSize("M", across=3, up=5),
        mk.NamedSize("L", width="20 cm", up=7),
    ],
)


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (lambda: mk.NamedSize("S, M"), "The name of a size must be 1 to 30 characters without commas"),
        (lambda: mk.NamedSize(3), "`name of a size` must be text; got 3"),
        (lambda: mk.NamedSize("S", across=0), "`across` must be a whole number of 1 or more; got 0"),
        (lambda: mk.NamedSize("S", across=2, width="20 cm"), "Size S says `across` and `width`.*leave one out"),
        (lambda: mk.NamedSize("S", up=2, length="20 cm"), "Size S says `up` and `length`"),
        (lambda: mk.NamedSize("S", width=20), "`width` must be a length with its unit, as '20 cm' or '8 in'; got 20"),
        (lambda: mk.NamedSize("S", width="20 mm"), "`width` must be a length with its unit"),
        (lambda: mk.NamedSize("S", length="0 cm"), "`length` must be a length with its unit"),
        (
            lambda: mk.NamedSize.usual("crib"),
            "No usual size is known of the `article` 'crib': did you mean .*'crib bla",
        ),
        (lambda: mk.NamedSize.usual("crib blanket", unit="m"), "`unit` must be one of 'cm', 'in'"),
        (lambda: mk.NamedSize.from_text("M 4 across"), "A size is a line as 'M: 4 repeats across, 6 up'"),
        (lambda: SIZED.but(sizes=3), "`sizes` must be several of `NamedSize`, as a list; got 3"),
        (lambda: SIZED.but(sizes=["S"]), r"`sizes\[0\]` must be a `NamedSize`; got 'S'"),
        (lambda: SIZED.but(sizes=[mk.NamedSize(f"a{n}", up=n) for n in range(1, 14)]), "at most 12; got 13"),
        (lambda: SIZED.but(sizes=[mk.NamedSize("S"), mk.NamedSize("S", up=4)]), "and 'S' stands there twice"),
        (
            lambda: SIZED.but(sizes=[mk.NamedSize("M", up=4), mk.NamedSize("S", up=2)]),
            "the smallest to the largest; size S, 10 rows × 6 stitches, is smaller than size M before it, 20 rows",
        ),
        (
            lambda: SIZED.but(sizes=[mk.NamedSize("S", width="18 cm"), mk.NamedSize("M", width="18.5 cm")]),
            "Sizes S and M come out the same, 7 × 1 repeats: leave one of them out",
        ),
        (
            lambda: SIZED.but(gauge=None),
            "Size L of `sizes` says what the piece is to measure, and the design has no gau",
        ),
        (
            lambda: SIZED.but(sizes=[mk.NamedSize("XL", width="900000 cm")]),
            "Size XL of `sizes` is too large: A motif may have at most",
        ),
        (
            lambda: mk.Design(mk.Motif.from_text("."), GAUGE).but(
                laying="mirrored", seam="shared", sizes=[mk.NamedSize("M", width="20 cm")]
            ),
            "Size M of 20 cm wide cannot be reached: with a shared seam",
        ),
        (lambda: SIZED.in_size("XL"), "`name` must be one of 'S', 'M', 'L'; got 'XL'"),
        (lambda: mk.Design(LEAF).in_size("M"), "`name` must be one of "),
        (lambda: SIZED.but(sizes=[mk.NamedSize("S")]).sized_rows, "`charts` must be 2 to 12 sizes"),
        (lambda: SIZED.but(sizes=()).sized_rows, "`charts` must be 2 to 12 sizes"),
        (lambda: SIZED.page().led_by("XL"), "`name` must be one of 'S', 'M', 'L'; got 'XL'"),
        (lambda: mk.write_rows(SIZED.chart, repeat_from=0), "`repeat_from` must be a whole number from 1 to 6; got 0"),
        (
            lambda: mk.pattern(SIZED.chart, title="x", gauge=GAUGE, first_repeat=((1, 2), (5, 9))),
            r"`first_repeat` must be first and last row, of 5, and first and last stitch, of 6.*got \(\(1, 2\)",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(make, sentence):
    with pytest.raises(OptionError, match=sentence):
        make()


def test_a_size_that_cannot_be_worked_is_named():
    design = mk.Design(LEAF, GAUGE).but(sizes=[mk.NamedSize("S", up=1), mk.NamedSize("M", up=2)], colours="keep")
    stacked = design.but(motif=mk.Motif.from_text("#..\n#..\n...", first="CC"))
    for broken in (stacked,):
        with pytest.raises(UnworkableError, match=r"^Size S, 1 × 1 repeats: This picture cannot be worked"):
            broken.page()
        with pytest.raises(UnworkableError, match=r"^Size S"):
            _ = broken.sized_rows


@settings(max_examples=15, deadline=None)
@given(in_sizes())
def test_sizes_are_kept_compared_and_written_as_python(design):
    assert mk.sizes.design_from_json(mk.sizes.design_to_json(design)) == design
    assert [mk.NamedSize.from_text(str(size)) for size in design.sizes] == list(design.sizes)
    names = {"mk": mk}
    exec(python_of(design).replace("import mosaickit as mk", ""), names)
    assert names["design"] == design
    assert str(mk.compare(design, design.but(sizes=()))).startswith(f"Sizes: {design.sizes[0]}")
    assert design.edition("first").but(sizes=()).editions[0].design.sizes == design.sizes


# ---- texts laid over each other ----------------------------------------------------------------------------


@given(st.lists(st.tuples(*[st.integers(0, 3000)] * 3), min_size=1, max_size=5))
def test_texts_laid_over_each_other_hold_the_numbers_of_each(sizes):
    texts = [f"{a} sts and {b / 10:.1f} cm ({c / 10:.1f} in), {a} rows" for a, b, c in sizes]
    one = laid_over(texts)
    assert [numbers(picked(one, place, len(texts))) for place in range(len(texts))] == [numbers(each) for each in texts]
    assert laid_over([texts[0], "in other words"]) is None


# ---- what is printed ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("form", ["regular", "large print", "low ink"])
def test_the_pdf_says_all_sizes(form, tmp_path):
    page = SIZED.page()
    said = text_of(mk.publish.pdf(page, tmp_path / "a.pdf", form=form))
    for words in (
        "15 (25, 35) rows of 10 (14, 34) stitches",
        "Sizes S (M, L).",
        "What each size measures and takes",
        "2 (3, 8) across × 3 (5, 7) up",
    ):
        assert dense(words) in said, words


def test_the_web_page_says_which_size_the_guide_is_of(tmp_path):
    page = SIZED.but(sizes=SIZED.sizes[:2]).page()
    for led, name in ((page, "S"), (page.led_by("M"), "M")):
        text = mk.publish.html(led, tmp_path / f"{name}.html").read_text("utf-8")
        assert f'<h2 id="guide-title">Work along, size {name}</h2>' in text
        assert f"of {led.chart.shape[0]}, " in text
        assert "S (M). Numbers stand in this order" in text
        assert text.count('id="chart-body"') == text.count('id="sheet"') == text.count('id="sheet-2"') == 1
        assert f"<summary>The whole chart, size {name}</summary>" in text
    assert page.led_by("S") == page
    assert replace(page.led_by("M"), sizes=(), sized=()) == page.sizes[1].page


def test_the_outline_has_a_line_for_each_size():
    page = SIZED.but(sizes=SIZED.sizes[:2]).page()
    drawn = schematic(page, (400, 300), 12)
    assert re.findall(r"<text[^>]*>([^<]*)</text>", drawn.body) == [
        "S: 6.2 cm wide × 7.5 cm high (2.5 × 3.0 in)",
        "M: 8.8 cm wide × 12.5 cm high (3.4 × 4.9 in)",
    ]
    sides = [(float(w), float(h)) for w, h in re.findall(r'<rect [^>]*width="([\d.]+)" height="([\d.]+)"', drawn.body)]
    assert [wide / high for wide, high in sides] == pytest.approx([6.25 / 7.5, 8.75 / 12.5], rel=1e-3)


# ---- in the workbook ---------------------------------------------------------------------------------------


def test_sizes_are_entered_a_line_each_and_every_panel_goes_on_with_them(tmp_path):
    plain = SIZED.but(sizes=[])
    lay = Pressing(plain, tmp_path, "lay")
    lines = "S: 2 repeats across, 3 up\n\nM: 20 cm wide, 5 repeats up"
    assert "error" not in lay._send(kind="set", name="sizes", value=lines)
    book = lay.book
    wanted = plain.but(sizes=[mk.NamedSize("S", across=2, up=3), mk.NamedSize("M", width="20 cm", up=5)])
    assert book.design == wanted
    entries = {entry["name"]: entry["value"] for group in lay.view["groups"] for entry in group["entries"]}
    assert entries["sizes"] == "S: 2 repeats across, 3 up\nM: 20 cm wide, 5 repeats up"
    for wrong, sentence in (
        ("S 4", "A size is a line as 'M: 4 repeats across, 6 up'"),
        ("S: 9 up\nM: 2 up", '"Sizes" go from the smallest to the largest; size M'),
    ):
        assert sentence in lay._send(kind="set", name="sizes", value=wrong)["error"]
        assert book.design == wanted
    for panel in ("words", "share"):
        (tmp_path / panel).mkdir()
    words = Pressing(wanted, tmp_path / "words", "words")("rows")
    assert "rows of all its sizes, S (M)." in words["before"][0]
    share = Pressing(wanted, tmp_path / "share", "share")
    for what in ("pattern.html", "guide.html", "pattern.pdf", "design", "chart.svg"):
        assert "saved" in share.save(what), what
    assert "Sizes S (M)." in (tmp_path / "share" / "Leaf-mat.html").read_text("utf-8")
    assert mk.load(tmp_path / "share" / "Leaf-mat.design") == wanted
