"""Photographed work: a photograph of worked fabric is laid over the chart, and squares that differ are listed.

Everything here is **experimental**: it was tried on drawn fabric that was tilted, bent, lit from a side, blurred and
kept as JPEG files by code, and never on wool. Take a finding as a place to look, with the work in your hand::

    work = mk.read_work("scarf.jpg", chart)        # or corners=[(310, 220), (2890, 180), (2960, 2410), (250, 2480)]
    print(work)                                    # rows counted, and each square that differs, with how sure that is
    mk.draw.photographed(work)                     # marked on the chart and on the straightened photograph
    mk.tables.wrong_squares(work)                   # the same as a table

The corners are the outer corners of the four corner squares: chains and locks at the edges, and a border, are outside.
They are found by themselves where the work lies flat and alone on a plain ground of another colour.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
