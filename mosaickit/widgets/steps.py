"""The steps of a sketch, and which of them are done: all that can be undone and redone, as values.

What is stepped through is a whole design, so that a frame that was laid and a square that was painted are undone in
the order in which they were done. Most steps change a few squares of its motif, and are kept as those.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from mosaickit.sizes import Design


@dataclass(frozen=True, eq=False)
class Step:
    """One step: the runs of squares of the motif it flips, or the designs before and after it.

    A run, a row of `runs`, is the number of its first square, counted row by row as seen, and how many follow on.
    """

    label: str
    runs: NDArray[np.intp] | None = None
    before: Design | None = None
    after: Design | None = None

    @classmethod
    def between(cls, before: Design, after: Design, label: str) -> Step:
        """Make the step from one design to another, in the shorter way."""
        old, new = before.motif, after.motif
        if new.shape == old.shape and new == old.with_grid(new.grid) and _same_but_for_the_motif(before, after):
            runs = _runs(np.flatnonzero(new.grid != old.grid))
            # a run takes eight bytes, a whole design one a square and more than a thousand for the rest
            if 8 * len(runs) < new.grid.size + 1000:
                return cls(label, runs=runs)
        return cls(label, before=before, after=after)

    def apply(self, design: Design, back: bool = False) -> Design:
        """Take the step, or take it back."""
        whole = self.before if back else self.after
        if whole is not None:
            return whole
        grid = design.motif.grid.copy()
        squares = grid.ravel()
        for first, length in [] if self.runs is None else self.runs.tolist():
            squares[first : first + length] ^= True
        return design.but(motif=design.motif.with_grid(grid))


@dataclass(frozen=True, eq=False)
class State:
    """All that can be undone and redone, in one value, so that an interruption leaves the one before or after."""

    start: Design
    design: Design
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
        taken = replace(self, design=step.apply(self.design), steps=steps, at=len(steps))
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
        return replace(self, design=self.steps[self.at - 1].apply(self.design, back=True), at=self.at - 1)

    def redoing(self) -> State:
        """Do the step that was undone last again."""
        return replace(self, design=self.steps[self.at].apply(self.design), at=self.at + 1)

    def agrees_to(self, other: State) -> int:
        """Give the number of the last step up to which an older state has the same ones."""
        older = other.steps[self.forgotten - other.forgotten :]
        for number, (one, another) in enumerate(zip(self.steps, older, strict=False)):
            if one is not another:
                return self.forgotten + number
        return self.forgotten + min(len(self.steps), len(older))


def _same_but_for_the_motif(one: Design, other: Design) -> bool:
    return all(getattr(one, each.name) == getattr(other, each.name) for each in fields(one) if each.name != "motif")


def _runs(squares: NDArray[np.intp]) -> NDArray[np.intp]:
    """Give rising numbers of squares as runs of neighbours, (n, 2): the first, and how many."""
    starts = np.flatnonzero(np.diff(squares, prepend=-2) != 1)
    return np.column_stack([squares[starts], np.diff(np.append(starts, len(squares)))])
