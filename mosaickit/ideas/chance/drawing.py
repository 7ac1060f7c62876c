"""Counting and drawing, as a maker asks for them: how many motifs there are, and some of them as motifs.

What is asked for is read in `requests`; a plan counts and draws it in overlaid squares. Only here row colours and
yarns come to them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import prod
from typing import overload

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import Yarns
from mosaickit.errors import OptionError, number_of, one_of, shortly, whole_number
from mosaickit.ideas.chance.requests import check_rng, plan_of
from mosaickit.motif import Colours, Motif, SymmetryName
from mosaickit.orientation import ROLES, Role


def count_motifs(
    rows: int,
    stitches: int,
    *,
    symmetry: SymmetryName | Iterable[SymmetryName] = (),
    repeat_across: int | None = None,
    repeat_up: int | None = None,
    repeats_up: bool = False,
    colours: Colours = "swap",
    overlaid: int | tuple[int, int] | None = None,
    fldc_share: tuple[float, float] | None = None,
) -> int:
    """Count the workable motifs of a size, exactly.

    Parameters
    ----------
    rows, stitches : int
        The size, 1 or more each. The colour of row 1 is one or the other; motifs are counted for one of them.
    symmetry : "mirror", "up-down", "half-turn", or several of them
        Symmetries that they must have (two of them make the third).
    repeat_across, repeat_up : int, optional
        They must repeat every so many stitches, or rows.
    repeats_up : bool
        Whether they are one repeat of something taller, so that row 1 lies above the last row and neither is an end.
    colours : "swap" or "keep"
        Upside down an even number of rows, and repeated an odd number of rows further up, a picture is the same only
        with its colours swapped: take it so, or refuse such sizes.
    overlaid : int or (least, most), optional
        How many squares must be overlaid; each is an FLdc.
    fldc_share : (least, most), optional
        The same as shares of all squares, from 0 to 1.

    Returns
    -------
    int
        0 if there is none.

    Raises
    ------
    OptionError
        If an option has no meaning, or the size does not allow what is asked; it then names sizes that would do.

    Examples
    --------
    >>> count_motifs(5, 3)  # each column of 5 rows has 5 fillings, the fifth Fibonacci number
    125
    >>> count_motifs(6, 8, symmetry="half-turn", overlaid=8)
    886
    >>> count_motifs(4, 1, repeats_up=True)  # the fourth Lucas number
    7
    """
    plan = plan_of(rows, stitches, symmetry, repeat_across, repeat_up, repeats_up, colours, overlaid, fldc_share)
    return plan.count


MOST_SQUARES_AT_ONCE = 1_000_000_000
"""So many squares are drawn by one call at most: about a gigabyte."""


@dataclass(frozen=True, eq=False, repr=False)
class DrawnMotifs(Sequence[Motif]):
    """Motifs that were drawn at random: each becomes a `Motif` when it is asked for.

    Attributes
    ----------
    grids : bool array, (K, R, C)
        As seen, True for CC; read-only.
    first : "MC" or "CC"
        The colour of row 1 of all.
    yarns : Yarns
        The yarns of all.
    """

    grids: NDArray[np.bool_]
    first: Role = "MC"
    yarns: Yarns = field(default_factory=Yarns)

    def __len__(self) -> int:
        return len(self.grids)

    @overload
    def __getitem__(self, index: int) -> Motif: ...
    @overload
    def __getitem__(self, index: slice) -> DrawnMotifs: ...
    def __getitem__(self, index: int | slice) -> Motif | DrawnMotifs:
        if isinstance(index, slice):
            return DrawnMotifs(self.grids[index], self.first, self.yarns)
        return Motif(self.grids[index], self.first, self.yarns)

    def __repr__(self) -> str:
        count, rows, columns = self.grids.shape
        return f"<DrawnMotifs {count} of {number_of(rows, 'row')} × {number_of(columns, 'stitch')}>"


def random_motifs(
    count: int,
    rows: int,
    stitches: int,
    *,
    rng: np.random.Generator,
    symmetry: SymmetryName | Iterable[SymmetryName] = (),
    repeat_across: int | None = None,
    repeat_up: int | None = None,
    repeats_up: bool = False,
    colours: Colours = "swap",
    overlaid: int | tuple[int, int] | None = None,
    fldc_share: tuple[float, float] | None = None,
    first: Role = "MC",
    yarns: Yarns | None = None,
) -> DrawnMotifs:
    """Draw workable motifs, one independent of the other, each of those that `count_motifs` counts equally likely.

    Parameters
    ----------
    count : int
        How many, K; some may be equal.
    rows, stitches, symmetry, repeat_across, repeat_up, repeats_up, colours, overlaid, fldc_share
        What they have to be, as in `count_motifs`.
    rng : numpy.random.Generator
        Where chance comes from: ``numpy.random.default_rng(7)`` draws the same motifs every time.
    first : "MC" or "CC"
        The colour of row 1.
    yarns : Yarns, optional
        The yarns of all.

    Returns
    -------
    DrawnMotifs
        A sequence of K motifs, with their squares in ``.grids``, (K, R, C).

    Raises
    ------
    OptionError
        If an option has no meaning, or no motif is as asked; it then names sizes, or numbers of overlaid squares, that
        would do.

    Examples
    --------
    >>> from mosaickit.motif import check
    >>> drawn = random_motifs(3, 5, 8, rng=np.random.default_rng(7), symmetry="mirror")
    >>> drawn[0].shape, check(drawn[0]).ok
    ((5, 8), True)
    """
    count = whole_number("count", count)
    check_rng(rng)
    one_of("first", first, ROLES)
    plan = plan_of(rows, stitches, symmetry, repeat_across, repeat_up, repeats_up, colours, overlaid, fldc_share)
    plan.check()
    at_once = MOST_SQUARES_AT_ONCE // prod(plan.shape)
    if count > at_once:
        raise OptionError(
            f"`count` must be at most {at_once:,} for motifs of this size, so that the computer's memory holds them; "
            f"got {shortly(count)}. Draw them in several calls with the same `rng`."
        )
    grids = plan.draw(count, rng)
    grids ^= orientation.to_working(orientation.contrast_rows(plan.shape[0], first)[:, np.newaxis])
    grids.flags.writeable = False
    return DrawnMotifs(grids, first, yarns if yarns is not None else Yarns())


def random_motif(
    rows: int,
    stitches: int,
    *,
    rng: np.random.Generator,
    symmetry: SymmetryName | Iterable[SymmetryName] = (),
    repeat_across: int | None = None,
    repeat_up: int | None = None,
    repeats_up: bool = False,
    colours: Colours = "swap",
    overlaid: int | tuple[int, int] | None = None,
    fldc_share: tuple[float, float] | None = None,
    first: Role = "MC",
    yarns: Yarns | None = None,
) -> Motif:
    """Draw one workable motif, every one of those asked for equally likely.

    Parameters
    ----------
    rows, stitches, rng, symmetry, repeat_across, repeat_up, repeats_up, colours, overlaid, fldc_share, first, yarns
        As in `random_motifs`, which also says what is refused.

    Examples
    --------
    >>> motif = random_motif(6, 8, rng=np.random.default_rng(7), symmetry="half-turn", overlaid=8)
    >>> motif.overlaid.sum()
    np.int64(8)
    """
    drawn = random_motifs(
        1,
        rows,
        stitches,
        rng=rng,
        symmetry=symmetry,
        repeat_across=repeat_across,
        repeat_up=repeat_up,
        repeats_up=repeats_up,
        colours=colours,
        overlaid=overlaid,
        fldc_share=fldc_share,
        first=first,
        yarns=yarns,
    )
    return drawn[0]
