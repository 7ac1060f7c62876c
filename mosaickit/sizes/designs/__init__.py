"""Designs: all that a person decides about one piece, as one value, and what follows from it."""
