"""A square worked from the centre outward, in rounds: its rules, its chart, the hook, yarn, words and picture.

Everything here is **experimental** and was never tried on wool. The published sources say that such a chart is square
and drawn for it, that the yarn is not cut and that the last round may be of either colour ("Center-Out", ashleeslint);
how they work the corners cannot be read there. So the corner is that of a plain square, three single crochets in one
stitch, and `work` judges by loops what can be made with it. Whatever the loops leave open is refused, not guessed.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
