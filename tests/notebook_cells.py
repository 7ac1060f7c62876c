"""Notebooks run cell by cell in this process: what each cell writes and shows, without a kernel.

A cell's last expression is shown as Jupyter shows it, unless a semicolon ends it, and so is every figure that the
cell left open, cut to what is drawn, as the inline backend does.
"""

import ast
import io
import json
import re
from contextlib import redirect_stdout
from dataclasses import dataclass, field
from itertools import combinations

import matplotlib.pyplot as plt
import numpy as np
from matplotlib.text import Text
from PIL import Image

OWN = re.compile(r'mk\.begin\("([^"]+)"')
"""The one place of a notebook where readers put a file of their own."""

DPI = 60
"""Coarser than on a screen, which leaves what is drawn where it is."""


@dataclass
class Ran:
    """What a notebook came to: its names, and of each code cell its source, what it wrote and what it showed."""

    names: dict
    sources: list = field(default_factory=list)
    written: list = field(default_factory=list)
    shown: list = field(default_factory=list)
    """Of each cell, pairs of a kind ("svg", "html", "png" or "text") and what it holds."""
    overlapping: list = field(default_factory=list)
    """Pairs of texts of a figure that lie on each other."""

    def all_shown(self, kind):
        """All that was shown of a kind."""
        return [what for shown in self.shown for one, what in shown if one == kind]


def cells_of(file, kind="code"):
    """The sources of a notebook's cells."""
    told = json.loads(file.read_text("utf-8"))
    return ["".join(cell["source"]) for cell in told["cells"] if cell["cell_type"] == kind]


def run(file, own=None):
    """Run a notebook in the folder that is the current one, with another file in place of its own if one is given."""
    ran = Ran({"__name__": "__main__"})
    for number, source in enumerate(cells_of(file)):
        if number == 0 and own is not None:
            source, changed = OWN.subn(lambda _: f"mk.begin({own!r}", source)
            assert changed == 1, source
        run_cell(source, ran)
    return ran


def run_cell(source, ran):
    """Run one cell, and keep what it wrote and showed."""
    tree = ast.parse("\n".join("" if line.startswith("%") else line for line in source.split("\n")))
    last = ast.Expression(tree.body.pop().value) if isinstance(tree.body[-1], ast.Expr) else None
    written, value = io.StringIO(), None
    with redirect_stdout(written):
        exec(compile(tree, "<cell>", "exec"), ran.names)
        if last is not None:
            value = eval(compile(last, "<cell>", "eval"), ran.names)
    shown = [] if value is None or source.rstrip().endswith(";") else [shows(value)]
    for figure in map(plt.figure, plt.get_fignums()):
        figure.set_dpi(DPI)
        figure.canvas.draw()
        ran.overlapping += overlapping(figure)
        shown.append(("png", png_of(figure)))
    plt.close("all")
    ran.sources.append(source)
    ran.written.append(written.getvalue())
    ran.shown.append(shown)


def png_of(figure):
    """A figure that was drawn as PNG; it is drawn once more only if something of it lies on the edge or beyond."""
    png = io.BytesIO()
    pixels = np.asarray(figure.canvas.buffer_rgba())[..., :3]
    if all((edge == 255).all() for edge in (pixels[0], pixels[-1], pixels[:, 0], pixels[:, -1])):
        Image.fromarray(pixels).save(png, "png", compress_level=1)
    else:
        figure.set_layout_engine("none")  # all is in its place now
        figure.savefig(png, format="png", bbox_inches="tight")
    return png.getvalue()


def shows(value):
    """What Jupyter shows of a value: the richest form that it has."""
    for kind in ("html", "svg"):
        told = getattr(value, f"_repr_{kind}_", lambda: None)()
        if told is not None:
            return kind, told
    return "text", repr(value)


def overlapping(figure):
    """Pairs of texts of a figure that lie on each other by more than a quarter of the smaller."""
    unseen = {
        id(tick.label1)
        for ax in figure.axes
        for axis in (ax.xaxis, ax.yaxis)
        for tick in axis.get_major_ticks()
        if not min(axis.get_view_interval()) <= tick.get_loc() <= max(axis.get_view_interval())
    }
    texts = [text for text in figure.findobj(Text) if text.get_visible() and text.get_text().strip()]
    boxes = [(text.get_text(), text.get_window_extent()) for text in texts if id(text) not in unseen]
    found = []
    for (one, a), (other, b) in combinations(boxes, 2):
        wide = min(a.x1, b.x1) - max(a.x0, b.x0)
        high = min(a.y1, b.y1) - max(a.y0, b.y0)
        if wide > 0 < high and 4 * wide * high > min(a.width * a.height, b.width * b.height):
            found.append((one, other))
    return found
