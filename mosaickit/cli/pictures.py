"""What the commands about a piece share: how its file is read, what is said beside it, and what it is called."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

import mosaickit as mk
from mosaickit.cli.values import gauge, letters, skein
from mosaickit.errors import OptionError, UnworkableError
from mosaickit.files import place
from mosaickit.motif import BETWEEN_ROWS
from mosaickit.orientation import HANDS, ROLES
from mosaickit.svg import MARK_KINDS, Marks

WHAT_FILE = "a motif: .json, .png, .csv or .txt; or a .design, which an option given beside it changes"

# ---- their options -----------------------------------------------------------------------------------------


def picture_options(add: argparse.ArgumentParser, *, several: bool = False) -> argparse._ArgumentGroup:
    """Add the file, how it is read and how it is worked, and give the group of the latter."""
    if several:
        add.add_argument("files", nargs="+", metavar="FILE", help=WHAT_FILE)
    else:
        add.add_argument("file", metavar="FILE", help=WHAT_FILE)
    reading = add.add_argument_group("how the picture of a motif is read")
    reading.add_argument("--first", choices=ROLES, help="the colour of row 1, where the file does not say it")
    reading.add_argument("--square", type=int, metavar="PIXELS", help="the side of a square of a .png in pixels")
    work = add.add_argument_group("how it is worked")
    work.add_argument(
        "--reversible",
        action=argparse.BooleanOptionalAction,
        help="close the back, so that both faces may be shown",
    )
    work.add_argument(
        "--in-the-round", action=argparse.BooleanOptionalAction, help="the last stitch of a row meets its first"
    )
    return work


def hand_option(work: argparse._ArgumentGroup) -> None:
    """Add the hand that holds the hook."""
    work.add_argument("--hand", choices=HANDS, help="the hand that holds the hook (default: right)")


def marks_options(add: argparse.ArgumentParser) -> None:
    """Add how a chart marks its stitches."""
    add.add_argument("--marks", choices=MARK_KINDS, help="how the chart marks its stitches (default: symbols)")
    add.add_argument(
        "--letters", type=letters, metavar="LETTERS", help="letters of your own, as sc=c,FLdc=X,tog-b=b,tog-f=f"
    )


def marks_in(given: argparse.Namespace) -> Marks:
    """Give how a chart is to mark its stitches."""
    if given.letters and given.marks not in (None, "letters"):
        raise OptionError(f"`--letters` and `--marks {given.marks}` say two things: leave one of them out.")
    marks: Marks = given.letters or given.marks or MARK_KINDS[0]
    return marks


def between_rows_option(work: argparse._ArgumentGroup) -> None:
    """Add what is done with the yarn between rows."""
    work.add_argument("--between-rows", choices=BETWEEN_ROWS, help="what the yarn does there (default: carried)")


def gauge_option(add: argparse.ArgumentParser) -> None:
    """Add the gauge, which a motif's file needs."""
    add.add_argument(
        "--gauge", type=gauge, help="stitches x rows, as 16x18 (over 10 cm) or 16x18/4in; a .design may say it itself"
    )


def skein_option(add: argparse.ArgumentParser) -> None:
    """Add what yarn is sold in."""
    add.add_argument("--skein", type=skein, help="what yarn is sold in, as 105m/50g")


# ---- what these say ----------------------------------------------------------------------------------------
# a Design is Any here, so that its module is not loaded for its name

_DECIDED = {
    "reversible": "reversible",
    "in_the_round": "in_the_round",
    "hand": "hand",
    "between_rows": "between_rows",
    "gauge": "gauge",
    "title": "title",
    "terms": "terms",
    "phrasing": "phrasing",
    "language": "language",
    "hook_mm": "hook_mm",
    "level": "level",
    "intro": "intro",
    "note": "notes",
    "for_children": "for_children",
    "edges": "edges",
    "rings": "rings",
    "colours": "colours",
    "skein": "skeins",
}
"""The options that are decisions of a design, with their names there."""


def design_in(given: argparse.Namespace, file: str, *, edges: int | None = 0, squares: bool = False) -> Any:  # noqa: ANN401
    """Read the design in a file, or make one of a motif with so many edge stitches, and change it as options say.

    A square from the centre is read only where `squares` says so.
    """
    read = mk.load(file, first=given.first, square=given.square)
    if isinstance(read, mk.CentreDesign) and not squares:
        raise OptionError(f"{file} is a square from the centre: `mosaickit pattern` writes its pattern.")
    design = mk.Design(read, surround=mk.Surround(edges=edges)) if isinstance(read, mk.Motif) else read
    said = {name: value for name, value in vars(given).items() if name in _DECIDED and value is not None}
    if "skein" in said:
        said["skein"] = mk.Skein(*said["skein"])
    return design.but(**{_DECIDED[name]: value for name, value in said.items()})


def decided(given: argparse.Namespace, decision: str) -> bool:
    """Tell whether an option says something of a decision."""
    return any(getattr(given, option, None) is not None for option, name in _DECIDED.items() if name == decision)


def with_gauge(design: Any, file: str) -> Any:  # noqa: ANN401
    """Give the design, or refuse one without a gauge."""
    if design.gauge is None:
        raise OptionError(f"{file} says no gauge: give `--gauge`, stitches x rows, as 16x18 or 16x18/4in.")
    return design


def workable(design: Any, file: str) -> Any:  # noqa: ANN401
    """Give the design, or refuse one that cannot be worked and say what can."""
    if not design.layout.workable:
        out = "OUT"
        if mk.sizes.is_design(Path(file)):
            design.mended()  # where no other motif helps, this says what does
            out = "OUT.design"
        raise UnworkableError(
            f"{file} cannot be worked; `mosaickit check {file} --mend {out}` writes the nearest picture that can. "
            f"What is wrong: {design.report.errors_in_words}",
            design.report,
        )
    return design


def known_by(design: Any, file: str, out: str) -> str:  # noqa: ANN401
    """Give what a design is known by: its title or name, or else its file, as seen from where something is written."""
    name: str = design.words.title or design.motif.name or place(Path(file), Path(out).parent)
    return name
