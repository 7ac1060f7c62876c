"""Paths: the pieces that a thread is made of, each with the whole table of its key points, and its curve.

`loops`, `stitches`, `togs` and `ends` hold the table, and `loops` says how to read it. Here each path is led from joint
to joint and smoothed at a size.
"""

from __future__ import annotations

from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from mosaickit.yarn.thread.curves import Points, smooth
from mosaickit.yarn.thread.ends import AFTER_LOCK, BEFORE_START, CHAIN, LOCK, START
from mosaickit.yarn.thread.loops import AFTER_JOINT, BEFORE_JOINT, JOINT, RISE, Key, Path
from mosaickit.yarn.thread.stitches import BLSC, FLDC, PLAIN_DC, PLAIN_SC
from mosaickit.yarn.thread.togs import EDGE_TOG_FRONT, TOG_BACK, TOG_FRONT


class Piece(IntEnum):
    """What a piece of thread is; the first five are those of `Stitch`."""

    SC = 0
    BLSC = 1
    FLDC = 2
    TOG_BACK = 3
    TOG_FRONT = 4
    CHAIN = 5
    """A stitch of the foundation chain; x runs as it is worked, y from the row of its V."""
    START = 6
    """The chain at the beginning of a row."""
    LOCK = 7
    """The loop at the end of a row, with the yarn drawn through it."""
    PLAIN_SC = 8
    """For comparison: single crochet through both loops."""
    PLAIN_DC = 9
    """For comparison: double crochet through both loops; h is its own row's height."""
    EDGE_TOG_FRONT = 10
    """tog-f as the first and the last stitch of a row: its sc goes under both loops, for firmness."""


def _at_the_end(key: Key) -> Key:
    """Give the same point of the joint at the square's end."""
    return (key[0] + 1, *key[1:])


def _stitch(path: Path) -> Path:
    """Lead a stitch from joint to joint; the first and the last point only say from where and where to."""
    return (BEFORE_JOINT, *path, *map(_at_the_end, RISE), _at_the_end(AFTER_JOINT))


KEYS: dict[Piece, NDArray[np.float64]] = {
    piece: np.array(path)
    for piece, path in (
        (Piece.SC, _stitch(BLSC)),
        (Piece.BLSC, _stitch(BLSC)),
        (Piece.FLDC, _stitch(FLDC)),
        (Piece.TOG_BACK, _stitch(TOG_BACK)),
        (Piece.TOG_FRONT, _stitch(TOG_FRONT)),
        (Piece.CHAIN, (BEFORE_JOINT, *CHAIN, _at_the_end(JOINT), _at_the_end(AFTER_JOINT))),
        (Piece.START, (BEFORE_START, *START, AFTER_JOINT)),
        (Piece.LOCK, (BEFORE_JOINT, *LOCK, AFTER_LOCK)),
        (Piece.PLAIN_SC, _stitch(PLAIN_SC)),
        (Piece.PLAIN_DC, _stitch(PLAIN_DC)),
        (Piece.EDGE_TOG_FRONT, _stitch(EDGE_TOG_FRONT)),
    )
}
"""The key points of each piece, (K, 5); the first and the last are not on the curve."""


def sizes(width: float, height: float, yarn: float) -> NDArray[np.float64]:
    """Give the matrix, (5, 3), that turns rows of the table into points in the unit of the three sizes."""
    return np.array([[width, 0, 0], [yarn, 0, 0], [0, height, 0], [0, yarn, 0], [0, 0, yarn]])


def curve(piece: Piece, width: float, height: float, yarn: float) -> Points:
    """Give the curve of a piece from its square's corner, (n, 3), in the unit of the three sizes."""
    return smooth(KEYS[piece] @ sizes(width, height, yarn))
