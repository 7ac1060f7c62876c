"""A lesson as an educator would write it, for the tests: a notebook and the exercises that it makes and keeps."""

import nbformat

import mosaickit as mk

LANTERN = mk.Motif.from_text(
    """
    .......
    ##.#.##
    ..###..
    #.###.#
    ..###..
    ##.#.##
    .......
    """,
    name="lantern",
)
MENDED = mk.nearest_workable(LANTERN, symmetry="mirror").motif

MAKING = '''
lantern = mk.Motif.from_text(
    """
    .......
    ##.#.##
    ..###..
    #.###.#
    ..###..
    ##.#.##
    .......
    """,
    name="lantern",
)
mended = mk.nearest_workable(lantern, symmetry="mirror").motif
counting = mk.lessons.exercise(
    "stitches of a garland",
    question="How many stitches has a row of five lanterns with two edge stitches at each side?",
    answer="a whole number",
    parts=[mk.lessons.this_number(39, low="Are the edge stitches in it?", high="The edges come once.")],
    solution=39,
)
mending = mk.lessons.exercise(
    "a lantern that can be worked",
    question="Change as few squares as you can, so that the lantern can be worked.",
    answer="a motif",
    given=lantern,
    parts=[mk.lessons.of_size(7, 7), mk.lessons.can_be_worked(), mk.lessons.own_mirror()],
    solution=mended,
    because="Either of two overlaid squares could go.",
)
lesson = mk.lessons.Lesson("Lanterns", [counting, mending])
mk.lessons.keep(lesson, "lanterns.lesson")
'''


def exercises():
    """The two exercises that the notebook makes."""
    names = {"mk": mk}
    exec(MAKING.rpartition("mk.lessons.keep")[0], names)
    return names["lesson"]


def notebook():
    """The educator's notebook, which was not run."""
    text, code = nbformat.v4.new_markdown_cell, nbformat.v4.new_code_cell
    cells = [
        text("# Lanterns\n\nA lamplighter crochets a garland of lanterns, one beside the other."),
        code("%matplotlib inline\nimport matplotlib.pyplot as plt\nimport mosaickit as mk"),
        code(MAKING.strip()),
        code("mk.lessons.try_out(mending)"),
        text("## The lantern\n\nThis is the drawing. Not all of it can be worked."),
        code('drawn = mk.lessons.given("lanterns.2")\nmk.draw.chart(drawn, title="The drawing")\nplt.show()'),
        text(
            "## Exercise 1: stitches of a garland\n\nHow many stitches has a row of **five lanterns** with two edge "
            "stitches at each side?"
        ),
        code('stitches = ...  # a whole number\nmk.lessons.check("lanterns.1", stitches)'),
        text("## Exercise 2: a lantern that can be worked\n\nChange as few squares as you can."),
        code('mine = mk.Motif.from_text("""\n' + MENDED.to_text() + '\n""")\nmk.lessons.check("lanterns.2", mine)'),
        code('mk.draw.chart(mine, title="Mine")\nplt.show()'),
        code(
            'mk.draw.chart(mk.lessons.solution("lanterns.2"), title="One way")\nplt.show()',
            metadata={"tags": ["solution"], "jupyter": {"source_hidden": True}},
        ),
        code("better = mended\nmk.draw.face(mk.work(mk.compile_chart(better)))\nplt.show()"),
        text("## At home\n\nWork one lantern."),
        code("print(drawn.shape)"),
    ]
    for number, cell in enumerate(cells, 1):
        cell.id = f"cell-{number}"
    made = nbformat.v4.new_notebook(cells=cells)
    made.metadata.kernelspec = {"name": "python3", "display_name": "Python 3", "language": "python"}
    return made
