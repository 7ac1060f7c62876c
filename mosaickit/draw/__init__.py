"""Pictures with matplotlib, drawn into the caller's axes.

Every verb takes ``ax`` and returns the axes it drew into; without ``ax`` it makes a new figure whose size fits.
None shows anything, and none changes a global setting. Colours are those of the yarns; whatever is said beside
them is said by shape too, so that nothing depends on seeing colours::

    mk.draw.chart(chart)             # symbols, numbers, key; of a Motif, its squares and what `check` finds
    mk.draw.face(fabric, side="back", gauge=gauge)
    mk.draw.faces(fabric)            # both, side by side
    mk.draw.worked(chart, gauge=gauge)   # the fabric as its yarn lies, ridges, legs and all
    mk.draw.proof(proof)             # both faces of what a text makes, with what is wrong marked
    mk.draw.yarn(usage)              # yarn a row
    mk.draw.pieces(plan.fits[:12])   # pieces side by side at one scale; `piece` draws one
    mk.draw.yarn_by_width(plan.fits) # what they take as they grow wider, with the skeins to buy
    mk.draw.symmetry(motif)          # mirror and glide lines, centres of half-turns, the smallest repeat
    mk.draw.variants(family, sort_by="similarity")  # a family on a wall
    mk.draw.traced(traced)           # a picture before and after, and what changed
    mk.draw.photographed(work)       # a photograph of the work and its chart, with what differs
    mk.draw.snags(design, reports)   # what puzzled testers, on the chart
    mk.draw.save(ax, "chart.svg")    # the same picture gives the same bytes
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
