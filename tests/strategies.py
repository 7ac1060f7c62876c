"""Random motifs for tests that state laws. New things that a motif can hold belong in here."""

from dataclasses import replace

import numpy as np
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

from mosaickit import Motif, Surround, Yarn, Yarns, compile_chart

roles = st.sampled_from(["MC", "CC"])
hands = st.sampled_from(["right", "left"])
colours = st.integers(0, 0xFFFFFF).map("#{:06x}".format)
names = st.text(st.characters(categories=["L", "N", "P", "Zs"]), max_size=12).filter(str.isprintable)
one_yarn = st.builds(Yarn, names, colours)


@st.composite
def yarns_of_role(draw):
    changes = draw(st.dictionaries(st.integers(2, 12), one_yarn, max_size=3))
    return [(1, draw(one_yarn)), *sorted(changes.items(), key=lambda change: change[0])]


yarns = st.builds(Yarns, yarns_of_role(), yarns_of_role())


def yarns_for(rows):
    """Yarns that change within so many rows."""
    return yarns.map(lambda some: some.gather(range(1, rows + 1)))


def shapes(most: int = 9):
    return st.tuples(st.integers(1, most), st.integers(1, most))


@st.composite
def motifs(draw, shape=None, most: int = 9):
    """Any picture, workable or not."""
    rows, columns = draw(shape if shape is not None else shapes(most))
    grid = draw(hnp.arrays(np.bool_, (rows, columns)))
    return Motif(grid, draw(roles), draw(yarns_for(rows)), draw(names))


@st.composite
def workable_motifs(draw, shape=None, most: int = 9):
    """A picture that can be worked: overlaid squares are chosen row by row from what the row below leaves free."""
    rows, columns = draw(shape if shape is not None else shapes(most))
    wanted = draw(hnp.arrays(np.bool_, (rows, columns)))
    wanted[[0, -1]] = False
    for row in range(1, rows):
        wanted[row] &= ~wanted[row - 1]
    plain = Motif(np.zeros((rows, columns), dtype=bool), draw(roles), draw(yarns_for(rows)), draw(names))
    return plain.with_grid(wanted ^ plain.row_is_cc)


@st.composite
def charts(draw):
    """Charts of pictures, flat and in the round, and charts of any stitches whose rows come again."""
    motif = draw(workable_motifs())
    options = {"hand": draw(hands), "in_the_round": draw(st.booleans())}
    chart = compile_chart(motif, draw(st.booleans()), **options)
    if draw(st.booleans()):
        kinds = draw(hnp.arrays(np.uint8, (draw(st.integers(1, 3)), chart.shape[1]), elements=st.integers(0, 4)))
        order = draw(st.lists(st.integers(0, len(kinds) - 1), min_size=chart.shape[0], max_size=chart.shape[0]))
        chart = replace(chart, stitches=kinds[order])
    return chart


@st.composite
def surrounds(draw, rows, columns, in_the_round):
    """What stands around repeats of a motif with this number of rows and columns."""
    return Surround(
        balance_across=0 if in_the_round else draw(st.integers(0, columns - 1)),
        balance_up=draw(st.integers(0, rows - 1)),
        rings=0 if in_the_round else draw(st.integers(0, 2)),
        edges=None if in_the_round else draw(st.none() | st.integers(0, 2)),
        rows_below=draw(st.integers(0, 2)),
        rows_above=draw(st.integers(0, 2)),
        colours=draw(st.sampled_from(["keep", "swap"])),
        in_the_round=in_the_round,
    )
