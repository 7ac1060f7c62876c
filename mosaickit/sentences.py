"""What the sentences of errors are made of: values cut short, counts with their word, lines as a notebook shows them.

They are taken from `errors`, as the checks of arguments are.
"""

from __future__ import annotations

import linecache
import sys
from textwrap import wrap
from traceback import walk_tb

LONGEST_SHOWN = 100
"""The most characters of a line in which a notebook shows an error; only a longer word makes a longer line."""

MOST_SHOWN_OF_A_VALUE = 200
"""The most characters that an error shows of a value that was given; the rest is cut, with “…”."""


def shortly(value: object) -> str:
    """Write a value of any size as an error shows it, cut short if it is long."""
    text = repr(value)
    return text if len(text) <= MOST_SHOWN_OF_A_VALUE else f"{text[:MOST_SHOWN_OF_A_VALUE]}…"


def number_of(count: int, what: str) -> str:
    """Say how many of something there are: "1 row", "3 rows", "2 stitches".

    Examples
    --------
    >>> number_of(1, "stitch"), number_of(1200, "overlaid stitch")
    ('1 stitch', '1,200 overlaid stitches')
    """
    ending = "" if count == 1 else "es" if what.endswith("ch") else "s"
    return f"{count:,} {what}{ending}"


def lines_in_a_notebook(error: Exception) -> list[str]:
    """Give the lines that IPython is to show of an error: its sentence, and the line of the cell it comes from."""
    shell = sys.modules["IPython"].get_ipython()
    if shell.InteractiveTB.mode == "Verbose":
        lines: list[str] = shell.InteractiveTB.structured_traceback(type(error), error, error.__traceback__)
        return lines
    typed = [place for place in walk_tb(error.__traceback__) if place[0].f_globals is shell.user_ns]
    if typed:
        frame, number = typed[-1]
        cell = linecache.getlines(frame.f_code.co_filename)
        if len(cell) > 1:
            return [*_wrapped(str(error)), f"Line {number} of the cell: {cell[number - 1].strip()}"]
    return _wrapped(str(error))


def _wrapped(sentences: str) -> list[str]:
    """Break lines between words, as a notebook would break them anywhere."""
    return [short for line in sentences.splitlines() for short in wrap(line, LONGEST_SHOWN, break_long_words=False)]
