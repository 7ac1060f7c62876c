"""The outline of the finished piece with its measures: a rectangle, or a tube for what is worked in the round."""

from __future__ import annotations

from html import escape
from math import pi

from mosaickit.orientation import working_edge
from mosaickit.publish.contents import length_words, size_words
from mosaickit.publish.drawing import Drawing
from mosaickit.publish.page import Page

_BOW = 0.12  # of a tube's width: how far its ends are bowed
_DASHES = ("none", "7 3", "2 2.5", "9 3 2 3", "12 4", "4 4")
"""How the outlines of sizes are told apart, in their order, over and over."""
_STRANDS = 5.0  # points from one strand of a fringe to the next
_TICK, _DIGIT = 5.0, 0.56  # half of the mark at the end of a measure in points; of the type, how wide a letter is


def schematic(page: Page, most: tuple[float, float], type_size: float, font: str = "Libertinus Serif") -> Drawing:
    """Draw the outline in true proportion, no larger than `most` (width and height in points), with its measures.

    The outlines of several sizes lie in each other, and a line for each says its measures.
    """
    if len(page.sizes) > 1:
        return _of_sizes(page, most, type_size, font)
    in_the_round = page.chart.in_the_round
    across_cm, high_cm = page.finished_cm
    across, high = length_words(across_cm) + (" around" if in_the_round else ""), length_words(high_cm)
    seen_cm = across_cm / pi if in_the_round else across_cm
    beside, below = _DIGIT * type_size * len(high) + 22, type_size + 22
    bowed_cm = 2 * _BOW * seen_cm if in_the_round else 0.0
    scale = min((most[0] - beside) / (seen_cm + 2 * page.fringe_cm), (most[1] - below) / (high_cm + bowed_cm))
    width, height = max(seen_cm * scale, 8.0), max(high_cm * scale, 8.0)
    bow = _BOW * width if in_the_round else 0.0
    fringe = page.fringe_cm * scale
    left, top = max((_DIGIT * type_size * len(across) - width) / 2, fringe + 1.0), bow + 1
    right, foot = left + width, top + height
    inside = ""
    if in_the_round:
        outline = f"M{left:g} {top:g}V{foot:g}A{width / 2:g} {bow:g} 0 0 0 {right:g} {foot:g}V{top:g}"
        outline += f"M{left:g} {top:g}A{width / 2:g} {bow:g} 0 0 0 {right:g} {top:g}A{width / 2:g} {bow:g} 0 0 0 "
        outline += f"{left:g} {top:g}"
    else:
        outline = f"M{left:g} {top:g}H{right:g}V{foot:g}H{left:g}Z"
        inside = _border(page, (left, top, right, foot), scale) + _fringe(left, right, (top, foot), fringe)
    y, x = foot + bow + 10, right + fringe + 10
    measures = f"M{left:g} {y:g}H{right:g}M{left:g} {y - _TICK:g}v{2 * _TICK:g}M{right:g} {y - _TICK:g}v{2 * _TICK:g}"
    measures += f"M{x:g} {top:g}V{foot:g}M{x - _TICK:g} {top:g}h{2 * _TICK:g}M{x - _TICK:g} {foot:g}h{2 * _TICK:g}"
    named = f' font-family="{escape(font)}"' if font else ""
    body = (
        f'<g fill="none" stroke="currentColor"><path stroke-width="1.5" d="{outline}"/>'
        f'<path stroke-width="0.8" d="{measures}"/>{inside}</g>'
        f'<g fill="currentColor" font-size="{type_size:g}"{named}>'
        f'<text x="{left + width / 2:g}" y="{y + _TICK + type_size:g}" text-anchor="middle">{across}</text>'
        f'<text x="{x + _TICK + 4:g}" y="{(top + foot) / 2 + 0.33 * type_size:g}">{high}</text></g>'
    )
    what = "tube" if in_the_round else "rectangle"
    edges = ", its border outside a dashed line" if any(page.border_cm) else ""
    edges += f", with a fringe of {length_words(page.fringe_cm)} at both sides" if fringe else ""
    size = size_words(page.finished_cm, in_the_round=in_the_round)
    alt = f"The outline of the finished piece, a {what}: {size}{edges}."
    wide = max(x + _TICK + 4 + _DIGIT * type_size * len(high), left + width / 2 + _DIGIT * type_size * len(across) / 2)
    return Drawing(body, wide + 1, y + _TICK + 1.3 * type_size + 1, alt)


def _of_sizes(page: Page, most: tuple[float, float], type_size: float, font: str) -> Drawing:
    """Draw the outlines of all sizes from one corner, where row 1 begins, and a line for each with its measures."""
    around = page.chart.in_the_round
    named = [(size.name, size.page.finished_cm) for size in page.sizes]
    lines = [f"{name}: {size_words(cm, in_the_round=around)}" for name, cm in named]
    step = 1.45 * type_size
    seen = [(wide / pi if around else wide, high) for _, (wide, high) in named]
    widest, highest = (max(cm[way] for cm in seen) for way in (0, 1))
    room = max(most[1] - step * (len(lines) + 0.5), 0.4 * most[1])
    scale = min((most[0] - 2) / widest, (room - 2) / highest)
    at_right = working_edge(page.chart.hand) == "right"
    foot, outlines = 1 + highest * scale, ""
    for place, (wide, high) in enumerate(seen):
        width, height = max(wide * scale, 4.0), max(high * scale, 4.0)
        left = 1 + widest * scale - width if at_right else 1.0
        dashes = _DASHES[place % len(_DASHES)]
        outlines += (
            f'<rect x="{left:g}" y="{foot - height:g}" width="{width:g}" height="{height:g}" '
            f'stroke-dasharray="{dashes}"/>'
        )
    samples, texts = "", ""
    for place, line in enumerate(lines):
        y = foot + step * (place + 1.4)
        samples += f'<path stroke-dasharray="{_DASHES[place % len(_DASHES)]}" d="M1 {y - 0.32 * type_size:g}h26"/>'
        texts += f'<text x="33" y="{y:g}">{escape(line)}</text>'
    named_font = f' font-family="{escape(font)}"' if font else ""
    body = (
        f'<g fill="none" stroke="currentColor" stroke-width="1.4">{outlines}{samples}</g>'
        f'<g fill="currentColor" font-size="{type_size:g}"{named_font}>{texts}</g>'
    )
    what = "tubes" if around else "rectangles"
    alt = f"The outlines of the finished piece in all sizes, {what} in each other. {'. '.join(lines)}."
    wide = max(2 + widest * scale, 35 + _DIGIT * type_size * max(map(len, lines)))
    return Drawing(body, wide, foot + step * (len(lines) + 0.9), alt)


def _border(page: Page, box: tuple[float, float, float, float], scale: float) -> str:
    """Draw where the piece ends and its border begins."""
    left, top, right, foot = box
    beside, above = (added * scale / 2 for added in page.border_cm)
    if not beside and not above:
        return ""
    inner = f"M{left + beside:g} {top + above:g}H{right - beside:g}V{foot - above:g}H{left + beside:g}Z"
    return f'<path stroke-width="0.8" stroke-dasharray="4 3" d="{inner}"/>'


def _fringe(left: float, right: float, sides: tuple[float, float], length: float) -> str:
    """Draw strands at both sides, as long as they hang."""
    if not length:
        return ""
    top, foot = sides
    count = max(round((foot - top) / _STRANDS), 1)
    heights = [top + (number + 0.5) * (foot - top) / count for number in range(count)]
    strands = "".join(f"M{left:g} {y:g}h{-length:g}M{right:g} {y:g}h{length:g}" for y in heights)
    return f'<path stroke-width="0.6" d="{strands}"/>'
