"""What makes a command: its name and help, the options it takes, what it does with them, and what it ends with."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from dataclasses import dataclass

from mosaickit.errors import MosaickitError, TakenError, UnworkableError, WidthError

OK, NOT_SO, WRONG = 0, 1, 2
"""What a command ends with: all is well; what was asked is not so; a call or a file was wrong."""


@dataclass(frozen=True)
class Command:
    """A command.

    Parameters
    ----------
    name : str
        What is typed after ``mosaickit``.
    summary : str
        What it does, in a line of the help.
    examples : str
        Calls that work, a line each, as its own help shows them.
    options : function
        Adds what it takes to its parser.
    act : function
        Does it, and gives what it ends with.
    """

    name: str
    summary: str
    examples: str
    options: Callable[[argparse.ArgumentParser], None]
    act: Callable[[argparse.Namespace], int]


def complain(error: MosaickitError) -> int:
    """Say in one sentence what is wrong, and give what the command ends with."""
    said = str(error)
    if isinstance(error, TakenError):
        said = f"{error.found} Write {str(error.free)!r}, which is free, or add `--replace` to replace it."
    print(f"mosaickit: {said}", file=sys.stderr)
    return NOT_SO if isinstance(error, UnworkableError | WidthError) else WRONG
