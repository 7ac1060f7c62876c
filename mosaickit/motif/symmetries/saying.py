"""Moves in sentences, for a lesson: those that differ in their place only become one."""

from __future__ import annotations

from collections.abc import Iterator

from mosaickit.errors import number_of
from mosaickit.motif.symmetries.moves import Move

MOST_PLACES = 6
"""A sentence names at most so many lines or points, and then says how many more there are."""

PLURAL = {"row": "rows", "stitch": "stitches"}


def _line(one: str, at: float, size: int) -> str:
    """Say where a line lies: along the middle of a row or stitch, or between two."""
    low = int(at)
    if low == at:
        return f"{one} {low}"
    if low == size:
        return f"the line between {one} {low} and the next repeat"
    return f"the line between {PLURAL[one]} {low} and {low + 1}"


def _where(move: Move, size: tuple[int, int]) -> str:
    if move.row is not None and move.stitch is not None:
        row, stitch = (f"{int(at)}{'½' if at % 1 else ''}" for at in (move.row, move.stitch))
        return f"row {row}, stitch {stitch}"
    if move.row is not None:
        return _line("row", move.row, size[0])
    return _line("stitch", move.stitch, size[1]) if move.stitch is not None else ""


def _what(move: Move) -> str:
    """Say what a move does, with a gap for where."""
    ways = [f"{number_of(move.up, 'row')} up"] * (move.up > 0) + [f"{number_of(move.along, 'stitch')} on"] * (
        move.along > 0
    )
    shifted = f"shifted {' and '.join(ways)}"
    return {
        "shift": shifted,
        "mirror": "mirrored left to right about {}",
        "glide": f"mirrored left to right about {{}} and then {shifted}",
        "up-down": "turned upside down about {}",
        "up-down glide": f"turned upside down about {{}} and then {shifted}",
        "half-turn": "after half a turn about {}, where ½ lies between two",
    }[move.kind]


def _listed(places: list[str]) -> str:
    shown, more = places[:MOST_PLACES], len(places) - MOST_PLACES
    return " or ".join([*shown, f"{more} more places"] if more > 0 else shown)


def say_moves(moves: tuple[Move, ...], size: tuple[int, int]) -> Iterator[str]:
    """Say moves of one colour effect; those that differ in their place only become one sentence."""
    places: dict[str, list[str]] = {}
    for move in moves:
        # how large the straight repeat is has been said
        if move.swaps or move.kind != "shift" or (move.up and move.along):
            places.setdefault(_what(move), []).append(_where(move, size))
    start = "It swaps its colours" if any(move.swaps for move in moves) else "It reads the same"
    yield from (f"{start} {what.format(_listed(where))}." for what, where in places.items())


def say_stitches(moves: tuple[Move, ...]) -> Iterator[str]:
    """Say which symmetries are the picture's only."""
    only = "overlaid squares end up on plain ones: that is a symmetry of the picture only."
    upright = {(move.swaps, move.stitches_too) for move in moves if not move.upside_down}
    if any(move.upside_down for move in moves):
        yield "What turns it upside down is a symmetry of the picture only, not of its stitches: a dc never drops up."
    if (True, False) in upright:
        yield f"Where colours swap though an even number of rows is moved, or none, {only}"
    if (False, False) in upright:
        yield f"Where colours keep though an odd number of rows is moved, {only}"
    if (True, True) in upright:
        yield "Where an odd number of rows swaps the colours, stitches follow: row colours alternate."
