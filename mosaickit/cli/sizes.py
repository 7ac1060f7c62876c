"""`mosaickit sizes`: what a piece measures, and the sizes that it comes in."""

from __future__ import annotations

import argparse

import mosaickit as mk
from mosaickit.cli.commands import OK, Command
from mosaickit.cli.decisions import decision_options
from mosaickit.cli.pictures import design_in, in_size, picture_options, save_design
from mosaickit.errors import OptionError


def _options(add: argparse.ArgumentParser) -> None:
    picture_options(add)
    add.add_argument("out", metavar="OUT", nargs="?", help="the .design to write; left out, sizes are only printed")
    add.add_argument(
        "lines",
        metavar="SIZE",
        nargs="*",
        help="a size, the smallest first: 'S: 4 repeats across, 6 up', or 'M: 20 cm wide, 160 cm long'",
    )
    add.add_argument("--size", metavar="NAME", help="lay the piece in this one of its sizes, and write that")
    add.add_argument("--none", action="store_true", help="take the sizes away")
    decision_options(add, "gauge")


def _act(given: argparse.Namespace) -> int:
    before = design_in(given, given.file, edges=None)
    if given.out is None:
        if given.size is not None or given.none:
            raise OptionError("`--size` and `--none` change the design, so give an OUT with them.")
        for line in _told(before):
            print(line)
        if before.gauge is None:
            print("`--gauge`, as 16x18, says what that measures.")
        return OK
    if sum((bool(given.lines), given.size is not None, given.none)) != 1:
        raise OptionError("Give one of these: some SIZE, `--size` or `--none`.")
    if given.size is not None:
        design = in_size(before, given.size, given.file)
    else:
        design = before.but(sizes=[mk.NamedSize.from_text(line) for line in given.lines])
        _told(design)  # which refuses sizes that come out the same
    save_design(design, before, given)
    if design.sizes:
        for line in _told(design):
            print(f"  {line}")
    return OK


def _told(design: object) -> tuple[str, ...]:
    """Say what a piece measures, in each of its sizes."""
    assert isinstance(design, mk.Design)
    return design.sizes_in_words if design.sizes else (design.summary, str(design.multiple))


COMMAND = Command(
    name="sizes",
    job="lay it out",
    summary="say what a piece measures, and give it sizes",
    examples="""\
  mosaickit sizes scarf.design                                        what it measures, and its multiples
  mosaickit sizes scarf.design sized.design "S: 2 across, 3 up" "M: 3 across, 5 up"
  mosaickit sizes scarf.design sized.design "S: 20 cm wide, 60 cm long" "L: 30 cm wide, 100 cm long"
  mosaickit sizes mat.design m.design --size M                        one of them as a design""",
    options=_options,
    act=_act,
)
