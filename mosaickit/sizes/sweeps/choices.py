"""Choices: what a sweep may choose from, read, checked, and made into all that its figures depend on.

The combinations of a `Task` are numbered. It travels to the processes and machines that work them out, so nothing in it
is a function of the maker's.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass, fields
from math import prod
from typing import Any, NamedTuple

import numpy as np

from mosaickit.errors import OptionError, one_of, shortly
from mosaickit.files import to_json
from mosaickit.gauge import Gauge, Unit
from mosaickit.motif import LARGEST_SIDE, Motif
from mosaickit.sizes.bands.forms import bands_to_json
from mosaickit.sizes.bands.laying import kept_of
from mosaickit.sizes.bands.order import Bands
from mosaickit.sizes.finishes.edging import Edging
from mosaickit.sizes.finishes.finish import Finish
from mosaickit.sizes.layouts.surround import Surround, count_of
from mosaickit.sizes.layouts.usage import check_skeins
from mosaickit.sizes.widths.wanted import WORKED, asked_cm
from mosaickit.yarn import YarnRates, YarnSettings

MOST_COMBINATIONS = 5_000_000
"""A sweep of more would fill the memory before anyone could look at it."""

UNNAMED = ("lengths", "skeins")
"""In what yarn settings may differ only if they have names: no column could hold it."""


_KINDS = {"motifs": Motif, "gauges": Gauge, "surrounds": Surround, "yarn_settings": YarnSettings}


class Choice(NamedTuple):
    """An argument: its column in the table, its values, and what the column calls them; hidden if it has no column."""

    column: str
    values: tuple[Any, ...]
    labels: tuple[Any, ...]
    hidden: bool

    @classmethod
    def of(cls, name: str, given: Any, column: str = "", label: Callable[[int, Any], Any] | None = None) -> Choice:  # noqa: ANN401
        """Read an argument that is one value, several in a sequence, or several by name."""
        several = isinstance(given, Mapping | list | tuple | range | np.ndarray | set | frozenset)
        if several:
            _check_count(count_of(given))
        if isinstance(given, Mapping):
            labels, values = tuple(given), tuple(given.values())
        else:
            values = tuple(given) if several else (given,)
            labels = tuple(label(number, value) for number, value in enumerate(values, 1)) if label else values
        if not values:
            raise OptionError(f"`{name}` is empty: give one value, or several to choose from.")
        # what cannot be hashed is of no kind that is wanted, which is said later
        if all(isinstance(label, Hashable) for label in labels) and len(set(labels)) < len(labels):
            twice = next(one for one in labels if labels.count(one) > 1)
            raise OptionError(
                f"`{name}` has two that are called {twice!r}: name what looks alike, as in {{'one': …, 'two': …}}."
            )
        return cls(column or name.replace("_", " "), values, labels, not several)

    def differing(self) -> dict[str, tuple[Any, ...]]:
        """Give the fields in which the values, which are of one dataclass, differ, with what each value has there."""
        of_each = {each.name: tuple(getattr(one, each.name) for one in self.values) for each in fields(self.values[0])}
        return {name: found for name, found in of_each.items() if any(one != found[0] for one in found)}


@dataclass(frozen=True)
class Task:
    """All that the figures of a sweep depend on.

    Attributes
    ----------
    choices : mapping
        Each argument of which there may be several values.
    pictures : tuple of tuple of Motif
        Element [motif][variant].
    rates : tuple of tuple of YarnRates
        Element [gauge][yarn_settings].
    tolerance : float
        The share by which a size may differ from what is wanted.
    bands : tuple of Bands or None
        Element [motif]: the bands in which it is the field, if there are any.
    finishes : tuple of Finish
        Element [motif]: how its edges and ends are finished.
    across_asked : bool
        Whether counts of repeats across were given.
    """

    choices: dict[str, Choice]
    pictures: tuple[tuple[Motif, ...], ...]
    rates: tuple[tuple[YarnRates, ...], ...]
    tolerance: float
    bands: tuple[Bands | None, ...]
    finishes: tuple[Finish, ...]
    across_asked: bool

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
        told = [choices, pictures, repr(self.rates), self.tolerance, repr(self.finishes)]
        if any(self.bands):
            told.append([bands and bands_to_json(bands) for bands in self.bands])
        return json.dumps(told)

    def edges_add_cm(self, motif: int, surround: int, gauge: int) -> tuple[float, float]:
        """Give by how much the border makes a piece longer along the rows and across them."""
        in_the_round = self.choices["surrounds"].values[surround].in_the_round
        return Edging(self.finishes[motif], 1, 1, self.choices["gauges"].values[gauge], in_the_round).adds_cm


def task_of(
    asked: dict[str, Choice],
    bands: tuple[Bands | None, ...],
    finishes: tuple[Finish, ...],
    unit: Unit,
    tolerance: float,
) -> Task:
    """Check what was asked, and make of it what the figures depend on."""
    _check_count(prod(len(choice.values) for choice in asked.values()))
    for name, kind in _KINDS.items():
        for value in asked[name].values:
            if not isinstance(value, kind):
                raise OptionError(f"`{name}` must be a `{kind.__name__}` or several; got {shortly(value)}.")
    for name, allowed in (("worked", WORKED), ("reversible", (False, True))):
        for value in asked[name].values:
            one_of(name, value, allowed)
    _check_names(asked)
    _check_counts(asked)
    for name in ("width", "length"):
        if asked[name].values != (None,):
            sizes = tuple(asked_cm(name, size, unit) for size in asked[name].values)
            asked[name] = asked[name]._replace(values=sizes, labels=sizes)
    across_asked = asked["across"].values != (None,)
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
    _check_lines(asked, pictures, tolerance)
    rates = tuple(
        tuple(YarnRates(gauge, yarn_settings) for yarn_settings in asked["yarn_settings"].values)
        for gauge in asked["gauges"].values
    )
    for variants, of_bands in zip(pictures, bands, strict=True):
        for motif in variants:
            yarns = [motif.yarns] if of_bands is None else kept_of(of_bands, motif).yarns
            for one in rates[0]:
                check_skeins(yarns, one)
    # functions need not travel: what they make does
    asked["variants"] = asked["variants"]._replace(values=asked["variants"].labels)
    return Task(asked, pictures, rates, tolerance, bands, finishes, across_asked)


def _check_count(count: int) -> None:
    if count > MOST_COMBINATIONS:
        raise OptionError(
            f"This is a sweep of {count:,} combinations; the most are {MOST_COMBINATIONS:,}, so leave some out."
        )


def _check_lines(asked: Mapping[str, Choice], pictures: tuple[tuple[Motif, ...], ...], tolerance: float) -> None:
    """Raise if the sizes would make too many lines: each combination has as many as there are counts that come near."""
    sizes = {name: [size for size in asked[name].values if size is not None] for name in ("width", "length")}
    counted = len(asked["across"].values) * len(asked["up"].values)
    others = prod(len(asked[name].values) for name in ("surrounds", "yarn_settings", "reversible"))
    lines = 0.0
    for gauge in asked["gauges"].values:
        cell_cm = gauge.stitch_width_cm, gauge.row_height_cm
        for worked in asked["worked"].values:
            of_sides = [sizes["width"], sizes["length"]][:: 1 if worked == "across" else -1]
            for motif in (motif for variants in pictures for motif in variants):
                near = 1.0
                for of_side, cm, count in zip(of_sides, cell_cm, motif.shape[::-1], strict=True):
                    most = LARGEST_SIDE // count
                    near *= sum(min(max(2 * tolerance * size / (count * cm), 1), most) for size in of_side) or 1
                lines += near * counted * others
    if lines > MOST_COMBINATIONS:
        raise OptionError(
            f"This sweep would have about {lines:,.0f} lines; the most are {MOST_COMBINATIONS:,}: ask for fewer or "
            "smaller sizes, or a smaller tolerance."
        )


def _check_names(asked: Mapping[str, Choice]) -> None:
    """Raise if yarn settings without names differ in what no column can hold."""
    choice = asked["yarn_settings"]
    unnamed = sorted(set(choice.differing()) & set(UNNAMED))
    if unnamed and choice.hidden:
        raise OptionError(
            f"`yarn_settings` that differ in {' and '.join(unnamed)} need names: "
            "give them as in {'soft': …, 'firm': …}."
        )


def _check_counts(asked: Mapping[str, Choice]) -> None:
    """Raise unless each count of repeats is given or follows from a size, not both."""
    for worked in asked["worked"].values:
        sizes = ("width", "length") if worked == "across" else ("length", "width")
        for count, size in zip(("across", "up"), sizes, strict=True):
            if asked[count].values != (None,) and asked[size].values != (None,):
                raise OptionError(
                    f"Worked {worked!r}, `{count}` and `{size}` both say how many repeats there are: give one of them."
                )


def _varied(name: str, make: object, motif: Motif) -> Motif:
    if not callable(make):
        raise OptionError(f"`variants` must give a function from motif to motif for each name; {name!r} is {make!r}.")
    made = make(motif)
    if not isinstance(made, Motif):
        raise OptionError(f"The variant {name!r} must make a `Motif`; it made {made!r}.")
    return made
