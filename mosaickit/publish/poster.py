"""A poster: the whole chart in large squares over several sheets of paper, to be cut and taped together.

Sheets are named from the upper left: A1, A2 and so on along, B1 below A1. Each shows a strip again that its neighbours
to the right and below show, so that the next sheet is laid over it. The first page says how, and where each sheet lies.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from math import ceil
from pathlib import Path
from typing import Any

from mosaickit.errors import PublishError, number_of
from mosaickit.publish.chart_words import key_words
from mosaickit.publish.charts import Drawings, all_of
from mosaickit.publish.contents import yarn_key
from mosaickit.publish.drawing import Drawing
from mosaickit.publish.metadata import known_of_itself
from mosaickit.publish.numbering import PrintStyle
from mosaickit.publish.sizes_told import of_size
from mosaickit.publish.translating import Translator, translated
from mosaickit.svg import ChartMarks, squares

MM = 72 / 25.4
SQUARE_MM, MARGIN_MM, OVERLAP_MM = 7.0, 12.0, 10.0
LEAST_SQUARE_MM = 6.3
"""Squares are made smaller, down to this, where that saves a whole line of sheets."""
MOST_SHEETS = 200
"""A poster has no more sheets."""

TEMPLATE = Path(__file__).with_name("poster.typ").read_bytes()


@dataclass(frozen=True)
class PosterSheet:
    """One sheet: its name, and where what it shows begins in the drawing of the whole chart, in points."""

    name: str
    x: float
    y: float
    left: bool
    above: bool
    right: bool
    below: bool


def poster_sheets(drawn: tuple[float, float], area: tuple[float, float], overlap: float) -> tuple[PosterSheet, ...]:
    """Lay a drawing of (width, height) out on sheets that each show an area of it, in points.

    Examples
    --------
    >>> [sheet.name for sheet in poster_sheets((250, 90), (100, 100), 10)]
    ['A1', 'A2', 'A3']
    """
    steps = [side - overlap for side in area]
    across, down = (max(1, ceil((side - overlap) / step)) for side, step in zip(drawn, steps, strict=True))
    if across * down > MOST_SHEETS:
        raise PublishError(
            f"This poster would take {across * down:,} sheets of paper, and the most are {MOST_SHEETS}. The regular "
            "form prints the chart in parts."
        )
    return tuple(
        PosterSheet(
            f"{_letters(row)}{column + 1}",
            column * steps[0],
            row * steps[1],
            left=column > 0,
            above=row > 0,
            right=column < across - 1,
            below=row < down - 1,
        )
        for row in range(down)
        for column in range(across)
    )


def _letters(number: int) -> str:
    """Name a line of sheets: A to Z, then AA and so on."""
    first, last = divmod(number, 26)
    return (_letters(first - 1) if first else "") + chr(ord("A") + last)


def poster_files(drawings: Drawings, marks: ChartMarks, size_mm: tuple[float, float]) -> dict[str, bytes]:
    """Give what the template of a poster reads, by name."""
    page = drawings.page
    size = [side * MM for side in size_mm]
    area = (size[0] - 2 * MARGIN_MM * MM, size[1] - 2 * MARGIN_MM * MM)
    look, chart, sheets = _laid_out(drawings, marks, area)
    scale = min(area[0] / chart.width, 0.62 * area[1] / chart.height, 0.5)  # room for the words of the first page
    small = _small(drawings, look, chart, scale)
    key = list(drawings.key(19, marks))
    pictures = {"chart": chart, "overview": small, **{f"key{number}": drawn for number, (_, drawn) in enumerate(key)}}
    told = {
        **known_of_itself(page),
        "size": size,
        "margin": MARGIN_MM * MM,
        "overlap": OVERLAP_MM * MM,
        "area": area,
        "words": (
            *_words(len(sheets), key_words(drawings, marks), of_size(page)),
            *(words for words, _ in yarn_key(page)),
        ),
        "key": [{"name": name, **_told(f"key{number}", drawn)} for number, (name, drawn) in enumerate(key)],
        "chart": _told("chart", chart),
        "overview": _told("overview", small),
        "sheets-small": [
            (
                sheet.name,
                sheet.x * scale,
                sheet.y * scale,
                min(area[0], chart.width - sheet.x) * scale,
                min(area[1], chart.height - sheet.y) * scale,
            )
            for sheet in sheets
        ],
        "sheets": [_sheet(sheet, len(sheets)) for sheet in sheets],
    }
    translator = Translator(page)
    kept = {f"{name}.svg": picture.svg.encode() for name, picture in pictures.items()}
    return {"poster.json": json.dumps(translator.data(told)).encode(), **translated(kept, translator)}


def _laid_out(
    drawings: Drawings, marks: ChartMarks, area: tuple[float, float]
) -> tuple[PrintStyle, Drawing, tuple[PosterSheet, ...]]:
    """Draw the chart for sheets that each show an area of it; a line of sheets for a row or two alone is saved."""
    overlap = OVERLAP_MM * MM

    def drawn(square_mm: float) -> tuple[PrintStyle, Drawing]:
        look = PrintStyle(square_mm * MM, 10, marks=marks, letters=drawings.letters)
        return look, drawings.part(all_of(drawings.in_full), look)

    look, chart = drawn(SQUARE_MM)
    best = look, chart, poster_sheets((chart.width, chart.height), area, overlap)
    for drawn_side, side in zip((chart.width, chart.height), area, strict=True):
        lines = ceil((drawn_side - overlap) / (side - overlap))
        smaller = SQUARE_MM * (overlap + (lines - 1) * (side - overlap)) / drawn_side
        # numbers at the edge keep their size, so a little more is needed than the proportion
        for square_mm in (smaller, 0.99 * smaller, 0.97 * smaller):
            if lines > 1 and square_mm >= LEAST_SQUARE_MM:
                look, other = drawn(square_mm)
                sheets = poster_sheets((other.width, other.height), area, overlap)
                if len(sheets) < len(best[2]):
                    best = look, other, sheets
                    break
    return best


def _small(drawings: Drawings, look: PrintStyle, chart: Drawing, scale: float) -> Drawing:
    """Draw the squares alone where they lie in the drawing of the chart, made smaller by `scale`."""
    left = drawings.left_of_squares(look, drawings.in_full)
    body = (
        f'<g transform="scale({scale:g})"><g transform="translate({left:g} 1) scale({look.square:g})">'
        f"{squares(*drawings.front)}</g></g>"
    )
    return Drawing(body, chart.width * scale, chart.height * scale, "Where each sheet lies in the whole chart.")


def _told(name: str, drawn: Drawing) -> dict[str, Any]:
    return {"file": f"{name}.svg", "width": drawn.width, "height": drawn.height, "alt": drawn.alt}


def _words(count: int, key: str, size: str) -> tuple[str, ...]:
    size = f"{size}," if size else ""
    if count == 1:
        return (f"The whole chart{size} on one sheet.", key)
    return (
        f"The whole chart{size} on {number_of(count, 'sheet')}. Print them at their own size, not fitted to the page. "
        "Cut each sheet along its dashed lines, and tape it over its neighbours' edges, up to the thin line there: "
        "first each line of sheets, A1 to its last, then the lines below each other.",
        key,
    )


def _sheet(sheet: PosterSheet, count: int) -> dict[str, Any]:
    cuts = " and ".join(["the left"] * sheet.left + ["the top"] * sheet.above)
    words = f"Cut along the dashed line at {cuts}." if cuts else ""
    return {
        "name": sheet.name,
        "x": sheet.x,
        "y": sheet.y,
        "left": sheet.left,
        "above": sheet.above,
        "right": sheet.right,
        "below": sheet.below,
        "words": words if count > 1 else "",
        "alt": f"Sheet {sheet.name} of the chart. The written rows of the pattern say the same in words.",
    }
