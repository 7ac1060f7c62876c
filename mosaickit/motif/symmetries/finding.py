"""The symmetry of a motif: what was tried, listed and named, put together for a maker."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import number_of, of_kind, one_of
from mosaickit.motif.motif import Motif
from mosaickit.motif.symmetries.moves import Move, moves_of
from mosaickit.motif.symmetries.naming import name_of, two_colour_of
from mosaickit.motif.symmetries.saying import say_moves, say_stitches
from mosaickit.motif.symmetries.trying import tables_of
from mosaickit.motif.transforms.moving import COLOURS, Colours
from mosaickit.orientation import Hand

As = Literal["repeat", "border"]
AS: tuple[As, ...] = ("repeat", "border")


@dataclass(frozen=True, repr=False)
class Symmetry:
    """The symmetry of a motif as a repeat or a border.

    Attributes
    ----------
    as_ : "repeat" or "border"
        What the motif was taken for.
    rows, stitches : int
        The smallest straight repeat: after so many rows (of a border: all its rows), and so many stitches, the
        picture comes again.
    group : str
        The name of the group of all moves that keep the colours, as "pmm" or "pma2".
    two_colour : str
        G/H, as "pmm/cmm": the group of all moves, and of those that keep the colours. Empty if none swaps them.
    moves : tuple of Move
        The shifts from which all shifts can be put together, and every line and centre within the smallest repeat.
    """

    as_: As
    rows: int
    stitches: int
    group: str
    two_colour: str
    moves: tuple[Move, ...]

    @property
    def keeping(self) -> tuple[Move, ...]:
        """The moves that keep the colours."""
        return tuple(move for move in self.moves if not move.swaps)

    @property
    def swapping(self) -> tuple[Move, ...]:
        """The moves that swap the colours."""
        return tuple(move for move in self.moves if move.swaps)

    @property
    def words(self) -> tuple[str, ...]:
        """The same in sentences, for a lesson."""
        name = "Plane" if self.as_ == "repeat" else "Border"
        two = f", in two colours {self.two_colour}" if self.two_colour else ", and no move swaps the colours"
        return (
            f"{name} group {self.group}{two}.",
            self._say_size(),
            *say_moves(self.keeping, (self.rows, self.stitches)),
            *say_moves(self.swapping, (self.rows, self.stitches)),
            *say_stitches(self.moves),
        )

    def _say_size(self) -> str:
        if self.as_ == "border":
            return f"It repeats every {number_of(self.stitches, 'stitch')} along."
        return (
            f"It repeats every {number_of(self.rows, 'row')} up and every {number_of(self.stitches, 'stitch')} along."
        )

    def __str__(self) -> str:
        return "\n".join(self.words)

    def __repr__(self) -> str:
        return f"<Symmetry {self.words[0]}>"


def symmetry(motif: Motif, *, as_: As = "repeat", colours: Colours = "keep", hand: Hand = "right") -> Symmetry:
    """Find all symmetries of a picture that repeats.

    Parameters
    ----------
    motif : Motif
        One repeat, (R, C), workable or not.
    as_ : "repeat" or "border"
        Whether it repeats across and up, or along its rows only.
    colours : "keep" or "swap"
        With an odd number of rows, whether every second repeat up keeps its colours or has them swapped, as in
        `mk.repeat`. A border is not repeated up.
    hand : "right" or "left"
        From which edge stitches are counted.

    Returns
    -------
    Symmetry
        With ``.group``, ``.two_colour``, ``.moves`` and ``.words``.

    Examples
    --------
    >>> wave = Motif.from_text('''
    ... ##..
    ... ..##
    ... ''')
    >>> print(symmetry(wave, as_="border"))
    Border group pma2, in two colours pmm2/pma2.
    It repeats every 4 stitches along.
    It reads the same mirrored left to right about the line between stitches 1 and 2 or the line between stitches 3 and
    4.
    It reads the same turned upside down about the line between rows 1 and 2 and then shifted 2 stitches on.
    It reads the same after half a turn about row 1½, stitch 2½ or row 1½, stitch 4½, where ½ lies between two.
    It swaps its colours shifted 2 stitches on.
    It swaps its colours mirrored left to right about the line between stitches 2 and 3 or the line between stitch 4 and
    the next repeat.
    It swaps its colours turned upside down about the line between rows 1 and 2.
    It swaps its colours after half a turn about row 1½, stitch 1½ or row 1½, stitch 3½, where ½ lies between two.
    What turns it upside down is a symmetry of the picture only, not of its stitches: a dc never drops up.
    Where colours swap though an even number of rows is moved, or none, overlaid squares end up on plain ones:
    that is a symmetry of the picture only.
    """
    of_kind("motif", motif, Motif)
    one_of("as_", as_, AS)
    one_of("colours", colours, COLOURS)
    squares = orientation.to_working(motif.grid, hand)
    plane = as_ == "repeat"
    if plane and colours == "swap" and len(squares) % 2:
        squares = np.concatenate([squares, ~squares])
    squares = squares[:, : _period(squares.T)]
    if plane:
        squares = squares[: _period(squares)]
    keeps, swaps = tables_of(squares, plane)
    moves = (*moves_of(keeps, squares.shape, plane, False), *moves_of(swaps, squares.shape, plane, True))
    rows, stitches = squares.shape
    return Symmetry(as_, rows, stitches, name_of(keeps, plane), two_colour_of(keeps, swaps, plane), moves)


def _period(lines: NDArray[np.bool_]) -> int:
    """Give the number of lines after which all comes again, a divisor of their number."""
    size = len(lines)
    return next(n for n in range(1, size + 1) if size % n == 0 and np.array_equal(lines, np.roll(lines, n, axis=0)))
