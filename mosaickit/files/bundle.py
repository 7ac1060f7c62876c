"""The notebooks that come with mosaickit, laid out in a folder of the maker's own.

A wheel carries them inside the package; in a checkout they are the project's own folders. They are laid out side by
side with the gallery's motifs, so that what a notebook loads by a relative path is there. What was laid out is noted
by its hash in the folder: a file that is still as it was laid is brought up to date, one that was changed is never
touched.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from hashlib import sha256
from os import PathLike
from pathlib import Path

from mosaickit.errors import FileError
from mosaickit.files.disk import as_path, file_name, write_new, write_whole

_PACKAGE = Path(__file__).parents[1]
_FOLDERS = ("notebooks", "gallery/motifs")
_OWN_DRAWINGS = ".sketch"  # the painter's autosaves, which lie beside notebooks that were run
NOTE = ".laid-out.json"
"""The file that notes what was laid out: the hash of each file by its path."""


@dataclass(frozen=True)
class LaidOut:
    """What became of each file, by its path within the folder.

    Attributes
    ----------
    folder : Path
        Where they lie.
    new : tuple of str
        Files that were not there.
    updated : tuple of str
        Files that were still as an older mosaickit had laid them, or were put back.
    kept : tuple of str
        Files that differ from what was laid out, left as they are.
    """

    folder: Path
    new: tuple[str, ...]
    updated: tuple[str, ...]
    kept: tuple[str, ...]

    def __str__(self) -> str:
        done = ", ".join(
            f"{len(names)} {what}" for what, names in (("new", self.new), ("brought up to date", self.updated)) if names
        )
        kept = "".join(f"\n  {name} was changed by you, and is left as it is" for name in self.kept)
        return f"{self.folder}: {done or 'all files were there'}.{kept}"


def bundle_folder() -> Path:
    """Give the folder that holds what comes with mosaickit: inside the package, or the checkout that it is part of."""
    inside = _PACKAGE / "_bundle"
    return inside if inside.is_dir() else _PACKAGE.parent


def bundled() -> dict[str, bytes]:
    """Give the files that come with mosaickit, by their path within a folder, in order.

    Raises
    ------
    FileError
        If this installation has none.
    """
    root = bundle_folder()
    files = {
        path.relative_to(root).as_posix(): path
        for folder in _FOLDERS
        for path in (root / folder).rglob("*")
        if path.is_file() and path.suffix != _OWN_DRAWINGS
    }
    found = {name: files[name].read_bytes() for name in sorted(files) if not any(_hidden(name))}
    if not found:
        raise FileError("This installation of mosaickit carries no notebooks; install it from its wheel.")
    return found


def _hidden(name: str) -> list[str]:
    return [part for part in name.split("/") if part.startswith(".")]


def lay_out(folder: str | PathLike[str], *, replace: bool = False) -> LaidOut:
    """Lay the notebooks and the gallery's motifs out in a folder, over nothing that was changed there unless asked.

    Parameters
    ----------
    folder : path
        Made if it is not there.
    replace : bool
        Whether to put files that were changed back as they come.

    Returns
    -------
    LaidOut
        What is new, what was brought up to date and what was kept.

    Raises
    ------
    FileError
        If the folder cannot be made or written to. Files that were laid out before that stay.
    """
    root = as_path(folder, "folder")
    noted = _noted(root / NOTE)
    became: dict[str, list[str]] = {"new": [], "updated": [], "kept": []}
    try:
        for name, data in bundled().items():
            what = _lay(root / name, data, noted.get(name), replace=replace)
            if what != "kept":
                noted[name] = _hash(data)
            if what in became:
                became[what].append(name)
    finally:
        if root.is_dir():  # what was laid before something went wrong is still ours to update
            write_whole(root / NOTE, (json.dumps(noted, indent=1, sort_keys=True) + "\n").encode("utf-8"))
    return LaidOut(root, *(tuple(became[what]) for what in ("new", "updated", "kept")))


def _lay(file: Path, data: bytes, laid_before: str | None, *, replace: bool) -> str:
    """Put a file in its place unless that would undo somebody's work; say what was done."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        there = file.read_bytes() if file.exists() or file.is_symlink() else None
    except OSError as err:
        raise FileError(f"{file_name(file)} could not be laid out in {str(file.parent)!r}: {err.strerror}.") from None
    if there == data:
        return "same"
    if there is None:
        return "new" if write_new(file, data) else "kept"
    if not replace and _hash(there) != laid_before:
        return "kept"
    write_whole(file, data)
    return "updated"


def _hash(data: bytes) -> str:
    return sha256(data).hexdigest()


def _noted(note: Path) -> dict[str, str]:
    """Read what was laid out before; a note that is missing or damaged vouches for no file."""
    try:
        noted = json.loads(note.read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return noted if isinstance(noted, dict) else {}
