"""The cells of a lesson's notebook, by what they are for: to be given out, to be answered, or for the teacher alone.

Code is read and never run. For the teacher are cells tagged "solution" or "teacher", cells that use anything of
`mk.lessons` but `check` and `given`, and cells that use a name which only such cells make.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Literal

from mosaickit.errors import NotebookError

CellRole = Literal["open", "answer", "solution", "teacher"]
LEFT_OUT = ("solution", "teacher")
_OPEN_VERBS = {"check", "given"}
_MAGIC = re.compile(r"^([ \t]*)[%!?].*$", re.MULTILINE)
_WORD = re.compile(r"[^\W\d]\w*")
_DOTS = "..."


@dataclass(frozen=True)
class LessonCell:
    """A cell of a notebook, looked at.

    Attributes
    ----------
    number : int
        From 1.
    role : "open", "answer", "solution" or "teacher"
        What it is for.
    exercises : tuple of str
        The exercises that it checks, as "3.2" and "lanterns.1"; empty texts for exercises made in the notebook.
    source : str
        What stands in it for learners: answers are dots.
    of_answers : bool
        Whether what it shows may come from an answer.
    """

    number: int
    role: CellRole
    exercises: tuple[str, ...]
    source: str
    of_answers: bool


@dataclass
class _Code:
    """What was read of a cell's code."""

    tree: ast.Module | None
    makes: set[str]
    uses: set[str]
    imports: set[str]
    checks: list[tuple[str, ast.expr]]
    for_teacher: bool


def looked_at(cells: Iterable[Any]) -> tuple[LessonCell, ...]:
    """Look at all cells of a notebook, in order; raise `NotebookError` if learners would miss an import."""
    known: set[str] = set()  # names that cells for learners make
    secret: dict[str, int] = {}  # names that only cells for the teacher make, and which cell
    answered: set[str] = set()  # names that hold answers, or what was made of them
    imported: dict[str, int] = {}
    found = []
    for number, cell in enumerate(cells, 1):
        tags = cell["metadata"].get("tags", [])
        role: CellRole = "teacher" if "teacher" in tags else "solution" if "solution" in tags else "open"
        source = str(cell["source"])
        if cell["cell_type"] != "code":
            found.append(LessonCell(number, role, (), source, of_answers=False))
            continue
        code = _read(source)
        # a cell to be answered is for learners, whatever it is answered with
        made_of_secrets = not code.checks and bool((code.uses - code.makes) & secret.keys())
        if role == "open" and (code.for_teacher or made_of_secrets):
            role = "teacher"
        names = tuple(name for name, _ in code.checks)
        if role in LEFT_OUT:
            imported |= dict.fromkeys(code.imports - known, number)
            secret |= dict.fromkeys(code.makes - known - code.imports, number)
            found.append(LessonCell(number, role, names, source, of_answers=True))
            continue
        missed = sorted((code.uses - code.makes) & (imported.keys() - known))
        if missed:
            raise NotebookError(
                f"Cell {number} uses {missed[0]}, which only cell {imported[missed[0]]} imports, and that one is for "
                "the teacher: import it in a cell of its own.",
                number,
            )
        known |= code.makes
        for name in code.makes:
            secret.pop(name, None)
        of_answers = bool(code.checks) or bool((code.uses - code.makes) & answered)
        if code.checks:
            made_here = {name for _, answer in code.checks for name in _names(answer)} & code.makes
            answered |= made_here
            found.append(LessonCell(number, "answer", names, _with_dots(source, code), of_answers=True))
            continue
        answered = answered | code.makes if of_answers else answered - code.makes
        found.append(LessonCell(number, "open", (), source, of_answers))
    return tuple(found)


def plain_python(source: str) -> str:
    """Take the lines that are for the notebook itself out of code; every other line keeps its place."""
    return _MAGIC.sub(r"\1pass", source)


def checks_in(tree: ast.AST) -> Iterator[tuple[str, ast.expr]]:
    """Give each call of `lessons.check` in code, as the exercise's name and the answer; "" for one that has no name."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and _lessons_verb(node.func) == "check":
            arguments = {keyword.arg: keyword.value for keyword in node.keywords if keyword.arg}
            exercise = node.args[0] if node.args else arguments.get("exercise")
            answer = node.args[1] if len(node.args) > 1 else arguments.get("answer")
            if answer is not None:
                named = exercise.value if isinstance(exercise, ast.Constant) else ""
                yield (named.strip() if isinstance(named, str) else ""), answer


def parsed(source: str) -> ast.Module | None:
    """Read code as Python; None if it is not Python, or too deep to be read."""
    try:
        return ast.parse(plain_python(source))
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        return None


def _lessons_verb(node: ast.AST) -> str:
    """Give the verb of `mk.lessons.verb`, or nothing."""
    if isinstance(node, ast.Attribute):
        home = node.value
        if (isinstance(home, ast.Attribute) and home.attr == "lessons") or (
            isinstance(home, ast.Name) and home.id == "lessons"
        ):
            return node.attr
    return ""


def _read(source: str) -> _Code:
    tree = parsed(source)
    if tree is None:
        words = set(_WORD.findall(source))
        return _Code(None, set(), words, set(), [], "lessons" in words)
    code = _Code(tree, set(), set(), set(), list(checks_in(tree)), for_teacher=False)
    used, through_verbs = 0, 0
    for node in ast.walk(tree):
        if isinstance(node, ast.Name):
            (code.uses if isinstance(node.ctx, ast.Load) else code.makes).add(node.id)
            used += node.id == "lessons"
        elif isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            code.makes.add(node.name)
        elif isinstance(node, ast.arg):
            code.makes.add(node.arg)
        elif isinstance(node, ast.Import | ast.ImportFrom):
            code.imports |= {(alias.asname or alias.name).partition(".")[0] for alias in node.names}
            used += isinstance(node, ast.ImportFrom) and (node.module or "").startswith("mosaickit.lessons")
        elif isinstance(node, ast.Attribute):
            used += node.attr == "lessons"
            verb = _lessons_verb(node)
            through_verbs += verb in _OPEN_VERBS
    code.makes |= code.imports
    code.for_teacher = used > through_verbs  # by another verb, or under another name
    return code


def _names(node: ast.AST) -> set[str]:
    return {inner.id for inner in ast.walk(node) if isinstance(inner, ast.Name)}


# ---- answers as dots ---------------------------------------------------------------------------------------


def _with_dots(source: str, code: _Code) -> str:
    """Put dots in place of the answers of a cell, and of what they are made from in it."""
    if code.tree is None:
        return source
    made: dict[str, list[ast.stmt | ast.expr]] = {}
    for node in ast.walk(code.tree):
        if isinstance(node, ast.Assign | ast.AnnAssign | ast.AugAssign | ast.NamedExpr) and node.value is not None:
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            for name in {name for target in targets for name in _names(target)}:
                made.setdefault(name, []).append(node.value)
        elif isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            made.setdefault(node.name, []).append(node)
    dotted: list[ast.stmt | ast.expr] = []
    todo: list[ast.expr] = [answer for _, answer in code.checks]
    seen: set[str] = set()
    while todo:
        answer = todo.pop()
        if isinstance(answer, ast.Name) and answer.id in made:
            waiting = {answer.id}
        else:
            dotted.append(answer)
            waiting = _names(answer)
        while waiting - seen:
            name = (waiting - seen).pop()
            seen.add(name)
            for value in made.get(name, []):
                if not _is_dots(value):
                    dotted.append(value)
                    waiting |= _names(value)
    lines = _lines(source)
    for node in sorted(_outermost(dotted), key=lambda one: (one.lineno, one.col_offset), reverse=True):
        text = f"{node.name} = {_DOTS}" if isinstance(node, ast.FunctionDef | ast.ClassDef) else _DOTS
        _replace(lines, node, text)
    return b"".join(lines).decode("utf-8")


def _lines(source: str) -> list[bytes]:
    """Give the lines as Python counts them, in bytes, as it counts places in a line."""
    return [line.encode("utf-8") for line in re.split(r"(?<=\n)", source)]


def _is_dots(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and node.value is ...


def _outermost(nodes: list[ast.stmt | ast.expr]) -> list[ast.stmt | ast.expr]:
    inner = {id(below) for node in nodes for below in ast.walk(node) if below is not node}
    unique = {id(node): node for node in nodes if id(node) not in inner}
    return [node for node in unique.values() if not _is_dots(node)]


def _replace(lines: list[bytes], node: ast.stmt | ast.expr, text: str) -> None:
    first, last = node.lineno - 1, (node.end_lineno or node.lineno) - 1
    if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef) and node.decorator_list:
        first = node.decorator_list[0].lineno - 1
    before, after = lines[first][: node.col_offset], lines[last][node.end_col_offset :]
    lines[first : last + 1] = [before + text.encode("utf-8") + after, *([b""] * (last - first))]
