"""Where the stitches of a round lie in the picture: the one place that turns rounds into squares, and back.

A picture of 2n + 1 rows and columns is a centre square and n rings; ring i, of 8i squares, is round i. Each round
starts in the middle of the top side, straight above the first stitch of the round below, as joined rounds do ("In The
Round", sixeldesign.com). With the right side facing, a right-hander works to the left: round the picture against the
clock; a left-hander with it. A square of a side is named by how far it is from the middle of that side, above 0 in
the direction of work.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit.orientation import Hand

SIDES = 4

_SIDE_NAMES: dict[Hand, tuple[str, ...]] = {
    "right": ("top", "left", "bottom", "right"),
    "left": ("top", "right", "bottom", "left"),
}
_CORNER_NAMES: dict[Hand, tuple[str, ...]] = {
    "right": ("top left", "bottom left", "bottom right", "top right"),
    "left": ("top right", "bottom right", "bottom left", "top left"),
}


class Places(NamedTuple):
    """The squares of stitches, each an int array."""

    down: NDArray[np.intp]
    """Rows as seen, from 0."""
    across: NDArray[np.intp]
    """Columns as seen, from 0."""


def ring_numbers(rounds: int) -> NDArray[np.int64]:
    """Give the ring of each square of a picture, (2n + 1, 2n + 1): 0 in the centre, `rounds` outside.

    Examples
    --------
    >>> ring_numbers(1)
    array([[1, 1, 1],
           [1, 0, 1],
           [1, 1, 1]])
    """
    away = np.abs(np.arange(-rounds, rounds + 1))
    return np.maximum(away[:, np.newaxis], away)


def quarter_turns(rounds: int) -> NDArray[np.int64]:
    """Tell how the stitches of each square are turned, (2n + 1, 2n + 1): 0 above the centre, then against the clock.

    Examples
    --------
    >>> quarter_turns(1)
    array([[0, 0, 0],
           [1, 0, 3],
           [2, 2, 2]])
    """
    down = np.arange(-rounds, rounds + 1)[:, np.newaxis]
    across = down.T
    return np.select([-down >= np.abs(across), down >= np.abs(across), across < 0], [0, 2, 1], 3).astype(np.int64)


def squares_at(
    rounds: int, ring: NDArray[np.intp] | int, side: NDArray[np.intp] | int, x: NDArray[np.intp] | int, hand: Hand
) -> Places:
    """Find the squares as seen at places `x` of sides (0 to 3, in the order of work) of rings; all broadcast."""
    ring, side, x = np.broadcast_arrays(ring, side, x)
    # on each side: how far outward and how far along, turned to where the side lies
    down = np.choose(side, [-ring, x, ring, -x])
    across = np.choose(side, [-x, -ring, x, ring])
    return Places(rounds + down, rounds + (across if hand == "right" else -across))


def _along(number: int) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Give side and place of each stitch of a round, (8i,) each; a corner begins the side that follows it, at -i."""
    stitch = np.arange(8 * number) + number
    return stitch // (2 * number) % SIDES, stitch % (2 * number) - number


def places_of_round(rounds: int, number: int, hand: Hand) -> Places:
    """Find the squares of a round's stitches in working order, 8i of them.

    Examples
    --------
    >>> places = places_of_round(1, 1, "right")
    >>> list(zip(places.down.tolist(), places.across.tolist()))[:4]
    [(0, 1), (0, 0), (1, 0), (2, 0)]
    """
    side, x = _along(number)
    return squares_at(rounds, number, side, x, hand)


def corners(number: int) -> NDArray[np.bool_]:
    """Mark the four corner stitches of a round, (8i,).

    Examples
    --------
    >>> corners(1).tolist()
    [False, True, False, True, False, True, False, True]
    """
    return np.equal(_along(number)[1], -number)


def outward(number: int) -> NDArray[np.intp]:
    """Find straight outward of each stitch of round i the stitch of round i + 1, (8i,), from 0; of a corner the corner.

    Examples
    --------
    >>> outward(1).tolist()
    [0, 2, 4, 6, 8, 10, 12, 14]
    """
    side, x = _along(number)
    outer: NDArray[np.intp] = (2 * (number + 1) * side + np.where(x == -number, x - 1, x)) % (8 * number + 8)
    return outer


def stitch_at(number: int, side: int, x: int) -> int:
    """Give the maker's number, from 1, of the stitch of a round at a place of a side.

    Examples
    --------
    >>> stitch_at(3, 0, 0), stitch_at(3, 0, 3), stitch_at(3, 0, -1)
    (1, 4, 24)
    """
    return (2 * number * side + x) % (8 * number) + 1


def where(number: int, stitch: int, hand: Hand) -> str:
    """Say where a stitch (from 1) of a round lies: on which side, or in which corner.

    Examples
    --------
    >>> where(3, 1, "right"), where(3, 4, "right"), where(3, 5, "left")
    ('top side', 'top left corner', 'right side')
    """
    side, along = divmod(stitch - 1 + number, 2 * number)
    if along == 0:
        return f"{_CORNER_NAMES[hand][side - 1]} corner"
    return f"{_SIDE_NAMES[hand][side % SIDES]} side"


def join_line(rounds: int, hand: Hand) -> int:
    """Give the line, in squares from the left, between the last and the first stitch of each round."""
    return rounds + 1 if hand == "right" else rounds
