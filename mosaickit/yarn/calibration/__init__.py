"""Calibration: what a weighed or unravelled swatch says about the yarn in each kind of stitch.

`swatches` are what was worked and measured, `hands` what is believed of makers and how measurements change it, in
numbers alone, `learning` puts the two together, and `known` is what comes out and what it says about a piece.
"""
