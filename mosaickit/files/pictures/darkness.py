"""Darkness: which tones count as dark, and where a picture has its edges."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from mosaickit.doors import late
from mosaickit.files.pictures.asked import Threshold
from mosaickit.files.pictures.light import Floats

if TYPE_CHECKING:
    from scipy import ndimage  # type: ignore[import-untyped]  # it ships no types
else:
    ndimage = late("scipy.ndimage")

INK_OFFSET = 0.03
"""With an adaptive threshold, how much darker than around it a square must be to count as dark: our choice, no source.

Without it, paper and sky would break up into specks.
"""

SOBEL_STEP = 4
"""What Sobel's filter makes of a straight edge between 0 and 1."""


def limit_of(tones: Floats, threshold: Threshold) -> Any:  # noqa: ANN401 — one number, or one for each square
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


def share_of_most(values: Floats) -> Floats:
    """Give numbers, 0 or more, as shares of the largest."""
    most = float(values.max())
    return values / most if most > 0 else values
