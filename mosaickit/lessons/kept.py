"""Answers, and what an exercise gives, as a file or a notebook keeps them: a motif, a chart, a gauge, or plain values.

A plain value is a number, a text, or a list of these, which may hold short lists, as squares do. A function is not
kept: code in a file is never run by the person who reads it.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import islice
from typing import Annotated, Any, Literal

import numpy as np
from pydantic import Field, TypeAdapter, ValidationError

from mosaickit.colours import Yarn
from mosaickit.errors import FileError, as_whole
from mosaickit.fabric import Chart
from mosaickit.files import FileForm
from mosaickit.gauge import Gauge
from mosaickit.lessons.answers import LONGEST_ANSWER, MOST_IN_A_LIST
from mosaickit.motif import Motif
from mosaickit.sizes import KeptChart, KeptGauge, KeptMotif

MOST_KEPT_SQUARES = 40_000
"""A motif or chart of more squares is not kept beside a feedback: a notebook would grow by it at every check."""


_Text = Annotated[str, Field(max_length=LONGEST_ANSWER)]
_Plain = bool | int | float | _Text


class MotifValue(FileForm):
    """A motif."""

    kind: Literal["motif"]
    value: KeptMotif


class ChartValue(FileForm):
    """A chart."""

    kind: Literal["chart"]
    value: KeptChart


class GaugeValue(FileForm):
    """A gauge."""

    kind: Literal["gauge"]
    value: KeptGauge


class NoValue(FileForm):
    """Dots: no answer yet."""

    kind: Literal["dots"]

    @property
    def value(self) -> object:
        """What stands in a cell in place of an answer."""
        return ...


class PlainValue(FileForm):
    """A number or a text, or a list of these."""

    kind: Literal["plain"]
    value: (
        _Plain
        | Annotated[
            list[_Plain | Annotated[list[_Plain], Field(max_length=MOST_IN_A_LIST)]], Field(max_length=MOST_IN_A_LIST)
        ]
    )


_Values = MotifValue | ChartValue | GaugeValue | PlainValue
KeptValue = Annotated[_Values, Field(discriminator="kind")]
_ANY: TypeAdapter[Any] = TypeAdapter(Annotated[_Values | NoValue, Field(discriminator="kind")])


def form_of(value: object) -> MotifValue | ChartValue | GaugeValue | PlainValue | None:
    """Give the form in which a value is kept; None if it cannot be."""
    if isinstance(value, Motif | Chart):
        if value.shape[0] * value.shape[1] > MOST_KEPT_SQUARES:
            return None
        if isinstance(value, Motif):
            return MotifValue(kind="motif", value=value)
        return ChartValue(kind="chart", value=value)
    if isinstance(value, Gauge):
        return GaugeValue(kind="gauge", value=value)
    plain = _plain(value, deep=2)
    try:
        return None if plain is None else PlainValue(kind="plain", value=plain)
    except ValidationError:  # a text is too long, or a number is not finite
        return None


def _plain(value: object, deep: int) -> Any:  # noqa: ANN401 — as JSON has it
    """Turn a value into what JSON has, with lists no deeper than `deep`; None if that cannot be done."""
    if isinstance(value, bool | np.bool_):
        return bool(value)
    if isinstance(value, str):
        return str(value)
    if isinstance(value, Yarn):
        return value.colour
    number = as_whole(value)
    if number is not None:
        return number if number.bit_length() <= 64 else None
    if isinstance(value, float | np.floating):
        return float(value)
    if isinstance(value, set | frozenset):
        value = sorted(value, key=repr)
    if not deep or not isinstance(value, list | tuple | np.ndarray):
        return None
    if isinstance(value, np.ndarray) and not value.ndim:
        return None
    found = [_plain(each, deep - 1) for each in islice(value, MOST_IN_A_LIST + 1)]
    return found if len(found) <= MOST_IN_A_LIST and None not in found else None


def told(value: object) -> Mapping[str, Any] | None:
    """Write a value as JSON has it, for a notebook; None if it cannot be kept."""
    try:
        form = NoValue(kind="dots") if value is ... else form_of(value)
    except Exception:  # looking at an answer may run a learner's own class
        return None
    return None if form is None else form.model_dump(mode="json")


def read_told(kept: object) -> Any:  # noqa: ANN401 — any of the values
    """Read a value that a notebook keeps, strictly; raise `FileError` if it is damaged."""
    try:
        return _ANY.validate_python(kept).value
    except (ValidationError, RecursionError):
        raise FileError("The answer that is kept in the notebook is damaged.") from None


def value_of(form: Any) -> Any:  # noqa: ANN401 — any form, any value
    """Give the value of a form; of several by their names a dict."""
    if isinstance(form, dict):
        return {name: each.value for name, each in form.items()}
    return None if form is None else form.value
