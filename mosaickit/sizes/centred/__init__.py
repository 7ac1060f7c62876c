"""A square worked from the centre with all that was decided about it, and how it stands in a file (experimental)."""
