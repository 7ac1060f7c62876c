"""Transforms: motif in, motif out, with the row colours kept in step.

Row colours alternate, so rows that move by an odd number land on the other colour. Every transform that moves
rows says what then happens, by one option: ``colours="keep"`` leaves the squares as they look and lets the
colour of row 1 follow where the whole picture moved; ``colours="swap"`` leaves the colour of row 1 and
counterchanges the squares that landed on the other row colour, so that the same squares stay overlaid. Where a
workable picture would come out unworkable, the verb tries other arguments, and raises `UnworkableError` with those that
cure it; ``must_work=False`` gives the picture all the same. Yarns move with their rows.
"""
