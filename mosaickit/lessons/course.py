"""The course: its lessons in order, each with its exercises, and the two verbs that a lesson uses."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from mosaickit.errors import OptionError
from mosaickit.lessons import (
    faces,
    mending,
    overlay,
    proportion,
    reading,
    repeats,
    reversible,
    scarf,
    strands,
    swatches,
    vision,
    workable,
)
from mosaickit.lessons.exercises import Exercise, Feedback


@dataclass(frozen=True)
class Lesson:
    """A lesson.

    Attributes
    ----------
    title : str
        Its title.
    exercises : tuple of Exercise
        In order.
    """

    title: str
    exercises: tuple[Exercise, ...]


COURSE = (
    Lesson("Reading a chart", reading.EXERCISES),
    Lesson("Why a square can or cannot be worked", workable.EXERCISES),
    Lesson("Overlay, row by row", overlay.EXERCISES),
    Lesson("Making it reversible", reversible.EXERCISES),
    Lesson("The law of the two faces", faces.EXERCISES),
    Lesson("Repeats, centring and frames", repeats.EXERCISES),
    Lesson("Gauge and proportion", proportion.EXERCISES),
    Lesson("Yarn and a swatch", swatches.EXERCISES),
    Lesson("Carried or cut", strands.EXERCISES),
    Lesson("Mistakes, and how to mend them", mending.EXERCISES),
    Lesson("Designing for a scarf", scarf.EXERCISES),
    Lesson("Contrast and colour vision", vision.EXERCISES),
)
"""The lessons in order; the first is lesson 1."""

EXERCISES = {
    f"{lesson}.{number}": exercise
    for lesson, each in enumerate(COURSE, 1)
    for number, exercise in enumerate(each.exercises, 1)
}
"""All exercises by their names, as "3.2"."""


def _exercise(name: object) -> Exercise:
    if not isinstance(name, str) or name.strip() not in EXERCISES:
        raise OptionError(
            f"There is no exercise {name!r}: they are named by lesson and number, from '1.1' to '{len(COURSE)}.3'."
        )
    return EXERCISES[name.strip()]


def given(exercise: str) -> Any:  # noqa: ANN401 — a motif, a chart, or several by their names
    """Give what an exercise is worked on.

    Parameters
    ----------
    exercise : str
        Its name: lesson and number, as "3.2".

    Returns
    -------
    object
        A motif, a chart, or a dict of several by their names; None if the exercise gives nothing.

    Raises
    ------
    OptionError
        If there is no such exercise.

    Examples
    --------
    >>> given("1.1").shape
    (7, 9)
    """
    return _exercise(exercise).given


def check(exercise: str, answer: object) -> Feedback:
    """Say what is right about an answer, what is missing, and where; never the answer.

    Parameters
    ----------
    exercise : str
        Its name: lesson and number, as "3.2".
    answer : object
        What was made of it; ``...`` while there is none.

    Returns
    -------
    Feedback
        With ``.ok``, ``.right`` and ``.missing``; a notebook shows it as a list.

    Raises
    ------
    OptionError
        If there is no such exercise. Whatever the answer is, it is answered and not raised.

    Examples
    --------
    >>> feedback = check("1.1", ...)
    >>> feedback.ok, feedback.missing[0]
    (False, 'No answer yet: put one in place of the dots, and run the cell again.')
    """
    return _exercise(exercise).look_at(answer, exercise.strip())
