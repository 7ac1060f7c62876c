"""Moves that are always safe: a workable picture stays workable, so none of them has `must_work`."""

from __future__ import annotations

from mosaickit import orientation
from mosaickit.errors import of_kind
from mosaickit.motif.motif import Motif
from mosaickit.motif.transforms.moving import Colours, moved
from mosaickit.orientation import Role


def mirror(motif: Motif) -> Motif:
    """Mirror the picture left to right: always safe, since the rules look along columns only.

    Examples
    --------
    >>> print(mirror(Motif.from_text("##.")).to_text())
    .##
    """
    of_kind("motif", motif, Motif)
    return motif.with_grid(motif.grid[:, ::-1])


def up_down(motif: Motif, *, colours: Colours = "keep") -> Motif:
    """Turn the picture upside down, as in water.

    Parameters
    ----------
    motif : Motif
        (R, C).
    colours : "keep" or "swap"
        With an even number of rows, row 1 ends up in the other colour: keep the squares' colours and let the
        colour of row 1 change, or keep row 1's and counterchange the picture. With an odd number both are the same.

    Returns
    -------
    Motif
        (R, C). A workable picture stays workable.

    Examples
    --------
    >>> upside = up_down(Motif.from_array([[1, 1], [0, 1]]))
    >>> print(upside.to_text(), upside.first)
    .#
    ## CC
    """
    of_kind("motif", motif, Motif)
    return moved(motif, lambda squares: squares[::-1], _colour_of_last_row(motif), colours)


def half_turn(motif: Motif, *, colours: Colours = "keep") -> Motif:
    """Turn the picture by half a turn: upside down and mirrored; `colours` as in `up_down`.

    There is no quarter turn: rows have colours and columns have not, so what was worked along a row would have to be
    worked up a column. Redraw the picture turned, and let `nearest_workable` mend it.

    Examples
    --------
    >>> print(half_turn(Motif.from_text("##.")).to_text())
    .##
    """
    return mirror(up_down(motif, colours=colours))


def counterchange(motif: Motif) -> Motif:
    """Swap the colours of all squares and of all rows: the same squares stay overlaid.

    Examples
    --------
    >>> swapped = counterchange(Motif.from_text("##."))
    >>> print(swapped.to_text(), swapped.first)
    ..# CC
    """
    of_kind("motif", motif, Motif)
    return motif.with_grid(~motif.grid, orientation.other(motif.first))


def _colour_of_last_row(motif: Motif) -> Role:
    return orientation.role_of_row(motif.shape[0], motif.first)
