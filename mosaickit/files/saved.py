"""Whose a saved file is: nothing that another design wrote is replaced without being asked.

A file that is there is replaced only if the same design saved it under this name and nothing has changed it since. A
design is known by its name; one without a name is known by its exact content, so it replaces nothing but itself.
Anything else is left as it is: a `TakenError` says what is there and names a free name, and ``replace=True`` replaces
it all the same.

A design owns a file as one kind of thing: its motif is not replaced by its chart. What was saved is noted in a hidden
folder beside the files, one small note for each, with a digest of the bytes; so a file that another program edited, or
that was copied or renamed to its place, is no one's. The same bytes may always be saved again; if two designs saved
them, neither replaces the other's later. A note that is missing, damaged or cannot be written vouches for nothing.
Between the look at a file and its replacement by its own design there is a moment in which no other program is kept
out; a new file is safe in that moment too.
"""

from __future__ import annotations

import errno
import hashlib
import json
import os
import re
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from itertools import count
from os import PathLike
from pathlib import Path

from mosaickit.errors import FileError, MosaickitError, TakenError, text, true_or_false
from mosaickit.files.disk import as_path, read_whole, write_new, write_whole
from mosaickit.files.strict import parse

NOTES = ".mosaickit-saved"
"""The hidden folder of notes beside saved files."""

_STARTS = {
    b"%PDF-": "a PDF document",
    b"\x89PNG": "a PNG picture",
    b"PK\x03\x04": "a spreadsheet or another archive",
}
_NEAR_THE_START = {b"<svg": "an SVG picture", b"<html": "a web page"}
_NOTE_IN_PNG = b"tEXtmosaickit motif\0"
_NAME_IT = 'A design with a name, as `design="Leaf"` gives it, later replaces its own files without being asked.'
_OF = dict.fromkeys(("page", "handout", "teacher's copy"), "of the notebook")
_OF |= dict.fromkeys(("lesson", "learners' lesson"), "with the title")
_SHORT = 60  # characters of a name that stands in a sentence


@dataclass(frozen=True)
class Owner:
    """What a file is saved for.

    Parameters
    ----------
    kind : str
        What is saved of it, as "motif" or "table".
    name : str
        Its name; may be empty.
    content : str
        Of a design without a name, what is saved of it, in any form that is the same for the same content. The bytes of
        the file count if it is left out.
    """

    kind: str
    name: str = ""
    content: str = ""

    def __post_init__(self) -> None:
        text("design", self.name)

    @classmethod
    def named(cls, kind: str, name: object, otherwise: str, content: str = "") -> Owner:
        """Make one by the name that was given, or by another if that is empty."""
        return cls(kind, text("design", name) or otherwise, content)

    def __str__(self) -> str:
        if not self.name:
            return f"a {self.kind} of a design without a name"
        return f"a {self.kind} {_OF.get(self.kind, 'of the design')} {_short(self.name)}"


@dataclass(frozen=True)
class _Note:
    """What was saved under a name: a digest of the bytes, when, and for which designs."""

    digest: str
    when: str
    designs: frozenset[Owner]


def save_bytes(path: str | PathLike[str], data: bytes, design: Owner, *, replace: bool = False) -> Path:
    """Save a file for a design, whole or not at all.

    Parameters
    ----------
    path : path
        The file; its folder must be there. A link is followed.
    data : bytes
        All that the file is to hold.
    design : Owner
        What it is saved for.
    replace : bool
        Whether to replace whatever file is there.

    Returns
    -------
    Path
        The file.

    Raises
    ------
    TakenError
        If another design's file is there, or one that was changed since it was saved.
    FileError
        If the file cannot be written. In both cases what was there before is untouched.
    """
    file = as_path(path)
    new = _hash(data)
    owners = frozenset({_owner(design, new)})
    if true_or_false("replace", replace):
        write_whole(file, data)
    elif not write_new(file, data):
        target = _target(file)
        there, note = _digest(target), _noted(target)
        known = note is not None and note.digest == there
        if there == new:
            owners |= note.designs if note is not None and known else frozenset()
        elif note is not None and known and note.designs == owners:
            write_whole(file, data)
        else:
            raise TakenError(file, free_name(file), _said(target, note, known=known), "" if design.name else _NAME_IT)
    _keep(_target(file), new, owners)
    return file


def ask_first(path: str | PathLike[str], design: Owner) -> None:
    """Raise `TakenError` if a design may not save a file there: it is asked before what takes long is made.

    A design without a name is known by its content only, so of that nothing can be said yet.
    """
    file = as_path(path)
    target = _target(file)
    if not design.name or not os.path.lexists(target):
        return
    note = _noted(target)
    known = note is not None and note.digest == _digest(target)
    if not (note is not None and known and note.designs == frozenset({_owner(design, "")})):
        raise TakenError(file, free_name(file), _said(target, note, known=known))


def _owner(design: Owner, digest: str) -> Owner:
    """Give what a design is known by: its name, or else a digest of its content."""
    if design.name:
        return Owner(design.kind, design.name)
    return Owner(design.kind, "", _hash(design.content.encode("utf-8", "surrogatepass")) if design.content else digest)


def _hash(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def free_name(file: Path) -> Path:
    """Find a name beside a file that nothing has: leaf-2.png for leaf.png, leaf-3.png for leaf-2.png, and so on."""
    stem, ending = file.stem, file.suffix
    counted = re.fullmatch(r"(.+)-([1-9]\d{0,5})", stem, re.ASCII)
    stem, first = (counted[1], int(counted[2]) + 1) if counted else (stem, 2)
    for number in count(first):
        for length in range(len(stem), 0, -1):
            free = file.with_name(f"{stem[:length]}-{number}{ending}")
            try:
                free.lstat()
            except FileNotFoundError:
                return free
            except OSError as err:
                if err.errno != errno.ENAMETOOLONG:
                    raise
            else:
                break
        else:  # the ending alone is too long
            ending = ""
    raise AssertionError("numbers do not end")


# ---- notes -------------------------------------------------------------------------------------------------


def _target(file: Path) -> Path:
    return Path(os.path.realpath(file))


def _note_of(target: Path) -> Path:
    # under a name of its own, since that of the file may be as long as names can be
    return target.parent / NOTES / f"{_hash(os.fsencode(target.name))[:32]}.json"


def _keep(target: Path, digest: str, designs: frozenset[Owner]) -> None:
    """Note what was saved. Where that cannot be done nothing is said: the next save asks."""
    told = {
        "file": target.name,
        "sha256": digest,
        "saved": datetime.now().astimezone().isoformat(timespec="seconds"),
        "designs": sorted([design.kind, design.name, design.content] for design in designs),
    }
    note = _note_of(target)
    with suppress(OSError, FileError):
        note.parent.mkdir(exist_ok=True)
        write_whole(note, (json.dumps(told, indent=1) + "\n").encode("ascii"))


def _noted(target: Path) -> _Note | None:
    """Read what was saved under a name; None if it is not known."""
    try:
        told = json.loads(read_whole(_note_of(target)))
        if told["file"] != target.name:
            return None
        return _Note(
            str(told["sha256"]),
            _minute(datetime.fromisoformat(told["saved"]).astimezone()),
            frozenset(Owner(kind, name, content) for kind, name, content in told["designs"]),
        )
    except (MosaickitError, ValueError, LookupError, TypeError, OverflowError, RecursionError):
        return None


def _digest(target: Path) -> str:
    """Digest what a file holds; empty if it cannot be read."""
    try:
        with target.open("rb") as opened:
            return hashlib.file_digest(opened, "sha256").hexdigest()
    except OSError:
        return ""


# ---- what is said ------------------------------------------------------------------------------------------


def _said(target: Path, note: _Note | None, *, known: bool) -> str:
    """Say what a file is, whose, when it was saved or changed, and how long it is."""
    try:
        found = target.stat()
    except OSError:
        return "it was a moment ago, and is gone now"
    size = f"{found.st_size:,} {'byte' if found.st_size == 1 else 'bytes'}"
    if note is not None and known:
        return f"it is {_listed(note.designs)}, saved {note.when}, {size}"
    try:
        changed = f"last changed {_minute(datetime.fromtimestamp(found.st_mtime))}"
    except (OSError, ValueError, OverflowError):  # a disk may say any number of seconds
        changed = "changed at an unknown time"
    said = f"it is {_looked_at(target, found.st_size)}, {changed}, {size}"
    if note is None:
        return said
    return f"{said}; it is no longer {_listed(note.designs)} that was saved {note.when}"


def _listed(designs: Iterable[Owner]) -> str:
    return " and ".join(sorted(map(str, designs)))


def _minute(when: datetime) -> str:
    return f"{when:%Y-%m-%d at %H:%M}"


def _short(name: str) -> str:
    return repr(name if len(name) <= _SHORT else f"{name[:_SHORT]}…")


def _looked_at(target: Path, size: int) -> str:
    """Say what a file is that is not known: by its content, or else by its ending."""
    if not size:
        return "an empty file"
    try:
        data = read_whole(target)
    except FileError:
        return "a file that cannot be read"
    if name := _named(data):
        return f"a motif named {_short(name)}"
    start = data[:512]
    kinds = [kind for begins, kind in _STARTS.items() if start.startswith(begins)]
    kinds += [kind for word, kind in _NEAR_THE_START.items() if word in start.lower()]
    if kinds:
        return kinds[0]
    return f"a {target.suffix} file" if target.suffix else "a file"


def _named(data: bytes) -> str:
    """Give the name of the motif that a file says it holds, in JSON or in the note of a PNG; empty if there is none.

    The head is enough for that, and what reads whole documents and pictures stays unloaded where files are written.
    """
    start = data.find(_NOTE_IN_PNG)
    if start >= 4:
        length = int.from_bytes(data[start - 4 : start], "big")
        data = data[start + len(_NOTE_IN_PNG) :][: length + 4 - len(_NOTE_IN_PNG)]
    try:
        told = parse(data.decode("utf-8"))
    except (FileError, UnicodeDecodeError):
        return ""
    name = told.get("name") if isinstance(told, dict) and told.get("format") == "mosaickit motif" else None
    return name if isinstance(name, str) else ""
