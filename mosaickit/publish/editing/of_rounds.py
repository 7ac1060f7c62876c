"""Rounds from the centre in words, read back: whether they make sense, can be worked, and are what was charted."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from itertools import zip_longest

import numpy as np

from mosaickit.centre import CentreChart, read_rounds
from mosaickit.fabric import Stitch
from mosaickit.publish.editing.draft import DraftRow, Pair, RowsSaid, Said, Spot, spot_of
from mosaickit.wording import STITCH_NAMES, TERMS, Terms, Tongue, yarn_lines

_RING = re.compile(r"\b8 (?:sc|dc) in (?:the )?ring\b", re.IGNORECASE)
_CORNER = re.compile(r"\s*(?:[-–•]\s+)?(\d \w+ in (?:the |each |next )?corner (?:st|stitch))\s*:\s*(.+)", re.IGNORECASE)
_ROUNDS = Spot("rows", "Rounds")
_HOW_MADE = re.compile(r"\bloops?\b.*\bbelow\b", re.IGNORECASE)


def is_from_centre(rows: Iterable[DraftRow]) -> bool:
    """Whether rows are rounds that begin in a ring."""
    return any(_RING.search(row.text) for row in rows)


def with_special(said: RowsSaid, notes: Iterable[Said]) -> RowsSaid:
    """Add to special stitches the abbreviations that say how a stitch is made, and what notes say of corners."""
    known = {pair.short.lower() for pair in said.special}
    made = [pair for pair in said.abbreviations if _HOW_MADE.search(pair.meaning) and pair.short.lower() not in known]
    corners = [Pair(found[1], found[2], note.spot) for note in notes if (found := _CORNER.fullmatch(note.text))]
    return replace(said, special=(*said.special, *made, *corners))


def proved_rounds(
    said: RowsSaid, text: str, *, terms: Tongue | None, chart: CentreChart | None
) -> tuple[RowsSaid, CentreChart | None]:
    """Read rounds back, and say what is wrong with them.

    Parameters
    ----------
    said : RowsSaid
        The rounds as they stand.
    text : str
        All of the text that tells of rounds, with the yarns above them.
    terms : "US" or "UK", optional
        The terms of the stitches, if the text does not say.
    chart : CentreChart, optional
        What they ought to say.

    Returns
    -------
    RowsSaid, CentreChart or None
        The rounds with what is wrong, and what they make, or ought to.
    """
    lines = text.splitlines()
    yarns = None if chart is None else chart.yarns
    told = [(place, f"{row.label}: {row.text} {row.tally}".strip()) for place, row in enumerate(said.rows)]
    of_text: Terms | None = "UK" if re.search(r"\bUK\b[^.\n]{0,12}\bterm", text) else None
    asked: Terms | None = terms if terms in TERMS else of_text
    hand = "right" if chart is None else chart.hand
    found = read_rounds(told, terms=asked, yarns=yarns, hand=hand, above=text)
    read = replace(
        said,
        terms=found.terms,
        faults=tuple((fault, said.rows[fault.line].spot) for fault in found.faults),
        trouble=found.trouble if chart is None else "",
    )
    if chart is None:
        return read, found.chart
    differs = [*_above(lines, chart, found.terms), *_differences(found.chart, chart, read, found.terms)]
    return replace(read, differs=tuple(differs)), chart


def _above(lines: list[str], chart: CentreChart, terms: Terms) -> Iterable[Said]:
    """Say where yarns and hand are told otherwise; what a text says nothing of is no difference."""
    for wanted in yarn_lines(chart.yarns, terms, "short"):
        told = next((line.strip() for line in lines if line.strip().startswith(f'{wanted[:4]}"')), wanted)
        if told != wanted:
            yield Said(f"Expected {wanted!r}, found {told!r}.", _ROUNDS)
    other = "left" if chart.hand == "right" else "right"
    if re.search(rf"\b{other}-handed", "\n".join(lines)):
        yield Said(f"Expected rounds for the {chart.hand} hand, found {other}-handed.", _ROUNDS)


def _differences(found: CentreChart | None, chart: CentreChart, said: RowsSaid, terms: Terms) -> Iterable[Said]:
    if found is None:
        return
    names = STITCH_NAMES[terms]
    spots = [row.spot for row in said.rows]
    if len(found.rounds) != len(chart.rounds):
        yield Said(f"Expected {len(chart.rounds)} rounds, found {len(found.rounds)}.", spots[-1])
    if found.round_colours[0] != chart.round_colours[0]:
        yield Said(f"Expected round 1 in {chart.round_colours[0]}, found {found.round_colours[0]}.", spots[0])
    for number, (one, other) in enumerate(zip_longest(found.rounds, chart.rounds), 1):
        if one is None or other is None:
            return
        wrong = np.flatnonzero(one != other)
        if len(wrong):
            at = int(wrong[0])
            more = f" And {len(wrong) - 1} more in this round." if len(wrong) > 1 else ""
            yield Said(
                f"Expected {names[Stitch(int(other[at]))]} in stitch {at + 1} ({chart.place(number, at + 1)}), "
                f"found {names[Stitch(int(one[at]))]}.{more}",
                spots[number - 1],
            )


def on_a_page(rows: RowsSaid) -> RowsSaid:
    """Give rounds with their places as those of a page, which has no lines."""

    def there(spot: Spot) -> Spot:
        return spot_of(spot.part) if spot.row is None else Spot("rows", f"Round {spot.row}", spot.row)

    def moved(said: Iterable[Said]) -> tuple[Said, ...]:
        return tuple(each._replace(spot=there(each.spot)) for each in said)

    def pairs(said: Iterable[Pair], part: str) -> tuple[Pair, ...]:
        return tuple(each._replace(spot=spot_of(part)) for each in said)

    return replace(
        rows,
        rows=tuple(row._replace(spot=there(row.spot)) for row in rows.rows),
        around=moved(rows.around),
        abbreviations=pairs(rows.abbreviations, "abbreviations"),
        special=pairs(rows.special, "special stitches"),
        faults=tuple((fault, there(spot)) for fault, spot in rows.faults),
        differs=moved(rows.differs),
    )
