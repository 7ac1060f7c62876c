"""Moves: a finish stitch by stitch, as a hook works it; `mosaickit.fabric.work_edges` does so and proves the sums.

The front layer is worked with the right side facing, the back layer with the wrong side facing. A round goes along the
top, down the ends of the rows, along the foundation, and up the other ends.
"""

from __future__ import annotations

from collections.abc import Iterator

from mosaickit.errors import of_kind
from mosaickit.fabric import EdgeMove, EdgePlace, EdgeSide, Layer, edge_tails
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.finishes.edging import IN_A_CRAB_CORNER, Edging

_Round = list[tuple[EdgePlace | None, bool]]
"""What each element of a round goes into, None for chains, and whether it is the corner."""


def edge_moves(design: Design) -> tuple[EdgeMove, ...]:
    """List all that is done at the edges of a design when its last row is worked.

    Parameters
    ----------
    design : Design
        Which; it can be worked.

    Returns
    -------
    tuple of EdgeMove
        As `mosaickit.fabric.work_edges` takes them.
    """
    of_kind("design", design, Design)
    edging, tails = design.edging, edge_tails(design.chart, design.yarn_settings.between_rows)
    ends = design.finish.ends
    moves: list[EdgeMove] = []
    if ends == "fringe":
        together = design.finish.tails_a_knot or 1
        for where in ("first ends", "last ends"):
            hanging = [tail for tail in tails if tail.where == where]
            moves += [EdgeMove("knot", tuple(hanging[at : at + together])) for at in range(0, len(hanging), together)]
    elif ends != "enclosed":
        moves += [EdgeMove("weave in", (tail,)) for tail in tails]
    if edging.in_the_round:
        moves += _at_both_edges(edging)
    elif design.finish.border_along == "row ends":
        moves += _along_row_ends(edging)
    elif edging.rounds:
        moves += _around(edging, tails)
    own = sum(move.do in ("join yarn", "fasten off") for move in moves)
    return (*moves, *[EdgeMove("weave in")] * own)


def row_ends(edging: Edging) -> list[int]:
    """Give the row that each stitch along a side goes into, from the first row, spread evenly.

    Examples
    --------
    >>> from mosaickit.sizes.finishes.finish import Finish
    >>> row_ends(Edging(Finish(border_rounds=1, border_ratio=(3, 4)), 8, 5))
    [1, 3, 4, 5, 7, 8]
    """
    side = edging.side
    return [(2 * number + 1) * edging.rows // (2 * side) + 1 for number in range(side)]


def _along_row_ends(edging: Edging) -> Iterator[EdgeMove]:
    sides: tuple[EdgeSide, ...] = ("first ends", "last ends")
    for where in sides:
        yield EdgeMove("join yarn")
        for row in row_ends(edging):
            yield EdgeMove("sc", (EdgePlace(where, row),))
        for count in edging.rounds[1:]:
            yield EdgeMove("turn")
            for number in range(1, count + 1):
                yield EdgeMove("sc", (EdgePlace("border", number),))
        yield EdgeMove("close round")
        if edging.crab:
            yield from _crab([(None, False)] * edging.side)
        yield EdgeMove("fasten off")


def _at_both_edges(edging: Edging) -> Iterator[EdgeMove]:
    """Work the rounds at the top of a piece in the round, then those at its foundation."""
    edges: tuple[EdgeSide, ...] = ("top", "foundation") if edging.rounds else ()
    for where in edges:
        yield EdgeMove("join yarn")
        for number, count in enumerate(edging.rounds):
            for stitch in range(1, count + 1):
                yield EdgeMove("sc", (EdgePlace("border" if number else where, stitch),))
            yield EdgeMove("close round")
        if edging.crab:
            yield from _crab([(None, False)] * edging.stitches)
        yield EdgeMove("fasten off")


def _crab(below: _Round) -> Iterator[EdgeMove]:
    """Work backwards over a round: one in each stitch, three in a corner."""
    for number in range(len(below), 0, -1):
        for _ in range(IN_A_CRAB_CORNER if below[number - 1][1] else 1):
            yield EdgeMove("crab", (EdgePlace("border", number),))
    yield EdgeMove("close round")


def _around(edging: Edging, tails: tuple[EdgePlace, ...]) -> Iterator[EdgeMove]:
    two = edging.finish.layers == 2
    last: dict[Layer, _Round] = {}
    layers: tuple[Layer, ...] = ("back", "front") if two else ("front",)
    for layer in layers:
        yield EdgeMove("join yarn", layer=layer)
        for number in range(len(edging.rounds)):
            last[layer] = _next(last[layer], edging) if number else _first(edging, layer)
            yield from _worked(last[layer], layer)
        if layer == "back":
            yield EdgeMove("fasten off", layer=layer)
    if two:
        yield from (EdgeMove("tuck in", (tail,)) for tail in tails)
        yield from _closing(last["front"], last["back"], edging)
    if edging.crab:
        yield from _crab(_next(last["front"], edging) if two else last["front"])
    yield EdgeMove("fasten off")


def _worked(elements: _Round, layer: Layer) -> Iterator[EdgeMove]:
    for place, _ in elements:
        yield EdgeMove("ch", layer=layer) if place is None else EdgeMove("sc", (place,), layer)
    yield EdgeMove("close round", layer=layer)


def _first(edging: Edging, layer: Layer) -> _Round:
    """List the first round: a stitch in each stitch, those of the ratio along the row ends, and the corners."""
    along = range(1, edging.stitches + 1)
    rows = row_ends(edging)
    sides: list[list[EdgePlace]] = [
        [EdgePlace("top", stitch) for stitch in along],
        [EdgePlace("last ends", row) for row in reversed(rows)],
        [EdgePlace("foundation", stitch) for stitch in reversed(along)],
        [EdgePlace("first ends", row) for row in rows],
    ]
    if layer == "back":  # seen from behind, the same places come in the other direction
        sides = [places[::-1] for places in (sides[0], *sides[:0:-1])]
    found: _Round = []
    for places in sides:
        found += [(place, False) for place in places]
        # one stitch more in the corner, or the space of its chains
        found.append((None if edging.finish.corner_chains else places[-1], True))
    return found


def _next(below: _Round, edging: Edging) -> _Round:
    """List the round above another: a stitch in each, and in a corner three or five, or a space between two."""
    beside = edging.finish.corner_sc // 2
    found: _Round = []
    for number, (_, corner) in enumerate(below, 1):
        place = EdgePlace("border", number)
        if not corner:
            found.append((place, False))
        else:
            corner_in = (None if edging.finish.corner_chains else place, True)
            found += [*[(place, False)] * beside, corner_in, *[(place, False)] * beside]
    return found


def _closing(front: _Round, back: _Round, edging: Edging) -> Iterator[EdgeMove]:
    """Close two layers: each stitch goes through a stitch of both, corner over corner."""
    # behind, the corners come in the other direction; the last corner of the front lies on the first of the back
    corner_in_front = [number for number, (_, corner) in enumerate(front) if corner][-1]
    corner_behind = next(number for number, (_, corner) in enumerate(back) if corner)
    for number, (_, corner) in enumerate(front):
        behind = (corner_behind + corner_in_front - number) % len(back)
        places = EdgePlace("border", number + 1), EdgePlace("border", behind + 1)
        yield EdgeMove("sc", places)
        if corner and edging.finish.corner_chains:
            yield EdgeMove("ch")
            yield EdgeMove("sc", places)
        elif corner:
            yield from [EdgeMove("sc", places)] * (edging.finish.corner_sc - 1)
    yield EdgeMove("close round")
