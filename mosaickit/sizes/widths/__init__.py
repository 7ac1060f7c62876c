"""Widths: which counts of repeats come near a wanted size, and what each of them takes in yarn and time.

`wanted` holds what was asked for. `counts` lays a design a number of times, and `sides` finds the numbers that suit
one side of a piece. A fit (`fits`) is a design with one of them, and what it costs; a plan (`plans`) holds all fits.
"""
