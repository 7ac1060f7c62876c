"""`mosaickit new`: a picture, a photograph or a motif becomes a design."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

import mosaickit as mk
from mosaickit.cli.commands import OK, Command
from mosaickit.cli.decisions import HOW_WORKED, decided, decision_options
from mosaickit.cli.pictures import say_saved
from mosaickit.cli.values import Length, crop, length, number, threshold, whole, yarn
from mosaickit.errors import FileError, OptionError, number_of
from mosaickit.files import called_after, place
from mosaickit.gauge import to_cm

_TRACED = ("stitches", "width", "rows", "crop", "threshold", "dither", "invert", "edges_weight")


def _options(add: argparse.ArgumentParser) -> None:
    add.add_argument(
        "file",
        metavar="PICTURE",
        help="a motif: .json, .csv, .txt, or a .png with a pixel for each square; or any picture, with `--stitches` or "
        "`--width`",
    )
    add.add_argument("out", metavar="OUT", help="a .design; or a motif alone: .json, .png, .csv or .txt")
    reading = add.add_argument_group("how the picture of a motif is read")
    reading.add_argument(
        "--first", choices=("MC", "CC"), help="the colour of row 1; of a photograph, left out, the better of the two"
    )
    reading.add_argument("--square", type=whole, metavar="PIXELS", help="the side of a square of a .png in pixels")
    tracing = add.add_argument_group("how a photograph or a drawing becomes squares, the dark ones CC")
    tracing.add_argument("--stitches", type=whole, metavar="N", help="how many stitches wide the motif is")
    tracing.add_argument(
        "--width",
        type=length,
        metavar="LENGTH",
        help="how wide it is, in place of --stitches, as 22cm or 8.5in; needs a gauge",
    )
    tracing.add_argument("--rows", type=whole, metavar="N", help="how many rows high (default: as the picture is)")
    tracing.add_argument(
        "--crop",
        type=crop,
        metavar="LEFT,TOP,RIGHT,BOTTOM",
        help="the part to take: in pixels, or as shares from 0.0 to 1.0",
    )
    tracing.add_argument(
        "--threshold",
        type=threshold,
        metavar="DARK",
        help="what is dark: otsu finds it, adaptive looks around each square, 0 to 1 is a tone (default: otsu)",
    )
    tracing.add_argument(
        "--dots", dest="dither", action="store_true", default=None, help="make greys by dots of both colours"
    )
    tracing.add_argument(
        "--invert", action="store_true", default=None, help="make the light squares CC, not the dark ones"
    )
    tracing.add_argument(
        "--edges-weight",
        type=number,
        metavar="N",
        help="how much more it costs to change a square where it shows (default: 2; 0 changes the fewest)",
    )
    yarns = add.add_argument_group("yarns")
    yarns.add_argument("--mc", type=yarn, metavar="YARN", help="the main colour, as 'sand #e9dcc3'")
    yarns.add_argument("--cc", type=yarn, metavar="YARN", help="the contrasting colour, likewise")
    decision_options(yarns, "skein")
    add.add_argument("--name", help="what the motif is called (default: as its file says, or the name of the file)")
    decision_options(add, "gauge", "title", "hook_mm")
    decision_options(add.add_argument_group("how it is worked"), *HOW_WORKED)


def _act(given: argparse.Namespace) -> int:
    motif = _motif(given)
    known = given.name or motif.name or place(Path(given.file), Path(given.out).parent)
    motif = motif.named(given.name if given.name is not None else motif.name or called_after(Path(given.file)))
    if given.mc or given.cc:
        motif = motif.with_yarns(mk.Yarns(given.mc or motif.yarns.mc, given.cc or motif.yarns.cc))
    said = decided(given)
    if not mk.sizes.is_design(Path(given.out)):
        if lost := [given.speech.option(name) for name in _of_design(given)]:
            raise OptionError(f"{', '.join(lost)} would be lost in a motif alone: give an OUT that ends in .design.")
        saved = mk.save(motif, given.out, design=known, replace=given.replace)
        rows, stitches = (number_of(n, what) for n, what in zip(motif.shape, ("row", "stitch"), strict=True))
        print(f"{saved}: {rows} × {stitches}, row 1 in {motif.first}")
        return OK
    design = mk.Design(motif).but(**said)
    say_saved(design, mk.save(design, given.out, design=given.title or known, replace=given.replace))
    return OK


def _of_design(given: argparse.Namespace) -> list[str]:
    """Name the options that say something only a design keeps; a gauge may have been needed for the picture."""
    used = any(getattr(given, name) is not None for name in ("stitches", "width"))
    names = ("title", "hook_mm", "skein", *HOW_WORKED, *([] if used else ["gauge"]))
    return [name for name in names if getattr(given, name) is not None]


def _motif(given: argparse.Namespace) -> Any:  # noqa: ANN401 — a Motif, not loaded for its name
    """Read the motif in a file, or trace it from a picture."""
    traced = [given.speech.option(name) for name in _TRACED if getattr(given, name) is not None]
    ending = Path(given.file).suffix.lower()
    if mk.sizes.is_design(Path(given.file)):
        raise OptionError(f"{given.file} is a design already: `mosaickit repeat` and others take it as it is.")
    if not traced and ending in mk.sizes.MOTIF_ENDINGS:
        try:
            return mk.sizes.drawn_in_squares(Path(given.file), first=given.first, square=given.square)
        except FileError as error:
            if mk.sizes.is_png(Path(given.file)):
                raise FileError(f"{error} Or give `--stitches` or `--width`, and it is traced as a picture.") from None
            raise
    if ending in (".json", ".csv", ".txt"):
        raise OptionError(f"{given.file} holds a motif, whose squares are as they are: leave out {traced[0]}.")
    if given.stitches is None and given.width is None:
        raise OptionError("Say how wide the motif is: give `--stitches`, or `--width` and `--gauge`.")
    if given.width is not None and given.gauge is None:
        raise OptionError("`--width` needs `--gauge`, which says how many stitches that is.")
    if given.square is not None:
        raise OptionError("`--square` is about a .png with a square for each stitch: leave it out for a photograph.")
    wide: Length | None = given.width
    found = mk.from_picture(
        given.file,
        stitches=given.stitches,
        width_cm=None if wide is None else to_cm("width", wide.value, "in" if wide.unit == "in" else "cm"),
        rows=given.rows,
        gauge=given.gauge,
        crop=given.crop,
        threshold="otsu" if given.threshold is None else given.threshold,
        dither="error diffusion" if given.dither else None,
        invert=bool(given.invert),
        first=given.first or "better",
        edges_weight=2.0 if given.edges_weight is None else given.edges_weight,
    )
    print(f"{given.file}: {found}")
    return found.motif


COMMAND = Command(
    name="new",
    job="begin",
    summary="make a design of a picture, a photograph or a motif",
    examples="""\
  mosaickit new boat.png boat.design --gauge "16 x 18"                 a pixel of the picture is a square
  mosaickit new harbour.png harbour.design --stitches 40 --gauge 16x18    a picture of any size is traced
  mosaickit new harbour.png harbour.json --stitches 40 --dots          a motif alone, with dots for greys
  mosaickit new leaf.json leaf.design --mc "sand #e9dcc3" --cc "moss #3f5a36" --hand left""",
    options=_options,
    act=_act,
)
