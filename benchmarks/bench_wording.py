"""Written rows: the shortest words beside a plain search, and reading, which takes time in step with the text."""

import os
import subprocess
import sys
from time import perf_counter

import numpy as np
from test_wording_borders import HOSTILE
from wording_opponents import NUMBER, naive_length

import mosaickit as mk
from mosaickit.wording import read_rows, short, write_rows
from mosaickit.wording.shortening import shortest

LETTER = {number: letter for letter, number in NUMBER.items()}


def picture(rows, columns, repeat):
    """Make a chart of a chance picture of so many columns, repeated across."""
    squares = np.random.default_rng(5).random((rows, repeat)) < 0.4
    motif = mk.nearest_workable(mk.Motif(squares)).motif
    return mk.compile_chart(mk.repeat(motif, across=columns // repeat), reversible=True)


def seconds(function):
    start = perf_counter()
    function()
    return perf_counter() - start


def test_the_shortest_words_against_a_plain_search(ratio):
    chart = picture(31, 120, 20)
    rows = ["".join(LETTER[int(stitch)] for stitch in row) for row in chart.stitches[::6]]
    ours = [len(short(shortest(row))) for row in chart.stitches[::6]]
    assert ours == [naive_length(row) for row in rows]
    ratio(
        "the shortest words of 6 rows of 120 stitches",
        lambda: [shortest(row) for row in chart.stitches[::6]],
        lambda: [naive_length(row) for row in rows],
        "every part tried at every place",
        other_rounds=1,
        at_least=10,
    )


def test_a_chart_in_words(keep_line):
    repeated, freehand = picture(101, 200, 20), picture(101, 200, 200)
    times = [min(seconds(lambda c=chart: write_rows(c, repeat=20)) for _ in range(3)) for chart in (repeated, freehand)]
    text = str(write_rows(freehand, repeat=20))
    reading = min(seconds(lambda: read_rows(text)) for _ in range(3))
    line = (
        f"| 101 rows × 200 stitches in words, of a repeat of 20 stitches and of no repeat | {times[0]:.2f} and "
        f"{times[1]:.2f} s | the second read again: {reading:.2f} s | {max(times) / reading:.1f} | within 5; the aim "
        "is 2 s each |"
    )
    keep_line(line, met=max(times) / reading <= 5)


def test_reading_takes_time_in_step_with_the_text(keep_line):
    texts = [str(write_rows(picture(rows, 100, 100))) for rows in (25, 101)]
    times = [min(seconds(lambda t=text: read_rows(t)) for _ in range(3)) / len(text) * 1e6 for text in texts]
    growth = times[1] / times[0]
    line = (
        f"| reading {len(texts[1]):,} characters of written rows | {times[1]:.1f} µs a character | "
        f"{len(texts[0]):,} characters: {times[0]:.1f} µs | {growth:.2f} | within 1.5 |"
    )
    keep_line(line, met=growth <= 1.5)


_READ = """
import sys
from mosaickit.errors import MosaickitError
from mosaickit.wording import read_rows
import mosaickit.fabric.stitches
start, again, characters = sys.argv[1], sys.argv[2], int(sys.argv[3])
try:
    read_rows((start + again * (characters // max(len(again), 1) + 1))[:characters])
except MosaickitError:
    pass
"""


def spent(start, again, characters):
    """Read a text of so many characters in a process of its own; give its seconds of CPU and its MB at most."""
    child = subprocess.Popen([sys.executable, "-c", _READ, start, again, str(characters)])
    _, status, used = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    assert child.returncode == 0
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def test_texts_without_end_take_time_in_step_with_their_length(keep_line):
    texts = HOSTILE | {
        "two times over and over": ("Written in US terms.\nRow 1 (MC): sc in next st, ", "[sc in next st] 2 times, "),
        "rows without end": ("Written in US terms.\n", "Row 1 (MC): sc in next 4 sts. (4 sts)\n"),
    }
    nothing, _ = spent("", "", 0)
    times = {what: [spent(*text, most) for most in (2_000_000, 4_000_000)] for what, text in texts.items()}
    worst = max(times, key=lambda what: times[what][1][0])
    (half, _), (whole, _) = times[worst]
    most = max(memory for runs in times.values() for _, memory in runs)
    growth = (whole - nothing) / max(half - nothing, 0.05)
    line = (
        f"| 4,000,000 characters that are no pattern, of {len(texts)} kinds, the slowest: {worst} | {whole:.1f} s of "
        f"CPU, {most:.0f} MB at most | 2,000,000 of them: {half:.1f} s | {growth:.1f} | within 2.6; the aim is 3 s and "
        "500 MB |"
    )
    keep_line(line, met=growth <= 2.6 and most <= 500)
