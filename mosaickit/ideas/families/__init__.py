"""Families: what else a motif could be, each variant workable and measured, so that they can be set side by side.

A family is made by a few kinds of change, one after the other if so wished: flips, counterchange, shifts, layouts,
glides, thinner and thicker lines, other edges, frames. What comes out is mended by `nearest_workable`, and what that
cost is kept. Of variants that are the same repeat, seen shifted along its rows or mirrored, only the first stays.

Since the rules look along columns only, pictures of equal height are laid side by side and mended in one go, and
figures are worked out for all variants of one size together.
"""
