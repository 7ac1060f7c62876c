"""Choices: what a sweep may choose from, read, checked, and made into all that its figures depend on.

The combinations of a `Task` are numbered. It travels to the processes and machines that work them out, so nothing in it
is a function of the maker's.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import prod
from typing import Any, NamedTuple

import numpy as np

from mosaickit.errors import OptionError, one_of, shortly
from mosaickit.files import to_json
from mosaickit.gauge import Gauge, Unit
from mosaickit.motif import BETWEEN_ROWS, COLOURS, Motif
from mosaickit.sizes.layouts.usage import check_skeins
from mosaickit.sizes.widths.wanted import WORKED, asked_cm
from mosaickit.yarn import YarnRates

MOST_COMBINATIONS = 5_000_000
"""A sweep of more would fill the memory before anyone could look at it."""

_YARN_OPTIONS = {"yarn_mm", "lengths", "skeins", "tail_cm", "ease", "margin"}


class Choice(NamedTuple):
    """An argument: its column in the table, its values, and what the column calls them; hidden if it is one value."""

    column: str
    values: tuple[Any, ...]
    labels: tuple[Any, ...]
    hidden: bool

    @classmethod
    def of(cls, name: str, given: Any, column: str = "", label: Callable[[int, Any], Any] | None = None) -> Choice:  # noqa: ANN401
        """Read an argument that is one value, several in a sequence, or several by name."""
        several = isinstance(given, Mapping | list | tuple | range | np.ndarray | set | frozenset)
        if isinstance(given, Mapping):
            labels, values = tuple(given), tuple(given.values())
        else:
            values = tuple(given) if several else (given,)
            labels = tuple(label(number, value) for number, value in enumerate(values, 1)) if label else values
        if not values:
            raise OptionError(f"`{name}` is empty: give one value, or several to choose from.")
        if len(set(labels)) < len(labels):
            twice = next(one for one in labels if labels.count(one) > 1)
            raise OptionError(
                f"`{name}` has two that are called {twice!r}: name what looks alike, as in {{'one': …, 'two': …}}."
            )
        return cls(column or name.replace("_", " "), values, labels, not several)


@dataclass(frozen=True)
class Task:
    """All that the figures of a sweep depend on.

    Attributes
    ----------
    choices : mapping
        Each argument of which there may be several values.
    pictures : tuple of tuple of Motif
        Element [motif][variant].
    rates : tuple of tuple of tuple of YarnRates
        Element [gauge][yarn][between rows].
    tolerance : float
        The share by which a size may differ from what is wanted.
    """

    choices: dict[str, Choice]
    pictures: tuple[tuple[Motif, ...], ...]
    rates: tuple[tuple[tuple[YarnRates, ...], ...], ...]
    tolerance: float

    @property
    def dimensions(self) -> tuple[int, ...]:
        """How many values each choice has; their product is the number of combinations."""
        return tuple(len(choice.values) for choice in self.choices.values())

    @property
    def described(self) -> str:
        """All of it in words, so that what was kept of another sweep is never taken for this one's."""
        choices = {name: [repr(value) for value in choice.values] for name, choice in self.choices.items()}
        del choices["motifs"], choices["variants"]
        pictures = [[to_json(motif) for motif in variants] for variants in self.pictures]
        return json.dumps([choices, pictures, repr(self.rates), self.tolerance])


def task_of(asked: dict[str, Choice], unit: Unit, tolerance: float) -> Task:
    """Check what was asked, and make of it what the figures depend on."""
    count = prod(len(choice.values) for choice in asked.values())
    if count > MOST_COMBINATIONS:
        raise OptionError(
            f"This is a sweep of {count:,} combinations; the most are {MOST_COMBINATIONS:,}, so leave some out."
        )
    for name, kind in (("motifs", Motif), ("gauges", Gauge)):
        for value in asked[name].values:
            if not isinstance(value, kind):
                raise OptionError(f"`{name}` must be a `{kind.__name__}` or several; got {shortly(value)}.")
    for name, allowed in (("worked", WORKED), ("colours", COLOURS), ("between_rows", BETWEEN_ROWS)):
        for value in asked[name].values:
            one_of(name, value, allowed)
    for name in ("in_the_round", "reversible"):
        for value in asked[name].values:
            one_of(name, value, (False, True))
    _check_counts(asked)
    for name in ("width", "length"):
        if asked[name].values != (None,):
            sizes = tuple(asked_cm(name, size, unit) for size in asked[name].values)
            asked[name] = asked[name]._replace(values=sizes, labels=sizes)
    for name in ("across", "up"):
        if asked[name].values == (None,):
            asked[name] = asked[name]._replace(values=(1,), labels=(1,))
    pictures = tuple(
        tuple(
            _varied(name, make, motif)
            for name, make in zip(asked["variants"].labels, asked["variants"].values, strict=True)
        )
        for motif in asked["motifs"].values
    )
    rates = tuple(
        tuple(
            tuple(YarnRates(gauge, between_rows=way, **_yarn(yarn)) for way in asked["between_rows"].values)
            for yarn in asked["yarns"].values
        )
        for gauge in asked["gauges"].values
    )
    for variants in pictures:
        for motif in variants:
            for of_yarn in rates[0]:
                check_skeins(motif, of_yarn[0])
    # functions need not travel: what they make does
    asked["variants"] = asked["variants"]._replace(values=asked["variants"].labels)
    return Task(asked, pictures, rates, tolerance)


def _check_counts(asked: Mapping[str, Choice]) -> None:
    """Raise unless each count of repeats is given or follows from a size, not both."""
    for worked in asked["worked"].values:
        sizes = ("width", "length") if worked == "across" else ("length", "width")
        for count, size in zip(("across", "up"), sizes, strict=True):
            if asked[count].values != (None,) and asked[size].values != (None,):
                raise OptionError(
                    f"Worked {worked!r}, `{count}` and `{size}` both say how many repeats there are: give one of them."
                )


def _yarn(options: object) -> Mapping[str, Any]:
    if not isinstance(options, Mapping) or not set(options) <= _YARN_OPTIONS:
        raise OptionError(
            f"`yarns` must give each yarn's {', '.join(sorted(_YARN_OPTIONS))}, or some of them; got {options!r}."
        )
    return options


def _varied(name: str, make: object, motif: Motif) -> Motif:
    if not callable(make):
        raise OptionError(f"`variants` must give a function from motif to motif for each name; {name!r} is {make!r}.")
    made = make(motif)
    if not isinstance(made, Motif):
        raise OptionError(f"The variant {name!r} must make a `Motif`; it made {made!r}.")
    return made
