"""A chart stitch by stitch, as plain data that a page can lead a maker through without knowing anything of the craft.

`steps` lays out everything that is shown: every stitch in working order, its moves with the loops on the hook after
each, the column below it in cross-section with the loops that are free, the row in words with the runs that a maker is
in, and what each row adds to both faces. `PlaceFile` keeps how far a maker has come. Rows and stitches are counted from
1 in words, and as numbers done, from 0, in a `Place`.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
