"""What stands around the rows of a pattern: heading, yarns, abbreviations, special stitches, notes, foundation.

The sentences stand in the phrasebook of a language, once and for rows; UK terms and rounds are renderings of them.
Abbreviations and special stitches are those that the text uses and no others. How the stitches are made is described
by this package: the trade's lists have none for overlay mosaic.
"""

from __future__ import annotations

import re

from mosaickit.colours import Yarn, Yarns
from mosaickit.fabric import Chart, Ends, Foundation, Stitch
from mosaickit.motif import BetweenRows
from mosaickit.orientation import ROLES, Role
from mosaickit.wording.languages import book_of
from mosaickit.wording.natural import Across
from mosaickit.wording.phrases import RowPart, Run
from mosaickit.wording.terms import NATIONS, STITCH_NAMES, STITCH_WORDS, STYLES, Style, Tongue, render

# ---- stitches ----------------------------------------------------------------------------------------------


def in_words(text: str, chart: Chart, terms: Tongue) -> str:
    """Put a remark into terms and their spelling, and into rounds where the chart is worked in rounds."""
    return render(book_of(terms).in_rounds(text) if chart.in_the_round else text, terms)


def stitch_name(stitch: Stitch, terms: Tongue, style: Style) -> str:
    """Name a stitch as the rows do."""
    return (STITCH_NAMES if style == "short" else STITCH_WORDS)[terms][stitch]


def role_name(role: Role, terms: Tongue, style: Style) -> str:
    """Name a colour as the rows do."""
    return render(book_of(terms).roles[STYLES.index(style)][role], terms)


def special_stitches(
    chart: Chart, terms: Tongue, style: Style, between_rows: BetweenRows, foundation: Foundation = "chain"
) -> tuple[tuple[str, str], ...]:
    """Describe the stitches of the chart that are no common ones, as (name, how it is made)."""
    book = book_of(terms)
    carried = between_rows == "carried" and not chart.in_the_round
    begins: tuple[tuple[str, str], ...] = ()
    if foundation == "foundation sc":
        said = book.foundation_sc[STYLES.index(style)].format(stitch=stitch_name(Stitch.SC, terms, style))
        begins = ((said, in_words(book.how_foundation_sc, chart, terms)),)
    return begins + tuple(
        (stitch_name(stitch, terms, style), in_words(how.format(strand=book.strand if carried else ""), chart, terms))
        for stitch, how in book.how.items()
        if (chart.stitches == stitch).any()
    )


def abbreviations(text: str, chart: Chart, terms: Tongue) -> tuple[tuple[str, str], ...]:
    """List the abbreviations that a text of rows uses and no others, as (abbreviation, meaning)."""
    book = book_of(terms)
    stitches = [
        (STITCH_NAMES[terms][stitch], in_words(meaning, chart, terms))
        for stitch, meaning in book.meanings.items()
        if (chart.stitches == stitch).any()
    ]
    others = [
        (short, render(meaning, terms)) for short, meaning, pattern in book.abbreviations if re.search(pattern, text)
    ]
    return tuple(sorted([*others, *stitches], key=lambda pair: pair[0].lower()))


def explained(abbreviations: tuple[tuple[str, str], ...], text: str, terms: Tongue) -> tuple[tuple[str, str], ...]:
    """Add to a list of abbreviations what else another text uses, as the steps of a border do."""
    known = dict(abbreviations)
    more = [
        (short, render(meaning, terms))
        for short, meaning, pattern in book_of(terms).abbreviations
        if short not in known and re.search(pattern, text)
    ]
    return tuple(sorted([*abbreviations, *more], key=lambda pair: pair[0].lower()))


# ---- how the rows hang together ----------------------------------------------------------------------------


def foundation(chart: Chart, terms: Tongue, style: Style, foundation: Foundation = "chain") -> str:
    """Write the foundation: flat, one chain more than stitches, which is the start chain of row 1.

    Foundation sc are worked as row 1, so there is nothing to write.
    """
    if foundation == "foundation sc":
        return ""
    chains = chart.shape[1] + (not chart.in_the_round)
    said = book_of(terms).foundation[STYLES.index(style)][chart.in_the_round]
    return said.format(colour=role_name(chart.first, terms, style), n=chains)


def multiple(chart: Chart, terms: Tongue, style: Style, across: Across | None, foundation: Foundation = "chain") -> str:
    """Write what the stitches are a multiple of; empty if no stitches are repeated across.

    The stitches beside the repeats are those that a wider piece would keep. Some patterns count the chain that starts
    row 1 among them, so it is said apart.
    """
    if across is None:
        return ""
    book = book_of(terms)
    beside = chart.shape[1] - across.times * across.period
    plus = book.plus.format(n=beside) if beside else ""
    chain = "" if chart.in_the_round or foundation == "foundation sc" else book.more_chains
    return f"{book.multiple[STYLES.index(style)].format(n=across.period)}{plus}{chain}."


def first_row(chart: Chart, terms: Tongue, style: Style, foundation: Foundation = "chain") -> str:
    """Write row 1 as it is worked into the foundation chain; empty if it is not all single crochet."""
    stitches = chart.stitches[0]
    if (stitches != Stitch.SC).any():
        return ""
    book, number = book_of(terms), STYLES.index(style)
    name = stitch_name(Stitch.SC, terms, style)
    if foundation == "foundation sc":
        return f"{len(stitches)} {book.foundation_sc[number].format(stitch=name)}"
    said = book.first_round[number] if chart.in_the_round else book.first_flat[number][len(stitches) > 1]
    return said.format(stitch=name)


def every_stitch(parts: tuple[RowPart, ...], chart: Chart, terms: Tongue, style: Style) -> str:
    """Write a row that one stitch fills; empty if it is of several, or there is one stitch only."""
    first = parts[0]
    if not (isinstance(first, Run) and first.count == chart.shape[1] > 1):
        return ""
    said = book_of(terms).every[STYLES.index(style)][chart.in_the_round]
    return said.format(stitch=stitch_name(first.stitch, terms, style))


def change(yarn: Yarn, terms: Tongue, style: Style) -> str:
    """Write that a row changes to another yarn, before what it works."""
    return book_of(terms).change[STYLES.index(style)].format(yarn=quoted(yarn.name))


def notes(
    chart: Chart,
    terms: Tongue,
    style: Style,
    between_rows: BetweenRows,
    foundation: Foundation = "chain",
    ends: Ends = "as they come",
) -> tuple[str, ...]:
    """Say how rows start and end, what is done with the yarn between them, and what edges and last row ask for."""
    book = book_of(terms)
    cut = between_rows == "cut"
    if chart.in_the_round:
        remarks = [*book.notes_round, *(book.notes_round_cut if cut else book.notes_round_carried)]
    else:
        remarks = [*book.notes_flat, *(book.notes_flat_cut if cut else book.notes_flat_carried)]
    if foundation == "foundation sc":
        remarks[1] = book.note_foundation_sc[chart.in_the_round]
    if not chart.in_the_round and (chart.stitches[:, [0, -1]] == Stitch.TOG_FRONT).any():
        remarks.append(book.firm_edges)
    if (chart.stitches[-1] == Stitch.TOG_FRONT).any():
        remarks.append(book.last_row)
    remarks.append(book.fasten_off[ends])
    told = {
        "stitch": stitch_name(Stitch.TOG_FRONT, "US" if terms == "UK" else terms, style),
        "edge": book.edges[chart.hand],
        "towards": book.towards[chart.hand],
        "n": chart.shape[0],
    }
    return tuple(in_words(remark.format(**told), chart, terms) for remark in remarks)


# ---- above the rows ----------------------------------------------------------------------------------------


def quoted(name: str) -> str:
    r"""Put a name in quotes that a reader finds the end of.

    Examples
    --------
    >>> print(quoted('sea "foam"'))
    "sea \"foam\""
    """
    return '"' + name.replace("\\", "\\\\").replace('"', '\\"') + '"'


def heading(chart: Chart, terms: Tongue, style: Style) -> tuple[str, ...]:
    """Write the terms or the language, the name if there is one, and how the work goes."""
    book = book_of(terms)
    name = (book.name.format(name=quoted(chart.name)),) if chart.name else ()
    nation = NATIONS.get(terms, "")
    written = book.written[STYLES.index(style)].format(terms=terms, nation=nation)
    return (written, *name, book.worked[chart.in_the_round].format(hand=book.handed[chart.hand]))


def yarn_lines(yarns: Yarns, terms: Tongue, style: Style) -> tuple[str, ...]:
    """Write which yarns play MC and CC, one line each."""
    return tuple(_yarn_line(yarns, role, terms, style) for role in ROLES)


def _yarn_line(yarns: Yarns, role: Role, terms: Tongue, style: Style) -> str:
    later = book_of(terms).yarn_from
    changes = [
        f"{later.format(n=row) if row > 1 else ''}{quoted(yarn.name)}, {yarn.colour}" for row, yarn in yarns.of(role)
    ]
    label = role_name(role, terms, style)
    return f"{label[:1].upper()}{label[1:]}: {'; '.join(changes)}"
