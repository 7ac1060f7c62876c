"""`mosaickit edges`: edge stitches, plain rows, and how a piece begins and ends."""

from __future__ import annotations

import argparse

from mosaickit.cli.commands import Command
from mosaickit.cli.laying import lay, laying_options

_NAMES = (
    *("edges", "rows_below", "rows_above", "foundation", "ends"),
    *("fringe_cm", "tails_a_knot", "added_strands", "trimmed"),
    *("border_rounds", "border_along", "border_corner", "border_ratio", "crab_stitch", "finish_colour"),
)


def _options(add: argparse.ArgumentParser) -> None:
    laying_options(add, "edges, ends and borders", *_NAMES)


def _act(given: argparse.Namespace) -> int:
    return lay(given, "--border-rounds 2")


COMMAND = Command(
    name="edges",
    job="lay it out",
    summary="say how a piece begins and ends: edge stitches, ends, fringe, border",
    examples="""\
  mosaickit edges scarf.design edged.design --edges 2 --rows-below 2 --rows-above 2
  mosaickit edges scarf.design fringed.design --between-rows cut --ends fringe --fringe-cm 12
  mosaickit edges scarf.design closed.design --between-rows cut --ends enclosed --border-rounds 3
  mosaickit edges scarf.design edged.design --border-rounds 2 --border-corner "sc, ch 1, sc" --finish-colour CC""",
    options=_options,
    act=_act,
)
