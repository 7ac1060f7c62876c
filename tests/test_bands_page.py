"""The page of a piece made of bands says which rows each band has, and what was done for the bands by itself."""

import re
from html import unescape

import pytest
from papers import dense, text_of

import mosaickit as mk
from mosaickit.publish import german_bands
from mosaickit.publish.translating import Translator

pytestmark = pytest.mark.thorough

GAUGE = mk.Gauge(16, 18)
LEAF = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf")
DOT = mk.Motif.from_text("...\n.#.\n...", name="dot")
SPRIG = mk.Motif.from_text("##\n..\n#.\n..", name="sprig")
ENDS_OVERLAID = mk.Motif.from_text("#.\n..", name="edge")


def runner(**decided):
    """Everything that is done by itself, in one piece."""
    order = [
        mk.Band(DOT, fit="centre"),
        mk.Divider(3, colour="CC"),
        mk.Field(),
        mk.Columns([mk.Band(DOT, colours="swap"), mk.Band(SPRIG)], fit="centre"),
        mk.Band(DOT, fit="fill"),
        mk.Divider(2, colour="CC"),
        mk.Band(SPRIG),
    ]
    return mk.Design(LEAF, GAUGE, across=4, bands=mk.Bands(order)).but(title="Runner", **decided)


def read_out(page):
    """The text of a web page, without its markup."""
    return " ".join(unescape(re.sub(r"<(script|style)\b.*?</\1>|<[^>]*>", " ", page, flags=re.DOTALL)).split())


@pytest.mark.parametrize("terms", ["US", "UK"])
def test_an_english_page_says_what_was_put_in_on_screen_and_on_paper(tmp_path, terms):
    design = runner(terms=terms)
    said = (
        "Row 12 is plain and was put in, so that band 4, dot + sprig, begins on its colour.",
        "Band 4, dot + sprig, has 15 of 16 stitches: 0 plain at the right, 1 at the left.",
        "Band 4, dot + sprig: Column 1, dot, is laid 4 times up, to 12 rows.",
        "Band 5, dot, is cut at its sides: 2 stitches of its repeats left out.",
    )
    assert set(said) <= set(design.said)
    screen = dense(read_out(mk.publish.html(design.page(), tmp_path / "runner.html").read_text("utf-8")))
    paper = text_of(mk.publish.pdf(design.page(), tmp_path / "runner.pdf"))
    for text in (screen, paper):
        listed = "From the foundation up: band 1, dot, rows 1 to 3; band 2, a line of 3 rows in CC, rows 4 to 6;"
        assert text.index(dense(listed)) < text.index("Abbreviations")
        assert dense("; 1 plain row put in, row 12; band 4, dot + sprig, rows 13 to 24;") in text
        for sentence in design.said:
            assert dense(sentence) in text


def test_a_round_is_called_a_round():
    cowl = mk.Design(LEAF, GAUGE, across=3, bands=[mk.Field(), mk.Band(DOT)]).but(in_the_round=True, edges=0)
    assert cowl.said == ("Round 6 is plain and was put in, so that band 2, dot, begins on its colour.",)
    assert cowl.page().bands == ("band 1, the field of leaf, rounds 1 to 5", "1 plain row put in, round 6",
                                 "band 2, dot, rounds 7 to 9")  # fmt: skip


def test_sizes_say_once_what_holds_for_all_and_by_size_what_does_not(tmp_path):
    order = [mk.Band(SPRIG, fit="centre"), mk.Field()]
    narrow = mk.Motif.from_text("...\n###\n.#.\n###\n...", name="bud")
    design = mk.Design(narrow, GAUGE, bands=mk.Bands(order), across=2).but(
        title="Mat", sizes=(mk.NamedSize("S", across=2, up=1), mk.NamedSize("M", across=3, up=1))
    )
    text = read_out(mk.publish.html(design.page(), tmp_path / "mat.html").read_text("utf-8"))
    assert "band 1, sprig, rows 1 to 4; band 2, the field of bud, rows 5 to 9." in text
    assert "Size M: Band 1, sprig, has 8 of 9 stitches: 0 plain at the right, 1 at the left." in text


def test_a_page_without_bands_says_nothing_of_them(tmp_path):
    page = mk.Design(LEAF, GAUGE).but(title="Leaf").page()
    assert (page.bands, page.said) == ((), ())
    assert "From the foundation up" not in mk.publish.html(page, tmp_path / "leaf.html").read_text("utf-8")


# ---- German ------------------------------------------------------------------------------------------------

ENGLISH = re.compile(r"\b(band|column|row|rows|round|plain|put|the|of|is|are|so|that|begins|cut|stitch|laid)\b", re.I)


@pytest.mark.parametrize("step", ["divider", "swap"])
@pytest.mark.parametrize("in_the_round", [False, True])
def test_a_german_page_says_the_same_in_german(step, in_the_round):
    order = [
        mk.Columns([mk.Band(DOT, colours="swap"), mk.Band(mk.up_down(DOT)), mk.Band(SPRIG)], heights="centre",
                   step=step, fit="fill"),
        mk.Field(), mk.Band(ENDS_OVERLAID), mk.Band(mk.counterchange(mk.up_down(ENDS_OVERLAID)), fit="centre"),
        mk.Plain(2), mk.Band(DOT, fit="fill"), mk.Divider(1, colour="CC"), mk.Band(DOT, fit="centre"),
    ]  # fmt: skip
    around = {"in_the_round": True, "edges": 0} if in_the_round else {}
    page = mk.Design(LEAF, GAUGE, across=4, bands=mk.Bands(order, step=step)).but(language="de", **around).page()
    translator = Translator(page)
    sentences = [f"From the foundation up: {'; '.join(page.bands)}.", *page.said]
    assert len(sentences) > 4
    together = translator.text(" ".join(sentences))
    assert together == " ".join(map(translator.text, sentences))
    for sentence in sentences:
        put = translator.text(sentence)
        assert not ENGLISH.search(put), put
        assert sorted(re.findall(r"\d+", put)) == sorted(re.findall(r"\d+", sentence))
    assert "Musterstreifen 2, das Feld mit leaf, R" in together


def test_a_motif_named_like_a_sentence_keeps_its_name():
    name = "rows 1 to 3; band 2. Row 4 is plain"
    odd = mk.Motif(DOT.grid, name=name)
    page = mk.Design(LEAF, GAUGE, across=3, bands=[mk.Field(), mk.Band(odd)]).but(language="de").page()
    put = Translator(page).text(page.said[0])
    assert name in put
    assert put.startswith("Reihe 6 ist einfarbig und wurde eingefügt, damit Musterstreifen 2, ")


def test_each_kind_of_band_has_its_german_name():
    for english, expected in [
        ("band 3, the field,", "Musterstreifen 3, das Feld,"),
        ("Band 2, a line of 1 row,", "Musterstreifen 2, eine Linie aus 1 Reihe,"),
        ("band 2, a line of 3 rows in MC,", "Musterstreifen 2, eine Linie aus 3 Reihen in GF,"),
        ("band 12", "Musterstreifen 12"),
        ("band 1, 4 plain rows", "Musterstreifen 1, 4 einfarbige Reihen"),
    ]:
        assert german_bands.band_in_german(english) == expected
