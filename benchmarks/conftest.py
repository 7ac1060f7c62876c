"""Ratios, not seconds: each benchmark sets our way beside another in one run, and the run writes README.md.

`ratio(...)` times ours with pytest-benchmark and the other way beside it, holds the result against its target and
keeps a line for the table, which is written when every benchmark ran.
"""

from pathlib import Path
from statistics import median
from time import perf_counter

import pytest

README = Path(__file__).parent / "README.md"
HEAD = """# Benchmarks

Each line sets two ways beside each other in one run, so that the ratio means the same on any machine. Made by

    python start.py run -m pytest benchmarks

| what | ours | beside it | ratio | target |
| --- | --- | --- | --- | --- |
"""
LINES = {}


def timed(function, rounds):
    """Median seconds of so many calls."""
    times = []
    for _ in range(rounds):
        start = perf_counter()
        function()
        times.append(perf_counter() - start)
    return median(times)


@pytest.fixture
def ratio(benchmark, request):
    """Compare `ours` with `other`: either at least so many times faster, or within so many times `other`."""

    def compare(what, ours, other, beside, *, rounds=5, other_rounds=5, at_least=None, within=None):
        ours()  # first calls pay for imports and caches
        other_seconds = timed(other, other_rounds)
        benchmark.pedantic(ours, rounds=rounds)
        seconds = benchmark.stats.stats.median
        value = other_seconds / seconds if at_least else seconds / other_seconds
        target = f"at least {at_least} times faster" if at_least else f"within {within}"
        shown = f"{value:.0f} times faster" if at_least else f"{value:.1f}"
        LINES[request.node.nodeid] = (
            f"| {what} | {seconds * 1e3:.1f} ms | {beside}: {other_seconds * 1e3:.1f} ms | {shown} | {target} |"
        )
        assert value >= at_least if at_least else value <= within, LINES[request.node.nodeid]

    return compare


@pytest.fixture
def keep_line(request):
    """Keep a line of the table that is no ratio of times, as the size of a file."""
    return lambda line: LINES.__setitem__(request.node.nodeid + line, line)


def pytest_sessionfinish(session, exitstatus):
    """Write the table when all benchmarks ran and passed."""
    if exitstatus == 0 and len({item.nodeid.split("::")[0] for item in session.items}) > 1:
        README.write_text(HEAD + "\n".join(LINES.values()) + "\n", "utf-8")
