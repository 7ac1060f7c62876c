"""`mosaickit compare`: what differs between two designs, in decisions and in what follows from them."""

from __future__ import annotations

import argparse
import os

import mosaickit as mk
from mosaickit.cli.commands import NOT_SO, OK, Command
from mosaickit.cli.pictures import known_by
from mosaickit.errors import OptionError


def _options(add: argparse.ArgumentParser) -> None:
    what = "a .design, or a motif as a design of one repeat"
    add.add_argument("before", metavar="BEFORE", help=what)
    add.add_argument("after", metavar="AFTER", help="the same; what is said reads as a change to it")
    add.add_argument("--picture", metavar="OUT", help="draw both, and which squares differ: .svg, .png or .pdf")
    add.add_argument("--whole", action="store_true", help="in the picture, the whole pieces in place of the motifs")
    add.add_argument("--table", metavar="OUT", help="write what differs as a table: .csv, or .xlsx")


def _act(given: argparse.Namespace) -> int:
    if given.whole and not given.picture:
        raise OptionError("`--whole` is about the picture, so it goes with `--picture`.")
    before, after = (mk.sizes.load_design(file) for file in (given.before, given.after))
    comparison = mk.compare(before, after)
    print(comparison)
    if given.picture:
        os.environ["MPLBACKEND"] = "Agg"  # the picture goes into a file, whether there is a screen or not
        drawn = mk.draw.compared(comparison, whole=given.whole)[0]
        known = known_by(after, given.after, given.picture)
        print(mk.draw.save(drawn, given.picture, design=known, replace=given.replace))
    if given.table:
        table, known = mk.tables.compared(comparison), known_by(after, given.after, given.table)
        print(mk.tables.save_table(table, given.table, design=known, replace=given.replace))
    return OK if comparison.same else NOT_SO


COMMAND = Command(
    name="compare",
    job="look at it",
    summary="say what differs between two designs; ends with 1 if anything does",
    examples="""\
  mosaickit compare scarf.design wider.design                          what was decided otherwise, and what follows
  mosaickit compare scarf.design wider.design --picture both.png       also as a picture
  mosaickit compare scarf.design wider.design --table both.csv         also as a table""",
    options=_options,
    act=_act,
)
