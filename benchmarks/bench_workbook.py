"""The workbook: what everything that follows a stroke costs beyond the stroke, in a picture of 300 × 400 squares."""

from itertools import count

import numpy as np

import mosaickit as mk
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
