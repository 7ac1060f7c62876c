"""Wrong answers to the exercises of the lessons 1 to 4, each with a part of what is said about it."""

import mosaickit as mk

given = mk.lessons.given
hive, cell = given("1.1"), given("1.3")
window, diamond = given("2.1"), given("2.2")
reeds, strip = given("3.1"), given("3.3")
sparks, moon, curtain = given("4.1"), given("4.2"), given("4.3")


def striped(rows, stitches, first="MC"):
    """Give a picture in which nothing is overlaid."""
    plain = mk.Motif.from_array([[0] * stitches] * rows, first)
    return plain.with_grid(plain.grid ^ plain.row_is_cc)


def overlaid_at(plain, *squares):
    """Overlay some squares, named by row and stitch as a right-hander counts."""
    grid = plain.grid.copy()
    working = grid[::-1, ::-1]
    for row, stitch in squares:
        working[row - 1, stitch - 1] ^= True
    return plain.with_grid(grid)


def as_worked(chart):
    return mk.Motif(mk.work(chart).front, chart.first)


def with_marks(chart, characters):
    """Write other marks for some of a chart's."""
    return mk.Chart.from_text(chart.to_text().translate(str.maketrans(characters)), chart.first)


def raises(column):
    return len(column) < 9 / (len(column) - 3)


def leaves(column):
    raise SystemExit


def overlaid_squares(motif, rows):
    return [(row, stitch) for row, stitch in (mk.lessons.sentences.marked(motif.overlaid)) if row in rows]


picture = as_worked(cell)
door = overlaid_squares(hive, (2, 3))
mirrored_door = [(row, hive.shape[1] + 1 - stitch) for row, stitch in door]
fldc = [int((row == mk.Stitch.FLDC).sum()) for row in mk.compile_chart(reeds).stitches]
row_7 = mk.compile_chart(reeds).to_text().splitlines()[-7]  # as seen, so the wrong way round
reversible_moon = mk.compile_chart(as_worked(moon), reversible=True)

WRONG = {
    "1.1": [
        ("mc", "The colour of most squares need not be the yarn of the row"),
        ("both", "one row is worked with one yarn"),
        ("cream", "one of 'MC', 'CC', 'both'"),
    ],
    "1.2": [
        (mirrored_door, "counted from the left edge"),
        ([(1, 1), *door], "Not among the overlaid squares of these rows: row 1, stitch 1"),
        (door[:-1], "More overlaid squares of these rows are to be found in row"),
        ([(5, 4), (5, 5)], "are to be found in rows 2 and 3"),
        ("(2, 4)", "a list of pairs of row and stitch"),
    ],
    "1.3": [
        (mk.Motif.from_text("...."), "It should have 6 rows"),
        (mk.Motif(picture.grid, "CC"), "The chart works row 1 in MC; your motif says CC"),
        (striped(*cell.shape), "Look again at rows 2, 3, 4 and 5: which marks"),
        (mk.mirror(picture), "mirror image"),
        (picture.with_grid(picture.grid[::-1]), "upside down"),
        (cell, "The answer should be a motif"),
    ],
    "2.1": [
        ([(2, 4)], "Not among the squares that cannot be worked: row 2, stitch 4"),
        ([(2, 4)], "are to be found in rows 1, 4, 5 and 7"),
    ],
    "2.2": [
        (diamond, "look at row 2, stitch 4 (two overlaid in a column)"),
        (striped(7, 7, "CC"), "It changes 10 squares; fewer will do."),
        (striped(7, 8, "CC"), "It should have 7 stitches a row; it has 8."),
    ],
    "2.3": [
        (raises, "your function raised ZeroDivisionError"),
        (leaves, "your function raised SystemExit"),
        (lambda column: column, "gave a value of the kind `list`, where it should give True or False"),
        (lambda column: None, "For [False] your function gave nothing, where"),
        (lambda column: not any(column), "[False, True, False] it says False, and yet a hook makes"),
        (lambda column: True, "[True] it says True, and the hook stops: look at its first and its last row"),
        (lambda column: not (column[0] or column[-1]), "the hook stops: look at rows 2 and 3"),
        ("my_rule", "The answer should be a function"),
    ],
    "3.1": [
        (fldc[1:], "The picture has 9 rows; you give 8 numbers."),
        ([0, *fldc[2:], 0], "Look again at row 2: what lies two rows below?"),
        ([0, *fldc[2:], 0], "Look again at rows 3, 4, 6, 7, 8 and 9: which squares"),
        ([0] * 9, "Look again at rows 3, 4, 5, 6, 7, 8 and 9"),
        ([0.5] * 9, "a whole number"),
    ],
    "3.2": [
        (row_7, "from left to right as seen"),
        (row_7[1:], "The row has 10 stitches; you write 9."),
        ("FLdc", "with '.' and '|' alone; yours has 'F' too"),
        ("..........", "Look again at stitches 4, 7 and 8"),
        (row_7[:0:-1] + "|", "Look again at stitch 10, counted in the order of work."),
    ],
    "3.3": [
        (strip, "Row 3 has 0 FLdc where 2 are asked for; look at rows 4, 5, 6 and 7 as well."),
        (overlaid_at(strip, (2, 3), (3, 3)), "look at row 2, stitch 3 (two overlaid in a column)"),
        (overlaid_at(strip, (2, 1), (4, 8)), "In rows 3 and 5 an FLdc stands in the first or the last stitch."),
        (striped(9, 8), "It should have 7 rows; it has 9."),
    ],
    "4.1": [
        ([(7, 1)], "Not among the open back loops: row 7, stitch 1"),
        ([], "More open back loops are to be found in rows 2, 3, 4 and 5."),
    ],
    "4.2": [
        (moon, "The back loop of row 2, stitch 5 is still open, and 6 more."),
        (mk.Chart.from_text("|\n.\n."), "It should have 7 rows of 8 stitches; it has 3 of 1."),
        (with_marks(moon, {"|": "b"}), "Row 3, stitch 5: tog-b cannot be made"),
        (with_marks(moon, {"|": "b"}), "The rest is looked at when this is right."),
        (with_marks(reversible_moon, {"|": ".", "b": ".", "f": "."}), "look at rows 2, 3, 4, 5 and 6 of the picture"),
        (with_marks(moon, {"|": "f"}), "The back does not yet show the whole moon: look behind row 3, stitch 5."),
        (as_worked(moon), "The answer should be a chart"),
    ],
    "4.3": [
        (curtain, "it takes 0.0% more yarn than plain: that is too little"),
        (overlaid_at(curtain, *[(r, s) for r in (2, 4, 6, 8) for s in range(2, 12)]), "that is too much"),
        (overlaid_at(curtain, (1, 1)), "look at row 1, stitch 1 (overlaid in row 1)"),
        (striped(9, 10), "It should have 12 stitches a row; it has 10."),
    ],
}  # fmt: skip
