"""Slow and simple ways to the same answers, written from the rules of the craft and sharing no code with mosaickit.

Pictures here are lists or arrays of booleans as seen, True for CC. `everything` tries all pictures, `milp` hands
the question to the integer program solver of SciPy (HiGHS).
"""

from itertools import product

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array


def row_colour(row, first):
    """The colour of row 1, 2, ... as True for CC."""
    return (first == "CC") == (row % 2 == 1)


def overlaid(grid, first):
    rows = len(grid)
    return [[bool(square) != row_colour(rows - i, first) for square in line] for i, line in enumerate(grid)]


def workable(grid, first, repeats_up=False):
    """Whether a picture can be worked, square by square."""
    o = overlaid(grid, first)
    rows, columns = len(o), len(o[0])
    for x in range(columns):
        if not repeats_up and (o[0][x] or o[rows - 1][x]):
            return False
        for i in range(rows if repeats_up else rows - 1):
            if o[i][x] and o[(i + 1) % rows][x]:
                return False
    return True


def agreeing(shape, symmetry=(), repeat_across=None, repeat_up=None):
    """All pairs of squares that a symmetry makes agree: ((i, x), (j, y), whether in swapped colours)."""
    rows, columns = shape
    for i, x in product(range(rows), range(columns)):
        upside, mirrored = rows - 1 - i, columns - 1 - x
        swapped = rows % 2 == 0
        if "mirror" in symmetry:
            yield (i, x), (i, mirrored), False
        if "up-down" in symmetry:
            yield (i, x), (upside, x), swapped
        if "half-turn" in symmetry:
            yield (i, x), (upside, mirrored), swapped
        if repeat_across and x + repeat_across < columns:
            yield (i, x), (i, x + repeat_across), False
        if repeat_up and i + repeat_up < rows:
            yield (i, x), (i + repeat_up, x), repeat_up % 2 == 1


def everything(grid, first, weights, repeats_up=False, **symmetry):
    """The least cost of change to a workable picture with the symmetry, by trying all pictures."""
    shape = grid.shape
    pairs = list(agreeing(shape, **symmetry))
    best = np.inf
    for bits in range(1 << grid.size):
        candidate = np.array([bits >> k & 1 for k in range(grid.size)], dtype=bool).reshape(shape)
        cost = weights[candidate != grid].sum()
        if (
            cost < best
            and all((candidate[a] != candidate[b]) == swapped for a, b, swapped in pairs)
            and workable(candidate, first, repeats_up)
        ):
            best = cost
    return best


def program(grid, first, weights, repeats_up=False, **symmetry):
    """The integer program for the same question, one 0/1 variable a square, its colour: what `milp` takes."""
    rows, columns = grid.shape
    number = np.arange(grid.size).reshape(grid.shape)
    # changing a square costs its weight: w·p where it was MC, w·(1 − p) where it was CC
    cost = np.where(grid, -weights, weights)
    lower, upper = np.zeros(grid.shape), np.ones(grid.shape)
    cc = [row_colour(rows - i, first) for i in range(rows)]
    if not repeats_up:
        for i in (0, rows - 1):
            lower[i] = upper[i] = cc[i]
    entries, bounds = [], []

    def constrain(terms, least, most):
        entries.extend((len(bounds), number[square], factor) for square, factor in terms)
        bounds.append((least, most))

    for i in range(rows if repeats_up else rows - 1):
        below = (i + 1) % rows
        for x in range(columns):
            # overlaid is p in an MC row and 1 - p in a CC row; at most one of the two
            sign, other_sign = (-1 if cc[i] else 1), (-1 if cc[below] else 1)
            constrain([((i, x), sign), ((below, x), other_sign)], -np.inf, 1 - cc[i] - cc[below])
    for a, b, swapped in agreeing(grid.shape, **symmetry):
        if a == b:
            assert not swapped, "a square can't be the colour swap of itself"
        elif swapped:
            constrain([(a, 1), (b, 1)], 1, 1)
        else:
            constrain([(a, 1), (b, -1)], 0, 0)
    constraints = []
    if bounds:
        i, j, v = zip(*entries, strict=True)
        matrix = coo_array((v, (i, j)), shape=(len(bounds), grid.size))
        least, most = zip(*bounds, strict=True)
        constraints = [LinearConstraint(matrix.tocsr(), least, most)]
    return {
        "c": cost.ravel(),
        "integrality": np.ones(grid.size),
        "bounds": Bounds(lower.ravel(), upper.ravel()),
        "constraints": constraints,
    }


def integer_program(grid, first, weights, repeats_up=False, **symmetry):
    """The same least cost from the integer program."""
    solved = milp(**program(grid, first, weights, repeats_up, **symmetry))
    assert solved.success, solved.message
    return solved.fun + weights[grid].sum()
