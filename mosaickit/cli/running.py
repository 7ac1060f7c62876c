"""The commands put together, and one of them run."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

import mosaickit as mk
from mosaickit.cli import chart, check, compare, edit, lab, pattern, share, widths
from mosaickit.cli.commands import NOT_SO, WRONG, Command, complain
from mosaickit.errors import MosaickitError

COMMANDS: tuple[Command, ...] = tuple(
    module.COMMAND for module in (lab, check, chart, pattern, edit, widths, compare, share)
)
"""All commands, in the order of the help."""


class _Parser(argparse.ArgumentParser):
    """A parser whose complaint is one sentence."""

    def error(self, message: str) -> NoReturn:
        self.exit(WRONG, f"{self.prog}: {message[:1].upper()}{message[1:]}; `{self.prog} --help` shows how.\n")


def parser() -> argparse.ArgumentParser:
    """Make the parser of the whole command line."""
    whole = _Parser(
        prog="mosaickit",
        description="From an idea on a grid to a proven pattern: two-colour overlay mosaic crochet.",
        epilog="Ends with 0 if all is well, 1 if what was asked is not so, 2 if a call or a file was wrong.",
    )
    whole.add_argument("--version", action="version", version=f"mosaickit {mk.__version__}")
    added = whole.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for command in COMMANDS:
        own = added.add_parser(
            command.name,
            help=command.summary,
            description=f"{command.summary[:1].upper()}{command.summary[1:]}.",
            epilog=f"examples:\n{command.examples}",
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        own.add_argument("--replace", action="store_true", help="replace a file of another design that is there")
        command.options(own)
        own.set_defaults(act=command.act)
    return whole


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give what it ends with: 0, 1 or 2.

    Parameters
    ----------
    arguments : sequence of str, optional
        What was typed after ``mosaickit``; that of this process if left out.
    """
    given = parser().parse_args(arguments)
    try:
        ended: int = given.act(given)
        return ended
    except MosaickitError as error:
        return complain(error)


def run() -> NoReturn:
    """Run the command of this process, and end it."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):  # a console that lacks a character shows another in its place
            stream.reconfigure(errors="replace")
    try:
        ended = main()
        sys.stdout.flush()
    except BrokenPipeError:  # anyone who read what was printed has had enough of it
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        ended = NOT_SO
    except KeyboardInterrupt:
        ended = 130  # as a shell says it
    sys.exit(ended)
