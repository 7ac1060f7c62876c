"""`mosaickit bands`: borders, plain rows and lines below and above the repeats of a design."""

from __future__ import annotations

import argparse
import re
from pathlib import Path
from typing import Any

import mosaickit as mk
from mosaickit.cli.commands import OK, Command
from mosaickit.cli.decisions import decided, decision_options
from mosaickit.cli.pictures import picture_options, read_design, save_design, workable
from mosaickit.cli.speech import in_quotes
from mosaickit.colours import Yarns
from mosaickit.errors import OptionError, UnworkableError

_COUNTED = re.compile(r"(.+?)(?::([0-9]{1,6}))?")


def _options(add: argparse.ArgumentParser) -> None:
    picture_options(add)
    add.add_argument("out", metavar="OUT", help="the .design to write; it may be FILE itself")
    add.add_argument(
        "bands",
        metavar="BAND",
        nargs="*",
        help="from the foundation up: field, where the repeats of FILE lie; the file of a motif, laid across, with :3 "
        "three times up; plain:2, plain rows; line:3, a line of one colour, 1 to 3 rows; or columns beside each other, "
        "from the left, as leaf.json+plain:2+field, where plain:2 are stitches and field is the motif of FILE",
    )
    add.add_argument("--mirrored", action="store_true", help="put the field above these, and them upside down above it")
    add.add_argument(
        "--fit",
        choices=("whole", "centre", "fill"),
        default="whole",
        help="where a motif does not divide the width: refuse, centre it, or cut it at both sides (default: whole)",
    )
    add.add_argument(
        "--step",
        choices=("divider", "swap", "refuse"),
        default="divider",
        help="where row colours get out of step: put a plain row in, swap colours, or refuse (default: divider)",
    )
    add.add_argument(
        "--heights",
        choices=("repeat", "centre", "refuse"),
        default="repeat",
        help="where columns differ in height: repeat each up, centre the lower ones, or refuse (default: repeat)",
    )
    add.add_argument(
        "--own-yarns",
        action="store_true",
        help="leave bands the yarns of their files (default: those of row 1 of FILE)",
    )
    add.add_argument("--none", action="store_true", help="take the bands away")
    decision_options(add, "across", "up", "colours", "rings", "edges", "rows_below", "rows_above", "gauge")


def _act(given: argparse.Namespace) -> int:
    before = read_design(given, given.file, edges=None)
    if given.none == bool(given.bands):
        raise OptionError("Give some BAND, or `--none` to take the bands away.")
    order = tuple(_band(said, given, before.motif.yarns) for said in given.bands)
    fields = sum(isinstance(each, mk.Field) for each in order)
    if order and fields != (0 if given.mirrored else 1):
        must = "puts the field in by itself: leave it out" if given.mirrored else "it stands among the bands once"
        said = f"`--mirrored` {must}" if given.mirrored else f"The word field says where the repeats lie: {must}"
        raise OptionError(f"{said}; got it {fields} times.")
    bands = None
    if order:
        bands = mk.Bands.mirrored(order, step=given.step) if given.mirrored else mk.Bands(order, step=given.step)
    try:
        save_design(before.but(**decided(given), bands=bands), before, given)
    except UnworkableError:
        for said, band in zip(given.bands, order, strict=True):
            if isinstance(band, mk.Band):  # one that cannot be worked by itself is mended by itself
                alone = mk.Design(band.motif, surround=mk.Surround(edges=0))
                workable(alone, _counted(said)[0])
        raise
    return OK


def _band(said: str, given: argparse.Namespace, yarns: Yarns) -> Any:  # noqa: ANN401 — one of several kinds, not loaded for their names
    """Read a band as it was typed."""
    if "+" in said and not Path(_counted(said)[0]).is_file():
        return _columns(said, given, yarns)
    name, count = _counted(said)
    if said == "field":
        return mk.Field()
    if name not in ("plain", "line") and not Path(name).suffix:
        raise OptionError(
            "A BAND is field, plain:2, line:1, the file of a motif, as wave.json:3, or columns, as "
            f"leaf.json+plain:2+field; got {said!r}."
        )
    try:
        if name == "plain":
            return mk.Plain(count)
        if name == "line":
            return mk.Divider(count)
        motif = mk.sizes.load_design(name).motif
        if not given.own_yarns:
            motif = motif.with_yarns(mk.Yarns(yarns.at(1, "MC"), yarns.at(1, "CC")))
        return mk.Band(motif, up=count, fit=given.fit, colours="swap" if motif.shape[0] % 2 and count > 1 else "keep")
    except OptionError as error:
        raise OptionError(f"{said}: {in_quotes(str(error))}") from None


def _columns(said: str, given: argparse.Namespace, yarns: Yarns) -> Any:  # noqa: ANN401 — not loaded for its name
    """Read columns, each as a band is typed."""
    parts = said.split("+")
    if any(not part or _counted(part)[0] == "line" for part in parts):
        raise OptionError(f"Between the + of columns stand field, plain:2 or the file of a motif; got {said!r}.")
    alone = argparse.Namespace(**{**vars(given), "fit": "whole"})  # a column fills its own width
    columns = tuple(_band(part, alone, yarns) for part in parts)
    try:
        return mk.Columns(columns, heights=given.heights, step=given.step, fit=given.fit)
    except OptionError as error:
        raise OptionError(f"{said}: {in_quotes(str(error))}") from None


def _counted(said: str) -> tuple[str, int]:
    """Take the count off what was typed, as in wave.json:3."""
    found = _COUNTED.fullmatch(said)
    return (found[1], int(found[2] or 1)) if found else ("", 1)


COMMAND = Command(
    name="bands",
    job="lay it out",
    summary="put borders, plain rows and lines below and above the repeats",
    examples="""\
  mosaickit bands scarf.design banded.design leaf.json plain:2 field plain:2 leaf.json --fit centre
  mosaickit bands scarf.design banded.design leaf.json:2 line:3 --mirrored --fit fill
  mosaickit bands scarf.design beside.design seed.json+plain:1+seed.json plain:2 field --fit centre
  mosaickit bands banded.design banded.design --none           take them away""",
    options=_options,
    act=_act,
)
