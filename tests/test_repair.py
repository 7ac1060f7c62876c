"""The nearest workable picture against trying everything, an integer program, and the laws it must obey."""

import numpy as np
import opponents
import pytest
from hypothesis import given
from hypothesis import strategies as st
from samples import letter_f, two_stacked
from strategies import motifs, workable_motifs

from mosaickit import Motif, check, nearest_workable
from mosaickit.errors import OptionError

KEEPS = [(), ("mirror",), ("up-down",), ("half-turn",), ("mirror", "half-turn")]
WAYS = [{"symmetry": keep} for keep in KEEPS] + [
    {"symmetry": keep, "repeat_across": across, "repeat_up": up}
    for keep in ((), ("mirror",), ("half-turn",), ("up-down", "mirror"))
    for across, up in ((2, None), (None, 2), (3, 3), (1, 1))
]


def cost_of(motif, result, weights):
    return weights[result.motif.grid != motif.grid].sum()


def has_symmetry(grid, **way):
    return all((grid[a] != grid[b]) == swapped for a, b, swapped in opponents.agreeing(grid.shape, **way))


@pytest.mark.thorough
@pytest.mark.parametrize("way", WAYS, ids=str)
@pytest.mark.parametrize("repeats_up", [False, True], ids=["flat", "repeats up"])
def test_nothing_costs_less_among_all_pictures(way, repeats_up):
    rng = np.random.default_rng(5)
    for rows, columns in [(1, 3), (2, 3), (3, 4), (4, 3), (5, 2), (6, 2), (4, 2)]:
        up, across = way.get("repeat_up"), way.get("repeat_across")
        if (up or 1) > rows or (across or 1) > columns or (repeats_up and up and rows % up):
            continue
        for first in ("MC", "CC"):
            motif = Motif(rng.random((rows, columns)) < 0.5, first)
            weights = rng.integers(1, 9, motif.shape).astype(float)
            result = nearest_workable(motif, weights=weights, repeats_up=repeats_up, **way)
            expected = opponents.everything(motif.grid, first, weights, repeats_up, **way)
            assert cost_of(motif, result, weights) == result.cost == expected
            assert opponents.workable(result.motif.grid, first, repeats_up)
            assert has_symmetry(result.motif.grid, **way)


@pytest.mark.thorough
@pytest.mark.parametrize("way", [*WAYS, {"symmetry": ("up-down",), "repeat_up": 8}], ids=str)
@pytest.mark.parametrize("size", [(40, 40), (39, 40)], ids=str)
def test_an_integer_program_finds_no_cheaper_picture_at_40_by_40(way, size):
    rng = np.random.default_rng(40)
    motif = Motif(rng.random(size) < 0.5)
    weights = rng.integers(1, 9, size).astype(float)
    result = nearest_workable(motif, weights=weights, **way)
    assert has_symmetry(result.motif.grid, **way)
    assert check(result.motif).ok
    assert result.cost == pytest.approx(opponents.integer_program(motif.grid, "MC", weights, **way), abs=1e-6)


@given(workable_motifs())
def test_a_workable_motif_is_left_as_it_is(motif):
    result = nearest_workable(motif, first="either")
    assert result.motif == motif
    assert not result.changed.any()


@given(motifs(), st.sampled_from(KEEPS), st.sampled_from(["keep", "either"]), st.booleans())
def test_the_result_can_be_worked_and_differs_just_where_it_says(motif, keep, first, repeats_up):
    result = nearest_workable(motif, symmetry=keep, first=first, repeats_up=repeats_up)
    assert check(result.motif, repeats_up=repeats_up).ok
    assert np.array_equal(result.changed, result.motif.grid != motif.grid)
    assert result.cost == result.changed.sum() == len(result.squares)
    assert (result.motif.yarns, result.motif.name) == (motif.yarns, motif.name)


@given(motifs(), st.sampled_from(KEEPS))
def test_the_better_first_colour_is_the_better_of_both(motif, keep):
    own, other = (
        nearest_workable(motif.with_grid(motif.grid, first), symmetry=keep)
        for first in (motif.first, "CC" if motif.first == "MC" else "MC")
    )
    result = nearest_workable(motif, symmetry=keep, first="either")
    assert result.cost == min(own.cost, other.cost)
    assert result.first_changed == (other.cost < own.cost)


def test_a_heavy_square_stays_and_its_neighbour_gives_way():
    weights = np.ones(two_stacked.shape)
    weights[2, 1] = 9
    assert nearest_workable(two_stacked).squares == ((3, 2),)
    assert nearest_workable(two_stacked, weights=weights).squares == ((4, 2),)


def test_it_says_what_it_changed_and_counts_from_the_hand_that_asks():
    motif = letter_f.with_grid(letter_f.grid ^ (np.indices(letter_f.shape).sum(axis=0) == 12))
    assert str(nearest_workable(motif)) == "Changed 1 of 49 squares: row 1, stitch 1 to MC."
    assert str(nearest_workable(motif, hand="left")) == "Changed 1 of 49 squares: row 1, stitch 7 to MC."
    assert str(nearest_workable(Motif.from_text("#"), first="either")) == "Nothing to change. Row 1 is now in CC."


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"weights": np.ones((2, 2))}, r"`weights` must have the picture's shape \(7, 7\); got \(2, 2\)\."),
        ({"weights": "heavy"}, "`weights` must be an array of numbers, one for each square."),
        ({"weights": np.zeros((7, 7))}, "finite and above 0; got 0.0 at row 7, stitch 7."),
        ({"weights": np.full((7, 7), np.nan)}, "finite and above 0; got nan at row 7, stitch 7."),
        (
            {"symmetry": "turn"},
            "`symmetry` must be one of 'mirror', 'up-down', 'half-turn', or several of them; got 'turn'.",
        ),
        ({"repeat_across": 0}, "`repeat_across` must be a whole number of 1 or more; got 0."),
        ({"repeat_up": 8}, "`repeat_up` must be at most the picture's 7; got 8."),
        ({"repeat_up": 3, "repeats_up": True}, "`repeat_up` must divide the 7 rows"),
        ({"first": "best"}, "`first` must be one of 'keep', 'either'; got 'best'."),
        ({"hand": "both"}, "`hand` must be one of 'right', 'left'; got 'both'."),
    ],
)
def test_bad_options_are_refused_with_a_sentence(options, message):
    with pytest.raises(OptionError, match=message):
        nearest_workable(letter_f, **options)
