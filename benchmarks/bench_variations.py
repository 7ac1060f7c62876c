"""Variations: symmetry, motifs drawn at random and families, each beside the plain way to the same."""

from math import comb

import numpy as np
import pytest

import mosaickit as mk
from mosaickit.fabric import count_rows
from mosaickit.ideas import family, random_motif, random_motifs
from mosaickit.motif import Motif, symmetry


def fibonacci(n):
    numbers = [0, 1]
    while len(numbers) <= n:
        numbers.append(numbers[-1] + numbers[-2])
    return numbers


def drawn_one_by_one(count, size, rng):
    """Half-turn symmetric pictures, square by square, by the same exact counts."""
    fillings = fibonacci(size)
    pictures = []
    for _ in range(count):
        overlaid = np.zeros((size, size), dtype=bool)
        for column in range(size // 2):
            below = False
            for row in range(1, size - 1):
                # with a plain square below, this many fillings go on plain, of so many in all
                left = size - row
                below = not below and int(rng.integers(fillings[left])) >= fillings[left - 1]
                overlaid[row, column] = overlaid[size - 1 - row, size - 1 - column] = below
        pictures.append(Motif(overlaid))
    return pictures


def test_motifs_drawn_at_random(ratio):
    rng = np.random.default_rng(1)
    ratio(
        "500 uniform motifs of 40 × 40 with half-turn symmetry",
        lambda: random_motifs(500, 40, 40, rng=rng, symmetry="half-turn"),
        lambda: drawn_one_by_one(500, 40, rng),
        "drawn square by square",
        other_rounds=1,
        at_least=25,
    )


def columns_drawn_one_by_one(rows, columns, overlaid, rng):
    """One picture with so many overlaid squares: all ways to share them out counted, column by column."""
    fillings = [comb(rows - 1 - k, k) for k in range((rows - 1) // 2 + 1)]
    ways = [np.array([1], dtype=object)]
    for _ in range(columns):
        ways.append(np.convolve(ways[-1], fillings))
    left, numbers = overlaid, []
    for column in range(columns, 0, -1):
        may = [
            fillings[k] * int(ways[column - 1][left - k]) if 0 <= left - k < len(ways[column - 1]) else 0
            for k in range(len(fillings))
        ]
        rank, k = int.from_bytes(rng.bytes(ways[column][left].bit_length() // 8 + 9)) % sum(may), 0
        while rank >= may[k]:
            rank, k = rank - may[k], k + 1
        numbers.append(k)
        left -= k
    return numbers


def test_a_motif_with_a_given_share(ratio):
    rng = np.random.default_rng(1)
    ratio(
        "a uniform motif of 60 × 60 with 720 overlaid squares",
        lambda: random_motif(60, 60, rng=rng, overlaid=720),
        lambda: columns_drawn_one_by_one(60, 60, 720, rng),
        "how many each column holds, by counting all ways",
        other_rounds=1,
        at_least=10,
    )


def test_a_motif_of_a_million_squares_with_a_given_share(ratio):
    rng = np.random.default_rng(1)
    ratio(
        "a uniform motif of 1000 × 1000 with a share of 0.20 to 0.21",
        lambda: random_motif(1000, 1000, rng=rng, fldc_share=(0.2, 0.21)),
        lambda: random_motif(1000, 1000, rng=rng),
        "one with any share",
        within=20,
    )


def every_finding(report):
    return "\n".join(map(str, report.findings))


def test_a_report_of_a_large_motif_is_printed(ratio):
    grid = np.random.default_rng(1).random((1000, 1000)) < 0.5
    ratio(
        "the report of a picture of 1000 × 1000, checked and printed",
        lambda: str(mk.check(Motif(grid))),
        lambda: every_finding(mk.check(Motif(grid))),
        "all its findings put in words",
        other_rounds=1,
        at_least=10,
    )


def all_shifts(grid):
    """Find the shifts that keep the picture, and no other moves: an eighth of the work."""
    rows, columns = grid.shape
    return [
        (up, along)
        for up in range(rows)
        for along in range(columns)
        if np.array_equal(grid, np.roll(grid, (up, along), axis=(0, 1)))
    ]


def test_symmetry_against_rolling_the_picture(ratio):
    motif = random_motif(100, 100, rng=np.random.default_rng(1), symmetry="half-turn")
    ratio(
        "symmetry of a repeat of 100 × 100, all moves",
        lambda: symmetry(motif),
        lambda: all_shifts(motif.grid),
        "the shifts that keep it, each rolled and compared",
        other_rounds=3,
        at_least=2,
    )


@pytest.fixture(scope="module")
def motif():
    return random_motif(31, 30, rng=np.random.default_rng(1), fldc_share=(0.1, 0.2))


def one_by_one(original, motifs):
    """Mend and measure one after the other: compile both fabrics, work the reversible one, try all shifts."""
    rows, columns = original.shape
    for motif in motifs:
        made = mk.nearest_workable(motif).motif
        plain, closed = (mk.compile_chart(made, reversible=reversible) for reversible in (False, True))
        for chart in (plain, closed):
            count_rows(chart)
        fabric = mk.work(closed)
        np.count_nonzero(fabric.front != fabric.back[:, ::-1])
        # the original laid again and again, under the variant at every shift
        copies = [size // side + 2 for size, side in zip(made.shape, original.shape, strict=True)]
        tiled = np.tile(original.grid, copies)
        max(
            np.count_nonzero(made.grid == tiled[up : up + made.shape[0], right : right + made.shape[1]])
            for up in range(rows)
            for right in range(columns)
        )


def test_a_family_against_variants_mended_and_measured_one_by_one(ratio, motif):
    variants = family(motif, steps=2, alike="picture", most=500)
    assert len(variants) == 500
    ratio(
        "a family of 500 variants of 31 × 30, made, mended and measured",
        lambda: family(motif, steps=2, alike="picture", most=500),
        lambda: one_by_one(motif, [variant.motif for variant in variants]),
        "the same variants mended and measured one by one",
        rounds=5,
        other_rounds=1,
        at_least=5,
    )
