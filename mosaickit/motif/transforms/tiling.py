"""Laying the picture again and again: straight, as brick, half-drop or mirrored."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import number_of, of_kind, one_of, whole_number
from mosaickit.motif.motif import Motif, checked_size
from mosaickit.motif.transforms.curing import other_way, say_odd, settled
from mosaickit.motif.transforms.moving import Colours, moved

Laying = Literal["straight", "brick", "half-drop", "mirrored"]
Seam = Literal["double", "shared"]

LAYINGS: tuple[Laying, ...] = ("straight", "brick", "half-drop", "mirrored")
SEAMS: tuple[Seam, ...] = ("double", "shared")


def repeat(motif: Motif, *, across: int = 1, up: int = 1, colours: Colours = "keep", must_work: bool = True) -> Motif:
    """Repeat the picture across and up.

    Parameters
    ----------
    motif : Motif
        (R, C).
    across, up : int
        How many times in all, 1 or more.
    colours : "keep" or "swap"
        With an odd number of rows, every second repeat up is on the other row colours: keep the squares' colours
        all the same, or counterchange these repeats.
    must_work : bool
        Whether to raise if a workable picture comes out unworkable.

    Returns
    -------
    Motif
        (R × up, C × across).

    Raises
    ------
    UnworkableError
        If an odd number of rows is repeated up with `colours="keep"` and that cannot be worked.

    Examples
    --------
    >>> print(repeat(Motif.from_array([[1, 0], [0, 1]]), across=2).to_text())
    #.#.
    .#.#
    """
    return tile(motif, across=across, up=up, colours=colours, must_work=must_work)


def tile(
    motif: Motif,
    *,
    across: int = 1,
    up: int = 1,
    layout: Laying = "straight",
    seam: Seam = "double",
    colours: Colours = "keep",
    must_work: bool = True,
) -> Motif:
    """Cover an area with the picture.

    Parameters
    ----------
    motif : Motif
        (R, C).
    across, up : int
        How many times in all, 1 or more.
    layout : "straight", "brick", "half-drop" or "mirrored"
        Brick: every second row of repeats, from the bottom, lies half a width to the right. Half-drop: every second
        column of repeats, from the left, lies half a height lower. What leaves one side comes in at the other; odd
        sizes are halved downward. Mirrored: every second repeat is mirrored across, and turned upside down up.
    seam : "double" or "shared"
        In a mirrored layout, whether the row and column at a mirror line stand twice or once.
    colours : "keep" or "swap"
        What happens to repeats that land on the other row colours: see `repeat`.
    must_work : bool
        Whether to raise if a workable picture comes out unworkable.

    Returns
    -------
    Motif
        (R × up, C × across); with a shared seam ((R − 1) × up + 1, (C − 1) × across + 1).

    Raises
    ------
    UnworkableError
        If the picture as asked cannot be worked; the message names the cure.
    """
    of_kind("motif", motif, Motif)
    one_of("layout", layout, LAYINGS)
    one_of("seam", seam, SEAMS)
    across, up = whole_number("across", across, least=1), whole_number("up", up, least=1)
    rows, columns = motif.shape
    checked_size(rows * up, columns * across)

    def lay(squares: NDArray[Any]) -> NDArray[Any]:
        return laid_squares(squares, across, up, layout, seam)

    result = moved(motif, lay, motif.first, colours)
    others: list[Mapping[str, Any]] = [{"colours": other_way(colours)}]
    if layout == "mirrored" and seam == "double":
        others.append({"seam": "shared"})
    return settled(
        motif,
        result,
        must_work,
        f"Laying {across} × {number_of(up, 'repeat')} {layout}",
        lambda motif, **other: tile(
            motif,
            **{"across": across, "up": up, "layout": layout, "seam": seam, "colours": colours, **other},
            must_work=False,
        ),
        others,
        _why_not(rows, layout, across, up) if colours == "keep" else "",
        taller=True,
    )


def laid_squares(squares: NDArray[Any], across: int, up: int, layout: Laying, seam: Seam) -> NDArray[Any]:
    """Lay any squares as seen, (R, C), as `tile` lays those of a motif, whatever becomes of colours and yarns."""
    if layout == "mirrored":  # the first one is the bottom one, and the left one
        above = _mirrored(squares[::-1], up, seam)[::-1]
        return _mirrored(above.T, across, seam).T
    rows, columns = squares.shape
    laid = np.tile(squares, (up, across))
    # every second one, counted from the bottom up and from the left
    if layout == "brick":
        for j in range(1, up, 2):
            band = laid[rows * (up - j - 1) : rows * (up - j)]
            band[:] = np.roll(band, columns // 2, axis=1)
    elif layout == "half-drop":
        for i in range(1, across, 2):
            column = laid[:, columns * i : columns * (i + 1)]
            column[:] = np.roll(column, rows // 2, axis=0)
    return laid


def _why_not(rows: int, layout: Laying, across: int, up: int) -> str:
    """Say what lands on the other row colours in a tiling, if anything does."""
    if layout == "mirrored":
        return "A mirrored repeat lands on the other row colours. " if up > 1 else ""
    if rows % 2 and up > 1:
        return f"{number_of(rows, 'row')} is an odd number, so every second repeat lands on the other row colours. "
    if layout == "half-drop" and across > 1:
        if rows % 2:
            return say_odd(rows)
        if rows // 2 % 2:
            return f"A drop of {number_of(rows // 2, 'row')} lands on the other row colours. "
    return ""


def _mirrored(squares: NDArray[Any], count: int, seam: Seam) -> NDArray[Any]:
    """Lay `count` copies one behind the other, every second one mirrored."""
    turned, shared = squares[::-1], int(seam == "shared")
    return np.concatenate([(turned if i % 2 else squares)[shared if i else 0 :] for i in range(count)])
