"""Lesson 6: repeats, centring and frames.

The scenario: a tram driver crochets a cushion for the bench of the terminus, with a row of tram lamps. What comes of
an answer is laid out and looked at; no count is stored.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np

from mosaickit.lessons.answers import motif, two_counts, whole_numbers
from mosaickit.lessons.exercises import AnswerPart, Exercise
from mosaickit.lessons.parts import can_be_worked
from mosaickit.lessons.sentences import more_to_find
from mosaickit.motif import Motif, pad, repeat
from mosaickit.orientation import to_seen, to_working
from mosaickit.sizes import Layout, Surround

LAMP = Motif.from_text(
    """
    ......
    ..#...
    ..#...
    .###..
    .#.#..
    #####.
    ......
    """,
    name="tram lamp",
)

_GAPS = range(7)
_EDGES = 2
_STITCHES = range(40, 49)
_RINGS = 3

# ---- gaps --------------------------------------------------------------------------------------------------


@cache
def _upper_lamp_is_dark(gap: int) -> bool:
    """Tell whether the upper of two lamps looks like the lower one."""
    rows = len(LAMP.grid)
    both = repeat(pad(LAMP, top=gap), up=2, colours="swap")
    upper = to_working(both.grid)[rows + gap : 2 * rows + gap]
    return np.array_equal(to_seen(upper), LAMP.grid)


def _no_pale_lamp(gaps: tuple[int, ...]) -> str | None:
    for gap in gaps:
        if gap not in _GAPS:
            return f"Name gaps from {_GAPS[0]} to {_GAPS[-1]} rows; at least one of yours is none of these."
        if not _upper_lamp_is_dark(gap):
            return f"With {gap} plain rows between the two lamps the upper one comes out pale."
    return None


def _no_gap_left_out(gaps: tuple[int, ...]) -> str | None:
    dark = {gap for gap in _GAPS if _upper_lamp_is_dark(gap)}
    found = dark & set(gaps)
    return more_to_find(len(dark - found), found=len(found), wrong=bool(set(gaps) - dark))


# ---- centring ----------------------------------------------------------------------------------------------


def _row_of_lamps(answer: object) -> Layout:
    """Read the repeats across and the closing stitches, as a row of the cushion."""
    across, closing = two_counts(answer, "the repeats and the closing stitches", least=0)
    return Layout(LAMP, across=across, surround=Surround(balance_across=closing, edges=_EDGES))


def _fits_the_bench(layout: Layout) -> str | None:
    if layout.stitches in _STITCHES:
        return None
    return f"The row has {layout.stitches} stitches; it should have {_STITCHES[0]} to {_STITCHES[-1]}."


def _reads_alike_from_both_ends(layout: Layout) -> str | None:
    squares = to_working(layout.build().grid)
    differ = np.argwhere(squares != squares[:, ::-1])
    if not len(differ):
        return None
    row, stitch = (differ[0] + 1).tolist()
    return (
        f"It does not lie in the middle: in row {row}, stitch {stitch} and stitch {layout.stitches + 1 - stitch} are "
        "as far from their edges and show different colours."
    )


# ---- frames ------------------------------------------------------------------------------------------------


def _around_the_lamp(made: Motif) -> tuple[float, float]:
    """Give the rows below and the stitches before a lamp in the middle."""
    return (made.shape[0] - LAMP.shape[0]) / 2, (made.shape[1] - LAMP.shape[1]) / 2


def _room_for_rings(made: Motif) -> str | None:
    below, before = _around_the_lamp(made)
    if min(below, before) < _RINGS:
        return (
            f"{made.shape[0]} rows of {made.shape[1]} stitches have no room for the lamp and {_RINGS} rings around it."
        )
    if below % 1 or before % 1:
        what = "rows below and above" if below % 1 else "stitches before and after"
        return f"The lamp cannot lie in the middle: there is an odd number of {what} it to share."
    return None


def _ring(made: Motif, number: int) -> Any:  # noqa: ANN401 — squares in working order, with what lies inside masked
    """Give the squares of a ring, the outermost being 1, as a masked array in working order."""
    inside = np.zeros(made.shape, dtype=np.bool_)
    inside[number:-number, number:-number] = True
    outside = np.ones(made.shape, dtype=np.bool_)
    outside[number - 1 : made.shape[0] - number + 1, number - 1 : made.shape[1] - number + 1] = False
    return np.ma.masked_array(to_working(made.grid), inside | outside)


def _ring_is_cc(made: Motif, number: int) -> bool:
    """Tell the colour of most of a ring."""
    return bool(_ring(made, number).mean() > 0.5)


def _rings_closed(made: Motif) -> str | None:
    for number in range(1, _RINGS + 1):
        broken = np.argwhere((_ring(made, number) != _ring_is_cc(made, number)).filled(False))
        if len(broken):
            row, stitch = (broken[0] + 1).tolist()
            return f"Ring {number}, counted from the outside, is broken at row {row}, stitch {stitch}."
    return None


def _rings_take_turns(made: Motif) -> str | None:
    colours = [_ring_is_cc(made, number) for number in range(1, _RINGS + 1)]
    for number, (one, other) in enumerate(pairwise(colours), 1):
        if one == other:
            return f"Rings {number} and {number + 1}, counted from the outside, have the same colour."
    return None


def _outermost_in_mc(made: Motif) -> str | None:
    return "The outermost ring is in CC." if _ring_is_cc(made, 1) else None


def _lamp_in_the_middle(made: Motif) -> str | None:
    below, before = (int(size) for size in _around_the_lamp(made))
    rows, stitches = LAMP.shape
    middle = to_working(made.grid)[below : below + rows, before : before + stitches]
    differ = np.argwhere(middle != to_working(LAMP.grid))
    if not len(differ):
        return None
    row, stitch = (differ[0] + 1).tolist()
    pale = "dark and pale the wrong way round" if len(differ) == LAMP.grid.size else "another picture there"
    return f"The lamp in the middle is not as it was, from row {below + row}, stitch {before + stitch} on: {pale}."


EXERCISES = (
    Exercise(
        "gaps between two lamps",
        whole_numbers,
        (
            AnswerPart("With each gap that you name both lamps are dark.", _no_pale_lamp, applies=bool),
            AnswerPart("None is left out.", _no_gap_left_out),
        ),
        LAMP,
        "Lamp and gap together have an even number of rows, so the next lamp begins on the same row colour.",
    ),
    Exercise(
        "a row that lies in the middle",
        _row_of_lamps,
        (
            AnswerPart("The row is as long as the bench wants it.", _fits_the_bench, needed=True),
            AnswerPart("Every row reads the same from either edge.", _reads_alike_from_both_ends),
        ),
        LAMP,
        "The gap stands at one end of each repeat; closing the row with it once more puts it at both.",
    ),
    Exercise(
        "a lamp in its frame",
        motif,
        (
            AnswerPart("There is room for the lamp and its rings.", _room_for_rings, needed=True),
            AnswerPart("Each of the three outer rings is closed.", _rings_closed),
            AnswerPart("The rings take turns.", _rings_take_turns),
            AnswerPart("The outermost ring is in MC.", _outermost_in_mc),
            AnswerPart("The lamp lies in the middle, dark as it was.", _lamp_in_the_middle),
            can_be_worked(),
        ),
        LAMP,
        "The lamp moved up by an even number of rows, so it kept its row colours.",
    ),
)
