"""Lesson 3: overlay, row by row.

The scenario: a lock keeper crochets a strip of reeds between two boats, stops in any row, and has to know what comes
next.
"""

from __future__ import annotations

import numpy as np

from mosaickit.fabric import Stitch, compile_chart, place_stitches
from mosaickit.lessons.answers import motif, text, whole_numbers
from mosaickit.lessons.exercises import AnswerPart, Exercise
from mosaickit.lessons.parts import can_be_worked, of_size
from mosaickit.lessons.sentences import in_rows
from mosaickit.motif import Motif

REEDS = Motif.from_text(
    """
    ..........
    ##.##.####
    .#..#..##.
    ##..##.###
    .#..##..#.
    ##..##..##
    ....##..#.
    #...##..##
    ..........
    """,
    name="reeds",
)

STRIP = Motif.from_text(
    """
    ........
    ########
    ........
    ########
    ........
    ########
    ........
    """,
    name="strip",
)

_ROW = 7
_EACH = 2
"""So many FLdc are asked for in every row of the strip that can have any."""

_chart = compile_chart(REEDS)
_counts = np.count_nonzero(_chart.stitches == Stitch.FLDC, axis=1)
_marks = "".join(Stitch(stitch).character for stitch in _chart.stitches[_ROW - 1].tolist())


# ---- counting FLdc -----------------------------------------------------------------------------------------


def _a_number_a_row(counted: tuple[int, ...]) -> str | None:
    rows = len(_counts)
    return None if len(counted) == rows else f"The picture has {rows} rows; you give {len(counted)} numbers."


def _lowest_rows(counted: tuple[int, ...]) -> str | None:
    wrong = [row for row in (1, 2) if counted[row - 1] != _counts[row - 1]]
    return f"Look again at {in_rows(wrong)}: what lies two rows below?" if wrong else None


def _other_rows(counted: tuple[int, ...]) -> str | None:
    wrong = [row for row in range(3, len(_counts) + 1) if counted[row - 1] != _counts[row - 1]]
    return f"Look again at {in_rows(wrong)}: which squares do the FLdc there cover?" if wrong else None


# ---- one row in marks --------------------------------------------------------------------------------------


def _row(answer: object) -> str:
    return "".join(text(answer).split())


def _marks_only(written: str) -> str | None:
    other = sorted(set(written) - set(".|"))
    return f"A row is written with '.' and '|' alone; yours has {other[0]!r} too." if other else None


def _all_stitches(written: str) -> str | None:
    count = len(written)
    return None if count == len(_marks) else f"The row has {len(_marks)} stitches; you write {count}."


def _right_stitches(written: str) -> str | None:
    if written == _marks:
        return None
    if written == _marks[::-1]:
        return "These are the stitches from left to right as seen. Which of them is worked first?"
    wrong = [str(number) for number, pair in enumerate(zip(written, _marks, strict=True), 1) if pair[0] != pair[1]]
    where = f"stitch {wrong[0]}" if len(wrong) == 1 else f"stitches {', '.join(wrong[:-1])} and {wrong[-1]}"
    return f"Look again at {where}, counted in the order of work."


# ---- a strip of your own ----------------------------------------------------------------------------------


def _as_many_in_each_row(made: Motif) -> str | None:
    standing = np.count_nonzero(place_stitches(made) == Stitch.FLDC, axis=1)
    wrong = [row for row in range(3, made.shape[0] + 1) if standing[row - 1] != _EACH]
    if not wrong:
        return None
    first = wrong[0]
    has = int(standing[first - 1])
    rest = f"; look at {in_rows(wrong[1:])} as well" if wrong[1:] else ""
    return f"Row {first} has {has} FLdc where {_EACH} are asked for{rest}."


def _firm_edges(made: Motif) -> str | None:
    standing = place_stitches(made) == Stitch.FLDC
    wrong = [row for row in range(1, made.shape[0] + 1) if standing[row - 1, 0] or standing[row - 1, -1]]
    return f"In {in_rows(wrong)} an FLdc stands in the first or the last stitch." if wrong else None


EXERCISES = (
    Exercise(
        "FLdc in every row",
        whole_numbers,
        (
            AnswerPart("There is a number for every row.", _a_number_a_row, needed=True),
            AnswerPart("The two lowest rows are right.", _lowest_rows),
            AnswerPart("The rows from 3 on are right.", _other_rows),
        ),
        REEDS,
        "Every row has as many FLdc as the row below it has overlaid squares.",
    ),
    Exercise(
        "a row in marks",
        _row,
        (
            AnswerPart("It is written in marks.", _marks_only, needed=True, applies=bool),
            AnswerPart("It has all stitches of the row.", _all_stitches, needed=True),
            AnswerPart("Every stitch stands where it is worked.", _right_stitches),
        ),
        REEDS,
    ),
    Exercise(
        "a strip of your own",
        motif,
        (
            of_size(*STRIP.shape),
            can_be_worked(),
            AnswerPart(f"Every row from 3 on has {_EACH} FLdc.", _as_many_in_each_row),
            AnswerPart(
                "No FLdc stands in a first or last stitch.", _firm_edges, applies=lambda made: bool(made.overlaid.any())
            ),
        ),
        STRIP,
        "Overlaid squares of neighbouring rows had to stand beside each other, never one above the other.",
    ),
)
