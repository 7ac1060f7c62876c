"""What moves leave a picture as it is, and what moves just swap its colours.

A motif is read as a repeat of the plane, laid again and again across and up, or as a border, laid again and again
along its rows. The moves are those of a grid whose rows are not columns: shifts, the mirror left to right, the mirror
up-down, either mirror followed by a shift along its axis (a glide), and the half-turn; never a quarter turn. Every
move of the grid is tried, and the answer is exact.

The groups have their names of the International Tables for Crystallography. Of the 17 plane groups the nine without
turns by a quarter, a third or a sixth can occur: p1, p2, pm, pg, cm, pmm, pmg, pgg, cmm. All seven groups of borders
can; they have the four signs that are usual for borders: p, then m for a mirror left to right, then m for a mirror
up-down or a for a glide along the border, then 2 for a half-turn, and 1 for each that is missing:

====== ============================================== ==================================
name   what there is beside shifts                    International Tables, volume E
====== ============================================== ==================================
p111   nothing                                        p1
p1a1   glide along the border                         p11g
p1m1   mirror up-down                                 p11m
pm11   mirrors left to right                          p1m1
p112   half-turns                                     p211
pma2   mirrors left to right, glide, half-turns       p2mg
pmm2   both mirrors, half-turns                       p2mm
====== ============================================== ==================================

(Both columns of names from memory.) Where moves swap the colours, the two-colour group is written G/H: G are all moves,
H those that keep the colours, half of them. One pair names two groups, and the mirrors tell them apart: pm/pm(m) if
all mirrors keep, pm/pm(m′) if some swap.

A symmetry of the picture need not be one of its stitches. A dc drops down, never up, so what turns the picture upside
down leaves the stitches behind; and since row colours alternate, stitches end up on stitches when an even number
of rows keeps the colours or an odd number swaps them, and not otherwise. `Move.stitches_too` says which.

Everything here is in working order: rows and stitches from 1, row 1 below.
"""
