"""Entries of what a pattern has to be sold: edition and rights, notions and finishing, and the labels of its yarns."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from mosaickit.errors import OptionError
from mosaickit.sizes import CARE, YARN_WEIGHTS, Design, YarnLabel
from mosaickit.widgets.book.entry import Entry


def _pair_of_cm(name: str, label: str) -> dict[str, Any]:
    """Read and put a width and a height in cm as a line, "41 × 31.5"."""

    def read(design: Design) -> str:
        pair = getattr(design.publishing, name)
        return "" if pair is None else " × ".join(f"{length:g}" for length in pair)

    def put(design: Design, value: str) -> Design:
        found = re.fullmatch(r"\s*([\d.]+)\s*[x×*]\s*([\d.]+)\s*(?:cm)?\s*", value.replace(",", "."))
        if value.strip() and found is None:
            raise OptionError(f"{label}: write width × height in cm, as 41 × 31.5.")
        try:
            return design.but(**{name: found and (float(found[1]), float(found[2]))})
        except ValueError as error:
            raise OptionError(f"{label}: {error}") from None

    return {"read": read, "put": put}


def _put_day(design: Design, value: str) -> Design:
    try:
        return design.but(published=date.fromisoformat(value.strip()) if value.strip() else None)
    except ValueError:
        raise OptionError("Day of the edition: write year, month and day, as 2026-03-14.") from None


def lines_of(value: str) -> list[str]:
    """Give the lines of a text that hold something."""
    return [line.strip() for line in value.splitlines() if line.strip()]


SELLING: dict[str, Entry] = {
    "contact": Entry("Address for questions", "line", hint="Printed at the foot of every page."),
    "copyright_line": Entry("Copyright", "line", hint="Printed at the foot of every page."),
    "licence_line": Entry("Licence", "line", hint="What may be done with the pattern, and with what is made."),
    "edition_line": Entry("Edition of the pattern", "line", hint="As: Edition 2."),
    "published": Entry(
        "Day of the edition",
        "line",
        hint="Year, month and day, as 2026-03-14.",
        read=lambda design: design.publishing.published.isoformat() if design.publishing.published else "",
        put=_put_day,
    ),
    "errata": Entry("Address of corrections", "line"),
    "language": Entry(
        "Language of the page", "line", hint="A code, as en, en-GB or de. With de the whole page is German, rows too."
    ),
    "gauge_stitch": Entry(
        "Gauge measured in", "line", hint="The stitch, flat or in the round, as: the mosaic pattern, worked flat."
    ),
    "notions": Entry(
        "Notions",
        "text",
        hint="A line each, with their number: 2 stitch markers.",
        read=lambda design: "\n".join(design.publishing.notions),
        put=lambda design, value: design.but(notions=lines_of(value)),
    ),
    "finishing": Entry("Finishing", "text", hint="An empty line begins a new paragraph."),
    "blocking": Entry("Blocking", "text", hint="An empty line begins a new paragraph."),
    "unblocked_cm": Entry(
        "Measured before blocking",
        "line",
        hint="Width × height in cm, as 41 × 31.5.",
        **_pair_of_cm("unblocked_cm", "Measured before blocking"),
    ),
    "blocked_cm": Entry(
        "Measured after blocking",
        "line",
        hint="Width × height in cm. Left empty, the gauge gives the size.",
        **_pair_of_cm("blocked_cm", "Measured after blocking"),
    ),
}
"""Those that are the same for every design."""

LABEL_WORDS = {
    "line": "Sold as",
    "fibre": "Fibre",
    "weight": "Weight",
    "wash": "Washing",
    "bleach": "Bleaching",
    "tumble": "Tumble drying",
    "dry": "Drying",
    "iron": "Ironing",
    "professional": "Professional care",
}
"""What the decisions of a label are called."""


def label_entries(number: int) -> tuple[str, ...]:
    """Name the entries for the label of one of the design's yarns, by its number from 0 among their names."""
    return tuple(f"label{number}_{name}" for name in LABEL_WORDS)


def of_label(number: int, name: str) -> Entry:
    """Give how a decision of the label of one of the design's yarns is asked for."""

    def label(design: Design) -> YarnLabel:
        names = design.motif.yarns.names
        if number >= len(names):
            raise OptionError("This yarn is no longer there.")
        return design.publishing.label(names[number])

    def put(design: Design, value: object) -> Design:
        changes: dict[str, Any] = {name: value}
        return design.but(**design.publishing.labelled(replace(label(design), **changes)))

    said: Sequence[tuple[Any, str]] = ()
    if name == "weight":
        said = tuple((at, f"{at} {word}") for at, word in enumerate(YARN_WEIGHTS))
    elif name in CARE:
        said = tuple((word, word) for word in CARE[name])
    options = ((None, "not said"), *said) if said else ()
    return Entry(
        LABEL_WORDS[name],
        "choice" if options else "line",
        options=options,
        read=lambda design: getattr(label(design), name),
        put=put,
    )
