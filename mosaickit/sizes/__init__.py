"""Sizes: repeats laid across and up, and which of the many ways to lay them come near what is wanted.

A folder a question. `designs` keeps all that is decided about one piece, in a value and in files. `layouts` counts
a piece without building it, `widths` finds the counts of repeats that come near a size, `sweeps` tries every
combination of motifs, gauges and widths; `ranking` picks the best lines of the table.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
