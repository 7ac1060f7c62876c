"""The motifs there are of a size and symmetry, numbered, drawn at random and moved through.

Everything is said in overlaid squares, a strip at a time: the squares of a column in which something can be overlaid,
or half of them where a symmetry turns the column onto itself. The other squares follow by symmetry. A strip of n
squares has F(n + 2) fillings (Fibonacci numbers), and their numbers in order are read as Zeckendorf writes numbers:
as a sum of Fibonacci numbers of which no two are neighbours.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import OptionError, one_of, whole_number
from mosaickit.files import to_json
from mosaickit.ideas.chance.drawing import count_motifs
from mosaickit.motif import Motif, SymmetryName, checked_size, nearest_workable, with_the_third
from mosaickit.orientation import ROLES, Role

REDRAWN = 0.2
"""The share of moves that draw a whole strip again: our choice, no source."""

OverlaidSquares = NDArray[np.bool_]


@dataclass(frozen=True)
class Space:
    """All motifs of a size and symmetry that can be worked.

    Parameters
    ----------
    plain : Motif
        The one of them in which nothing is overlaid.
    symmetries : frozenset
        Two always with the third.
    """

    plain: Motif
    symmetries: frozenset[SymmetryName]

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
        return count_motifs(*self.plain.shape, symmetry=sorted(self.symmetries))

    def numbered(self, number: int) -> OverlaidSquares:
        """Give the half of the motif with a number from 0."""
        half = np.zeros(self.plain.shape, dtype=np.bool_)
        for column, squares in self.strips:
            number, rank = divmod(number, _fillings(squares))
            half[1 : squares + 1, column] = _filling(rank, squares)
        return half

    def drawn(self, rng: np.random.Generator) -> OverlaidSquares:
        """Give the half of a motif drawn at random, all being equally likely."""
        half = np.zeros(self.plain.shape, dtype=np.bool_)
        for strip in self.strips:
            self.redraw(half, strip, rng)
        return half

    def redraw(self, half: OverlaidSquares, strip: tuple[int, int], rng: np.random.Generator) -> None:
        """Draw a strip of a half again, all its fillings being equally likely."""
        column, squares = strip
        half[1 : squares + 1, column] = _filling(_below(_fillings(squares), rng), squares)

    def moved(self, half: OverlaidSquares, rng: np.random.Generator) -> OverlaidSquares:
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

    def half(self, overlaid: OverlaidSquares) -> OverlaidSquares:
        """Take from all overlaid squares the half that the others follow from."""
        half = np.zeros(self.plain.shape, dtype=np.bool_)
        for column, squares in self.strips:
            half[1 : squares + 1, column] = overlaid[1 : squares + 1, column]
        return half

    def whole(self, half: OverlaidSquares) -> OverlaidSquares:
        """Give all overlaid squares, which follow from the half."""
        whole = half.copy()
        if "mirror" in self.symmetries:
            whole |= whole[:, ::-1]
        if "up-down" in self.symmetries:
            whole |= whole[::-1]
        elif "half-turn" in self.symmetries:
            whole |= whole[::-1, ::-1]
        return whole

    def motif(self, overlaid: OverlaidSquares) -> Motif:
        """Give the motif that has these squares overlaid."""
        return self.plain.with_overlaid(overlaid)

    def mask(self, key: str) -> OverlaidSquares:
        """Give the overlaid squares that a key stands for."""
        bits = np.unpackbits(np.frombuffer(bytes.fromhex(key), dtype=np.uint8), count=self.plain.grid.size)
        return bits.reshape(self.plain.shape).astype(np.bool_)

    def describe(self) -> list[Any]:
        """Give what tells this space from others, as JSON can hold it."""
        return [to_json(self.plain), sorted(self.symmetries)]


def key_of(squares: OverlaidSquares) -> str:
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
def _filling(rank: int, squares: int) -> OverlaidSquares:
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


def space_of(
    start: object, symmetry: SymmetryName | Iterable[SymmetryName], first: Role | None
) -> tuple[Space, OverlaidSquares | None]:
    """Give what is searched, and the half of the motif from which runs set out."""
    symmetries = with_the_third(symmetry)
    if first is not None:
        one_of("first", first, ROLES)
    if isinstance(start, Motif):
        if first not in (None, start.first):
            raise OptionError(f"`first` must be left out: the motif to start from has row 1 in {start.first}.")
        begun = nearest_workable(start, symmetry=symmetries).motif
        space = Space(_plain(begun), symmetries)
        return space, space.half(begun.overlaid)
    if not isinstance(start, tuple | list) or len(start) != 2:
        raise OptionError(f"`start` must be a `Motif` or a size, (rows, stitches); got {start!r}.")
    shape = checked_size(*(whole_number(name, n, least=1) for name, n in zip(("rows", "stitches"), start, strict=True)))
    return Space(_plain(Motif(np.zeros(shape, dtype=np.bool_), first or "MC")), symmetries), None


def _plain(motif: Motif) -> Motif:
    return motif.with_overlaid(np.zeros(motif.shape, dtype=np.bool_))
