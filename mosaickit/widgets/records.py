"""The tables of a journal: what each holds, written and read back; every row with its checksum.

There is the design that can be gone back to and, a row each, the steps from there: the squares of the motif that a step
flipped, or the whole design. Beside them lies what was entered and is in no design, by the panel it was entered on.
Every row has a checksum, since SQLite does not notice all damage.
"""

from __future__ import annotations

import sqlite3
import zlib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from mosaickit.colours import checked_name
from mosaickit.errors import FileError, MosaickitError, whole_number
from mosaickit.sizes import Design, design_from_json, design_to_json
from mosaickit.widgets.steps import State, Step

APPLICATION = int.from_bytes(b"mosk")
"""Stands in the header of the database and says that it is a sketch."""
SKETCH_VERSION = 3

PAGE = 4096
TABLES = (
    "CREATE TABLE drawing "
    "(identity TEXT, most_steps INTEGER, done INTEGER, last INTEGER, stamp INTEGER, checksum INTEGER)",
    "CREATE TABLE start (forgotten INTEGER, design TEXT, checksum INTEGER)",
    "CREATE TABLE steps (number INTEGER PRIMARY KEY, label TEXT, change, checksum INTEGER)",
    "CREATE TABLE beside (panel TEXT, entered TEXT, checksum INTEGER)",
)
NEW = f"""
PRAGMA page_size = {PAGE};
PRAGMA application_id = {APPLICATION};
PRAGMA user_version = {SKETCH_VERSION};
BEGIN;
{";".join(TABLES)};
"""


@dataclass(frozen=True, eq=False)
class Kept:
    """What the journal holds: a state, with steps from further back if `forgotten` is less than the state's."""

    identity: str
    most: int  # steps that can be undone
    state: State
    forgotten: int
    stamp: int  # every transaction leaves another, so that what someone else wrote is noticed
    beside: Mapping[str, str] = field(default_factory=dict)  # what was entered on a panel, as JSON


# ---- writing -----------------------------------------------------------------------------------------------


def record(database: sqlite3.Connection, new: Kept, old: Kept | None, longest: int) -> Kept:
    """Make the tables hold the present state; forget old steps if they are too many.

    Parameters
    ----------
    database : sqlite3.Connection
        In a transaction.
    new : Kept
        What the tables are to hold.
    old : Kept, optional
        What they hold; None if that is not known.
    longest : int
        How many bytes they may have; beyond, the older half of the steps is forgotten.

    Returns
    -------
    Kept
        What they hold now: a state with fewer steps, if some were forgotten.
    """
    if old is None or old.beside != new.beside:
        database.execute("DELETE FROM beside")
        database.executemany("INSERT INTO beside VALUES (?, ?, ?)", [with_checksum(*one) for one in new.beside.items()])
    state = new.state
    if old is not None and old.state.forgotten > state.forgotten:
        old = None  # more was forgotten than the state knows
    agreed = state.forgotten if old is None else state.agrees_to(old.state)
    forgotten = state.forgotten
    # a start that is far back is only moved now and then, as a whole design takes long to write
    if old is not None and old.state.last >= forgotten <= old.forgotten + new.most // 8:
        forgotten = old.forgotten
    while True:
        database.execute("DELETE FROM steps WHERE number > ? OR number <= ?", (agreed, forgotten))
        first = max(agreed, state.forgotten)
        rows = [
            with_checksum(number, step.label, _change(step))
            for number, step in enumerate(state.steps[first - state.forgotten :], first + 1)
        ]
        more = sum(_room(len(label) + len(change)) for _, label, change, _ in rows)
        if state.at <= 1 or _bytes_in(database) + more <= longest:
            break
        state = state.forgetting(state.at // 2)
        forgotten = state.forgotten
    if old is None or forgotten != old.forgotten:
        database.execute("DELETE FROM start")
        database.execute("INSERT INTO start VALUES (?, ?, ?)", with_checksum(forgotten, design_to_json(state.start)))
    database.executemany("INSERT INTO steps VALUES (?, ?, ?, ?)", rows)
    database.execute("DELETE FROM drawing")
    drawing = with_checksum(new.identity, new.most, state.done, state.last, new.stamp)
    database.execute("INSERT INTO drawing VALUES (?, ?, ?, ?, ?, ?)", drawing)
    return replace(new, state=state, forgotten=forgotten)


_SAME_PHOTOGRAPHS = "="
"""Stands before a design whose photographs are those of the step before: each step with all pictures is too much."""


def _change(step: Step) -> str | bytes:
    """Give what the journal says of a step: a design as JSON, or runs as pairs of 32-bit numbers."""
    if step.after is None:
        return np.asarray(step.runs, dtype="<i4").tobytes()
    if step.before is not None and step.after.photographs and step.after.photographs == step.before.photographs:
        return _SAME_PHOTOGRAPHS + design_to_json(step.after.but(photographs=()))
    return design_to_json(step.after)


def _bytes_in(database: sqlite3.Connection) -> int:
    """Give how many bytes of a database are in use."""
    pages, free, size = (
        database.execute(f"PRAGMA {what}").fetchone()[0] for what in ("page_count", "freelist_count", "page_size")
    )
    return int((pages - free) * size)


def _room(length: int) -> int:
    """Give how many bytes a row of texts so long takes at most."""
    return length + 50 if length < PAGE // 8 else (length // (PAGE - 4) + 2) * PAGE


def with_checksum(*values: Any) -> tuple[Any, ...]:  # noqa: ANN401 — what SQLite holds: numbers, texts and bytes
    """Put a checksum behind the values of a row."""
    checksum = 0
    for value in values:
        data = value if isinstance(value, bytes) else str(value).encode("utf-8", "surrogatepass")
        checksum = zlib.crc32(b"%s %d %s" % (type(value).__name__.encode(), len(data), data), checksum)
    return (*values, checksum)


# ---- reading -----------------------------------------------------------------------------------------------


def load(database: sqlite3.Connection) -> Kept:
    """Give what a journal holds, with no more steps than can be undone."""
    database.execute("BEGIN")  # so that all is read from one moment
    (application,), (version,) = (
        database.execute(f"PRAGMA {what}").fetchone() for what in ("application_id", "user_version")
    )
    if application != APPLICATION:
        raise FileError("This is no sketch, but a database of something else.")
    if version != SKETCH_VERSION:
        raise FileError(
            f"This sketch is of version {version}; this mosaickit reads version {SKETCH_VERSION}: use the mosaickit "
            "that wrote it."
        )
    tables = [sql for (sql,) in database.execute("SELECT sql FROM sqlite_master ORDER BY rowid")]
    if tables != list(TABLES):
        raise FileError("The file is damaged: it does not have the tables of a sketch.")
    (sound,) = database.execute("PRAGMA integrity_check(1)").fetchone()
    if sound != "ok":
        raise FileError(f"The file is damaged: {' '.join(sound.split())}.")
    drawings = _checked_rows(database, "SELECT * FROM drawing")
    starts = _checked_rows(database, "SELECT * FROM start")
    steps = _checked_rows(database, "SELECT * FROM steps ORDER BY number")
    beside = _checked_rows(database, "SELECT * FROM beside")
    if len(drawings) != 1 or len(starts) != 1:
        raise FileError("The file is damaged: it does not hold one drawing.")
    ((identity, *numbers),) = drawings
    ((forgotten, start),) = starts
    if not all(type(value) is int for value in (*numbers, forgotten)):
        raise FileError("The file is damaged: it holds something else where a number should be.")
    if not all(isinstance(value, str) for value in (identity, start, *(text for row in beside for text in row))):
        raise FileError("The file is damaged: it holds something else where a text should be.")
    most, done, last, stamp = numbers
    if (
        last - forgotten != len(steps)
        or [row[0] for row in steps] != list(range(forgotten + 1, last + 1))
        or not forgotten <= done <= last
    ):
        raise FileError("The file is damaged: steps are missing.")
    whole_number("most_steps", most, least=1)
    state = _replayed(design_from_json(start), forgotten, done, steps).forgetting(done - forgotten - most)
    return Kept(identity, most, state, forgotten, stamp, dict(beside))


def _checked_rows(database: sqlite3.Connection, query: str) -> list[tuple[Any, ...]]:
    """Read rows, the last column of which is their checksum, and give them without it."""
    rows = database.execute(query).fetchall()
    for number, row in enumerate(rows, 1):
        if with_checksum(*row[:-1]) != row:
            raise FileError(f"The file is damaged: row {number} of its table {query.split()[3]!r} has been changed.")
    return [row[:-1] for row in rows]


def _replayed(start: Design, forgotten: int, done: int, rows: list[tuple[Any, ...]]) -> State:
    """Draw again what the rows of the steps say."""
    design = now = start
    steps: list[Step] = []
    for number, label, change in rows:
        try:
            step = _read_step(checked_name("A step's label", label), change, design)
            design = step.apply(design)
        except MosaickitError as error:
            raise FileError(f"Step {number}: {error}") from None
        steps.append(step)
        if number == done:
            now = design
    return State(start, now, forgotten, tuple(steps), done - forgotten)


def _read_step(label: str, change: object, before: Design) -> Step:
    if isinstance(change, str):
        after = design_from_json(change.removeprefix(_SAME_PHOTOGRAPHS))
        if change.startswith(_SAME_PHOTOGRAPHS):
            after = after.but(photographs=before.photographs)
        return Step(label, before=before, after=after)
    if not isinstance(change, bytes) or len(change) % 8:
        raise FileError("Expected a design, or pairs of a square and how many follow.")
    runs = np.frombuffer(change, dtype="<i4").astype(np.intp).reshape(-1, 2)
    ends = runs.sum(axis=1)
    if (
        (runs[:, 1] < 1).any()
        or (runs[:, 0] < [0, *ends[:-1]][: len(runs)]).any()
        or (ends > before.motif.grid.size).any()
    ):
        raise FileError("Expected squares of the picture in rising order.")
    return Step(label, runs=runs)
