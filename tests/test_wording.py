"""Written rows: what they look like, and that they read back as the very chart."""

import re
from dataclasses import FrozenInstanceError, replace

import numpy as np
import pytest
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp
from samples import letter_f

import mosaickit as mk
from mosaickit.errors import OptionError
from mosaickit.wording import writing
from mosaickit.wording.faults import WordingError
from mosaickit.wording.reading import read_rows
from mosaickit.wording.shortest import shortest
from mosaickit.wording.terms import STITCH_NAMES
from mosaickit.wording.writing import write_rows

ways = st.fixed_dictionaries(
    {
        "terms": st.sampled_from(["US", "UK"]),
        "style": st.sampled_from(["short", "plain words"]),
        "between_rows": st.sampled_from(["carried", "cut"]),
        "repeat": st.none() | st.integers(1, 9),
    }
)


@st.composite
def charts(draw):
    """Charts of pictures, and charts of any stitches whose rows come again."""
    motif = draw(strategies.workable_motifs())
    options = {"hand": draw(strategies.hands), "in_the_round": draw(st.booleans())}
    chart = mk.compile_chart(motif, draw(st.booleans()), **options)
    if draw(st.booleans()):
        kinds = draw(hnp.arrays(np.uint8, (draw(st.integers(1, 3)), chart.shape[1]), elements=st.integers(0, 4)))
        order = draw(st.lists(st.integers(0, len(kinds) - 1), min_size=chart.shape[0], max_size=chart.shape[0]))
        chart = replace(chart, stitches=kinds[order])
    return chart


@given(charts(), ways)
@settings(max_examples=200, deadline=None)
def test_what_is_written_reads_back_as_the_same_chart(chart, way):
    assert read_rows(str(write_rows(chart, **way))) == chart


@given(charts(), ways)
@settings(max_examples=60, deadline=None)
def test_the_lines_stand_for_every_row_once_and_each_says_its_colour_and_count(chart, way):
    written = write_rows(chart, **way)
    assert [row for line in written.lines for row in line.numbers] == list(range(1, len(chart.stitches) + 1))
    for line in written.lines:
        assert line.colour == chart.row_colours[line.first - 1]
        assert line.count == chart.shape[1]
        assert written.line_of(line.last) is line
        assert str(line) in str(written).splitlines()


PLAIN = """\
Written in US terms.
Name: "letter F"
Worked flat, right-handed.

Yarns:
MC: "cream", #f4ead5
CC: "ink blue", #1d3f66

Abbreviations:
BLsc: single crochet in the back loop only
CC: contrasting colour
ch: chain
FLdc: double crochet in the front loop two rows below
MC: main colour
sc: single crochet
st: stitch
sts: stitches

Special stitches:
BLsc: Single crochet into the back loop only of the stitch below; its front loop stays free.
FLdc: Double crochet, in front of the work, into the free front loop of the stitch two rows below, which has the same \
colour; skip the stitch just behind it.

Notes:
The right side faces you in every row, and every row starts at the right-hand edge with its own colour.
Work the first stitch of row 1 into the second chain from the hook.
Start every later row with a chain of 1, which counts as no stitch.
End every row with a lock: chain 1, draw the loop out, pass the ball through it and tighten.
Then carry the yarn back along the top of the row to its first stitch; the next row of that colour is worked over it. \
Cut a yarn where the next row of that colour has another one.
After row 7 cut all yarn, fasten off and weave in the ends.

Foundation: with MC, ch 8.
Row 1 (MC): sc in next 7 sts. (7 sts)
Row 2 (CC): BLsc in next 7 sts. (7 sts)
Row 3 (MC): BLsc in next 7 sts. (7 sts)
Row 4 (CC): BLsc in next 5 sts, FLdc in next st, BLsc in last st. (7 sts)
Row 5 (MC): BLsc in next 3 sts, FLdc in next st, BLsc in last 3 sts. (7 sts)
Row 6 (CC): BLsc in next st, FLdc in next st, BLsc in next 3 sts, FLdc in next st, BLsc in last st. (7 sts)
Row 7 (MC): BLsc in next 7 sts. (7 sts)
"""

waves = mk.Motif.from_text(
    """
    ############
    ..#...#...#.
    ############
    ..#...#...#.
    ############
    ..#...#...#.
    ############
    """,
    first="CC",
    yarns=mk.Yarns(
        mc=mk.Yarn('sea "foam"', "#e0f0ea"), cc=[(1, mk.Yarn("deep", "#123f5a")), (5, mk.Yarn("ebb", "#3d8f92"))]
    ),
)

REVERSIBLE = """\
Written in UK terms.
Worked in the round, left-handed.

Yarns:
MC: "sea \\"foam\\"", #e0f0ea
CC: "deep", #123f5a; from row 5: "ebb", #3d8f92

Abbreviations:
BLdc: double crochet in the back loop only
CC: contrasting colour
ch: chain
dc: double crochet
FLtr: treble in the front loop two rounds below
MC: main colour
rep: repeat
Rnd: round
st: stitch
sts: stitches
tog-b: double crochet and treble worked together, the second behind the work
tog-f: double crochet and treble worked together, the second in front of the work

Special stitches:
BLdc: Double crochet into the back loop only of the stitch below; its front loop stays free.
FLtr: Treble, in front of the work, into the free front loop of the stitch two rounds below, which has the same \
colour; miss the stitch just behind it.
tog-b: Double crochet and treble worked together, the second behind the work: draw up a loop through the back loop of \
the stitch below, yarn over hook, draw up a loop on the wrong side through the unworked back loop of the stitch two \
rounds below (4 loops on the hook); yarn over hook and draw through 2 loops, yarn over hook and draw through the 3 \
loops that are left.
tog-f: Double crochet and treble worked together, the second in front of the work: draw up a loop through the back \
loop of the stitch below, yarn over hook, draw up a loop on the right side through the free front loop of the stitch \
two rounds below (4 loops on the hook); yarn over hook and draw through 2 loops, yarn over hook and draw through the 3 \
loops that are left. Nothing is missed.

Notes:
The right side faces you in every round, and every round is worked towards the right.
Work the first stitch of round 1 into the first chain after the join.
Start every round with a chain of 1, which counts as no stitch, and join it to its first stitch at the end with a slip \
stitch.
After the join cut the yarn, leave a tail and draw it through.
In the last round tog-f stands for the treble, as no round follows to close the back.
After round 7 cut all yarn, fasten off and weave in the ends.

Foundation: with CC, ch 12, join.
"""
REVERSIBLE += """\
Rnd 1 (CC): dc in next 12 sts. (12 sts)
Rnd 2 (MC): BLdc in next 12 sts. (12 sts)
Rnd 3 (CC): *BLdc in next 2 sts, FLtr in next st, BLdc in next st; rep from * 2 more times. (12 sts)
Rnd 4 (MC): *BLdc in next 2 sts, tog-b in next st, BLdc in next st; rep from * 2 more times. (12 sts)
Rnds 5-6: rep rnds 3-4.
Rnd 7 (CC): *BLdc in next 2 sts, tog-f in next st, BLdc in next st; rep from * 2 more times. (12 sts)
"""


def test_a_plain_chart_in_words():
    assert str(write_rows(mk.compile_chart(letter_f))) == PLAIN


def test_a_reversible_chart_in_words():
    chart = mk.compile_chart(waves, reversible=True, hand="left", in_the_round=True)
    assert str(write_rows(chart, terms="UK", between_rows="cut")) == REVERSIBLE
    assert read_rows(REVERSIBLE) == chart


def test_plain_words_have_no_asterisk_bracket_or_abbreviation():
    chart = mk.compile_chart(waves, reversible=True, in_the_round=True)
    written = write_rows(chart, style="plain words")
    assert str(written.lines[2]) == (
        "Round 3, contrasting colour: repeat the following 3 times in all: back loop single crochet in the next "
        "stitch, then front loop double crochet in the next stitch, then back loop single crochet in the next 2 "
        "stitches, end of repeat. 12 stitches in all."
    )
    assert str(written.lines[4]) == "Rounds 5 to 6: repeat rounds 3 to 4."
    assert written.heading[0] == "Written in United States terms."
    rows = "\n".join([*written.heading, *map(str, written.lines), written.foundation])
    assert not set(rows) & set("*[](){}")
    assert not re.search(r"\b(MC|CC|sts?|rep|ch|rnds?|sc|dc|BL\w+|FL\w+|tog|US)\b", rows)
    assert written.abbreviations == ()


@given(charts(), ways)
@settings(max_examples=60, deadline=None)
def test_abbreviations_are_those_that_the_rows_use_and_no_others(chart, way):
    written = write_rows(chart, **{**way, "style": "short"})
    rows = "\n".join([written.foundation, *map(str, written.lines), *written.yarns])
    rows = re.sub(r'"(\\.|[^"\\])*"|#[0-9a-f]{6}', "", rows)  # names and colours are no words of ours
    used = set(re.findall(r"\b(?:tog-[bf]|[a-zA-Z]+)\b", rows))
    whole = {"Foundation", "with", "in", "next", "last", "from", "more", "time", "times", "join", "row"}
    assert {short for short, _ in written.abbreviations} == used - whole - {"Row", "Rows", "rows", "Rnds", "rnds"}


def test_special_stitches_are_those_of_the_chart_and_name_the_strand_only_where_it_lies():
    plain, reversible = (mk.compile_chart(letter_f, reversible=closed) for closed in (False, True))
    assert [name for name, _ in write_rows(plain).special_stitches] == ["BLsc", "FLdc"]
    how = {way: dict(write_rows(reversible, between_rows=way).special_stitches)["tog-b"] for way in ("carried", "cut")}
    assert "under the carried yarn" in how["carried"]
    assert "carried" not in how["cut"]
    in_the_round = mk.compile_chart(letter_f, reversible=True, in_the_round=True)
    assert "carried" not in dict(write_rows(in_the_round).special_stitches)["tog-b"]


@pytest.mark.parametrize(("top", "said"), [(".f.", False), ("f..", True), ("..f", True)])
def test_firm_edges_are_asked_for_where_the_first_or_last_stitch_is_a_tog_f(top, said):
    chart = mk.Chart.from_text(f"{top}\n...\n...")
    assert ("through both loops" in " ".join(write_rows(chart).notes)) is said
    assert "In the last row tog-f stands for the double crochet" in " ".join(write_rows(chart).notes)


def test_the_foundation_has_one_chain_more_than_stitches_flat_and_as_many_in_the_round():
    flat = mk.Chart([[0] * 14], ["CC"])
    assert write_rows(flat).foundation == "Foundation: with CC, ch 15."
    assert write_rows(replace(flat, in_the_round=True)).foundation == "Foundation: with CC, ch 14, join."


def lines_of(rows):
    """The lines of a chart whose rows are told apart by letters."""
    kinds = {letter: [1 + (number >> bit & 1) for bit in range(5)] for number, letter in enumerate("abcdefg")}
    chart = mk.Chart([kinds[row] for row in rows], [("MC", "CC")[row % 2] for row in range(len(rows))])
    assert read_rows(str(write_rows(chart))) == chart
    return [(line.first, line.last, line.repeats) for line in write_rows(chart).lines]


def test_rows_that_come_again_are_written_as_repeats_of_those_of_their_colours():
    def once(*rows):
        return [(row, row, None) for row in rows]

    assert lines_of("abcab") == once(1, 2, 3, 4, 5)  # at an odd distance the colours differ
    assert lines_of("abab") == [*once(1, 2), (3, 4, (1, 2))]
    assert lines_of("abababc") == [*once(1, 2), (3, 6, (1, 2)), *once(7)]
    assert lines_of("abcdabcdab") == [*once(1, 2, 3, 4), (5, 8, (1, 4)), (9, 10, (5, 6))]
    assert lines_of("abcabc") == once(1, 2, 3, 4, 5, 6)
    assert lines_of("abca") == once(1, 2, 3, 4)
    assert lines_of("aaaa") == [*once(1, 2), (3, 4, (1, 2))]
    assert lines_of("abcdefabg") == [*once(1, 2, 3, 4, 5, 6), (7, 8, (1, 2)), *once(9)]


def test_how_often_rows_come_again_is_said_when_it_is_more_than_once():
    chart = mk.Chart([[0] * 3] + [[1] * 3] * 6, ["MC", "CC"] * 3 + ["MC"])
    assert str(write_rows(chart).lines[-1]) == "Rows 4-7: rep rows 2-3, 2 more times."
    assert str(write_rows(chart, style="plain words").lines[-1]) == "Rows 4 to 7: repeat rows 2 to 3, 2 more times."


def test_written_rows_are_values():
    one, two = (write_rows(mk.compile_chart(letter_f)) for _ in range(2))
    assert one == two
    assert one != replace(one, notes=())
    assert hash(one) == hash(two)
    assert repr(one) == "<WrittenRows 7 rows in 7 lines, US terms, short>"
    with pytest.raises(FrozenInstanceError):
        one.terms = "UK"
    with pytest.raises(OptionError, match="`row` must be a row from 1 to 7; got 8"):
        one.line_of(8)


def test_uk_names_are_as_long_as_us_names_so_that_the_shortest_row_is_the_same():
    assert [len(name) for name in STITCH_NAMES["US"]] == [len(name) for name in STITCH_NAMES["UK"]]


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"terms": "FR"}, "`terms` must be one of 'US', 'UK'; got 'FR'"),
        ({"style": "long"}, "`style` must be one of 'short', 'plain words'; got 'long'"),
        ({"between_rows": "left"}, "`between_rows` must be one of 'carried', 'cut'"),
        ({"repeat": 0}, "`repeat` must be a whole number of 1 or more; got 0"),
    ],
)
def test_bad_options_are_refused(options, message):
    with pytest.raises(OptionError, match=message):
        write_rows(mk.compile_chart(letter_f), **options)


def test_what_is_no_chart_is_refused():
    with pytest.raises(OptionError, match="`chart` must be a `Chart`; got"):
        write_rows(letter_f)


def test_a_chart_that_could_not_be_read_back_is_not_written(monkeypatch):
    late = mk.Yarns(mc=[(1, mk.Yarn("sand", "#e9dcc3")), (10_001, mk.Yarn("clay", "#b5651d"))])
    with pytest.raises(WordingError, match="changes at row 10001, but no chart has more than 10,000 rows"):
        write_rows(mk.Chart([[0, 0]], ["MC"], yarns=late))
    monkeypatch.setattr(writing, "LONGEST_TEXT", 100)
    with pytest.raises(WordingError, match=r"7 rows × 7 stitches takes .* at most 100: write its parts one by one"):
        write_rows(mk.compile_chart(letter_f))


@pytest.mark.parametrize(("count", "edges"), [(12, 0), (13, 0), (14, 1), (15, 1)])
def test_stitches_beyond_whole_motifs_count_as_edge_stitches_half_at_either_side(monkeypatch, count, edges):
    asked = []

    def spy(stitches, **options):
        asked.append(options)
        return shortest(stitches, **options)

    monkeypatch.setattr(writing, "shortest", spy)
    write_rows(mk.Chart([[0] * count], ["MC"]), repeat=4)
    assert asked == [{"repeat": 4, "edges": edges}]


@pytest.mark.parametrize("name", ["a\\", '"', '\\"', "\\\\n", "“x”", "* [ (MC): #000000; 4 sts."])
def test_names_may_hold_any_mark(name):
    chart = mk.Chart([[0, 0]], ["MC"], yarns=mk.Yarns(mc=mk.Yarn(name, "#000000")), name=name)
    assert read_rows(str(write_rows(chart))) == chart
