"""The journal of a drawing: a file that keeps every step, and that outlives a killed program.

It is an SQLite database, whose tables `records` knows. Each step, undo and redo is one transaction, on the disk before
it counts as kept, so a program that is killed loses at most the step in hand. SQLite's rollback journal beside the file
stays between transactions and is removed when the journal is closed: that is as quick as removing it each time, and the
last step is on the disk after a power cut too. The write-ahead log is not used, as it does not work on network drives.

A connection lasts for one transaction. That costs a fifth of a millisecond, beside several for the disk, and lets any
thread write and a file that was removed be noticed. A `Lock` keeps the file for one sketch from beginning to end.
"""

from __future__ import annotations

import os
import secrets
import shutil
import sqlite3
import weakref
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from mosaickit.errors import FileError
from mosaickit.files import Lock, check_ordinary, file_name, write_whole
from mosaickit.widgets.fences import connected, is_hot, let_go, locked, named, rollback_journal, why
from mosaickit.widgets.records import NEW, Kept, load, record
from mosaickit.widgets.steps import State

LONGEST_JOURNAL = 20_000_000
"""A journal that would grow beyond this, in bytes, has the older half of its steps forgotten."""

SETTINGS = ("PRAGMA journal_mode = PERSIST", "PRAGMA synchronous = FULL", "PRAGMA journal_size_limit = 100000")


class Journal:
    """The file of one sketch, kept for it until this is closed, no more used, or Python ends."""

    def __init__(self, file: Path, lock: Lock, kept: Kept) -> None:
        self._file = file
        self._hold(lock)
        self._settle(kept)

    @classmethod
    def begin(cls, file: Path, state: State, identity: str, most: int) -> Journal:
        """Begin a file, which must not be there yet.

        Raises
        ------
        FileError
            If it is there, cannot be written, or another sketch holds it.
        """
        lock = locked(file)
        try:
            if os.path.lexists(file):
                raise FileError(f"{file_name(file)} is there already: go on with it by `Sketch.open`.")
            return cls(file, lock, _write_new(file, Kept(identity, most, state, state.forgotten, _stamp())))
        except BaseException:
            lock.release()
            raise

    @classmethod
    def open(cls, file: Path) -> tuple[Journal, bool]:
        """Go on with a file, and tell whether a stroke was left out that was not written to the end.

        Raises
        ------
        FileError
            If there is none, another sketch holds it, it is damaged, of something else, or may not be written.
        """
        with named(file):
            check_ordinary(file)
        lock = locked(file)
        try:
            with named(file):
                if not os.access(file, os.W_OK):
                    raise FileError(
                        "The file is write-protected, so nothing that is drawn could be kept: take the protection off, "
                        "or give `autosave` another name. To look at it, use `Sketch.read`."
                    )
                cut_off = is_hot(file)
                with connected(file) as database:
                    kept = load(database)
            return cls(file, lock, kept), cut_off
        except BaseException:
            lock.release()
            raise

    @property
    def kept(self) -> Kept:
        """What the file holds."""
        return self._kept

    def write(self, state: State, beside: Mapping[str, str]) -> State:
        """Bring the file to a state, whatever part of it is there; give the state, which may have fewer steps.

        `beside` is what was entered and is in no design, by the panel it was entered on.

        Raises
        ------
        FileError
            If it cannot be written, or another program has changed it.
        """
        try:
            if not self._lock.held:
                self._hold(locked(self._file))
            new = replace(self._kept, state=state, forgotten=state.forgotten, stamp=_stamp(), beside=dict(beside))
            self._stamps.add(new.stamp)
            kept = self._write(new) if os.path.lexists(self._file) else _write_new(self._file, new)
        except (OSError, sqlite3.Error) as error:
            raise FileError(f"{why(error)}.") from None
        self._settle(kept)
        return kept.state

    def close(self) -> None:
        """Let others write the file."""
        self._end()

    def _hold(self, lock: Lock) -> None:
        self._lock = lock
        self._end = weakref.finalize(self, let_go, self._file, lock)

    def _settle(self, kept: Kept) -> None:
        self._kept = kept
        self._stamps = {kept.stamp}  # and those of transactions that failed, but may have reached the disk all the same

    def _write(self, new: Kept) -> Kept:
        with connected(self._file) as database:
            for setting in SETTINGS:
                database.execute(setting)
            database.execute("BEGIN IMMEDIATE")
            stamps = [stamp for (stamp,) in database.execute("SELECT stamp FROM drawing")]
            if stamps == [self._kept.stamp]:
                old: Kept | None = self._kept
            elif len(stamps) == 1 and stamps[0] in self._stamps:
                old = None
            else:
                raise FileError(
                    f"another program has changed {file_name(self._file)}. Move that file away, and this drawing is "
                    "written as a new one."
                )
            kept = record(database, new, old, LONGEST_JOURNAL)
            database.execute("COMMIT")
        return kept


def look(file: Path) -> tuple[Kept, bool]:
    """Give what a file holds, which another program may be writing, and whether a stroke was left out.

    Raises
    ------
    FileError
        If there is no such file, or it is damaged or of something else.
    """
    with named(file):
        check_ordinary(file)
        try:
            with connected(file, "ro") as database:
                return load(database), False
        except sqlite3.OperationalError as error:
            if getattr(error, "sqlite_errorname", "") != "SQLITE_READONLY_ROLLBACK":
                raise
        return _load_copy(file), True


def _load_copy(file: Path) -> Kept:
    """Read a journal in which a program was killed in a stroke, which is taken back in a copy."""
    with TemporaryDirectory() as folder:
        copy = Path(folder) / "copy"
        shutil.copyfile(file, copy)
        with suppress(FileNotFoundError):  # someone has opened the file and taken the stroke back
            shutil.copyfile(rollback_journal(file), rollback_journal(copy))
        with connected(copy) as database:
            return load(database)


def _write_new(file: Path, new: Kept) -> Kept:
    """Write a new journal, which holds the state or is not there."""
    database = sqlite3.connect(":memory:", isolation_level=None)
    try:
        database.executescript(NEW)
        kept = record(database, new, None, LONGEST_JOURNAL)
        database.execute("COMMIT")
        # one that a killed program left would spoil the new file; of no file it is of no use
        rollback_journal(file).unlink(missing_ok=True)
        write_whole(file, database.serialize())
    finally:
        database.close()
    return kept


def _stamp() -> int:
    return secrets.randbits(63)
