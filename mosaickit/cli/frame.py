"""`mosaickit frame`: rings around the repeats of a design."""

from __future__ import annotations

import argparse

from mosaickit.cli.commands import Command
from mosaickit.cli.laying import lay, laying_options
from mosaickit.errors import OptionError


def _options(add: argparse.ArgumentParser) -> None:
    laying_options(add, "the frame", "rings")


def _act(given: argparse.Namespace) -> int:
    if given.rings is None:
        raise OptionError("Say how many rings the frame has: `--rings 2`, for instance; `--rings 0` takes them away.")
    return lay(given, "--rings 2")


COMMAND = Command(
    name="frame",
    job="lay it out",
    summary="put a frame of rings around a design",
    examples="""\
  mosaickit frame leaf.json framed.design --rings 2
  mosaickit frame scarf.design scarf.design --rings 0          take a frame away
  mosaickit frame leaf.json framed.design --rings 1 --edges 0   without edge stitches outside it""",
    options=_options,
    act=_act,
)
