"""Entries of how a piece begins and how its edges end: foundation, tails, fringe and border."""

from __future__ import annotations

import re
from typing import Any

from mosaickit.errors import OptionError
from mosaickit.sizes import Design
from mosaickit.widgets.book.entry import Entry


def _read_ratio(design: Design) -> str:
    ratio = design.finish.border_ratio
    return "" if ratio is None else f"{ratio[0]} for {ratio[1]}"


def _put_ratio(design: Design, value: str) -> Design:
    found = re.fullmatch(r"\s*(\d+)\s*(?:for|:|/)\s*(\d+)\s*(?:rows?)?\s*", value)
    if value.strip() and found is None:
        raise OptionError("Picked up along the rows: write stitches for rows, as 7 for 8.")
    ratio: Any = found and (int(found[1]), int(found[2]))
    return design.but(border_ratio=ratio)


EDGE_ENTRIES: dict[str, Entry] = {
    "foundation": Entry(
        "Foundation",
        "choice",
        options=(("chain", "chain"), ("foundation sc", "foundation sc")),
        hint="Foundation sc are chain and row 1 in one.",
    ),
    "ends": Entry(
        "Tails",
        "choice",
        options=(
            ("as they come", "as they come"),
            ("woven in", "woven in"),
            ("fringe", "a fringe"),
            ("enclosed", "under a double border"),
        ),
        hint="A fringe and a double border are for cut yarn.",
    ),
    "fringe_cm": Entry("Fringe", "number", least=1, most=100, unit="cm"),
    "tails_a_knot": Entry("Tails in a knot", "count", least=0, most=50, hint="0 for no knots."),
    "added_strands": Entry("Strands added at a knot", "count", least=0, most=50),
    "trimmed": Entry("Fringe trimmed", "tick"),
    "border_rounds": Entry(
        "Rounds of a border",
        "count",
        least=0,
        most=50,
        hint="Worked around the finished piece; of each layer, if two; in the round, at both edges.",
    ),
    "border_along": Entry(
        "Border along", "choice", options=(("all sides", "all sides"), ("row ends", "both ends of the rows"))
    ),
    "border_corner": Entry(
        "Corners of the border",
        "choice",
        options=(
            ("3 sc", "3 sc"),
            ("5 sc", "5 sc"),
            ("sc, ch 1, sc", "sc, ch 1, sc"),
            ("sc, ch 2, sc", "sc, ch 2, sc"),
        ),
    ),
    "border_ratio": Entry(
        "Picked up along the rows",
        "line",
        hint="Stitches for rows, as 7 for 8. Left empty, so that it lies flat at the gauge.",
        read=_read_ratio,
        put=_put_ratio,
    ),
    "crab_stitch": Entry("Crab stitch over the last round", "tick"),
    "finish_colour": Entry("Border and added strands in", "choice", options=(("MC", "MC"), ("CC", "CC"))),
}
"""How each decision of a finish is asked for."""


def edge_names(design: Design) -> list[str]:
    """Name what is asked for: only what means something for the design as it is."""
    finish, in_the_round = design.finish, design.surround.in_the_round
    names = ["foundation", "ends"]
    if finish.ends == "fringe":
        return [
            *names,
            "fringe_cm",
            "tails_a_knot",
            "added_strands",
            "trimmed",
            *["finish_colour"] * (finish.added_strands > 0),
        ]
    names.append("border_rounds")
    if finish.border_rounds:
        if not in_the_round:
            names += [*["border_along"] * (finish.layers < 2), "border_corner", "border_ratio"]
        names += ["crab_stitch", "finish_colour"]
    return names
