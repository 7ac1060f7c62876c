"""Files of a design: everything that can be given to others or kept, what each is for, and what writes it.

A `ShareFile` is one button: a format of one thing. What a thing needs before it can be made, a gauge or a design that
can be worked, is said here once, in words for the hand.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path
from textwrap import wrap
from typing import Any, Literal

import matplotlib.pyplot as plt
from matplotlib.figure import Figure

from mosaickit import draw, publish, sizes, tables
from mosaickit.errors import OptionError, PublishError, of_kind, one_of, true_or_false
from mosaickit.fabric import Chart
from mosaickit.publish import FORMS, PAPERS, Page
from mosaickit.sizes import Design
from mosaickit.svg import MARK_KINDS, Marks, marks_of
from mosaickit.widgets import parts
from mosaickit.yarn import Usage, yarn_usage

MOST_SQUARES_DRAWN = 1_000_000
"""A chart as a picture has no more squares; of more it would take very long and open nowhere."""

_PIXELS_OF_MOTIF = 4_000
"""The length, in pixels, that the longer side of a motif's picture has at most, about."""
_TITLE_LINE = 70

_USUAL_DPI, _PIXELS_OF_SQUARE, _PIXELS_OF_CHART = 150, 24, 40_000_000
"""A chart as PNG: the least dots an inch, the pixels of a square, and the most pixels in all."""

SYSTEM_FONTS = "Look in this computer's fonts too"
"""What the tick is called that lets the PDF use other fonts than its own."""

Needs = Literal["", "work", "gauge"]
"""What a design must have: nothing, a motif that can be worked, or that and a gauge."""


@dataclass(frozen=True)
class ShareOptions:
    """What was chosen beside the buttons; raises `OptionError` where it is none of the choices.

    Attributes
    ----------
    form, paper : str
        How the PDF is set, and on what.
    system_fonts : bool
        Whether characters are looked for in this computer's fonts too.
    whole : bool
        Whether the chart shows the whole piece, or the motif laid once.
    marks : "symbols", "plain" or "letters"
        How charts mark stitches, on paper, on a web page and in a picture.
    letters : dict
        For letters, those of each stitch.
    in_full : bool
        Whether a pattern charts the whole piece, and not a repeat of it once.
    """

    form: Any = FORMS[0]
    paper: Any = PAPERS[0]
    system_fonts: bool = False
    whole: bool = True
    marks: Any = MARK_KINDS[0]
    letters: Any = field(default_factory=dict)
    in_full: bool = False

    def __post_init__(self) -> None:
        one_of("form", self.form, FORMS)
        one_of("paper", self.paper, PAPERS)
        true_or_false("system_fonts", self.system_fonts)
        true_or_false("whole", self.whole)
        true_or_false("in_full", self.in_full)
        one_of("marks", self.marks, MARK_KINDS)
        of_kind("letters", self.letters, dict)
        marks_of(self.chosen_marks)

    @property
    def chosen_marks(self) -> Marks:
        """How stitches are marked, as the library takes it."""
        kind: Marks = self.letters if self.marks == "letters" and self.letters else self.marks
        return kind

    @property
    def setting(self) -> dict[str, Any]:
        """What is said to the verbs that set a page."""
        return {
            "form": self.form,
            "paper": self.paper,
            "system_fonts": self.system_fonts,
            "marks": self.chosen_marks,
            "in_full": self.in_full,
        }

    @property
    def sheet_ending(self) -> str:
        """What the name of a PDF ends in, so that one form does not replace another."""
        said = [self.form] * (self.form != FORMS[0]) + [self.paper] * (self.paper != PAPERS[0])
        return "".join(f"-{each.replace(' ', '-')}" for each in said) + ".pdf"


@dataclass(frozen=True)
class Sharing:
    """A design that files are made of.

    Attributes
    ----------
    design : Design
        What is shared.
    options : ShareOptions
        What was chosen.
    page : function
        Gives the page of its pattern; set from what was asked for before where it can be.
    begins : function
        Is told of each step when it begins: its words, which it is, of how many.
    """

    design: Design
    options: ShareOptions
    page: Callable[[], Page]
    begins: Callable[[str, int, int], object] = lambda *_: None

    @property
    def name(self) -> str:
        """What the files are known by: the design's title, or its motif's name; empty if it has neither."""
        return self.design.words.title or self.design.motif.name


WritesFile = Callable[..., Path]
"""Saves a file; takes a `Sharing`, the path, and `replace`."""


@dataclass(frozen=True)
class ShareFile:
    """One button: what it is called, what the file's name ends in, and what writes it."""

    word: str
    ending: str | Callable[[ShareOptions], str]
    write: WritesFile = field(repr=False)
    owned_as: str = ""
    """What its file is known as, if making it takes long where a piece is large."""

    def name(self, design: Design, options: ShareOptions) -> str:
        """Give the name of the file."""
        return f"{stem(design)}{self.ending if isinstance(self.ending, str) else self.ending(options)}"


@dataclass(frozen=True)
class Thing:
    """One thing that can be shared, in one or several formats."""

    label: str
    hint: str
    needs: Needs
    files: dict[str, ShareFile]


def stem(design: Design) -> str:
    """Give what the names of a design's files begin with."""
    return parts.file_name(design.title)


def lacks(design: Design, needs: Needs) -> str:
    """Say shortly what a design lacks for something to be made of it; empty if nothing."""
    if needs and not design.layout.workable:
        return "Follows when the piece can be worked."
    return "Follows when the gauge is known." if needs == "gauge" and design.gauge is None else ""


def missing(design: Design, needs: Needs) -> str:
    """Say what a design lacks for something to be made of it, and what helps; empty if nothing."""
    if needs and not design.layout.workable:
        return f"The piece cannot be worked yet. {design.report.errors_in_words}"
    if needs == "gauge" and design.gauge is None:
        return "Size and yarn are not known yet. Enter the gauge under Yarn."
    return ""


# ---- what writes each --------------------------------------------------------------------------------------


def _page(of: Sharing, then: str) -> Page:
    """Give the page of a pattern, as the first of two steps."""
    of.begins("writing the rows in words", 1, 2)
    page = of.page()
    of.begins(then, 2, 2)
    return page


def _pdf(of: Sharing, path: Path, *, replace: bool) -> Path:
    page, chosen = _page(of, "setting the pages, which takes longest"), of.options
    try:
        return publish.pdf(page, path, replace=replace, design=of.name or page.fingerprint, **chosen.setting)
    except PublishError as error:
        raise _in_words(of, error) from None


def sheets(of: Sharing) -> tuple[bytes, ...]:
    """Give the sheets of the PDF as pictures; raises as its button does."""
    page, chosen = _page(of, "setting the pages, which takes longest"), of.options
    try:
        return publish.sheets(page, **chosen.setting)
    except PublishError as error:
        raise _in_words(of, error) from None


_FIELDS = {
    "title": "The title",
    "designer": "The designer's name",
    "intro": "The introduction",
    "notes": "A note",
    "yarns": "The name of a yarn",
    "publishing": "What is said under “For a pattern that is sold”",
    "marks": "A letter of the chart",
}
"""What the fields of a page are called that a hand fills in."""


def _in_words(of: Sharing, error: PublishError) -> PublishError:
    """Say of a character that no font of the PDF shows what the hand can do about it; all that is named was tried."""
    if not error.character:
        return error
    cure = "Write it without that character."
    if not of.options.system_fonts:
        with suppress(PublishError):
            publish.sheets(of.page(), **of.options.setting | {"system_fonts": True}, dpi=20)
            cure = f"Write it without that character, or tick “{SYSTEM_FONTS}”: one of its fonts has it."
    where = _FIELDS.get(error.field.replace("[", ".").split(".")[0], "The pattern")
    point = f"U+{ord(error.character[0]):04X}"  # the page may have no font for it either
    said = f"{where} has {error.character!r} ({point}), which the fonts of the PDF cannot show. {cure}"
    return PublishError(said, error.field, error.character)


def _html(*, guide: bool) -> WritesFile:
    def write(of: Sharing, path: Path, *, replace: bool) -> Path:
        page = _page(of, "laying the page out")
        known = of.name or page.fingerprint
        marks, in_full = of.options.chosen_marks, of.options.in_full
        return publish.html(page, path, guide=guide, marks=marks, in_full=in_full, design=known, replace=replace)

    return write


def _chart(of: Sharing, path: Path, *, replace: bool) -> Path:
    design = of.design if of.options.whole else laid_once(of.design)
    rows, stitches = design.shape
    if rows * stitches > MOST_SQUARES_DRAWN:
        raise OptionError(
            f"A picture of a chart shows at most {MOST_SQUARES_DRAWN:,} squares, and this piece has "
            f"{rows * stitches:,}."
        )
    chart = design.chart
    title = "\n".join(wrap(design.title, _TITLE_LINE))
    part = "" if of.options.whole else "The motif once: "
    about = _unnamed(chart).summary
    of.begins("drawing the squares and symbols", 1, 2)
    with plt.ioff():  # else a notebook shows the figure under the next cell that runs
        style = draw.ChartStyle(marks=of.options.chosen_marks)
        ax = draw.chart(chart, title=f"{title}\n{part}{about}", style=style)
    figure = ax.figure.figure
    of.begins("writing the picture, which takes longest", 2, 2)
    try:
        return draw.save(ax, path, dpi=_fine_enough(figure, design.shape), replace=replace, design=of.name)
    finally:
        plt.close(figure)


def _fine_enough(figure: Figure, shape: tuple[int, int]) -> float:
    """Give the pixels an inch with which the symbols of a chart can be read, if that makes no picture too large."""
    side_in = figure.axes[0].get_window_extent().height / figure.dpi / shape[0]
    width_in, height_in = figure.get_size_inches()
    return float(min(max(_USUAL_DPI, _PIXELS_OF_SQUARE / side_in), (_PIXELS_OF_CHART / (width_in * height_in)) ** 0.5))


def _unnamed(chart: Chart) -> Chart:
    return replace(chart, name="")


def laid_once(design: Design) -> Design:
    """Give the design with its motif laid once, and all that stands around it."""
    return design.but(across=1, up=1)


def _table(make: Callable[[Sharing], Any]) -> WritesFile:
    def write(of: Sharing, path: Path, *, replace: bool) -> Path:
        return tables.save_table(make(of), path, replace=replace, design=of.name)

    return write


def _usage(of: Sharing) -> Usage:
    return yarn_usage(of.design.chart, of.design.known_gauge, yarn_settings=of.design.calculated_by)


def _motif(of: Sharing, path: Path, *, replace: bool) -> Path:
    square = max(1, min(16, _PIXELS_OF_MOTIF // max(of.design.motif.shape))) if path.suffix == ".png" else 1
    return sizes.save(of.design.motif, path, replace=replace, design=of.name, square=square)


def _design(of: Sharing, path: Path, *, replace: bool) -> Path:
    return sizes.save(of.design, path, replace=replace)


def _formats(name: str, write: WritesFile, *endings: str) -> dict[str, ShareFile]:
    """Give the buttons of one thing by what messages call them, as "motif.png"."""
    return {f"{name}{ending}": ShareFile(ending[1:].upper(), f"-{name}{ending}", write) for ending in endings}


def _chart_ending(ending: str) -> Callable[[ShareOptions], str]:
    return lambda chosen: f"{'-chart' if chosen.whole else '-motif-chart'}{ending}"


THINGS: dict[str, tuple[Thing, ...]] = {
    "pattern": (
        Thing(
            "On paper",
            "The whole pattern: size, yarn, chart, written rows, cautions.",
            "gauge",
            {"pattern.pdf": ShareFile("PDF", lambda chosen: chosen.sheet_ending, _pdf, "pattern")},
        ),
        Thing(
            "Web page",
            "The same in one file. It needs no network, keeps the place row by row and, in English, has both terms.",
            "gauge",
            {"pattern.html": ShareFile("HTML", ".html", _html(guide=False), "pattern")},
        ),
        Thing(
            "Row guide",
            "A web page that leads from stitch to stitch, with the moves of the hook.",
            "gauge",
            {"guide.html": ShareFile("HTML", "-guide.html", _html(guide=True), "pattern")},
        ),
    ),
    "chart": (
        Thing(
            "Chart",
            "With title, key and the colour of every row.",
            "work",
            {
                f"chart{end}": ShareFile(end[1:].upper(), _chart_ending(end), _chart, "picture")
                for end in (".svg", ".png")
            },
        ),
    ),
    "tables": (
        Thing(
            "Stitches",
            "How many of each kind are in every row.",
            "work",
            _formats("stitches", _table(lambda of: tables.count(of.design.chart)), ".csv", ".xlsx"),
        ),
        Thing(
            "Yarn of each row",
            "What every row takes: stitches, chains, carried strand and tails.",
            "gauge",
            _formats("yarn-by-row", _table(lambda of: tables.yarn_rows(_usage(of))), ".csv", ".xlsx"),
        ),
        Thing(
            "Yarn in all",
            "How much of each yarn to have at hand.",
            "gauge",
            _formats("yarn", _table(lambda of: tables.yarn_totals(_usage(of))), ".csv", ".xlsx"),
        ),
    ),
    "keep": (
        Thing(
            "Design",
            "Everything that was decided, with all editions. The workbook opens it again.",
            "",
            {"design": ShareFile("design file", ".design", _design)},
        ),
        Thing(
            "Motif",
            "One repeat. JSON keeps its yarns and name; PNG is a picture of its squares that can be opened here too.",
            "",
            _formats("motif", _motif, ".json", ".png"),
        ),
    ),
}
"""What can be shared, by the group that it stands in."""

FILES: dict[str, tuple[ShareFile, Needs]] = {
    name: (file, thing.needs) for things in THINGS.values() for thing in things for name, file in thing.files.items()
}
"""The buttons by name, each with what it needs."""
