"""Pictures that many tests share, by name. `letter_f` looks different from every side, so that no flip hides."""

from mosaickit import Motif

letter_f = Motif.from_text(
    """
    .......
    #######
    .#...#.
    ###.###
    .#.....
    #######
    .......
    """,
    name="letter F",
)
"""Nothing to say against it, odd height, no symmetry at all."""

single = Motif.from_text(".")
stripes = Motif.from_text("####\n....\n####\n....")
"""Every square shows its row's colour; even height."""

two_stacked = Motif.from_text(
    """
    ...
    #.#
    .#.
    ###
    ...
    """
)
"""Not workable: rows 3 and 4 are both overlaid at stitch 2."""
