"""Room for answers on paper: empty squares for a motif, lines for everything else."""

from __future__ import annotations

from base64 import b64encode

from mosaickit.lessons.answers import READERS
from mosaickit.lessons.exercises import Exercise

_SIDE, _MOST_DRAWN = 20, 80
"""Rows and stitches of a motif whose size nothing says, and the most that are drawn."""


def room_for(exercise: Exercise | None) -> str:
    """Give room for an answer on paper: squares, of the size that is asked for if one is, or else lines."""
    if exercise is not None and exercise.read is READERS["a motif"]:
        rows, stitches = _size_asked_for(exercise)
        if max(rows, stitches) <= _MOST_DRAWN:
            drawn = b64encode(_squares(rows, stitches).encode("ascii")).decode("ascii")
            alt = f"{rows} rows of {stitches} empty squares to fill in"
            picture = f'<img alt="{alt}" src="data:image/svg+xml;base64,{drawn}">'
            return f'<div class="mk-answer"><p>Your answer:</p>{picture}</div>'
    return f'<div class="mk-answer"><p>Your answer:</p>{"<p></p>" * 3}</div>'


def _size_asked_for(exercise: Exercise) -> tuple[int, int]:
    for kept in (part.kept for part in exercise.parts if part.kept is not None):
        if kept["part"] == "few changes":
            rows, stitches = kept["before"].shape
            return rows, stitches
        if kept["part"] == "size" and kept["rows"] and kept["stitches"]:
            return kept["rows"], kept["stitches"]
    return _SIDE, _SIDE


def _squares(rows: int, stitches: int) -> str:
    """Draw empty squares, with the numbers of rows at the right and of stitches below, as a right-hander counts."""
    side = min(30, 640 // stitches)
    wide, high = side * stitches, side * rows
    lines = "".join(f"M0 {side * row}h{wide}" for row in range(rows + 1))
    lines += "".join(f"M{side * stitch} 0v{high}" for stitch in range(stitches + 1))
    every = 1 if side >= 16 else 5
    words = "".join(
        f'<text x="{wide + 5}" y="{high - side * (row - 0.5) + 4}">{row}</text>'
        for row in range(1, rows + 1)
        if row % every == 0 or row == 1
    )
    words += "".join(
        f'<text x="{wide - side * (stitch - 0.5)}" y="{high + 14}" text-anchor="middle">{stitch}</text>'
        for stitch in range(1, stitches + 1)
        if stitch % every == 0 or stitch == 1
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide + 28}" height="{high + 20}" '
        f'viewBox="-1 -1 {wide + 29} {high + 21}" font-family="sans-serif" font-size="11" fill="#333">'
        f'<path d="{lines}" stroke="#767676" fill="none"/>{words}</svg>'
    )
