"""Contact sheets: five patterns of different kinds in every form, all sheets of paper of each as one small picture.

Run by docs/build.py, which puts the pictures and the page about them into the site; nothing of it is stored, so that
what is shown is what the package prints today. By hand, to look at: ``python start.py run docs/contact_sheets.py OUT``.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from datetime import date
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

import pypdfium2
from PIL import Image

import mosaickit as mk
from mosaickit.files.gallery import gallery_motifs
from mosaickit.publish import FORMS, PAPERS

COLUMNS, WIDTH, GAP, COLOURS = 6, 132, 8, 24
MOST_SHEETS = 24
"""A picture shows so many sheets; where there are more it shows the first ones, and the page says how many."""

COASTER = """
############
............
.#.#.##.#.#.
............
.###.##.###.
.#........#.
.##.####.##.
.#........#.
.###.##.###.
............
.#.#.##.#.#.
............
"""
YARNS = {"oat": "#efe3c8", "deep sea": "#123f5a", "madder": "#8f2d2a"}
PAPER_NAMES = {"a4": "A4", "us-letter": "US Letter"}


class Sheets(NamedTuple):
    """All sheets of one pattern in one form: how many, and their picture as PNG, where one is made."""

    title: str
    form: str
    paper: str
    number: int
    picture: bytes


EDITING = """
## What an editor looks for

`mk.tech_edit` reads a pattern as a technical editor does before it is sold. An error is what contradicts itself or
cannot be followed; advice is what is usual and missing, or better said otherwise.
"""


def yarns(*names: str) -> mk.Yarns:
    """Give MC, CC and perhaps another CC from row 11 on."""
    mc, cc, *more = (mk.Yarn(name, YARNS[name]) for name in names)
    return mk.Yarns(mc, [(1, cc), *((11, yarn) for yarn in more)])


def patterns() -> dict[str, mk.Design]:
    """Give five designs by what they are."""
    motifs, gauge = gallery_motifs(), mk.Gauge(16, 18)
    two, three = yarns("oat", "deep sea"), yarns("oat", "deep sea", "madder")
    coaster = mk.nearest_workable(mk.Motif.from_text(COASTER, name="coaster")).motif
    words = mk.lettering("COME IN", size=1, margin=2).motif
    made = {
        "A scarf with repeats": mk.Design(motifs["seed"].with_yarns(two), gauge).but(
            across=5, up=24, colours="swap", title="Seed row scarf"
        ),
        "A cowl in the round": mk.Design(motifs["tide border"].with_yarns(two), gauge).but(
            across=3, up=3, colours="swap", in_the_round=True, title="High tide cowl"
        ),
        "A reversible blanket of three yarns": mk.Design(
            motifs["orchard lattice"].with_yarns(three), gauge, reversible=True
        ).but(across=4, up=6, colours="swap", title="Orchard blanket"),
        "A coaster of 12 × 12": mk.Design(coaster.with_yarns(two), gauge).but(edges=0, title="Four corners coaster"),
        "Lettering": mk.Design(words.with_yarns(two), gauge).but(rings=2, title="Come in banner"),
    }
    return {what: sold(design) for what, design in made.items()}


def sold(design: mk.Design) -> mk.Design:
    """Give a design what a pattern that is sold has."""
    around = design.surround.in_the_round
    return design.but(
        designer="The pier club", level="easy", hook_mm=4, skeins=mk.Skein(105, 50),
        intro="Made for this page, to show how a pattern looks in each of its forms.",
        contact="patterns@tidepool-example.org", copyright_line="© 2026 The pier club", edition_line="Edition 1",
        licence_line="You may sell what you make.", published=date(2026, 3, 14),
        errata="https://tidepool-example.org/corrections", notions=["1 yarn needle", "2 stitch markers"],
        gauge_stitch=f"the mosaic pattern, worked {'in the round' if around else 'flat'}",
        finishing="Weave in the ends.", blocking="Soak, shape and let it dry flat.", blocked_cm=tuple(design.size),
        labels=[
            mk.YarnLabel(name, line="Pier DK", weight=3, fibre="100% cotton", wash="wash at 30 °C", dry="dry flat")
            for name in design.motif.yarns.names
        ],
    )  # fmt: skip


def thumbnails(pdf: Path, *, shown: bool) -> tuple[int, bytes]:
    """Give how many sheets a PDF has, and, if they are shown, a PNG picture of them in lines."""
    with pypdfium2.PdfDocument(pdf) as document:
        number = len(document)
        if not shown:
            return number, b""
        pages = [
            document[each].render(scale=WIDTH / document[each].get_width()).to_pil().convert("RGB")
            for each in range(min(number, MOST_SHEETS))
        ]
    wide, high = max(page.width for page in pages), max(page.height for page in pages)
    columns = min(COLUMNS, len(pages))
    lines = -(-len(pages) // columns)
    whole = Image.new("RGB", (columns * (wide + GAP) + GAP, lines * (high + GAP) + GAP), "#9a9a9a")
    for place, page in enumerate(pages):
        line, column = divmod(place, columns)
        whole.paste(page, (GAP + column * (wide + GAP), GAP + line * (high + GAP)))
    out = BytesIO()
    whole.quantize(COLOURS, dither=Image.Dither.NONE).save(out, "PNG", optimize=True)
    return number, out.getvalue()


def every_form() -> Iterator[Sheets]:
    """Make every pattern in every form on both papers; a picture of each form on A4, and of the regular one on both."""
    with TemporaryDirectory() as folder:
        for what, design in patterns().items():
            page = design.page()
            for form in FORMS:
                for paper in PAPERS:
                    file = mk.publish.pdf(page, Path(folder, "x.pdf"), form=form, paper=paper, replace=True)
                    number, picture = thumbnails(file, shown=paper == "a4" or form == "regular")
                    yield Sheets(what, form, paper, number, picture)


INTRODUCTION = """# Patterns in all their forms

Five patterns, and how many sheets of paper each takes in every form. The pictures below show all of them, made by the
version of mosaickit that this page belongs to; a picture shows 24 sheets at most. Of a booklet a sheet is one side of
paper, with two pages.
"""
NOT_MADE = "\n*Shown as it is stored, without the sheets. `python start.py run docs/build.py` makes them.*\n"
CHECKED = """
## What was checked by what

Every form of a pattern, on both papers, goes through the same checks whenever the tests run:

| what | form | checked by |
| --- | --- | --- |
| PDF/UA-1 (ISO 14289-1): tags, texts of pictures, headings, title and language | regular, large print, low ink, \
poster | the typesetter's own switch, which refuses what is against it; the tags read back by pikepdf |
| the file as a PDF: syntax, fonts inside, page sizes | all, booklet too | pikepdf (qpdf), pypdf |
| nothing cut off, no empty sheet, large type of 18 points and more | all | the sheets drawn by pypdfium2 |
| HTML: syntax, headings, labels, nothing from outside | the web page, row by row and stitch by stitch | the Nu HTML \
checker (vnu), the standard library's parser |
| the web page as it is used: contrast, names, keys | both web pages | axe-core in Chromium |
| the words: rows are the chart, each has its count, every abbreviation is explained | 512 designs by chance, in one \
to four sizes, in US and UK terms and in German | a second reader, which shares no code with mosaickit |
| what an editor would mark | the same designs | `mk.tech_edit` finds no error |

A booklet has no tags, as its pages are laid in twos: for a screen reader give the regular form or the web page. PDF/UA
asks a person too, whether texts say what pictures show and whether the order of reading makes sense; no program checks
that.
"""


def editing() -> str:
    """Write what a technical editor looks for, with the source of each."""
    lines = [f"| {each.name} | {each.severity} | {each.about} | {each.source} |" for each in mk.publish.EDIT_KINDS]
    return "\n".join(
        [EDITING, "| mark | kind | what is looked for | source |", "| --- | --- | --- | --- |", *lines, ""]
    )


def page_of(made: list[Sheets]) -> str:
    """Write the page of the documentation, with the pictures in the folder "sheets" beside it."""
    if not made:
        return INTRODUCTION + NOT_MADE + CHECKED + editing()
    titles = list(dict.fromkeys(each.title for each in made))
    counts = {(each.title, each.form, each.paper): each.number for each in made}
    head = "| pattern | " + " | ".join(FORMS) + " |\n| --- |" + " ---: |" * len(FORMS)
    lines = [
        f"| {title} | "
        + " | ".join("{} / {}".format(*(counts[title, form, paper] for paper in PAPERS)) for form in FORMS)
        + " |"
        for title in titles
    ]
    shown = []
    for title in titles:
        shown.append(f"\n## {title}\n")
        for each in (each for each in made if each.title == title and each.picture):
            words = f"{each.form}, {PAPER_NAMES[each.paper]}: {sheets_of(each.number)}"
            shown.append(f"**{words[:1].upper()}{words[1:]}**\n\n![{title}: {words}](sheets/{name_of(each)})\n")
    table = "\n".join(["\nSheets of paper, A4 / US Letter:\n", head, *lines, ""])
    return "\n".join([INTRODUCTION, table, *shown, CHECKED, editing()])


def sheets_of(number: int) -> str:
    """Write a number of sheets."""
    return f"{number} sheet{'s' if number > 1 else ''}"


def name_of(sheets: Sheets) -> str:
    """Name the file of a picture."""
    words = f"{sheets.title} {sheets.form} {sheets.paper}".lower().replace("×", "x")
    return f"{'-'.join(words.split())}.png"


def write(folder: Path, *, run: bool) -> None:
    """Write the page "forms.md" into a folder, and its pictures below it."""
    made = list(every_form()) if run else []
    (folder / "sheets").mkdir(parents=True, exist_ok=True)
    for each in made:
        if each.picture:
            (folder / "sheets" / name_of(each)).write_bytes(each.picture)
    (folder / "forms.md").write_text(page_of(made), "utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[1]), run=True)
