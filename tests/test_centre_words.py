"""Rounds in words: written, read back strictly, and held against a simple reading of their own."""

import re
from textwrap import dedent

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from test_centre import chart_of, in_kinds, near_plain, plain_rounds, squares

import mosaickit as mk
from mosaickit.centre import chart, nearest, read, write
from mosaickit.errors import OptionError, StitchError, WordingError

pytestmark = pytest.mark.thorough

UK = {"dc": "sc", "BLdc": "BLsc", "FLtr": "FLdc"}
SMALL = near_plain(4, [(-3, 0), (3, 0), (0, 3), (0, -3), (-2, 1), (-3, 2)])
WRITTEN = write(chart(SMALL))

subjects = squares(most=5).map(lambda square: chart(nearest(square).square))


def expand(words):
    """Write out the stitches of a round in words, by replacing text by text."""
    star = re.fullmatch(r"\*(.*); rep from \* (\d+) more times?", words)
    if star:
        return expand(star[1]) * (int(star[2]) + 1)
    words = re.sub(r"\[(.*?)\] (\d+) times", lambda bracket: ", ".join([bracket[1]] * int(bracket[2])), words)
    found = []
    for part in words.split(", "):
        run = re.fullmatch(r"(\w+) in next (?:st|(\d+) sts)", part)
        corner = re.fullmatch(r"(\d+) (\w+) in (?:corner st|ring)", part)
        found += [run[1]] * int(run[2] or 1) if run else [corner[2]] * int(corner[1])
    return [UK.get(stitch, stitch) for stitch in found]


def rounds_of(written):
    lines = re.findall(
        r'^\s*Rnd \d+ \(\w+\): (?:change to "(?:[^"\\]|\\.)*"; )?(.*)\. \((\d+) sts\)\s*$', written, re.MULTILINE
    )
    for words, said in lines:
        assert len(expand(words)) == int(said)
    return [expand(words) for words, _ in lines]


@given(subjects, st.sampled_from(["US", "UK"]))
def test_what_is_written_is_read_back(subject, terms):
    written = write(subject, terms)
    assert read(written) == subject
    assert rounds_of(written) == in_kinds(subject.rounds)
    assert written.startswith("Experimental: worked out from loops, never tried on wool.")


def test_a_small_square_reads_as_a_maker_would_write_it():
    assert (
        dedent("""\
        Experimental: worked out from loops, never tried on wool. Work the first rounds as a trial.
        Written in US terms.
        Worked from the center outward, right-handed.

        Yarns:
        MC: "cream", #f4ead5
        CC: "ink blue", #1d3f66

        Abbreviations:
        BLsc: single crochet in the back loop only of the stitch below; its front loop stays free
        CC: contrasting color
        FLdc: double crochet, in front of the work, in the free front loop of the stitch two rounds below, straight \
inward; skip the stitch just behind it
        MC: main color
        rep: repeat
        Rnd: round
        sc: single crochet
        st: stitch
        sts: stitches

        Notes:
        The right side faces you in every round, and every round is worked towards the left.
        Make a ring in the yarn of round 1, work round 1 into it and draw it shut: it is the center square.
        Round 1 has its corner stitches in stitches 2, 4, 6 and 8. Mark them.
        3 BLsc in corner st: work all 3 in the same back loop, that of the corner stitch. The middle one is the new \
corner stitch: move the marker up.
        Every round has 8 stitches more than the round below.
        Every round starts in the middle of a side, straight above the first stitch of the round below.
        Start every round with a chain of 1, which counts as no stitch, and join it to its first stitch at the end \
with a slip stitch.
        Let the yarn wait at the join until the next round of its color. Cut it where that round has another.
        After round 4 cut all yarn, fasten off and weave in the ends.

        Rnd 1 (MC): 8 sc in ring. (8 sts)
        Rnd 2 (CC): *BLsc in next st, 3 BLsc in corner st; rep from * 3 more times. (16 sts)
        Rnd 3 (MC): BLsc in next 2 sts, 3 BLsc in corner st, BLsc in next 3 sts, 3 BLsc in corner st, BLsc in next \
3 sts, 3 BLsc in corner st, BLsc in next 3 sts, 3 BLsc in corner st, FLdc in next st. (24 sts)
        Rnd 4 (CC): FLdc in next st, BLsc in next 2 sts, 3 BLsc in corner st, BLsc in next 2 sts, FLdc in next st, \
BLsc in next 2 sts, 3 BLsc in corner st, BLsc in next 2 sts, FLdc in next st, BLsc in next 2 sts, 3 BLsc in corner st, \
BLsc in next 2 sts, FLdc in next st, BLsc in next 2 sts, 3 BLsc in corner st, FLdc in next st, BLsc in next st. (32 sts)
        """)
        == WRITTEN
    )


def test_a_maker_may_break_a_round_otherwise():
    line = "Rnd 2 (CC): *BLsc in next st, 3 BLsc in corner st; rep from * 3 more times."
    half = "*BLsc in next st, 3 BLsc in corner st, BLsc in next st, 3 BLsc in corner st; rep from * 1 more time."
    assert read(WRITTEN.replace(line, f"Rnd 2 (CC): {half}")) == chart(SMALL)
    other = WRITTEN.replace("FLdc in next st, BLsc in next 2 sts, 3", "FLdc in next st, [BLsc in next st] 2 times, 3")
    assert other != WRITTEN
    assert read(f"\n{other}\n\n") == chart(SMALL)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("Rnd 2 (CC)", "Rnd 3 (CC)", r"Line 32, column 5 \(round 2\): expected round 2, found 3"),
        ("Rnd 2 (CC)", "Rnd 2 (MC)", r"column 8 \(round 2\): the colours alternate: expected CC"),
        ("Rnd 2 (CC)", "Round 2 (CC)", "expected round 2, found 3"),
        ("(16 sts)", "(17 sts)", "the round has 16 stitches, but says 17"),
        ("(16 sts)", "16 sts", r"expected 'Rnd 2 \(CC\)"),
        ("rep from * 3 more", "rep from * 2 more", "round 1 has 2 stitches left"),
        ("rep from * 3 more", "rep from * 9999 more", "round 1 has no stitch left"),
        ("8 sc in ring", "12 sc in ring", "expected '8 sc in ring'"),
        (
            "2 (CC): *BLsc in next st, 3",
            "2 (CC): *BLsc in next 2 sts, 3",
            "next corner stitch of round 1 comes after 1 more stitch; found",
        ),
        ("2 (CC): *BLsc in next st, 3", "2 (CC): *BLsc in next 1 sts, 3", "expected 'in next st' for one stitch"),
        ("2 (CC): *BLsc in next st, 3", "2 (CC): *BLsc in next st 3", "expected ', ' here"),
        ("2 (CC): *BLsc in next st, 3 BLsc", "2 (CC): *3 BLsc", "comes after 1 more stitch; found a corner"),
        ("2 (CC): *BLsc in next st, 3 BLsc", "2 (CC): *BLsc in next st, 3 FLdc", "found '3 FLdc in corner st"),
        ("2 (CC): *BLsc in next st, 3 BLsc", "2 (CC): *BLsc in next st, 2 BLsc", "found '2 BLsc in corner st"),
        ("3 (MC): BLsc in", "3 (MC): hdc in", "expected BLsc or FLdc 'in next"),
        ("3 (MC): BLsc in next 2 sts", "3 (MC): [BLsc in next st, x] 2 times", "in brackets; found 'x'"),
        (
            "3 (MC): BLsc in next 2 sts",
            "3 (MC): [BLsc in next st] 99999 times",
            "the next stitch of round 2 is a corner stitch",
        ),
        ("2 (CC): *BLsc in next st,", "2 (CC): *FLdc in next st,", "Round 2, stitch 1 .* no front loop"),
        ('MC: "cream", #f4ead5', 'MC: "cream", red', "expected a yarn"),
        ('MC: "cream", #f4ead5\n', "", "expected a line with the yarn of MC"),
        ('"cream", #f4ead5', '"cream", #f4ead5; from row 9: "x", #000000; from row 9: "y", #111111', "rising rows"),
        ("3 (MC): BLsc", '3 (MC): change to "cream"; BLsc', "expected no change of yarn here"),
        ("never tried on wool", "tried on wool", "Line 1, column 38: expected the line 'Experimental"),
        ("Mark them.\n", "Mark them. And knit.\n", "expected the line 'Round 1 has its corner"),
        ("After round 4 cut", "After round 5 cut", "expected the line 'After round 4 cut"),
        ("sts: stitches", "sts: stitches\nhdc: half", "expected the line 'Notes:'"),
        ("After round 4 cut all yarn, fasten off and weave in the ends.", "", "expected 'After round 4 cut.*no more"),
        ("US terms", "Martian terms", "expected the line 'Written in US terms.'"),
        ("Rnd 1 (MC)", "Hello.\nRnd 1 (MC)", "expected a round, found 'Hello.'"),
    ],
)
def test_what_says_something_else_is_refused_in_a_sentence(old, new, said):
    assert old in WRITTEN
    with pytest.raises(WordingError, match=said) as error:
        read(WRITTEN.replace(old, new, 1))
    (fault,) = error.value.faults
    assert str(error.value).startswith(f"Line {fault.line}, column {fault.column}")
    assert str(error.value).endswith(fault.sentence)


def test_what_holds_no_rounds_is_refused():
    for text in ("", "hello", "Round 1: sc"):
        with pytest.raises(WordingError, match="The text has no rounds"):
            read(text)
    with pytest.raises(OptionError, match="`words` must be text"):
        read(None)
    with pytest.raises(WordingError, match="at most 4,000,000 characters"):
        read("x" * 4_000_001)


@given(st.data())
def test_a_slip_of_one_character_is_refused_or_says_what_it_says(data):
    at = data.draw(st.integers(0, len(WRITTEN) - 1))
    put = data.draw(st.sampled_from(["", "x", "2", " ", ",", "*", "]", WRITTEN[at] * 2]))
    slipped = WRITTEN[:at] + put + WRITTEN[at + 1 :]
    try:
        subject = read(slipped)
    except WordingError:
        return
    again = write(subject)
    head = [line.strip() for line in slipped.splitlines() if line.strip() and not line.strip().startswith("Rnd ")]
    assert head == [line for line in again.splitlines() if line and not line.startswith("Rnd ")]
    assert rounds_of(slipped) == in_kinds(subject.rounds)


def test_names_yarns_and_quotes_come_through():
    yarns = mk.Yarns(
        mk.Yarn('chalk "A"', "#eeeeee"), [(1, mk.Yarn("colour of ink", "#101040")), (4, mk.Yarn("b\\c", "#a02020"))]
    )
    subject = chart(mk.centre.CentreOut(SMALL.motif.with_yarns(yarns).named('the "centre" colour'), "left"))
    for terms in ("US", "UK"):
        assert read(write(subject, terms)) == subject
    assert 'Rnd 4 (CC): change to "b\\\\c"; ' in write(subject)


def test_only_what_the_hook_can_make_is_written():
    rounds = plain_rounds(3)
    rounds[1][0] = mk.Stitch.FLDC
    with pytest.raises(StitchError, match="no front loop"):
        write(chart_of(rounds))
    with pytest.raises(OptionError, match="`terms` must be one of"):
        write(chart(SMALL), "FR")


def test_a_round_that_is_the_same_on_opposite_sides_is_halved():
    written = write(chart(near_plain(4, [(-3, 1), (3, -1)])))
    assert re.search(r"Rnd 4 \(CC\): \*.*; rep from \* 1 more time\. \(32 sts\)", written)
    assert np.array_equal(read(written).rounds[3][:16], read(written).rounds[3][16:])
