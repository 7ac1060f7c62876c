"""Wanted: the size and the rest that was asked for, and which way repeats make it.

A piece has a width and a length. Its rows run across the width, so that repeats across make the width and repeats up
the length, or along the length, and then it is the other way about.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from mosaickit.errors import within
from mosaickit.gauge import CM_PER_INCH, Gauge, Unit, to_cm

Worked = Literal["across", "along"]
WORKED: tuple[Worked, ...] = ("across", "along")
Direction = Literal["across", "up"]

LARGEST_CM = 1e7
"""No piece is larger than 100 km: such a size is a slip of the pen."""


@dataclass(frozen=True)
class Wanted:
    """What was asked for.

    Attributes
    ----------
    width_cm : float
        The width of the piece.
    length_cm : float or None
        Its length, if one was asked for.
    worked : "across" or "along"
        Whether rows run across the width or along the length.
    unit : "cm" or "in"
        The unit in which sizes are written first.
    tolerance : float
        The share by which a size may differ.
    gauge : Gauge
        The size of a stitch.
    stitches_a_minute : float
        How fast the maker works.
    """

    width_cm: float
    length_cm: float | None
    worked: Worked
    unit: Unit
    tolerance: float
    gauge: Gauge
    stitches_a_minute: float

    def size(self, cm: float) -> str:
        """Write a size in both units, the one asked in first."""
        in_cm, in_inches = f"{cm:.4g} cm", f"{cm / CM_PER_INCH:.4g} in"
        return f"{in_cm} ({in_inches})" if self.unit == "cm" else f"{in_inches} ({in_cm})"

    @property
    def directions(self) -> tuple[Direction, Direction]:
        """In which direction repeats make the width, and in which the length."""
        return ("across", "up") if self.worked == "across" else ("up", "across")

    def sides_cm(self, rows: int, stitches: int) -> tuple[float, float]:
        """Give the true (width, length) of a piece."""
        along_row, along_column = self.gauge.size_cm(rows, stitches)
        return (along_row, along_column) if self.worked == "across" else (along_column, along_row)


def asked_cm(name: str, size: object, unit: Unit) -> float:
    """Return a size that was asked for in cm, or raise `OptionError`; `name` is what the message calls it."""
    return within(f"{name} in cm", to_cm(name, size, unit), 0, LARGEST_CM)
