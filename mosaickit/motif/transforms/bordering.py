"""Bordering: a strip that comes again around all four sides of a picture and turns the corners in symmetry.

The border is a frame that is worked in the rows of the piece, as `frame` makes it: ring i has the colour of row i, and
on it stand the squares of the strip that show the other colour. Rings are counted from the outside, and along a ring
squares are counted from the outer corner, along all four sides alike. So the corners are mitred, and all four are
mirror images of each other, if what comes along a side reads the same from both of its ends; which counts of stitches
and rows do so is found exactly. Whether it can be worked is the rules' to say: along the sides, rows of both colours
cross each ring.
"""

from __future__ import annotations

from typing import NamedTuple

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
    parts = border_parts(marks, (rows, stitches), offset)
    return not (parts.lowest[0].any() or parts.highest[-1].any() or parts.clash)


class BorderParts(NamedTuple):
    """Which squares of a border are overlaid, part by part, in working order; none of what is inside.

    Attributes
    ----------
    lowest, highest : bool array, (rings, stitches)
        All rows below the inside, and all above it, corners included.
    sides : bool array, (inner rows, 2 × rings)
        Beside the inside: the columns at the one edge, from the edge inward, and then those at the other.
    """

    lowest: _Marks
    highest: _Marks
    sides: _Marks

    @property
    def clash(self) -> bool:
        """Whether two overlaid squares of the border lie one above the other."""
        rings = len(self.lowest)
        at_sides = (np.concatenate([rows[:, :rings], rows[:, -rings:]], axis=1) for rows in (self.lowest, self.highest))
        lowest, highest = at_sides
        return any(
            bool((rows[1:] & rows[:-1]).any())
            for rows in (self.lowest, self.highest, np.concatenate([lowest, self.sides, highest]))
        )


def border_parts(marks: _Marks, shape: tuple[int, int], offset: int) -> BorderParts:
    """Give the overlaid squares of a border around a piece of some (rows, stitches), border included.

    Only the squares of the border are looked at: rings times all rows and stitches, whatever is inside.
    """
    rings, (rows, stitches) = len(marks), shape
    along, up = np.arange(stitches), np.arange(rings, rows - rings)
    edges = np.concatenate([np.arange(rings), np.arange(stitches - rings, stitches)])
    return BorderParts(
        _overlaid(marks, shape, offset, np.arange(rings), along),
        _overlaid(marks, shape, offset, np.arange(rows - rings, rows), along),
        _overlaid(marks, shape, offset, up, edges),
    )


def _overlaid(
    marks: _Marks, shape: tuple[int, int], offset: int, up: NDArray[np.intp], along: NDArray[np.intp]
) -> _Marks:
    """Give which squares of some rows and columns of a border are overlaid, (len(up), len(along))."""
    shown = _ring_numbers(shape, up, along)
    other = (shown + up[:, np.newaxis]) % 2 == 1
    overlaid: _Marks = (other ^ _marked(marks, shape, offset, up, along)) & (shown < len(marks))
    return overlaid


def _ring_numbers(shape: tuple[int, int], up: NDArray[np.intp], along: NDArray[np.intp]) -> NDArray[np.int64]:
    """Give the number of the ring of each square of some rows and columns, from 0 at the edge."""
    rows, stitches = shape
    return np.minimum.outer(np.minimum(up, rows - 1 - up), np.minimum(along, stitches - 1 - along))


def _marked(
    marks: _Marks, shape: tuple[int, int], offset: int, up: NDArray[np.intp], along: NDArray[np.intp]
) -> _Marks:
    """Give which of these squares the strip marks: along the rings, counted from the outer corner."""
    ring = _ring_numbers(shape, up, along)
    row, stitch = up[:, np.newaxis], along[np.newaxis]
    level = (row == ring) | (shape[0] - 1 - row == ring)
    place = (np.where(level, stitch, row) + offset) % marks.shape[1]
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
    check_sides(strip, start, (rows, stitches))
    framed = frame(motif, rings, colours=colours, must_work=False)
    # the marks read the same from above and below, from left and right
    result = framed.with_grid(
        framed.grid ^ _marked(marks, (rows, stitches), start - 1, np.arange(rows), np.arange(stitches))
    )
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


def check_sides(strip: Motif, start: int, shape: tuple[int, int]) -> None:
    """Raise `OptionError` unless a strip turns the corners of a piece of some (rows, stitches), border included.

    The sentence names the nearest counts that fit.
    """
    marks = strip_marks(strip)
    for what, length in zip(("row", "stitch"), shape, strict=True):
        if not side_fits(marks, length, start - 1):
            raise OptionError(_no_fit(strip, marks, what, length, start))


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
