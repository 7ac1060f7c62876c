"""The workbook: what follows a stroke beyond the stroke itself, a long table saved, and what its pages take."""

import re
import subprocess
import sys
from io import BytesIO
from itertools import count
from pathlib import Path
from statistics import median
from time import process_time

import matplotlib

matplotlib.use("Agg")

import matplotlib.pyplot as plt
import numpy as np
import pandas as pd

sys.path.insert(0, str(Path(__file__).parent.parent / "tests"))

from books import HandAtBook
from lab import settle

import mosaickit as mk
from mosaickit.batches import Batch
from mosaickit.tables import TableFile
from mosaickit.widgets import MotifPainter, Workbook

GAUGE = mk.Gauge(16, 17)
LARGE = mk.nearest_workable(mk.Motif(np.random.default_rng(1).random((300, 400)) < 0.35)).motif


class Painting:
    """A hand that makes one overlaid square after the other plain, so that the picture can be worked all the time."""

    def __init__(self, painter):
        self.painter, self.numbers = painter, count(1)
        own = LARGE.row_is_cc
        self.squares = iter(np.argwhere(LARGE.grid != own).tolist())
        self.colours = own[:, 0].astype(int).tolist()

    def stroke(self):
        """Paint one square."""
        top, left = next(self.squares)
        message = {"view": "v", "seq": next(self.numbers), "kind": "paint", "tool": "brush"}
        squares = np.array([[left, top]], dtype="<i4").tobytes()
        self.painter._receive(None, {**message, "colour": self.colours[top]}, [squares])


def test_a_stroke_until_the_ledger_has_followed_against_the_stroke_alone(ratio, tmp_path):
    design = mk.Design(LARGE, GAUGE, reversible=True)
    book = Workbook(design, autosave=tmp_path / "book.sketch")
    ours, alone = Painting(book.painter), Painting(MotifPainter(design, autosave=tmp_path / "alone.sketch"))
    ratio(
        "a stroke in 300 × 400 squares until size, yarn and both faces have followed",
        ours.stroke,
        alone.stroke,
        "the stroke in the painter alone",
        rounds=25,
        other_rounds=25,
        within=6,
    )
    assert book.ledger["wrong"] is None


# ---- how it begins -----------------------------------------------------------------------------------------


def in_a_new_process(code, folder):
    """CPU seconds that some lines take in a process of their own, the least of three, as others are in the way."""
    timed = f"from time import process_time\nbegun = process_time()\n{code}\nprint(process_time() - begun)"
    runs = (
        subprocess.run([sys.executable, "-c", timed], capture_output=True, check=True, cwd=folder) for _ in range(3)
    )
    return min(float(run.stdout) for run in runs)


def test_a_workbook_in_a_new_process_against_what_any_widget_and_any_file_loads(keep_line, tmp_path):
    ours = in_a_new_process("import mosaickit as mk\nmk.widgets.Workbook()", tmp_path)
    alone = in_a_new_process("import anywidget, numpy, pydantic, PIL.Image", tmp_path)
    keep_line(
        f"| an empty workbook in a new process, CPU | {ours:.2f} s | anywidget, NumPy, pydantic and Pillow loaded "
        f"alone: {alone:.2f} s | {ours / alone:.1f} | within 4 |",
        met=ours <= 4 * alone,
    )


# ---- a long table ------------------------------------------------------------------------------------------

LINES = 95_000


def many_pieces():
    """Work out so many pieces of a small motif, as the panel Many does."""
    leaf = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf")
    swept = mk.sweep(
        {"leaf": leaf},
        [GAUGE, mk.Gauge(17, 18), mk.Gauge(18, 19)],
        width=list(range(20, 120, 10)),
        length=list(range(20, 120, 10)),
        surrounds=mk.Surround.each(rings=range(4), edges=range(1, 5), colours=["keep", "swap"]),
        reversible=[False, True],
        tolerance=0.05,
        batch=Batch(progress=False),
    )
    assert len(swept.table) >= LINES
    return swept.table.iloc[:LINES]


def by_cells(table):
    """Give the file as openpyxl makes it of one object a cell, with texts that begin like formulas made texts again."""
    data = BytesIO()
    with pd.ExcelWriter(data, engine="openpyxl") as writer:
        table.to_excel(writer, freeze_panes=(1, 1))
        for row in writer.book.worksheets[0].iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    cell.data_type = "s"
    return data.getvalue()


def of_cpu(work):
    """Do something, and give what came of it and the seconds of CPU it took."""
    begun = process_time()
    made = work()
    return made, process_time() - begun


def test_a_long_table_as_a_spreadsheet_against_one_made_of_cells(keep_line):
    table = many_pieces()
    file, ours = of_cpu(lambda: TableFile(table, ".xlsx").data)
    other, theirs = of_cpu(lambda: by_cells(table))
    ours_read, theirs_read = (pd.read_excel(BytesIO(each), nrows=100) for each in (file, other))
    pd.testing.assert_frame_equal(ours_read, theirs_read, rtol=1e-14)  # which has 16 digits of a number
    keep_line(
        f"| {LINES:,} lines of {1 + table.shape[1]} columns saved as XLSX, CPU | {ours:.1f} s | pandas and openpyxl, "
        f"one object a cell: {theirs:.1f} s | {theirs / ours:.0f} times faster | at least 5 times faster |",
        met=theirs >= 5 * ours,
    )
    keep_line(
        f"| size of that file | {len(file) / 1e6:.1f} MB | pandas and openpyxl: {len(other) / 1e6:.1f} MB | "
        f"{len(file) / len(other):.2f} | within 1.2 |",
        met=len(file) <= 1.2 * len(other),
    )


# ---- the part that is looked at as yarn --------------------------------------------------------------------


def test_a_part_as_yarn_against_a_chart_drawn_worked(ratio, tmp_path):
    squares = mk.Motif(np.random.default_rng(1).random((60, 60)) < 0.5)
    design = mk.Design(mk.nearest_workable(squares).motif, GAUGE, reversible=True)
    hand = HandAtBook(Workbook(design, autosave=tmp_path / "yarn.sketch"))
    hand.open("look")
    hand.press("look", "part", row=1, stitch=1, rows=60, stitches=60)

    def ours():
        assert hand.press("look", "draw")["picture"]

    def drawn():
        _, ax = plt.subplots()
        mk.draw.worked(design.chart, gauge=GAUGE, ax=ax)
        ax.figure.savefig(BytesIO(), format="png")
        plt.close("all")

    what = "a part of 60 × 60 stitches as yarn, on the panel Look"
    ratio(what, ours, drawn, "`mk.draw.worked`, saved as PNG", within=0.5)


# ---- in a real browser -------------------------------------------------------------------------------------

SHOWN = """begun = perf_counter()
display(mk.widgets.Workbook(mk.Design(%s, gauge, reversible=True), autosave='%s.sketch'))
print("Python took", perf_counter() - begun, "s")"""
NOTEBOOK = [
    """import anywidget, numpy as np, mosaickit as mk
from time import perf_counter
class Echo(anywidget.AnyWidget):
    _esm = "export default { render({ el }) { el.innerHTML = '<button class=echo>echo</button>'; } }"
rng = np.random.default_rng(1)
large = mk.nearest_workable(mk.Motif(rng.random((300, 400)) < 0.35)).motif
small = mk.nearest_workable(mk.Motif(rng.random((60, 60)) < 0.35)).motif
gauge = mk.Gauge(16, 17)""",
    *[cell for number in range(4) for cell in ("Echo()", SHOWN % ("large", number))],
    SHOWN % ("small", "small"),
]

# runs the next cell of a notebook that shows nothing else, and waits until so many things of a kind are there and drawn
OPENED = """async ([selector, many]) => {
    await jupyterapp.commands.execute("notebook:clear-all-cell-outputs");
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
    const start = performance.now();
    jupyterapp.commands.execute("notebook:run-cell-and-select-next");
    while (document.querySelectorAll(selector).length < many) await new Promise(requestAnimationFrame);
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
    return performance.now() - start;
}"""

# one pointer event a frame, over the last painter of the page; at rest the same frames go by without one
DRAGGED = """async (steps) => {
    const canvas = [...document.querySelectorAll(".mk-canvas")].at(-1);
    canvas.scrollIntoView({ block: "center" });
    canvas.setPointerCapture = () => {}; canvas.hasPointerCapture = () => true;
    const box = canvas.getBoundingClientRect();
    const event = (kind, step) => canvas.dispatchEvent(new PointerEvent(kind, { button: 0, pointerId: 1, bubbles: true,
        clientX: box.left + box.width * (0.2 + 0.5 * step / steps),
        clientY: box.top + box.height * (0.6 - 0.3 * step / steps) }));
    const frames = async (each) => {
        const times = [];
        let before = await new Promise(requestAnimationFrame);
        for (let step = 0; step < steps; step++) {
            each(step);
            const now = await new Promise(requestAnimationFrame);
            times.push(now - before);
            before = now;
        }
        return times;
    };
    const atRest = await frames(() => {});
    event("pointerdown", 0);
    const moving = await frames((step) => event("pointermove", step));
    event("pointerup", steps);
    return [atRest, moving];
}"""

# strokes of one square, and how long it takes until a face beside the painter shows another picture, or none
FOLLOWED = """async (strokes) => {
    const canvas = [...document.querySelectorAll(".mk-canvas")].at(-1);
    canvas.scrollIntoView({ block: "center" });
    canvas.setPointerCapture = () => {}; canvas.hasPointerCapture = () => true;
    const box = canvas.getBoundingClientRect();
    const faces = () => [...document.querySelectorAll(".mk-book .mk-faces canvas")].map((face) =>
        new Uint32Array(face.getContext("2d").getImageData(0, 0, face.width, face.height).data.buffer));
    const alike = (one, other) => one.length === other.length && one.every((dot, at) => dot === other[at]);
    const same = (one, other) => one.length === other.length && one.every((face, at) => alike(face, other[at]));
    const frame = () => new Promise(requestAnimationFrame);
    const times = [];
    for (let stroke = 0; stroke < strokes; stroke++) {
        const before = faces();
        const place = { button: 0, pointerId: 1, bubbles: true,
            clientX: box.left + box.width * (0.3 + 0.01 * stroke), clientY: box.top + box.height * 0.5 };
        const start = performance.now();
        canvas.dispatchEvent(new PointerEvent("pointerdown", place));
        canvas.dispatchEvent(new PointerEvent("pointerup", place));
        let waited = 0;
        while (same(before, faces()) && ++waited < 120) await frame();
        if (waited === 120) continue; // the square had the colour already
        times.push(performance.now() - start);
        const buttons = [...document.querySelectorAll(".mk-book-head button")];
        buttons.filter((each) => /Undo/.test(each.textContent)).at(-1).click();
        while (!same(before, faces())) await frame();
    }
    return times;
}"""


def test_a_workbook_is_opened_and_drawn_in(open_notebook, lab, keep_line):
    for file in lab.root.glob("*.sketch"):
        file.unlink()
    page = open_notebook("bench.ipynb", NOTEBOOK, kernel="python3")  # as readers start it
    page.evaluate("jupyterapp.commands.execute('notebook:run-cell-and-select-next')")
    echoes, opened = [], []
    for _ in range(4):
        settle(page)
        echoes.append(page.evaluate(OPENED, [".echo", 1]))
        settle(page)
        whole = page.evaluate(OPENED, [".mk-book .mk-faces canvas", 2])
        told = page.locator("pre", has_text=re.compile(r"^Python took [\d.]+ s")).first
        python = 1e3 * float(told.text_content().split()[2])
        opened.append((whole - python, python))
    # the first pays for what is loaded; the least disturbed counts
    (ours, python), echo = min(opened), min(echoes)
    keep_line(
        f"| a workbook of 300 × 400 squares opened, the page's part | {ours:.0f} ms, of which any widget takes "
        f"{echo:.0f} ms | Python's part: {python:.0f} ms | {ours / python:.1f} | within 12; the aim is 1 s |",
        met=ours <= 12 * python,
    )
    settle(page)
    followed = page.evaluate(FOLLOWED, 20)
    assert len(followed) >= 5
    keep_line(
        f"| a stroke in 300 × 400 squares of the workbook until its faces have followed, median | "
        f"{median(followed):.0f} ms | a workbook of them opened: {ours + python:.0f} ms | "
        f"{median(followed) / (ours + python):.2f} | within 0.5 |",
        met=median(followed) <= 0.5 * (ours + python),
    )
    page.evaluate(OPENED, [".mk-book .mk-faces canvas", 2])
    at_rest, moving = page.evaluate(DRAGGED, 80)
    keep_line(
        f"| a frame while 80 squares are dragged over 60 × 60 in the workbook, median | {median(moving):.1f} ms | a "
        f"frame at rest: {median(at_rest):.1f} ms | {median(moving) / median(at_rest):.2f} | at most 1.5 |",
        met=median(moving) <= 1.5 * median(at_rest),
    )
