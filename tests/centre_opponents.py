"""Slow and simple ways to the same answers for squares worked from the centre, sharing no code with mosaickit.

Pictures are arrays of booleans as seen, True for CC. A turtle walks the rounds, a hook of plain objects works them
stitch by stitch, and the rules are said square by square in distances from the centre.
"""

from itertools import combinations

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp


class RefusedError(Exception):
    """A stitch that cannot be made: its round and its number in it."""


def walk(rounds, number, left_handed=False):
    """The squares of a round in working order: from above the centre to the left, and so round; or mirrored."""
    row, column = rounds - number, rounds
    squares = []
    for steps, down, across in (
        (number, 0, -1),
        (2 * number, 1, 0),
        (2 * number, 0, 1),
        (2 * number, -1, 0),
        (number, 0, -1),
    ):
        for _ in range(steps):
            squares.append((row, 2 * rounds - column if left_handed else column))
            row, column = row + down, column + across
    assert (row, column) == (rounds - number, rounds)
    return squares


# ---- rules -------------------------------------------------------------------------------------------------


def colour_of_ring(ring, first):
    """True for CC; the ring at the centre is made with the yarn of round 1."""
    return (first == "CC") == (max(ring, 1) % 2 == 1)


def overlaid(grid, first):
    n = len(grid) // 2
    return {
        (down, across): bool(grid[n + down][n + across]) != colour_of_ring(max(abs(down), abs(across)), first)
        for down in range(-n, n + 1)
        for across in range(-n, n + 1)
    }


def inward(down, across):
    """The square straight inward of one that is in no corner."""
    step = lambda x: x - (x > 0) + (x < 0)  # noqa: E731
    return (step(down), across) if abs(down) > abs(across) else (down, step(across))


def workable(grid, first):
    n = len(grid) // 2
    marked = [square for square, here in overlaid(grid, first).items() if here]
    loops = []
    for down, across in marked:
        ring = max(abs(down), abs(across))
        if abs(down) == abs(across) or not 2 <= ring <= n - 1:
            return False
        below = inward(down, across)
        if below in marked:  # one straight inward is overlaid too
            return False
        loops.append(below)
    return len(set(loops)) == len(loops)  # no two FLdc in one front loop


def conflicts(n):
    """What an integer program needs: the squares that may be overlaid, and the pairs of which only one may be."""
    free = [
        (down, across)
        for down in range(-n, n + 1)
        for across in range(-n, n + 1)
        if abs(down) != abs(across) and 2 <= max(abs(down), abs(across)) <= n - 1
    ]
    loops = {square: inward(*square) for square in free}
    pairs = [(a, b) for a, b in combinations(free, 2) if loops[a] == loops[b] or loops[a] == b or loops[b] == a]
    return free, pairs


def least_change(grid, first, symmetries=()):
    """The fewest squares to change, by HiGHS; `symmetries` are functions from a square to one that must agree."""
    n = len(grid) // 2
    marked = overlaid(grid, first)
    free, pairs = conflicts(n)
    number = {square: index for index, square in enumerate(free)}
    cost = np.array([-1.0 if marked[square] else 1.0 for square in free])
    rows, lower, upper = [], [], []
    for a, b in pairs:
        row = np.zeros(len(free))
        row[[number[a], number[b]]] = 1
        rows.append(row), lower.append(-np.inf), upper.append(1)
    for turn in symmetries:
        for square in free:
            row = np.zeros(len(free))
            row[number[square]] += 1
            row[number[turn(square)]] -= 1
            rows.append(row), lower.append(0), upper.append(0)
    if not free:
        return sum(marked.values())
    solved = milp(
        cost,
        integrality=np.ones(len(free)),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(np.array(rows), lower, upper),
    )
    assert solved.success
    return round(solved.fun) + sum(marked.values())


# ---- the hook ----------------------------------------------------------------------------------------------


class Made:
    """One stitch with its two loops."""

    def __init__(self, number, below, corner, grouped):
        self.shows, self.below, self.corner, self.grouped = number, below, corner, grouped
        self.front_free, self.back_free = True, True


def worked(rounds):
    """Work rounds of "sc", "BLsc", "FLdc", stitch by stitch; gives what was made, by round."""
    done = []
    for number, kinds in enumerate(rounds, 1):
        if number == 1:
            places = [(None, position % 2 == 1, False) for position in range(8)]
        else:
            places = []
            for below in done[-1]:
                for third in range(3 if below.corner else 1):
                    places.append((below, below.corner and third == 1, below.corner))
        assert len(places) == len(kinds)
        this = []
        for position, (kind, (below, corner, grouped)) in enumerate(zip(kinds, places, strict=True), 1):
            if (kind == "sc") != (number == 1):
                raise RefusedError(number, position)
            if kind == "BLsc":
                below.back_free = False
            if kind == "FLdc":
                under = below.below
                if grouped or under is None or not under.front_free:
                    raise RefusedError(number, position)
                under.front_free = below.front_free = False
                below.shows = number
            this.append(Made(number, below, corner, grouped))
        done.append(this)
    return done


def seen(rounds, first, left_handed=False):
    """The picture that the hook makes, True for CC."""
    n = len(rounds)
    grid = np.full((2 * n + 1, 2 * n + 1), colour_of_ring(0, first))
    for number, stitches in enumerate(worked(rounds), 1):
        for stitch, square in zip(stitches, walk(n, number, left_handed), strict=True):
            grid[square] = colour_of_ring(stitch.shows, first)
    return grid
