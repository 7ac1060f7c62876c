"""A motif that is being drawn: its present state, undo and redo, and a journal that outlives a killed program.

The journal is text, one line a step: a checksum, a space, and JSON. The first line holds the motif that the sketch
started from, each later one the squares that a step flipped (or the whole motif where more than squares changed), or
an undo, or a redo. A line is written in one go and flushed to the disk before the step counts as kept, so a program
that is killed loses at most the step in hand: a last line that is torn is left out when the journal is opened. When
it has grown long, or when a line is missing because it could not be written or was interrupted, the journal is
written anew as a whole.
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

from mosaickit.colours import checked_name
from mosaickit.disk import as_path, file_name, read_whole, write_whole
from mosaickit.documents import fault, from_json, parse, read_list, read_object, to_json
from mosaickit.errors import FileError, MosaickitError, OptionError, whole_number
from mosaickit.motif import Motif

KIND = "mosaickit sketch"
VERSION = 1

LONGEST_JOURNAL = 20_000_000
"""A journal that grew beyond this, in bytes, is written anew, without what was forgotten, or undone and replaced. If
even then it is longer, the older half of its steps is forgotten."""

LINES_A_STEP = 5
"""A journal with more lines than this for each step that can be undone is written anew, to be opened quickly."""

MOST_STEPS = 2000
"""How many steps can be undone, unless the sketch is told otherwise."""


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
            # a run takes about ten characters, a whole motif one a square and some hundreds for the rest
            if 10 * len(runs) < after.grid.size + 1000:
                return cls(label, runs=runs)
        return cls(label, before=before, after=after)

    def apply(self, motif: Motif, back: bool = False) -> Motif:
        whole = self.before if back else self.after
        if whole is not None:
            return whole
        grid = motif.grid.copy()
        squares = grid.ravel()
        for first, length in _pairs(self.runs):
            squares[first : first + length] ^= True
        return motif.with_grid(grid)

    def entry(self) -> dict[str, Any]:
        """Give what the journal says of the step."""
        if self.after is not None:
            return {"label": self.label, "motif": json.loads(to_json(self.after))}
        return {"label": self.label, "flip": _pairs(self.runs)}


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
    OptionError
        If `motif` is none, or `most_steps` no whole number of 1 or more.

    Examples
    --------
    >>> sketch = Sketch(Motif.from_text(".#"))
    >>> sketch.change(Motif.from_text("##"), "a dot")
    >>> sketch.undo().to_text(), sketch.redo_label
    ('.#', 'a dot')
    """

    def __init__(
        self, motif: Motif, *, journal: str | PathLike[str] | None = None, most_steps: int = MOST_STEPS
    ) -> None:
        self._most = whole_number("most_steps", most_steps, least=1)
        self._start = self._motif = _checked(motif)
        self._done: list[_Step] = []
        self._undone: list[_Step] = []
        self._journal = None if journal is None else as_path(journal)
        self._moves = 0  # steps, undos and redos so far; and how many of them the journal holds
        self._kept = -1
        self._lines = 0
        self.recovered = ""
        """What was left out when the journal was opened, as a sentence; or ""."""
        self.trouble = ""
        """Why steps are not kept in the journal at present, as a sentence; or ""."""
        if self._journal is not None:
            if os.path.exists(self._journal):  # the method of `Path` raises where a name is too long
                raise FileError(f"{file_name(self._journal)} is there already: go on with it by `Sketch.open`.")
            self._write(self._journal)

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
            If there is no such file and nothing to start from; or if a line other than the last is damaged, naming
            it. The file is not changed.
        """
        file = as_path(journal)
        if otherwise is not None and not os.path.exists(file):
            return cls(otherwise, journal=file)
        try:
            lines, torn = _read(file)
            sketch = _replay(lines)
        except MosaickitError as error:
            raise FileError(f"{file_name(file)}: {error}") from None
        sketch._journal = file
        if torn:
            sketch.recovered = "Its last line was not written to the end and was left out."
            # nothing counts as kept, so the next move writes all anew and is not glued to the torn line
        else:
            sketch._kept, sketch._lines = sketch._moves, len(lines)
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
        """Take a step to another motif; none if it is the same. What could be redone is dropped.

        Raises
        ------
        MosaickitError
            If `motif` is no Motif, or `label` not one line of at most 200 characters; nothing is changed.
        """
        checked_name("A step's label", label)  # here, as one that cannot be read back would spoil the journal
        if _checked(motif) == self._motif:
            return
        step = _Step.between(self._motif, motif, label)
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

    # whoever is interrupted in one of these has counted a move that the journal lacks, so it is written anew next

    def _take(self, step: _Step) -> None:
        motif = step.apply(self._motif)
        self._moves += 1
        self._undone.clear()
        self._done.append(step)
        self._motif = motif
        if len(self._done) > self._most:
            self._forget()

    def _forget(self) -> None:
        self._start = self._done[0].apply(self._start)
        del self._done[0]

    def _undo(self) -> None:
        motif = self._done[-1].apply(self._motif, back=True)
        self._moves += 1
        self._undone.append(self._done.pop())
        self._motif = motif

    def _redo(self) -> None:
        motif = self._undone[-1].apply(self._motif)
        self._moves += 1
        self._done.append(self._undone.pop())
        self._motif = motif

    # ---- the journal ---------------------------------------------------------------------------------------

    def _keep(self, entry: dict[str, Any]) -> None:
        """Add the line of the last move to the journal, or say why it could not be."""
        if self._journal is None:
            return
        line = _line(entry)
        try:
            if self._has_room(self._journal, len(line)):
                _append(self._journal, line)
                self._kept, self._lines = self._moves, self._lines + 1
            else:
                self._write(self._journal)
        except (OSError, FileError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            self.trouble = (
                f"The drawing is kept in memory only, as its file could not be written: {reason.rstrip('.')}."
            )

    def _has_room(self, journal: Path, more: int) -> bool:
        """Whether the journal lacks the last move only, and stays short enough with it."""
        return (
            self._kept == self._moves - 1
            and self._lines < LINES_A_STEP * self._most
            and journal.stat().st_size + more <= LONGEST_JOURNAL
        )

    def _write(self, journal: Path) -> None:
        """Write the journal anew, and shorter if need be."""
        data = self._whole()
        while len(data) > LONGEST_JOURNAL and len(self._done) > 1:
            for _ in range(len(self._done) // 2):
                self._forget()
            data = self._whole()
        write_whole(journal, data)
        self._kept, self._lines = self._moves, data.count(b"\n")
        self.trouble = ""

    def _whole(self) -> bytes:
        """Write the journal as if the sketch had been drawn straight."""
        motif = json.loads(to_json(self._start))
        header = {"format": KIND, "version": VERSION, "most_steps": self._most, "motif": motif}
        steps = [step.entry() for step in [*self._done, *reversed(self._undone)]]
        return b"".join(map(_line, [header, *steps, *[{"undo": 1}] * len(self._undone)]))

    def _follow(self, entry: object) -> None:
        """Do what a line of the journal says."""
        if entry == {"undo": 1} and self._done:
            self._undo()
        elif entry == {"redo": 1} and self._undone:
            self._redo()
        elif isinstance(entry, dict) and entry.keys() in ({"label", "flip"}, {"label", "motif"}):
            label = checked_name("A step's label", entry["label"])
            if "flip" in entry:
                self._take(_Step(label, runs=_read_runs(entry["flip"], self._motif)))
            else:
                self._take(_Step(label, before=self._motif, after=_motif(entry["motif"])))
        else:
            raise FileError("This is no step that could follow the line before it.")


def _checked(motif: object) -> Motif:
    if not isinstance(motif, Motif):
        raise OptionError(f"`motif` must be a Motif; got {motif!r}.")
    return motif


def _runs(squares: NDArray[np.intp]) -> NDArray[np.intp]:
    """Give rising numbers of squares as runs of neighbours, (n, 2): the first, and how many."""
    starts = np.flatnonzero(np.diff(squares, prepend=-2) != 1)
    return np.column_stack([squares[starts], np.diff(np.append(starts, len(squares)))])


def _pairs(runs: NDArray[np.intp] | None) -> list[list[int]]:
    return [] if runs is None else runs.tolist()


def _read_runs(value: object, motif: Motif) -> NDArray[np.intp]:
    runs = read_list(value, ("flip",), motif.grid.size)
    last = 0
    for run in runs:
        if not isinstance(run, list) or len(run) != 2 or not all(type(number) is int for number in run):
            raise fault(("flip",), "Expected pairs of a square and how many follow.")
        first, length = run
        if first < last or length < 1 or first + length > motif.grid.size:
            raise fault(("flip",), f"Expected squares of the picture in rising order, found {run}.")
        last = first + length
    return np.array(runs, dtype=np.intp).reshape(-1, 2)


def _motif(document: object) -> Motif:
    return from_json(json.dumps(document), None)


def _replay(lines: list[str]) -> Sketch:
    """Draw again what the lines of a journal say, or raise `FileError` naming the line."""
    number = 1
    try:
        sketch = _started(parse(lines[0]))
        for number, line in enumerate(lines[1:], 2):  # noqa: B007 — the error names it
            sketch._follow(parse(line))
    except MosaickitError as error:
        raise FileError(f"Line {number}: {error}") from None
    return sketch


def _started(entry: object) -> Sketch:
    """Start a sketch, in memory, as the first line of a journal says."""
    if not isinstance(entry, dict) or entry.get("format") != KIND:
        raise FileError("This is no sketch: its first line does not say that it is one.")
    if entry.get("version") != VERSION:
        raise FileError(f"This sketch is of version {entry.get('version')!r}; this mosaickit reads version {VERSION}.")
    header = read_object(entry, (), ("format", "version", "motif"), ("most_steps",))
    return Sketch(_motif(header["motif"]), most_steps=header.get("most_steps", MOST_STEPS))


def _line(entry: dict[str, Any]) -> bytes:
    text = json.dumps(entry, ensure_ascii=False, separators=(",", ":")).encode("utf-8")
    return b"%08x %s\n" % (zlib.crc32(text), text)


def _append(file: Path, line: bytes) -> None:
    """Add a line in one write, and flush it to the disk."""
    # not created: a file that is gone has lost its first line too
    descriptor = os.open(file, os.O_WRONLY | os.O_APPEND | getattr(os, "O_BINARY", 0))
    try:
        if os.write(descriptor, line) != len(line):
            raise OSError(0, "the disk is full")
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _read(file: Path) -> tuple[list[str], bool]:
    """Read the lines of a journal, without checksums, and whether its last one is torn and left out."""
    data = read_whole(file)
    lines = data.split(b"\n")
    torn = lines.pop() != b""  # every line ends in a line break
    texts: list[str] = []
    for number, line in enumerate(lines, 1):
        checksum, _, text = line.partition(b" ")
        if checksum != b"%08x" % zlib.crc32(text):
            if number == len(lines) and not torn and number > 1:
                return texts, True
            raise FileError(f"Line {number} is damaged: its checksum is wrong.")
        try:
            texts.append(text.decode("utf-8"))
        except UnicodeDecodeError:
            raise FileError(f"Line {number} is not UTF-8 text.") from None
    if not texts:
        raise FileError("This is no sketch: its first line is not whole.")
    return texts, torn
