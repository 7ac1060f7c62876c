"""Rates: what yarn is calculated from beside the stitches, checked once for any number of charts or layouts."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from mosaickit.errors import of_kind
from mosaickit.gauge import Gauge
from mosaickit.yarn.lengths import StitchLengths
from mosaickit.yarn.settings import USUAL_YARN_SETTINGS, YarnSettings


@dataclass(frozen=True)
class YarnRates:
    """What yarn is calculated from beside the stitches, worked out once for any number of charts or layouts.

    Parameters
    ----------
    gauge : Gauge
        The size of a stitch.
    yarn_settings : YarnSettings
        How yarn is calculated.

    Attributes
    ----------
    in_stitches : StitchLengths
        The lengths that it has at this gauge.

    Raises
    ------
    OptionError
        If an argument is of another kind.

    Examples
    --------
    >>> YarnRates(Gauge(16, 18, over=4, unit="in")).in_stitches.chain > 0
    True
    """

    gauge: Gauge
    yarn_settings: YarnSettings = USUAL_YARN_SETTINGS
    in_stitches: StitchLengths = field(init=False)

    def __post_init__(self) -> None:
        of_kind("gauge", self.gauge, Gauge)
        of_kind("yarn_settings", self.yarn_settings, YarnSettings)
        object.__setattr__(self, "in_stitches", self.yarn_settings.lengths_at(self.gauge))

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
        return (two_rows_cm if in_the_round else stitches * stitch_cm) * (1 + self.yarn_settings.ease)
