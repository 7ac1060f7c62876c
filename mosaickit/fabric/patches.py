"""A patch of a chart: some of its rows and stitches as a piece of its own."""

from __future__ import annotations

from dataclasses import replace

from mosaickit import orientation
from mosaickit.fabric.stitches import Chart


def patch_of(chart: Chart, rows: tuple[int, int] | None, stitches: tuple[int, int] | None) -> Chart:
    """Cut a patch out of a chart, by first and last row and stitch, from 1; it keeps its rows' colours and yarns.

    Where they are left out, it has 20 of them from the beginning. Raises `OptionError` if the patch is not in the
    chart.
    """
    (first, last), (left, right) = (
        _shown(name, span, most)
        for name, span, most in zip(("rows", "stitches"), (rows, stitches), chart.shape, strict=True)
    )
    return replace(
        chart,
        stitches=chart.stitches[first - 1 : last, left - 1 : right],
        row_colours=chart.row_colours[first - 1 : last],
        yarns=chart.yarns.gather(range(first, last + 1)),
    )


def _shown(name: str, span: tuple[int, int] | None, most: int) -> tuple[int, int]:
    return (1, min(most, 20)) if span is None else orientation.checked_span(name, span, most)
