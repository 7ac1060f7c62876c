"""Sizes: a motif becomes a piece, laid across and up, and which of the many ways to lay it come near what is wanted.

A folder a question. `designs` holds all that is decided about one piece and gives what follows; `layouts` counts a
piece without building it; `finishes` says how it begins and how its edges end; `widths` finds the counts of repeats
that come near a size; `sweeps` tries every combination of motifs, gauges and widths; `ranking` picks the best lines of
the table; `reports` holds what testers say of a piece against the edition that they made.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
