"""Light: how much of it each square gets, linear as an eye far off would mix it, and the tone that a screen shows."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit.colours import to_light

AT_ONCE = 200_000
"""Pixels whose light is worked out in one go: few enough for a processor's cache."""

Floats = NDArray[np.float64]


def _luminance(pixels: NDArray[Any]) -> Floats:
    """Give the linear light of some pixels, (h, w), over white: 0.2126 R + 0.7152 G + 0.0722 B, as in WCAG 2.2."""
    channels = np.moveaxis(pixels, 2, 0) if pixels.ndim == 3 else pixels[np.newaxis]
    most = 1 if pixels.dtype.kind in "fb" else np.iinfo(pixels.dtype).max
    weights = (1.0,) if len(channels) == 1 else (0.2126, 0.7152, 0.0722)
    light = np.zeros(pixels.shape[:2])
    if pixels.dtype.kind == "f":
        for weight, channel in zip(weights, channels[:3], strict=True):
            light += weight * to_light(channel.astype(np.float64))
    else:
        table = to_light(np.arange(most + 1) / most)
        for weight, channel in zip(weights, channels[:3], strict=True):
            light += (weight * table)[channel.astype(np.intp) if channel.dtype == np.bool_ else channel]
    if len(channels) == 4:
        light = 1 + channels[3] / most * (light - 1)
    return light


def light_of_squares(pixels: NDArray[Any], window: Floats, shape: tuple[int, int]) -> Floats:
    """Give the mean light of each square, (R, C): of the part of the window that it covers."""
    rows, columns = shape
    left, top, right, bottom = window.tolist()
    across, down = np.linspace(left, right, columns + 1), np.linspace(top, bottom, rows + 1)
    start, x = int(top), int(left)
    inside = pixels[start : int(np.ceil(bottom)), x : int(np.ceil(right))]
    step = max(1, AT_ONCE // inside.shape[1])
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
