"""Lesson 1: reading a chart.

The scenario: a beekeeper crochets a runner for the honey stall. One repeat shows a straw hive with a dark door; a
small chart in marks, a cell of the comb and a bee, comes from the next stall.
"""

from __future__ import annotations

from mosaickit.fabric import Chart, work
from mosaickit.lessons.answers import Square, choice, motif, squares
from mosaickit.lessons.exercises import AnswerPart, Exercise
from mosaickit.lessons.parts import of_size, these_squares, this_choice
from mosaickit.lessons.sentences import marked, told_apart
from mosaickit.motif import Motif
from mosaickit.orientation import from_behind, role_of_row

HIVE = Motif.from_text(
    """
    #########
    .##...##.
    ###...###
    .........
    #....#..#
    .....#...
    #########
    """,
    first="CC",
    name="hive",
)

CELL = Chart.from_text(
    """
    .....|.
    ..|....
    .|.|...
    ..|....
    .......
    .......
    """,
    name="cell",
)

_ROW = 3
_DOOR_ROWS = (2, 3)


def _of_the_door(named: frozenset[Square]) -> frozenset[Square]:
    return frozenset(square for square in named if square[0] in _DOOR_ROWS)


_OVERLAID = _of_the_door(marked(HIVE.overlaid))
_COUNTED_FROM_THE_LEFT = _of_the_door(marked(from_behind(HIVE.overlaid)))
_ALL_NAMED, _NONE_LEFT_OUT = these_squares(_OVERLAID, "overlaid squares of these rows")


def _all_overlaid(named: frozenset[Square]) -> str | None:
    if named == _COUNTED_FROM_THE_LEFT:
        return "Your squares are counted from the left edge. Look where stitch 1 stands."
    return _ALL_NAMED.missing(named)


_FRONT = work(CELL).front


def _row_1_as_in_the_chart(made: Motif) -> str | None:
    if made.first == CELL.first:
        return None
    return f"The chart works row 1 in {CELL.first}; your motif says {made.first} (`first=`)."


def _shows_what_the_hook_makes(made: Motif) -> str | None:
    return told_apart(made.grid, _FRONT, ": which marks have to do with the squares there?")


EXERCISES = (
    Exercise(
        "the colour of a row",
        choice("MC", "CC", "both"),
        (
            this_choice(
                role_of_row(_ROW, HIVE.first),
                "That is the yarn of the row.",
                again={
                    "both": "Two colours show, but one row is worked with one yarn from end to end.",
                    **dict.fromkeys(
                        ("MC", "CC"),
                        "The colour of most squares need not be the yarn of the row. Begin at row 1, at the bottom, "
                        "and let the yarns take turns.",
                    ),
                },
            ),
        ),
        HIVE,
        "Yarns alternate from row 1 on, whatever the squares show.",
    ),
    Exercise(
        "overlaid squares",
        squares,
        (
            AnswerPart("All that you name are overlaid squares of these rows.", _all_overlaid, applies=bool),
            _NONE_LEFT_OUT,
        ),
        HIVE,
        "None of them shows the yarn of its row; an FLdc of the row above covers each.",
    ),
    Exercise(
        "from marks to a picture",
        motif,
        (
            of_size(*CELL.shape),
            AnswerPart("Row 1 has the yarn that the chart says.", _row_1_as_in_the_chart),
            AnswerPart("It shows what the hook makes of these marks.", _shows_what_the_hook_makes),
        ),
        CELL,
        "Each FLdc shows its yarn on the square below it; all other squares show the yarn of their row.",
    ),
)
