"""Thread: the yarn of a chart as curves in space, the length of each stitch from them, and what is seen of it.

`loops`, `stitches`, `togs` and `ends` are the table of where the yarn goes, `paths` the pieces made of it, `curves`
joins its points, `rows` lays the pieces of a chart end to end, `faces` looks at them from both sides.
"""
