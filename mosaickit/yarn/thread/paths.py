"""Paths: where the yarn of each stitch goes, point by point.

One readable table, for a crafts person to check with a hook in hand. A stitch is drawn in its own square: x runs from
0 to w in working direction, y from 0, the top of the row below, to h, the top of its own row, z towards the viewer.
Each key point is a row of five numbers::

    x / w   x / d      y / h   y / d      z / d

so that (0.5, -0.7, 1, 0, -1.5) lies 0.7 yarn diameters before the middle of the square, at the top of its row, and
one and a half diameters behind the middle of the fabric. Fabric has no thickness but the yarn's: no z is in w or h.

What is the same in every stitch:

* A stitch's top is a loop that lies on its side: the back loop and the front loop of the V. It comes up at the joint
  at the square's beginning (x = 0), turns back at the joint at its end (x = w), and the next stitch's top comes up
  through it there. The yarn runs along the back loop first: it is laid over the hook from back to front.
* Under it, round the same two legs, hangs the head of the loop that the stitch drew up. So the posts lean by half a
  stitch in working direction, as they do in work that is never turned.
* Every piece begins and ends at the leading leg in the joint, with the same neighbours: any stitch follows any other
  and has one length, whatever stands beside or below it, as the V it is worked into is the same for all stitches.

How tight it is. Where key points stand as far out as the strands' diameters need, the path is taut; farther out, it
is slack, which the pull of a hand takes out. The double crochets of FLdc, tog-b and tog-f were drawn taut by
computation, in random fabrics of all stitches with carried strands: loops that were round the hook (tops, heads, the
yarn over) kept their size, strands kept four fifths of a diameter apart, and the yarn between them took the shortest
way. That took 7 to 14 percent of their length, and an FLdc is now as long as a dc of its height but for the second
loop, 5 to 6 percent. Ordinary sc and dc and BLsc would lose 3 to 4 percent; they were left, for no work is pulled as
taut as that, and the one measurement of dc rows there is has them longer than here, not shorter.

A row must be three and a half yarn diameters high to have room for its strands: in a lower one they cross, and
lengths mean little.

The right side faces the viewer for a hand that works towards x; a right-hander's work is its mirror image.
"""

from __future__ import annotations

from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from mosaickit.yarn.thread.curves import Points, smooth

Key = tuple[float, float, float, float, float]
Path = tuple[Key, ...]


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


# ---- the top, and the joints at its ends ---------------------------------------------------------------------

JOINT: Key = (0, -0.35, 1, -1.0, -0.35)  # the leading leg, between the two heads that hang on it
BEFORE_JOINT: Key = (0, -0.4, 1, -1.9, -0.45)  # it has come in front of the drawn-up loop's head
AFTER_JOINT: Key = (0, 0.1, 1, 0.4, -0.65)  # and comes up through the top before

RISE: Path = (
    (0, -0.8, 1, -3.1, -2.4),  # up behind the work
    (0, -0.5, 1, -2.7, -1.0),  # forward under the head of the loop that was drawn up
    BEFORE_JOINT,
    JOINT,
)
TOP: Path = (
    JOINT,
    AFTER_JOINT,
    (0, 1.0, 1, 0.6, -1.2),  # lies down over the top before
    (0.5, 0, 1, 0, -1.2),  # the back loop; between the two there is room for one strand, which is all that comes there
    (1, -0.6, 1, -0.5, -1.5),
    (1, 0.6, 1, -0.6, -1.45),  # the turn round the two legs of the next top
    (1, 1.45, 1, -0.6, 0),
    (1, 0.6, 1, -0.6, 1.45),
    (1, -0.6, 1, -0.5, 1.5),
    (0.5, 0, 1, 0, 1.2),  # the front loop
    (0, 1.0, 1, 0.6, 1.2),
    (0, 0.4, 1, 0.4, 0.75),
)
FALL: Path = (
    (0, 0.2, 1, -1.0, 0.5),  # down through the top before
    (0, 0.3, 1, -1.9, 0.1),
    (0, 0.5, 1, -2.7, -1.0),  # back under the head of the loop that was drawn up
    (0, 0.8, 1, -3.1, -2.4),  # and behind the work
)
HEAD: Path = (
    (1, -1.55, 1, -1.7, 0.2),  # up on the near side of the legs of the next top
    (1, -1.0, 1, -1.5, -1.2),
    (1, 0, 1, -1.45, -1.6),  # behind them
    (1, 1.1, 1, -1.5, -1.2),
    (1, 1.55, 1, -1.7, 0.2),  # down on their far side
)

# ---- sc: one loop drawn up -----------------------------------------------------------------------------------

INTO_BACK_LOOP: Path = (
    (0.5, -1.0, 0, 0, -2.4),  # down behind the V below
    (0.5, -0.7, 0, -1.1, -1.2),  # under its back loop
    (0.5, -0.7, 0, 0, -0.2),  # up between its two loops
)
OUT_OF_BACK_LOOP: Path = (
    (0.5, 0.7, 0, 0, -0.2),
    (0.5, 0.7, 0, -1.1, -1.2),
    (0.5, 1.0, 0, 0, -2.4),
)
INTO_BOTH_LOOPS: Path = (
    (0.5, -1.0, 0, 0, -2.4),  # down behind the V below
    (0.5, -0.7, 0, -1.1, -1.2),  # under both its loops
    (0.5, -0.7, 0, -1.1, 1.2),
    (0.5, -0.7, 0, 0.2, 2.3),  # up in front of it
)
OUT_OF_BOTH_LOOPS: Path = (
    (0.5, 0.7, 0, 0.2, 2.3),
    (0.5, 0.7, 0, -1.1, 1.2),
    (0.5, 0.7, 0, -1.1, -1.2),
    (0.5, 1.0, 0, 0, -2.4),
)
DRAWN_LOOP: Path = ((0.72, -1.0, 0.5, -0.6, 0.4), *HEAD, (0.72, 1.1, 0.5, -0.6, 0.4))  # the V on the right side

BLSC = (*TOP, *FALL, *INTO_BACK_LOOP, *DRAWN_LOOP, *OUT_OF_BACK_LOOP)
PLAIN_SC = (*TOP, *FALL, *INTO_BOTH_LOOPS, *DRAWN_LOOP, *OUT_OF_BOTH_LOOPS)

# ---- FLdc: all in front of the stitch that is skipped --------------------------------------------------------

INTO_FRONT_LOOP: Path = (
    (0.30, 0.65, 0, 0.35, 2.05),  # before the V that is passed, touching its front loop
    (0.23, 1.0, -0.5, 0.2, 1.2),  # beside the post behind, not before it
    (0.28, 0.35, -1, 1.9, 0.65),
    (0.30, -0.05, -1, -0.05, 0.55),  # between the two loops two rows below
    (0.33, -0.4, -1, -0.45, 1.25),  # out under the front one
    (0.35, -0.5, -1, -0.1, 1.95),  # touching it
    (0.42, -0.15, -0.5, 0.65, 2.1),
)
OUT_OF_FRONT_LOOP: Path = (
    (0.61, 1.35, -0.5, 0.75, 2.25),
    (0.66, 0.35, -1, -0.65, 2.05),
    (0.69, 0.05, -1, -1.1, 1.35),  # in under the front loop again
    (0.73, -0.2, -1, -0.6, 0.5),
    (0.74, -0.35, -1, 2.2, 1.15),
    (0.79, -1.1, -0.5, 0.1, 1.55),
    (0.74, -1.0, 0, -0.8, 2.1),
)

FLDC = (
    *TOP,
    *FALL,
    # the yarn over: behind the post, round its far side, slanting down across its front; against the drawn loop's head
    (0.4, -1.05, 0.3, 0.7, -1.1),
    (0.70, -1.05, 0.3, 0.3, 0.1),
    (0.80, -1.05, 0.3, 0.3, 0),
    (0.76, 1.15, 0.3, 0.1, 1.2),
    (0.74, -0.05, 0.3, -0.1, 2.4),
    (0.68, -2.25, 0.3, -0.45, 2.4),
    (0.66, -3.05, 0.3, -0.7, 1.4),
    # down in front of the skipped stitch to the V two rows below
    *INTO_FRONT_LOOP,
    # the loop drawn up, as far as the row's foot
    (0.44, 0.3, 0, -0.8, 2.15),
    (0.62, -0.8, 0.3, -0.95, 1.55),
    (0.62, -0.4, 0.3, -0.65, 0.7),
    (0.62, 0.6, 0.3, -0.55, 0.45),  # its head, behind the loop that is drawn through it
    (0.62, 1.6, 0.3, -0.65, 0.7),
    (0.62, 2, 0.3, -0.95, 1.55),
    (0.59, 1.8, 0, -1.2, 2.4),
    *OUT_OF_FRONT_LOOP,
    # the loop drawn through it and the yarn over
    (0.62, 0.2, 0.3, -1.3, 1.9),
    (0.62, 0.25, 0.3, -0.45, 1.75),
    (0.78, -0.2, 0.65, -0.55, 0.85),
    *HEAD,
    (0.78, 1.45, 0.65, -0.8, 0.85),
    (0.62, 1.05, 0.3, -0.6, 1.4),
    (0.62, 1.1, 0.3, -1.25, 1.05),
    (0.80, -0.45, 0.3, -1.35, 0.25),  # back over the skipped stitch
)

# ---- tog: two heads hang in one joint ------------------------------------------------------------------------

SECOND_HEAD: Path = (
    (1, -1.7, 1, -2.5, -1.4),  # below and behind the first
    (1, -0.9, 1, -2.0, -2.4),
    (1, 0, 1, -1.9, -2.6),
    (1, 0.9, 1, -2.0, -2.4),
    (1, 1.7, 1, -2.5, -1.2),
)

TOG_BACK = (
    *BLSC,
    # the yarn over, behind the work: as far out as the sc's two legs and the carried strand push it
    (0.53, 0.3, 0.2, -1.3, -2.7),
    (0.52, 0.3, 0.3, 0, -3.7),
    (0.68, 0.3, 0.3, 0.3, -4),
    (0.86, 0.3, 0.3, 0.4, -3.8),
    (0.85, 2.3, 0.3, 0.1, -2.5),
    (0.85, 1.3, 0.3, -0.1, -1.1),
    (0.81, -0.9, 0.3, -0.4, -1.2),
    (0.79, -1.8, 0.3, -0.6, -2.3),
    # down the wrong side to the V two rows below
    (0.50, -0.1, 0.3, -1.2, -2.45),
    (0.45, 0.05, 0, -0.45, -3.1),
    (0.32, 0.85, -0.5, 0.3, -2.7),
    (0.36, 0, -1, 0.1, -2.1),
    (0.36, -0.1, -1, -0.6, -1.35),  # in under its back loop
    (0.36, -0.1, -1, -0.15, -0.45),  # between its two loops
    (0.37, 0.3, -1, 1.35, -0.7),
    # the loop drawn up on the wrong side
    (0.48, 0.3, -0.5, 0.1, -2),
    (0.62, 0.25, 0, 0.15, -3.15),
    (0.76, -0.9, 0.3, -0.95, -2.85),
    (0.76, -0.5, 0.3, -0.65, -3.7),
    (0.76, 0.5, 0.3, -0.55, -3.95),  # its head, behind the loop that is drawn through it
    (0.76, 1.5, 0.3, -0.65, -3.7),
    (0.76, 1.9, 0.3, -0.95, -2.85),
    (0.80, 0.9, 0, 0.2, -2.5),
    (0.62, 1.15, -0.5, 0.1, -1.45),
    (0.58, 0.65, -1, 1.8, -0.75),
    (0.60, -0.15, -1, -0.55, -0.55),
    (0.60, -0.25, -1, -0.9, -1.5),  # out under the back loop again
    (0.62, -0.4, -1, -0.15, -2.15),
    (0.78, -1.15, -0.5, 0.75, -2.65),
    # the loop drawn through it and the yarn over
    (0.76, -0.2, 0.3, -1.75, -2.7),
    (0.76, 0.05, 0.3, -0.3, -2.45),
    (0.88, -0.6, 0.65, 0.1, -1.55),
    *SECOND_HEAD,
    (1, 1.15, 1, -3.5, -1.4),  # before the yarn that falls to the next stitch
    (0.86, 1.45, 0.5, -0.45, -2),
    (0.76, 1, 0.3, -0.75, -2.95),
    (0.76, 1.05, 0.3, -1.4, -3.65),
    (0.86, 0.3, 0.3, -1.15, -4.5),
    (0.95, -0.25, 0.3, 0.4, -4.65),
    (0.97, -0.45, 0.62, -1.4, -4),
)

FIRST_LOOP: Path = (
    (0.72, -0.8, 0.5, -1.05, -0.75),
    *SECOND_HEAD,
    (1, 1.2, 1, -3.25, -0.9),
    (0.72, 1.1, 0.5, -0.8, -0.4),
)  # drawn up for the sc; the dc is worked before it
DC_IN_FRONT: Path = (
    # the yarn over, brought to the right side before the loop just drawn up
    (0.46, 0.05, 0.3, -1.1, -2.5),
    (0.44, 0.05, 0.3, 0.5, -0.3),
    (0.66, 0.05, 0.3, 0.7, 0.6),
    (0.80, 0.05, 0.3, 0.5, 0.6),
    (0.76, 2.25, 0.3, 0.5, 2.2),
    (0.74, 1.05, 0.3, 0.3, 3.4),
    (0.68, -1.15, 0.3, -0.05, 3.4),
    (0.66, -1.95, 0.3, -0.3, 2.4),
    *INTO_FRONT_LOOP,
    (0.44, 0.35, 0, -0.15, 2.4),
    (0.62, -1.05, 0.3, -1.05, 2.45),
    (0.62, -0.65, 0.3, -0.75, 1.6),
    (0.62, 0.35, 0.3, -0.65, 1.35),
    (0.62, 1.35, 0.3, -0.75, 1.6),
    (0.62, 1.75, 0.3, -1.05, 2.45),
    (0.59, 1.7, 0, -0.65, 2.5),
    *OUT_OF_FRONT_LOOP,
    (0.62, 0, 0.3, -0.95, 2.7),
    (0.78, -0.55, 0.65, -0.95, 1.75),
    *HEAD,
    (1, 1.2, 1, -2.05, 0.4),
    (0.78, 1.6, 0.65, -0.85, 1.25),
    (0.62, 0.8, 0.3, -0.7, 2.3),
    (0.62, 0.95, 0.3, -1.55, 1.65),
    (0.86, -0.45, 0.3, -0.55, -0.15),  # back past the loop drawn up for the sc
    (0.97, -0.75, 0.5, -0.15, -1.65),
)
TOG_FRONT = (*TOP, *FALL, *INTO_BACK_LOOP, *FIRST_LOOP, *OUT_OF_BACK_LOOP, *DC_IN_FRONT)
EDGE_TOG_FRONT = (
    *TOP,
    *FALL,
    *INTO_BOTH_LOOPS,
    *FIRST_LOOP,
    *OUT_OF_BOTH_LOOPS,
    # as DC_IN_FRONT, but before the two legs that come out in front of the V
    (0.46, 0.05, 0.3, -1.1, -2.5),
    (0.44, -0.65, 0.3, 0.6, 0.1),
    (0.66, -0.65, 0.3, 0.75, 1.0),
    (0.80, -0.65, 0.3, 0.6, 1.0),
    (0.76, 1.55, 0.3, 0.5, 2.6),
    (0.74, 0.35, 0.3, 0.3, 3.8),
    (0.68, -1.85, 0.3, -0.05, 3.8),
    (0.66, -2.65, 0.3, -0.3, 2.8),
    (0.30, 0.45, 0, 0.4, 2.55),
    *INTO_FRONT_LOOP[1:],
    (0.44, 0.75, 0, 0.15, 2.95),
    (0.62, -0.35, 0.3, -0.85, 3.0),
    (0.62, 0.05, 0.3, -0.55, 2.15),
    (0.62, 1.05, 0.3, -0.45, 1.9),
    (0.62, 2.05, 0.3, -0.55, 2.15),
    (0.62, 2.45, 0.3, -0.85, 3.0),
    (0.59, 2.2, 0, -0.35, 2.8),
    *OUT_OF_FRONT_LOOP[:-1],
    (0.74, -0.6, 0, -0.45, 2.4),
    (0.62, 0.6, 0.3, -0.55, 2.85),
    (0.78, -0.45, 0.65, -1.8, 2.0),
    *HEAD,
    (1, 1.2, 1, -2.05, 0.4),
    (0.78, 1.25, 0.65, -1.0, 2.0),
    (0.62, 1.45, 0.3, -0.55, 2.85),
    (0.62, 1.65, 0.3, -1.3, 2.25),
    (0.86, -0.15, 0.3, -0.9, 1.15),
    (0.97, -1.2, 0.5, 0.45, 0.1),
)

# ---- dc through both loops, for comparison -------------------------------------------------------------------

PLAIN_DC = (
    *TOP,
    *FALL,
    (0.50, 0, 0.5, 2.2, -1.2),  # the yarn over
    (0.76, 0, 0.5, 2.0, -0.7),
    (0.79, 2.0, 0.5, 1.8, 0.5),
    (0.79, 1.0, 0.5, 1.6, 1.7),
    (0.75, -1.2, 0.5, 1.25, 1.7),
    (0.74, -2.0, 0.5, 1.0, 0.6),
    (0.50, 0, 0.5, -1.0, -1.8),
    *INTO_BOTH_LOOPS,
    (0.72, -1.4, 0.5, -0.3, 0.5),  # the loop drawn up, half the row high
    (0.72, -1.0, 0.5, 0, -0.35),
    (0.72, 0, 0.5, 0.1, -0.6),
    (0.72, 1.0, 0.5, 0, -0.35),
    (0.72, 1.4, 0.5, -0.3, 0.5),
    *OUT_OF_BOTH_LOOPS,
    (0.72, -0.5, 0.5, -1.2, -0.2),  # the loop drawn through it and the yarn over
    (0.72, -0.5, 0.5, 0, 0.7),
    (0.84, -1.0, 0.75, 0, 0.6),
    *HEAD,
    (0.84, 1.0, 0.75, 0, 0.6),
    (0.72, 0.5, 0.5, 0, 0.7),
    (0.72, 0.5, 0.5, -1.2, -0.2),
    (0.84, 0, 0.5, -0.6, -1.6),
)

# ---- chains and the ends of a row ----------------------------------------------------------------------------

CHAIN = (
    *TOP,
    (0, 0.2, 1, -1.0, 0.5),  # down through the loop before
    (0, 0.4, 1, -1.9, 0.5),
    (0.5, 0, 1, -2.3, 0.5),  # the bump below the V
    (1, -1.4, 1, -2.3, 0.1),
    (1, -0.4, 1, -1.9, -0.45),  # up into the next loop
)
BEFORE_START: Key = (-0.6, 0, 0, -0.6, -0.5)
START_FOOT: Key = (-0.35, 0, 0, 0, -0.5)  # at the working edge
START = (
    START_FOOT,
    (-0.28, -0.6, 0.5, -0.6, 0.4),
    (0, -1.4, 1, -1.7, 0.2),
    (0, -1.0, 1, -1.5, -1.2),
    (0, 0, 1, -1.45, -1.6),
    (0, 1.1, 1, -1.5, -1.2),
    (0, 1.5, 1, -1.7, 0.2),
    (-0.1, 0.6, 0.5, -0.6, 0.4),
    (-0.2, 0.4, 0, 0.6, -0.9),
    (-0.2, 0, 0, -0.3, -1.5),
    (-0.15, 0, 0, 0.8, -2.7),
    *RISE,
)
LOCK_END: Key = (0.65, 0, 1, 1.7, 0)
LOCK = (
    *TOP[:3],
    (0.3, 0, 1, 0, -1.5),
    (0.5, 0, 1, -0.3, 0),
    (0.3, 0, 1, 0, 1.5),
    *TOP[-2:],
    *FALL,
    (0.3, 0, 1, -2.0, -1.8),
    (0.3, 0, 1, -0.2, 0),  # up through the loop
    LOCK_END,
)
AFTER_LOCK: Key = (1.0, 0, 1, 1.6, 0)
CARRIED: Key = (0, 0, 0, 1.4, -1.6)
"""The carried strand lies on the back loop of the row below the one that works over it."""


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
