"""Together: what several parts of a design have a say in: what must agree, its rows in words, its line of summary."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mosaickit.errors import OptionError, number_of
from mosaickit.motif import checked_size
from mosaickit.sizes.finishes.finish import check_finish
from mosaickit.wording import Tongue, WrittenRows, in_tongue, write_rows

if TYPE_CHECKING:
    from mosaickit.sizes.designs.design import Design


def rows_of(design: Design, tongue: Tongue) -> WrittenRows:
    """Write the rows of a design in the given terms, or another language."""
    return write_rows(
        design.chart,
        **in_tongue(tongue),
        phrasing=design.words.phrasing,
        between_rows=design.yarn_settings.between_rows,
        repeat=design.repeat,
        foundation=design.finish.foundation,
        ends=design.finish.ends,
    )


def check_together(design: Design) -> None:
    """Raise an error if parts of a design do not go together, or the whole piece is larger than a motif may be."""
    if design.yarn_settings.lengths is not None and (design.by_thread or design.swatches):
        raise OptionError(
            "Lengths of your own are told once: leave out `lengths`, or leave out "
            f"{'`swatches`' if design.swatches else '`by_thread`'}."
        )
    checked_size(*design.shape)
    check_finish(design.finish, design.surround, design.yarn_settings, design.shape[0])


def summary_of(design: Design) -> str:
    """Write one line: title, what is laid and how, the size of the piece."""
    rows, stitches = design.shape
    alone = design.across == design.up == 1
    bands = f"{number_of(len(design.bands.order), 'band')}, " if design.bands is not None else ""
    laid = "one repeat" if alone else f"{design.across} × {design.up} repeats"
    laid += f" {design.laying}" * (design.laying != "straight" and not alone)
    size = "" if design.gauge is None else f", {design.size}"
    return f"{design.title}: {bands}{laid}, {number_of(rows, 'row')} × {number_of(stitches, 'stitch')}{size}"
