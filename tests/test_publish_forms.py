"""Every form of a pattern on every paper, checked once by programs that did not write it: qpdf, pypdf and pdfium."""

import io
import re

import numpy as np
import pikepdf
import pypdf
import pypdfium2
import pytest
from papers import sheet_texts
from samples import letter_f

import mosaickit as mk
from mosaickit.publish import FORMS, PAPERS, pdf

pytestmark = pytest.mark.thorough

YARNS = mk.Yarns(mk.Yarn("oat", "#f4ead5"), [(1, mk.Yarn("ink", "#1d3f66")), (4, mk.Yarn("madder", "#8a2f2f"))])
DESIGN = mk.Design(letter_f.with_yarns(YARNS), mk.Gauge(16, 18), reversible=True).but(
    across=5, up=4, colours="swap", title="Three yarns", designer="Ada", language="en-GB", hook_mm=4,
    contact="patterns@tidepool-example.org", copyright_line="© 2026 The pier club", notes=["Block it wet."],
)  # fmt: skip
SIDES_MM = {"a4": (210, 297), "us-letter": (215.9, 279.4)}


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    """The page as a PDF, by (form, paper)."""
    folder, page = tmp_path_factory.mktemp("forms"), DESIGN.page()
    return {
        (form, paper): pdf(page, folder / f"{form} {paper}.pdf", form=form, paper=paper)
        for form in FORMS
        for paper in PAPERS
    }


def each_form(test):
    return pytest.mark.parametrize("form", FORMS)(pytest.mark.parametrize("paper", PAPERS)(test))


def fonts_of(page):
    """The fonts of a page and of what stands in it, however deep."""
    todo = [page.get("/Resources", {})]
    for resources in todo:  # grows while it is walked
        yield from resources.get("/Font", {}).values()
        todo += [each["/Resources"] for each in resources.get("/XObject", {}).values() if "/Resources" in each]


def faults_in(opened):
    """What qpdf says of the syntax of a file."""
    return opened.check_pdf_syntax()


def nodes_of(node):
    """The elements of a structure, without its root."""
    kids = node.get("/K", []) if isinstance(node, pikepdf.Dictionary) else []
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield kid
            yield from nodes_of(kid)


@each_form
def test_qpdf_finds_no_fault_and_every_font_is_inside(files, form, paper):
    with pikepdf.open(files[form, paper]) as opened:
        assert faults_in(opened) == []
        found = [font for page in opened.pages for font in fonts_of(page.obj)]
        assert found
        for font in found:
            inner = font["/DescendantFonts"][0] if "/DescendantFonts" in font else font
            about = inner["/FontDescriptor"]
            assert any(name in about for name in ("/FontFile", "/FontFile2", "/FontFile3")), about


@each_form
def test_a_file_knows_its_title_author_and_language_and_its_tags_are_said_or_left_out(files, form, paper):
    with pikepdf.open(files[form, paper]) as opened:
        assert str(opened.docinfo["/Title"]) == "Three yarns"
        assert str(opened.docinfo["/Author"]) == "Ada"
        assert str(opened.Root.Lang) == "en-GB"
        # the pages of a booklet are laid in twos, which no order of reading survives: it has no tags and claims none
        tagged = any(str(node.get("/S", "")) != "/Document" for node in nodes_of(opened.Root.get("/StructTreeRoot")))
        assert tagged == (form != "booklet")
        assert opened.open_metadata().get("pdfuaid:part") == ("1" if tagged else None)


@each_form
def test_sheets_have_the_size_of_the_paper(files, form, paper):
    sides = SIDES_MM[paper][::-1] if form == "booklet" else SIDES_MM[paper]
    for sheet in pypdf.PdfReader(files[form, paper]).pages:
        box = sheet.mediabox
        assert [float(side) / 72 * 25.4 for side in (box.width, box.height)] == pytest.approx(sides, abs=0.2)


@each_form
def test_no_sheet_is_empty_and_nothing_runs_over_its_edge(files, form, paper):
    with pypdfium2.PdfDocument(files[form, paper]) as document:
        drawn = [np.asarray(sheet.render(scale=0.5).to_pil().convert("L")) for sheet in document]
    for sheet in drawn:
        ink = sheet < 200
        assert ink.sum() > 100
        edge = 6  # half points: what no printer leaves white
        for side in (ink[:edge], ink[-edge:], ink[:, :edge], ink[:, -edge:]):
            assert not side.any()


def test_the_checks_see_a_broken_file(files):
    data = files["regular", "a4"].read_bytes()
    # a stream that says another length than it has
    broken = re.sub(rb"/Length (\d\d)", rb"/Length 9\1", data, count=1)
    with pikepdf.open(io.BytesIO(broken)) as opened:
        assert faults_in(opened) != []


SCARF = mk.Design(letter_f.with_yarns(YARNS), mk.Gauge(16, 18)).but(across=5, up=40, colours="swap", title="Long")


@pytest.mark.parametrize("form", ["regular", "large print", "low ink", "booklet"])
def test_the_first_part_of_a_chart_stands_below_its_heading(tmp_path, form):
    file = pdf(SCARF.page(), tmp_path / "x.pdf", form=form)
    sheets = sheet_texts(file)
    headed = [text for text in sheets if re.search(r"^Chart\s*$", text, re.MULTILINE)]
    assert len(headed) == 1
    # what stands below the chart, at the box of its repeat
    assert "repeat these 7 stitches 4 more times" in " ".join(headed[0].split())


def test_regions_of_a_face_in_little_ink_are_outlined_only_where_lines_leave_them_white(tmp_path):
    # 280 rows on 0.36 of a sheet are squares of 1 point, 14 of them squares of 18
    for design, caption in ((SCARF, "Grey regions are CC."), (SCARF.but(up=2), "Regions with dots are CC.")):
        file = pdf(design.page(), tmp_path / "x.pdf", form="low ink", replace=True)
        assert caption in " ".join(sheet_texts(file)[0].split())
        with pypdfium2.PdfDocument(file) as document:
            cover = np.asarray(document[0].render(scale=2).to_pil().convert("L"))
        black = (cover[: len(cover) // 2] < 100).mean(axis=0)
        # in the blackest 15 points across
        assert np.convolve(black, np.full(30, 1 / 30), "valid").max() < 0.2
