"""The words of 500 patterns, as their web pages print them: they are the chart, are counted, and are explained.

Designs in one to four sizes, of one to four yarns, flat and in the round, plain and reversible, for both hands, in all
languages are crossed: every two decisions together in the usual run, all together in the thorough one. What the texts
say is read by the second reader of `wording_opponents`, which shares no code with the package, and by the package's
own. Which abbreviations there are is listed here: the English ones from the Craft Yarn Council's list and table of US
and UK terms, the German ones from the sources in `mosaickit.wording.languages`, with the stitches of overlay mosaic.

The usual run takes about 3 s of CPU, the thorough one of 512 designs about 30 s.
"""

import re
import unicodedata

import pytest
from german_opponents import in_english
from printed import KINDS, designs_of_all_kinds, pairs_of, pairwise, printed
from wording_opponents import second_reading

import mosaickit as mk
from mosaickit.publish import html, screen
from mosaickit.publish.translating import Translator

EACH = 2  # of every kind: 512 in all
LETTERS = dict(zip("sbftg", mk.Stitch, strict=True))
SPECIAL = {"BLsc", "FLdc", "BLdc", "FLtr", "tog-b", "tog-f", "hMg-fM", "vMg-Stb", "fM-Stb-h", "fM-Stb-v", "Lm-fM"}
ABBREVIATIONS = {
    *("sc", "dc", "hdc", "tr", "htr", "dtr", "sl st", "ss", "ch", "chs", "st", "sts", "rep", "rnd", "rnds", "sk", "yo"),
    *("yoh", "sp", "beg", "cont", "prev", "rem", "alt", "inc", "dec", "tog", "lp", "lps", "MC", "CC", "RS", "WS"),
    *("BL", "FL", "BLO", "FLO", "Rnd", "Rnds"),
    *SPECIAL,
}
GERMAN = {"Lm", "Km", "fM", "Stb", "hStb", "DStb", "M", "R", "Rd", "GF", "KF", "hMg", "vMg", "ausl", "wdh", *SPECIAL}
SAID = {
    "en": ("Worked {}, {}-handed.", "flat", "in the round", {"right": "right", "left": "left"}, "from row {}: "),
    "de": ("Gearbeitet {}, {}händig.", "in Reihen", "in Runden", {"right": "rechts", "left": "links"}, "ab Reihe {}: "),
}


def yarn_lines(yarns, language):
    """The yarns as the heading of written rows has them."""
    for role, said in (("MC", "GF"), ("CC", "KF")):
        lines = [
            f"{SAID[language][4].format(row) if row > 1 else ''}"
            + '"'
            + yarn.name.replace('"', '\\"')
            + f'", {yarn.colour}'
            for row, yarn in yarns.of(role)
        ]
        yield f"{role if language == 'en' else said}: {'; '.join(lines)}"


def as_a_text(rows, foundation, terms, chart):
    """Rows below the lines that a reader of them has from elsewhere on the page."""
    language = "de" if terms == "de" else "en"
    how, flat, around, hands, _ = SAID[language]
    begin = "Häkelanleitung auf Deutsch." if language == "de" else f"Written in {terms} terms."
    worked = how.format(around if chart.in_the_round else flat, hands[chart.hand])
    foundation = re.sub(r"\. (Foundation|Anschlag)", r".\n\1", foundation)
    lines = [f"{label}: {text}. {count}".strip() for label, text, count in rows]
    yarns = "Garne:" if language == "de" else "Yarns:"
    return "\n".join([begin, worked, yarns, *yarn_lines(chart.yarns, language), foundation, *lines])


def of_size(said, number, place):
    """What is said for one of several sizes: its own of the numbers that stand side by side, in plain Python."""
    if number == 1:
        return said
    quoted = re.split(r'("(?:[^"\\]|\\.)*")', said)
    span = r"\d+(?:[-–]\d+)?"
    series = rf"({span}) \(({span}(?:, {span}){{{number - 2}}})\)"
    pick = lambda found: [found[1], *found[2].split(", ")][place]  # noqa: E731
    return "".join(piece if at % 2 else re.sub(series, pick, piece) for at, piece in enumerate(quoted))


def foundation_of(told, names, place):
    """What is said of the foundation for one size, sentence by sentence."""
    found = []
    for sentence in re.split(r"(?<=\.) (?=[A-Z])", told):
        only = re.fullmatch(r"(?:For size|Für Größe) ([^,]+), (.*)", sentence)
        if only is None or only[1] == names[place]:
            found.append(of_size(sentence if only is None else only[2], len(names), place))
    return " ".join(found)


def rows_of(page, names, place):
    """The printed rows of one size, and whether each line that is for one size only is told why."""
    for label, text, count in page.rows:
        if not label:
            continue  # the reason why what follows is said for each size
        only = re.fullmatch(r"(?:For size|Für Größe) ([^,]+), (.*)", label)
        if only is None:
            own = [of_size(said, len(names), place) for said in (label, text, count)]
            if not re.match(r"\w+ 0\b", own[0]):  # not worked in this size
                yield tuple(own)
        elif only[1] == names[place]:
            yield only[2], text, count


def used_in(text, terms):
    """The abbreviations of a text, taken at its word borders, but for names in quotes."""
    bare = re.sub(r'"(\\.|[^"\\])*"', " ", text)
    if terms == "de":
        return set(re.findall(r"[^\W\d_]+(?:-[^\W\d_]+)*", bare)) & GERMAN
    found = set(re.findall(r"[A-Za-z]+(?:-[bf]\b)?", bare)) & ABBREVIATIONS
    # the Craft Yarn Council lists rnd(s): one explanation for both
    found = {"Rnd" if short.lower() in ("rnd", "rnds") else short for short in found}
    return found | {"sl st"} if re.search(r"\bsl st\b", bare) else found


def faults_of_rows(rows, foundation, terms, chart):
    """What is wrong with the printed rows of one chart, as words; nothing if all is well."""
    text = unicodedata.normalize("NFC", as_a_text(rows, foundation, terms, chart))
    read = second_reading(in_english(text) if terms == "de" else text)
    if [[LETTERS[letter] for letter in row] for row in read["rows"]] != chart.stitches.tolist():
        yield "the second reader reads another chart"
    if tuple(read["colours"]) != chart.row_colours or read["in the round"] != chart.in_the_round:
        yield "the second reader reads other colours, or other work"
    again = mk.read_rows(text)
    if again.stitches.tolist() != chart.stitches.tolist() or again.yarns != chart.yarns or again.hand != chart.hand:
        yield "the package reads another chart"
    stitches = chart.shape[1]
    right = [f"({stitches} {unit})" for unit in ("st", "sts", "M")] + [
        f"{stitches} {unit}." for unit in ("sts", "st", "M")
    ]
    for label, told, count in rows:
        if not count and not re.match(r"rep r|(?:Reihen|Runden) .*wiederholen", told):
            yield f"{label} has no count"
        if count and count not in right:
            yield f"{label} has the count {count}"


def faults_of(page, charts):
    """What is wrong with the printed rows of the charts of all sizes, by their names."""
    terms = page.terms
    for place, chart in enumerate(charts.values()):
        rows = [*rows_of(page, [*charts], place)] if len(charts) > 1 else page.rows
        yield from faults_of_rows(rows, foundation_of(page.told[-1], [*charts], place), terms, chart)
    explained = {short for short, _ in (*page.abbreviations, *page.special)}
    rows = " ".join(" ".join(row) for row in page.rows)
    prose = " ".join([*page.told, *(how for _, how in page.special)])
    for short in used_in(f"{rows} {prose}", terms) - explained:
        yield f"{short} is not explained"
    for short in {short for short, _ in page.abbreviations} - used_in(f"{rows} {page.told[-1]} MC CC GF KF", terms):
        yield f"{short} is explained and not used"
    special = SPECIAL & used_in(rows, terms)
    if special != {short for short, _ in page.special}:
        yield f"special stitches are {special}, explained are {page.special}"


def all_faults(each, seed, folder, monkeypatch, kinds=KINDS):
    monkeypatch.setattr(screen, "yarn_views", lambda page: ())  # pictures are drawn by other tests
    for number, (kind, design) in enumerate(designs_of_all_kinds(each, seed, kinds)):
        file = html(design.page(), folder / "x.html", replace=number > 0)
        source = file.read_text("utf-8")
        charts = {name: one.chart for name, one in design.in_sizes.items()} or {"": design.chart}
        for said in printed(source, *(("US", "UK") if kind["language"] == "en" else ("de",))):
            for fault in faults_of(said, charts):
                yield kind, design.shape, said.terms, fault


def test_the_usual_kinds_hold_every_two_decisions_together():
    kinds = [*pairwise()]
    assert set().union(*map(pairs_of, kinds)) == set().union(*map(pairs_of, KINDS))
    assert len(kinds) < 40


def test_the_words_of_patterns_of_every_two_decisions_are_their_charts_counted_and_explained(tmp_path, monkeypatch):
    assert list(all_faults(1, 3, tmp_path, monkeypatch, [*pairwise()])) == []


@pytest.mark.thorough
def test_the_words_of_500_patterns_are_their_charts_counted_and_explained(tmp_path, monkeypatch):
    assert EACH * len(KINDS) >= 500
    assert list(all_faults(EACH, 7, tmp_path, monkeypatch)) == []


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("sizes", [1, 3])
def test_the_steps_at_the_edges_use_no_abbreviation_that_is_not_explained(language, sizes):
    motif = mk.Motif.from_text("...\n###\n.#.\n###\n...")
    named = [mk.NamedSize(name, across=across) for name, across in (("S", 1), ("M", 2), ("L", 3))]
    design = mk.Design(motif, mk.Gauge(16, 18), sizes=named if sizes > 1 else ())
    design = design.but(edges=1, colours="swap", language=language, foundation="foundation sc")
    for finish in (
        {"border_rounds": 3, "border_corner": "sc, ch 1, sc"},
        {"border_rounds": 2, "border_along": "row ends"},
        {"border_rounds": 2, "ends": "enclosed", "between_rows": "cut"},
        {"ends": "fringe", "between_rows": "cut", "tail_cm": 20},
    ):
        page = design.but(**finish).page()
        translator = Translator(page)
        for words in page.sized or page.instructions:
            said = " ".join(map(translator.text, words.finishing))
            known = {short for short, _ in (*words.abbreviations, *words.special)}
            assert used_in(said, words.terms) <= known, finish


def test_an_untouched_page_has_nothing_wrong():
    for kind, design in designs_of_all_kinds(1, 11, [*pairwise()]):
        report = mk.tech_edit(design)
        assert report.errors == (), kind
        if kind["sizes"] > 1:
            assert mk.tech_edit(str(design.sized_rows)).errors == (), kind
            continue
        # and its own written rows, as a text of their own
        assert mk.tech_edit(str(design.rows)).errors == (), kind
        assert mk.tech_edit(design, str(design.rows)).errors == (), kind


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("BLsc in each st", "FLdc in each st", "another chart"),
        ("(5 sts)", "", "has no count"),
        ("<dt>ch</dt>", "<dt>chain</dt>", "ch is not explained"),
        ("<dt>FLdc</dt>", "<dt>X</dt>", "special stitches are"),
    ],
)
def test_the_checks_see_what_is_wrong(old, new, fault, tmp_path):
    design = mk.Design(mk.Motif.from_text("...\n###\n.#.\n###\n..."), mk.Gauge(16, 18)).but(edges=1, title="x")
    source = html(design.page(), tmp_path / "x.html").read_text("utf-8")
    assert list(faults_of(*printed(source, "US"), {"": design.chart})) == []
    assert old in source
    changed = source.replace(old, new)
    try:
        said = list(faults_of(*printed(changed, "US"), {"": design.chart}))
    except Exception as refused:  # a reader that refuses it sees it too
        said = [f"another chart {refused}"]
    assert any(fault in each for each in said), said
