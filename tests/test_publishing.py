"""What a pattern has to be sold: what is refused, what the page prints of it, photographs, and the words of a file."""

import io
import re
from datetime import date

import numpy as np
import pikepdf
import pypdf
import pytest
from papers import dense, sheet_texts
from PIL import Image
from samples import letter_f
from test_publish_pdf import tags

import mosaickit as mk
from mosaickit import Photograph
from mosaickit.errors import FileError, OptionError
from mosaickit.publish import FORMS, contents, html, pdf
from mosaickit.publish.schematic import schematic

pytestmark = pytest.mark.thorough

GAUGE = mk.Gauge(16, 18)
OAT = mk.YarnLabel(
    "oat",
    line="Pier DK, shade 3",
    weight=3,
    fibre="100% cotton",
    professional="do not dry clean",
    iron="iron at up to 150 °C",
    dry="dry flat",
    tumble="do not tumble dry",
    bleach="do not bleach",
    wash="wash at 40 °C, mild",
)
OWN = mk.Publishing(
    contact="patterns@tidepool-example.org",
    copyright_line="© 2026 The pier club",
    licence_line="You may sell what you make.",
    edition_line="Edition 2",
    published=date(2026, 3, 14),
    errata="https://tidepool-example.org/corrections",
    language="en-GB",
    notions=["2 stitch markers", "1 blunt needle"],
    finishing="Weave in the ends.\n\nWork one round of sc.",
    blocking="Soak and pin out.",
    unblocked_cm=(12.7, 7.6),
    blocked_cm=(13.5, 8.0),
    labels=[OAT],
)
DESIGN = mk.Design(
    letter_f.with_yarns(mk.Yarns(mk.Yarn("oat", "#efe3c8"), mk.Yarn("sea", "#123f5a"))), GAUGE, publishing=OWN
).but(across=3, title="Tidepool scarf", designer="Ada", level="easy", hook_mm=4, skeins=mk.Skein(105, 50))


def picture(size=(40, 20), kind="PNG", **options):
    """A file of a picture whose left half is red."""
    pixels = np.full((size[1], size[0], 3), 255, np.uint8)
    pixels[:, : size[0] // 2] = (200, 0, 0)
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, kind, **options)
    return out.getvalue()


# ---- what is refused ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"contact": "x" * 121}, "`contact` must have at most 120 characters; got 121"),
        ({"copyright_line": "a\nb"}, "`copyright_line` must be one line; got"),
        ({"errata": 3}, "`errata` must be text; got 3"),
        ({"published": "2026-03-14"}, "`published` must be a day, as 2026-03-14; got '2026-03-14'"),
        ({"language": "English"}, "`language` must be a code, as 'en' or 'en-GB'; got 'English'"),
        ({"notions": 3}, "`notions` must be a text, or several; got 3"),
        ({"notions": ["ok", "a\x00b"]}, r"`notions\[1\]` must be printable text; found '\\x00'"),
        ({"notions": ["x"] * 51}, "`notions` must be at most 50; got 51"),
        ({"blocked_cm": 41}, "`blocked_cm` must be a pair of width and height in cm; got 41"),
        ({"blocked_cm": (41, 0)}, "`blocked_cm` must be a number from 0.1 to"),
        ({"labels": [OAT, OAT]}, "`labels` must have one label for each yarn; got two for 'oat'"),
        ({"labels": ["oat"]}, r"`labels\[0\]` must be a `YarnLabel`; got 'oat'"),
        ({"finishing": None}, "`finishing` must be text; got None"),
    ],
)
def test_what_cannot_be_printed_is_refused_in_a_sentence(options, message):
    with pytest.raises(OptionError, match=message):
        mk.Publishing(**options)


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"weight": 8}, "`weight` must be a whole number from 0 to 7; got 8"),
        ({"wash": "boil"}, "`wash` must be one of 'wash at 95 °C'"),
        ({"fibre": "a\nb"}, "`fibre` must be one line"),
    ],
)
def test_a_label_says_what_the_tables_have(options, message):
    with pytest.raises(OptionError, match=message):
        mk.YarnLabel("oat", **options)


def test_care_is_said_in_the_order_of_the_standard():
    # ISO 3758: wash, bleach, dry, iron, professional care
    assert OAT.care == (
        "Wash at 40 °C, mild; do not bleach; do not tumble dry; dry flat; iron at up to 150 °C; do not dry clean."
    )
    assert mk.YarnLabel("x").care == ""


# the names of the Craft Yarn Council's categories
@pytest.mark.parametrize(("weight", "name"), [(0, "Lace"), (1, "Super Fine"), (3, "Light"), (7, "Jumbo")])
def test_a_weight_has_its_name(weight, name):
    assert mk.YarnLabel("x", weight=weight).category == f"weight {weight}, {name} (Craft Yarn Council)"


def test_a_label_takes_the_place_of_its_yarns_and_one_that_says_nothing_is_gone():
    other = mk.YarnLabel("oat", fibre="wool")
    assert DESIGN.but(**OWN.labelled(other)).publishing.labels == (other,)
    assert DESIGN.but(**OWN.labelled(mk.YarnLabel("oat"))).publishing.labels == ()


def test_what_changed_is_said_in_words():
    said = str(mk.compare(DESIGN, DESIGN.but(contact="", notions=["tape"], blocked_cm=(14, 8), labels=())))
    assert "Contact: patterns@tidepool-example.org, now none" in said
    assert "Notions: 2 stitch markers / 1 blunt needle, now tape" in said
    assert "Measured after blocking: 13.5 × 8 cm, now 14 × 8 cm" in said
    assert "Labels of the yarns: oat: Pier DK, shade 3, weight 3" in said


# ---- what is printed ---------------------------------------------------------------------------------------


def test_a_page_says_all_of_it_in_its_place():
    page = DESIGN.page()
    facts = dict(contents.facts(page, "US"))
    assert facts["Finished size"] == "13.5 cm wide × 8.0 cm high (5.3 × 3.1 in), measured after blocking."
    assert facts["Before blocking"] == "12.7 cm wide × 7.6 cm high (5.0 × 3.0 in)."
    assert contents.about(page) == (
        ("Edition", "Edition 2, 14 March 2026"),
        ("Corrections", "https://tidepool-example.org/corrections"),
        ("Questions", "patterns@tidepool-example.org"),
        ("Copyright", "© 2026 The pier club"),
        ("Licence", "You may sell what you make."),
    )
    # 4 mm is G-6 (Craft Yarn Council)
    assert contents.notions(page) == ("Hook, 4 mm (US G-6)", "2 stitch markers", "1 blunt needle")
    oat, sea = contents.yarn_labels(page)
    # 105 m are 114.8 yd, 50 g are 1.76 oz
    ball = "105 m / 50 g a ball (115 yd / 1.8 oz)"
    care = f"Care: {OAT.care[0].lower()}{OAT.care[1:]}"
    assert oat == f"Pier DK, shade 3; weight 3, Light (Craft Yarn Council); 100% cotton; {ball}. {care}"
    assert sea == f"{ball}."
    assert contents.foot(page) == "Tidepool scarf · © 2026 The pier club · patterns@tidepool-example.org"
    bare = DESIGN.but(publishing=mk.Publishing(), skeins=None, hook_mm=None).page()
    assert (contents.about(bare), contents.notions(bare), contents.yarn_labels(bare)) == ((), (), ("", ""))


@pytest.mark.parametrize("form", FORMS)
def test_the_pdf_says_whose_it_is_on_every_sheet_and_in_what_it_knows_of_itself(tmp_path, form):
    page = DESIGN.page()
    file = pdf(page, tmp_path / "x.pdf", form=form)
    reader, sheets = pypdf.PdfReader(file), [dense(sheet) for sheet in sheet_texts(file)]
    assert all(dense(contents.foot(page)) in sheet for sheet in sheets)
    assert (reader.metadata.title, reader.metadata.author) == ("Tidepool scarf", "Ada")
    assert reader.metadata.subject == contents.summary(page)
    assert "overlay mosaic crochet" in reader.metadata["/Keywords"]
    assert reader.metadata.creation_date.date() == date(2026, 3, 14)
    with pikepdf.open(file) as opened:
        assert str(opened.Root.Lang) == "en-GB"
        # a booklet shows its pages as pictures, which have no tags
        assert opened.open_metadata().get("pdfuaid:part") == (None if form == "booklet" else "1")
    if form == "poster":
        return  # it is the chart alone
    text = "".join(sheets)
    for said in (*contents.notions(page), OWN.blocking, *OWN.finishing.split("\n\n"), contents.yarn_labels(page)[0]):
        assert dense(said) in text, said
    if form == "booklet":
        return
    alts = [alt for kind, alt, _ in tags(file) if kind == "/Figure"]
    assert f"The outline of the finished piece, a rectangle: {contents.size_words((13.5, 8.0))}." in alts


def test_a_long_foot_takes_its_room_and_covers_nothing(tmp_path):
    own = mk.Publishing(contact="c" * 118, copyright_line="© " + "w" * 118)
    design = DESIGN.but(title="long title " * 15, publishing=own)
    for form in FORMS:
        page = design.page()
        sheets = sheet_texts(pdf(page, tmp_path / f"{form}.pdf", form=form))
        assert all(dense(contents.foot(page)) in dense(sheet) for sheet in sheets)
        assert contents.foot(page).startswith("long title long title long title long title long title long…")


@pytest.mark.parametrize(
    ("in_the_round", "said"), [(False, ["13.5 cm (5.3 in)", "8.0 cm (3.1 in)"]), (True, ["13.5 cm (5.3 in) around"])]
)
def test_the_outline_has_its_measures_within_its_room(in_the_round, said):
    design = DESIGN.but(in_the_round=in_the_round, edges=None)
    for measured in ((13.5, 8.0), (200, 3), (3, 200)):
        drawn = schematic(design.but(blocked_cm=measured).page(), (300, 200), 12)
        assert drawn.height <= 201
        assert drawn.width <= 300 + 12 * 0.56 * 30
    drawn = schematic(design.page(), (300, 200), 12)
    assert all(f">{text}</text>" in drawn.body for text in said)
    assert ("a tube" in drawn.alt) == in_the_round


# ---- photographs -------------------------------------------------------------------------------------------


def test_a_photograph_is_turned_made_smaller_and_forgets_where_it_was_taken():
    noted = Image.Exif()
    noted[0x0112] = 6  # the camera was held upright: turn by a quarter
    noted[0x010E] = "at home"
    made = Photograph(picture((3000, 1500), "JPEG", exif=noted), "A scarf.")
    assert made.size == (1000, 2000)
    assert made.data.startswith(b"\xff\xd8\xff")
    with Image.open(io.BytesIO(made.data)) as read:
        assert not read.getexif()
        # what was left is on top once turned
        assert read.getpixel((500, 100))[1] < 60 < read.getpixel((500, 1900))[1]


def test_a_photograph_without_words_or_pixels_is_refused(tmp_path):
    with pytest.raises(OptionError, match="`text` must say what a photograph shows, for those who cannot see it"):
        Photograph(picture(), " ")
    (tmp_path / "x.png").write_text("no picture", "utf-8")
    with pytest.raises(FileError, match=r"'x\.png': `picture` must be a PNG or JPEG file, as a photograph is"):
        Photograph(tmp_path / "x.png", "A scarf.")
    with pytest.raises(FileError, match=r"'nowhere\.jpg': There is no such file"):
        Photograph(tmp_path / "nowhere.jpg", "A scarf.")
    with pytest.raises(FileError, match="damaged"):
        Photograph(picture()[:60], "A scarf.")
    with pytest.raises(OptionError, match="`photographs` must be at most 12; got 13"):
        DESIGN.page([Photograph(picture(), "A scarf.")] * 13)


def test_photographs_are_the_cover_and_a_part_of_their_own_and_say_what_they_show(tmp_path):
    shown = [
        Photograph(picture(kind="JPEG"), "A scarf on a <pier>.", "On the pier"),
        Photograph(picture(), "Its edge."),
    ]
    page = DESIGN.page(shown)
    file = pdf(page, tmp_path / "x.pdf")
    alts = [alt for kind, alt, _ in tags(file) if kind == "/Figure"]
    assert (alts[0], "Its edge." in alts) == ("A scarf on a <pier>.", True)
    assert not any("as its yarn lies" in alt for alt in alts)
    text = html(page, tmp_path / "x.html").read_text("utf-8")
    assert re.findall(r'<img src="data:image/jpeg;base64,[^"]+" alt="([^"]*)"', text) == [
        "A scarf on a &lt;pier&gt;.",
        "Its edge.",
    ]
    assert "On the pier" in text


LEFT_OUT = {
    "en": "To save ink, photographs are left out of this file.",
    "de": "Um Tinte zu sparen, fehlen in dieser Datei die Fotos.",
}


@pytest.mark.parametrize("language", LEFT_OUT)
@pytest.mark.parametrize("form", ["regular", "low ink", "booklet"])
def test_with_little_ink_no_photograph_is_printed_and_that_is_said(tmp_path, language, form):
    shots = [Photograph(picture(), "A scarf."), Photograph(picture(), "Its edge.")]
    design = DESIGN.but(language=language)
    for photographs in (shots, []):
        file = pdf(design.page(photographs), tmp_path / "x.pdf", form=form, replace=True)
        images = sum(len(sheet.images) for sheet in pypdf.PdfReader(file).pages)
        said = dense(LEFT_OUT[language]) in dense("".join(sheet_texts(file)))
        assert (images == 0, said) == (form == "low ink", form == "low ink" and photographs != [])


def test_without_photographs_the_cover_is_the_yarn_and_of_a_very_large_piece_its_squares(tmp_path):
    alts = [alt for kind, alt, _ in tags(pdf(DESIGN.page(), tmp_path / "x.pdf")) if kind == "/Figure"]
    assert alts[:2] == [
        f"The {side} of the fabric as its yarn lies: 7 rows of 23 stitches." for side in ("front", "back")
    ]
    large = DESIGN.but(across=60, up=60, colours="swap").page()
    assert large.chart.stitches.size > 20_000
    text = html(large, tmp_path / "x.html").read_text("utf-8")
    assert "<img" not in text
    assert "seen from the front" in text
