"""Lessons of your own as files: exercises beside the notebook, read strictly.

An educator's file holds all of a lesson, solutions too. The learners' file has no solutions, and its exercises are
sealed: packed into letters that no one reads by chance. That is no lock. What a part compares an answer with has to be
in the file, or nothing could be checked, and anyone who wants to can unpack it.
"""

from __future__ import annotations

import json
import zlib
from base64 import b64decode, b64encode
from collections.abc import Callable, Iterable, Mapping
from os import PathLike
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import Field

from mosaickit.errors import FileError, MosaickitError, OptionError, of_kind
from mosaickit.files import (
    LARGEST_BYTES,
    WHAT_IT_IS,
    WHICH_VERSION,
    Document,
    FileForm,
    Owner,
    as_path,
    file_name,
    read_document,
    read_whole,
    save_bytes,
    written,
)
from mosaickit.lessons import parts as made
from mosaickit.lessons.answers import LONGEST_ANSWER, MOST_IN_A_LIST, READERS, choice
from mosaickit.lessons.exercises import AnswerPart, Exercise, Lesson
from mosaickit.lessons.kept import KeptValue, form_of, value_of
from mosaickit.motif import LARGEST_SIDE
from mosaickit.sizes import KeptMotif

LESSON_ENDING = ".lesson"
MOST_EXERCISES = 100
MOST_PARTS = 50

_Sentence = Annotated[str, Field(min_length=1, max_length=LONGEST_ANSWER)]
_Text = Annotated[str, Field(max_length=LONGEST_ANSWER)]
_Side = Annotated[int, Field(ge=1, le=LARGEST_SIDE)]
_Count = Annotated[int, Field(ge=0, le=LARGEST_SIDE**2)]
_Square = Annotated[list[int], Field(min_length=2, max_length=2, description="Row and stitch, from 1.")]


# ---- parts -------------------------------------------------------------------------------------------------


class SquaresPart(FileForm):
    """Certain squares or stitches and no others."""

    part: Literal["squares"]
    wanted: Annotated[list[_Square], Field(max_length=MOST_IN_A_LIST)]
    what: _Sentence


class NumbersPart(FileForm):
    """Certain whole numbers and no others."""

    part: Literal["numbers"]
    wanted: Annotated[list[int], Field(max_length=MOST_IN_A_LIST)]
    what: _Sentence


class NumberPart(FileForm):
    """One number."""

    part: Literal["number"]
    wanted: int | float
    right: _Sentence
    off: Annotated[float, Field(ge=0)] | Annotated[int, Field(ge=0)]
    low: _Sentence
    high: _Sentence


class ChoicePart(FileForm):
    """One word of several."""

    part: Literal["choice"]
    wanted: _Sentence
    right: _Sentence
    again: _Sentence | dict[str, _Sentence]


class SizePart(FileForm):
    """A number of rows, of stitches, or of both."""

    part: Literal["size"]
    rows: _Side | None
    stitches: _Side | None


class NoLargerPart(FileForm):
    """The most rows and stitches that a motif may have."""

    part: Literal["no larger"]
    most: _Side


class WorkablePart(FileForm):
    """A motif that can be worked."""

    part: Literal["workable"]


class FewChangesPart(FileForm):
    """Few squares that differ from what was given."""

    part: Literal["few changes"]
    most: _Count
    before: KeptMotif


class OverlaidPart(FileForm):
    """The fewest overlaid squares that a motif may have."""

    part: Literal["overlaid"]
    least: Annotated[int, Field(ge=1, le=LARGEST_SIDE**2)]


class MirrorPart(FileForm):
    """A motif that is its own mirror."""

    part: Literal["mirror"]


class PicturePart(FileForm):
    """A picture that a motif or a chart shows."""

    part: Literal["picture"]
    picture: KeptMotif


class HookPart(FileForm):
    """A chart that a hook can work."""

    part: Literal["hook"]


_Part = Annotated[
    SquaresPart | NumbersPart | NumberPart | ChoicePart | SizePart | NoLargerPart | WorkablePart | FewChangesPart
    | OverlaidPart | MirrorPart | PicturePart | HookPart,
    Field(discriminator="part"),
]  # fmt: skip

_MADE: Mapping[str, Callable[[Any], AnswerPart | tuple[AnswerPart, ...]]] = {
    "squares": lambda form: made.these_squares(form.wanted, form.what),
    "numbers": lambda form: made.these_numbers(form.wanted, form.what),
    "number": lambda form: made.this_number(form.wanted, form.right, off=form.off, low=form.low, high=form.high),
    "choice": lambda form: made.this_choice(form.wanted, form.right, again=form.again),
    "size": lambda form: made.of_size(form.rows, form.stitches),
    "no larger": lambda form: made.no_larger_than(form.most),
    "workable": lambda form: made.can_be_worked(),
    "few changes": lambda form: made.changes_at_most(form.most, form.before),
    "overlaid": lambda form: made.overlaid_at_least(form.least),
    "mirror": lambda form: made.own_mirror(),
    "picture": lambda form: made.this_picture(form.picture),
    "hook": lambda form: made.hook_works_it(),
}


# ---- exercises and lessons ---------------------------------------------------------------------------------


class KeptExercise(FileForm):
    """An exercise."""

    title: _Sentence
    question: _Text
    answer: Annotated[
        str | Annotated[list[_Sentence], Field(min_length=2, max_length=MOST_PARTS)],
        Field(description="What is asked for, or the words to choose from."),
    ]
    given: KeptValue | dict[str, KeptValue] | None
    parts: Annotated[list[_Part], Field(min_length=1, max_length=MOST_PARTS)]
    because: _Text
    solution: KeptValue | None


_Exercises = Annotated[list[KeptExercise], Field(min_length=1, max_length=MOST_EXERCISES)]


class LessonDocument(Document):
    """An educator's lesson, with solutions."""

    format: Annotated[Literal["mosaickit lesson"], WHAT_IT_IS]
    version: Annotated[Literal[1], WHICH_VERSION]
    title: _Sentence
    exercises: _Exercises


class SealedDocument(Document):
    """The learners' copy of a lesson: the same document without solutions, packed."""

    format: Annotated[Literal["mosaickit lesson for learners"], WHAT_IT_IS]
    version: Annotated[Literal[1], WHICH_VERSION]
    title: _Sentence
    sealed: Annotated[str, Field(max_length=LARGEST_BYTES)]


def reader_of(answer: str | tuple[str, ...]) -> Callable[[object], Any]:
    """Give what reads an answer, by the words that say what is asked for."""
    return READERS[answer] if isinstance(answer, str) else choice(*answer)


def _keep_exercise(exercise: Exercise, number: int, *, solution: bool) -> KeptExercise:
    of = f"Exercise {number}, “{exercise.title}”, cannot be kept in a file"
    if not exercise.answer:
        raise OptionError(f"{of}: its answer is read by a function of your own. Give one of {', '.join(READERS)}.")
    if exercise.answer == "a function":
        raise OptionError(f"{of}: an answer that is a function can be looked at in the notebook only.")
    specs: list[Mapping[str, Any]] = []
    for place, part in enumerate(exercise.parts, 1):
        if part.kept is None:
            raise OptionError(
                f"{of}: its part {place}, “{part.right}”, looks with a function of your own, and a file holds no "
                "functions. Use the parts of `mk.lessons`, as `mk.lessons.can_be_worked()`, or leave the exercise in "
                "the notebook and give it to `mk.lessons.check` itself."
            )
        if not specs or part.kept is not specs[-1]:
            specs.append(part.kept)
    return KeptExercise(
        title=exercise.title,
        question=exercise.question,
        answer=exercise.answer if isinstance(exercise.answer, str) else list(exercise.answer),
        given=_keep_given(exercise.given, of),
        parts=[_told_part(spec) for spec in specs],
        because=exercise.because,
        solution=_keep(exercise.solution, f"{of}: its solution") if solution else None,
    )


def _told_part(spec: Mapping[str, Any]) -> Any:  # noqa: ANN401 — one of the forms
    """Write a part as its form; what is no list in it is made one."""
    kinds: dict[str, type[FileForm]] = {
        "squares": SquaresPart, "numbers": NumbersPart, "number": NumberPart, "choice": ChoicePart, "size": SizePart,
        "no larger": NoLargerPart, "workable": WorkablePart, "few changes": FewChangesPart, "overlaid": OverlaidPart,
        "mirror": MirrorPart, "picture": PicturePart, "hook": HookPart,
    }  # fmt: skip
    plain = {name: [list(each) for each in value] if name == "wanted" and spec["part"] == "squares" else value
             for name, value in spec.items()}  # fmt: skip
    return kinds[spec["part"]](**plain)


def _keep_given(given: object, of: str) -> Any:  # noqa: ANN401 — a form, or several
    if given is None:
        return None
    if isinstance(given, Mapping):
        return {str(name): _keep(each, f"{of}: what it gives as {name!r}") for name, each in given.items()}
    return _keep(given, f"{of}: what it gives")


def _keep(value: object, what: str) -> Any:  # noqa: ANN401 — a form
    form = form_of(value)
    if form is None:
        raise OptionError(
            f"{what} is a `{type(value).__name__}`; a file holds motifs, charts, gauges, numbers, texts and lists of "
            "these."
        )
    return form


def _exercise_of(form: KeptExercise, number: int) -> Exercise:
    answer = form.answer if isinstance(form.answer, str) else tuple(form.answer)
    if isinstance(answer, str) and (answer not in READERS or answer == "a function"):
        raise FileError(f"Exercise {number}: `answer` must be one of {', '.join(READERS)}; got {answer!r}.")
    parts: list[AnswerPart] = []
    for place, each in enumerate(form.parts, 1):
        try:
            one = _MADE[each.part](each)
        except MosaickitError as error:
            raise FileError(f"Exercise {number}, part {place}: {error}") from None
        parts += [one] if isinstance(one, AnswerPart) else one
    solution = ... if form.solution is None else form.solution.value
    given = value_of(form.given)
    return Exercise(form.title, reader_of(answer), tuple(parts), given, form.because, form.question, answer, solution)


def _document(lesson: Lesson, *, solutions: bool) -> LessonDocument:
    if not 0 < len(lesson.exercises) <= MOST_EXERCISES:
        raise OptionError(f"A lesson has from 1 to {MOST_EXERCISES} exercises; this one has {len(lesson.exercises)}.")
    kept = [
        _keep_exercise(exercise, number, solution=solutions and exercise.solution is not ...)
        for number, exercise in enumerate(lesson.exercises, 1)
    ]
    return LessonDocument(format="mosaickit lesson", version=1, title=lesson.title, exercises=kept)


def lesson_bytes(lesson: Lesson, *, for_learners: bool) -> bytes:
    """Write a lesson as the bytes of its file, with solutions or sealed without them."""
    text = written(_document(lesson, solutions=not for_learners))
    if for_learners:
        sealed = b64encode(zlib.compress(text.encode("utf-8"), 9)).decode("ascii")
        text = written(
            SealedDocument(format="mosaickit lesson for learners", version=1, title=lesson.title, sealed=sealed)
        )
    return text.encode("utf-8")


def lesson_from(data: bytes) -> Lesson:
    """Read a lesson from the bytes of its file, or raise `FileError`."""
    text = _decoded(data)
    try:
        sealed = json.loads(text)["format"] == "mosaickit lesson for learners"
    except (ValueError, LookupError, TypeError, RecursionError):
        sealed = False  # what is wrong is said by the strict reader
    if sealed:
        text = _decoded(_opened(read_document(SealedDocument, text).sealed))
    document = read_document(LessonDocument, text)
    return Lesson(document.title, tuple(_exercise_of(form, n) for n, form in enumerate(document.exercises, 1)))


def _decoded(data: bytes) -> str:
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        raise FileError("This is no lesson: it is not UTF-8 text.") from None


def _opened(sealed: str) -> bytes:
    unpacker = zlib.decompressobj()
    try:
        data = unpacker.decompress(b64decode(sealed, validate=True), LARGEST_BYTES)
    except (ValueError, zlib.error):
        raise FileError("The lesson is damaged: what is sealed in it cannot be opened.") from None
    if not unpacker.eof:
        raise FileError("The lesson is damaged: what is sealed in it has no end.")
    return data


def open_lesson(path: str | PathLike[str]) -> Lesson:
    """Open a lesson of your own that `keep` wrote.

    Parameters
    ----------
    path : path
        The file, as "lanterns.lesson".

    Returns
    -------
    Lesson
        A learners' copy has no solutions.

    Raises
    ------
    FileError
        If there is no such file, or something in it is not as it must be; the sentence names the place.
    """
    file = as_path(path)
    try:
        return lesson_from(read_whole(file))
    except FileError as error:
        raise FileError(f"{file_name(file)}: {error}") from None


def save_lesson(lesson: Lesson, path: Path, *, for_learners: bool, replace: bool) -> Path:
    """Save a lesson as a file of its kind; the learners' copy never replaces the educator's."""
    of_kind("lesson", lesson, Lesson)
    kind = "learners' lesson" if for_learners else "lesson"
    return save_bytes(path, lesson_bytes(lesson, for_learners=for_learners), Owner(kind, lesson.title), replace=replace)


def lessons_named(names: Iterable[str], folder: Path) -> dict[str, Lesson]:
    """Open the lessons of these names in a folder."""
    return {name: open_lesson(folder / f"{name}{LESSON_ENDING}") for name in sorted(set(names))}
