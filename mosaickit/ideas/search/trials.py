"""Trying motifs: all of a stretch of numbers, or those that a run of simulated annealing meets.

Each is one batch of work, which gives the best that it met, how many it tried, and on which the objective failed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from heapq import nsmallest
from numbers import Real
from typing import Any, Literal, NamedTuple

import numpy as np

from mosaickit.errors import OptionError
from mosaickit.ideas.search.objectives import Objective
from mosaickit.ideas.search.spaces import OverlaidSquares, Space, key_of
from mosaickit.motif import Motif

OnError = Literal["stop", "skip"]
ON_ERROR: tuple[OnError, ...] = ("stop", "skip")

MOST_FAILURES = 20
"""So many motifs on which the objective failed are shown; the rest are counted."""

WALK = 50
"""Steps that a run of annealing takes anywhere, to learn how much scores differ."""

COOLING = 200
"""How many times colder a run of annealing is at its end: our choice, no source."""


class Failure(NamedTuple):
    """A motif on which the objective failed, as text, and how."""

    motif: str
    reason: str


class Tried(NamedTuple):
    """What a batch gives: the best as (score, key), how many were scored, and on which the objective failed."""

    best: list[tuple[float, str]]
    tried: int
    failed: int
    failures: list[Failure]


@dataclass(frozen=True)
class Judge:
    """How motifs are judged."""

    objective: Objective
    most: int
    on_error: OnError

    def score(self, motif: Motif, failures: list[Failure]) -> float:
        """Give the motif's score; where the objective fails, put that down and give the worst."""
        try:
            score: Any = self.objective(motif)
            fault = "" if isinstance(score, Real) and math.isfinite(score) else f"gave {score!r}"
        except Exception as error:
            if self.on_error == "stop":
                raise OptionError(_say(f"failed ({type(error).__name__}: {error})", motif)) from error
            fault = f"{type(error).__name__}: {error}"
        if not fault:
            return float(score)
        if self.on_error == "stop":
            raise OptionError(_say(fault, motif))
        failures.append(Failure(motif.to_text(), fault))
        return -math.inf

    def batch(self, scored: Iterable[tuple[float, str]], tried: int, failures: list[Failure]) -> Tried:
        """Give what a batch gives; `failures` may still grow while what is scored is read."""
        best = nsmallest(self.most, ((-score, key) for score, key in scored if score > -math.inf))
        kept = [(-negative, key) for negative, key in best]
        return Tried(kept, tried - len(failures), len(failures), failures[:MOST_FAILURES])


def _say(fault: str, motif: Motif) -> str:
    # all of the motif, however large: no one could find it again otherwise
    return (
        f"The objective {fault} for this motif,\n{motif.to_text()}\nwith row 1 in {motif.first}; it must give a "
        "finite number, or `on_error='skip'` leaves such motifs out."
    )


def try_all(space: Space, judge: Judge, numbers: list[int]) -> Tried:
    """Try all motifs with numbers from one up to another."""
    failures: list[Failure] = []

    def scored() -> Iterator[tuple[float, str]]:
        for number in range(*numbers):
            overlaid = space.whole(space.numbered(number))
            yield judge.score(space.motif(overlaid), failures), key_of(overlaid)

    return judge.batch(scored(), numbers[1] - numbers[0], failures)


def anneal(space: Space, judge: Judge, start: OverlaidSquares | None, steps: int, seed: int) -> Tried:
    """Follow a motif through moves, at first any, then ever more only those for the better."""
    rng = np.random.default_rng(seed)
    known: dict[str, float] = {}
    failures: list[Failure] = []

    def score(half: OverlaidSquares) -> float:
        overlaid = space.whole(half)
        key = key_of(overlaid)
        if key not in known:
            known[key] = judge.score(space.motif(overlaid), failures)
        return known[key]

    half = space.drawn(rng) if start is None else start
    here = score(half)
    walk = min(WALK, steps // 10)
    changes: list[float] = []
    heat = 0.0
    for step in range(steps if space.strips else 0):
        moved = space.moved(half, rng)
        there = score(moved)
        if step < walk:
            changes += [abs(there - here)] * (here != there and math.isfinite(there - here))
            takes = True
        else:
            if step == walk:
                heat = sum(changes) / len(changes) if changes else 1.0
            cooled = heat * COOLING ** (-(step - walk) / (steps - walk))
            takes = there >= here or rng.random() < math.exp((there - here) / cooled)
        if takes:
            half, here = moved, there
    return judge.batch(((value, key) for key, value in known.items()), len(known), failures)
