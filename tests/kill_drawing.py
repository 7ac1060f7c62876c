"""Draws stroke after stroke into a journal and says the number of each one that is kept, until it is killed."""

import random
import sys

import numpy as np

from mosaickit.motif import Motif
from mosaickit.sketch import Sketch

SQUARES = np.arange(900).reshape(30, 30)


def draw_on(journal, seed):
    """Draw for ever: a picture of n strokes has n CC squares, so it tells how many there are."""
    sketch = Sketch.open(journal, otherwise=Motif(SQUARES < 0))
    rng = random.Random(seed)  # NumPy's takes long to load
    while True:
        strokes = int(sketch.motif.grid.sum())
        sketch.change(sketch.motif.with_grid((0 if strokes >= 800 else strokes + 1) > SQUARES), "stroke")
        if rng.random() < 0.1:
            sketch.undo()
            sketch.redo()
        print(int(sketch.motif.grid.sum()), flush=True)


if __name__ == "__main__":
    draw_on(sys.argv[1], int(sys.argv[2]))
