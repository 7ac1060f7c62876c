"""What a page says, as texts in its own terms: the sentences and tables that every renderer prints.

Numbers become words here and nowhere else, so that the PDF and the web page say the same.
"""

from __future__ import annotations

from dataclasses import dataclass

from mosaickit.gauge import CM_PER_INCH, METRES_PER_YARD
from mosaickit.motif import LEAST_CONTRAST
from mosaickit.publish.entries import Meeting, PageRow, PageYarn
from mosaickit.publish.page import Page
from mosaickit.sizes import LEVELS
from mosaickit.wording import NATIONS, Terms, render

# the letter is a label, never a key (Craft Yarn Council: rely on the millimetres); sizes of its list only
_US_HOOKS = {2.25: "B-1", 3.5: "E-4", 4.0: "G-6", 5.0: "H-8", 5.5: "I-9", 6.0: "J-10", 6.5: "K-10½", 8.0: "L-11"}


@dataclass(frozen=True)
class PageTable:
    """A table in texts; `numbers` are the columns set to the right, and one is as `wide` as there is room."""

    caption: str
    head: tuple[str, ...]
    lines: tuple[tuple[str, ...], ...]
    numbers: tuple[int, ...]
    wide: int = 2


def row_word(page: Page) -> str:
    """Name what is worked: a row or a round."""
    return "round" if page.chart.in_the_round else "row"


def several(number: int, what: str) -> str:
    """Write a number of rows, rounds or stitches.

    Examples
    --------
    >>> several(1, "stitch"), several(3, "stitch"), several(3, "row")
    ('1 stitch', '3 stitches', '3 rows')
    """
    plural = f"{what}es" if what.endswith("ch") else f"{what}s"
    return f"{number} {what if number == 1 else plural}"


def summary(page: Page) -> str:
    """One line: rows, stitches, kind of fabric."""
    rows, stitches = page.chart.shape
    size = f"{several(rows, row_word(page))} of {several(stitches, 'stitch')}"
    kind = "reversible" if page.chart.reversible else "plain"
    way = "worked in the round" if page.chart.in_the_round else "worked flat, right side always facing"
    return f"Overlay mosaic crochet in two colours: {size}, {kind}, {way}."


def facts(page: Page, terms: Terms) -> tuple[tuple[str, str], ...]:
    """List what a maker has to know before the first stitch, as (what, text)."""
    width, height = page.size_cm
    across = "around" if page.chart.in_the_round else "wide"
    size = f"{width:.1f} cm {across} × {height:.1f} cm high ({width / CM_PER_INCH:.1f} × {height / CM_PER_INCH:.1f} in)"
    label, _, gauge = render(page.gauge.sentence, terms).partition(": ")
    found = [("Designed by", page.designer)] if page.designer else []
    found += [("Finished size", f"{size}."), (label, f"{gauge}.")]
    if page.hook_mm is not None:
        us = _US_HOOKS.get(page.hook_mm)
        letter = f" (US {us})" if us else ""
        found.append(("Hook", f"{page.hook_mm:g} mm{letter}, or whatever size gives the {label.lower()}."))
    if page.level is not None:
        found.append(("Level", f"{page.level.capitalize()}. {LEVELS[page.level]} (Craft Yarn Council)"))
    found.append(("Terms", f"Stitches are named in {terms} ({NATIONS[terms]}) terms."))
    return tuple(found)


def cover_words(page: Page, *, dotted: bool) -> str:
    """Say what the picture on the cover is."""
    width, height = page.size_cm
    return f"The front, {width:.1f} × {height:.1f} cm.{' Regions with dots are CC.' if dotted else ''}"


def count(line: PageRow) -> str:
    """Write the stitches of a row; nothing for a line that repeats several."""
    if line.rows[0] != line.rows[1]:
        return ""
    return f"({line.count} {'st' if line.count == 1 else 'sts'})"


def metres(value: float) -> str:
    """Write an amount of yarn."""
    return f"{value:.1f}"


def yarn_lines(page: Page) -> tuple[tuple[str, str, str], ...]:
    """List the yarns, as (name, roles and how much to have, colour)."""
    return tuple((yarn.name or "unnamed yarn", _amount(yarn), yarn.colour) for yarn in page.yarns)


def _amount(yarn: PageYarn) -> str:
    text = (
        f"{' and '.join(yarn.roles)}: about {metres(yarn.likely_m)} m ({metres(yarn.likely_m / METRES_PER_YARD)} yd), "
        f"from {metres(yarn.low_m)} to {metres(yarn.high_m)} m."
    )
    return f"{text} {yarn.advice}".rstrip()


def contrast_lines(page: Page) -> tuple[str, ...]:
    """Say of each two yarns that meet whether they can be told apart, once also where they meet again and again."""
    first: dict[tuple[str, str, float, float], Meeting] = {}
    for each in page.meetings:
        first.setdefault((each.mc, each.cc, each.ratio, each.weakest), each)
    # from which row on is said where every two yarns meet in one run of rows
    since = 1 < len(first) == len(page.meetings)
    return tuple(_contrast(meeting, since) for meeting in first.values())


def _contrast(meeting: Meeting, several: bool) -> str:
    # rounded down, so that a ratio below the limit never reads as the limit
    ratio, weakest = (int(value * 10) / 10 for value in (meeting.ratio, meeting.weakest))
    since = f"From row {meeting.row} on: " if several else ""
    verdict = (
        "they are easy to tell apart"
        if meeting.clear
        else f"less than the {LEAST_CONTRAST:g} to 1 that pictures should have (WCAG 2.2), so the chart marks CC "
        "squares in the corner"
    )
    return (
        f"{since}{meeting.mc} and {meeting.cc} have a contrast of {ratio} to 1, at least {weakest} to 1 with any "
        f"colour vision: {verdict}."
    )


def row_use(page: Page, *, brief: bool = False) -> PageTable:
    """Table the yarn of each row; `brief` leaves out stitches, for large type."""
    what = row_word(page).capitalize()
    head = (what, "Colour", "Yarn", "Stitches", "Length (m)", "Range (m)")
    lines: list[tuple[str, ...]] = [
        (f"{what} {use.row}", use.role, use.yarn, str(use.stitches), metres(use.likely_m),
         f"{metres(use.low_m)} to {metres(use.high_m)}")
        for use in page.row_use
    ]  # fmt: skip
    total = tuple(sum(getattr(use, name) for use in page.row_use) for name in ("low_m", "likely_m", "high_m"))
    stitches = sum(use.stitches for use in page.row_use)
    lines.append(("All", "", "", str(stitches), metres(total[1]), f"{metres(total[0])} to {metres(total[2])}"))
    kept = (0, 1, 2, 4, 5) if brief else (0, 1, 2, 3, 4, 5)
    return PageTable(
        f"Yarn for each {what.lower()}, in metres; tails, chains and strands between {what.lower()}s included.",
        tuple(head[i] for i in kept),
        tuple(tuple(line[i] for i in kept) for line in lines),
        tuple(place for place, i in enumerate(kept) if i > 2),
    )


def paragraphs(text: str) -> tuple[str, ...]:
    """Split a text at its empty lines."""
    return tuple(" ".join(block.split("\n")).strip() for block in text.split("\n\n") if block.strip())
