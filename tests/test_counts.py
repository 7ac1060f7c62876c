import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from samples import letter_f
from strategies import hands, workable_motifs

from mosaickit import Stitch, Yarn, Yarns, compile_chart
from mosaickit.errors import ChartError
from mosaickit.fabric import Chart, count_rows
from mosaickit.fabric.counts import check_across


def count_square_by_square(chart):
    """The opponent: walk every stitch of every row."""
    counts = []
    for row in chart.stitches:
        of_row = dict.fromkeys(Stitch, 0)
        for stitch in row:
            of_row[Stitch(int(stitch))] += 1
        counts.append(list(of_row.values()))
    return counts


@given(workable_motifs(), st.booleans(), hands)
def test_counts_are_those_of_walking_every_stitch(motif, reversible, hand):
    chart = compile_chart(motif, reversible, hand=hand)
    assert count_rows(chart).stitches.tolist() == count_square_by_square(chart)


@given(workable_motifs(), st.booleans())
def test_every_row_of_a_compiled_chart_has_the_same_count_across(motif, reversible):
    counts = count_rows(compile_chart(motif, reversible))
    assert counts.across.tolist() == [motif.shape[1]] * motif.shape[0]
    assert counts.total.sum() == motif.grid.size


@given(workable_motifs())
def test_overlaid_squares_and_counts_tell_the_same(motif):
    plain, reversible = (count_rows(compile_chart(motif, closed)) for closed in (False, True))
    assert plain.total[Stitch.FLDC] == motif.overlaid.sum()
    assert reversible.total[Stitch.FLDC] == reversible.total[Stitch.TOG_BACK]
    assert reversible.total[[Stitch.FLDC, Stitch.TOG_FRONT]].sum() == motif.overlaid.sum()


@given(workable_motifs())
def test_each_row_is_counted_with_its_colour_and_yarn(motif):
    chart = compile_chart(motif)
    counts = count_rows(chart)
    assert counts.row_colours == chart.row_colours
    assert list(counts.yarns) == [chart.yarns.at(row, role) for row, role in enumerate(chart.row_colours, 1)]


def test_a_yarn_that_changes_is_counted_from_its_row_on():
    sand, deep, foam = Yarn("sand", "#e9dcc3"), Yarn("deep", "#123f5a"), Yarn("foam", "#3d8f92")
    chart = compile_chart(letter_f.with_yarns(Yarns(sand, [(1, deep), (4, foam)])))
    assert [yarn.name for yarn in count_rows(chart).yarns] == ["sand", "deep", "sand", "foam", "sand", "foam", "sand"]


def test_the_counts_of_a_picture_counted_by_hand():
    # row 4 as worked: two squares of row 3 are overlaid, closed again in row 5
    chart = Chart.from_text(
        """
        .bb.f
        .||..
        .....
        .....
        .....
        """
    )
    assert count_rows(chart).stitches.tolist() == [
        [5, 0, 0, 0, 0],
        [0, 5, 0, 0, 0],
        [0, 5, 0, 0, 0],
        [0, 3, 2, 0, 0],
        [0, 2, 0, 2, 1],
    ]


def test_counts_are_kept_read_only():
    counts = count_rows(compile_chart(letter_f))
    with pytest.raises(ValueError, match="read-only"):
        counts.stitches[0, 0] = 7


# ---- the count across is checked ---------------------------------------------------------------------------

good = np.array([[5, 0, 0, 0, 0], [0, 5, 0, 0, 0], [0, 3, 2, 0, 0], [0, 2, 1, 2, 0], [0, 4, 0, 0, 1]])


def test_rows_that_use_up_just_what_the_row_below_offers_pass():
    check_across(good)


@pytest.mark.parametrize("change", [-1, 1])
@pytest.mark.parametrize("kind", Stitch)
@pytest.mark.parametrize("row", range(5))
def test_one_stitch_more_or_less_anywhere_is_found(row, kind, change):
    counts = good.copy()
    counts[row, kind] += change
    if counts.min() < 0:
        fault = r"Counts must be 0 or more; got -1\."
    else:
        # one sc more or less in row 1 is another foundation: then it is row 2 that does not fit
        at_fault = 2 if (row, kind) == (0, Stitch.SC) else row + 1
        fault = rf"^Row {at_fault} makes \d stitches, works into \d and skips \d of the \d "
    with pytest.raises(ChartError, match=fault):
        check_across(counts)


def test_the_message_says_how_many_were_worked_into_and_how_many_skipped():
    with pytest.raises(
        ChartError, match="Row 2 makes 4 stitches, works into 3 and skips 1 of the 5 stitches of row 1: the"
    ):
        check_across([[5, 0, 0, 0, 0], [0, 2, 1, 1, 0]])
    with pytest.raises(
        ChartError, match="Row 1 makes 5 stitches, works into 4 and skips 0 of the 5 chains of the foundation"
    ):
        check_across([[4, 1, 0, 0, 0]])


def test_single_crochet_above_row_1_uses_up_nothing_below_it():
    chart = Chart([[0, 0], [0, 1], [1, 1]], ("MC", "CC", "MC"))
    with pytest.raises(ChartError, match="Row 2 makes 2 stitches, works into 1 and skips 0 of the 2 stitches of row 1"):
        count_rows(chart)


@pytest.mark.parametrize("counts", [[], [5, 0, 0, 0, 0], [[5, 0, 0]], [[5.0, 0, 0, 0, 0]], [["5", "0", "0", "0", "0"]]])
def test_what_is_no_table_of_counts_is_refused(counts):
    with pytest.raises(ChartError, match="Counts must be whole numbers, a line of 5 for each of 1 row or more; got"):
        check_across(counts)
