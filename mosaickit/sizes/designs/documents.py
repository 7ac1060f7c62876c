"""Design documents: a design as one JSON text that people and git read well, and back.

Every value is named as in Python. The format is our own and open: ``design.schema.json`` beside this module describes
it and is made from the models here. It is versioned, and a version that is not known is refused.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields
from datetime import date
from typing import Annotated, Any, Literal, TypeVar

from pydantic import Field

from mosaickit.errors import MosaickitError
from mosaickit.fabric import Chart
from mosaickit.files import (
    WHAT_IT_IS,
    WHICH_VERSION,
    Document,
    FileForm,
    FirstColour,
    KeptYarns,
    Name,
    fault,
    kept_as,
    published,
    read_document,
    written,
)
from mosaickit.gauge import Gauge, Unit
from mosaickit.motif import LARGEST_SIDE, BetweenRows, Colours, Laying, Seam
from mosaickit.orientation import Hand
from mosaickit.sizes.bands.forms import KeptBands, KeptMotif
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.designs.editions import Edition, EitherDesign
from mosaickit.sizes.designs.finish_forms import KeptFinish
from mosaickit.sizes.designs.named_forms import KeptSizes
from mosaickit.sizes.designs.photograph_forms import KeptPhotographs
from mosaickit.sizes.designs.publishing import USUAL_PUBLISHING
from mosaickit.sizes.designs.words import LONGEST_TITLE
from mosaickit.sizes.designs.words_forms import KeptPublishing, KeptWords, same_fields, taken
from mosaickit.sizes.finishes.finish import USUAL_FINISH
from mosaickit.sizes.layouts.surround import Surround
from mosaickit.yarn import Skein, StitchLengths, Swatch, YarnSettings

MOST_SWATCHES, MOST_EDITIONS, MOST_SKEINS = 100, 1000, 1000
"""No more of them stand in a file."""

Number = Annotated[float, Field(gt=0)]
Share = Annotated[float, Field(ge=0)]
KeptCount = Annotated[int, Field(ge=0, le=LARGEST_SIDE)]


class GaugeForm(FileForm):
    """Stitches and rows over a measured length."""

    stitches: Annotated[float, Field(gt=0, description="Stitches over the measured width.")]
    rows: Annotated[float, Field(gt=0, description="Rows over the measured height.")]
    over: Annotated[
        list[Number],
        Field(min_length=1, max_length=2, description="What was measured: one length, or width and height."),
    ]
    unit: Annotated[Unit, Field(description="The unit of that.")]
    blocked: Annotated[bool, Field(description="Whether the swatch was blocked before it was measured.")]


def _read_gauge(form: GaugeForm) -> Gauge:
    over = form.over[0] if len(form.over) == 1 else (form.over[0], form.over[1])
    return Gauge(form.stitches, form.rows, over=over, unit=form.unit, blocked=form.blocked)


def _write_gauge(gauge: Gauge) -> GaugeForm:
    over = list(gauge.over) if isinstance(gauge.over, tuple) else [gauge.over]
    return GaugeForm(stitches=gauge.stitches, rows=gauge.rows, over=over, unit=gauge.unit, blocked=gauge.blocked)


KeptGauge = Annotated[
    Gauge, kept_as(Gauge, GaugeForm, _read_gauge, _write_gauge), Field(description="The size of a stitch.")
]


class SkeinForm(FileForm):
    """What a yarn is sold in."""

    yarn: Annotated[Name | None, Field(description="Which yarn; of all yarns if it is left out.")] = None
    metres: Number
    grams: Number


def _read_skeins(forms: list[SkeinForm]) -> Skein | dict[str, Skein] | None:
    if not forms:
        return None
    if forms[0].yarn is None:
        if len(forms) > 1:
            raise ValueError("One skein is of all yarns, or each of them names its yarn.")
        return Skein(forms[0].metres, forms[0].grams)
    named = {form.yarn: Skein(form.metres, form.grams) for form in forms if form.yarn is not None}
    if len(named) < len(forms):
        raise ValueError("Each skein names another yarn, and none is left without a name.")
    return named


def _write_skeins(skeins: Skein | Mapping[str, Skein] | None) -> list[SkeinForm]:
    if skeins is None:
        return []
    named: Iterable[tuple[str | None, Skein]] = [(None, skeins)] if isinstance(skeins, Skein) else skeins.items()
    return [SkeinForm(yarn=yarn, metres=skein.metres, grams=skein.grams) for yarn, skein in named]


class LengthsForm(FileForm):
    """The yarn in one stitch of each kind, in cm, and between which shares of it a piece may take."""

    chain: Number
    sc: Number
    blsc: Number
    fldc: Number
    tog_back: Number
    tog_front: Number
    low: Share
    high: Share


KeptLengths = Annotated[
    StitchLengths,
    kept_as(
        StitchLengths,
        LengthsForm,
        lambda form: StitchLengths(**taken(form)),
        lambda lengths: same_fields(LengthsForm, lengths),
    ),
]


class YarnSettingsForm(FileForm):
    """How yarn is calculated."""

    between_rows: Annotated[BetweenRows, Field(description="What is done with the yarn between rows.")]
    yarn_mm: Annotated[float | None, Field(gt=0, description="The yarn's diameter in mm.")] = None
    lengths: Annotated[KeptLengths | None, Field(description="Lengths of one's own.")] = None
    skeins: Annotated[
        list[SkeinForm],
        Field(max_length=MOST_SKEINS, description="What the yarns are sold in: one entry for all, or one for each."),
    ]
    tail_cm: Annotated[float, Field(ge=0, description="The length of one tail.")]
    ease: Annotated[float, Field(ge=0, description="The share by which a carried strand is longer than its way.")]
    margin: Annotated[float, Field(ge=0, description="The share to buy on top.")]


KeptYarnSettings = Annotated[
    YarnSettings,
    kept_as(
        YarnSettings,
        YarnSettingsForm,
        lambda form: YarnSettings(**{**taken(form), "skeins": _read_skeins(form.skeins)}),
        lambda value: YarnSettingsForm(
            **{
                **{each.name: getattr(value, each.name) for each in fields(value)},
                "skeins": _write_skeins(value.skeins),
            }
        ),
    ),
    Field(description="How yarn is calculated."),
]


class SurroundForm(FileForm):
    """What stands around the repeats."""

    balance_across: Annotated[
        KeptCount | Literal["half"],
        Field(description='How many stitches of the repeat close each row, or "half" of them.'),
    ]
    balance_up: Annotated[KeptCount, Field(description="How many rows of the repeat close the piece.")]
    rings: Annotated[KeptCount, Field(description="The rings of a frame.")]
    edges: Annotated[
        KeptCount | None, Field(description="Plain edge stitches at each side; null for 1, and for none in the round.")
    ]
    rows_below: Annotated[KeptCount, Field(description="Plain rows below.")]
    rows_above: Annotated[KeptCount, Field(description="Plain rows above.")]
    colours: Annotated[Colours, Field(description="What happens to repeats that land on the other row colours.")]
    in_the_round: Annotated[bool, Field(description="Whether the last stitch of a row meets its first.")]
    strip: Annotated[KeptMotif | None, Field(description="A strip that stands as a mosaic border around.")] = None
    strip_start: Annotated[
        int, Field(ge=1, le=LARGEST_SIDE, description="Its stitch that stands in the corners, from 1.")
    ] = 1


KeptSurround = Annotated[
    Surround,
    kept_as(
        Surround,
        SurroundForm,
        lambda form: Surround(**taken(form)),
        lambda surround: same_fields(SurroundForm, surround),
    ),
    Field(description="What stands around the repeats, and whether the piece is worked in the round."),
]

_ChartRow = Annotated[
    str,
    Field(
        max_length=LARGEST_SIDE,
        pattern="^[.|bf]+$",
        examples=["..|b"],
        description='"." for a plain stitch, "|" for FLdc, "b" for tog-b, "f" for tog-f.',
    ),
]


class ChartForm(FileForm):
    """A chart: "." is a plain stitch, "|" an FLdc, "b" a tog-b and "f" a tog-f."""

    name: Name
    first: FirstColour
    rows: Annotated[
        list[_ChartRow],
        Field(
            min_length=1,
            max_length=LARGEST_SIDE,
            description="The stitches as seen: the last row first, stitch 1 at the edge where the hand begins.",
        ),
    ]
    yarns: KeptYarns
    hand: Hand
    in_the_round: bool


def _read_chart(form: ChartForm) -> Chart:
    return Chart.from_text(
        "\n".join(form.rows),
        form.first,
        yarns=form.yarns,
        hand=form.hand,
        in_the_round=form.in_the_round,
        name=form.name,
    )


def _write_chart(chart: Chart) -> ChartForm:
    return ChartForm(
        name=chart.name,
        first=chart.first,
        rows=chart.to_text().split("\n"),
        yarns=chart.yarns,
        hand=chart.hand,
        in_the_round=chart.in_the_round,
    )


KeptChart = Annotated[Chart, kept_as(Chart, ChartForm, _read_chart, _write_chart)]

Amounts = dict[Literal["MC", "CC", "all"], Number]


class SwatchForm(FileForm):
    """A swatch that was measured."""

    chart: KeptChart
    gauge: KeptGauge
    metres: Annotated[Amounts | None, Field(description="What it took, unravelled and measured.")]
    grams: Annotated[Amounts | None, Field(description="What it took, weighed.")]
    resolution: Annotated[float, Field(gt=0, description="The smallest step of the tape or the scale.")]
    yarn_settings: KeptYarnSettings


KeptSwatch = Annotated[
    Swatch,
    kept_as(Swatch, SwatchForm, lambda form: Swatch(**taken(form)), lambda swatch: same_fields(SwatchForm, swatch)),
]


class DesignForm(FileForm):
    """All that was decided about one piece."""

    motif: KeptMotif
    gauge: Annotated[KeptGauge | None, Field(description="The size of a stitch, if it is known.")]
    across: Annotated[int, Field(ge=1, le=LARGEST_SIDE, description="How often the motif is laid along a row.")]
    up: Annotated[int, Field(ge=1, le=LARGEST_SIDE, description="How often it is laid upward.")]
    laying: Annotated[Laying, Field(description="How it is laid.")]
    seam: Annotated[Seam, Field(description="Whether the row and column at a mirror line stand twice or once.")]
    bands: KeptBands | None = None
    surround: KeptSurround
    reversible: Annotated[bool, Field(description="Whether the back is closed.")]
    hand: Annotated[Hand, Field(description="Whose hand chart and words are for.")]
    yarn_settings: KeptYarnSettings
    by_thread: Annotated[bool, Field(description="Whether lengths of stitches are measured along the yarn's path.")]
    swatches: Annotated[list[KeptSwatch], Field(max_length=MOST_SWATCHES, description="Those that were measured.")]
    hook_mm: Annotated[float | None, Field(gt=0, description="The diameter of the hook.")]
    words: KeptWords
    publishing: KeptPublishing = USUAL_PUBLISHING
    finish: KeptFinish = USUAL_FINISH
    sizes: KeptSizes = Field(default_factory=list)
    photographs: KeptPhotographs = Field(default_factory=list)


class EditionHead(FileForm):
    """Which edition of a design it is."""

    number: Annotated[int, Field(ge=1, le=MOST_EDITIONS)]
    date: Annotated[
        str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$", examples=["2026-05-31"], description="Year, month, day.")
    ]
    changed: Annotated[str, Field(max_length=LONGEST_TITLE, description="A line of what changed.")]


_EditionForm = TypeVar("_EditionForm", bound=EditionHead)


class EditionForm(EditionHead):
    """What the design was at some time."""

    design: DesignForm


class DesignDocument(DesignForm, Document):
    """A design for overlay mosaic crochet: all that was decided about one piece, and nothing that follows from it.

    The file is UTF-8 text; every value is named as in Python. What a schema cannot say is what it cannot say of a
    motif, and that decisions go together: closing stitches and rows are fewer than the motif's, in the round there are
    no edges, bands have a field and fill its width, a piece is no larger than a picture may be, sizes have names of
    their own and go from the smallest to the largest, photographs are pictures of 8,000,000 bytes together, and
    editions are numbered from 1.
    """

    format: Annotated[Literal["mosaickit design"], WHAT_IT_IS]
    version: Annotated[Literal[1], WHICH_VERSION]
    editions: Annotated[list[EditionForm], Field(max_length=MOST_EDITIONS, description="What it was earlier.")] = Field(
        default_factory=list
    )


def _decided(design: Design) -> dict[str, Any]:
    return {name: getattr(design, name) for name in DesignForm.model_fields} | {
        name: list(getattr(design, name)) for name in ("swatches", "sizes", "photographs")
    }


def edition_forms(
    editions: Iterable[Edition[EitherDesign]],
    form: Callable[..., _EditionForm],
    form_of: Callable[[EitherDesign], FileForm],
) -> list[_EditionForm]:
    """Give the form in which a file keeps each edition; `form_of` makes that of a design."""
    return [
        form(number=number, date=edition.date.isoformat(), changed=edition.changed, design=form_of(edition.design))
        for number, edition in enumerate(editions, 1)
    ]


def read_editions(
    forms: Iterable[EditionHead], read: Callable[[Any, tuple[str | int, ...]], EitherDesign]
) -> tuple[Edition[EitherDesign], ...]:
    """Read editions; `read` makes of a form, and its place in the file, the design of that day."""
    editions = []
    for number, form in enumerate(forms, 1):
        place = ("editions", number)
        if form.number != number:
            raise fault((*place, "number"), f"Expected {number}, as editions are numbered from 1; found {form.number}.")
        try:
            day = date.fromisoformat(form.date)
        except ValueError:
            raise fault((*place, "date"), f"Expected a day that there is, found {form.date!r}.") from None
        editions.append(Edition(day, form.changed, read(form, (*place, "design"))))
    return tuple(editions)


def design_to_json(design: Design) -> str:
    """Write a design as a JSON document, one row of squares a line."""
    editions = edition_forms(design.editions, EditionForm, lambda one: DesignForm(**_decided(one)))
    return written(DesignDocument(format="mosaickit design", version=1, **_decided(design), editions=editions))


def design_from_json(text: str) -> Design:
    """Read a design from a JSON document, or raise `FileError` with the place of a fault."""
    document = read_document(DesignDocument, text)
    editions = read_editions(document.editions, lambda form, place: _design(form.design, place))
    return _design(document, (), editions)


def _design(form: DesignForm, place: tuple[str | int, ...], editions: tuple[Edition[Design], ...] = ()) -> Design:
    decided = {name: getattr(form, name) for name in DesignForm.model_fields}
    try:
        return Design(**decided, editions=editions)
    except MosaickitError as error:
        raise fault(place, str(error)) from None


def schema() -> str:
    """Give the text of ``design.schema.json``."""
    return published(DesignDocument)
