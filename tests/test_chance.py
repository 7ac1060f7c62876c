"""Chance: counts against published numbers and against trying everything; fairness by chi-square on small sizes."""

import os
import re
import subprocess
import sys
from collections import Counter
from itertools import product
from math import comb, gcd

import numpy as np
import opponents
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import chi2
from strategies import roles

import mosaickit as mk
from mosaickit.colours import Yarn, Yarns
from mosaickit.errors import MotifError, OptionError
from mosaickit.ideas import count_motifs, random_motif, random_motifs
from mosaickit.ideas.chance import plan
from mosaickit.ideas.chance.odds import Odds, Tilt
from mosaickit.motif import Motif

# OEIS A000045 and A000204; the latter starts with 1, as a square that repeats every row is its own neighbour
FIBONACCI = [1, 1, 2, 3, 5, 8, 13, 21, 34, 55, 89, 144, 233, 377]
LUCAS = [1, 3, 4, 7, 11, 18, 29, 47, 76, 123, 199, 322]

WAYS = [
    {},
    {"symmetry": "mirror"},
    {"symmetry": "up-down"},
    {"symmetry": "half-turn"},
    {"symmetry": ("mirror", "half-turn")},
    {"repeat_across": 2},
    {"repeat_up": 2},
    {"repeat_up": 3, "repeat_across": 2},
    {"repeat_up": 1},
    {"repeat_up": 2, "symmetry": "half-turn"},
    {"repeat_up": 3, "symmetry": "up-down"},
    {"repeat_across": 2, "symmetry": "mirror"},
]
SIZES = [(1, 1), (1, 3), (2, 2), (3, 3), (3, 4), (4, 3), (5, 2), (6, 2), (4, 2), (7, 1), (8, 1), (5, 3)]


def fits(way, rows, columns, repeats_up):
    up = way.get("repeat_up", 1)
    return up <= rows and way.get("repeat_across", 1) <= columns and not (repeats_up and rows % up)


def everything(rows, columns, repeats_up=False, symmetry=(), repeat_across=None, repeat_up=None, first="MC"):
    """All workable pictures of a size, as bytes, by trying all pictures; with how many squares are overlaid."""
    keep = (symmetry,) if isinstance(symmetry, str) else symmetry
    pairs = list(opponents.agreeing((rows, columns), keep, repeat_across, repeat_up))
    found = {}
    for bits in product((False, True), repeat=rows * columns):
        grid = [bits[i * columns : (i + 1) * columns] for i in range(rows)]
        agree = all((grid[i][x] != grid[j][y]) == swapped for (i, x), (j, y), swapped in pairs)
        if agree and opponents.workable(grid, first, repeats_up):
            found[bytes(bits)] = sum(map(sum, opponents.overlaid(grid, first)))
    return found


# ---- counts ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("rows", range(1, 15))
def test_a_picture_has_a_fibonacci_number_of_fillings_for_each_column(rows):
    for columns in (1, 2, 7):
        assert count_motifs(rows, columns) == FIBONACCI[rows - 1] ** columns


@pytest.mark.parametrize("rows", range(1, 13))
def test_a_picture_that_repeats_up_has_a_lucas_number_for_each_column(rows):
    for columns in (1, 2, 7):
        assert count_motifs(rows, columns, repeats_up=True) == LUCAS[rows - 1] ** columns


@pytest.mark.parametrize("way", WAYS, ids=str)
@pytest.mark.parametrize("repeats_up", [False, True], ids=["flat", "repeats up"])
def test_counts_are_those_of_trying_everything(way, repeats_up):
    tried = 0
    for rows, columns in SIZES:
        if rows * columns <= 12 and fits(way, rows, columns, repeats_up):
            by_overlaid = Counter(everything(rows, columns, repeats_up, **way).values())
            assert count_motifs(rows, columns, repeats_up=repeats_up, **way) == by_overlaid.total()
            for overlaid in range(rows * columns + 1):
                expected = by_overlaid[overlaid]
                assert count_motifs(rows, columns, repeats_up=repeats_up, overlaid=overlaid, **way) == expected
            between = sum(n for overlaid, n in by_overlaid.items() if 1 <= overlaid <= 3)
            assert count_motifs(rows, columns, repeats_up=repeats_up, overlaid=(1, 3), **way) == between
            tried += 1
    assert tried > 2


def test_classes_of_repeats_under_shifts_along_the_row_follow_by_burnside():
    # necklaces of w columns, each with F(h + 2) fillings of the h rows between the first and the last: (1/w) times the
    # sum over d dividing w of phi(d) F(h + 2)^(w/d), worked out from that formula elsewhere
    published = {2: [3, 6, 11, 24, 51, 130], 3: [5, 15, 45, 165, 629, 2635], 4: [8, 36, 176, 1044, 6560, 43800]}
    for height, classes in published.items():
        for width, expected in enumerate(classes, 1):
            left_alone = sum(count_motifs(height + 2, width, repeat_across=gcd(s, width)) for s in range(1, width + 1))
            assert left_alone == width * expected


@pytest.mark.parametrize(("rows", "columns"), [(4, 3), (5, 3), (6, 3), (5, 2)], ids=str)
def test_classes_under_flips_follow_by_burnside(rows, columns):
    every = [np.frombuffer(grid, dtype=bool).reshape(rows, columns) for grid in fair_everything(rows, columns, {})]
    overlaid = [Motif(grid).overlaid for grid in every]
    classes = {
        min(squares[::up, ::along].tobytes() for up, along in product((1, -1), repeat=2)) for squares in overlaid
    }
    flips = ((), "mirror", "up-down", "half-turn")
    assert sum(count_motifs(rows, columns, symmetry=flip) for flip in flips) == 4 * len(classes)


def test_repeats_both_ways_are_as_many_as_were_found_by_brute_force_elsewhere():
    totals = {(2, 2): 9, (3, 3): 64, (4, 4): 2401, (4, 2): 49, (6, 3): 5832, (5, 4): 14641}
    assert {size: count_motifs(*size, repeats_up=True) for size in totals} == totals


def test_a_count_worked_out_by_hand():
    # 4 pairs of columns, each a path of 4 squares that may be overlaid: 1 + 4z + 3z² = (1 + z)(1 + 3z) by pairs, and
    # the coefficient of z⁴ in the fourth power is the sum over i of C(4, i) C(4, 4 - i) 3^(4 - i)
    by_hand = sum(comb(4, i) * comb(4, 4 - i) * 3 ** (4 - i) for i in range(5))
    assert count_motifs(6, 8, symmetry="half-turn", overlaid=8) == by_hand == 886


def test_the_numbers_by_overlaid_squares_add_up_to_all_at_40_by_40():
    total = count_motifs(40, 40, symmetry="half-turn")
    assert total == 102334155**20  # the fortieth Fibonacci number for each pair of columns, OEIS A000045
    assert count_motifs(40, 40, symmetry="half-turn", overlaid=(0, 1600)) == total
    low, high = (count_motifs(40, 40, symmetry="half-turn", overlaid=ends) for ends in ((0, 333), (334, 1600)))
    assert low + high == total


# ---- fairness ----------------------------------------------------------------------------------------------


def misfit(drawn, everyone):
    """Chi-square of how often each was drawn, with the limit that a fair draw passes once in a million."""
    seen = Counter(grid.tobytes() for grid in drawn)
    assert set(seen) <= set(everyone)
    expected = len(drawn) / len(everyone)
    statistic = sum((seen[one] - expected) ** 2 / expected for one in everyone)
    return statistic, chi2.isf(1e-6, len(everyone) - 1) if len(everyone) > 1 else 0


FAIR = [
    (5, 2, {}),
    (4, 3, {"repeats_up": True}),
    (5, 1, {"repeats_up": True, "overlaid": (1, 2)}),
    (5, 4, {"symmetry": "mirror"}),
    (6, 3, {"symmetry": "half-turn"}),
    (7, 2, {"symmetry": "up-down"}),
    (8, 3, {"symmetry": ("mirror", "up-down")}),
    (6, 2, {"repeat_up": 2, "repeats_up": True}),
    (5, 3, {"overlaid": 3}),
    (5, 3, {"overlaid": (2, 4)}),
    (5, 3, {"fldc_share": (0.1, 0.2)}),
    (5, 4, {"symmetry": "mirror", "overlaid": (3, 6)}),
    (5, 3, {"symmetry": "half-turn", "overlaid": 3}),
    (7, 2, {"repeat_up": 3, "overlaid": (1, 4)}),
    (6, 3, {"overlaid": (0, 1)}),
    (6, 3, {"overlaid": 6}),
    (5, 4, {"symmetry": "mirror", "overlaid": 6}),
    (5, 3, {"symmetry": "mirror", "overlaid": 4}),
    (7, 3, {"symmetry": ("mirror", "up-down"), "overlaid": (2, 5)}),
    (4, 3, {"repeats_up": True, "overlaid": 4}),
    (5, 2, {"repeats_up": True, "symmetry": "up-down", "overlaid": (2, 4)}),
    (7, 3, {"repeat_up": 4, "overlaid": 5}),
    (10, 1, {}),
    (10, 1, {"overlaid": 3}),
]


@pytest.mark.thorough
@pytest.mark.parametrize("dealt", ["as usual", "by counting all ways", "with few digits"])
@pytest.mark.parametrize(("rows", "columns", "way"), FAIR, ids=str)
def test_every_workable_motif_is_drawn_equally_often(rows, columns, way, dealt, monkeypatch):
    if dealt == "by counting all ways":
        monkeypatch.setattr(plan, "MOST_IN_VAIN", 0)
    elif dealt == "with few digits":  # so that more digits are needed again and again
        monkeypatch.setattr(Odds.__init__, "__defaults__", ((), None, 4))
    options = {name: value for name, value in way.items() if name not in ("overlaid", "fldc_share")}
    overlaid = way.get("overlaid", (0, rows * columns))
    least, most = (overlaid, overlaid) if isinstance(overlaid, int) else overlaid
    if "fldc_share" in way:
        least, most = 2, 3  # 0.1 to 0.2 of 15 squares
    size = 40 if dealt == "as usual" else 10
    everyone = [grid for grid, n in fair_everything(rows, columns, options).items() if least <= n <= most]
    assert count_motifs(rows, columns, **way) == len(everyone)
    drawn = random_motifs(size * (len(everyone) + 100), rows, columns, rng=np.random.default_rng(11), **way)
    statistic, limit = misfit(drawn.grids, everyone)
    assert statistic <= limit


def fair_everything(rows, columns, options):
    """As `everything`, column by column where it can be, so that larger sizes can be tried."""
    free = {name: value for name, value in options.items() if name == "repeats_up"}
    columns_of = [np.frombuffer(column, dtype=bool) for column in everything(rows, 1, **free)]
    keep = options.get("symmetry", ())
    pairs = list(
        opponents.agreeing((rows, columns), (keep,) if isinstance(keep, str) else keep, None, options.get("repeat_up"))
    )
    found = {}
    for parts in product(columns_of, repeat=columns):
        grid = np.stack(parts, axis=1)
        if all((grid[a] != grid[b]) == swapped for a, b, swapped in pairs):
            found[grid.tobytes()] = sum(map(sum, opponents.overlaid(grid.tolist(), "MC")))
    return found


def test_a_draw_that_goes_square_by_square_with_even_chances_is_found_unfair():
    """The check itself: the obvious way to draw, overlaid or not by a coin where it is free, favours full columns."""
    rng = np.random.default_rng(11)
    everyone = list(fair_everything(5, 2, {}))
    coins = rng.random((5000, 5, 2)) < 0.5
    coins[:, [0, -1]] = False
    for row in range(1, 5):
        coins[:, row] &= ~coins[:, row - 1]
    statistic, limit = misfit(coins ^ (np.arange(5) % 2 == 1)[:, np.newaxis], everyone)
    assert statistic > 3 * limit


def test_numbers_too_large_for_the_machine_are_drawn_evenly_too():
    # 120 rows: the 120th Fibonacci number has 83 bits. The chance that a square in the middle is overlaid is exact.
    rows, count = 120, 6000
    drawn = random_motifs(count, rows, 1, rng=np.random.default_rng(3))
    fibonacci = [0, 1]
    while len(fibonacci) <= rows:
        fibonacci.append(fibonacci[-1] + fibonacci[-2])
    overlaid = np.stack([motif.overlaid[:, 0] for motif in drawn[:count]])
    for row in (1, 2, 57, 118):  # overlaid there: what is below and above, each with a plain end toward it
        chance = fibonacci[row] * fibonacci[rows - 1 - row] / fibonacci[rows]
        deviation = (overlaid[:, row].sum() - count * chance) / np.sqrt(count * chance * (1 - chance))
        assert abs(deviation) < 5
    assert not overlaid[:, [0, -1]].any()


def test_large_motifs_with_a_given_number_have_it_and_are_spread_evenly_over_the_columns():
    drawn = random_motifs(300, 30, 12, rng=np.random.default_rng(2), overlaid=100)
    overlaid = np.stack([motif.overlaid for motif in drawn])
    assert (overlaid.sum(axis=(1, 2)) == 100).all()
    by_column = overlaid.sum(axis=(0, 1))
    assert abs(by_column - 2500).max() < 5 * np.sqrt(300 * 9)


@pytest.mark.thorough
def test_the_columns_of_a_large_motif_hold_as_many_overlaid_squares_as_counts_of_smaller_ones_say():
    rows, columns, overlaid, count = 40, 40, 300, 6000
    drawn = random_motifs(count, rows, columns, rng=np.random.default_rng(5), overlaid=overlaid)
    every = count_motifs(rows, columns, overlaid=overlaid)
    chances = [
        count_motifs(rows, 1, overlaid=k) * count_motifs(rows, columns - 1, overlaid=overlaid - k) / every
        for k in range(20)
    ]
    assert sum(chances) == pytest.approx(1, abs=1e-12)
    orientations = np.stack([motif.overlaid for motif in drawn])
    for column in (0, 17, 39):
        seen = np.bincount(orientations[:, :, column].sum(axis=1), minlength=20)
        often = np.array(chances) * count > 8
        expected = np.append(np.array(chances)[often], 1 - np.array(chances)[often].sum()) * count
        seen = np.append(seen[often], count - seen[often].sum())
        assert ((seen - expected) ** 2 / expected).sum() < chi2.isf(1e-6, len(seen) - 1)


@given(
    st.lists(st.integers(1, 10**80), min_size=1, max_size=30),
    st.floats(-12, 12),
    st.integers(0, 2**32),
)
def test_weights_of_few_digits_put_the_borders_where_whole_numbers_put_them(counts, log, seed):
    tilt = Tilt.near(log)
    odds = Odds(counts, range(len(counts)), tilt)
    low, high = sorted((tilt.share, 1 << tilt.bits))
    more, fewer = (high, low) if log > 0 else (low, high)
    # the weight of k is count × (more / fewer)ᵏ, by whole numbers
    exact = [count * more**k * fewer ** (len(counts) - 1 - k) for k, count in enumerate(counts)]
    borders = [sum(exact[:k]) * 2**62 // sum(exact) for k in range(1, len(counts))]
    assert all(abs(ours - border) <= 1 for ours, border in zip(odds.borders.tolist(), borders, strict=True))
    drawn = odds.draw(50, np.random.default_rng(seed))
    again = np.random.default_rng(seed).integers(1 << 62, size=50, dtype=np.uint64).tolist() if borders else []
    for number, fraction in zip(drawn.tolist(), again, strict=False):
        assert number == sum(border <= fraction for border in borders)


# ---- laws --------------------------------------------------------------------------------------------------


@given(
    st.integers(1, 9),
    st.integers(1, 9),
    st.sampled_from(WAYS),
    st.booleans(),
    roles,
    st.integers(0, 2**32),
)
def test_what_is_drawn_is_as_asked(rows, columns, way, repeats_up, first, seed):
    if not fits(way, rows, columns, repeats_up):
        return
    options = {**way, "repeats_up": repeats_up, "first": first}
    motif = random_motif(rows, columns, rng=np.random.default_rng(seed), **options)
    assert motif.shape == (rows, columns)
    assert motif.first == first
    assert mk.check(motif, repeats_up=repeats_up).ok
    keep = way.get("symmetry", ())
    pairs = opponents.agreeing(
        motif.shape, (keep,) if isinstance(keep, str) else keep, way.get("repeat_across"), way.get("repeat_up")
    )
    assert all((motif.grid[a] != motif.grid[b]) == swapped for a, b, swapped in pairs)
    again = random_motif(rows, columns, rng=np.random.default_rng(seed), **options)
    assert again == motif


@given(st.integers(3, 9), st.integers(1, 9), st.integers(0, 2**32))
def test_a_range_of_shares_is_kept(rows, columns, seed):
    motif = random_motif(rows, columns, rng=np.random.default_rng(seed), fldc_share=(0, 0.2))
    assert motif.overlaid.mean() <= 0.2


def test_drawn_motifs_are_a_sequence_in_the_yarns_asked_for():
    yarns = Yarns(mc=Yarn("sand", "#e9dcc3"), cc=Yarn("deep", "#123f5a"))
    drawn = random_motifs(5, 4, 3, rng=np.random.default_rng(1), first="CC", yarns=yarns)
    assert len(drawn) == 5
    assert len(drawn[1:3]) == 2
    assert [motif.yarns for motif in drawn] == [yarns] * 5
    assert drawn[-1] == drawn[4]
    assert drawn[1:3][0] == drawn[1]
    assert repr(drawn) == "<DrawnMotifs 5 of 4 rows × 3 stitches>"
    with pytest.raises(ValueError, match="read-only"):
        drawn.grids[0, 0, 0] = True


# ---- sizes -------------------------------------------------------------------------------------------------

LARGE = """
import resource, sys
import numpy as np
from mosaickit import check
from mosaickit.ideas import random_motif
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
size = int(next(line for line in open("/proc/self/status") if line.startswith("VmSize")).split()[1]) * 1024
resource.setrlimit(resource.RLIMIT_AS, (size + 500_000_000, size + 500_000_000))
for rows, stitches, options in [
    (200, 200, {"fldc_share": (0.2, 0.21)}),
    (1000, 1000, {"fldc_share": (0.2, 0.21)}),
    (1000, 1000, {"overlaid": 200_000, "symmetry": "half-turn"}),
    (5001, 3, {"overlaid": (2000, 2001)}),
    (9999, 1600, {}),
]:
    motif = random_motif(rows, stitches, rng=np.random.default_rng(1), **options)
    assert motif.shape == (rows, stitches)
    low, high = options.get("fldc_share", (0, 1))
    assert low <= motif.overlaid.mean() <= high
    low, high = (end for end in np.ravel(options.get("overlaid", (0, 16_000_000)))[[0, -1]])
    assert low <= motif.overlaid.sum() <= high
    report = check(motif)
    assert report.ok
    str(report)
"""


@pytest.mark.thorough
@pytest.mark.skipif(sys.platform != "linux", reason="only Linux limits the memory of a process so")
def test_motifs_as_large_as_they_may_be_are_drawn_and_checked_in_half_a_gigabyte():
    subprocess.run([sys.executable, "-c", LARGE], check=True, timeout=300, env={**os.environ, "OMP_NUM_THREADS": "1"})


def test_the_only_motif_that_there_is_gets_drawn():
    # 71 columns of a repeat, 30 of them come 71 times and 41 come 70 times: 2130 is 30 times 71 and nothing else
    motif = random_motif(3, 5000, rng=np.random.default_rng(1), repeat_across=71, overlaid=2130)
    assert motif.overlaid[1].tolist() == [x % 71 < 30 for x in range(5000)]
    assert count_motifs(3, 5000, repeat_across=71, overlaid=2130) == 1


def test_motifs_too_rare_to_be_drawn_name_a_range_that_can_be():
    # 30 columns of the repeat come 250 times and 10 come 249 times, so that 370 classes of the 30 must be overlaid: 246
    # are usual, give or take 9
    size, options = (31, 9990), {"repeat_across": 40}
    with pytest.raises(
        OptionError,
        match=r"too few workable pictures of 31 rows × 9,990 stitches .*, or none, .* as overlaid=\(\d+, \d+\)",
    ) as refused:
        random_motif(*size, rng=np.random.default_rng(1), overlaid=249 * 82 + 250 * 370, **options)
    wider = tuple(map(int, re.search(r"overlaid=\((\d+), (\d+)\)", str(refused.value)).groups()))
    motif = random_motif(*size, rng=np.random.default_rng(1), overlaid=wider, **options)
    assert wider[0] <= motif.overlaid.sum() <= wider[1]


def test_a_long_repeat_that_is_cut_off_names_one_that_is_not():
    with pytest.raises(OptionError, match="take a `repeat_up` that divides the 10,000 rows, as repeat_up=5000"):
        random_motif(10_000, 2, rng=RNG, repeat_up=7000)
    motif = random_motif(10_000, 2, rng=RNG, repeat_up=5000)
    assert np.array_equal(motif.grid[:5000], motif.grid[5000:])


def test_motifs_too_many_to_be_counted_by_their_overlaid_squares_say_what_can_be_counted():
    with pytest.raises(
        OptionError, match=r"1,000 rows × 1,000 stitches by how many .* 10\^208,638 in all. Leave out `overlaid`"
    ):
        count_motifs(1000, 1000, fldc_share=(0.2, 0.21))
    fibonacci = [0, 1]
    for _ in range(999):
        fibonacci.append(fibonacci[-1] + fibonacci[-2])
    assert count_motifs(1000, 1000) == fibonacci[1000] ** 1000


def test_a_number_of_overlaid_squares_that_a_large_motif_cannot_have_is_refused_at_once():
    with pytest.raises(OptionError, match="has 9,000,000 overlaid squares: take 7996000, or another size"):
        random_motif(4000, 4000, rng=RNG, overlaid=9_000_000)


# ---- what cannot be ----------------------------------------------------------------------------------------

RNG = np.random.default_rng(0)


def test_a_number_of_overlaid_squares_that_cannot_be_names_those_that_can():
    with pytest.raises(
        OptionError,
        match="No workable picture of 5 rows × 4 stitches that is as asked has 3 overlaid squares: take 2 or 4, or",
    ):
        random_motif(5, 4, rng=RNG, symmetry="mirror", overlaid=3)
    with pytest.raises(OptionError, match="has 7 to 9 overlaid squares: take 6, or another size"):
        random_motif(5, 3, rng=RNG, overlaid=(7, 9))
    with pytest.raises(OptionError, match="1 row × 3 stitches that is as asked has 1 overlaid square: take 0, or"):
        random_motif(1, 3, rng=RNG, overlaid=1)


def test_a_size_at_which_colours_would_swap_names_those_at_which_they_keep():
    with pytest.raises(
        OptionError, match='other row colours and has its colours swapped: take 39 or 41 rows, or colours="swap"'
    ):
        random_motif(40, 40, rng=RNG, symmetry="half-turn", colours="keep")
    with pytest.raises(OptionError, match=r"Repeated every 3 rows, .* take repeat_up=2, or repeat_up=4, or colours"):
        count_motifs(9, 4, repeat_up=3, colours="keep")
    assert count_motifs(9, 4, repeat_up=2, colours="keep") == count_motifs(9, 4, repeat_up=2)
    with pytest.raises(OptionError, match='its colours swapped: take 8 or 10 rows, or colours="swap"'):
        count_motifs(9, 4, repeats_up=True, colours="keep")
    with pytest.raises(OptionError, match='its colours swapped: take repeat_up=2, or repeat_up=4, or colours="swap"'):
        count_motifs(12, 4, repeat_up=3, repeats_up=True, colours="keep")
    assert count_motifs(39, 4, symmetry="half-turn", colours="keep") == count_motifs(39, 4, symmetry="half-turn")


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (
            {"symmetry": "quarter-turn"},
            "must be one of 'mirror', 'up-down', 'half-turn', or several of them; got 'quarter-turn'",
        ),
        ({"repeat_up": 4, "repeats_up": True}, "divide the 6 rows .* got 4. Sizes that would do: 4 or 8 rows"),
        ({"repeat_across": 9}, "`repeat_across` must be at most the picture's 5; got 9"),
        ({"overlaid": (3, 2)}, r"`overlaid` must be \(least, most\), the smaller one first; got \(3, 2\)"),
        ({"overlaid": -1}, "`overlaid` must be a whole number of 0 or more; got -1"),
        ({"overlaid": (1, 2, 3)}, r"`overlaid` must be \(least, most\); got \(1, 2, 3\)"),
        ({"fldc_share": 0.2}, r"`fldc_share` must be \(least, most\); got 0\.2"),
        ({"fldc_share": (0.2, 1.5)}, "`fldc_share` must be a number from 0 to 1; got 1.5"),
        ({"fldc_share": (0.34, 0.35)}, "No whole number of 30 squares lies within `fldc_share`"),
        ({"fldc_share": (0, 1), "overlaid": 3}, "say the same: give one of them"),
        ({"first": "red"}, "`first` must be one of 'MC', 'CC'; got 'red'"),
        ({"rng": 7}, r"`rng` must be a NumPy Generator, as numpy\.random\.default_rng\(7\); got 7"),
    ],
    ids=str,
)
def test_what_has_no_meaning_is_refused(options, message):
    with pytest.raises(OptionError, match=message):
        random_motifs(2, 6, 5, **{"rng": RNG, **options})


def test_a_size_that_no_motif_has_is_refused():
    with pytest.raises(OptionError, match="`rows` must be a whole number of 0 or more; got 'six'"):
        count_motifs("six", 3, fldc_share=(0, 1))
    with pytest.raises(MotifError, match="at least 1 row and 1 column; got 0 × 3"):
        count_motifs(0, 3)


def test_more_motifs_than_memory_holds_are_refused_at_once_and_the_number_named_is_taken(monkeypatch):
    with pytest.raises(OptionError, match=r"`count` must be at most 50,000,000 for motifs of this size.*got 1000000"):
        random_motifs(10**30, 5, 4, rng=np.random.default_rng(1))
    monkeypatch.setattr("mosaickit.ideas.chance.drawing.MOST_SQUARES_AT_ONCE", 60)
    with pytest.raises(OptionError, match="at most 3 "):
        random_motifs(4, 5, 4, rng=np.random.default_rng(1))
    assert len(random_motifs(3, 5, 4, rng=np.random.default_rng(1))) == 3
