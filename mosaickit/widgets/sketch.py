"""A motif that is being drawn: its present state, undo and redo, and a journal that outlives a killed program.

The journal is an SQLite database. It holds the motif that can be gone back to and, a row each, the steps from there:
the squares that a step flipped, or the whole motif where that is shorter. Each step, undo and redo is one transaction,
on the disk before it counts as kept, so a program that is killed loses at most the step in hand. SQLite's rollback
journal beside the file stays between transactions and is removed when the sketch is closed: that is as quick as
removing it each time, and the last step is on the disk after a power cut too. The write-ahead log is not used, as it
does not work on network drives. Every row has a checksum, since SQLite does not notice all damage.

A connection lasts for one transaction. That costs a fifth of a millisecond, beside several for the disk, and lets any
thread write and a file that was removed be noticed. A `Lock` keeps the file for one sketch from beginning to end.
"""

from __future__ import annotations

import os
import secrets
import shutil
import sqlite3
import uuid
import weakref
import zlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from os import PathLike
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from urllib.parse import quote

import numpy as np
from numpy.typing import NDArray

from mosaickit.colours import checked_name
from mosaickit.errors import FileError, MosaickitError, OptionError, whole_number
from mosaickit.files import HeldError, Lock, as_path, check_ordinary, file_name, from_json, reason, to_json, write_whole
from mosaickit.motif import Motif

APPLICATION = int.from_bytes(b"mosk")
"""Stands in the header of the database and says that it is a sketch."""
VERSION = 1

LONGEST_JOURNAL = 20_000_000
"""A journal that would grow beyond this, in bytes, has the older half of its steps forgotten."""

MOST_STEPS = 2000
"""How many steps can be undone, unless the sketch is told otherwise."""

PATIENCE = 5.0
"""How many seconds are waited for a program that is reading the journal."""

SETTINGS = ("PRAGMA journal_mode = PERSIST", "PRAGMA synchronous = FULL", "PRAGMA journal_size_limit = 100000")

PAGE = 4096
TABLES = (
    "CREATE TABLE drawing "
    "(identity TEXT, most_steps INTEGER, done INTEGER, last INTEGER, stamp INTEGER, checksum INTEGER)",
    "CREATE TABLE start (forgotten INTEGER, motif TEXT, checksum INTEGER)",
    "CREATE TABLE steps (number INTEGER PRIMARY KEY, label TEXT, change, checksum INTEGER)",
)
NEW = f"""
PRAGMA page_size = {PAGE};
PRAGMA application_id = {APPLICATION};
PRAGMA user_version = {VERSION};
BEGIN;
{";".join(TABLES)};
"""

CUT_OFF = "The last stroke was not written to the end and was left out."


@dataclass(frozen=True, eq=False)
class _Step:
    """One step: the runs of squares it flips, or the motifs before and after it.

    A run, a row of `runs`, is the number of its first square, counted row by row as seen, and how many follow on.
    """

    label: str
    runs: NDArray[np.intp] | None = None
    before: Motif | None = None
    after: Motif | None = None

    @classmethod
    def between(cls, before: Motif, after: Motif, label: str) -> _Step:
        """Make the step from one motif to another, in the shorter way."""
        if after.shape == before.shape and after == before.with_grid(after.grid):
            runs = _runs(np.flatnonzero(after.grid != before.grid))
            # a run takes eight bytes, a whole motif one a square and some hundreds for the rest
            if 8 * len(runs) < after.grid.size + 1000:
                return cls(label, runs=runs)
        return cls(label, before=before, after=after)

    def apply(self, motif: Motif, back: bool = False) -> Motif:
        whole = self.before if back else self.after
        if whole is not None:
            return whole
        grid = motif.grid.copy()
        squares = grid.ravel()
        for first, length in [] if self.runs is None else self.runs.tolist():
            squares[first : first + length] ^= True
        return motif.with_grid(grid)

    def change(self) -> str | bytes:
        """Give what the journal says of the step: a motif as JSON, or runs as pairs of 32-bit numbers."""
        if self.after is not None:
            return to_json(self.after)
        return np.asarray(self.runs, dtype="<i4").tobytes()


@dataclass(frozen=True, eq=False)
class _State:
    """All that can be undone and redone, in one value, so that an interruption leaves the one before or after."""

    start: Motif
    motif: Motif
    forgotten: int = 0  # steps are numbered from the first that was ever taken
    steps: tuple[_Step, ...] = ()
    at: int = 0

    @property
    def done(self) -> int:
        """The number of the last step that is done."""
        return self.forgotten + self.at

    @property
    def last(self) -> int:
        """The number of the last step, done or undone."""
        return self.forgotten + len(self.steps)

    def taking(self, step: _Step, most: int) -> _State:
        steps = (*self.steps[: self.at], step)
        taken = replace(self, motif=step.apply(self.motif), steps=steps, at=len(steps))
        return taken.forgetting(len(steps) - most)

    def forgetting(self, count: int) -> _State:
        """Forget so many of the steps that are done, the oldest."""
        if count <= 0:
            return self
        start = self.start
        for step in self.steps[:count]:
            start = step.apply(start)
        return replace(
            self, start=start, forgotten=self.forgotten + count, steps=self.steps[count:], at=self.at - count
        )

    def undoing(self) -> _State:
        return replace(self, motif=self.steps[self.at - 1].apply(self.motif, back=True), at=self.at - 1)

    def redoing(self) -> _State:
        return replace(self, motif=self.steps[self.at].apply(self.motif), at=self.at + 1)

    def agrees_to(self, other: _State) -> int:
        """Give the number of the last step up to which an older state has the same ones."""
        older = other.steps[self.forgotten - other.forgotten :]
        for number, (one, another) in enumerate(zip(self.steps, older, strict=False)):
            if one is not another:
                return self.forgotten + number
        return self.forgotten + min(len(self.steps), len(older))


@dataclass(frozen=True, eq=False)
class _Kept:
    """What the journal holds: a state, with steps from further back if `forgotten` is less than the state's."""

    state: _State
    forgotten: int
    stamp: int  # every transaction leaves another, so that what someone else wrote is noticed


class Sketch:
    """A motif that is being drawn, step by step.

    Parameters
    ----------
    motif : Motif
        What it starts from.
    journal : path, optional
        The file in which every step is kept; it must not be there yet. None keeps the sketch in memory only.
    most_steps : int
        How many steps can be undone; older ones are forgotten.

    Attributes
    ----------
    identity : str
        32 hexadecimal digits, drawn at random when the drawing is begun and kept in the journal. A copy of the file has
        the same.
    recovered : str
        What was left out when the journal was opened, as a sentence; or "".
    trouble : str
        Why steps are not kept in the journal at present, as a sentence; or "".

    Raises
    ------
    FileError
        If the journal is there already, cannot be written, or another sketch holds it.
    OptionError
        If `motif` is no Motif, or `most_steps` no whole number of 1 or more.

    Examples
    --------
    >>> with Sketch(Motif.from_text(".#")) as sketch:
    ...     sketch.change(Motif.from_text("##"), "a dot")
    ...     sketch.undo().to_text(), sketch.redo_label
    ('.#', 'a dot')
    """

    def __init__(
        self, motif: Motif, *, journal: str | PathLike[str] | None = None, most_steps: int = MOST_STEPS
    ) -> None:
        self._most = whole_number("most_steps", most_steps, least=1)
        self._state = _State(_checked(motif), motif)
        self._file: Path | None = None
        self._lock: Lock | None = None
        self._kept: _Kept | None = None
        self._stamps: set[int] = set()  # of transactions that failed, but may have reached the disk all the same
        self._closed = False
        self.identity = uuid.uuid4().hex
        self.recovered = ""
        self.trouble = ""
        if journal is not None:
            file = as_path(journal)
            lock = _locked(file)
            try:
                if os.path.lexists(file):
                    raise FileError(f"{file_name(file)} is there already: go on with it by `Sketch.open`.")
                self._begin(file)
            except BaseException:
                lock.release()
                raise
            self._hold(file, lock)

    def _hold(self, file: Path, lock: Lock) -> None:
        """Keep every step in a file from now on, and let go of it when this is closed, no more used, or Python ends."""
        self._file, self._lock = file, lock
        self._end = weakref.finalize(self, _let_go, file, lock)

    @classmethod
    def open(cls, journal: str | PathLike[str], *, otherwise: Motif | None = None) -> Sketch:
        """Go on with a journal: the picture, and everything that can be undone and redone.

        Parameters
        ----------
        journal : path
            What an earlier sketch kept.
        otherwise : Motif, optional
            What to start from if there is no such file.

        Raises
        ------
        FileError
            If there is no such file and nothing to start from; if another sketch holds it, naming whose; or if it is
            damaged, of something else, or may not be written. The file is not changed.
        """
        file = as_path(journal)
        if otherwise is not None and not os.path.lexists(file):
            return cls(otherwise, journal=file)
        with _named(file):
            check_ordinary(file)
        lock = _locked(file)
        try:
            with _named(file):
                if not os.access(file, os.W_OK):
                    raise FileError(
                        "The file is write-protected, so nothing that is drawn could be kept: take the protection off, "
                        "or give `autosave` another name. To look at it, use `Sketch.read`."
                    )
                cut_off = _is_hot(file)
                with _connected(file) as database:
                    sketch, kept = _load(database)
        except BaseException:
            lock.release()
            raise
        sketch.recovered = CUT_OFF if cut_off else ""
        sketch._hold(file, lock)
        sketch._settle(kept)
        return sketch

    @classmethod
    def read(cls, journal: str | PathLike[str]) -> Sketch:
        """Look at a journal, which another program may be writing; what is drawn from here on is in memory only.

        Parameters
        ----------
        journal : path
            What a sketch keeps or kept. The file is not changed.

        Raises
        ------
        FileError
            If there is no such file, or it is damaged or of something else.
        """
        file = as_path(journal)
        with _named(file):
            check_ordinary(file)
            try:
                with _connected(file, "ro") as database:
                    return _load(database)[0]
            except sqlite3.OperationalError as error:
                if getattr(error, "sqlite_errorname", "") != "SQLITE_READONLY_ROLLBACK":
                    raise
            return _read_copy(file)

    def close(self) -> None:
        """Let others write the file. The motif stays, but cannot be changed. Closing once more does nothing."""
        if self._file is None or self._closed:
            self._closed = True
            return
        try:
            if self.trouble:
                self._go_to(self._state)  # the last chance to keep it
        finally:
            self._closed = True
            self._end()

    def __enter__(self) -> Sketch:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # ---- drawing -------------------------------------------------------------------------------------------

    @property
    def motif(self) -> Motif:
        """The motif now."""
        return self._state.motif

    @property
    def steps(self) -> int:
        """How many steps can be undone."""
        return self._state.at

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to undo."""
        return self._state.at > 0

    @property
    def can_redo(self) -> bool:
        """Whether there is a step to redo."""
        return self._state.at < len(self._state.steps)

    @property
    def undo_label(self) -> str:
        """What the step that `undo` takes back is called."""
        return self._state.steps[self._state.at - 1].label if self.can_undo else ""

    @property
    def redo_label(self) -> str:
        """What the step that `redo` does again is called."""
        return self._state.steps[self._state.at].label if self.can_redo else ""

    def change(self, motif: Motif, label: str = "") -> None:
        """Take a step to another motif; none if it is the same. What could be redone is dropped.

        Raises
        ------
        MosaickitError
            If `motif` is no Motif, `label` is not one line of at most 200 characters, or the sketch is closed; nothing
            is changed.
        """
        self._refuse_if_closed()
        checked_name("A step's label", label)  # here, as one that cannot be read back would spoil the journal
        if _checked(motif) != self.motif:
            self._go_to(self._state.taking(_Step.between(self.motif, motif, label), self._most))

    def undo(self) -> Motif:
        """Take the last step back and give the motif; do nothing if there is none."""
        self._refuse_if_closed()
        if self.can_undo:
            self._go_to(self._state.undoing())
        return self.motif

    def redo(self) -> Motif:
        """Do the step that was undone last again and give the motif; do nothing if there is none."""
        self._refuse_if_closed()
        if self.can_redo:
            self._go_to(self._state.redoing())
        return self.motif

    def _refuse_if_closed(self) -> None:
        if self._closed:
            raise OptionError("This sketch is closed, so it cannot be changed: go on with its file by `Sketch.open`.")

    def _go_to(self, state: _State) -> None:
        self._state = state
        if self._file is None:
            return
        try:
            self._write(self._file)
            self.trouble = ""
        except (OSError, sqlite3.Error, FileError) as error:
            why = str(error) if isinstance(error, FileError) else f"{_reason(error)}."
            self.trouble = f"The drawing is kept in memory only, as its file could not be written: {why}"

    # ---- the journal ---------------------------------------------------------------------------------------

    def _write(self, file: Path) -> None:
        """Bring the journal to the present state, whatever part of it is there."""
        if self._lock is None or not self._lock.held:
            self._hold(file, _locked(file))
        if not os.path.lexists(file):
            self._begin(file)
            return
        with _connected(file) as database:
            for setting in SETTINGS:
                database.execute(setting)
            database.execute("BEGIN IMMEDIATE")
            stamps = [stamp for (stamp,) in database.execute("SELECT stamp FROM drawing")]
            if self._kept is not None and stamps == [self._kept.stamp]:
                kept: _Kept | None = self._kept
            elif len(stamps) == 1 and stamps[0] in self._stamps:
                kept = None
            else:
                raise FileError(
                    f"another program has changed {file_name(file)}. Move that file away, and this drawing is written "
                    "as a new one."
                )
            stamp = secrets.randbits(63)
            self._stamps.add(stamp)
            kept = self._bring(database, kept, stamp)
            database.execute("COMMIT")
        self._settle(kept)

    def _begin(self, file: Path) -> None:
        """Write a new journal, which holds the present state or is not there."""
        database = sqlite3.connect(":memory:", isolation_level=None)
        try:
            database.executescript(NEW)
            kept = self._bring(database, None, secrets.randbits(63))
            database.execute("COMMIT")
            # one that a killed program left would spoil the new file; of no file it is of no use
            _rollback_journal(file).unlink(missing_ok=True)
            write_whole(file, database.serialize())
        finally:
            database.close()
        self._settle(kept)

    def _settle(self, kept: _Kept) -> None:
        self._kept = kept
        self._stamps = {kept.stamp}

    def _bring(self, database: sqlite3.Connection, kept: _Kept | None, stamp: int) -> _Kept:
        """Make the tables, which hold what is `kept`, hold the present state; forget old steps if they are too many."""
        state = self._state
        agreed = state.forgotten if kept is None else state.agrees_to(kept.state)
        forgotten = state.forgotten
        # a start that is far back is only moved now and then, as a whole motif takes long to write
        if kept is not None and kept.state.last >= forgotten <= kept.forgotten + self._most // 8:
            forgotten = kept.forgotten
        while True:
            database.execute("DELETE FROM steps WHERE number > ? OR number <= ?", (agreed, forgotten))
            first = max(agreed, state.forgotten)
            rows = [
                _with_checksum(number, step.label, step.change())
                for number, step in enumerate(state.steps[first - state.forgotten :], first + 1)
            ]
            more = sum(_room(len(label) + len(change)) for _, label, change, _ in rows)
            if state.at <= 1 or _bytes_in(database) + more <= LONGEST_JOURNAL:
                break
            state = self._state = state.forgetting(state.at // 2)
            forgotten = state.forgotten
        if kept is None or forgotten != kept.forgotten:
            database.execute("DELETE FROM start")
            database.execute("INSERT INTO start VALUES (?, ?, ?)", _with_checksum(forgotten, to_json(state.start)))
        database.executemany("INSERT INTO steps VALUES (?, ?, ?, ?)", rows)
        database.execute("DELETE FROM drawing")
        drawing = _with_checksum(self.identity, self._most, state.done, state.last, stamp)
        database.execute("INSERT INTO drawing VALUES (?, ?, ?, ?, ?, ?)", drawing)
        return _Kept(state, forgotten, stamp)


def _checked(motif: object) -> Motif:
    if not isinstance(motif, Motif):
        raise OptionError(f"`motif` must be a Motif; got {motif!r}.")
    return motif


def _runs(squares: NDArray[np.intp]) -> NDArray[np.intp]:
    """Give rising numbers of squares as runs of neighbours, (n, 2): the first, and how many."""
    starts = np.flatnonzero(np.diff(squares, prepend=-2) != 1)
    return np.column_stack([squares[starts], np.diff(np.append(starts, len(squares)))])


# ---- the database ------------------------------------------------------------------------------------------


def _locked(file: Path) -> Lock:
    try:
        return Lock(file)
    except HeldError as error:
        raise FileError(
            f"{error} Shut down that notebook's kernel, or close the drawing there, and try again; or give `autosave` "
            "another name. To look at it meanwhile, use `Sketch.read`."
        ) from None
    except FileError as error:
        raise FileError(f"{error} Give `autosave` a name in another folder.") from None


@contextmanager
def _connected(file: Path, mode: str = "rw") -> Iterator[sqlite3.Connection]:
    """Connect to a database that is there; whatever is not committed in the end is rolled back."""
    path = quote(os.fsencode(file.absolute().as_posix()))
    address = f"file://{'' if path.startswith('/') else '/'}{path}?mode={mode}"
    database = sqlite3.connect(address, uri=True, timeout=PATIENCE, isolation_level=None, check_same_thread=False)
    try:
        yield database
    finally:
        database.close()


@contextmanager
def _named(file: Path) -> Iterator[None]:
    """Have every error in reading a journal name it."""
    try:
        yield
    except MosaickitError as error:
        raise FileError(f"{file_name(file)}: {error}") from None
    except UnicodeDecodeError:  # also of what SQLite says about a damaged name
        raise FileError(f"{file_name(file)}: The file is damaged: a text in it is not UTF-8.") from None
    except (sqlite3.Error, OSError) as error:
        raise FileError(f"{file_name(file)}: The file could not be read: {_reason(error)}.") from None


def _reason(error: sqlite3.Error | OSError) -> str:
    """Say why a database could not be read or written, as the end of a sentence."""
    if isinstance(error, OSError):
        return reason(error)
    sentences = {
        "SQLITE_FULL": "the disk is full",
        "SQLITE_READONLY": "it may not be written to",
        "SQLITE_BUSY": "another program is using it",
        "SQLITE_CANTOPEN": "the system does not open it",
        "SQLITE_IOERR": "the disk failed, or is full",
        "SQLITE_NOTADB": "it is no sketch, which is an SQLite database",
    }
    name = getattr(error, "sqlite_errorname", "")
    return next((says for start, says in sentences.items() if name.startswith(start)), f"it is damaged ({error})")


def _rollback_journal(file: Path) -> Path:
    return Path(f"{os.path.realpath(file)}-journal")


def _is_hot(file: Path) -> bool:
    """Whether a transaction was cut off, so that SQLite will roll it back."""
    try:
        with _rollback_journal(file).open("rb") as journal:
            return journal.read(8).strip(b"\0") != b""
    except OSError:
        return False


def _read_copy(file: Path) -> Sketch:
    """Read a journal in which a program was killed in a stroke, which is taken back in a copy."""
    with TemporaryDirectory() as folder:
        copy = Path(folder) / "copy"
        shutil.copyfile(file, copy)
        with suppress(FileNotFoundError):  # someone has opened the file and taken the stroke back
            shutil.copyfile(_rollback_journal(file), _rollback_journal(copy))
        with _connected(copy) as database:
            sketch, _ = _load(database)
    sketch.recovered = CUT_OFF
    return sketch


def _let_go(file: Path, lock: Lock) -> None:
    """Remove the rollback journal, which does no harm where that fails, and let others write the file."""
    try:
        if lock.held:
            with suppress(sqlite3.Error), _connected(file) as database:
                for mode in ("PERSIST", "DELETE"):  # only a change of mode removes it
                    database.execute(f"PRAGMA journal_mode = {mode}")
    finally:
        lock.release()


def _bytes_in(database: sqlite3.Connection) -> int:
    """Give how many bytes of a database are in use."""
    pages, free, size = (
        database.execute(f"PRAGMA {what}").fetchone()[0] for what in ("page_count", "freelist_count", "page_size")
    )
    return int((pages - free) * size)


def _room(length: int) -> int:
    """Give how many bytes a row of texts so long takes at most."""
    return length + 50 if length < PAGE // 8 else (length // (PAGE - 4) + 2) * PAGE


def _with_checksum(*values: Any) -> tuple[Any, ...]:  # noqa: ANN401 — what SQLite holds: numbers, texts and bytes
    """Put a checksum behind the values of a row."""
    checksum = 0
    for value in values:
        data = value if isinstance(value, bytes) else str(value).encode("utf-8", "surrogatepass")
        checksum = zlib.crc32(b"%s %d %s" % (type(value).__name__.encode(), len(data), data), checksum)
    return (*values, checksum)


def _checked_rows(database: sqlite3.Connection, query: str) -> list[tuple[Any, ...]]:
    """Read rows, the last column of which is their checksum, and give them without it."""
    rows = database.execute(query).fetchall()
    for number, row in enumerate(rows, 1):
        if _with_checksum(*row[:-1]) != row:
            raise FileError(f"The file is damaged: row {number} of its table {query.split()[3]!r} has been changed.")
    return [row[:-1] for row in rows]


def _load(database: sqlite3.Connection) -> tuple[Sketch, _Kept]:
    """Give the sketch that a journal holds, in memory, and what the journal holds."""
    database.execute("BEGIN")  # so that all is read from one moment
    (application,), (version,) = (
        database.execute(f"PRAGMA {what}").fetchone() for what in ("application_id", "user_version")
    )
    if application != APPLICATION:
        raise FileError("This is no sketch, but a database of something else.")
    if version != VERSION:
        raise FileError(
            f"This sketch is of version {version}; this mosaickit reads version {VERSION}: use the mosaickit that "
            "wrote it."
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
    if len(drawings) != 1 or len(starts) != 1:
        raise FileError("The file is damaged: it does not hold one drawing.")
    ((identity, *numbers),) = drawings
    ((forgotten, motif),) = starts
    if not all(type(value) is int for value in (*numbers, forgotten)):
        raise FileError("The file is damaged: it holds something else where a number should be.")
    if not all(isinstance(value, str) for value in (identity, motif)):
        raise FileError("The file is damaged: it holds something else where a text should be.")
    most, done, last, stamp = numbers
    if (
        last - forgotten != len(steps)
        or [row[0] for row in steps] != list(range(forgotten + 1, last + 1))
        or not forgotten <= done <= last
    ):
        raise FileError("The file is damaged: steps are missing.")
    sketch = Sketch(from_json(motif, None), most_steps=most)
    sketch.identity = identity
    sketch._state = _replayed(sketch.motif, forgotten, done, steps).forgetting(done - forgotten - most)
    return sketch, _Kept(sketch._state, forgotten, stamp)


def _replayed(start: Motif, forgotten: int, done: int, rows: list[tuple[Any, ...]]) -> _State:
    """Draw again what the rows of the steps say."""
    motif = now = start
    steps: list[_Step] = []
    for number, label, change in rows:
        try:
            step = _read_step(checked_name("A step's label", label), change, motif)
            motif = step.apply(motif)
        except MosaickitError as error:
            raise FileError(f"Step {number}: {error}") from None
        steps.append(step)
        if number == done:
            now = motif
    return _State(start, now, forgotten, tuple(steps), done - forgotten)


def _read_step(label: str, change: object, before: Motif) -> _Step:
    if isinstance(change, str):
        return _Step(label, before=before, after=from_json(change, None))
    if not isinstance(change, bytes) or len(change) % 8:
        raise FileError("Expected a motif, or pairs of a square and how many follow.")
    runs = np.frombuffer(change, dtype="<i4").astype(np.intp).reshape(-1, 2)
    ends = runs.sum(axis=1)
    if (runs[:, 1] < 1).any() or (runs[:, 0] < [0, *ends[:-1]][: len(runs)]).any() or (ends > before.grid.size).any():
        raise FileError("Expected squares of the picture in rising order.")
    return _Step(label, runs=runs)
