"""The page of a pattern: what it takes over from chart, hook, yarn and words, and what it refuses."""

import re
from dataclasses import FrozenInstanceError, replace

import numpy as np
import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from samples import letter_f
from strategies import hands, workable_motifs

from mosaickit import (
    Chart,
    Gauge,
    Motif,
    Publishing,
    Skein,
    Yarn,
    Yarns,
    YarnSettings,
    compile_chart,
    publish,
    svg,
    tile,
    work,
    yarn_usage,
)
from mosaickit.errors import OptionError, StitchError
from mosaickit.publish import charts, contents, numbering
from mosaickit.publish.entries import Instructions, PageRow
from mosaickit.publish.filling import pattern
from mosaickit.publish.page import LEVELS, Page, texts

GAUGE = Gauge(16, 18)
CHART = compile_chart(tile(letter_f, across=3, up=2, colours="swap"), reversible=True)


def page(**options):
    return pattern(CHART, title="Tidepool scarf", gauge=GAUGE, **options)


def colours_seen(cc, rows, yarns):
    """What colour each square shows, one by one."""
    seen = np.ndindex(cc.shape)
    return [yarns.at(int(rows[place]), "CC" if cc[place] else "MC").colour for place in seen]


def worked_out(text, width):
    """The stitches of a row in words, US terms: a reader that shares nothing with the package."""
    every = re.fullmatch(r"(?:change to .*; )?(\S+) in each st (?:across|around)", text)
    if every:
        return [every[1]] * width
    text = re.sub(r'"(?:[^"\\]|\\.)*"', "a yarn", text)  # whose name may hold anything, a star too
    star = re.fullmatch(r"(.*?)\*(.*?); rep from \* (\d+) more times?(.*)", text)
    if star:
        before, inside, more, after = star.groups()
        return worked_out(before, 0) + worked_out(inside, 0) * (int(more) + 1) + worked_out(after, 0)
    bracket = re.search(r"\[([^]]*)\] (\d+) times", text)
    if bracket:
        middle = worked_out(bracket[1], 0) * int(bracket[2])
        return worked_out(text[: bracket.start()], 0) + middle + worked_out(text[bracket.end() :], 0)
    runs = re.findall(r"(\S+) in (?:next|last) (?:(\d+) sts|st)", text)
    return [stitch for stitch, often in runs for _ in range(int(often or 1))]


@given(workable_motifs(), hands, st.booleans(), st.booleans())
@settings(max_examples=60, deadline=None)
def test_the_faces_of_a_page_are_those_that_the_hook_made(motif, hand, reversible, in_the_round):
    chart = compile_chart(motif, reversible, hand=hand, in_the_round=in_the_round)
    made, fabric = pattern(chart, title="x", gauge=GAUGE), work(chart)
    for face, cc, rows in ((made.front, fabric.front, fabric.front_rows), (made.back, fabric.back, fabric.back_rows)):
        index, colours = svg.yarn_colours(face.grid, face.shown_rows, face.yarns)
        assert [colours[i] for i in index.ravel()] == colours_seen(cc, rows, motif.yarns)


def assert_steps_are_the_charts(made):
    names = ["sc", "BLsc", "FLdc", "tog-b", "tog-f"]
    first = "sc in 2nd ch from hook and in each ch across" if made.chart.shape[1] > 1 else "sc in 2nd ch from hook"
    assert made.words.steps[0].text == first
    for step, stitches in zip(made.words.steps[1:], made.chart.stitches[1:], strict=True):
        assert worked_out(step.text, len(stitches)) == [names[stitch] for stitch in stitches], step


@given(workable_motifs(most=12), hands, st.booleans())
@settings(max_examples=60, deadline=None)
def test_the_steps_read_stitch_by_stitch_are_the_chart(motif, hand, reversible):
    assert_steps_are_the_charts(pattern(compile_chart(motif, reversible, hand=hand), title="x", gauge=GAUGE))


@pytest.mark.parametrize("name", ["*", "[two] 2 times", 'a "quoted" star *', "FLdc in next 4 sts"])
def test_a_yarns_name_is_no_step(name):
    yarns = Yarns([(1, Yarn("cream", "#ffeedd")), (3, Yarn(name, "#112233"))])
    motif = Motif(letter_f.grid, first=letter_f.first, yarns=yarns)
    assert_steps_are_the_charts(pattern(compile_chart(motif), title="x", gauge=GAUGE))


def test_a_line_that_repeats_rows_gives_each_of_them_a_step():
    made = pattern(compile_chart(tile(letter_f, up=8, colours="swap"), True), title="x", gauge=GAUGE)
    # the same 14 rows again, and more than once
    assert any(last - first > 14 for first, last in (line.rows for line in made.words.rows))
    assert [step.label for step in made.words.steps[:2]] == ["Row 1", "Row 2"]
    assert_steps_are_the_charts(made)


def test_rows_that_are_repeated_over_and_over_are_those_named_whatever_was_worked_since():
    made = pattern(compile_chart(Motif.from_text("\n".join(".#.#...#."))), title="x", gauge=GAUGE)
    assert any(last - first > 2 for first, last in (line.rows for line in made.words.rows))
    assert_steps_are_the_charts(made)


def test_a_page_holds_both_terms_and_speaks_its_own():
    made = page(terms="UK")
    assert [words.terms for words in made.instructions] == ["US", "UK"]
    assert made.words.rows[0].text == "dc in 2nd ch from hook and in each ch across"
    assert dict(contents.facts(made, "UK"))["Tension"] == "16 sts by 18 rows = 10 cm (4 in), blocked."


def test_abbreviations_are_those_of_the_rows_and_no_others():
    named = dict(page().words.abbreviations)
    assert {"sc", "BLsc", "FLdc", "tog-b"} <= named.keys()
    assert "tog-f" not in named
    plain = pattern(CHART.plain(), title="x", gauge=GAUGE).words
    assert "tog-b" not in dict(plain.abbreviations)
    assert "tog-b" not in dict(plain.special)


def test_yarn_by_yarn_and_row_by_row_is_what_yarn_usage_says():
    skein = Skein(metres=150, grams=50)
    made = page(yarn_settings=YarnSettings(skeins=skein, between_rows="cut", margin=0.2))
    usage = yarn_usage(CHART, GAUGE, yarn_settings=YarnSettings(between_rows="cut"))
    assert [use.likely_m for use in made.row_use] == usage.total_m.tolist()
    assert sum(yarn.likely_m for yarn in made.yarns) == pytest.approx(usage.total_m.sum())
    assert [(yarn.name, yarn.roles, yarn.skeins) for yarn in made.yarns] == [
        ("cream", ("MC",), 1),
        ("ink blue", ("CC",), 1),
    ]
    table = contents.row_use(made)
    assert table.lines[-1][2:4] == (str(CHART.stitches.size), f"{usage.total_m.sum():.1f}")


def test_one_yarn_in_both_roles_is_one_line():
    yarn = Yarn("moss", "#445533")
    made = pattern(compile_chart(letter_f.with_yarns(Yarns(yarn, yarn))), title="x", gauge=GAUGE)
    assert [found.roles for found in made.yarns] == [("MC", "CC")]


FOUR = Yarns(
    [(1, Yarn("oat", "#efe3c8")), (4, Yarn("shell", "#f0c7bd"))],
    [(1, Yarn("deep", "#123f5a")), (3, Yarn("moss", "#4d6a2f")), (6, Yarn("deep", "#123f5a"))],
)


@pytest.mark.parametrize("in_the_round", [False, True])
def test_the_row_in_which_each_yarn_begins_is_named_in_chart_key_rows_and_table(in_the_round):
    chart = compile_chart(letter_f.with_yarns(FOUR), in_the_round=in_the_round)
    made = pattern(chart, title="x", gauge=GAUGE)
    # row 1 is MC: rows 1, 3 are oat, 5, 7 shell; row 2 deep, 4 moss, 6 deep again
    assert [(start.row, start.letter) for start in made.starts] == [(1, "A"), (2, "B"), (4, "C"), (5, "D"), (6, "B")]
    assert [yarn.name for yarn in made.yarns] == ["oat", "deep", "moss", "shell"]
    assert "in two colours and four yarns: 7" in contents.summary(made)
    rows = "rounds" if in_the_round else "rows"
    assert [words for words, _ in contents.yarn_key(made)] == [
        f"A: oat, MC, {rows} 1 to 3",
        f"B: deep, CC, {rows} 2 and 6",
        f"C: moss, CC, {rows[:-1]} 4",
        f"D: shell, MC, {rows} 5 to 7",
    ]
    assert [line[2] for line in contents.row_use(made).lines] == [*"ABACDBD", ""]
    assert "A: oat; B: deep; C: moss; D: shell" in contents.row_use(made).caption
    assert 'change to "moss"' in made.words.steps[3].text
    drawing = charts.Drawings(made, "US")
    picture = drawing.part(drawing.whole, numbering.PrintStyle(20, 8, letters=drawing.letters))
    begun = [words.split() for words in re.findall(r">(\d+ [A-Z]+)<", picture.body)]
    assert begun == [["6", "B"], ["5", "D"], ["4", "C"], ["2", "B"], ["1", "A"]]
    assert f"Yarns begin in these {rows}: A in 1, B in 2, C in 4, D in 5, B in 6." in picture.alt


def test_two_yarns_need_no_letters():
    made = page()
    assert (made.lettered, contents.yarn_key(made)) == (False, ())
    assert "in two colours: " in contents.summary(made)
    assert contents.row_use(made).head == ("Row", "Colour", "Stitches", "Yarn (m)", "Range (m)")
    assert contents.yarn_lines(made)[0][0] == "cream"


# black on white is 21 to 1, #777777 on white 4.48 to 1 (WCAG 2.2 and its explanations)
@pytest.mark.parametrize(("colour", "said"), [("#000000", "21.0 to 1"), ("#777777", "4.4 to 1")])
def test_contrast_is_said_with_published_values(colour, said):
    yarns = Yarns(Yarn("snow", "#ffffff"), Yarn("coal", colour))
    made = pattern(compile_chart(letter_f.with_yarns(yarns)), title="x", gauge=GAUGE)
    assert f"snow and coal have a contrast of {said}" in contents.contrast_lines(made)[0]


def test_yarns_that_are_hard_to_tell_apart_are_said_to_be():
    yarns = Yarns(Yarn("straw", "#d8c27a"), Yarn("sage", "#9fb07f"))
    made = pattern(compile_chart(letter_f.with_yarns(yarns)), title="x", gauge=GAUGE)
    assert not made.meetings[0].clear
    assert "less than the 3 to 1" in contents.contrast_lines(made)[0]


@pytest.mark.parametrize(("starts", "since"), [((1, 4), True), ((1, 3, 5, 7), False)])
def test_two_yarns_that_meet_again_are_said_once_and_without_the_row(starts, since):
    pair = Yarn("deep", "#123f5a"), Yarn("dusk", "#4d1f52")
    changes = [(row, pair[number % 2]) for number, row in enumerate(starts)]
    yarns = Yarns(Yarn("sand", "#e9dcc3"), changes)
    lines = contents.contrast_lines(pattern(compile_chart(letter_f.with_yarns(yarns)), title="x", gauge=GAUGE))
    assert [re.search(r"sand and (\w+) have", line)[1] for line in lines] == ["deep", "dusk"]
    assert all(line.startswith("From row") == since for line in lines)


def test_a_page_says_who_designed_it_where_somebody_says_so(tmp_path):
    made = page(designer="Ada & the pier club")
    assert contents.facts(made, "US")[0] == ("Designed by", "Ada & the pier club")
    assert "Designed by" not in dict(contents.facts(page(), "US"))
    text = publish.html(made, tmp_path / "x.html").read_text("utf-8")
    assert '<meta name="author" content="Ada &amp; the pier club">' in text
    assert "author" not in publish.html(page(), tmp_path / "y.html").read_text("utf-8")
    with pikepdf.open(publish.pdf(made, tmp_path / "x.pdf")) as opened:
        assert str(opened.docinfo["/Author"]) == "Ada & the pier club"
    with pikepdf.open(publish.pdf(page(), tmp_path / "y.pdf")) as opened:
        assert "/Author" not in opened.docinfo


def test_the_facts_of_a_page_are_in_both_units():
    facts = dict(contents.facts(page(hook_mm=5, level="easy"), "US"))
    # 21 stitches at 16 to 10 cm, 14 rows at 18 to 10 cm
    assert facts["Finished size"] == "13.1 cm wide × 7.8 cm high (5.2 × 3.1 in)."
    # 5.0 mm is H-8 (Craft Yarn Council)
    assert facts["Hook"] == "5 mm (US H-8), or whatever size gives the gauge."
    assert facts["Level"] == f"Easy. {LEVELS['easy']} (Craft Yarn Council)"
    assert "Hook" not in dict(contents.facts(page(), "US"))


def test_work_in_the_round_is_called_so():
    made = pattern(compile_chart(letter_f, in_the_round=True), title="x", gauge=GAUGE)
    assert "cm around" in dict(contents.facts(made, "US"))["Finished size"]
    assert made.words.steps[0].label == "Round 1"
    assert contents.row_use(made).lines[0][0] == "Round 1"


def test_cautions_name_the_standards_and_are_for_children_only_when_asked():
    said = " ".join(text for _, text in page(for_children=True).cautions)
    # 16 CFR 1120 with ASTM F1816; EN 14682:2014 leaves scarves, hats and gloves out
    for standard in ("16 CFR 1120", "ASTM F1816", "EN 14682:2014", "EN 71-1", "cot", "where you live and sell"):
        assert standard in said
    assert [heading for heading, _ in page().cautions] == ["Your hands"]


def test_a_page_is_a_frozen_value():
    assert page() == page()
    assert hash(page()) == hash(page())
    with pytest.raises(FrozenInstanceError):
        page().title = "another"


def test_the_fingerprint_hangs_on_title_and_chart_only():
    first = page().fingerprint
    assert page(notes=["wash by hand"], terms="UK").fingerprint == first
    assert replace(page(), title="Another").fingerprint != first
    assert pattern(CHART.plain(), title="Tidepool scarf", gauge=GAUGE).fingerprint != first


def test_texts_are_named_by_their_field():
    named = dict(texts(page(notes=["wash by hand"])))
    assert named["title"] == "Tidepool scarf"
    assert named["notes[0]"] == "wash by hand"
    assert named["yarns[1].name"] == "ink blue"
    assert named["instructions[0].rows[0].text"] == "sc in 2nd ch from hook and in each ch across"


def test_one_note_may_be_given_as_it_is():
    assert page(notes="wash by hand").notes == ("wash by hand",)


def own_rows(**change):
    lines = [PageRow(f"Row {row}", (row, row), role, "cream", "plain", 1) for row, role in ((1, "MC"), (2, "CC"))]
    lines[1] = replace(lines[1], **change)
    return Instructions("US", "ch 2", tuple(lines), tuple(lines))


def test_written_rows_of_your_own_take_the_place_of_ours():
    made = pattern(Chart.from_text(".\n."), title="x", gauge=GAUGE, rows=[own_rows()])
    assert [words.terms for words in made.instructions] == ["US"]
    assert made.words.rows[1].text == "plain"


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"count": 2}, "Row 2 must be 1 stitches in CC, as in the chart; got 2 in CC"),
        ({"role": "MC"}, "Row 2 must be 1 stitches in CC, as in the chart; got 1 in MC"),
        ({"rows": (3, 3)}, r"must order rows 1 to 2, each once and in turn; got \[1, 3\]"),
    ],
)
def test_rows_that_are_not_the_charts_are_refused(change, message):
    with pytest.raises(OptionError, match=message):
        pattern(Chart.from_text(".\n."), title="x", gauge=GAUGE, rows=[own_rows(**change)])


def test_terms_without_rows_are_refused():
    with pytest.raises(OptionError, match="`terms` must be one of 'US'; got 'UK'"):
        pattern(Chart.from_text(".\n."), title="x", gauge=GAUGE, terms="UK", rows=[own_rows()])


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"title": " "}, "`title` must be a line of text; got ' '"),
        ({"title": None}, "`title` must be a line of text; got None"),
        ({"title": "a\nb"}, r"`title` must be printable text; found '\\n'"),
        ({"title": "a" * 201}, "`title` must have at most 200 characters; got 201"),
        ({"designer": 3}, "`designer` must be text; got 3"),
        ({"designer": "a\nb"}, r"`designer` must be printable text; found '\\n'"),
        ({"designer": "a" * 201}, "`designer` must have at most 200 characters; got 201"),
        ({"notes": ["ok", "a\x00b"]}, r"`notes\[1\]` must be printable text; found '\\x00'"),
        ({"intro": "half \ud83d"}, r"`intro` must be printable text; found '\\ud83d'"),
        ({"notes": [3]}, r"`notes\[0\]` must be text; got 3"),
        ({"intro": None}, "`intro` must be text; got None"),
        ({"level": "hard"}, "`level` must be one of 'basic', 'easy', 'intermediate', 'complex'; got 'hard'"),
        ({"hook_mm": 0}, "`hook_mm` must be a number of mm above 0; got 0"),
        ({"terms": "AU"}, "`terms` must be one of 'US', 'UK'; got 'AU'"),
        ({"gauge": 16}, "`gauge` must be a `Gauge`; got 16"),
        ({"chart": letter_f}, "`chart` must be a `Chart`; got <Motif"),
        ({"yarn_settings": "cut"}, "`yarn_settings` must be a `YarnSettings`; got 'cut'"),
    ],
)
def test_bad_arguments_are_refused_in_a_sentence(options, message):
    given_ = {"chart": CHART, "title": "x", "gauge": GAUGE} | options
    with pytest.raises(OptionError, match=message):
        pattern(given_.pop("chart"), **given_)


def test_a_language_is_a_code():
    assert page(publishing=Publishing(language="en-GB")).publishing.language == "en-GB"
    with pytest.raises(OptionError, match="`language` must be a code, as 'en' or 'en-GB'; got 'English'"):
        Publishing(language="English")


def test_a_chart_that_no_hook_can_work_makes_no_page():
    with pytest.raises(StitchError, match="Row 2, stitch 1: FLdc cannot be made"):
        pattern(Chart.from_text("|\n."), title="x", gauge=GAUGE)


def test_a_page_of_one_square_is_a_page():
    made = pattern(compile_chart(Motif.from_text(".")), title="x", gauge=GAUGE)
    assert isinstance(made, Page)
    assert made.words.rows[0].text == "sc in 2nd ch from hook"


def test_a_page_says_where_new_balls_begin_and_to_buy_one_dye_lot_when_more_than_one_is_needed():
    usage = yarn_usage(CHART, GAUGE)
    ball = Skein(metres=0.4 * usage.total_m[::2].sum(), grams=20)
    begins, left = [], 0.0
    for row, (yarn, metres) in enumerate(zip(usage.yarns, usage.total_m, strict=True), 1):
        if yarn == usage.yarns[0]:
            if metres > left:
                begins.append(str(row))
                left = ball.metres
            left -= metres
    assert len(begins) == 4
    notes = page(yarn_settings=YarnSettings(skeins=ball)).skein_notes
    assert notes[0] == f"A new ball of {usage.yarns[0].name} is likely to start at rows {', '.join(begins[1:])}."
    assert "one dye lot" in notes[-1]
    advice = yarn_usage(CHART, GAUGE, yarn_settings=YarnSettings(skeins=ball)).by_yarn[0].advice
    assert advice.startswith("Buy 4 skeins of ")  # as four are begun, and each serves whole rows
    assert contents.yarn_lines(page(yarn_settings=YarnSettings(skeins=ball)))[0][1].endswith(f" m. {advice}")
    assert notes[-1] in page().skein_notes  # how many it takes is not known
    assert page(yarn_settings=YarnSettings(skeins=Skein(metres=500, grams=100))).skein_notes == ()
    assert (
        page(yarn_settings=YarnSettings(skeins=Skein(metres=0.1, grams=1))).skein_notes == notes[-1:]
    )  # too short for a row


def test_between_rounds_is_said_of_rounds():
    assert contents.about_yarn(page(yarn_settings=YarnSettings(between_rows="cut"))).startswith(
        "The yarn is cut between rows. "
    )
    made = pattern(compile_chart(letter_f, in_the_round=True), title="Cowl", gauge=GAUGE)
    assert contents.about_yarn(made).startswith("The yarn is carried between rounds. ")
