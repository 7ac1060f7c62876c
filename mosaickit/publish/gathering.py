"""A table of rows, shorter: rows that take the same stand in one line, so that a repeat is told once."""

from __future__ import annotations

from dataclasses import replace

from mosaickit.publish.contents import PageTable

SHORTENED = 4
"""A run of this many numbers or more is written with its first two and its last."""


def gathered(table: PageTable, step: int) -> PageTable:
    """Put the rows of a table, each labelled as "Row 5", that say the same into one line; the last line stays.

    Parameters
    ----------
    table : PageTable
        Its last line is the sum.
    step : int
        After how many rows all comes again.

    Examples
    --------
    >>> lines = (("Row 1", "MC"), ("Row 2", "CC"), ("Row 3", "MC"), ("Row 4", "CC"), ("All", ""))
    >>> [line[0] for line in gathered(PageTable("", ("Row", "Colour"), lines, ()), 2).lines]
    ['Rows 1, 3', 'Rows 2, 4', 'All']
    """
    rows: dict[tuple[str, ...], list[int]] = {}
    word = table.head[0]
    others = []
    for label, *said in table.lines[:-1]:
        if label.startswith(f"{word} "):
            rows.setdefault(tuple(said), []).append(int(label.split()[-1]))
        else:  # what is beyond the rows
            others.append((label, *said))
    lines = ((f"{word}{'s' * (len(numbers) > 1)} {listed(numbers, step)}", *said) for said, numbers in rows.items())
    return replace(table, lines=(*lines, *others, table.lines[-1]), wide=0)


def listed(numbers: list[int], step: int) -> str:
    """List numbers, first those that come again and again after a step.

    Examples
    --------
    >>> listed([3, 7, 11, 29, 33, 51, 55, 73], 22)
    '3; 7, 29 … 73; 11, 33, 55'
    """
    left, runs = sorted(numbers), []
    while left:
        run = [left[0]]
        while run[-1] + step in left:
            run.append(run[-1] + step)
        left = [number for number in left if number not in run]
        runs.append(run)
    shown = (f"{run[0]}, {run[1]} … {run[-1]}" if len(run) >= SHORTENED else ", ".join(map(str, run)) for run in runs)
    return ("; " if any(len(run) > 1 for run in runs) else ", ").join(shown)
