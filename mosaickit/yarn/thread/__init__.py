"""Thread: the yarn of a chart as curves in space, the length of each stitch from them, and what is seen of it.

`paths` has the table of where the yarn goes, `curves` joins its points, `rows` lays the pieces of a chart end to end,
`faces` looks at them from both sides.
"""
