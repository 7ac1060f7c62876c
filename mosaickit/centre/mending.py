"""The nearest picture that can be worked from the centre: exact, and for all places of all sides at once.

Straight outward along a place of a side, no two neighbours may be overlaid: a path. Where two paths of neighbouring
sides start beside the same corner stitch, their first squares may not both be overlaid, as if they were neighbours too.
So the two are one path, from the outside in along one side and out again along the other, and `choose_apart` finds the
least change. Under a quarter turn the four corners agree, so their costs are added and one path stands for all.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit.centre.rings import SIDES, Places, places_of_round, squares_at
from mosaickit.centre.square import CentreOut
from mosaickit.errors import number_of, of_kind, one_of
from mosaickit.motif import choose_apart, read_only
from mosaickit.orientation import other

KeptSymmetry = Literal["none", "quarter-turn", "quarter-turn and mirror"]
KEPT_SYMMETRIES: tuple[KeptSymmetry, ...] = ("none", "quarter-turn", "quarter-turn and mirror")

RoundOneColour = Literal["keep", "either"]
ROUND_ONE_COLOURS: tuple[RoundOneColour, ...] = ("keep", "either")

MOST_CHANGES_PRINTED = 12
"""A printed answer names at most this many changed squares and counts the others."""


@dataclass(frozen=True, eq=False, repr=False)
class CentreRepair:
    """The nearest workable square from the centre.

    Attributes
    ----------
    square : CentreOut
        Workable.
    changed : bool array, (2n + 1, 2n + 1)
        As seen: the squares that show another colour than before.
    first_changed : bool
        Whether round 1 has another colour than before.
    """

    square: CentreOut
    changed: NDArray[np.bool_]
    first_changed: bool = False

    @property
    def squares(self) -> tuple[tuple[int, int], ...]:
        """The changed squares as (round, stitch), from 1, round 1 first; the centre is (0, 0)."""
        n = self.square.rounds
        found = [(0, 0)] if self.changed[n, n] else []
        for number in range(1, n + 1):
            here = np.flatnonzero(self.changed[places_of_round(n, number, self.square.hand)]) + 1
            found += [(number, stitch) for stitch in here.tolist()]
        return tuple(found)

    def __str__(self) -> str:
        first = f" Round 1 is now in {self.square.motif.first}." if self.first_changed else ""
        squares = self.squares
        if not squares:
            return f"Nothing to change.{first}"
        named = [f"round {number}, stitch {stitch}" if number else "the centre" for number, stitch in squares]
        more = f"; and {len(named) - MOST_CHANGES_PRINTED} more" if len(named) > MOST_CHANGES_PRINTED else ""
        size = number_of(self.changed.size, "square")
        return f"Changed {len(named)} of {size}: {'; '.join(named[:MOST_CHANGES_PRINTED])}{more}.{first}"

    def __repr__(self) -> str:
        return f"<CentreRepair {self}>"


def nearest(square: CentreOut, *, symmetry: KeptSymmetry = "none", first: RoundOneColour = "keep") -> CentreRepair:
    """Find the picture that differs in the fewest squares and can be worked from the centre.

    Parameters
    ----------
    square : CentreOut
        Any square picture with its rounds.
    symmetry : "none", "quarter-turn" or "quarter-turn and mirror"
        What the result must have: the same after a quarter turn, or that and the same in a mirror.
    first : "keep" or "either"
        Whether round 1 keeps its colour, or takes the one that needs less change (its own when equal).

    Returns
    -------
    CentreRepair
        With ``.square`` and ``.changed``. Exact: none that can be worked and has the symmetry differs in fewer squares.

    Raises
    ------
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> from mosaickit.motif import Motif
    >>> print(nearest(CentreOut(Motif.from_array([[1, 0, 0], [0, 0, 0], [0, 0, 1]]))))
    Changed 2 of 9 squares: round 1, stitch 2; round 1, stitch 6.
    """
    of_kind("square", square, CentreOut)
    one_of("symmetry", symmetry, KEPT_SYMMETRIES)
    one_of("first", first, ROUND_ONE_COLOURS)
    motif = square.motif
    firsts = (motif.first, other(motif.first))[: 2 if first == "either" else 1]
    tried = [CentreOut(motif.with_grid(motif.grid, colour), square.hand) for colour in firsts]
    changes = [_chosen(one, symmetry) ^ one.overlaid for one in tried]
    best = min(range(len(tried)), key=lambda number: np.count_nonzero(changes[number]))
    mended = replace(tried[best], motif=tried[best].motif.with_grid(motif.grid ^ changes[best]))
    return CentreRepair(mended, read_only(changes[best]), mended.motif.first != motif.first)


def _chosen(square: CentreOut, symmetry: KeptSymmetry) -> NDArray[np.bool_]:
    """Choose the overlaid squares, (2n + 1, 2n + 1) as seen, at the least change."""
    n = square.rounds
    chosen = np.zeros_like(square.overlaid)
    if n < 3:
        return chosen  # round 2 is the first of which a square may be overlaid, and the last is not
    gains = np.where(square.overlaid, -1.0, 1.0)
    ahead, free = _paths(square, 1)
    back, _ = _paths(square, -1)
    # (n - 1, n - 1, 4): how far outward along the path, which place of a side, which corner
    out, home = np.where(free, gains[ahead], np.inf), np.where(free, gains[back], np.inf)
    home[:, 0] = np.inf  # the middle of a side is one place, not two
    if symmetry == "quarter-turn and mirror":
        # both squares beside a corner would be overlaid or none of them, and both cannot be
        out[0, 1:] = np.inf
        sums = out + np.where(np.isinf(home), 0, home)
        picked = _apart(sums.sum(axis=2, keepdims=True))
        taken, taken_home = picked, picked & (np.arange(n - 1) > 0)[:, np.newaxis]
    else:
        path = np.concatenate([out[::-1], home])
        if symmetry == "quarter-turn":
            path = path.sum(axis=2, keepdims=True)
        picked = _apart(path)
        taken, taken_home = picked[: n - 1][::-1], picked[n - 1 :]
    chosen[ahead] |= taken & free
    chosen[back] |= taken_home & free
    return chosen


def _apart(gains: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Choose along the first axis, no two running, at the least sum of gains."""
    length = len(gains)
    chosen = choose_apart(gains.reshape(length, -1), np.zeros(length, dtype=np.bool_))
    return chosen.reshape(gains.shape)


def _paths(square: CentreOut, way: int) -> tuple[Places, NDArray[np.bool_]]:
    """Find the squares straight outward at each place before a corner (`way` 1) or after it (-1).

    Gives places and whether such a square may be overlaid: (n - 1, n - 1, 4) and (n - 1, n - 1, 1).
    """
    n = square.rounds
    step, x, corner = np.ogrid[: n - 1, : n - 1, :SIDES]
    ring = step + x + 1  # the path of a place starts beside the corner stitch
    free = (ring > 1) & (ring < n)
    side = corner if way == 1 else (corner + 1) % SIDES
    return squares_at(n, np.minimum(ring, n), side, way * x, square.hand), free
