"""A page as one HTML file that needs no network: a plain document, and with its script a guide.

Jinja2 escapes every text; style and script stand in the file itself and are the only ones its policy lets run. Both
terms are in the page. The guide leads from row to row, or, if that is asked for, from stitch to stitch; the latter is
the script of the notebook's row guide, as it is. Neither knows anything of the craft: what is worked where is written
into the page here.
"""

from __future__ import annotations

import json
import re
from html import escape, unescape
from os import PathLike
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from mosaickit import guiding, orientation
from mosaickit.errors import OptionError, true_or_false
from mosaickit.files import Owner, save_bytes
from mosaickit.policy import source_hash
from mosaickit.publish import contents
from mosaickit.publish.chart_words import key_words
from mosaickit.publish.charts import Drawings, all_of
from mosaickit.publish.drawing import Drawing
from mosaickit.publish.numbering import PrintStyle
from mosaickit.publish.page import Page
from mosaickit.publish.pictures import photographs, yarn_views
from mosaickit.publish.printed import printed_words, row_tables, tables_of_sizes
from mosaickit.publish.schematic import schematic
from mosaickit.publish.sized_charts import SizedChart, sized_charts
from mosaickit.publish.sizes_told import of_size
from mosaickit.publish.translating import WHOLE, Translator
from mosaickit.scripts import one_script
from mosaickit.svg import ChartMarks, Marks, marks_of
from mosaickit.wording import NATIONS, TERMS

_HERE = Path(__file__).parent
_WIDGETS = _HERE.parent / "widgets"
_SQUARE, _LEAST, _TYPE = 16.0, 12.0, 10.0  # pixels: a square as drawn, and at least, and the numbers
_OVERVIEW, _OVERVIEW_MOST = 5.0, (900.0, 900.0)
_MOST_SIZES = 6
"""A table has at most this many sizes."""
_COVER, _FACE, _OUTLINE = (240.0, 240.0), (340.0, 460.0), (420.0, 320.0)


def _joined(*files: Path) -> str:
    return "".join(file.read_text("utf-8") for file in files)


# style and script of a page that leads from row to row, and of one that leads from stitch to stitch
_STYLES = {
    False: _joined(_HERE / "pattern.css"),
    True: _joined(_HERE / "pattern.css", _WIDGETS / "guide.css", _HERE / "stitches.css"),
}
_SCRIPTS = {
    False: _joined(_HERE / "page.js", _HERE / "rows.js"),
    True: one_script(_WIDGETS / "guide_desk.js") + _joined(_HERE / "page.js", _HERE / "stitches.js"),
}
JINJA = Environment(
    loader=FileSystemLoader(_HERE), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
)


def _whole(text: str) -> str:
    """Escape a text, and keep short words with hyphens, as abbreviations, from being broken at them."""
    return re.sub(r"[\w½]{1,11}(?:-[\w½]{1,11})+", r'<span class="whole">\g<0></span>', escape(text))


def _marked(text: str) -> str:
    """Escape a text, and mark it as one that `_whole` is yet to see, as it may be put into another language first."""
    return WHOLE + escape(text)


JINJA.filters["whole"] = _marked
_TEMPLATE = JINJA.get_template("pattern.html.j2")


def html(
    page: Page,
    path: str | PathLike[str],
    *,
    guide: bool = False,
    marks: Marks = "symbols",
    in_full: bool = False,
    design: str = "",
    replace: bool = False,
) -> Path:
    """Write a page as one HTML file.

    Parameters
    ----------
    page : Page
        What `pattern` gives.
    path : path
        The file; its folder must be there.
    guide : bool
        Whether to lead the maker from stitch to stitch, with the hook's moves, in place of from row to row. The rows
        are then in our words, also where the page has others.
    marks : "symbols", "plain", "letters" or mapping
        How the chart marks its stitches; see `pdf`.
    in_full : bool
        Whether the whole chart alone is shown. Otherwise a repeat that comes again is charted once, with the whole
        piece in small, and the whole chart is there to be opened.
    design : str
        What the pattern is known by where its own earlier file is there. Left out, it is the page's title.
    replace : bool
        Whether to replace whatever file is there. Otherwise only the same design's own earlier file is, if nothing
        changed it since.

    Returns
    -------
    Path
        The file, written whole. The same page gives the same bytes.

    Raises
    ------
    OptionError
        If `page` is none, its chart is too large for a guide from stitch to stitch, or letters cannot be told apart.
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    guide = true_or_false("guide", guide)
    if not isinstance(page, Page):
        raise OptionError(f"`page` must be a `Page`, as `mk.pattern` gives; got {page!r}.")
    shown = true_or_false("in_full", in_full)
    if guide and page.terms not in TERMS:
        raise OptionError(
            "`guide` must be False for a page in another language, as the guide from stitch to stitch is in English "
            "only. Without it the page leads from row to row."
        )
    data = _render(page, marks_of(marks), guide=guide, in_full=shown).encode()
    return save_bytes(path, data, Owner.named("pattern", design, page.title), replace=replace)


def _render(page: Page, marks: ChartMarks, *, guide: bool = False, in_full: bool = False) -> str:
    # the top edge of each row in the chart, row 1 first
    tops = [1 + _SQUARE * orientation.square(row, 1, page.chart.shape)[0] for row in range(1, len(page.row_use) + 1)]
    in_terms = {words.terms: Drawings(page, words.terms) for words in page.instructions}
    drawings = in_terms[page.terms]
    charts = _on_screen(sized_charts(page, page.terms, in_full=in_full), marks)
    style = _STYLES[guide] + _widths(_sheets(charts))
    pictures = photographs(page)[:1] or yarn_views(page)
    translator = Translator(page)
    drawn = _TEMPLATE.render(
        page=page,
        label=translator.label,
        nations=NATIONS,
        policy=policy_of(style, _SCRIPTS[guide]),
        style=style,
        script=_SCRIPTS[guide],
        laid_out=_laid_out(page, tops) if guide else "",
        summary=contents.summary(page),
        intro=contents.paragraphs(page.intro),
        facts={words.terms: contents.facts(page, words.terms) for words in page.instructions},
        yarns=contents.yarn_lines(page),
        yarn_key=contents.yarn_key(page),
        colours={yarn.letter: yarn.colour for yarn in page.yarns},
        changes={start.row for start in page.starts if start.row > 2},
        contrast=contents.contrast_lines(page),
        tables=row_tables(page),
        size_tables=tables_of_sizes(page, _MOST_SIZES),
        of_size=of_size(page),
        about_yarn=contents.about_yarn(page),
        printed={words.terms: printed_words(page, words.terms) for words in page.instructions},
        notes=[contents.paragraphs(note) for note in page.notes],
        chart=charts[0]["wholes"][0]["drawn"],
        charts=charts,
        square=_SQUARE,
        tops=tops,
        edge=orientation.working_edge(page.chart.hand),
        faces={side: drawings.face(side, _FACE) for side in ("front", "back")},
        keys={words.terms: list(in_terms[words.terms].key(22, marks)) for words in page.instructions},
        key_words={words.terms: key_words(in_terms[words.terms], marks) for words in page.instructions},
        count=contents.count,
        row_word=contents.row_word(page),
        cover=None if pictures else drawings.face("front", _COVER),
        pictures=pictures,
        photographs=photographs(page)[1:],
        labels=contents.yarn_labels(page),
        notions=contents.notions(page),
        care_line=contents.care_line(page),
        finishing=contents.paragraphs(page.publishing.finishing),
        blocking=contents.paragraphs(page.publishing.blocking),
        schematic=schematic(page, _OUTLINE, 16, font=""),
        about=contents.about(page),
        foot=contents.foot(page),
        keywords=", ".join(contents.keywords(page)),
    )
    if translator.needed:
        return translator.markup(drawn, _whole)
    return re.sub(rf"{WHOLE}([^<]*)", lambda text: _whole(unescape(text[1])), drawn)


def _on_screen(charts: tuple[SizedChart, ...], marks: ChartMarks) -> list[dict[str, Any]]:
    """Draw the charts of a page: a repeat once, where there is one, and the whole of each size, the one in front first.

    Each drawing has a name of its own, that of the first is the one that the guide looks for.
    """
    found: list[dict[str, Any]] = []
    number = 0
    for place, chart in enumerate(charts):
        view, drawings = chart.view, chart.drawings
        look = PrintStyle(_SQUARE, _TYPE, font="", marks=marks, letters=drawings.letters)
        small = PrintStyle(_OVERVIEW, _TYPE, font="")
        named = sorted(
            zip(chart.wholes, chart.names or ("",), strict=True), key=lambda whole: whole[0] is not chart.drawings
        )
        wholes = []
        for own, size in named:
            overview = own.overview(small, _OVERVIEW_MOST) if view.box else None
            drawn = own.part(own.whole, look)
            wholes.append({"size": size, "drawn": drawn, "overview": overview, "id": f"sheet{_after(number)}"})
            number += 1
        found.append(
            {
                "title": chart.title,
                "words": chart.words,
                "once": drawings.part(all_of(view), look, view) if view.box else None,
                "once_id": f"once{_after(place)}",
                "wholes": wholes,
            }
        )
    return found


def _after(number: int) -> str:
    return f"-{number + 1}" if number else ""


def _sheets(charts: list[dict[str, Any]]) -> dict[str, Drawing]:
    """Give every chart that is drawn by the name of its sheet."""
    found: dict[str, Drawing] = {}
    for chart in charts:
        found |= {whole["id"]: whole["drawn"] for whole in chart["wholes"]}
        found |= {chart["once_id"]: chart["once"]} if chart["once"] else {}
    return found


def _widths(sheets: dict[str, Drawing]) -> str:
    """Say how wide charts are, and how narrow they may become before they are scrolled, so that they can be read."""
    return "".join(
        f"@media screen {{ #{name} svg {{ width: 100%; height: auto; max-width: {sheet.width:.0f}px; "
        f"min-width: {sheet.width * _LEAST / _SQUARE:.0f}px; }} }}\n"
        for name, sheet in sheets.items()
    )


def policy_of(style: str, script: str) -> str:
    """Let only this very style and script work, pictures that stand in the page, and nothing come from outside."""
    return "; ".join(
        [
            "default-src 'none'",
            "img-src data:",
            f"style-src '{source_hash(style)}'",
            f"script-src '{source_hash(script)}'",
            "base-uri 'none'",
            "form-action 'none'",
        ]
    )


def _laid_out(page: Page, tops: list[float]) -> str:
    """Write what the guide from stitch to stitch shows as JSON that may stand in HTML: what the terms share, once."""
    found: dict[str, dict[str, Any]] = {
        terms: guiding.steps(
            page.chart,
            gauge=page.gauge,
            terms=terms,
            between_rows=page.between_rows,
            repeat=page.repeat,
            repeat_from=page.repeat_from,
            foundation=page.foundation,
        )
        for terms in TERMS
        if any(words.terms == terms for words in page.instructions)
    }
    own = found[page.terms]
    shared = {name: value for name, value in own.items() if all(data[name] == value for data in found.values())}
    terms = {each: {name: data[name] for name in data if name not in shared} for each, data in found.items()}
    text = json.dumps({"tops": tops, "shared": shared, "terms": terms}, separators=(",", ":"))
    return text.replace("<", "\\u003c")  # so that nothing in it ends the script that holds it
