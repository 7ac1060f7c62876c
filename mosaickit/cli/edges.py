"""`mosaickit edges`: edge stitches, plain rows, a mosaic border, and how a piece begins and ends."""

from __future__ import annotations

import argparse
from typing import Any

import mosaickit as mk
from mosaickit.cli.commands import OK, Command
from mosaickit.cli.decisions import decided
from mosaickit.cli.laying import lay, laying_options
from mosaickit.cli.pictures import read_design, save_design
from mosaickit.cli.values import whole
from mosaickit.errors import OptionError

_NAMES = (
    *("edges", "rows_below", "rows_above", "foundation", "ends"),
    *("fringe_cm", "tails_a_knot", "added_strands", "trimmed"),
    *("border_rounds", "border_along", "border_corner", "border_ratio", "crab_stitch", "finish_colour"),
)
_NO_BORDER = "none"
_NEAR = 6
"""So many repeats fewer and more are tried where a border does not fit."""
_NAMED = 4


def _options(add: argparse.ArgumentParser) -> None:
    laying_options(add, "edges, ends and borders", *_NAMES)
    mosaic = add.add_argument_group("a mosaic border, worked in the rows of the piece")
    mosaic.add_argument(
        "--mosaic-border",
        metavar="STRIP",
        help="the file of a strip that comes again around all four sides, drawn as it lies along the lower edge; or "
        "none, to take it away",
    )
    mosaic.add_argument(
        "--border-start",
        type=whole,
        metavar="N",
        help="the stitch of the strip, from 1, that stands in the corners (default: the first that fits)",
    )


def _act(given: argparse.Namespace) -> int:
    if given.mosaic_border is None:
        if given.border_start is not None:
            raise OptionError("`--border-start` is about a mosaic border: give `--mosaic-border STRIP` with it.")
        return lay(given, "--border-rounds 2")
    before = read_design(given, given.file, edges=None)
    bare = before.but(**{**decided(given), "strip": None, "strip_start": 1})
    save_design(bare if given.mosaic_border == _NO_BORDER else _bordered(given, bare), before, given)
    return OK


def _bordered(given: argparse.Namespace, design: Any) -> Any:  # noqa: ANN401 — a Design, not loaded for its name
    """Put the strip around a design as it is laid; where it does not fit, name the nearest counts at which it does."""
    drawn = mk.sizes.load_design(given.mosaic_border).motif
    start = given.border_start
    if start is not None and not 1 <= start <= drawn.shape[1]:
        raise OptionError(f"`--border-start` must be a stitch of the strip, 1 to {drawn.shape[1]}; got {start}.")
    if design.surround.rings:
        raise OptionError("A mosaic border has rings of its own: take the frame away with `--rings 0`.")
    fits = mk.border_fits(design.but(rows_below=0, rows_above=0), drawn, across=design.across, up=design.up).fits
    here = next((fit for fit in fits if start in (None, fit.start)), None)
    if here is None:
        raise OptionError(_nearest(given, design, drawn))
    return design.but(strip=drawn, strip_start=here.start)


def _nearest(given: argparse.Namespace, design: Any, drawn: Any) -> str:  # noqa: ANN401
    across, up = (range(max(1, count - _NEAR), count + _NEAR + 1) for count in (design.across, design.up))
    bare = design.but(rows_below=0, rows_above=0, across=1, up=1)
    fits = [
        fit for fit in mk.border_fits(bare, drawn, across=across, up=up).fits if given.border_start in (None, fit.start)
    ]
    near = sorted(fits, key=lambda fit: (abs(fit.across - design.across) + abs(fit.up - design.up), fit.across, fit.up))
    counts = list(dict.fromkeys((fit.across, fit.up) for fit in near))[:_NAMED]
    said = f"{given.mosaic_border} does not turn the corners of {design.across} × {design.up} repeats so that it can be"
    if not counts:
        return (
            f"{said} worked, nor of up to {_NEAR} fewer or more: change what closes the repeats with "
            "`--balance-across` or `--balance-up`, or draw another strip."
        )
    named = ", or ".join(f"`--across {across} --up {up}`" for across, up in counts)
    return f"{said} worked. The nearest counts at which it does: {named}."


COMMAND = Command(
    name="edges",
    job="lay it out",
    summary="say how a piece begins and ends: edge stitches, ends, fringe, border",
    examples="""\
  mosaickit edges scarf.design edged.design --edges 2 --rows-below 2 --rows-above 2
  mosaickit edges scarf.design fringed.design --between-rows cut --ends fringe --fringe-cm 12
  mosaickit edges scarf.design closed.design --between-rows cut --ends enclosed --border-rounds 3
  mosaickit edges scarf.design edged.design --border-rounds 2 --border-corner "sc, ch 1, sc" --finish-colour CC
  mosaickit edges mat.design bordered.design --mosaic-border strip.json
  mosaickit edges bordered.design mat.design --mosaic-border none""",
    options=_options,
    act=_act,
)
