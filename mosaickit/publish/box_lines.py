"""The box of a repeat on a chart: its lines, the brackets beside it, and what it says."""

from __future__ import annotations

from html import escape

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import number_of
from mosaickit.publish.boxes import FirstLast, RepeatBox
from mosaickit.publish.numbering import PrintStyle
from mosaickit.wording import in_series

_LETTER = 0.5
"""Of the size of type: how wide a letter is, at most, on the average of a line."""

NumbersSeen = tuple[NDArray[np.int64], NDArray[np.int64]]


def stitches_said(box: RepeatBox) -> str:
    """Say how often the stitches of a box are worked; empty if once.

    Examples
    --------
    >>> stitches_said(RepeatBox((5, 26), (2, 23), 1, 5))
    'repeat these 22 stitches 4 more times'
    """
    if not box.comes_across:
        return ""
    return f"repeat these {number_of(box.shape[1], 'stitch')} {_more([across for _, across in _times(box)])}"


def rows_said(box: RepeatBox, word: str = "row") -> str:
    """Say how often the rows of a box are worked; empty if once.

    Examples
    --------
    >>> rows_said(RepeatBox((5, 26), (2, 23), 2, 5))
    'work rows 5 to 26 once more'
    """
    if not box.comes_up:
        return ""
    often = [up - 1 for up, _ in _times(box)]
    # two numbers side by side would run into each other
    more = "once more" if set(often) == {1} else f"another {in_series(often)} times"
    return f"work {word}s {box.rows[0]} to {box.rows[1]} {more}"


def _times(box: RepeatBox) -> tuple[tuple[int, int], ...]:
    return box.sizes or ((box.up, box.across),)


def _more(times: list[int]) -> str:
    return "once more" if set(times) == {2} else f"{in_series([each - 1 for each in times])} more times"


def sentences(box: RepeatBox, shape: FirstLast, word: str = "row") -> str:
    """Say all of a box: what stands in it, how often it is worked, and where the work goes on."""
    rows, stitches = shape
    said = []
    if box.comes_across:
        first, last = box.stitches
        there = last + (box.across - 1) * box.shape[1] < stitches
        goes_on = in_series([last + (across - 1) * box.shape[1] + 1 for _, across in _times(box)])
        then = f", then go on with stitch {goes_on}" if there else ""
        said.append(f"Stitches {first} to {last} stand in the box: in every {word} {stitches_said(box)}{then}.")
    if box.comes_up:
        first, last = box.rows
        there = last + (box.up - 1) * box.shape[0] < rows
        goes_on = in_series([last + (up - 1) * box.shape[0] + 1 for up, _ in _times(box)])
        then = f", then go on with {word} {goes_on}" if there else ""
        swaps = " MC and CC change places each time." if box.swaps else ""
        said.append(f"After {word} {last} {rows_said(box, word)}{then}.{swaps}")
    return " ".join(said)


def frame(box: RepeatBox, numbers: NumbersSeen, square: float) -> str:
    """Draw the box as a frame, in units of squares; `square` says how many points one has."""
    (top, bottom), (left, right) = _within(numbers[0], box.rows), _within(numbers[1], box.stitches)
    rect = f'<rect x="{left}" y="{top}" width="{right - left}" height="{bottom - top}" fill="none" stroke='
    return f'{rect}"#ffffff" stroke-width="{4 / square:.3g}"/>{rect}"#000000" stroke-width="{2 / square:.3g}"/>'


def boxed(
    box: RepeatBox,
    numbers: NumbersSeen,
    look: PrintStyle,
    corner: tuple[float, float],
    size: tuple[float, float],
    *,
    at_right: bool,
    word: str = "row",
) -> str:
    """Draw the lines of a box through a part of a chart, and its brackets with what they say, in points.

    Parameters
    ----------
    box : RepeatBox
        What is repeated.
    numbers : two int arrays
        Those of the rows and stitches of the part, as seen.
    look : PrintStyle
        How the chart is drawn.
    corner : (x, y)
        Where the squares begin, at the upper left.
    size : (width, height)
        Of the whole drawing.
    at_right : bool
        Whether rows start at the right; the bracket of the rows stands at the other side.
    word : str
        "row" or "round".
    """
    (x, y), (width, height), square = corner, size, look.square
    rows, stitches = numbers
    wide, high = len(stitches) * square, len(rows) * square
    path, brackets, texts = "", "", ""
    if box.comes_across and (there := _ends(stitches, box.stitches)):
        path += "".join(f"M{x + end * square:g} {y:g}V{y + high:g}" for end in there.lines)
        low = height - 1.4 * look.type_size - 5
        start, stop = (x + end * square for end in there.span)
        begin, end = (4 if line in there.lines else 0 for line in there.span)
        brackets += f"M{start:g} {low - begin:g}V{low:g}H{stop:g}V{low - end:g}"
        said = _fitting([stitches_said(box), _more([across for _, across in _times(box)])], look.type_size, width)
        half = _LETTER * look.type_size * len(said) / 2
        at = min(max((start + stop) / 2, half), width - half)
        texts += f'<text x="{at:g}" y="{low + 1.2 * look.type_size:g}" text-anchor="middle">{escape(said)}</text>'
    if box.comes_up and (there := _ends(rows, box.rows)):
        path += "".join(f"M{x:g} {y + end * square:g}H{x + wide:g}" for end in there.lines)
        beside = 1.4 * look.type_size + 5
        side, tip = (beside, 4) if at_right else (width - beside, -4)
        start, stop = (y + end * square for end in there.span)
        begin, end = (tip if line in there.lines else 0 for line in there.span)
        brackets += f"M{side + begin:g} {start:g}H{side:g}V{stop:g}H{side + end:g}"
        said = _fitting([rows_said(box, word), _more([up for up, _ in _times(box)])], look.type_size, high)
        half = _LETTER * look.type_size * len(said) / 2
        at = min(max((start + stop) / 2, half), max(y + high - half, half))
        turned = side - 0.4 * look.type_size if at_right else side + 1.1 * look.type_size
        texts += (
            f'<text transform="translate({turned:g} {at:g}) rotate(-90)" text-anchor="middle">{escape(said)}</text>'
        )
    font = f' font-family="{escape(look.font)}"' if look.font else ""
    return (
        f'<g fill="none"><path stroke="#ffffff" stroke-width="4.5" d="{path}"/>'
        f'<path stroke="#000000" stroke-width="2.2" d="{path}"/></g>'
        f'<path fill="none" stroke="currentColor" stroke-width="1.4" d="{brackets}"/>'
        f'<g fill="currentColor" font-size="{look.type_size:g}"{font}>{texts}</g>'
    )


class _Ends:
    """Where a span lies among numbers as seen: the grid lines around what of it is there, and those that end it."""

    def __init__(self, numbers: NDArray[np.int64], span: FirstLast) -> None:
        self.span = _within(numbers, span)
        # a side that a neighbouring part shows has no line here
        own = {int(numbers[self.span[0]]), int(numbers[self.span[1] - 1])}
        rising = numbers[0] < numbers[-1] if len(numbers) > 1 else True
        first, last = self.span if rising else self.span[::-1]
        self.lines = [line for line, number in ((first, span[0]), (last, span[1])) if number in own]


def _ends(numbers: NDArray[np.int64], span: FirstLast) -> _Ends | None:
    there = (numbers >= span[0]) & (numbers <= span[1])
    return _Ends(numbers, span) if there.any() else None


def _within(numbers: NDArray[np.int64], span: FirstLast) -> FirstLast:
    """Find the grid lines around the numbers of a span, as seen."""
    there = np.flatnonzero((numbers >= span[0]) & (numbers <= span[1]))
    return int(there[0]), int(there[-1]) + 1


def _fitting(said: list[str], type_size: float, room: float) -> str:
    """Give the first of some texts that has room, or none."""
    return next((text for text in said if _LETTER * type_size * len(text) <= room), "")
