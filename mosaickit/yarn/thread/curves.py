"""Curves: key points joined smoothly, and how long the result is.

Centripetal Catmull-Rom: the curve goes through every key point, never loops between two of them, and scales with them.
It depends on neighbouring points only, so two pieces that share the points round their joint join without a kink.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]

STEPS = 10
"""Straight steps between two key points. Twice as many change no stitch's length by more than 1 in 1000."""


def smooth(keys: Points) -> Points:
    """Join key points by a smooth curve.

    Parameters
    ----------
    keys : float array, (K, 3)
        The first and the last are not on the curve: they say from where it comes and where it goes. No two
        neighbours may be the same.

    Returns
    -------
    float array, ((K - 3) × STEPS + 1, 3)
        Points of the curve from the second key point to the last but one.

    Examples
    --------
    >>> smooth(np.array([[0.0, 0, 0], [1, 0, 0], [2, 0, 0], [3, 0, 0]]))[[0, 5, 10], 0]
    array([1. , 1.5, 2. ])
    """
    steps = np.sqrt(np.linalg.norm(np.diff(keys, axis=0), axis=1))[:, np.newaxis]
    speed = np.diff(keys, axis=0) / steps
    # the parabola through three neighbours gives the direction at the middle one
    tangents = (speed[:-1] * steps[1:] + speed[1:] * steps[:-1]) / (steps[:-1] + steps[1:])
    t = np.linspace(0, 1, STEPS, endpoint=False)[:, np.newaxis]
    start, end = keys[1:-2, np.newaxis], keys[2:-1, np.newaxis]
    leave, arrive = (steps[1:-1] * some for some in (tangents[:-1], tangents[1:]))
    spans = (
        start * (1 - t) ** 2 * (1 + 2 * t)
        + end * t**2 * (3 - 2 * t)
        + leave[:, np.newaxis] * t * (1 - t) ** 2
        - arrive[:, np.newaxis] * t**2 * (1 - t)
    )
    return np.concatenate([spans.reshape(-1, 3), keys[-2:-1]])


def evenly(points: Points, step: float) -> Points:
    """Put points on a curve, (n, 3), that are a step apart, from its first point on.

    Examples
    --------
    >>> evenly(np.array([[0.0, 0, 0], [3, 0, 0]]), 1.5)[:, 0]
    array([0. , 1.5])
    """
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))])
    at = np.arange(0, along[-1], step)
    return np.stack([np.interp(at, along, points[:, axis]) for axis in range(3)], axis=1)


def length(points: Points) -> float:
    """Give the length of a curve from its points, (n, 3).

    Examples
    --------
    >>> length(np.array([[0.0, 0, 0], [3, 4, 0], [3, 4, 2]]))
    7.0
    """
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())
