"""Tracing: a photograph or a drawing becomes the nearest motif that can be worked.

A picture goes down a short road, a module for each stretch. `pixels`: it becomes an array. `light`: each square gets
the mean light of the part of the picture that it covers; squares are not square, so the number of rows follows from the
gauge. The light becomes a tone, the grey that a screen would show there (0 black, 1 white), and (`darkness`) dark
squares become CC. What cannot be worked is then mended at the least cost, squares on edges and squares that are clearly
dark or light costing more. Greys by `dots` need no mending. Arrays are as seen, row 0 on top.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mosaickit.colours import Yarns, to_tone
from mosaickit.errors import number_of, of_kind, one_of, true_or_false, within
from mosaickit.files.pictures.asked import (
    ASKED_FIRSTS,
    AskedFirst,
    Dither,
    Threshold,
    check_threshold,
    rows_high,
    side_of,
    stitches_wide,
    window_of,
)
from mosaickit.files.pictures.darkness import edges_of, limit_of, share_of_most
from mosaickit.files.pictures.dots import dotted
from mosaickit.files.pictures.light import Floats, light_of_squares
from mosaickit.files.pictures.pixels import PictureSource, pixels_of
from mosaickit.gauge import Gauge
from mosaickit.motif import Motif, checked_size, nearest_workable
from mosaickit.orientation import Role


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
    picture: PictureSource,
    *,
    stitches: int | None = None,
    width_cm: float | None = None,
    rows: int | None = None,
    gauge: Gauge | None = None,
    crop: tuple[float, float, float, float] | None = None,
    threshold: Threshold = "otsu",
    dither: Dither | None = None,
    invert: bool = False,
    first: AskedFirst = "better",
    edges_weight: float = 2.0,
    yarns: Yarns | None = None,
    name: str = "",
) -> Traced:
    """Make a photograph or a drawing a motif that can be worked: what is dark becomes CC.

    Parameters
    ----------
    picture : path, bytes, PIL image, or array
        A PNG, JPEG, WebP, GIF, BMP or TIFF file, or all its bytes (the first picture in it, turned as the camera
        noted); or an array
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
    one_of("first", first, ASKED_FIRSTS)
    one_of("dither", dither, (None, "error diffusion"))
    invert = true_or_false("invert", invert)
    weight = within("edges_weight", edges_weight, 0, 1000)
    check_threshold(threshold, dither)
    if gauge is not None:
        of_kind("gauge", gauge, Gauge)
    columns = stitches_wide(stitches, width_cm, gauge)
    if rows is not None:
        side_of("rows", rows)

    pixels = pixels_of(picture)
    window = window_of(crop, pixels.shape[1], pixels.shape[0])
    shape = checked_size(rows_high(window, columns, gauge) if rows is None else rows, columns)
    light = light_of_squares(pixels, window, shape)
    # rounded, so that equal greys are equal tones however they were summed up
    tones: Floats = np.clip(to_tone(light), 0, 1).round(9)
    tones.flags.writeable = False
    blank = Motif(
        np.zeros(shape, dtype=np.bool_), "CC" if invert else "MC", yarns if yarns is not None else Yarns(), name
    )
    if dither is not None:
        motif = dotted(blank, 1 - light, invert, first)
        return Traced(motif.grid, motif, np.broadcast_to(np.False_, shape), tones, 0.0)
    limit = limit_of(tones, threshold)
    drawn = blank.with_grid((tones <= limit) ^ invert, None if first == "better" else first)
    weights = 1 + weight * (edges_of(tones) + share_of_most(np.abs(tones - limit)))
    repair = nearest_workable(drawn, weights=weights, first="either" if first == "better" else "keep")
    return Traced(drawn.grid, repair.motif, repair.changed, tones, repair.cost)
