"""Notebooks read from disk and, if asked for, run from the top; the file itself is never changed."""

from __future__ import annotations

import json
import re
import subprocess
import warnings
from pathlib import Path

import nbformat
from jupyter_client.kernelspec import NoSuchKernel
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError, CellTimeoutError, DeadKernelError
from nbformat import NotebookNode

from mosaickit.errors import NotebookError
from mosaickit.files import file_name

_COLOURS = re.compile(r"\x1b\[[0-9;]*m")  # how a terminal is told them


def read(file: Path) -> NotebookNode:
    """Read a notebook, of any version, as one of version 4; raise `NotebookError` if it is none."""
    name = file_name(file)
    try:
        text = file.read_bytes().decode("utf-8")
    except OSError as err:
        raise NotebookError(f"{name} could not be read: {(err.strerror or str(err)).lower()}.") from None
    except ValueError:
        raise NotebookError(f"{name} is no notebook: it is not UTF-8 text.") from None
    try:
        raw = json.loads(text)
    except ValueError as err:
        raise NotebookError(f"{name} is no notebook: it is not JSON ({err}).") from None
    if not isinstance(raw, dict) or not isinstance(raw.get("nbformat"), int):
        raise NotebookError(f"{name} is no notebook: it does not say its `nbformat`.")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # cells of older notebooks have no ids, and need none here
            notebook: NotebookNode = nbformat.reads(text, as_version=4)  # type: ignore[no-untyped-call]
            nbformat.validate(notebook)
    except Exception as err:  # whatever a document that only looks like a notebook leads to in there
        reason = (str(err).strip() or repr(err)).splitlines()[0]
        raise NotebookError(f"{name} is a damaged notebook: {reason.rstrip('.')}.") from None
    return notebook


def need_outputs(notebook: NotebookNode, file: Path) -> None:
    """Raise `NotebookError` if a notebook has code of which nothing was run."""
    code = [cell for cell in notebook.cells if cell.cell_type == "code" and cell.source.strip()]
    if code and not any(cell.outputs or cell.execution_count for cell in code):
        raise NotebookError(
            f"{file_name(file)} was not run, so it has nothing to show: run it and save it, or give `execute=True`."
        )


def execute(notebook: NotebookNode, file: Path) -> None:
    """Run a notebook that was read, from the top, in its own folder; its outputs are replaced.

    Raises
    ------
    NotebookError
        If a cell fails, the kernel dies, or there is no such kernel; names the cell.
    """
    name = file_name(file)
    client = NotebookClient(notebook, resources={"metadata": {"path": str(file.parent.absolute())}})
    for cell in notebook.cells:
        cell.metadata.pop("execution", None)  # when it was run last; `_failed` asks which cells this run began
    try:
        client.execute(stderr=subprocess.DEVNULL)  # the kernel's remarks about itself
    except CellExecutionError as err:
        number, cell = _failed(notebook)
        said = _COLOURS.sub("", f"{err.ename}: {err.evalue}".strip()).splitlines()[0]
        raise NotebookError(f"{name} failed in cell {number}, {_begins(cell)}: {said}", number) from None
    except (CellTimeoutError, DeadKernelError):
        number, cell = _failed(notebook)
        raise NotebookError(f"{name} stopped in cell {number}, {_begins(cell)}: the kernel died.", number) from None
    except NoSuchKernel as err:
        raise NotebookError(f"{name} asks for a kernel {err.name!r}, which is not installed here.") from None


def _failed(notebook: NotebookNode) -> tuple[int, NotebookNode]:
    """Find the last cell that was begun."""
    begun = [
        (number, cell)
        for number, cell in enumerate(notebook.cells, 1)
        if cell.cell_type == "code" and "execution" in cell.metadata
    ]
    found: tuple[int, NotebookNode] = begun[-1]
    return found


def _begins(cell: NotebookNode) -> str:
    return f"which begins {cell.source.strip().splitlines()[0][:60]!r}"
