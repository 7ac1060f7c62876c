"""The PDF of a page, read back by other libraries: its tags, its text, its pictures, and what happens when it fails."""

import errno
import os
import re
import subprocess
import sys
from itertools import pairwise

import numpy as np
import pikepdf
import pypdf
import pypdfium2
import pytest
import typst
from hypothesis import given
from hypothesis import strategies as st
from papers import dense, first_row_missing, sheet_texts, text_of
from samples import letter_f
from strategies import hands

from mosaickit import Chart, Gauge, Motif, Stitch, Yarn, Yarns, compile_chart, orientation, tile
from mosaickit.errors import FileError, OptionError, PublishError
from mosaickit.publish import FORMS, contents, pdf, poster, sheets
from mosaickit.publish.booklet import booklet_order
from mosaickit.publish.boxes import ChartView
from mosaickit.publish.chart_words import key_words
from mosaickit.publish.charts import Drawings
from mosaickit.publish.filling import pattern
from mosaickit.publish.numbering import PrintStyle
from mosaickit.publish.parts import OVERLAP, ChartPart, parts
from mosaickit.publish.poster import poster_sheets
from mosaickit.svg import BY_SYMBOLS, YARN_PATTERNS, marks_of

pytestmark = pytest.mark.thorough

GAUGE = Gauge(16, 18)
MOTIF = tile(letter_f, across=5, up=5, colours="swap")
PAGE = pattern(
    compile_chart(MOTIF, reversible=True),
    title="Tidepool scarf",
    gauge=GAUGE,
    intro="Reads from both sides.",
    notes=("Block it wet.", "Wash by hand."),
    for_children=True,
    level="easy",
    hook_mm=4,
)
WIDE_MOTIF = tile(letter_f, across=9, up=8, colours="swap")
WIDE = pattern(compile_chart(WIDE_MOTIF), title="Wide", gauge=GAUGE)
WHOLE_PATTERNS = FORMS[:3]
"""The forms that are the whole pattern, with tags."""
HOSTILE = '</script> #read("x") $x$ *a* _b_ \\ @y <z> `c` = d // ~'


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    """One PDF of each form of a page that fits on a sheet, and of one that does not, by (name, form)."""
    folder = tmp_path_factory.mktemp("pdf")
    return {
        (name, form): pdf(page, folder / f"{name} {form}.pdf", form=form)
        for name, page in (("scarf", PAGE), ("wide", WIDE))
        for form in WHOLE_PATTERNS
    }


@pytest.fixture(scope="module")
def texts_of(files):
    return {key: text_of(file) for key, file in files.items()}


def tags(file):
    """The structure of a PDF in order, each element as (kind, alternative text, attributes)."""
    found = []

    def walk(node):
        if isinstance(node, pikepdf.Array):
            for kid in node:
                walk(kid)
        elif isinstance(node, pikepdf.Dictionary):
            if "/S" in node:
                found.append((str(node["/S"]), str(node.get("/Alt", "")), node.get("/A")))
            if "/K" in node:
                walk(node["/K"])

    with pikepdf.open(file) as opened:
        walk(opened.Root.StructTreeRoot)
    return found


def drawn(file, scale=1.0):
    """The pages as arrays, (H, W, 3)."""
    with pypdfium2.PdfDocument(file) as document:
        return [np.asarray(sheet.render(scale=scale).to_pil().convert("RGB")) for sheet in document]


def each_form(test):
    return pytest.mark.parametrize("form", WHOLE_PATTERNS)(pytest.mark.parametrize("name", ["scarf", "wide"])(test))


# ---- read back ---------------------------------------------------------------------------------------------


@each_form
def test_the_document_says_what_it_is(files, name, form):
    with pikepdf.open(files[name, form]) as opened:
        root = opened.Root
        assert str(root.Lang) == "en"
        assert root.MarkInfo.Marked
        assert root.ViewerPreferences.DisplayDocTitle
        assert str(opened.docinfo["/Title"]) == {"scarf": "Tidepool scarf", "wide": "Wide"}[name]
        assert opened.open_metadata()["pdfuaid:part"] == "1"
        assert root.PageLabels.Nums[1].S == "/D"
        assert "/CreationDate" not in opened.docinfo


@each_form
def test_every_picture_has_a_text_that_says_what_it_shows(files, name, form):
    alts = [alt for kind, alt, _ in tags(files[name, form]) if kind == "/Figure"]
    assert all(len(alt) > 10 for alt in alts), alts
    rows, stitches = {"scarf": PAGE, "wide": WIDE}[name].chart.shape
    of_charts = [alt for alt in alts if alt.startswith("The stitches over")]
    finders = [alt for alt in alts if alt.startswith("Where part")]
    assert len(finders) == (len(of_charts) if len(of_charts) > 1 else 0)
    if len(of_charts) == 1:
        assert f"{rows} rows of {stitches} stitches" in of_charts[0]
    else:
        assert "rows 1 to " in of_charts[0]
    kinds = len(np.unique({"scarf": PAGE, "wide": WIDE}[name].chart.stitches))
    yarns = 2 * (form == "low ink")  # a pattern for each
    # the cover, which is front, back and detail where colours are printed; both faces, the outline, the key
    assert len(alts) == len(of_charts) + len(finders) + (1 if form == "low ink" else 3) + 2 + 1 + kinds + yarns


@each_form
def test_headings_follow_a_title_and_skip_no_level(files, name, form):
    kinds = [kind for kind, *_ in tags(files[name, form])]
    assert kinds.count("/Title") == 1
    levels = [int(kind[2:]) for kind in kinds if re.fullmatch(r"/H\d", kind)]
    assert levels[0] == 1
    assert max(np.diff(levels)) == 1
    assert kinds.index("/Title") < kinds.index("/H1")


def test_the_table_has_a_header_of_columns(files):
    found = tags(files["scarf", "regular"])
    kinds = [kind for kind, *_ in found]
    assert kinds.count("/Table") == 1
    assert kinds.count("/TH") == len(contents.row_use(PAGE).head)
    assert kinds.count("/TD") == 5 * len(contents.row_use(PAGE).lines)
    assert "/THead" in kinds


@pytest.mark.thorough
@each_form
def test_every_written_row_is_there_in_order(texts_of, name, form):
    assert first_row_missing(texts_of[name, form], {"scarf": PAGE, "wide": WIDE}[name]) is None


@each_form
def test_the_yarn_of_every_row_is_there(texts_of, name, form):
    page, text = {"scarf": PAGE, "wide": WIDE}[name], texts_of[name, form]
    for line in contents.row_use(page, brief=form == "large print").lines:
        assert dense("".join(line)) in text, line


def test_what_else_the_page_says_is_there(texts_of):
    text = texts_of["scarf", "regular"]
    facts = [said for fact in contents.facts(PAGE, "US") for said in fact]
    cautions = [said for caution in PAGE.cautions for said in caution]
    special = [said for stitch in PAGE.words.special for said in stitch]
    short = [said for pair in PAGE.words.abbreviations for said in pair]
    for said in (*facts, *cautions, *special, *short, *PAGE.notes, *PAGE.words.remarks, PAGE.intro):
        # what has no room on a line is broken at a hyphen of its own only
        assert dense(said) in text, said


def test_terms_of_the_page_are_those_printed(tmp_path):
    page = pattern(PAGE.chart, title="x", gauge=GAUGE, terms="UK")
    text = text_of(pdf(page, tmp_path / "uk.pdf"))
    assert "FLtrinnextst" in text
    assert "Tension" in text
    assert "FLdc" not in text


@pytest.mark.parametrize(("paper", "size"), [("a4", (595, 842)), ("us-letter", (612, 792))])
def test_paper_is_what_was_asked_for(tmp_path, paper, size):
    box = pypdf.PdfReader(pdf(WIDE, tmp_path / "x.pdf", paper=paper)).pages[0].mediabox
    assert (round(box.width), round(box.height)) == size


# ---- looks -------------------------------------------------------------------------------------------------


@each_form
def test_no_page_is_empty_and_nothing_runs_over_its_edge(files, name, form):
    for sheet in drawn(files[name, form], 0.5):
        ink = (sheet < 200).any(axis=2)
        height, width = ink.shape
        # above the foot
        assert ink[: int(0.93 * height)].sum() > 100
        margin = int(0.5 * 0.8 * 20 * 72 / 25.4)
        assert not ink[:, :margin].any()
        assert not ink[:, width - margin :].any()
        assert not ink[:margin].any()


def sizes_of_type(file):
    sizes = set()

    def visit(text, cm, tm, font, size):
        if text.strip():
            sizes.add(round(size * abs(tm[3]) * abs(cm[3]), 1))

    for page in pypdf.PdfReader(file).pages:
        page.extract_text(visitor_text=visit)
    return sizes


@pytest.mark.thorough
def test_large_print_has_no_type_below_18_points(files):
    for name in ("scarf", "wide"):
        assert min(sizes_of_type(files[name, "large print"])) >= 18
    assert 8 <= min(sizes_of_type(files["scarf", "regular"])) < 18


def looks_of_charts(page, form, folder, monkeypatch):
    looks = []
    real = Drawings.part
    monkeypatch.setattr(
        Drawings, "part", lambda self, part, look, view: looks.append(look) or real(self, part, look, view)
    )
    pdf(page, folder / "x.pdf", form=form)
    return looks


@pytest.mark.parametrize("page", [PAGE, WIDE], ids=["scarf", "wide"])
def test_squares_are_large_enough_to_be_seen(tmp_path, monkeypatch, page):
    mm = 72 / 25.4
    assert all(look.square >= 6 * mm for look in looks_of_charts(page, "large print", tmp_path, monkeypatch))
    assert all(look.square >= 3 * mm for look in looks_of_charts(page, "regular", tmp_path, monkeypatch))


def test_low_ink_has_no_colour_and_little_black(files):
    for name in ("scarf", "wide"):
        grey = drawn(files[name, "low ink"])
        assert all((sheet == sheet[..., :1]).all() for sheet in grey)
        inked, full = (
            np.mean([(sheet.mean(axis=2) < 128).mean() for sheet in drawn(files[name, form])])
            for form in ("low ink", "regular")
        )
        assert inked < 0.7 * full


# ---- parts of a chart --------------------------------------------------------------------------------------


@given(st.tuples(st.integers(1, 300), st.integers(1, 300)), st.tuples(st.integers(3, 90), st.integers(3, 90)))
def test_parts_cover_the_chart_overlap_by_two_and_are_not_larger_than_the_paper(shape, most):
    cut = parts(shape, most)
    for spans, length, limit in (
        (sorted({part.rows for part in cut}), shape[0], most[0]),
        (sorted({part.stitches for part in cut}), shape[1], most[1]),
    ):
        assert spans[0][0] == 1
        assert spans[-1][1] == length
        assert all(last - first + 1 <= max(limit, OVERLAP + 1) for first, last in spans)
        assert all(one[1] - two[0] + 1 == OVERLAP for one, two in pairwise(spans))
    assert len({(part.rows, part.stitches) for part in cut}) == len(cut) == cut[-1].of
    assert [part.number for part in cut] == list(range(1, len(cut) + 1))
    assert cut[0].rows[0] == cut[0].stitches[0] == 1


@given(st.tuples(st.integers(1, 40), st.integers(1, 40)), hands, st.data())
def test_a_part_is_found_where_its_rows_and_stitches_lie(shape, hand, data):
    part = data.draw(st.sampled_from(parts(shape, (9, 7))))
    chart = Chart(np.ones(shape, dtype=np.uint8), (("MC", "CC") * 20)[: shape[0]], hand=hand)
    tops, lefts = ChartView(chart).window(part.rows, part.stitches)
    there = [orientation.place((top, left), shape, hand) for top in tops.ravel() for left in lefts.ravel()]
    (first, last), (start, stop) = part.rows, part.stitches
    assert sorted(there) == [(r, s) for r in range(first, last + 1) for s in range(start, stop + 1)]


@pytest.mark.parametrize("hand", ["right", "left"])
def test_numbers_stand_beside_their_rows_and_below_their_stitches(hand):
    page = pattern(compile_chart(letter_f, hand=hand), title="x", gauge=GAUGE)
    drawing = Drawings(page, "US")
    picture = drawing.part(drawing.whole, PrintStyle(20, 8))
    found = re.findall(r'<text x="([\d.]+)" y="([\d.]+)" text-anchor="(\w+)">(\d+)</text>', picture.body)
    beside = [(float(y), int(number)) for _, y, anchor, number in found if anchor != "middle"]
    below = [(float(x), int(number)) for x, _, anchor, number in found if anchor == "middle"]
    assert [number for _, number in sorted(beside)] == [7, 6, 5, 4, 3, 2, 1]
    assert [number for _, number in sorted(below)] == (
        [7, 6, 5, 4, 3, 2, 1] if hand == "right" else [1, 2, 3, 4, 5, 6, 7]
    )
    edge = [float(x) for x, _, anchor, _ in found if anchor != "middle"]
    assert (min(edge) > max(x for x, _ in below)) == (hand == "right")
    # row r's middle lies 20 points a row from the lowest
    assert {round(y + 20 * number) for y, number in beside} == {round(beside[0][0] + 20 * beside[0][1])}


@pytest.mark.parametrize("hand", ["right", "left"])
def test_dashed_lines_run_where_a_neighbouring_part_begins_or_ends(hand):
    drawing = Drawings(pattern(compile_chart(WIDE_MOTIF, hand=hand), title="x", gauge=GAUGE), "US")
    # seven rows and seven stitches in the middle of all: lines after its first two and before its last two
    body = drawing.part(ChartPart((8, 14), (3, 9), 1, 9), PrintStyle(20, 8)).body
    dashed = re.search(r'stroke-dasharray="[^"]*" d="([^"]*)"', body)[1]
    assert sorted(re.findall(r"M0 (\d+)H7", dashed)) == ["2", "5"]
    assert sorted(re.findall(r"M(\d+) 0V7", dashed)) == ["2", "5"]
    # at an edge of the chart only towards the rest
    corner = drawing.part(ChartPart((1, 6), (1, 7), 1, 9), PrintStyle(20, 8)).body
    dashed = re.search(r'stroke-dasharray="[^"]*" d="([^"]*)"', corner)[1]
    assert re.findall(r"M0 (\d+)H7", dashed) == ["2"]
    assert re.findall(r"M(\d+) 0V6", dashed) == (["2"] if hand == "right" else ["5"])


@pytest.mark.parametrize(("hand", "left"), [("right", 63 - 9), ("left", 2)])
def test_the_finder_frames_the_part_where_it_lies(hand, left):
    drawing = Drawings(pattern(compile_chart(WIDE_MOTIF, hand=hand), title="x", gauge=GAUGE), "US")
    picture, frame = drawing.finder(ChartPart((8, 14), (3, 9), 1, 9), (126, 500))
    assert (picture.width, picture.height) == (126, 112)
    # two points a square; row 14 of 56 is the 43rd from the top
    assert frame == (2 * left, 2 * 42, 14, 14)


def test_squares_of_cc_are_marked_where_yarns_are_alike():
    alike = Yarns(Yarn("straw", "#d8c27a"), Yarn("sage", "#9fb07f"))
    pale = Drawings(pattern(compile_chart(letter_f.with_yarns(alike)), title="x", gauge=GAUGE), "US")
    clear = Drawings(pattern(compile_chart(letter_f), title="x", gauge=GAUGE), "US")
    # the rows of the bar at the edge in CC are marked too
    marks = int(letter_f.grid.sum()) + 3
    for drawing, expected in ((pale, marks), (clear, 0)):
        assert drawing.part(drawing.whole, PrintStyle(20, 8)).body.count("h.25l-.25 .25z") == expected


def patterned(body):
    """Which squares, (row, column) from the top left, hold which pattern: by how many points its lines have."""
    (path,) = re.findall(r'stroke-width="0.9"[^>]* d="([^"]*)"', body)[:1]
    return {
        (int(y) // 20, int(x) // 20): len(re.findall(r"-?\d+", lines)) // 2
        for x, y, lines in re.findall(r"M(\d+) (\d+)((?:m[^mM]+)+)", path)
    }


def test_where_nothing_is_filled_every_yarn_but_the_first_has_a_pattern_of_its_own():
    yarns = Yarns(
        [(1, Yarn("straw", "#d8c27a")), (4, Yarn("sage", "#9fb07f"))],
        [(1, Yarn("ink", "#101030")), (6, Yarn("plum", "#6b2f5c"))],
    )
    page = pattern(compile_chart(letter_f.with_yarns(yarns)), title="x", gauge=GAUGE)
    drawing = Drawings(page, "US")
    squares = patterned(drawing.part(drawing.whole, PrintStyle(20, 8, filled=False)).body)
    points = {
        yarn: sum(map(len, lines)) for yarn, lines in zip(("straw", "ink", "sage", "plum"), YARN_PATTERNS, strict=False)
    }
    assert len(set(points.values())) == 4
    front = page.front
    for (y, x), cc in np.ndenumerate(front.grid):
        yarn = front.yarns.at(int(front.shown_rows[y, x]), "CC" if cc else "MC").name
        assert squares.get((y, x), 0) == points[yarn]
    assert [name for name, _ in drawing.key(20, BY_SYMBOLS, filled=False)][-4:] == ["straw", "ink", "sage", "plum"]


@pytest.mark.parametrize(
    ("marks", "words", "key"),
    [
        ("symbols", "a symbol the stitch that is made there", ["sc", "BLsc", "FLdc", "tog-b"]),
        ("letters", "a letter the stitch that is made there", ["sc", "BLsc", "FLdc", "tog-b"]),
        ({"sc": "S", "FLdc": "X", "tog-b": "Y", "tog-f": "Z"}, "a letter", ["sc", "BLsc", "FLdc", "tog-b"]),
        ("plain", "Where it is not in the colour of its row, the row above has FLdc at this stitch, and the", []),
    ],
)
def test_the_key_follows_how_stitches_are_marked(marks, words, key):
    chosen, drawing = marks_of(marks), Drawings(PAGE, "US")
    assert words in key_words(drawing, chosen)
    assert [name for name, _ in drawing.key(20, chosen)] == key
    body = drawing.part(drawing.whole, PrintStyle(20, 8, marks=chosen)).body
    letters = "".join(re.findall(r"<text x=[^>]*>([^\d<]+)</text>", body))
    kinds = np.bincount(PAGE.chart.stitches.ravel())
    for kind in (Stitch.SC, Stitch.FLDC, Stitch.TOG_BACK):
        assert letters.count(chosen.letters[kind]) == kinds[kind] if chosen.letters else not letters


def test_letters_are_in_the_pdf_and_what_no_font_shows_is_said(tmp_path):
    file = pdf(PAGE, tmp_path / "x.pdf", marks={"sc": "Q", "FLdc": "X", "tog-b": "Y", "tog-f": "Z"})
    assert text_of(file).count("Q") >= PAGE.chart.shape[1]
    with pytest.raises(PublishError, match="A letter of `marks` holds '波'"):
        pdf(PAGE, tmp_path / "x.pdf", marks={"sc": "Q", "FLdc": "波", "tog-b": "Y", "tog-f": "Z"})
    with pytest.raises(OptionError, match="cannot be told apart"):
        pdf(PAGE, tmp_path / "x.pdf", marks={"sc": "Q", "FLdc": "q", "tog-b": "Y", "tog-f": "Z"})


# ---- a booklet ---------------------------------------------------------------------------------------------


@given(st.integers(1, 60))
def test_a_folded_booklet_reads_from_its_first_page_to_its_last(pages):
    sides = booklet_order(pages)
    sheets = list(zip(sides[::2], sides[1::2], strict=True))
    # turned over at the short edge, the left page of a back lies behind the right page of its front
    leaves = [(right, back_left) for (_, right), (back_left, _) in sheets]
    leaves += [(back_right, left) for (left, _), (_, back_right) in reversed(sheets)]
    read = [page for leaf in leaves for page in leaf]
    assert read == [*range(1, pages + 1), *[0] * (len(read) - pages)]
    assert len(read) - pages < 4


@pytest.mark.parametrize(("paper", "size"), [("a4", (842, 595)), ("us-letter", (792, 612))])
def test_a_booklet_has_its_pages_in_twos_on_paper_that_lies_across(tmp_path, paper, size):
    read = pypdf.PdfReader(pdf(PAGE, tmp_path / "x.pdf", form="booklet", paper=paper))
    sides = sheet_texts(tmp_path / "x.pdf")
    box = read.pages[0].mediabox
    assert (round(box.width), round(box.height)) == size
    feet = [re.findall(r"(\d+) / (\d+)", side) for side in sides]
    count = int(feet[0][-1][1])
    shown = [{int(page) for page, _ in foot} for foot in feet]
    assert shown == [{page for page in side if page} for side in booklet_order(count)]
    assert len(sheets(PAGE, form="booklet", paper=paper, dpi=20)) == count
    assert "Tidepool scarf" in sides[0]
    again = pdf(PAGE, tmp_path / "again.pdf", form="booklet", paper=paper)
    assert again.read_bytes() == (tmp_path / "x.pdf").read_bytes()


# ---- a poster ----------------------------------------------------------------------------------------------


@given(st.tuples(st.floats(10, 900), st.floats(10, 900)), st.tuples(st.floats(90, 300), st.floats(90, 300)))
def test_the_sheets_of_a_poster_show_all_of_it_and_neighbours_share_a_strip(drawn_, area):
    laid = poster_sheets(drawn_, area, 20)
    for side, of in ((lambda sheet: sheet.x, 0), (lambda sheet: sheet.y, 1)):
        starts = sorted({side(sheet) for sheet in laid})
        assert starts[0] == 0
        assert starts[-1] + area[of] >= drawn_[of] - 1e-6
        assert all(one + area[of] - two == pytest.approx(20) for one, two in pairwise(starts))
        # one sheet fewer would not do
        assert len(starts) == 1 or starts[-1] + 20 < drawn_[of] + 1e-6
    assert len({sheet.name for sheet in laid}) == len(laid)
    for sheet in laid:
        assert (sheet.left, sheet.above) == (sheet.x > 0, sheet.y > 0)
        assert sheet.right == any(other.x > sheet.x for other in laid)
        assert sheet.below == any(other.y > sheet.y for other in laid)


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_a_poster_has_an_overview_and_its_sheets_by_name(tmp_path, paper):
    file = pdf(WIDE, tmp_path / "x.pdf", form="poster", paper=paper)
    overview, *parts = sheet_texts(file)
    names = re.findall(r"\b[A-Z]\d\b", overview.split("each")[-1])
    feet = [re.findall(r"\b[A-Z]\d\b", part)[-1] for part in parts]
    # 63 × 56 squares of 7 mm, on sheets of which 176 (or 182) × 263 (or 245) mm are new
    assert feet == [f"{row}{column}" for row in "AB" for column in (1, 2, 3)]
    assert set(feet) <= set(names)
    assert f"The whole chart on {len(feet)} sheets." in " ".join(overview.split())
    # row 1 is on the last line of sheets, where rows start
    assert "1" in parts[5].split()
    with pikepdf.open(file) as opened:
        assert opened.open_metadata()["pdfuaid:part"] == "1"
    assert all(len(alt) > 10 for kind, alt, _ in tags(file) if kind == "/Figure")
    assert file.stat().st_size < 1_500_000


@pytest.mark.parametrize("rows", range(36, 48))
def test_a_poster_has_no_line_of_sheets_that_slightly_smaller_squares_would_save(rows):
    chart = Chart.from_text("\n".join(["......"] * rows))
    drawings = Drawings(pattern(chart, title="Strip", gauge=GAUGE), "US")
    area = (500.0, 40 * 7 * 72 / 25.4)  # 40 squares of 7 mm, less the numbers
    look, drawn, laid = poster._laid_out(drawings, marks_of("symbols"), area)
    square_mm = look.square / 72 * 25.4
    assert 6.3 <= square_mm <= 7.0 + 1e-9
    # every row and the numbers below them, in squares of at least 6.3 mm
    edge = drawn.height - rows * look.square
    needed = rows * 6.3 * 72 / 25.4 + edge
    assert len(laid) == 1 or needed > 0.97 * area[1]
    if rows * 7 * 72 / 25.4 + edge <= area[1]:
        assert square_mm == pytest.approx(7.0)


def test_a_poster_of_very_many_sheets_is_refused(tmp_path):
    with pytest.raises(PublishError, match=r"This poster would take 9,600 sheets of paper, and the most are 200"):
        poster_sheets((60_000, 50_000), (500, 700), 30)


# ---- the same, text as text, and failures ------------------------------------------------------------------


def test_the_same_page_gives_the_same_bytes(tmp_path, files):
    again = pdf(PAGE, tmp_path / "again.pdf")
    assert again.read_bytes() == files["scarf", "regular"].read_bytes()
    code = (
        "import sys, mosaickit as mk\n"
        "from mosaickit.publish.filling import pattern\n"
        "from mosaickit.publish import html, pdf\n"
        "page = pattern(mk.Chart.from_text('|.\\n..\\n..'), title='x', gauge=mk.Gauge(16, 18))\n"
        "sys.stdout.buffer.write(pdf(page, sys.argv[1]).read_bytes() + html(page, sys.argv[1]).read_bytes())"
    )
    made = {
        subprocess.run(
            [sys.executable, "-c", code, str(tmp_path / "x")],
            capture_output=True,
            check=True,
            env=os.environ | {"PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2")
    }
    assert len(made) == 1


def test_markup_of_any_kind_comes_out_as_text(tmp_path):
    yarns = Yarns(Yarn("#strong[mc]", "#f4ead5"), Yarn("$cc$", "#1d3f66"))
    page = pattern(
        compile_chart(letter_f.with_yarns(yarns)), title=HOSTILE, gauge=GAUGE, notes=(HOSTILE,), intro=HOSTILE
    )
    file = pdf(page, tmp_path / "hostile.pdf")
    assert text_of(file).count(dense(HOSTILE)) == 3
    assert "#strong[mc]" in text_of(file)
    with pikepdf.open(file) as opened:
        assert str(opened.docinfo["/Title"]) == HOSTILE


ADDRESS = "patterns-and-questions@tidepool-example.org"
LINK = "https://tidepool-example.org/" + "/".join(["corrections-of-every-edition"] * 5) + ".html"


@pytest.mark.parametrize("form", [form for form in FORMS if form != "poster"])  # which is the chart alone
def test_addresses_are_copied_whole_out_of_the_pdf(tmp_path, form):
    page = pattern(PAGE.chart, title="x", gauge=GAUGE, notes=[f"Write to {ADDRESS} or look at {LINK} first."])
    file = pdf(page, tmp_path / "x.pdf", form=form)
    for text in ("".join(sheet.extract_text() for sheet in pypdf.PdfReader(file).pages), "".join(sheet_texts(file))):
        assert ADDRESS in text
        # longer than a line: only the ends of lines stand in it
        assert LINK in re.sub(r"\r?\n", "", text)
        assert "\u200b" not in text


def test_an_abbreviation_is_never_broken_at_its_hyphen(tmp_path):
    notes = [f"{'x' * start} " + "tog-b " * 40 for start in range(1, 9)]
    file = pdf(pattern(PAGE.chart, title="x", gauge=GAUGE, notes=notes), tmp_path / "x.pdf")
    text = "".join(sheet_texts(file))
    assert text.count("tog-b") > 320
    assert not re.search(r"tog-\s+b", text)


@pytest.mark.thorough
def test_the_total_of_the_table_stands_with_rows_of_it(tmp_path):
    for rows in range(20, 50):
        chart = Chart.from_text("\n".join(["."] * rows))
        sheets = sheet_texts(pdf(pattern(chart, title="x", gauge=GAUGE), tmp_path / f"{rows}.pdf"))
        (sheet,) = [text for text in sheets if re.search(r"^All ", text, re.M)]
        assert re.search(rf"^Row {rows - 2} ", sheet, re.M), rows


def test_greek_cyrillic_and_signs_are_set_and_read_back(tmp_path):
    said = "Узор λόγος ★ 😀 ☂"
    assert dense(said) in text_of(pdf(pattern(PAGE.chart, title=said, gauge=GAUGE), tmp_path / "x.pdf"))


def test_right_to_left_text_is_there(tmp_path):
    file = pdf(pattern(PAGE.chart, title="שלום scarf", gauge=GAUGE), tmp_path / "rtl.pdf")
    text = text_of(file)
    assert "שלום" in text or "םולש" in text


@pytest.mark.parametrize(
    ("field", "options", "character"),
    [
        ("title", {"title": "波 scarf"}, "波"),
        ("notes[1]", {"notes": ["fine", "so 🧶"]}, "🧶"),
        ("intro", {"intro": "ไทย"}, "ไ"),
    ],
)
def test_a_character_without_a_font_is_named_with_its_field_and_the_old_file_stays(tmp_path, field, options, character):
    file = tmp_path / "x.pdf"
    file.write_bytes(b"the old file")
    page = pattern(PAGE.chart, **{"title": "x", "gauge": GAUGE} | options)
    message = (
        rf"`{re.escape(field)}` of the page holds '{character}' \(U\+{ord(character):04X}\), which none of the built"
    )
    with pytest.raises(PublishError, match=message) as caught:
        pdf(page, file)
    assert (caught.value.field, caught.value.character) == (field, character)
    assert [path.read_bytes() for path in tmp_path.iterdir()] == [b"the old file"]


def test_a_yarns_name_without_a_font_is_found(tmp_path):
    yarns = Yarns(Yarn("cream", "#f4ead5"), Yarn("海", "#1d3f66"))
    with pytest.raises(PublishError, match=r"`yarns\[1\].name` of the page holds '海'"):
        pdf(pattern(compile_chart(letter_f.with_yarns(yarns)), title="x", gauge=GAUGE), tmp_path / "x.pdf")


def test_system_fonts_are_tried_only_when_asked(tmp_path, monkeypatch):
    asked = []

    def refuse(*_, **options):
        asked.append(options["ignore_system_fonts"])
        raise typst.TypstError('PDF/UA-1 error: the text `"波"` could not be displayed with font `"X"`')

    monkeypatch.setattr(typst, "compile", refuse)
    page = pattern(PAGE.chart, title="波", gauge=GAUGE)
    with pytest.raises(PublishError, match=r"which none of the fonts here can show: write it without that character"):
        pdf(page, tmp_path / "x.pdf", system_fonts=True)
    with pytest.raises(PublishError, match="write it without, or try system_fonts=True"):
        pdf(page, tmp_path / "x.pdf")
    assert asked == [False, True]


def test_what_else_the_typesetter_says_is_passed_on(tmp_path, monkeypatch):
    def refuse(*_, **__):
        raise typst.TypstError("out of paper")

    monkeypatch.setattr(typst, "compile", refuse)
    with pytest.raises(PublishError, match="The page could not be set in type; the typesetter says: out of paper"):
        pdf(PAGE, tmp_path / "x.pdf")


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (
            {"form": "tiny"},
            "`form` must be one of 'regular', 'large print', 'low ink', 'booklet', 'poster'; got 'tiny'",
        ),
        ({"paper": "a3"}, "`paper` must be one of 'a4', 'us-letter'; got 'a3'"),
        ({"page": "x"}, "`page` must be a `Page`, as `mk.pattern` gives; got 'x'"),
        ({"path": 3}, "`path` must be a path, as text or a `Path`; got 3"),
    ],
)
def test_bad_arguments_are_refused_in_a_sentence(tmp_path, options, message):
    given_ = {"page": PAGE, "path": tmp_path / "x.pdf"} | options
    with pytest.raises(OptionError, match=message):
        pdf(given_.pop("page"), given_.pop("path"), **given_)
    assert not list(tmp_path.iterdir())


def test_a_full_disk_or_a_missing_folder_leaves_what_was_there(tmp_path, monkeypatch):
    with pytest.raises(
        FileError, match=r"'x.pdf' could not be written, and nothing was changed: there is no such folder"
    ):
        pdf(PAGE, tmp_path / "nowhere" / "x.pdf")
    with pytest.raises(FileError, match="this is a folder"):
        pdf(PAGE, tmp_path)
    file = tmp_path / "x.pdf"
    file.write_bytes(b"the old file")

    def full(_):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileError, match=r"'x.pdf' could not be written, and nothing was changed: the disk is full"):
        pdf(PAGE, file, replace=True)
    assert [path.read_bytes() for path in tmp_path.iterdir()] == [b"the old file"]


def test_words_longer_than_a_line_are_broken(tmp_path):
    yarns = Yarns(Yarn("w" * 200, "#ffffff"), Yarn("m" * 200, "#000000"))
    page = pattern(compile_chart(letter_f.with_yarns(yarns)), title="W" * 200, gauge=GAUGE, notes=["n" * 500])
    for form in WHOLE_PATTERNS:
        for sheet in drawn(pdf(page, tmp_path / "x.pdf", form=form), 0.5):
            assert (sheet[:, -20:] > 200).all()


@pytest.mark.parametrize("picture", [".", "....", ".\n#\n.\n#\n."])
@pytest.mark.parametrize("form", WHOLE_PATTERNS)
def test_the_smallest_charts_are_set_too(tmp_path, picture, form):
    page = pattern(compile_chart(Motif.from_text(picture)), title="x", gauge=GAUGE)
    assert text_of(pdf(page, tmp_path / "x.pdf", form=form)).startswith("x")


def test_a_chart_of_many_yarns_in_the_round_is_set(tmp_path):
    yarns = Yarns(
        [(1, Yarn("a", "#ffffff")), (3, Yarn("b", "#ffe0e0"))], [(1, Yarn("c", "#000000")), (4, Yarn("d", "#101030"))]
    )
    chart = Chart.from_text("...\n.|.\n...\n...\n...", yarns=yarns, in_the_round=True, hand="left")
    text = text_of(pdf(pattern(chart, title="Cowl", gauge=GAUGE), tmp_path / "x.pdf"))
    for said in ("Writtenrounds", "Fromround3on:bandchave", "stitch1attheleft"):
        assert said in text
