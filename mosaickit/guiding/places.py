"""How far a maker has come, and the file that keeps it, so that a killed program loses at most the step in hand.

The file holds one line and no history, so it is written whole at every step: a database, tried as well, took about
twice as long and kept it no better. Two kernels may lead through one chart, one on the table and one on the sofa:
neither is shut out, but before a place is kept the file is looked at, under a lock that lasts for the step. If another
guide has gone further meanwhile, its place stays until the maker has been told and steps on.
"""

from __future__ import annotations

import hashlib
import os
import secrets
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, astuple, dataclass
from os import PathLike
from pathlib import Path
from typing import Annotated, Literal, NamedTuple

from mosaickit.errors import FileError, HeldError, OptionError, whole_number
from mosaickit.fabric import MOVES, Chart, Stitch
from mosaickit.files import (
    WHAT_IT_IS,
    WHICH_VERSION,
    Document,
    Lock,
    as_path,
    fault,
    file_name,
    read_document,
    read_whole,
    this_program,
    write_whole,
)

PATIENCE_S = 5.0
"""How many seconds are waited for another guide that is writing the file."""


def fingerprint(chart: Chart) -> str:
    """Sixteen letters that depend on what is worked where, and not on names and colours of yarn."""
    told = (chart.shape, chart.row_colours, chart.hand, chart.in_the_round)
    return hashlib.sha256(repr(told).encode() + chart.stitches.tobytes()).hexdigest()[:16]


@dataclass(frozen=True)
class Place:
    """How far a maker has come.

    Parameters
    ----------
    rows : int
        Whole rows done; all of them when the work is finished.
    stitches : int
        Stitches done of the row in hand.
    moves : int
        Moves done of the stitch in hand.
    """

    rows: int = 0
    stitches: int = 0
    moves: int = 0


def checked_place(place: Place, chart: Chart) -> Place:
    """Return a place that is in the chart, or raise `OptionError`."""
    rows, count = chart.shape
    row, stitch, move = (whole_number(name, getattr(place, name)) for name in ("rows", "stitches", "moves"))
    if row == rows and stitch == move == 0:
        return Place(row)
    if row >= rows or stitch >= count or move >= len(MOVES[Stitch(int(chart.stitches[row, stitch]))]):
        raise OptionError(f"A place must lie in the chart of {rows} rows × {count} stitches; got {place!r}.")
    return Place(row, stitch, move)


class PlaceDocument(Document):
    """How far a maker has come in a chart, and who wrote it down."""

    format: Annotated[Literal["mosaickit place"], WHAT_IT_IS]
    version: Annotated[Literal[1], WHICH_VERSION]
    chart: str
    rows: int
    stitches: int
    moves: int
    by: str
    key: str


class _Kept(NamedTuple):
    """What a file holds."""

    place: Place
    by: str = ""  # who wrote it
    key: str = ""  # drawn at random each time, so that what another has written is noticed


class PlaceFile:
    """Keeps a place in a file, written whole at every step.

    A file that is damaged, or another chart's, is left as it is, and a name of the chart's own is used beside it.

    Parameters
    ----------
    path : path
        The file, which may not be there yet.
    chart : Chart
        What is worked.

    Attributes
    ----------
    file : Path or None
        The file that is written; None if there is none that may be.
    place : Place
        Where the maker is.
    note : str
        What is to be said about the file that was found, or about another guide that writes it; may be empty.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> chart = Chart.from_text("...")
    >>> with TemporaryDirectory() as folder:
    ...     PlaceFile(Path(folder) / "scarf.place", chart).keep(Place(0, 2))
    ...     PlaceFile(Path(folder) / "scarf.place", chart).place
    Place(rows=0, stitches=2, moves=0)
    """

    def __init__(self, path: str | PathLike[str], chart: Chart) -> None:
        wanted = as_path(path, "place")
        own = wanted.with_name(f"{wanted.stem}-{fingerprint(chart)[:8]}{wanted.suffix}")
        self.chart = chart
        self._known, self.file, refused = _found(wanted, own, chart)
        self.place = self._known.place
        self.note = "" if self.place == Place() else f"Restored from {file_name(self.file or wanted)}."
        if refused and self.file is not None:
            self.note = f"{refused} The place is kept in {file_name(self.file)} instead. {self.note}".strip()
        elif refused:
            self.note = f"{refused} {file_name(own)} cannot be used either, so the place is not kept in any file."

    def keep(self, place: Place) -> None:
        """Go to a place and keep it.

        Raises
        ------
        OptionError
            If the place is not in the chart.
        FileError
            If the file cannot be written, or another guide has gone further in it; the maker has gone there all the
            same. The next place is kept over the further one, as the maker has been told of it.
        """
        self.place = checked_place(place, self.chart)
        if self.file is None:
            return
        with _in_turn(self.file):
            try:
                found = _read(self.file, self.chart)
            except FileError as error:
                raise FileError(
                    f"Another program has changed {file_name(self.file)}, which was left as it is: {error} Move it "
                    "away, and the next step is kept in a new one."
                ) from None
            known, self._known = self._known, found or _Kept(Place())
            if found is not None and found.key != known.key:
                if astuple(found.place) > astuple(self.place):
                    raise FileError(
                        f"{_capital(found.by)} has gone further with {file_name(self.file)}, to "
                        f"{_told(found.place)}, so that place was left in it. Take another step here to keep yours, or "
                        "run the cell again to go on from there."
                    )
                self.note = f"{_capital(found.by)} keeps its place in {file_name(self.file)} too."
            kept = _Kept(self.place, this_program(), secrets.token_hex(8))
            told = PlaceDocument(
                format="mosaickit place",
                version=1,
                chart=fingerprint(self.chart),
                **asdict(kept.place),
                by=kept.by,
                key=kept.key,
            )
            write_whole(self.file, f"{told.model_dump_json()}\n".encode())
            self._known = kept


@contextmanager
def _in_turn(file: Path) -> Iterator[None]:
    """Keep other guides from writing a file for a moment; where the disk cannot lock, looking first has to do."""
    end = time.monotonic() + PATIENCE_S
    lock = None
    while lock is None:
        try:
            lock = Lock(file)
        except HeldError:
            if time.monotonic() > end:
                raise
            time.sleep(0.002)
        except FileError:  # writing says why, if it fails too
            break
    try:
        yield
    finally:
        if lock is not None:
            lock.release()


def _told(place: Place) -> str:
    return f"row {place.rows + 1}, stitch {place.stitches + 1}"


def _capital(phrase: str) -> str:
    return phrase[:1].upper() + phrase[1:]


def _found(wanted: Path, own: Path, chart: Chart) -> tuple[_Kept, Path | None, str]:
    """Look for a place of the chart in two files: the place, the file to write, and why the first was refused."""
    refused = ""
    unused = []
    for file in (wanted, own):
        try:
            kept = _read(file, chart)
        except FileError as error:
            refused = refused or f"{file_name(file)} was left as it is: {error}"
            continue
        if kept is not None:
            return kept, file, refused
        unused.append(file)
    return _Kept(Place()), unused[0] if unused else None, refused


def _read(file: Path, chart: Chart) -> _Kept | None:
    """Read the place in a file, None if there is no such file, or raise `FileError`."""
    if not os.path.exists(file):  # which is no error where no one may look
        return None
    try:
        text = read_whole(file).decode("utf-8")
    except UnicodeDecodeError:
        raise FileError("It is no text.") from None
    told = read_document(PlaceDocument, text)
    if told.chart != fingerprint(chart):
        raise FileError("It belongs to another chart.")
    try:
        place = checked_place(Place(told.rows, told.stitches, told.moves), chart)
    except OptionError as error:
        raise fault(("rows",), str(error)) from None
    return _Kept(place, told.by, told.key)
