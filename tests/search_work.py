"""Objectives for the tests of the search: functions that another process can import."""

from functools import cache

import numpy as np

CALLS = []
"""The pictures that `counted` was asked for, in this process."""


def pleasing(motif):
    """Give each picture a number of its own, which no symmetry explains: no two of a size score the same."""
    return float(prices(motif.grid.size)[motif.grid.ravel()].sum())


@cache
def prices(squares):
    return np.sqrt(2.0 + np.random.default_rng(squares).permutation(squares))


def counted(motif):
    """Do the same, and put down that it was done."""
    CALLS.append(motif.to_text())
    return pleasing(motif)


def like_target(motif):
    """Give the share of squares that are those of a hidden picture."""
    return float((motif.grid == hidden(motif).grid).mean())


def hidden(motif):
    """Draw a workable picture of a motif's size: overlaid where chance says so and none is overlaid below."""
    wanted = np.random.default_rng(3).random(motif.shape) < 0.5
    wanted[[0, -1]] = False
    for row in range(1, len(wanted)):
        wanted[row] &= ~wanted[row - 1]
    return motif.with_grid(wanted ^ motif.row_is_cc)


def dislikes_overlaid(motif):
    """Fail where anything in the first column is overlaid, and give no number where the last one is all plain."""
    if motif.overlaid[:, 0].any():
        raise ZeroDivisionError("the first column")
    return pleasing(motif) if motif.overlaid[:, -1].any() else float("nan")
