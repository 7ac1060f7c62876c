"""Sweeps: every combination of motifs, repeats, frames, gauges, yarns and widths, a line of figures each.

A sweep is a product of choices. The combinations are numbered, and lines stand in the order of the numbers. `starting`
takes what designs say, `choices` reads what was asked, `figures` works out a combination from its number, `candidates`
is the table that comes out, and `sweeping` sends the work where it runs.
"""
