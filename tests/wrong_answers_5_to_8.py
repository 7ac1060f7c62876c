"""Wrong answers to the exercises of the lessons 5 to 8, each with a part of what is said about it."""

from itertools import count

import numpy as np

import mosaickit as mk

lamp = mk.lessons.given("6.3")
loaf_gauge = mk.lessons.given("7.3")


def picture(text, first="MC"):
    return mk.Motif.from_text(text, first)


def stripes(rows, stitches):
    return mk.pad(picture("." * stitches), top=rows - 1)


def with_square(motif, row, stitch):
    """The motif with one square changed, as a right-hander counts."""
    grid = motif.grid.copy()
    grid[-row, -stitch] ^= True
    return motif.with_grid(grid)


def rounded(across_cm, upward_cm, rows=29, stitches=21):
    """A loaf of so many cm, mended, at the gauge of exercise 7.3."""
    up = (np.arange(rows) - rows // 2) * loaf_gauge.row_height_cm / (upward_cm / 2)
    across = (np.arange(stitches) - stitches // 2) * loaf_gauge.stitch_width_cm / (across_cm / 2)
    return mk.nearest_workable(mk.Motif.from_array(np.hypot(across, up[:, np.newaxis]) <= 1)).motif


def box(rows, stitches, margin=2):
    grid = np.zeros((rows + 2 * margin, stitches + 2 * margin), dtype=bool)
    grid[margin:-margin, margin:-margin] = True
    return mk.Motif.from_array(grid)


def near(gauge, side_cm):
    return round(gauge.rows_for(side_cm, "cm")), round(gauge.stitches_for(side_cm, "cm"))


weighed = mk.lessons.given("8.1")
calculated_m = float(mk.yarn_usage(weighed.chart, weighed.gauge).total_m.sum())
six_books = mk.lessons.given("8.3")["in plain fabric"].chart
book = mk.crop(mk.Motif.from_array(mk.work(six_books).front), rows=(1, 7), stitches=(1, 8))

WRONG = {
    "5.1": [
        ([], "More CC squares of row 5 of the back are to be found in row 5."),
        ([(5, 3)], "More CC squares"),
        ([(5, 7), (5, 4)], "Not among the CC squares of row 5 of the back: row 5, stitch 4; row 5, stitch 7."),
        ([(4, 3), (4, 6)], "row 4, stitch 3"),
        ([5, 3], "a list of pairs of row and stitch"),
    ],
    "5.2": [
        (stripes(7, 9), "Its back differs from the one that was found in rows 3, 4, 5 and 6."),
        (stripes(7, 8), "It should have 9 stitches a row; it has 8."),
        (stripes(9, 9), "It should have 7 rows; it has 9."),
        (mk.lessons.given("5.2"), "Its back differs from the one that was found in rows"),
        (mk.Motif.from_array(~mk.lessons.given("5.2").grid), "It cannot be worked: look at row 1, stitch 1"),
        (mk.counterchange(stripes(7, 9)), "in rows 1, 2, 3, 4, 5, 6 and 7"),
        (stripes(7, 9).grid, "a motif"),
    ],
    "5.3": [
        (stripes(201, 3), "It should have at most 200 rows and stitches; it has 201 and 3."),
        (stripes(9, 9), "0 of its squares are overlaid; 6 or more are asked for."),
        (picture(".......\n###.###\n.......\n#######\n......."), "1 of its squares are overlaid"),
        (mk.edge_stitches(mk.repeat(lamp, across=2)), "it shows another picture than before in rows"),
        (mk.pad(mk.repeat(lamp, across=2), top=1), "it shows another picture than before in rows"),
        (picture("...\n..."), "It cannot be worked: look at row 2, stitch 1"),
        ("###", "a motif"),
    ],
    "6.1": [
        ([2], "With 2 plain rows between the two lamps the upper one comes out pale."),
        ([0, 1, 2, 3, 4, 5, 6], "With 0 plain rows"),
        ([2], "There are 3 to find."),
        ([1, 2], "There are 2 more to find."),
        ([1], "Right so far; 2 more to find."),
        ([], "There are 3 to find."),
        ([1, 3, 5, 7], "at least one of yours is none of these"),
        ([-1, 10**5000], "at least one of yours is none of these"),
        (3, "a list of whole numbers"),
    ],
    "6.2": [
        ([6, 0], "in row 2, stitch 3 and stitch 38 are as far from their edges"),
        ([6, 3], "It does not lie in the middle"),
        ([5, 1], "The row has 35 stitches; it should have 40 to 48."),
        ([10**4, 5], "The row has 60009 stitches"),
        ([6, 6], "`balance_across` must be below the 6 stitches"),
        ([0, 1], "`across` must be a whole number of 1 or more"),
        ([6, 10**5000], "from 0 to 10,000"),
        ([6], "two numbers, the repeats and the closing stitches"),
    ],
    "6.3": [
        (lamp, "have no room for the lamp and 3 rings around it"),
        (mk.pad(mk.frame(lamp, 4), left=1), "an odd number of stitches before and after"),
        (mk.pad(mk.frame(lamp, 4), top=1), "an odd number of rows below and above"),
        (mk.frame(lamp, 3), "The outermost ring is in CC."),
        (mk.frame(lamp, 3, colours="swap"), "from row 4, stitch 4 on: dark and pale the wrong way round."),
        (
            with_square(mk.frame(lamp, 4), 2, 4),
            "Ring 2, counted from the outside, is broken at row 2, stitch 4.",
        ),
        (mk.edge_stitches(mk.pad(lamp, top=4, bottom=4), 4), "Ring 1, counted from the outside, is broken at"),
        (
            mk.pad(mk.frame(lamp, 2), top=2, bottom=2, left=2, right=2, fill="MC", must_work=False),
            "have the same colour",
        ),
        (with_square(mk.frame(lamp, 4), 1, 1), "It cannot be worked: look at row 1, stitch 1"),
        (with_square(mk.frame(lamp, 4), 7, 7), "The lamp in the middle is not as it was, from row 7, stitch 7 on"),
    ],
    "7.1": [
        ([51, 51], "51 rows measure 24.3 cm upward; a count comes nearer to 24 cm."),
        ([30, 50], "30 stitches measure 17.6 cm across; a count comes nearer to 30 cm."),
        ([50, 52], "50 stitches measure 29.4 cm across"),
        ([51], "two numbers, the stitches of a row and the rows"),
        ([10**400, 1], "from 1 to 10,000"),
        (51, "a list of whole numbers"),
    ],
    "7.2": [
        (
            lambda gauge, side_cm: near(gauge, side_cm)[::-1],
            "rows measure 9.5 cm upward; a count comes nearer to 12 cm.",
        ),
        (lambda gauge, side_cm: near(gauge, side_cm)[:1] * 2, "stitches measure 15.0 cm across"),
        (
            lambda gauge, side_cm: (gauge.rows * side_cm // 10, gauge.stitches * side_cm // 10),
            "At 16 sts by 18 rows to 4 in, the 54 rows",
        ),
        (lambda gauge, side_cm: (gauge.rows_for(side_cm, "cm"), 1.5), "not two whole numbers of 1 or more"),
        (lambda gauge, side_cm: [1, [2, 3]], "gave a `list`, not two whole numbers"),
        (lambda gauge, side_cm: np.array(7), "not two whole numbers"),
        (lambda gauge, side_cm: (10**400, -1), "gave a `tuple`, not two whole numbers"),
        (lambda gauge, side_cm: count(), "gave a `count`, not two whole numbers"),
        (lambda gauge, side_cm: side_cm / 0, "a side of 12 cm, it raised ZeroDivisionError."),
        (lambda gauge: (1, 1), "it raised TypeError."),
        (lambda gauge: (1, 1), "The rest is looked at when this is right."),
        ((24, 19), "a function"),
    ],
    "7.3": [
        (stripes(9, 9), "Its CC squares measure 6.4 cm across and 3.7 cm upward: 8 cm are wanted."),
        (stripes(29, 21), "293 squares are out of round; it is hollow most at row 15"),
        (rounded(6, 6), "8 cm are wanted"),
        (rounded(12, 9), "The loaf is too flat"),
        (rounded(9, 12), "The loaf is too tall"),
        (box(19, 14), "squares are out of round; it bulges most at row"),
        (box(17, 12), "It cannot be worked: look at row"),
        (with_square(rounded(9.3, 9.3), 1, 1), "It cannot be worked: look at row 1, stitch 1"),
        (
            mk.Motif.from_array(np.ones((2000, 3000))),
            "It should have at most 100 rows and stitches; it has 2000 and 3000.",
        ),
        (picture("..."), "Its CC squares measure 0.0 cm across"),
    ],
    "8.1": [
        (1, "That is too small"),
        (14, "That is too large"),
        (calculated_m / weighed.measured["all"], "the other way about is asked for"),
        (weighed.measured["all"], "in metres by the label: how many times the calculated amount is it?"),
        ("1.1", "a number"),
    ],
    "8.2": [
        ([], "There are 2 to find."),
        (["tog-b"], "Right so far; 1 more to find."),
        (["FLdc"], "There are 2 to find."),
        (["FLdc", "tog-b"], "There is 1 more to find."),
        (["FLdc", "tog-b", "tog-f"], "The swatch has stitches of this kind: FLdc."),
        (["chain"], "one of 'sc', 'BLsc', 'FLdc', 'tog-b', 'tog-f'"),
        ("tog-b", "a list of kinds of stitches"),
    ],
    "8.3": [
        (six_books, "and yours should leave less"),
        (mk.compile_chart(book, reversible=True), "and yours should leave less"),
        (weighed.chart, "the swatch in plain fabric would leave"),
        (mk.lessons.given("8.3")["runner"].chart, "a swatch of 400 at most is asked for"),
        (mk.Chart.from_text("...\n.b.\n..."), "Row 2, stitch 2"),
        (book, "a chart"),
    ],
}
