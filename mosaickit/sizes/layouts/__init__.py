"""Layouts: one repeat, laid so many times across and up, with its closing stitches and rows, frame and edges.

From the inside out: `repeats` sums up the one repeat and lays it, `framed` puts a frame and plain rows around it,
`surround` is all that stands around repeats as one value, `layout` puts the two together and has the whole size,
picture and counts; `stitches` says what overlaid squares are worked as, `usage` what yarn that takes, `multiples` what
the counts are multiples of, `cures` what makes a layout workable.
"""
