"""Lesson 2: why a square can or cannot be worked.

The scenario: a glazier draws leaded windows for cushions. Lead is CC, glass is MC; upright bars come easily, crossbars
want the right row, and a slanted bar is where the hook says no.
"""

from __future__ import annotations

from functools import cache
from itertools import product

import numpy as np

from mosaickit.errors import OptionError
from mosaickit.lessons.answers import function, motif, squares
from mosaickit.lessons.exercises import AnswerPart, Exercise
from mosaickit.lessons.parts import can_be_worked, changes_at_most, of_size, these_squares
from mosaickit.lessons.sentences import in_rows, marked
from mosaickit.motif import Motif, check, nearest_workable
from mosaickit.orientation import to_seen

WINDOW = Motif.from_text(
    """
    #####.#
    ...#...
    #..#..#
    ...##..
    ##.####
    ...#...
    #.#####
    """,
    first="CC",
    name="window",
)

DIAMOND = Motif.from_text(
    """
    #######
    ...#...
    #.#.#.#
    .#...#.
    #.#.#.#
    ...#...
    #######
    """,
    first="CC",
    name="diamond pane",
)

_TALLEST = 7
"""Columns up to so many rows are tried: all 254 of them, so that no rule of thumb slips through."""

_Column = tuple[bool, ...]
"""Of each row, row 1 first, whether its square is overlaid."""

_Judged = dict[_Column, bool]
"""What a function says of columns: whether they can be worked."""


@cache
def _columns() -> _Judged:
    """Tell of every small column whether it can be worked."""
    found: _Judged = {}
    for rows in range(1, _TALLEST + 1):
        columns = list(product((False, True), repeat=rows))
        plain = Motif(np.zeros((rows, len(columns)), dtype=np.bool_))
        # one picture holds all columns of a height side by side, in the order of a left-hander's stitches
        overlaid = to_seen(np.array(columns, dtype=np.bool_).T, "left")
        errors = check(plain.with_overlaid(overlaid)).squares("error")
        for column, wrong in zip(columns, errors.T, strict=True):
            found[column] = not wrong.any()
    return found


def _judged(answer: object) -> _Judged:
    """Read a function by asking it about every column, each once: what a learner wrote may do anything."""
    judge = function(answer)
    said: _Judged = {}
    for column in _columns():
        try:
            verdict = judge(list(column))
        except (Exception, SystemExit) as error:
            raise OptionError(
                f"For {list(column)} your function raised {type(error).__name__}, where it should give True or False."
            ) from None
        if not isinstance(verdict, bool | np.bool_):
            given = "nothing" if verdict is None else f"a value of the kind `{type(verdict).__name__}`"
            raise OptionError(f"For {list(column)} your function gave {given}, where it should give True or False.")
        said[column] = bool(verdict)
    return said


def _overlaid_at_an_end(column: _Column) -> bool:
    return column[0] or column[-1]


def _lets_through(said: _Judged) -> str | None:
    for column, workable in _columns().items():
        if workable and not said[column]:
            return f"For {list(column)} it says False, and yet a hook makes that column."
    return None


def _minds_the_ends(said: _Judged) -> str | None:
    for column, workable in _columns().items():
        if not workable and said[column] and _overlaid_at_an_end(column):
            return f"For {list(column)} it says True, and the hook stops: look at its first and its last row."
    return None


def _minds_the_middle(said: _Judged) -> str | None:
    for column, workable in _columns().items():
        if not workable and said[column] and not _overlaid_at_an_end(column):
            overlaid = in_rows(row for row, here in enumerate(column, 1) if here)
            return f"For {list(column)} it says True, and the hook stops: look at {overlaid}."
    return None


EXERCISES = (
    Exercise(
        "where the hook stops",
        squares,
        these_squares(marked(check(WINDOW).squares("error")), "squares that cannot be worked"),
        WINDOW,
        "One has nothing below to reach into, one has no row above it, and two lie one above the other.",
    ),
    Exercise(
        "mending with few squares",
        motif,
        (
            of_size(*DIAMOND.shape),
            can_be_worked(),
            changes_at_most(len(nearest_workable(DIAMOND).squares), DIAMOND),
        ),
        DIAMOND,
        "There are several ways to do it with so few squares; which looks best is the maker's to say.",
    ),
    Exercise(
        "a rule for one column",
        _judged,
        (
            AnswerPart("It lets through every column that a hook can make.", _lets_through),
            AnswerPart("It stops what is overlaid in the first or the last row.", _minds_the_ends),
            AnswerPart("It stops what is overlaid twice, one above the other.", _minds_the_middle),
        ),
        None,
        f"It was tried on all {2 ** (_TALLEST + 1) - 2} columns of up to {_TALLEST} rows.",
    ),
)
