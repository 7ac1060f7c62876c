"""What one hand looks at in the look panel: a side, the square that was touched, and the part that is drawn as yarn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from weakref import WeakKeyDictionary

from mosaickit import orientation
from mosaickit.errors import OptionError, UnworkableError, as_whole
from mosaickit.orientation import Face
from mosaickit.sizes import Design
from mosaickit.widgets.book.entries import cures_by_hand
from mosaickit.widgets.book.panel import Book

MOST_AS_YARN, USUAL_AS_YARN = 60, 24
"""The most rows and stitches that are drawn as yarn, and the usual number."""

PartSpan = tuple[int, int]
"""The first and the last row or stitch, from 1."""


@dataclass
class LookHand:
    """What is looked at in one book.

    Attributes
    ----------
    side : "front" or "back"
        Which side faces the viewer.
    square : (int, int)
        Row and stitch that were touched last, from 1.
    first, size : (int, int)
        The first row and stitch of the part that is drawn as yarn, and how many of each.
    nearest : (Design, Design) or None
        A design and the nearest that can be worked.
    drawn : tuple
        What the yarn depends on beside the part.
    number : int
        How often that has changed.
    """

    side: Face = "front"
    square: tuple[int, int] = (1, 1)
    first: tuple[int, int] = (1, 1)
    size: tuple[int, int] = (USUAL_AS_YARN, USUAL_AS_YARN)
    nearest: tuple[Design, Design] | None = None
    drawn: tuple[Any, ...] = ()
    number: int = 0


_LOOKS: WeakKeyDictionary[Book, LookHand] = WeakKeyDictionary()


def look_of(book: Book) -> LookHand:
    """Give what is looked at in a book."""
    return _LOOKS.setdefault(book, LookHand())


def piece_of(book: Book) -> Design:
    """Give the design, or the nearest that can be worked; raises `OptionError` with what helps if none can."""
    design, hand = book.design, look_of(book)
    if design.layout.workable:
        return design
    if hand.nearest is None or hand.nearest[0] is not design:
        try:
            hand.nearest = design, design.mended()
        except UnworkableError as error:
            helps = f"What was tried and helps, under Lay: {cures_by_hand(error.cures)} " if error.cures else ""
            raise OptionError(
                "No motif near this one can be worked as it is laid, so there is no piece to look at yet. "
                f"{helps}What is wrong: {error.report.errors_in_words}"
            ) from error
    return hand.nearest[1]


def part_of(hand: LookHand, shape: tuple[int, int]) -> tuple[PartSpan, PartSpan]:
    """Give the rows and the stitches of the part, kept within a piece of a shape."""
    rows, stitches = (_kept(first, size, most) for first, size, most in zip(hand.first, hand.size, shape, strict=True))
    return rows, stitches


def _kept(first: int, size: int, most: int) -> PartSpan:
    size = min(size, most)
    first = min(max(first, 1), most - size + 1)
    return first, first + size - 1


def square_of(hand: LookHand, shape: tuple[int, int]) -> tuple[int, int]:
    """Give the row and the stitch that were touched, kept within a piece of a shape."""
    row, stitch = (min(each, most) for each, most in zip(hand.square, shape, strict=True))
    return row, stitch


def seen_at(place: tuple[int, int], piece: Design, side: Face) -> tuple[int, int]:
    """Give where a row and stitch are seen from a side: row and column, from 0 at the top left."""
    square = orientation.square(*place, piece.shape, piece.hand)
    return square if side == "front" else orientation.square_behind(square, piece.shape)


def touch(hand: LookHand, piece: Design, values: Mapping[str, Any]) -> None:
    """Touch the square that is seen at `top` and `left`, from 0; the part moves there if the square lies outside it."""
    top, left = (as_whole(values.get(name)) for name in ("top", "left"))
    rows, columns = piece.shape
    if top is None or left is None or not (0 <= top < rows and 0 <= left < columns):
        raise OptionError("There is no such square in this piece.")
    seen = (top, left) if hand.side == "front" else orientation.square_behind((top, left), piece.shape)
    hand.square = orientation.place(seen, piece.shape, piece.hand)
    spans = part_of(hand, piece.shape)
    if not all(first <= at <= last for at, (first, last) in zip(hand.square, spans, strict=True)):
        of_row, of_stitch = ((last - first + 1) // 2 for first, last in spans)
        hand.first = hand.square[0] - of_row, hand.square[1] - of_stitch


def choose_part(hand: LookHand, piece: Design, values: Mapping[str, Any]) -> None:
    """Choose the part by numbers: `row` and `stitch` that it begins with, how many `rows` and `stitches`, or some."""
    (row, _), (stitch, _) = part_of(hand, piece.shape)
    high, wide = hand.size
    hand.first = _entered(values, "row", row, piece.shape[0]), _entered(values, "stitch", stitch, piece.shape[1])
    hand.size = _entered(values, "rows", high, MOST_AS_YARN), _entered(values, "stitches", wide, MOST_AS_YARN)


_LABELS = {"row": "From row", "stitch": "From stitch", "rows": "Rows", "stitches": "Stitches"}


def _entered(values: Mapping[str, Any], name: str, now: int, most: int) -> int:
    value = as_whole(values.get(name, now))
    if value is None or not 1 <= value <= most:
        raise OptionError(f"{_LABELS[name]}: enter a whole number from 1 to {most:,}.")
    return value
