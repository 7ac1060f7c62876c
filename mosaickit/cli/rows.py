"""`mosaickit rows`: the rows of a piece in words, and a text held against them."""

from __future__ import annotations

import argparse
from pathlib import Path

import mosaickit as mk
from mosaickit.cli.commands import NOT_SO, OK, Command
from mosaickit.cli.decisions import decision_options
from mosaickit.cli.pictures import design_in, in_size, known_by, picture_options, workable
from mosaickit.cli.texts import read_text
from mosaickit.errors import OptionError
from mosaickit.files import Owner, save_bytes
from mosaickit.wording import tongue_of

_ENDINGS = (".txt", ".md")


def _options(add: argparse.ArgumentParser) -> None:
    decision_options(picture_options(add), "hand", "between_rows")
    add.add_argument("out", metavar="OUT", nargs="?", help="a .txt or .md; left out, the rows are printed")
    decision_options(add, "terms", "phrasing", "language", "gauge")
    add.add_argument("--size", metavar="NAME", help="only this size of a design with sizes (default: all in one text)")
    add.add_argument(
        "--proof",
        metavar="TEXT",
        help="hold a text of rows, .txt or .md, against the piece; ends with 1 if they differ",
    )


def _act(given: argparse.Namespace) -> int:
    if given.out is not None and given.proof is not None:
        raise OptionError("`--proof` writes nothing: leave out OUT, or `--proof`.")
    if given.out is not None and Path(given.out).suffix.lower() not in _ENDINGS:
        raise OptionError(f"Rows are written as .txt or .md; got {given.out!r}.")
    if given.language is not None:
        tongue_of(given.terms, given.language)  # which refuses what rows are not written in
    design = design_in(given, given.file)
    one = in_size(design, given.size, given.file)
    if given.proof is not None:
        return _proof(given, workable(one, given.file))
    text = str(one.sized_rows if len(one.sizes) > 1 else workable(one, given.file).rows)
    if given.out is None:
        print(text)
        return OK
    owner = Owner.named("text", known_by(design, given.file, given.out), "")
    print(save_bytes(given.out, f"{text}\n".encode(), owner, replace=given.replace))
    return OK


def _proof(given: argparse.Namespace, design: object) -> int:
    assert isinstance(design, mk.Design)
    if len(design.sizes) > 1:
        raise OptionError("A text is held against one size: name it with `--size`.")
    text = read_text(Path(given.proof))
    found = mk.proof(text, design.chart, terms=given.terms, language=given.language)
    print(found)
    return OK if found.ok else NOT_SO


COMMAND = Command(
    name="rows",
    job="work it",
    summary="write the rows in words, or hold a text against them",
    examples="""\
  mosaickit rows scarf.design                            print them
  mosaickit rows scarf.design own-rows.txt --terms UK    write them to a file
  mosaickit rows mat.design --size M                     of one of its sizes
  mosaickit rows scarf.design --proof rows.txt           say where a text differs from the piece""",
    options=_options,
    act=_act,
)
