"""Which rows come again and are written as a repeat of earlier ones, by their numbers."""

from __future__ import annotations

from collections.abc import Hashable, Sequence

import numpy as np
from numpy.typing import NDArray

LEAST_REPEATED = (2, 4, 8, 16, 32, 64)
"""How many rows a repeat is to stand for at least; the shortest text is taken, of equally short ones the first."""


def plan(
    stitches: NDArray[np.uint8], yarns: Sequence[Hashable], changed: list[bool], alone: bool
) -> list[tuple[int, int, tuple[int, int]]]:
    """Say for each line its first row, how many rows it repeats (0 if it is written out), and which.

    Parameters
    ----------
    stitches : uint8 array, (R, N)
        The rows.
    yarns, changed
        The yarn of each row, and whether it is new there.
    alone : bool
        Whether row 1 is worded for the foundation chain, so that no row is like it.
    """
    # a short repeat leaves rows without words of their own, which a long one may need
    return min((_plan(stitches, yarns, changed, alone, least) for least in LEAST_REPEATED), key=len)


def _plan(
    stitches: NDArray[np.uint8], yarns: Sequence[Hashable], changed: list[bool], alone: bool, least: int
) -> list[tuple[int, int, tuple[int, int]]]:
    """Plan the lines, with no repeat that stands for fewer than `least` rows."""
    earlier = _Earlier(stitches, yarns, changed, alone=alone)
    plan = []
    row = 1
    while row <= len(stitches):
        covered, block = earlier.find(row)
        if covered < least:
            covered = 0
            earlier.written[row - 1] = not changed[row - 1]
        plan.append((row, covered, block))
        row += max(covered, 1)
    return plan


class _Earlier:
    """The rows of a chart, and which of them are written out so far, so that later ones may repeat those.

    Attributes
    ----------
    written : bool array, (R,)
        Which rows have words of their own that later rows may repeat: not those that change to another yarn.
    """

    def __init__(
        self, stitches: NDArray[np.uint8], yarns: Sequence[Hashable], changed: list[bool], *, alone: bool
    ) -> None:
        kinds: dict[object, int] = {}
        keys: list[object] = [(row.tobytes(), yarn) for row, yarn in zip(stitches, yarns, strict=True)]
        if alone:
            keys[0] = 1  # row 1 is worded for the foundation chain
        self._kind = np.array([kinds.setdefault(key, len(kinds)) for key in keys])
        # a change of yarn is said in its row, which therefore repeats no other
        self._changes = np.array(changed)
        self.written = np.zeros(len(keys), dtype=np.bool_)

    def find(self, row: int) -> tuple[int, tuple[int, int]]:
        """Find the longest stretch of rows, from a row on, that repeats written ones: how many, and which.

        Of equally long stretches the one that repeats the fewest rows, and of those the nearest, is taken. A block that
        is repeated more than once has an even number of rows, which keeps the colours; a single row is no repeat.
        """
        at = row - 1
        changes = np.flatnonzero(self._changes[at:])
        room = int(changes[0]) if changes.size else len(self._kind) - at
        sources = np.flatnonzero(self._kind[:at] == self._kind[at])
        sources = sources[self.written[sources] & ((at - sources) % 2 == 0)]
        once = [(_agree(self._kind, at, s, min(room, at - s), self.written), s) for s in sources.tolist()]
        longest = max(once, default=(0, 0))[0]
        best, block = (longest, longest) if longest > 1 else (0, 0)
        for length in range(2, longest + 1, 2):
            covered = length + _agree(self._kind, at + length, at, room - length) // length * length
            if covered > best or (covered == best and length < block):
                best, block = covered, length
        nearest = max((s for reach, s in once if reach >= block), default=0)
        return best, (nearest + 1, nearest + block)


def _agree(kind: NDArray[np.int64], one: int, other: int, most: int, written: NDArray[np.bool_] | None = None) -> int:
    """Count the rows that agree from two rows on, `most` at most, as far as the others are written."""
    agree = kind[one : one + most] == kind[other : other + most]
    if written is not None:
        agree &= written[other : other + most]
    ends = np.flatnonzero(~agree)
    return int(ends[0]) if ends.size else len(agree)
