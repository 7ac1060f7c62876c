"""Breeding: a child of two motifs, which takes each column from one or the other."""

from __future__ import annotations

import numpy as np

from mosaickit.errors import OptionError
from mosaickit.ideas.chance.requests import check_rng
from mosaickit.motif import Motif


def child_of(one: Motif, other: Motif, *, rng: np.random.Generator) -> Motif:
    """Make a child of two motifs: each column comes from one or the other, by chance.

    The rules look along columns only, so the child of two workable motifs of one height is workable.

    Parameters
    ----------
    one, other : Motif
        Of one size and one colour of row 1.
    rng : numpy.random.Generator
        What chance comes from.

    Returns
    -------
    Motif
        With yarns and name of `one`.

    Raises
    ------
    OptionError
        If the two differ in size or in the colour of row 1.
    """
    check_rng(rng)
    if one.shape != other.shape or one.first != other.first:
        raise OptionError(
            "The two that are pinned must have one size and one colour of row 1; they are "
            f"{one.shape[0]} × {one.shape[1]} from {one.first} and {other.shape[0]} × {other.shape[1]} from "
            f"{other.first}."
        )
    from_other = rng.random(one.shape[1]) < 0.5
    return one.with_grid(np.where(from_other, other.grid, one.grid))
