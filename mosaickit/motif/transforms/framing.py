"""Framing: rings around the picture, each in the colour of its row or in colours that are asked for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import OptionError, as_whole, number_of, one_of
from mosaickit.motif.motif import Motif
from mosaickit.motif.transforms.curing import other_way, settled
from mosaickit.motif.transforms.edges import pad
from mosaickit.motif.transforms.moving import COLOURS, Colours
from mosaickit.motif.transforms.safe import counterchange
from mosaickit.orientation import ROLES, Role


def frame(
    motif: Motif,
    rings: int | Sequence[Role] = 1,
    *,
    colours: Colours = "keep",
    must_work: bool = True,
) -> Motif:
    """Frame the picture in rings one square wide.

    Parameters
    ----------
    motif : Motif
        (R, C), with an odd number of rows: the top and bottom of a ring then have one colour.
    rings : int, or sequence of "MC" and "CC"
        How many, each in the colour of its row so that the frame can be worked; or their colours, the outermost
        first.
    colours : "keep" or "swap"
        An odd number of rings moves the picture up by an odd number of rows. Keep its squares' colours and let row 1
        (and so the rings) take the other colour; or keep row 1's (or the colours asked for) and counterchange the
        picture where it lands on the other row colours.
    must_work : bool
        Whether to raise if a workable picture comes out unworkable.

    Returns
    -------
    Motif
        (R + 2 × rings, C + 2 × rings).

    Raises
    ------
    UnworkableError
        If the picture has an even number of rows, or the colours asked for cannot be worked; the message names the
        cure.

    Examples
    --------
    >>> framed = frame(Motif.from_text("#", first="CC"), 2)
    >>> print(framed.to_text(), framed.first)
    #####
    #...#
    #.#.#
    #...#
    ##### CC
    """
    one_of("colours", colours, COLOURS)
    count, asked = _rings(rings)
    inside = pad(motif, top=count, bottom=count, left=count, right=count, colours=colours)
    if asked and inside.first != asked[0]:
        # row 1 has the colour of the outermost ring, whatever becomes of the picture inside
        inside = counterchange(inside) if colours == "swap" else inside.with_grid(inside.grid, asked[0])
    grid = inside.grid.copy()
    for i in range(count):
        colour = asked[i] if asked else orientation.role_of_row(i + 1, inside.first)
        grid[_ring(grid.shape, i)] = colour == "CC"
    result = inside.with_grid(grid)
    others: list[Mapping[str, Any]] = [{"colours": other_way(colours)}]
    if asked:
        others += [
            {"rings": [orientation.role_of_row(i + 1, asked[0]) for i in range(more)]} for more in (count, count + 1)
        ]
    return settled(
        motif,
        result,
        must_work,
        f"Framing in {number_of(count, 'ring')}",
        lambda motif, **other: frame(motif, **{"rings": rings, "colours": colours, **other}, must_work=False),
        others,
        ""
        if motif.shape[0] % 2
        else f"A ring closes only around an odd number of rows, and {motif.shape[0]} is even. ",
        taller=True,
    )


def _rings(rings: object) -> tuple[int, tuple[Role, ...] | None]:
    """Give how many rings are asked for, and their colours if they are named."""
    count = as_whole(rings)
    if count is not None and count >= 0:
        return count, None
    colours = None if isinstance(rings, str) or not isinstance(rings, Iterable) else tuple(rings)
    if colours is None or not all(isinstance(ring, str) and ring in ROLES for ring in colours):
        raise OptionError(
            "`rings` must be a whole number of 0 or more, or the colours of the rings, outermost first, as "
            f'["CC", "MC"]; got {rings!r}.'
        )
    return len(colours), cast(tuple[Role, ...], colours)


def _ring(shape: tuple[int, ...], inset: int) -> NDArray[np.bool_]:
    """Mark the squares of the ring that lies `inset` squares from the edge, (R, C)."""
    ring = np.zeros(shape, dtype=np.bool_)
    within = slice(inset, -inset or None)
    ring[within, within] = True
    ring[inset + 1 : -inset - 1, inset + 1 : -inset - 1] = False
    return ring
