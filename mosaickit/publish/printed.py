"""What is printed of a page, whether it has sizes or not: written rows, a table of the sizes, and yarn row by row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest

from mosaickit.gauge import CM_PER_INCH
from mosaickit.publish import contents
from mosaickit.publish.boxes import ChartView
from mosaickit.publish.contents import PageTable
from mosaickit.publish.gathering import gathered
from mosaickit.publish.page import Page
from mosaickit.publish.sizes_told import all_yarns, chains, has_chain, yarn_in
from mosaickit.wording import Tongue


@dataclass(frozen=True)
class PrintedWords:
    """The written rows as they are printed; each row is (label, text, count), and one without a label a sentence."""

    foundation: str
    rows: tuple[tuple[str, str, str], ...]
    remarks: tuple[str, ...]
    abbreviations: tuple[tuple[str, str], ...]
    special: tuple[tuple[str, str], ...]
    finishing: tuple[str, ...] = ()


def printed_words(page: Page, terms: Tongue) -> PrintedWords:
    """Give the rows of a page in one of its terms: of all sizes, if there are several."""
    for sized in page.sized:
        if sized.terms == terms:
            return PrintedWords(
                sized.foundation, sized.rows, sized.remarks, sized.abbreviations, sized.special, sized.finishing
            )
    own = next(words for words in page.instructions if words.terms == terms)
    rows = tuple((row.label, f"{row.text}.", contents.count(row)) for row in own.rows)
    return PrintedWords(own.foundation, rows, own.remarks, own.abbreviations, own.special, own.finishing)


def tables_of_sizes(page: Page, most: int) -> tuple[PageTable, ...]:
    """Table what the sizes measure and take, with at most `most` sizes in a table; no table with fewer than two."""
    if len(page.sizes) < 2:
        return ()
    around, rows = ("Around", "Rounds") if page.chart.in_the_round else ("Width", "Rows")
    found = []
    for start in range(0, len(page.sizes), most):
        sizes = page.sizes[start : start + most]
        pages = [size.page for size in sizes]
        measures = [one.finished_cm for one in pages]
        lines = [
            (f"{name} ({unit})", *(f"{pair[way] / factor:.1f}" for pair in measures))
            for way, name in enumerate((around, "Height"))
            for unit, factor in (("cm", 1), ("in", CM_PER_INCH))
        ]
        lines += [
            ("Repeats across", *(str(size.across) for size in sizes)),
            ("Repeats up", *(str(size.up) for size in sizes)),
            *([("Foundation chains", *(str(chains(one)) for one in pages))] if has_chain(page) else []),
            ("Stitches", *(str(one.chart.shape[1]) for one in pages)),
            (rows, *(str(one.chart.shape[0]) for one in pages)),
        ]
        for yarn in all_yarns(page):
            own = [yarn_in(one, yarn) for one in pages]
            name = yarn.name or "unnamed yarn"
            lines.append((f"{name} (m)", *(contents.whole_metres(each.likely_m if each else 0) for each in own)))
            if yarn.skeins is not None:
                lines.append((f"{name} (skeins)", *(str(each.skeins if each else 0) for each in own)))
        head = ("Size", *(size.name for size in sizes))
        found.append(PageTable("", head, tuple(lines), tuple(range(1, len(head))), wide=0))
    return tuple(found)


def row_tables(page: Page, views: Sequence[ChartView] = (), *, brief: bool = False) -> tuple[PageTable, ...]:
    """Table the yarn of each row, a table for each size; rows of a view with a box that take the same are one line."""
    found = []
    of_sizes = [(f"Size {size.name}. ", size.page) for size in page.sizes] if len(page.sizes) > 1 else [("", page)]
    for (name, one), view in zip_longest(of_sizes, views):
        table = contents.row_use(one, brief=brief)
        if view is not None and view.box is not None:
            table = gathered(table, view.box.shape[0] * (1 + view.box.swaps))
        found.append(replace(table, caption=f"{name}{table.caption}"))
    return tuple(found)
