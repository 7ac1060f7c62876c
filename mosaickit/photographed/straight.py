"""Straightening: from four corners to a flat picture of the work, and the colours in it as an eye weighs them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage  # type: ignore[import-untyped]  # it ships no types

from mosaickit.colours import to_light

Reals = NDArray[np.floating[Any]]

DARKEST = 0.01
"""Added to light before its logarithm is taken, so that noise in the dark does not count for much."""


def colours_of(pixels: NDArray[Any], at_most: int) -> tuple[NDArray[np.float32], int]:
    """Give a picture as tones from 0 to 1, (H, W, 3), on white where it is transparent, and how often it was reduced.

    A picture whose longer side has more pixels than `at_most` is averaged over whole squares of pixels.
    """
    factor = max(1, max(pixels.shape[:2]) // at_most)
    most = 1 if pixels.dtype.kind in "fb" else np.iinfo(pixels.dtype).max
    height, width = (side // factor for side in pixels.shape[:2])
    tones = np.zeros((height, width, *pixels.shape[2:]), dtype=np.float32)
    for down in range(factor):
        for right in range(factor):
            tones += pixels[down : height * factor : factor, right : width * factor : factor]
    tones /= most * factor**2
    if tones.ndim == 2:
        tones = tones[..., np.newaxis].repeat(3, axis=2)
    if tones.shape[2] == 4:
        tones = 1 + tones[..., 3:] * (tones[..., :3] - 1)
    return tones, factor


def homography(source: Reals, target: Reals) -> Reals:
    """Find the (3, 3) matrix that takes four points to four others as a camera does."""
    lines = []
    for (x, y), (u, v) in zip(source.tolist(), target.tolist(), strict=True):
        lines.append([x, y, 1, 0, 0, 0, -u * x, -u * y, u])
        lines.append([0, 0, 0, x, y, 1, -v * x, -v * y, v])
    system = np.array(lines)
    solved = np.linalg.lstsq(system[:, :8], system[:, 8], rcond=None)[0]
    return np.append(solved, 1.0).reshape(3, 3)


def sides(corners: Reals) -> tuple[float, float]:
    """Give how wide and how high the picture's figure is on average, in pixels."""
    lengths = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)
    return float(lengths[::2].mean()), float(lengths[1::2].mean())


def fitted(system: Reals, values: Reals) -> Reals:
    """Find the weights, (K, ...), of parts, (N, K), whose sum comes nearest to values, (N, ...)."""
    normal = system.T @ system
    held = 1e-9 * max(float(np.trace(normal)), 1e-9) * np.eye(len(normal))
    weights: Reals = np.linalg.solve(normal + held, system.T @ values)
    return weights


def through(matrix: Reals, points: Reals) -> Reals:
    """Take points, (..., 2), through a homography."""
    moved = points @ matrix[:, :2].T + matrix[:, 2]
    result: Reals = moved[..., :2] / moved[..., 2:]
    return result


def sampled(tones: NDArray[np.float32], points: Reals) -> NDArray[np.float32]:
    """Read a picture's tones, (..., 3), at points in pixels, (..., 2), x first, counted from its top left corner."""
    at = [points[..., 1] - 0.5, points[..., 0] - 0.5]
    channels = [ndimage.map_coordinates(tones[..., channel], at, order=1, mode="nearest") for channel in range(3)]
    read: NDArray[np.float32] = np.stack(channels, axis=-1)
    return read


def in_logarithms(tones: NDArray[np.float32]) -> Reals:
    """Turn tones into logarithms of light: what shades a colour then adds the same to every yarn."""
    logarithms: Reals = np.log(to_light(np.clip(tones, 0, 1).astype(np.float64)) + DARKEST)
    return logarithms


@dataclass(frozen=True, eq=False)
class Grid:
    """Where the squares of a chart lie in a picture.

    Attributes
    ----------
    corners : float array, (4, 2)
        Of the squares, in pixels: top left, top right, bottom right, bottom left.
    shape : (int, int)
        Rows and stitches between the corners.
    drift : Drift or None
        How the rows and stitches stray from even squares.
    """

    corners: Reals
    shape: tuple[int, int]
    drift: Drift | None = None

    def pixels(self, squares: Reals) -> Reals:
        """Give the pixels of points, (..., 2), in squares: x from the left, y from the top."""
        rows, columns = self.shape
        outline = np.array([(0, 0), (columns, 0), (columns, rows), (0, rows)], dtype=np.float64)
        placed = squares if self.drift is None else squares + self.drift.at(squares)
        return through(homography(outline, self.corners), placed)

    def flat(self, tones: NDArray[np.float32], fine: tuple[int, int], margin: int = 0) -> NDArray[np.float32]:
        """Read the picture flat: so many pixels a square down and across, and a margin of so many squares around."""
        rows, columns = self.shape
        # pixels are worked out at halves of squares, and between them by their share
        halves = [np.arange(2 * (count + 2 * margin) + 1) / 2 - margin for count in (rows, columns)]
        lattice = self.pixels(np.stack(np.meshgrid(halves[1], halves[0]), axis=-1))
        down, across = (
            (np.arange(len(half) // 2 * each) + 0.5) * 2 / each for half, each in zip(halves, fine, strict=True)
        )
        at = np.stack(np.meshgrid(down, across, indexing="ij"))
        places = [ndimage.map_coordinates(lattice[..., axis], at, order=1) for axis in (0, 1)]
        return sampled(tones, np.stack(places, axis=-1))

    @property
    def outline(self) -> Reals:
        """The corners, (4, 2), in pixels, drift included."""
        rows, columns = self.shape
        return self.pixels(np.array([(0, 0), (columns, 0), (columns, rows), (0, rows)], dtype=np.float64))


@dataclass(frozen=True, eq=False)
class Drift:
    """How far squares stray: a smooth surface for the whole, and steps that run along the rows and along the stitches.

    Attributes
    ----------
    shape : (int, int)
        Rows and stitches.
    weights : two float arrays
        How much of each of the parts, for x and for y, in squares.
    """

    shape: tuple[int, int]
    weights: tuple[Reals, Reals]

    def at(self, squares: Reals) -> Reals:
        """Give how far points, (..., 2), stray, in squares."""
        flat = squares.reshape(-1, 2)
        made = [parts(flat, self.shape, axis) for axis in (0, 1)]
        strayed = np.stack([made[axis] @ self.weights[axis] for axis in (0, 1)], axis=-1)
        return strayed.reshape(squares.shape)


KNOTS_EVERY = 4
"""So many squares lie between two places at which rows, or stitches, may change their pace."""


def parts(squares: Reals, shape: tuple[int, int], axis: int) -> Reals:
    """Give the parts of which `Drift` is made at points in squares, (N, 2): (N, K), for x or for y."""
    rows, columns = shape
    u = np.clip(2 * squares[:, 0] / columns - 1, -1.2, 1.2)
    v = np.clip(2 * squares[:, 1] / rows - 1, -1.2, 1.2)
    surface = [u**power * v**other for power in range(4) for other in range(4 - power)]
    along, count = (squares[:, 0], columns) if axis == 0 else (squares[:, 1], rows)
    knots = np.linspace(0, count, max(2, count // KNOTS_EVERY + 1))
    step = knots[1] - knots[0]
    tents = [np.maximum(0, 1 - np.abs(along - knot) / step) for knot in knots]
    return np.stack([*surface, *tents], axis=1)


SURFACES = 10
"""Parts of a drift that are surfaces; the rest are tents."""
