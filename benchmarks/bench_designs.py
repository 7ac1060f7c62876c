"""Designs: what is asked of one beyond reading its file, and what a changed square costs in a piece of many repeats."""

from time import perf_counter, process_time

import numpy as np
import pytest

import mosaickit as mk
from mosaickit.sizes import Layout

GAUGE = mk.Gauge(16, 18)
ENDED = mk.Surround(rows_above=1)  # two repeats laid mirrored may end in the middle of one


def worked(rows, stitches):
    """Make a motif that can be worked, of squares by chance."""
    squares = np.random.default_rng(7).random((rows, stitches)) < 0.5
    return mk.nearest_workable(mk.Motif(squares, name="by chance")).motif


def asked(design):
    """Size, stitches and yarn."""
    return design.size, design.counts, design.usage.by_yarn


def test_size_stitches_and_yarn_of_a_large_design_beyond_reading_its_file(keep_line, tmp_path):
    file = mk.save(mk.Design(worked(300, 400), GAUGE, reversible=True), tmp_path / "large.design")
    reading, asking = [], []
    mk.load(file)
    for _ in range(30):
        start = perf_counter()
        design = mk.load(file)
        read = perf_counter()
        asked(design)
        reading.append(read - start)
        asking.append(perf_counter() - read)
    read_s, asked_s = min(reading), min(asking)
    line = (
        f"| size, stitches and yarn of a design of 300 × 400, opened | {asked_s * 1e3:.1f} ms | reading its file: "
        f"{read_s * 1e3:.1f} ms | {asked_s / read_s:.2f} | at most 100 ms |"
    )
    keep_line(line, met=asked_s <= 0.1)


@pytest.mark.parametrize(("laying", "repeats", "most"), [("straight", 1, 1.5), ("mirrored", 2, 2.2)])
def test_one_square_changed_in_a_scarf_of_40_repeats_against_counting_one_repeat(keep_line, laying, repeats, most):
    motif = worked(40, 40)
    scarf = mk.Design(motif, GAUGE, across=4, up=40, laying=laying, seam="shared", reversible=True)
    squares = motif.grid.copy()
    squares[tuple(np.argwhere(motif.overlaid)[0])] ^= True  # an overlaid square made plain: it can be worked still
    changed = motif.with_grid(squares)
    asked(scarf)
    # one repeat is of two laid as asked where every second one is turned; that is how it is counted by sums alone
    unit = scarf.layout.motif
    changed_unit = scarf.but(motif=changed).layout.motif
    ours, alike, sums = [], [], []
    for _ in range(500):
        start = process_time()
        asked(scarf.but(motif=changed))
        ours.append(process_time() - start)
        start = process_time()
        asked(mk.Design(changed, GAUGE, across=repeats, up=repeats, laying=laying, seam="shared", reversible=True))
        alike.append(process_time() - start)
        start = process_time()
        layout = Layout(changed_unit, surround=ENDED)
        layout.counts(True), layout.usage(GAUGE, reversible=True).by_yarn
        sums.append(process_time() - start)
    said = f"| a square changed in a scarf of 4 × 40 repeats of 40 × 40, {laying}: size, stitches and yarn"
    for against, one, limit in (("a design of one repeat", alike, 1.1), ("sums alone of a repeat", sums, most)):
        growth = min(ours) / min(one)
        line = (
            f"{said}, against {against} | {min(ours) * 1e6:.0f} µs | {unit.shape[0]} × {unit.shape[1]}: "
            f"{min(one) * 1e6:.0f} µs | {growth:.2f} | within {limit} |"
        )
        keep_line(line, met=growth <= limit)
