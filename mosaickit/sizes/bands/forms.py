"""Forms: how bands stand in a design document."""

from __future__ import annotations

from dataclasses import fields
from typing import Annotated, Any, Literal

from pydantic import Field as Limits

from mosaickit.files import FileForm, MotifForm, kept_as, motif_of
from mosaickit.motif import LARGEST_SIDE, Colours, Laying, Motif, Seam
from mosaickit.orientation import Role
from mosaickit.sizes.bands.columns import MOST_BESIDE, Columns, Heights
from mosaickit.sizes.bands.order import MOST_BANDS, AnyBand, Bands
from mosaickit.sizes.bands.values import LONGEST_DIVIDER, Band, BandFit, Divider, Field, InStep, Plain

_Count = Annotated[int, Limits(ge=1, le=LARGEST_SIDE)]
_Closing = Annotated[int, Limits(ge=0, le=LARGEST_SIDE)]
_ACROSS = Limits(description="How often it is laid across; null for as often as the width takes.")
_FIT = Limits(description="What is done where repeats do not divide the width.")
KeptMotif = Annotated[
    Motif,
    kept_as(
        Motif,
        MotifForm,
        motif_of,
        lambda motif: MotifForm(name=motif.name, first=motif.first, rows=motif.grid, yarns=motif.yarns),
    ),
    Limits(description="One repeat."),
]
_TURNED = Limits(description="Whether it is turned, as it is laid.")
_KIND = Limits(description="What stands here.")


class BandForm(FileForm):
    """A motif laid across the whole width, and up."""

    kind: Annotated[Literal["band"], _KIND]
    motif: KeptMotif
    across: Annotated[_Count | None, _ACROSS]
    up: _Count
    laying: Laying
    seam: Seam
    colours: Colours
    balance_across: Annotated[_Closing, Limits(description="How many of its stitches close each row.")]
    balance_up: Annotated[_Closing, Limits(description="How many of its rows close the band.")]
    fit: Annotated[BandFit, _FIT]
    upside_down: Annotated[bool, _TURNED]
    mirrored: Annotated[bool, _TURNED]


class PlainForm(FileForm):
    """Plain rows; among columns, plain stitches."""

    kind: Annotated[Literal["plain"], _KIND]
    count: _Count


class DividerForm(FileForm):
    """A line of one colour."""

    kind: Annotated[Literal["divider"], _KIND]
    rows: Annotated[int, Limits(ge=1, le=LONGEST_DIVIDER)]
    colour: Annotated[Role | None, Limits(description="Its colour; null for that of the row it begins on.")]


class FieldForm(FileForm):
    """Where the motif of the design lies."""

    kind: Annotated[Literal["field"], _KIND]
    upside_down: Annotated[bool, _TURNED]
    mirrored: Annotated[bool, _TURNED]


class ColumnsForm(FileForm):
    """Motifs beside each other."""

    kind: Annotated[Literal["columns"], _KIND]
    columns: Annotated[
        list[Annotated[BandForm | PlainForm | FieldForm, Limits(discriminator="kind")]],
        Limits(min_length=1, max_length=MOST_BESIDE, description="From the left as seen."),
    ]
    across: Annotated[_Count | None, _ACROSS]
    up: _Count
    colours: Colours
    fit: Annotated[BandFit, _FIT]
    upside_down: Annotated[bool, _TURNED]
    mirrored: Annotated[bool, _TURNED]
    heights: Annotated[Heights, Limits(description="What is done where columns differ in height.")]
    step: Annotated[InStep, Limits(description="What is done where columns begin on different colours.")]


AnyBandForm = BandForm | PlainForm | DividerForm | FieldForm | ColumnsForm


class BandsForm(FileForm):
    """What lies in a piece, from the foundation up."""

    order: Annotated[
        list[Annotated[AnyBandForm, Limits(discriminator="kind")]],
        Limits(min_length=1, max_length=MOST_BANDS, description="The lowest first, with a field among them."),
    ]
    step: Annotated[InStep, Limits(description="How the row colours are kept in step.")]


_FORMS: dict[type[Any], tuple[type[Any], str]] = {
    Band: (BandForm, "band"),
    Plain: (PlainForm, "plain"),
    Divider: (DividerForm, "divider"),
    Field: (FieldForm, "field"),
    Columns: (ColumnsForm, "columns"),
}
_KINDS: dict[type[Any], type[Any]] = {form: kind for kind, (form, _) in _FORMS.items()}


def _read(form: AnyBandForm) -> AnyBand:
    told = {name: getattr(form, name) for name in type(form).model_fields if name != "kind"}
    if isinstance(form, ColumnsForm):
        told["columns"] = tuple(_read(column) for column in form.columns)
    made: AnyBand = _KINDS[type(form)](**told)
    return made


def _write(band: AnyBand) -> AnyBandForm:
    form, kind = _FORMS[type(band)]
    told = {each.name: getattr(band, each.name) for each in fields(band) if each.init}
    if isinstance(band, Columns):
        told["columns"] = [_write(column) for column in band.columns]
    written: AnyBandForm = form(kind=kind, **told)
    return written


def _write_bands(bands: Bands) -> BandsForm:
    return BandsForm(order=[_write(one) for one in bands.order], step=bands.step)


KeptBands = Annotated[
    Bands,
    kept_as(
        Bands,
        BandsForm,
        lambda form: Bands(tuple(_read(one) for one in form.order), step=form.step),
        _write_bands,
    ),
    Limits(description="What lies below and above the repeats, from the foundation up."),
]


def bands_to_json(bands: Bands) -> str:
    """Write bands as JSON text."""
    return _write_bands(bands).model_dump_json()
