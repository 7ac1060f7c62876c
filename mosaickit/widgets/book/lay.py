"""Lay: repeats, frame and edges, the whole piece in view, and the counts of repeats that come near a wanted size."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from mosaickit import svg
from mosaickit.errors import OptionError, number_of, one_of
from mosaickit.sizes import ARTICLES, Design
from mosaickit.widgets.book.edges import edge_names
from mosaickit.widgets.book.entries import USUAL_GAUGE, shown
from mosaickit.widgets.book.lay_bands import BAND_ACTIONS, bands_shown, change_bands
from mosaickit.widgets.book.lay_finish import finish_shown
from mosaickit.widgets.book.lay_fits import find
from mosaickit.widgets.book.lay_sizes import sizes_told
from mosaickit.widgets.book.lay_typed import desk_of, skeins_typed, typed_on, unit_of, yarns_of
from mosaickit.widgets.book.lay_ways import ways_out
from mosaickit.widgets.book.ledger import squares_of_motif
from mosaickit.widgets.book.panel import Book, Panel

MOST_MARKS = 2000
"""The most squares that are marked as unworkable; how many more there are is said."""

MORE_FITS = 12
"""The number of fits that one press adds to the list."""

LAID = {
    "straight": "",
    "brick": "Every second band is shifted by half a repeat.",
    "half-drop": "Every second column is shifted by half a repeat.",
    "mirrored": "Every second repeat is a mirror image of its neighbours.",
}
"""What each way of laying means."""

GAUGE = ("gauge_stitches", "gauge_rows", "gauge_over", "gauge_unit")


def names_of(design: Design) -> list[tuple[str, list[str]]]:
    """Give what is asked for, under which headings: only what means something for the design as it is."""
    flat = not design.surround.in_the_round
    repeats = ["across", "up", "laying"]
    if design.laying == "mirrored":
        repeats.append("seam")
    if design.surround.colours == "swap" or (
        design.multiple.rows % 2 and (design.up > 1 or design.surround.balance_up)
    ):
        repeats.append("colours")
    return [
        ("Repeats", repeats),
        ("What closes them", [*["balance_across"] * flat, "balance_up"]),
        ("Frame and edges" if flat else "Edges", [*["rings", "edges"] * flat, "rows_below", "rows_above"]),
        ("Fabric", ["reversible", "in_the_round", "hand"]),
        ("Foundation, ends and border", edge_names(design)),
        ("Several sizes", ["sizes"]),
    ]


class LayPanel(Panel):
    """Repeats, frame and edges, and a wanted size."""

    name, word, hint = "lay", "Lay", "Repeats, frame, edges and size"

    def entered(self, book: Book) -> dict[str, Any] | None:
        """Give what stands in the boxes."""
        return typed_on(book)

    def view(self, book: Book) -> dict[str, Any]:
        """Give the entries, the whole piece, what is typed of a wanted size, and what was found for it."""
        design, desk = book.design, desk_of(book)
        groups = [{"word": word, "entries": _entries(design, names)} for word, names in names_of(design)]
        usual = f"{USUAL_GAUGE.stitches:g} stitches and {USUAL_GAUGE.rows:g} rows in 10 cm"
        found = desk.kept("found", design, find)
        return {
            "groups": groups,
            "multiple": str(design.multiple),
            "bands": bands_shown(design),
            "gauge": {
                "word": "Gauge",
                "entries": _entries(design, GAUGE),
                "note": ""
                if design.gauge
                else f"A size needs a gauge. What you leave out of it is taken as usual: {usual}.",
            },
            "sizes": desk.kept("sizes", design, lambda one, *_: sizes_told(one)),
            "piece": desk.kept("piece", design, lambda one, *_: _piece(one)),
            "ways": [
                {"key": way.key, "word": way.word} for way in desk.kept("ways", design, lambda one, *_: ways_out(one))
            ],
            "typed": dict(desk.typed),
            "articles": list(ARTICLES),
            "limits": [{"name": yarn.name, "colour": yarn.colour} for yarn in yarns_of(design)],
            "skeins": design.yarn_settings.skeins is not None,
            "found": found.view,
        }

    def do(self, book: Book, name: str, values: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        """Keep what was typed or a usual size, show more, or take a fit, another way or the skeins into the design."""
        design, desk = book.design, desk_of(book)
        if name in BAND_ACTIONS:
            return change_bands(book, name, values)
        if name == "type":
            desk.type(values)
        elif name == "article":
            one_of("article", values.get("article"), ARTICLES)
            width, length = ARTICLES[values["article"]].size(unit_of(book))
            desk.type({"width": f"{width:g}", "length": f"{length:g}"})
            book.say(f"The usual size of: {values['article']}. There is no standard; change it as you like.")
        elif name == "more":
            desk.most += MORE_FITS
        elif name == "skeins":
            book.change(design.but(skeins=skeins_typed(design, desk.typed)), "skeins")
            desk.forget("metres:", "grams:")
        elif name == "way":
            ways = {way.key: way for way in ways_out(design)}
            way = ways.get(str(values.get("key")))
            if way is None:
                raise OptionError("The design has changed since. Choose again.")
            book.change(way.design, way.word)
        elif name == "take":
            fit = desk.kept("found", design, find).fits.get(str(values.get("key")))
            if fit is None:
                raise OptionError("The list has changed since. Choose again.")
            book.change(fit.design, f"size {fit.size}")
            book.say(f"{fit.across} × {fit.up} repeats: {fit.size}.")
        else:
            return super().do(book, name, values, buffers)
        return {}


def _entries(design: Design, names: Sequence[str]) -> list[dict[str, Any]]:
    """Give what the page shows of some entries, in the words of this panel."""
    entries = shown(design, names)
    for entry in entries:
        if entry["name"] == "laying":
            entry["hint"] = LAID[design.laying]
        elif entry["name"] == "gauge_over":
            entry["label"] = "Measured over"
    return entries


def _piece(design: Design) -> dict[str, Any]:
    """Give the whole piece as seen, whether it can be worked or not, with marks on what cannot be."""
    picture, (rows, stitches) = design.picture, design.shape
    said = f"{number_of(stitches, 'stitch')}, {number_of(rows, 'row')}"
    piece = {
        "picture": squares_of_motif(picture, design, word=said, about=f"The whole piece: {design.summary}"),
        "repeats": f"{design.across} × {design.up} repeats",
        "finish": finish_shown(design),
        "wrong": "",
        "why": "",
        "marks": "",
    }
    if design.layout.workable:
        return piece
    squares = np.argwhere(design.report.squares("error"))
    marked = np.zeros(design.shape, dtype=np.bool_)
    marked[tuple(squares[:MOST_MARKS].T)] = True
    cut = f" The first {MOST_MARKS:,} of them are marked." if len(squares) > MOST_MARKS else ""
    wrong = number_of(design.report.count("error"), "square")
    return piece | {
        "wrong": f"{wrong} of this piece cannot be worked.{cut}",
        "why": design.report.errors_in_words,
        "marks": svg.runs_path(marked),
    }


PANEL = LayPanel()
