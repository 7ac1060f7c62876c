"""What writes each file of a design: the pattern as PDF and HTML, the chart, tables, the motif, the design."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from mosaickit import draw, publish, sizes, tables
from mosaickit.doors import late
from mosaickit.errors import OptionError, PublishError
from mosaickit.fabric import Chart
from mosaickit.sizes import Design
from mosaickit.widgets.book.share_options import SYSTEM_FONTS, Sharing
from mosaickit.yarn import Usage, yarn_usage

if TYPE_CHECKING:
    import matplotlib.pyplot as plt
    from matplotlib.figure import Figure
else:
    plt = late("matplotlib.pyplot")

MOST_SQUARES_DRAWN = 1_000_000
"""A chart as a picture has no more squares; of more it would take very long and open nowhere."""

_PIXELS_OF_MOTIF = 4_000
"""The length, in pixels, that the longer side of a motif's picture has at most, about."""
_TITLE_LINE = 70

_USUAL_DPI, _PIXELS_OF_SQUARE, _PIXELS_OF_CHART = 150, 24, 40_000_000
"""A chart as PNG: the least dots an inch, the pixels of a square, and the most pixels in all."""

WritesFile = Callable[..., Path]
"""Saves a file; takes a `Sharing`, the path, and `replace`."""


def _page(of: Sharing, then: str) -> publish.Page:
    """Give the page of a pattern, as the first of two steps."""
    of.begins("writing the rows in words", 1, 2)
    page = of.page()
    of.begins(then, 2, 2)
    return page


def write_pdf(of: Sharing, path: Path, *, replace: bool) -> Path:
    """Set the pattern on paper; raises `PublishError`, in words for the hand."""
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
            cure = f"Write it without that character, or tick “{SYSTEM_FONTS}”: one of its fonts has that character."
    where = _FIELDS.get(error.field.replace("[", ".").split(".")[0], "The pattern")
    point = f"U+{ord(error.character[0]):04X}"  # the page may have no font for it either
    said = f"{where} has {error.character!r} ({point}), which the fonts of the PDF cannot show. {cure}"
    return PublishError(said, error.field, error.character)


def html_writer(*, guide: bool) -> WritesFile:
    """Give what lays the pattern out as a web page."""

    def write(of: Sharing, path: Path, *, replace: bool) -> Path:
        page = _page(of, "laying the page out")
        known = of.name or page.fingerprint
        marks, in_full = of.options.chosen_marks, of.options.in_full
        return publish.html(page, path, guide=guide, marks=marks, in_full=in_full, design=known, replace=replace)

    return write


def write_chart(of: Sharing, path: Path, *, replace: bool) -> Path:
    """Draw the chart of the piece, or of its motif once; raises `OptionError` if it is too large."""
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


def table_writer(make: Callable[[Sharing], Any]) -> WritesFile:
    """Give what keeps a table."""

    def write(of: Sharing, path: Path, *, replace: bool) -> Path:
        return tables.save_table(make(of), path, replace=replace, design=of.name)

    return write


def usage_of(of: Sharing) -> Usage:
    """Give the yarn of every row."""
    return yarn_usage(of.design.chart, of.design.known_gauge, yarn_settings=of.design.calculated_by)


def write_motif(of: Sharing, path: Path, *, replace: bool) -> Path:
    """Save the motif, as a picture with squares that can be seen."""
    square = max(1, min(16, _PIXELS_OF_MOTIF // max(of.design.motif.shape))) if path.suffix == ".png" else 1
    return sizes.save(of.design.motif, path, replace=replace, design=of.name, square=square)


def write_design(of: Sharing, path: Path, *, replace: bool) -> Path:
    """Save the design."""
    return sizes.save(of.design, path, replace=replace)
