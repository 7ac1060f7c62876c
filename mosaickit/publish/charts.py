"""The pictures of a page as SVG text: the chart whole or in parts, the map that finds a part, both faces, the key.

Squares show what the front shows and a symbol stands where its stitch is made. Runs of squares are one path a colour
and every kind of symbol is one path. Without fills, as for little ink, regions of CC are outlined and each CC square
has a mark in its corner; the same mark is set where two yarns are hard to tell apart. Rows and stitches are named as a
maker counts and come from `orientation`; one unit of a picture is one point.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from html import escape

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation, svg
from mosaickit.fabric import Stitch
from mosaickit.motif import Motif
from mosaickit.publish.contents import row_word, several
from mosaickit.publish.page import Page
from mosaickit.publish.parts import OVERLAP, ChartPart
from mosaickit.publish.strokes import GRID, borders, corners_path, dots_path, grid, lines_after
from mosaickit.svg import SQUARE, SYMBOLS, number_step, numbers_shown
from mosaickit.wording import STITCH_NAMES, Terms

_BAR_AT, _BAR_WIDE = 0.3, 0.8  # squares from the working edge: where the bar of row colours starts, and its width
_DIGIT = 0.56  # of the size of type: how wide a digit is at most
_OUTLINE = "#333333"


@dataclass(frozen=True)
class Drawing:
    """What an SVG picture holds, its size in points, and what it shows in words."""

    body: str
    width: float
    height: float
    alt: str

    @property
    def svg(self) -> str:
        """The picture as a file of its own."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{self.width:g}" height="{self.height:g}" '
            f'viewBox="0 0 {self.width:g} {self.height:g}">{self.body}</svg>'
        )


@dataclass(frozen=True)
class PrintStyle:
    """How a chart is drawn: square side and type in points, whether squares are filled, and the numbers' font.

    `letters` is how many letters stand at most beside the number of a row in which a yarn begins.
    """

    square: float
    type_size: float
    filled: bool = True
    font: str = "Libertinus Serif"
    letters: int = 0

    def around(self, rows: int, stitches: int) -> tuple[float, float]:
        """Give what bar and numbers need beside and below so many rows and stitches: width and height, in points."""
        wide = len(str(rows)) + (1 + 1.5 * self.letters if self.letters else 0)
        beside = (_BAR_AT + _BAR_WIDE + 0.3) * self.square + _DIGIT * self.type_size * wide
        # half a number stands out at the far edge
        return beside + _DIGIT * self.type_size * len(str(stitches)) / 2 + 2, 1.3 * self.type_size + 4


class Drawings:
    """All pictures of one page; what they share is worked out once."""

    def __init__(self, page: Page, terms: Terms) -> None:
        self.page, self.chart, self.terms = page, page.chart, terms
        self.stitches = orientation.to_seen(self.chart.stitches, self.chart.hand)
        self.marked = not all(meeting.clear for meeting in page.meetings)
        self.begun = {start.row: start.letter for start in page.starts} if page.lettered else {}
        self.letters = max(map(len, self.begun.values()), default=0)

    @cached_property
    def front(self) -> tuple[NDArray[np.intp], list[str]]:
        """Which colour each square of the front has, as seen, and the colours."""
        return _colours(self.page.front)

    @cached_property
    def whole(self) -> ChartPart:
        """The whole chart as a part."""
        rows, stitches = self.chart.shape
        return ChartPart((1, rows), (1, stitches), 1, 1)

    # ---- the chart ---------------------------------------------------------------------------------------

    def part(self, part: ChartPart, look: PrintStyle) -> Drawing:
        """Draw a part of the chart with its numbers."""
        hand, square = self.chart.hand, look.square
        window = part.window(self.chart.shape, hand)
        rows, stitches = part.shape
        numbers = (
            orientation.row_numbers(self.chart.shape[0])[window[0]],
            orientation.stitch_numbers(self.chart.shape[1], hand)[window[1]],
        )
        beside, below = look.around(*self.chart.shape)
        at_right = orientation.working_edge(hand) == "right"
        margin = _DIGIT * look.type_size * len(str(self.chart.shape[1])) / 2
        left = margin if at_right else beside - margin
        body = (
            f'<g transform="translate({left:g} 1) scale({square:g})">{self._squares(window, look, grid(*numbers))}'
            f"{self._symbols(window, look)}{self._joins(part, numbers)}"
            f"{self._bar(numbers[0], stitches, at_right, look)}</g>"
            f"{_numbers(numbers, look, left, at_right, self.begun)}"
        )
        width, height = stitches * square + beside, rows * square + below + 1
        about = self._about_part(part, window)
        return Drawing(body, width, height, about)

    def _squares(self, window: tuple[slice, slice], look: PrintStyle, lines: str) -> str:
        """Draw squares and grid lines: borders of unfilled regions over the lines, colours below them."""
        cc = self.page.front.grid[window]
        index, colours = self.front
        drawn = svg.squares(index[window], colours) + lines if look.filled else lines + borders(cc)
        return drawn + (self._corners(cc, index[window], look) if self.marked or not look.filled else "")

    def _corners(self, cc: NDArray[np.bool_], index: NDArray[np.intp], look: PrintStyle) -> str:
        """Mark the corner of each CC square in black or white."""
        if not look.filled:
            return f'<path fill="#000000" d="{corners_path(cc, 0.12)}"/>'
        inks = np.array([svg.ink_on(colour) for colour in self.front[1]])[index]
        return "".join(
            f'<path fill="{ink}" d="{corners_path(cc & (inks == ink))}"/>'
            for ink in ("#000000", "#ffffff")
            if np.any(cc & (inks == ink))
        )

    def _symbols(self, window: tuple[slice, slice], look: PrintStyle) -> str:
        stitches = self.stitches[window]
        if look.filled:
            return svg.symbols_over(stitches, self.front[0][window], self.front[1])
        return svg.symbols_over(stitches, np.zeros(stitches.shape, dtype=np.intp), ["#ffffff"])

    def _joins(self, part: ChartPart, numbers: tuple[NDArray[np.int64], NDArray[np.int64]]) -> str:
        """Draw where the rows and stitches end that a neighbouring part shows again."""
        rows, stitches = part.shape
        whole = self.whole
        downs = [line for n in _joins(part.rows, whole.rows) for line in lines_after(numbers[0], n)]
        acrosses = [line for n in _joins(part.stitches, whole.stitches) for line in lines_after(numbers[1], n)]
        path = "".join(f"M0 {row}H{stitches}" for row in downs) + "".join(f"M{x} 0V{rows}" for x in acrosses)
        if not path:
            return ""
        return (
            f'<g fill="none"><path stroke="#ffffff" stroke-width="0.3" d="{path}"/>'
            f'<path stroke="#000000" stroke-width="0.14" stroke-dasharray="0.5 0.3" d="{path}"/></g>'
        )

    def _bar(self, row_numbers: NDArray[np.int64], stitches: int, at_right: bool, look: PrintStyle) -> str:
        """Draw the yarn of each row along the working edge."""
        x = stitches + _BAR_AT if at_right else -_BAR_AT - _BAR_WIDE
        drawn = ""
        for y, row in enumerate(row_numbers.tolist()):
            role = self.chart.row_colours[row - 1]
            fill = self.chart.yarns.at(row, role).colour if look.filled else "none"
            drawn += (
                f'<rect x="{x:g}" y="{y + 0.12:g}" width="{_BAR_WIDE}" height="0.76" fill="{fill}" '
                f'stroke="{_OUTLINE}" stroke-width="0.05"/>'
            )
            if role == "CC" and (self.marked or not look.filled):
                ink = svg.ink_on(fill) if look.filled else "#000000"
                drawn += f'<path fill="{ink}" d="M{x:g} {y + 0.12:g}h.34l-.34 .34z"/>'
            if row > 2 and row in self.begun:  # row 1 and 2 begin their yarns anyway
                from_x = stitches if at_right else -_BAR_AT - _BAR_WIDE - 0.2
                wide = _BAR_AT + _BAR_WIDE + 0.2
                drawn += f'<path stroke="currentColor" stroke-width="0.16" d="M{from_x:g} {y + 1:g}h{wide:g}"/>'
        return drawn

    def _about_part(self, part: ChartPart, window: tuple[slice, slice]) -> str:
        rows, stitches = part.shape
        names, what = STITCH_NAMES[self.terms], row_word(self.page)
        kinds = np.bincount(self.stitches[window].ravel(), minlength=len(Stitch)).tolist()
        marks = ", ".join(f"{kinds[kind]} {names[kind]}" for kind in Stitch if SYMBOLS[kind].lines and kinds[kind])
        share = float(self.page.front.grid[window].mean())
        where = f", {part.words(row_word(self.page))}" if part.of > 1 else ""
        edge = orientation.working_edge(self.chart.hand)
        begun = [f"{letter} in {row}" for row, letter in self.begun.items() if part.rows[0] <= row <= part.rows[1]]
        yarns = f" Yarns begin in these {what}s: {', '.join(begun)}." if begun else ""
        return (
            f"The stitches as symbols over the picture: {self._size(rows, stitches)}{where}, {share:.0%} of the "
            f"squares in CC; {marks or 'plain stitches only'}. {what.capitalize()} 1 is at the bottom, stitch 1 at the "
            f"{edge}.{yarns} The written {what}s say the same in words."
        )

    # ---- beside the chart --------------------------------------------------------------------------------

    def finder(self, part: ChartPart, most: tuple[float, float]) -> tuple[Drawing, tuple[float, float, float, float]]:
        """Draw the whole in small, within so many points, and tell where the part lies: x, y, width, height.

        The picture's words are the part's; what it draws is the same for all parts.
        """
        rows, stitches = self.chart.shape
        scale = min(most[0] / stitches, most[1] / rows)
        here, across = part.window(self.chart.shape, self.chart.hand)
        body = (
            f'<g transform="scale({scale:g})"><rect width="{stitches}" height="{rows}" fill="#ffffff"/>'
            f'<path fill="#b8b8b8" d="{self._cc_path}"/>'
            f'<rect width="{stitches}" height="{rows}" fill="none" stroke="{GRID}" stroke-width="{0.5 / scale:g}"/></g>'
        )
        alt = f"Where part {part.number} of {part.of} lies in the whole of {self._size(rows, stitches)}."
        height, width = part.shape
        frame = (across.start * scale, here.start * scale, width * scale, height * scale)
        return Drawing(body, stitches * scale, rows * scale, alt), frame

    @cached_property
    def _cc_path(self) -> str:
        return svg.runs_path(self.page.front.grid)

    def face(self, side: str, most: tuple[float, float], *, filled: bool = True) -> Drawing:
        """Draw a face in true proportions within so many points."""
        motif = self.page.front if side == "front" else self.page.back
        rows, stitches = motif.shape
        aspect = self.page.gauge.aspect
        high = min(most[0] / (stitches * aspect), most[1] / rows, 18.0)
        if filled:
            drawn = svg.squares(*_colours(motif))
        else:
            # what a line takes is calculated in points, whatever the square
            drawn = borders(motif.grid, 0.9 / high) + f'<path fill="#000000" d="{dots_path(motif.grid)}"/>'
        edge = (
            f'<rect x="1" y="1" width="{stitches * aspect * high:g}" height="{rows * high:g}" fill="none" '
            f'stroke="{GRID}" stroke-width="0.7"/>'
        )
        body = f'<g transform="translate(1 1) scale({aspect * high:.6g} {high:.6g})">{drawn}</g>{edge}'
        width, height = stitches * aspect * high + 2, rows * high + 2
        seen = "from the front" if side == "front" else "from behind"
        mc, cc = (
            " and ".join(dict.fromkeys(y.name for y in self.page.yarns if role in y.roles)) for role in ("MC", "CC")
        )
        alt = (
            f"The {side} of the fabric seen {seen}: {self._size(rows, stitches)}, {float(motif.grid.mean()):.0%} "
            f"of the squares in CC ({cc or 'none'}) on MC ({mc or 'none'})."
        )
        return Drawing(body, width, height, alt)

    def _size(self, rows: int, stitches: int) -> str:
        return f"{several(rows, row_word(self.page))} of {several(stitches, 'stitch')}"

    def key(self, size: float) -> Iterator[tuple[str, Drawing]]:
        """Draw the symbols used, each with its name in the page's terms."""
        for kind in np.unique(self.chart.stitches).tolist():
            symbol = SYMBOLS[kind]
            stamp = svg.stamps_path(np.ones((1, 1), dtype=np.bool_), symbol.lines)
            body = (
                f'<g transform="translate(1 1) scale({size / SQUARE:g})" fill="none" stroke="#000000">'
                f'<rect width="{SQUARE}" height="{SQUARE}" fill="#ffffff" stroke="{GRID}" stroke-width="0.8"/>'
                f'<path stroke-width="1.5" d="{stamp}"/></g>'
            )
            looks = "the symbol" if symbol.lines else "an empty square"
            alt = f"{looks.capitalize()} of {STITCH_NAMES[self.terms][kind]}."
            yield STITCH_NAMES[self.terms][kind], Drawing(body, size + 2, size + 2, alt)


def _joins(span: tuple[int, int], whole: tuple[int, int]) -> list[int]:
    """List the numbers after which a part is joined to its neighbours."""
    before = [span[0] + OVERLAP - 1] if span[0] > whole[0] else []
    return [*before, span[1] - OVERLAP] if span[1] < whole[1] else before


def _colours(motif: Motif) -> tuple[NDArray[np.intp], list[str]]:
    return svg.yarn_colours(motif.grid, motif.shown_rows, motif.yarns)


def _numbers(
    numbers: tuple[NDArray[np.int64], NDArray[np.int64]],
    look: PrintStyle,
    left: float,
    at_right: bool,
    begun: Mapping[int, str],
) -> str:
    """Write row numbers at the working edge and stitch numbers below, as many as there is room for.

    A row in which a yarn begins has its number and the letter of the yarn.
    """
    rows, stitches = numbers
    size, square = look.type_size, look.square
    beyond = (_BAR_AT + _BAR_WIDE + 0.3) * square
    x, anchor = (left + len(stitches) * square + beyond, "start") if at_right else (left - beyond, "end")
    texts: list[tuple[float, float, str, str]] = []
    shown = numbers_shown(rows, number_step(square, 0.9 * size)) | np.isin(rows, list(begun))
    for y in np.flatnonzero(shown).tolist():
        said = [str(rows[y]), *filter(None, [begun.get(int(rows[y]))])]
        text = " ".join(said if at_right else reversed(said))
        texts.append((x, 1 + (y + 0.5) * square + 0.33 * size, anchor, text))
    room = _DIGIT * size * (len(str(stitches.max())) + 0.5)
    for column in np.flatnonzero(numbers_shown(stitches, number_step(square, room))).tolist():
        at = left + (column + 0.5) * square
        texts.append((at, 1 + len(rows) * square + 1.1 * size, "middle", str(stitches[column])))
    drawn = "".join(
        f'<text x="{x:.5g}" y="{y:.5g}" text-anchor="{anchor}">{text}</text>' for x, y, anchor, text in texts
    )
    font = f' font-family="{escape(look.font)}"' if look.font else ""
    return f'<g fill="currentColor" font-size="{size:g}"{font}>{drawn}</g>'
