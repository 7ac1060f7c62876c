"""The commands put together, and one of them run."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from typing import Any, NoReturn

import mosaickit as mk
from mosaickit.cli import (
    bands,
    chart,
    check,
    compare,
    completion,
    edges,
    edit,
    frame,
    lab,
    new,
    pattern,
    read,
    repeat,
    rows,
    share,
    sizes,
    widths,
    yarn,
)
from mosaickit.cli.commands import JOBS, NOT_SO, WRONG, Command, complain
from mosaickit.cli.speech import in_quotes, words_of
from mosaickit.errors import MosaickitError

COMMANDS: tuple[Command, ...] = tuple(
    module.COMMAND
    for module in (
        *(lab, new, read),
        *(repeat, frame, edges, bands, widths, sizes),
        *(check, chart, compare),
        *(rows, yarn),
        *(pattern, edit, share),
        completion,
    )
)
"""All commands, in the order of the help."""

_ABOUT = """\
From an idea on a grid to a proven pattern: two-colour overlay mosaic crochet.

Most commands take the file of a motif or a design and write another file, so that one goes on where another ended:

  mosaickit new boat.png boat.design --gauge "16 x 18"       a picture becomes a design
  mosaickit repeat boat.design scarf.design --across 3 --up 7 --colours swap
  mosaickit frame scarf.design framed.design --rings 2
  mosaickit pattern framed.design scarf.pdf --title "Boat scarf"
"""

_ENDS = """\
`mosaickit COMMAND --help` says what a command takes, with examples. A file of another design is never replaced unless
`--replace` says so, and nothing is written when something is wrong.

ends with:
  0  all is well
  1  what was asked is not so: it cannot be worked, nothing fits, something differs or is marked as an error
  2  the command was not called as its help says, or a file could not be read or written"""


class _Parser(argparse.ArgumentParser):
    """A parser whose complaint is one sentence, and that takes files and options in any order.

    argparse ends the places at the first option where some of them may be left out, as OUT in `rows FILE --size M OUT`.
    """

    _mixing = False

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> Any:  # noqa: ANN401 — as argparse has it
        optional = any(action.nargs in ("?", "*") and not action.option_strings for action in self._actions)
        # where help is asked for it is to show the places too, which are left out while options are read
        if self._mixing or not optional or {"-h", "--help"} & {*(args or ())}:
            return super().parse_known_args(args, namespace)
        self._mixing = True
        try:
            return self.parse_known_intermixed_args(args, namespace)
        finally:
            self._mixing = False

    def error(self, message: str) -> NoReturn:
        said = in_quotes(f"{message[:1].upper()}{message[1:]}".rstrip("."))
        self.exit(WRONG, f"{self.prog}: {said}; `{self.prog} --help` shows how.\n")


def parser() -> argparse.ArgumentParser:
    """Make the parser of the whole command line."""
    whole = _Parser(
        prog="mosaickit",
        usage="mosaickit COMMAND ...",
        description=f"{_ABOUT}\n{_listed()}",
        epilog=_ENDS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        add_help=False,
    )
    whole.add_argument("-h", "--help", action="help", help="show this help")
    whole.add_argument("--version", action="version", version=f"mosaickit {mk.__version__}", help="print the version")
    added = whole.add_subparsers(
        dest="command", metavar="COMMAND", required=True, prog="mosaickit", help=argparse.SUPPRESS
    )
    each: dict[str, _Parser] = {}
    for command in COMMANDS:
        own = each[command.name] = added.add_parser(
            command.name,
            description=f"{command.summary[:1].upper()}{command.summary[1:]}.",
            epilog=f"examples:\n{command.examples}\n\nEnds with 0, 1 or 2; `mosaickit --help` says which means what.",
            formatter_class=argparse.RawDescriptionHelpFormatter,
            add_help=False,
        )
        own._positionals.title = "to type in this order"
        own.add_argument("-h", "--help", action="help", help="show this help")
        if command.writes:
            own.add_argument("--replace", action="store_true", help="replace a file of another design that is there")
        command.options(own)
        own.set_defaults(act=command.act)
    for name, own in each.items():
        own.set_defaults(speech=words_of(name, each))
    each["completion"].set_defaults(parser=whole, summaries={one.name: one.summary for one in COMMANDS})
    return whole


def _listed() -> str:
    """List the commands by the parts of the work."""
    lines = []
    for job in JOBS:
        lines.append(f"{job}:")
        lines += [f"  {each.name:<12}{each.summary}" for each in COMMANDS if each.job == job]
    return "\n".join(lines)


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
        return complain(error, given)


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
