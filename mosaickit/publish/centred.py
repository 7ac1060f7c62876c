"""A square worked from the centre as one file, for a screen or on paper: chart, size, yarn, rounds and cautions.

It is a plain document without script, in one set of terms. A `Page` is about rows, so such a square has a page of its
own; both files print what `_told` gathers.
"""

from __future__ import annotations

import json
from os import PathLike
from pathlib import Path
from typing import Any

import typst
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from mosaickit.centre import CentreChart, size, usage, work, write
from mosaickit.errors import OptionError, PublishError, of_kind, one_of, true_or_false
from mosaickit.files import Owner, save_bytes
from mosaickit.gauge import Gauge
from mosaickit.policy import source_hash
from mosaickit.publish.cautions import CHILDREN_CAUTIONS, HANDS_CAUTION, LOCAL_RULES
from mosaickit.publish.contents import paragraphs
from mosaickit.publish.fonts import FONTS
from mosaickit.publish.paper import PAPERS, SIZES_MM, Paper, compiled
from mosaickit.sizes import LEVELS, UNNAMED_SQUARE, CentreDesign, PatternWords
from mosaickit.wording import TERMS, Terms, render
from mosaickit.yarn import USUAL_YARN_SETTINGS, YarnSettings

NEVER_TRIED = (
    "Never tried on wool",
    "This square was worked out from the loops of its stitches. No such square was worked, and what happens at its "
    "corners may look otherwise than drawn. Work the first rounds as a trial, and do not sell the pattern untested.",
)
HOW_TO_READ = (
    "Each symbol has its foot towards the centre: a cross is a single crochet into the ring, a T with a slash an FLdc, "
    "an empty square a BLsc. The number of a round is in its corner square; rounds start at the thick line."
)

_HERE = Path(__file__).parent
_STYLE = (_HERE / "pattern.css").read_text("utf-8")
_LEAST = 0.75  # a chart may become so much narrower before it is scrolled
_TEMPLATE = Environment(
    loader=FileSystemLoader(_HERE), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
).get_template("centred.html.j2")
_PAPER = (_HERE / "centred.typ").read_bytes()


def html_from_centre(
    chart: CentreChart | CentreDesign,
    path: str | PathLike[str],
    *,
    gauge: Gauge | None = None,
    terms: Terms | None = None,
    yarn_settings: YarnSettings | None = None,
    for_children: bool | None = None,
    design: str = "",
    replace: bool = False,
) -> Path:
    """Write a square worked from the centre as one HTML file. Experimental: never tried on wool, and it says so.

    Parameters
    ----------
    chart : CentreDesign or CentreChart
        A square that the hook can work. Of a design all else is known, and left out here.
    path : path
        The file; its folder must be there.
    gauge : Gauge
        Of a chart: the size of a stitch.
    terms : "US" or "UK"
        Of a chart: the terms of the rounds, and the spelling; US terms if left out.
    yarn_settings : YarnSettings
        Of a chart: how yarn is calculated.
    for_children : bool
        Of a chart: whether to add what to take care of in things for children.
    design : str
        What it is known by where its own earlier file is there. Left out, it is the title.
    replace : bool
        Whether to replace whatever file is there. Otherwise only the same design's own earlier file is, if nothing
        changed it since.

    Returns
    -------
    Path
        The file, written whole. The same chart gives the same bytes.

    Raises
    ------
    OptionError
        If an argument is of another kind, or is given of a design.
    UnworkableError
        If the picture of a design cannot be worked.
    StitchError
        If no hook can work the chart.
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    told = _told(chart, gauge, terms, yarn_settings, for_children)
    style = _STYLE + _widths(told["drawing"])
    data = _TEMPLATE.render(
        **told,
        style=style,
        policy=f"default-src 'none'; style-src '{source_hash(style)}'; base-uri 'none'; form-action 'none'",
    )
    return save_bytes(path, data.encode(), Owner.named("pattern", design, told["title"]), replace=replace)


def pdf_from_centre(
    square: CentreDesign, path: str | PathLike[str], *, paper: Paper = "a4", design: str = "", replace: bool = False
) -> Path:
    """Write a square worked from the centre as a tagged PDF. Experimental: never tried on wool, and it says so.

    Parameters
    ----------
    square : CentreDesign
        A square that the hook can work.
    path : path
        The file; its folder must be there.
    paper : "a4" or "us-letter"
        The paper.
    design : str
        What it is known by where its own earlier file is there. Left out, it is the title.
    replace : bool
        Whether to replace whatever file is there, as for `html_from_centre`.

    Returns
    -------
    Path
        The file, written whole. The same design gives the same bytes.

    Raises
    ------
    OptionError
        If an argument is of another kind, or the design has no gauge.
    UnworkableError
        If the picture cannot be worked.
    PublishError
        If no font holds a character.
    TakenError, FileError
        As `html_from_centre` raises them.
    """
    of_kind("square", square, CentreDesign)
    one_of("paper", paper, PAPERS)
    told = _told(square, None, None, None, None)
    chart = told.pop("drawing").encode()
    told |= {"size-mm": SIZES_MM[paper], "fonts": FONTS}
    files = {"main": _PAPER, "page.json": json.dumps(told).encode(), "chart.svg": chart}
    try:
        data: bytes = compiled(files, system_fonts=False, pdf_standards=["ua-1"])
    except typst.TypstError as err:
        raise PublishError(f"The page could not be set in type; the typesetter says: {err}.") from None
    return save_bytes(path, data, Owner.named("pattern", design, told["title"]), replace=replace)


def _told(
    given: CentreChart | CentreDesign,
    gauge: Gauge | None,
    terms: Terms | None,
    yarn_settings: YarnSettings | None,
    for_children: bool | None,
) -> dict[str, Any]:
    """Gather all that is printed, as texts."""
    if isinstance(given, CentreDesign):
        named = {"gauge": gauge, "terms": terms, "yarn_settings": yarn_settings, "for_children": for_children}
        also = next((name for name, value in named.items() if value is not None), None)
        if also is not None:
            raise OptionError(f"A design says its own `{also}`: leave it out, or change it by `design.but`.")
        chart, gauge, words, hook_mm = given.chart, given.known_gauge, given.words, given.hook_mm
        terms, yarn_settings, title = words.terms, given.yarn_settings, given.title
    else:
        of_kind("chart", given, CentreChart)
        of_kind("gauge", gauge, Gauge)
        children = for_children is not None and true_or_false("for_children", for_children)
        if yarn_settings is not None:
            of_kind("yarn_settings", yarn_settings, YarnSettings)
        terms = "US" if terms is None else terms
        one_of("terms", terms, TERMS)
        words, hook_mm = PatternWords(for_children=children), None
        chart, title = given, given.name or UNNAMED_SQUARE
    assert gauge is not None
    work(chart)
    yarn = str(usage(chart, gauge, yarn_settings=yarn_settings or USUAL_YARN_SETTINGS)).splitlines()[1:]
    heading, *sections, rounds = (section.splitlines() for section in write(chart, terms).strip().split("\n\n"))
    facts = [f"{render(gauge.sentence, terms)}.", size(chart, gauge).sentence]
    if hook_mm is not None:
        facts.append(f"Hook: {hook_mm:g} mm, or whatever size gives the gauge.")
    if words.level is not None:
        facts.append(f"Level: {words.level}. {LEVELS[words.level]} (Craft Yarn Council)")
    return {
        "title": title,
        "summary": chart.summary.removeprefix(f"{chart.name}: "),
        "designer": words.designer,
        "intro": paragraphs(words.intro),
        "notes": [paragraphs(note) for note in words.notes],
        "cautions": [NEVER_TRIED, HANDS_CAUTION, *((*CHILDREN_CAUTIONS, LOCAL_RULES) if words.for_children else ())],
        "facts": facts,
        "yarn": yarn,
        "drawing": chart.drawn(whole=True),
        "reading": render(HOW_TO_READ, terms),
        "heading": [line for line in heading if not line.startswith("Name: ")],
        "sections": sections,
        "rounds": rounds,
    }


def _widths(drawing: str) -> str:
    """Say how wide the chart is, and how narrow it may become before it is scrolled, so that it can be read."""
    wide = float(drawing.partition('width="')[2].partition('"')[0])
    return (
        f"@media screen {{ .sheet svg {{ width: 100%; height: auto; max-width: {wide:.0f}px; "
        f"min-width: {wide * _LEAST:.0f}px; }} }}\n"
    )
