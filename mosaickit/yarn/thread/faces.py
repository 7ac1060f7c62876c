"""Faces: which yarn lies uppermost where, seen from the front or from behind.

The thread as round tubes, seen straight on, the nearer in front. No rule of the craft is in here: what a square shows
follows from where the strands lie, so it is one more witness, beside the hook, for what a chart makes.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import one_of
from mosaickit.orientation import FACES, Face
from mosaickit.yarn.thread.curves import evenly
from mosaickit.yarn.thread.rows import Thread

ACROSS = 8
"""Pixels to a yarn's diameter."""

SQUARE_AT = (0.15, 0.5)
"""Where the eye sees a stitch's square: a share of its width further on, as posts lean, and up by this many yarns, as
the V on top belongs to it."""


def uppermost(thread: Thread, side: Face, across: int = ACROSS) -> tuple[NDArray[np.int64], float]:
    """Find the row whose yarn is uppermost at each pixel.

    Parameters
    ----------
    thread : Thread
        The yarn of R rows of N stitches.
    side : "front" or "back"
        From where it is seen.
    across : int
        Pixels to a yarn's diameter.

    Returns
    -------
    rows : int array, (height, width)
        The maker's number of a row, 0 where no yarn lies, in working order: element [0, 0] lies at the foot of row
        1 at the working edge, whatever the side. What lies beside the squares is cut off.
    pixel_cm : float
        The side of a pixel.
    """
    one_of("side", side, FACES)
    pixel = thread.yarn_cm / across
    parts = [(number, row.points) for number, row in enumerate(thread.rows, 1)]
    parts += [(strand.row, strand.points) for strand in thread.strands]
    curves = [evenly(points, 2 * pixel) for _, points in parts]
    number = np.repeat([row for row, _ in parts], [len(points) for points in curves])
    points = np.concatenate(curves) / pixel
    corner = np.array([SQUARE_AT[0] * thread.width_cm / pixel, SQUARE_AT[1] * across])
    size = np.array([len(thread.rows) * thread.height_cm, thread.stitches * thread.width_cm]) / pixel
    height, width = np.ceil(size).astype(np.int64)
    # a slice across the tube, pixel by pixel, and how much nearer than the centre line its surface is
    reach = np.arange(-(across // 2), across // 2 + 1)
    dx, dy = (offset.ravel() for offset in np.meshgrid(reach, reach))
    of_tube = dx**2 + dy**2 <= (across / 2) ** 2
    dx, dy = dx[of_tube], dy[of_tube]
    nearer = np.sqrt((across / 2) ** 2 - dx**2 - dy**2)
    x, y = (np.floor(points[:, axis] - corner[axis]).astype(np.int64) for axis in (0, 1))
    columns, lines = x[:, np.newaxis] + dx, y[:, np.newaxis] + dy
    depth = points[:, 2:] * (1 if side == "front" else -1) + nearer
    seen = (columns >= 0) & (columns < width) & (lines >= 0) & (lines < height)
    nearest_last = np.argsort(depth[seen], kind="stable")
    rows = np.zeros((height, width), dtype=np.int64)
    owner = np.broadcast_to(number[:, np.newaxis], seen.shape)[seen]
    rows[lines[seen][nearest_last], columns[seen][nearest_last]] = owner[nearest_last]
    return rows, pixel


def covering(thread: Thread, side: Face) -> NDArray[np.bool_]:
    """Tell the colour that covers most of each square.

    Parameters
    ----------
    thread : Thread
        The yarn of R rows of N stitches. Best with yarn of its real thickness, as `thread_of` takes by default.
    side : "front" or "back"
        From where it is seen.

    Returns
    -------
    bool array, (R, N)
        True where yarn of CC rows covers more than that of MC rows; as seen from that side, as the faces of a
        `Fabric` are.

    Raises
    ------
    OptionError
        If `side` is neither.

    Examples
    --------
    >>> from mosaickit.gauge import Gauge
    >>> from mosaickit.fabric import Chart
    >>> from mosaickit.yarn import thread_of
    >>> chart = Chart.from_text('''
    ... |.
    ... ..
    ... ..
    ... ''')
    >>> covering(thread_of(chart, Gauge(16, 18, over=4, unit="in")), "front")
    array([[False, False],
           [False,  True],
           [False, False]])
    """
    rows, pixel = uppermost(thread, side)
    cc = np.array([False, *(colour == "CC" for colour in thread.row_colours)])
    sign = np.where(rows == 0, 0, np.where(cc[rows], 1, -1))
    height, width = len(thread.rows), thread.stitches
    # sum each square's pixels: first along the lines, then down the columns
    left = np.round(np.arange(width) * thread.width_cm / pixel).astype(np.int64)
    foot = np.round(np.arange(height) * thread.height_cm / pixel).astype(np.int64)
    balance = np.add.reduceat(np.add.reduceat(sign, left, axis=1), foot, axis=0)
    seen: NDArray[np.bool_] = orientation.to_seen(balance > 0, thread.hand)
    return seen if side == "front" else orientation.from_behind(seen)
