"""Chance: how many workable motifs there are, and one of them drawn so that each is as likely as any other.

Everything is said in overlaid squares. Symmetries and repeats make some squares agree; such a class of squares is
overlaid or plain as a whole. Classes that hold neighbours in a column cannot both be overlaid, and no class in row 1
or the last row can be, nor one that is its own neighbour. So the classes of a column, or of a column and its image,
form a chain, some of them closed to a ring; the chains know nothing of one another, and few differ in kind. How many
fillings a chain has with each number of overlaid squares follows from binomials.

To draw a motif, each chain first draws its number of overlaid squares. Where the sum is given, the odds are tilted so
that it is hit often, and what misses it is thrown away, together with as much of the rest as the tilt favours it. Then
each chain draws one of its fillings with that number. Chance is compared with whole numbers, whatever their size, so
nothing is rounded and nothing biased: every motif is exactly as likely as any other.

With an odd number of rows between two squares that agree, one is the colour swap of the other, as in `repair`.
"""
