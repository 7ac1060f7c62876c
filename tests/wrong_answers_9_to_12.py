"""Wrong answers to the exercises of the lessons 9 to 12, each with a part of what is said about it."""

from dataclasses import replace
from itertools import combinations

import numpy as np

import mosaickit as mk
from mosaickit.colours import weakest_contrast

RIVER = mk.lessons.given("9.3")
DRAWN = mk.lessons.given("10.2")
CLOSED = mk.lessons.given("10.3")
BASKET = mk.lessons.given("12.3")


def painted(motif, *squares):
    """The motif with squares, as seen, in the other colour."""
    grid = motif.grid.copy()
    grid[tuple(np.transpose(squares))] ^= True
    return motif.with_grid(grid)


def worked(*stitches):
    """The chart of 10.3 with other stitches: (row, stitch, stitch worked)."""
    changed = CLOSED.stitches.copy()
    for row, stitch, kind in stitches:
        changed[row - 1, stitch - 1] = kind
    return replace(CLOSED, stitches=changed)


def strongest(basket, measure):
    return max(combinations(basket, 2), key=lambda pair: measure(*(basket[name] for name in pair)))


def best_for_most_people(basket):
    return strongest(basket, mk.contrast)


def best_of_the_given_only(basket):
    return strongest(BASKET, lambda one, two: weakest_contrast(one, two)[1])


def raises(basket):
    return basket["a colour that is not there"]


def breaks_off(basket):
    raise SystemExit("enough")


BARS = mk.Motif.from_text(
    """
    ######
    ##..##
    ##..##
    ##..##
    ######
    ......
    """
)

WRONG = {
    "9.1": [
        ([3, 6, 9], "In row 3 no more than 4 FLdc"),
        ([4, 6], "One more row has such a run, above row 4"),
        ([], "3 more rows have such a run, one of them up to row 4"),
        ([6, 9], "One more row has such a run, up to row 4"),
        ([4, 6, 9, 12], "rows 1 to 9 and no others"),
        ([10**5000], "rows 1 to 9 and no others"),
        ("4, 6, 9", "list of whole numbers"),
    ],
    "9.2": [
        (20.0, "already longer than two tails: is its ease in it?"),
        (9.1, "two tails are still longer"),
        ("18 cm", "should be a number"),
    ],
    "9.3": [
        (mk.crop(RIVER, stitches=(1, 18)), "It should have 19 stitches a row; it has 18."),
        (painted(RIVER, (4, 2)), "look at row 4, stitch 17"),
        (painted(RIVER, (1, 4)), "stitch opposite it"),
        (RIVER, "Row 4, stitches 4 to 9: 6 FLdc stand side by side."),
        (painted(RIVER, (1, 4), (1, 14), (4, 9), (6, 5), (6, 13), (2, 9)), "It changes 6 squares"),
        (RIVER.to_text(), "should be a motif"),
    ],
    "10.1": [
        ([(5, 2), (5, 3)], "are to be found in row 7"),
        ([(4, 2), (5, 3), (7, 11)], "Not among the stitches that were worked otherwise: row 4, stitch 2"),
        ([5, 7], "pairs of row and stitch"),
    ],
    "10.2": [
        (mk.pad(DRAWN, left=1), "It should have 13 stitches a row; it has 14."),
        (replace(DRAWN, first="CC"), "Row 1 was MC; now it is CC."),
        (DRAWN, "look at row 5, stitch 3"),
        (painted(DRAWN, (2, 5), (1, 7), (6, 2), (6, 10)), "stitch opposite it"),
        (painted(DRAWN, (2, 5), (2, 7), (6, 2), (6, 10), (2, 6), (4, 6)), "fewer will do"),
    ],
    "10.3": [
        (mk.Chart.from_text("...\n..."), "yours has 2 of 3"),
        (replace(CLOSED, hand="left"), "hook in the right hand; yours does not"),
        (CLOSED, "Every stitch is as in the chart given."),
        (worked((4, 2, 1), (4, 3, 1)), "2 stitches are not as in the chart given, in row 4."),
        (worked((4, 2, 2)), "cannot be made"),
        (worked((4, 2, 2)), "The rest is looked at when this is right."),
        (worked((11, 2, 1)), "The front looks otherwise at row 10, stitch 2."),
        (worked((11, 2, 2)), "turning the work over would not show it"),
        (CLOSED.to_text(), "should be a chart"),
    ],
    "11.1": [
        (32, "are no whole repeats"),
        (4, "are no whole repeats"),
        (26, "14.4 cm it would be; a count with more stitches"),
        (48, "26.7 cm it would be; a count with fewer stitches"),
        (12_000, "from 1 to 10,000 stitches"),
        ("three repeats", "whole number"),
    ],
    "11.2": [
        ([3], "Two numbers are asked for"),
        ([3, 0], "counts from 1 to 10,000"),
        ([10**5000, 28], "counts from 1 to 10,000"),
        ([9000, 28], "It would be 55002.2 cm wide"),
        ([2, 28], "It would be 14.4 cm wide"),
        ([3, 27], "It would be 135.0 cm long"),
        ([3, 31], "though what is likely would do"),
        ([4, 31], "may run out"),
    ],
    "11.3": [
        (mk.Motif.from_text(".#."), "From 6 to 16 rows were asked for; it has 1."),
        (mk.Motif.from_text("....\n" * 6), "From 5 to 15 stitches a row were asked for; it has 4."),
        (mk.lessons.given("11.1")["motif"].named("mine"), "This is the letter"),
        (mk.pad(BARS, top=1), "7 rows are an odd number"),
        (painted(BARS, (5, 2), (5, 3)), "look at row 1, stitch 3"),
        (painted(BARS, (2, 2)), "In row 4, stitch 3 and the stitch opposite it"),
        (painted(BARS, *((2, column) for column in (0, 1, 4, 5))), "row 5 has 18 FLdc side by side across the join"),
        (mk.Motif.from_text("#####\n" + "#.#.#\n" * 6 + "....."), "fewer overlaid squares"),
        (mk.Motif.from_text("######\n......\n" * 3), "Reversible takes 0.0% more yarn than plain: more"),
    ],
    "12.1": [
        (["plum", "red", "grass", "orange"], "The basket also holds sky."),
        (["plum", "red", "grass", "orange", "teal"], "There is no yarn 'teal'"),
        (["plum", "red", "grass", "orange", "sky", "sky"], "named twice"),
        (["plum", "red", "grass", "sky", "orange"], "Look again at sky and orange"),
        ("plum, red, grass, orange, sky", "list of names"),
        (np.array(5), "list of names"),
    ],
    "12.2": [
        ("#ffffff", "that is no red by 64 steps"),
        ("#b03030", "From fern it differs by 1.26 to 1 only."),
        ("#ff7a6a", "For protan vision it differs from fern by 2.44 to 1 only."),
        ("red", "#rrggbb"),
        (0xFF7A6A, "colour in quotation marks"),
    ],
    "12.3": [
        (best_for_most_people, "poppy and night, which differ by 2.84 to 1 for protan vision"),
        (best_of_the_given_only, "two of those names are asked for"),
        (lambda basket: ["moss"], "it gives back ['moss']"),
        (lambda basket: None, "it gives back None"),
        (lambda basket: None, "The rest is looked at when this is right."),
        (raises, "it ends with KeyError"),
        (breaks_off, "it ends with SystemExit: enough."),
        (lambda: ("poppy", "night"), "it ends with TypeError"),
        (["night", "heather"], "should be a function"),
    ],
}
