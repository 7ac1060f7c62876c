"""The ledger of a design: size, what cannot be worked, yarn and both faces, always in sight beside the panels."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit import svg
from mosaickit.errors import MosaickitError, number_of
from mosaickit.motif import Motif, check
from mosaickit.sizes import Design
from mosaickit.widgets.book.entries import USUAL_GAUGE, in_labels


def ledger(design: Design) -> dict[str, Any]:
    """Give what the page shows of a design whatever panel is open."""
    rows, stitches = design.shape
    shown: dict[str, Any] = {
        "counts": f"{number_of(stitches, 'stitch')}, {number_of(rows, 'row')}",
        "size": "",
        "inches": "",
        "wrong": _wrong(design),
        "advice": _advice(design),
        "yarns": [],
        "faces": [],
        "note": "",
    }
    if design.gauge is None:
        shown["note"] = "Size and yarn follow when the gauge is known."
    else:
        size = design.size
        shown["size"] = f"{size.width_cm:.1f} × {size.length_cm:.1f} cm"
        shown["inches"] = f"{size.width_in:.1f} × {size.length_in:.1f} in"
    if shown["wrong"]:
        return shown
    shown["faces"] = faces(design)
    if design.gauge is not None:
        try:
            shown["yarns"] = _yarns(design)
        except MosaickitError as error:
            shown["note"] = in_labels(str(error))
    return shown


def _wrong(design: Design) -> dict[str, Any] | None:
    if design.layout.workable:
        return None
    report = design.report
    alone = check(design.motif, hand=design.hand, in_the_round=design.surround.in_the_round)
    return {
        "said": f"{number_of(report.count('error'), 'square')} cannot be worked",
        "why": report.errors_in_words,
        "where": "lay" if alone.ok else "picture",
    }


def _advice(design: Design) -> list[dict[str, str]]:
    """Fold the advice into one line for each kind: how many, and what the first one says."""
    return [{"kind": kind.rule, "said": kind.said, "why": kind.first.message} for kind in design.report.kinds("advice")]


def _yarns(design: Design) -> list[dict[str, str]]:
    return [
        {
            "name": total.yarn.name,
            "colour": total.yarn.colour,
            "metres": f"{total.likely_m:.0f} m",
            "band": f"{total.low_m:.0f} to {total.high_m:.0f} m",
            "skeins": number_of(total.skeins, "skein") if total.skeins is not None else "",
        }
        for total in design.usage.by_yarn
    ]


def faces(design: Design) -> list[dict[str, Any]]:
    """Give the faces of a piece, square by square, whole at any size; a plain fabric shows its front only.

    Each is a word, a text for those who cannot see it, `rows` and `stitches`, a byte for each square that says which of
    `colours` it has, row by row as seen from that side, and the `aspect` of a square: its width over its height.
    """
    fabric = design.fabric
    sides = [("Front", fabric.front, fabric.front_rows)]
    if design.reversible:
        sides.append(("Back", fabric.back, fabric.back_rows))
    return [
        squares_of(*svg.yarn_colours(face, rows, fabric.yarns), design, word=word, about=f"{word} of {design.title}")
        for word, face, rows in sides
    ]


def squares_of_motif(motif: Motif, design: Design, *, word: str, about: str) -> dict[str, Any]:
    """Give a motif or a whole piece, workable or not, as the page draws it; the gauge is that of a design."""
    index, colours = svg.yarn_colours(motif.grid, motif.shown_rows, motif.yarns)
    return squares_of(index, colours, design, word=word, about=about)


def squares_of(index: NDArray[np.intp], colours: list[str], design: Design, *, word: str, about: str) -> dict[str, Any]:
    """Give a picture of squares as the page draws it; `index` says which of the colours each has, (R, C) as seen."""
    return {
        "word": word,
        "about": about,
        "rows": index.shape[0],
        "stitches": index.shape[1],
        "colours": colours,
        "squares": index.astype(np.uint8).tobytes(),
        "aspect": (design.gauge or USUAL_GAUGE).aspect,
    }
