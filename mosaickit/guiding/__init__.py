"""A chart stitch by stitch, as plain data that a page can lead a maker through without knowing anything of the craft.

`steps` lays out everything that is shown: every stitch in working order, its moves with the loops on the hook after
each, the column below it in cross-section with the loops that are free, the row in words with the runs that a maker is
in, and what each row adds to both faces. `PlaceFile` keeps how far a maker has come. Rows and stitches are counted from
1 in words, and as numbers done, from 0, in a `Place`.
"""

from mosaickit.guiding.data import MOST_STITCHES, steps
from mosaickit.guiding.loops import TAKES, Loop, Move, Side, State, loops_below, moves
from mosaickit.guiding.places import KIND, VERSION, Place, PlaceFile, checked_place, fingerprint

__all__ = [
    "KIND",
    "MOST_STITCHES",
    "TAKES",
    "VERSION",
    "Loop",
    "Move",
    "Place",
    "PlaceFile",
    "Side",
    "State",
    "checked_place",
    "fingerprint",
    "loops_below",
    "moves",
    "steps",
]
