"""Pictures as small SVG text, with nothing but NumPy, so that values can show themselves in a notebook.

Squares of one colour that lie side by side are drawn as one run and all runs of a colour as one path, which
keeps a 60 × 200 picture under 100 kB. A picture too large to be looked at whole is cut to the corner where the
work starts, and says so. Charts and faces carry numbers and captions on a light ground of their own, so that
they read on a dark page too. Arrays come as seen; nothing here knows what a picture means.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from html import escape
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit.colours import Yarns, contrast
from mosaickit.svg.marks import BY_SYMBOLS, ChartMarks
from mosaickit.svg.symbols import SQUARE, SYMBOLS, WIDTH, YARN_PATTERNS, Stroke, heavy_lines, number_step, numbers_shown

LARGEST_WHOLE = 120
"""A picture with more rows or columns than this is shown as a corner of this size."""

WIDEST = 720
"""A picture is at most this many pixels wide; its numbers come on top of that."""

Window = tuple[slice, slice]
"""Which rows and columns of an array as seen."""

_GROUND, _TEXT, _GRID = "#ffffff", "#222222", "#7f7f7f"
_ROOM, _DIGIT = 10.0, 6.0  # pixels: the height of a line of text, and how wide a letter is at most


def yarn_colours(
    grid: NDArray[np.bool_], shown_rows: NDArray[np.int64], yarns: Yarns
) -> tuple[NDArray[np.intp], list[str]]:
    """Find the colour of every square.

    Parameters
    ----------
    grid : bool array, (R, C)
        True where CC shows.
    shown_rows : int array, (R, C)
        The maker's number of the row whose yarn shows.
    yarns : Yarns
        The yarns of MC and CC by row.

    Returns
    -------
    index : int array, (R, C)
        Which of the colours each square has.
    colours : list of str
        "#rrggbb", each once.
    """
    rows = int(shown_rows.max(initial=1))
    names = [yarn.colour for role in ("MC", "CC") for yarn in yarns.by_row(rows, role)]
    colours = list(dict.fromkeys(names))
    table = np.array([colours.index(name) for name in names]).reshape(2, rows)
    return table[grid.astype(np.intp), shown_rows - 1], colours


def ink_on(colour: str) -> str:
    """Choose black or white, whichever stands out more on a colour (WCAG 2.2 contrast ratio).

    Examples
    --------
    >>> ink_on("#f4ead5"), ink_on("#1d3f66")
    ('#000000', '#ffffff')
    """
    return max("#000000", "#ffffff", key=lambda ink: contrast(ink, colour))


def runs(mask: NDArray[np.bool_]) -> NDArray[np.intp]:
    """Find the runs of True in each row of a mask, (K, 3): row, first column, one past the last column."""
    padded = np.zeros((mask.shape[0], mask.shape[1] + 2), dtype=np.int8)
    padded[:, 1:-1] = mask
    step = np.diff(padded, axis=1)
    starts, ends = np.argwhere(step == 1), np.argwhere(step == -1)
    return np.column_stack([starts, ends[:, 1]])


def runs_path(mask: NDArray[np.bool_], width: float = 1.0, height: float = 1.0) -> str:
    """Draw the True squares of a mask as the `d` of one SVG path, squares of the given width and height."""
    return "".join(
        f"M{left * width:g} {row * height:g}H{right * width:g}V{(row + 1) * height:g}H{left * width:g}z"
        for row, left, right in runs(mask).tolist()
    )


def squares(index: NDArray[np.intp], colours: list[str]) -> str:
    """Draw squares in colours as SVG elements, in units of squares: the commonest colour as the ground of the rest."""
    rows, columns = index.shape
    ground = int(np.bincount(index.ravel(), minlength=len(colours)).argmax())
    paths = "".join(
        f'<path fill="{colour}" d="{runs_path(index == number)}"/>'
        for number, colour in enumerate(colours)
        if number != ground and np.any(index == number)
    )
    return f'<rect width="{columns}" height="{rows}" fill="{colours[ground]}"/>{paths}'


def stamps_path(mask: NDArray[np.bool_], lines: tuple[Stroke, ...]) -> str:
    """Draw the same polylines on every True square of a mask, as the `d` of one SVG path, in units of a symbol."""
    drawn, pen = "", (0, SQUARE)  # the pen starts at the upper left corner; y runs down in SVG
    for line in lines:
        drawn += "m"
        for x, y in line:
            drawn += f"{x - pen[0]} {pen[1] - y} "
            pen = (x, y)
    return "".join(f"M{column * SQUARE} {row * SQUARE}{drawn.rstrip()}" for row, column in np.argwhere(mask).tolist())


def symbols_over(
    stitches: NDArray[Any],
    index: NDArray[np.intp],
    colours: list[str],
    marks: ChartMarks = BY_SYMBOLS,
    *,
    halo: bool = False,
) -> str:
    """Draw the marks of stitches, (R, C) as seen, over squares, black or white as their colours ask.

    With a `halo` white lies around each mark, so that it stands clear of patterns below.
    """
    inks = np.array([ink_on(colour) for colour in colours])[index]
    drawn = ""
    for number, symbol in enumerate(SYMBOLS):
        for ink in ("#000000", "#ffffff"):
            here = (stitches == number) & (inks == ink)
            if not marks.shows(number) or not here.any():
                continue
            if marks.kind == "letters":
                drawn += _letters_over(here, marks.letters[number], ink, halo)
                continue
            path = stamps_path(here, symbol.lines)
            drawn += f'<path stroke="#ffffff" stroke-width="{_HALO}" d="{path}"/>' if halo else ""
            drawn += f'<path stroke="{ink}" d="{path}"/>'
    return (
        f'<g transform="scale({1 / SQUARE:g})" fill="none" stroke-width="{WIDTH}" stroke-linecap="round" '
        f'stroke-linejoin="round" shape-rendering="geometricPrecision">{drawn}</g>'
    )


def patterns_over(index: NDArray[np.intp]) -> str:
    """Draw which yarn each square, (R, C) as seen, shows by a pattern of thin lines: see `YARN_PATTERNS`."""
    drawn = "".join(stamps_path(index == number, lines) for number, lines in enumerate(YARN_PATTERNS))
    return (
        f'<path transform="scale({1 / SQUARE:g})" fill="none" stroke="#000000" stroke-width="0.9" '
        f'shape-rendering="geometricPrecision" d="{drawn}"/>'
    )


def borders(cc: NDArray[np.bool_], width: float = 0.12) -> str:
    """Draw the border between CC and MC, in units of squares."""
    across = runs(cc[1:] != cc[:-1]).tolist()
    down = runs((cc[:, 1:] != cc[:, :-1]).T).tolist()
    path = "".join(f"M{left} {row + 1}H{right}" for row, left, right in across)
    path += "".join(f"M{column + 1} {top}V{bottom}" for column, top, bottom in down)
    return f'<path fill="none" stroke="#000000" stroke-width="{width:.3g}" stroke-linecap="square" d="{path}"/>'


def patterns_of(colours: list[str], firsts: Iterable[str]) -> NDArray[np.intp]:
    """Tell which of `YARN_PATTERNS` each of the colours has where nothing is filled; those beyond the last share it.

    The colours of the first yarns of MC and of CC, `firsts`, have the first two, which can be told apart best.
    """
    order = list(dict.fromkeys([*firsts, *colours]))
    found: NDArray[np.intp] = np.minimum([order.index(colour) for colour in colours], len(YARN_PATTERNS) - 1)
    return found


_HALO = WIDTH + 3
LETTERS_FONT = "DejaVu Sans Mono, ui-monospace, monospace"
"""What letters on squares are set in: each takes the same place."""


def letter_size(letters: str) -> float:
    """Give the size of type of letters on a square, in units of a symbol."""
    return 15.0 if len(letters) == 1 else 12.5


def _letters_over(here: NDArray[np.bool_], letters: str, ink: str, halo: bool) -> str:
    """Write letters on every True square of a mask, a line of text for each row, each letter at a place of its own."""
    size = letter_size(letters)
    middle = (len(letters) - 1) / 2
    beside = [SQUARE / 2 + (place - middle) * 0.62 * size for place in range(len(letters))]
    lines = ""
    for row in np.flatnonzero(here.any(axis=1)).tolist():
        columns = np.flatnonzero(here[row]).tolist()
        across = " ".join(f"{column * SQUARE + x:g}" for column in columns for x in beside)
        text = escape(letters * len(columns))
        lines += f'<text x="{across}" y="{row * SQUARE + SQUARE / 2 + 0.36 * size:g}">{text}</text>'
    group = f'font-size="{size:g}" font-weight="bold" font-family="{LETTERS_FONT}" text-anchor="middle"'
    drawn = f'<g {group} fill="#ffffff" stroke="#ffffff" stroke-width="4">{lines}</g>' if halo else ""
    return f'{drawn}<g {group} fill="{ink}" stroke="none">{lines}</g>'


def picture(
    index: NDArray[np.intp],
    colours: list[str],
    *,
    title: str,
    aspect: float = 1.0,
    description: str = "",
    square: float = 12.0,
) -> str:
    """Draw squares in colours.

    Parameters
    ----------
    index : int array, (R, C)
        Which colour each square has, as seen.
    colours : list of str
        "#rrggbb".
    title : str
        What a screen reader says; escaped here.
    aspect : float
        Width of a square over its height.
    description : str
        A longer text for those who cannot see the picture; escaped here.
    square : float
        Height of a square in pixels, made smaller so that the picture is at most `WIDEST`.

    Returns
    -------
    str
        An `svg` element.
    """
    rows, columns = index.shape
    high = min(square, WIDEST / (columns * aspect))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{columns * aspect * high:g}" '
        f'height="{rows * high:g}" viewBox="0 0 {columns} {rows}" preserveAspectRatio="none" '
        f'shape-rendering="crispEdges">{_about(title, description)}{squares(index, colours)}</svg>'
    )


def _about(title: str, description: str) -> str:
    """Say what a picture shows to those who cannot see it."""
    about = f"<desc>{escape(description)}</desc>" if description else ""
    return f"<title>{escape(title)}</title>{about}"


def corner(shape: tuple[int, int], hand: str = "right") -> Window:
    """Cut a picture to the part that is shown: the corner where the work starts, or all of it."""
    rows, columns = shape
    most = LARGEST_WHOLE
    across = slice(max(columns - most, 0), columns) if hand == "right" else slice(0, most)
    return slice(max(rows - most, 0), rows), across


def notebook_picture(
    as_seen: NDArray[Any],
    colours_in: Callable[[Window], tuple[NDArray[np.intp], list[str]]],
    *,
    title: str,
    hand: str = "right",
) -> str:
    """Draw a picture for a notebook, or its first corner with a title that says so when it is large."""
    window = corner(as_seen.shape, hand)
    index, colours = colours_in(window)
    return picture(index, colours, title=_cut_title(title, as_seen.shape, window))


def _cut_title(title: str, shape: tuple[int, ...], window: Window) -> str:
    rows, columns = (range(length)[part] for length, part in zip(shape, window, strict=True))
    if (len(rows), len(columns)) == shape:
        return title
    return f"{title} (shown: the first {len(rows)} rows and {len(columns)} stitches)"


# ---- charts and faces --------------------------------------------------------------------------------------


def sheet(width: float, height: float, body: str, title: str, description: str = "") -> str:
    """Put a body, in pixels, on a light ground."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{width:g}" height="{height:g}" '
        f'viewBox="0 0 {width:g} {height:g}" shape-rendering="crispEdges" font-family="sans-serif" font-size="9">'
        f'{_about(title, description)}<rect width="{width:g}" height="{height:g}" fill="{_GROUND}"/>{body}</svg>'
    )


def _text(x: float, y: float, text: object, anchor: str) -> str:
    return f'<text x="{x:g}" y="{y:g}" text-anchor="{anchor}" fill="{_TEXT}">{escape(str(text))}</text>'


def _grid_path(downs: Iterable[int], acrosses: Iterable[int], rows: int, columns: int) -> str:
    return "".join([f"M0 {row}H{columns}" for row in downs] + [f"M{column} 0V{rows}" for column in acrosses])


def _grid(row_numbers: NDArray[np.int64], stitch_numbers: NDArray[np.int64]) -> str:
    """Draw the grid in units of squares, with a heavier line after every tenth row and stitch."""
    rows, columns = len(row_numbers), len(stitch_numbers)
    fine = _grid_path(range(rows + 1), range(columns + 1), rows, columns)
    heavy = _grid_path(heavy_lines(row_numbers).tolist(), heavy_lines(stitch_numbers).tolist(), rows, columns)
    return (
        f'<g fill="none" stroke="{_GRID}"><path stroke-width="0.05" d="{fine}"/>'
        f'<path stroke-width="0.2" d="{heavy}"/></g>'
    )


def notebook_chart(
    stitches: NDArray[Any],
    colours_in: Callable[[Window], tuple[NDArray[np.intp], list[str]]],
    *,
    row_numbers: NDArray[np.int64],
    stitch_numbers: NDArray[np.int64],
    edge: str,
    title: str,
    description: str = "",
) -> str:
    """Draw a chart for a notebook, or its first corner: squares, symbols, a grid, and numbers where rows start.

    Parameters
    ----------
    stitches : array of Stitch, (R, C)
        As seen.
    colours_in : function of a window
        Gives which colour each square in it has, and the colours, as `yarn_colours` does.
    row_numbers, stitch_numbers : int array, (R,) and (C,)
        As the maker counts, from the top and from the left.
    edge : "right" or "left"
        Where rows start.
    title, description : str
        For a screen reader; escaped here.
    """
    window = corner(stitches.shape, edge)
    index, colours = colours_in(window)
    row_numbers, stitch_numbers = row_numbers[window[0]], stitch_numbers[window[1]]
    rows, columns = index.shape
    high = min(16.0, WIDEST / columns)
    margin = _DIGIT * len(str(row_numbers.max())) + 6
    left, beside, anchor = (margin, margin - 4, "end") if edge == "left" else (4.0, columns * high + 8, "start")
    below = 4 + rows * high + _ROOM

    body = f'<g transform="translate({left:g} 4) scale({high:g})">{squares(index, colours)}'
    body += f"{_grid(row_numbers, stitch_numbers)}{symbols_over(stitches[window], index, colours)}</g>"
    for row, number in _numbers_at(row_numbers, high, _ROOM):
        body += _text(beside, 4 + (row + 0.5) * high + 3, number, anchor)
    for column, number in _numbers_at(stitch_numbers, high, _DIGIT * len(str(stitch_numbers.max())) + 3):
        body += _text(left + (column + 0.5) * high, below, number, "middle")
    title = _cut_title(title, stitches.shape, window)
    return sheet(columns * high + margin + 4, below + 5, body, title, description)


def _numbers_at(numbers: NDArray[np.int64], pitch: float, room: float) -> list[tuple[int, int]]:
    """List the numbers that are shown, each with its place from the top or from the left."""
    places = np.flatnonzero(numbers_shown(numbers, number_step(pitch, room)))
    return list(zip(places.tolist(), numbers[places].tolist(), strict=True))


def notebook_faces(faces: list[tuple[str, NDArray[np.intp], list[str]]], *, shape: tuple[int, int], title: str) -> str:
    """Draw faces side by side, each (caption, which colour each square has, colours), of a fabric of a `shape`."""
    rows, columns = faces[0][1].shape
    high = min(12.0, WIDEST / (len(faces) * columns))
    # so far apart that no caption runs into the next
    step = max(columns * high, _DIGIT * max(len(caption) for caption, *_ in faces)) + 12
    body = "".join(
        _text(4 + face * step, _ROOM, caption, "start")
        + f'<g transform="translate({4 + face * step:g} {_ROOM + 5:g}) scale({high:g})">{squares(index, colours)}</g>'
        for face, (caption, index, colours) in enumerate(faces)
    )
    title = _cut_title(title, shape, (slice(rows), slice(columns)))
    return sheet(len(faces) * step, rows * high + _ROOM + 9, body, title)
