"""Size: how wide and long a finished piece is, in either unit."""

from __future__ import annotations

from typing import NamedTuple

from mosaickit.gauge import CM_PER_INCH


class Size(NamedTuple):
    """The size of a finished piece, in cm."""

    width_cm: float
    """In the round the way around."""
    length_cm: float

    @property
    def width_in(self) -> float:
        """The width in inches."""
        return self.width_cm / CM_PER_INCH

    @property
    def length_in(self) -> float:
        """The length in inches."""
        return self.length_cm / CM_PER_INCH

    def __str__(self) -> str:
        inches = f"{self.width_in:.1f} × {self.length_in:.1f} in"
        return f"{self.width_cm:.1f} × {self.length_cm:.1f} cm ({inches})"
