"""How far a maker has come, and the file that keeps it, so that a killed program loses at most the step in hand."""

from __future__ import annotations

import hashlib
import json
import os
from dataclasses import asdict, dataclass
from os import PathLike
from pathlib import Path

from mosaickit.disk import as_path, file_name, read_whole, write_whole
from mosaickit.documents import fault, parse, read_object, read_string
from mosaickit.errors import FileError, OptionError, whole_number
from mosaickit.guiding.loops import MOVES
from mosaickit.stitches import Chart, Stitch

KIND = "mosaickit place"
VERSION = 1


def fingerprint(chart: Chart) -> str:
    """Sixteen letters that hang on what is worked where, and not on names and colours of yarn."""
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
        What is to be said about the file that was found; may be empty.

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
        wanted = as_path(path)
        own = wanted.with_name(f"{wanted.stem}-{fingerprint(chart)[:8]}{wanted.suffix}")
        self.chart = chart
        self.place, self.file, refused = _found(wanted, own, chart)
        self.note = "" if self.place == Place() else f"Brought back from {file_name(self.file or wanted)}."
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
            If the file cannot be written; the maker has gone there all the same.
        """
        self.place = checked_place(place, self.chart)
        if self.file is None:
            return
        told = {"format": KIND, "version": VERSION, "chart": fingerprint(self.chart), **asdict(self.place)}
        write_whole(self.file, (json.dumps(told) + "\n").encode("utf-8"))


def _found(wanted: Path, own: Path, chart: Chart) -> tuple[Place, Path | None, str]:
    """Look for a place of the chart in two files: the place, the file to write, and why the first was refused."""
    refused = ""
    unused = []
    for file in (wanted, own):
        try:
            place = _read(file, chart)
        except FileError as error:
            refused = refused or f"{file_name(file)} was left as it is: {error}"
            continue
        if place is not None:
            return place, file, refused
        unused.append(file)
    return Place(), unused[0] if unused else None, refused


def _read(file: Path, chart: Chart) -> Place | None:
    """Read the place in a file, None if there is no such file, or raise `FileError`."""
    if not os.path.exists(file):  # which is no error where nobody may look
        return None
    try:
        text = read_whole(file).decode("utf-8")
    except UnicodeDecodeError:
        raise FileError("It is no text.") from None
    told = read_object(parse(text), (), ("format", "version", "chart", "rows", "stitches", "moves"))
    if told["format"] != KIND or told["version"] != VERSION:
        raise FileError(f"It is no {KIND} of version {VERSION}.")
    if read_string(told["chart"], ("chart",)) != fingerprint(chart):
        raise FileError("It belongs to another chart.")
    try:
        return checked_place(Place(*(told[name] for name in ("rows", "stitches", "moves"))), chart)
    except OptionError as error:
        raise fault(("rows",), str(error)) from None
