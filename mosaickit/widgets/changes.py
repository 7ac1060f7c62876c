"""Changes of a picture that the painter offers, by name: of all of it, at the square in focus, or of a part."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np

from mosaickit.motif import (
    Motif,
    counterchange,
    delete_column,
    delete_row,
    delete_two_rows,
    half_turn,
    insert_column,
    insert_row,
    mirror,
    repeat_column,
    repeat_row,
    repeat_two_rows,
    up_down,
)

CHANGES: dict[str, Callable[[Motif, int, int], Motif]] = {
    "mirror": lambda motif, top, left: mirror(motif),
    "up-down": lambda motif, top, left: up_down(motif),
    "half-turn": lambda motif, top, left: half_turn(motif),
    "counterchange": lambda motif, top, left: counterchange(motif),
    "insert row": lambda motif, top, left: insert_row(motif, top, colours="swap"),
    "insert two rows": lambda motif, top, left: insert_row(insert_row(motif, top), top),
    "delete row": lambda motif, top, left: delete_row(motif, top),
    "delete two rows": lambda motif, top, left: delete_two_rows(motif, top),
    "repeat row": lambda motif, top, left: repeat_row(motif, top),
    "repeat two rows": lambda motif, top, left: repeat_two_rows(motif, top),
    "insert column": lambda motif, top, left: insert_column(motif, left),
    "delete column": lambda motif, top, left: delete_column(motif, left),
    "repeat column": lambda motif, top, left: repeat_column(motif, left),
    "clear": lambda motif, top, left: motif.with_grid(np.zeros(motif.shape, dtype=np.bool_)),
}
"""Every change by its name: from a motif, and the row and the column as seen of the square in focus."""

TURNS: dict[str, Callable[[Motif], Motif]] = {
    "mirror": mirror,
    "up-down": partial(up_down, colours="swap"),
    "half-turn": partial(half_turn, colours="swap"),
}
"""What turns a part of a picture, by its name: the part stays as workable as it was, as its rows keep their colours."""

ONCE_DONE: dict[str, str] = {
    "insert row": "A plain row is put in. All rows above it have their colours swapped, so they are worked as before.",
    "insert two rows": "Two plain rows are put in. All else is as it was.",
    "repeat two rows": "Two rows are repeated. All else is as it was.",
}
"""The sentence shown when a change is done."""
