"""The one place that turns a picture as seen into working order, and back.

A picture is stored *as seen*: row 0 on top, column 0 at the left, counted from 0. A maker counts from 1: row
1 at the bottom, stitch 1 at the edge where every row starts, which is the right-hand edge for a right-hander
and the left-hand edge for a left-hander. Everything shown to a maker is in working order. No other module
works out one from the other; anyone who needs a row number, a stitch number or a label asks here.
"""

from __future__ import annotations

from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import OptionError, one_of, whole_number

Hand = Literal["right", "left"]
"""The hand that holds the hook: it says at which edge stitch 1 lies."""

Role = Literal["MC", "CC"]
"""The two colours by what they do: main colour, contrasting colour."""

Face = Literal["front", "back"]
"""The two faces of a fabric: the right side, and the wrong side as seen from behind."""

HANDS: tuple[Hand, ...] = ("right", "left")
ROLES: tuple[Role, ...] = ("MC", "CC")
FACES: tuple[Face, ...] = ("front", "back")


def to_working(as_seen: NDArray[Any], hand: Hand = "right") -> NDArray[Any]:
    """Turn an array as seen into working order.

    Parameters
    ----------
    as_seen : array, (R, C)
        Row 0 on top, column 0 at the left.
    hand : "right" or "left"
        The hand that holds the hook.

    Returns
    -------
    array, (R, C)
        A view: element [r - 1, s - 1] is row r, stitch s.

    Examples
    --------
    >>> to_working(np.array([["top left", "top right"], ["bottom left", "bottom right"]]))[0, 0]
    np.str_('bottom right')
    """
    one_of("hand", hand, HANDS)
    return as_seen[::-1, ::-1] if hand == "right" else as_seen[::-1, :]


def to_seen(working: NDArray[Any], hand: Hand = "right") -> NDArray[Any]:
    """Turn an array in working order into one as seen: the inverse of `to_working`, which is its own inverse."""
    return to_working(working, hand)


def from_behind(as_seen: NDArray[Any]) -> NDArray[Any]:
    """Show what faces away as it is seen after turning the fabric over, left to right (a view, (R, C))."""
    return as_seen[:, ::-1]


def place(square: tuple[int, int], shape: tuple[int, int], hand: Hand = "right") -> tuple[int, int]:
    """Name a square as seen, (row from 0, column from 0), as the maker's (row, stitch), from 1.

    Examples
    --------
    >>> place((0, 0), (3, 5))
    (3, 5)
    """
    (top, left), (rows, columns) = square, shape
    return rows - top, (columns - left if hand == "right" else left + 1)


def square(row: int, stitch: int, shape: tuple[int, int], hand: Hand = "right") -> tuple[int, int]:
    """Find the square as seen, (row from 0, column from 0), of the maker's row and stitch: the inverse of `place`.

    Examples
    --------
    >>> square(3, 5, (3, 5))
    (0, 0)
    """
    rows, columns = shape
    return rows - row, (columns - stitch if hand == "right" else stitch - 1)


def square_behind(square: tuple[int, int], shape: tuple[int, int]) -> tuple[int, int]:
    """Find a square as seen, (row from 0, column from 0), after turning the fabric over left to right, or back.

    Examples
    --------
    >>> square_behind((0, 1), (3, 5))
    (0, 3)
    """
    top, left = square
    return top, shape[1] - 1 - left


def check_square(row: object, stitch: object, shape: tuple[int, int]) -> None:
    """Raise `OptionError` unless row and stitch, from 1, name a square of a picture or chart of this shape."""
    for name, value, most in (("row", row, shape[0]), ("stitch", stitch, shape[1])):
        if whole_number(name, value, least=1) > most:
            raise OptionError(f"`{name}` must be a {name} from 1 to {most}; got {value!r}.")


def checked_span(name: str, span: tuple[int, int], most: int) -> tuple[int, int]:
    """Return (first, last) of the rows or stitches that are kept, from 1, or raise `OptionError`."""
    try:
        first, last = (whole_number(name, end, least=1) for end in span)
    except (TypeError, ValueError):
        first, last = 0, 0
    if not 1 <= first <= last <= most:
        raise OptionError(f"`{name}` must be (first, last) within 1 to {most}; got {span!r}.")
    return first, last


def row_turned(row: int, rows: int) -> int:
    """Give the number of a row, from 1, after its rows are turned upside down."""
    return rows + 1 - row


def row_numbers(rows: int) -> NDArray[np.int64]:
    """Give the maker's number of each row as seen, from the top down, (R,)."""
    return np.arange(rows, 0, -1)


def stitch_numbers(columns: int, hand: Hand = "right") -> NDArray[np.int64]:
    """Give the maker's number of each stitch as seen, from the left, (C,)."""
    return np.arange(columns, 0, -1) if hand == "right" else np.arange(1, columns + 1)


def working_edge(hand: Hand = "right") -> Hand:
    """Name the side of the picture at which stitch 1 lies, and so where row numbers are read."""
    return hand


def contrast_rows(rows: int, first: Role) -> NDArray[np.bool_]:
    """Tell which rows are worked in the contrasting colour.

    Parameters
    ----------
    rows : int
        The number of rows, R.
    first : "MC" or "CC"
        The colour of row 1; the two then alternate.

    Returns
    -------
    bool array, (R,)
        Working order: element r - 1 is True where row r is worked in CC.
    """
    return np.equal(np.arange(1, rows + 1) % 2, int(first == "CC"))


def role_of_row(row: int, first: Role) -> Role:
    """Name the colour of a row, from 1 (or below 1, for rows that something will be added to)."""
    return first if row % 2 == 1 else other(first)


def other(role: Role) -> Role:
    """Name the other of the two colours."""
    return "CC" if role == "MC" else "MC"
