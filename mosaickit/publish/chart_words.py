"""What is said beside a chart: how it is read, and what its marks mean."""

from __future__ import annotations

from math import ceil

from mosaickit.fabric import Stitch
from mosaickit.orientation import working_edge
from mosaickit.publish.charts import Drawings
from mosaickit.publish.contents import row_word
from mosaickit.svg import ChartMarks
from mosaickit.wording import STITCH_NAMES

_LETTER = 0.45
"""How wide a letter of a sentence is, of the size of type."""


def text_height(text: str, size: float, width: float) -> float:
    """Estimate how high a paragraph is, in points, in type of a size and lines of a width."""
    return 1.4 * size * ceil(_LETTER * size * len(text) / width)


def key_height(
    drawings: Drawings, marks: ChartMarks, sizes: tuple[float, float], width: float, *, filled: bool
) -> float:
    """Estimate how high the key is, in points, in type of two sizes; without the lines about yarns."""
    body, small = sizes
    along = sum((3.3 + 0.5 * len(name)) * body for name, _ in drawings.key(body, marks, filled=filled))
    words = text_height(key_words(drawings, marks, filled=filled), small, width)
    return (2.1 * ceil(along / width) + 1.2) * body + words


def key_words(drawings: Drawings, marks: ChartMarks, *, filled: bool = True) -> str:
    """Say how the chart is read, beside the key."""
    page = drawings.page
    what, edge = row_word(page), working_edge(page.chart.hand)
    said = [
        f"{what.capitalize()} 1 is at the bottom, stitch 1 at the {edge}; the bar at that edge shows the colour of "
        f"each {what}.",
        _of_squares(drawings, marks, what),
    ]
    if not filled:
        said.append("Thin lines in a square tell its yarn, as they do in the bar.")
        if drawings.patterns_shared:
            said.append(f"There are more yarns than patterns: where two share one, the written {what}s say which.")
    elif drawings.marked:
        said.append("A mark in the upper left corner of a square means CC.")
    if page.lettered:
        said.append(f"A letter beside the number of a {what} names the yarn that begins there.")
    return " ".join(said)


def _of_squares(drawings: Drawings, marks: ChartMarks, what: str) -> str:
    if marks.kind != "plain":
        return f"A square shows what the front shows, a {marks.kind[:-1]} the stitch that is made there."
    chart, names = drawings.chart, STITCH_NAMES[drawings.terms]
    fldc, back, front = names[Stitch.FLDC], names[Stitch.TOG_BACK], names[Stitch.TOG_FRONT]
    said = (
        f"A square shows what the front shows. Where it is not in the colour of its {what}, the {what} above has "
        f"{fldc} at this stitch"
    )
    if chart.reversible:
        said += f", and the {what} above that {back}; in the last {what} {front} stands for {fldc}"
    return f"{said}. All other stitches are {names[Stitch.BLSC]}, in {what} 1 {names[Stitch.SC]}."
