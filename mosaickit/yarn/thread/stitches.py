"""Stitches: the paths of sc, BLsc and FLdc, each with one head to close; `loops` says how to read them.

An sc in the foundation chain and a BLsc go under the back loop below, an FLdc stays all in front of the stitch that is
skipped. Single and double crochet through both loops are here for comparison.
"""

from mosaickit.yarn.thread.loops import (
    FALL,
    HEAD,
    INTO_BACK_LOOP,
    INTO_BOTH_LOOPS,
    INTO_FRONT_LOOP,
    OUT_OF_BACK_LOOP,
    OUT_OF_BOTH_LOOPS,
    OUT_OF_FRONT_LOOP,
    TOP,
    Path,
)

# ---- sc: one loop drawn up -----------------------------------------------------------------------------------

DRAWN_LOOP: Path = ((0.72, -1.0, 0.5, -0.6, 0.4), *HEAD, (0.72, 1.1, 0.5, -0.6, 0.4))  # the V on the right side

BLSC = (*TOP, *FALL, *INTO_BACK_LOOP, *DRAWN_LOOP, *OUT_OF_BACK_LOOP)
PLAIN_SC = (*TOP, *FALL, *INTO_BOTH_LOOPS, *DRAWN_LOOP, *OUT_OF_BOTH_LOOPS)

# ---- FLdc: all in front of the stitch that is skipped --------------------------------------------------------

FLDC = (
    *TOP,
    *FALL,
    # the yarn over: behind the post, round its far side, slanting down across its front; against the drawn loop's head
    (0.4, -1.05, 0.3, 0.7, -1.1),
    (0.70, -1.05, 0.3, 0.3, 0.1),
    (0.80, -1.05, 0.3, 0.3, 0),
    (0.76, 1.15, 0.3, 0.1, 1.2),
    (0.74, -0.05, 0.3, -0.1, 2.4),
    (0.68, -2.25, 0.3, -0.45, 2.4),
    (0.66, -3.05, 0.3, -0.7, 1.4),
    # down in front of the skipped stitch to the V two rows below
    *INTO_FRONT_LOOP,
    # the loop drawn up, as far as the row's foot
    (0.44, 0.3, 0, -0.8, 2.15),
    (0.62, -0.8, 0.3, -0.95, 1.55),
    (0.62, -0.4, 0.3, -0.65, 0.7),
    (0.62, 0.6, 0.3, -0.55, 0.45),  # its head, behind the loop that is drawn through it
    (0.62, 1.6, 0.3, -0.65, 0.7),
    (0.62, 2, 0.3, -0.95, 1.55),
    (0.59, 1.8, 0, -1.2, 2.4),
    *OUT_OF_FRONT_LOOP,
    # the loop drawn through it and the yarn over
    (0.62, 0.2, 0.3, -1.3, 1.9),
    (0.62, 0.25, 0.3, -0.45, 1.75),
    (0.78, -0.2, 0.65, -0.55, 0.85),
    *HEAD,
    (0.78, 1.45, 0.65, -0.8, 0.85),
    (0.62, 1.05, 0.3, -0.6, 1.4),
    (0.62, 1.1, 0.3, -1.25, 1.05),
    (0.80, -0.45, 0.3, -1.35, 0.25),  # back over the skipped stitch
)

# ---- dc through both loops, for comparison -------------------------------------------------------------------

PLAIN_DC = (
    *TOP,
    *FALL,
    (0.50, 0, 0.5, 2.2, -1.2),  # the yarn over
    (0.76, 0, 0.5, 2.0, -0.7),
    (0.79, 2.0, 0.5, 1.8, 0.5),
    (0.79, 1.0, 0.5, 1.6, 1.7),
    (0.75, -1.2, 0.5, 1.25, 1.7),
    (0.74, -2.0, 0.5, 1.0, 0.6),
    (0.50, 0, 0.5, -1.0, -1.8),
    *INTO_BOTH_LOOPS,
    (0.72, -1.4, 0.5, -0.3, 0.5),  # the loop drawn up, half the row high
    (0.72, -1.0, 0.5, 0, -0.35),
    (0.72, 0, 0.5, 0.1, -0.6),
    (0.72, 1.0, 0.5, 0, -0.35),
    (0.72, 1.4, 0.5, -0.3, 0.5),
    *OUT_OF_BOTH_LOOPS,
    (0.72, -0.5, 0.5, -1.2, -0.2),  # the loop drawn through it and the yarn over
    (0.72, -0.5, 0.5, 0, 0.7),
    (0.84, -1.0, 0.75, 0, 0.6),
    *HEAD,
    (0.84, 1.0, 0.75, 0, 0.6),
    (0.72, 0.5, 0.5, 0, 0.7),
    (0.72, 0.5, 0.5, -1.2, -0.2),
    (0.84, 0, 0.5, -0.6, -1.6),
)
