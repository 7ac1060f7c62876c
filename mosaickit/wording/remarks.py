"""What stands around the rows of a pattern: heading, yarns, abbreviations, special stitches, notes, foundation.

The words are written here once, in US terms and for rows; UK terms and rounds are renderings of them. Abbreviations
and special stitches are those that the text uses and no others. How the stitches are made is described by this
package: the trade's lists have none for overlay mosaic.
"""

from __future__ import annotations

import re

from mosaickit.colours import Yarn, Yarns
from mosaickit.fabric import Chart, Ends, Foundation, Stitch
from mosaickit.motif import BetweenRows
from mosaickit.orientation import ROLES, Role
from mosaickit.wording.natural import Across
from mosaickit.wording.phrases import RowPart, Run
from mosaickit.wording.terms import NATIONS, ROLE_WORDS, STITCH_NAMES, STITCH_WORDS, Style, Terms, render

# ---- stitches ----------------------------------------------------------------------------------------------

_CLOSED = (
    "(4 loops on the hook); yarn over and draw through 2 loops, yarn over and draw through the 3 loops that are left."
)
_HOW = {
    Stitch.BLSC: "Single crochet into the back loop only of the stitch below; its front loop stays free.",
    Stitch.FLDC: (
        "Double crochet, in front of the work, into the free front loop of the stitch two rows below, which has the "
        "same colour; skip the stitch just behind it."
    ),
    Stitch.TOG_BACK: (
        "Single crochet and double crochet worked together, the second behind the work: draw up a loop through the "
        "back loop of the stitch below, yarn over, draw up a loop on the wrong side through the unworked back loop of "
        f"the stitch two rows below{{strand}} {_CLOSED}"
    ),
    Stitch.TOG_FRONT: (
        "Single crochet and double crochet worked together, the second in front of the work: draw up a loop through "
        "the back loop of the stitch below, yarn over, draw up a loop on the right side through the free front loop "
        f"of the stitch two rows below {_CLOSED} Nothing is skipped."
    ),
}


def in_words(text: str, chart: Chart, terms: Terms) -> str:
    """Put a remark into terms and their spelling, and into rounds where the chart is worked in rounds."""
    if chart.in_the_round:
        text = re.sub(r"\b([Rr])ow(s?)\b", r"\1ound\2", text)
    return render(text, terms)


def stitch_name(stitch: Stitch, terms: Terms, style: Style) -> str:
    """Name a stitch as the rows do."""
    return (STITCH_NAMES if style == "short" else STITCH_WORDS)[terms][stitch]


# from memory: common practice, no source
_FOUNDATION_SC = (
    "Chain 2, insert the hook into the second chain from the hook and draw up a loop; yarn over and draw through 1 "
    "loop, which makes the chain at its foot; yarn over and draw through 2 loops. Work each further one into the chain "
    "at the foot of the one before."
)


def special_stitches(
    chart: Chart, terms: Terms, style: Style, between_rows: BetweenRows, foundation: Foundation = "chain"
) -> tuple[tuple[str, str], ...]:
    """Describe the stitches of the chart that are no common ones, as (name, how it is made)."""
    carried = between_rows == "carried" and not chart.in_the_round
    strand = ", under the carried yarn" if carried else ""
    begins: tuple[tuple[str, str], ...] = ()
    if foundation == "foundation sc":
        begins = ((f"foundation {stitch_name(Stitch.SC, terms, style)}", in_words(_FOUNDATION_SC, chart, terms)),)
    return begins + tuple(
        (stitch_name(stitch, terms, style), in_words(how.format(strand=strand), chart, terms))
        for stitch, how in _HOW.items()
        if (chart.stitches == stitch).any()
    )


# what stands in the rows, its meaning in US terms, and how it is told from other words
_ABBREVIATIONS = (
    ("MC", ROLE_WORDS["MC"], r"\bMC\b"),
    ("CC", ROLE_WORDS["CC"], r"\bCC\b"),
    ("ch", "chain", r"\bch\b"),
    ("rep", "repeat", r"\brep\b"),
    ("Rnd", "round", r"\bRnd\b"),
    ("st", "stitch", r"\bst\b"),
    ("sts", "stitches", r"\bsts\b"),
)
_STITCH_MEANINGS = {
    Stitch.SC: "single crochet",
    Stitch.BLSC: "single crochet in the back loop only",
    Stitch.FLDC: "double crochet in the front loop two rows below",
    Stitch.TOG_BACK: "single crochet and double crochet worked together, the second behind the work",
    Stitch.TOG_FRONT: "single crochet and double crochet worked together, the second in front of the work",
}


def abbreviations(text: str, chart: Chart, terms: Terms) -> tuple[tuple[str, str], ...]:
    """List the abbreviations that a text of rows uses and no others, as (abbreviation, meaning)."""
    stitches = [
        (STITCH_NAMES[terms][stitch], in_words(meaning, chart, terms))
        for stitch, meaning in _STITCH_MEANINGS.items()
        if (chart.stitches == stitch).any()
    ]
    others = [(short, render(meaning, terms)) for short, meaning, pattern in _ABBREVIATIONS if re.search(pattern, text)]
    return tuple(sorted([*others, *stitches], key=lambda pair: pair[0].lower()))


# ---- how the rows hang together ----------------------------------------------------------------------------


def foundation(chart: Chart, terms: Terms, style: Style, foundation: Foundation = "chain") -> str:
    """Write the foundation: flat, one chain more than stitches, which is the start chain of row 1.

    Foundation sc are worked as row 1, so there is nothing to write.
    """
    if foundation == "foundation sc":
        return ""
    stitches = chart.shape[1]
    chains = stitches if chart.in_the_round else stitches + 1
    if style == "short":
        return f"Foundation: with {chart.first}, ch {chains}{', join' if chart.in_the_round else ''}."
    colour = render(ROLE_WORDS[chart.first], terms)
    return f"Foundation: with {colour}, chain {chains}{' and join' if chart.in_the_round else ''}."


def multiple(chart: Chart, style: Style, across: Across | None, foundation: Foundation = "chain") -> str:
    """Write what the stitches are a multiple of; empty if no stitches are repeated across.

    The stitches beside the repeats are those that a wider piece would keep. Some patterns count the chain that starts
    row 1 among them, so it is said apart.
    """
    if across is None:
        return ""
    plus = chart.shape[1] - across.times * across.period
    sts = "sts" if style == "short" else "stitches"
    chain = "" if chart.in_the_round or foundation == "foundation sc" else ", add 1 for the foundation chain"
    return f"Multiple of {across.period} {sts}{f' plus {plus}' if plus else ''}{chain}."


def first_row(chart: Chart, terms: Terms, style: Style, foundation: Foundation = "chain") -> str:
    """Write row 1 as it is worked into the foundation chain; empty if it is not all single crochet."""
    stitches = chart.stitches[0]
    if (stitches != Stitch.SC).any():
        return ""
    name = stitch_name(Stitch.SC, terms, style)
    if foundation == "foundation sc":
        return f"{len(stitches)} foundation {name}"
    chain = "ch" if style == "short" else "chain"
    if chart.in_the_round:
        return f"{name} in each {chain} around"
    first = f"{name} in 2nd ch from hook" if style == "short" else f"{name} in the second chain from the hook"
    return first if len(stitches) == 1 else f"{first} and in each {chain} across"


def every_stitch(parts: tuple[RowPart, ...], chart: Chart, terms: Terms, style: Style) -> str:
    """Write a row that one stitch fills; empty if it is of several, or there is one stitch only."""
    first = parts[0]
    if not (isinstance(first, Run) and first.count == chart.shape[1] > 1):
        return ""
    st, way = "st" if style == "short" else "stitch", "around" if chart.in_the_round else "across"
    return f"{stitch_name(first.stitch, terms, style)} in each {st} {way}"


def change(yarn: Yarn, style: Style) -> str:
    """Write that a row changes to another yarn, before what it works."""
    return f"change to {quoted(yarn.name)}{';' if style == 'short' else ', then'}"


_LAST: dict[Ends, str] = {
    "as they come": "cut all yarn, fasten off and weave in the ends.",
    "woven in": "cut all yarn, fasten off and weave in the ends.",
    "fringe": "fasten off; the tails at both ends of the rows stay as a fringe.",
    "enclosed": "fasten off; leave the tails for the border, which closes over them.",
}


def notes(
    chart: Chart,
    terms: Terms,
    style: Style,
    between_rows: BetweenRows,
    foundation: Foundation = "chain",
    ends: Ends = "as they come",
) -> tuple[str, ...]:
    """Say how rows start and end, what is done with the yarn between them, and what edges and last row ask for."""
    rows = chart.shape[0]
    remarks = [*(_round_notes if chart.in_the_round else _row_notes)(chart, between_rows)]
    if foundation == "foundation sc":
        remarks[1] = "Begin with foundation sc, which are the foundation chain and row 1 in one, and slightly stretchy."
        remarks[1] += " Join them without a twist." if chart.in_the_round else ""
    front = stitch_name(Stitch.TOG_FRONT, "US", style)
    if not chart.in_the_round and (chart.stitches[:, [0, -1]] == Stitch.TOG_FRONT).any():
        remarks.append(
            f"At the first and last stitch of a row work {front} through both loops, not one, which keeps the edges "
            "firm."
        )
    if (chart.stitches[-1] == Stitch.TOG_FRONT).any():
        remarks.append(f"In the last row {front} stands for the double crochet, as no row follows to close the back.")
    remarks.append(f"After row {rows} {_LAST[ends]}")
    return tuple(in_words(remark, chart, terms) for remark in remarks)


def _row_notes(chart: Chart, between_rows: BetweenRows) -> list[str]:
    edge = "right-hand" if chart.hand == "right" else "left-hand"
    remarks = [
        f"The right side faces you in every row, and every row starts at the {edge} edge with its own colour.",
        "Work the first stitch of row 1 into the second chain from the hook.",
        "Start every later row with a chain of 1, which counts as no stitch.",
    ]
    if between_rows == "cut":
        return [*remarks, "End every row with a lock: chain 1, cut the yarn, leave a tail and draw it through."]
    return [
        *remarks,
        "End every row with a lock: chain 1, draw the loop out, pass the ball through it and tighten.",
        "Then carry the yarn back along the top of the row to its first stitch; the next row of that colour is worked "
        "over it. Cut a yarn where the next row of that colour has another one.",
    ]


def _round_notes(chart: Chart, between_rows: BetweenRows) -> list[str]:
    edge = "left" if chart.hand == "right" else "right"
    remarks = [
        f"The right side faces you in every row, and every row is worked towards the {edge}.",
        "Work the first stitch of row 1 into the first chain after the join.",
        "Start every row with a chain of 1, which counts as no stitch, and join it to its first stitch at the end with "
        "a slip stitch.",
    ]
    if between_rows == "cut":
        return [*remarks, "After the join cut the yarn, leave a tail and draw it through."]
    return [
        *remarks,
        "Let the yarn wait at the join until the next row of its colour. Cut it where that row has another yarn.",
    ]


# ---- above the rows ----------------------------------------------------------------------------------------


def quoted(name: str) -> str:
    r"""Put a name in quotes that a reader finds the end of.

    Examples
    --------
    >>> print(quoted('sea "foam"'))
    "sea \"foam\""
    """
    return '"' + name.replace("\\", "\\\\").replace('"', '\\"') + '"'


def heading(chart: Chart, terms: Terms, style: Style) -> tuple[str, ...]:
    """Write the terms, the name if there is one, and how the work goes."""
    name = (f"Name: {quoted(chart.name)}",) if chart.name else ()
    how = "in the round" if chart.in_the_round else "flat"
    nation = terms if style == "short" else NATIONS[terms]
    return (f"Written in {nation} terms.", *name, f"Worked {how}, {chart.hand}-handed.")


def yarn_lines(yarns: Yarns, terms: Terms, style: Style) -> tuple[str, ...]:
    """Write which yarns play MC and CC, one line each."""
    return tuple(_yarn_line(yarns, role, terms, style) for role in ROLES)


def _yarn_line(yarns: Yarns, role: Role, terms: Terms, style: Style) -> str:
    changes = [
        f"{f'from row {row}: ' if row > 1 else ''}{quoted(yarn.name)}, {yarn.colour}" for row, yarn in yarns.of(role)
    ]
    label = role if style == "short" else render(ROLE_WORDS[role], terms).capitalize()
    return f"{label}: {'; '.join(changes)}"
