"""`mosaickit share`: a notebook as one HTML file."""

from __future__ import annotations

import argparse

import mosaickit as mk
from mosaickit.cli.commands import OK, Command
from mosaickit.cli.lab import need_lab


def _options(add: argparse.ArgumentParser) -> None:
    add.add_argument("notebook", metavar="NOTEBOOK", help="ends in .ipynb; it is not changed")
    add.add_argument("out", metavar="OUT", help="the .html file")
    add.add_argument("--execute", action="store_true", help="run the notebook first, from the top")
    add.add_argument("--slides", action="store_true", help="a slide for each heading of level 1 and 2")
    add.add_argument("--no-code", action="store_true", help="leave the code out")
    add.add_argument("--lang", default="en", help="the language of its texts (default: %(default)s)")


def _act(given: argparse.Namespace) -> int:
    need_lab("nbconvert")
    options = {"execute": given.execute, "slides": given.slides, "code": not given.no_code, "lang": given.lang}
    print(mk.share(given.notebook, given.out, **options, replace=given.replace))
    return OK


COMMAND = Command(
    name="share",
    job="publish it",
    summary="write a notebook as one HTML file that needs no Python",
    examples="""\
  mosaickit share lesson.ipynb lesson.html                            as it was last saved
  mosaickit share lesson.ipynb lesson.html --execute --no-code        run it first, and show no code
  mosaickit share lesson.ipynb slides.html --slides                   for a class""",
    options=_options,
    act=_act,
)
