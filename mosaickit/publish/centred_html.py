"""A square worked from the centre as one HTML file that needs no network: chart, size, yarn, rounds and cautions.

It is a plain document without script, in one set of terms. A `Page` is about rows, so such a square has none yet.
"""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from mosaickit.centre import CentreChart, size, usage, work, write
from mosaickit.errors import of_kind, one_of, true_or_false
from mosaickit.files import Owner, save_bytes
from mosaickit.gauge import Gauge
from mosaickit.policy import source_hash
from mosaickit.publish.cautions import CHILDREN_CAUTIONS, HANDS_CAUTION, LOCAL_RULES
from mosaickit.wording import TERMS, Terms
from mosaickit.yarn import USUAL_YARN_SETTINGS, YarnSettings

WITHOUT_A_NAME = "A square from the centre"

NEVER_TRIED = (
    "Never tried on wool",
    "This square was worked out from the loops of its stitches. No such square was worked, and what happens at its "
    "corners may look otherwise than drawn. Work the first rounds as a trial, and do not sell the pattern untested.",
)

_HERE = Path(__file__).parent
_STYLE = (_HERE / "pattern.css").read_text("utf-8")
_LEAST = 0.75  # a chart may become so much narrower before it is scrolled
_TEMPLATE = Environment(
    loader=FileSystemLoader(_HERE), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
).get_template("centred.html.j2")


def html_from_centre(
    chart: CentreChart,
    path: str | PathLike[str],
    *,
    gauge: Gauge,
    terms: Terms = "US",
    yarn_settings: YarnSettings = USUAL_YARN_SETTINGS,
    for_children: bool = False,
    design: str = "",
    replace: bool = False,
) -> Path:
    """Write a square worked from the centre as one HTML file. Experimental: never tried on wool, and it says so.

    Parameters
    ----------
    chart : CentreChart
        A chart that the hook can work; its name is the title.
    path : path
        The file; its folder must be there.
    gauge : Gauge
        The size of a stitch.
    terms : "US" or "UK"
        The terms of the rounds, and the spelling.
    yarn_settings : YarnSettings
        How yarn is calculated.
    for_children : bool
        Whether to add what to take care of in things for children.
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
        If an argument is of another kind.
    StitchError
        If no hook can work the chart.
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    of_kind("chart", chart, CentreChart)
    of_kind("gauge", gauge, Gauge)
    one_of("terms", terms, TERMS)
    children = true_or_false("for_children", for_children)
    work(chart)
    title = chart.name or WITHOUT_A_NAME
    yarn = str(usage(chart, gauge, yarn_settings=yarn_settings)).splitlines()[1:]
    heading, *sections, rounds = (section.splitlines() for section in write(chart, terms).strip().split("\n\n"))
    drawing = chart.drawn(whole=True)
    style = _STYLE + _widths(drawing)
    data = _TEMPLATE.render(
        title=title,
        summary=chart.summary,
        cautions=[NEVER_TRIED, HANDS_CAUTION, *((*CHILDREN_CAUTIONS, LOCAL_RULES) if children else ())],
        gauge=gauge.sentence,
        size=size(chart, gauge).sentence,
        yarn=yarn,
        drawing=drawing,
        heading=[line for line in heading if not line.startswith("Name: ")],
        sections=sections,
        rounds=rounds,
        style=style,
        policy=f"default-src 'none'; style-src '{source_hash(style)}'; base-uri 'none'; form-action 'none'",
    )
    return save_bytes(path, data.encode(), Owner.named("pattern", design, title), replace=replace)


def _widths(drawing: str) -> str:
    """Say how wide the chart is, and how narrow it may become before it is scrolled, so that it can be read."""
    wide = float(drawing.partition('width="')[2].partition('"')[0])
    return (
        f"@media screen {{ .sheet svg {{ width: 100%; height: auto; max-width: {wide:.0f}px; "
        f"min-width: {wide * _LEAST:.0f}px; }} }}\n"
    )
