"""A square worked from the centre as one file, for a screen or on paper: chart, size, yarn, rounds and cautions.

It is a plain document without script, in one set of terms. A `Page` is about rows, so such a square has a page of its
own; both files print what `_told` gathers.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from os import PathLike
from pathlib import Path
from typing import Any, Literal, get_args

import typst
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from mosaickit.centre import CentreChart, CentreOut, CentreUsage, size, usage, work, write
from mosaickit.colours import Yarns
from mosaickit.errors import OptionError, PublishError, of_kind, one_of, true_or_false
from mosaickit.files import Owner, save_bytes
from mosaickit.gauge import Gauge
from mosaickit.motif import Motif
from mosaickit.orientation import ROLES
from mosaickit.policy import source_hash
from mosaickit.publish.cautions import CHILDREN_CAUTIONS, HANDS_CAUTION, LOCAL_RULES
from mosaickit.publish.contents import paragraphs, size_words
from mosaickit.publish.fonts import FONTS
from mosaickit.publish.paper import PAPERS, SIZES_MM, Paper, compiled
from mosaickit.publish.paper_charts import PaperFiles
from mosaickit.publish.pictures import photographs, said_of_photographs, square_views
from mosaickit.publish.poster import MM
from mosaickit.publish.rights import about_words, care_words, foot_words, hook_words, label_words
from mosaickit.sizes import LEVELS, CentreDesign, PatternWords, Publishing
from mosaickit.wording import TERMS, Terms, render
from mosaickit.yarn import USUAL_YARN_SETTINGS, YarnSettings, accuracy

NEVER_TRIED = (
    "Never tried on wool",
    "This square was worked out from the loops of its stitches. No such square was worked, and what happens at its "
    "corners may look otherwise than drawn. Work the first rounds as a trial, and do not sell the pattern untested.",
)
HOW_TO_READ = (
    "Each symbol has its foot towards the centre: a cross is a single crochet into the ring, a T with a slash an FLdc, "
    "an empty square a BLsc. The number of a round is in its corner square; rounds start at the thick line."
)

HOW_TO_READ_UNFILLED = "Heavy lines are drawn around regions of CC, and thin lines tell the yarns apart."
CentreForm = Literal["regular", "low ink"]
CENTRE_FORMS: tuple[CentreForm, ...] = get_args(CentreForm)
"""The forms of the pattern of a square from the centre."""

_HERE = Path(__file__).parent
_STYLE = (_HERE / "pattern.css").read_text("utf-8")
_MARGIN_MM = 20.0
_LEAST = 0.75  # a chart may become so much narrower before it is scrolled
_BOTH_ALIKE = (
    ".cover.two { grid-template-columns: repeat(2, minmax(0, 1fr)); }\n"
    ".cover.two figure:first-child { grid-area: auto; }\n"
    ".cover.two figure img { max-height: 24rem; }\n"
)
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
    style = _STYLE + _BOTH_ALIKE + _widths(told["drawing"])
    allowed = f"img-src data:; style-src '{source_hash(style)}'"
    data = _TEMPLATE.render(
        **told,
        style=style,
        policy=f"default-src 'none'; {allowed}; base-uri 'none'; form-action 'none'",
    )
    return save_bytes(path, data.encode(), Owner.named("pattern", design, told["title"]), replace=replace)


def pdf_from_centre(
    square: CentreDesign,
    path: str | PathLike[str],
    *,
    form: CentreForm = "regular",
    paper: Paper = "a4",
    design: str = "",
    replace: bool = False,
) -> Path:
    """Write a square worked from the centre as a tagged PDF. Experimental: never tried on wool, and it says so.

    Parameters
    ----------
    square : CentreDesign
        A square that the hook can work.
    path : path
        The file; its folder must be there.
    form : "regular" or "low ink"
        Low ink fills no squares of the chart, in which regions of CC are outlined, and has no pictures in colour.
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
    one_of("form", form, CENTRE_FORMS)
    one_of("paper", paper, PAPERS)
    told = _told(square, None, None, None, None, filled=form == "regular")
    files, chart = PaperFiles(), told.pop("drawing").encode()
    wide = (SIZES_MM[paper][0] - 2 * _MARGIN_MM) * MM
    covers = (wide, 0.6 * wide) if len(told["cover"]) == 1 else (0.48 * wide, 0.48 * wide)
    for name, room in (("cover", covers), ("photographs", (wide, 0.6 * wide))):
        told[name] = [files.add_pixels(f"{name}{number}", each, room) for number, each in enumerate(told[name])]
    published = square.publishing.published
    told |= {
        "size-mm": SIZES_MM[paper],
        "margin-mm": _MARGIN_MM,
        "fonts": FONTS,
        "date": None if published is None else [published.year, published.month, published.day],
    }
    put = {"main": _PAPER, "page.json": json.dumps(told).encode(), "chart.svg": chart, **files.kept}
    try:
        data: bytes = compiled(put, system_fonts=False, pdf_standards=["ua-1"])
    except typst.TypstError as err:
        raise PublishError(f"The page could not be set in type; the typesetter says: {err}.") from None
    return save_bytes(path, data, Owner.named("pattern", design, told["title"]), replace=replace)


def _told(
    given: CentreChart | CentreDesign,
    gauge: Gauge | None,
    terms: Terms | None,
    yarn_settings: YarnSettings | None,
    for_children: bool | None,
    *,
    filled: bool = True,
) -> dict[str, Any]:
    """Gather all that is printed, as texts and pictures."""
    named = {"gauge": gauge, "terms": terms, "yarn_settings": yarn_settings, "for_children": for_children}
    one = _as_design(given, named)
    gauge, words, own = one.known_gauge, one.words, one.publishing
    chart = one.chart if isinstance(given, CentreDesign) else given
    used = usage(chart, gauge, yarn_settings=one.yarn_settings)
    heading, *sections, rounds = (section.splitlines() for section in write(chart, words.terms).strip().split("\n\n"))
    pictures = photographs(one)
    return {
        "title": one.title,
        "summary": chart.summary.removeprefix(f"{chart.name}: "),
        "designer": words.designer,
        "language": own.language,
        "cover": () if not filled else pictures[:1] or square_views(chart, gauge, one.yarn_settings.yarn_mm),
        "photographs": pictures[1:] if filled else (),
        "no-photographs": said_of_photographs(one, filled=filled),
        "intro": paragraphs(words.intro),
        "notes": [paragraphs(note) for note in words.notes],
        "cautions": [NEVER_TRIED, HANDS_CAUTION, *((*CHILDREN_CAUTIONS, LOCAL_RULES) if words.for_children else ())],
        "facts": list(_facts(one, chart, gauge)),
        "yarn": list(_yarn(used, own)),
        "notions": own.notions,
        "drawing": chart.drawn(whole=True, filled=filled),
        "reading": render(HOW_TO_READ, words.terms) + ("" if filled else f" {HOW_TO_READ_UNFILLED}"),
        "heading": [line for line in heading if not line.startswith("Name: ")],
        "sections": sections,
        "rounds": rounds,
        "finishing": paragraphs(own.finishing),
        "blocking": paragraphs(own.blocking),
        "about": about_words(own),
        "foot": foot_words(one.title, own),
    }


def _as_design(given: CentreChart | CentreDesign, named: dict[str, Any]) -> CentreDesign:
    """Give what is printed as a design; of a chart alone its picture is the one that the hook makes."""
    if isinstance(given, CentreDesign):
        also = next((name for name, value in named.items() if value is not None), None)
        if also is not None:
            raise OptionError(f"A design says its own `{also}`: leave it out, or change it by `design.but`.")
        return given
    of_kind("chart", given, CentreChart)
    of_kind("gauge", named["gauge"], Gauge)
    children = named["for_children"] is not None and true_or_false("for_children", named["for_children"])
    if named["yarn_settings"] is not None:
        of_kind("yarn_settings", named["yarn_settings"], YarnSettings)
    terms: Terms = "US" if named["terms"] is None else named["terms"]
    one_of("terms", terms, TERMS)
    started = ([start for start in given.yarns.of(role) if start[0] <= len(given.rounds)] for role in ROLES)
    front = Motif(work(given).front, given.round_colours[0], Yarns(*started), given.name)
    return CentreDesign(
        CentreOut(front, given.hand),
        named["gauge"],
        yarn_settings=named["yarn_settings"] or USUAL_YARN_SETTINGS,
        words=PatternWords(terms=terms, for_children=children),
    )


def _facts(design: CentreDesign, chart: CentreChart, gauge: Gauge) -> Iterator[str]:
    """Say what a maker has to know before the first stitch, a sentence or two each."""
    words, own = design.words, design.publishing
    yield f"{render(gauge.sentence, words.terms)}{f', in {own.gauge_stitch}' if own.gauge_stitch else ''}."
    yield size(chart, gauge).sentence
    for when, measured in (("after", own.blocked_cm), ("before", own.unblocked_cm)):
        if measured is not None:
            yield f"Measured {when} blocking: {size_words(measured)}."
    if design.hook_mm is not None:
        yield f"Hook: {hook_words(design.hook_mm)}, or whatever size gives the {render('gauge', words.terms)}."
    if words.level is not None:
        yield f"Level: {words.level}. {LEVELS[words.level]} (Craft Yarn Council)"


def _yarn(used: CentreUsage, own: Publishing) -> Iterator[str]:
    """Say how much of each yarn, with what its label says."""
    yield used.summary
    for total, (yarn, ball) in zip(used.by_yarn, used.skeins, strict=True):
        label = label_words(own.label(yarn.name), ball)
        yield f"{str(total).rstrip('.')}. {label}" if label else str(total)
    yield accuracy(used.lengths)
    yield from filter(None, [care_words(own.label(yarn.name) for yarn, _ in used.skeins)])


def _widths(drawing: str) -> str:
    """Say how wide the chart is, and how narrow it may become before it is scrolled, so that it can be read."""
    wide = float(drawing.partition('width="')[2].partition('"')[0])
    return (
        f"@media screen {{ .sheet svg {{ width: 100%; height: auto; max-width: {wide:.0f}px; "
        f"min-width: {wide * _LEAST:.0f}px; }} }}\n"
    )
