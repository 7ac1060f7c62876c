"""The outline: where fabric lies on a plain ground, and its four corners."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage  # type: ignore[import-untyped]  # it ships no types
from scipy.spatial import ConvexHull  # type: ignore[import-untyped]

from mosaickit.errors import PhotographError
from mosaickit.photographed.straight import Reals, fitted, in_logarithms

LONGEST = 500
"""The outline is looked for in a picture of at most so many pixels a side."""

LEAST_PART = 0.04
"""The fabric takes up at least this share of the picture."""

MOST_UNLIKE = 0.25
"""At most this share of the picture's border may be anything but ground."""

LEAST_FILLED = 0.82
"""The fabric fills at least this share of the four-sided figure about it."""

CURE = (
    "give `corners`, the four corner squares' outer corners in pixels: top left, top right, bottom right, bottom left, "
    "as the chart is seen"
)
"""What helps when no corners were found."""


def corners_of(tones: NDArray[np.float32]) -> Reals:
    """Find the corners of fabric on a plain ground, (4, 2) in pixels, from the top left on, clockwise.

    Raises
    ------
    PhotographError
        If they cannot be found, or not surely.
    """
    step = max(1, -(-max(tones.shape[:2]) // LONGEST))
    height, width = (side // step * step for side in tones.shape[:2])
    if min(height, width) < 12 * step:
        raise PhotographError(f"The picture is too small to find fabric in: {width} × {height} pixels. Take it larger.")
    small = tones[:height, :width].reshape(height // step, step, width // step, step, 3).mean(axis=(1, 3))
    found = _four_sided(_fabric(small))
    corners: Reals = found * step
    return corners


def _fabric(tones: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Tell which pixels are fabric: one piece that is unlike the ground along the picture's border."""
    shades = np.stack([ndimage.gaussian_filter(channel, 0.7) for channel in np.moveaxis(tones, 2, 0)], axis=-1)
    colours = in_logarithms(shades)
    height, width = colours.shape[:2]
    y, x = np.mgrid[-1 : 1 : height * 1j, -1 : 1 : width * 1j]
    surface = np.stack([x**i * y**j for i in range(4) for j in range(4 - i)], axis=-1)
    rim = max(2, min(height, width) // 40)
    border = np.ones((height, width), dtype=np.bool_)
    border[rim:-rim, rim:-rim] = False
    here, values = surface[border], colours[border]
    kept = np.ones(len(here), dtype=np.bool_)
    for _ in range(6):  # what does not lie on the smooth ground is left out step by step
        ground = fitted(here[kept], values[kept])
        off = np.abs(values - here @ ground).max(axis=1)
        kept = off <= max(2.5 * float(np.median(off)), 0.05)
    limit = max(5 * float(np.median(off)), 0.15)
    if (off > limit).mean() > MOST_UNLIKE:
        raise PhotographError(
            "The fabric could not be told from what lies around it: it was looked for on a plain ground that is seen "
            f"on all four sides. Photograph it so, or {CURE}."
        )
    unlike = np.abs(colours - surface @ ground).max(axis=2) > limit
    reach = max(1, round(min(height, width) / 60))
    padded = np.pad(unlike, 3 * reach)  # so that closing does not stop at the picture's edge
    disc = _disc(reach)
    closed = ndimage.binary_fill_holes(ndimage.binary_closing(padded, disc, iterations=2))
    opened = ndimage.binary_opening(closed, disc, iterations=2)[3 * reach : -3 * reach, 3 * reach : -3 * reach]
    labels, count = ndimage.label(opened)
    sizes = np.bincount(labels.ravel(), minlength=count + 1)[1:]
    if not count or sizes.max() < LEAST_PART * labels.size:
        raise PhotographError(
            "No fabric was found in the picture: nothing large enough is unlike the ground at its border. Photograph "
            f"the work from nearer on a ground of another colour, or {CURE}."
        )
    fabric: NDArray[np.bool_] = labels == sizes.argmax() + 1
    return fabric


def _disc(radius: int) -> NDArray[np.bool_]:
    y, x = np.mgrid[-radius : radius + 1, -radius : radius + 1]
    inside: NDArray[np.bool_] = x**2 + y**2 <= radius**2 + radius // 2
    return inside


def _four_sided(fabric: NDArray[np.bool_]) -> Reals:
    """Find the four-sided figure that fabric fills, (4, 2), clockwise from the top left."""
    rim = fabric & ~ndimage.binary_erosion(fabric)
    points = np.argwhere(rim)[:, ::-1] + 0.5
    hull = points[ConvexHull(points).vertices]
    sides = _fewest_sides(hull)
    corners: Reals = sides
    for _ in range(2):  # the hull lies on whatever sticks out; the sides go through the middle of the rim
        lines = [_line(points, one, two) for one, two in zip(corners, np.roll(corners, -1, axis=0), strict=True)]
        corners = np.array([_meeting(lines[index - 1], line) for index, line in enumerate(lines)], dtype=np.float64)
    filled = fabric.sum() / max(abs(_area(corners)), 1)
    if not LEAST_FILLED <= filled <= 1.15:
        raise PhotographError(
            "Something was found on the ground, but it has no four straight sides: fabric whose corners turn up, or "
            f"something that lies on or beside it. Lay it flat and alone, or {CURE}."
        )
    if _area(corners) < 0:
        corners = corners[::-1]
    return np.roll(corners, -int(corners.sum(axis=1).argmin()), axis=0)


def _area(corners: Reals) -> float:
    """Give the area of a figure; above 0 if its corners go clockwise, as y goes down."""
    x, y = corners.T
    return float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum() / 2)


def _fewest_sides(hull: Reals) -> Reals:
    """Leave out sides of a convex figure, each time the one whose neighbours meet nearest, until four are left."""
    corners = list(hull)
    while len(corners) > 4:
        best: tuple[float, int, Reals] | None = None
        for index in range(len(corners)):
            before, one, two, after = (corners[(index + step) % len(corners)] for step in (-1, 0, 1, 2))
            first, second = _through(before, one), _through(two, after)
            if abs(_cross(first[1], second[1])) < 1e-9:
                continue
            met = _meeting(first, second)
            if float((met - one) @ first[1]) < 0 or float((met - two) @ second[1]) > 0:
                continue  # they part
            added = abs(_area(np.array([one, met, two])))
            if best is None or added < best[0]:
                best = added, index, met
        if best is None:
            break
        _, index, met = best
        after_it = (index + 1) % len(corners)
        corners[index] = met
        del corners[after_it]
    if len(corners) != 4:
        raise PhotographError(f"What was found on the ground has no four sides; {CURE}.")
    return np.array(corners)


Line = tuple[Reals, Reals]
"""A point and a direction."""


def _through(one: Reals, two: Reals) -> Line:
    return one, (two - one) / max(float(np.hypot(*(two - one))), 1e-12)


def _cross(one: Reals, two: Reals) -> float:
    return float(one[0] * two[1] - one[1] * two[0])


def _meeting(first: Line, second: Line) -> Reals:
    """Find where two lines meet; far off if they run side by side."""
    (at, way), (other, its_way) = first, second
    across = _cross(way, its_way)
    return at + way * (_cross(other - at, its_way) / (across if abs(across) > 1e-9 else 1e-9))


def _line(points: Reals, one: Reals, two: Reals) -> Line:
    """Lay a line through the points of the rim along a side, leaving its ends out."""
    at, way = _through(one, two)
    long = float(np.hypot(*(two - one)))
    along, off = (points - at) @ way, (points - at) @ np.array([-way[1], way[0]])
    near = (along > 0.08 * long) & (along < 0.92 * long) & (np.abs(off) < 0.06 * long + 2)
    if near.sum() < 8:
        return at, way
    slope, start = 0.0, float(np.median(off[near]))
    for _ in range(8):  # lines of least distance, not of least squares: locks and tails stick out
        weight = 1 / np.maximum(np.abs(off[near] - start - slope * along[near]), 0.5)
        slope, start = np.polyfit(along[near], off[near], 1, w=np.sqrt(weight)).tolist()
    turned = way + slope * np.array([-way[1], way[0]])
    return at + start * np.array([-way[1], way[0]]), turned / np.hypot(*turned)
