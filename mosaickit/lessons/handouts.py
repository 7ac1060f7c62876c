"""A handout without solutions and a teacher's copy with them, both from one notebook.

A handout holds what `cells` finds to be for learners, with dots for answers, and nothing else of the notebook: no
outputs of other cells, no state of widgets, no notes of programs. Before it is written, what is left is searched for
the solutions that are known, in text and as pictures.
"""

from __future__ import annotations

import json
import re
from base64 import b64encode
from collections.abc import Iterator, Mapping
from html import escape
from os import PathLike
from pathlib import Path

import nbformat
from nbformat import NotebookNode

from mosaickit.errors import MosaickitError, NotebookError, OptionError, true_or_false
from mosaickit.fabric import Chart, work
from mosaickit.files import Owner, as_path, file_name, place, save_bytes, to_png
from mosaickit.lessons.asking import OWN_NAME, exercise_in
from mosaickit.lessons.cells import LEFT_OUT, LessonCell, looked_at
from mosaickit.lessons.course import EXERCISES
from mosaickit.lessons.documents import LESSON_ENDING, lessons_named, save_lesson
from mosaickit.lessons.exercises import Exercise, Lesson
from mosaickit.lessons.paper import room_for
from mosaickit.motif import Motif
from mosaickit.sharing import execute, not_run, page_of_cells, read

_ENDINGS = (".html", ".ipynb")
_STYLE = (Path(__file__).parent / "handout.css").read_text("utf-8")
_LEAST = 12  # characters of a solution that can be looked for: "7" stands in many places


def handout(
    notebook: str | PathLike[str],
    path: str | PathLike[str],
    *,
    run: bool | None = None,
    code: bool = False,
    replace: bool = False,
) -> Path:
    """Write a handout of a lesson's notebook, without solutions.

    Parameters
    ----------
    notebook : path
        The notebook with solutions, as it was last saved. It is not changed. Cells tagged "solution" or "teacher" are
        left out, as are those that make exercises and those that use what only such cells make.
    path : path
        Ends in .html for a page to print, with room for answers, or in .ipynb for a notebook to work in. A notebook has
        to go into another folder than the one it is made from, since the learners' copies of its lessons, under their
        own names and without solutions, are put beside it.
    run : bool, optional
        Whether to run the notebook first, from the top and in its own folder. Left out, it is run for a page, which
        needs what its cells show, if it was never run.
    code : bool
        Whether a page shows code; a notebook always does.
    replace : bool
        Whether to replace whatever files are there. Otherwise only earlier handouts of the same notebook are, if
        nothing changed them since.

    Returns
    -------
    Path
        The file.

    Raises
    ------
    NotebookError
        If it is no notebook, was not run, or fails when it is; if a cell for learners checks an exercise that is in no
        file, or still shows a solution: then which cell.
    OptionError
        If another argument is not as described.
    FileError
        If a lesson's file is not there or damaged, or a file cannot be written.
    TakenError
        If a file of another origin is there, or one that was changed since; names a free name.
    """
    file, target, found = _begun(notebook, path, run=run)
    lessons = _lessons_of(found, file)
    cells = looked_at(found.cells)
    as_page = target.suffix == ".html"
    if not as_page:
        if file.parent.resolve() == target.parent.resolve():
            raise OptionError(
                "`path` must lie in another folder than the notebook: the learners' copies of its lessons stand beside "
                "the handout under the names of the lessons themselves."
            )
        for cell in cells:
            if cell.role == "answer" and "" in cell.exercises:
                raise NotebookError(
                    f"Cell {cell.number} of {file_name(file)} checks an exercise that is in no file, so learners could "
                    f"not: write the lesson with `mk.lessons.keep`, and check it by its name, as 'lanterns.1'.",
                    cell.number,
                )
    secrets = _secrets(found, cells, lessons)
    kept = [
        _for_learners(node, cell, [exercise_in(name, lessons) for name in cell.exercises], as_page=as_page)
        for node, cell in zip(found.cells, cells, strict=True)
        if cell.role not in LEFT_OUT
    ]
    for node in kept:
        _search(node, secrets, found, file)
    if as_page:
        kept = _with_a_line_for_the_name(kept)
    made = _notebook(found, kept, widgets=as_page)
    known = Owner("handout", place(file, target.parent))
    if as_page:
        data = page_of_cells(made, file, code=true_or_false("code", code), style=_STYLE)
        return save_bytes(target, data, known, replace=replace)
    written = save_bytes(target, _bytes_of(made), known, replace=replace)
    for name, lesson in lessons.items():
        save_lesson(lesson, target.parent / f"{name}{LESSON_ENDING}", for_learners=True, replace=replace)
    return written


def teachers_copy(
    notebook: str | PathLike[str],
    path: str | PathLike[str],
    *,
    run: bool | None = None,
    code: bool = False,
    replace: bool = False,
) -> Path:
    """Write a teacher's copy of a lesson's notebook: with every solution below its exercise, and what is looked at.

    Parameters
    ----------
    notebook : path
        The notebook with solutions, as it was last saved. It is not changed.
    path : path
        Another file, which ends in .html for a page to print or in .ipynb for a notebook.
    run : bool, optional
        Whether to run the notebook first, from the top and in its own folder. Left out, it is run for a page, which
        needs what its cells show, if it was never run.
    code : bool
        Whether a page shows all code; solutions are always shown.
    replace : bool
        Whether to replace whatever file is there. Otherwise only an earlier copy of the same notebook is, if nothing
        changed it since.

    Returns
    -------
    Path
        The file.

    Raises
    ------
    NotebookError
        If it is no notebook, was not run, or fails when it is: then which cell.
    OptionError
        If another argument is not as described.
    FileError
        If a lesson's file is not there or damaged, or the file cannot be written.
    TakenError
        If a file of another origin is there, or one that was changed since; names a free name.
    """
    file, target, found = _begun(notebook, path, run=run)
    lessons = _lessons_of(found, file)
    as_page = target.suffix == ".html"
    kept: list[NotebookNode] = []
    for node, cell in zip(found.cells, looked_at(found.cells), strict=True):
        kept += _for_teachers(node, cell, as_page=as_page, code=true_or_false("code", code))
        for name in cell.exercises if cell.role == "answer" else ():
            exercise = exercise_in(name, lessons)
            if exercise is not None and name not in EXERCISES:  # the course has its solutions in cells
                kept.append(_solved(name, exercise))
    made = _notebook(found, kept, widgets=True)
    data = page_of_cells(made, file, code=code, style=_STYLE) if as_page else _bytes_of(made)
    return save_bytes(target, data, Owner("teacher's copy", place(file, target.parent)), replace=replace)


def _begun(notebook: object, path: object, *, run: bool | None) -> tuple[Path, Path, NotebookNode]:
    """Read a notebook that a copy is asked of, and run it if that is asked for."""
    file, target = as_path(notebook, "notebook"), as_path(path)  # type: ignore[arg-type]
    if target.suffix not in _ENDINGS:
        raise OptionError(f"`path` must end in .html or .ipynb; got {target.name!r}.")
    if file.absolute() == target.absolute():
        raise OptionError(f"`path` must be another file than the notebook; got {str(target)!r} for both.")
    found = read(file)
    why = not_run(found, file, asked=run) if target.suffix == ".html" else ""
    if why if run is None else true_or_false("run", run):
        for failure in execute(found, file, why):
            raise NotebookError(f"{file_name(file)} failed in {failure.said}.", failure.cell)
    return file, target, found


def _lessons_of(found: NotebookNode, file: Path) -> dict[str, Lesson]:
    """Open the files of lessons that a notebook asks for; they are beside it."""
    source = "\n".join(str(cell.source) for cell in found.cells if cell.cell_type == "code")
    quoted = re.findall(r"""["']([^"'\n]+)["']""", source)
    names = {own[1] for each in quoted if (own := OWN_NAME.fullmatch(each.strip()))}
    asked = {own[1] for cell in looked_at(found.cells) for name in cell.exercises if (own := OWN_NAME.fullmatch(name))}
    asked |= {name for name in names if (file.parent / f"{name}{LESSON_ENDING}").is_file()}
    return lessons_named((name for name in asked if not name.isdigit()), file.parent)


# ---- for learners ------------------------------------------------------------------------------------------


def _for_learners(
    node: NotebookNode, cell: LessonCell, exercises: list[Exercise | None], *, as_page: bool
) -> NotebookNode:
    """Make the cell that learners get, of nothing but what is named here."""
    if node.cell_type != "code":
        new = _text(cell.source)
        if node.get("attachments"):
            new.attachments = node.attachments
    elif as_page and cell.role == "answer":
        new = _text("".join(room_for(exercise) for exercise in exercises))
    else:
        new = _code(cell.source)
        if "needed" in node.metadata.get("tags", []):
            new.metadata["tags"] = ["needed"]
        if as_page and not cell.of_answers:
            new.outputs, new.execution_count = node.outputs, node.execution_count
    new.id = node.get("id", f"cell-{cell.number}")
    return new


def _with_a_line_for_the_name(kept: list[NotebookNode]) -> list[NotebookNode]:
    """Put a line for name and date below the title, which the first text begins with."""
    line = _text('<div class="mk-name"><span>Name</span><span>Date</span></div>')
    first = next((place for place, node in enumerate(kept) if node.cell_type == "markdown"), None)
    if first is None or not kept[first].source.startswith("# "):
        return [line, *kept]
    title, _, rest = kept[first].source.partition("\n")
    below = _text(rest.strip())
    if kept[first].get("attachments"):
        below.attachments = kept[first].attachments
    return [*kept[:first], _text(title), line, below, *kept[first + 1 :]]


# ---- for teachers ------------------------------------------------------------------------------------------


def _for_teachers(node: NotebookNode, cell: LessonCell, *, as_page: bool, code: bool) -> Iterator[NotebookNode]:
    if cell.role == "solution" and node.cell_type == "code":
        yield _text("**Solution**")
        if as_page and not code:
            yield _text(f"```python\n{node.source}\n```")
            if node.outputs:
                shown = _code("")
                shown.outputs = node.outputs
                yield shown
            return
    elif cell.role == "teacher" and as_page and not code:
        return
    elif cell.role == "answer":
        new = _code(cell.source)
        if not as_page or code:
            yield new
        return
    node.metadata.pop("jupyter", None)  # which hides code
    yield node


def _solved(name: str, exercise: Exercise) -> NotebookNode:
    """Show the solution of an exercise that is kept in a file, and what is looked at."""
    lines = [f"**Solution of {name}, {exercise.title}**", ""]
    picture, right = None, exercise.solution
    if right is ...:
        lines += ["This copy of the lesson has none."]
    elif isinstance(right, Motif | Chart):
        text = right.to_text()
        lines += [f"```\n{text}\n```", "", f"Row 1 in {right.first}."]
        front = right if isinstance(right, Motif) else _front(right)
        if front is not None:
            picture = to_png(front, max(1, min(16, 480 // max(front.shape))))
            lines += ["", f"![The solution of {escape(name)} as a picture](attachment:solution.png)"]
    else:
        lines += [f"```\n{right}\n```"]
    lines += ["", "What is looked at:", "", *(f"- {part.right}" for part in exercise.parts)]
    lines += ["", f"Said when all is right: {exercise.because}"] * bool(exercise.because)
    made = _text("\n".join(lines))
    if picture is not None:
        made.attachments = {"solution.png": {"image/png": b64encode(picture).decode("ascii")}}
    return made


def _front(chart: Chart) -> Motif | None:
    try:
        return Motif(work(chart).front, chart.first, chart.yarns)
    except MosaickitError:
        return None


# ---- nothing of a solution ---------------------------------------------------------------------------------


def _secrets(found: NotebookNode, cells: tuple[LessonCell, ...], lessons: Mapping[str, Lesson]) -> set[str]:
    """Give what must not be found in a handout: texts of solutions, and pictures that cells for teachers show."""
    secrets: set[str] = set()
    for exercise in (each for lesson in lessons.values() for each in lesson.exercises):
        given = exercise.given.values() if isinstance(exercise.given, Mapping) else [exercise.given]
        open_to_all = {said for each in given for said in _said_of(each)}
        secrets |= {said for said in _said_of(exercise.solution) if said not in open_to_all}
    for node, cell in zip(found.cells, cells, strict=True):
        if cell.role in LEFT_OUT and node.cell_type == "code":
            for output in node.outputs:
                data = output.get("data", {})
                secrets |= {_bare(str(value)) for kind, value in data.items() if kind.startswith("image/")}
    return {secret for secret in secrets if len(secret) >= _LEAST}


def _said_of(thing: object) -> Iterator[str]:
    """Give how a thing may stand in a text: a picture by its squares, anything else as it is written."""
    if isinstance(thing, Motif | Chart):
        yield _bare(thing.to_text())
        front = thing if isinstance(thing, Motif) else _front(thing)
        if front is not None:
            yield _bare(front.to_text())
    elif isinstance(thing, str | list | tuple | set | frozenset):
        yield _bare(str(thing))


def _bare(told: str) -> str:
    """Take blanks, ends of lines and quotation marks out of a text, however often it was written as a text itself."""
    return re.sub(r"""\\+n|[\s\\"']""", "", told)


def _search(node: NotebookNode, secrets: set[str], found: NotebookNode, file: Path) -> None:
    """Raise `NotebookError` if a cell for learners still holds one of these."""
    told = _bare(json.dumps([node.source, node.get("outputs", []), node.get("attachments", {})], ensure_ascii=False))
    if any(secret in told for secret in secrets):
        number = next((n for n, each in enumerate(found.cells, 1) if each.get("id") == node.id), 0)
        raise NotebookError(
            f'Cell {number} of {file_name(file)} still shows a solution: tag it "teacher", or take that out of it.',
            number,
        )


# ---- notebooks ---------------------------------------------------------------------------------------------


def _text(source: str) -> NotebookNode:
    cell: NotebookNode = nbformat.v4.new_markdown_cell(source)  # type: ignore[no-untyped-call]
    return cell


def _code(source: str) -> NotebookNode:
    cell: NotebookNode = nbformat.v4.new_code_cell(source)  # type: ignore[no-untyped-call]
    return cell


def _notebook(found: NotebookNode, cells: list[NotebookNode], *, widgets: bool) -> NotebookNode:
    """Make a notebook of cells, with what it needs to be run, and on a page the widgets that are shown."""
    named = ("kernelspec", "language_info", *(("widgets",) if widgets else ()))
    about = {name: found.metadata[name] for name in named if name in found.metadata}
    for number, cell in enumerate(cells, 1):
        cell.id = f"cell-{number:03}"  # the same notebook gives the same bytes
    made: NotebookNode = nbformat.v4.new_notebook(cells=cells, metadata=about)  # type: ignore[no-untyped-call]
    return made


def _bytes_of(notebook: NotebookNode) -> bytes:
    return (json.dumps(notebook, ensure_ascii=False, indent=1, sort_keys=True) + "\n").encode("utf-8")
