"""Stacking: strips one on the other, with row colours kept in step, counted as `Repeats` are.

A band keeps its picture where its row 1 has the colour that it was drawn on. What is put in or swapped for that, or
because overlaid squares of two bands would meet, is kept with each strip, so that it can be said. Everything is in
working order.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit.colours import Yarns
from mosaickit.errors import OptionError
from mosaickit.orientation import Role, other, role_of_row
from mosaickit.sizes.bands.strips import Strip, YarnsOfRow, plain_strip
from mosaickit.sizes.bands.values import going_on


class Placed(NamedTuple):
    """A strip where it lies."""

    strip: Strip
    below: int
    """The rows of the bands below it."""
    band: int
    """The number of its band, from 1; 0 for plain rows that were put in."""
    swapped: bool = False
    """Whether its colours are not those it was drawn in."""
    keeps: bool = True
    """Of plain rows that were put in, whether it is for the colours of what follows, not for the seam alone."""

    @property
    def rows(self) -> tuple[int, int]:
        """Its first row and its last one, from 1, in the bands."""
        return self.below + 1, self.below + self.strip.rows


@dataclass(frozen=True, eq=False)
class Stack:
    """Strips one on the other.

    Attributes
    ----------
    placed : tuple of Placed
        From the foundation up.
    stitches : int
        The width of all of them.
    first : "MC" or "CC"
        The colour of row 1.
    clashes : tuple of int
        The rows, from 1, at the top of a band where overlaid squares lie right below such of the next one.
    rows : int
        All rows.
    workable : bool
        Whether no two overlaid squares lie one above the other, in a band or where two meet.
    parities : (int, int)
        What `by_parity` gives.
    """

    placed: tuple[Placed, ...]
    stitches: int
    first: Role
    clashes: tuple[int, ...]
    rows: int = field(init=False)
    workable: bool = field(init=False)
    parities: tuple[int, int] = field(init=False)

    def __post_init__(self) -> None:
        own, counts, works, rows = self.__dict__, [0, 0], not self.clashes, 0
        for one in self.placed:  # a sweep makes many of these
            even, odd = one.strip.by_parity
            turned = one.below % 2
            counts[turned] += even
            counts[1 - turned] += odd
            works = works and one.strip.workable
            rows = one.below + one.strip.rows
        own["rows"], own["workable"], own["parities"] = rows, works, (counts[0], counts[1])

    @cached_property
    def _starts(self) -> list[int]:
        return [one.below for one in self.placed]

    def at(self, row: int) -> Placed:
        """Give the strip that has a row, from 1."""
        return self.placed[bisect_right(self._starts, row - 1) - 1]

    def in_row(self, row: int) -> int:
        """Count the overlaid squares in a row, from 1."""
        one = self.at(row)
        return one.strip.in_row(row - one.below)

    def squares_in(self, row: int) -> NDArray[np.bool_]:
        """Give which squares of a row, from 1, are overlaid, (stitches,)."""
        one = self.at(row)
        squares: NDArray[np.bool_] = one.strip.squares_of([row - one.below])[0]
        return squares

    def by_row(self) -> NDArray[np.int64]:
        """Count the overlaid squares in each row, (rows,), row 1 first."""
        return np.concatenate([one.strip.by_row() for one in self.placed])

    def by_parity(self) -> tuple[int, int]:
        """Count the overlaid squares in all even rows, and in all odd ones."""
        return self.parities

    def squares(self) -> NDArray[np.bool_]:
        """Give all overlaid squares, (rows, stitches)."""
        return np.concatenate([one.strip.squares() for one in self.placed])

    @cached_property
    def centred(self) -> bool:
        """Whether every row reads the same from either edge."""
        return all(one.strip.centred for one in self.placed)

    def yarns_of_rows(self) -> list[YarnsOfRow]:
        """Give what MC and CC would be worked in, in each row; plain rows go on in the yarns of the band below."""
        of_strips = [one.strip.yarns() for one in self.placed]
        last = next((yarns[0] for yarns in of_strips if yarns), (Yarns().mc[0][1], Yarns().cc[0][1]))
        found: list[YarnsOfRow] = []
        for one, yarns in zip(self.placed, of_strips, strict=True):
            found += yarns or [last] * one.strip.rows
            last = found[-1]
        return found


def _meet(lower: Strip, upper: Strip) -> bool:
    if not lower.at_ends[1] or not upper.at_ends[0]:
        return False
    return bool((lower.squares_of([lower.rows]) & upper.squares_of([1])).any())


def stacked(strips: Sequence[tuple[int, Strip]], names: Callable[[], Sequence[str]], step: str) -> Stack:
    """Lay strips one on the other and keep their colours in step.

    Parameters
    ----------
    strips : sequence of (int, Strip)
        The number of each band, and its strip, the lowest first.
    names : function
        Gives what bands are called, band 1 first.
    step : "divider", "swap" or "refuse"
        See `Bands`.
    """
    width, first = strips[0][1].stitches, _first(strips)
    of_row = (other(first), first)  # by whether the number of the row is odd
    placed: list[Placed] = []
    clashes: list[int] = []
    rows = 0
    for number, given in strips:
        colour = of_row[(rows + 1) % 2]
        strip = _on(given, colour) if given.either else given
        differs = strip.first is not None and strip.first != colour
        if differs and step == "refuse":
            raise OptionError(_out_of_step(strip, names(), number, rows, first))
        plain = int(differs and step == "divider")
        if not plain and placed and _meet(placed[-1].strip, strip):
            if step == "refuse":
                clashes.append(rows)
            else:  # one plain row parts them, and a second one brings the colours back, where they are not swapped
                plain = 2 if step == "divider" and strip.first else 1
        if plain:
            placed.append(Placed(plain_strip(plain, width), rows, 0, keeps=differs))
            rows += plain
            colour = of_row[(rows + 1) % 2]
            strip = _on(given, colour) if given.either else given
            differs = strip.first is not None and strip.first != colour
        placed.append(Placed(strip, rows, number, differs))
        rows += strip.rows
    return Stack(tuple(placed), width, first, tuple(clashes))


def _first(strips: Sequence[tuple[int, Strip]]) -> Role:
    """Give the colour of row 1 that the lowest band which needs one would have, if nothing is put in below it."""
    below = 0
    for _, strip in strips:
        if strip.first is not None and not strip.either:
            return role_of_row(1 - below, strip.first)
        below += strip.rows
    return "MC"


def _on(strip: Strip, colour: Role) -> Strip:
    """Give a strip as it lies on a row of a colour: a line of two rows takes its own colour from either of them."""
    on_its_own = strip.first in (None, colour)
    return replace(strip, whole_rows=(2,) if on_its_own else (1,), first=None)


def _out_of_step(strip: Strip, names: Sequence[str], number: int, rows: int, first: Role) -> str:
    assert strip.first is not None
    name = names[number - 1]
    return (
        f"{going_on(name, begins=True)} begins on {strip.first}, but the {rows} rows below it leave row {rows + 1} to "
        f'{other(strip.first)}. Put mk.Plain(1) below it; or give mk.Bands(…, step="divider") to have such rows put '
        'in, or step="swap" to swap its colours.'
    )
