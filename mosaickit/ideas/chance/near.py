"""Chance near a motif: motifs that can be worked and differ from one in hand by a few squares.

Drawing uniformly from all motifs gives noise; a designer wants this leaf with another vein. Squares are turned over by
chance, with their images under the symmetries that are kept, and what cannot be worked then is mended.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import MotifError, number_of, of_kind, whole_number
from mosaickit.ideas.chance.requests import check_rng
from mosaickit.motif import FLIPPED_AXES, Motif, SymmetryName, nearest_workable, with_the_third

MOST_TRIES = 60
"""The number of tries for one motif."""


def motifs_near(
    motif: Motif,
    count: int = 1,
    *,
    squares: int = 6,
    symmetry: SymmetryName | Iterable[SymmetryName] = (),
    rng: np.random.Generator,
) -> list[Motif]:
    r"""Draw motifs that can be worked and differ from one in hand by a few squares.

    Parameters
    ----------
    motif : Motif
        What they are near to; if it cannot be worked, to its nearest workable one.
    count : int
        How many to draw, all different.
    squares : int
        The most squares that may differ, 1 or more.
    symmetry : str or several
        What each of them has, in its overlaid squares: "mirror", "up-down", "half-turn"; see `nearest_workable`.
    rng : numpy.random.Generator
        What chance comes from.

    Returns
    -------
    list of Motif
        Of the size, colours and name of `motif`; fewer than `count` if chance met no more.

    Raises
    ------
    MotifError
        If no other motif so near was met.
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> leaf = Motif.from_text("....\n####\n.##.\n####\n....")
    >>> (drawn,) = motifs_near(leaf, squares=4, rng=np.random.default_rng(1))
    >>> 1 <= int(np.count_nonzero(drawn.grid != leaf.grid)) <= 4
    True
    """
    of_kind("motif", motif, Motif)
    count, squares = whole_number("count", count, least=1), whole_number("squares", squares, least=1)
    check_rng(rng)
    start = nearest_workable(motif, symmetry=symmetry).motif
    orbits = _images(start.shape, symmetry)
    found: dict[bytes, Motif] = {}
    for _ in range(count * MOST_TRIES):
        if len(found) == count:
            break
        tried = _turned_over(start, orbits, int(rng.integers(1, squares + 1)), rng)
        near = nearest_workable(tried, symmetry=symmetry).motif
        if 0 < np.count_nonzero(near.grid != start.grid) <= squares:
            found.setdefault(near.grid.tobytes(), near)
    if not found:
        raise MotifError(
            f"No motif that can be worked was met within {number_of(squares, 'square')} of this one: allow more squares"
            f"{', or fewer symmetries' if symmetry else ''}."
        )
    return list(found.values())


def _turned_over(motif: Motif, orbits: NDArray[np.intp], squares: int, rng: np.random.Generator) -> Motif:
    """Turn squares over by chance, each with its images, `squares` in all at most; one with its images in any case."""
    grid = motif.grid.copy()
    turned = 0
    for place in rng.permutation(len(orbits)):
        own = np.unique(orbits[place])
        if turned and turned + len(own) > squares:
            break
        grid.ravel()[own] ^= True
        turned += len(own)
        if turned >= squares:
            break
    return motif.with_grid(grid)


def _images(shape: tuple[int, int], symmetry: SymmetryName | Iterable[SymmetryName]) -> NDArray[np.intp]:
    """Give, for each square of a picture, its own number and those of its images, (squares, n), row by row as seen."""
    numbers = np.arange(shape[0] * shape[1], dtype=np.intp).reshape(shape)
    flips = [FLIPPED_AXES[name] for name in with_the_third(symmetry)]
    return np.stack([numbers.ravel(), *(np.flip(numbers, axes).ravel() for axes in flips)], axis=1)
