"""Draws random strokes into a journal and says the number of each one that is kept, until it is killed."""

import sys

import numpy as np

from mosaickit.motif import Motif
from mosaickit.sketch import Sketch

sketch = Sketch.open(sys.argv[1], otherwise=Motif(np.zeros((30, 30), dtype=bool)))
rng = np.random.default_rng(int(sys.argv[2]))
while True:
    # stroke number n makes n CC squares in reading order, so that a picture tells how many strokes it has
    count = int(sketch.motif.grid.sum()) + 1
    if count > 800:
        grid = np.zeros((30, 30), dtype=bool)
    else:
        grid = np.arange(900).reshape(30, 30) < count
    sketch.change(sketch.motif.with_grid(grid), "stroke")
    if rng.random() < 0.1:
        sketch.undo()
        sketch.redo()
    print(int(sketch.motif.grid.sum()), flush=True)
