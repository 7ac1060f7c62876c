"""Pixels: whatever is a picture becomes an array, and no file is believed.

Its size is read and checked before anything is unpacked.
"""

from __future__ import annotations

import io
import warnings
from os import PathLike
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import ExifTags, Image, ImageOps, UnidentifiedImageError

from mosaickit.errors import FileError, MosaickitError, MotifError, OptionError
from mosaickit.files.disk import as_path, check_length, file_name, read_whole

LARGEST_PICTURE = 64_000_000
"""No picture has more pixels than this, unless it is an array already; Pillow's own limit is kept too."""

PICTURE_FORMATS = ("PNG", "JPEG", "WEBP", "GIF", "BMP", "TIFF")
"""Kinds of files, in Pillow's words. No others, since some of them start other programs."""

TIFF_STARTS = (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+")
"""With what a TIFF begins, large ones too: from memory; the TIFF 6.0 specification gives the first two."""

PictureSource = str | PathLike[str] | bytes | Image.Image | NDArray[Any]


def pixels_of(picture: object) -> NDArray[Any]:
    """Give the pixels of anything that is a picture: (H, W), (H, W, 3) or (H, W, 4); raises as `from_picture` does."""
    if isinstance(picture, np.ndarray):
        return _checked(picture)
    if isinstance(picture, Image.Image):
        return _unpack(picture)
    if isinstance(picture, bytes):
        check_length(len(picture))
        return _read(picture)
    if not isinstance(picture, str | PathLike):
        raise OptionError(f"`picture` must be a path, a PIL image, a NumPy array or a file's bytes; got {picture!r}.")
    file = as_path(picture)
    try:
        return _read(read_whole(file))
    except MotifError as err:
        raise FileError(f"{file_name(file)}: {err}") from None


def _checked(array: NDArray[Any]) -> NDArray[Any]:
    if not (array.ndim == 2 or (array.ndim == 3 and array.shape[2] in (3, 4))) or 0 in array.shape:
        raise MotifError(f"A picture in an array must be (H, W), (H, W, 3) or (H, W, 4); got {array.shape}.")
    if array.dtype.kind == "f":
        if not (array.min() >= 0 and array.max() <= 1):  # also NaN
            raise MotifError("A picture of fractions must hold numbers from 0 to 1 only; divide by its largest.")
    elif array.dtype not in (np.bool_, np.uint8, np.uint16):
        raise MotifError(
            "A picture in an array must hold booleans, uint8, uint16 or numbers from 0 to 1; "
            f"got {array.dtype}: `.astype(np.uint8)` if they are from 0 to 255."
        )
    return array


def _read(data: bytes) -> NDArray[Any]:
    try:
        # a warning would tell a maker of Pillow's limits, which the sentence below says better
        with warnings.catch_warnings(action="ignore"), Image.open(io.BytesIO(data), "r", PICTURE_FORMATS) as image:
            return _unpack(image)
    except UnidentifiedImageError:
        if data[:4] in TIFF_STARTS:
            raise FileError(
                "This TIFF keeps its pixels in a way that cannot be read, as fractions or in layers: save it with 8 or "
                "16 bits a colour, or as a PNG."
            ) from None
        raise FileError(
            f"This is no picture that can be read: it must be one of {', '.join(PICTURE_FORMATS)}."
        ) from None
    except Image.DecompressionBombError:
        raise FileError(f"A picture has at most {_most_pixels():,} pixels; this one has more.") from None
    except MosaickitError:
        raise
    except Exception:  # Pillow's errors have no common root
        raise FileError("The picture is damaged: its header cannot be read.") from None


def _most_pixels() -> int:
    return min(LARGEST_PICTURE, Image.MAX_IMAGE_PIXELS or LARGEST_PICTURE)


def _unpack(image: Image.Image) -> NDArray[Any]:
    """Unpack the pixels, turned as the camera noted."""
    if image.width * image.height > _most_pixels():
        raise FileError(
            f"A picture has at most {_most_pixels():,} pixels; {image.width:,} × {image.height:,} are more: make it "
            "smaller first."
        )
    if not image.width * image.height:
        raise FileError("The picture is empty: it has no pixels.")
    if image.mode in ("I", "F"):
        raise FileError("The picture has more than 16 bits a grey: save it with 8 or 16.")
    try:
        if image.getexif().get(ExifTags.Base.Orientation, 1) != 1:
            image = ImageOps.exif_transpose(image)
        if image.mode.startswith("I;16"):
            return np.asarray(image).astype(np.uint16)
        clear = image.has_transparency_data
        mode = "RGBA" if clear else "L" if image.mode in ("1", "L") else "RGB"
        return np.asarray(image if image.mode == mode else image.convert(mode))
    except Exception:  # Pillow's errors have no common root
        raise FileError("The picture is damaged or cut short: its pixels cannot be unpacked.") from None
