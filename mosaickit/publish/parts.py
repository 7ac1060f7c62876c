"""A large chart cut into parts that fit on paper, named as a maker counts, in the order of the work."""

from __future__ import annotations

from dataclasses import dataclass

OVERLAP = 2
"""Rows and stitches that neighbouring parts of a chart share, so that the eye finds its place again."""


@dataclass(frozen=True)
class ChartPart:
    """A part of a chart: the first and last of its drawn rows and stitches, from 1; and which of how many it is."""

    rows: tuple[int, int]
    stitches: tuple[int, int]
    number: int
    of: int

    @property
    def shape(self) -> tuple[int, int]:
        """(R, N) of the part."""
        return self.rows[1] - self.rows[0] + 1, self.stitches[1] - self.stitches[0] + 1


def _spans(length: int, most: int) -> list[tuple[int, int]]:
    """Cut 1 to `length` into about equally long spans of at most `most`, each sharing `OVERLAP` with the next."""
    if length <= most:
        return [(1, length)]
    count = -(-(length - OVERLAP) // (most - OVERLAP))
    long = -(-(length + (count - 1) * OVERLAP) // count)
    starts = [1 + number * (long - OVERLAP) for number in range(count)]
    return [(start, min(start + long - 1, length)) for start in starts]


def parts(shape: tuple[int, int], most: tuple[int, int]) -> tuple[ChartPart, ...]:
    """Cut a chart of (R, N) into parts of at most so many rows and stitches, the order being the work's.

    Examples
    --------
    >>> [part.rows for part in parts((10, 4), (6, 9))]
    [(1, 6), (5, 10)]
    """
    rows, stitches = (_spans(length, max(limit, OVERLAP + 1)) for length, limit in zip(shape, most, strict=True))
    cut = [(up, along) for up in rows for along in stitches]
    return tuple(ChartPart(up, along, number, len(cut)) for number, (up, along) in enumerate(cut, 1))
