"""A page in type: one PDF for paper and one HTML file to work along with.

Both are made from the same `Page`, are written whole or not at all, and come out the same, byte for byte, whenever the
page is the same::

    page = mk.pattern(chart, title="Tidepool scarf", gauge=gauge)
    mk.publish.pdf(page, "scarf.pdf")                        # tagged; also form="large print" or "low ink"
    mk.publish.sheets(page)                                  # the PDF's sheets as pictures, to look at first
    mk.publish.html(page, "scarf.html")                      # one file, no network; leads row by row
    mk.publish.html(page, "scarf.html", guide=True)          # leads stitch by stitch, as the row guide does
    mk.publish.pack_for_testers(design, "scarf-test.zip")         # for testers: both, and the form of their report
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
