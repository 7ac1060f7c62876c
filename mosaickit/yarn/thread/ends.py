"""Ends: the paths of chains, of the lock and of the carried strand; `loops` says how to read them."""

from mosaickit.yarn.thread.loops import FALL, RISE, TOP, Key

CHAIN = (
    *TOP,
    (0, 0.2, 1, -1.0, 0.5),  # down through the loop before
    (0, 0.4, 1, -1.9, 0.5),
    (0.5, 0, 1, -2.3, 0.5),  # the bump below the V
    (1, -1.4, 1, -2.3, 0.1),
    (1, -0.4, 1, -1.9, -0.45),  # up into the next loop
)
BEFORE_START: Key = (-0.6, 0, 0, -0.6, -0.5)
START_FOOT: Key = (-0.35, 0, 0, 0, -0.5)  # at the working edge
START = (
    START_FOOT,
    (-0.28, -0.6, 0.5, -0.6, 0.4),
    (0, -1.4, 1, -1.7, 0.2),
    (0, -1.0, 1, -1.5, -1.2),
    (0, 0, 1, -1.45, -1.6),
    (0, 1.1, 1, -1.5, -1.2),
    (0, 1.5, 1, -1.7, 0.2),
    (-0.1, 0.6, 0.5, -0.6, 0.4),
    (-0.2, 0.4, 0, 0.6, -0.9),
    (-0.2, 0, 0, -0.3, -1.5),
    (-0.15, 0, 0, 0.8, -2.7),
    *RISE,
)
LOCK_END: Key = (0.65, 0, 1, 1.7, 0)
LOCK = (
    *TOP[:3],
    (0.3, 0, 1, 0, -1.5),
    (0.5, 0, 1, -0.3, 0),
    (0.3, 0, 1, 0, 1.5),
    *TOP[-2:],
    *FALL,
    (0.3, 0, 1, -2.0, -1.8),
    (0.3, 0, 1, -0.2, 0),  # up through the loop
    LOCK_END,
)
AFTER_LOCK: Key = (1.0, 0, 1, 1.6, 0)
CARRIED: Key = (0, 0, 0, 1.4, -1.6)
"""The carried strand lies on the back loop of the row below the one that works over it."""
