"""YarnSettings: how yarn is calculated, as one value that goes from verb to verb.

What is usual and what the limits are stands here and nowhere else: 15 cm of tail, the ease of a carried strand, the
share to buy on top.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import KW_ONLY, dataclass, fields

from mosaickit.errors import OptionError, of_kind, one_of, positive, within
from mosaickit.gauge import Gauge
from mosaickit.motif import BETWEEN_ROWS, BetweenRows
from mosaickit.yarn.lengths import StitchLengths
from mosaickit.yarn.totals import NamedSkeins, Skein

_MOST = {"tail_cm": 1000, "ease": 10, "margin": 10}
"""The shares and the tail may be so large; none is below 0."""


@dataclass(frozen=True, repr=False)
class YarnSettings:
    """How yarn is calculated: what is done with it between rows, how long a stitch and a tail are, what it is sold in.

    Parameters
    ----------
    between_rows : "carried" or "cut"
        Whether each yarn is carried to where it is used next, or cut at the end of its row.
    yarn_mm : float, optional
        The yarn's diameter; see `StitchLengths.from_gauge`. Not together with `lengths`.
    lengths : StitchLengths, optional
        Lengths of your own, instead of those that follow from the gauge.
    skeins : Skein, or mapping from the name of a yarn to Skein, optional
        What the yarns are sold in: one for all, or one for each. Yarns of one name have one skein. A mapping is copied,
        so that this value can be compared and hashed.
    tail_cm : float
        The length of one tail, 0 to 1000 cm. 15 cm: common practice, no source.
    ease : float
        The share by which a carried strand is longer than the way it goes, 0 to 10; our choice, no source.
    margin : float
        The share to buy on top of the likely amount at least, 0 to 10, where the upper end of the band is nearer than
        that. Designers add 10 to 15 percent to what a sample took ("Did the designer include enough yarn to swatch?").

    Raises
    ------
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> usual = YarnSettings()
    >>> usual.between_rows, usual.tail_cm
    ('carried', 15.0)
    >>> YarnSettings(skeins={"cream": Skein(100, 50)}) == YarnSettings(skeins={"cream": Skein(100, 50)})
    True
    """

    _: KW_ONLY
    between_rows: BetweenRows = "carried"
    yarn_mm: float | None = None
    lengths: StitchLengths | None = None
    skeins: Skein | Mapping[str, Skein] | None = None
    tail_cm: float = 15.0
    ease: float = 0.05
    margin: float = 0.10

    def __post_init__(self) -> None:
        own = self.__dict__
        one_of("between_rows", self.between_rows, BETWEEN_ROWS)
        for name, most in _MOST.items():
            own[name] = within(name, own[name], 0, most)
        of_kind("lengths", self.lengths, StitchLengths, or_none=True)
        if self.yarn_mm is not None:
            own["yarn_mm"] = positive("yarn_mm", self.yarn_mm, "mm")
            if self.lengths is not None:
                raise OptionError(
                    f"Give `yarn_mm` or `lengths`, not both: lengths need no diameter; got yarn_mm={self.yarn_mm!r}."
                )
        if self.skeins is not None and not isinstance(self.skeins, Skein):
            own["skeins"] = NamedSkeins(self.skeins)

    def __repr__(self) -> str:
        """Write what was said; what is usual is left out."""
        here = {each.name: (getattr(self, each.name), each.default) for each in fields(self)}
        said = (f"{name}={value!r}" for name, (value, usual) in here.items() if value != usual)
        return f"{type(self).__name__}({', '.join(said)})"

    def lengths_at(self, gauge: Gauge) -> StitchLengths:
        """Give the lengths of stitches: one's own, or those that follow from a gauge and the yarn's diameter."""
        return StitchLengths.from_gauge(gauge, self.yarn_mm) if self.lengths is None else self.lengths


USUAL_YARN_SETTINGS = YarnSettings()
"""How yarn is calculated if nothing is said."""
