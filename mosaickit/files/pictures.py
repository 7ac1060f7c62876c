"""Pictures in: a photograph or a drawing becomes the nearest motif that can be worked.

A picture goes down a short road. Each square gets the mean light of the part of the picture that it covers, in linear
light, as an eye far off would mix it; squares are not square, so the number of rows follows from the gauge. The light
becomes a tone, the grey that a screen would show there (0 black, 1 white), and dark squares become CC. What cannot be
worked is then mended at the least cost, squares on edges and squares that are clearly dark or light costing more.

Dots that imitate greys go another way: mending them would change every eighth square and the brightness with them. So
their error diffusion knows what can be worked, and carries on what it could not do.

No file is believed: its size is read and checked before anything is unpacked. Arrays are as seen, row 0 on top.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from os import PathLike
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray
from PIL import ExifTags, Image, ImageOps, UnidentifiedImageError
from scipy import ndimage  # type: ignore[import-untyped]  # it ships no types

from mosaickit import orientation
from mosaickit.colours import Yarns
from mosaickit.errors import (
    FileError,
    MosaickitError,
    MotifError,
    OptionError,
    number_of,
    of_kind,
    one_of,
    true_or_false,
    whole_number,
    within,
)
from mosaickit.files.disk import as_path, file_name, read_whole
from mosaickit.gauge import Gauge
from mosaickit.motif import LARGEST_SIDE, Motif, checked_size, nearest_workable
from mosaickit.orientation import ROLES, Role

LARGEST_PICTURE = 64_000_000
"""No picture has more pixels than this, unless it is an array already; Pillow's own limit is kept too."""

LEAST_SIDE = 3
"""A motif from a picture has so many stitches and rows at least: with fewer rows nothing can be overlaid."""

FORMATS = ("PNG", "JPEG", "WEBP", "GIF", "BMP", "TIFF")
"""Kinds of files, in Pillow's words. No others, since some of them start other programs."""

TIFF_STARTS = (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+")
"""With what a TIFF begins, large ones too: from memory; the TIFF 6.0 specification gives the first two."""

BAND = 200_000
"""Pixels whose light is worked out in one go: few enough for a processor's cache."""

INK_OFFSET = 0.03
"""With an adaptive threshold, how much darker than around it a square must be to count as dark: our choice, no source.

Without it, paper and sky would break up into specks.
"""

SOBEL_STEP = 4
"""What Sobel's filter makes of a straight edge between 0 and 1."""

First = Literal["MC", "CC", "better"]
FIRSTS: tuple[First, ...] = (*ROLES, "better")

Threshold = Literal["otsu", "adaptive"] | float
Dither = Literal["error diffusion"]

Picture = str | PathLike[str] | Image.Image | NDArray[Any]
Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False, repr=False)
class Traced:
    """A picture that became a motif, and what that took.

    Attributes
    ----------
    before : bool array, (R, C)
        As seen: the squares that the picture makes CC, workable or not.
    motif : Motif
        (R, C), the nearest that can be worked.
    changed : bool array, (R, C)
        As seen: the squares that differ between the two; none with dots, which can be worked as they are.
    tones : float array, (R, C)
        As seen: the grey of each square as a screen shows it, 0 black to 1 white.
    cost : float
        The sum of the weights of the changed squares.
    """

    before: NDArray[np.bool_]
    motif: Motif
    changed: NDArray[np.bool_]
    tones: Floats
    cost: float

    @property
    def first(self) -> Role:
        """The colour of row 1."""
        return self.motif.first

    @property
    def share_changed(self) -> float:
        """The share of squares that had to change, 0 to 1."""
        return float(self.changed.mean())

    def __str__(self) -> str:
        rows, columns = self.motif.shape
        changed = f"{np.count_nonzero(self.changed):,} of {number_of(self.changed.size, 'square')}"
        return (
            f"{number_of(rows, 'row')} × {number_of(columns, 'stitch')}, row 1 in {self.first}; changed {changed} "
            f"({self.share_changed:.1%}) so that it can be worked."
        )

    def __repr__(self) -> str:
        return f"<Traced {self}>"


def from_picture(
    picture: Picture,
    *,
    stitches: int | None = None,
    width_cm: float | None = None,
    rows: int | None = None,
    gauge: Gauge | None = None,
    crop: tuple[float, float, float, float] | None = None,
    threshold: Threshold = "otsu",
    dither: Dither | None = None,
    invert: bool = False,
    first: First = "better",
    edges_weight: float = 2.0,
    yarns: Yarns | None = None,
    name: str = "",
) -> Traced:
    """Make a photograph or a drawing a motif that can be worked: what is dark becomes CC.

    Parameters
    ----------
    picture : path, PIL image, or array
        A PNG, JPEG, WebP, GIF, BMP or TIFF file (the first picture in it, turned as the camera noted); or an array
        (H, W), (H, W, 3) or (H, W, 4) as seen: grey, RGB or RGBA, of booleans, uint8, uint16 or numbers from 0 to 1.
        What is transparent counts as white.
    stitches : int, optional
        How many stitches wide, 3 to 10,000.
    width_cm : float, optional
        How wide, in its place; needs a gauge.
    rows : int, optional
        How many rows high. Left out, it follows so that the piece keeps the picture's proportion, within half a row.
    gauge : Gauge, optional
        The size of a stitch. Left out, squares are taken for square.
    crop : (left, top, right, bottom), optional
        The part to take: whole numbers are pixels; if there is a fraction or 1.0 among them, all are shares of the
        picture from 0 to 1. Left and top are counted from the top left corner.
    threshold : "otsu", "adaptive", or a number from 0 to 1
        What is dark: up to one tone, which Otsu's method finds or which is given (0.5 is the middle of a screen's
        greys); or darker than the squares around it, for uneven light.
    dither : "error diffusion", optional
        Let dots make the greys, so that the mean brightness stays: Floyd and Steinberg's way, but only with dots that
        can be worked, so that nothing has to change. There is no threshold then.
    invert : bool
        Whether light becomes CC in place of dark.
    first : "MC", "CC" or "better"
        The colour of row 1; or the one with which the changes cost less (MC when equal; CC when inverted). With dots,
        the one with which rows 1 and R, where nothing can be overlaid, come nearer to the picture.
    edges_weight : float
        How much changes cost where they show, 0 to 1,000. A change costs 1; and so many times as much more on the
        sharpest edge, and again for the tone that is farthest from the threshold. With 0 the fewest squares change.
    yarns : Yarns, optional
        The yarns that play MC and CC.
    name : str
        What the motif is called.

    Returns
    -------
    Traced
        With ``.motif``, ``.before``, ``.changed`` and ``.share_changed``.

    Raises
    ------
    FileError
        If there is no such file, or it holds no picture that is whole and of at most 64,000,000 pixels.
    MotifError
        If an array is no picture, or the motif would have more squares than one may.
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> blot = np.array([[1, 1, 1], [0, 1, 0], [1, 0, 1], [0, 0, 0], [1, 1, 1.0]])
    >>> from_picture(blot, stitches=3, threshold=0.5)
    <Traced 5 rows × 3 stitches, row 1 in MC; changed 1 of 15 squares (6.7%) so that it can be worked.>
    """
    one_of("first", first, FIRSTS)
    one_of("dither", dither, (None, "error diffusion"))
    invert = true_or_false("invert", invert)
    weight = within("edges_weight", edges_weight, 0, 1000)
    _check_threshold(threshold, dither)
    if gauge is not None:
        of_kind("gauge", gauge, Gauge)
    columns = _stitches(stitches, width_cm, gauge)
    if rows is not None:
        _side("rows", rows)

    pixels = _pixels(picture)
    window = _window(crop, pixels.shape[1], pixels.shape[0])
    shape = checked_size(_rows(window, columns, gauge) if rows is None else rows, columns)
    light = _light(pixels, window, shape)
    # rounded, so that equal greys are equal tones however they were summed up
    tones: Floats = np.clip(_to_tone(light), 0, 1).round(9)
    tones.flags.writeable = False
    blank = Motif(
        np.zeros(shape, dtype=np.bool_), "CC" if invert else "MC", yarns if yarns is not None else Yarns(), name
    )
    if dither is not None:
        motif = _dotted(blank, 1 - light, invert, first)
        return Traced(motif.grid, motif, np.broadcast_to(np.False_, shape), tones, 0.0)
    limit = _limit(tones, threshold)
    drawn = blank.with_grid((tones <= limit) ^ invert, None if first == "better" else first)
    weights = 1 + weight * (edges_of(tones) + _share_of_most(np.abs(tones - limit)))
    repair = nearest_workable(drawn, weights=weights, first="either" if first == "better" else "keep")
    return Traced(drawn.grid, repair.motif, repair.changed, tones, repair.cost)


# ---- what was asked ----------------------------------------------------------------------------------------


def _side(name: str, value: object) -> int:
    side = whole_number(name, value, least=LEAST_SIDE)
    if side > LARGEST_SIDE:
        raise OptionError(f"`{name}` must be at most {LARGEST_SIDE:,}; got {value!r}.")
    return side


def _stitches(stitches: object, width_cm: float | None, gauge: Gauge | None) -> int:
    """Give how many stitches wide the motif is."""
    if (stitches is None) == (width_cm is None):
        raise OptionError("Say how wide the motif is: give either `stitches`, or `width_cm` and a `gauge`.")
    if width_cm is None:
        return _side("stitches", stitches)
    if gauge is None:
        raise OptionError("`width_cm` needs a `gauge`, which says how many stitches that is.")
    count = round(gauge.stitches_for(width_cm, "cm"))
    if not LEAST_SIDE <= count <= LARGEST_SIDE:
        raise OptionError(
            f"`width_cm` must make from {LEAST_SIDE} to {LARGEST_SIDE:,} stitches; {width_cm!r} makes {count:,}."
        )
    return count


def _rows(window: Floats, columns: int, gauge: Gauge | None) -> int:
    """Give how many rows keep the proportion of the window."""
    left, top, right, bottom = window.tolist()
    rows: int = round(columns * (1.0 if gauge is None else gauge.aspect) * (bottom - top) / (right - left))
    if not LEAST_SIDE <= rows <= LARGEST_SIDE:
        raise OptionError(
            f"With {number_of(columns, 'stitch')} the picture is {number_of(rows, 'row')} high, which must be "
            f"from {LEAST_SIDE} to {LARGEST_SIDE:,}: give other `stitches`, another `crop`, or the `rows`."
        )
    return rows


def _check_threshold(threshold: object, dither: object) -> None:
    if isinstance(threshold, str):
        one_of("threshold", threshold, ("otsu", "adaptive"))
    else:
        within("threshold", threshold, 0, 1)
    if dither is not None and threshold != "otsu":
        raise OptionError(f"Error diffusion has no threshold: leave out `threshold`, or `dither`; got {threshold!r}.")


def _window(crop: object, width: int, height: int) -> Floats:
    """Give the part to take: left, top, right, bottom in pixels."""
    size = np.array([width, height, width, height], dtype=np.float64)
    if crop is None:
        return size * [0, 0, 1, 1]
    try:
        asked = np.asarray(crop)
    except ValueError:  # ragged
        asked = np.zeros(0)
    if asked.shape != (4,) or asked.dtype.kind not in "iuf":
        raise OptionError(f"`crop` must be four numbers, (left, top, right, bottom); got {crop!r}.")
    in_pixels = asked.dtype.kind != "f"
    left, top, right, bottom = window = asked * (np.ones(4) if in_pixels else size)
    if not (0 <= left < right <= width and 0 <= top < bottom <= height):
        raise OptionError(
            f"`crop` must leave something of the picture's {width:,} × {height:,} pixels, left < right and top < "
            f"bottom, in whole pixels or all as shares from 0.0 to 1.0; got {crop!r}."
        )
    if in_pixels and (right - left) * (bottom - top) == 1 < width * height:
        raise OptionError(f"`crop` is one pixel, since whole numbers are pixels; for shares write 1.0; got {crop!r}.")
    return window


# ---- pixels ------------------------------------------------------------------------------------------------


def _pixels(picture: object) -> NDArray[Any]:
    """Give the pixels of anything that is a picture: (H, W), (H, W, 3) or (H, W, 4)."""
    if isinstance(picture, np.ndarray):
        return _checked(picture)
    if isinstance(picture, Image.Image):
        return _unpack(picture)
    if not isinstance(picture, str | PathLike):
        raise OptionError(f"`picture` must be a path, a PIL image or a NumPy array; got {picture!r}.")
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
        with warnings.catch_warnings(action="ignore"), Image.open(io.BytesIO(data), "r", FORMATS) as image:
            return _unpack(image)
    except UnidentifiedImageError:
        if data[:4] in TIFF_STARTS:
            raise FileError(
                "This TIFF keeps its pixels in a way that cannot be read, as fractions or in layers: save it with 8 or "
                "16 bits a colour, or as a PNG."
            ) from None
        raise FileError(f"This is no picture that can be read: it must be one of {', '.join(FORMATS)}.") from None
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


# ---- light -------------------------------------------------------------------------------------------------


def _to_light(tone: Floats) -> Floats:
    """Turn tones from 0 to 1 into linear light, by sRGB (IEC 61966-2-1)."""
    light: Floats = np.where(tone <= 0.04045, tone / 12.92, ((tone + 0.055) / 1.055) ** 2.4)
    return light


def _to_tone(light: Floats) -> Floats:
    """Turn linear light into the grey that a screen shows: the inverse of `_to_light`."""
    tone: Floats = np.where(light <= 0.0031308, light * 12.92, 1.055 * np.maximum(light, 0) ** (1 / 2.4) - 0.055)
    return tone


def _luminance(pixels: NDArray[Any]) -> Floats:
    """Give the linear light of some pixels, (h, w), over white: 0.2126 R + 0.7152 G + 0.0722 B, as in WCAG 2.2."""
    channels = np.moveaxis(pixels, 2, 0) if pixels.ndim == 3 else pixels[np.newaxis]
    most = 1 if pixels.dtype.kind in "fb" else np.iinfo(pixels.dtype).max
    weights = (1.0,) if len(channels) == 1 else (0.2126, 0.7152, 0.0722)
    light = np.zeros(pixels.shape[:2])
    if pixels.dtype.kind == "f":
        for weight, channel in zip(weights, channels[:3], strict=True):
            light += weight * _to_light(channel.astype(np.float64))
    else:
        table = _to_light(np.arange(most + 1) / most)
        for weight, channel in zip(weights, channels[:3], strict=True):
            light += (weight * table)[channel.astype(np.intp) if channel.dtype == np.bool_ else channel]
    if len(channels) == 4:
        light = 1 + channels[3] / most * (light - 1)
    return light


def _light(pixels: NDArray[Any], window: Floats, shape: tuple[int, int]) -> Floats:
    """Give the mean light of each square, (R, C): of the part of the window that it covers."""
    rows, columns = shape
    left, top, right, bottom = window.tolist()
    across, down = np.linspace(left, right, columns + 1), np.linspace(top, bottom, rows + 1)
    start, x = int(top), int(left)
    inside = pixels[start : int(np.ceil(bottom)), x : int(np.ceil(right))]
    step = max(1, BAND // inside.shape[1])
    bands = [_means(_luminance(inside[y : y + step]), across - x) for y in range(0, len(inside), step)]
    return _means(np.concatenate(bands).T, down - start).T


def _means(values: Floats, edges: Floats) -> Floats:
    """Average along the last axis between edges that may cut values: (h, w) and (n + 1,) to (h, n), exactly."""
    sums = np.zeros((len(values), values.shape[1] + 1))
    np.cumsum(values, axis=1, out=sums[:, 1:])
    whole = np.minimum(edges.astype(np.intp), values.shape[1] - 1)
    up_to = sums[:, whole] + (edges - whole) * values[:, whole]
    means: Floats = np.diff(up_to, axis=1) / np.diff(edges)
    return means


# ---- dark or light -----------------------------------------------------------------------------------------


def _limit(tones: Floats, threshold: Threshold) -> Any:  # noqa: ANN401 — one number, or one for each square
    """Give the tone up to which a square is dark."""
    if threshold == "adaptive":
        # windows of about an eighth of the shorter side, odd as the filter wants them: our choice, no source
        window = max(3, min(tones.shape) // 8 | 1)
        near: Floats = ndimage.gaussian_filter(tones, (window - 1) / 6)  # a window reaches three deviations each way
        return near - INK_OFFSET
    if threshold == "otsu":
        return _otsu(tones)
    return float(threshold)


def _otsu(tones: Floats) -> float:
    """Give the middle of the gap between dark and light, as Otsu's method parts them."""
    values = np.sort(tones, axis=None)
    below = np.arange(1, values.size)
    between = np.flatnonzero(values[:-1] < values[1:])
    if not between.size:
        return 0.5  # there is nothing to tell apart in a picture of one tone
    sums = np.cumsum(values)
    means = sums[:-1] / below, (sums[-1] - sums[:-1]) / (values.size - below)
    variances = below * (values.size - below) * (means[1] - means[0]) ** 2.0  # between the two parts, but for a factor
    last_dark = between[variances[between].argmax()]
    return float(values[last_dark] + values[last_dark + 1]) / 2


def edges_of(tones: Floats) -> Floats:
    """Say for each square, from 0 to 1, how much of an edge there is, as Sobel's filter finds it."""
    down, right = (ndimage.sobel(tones, axis) / SOBEL_STEP for axis in (0, 1))
    edges: Floats = np.minimum(np.hypot(down, right), 1)
    return edges


def _share_of_most(values: Floats) -> Floats:
    most = float(values.max())
    return values / most if most > 0 else values


# ---- dots --------------------------------------------------------------------------------------------------


def _dotted(blank: Motif, wanted: Floats, invert: bool, first: First) -> Motif:
    """Make dots that are as dark as is wanted, (R, C) from 0 to 1, and can be worked."""
    own = blank.first
    choices = (own, orientation.other(own)) if first == "better" else (first,)
    dark_rows = {role: blank.with_grid(blank.grid, role).row_is_cc[:, 0] ^ invert for role in choices}

    def off(role: Role) -> float:
        # rounded, so that what is equally far off is a tie
        return round(float(sum(np.abs(wanted[end] - dark_rows[role][end]).sum() for end in (0, -1))), 9)

    best = min(choices, key=off)
    return blank.with_grid(_diffused(wanted, dark_rows[best]) ^ invert, best)


def _diffused(wanted: Floats, row_is_dark: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Choose squares from the top left, each carrying its error on to its neighbours, overlaid only where that works.

    The error goes 7/16 to the right and 3/16, 5/16 and 1/16 below (Floyd and Steinberg, 1976, from memory). So squares
    that lie two to the left for each row below do not touch each other, and are chosen together.
    """
    rows, columns = wanted.shape
    carried = np.zeros((rows + 1, columns + 2))  # what leaves the picture at a side or below is lost
    carried[:rows, 1:-1] = wanted
    overlaid = np.zeros((rows + 1, columns), dtype=np.bool_)  # the last row is also what lies above row 0
    for step in range(columns + 2 * rows - 2):
        row = np.arange(max(0, (step - columns + 2) // 2), min(rows - 1, step // 2) + 1)
        column = step - 2 * row
        # no square can be more than full: what is beyond would smear
        value = np.clip(carried[row, column + 1], -0.5, 1.5)
        own = row_is_dark[row]
        over = ((value > 0.5) != own) & ~overlaid[row - 1, column] & (row > 0) & (row < rows - 1)
        overlaid[row, column] = over
        error = value - (own ^ over)
        for down, right, share in ((0, 2, 7), (1, 0, 3), (1, 1, 5), (1, 2, 1)):
            carried[row + down, column + right] += share / 16 * error
    return overlaid[:rows] ^ row_is_dark[:, np.newaxis]
