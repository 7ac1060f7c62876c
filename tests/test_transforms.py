"""Transforms: the laws of moving squares, and what becomes of the row colours."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from samples import letter_f, single, stripes
from strategies import motifs, roles, workable_motifs

import mosaickit as mk
from mosaickit.cures import Cure
from mosaickit.errors import MotifError, OptionError, UnworkableError
from mosaickit.motif.transforms import editing

counts = st.integers(1, 3)
margins = st.integers(0, 3)
colours = st.sampled_from(["keep", "swap"])
layouts = st.sampled_from(["straight", "brick", "half-drop", "mirrored"])


def ok(motif, **setting):
    return mk.check(motif, **setting).ok


# ---- laws --------------------------------------------------------------------------------------------------


@given(motifs(), colours)
def test_done_twice_a_flip_is_nothing_done(motif, how):
    assert mk.mirror(mk.mirror(motif)) == motif
    assert mk.counterchange(mk.counterchange(motif)) == motif
    assert mk.up_down(mk.up_down(motif, colours=how), colours=how) == motif
    assert mk.half_turn(mk.half_turn(motif, colours=how), colours=how) == motif
    assert mk.half_turn(motif, colours=how) == mk.up_down(mk.mirror(motif), colours=how)


@given(workable_motifs(), colours)
def test_flips_keep_a_workable_motif_workable(motif, how):
    for flipped in (
        mk.mirror(motif),
        mk.counterchange(motif),
        mk.up_down(motif, colours=how),
        mk.half_turn(motif, colours=how),
    ):
        assert ok(flipped)


@given(motifs())
def test_keeping_colours_keeps_the_picture_and_swapping_keeps_row_1(motif):
    kept, swapped = mk.up_down(motif), mk.up_down(motif, colours="swap")
    assert np.array_equal(kept.grid, motif.grid[::-1])
    assert swapped.first == motif.first
    assert swapped in (kept, mk.counterchange(kept))
    assert (kept.first == motif.first) == (motif.shape[0] % 2 == 1)


@given(motifs(), margins, margins, margins, margins, colours)
def test_pad_then_crop_is_nothing_done(motif, top, bottom, left, right, how):
    padded = mk.pad(motif, top=top, bottom=bottom, left=left, right=right, colours=how)
    rows, columns = motif.shape
    assert padded.shape == (rows + top + bottom, columns + left + right)
    assert ok(padded) or not ok(motif)
    back = mk.crop(
        padded,
        rows=(bottom + 1, bottom + rows),
        stitches=(right + 1, right + columns),
        colours=how,
        must_work=False,
    )
    assert back == motif


@given(motifs(), counts, counts, layouts, colours)
def test_tile_then_crop_to_the_first_repeat_is_nothing_done(motif, across, up, layout, how):
    rows, columns = motif.shape
    tiled = mk.tile(motif, across=across, up=up, layout=layout, colours=how, must_work=False)
    assert tiled.shape == (rows * up, columns * across)
    first = mk.crop(tiled, rows=(1, rows), stitches=(1, columns), hand="left", must_work=False)
    assert first == motif


@given(motifs(), counts, counts)
def test_repeat_is_what_numpy_tiles(motif, across, up):
    repeated = mk.repeat(motif, across=across, up=up, must_work=False)
    assert np.array_equal(repeated.grid, np.tile(motif.grid, (up, across)))


@given(workable_motifs(), counts, counts, st.sampled_from(["straight", "brick", "mirrored"]))
def test_with_colours_swapped_any_workable_motif_tiles(motif, across, up, layout):
    assert ok(mk.tile(motif, across=across, up=up, layout=layout, colours="swap"))


@given(workable_motifs(), counts, counts)
def test_a_mirrored_tiling_that_shares_its_seams_is_always_workable_in_its_own_colours(motif, across, up):
    rows, columns = motif.shape
    tiled = mk.tile(motif, across=across, up=up, layout="mirrored", seam="shared")
    assert tiled.shape == ((rows - 1) * up + 1, (columns - 1) * across + 1)
    assert ok(tiled)
    if up == 2:
        assert np.array_equal(tiled.grid, tiled.grid[::-1])
    if across == 2:
        assert np.array_equal(tiled.grid, tiled.grid[:, ::-1])


@given(motifs(), st.integers(-12, 12), st.integers(-12, 12), colours)
def test_shift_there_and_back_is_nothing_done(motif, right, up, how):
    there = mk.shift(motif, right=right, up=up, colours=how, must_work=False)
    assert mk.shift(there, right=-right, up=-up, colours=how, must_work=False) == motif


@given(motifs(), st.integers(-5, 5))
def test_a_motif_that_repeats_up_may_be_shifted_up_with_colours_swapped(motif, up):
    shifted = mk.shift(motif, up=up, colours="swap", must_work=False)
    assert ok(shifted, repeats_up=True) == ok(motif, repeats_up=True)


@given(workable_motifs(), st.integers(0, 4), colours)
def test_a_frame_around_an_odd_height_is_always_workable(motif, rings, how):
    assume(motif.shape[0] % 2 == 1)
    framed = mk.frame(motif, rings, colours=how)
    assert ok(framed)
    inside = mk.crop(
        framed,
        rows=(rings + 1, rings + motif.shape[0]),
        stitches=(rings + 1, rings + motif.shape[1]),
        colours=how,
    )
    assert inside == motif
    for i in range(rings):
        ring = {bool(framed.grid[i, x]) for x in range(i, framed.shape[1] - i)}
        assert ring == {mk.orientation.role_of_row(i + 1, framed.first) == "CC"}


@given(motifs(), st.integers(0, 3))
def test_edge_stitches_show_their_rows_colour(motif, count):
    edged = mk.edge_stitches(motif, count)
    border = edged.overlaid.copy()
    border[:, count : count + motif.shape[1]] = False
    assert not border.any()
    assert np.array_equal(edged.overlaid[:, count : count + motif.shape[1]], motif.overlaid)


@given(motifs(), roles)
def test_a_pad_of_one_colour_shows_it(motif, fill):
    padded = mk.pad(motif, top=1, bottom=1, left=2, right=1, fill=fill, must_work=False)
    inside = np.zeros(padded.shape, dtype=bool)
    inside[1:-1, 2:-1] = True
    assert set(padded.grid[~inside]) == {fill == "CC"}
    assert np.array_equal(padded.grid[1:-1, 2:-1], motif.grid)


# ---- yarns move with their rows ----------------------------------------------------------------------------

sand, deep, foam = mk.Yarn("sand", "#e9dcc3"), mk.Yarn("deep", "#123f5a"), mk.Yarn("foam", "#3d8f92")
striped = letter_f.with_yarns(mk.Yarns(mc=sand, cc=[(1, deep), (4, foam)]))


@pytest.mark.parametrize(
    ("moved", "changes"),
    [
        (mk.mirror(striped), ((1, deep), (4, foam))),
        (mk.up_down(striped), ((1, foam), (5, deep))),
        (mk.pad(striped, bottom=2), ((1, deep), (6, foam))),
        (mk.crop(striped, rows=(4, 7), must_work=False), ((1, foam),)),
        (mk.repeat(striped, up=2, colours="swap"), ((1, deep), (4, foam), (8, deep), (11, foam))),
        (mk.frame(striped, 2), ((1, deep), (6, foam))),
        (mk.tile(striped, across=2, layout="half-drop", must_work=False), ((1, deep), (4, foam))),
    ],
)
def test_yarns_move_with_their_rows(moved, changes):
    assert moved.yarns.cc == changes
    assert moved.yarns.mc == ((1, sand),)


# ---- where colours cannot stay in step, the cure is named --------------------------------------------------


def test_an_odd_repeat_is_refused_with_its_cure_and_the_cure_works():
    with pytest.raises(
        UnworkableError, match=r'7 rows is an odd number.* Use colours="swap"\. Or use mk\.pad\(motif, top=1\)'
    ) as refused:
        mk.repeat(letter_f, up=2)
    assert refused.value.cures == (Cure({"colours": "swap"}), Cure(before={"top": 1}))
    assert not refused.value.report.ok
    swapped = mk.repeat(letter_f, up=2, colours="swap")
    assert np.array_equal(swapped.grid, np.vstack([~letter_f.grid, letter_f.grid]))
    assert ok(mk.repeat(mk.pad(letter_f, top=1), up=3))


def test_an_odd_repeat_that_can_be_worked_all_the_same_is_done_as_asked():
    # row 1 and row 3 in MC; repeated, its rows 4 and 6 are worked in CC: only row 5 is overlaid there
    plain = mk.Motif.from_text("##\n##\n##", first="CC")
    stays = mk.Motif.from_text("..\n##\n..")
    with pytest.raises(UnworkableError):
        mk.repeat(stays, up=2)
    assert ok(mk.repeat(plain, up=1))
    one_row = mk.Motif.from_text("##", first="CC")
    assert np.array_equal(mk.repeat(one_row, up=3).grid, np.ones((3, 2), dtype=bool))


def test_an_odd_half_drop_is_refused_with_its_cure_and_the_cure_works():
    motif = mk.pad(letter_f, top=3)  # 10 rows: the drop is 5
    with pytest.raises(
        UnworkableError,
        match=r'A drop of 5 rows lands .* Use colours="swap" and must_work=False, then mk\.pad\(result, top=1\)\.',
    ):
        mk.tile(motif, across=2, layout="half-drop")
    # the letter is cut where it drops below row 1, so a row is needed at the ends
    dropped = mk.tile(motif, across=2, layout="half-drop", colours="swap", must_work=False)
    assert ok(mk.pad(dropped, top=1, bottom=1))


def test_a_mirrored_tiling_with_double_seams_is_refused_with_its_cure():
    with pytest.raises(
        UnworkableError, match=r'A mirrored repeat lands on .* Use colours="swap"\. Or use seam="shared"\.'
    ):
        mk.tile(letter_f, up=2, layout="mirrored")


def test_a_frame_around_an_even_height_is_refused_with_its_cure_and_the_cure_works():
    motif = mk.pad(letter_f, top=1)
    with pytest.raises(
        UnworkableError,
        match=r"only around an odd number of rows, and 8 is even\. Use mk\.pad\(motif, top=1\) as the motif\.",
    ):
        mk.frame(motif)
    assert ok(mk.frame(mk.pad(motif, top=1), 3))


def test_rings_of_any_colours_are_made_where_they_can_be():
    framed = mk.frame(letter_f, ["MC", "CC"])
    assert framed == mk.frame(letter_f, 2)
    with pytest.raises(UnworkableError, match=r'Use colours="swap"\. Or use rings=\["MC", "CC"\]\.'):
        mk.frame(letter_f, ["MC"])
    swapped = mk.frame(letter_f, ["MC"], colours="swap")
    assert swapped.first == "MC"
    assert np.array_equal(swapped.grid[1:-1, 1:-1], ~letter_f.grid)
    broad = mk.frame(stripes_of_three(), ["MC", "MC"])
    assert not broad.grid[:2].any()
    with pytest.raises(UnworkableError, match=r'Use rings=\["MC", "CC", "MC", "CC"\]\.'):
        mk.frame(letter_f, ["MC", "MC", "CC", "MC"])


def stripes_of_three():
    return mk.Motif.from_text("...\n###\n...")


def test_cropping_through_an_overlaid_row_is_refused_with_its_cure():
    with pytest.raises(
        UnworkableError, match=r"Keeping rows 3 to 6 .* Use rows=\(2, 6\)\. Or use must_work=False, then mk"
    ):
        mk.crop(letter_f, rows=(3, 6))
    assert not ok(mk.crop(letter_f, rows=(3, 6), must_work=False))


def test_shifting_an_odd_picture_around_is_refused_with_its_cure():
    with pytest.raises(UnworkableError, match=r'what comes around is on the other row colours\. Use colours="swap"\.'):
        mk.shift(letter_f, up=1)
    with pytest.raises(UnworkableError, match=r'Shifting up by 7 rows .* Use colours="swap"\. \(Or take it'):
        mk.shift(letter_f, up=7)
    assert ok(mk.shift(letter_f, up=1, colours="swap"))


def test_an_unworkable_picture_is_moved_as_asked():
    black = mk.Motif.from_array(np.ones((3, 3), dtype=bool))
    assert mk.repeat(black, up=2).grid.all()


def test_a_quarter_turn_is_refused_with_its_reason_and_what_to_use():
    with pytest.raises(AttributeError, match=r"no 'quarter_turn'; a quarter turn is never safe: .* `mk\.half_turn`"):
        mk.quarter_turn  # noqa: B018 — the look-up is the test


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: mk.repeat(single, across=0), "`across` must be a whole number of 1 or more; got 0."),
        (lambda: mk.repeat(single, up=1.5), "`up` must be a whole number of 1 or more; got 1.5."),
        (lambda: mk.pad(single, top=-1), "`top` must be a whole number of 0 or more; got -1."),
        (lambda: mk.pad(single, fill="red"), "`fill` must be one of 'plain', 'MC', 'CC'; got 'red'."),
        (lambda: mk.shift(single, up="two"), "`up` must be a whole number"),
        (
            lambda: mk.tile(single, layout="basket"),
            "`layout` must be one of 'straight', 'brick', 'half-drop', 'mirrored'",
        ),
        (lambda: mk.tile(single, seam="none"), "`seam` must be one of 'double', 'shared'; got 'none'."),
        (lambda: mk.up_down(single, colours="mix"), "`colours` must be one of 'keep', 'swap'; got 'mix'."),
        (lambda: mk.frame(single, colours="mix"), "`colours` must be one of 'keep', 'swap'; got 'mix'."),
        (lambda: mk.frame(single, ["red"]), r"`rings` must be a whole number .*; got \['red'\]\."),
        (lambda: mk.frame(single, -1), "`rings` must be a whole number of 0 or more, or the colours .*; got -1."),
        (lambda: mk.crop(stripes, rows=(0, 2)), r"`rows` must be \(first, last\) within 1 to 4; got \(0, 2\)."),
        (lambda: mk.crop(stripes, stitches=(3, 2)), r"`stitches` must be \(first, last\) within 1 to 4; got \(3, 2\)."),
        (lambda: mk.crop(stripes, rows=7), r"`rows` must be \(first, last\) within 1 to 4; got 7."),
        (lambda: mk.edge_stitches(single, 0.5), "`count` must be a whole number of 0 or more; got 0.5."),
    ],
)
def test_bad_options_are_refused_with_a_sentence(call, message):
    with pytest.raises(OptionError, match=message):
        call()


def test_a_tiling_over_the_size_limit_is_refused_before_it_is_made():
    with pytest.raises(MotifError, match=r"at most 10,000 rows or columns .* got 1 × 1,000,000"):
        mk.repeat(single, across=1_000_000)


@given(motifs(), st.integers(0, 1000))
def test_a_row_or_column_put_in_and_taken_out_again_is_nothing_done(motif, at):
    top, left = at % motif.shape[0], at % motif.shape[1]
    for put_in in (editing.insert_row, editing.repeat_row):
        assert editing.delete_row(put_in(motif, top), top) == motif
    if motif.shape[0] > 1:
        assert editing.delete_two_rows(editing.repeat_two_rows(motif, top), min(top, motif.shape[0] - 2)) == motif
    for put_in in (editing.insert_column, editing.repeat_column):
        assert editing.delete_column(put_in(motif, left), left) == motif
    two = editing.insert_row(editing.insert_row(motif, top), top)
    assert not two.overlaid[top : top + 2].any()
    assert np.array_equal(np.delete(two.overlaid, [top, top + 1], axis=0), motif.overlaid)
    assert editing.delete_two_rows(two, top) == motif


@given(motifs(), st.integers(0, 1000))
def test_what_says_that_it_keeps_a_picture_workable_does(motif, at):
    workable, top = mk.nearest_workable(motif).motif, at % motif.shape[0]
    one = editing.insert_row(workable, top, colours="swap")
    assert mk.check(one).ok
    assert one.first == workable.first
    assert not one.overlaid[top].any()
    assert np.array_equal(np.delete(one.overlaid, top, axis=0), workable.overlaid)
    # the squares below stay, and all above are swapped
    assert np.array_equal(one.grid[top + 1 :], workable.grid[top:])
    assert np.array_equal(one.grid[:top], ~workable.grid[:top])
    assert mk.check(editing.insert_row(editing.insert_row(workable, top), top)).ok
    if motif.shape[0] > 1:
        assert mk.check(editing.repeat_two_rows(workable, top)).ok
    with pytest.raises(OptionError, match="`colours` must be one of"):
        editing.insert_row(workable, top, colours="turn")


def test_one_row_alone_has_no_two_to_repeat():
    with pytest.raises(OptionError, match="A picture of one row has no two to repeat"):
        editing.repeat_two_rows(mk.Motif.from_text(".#"), 0)
