"""`mosaickit widths`: the counts of repeats that come near a size."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

import mosaickit as mk
from mosaickit.cli.commands import OK, Command
from mosaickit.cli.decisions import decision_options
from mosaickit.cli.pictures import design_in, known_by, picture_options, with_gauge
from mosaickit.cli.values import Length, length, share
from mosaickit.gauge import to_cm


def _options(add: argparse.ArgumentParser) -> None:
    decision_options(picture_options(add), "between_rows")
    decision_options(add, "gauge")
    add.add_argument("--width", type=length, required=True, help="of the finished piece, as 22cm or 8.5in")
    add.add_argument("--length", type=length, help="of the finished piece")
    add.add_argument(
        "--tolerance", type=share, default=0.05, help="how far a size may be off, as 0.05 or 5%% (default: 5%%)"
    )
    add.add_argument(
        "--worked",
        choices=("across", "along"),
        default="across",
        help="whether rows run across the width or along it (default: across)",
    )
    decision_options(add, "edges", "rings", "colours", "skein")
    add.add_argument("--csv", metavar="OUT", help="write the table of all fits: .csv, or .xlsx")


def _act(given: argparse.Namespace) -> int:
    unit = given.width.unit
    long = given.length
    if long is not None and long.unit != unit:
        long = Length(to_cm("length", long.value, long.unit) / to_cm("1", 1, unit), unit)
    design = with_gauge(design_in(given, given.file, edges=None), given.file)
    asked: dict[str, Any] = {
        "length": None if long is None else long.value,
        "unit": unit,
        "tolerance": given.tolerance,
        "worked": given.worked,
    }
    if mk.sizes.is_design(Path(given.file)):
        plan = mk.plan_widths(design, width=given.width.value, **asked)
    else:  # whose repeats upward are as few as can be worked
        of_motif = {name: getattr(design, name) for name in ("gauge", "surround", "reversible", "yarn_settings")}
        plan = mk.plan_widths(design.motif, width=given.width.value, **of_motif, **asked)
    print(plan)
    if given.csv:
        known = known_by(design, given.file, given.csv)
        print(mk.tables.save_table(mk.tables.fits(plan), given.csv, design=known, replace=given.replace))
    return OK


COMMAND = Command(
    name="widths",
    job="lay it out",
    summary="find the counts of repeats that come near a size",
    examples="""\
  mosaickit widths seed.json --gauge 16x18 --width 22cm --tolerance 10%
  mosaickit widths seed.json --gauge 18x20 --width 22cm --length 150cm --tolerance 10% --colours swap --csv fits.csv
  mosaickit widths seed.json --gauge 14x16/4in --width 60in --worked along --colours swap
  mosaickit widths scarf.design --width 22cm --length 150cm --tolerance 10%""",
    options=_options,
    act=_act,
)
