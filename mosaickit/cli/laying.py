"""What `repeat`, `frame` and `edges` share: each lists some decisions first, and takes all that may cure a piece."""

from __future__ import annotations

import argparse

from mosaickit.cli.commands import OK
from mosaickit.cli.decisions import LAID_AROUND, decided, decision_options
from mosaickit.cli.pictures import picture_options, read_design, save_design
from mosaickit.errors import OptionError


def laying_options(add: argparse.ArgumentParser, title: str, *names: str) -> None:
    """Add the file, OUT, the decisions that a command is for, and then the others of how a motif is laid."""
    work = picture_options(add)
    decision_options(work, "hand", "between_rows")
    add.add_argument("out", metavar="OUT", help="the .design to write; it may be FILE itself")
    decision_options(add.add_argument_group(title), *names)
    decision_options(
        add.add_argument_group("how else the piece is laid"),
        *(name for name in LAID_AROUND if name not in names),
    )
    decision_options(add, "gauge")


def lay(given: argparse.Namespace, usual: str) -> int:
    """Change the design in a file as options say, and write it; `usual` is named where none is given."""
    said = decided(given)
    if not said:
        raise OptionError(f"Nothing is said to change: give `{usual}`, for instance.")
    before = read_design(given, given.file, edges=None)
    save_design(before.but(**said), before, given)
    return OK
