"""Sweeps: a candidate beside building it, candidates of far larger fabrics, and two processes beside one."""

import os
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from time import perf_counter, process_time

import numpy as np
import pytest

import mosaickit as mk
from mosaickit.fabric import count_rows

GAUGE = mk.Gauge(14, 16, over=4, unit="in")


@pytest.fixture(scope="module")
def repeats():
    """Ten repeats of 25 rows and 20 stitches that can be worked."""
    rng = np.random.default_rng(5)
    drawn = (mk.Motif(rng.random((25, 20)) < 0.5, name=f"repeat {number}") for number in range(10))
    return [mk.nearest_workable(motif).motif for motif in drawn]


def swept(repeats, *, size=1, edges=5, **batch):
    """Sweep fabrics of 600 rows of 300 stitches on average, or `size` times as many each way: 20,000 for each edge.

    Repeats upward are odd in number, so that every frame closes.
    """
    return mk.sweep(
        repeats,
        GAUGE,
        across=range(5 * size, 25 * size, size),
        up=range(5 * size, 45 * size, 2 * size),
        surrounds=mk.Surround.each(rings=[0, 1, 2, 3, 4], edges=range(edges), colours="swap"),
        batch=mk.Batch(progress=False, **batch),
    )


def seconds(function):
    start = perf_counter()
    result = function()
    return perf_counter() - start, result


def test_a_hundred_thousand_candidates_against_building_each(repeats, keep_line):
    (took, found), (again, _) = seconds(lambda: swept(repeats)), seconds(lambda: swept(repeats))
    table = found.table
    assert len(table) == 100_000
    assert table["can be worked"].all()
    assert table["rows"].mean() == pytest.approx(600, rel=0.1)
    assert table["stitches"].mean() == pytest.approx(300, rel=0.1)

    sample = table.sample(40, random_state=1)

    def build():
        for line in sample.index:
            chart = mk.compile_chart(found.layout(line).build())
            yield count_rows(chart), mk.yarn_usage(chart, GAUGE).total_m.sum()

    (built_took, built), (built_again, _) = seconds(lambda: list(build())), seconds(lambda: list(build()))
    for (counts, likely), (_, line) in zip(built, sample.iterrows(), strict=True):
        assert counts.stitches.sum() == line["rows"] * line["stitches"]
        assert likely == pytest.approx(line["yarn m"], rel=1e-9)
    ours, other = min(took, again) / 100_000, min(built_took, built_again) / 40
    line = (
        f"| a candidate of a sweep of 100,000, about 600 rows × 300 stitches | {ours * 1e6:.0f} µs | each built, "
        f"compiled and counted: {other * 1e6:.0f} µs | {other / ours:.0f} times faster | at least 100 times faster |"
    )
    keep_line(line, met=other / ours >= 100)


def test_a_candidate_of_a_larger_fabric_costs_no_more(repeats, keep_line):
    # odd, so that a frame still closes; taking turns, so that a busy moment meets all alike
    rounds = [[seconds(lambda s=s: swept(repeats, size=s, edges=1))[0] for s in (1, 3, 11)] for _ in range(5)]
    plain, ten, hundred = (min(times) / 20_000 * 1e6 for times in zip(*rounds, strict=True))
    growth = max(ten, hundred) / plain
    line = (
        f"| a candidate of a sweep, 9 and 121 times the squares | {ten:.0f} and {hundred:.0f} µs | "
        f"600 rows × 300 stitches: {plain:.0f} µs | {growth:.2f} | within 1.5 |"
    )
    keep_line(line, met=growth <= 1.5)


@pytest.mark.parametrize(
    ("said", "asked"),
    [
        ("frames and counts", {"across": range(5, 25), "up": range(5, 45, 2)}),
        ("frames and wanted sizes", {"width": range(60, 180, 6), "length": range(100, 260, 8)}),
    ],
)
def test_a_candidate_of_bands_and_borders_against_one_of_a_motif(repeats, keep_line, said, asked):
    end = mk.nearest_workable(mk.Motif(np.random.default_rng(6).random((15, 10)) < 0.5, name="end")).motif
    orders = (
        mk.Bands.mirrored([mk.Band(end, up=2, colours="swap"), mk.Divider(3)]),
        mk.Bands([mk.Band(end, fit="fill"), mk.Plain(2), mk.Field(), mk.Divider(), mk.Field(upside_down=True)]),
    )
    around = mk.Surround(colours="swap")
    pairs = [(motif, bands) for motif in repeats[:5] for bands in orders]
    of_bands = {
        f"order {number}": mk.Design(motif, GAUGE, surround=around, bands=bands)
        for number, (motif, bands) in enumerate(pairs, 1)
    }
    bordered = {motif.name: mk.Design(motif, GAUGE, surround=around).but(border_rounds=2) for motif in repeats}
    cases = {
        "orders of 5 bands": of_bands,
        "motifs with a border of 2 rounds": bordered,
        "orders of 5 bands with a border of 2 rounds": {
            name: design.but(border_rounds=2) for name, design in of_bands.items()
        },
    }

    def microseconds(designs):
        start = process_time()
        found = mk.sweep(
            designs,
            GAUGE,
            surrounds=mk.Surround.each(rings=[0, 1, 2, 3, 4], colours="swap"),
            batch=mk.Batch(progress=False),
            **asked,
        )
        return (process_time() - start) / len(found) * 1e6

    # taking turns, so that a busy moment meets all alike
    rounds = [[microseconds(designs) for designs in (repeats, *cases.values())] for _ in range(4)]
    motifs, *others = (min(times) for times in zip(*rounds, strict=True))
    for case, ours in zip(cases, others, strict=True):
        line = (
            f"| a candidate of a sweep over {case}, {said}, CPU | {ours:.0f} µs | of one motif: {motifs:.0f} µs | "
            f"{ours / motifs:.2f} | within 1.5 |"
        )
        keep_line(line, met=ours / motifs <= 1.5)


@pytest.mark.skipif((os.cpu_count() or 1) < 2, reason="One core: two processes cannot be quicker than one.")
def test_two_processes_against_one(repeats, keep_line):
    def in_processes(count):
        with ProcessPoolExecutor(count, mp_context=get_context("forkserver")) as executor:
            list(executor.map(abs, range(2 * count)))  # the workers are there
            return seconds(lambda: swept(repeats, edges=25, executor=executor))

    # by turns, the quicker of two each: the second core is not always this machine's own
    (one, table), (two, same), (one_again, _), (two_again, _) = (in_processes(count) for count in (1, 2, 1, 2))
    one, two = min(one, one_again), min(two, two_again)
    assert same.table.equals(table.table)
    line = (
        f"| a sweep of 500,000 candidates in two processes | {two:.1f} s | in one process: {one:.1f} s | "
        f"{one / two:.2f} times faster | at least 1.6 times faster |"
    )
    keep_line(line, met=one / two >= 1.6)
