"""What moves leave a picture as it is, and what moves just swap its colours.

A motif is read as a repeat of the plane, laid again and again across and up, or as a border, laid again and again
along its rows. The moves are those of a grid whose rows are not columns: shifts, the mirror left to right, the mirror
up-down, either mirror followed by a shift along its axis (a glide), and the half-turn; never a quarter turn. Every
move of the grid is tried, and the answer is exact.

The groups have their names of the International Tables for Crystallography. Of the 17 plane groups the nine without
turns by a quarter, a third or a sixth can occur: p1, p2, pm, pg, cm, pmm, pmg, pgg, cmm. All seven groups of borders
can; they have the four signs that are usual for borders: p, then m for a mirror left to right, then m for a mirror
up-down or a for a glide along the border, then 2 for a half-turn, and 1 for each that is missing:

====== ============================================== ==================================
name   what there is beside shifts                    International Tables, volume E
====== ============================================== ==================================
p111   nothing                                        p1
p1a1   glide along the border                         p11g
p1m1   mirror up-down                                 p11m
pm11   mirrors left to right                          p1m1
p112   half-turns                                     p211
pma2   mirrors left to right, glide, half-turns       p2mg
pmm2   both mirrors, half-turns                       p2mm
====== ============================================== ==================================

(Both columns of names from memory.) Where moves swap the colours, the two-colour group is written G/H: G are all moves,
H those that keep the colours, half of them. One pair names two groups, and the mirrors tell them apart: pm/pm(m) if
all mirrors keep, pm/pm(m′) if some swap.

A symmetry of the picture need not be one of its stitches. A dc drops down, never up, so what turns the picture upside
down leaves the stitches behind; and since row colours alternate, stitches end up on stitches when an even number
of rows keeps the colours or an odd number swaps them, and not otherwise. `Move.stitches_too` says which.

Everything here is in working order: rows and stitches from 1, row 1 below.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import number_of, one_of
from mosaickit.motif.motif import Motif
from mosaickit.motif.transforms.moving import COLOURS, Colours
from mosaickit.orientation import Hand

As = Literal["repeat", "border"]
AS: tuple[As, ...] = ("repeat", "border")

MoveKind = Literal["shift", "mirror", "glide", "up-down", "up-down glide", "half-turn"]

Table = NDArray[np.bool_]
"""Which moves of one kind there are: by the rows and the stitches that a square moves (or its two sum up to)."""


@dataclass(frozen=True)
class Move:
    """One move that leaves the picture as it is, or just swaps its colours.

    Attributes
    ----------
    kind : str
        "shift"; "mirror", left to right about a line up the rows; "glide", that mirror and then a shift up along
        its line; "up-down", about a line along the rows; "up-down glide", that and then a shift along it; or
        "half-turn", about a point.
    swaps : bool
        Whether it swaps the two colours; otherwise it keeps them.
    up, along : int
        Rows up and stitches on (from stitch 1 toward the last) that a shift or a glide goes.
    row, stitch : float or None
        Where the line or the point lies, in the first repeat: 4.0 is the middle of the fourth, 4.5 between it and
        the fifth. None for the direction in which it goes on.
    """

    kind: MoveKind
    swaps: bool
    up: int = 0
    along: int = 0
    row: float | None = None
    stitch: float | None = None

    @property
    def upside_down(self) -> bool:
        """Whether it turns the picture upside down."""
        return self.kind in ("up-down", "up-down glide", "half-turn")

    @property
    def stitches_too(self) -> bool:
        """Whether it brings stitches onto stitches of the same kind, and not only colours onto colours."""
        return not self.upside_down and (self.up % 2 == 1) == self.swaps


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
            *_say_moves(self.keeping, (self.rows, self.stitches)),
            *_say_moves(self.swapping, (self.rows, self.stitches)),
            *_say_stitches(self.moves),
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
        With `.group`, `.two_colour`, `.moves` and `.words`.

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
    one_of("as_", as_, AS)
    one_of("colours", colours, COLOURS)
    squares = orientation.to_working(motif.grid, hand)
    plane = as_ == "repeat"
    if plane and colours == "swap" and len(squares) % 2:
        squares = np.concatenate([squares, ~squares])
    squares = squares[:, : _period(squares.T)]
    if plane:
        squares = squares[: _period(squares)]
    keeps, swaps = _tables(squares, plane)
    moves = (*_moves(keeps, squares.shape, plane, False), *_moves(swaps, squares.shape, plane, True))
    rows, stitches = squares.shape
    return Symmetry(as_, rows, stitches, _name(keeps, plane), _two_colour(keeps, swaps, plane), moves)


def _period(lines: NDArray[np.bool_]) -> int:
    """Give the number of lines after which all comes again, a divisor of their number."""
    size = len(lines)
    return next(n for n in range(1, size + 1) if size % n == 0 and np.array_equal(lines, np.roll(lines, n, axis=0)))


# ---- trying every move -------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Tables:
    """Which moves there are: [r, s] says whether square (i, j) may go there, rows and stitches taken to come round."""

    shift: Table  # to (i + r, j + s)
    mirror: Table  # to (i + r, s - j)
    up_down: Table  # to (r - i, j + s)
    half_turn: Table  # to (r - i, s - j)

    def __or__(self, other: _Tables) -> _Tables:
        return _Tables(
            self.shift | other.shift,
            self.mirror | other.mirror,
            self.up_down | other.up_down,
            self.half_turn | other.half_turn,
        )


def _tables(squares: NDArray[np.bool_], plane: bool) -> tuple[_Tables, _Tables]:
    """Try every move of squares that come round: those that keep the colours, and those that swap them.

    Each row gets a number, equal rows the same. A move along the rows then turns the picture into a column of
    numbers, and whether some move of rows goes with it is a comparison of two such columns.
    """
    rows, columns = squares.shape
    number: dict[bytes, int] = {}
    same, swapped = (
        np.array([number.setdefault(row.tobytes(), len(number)) for row in np.packbits(lines, axis=1)])
        for lines in (squares, ~squares)
    )

    def numbered(lines: NDArray[np.bool_]) -> list[int]:
        return [number.get(row.tobytes(), -1) for row in np.packbits(lines, axis=1)]

    turned = squares[:, ::-1]
    shifted = np.array([numbered(np.roll(squares, s, axis=1)) for s in range(columns)])
    mirrored = np.array([numbered(np.roll(turned, s + 1, axis=1)) for s in range(columns)])

    def matching(lines: NDArray[np.int_], wanted: NDArray[np.int_]) -> Table:
        # row i of the moved picture is row i - r of the lines: (rows or 1, columns)
        steps = range(rows if plane else 1)
        return np.stack([(lines == np.roll(wanted, -r)).all(axis=1) for r in steps])

    def upside(lines: NDArray[np.int_], wanted: NDArray[np.int_]) -> Table:
        # row i of the moved picture is row r - i: the lines from the top down, moved by r + 1
        return np.roll(matching(lines[:, ::-1], wanted), -1, axis=0) if plane else matching(lines[:, ::-1], wanted)

    keeps, swaps = (
        _Tables(
            matching(shifted, wanted),
            matching(mirrored, wanted),
            upside(shifted, wanted),
            upside(mirrored, wanted),
        )
        for wanted in (same, swapped)
    )
    return keeps, swaps


# ---- naming the group --------------------------------------------------------------------------------------


def _name(tables: _Tables, plane: bool) -> str:
    """Name the group of these moves."""
    mirrors, up_downs, turns = tables.mirror.any(), tables.up_down.any(), tables.half_turn.any()
    # a mirror without a shift along its line: any such line has it at 0
    straight = int(tables.mirror[0].any()) + int(tables.up_down[:, 0].any())
    if not plane:
        second = "m" if tables.up_down[0, 0] else "a" if up_downs else "1"
        return f"p{'m' if mirrors else '1'}{second}{'2' if turns else '1'}"
    if mirrors and up_downs:
        return "cmm" if _centred(tables.shift) else ("pgg", "pmg", "pmm")[straight]
    if mirrors or up_downs:
        return "cm" if _centred(tables.shift) else ("pg", "pm")[straight]
    return "p2" if turns else "p1"


def _step(shift: Table) -> tuple[int, int, int]:
    """Give the shifts that make all others: so many rows up with so many stitches on, and so many stitches on."""
    rows, columns = shift.shape
    along = next((s for s in range(1, columns) if shift[0, s]), columns)
    up = next((r for r in range(1, rows) if shift[r].any()), rows)
    return up, int(shift[up % rows].argmax()), along


def _centred(shift: Table) -> bool:
    """Whether these shifts, which a mirror keeps, hold the middle of their smallest straight repeat."""
    return _step(shift)[1] > 0


def _two_colour(keeps: _Tables, swaps: _Tables, plane: bool) -> str:
    if not any(table.any() for table in (swaps.shift, swaps.mirror, swaps.up_down, swaps.half_turn)):
        return ""
    pair = f"{_name(keeps | swaps, plane)}/{_name(keeps, plane)}"
    if pair != "pm/pm":
        return pair
    return pair + ("(m′)" if swaps.mirror[0].any() or swaps.up_down[:, 0].any() else "(m)")


# ---- listing the moves -------------------------------------------------------------------------------------


def _moves(tables: _Tables, shape: tuple[int, ...], plane: bool, swaps: bool) -> Iterator[Move]:
    """List the shifts that make all others, and every line and centre in one repeat."""
    rows, columns = shape
    yield from _shifts(tables.shift, rows, columns, plane, swaps)
    for stitch, up in sorted(_lines(tables.mirror, columns)):
        yield Move("glide" if up else "mirror", swaps, up=up, stitch=stitch)
    # of a border only the middle of its rows can be such a line
    for row, along in sorted(_lines(tables.up_down.T, rows)) if plane else _middle(tables.up_down, rows):
        yield Move("up-down glide" if along else "up-down", swaps, along=along, row=row)
    for r, s in np.argwhere(tables.half_turn).tolist():
        for row in (1 + r / 2, 1 + (r + rows) / 2) if plane else ((rows + 1) / 2,):
            for stitch in (1 + s / 2, 1 + (s + columns) / 2):
                yield Move("half-turn", swaps, row=row, stitch=stitch)


def _lines(table: Table, size: int) -> Iterator[tuple[float, int]]:
    """Give the lines of mirrors and how far each then glides; a sum of 5 is a line at half that, and again half on."""
    for glide, total in np.argwhere(table).tolist():
        yield 1 + total / 2, glide
        yield 1 + (total + size) / 2, glide


def _middle(up_down: Table, rows: int) -> Iterator[tuple[float, int]]:
    yield from (((rows + 1) / 2, along) for along in np.flatnonzero(up_down[0]).tolist())


def _shifts(shift: Table, rows: int, columns: int, plane: bool, swaps: bool) -> Iterator[Move]:
    if not swaps:
        yield Move("shift", swaps, along=columns)
        if plane:
            yield Move("shift", swaps, up=rows)
            up, on, _ = _step(shift)
            if on:
                yield Move("shift", swaps, up=up, along=on)
        return
    ups, alongs = np.flatnonzero(shift[:, 0]).tolist(), np.flatnonzero(shift[0]).tolist()
    yield from (Move("shift", swaps, up=up) for up in ups[:1])
    yield from (Move("shift", swaps, along=along) for along in alongs[:1])
    if not ups and not alongs:
        yield from (Move("shift", swaps, up=up, along=along) for up, along in np.argwhere(shift)[:1].tolist())


# ---- saying it in words ------------------------------------------------------------------------------------

MOST_PLACES = 6
"""A sentence names at most so many lines or points, and then says how many more there are."""

PLURAL = {"row": "rows", "stitch": "stitches"}


def _line(one: str, at: float, size: int) -> str:
    """Say where a line lies: along the middle of a row or stitch, or between two."""
    low = int(at)
    if low == at:
        return f"{one} {low}"
    if low == size:
        return f"the line between {one} {low} and the next repeat"
    return f"the line between {PLURAL[one]} {low} and {low + 1}"


def _where(move: Move, size: tuple[int, int]) -> str:
    if move.row is not None and move.stitch is not None:
        row, stitch = (f"{int(at)}{'½' if at % 1 else ''}" for at in (move.row, move.stitch))
        return f"row {row}, stitch {stitch}"
    if move.row is not None:
        return _line("row", move.row, size[0])
    return _line("stitch", move.stitch, size[1]) if move.stitch is not None else ""


def _what(move: Move) -> str:
    """Say what a move does, with a gap for where."""
    ways = [f"{number_of(move.up, 'row')} up"] * (move.up > 0) + [f"{number_of(move.along, 'stitch')} on"] * (
        move.along > 0
    )
    shifted = f"shifted {' and '.join(ways)}"
    return {
        "shift": shifted,
        "mirror": "mirrored left to right about {}",
        "glide": f"mirrored left to right about {{}} and then {shifted}",
        "up-down": "turned upside down about {}",
        "up-down glide": f"turned upside down about {{}} and then {shifted}",
        "half-turn": "after half a turn about {}, where ½ lies between two",
    }[move.kind]


def _listed(places: list[str]) -> str:
    shown, more = places[:MOST_PLACES], len(places) - MOST_PLACES
    return " or ".join([*shown, f"{more} more places"] if more > 0 else shown)


def _say_moves(moves: tuple[Move, ...], size: tuple[int, int]) -> Iterator[str]:
    """Say moves of one colour effect; those that differ in their place only become one sentence."""
    places: dict[str, list[str]] = {}
    for move in moves:
        # how large the straight repeat is has been said
        if move.swaps or move.kind != "shift" or (move.up and move.along):
            places.setdefault(_what(move), []).append(_where(move, size))
    start = "It swaps its colours" if any(move.swaps for move in moves) else "It reads the same"
    yield from (f"{start} {what.format(_listed(where))}." for what, where in places.items())


def _say_stitches(moves: tuple[Move, ...]) -> Iterator[str]:
    """Say which symmetries are the picture's only."""
    only = "overlaid squares end up on plain ones: that is a symmetry of the picture only."
    upright = {(move.swaps, move.stitches_too) for move in moves if not move.upside_down}
    if any(move.upside_down for move in moves):
        yield "What turns it upside down is a symmetry of the picture only, not of its stitches: a dc never drops up."
    if (True, False) in upright:
        yield f"Where colours swap though an even number of rows is moved, or none, {only}"
    if (False, False) in upright:
        yield f"Where colours keep though an odd number of rows is moved, {only}"
    if (True, True) in upright:
        yield "Where an odd number of rows swaps the colours, stitches follow: row colours alternate."
