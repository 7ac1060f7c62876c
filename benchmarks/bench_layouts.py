"""Layouts: counts and yarn from sums over one repeat, beside building every fabric, and for far larger fabrics."""

from dataclasses import replace
from time import perf_counter

import numpy as np
import pytest

import mosaickit as mk
from mosaickit.fabric import count_rows
from mosaickit.sizes import Layout
from mosaickit.yarn import YarnRates

GAUGE = mk.Gauge(14, 16, over=4, unit="in")
RATES = YarnRates(GAUGE)
FABRICS = 20


@pytest.fixture(scope="module")
def one():
    """One repeat of 25 rows and 20 stitches that can be worked, with its sums."""
    squares = np.random.default_rng(1).random((25, 20)) < 0.5
    return Layout(mk.nearest_workable(mk.Motif(squares)).motif, surround=mk.Surround(colours="swap", edges=1, rings=1))


def candidates(size=1):
    """Repeats across and up of fabrics of 600 rows of 300 stitches on average, or `size` times as many each way."""
    rng = np.random.default_rng(2)
    across, up = (rng.integers(mean * 2 // 3, mean * 4 // 3 + 1, FABRICS) * size for mean in (15, 24))
    return list(zip(across.tolist(), (up // 2 * 2 + 1).tolist(), strict=True))  # a ring wants an odd number of rows


def calculates(one, counts):
    """Count each candidate and its yarn from the sums of the repeat."""
    layouts = (Layout(one.motif, across=across, up=up, surround=one.surround, sums=one.sums) for across, up in counts)
    return [(layout.counts(reversible=True), layout.usage_at(RATES, reversible=True).likely_m) for layout in layouts]


def build(one, counts):
    """Do the same by building, compiling and counting each."""
    for across, up in counts:
        chart = mk.compile_chart(replace(one, across=across, up=up).build(), reversible=True)
        yield count_rows(chart), mk.yarn_usage(chart, GAUGE).total_m.sum()


def seconds(function):
    start = perf_counter()
    function()
    return perf_counter() - start


def test_counts_and_yarn_against_building_every_fabric(one, ratio):
    counts = candidates()
    for (stitches, likely), (rows, expected) in zip(calculates(one, counts), build(one, counts), strict=True):
        assert stitches.sum(axis=0).tolist() == rows.total.tolist()
        assert likely == pytest.approx(expected, rel=1e-9)
    ratio(
        f"counts and yarn of {FABRICS} layouts of about 600 rows × 300 stitches",
        lambda: calculates(one, counts),
        lambda: list(build(one, counts)),
        "each built, compiled and counted",
        rounds=50,
        other_rounds=3,
        at_least=200,
    )


def test_a_larger_fabric_costs_no_more(one, keep_line):
    fabrics = {size: candidates(size) for size in (1, 3, 11)}  # odd, so that a frame still closes
    # taking turns, so that a busy moment meets all alike
    rounds = [[seconds(lambda c=c: calculates(one, c)) for c in fabrics.values()] for _ in range(40)]
    plain, ten, hundred = (min(times) / FABRICS * 1e6 for times in zip(*rounds, strict=True))
    growth = max(ten, hundred) / plain
    line = (
        f"| counts and yarn of a layout of 9 and of 121 times the squares | {ten:.0f} and {hundred:.0f} µs | "
        f"600 rows × 300 stitches: {plain:.0f} µs | {growth:.2f} | within 1.5 |"
    )
    keep_line(line, met=growth <= 1.5)
