"""Laying: how often a motif is laid, and in which manner, said as one larger repeat that is laid straight.

A brick, a half-drop and mirrored repeats come again after two of them. So two laid as asked are one repeat for a
layout, which counts any number of them without building one; what is left over are its closing stitches and rows.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from mosaickit import orientation
from mosaickit.motif import Colours, Laying, Motif, Seam, checked_size, crop, laid_squares, tile
from mosaickit.sizes.layouts.repeats import RepeatSums
from mosaickit.sizes.layouts.surround import Surround

MOST_REPEATS_KEPT = 16
"""The sums of 16 larger repeats are kept at most: a motif that is laid straight has one, others a few."""


class LaidWay(NamedTuple):
    """The repeats in one direction, and how they are said in a larger one."""

    size: int
    """The stitches or rows of the motif."""
    number: int
    """How often it is laid, 1 or more."""
    closing: int
    """How many of its stitches or rows close the piece."""
    turns: bool
    """Whether every second repeat differs from its neighbours."""
    shared: bool
    """Whether neighbours share a row or column."""
    closes: bool = True
    """Whether what is left over may close the piece; in the round no stitches may, as a row has no end."""

    @property
    def step(self) -> int:
        """How far one repeat lies from the next."""
        return self.size - self.shared

    @property
    def whole(self) -> int:
        """The stitches or rows in all."""
        return (self.size - self.shared) * self.number + self.shared + self.closing

    @property
    def by_two(self) -> bool:
        """Whether two repeats are one larger one."""
        return self.turns and self.step > 0 and self.number + (self.closing > 0) > 1

    @property
    def few(self) -> int:
        """A few repeats that end like all of them: the last two come again from there."""
        if not self.by_two:
            return 1
        return 2 + self.number % 2 if self.closes else self.number

    @property
    def larger(self) -> int:
        """The stitches or rows of the larger repeat."""
        return _larger(self)

    @property
    def counts(self) -> tuple[int, int]:
        """How often the larger repeat is laid, and how many of its stitches or rows close the piece."""
        return divmod(self.whole, self.larger)


@lru_cache(maxsize=256)  # a design that is changed asks for the same ones again and again
def _larger(way: LaidWay) -> int:
    if not way.by_two:
        return way.size
    left_over = way.whole % (2 * way.step) > 0
    return way.whole if left_over and not way.closes else min(2 * way.step, way.whole)


def ways_of(
    motif: Motif, across: int, up: int, surround: Surround, laying: Laying, seam: Seam
) -> tuple[LaidWay, LaidWay]:
    """Give the repeats along a row, and those up."""
    closing = surround.closing(motif.shape)
    return ways_closed_by(closing, motif.shape, (across, up), laying, seam, surround.in_the_round)


def ways_closed_by(
    closing: tuple[int, int],
    shape: tuple[int, int],
    counts: tuple[int, int],
    laying: Laying,
    seam: Seam,
    in_the_round: bool,
) -> tuple[LaidWay, LaidWay]:
    """Give the same of a motif of some (rows, stitches), laid so often across and up and closed by (stitches, rows)."""
    shared = laying == "mirrored" and seam == "shared"
    (rows, columns), (across, up) = shape, counts
    return (
        LaidWay(columns, across, closing[0], laying in ("half-drop", "mirrored"), shared, not in_the_round),
        LaidWay(rows, up, closing[1], laying in ("brick", "mirrored"), shared),
    )


def larger_repeat(motif: Motif, along: LaidWay, above: LaidWay, laying: Laying, seam: Seam, colours: Colours) -> Motif:
    """Give the repeat that, laid straight, is the motif laid as asked; workable or not.

    Bricks and mirrored rows are counted from the bottom, drops and mirrored columns from the left, as `tile` counts.
    """
    if not along.by_two and not above.by_two:
        return motif
    if len(motif.yarns.mc) == len(motif.yarns.cc) == 1:  # no yarn moves with its rows, so that only squares need to
        swap, (rows, columns) = colours == "swap", motif.shape
        checked_size(rows * above.few, columns * along.few)  # before it is laid
        moved = laid_squares(motif.overlaid if swap else motif.grid, along.few, above.few, laying, seam)
        kept = orientation.to_seen(orientation.to_working(moved)[: above.larger, : along.larger])
        return motif.with_overlaid(kept) if swap else motif.with_grid(kept)
    laid = tile(motif, across=along.few, up=above.few, layout=laying, seam=seam, colours=colours, must_work=False)
    return crop(laid, rows=(1, above.larger), stitches=(1, along.larger), must_work=False)


def kept_sums(
    kept: dict[tuple[int, ...], RepeatSums],
    motif: Motif,
    along: LaidWay,
    above: LaidWay,
    laying: Laying,
    seam: Seam,
    colours: Colours,
) -> RepeatSums:
    """Give the sums of the larger repeat, those that are kept if they are its own, and keep them."""
    shape = along.few, along.larger, above.few, above.larger
    if shape not in kept:
        if len(kept) >= MOST_REPEATS_KEPT:
            kept.clear()
        kept[shape] = RepeatSums.of(larger_repeat(motif, along, above, laying, seam, colours))
    return kept[shape]
