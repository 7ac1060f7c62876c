"""Written: a design in one line, its rows in words, and those of all its sizes as one text."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from mosaickit import wording
from mosaickit.errors import UnworkableError, number_of
from mosaickit.fabric import Chart

if TYPE_CHECKING:
    from mosaickit.sizes.designs.design import Design

Spans = tuple[tuple[int, int], tuple[int, int]]
"""Rows and stitches, first and last of each, from 1."""


def rows_in_words(
    design: Design, tongue: wording.Tongue, repeat: int | None, first: Spans | None
) -> wording.WrittenRows:
    """Write the rows of a design in the given terms, or another language; `repeat` and `first` are those of its words.

    See `Design.rows`.
    """
    return wording.write_rows(
        design.chart,
        **wording.in_tongue(tongue),
        phrasing=design.words.phrasing,
        between_rows=design.yarn_settings.between_rows,
        repeat=repeat,
        repeat_from=None if first is None else first[1][0],
        foundation=design.finish.foundation,
        ends=design.finish.ends,
    )


def sizes_in_one(design: Design, tongue: wording.Tongue) -> wording.WrittenSizes:
    """Write the rows of all sizes of a design in the given terms, or another language; see `Design.sized_rows`."""
    repeat, first = common_repeat(design.in_sizes.values())
    charts = charts_in_sizes(design)
    start = 1 if first is None else first[1][0]
    # a size may be narrower than where the repeat of the others begins
    begins = start if start <= min((chart.shape[1] for chart in charts.values()), default=0) else None
    return wording.write_sizes(
        charts,
        **wording.in_tongue(tongue),
        between_rows=design.yarn_settings.between_rows,
        repeat=repeat,
        repeat_from=None if first is None else begins,
        foundation=design.finish.foundation,
        ends=design.finish.ends,
    )


def charts_in_sizes(design: Design) -> dict[str, Chart]:
    """Give the chart of each size of a design; raises `UnworkableError`, with the size, if one cannot be worked."""
    charts = {}
    for name, one in design.in_sizes.items():
        try:
            charts[name] = one.chart
        except UnworkableError as error:
            said = f"Size {name}, {one.across} × {one.up} repeats: {error}"
            raise UnworkableError(said, error.report, error.cures) from None
    return charts


def summary_of(design: Design) -> str:
    """Say a design in one line; see `Design.summary`."""
    rows, stitches = design.shape
    alone = design.across == design.up == 1
    bands = f"{number_of(len(design.bands.order), 'band')}, " if design.bands is not None else ""
    laid = "one repeat" if alone else f"{design.across} × {design.up} repeats"
    laid += f" {design.laying}" * (design.laying != "straight" and not alone)
    size = "" if design.gauge is None else f", {design.size}"
    sizes = f"; sizes {wording.in_series([one.name for one in design.sizes])}" if design.sizes else ""
    return f"{design.title}: {bands}{laid}, {number_of(rows, 'row')} × {number_of(stitches, 'stitch')}{size}{sizes}"


def common_repeat(designs: Iterable[Design]) -> tuple[int | None, Spans | None]:
    """Give what `Design.repeat` and `Design.first_repeat` are for several sizes of a piece together.

    Two repeats are one larger one in some sizes, where every second is turned; that one is then the repeat of all.
    """
    each = [one for one in designs if one.first_repeat is not None]
    repeats = [one.repeat for one in each if one.repeat is not None]
    spans = [one.first_repeat for one in each if one.first_repeat is not None]
    if not spans:
        return None, None
    (low, high), (start, wide) = (
        (min(span[way][0] for span in spans), max(span[way][1] - span[way][0] + 1 for span in spans)) for way in (0, 1)
    )
    return max(repeats, default=None), ((low, low + high - 1), (start, start + wide - 1))
