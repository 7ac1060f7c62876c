"""Written rows: what they look like, and that they read back as the very chart."""

import re
from dataclasses import FrozenInstanceError, replace

import pytest
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st
from samples import letter_f

import mosaickit as mk
from mosaickit.errors import OptionError, WordingError
from mosaickit.wording import STITCH_NAMES, read_rows, setting, write_rows
from mosaickit.wording import natural as breaks
from mosaickit.wording.shortening import shortest

ways = st.fixed_dictionaries(
    {
        "terms": st.sampled_from(["US", "UK"]),
        "style": st.sampled_from(["short", "plain words"]),
        "phrasing": st.sampled_from(["natural", "shortest"]),
        "between_rows": st.sampled_from(["carried", "cut"]),
        "repeat": st.none() | st.integers(1, 9),
    }
)


@pytest.mark.thorough
@given(strategies.charts(), ways)
@settings(max_examples=200, deadline=None)
def test_what_is_written_reads_back_as_the_same_chart(chart, way):
    assert read_rows(str(write_rows(chart, **way))) == chart


@given(strategies.charts(), ways)
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
CC: contrasting color
ch: chain
FLdc: double crochet in the front loop two rows below
MC: main color
sc: single crochet
st: stitch
sts: stitches

Special stitches:
BLsc: Single crochet into the back loop only of the stitch below; its front loop stays free.
FLdc: Double crochet, in front of the work, into the free front loop of the stitch two rows below, which has the same \
color; skip the stitch just behind it.

Notes:
The right side faces you in every row, and every row starts at the right-hand edge with its own color.
Work the first stitch of row 1 into the second chain from the hook.
Start every later row with a chain of 1, which counts as no stitch.
End every row with a lock: chain 1, draw the loop out, pass the ball through it and tighten.
Then carry the yarn back along the top of the row to its first stitch; the next row of that color is worked over it. \
Cut a yarn where the next row of that color has another one.
After row 7 cut all yarn, fasten off and weave in the ends.

Foundation: with MC, ch 8.
Row 1 (MC): sc in 2nd ch from hook and in each ch across. (7 sts)
Row 2 (CC): BLsc in each st across. (7 sts)
Row 3 (MC): BLsc in each st across. (7 sts)
Row 4 (CC): BLsc in next 5 sts, FLdc in next st, BLsc in last st. (7 sts)
Row 5 (MC): BLsc in next 3 sts, FLdc in next st, BLsc in last 3 sts. (7 sts)
Row 6 (CC): BLsc in next st, FLdc in next st, BLsc in next 3 sts, FLdc in next st, BLsc in last st. (7 sts)
Row 7 (MC): BLsc in each st across. (7 sts)
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

Multiple of 4 sts.
Foundation: with CC, ch 12, join.
"""
REVERSIBLE += """\
Rnd 1 (CC): dc in each ch around. (12 sts)
Rnd 2 (MC): BLdc in each st around. (12 sts)
Rnd 3 (CC): *BLdc in next 2 sts, FLtr in next st, BLdc in next st; rep from * 2 more times. (12 sts)
Rnd 4 (MC): *BLdc in next 2 sts, tog-b in next st, BLdc in next st; rep from * 2 more times. (12 sts)
Rnd 5 (CC): change to "ebb"; *BLdc in next 2 sts, FLtr in next st, BLdc in next st; rep from * 2 more times. (12 sts)
Rnd 6 (MC): *BLdc in next 2 sts, tog-b in next st, BLdc in next st; rep from * 2 more times. (12 sts)
Rnd 7 (CC): *BLdc in next 2 sts, tog-f in next st, BLdc in next st; rep from * 2 more times. (12 sts)
"""


def test_a_plain_chart_in_words():
    chart = mk.compile_chart(letter_f)
    assert str(write_rows(chart)) == PLAIN
    fewest = PLAIN.replace("BLsc in each st across", "BLsc in next 7 sts")
    assert str(write_rows(chart, phrasing="shortest")) == fewest


def test_a_reversible_chart_in_words():
    chart = mk.compile_chart(waves, reversible=True, hand="left", in_the_round=True)
    assert str(write_rows(chart, terms="UK", between_rows="cut")) == REVERSIBLE
    assert read_rows(REVERSIBLE) == chart


def test_plain_words_have_no_asterisk_bracket_or_abbreviation():
    chart = mk.compile_chart(waves, reversible=True, in_the_round=True)
    written = write_rows(chart, style="plain words")
    assert str(written.lines[2]) == (
        "Round 3, contrasting color: repeat the following 3 times in all: back loop single crochet in the next "
        "stitch, then front loop double crochet in the next stitch, then back loop single crochet in the next 2 "
        "stitches, end of repeat. 12 stitches in all."
    )
    assert (
        str(written.lines[0]) == "Round 1, contrasting color: single crochet in each chain around. 12 stitches in all."
    )
    assert str(written.lines[4]).startswith(
        'Round 5, contrasting color: change to "ebb", then repeat the following 3 times'
    )
    assert written.multiple == "Multiple of 4 stitches."
    assert written.heading[0] == "Written in United States terms."
    rows = "\n".join([*written.heading, *map(str, written.lines), written.foundation, written.multiple])
    assert not set(rows) & set("*[](){}")
    assert not re.search(r"\b(MC|CC|sts?|rep|ch|rnds?|sc|dc|BL\w+|FL\w+|tog|US)\b", rows)
    assert written.abbreviations == ()


@given(strategies.charts(), ways)
@settings(max_examples=60, deadline=None)
def test_abbreviations_are_those_that_the_rows_use_and_no_others(chart, way):
    written = write_rows(chart, **{**way, "style": "short"})
    rows = "\n".join([written.foundation, written.multiple, *map(str, written.lines), *written.yarns])
    rows = re.sub(r'"(\\.|[^"\\])*"|#[0-9a-f]{6}', "", rows)  # names and colours are no words of ours
    used = set(re.findall(r"\b(?:tog-[bf]|[a-zA-Z]+)\b", rows))
    whole = {"Foundation", "with", "in", "next", "last", "from", "more", "time", "times", "join", "row", "hook", "and"}
    whole |= {"each", "across", "around", "change", "to", "Multiple", "of", "plus", "add", "for", "the", "foundation"}
    whole.add("chain")
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
    # Craft Yarn Council, reading guide: "Ch 15; sc in 2nd ch from hook and in each ch across = 14 sc"
    written = write_rows(flat)
    assert written.foundation == "Foundation: with CC, ch 15."
    assert str(written.lines[0]) == "Row 1 (CC): sc in 2nd ch from hook and in each ch across. (14 sts)"
    in_the_round = write_rows(replace(flat, in_the_round=True))
    assert in_the_round.foundation == "Foundation: with CC, ch 14, join."
    assert str(in_the_round.lines[0]) == "Rnd 1 (CC): sc in each ch around. (14 sts)"
    one = write_rows(mk.Chart([[0]], ["CC"]), terms="UK")
    assert str(one.lines[0]) == "Row 1 (CC): dc in 2nd ch from hook. (1 st)"
    plain = write_rows(flat, style="plain words")
    assert plain.lines[0].text == "single crochet in the second chain from the hook and in each chain across"
    # a first row of other stitches is written as any row
    assert write_rows(mk.Chart([[0, 1]], ["CC"])).lines[0].text == "sc in next st, BLsc in last st"


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
    assert lines_of("abcdabcdab") == [*once(1, 2, 3, 4), (5, 8, (1, 4)), (9, 10, (1, 2))]
    assert lines_of("abcabc") == once(1, 2, 3, 4, 5, 6)
    assert lines_of("abca") == once(1, 2, 3, 4)
    assert lines_of("aaaa") == [*once(1, 2), (3, 4, (1, 2))]
    assert lines_of("abcdefabg") == [*once(1, 2, 3, 4, 5, 6), (7, 8, (1, 2)), *once(9)]


@st.composite
def striped(draw):
    """Charts of few different rows, in yarns that change."""
    height = draw(st.integers(1, 24))
    order = draw(st.lists(st.integers(0, 2), min_size=height, max_size=height))
    stitches = [[0, 0, 0], *([1, 1 + kind // 2, 1 + kind % 2] for kind in order)]
    pool = [mk.Yarn("sand", "#e9dcc3"), mk.Yarn("clay", "#b5651d")]
    starts = draw(st.lists(st.integers(2, height + 1), max_size=3, unique=True).map(sorted))
    roles = [[(1, pool[0]), *((row, draw(st.sampled_from(pool))) for row in starts)] for _ in range(2)]
    return mk.Chart(stitches, [("MC", "CC")[row % 2] for row in range(height + 1)], yarns=mk.Yarns(*roles))


@pytest.mark.thorough
@given(striped(), st.sampled_from(["short", "plain words"]))
def test_repeats_point_at_rows_that_are_written_out_and_end_where_a_yarn_changes(chart, style):
    written = write_rows(chart, style=style)
    yarns = [chart.yarns.at(row, role) for row, role in enumerate(chart.row_colours, 1)]
    changes = {row for row in range(3, len(yarns) + 1) if yarns[row - 1] != yarns[row - 3]}
    out = [line.first for line in written.lines if line.repeats is None]
    for line in written.lines:
        assert bool(line.change) == (line.first in changes)
        if line.change:
            assert f': change to "{yarns[line.first - 1].name}"' in str(line)
        if line.repeats is not None:
            first, last = line.repeats
            block = last - first + 1
            assert line.first < line.last
            assert set(range(first, last + 1)) <= set(out)
            assert not changes & (set(line.numbers) | set(range(first, last + 1)))
            assert len(line.numbers) % block == 0
            assert (line.first - first) % 2 == 0
            for row in line.numbers:
                source = first + (row - line.first) % block
                assert (chart.stitches[row - 1] == chart.stitches[source - 1]).all()
                assert yarns[row - 1] == yarns[source - 1]
    assert read_rows(str(written)) == chart


def test_a_change_of_yarn_is_said_in_its_row_and_held_against_the_yarns():
    yarns = mk.Yarns(mc=[(1, mk.Yarn("sand", "#e9dcc3")), (4, mk.Yarn("clay", "#b5651d"))])
    text = str(write_rows(mk.Chart([[0, 0]] + [[1, 2]] * 5, ["MC", "CC"] * 3, yarns=yarns)))
    assert 'Row 5 (MC): change to "clay"; BLsc in next st, FLdc in last st. (2 sts)' in text
    for wrong, sentence in (
        (text.replace("from row 4", "from row 3"), "row 5 changes to 'clay', but by .* already has 'clay' there"),
        (
            text.replace("from row 4", "from row 6"),
            "row 5 changes to 'clay', but .* MC has 'sand' from the start there",
        ),
        (text.replace('to "clay"', 'to "sand"'), "row 5 changes to 'sand', but .* MC has 'clay' there"),
        (text.replace("Row 5 (MC)", "Rows 5-6 (MC, CC)"), "expected a change of yarn in a row of its own"),
    ):
        with pytest.raises(WordingError, match=sentence):
            read_rows(wrong)


def test_what_the_stitches_are_a_multiple_of_stands_above_the_rows_where_stitches_repeat_across():
    def multiple(row, **options):
        kinds = [[0] * len(row), [1] * len(row), [2 if one == "f" else 1 for one in row]]
        chart = mk.Chart(kinds, ["MC", "CC", "MC"], in_the_round=options.pop("in_the_round", False))
        written = write_rows(chart, **options)
        assert read_rows(str(written)) == chart
        return written.multiple

    assert multiple("bbf" * 4) == "Multiple of 3 sts, add 1 for the foundation chain."
    assert multiple("bbf" * 4, in_the_round=True) == "Multiple of 3 sts."
    assert multiple("bbf" * 4 + "bb", style="plain words") == (
        "Multiple of 3 stitches plus 2, add 1 for the foundation chain."
    )
    assert multiple("f" + "bbf" * 4 + "ff") == ""
    assert multiple("f" + "bbf" * 4 + "ff", repeat=3) == "Multiple of 3 sts plus 3, add 1 for the foundation chain."
    assert multiple("fbbbf", repeat=2) == ""
    assert multiple("b" * 6) == ""
    for said, sentence in (
        ("4 sts", "rows have 12 stitches, .* no multiple of 5 plus 0"),
        ("add 1", "expected 1 chain more"),
    ):
        text = str(write_rows(mk.Chart([[0] * 12, [1, 1, 1, 2] * 3], ["MC", "CC"])))
        with pytest.raises(WordingError, match=sentence):
            read_rows(text.replace(said, {"4 sts": "5 sts", "add 1": "add 2"}[said]))


@given(strategies.charts(), ways)
@settings(max_examples=40, deadline=None)
def test_us_terms_spell_color_and_uk_terms_colour(chart, way):
    text = re.sub(r'"(\\.|[^"\\])*"', "", str(write_rows(chart, **way)))
    assert ("olour" in text) == (way["terms"] == "UK")
    assert ("olor" in text) == (way["terms"] == "US")


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
    monkeypatch.setattr(setting, "LONGEST_TEXT", 100)
    with pytest.raises(WordingError, match=r"7 rows × 7 stitches takes .* at most 100: write its parts one by one"):
        write_rows(mk.compile_chart(letter_f))


@pytest.mark.parametrize(("count", "edges"), [(12, 0), (13, 0), (14, 1), (15, 1)])
def test_stitches_beyond_whole_motifs_count_as_edge_stitches_half_at_either_side(monkeypatch, count, edges):
    asked = []

    def spy(stitches, **options):
        asked.append(options)
        return shortest(stitches, **options)

    monkeypatch.setattr(breaks, "shortest", spy)
    write_rows(mk.Chart([[1] * count], ["MC"]), phrasing="shortest", repeat=4)
    assert asked == [{"repeat": 4, "edges": edges}]


@pytest.mark.parametrize("name", ["a\\", '"', '\\"', "\\\\n", "“x”", "* [ (MC): #000000; 4 sts."])
def test_names_may_hold_any_mark(name):
    chart = mk.Chart([[0, 0]], ["MC"], yarns=mk.Yarns(mc=mk.Yarn(name, "#000000")), name=name)
    assert read_rows(str(write_rows(chart))) == chart
