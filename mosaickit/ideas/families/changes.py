"""Changes: what can be done to a motif, kind by kind; what comes out need not be workable."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import OptionError, number_of, shortly
from mosaickit.motif import (
    Motif,
    counterchange,
    crop,
    frame,
    half_turn,
    mirror,
    pad,
    shift,
    tile,
    up_down,
)

ChangeKind = Literal["flips", "counterchange", "shifts", "layouts", "glides", "thinner", "thicker", "edges", "frames"]
CHANGE_KINDS: tuple[ChangeKind, ...] = get_args(ChangeKind)

Drafts = Iterator[tuple[str, Motif]]
"""Pictures that need not be workable, each with what was done."""


MOST_DRAFTS = 100_000
"""No family is made of more pictures than this: they have to be mended and measured, and someone has to look."""


def drafts_of(motif: Motif, kinds: list[ChangeKind], steps: int) -> tuple[list[str], list[Motif]]:
    """Give the original and what comes of so many changes, with names; raise `OptionError` if that is too many."""
    _check_steps({kind: len(list(_CHANGES[kind](motif))) for kind in kinds}, steps)
    named: list[tuple[str, Motif]] = [("as it is", motif)]
    before: list[tuple[tuple[str, ...], ChangeKind | None, Motif]] = [((), None, motif)]
    for _ in range(steps):
        after: list[tuple[tuple[str, ...], ChangeKind | None, Motif]] = [
            ((*done, what), kind, result)
            for done, last, start in before
            for kind in kinds
            if kind != last
            for what, result in _CHANGES[kind](start)
        ]
        named += [(", then ".join(done), result) for done, _, result in after]
        before = after
        if not after:
            break
    return [name for name, _ in named], [result for _, result in named]


def _check_steps(changes: dict[ChangeKind, int], steps: int) -> None:
    """Raise if so many steps make too many pictures, each being changed in as many ways as the first one is."""
    last = dict(changes)
    count = 0
    for step in range(1, steps + 1):
        count += sum(last.values())
        if count > MOST_DRAFTS:
            raise OptionError(
                f"`steps` of {shortly(steps)} would make more than the {MOST_DRAFTS:,} pictures that a family is made "
                f"of: take at most {step - 1}, or fewer kinds."
            )
        if not any(last.values()):
            return
        last = {kind: ways * (sum(last.values()) - last[kind]) for kind, ways in changes.items()}


def _flips(motif: Motif) -> Drafts:
    yield "mirrored", mirror(motif)
    yield "upside down", up_down(motif)
    yield "turned by half", half_turn(motif)


def _counterchange(motif: Motif) -> Drafts:
    yield "counterchanged", counterchange(motif)


def _shifts(motif: Motif) -> Drafts:
    rows, columns = motif.shape
    for right in sorted({columns * n // 4 for n in (1, 2, 3)} - {0}):
        yield f"shifted {number_of(right, 'stitch')} to the right", shift(motif, right=right)
    for up in sorted({rows * n // 4 for n in (1, 2, 3)} - {0}):
        shifted = shift(motif, up=up, colours="swap", must_work=False)
        yield f"shifted {number_of(up, 'row')} up", shifted


def _layouts(motif: Motif) -> Drafts:
    for layout in ("brick", "half-drop"):
        yield (
            f"laid as {layout}",
            tile(motif, across=2, up=2, layout=layout, colours="swap", must_work=False),
        )
    for seam in ("double", "shared"):
        laid = tile(motif, across=2, up=2, layout="mirrored", seam=seam, colours="swap", must_work=False)
        yield f"laid mirrored with a {seam} seam", laid


def _glides(motif: Motif) -> Drafts:
    above = tile(motif, up=2, colours="swap", must_work=False)
    overlaid = np.concatenate([motif.overlaid[:, ::-1], motif.overlaid])
    yield "with the mirrored one above", above.with_overlaid(overlaid)
    beside = tile(motif, across=2, must_work=False)
    overlaid = np.concatenate([motif.overlaid, motif.overlaid[::-1]], axis=1)
    yield "with the one upside down beside", beside.with_overlaid(overlaid)


def _thinner(motif: Motif) -> Drafts:
    for where, neighbours in _NEIGHBOURS:
        yield f"thinner{where}", motif.with_grid(~_grown(~motif.grid, neighbours))


def _thicker(motif: Motif) -> Drafts:
    for where, neighbours in _NEIGHBOURS:
        yield f"thicker{where}", motif.with_grid(_grown(motif.grid, neighbours))


_NEIGHBOURS = (("", (0, 1)), (" along the rows", (1,)), (" up the columns", (0,)))
"""Along which axes lines gain or lose a square."""


def _grown(squares: NDArray[np.bool_], axes: tuple[int, ...]) -> NDArray[np.bool_]:
    """Mark the squares and their neighbours along these axes; nothing comes round the edge."""
    grown = squares.copy()
    for axis in axes:
        along, source = np.moveaxis(grown, axis, 0), np.moveaxis(squares, axis, 0)
        along[1:] |= source[:-1]
        along[:-1] |= source[1:]
    return grown


def _edges(motif: Motif) -> Drafts:
    rows, columns = motif.shape
    if rows > 2 and columns > 2:
        yield (
            "cropped by a square all round",
            crop(motif, rows=(2, rows - 1), stitches=(2, columns - 1), must_work=False),
        )
    overlaid = np.argwhere(orientation.to_working(motif.overlaid)) + 1
    if not len(overlaid):
        return
    (low, near), (high, far) = overlaid.min(axis=0).tolist(), overlaid.max(axis=0).tolist()
    yield (
        "cropped to what is overlaid",
        crop(motif, rows=(max(low - 1, 1), min(high + 1, rows)), stitches=(near, far), must_work=False),
    )
    up, left = (rows + 1 - low - high) // 2, (columns + 1 - near - far) // 2
    if up or left:
        yield "re-centred", shift(motif, up=up, right=-left, colours="swap", must_work=False)


def _frames(motif: Motif) -> Drafts:
    odd = motif.shape[0] % 2 == 1
    closed = motif if odd else pad(motif, top=1)
    for rings in (1, 2, 3):
        name = f"framed in {number_of(rings, 'ring')}{'' if odd else ', a row added on top'}"
        yield name, frame(closed, rings, colours="swap", must_work=False)


_CHANGES: dict[ChangeKind, Callable[[Motif], Drafts]] = {
    "flips": _flips,
    "counterchange": _counterchange,
    "shifts": _shifts,
    "layouts": _layouts,
    "glides": _glides,
    "thinner": _thinner,
    "thicker": _thicker,
    "edges": _edges,
    "frames": _frames,
}
