"""PNG pictures: a motif as pixels, with the rest of it as a note when mosaickit saved it.

Nothing in a file is believed: sizes are read and checked before anything is unpacked. Pillow only unpacks pixels: it
gets no part of a PNG but those that make the picture, so that profiles, texts and turns beside it play no role.
Chunks, depths, kinds of colour and passes are those of the PNG specification, third edition (W3C).
"""

from __future__ import annotations

import io
import json
import struct
import warnings
import zlib
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mosaickit.colours import CREAM, INK, Yarn, Yarns, contrast
from mosaickit.errors import FileError, MosaickitError
from mosaickit.files.documents import PixelColours, PngNote, check_first
from mosaickit.files.forms import kind_of, read_document
from mosaickit.motif import Motif, checked_size
from mosaickit.orientation import ROLES, Role

LARGEST_PIXELS = 32_000_000
"""No picture has more pixels than this, whatever the side of a square: about 130 MB once unpacked."""

SIGNATURE = b"\x89PNG\r\n\x1a\n"
KEYWORD = kind_of(PngNote).encode("ascii") + b"\0"
"""What the text chunk of a note starts with: its keyword, and the end of that."""
_PICTURE = (b"IHDR", b"PLTE", b"tRNS", b"IDAT", b"IEND")
_GREY, _PALETTE = 0, 3
_CHANNELS = {_GREY: 1, 2: 3, _PALETTE: 1, 4: 2, 6: 4}
_DEPTHS = {_GREY: (1, 2, 4, 8, 16), 2: (8, 16), _PALETTE: (1, 2, 4, 8), 4: (8, 16), 6: (8, 16)}
# where an interlaced picture's seven passes start, and how far they step: x, y, step in x, step in y
_PASSES = [(0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2)]

Chunks = dict[bytes, list[bytes]]


class _Size(NamedTuple):
    """What the header of a PNG says."""

    width: int
    height: int
    depth: int
    kind: int
    interlaced: bool


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def to_png(motif: Motif, square: int) -> bytes:
    """Write a motif as an indexed PNG of two colours, with its note."""
    rows, columns = motif.shape
    _check_pixels(columns * square, rows * square)
    mc, cc = (motif.yarns.of(role)[0][1].colour for role in ROLES)
    if mc == cc:
        mc, cc = "#ffffff", "#000000"
    note = PngNote(
        format="mosaickit motif",
        version=1,
        name=motif.name,
        first=motif.first,
        yarns=motif.yarns,
        square=square,
        pixels=PixelColours(MC=mc, CC=cc),
    )
    packed = np.packbits(np.repeat(motif.grid, square, axis=1), axis=1)
    lines = np.pad(packed, ((0, 0), (1, 0)))  # each line starts with the number of its filter: 0, none
    return b"".join(
        (
            SIGNATURE,
            _chunk(b"IHDR", struct.pack(">IIBBBBB", columns * square, rows * square, 1, _PALETTE, 0, 0, 0)),
            _chunk(b"tEXt", KEYWORD + json.dumps(note.model_dump(mode="json")).encode("ascii")),
            _chunk(b"PLTE", bytes.fromhex(mc[1:] + cc[1:])),
            _chunk(b"IDAT", zlib.compress(np.repeat(lines, square, axis=0).tobytes(), 9)),
            _chunk(b"IEND", b""),
        )
    )


def from_png(data: bytes, first: Role | None, square: int | None) -> Motif:
    """Read a motif from the bytes of a PNG, or raise `FileError`."""
    chunks = _read_chunks(data)
    size = _read_size(chunks)
    note = _read_note(chunks)
    if note is not None:
        check_first(first, note.first)
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
        return Motif(_by_note(pixels, found, note), note.first, note.yarns, note.name)
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
    if not data.startswith(SIGNATURE):
        raise FileError("This is no PNG picture: it does not start as every PNG does.")
    chunks: Chunks = {}
    at = len(SIGNATURE)
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


def _read_note(chunks: Chunks) -> PngNote | None:
    ours = [
        (kind, body.removeprefix(KEYWORD))
        for kind in (b"tEXt", b"zTXt", b"iTXt")
        for body in chunks.get(kind, ())
        if body.startswith(KEYWORD)
    ]
    if not ours:
        return None
    try:
        if len(ours) > 1:
            raise FileError("There must be one at most.")
        kind, text = ours[0]
        if kind != b"tEXt" or not text.isascii():
            raise FileError("It must be a tEXt chunk in ASCII characters.")
        return read_document(PngNote, text.decode("ascii"))
    except FileError as err:
        raise FileError(f"The motif's note in the picture cannot be read: {err}") from None


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
            Image.open(io.BytesIO(SIGNATURE + picture), "r", ["PNG"]) as image,
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


def _by_note(pixels: NDArray[np.uint32], found: list[str], note: PngNote) -> NDArray[np.bool_]:
    """Tell by the motif's note which squares show CC."""
    mc, cc = note.pixels.MC, note.pixels.CC
    for colour in found:
        if colour not in (mc, cc):
            raise FileError(
                f"{_where(pixels == _number(colour))} is {colour}, but the motif's note in the picture knows "
                f"{mc} for MC and {cc} for CC only: save the picture without the note, or in its colours."
            )
    return np.equal(pixels, _number(cc))
