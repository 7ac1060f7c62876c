"""Yarn as it is seen: round tubes, straight on from the front or from behind, as a picture in pixels.

A stitch looks the same wherever it stands, so each kind is drawn once, as a stamp of how near its yarn is and how
light, and the stamps of all stitches are laid on one sheet, the nearest in front.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import OptionError, of_kind, one_of, shortly, whole_number
from mosaickit.fabric import Chart
from mosaickit.orientation import FACES, Face
from mosaickit.yarn.thread.curves import evenly
from mosaickit.yarn.thread.rows import Thread

SQUARE_ACROSS, MOST_ACROSS = 6, 100
"""Pixels to a yarn's diameter, unless it is said otherwise and at most."""

_FAR = np.float32(-1e9)
_LIGHT = np.array([-0.35, 0.55, 0.8]) / np.linalg.norm([-0.35, 0.55, 0.8])
"""Where light comes from: from above and from the left, towards the viewer."""

Stamp = tuple[NDArray[np.float32], NDArray[np.float32], tuple[int, int]]
"""How near yarn is at each pixel, how light, and where its lower left pixel lies."""


def seen(thread: Thread, chart: Chart, *, side: Face = "front", across: int = SQUARE_ACROSS) -> NDArray[np.uint8]:
    """Give fabric as a picture, (height, width, 4), as seen from a side; where no yarn lies it is transparent.

    Parameters
    ----------
    thread : Thread
        The yarn of the chart.
    chart : Chart
        Gives the colours.
    side : "front" or "back"
        From where it is seen.
    across : int
        Pixels to a yarn's diameter.
    """
    of_kind("thread", thread, Thread)
    of_kind("chart", chart, Chart)
    one_of("side", side, FACES)
    across = whole_number("across", across, least=2)
    if across > MOST_ACROSS:
        raise OptionError(f"`across` must be at most {MOST_ACROSS} pixels; got {shortly(across)}.")
    sheet = _Sheet.of(thread, across, side, orientation.working_edge(thread.hand) == "right")
    for row, line in enumerate(thread.rows, 1):
        for number, piece in enumerate(line.pieces):
            stitch = min(max(number - 1, 0), thread.stitches)
            corner = (stitch * thread.width_cm, (row - 1) * thread.height_cm)
            sheet.lay(f"piece {piece}", line.of(number), corner, row)
    for strand in thread.strands:
        if strand.kind != "tail":
            sheet.lay(strand.kind, strand.points, (0.0, (strand.row - 1) * thread.height_cm), strand.row)
    roles = enumerate(chart.row_colours, 1)
    colours = np.array(
        [[0, 0, 0], *(_channels(chart.yarns.at(row, role).colour) for row, role in roles)], dtype=np.float32
    )
    image = np.empty((*sheet.rows.shape, 4), dtype=np.uint8)
    for channel in range(3):
        shades = colours[:, channel].take(sheet.rows)
        shades *= sheet.light
        image[..., channel] = np.minimum(shades, 255, out=shades)
    image[..., 3] = np.where(sheet.rows > 0, 255, 0)
    image = orientation.to_seen(image, thread.hand)
    return image if side == "front" else orientation.from_behind(image)


def _channels(colour: str) -> list[int]:
    return [int(colour[at : at + 2], 16) for at in (1, 3, 5)]


@dataclass
class _Sheet:
    """The pixels of a picture that is being laid, in working order: [0, 0] is the foot of row 1 at the working edge."""

    nearness: NDArray[np.float32]
    light: NDArray[np.float32]
    rows: NDArray[np.int32]
    pixel: float
    across: int
    origin: tuple[float, float]
    towards: int
    mirrored: bool
    stamps: dict[str, Stamp]

    @classmethod
    def of(cls, thread: Thread, across: int, side: Face, edge_at_right: bool) -> _Sheet:
        pixel = thread.yarn_cm / across
        # a stitch's legs hang into the rows below it, its loops lie beside it
        room = 1.2 * thread.width_cm, 1.2 * thread.height_cm
        size = thread.stitches * thread.width_cm + 2 * room[0], len(thread.rows) * thread.height_cm + 2 * room[1]
        shape = int(size[1] / pixel) + 1, int(size[0] / pixel) + 1
        # light comes from the viewer's left on either side
        mirrored = edge_at_right == (side == "front")
        empty = np.full(shape, _FAR, dtype=np.float32)
        light, rows = np.zeros(shape, dtype=np.float32), np.zeros(shape, dtype=np.int32)
        return cls(empty, light, rows, pixel, across, room, 1 if side == "front" else -1, mirrored, {})

    def lay(self, name: str, points: NDArray[np.float64], corner: tuple[float, float], row: int) -> None:
        """Lay yarn whose points are given in cm; what has one name looks the same about its corner."""
        if name not in self.stamps:
            self.stamps[name] = self._stamp(points - [*corner, 0.0])
        near, light, (left, foot) = self.stamps[name]
        x = round((corner[0] + self.origin[0]) / self.pixel) + left
        y = round((corner[1] + self.origin[1]) / self.pixel) + foot
        height, width = self.nearness.shape
        ys, xs = slice(max(y, 0), min(y + near.shape[0], height)), slice(max(x, 0), min(x + near.shape[1], width))
        part = slice(ys.start - y, ys.stop - y), slice(xs.start - x, xs.stop - x)
        nearer = near[part] > self.nearness[ys, xs]
        np.copyto(self.nearness[ys, xs], near[part], where=nearer)
        np.copyto(self.light[ys, xs], light[part], where=nearer)
        np.copyto(self.rows[ys, xs], np.int32(row), where=nearer)

    def _stamp(self, points: NDArray[np.float64]) -> Stamp:
        """Draw yarn about a corner as round tubes."""
        points = evenly(points, self.pixel) / self.pixel
        radius = self.across / 2
        reach = np.arange(-int(radius), int(radius) + 1)
        dx, dy = (offset.ravel() for offset in np.meshgrid(reach, reach))
        inside = dx**2 + dy**2 < radius**2
        dx, dy = dx[inside], dy[inside]
        up = np.sqrt(radius**2 - dx**2 - dy**2)
        normals = np.stack([dx * (-1 if self.mirrored else 1), dy, up], axis=1) / radius
        lightness = (0.42 + 0.62 * np.maximum(normals @ _LIGHT, 0)) * np.clip((up / radius + 0.12) / 0.4, 0.25, 1)
        x, y = (np.floor(points[:, axis]).astype(np.int64) for axis in (0, 1))
        left, foot = int(x.min() - radius), int(y.min() - radius)
        shape = int(y.max() + radius) - foot + 1, int(x.max() + radius) - left + 1
        columns, lines = x[:, np.newaxis] + dx - left, y[:, np.newaxis] + dy - foot
        depth = (self.towards * points[:, 2:] + up).ravel()
        place = (lines * shape[1] + columns).ravel()
        near = np.full(shape, _FAR, dtype=np.float64)
        np.maximum.at(near.ravel(), place, depth)
        light = np.zeros(shape, dtype=np.float32)
        nearest = depth == near.ravel()[place]  # of several that are equally near, the last one is seen
        light.ravel()[place[nearest]] = np.broadcast_to(lightness, lines.shape).ravel()[nearest]
        return near.astype(np.float32), light, (left, foot)
