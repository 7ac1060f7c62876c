"""Bands: pieces made of several motifs, one above the other, from the foundation up, and counted without being built.

`values` holds what a maker says: bands, plain rows, lines of one colour and the field, in an order; `columns` makes one
motif of several beside each other. `fitting` says how a band fills the width that the field gives, and at which widths
all of them do; `strips` counts the overlaid squares of one band, `stacking` puts the strips one on the other, keeps the
row colours in step and says what it did for that. `banded` is the layout of all of it, `reporting` says what cannot be
worked and in which band, and `taking` makes a design's decisions of an order without a field. `forms` is how bands
stand in a file, and is loaded with the files alone.
"""
