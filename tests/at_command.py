"""The command line as a maker types it, for the tests of what it does and of what it says."""

import shlex
from functools import cache

import mosaickit as mk
from mosaickit import cli
from mosaickit.cli import running

PARSER = cache(running.parser)


def called(line, capsys):
    """Run a command line; gives what it ends with, its output and its complaint."""
    try:
        ended = cli.main(shlex.split(line))
    except SystemExit as stopped:  # argparse ends the process itself
        ended = stopped.code
    said = capsys.readouterr()
    return ended, said.out, said.err


# a boat on waves, drawn for these tests: of an odd height, so that repeats upward need their colours swapped
BOAT = mk.Motif.from_text(
    """
    .........
    #########
    ....#....
    ##..#..##
    .........
    #..###..#
    .........
    #########
    .........
    """,
    name="boat",
)
MASTED = mk.Motif.from_text(BOAT.to_text().replace("#########", "####.####", 1), name="masted boat")
"""The same with a mast that no hook can make: rows 7 and 8 are both overlaid at stitch 5."""
