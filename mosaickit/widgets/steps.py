"""The steps of a drawing, and which of them are done: all that can be undone and redone, as values."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from mosaickit.motif import Motif


@dataclass(frozen=True, eq=False)
class Step:
    """One step: the runs of squares it flips, or the motifs before and after it.

    A run, a row of `runs`, is the number of its first square, counted row by row as seen, and how many follow on.
    """

    label: str
    runs: NDArray[np.intp] | None = None
    before: Motif | None = None
    after: Motif | None = None

    @classmethod
    def between(cls, before: Motif, after: Motif, label: str) -> Step:
        """Make the step from one motif to another, in the shorter way."""
        if after.shape == before.shape and after == before.with_grid(after.grid):
            runs = _runs(np.flatnonzero(after.grid != before.grid))
            # a run takes eight bytes, a whole motif one a square and some hundreds for the rest
            if 8 * len(runs) < after.grid.size + 1000:
                return cls(label, runs=runs)
        return cls(label, before=before, after=after)

    def apply(self, motif: Motif, back: bool = False) -> Motif:
        """Take the step, or take it back."""
        whole = self.before if back else self.after
        if whole is not None:
            return whole
        grid = motif.grid.copy()
        squares = grid.ravel()
        for first, length in [] if self.runs is None else self.runs.tolist():
            squares[first : first + length] ^= True
        return motif.with_grid(grid)


@dataclass(frozen=True, eq=False)
class State:
    """All that can be undone and redone, in one value, so that an interruption leaves the one before or after."""

    start: Motif
    motif: Motif
    forgotten: int = 0  # steps are numbered from the first that was ever taken
    steps: tuple[Step, ...] = ()
    at: int = 0

    @property
    def done(self) -> int:
        """The number of the last step that is done."""
        return self.forgotten + self.at

    @property
    def last(self) -> int:
        """The number of the last step, done or undone."""
        return self.forgotten + len(self.steps)

    def taking(self, step: Step, most: int) -> State:
        """Take a step, drop what could be redone, and forget the oldest steps beyond so many."""
        steps = (*self.steps[: self.at], step)
        taken = replace(self, motif=step.apply(self.motif), steps=steps, at=len(steps))
        return taken.forgetting(len(steps) - most)

    def forgetting(self, count: int) -> State:
        """Forget so many of the steps that are done, the oldest."""
        if count <= 0:
            return self
        start = self.start
        for step in self.steps[:count]:
            start = step.apply(start)
        return replace(
            self, start=start, forgotten=self.forgotten + count, steps=self.steps[count:], at=self.at - count
        )

    def undoing(self) -> State:
        """Take the last step back."""
        return replace(self, motif=self.steps[self.at - 1].apply(self.motif, back=True), at=self.at - 1)

    def redoing(self) -> State:
        """Do the step that was undone last again."""
        return replace(self, motif=self.steps[self.at].apply(self.motif), at=self.at + 1)

    def agrees_to(self, other: State) -> int:
        """Give the number of the last step up to which an older state has the same ones."""
        older = other.steps[self.forgotten - other.forgotten :]
        for number, (one, another) in enumerate(zip(self.steps, older, strict=False)):
            if one is not another:
                return self.forgotten + number
        return self.forgotten + min(len(self.steps), len(older))


def _runs(squares: NDArray[np.intp]) -> NDArray[np.intp]:
    """Give rising numbers of squares as runs of neighbours, (n, 2): the first, and how many."""
    starts = np.flatnonzero(np.diff(squares, prepend=-2) != 1)
    return np.column_stack([squares[starts], np.diff(np.append(starts, len(squares)))])
