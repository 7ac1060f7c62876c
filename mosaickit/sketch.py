"""A motif that is being drawn: its present state, undo and redo, and a journal that outlives a killed program.

The journal is text, one line a step: a checksum, a space, and JSON. The first line holds the motif that the sketch
started from, each later one the squares that a step flipped (or the whole motif where more than squares changed), or
an undo, or a redo. A line is written in one go and flushed to the disk before the step counts as kept, so a program
that is killed loses at most the step in hand: a last line that is torn is left out when the journal is opened. When
it has grown long, or when a line could not be written, the journal is written anew as a whole.
"""

from __future__ import annotations

import json
import os
import zlib
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit.disk import as_path, file_name, read_whole, write_whole
from mosaickit.documents import fault, from_json, parse, read_list, read_object, read_string, to_json
from mosaickit.errors import FileError, MotifError, whole_number
from mosaickit.motif import Motif

KIND = "mosaickit sketch"
VERSION = 1

LONGEST_JOURNAL = 20_000_000
"""A journal that grew beyond this, in bytes, is written anew, without what was forgotten, or undone and replaced. If
even then it is longer, the older half of its steps is forgotten."""


@dataclass(frozen=True, eq=False)
class _Step:
    """One step: the squares it flips, as numbers row by row as seen; or the motifs before and after it."""

    label: str
    flips: NDArray[np.intp] | None = None
    before: Motif | None = None
    after: Motif | None = None

    def apply(self, motif: Motif, back: bool = False) -> Motif:
        whole = self.before if back else self.after
        if whole is not None:
            return whole
        grid = motif.grid.copy()
        grid.ravel()[self.flips] ^= True
        return motif.with_grid(grid)

    def entry(self) -> dict[str, Any]:
        """Give what the journal says of the step."""
        if self.after is not None:
            return {"label": self.label, "motif": json.loads(to_json(self.after))}
        return {"label": self.label, "flip": _runs(self.flips)}


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

    Raises
    ------
    FileError
        If the journal is there already, or cannot be written.

    Examples
    --------
    >>> sketch = Sketch(Motif.from_text(".#"))
    >>> sketch.change(Motif.from_text("##"), "a dot")
    >>> sketch.undo().to_text(), sketch.redo_label
    ('.#', 'a dot')
    """

    def __init__(self, motif: Motif, *, journal: str | PathLike[str] | None = None, most_steps: int = 2000) -> None:
        self._most = whole_number("most_steps", most_steps, least=1)
        self._start = self._motif = motif
        self._done: list[_Step] = []
        self._undone: list[_Step] = []
        self._journal = None if journal is None else as_path(journal)
        self.recovered = ""
        """What was left out when the journal was opened, as a sentence; or ""."""
        self.trouble = ""
        """Why steps are not kept in the journal at present, as a sentence; or ""."""
        if self._journal is not None:
            if self._journal.exists():
                raise FileError(f"{file_name(self._journal)} is there already: go on with it by `Sketch.open`.")
            write_whole(self._journal, self._whole())

    @classmethod
    def open(cls, journal: str | PathLike[str], *, otherwise: Motif | None = None, most_steps: int = 2000) -> Sketch:
        """Go on with a journal: the picture, and everything that can be undone and redone.

        Parameters
        ----------
        journal : path
            What an earlier sketch kept.
        otherwise : Motif, optional
            What to start from if there is no such file.
        most_steps : int
            How many steps can be undone.

        Raises
        ------
        FileError
            If there is no such file and nothing to start from; or if a line other than the last is damaged, naming
            it. The file is not changed.
        """
        file = as_path(journal)
        if otherwise is not None and not file.exists():
            return cls(otherwise, journal=file, most_steps=most_steps)
        try:
            entries, torn = _read(file)
            sketch = cls(_header(entries[0]), most_steps=most_steps)
            for number, entry in enumerate(entries[1:], 2):
                sketch._follow(entry, number)
        except MotifError as error:
            raise FileError(f"{file_name(file)}: {error}") from None
        sketch._journal = file
        if torn:
            sketch.recovered = "Its last line was not written to the end and was left out."
            sketch._rewrite()  # or the next line would be glued to the torn one
        return sketch

    # ---- drawing -------------------------------------------------------------------------------------------

    @property
    def motif(self) -> Motif:
        """The motif now."""
        return self._motif

    @property
    def steps(self) -> int:
        """How many steps can be undone."""
        return len(self._done)

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to undo."""
        return bool(self._done)

    @property
    def can_redo(self) -> bool:
        """Whether there is a step to redo."""
        return bool(self._undone)

    @property
    def undo_label(self) -> str:
        """What the step that `undo` takes back is called."""
        return self._done[-1].label if self._done else ""

    @property
    def redo_label(self) -> str:
        """What the step that `redo` does again is called."""
        return self._undone[-1].label if self._undone else ""

    def change(self, motif: Motif, label: str = "") -> None:
        """Take a step to another motif; none if it is the same. What could be redone is dropped."""
        if motif == self._motif:
            return
        if motif.shape == self._motif.shape and motif == self._motif.with_grid(motif.grid):
            step = _Step(label, flips=np.flatnonzero(motif.grid != self._motif.grid))
        else:
            step = _Step(label, before=self._motif, after=motif)
        self._take(step)
        self._keep(step.entry())

    def undo(self) -> Motif:
        """Take the last step back and give the motif; do nothing if there is none."""
        if self._done:
            self._undo()
            self._keep({"undo": 1})
        return self._motif

    def redo(self) -> Motif:
        """Do the step that was undone last again and give the motif; do nothing if there is none."""
        if self._undone:
            self._redo()
            self._keep({"redo": 1})
        return self._motif

    def _take(self, step: _Step) -> None:
        self._undone.clear()
        self._done.append(step)
        self._motif = step.apply(self._motif)
        if len(self._done) > self._most:
            self._forget()

    def _forget(self) -> None:
        self._start = self._done.pop(0).apply(self._start)

    def _undo(self) -> None:
        step = self._done.pop()
        self._undone.append(step)
        self._motif = step.apply(self._motif, back=True)

    def _redo(self) -> None:
        step = self._undone.pop()
        self._done.append(step)
        self._motif = step.apply(self._motif)

    # ---- the journal ---------------------------------------------------------------------------------------

    def _keep(self, entry: dict[str, Any]) -> None:
        """Add a line to the journal, or say why it could not be."""
        if self._journal is None:
            return None
        if self.trouble:
            return self._rewrite()  # lines are missing, so nothing less than all will do
        line = _line(entry)
        try:
            size = _append(self._journal, line)
        except OSError as error:
            self._say(error.strerror or str(error))
            return None
        if size > LONGEST_JOURNAL:
            self._rewrite()
        return None

    def _rewrite(self) -> None:
        if self._journal is None:
            return
        data = self._whole()
        while len(data) > LONGEST_JOURNAL and len(self._done) > 1:
            for _ in range(len(self._done) // 2):
                self._forget()
            data = self._whole()
        try:
            write_whole(self._journal, data)
            self.trouble = ""
        except FileError as error:
            self._say(str(error))

    def _say(self, reason: str) -> None:
        self.trouble = f"The drawing is kept in memory only, as its file could not be written: {reason.rstrip('.')}."

    def _whole(self) -> bytes:
        """Write the journal as if the sketch had been drawn straight."""
        header = {"format": KIND, "version": VERSION, "motif": json.loads(to_json(self._start))}
        steps = [step.entry() for step in [*self._done, *reversed(self._undone)]]
        return b"".join(map(_line, [header, *steps, *[{"undo": 1}] * len(self._undone)]))

    def _follow(self, entry: object, number: int) -> None:
        """Do what a line of the journal says."""
        if entry == {"undo": 1} and self._done:
            self._undo()
        elif entry == {"redo": 1} and self._undone:
            self._redo()
        elif isinstance(entry, dict) and entry.keys() == {"label", "flip"}:
            self._take(_Step(read_string(entry["label"], ("label",)), flips=_squares(entry["flip"], self._motif)))
        elif isinstance(entry, dict) and entry.keys() == {"label", "motif"}:
            label = read_string(entry["label"], ("label",))
            self._take(_Step(label, before=self._motif, after=_motif(entry["motif"])))
        else:
            raise FileError(f"Line {number} tells no step that could follow the line before it.")


def _runs(flips: NDArray[np.intp] | None) -> list[list[int]]:
    """Give squares as [first, how many] for each run of neighbours."""
    if flips is None or not len(flips):
        return []
    starts = np.flatnonzero(np.diff(flips, prepend=-2) != 1)
    lengths = np.diff(np.append(starts, len(flips)))
    return [[first, length] for first, length in zip(flips[starts].tolist(), lengths.tolist(), strict=True)]


def _squares(value: object, motif: Motif) -> NDArray[np.intp]:
    squares: list[NDArray[np.intp]] = []
    last = 0
    for run in read_list(value, ("flip",), motif.grid.size):
        if not isinstance(run, list) or len(run) != 2 or not all(type(number) is int for number in run):
            raise fault(("flip",), "Expected pairs of a square and how many follow.")
        first, length = run
        if first < last or length < 1 or first + length > motif.grid.size:
            raise fault(("flip",), f"Expected squares of the picture in rising order, found {run}.")
        last = first + length
        squares.append(np.arange(first, last))
    return np.concatenate(squares) if squares else np.zeros(0, dtype=np.intp)


def _motif(document: object) -> Motif:
    return from_json(json.dumps(document), None)


def _header(entry: object) -> Motif:
    if not isinstance(entry, dict) or entry.get("format") != KIND:
        raise FileError("This is no sketch: its first line does not say that it is one.")
    if entry.get("version") != VERSION:
        raise FileError(f"This sketch is of version {entry.get('version')!r}; this mosaickit reads version {VERSION}.")
    return _motif(read_object(entry, (), ("format", "version", "motif"))["motif"])


def _line(entry: dict[str, Any]) -> bytes:
    text = json.dumps(entry, ensure_ascii=False, separators=(",", ":")).encode("utf-8")
    return b"%08x %s\n" % (zlib.crc32(text), text)


def _append(file: Path, line: bytes) -> int:
    """Add a line in one write, flush it to the disk, and give the size of the file."""
    # not created: a file that is gone has lost its first line too
    descriptor = os.open(file, os.O_WRONLY | os.O_APPEND | getattr(os, "O_BINARY", 0))
    try:
        if os.write(descriptor, line) != len(line):
            raise OSError(0, "the disk is full")
        os.fsync(descriptor)
        return os.fstat(descriptor).st_size
    finally:
        os.close(descriptor)


def _read(file: Path) -> tuple[list[object], bool]:
    """Read the lines of a journal, and whether its last one is torn and left out."""
    data = read_whole(file)
    lines = data.split(b"\n")
    torn = lines.pop() != b""  # every line ends in a line break
    entries: list[object] = []
    for number, line in enumerate(lines, 1):
        checksum, _, text = line.partition(b" ")
        if checksum != b"%08x" % zlib.crc32(text):
            if number == len(lines) and not torn and number > 1:
                return entries, True
            raise FileError(f"Line {number} is damaged: its checksum is wrong.")
        try:
            entries.append(parse(text.decode("utf-8")))
        except UnicodeDecodeError:
            raise FileError(f"Line {number} is not UTF-8 text.") from None
    if not entries:
        raise FileError("This is no sketch: its first line is not whole.")
    return entries, torn
