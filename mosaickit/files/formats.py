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
from mosaickit.files.disk import as_path, check_length, file_name, read_whole
from mosaickit.motif import LARGEST_SIDE, Motif, checked_size, parse_rows
from mosaickit.orientation import ROLES, Role

Format = Literal["json", "png", "csv", "txt"]
FORMATS: tuple[Format, ...] = ("json", "png", "csv", "txt")
_ENDINGS = ", ".join(f".{known}" for known in FORMATS)


def load(
    path: str | PathLike[str], *, first: Role | None = None, square: int | None = None, format: Format | None = None
) -> Motif:
    """Read a motif from a file: `mk.load` for motifs, whose arguments and errors it has."""
    file, chosen = _choose(path, format)
    if first is not None:
        one_of("first", first, ROLES)
    if square is not None:
        square = _checked_square(square, chosen)
    try:
        return _motif_from(read_whole(file), chosen, first, square)
    except MotifError as err:
        raise FileError(f"{file_name(file)}: {err}") from None


def motif_in(data: bytes, name: str) -> Motif:
    """Read a motif from the bytes of a file from elsewhere, as `load` reads a file.

    Parameters
    ----------
    data : bytes
        All that the file holds.
    name : str
        What it is called; nothing of that name is looked for on the disk. A PNG picture is read as one whatever its
        name says; otherwise the ending tells the format.

    Raises
    ------
    FileError
        If the bytes hold no motif; the sentence names the file and the place in it.
    """
    file = Path(name)
    ending = file.suffix.lower().removeprefix(".")
    chosen = "png" if data.startswith(png.SIGNATURE) else next((each for each in FORMATS if each == ending), None)
    try:
        check_length(len(data))
        if chosen is None:
            raise FileError(f"This is not read as a motif: the name of such a file ends in one of {_ENDINGS}.")
        return _motif_from(data, chosen, None, None)
    except MotifError as err:
        raise FileError(f"{file_name(file)}: {err}") from None


def _motif_from(data: bytes, format: Format, first: Role | None, square: int | None) -> Motif:
    if format == "png":
        return png.from_png(data, first, square)
    text = decode(data)
    if format == "json":
        return documents.from_json(text, first)
    return Motif.from_text(text, first or "MC") if format == "txt" else _from_csv(text, first or "MC")


def save(
    motif: Motif,
    path: str | PathLike[str],
    *,
    square: int = 1,
    format: Format | None = None,
    design: str = "",
    replace: bool = False,
) -> Path:
    """Write a motif to a file, whole or not at all: `mk.save` for motifs, whose arguments and errors it has."""
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
    raise FileError(f"{file_name(file)}: The name of a motif file ends in one of {_ENDINGS}; or say its `format`.")


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
