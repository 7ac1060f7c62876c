"""The verbs that a notebook asks: what is given, whether an answer is right, and, if it is asked for, a solution.

An exercise is named by lesson and number: "3.2" is one of the course, "lanterns.2" the second of the file
lanterns.lesson in the notebook's own folder. An exercise that was made in the notebook is given itself.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from copy import deepcopy
from pathlib import Path
from typing import Any

from mosaickit.errors import OptionError
from mosaickit.lessons.answers import short
from mosaickit.lessons.course import COURSE, EXERCISES
from mosaickit.lessons.documents import LESSON_ENDING, open_lesson
from mosaickit.lessons.exercises import Exercise, Feedback, Lesson
from mosaickit.lessons.kept import told

OWN_NAME = re.compile(r"([^./\\\s][^./\\]*)\.([1-9]\d{0,2})")
"""A file's name without its ending, and the number of an exercise in it."""


def found(exercise: object, folder: Path | None = None) -> tuple[Exercise, str]:
    """Find an exercise, and give it with its name; raise `OptionError` if there is no such exercise."""
    if isinstance(exercise, Exercise):
        return exercise, ""
    name = exercise.strip() if isinstance(exercise, str) else ""
    if name in EXERCISES:
        return EXERCISES[name], name
    own = OWN_NAME.fullmatch(name)
    if own is None or own[1].isdigit():
        raise OptionError(
            f"There is no exercise {short(exercise)}: the course has them from '1.1' to '{len(COURSE)}.3', by lesson "
            f"and number; a lesson of your own by its file and number, as 'lanterns.2' for lanterns.lesson beside it."
        )
    lesson = open_lesson((folder or Path()) / f"{own[1]}{LESSON_ENDING}")
    there = exercise_in(name, {own[1]: lesson})
    if there is None:
        raise OptionError(
            f"There is no exercise {name!r}: the lesson “{lesson.title}” has exercises 1 to {len(lesson.exercises)}."
        )
    return there, name


def exercise_in(name: str, lessons: Mapping[str, Lesson]) -> Exercise | None:
    """Give an exercise of the course, or of one of these lessons by the names of their files; None if there is none."""
    own = OWN_NAME.fullmatch(name)
    if name in EXERCISES or own is None or own[1] not in lessons:
        return EXERCISES.get(name)
    exercises = lessons[own[1]].exercises
    return exercises[int(own[2]) - 1] if int(own[2]) <= len(exercises) else None


def given(exercise: str | Exercise) -> Any:  # noqa: ANN401 — a motif, a chart, or several by their names
    """Give what an exercise is worked on.

    Parameters
    ----------
    exercise : str or Exercise
        Its name: lesson and number, as "3.2", or "lanterns.2" for the second of lanterns.lesson in this folder. Or an
        exercise that was made in this notebook.

    Returns
    -------
    object
        A motif, a chart, or a dict of several by their names; None if the exercise gives nothing. It is new each time:
        whatever is done to it changes no later check.

    Raises
    ------
    OptionError
        If there is no such exercise.
    FileError
        If its lesson's file is not there or damaged.

    Examples
    --------
    >>> given("1.1").shape
    (7, 9)
    """
    return deepcopy(found(exercise)[0].given)


def check(exercise: str | Exercise, answer: object) -> Feedback:
    """Say what is right about an answer, what is missing, and where; never the answer.

    Parameters
    ----------
    exercise : str or Exercise
        Its name: lesson and number, as "3.2", or "lanterns.2" for the second of lanterns.lesson in this folder. Or an
        exercise that was made in this notebook.
    answer : object
        The learner's answer; ``...`` while there is no answer yet.

    Returns
    -------
    Feedback
        With ``.ok``, ``.right``, ``.missing`` and ``.faults``; a notebook shows it as a list, and keeps the answer
        beside it for the class sheet, if it is a motif, a chart, a number, a text or a list.

    Raises
    ------
    OptionError
        If there is no such exercise. Whatever the answer is, it is answered and not raised.
    FileError
        If the lesson's file is not there or damaged.

    Examples
    --------
    >>> feedback = check("1.1", ...)
    >>> feedback.ok, feedback.missing[0]
    (False, 'No answer yet: put one in place of the dots, and run the cell again.')
    """
    asked, name = found(exercise)
    return asked.look_at(answer, name).keeping(told(answer))


def solution(exercise: str | Exercise) -> Any:  # noqa: ANN401 — whatever the exercise asks for
    """Give one right answer to an exercise of your own, when it is asked for.

    Parameters
    ----------
    exercise : str or Exercise
        As `check` takes it.

    Returns
    -------
    object
        It is new each time.

    Raises
    ------
    OptionError
        If there is no such exercise, or no solution of it here: the course has its solutions in hidden cells of its
        notebooks, and a learners' copy has none.
    FileError
        If the lesson's file is not there or damaged.
    """
    asked, name = found(exercise)
    if asked.solution is ...:
        where = (
            "the hidden cell below its answer in the notebook has one"
            if name in EXERCISES
            else "this copy of the lesson is for learners, or none was given"
        )
        raise OptionError(f"There is no solution of {name or asked.title!r} here: {where}.")
    return deepcopy(asked.solution)
