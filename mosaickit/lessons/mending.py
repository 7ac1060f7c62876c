"""Lesson 10: mistakes, and how to mend them.

The scenario: somebody who drives a bus crochets while the bus waits at the last stop, and is called away in the middle
of a row. One repeat shows the fir that stands there, with an edge stitch at both sides.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from mosaickit.fabric import Chart, Fabric, Stitch, compile_chart, work
from mosaickit.lessons.answers import chart, motif, squares
from mosaickit.lessons.exercises import AnswerPart, Exercise
from mosaickit.lessons.parts import can_be_worked, changes_at_most, hook_works_it, of_size, own_mirror, these_squares
from mosaickit.lessons.sentences import in_rows, marked
from mosaickit.motif import Motif, nearest_workable
from mosaickit.orientation import from_behind

FIR = Motif.from_text(
    """
    .............
    #.....#.....#
    ......#......
    #....###....#
    .....###.....
    #..#######..#
    ...#######...
    #.#########.#
    ......#......
    #...#####...#
    .............
    """,
    name="fir",
)

DRAWN = Motif.from_text(
    """
    .............
    #.....#.....#
    .....###.....
    #....###....#
    .....###.....
    #..#######..#
    ..#########..
    #.#########.#
    ......#......
    #...#####...#
    .............
    """,
    name="fir, first drawing",
)


# ---- a row that was worked otherwise -----------------------------------------------------------------------


def _worked_otherwise(charted: Chart) -> Chart:
    """Work row 5 with its first FLdc one stitch late, and forget an FLdc in row 7."""
    stitches = charted.stitches.copy()
    stitches[4, 1:3] = Stitch.BLSC, Stitch.FLDC
    stitches[6, 10] = Stitch.BLSC
    return replace(charted, stitches=stitches, name="fir, as worked")


_charted = compile_chart(FIR)
_worked = _worked_otherwise(_charted)


def _differing(one: Chart, two: Chart) -> list[tuple[int, int]]:
    """List the stitches, from 1, that two charts of one size have otherwise."""
    return [(row + 1, stitch + 1) for row, stitch in np.argwhere(one.stitches != two.stitches).tolist()]


# ---- a drawing ---------------------------------------------------------------------------------------------


def _row_1_keeps_its_colour(made: Motif) -> str | None:
    return None if made.first == DRAWN.first else f"Row 1 was {DRAWN.first}; now it is {made.first}."


# ---- a mistake that does not show in front -----------------------------------------------------------------

_closed = compile_chart(FIR, reversible=True)


def _same_but_for_stitches(made: Chart) -> str | None:
    if made.shape != _closed.shape:
        rows, stitches = _closed.shape
        return f"The chart given has {rows} rows of {stitches} stitches; yours has {made.shape[0]} of {made.shape[1]}."
    if (made.row_colours, made.hand, made.in_the_round) != (_closed.row_colours, _closed.hand, _closed.in_the_round):
        return "The chart given starts in MC, flat, for a hook in the right hand; yours does not."
    return None


def _one_stitch(made: Chart) -> str | None:
    differing = _differing(made, _closed)
    if len(differing) == 1:
        return None
    if not differing:
        return "Every stitch is as in the chart given."
    return f"{len(differing)} stitches are not as in the chart given, in {in_rows(row for row, _ in differing)}."


def _front_as_charted(made: Chart) -> str | None:
    wrong = sorted(marked(work(made).front ^ work(_closed).front))
    return f"The front looks otherwise at row {wrong[0][0]}, stitch {wrong[0][1]}." if wrong else None


def _back_otherwise(made: Chart) -> str | None:
    def seen_through(fabric: Fabric) -> bytes:
        return from_behind(fabric.back).tobytes()

    if seen_through(work(made)) != seen_through(work(_closed)):
        return None
    return "The back looks as charted as well: turning the work over would not show it."


EXERCISES = (
    Exercise(
        "stitches that were worked otherwise",
        squares,
        these_squares(_differing(_worked, _charted), "stitches that were worked otherwise"),
        {"chart": _charted, "worked": _worked},
        "In the picture they show one row lower: an FLdc hangs over the square below it.",
    ),
    Exercise(
        "a drawing made workable",
        motif,
        (
            of_size(*DRAWN.shape),
            AnswerPart("Row 1 keeps its colour.", _row_1_keeps_its_colour),
            can_be_worked(),
            own_mirror(),
            changes_at_most(int(nearest_workable(DRAWN, symmetry="mirror").cost), DRAWN),
        ),
        DRAWN,
        "Of two overlaid squares, one above the other, either may take its row's colour.",
    ),
    Exercise(
        "a mistake that the front hides",
        chart,
        (
            AnswerPart(
                "It is as large as the chart given, and begins as it does.", _same_but_for_stitches, needed=True
            ),
            AnswerPart("One stitch is another.", _one_stitch),
            hook_works_it(),
            AnswerPart("The front looks as charted.", _front_as_charted, applies=lambda made: made != _closed),
            AnswerPart("The back does not.", _back_otherwise),
        ),
        _closed,
        "A tog-b covers a square of the back only; left out, the back shows its row's colour there.",
    ),
)
