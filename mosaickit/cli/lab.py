"""`mosaickit lab`: the notebooks laid out in a folder, and JupyterLab open there."""

from __future__ import annotations

import argparse
import os
import sys
from importlib.util import find_spec
from pathlib import Path
from runpy import run_module

from mosaickit.cli.commands import OK, Command
from mosaickit.distribution import WITH_LAB
from mosaickit.errors import OptionError
from mosaickit.files import bundled, lay_out


def _options(add: argparse.ArgumentParser) -> None:
    add.add_argument(
        "folder",
        metavar="FOLDER",
        nargs="?",
        default="mosaickit-lab",
        help="made if it is not there (default: %(default)s)",
    )
    add.add_argument("--no-open", action="store_true", help="only lay the files out")


def _act(given: argparse.Namespace) -> int:
    folder = Path(given.folder)
    laid = lay_out(folder, replace=given.replace)
    print(laid)
    if laid.kept:
        print("  Another folder would get them all as they come; `--replace` puts them back as they come here.")
    if given.no_open:
        return OK
    need_lab("jupyterlab")
    first = next(name for name in bundled() if name.endswith(".ipynb"))
    os.chdir(folder)
    # in this very process, so that anyone who stops it stops the lab, which asks before it ends
    sys.argv = ["jupyter-lab", f"--LabApp.default_url=/lab/tree/{first}"]
    run_module("jupyterlab", run_name="__main__")
    return OK


def need_lab(library: str) -> None:
    """Refuse a command that needs JupyterLab where there is none; `library` is a part of it."""
    if find_spec(library) is None:
        raise OptionError(f"JupyterLab is not installed here; `{WITH_LAB}` adds it.")


COMMAND = Command(
    name="lab",
    job="begin",
    summary="lay the notebooks out in a folder and open JupyterLab there",
    examples="""\
  mosaickit lab                        notebooks and motifs into ./mosaickit-lab, then JupyterLab there
  mosaickit lab lessons --no-open      only lay them out""",
    options=_options,
    act=_act,
)
