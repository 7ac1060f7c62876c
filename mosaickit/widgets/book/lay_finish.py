"""The border and the fringe around the picture of a whole piece, as the page draws them."""

from __future__ import annotations

from typing import Any

from mosaickit import orientation
from mosaickit.sizes import Design
from mosaickit.widgets.book.entries import USUAL_GAUGE


def finish_shown(design: Design) -> dict[str, Any] | None:
    """Give what a finish adds around a piece, in heights of a row; None if it adds nothing.

    `beside` and `above` are how far the border reaches, in rounds of `colour`; `hangs` is how long the fringe is, and
    `strands` are its lines by colour, at the left end of the rows, in a box of `hangs` by the rows.
    """
    finish, edging = design.finish, design.edging
    fringe = finish.ends == "fringe"
    if not finish.border_rounds and not fringe:
        return None
    deep = edging.rounds_deep if finish.border_rounds else 0
    along_rows = finish.border_along == "row ends"
    hangs = finish.fringe_cm / (design.gauge or USUAL_GAUGE).row_height_cm if fringe else 0.0
    return {
        "colour": design.layout.last_yarn(finish.finish_colour).colour,
        "beside": 0 if design.surround.in_the_round else deep,
        "above": 0 if along_rows else deep,
        "hangs": round(hangs, 3),
        "strands": _strands(design, hangs) if fringe else [],
    }


def _strands(design: Design, hangs: float) -> list[dict[str, str]]:
    """Give the lines of the tails, and of what is added to them, from the edge to a knot and on, for each colour."""
    rows, finish = design.shape[0], design.finish
    together = finish.tails_a_knot or 1
    lines: dict[str, list[str]] = {}

    def strand(colour: str, start: float, knot: float) -> None:
        across = 0.85 * hangs
        lines.setdefault(colour, []).append(f"M{hangs:.2f} {start:.2f}L{across:.2f} {knot:.2f}L0 {start:.2f}")

    added = design.layout.last_yarn(finish.finish_colour).colour
    for row in range(1, rows + 1):
        knot = (row - 1) // together * together
        middle = rows - (knot + min(knot + together, rows)) / 2
        yarn = design.picture.yarns.at(row, orientation.role_of_row(row, design.layout.first))
        strand(yarn.colour, rows - row + 0.5, middle if finish.tails_a_knot else rows - row + 0.5)
        if row == knot + 1 and finish.tails_a_knot:
            for number in range(2 * finish.added_strands):
                strand(added, middle + (number + 0.5 - finish.added_strands) * 0.4, middle)
    return [{"colour": colour, "d": "".join(paths)} for colour, paths in lines.items()]
