"""Fits: a design whose repeats come near a wanted size, and what it takes in yarn and time.

What a `Fit` costs is worked out from its design when it is asked for, without building the piece.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from mosaickit.errors import within
from mosaickit.gauge import Gauge
from mosaickit.motif import BETWEEN_ROWS, Finding
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.designs.size import Size
from mosaickit.sizes.finishes.finish import USUAL_FINISH
from mosaickit.sizes.layouts.layout import Layout
from mosaickit.sizes.layouts.usage import LayoutUsage
from mosaickit.sizes.widths.sides import Side
from mosaickit.sizes.widths.wanted import Wanted
from mosaickit.yarn import YarnTotal


@dataclass(frozen=True, repr=False)
class Fit:
    """A design that comes near the wanted size, and what it costs.

    Attributes
    ----------
    design : Design
        What was planned, with as many repeats as fit; it can be worked. Its own width lies along the rows, which is the
        length of the piece where rows run along that.
    wanted : Wanted
        What was asked for.
    """

    design: Design
    wanted: Wanted

    @property
    def layout(self) -> Layout:
        """The repeats with all that stands around them, counted without being built."""
        return self.design.layout

    # ---- size ----------------------------------------------------------------------------------------------

    @property
    def across(self) -> int:
        """Repeats along a row."""
        return self.design.across

    @property
    def up(self) -> int:
        """Repeats one above the other, in working order."""
        return self.design.up

    @property
    def stitches(self) -> int:
        """The stitches of a row."""
        return self.design.shape[1]

    @property
    def foundation_chain(self) -> int:
        """The chains to start with."""
        return self.layout.foundation_chain

    @property
    def rows(self) -> int:
        """The rows, or rounds."""
        return self.design.shape[0]

    @property
    def size(self) -> Size:
        """The true size of the piece, its width and length as they were asked for."""
        sides = self.wanted.sides_cm(*self.design.shape)
        wider, longer = self._border_cm
        return Size(sides[0] + wider, sides[1] + longer)

    @property
    def _border_cm(self) -> tuple[float, float]:
        """What the border adds to width and length as they were asked for."""
        wider, longer = self.design.edging.adds_cm
        return (wider, longer) if self.wanted.worked == "across" else (longer, wider)

    @property
    def width_cm(self) -> float:
        """The true width of the piece."""
        return self.size.width_cm

    @property
    def length_cm(self) -> float:
        """The true length of the piece."""
        return self.size.length_cm

    @property
    def width_in(self) -> float:
        """The true width in inches."""
        return self.size.width_in

    @property
    def length_in(self) -> float:
        """The true length in inches."""
        return self.size.length_in

    @property
    def row_cm(self) -> float:
        """How long a row is: the width or the length, whichever the rows run along."""
        return self.wanted.gauge.size_cm(*self.design.shape)[0]

    @property
    def deviation(self) -> float:
        """The share by which the width is too large, below 0 if it is too small."""
        return self.width_cm / self.wanted.width_cm - 1

    @property
    def length_deviation(self) -> float | None:
        """The same for the length, if one was asked for."""
        return None if self.wanted.length_cm is None else self.length_cm / self.wanted.length_cm - 1

    @property
    def far(self) -> tuple[float, float, int]:
        """How far it is from what was asked: width first, then length, then the fewer stitches."""
        (width_cm, length_cm), (rows, stitches), wanted = self.size, self.design.shape, self.wanted
        width, length = width_cm / wanted.width_cm - 1, length_cm / (wanted.length_cm or length_cm) - 1
        return round(abs(width), 9), round(abs(length), 9), rows * stitches

    @property
    def exact_gauge(self) -> Gauge:
        """The gauge at which these counts are exactly as wide, and as long if that was asked for, as was wanted.

        Raises
        ------
        OptionError
            If a stitch would be smaller or larger than any gauge's, or the border alone is as large as was wanted.
        """
        asked, border = (self.wanted.width_cm, self.wanted.length_cm), self._border_cm
        # the border stays as it is
        sides = [
            0.0 if cm is None else (own - more) / (cm - more) - 1
            for own, cm, more in zip(self.size, asked, border, strict=True)
        ]
        off = dict(zip(self.wanted.directions, sides, strict=True))
        gauge = self.wanted.gauge
        return replace(gauge, stitches=gauge.stitches * (1 + off["across"]), rows=gauge.rows * (1 + off["up"]))

    # ---- looks ---------------------------------------------------------------------------------------------

    @property
    def centred(self) -> bool:
        """Whether the picture is its own mirror left to right, so that every row reads the same from either edge."""
        return self.layout.centred

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What cannot be worked at the joins: nothing, in the fits of a plan."""
        return self.layout.findings_at_joins

    @property
    def fldc_share(self) -> float:
        """The share of all stitches that are FLdc, in the plain fabric: the share of squares that are overlaid."""
        return self.layout.overlaid / (self.rows * self.stitches)

    # ---- yarn and time -------------------------------------------------------------------------------------

    @property
    def usage(self) -> LayoutUsage:
        """The yarn, as it was asked for: reversible or plain, carried or cut."""
        return self.design.usage

    @property
    def by_yarn(self) -> tuple[YarnTotal, ...]:
        """Each yarn's low, likely and high metres, and the skeins to buy, if they are known."""
        return self.usage.by_yarn

    @cached_property
    def surcharge(self) -> float:
        """The share of the plain fabric's yarn that the reversible one takes on top."""
        one = self.design  # which is one of the two, and knows its yarn
        plain, reversible = (
            (one if one.reversible == closed else one.but(reversible=closed)).usage.likely_m for closed in (False, True)
        )
        return reversible / plain - 1

    @cached_property
    def carried_and_cut_m(self) -> tuple[float, float]:
        """The likely metres, without finish, if the yarn is carried between rows, and if it is cut."""
        bare = self.design
        if bare.finish != USUAL_FINISH:  # a fringe and a double border are of cut yarn only
            bare = bare.but(finish=USUAL_FINISH)
        own = bare.yarn_settings.between_rows
        carried, cut = ((bare if own == way else bare.but(between_rows=way)).usage.likely_m for way in BETWEEN_ROWS)
        return carried, cut

    @property
    def minutes(self) -> float:
        """The minutes that its stitches take, each as long as any other; chains, ends and breaks are not counted."""
        rate = self.wanted.stitches_a_minute
        return self.rows * self.stitches / rate + self.design.edging.minutes(rate)

    def around(self, share: float = 0.5) -> tuple[Fit, ...]:
        """Give the same with other counts of repeats, narrower ones first.

        Parameters
        ----------
        share : float
            By how much their widths may differ from the wanted one, 0 to 1.

        Returns
        -------
        tuple of Fit
            Those that can be worked; this one is always among them.
        """
        direction = self.wanted.directions[0]
        wanted = replace(self.wanted, tolerance=within("share", share, 0, 1))
        near = Side("width", wanted.width_cm, direction, self.design, wanted).near()
        fits = [Fit(design, self.wanted) for design in near if design.layout.workable]
        if self not in fits:  # it may be further off itself
            fits = sorted([*fits, self], key=lambda fit: fit.width_cm)
        return tuple(fits)

    def __str__(self) -> str:
        wanted, usage = self.wanted, self.usage
        off = f"width {self.deviation:+.1%}"
        if self.length_deviation is not None:
            off += f", length {self.length_deviation:+.1%}"
        centred = "centred" if self.centred else "not centred"
        hours, minutes = divmod(round(self.minutes), 60)
        return (
            f"{self.across} × {self.up} repeats: {self.stitches} stitches (chain {self.foundation_chain}) × "
            f"{self.rows} rows = {wanted.size(self.width_cm)} wide, {wanted.size(self.length_cm)} long; {off}; "
            f"{centred}; {usage.likely_m:.1f} m of yarn, from {usage.low_m:.1f} to {usage.high_m:.1f} m; "
            f"{hours} h {minutes} min"
        )

    def __repr__(self) -> str:
        return f"<Fit {self}>"
