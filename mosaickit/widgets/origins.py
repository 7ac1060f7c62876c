"""Where a drawing was begun: the cell of a notebook, so that each drawing has a file of its own.

A cell that is run again, today or another day, goes on with its own drawing; another cell, another notebook, or a
second drawing in the same cell begins one of its own, even from the same blank. A notebook says which cell is running
by an id that lasts as long as the cell. Where it does not, the cell's code stands for it.

The file is named after the notebook too. A copy of a notebook has cells of the same ids, and begins drawings of its
own; a notebook that was renamed goes on with the drawings that carry its old name.
"""

from __future__ import annotations

import os
import re
import zlib
from collections import Counter
from pathlib import Path
from typing import Any

from IPython.core.getipython import get_ipython

from mosaickit.sizes import Design, design_to_json

# how many drawings were begun without a file, by what they were begun from, in the run of a cell that began one last
_begun: Counter[str] = Counter()
_run = ""


def own_file(start: Design) -> Path:
    """Name the file of a drawing that was begun without one, after its design and the cell that began it.

    Examples
    --------
    >>> from mosaickit.motif import Motif
    >>> dots = Design(Motif.from_text(".#", name="two dots"))
    >>> own_file(dots) == own_file(dots)
    False
    """
    global _run
    cell, run = _cell()
    if run != _run:
        _run = run
        _begun.clear()
    begun_from = f"{design_to_json(start)}\n{cell}"
    _begun[begun_from] += 1
    begun = f"{begun_from}\n{_begun[begun_from]}".encode()
    mark = f"{zlib.crc32(begun):08x}"
    name = re.sub(r"[^\w-]+", "-", start.words.title or start.motif.name).strip("-")[:40] or "painting"
    notebook = _notebook()
    if not notebook:
        return Path(f"{name}-{mark}.sketch")
    own = Path(f"{name}-in-{notebook}-{mark}.sketch")
    if not own.exists():
        for other in sorted(Path().glob(f"*-in-*-{mark}.sketch")):
            theirs = re.fullmatch(r".+?-in-(.+)-[0-9a-f]{8}", other.stem)
            if theirs and not Path(f"{theirs[1]}.ipynb").exists():
                return other  # the notebook had that name when it was begun
    return own


def _notebook() -> str:
    """Name the notebook whose cell is running, without its ending; "" where no one says it."""
    name = re.split(r"[/\\]", os.environ.get("JPY_SESSION_NAME", ""))[-1].removesuffix(".ipynb")
    return name if len(name) < 150 else ""  # a file's name has its limits


def _cell() -> tuple[str, str]:
    """Say which cell is running, and which run of it this is; "" for both outside a notebook."""
    shell = get_ipython()
    parent: Any = getattr(shell, "get_parent", dict)() or {}
    run = str(parent.get("header", {}).get("msg_id", ""))
    return str(parent.get("metadata", {}).get("cellId") or parent.get("content", {}).get("code", "")), run
