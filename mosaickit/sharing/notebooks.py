"""Notebooks read from disk, looked through for what their widgets show, and run from the top; no file is changed."""

from __future__ import annotations

import asyncio
import json
import os
import re
import subprocess
import warnings
from dataclasses import dataclass
from pathlib import Path
from threading import Thread
from typing import Any

import nbformat
from jupyter_client.kernelspec import NoSuchKernel
from nbclient import NotebookClient
from nbclient.exceptions import CellTimeoutError, DeadKernelError
from nbformat import NotebookNode
from nbformat.v4 import new_code_cell

from mosaickit.errors import NotebookError
from mosaickit.files import file_name
from mosaickit.sharing.live import OFFLINE, SHOW, ForWidgets, lay_in

VIEW = "application/vnd.jupyter.widget-view+json"
"""The kind of output that shows a widget."""
STATES = "application/vnd.jupyter.widget-state+json"
"""Under which a notebook keeps the states of its widgets."""
REFERENCE = "IPY_MODEL_"
"""What stands before the id of a model where the state of another names it."""
SHARING = "MOSAICKIT_SHARING"
"""Set, in the kernel that runs a notebook to share it, to the notebook's path."""

_COLOURS = re.compile(r"\x1b\[[0-9;]*m")  # how a terminal is told them


@dataclass(frozen=True)
class FailedCell:
    """A cell that failed: its number, from 1, and in one line which it is and with what."""

    cell: int
    said: str


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


def not_run(notebook: NotebookNode, file: Path, *, asked: bool | None) -> str:
    """Begin a sentence that says that a notebook was not run; "" if some of its code was, or it has none.

    Raises
    ------
    NotebookError
        If it was not run, and is not to be: `asked` is False.
    """
    name = file_name(file)
    code = [cell for cell in notebook.cells if cell.cell_type == "code" and cell.source.strip()]
    if not code or any(cell.outputs or cell.execution_count for cell in code):
        return ""
    if asked is False:
        raise NotebookError(
            f"{name} was not run, so it has nothing to show: run it and save it, or leave `run=False` out, and it is "
            "run now."
        )
    return f"{name} was not run yet"


def failures(notebook: NotebookNode) -> tuple[FailedCell, ...]:
    """Give the cells that failed, but for those whose tag says that they are meant to."""
    return tuple(
        FailedCell(number, f"cell {number}, {_begins(cell)}: {_in_a_line(f'{output.ename}: {output.evalue}')}")
        for number, cell in enumerate(notebook.cells, 1)
        if cell.cell_type == "code" and "raises-exception" not in cell.metadata.get("tags", [])
        for output in cell.outputs
        if output.output_type == "error"
    )


def _in_a_line(said: str) -> str:
    """Write what a terminal was told in one line, which a sentence may follow."""
    return " ".join(_COLOURS.sub("", said).split()).rstrip(".:")


def execute(notebook: NotebookNode, file: Path, why: str = "") -> tuple[FailedCell, ...]:
    """Run a notebook that was read, from the top, in its own folder, and say so; its outputs and widgets are replaced.

    A cell that fails shows its error, and the next one is run. Anyone who interrupts Python stops the run. `why` is the
    beginning of a sentence.

    Returns
    -------
    tuple of FailedCell
        The cells that failed.

    Raises
    ------
    NotebookError
        If the kernel dies, the run is stopped, or there is no such kernel; names the cell.
    """
    name = file_name(file)
    told = f"{why}, so it is run now" if why else f"{name} is run now"
    print(f"{told}: from the top, in its own folder. The notebook's file is not changed.", flush=True)
    begun: list[int] = []
    client = NotebookClient(
        notebook,
        allow_errors=True,
        resources={"metadata": {"path": str(file.parent.absolute())}},
        on_cell_execute=lambda cell, cell_index: begun.append(cell_index),
    )

    def where() -> tuple[str, int | None]:
        at = min(begun[-1] if begun else 0, len(notebook.cells) - 1)
        return f"cell {at + 1}, {_begins(notebook.cells[at])}", at + 1

    python = notebook.metadata.get("kernelspec", {}).get("language", "python") == "python"
    last: NotebookNode = new_code_cell(SHOW if python else "")  # type: ignore[no-untyped-call]
    notebook.cells.append(last)
    try:
        _run(client, file)
    except KeyboardInterrupt:
        place, cell = where()
        raise NotebookError(f"{name} was stopped in {place}; nothing was written.", cell) from None
    except (CellTimeoutError, DeadKernelError):
        place, cell = where()
        raise NotebookError(f"{name} stopped in {place}: the kernel died, and nothing was written.", cell) from None
    except NoSuchKernel as err:
        raise NotebookError(
            f"{name} asks for a kernel {err.name!r}, which is not installed here: choose one in JupyterLab, and "
            "save the notebook; or give `run=False` to share it as it was last saved."
        ) from None
    finally:
        notebook.cells.pop()
    for output in last.outputs:
        lay_in(states_in(notebook), output.get("data", {}).get(OFFLINE, {}))
    return failures(notebook)


def _run(client: NotebookClient, file: Path) -> None:
    """Run a notebook in a thread, so that it may be asked for from a notebook, whose own loop is running, too."""
    loop = asyncio.new_event_loop()
    raised: list[BaseException] = []
    environment = os.environ | {SHARING: str(file.absolute())}
    # stderr: the kernel's remarks about itself
    running = loop.create_task(client.async_execute(env=environment, stderr=subprocess.DEVNULL))

    def work() -> None:
        asyncio.set_event_loop(loop)
        try:
            loop.run_until_complete(running)
        except BaseException as err:  # a task that was cancelled is none of `Exception`
            raised.append(err)
        finally:
            if client.km is not None:  # it was stopped before the kernel could begin
                ended: Any = client.km.shutdown_kernel(now=True)
                loop.run_until_complete(ended)
            left = asyncio.all_tasks(loop)
            for task in left:
                task.cancel()
            loop.run_until_complete(asyncio.gather(*left, return_exceptions=True))
            loop.close()

    thread = Thread(target=work, name="running a notebook")
    thread.start()
    try:
        while thread.is_alive():
            thread.join(1)  # again and again, as some systems let no one interrupt a wait without end
    except KeyboardInterrupt:
        client.shutdown_kernel = "immediate"  # it may be busy for ever
        loop.call_soon_threadsafe(running.cancel)
        thread.join()
        raise
    if raised:
        raise raised[0]


def states_in(notebook: NotebookNode) -> ForWidgets:
    """Give the states of widgets that a notebook holds, by the ids of their models."""
    held: ForWidgets = notebook.metadata.get("widgets", {}).get(STATES, {}).get("state", {})
    return held


def missing(notebook: NotebookNode, known: ForWidgets) -> list[int]:
    """Give the numbers of the cells that showed a widget of which nothing is known, or not of all in it."""
    return [
        number
        for number, cell in enumerate(notebook.cells, 1)
        if cell.cell_type == "code"
        and any(
            not _is_known(output["data"][VIEW]["model_id"], known)
            for output in cell.outputs
            if VIEW in output.get("data", {})
        )
    ]


def _is_known(model_id: str, known: ForWidgets) -> bool:
    if model_id not in known or lacks(known[model_id]["state"]):
        return False
    children = known[model_id]["state"].get("children", [])
    return all(_is_known(str(child).removeprefix(REFERENCE), known) for child in children)


def lacks(state: dict[str, Any]) -> bool:
    """Say whether a widget of ours was kept without what its page needs where there is no Python.

    JupyterLab keeps no more than its traits, if it is told to.
    """
    return str(state.get("_anywidget_id")).startswith("mosaickit.") and "offline" not in state


def _begins(cell: NotebookNode) -> str:
    return f"which begins {cell.source.strip().splitlines()[0][:60]!r}" if cell.source.strip() else "which is empty"
