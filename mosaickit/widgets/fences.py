"""What stands around the file of a drawing: the lock, a connection, SQLite's rollback journal, and why one fails."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from urllib.parse import quote

from mosaickit.errors import FileError, HeldError, MosaickitError
from mosaickit.files import Lock, file_name, reason

PATIENCE = 5.0
"""How many seconds are waited for a program that is reading the journal."""


def locked(file: Path) -> Lock:
    """Lock a journal for one sketch; the error says what can be done instead."""
    try:
        return Lock(file)
    except HeldError as error:
        raise HeldError(
            f"{error} Shut down that notebook's kernel, or close the drawing there, and try again; or give `autosave` "
            "another name. To look at it meanwhile, use `Sketch.read`.",
            error.holder,
        ) from None
    except FileError as error:
        raise FileError(f"{error} Give `autosave` a name in another folder.") from None


@contextmanager
def connected(file: Path, mode: str = "rw") -> Iterator[sqlite3.Connection]:
    """Connect to a database that is there; whatever is not committed in the end is rolled back."""
    path = quote(os.fsencode(file.absolute().as_posix()))
    address = f"file://{'' if path.startswith('/') else '/'}{path}?mode={mode}"
    database = sqlite3.connect(address, uri=True, timeout=PATIENCE, isolation_level=None, check_same_thread=False)
    try:
        yield database
    finally:
        database.close()


@contextmanager
def named(file: Path) -> Iterator[None]:
    """Have every error in reading a journal name it."""
    try:
        yield
    except MosaickitError as error:
        raise FileError(f"{file_name(file)}: {error}") from None
    except UnicodeDecodeError:  # also of what SQLite says about a damaged name
        raise FileError(f"{file_name(file)}: The file is damaged: a text in it is not UTF-8.") from None
    except (sqlite3.Error, OSError) as error:
        raise FileError(f"{file_name(file)}: The file could not be read: {why(error)}.") from None


def why(error: sqlite3.Error | OSError) -> str:
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


def rollback_journal(file: Path) -> Path:
    """Give the file in which SQLite keeps what a transaction may have to put back."""
    return Path(f"{os.path.realpath(file)}-journal")


def is_hot(file: Path) -> bool:
    """Whether a transaction was cut off, so that SQLite will roll it back."""
    try:
        with rollback_journal(file).open("rb") as journal:
            return journal.read(8).strip(b"\0") != b""
    except OSError:
        return False


def let_go(file: Path, lock: Lock) -> None:
    """Remove the rollback journal, which does no harm where that fails, and let others write the file."""
    try:
        if lock.held:
            with suppress(sqlite3.Error), connected(file) as database:
                for mode in ("PERSIST", "DELETE"):  # only a change of mode removes it
                    database.execute(f"PRAGMA journal_mode = {mode}")
    finally:
        lock.release()
