"""Lesson 5: the law of the two faces.

The scenario: somebody who keeps a tea stall by a ferry landing hangs a pennon in the window, to be read from the quay
and from inside. The hook says what the faces of an answer look like; the law itself stands nowhere here.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from mosaickit.fabric import compile_chart, work
from mosaickit.lessons.answers import motif, squares
from mosaickit.lessons.exercises import AnswerPart, Exercise
from mosaickit.lessons.parts import can_be_worked, no_larger_than, of_size, overlaid_at_least, these_squares
from mosaickit.lessons.sentences import in_rows, marked, rows_that_differ
from mosaickit.motif import Motif
from mosaickit.orientation import from_behind

PATCH = Motif.from_text(
    """
    .........
    #########
    ..#.#....
    ###.##.##
    .#...#.#.
    ##.###.##
    .........
    """,
    name="patch of a border",
)

FOUND_BACK = Motif.from_text(
    """
    .........
    ####.####
    ..#......
    ####.####
    ...#.#...
    #########
    .........
    """,
    name="a back, seen from behind",
)
"""Drawn as a back; that some front has it is tested."""

_ROW = 5
_LEAST_OVERLAID = 6
_MOST_SQUARES = 200


def _back(made: Motif) -> NDArray[np.bool_]:
    """Give the reversible back as seen from behind, (R, C)."""
    return work(compile_chart(made, reversible=True)).back


def _cc_in_row(row: int) -> frozenset[tuple[int, int]]:
    return frozenset(place for place in marked(from_behind(_back(PATCH))) if place[0] == row)


def _same_back(made: Motif) -> str | None:
    rows = rows_that_differ(_back(made), FOUND_BACK.grid)
    return f"Its back differs from the one that was found in {in_rows(rows)}." if rows else None


def _same_end_over_end(made: Motif) -> str | None:
    # turned end over end, what was seen from behind stands on its head
    rows = rows_that_differ(_back(made)[::-1, ::-1], made.grid)
    return f"Turned end over end, it shows another picture than before in {in_rows(rows)}." if rows else None


EXERCISES = (
    Exercise(
        "squares of the back",
        squares,
        these_squares(_cc_in_row(_ROW), f"CC squares of row {_ROW} of the back"),
        PATCH,
        "Each of them lies behind a square of the front, one row lower, that shows MC.",
    ),
    Exercise(
        "the front from the back",
        motif,
        (
            of_size(*FOUND_BACK.shape),
            replace(can_be_worked(), needed=True),
            AnswerPart("Its back is the one that was found.", _same_back),
        ),
        FOUND_BACK,
        "The last row but one of the front is nowhere to be seen on the back: there more than one answer is right.",
    ),
    Exercise(
        "the same picture end over end",
        motif,
        (
            no_larger_than(_MOST_SQUARES),
            replace(can_be_worked(), needed=True),
            overlaid_at_least(_LEAST_OVERLAID),
            AnswerPart("Turned end over end, it shows the same picture.", _same_end_over_end),
        ),
        because="The back is the front's negative one row up; turning it on its head brings the rows back, and an odd "
        "number of rows the colours.",
    ),
)
