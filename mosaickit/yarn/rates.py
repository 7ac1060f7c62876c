"""Rates: what yarn is calculated from beside the stitches, checked once for any number of charts or layouts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import KW_ONLY, dataclass, field
from functools import cached_property

from mosaickit.errors import OptionError, of_kind, one_of, within
from mosaickit.gauge import Gauge
from mosaickit.motif import BETWEEN_ROWS, BetweenRows
from mosaickit.yarn.lengths import StitchLengths
from mosaickit.yarn.totals import Skein


@dataclass(frozen=True)
class YarnRates:
    """What `yarn_usage` takes beside the chart, checked once for any number of charts or layouts.

    Parameters
    ----------
    gauge : Gauge
        The size of a stitch.
    between_rows, yarn_mm, lengths, skeins, tail_cm, ease, margin
        As `yarn_usage` takes them.

    Attributes
    ----------
    in_stitches : StitchLengths
        The lengths given, or those that follow from the gauge and `yarn_mm`.

    Raises
    ------
    OptionError
        If an argument is not as described there.

    Examples
    --------
    >>> YarnRates(Gauge(16, 18, over=4, unit="in"), tail_cm=20).in_stitches.chain > 0
    True
    """

    gauge: Gauge
    _: KW_ONLY
    between_rows: BetweenRows = "carried"
    yarn_mm: float | None = None
    lengths: StitchLengths | None = None
    skeins: Skein | Mapping[str, Skein] | None = None
    tail_cm: float = 15.0
    ease: float = 0.05
    margin: float = 0.10
    in_stitches: StitchLengths = field(init=False)

    def __post_init__(self) -> None:
        of_kind("gauge", self.gauge, Gauge)
        one_of("between_rows", self.between_rows, BETWEEN_ROWS)
        for name, most in (("tail_cm", 1000), ("ease", 10), ("margin", 10)):
            object.__setattr__(self, name, within(name, getattr(self, name), 0, most))
        object.__setattr__(self, "in_stitches", _lengths(self.gauge, self.yarn_mm, self.lengths))

    @cached_property
    def _stitch_and_two_rows_cm(self) -> tuple[float, float]:
        return self.gauge.size_cm(2, 1)

    @cached_property
    def by_stitch(self) -> tuple[float, ...]:
        """The lengths in the order of `Stitch`, in cm."""
        return tuple(self.in_stitches.by_stitch.tolist())

    def strand_cm(self, stitches: int, in_the_round: bool) -> float:
        """Give the length of a carried strand: along a row of so many stitches, or up two rounds, and the ease."""
        stitch_cm, two_rows_cm = self._stitch_and_two_rows_cm
        return (two_rows_cm if in_the_round else stitches * stitch_cm) * (1 + self.ease)


def _lengths(gauge: Gauge, yarn_mm: float | None, lengths: StitchLengths | None) -> StitchLengths:
    if lengths is None:
        return StitchLengths.from_gauge(gauge, yarn_mm)
    of_kind("lengths", lengths, StitchLengths)
    if yarn_mm is not None:
        raise OptionError(f"Give `yarn_mm` or `lengths`, not both: lengths need no diameter; got yarn_mm={yarn_mm!r}.")
    return lengths
