"""How tests are run: the slow ones first or never (--quick), in order or by chance (--shuffle), in CI without skips."""

import faulthandler
import gc
import os
import random
import re
import sys
from collections import Counter

import pytest
from _pytest.faulthandler import fault_handler_stderr_fd_key, get_timeout_config_value

pytest_plugins = ["browsers", "kernels"]  # what starts them

KINDS = {"lab": "in a lab", "browser": "in a browser", "slow": "other slow ones"}
"""What a test is that asks for a fixture; the first that is asked for counts. All of them ask for `slow`."""

KILLED, MUCH = "with kernels that are killed", "that try very much"
HEAVY = (KILLED, MUCH, KINDS["slow"])
"""What may take half a minute and more in a single test."""

LONG = ("ipykernel", "jupyterlab", "chromium", "playwright", "distributed")
"""Programs that no test starts without asking for `slow`."""


def pytest_addoption(parser):
    group = parser.getgroup("mosaickit")
    group.addoption(
        "--quick", action="store_true", help="leave out what asks for `slow` or is `thorough`, and notebooks"
    )
    group.addoption("--shuffle", metavar="SEED", help="run the files, and the tests of each, in an order by chance")


def slowness(item):
    """Say what kind of slow test it is; nothing if it is none."""
    if item.path.suffix == ".ipynb":
        return "cells of notebooks"
    if item.path.stem.endswith("_kernel"):
        return KILLED
    if item.get_closest_marker("thorough"):
        return MUCH
    asked = getattr(item, "fixturenames", ())
    return next((KINDS[name] for name in KINDS if name in asked), None)


def cost_of(items):
    """Guess how long a file takes: a test in a browser as ten others, what is slow otherwise as a hundred.

    Of the latter only functions are counted, as one of many cases takes no longer than one that tries them by itself.
    """
    kinds = {item: slowness(item) for item in items}
    alone = {item.name.partition("[")[0] for item, kind in kinds.items() if kind in HEAVY}
    return 100 * len(alone) + sum(10 if kind and kind not in HEAVY else 1 for kind in kinds.values())


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(config, items):
    files = {}
    for item in items:
        files.setdefault(item.path, []).append(item)
    if config.getoption("shuffle") is not None:
        chance = random.Random(config.getoption("shuffle"))
        order = chance.sample(sorted(files), len(files))
        for path in order:
            if path.suffix != ".ipynb":  # a notebook's cells build on each other
                chance.shuffle(files[path])
    else:  # what takes longest begins first, so that no worker ends long after the other
        order = sorted(files, key=lambda path: -cost_of(files[path]))
    items[:] = [item for path in order for item in files[path]]
    if config.getoption("quick"):
        left_out = [item for item in items if slowness(item)]
        items[:] = [item for item in items if not slowness(item)]
        config.hook.pytest_deselected(items=left_out)
        counts = Counter(map(slowness, left_out))
        config.stash[LEFT_OUT] = counts
        if hasattr(config, "workeroutput"):
            config.workeroutput["left out"] = dict(counts)


@pytest.hookimpl(wrapper=True)
def pytest_collection():
    """Switch the search for garbage off while tests are collected, and have it skip later what was there by then.

    While tests run it is seldom made: they leave little, and searching took half a minute of each worker.
    """
    gc.disable()
    try:
        return (yield)
    finally:
        gc.freeze()
        gc.set_threshold(50_000, 20, 50)
        gc.enable()


LEFT_OUT = pytest.StashKey()


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node):
    """Take over what a worker left out: all of them leave out the same."""
    node.config.stash[LEFT_OUT] = Counter(getattr(node, "workeroutput", {}).get("left out", {}))


# ---- what is said at the end -------------------------------------------------------------------------------


def pytest_terminal_summary(terminalreporter, config):
    counts = config.stash.get(LEFT_OUT, None)
    if config.getoption("quick") and counts is not None:
        parts = ", ".join(f"{kind}: {count}" for kind, count in sorted(counts.items()))
        terminalreporter.write_line(
            f"--quick left out {counts.total()} tests ({parts or 'there was none to leave out'})."
        )
        terminalreporter.write_line("What is tried with random examples was tried with fewer of them.")
    if os.environ.get("CI"):
        terminalreporter.write_line(
            f"Skipped in CI, where nothing may be: {len(terminalreporter.getreports('skipped'))}."
        )


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item, call):
    """Fold what a failed test wrote over and over, as a hundred kernels do, so that it does not bury the failure."""
    report = yield
    if report.failed:
        report.sections = [(title, folded(text)) for title, text in report.sections]
    return report


class AtOnce:
    """Says at once what failed, as the end, where it is told in full, may never come."""

    def __init__(self, reporter):
        self.reporter = reporter

    @pytest.hookimpl(trylast=True)
    def pytest_runtest_logreport(self, report):
        """Name the test, and the first line of why."""
        if report.failed:
            why = next((line for line in report.longreprtext.splitlines() if line.startswith("E ")), "")
            self.reporter.ensure_newline()
            self.reporter.write_line(f"{report.nodeid} failed in its {report.when}. {why}")


@pytest.hookimpl(trylast=True)
def pytest_configure(config):
    reporter = config.pluginmanager.get_plugin("terminalreporter")  # workers have none
    if reporter:
        config.pluginmanager.register(AtOnce(reporter))


def folded(text):
    """Write lines that differ in numbers only once, with how often they came."""
    first, times = {}, Counter()
    for line in text.splitlines():
        alike = re.sub(r"0x[0-9a-f]+|[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}|\d+", "#", line)
        first.setdefault(alike, line)
        times[alike] += 1
    return "".join(
        f"{line}\n" if times[alike] == 1 else f"{line}  (×{times[alike]})\n" for alike, line in first.items()
    )


@pytest.hookimpl(tryfirst=True)
def pytest_sessionfinish(session):
    """Fail in CI if anything was skipped: anyone who may leave something out says so before, by --quick or by name."""
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    if (
        os.environ.get("CI")
        and reporter
        and reporter.getreports("skipped")
        and session.exitstatus == pytest.ExitCode.OK
    ):
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


# ---- nothing hangs unsaid ---------------------------------------------------------------------------------


@pytest.hookimpl(wrapper=True)
def pytest_runtest_teardown(item):
    """Bound what comes after a test too: pytest's own bound ends where a test fails, and what follows may hang."""
    if seconds := get_timeout_config_value(item.config):
        stderr = item.config.stash[fault_handler_stderr_fd_key]
        faulthandler.dump_traceback_later(seconds, file=stderr, exit=True)
    return (yield)


# ---- no test is slow unsaid --------------------------------------------------------------------------------

_quick_test = []


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item):
    """Know, while a test runs, whether it is one that --quick runs."""
    _quick_test[:] = [] if slowness(item) else [item.nodeid]
    try:
        return (yield)
    finally:
        _quick_test.clear()


def _watch(event, given):
    if event == "subprocess.Popen" and _quick_test:
        words = given[1].split() if isinstance(given[1], str) else list(map(os.fsdecode, given[1]))
        # a program's own text may name what it does not start
        command = " ".join(word for before, word in zip(["", *words], words, strict=False) if before != "-c")
        long = next((name for name in LONG if name in command), None)
        if long:
            raise AssertionError(
                f"{_quick_test[0]} starts {long}: ask for the fixture `slow`, so that --quick leaves it out."
            )


sys.addaudithook(_watch)
