"""Laying the chart over the picture: how many rows are there, where their squares lie, and how they stray.

First coarsely: for every count of rows that may be there, the four edges are moved until the chart's light and dark
squares lie on those of the picture best. Then finely: the squares are pulled to where the picture has them, row by row.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage  # type: ignore[import-untyped]  # it ships no types

from mosaickit.photographed.expected import Expected
from mosaickit.photographed.straight import (
    SURFACES,
    Drift,
    Grid,
    Reals,
    fitted,
    homography,
    in_logarithms,
    parts,
    sampled,
    sides,
    through,
)

CornersFrom = Literal["given", "found"]

MOST_OFF: dict[CornersFrom, float] = {"given": 1.0, "found": 1.4}
"""How far, in squares, a side may lie from where its corners put it; an outline has chains and locks outside."""

COST_OF_OFF: dict[CornersFrom, float] = {"given": 0.03, "found": 0.012}
"""What moving a side by one square costs of the likeness, which is at most 1."""

OFFS, SIDEWAYS = np.linspace(-1, 1, 9), np.linspace(-1, 1, 7)
"""How far sides are moved, as shares of the most."""

USUAL_HEIGHT, HEIGHT_SPREAD, MOST_SPREADS = 0.9, 0.25, 3.0
"""How high a row is in stitch widths if no gauge says it, how far the logarithm of that strays, tilted pictures
included, and how many times that at most. From gauges of 16 to 18 stitches by 16 to 20 rows; our choice, no source."""

COST_OF_HEIGHT = 0.015
"""What a row whose height strays by one spread costs of the likeness."""


@dataclass(frozen=True, eq=False)
class LaidPicture:
    """A chart laid over a picture.

    Attributes
    ----------
    grid : Grid
        Where the squares lie.
    expected : Expected
        What they should show.
    likeness : float
        From -1 to 1: how well light and dark agree.
    swapped : bool
        Whether the picture is light where the chart's yarns on a screen are dark.
    """

    grid: Grid
    expected: Expected
    likeness: float
    swapped: bool


def coarsely(
    tones: NDArray[np.float32], corners: Reals, whole: Expected, counts: range, aspect: float | None, how: CornersFrom
) -> list[LaidPicture]:
    """Lay the chart's lowest rows over the picture, for every count of rows, the best first.

    Parameters
    ----------
    tones : float array, (H, W, 3)
        The picture.
    corners : float array, (4, 2)
        In pixels.
    whole : Expected
        All rows that may be there.
    counts : range
        How many rows there may be.
    aspect : float or None
        The width of a square over its height, if it is known.
    how : "given" or "found"
        Where the corners come from: those that are given are believed more.
    """
    columns = whole.shape[1]
    wide, high = sides(corners)
    fine = int(np.clip(1600 // columns, 4, 12))
    height = max(fine, round(fine * columns * high / wide))
    margin = round(2 * fine)
    planes = _planes(tones, corners, (height, fine * columns), margin)
    found: list[LaidPicture] = []
    for rows in counts:
        pace = height / rows
        usual, spread = (USUAL_HEIGHT, HEIGHT_SPREAD) if aspect is None else (1 / aspect, 0.7 * HEIGHT_SPREAD)
        strays = abs(np.log(pace / fine / usual)) / spread
        if strays > MOST_SPREADS:
            continue
        part = whole if rows == whole.shape[0] and not whole.top_is_last else whole.lowest(rows)
        found += [
            _best(plane, margin, (height, fine * columns), part, corners, COST_OF_HEIGHT * strays**2, how)
            for plane in planes
        ]
    found.sort(key=lambda laid: -laid.likeness)
    seen: set[int] = set()
    return [laid for laid in found if laid.grid.shape[0] not in seen and not seen.add(laid.grid.shape[0])]  # type: ignore[func-returns-value]


def _planes(tones: NDArray[np.float32], corners: Reals, size: tuple[int, int], margin: int) -> list[Reals]:
    """Straighten the picture and give the ways in which its colours differ most, freed from uneven light."""
    height, width = size
    box = np.array([(0, 0), (width, 0), (width, height), (0, height)], dtype=np.float64)
    y, x = np.mgrid[-margin : height + margin, -margin : width + margin] + 0.5
    colours = in_logarithms(sampled(tones, through(homography(box, corners), np.stack([x, y], axis=-1))))
    blur = 0.3 * margin / 2
    colours = np.stack([ndimage.gaussian_filter(plane, blur) for plane in np.moveaxis(colours, 2, 0)], axis=-1)
    inner = slice(margin, -margin), slice(margin, -margin)
    u, v = 2 * x / width - 1, 2 * y / height - 1
    surface = np.stack([np.ones_like(u), u, v, u * v, u**2, v**2], axis=-1)
    step = max(1, int(np.sqrt(height * width / 40_000)))
    of_inner, values = (array[inner][::step, ::step].reshape(-1, array.shape[2]) for array in (surface, colours))
    light = fitted(of_inner, values)
    even = colours - np.clip(surface, -1, 1) @ light
    _, axes = np.linalg.eigh(np.cov(values - of_inner @ light, rowvar=False))
    planes = []
    for axis in axes.T[:0:-1]:  # the two of most spread
        plane = even @ (axis if axis.sum() >= 0 else -axis)
        spread = float(plane[inner].std())
        planes.append(np.clip(plane / max(spread, 1e-9), -2.0, 2.0))
    return planes


def _best(
    plane: Reals,
    margin: int,
    size: tuple[int, int],
    part: Expected,
    corners: Reals,
    cost_of_height: float,
    how: CornersFrom,
) -> LaidPicture:
    """Move the four sides until the chart lies on the picture best."""
    rows, columns = part.shape
    height, width = size
    pace, wide = height / rows, width / columns
    template = part.tones[part.shows]
    template = template - template.mean()
    norm = float((template**2).sum()) or 1.0
    best = (-2.0, False, 0.0, 0.0, 0.0, 0.0)
    offs = (
        MOST_OFF[how] * np.array(list(product(OFFS, OFFS))) * min(1.0, wide / pace)
    )  # in rows, but no more than stitches
    middles = (np.arange(rows) + 0.5) / rows
    y = margin + pace * offs[:, :1] + middles * (height + pace * (offs[:, 1:] - offs[:, :1])) - 0.5
    y = np.clip(y, 0, len(plane) - 1.001)
    for left, right in product(MOST_OFF[how] * SIDEWAYS, MOST_OFF[how] * SIDEWAYS):
        x = margin + wide * left + (np.arange(columns) + 0.5) / columns * (width + wide * (right - left)) - 0.5
        across = _between(plane, x, axis=1)
        match, energy = across @ template.T, (across**2).sum(axis=1)
        total, square = across.sum(axis=1), np.arange(rows)
        at, share = y.astype(np.intp), y - y.astype(np.intp)
        alike = ((1 - share) * match[at, square] + share * match[at + 1, square]).sum(axis=1)
        power = ((1 - share) * energy[at] + share * energy[at + 1]).sum(axis=1)
        mean = ((1 - share) * total[at] + share * total[at + 1]).sum(axis=1) / (rows * columns)
        power = np.maximum(power - rows * columns * mean**2, 0.1 * rows * columns)
        likeness = alike / np.sqrt(norm * power)
        cost = cost_of_height + COST_OF_OFF[how] * ((offs**2).sum(axis=1) + left**2 + right**2)
        for swapped, score in ((False, likeness - cost), (True, -likeness - cost - 0.05)):
            index = int(score.argmax())
            if score[index] > best[0]:
                best = float(score[index]), swapped, left, right, *offs[index].tolist()
    likeness, swapped, left, right, top, bottom = best
    box = np.array([(0, 0), (width, 0), (width, height), (0, height)], dtype=np.float64)
    moved = box + np.array(
        [
            (left * wide, top * pace),
            (right * wide, top * pace),
            (right * wide, bottom * pace),
            (left * wide, bottom * pace),
        ]
    )
    return LaidPicture(Grid(through(homography(box, corners), moved), (rows, columns)), part, likeness, swapped)


def _between(plane: Reals, places: Reals, axis: int) -> Reals:
    """Read a plane's columns between its pixels."""
    at = np.clip(places, 0, plane.shape[axis] - 2)
    low = at.astype(np.intp)
    share = at - low
    return plane.take(low, axis) * (1 - share) + plane.take(low + 1, axis) * share


# ---- finely ------------------------------------------------------------------------------------------------

PIXELS_PULLED = 8
"""Pixels to a square's side while squares are pulled to their places."""

MOST_POINTS = 60_000
"""The most points of the picture that are looked at."""

SAY_THE_SAME = 25
"""How many neighbouring points say the same thing, as they see the same yarn."""

USUAL_DRIFT = 0.25
"""How far squares stray, in squares: a smooth part of the drift by so much, a step by half of it."""


def cost_of_moving(corners: Reals, laid: LaidPicture, how: CornersFrom) -> float:
    """Give what it costs of the likeness that the squares' corners lie elsewhere than the corners that were given."""
    rows, columns = laid.grid.shape
    wide, high = sides(corners)
    moved = (laid.grid.outline - corners) / (wide / columns, min(high / rows, wide / columns))
    return COST_OF_OFF[how] * float((moved**2).sum()) / 2


def finely(tones: NDArray[np.float32], laid: LaidPicture, rounds: int = 3) -> LaidPicture:
    """Pull the squares to where the picture has them."""
    for softness in (0.45, 0.3, 0.22)[:rounds]:
        laid = _pulled(tones, laid, softness)
    return laid


def _pulled(tones: NDArray[np.float32], laid: LaidPicture, softness: float) -> LaidPicture:
    rows, columns = laid.expected.shape
    colours = in_logarithms(laid.grid.flat(tones, (PIXELS_PULLED, PIXELS_PULLED), margin=1))
    inside = slice(PIXELS_PULLED, -PIXELS_PULLED)
    template: Reals = np.kron(laid.expected.tones[laid.expected.shows], np.ones((PIXELS_PULLED, PIXELS_PULLED)))
    y, x = np.mgrid[-PIXELS_PULLED : (rows + 1) * PIXELS_PULLED, -PIXELS_PULLED : (columns + 1) * PIXELS_PULLED] + 0.5
    u, v = 2 * x / (columns * PIXELS_PULLED) - 1, 2 * y / (rows * PIXELS_PULLED) - 1
    surface = np.stack([np.ones_like(u), u, v, u * v, u**2, v**2], axis=-1)
    plane = contrast(colours, template, surface, inside)
    soft = ndimage.gaussian_filter(np.clip(plane, -2, 2), softness * PIXELS_PULLED)
    down, across = np.gradient(soft)
    wanted = ndimage.gaussian_filter(template - template.mean(), softness * PIXELS_PULLED, mode="nearest")
    step = max(1, int(np.sqrt(wanted.size / MOST_POINTS)), PIXELS_PULLED // 4)
    pick = slice(PIXELS_PULLED + step // 2, -PIXELS_PULLED, step)
    here = soft[pick, pick].ravel()
    there = wanted[step // 2 :: step, step // 2 :: step].ravel()[: len(here)]
    squares = np.stack([x[pick, pick].ravel(), y[pick, pick].ravel()], axis=-1) / PIXELS_PULLED
    slopes = (across[pick, pick].ravel() * PIXELS_PULLED, down[pick, pick].ravel() * PIXELS_PULLED)
    scale = float(here @ there / max(there @ there, 1e-9))
    off = scale * there - here
    off -= off.mean()
    weight = 1 / np.maximum(1, np.abs(off) / (1.5 * max(float(np.median(np.abs(off))), 1e-9)))
    pieces = [parts(squares, (rows, columns), axis) for axis in (0, 1)]
    system = np.concatenate([slopes[axis][:, np.newaxis] * pieces[axis] for axis in (0, 1)], axis=1)
    count = [piece.shape[1] for piece in pieces]
    stiff = np.concatenate([np.where(np.arange(k) < SURFACES, 1.0, 4.0) for k in count])
    noise = max(float((weight * off**2).mean()), 1e-6) * SAY_THE_SAME
    normal = system.T @ (system * weight[:, np.newaxis])
    before = laid.grid.drift
    old = np.zeros(sum(count)) if before is None else np.concatenate(before.weights)
    held = stiff * noise / USUAL_DRIFT**2
    new = old + np.linalg.solve(normal + np.diag(held), system.T @ (weight * off) - held * old)
    kept = new[: count[0]], new[count[0] :]
    likeness = float(np.corrcoef(here, there)[0, 1]) if there.std() > 0 else 0.0
    return LaidPicture(
        Grid(laid.grid.corners, (rows, columns), Drift((rows, columns), kept)), laid.expected, likeness, laid.swapped
    )


def contrast(colours: Reals, template: Reals, surface: Reals, inside: slice) -> Reals:
    """Weigh the picture's colours so that the template's light and dark stand out, freed from uneven light."""
    step = max(1, int(np.sqrt(template.size / 20_000)))
    values = colours[inside, inside][::step, ::step].reshape(-1, 3)
    ground = surface[inside, inside][::step, ::step].reshape(-1, surface.shape[2])
    wanted = template[::step, ::step].reshape(-1, 1)
    system = np.concatenate([ground, wanted], axis=1)
    solved = fitted(system, values)
    spread = np.cov(values - system @ solved, rowvar=False) + 1e-4 * np.eye(3)
    axis = np.linalg.solve(spread, solved[-1])
    plane = (colours - np.clip(surface, -1, 1) @ solved[:-1]) @ axis
    size = float(solved[-1] @ axis) * float(template.std())
    result: Reals = plane / max(size, 1e-9)
    return result
