"""Reading written rows: what people type is understood, and what is wrong is said, all of it, with its place."""

import random
import re
from pathlib import Path

import numpy as np
import pytest

import mosaickit as mk
from mosaickit.errors import OptionError, WordingError
from mosaickit.wording import read_rows, reading, write_rows
from mosaickit.wording.english_words import TOKEN_WORDS
from mosaickit.wording.faults import MOST_FAULTS
from mosaickit.wording.german_words import GERMAN_WORDS
from mosaickit.wording.reading import read_closely

HEAD = "Written in US terms\nRow 1 (MC): 8 sc (8 sts)\nRow 2 (CC): BLsc across\n"
# stitch 1 at the left, so that the text below reads as the words do
WANTED = "..|..|.."


def row_3(words, head=HEAD):
    """Row 3 as the words say it, from stitch 1 on."""
    return read_rows(head + words).to_text().splitlines()[0][::-1]


def faults(text, **options):
    with pytest.raises(WordingError) as caught:
        read_rows(text, **options)
    return [(fault.kind, fault.line, fault.column, fault.row) for fault in caught.value.faults]


def only_fault(text, **options):
    with pytest.raises(WordingError) as caught:
        read_rows(text, **options)
    (fault,) = caught.value.faults
    assert str(caught.value) == str(fault)
    return fault


# ---- what people type --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "words",
    [
        "Row 3 (MC): *BLsc in next 2 sts, FLdc in next st; rep from * 1 more time; BLsc in last 2 sts. (8 sts)",
        "row 3 (mc): * blsc IN next 2 STS , fldc in next st ; repeat from * once more ; blsc in last 2 sts.(8 sts).",
        "Row 3: [BLsc in next 2 sts, FLdc in next st] 2 times; BLsc in last 2 sts - 8 sts",
        "Row 3 (MC) (2 BLsc, 1 FLdc) twice, 2 BLsc: 8 sts",
        "Row 3, MC: {2 BLsc, FLdc} x 2, 2 BLsc = 8 sts",
        "Row 3 (RS, MC): *2 BLsc, FLdc; rep from * to last 2 sts, BLsc across (8 stitches)",
        "Row 3: 2 BLsc, FLdc, 2 BLsc, FLdc, BLsc to end",
        "Row 3: BLsc in each of the next 2 sts, FLdc in next st, BL sc in each of next 2 stitches, FL dc, 2 BLsc",
        "Row 3: back loop single crochet in the next 2 stitches; then front loop double crochet in the next stitch. "
        "Then 2 scBLO, dc in front loop only, sc in BLO in last 2 sts. 8 stitches in all.",
        "Row 3: two BLsc and FLdc and two BLsc and FLdc and BLsc in last 2 sts (6 BLsc, 2 FLdc)",
        "Row 3 – 3: 2 BLsc, FLdc, 2 BLsc, FLdc, BLsc in last 2 sts – 8 sts",
        "Row 3: *2 BLsc, FLdc;\n  rep from * 1 more time;\n  2 BLsc.\n  (8 sts)",
        "Row 3: *2 BLsc, FLdc; rep from * 2 times in all, 2 BLsc",
        "Row 3 with MC: repeat the following 2 times in all: 2 BLsc, FLdc, end of repeat. Then 2 BLsc",
        "Row\u00a03\t(MC):\u2003[2\u00a0BLsc, FLdc] 1 more time, 2 BLsc",
    ],
)
def test_many_ways_to_write_a_row_are_one(words):
    assert row_3(words) == WANTED


def test_togs_may_be_written_with_any_dash_or_none():
    assert row_3("Row 3: tog-b, tog\u2013b, togb, tog b, tog-f, TOG\u2011F, tog f, togf") == "bbbbffff"


def test_brackets_may_stand_within_a_repeat():
    assert row_3("Row 3: *[BLsc, FLdc] 2 times; rep from * 1 more time") == ".|.|.|.|"
    assert row_3("Row 3: [BLsc, {FLdc} 3 times] 2 times") == ".|||.|||"


def test_uk_words_mean_the_same_stitches():
    us = "Written in US terms\nRow 1 (CC): sc in next 3 sts\nRow 2 (MC): 3 BLsc\nRow 3 (CC): BLsc, FLdc, tog-b"
    uk = "Terms: UK\n" + (
        "Row 1 (CC): dc in next 3 sts\nRow 2 (MC): BLdc in next 3 sts\nRow 3 (CC): BL double crochet, FL treble, tog-b"
    )
    assert read_rows(us) == read_rows(uk)
    assert read_closely(uk).terms == "UK"


def test_terms_follow_from_words_that_only_one_has():
    rows = "Row 1 (MC): {0} in next 2 sts\nRow 2 (CC): {1} in next 2 sts"
    assert read_closely(rows.format("dc", "BLdc")).terms == "UK"
    assert read_closely(rows.format("sc", "BLsc")).terms == "US"
    assert read_rows(rows.format("dc", "tog-b"), terms="UK") == read_rows(rows.format("sc", "tog-b"), terms="US")


def test_what_stands_under_a_heading_for_prose_is_passed_over_up_to_an_empty_line_or_a_row():
    text = "Notes: any words\nsome 7 % more, in Row 4\n\n" + HEAD + "\nAbbreviations\nxyz: whatever\nRow 3: 8 BLsc"
    assert read_rows(text).shape == (3, 8)


def test_remarks_end_at_an_empty_line():
    assert faults("Notes:\nanything\n\nanything\n" + HEAD) == [("unknown", 4, 1, None)]


def test_what_a_text_leaves_out_is_as_for_any_chart():
    chart = read_rows(HEAD)
    assert (chart.yarns, chart.hand, chart.in_the_round, chart.name) == (mk.Yarns(), "right", False, "")
    assert chart.row_colours == ("MC", "CC")


def test_rounds_are_known_by_their_label_or_the_heading():
    assert read_rows(HEAD.replace("Row", "Rnd")).in_the_round
    assert read_rows("Worked in rounds, left-handed.\n" + HEAD.replace("Row", "Round")).hand == "left"
    assert only_fault("Worked flat.\n" + HEAD.replace("Row", "Rnd")).kind == "row"


def test_yarns_and_name_come_from_their_lines():
    chart = read_rows('Name: “two ponds”\nYarns\nCC: "a \\"b\\" \\\\", #00FF7f; from row 2: “c” #010203\n' + HEAD)
    assert chart.name == "two ponds"
    assert chart.yarns.cc == ((1, mk.Yarn('a "b" \\', "#00ff7f")), (2, mk.Yarn("c", "#010203")))


def test_rows_are_read_with_the_place_of_every_stitch():
    read = read_closely(HEAD + "Row 3: *BLsc, FLdc;\n rep from * 2 more times, [tog-b] 2 times (8 sts)")
    row = read.rows[2]
    assert (row.row, row.line, row.stated) == (3, 4, 8)
    assert row.places.tolist() == [[4, 9], [4, 15]] * 3 + [[5, 28]] * 2
    lines = (HEAD + "Row 3: *BLsc, FLdc;\n rep from * 2 more times, [tog-b] 2 times (8 sts)").split("\n")
    assert [lines[line - 1][column - 1 :][:4] for line, column in row.places.tolist()] == ["BLsc", "FLdc"] * 3 + [
        "tog-"
    ] * 2


# ---- rows that repeat rows ---------------------------------------------------------------------------------

FOUR = HEAD + "Row 3: 2 FLdc, 6 BLsc\nRow 4: 8 BLsc\n"


@pytest.mark.parametrize(
    "words",
    [
        "Rows 5-8: repeat rows 3-4",
        "Rows 5 to 8: rep rows 3 and 4, 2 more times (8 sts)",
        "Rep rows 3 and 4 two more times.",
        "Row 5 and 6: rep rows 3 to 4.\nRows 7–8: rep rows 3–4 once more",
        "Rows 5-8: rep rows 3-4 twice",
        "Rows 5-8: rep rows 3-4 3 times in all",
        "Rep rows 3-4 2 times\nRow 9: 8 BLsc",
    ],
)
def test_rows_that_repeat_rows_are_written_out(words):
    chart = read_rows(FOUR + words)
    assert chart.to_text().splitlines()[-8:] == ["........", "......||"] * 3 + ["........"] * 2
    assert len(chart.stitches) == 8 + ("Row 9" in words)


def test_several_rows_may_share_their_words():
    assert read_rows(HEAD + "Rows 3-5: 8 BLsc").shape == (5, 8)


def test_repeated_rows_note_what_their_numbers_settled():
    assert read_closely(FOUR + "Rows 5-8: rep rows 3-4 twice").notes == (
        "Line 6, column 24 (row 5): the rows are repeated 2 more times, as the row numbers say.",
    )


@pytest.mark.parametrize(
    ("words", "kind", "message"),
    [
        ("Rows 5-9: rep rows 3-4", "row", "stands for 5 rows, but repeating 2 rows so often makes 2 rows"),
        ("Rows 5-8: rep rows 3-4 3 more times", "row", "stands for 4 rows, but repeating 2 rows so often makes 6 rows"),
        (
            "Rep rows 3-4 2 times",
            "ambiguous",
            "2 more times, up to row 8, or 1 more time, up to row 6; say '2 more times' or '1 more time'",
        ),
        ("Rows 5-6: rep rows 5-6", "row", "expected rows from 1 to 4, which come before; found rows 5 to 6"),
        ("Rows 5-6: rep rows 0-1", "row", "found rows 0 to 1"),
        ("Rep rows 3-4 999999999 more times", "row", "at most 10,000 rows"),
        ("Rows 5-999999999: rep rows 3-4", "row", "at most 10,000 rows; found row 999999999"),
        ("Row 4: 8 BLsc", "row", "expected row 5; row 4 is given a second time or comes too late"),
        ("Row 7: 8 BLsc", "row", "expected row 5, found row 7: rows 5 to 6 are missing"),
        ("Row 0: 8 BLsc", "row", "rows count from 1; found row 0"),
        ("Rows 6-5: 8 BLsc", "row", "expected rows that rise; found rows 6 to 5"),
        ("Rows 5-6: rep rows 3-4 (9 sts)", "count", "states 9 stitches, but its words make 8"),
    ],
)
def test_rows_that_are_not_there_are_said(words, kind, message):
    fault = only_fault(FOUR + words)
    assert fault.kind == kind
    assert message in fault.sentence
    assert fault.line == 6


# ---- faults ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "kind", "column", "message"),
    [
        ("BLsc in next 2 sts,, FLdc", "malformed", 20, "expected .*a number.*found ','"),
        ("BLsc in next sts 4", "malformed", 18, "found '4'"),
        ("[BLsc, FLdc] , 2 BLsc", "malformed", 14, "expected .*found ','"),
        (
            "2 BLsc in next 4 sts",
            "malformed",
            3,
            "expected as many .* write 'BLsc in next 4 sts' or 'BLsc in next 2 sts'",
        ),
        ("1 BLsc in next 4 sts", "malformed", 3, "write 'BLsc in next 4 sts' or 'BLsc in next 1 st'"),
        ("BLsc in next 4.5 sts", "unknown", 14, "found '4.5', which is no whole number"),
        ("BLsc in next 1,000 sts", "unknown", 14, "found '1,000', which is no whole number"),
        ("BLsc in next -8 sts", "malformed", 14, "found '-'"),
        ("BLsc in next sts", "malformed", 1, "expected how many 'sts' that is, as in 'next 4 sts'"),
        ("BLsc in next", "malformed", 13, "expected 'ch', 'sts' or a number, but the line ends"),
        ("*BLsc; rep from * to last sts", "malformed", 19, "expected how many last stitches"),
        ("2 BLsc across", "ambiguous", 3, "a number and 'across' say two things; write 'BLsc across' or '2 BLsc'"),
        ("BLsc in next 8 chs", "malformed", 16, "only row 1 is worked into chains"),
        ("BLsc in 2nd ch from hook and across", "malformed", 13, "only row 1 is worked into chains"),
        ("[2 BLsc] 4 times and across", "malformed", 22, "expected which stitch goes on across"),
        ("BLsc in next 0 sts", "malformed", 1, "expected as many stitches as places, 1 or more"),
        ("BLsc in last 4 sts, 4 FLdc", "malformed", 9, "expected the end of the row after its 'last' stitches"),
        ("[BLsc across] 2 times", "malformed", 7, "only a step outside all repeats can reach to the end"),
        ("[{[{[BLsc] 2 times} 2 times] 2 times} 2 times] 2 times", "malformed", 5, "repeats 4 deep at most"),
        ("4 BLxx, 4 BLsc", "unknown", 3, "found 'BLxx', which is not known"),
        ("4 BLsc in next ? 4 sts, 4 BLsc", "unknown", 16, "found '\\?'"),
        ("BLsc in next foo sts", "unknown", 14, "found 'foo'"),
        ("BLsc in next 10001 sts", "count", 1, "at most 10,000 stitches in a row, found 10,001"),
        ("4 hdc, 4 BLsc", "unknown", 3, "hdc is no stitch of overlay mosaic in US terms; expected sc, BLsc, FLdc"),
        (
            "4 FLtr, 4 BLsc",
            "ambiguous",
            3,
            r"FLtr is a word of United Kingdom \(UK\) terms, and the text is in US terms",
        ),
        ("4 dc, 4 BLsc", "ambiguous", 3, r"dc is a word of United Kingdom \(UK\) terms"),
        (
            "*FLdc, *BLsc; rep from * 1 more time; rep from * 3 more times",
            "ambiguous",
            26,
            "'from \\*' may mean either",
        ),
        (
            "*BLsc, FLdc; rep from * 3 times",
            "ambiguous",
            25,
            "'3 times' may mean 3 in all, which makes 6 stitches, or 4",
        ),
        ("*BLsc, FLdc; rep from * 3 times (7 sts)", "ambiguous", 25, "or a count at the row's end that fits one"),
        ("8 BLsc (9 sts)", "count", 9, "the row states 9 stitches, but its words make 8"),
        ("7 BLsc", "count", None, "expected 8 stitches, as the rows below have; found 7: the row is narrower"),
        ("9 BLsc", "count", None, "found 9: the row is wider"),
        (
            "*2 BLsc, FLdc; rep from * across",
            "count",
            27,
            "expected room for whole repeats of 3 stitches to there; .* 8",
        ),
        ("8 FLdc, BLsc across", "count", 14, "expected room for a stitch to there; there is room for 0"),
        (
            "*BLsc, FLdc; rep from * 999999999 more times",
            "count",
            2,
            "at most 10,000 stitches in a row, found 2,000,000,000",
        ),
        ("BLsc in next 9999999999999999999 sts", "count", 1, "at most 10,000 stitches in a row, found far more"),
    ],
)
def test_what_is_wrong_in_a_row_is_said_with_its_place(words, kind, column, message):
    fault = only_fault(HEAD + "Row 3: " + words)
    assert (fault.kind, fault.line, fault.row) == (kind, 4, 3)
    assert re.search(message, fault.sentence), fault.sentence
    assert fault.column == (1 if column is None else column + 7)
    assert fault.expected


def test_a_line_that_ends_too_early_is_said_behind_its_end():
    fault = only_fault(HEAD + "Row 3: *BLsc, FLdc;  ")
    assert (fault.kind, fault.column) == ("malformed", 20)
    assert "'rep'" in fault.sentence
    assert fault.sentence.endswith("but the line ends.")


def test_all_faults_of_a_row_and_of_all_rows_are_said_at_once():
    text = HEAD + "Row 3: 4 BLxx,, 2 FLdc, 2 3, foo\nRow 5 (MC): 7 BLsc (6 sts)\nRow 6 (MC): 8 BLsc\nHello"
    assert faults(text) == [
        ("unknown", 4, 10, 3),
        ("malformed", 4, 15, 3),
        ("malformed", 4, 27, 3),
        ("unknown", 4, 30, 3),
        ("count", 5, 1, 5),
        ("row", 5, 5, 5),
        ("count", 5, 21, 5),
        ("colour", 6, 1, 6),
        ("unknown", 7, 1, None),
    ]
    with pytest.raises(WordingError, match=r"The text has 9 faults.\nLine 4, column 10 \(row 3\): expected"):
        read_rows(text)


def test_after_a_malformed_place_in_brackets_reading_goes_on_behind_them():
    assert faults(HEAD + "Row 3: [BLsc, FLdc 4, BLsc] 2 times, foo") == [("malformed", 4, 20, 3), ("unknown", 4, 38, 3)]


def test_a_number_of_any_length_is_read():
    assert "found far more" in only_fault(HEAD + f"Row 3: BLsc in next {'9' * 5000} sts").sentence


def test_an_error_shows_ten_faults_and_holds_them_all():
    with pytest.raises(WordingError, match="and 15 more, all in `faults`") as caught:
        read_rows("foo\n" * 25)
    assert len(caught.value.faults) == 25


def test_reading_stops_at_so_many_faults():
    for text in ("foo\n" * 5000, "Row 1: " + "foo, " * 5000, "Row 1: " + "4 4," * 5000):
        with pytest.raises(WordingError) as caught:
            read_rows(text)
        assert len(caught.value.faults) <= MOST_FAULTS


@pytest.mark.parametrize(
    ("text", "kind", "message"),
    [
        (
            "Row 1 (MC): sc in next 4 sts",
            "ambiguous",
            "sc is a stitch of its own in US terms, but a slip stitch in old UK ones",
        ),
        ("Row 1 (MC): dc in next 4 sts", "ambiguous", "what US terms call sc in UK ones; say 'Written in US terms'"),
        (
            "Row 1 (MC): BLsc in next 4 sts\nRow 2: BLdc in next 4 sts",
            "ambiguous",
            "BLsc is a US word and BLdc a UK word",
        ),
        ("Written in UK terms\nRow 1 (MC): 4 sc", "ambiguous", "in UK terms sc may be what old British patterns call"),
        (
            "Written in US terms\nRow 1: 4 sc",
            "ambiguous",
            r"no row says its colour; expected \(MC\) or \(CC\) in row 1",
        ),
        ("Written in US terms\nRow 1: sc across\nRow 2 (MC): 4 BLsc", "count", "nothing says yet how many stitches"),
        (HEAD + "Row 3 (CC): 8 BLsc", "colour", "expected MC in row 3, found CC: the two colours alternate"),
        (HEAD + "Rows 3-4 (MC): 8 BLsc", "colour", "expected CC in row 4, found MC"),
        ("Ch 8\n" + HEAD, "count", "expected 9 chains, one for each of 8 stitches and one to start row 1; found 8"),
        (
            "Worked in the round.\nCh 9, join\n" + HEAD.replace("Row", "Rnd"),
            "count",
            "expected 8 chains, one for each of",
        ),
        ("With CC, ch 9\n" + HEAD, "colour", "expected the foundation in MC, as row 1 is worked into it; found CC"),
        ("Written in UK terms\n" + HEAD, "malformed", "expected the terms once, found it a second time"),
        (f'Name: "{"x" * 201}"\n' + HEAD, "unknown", "expected a name in quotes"),
        ('Name: "a\u2028b"\n' + HEAD, "malformed", "must be one line of printable characters"),
        ('Yarns:\nMC: "a", #000000; from row 1: "b", #ffffff\n' + HEAD, "malformed", "must change at rising rows"),
        (
            "What a nice day\n" + HEAD,
            "unknown",
            "expected a row as 'Row 1 .* found 'What'; remarks stand under 'Notes:'",
        ),
    ],
)
def test_what_is_wrong_with_a_text_is_said(text, kind, message):
    with pytest.raises(WordingError) as caught:
        read_rows(text)
    assert caught.value.faults[0].kind == kind
    assert re.search(message, caught.value.faults[0].sentence), caught.value.faults[0].sentence


def test_terms_told_must_be_those_of_the_text():
    with pytest.raises(WordingError, match="in US terms, but it is to be read in UK terms"):
        read_rows(HEAD, terms="UK")


def test_the_colour_of_row_1_may_come_from_the_foundation_or_any_row():
    bare = "Written in US terms\nRow 1: 2 sc\nRow 2{}: 2 BLsc"
    assert read_rows(bare.format(" (MC)")).first == "CC"
    assert read_rows("With CC, ch 3\n" + bare.format("")).first == "CC"


def test_the_row_whose_colour_fits_the_fewest_others_is_the_one_that_is_said():
    rows = "\n".join(f"Row {row} ({colour}): 2 tog-b" for row, colour in enumerate(["CC", "CC", "MC", "CC"], 1))
    assert faults("Written in US terms\n" + rows) == [("colour", 2, 1, 1)]


def test_across_in_row_1_reaches_over_the_foundation():
    assert read_rows("Written in US terms\nCh 9\nRow 1 (MC): sc across").shape == (1, 8)
    assert read_rows("Written in US terms\nCh 9, join\nRnd 1 (MC): sc around").shape == (1, 9)


@pytest.mark.parametrize("text", ["", "\n\n", "Notes: nothing", "Written in US terms"])
def test_a_text_without_rows_is_refused(text):
    with pytest.raises(WordingError, match="The text has no row; expected lines as 'Row 1"):
        read_rows(text)


def test_what_is_no_text_or_too_long_is_refused(monkeypatch):
    with pytest.raises(OptionError, match="`text` must be a str; got bytes"):
        read_rows(b"Row 1")
    with pytest.raises(OptionError, match="`terms` must be one of 'US', 'UK'; got 'us'"):
        read_rows(HEAD, terms="us")
    monkeypatch.setattr(reading, "LONGEST_TEXT", 10)
    with pytest.raises(WordingError, match="at most 10 characters; this one has 6"):
        read_rows(HEAD)


def test_no_chart_larger_than_a_chart_may_be_is_written_out():
    text = "Written in US terms\nRow 1 (MC): 9000 sc\nRows 2-9000: 9000 BLsc"
    assert "at most 16,000,000 stitches in all" in only_fault(text).sentence


def test_every_token_of_the_grammar_has_words_for_a_fault():
    grammar = Path(reading.__file__).with_name("grammar.lark").read_text("utf-8")
    declared = {name for names in re.findall("%declare (.*)", grammar) for name in names.split()}
    # a stitch begins the first two, and English says its terms where other languages say themselves
    assert declared - set(TOKEN_WORDS) == {"UNKNOWN", "RUN", "LANGUAGE"}
    assert declared - set(GERMAN_WORDS.token_words) == {"UNKNOWN", "RUN", "WRITTEN", "NATION", "TERMS"}


# ---- anything at all ---------------------------------------------------------------------------------------

BASE = """\
Terms: US
CC: "a", #123f5a
Row 1 (MC): 4 sc (4 sts)
Row 2 (CC): BLsc across
Row 3: *FLdc, [BLsc] 1 times; rep from * once more
Rows 4-5: rep rows 2-3
"""

PIECES = [
    *'*[]{}().,;:-–×=#"“”\\\n\t\u00a0\u2028\u0661٣²éß𝟘🧶',
    "rep from * 999999999 more times",
    "1" * 5000,
    "[" * 300,
    "*" * 300,
    "{BLsc, " * 50,
    "Rows 2-10000: rep rows 1-1\n",
    "rep rows 1-2 9999 more times\n",
    *("Row", "Rnd", "rep", "from", "across", "twice", "dc", "sc", "FLtr", "tog-b", "sts", "ch", "MC", "then", "and"),
    "\ud800",
    "\x00",
]


def mutated(rng):
    text = BASE
    if rng.random() < 0.5:  # words put in the place of others, which is nearer to a text that makes sense
        words = re.findall(r"\w+|\W", text)
        for _ in range(rng.randint(1, 2)):
            words[rng.randrange(len(words))] = rng.choice(words)
        return "".join(words)
    for _ in range(rng.randint(1, 2)):
        start = rng.randrange(len(text) + 1)
        end = min(len(text), start + rng.randint(1, 8))
        kind = rng.randrange(5)
        if kind == 0:
            text = text[:start] + text[end:]
        elif kind == 1:
            text = text[:end] + text[start:end] * rng.randint(1, 3) + text[end:]
        elif kind == 2:
            other = rng.randrange(len(text) + 1)
            text = text[:start] + text[other : other + end - start] + text[end:]
        elif kind == 3:
            text = text[:start] + rng.choice(PIECES) + text[start:]
        else:
            text = text[:start] + chr(rng.randrange(0x110000)) + text[end:]
    return text


@pytest.mark.usefixtures("slow")
def test_four_thousand_mutated_texts_make_a_chart_or_a_sentence():
    assert read_rows(BASE).shape == (5, 4)
    rng = random.Random(7)
    made = 0
    for _ in range(4_000):
        text = mutated(rng)
        try:
            chart = read_rows(text)
        except WordingError as error:  # and nothing else
            lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
            for fault in error.faults:
                assert 1 <= fault.line <= len(lines)
                assert 1 <= fault.column <= len(lines[fault.line - 1]) + 1
        else:
            made += 1
            if made % 20 == 0:
                assert read_rows(str(write_rows(chart))) == chart
    assert 200 < made < 3800, made


def test_a_chart_of_many_rows_and_stitches_reads_back():
    stitches = np.random.default_rng(3).integers(1, 5, (60, 120))
    chart = mk.Chart(stitches, [("MC", "CC")[row % 2] for row in range(60)])
    assert read_rows(str(write_rows(chart))) == chart
