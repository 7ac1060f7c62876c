"""Proofs: a text against its chart and a row as worked against the row as charted, held against the hook."""

from dataclasses import replace

import matplotlib

matplotlib.use("Agg")

import matplotlib.pyplot as plt
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from samples import letter_f
from strategies import workable_motifs

from mosaickit import Chart, Gauge, Stitch, Yarn, Yarns, compile_chart, draw, orientation, work
from mosaickit.errors import OptionError, StitchError, WordingError
from mosaickit.wording import check_row, proof, write_rows

letters = compile_chart(letter_f)
charts = st.builds(
    lambda motif, reversible, hand: compile_chart(motif, reversible, hand=hand),
    workable_motifs(most=7),
    st.booleans(),
    st.sampled_from(["right", "left"]),
)


@pytest.fixture(autouse=True)
def _figures_are_closed():
    yield
    plt.close("all")


def with_stitch(chart, row, stitch, kind):
    stitches = chart.stitches.copy()
    stitches[row - 1, stitch - 1] = kind
    return replace(chart, stitches=stitches)


def worked_or_not(chart):
    try:
        return work(chart), ""
    except StitchError as error:
        return None, str(error)


# ---- a text ------------------------------------------------------------------------------------------------


@given(charts, st.sampled_from(["US", "UK"]), st.sampled_from(["short", "plain words"]))
def test_a_chart_written_out_is_the_same_chart(chart, terms, style):
    found = proof(str(write_rows(chart, terms=terms, style=style)), chart)
    assert found.ok
    assert str(found) == "The text and the chart are the same."
    assert found.trouble == ""
    assert not found.wrong("front").any()
    assert not found.wrong("back").any()


@given(charts, st.data())
def test_a_stitch_that_was_changed_is_the_one_that_differs(chart, data):
    rows, count = chart.shape
    row, stitch = data.draw(st.integers(1, rows)), data.draw(st.integers(1, count))
    before = Stitch(chart.stitches[row - 1, stitch - 1])
    after = data.draw(st.sampled_from([kind for kind in Stitch if kind != before]))
    changed = with_stitch(chart, row, stitch, after)
    text = str(write_rows(changed))
    found = proof(text, chart)
    (difference,) = found.differences
    assert (difference.row, difference.stitch) == (row, stitch)
    assert (difference.expected, difference.found) == (before, after)
    # the place in the text is that of the stitch's own word
    assert text.split("\n")[difference.line - 1][difference.column - 1 :].startswith(after.abbreviation)
    assert not found.ok
    fabric, trouble = worked_or_not(changed)
    assert found.trouble == trouble
    if fabric is None:
        assert found.wrong() is found.fabric is None
        with pytest.raises(OptionError, match="There is no fabric to draw"):
            draw.proof(found)
    else:
        for side in ("front", "back"):
            right, other = getattr(work(chart), side), getattr(fabric, side)
            assert np.array_equal(found.wrong(side), right != other)


def test_what_differs_as_a_whole_is_said():
    other = Chart(
        letters.stitches[:5, :6],
        letters.row_colours[:5],
        yarns=Yarns(Yarn("moss", "#335522")),
        hand="left",
        in_the_round=True,
    )
    found = proof(str(write_rows(other)), letters)
    assert found.about == (
        "Expected rows: 7; found 5.",
        "Expected stitches a row: 7; found 6.",
        "Expected work: flat; found in the round.",
        "Expected a hook in the hand: right; found left.",
        "Expected MC in rows 1 to 5: cream #f4ead5; found moss #335522.",
    )
    assert found.differences == ()
    assert found.wrong() is None
    assert not found.ok
    left, _ = draw.proof(found)
    assert left.get_title().endswith("another size than charted")
    swapped = Chart(letters.stitches, ["CC", "MC", "CC", "MC", "CC", "MC", "CC"])
    assert swapped.first == "CC"
    assert proof(str(write_rows(swapped)), letters).about[0] == "Expected row 1 in: MC; found CC."


YARNS = [Yarn("deep", "#123f5a"), Yarn("ebb", "#3d8f92")]
changes = st.lists(st.tuples(st.integers(2, 8), st.sampled_from(YARNS)), max_size=2, unique_by=lambda one: one[0])
yarns_of_rows = st.builds(
    lambda mc, cc: Yarns(*([(1, YARNS[0]), *sorted(role, key=lambda one: one[0])] for role in (mc, cc))),
    changes,
    changes,
)


@given(yarns_of_rows, yarns_of_rows)
def test_two_texts_are_the_same_just_when_every_row_has_the_same_yarn(expected, found):
    chart, other = (replace(letters, yarns=yarns) for yarns in (expected, found))
    rows = [
        row
        for row, role in enumerate(letters.row_colours, 1)
        if [yarn for start, yarn in expected.of(role) if start <= row][-1]
        != [yarn for start, yarn in found.of(role) if start <= row][-1]
    ]
    held = proof(str(write_rows(other)), chart)
    assert held.ok == (not rows)
    assert bool(held.about) == bool(rows)
    assert all(sentence.startswith(("Expected MC in row", "Expected CC in row")) for sentence in held.about)


def test_a_yarn_that_changes_elsewhere_is_said_with_its_rows():
    def with_changes(mc=(), cc=()):
        return replace(letters, yarns=Yarns([(1, YARNS[0]), *mc], [(1, YARNS[0]), *cc]))

    chart = with_changes(mc=[(3, YARNS[1])])
    assert proof(str(write_rows(with_changes(mc=[(7, YARNS[1])]))), chart).about == (
        "Expected MC in rows 3 to 5: ebb #3d8f92; found deep #123f5a.",
    )
    assert proof(str(write_rows(with_changes(cc=[(6, YARNS[1])]))), chart).about == (
        "Expected MC in rows 3 to 7: ebb #3d8f92; found deep #123f5a.",
        "Expected CC in row 6: deep #123f5a; found ebb #3d8f92.",
    )
    # a change at a row of the other colour comes with the next row of its own
    assert proof(str(write_rows(with_changes(mc=[(2, YARNS[1])]))), chart).ok


def test_a_text_that_cannot_be_read_is_a_proof_with_its_faults():
    found = proof("Written in US terms\nRow 1 (MC): sc in next 4 sts\nRow 2 (CC): frob in next 4 sts", letters)
    assert found.found is None
    assert not found.ok
    assert [fault.kind for fault in found.faults] == ["unknown"]
    assert str(found).startswith("The text cannot be read.\nLine 3, column 13")
    assert repr(found) == "<Proof The text cannot be read.>"
    with pytest.raises(OptionError, match=r"There is no fabric to draw\. The text cannot be read"):
        draw.proof(found)


def test_a_proof_shows_the_first_differences_and_counts_the_rest():
    wrong = Chart.from_text("\n".join(["|" * 12, "." * 12, "." * 12]))
    right = Chart.from_text("\n".join(["." * 12] * 3))
    lines = str(proof(str(write_rows(wrong)), right)).splitlines()
    assert lines[0] == "12 stitches differ."
    assert lines[1].startswith("Row 3, stitch 1: expected BLsc, found FLdc (line ")
    assert lines[-2:] == ["… and 2 more.", "A hook can work it all the same."]
    impossible = Chart.from_text("...\n|..\n...")
    text = str(proof(str(write_rows(impossible)), Chart.from_text("...\n...\n...")))
    assert text.startswith("1 stitch differs.")
    assert "A hook cannot work it: Row 2, stitch 3" in text


@pytest.mark.parametrize("gauge", [None, "gauge"])
def test_squares_that_look_otherwise_are_marked_where_they_are(gauge):

    gauge = Gauge(20, 25) if gauge else None
    changed = with_stitch(letters, 3, 3, Stitch.BLSC if letters.stitches[2, 2] == Stitch.FLDC else Stitch.FLDC)
    found = proof(str(write_rows(changed)), letters)
    wide, high = (1, 1) if gauge is None else (0.5, 0.4)
    for side, ax in zip(("front", "back"), draw.proof(found, gauge=gauge), strict=True):
        rows, columns = np.nonzero(found.wrong(side))
        expected = [((column + 0.5) * wide, (7 - row - 0.5) * high) for row, column in zip(rows, columns, strict=True)]
        for marks in ax.collections:
            np.testing.assert_allclose(marks.get_offsets(), np.reshape(expected, (-1, 2)))
        squares = "square looks" if len(rows) == 1 else "squares look"
        assert ax.get_title().endswith(f"\n{len(rows)} {squares} otherwise than charted")


def test_a_proof_asks_for_a_chart_and_a_text():
    with pytest.raises(OptionError, match="`chart` must be a `Chart`; got 'F'"):
        proof("Row 1: sc", "F")
    with pytest.raises(OptionError, match="`text` must be a str; got int"):
        proof(7, letters)
    with pytest.raises(WordingError, match="The text has no row"):
        proof("", letters)


# ---- a row as worked ---------------------------------------------------------------------------------------


def covered(chart, row, stitches, drop_in, columns):
    """The front if a row is worked so, and longer stitches then hang from another row over all below them."""
    front = orientation.to_working(work(with_row(chart, row, stitches)).front, chart.hand).copy()
    front[row - 2 : drop_in - 1, columns] = chart.row_colours[row - 1] == "CC"
    return front


def with_row(chart, row, stitches):
    array = chart.stitches.copy()
    array[row - 1] = stitches
    return replace(chart, stitches=array)


@given(st.data())
def test_longer_stitches_are_advised_just_when_the_front_then_is_as_charted(data):
    # columns that overlay every second square, so that a stitch may hang over another
    chart = compile_chart(data.draw(workable_motifs(most=9)))
    overlays = [(row, stitch) for row, stitch in np.argwhere(chart.stitches == Stitch.FLDC).tolist()]
    assume(overlays)
    row, stitch = data.draw(st.sampled_from(overlays))
    row, count = row + 1, chart.shape[0]
    now = data.draw(st.integers(row, count))
    stitches = chart.stitches[row - 1].copy()
    missed = [stitch, *(s for r, s in overlays if r == row - 1 and data.draw(st.booleans()))]
    stitches[missed] = Stitch.BLSC
    advice = check_row(chart, row, [Stitch(s) for s in stitches], now=now)
    drop_in = now + (now - row) % 2
    right = orientation.to_working(work(chart).front, chart.hand)
    helps = row < drop_in <= count and np.array_equal(
        covered(chart, row, stitches, drop_in, sorted(set(missed))), right
    )
    if now == row:
        assert advice.way == "in this row"
    else:
        assert advice.way == ("drop down" if helps else "go back")
    assert advice.drop_in == (drop_in if advice.way == "drop down" else None)
    assert advice.rows_back == (now - row if advice.way == "go back" else 0)
    assert advice.trouble == ""
    assert advice.wrong_front == len(set(missed))


@given(charts, st.data())
def test_what_comes_of_leaving_it_is_what_the_hook_makes(chart, data):
    rows, count = chart.shape
    row = data.draw(st.integers(1, rows))
    kinds = st.sampled_from([Stitch.BLSC, Stitch.FLDC, Stitch.TOG_BACK])
    worked = data.draw(st.lists(kinds, min_size=count, max_size=count))
    advice = check_row(chart, row, worked)
    differ = [s + 1 for s in range(count) if worked[s] != chart.stitches[row - 1, s]]
    assert [one.stitch for one in advice.differences] == differ
    if not differ:
        assert str(advice) == f"Row {row} is as charted."
        assert advice.way == "nothing to mend"
        return
    fabric, trouble = worked_or_not(with_row(chart, row, worked))
    assert advice.trouble == trouble
    if fabric is None:
        assert f"It cannot be left: {trouble}" in str(advice)
    else:
        right = work(chart)
        wrong = (fabric.front != right.front).sum(), (fabric.back != right.back).sum()
        assert (advice.wrong_front, advice.wrong_back) == wrong


def test_the_words_of_a_row_are_read_as_any_row():
    advice = check_row(letters, 3, "BLsc in next 7 sts")
    assert [one.stitch for one in advice.differences] == [
        stitch + 1 for stitch in range(7) if letters.stitches[2, stitch] != Stitch.BLSC
    ]
    uk = check_row(letters, 3, "BLdc in next 7 sts", terms="UK")
    assert uk.differences == advice.differences
    with pytest.raises(WordingError, match="frob"):
        check_row(letters, 3, "frob in next 7 sts")


def test_a_count_that_is_off_says_where_it_ends():
    advice = check_row(letters, 2, "BLsc in next 8 sts", now=4)
    assert str(advice) == "\n".join(
        [
            "Row 2, stitch 8: expected no stitch, found BLsc.",
            "Pull out 2 rows, down to row 3, and row 2 back to before stitch 8; work on from there.",
            "It cannot be left: row 2 has 8 stitches, more than the 7 charted.",
        ]
    )
    short = check_row(letters, 2, [Stitch.BLSC] * 6)
    assert str(short.differences[0]) == "Row 2, stitch 7: expected BLsc, found no stitch."
    assert "fewer than the 7 charted" in short.trouble
    assert short.way == "in this row"


def test_the_advice_can_be_read():
    chart = Chart.from_text("....\n.|..\n....\n.|..\n....\n....")
    assert str(check_row(chart, 3, "BLsc in next 4 sts", now=4)) == "\n".join(
        [
            "Row 3, stitch 3: expected FLdc, found BLsc.",
            "Nothing need be pulled out: in row 5, at the same stitch, work the double crochet 4 rows down instead of "
            "two, into the front loop that was left free in row 1, as a longer stitch that hides what is between.",
            "Left as it is, 1 square of the front and 0 squares of the back look otherwise than charted.",
        ]
    )
    assert "Pull row 3 back to before stitch 3, and work on from there." in str(
        check_row(chart, 3, "BLsc in next 4 sts")
    )
    assert "Pull out 1 row, down to row 4, and row 3 back to before stitch 1" in str(
        check_row(chart, 3, "FLdc in next 4 sts", now=4)
    )
    # the back of reversible work would keep the mistake
    closed = Chart.from_text("....\n.|..\n.b..\n.|..\n....\n....")
    assert check_row(closed, 3, "BLsc in next 4 sts", now=4).way == "go back"


def test_a_row_is_one_of_the_chart():
    with pytest.raises(OptionError, match="`row` and `now` must be rows from 1 to 7; got 8 and 8"):
        check_row(letters, 8, "BLsc in next 7 sts")
    with pytest.raises(OptionError, match="`now` must be a whole number of 3 or more; got 2"):
        check_row(letters, 3, "BLsc in next 7 sts", now=2)
    with pytest.raises(OptionError, match="`worked` must be the words of a row, or stitches; got"):
        check_row(letters, 3, [])
    with pytest.raises(OptionError, match="`chart` must be a `Chart`"):
        check_row(None, 1, "sc")
