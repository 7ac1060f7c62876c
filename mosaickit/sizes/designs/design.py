"""The design: what a person decides about one piece, as one value, and what follows from it, worked out when asked for.

A design holds decisions only. What follows is worked out once, the first time somebody asks, and goes on to the next
design where the decisions behind it are the same. Stitches, size and yarn come from the sums over one repeat; the
picture of the whole piece is built only for what needs it. A motif that cannot be worked is a design all the same:
`report` says what is wrong, `mended` gives the nearest that can be worked, and whatever needs a workable picture raises
the sentence with that report.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import KW_ONLY, dataclass, field, fields, replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from mosaickit import wording
from mosaickit.doors import above
from mosaickit.errors import each_of_kind, one_of
from mosaickit.fabric import Chart, Fabric, compile_chart, work
from mosaickit.gauge import Gauge
from mosaickit.motif import Laying, Motif, Report, Seam, check
from mosaickit.orientation import Hand
from mosaickit.sizes.bands.order import Bands
from mosaickit.sizes.designs.changing import changed, kept
from mosaickit.sizes.designs.checked import check_design
from mosaickit.sizes.designs.editions import Edition, edition_now
from mosaickit.sizes.designs.laid import layout_of, multiple_of, shape_of
from mosaickit.sizes.designs.lengths import gauge_of, lengths_of, settings_of, usage_of
from mosaickit.sizes.designs.mending import mended
from mosaickit.sizes.designs.named import NamedSize, designs_in_sizes, sizes_in_words
from mosaickit.sizes.designs.photographs import Photograph
from mosaickit.sizes.designs.publishing import USUAL_PUBLISHING, Publishing
from mosaickit.sizes.designs.size import Size
from mosaickit.sizes.designs.words import PatternWords
from mosaickit.sizes.designs.written import Spans, rows_in_words, sizes_in_one, summary_of
from mosaickit.sizes.finishes.edging import Edging
from mosaickit.sizes.finishes.finish import USUAL_FINISH, Finish
from mosaickit.sizes.layouts.layout import Layout
from mosaickit.sizes.layouts.multiples import Multiple
from mosaickit.sizes.layouts.repeats import RepeatSums
from mosaickit.sizes.layouts.surround import USUAL_SURROUND, Surround
from mosaickit.sizes.layouts.usage import LayoutUsage
from mosaickit.yarn import USUAL_YARN_SETTINGS, StitchLengths, Swatch, YarnSettings

if TYPE_CHECKING:
    from mosaickit.publish import Page


@dataclass(frozen=True, repr=False)
class Design:
    """All that a person decides about one piece.

    Parameters
    ----------
    motif : Motif
        One repeat, (R, C), workable or not. Of `bands` that have no `Field` the highest band becomes the field, and its
        motif, repeats and laying those of the design: it is left out then.
    gauge : Gauge, optional
        The size of a stitch; size and yarn cannot be told without one.
    across, up : int
        How often the motif is laid, 1 or more.
    laying : "straight", "brick", "half-drop" or "mirrored"
        How it is laid; see `tile`.
    seam : "double" or "shared"
        Where it is mirrored, whether the row and column at a mirror line stand twice or once.
    bands : Bands or sequence of bands, optional
        What lies below and above the repeats, from the foundation up, with `Field` where they lie; see `Bands`.
    surround : Surround
        What stands around the repeats, and whether the piece is worked in the round. Frame, edge stitches and plain
        rows stand around all bands.
    finish : Finish
        Foundation, ends, fringe and border.
    reversible : bool
        Whether the back is closed.
    hand : "right" or "left"
        Whose hand the chart and the words are for.
    yarn_settings : YarnSettings
        How yarn is calculated: carried or cut, what the yarns are sold in, lengths of your own.
    by_thread : bool
        Whether the lengths of stitches are measured along the yarn's path rather than estimated; see
        `lengths_of_thread`. Not together with ``yarn_settings.lengths``.
    swatches : Swatches
        Those that were measured: what they teach corrects the lengths; see `calibrate`. Not together with
        ``yarn_settings.lengths``.
    hook_mm : float, optional
        The diameter of the hook.
    words : PatternWords
        Title, notes and the rest of what a pattern says.
    publishing : Publishing
        Contact, copyright, labels of the yarns and whatever else a pattern that is sold has.
    sizes : NamedSizes
        The sizes that the pattern comes in, at most 12, the smallest first: its page and `sized_rows` are then those of
        all of them, and `in_size` gives one. What follows from a design is else of its own `across` and `up`.
    photographs : Photographs
        Pictures of the worked piece, at most 12 of 8 MB together, the cover first; editions have none.
    editions : Editions
        What it was earlier, the first edition first; `edition` adds one.

    Raises
    ------
    OptionError
        If something is not as described, or does not go together.
    MotifError
        If the whole piece is larger than a motif may be.

    Examples
    --------
    >>> leaf = Motif.from_text('''
    ... ....
    ... ####
    ... .##.
    ... ####
    ... ....
    ... ''', name="leaf")
    >>> scarf = Design(leaf, Gauge(16, 18)).but(across=12, up=40, colours="swap")
    >>> print(scarf.size)
    31.2 × 111.1 cm (12.3 × 43.7 in)
    >>> wide = scarf.but(across=16, edges=2)
    >>> wide.layout.stitches, wide.motif == scarf.motif
    (68, True)
    """

    motif: Motif = None  # type: ignore[assignment]  # taken from the bands below, if not given
    gauge: Gauge | None = None
    _: KW_ONLY
    across: int = 1
    up: int = 1
    laying: Laying = "straight"
    seam: Seam = "double"
    bands: Bands | None = None
    surround: Surround = USUAL_SURROUND
    finish: Finish = USUAL_FINISH
    reversible: bool = False
    hand: Hand = "right"
    yarn_settings: YarnSettings = USUAL_YARN_SETTINGS
    by_thread: bool = False
    swatches: tuple[Swatch, ...] = ()
    hook_mm: float | None = None
    words: PatternWords = field(default_factory=PatternWords)
    publishing: Publishing = USUAL_PUBLISHING
    sizes: tuple[NamedSize, ...] = ()
    photographs: tuple[Photograph, ...] = ()
    editions: tuple[Edition[Design], ...] = ()

    def __post_init__(self) -> None:
        check_design(self)
        self.__dict__["editions"] = each_of_kind("editions", self.editions, Edition)

    # ---- other designs -------------------------------------------------------------------------------------

    def but(self, **changes: Any) -> Design:  # noqa: ANN401 — each is what its field takes
        """Give the same design with some decisions changed; nothing that did not change is worked out again.

        Parameters
        ----------
        **changes
            Any field of a `Design`, of its `Surround`, `Finish`, `YarnSettings`, `PatternWords` or `Publishing`, by its
            own name: ``design.but(across=9, rings=2, tail_cm=12, title="Leaf scarf")``.

        Returns
        -------
        Design

        Raises
        ------
        OptionError
            If a name is none of these, or a value is not as described there.
        """
        return kept(self, changed(self, changes))

    def edition(self, changed: str, *, date: date | None = None) -> Design:
        """Keep the design as it is now among its editions, under the next number.

        Parameters
        ----------
        changed : str
            A line of what changed.
        date : date, optional
            The day; today if not given.

        Returns
        -------
        Design
            The same with one edition more: ``design.editions[-1].design`` is what it was here, whatever it becomes.

        Raises
        ------
        OptionError
            If `changed` is no line of text, or nothing changed since the last edition.
        """
        one = edition_now(self, changed, date)
        kept(self, one.design)
        return kept(self, replace(self, editions=(*self.editions, one)))

    def mended(self) -> Design:
        """Give the design with the nearest motif that can be worked as it is laid; itself if it can be.

        The symmetries of the motif are kept, and it goes on repeating.

        Raises
        ------
        UnworkableError
            If no other motif makes the piece workable, as where repeats land on the other row colours; holds the report
            and says what does.
        """
        return mended(self)

    # ---- its sizes ------------------------------------------------------------------------------------------

    @cached_property
    def in_sizes(self) -> Mapping[str, Design]:
        """The design laid in each of its sizes by name, see `in_size`; `OptionError` if two come out the same."""
        return designs_in_sizes(self)

    def in_size(self, name: str) -> Design:
        """Give the design laid in one of its sizes, without sizes of its own; raises `OptionError` if there is none.

        `NamedSize` says how counts follow from wanted lengths. What was measured is taken over in proportion.
        """
        one_of("name", name, [size.name for size in self.sizes])
        return self.in_sizes[name]

    @property
    def sizes_in_words(self) -> tuple[str, ...]:
        """A line for each size: how it is laid, what it then measures, and what was wanted."""
        return sizes_in_words(self)

    @cached_property
    def sized_rows(self) -> wording.WrittenSizes:
        """The rows of all sizes as one text, in the pattern's terms; raises `OptionError` with fewer than two sizes."""
        return sizes_in_one(self, wording.tongue_of_page(self.words.terms, self.publishing.language))

    # ---- the piece -----------------------------------------------------------------------------------------

    @cached_property
    def layout(self) -> Layout:
        """The repeats, bands and all around them, counted without being built."""
        return layout_of(self)

    @cached_property
    def _sums(self) -> dict[tuple[int, ...], RepeatSums]:
        """The sums of the repeats that were laid of this motif, so that another count of them costs next to nothing."""
        return {}

    @cached_property
    def picture(self) -> Motif:
        """The whole piece, (rows, stitches), as seen; workable or not."""
        return self.layout.build()

    @cached_property
    def report(self) -> Report:
        """What the rules find in the whole piece."""
        return check(
            self.picture,
            in_the_round=self.surround.in_the_round,
            hand=self.hand,
            between_rows=self.yarn_settings.between_rows,
        )

    @cached_property
    def shape(self) -> tuple[int, int]:
        """(rows, stitches) of the whole piece."""
        return shape_of(self)

    @property
    def said(self) -> tuple[str, ...]:
        """What was done by itself in a piece of bands: rows put in, colours swapped, repeats centred and cut."""
        return self.layout.said

    @property
    def size(self) -> Size:
        """The size of the finished piece with its border; a fringe is not counted.

        Raises
        ------
        OptionError
            If the design has no gauge.
        """
        width, length = self.known_gauge.size_cm(*self.shape)
        wider, longer = self.edging.adds_cm
        return Size(width + wider, length + longer)

    @cached_property
    def edging(self) -> Edging:
        """What the finish comes to around the piece: the border's rounds, its depth, the knots of a fringe."""
        return Edging(self.finish, *self.shape, self.gauge, self.surround.in_the_round)

    @property
    def multiple(self) -> Multiple:
        """What the counts of stitches, chains and rows are multiples of."""
        return multiple_of(self)

    # ---- the fabric ----------------------------------------------------------------------------------------

    @cached_property
    def chart(self) -> Chart:
        """The stitches of the whole piece; raises `UnworkableError`, with the report, if it cannot be worked."""
        return compile_chart(self.picture, self.reversible, hand=self.hand, in_the_round=self.surround.in_the_round)

    @cached_property
    def fabric(self) -> Fabric:
        """The chart as a hook works it, with both faces."""
        return work(self.chart)

    @cached_property
    def counts(self) -> NDArray[np.int64]:
        """All stitches by colour and kind, (2, 5), without building the piece; see `Layout.counts`."""
        counts = self.layout.counts(self.reversible)
        counts.flags.writeable = False
        return counts

    @cached_property
    def lengths(self) -> StitchLengths:
        """The lengths of stitches: one's own, or by the gauge or the thread, corrected by any swatches."""
        return lengths_of(self)

    @property
    def calculated_by(self) -> YarnSettings:
        """The yarn settings with the lengths that the thread or the swatches give, to be handed to other verbs."""
        return settings_of(self)

    @cached_property
    def usage(self) -> LayoutUsage:
        """The yarn of the whole piece with its border and fringe, without building it."""
        return usage_of(self)

    # ---- the pattern ---------------------------------------------------------------------------------------

    @cached_property
    def rows(self) -> wording.WrittenRows:
        """The rows in words, in the pattern's terms, or in its language if rows are written in that."""
        tongue = wording.tongue_of_page(self.words.terms, self.publishing.language)
        return rows_in_words(self, tongue, self.repeat, self.first_repeat)

    def page(self, photographs: Iterable[Photograph] | None = None) -> Page:
        """Fill in the page of the pattern for `mk.publish.pdf` and `mk.publish.html`; `photographs` replace its own."""
        filled_in: Callable[[Design, Iterable[Photograph] | None], Page] = above("publish", "page_of")
        return filled_in(self, photographs)

    @property
    def title(self) -> str:
        """The pattern's title, or else the motif's name if it is more than blanks, or else "A design"."""
        return self.words.title or (self.motif.name if self.motif.name.strip() else "A design")

    @property
    def repeat(self) -> int | None:
        """The stitches of a repeat, if there is more than one to name; among bands that of the field, laid straight."""
        layout = self.layout
        named = layout.across > 1 and (self.bands is None or self.laying == "straight")
        return layout.motif.shape[1] if named else None

    @property
    def first_repeat(self) -> Spans | None:
        """The rows and the stitches, first and last, of the first repeat in working order, if there are more."""
        return self.layout.first_repeat(self.hand)

    @property
    def known_gauge(self) -> Gauge:
        """The gauge; raises `OptionError` if the design has none."""
        return gauge_of(self)

    # ---- as a value ----------------------------------------------------------------------------------------

    @property
    def summary(self) -> str:
        """One line: title, what is laid and how, the size of the piece."""
        return summary_of(self)

    def __repr__(self) -> str:
        return "\n".join([f"<Design {self.summary}>", *self.said])

    def __getstate__(self) -> dict[str, Any]:
        return {each.name: getattr(self, each.name) for each in fields(self)}  # what follows stays behind

    def _repr_svg_(self) -> str:
        return self.picture._repr_svg_()
