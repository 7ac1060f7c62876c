"""What the commands about a piece share: how its file is read, what is said beside it, and what it is called."""

from __future__ import annotations

import argparse
import os
import shlex
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import mosaickit as mk
from mosaickit.cli.decisions import decided, decision_options
from mosaickit.cli.values import letters, whole
from mosaickit.cli.words import Words
from mosaickit.errors import OptionError, UnworkableError
from mosaickit.files import place
from mosaickit.orientation import ROLES
from mosaickit.svg import MARK_KINDS, Marks

WHAT_FILE = "a motif: .json, .png, .csv or .txt; or a .design, in which options change what they say"

# ---- their options -----------------------------------------------------------------------------------------


def picture_options(add: argparse.ArgumentParser, *, several: bool = False) -> argparse._ArgumentGroup:
    """Add the file, how it is read and how it is worked, and give the group of the latter."""
    if several:
        add.add_argument("files", nargs="+", metavar="FILE", help=WHAT_FILE)
    else:
        add.add_argument("file", metavar="FILE", help=WHAT_FILE)
    reading = add.add_argument_group("how the picture of a motif is read")
    reading.add_argument("--first", choices=ROLES, help="the colour of row 1, where the file does not say it")
    reading.add_argument("--square", type=whole, metavar="PIXELS", help="the side of a square of a .png in pixels")
    work = add.add_argument_group("how it is worked")
    decision_options(work, "reversible", "in_the_round")
    return work


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


# ---- what these say ----------------------------------------------------------------------------------------
# a Design is Any here, so that its module is not loaded for its name


def read_design(given: argparse.Namespace, file: str, *, edges: int | None = 0, squares: bool = False) -> Any:  # noqa: ANN401
    """Read the design in a file, or make one of a motif, with this number of edge stitches.

    A square from the centre is read only where `squares` says so.
    """
    read = mk.load(file, first=given.first, square=given.square)
    if isinstance(read, mk.CentreDesign) and not squares:
        raise OptionError(
            f"{file} is a square from the centre: `mosaickit pattern` writes its pattern; `mosaickit check` and "
            "`mosaickit edit` say what to mend."
        )
    return mk.Design(read, surround=mk.Surround(edges=edges)) if isinstance(read, mk.Motif) else read


def design_in(given: argparse.Namespace, file: str, *, edges: int | None = 0, squares: bool = False) -> Any:  # noqa: ANN401
    """Read the design in a file, or make one of a motif, and change it as options say; see `read_design`."""
    return read_design(given, file, edges=edges, squares=squares).but(**decided(given))


def in_size(design: Any, name: str | None, file: str) -> Any:  # noqa: ANN401
    """Give the design laid in one of its sizes, or as it is if none is named; refuse one that it has not."""
    names = [size.name for size in design.sizes]
    if name is not None and name not in names:
        has = f"the sizes {', '.join(names)}" if names else "no sizes"
        raise OptionError(f"`--size` names a size of the design, and {file} has {has}; got {name!r}.")
    return design if name is None else design.in_size(name)


def save_design(design: Any, before: Any, given: argparse.Namespace) -> None:  # noqa: ANN401
    """Write a design and say what it is now; refuse one that can no longer be worked.

    What could not be worked before is written all the same: a design is made step by step, and mended when it is time.
    """
    if not design.layout.workable and before.layout.workable:
        design.layout.must_work()  # which says why, with what was tried and helps
    known = known_by(design, given.file, given.out)
    say_saved(design, mk.save(design, given.out, design=known, replace=replaced(given, given.file, given.out)))


def say_saved(design: Any, file: Path) -> None:  # noqa: ANN401
    """Say what a design is that was written, and how it is mended if it cannot be worked."""
    print(f"{file}: {design.summary}")
    for line in design.said:
        print(f"  {line}")
    if not design.layout.workable:
        out = shlex.quote(str(file))
        print(f"  It cannot be worked yet: `mosaickit check {out} --mend {out}` mends it.")


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
            f"{file} cannot be worked; `mosaickit check {shlex.quote(file)} --mend {out}` writes the nearest picture "
            f"that can. "
            f"What is wrong: {design.report.errors_in_words}",
            design.report,
        )
    return design


def workable_square(design: Any, file: str) -> Any:  # noqa: ANN401
    """Give a square from the centre, or refuse one that cannot be worked and say what mends it."""
    if not design.report.ok:
        raise UnworkableError(
            f"{file} cannot be worked; `mosaickit check {shlex.quote(file)} --mend OUT.square` writes the nearest "
            f"picture that can. What is wrong: {design.report.errors_in_words}",
            design.report,
        )
    return design


def with_words(design: Any, words: Words, leave: Iterable[str] = ()) -> Any:  # noqa: ANN401
    """Give a square from the centre with what a file of words says, but for the decisions that are to be left."""
    photographs = {"photographs": words.photographs} if words.photographs else {}
    return design.but(**{name: value for name, value in words.changes.items() if name not in set(leave)}, **photographs)


def replaced(given: argparse.Namespace, file: str, out: str) -> bool:
    """Whether what is there may be replaced: it was said, or it is the very file that was read."""
    return bool(given.replace) or os.path.realpath(file) == os.path.realpath(out)


def known_by(design: Any, file: str, out: str) -> str:  # noqa: ANN401
    """Give what a design is known by: its title or name, or else its file, as seen from where something is written."""
    motif = design.square.motif if isinstance(design, mk.CentreDesign) else design.motif
    name: str = design.words.title or motif.name or place(Path(file), Path(out).parent)
    return name
