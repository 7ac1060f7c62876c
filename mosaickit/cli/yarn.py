"""`mosaickit yarn`: the metres of each yarn, and the skeins to buy."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

import mosaickit as mk
from mosaickit.cli.commands import OK, Command
from mosaickit.cli.decisions import decision_options
from mosaickit.cli.pictures import design_in, in_size, known_by, picture_options, with_gauge, workable
from mosaickit.errors import OptionError, number_of

if TYPE_CHECKING:
    from mosaickit.sizes import Design
    from mosaickit.yarn import YarnTotal


def _options(add: argparse.ArgumentParser) -> None:
    decision_options(picture_options(add), "between_rows")
    decision_options(add, "gauge", "skein")
    add.add_argument("--size", metavar="NAME", help="only this size of a design with sizes (default: each of them)")
    add.add_argument("--table", metavar="OUT", help="write it as a table: .csv, or .xlsx")


def _act(given: argparse.Namespace) -> int:
    design = with_gauge(design_in(given, given.file), given.file)
    one = in_size(design, given.size, given.file)
    if one.sizes:
        if given.table:
            raise OptionError("A table is of one size: name it with `--size`.")
        for name, sized in one.in_sizes.items():
            print(f"{name}: {workable(sized, given.file).size}")
            _say(sized)
        return OK
    print(f"{workable(one, given.file).summary}")
    _say(one)
    if given.table:
        usage = mk.yarn_usage(one.chart, one.known_gauge, yarn_settings=one.calculated_by)
        known = known_by(design, given.file, given.table)
        table = mk.tables.yarn_totals(usage)
        print(mk.tables.save_table(table, given.table, design=known, replace=given.replace))
    return OK


def _say(design: Design) -> None:
    """Print a line for each yarn."""
    totals = design.usage.by_yarn
    for total in totals:
        print(f"  {_line(total)}")
    if all(total.skein is None for total in totals):
        print("  `--skein`, as 105m/50g, says how many to buy.")


def _line(total: YarnTotal) -> str:
    said = f"{total.yarn.name}: about {total.likely_m:.0f} m ({total.low_m:.0f} to {total.high_m:.0f} m)"
    if total.skein is None or total.skeins is None:
        return said
    ball = f"{total.skein.metres:g} m / {total.skein.grams:g} g"
    return f"{said}, {total.grams:.0f} g; buy {number_of(total.skeins, 'skein')} of {ball}"


COMMAND = Command(
    name="yarn",
    job="work it",
    summary="say how many metres of each yarn, and how many skeins to buy",
    examples="""\
  mosaickit yarn leaf.json --gauge 16x18
  mosaickit yarn scarf.design --skein 105m/50g --between-rows cut
  mosaickit yarn mat.design --size M --table yarn.csv""",
    options=_options,
    act=_act,
)
