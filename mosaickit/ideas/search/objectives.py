"""What is good in a motif: the ready objectives, and one function for whatever a maker gives.

An objective is a function from a motif to a number, higher being better. The ready ones give a score from 0 to 1.
"""

from __future__ import annotations

import inspect
import pickle
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import OptionError, of_kind, one_of, positive, within
from mosaickit.gauge import Gauge
from mosaickit.ideas.families.measuring import back_of
from mosaickit.motif import BARE_STRAND, Motif
from mosaickit.yarn import surcharge

Objective = Callable[[Motif], float]


def _share(squares: NDArray[np.bool_]) -> float:
    # the mean, which takes NumPy many times as long for so few squares
    return int(np.count_nonzero(squares)) / squares.size


def balance(motif: Motif, *, share: float = 0.5) -> float:
    """Score how near the share of CC is to the one wanted: 1 where it is met, 0 as far from it as can be.

    Examples
    --------
    >>> balance(Motif.from_text("#..#")), balance(Motif.from_text("#..."), share=1)
    (1.0, 0.25)
    """
    share = within("share", share, 0, 1)
    return _nearness(_share(motif.grid), share)


def _nearness(found: float, wanted: float = 0.5) -> float:
    return 1 - abs(found - wanted) / max(wanted, 1 - wanted)


def likeness(motif: Motif, *, to: Motif) -> float:
    """Score how like another motif of the same size it is: the share of squares that show the same colour.

    Examples
    --------
    >>> likeness(Motif.from_text("#..#"), to=Motif.from_text("#..."))
    0.75
    """
    of_kind("to", to, Motif)
    if motif.shape != to.shape:
        return 0.0
    return _share(motif.grid == to.grid)


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
    front, own = orientation.to_working(motif.grid), orientation.to_working(motif.row_is_cc)
    long = int(np.count_nonzero(BARE_STRAND(motif))) / max(int(np.count_nonzero(motif.overlaid)), 1)
    return (_nearness(_share(motif.grid)) + _nearness(_share(back_of(front, own))) + 1 - long) / 3


def edges_match(motif: Motif) -> float:
    """Score whether repeats join smoothly side by side: 1 if the join is no busier than the motif is inside.

    Busy means that neighbours in a row differ, one overlaid and the other not; the score is 1 less by how much oftener
    they do so across the join.
    """
    overlaid = motif.overlaid
    across = _share(overlaid[:, 0] != overlaid[:, -1])
    inside = _share(overlaid[:, 1:] != overlaid[:, :-1]) if overlaid.shape[1] > 1 else 0.0
    return 1 - max(0.0, across - inside)


READY: dict[str, Objective] = {
    "balance": balance,
    "low surcharge": low_surcharge,
    "both faces": both_faces,
    "edges match": edges_match,
}
"""Objectives by name; each gives a score from 0 to 1."""


@dataclass(frozen=True)
class Weighted:
    """The weighted mean of several objectives."""

    parts: tuple[tuple[Objective, float], ...]

    def __call__(self, motif: Motif) -> float:
        """Score a motif."""
        return sum(weight * objective(motif) for objective, weight in self.parts) / sum(w for _, w in self.parts)


def objective_of(objective: object) -> Objective:
    """Give one function for whatever says what is good."""
    if isinstance(objective, Mapping):
        if not objective:
            raise OptionError("`objective` must name something: the mapping is empty.")
        return Weighted(
            tuple((objective_of(part), positive("the weight of an objective", w)) for part, w in objective.items())
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


def check_pickles(objective: Objective) -> None:
    """Raise `OptionError` unless an objective can be sent to another process."""
    try:
        pickle.dumps(objective)
    except Exception as error:  # whatever a value's own pickling raises
        raise OptionError(
            "`objective` must be a function that other processes can import, so write it into a module of its own, "
            f"with a name; or use threads. It cannot be pickled: {error}."
        ) from None


def describe(objective: object) -> Any:  # noqa: ANN401 — what JSON can hold
    """Describe an objective, so that another one makes another task."""
    if isinstance(objective, Weighted):
        return [[describe(part), weight] for part, weight in objective.parts]
    if isinstance(objective, partial):
        return [describe(objective.func), repr(objective.args), repr(sorted(objective.keywords.items()))]
    if not hasattr(objective, "__qualname__"):  # a value that can be called
        return [describe(type(objective)), repr(objective)]
    try:
        source = inspect.getsource(objective)  # type: ignore[arg-type]
    except (OSError, TypeError):
        source = ""
    return [objective.__module__, objective.__qualname__, source]
