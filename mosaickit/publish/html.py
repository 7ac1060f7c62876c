"""A page as one HTML file that needs no network: a plain document, and with its script a guide from row to row.

Jinja2 escapes every text; style and script stand in the file itself and are the only ones its policy lets run. Both
terms are in the page. The script knows nothing of the craft: where a row lies in the chart and what is worked in it is
written into the page here.
"""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from mosaickit import orientation
from mosaickit.disk import write_whole
from mosaickit.errors import OptionError
from mosaickit.page import Page
from mosaickit.policy import source_hash
from mosaickit.publish import contents
from mosaickit.publish.charts import Drawings, Look
from mosaickit.wording.terms import NATIONS

_HERE = Path(__file__).parent
_STYLE = (_HERE / "pattern.css").read_text("utf-8")
_SCRIPT = (_HERE / "guide.js").read_text("utf-8")
_SQUARE, _TYPE = 16.0, 10.0  # pixels
_COVER, _FACE = (240.0, 240.0), (340.0, 460.0)


_POLICY = "; ".join(
    [
        "default-src 'none'",
        f"style-src '{source_hash(_STYLE)}'",
        f"script-src '{source_hash(_SCRIPT)}'",
        "base-uri 'none'",
        "form-action 'none'",
    ]
)
_TEMPLATE = Environment(
    loader=FileSystemLoader(_HERE), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
).get_template("pattern.html.j2")


def html(page: Page, path: str | PathLike[str]) -> Path:
    """Write a page as one HTML file.

    Parameters
    ----------
    page : Page
        What `pattern` gives.
    path : path
        The file; its folder must be there.

    Returns
    -------
    Path
        The file, written whole. The same page gives the same bytes.

    Raises
    ------
    OptionError
        If `page` is none.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    if not isinstance(page, Page):
        raise OptionError(f"`page` must be a `Page`, as `mk.pattern` gives; got {page!r}.")
    return write_whole(path, _render(page).encode())


def _render(page: Page) -> str:
    drawings = Drawings(page, page.terms)
    chart = drawings.part(drawings.whole, Look(_SQUARE, _TYPE, font=""))
    return _TEMPLATE.render(
        page=page,
        nations=NATIONS,
        policy=_POLICY,
        style=_STYLE,
        script=_SCRIPT,
        summary=contents.summary(page),
        intro=contents.paragraphs(page.intro),
        facts={words.terms: contents.facts(page, words.terms) for words in page.instructions},
        yarns=contents.yarn_lines(page),
        colours={yarn.name: yarn.colour for yarn in page.yarns},
        contrast=contents.contrast_lines(page),
        table=contents.row_use(page),
        notes=[contents.paragraphs(note) for note in page.notes],
        chart=chart,
        square=_SQUARE,
        # the top edge of each row in the chart, row 1 first
        tops=[1 + _SQUARE * orientation.square(row, 1, page.chart.shape)[0] for row in range(1, len(page.row_use) + 1)],
        edge=orientation.working_edge(page.chart.hand),
        faces={side: drawings.face(side, _FACE) for side in ("front", "back")},
        keys={words.terms: list(Drawings(page, words.terms).key(22)) for words in page.instructions},
        key_words=contents.key_words(page, marked=drawings.marked),
        count=contents.count,
        row_word=contents.row_word(page),
        cover=drawings.face("front", _COVER),
    )
