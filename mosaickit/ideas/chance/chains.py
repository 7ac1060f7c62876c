"""Chains: which squares agree by symmetries and repeats, and which of them are neighbours.

Squares that agree are one class. The classes of a column, or of a column and its image, form a chain, some of them
closed to a ring; columns with the same chain are of one kind.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mosaickit.ideas.chance.fillings import Fillings
from mosaickit.motif import SymmetryName


@dataclass(frozen=True, eq=False)
class Chain:
    """The classes of rows that a column has, in a chain: each the neighbour of the one before it."""

    place: NDArray[np.int64]
    """Where in the chain each row of the picture has its class, (R,) as seen."""
    ring: bool
    """Whether the last class is also the neighbour of the first."""
    plain: NDArray[np.bool_]
    """Which classes cannot be overlaid, (n,)."""

    @property
    def squares(self) -> list[int]:
        """How many squares of the column each class holds."""
        squares: list[int] = np.bincount(self.place).tolist()
        return squares


def _column(rows: int, up: int, repeats_up: bool, folded: bool) -> Chain:
    """Give the chain of a column, which is its own image upside down if it is folded."""
    row = np.arange(up)
    _, classes = np.unique(np.minimum(row, (rows - 1 - row) % up) if folded else row, return_inverse=True)
    # (of a picture with ends row 1 of each repeat is plain, so what lies round the corner does not matter)
    below, above = (classes, np.roll(classes, -1)) if repeats_up else (classes[:-1], classes[1:])
    neighbours = np.unique(np.sort(np.stack([below, above], axis=1), axis=1), axis=0)
    plain = np.zeros(classes.max() + 1, dtype=np.bool_)
    if not repeats_up:
        plain[classes[[0, (rows - 1) % up]]] = True
    to_itself = neighbours[:, 0] == neighbours[:, 1]
    plain[neighbours[to_itself, 0]] = True
    walk, ring = _walk(len(plain), neighbours[~to_itself].tolist())
    place = np.empty(len(plain), dtype=np.int64)
    place[walk] = np.arange(len(walk))
    return Chain(place[classes[np.arange(rows) % up]], ring, plain[walk])


def _walk(size: int, neighbours: list[list[int]]) -> tuple[list[int], bool]:
    """Walk along the chain, from an end if it has one: the classes in order, and whether they close to a ring."""
    beside: list[list[int]] = [[] for _ in range(size)]
    for one, other in neighbours:
        beside[one].append(other)
        beside[other].append(one)
    start = min(range(size), key=lambda one: len(beside[one]) == 2)
    walk, seen = [start], {start}
    while further := [other for other in beside[walk[-1]] if other not in seen]:
        walk.append(further[0])
        seen.add(further[0])
    return walk, len(beside[start]) == 2


@dataclass(frozen=True, eq=False)
class ColumnKind:
    """Columns that have the same fillings, each for itself and for its image."""

    columns: NDArray[np.int64]
    """Columns of the repeat, as seen."""
    images: NDArray[np.int64]
    """The column that is the image of each; often itself."""
    turned: bool
    """Whether the image is upside down."""
    column: Chain
    fillings: Fillings

    @property
    def image_place(self) -> NDArray[np.int64]:
        """Where in the chain each row of the image has its class, (R,) as seen."""
        return self.column.place[::-1] if self.turned else self.column.place


def kinds_of(
    shape: tuple[int, int], symmetries: frozenset[SymmetryName], across: int, up: int, repeats_up: bool
) -> list[ColumnKind]:
    """Sort the columns of a repeat by their fillings."""
    rows, columns = shape
    column = np.arange(across)
    copies = np.bincount(np.arange(columns) % across)
    image = (columns - 1 - column) % across if symmetries & {"mirror", "half-turn"} else column
    turned = "mirror" not in symmetries and "half-turn" in symmetries
    chains = {folded: _column(rows, up, repeats_up, folded) for folded in (False, True)}
    kinds = []
    for alone in (False, True):
        chain = chains["up-down" in symmetries or (turned and alone)]
        for times in np.unique(copies).tolist():
            these = column[(copies == times) & ((image == column) if alone else (column < image))]
            if len(these):
                fillings = Fillings(chain, times if alone else 2 * times)
                kinds.append(ColumnKind(these, image[these], turned, chain, fillings))
    return kinds
