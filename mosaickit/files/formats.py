"""Motif files: the two doors, load and save.

Four formats, told by a file's ending. JSON holds all of a motif (see `documents`). PNG holds the picture as pixels
and, when mosaickit saved it, the rest as a note (see `png`). CSV (0 and 1) and text (``.`` and ``#``) hold the squares
only. All are as seen, the top row first. What is wrong with a file is told in one sentence that names the file and
the place, and no loader executes what it reads.

Nothing that is saved, here or by any other verb, replaces a file of another design without being asked. A file that is
there is replaced only if the same design saved it under this name and nothing has changed it since; a design is known
by its name, and one without a name by its exact content. Anything else is left as it is: the `TakenError` says what is
there and names a free name, and ``replace=True`` replaces it all the same.
"""

from __future__ import annotations

import csv
import io
import reprlib
from collections.abc import Callable
from os import PathLike
from pathlib import Path
from typing import Literal

import numpy as np

from mosaickit.errors import FileError, MotifError, OptionError, of_kind, one_of, whole_number
from mosaickit.files import documents, png, saved
from mosaickit.files.disk import as_path, file_name, read_whole
from mosaickit.motif import LARGEST_SIDE, Motif, checked_size, parse_rows
from mosaickit.orientation import ROLES, Role

Format = Literal["json", "png", "csv", "txt"]
FORMATS: tuple[Format, ...] = ("json", "png", "csv", "txt")


def load(
    path: str | PathLike[str], *, first: Role | None = None, square: int | None = None, format: Format | None = None
) -> Motif:
    r"""Read a motif from a file.

    Parameters
    ----------
    path : path
        Ends in .json, .png, .csv or .txt.
    first : "MC" or "CC", optional
        The colour of row 1. A file that says it itself must agree; CSV, text and PNG pictures from elsewhere do not
        say it, and get MC if nothing is given.
    square : int, optional
        PNG only: the side of a square in pixels. Left out, it is what the file says, or else 1.
    format : "json", "png", "csv" or "txt", optional
        How to read the file, whatever its ending.

    Returns
    -------
    Motif
        A PNG picture from elsewhere may have two colours: the darker one is CC, as ink on paper is. In a picture of
        one colour all squares are MC. Its colours become the yarns'. Pixels count as they are stored, without any
        turn or colour profile that a camera noted.

    Raises
    ------
    FileError
        If there is no such file, or it holds no motif; the sentence names the file and the place in it.
    OptionError
        If an argument is none that this format knows.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     file = save(Motif.from_text("..#\n.##"), Path(folder) / "corner.png", square=4)
    ...     load(file).to_text().split()
    ['..#', '.##']
    """
    file, chosen = _choose(path, format)
    if first is not None:
        one_of("first", first, ROLES)
    if square is not None:
        square = _checked_square(square, chosen)
    try:
        data = read_whole(file)
        if chosen == "png":
            return png.from_png(data, first, square)
        text = decode(data)
        if chosen == "json":
            return documents.from_json(text, first)
        return Motif.from_text(text, first or "MC") if chosen == "txt" else _from_csv(text, first or "MC")
    except MotifError as err:
        raise FileError(f"{file_name(file)}: {err}") from None


def save(
    motif: Motif,
    path: str | PathLike[str],
    *,
    square: int = 1,
    format: Format | None = None,
    design: str = "",
    replace: bool = False,
) -> Path:
    """Write a motif to a file, whole or not at all.

    Parameters
    ----------
    motif : Motif
        Workable or not.
    path : path
        Ends in .json, .png, .csv or .txt.
    square : int
        PNG only: the side of a square in pixels.
    format : "json", "png", "csv" or "txt", optional
        What to write, whatever the ending.
    design : str
        What the motif is known by where its own earlier file is there. Left out, it is the motif's name; a motif
        without a name is known by its content.
    replace : bool
        Whether to replace whatever file is there. Otherwise only the same design's own earlier file is, if nothing
        changed it since.

    Returns
    -------
    Path
        The file. `load` gives the same motif from JSON and PNG; CSV and text keep its squares only, without the
        colour of row 1, yarns and name. A PNG shows the first yarn of each colour, or black on white if both look
        the same.

    Raises
    ------
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    OptionError
        If an argument is none that this format knows.
    """
    of_kind("motif", motif, Motif)
    file, chosen = _choose(path, format)
    side = _checked_square(square, chosen)
    known = saved.Owner.named("motif", design, motif.name, documents.to_json(motif))
    if chosen == "png":
        try:
            data = png.to_png(motif, side)
        except MotifError as err:
            raise FileError(f"{file_name(file)} was not written: {err}") from None
        return saved.save_bytes(file, data, known, replace=replace)
    write: dict[Format, Callable[[Motif], str]] = {
        "json": documents.to_json,
        "csv": _to_csv,
        "txt": lambda m: m.to_text() + "\n",
    }
    return saved.save_bytes(file, write[chosen](motif).encode("utf-8"), known, replace=replace)


def _choose(path: str | PathLike[str], format: Format | None) -> tuple[Path, Format]:
    file = as_path(path)
    if format is not None:
        one_of("format", format, FORMATS)
        return file, format
    for known in FORMATS:
        if file.suffix.lower() == f".{known}":
            return file, known
    endings = ", ".join(f".{known}" for known in FORMATS)
    raise FileError(f"{file_name(file)}: The name of a motif file ends in one of {endings}; or say its `format`.")


def _checked_square(square: int, format: Format) -> int:
    side = whole_number("square", square, least=1)
    if side != 1 and format != "png":
        raise OptionError(f"`square` is the side of a square in pixels, for PNG only; got {side} for {format}.")
    return side


def decode(data: bytes) -> str:
    """Read the bytes of a file as UTF-8 text, or raise `FileError`."""
    if data.startswith(png.SIGNATURE):
        raise FileError("This is a PNG picture, whatever its name says: give `format='png'`.")
    try:
        return data.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as err:
        line = data.count(b"\n", 0, err.start) + 1
        raise FileError(f"The file must be UTF-8 text, which line {line} is not, at byte {err.start + 1}.") from None


# ---- CSV -------------------------------------------------------------------------------------------------


def _to_csv(motif: Motif) -> str:
    rows, columns = motif.shape
    codes = np.full((rows, 2 * columns), ord(","), dtype=np.uint8)
    codes[:, ::2] = motif.grid + np.uint8(ord("0"))
    codes[:, -1] = ord("\n")
    return codes.tobytes().decode("ascii")


def _from_csv(text: str, first: Role) -> Motif:
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    lines: list[str] = []
    numbers: list[int] = []
    try:
        for row in reader:
            cells = [cell.strip() for cell in row]
            blank = not any(cells) and len(cells) <= 1
            wrong = next((column for column, cell in enumerate(cells, 1) if cell not in ("0", "1")), None)
            if wrong is not None and not blank:
                raise FileError(
                    f"Line {reader.line_num}, column {wrong}: expected 0 for MC or 1 for CC between commas, "
                    f"found {reprlib.repr(cells[wrong - 1])}."
                )
            lines.append("".join(cells))
            numbers.append(reader.line_num)
            if len(lines) > 2 * LARGEST_SIDE:  # too many, however many of them are blank: read no further
                checked_size(len(lines), max(1, len(cells)))
    except csv.Error as err:
        raise FileError(f"Line {reader.line_num} is no line of a CSV file ({err}).") from None
    start = next((index for index, line in enumerate(lines) if line), len(lines))
    end = next((index for index in range(len(lines), start, -1) if lines[index - 1]), start)
    return Motif(parse_rows(lines[start:end], "01", lambda index: numbers[start + index]), first)
