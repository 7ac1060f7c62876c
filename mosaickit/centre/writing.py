"""The rounds of a square from the centre in words.

The grammar of a round, beside round 1, which is "8 sc in ring"::

    round   = items | "*" items "; rep from * n more times"      (n is 1 or 3; "1 more time")
    items   = run | bracket | corner, joined by ", "
    bracket = "[" run, joined by ", " "] n times"                 (n in all, from 2)
    run     = stitch " in next st" | stitch " in next n sts"
    corner  = "3 BLsc in corner st"

Where all four quarters of a round, from the middle of one side to the middle of the next, are the same, the star
stands for a quarter; where both halves are, for a half. A run ends at a corner stitch at the latest.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from mosaickit.centre.rings import SIDES
from mosaickit.centre.square import EXPERIMENTAL
from mosaickit.centre.stitches import CentreChart
from mosaickit.centre.working import IN_A_CORNER, work
from mosaickit.errors import WordingError, of_kind, one_of
from mosaickit.fabric import Stitch
from mosaickit.orientation import Hand
from mosaickit.wording import LONGEST_TEXT, STITCH_NAMES, TERMS, Terms, in_brackets, quoted, render, short, yarn_lines

IN_THE_RING = 8
"""Stitches of round 1: two a side, one of them a corner."""


def write(chart: CentreChart, terms: Terms = "US") -> str:
    r"""Write the rounds of a square from the centre in words, which `mk.centre.read` reads. Experimental.

    Parameters
    ----------
    chart : CentreChart
        A chart that the hook can work.
    terms : "US" or "UK"
        The terms of the stitches, and the spelling.

    Returns
    -------
    str
        Heading, yarns, abbreviations, notes and a line for each round.

    Raises
    ------
    StitchError
        If the hook cannot work the chart.
    WordingError
        If the text were too long to be read back.

    Examples
    --------
    >>> chart = CentreChart((np.full(8, Stitch.SC), np.full(16, Stitch.BLSC)), ("MC", "CC"))
    >>> print("\n".join(write(chart).splitlines()[-2:]))
    Rnd 1 (MC): 8 sc in ring. (8 sts)
    Rnd 2 (CC): *BLsc in next st, 3 BLsc in corner st; rep from * 3 more times. (16 sts)
    """
    of_kind("chart", chart, CentreChart)
    one_of("terms", terms, TERMS)
    work(chart)
    sections = ["\n".join(section) for section in above_the_rounds(chart, terms)]
    written = "\n\n".join([*sections, "\n".join(_lines(chart, terms))]) + "\n"
    if len(written) > LONGEST_TEXT:
        raise WordingError(
            f"These rounds take {len(written):,} characters in words, and a text has at most {LONGEST_TEXT:,}."
        )
    return written


def above_the_rounds(chart: CentreChart, terms: Terms) -> tuple[tuple[str, ...], ...]:
    """Write what stands above the rounds, in sections of lines."""
    name = (f"Name: {quoted(chart.name)}",) if chart.name else ()
    sections = (
        (
            f"{EXPERIMENTAL} Work the first rounds as a trial.",
            f"Written in {terms} terms.",
            *name,
            f"Worked from the centre outward, {chart.hand}-handed.",
        ),
        ("Yarns:", *yarn_lines(chart.yarns, terms, "short")),
        ("Abbreviations:", *_abbreviations(chart)),
        ("Notes:", *_notes(len(chart.rounds), chart.hand)),
    )
    kept = sections[1][1:]  # names of yarns are left as they are
    return tuple(
        tuple(line if line in kept or line in name else spelled(line, terms) for line in one) for one in sections
    )


def spelled(text: str, terms: Terms) -> str:
    """Put prose into terms and their spelling."""
    return render(text, terms).replace("centre", "center") if terms == "US" else render(text, terms)


_MEANINGS = (
    ("BLsc", "single crochet in the back loop only of the stitch below; its front loop stays free"),
    ("CC", "contrasting colour"),
    (
        "FLdc",
        "double crochet, in front of the work, in the free front loop of the stitch two rounds below, straight inward; "
        "skip the stitch just behind it",
    ),
    ("MC", "main colour"),
    ("rep", "repeat"),
    ("Rnd", "round"),
    ("sc", "single crochet"),
    ("st", "stitch"),
    ("sts", "stitches"),
)


def _abbreviations(chart: CentreChart) -> Iterator[str]:
    """List what the rounds are written with and no more, in US terms."""
    used = set(re.findall(r"\w+", "\n".join(_lines(chart, "US"))))
    return (f"{short_form}: {meaning}" for short_form, meaning in _MEANINGS if short_form in used)


def _notes(rounds: int, hand: Hand) -> Iterator[str]:
    towards = "left" if hand == "right" else "right"
    corner = f"{in_the_corner('US')}: work all {IN_A_CORNER} in the same back loop, that of the corner stitch."
    yield f"The right side faces you in every round, and every round is worked towards the {towards}."
    yield "Make a ring in the yarn of round 1, work round 1 into it and draw it shut: it is the centre square."
    yield "Round 1 has its corner stitches in stitches 2, 4, 6 and 8. Mark them."
    if rounds > 1:
        yield f"{corner} The middle one is the new corner stitch: move the marker up."
        yield "Every round has 8 stitches more than the round below."
        yield "Every round starts in the middle of a side, straight above the first stitch of the round below."
    yield (
        "Start every round with a chain of 1, which counts as no stitch, and join it to its first stitch at the end "
        "with a slip stitch."
    )
    if rounds > 2:
        yield "Let the yarn wait at the join until the next round of its colour. Cut it where that round has another."
    yield f"After round {rounds} cut all yarn, fasten off and weave in the ends."


# ---- the rounds --------------------------------------------------------------------------------------------


def _lines(chart: CentreChart, terms: Terms) -> Iterator[str]:
    changes = {number: yarn for number, _, yarn in chart.yarns.starts(chart.round_colours) if number > 2}
    for number, (stitches, colour) in enumerate(zip(chart.rounds, chart.round_colours, strict=True), 1):
        change = f"change to {quoted(changes[number].name)}; " if number in changes else ""
        yield f"Rnd {number} ({colour}): {change}{_in_words(number, stitches, terms)}. ({len(stitches)} sts)"


def _in_words(number: int, stitches: NDArray[np.uint8], terms: Terms) -> str:
    if number == 1:
        return in_the_ring(terms)
    for times in (SIDES, 2):
        parts = stitches.reshape(times, -1)
        if (parts == parts[0]).all():
            more = "1 more time" if times == 2 else f"{times - 1} more times"
            return f"*{_items(number, parts[0], terms)}; rep from * {more}"
    return _items(number, stitches, terms)


def _items(number: int, stitches: NDArray[np.uint8], terms: Terms) -> str:
    """Write stitches that begin in the middle of a side and end in the middle of a side."""
    half = number - 1  # stitches from the middle of a side to the three of a corner, middle included
    items: list[str] = []
    at = 0
    for quarter in range(len(stitches) // (2 * number)):
        run = half if quarter == 0 else 2 * half - 1
        items += [*_runs(stitches[at : at + run], terms), in_the_corner(terms)]
        at += run + IN_A_CORNER
    return ", ".join([*items, *_runs(stitches[at:], terms)])


def _runs(stitches: NDArray[np.uint8], terms: Terms) -> Iterator[str]:
    return (short((part,), terms) for part in in_brackets(stitches))


def in_the_ring(terms: Terms) -> str:
    """Write round 1."""
    return f"{IN_THE_RING} {STITCH_NAMES[terms][Stitch.SC]} in ring"


def in_the_corner(terms: Terms) -> str:
    """Write what is worked into a corner stitch."""
    return f"{IN_A_CORNER} {STITCH_NAMES[terms][Stitch.BLSC]} in corner st"
