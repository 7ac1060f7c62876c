"""Photographs that are printed: read, turned as the camera noted, made no larger than print needs, and written again.

What a camera notes beside the pixels, as the place where it was, is left out.
"""

from __future__ import annotations

import io
import re
from os import PathLike
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mosaickit.errors import FileError, MotifError
from mosaickit.files.disk import as_path, file_name, read_whole
from mosaickit.files.pictures.pixels import pixels_of

MOST_SIDE = 2000
"""Pixels of the longer side of a photograph, about 30 cm at 170 to the inch."""

# JFIF, tables, the frame (baseline) and the scan
_PICTURE_SEGMENTS = (0xE0, 0xDB, 0xC0, 0xC4, 0xDD, 0xDA)
_STARTS = (b"\x89PNG", b"\xff\xd8\xff")


def photograph_of(picture: str | PathLike[str] | bytes) -> tuple[bytes, tuple[int, int]]:
    """Give a photograph as the bytes of a JPEG file, and its (width, height) in pixels.

    Parameters
    ----------
    picture : path, or bytes
        A PNG or JPEG file.

    Raises
    ------
    FileError
        If it is neither, or cannot be read.
    """
    if isinstance(picture, bytes):
        return _anew(picture)
    file = as_path(picture, "picture")
    try:
        return _anew(read_whole(file))
    except MotifError as err:
        raise FileError(f"{file_name(file)}: {err}") from None


def _anew(data: bytes) -> tuple[bytes, tuple[int, int]]:
    if not data.startswith(_STARTS):
        raise FileError("`picture` must be a PNG or JPEG file, as a photograph is; this is neither.")
    pixels = pixels_of(data)
    if _bare_jpeg(data) and max(pixels.shape[:2]) <= MOST_SIDE:
        return data, (pixels.shape[1], pixels.shape[0])  # written again it would only lose
    image = Image.fromarray(_on_white(pixels))
    image.thumbnail((MOST_SIDE, MOST_SIDE))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=88)
    return out.getvalue(), image.size


def small_photograph(data: bytes, side: int) -> bytes:
    """Give a photograph as a JPEG file whose longer side has `side` pixels at most, to be shown in small."""
    image = Image.fromarray(_on_white(pixels_of(data)))
    image.thumbnail((side, side))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=80)
    return out.getvalue()


def _bare_jpeg(data: bytes) -> bool:
    """Whether a file is a JPEG in three colours that holds nothing but its picture: no notes, nothing behind its end.

    Segments and their markers are those of ITU-T T.81, annex B.
    """
    if not data.startswith(b"\xff\xd8") or not data.endswith(b"\xff\xd9"):
        return False
    at = 2
    while at + 4 <= len(data):
        marker, length = data[at + 1], int.from_bytes(data[at + 2 : at + 4], "big")
        if data[at] != 0xFF or length < 2 or marker not in _PICTURE_SEGMENTS:
            return False
        if marker == 0xE0 and length != 16:
            return False  # a small picture of its own, or something else
        if marker == 0xC0 and data[at + 9 : at + 10] != b"\x03":
            return False
        at += 2 + length
        if marker == 0xDA:  # one scan, which runs to the end
            return re.search(rb"\xff[^\x00\xd0-\xd7]", data[at:-2]) is None
    return False


def png_of(pixels: NDArray[np.uint8]) -> bytes:
    """Write pixels, (height, width, 4), as the bytes of a PNG file; the same pixels give the same bytes.

    It has 256 colours, which a few yarns in their light and shade do not fill, and takes a quarter of the room.
    """
    out = io.BytesIO()
    few = Image.fromarray(pixels).quantize(256, Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
    few.save(out, "PNG")  # its harder trying saves 1 % of the room and takes thrice as long
    return out.getvalue()


def _on_white(pixels: NDArray[Any]) -> NDArray[np.uint8]:
    """Give pixels as red, green and blue, on white where they are transparent."""
    if pixels.dtype == np.uint16:
        pixels = (pixels >> 8).astype(np.uint8)
    if pixels.ndim == 2 or pixels.shape[2] == 3:
        return pixels.astype(np.uint8)
    opacity = pixels[..., 3:].astype(np.float32) / 255
    mixed: NDArray[np.uint8] = np.rint(pixels[..., :3] * opacity + 255 * (1 - opacity)).astype(np.uint8)
    return mixed
