"""Ratios, not seconds: each benchmark sets our way beside another in one run, and the run writes README.md.

`ratio(...)` times ours with pytest-benchmark and the other way beside it, holds the result against its target and keeps
a line for the table. `keep_line(line, met=...)` keeps a line that is no ratio of two times. A target that is missed
fails its benchmark at the end, when all its lines are kept, and is marked in its line: the table tells what was
measured, good or bad.
"""

import sys
from datetime import date
from pathlib import Path
from statistics import median
from time import perf_counter

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import table

README = Path(__file__).parent / "README.md"
KEPT = pytest.StashKey[list]()  # of a benchmark: its lines, and whether each met its target (None if it does not say)
FAILED = pytest.StashKey[bool]()


def timed(function, rounds):
    """Median seconds of so many calls."""
    times = []
    for _ in range(rounds):
        start = perf_counter()
        function()
        times.append(perf_counter() - start)
    return median(times)


@pytest.fixture
def keep_line(request):
    """Keep a line of the table: what, ours, beside it, ratio, target; `met` says whether it met its target."""

    def keep(line, met=None):
        table.measured(line)
        request.node.stash.setdefault(KEPT, []).append((line, met))

    return keep


@pytest.fixture
def ratio(benchmark, keep_line):
    """Compare `ours` with `other`: either at least so many times faster, or within so many times `other`."""

    def compare(what, ours, other, beside, *, rounds=5, other_rounds=5, at_least=None, within=None):
        ours()  # first calls pay for imports and caches
        other_seconds = timed(other, other_rounds)
        benchmark.pedantic(ours, rounds=rounds)
        seconds = benchmark.stats.stats.median
        value = other_seconds / seconds if at_least else seconds / other_seconds
        target = f"at least {at_least} times faster" if at_least else f"within {within}"
        shown = f"{value:.0f} times faster" if at_least else f"{value:.1f}"
        keep_line(
            f"| {what} | {seconds * 1e3:.1f} ms | {beside}: {other_seconds * 1e3:.1f} ms | {shown} | {target} |",
            met=value >= at_least if at_least else value <= within,
        )

    return compare


@pytest.hookimpl(wrapper=True)
def pytest_pyfunc_call(pyfuncitem):
    """Fail a benchmark that missed a target, after its last line."""
    result = yield
    missed = [line for line, met in pyfuncitem.stash.get(KEPT, []) if met is False]
    if missed:
        pytest.fail("\n".join(["missed:", *missed]), pytrace=False)
    return result


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item, call):
    """Keep whether a benchmark failed, for the marks of its lines."""
    report = yield
    if call.when == "call":
        item.stash[FAILED] = report.failed
    return report


def marks(item):
    """Give each line of a benchmark with its mark; one that failed marks the lines that do not say for themselves."""
    kept = item.stash.get(KEPT, [])
    silent = [line for line, met in kept if met is None]
    explained = not item.stash.get(FAILED, False) or any(met is False for _, met in kept)
    untold = "" if explained else table.MISSED if len(silent) == 1 else table.ONE_MISSED
    return [(line, untold if met is None else "" if met else table.MISSED) for line, met in kept]


def whole(session, file):
    """Say whether all benchmarks of a file were asked for."""
    options = session.config.option
    return not (options.keyword or options.markexpr or any(f"{file}::" in argument for argument in session.config.args))


def pytest_sessionfinish(session):
    """Write the lines that were measured, whatever became of the others."""
    kept = [(item.path.name, line, mark) for item in session.items for line, mark in marks(item)]
    if not kept:
        return
    lines = table.read(README)
    for file, line, mark in kept:
        table.put(lines, file, line, date.today().isoformat(), mark=mark)
    for file in {item.path.name for item in session.items}:
        ran = [item.stash.get(FAILED, True) for item in session.items if item.path.name == file]
        if whole(session, file) and not any(ran):  # what failed or was left out may have lines that it did not reach
            table.keep_only(lines, file, {table.cells(line)[0] for name, line, _ in kept if name == file})
    README.write_text(table.written(lines), "utf-8")
