"""Lesson 4: making it reversible.

The scenario: a puppeteer sews a small curtain that is seen from the hall and from behind the stage, with a moon on it.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from mosaickit.fabric import Chart, Stitch, compile_chart, work
from mosaickit.gauge import Gauge
from mosaickit.lessons.answers import chart, motif, squares
from mosaickit.lessons.exercises import AnswerPart, Exercise
from mosaickit.lessons.parts import can_be_worked, hook_works_it, of_size, these_squares
from mosaickit.lessons.sentences import in_rows, rows_that_differ
from mosaickit.motif import Motif
from mosaickit.orientation import from_behind, to_working
from mosaickit.yarn import surcharge

SPARKS = Chart.from_text(
    """
    .......
    ...|...
    ..|..|.
    ...||..
    .|.....
    .......
    .......
    """,
    name="sparks",
)

MOON = Chart.from_text(
    """
    ...|....
    ..|.|...
    .....|..
    ..|.|...
    ...|....
    ........
    ........
    """,
    name="moon",
)

CURTAIN = Motif.from_text(
    """
    ............
    ############
    ............
    ############
    ............
    ############
    ............
    ############
    ............
    """,
    name="curtain",
)

_GAUGE = Gauge(16, 18)
_LEAST, _MOST = 0.15, 0.20
"""How much more yarn the reversible curtain may take than the plain one."""

_open_in_sparks = frozenset((row, stitch) for row, stitch in work(SPARKS).open_loops.tolist())
_front = work(MOON).front
_both_faces = work(compile_chart(Motif(_front, MOON.first), reversible=True))


# ---- a chart made reversible -------------------------------------------------------------------------------


def _of_the_size(made: Chart) -> str | None:
    if made.shape == MOON.shape:
        return None
    (rows, stitches), (its_rows, its_stitches) = MOON.shape, made.shape
    return f"It should have {rows} rows of {stitches} stitches; it has {its_rows} of {its_stitches}."


def _same_front(made: Chart) -> str | None:
    wrong = rows_that_differ(work(made).front, _front)
    return f"The front is no longer the moon: look at {in_rows(wrong)} of the picture." if wrong else None


def _has_more_than_plain_stitches(made: Chart) -> bool:
    return bool(np.isin(made.stitches, (Stitch.SC, Stitch.BLSC), invert=True).any())


def _no_open_loop(made: Chart) -> str | None:
    loops = work(made).open_loops
    if not len(loops):
        return None
    row, stitch = loops[0].tolist()
    more = f", and {len(loops) - 1} more" if len(loops) > 1 else ""
    return f"The back loop of row {row}, stitch {stitch} is still open{more}."


def _back_shows_it(made: Chart) -> str | None:
    wrong = to_working(from_behind(work(made).back != _both_faces.back), made.hand)
    if not wrong.any():
        return None
    row, stitch = (np.argwhere(wrong)[0] + 1).tolist()
    return f"The back does not yet show the whole moon: look behind row {row}, stitch {stitch}."


# ---- a curtain of your own --------------------------------------------------------------------------------


def _more_yarn(made: Motif) -> str | None:
    share = surcharge(made, _GAUGE)
    if _LEAST <= share <= _MOST:
        return None
    too = "too little" if share < _LEAST else "too much"
    return f"Reversible, it takes {share:.1%} more yarn than plain: that is {too}. What asks for the longer stitches?"


EXERCISES = (
    Exercise(
        "open back loops",
        squares,
        these_squares(_open_in_sparks, "open back loops"),
        SPARKS,
        "An FLdc skips the stitch behind it, in the row below, and leaves that stitch's back loop open.",
    ),
    Exercise(
        "a chart made reversible",
        chart,
        (
            AnswerPart("It has the size of the plain chart.", _of_the_size, needed=True),
            hook_works_it(),
            AnswerPart("The front is the same as before.", _same_front),
            AnswerPart("No back loop is open.", _no_open_loop, applies=_has_more_than_plain_stitches),
            AnswerPart("The back shows the moon too.", _back_shows_it),
        ),
        MOON,
        "The hook found both faces and no open loop.",
    ),
    Exercise(
        "a curtain for so much yarn",
        motif,
        (
            of_size(*CURTAIN.shape),
            replace(can_be_worked(), needed=True),
            AnswerPart("The reversible fabric takes as much more yarn as was asked for.", _more_yarn),
        ),
        CURTAIN,
        "The more FLdc, the more yarn the back takes, wherever they stand.",
    ),
)
