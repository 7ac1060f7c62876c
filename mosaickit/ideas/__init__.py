"""Ideas: motifs that no one has drawn yet.

`chance` counts and draws the motifs that can be worked, `families` derives variants of one, `search` looks for the
best by whatever a maker calls good, `letters` sets a line of text in squares.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
