"""The core at sizes far above any blanket: repair, check, compile, count."""

import numpy as np
import opponents
import pytest
from scipy.optimize import milp

import mosaickit as mk


@pytest.fixture(scope="module")
def additions():
    """Add two float64 grids of 1000 × 1000: the unit that the other figures are counted in."""
    rng = np.random.default_rng(1)
    a, b = rng.random((1000, 1000)), rng.random((1000, 1000))
    return lambda: a + b


def picture(size):
    return mk.Motif(np.random.default_rng(size).random((size, size)) < 0.5)


def test_nearest_workable_against_an_integer_program(ratio):
    motif = picture(400)
    program = opponents.program(motif.grid, motif.first, np.ones(motif.shape))
    ratio(
        "nearest workable, 400 × 400",
        lambda: mk.nearest_workable(motif),
        lambda: milp(**program),
        "SciPy's HiGHS on the integer program",
        other_rounds=3,
        at_least=150,
    )


def test_nearest_workable_of_a_million_squares(ratio, additions):
    motif = picture(1000)
    ratio(
        "nearest workable, 1000 × 1000",
        lambda: mk.nearest_workable(motif),
        additions,
        "one addition of two float64 grids",
        other_rounds=25,
        within=60,
    )


def test_check_compile_and_count_of_a_million_squares(ratio, additions):
    motif = mk.nearest_workable(picture(1000)).motif

    def chain():
        fresh = motif.with_grid(motif.grid)  # nothing kept from the call before
        assert mk.check(fresh).ok
        return mk.tables.count(mk.compile_chart(fresh, reversible=True))

    ratio(
        "check + compile + count, 1000 × 1000, reversible",
        chain,
        additions,
        "one addition of two float64 grids",
        other_rounds=25,
        within=100,
    )
