"""The pictures of a page as SVG text: the chart whole or in parts, the map that finds a part, both faces, the key.

Squares show what the front shows and a mark stands where its stitch is made. Runs of squares are one path a colour
and every kind of symbol is one path. Without fills, as for little ink, regions of CC are outlined and a pattern of thin
lines tells the yarn of each square; where two yarns are hard to tell apart, CC squares have a mark in the corner. Rows
and stitches are named as a maker counts and come from `orientation`; one unit of a picture is one point.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation, svg
from mosaickit.fabric import Stitch
from mosaickit.motif import Motif
from mosaickit.orientation import ROLES
from mosaickit.publish.box_lines import boxed, frame
from mosaickit.publish.boxes import ChartView, RepeatBox, box_of
from mosaickit.publish.contents import row_word, several
from mosaickit.publish.drawing import Drawing, sample_square
from mosaickit.publish.numbering import BAR_AT, BAR_WIDE, DIGIT, PrintStyle, numbers_around, room_of_numbers
from mosaickit.publish.page import Page
from mosaickit.publish.parts import OVERLAP, ChartPart
from mosaickit.publish.strokes import GRID, REGION, corners_path, dots_path, grid, lines_after
from mosaickit.svg import YARN_PATTERNS, ChartMarks
from mosaickit.wording import STITCH_NAMES, Tongue

_BEYOND = 3.0  # points from a piece in small to its numbers
_OUTLINE = "#333333"
_LEAST_OUTLINED = 3.0  # points: the least square of a face whose regions are outlined

SquaresAt = tuple[NDArray[np.intp], ...]
"""Which rows and columns of an array as seen, as an index of it."""


class Drawings:
    """All pictures of one page; what they share is worked out once. The box of a repeat is given if it is known."""

    def __init__(self, page: Page, terms: Tongue, box: RepeatBox | None = None) -> None:
        self.page, self.chart, self.terms, self.box = page, page.chart, terms, box
        self.word = "round" if page.chart.in_the_round else "row"
        self.stitches = orientation.to_seen(self.chart.stitches, self.chart.hand)
        self.marked = not all(meeting.clear for meeting in page.meetings)
        self.begun = {start.row: start.letter for start in page.starts} if page.lettered else {}
        self.letters = max(map(len, self.begun.values()), default=0)

    @cached_property
    def front(self) -> tuple[NDArray[np.intp], list[str]]:
        """Which colour each square of the front has, as seen, and the colours."""
        return _colours(self.page.front)

    @cached_property
    def in_full(self) -> ChartView:
        """The whole chart."""
        return ChartView(self.chart)

    @cached_property
    def once(self) -> ChartView:
        """The chart with a repeat that comes again drawn once; the whole chart if there is none."""
        laid = self.page.first_repeat
        box = self.box if self.box or laid is None else box_of(self.chart, self.page.front, laid)
        return self.in_full if box is None else ChartView(self.chart, box)

    @cached_property
    def whole(self) -> ChartPart:
        """The whole chart as a part."""
        return all_of(self.in_full)

    # ---- the chart ---------------------------------------------------------------------------------------

    def part(self, part: ChartPart, look: PrintStyle, view: ChartView | None = None) -> Drawing:
        """Draw a part of the chart, or of a view of it, with its numbers and with the box of a repeat."""
        view = view or self.in_full
        hand, square = self.chart.hand, look.square
        window, numbers = view.window(part.rows, part.stitches), view.numbers(part.rows, part.stitches)
        rows, stitches = part.shape
        beside, below = look.around(*self.chart.shape, view.box)
        at_right = orientation.working_edge(hand) == "right"
        left = self.left_of_squares(look, view)
        body = (
            f'<g transform="translate({left:g} 1) scale({square:g})">{self._squares(window, look, grid(*numbers))}'
            f"{self._symbols(window, look)}{_joined(part, view)}"
            f"{self._bar(numbers[0], stitches, at_right, look)}</g>"
            f"{numbers_around(numbers, look, left, at_right, self.begun)}"
        )
        width, height = stitches * square + beside, rows * square + below + 1
        if view.box is not None:
            body += boxed(view.box, numbers, look, (left, 1.0), (width, height), at_right=at_right, word=self.word)
        return Drawing(body, width, height, self._about_part(part, window, view))

    def left_of_squares(self, look: PrintStyle, view: ChartView) -> float:
        """Give where the squares of a drawing begin, in points from its left edge; they begin 1 below its top."""
        beside, _ = look.around(*self.chart.shape, view.box)
        far = DIGIT * look.type_size * len(str(self.chart.shape[1])) / 2
        far += look.label_room(view.box is not None and view.box.comes_up)
        return far if orientation.working_edge(self.chart.hand) == "right" else beside - far

    def _squares(self, window: SquaresAt, look: PrintStyle, lines: str) -> str:
        """Draw squares and grid lines: borders of unfilled regions over the lines, colours below them."""
        cc = self.page.front.grid[window]
        index, colours = self.front
        if not look.filled:
            return svg.patterns_over(self.patterns[index[window]]) + lines + svg.borders(cc)
        drawn = svg.squares(index[window], colours) + lines
        return drawn + (self._corners(cc, index[window]) if self.marked else "")

    @cached_property
    def patterns(self) -> NDArray[np.intp]:
        """Which pattern each of the colours has where nothing is filled."""
        yarns = self.page.front.yarns
        return svg.patterns_of(self.front[1], [yarns.of(role)[0][1].colour for role in ROLES])

    def _corners(self, cc: NDArray[np.bool_], index: NDArray[np.intp]) -> str:
        """Mark the corner of each CC square in black or white."""
        inks = np.array([svg.ink_on(colour) for colour in self.front[1]])[index]
        return "".join(
            f'<path fill="{ink}" d="{corners_path(cc & (inks == ink))}"/>'
            for ink in ("#000000", "#ffffff")
            if np.any(cc & (inks == ink))
        )

    def _symbols(self, window: SquaresAt, look: PrintStyle) -> str:
        stitches = self.stitches[window]
        if look.filled:
            return svg.symbols_over(stitches, self.front[0][window], self.front[1], look.marks)
        return svg.symbols_over(stitches, np.zeros(stitches.shape, dtype=np.intp), ["#ffffff"], look.marks, halo=True)

    def _bar(self, row_numbers: NDArray[np.int64], stitches: int, at_right: bool, look: PrintStyle) -> str:
        """Draw the yarn of each row along the working edge."""
        x = stitches + BAR_AT if at_right else -BAR_AT - BAR_WIDE
        drawn = ""
        for y, row in enumerate(row_numbers.tolist()):
            role = self.chart.row_colours[row - 1]
            colour = self.chart.yarns.at(row, role).colour
            fill = colour if look.filled else "none"
            drawn += (
                f'<rect x="{x:g}" y="{y + 0.12:g}" width="{BAR_WIDE}" height="0.76" fill="{fill}" '
                f'stroke="{_OUTLINE}" stroke-width="0.05"/>'
            )
            if not look.filled:
                pattern = svg.patterns_over(self.patterns[[[self.front[1].index(colour)]]])
                drawn += f'<g transform="translate({x:g} {y + 0.12:g}) scale({BAR_WIDE} .76)">{pattern}</g>'
            elif role == "CC" and self.marked:
                drawn += f'<path fill="{svg.ink_on(fill)}" d="M{x:g} {y + 0.12:g}h.25l-.25 .25z"/>'
            if row > 2 and row in self.begun:  # row 1 and 2 begin their yarns anyway
                from_x = stitches if at_right else -BAR_AT - BAR_WIDE - 0.2
                wide = BAR_AT + BAR_WIDE + 0.2
                drawn += f'<path stroke="currentColor" stroke-width="0.16" d="M{from_x:g} {y + 1:g}h{wide:g}"/>'
        return drawn

    def _about_part(self, part: ChartPart, window: SquaresAt, view: ChartView) -> str:
        rows, stitches = part.shape
        names, what = STITCH_NAMES[self.terms], row_word(self.page)
        kinds = np.bincount(self.stitches[window].ravel(), minlength=len(Stitch)).tolist()
        marks = ", ".join(f"{kinds[kind]} {names[kind]}" for kind in Stitch if kind >= Stitch.FLDC and kinds[kind])
        share = float(self.page.front.grid[window].mean())
        where = f", {view.words(part.rows, part.stitches)}" if part.of > 1 or view.box else ""
        edge = orientation.working_edge(self.chart.hand)
        begun = [f"{letter} in {row}" for row, letter in self.begun.items() if part.rows[0] <= row <= part.rows[1]]
        yarns = f" Yarns begin in these {what}s: {', '.join(begun)}." if begun else ""
        return (
            f"The stitches over the picture: {self._size(rows, stitches)}{where}, {share:.0%} of the squares in CC; "
            f"{marks or 'plain stitches only'}. {what.capitalize()} 1 is at the bottom, stitch 1 at the {edge}.{yarns} "
            f"The written {what}s say the same in words."
        )

    # ---- beside the chart --------------------------------------------------------------------------------

    def finder(
        self, part: ChartPart, most: tuple[float, float], view: ChartView | None = None
    ) -> tuple[Drawing, tuple[float, float, float, float]]:
        """Draw all of a view within `most` points, and tell where a part lies in it: x, y, width, height.

        The picture's words are the part's; what it draws is the same for all parts.
        """
        view = view or self.in_full
        rows, stitches = view.shape
        scale = min(most[0] / stitches, most[1] / rows)
        all_rows, all_stitches = view.window((1, rows), (1, stitches))
        here, across = view.window(part.rows, part.stitches)
        top, left = int(np.flatnonzero(all_rows == here[0])[0]), int(np.flatnonzero(all_stitches[0] == across[0, 0])[0])
        grey = svg.runs_path(self.page.front.grid[all_rows, all_stitches])
        body = (
            f'<g transform="scale({scale:g})"><rect width="{stitches}" height="{rows}" fill="#ffffff"/>'
            f'<path fill="{REGION}" d="{grey}"/>'
            f'<rect width="{stitches}" height="{rows}" fill="none" stroke="{GRID}" stroke-width="{0.5 / scale:g}"/></g>'
        )
        alt = f"Where part {part.number} of {part.of} lies in the whole of {self._size(rows, stitches)}."
        height, width = part.shape
        return Drawing(body, stitches * scale, rows * scale, alt), (
            left * scale,
            top * scale,
            width * scale,
            height * scale,
        )

    def overview(self, look: PrintStyle, most: tuple[float, float]) -> Drawing:
        """Draw the whole piece in small squares, within `most` points: numbers every ten, and the box of the repeat."""
        shape, hand = self.chart.shape, self.chart.hand
        beside, below = room_of_numbers(look.type_size, *shape)
        beside += _BEYOND
        square = min((most[0] - beside) / shape[1], (most[1] - below - 1) / shape[0], look.square)
        grid_ = self.page.front.grid
        squares = svg.squares(*self.front) if look.filled else f'<path fill="{REGION}" d="{svg.runs_path(grid_)}"/>'
        rect = f'<rect width="{shape[1]}" height="{shape[0]}" fill="none" '
        edge = f'{rect}stroke="{GRID}" stroke-width="{0.6 / square:g}"/>'
        at_right = orientation.working_edge(hand) == "right"
        left = 0.5 * DIGIT * look.type_size * len(str(shape[1])) if at_right else beside - 2
        numbers = self.in_full.numbers((1, shape[0]), (1, shape[1]))
        body = f'<g transform="translate({left:g} 1) scale({square:g})">{squares}{edge}'
        box, about = self.once.box, ""
        if box is not None:
            body += frame(box, numbers, square)
            about = f", with the box around {self.once.words(box.rows, box.stitches)}"
        small = replace(look, square=square)
        body += "</g>" + numbers_around(numbers, small, left, at_right, {}, beyond=_BEYOND, least=10)
        width, height = shape[1] * square + beside, shape[0] * square + below
        return Drawing(body, width, height, f"The whole piece, {self._size(*shape)}{about}.")

    def _face_square(self, most: tuple[float, float]) -> float:
        """Give how high a square of a face is within so many points."""
        rows, stitches = self.chart.shape
        return min(most[0] / (stitches * self.page.gauge.aspect), most[1] / rows, 18.0)

    def outlined(self, most: tuple[float, float]) -> bool:
        """Whether a face without colours has its regions of CC outlined: in smaller squares lines are all black."""
        return self._face_square(most) >= _LEAST_OUTLINED

    def face(self, side: str, most: tuple[float, float], *, filled: bool = True) -> Drawing:
        """Draw a face in true proportions within so many points."""
        motif = self.page.front if side == "front" else self.page.back
        rows, stitches = motif.shape
        aspect = self.page.gauge.aspect
        high = self._face_square(most)
        if filled:
            drawn = svg.squares(*_colours(motif))
        elif not self.outlined(most):
            drawn = f'<path fill="{REGION}" d="{svg.runs_path(motif.grid)}"/>'
        else:
            # what a line takes is calculated in points, whatever the square
            drawn = svg.borders(motif.grid, 0.9 / high) + f'<path fill="#000000" d="{dots_path(motif.grid)}"/>'
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
        return f"{several(rows, self.word)} of {several(stitches, 'stitch')}"

    def key(self, size: float, marks: ChartMarks, *, filled: bool = True) -> Iterator[tuple[str, Drawing]]:
        """Draw what stands on squares, each with its name: marks in the page's terms, and patterns of yarns."""
        for kind in np.unique(self.chart.stitches).tolist() if marks.kind != "plain" else ():
            looks = f"The {marks.kind[:-1]}" if marks.shows(kind) else "An empty square"
            drawn = svg.symbols_over(np.array([[kind]]), np.zeros((1, 1), dtype=np.intp), ["#ffffff"], marks)
            name = STITCH_NAMES[self.terms][kind]
            yield name, sample_square(size, drawn, f"{looks} of {name}.")
        if not filled:
            for number, names in self._names_by_pattern.items():
                drawn = svg.patterns_over(np.array([[number]]))
                yield " or ".join(names), sample_square(size, drawn, f"The pattern of {' or '.join(names)}.")

    @cached_property
    def _names_by_pattern(self) -> dict[int, list[str]]:
        """The yarns that each pattern stands for."""
        found: dict[int, list[str]] = {}
        for yarn in self.page.yarns:
            if yarn.colour in self.front[1]:
                number = int(self.patterns[self.front[1].index(yarn.colour)])
                found.setdefault(number, []).append(yarn.name or "unnamed yarn")
        return dict(sorted(found.items()))

    @property
    def patterns_shared(self) -> bool:
        """Whether there are more yarns than patterns."""
        return len(self.front[1]) > len(YARN_PATTERNS)


def all_of(view: ChartView) -> ChartPart:
    """Give all of a view as one part."""
    rows, stitches = view.shape
    return ChartPart((1, rows), (1, stitches), 1, 1)


def _joined(part: ChartPart, view: ChartView) -> str:
    """Draw where the rows and stitches end that a neighbouring part shows again."""
    rows, stitches = part.shape
    numbers = view.numbers(part.rows, part.stitches)
    downs = _joins(part.rows, view.rows, numbers[0])
    acrosses = _joins(part.stitches, view.stitches, numbers[1])
    path = "".join(f"M0 {row}H{stitches}" for row in downs) + "".join(f"M{x} 0V{rows}" for x in acrosses)
    if not path:
        return ""
    return (
        f'<g fill="none"><path stroke="#ffffff" stroke-width="0.3" d="{path}"/>'
        f'<path stroke="#000000" stroke-width="0.14" stroke-dasharray="0.5 0.3" d="{path}"/></g>'
    )


def _joins(span: tuple[int, int], drawn: NDArray[np.int64], numbers: NDArray[np.int64]) -> list[int]:
    """List the grid lines at which a part is joined to its neighbours."""
    before = [span[0] + OVERLAP - 1] if span[0] > 1 else []
    places = [*before, span[1] - OVERLAP] if span[1] < len(drawn) else before
    return [line for place in places for line in lines_after(numbers, int(drawn[place - 1]))]


def _colours(motif: Motif) -> tuple[NDArray[np.intp], list[str]]:
    return svg.yarn_colours(motif.grid, motif.shown_rows, motif.yarns)
