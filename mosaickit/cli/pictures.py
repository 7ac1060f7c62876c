"""What the commands about a picture share: how it is read, how it is worked, and what it is called."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

import mosaickit as mk
from mosaickit.cli.values import gauge, skein
from mosaickit.files import place
from mosaickit.motif import BETWEEN_ROWS
from mosaickit.orientation import HANDS, ROLES

# ---- their options -----------------------------------------------------------------------------------------


def picture_options(add: argparse.ArgumentParser, *, several: bool = False) -> argparse._ArgumentGroup:
    """Add the picture, how it is read and how it is worked, and give the group of the latter."""
    what = "a motif: .json, .png, .csv or .txt"
    if several:
        add.add_argument("files", nargs="+", metavar="FILE", help=what)
    else:
        add.add_argument("file", metavar="FILE", help=what)
    reading = add.add_argument_group("how the picture is read")
    reading.add_argument("--first", choices=ROLES, help="the colour of row 1, where the file does not say it")
    reading.add_argument("--square", type=int, metavar="PIXELS", help="the side of a square of a .png in pixels")
    work = add.add_argument_group("how it is worked")
    work.add_argument("--reversible", action="store_true", help="close the back, so that both faces may be shown")
    work.add_argument("--in-the-round", action="store_true", help="the last stitch of a row meets its first")
    return work


def hand_option(work: argparse._ArgumentGroup) -> None:
    """Add the hand that holds the hook."""
    work.add_argument("--hand", choices=HANDS, default="right", help="the hand that holds the hook")


def between_rows_option(work: argparse._ArgumentGroup) -> None:
    """Add what is done with the yarn between rows."""
    work.add_argument("--between-rows", choices=BETWEEN_ROWS, default="carried", help="what the yarn does there")


def gauge_option(add: argparse.ArgumentParser) -> None:
    """Add the gauge, which has to be given."""
    add.add_argument("--gauge", type=gauge, required=True, help="stitches x rows, as 16x18 (over 10 cm) or 16x18/4in")


def skein_option(add: argparse.ArgumentParser) -> None:
    """Add what yarn is sold in."""
    add.add_argument("--skein", type=skein, help="what yarn is sold in, as 105m/50g")


# ---- what these say ----------------------------------------------------------------------------------------


def motif_of(given: argparse.Namespace, file: str) -> Any:  # noqa: ANN401 — a Motif, whose module is not loaded for its name
    """Read the picture in a file."""
    return mk.load(file, first=given.first, square=given.square)


def design_of(motif: Any, file: str, out: str) -> str:  # noqa: ANN401 — as above
    """Give what a picture is known by: its name, or else its file, as seen from where something is written."""
    name: str = motif.name or place(Path(file), Path(out).parent)
    return name


def chart_of(given: argparse.Namespace, motif: Any) -> Any:  # noqa: ANN401 — as above
    """Compile the chart of a picture, worked as the options say."""
    return mk.compile_chart(motif, given.reversible, hand=given.hand, in_the_round=given.in_the_round)


def yarn_settings_of(given: argparse.Namespace) -> Any:  # noqa: ANN401 — as above
    """Give how yarn is calculated, as the options say."""
    return mk.YarnSettings(
        between_rows=given.between_rows, skeins=None if given.skein is None else mk.Skein(*given.skein)
    )
