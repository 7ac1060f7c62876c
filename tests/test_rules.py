"""The rules against a square-by-square opponent, the published counts, and what they tell a maker."""

from dataclasses import replace
from itertools import product

import numpy as np
import opponents
import pytest
from hypothesis import given
from hypothesis import strategies as st
from samples import letter_f, stripes, two_stacked
from strategies import hands, motifs

from mosaickit import Motif, Yarn, Yarns, check, colours
from mosaickit.errors import OptionError
from mosaickit.motif.rules.deciding import TWO_OVERLAID

FIBONACCI = [1, 1, 2, 3, 5, 8, 13, 21, 34, 55, 89, 144]  # F(1) … F(12), OEIS A000045
LUCAS = [1, 3, 4, 7, 11, 18, 29, 47, 76, 123, 199, 322]  # L(1) … L(12), OEIS A000032


def found(motif, **setting):
    return [(f.rule, f.row, f.stitch) for f in check(motif, **setting).findings]


@given(motifs(), st.booleans())
def test_a_picture_can_be_worked_just_when_the_opponent_says_so(motif, repeats_up):
    assert check(motif, repeats_up=repeats_up).ok == opponents.workable(motif.grid, motif.first, repeats_up)


@pytest.mark.parametrize("rows", range(1, 13))
def test_a_column_has_fibonacci_many_workable_fillings_and_lucas_many_if_it_repeats_up(rows):
    columns = np.array(list(product([False, True], repeat=rows)))
    # every column of rows squares beside each other: the rules look at each by itself
    counts = []
    for repeats_up in (False, True):
        everything = Motif(columns.T)
        counts.append(int((~check(everything, repeats_up=repeats_up).squares("error").any(axis=0)).sum()))
    assert counts == [FIBONACCI[rows - 1], LUCAS[rows - 1]]


@given(motifs(), hands, st.booleans())
def test_findings_lie_on_the_squares_that_are_marked(motif, hand, repeats_up):
    report = check(motif, hand=hand, repeats_up=repeats_up)
    rows, columns = motif.shape
    for severity in ("error", "advice"):
        marked = np.zeros(motif.shape, dtype=bool)
        for finding in report.findings:
            if finding.severity == severity:
                for stitch in range(finding.stitch, finding.last_stitch + 1):
                    # worked out here by hand, not by the library: row 1 below, stitch 1 at the working edge
                    column = columns - stitch if hand == "right" else stitch - 1
                    marked[[rows - finding.row, rows - finding.last_row], column] = True
        assert np.array_equal(marked, report.squares(severity))


@given(motifs(), hands, st.booleans(), st.data())
def test_findings_at_a_square_are_those_that_cover_it(motif, hand, repeats_up, data):
    report = check(motif, hand=hand, repeats_up=repeats_up)
    row, stitch = (data.draw(st.integers(1, size)) for size in motif.shape)
    covering = [f for f in report.findings if row in (f.row, f.last_row) and f.stitch <= stitch <= f.last_stitch]
    assert set(report.at(row, stitch)) == set(covering)
    assert set(report.some(10_000)) == set(report.findings)


@given(motifs(), hands, st.booleans(), st.integers(0, 30))
def test_the_first_findings_are_those_of_all_and_their_number_is_known_before(motif, hand, repeats_up, most):
    report = check(motif, hand=hand, repeats_up=repeats_up)
    every = sorted(report.findings, key=lambda f: (f.severity != "error", f.row, f.stitch))
    assert list(report.findings) == every
    assert report.some(most) == tuple(every[:most])
    assert report.number == len(every)
    errors = [f.message for f in every if f.severity == "error"]
    assert report.errors_in_words.startswith(errors[0] if errors else "Nothing.")
    assert report.errors_in_words.endswith(f" And {len(errors) - 1} more.") == (len(errors) > 1)
    shown = str(report).split("\n")
    assert shown[1:21] == [f"  {finding}" for finding in every[:20]]
    assert shown[21:] == ([f"  … and {len(every) - 20} more"] if len(every) > 20 else [])


def test_a_printed_report_makes_only_the_findings_that_it_lists():
    said = []
    rule = replace(TWO_OVERLAID, message=lambda motif, setting, row, *stitches: said.append(row) or f"Row {row}.")
    report = check(Motif(np.ones((200, 30), dtype=bool) ^ (np.arange(200) % 2 == 0)[:, np.newaxis]), rules=(rule,))
    assert str(report).startswith("Cannot be worked. Findings: 5,970.\n  error: Row 1.\n")
    assert report.errors_in_words == "Row 1. And 5,969 more."
    assert len(said) <= 22


def test_two_squares_one_above_the_other_are_both_marked():
    marked = check(two_stacked).squares("error")
    assert Motif(marked).to_text().split() == ["...", ".#.", ".#.", "...", "..."]


def test_each_error_names_its_place_and_its_cure():
    messages = [f.message for f in check(two_stacked).findings if f.severity == "error"]
    assert messages == [
        "Rows 3 and 4, stitch 2: both squares show the other colour, but the FLdc over the lower hides the loop that "
        "the FLdc over the upper needs. Make row 3 MC or row 4 CC there."
    ]
    first, last = Motif.from_text("...\n###\n..#"), Motif.from_text("#..\n###\n...")
    assert check(first).findings[0].message == (
        "Row 1, stitch 1 does not show its row's colour, and row 2 has nothing two rows below it to reach into. Make "
        "the square MC, or add a row below the picture."
    )
    assert check(last).findings[0].message == (
        "Row 3, stitch 3 does not show its row's colour, and there is no row above to cover it. Make the square MC, "
        "or add a row above the picture."
    )


def test_a_repeat_that_meets_itself_is_named_across_the_join():
    flowing = Motif.from_text("#.#\n...\n###\n#.#")  # row 1 in MC shows CC at its ends, row 4 in CC shows MC inside
    assert check(flowing, repeats_up=True).ok
    assert not check(flowing).ok
    meeting = Motif.from_text("..#\n...\n###\n#.#")
    assert check(meeting, repeats_up=True).findings[0].message.startswith("Rows 4 and 1 of the next repeat, stitch 3:")


def test_a_long_run_of_fldc_leaves_a_carried_strand_bare():
    picture = Motif.from_text("........\n########\n.#####..\n########\n........")
    assert found(picture) == [("bare carried strand", 4, 3)]
    finding = check(picture).findings[0]
    assert (finding.stitch, finding.last_stitch) == (3, 7)
    assert finding.message == (
        "Row 4, stitches 3 to 7 are 5 FLdc side by side, which leave a carried strand bare. Cut the yarn between "
        "rows, or break the run with a plain stitch."
    )
    assert found(picture, between_rows="cut") == found(picture, in_the_round=True) == []
    assert found(picture.with_grid(picture.grid & (np.arange(8) != 2))) == []


@given(motifs(most=14))
def test_bare_strands_are_the_runs_of_more_than_four(motif):
    text = ["".join("|" if o else "." for o in row) for row in motif.overlaid[1:]]
    runs = sum(len(run) > 4 for row in text for run in row.split("."))
    assert sum(f.rule == "bare carried strand" for f in check(motif).findings) == runs


def test_an_fldc_at_an_edge_is_minded_flat_but_not_in_the_round():
    picture = Motif.from_text("....\n####\n...#\n####\n....")
    assert found(picture) == [("FLdc at an edge", 4, 1)]
    assert found(picture, hand="left") == [("FLdc at an edge", 4, 4)]
    assert "in the last stitch" in check(picture, hand="left").findings[0].message
    assert found(picture, in_the_round=True) == []


def test_odd_repeats_and_even_heights_are_minded_where_they_matter():
    assert found(letter_f) == []
    assert found(letter_f, repeats_up=True) == [("odd repeat", 7, 1)]
    assert found(stripes) == found(stripes, hand="left") == [("ends of different colour", 4, 1)]
    assert found(stripes, repeats_up=True) == []


def test_yarns_too_alike_are_minded_from_the_row_they_meet():
    grey, pale, dark = Yarn("fog", "#959595"), Yarn("snow", "#ffffff"), Yarn("coal", "#222222")
    yarns = Yarns(mc=pale, cc=[(1, dark), (4, grey)])
    # #959595 on white is 2.9953 to 1, computed from the formula of WCAG 2.2; it must not read as 3
    assert found(letter_f.with_yarns(yarns)) == [("weak contrast", 4, 1)]
    message = check(letter_f.with_yarns(yarns)).findings[0].message
    assert message.startswith("From row 4 on, 'snow' and 'fog' have a contrast of 2.99 to 1 ")


def test_red_and_green_that_most_people_tell_apart_are_minded_for_others():
    red, green = Yarn("berry", "#990000"), Yarn("lime", "#33bb33")
    seen = colours.contrast_by_vision(red.colour, green.colour)
    assert seen["most people"] > 3 > min(seen.values())
    assert found(letter_f.with_yarns(Yarns(red, green))) == [("weak contrast", 1, 1)]


def test_a_report_reads_errors_first_and_counts_what_it_does_not_list():
    report = check(two_stacked)
    assert str(report).startswith("Cannot be worked. Findings: 1.\n  error: Rows 3 and 4")
    assert str(check(Motif(np.ones((30, 30), dtype=bool)))).endswith("more")


def test_bad_settings_are_refused_with_a_sentence():
    with pytest.raises(OptionError, match=r"`between_rows` must be one of 'carried', 'cut'; got 'knotted'\."):
        check(stripes, between_rows="knotted")
