"""Exercises of your own: made in a cell, tried out on answers, kept in a file beside the notebook.

What is wrong with an exercise is said to its maker, before a learner meets it: a solution that its own parts do
not let pass, a part that raises, a part that lets everything pass.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from copy import deepcopy
from dataclasses import dataclass
from html import escape
from os import PathLike
from pathlib import Path
from typing import Any

import numpy as np

from mosaickit.errors import OptionError, each_of_kind, of_kind, shortly, text
from mosaickit.fabric import Chart
from mosaickit.files import as_path
from mosaickit.lessons.answers import READERS, short
from mosaickit.lessons.documents import LESSON_ENDING, reader_of, save_lesson
from mosaickit.lessons.exercises import AnswerPart, Exercise, Lesson, said_by
from mosaickit.motif import Motif, mirror


def exercise(
    title: str,
    *,
    question: str,
    answer: str | Iterable[str],
    parts: Iterable[AnswerPart | tuple[AnswerPart, ...]],
    solution: object,
    given: object = None,
    because: str = "",
) -> Exercise:
    """Make an exercise of your own.

    Parameters
    ----------
    title : str
        What it is about, as "the rows of a lantern".
    question : str
        What is asked, in the Markdown of notebooks.
    answer : str or list of str
        What is asked for: "a motif", "a chart", "a number", "a whole number", "whole numbers", "squares", "a text" or
        "a function", as `READERS` lists them; or the words to choose from, as ["carried", "cut"].
    parts : list of AnswerPart
        What a right answer has, the simplest first: `of_size`, `can_be_worked`, `these_squares` and the others, or
        `part` with a function of your own.
    solution : object
        One right answer. Learners do not get it.
    given : object
        What is worked on: a motif, a chart, a gauge, a number or a text, or a dict of several by their names.
    because : str
        PartVerdict when all is right: why it is so.

    Returns
    -------
    Exercise
        For `check`, `try_out` and `keep`.

    Raises
    ------
    OptionError
        If an argument is not as described. Whether the parts let the solution pass is for `try_out` to say.

    Examples
    --------
    >>> from mosaickit.lessons import this_number
    >>> rows = exercise(
    ...     "rows of a lantern",
    ...     question="How many rows does it have?",
    ...     answer="a whole number",
    ...     parts=[this_number(7, low="Count row 1 as well.")],
    ...     solution=7,
    ... )
    >>> rows.look_at(6, "").missing
    ('Count row 1 as well.',)
    """
    for name, words in (("title", title), ("question", question)):
        if not text(name, words).strip():
            raise OptionError(f"`{name}` must not be empty.")
    kind = _kind(answer)
    flat: list[AnswerPart] = []
    if isinstance(parts, AnswerPart) or not isinstance(parts, Iterable):
        raise OptionError(f"`parts` must be a list of parts, as [mk.lessons.can_be_worked()]; got {shortly(parts)}.")
    for each in parts:
        flat += each if isinstance(each, tuple) else [each]
    checked = each_of_kind("parts", flat, AnswerPart)
    if not checked:
        raise OptionError("`parts` must have at least one part: without any, every answer would be right.")
    if solution is ... or solution is None:
        raise OptionError("`solution` must be one right answer: it is what the parts are tried out on.")
    return Exercise(
        title, reader_of(kind), checked, deepcopy(given), text("because", because), question, kind, deepcopy(solution)
    )


def _kind(answer: object) -> str | tuple[str, ...]:
    listed = ", ".join(repr(kind) for kind in READERS)
    wrong = OptionError(f"`answer` must be one of {listed}, or a list of words to choose from; got {shortly(answer)}.")
    if isinstance(answer, str):
        if answer not in READERS:
            raise wrong
        return answer
    words = tuple(answer) if isinstance(answer, Iterable) else ()
    if len(words) < 2 or not all(isinstance(word, str) and word.strip() == word and word for word in words):
        raise wrong
    if len({word.casefold() for word in words}) < len(words):
        raise OptionError(f"`answer` names a word twice: {shortly(words)}.")
    return words


# ---- trying out --------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class TryOut:
    """What came of trying an exercise out.

    Attributes
    ----------
    title : str
        The exercise.
    faults : tuple of str
        What has to be put right before a learner meets it.
    advice : tuple of str
        What may be meant so.
    tried : int
        On how many other answers, beside the solution.
    """

    title: str
    faults: tuple[str, ...]
    advice: tuple[str, ...]
    tried: int

    @property
    def ok(self) -> bool:
        """Whether it has no fault."""
        return not self.faults

    def __str__(self) -> str:
        head = f"“{self.title}”, tried on its solution and {self.tried} other answers: "
        head += "no fault." if self.ok else "not ready for learners."
        lines = [f"  fault: {sentence}" for sentence in self.faults]
        return "\n".join([head, *lines, *(f"  look at it: {sentence}" for sentence in self.advice)])

    def __repr__(self) -> str:
        return f"<TryOut {self}>"

    def _repr_html_(self) -> str:
        head, *lines = str(self).split("\n")
        items = "".join(f"<li>{escape(line.strip())}</li>" for line in lines)
        return f"<p><strong>{escape(head)}</strong></p><ul>{items}</ul>" if lines else f"<p>{escape(head)}</p>"


def try_out(exercise: Exercise, *, wrong: Iterable[object] = ()) -> TryOut:
    """Try an exercise on its own solution and on other answers, and say what is wrong with the exercise.

    Parameters
    ----------
    exercise : Exercise
        Of your own.
    wrong : list
        Answers that have to be found wrong.

    Returns
    -------
    TryOut
        With ``.ok``, ``.faults`` and ``.advice``; nothing is raised for what the parts do.

    Raises
    ------
    OptionError
        If an argument is not as described.
    """
    of_kind("exercise", exercise, Exercise)
    if isinstance(wrong, str | Motif | Chart) or not isinstance(wrong, Iterable):
        raise OptionError(f"`wrong` must be a list of answers; got {shortly(wrong)}.")
    if exercise.solution is ...:
        raise OptionError(f"“{exercise.title}” has no solution here, and without one nothing can be tried.")
    listed = list(wrong)
    others = [*listed, *_others(exercise)]
    faults = list(_of_the_solution(exercise))
    for answer in listed:
        if exercise.look_at(answer, "").ok:
            faults.append(f"The answer {short(answer)}, which has to be found wrong, passes every part.")
    values = [value for answer in others for value in _read(exercise, answer)]
    advice = []
    for number, part in enumerate(exercise.parts, 1):
        said = [said_by(part, value) for value in values]
        named = f"Part {number}, “{part.right}”,"
        raised = [one.fault for one in said if one.fault]
        if raised:
            faults.append(f"{named} goes wrong on {len(raised)} of the other answers: {raised[0]}.")
        elif values and not any(one.missing for one in said):
            advice.append(f"{named} lets all of the other answers pass: does it look at the answer?")
    return TryOut(exercise.title, tuple(dict.fromkeys(faults)), tuple(advice), len(others))


def _of_the_solution(exercise: Exercise) -> Iterator[str]:
    """Say what is wrong with a solution by its own exercise."""
    try:
        value = exercise.read(deepcopy(exercise.solution))
    except Exception as error:
        yield f"The solution cannot be read as an answer. {error}"
        return
    for number, part in enumerate(exercise.parts, 1):
        said = said_by(part, value)
        if said.fault:
            yield f"Part {number}, “{part.right}”, goes wrong on the solution: {said.fault}."
        elif said.missing:
            yield f"Part {number}, “{part.right}”, does not let the solution pass: “{said.missing}”"


def _read(exercise: Exercise, answer: object) -> Iterator[Any]:
    try:
        yield exercise.read(answer)
    except (Exception, SystemExit):  # what cannot be read is answered before any part is asked
        return


def _others(exercise: Exercise) -> Iterator[object]:
    """Make answers of the kind that is asked for: what was given, nothing, and the solution changed in many ways."""
    given = exercise.given.values() if isinstance(exercise.given, dict) else [exercise.given]
    yield from (each for each in given if isinstance(each, type(exercise.solution)))
    right = exercise.solution
    if isinstance(exercise.answer, tuple):
        yield from (word for word in exercise.answer if word != right)
    elif isinstance(right, Motif):
        yield from _other_motifs(right)
    elif isinstance(right, Chart):
        yield from (Chart.from_text("\n".join("." * n for _ in range(3))) for n in (1, right.shape[1]))
        yield Chart.from_text("\n".join("." * right.shape[1] for _ in range(right.shape[0])), right.first)
    elif isinstance(right, str):
        yield from ("", right[:-1], right[::-1], f"{right}{right}", "?")
    elif isinstance(right, bool | int | float | np.number):
        yield from (right + 1, right - 1, 0, -right, 2 * right + 1, 1_000_003)
    elif isinstance(right, Iterable):
        listed = list(right)
        pairs = exercise.answer == "squares"
        yield from ([], listed[1:], [*listed, (997, 991) if pairs else 991], [(1, 1)] if pairs else [1])


def _other_motifs(right: Motif) -> Iterator[Motif]:
    rows, stitches = right.shape
    for shape in ((1, 1), (rows + 1, stitches), (rows, stitches + 2)):
        blank = Motif(np.zeros(shape, dtype=np.bool_), right.first)
        yield blank.with_grid(blank.grid ^ blank.row_is_cc)
    blank = Motif(np.zeros(right.shape, dtype=np.bool_), right.first)
    yield blank.with_grid(blank.grid ^ blank.row_is_cc)
    yield right.with_grid(~right.grid)
    yield from (right.with_grid(right.grid[::-1]), mirror(right))
    for place in range(0, right.grid.size, max(1, right.grid.size // 10)):
        grid = right.grid.copy()
        grid.flat[place] ^= True
        yield right.with_grid(grid)


# ---- keeping -----------------------------------------------------------------------------------------------


def keep(lesson: Lesson, path: str | PathLike[str], *, replace: bool = False) -> Path:
    """Write a lesson of your own to a file beside its notebook, from where `check` takes its exercises.

    Parameters
    ----------
    lesson : Lesson
        With exercises of your own.
    path : path
        A file that ends in .lesson. Its name without that is the name of the lesson: "lanterns.2" is the second
        exercise of lanterns.lesson.
    replace : bool
        Whether to replace whatever file is there. Otherwise only an earlier file of the lesson with this title is, if
        nothing changed it since.

    Returns
    -------
    Path
        The file. It holds the solutions: `handout` makes a copy for learners without them.

    Raises
    ------
    OptionError
        If the lesson has a fault, which `try_out` tells of, or something that no file can hold.
    TakenError
        If a file of another lesson is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    of_kind("lesson", lesson, Lesson)
    file = as_path(path)
    if file.suffix != LESSON_ENDING or not file.stem or "." in file.stem or file.stem.isdigit():
        raise OptionError(
            f"`path` must be a name with a letter in it, no full stop, and the ending {LESSON_ENDING}, as "
            f"'lanterns{LESSON_ENDING}'; got {file.name!r}."
        )
    for number, each in enumerate(lesson.exercises, 1):
        if each.solution is ...:
            raise OptionError(
                f"Exercise {number} of “{lesson.title}” has no solution: a learners' copy is not written "
                "over the lesson itself."
            )
        tried = try_out(each)
        if not tried.ok:
            raise OptionError(
                f"Exercise {number} of “{lesson.title}” is not ready for learners. {' '.join(tried.faults)}"
            )
    return save_lesson(lesson, file, for_learners=False, replace=replace)
