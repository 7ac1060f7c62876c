"""What the painter shows beside the squares: the sheet they are on, a second view, and a sentence about one of them."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import Any

import numpy as np

from mosaickit import orientation, svg
from mosaickit.colours import VISION, Yarn, contrast_by_vision, in_words
from mosaickit.errors import MotifError
from mosaickit.fabric import compile_chart, work
from mosaickit.gauge import Gauge
from mosaickit.motif import RULES, Motif, Report, tile
from mosaickit.orientation import ROLES, Hand
from mosaickit.svg import heavy_lines

MOST_LISTED = 20
"""The most places listed for one kind of finding; how many more there are is said."""

VIEWS = ("none", "front", "back", "gauge", "stitches", "repeat")


def sheet_of(motif: Motif, hand: Hand, gauge: Gauge | None = None) -> dict[str, Any]:
    """Give size, numbers and colours of the sheet that a motif is painted on.

    Its squares have the proportion of the gauge, from 1 to 4 up to 4 to 1; without a gauge they are square.
    """
    rows, columns = motif.shape
    row_numbers = orientation.row_numbers(rows)
    stitch_numbers = orientation.stitch_numbers(columns, hand)
    inks = [_inks(motif, role == "CC") for role in ROLES]
    row_is_cc = motif.row_is_cc[:, 0].astype(int)
    row_inks = [motif.yarns.at(int(row), ROLES[cc]).colour for row, cc in zip(row_numbers, row_is_cc, strict=True)]
    return {
        "rows": rows,
        "columns": columns,
        "row_numbers": row_numbers.tolist(),
        "stitch_numbers": stitch_numbers.tolist(),
        "edge": orientation.working_edge(hand),
        "heavy_rows": heavy_lines(row_numbers).tolist(),
        "heavy_columns": heavy_lines(stitch_numbers).tolist(),
        "inks": inks,
        "row_inks": row_inks,
        "roles": [f"{role}: {motif.yarns.at(1, role).name}" for role in ROLES],
        "contrast": contrast_sentence((mc, cc) for _, mc, cc in motif.yarns.meetings(rows)),
        "aspect": 1.0 if gauge is None else min(max(gauge.aspect, 0.25), 4.0),
    }


def look_at(view: str, motif: Motif, report: Report, *, hand: Hand, gauge: Gauge) -> str:
    """Draw one of `VIEWS` as SVG, or say why it cannot be drawn, as HTML; `report` is of this motif and hand."""
    if view == "none":
        return ""
    if view == "gauge":
        index = svg.yarn_colours(motif.grid, motif.shown_rows, motif.yarns)
        return svg.picture(*index, title=f"{motif.summary}, at true proportion", aspect=gauge.aspect)
    if view == "repeat":
        try:
            return tile(motif, across=3, up=3, colours="swap", must_work=False)._repr_svg_()
        except MotifError as error:
            return f"<p>{error}</p>"
    if not report.ok:
        return "<p>This view follows when the picture can be worked.</p>"
    chart = compile_chart(motif, reversible=True, hand=hand)
    if view == "stitches":
        return chart._repr_svg_()
    fabric = work(chart)
    face, rows = (fabric.front, fabric.front_rows) if view == "front" else (fabric.back, fabric.back_rows)
    return svg.picture(*svg.yarn_colours(face, rows, motif.yarns), title=f"{motif.summary}, {view} face")


def sentence_about(square: tuple[int, int], motif: Motif, report: Report, hand: Hand) -> str:
    """Say what a square, (row, column) as seen, shows and what is the matter with it."""
    row, stitch = orientation.place(square, motif.shape, hand)
    shows = ROLES[int(motif.grid[square])]
    of_row = orientation.role_of_row(row, motif.first)
    what = f"{shows}, as its row" if shows == of_row else f"{shows}, overlaid on a row in {of_row}"
    matter = " ".join(finding.message for finding in report.at(row, stitch))
    return f"Row {row}, stitch {stitch}: {what}. {matter}".strip()


def found_kinds(report: Report, off: Collection[str]) -> list[dict[str, Any]]:
    """Fold what was found into one entry for each rule, errors first; `off` names those that are switched off.

    Of a sheet on which nothing is painted yet nothing is listed. What is switched off is listed with its number, even
    where it is 0, so that it can be switched on again.
    """
    motif, hand = report.motif, report.setting.hand
    shown = []
    for severity in ("error", "advice"):
        found = {kind.rule: kind.number for kind in report.kinds(severity)} if motif.overlaid.any() else {}
        for rule in RULES:
            if rule.severity != severity or not (rule.name in found or rule.name in off):
                continue
            number = found.get(rule.name, 0)
            findings = report.of(rule.name, MOST_LISTED) if number else ()
            squares = [orientation.square(each.row, each.stitch, motif.shape, hand) for each in findings]
            shown.append(
                {
                    "rule": rule.name,
                    "severity": severity,
                    "said": rule.said(number),
                    "why": rule.sentence,
                    "off": rule.name in off,
                    "places": [
                        {"message": each.message, "square": top * motif.shape[1] + left}
                        for each, (top, left) in zip(findings, squares, strict=True)
                    ],
                    "more": f"And {number - len(findings):,} more." if number > len(findings) else "",
                }
            )
    return shown


def _inks(motif: Motif, cc: bool) -> list[str]:
    """Give the colour that a square of MC or of CC has in each row, from the top down."""
    column = motif.with_grid(np.full((motif.shape[0], 1), cc))
    index, colours = svg.yarn_colours(column.grid, column.shown_rows, motif.yarns)
    return [colours[number] for number in index[:, 0]]


def contrast_sentence(pairs: Iterable[tuple[Yarn, Yarn]]) -> str:
    """Say how well the weakest of some pairs of yarns can be told apart: by most people, and by the weakest eyes."""
    ratios = [contrast_by_vision(one.colour, two.colour) for one, two in pairs]
    least = {vision: ratio_in_words(min(each[vision] for each in ratios)) for vision in VISION}
    weakest = min(VISION, key=lambda vision: min(each[vision] for each in ratios))
    beside = "" if weakest == "most people" else f" ({least[weakest]} {in_words(weakest)})"
    return f"The yarns have a contrast of {least['most people']}{beside}."


def ratio_in_words(ratio: float) -> str:
    """Write a contrast, rounded down, so that a ratio below a limit never reads as the limit.

    Examples
    --------
    >>> ratio_in_words(2.99)
    '2.9 to 1'
    """
    return f"{int(ratio * 10) / 10:.1f} to 1"
