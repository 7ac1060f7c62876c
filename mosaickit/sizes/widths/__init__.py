"""Widths: which counts of repeats come near a wanted size, and what each of them takes in yarn and time.

`wanted` is what was asked for, `counts` lays a design so many times, `sides` finds the counts for one side of a piece,
a fit (`fits`) is a design with one of them and all that it costs, a plan (`plans`) all that come near.
"""
