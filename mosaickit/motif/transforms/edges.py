"""Where the picture begins and ends: shifted round its edges, cropped, padded, and with edge stitches."""

from __future__ import annotations

from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import number_of, of_kind, one_of, whole_number
from mosaickit.motif.motif import Motif
from mosaickit.motif.transforms.curing import other_way, say_odd, settled
from mosaickit.motif.transforms.moving import COLOURS, Colours, moved, padded
from mosaickit.orientation import HANDS, Hand

Fill = Literal["plain", "MC", "CC"]

FILLS: tuple[Fill, ...] = ("plain", "MC", "CC")


def shift(motif: Motif, *, right: int = 0, up: int = 0, colours: Colours = "keep", must_work: bool = True) -> Motif:
    """Shift the picture, and bring what leaves one side in at the other.

    Parameters
    ----------
    motif : Motif
        (R, C).
    right, up : int
        Squares to the right and rows up; negative for left and down.
    colours : "keep" or "swap"
        What an odd `up` does: keep the squares' colours and let row 1's change, or keep row 1's and counterchange.
    must_work : bool
        Whether to raise if a workable picture comes out unworkable.

    Returns
    -------
    Motif
        (R, C).

    Raises
    ------
    UnworkableError
        If overlaid squares end up in row 1 or row R, or if an odd number of rows is shifted around and the
        colours keep, so that what came around is on the other row colour.
    """
    of_kind("motif", motif, Motif)
    right, up = _any_whole("right", right), _any_whole("up", up)
    first = orientation.role_of_row(1 - up, motif.first)
    result = moved(motif, lambda squares: np.roll(squares, (-up, right), axis=(0, 1)), first, colours)
    return settled(
        motif,
        result,
        must_work,
        f"Shifting up by {number_of(up, 'row')}" if up >= 0 else f"Shifting down by {number_of(-up, 'row')}",
        lambda motif, **other: shift(
            motif, **{"right": right, "up": up, "colours": colours, "must_work": False, **other}
        ),
        [{"colours": other_way(colours)}],
        say_odd(motif.shape[0]) if motif.shape[0] % 2 and colours == "keep" else "",
    )


def _any_whole(name: str, value: object) -> int:
    return whole_number(name, value, least=None)


def crop(
    motif: Motif,
    *,
    rows: tuple[int, int] | None = None,
    stitches: tuple[int, int] | None = None,
    hand: Hand = "right",
    colours: Colours = "keep",
    must_work: bool = True,
) -> Motif:
    """Keep a part of the picture.

    Parameters
    ----------
    motif : Motif
        (R, C).
    rows, stitches : (first, last), or None for all
        What to keep, from 1, as a maker counts, both ends included.
    hand : "right" or "left"
        From which edge stitches are counted.
    colours : "keep" or "swap"
        What happens when the first row kept is an even one: see `shift`.
    must_work : bool
        Whether to raise if a workable picture comes out unworkable.

    Returns
    -------
    Motif
        (last row − first row + 1, last stitch − first stitch + 1).

    Raises
    ------
    OptionError
        If an end lies outside the picture or the two are the wrong way round.
    UnworkableError
        If an overlaid square becomes part of the first or last row.

    Examples
    --------
    >>> print(crop(Motif.from_array([[1, 1, 0], [0, 1, 0], [1, 1, 1]]), rows=(2, 3), stitches=(1, 2)).to_text())
    #.
    #.
    """
    of_kind("motif", motif, Motif)
    one_of("hand", hand, HANDS)
    low, high = _kept("rows", rows, motif.shape[0])
    near, far = _kept("stitches", stitches, motif.shape[1])

    def keep(squares: NDArray[Any]) -> NDArray[Any]:
        return orientation.to_seen(orientation.to_working(squares, hand)[low - 1 : high, near - 1 : far], hand)

    result = moved(motif, keep, orientation.role_of_row(low, motif.first), colours)
    return settled(
        motif,
        result,
        must_work,
        f"Keeping rows {low} to {high}",
        lambda motif, **other: crop(
            motif,
            **{"rows": rows, "stitches": stitches, "hand": hand, "colours": colours, "must_work": False, **other},
        ),
        [{"rows": _up_to_plain_rows(orientation.to_working(motif.overlaid, hand)[:, near - 1 : far], low, high)}],
    )


def _up_to_plain_rows(overlaid: NDArray[np.bool_], low: int, high: int) -> tuple[int, int]:
    """Widen a span of rows, from 1, until nothing is overlaid at its ends, (R, C) in working order."""
    plain = np.flatnonzero(~overlaid.any(axis=1)) + 1
    return int(plain[plain <= low].max(initial=1)), int(plain[plain >= high].min(initial=len(overlaid)))


def _kept(name: str, span: tuple[int, int] | None, most: int) -> tuple[int, int]:
    return (1, most) if span is None else orientation.checked_span(name, span, most)


def pad(
    motif: Motif,
    *,
    top: int = 0,
    bottom: int = 0,
    left: int = 0,
    right: int = 0,
    fill: Fill = "plain",
    colours: Colours = "keep",
    must_work: bool = True,
) -> Motif:
    """Add rows and columns around the picture.

    Parameters
    ----------
    motif : Motif
        (R, C).
    top, bottom, left, right : int
        How many rows or columns to add on each side.
    fill : "plain", "MC" or "CC"
        What the new squares show: their row's colour, or one colour throughout.
    colours : "keep" or "swap"
        What an odd `bottom` does to the picture above it: see `shift`.
    must_work : bool
        Whether to raise if a workable picture comes out unworkable, which a plain fill never does.

    Returns
    -------
    Motif
        (R + top + bottom, C + left + right).

    Examples
    --------
    >>> print(pad(Motif.from_text("#"), top=2, right=1).to_text())
    ..
    ##
    #.
    """
    of_kind("motif", motif, Motif)
    one_of("fill", fill, FILLS)
    one_of("colours", colours, COLOURS)
    top, bottom, left, right = (
        whole_number(name, value)
        for name, value in (("top", top), ("bottom", bottom), ("left", left), ("right", right))
    )
    result = padded(motif, top, bottom, left, right, colours)
    rows, columns = result.shape
    if fill != "plain":
        grid = np.full((rows, columns), fill == "CC")
        inside = np.s_[top : rows - bottom, left : columns - right]
        grid[inside] = result.grid[inside]
        result = result.with_grid(grid)
    return settled(
        motif,
        result,
        must_work,
        f"Padding with {fill}",
        lambda motif, **other: pad(
            motif,
            **{"top": top, "bottom": bottom, "left": left, "right": right, "fill": fill, "colours": colours, **other},
            must_work=False,
        ),
        [{"fill": "plain"}],
    )


def edge_stitches(motif: Motif, count: int = 1) -> Motif:
    """Add plain stitches at both sides, in each row's own colour: (R, C + 2 × count), always safe.

    Examples
    --------
    >>> print(edge_stitches(Motif.from_array([[0, 1], [0, 0]])).to_text())
    #.##
    ....
    """
    count = whole_number("count", count)
    return pad(motif, left=count, right=count)
