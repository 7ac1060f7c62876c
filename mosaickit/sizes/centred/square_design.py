"""The design of a square that is worked from the centre: its picture, gauge, yarn and words, as one value."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass, field, fields, replace
from datetime import date
from functools import cached_property
from typing import Any

from mosaickit import centre
from mosaickit.centre import CentreChart, CentreFabric, CentreOut, CentreReport, CentreSize, CentreUsage
from mosaickit.errors import OptionError, each_of_kind, of_kind, positive
from mosaickit.gauge import Gauge
from mosaickit.sizes.designs.changing import PARTS_OF_DESIGN, whole_fields
from mosaickit.sizes.designs.editions import Edition, edition_now
from mosaickit.sizes.designs.photographs import Photograph, check_bytes, checked_photographs
from mosaickit.sizes.designs.publishing import USUAL_PUBLISHING, Publishing
from mosaickit.sizes.designs.words import PatternWords
from mosaickit.yarn import USUAL_YARN_SETTINGS, YarnSettings

UNNAMED_SQUARE = "A square from the centre"
_PARTS = {part: PARTS_OF_DESIGN[part] for part in ("yarn_settings", "words", "publishing")}


@dataclass(frozen=True, repr=False)
class CentreDesign:
    """All that was decided about a square worked from the centre. Experimental: never tried on wool.

    Parameters
    ----------
    square : CentreOut
        The picture, and the hand that works it; workable or not.
    gauge : Gauge, optional
        The size of a stitch. Size and yarn need it.
    yarn_settings : YarnSettings
        How yarn is calculated.
    hook_mm : float, optional
        The diameter of the hook.
    words : PatternWords
        Title, notes and the rest of what a pattern says; `phrasing` means nothing here.
    publishing : Publishing
        Contact, copyright, labels of the yarns and whatever else a pattern that is sold has. Whatever its `language`,
        all that you did not write yourself is printed in English.
    photographs : Photographs
        Pictures of the worked square, at most 12 of 8 MB together, the cover first; editions have none.
    editions : Editions
        What it was earlier, the first edition first; `edition` adds one.

    Raises
    ------
    OptionError
        If something is not as described.

    Examples
    --------
    >>> from mosaickit.motif import Motif
    >>> plain = CentreDesign(CentreOut(Motif.from_array([[0] * 41] * 41)), Gauge(16.4, 16.4, over=4, unit="in"))
    >>> print(plain.size)
    About 25.4 cm (10.0 in) square. Experimental: worked out from loops, never tried on wool.
    """

    square: CentreOut
    gauge: Gauge | None = None
    _: KW_ONLY
    yarn_settings: YarnSettings = USUAL_YARN_SETTINGS
    hook_mm: float | None = None
    words: PatternWords = field(default_factory=PatternWords)
    publishing: Publishing = USUAL_PUBLISHING
    photographs: tuple[Photograph, ...] = ()
    editions: tuple[Edition[CentreDesign], ...] = ()

    def __post_init__(self) -> None:
        of_kind("square", self.square, CentreOut)
        of_kind("gauge", self.gauge, Gauge, or_none=True)
        of_kind("yarn_settings", self.yarn_settings, YarnSettings)
        of_kind("words", self.words, PatternWords)
        of_kind("publishing", self.publishing, Publishing)
        own = self.__dict__  # a design is frozen
        own["photographs"] = checked_photographs(self.photographs)
        check_bytes(own["photographs"])
        own["editions"] = each_of_kind("editions", self.editions, Edition)
        if self.hook_mm is not None:
            own["hook_mm"] = positive("hook_mm", self.hook_mm, "mm")

    def but(self, **changes: Any) -> CentreDesign:  # noqa: ANN401 — each is what its field takes
        """Give the same design with some decisions changed: its own fields, or those of its parts.

        Parameters
        ----------
        **changes
            Any field of a `CentreDesign`, of its `YarnSettings`, `PatternWords` or `Publishing`, by its own name.

        Raises
        ------
        OptionError
            If a name is none of these, or a value is not as described there.
        """
        return replace(self, **whole_fields(self, changes, _PARTS, "A square from the centre"))

    def edition(self, changed: str, *, date: date | None = None) -> CentreDesign:
        """Keep the square as it is now among its editions, under the next number; as `Design.edition` does.

        Raises
        ------
        OptionError
            If `changed` is no line of text, or nothing changed since the last edition.
        """
        return replace(self, editions=(*self.editions, edition_now(self, changed, date)))

    @property
    def title(self) -> str:
        """The pattern's title, or else the motif's name, or else "A square from the centre"."""
        return self.words.title or self.square.motif.name.strip() or UNNAMED_SQUARE

    @property
    def shape(self) -> tuple[int, int]:
        """(rows, columns) of squares, which are alike."""
        return self.square.motif.shape

    @cached_property
    def report(self) -> CentreReport:
        """What the rules find in the picture; see `mk.centre.check`."""
        return centre.check(self.square)

    @cached_property
    def chart(self) -> CentreChart:
        """The stitches of the rounds; raises `UnworkableError`, with the report, if it cannot be worked."""
        return centre.chart(self.square)

    @cached_property
    def fabric(self) -> CentreFabric:
        """What the hook makes of the chart."""
        return centre.work(self.chart)

    @property
    def rounds(self) -> str:
        """The rounds in words, in the terms of the pattern."""
        return centre.write(self.chart, self.words.terms)

    @property
    def known_gauge(self) -> Gauge:
        """The gauge; raises `OptionError` if the design has none."""
        if self.gauge is None:
            raise OptionError("This square has no gauge: give it one, as `design.but(gauge=mk.Gauge(16, 16))`.")
        return self.gauge

    @property
    def size(self) -> CentreSize:
        """How large it becomes, and whether it lies flat."""
        return centre.size(self.square, self.known_gauge)

    @cached_property
    def usage(self) -> CentreUsage:
        """The yarn that it takes."""
        return centre.usage(self.chart, self.known_gauge, yarn_settings=self.yarn_settings)

    @property
    def summary(self) -> str:
        """One line: title, squares, rounds, and that it is experimental."""
        summary = self.square.summary.removeprefix(f"{self.square.motif.name}: ")
        return f"{self.title}: {summary}"

    def __repr__(self) -> str:
        return f"<CentreDesign {self.summary}>"

    def __getstate__(self) -> dict[str, Any]:
        # what follows stays behind
        return {each.name: getattr(self, each.name) for each in fields(self)}

    def _repr_svg_(self) -> str:
        return self.square._repr_svg_()
