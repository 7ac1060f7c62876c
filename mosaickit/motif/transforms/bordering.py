"""Bordering: a strip that comes again around all four sides of a picture and turns the corners in symmetry.

The border is a frame that is worked in the rows of the piece, as `frame` makes it: ring i has the colour of row i, and
on it stand the squares of the strip that show the other colour. Rings are counted from the outside, and along a ring
squares are counted from the outer corner, along all four sides alike. So the corners are mitred, and all four are
mirror images of each other, if what comes along a side reads the same from both of its ends; which counts of stitches
and rows do so is found exactly. Whether it can be worked is the rules' to say: along the sides, rows of both colours
cross each ring.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import OptionError, number_of, of_kind, whole_number
from mosaickit.motif.motif import LARGEST_SIDE, Motif
from mosaickit.motif.transforms.curing import other_way, settled
from mosaickit.motif.transforms.framing import frame
from mosaickit.motif.transforms.moving import Colours
from mosaickit.orientation import to_working

_Marks = NDArray[np.bool_]


def strip_marks(strip: Motif) -> _Marks:
    """Give which squares of a strip show the colour that their row does not have, (rings, stitches), outermost first.

    Raises
    ------
    OptionError
        If it is no motif.
    """
    of_kind("strip", strip, Motif)
    marks: _Marks = to_working(strip.overlaid)[:, ::-1]  # read from the left, as it is drawn
    return marks


def fitting_remainders(strip: Motif, start: int = 1) -> tuple[int, ...]:
    """List what a long side's squares, corners included, may leave when they are divided by the strip's stitches.

    Parameters
    ----------
    strip : Motif
        (rings, stitches), as `mosaic_border` takes it.
    start : int
        The stitch of the strip that stands in the corner, from 1.

    Returns
    -------
    tuple of int
        Sides of other counts do not read the same from both ends. Empty if the strip has no mirror line.

    Examples
    --------
    >>> fitting_remainders(Motif.from_text('''
    ... ....
    ... #.##
    ... ....
    ... '''))
    (3,)
    """
    marks = strip_marks(strip)
    count = marks.shape[1]
    along = np.arange(count) + whole_number("start", start, least=1, most=LARGEST_SIDE) - 1
    return tuple(
        remainder
        for remainder in range(count)
        if np.array_equal(marks[:, along % count], marks[:, (remainder - 1 - along + 2 * (start - 1)) % count])
    )


def side_fits(marks: _Marks, length: int, offset: int) -> bool:
    """Tell whether a side of this many squares, corners included, reads the same from both ends on every ring."""
    along = marks[:, (np.arange(length) + offset) % marks.shape[1]]
    within = [slice(ring, length - ring) for ring in range(len(marks))]
    return all(np.array_equal(row[part], row[part][::-1]) for row, part in zip(along, within, strict=True))


def border_works(marks: _Marks, rows: int, stitches: int, offset: int) -> bool:
    """Tell whether the border of a piece of this size, border included, can be worked.

    The squares inside have no say: those at the border's inner edge are never overlaid in what can be worked.
    """
    overlaid = _overlaid(marks, rows, stitches, offset)
    return not (overlaid[0].any() or overlaid[-1].any() or (overlaid[1:] & overlaid[:-1]).any())


def _overlaid(marks: _Marks, rows: int, stitches: int, offset: int) -> _Marks:
    """Give the overlaid squares of a border around plain rows, (rows, stitches) in working order."""
    shown = _ring_numbers(rows, stitches)
    inside = shown >= len(marks)
    other = (shown + np.arange(rows)[:, np.newaxis]) % 2 == 1
    overlaid: _Marks = (other ^ _marked(marks, rows, stitches, offset)) & ~inside
    return overlaid


def _ring_numbers(rows: int, stitches: int) -> NDArray[np.int64]:
    """Give the number of the ring of each square, from 0 at the edge."""
    up, along = np.arange(rows), np.arange(stitches)
    return np.minimum.outer(np.minimum(up, up[::-1]), np.minimum(along, along[::-1]))


def _marked(marks: _Marks, rows: int, stitches: int, offset: int) -> _Marks:
    """Give which squares the strip marks, (rows, stitches): along the rings, counted from the outer corner."""
    ring = _ring_numbers(rows, stitches)
    up, along = np.indices((rows, stitches))
    level = (up == ring) | (rows - 1 - up == ring)
    place = (np.where(level, along, up) + offset) % marks.shape[1]
    marked: _Marks = marks[np.minimum(ring, len(marks) - 1), place] & (ring < len(marks))
    return marked


def mosaic_border(
    motif: Motif, strip: Motif, *, start: int = 1, colours: Colours = "keep", must_work: bool = True
) -> Motif:
    """Put a strip as a mosaic border around a picture, on all four sides and around the corners.

    Parameters
    ----------
    motif : Motif
        (R, C), with an odd number of rows.
    strip : Motif
        (rings, stitches), drawn as it lies along the lower edge, its lowest row outermost. Only which of its squares
        differ from the colour of their row counts; the colours follow from the rows.
    start : int
        The stitch of the strip, from 1 at its left, that stands in the corner.
    colours : "keep" or "swap"
        An odd number of rings moves the picture up by an odd number of rows; see `frame`.
    must_work : bool
        Whether to raise if a workable picture comes out unworkable.

    Returns
    -------
    Motif
        (R + 2 × rings, C + 2 × rings).

    Raises
    ------
    OptionError
        If an argument is not as described, or the strip does not turn the corners in symmetry around a picture of this
        size; names the nearest counts that do. `border_fits` finds the repeats of a design that fit.
    UnworkableError
        If it cannot be worked.

    Examples
    --------
    >>> strip = Motif.from_text('''
    ... ....
    ... #.##
    ... ....
    ... ''')
    >>> inside = Motif.from_text('''
    ... ...
    ... ###
    ... ...
    ... ''')
    >>> print(mosaic_border(inside, strip, start=2).to_text())
    #########
    #...#...#
    #.#####.#
    #.#...#.#
    #########
    #.#...#.#
    #.#####.#
    #...#...#
    #########
    """
    of_kind("motif", motif, Motif)
    marks = strip_marks(strip)
    start = whole_number("start", start, least=1, most=LARGEST_SIDE)
    rings = len(marks)
    rows, stitches = (side + 2 * rings for side in motif.shape)
    for what, length in (("row", rows), ("stitch", stitches)):
        if not side_fits(marks, length, start - 1):
            raise OptionError(_no_fit(strip, marks, what, length, start))
    framed = frame(motif, rings, colours=colours, must_work=False)
    # the marks read the same from above and below, from left and right
    result = framed.with_grid(framed.grid ^ _marked(marks, rows, stitches, start - 1))
    return settled(
        motif,
        result,
        must_work,
        f"A border of {number_of(rings, 'ring')}",
        lambda motif, **other: mosaic_border(
            motif, strip, **{"start": start, "colours": colours, **other}, must_work=False
        ),
        [
            {"colours": other_way(colours)},
            *({"start": other} for other in range(1, marks.shape[1] + 1) if other != start),
        ],
        ""
        if motif.shape[0] % 2
        else f"A ring closes only around an odd number of rows, and {motif.shape[0]} is even. ",
    )


def _no_fit(strip: Motif, marks: _Marks, what: str, length: int, start: int) -> str:
    inner = length - 2 * len(marks)
    near = sorted(
        range(max(1, inner - 4 * marks.shape[1]), inner + 4 * marks.shape[1]), key=lambda side: abs(side - inner)
    )
    odd_only = what == "row"
    fits = [side for side in near if side_fits(marks, side + 2 * len(marks), start - 1) and (side % 2 or not odd_only)]
    if not fits:
        others = [other for other in range(1, marks.shape[1] + 1) if fitting_remainders(strip, other)]
        cure = (
            f"begin it with another stitch, as start={others[0]}"
            if others
            else "it has no mirror line: draw one that has"
        )
        return f"The strip turns the corners in symmetry around no number of {what}{'e' * (what == 'stitch')}s: {cure}."
    nearest = " or ".join(map(str, sorted(fits[:2])))
    return (
        f"The strip, {number_of(marks.shape[1], 'stitch')} long and started with stitch {start}, does not turn the "
        f"corners in symmetry around {number_of(inner, what)}: it does around {nearest}. Make the picture so large, or "
        "choose another `start`."
    )
