"""Sheets of yarn: fabric, edgings and loose strands as their yarn lies, laid together into one picture in pixels.

The fabric of a piece is what `seen` draws; a border is strips of single crochet, one at each side, that meet at the
corners; a fringe is strands of their own. The sides of a square from the centre meet at the corners in the same way.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit.colours import Yarn, Yarns
from mosaickit.errors import whole_number
from mosaickit.fabric import Chart, Stitch
from mosaickit.gauge import Gauge
from mosaickit.orientation import Face, role_of_row
from mosaickit.yarn.settings import YarnSettings
from mosaickit.yarn.thread.curves import evenly
from mosaickit.yarn.thread.rows import thread_of
from mosaickit.yarn.thread.seeing import seen

Pixels = NDArray[np.uint8]

_ROOM = 1.2
"""What `seen` leaves around fabric, in stitches and in rows."""

_OVER = 0.3
"""By how much of a row the loops of a last row stand above it."""

_LIGHT = np.array([-0.35, 0.55, 0.8]) / np.linalg.norm([-0.35, 0.55, 0.8])


class YarnScale(NamedTuple):
    """How large yarn is drawn.

    Attributes
    ----------
    gauge : Gauge
        The size of a stitch.
    yarn_mm : float or None
        The yarn's diameter, if it is known.
    across : int
        Pixels to a yarn's diameter in work.
    pixel_cm : float
        The side of a pixel.
    """

    gauge: Gauge
    yarn_mm: float | None
    across: int
    pixel_cm: float

    def pixels(self, cm: float) -> int:
        """Give the nearest number of pixels to a length."""
        return round(cm / self.pixel_cm)

    @classmethod
    def of(cls, gauge: Gauge, yarn_mm: float | None, across: int) -> YarnScale:
        """Find how large a pixel is; raises `OptionError` if `across` is no number of pixels from 2 to 100."""
        across = whole_number("across", across, least=2, most=100)
        return cls(gauge, yarn_mm, across, yarn_cm(gauge, yarn_mm) / across)


def yarn_cm(gauge: Gauge, yarn_mm: float | None) -> float:
    """Give the diameter of yarn as it lies in work, in cm, if it is so thick or, where that is not known, usual."""
    one = Chart(np.full((1, 1), Stitch.SC, dtype=np.uint8), ("MC",))
    return thread_of(one, gauge, yarn_settings=_settings(yarn_mm)).yarn_cm


def _settings(yarn_mm: float | None) -> YarnSettings:
    return YarnSettings(yarn_mm=yarn_mm, tail_cm=0)


class Laid(NamedTuple):
    """A picture, (height, width, 4), and where in it the lower left corner of the fabric is, from the lower left."""

    image: Pixels
    left: int
    foot: int


def fabric_laid(chart: Chart, scale: YarnScale, side: Face) -> Laid:
    """Draw fabric as its yarn lies, with what stands out at its edges."""
    thread = thread_of(chart, scale.gauge, yarn_settings=_settings(scale.yarn_mm))
    width, height = scale.gauge.stitch_width_cm, scale.gauge.row_height_cm
    image = seen(thread, chart, side=side, across=scale.across)
    return Laid(image, scale.pixels(_ROOM * width), scale.pixels(_ROOM * height))


def yarn_strip(rounds: int, stitches: int, yarn: Yarn, scale: YarnScale, side: Face) -> Pixels:
    """Draw rounds of single crochet as a strip, the first at the foot, cut where the fabric ends at three sides."""
    kinds = np.full((rounds, stitches), Stitch.SC, dtype=np.uint8)
    chart = Chart(kinds, tuple(role_of_row(row, "MC") for row in range(1, rounds + 1)), Yarns(yarn, yarn))
    return cut_to_fabric(fabric_laid(chart, scale, side), (rounds, stitches), scale)


def cut_to_fabric(laid: Laid, shape: tuple[int, int], scale: YarnScale) -> Pixels:
    """Cut a picture to its fabric, (rows, stitches), but for the loops above the last row."""
    image, left, foot = laid
    width, height = scale.gauge.size_cm(*shape)
    top = image.shape[0] - foot - scale.pixels(height + _OVER * scale.gauge.row_height_cm)
    return image[max(top, 0) : image.shape[0] - foot, left : left + scale.pixels(width)]


def mitred(image: Pixels, deep: int) -> Pixels:
    """Cut both ends of a strip slantwise, narrow at its foot, so that strips around a corner meet."""
    high, wide = image.shape[:2]
    up = np.arange(high)[::-1, np.newaxis]
    across = np.arange(wide)
    there = (across >= deep - up - 1) & (across <= wide - deep + up)  # a pixel more, so that no seam is seen
    return np.where(there[..., np.newaxis], image, 0).astype(np.uint8)


@dataclass(frozen=True)
class YarnSheet:
    """A picture that is being laid, (height, width, 4), transparent where nothing lies."""

    image: Pixels

    @classmethod
    def empty(cls, wide: int, high: int) -> YarnSheet:
        """Give one on which nothing lies."""
        return cls(np.zeros((high, wide, 4), dtype=np.uint8))

    def lay(self, image: Pixels, left: int, top: int) -> None:
        """Lay a picture over what is there; what stands out is cut."""
        high, wide = self.image.shape[:2]
        rows = slice(max(top, 0), min(top + image.shape[0], high))
        columns = slice(max(left, 0), min(left + image.shape[1], wide))
        if rows.start >= rows.stop or columns.start >= columns.stop:
            return
        part = image[rows.start - top : rows.stop - top, columns.start - left : columns.stop - left]
        there = part[..., 3] > 0
        self.image[rows, columns][there] = part[there]

    def strand(self, points: NDArray[np.float64], colour: str, across: float) -> None:
        """Lay a loose strand, a round tube along points in pixels, (n, 2) from the left and from the top."""
        flat = np.column_stack([points, np.zeros(len(points))])
        line = evenly(flat, 0.7)[:, :2]
        radius = max(across / 2, 0.8)
        reach = np.arange(-int(np.ceil(radius)), int(np.ceil(radius)) + 1)
        dx, dy = (offset.ravel() for offset in np.meshgrid(reach, reach))
        inside = dx**2 + dy**2 < radius**2
        dx, dy = dx[inside], dy[inside]
        up = np.sqrt(radius**2 - dx**2 - dy**2)
        light = (0.42 + 0.62 * np.maximum(np.stack([dx, -dy, up], axis=1) / radius @ _LIGHT, 0)) * np.clip(
            (up / radius + 0.12) / 0.4, 0.25, 1
        )
        channels = np.array([int(colour[at : at + 2], 16) for at in (1, 3, 5)])
        order = np.argsort(up, kind="stable")  # the middle of the tube is laid last
        x = np.round(line[:, 0]).astype(int)
        y = np.round(line[:, 1]).astype(int)
        high, wide = self.image.shape[:2]
        for each in order.tolist():
            columns, rows = x + dx[each], y + dy[each]
            within = (columns >= 0) & (columns < wide) & (rows >= 0) & (rows < high)
            shade = np.minimum(channels * light[each], 255).astype(np.uint8)
            self.image[rows[within], columns[within]] = [*shade, 255]
