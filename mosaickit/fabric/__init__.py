"""Stitches and what becomes of them: a chart, and the fabric that a hook makes of it.

`stitches` compiles a motif into a chart and `counts` counts it. `hook` works a chart loop by loop and knows no rule,
which makes it the witness of them all; `edges` works border, fringe and tails in the same way; `loops` says which
loops each stitch takes and which it leaves free.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
