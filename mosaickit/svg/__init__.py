"""Pictures as small SVG text, and the symbols of a chart as lines, with nothing but NumPy.

`drawing` has squares in colours, charts and faces as values show themselves in a notebook; `symbols` has what stands
on a chart's squares, for every picture alike. Arrays come as seen; nothing here knows what a picture means.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
