"""Notebooks run cell by cell in this process: what each cell writes and shows, without a kernel.

A cell's last expression is shown as Jupyter shows it, unless a semicolon ends it, and so is every figure that the
cell left open, cut to what is drawn, as the inline backend does.
"""

import ast
import io
import json
import re
import sys
from contextlib import redirect_stdout
from dataclasses import dataclass, field

import matplotlib.pyplot as plt

OWN = re.compile(r'mk\.begin\("([^"]+)"')
"""The one place of a notebook where readers put a file of their own."""


@dataclass
class Ran:
    """What a notebook came to: its names, its code cells with what they wrote, and all that was shown."""

    names: dict
    sources: list = field(default_factory=list)
    written: list = field(default_factory=list)
    shown: list = field(default_factory=list)
    """Of each cell, pairs of a kind ("svg", "html", "png" or "text") and what it holds."""

    @property
    def pictures(self):
        """All that were shown of a kind, with the cell that did."""
        return [(source, *each) for source, all_shown in zip(self.sources, self.shown, strict=True) for each in all_shown]


def cells_of(file, kind="code"):
    """The sources of a notebook's cells."""
    told = json.loads(file.read_text("utf-8"))
    return ["".join(cell["source"]) for cell in told["cells"] if cell["cell_type"] == kind]


def run(file, own=None):
    """Run a notebook in the folder that is the current one, with another file in place of its own if one is given."""
    ran = Ran({"__name__": "__main__"})
    for number, source in enumerate(cells_of(file)):
        if number == 0 and own is not None:
            source, changed = OWN.subn(lambda _: f"mk.begin({str(own)!r}", source)
            assert changed == 1, source
        run_cell(source, ran)
    return ran


def run_cell(source, ran):
    """Run one cell, and keep what it wrote and showed."""
    plain = "\n".join("" if line.startswith("%") else line for line in source.split("\n"))
    tree = ast.parse(plain)
    last = None
    if tree.body and isinstance(tree.body[-1], ast.Expr):
        last = ast.Expression(tree.body.pop().value)
    written, value = io.StringIO(), None
    with redirect_stdout(written):
        exec(compile(tree, "<cell>", "exec"), ran.names)
        if last is not None:
            value = eval(compile(last, "<cell>", "eval"), ran.names)
    shown = [] if value is None or source.rstrip().endswith(";") else list(shows(value))
    for number in plt.get_fignums():
        png = io.BytesIO()
        plt.figure(number).savefig(png, format="png", bbox_inches="tight")
        shown.append(("png", png.getvalue()))
    plt.close("all")
    ran.sources.append(source)
    ran.written.append(written.getvalue())
    ran.shown.append(shown)


def shows(value):
    """What Jupyter shows of a value, the richest form that it has."""
    for kind in ("html", "svg"):
        told = getattr(value, f"_repr_{kind}_", lambda: None)()
        if told is not None:
            yield kind, told
            return
    yield "text", repr(value)


def forget(name):
    """Close whatever a notebook left open under a name, as its kernel would when it ends."""
    sys.modules.pop(name, None)
