"""`mosaickit chart`: the chart of stitches, or both faces, as a picture."""

from __future__ import annotations

import argparse
import os

import mosaickit as mk
from mosaickit.cli.commands import OK, Command
from mosaickit.cli.decisions import decision_options
from mosaickit.cli.pictures import design_in, known_by, marks_in, marks_options, picture_options, workable
from mosaickit.cli.values import gauge
from mosaickit.errors import OptionError


def _options(add: argparse.ArgumentParser) -> None:
    decision_options(picture_options(add), "hand")
    add.add_argument("out", metavar="OUT", help="ends in .svg, .png or .pdf")
    marks_options(add)
    add.add_argument("--faces", action="store_true", help="draw front and back in place of the chart")
    add.add_argument("--gauge", type=gauge, help="the proportion of the faces, as 16x18 or 16x18/4in")


def _act(given: argparse.Namespace) -> int:
    os.environ["MPLBACKEND"] = "Agg"  # the picture goes into a file, whether there is a screen or not
    if given.gauge is not None and not given.faces:
        raise OptionError("`--gauge` gives faces their proportion, so it goes with `--faces`.")
    if given.faces and (given.marks or given.letters):
        raise OptionError("`--marks` and `--letters` are about a chart's stitches, and do not go with `--faces`.")
    design = workable(design_in(given, given.file), given.file)
    style = mk.draw.ChartStyle(marks=marks_in(given))
    drawn = (
        mk.draw.faces(design.fabric, gauge=design.gauge)[0] if given.faces else mk.draw.chart(design.chart, style=style)
    )
    saved = mk.draw.save(drawn, given.out, design=known_by(design, given.file, given.out), replace=given.replace)
    print(f"{saved}: {design.chart.summary}")
    return OK


COMMAND = Command(
    name="chart",
    job="look at it",
    summary="draw the chart of stitches, or both faces",
    examples="""\
  mosaickit chart leaf.json leaf.svg --reversible          the chart of stitches
  mosaickit chart leaf.json faces.png --faces --gauge 16x18    front and back, at their true proportion
  mosaickit chart scarf.design scarf.pdf                   the whole piece, as its design says
  mosaickit chart leaf.json leaf.svg --letters sc=c,FLdc=X,tog-b=b,tog-f=f""",
    options=_options,
    act=_act,
)
