"""What it costs to have a stroke in the journal, beside the least that any journal has to do.

The bare way appends as many bytes as the stroke's row has to a file and has the disk confirm it. Both take turns of a
few strokes, so that what else the machine and the disk do meets both.
"""

import os
from time import perf_counter

import numpy as np
import pytest

import mosaickit as mk
from mosaickit.widgets.sketch import Sketch

TURNS, STROKES_A_TURN = 10, 20
SQUARES = 8
AIM = 3.0  # milliseconds


@pytest.mark.parametrize("size", [40, 200])
def test_a_stroke_in_the_journal_beside_a_bare_write(tmp_path, keep_line, size):
    rng = np.random.default_rng(size)
    ours, bare = [], []
    row = b"x" * (len("paint") + 8 * SQUARES)
    descriptor = os.open(tmp_path / "bare", os.O_CREAT | os.O_WRONLY | os.O_APPEND)
    with Sketch(mk.Motif(rng.random((size, size)) < 0.5), journal=tmp_path / "a.sketch") as sketch:
        for _ in range(TURNS):
            for _ in range(STROKES_A_TURN):
                grid = sketch.motif.grid.copy()
                grid.ravel()[rng.integers(grid.size, size=SQUARES)] ^= True
                stroke = sketch.motif.with_grid(grid)
                start = perf_counter()
                sketch.change(stroke, "paint")
                ours.append(perf_counter() - start)
            for _ in range(STROKES_A_TURN):
                start = perf_counter()
                os.write(descriptor, row)
                os.fsync(descriptor)
                bare.append(perf_counter() - start)
        assert sketch.trouble == ""
    os.close(descriptor)
    (p50, p95), (bare50, bare95) = (1e3 * np.percentile(times, [50, 95]) for times in (ours, bare))
    # means, as a disk may confirm one write at once and the next after many milliseconds
    keep_line(
        f"| a stroke of {SQUARES} squares in the journal, {size} × {size}, p50 and p95 | {p50:.1f} and {p95:.1f} ms | "
        f"a write and fsync of as many bytes: {bare50:.1f} and {bare95:.1f} ms | {np.mean(ours) / np.mean(bare):.1f} "
        f"(means) | none; the disk confirms four times instead of once, and the aim is {AIM:.0f} ms at p95 |"
    )
