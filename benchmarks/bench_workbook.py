"""The workbook: what follows a stroke beyond the stroke itself, a long table saved, and what its pages take."""

from io import BytesIO
from itertools import count
from time import process_time

import numpy as np
import pandas as pd

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
