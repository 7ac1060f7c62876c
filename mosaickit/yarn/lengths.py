"""Stitch lengths: the yarn in one stitch of each kind, in cm, and the band that they are good to.

Where nothing better is known, a stitch's length follows from the path its yarn takes: how many strands lie along the
width w of a stitch, how many along the height h of a row, and how often the yarn turns half round another strand. The
centre line of a yarn of diameter d that lies half round its like is a half circle of radius d, so a half turn is πd.

=============  ====  ====  ==========  ========================================================================
stitch         w     h     half turns  where they come from
=============  ====  ====  ==========  ========================================================================
chain          3     0     2           w: the two strands of its loop and the run to the next one; turns: head
                                       and foot of the loop
sc and BLsc    3     2     5           w: a chain's worth on top, front loop, back loop and the run to the next
                                       stitch; h: the two legs of the loop drawn up from the row below; turns:
                                       the foot of the drawn loop, its head (where it hangs on the last loop),
                                       head and foot of the top, and the turn into the next stitch
FLdc           4     5     8           w: a top as sc, and the yarn over that lies slanted across the post; h:
                                       the post is two rows high: the yarn over runs half of it (1), the loop
                                       drawn up from two rows below reaches its middle (2 legs), the loop drawn
                                       through the first two reaches its top (2 legs); turns: 5 as sc, the yarn
                                       over's full turn round the post (2), the head of the middle loop (1)
tog-b, tog-f   4     7     10          one FLdc, whose top closes an sc's drawn loop too: w as FLdc; h: 5 and 2;
                                       turns: 8, and foot and head of that drawn loop (2)
=============  ====  ====  ==========  ========================================================================

How far to trust this. No published length of a crochet stitch by formula was found, none at all for overlay mosaic. The
strands follow the yarn; where one turn ends and the next begins is a matter of judgement, and it was settled so that
chain and sc agree with one hobby measurement (one worker, worsted yarn and a 5 mm hook: 4.8 to 5.1 in of yarn to an
inch of chain, 31.4 to a square inch of sc, rows 0.337 in high; the width of the stitches was not reported and was taken
as 14 to 4 in, from the same kind of yarn). That is one fabric; nothing was checked at another gauge, and published
hobby measurements disagree with one another by about 15 percent. So a piece may take 15 to 20 percent more or less than
these defaults say, and a swatch, weighed or unravelled, is the way to know better: `StitchLengths` takes lengths of
your own, and `scaled` fits the defaults to a swatch.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import pi
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import positive, within
from mosaickit.gauge import Gauge

YARN_OF_STITCH_WIDTH = 1 / 3
"""A yarn's diameter in widths of its sc, where it was not measured.

The Craft Yarn Council's standard yarn weight system gives sc to 4 in and wraps to the inch for each category; the
middles of the two ranges give 0.28 to 0.36 for categories 1 to 6.
"""

KINDS = ("chain", "sc", "blsc", "fldc", "tog_back", "tog_front")
"""The lengths of a `StitchLengths`, in their order."""

LOW, HIGH = 0.85, 1.20
"""By how much what is worked may differ from the defaults: from 15 percent less to 20 percent more.

Published hobby measurements disagree by about 15 percent either way. The upper side is wider, since yarn that is left
over is a smaller worry than yarn that ran out.
"""

Amount = TypeVar("Amount", float, NDArray[np.float64])
"""Metres: one number, or one for each of several rows or colours."""


@dataclass(frozen=True)
class StitchLengths:
    """The yarn in one stitch of each kind, in cm; the module's opening says where the defaults come from.

    Parameters
    ----------
    chain, sc, blsc, fldc, tog_back, tog_front : float
        cm of yarn. `chain` also stands for the slip stitch that joins a round.
    low, high : float
        The band they are good to: the yarn may be from `low` times to `high` times as long.

    Raises
    ------
    OptionError
        If a length is not a finite number above 0, or `low` and `high` are not a number up to 1 and one from 1 on.

    Examples
    --------
    >>> lengths = StitchLengths.from_gauge(Gauge(16, 18, over=4, unit="in"))
    >>> round(lengths.sc, 1), round(lengths.fldc, 1), round(lengths.tog_back, 1)
    (6.4, 10.7, 13.1)
    """

    chain: float
    sc: float
    blsc: float
    fldc: float
    tog_back: float
    tog_front: float
    low: float = LOW
    high: float = HIGH

    def __post_init__(self) -> None:
        for name in KINDS:
            object.__setattr__(self, name, positive(name, getattr(self, name), "cm"))
        object.__setattr__(self, "low", within("low", self.low, 0, 1))
        object.__setattr__(self, "high", within("high", self.high, 1, 100))

    @classmethod
    def from_size(cls, width_cm: float, height_cm: float, yarn_cm: float) -> StitchLengths:
        """Work out the lengths from a stitch's width, a row's height and the yarn's diameter, all in cm."""
        w = positive("width_cm", width_cm, "cm")
        h = positive("height_cm", height_cm, "cm")
        half_turn = pi * positive("yarn_cm", yarn_cm, "cm")
        sc = 3 * w + 2 * h + 5 * half_turn
        tog = 4 * w + 7 * h + 10 * half_turn
        return cls(
            chain=3 * w + 2 * half_turn,
            sc=sc,
            blsc=sc,  # the same yarn, drawn through one strand instead of two
            fldc=4 * w + 5 * h + 8 * half_turn,
            tog_back=tog,
            tog_front=tog,
        )

    @classmethod
    def from_gauge(cls, gauge: Gauge, yarn_mm: float | None = None) -> StitchLengths:
        """Work out the lengths from a gauge.

        Parameters
        ----------
        gauge : Gauge
            The stitch's width and the row's height.
        yarn_mm : float, optional
            The yarn's diameter in mm: 25.4 over the wraps to the inch. A third of a stitch's width if not given.
        """
        width = gauge.stitch_width_cm
        yarn_cm = width * YARN_OF_STITCH_WIDTH if yarn_mm is None else positive("yarn_mm", yarn_mm, "mm") / 10
        return cls.from_size(width, gauge.row_height_cm, yarn_cm)

    def scaled(self, k: float) -> StitchLengths:
        """Give all lengths k times as long: for a swatch that took k times the yarn that was estimated for it."""
        k = positive("k", k)
        return replace(self, **{name: k * getattr(self, name) for name in KINDS})

    @property
    def by_stitch(self) -> NDArray[np.float64]:
        """The lengths in the order of `Stitch`, so without the chain, (5,) in cm."""
        return np.array([self.sc, self.blsc, self.fldc, self.tog_back, self.tog_front])


def band(worked_m: Amount, tails_m: Amount, lengths: StitchLengths) -> tuple[Amount, Amount, Amount]:
    """Give the low, the likely and the high amount: tails are cut by the ruler, so the band is about the rest."""
    return lengths.low * worked_m + tails_m, worked_m + tails_m, lengths.high * worked_m + tails_m


def accuracy(lengths: StitchLengths) -> str:
    """Say in a sentence how far the yarn may differ from what is likely."""
    if (lengths.low, lengths.high) == (LOW, HIGH):
        return "Expect to use 15–20% more or less; swatch to be sure."
    return f"Expect to use up to {1 - lengths.low:.0%} less or {lengths.high - 1:.0%} more."
