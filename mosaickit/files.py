"""Motif files: read and written whole, or not at all.

Four formats, told by a file's ending. JSON holds all of a motif; ``motif.schema.json`` beside this module
describes it. PNG holds the picture as pixels and, when mosaickit saved it, the rest as a note. CSV (0 and 1) and
text (`.` and `#`) hold the squares only. All are as seen, the top row first.

A file comes from anywhere, so nothing in it is believed: sizes are read and checked before anything is unpacked,
and what is wrong is told in one sentence that names the file and the place. Pillow only unpacks pixels: it gets no
part of a PNG but those that make the picture, so that profiles, texts and turns beside it play no role.
"""

from __future__ import annotations

import contextlib
import csv
import errno
import io
import json
import os
import reprlib
import secrets
import stat
import struct
import warnings
import zlib
from collections.abc import Callable, Iterable
from os import PathLike
from pathlib import Path
from typing import Any, Literal, NamedTuple, NoReturn, cast

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mosaickit.colours import CREAM, INK, LONGEST_NAME, Yarn, Yarns, contrast
from mosaickit.errors import FileError, MosaickitError, MotifError, OptionError, one_of, whole_number
from mosaickit.motif import LARGEST_SIDE, Motif, checked_size, parse_rows
from mosaickit.orientation import ROLES, Role

Format = Literal["json", "png", "csv", "txt"]
FORMATS: tuple[Format, ...] = ("json", "png", "csv", "txt")

LARGEST_BYTES = 64_000_000
"""No motif file is longer than this; the largest motif, with a long name for every row's yarn, needs less."""

LARGEST_PIXELS = 32_000_000
"""No picture has more pixels than this, whatever the side of a square: about 130 MB once unpacked."""

_KIND = "mosaickit motif"
_VERSION = 1


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
        _check_square(square, chosen)
    try:
        data = _read(file)
        if chosen == "png":
            return _from_png(data, first, square)
        text = _decode(data)
        if chosen == "json":
            return _from_json(text, first)
        return Motif.from_text(text, first or "MC") if chosen == "txt" else _from_csv(text, first or "MC")
    except MotifError as err:
        raise FileError(f"{_name(file)}: {err}") from None


def save(motif: Motif, path: str | PathLike[str], *, square: int = 1, format: Format | None = None) -> Path:
    """Write a motif to a file, whole or not at all.

    Parameters
    ----------
    motif : Motif
        Workable or not.
    path : path
        Ends in .json, .png, .csv or .txt. A file that is there is replaced.
    square : int
        PNG only: the side of a square in pixels.
    format : "json", "png", "csv" or "txt", optional
        What to write, whatever the ending.

    Returns
    -------
    Path
        The file. `load` gives the same motif from JSON and PNG; CSV and text keep its squares only, without the
        colour of row 1, yarns and name. A PNG shows the first yarn of each colour, or black on white if both look
        the same.

    Raises
    ------
    FileError
        If the file cannot be written; what was there before is then untouched.
    OptionError
        If an argument is none that this format knows.
    """
    if not isinstance(motif, Motif):
        raise OptionError(f"`motif` must be a Motif; got {motif!r}.")
    file, chosen = _choose(path, format)
    _check_square(square, chosen)
    if chosen == "png":
        try:
            data = _to_png(motif, square)
        except MotifError as err:
            raise FileError(f"{_name(file)} was not written: {err}") from None
        return write_whole(file, data)
    write: dict[Format, Callable[[Motif], str]] = {
        "json": _to_json,
        "csv": _to_csv,
        "txt": lambda m: m.to_text() + "\n",
    }
    return write_whole(file, write[chosen](motif).encode("utf-8"))


def _choose(path: str | PathLike[str], format: Format | None) -> tuple[Path, Format]:
    file = _path(path)
    if format is not None:
        one_of("format", format, FORMATS)
        return file, format
    for known in FORMATS:
        if file.suffix.lower() == f".{known}":
            return file, known
    endings = ", ".join(f".{known}" for known in FORMATS)
    raise FileError(f"{_name(file)}: The name of a motif file ends in one of {endings}; or say its `format`.")


def _path(path: str | PathLike[str]) -> Path:
    try:
        return Path(path)
    except TypeError:
        raise OptionError(f"`path` must be a path, as text or a `Path`; got {path!r}.") from None


def _name(file: Path) -> str:
    return repr(file.name or str(file))


def _check_square(square: int, format: Format) -> None:
    if whole_number("square", square, least=1) != 1 and format != "png":
        raise OptionError(f"`square` is the side of a square in pixels, for PNG only; got {square} for {format}.")


def _check_first(first: Role | None, found: Role) -> None:
    if first is not None and first != found:
        raise FileError(f"The file says that row 1 is worked in {found}, but `first` says {first}: leave `first` out.")


# ---- bytes in and out ------------------------------------------------------------------------------------


def _reason(err: OSError | ValueError) -> str:
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


def _read(file: Path) -> bytes:
    try:
        found = file.stat()
        if stat.S_ISDIR(found.st_mode):
            raise FileError("This is a folder, not a motif file.")
        if not stat.S_ISREG(found.st_mode):  # a device or a pipe may never end
            raise FileError("This is no ordinary file.")
        length = found.st_size
        if length <= LARGEST_BYTES:
            with file.open("rb") as opened:
                data = opened.read(LARGEST_BYTES + 1)
            length = len(data)
    except FileNotFoundError:
        raise FileError(f"There is no such file in the folder {str(file.parent)!r}.") from None
    except MosaickitError:
        raise
    except (OSError, ValueError) as err:
        raise FileError(f"The file could not be read: {_reason(err)}.") from None
    if length > LARGEST_BYTES:
        raise FileError(f"A motif file has at most {LARGEST_BYTES:,} bytes; this one has {length:,} or more.")
    if not data:
        raise FileError("The file is empty.")
    return data


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
    file = _path(path)
    try:
        target = Path(os.path.realpath(file))
        _replace(target, data, _permissions(target))
    except (OSError, ValueError) as err:
        reason = str(err) if isinstance(err, FileError) else f"{_reason(err)}."
        raise FileError(f"{_name(file)} could not be written, and nothing was changed: {reason}") from None
    return file


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


def _replace(target: Path, data: bytes, permissions: int | None) -> None:
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
        os.replace(part, target)
    except BaseException:
        with contextlib.suppress(OSError):
            part.unlink()
        raise


def _decode(data: bytes) -> str:
    if data.startswith(_SIGNATURE):
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


# ---- JSON, and the part of it that a PNG's note shares ---------------------------------------------------

Place = tuple[str | int, ...]
"""Where in a JSON document: keys, and numbers of entries, from 1."""


def _header(motif: Motif) -> dict[str, Any]:
    return {"format": _KIND, "version": _VERSION, "name": motif.name, "first": motif.first}


def _yarn_entries(yarns: Yarns) -> dict[str, Any]:
    return {
        role: [{"from_row": row, "name": yarn.name, "colour": yarn.colour} for row, yarn in yarns.of(role)]
        for role in ROLES
    }


def _to_json(motif: Motif) -> str:
    document = {**_header(motif), "rows": motif.to_text().split("\n"), "yarns": _yarn_entries(motif.yarns)}
    return json.dumps(document, ensure_ascii=False, indent=2) + "\n"


def _from_json(text: str, first: Role | None) -> Motif:
    document, header = _read_header(_parse(text), "rows")
    rows = [_string(row, ("rows", n), LARGEST_SIDE) for n, row in enumerate(_list(document["rows"], ("rows",)), 1)]
    try:
        grid = parse_rows(rows, line_number=lambda index: index + 1)
    except MotifError as err:
        raise _fault(("rows",), str(err)) from None
    _check_first(first, header["first"])
    return Motif(grid, **header)


def _parse(text: str) -> object:
    try:
        return cast(
            object, json.loads(text, object_pairs_hook=_once, parse_constant=_no_constant, parse_int=_short_int)
        )
    except json.JSONDecodeError as err:
        raise FileError(f"Line {err.lineno}, column {err.colno}: this is no JSON ({err.msg}).") from None
    except RecursionError:
        raise FileError("This is no motif: its lists or objects are nested too deeply.") from None


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise FileError(f"The key {reprlib.repr(key)} stands twice in one object; keep one of them.")
        found[key] = value
    return found


def _no_constant(constant: str) -> NoReturn:
    raise FileError(f"{constant} is no number of JSON.")


def _short_int(digits: str) -> int:
    if len(digits) > 18:
        raise FileError(f"No number of a motif has {len(digits)} digits.")
    return int(digits)


def _fault(place: Place, sentence: str) -> FileError:
    words = ", ".join(f"entry {part}" if isinstance(part, int) else f'"{part}"' for part in place)
    return FileError(f"At {words}: {sentence}" if words else sentence)


def _read_header(document: object, *also: str) -> tuple[dict[str, Any], dict[str, Any]]:
    """Give a document, which has the keys `also` and no unknown ones, and what a `Motif` has beside its grid."""
    if not isinstance(document, dict) or document.get("format") != _KIND:
        raise FileError(f'This is no motif: expected an object with "format": "{_KIND}".')
    version = _whole(document.get("version"), ("version",))
    if version != _VERSION:
        raise FileError(
            f"This file is of version {version}; this mosaickit reads version {_VERSION}: save the file in that "
            "version, or read it with a newer mosaickit."
        )
    document = _object(document, (), ("format", "version", "first", *also), ("name", "yarns"))
    if document["first"] not in ROLES:
        raise _fault(("first",), f'Expected "MC" or "CC", found {reprlib.repr(document["first"])}.')
    name = _string(document.get("name", ""), ("name",))
    yarns = _read_yarns(document["yarns"]) if "yarns" in document else Yarns()
    return document, {"first": document["first"], "yarns": yarns, "name": name}


def _read_yarns(value: object) -> Yarns:
    entries = _object(value, ("yarns",), ROLES)
    mc, cc = (
        [_read_yarn(entry, ("yarns", role, n)) for n, entry in enumerate(_list(entries[role], ("yarns", role)), 1)]
        for role in ROLES
    )
    try:
        return Yarns(mc, cc)
    except MotifError as err:
        raise _fault(("yarns",), str(err)) from None


def _read_yarn(value: object, place: Place) -> tuple[int, Yarn]:
    entry = _object(value, place, ("from_row", "name", "colour"))
    row = _whole(entry["from_row"], (*place, "from_row"))
    name = _string(entry["name"], (*place, "name"))
    colour = _read_colour(entry["colour"], (*place, "colour"))
    try:
        return row, Yarn(name, colour)
    except MotifError as err:
        raise _fault((*place, "name"), str(err)) from None


def _read_colour(value: object, place: Place) -> str:
    colour = _string(value, place)
    try:
        return Yarn("", colour).colour
    except MotifError as err:
        raise _fault(place, str(err)) from None


def _object(value: object, place: Place, needed: Iterable[str], optional: Iterable[str] = ()) -> dict[str, Any]:
    if not isinstance(value, dict):
        raise _fault(place, f"Expected an object in braces, found {reprlib.repr(value)}.")
    needed = list(needed)
    known = [*needed, *optional]
    for key in value:
        if key not in known:
            listed = ", ".join(f'"{name}"' for name in known)
            raise _fault(place, f"The key {reprlib.repr(key)} is unknown here; known are {listed}.")
    for key in needed:
        if key not in value:
            raise _fault(place, f'The key "{key}" is missing.')
    return value


def _list(value: object, place: Place) -> list[Any]:
    if not isinstance(value, list) or len(value) > LARGEST_SIDE:
        raise _fault(place, f"Expected a list of at most {LARGEST_SIDE:,} entries, found {reprlib.repr(value)}.")
    return value


def _string(value: object, place: Place, longest: int = LONGEST_NAME) -> str:
    if not isinstance(value, str) or len(value) > longest:
        found = reprlib.repr(value)
        raise _fault(place, f"Expected text in quotes, of at most {longest:,} characters, found {found}.")
    return value


def _whole(value: object, place: Place) -> int:
    if not isinstance(value, int) or isinstance(value, bool) or not 1 <= value <= LARGEST_SIDE:
        raise _fault(place, f"Expected a whole number from 1 to {LARGEST_SIDE:,}, found {reprlib.repr(value)}.")
    return value


# ---- PNG -------------------------------------------------------------------------------------------------
# Chunks, depths, kinds of colour and passes are those of the PNG specification, third edition (W3C).

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_PICTURE = (b"IHDR", b"PLTE", b"tRNS", b"IDAT", b"IEND")
_GREY, _PALETTE = 0, 3
_CHANNELS = {_GREY: 1, 2: 3, _PALETTE: 1, 4: 2, 6: 4}
_DEPTHS = {_GREY: (1, 2, 4, 8, 16), 2: (8, 16), _PALETTE: (1, 2, 4, 8), 4: (8, 16), 6: (8, 16)}
# where an interlaced picture's seven passes start, and how far they step: x, y, step in x, step in y
_PASSES = [(0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2)]

Chunks = dict[bytes, list[bytes]]


class _Note(NamedTuple):
    """What a PNG says of itself: a motif without its grid, the side of a square, the two colours of its pixels."""

    header: dict[str, Any]
    square: int
    mc: str
    cc: str


class _Size(NamedTuple):
    """What the header of a PNG says."""

    width: int
    height: int
    depth: int
    kind: int
    interlaced: bool


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def _to_png(motif: Motif, square: int) -> bytes:
    rows, columns = motif.shape
    _check_pixels(columns * square, rows * square)
    mc, cc = (motif.yarns.of(role)[0][1].colour for role in ROLES)
    if mc == cc:
        mc, cc = "#ffffff", "#000000"
    note = {
        **_header(motif),
        "yarns": _yarn_entries(motif.yarns),
        "square": square,
        "pixels": {"MC": mc, "CC": cc},
    }
    packed = np.packbits(np.repeat(motif.grid, square, axis=1), axis=1)
    lines = np.pad(packed, ((0, 0), (1, 0)))  # each line starts with the number of its filter: 0, none
    return b"".join(
        (
            _SIGNATURE,
            _chunk(b"IHDR", struct.pack(">IIBBBBB", columns * square, rows * square, 1, _PALETTE, 0, 0, 0)),
            _chunk(b"tEXt", _KIND.encode("ascii") + b"\0" + json.dumps(note).encode("ascii")),
            _chunk(b"PLTE", bytes.fromhex(mc[1:] + cc[1:])),
            _chunk(b"IDAT", zlib.compress(np.repeat(lines, square, axis=0).tobytes(), 9)),
            _chunk(b"IEND", b""),
        )
    )


def _from_png(data: bytes, first: Role | None, square: int | None) -> Motif:
    chunks = _read_chunks(data)
    size = _read_size(chunks)
    note = _read_note(chunks)
    if note is not None:
        _check_first(first, note.header["first"])
    if square is None:
        square = note.square if note is not None else 1
    if size.width % square or size.height % square:
        raise FileError(f"The picture has {size.width:,} × {size.height:,} pixels, which do not divide by {square}.")
    checked_size(size.height // square, size.width // square)
    _check_pixels(size.width, size.height)

    pixels = _opaque(_unpack(chunks, size))
    found = _two_colours(pixels)
    _check_blocks(pixels, square)
    pixels = pixels[::square, ::square]
    if note is not None:
        return Motif(_by_note(pixels, found, note), **note.header)
    if len(found) == 1:
        yarns = Yarns(Yarn("the picture's colour", found[0]), INK if found[0] != INK.colour else CREAM)
        return Motif(np.zeros(pixels.shape, dtype=np.bool_), first or "MC", yarns)
    light = min(found, key=lambda colour: contrast(colour, "#ffffff"))  # of two equally dark, that of the first pixel
    dark = next(colour for colour in found if colour != light)
    return Motif(pixels == _number(dark), first or "MC", Yarns(Yarn("light", light), Yarn("dark", dark)))


def _check_pixels(width: int, height: int) -> None:
    if width * height > LARGEST_PIXELS:
        raise FileError(f"A picture has at most {LARGEST_PIXELS:,} pixels; {width:,} × {height:,} are more.")


def _read_chunks(data: bytes) -> Chunks:
    """Take a PNG apart into its chunks by kind, each checked against its checksum."""
    if not data.startswith(_SIGNATURE):
        raise FileError("This is no PNG picture: it does not start as every PNG does.")
    chunks: Chunks = {}
    at = len(_SIGNATURE)
    while b"IEND" not in chunks:
        end = at + 8 + int.from_bytes(data[at : at + 4], "big")
        if end + 4 > len(data):
            raise FileError("The picture is cut short: the file ends before the picture does.")
        kind, body = data[at + 4 : at + 8], data[at + 8 : end]
        if zlib.crc32(kind + body) != int.from_bytes(data[end : end + 4], "big"):
            raise FileError(f"The picture is damaged: the checksum of the chunk at byte {at + 1} is wrong.")
        if (not chunks) != (kind == b"IHDR"):
            raise FileError("The picture is damaged: one header must stand at its start, and only there.")
        if kind not in _PICTURE and not kind[0] & 0x20:  # a capital: not to be left out
            raise FileError(f"The picture needs a chunk that mosaickit does not know: {kind!r}.")
        if kind in (b"PLTE", b"tRNS") and kind in chunks:
            raise FileError(f"The picture is damaged: it has two chunks {kind.decode()}.")
        chunks.setdefault(kind, []).append(body)
        at = end + 4
    return chunks


def _read_size(chunks: Chunks) -> _Size:
    header = chunks[b"IHDR"][0]
    if len(header) != 13:
        raise FileError("The picture is damaged: its header must have 13 bytes.")
    width, height, depth, kind, packing, filtering, interlaced = struct.unpack(">IIBBBBB", header)
    if depth not in _DEPTHS.get(kind, ()) or packing or filtering or interlaced > 1 or not width or not height:
        raise FileError("The picture is damaged: its header describes no picture.")
    if b"acTL" in chunks:
        raise FileError("The picture moves: save one of its frames as a PNG without animation.")
    if depth == 16 and kind != _GREY:
        raise FileError("The picture has 16 bits a channel, of which a yarn's colour keeps 8: save it with 8.")
    return _Size(width, height, depth, kind, bool(interlaced))


def _read_note(chunks: Chunks) -> _Note | None:
    ours = [
        (kind, body[len(_KIND) + 1 :])
        for kind in (b"tEXt", b"zTXt", b"iTXt")
        for body in chunks.get(kind, ())
        if body.startswith(_KIND.encode("ascii") + b"\0")
    ]
    if not ours:
        return None
    try:
        if len(ours) > 1:
            raise FileError("There must be one at most.")
        kind, text = ours[0]
        if kind != b"tEXt" or not text.isascii():
            raise FileError("It must be a tEXt chunk in ASCII characters.")
        document, header = _read_header(_parse(text.decode("ascii")), "square", "pixels")
        square = _whole(document["square"], ("square",))
        pixels = _object(document["pixels"], ("pixels",), ROLES)
        mc, cc = (_read_colour(pixels[role], ("pixels", role)) for role in ROLES)
        if mc == cc:
            raise _fault(("pixels",), "MC and CC must be different colours.")
    except FileError as err:
        raise FileError(f"The motif's note in the picture cannot be read: {err}") from None
    return _Note(header, square, mc, cc)


def _unpack(chunks: Chunks, size: _Size) -> NDArray[np.uint8]:
    """Unpack the pixels, (height, width, 4): red, green, blue, opacity."""
    _check_data(b"".join(chunks.get(b"IDAT", ())), size)
    if size.kind == _GREY and b"tRNS" in chunks:
        chunks = {**chunks, b"tRNS": [_spread(chunks[b"tRNS"][0], size.depth)]}
    picture = b"".join(_chunk(kind, body) for kind in _PICTURE for body in chunks.get(kind, ()))
    try:
        # a warning would tell a maker of Pillow's limits, which lie above ours, and of its own future
        with (
            warnings.catch_warnings(action="ignore"),
            Image.open(io.BytesIO(_SIGNATURE + picture), "r", ["PNG"]) as image,
        ):
            image.load()
            if size.depth == 16:
                return _narrow(np.asarray(image), image.info.get("transparency"))
            if size.kind == _PALETTE:
                _check_palette(int(np.asarray(image).max()), chunks)
            return np.asarray(image.convert("RGBA"))
    except MosaickitError:
        raise
    except Exception:  # Pillow's errors have no common root
        raise FileError("The picture is damaged: its pixels cannot be unpacked.") from None


def _check_data(packed: bytes, size: _Size) -> None:
    """Refuse data that is damaged, or too short, where Pillow would fill up with black."""
    passes = _PASSES if size.interlaced else [(0, 0, 1, 1)]
    bits = size.depth * _CHANNELS[size.kind]
    expected = 0
    for x, y, step_x, step_y in passes:
        columns, lines = -(-(size.width - x) // step_x), -(-(size.height - y) // step_y)
        if columns > 0:  # a line has a byte for its filter, unless it is empty
            expected += lines * (1 + -(-columns * bits // 8))
    inflate = zlib.decompressobj()
    try:
        found = len(inflate.decompress(packed, expected + 1))
    except zlib.error:
        raise FileError("The picture is damaged: its pixels cannot be unpacked.") from None
    if found != expected or not inflate.eof:
        raise FileError("The picture is damaged: it does not hold as many pixels as its header says.")


def _spread(transparent: bytes, depth: int) -> bytes:
    """Spread the transparent grey to 8 bits, as Pillow spreads greys of 2 and 4 bits, but not the transparent one."""
    most = (1 << depth) - 1
    grey = int.from_bytes(transparent, "big") & most
    return (grey * 255 // most if depth in (2, 4) else grey).to_bytes(2, "big")


def _narrow(grey: NDArray[np.uint16], transparent: int | None) -> NDArray[np.uint8]:
    """Turn greys of 16 bits into colours of 8; Pillow would cut them off at 255."""
    if (grey % 257).any():
        raise FileError("The picture has 16 bits a grey, of which a yarn's colour keeps 8: save it with 8.")
    narrow = np.repeat((grey // 257).astype(np.uint8)[..., np.newaxis], 4, axis=2)
    narrow[..., 3] = 255 * (grey != transparent)
    return narrow


def _check_palette(largest: int, chunks: Chunks) -> None:
    colours = len(b"".join(chunks.get(b"PLTE", ()))) // 3
    if largest >= colours:
        raise FileError(f"The picture is damaged: it uses colour {largest + 1} of a palette of {colours}.")


# ---- pixels ----------------------------------------------------------------------------------------------


def _where(pixels: NDArray[np.bool_]) -> str:
    """Name the first of some pixels, (height, width), in reading order."""
    y, x = divmod(int(pixels.argmax()), pixels.shape[1])
    return f"The pixel in column {x + 1}, row {y + 1} from the top left"


def _opaque(pixels: NDArray[np.uint8]) -> NDArray[np.uint32]:
    """Give the colours as numbers, (height, width), if all pixels are fully opaque."""
    clear = pixels[..., 3] != 255
    if clear.any():
        raise FileError(f"{_where(clear)} is not fully opaque: fill the picture's background with a colour.")
    whole: NDArray[np.uint32] = pixels.view(">u4")[..., 0] >> np.uint32(8)
    return whole


def _number(colour: str) -> int:
    return int(colour[1:], 16)


def _colour(number: np.uint32) -> str:
    return f"#{number:06x}"


def _two_colours(pixels: NDArray[np.uint32]) -> list[str]:
    """Give the one or two colours of a picture, in reading order."""
    found = [_colour(pixels[0, 0])]
    others = pixels != pixels[0, 0]
    if others.any():
        second = pixels.flat[others.argmax()]
        found.append(_colour(second))
        third = others & (pixels != second)
        if third.any():
            raise FileError(
                f"{_where(third)} is a third colour, {_colour(pixels.flat[third.argmax()])}, after {found[0]} and "
                f"{found[1]}: reduce the picture to two colours, without soft edges."
            )
    return found


def _check_blocks(pixels: NDArray[np.uint32], square: int) -> None:
    corners = pixels[::square, ::square]
    odd = pixels != corners.repeat(square, axis=0).repeat(square, axis=1)
    if odd.any():
        raise FileError(f"{_where(odd)} differs from others of its square, which is {square} × {square} pixels.")


def _by_note(pixels: NDArray[np.uint32], found: list[str], note: _Note) -> NDArray[np.bool_]:
    """Tell by the motif's note which squares show CC."""
    for colour in found:
        if colour not in (note.mc, note.cc):
            raise FileError(
                f"{_where(pixels == _number(colour))} is {colour}, but the motif's note in the picture knows "
                f"{note.mc} for MC and {note.cc} for CC only: save the picture without the note, or in its colours."
            )
    return np.equal(pixels, _number(note.cc))
