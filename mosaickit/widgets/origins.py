"""Where a drawing was begun: the cell of a notebook, so that each drawing has a file of its own.

A cell that is run again, today or another day, goes on with its own drawing; another cell, another notebook, or a
second drawing in the same cell begins one of its own, even from the same blank. A notebook says which cell is running
by an id that lasts as long as the cell. Where it does not, the cell's code stands for it.
"""

from __future__ import annotations

import re
import zlib
from collections import Counter
from pathlib import Path
from typing import Any

from IPython.core.getipython import get_ipython

from mosaickit.documents import to_json
from mosaickit.motif import Motif

# how many drawings were begun without a file, by what they were begun from, in the run of a cell that began one last
_begun: Counter[str] = Counter()
_run = ""


def own_file(motif: Motif) -> Path:
    """Name the file of a drawing that was begun without one, after its motif and the cell that began it.

    Examples
    --------
    >>> own_file(Motif.from_text(".#", name="two dots")) == own_file(Motif.from_text(".#", name="two dots"))
    False
    """
    global _run
    cell, run = _cell()
    if run != _run:
        _run = run
        _begun.clear()
    begun_from = f"{to_json(motif)}\n{cell}"
    _begun[begun_from] += 1
    mark = zlib.crc32(f"{begun_from}\n{_begun[begun_from]}".encode())
    name = re.sub(r"[^\w-]+", "-", motif.name).strip("-") or "painting"
    return Path(f"{name[:40]}-{mark:08x}.sketch")


def _cell() -> tuple[str, str]:
    """Say which cell is running, and which run of it this is; "" for both outside a notebook."""
    shell = get_ipython()
    parent: Any = getattr(shell, "get_parent", dict)() or {}
    run = str(parent.get("header", {}).get("msg_id", ""))
    return str(parent.get("metadata", {}).get("cellId") or parent.get("content", {}).get("code", "")), run
