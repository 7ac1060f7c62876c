"""Written rows where they meet people: increases, counts, colours and remarks that say another thing than the rows."""

import os
import random
import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from wording_mutations import base_texts, held_against_each_other, main, mutated
from wording_opponents import Refused, second_reading

import mosaickit as mk
from mosaickit.errors import WordingError
from mosaickit.wording import lexing, parsing, proof, read_rows, write_rows
from mosaickit.wording.faults import LONGEST_TEXT

HEAD = "Written in US terms.\nRow 1 (MC): sc in next 4 sts. (4 sts)\nRow 2 (CC): "
PLAIN = mk.Chart.from_text("....\n....")


def faults_of(text):
    with pytest.raises(WordingError) as caught:
        read_rows(text)
    return caught.value.faults


# ---- more stitches than places -----------------------------------------------------------------------------

INCREASES = [
    *("2 BLsc in each st across.", "2 BLsc in each of next 2 sts, BLsc in last 2 sts.", "4 BLsc in next st"),
    *(
        "3 BLsc in next st, BLsc in last st.",
        "4 BLsc in next 2 sts",
        "2 BLsc in each of last 2 sts",
        "4 BLsc in last st",
    ),
    *("2 BLsc in each of next 4 sts", "2 BLsc in every st across", "two BLsc in each of the next 2 stitches, 2 BLsc"),
    *(
        "2 BLsc in next st, 2 BLsc in last st",
        "*2 BLsc in next st; rep from * 1 more time",
        "2 BLsc in each st, 2 BLsc",
    ),
    *(
        "2 BLsc in 1 st, 2 BLsc",
        "(BLsc, BLsc) in next st, 2 BLsc",
        "[2 BLsc] in each of next 2 sts",
        "BLsc inc, 3 BLsc",
    ),
    *("BLsc, BLsc in same st, 2 BLsc", "inc in next st, 2 BLsc", "BLsc in next 3 sts, increase", "BLsc shell, 3 BLsc"),
    *("BLsc in next 3 sts, BLsc in same st as last", "two-in-one BLsc, 2 BLsc", "{BLsc, FLdc} in next st, 2 BLsc"),
]
DECREASES = [
    *("sc2tog, 3 BLsc", "BLsc2tog, 3 BLsc", "2tog-b, 2 BLsc", "dec, 3 BLsc", "BLsc in next 2 sts together, 3 BLsc"),
    *("BLsc dec, 3 BLsc", "decrease in next st, 3 BLsc", "tog, 3 BLsc", "sc 2 tog, 3 BLsc"),
    *(
        "sk 2 sts, 4 BLsc",
        "skip next st, 4 BLsc",
        "4 BLsc, miss 1",
        "BLsc in next 2 sts, sk next st, 2 BLsc",
        "sk, 4 BLsc",
    ),
]
OTHERS = [
    *("BLsc in next st, ch 1, BLsc in last 3 sts", "ch 1, BLsc across", "ch 2 sk 1, 3 BLsc", "BLsc in ch-1 sp, 3 BLsc"),
    *("BLsc in next ch-sp, 3 BLsc", "turn, 4 BLsc", "4 BLsc, turn", "4 BLsc (WS)"),
]


@pytest.mark.parametrize("words", [*INCREASES, *DECREASES, *OTHERS])
def test_what_changes_the_count_or_turns_the_work_is_refused_with_what_it_means(words):
    (fault, *more) = faults_of(HEAD + words)
    assert fault.kind == "shaping", fault
    meant = "increase|more than one stitch|group of" if words in INCREASES else "fewer|without one"
    assert re.search(meant if words not in OTHERS else "chains|right side|gap", fault.sentence), fault
    assert all(other.kind in ("shaping", "unknown", "malformed") for other in more)
    assert not proof(HEAD + words, PLAIN).ok
    with pytest.raises(Refused):
        second_reading(HEAD + words)


@pytest.mark.parametrize(
    "words",
    [
        *(
            "BLsc in each of next 4 sts",
            "1 BLsc in each of the next 4 sts",
            "BLsc in each st across",
            "BLsc in every st",
        ),
        *("1 BLsc in each st across", "4 BLsc in next 4 sts", "2 BLsc in next 2 sts, BLsc in each of last 2 sts"),
        *("BLsc in next st and in each st across", "BLsc in next st, BLsc in each of next 3 sts", "4BLsc"),
    ],
)
def test_one_stitch_in_each_place_is_no_increase(words):
    assert proof(HEAD + words, PLAIN).ok
    assert second_reading(HEAD + words)["rows"] == ["ssss", "bbbb"]


def test_row_1_is_read_as_it_is_worked_into_the_chain():
    # Craft Yarn Council, reading guide: ch 15, sc in 2nd ch from hook and across = 14 sc; ch 21 makes 20 sc
    for chains, words in (
        (15, "sc in 2nd ch from hook and across = 14 sc"),
        (21, "sc in 2nd ch from hook and in each ch across"),
    ):
        chart = read_rows(f"Written in US terms\nCh {chains}\nRow 1 (MC): {words}")
        assert chart.shape == (1, chains - 1)
    rounds = "Written in US terms\nCh 14, join\nRnd 1 (MC): {}"
    assert read_rows(rounds.format("sc in each ch around")).shape == (1, 14)
    for text, sentence in (
        (rounds.format("sc in 2nd ch from hook and in each ch around"), "in the round row 1 begins in the first chain"),
        (
            "Written in US terms\nCh 15\nRow 1 (MC): sc in 3rd ch from hook and across",
            "expected the 2nd chain from the hook",
        ),
        (
            "Written in US terms\nCh 15\nRow 1 (MC): 3 sc in 2nd ch from hook and across",
            "3 in the chain is an increase",
        ),
        (
            "Written in US terms\nCh 15, join\nRow 1 (MC): sc across",
            "the foundation is joined, .* but the work is flat",
        ),
    ):
        assert re.search(sentence, " ".join(fault.sentence for fault in faults_of(text)))


# ---- counts ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("BLsc in next 4 sts. (4 FLdc)", "the row states 4 FLdc, but its words make 4 BLsc"),
        (
            "BLsc in next 4 sts. 4 FLdc.",
            "what follows the full stop is not the count .* 4 BLsc, and as more .* 8 in all",
        ),
        (
            "FLdc in next 4 sts. 2 BLsc, 2 FLdc.",
            "what follows the full stop is not the count of the row, which has 4 FLdc",
        ),
        ("BLsc in next 4 sts. (4 hdc)", "hdc is no stitch of overlay mosaic"),
        ("BLsc in next 4 sts. (4 ss)", "sl st is no stitch of overlay mosaic"),
        ("BLsc in next 4 sts. (4 sc)", "states 4 sc, but its words make 4 BLsc"),
        ("BLsc in next 4 sts = 3 BLsc, 1 FLdc", "states 3 BLsc, 1 FLdc, but its words make 4 BLsc"),
        ("BLsc in next 4 sts. (2 BLsc, 2 BLsc)", "a count names each kind once"),
        ("2 BLsc, 2 FLdc (3 BLsc, 1 FLdc)", "states 3 BLsc, 1 FLdc, but its words make 2 BLsc, 2 FLdc"),
        ("2 BLsc, 2 FLdc (2 BLsc)", "the row states 2 stitches, but its words make 4"),
        ("4 BLsc (1 st)", "the row states 1 stitch, but its words make 4"),
        ("4 BLsc. FLdc in next st.", "found 5: the row is wider"),
        ("2 BLsc. 2 FLdc, 2 BLsc.", "what follows the full stop is not the count"),
        ("4 BLsc [BLsc, FLdc]", "expected how often after the brackets"),
    ],
)
def test_a_count_agrees_with_the_stitches_by_number_and_kind(words, sentence):
    assert re.search(sentence, faults_of(HEAD + words)[0].sentence), faults_of(HEAD + words)
    with pytest.raises(Refused):
        second_reading(HEAD + words)


@pytest.mark.parametrize(
    ("words", "row"),
    [
        *(("BLsc in next 4 sts. 4 BLsc.", "...."), ("2 BLsc, 2 FLdc. (2 BLsc, 2 FLdc)", "..||")),
        *(
            ("2 BLsc, 2 FLdc. 2 FLdc, 2 BLsc", "..||"),
            ("2 BLsc. 2 FLdc.", "..||"),
            ("2 BLsc. FLdc in next 2 sts. (4 sts)", "..||"),
        ),
        *(
            ("*BLsc, FLdc; rep from * twice. 2 BLsc, 2 FLdc.", None),
            ("*BLsc, FLdc; rep from * 2 times. 2 BLsc, 2 FLdc.", None),
        ),
    ],
)
def test_what_follows_a_full_stop_is_the_count_or_more_stitches(words, row):
    if row is None:  # the count settles the repeat
        row = ".|.|"
    assert read_rows(HEAD + words).to_text().splitlines()[0] == row[::-1]


# ---- rows that repeat rows, and remarks --------------------------------------------------------------------

ROWS = "Written in US terms.\nRow 1 (MC): 4 sc\nRow 2 (CC): 4 BLsc\nRow 3 (MC): 2 BLsc, 2 FLdc\n"


@pytest.mark.parametrize(
    "words",
    [
        "Row 4: rep row 3.",
        "Rows 4-5: rep rows 3-3.",
        "Rows 4-7: rep row 3",
        "Rep row 3.",
        "Rows 4-6: rep rows 1-3",
        "Rep rows 1-3",
    ],
)
def test_rows_repeated_in_the_other_colour_say_two_things(words):
    (fault,) = faults_of(ROWS + words)
    assert fault.kind == "ambiguous"
    assert "row 4 has the other colour than row " in fault.sentence
    with pytest.raises(Refused):
        second_reading(ROWS + words)


@pytest.mark.parametrize(
    "words", ["Row 4 (CC): rep row 3.", "Rows 4-5 (CC, MC): rep rows 3-3.", "Rows 4-6 (CC, MC): rep rows 1-3"]
)
def test_rows_repeated_in_the_colour_that_is_said_are_read(words):
    last = read_rows(ROWS + words).to_text().splitlines()[0]
    assert last == "||.."
    assert second_reading(ROWS + words)["rows"][-1] == "bbff"


@pytest.mark.parametrize(
    "line",
    ["Foundation: with MC, ch 5.", "With MC, ch 5", "Ch 5", "Worked flat, left-handed.", 'Name: "pond"',
     'MC: "a", #000000',
     "Terms: US", "Written in US terms", "Multiple of 2 sts", "Yarns:", "Row 1 (MC): 4 sc",
     "Row 1 with MC: 4 sc", "Rep row 1"],
)  # fmt: skip
def test_a_line_above_the_rows_is_none_of_the_remarks_before_it(line):
    """What it says is read: twice it is a fault, or it changes the chart, or the row numbers no longer fit."""
    text = f"{line}\nNotes:\nAnything.\n{line}\n" + ROWS
    assert faults_of(text)


def test_a_remark_that_only_starts_like_a_line_above_the_rows_stays_a_remark():
    remarks = ["Worked flat with the right side facing.", "Ch 1 to start a row.", "Yarns may differ.", "Rows are wide."]
    assert read_rows("Notes:\n" + "\n".join(remarks) + "\n" + ROWS).shape == (3, 4)


@pytest.mark.parametrize("in_the_round", [False, True])
def test_remarks_that_name_another_hand_or_another_last_row_are_a_fault(in_the_round):
    chart = mk.Chart([[0] * 4, [1] * 4], ["MC", "CC"], hand="left", in_the_round=in_the_round)
    text = str(write_rows(chart))
    assert read_rows(text) == chart
    deleted = text.replace(", left-handed", "")
    assert "left-handed work, but no line says so" in faults_of(deleted)[0].sentence
    # the cure that the sentence names
    how = "in the round" if in_the_round else "flat"
    assert read_rows(deleted.replace(f"Worked {how}.", f"Worked {how}, left-handed.")) == chart
    assert "but the work is right-handed" in faults_of(text.replace("left-handed", "right-handed"))[0].sentence
    word = "round" if in_the_round else "row"
    sentence = faults_of(re.sub("After (row|round) 2", r"After \1 3", text))[0].sentence
    assert f"is said to end after {word} 3, but the text has 2 {word}s" in sentence
    assert (
        "'MC' is 'contrasting color', but here it is MC"
        in faults_of(text.replace("MC: main", "MC: contrasting"))[0].sentence
    )


@pytest.mark.parametrize(("words", "cures"), [("once", 1), ("1 time", 1), ("twice", 2), ("2 times", 2), ("x 3", 3)])
def test_a_repeat_that_says_two_things_is_quoted_and_both_cures_are_read(words, cures):
    row = "Written in US terms\nRow 1 (MC): *sc in next st; rep from * {}"
    (fault,) = faults_of(row.format(words))
    quoted = words if words in ("once", "twice") else f"{cures} time{'s' * (cures > 1)}"
    assert fault.sentence.startswith(f"'{quoted}' may mean {cures} in all")
    both = re.search("write '(.*)' or '(.*)', or a count", fault.sentence).groups()
    assert [read_rows(row.format(cure)).shape[1] for cure in both] == [cures, cures + 1]


# ---- words that only look like those of the trade ----------------------------------------------------------

US = "Written in US terms.\n"
NOTES = US + "Notes:\n{}\n\nRow 1 (MC): 4 sc"


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        # glued to a number, "a" and "the" make another number of it
        (US + "Row 1a main color: 4 sc", "found 'a', which is not known"),
        (US + "Row 1the (MC): 4 sc", "found 'the', which is not known"),
        (US + "Row 1of , MC: 4 sc", "found 'of', which is not known"),
        # a dash between words that nobody joins with a hyphen
        (US + "Worked in - round\nRnd 1 (MC): 4 sc", "expected 'flat' or 'in the round', found 'in'"),
        ("Written - in US terms\nRow 1 (MC): 4 sc", "found 'Written'"),
        (US + 'Row 1 (MC): 4 sc\nRow 2 (CC): change - to "x"; 4 BLsc', "found 'change'"),
        (US + "Row 1 (MC): *2 sc; rep from * 2 times in - total", "found 'in'"),
        # remarks say what they say with more spaces and small words, and with a word that ends in a slip
        (NOTES.format("After the  row 2 cut all yarn."), "the work is said to end after row 2, but the text has 1 row"),
        (NOTES.format("After row 2 cut all yarnchs, fasten off."), "the work is said to end after row 2"),
        (NOTES.format("After round a2 cut all of the yarn."), "the work is said to end after row 2"),
        (NOTES.format("Every row starts at  left-hand edge."), "'starts at  left-hand edge' is left-handed work"),
        (NOTES.format("Worked towards of the right."), "'Worked towards of the right' is left-handed work"),
        # after a full stop and a dash it may be one more step as well as the count
        (US + "Row 1 (MC): 4 sc. - 4 sc", "expected 'sts', found 'sc'"),
        (US + "Row 1 (MC): 4 sc. : 4 sc", "expected 'sts', found 'sc'"),
    ],
)
def test_what_only_looks_like_words_of_the_trade_is_refused_by_both_readers(text, sentence):
    assert any(sentence in fault.sentence for fault in faults_of(text)), faults_of(text)
    with pytest.raises(Refused):
        second_reading(text)


def test_a_row_that_is_malformed_is_not_said_to_lack_its_colour_too():
    assert [fault.kind for fault in faults_of(US + "Row 1a (MC): 4 sc")] == ["unknown"]
    assert "no row says its colour" in faults_of(US + "Row 1: 4 sc")[0].sentence


@pytest.mark.parametrize(
    "words",
    [
        *("4 sc\n.", "4 sc. (4 sts)\n.", "4 sc\n- 4 sts", "4 sc.\n4 sts."),  # a row goes on in the next line
        *("4 sc. = 4 sc", "4 sc. = 4 sts in all.", "4 sc. - 4 sts", "sc in next 2 sts, sc in last 2 sts. = 4 sts"),
        *("*2 sc; then rep from * 1 more time", "*2 sc. Then rep from * 1 more time", "*2 sc, rep from * 1 more time"),
        *("1 sc in 2nd ch from hook, 3 sc", "1 sc in 2nd ch from hook and in each ch across. 4 sts"),
    ],
)
def test_what_can_mean_one_thing_only_is_read_by_both_readers(words):
    text = f"Written in US terms\nRow 1 (MC): {words}"
    assert read_rows(text).to_text() == "....", words
    assert second_reading(text)["rows"] == ["ssss"]


def test_a_rows_number_may_be_a_word_with_both_readers():
    text = US + "Row one (MC): four sc\nRow two, contrasting color: 4 BLsc\nRows three and 4: rep rows one and two"
    assert read_rows(text).shape == (4, 4)
    assert second_reading(text)["rows"] == ["ssss", "bbbb", "ssss", "bbbb"]


def test_a_name_keeps_its_spaces_with_both_readers():
    text = US + 'Name: "two  seas"\nMC: "ink  blue", #1d3f66\nRow 1 (MC): 4 sc'
    chart = read_rows(text)
    assert (chart.name, chart.yarns.mc[0][1].name) == ("two  seas", "ink  blue")
    assert second_reading(text)["name"] == "two  seas"
    assert second_reading(text)["yarns"] == [("ink  blue", "#1d3f66")]


# ---- published texts ---------------------------------------------------------------------------------------

MOSAIC_BLANKET = (
    "Mosaic blanket, michaels.com/on/demandware.store/Sites-MichaelsUS-Site/default/Cart-PrintPreview?pid=B_89394"
)
MOSAIC_CHART = "Mosaic chart, 2018-08, pressreader.com/australia/simply-crochet/20180802/283386242684735"
MOSAIC_CROCHET = "Mosaic crochet, vortiintelligence.blogg.se/2022/october/mosaic-crochet.html"
GUIDE = "Craft Yarn Council, reading guide"
SIZES = "Multiple Sizes, dailyhandmade.com/read-crochet-pattern-multiple-sizes/"
STYLE_SHEET = "Style sheet, slippedstitches.wordpress.com/"
PRACTICE_GRAPH = "Practice Graph, kariscraftsonline.com/2022/09/"
CORNERS = "Borders and Edgings, crochetcabana.com/html/emb_borders.html"


@pytest.mark.parametrize(
    ("source", "words", "named"),
    [
        (MOSAIC_BLANKET, "3 sc, *ch 2 sk 1, 3 sc*", "'ch' makes chains within the row"),
        (MOSAIC_BLANKET, "2 sc, *ch 2 sk 1, mdc, ch 2 sk 1, 1 sc*, 1 sc", "'ch' makes chains within the row"),
        (MOSAIC_CHART, "8 sc, ch 3 sk 2, 2 mdc, ch 3 sk 2, 8 sc", "'mdc', which is not known"),
        (MOSAIC_CHART, "8 sc, 2 mdc, ch 3 sk 2, 2 mdc, 8 sc", "'ch' makes chains within the row"),
        (MOSAIC_CROCHET, "2 sc, ch 2 sk 1, *3 sc, ch 2 sk 1* rep 2 times, 2 sc", "'ch' makes chains within the row"),
        (
            GUIDE,
            "Dc in next 3 sts; *ch 1, skip next st, dc in next st; rep from * across row",
            "'ch' makes chains within the row",
        ),
        (GUIDE, "[sk next dc, shell in next dc] 4 times", "'sk' leaves a stitch of the row below without one"),
        (
            "1918, English terms",
            "(Chain 3, miss 3, 1 treble in next) three times",
            "'Chain' makes chains within the row",
        ),
        ("Craft Yarn Council, 2nd count check", "dc in 4th ch and across = 15 dc", "found 'and'"),
        (
            "end of the last repeat, a handbook",
            "*3 sc, 2 BLsc; repeat from * around, ending last repeat at **",
            "'ending'",
        ),
        # the second pass of a row in inset mosaic works each stitch again; in our words
        (MOSAIC_CHART, "sc in each sc and dc, ch 3 over ch 3", "found 'sc'"),
        (CORNERS, "(sc, ch 1, sc) in next st, 3 sc", "'ch' makes chains within the row"),
        (CORNERS, "4 sc, 3 sc in next st", "3 in 1 place is an increase"),
        (SIZES, "36 (40, 44) (50, 54) sc", "expected a stitch, found '('"),
        (
            "Mormorsruta, intheyarngarden.com/portfolio/mormorsrutan-sippa/: 3 times, in Swedish",
            "*3 sc, upprepa 3 gånger",
            "'upprepa', which is not known",
        ),
        (
            "Leer un patrón, elrincondemaryjoe.blogspot.com/2015/01/como-leer-un-patron-de-ganchillo-o.html",
            "(3 sc, 2 BLsc) 6 veces",
            "'veces', which is not known",
        ),
        ("Spirale, agrafe.over-blog.com", "Refaites de * à * trois fois de plus", "'Refaites', which is not known"),
        (
            "the trade: 3dc in a place is 3 in that place",
            "3sc in next st, sc in last 3 sts",
            "3 in 1 place is an increase",
        ),
    ],
)
def test_published_texts_of_other_constructions_are_refused_by_name(source, words, named):
    text = f"Written in US terms\nRow 1 (MC): {words}"
    assert any(named in fault.sentence for fault in faults_of(text)), (source, faults_of(text))


def test_sizes_in_brackets_and_a_row_without_its_colour_are_asked_about():
    # "Multiple Sizes": Ch 20 (25, 30, 35); "Style sheet": the label Row 1 (RS):
    (sizes, *_) = faults_of("Written in US terms\nCh 20 (25, 30, 35)\nRow 1 (MC): 19 sc")
    assert (sizes.line, sizes.column, "found '('" in sizes.sentence) == (2, 7, True), SIZES
    assert "no row says its colour" in faults_of("Written in US terms\nRow 1 (RS): 17 sc")[0].sentence, STYLE_SHEET
    # "Practice Graph": 15 chart stitches and an edge stitch a side, 17, from ch 18
    text = "Written in US terms\nCh 18\nRow 1 (RS, MC): sc in 2nd ch from hook and in each ch across"
    assert read_rows(text).shape == (1, 15 + 2), PRACTICE_GRAPH


@pytest.mark.parametrize(
    ("source", "words", "stitches"),
    [
        (GUIDE + ": total 4", "[2 sc, sc in next 2 sts] 4 times", 16),
        ("a handbook: once, then four more, total five", "*2 sc; repeat from * four more times", 10),
        ("a magazine's standards: curly in square", "[sc, {2 sc} 5 times, sc] 8 times", 96),
        (GUIDE, "*sc in next st, sc in next 2 sts; rep from * across row. (9 sc)", 9),
        (
            MOSAIC_CROCHET + ", which fits only as 3 in all",
            "2 sc, *3 sc, sc; rep from * 2 times, sc in last 3 sts. (17 sts)",
            17,
        ),
        ("Solbyens, abcdocz.com: 8 in all", "*2 sc; rep from * 8 times in all", 16),
        (GUIDE, "14 sc. 14 sc.", 14),
        (GUIDE, "sc in next 14 sts - 14 sc", 14),
        (GUIDE, "sc in next 15 sts: 15 sc", 15),
    ],
)
def test_the_published_syntax_of_repeats_and_counts_is_read(source, words, stitches):
    text = f"Written in US terms\nRow 1 (MC): {words}"
    assert read_rows(text).shape[1] == stitches, source
    assert len(second_reading(text)["rows"][0]) == stitches, source


# ---- texts without end -------------------------------------------------------------------------------------

HOSTILE = {
    "quotes that never close": ('Name: "' + '\\"' * 9, '\\"'),
    "one row of commas": ("Written in US terms.\nRow 1 (MC): ", "sc, "),
    "brackets": ("Row 1: ", "["),
    "remarks": ("Notes:\n", "worked towards the left and so on "),
    "lines": ("", "Notes:\n"),
    "headings among remarks": ("Notes:\n", "Ch 1 of\n"),
    "abbreviations": ("Notes:\n", "sc: sc and sc and sc\n"),
    "yarns": ('MC: "a", #000000', '; from row 2: "a", #000000'),
    "increases": ("Row 1: ", "inc, "),
    "dashes": ("Row 1: ", "-"),
    "words that are not known": ("Written in US terms.\nRow 1 (MC): ", "foo," + 29 * " "),
    "one step without an end": ("Written in US terms.\nRow 1 (MC): ", "sc and in next st "),
}

_CHILD = """
import resource, sys
from mosaickit.errors import MosaickitError
from mosaickit.wording import read_rows
import mosaickit.fabric.stitches
resource.setrlimit(resource.RLIMIT_AS, (resource.RLIMIT_AS and int(sys.argv[1]),) * 2)
start, again = sys.argv[2:]
try:
    read_rows((start + again * (int(4e6) // len(again) + 1))[:4_000_000])
except MosaickitError as error:
    print(str(error)[:60])
"""


@pytest.mark.thorough
@pytest.mark.parametrize("what", HOSTILE)
def test_four_million_characters_are_refused_within_bounded_memory(what):
    limit = 1_000 * 2**20  # of addresses: about 400 MB go to the interpreter and its libraries before the text comes
    run = subprocess.run(
        [sys.executable, "-c", _CHILD, str(limit), *HOSTILE[what]],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
    )
    assert run.returncode == 0, run.stderr[-500:]
    assert re.match(r"(The text has|A text has at most|Line [12], column)", run.stdout), run.stdout
    assert LONGEST_TEXT == 4_000_000


@pytest.mark.thorough
@pytest.mark.parametrize("what", HOSTILE)
def test_the_work_of_reading_grows_with_the_text_and_no_faster(what):
    """Counted, not timed: the calls of Python functions while a text is read, and one of four times its length."""

    def calls(length):
        start, again = HOSTILE[what]
        text = (start + again * (length // len(again) + 1))[:length]
        count = 0

        def counting(frame, event, arg):
            nonlocal count
            count += event in ("call", "c_call")

        sys.setprofile(counting)
        try:
            with pytest.raises(WordingError):
                read_rows(text)
        finally:
            sys.setprofile(None)
        return count

    calls(4_000)  # what is kept between readings
    few, many = calls(8_000), calls(32_000)
    assert many <= 4.5 * few + 2_000


def test_a_quoted_word_in_a_fault_is_cut():
    assert len(faults_of("x" * 1000)[0].sentence) < 200
    assert parsing.quoted("y" * 41) == repr("y" * 40 + "…")


def test_runs_in_the_words_of_the_writer_are_one_token_and_mean_the_same_as_in_others():
    row = "BLsc in next 2 sts, FLdc in next st, tog-b in next 12 sts; sc in last st."
    assert [token.type for token in lexing.tokens(row)] == ["RUN", "_SEMI", "RUN", "_DOT"]
    rng = np.random.default_rng(2)
    for _ in range(50):
        kinds = rng.integers(0, 5, (3, 8))
        text = str(write_rows(mk.Chart(kinds, ["MC", "CC", "MC"])))
        assert read_rows(text) == read_rows(
            text.replace(" in next ", " in the next ").replace(" in last ", " in the last ")
        )


# ---- texts changed by chance -------------------------------------------------------------------------------


@pytest.mark.thorough
@pytest.mark.usefixtures("slow")
def test_no_text_changed_by_chance_is_read_otherwise_than_by_a_second_reader():
    """4,000 texts; set MUTATED_TEXTS=200000 to read so many in two processes."""
    if "MUTATED_TEXTS" in os.environ:
        assert main(int(os.environ["MUTATED_TEXTS"])) == 0
        return
    counts, findings = held_against_each_other(1, 4_000)
    assert findings == []
    # the check sees something: many are accepted, and some of them say another thing than before
    assert counts["accepted"] > 300
    assert counts["accepted with another meaning than before"] > 30


def test_the_second_reader_knows_every_text_as_written_and_stands_alone():
    for text in base_texts():
        second_reading(text)
    assert "mosaickit" not in Path(__file__).with_name("wording_opponents.py").read_text("utf-8")
    assert mutated(base_texts()[0], random.Random(1)) != base_texts()[0]
