"""Mending what changes made, many pictures at once, and telling which of them are the same."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit.motif import LARGEST_SIDE, Motif, nearest_workable

Alike = Literal["repeat", "picture"]
ALIKE: tuple[Alike, ...] = ("repeat", "picture")

MENDED_AT_ONCE = 1_000_000
"""Pictures are laid side by side up to so many squares, so that memory stays small."""


def mended_of(drafts: list[Motif]) -> list[tuple[Motif, int]]:
    """Give the nearest workable picture to each, and how many squares it changed."""
    mended: list[tuple[Motif, int]] = [(motif, 0) for motif in drafts]
    for places in _side_by_side(drafts):
        first = drafts[places[0]].first
        row = Motif(np.concatenate([drafts[i].grid for i in places], axis=1), first)
        repair = nearest_workable(row)
        ends = np.cumsum([drafts[i].shape[1] for i in places])[:-1]
        pictures = zip(np.split(repair.motif.grid, ends, axis=1), np.split(repair.changed, ends, axis=1), strict=True)
        for i, (grid, changed) in zip(places, pictures, strict=True):
            count = int(np.count_nonzero(changed))
            if count:
                mended[i] = (drafts[i].with_grid(grid), count)
    return mended


def _side_by_side(drafts: list[Motif]) -> Iterator[list[int]]:
    """Give the places of pictures of one height whose row 1 has one colour, as many as make one picture."""
    alike: dict[tuple[int, str], list[int]] = {}
    for i, motif in enumerate(drafts):
        alike.setdefault((motif.shape[0], motif.first), []).append(i)
    for places in alike.values():
        some: list[int] = []
        width = 0
        for i in places:
            width += drafts[i].shape[1]
            if some and (width > LARGEST_SIDE or width * drafts[i].shape[0] > MENDED_AT_ONCE):
                yield some
                some, width = [], drafts[i].shape[1]
            some.append(i)
        yield some


def first_of_each(keys: list[bytes]) -> list[int]:
    """Give the place at which each key comes first."""
    first: dict[bytes, int] = {}
    for i, key in enumerate(keys):
        first.setdefault(key, i)
    return list(first.values())


def canonical(motifs: list[Motif], alike: Alike) -> list[bytes]:
    """Give each motif a key that is equal for those that are alike."""
    return [
        f"{motif.shape} {motif.first} ".encode()
        + (motif.grid.tobytes() if alike == "picture" else _least_turn(motif.grid))
        for motif in motifs
    ]


def _least_turn(grid: NDArray[np.bool_]) -> bytes:
    """Give the columns as bytes, read from the place and in the direction from which they come first in order."""
    columns = [column.tobytes() for column in np.packbits(grid, axis=0).T]
    return min(b"".join(turn) for line in (columns, columns[::-1]) for turn in _turns(line))


def _turns(line: list[bytes]) -> Iterator[list[bytes]]:
    """Turn a line that comes round to start at each of its least elements: no other start could come first."""
    least = min(line)
    return (line[i:] + line[:i] for i, column in enumerate(line) if column == least)
