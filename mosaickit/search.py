"""Search: the best motifs that can be worked, by whatever a maker calls good.

An objective is a function from a motif to a number, higher being better. Where there are few enough motifs of a size,
all of them are tried; otherwise many independent runs of simulated annealing each follow one motif through small moves
that keep it workable. Both are batches of work like any other, so they run on any executor, are kept and go on after
a break, and give the same for the same chance wherever they ran.

Everything is said in overlaid squares, a strip at a time: the squares of a column in which something can be overlaid,
or half of them where a symmetry turns the column onto itself. The other squares follow by symmetry. A strip of n
squares has F(n + 2) fillings (Fibonacci numbers), and their numbers in order are read as Zeckendorf writes numbers:
as a sum of Fibonacci numbers of which no two are neighbours.
"""

from __future__ import annotations

import inspect
import math
import pickle
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import Executor, ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache, partial
from heapq import nsmallest
from numbers import Real
from os import PathLike
from threading import Event
from typing import Any, Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit.batches import StoppedError, run_batches
from mosaickit.documents import to_json
from mosaickit.errors import MotifError, OptionError, one_of, positive, whole_number, within
from mosaickit.gauge import Gauge
from mosaickit.motif import Motif, checked_size
from mosaickit.orientation import ROLES, Role
from mosaickit.repair import Symmetry, nearest_workable, with_the_third
from mosaickit.rules import BARE_STRAND
from mosaickit.yarn import surcharge

OnError = Literal["stop", "skip"]
ON_ERROR: tuple[OnError, ...] = ("stop", "skip")

MOST_KEPT = 10_000
"""A search gives no more motifs than this."""

MOST_TRIED = 10_000_000
"""No more motifs than this are tried one by one."""

BATCH = 5000
"""Motifs that are tried in one go, when all are."""

MOST_FAILURES = 20
"""So many motifs on which the objective failed are shown; the rest are counted."""

WALK = 50
"""Steps that a run of annealing takes anywhere, to learn how much scores differ."""

COOLING = 200
"""How many times colder a run of annealing is at its end: our choice, no source."""

REDRAWN = 0.2
"""The share of moves that draw a whole strip anew: our choice, no source."""

Objective = Callable[[Motif], float]
Mask = NDArray[np.bool_]


# ---- ready objectives --------------------------------------------------------------------------------------


def balance(motif: Motif, *, share: float = 0.5) -> float:
    """Score how near the share of CC is to the one wanted: 1 where it is met, 0 as far from it as can be.

    Examples
    --------
    >>> balance(Motif.from_text("#..#")), balance(Motif.from_text("#..."), share=1)
    (1.0, 0.25)
    """
    share = within("share", share, 0, 1)
    return 1 - abs(float(motif.grid.mean()) - share) / max(share, 1 - share)


def low_surcharge(motif: Motif, *, most: float = 0.2, gauge: Gauge | None = None) -> float:
    """Score whether the reversible fabric takes little more yarn: 1 up to `most` more, then as `most` is to it.

    The gauge is 16 stitches by 18 rows in 10 cm if none is given. This is slow, some milliseconds a motif.
    """
    extra = surcharge(motif, gauge if gauge is not None else Gauge(16, 18))
    return min(1.0, positive("most", most) / max(extra, 1e-12))


def both_faces(motif: Motif) -> float:
    """Score whether both faces please: each as much MC as CC, and the bare strands short.

    The mean of three scores: the balance of the front; the balance of the back of reversible work, which shows the
    negative of the row below each row; and the share of FLdc that lie in runs of four or fewer, since a longer run
    leaves a strand bare, on the back of plain work and, one row on, under the stitches that close a reversible one.
    """
    back = motif.grid.copy()
    back[1:-1] = ~motif.grid[2:]
    long = int(BARE_STRAND(motif).sum()) / max(int(motif.overlaid.sum()), 1)
    return (balance(motif) + balance(motif.with_grid(back)) + 1 - long) / 3


def edges_match(motif: Motif) -> float:
    """Score whether repeats join smoothly side by side: 1 if the join is no busier than the motif is inside.

    Busy means that neighbours in a row differ, one overlaid and the other not; the score is 1 less by how much oftener
    they do so across the join.
    """
    overlaid = motif.overlaid
    across = float((overlaid[:, 0] != overlaid[:, -1]).mean())
    inside = float((overlaid[:, 1:] != overlaid[:, :-1]).mean()) if overlaid.shape[1] > 1 else 0.0
    return 1 - max(0.0, across - inside)


READY: dict[str, Objective] = {
    "balance": balance,
    "low surcharge": low_surcharge,
    "both faces": both_faces,
    "edges match": edges_match,
}
"""Objectives by name; each gives a score from 0 to 1."""


@dataclass(frozen=True)
class _Weighted:
    """The weighted mean of several objectives."""

    parts: tuple[tuple[Objective, float], ...]

    def __call__(self, motif: Motif) -> float:
        return sum(weight * objective(motif) for objective, weight in self.parts) / sum(w for _, w in self.parts)


# ---- what comes out ----------------------------------------------------------------------------------------


class Failure(NamedTuple):
    """A motif on which the objective failed, as text, and how."""

    motif: str
    reason: str


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
        return f"<Found {len(self)} motifs, {best}; {tried} of {space}{left_out}{stopped}>"


def search_motifs(
    start: Motif | tuple[int, int],
    objective: Objective | str | Mapping[Any, float],
    *,
    rng: np.random.Generator,
    symmetry: Symmetry | Iterable[Symmetry] = (),
    first: Role | None = None,
    steps: int = 2000,
    runs: int = 16,
    keep: int = 10,
    try_all_up_to: int = 1_000_000,
    on_error: OnError = "stop",
    executor: Executor | None = None,
    kept_in: str | PathLike[str] | None = None,
    progress: bool = True,
    stop: Callable[[], bool] | Event | None = None,
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
        as by ``functools.partial(mosaickit.search.balance, share=0.4)``. It should give the same for the same motif.
    rng : numpy.random.Generator
        Where chance comes from: ``numpy.random.default_rng(7)`` finds the same every time, whatever runs it.
    symmetry : "mirror", "up-down", "half-turn", or several of them
        Symmetries that the motifs must have, as in `nearest_workable`.
    first : "MC" or "CC", optional
        The colour of row 1, MC if nothing is said; a motif to start from says it itself.
    steps, runs : int
        How many moves a run of annealing makes, and how many runs there are, each 1 or more.
    keep : int
        How many motifs to give, from 1 to 10,000.
    try_all_up_to : int
        Up to how many motifs all of them are tried, at most 10,000,000; 0 if never.
    on_error : "stop" or "skip"
        What happens if the objective fails on a motif, or gives what is no finite number.
    executor, kept_in, progress, stop
        As `run_batches` takes them: where it runs, what it is kept in to go on after a break, whether a bar is shown,
        what is asked whether to stop. A search that is stopped gives the best of the batches that are done. Other
        processes have to be able to import the objective. With `kept_in` a changed objective is another task; what
        it uses from elsewhere is not looked at.

    Returns
    -------
    Found
        With `.motifs`, the best first, and `.scores`.

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
    >>> found = search_motifs((5, 4), "balance", rng=np.random.default_rng(7), symmetry="mirror", progress=False)
    >>> found
    <Found 10 motifs, the best scores 1; all of 25>
    >>> found.best.to_text().split()
    ['....', '####', '.##.', '####', '....']
    """
    if not isinstance(rng, np.random.Generator):
        raise OptionError(f"`rng` must be a NumPy Generator, as numpy.random.default_rng(7); got {rng!r}.")
    one_of("on_error", on_error, ON_ERROR)
    _at_most("keep", whole_number("keep", keep, least=1), MOST_KEPT)
    _at_most("try_all_up_to", whole_number("try_all_up_to", try_all_up_to), MOST_TRIED)
    steps, runs = whole_number("steps", steps, least=1), whole_number("runs", runs, least=1)
    judged = _objective(objective)
    space, half = _space(start, symmetry, first)
    if isinstance(executor, ProcessPoolExecutor):
        _check_pickles(judged)

    judge = _Judge(judged, keep, on_error)
    everything = space.count <= try_all_up_to
    work: Callable[[Any], Any]
    if everything:
        work = partial(_try_all, space, judge)
        batches = [[low, min(low + BATCH, space.count)] for low in range(0, space.count, BATCH)]
    else:
        work = partial(_anneal, space, judge, half, steps)
        batches = rng.integers(1 << 62, size=runs).tolist()
    task = None
    if kept_in is not None:
        begun = [space.describe(), keep, on_error, _describe(judged)]
        task = [*begun, "all"] if everything else [*begun, steps, None if half is None else _key(half)]
    finished = True
    try:
        done = run_batches(work, batches, task=task, executor=executor, kept_in=kept_in, progress=progress, stop=stop)
    except StoppedError as stopped:
        if not stopped.results:
            raise
        finished, done = False, [stopped.results[number] for number in sorted(stopped.results)]
    return _gather(space, [_Batch(*batch) for batch in done], keep, everything, finished)


def _gather(space: _Space, done: list[_Batch], keep: int, everything: bool, finished: bool) -> Found:
    best = nsmallest(keep, {(-score, key) for batch in done for score, key in batch.best})
    failures = [Failure(*failure) for batch in done for failure in batch.failures]
    return Found(
        tuple(space.motif(space.mask(key)) for _, key in best),
        tuple(-negative for negative, _ in best),
        sum(batch.tried for batch in done),
        space.count,
        everything and finished,
        finished,
        sum(batch.failed for batch in done),
        tuple(failures[:MOST_FAILURES]),
    )


# ---- what was asked ----------------------------------------------------------------------------------------


def _at_most(name: str, value: int, most: int) -> None:
    if value > most:
        raise OptionError(f"`{name}` must be at most {most:,}; got {value!r}.")


def _objective(objective: object) -> Objective:
    """Give one function for whatever says what is good."""
    if isinstance(objective, Mapping):
        if not objective:
            raise OptionError("`objective` must name something: the mapping is empty.")
        return _Weighted(
            tuple((_objective(part), positive("the weight of an objective", w)) for part, w in objective.items())
        )
    if isinstance(objective, str):
        one_of("objective", objective, READY)
        return READY[objective]
    if not callable(objective):
        names = ", ".join(map(repr, READY))
        raise OptionError(
            f"`objective` must be a function from a motif to a number, one of {names}, or several with weights; "
            f"got {objective!r}."
        )
    return objective


def _check_pickles(objective: Objective) -> None:
    try:
        pickle.dumps(objective)
    except Exception as error:  # whatever a value's own pickling raises
        raise OptionError(
            "`objective` must be a function that other processes can import, so write it into a module of its own, "
            f"with a name; or use threads. It cannot be pickled: {error}."
        ) from None


def _describe(objective: object) -> Any:  # noqa: ANN401 — what JSON can hold
    """Describe an objective, so that another one makes another task."""
    if isinstance(objective, _Weighted):
        return [[_describe(part), weight] for part, weight in objective.parts]
    if isinstance(objective, partial):
        return [_describe(objective.func), repr(objective.args), repr(sorted(objective.keywords.items()))]
    if not hasattr(objective, "__qualname__"):  # a value that can be called
        return [_describe(type(objective)), repr(objective)]
    try:
        source = inspect.getsource(objective)  # type: ignore[arg-type]
    except (OSError, TypeError):
        source = ""
    return [objective.__module__, objective.__qualname__, source]


def _space(start: object, symmetry: Symmetry | Iterable[Symmetry], first: Role | None) -> tuple[_Space, Mask | None]:
    """Give what is searched, and the half of the motif from which runs set out."""
    symmetries = with_the_third(symmetry)
    if first is not None:
        one_of("first", first, ROLES)
    if isinstance(start, Motif):
        if first not in (None, start.first):
            raise OptionError(f"`first` must be left out: the motif to start from has row 1 in {start.first}.")
        begun = nearest_workable(start, keep=symmetries).motif
        space = _Space(_plain(begun), symmetries)
        return space, space.half(begun.overlaid)
    if not isinstance(start, tuple | list) or len(start) != 2:
        raise OptionError(f"`start` must be a `Motif` or a size, (rows, stitches); got {start!r}.")
    shape = checked_size(*(whole_number(name, n, least=1) for name, n in zip(("rows", "stitches"), start, strict=True)))
    return _Space(_plain(Motif(np.zeros(shape, dtype=np.bool_), first or "MC")), symmetries), None


def _plain(motif: Motif) -> Motif:
    return motif.with_grid(motif.grid ^ motif.overlaid)


# ---- the motifs there are ----------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Space:
    """All motifs of a size and symmetry that can be worked.

    Parameters
    ----------
    plain : Motif
        The one of them in which nothing is overlaid.
    symmetries : frozenset
        Two always with the third.
    """

    plain: Motif
    symmetries: frozenset[Symmetry]

    @cached_property
    def strips(self) -> tuple[tuple[int, int], ...]:
        """Each strip as (column, number of squares): from the second row as seen downward."""
        rows, columns = self.plain.shape
        # where a column is turned onto itself, only half of it is free; of an even one the two in the middle agree
        straight, folded = max(rows - 2, 0), max((rows - 1) // 2 - (rows % 2 == 0), 0)
        half = range(columns // 2)
        if "mirror" in self.symmetries:
            count = folded if "up-down" in self.symmetries else straight
            strips = [(column, count) for column in range((columns + 1) // 2)]
        elif "up-down" in self.symmetries:
            strips = [(column, folded) for column in range(columns)]
        elif "half-turn" in self.symmetries:
            strips = [(column, straight) for column in half] + [(columns // 2, folded)] * (columns % 2)
        else:
            strips = [(column, straight) for column in range(columns)]
        return tuple((column, count) for column, count in strips if count)

    @cached_property
    def count(self) -> int:
        """How many motifs there are."""
        by_length = Counter(squares for _, squares in self.strips)
        return math.prod(_fillings(squares) ** strips for squares, strips in by_length.items())

    def numbered(self, number: int) -> Mask:
        """Give the half of the motif with a number from 0."""
        half = np.zeros(self.plain.shape, dtype=np.bool_)
        for column, squares in self.strips:
            number, rank = divmod(number, _fillings(squares))
            half[1 : squares + 1, column] = _filling(rank, squares)
        return half

    def drawn(self, rng: np.random.Generator) -> Mask:
        """Give the half of a motif drawn at random, all being equally likely."""
        half = np.zeros(self.plain.shape, dtype=np.bool_)
        for strip in self.strips:
            self.redraw(half, strip, rng)
        return half

    def redraw(self, half: Mask, strip: tuple[int, int], rng: np.random.Generator) -> None:
        """Draw a strip of a half anew, all its fillings being equally likely."""
        column, squares = strip
        half[1 : squares + 1, column] = _filling(_below(_fillings(squares), rng), squares)

    def moved(self, half: Mask, rng: np.random.Generator) -> Mask:
        """Give a half that is one move away: a square turned over, its neighbours giving way, or a strip redrawn."""
        half = half.copy()
        strip = column, squares = self.strips[rng.integers(len(self.strips))]
        if rng.random() < REDRAWN:
            self.redraw(half, strip, rng)
            return half
        row = 1 + int(rng.integers(squares))
        half[row, column] ^= True
        if half[row, column]:
            half[[row - 1, row + 1], column] = False
        return half

    def half(self, overlaid: Mask) -> Mask:
        """Take from all overlaid squares the half that the others follow from."""
        half = np.zeros(self.plain.shape, dtype=np.bool_)
        for column, squares in self.strips:
            half[1 : squares + 1, column] = overlaid[1 : squares + 1, column]
        return half

    def whole(self, half: Mask) -> Mask:
        """Give all overlaid squares, which follow from the half."""
        whole = half.copy()
        if "mirror" in self.symmetries:
            whole |= whole[:, ::-1]
        if "up-down" in self.symmetries:
            whole |= whole[::-1]
        elif "half-turn" in self.symmetries:
            whole |= whole[::-1, ::-1]
        return whole

    def motif(self, overlaid: Mask) -> Motif:
        return self.plain.with_grid(self.plain.grid ^ overlaid)

    def mask(self, key: str) -> Mask:
        """Give the overlaid squares that a key stands for."""
        bits = np.unpackbits(np.frombuffer(bytes.fromhex(key), dtype=np.uint8), count=self.plain.grid.size)
        return bits.reshape(self.plain.shape).astype(np.bool_)

    def describe(self) -> list[Any]:
        return [to_json(self.plain), sorted(self.symmetries)]


def _key(squares: Mask) -> str:
    """Give a short text that stands for a mask, and puts masks in an order."""
    return np.packbits(squares).tobytes().hex()


@cache
def _counts(squares: int) -> tuple[int, ...]:
    """Count the fillings of strips of 0, 1, … squares."""
    counts = [1, 2]
    while len(counts) <= squares:
        counts.append(counts[-1] + counts[-2])
    return tuple(counts)


def _fillings(squares: int) -> int:
    return _counts(squares)[squares]


@lru_cache(maxsize=4096)
def _filling(rank: int, squares: int) -> Mask:
    """Give the filling of a strip with a number from 0: no two neighbours overlaid."""
    counts, filling = _counts(squares), np.zeros(squares, dtype=np.bool_)
    while squares > 0:
        # the fillings that leave the last square plain come first
        overlaid = rank >= counts[squares - 1]
        if overlaid:
            rank -= counts[squares - 1]
            filling[squares - 1] = True
        squares -= 1 + overlaid
    filling.flags.writeable = False
    return filling


def _below(count: int, rng: np.random.Generator) -> int:
    """Draw a whole number below a count, which may be too large for the machine's own numbers."""
    if count < 1 << 63:
        return int(rng.integers(count))
    # 64 bits more than needed, so that what a remainder favours is beyond any measuring
    return int.from_bytes(rng.bytes(count.bit_length() // 8 + 9)) % count


# ---- trying them -------------------------------------------------------------------------------------------


class _Batch(NamedTuple):
    """What a batch gives: the best as (score, key), how many were scored, and on which the objective failed."""

    best: list[tuple[float, str]]
    tried: int
    failed: int
    failures: list[Failure]


@dataclass(frozen=True)
class _Judge:
    """How motifs are judged."""

    objective: Objective
    keep: int
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

    def batch(self, scored: Iterable[tuple[float, str]], tried: int, failures: list[Failure]) -> _Batch:
        """Give what a batch gives; `failures` may still grow while what is scored is read."""
        best = nsmallest(self.keep, ((-score, key) for score, key in scored if score > -math.inf))
        kept = [(-negative, key) for negative, key in best]
        return _Batch(kept, tried - len(failures), len(failures), failures[:MOST_FAILURES])


def _say(fault: str, motif: Motif) -> str:
    # all of the motif, however large: nobody could find it again otherwise
    return (
        f"The objective {fault} for this motif,\n{motif.to_text()}\nwith row 1 in {motif.first}; it must give a "
        "finite number, or `on_error='skip'` leaves such motifs out."
    )


def _try_all(space: _Space, judge: _Judge, numbers: list[int]) -> _Batch:
    """Try all motifs with numbers from one up to another."""
    failures: list[Failure] = []

    def scored() -> Iterator[tuple[float, str]]:
        for number in range(*numbers):
            overlaid = space.whole(space.numbered(number))
            yield judge.score(space.motif(overlaid), failures), _key(overlaid)

    return judge.batch(scored(), numbers[1] - numbers[0], failures)


def _anneal(space: _Space, judge: _Judge, start: Mask | None, steps: int, seed: int) -> _Batch:
    """Follow a motif through moves, at first any, then ever more only those for the better."""
    rng = np.random.default_rng(seed)
    known: dict[str, float] = {}
    failures: list[Failure] = []

    def score(half: Mask) -> float:
        overlaid = space.whole(half)
        key = _key(overlaid)
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
