"""The class sheet: what a class answered, read out of the notebooks that were handed in, none of which is run.

An answer is read in two ways. If it stands in its cell as a plain value, as `[0, 2]` or a picture written as text, it
is taken from there. Otherwise it is what the notebook kept when the cell was last run: `check` puts the answer beside
its feedback, as data. What a notebook says of itself counts for nothing: each answer is looked at again by the exercise
here. A function is the one answer that cannot be looked at without running it, and the sheet says so. A file that is
damaged is a line of the sheet.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from typing import Any

import pandas as pd

from mosaickit.errors import FileError, MosaickitError, OptionError, as_whole, shortly
from mosaickit.fabric import Chart
from mosaickit.files import LARGEST_BYTES, as_path, file_name
from mosaickit.lessons.answers import short
from mosaickit.lessons.asking import found
from mosaickit.lessons.cells import checks_in, parsed
from mosaickit.lessons.course import COURSE
from mosaickit.lessons.documents import open_lesson
from mosaickit.lessons.exercises import ANSWER_MIME, Exercise
from mosaickit.lessons.kept import read_told
from mosaickit.motif import Motif
from mosaickit.sharing import read

RIGHT, NOT_YET, UNANSWERED_STATE = "right", "not yet", "not answered"
NOT_LOOKED_AT = "not looked at"

_COLUMNS = ("who", "exercise", "title", "state", "answer", "said")


@dataclass(frozen=True)
class _Answer:
    """An answer as a notebook has it: its value, or why there is none."""

    value: Any = ...
    trouble: str = ""


class _Sheet(pd.DataFrame):
    """A table that a notebook shows with whole sentences, from the left; whatever is made of it is a plain table."""

    def _repr_html_(self) -> str:
        with pd.option_context("display.max_colwidth", None):
            shown: str = self.to_html(index=False, border=0, justify="left")
        return re.sub(r"<(t[dh])>", r'<\1 style="text-align: left">', shown)


def class_sheet(folder: str | PathLike[str], *, lesson: int | str | PathLike[str] | None = None) -> pd.DataFrame:
    """Table what a class answered, a line for each learner and exercise; no learner's code is run.

    Parameters
    ----------
    folder : path
        With the notebooks that were handed in, each named after its learner; folders in it are looked into as well.
    lesson : int, path, or None
        A lesson of the course by its number, or the file of one of your own, whose exercises are then listed for
        everyone. Left out, those that any of the notebooks checks are listed; files of lessons are taken from the
        folder in which you work, never from that of the answers.

    Returns
    -------
    DataFrame
        Columns: who, the file's name; exercise; title; state, which is "right", "not yet", "not answered" or "not
        looked at"; answer, in short; said, the first sentence of the feedback that asks to look again, or why nothing
        could be looked at. `mk.tables.save_table` writes it as CSV or for a spreadsheet.

    Raises
    ------
    OptionError
        If there is no such folder, no notebook in it, or no such lesson.
    FileError
        If the lesson's file is not there or damaged.
    """
    place = as_path(folder, "folder")
    if not place.is_dir():
        raise OptionError(f"`folder` must be a folder with notebooks; there is no folder {str(folder)!r}.")
    files = sorted(
        file
        for file in place.rglob("*.ipynb")
        if not any(part.startswith(".") for part in file.relative_to(place).parts)
    )
    if not files:
        raise OptionError(
            f"There is no notebook in the folder {str(folder)!r}; those that were handed in end in .ipynb."
        )
    asked = _asked_for(lesson)
    handed_in: dict[str, dict[str, _Answer] | str] = {}
    for file in files:
        who = file.relative_to(place).with_suffix("").as_posix()
        try:
            handed_in[who] = _answers_in(file)
        except (MosaickitError, OSError, RecursionError, MemoryError) as error:
            handed_in[who] = f"{error}" if isinstance(error, MosaickitError) else f"{file_name(file)} cannot be read."
    if asked is None:
        named = {name for answers in handed_in.values() if isinstance(answers, dict) for name in answers}
        asked = dict(_looked_up(sorted(named, key=_in_order)))
    lines = [line for who, answers in handed_in.items() for line in _lines(who, answers, asked)]
    return _Sheet(lines, columns=list(_COLUMNS), dtype="object")


def _asked_for(lesson: object) -> dict[str, Exercise | str] | None:
    """Give the exercises of a lesson by their names; None if none is named."""
    if lesson is None:
        return None
    number = as_whole(lesson)
    if number is not None or isinstance(lesson, bool):
        if number is None or not 1 <= number <= len(COURSE):
            raise OptionError(f"`lesson` must be from 1 to {len(COURSE)}, or the file of a lesson; got {lesson!r}.")
        return {f"{number}.{n}": each for n, each in enumerate(COURSE[number - 1].exercises, 1)}
    if not isinstance(lesson, str | PathLike):
        raise OptionError(f"`lesson` must be a number from 1 to {len(COURSE)}, or a path; got {shortly(lesson)}.")
    file = as_path(lesson, "lesson")
    return {f"{file.stem}.{n}": each for n, each in enumerate(open_lesson(file).exercises, 1)}


def _looked_up(names: list[str]) -> Iterator[tuple[str, Exercise | str]]:
    """Find exercises that notebooks name; what is not found is a sentence in place of the exercise."""
    for name in names:
        try:
            yield name, found(name)[0]
        except (OptionError, FileError) as error:
            yield name, str(error)


def _in_order(name: str) -> tuple[str, int, str]:
    head, _, number = name.rpartition(".")
    in_lesson = int(number) if number.isdecimal() and len(number) < 4 else 0
    return (head.zfill(6) if head.isdecimal() else head), in_lesson, name


def _lines(
    who: str, answers: dict[str, _Answer] | str, asked: Mapping[str, Exercise | str]
) -> Iterator[tuple[str, str, str, str, str, str]]:
    if isinstance(answers, str):
        yield who, "", "", NOT_LOOKED_AT, "", answers
        return
    if not asked:
        yield who, "", "", UNANSWERED_STATE, "", "No exercise is checked in this notebook."
    for name, exercise in asked.items():
        if isinstance(exercise, str):
            yield who, name, "", NOT_LOOKED_AT, "", exercise
            continue
        answer = answers.get(name)
        if answer is None:
            yield who, name, exercise.title, UNANSWERED_STATE, "", "The notebook has no cell that checks it."
        elif answer.trouble:
            yield who, name, exercise.title, NOT_LOOKED_AT, "", answer.trouble
        elif answer.value is ...:
            yield who, name, exercise.title, UNANSWERED_STATE, "", ""
        else:
            feedback = exercise.look_at(answer.value, name)
            said = (*feedback.faults, *feedback.missing)
            state = RIGHT if feedback.ok else NOT_LOOKED_AT if feedback.faults else NOT_YET
            first = f"Fault of the exercise. {said[0]}" if feedback.faults else said[0] if said else ""
            yield who, name, exercise.title, state, _in_short(answer.value), first


def _in_short(value: object) -> str:
    if isinstance(value, Motif | Chart):
        rows, stitches = value.shape
        return f"{'motif' if isinstance(value, Motif) else 'chart'}, {rows} rows × {stitches} stitches"
    return short(value)


# ---- reading notebooks -------------------------------------------------------------------------------------


def _answers_in(file: Path) -> dict[str, _Answer]:
    """Read the answers of a notebook by the exercises' names; of several to one, the last that is none of dots."""
    if file.stat().st_size > LARGEST_BYTES:
        raise FileError(f"{file_name(file)} is too long: a file may have at most {LARGEST_BYTES:,} bytes.")
    answers: dict[str, _Answer] = {}
    for cell in read(file).cells:
        if cell.cell_type != "code" or {"solution", "teacher"} & set(cell.metadata.get("tags", [])):
            continue
        tree = parsed(cell.source)
        if tree is None:
            continue
        for name, asked in checks_in(tree):
            if not name:
                continue
            answer = _written(asked, tree)
            if answer is None:
                answer = _kept_beside(cell.outputs, name)
            if answer.value is not ... or answer.trouble or name not in answers:
                answers[name] = answer
    return answers


def _written(asked: ast.expr, tree: ast.Module) -> _Answer | None:
    """Take an answer from its cell, if it stands there as a plain value; None if it does not."""
    if isinstance(asked, ast.Name):
        made = [
            node
            for node in tree.body
            if isinstance(node, ast.Assign) and any(_is_name(target, asked.id) for target in node.targets)
        ]
        if any(isinstance(node, ast.FunctionDef) and node.name == asked.id for node in tree.body):
            return _Answer(
                trouble="The answer is a function: it can only be looked at by running it, as no sheet does."
            )
        if len(made) != 1:
            return None
        asked = made[0].value
        if isinstance(asked, ast.Name):
            return _written(asked, tree) if not _is_name(asked, getattr(made[0].targets[0], "id", "")) else None
    try:
        return _Answer(ast.literal_eval(asked))
    except (ValueError, TypeError, SyntaxError, MemoryError, RecursionError):
        return _written_picture(asked)


def _is_name(node: ast.AST, name: str) -> bool:
    return isinstance(node, ast.Name) and node.id == name


def _written_picture(asked: ast.expr) -> _Answer | None:
    """Take a motif or a chart that is written as text: `mk.Motif.from_text('''...''', first="CC")`."""
    if not isinstance(asked, ast.Call) or not isinstance(asked.func, ast.Attribute) or asked.func.attr != "from_text":
        return None
    home = asked.func.value
    kind = home.attr if isinstance(home, ast.Attribute) else home.id if isinstance(home, ast.Name) else ""
    if kind not in ("Motif", "Chart"):
        return None
    try:
        arguments = [ast.literal_eval(each) for each in asked.args]
        options = {each.arg: ast.literal_eval(each.value) for each in asked.keywords if each.arg}
        if len(arguments) > 2 or not set(options) <= {"first", "name", "hand"}:
            return None
        return _Answer((Motif if kind == "Motif" else Chart).from_text(*arguments, **options))
    except MosaickitError as error:
        return _Answer(trouble=f"The picture cannot be read: {error}")
    except (ValueError, TypeError, SyntaxError, MemoryError, RecursionError):
        return None


def _kept_beside(outputs: list[Any], name: str) -> _Answer:
    """Take an answer from what the notebook kept when the cell was last run."""
    for output in reversed(outputs):
        kept = output.get("data", {}).get(ANSWER_MIME)
        if kept is None:
            continue
        if not isinstance(kept, Mapping) or set(kept) != {"exercise", "ok", "answer"}:
            return _Answer(trouble="The answer that is kept in the notebook is damaged.")
        if kept["exercise"] != name:
            continue
        if kept["answer"] is None:
            return _Answer(trouble="The answer is of a kind that a notebook cannot keep, such as a function.")
        try:
            return _Answer(read_told(kept["answer"]))
        except FileError as error:
            return _Answer(trouble=str(error))
    return _Answer(trouble="The cell was not run, or the notebook was saved without what it showed.")
