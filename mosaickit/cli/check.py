"""`mosaickit check`: what of a picture cannot be worked, and the nearest one that can."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

import mosaickit as mk
from mosaickit.cli.commands import NOT_SO, OK, Command, complain
from mosaickit.cli.decisions import decision_options
from mosaickit.cli.pictures import design_in, known_by, picture_options, replaced
from mosaickit.errors import MosaickitError, OptionError, number_of
from mosaickit.orientation import ROLES


def _options(add: argparse.ArgumentParser) -> None:
    decision_options(picture_options(add, several=True), "hand", "between_rows")
    add.add_argument("--repeats-up", action="store_true", help="the picture is one repeat of a taller one")
    add.add_argument("--mend", metavar="OUT", help="write the nearest workable picture; then the command ends with 0")


def _act(given: argparse.Namespace) -> int:
    if given.mend and len(given.files) > 1:
        raise OptionError(f"`--mend` writes one picture, so give one FILE with it; got {len(given.files)}.")
    if given.reversible and given.repeats_up:
        raise OptionError("`--reversible` works the picture by itself, so it does not go with `--repeats-up`.")
    ended = []
    for file in given.files:
        try:
            ended.append(_check_one(given, file))
        except MosaickitError as error:  # the other files are checked all the same
            ended.append(complain(error, argparse.Namespace(**{**vars(given), "file": file})))
    return max(ended)


def _check_one(given: argparse.Namespace, file: str) -> int:
    if given.repeats_up and (mk.sizes.is_design(Path(file)) or mk.sizes.is_square(Path(file))):
        raise OptionError(f"{file} says itself how it repeats, so it does not go with `--repeats-up`.")
    design = design_in(given, file, squares=True)
    if isinstance(design, mk.CentreDesign):
        return _check_square(given, file, design)
    report = mk.check(
        design.picture,
        in_the_round=design.surround.in_the_round,
        repeats_up=given.repeats_up,
        hand=design.hand,
        between_rows=design.yarn_settings.between_rows,
    )
    rows, stitches = design.shape
    says = "can be worked" if report.ok else "cannot be worked"
    size = f"{number_of(rows, 'row')} × {number_of(stitches, 'stitch')}"
    print(f"{file}: {size}, {says}. Findings: {len(report.findings)}.")
    for finding in report.findings:
        print(f"  {finding}")
    if design.reversible and report.ok:
        print(f"  reversible: every stitch can be made; back loops left open: {len(design.fabric.open_loops)}.")
    if given.mend:
        _mend(given, file, design)
        return OK
    return OK if report.ok else NOT_SO


def _check_square(given: argparse.Namespace, file: str, design: Any) -> int:  # noqa: ANN401 — a CentreDesign
    """Check a square from the centre by the rules of its rounds, and mend it if that is asked."""
    report, side = design.report, len(design.square.motif.grid)
    says = "can be worked" if report.ok else "cannot be worked"
    print(f"{file}: {side} × {side} squares from the centre, {says}. Findings: {len(report.findings)}.")
    for finding in report.findings:
        print(f"  {finding}")
    if given.mend:
        repair = mk.centre.nearest(design.square)
        known: dict[str, Any] = {
            "design": known_by(design, file, given.mend),
            "replace": replaced(given, file, given.mend),
        }
        print(f"{mk.save(design.but(square=repair.square), given.mend, **known)}: {repair}")
        return OK
    return OK if report.ok else NOT_SO


def _mend(given: argparse.Namespace, file: str, design: Any) -> None:  # noqa: ANN401 — a Design, not loaded for its name
    """Write the nearest that can be worked, a design of a design and a motif of a motif, and say what changed."""
    known: dict[str, Any] = {"design": known_by(design, file, given.mend), "replace": replaced(given, file, given.mend)}
    if mk.sizes.is_design(Path(file)):
        mended = design.mended()
        print(f"{mk.save(mended, given.mend, **known)}: {mk.compare(design, mended)}")
        return
    motif = design.motif
    repair = mk.nearest_workable(motif, repeats_up=given.repeats_up, hand=design.hand)
    saved = mk.save(repair.motif, given.mend, **known)
    print(f"{saved}: {repair}")
    if saved.suffix.lower() in (".csv", ".txt") and motif.first != ROLES[0]:
        print(f"  This format does not keep that row 1 is in {motif.first}: read it with --first {motif.first}.")


COMMAND = Command(
    name="check",
    job="look at it",
    summary="say what cannot be worked, and mend it",
    examples="""\
  mosaickit check boat.png                       what cannot be worked, by row and stitch, and advice
  mosaickit check boat.png --mend mended.json    write the nearest picture that can, and say what changed
  mosaickit check *.json --hand left             many files; stitches counted by a left-hander
  mosaickit check scarf.design                   the whole piece, worked as its design says
  mosaickit check cushion.square --mend cushion.square    a square from the centre, mended where it is""",
    options=_options,
    act=_act,
)
