"""What several parts say in the same way: rows and squares by their numbers, and how two pictures differ."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from mosaickit.lessons.answers import Square
from mosaickit.orientation import to_working


def more_to_find(count: int, *, found: int, wrong: bool) -> str | None:
    """Say how many are missing in an answer that names several things, of which some may be wrong.

    Examples
    --------
    >>> more_to_find(2, found=1, wrong=False), more_to_find(2, found=1, wrong=True)
    ('Right so far; 2 more to find.', 'There are 2 more to find.')
    """
    if not count:
        return None
    if found and not wrong:
        return f"Right so far; {count} more to find."
    return f"There {'is' if count == 1 else 'are'} {count}{' more' * bool(found)} to find."


def told_apart(shown: NDArray[np.bool_], wanted: NDArray[np.bool_], ask: str = "") -> str | None:
    """Say where two pictures as seen differ; nothing if they do not."""
    if shown.shape != wanted.shape:
        return f"It should have {wanted.shape[0]} rows of {wanted.shape[1]} stitches; it has {shown.shape[0]} of " + (
            f"{shown.shape[1]}."
        )
    if np.array_equal(shown, wanted):
        return None
    if np.array_equal(shown[:, ::-1], wanted):
        return "Your picture is a mirror image: look at which edge stitch 1 stands."
    if np.array_equal(shown[::-1], wanted):
        return "Your picture is upside down: look where row 1 stands."
    return f"Look again at {in_rows(rows_that_differ(shown, wanted))}{ask or '.'}"


def marked(as_seen: NDArray[np.bool_]) -> frozenset[Square]:
    """Name the squares that are True in a mask as seen, as a right-hander counts them."""
    return frozenset((row + 1, stitch + 1) for row, stitch in np.argwhere(to_working(as_seen)).tolist())


def in_rows(rows: Iterable[int]) -> str:
    """Say which rows, as "row 3" or "rows 2, 3 and 5"."""
    *others, last = sorted(set(rows))
    return f"rows {', '.join(map(str, others))} and {last}" if others else f"row {last}"


def rows_that_differ(one: NDArray[np.bool_], other: NDArray[np.bool_]) -> list[int]:
    """List the numbers of the rows in which two pictures as seen differ, from row 1 up."""
    return (np.flatnonzero(to_working(one != other).any(axis=1)) + 1).tolist()
