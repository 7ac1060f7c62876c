"""`mosaickit repeat`: the motif of a design laid across and up."""

from __future__ import annotations

import argparse

from mosaickit.cli.commands import Command
from mosaickit.cli.laying import lay, laying_options


def _options(add: argparse.ArgumentParser) -> None:
    names = ("across", "up", "laying", "seam", "colours", "balance_across", "balance_up")
    laying_options(add, "repeats", *names)


def _act(given: argparse.Namespace) -> int:
    return lay(given, "--across 3 --up 4")


COMMAND = Command(
    name="repeat",
    job="lay it out",
    summary="lay the motif of a design across and up",
    examples="""\
  mosaickit repeat leaf.json cloth.design --across 5 --up 6 --colours swap
  mosaickit repeat scarf.design scarf.design --up 5            in the same file
  mosaickit repeat leaf.json brick.design --across 4 --up 4 --laying brick --colours swap
  mosaickit repeat leaf.json cowl.design --across 6 --up 2 --colours swap --in-the-round""",
    options=_options,
    act=_act,
)
