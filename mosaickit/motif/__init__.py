"""The picture and the law: a motif, what of it can be worked, and all that makes a motif from a motif.

`motif` is the frozen picture, `rules` alone say what can be worked, `repair` finds the nearest picture that can,
`transforms` move, cut and repeat, `symmetries` say what moves keep a picture.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
