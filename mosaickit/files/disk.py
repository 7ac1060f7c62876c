"""Files on the disk: read within limits, and written whole or not at all.

A file comes from anywhere: it may be a folder, a device, or far too long. It is read up to a limit. It is written
beside its place first and then put there in one step, so that whatever happens, the file holds all of the new
bytes or what it held before.
"""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import stat
from collections.abc import Iterator
from os import PathLike
from pathlib import Path

from mosaickit.errors import FileError, OptionError, shortly

LARGEST_BYTES = 64_000_000
"""No file of ours is longer than this; the largest motif, with a long name for every row's yarn, needs less."""


def as_path(path: str | PathLike[str], name: str = "path") -> Path:
    """Return a path, or raise `OptionError`, which names the argument."""
    try:
        return Path(path)
    except TypeError:
        raise OptionError(f"`{name}` must be a path, as text or a `Path`; got {shortly(path)}.") from None


def file_name(file: Path) -> str:
    """Name a file in a sentence: its base name, quoted."""
    return repr(file.name or str(file))


def called_after(file: Path) -> str:
    """Give the name of a motif, or a title, after that of a file.

    Examples
    --------
    >>> called_after(Path("pictures/harbour-boat.png"))
    'harbour boat'
    """
    return file.stem.replace("-", " ").replace("_", " ").strip() or file.stem


def place(file: Path, folder: Path) -> str:
    """Name a file by its way from a folder, which stays the same when both are moved together."""
    try:
        return Path(os.path.relpath(file, folder)).as_posix()
    except ValueError:  # another drive
        return file.absolute().as_posix()


def read_whole(file: Path) -> bytes:
    """Read an ordinary file that is neither empty nor too long, or raise `FileError`."""
    check_ordinary(file)
    try:
        with file.open("rb") as opened:
            data = opened.read(LARGEST_BYTES + 1)
    except (OSError, ValueError) as err:
        raise FileError(f"The file could not be read: {reason(err)}.") from None
    check_length(len(data))
    return data


def check_ordinary(file: Path) -> None:
    """Raise `FileError` unless this is an ordinary file that is neither empty nor too long; do not open it."""
    try:
        found = file.stat()
    except FileNotFoundError:
        raise FileError(f"There is no such file in the folder {str(file.parent)!r}.") from None
    except (OSError, ValueError) as err:
        raise FileError(f"The file could not be read: {reason(err)}.") from None
    if stat.S_ISDIR(found.st_mode):
        raise FileError("This is a folder, not a file.")
    if not stat.S_ISREG(found.st_mode):  # a device or a pipe may never end
        raise FileError("This is no ordinary file.")
    check_length(found.st_size)


def check_length(length: int) -> None:
    """Raise `FileError` if a file of this length, in bytes, is empty or too long."""
    if length > LARGEST_BYTES:
        raise FileError(f"A file may have at most {LARGEST_BYTES:,} bytes; this one has {length:,} or more.")
    if length == 0:
        raise FileError("The file is empty.")


def reason(err: OSError | ValueError) -> str:
    """Say why the system could not do something, as the end of a sentence."""
    sentences = {
        errno.ENOENT: "there is no such folder",
        errno.EACCES: "permission is denied",
        errno.EPERM: "permission is denied",
        errno.EROFS: "the disk may not be written to",
        errno.ENOSPC: "the disk is full",
        errno.ENOTDIR: "part of its path is no folder",
        errno.ENAMETOOLONG: "its name is too long",
    }
    if not isinstance(err, OSError):
        return "its name holds a character that no file name may hold"
    return sentences.get(err.errno or 0, f"the system says {err.strerror or err!s}")


def write_whole(path: str | PathLike[str], data: bytes) -> Path:
    """Write a file so that it holds all of the data in the end, or what it held before.

    Parameters
    ----------
    path : path
        The file, which may be there or not; its folder must be there. A link is followed, not replaced.
    data : bytes
        All that the file is to hold.

    Returns
    -------
    Path
        The file. It keeps its permissions, or gets those of any new file.

    Raises
    ------
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    file = as_path(path)
    with _told(file):
        target = Path(os.path.realpath(file))
        with _beside(target, data, _permissions(target)) as part:
            os.replace(part, target)
    return file


def write_new(path: str | PathLike[str], data: bytes) -> bool:
    """Write a file that is not there yet, whole or not at all.

    Parameters
    ----------
    path : path
        The file; its folder must be there. A link is followed.
    data : bytes
        All that the file is to hold.

    Returns
    -------
    bool
        False if the file is there: then nothing was written. Of several programs that write the same new file at the
        same moment, one gets True.

    Raises
    ------
    FileError
        If the file cannot be written.
    """
    file = as_path(path)
    with _told(file):
        target = Path(os.path.realpath(file))
        if os.path.lexists(target):
            _permissions(target)  # what may not be replaced is not asked about, nor where no other may be written
            if not all(os.access(folder, os.W_OK) for folder in (file.absolute().parent, target.parent)):
                raise PermissionError(errno.EACCES, "write-protected folder")
            return False
        with _beside(target, data) as part:
            return _placed(part, target)


def _placed(part: Path, target: Path) -> bool:
    """Give a file that is written its name, unless the name is taken."""
    try:
        os.link(part, target)
    except FileExistsError:
        return False
    except (OSError, AttributeError):  # not every disk or system knows two names for one file
        try:
            target.open("xb").close()
        except FileExistsError:
            return False
        try:
            os.replace(part, target)
        except BaseException:
            target.unlink()  # it is empty, and ours
            raise
    return True


@contextlib.contextmanager
def _told(file: Path) -> Iterator[None]:
    """Turn what goes wrong while a file is written into a sentence."""
    try:
        yield
    except (OSError, ValueError) as err:
        why = str(err) if isinstance(err, FileError) else f"{reason(err)}."
        raise FileError(f"{file_name(file)} could not be written, and nothing was changed: {why}") from None


def _permissions(target: Path) -> int | None:
    """Give the permissions of a file that may be replaced, None where there is no file yet."""
    try:
        mode = target.stat().st_mode
    except FileNotFoundError:
        return None
    if stat.S_ISDIR(mode):
        raise FileError("this is a folder.")
    if not stat.S_ISREG(mode):
        raise FileError("this is no ordinary file.")
    if not os.access(target, os.W_OK):  # replacing needs the folder's permission only, but this file is protected
        raise PermissionError(errno.EACCES, "write-protected")
    return stat.S_IMODE(mode)


@contextlib.contextmanager
def _beside(target: Path, data: bytes, permissions: int | None = None) -> Iterator[Path]:
    """Write a file beside a target under a name that no one has, and take that name away in the end."""
    # beside the target, since only within one disk is a file replaced in one step; `open` applies the umask
    part = target.with_name(f".{secrets.token_hex(8)}.part")
    opened = part.open("xb")
    try:
        with opened:
            if permissions is not None:
                part.chmod(permissions)
            opened.write(data)
            opened.flush()
            os.fsync(opened.fileno())
        yield part
    finally:
        with contextlib.suppress(OSError):  # it has gone to its place
            part.unlink()
