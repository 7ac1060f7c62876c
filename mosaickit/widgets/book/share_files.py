"""Files of a design: everything that can be given to others or kept, what each is for, and what writes it.

A `ShareFile` is one button: a format of one thing. What a thing needs before it can be made, a gauge or a design that
can be worked, is said here once, in words for the hand.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from mosaickit import tables
from mosaickit.sizes import Design
from mosaickit.widgets import parts
from mosaickit.widgets.book.share_options import ShareOptions
from mosaickit.widgets.book.share_writing import (
    WritesFile,
    html_writer,
    table_writer,
    usage_of,
    write_chart,
    write_design,
    write_motif,
    write_pdf,
)

Needs = Literal["", "work", "gauge"]
"""What a design must have: nothing, a motif that can be worked, or that and a gauge."""


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
            {"pattern.pdf": ShareFile("PDF", lambda chosen: chosen.sheet_ending, write_pdf, "pattern")},
        ),
        Thing(
            "Web page",
            "The same in one file. It needs no network, keeps the place row by row and, in English, has both terms.",
            "gauge",
            {"pattern.html": ShareFile("HTML", ".html", html_writer(guide=False), "pattern")},
        ),
        Thing(
            "Row guide",
            "A web page that leads from stitch to stitch, with the moves of the hook.",
            "gauge",
            {"guide.html": ShareFile("HTML", "-guide.html", html_writer(guide=True), "pattern")},
        ),
    ),
    "chart": (
        Thing(
            "Chart",
            "With title, key and the colour of every row.",
            "work",
            {
                f"chart{end}": ShareFile(end[1:].upper(), _chart_ending(end), write_chart, "picture")
                for end in (".svg", ".png")
            },
        ),
    ),
    "tables": (
        Thing(
            "Stitches",
            "How many of each kind are in every row.",
            "work",
            _formats("stitches", table_writer(lambda of: tables.count(of.design.chart)), ".csv", ".xlsx"),
        ),
        Thing(
            "Yarn of each row",
            "What every row takes: stitches, chains, carried strand and tails.",
            "gauge",
            _formats("yarn-by-row", table_writer(lambda of: tables.yarn_rows(usage_of(of))), ".csv", ".xlsx"),
        ),
        Thing(
            "Yarn in all",
            "How much of each yarn to have at hand.",
            "gauge",
            _formats("yarn", table_writer(lambda of: tables.yarn_totals(usage_of(of))), ".csv", ".xlsx"),
        ),
    ),
    "keep": (
        Thing(
            "Design",
            "Everything that was decided, with all editions. The workbook opens it again.",
            "",
            {"design": ShareFile("design file", ".design", write_design)},
        ),
        Thing(
            "Motif",
            "One repeat. JSON keeps its yarns and name; PNG is a picture of its squares that can be opened here too.",
            "",
            _formats("motif", write_motif, ".json", ".png"),
        ),
    ),
}
"""What can be shared, by the group that it stands in."""

FILES: dict[str, tuple[ShareFile, Needs]] = {
    name: (file, thing.needs) for things in THINGS.values() for thing in things for name, file in thing.files.items()
}
"""The buttons by name, each with what it needs."""
