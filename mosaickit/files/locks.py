"""A lock on a file, so that one program at a time writes it; it ends with its holder, however that ends.

The lock is the system's own, `flock` or on Windows `locking`, on a small hidden file beside the one that it guards:
`.scarf.sketch.lock`. A program that is killed leaves that file behind, but not the lock. The file says who has it. It
is a file of its own because the guarded one is replaced, read and locked by others, and because the locks that SQLite
takes are lost as soon as the same program opens and closes the file again.
"""

from __future__ import annotations

import errno
import os
import platform
import re
import sys
import time
import weakref
from contextlib import suppress
from pathlib import Path

from mosaickit.errors import FileError, HeldError
from mosaickit.files.disk import file_name, reason

if sys.platform == "win32":
    import msvcrt

    def _try_to_lock(descriptor: int) -> None:
        # far behind the text, as Windows lets no one else read what is locked
        os.lseek(descriptor, 1 << 30, os.SEEK_SET)
        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)

else:
    import fcntl

    def _try_to_lock(descriptor: int) -> None:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)


HELD = {errno.EWOULDBLOCK, errno.EAGAIN, errno.EACCES, errno.EDEADLK}
"""What a system says of a lock that somebody else has."""

LONGEST_HOLDER = 400
"""How many characters of a lock file are shown."""


def this_program() -> str:
    """Name the notebook or program that runs this, its process and its computer, as a phrase."""
    notebook = re.split(r"[/\\]", os.environ.get("JPY_SESSION_NAME", ""))[-1]
    program = Path(sys.argv[0] if sys.argv else "").name or "python"
    who = f"the notebook {notebook!r}" if notebook else f"the program {program!r}"
    return f"{who} (process {os.getpid()} on {platform.node() or 'this computer'})"


class Lock:
    """Holds the lock on a file until it is released, or its process ends.

    Parameters
    ----------
    file : path
        What is guarded, which may not be there yet; its folder must be. A link is followed.

    Raises
    ------
    HeldError
        If it is held, by this program or another.
    FileError
        If no lock file can be made, or the file system cannot lock.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     lock = Lock(Path(folder) / "scarf.sketch")
    ...     lock.held
    ...     lock.release()
    ...     lock.held
    True
    False
    """

    def __init__(self, file: Path) -> None:
        try:
            target = Path(os.path.realpath(file))
            self._path = target.with_name(f".{target.name}.lock")
            self._descriptor = _locked(self._path)
        except HeldError as error:
            raise HeldError(f"{file_name(file)} is being written by {error.holder}.", error.holder) from None
        except FileError as error:
            raise FileError(f"{file_name(file)} cannot be written safely: {error}") from None
        except (OSError, ValueError) as error:
            raise FileError(f"{file_name(file)} cannot be written there: {reason(error)}.") from None
        self._end = weakref.finalize(self, _release, self._descriptor, self._path, os.getpid())
        _locks.add(self)

    @property
    def held(self) -> bool:
        """Whether it still guards the file: the lock file may have been removed, or this be a fork of the holder."""
        return self._end.alive and _is_at(self._descriptor, self._path)

    def release(self) -> None:
        """Let others write the file. Releasing it once more does nothing."""
        self._end()


_locks: weakref.WeakSet[Lock] = weakref.WeakSet()


def _in_a_fork() -> None:
    """Leave the locks to the process that was forked: a child that outlives it must not hold them."""
    for lock in _locks:
        if lock._end.detach():
            os.close(lock._descriptor)


if hasattr(os, "register_at_fork"):
    os.register_at_fork(after_in_child=_in_a_fork)


def _locked(path: Path) -> int:
    """Lock a file, made if need be, write into it who has it, and give its descriptor."""
    while True:
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
        try:
            _lock(descriptor, path)
            # the one who held it may have removed the file in between, and then this one guards nothing
            if _is_at(descriptor, path):
                text = f"{this_program()}, since {time.strftime('%Y-%m-%d %H:%M')}".encode("utf-8", "replace")
                os.lseek(descriptor, 0, os.SEEK_SET)
                os.write(descriptor, text)
                if os.fstat(descriptor).st_size > len(text):  # only then, as some disks are slow to cut a file off
                    os.ftruncate(descriptor, len(text))
                return descriptor
        except BaseException:
            os.close(descriptor)
            raise
        os.close(descriptor)


def _lock(descriptor: int, path: Path) -> None:
    try:
        _try_to_lock(descriptor)
    except OSError as error:
        if error.errno in HELD:
            raise HeldError("", _holder(path)) from None
        raise FileError(
            f"its folder is on a disk that cannot lock files (the system says {error.strerror}), so two programs could "
            "spoil each other's work."
        ) from None


def _holder(path: Path) -> str:
    """Say who holds a lock."""
    try:
        with path.open("rb") as opened:
            text = opened.read(4 * LONGEST_HOLDER).decode("utf-8", "replace")
    except OSError:
        text = ""
    shown = "".join(filter(str.isprintable, text))[:LONGEST_HOLDER].strip()
    return shown or "another program, which has not given its name"


def _is_at(descriptor: int, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(descriptor), path.stat())
    except OSError:
        return False


def _release(descriptor: int, path: Path, process: int) -> None:
    if os.getpid() != process:
        return
    ours = _is_at(descriptor, path)
    if ours and os.name != "nt":  # while it is locked, so that no one has it yet
        with suppress(OSError):
            path.unlink()
    os.close(descriptor)
    if ours and os.name == "nt":  # which removes no open file, this one's or another's
        with suppress(OSError):
            path.unlink()
