"""The table of benchmarks as a file that is read, changed line by line and written again.

A line is known by its file and by what it measures, its first cell. A run changes the lines that it measured and dates
them; all others keep their figures and the date these are from. A line leaves the table only when its whole file ran
and no longer measures it.
"""

from pathlib import Path

HEAD = """# Benchmarks

Each line sets two ways beside each other in one run, so that the ratio means the same on any machine. All, or one file:

    python start.py run -m pytest benchmarks
    python start.py run -m pytest benchmarks/bench_core.py

A run replaces the lines that it measured; "measured" says of when each is. A line that misses its target says so.
"""
COLUMNS = "| what | ours | beside it | ratio | target | measured |\n| --- | --- | --- | --- | --- | --- |\n"
MISSED = "**missed**: "
ONE_MISSED = "**this or another line of its benchmark missed**: "

Table = dict[str, dict[str, list[str]]]


def cells(line: str) -> list[str]:
    """Take a line of the table apart; what stands between its bars is one cell each."""
    return [cell.strip() for cell in line.strip().removeprefix("|").removesuffix("|").split("|")]


def measured(line: str) -> list[str]:
    """Take apart what a benchmark has to say, and complain if it is no line of this table."""
    found = cells(line)
    if len(found) != 5:
        raise ValueError(f"A line of the table has five cells (what, ours, beside it, ratio, target); got {line!r}.")
    return found


def read(path: Path) -> Table:
    """Read the lines of each file, by what they measure."""
    table: Table = {}
    for line in path.read_text("utf-8").splitlines() if path.is_file() else []:
        if line.startswith("## "):
            lines = table.setdefault(line[3:], {})
        elif line.startswith("| ") and not line.startswith(("| what", "| ---")):
            lines[cells(line)[0]] = cells(line)
    return table


def put(table: Table, file: str, line: str, day: str, *, mark: str = "") -> None:
    """Put a line of five cells in the place of the one that measured the same."""
    *said, target = measured(line)
    table.setdefault(file, {})[said[0]] = [*said, mark + target, day]


def keep_only(table: Table, file: str, measured: set[str]) -> None:
    """Drop the lines of a file that ran as a whole and no longer measures them."""
    table[file] = {what: line for what, line in table.get(file, {}).items() if what in measured}


def written(table: Table) -> str:
    """Write the table out, the files in order of their names."""
    parts = [
        f"\n## {file}\n\n{COLUMNS}" + "".join(f"| {' | '.join(line)} |\n" for line in lines.values())
        for file, lines in sorted(table.items())
        if lines
    ]
    return HEAD + "".join(parts)
