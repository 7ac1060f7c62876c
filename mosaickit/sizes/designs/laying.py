"""Laying: how often a motif is laid, and in which manner, said as one larger repeat that is laid straight.

A brick, a half-drop and mirrored repeats come again after two of them. So two laid as asked are one repeat for a layout,
which counts any number of them without building one; an odd one left over is its closing stitches or rows.
"""

from __future__ import annotations

from typing import NamedTuple

from mosaickit.motif import Colours, Motif, crop, tile
from mosaickit.motif.transforms.tiling import Layout as Laying
from mosaickit.motif.transforms.tiling import Seam


class Unit(NamedTuple):
    """One repeat to be laid straight, and how often."""

    motif: Motif
    """The repeat."""
    across: int
    """How often it is laid across, 1 or more."""
    beside: int
    """How many of its first stitches, from the right-hand edge, close each row."""
    up: int
    """How often it is laid up, 1 or more."""
    above: int
    """How many of its first rows close the fabric."""


def unit_of(motif: Motif, across: int, up: int, laying: Laying, seam: Seam, colours: Colours) -> Unit:
    """Give the repeat that, laid straight, is the motif laid as asked.

    Parameters
    ----------
    motif : Motif
        (R, C).
    across, up : int
        How often it is laid in all, 1 or more.
    laying : "straight", "brick", "half-drop" or "mirrored"
        How; see `tile`. Bricks and mirrored rows are counted from the bottom, drops and mirrored columns from the left.
    seam : "double" or "shared"
        In a mirrored one, whether the row and column at a mirror line stand twice or once.
    colours : "keep" or "swap"
        What happens to repeats that land on the other row colours.

    Returns
    -------
    Unit
        Whether it can be worked or not.
    """
    shared = laying == "mirrored" and seam == "shared"
    rows, columns = (side - shared for side in motif.shape)  # how far one repeat lies from the next
    beside, above = _Way(columns, across, shared, laying in ("half-drop", "mirrored")), _Way(
        rows, up, shared, laying in ("brick", "mirrored")
    )
    laid = tile(
        motif, across=beside.few, up=above.few, layout=laying, seam=seam, colours=colours, must_work=False
    )
    # the right-hand and lowest two of them are those that come again from there
    unit = crop(laid, rows=(1, above.unit), stitches=(1, beside.unit), must_work=False)
    return Unit(unit, *beside.counts, *above.counts)


class _Way(NamedTuple):
    """The repeats in one direction."""

    step: int
    """How far one lies from the next; 0 where all of them are one."""
    number: int
    shared: bool
    turns: bool
    """Whether every second one differs from its neighbours."""

    @property
    def by_two(self) -> bool:
        return self.turns and self.number > 1 and self.step > 0

    @property
    def few(self) -> int:
        """A few that have the same ends."""
        return 2 + self.number % 2 if self.by_two else 1

    @property
    def unit(self) -> int:
        return 2 * self.step if self.by_two else self.step + self.shared

    @property
    def counts(self) -> tuple[int, int]:
        """How often the unit is laid, and what is left over."""
        if not self.by_two:
            return (self.number if self.step else 1), 0
        return divmod(self.step * self.number + self.shared, self.unit)
