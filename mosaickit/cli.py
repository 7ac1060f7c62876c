"""The command line: check, draw, publish and measure a motif file without writing Python.

Every command is a thin wrapping of the library's verbs. It ends with 0 if all is well, with 1 if what was asked is not
so (the picture cannot be worked, no width fits) and with 2 if it was called wrongly or a file could not be read or
written. What went wrong is one sentence on the error stream. The library is loaded by the names that a command uses,
so that `mosaickit --help` loads nothing heavy.
"""

from __future__ import annotations

import argparse
import os
import re
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from runpy import run_module
from typing import Any, NoReturn

import mosaickit as mk
from mosaickit.distribution import WITH_LAB
from mosaickit.errors import MosaickitError, OptionError, TakenError, UnworkableError, WidthError
from mosaickit.files import bundled, lay_out, place
from mosaickit.gauge import Gauge, to_cm
from mosaickit.motif import BETWEEN_ROWS
from mosaickit.orientation import HANDS, ROLES

OK, NOT_SO, WRONG = 0, 1, 2

_NUMBER = r"(\d+(?:\.\d*)?|\.\d+)"
_GAUGE = re.compile(rf"\s*{_NUMBER}\s*[x×*]\s*{_NUMBER}\s*(?:/\s*{_NUMBER}\s*(cm|in)\s*)?")
_LENGTH = re.compile(rf"\s*{_NUMBER}\s*(cm|in)?\s*")
_SHARE = re.compile(rf"\s*{_NUMBER}\s*(%?)\s*")
_SKEIN = re.compile(rf"\s*{_NUMBER}\s*m\s*/\s*{_NUMBER}\s*g\s*")


# ---- what options may say ----------------------------------------------------------------------------------


@dataclass(frozen=True)
class Length:
    """A length as it was typed."""

    value: float
    unit: str


def _read(pattern: re.Pattern[str], text: str, expected: str) -> tuple[str, ...]:
    found = pattern.fullmatch(text)
    if found is None:
        raise argparse.ArgumentTypeError(f"expected {expected}; got {text!r}")
    return found.groups()


def gauge(text: str) -> Gauge:
    """Read a gauge.

    Examples
    --------
    >>> print(gauge("16x18")), print(gauge("14x16/4in"))
    Gauge: 16 sts by 18 rows = 10 cm (3.937 in), blocked
    Gauge: 14 sts by 16 rows = 4 in (10.16 cm), blocked
    (None, None)
    """
    stitches, rows, over, unit = _read(_GAUGE, text, "stitches x rows over 10 cm, as 16x18, or as 16x18/4in")
    try:
        return Gauge(float(stitches), float(rows), float(over or 10), "in" if unit == "in" else "cm")
    except MosaickitError as error:
        raise argparse.ArgumentTypeError(str(error).rstrip(".")) from None


def length(text: str) -> Length:
    """Read a length: 22, 22cm or 8.5in."""
    value, unit = _read(_LENGTH, text, "a length, as 22cm or 8.5in")
    return Length(float(value), unit or "cm")


def share(text: str) -> float:
    """Read a share: 0.05 or 5%."""
    value, percent = _read(_SHARE, text, "a share, as 0.05 or 5%")
    return float(value) / (100 if percent else 1)


def skein(text: str) -> tuple[float, float]:
    """Read what a skein holds: 105m/50g."""
    metres, grams = _read(_SKEIN, text, "metres and grams of a skein, as 105m/50g")
    return float(metres), float(grams)


# ---- the commands ------------------------------------------------------------------------------------------


def _lab(given: argparse.Namespace) -> int:
    folder = Path(given.folder)
    laid = lay_out(folder, replace=given.replace)
    print(laid)
    if laid.kept:
        print("  Another folder would get them all as they come; `--replace` puts them back as they come here.")
    if given.no_open:
        return OK
    _need_lab("jupyterlab")
    first = next(name for name in bundled() if name.endswith(".ipynb"))
    os.chdir(folder)
    # in this very process, so that anyone who stops it stops the lab, which asks before it ends
    sys.argv = ["jupyter-lab", f"--LabApp.default_url=/lab/tree/{first}"]
    run_module("jupyterlab", run_name="__main__")
    return OK


def _check(given: argparse.Namespace) -> int:
    if given.mend and len(given.files) > 1:
        raise OptionError(f"`--mend` writes one picture, so give one FILE with it; got {len(given.files)}.")
    if given.reversible and given.repeats_up:
        raise OptionError("`--reversible` works the picture by itself, so it does not go with `--repeats-up`.")
    ended = []
    for file in given.files:
        try:
            ended.append(_check_one(given, file))
        except MosaickitError as error:  # the other files are checked all the same
            ended.append(_complain(error, given, file))
    return max(ended)


def _check_one(given: argparse.Namespace, file: str) -> int:
    motif = _motif(given, file)
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
        loops = len(mk.work(_chart(given, motif)).open_loops)
        print(f"  reversible: every stitch can be made; back loops left open: {loops}.")
    if given.mend:
        repair = mk.nearest_workable(motif, repeats_up=given.repeats_up, hand=given.hand)
        saved = mk.save(repair.motif, given.mend, design=_design(motif, file, given.mend), replace=given.replace)
        print(f"{saved}: {repair}")
        if saved.suffix.lower() in (".csv", ".txt") and motif.first != ROLES[0]:
            print(f"  This format does not keep that row 1 is in {motif.first}: read it with --first {motif.first}.")
        return OK
    return OK if report.ok else NOT_SO


def _draw(given: argparse.Namespace) -> int:
    os.environ["MPLBACKEND"] = "Agg"  # the picture goes into a file, whether there is a screen or not
    motif = _motif(given, given.file)
    chart = _chart(given, motif)
    if given.faces:
        drawn = mk.draw.faces(mk.work(chart), gauge=given.gauge)[0]
    elif given.gauge is not None:
        raise OptionError("`--gauge` gives faces their proportion, so it goes with `--faces`.")
    else:
        drawn = mk.draw.chart(chart)
    saved = mk.draw.save(drawn, given.out, design=_design(motif, given.file, given.out), replace=given.replace)
    print(f"{saved}: {chart.summary}")
    return OK


def _pattern(given: argparse.Namespace) -> int:
    ending = Path(given.out).suffix.lower()
    if ending not in (".pdf", ".html"):
        raise OptionError(f"A pattern is written as .pdf or .html; got {given.out!r}.")
    paper = {name: getattr(given, name) for name in ("form", "paper", "system_fonts") if getattr(given, name)}
    if ending == ".html" and paper:
        options = ", ".join(f"--{name.replace('_', '-')}" for name in paper)
        raise OptionError(f"{options} is about paper, and goes with .pdf only.")
    if ending == ".pdf" and given.guide:
        raise OptionError("--guide is about a web page, and goes with .html only.")
    motif = _motif(given, given.file)
    page = mk.pattern(
        _chart(given, motif),
        title=given.title or motif.name or Path(given.file).stem,
        gauge=given.gauge,
        terms=given.terms,
        between_rows=given.between_rows,
        skeins=_skein(given),
        hook_mm=given.hook_mm,
        level=given.level,
        intro=given.intro,
        notes=given.note,
        for_children=given.for_children,
    )
    known: dict[str, Any] = {
        "design": given.title or _design(motif, given.file, given.out),
        "replace": given.replace,
    }
    if ending == ".html":
        print(mk.publish.html(page, given.out, guide=given.guide, **known))
    else:
        paper["form"] = paper.get("form", "regular").replace("-", " ")
        print(mk.publish.pdf(page, given.out, **paper, **known))
    return OK


def _widths(given: argparse.Namespace) -> int:
    unit = given.width.unit
    long = given.length
    if long is not None and long.unit != unit:
        long = Length(to_cm("length", long.value, long.unit) / to_cm("1", 1, unit), unit)
    motif = _motif(given, given.file)
    plan = mk.plan_widths(
        motif,
        given.gauge,
        given.width.value,
        length=None if long is None else long.value,
        unit=unit,
        tolerance=given.tolerance,
        worked=given.worked,
        edges=given.edges,
        rings=given.rings,
        colours=given.colours,
        in_the_round=given.in_the_round,
        reversible=given.reversible,
        between_rows=given.between_rows,
        skeins=_skein(given),
    )
    print(plan)
    if given.csv:
        design = _design(motif, given.file, given.csv)
        print(mk.save_table(mk.fits(plan), given.csv, design=design, replace=given.replace))
    return OK


def _share(given: argparse.Namespace) -> int:
    _need_lab("nbconvert")
    options = {"execute": given.execute, "slides": given.slides, "code": not given.no_code, "lang": given.lang}
    print(mk.share(given.notebook, given.out, **options, replace=given.replace))
    return OK


def _need_lab(library: str) -> None:
    if find_spec(library) is None:
        raise OptionError(f"JupyterLab is not installed here; `{WITH_LAB}` adds it.")


def _motif(given: argparse.Namespace, file: str) -> Any:  # noqa: ANN401 — a Motif, whose module is not loaded for its name
    return mk.load(file, first=given.first, square=given.square)


def _design(motif: Any, file: str, out: str) -> str:  # noqa: ANN401 — as above
    """Give what a picture is known by: its name, or else its file, as seen from where something is written."""
    name: str = motif.name or place(Path(file), Path(out).parent)
    return name


def _chart(given: argparse.Namespace, motif: Any) -> Any:  # noqa: ANN401 — as above
    return mk.compile_chart(motif, given.reversible, hand=given.hand, in_the_round=given.in_the_round)


def _skein(given: argparse.Namespace) -> Any:  # noqa: ANN401 — as above
    return None if given.skein is None else mk.Skein(*given.skein)


# ---- the parser --------------------------------------------------------------------------------------------


class _Parser(argparse.ArgumentParser):
    """A parser whose complaint is one sentence."""

    def error(self, message: str) -> NoReturn:
        self.exit(WRONG, f"{self.prog}: {message[:1].upper()}{message[1:]}; `{self.prog} --help` shows how.\n")


EXAMPLES = {
    "lab": """\
  mosaickit lab                        notebooks and motifs into ./mosaickit-lab, then JupyterLab there
  mosaickit lab lessons --no-open      only lay them out""",
    "check": """\
  mosaickit check boat.png                       what cannot be worked, by row and stitch, and advice
  mosaickit check boat.png --mend mended.json    write the nearest picture that can, and say what changed
  mosaickit check *.json --hand left             many files; stitches counted by a left-hander""",
    "chart": """\
  mosaickit chart leaf.json leaf.svg --reversible          the chart of stitches
  mosaickit chart leaf.json faces.png --faces --gauge 16x18    front and back, at their true proportion""",
    "pattern": """\
  mosaickit pattern leaf.json leaf.pdf --gauge 16x18 --reversible --title "Leaf square"
  mosaickit pattern leaf.json leaf.html --gauge 14x16/4in --terms UK --skein 105m/50g
  mosaickit pattern leaf.json leaf.html --gauge 16x18 --guide
  mosaickit pattern leaf.json big.pdf --gauge 16x18 --form large-print --paper us-letter""",
    "share": """\
  mosaickit share lesson.ipynb lesson.html                            as it was last saved
  mosaickit share lesson.ipynb lesson.html --execute --no-code        run it first, and show no code
  mosaickit share lesson.ipynb slides.html --slides                   for a class""",
    "widths": """\
  mosaickit widths seed.json --gauge 16x18 --width 22cm --tolerance 10%
  mosaickit widths seed.json --gauge 18x20 --width 22cm --length 150cm --tolerance 10% --colours swap --csv fits.csv
  mosaickit widths seed.json --gauge 14x16/4in --width 60in --worked along --colours swap""",
}
_SUMMARIES = {
    "lab": "lay the notebooks out in a folder and open JupyterLab there",
    "check": "say what cannot be worked, and mend it",
    "chart": "draw the chart of stitches, or both faces",
    "pattern": "write the whole pattern, as PDF or as a web page",
    "share": "write a notebook as one HTML file that needs no Python",
    "widths": "find the counts of repeats that come near a size",
}
_COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "lab": _lab,
    "check": _check,
    "chart": _draw,
    "pattern": _pattern,
    "share": _share,
    "widths": _widths,
}


def parser() -> argparse.ArgumentParser:
    """Make the parser of the whole command line."""
    whole = _Parser(
        prog="mosaickit",
        description="From an idea on a grid to a proven pattern: two-colour overlay mosaic crochet.",
        epilog="Ends with 0 if all is well, 1 if what was asked is not so, 2 if a call or a file was wrong.",
    )
    whole.add_argument("--version", action="version", version=f"mosaickit {mk.__version__}")
    commands = whole.add_subparsers(dest="command", metavar="COMMAND", required=True)
    made = {
        name: commands.add_parser(
            name,
            help=summary,
            description=f"{summary[:1].upper()}{summary[1:]}.",
            epilog=f"examples:\n{EXAMPLES[name]}",
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        for name, summary in _SUMMARIES.items()
    }
    for command in made.values():
        command.add_argument("--replace", action="store_true", help="replace a file of another design that is there")
    _lab_options(made["lab"])
    _share_options(made["share"])
    for name in ("check", "chart", "pattern", "widths"):
        work = _picture_options(made[name], several=name == "check")
        if name != "widths":
            work.add_argument("--hand", choices=HANDS, default="right", help="the hand that holds the hook")
        if name != "chart":
            work.add_argument(
                "--between-rows", choices=BETWEEN_ROWS, default="carried", help="what the yarn does there"
            )
    _check_options(made["check"])
    _chart_options(made["chart"])
    _pattern_options(made["pattern"])
    _widths_options(made["widths"])
    return whole


def _lab_options(add: argparse.ArgumentParser) -> None:
    add.add_argument(
        "folder", nargs="?", default="mosaickit-lab", help="made if it is not there (default: %(default)s)"
    )
    add.add_argument("--no-open", action="store_true", help="only lay the files out")


def _share_options(add: argparse.ArgumentParser) -> None:
    add.add_argument("notebook", metavar="NOTEBOOK", help="ends in .ipynb; it is not changed")
    add.add_argument("out", metavar="OUT", help="the .html file")
    add.add_argument("--execute", action="store_true", help="run the notebook first, from the top")
    add.add_argument("--slides", action="store_true", help="a slide for each heading of level 1 and 2")
    add.add_argument("--no-code", action="store_true", help="leave the code out")
    add.add_argument("--lang", default="en", help="the language of its texts (default: %(default)s)")


def _picture_options(add: argparse.ArgumentParser, *, several: bool) -> argparse._ArgumentGroup:
    """Add the picture, how it is read and how it is worked, and give the group of the latter."""
    what = "a motif: .json, .png, .csv or .txt"
    if several:
        add.add_argument("files", nargs="+", metavar="FILE", help=what)
    else:
        add.add_argument("file", metavar="FILE", help=what)
    reading = add.add_argument_group("how the picture is read")
    reading.add_argument("--first", choices=ROLES, help="the colour of row 1, where the file does not say it")
    reading.add_argument("--square", type=int, metavar="PIXELS", help="the side of a square of a .png in pixels")
    work = add.add_argument_group("how it is worked")
    work.add_argument("--reversible", action="store_true", help="close the back, so that both faces may be shown")
    work.add_argument("--in-the-round", action="store_true", help="the last stitch of a row meets its first")
    return work


def _check_options(add: argparse.ArgumentParser) -> None:
    add.add_argument("--repeats-up", action="store_true", help="the picture is one repeat of a taller one")
    add.add_argument("--mend", metavar="OUT", help="write the nearest workable picture; then the command ends with 0")


def _chart_options(add: argparse.ArgumentParser) -> None:
    add.add_argument("out", metavar="OUT", help="ends in .svg, .png or .pdf")
    add.add_argument("--faces", action="store_true", help="draw front and back in place of the chart")
    add.add_argument("--gauge", type=gauge, help="the proportion of the faces, as 16x18 or 16x18/4in")


def _pattern_options(add: argparse.ArgumentParser) -> None:
    add.add_argument("out", metavar="OUT", help="ends in .pdf or .html")
    add.add_argument("--gauge", type=gauge, required=True, help="stitches x rows, as 16x18 (over 10 cm) or 16x18/4in")
    add.add_argument("--title", help="left out, the motif's name")
    add.add_argument("--terms", choices=("US", "UK"), default="US", help="the terms that stitches are named in")
    add.add_argument("--skein", type=skein, help="what yarn is sold in, as 105m/50g")
    add.add_argument("--hook-mm", type=float, metavar="MM", help="the diameter of the hook")
    add.add_argument("--level", choices=("basic", "easy", "intermediate", "complex"), help="the project level")
    add.add_argument("--intro", default="", help="what you say first")
    add.add_argument("--note", action="append", default=[], help="what else there is to say; may be given again")
    add.add_argument("--for-children", action="store_true", help="print the cautions about children")
    screen = add.add_argument_group("web page (.html only)")
    screen.add_argument("--guide", action="store_true", help="lead stitch by stitch, not row by row, with the moves")
    paper = add.add_argument_group("paper (.pdf only)")
    paper.add_argument("--form", choices=("regular", "large-print", "low-ink"), help="how it is set (default: regular)")
    paper.add_argument("--paper", choices=("a4", "us-letter"), help="default: a4")
    paper.add_argument("--system-fonts", action="store_true", help="look in this computer's fonts for rare characters")


def _widths_options(add: argparse.ArgumentParser) -> None:
    add.add_argument("--gauge", type=gauge, required=True, help="stitches x rows, as 16x18 (over 10 cm) or 16x18/4in")
    add.add_argument("--width", type=length, required=True, help="of the finished piece, as 22cm or 8.5in")
    add.add_argument("--length", type=length, help="of the finished piece")
    add.add_argument(
        "--tolerance", type=share, default=0.05, help="how far a size may be off, as 0.05 or 5%% (default)"
    )
    add.add_argument(
        "--worked", choices=("across", "along"), default="across", help="whether rows run across the width"
    )
    add.add_argument("--edges", type=int, help="plain edge stitches at each end of a row (default: 1, 0 in the round)")
    add.add_argument("--rings", type=int, default=0, help="rings of a frame (default: 0)")
    add.add_argument("--colours", choices=("keep", "swap"), default="keep", help="of repeats that land on other rows")
    add.add_argument("--skein", type=skein, help="what yarn is sold in, as 105m/50g")
    add.add_argument("--csv", metavar="OUT", help="write the table of all fits: .csv, or .xlsx")


# ---- running -----------------------------------------------------------------------------------------------


def _complain(error: MosaickitError, given: argparse.Namespace, file: str) -> int:
    """Say in one sentence what is wrong, and give what the command ends with."""
    said = str(error)
    if isinstance(error, UnworkableError) and given.command != "widths":  # whose error is about repeats of the picture
        said = f"{file} cannot be worked; `mosaickit check {file} --mend OUT` writes the nearest picture that can. "
        said += f"What is wrong: {error.report.errors_in_words}"
    if isinstance(error, TakenError):
        said = f"{error.found} Write {str(error.free)!r}, which is free, or add `--replace` to replace it."
    print(f"mosaickit: {said}", file=sys.stderr)
    return NOT_SO if isinstance(error, UnworkableError | WidthError) else WRONG


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give what it ends with: 0, 1 or 2.

    Parameters
    ----------
    arguments : sequence of str, optional
        What was typed after ``mosaickit``; that of this process if left out.
    """
    given = parser().parse_args(arguments)
    try:
        return _COMMANDS[given.command](given)
    except MosaickitError as error:
        return _complain(error, given, getattr(given, "file", ""))


def run() -> NoReturn:
    """Run the command of this process, and end it."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):  # a console that lacks a character shows another in its place
            stream.reconfigure(errors="replace")
    try:
        ended = main()
        sys.stdout.flush()
    except BrokenPipeError:  # anyone who read what was printed has had enough of it
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        ended = NOT_SO
    except KeyboardInterrupt:
        ended = 130  # as a shell says it
    sys.exit(ended)
