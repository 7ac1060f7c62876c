"""Objectives for the tests of the search: functions that another process can import."""

import os
from functools import cache, partial
from pathlib import Path

import numpy as np

from mosaickit import Batch, search_motifs

CALLS = []
"""The pictures that `counted` was asked for, in this process."""


SEARCHES = {
    "in runs": {"start": (8, 12), "symmetry": "mirror", "runs": 24, "steps": 60, "most": 5},
    "of all": {"start": (8, 4), "symmetry": "half-turn", "most": 5},
}
"""Among too many motifs to try, and among few enough, which is then cut into batches."""


def told(how, folder, **batch):
    """Search, and say what was found and which processes scored motifs."""
    folder.mkdir()
    found = search_motifs(
        objective=partial(marking, str(folder)),
        rng=np.random.default_rng(5),
        batch=Batch(progress=False, **batch),
        **SEARCHES[how],
    )
    return {
        "motifs": [motif.to_text() for motif in found.motifs],
        "scores": list(found.scores),
        "tried": found.tried,
        "space": found.space,
        "all tried": found.all_tried,
        "processes": sorted(int(mark.name) for mark in folder.iterdir()),
    }


def marking(folder, motif):
    """Give a motif its score, and leave a mark that says which process did it."""
    (Path(folder) / str(os.getpid())).touch()
    return pleasing(motif)


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
