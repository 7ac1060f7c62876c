"""Gauge: how large a stitch is, from a swatch that was measured.

A gauge counts stitches and rows over a measured length. Lengths are centimetres or inches; the inch, the yard and
the ounce are those of the international yard and pound agreement of 1 July 1959, so they are exact. The trade
prints "4 in (10 cm)", but 4 in are 10.16 cm, 1.6 percent more: a gauge means the length that was measured, and only
its sentence says the other one as the trade does. What a count of stitches or a length becomes is worked out here
for the whole package; rounding to whole stitches or repeats is the caller's.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from mosaickit.errors import OptionError, one_of, positive, whole_number

Unit = Literal["cm", "in"]
UNITS: tuple[Unit, ...] = ("cm", "in")

CM_PER_INCH = 2.54
METRES_PER_YARD = 0.9144
GRAMS_PER_OUNCE = 28.349523125

SMALLEST_STITCH_CM, LARGEST_STITCH_CM = 0.01, 100.0
"""A stitch outside these is a slip of the pen, not a gauge: sewing thread and a hawser lie well within."""

MOST_OFF_AS_PRINTED = 0.02
"""By how much the length in the other unit is rounded at most: 10 cm are printed as 4 in, which are 10.16 cm."""


def to_cm(name: str, length: object, unit: Unit) -> float:
    """Return a length above 0 in cm, or raise `OptionError`; `name` is what the message calls it.

    Examples
    --------
    >>> to_cm("width", 4, "in")
    10.16
    """
    one_of("unit", unit, UNITS)
    return positive(name, length, unit) * (CM_PER_INCH if unit == "in" else 1.0)


@dataclass(frozen=True)
class Gauge:
    """Stitches and rows over a measured swatch.

    Parameters
    ----------
    stitches, rows : float
        Counted over `over`; halves and quarters are welcome.
    over : float, or (width, height)
        The length that was measured, in `unit`: one for both counts, or one for the stitches and one for the
        rows. "4 in (10 cm)" in a pattern names two lengths that differ by 1.6 percent: give the one that was
        measured.
    unit : "cm" or "in"
        The unit of `over`.
    blocked : bool
        Whether the swatch was blocked before it was measured.

    Raises
    ------
    OptionError
        If a count or a length is not a finite number above 0, if the stitch that comes out is smaller than
        0.01 cm or larger than 100 cm, or if another argument is not what it should be.

    Examples
    --------
    >>> gauge = Gauge(16, 18, over=4, unit="in")
    >>> print(gauge)
    Gauge: 16 sts by 18 rows = 4 in (10 cm), blocked
    >>> round(gauge.stitch_width_cm, 3)
    0.635
    """

    stitches: float
    rows: float
    over: float | tuple[float, float] = 10.0
    unit: Unit = "cm"
    blocked: bool = True

    def __post_init__(self) -> None:
        one_of("unit", self.unit, UNITS)
        if not isinstance(self.blocked, bool):
            raise OptionError(f"`blocked` must be True or False; got {self.blocked!r}.")
        # one length and the same length twice are one value
        object.__setattr__(self, "over", _one_or_pair(self.over, self.unit))
        for name in ("stitches", "rows"):
            object.__setattr__(self, name, positive(name, getattr(self, name)))
        for side, length in (("wide", self.stitch_width_cm), ("high", self.row_height_cm)):
            if not SMALLEST_STITCH_CM <= length <= LARGEST_STITCH_CM:
                raise OptionError(
                    f"A gauge's stitch must be from {SMALLEST_STITCH_CM:g} to {LARGEST_STITCH_CM:g} cm {side}; this "
                    f"one would be {length:.3g} cm: are `over` and `unit` what was measured?"
                )

    @cached_property
    def swatch_cm(self) -> tuple[float, float]:
        """(width, height) of what was measured, in cm."""
        width, height = self.over if isinstance(self.over, tuple) else (self.over, self.over)
        return to_cm("over", width, self.unit), to_cm("over", height, self.unit)

    @cached_property
    def stitch_width_cm(self) -> float:
        """The width of one stitch, in cm."""
        return self.swatch_cm[0] / self.stitches

    @cached_property
    def row_height_cm(self) -> float:
        """The height of one row, in cm."""
        return self.swatch_cm[1] / self.rows

    @property
    def aspect(self) -> float:
        """The width of one square over its height: above 1 where a square is wider than tall."""
        return self.stitch_width_cm / self.row_height_cm

    def size_cm(self, rows: int, stitches: int) -> tuple[float, float]:
        """Give the (width, height) in cm of so many rows of so many stitches.

        The order is that of a shape, so that ``gauge.size_cm(*chart.shape)`` is the size of a chart.
        """
        height = whole_number("rows", rows) * self.row_height_cm
        return whole_number("stitches", stitches) * self.stitch_width_cm, height

    def stitches_for(self, width: float, unit: Unit) -> float:
        """Give the stitches that a width takes, not rounded: how to round is the caller's to choose.

        Examples
        --------
        >>> Gauge(6, 7, over=1, unit="in").stitches_for(36, "in")
        216.0
        """
        return to_cm("width", width, unit) / self.stitch_width_cm

    def rows_for(self, height: float, unit: Unit) -> float:
        """Give the rows that a height takes, not rounded: how to round is the caller's to choose."""
        return to_cm("height", height, unit) / self.row_height_cm

    @property
    def sentence(self) -> str:
        """The gauge as a pattern prints it: the length that was measured, and what the trade prints beside it."""
        measured = self.over if isinstance(self.over, tuple) else (self.over,)
        factor, other = (1 / CM_PER_INCH, "in") if self.unit == "cm" else (CM_PER_INCH, "cm")
        first = " × ".join(f"{length:.4g}" for length in measured)
        second = " × ".join(_as_printed(length * factor) for length in measured)
        blocked = "blocked" if self.blocked else "unblocked"
        counts = f"{self.stitches:.4g} sts by {self.rows:.4g} rows"
        return f"Gauge: {counts} = {first} {self.unit} ({second} {other}), {blocked}"

    def __str__(self) -> str:
        return self.sentence


def _as_printed(length: float) -> str:
    """Write a length as it is printed beside the one that was measured: to the half, where that is near enough."""
    half = round(2 * length) / 2
    return f"{half if abs(half - length) <= MOST_OFF_AS_PRINTED * length else length:.3g}"


def _one_or_pair(over: object, unit: Unit) -> float | tuple[float, float]:
    if not isinstance(over, tuple | list):
        return positive("over", over, unit)
    if len(over) != 2:
        raise OptionError(f"`over` must be one length or a pair of width and height; got {over!r}.")
    width, height = (positive("over", length, unit) for length in over)
    return width if width == height else (width, height)
