"""`mosaickit pattern`: the whole pattern, for paper or for a screen."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

import mosaickit as mk
from mosaickit.cli.commands import OK, Command
from mosaickit.cli.decisions import decided, decision_options
from mosaickit.cli.pictures import (
    design_in,
    in_size,
    known_by,
    marks_in,
    marks_options,
    picture_options,
    with_gauge,
    with_words,
    workable,
    workable_square,
)
from mosaickit.cli.words import Words, words_in
from mosaickit.errors import OptionError
from mosaickit.files import called_after
from mosaickit.wording import tongue_of


def _options(add: argparse.ArgumentParser) -> None:
    decision_options(picture_options(add), "hand", "between_rows")
    add.add_argument("out", metavar="OUT", help="ends in .pdf or .html")
    decision_options(
        add, "gauge", "title", "terms", "phrasing", "language", "skein", "hook_mm", "level", "intro", "note"
    )
    add.add_argument(
        "--words",
        metavar="FILE.toml",
        help="what the pattern says, as fields of a TOML file: contact, copyright_line, notions, [[yarns]], "
        "[[photographs]] and more; what is given here beside it goes first",
    )
    decision_options(add, "for_children")
    marks_options(add)
    add.add_argument(
        "--size",
        metavar="NAME",
        help="of a design with sizes, the one that pictures, guide and poster are of (default: the smallest)",
    )
    add.add_argument("--in-full", action="store_true", help="chart the whole piece, not a repeat of it once")
    screen = add.add_argument_group("web page (.html only)")
    screen.add_argument("--guide", action="store_true", help="lead stitch by stitch, not row by row, with the moves")
    paper = add.add_argument_group("paper (.pdf only)")
    paper.add_argument(
        "--form",
        choices=("regular", "large-print", "low-ink", "booklet", "poster"),
        help="how it is set (default: regular)",
    )
    paper.add_argument("--paper", choices=("a4", "us-letter"), help="what it is printed on (default: a4)")
    paper.add_argument("--system-fonts", action="store_true", help="look in this computer's fonts for rare characters")


def _act(given: argparse.Namespace) -> int:
    ending = Path(given.out).suffix.lower()
    if ending not in (".pdf", ".html"):
        raise OptionError(f"A pattern is written as .pdf or .html; got {given.out!r}.")
    paper = {name: getattr(given, name) for name in ("form", "paper", "system_fonts") if getattr(given, name)}
    if ending == ".html" and paper:
        options = ", ".join(f"--{name.replace('_', '-')}" for name in paper)
        raise OptionError(f"{options} is about paper, and goes with .pdf only.")
    if ending == ".pdf" and given.guide:
        raise OptionError("--guide is about a web page, and goes with .html only.")
    if given.terms is not None and given.language is not None:
        tongue_of(given.terms, given.language)
    design = design_in(given, given.file, squares=True)
    if isinstance(design, mk.CentreDesign):
        return _square(given, design)
    words = Words()
    if given.words is not None:
        words = words_in(Path(given.words), design)
        design = design.but(**{name: value for name, value in words.changes.items() if name not in decided(given)})
    design = with_gauge(design, given.file)
    if not design.sizes:  # of which the page says itself which cannot be worked
        design = workable(design, given.file)
    in_size(design, given.size, given.file)  # which refuses one that it has not
    known: dict[str, Any] = {"design": known_by(design, given.file, given.out), "replace": given.replace}
    if not design.words.title and not design.motif.name:
        design = design.but(title=called_after(Path(given.file)))
    page = design.page(words.photographs or None)
    if given.size is not None:
        page = page.led_by(given.size)
    if ending == ".html":
        print(
            mk.publish.html(page, given.out, guide=given.guide, marks=marks_in(given), in_full=given.in_full, **known)
        )
    else:
        paper["form"] = paper.get("form", "regular").replace("-", " ")
        print(mk.publish.pdf(page, given.out, marks=marks_in(given), in_full=given.in_full, **paper, **known))
    return OK


def _square(given: argparse.Namespace, design: mk.CentreDesign) -> int:
    """Write the pattern of a square from the centre."""
    options = {
        "size": given.size, "guide": given.guide, "in_full": given.in_full, "system_fonts": given.system_fonts,
        "marks": given.marks, "letters": given.letters,
    }  # fmt: skip
    meant = next((name for name, value in options.items() if value), None)
    if meant is not None:
        raise OptionError(f"--{meant.replace('_', '-')} is not for a square from the centre: leave it out.")
    form = (given.form or "regular").replace("-", " ")
    if form not in mk.publish.CENTRE_FORMS:
        raise OptionError(f"A square from the centre is set as regular or low-ink; got --form {given.form}.")
    if given.words is not None:
        design = with_words(design, words_in(Path(given.words), design), decided(given))
    design = workable_square(with_gauge(design, given.file), given.file)
    known: dict[str, Any] = {"design": known_by(design, given.file, given.out), "replace": given.replace}
    if not design.words.title and not design.square.motif.name:
        design = design.but(title=called_after(Path(given.file)))
    if Path(given.out).suffix.lower() == ".html":
        print(mk.publish.html_from_centre(design, given.out, **known))
    else:
        print(mk.publish.pdf_from_centre(design, given.out, form=form, paper=given.paper or "a4", **known))
    return OK


COMMAND = Command(
    name="pattern",
    job="publish it",
    summary="write the whole pattern, as PDF or as a web page",
    examples="""\
  mosaickit pattern leaf.json leaf.pdf --gauge 16x18 --reversible --title "Leaf square"
  mosaickit pattern leaf.json leaf.html --gauge 14x16/4in --terms UK --skein 105m/50g
  mosaickit pattern leaf.json leaf.html --gauge 16x18 --guide
  mosaickit pattern leaf.json big.pdf --gauge 16x18 --form large-print --paper us-letter
  mosaickit pattern scarf.design scarf.pdf --terms UK
  mosaickit pattern scarf.design schal.pdf --language de --phrasing shortest
  mosaickit pattern scarf.design scarf.pdf --words scarf.toml
  mosaickit pattern mat.design mat.html --guide --size M
  mosaickit pattern cushion.square cushion.pdf --terms UK --form low-ink""",
    options=_options,
    act=_act,
)
