"""`mosaickit edit`: what a technical editor would mark in a pattern; nothing is changed."""

from __future__ import annotations

import argparse
from pathlib import Path

import mosaickit as mk
from mosaickit.cli.commands import NOT_SO, OK, Command
from mosaickit.cli.pictures import with_gauge, with_words, workable, workable_square
from mosaickit.cli.texts import read_text
from mosaickit.cli.words import Words, words_in
from mosaickit.errors import OptionError

_WHAT = "A pattern is read from a .design, a .square, or from a text that ends in .txt or .md"


def _options(add: argparse.ArgumentParser) -> None:
    add.add_argument("file", metavar="FILE", nargs="?", help="a .design, a .square, or a text: .txt or .md")
    add.add_argument("--rows", metavar="TEXT", help="rows or rounds in your own words, held against the chart")
    add.add_argument("--words", metavar="FILE.toml", help="what the pattern says beside the design; see `pattern`")
    add.add_argument("--terms", choices=("US", "UK"), help="the terms of a text, if it does not say")
    add.add_argument("--without", metavar="KIND", action="append", default=[], help="a kind to leave out; see --kinds")
    add.add_argument("--errors", action="store_true", help="only what is wrong, without advice")
    add.add_argument("--kinds", action="store_true", help="list what is looked for, with its source, and end")


def _act(given: argparse.Namespace) -> int:
    kinds = mk.publish.EDIT_KINDS
    if given.kinds:
        for kind in kinds:
            print(f"{kind.name} ({kind.severity}): {kind.about} Source: {kind.source}.")
        return OK
    if given.file is None:
        raise OptionError("`mosaickit edit` needs a FILE, or --kinds to list what is looked for.")
    unknown = [name for name in given.without if name not in {kind.name for kind in kinds}]
    if unknown:
        raise OptionError(f"`--without` must name a kind that `mosaickit edit --kinds` lists; got {unknown[0]!r}.")
    chosen = [
        kind for kind in kinds if kind.name not in given.without and not (given.errors and kind.severity != "error")
    ]
    file = Path(given.file)
    if mk.sizes.is_square(file) or mk.sizes.is_design(file):
        if given.terms:
            raise OptionError(f"`--terms` goes with a text; a {file.suffix} says its own.")
        rows = None if given.rows is None else read_text(Path(given.rows))
    if mk.sizes.is_square(file):
        square = mk.load(file)
        assert isinstance(square, mk.CentreDesign)  # by its ending
        square = square if given.words is None else with_words(square, words_in(Path(given.words), square))
        report = mk.tech_edit(workable_square(with_gauge(square, given.file), given.file), rows, kinds=chosen)
    elif mk.sizes.is_design(file):
        design = mk.sizes.load_design(file)
        words = Words() if given.words is None else words_in(Path(given.words), design)
        design = workable(with_gauge(design.but(**words.changes), given.file), given.file)
        report = mk.tech_edit(design.page(words.photographs or None), rows, kinds=chosen)
    else:
        if given.rows or given.words:
            raise OptionError("`--rows` and `--words` go with a .design or a .square; a text says everything itself.")
        report = mk.tech_edit(read_text(file, _WHAT), terms=given.terms, kinds=chosen)
    print(report)
    return OK if report.ok else NOT_SO


COMMAND = Command(
    name="edit",
    job="publish it",
    summary="say what a technical editor would mark in a pattern, and change nothing",
    examples="""\
  mosaickit edit scarf.design                               the pattern as it would be published
  mosaickit edit scarf.design --words scarf.toml --errors   what is wrong only
  mosaickit edit scarf.design --rows rows.txt               your own words for the rows, held against the chart
  mosaickit edit cushion.square --rows rounds.txt           a square from the centre, with your own rounds
  mosaickit edit cloth.txt --without "no photograph"        a text of your own, with headings and rows
  mosaickit edit --kinds                                    what is looked for, and where it is published""",
    options=_options,
    act=_act,
    writes=False,
)
