"""Trying every move of the grid: tables of which shifts, mirrors and turns keep the colours, and which swap them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

MoveTable = NDArray[np.bool_]
"""Which moves of one kind there are: by the rows and the stitches that a square moves (or its two sum up to)."""


@dataclass(frozen=True)
class Tables:
    """Which moves there are: [r, s] says whether square (i, j) may go there, rows and stitches taken to come round."""

    shift: MoveTable  # to (i + r, j + s)
    mirror: MoveTable  # to (i + r, s - j)
    up_down: MoveTable  # to (r - i, j + s)
    half_turn: MoveTable  # to (r - i, s - j)

    def __or__(self, other: Tables) -> Tables:
        return Tables(
            self.shift | other.shift,
            self.mirror | other.mirror,
            self.up_down | other.up_down,
            self.half_turn | other.half_turn,
        )


def tables_of(squares: NDArray[np.bool_], plane: bool) -> tuple[Tables, Tables]:
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

    def matching(lines: NDArray[np.int_], wanted: NDArray[np.int_]) -> MoveTable:
        # row i of the moved picture is row i - r of the lines: (rows or 1, columns)
        steps = range(rows if plane else 1)
        return np.stack([(lines == np.roll(wanted, -r)).all(axis=1) for r in steps])

    def upside(lines: NDArray[np.int_], wanted: NDArray[np.int_]) -> MoveTable:
        # row i of the moved picture is row r - i: the lines from the top down, moved by r + 1
        return np.roll(matching(lines[:, ::-1], wanted), -1, axis=0) if plane else matching(lines[:, ::-1], wanted)

    keeps, swaps = (
        Tables(
            matching(shifted, wanted),
            matching(mirrored, wanted),
            upside(shifted, wanted),
            upside(mirrored, wanted),
        )
        for wanted in (same, swapped)
    )
    return keeps, swaps
