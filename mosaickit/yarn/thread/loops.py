"""Loops: how to read the table of paths, and what is the same in every stitch.

The table of paths, in this module and in `stitches`, `togs` and `ends`, is there to be read, for a crafts person to
check with a hook in hand. A stitch is drawn in its own square: x runs from 0 to w in working direction, y from 0, the
top of the row below, to h, the top of its own row, z towards the viewer. Each key point is a row of five numbers::

    x / w   x / d      y / h   y / d      z / d

so that (0.5, -0.7, 1, 0, -1.5) lies 0.7 yarn diameters before the middle of the square, at the top of its row, and
one and a half diameters behind the middle of the fabric. Fabric has no thickness but the yarn's: no z is in w or h.

What is the same in every stitch:

* A stitch's top is a loop that lies on its side: the back loop and the front loop of the V. It comes up at the joint
  at the square's beginning (x = 0), turns back at the joint at its end (x = w), and the next stitch's top comes up
  through it there. The yarn runs along the back loop first: it is laid over the hook from back to front.
* Under it, round the same two legs, hangs the head of the loop that the stitch drew up. So the posts lean by half a
  stitch in working direction, as they do in work that is never turned.
* Every piece begins and ends at the leading leg in the joint, with the same neighbours: any stitch follows any other
  and has one length, whatever stands beside or below it, as the V it is worked into is the same for all stitches.

How tight it is. Where key points stand as far out as the strands' diameters need, the path is taut; farther out, it
is slack, which the pull of a hand takes out. The double crochets of FLdc, tog-b and tog-f were drawn taut by
computation, in random fabrics of all stitches with carried strands: loops that were round the hook (tops, heads, the
yarn over) kept their size, strands kept four fifths of a diameter apart, and the yarn between them took the shortest
way. That took 7 to 14 percent of their length, and an FLdc is now as long as a dc of its height but for the second
loop, 5 to 6 percent. Ordinary sc and dc and BLsc would lose 3 to 4 percent; they were left, for no work is pulled as
taut as that, and the one measurement of dc rows there is has them longer than here, not shorter.

A row must be three and a half yarn diameters high to have room for its strands: in a lower one they cross, and
lengths mean little.

The right side faces the viewer for a hand that works towards x; a right-hander's work is its mirror image.
"""

from __future__ import annotations

Key = tuple[float, float, float, float, float]
Path = tuple[Key, ...]

# ---- the top, and the joints at its ends ---------------------------------------------------------------------

JOINT: Key = (0, -0.35, 1, -1.0, -0.35)  # the leading leg, between the two heads that hang on it
BEFORE_JOINT: Key = (0, -0.4, 1, -1.9, -0.45)  # it has come in front of the drawn-up loop's head
AFTER_JOINT: Key = (0, 0.1, 1, 0.4, -0.65)  # and comes up through the top before

RISE: Path = (
    (0, -0.8, 1, -3.1, -2.4),  # up behind the work
    (0, -0.5, 1, -2.7, -1.0),  # forward under the head of the loop that was drawn up
    BEFORE_JOINT,
    JOINT,
)
TOP: Path = (
    JOINT,
    AFTER_JOINT,
    (0, 1.0, 1, 0.6, -1.2),  # lies down over the top before
    (0.5, 0, 1, 0, -1.2),  # the back loop; between the two there is room for one strand, which is all that comes there
    (1, -0.6, 1, -0.5, -1.5),
    (1, 0.6, 1, -0.6, -1.45),  # the turn round the two legs of the next top
    (1, 1.45, 1, -0.6, 0),
    (1, 0.6, 1, -0.6, 1.45),
    (1, -0.6, 1, -0.5, 1.5),
    (0.5, 0, 1, 0, 1.2),  # the front loop
    (0, 1.0, 1, 0.6, 1.2),
    (0, 0.4, 1, 0.4, 0.75),
)
FALL: Path = (
    (0, 0.2, 1, -1.0, 0.5),  # down through the top before
    (0, 0.3, 1, -1.9, 0.1),
    (0, 0.5, 1, -2.7, -1.0),  # back under the head of the loop that was drawn up
    (0, 0.8, 1, -3.1, -2.4),  # and behind the work
)
HEAD: Path = (
    (1, -1.55, 1, -1.7, 0.2),  # up on the near side of the legs of the next top
    (1, -1.0, 1, -1.5, -1.2),
    (1, 0, 1, -1.45, -1.6),  # behind them
    (1, 1.1, 1, -1.5, -1.2),
    (1, 1.55, 1, -1.7, 0.2),  # down on their far side
)

# ---- into the V below and out of it --------------------------------------------------------------------------

INTO_BACK_LOOP: Path = (
    (0.5, -1.0, 0, 0, -2.4),  # down behind the V below
    (0.5, -0.7, 0, -1.1, -1.2),  # under its back loop
    (0.5, -0.7, 0, 0, -0.2),  # up between its two loops
)
OUT_OF_BACK_LOOP: Path = (
    (0.5, 0.7, 0, 0, -0.2),
    (0.5, 0.7, 0, -1.1, -1.2),
    (0.5, 1.0, 0, 0, -2.4),
)
INTO_BOTH_LOOPS: Path = (
    (0.5, -1.0, 0, 0, -2.4),  # down behind the V below
    (0.5, -0.7, 0, -1.1, -1.2),  # under both its loops
    (0.5, -0.7, 0, -1.1, 1.2),
    (0.5, -0.7, 0, 0.2, 2.3),  # up in front of it
)
OUT_OF_BOTH_LOOPS: Path = (
    (0.5, 0.7, 0, 0.2, 2.3),
    (0.5, 0.7, 0, -1.1, 1.2),
    (0.5, 0.7, 0, -1.1, -1.2),
    (0.5, 1.0, 0, 0, -2.4),
)

# ---- down in front, into the V two rows below and out of it --------------------------------------------------

INTO_FRONT_LOOP: Path = (
    (0.30, 0.65, 0, 0.35, 2.05),  # before the V that is passed, touching its front loop
    (0.23, 1.0, -0.5, 0.2, 1.2),  # beside the post behind, not before it
    (0.28, 0.35, -1, 1.9, 0.65),
    (0.30, -0.05, -1, -0.05, 0.55),  # between the two loops two rows below
    (0.33, -0.4, -1, -0.45, 1.25),  # out under the front one
    (0.35, -0.5, -1, -0.1, 1.95),  # touching it
    (0.42, -0.15, -0.5, 0.65, 2.1),
)
OUT_OF_FRONT_LOOP: Path = (
    (0.61, 1.35, -0.5, 0.75, 2.25),
    (0.66, 0.35, -1, -0.65, 2.05),
    (0.69, 0.05, -1, -1.1, 1.35),  # in under the front loop again
    (0.73, -0.2, -1, -0.6, 0.5),
    (0.74, -0.35, -1, 2.2, 1.15),
    (0.79, -1.1, -0.5, 0.1, 1.55),
    (0.74, -1.0, 0, -0.8, 2.1),
)
