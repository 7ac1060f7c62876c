"""`mosaickit share`: a notebook as one HTML file."""

from __future__ import annotations

import argparse
import sys
from contextlib import redirect_stdout

import mosaickit as mk
from mosaickit.cli.commands import NOT_SO, OK, Command
from mosaickit.cli.lab import need_lab


def _options(add: argparse.ArgumentParser) -> None:
    add.add_argument("notebook", metavar="NOTEBOOK", help="ends in .ipynb; it is not changed")
    add.add_argument("out", metavar="OUT", help="the .html file")
    add.add_argument(
        "--run",
        action=argparse.BooleanOptionalAction,
        help="run the notebook first, from the top, in its own folder; or do not, and leave out widgets that were not "
        "saved with it (default: run it if it must be)",
    )
    add.add_argument("--slides", action="store_true", help="a slide for each heading of level 1 and 2")
    add.add_argument("--no-code", action="store_true", help="leave the code out")
    add.add_argument("--lang", default="en", help="the language of its texts (default: %(default)s)")


def _act(given: argparse.Namespace) -> int:
    need_lab("nbconvert")
    options = {"run": given.run, "slides": given.slides, "code": not given.no_code, "lang": given.lang}
    with redirect_stdout(sys.stderr):  # what is said on the way is none of what is printed, the file
        shared = mk.share(given.notebook, given.out, **options, replace=given.replace)
    for note in shared.notes:
        print(f"mosaickit: {note}", file=sys.stderr)
    print(shared.path)
    return NOT_SO if shared.notes else OK


COMMAND = Command(
    name="share",
    job="publish it",
    summary="write a notebook as one HTML file that needs no Python",
    examples="""\
  mosaickit share lesson.ipynb lesson.html                        run if its widgets were not saved
  mosaickit share lesson.ipynb lesson.html --run --no-code        run it in any case, and show no code
  mosaickit share lesson.ipynb lesson.html --no-run               as it was last saved
  mosaickit share lesson.ipynb slides.html --slides               for a class""",
    options=_options,
    act=_act,
)
