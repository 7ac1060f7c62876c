"""The words of 500 patterns, as their web pages print them: they are the chart, are counted, and are explained.

What the texts say is read by the second reader of `wording_opponents`, which shares no code with the package, and by
the package's own. Which abbreviations there are is listed here, from the Craft Yarn Council's list and table of US and
UK terms, with the stitches of overlay mosaic.
"""

import re

import pytest
from printed import KINDS, Printed, designs_of_all_kinds
from wording_opponents import second_reading

import mosaickit as mk
from mosaickit.publish import html, screen

EACH = 16  # of every kind: 512 in all
LETTERS = dict(zip("sbftg", mk.Stitch, strict=True))
ABBREVIATIONS = {
    *("sc", "dc", "hdc", "tr", "htr", "dtr", "sl st", "ss", "ch", "chs", "st", "sts", "rep", "rnd", "rnds", "sk", "yo"),
    *("yoh", "sp", "beg", "cont", "prev", "rem", "alt", "inc", "dec", "tog", "lp", "lps", "MC", "CC", "RS", "WS"),
    *("BL", "FL", "BLO", "FLO", "BLsc", "FLdc", "BLdc", "FLtr", "tog-b", "tog-f", "Rnd", "Rnds"),
}


def yarn_lines(yarns):
    """The yarns as the heading of written rows has them."""
    for role in ("MC", "CC"):
        said = [
            f"{f'from row {row}: ' if row > 1 else ''}" + '"' + yarn.name.replace('"', '\\"') + f'", {yarn.colour}'
            for row, yarn in yarns.of(role)
        ]
        yield f"{role}: {'; '.join(said)}"


def as_a_text(printed, chart):
    """The printed rows below the lines that a reader of them has from elsewhere on the page."""
    how = f"Worked {'in the round' if chart.in_the_round else 'flat'}, {chart.hand}-handed."
    foundation = printed.told[-1].replace(". Foundation", ".\nFoundation")
    rows = [f"{label}: {text}. {count}".strip() for label, text, count in printed.rows]
    return "\n".join([f"Written in {printed.terms} terms.", how, "Yarns:", *yarn_lines(chart.yarns), foundation, *rows])


def used_in(text):
    """The abbreviations of a text, taken at its word borders, but for names in quotes."""
    bare = re.sub(r'"(\\.|[^"\\])*"', " ", text)
    found = set(re.findall(r"[A-Za-z]+(?:-[bf]\b)?", bare)) & ABBREVIATIONS
    # the Craft Yarn Council lists rnd(s): one explanation for both
    found = {"Rnd" if short.lower() in ("rnd", "rnds") else short for short in found}
    return found | {"sl st"} if re.search(r"\bsl st\b", bare) else found


def faults_of(printed, chart):
    """What is wrong with the printed rows of a chart, as words; nothing if all is well."""
    text = as_a_text(printed, chart)
    read = second_reading(text)
    if [[LETTERS[letter] for letter in row] for row in read["rows"]] != chart.stitches.tolist():
        yield "the second reader reads another chart"
    if tuple(read["colours"]) != chart.row_colours or read["in the round"] != chart.in_the_round:
        yield "the second reader reads other colours, or other work"
    again = mk.read_rows(text)
    if again.stitches.tolist() != chart.stitches.tolist() or again.yarns != chart.yarns or again.hand != chart.hand:
        yield "the package reads another chart"
    for label, told, count in printed.rows:
        if not count and not told.startswith("rep r"):
            yield f"{label} has no count"
        if count and count not in (f"({chart.shape[1]} sts)", f"({chart.shape[1]} st)"):
            yield f"{label} has the count {count}"
    explained = {short for short, _ in (*printed.abbreviations, *printed.special)}
    rows = " ".join(" ".join(row) for row in printed.rows)
    prose = " ".join([*printed.told, *(how for _, how in printed.special)])
    for short in used_in(f"{rows} {prose}") - explained:
        yield f"{short} is not explained"
    for short in {short for short, _ in printed.abbreviations} - used_in(f"{rows} {printed.told[-1]} MC CC"):
        yield f"{short} is explained and not used"
    special = {"BLsc", "FLdc", "BLdc", "FLtr", "tog-b", "tog-f"} & used_in(rows)
    if special != {short for short, _ in printed.special}:
        yield f"special stitches are {special}, explained are {printed.special}"


def all_faults(each, seed, folder, monkeypatch):
    monkeypatch.setattr(screen, "yarn_views", lambda page: ())  # pictures are drawn by other tests
    for number, (kind, design) in enumerate(designs_of_all_kinds(each, seed)):
        file = html(design.page(), folder / "x.html", replace=number > 0)
        source = file.read_text("utf-8")
        for terms in ("US", "UK"):
            for fault in faults_of(Printed(source, terms), design.chart):
                yield kind, design.shape, terms, fault


def test_the_words_of_a_pattern_of_each_kind_are_its_chart_counted_and_explained(tmp_path, monkeypatch):
    assert list(all_faults(1, 3, tmp_path, monkeypatch)) == []


@pytest.mark.thorough
def test_the_words_of_500_patterns_are_their_charts_counted_and_explained(tmp_path, monkeypatch):
    assert EACH * len(KINDS) >= 500
    assert list(all_faults(EACH, 7, tmp_path, monkeypatch)) == []


def test_an_untouched_page_has_nothing_wrong():
    for kind, design in designs_of_all_kinds(1, 11):
        report = mk.tech_edit(design)
        assert report.errors == (), kind
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
    assert list(faults_of(Printed(source, "US"), design.chart)) == []
    assert old in source
    changed = source.replace(old, new)
    try:
        said = list(faults_of(Printed(changed, "US"), design.chart))
    except Exception as refused:  # a reader that refuses it sees it too
        said = [f"another chart {refused}"]
    assert any(fault in each for each in said), said
