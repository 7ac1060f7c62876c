"""A page in German: no fixed sentence of it is left in English, and no word of its author is changed."""

import datetime
import json
import re
from dataclasses import replace
from html import unescape

import numpy as np
import pytest

import mosaickit as mk
from mosaickit.cli import main
from mosaickit.errors import OptionError
from mosaickit.publish import german, german_labels, paper, screen
from mosaickit.publish.page import texts
from mosaickit.publish.translating import Translator
from mosaickit.sizes import CARE, LEVELS, Publishing, YarnLabel
from mosaickit.svg import marks_of

pytestmark = pytest.mark.thorough

YARNS = [(1, mk.Yarn("Sand", "#e9dcc3")), (5, mk.Yarn("row and Lehm", "#b5651d")), (7, mk.Yarn("Sand", "#e9dcc3"))]
SOLD = {
    "notions": ("2 Maschenmarkierer",),
    "finishing": "Fäden vernähen.\n\nNotes",
    "blocking": "Nass spannen.",
    "blocked_cm": (30, 20),
    "unblocked_cm": (29.5, 19),
    "contact": "a@example.org",
    "copyright_line": "© Der Steg",
    "published": datetime.date(2026, 3, 14),
    "edition_line": "2. Ausgabe",
    "errata": "example.org",
    "licence_line": "frei",
    "labels": (
        YarnLabel("Sand", line="Strandgarn", weight=3, fibre="Wolle", wash="wash at 30 °C, mild", dry="dry flat"),
        YarnLabel("ink blue", wash="do not wash"),
    ),
}


def page_in(language, number):
    """One of several kinds of page: flat and in the round, plain and reversible, sold and not, in boxes and parts."""
    rng = np.random.default_rng(number)
    motif = mk.nearest_workable(mk.Motif(rng.random((8, 8)) < 0.4)).motif
    if number >= 4:  # a repeat that is charted once; the second is too large to be shown as yarn
        size = {"across": 6, "up": 4} if number == 4 else {"across": 16, "up": 12, "hand": "left"}
        return mk.Design(motif, gauge=mk.Gauge(16, 18), publishing=Publishing(language=language), **size).page()
    motif = mk.nearest_workable(mk.repeat(motif, across=1 + number, up=1 + 2 * (number == 3), must_work=False)).motif
    chart = mk.compile_chart(motif, number % 2 == 1, hand=("right", "left")[number % 2], in_the_round=number in (2,))
    if number >= 1:
        chart = replace(chart, yarns=mk.Yarns(mc=YARNS))
    return mk.pattern(
        chart,
        title="Steg",
        designer="Mo",
        gauge=mk.Gauge(14, 16, over=4, unit="in") if number % 2 else mk.Gauge(16.5, 18),
        yarn_settings=mk.YarnSettings(
            between_rows=("cut", "carried")[number % 2], skeins=(None, mk.Skein(20, 10), mk.Skein(500, 100))[number % 3]
        ),
        publishing=Publishing(language=language, **(SOLD if number % 2 else {})),
        hook_mm=(None, 5.0, 3.0, 4.0)[number],
        level=list(LEVELS)[number],
        for_children=number == 1,
        intro="Vom Wasser.",
        notes=("Eigene Notiz.",),
        repeat=8,
    )


PAGES = range(6)
STEG = mk.Motif.from_text("....\n#..#\n....")


def nodes(markup):
    """The texts of HTML or SVG, and those of its attributes that are read out; an abbreviation's span is no border."""
    markup = re.sub(r"<(script|style)\b.*?</\1>", "", markup, flags=re.DOTALL)
    markup = re.sub(r'<span class="whole">([^<]*)</span>', r"\1", markup)
    found = re.findall(r'(?:aria-label|alt)="([^"]*)"|name="(?:description|keywords)" content="([^"]*)"', markup)
    texts = [*(one or other for one, other in found), *re.split(r"<[^>]*>", markup)]
    return [unescape(text).strip() for text in texts if text.strip()]


def strings(data, key=""):
    if isinstance(data, str):
        if key not in ("file", "fonts", "side", "row-word", "language", "date"):
            yield data
    elif isinstance(data, dict):
        for name, inner in data.items():
            if name != "say":
                yield from strings(inner, name)
    elif isinstance(data, list):
        for inner in data:
            yield from strings(inner, key)


def said(page):
    """Every text of a page, in every form."""
    for marks in ("symbols", "plain", "letters"):
        yield from nodes(screen._render(page, marks_of(marks)))
    for form, marks in (
        ("regular", "symbols"),
        ("low ink", "plain"),
        ("large print", "letters"),
        ("poster", "symbols"),
    ):
        for name, data in paper._checked_files(page, form, "a4", False, marks, False).items():
            if name.endswith(".json"):
                yield from strings(json.loads(data))
            elif name.endswith(".svg"):
                yield from nodes(data.decode())


ENGLISH = re.compile(
    r"\b(the|of|is|are|and|to|with|has|have|row|rows|round|rounds|stitch|stitches|yarn|front|back|chart|pattern|or|from|"
    r"at|in the|this|that|for|as|by|not|on|MC|CC|sts|around|wide|high|after|care|weight)\b",
    re.IGNORECASE,
)
# names, and what is written alike in both
ALIKE = re.compile(
    r"row and Lehm|„Tails“|Craft Yarn Council|16 CFR \d+|\bin\b|ink blue|cream|A design|@example|\bHome\b"
)


@pytest.mark.thorough
@pytest.mark.parametrize("number", PAGES)
def test_no_fixed_sentence_is_left_in_english(number):
    german_page, english_page = page_in("de", number), page_in("en", number)
    own = {part for _, text in texts(_own_only(german_page)) for part in (text, *text.split("\n\n"))}
    own |= {"Steg · © Der Steg · a@example.org"}
    english = {text for text in said(english_page) if not _neutral(text)} - own
    found = [text for text in said(german_page) if text not in own]
    assert [text for text in found if text in english] == []
    left = [text for text in found if ENGLISH.search(ALIKE.sub("", text))]
    assert left == []


def _own_only(page):
    """The page without the texts in it that are ours, as they are put into the language when the page is set."""
    bare = replace(
        page,
        cautions=(),
        accuracy="",
        skein_notes=(),
        instructions=tuple(replace(words, finishing=()) for words in page.instructions),
        sized=tuple(replace(words, finishing=()) for words in page.sized),
    )
    return replace(bare, sizes=tuple(replace(size, page=_own_only(size.page)) for size in page.sizes))


def _neutral(text):
    """Numbers, symbols, abbreviations of letters, colours and data."""
    return re.fullmatch(r"[^a-zA-Z]*|[A-Z]+\d*|\d+ [A-Z]|[A-Z] \d+|([bcf])\1*|#.*|data:.*|[A-Z]: .*", text) is not None


FINISHES = [
    {"ends": "woven in", "foundation": "foundation sc", "tail_cm": 8},
    {"ends": "fringe", "between_rows": "cut", "tail_cm": 20, "added_strands": 2, "tails_a_knot": 3},
    {"ends": "fringe", "between_rows": "cut", "tail_cm": 20, "tails_a_knot": 0, "trimmed": False},
    {"border_rounds": 1},
    {"border_rounds": 3, "border_corner": "sc, ch 1, sc", "border_ratio": (2, 1)},
    {"border_rounds": 5, "border_corner": "sc, ch 2, sc", "finish_colour": "CC", "border_ratio": (1, 3)},
    {"border_rounds": 3, "border_along": "row ends", "border_ratio": (3, 4)},
    {"ends": "enclosed", "between_rows": "cut", "border_rounds": 1, "border_corner": "sc, ch 1, sc"},
    {"ends": "enclosed", "between_rows": "cut", "border_rounds": 4},
]
SIZES = {
    "none": (),
    "alike": [mk.NamedSize("S", across=2, up=2), mk.NamedSize("M", across=3, up=3), mk.NamedSize("L", across=4, up=5)],
    "one": [mk.NamedSize("Alle", across=2, up=2)],
    "other": [mk.NamedSize("klein", across=2, up=1), mk.NamedSize("zu 40", across=3, up=1)],
}
OURS_OF_SIZES = re.compile(
    r"\b(sizes?|repeats?|width|height|borders?|fringe|foundation|skeins?|chains?|tails?|corners?|layers?|knots?|"
    r"sc|ch|join|piece)\b",
    re.IGNORECASE,
)


def finished(language, finish, sizes):
    rng = np.random.default_rng(5)
    motif = mk.nearest_workable(mk.Motif(rng.random((8, 8)) < 0.4)).motif
    motif = motif.with_yarns(mk.Yarns(mc=[(1, mk.Yarn("Sand", "#e9dcc3")), (5, mk.Yarn("Lehm", "#b5651d"))]))
    design = mk.Design(motif, mk.Gauge(16, 18), across=2, up=2).but(colours="swap", title="Steg", language=language)
    return design.but(sizes=SIZES[sizes], skeins=mk.Skein(50, 20), **finish)


@pytest.mark.parametrize("sizes", SIZES)
def test_nothing_of_sizes_ends_fringe_and_border_is_left_in_english(sizes, monkeypatch):
    monkeypatch.setattr(screen, "yarn_views", lambda page: ())  # pictures are drawn by other tests
    monkeypatch.setattr(paper, "yarn_views", lambda page: ())
    for number, finish in enumerate(FINISHES):
        page = finished("de", finish, sizes).page()
        own = {part for _, text in texts(_own_only(page)) for part in (text, *text.split("\n\n"))}
        told = said(page) if number == 4 else nodes(screen._render(page, marks_of("symbols")))
        found = [ALIKE.sub("", text) for text in told if text not in own]
        assert [text for text in found if ENGLISH.search(text) or OURS_OF_SIZES.search(text)] == []


def test_a_german_page_in_sizes_with_a_border_says_what_the_english_one_says():
    facts = dict(zip(("en", "de"), (finished(each, FINISHES[4], "alike") for each in ("en", "de")), strict=True))
    written = {each: "\n".join(nodes(screen._render(one.page(), marks_of("symbols")))) for each, one in facts.items()}
    # every number of the English page stands in the German one, with a decimal comma
    numbers = [sorted(re.findall(r"\d+", written[each].replace("1,0", "10"))) for each in ("en", "de")]
    assert {*numbers[0]} - {*numbers[1]} <= {"2nd"}
    assert "Umrandung mit 3 Runden in GF (Lehm)." in written["de"]
    assert "16 (24, 40)" in written["de"]
    assert re.search(r"\d+,\d \(\d+,\d; \d+,\d\) cm breit × ", written["de"])
    for name, chart in mk.read_sizes(facts["de"].page().sized[0].text).items():
        assert chart == facts["de"].in_sizes[name].chart


def test_foundation_sc_in_german_are_explained_and_read_back():
    design = finished("de", FINISHES[0], "none")
    (words,) = design.page().instructions
    assert words.rows[0].text == "18 Lm-fM"
    assert dict(words.special)["Lm-fM"].startswith("2 Luftmaschen häkeln")
    assert words.foundation.endswith("Kein Luftmaschenanschlag: Reihe 1 bildet ihn selbst.")
    assert mk.read_rows(str(design.rows)) == design.chart


@pytest.mark.parametrize("number", PAGES)
def test_words_of_the_author_and_names_of_yarns_stay(number):
    written = "\n".join(nodes(screen._render(page_in("de", number), marks_of("symbols"))))
    if number < 4:
        for own in ("Steg", "Mo", "Vom Wasser.", "Eigene Notiz."):
            assert own in written
    if number in (1, 3):
        for own in ("2 Maschenmarkierer", "Fäden vernähen.", "Nass spannen.", "a@example.org", "frei", "row and Lehm"):
            assert own in written
        assert "\nNotes\n" in written  # a paragraph of the author's own
        assert "2. Ausgabe, 14. März 2026" in written
        assert "Strandgarn; Garnstärke 3, Light (Craft Yarn Council); Wolle" in written
        assert "Pflege: Schonwäsche bei 30 °C; liegend trocknen." in written


def test_numbers_have_a_decimal_comma_and_the_page_says_its_language():
    page = page_in("de", 0)
    written = screen._render(page, marks_of("symbols"))
    assert '<html lang="de"' in written
    assert "16,5 M und 18 Reihen = 10 cm (4 Zoll), gespannt." in nodes(written)
    assert not [text for text in nodes(written) if re.search(r"\d\.\d", text) and "WCAG" not in text]
    assert b"/Lang(de)" in paper._set(
        page, paper._checked_files(page, "regular", "a4", False, "symbols", False), False, "symbols"
    ).replace(b"/Lang (de)", b"/Lang(de)")


def test_rows_of_the_page_read_back_as_the_chart():
    page = page_in("de", 3)
    assert page.terms == "de"
    assert len(page.instructions) == 1
    text = str(mk.write_rows(page.chart, language="de", repeat=8, between_rows="carried"))
    for row in page.words.rows:
        assert f"{row.label}: {row.text}." in text
    assert mk.read_rows(text) == page.chart


def test_the_guide_from_stitch_to_stitch_is_refused_in_german(tmp_path):
    with pytest.raises(OptionError, match="`guide` must be False for a page in another language"):
        mk.publish.html(page_in("de", 0), tmp_path / "a.html", guide=True)
    assert mk.publish.html(page_in("de", 0), tmp_path / "a.html").exists()


def test_terms_of_english_contradict_a_german_page():
    page = page_in("en", 0)
    with pytest.raises(OptionError, match="`terms` are those of English rows"):
        mk.pattern(page.chart, title="A", gauge=page.gauge, terms="UK", publishing=Publishing(language="de"))


def test_a_language_without_a_table_leaves_the_page_as_it_was():
    french, english = (screen._render(page_in(language, 0), marks_of("symbols")) for language in ("fr", "en"))
    assert french.replace('<html lang="fr"', '<html lang="en"') == english


# ---- the table ---------------------------------------------------------------------------------------------


def test_both_sides_of_the_table_take_over_the_same():
    for one, other in {**german.WORDS, **german.SENTENCES, **german_labels.CARED_FOR}.items():
        assert sorted(re.findall(r"\{\w+\}", one)) == sorted(re.findall(r"\{\w+\}", other)), one


def test_every_way_of_care_level_and_heading_of_the_templates_has_its_german():
    for ways in CARE.values():
        for way in ways:
            said_so = re.sub(r"\d+", "{n}", way)
            assert said_so in german_labels.CARED_FOR, way
    for level, meaning in LEVELS.items():
        assert f"{level.capitalize()}. {meaning} (Craft Yarn Council)" in german.SENTENCES
    template = paper._TEMPLATE.decode().split("stroke: 0.6pt + soft)")[1]
    headings = re.findall(r'say\("([^"]+)"\)', template)
    assert len(headings) > 12
    assert set(headings) <= set(german.WORDS)
    # no heading stands in the template but through the table
    assert re.findall(r"(?m)^ *=+ (?!#say\(|#\()(.*)", template) == []


@pytest.mark.parametrize(
    ("english", "in_german"),
    [
        ("2 rows of 1 stitch", "2 Reihen mit 1 Masche"),
        (
            "MC, rows 1 to 3 and 7: about 1.5 m (2 yd), from 1 to 2 m.",
            "GF, Reihen 1 bis 3 und 7: etwa 1,5 m (2 yd), zwischen 1 und 2 m.",
        ),
        ("Rows 3, 7 … 27; 9", "Reihen 3, 7 … 27; 9"),
        ("1,600", "1.600"),
        ("No sentence of ours.", "No sentence of ours."),
        ("The pattern of Sand or row and Lehm.", "Das Linienmuster für Sand oder row and Lehm."),
    ],
)
def test_sentences_with_what_they_take_over(english, in_german):
    assert Translator(page_in("de", 1)).text(english) == in_german
    assert Translator(page_in("en", 1)).text(english) == english


# ---- designs and the command line --------------------------------------------------------------------------


def test_a_design_in_german_has_german_rows_whatever_its_english_terms():
    design = mk.Design(STEG, gauge=mk.Gauge(16, 18), across=3).but(language="de", terms="UK")
    assert str(design.rows).startswith("Häkelanleitung auf Deutsch.")
    assert mk.read_rows(str(design.rows)) == design.chart
    assert design.page().terms == "de"
    assert design.but(language="fr").rows.terms == "UK"


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_phrasing_is_a_decision_of_the_words(language):
    row = "####.#.##.#.#.####"
    motif = mk.nearest_workable(mk.Motif.from_text(f"{'#' * 18}\n{row}\n{'#' * 18}")).motif
    design = mk.Design(motif, gauge=mk.Gauge(16, 18), publishing=Publishing(language=language))
    for phrasing in ("natural", "shortest"):
        words = design.but(phrasing=phrasing)
        way = {"language": "de"} if language == "de" else {}
        written = mk.write_rows(design.chart, phrasing=phrasing, repeat=design.repeat, **way)
        assert words.rows.lines == written.lines
        assert [line.text for line in words.page().words.rows][2] == written.lines[2].text
    with pytest.raises(OptionError, match="`phrasing` must be"):
        design.but(phrasing="short")


def test_the_command_line_and_its_file_of_words_take_language_and_phrasing(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    mk.save(STEG, "steg.json")
    asked = ["--gauge", "16x18"]
    assert main(["pattern", "steg.json", "de.html", *asked, "--language", "de", "--phrasing", "shortest"]) == 0
    (tmp_path / "words.toml").write_text('language = "de"\nphrasing = "shortest"\n', "utf-8")
    assert main(["pattern", "steg.json", "toml.html", *asked, "--words", "words.toml"]) == 0
    written = (tmp_path / "de.html").read_text("utf-8")
    assert '<html lang="de"' in written
    assert "in die nächste" in written
    assert (tmp_path / "toml.html").read_text("utf-8") == written
    assert main(["pattern", "steg.json", "x.html", *asked, "--language", "de", "--terms", "UK"]) != 0
    assert "`--terms` are those of English rows" in capsys.readouterr().err
