"""Reporting: what was done for the bands by itself, and which of them cannot be worked, in sentences."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from mosaickit import orientation
from mosaickit.cures import cures_in_words
from mosaickit.errors import UnworkableError, number_of
from mosaickit.motif import Report
from mosaickit.sizes.bands.columns import Columns
from mosaickit.sizes.bands.order import Bands
from mosaickit.sizes.bands.stacking import Placed, Stack
from mosaickit.sizes.bands.values import Band, going_on
from mosaickit.sizes.layouts.cures import cures_of
from mosaickit.sizes.layouts.layout import Layout


class BandRows(NamedTuple):
    """Which rows of a piece a band has."""

    band: int
    """Its number, from 1; 0 for plain rows that were put in."""
    name: str
    """What it is called."""
    first_row: int
    last_row: int

    def in_words(self, word: str = "row") -> str:
        """Say what it is called and which rows, or rounds, it has."""
        first, last = self.first_row, self.last_row
        return f"{self.name}, {word} {first}" if first == last else f"{self.name}, {word}s {first} to {last}"

    def __str__(self) -> str:
        return self.in_words()


def rows_of(stack: Stack, names: Sequence[str], under: int) -> tuple[BandRows, ...]:
    """Give the rows of each band; `under` of the piece lie below all of them."""
    return tuple(BandRows(one.band, _name(one, names), *(under + row for row in one.rows)) for one in stack.placed)


def _name(one: Placed, names: Sequence[str]) -> str:
    return names[one.band - 1] if one.band else number_of(one.strip.rows, "plain row") + " put in"


def said_of(
    bands: Bands, stack: Stack, names: Sequence[str], under: int, *, in_the_round: bool = False
) -> tuple[str, ...]:
    """Say what was done that no one asked for row by row: rows put in, colours swapped, stitches beside and cut."""
    said: list[str] = []
    word = "round" if in_the_round else "row"
    for number, band in enumerate(bands.order, 1):
        if isinstance(band, Columns):
            said += [f"{_capital(names[number - 1])}: {sentence}" for sentence in band.said]
    for at, one in enumerate(stack.placed):
        if not one.band:
            said.append(_put_in(one, names[stack.placed[at + 1].band - 1], under, _capital(word)))
            continue
        name = going_on(names[one.band - 1], begins=True)
        if one.swapped:
            said.append(f"{name} has its colours swapped, so that it begins on the colour of its {word}.")
        laid, fit = one.strip.repeats, getattr(bands.order[one.band - 1], "fit", "whole")
        if laid is not None and fit == "centre" and laid.stitches < one.strip.stitches:
            left = one.strip.stitches - laid.stitches - one.strip.right
            sides = f"{one.strip.right} plain at the right, {left} at the left"
            said.append(f"{name} has {laid.stitches} of {one.strip.stitches} stitches: {sides}.")
        if laid is not None and fit == "fill" and one.strip.cut:
            said.append(f"{name} is cut at its sides: {number_of(one.strip.cut, 'stitch')} of its repeats left out.")
    return tuple(said)


def _put_in(one: Placed, above: str, under: int, word: str) -> str:
    first, last = (under + row for row in one.rows)
    rows = f"{word} {first} is plain and was" if first == last else f"{word}s {first} and {last} are plain and were"
    if one.keeps:
        return f"{rows} put in, so that {going_on(above)} begins on its colour."
    return f"{rows} put in, because {going_on(above)} cannot be worked right on top of what is below it."


def where_wrong(report: Report, bands: Sequence[BandRows]) -> str:
    """Name the bands, with their rows, in which something cannot be worked, as the beginning of a text."""
    wrong = np.flatnonzero(orientation.to_working(report.squares("error")).any(axis=1)) + 1
    named = [str(one) for one in bands if ((wrong >= one.first_row) & (wrong <= one.last_row)).any()]
    return f"In {'; '.join(named)}: " if named else ""


def unworkable(layout: Layout, bands: Bands, stack: Stack, names: Sequence[str]) -> UnworkableError:
    """Say why a piece of bands cannot be worked, where, and what cures it."""
    report, cures = layout.report, cures_of(layout)
    said = [cures_in_words(cures)] if cures else []
    if any(cure.options for cure in cures):
        said.append("(That is of the surround.)")
    for one in stack.placed:
        band = bands.order[one.band - 1]
        if one.band and isinstance(band, Band | Columns) and _swaps(one):
            said.append(f'Give {names[one.band - 1]}, colours="swap".')
    if stack.clashes:
        said.append('mk.Bands(…, step="divider") puts plain rows between bands that do not go one on the other.')
    said.append("`design.mended()` mends the field and the bands, where only squares are wrong.")
    rows, stitches = layout.shape
    return UnworkableError(
        f"These bands cannot be worked. {' '.join(said)} What is wrong in the {number_of(rows, 'row')} of "
        f"{number_of(stitches, 'stitch')}: {layout.what_is_wrong}",
        report,
        cures,
    )


def _swaps(one: Placed) -> bool:
    """Whether a band cannot be worked because its repeats land on the other row colours."""
    repeats = one.strip.repeats
    return repeats is not None and repeats.turn and not repeats.workable and repeats._replace(turn=False).workable


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]
