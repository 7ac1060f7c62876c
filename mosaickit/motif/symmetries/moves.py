"""The moves one by one: every line, centre and shift in one repeat, where a maker finds it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from mosaickit.motif.symmetries.naming import step
from mosaickit.motif.symmetries.trying import MoveTable, Tables

MoveKind = Literal["shift", "mirror", "glide", "up-down", "up-down glide", "half-turn"]


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


def moves_of(tables: Tables, shape: tuple[int, ...], plane: bool, swaps: bool) -> Iterator[Move]:
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


def _lines(table: MoveTable, size: int) -> Iterator[tuple[float, int]]:
    """Give the lines of mirrors and how far each then glides; a sum of 5 is a line at half that, and again half on."""
    for glide, total in np.argwhere(table).tolist():
        yield 1 + total / 2, glide
        yield 1 + (total + size) / 2, glide


def _middle(up_down: MoveTable, rows: int) -> Iterator[tuple[float, int]]:
    yield from (((rows + 1) / 2, along) for along in np.flatnonzero(up_down[0]).tolist())


def _shifts(shift: MoveTable, rows: int, columns: int, plane: bool, swaps: bool) -> Iterator[Move]:
    if not swaps:
        yield Move("shift", swaps, along=columns)
        if plane:
            yield Move("shift", swaps, up=rows)
            up, on, _ = step(shift)
            if on:
                yield Move("shift", swaps, up=up, along=on)
        return
    ups, alongs = np.flatnonzero(shift[:, 0]).tolist(), np.flatnonzero(shift[0]).tolist()
    yield from (Move("shift", swaps, up=up) for up in ups[:1])
    yield from (Move("shift", swaps, along=along) for along in alongs[:1])
    if not ups and not alongs:
        yield from (Move("shift", swaps, up=up, along=along) for up, along in np.argwhere(shift)[:1].tolist())
