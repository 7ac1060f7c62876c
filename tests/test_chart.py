"""The compiler and the hook, each a witness for the other, and both faces of the fabric."""

import pickle

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from samples import letter_f, single, stripes, two_stacked
from strategies import hands, motifs, workable_motifs

import mosaickit as mk
from mosaickit import Chart, Stitch
from mosaickit.errors import ChartError, OptionError, StitchError, UnworkableError
from mosaickit.fabric import place_stitches
from mosaickit.orientation import contrast_rows


def chart_of(motif, stitches):
    """A chart of any stitches, in the motif's row colours."""
    colours = ["CC" if cc else "MC" for cc in contrast_rows(motif.shape[0], motif.first)]
    return Chart(stitches, colours, yarns=motif.yarns)


@given(workable_motifs(), st.booleans(), hands, st.booleans())
def test_the_front_of_what_is_worked_is_the_motif(motif, reversible, hand, in_the_round):
    fabric = mk.work(mk.compile_chart(motif, reversible, hand=hand, in_the_round=in_the_round))
    assert np.array_equal(fabric.front, motif.grid)
    assert np.array_equal(fabric.front_rows, motif.shown_rows)


@given(motifs(), st.booleans())
def test_the_hook_makes_a_picture_from_its_stitches_just_when_check_has_no_error(motif, reversible):
    try:
        made = np.array_equal(mk.work(chart_of(motif, place_stitches(motif, reversible))).front, motif.grid)
    except StitchError:
        made = False
    assert made == mk.check(motif).ok


@given(workable_motifs(), hands)
def test_the_two_faces_of_reversible_fabric_are_a_negative_one_row_apart(motif, hand):
    fabric = mk.work(mk.compile_chart(motif, reversible=True, hand=hand))
    rows = motif.shape[0]
    mirrored = fabric.back[:, ::-1]  # the back as if seen through the front
    for row in range(2, rows):
        # row r lies R - r lines below the top; the law of the two faces is written out by hand here
        assert np.array_equal(mirrored[rows - row], ~fabric.front[rows - (row - 1)])
    own = motif.row_is_cc[:, 0]
    for row in [1, rows]:
        assert (mirrored[rows - row] == own[rows - row]).all()


@given(workable_motifs())
def test_reversible_work_leaves_no_back_loop_and_plain_work_one_for_each_fldc(motif):
    reversible = mk.compile_chart(motif, reversible=True)
    assert len(mk.work(reversible).open_loops) == 0
    plain = mk.compile_chart(motif)
    behind = np.argwhere(plain.stitches[1:] == Stitch.FLDC) + 1  # the row below, counted from 1
    assert np.array_equal(mk.work(plain).open_loops, behind)


@given(workable_motifs())
def test_the_back_of_plain_fabric_shows_only_the_rows_own_colours(motif):
    back = mk.work(mk.compile_chart(motif)).back
    assert (back == motif.row_is_cc).all()


@given(workable_motifs(), hands)
def test_a_reversible_chart_made_plain_is_the_plain_chart(motif, hand):
    plain, reversible = (mk.compile_chart(motif, how, hand=hand) for how in (False, True))
    assert reversible.plain() == plain
    assert not plain.reversible
    assert reversible.reversible == bool((plain.stitches == Stitch.FLDC).any())


@given(workable_motifs(), st.booleans(), hands)
def test_a_chart_written_as_text_reads_back(motif, reversible, hand):
    chart = mk.compile_chart(motif, reversible, hand=hand)
    again = Chart.from_text(chart.to_text(), chart.first, hand=hand, yarns=chart.yarns, name=chart.name)
    assert again == chart
    assert hash(again) == hash(chart)
    assert pickle.loads(pickle.dumps(chart)) == chart


@given(workable_motifs(), st.booleans())
def test_a_left_handers_chart_is_the_mirrored_walk_over_the_same_picture(motif, reversible):
    right, left = (mk.compile_chart(motif, reversible, hand=hand) for hand in ("right", "left"))
    assert np.array_equal(left.stitches, right.stitches[:, ::-1])
    assert left.to_text() == right.to_text()


def test_an_f_compiles_to_these_stitches():
    assert mk.compile_chart(letter_f).to_text().split() == [
        ".......",
        ".|...|.",
        "...|...",
        ".|.....",
        ".......",
        ".......",
        ".......",
    ]
    assert mk.compile_chart(letter_f, reversible=True).to_text().split() == [
        ".b...b.",
        ".|.b.|.",
        ".b.|...",
        ".|.....",
        ".......",
        ".......",
        ".......",
    ]


def test_in_the_last_row_an_fldc_becomes_a_tog_front():
    picture = mk.Motif.from_text("...\n#.#\n...")  # row 2 is CC and shows MC in its middle
    assert mk.compile_chart(picture).to_text() == ".|.\n...\n..."
    assert mk.compile_chart(picture, reversible=True).to_text() == ".f.\n...\n..."


def test_a_picture_that_cannot_be_worked_is_refused_with_its_report():
    with pytest.raises(
        UnworkableError, match=r"This picture cannot be worked; .* What is wrong: Rows 3 and 4, stitch 2"
    ) as refused:
        mk.compile_chart(two_stacked)
    assert not refused.value.report.ok


def test_one_square_is_one_single_crochet():
    chart = mk.compile_chart(single, reversible=True)
    assert chart.stitches.tolist() == [[Stitch.SC]]
    assert mk.work(chart).back.tolist() == [[False]]


@pytest.mark.parametrize(
    ("text", "row", "stitch", "message"),
    [
        ("..\n|.", 1, 2, "Row 1, stitch 2: FLdc cannot be made, as there is no row two below it to reach into."),
        ("..\n.b", 1, 1, "Row 1, stitch 1: tog-b cannot be made, as there is no row below it"),
        (".|\n..", 2, 1, "Row 2, stitch 1: FLdc cannot be made, as there is no row two below it"),
        ("b.\n..", 2, 2, "Row 2, stitch 2: tog-b cannot be made, as there is no row two below it"),
        (
            ".|.\n.|.\n...\n...",
            4,
            2,
            "Row 4, stitch 2: FLdc cannot be made, as the front loop of row 2 below it lies under a double crochet of "
            "row 3.",
        ),
        (
            ".f\n.f\n..\n..",
            4,
            1,
            "Row 4, stitch 1: tog-f cannot be made, as the front loop of row 2 below it lies under a double crochet",
        ),
        (
            "b.\n..\n..",
            3,
            2,
            "Row 3, stitch 2: tog-b cannot be made, as the back loop of row 1 below it is already worked into.",
        ),
        ("b.|\n..|\n...\n...", 4, 1, "Row 4, stitch 1: FLdc"),
    ],
)
def test_what_no_hook_can_make_is_refused_at_the_first_such_stitch(text, row, stitch, message):
    with pytest.raises(StitchError) as refused:
        mk.work(Chart.from_text(text))
    assert (refused.value.row, refused.value.stitch) == (row, stitch)
    assert str(refused.value).startswith(message)


def test_a_single_crochet_above_row_1_is_refused():
    chart = Chart([[Stitch.SC, Stitch.SC], [Stitch.BLSC, Stitch.SC]], ["MC", "CC"])
    with pytest.raises(
        StitchError, match=r"Row 2, stitch 2: sc cannot be made, as only row 1 is worked into the found"
    ):
        mk.work(chart)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: Chart([], []), "A chart needs at least 1 row of 1 stitch; got none."),
        (lambda: Chart([[0, 0], [1]], ["MC", "CC"]), "Row 2 has 1 stitches, but row 1 has 2: the count across never"),
        (lambda: Chart([[0, 9]], ["MC"]), "Row 1, stitch 2: there is no stitch number 9."),
        (lambda: Chart([[0.5]], ["MC"]), "Row 1 must be a sequence of stitches; got float64"),
        (lambda: Chart(np.full((1, 2), 7, dtype=np.uint8), ["MC"]), "Row 1, stitch 1: there is no stitch number 7."),
        (
            lambda: Chart([[0]], ["MC", "CC"]),
            "A chart of 1 rows needs 1 row colours, each 'MC' or 'CC'; got 2: MC, CC.",
        ),
        (lambda: Chart([[0]], ["red"]), "needs 1 row colours, each 'MC' or 'CC'; got 1: red."),
        (lambda: Chart([[0], [1], [1]], ["MC", "CC", "CC"]), "Rows 2 and 3 are both in CC: the two colours alternate."),
        (lambda: Chart.from_text("..\n.x"), "Line 2, column 2: expected '.', '|', 'b' or 'f', found 'x'."),
        (lambda: Chart.from_text(""), "A chart needs at least 1 row of 1 stitch; got none."),
        (lambda: Chart.from_text("...\n.."), "Row 2 has 3 stitches, but row 1 has 2"),
    ],
)
def test_what_is_no_chart_is_refused_with_a_sentence(make, message):
    with pytest.raises(ChartError, match=message):
        make()


def test_bad_options_are_refused_with_a_sentence():
    with pytest.raises(OptionError, match="`hand` must be one of 'right', 'left'; got 'both'"):
        mk.compile_chart(stripes, hand="both")


def test_a_chart_and_a_fabric_say_what_they_are():
    chart = mk.compile_chart(stripes.named("stripes"), in_the_round=True)
    assert repr(chart).startswith("<Chart stripes: 4 rows × 4 stitches, plain in the round, row 1 in MC>\n....\n")
    assert (
        repr(mk.work(mk.compile_chart(letter_f))) == "<Fabric letter F: 7 rows × 7 stitches worked, 4 open back loops>"
    )
    assert "no open back loop" in repr(mk.work(mk.compile_chart(letter_f, reversible=True)))
    assert [stitch.abbreviation for stitch in Stitch] == ["sc", "BLsc", "FLdc", "tog-b", "tog-f"]
    assert [stitch.character for stitch in Stitch] == [".", ".", "|", "b", "f"]
