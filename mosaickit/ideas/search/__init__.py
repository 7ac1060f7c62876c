"""Search: the best motifs that can be worked, by whatever a maker calls good.

Where there are few enough motifs of a size, all of them are tried; otherwise many independent runs of simulated
annealing each follow one motif through small moves that keep it workable. Both are batches of work like any other, so
they run on any executor, are kept and go on after a break, and give the same for the same chance wherever they ran.
"""
