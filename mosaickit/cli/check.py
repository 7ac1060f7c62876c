"""`mosaickit check`: what of a picture cannot be worked, and the nearest one that can."""

from __future__ import annotations

import argparse

import mosaickit as mk
from mosaickit.cli.commands import NOT_SO, OK, Command, complain
from mosaickit.cli.pictures import between_rows_option, chart_of, design_of, hand_option, motif_of, picture_options
from mosaickit.errors import MosaickitError, OptionError
from mosaickit.orientation import ROLES


def _options(add: argparse.ArgumentParser) -> None:
    work = picture_options(add, several=True)
    hand_option(work)
    between_rows_option(work)
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
            ended.append(complain(error, given, file))
    return max(ended)


def _check_one(given: argparse.Namespace, file: str) -> int:
    motif = motif_of(given, file)
    report = mk.check(
        motif,
        in_the_round=given.in_the_round,
        repeats_up=given.repeats_up,
        hand=given.hand,
        between_rows=given.between_rows,
    )
    rows, stitches = motif.shape
    says = "can be worked" if report.ok else "cannot be worked"
    print(f"{file}: {rows} rows × {stitches} stitches, {says}. Findings: {len(report.findings)}.")
    for finding in report.findings:
        print(f"  {finding}")
    if given.reversible and report.ok:
        loops = len(mk.work(chart_of(given, motif)).open_loops)
        print(f"  reversible: every stitch can be made; back loops left open: {loops}.")
    if given.mend:
        repair = mk.nearest_workable(motif, repeats_up=given.repeats_up, hand=given.hand)
        saved = mk.save(repair.motif, given.mend, design=design_of(motif, file, given.mend), replace=given.replace)
        print(f"{saved}: {repair}")
        if saved.suffix.lower() in (".csv", ".txt") and motif.first != ROLES[0]:
            print(f"  This format does not keep that row 1 is in {motif.first}: read it with --first {motif.first}.")
        return OK
    return OK if report.ok else NOT_SO


COMMAND = Command(
    name="check",
    summary="say what cannot be worked, and mend it",
    examples="""\
  mosaickit check boat.png                       what cannot be worked, by row and stitch, and advice
  mosaickit check boat.png --mend mended.json    write the nearest picture that can, and say what changed
  mosaickit check *.json --hand left             many files; stitches counted by a left-hander""",
    options=_options,
    act=_act,
)
