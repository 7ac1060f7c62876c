"""A stitch that is not the one that was expected, as both proofs and mends say it."""

from __future__ import annotations

from dataclasses import dataclass

from mosaickit.fabric import Stitch

MOST_DIFFERENCES = 10
"""So many are shown of what there may be thousands of."""


@dataclass(frozen=True)
class Difference:
    """A stitch that is not the one that was expected.

    Attributes
    ----------
    row, stitch : int
        Where, from 1, in working order.
    expected, found : Stitch or None
        What the chart has and what there is; None beyond the end of a row.
    line, column : int or None
        Where in the text, from 1, if there is one.
    """

    row: int
    stitch: int
    expected: Stitch | None
    found: Stitch | None
    line: int | None = None
    column: int | None = None

    def __str__(self) -> str:
        expected, found = (
            "no stitch" if stitch is None else stitch.abbreviation for stitch in (self.expected, self.found)
        )
        place = f" (line {self.line}, column {self.column})" if self.line is not None else ""
        return f"Row {self.row}, stitch {self.stitch}: expected {expected}, found {found}{place}."


def in_lines(differences: tuple[Difference, ...]) -> list[str]:
    """Give a line for each of the first differences, and one that says how many more there are."""
    more = len(differences) - MOST_DIFFERENCES
    return [*map(str, differences[:MOST_DIFFERENCES]), *([f"… and {more} more."] if more > 0 else [])]
