"""`mosaickit read`: rows in words back into a motif or a design."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

import mosaickit as mk
from mosaickit.cli.commands import OK, Command
from mosaickit.cli.decisions import decision_options
from mosaickit.cli.texts import read_text
from mosaickit.errors import OptionError, WordingError
from mosaickit.files import called_after, place


def _options(add: argparse.ArgumentParser) -> None:
    add.add_argument("file", metavar="TEXT", help="the rows in words, as `rows` writes them: .txt or .md")
    add.add_argument("out", metavar="OUT", nargs="?", help="a .design, or a motif: .json, .png, .csv or .txt")
    add.add_argument("--terms", choices=("US", "UK"), help="the terms of the text, if it does not say")
    add.add_argument("--language", metavar="CODE", help="its language, if it does not say: en, or de for German")
    add.add_argument("--size", metavar="NAME", help="the size to take, of a text of several")
    add.add_argument("--name", help="what the motif is called (default: the name of the text's file)")
    decision_options(add, "gauge")


def _act(given: argparse.Namespace) -> int:
    chart = _chart(given, read_text(Path(given.file)))
    fabric = mk.work(chart)  # a stitch that no hook can make is refused with its row
    print(f"{given.file}: {chart.summary}")
    if given.out is None:
        return OK
    name = given.name or chart.name or called_after(Path(given.file))
    motif = mk.Motif.from_array(fabric.front, first=chart.first, yarns=chart.yarns, name=name)
    what: Any = motif
    if mk.sizes.is_design(Path(given.out)):
        around = mk.Surround(edges=0, in_the_round=chart.in_the_round)
        what = mk.Design(motif, given.gauge, surround=around, reversible=chart.reversible, hand=chart.hand)
    elif given.gauge is not None:
        raise OptionError("`--gauge` would be lost in a motif alone: give an OUT that ends in .design.")
    known = given.name or chart.name or place(Path(given.file), Path(given.out).parent)
    print(mk.save(what, given.out, design=known, replace=given.replace))
    return OK


def _chart(given: argparse.Namespace, text: str) -> Any:  # noqa: ANN401 — a Chart, not loaded for its name
    tongue = {name: getattr(given, name) for name in ("terms", "language") if getattr(given, name) is not None}
    if given.size is None:
        try:
            return mk.read_rows(text, **tongue)
        except WordingError as error:
            if "several sizes" in str(error) and not error.faults:
                raise OptionError("This text holds several sizes: name the one to take with `--size`.") from None
            raise
    charts = mk.read_sizes(text, **tongue)
    if given.size not in charts:
        raise OptionError(f"`--size` must be one of {', '.join(charts)}; got {given.size!r}.")
    return charts[given.size]


COMMAND = Command(
    name="read",
    job="begin",
    summary="read rows in words back into a design or a motif",
    examples="""\
  mosaickit read rows.txt                       what it makes, or all that is wrong with it
  mosaickit read rows.txt again.design --gauge 16x18
  mosaickit read rows.txt again.json""",
    options=_options,
    act=_act,
)
