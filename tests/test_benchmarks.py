"""The table of benchmarks: what ran is written, what missed is marked, what did not run is left as it was."""

import os
import re
import shutil
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

BENCHMARKS = Path(__file__).parent.parent / "benchmarks"

QUICK = """
def test_kept(keep_line):
    keep_line("| ours, alone | 1 s | other: 2 s | 2.0 | within 3 |", met=True)

def test_ratio(ratio):
    ratio("nothing done", lambda: None, lambda: sum(range(1000)), "a sum", within=1)
"""
MISSING = """
def test_missed(keep_line):
    keep_line("| first | 9 s | other: 2 s | 4.5 | within 3 |", met=False)
    keep_line("| second | 1 s | other: 2 s | 0.5 | within 3 |", met=True)

def test_told_by_an_assert(keep_line):
    keep_line("| third | 9 s | other: 2 s | 4.5 | within 3 |")
    assert 4.5 <= 3

def test_broken():
    raise OSError("no chart")
"""
OLD = """# Anything

## bench_missing.py

| what | ours | beside it | ratio | target | measured |
| --- | --- | --- | --- | --- | --- |
| of a broken benchmark | 1 s | other: 2 s | 0.5 | within 3 | 2001-02-03 |

## bench_quick.py

| what | ours | beside it | ratio | target | measured |
| --- | --- | --- | --- | --- | --- |
| no longer measured | 1 s | other: 2 s | 0.5 | within 3 | 2001-02-03 |
| nothing done | 1 s | a sum: 2 s | 0.5 | within 3 | 2001-02-03 |

## bench_slow.py

| what | ours | beside it | ratio | target | measured |
| --- | --- | --- | --- | --- | --- |
| a week's work | 1 s | other: 2 s | 0.5 | within 3 | 2001-02-03 |
"""


@pytest.fixture
def measure(tmp_path):
    """Run benchmarks of our own in a folder with the project's conftest; gives pytest's end and the lines by file."""
    for name in ("conftest.py", "table.py"):
        shutil.copy(BENCHMARKS / name, tmp_path)
    for name, text in (("bench_quick.py", QUICK), ("bench_missing.py", MISSING), ("README.md", OLD)):
        (tmp_path / name).write_text(text, "utf-8")
    (tmp_path / "pytest.ini").write_text("[pytest]\npython_files = bench_*.py\n", "utf-8")

    def run(*arguments):
        command = [
            sys.executable,
            "-m",
            "pytest",
            "-p",
            "no:cacheprovider",
            "-p",
            "pytest_benchmark.plugin",
            *arguments,
        ]
        # beside a worker of pytest-xdist nothing would be measured, and no other plugin has to do with it
        alone = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST_XDIST")}
        alone["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
        done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, env=alone, timeout=600)
        parts = re.split(r"^## (.+)$", (tmp_path / "README.md").read_text("utf-8"), flags=re.MULTILINE)[1:]
        lines = {
            file: {line.split(" | ")[0][2:]: line for line in part.splitlines()[4:] if line}
            for file, part in zip(parts[::2], parts[1::2], strict=True)
        }
        return done.returncode, lines, done.stdout

    return run


def old(file):
    return [line for line in OLD.split(f"## {file}")[1].split("##")[0].splitlines() if "2001" in line]


def test_a_run_of_one_file_writes_its_lines_and_leaves_all_others(measure):
    ended, lines, said = measure("bench_quick.py")
    assert ended == 0, said
    today = date.today().isoformat()
    assert set(lines["bench_quick.py"]) == {"nothing done", "ours, alone"}, "what is no longer measured is gone"
    assert lines["bench_quick.py"]["ours, alone"] == f"| ours, alone | 1 s | other: 2 s | 2.0 | within 3 | {today} |"
    assert lines["bench_quick.py"]["nothing done"].endswith(f"| within 1 | {today} |")
    assert list(lines["bench_slow.py"].values()) == old("bench_slow.py")
    assert list(lines["bench_missing.py"].values()) == old("bench_missing.py")


def test_a_run_of_one_benchmark_leaves_the_other_lines_of_its_file(measure):
    ended, lines, said = measure("bench_quick.py::test_kept")
    assert ended == 0, said
    assert [*lines["bench_quick.py"].values()][:2] == old("bench_quick.py")
    assert "ours, alone" in lines["bench_quick.py"]


def test_a_miss_is_marked_in_its_line_and_the_run_ends_red(measure):
    ended, lines, said = measure()
    assert ended == 1
    assert "3 failed, 2 passed" in said
    today = date.today().isoformat()
    assert lines["bench_missing.py"] == {
        "of a broken benchmark": old("bench_missing.py")[0],
        "first": f"| first | 9 s | other: 2 s | 4.5 | **missed**: within 3 | {today} |",
        "second": f"| second | 1 s | other: 2 s | 0.5 | within 3 | {today} |",
        "third": f"| third | 9 s | other: 2 s | 4.5 | **missed**: within 3 | {today} |",
    }
    assert "missed:\n| first | 9 s" in said
    assert "ours, alone" in lines["bench_quick.py"], "a miss elsewhere keeps nothing from being written"


def test_a_line_with_a_cell_too_few_is_refused(measure, tmp_path):
    (tmp_path / "bench_quick.py").write_text("def test_it(keep_line):\n    keep_line('| a | b |')\n", "utf-8")
    ended, _, said = measure("bench_quick.py")
    assert ended == 1
    assert "A line of the table has five cells (what, ours, beside it, ratio, target); got '| a | b |'." in said


def test_the_table_of_the_project_is_laid_out_as_a_run_writes_it(monkeypatch):
    monkeypatch.syspath_prepend(BENCHMARKS)
    import table

    path = BENCHMARKS / "README.md"
    lines = table.read(path)
    assert table.written(lines) == path.read_text("utf-8")
    assert set(lines) <= {file.name for file in BENCHMARKS.glob("bench_*.py")}
