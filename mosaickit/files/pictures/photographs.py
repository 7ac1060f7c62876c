"""Photographs that are printed: read, turned as the camera noted, made no larger than print needs, and written again.

What a camera notes beside the pixels, as the place where it was, is left out.
"""

from __future__ import annotations

import io
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
    image = Image.fromarray(_on_white(pixels_of(data)))
    image.thumbnail((MOST_SIDE, MOST_SIDE))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=88)
    return out.getvalue(), image.size


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
