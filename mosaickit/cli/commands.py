"""What makes a command: its name and help, the options it takes, what it does with them, and what it ends with."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from dataclasses import dataclass

from mosaickit.cli.speech import spoken
from mosaickit.errors import MosaickitError, UnworkableError, WidthError

OK, NOT_SO, WRONG = 0, 1, 2
"""What a command ends with: all is well; what was asked is not so; a call or a file was wrong."""

JOBS = (
    "begin",
    "lay it out",
    "look at it",
    "work it",
    "publish it",
    "more",
)
"""The parts of the work, in the order in which a maker comes to them."""


@dataclass(frozen=True)
class Command:
    """A command.

    Parameters
    ----------
    name : str
        What is typed after ``mosaickit``.
    job : str
        Which part of the work it is for, one of `JOBS`; the help lists commands by it.
    summary : str
        What it does, in a line of the help.
    examples : str
        Calls that work, a line each, as its own help shows them.
    options : function
        Adds what it takes to its parser.
    act : function
        Does it, and gives what it ends with.
    writes : bool
        Whether it may write a file, and so replace one.
    """

    name: str
    job: str
    summary: str
    examples: str
    options: Callable[[argparse.ArgumentParser], None]
    act: Callable[[argparse.Namespace], int]
    writes: bool = True


def complain(error: MosaickitError, given: argparse.Namespace) -> int:
    """Say in one sentence what is wrong, in the words of the command, and give what it ends with."""
    print(f"mosaickit: {spoken(error, given)}", file=sys.stderr)
    return NOT_SO if isinstance(error, UnworkableError | WidthError) else WRONG
