"""mosaickit: from an idea on a grid to a proven pattern for two-colour overlay mosaic crochet.

Start with a picture and follow it down::

    import mosaickit as mk

    motif = mk.Motif.from_text(...)             # or mk.load("picture.png")
    mk.check(motif)                             # what cannot be worked, and why
    motif = mk.nearest_workable(motif).motif    # the nearest picture that can
    chart = mk.compile_chart(motif, reversible=True)
    mk.work(chart)                              # both faces, worked loop by loop
    mk.tables.count(chart)                      # stitches a row
    mk.yarn_usage(chart, mk.Gauge(16, 18))      # yarn a row
    mk.plan_widths(motif, mk.Gauge(16, 18), 20) # the repeats that come near 20 cm
    mk.write_rows(chart)                        # rows in words; mk.read_rows reads them back
    mk.pattern(chart, title=..., gauge=...)     # a page for mk.publish.pdf and mk.publish.html
    mk.sweep([motif, ...], [mk.Gauge(16, 18)], width=[18, 20, 22])  # every combination, a line each

Names are loaded when they are first used, so that importing the package costs little more than NumPy.
"""

import mosaickit.distribution  # noqa: F401 — stops here if another project was installed into this folder
from mosaickit.doors import door

__version__ = "0.1.0"

_NO_QUARTER = (
    "a quarter turn is never safe: rows have colours and columns have not, so what was worked along a row would have "
    "to be worked up a column. Turn by half with `mk.half_turn`, or redraw it turned and use `mk.nearest_workable`"
)

__getattr__, __dir__, __all__ = door(__name__, "__version__", refused={"quarter_turn": _NO_QUARTER})
