"""The search itself: what is asked, handed out in batches, and what was found."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from heapq import nsmallest
from typing import Any

import numpy as np

from mosaickit.batches import USUAL_BATCH, Batch, run_batches
from mosaickit.errors import MotifError, StoppedError, number_of, of_kind, one_of, whole_number
from mosaickit.ideas.chance.requests import check_rng
from mosaickit.ideas.search.objectives import Objective, check_pickles, describe, objective_of
from mosaickit.ideas.search.spaces import Space, key_of, space_of
from mosaickit.ideas.search.trials import MOST_FAILURES, ON_ERROR, Failure, Judge, OnError, Tried, anneal, try_all
from mosaickit.motif import Motif, SymmetryName
from mosaickit.orientation import Role

MOST_KEPT = 10_000
"""A search gives no more motifs than this."""

MOST_TRIED = 10_000_000
"""No more motifs than this are tried one by one, or met by one run."""

MOST_RUNS = 100_000
"""A search makes at most this many runs; no one waits for more."""

MOTIFS_A_BATCH = 5000
"""Motifs that are tried in one go, when all are."""


@dataclass(frozen=True, repr=False, eq=False)
class Found:
    """The best motifs that were found.

    Attributes
    ----------
    motifs : tuple of Motif
        Different from each other, the best first.
    scores : tuple of float
        What the objective gave for each.
    tried : int
        How many motifs were scored; those that several runs met count several times.
    space : int
        How many motifs there are of this size and symmetry.
    all_tried : bool
        Whether every one of them was tried, so that nothing is better.
    finished : bool
        Whether the search ran to its end, rather than being stopped.
    failed : int
        How many motifs were left out because the objective failed on them.
    failures : tuple of Failure
        The first of them.
    """

    motifs: tuple[Motif, ...]
    scores: tuple[float, ...]
    tried: int
    space: int
    all_tried: bool
    finished: bool
    failed: int = 0
    failures: tuple[Failure, ...] = ()

    @property
    def best(self) -> Motif:
        """The best motif; a `MotifError` if there is none."""
        if not self.motifs:
            raise MotifError("The search found no motif, as the objective failed on all that were tried.")
        return self.motifs[0]

    def __len__(self) -> int:
        return len(self.motifs)

    def __iter__(self) -> Iterator[Motif]:
        return iter(self.motifs)

    def __repr__(self) -> str:
        space = f"{self.space:,}" if self.space < 10**15 else f"about 10^{math.log10(self.space):.0f}"
        best = f"the best scores {self.scores[0]:.4g}" if self.scores else "none has a score"
        tried = "all" if self.all_tried else f"{self.tried:,} tried"
        stopped = "" if self.finished else "; stopped before its end"
        left_out = f"; {self.failed:,} left out, as the objective failed" if self.failed else ""
        return f"<Found {number_of(len(self), 'motif')}, {best}; {tried} of {space}{left_out}{stopped}>"


def search_motifs(
    start: Motif | tuple[int, int],
    objective: Objective | str | Mapping[Any, float],
    *,
    rng: np.random.Generator,
    symmetry: SymmetryName | Iterable[SymmetryName] = (),
    first: Role | None = None,
    steps: int = 2000,
    runs: int = 16,
    most: int = 10,
    try_all_up_to: int = 1_000_000,
    on_error: OnError = "stop",
    batch: Batch = USUAL_BATCH,
) -> Found:
    """Find the motifs that score best among all that can be worked.

    Parameters
    ----------
    start : Motif, or (rows, stitches)
        A motif to set out from, from which the size, the colour of row 1 and the yarns are taken too; what cannot be
        worked or breaks the symmetry is mended first. Or a size, and runs set out from anywhere.
    objective : function from Motif to float, a name, or several with weights
        What is good, higher being better. Ready ones, each from 0 to 1: "balance", "low surcharge", "both faces",
        "edges match". A mapping of functions or names to weights above 0 makes their weighted mean. Options are given
        as by ``functools.partial(mosaickit.ideas.balance, share=0.4)``. It should give the same for the same motif.
    rng : numpy.random.Generator
        Where chance comes from: ``numpy.random.default_rng(7)`` finds the same every time, whatever runs it.
    symmetry : "mirror", "up-down", "half-turn", or several of them
        Symmetries that the motifs must have, as in `nearest_workable`.
    first : "MC" or "CC", optional
        The colour of row 1, MC if nothing is said; a motif to start from says it itself.
    steps, runs : int
        How many moves a run of annealing makes, and how many runs there are, from 1 to 10,000,000 and to 100,000.
    most : int
        How many motifs to give, from 1 to 10,000.
    try_all_up_to : int
        Up to how many motifs all of them are tried, at most 10,000,000; 0 if never.
    on_error : "stop" or "skip"
        What happens if the objective fails on a motif, or gives what is no finite number.
    batch : Batch
        How it is run. A search that is stopped gives the best of the batches that are done. Other processes have to be
        able to import the objective. With ``kept_in`` a changed objective is another task; what it uses from elsewhere
        is not looked at.

    Returns
    -------
    Found
        With ``.motifs``, the best first, and ``.scores``.

    Raises
    ------
    OptionError
        If an argument is not as described.
    UnfinishedError
        If the objective failed, naming the motif, and `on_error` is "stop"; or as `run_batches` raises it.
    StoppedError
        If it was stopped before anything was found.

    Examples
    --------
    >>> quiet = Batch(progress=False)
    >>> found = search_motifs((5, 4), "balance", rng=np.random.default_rng(7), symmetry="mirror", batch=quiet)
    >>> found
    <Found 10 motifs, the best scores 1; all of 25>
    >>> found.best.to_text().split()
    ['....', '####', '.##.', '####', '....']
    """
    check_rng(rng)
    one_of("on_error", on_error, ON_ERROR)
    of_kind("batch", batch, Batch)
    most = whole_number("most", most, least=1, most=MOST_KEPT)
    try_all_up_to = whole_number("try_all_up_to", try_all_up_to, most=MOST_TRIED)
    steps = whole_number("steps", steps, least=1, most=MOST_TRIED)
    runs = whole_number("runs", runs, least=1, most=MOST_RUNS)
    judged = objective_of(objective)
    space, half = space_of(start, symmetry, first)
    if isinstance(batch.executor, ProcessPoolExecutor):
        check_pickles(judged)

    judge = Judge(judged, most, on_error)
    everything = space.count <= try_all_up_to
    work: Callable[[Any], Any]
    if everything:
        work = partial(try_all, space, judge)
        batches = [[low, min(low + MOTIFS_A_BATCH, space.count)] for low in range(0, space.count, MOTIFS_A_BATCH)]
    else:
        work = partial(anneal, space, judge, half, steps)
        batches = rng.integers(1 << 62, size=runs).tolist()
    task = None
    if batch.kept_in is not None:
        begun = [space.describe(), most, on_error, describe(judged)]
        task = [*begun, "all"] if everything else [*begun, steps, None if half is None else key_of(half)]
    finished = True
    try:
        done = run_batches(work, batches, task=task, batch=batch)
    except StoppedError as stopped:
        if not stopped.results:
            raise
        finished, done = False, [stopped.results[number] for number in sorted(stopped.results)]
    return _gather(space, [Tried(*each) for each in done], most, everything, finished)


def _gather(space: Space, done: list[Tried], most: int, everything: bool, finished: bool) -> Found:
    best = nsmallest(most, {(-score, key) for each in done for score, key in each.best})
    failures = [Failure(*failure) for each in done for failure in each.failures]
    return Found(
        tuple(space.motif(space.mask(key)) for _, key in best),
        tuple(-negative for negative, _ in best),
        sum(each.tried for each in done),
        space.count,
        everything and finished,
        finished,
        sum(each.failed for each in done),
        tuple(failures[:MOST_FAILURES]),
    )
