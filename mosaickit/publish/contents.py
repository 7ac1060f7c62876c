"""What a page says, as texts in its own terms: the sentences and tables that every renderer prints.

Numbers become words here and nowhere else, so that the PDF and the web page say the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from mosaickit.gauge import CM_PER_INCH, METRES_PER_YARD
from mosaickit.motif import LEAST_CONTRAST
from mosaickit.orientation import ROLES, Role
from mosaickit.publish.entries import EdgeUse, Meeting, PageRow, PageYarn, RowUse
from mosaickit.publish.laid_over import in_all_sizes, laid_or_listed
from mosaickit.publish.page import Page
from mosaickit.publish.rights import about_words, care_words, foot_words, hook_words, label_words
from mosaickit.publish.sizes_told import advice_of_sizes, all_yarns, facts_of_sizes, of_size, yarns_of_sizes
from mosaickit.sizes import LEVELS
from mosaickit.wording import NATIONS, TERMS, Tongue, in_series, render
from mosaickit.yarn import DYE_LOT, rounded_down, rounded_up

_MOST_SPANS = 4
"""At most so many stretches of rows are named for a yarn; the chart shows the rest."""


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


_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def summary(page: Page) -> str:
    """One line: yarns, rows, stitches, kind of fabric, and the sizes."""
    names = in_series([size.name for size in page.sizes]) if page.sizes else ""
    return f"{_summary(page)} {'Sizes' if len(page.sizes) > 1 else 'Size'} {names}." if names else _summary(page)


@in_all_sizes
def _summary(page: Page) -> str:
    rows, stitches = page.chart.shape
    size = f"{several(rows, row_word(page))} of {several(stitches, 'stitch')}"
    kind = "reversible" if page.chart.reversible else "plain"
    way = "worked in the round" if page.chart.in_the_round else "worked flat, right side always facing"
    number = len(page.yarns)
    yarns = f" and {_NUMBERS[number] if number < len(_NUMBERS) else number} yarns" if page.lettered else ""
    return f"Overlay mosaic crochet in two colours{yarns}: {size}, {kind}, {way}."


def facts(page: Page, terms: Tongue) -> tuple[tuple[str, str], ...]:
    """List what a maker has to know before the first stitch, as (what, text)."""
    sizes, laid = facts_of_sizes(page)
    bands = _bands(page)
    return (*sizes, *_facts(page, terms), *laid, *((("Bands", " ".join(bands)),) if bands else ()))


@in_all_sizes
def _bands(page: Page) -> tuple[str, ...]:
    """Say which rows each band has, and what was done for the bands by itself."""
    return (*((f"From the foundation up: {'; '.join(page.bands)}.",) if page.bands else ()), *page.said)


@in_all_sizes
def _facts(page: Page, terms: Tongue) -> tuple[tuple[str, str], ...]:
    own = page.publishing
    in_the_round = page.chart.in_the_round
    measured = ", measured after blocking" if own.blocked_cm else ""
    size = f"{size_words(page.finished_cm, in_the_round=in_the_round)}{measured}"
    label, _, gauge = render(page.gauge.sentence, terms).partition(": ")
    found = [("Designed by", page.designer)] if page.designer else []
    border = ", with its border" if any(page.border_cm) else ""
    fringe = f", without the fringe of {length_words(page.fringe_cm)} at each side" if page.fringe_cm else ""
    found.append(("Finished size", f"{size}{border}{fringe}."))
    if own.unblocked_cm:
        found.append(("Before blocking", f"{size_words(own.unblocked_cm, in_the_round=in_the_round)}."))
    found.append((label, f"{gauge}{f', in {own.gauge_stitch}' if own.gauge_stitch else ''}."))
    if page.hook_mm is not None:
        found.append(("Hook", f"{hook_words(page.hook_mm)}, or whatever size gives the {label.lower()}."))
    if page.level is not None:
        found.append(("Level", f"{page.level.capitalize()}. {LEVELS[page.level]} (Craft Yarn Council)"))
    if terms in TERMS:
        found.append(("Terms", f"Stitches are named in {terms} ({NATIONS[terms]}) terms."))
    return tuple(found)


def length_words(cm: float) -> str:
    """Write a length in both units.

    Examples
    --------
    >>> length_words(40.64)
    '40.6 cm (16.0 in)'
    """
    return f"{cm:.1f} cm ({cm / CM_PER_INCH:.1f} in)"


def size_words(cm: tuple[float, float], *, in_the_round: bool = False) -> str:
    """Write a size in both units, width and height, or the way around and height."""
    (width, height), across = cm, "around" if in_the_round else "wide"
    inches = f"({width / CM_PER_INCH:.1f} × {height / CM_PER_INCH:.1f} in)"
    return f"{width:.1f} cm {across} × {height:.1f} cm high {inches}"


def notions(page: Page) -> tuple[str, ...]:
    """List what is needed beside the yarn: the hook, and the notions as the designer wrote them."""
    hook = () if page.hook_mm is None else (f"Hook, {hook_words(page.hook_mm)}",)
    return (*hook, *page.publishing.notions)


def about_yarn(page: Page) -> str:
    """Say what is done with the yarn between rows, how good the amounts are, and what there is to say of skeins."""
    lots = any(DYE_LOT in one.skein_notes for one in (page, *(size.page for size in page.sizes)))
    return " ".join((*_about_yarn(page), *([DYE_LOT] if lots else [])))


@in_all_sizes
def _about_yarn(page: Page) -> tuple[str, ...]:
    rows = "rounds" if page.chart.in_the_round else "rows"
    return (
        f"The yarn is {page.between_rows} between {rows}.",
        page.accuracy,
        *(note for note in page.skein_notes if note != DYE_LOT),
    )


def yarn_labels(page: Page) -> tuple[str, ...]:
    """Say of each yarn what its label says: what it is, what a ball holds, how it is cared for; "" if nothing."""
    return tuple(label_words(page.publishing.label(yarn.name), yarn.ball) for yarn in all_yarns(page))


def care_line(page: Page) -> str:
    """Say how the piece is cared for where its yarns differ; "" where they do not."""
    return care_words(map(page.publishing.label, (yarn.name for yarn in all_yarns(page))))


def about(page: Page) -> tuple[tuple[str, str], ...]:
    """List whom to ask, where corrections are and what is allowed, as (what, text)."""
    return about_words(page.publishing)


def foot(page: Page) -> str:
    """Write what stands at the foot of every page: title, copyright and contact."""
    return foot_words(page.title, page.publishing)


def keywords(page: Page) -> tuple[str, ...]:
    """List what the pattern is looked for by."""
    kind = "reversible" if page.chart.reversible else "plain"
    return ("crochet pattern", "overlay mosaic crochet", kind, *([page.level] if page.level else []))


def cover_words(page: Page, cc: str = "") -> str:
    """Say what the picture on the cover is, and how regions of CC look there."""
    looks = f" {cc} are CC." if cc else ""
    return f"The front{of_size(page)}, {front_words(page)}.{looks}"


def front_words(page: Page) -> str:
    """Write the size of what a picture of the front shows, which is without any border."""
    size = size_words(page.size_cm, in_the_round=page.chart.in_the_round)
    return f"{size}, without the border" if any(page.border_cm) else size


def count(line: PageRow) -> str:
    """Write the stitches of a row; nothing for a line that repeats several."""
    if line.rows[0] != line.rows[1]:
        return ""
    return f"({line.count} {'st' if line.count == 1 else 'sts'})"


def metres(value: float) -> str:
    """Write an amount of yarn."""
    return f"{value:.1f}"


def whole_metres(value: float) -> str:
    """Write an amount of yarn as it is bought: rounded up."""
    return f"{rounded_up(value):g}"


def yarn_lines(page: Page) -> tuple[tuple[str, str, str], ...]:
    """List the yarns, as (letter and name, roles and how much to have, colour)."""
    if page.sizes:
        return tuple(_yarn_line(*of_yarn) for of_yarn in yarns_of_sizes(page))
    return tuple(
        (
            f"{_letter(page, yarn)}{_name(yarn)}",
            f"{_amount(yarn, _where(page, yarn))} {yarn.advice}".rstrip(),
            yarn.colour,
        )
        for yarn in page.yarns
    )


def yarn_key(page: Page) -> tuple[tuple[str, str], ...]:
    """List the yarns by their letters for the key of the chart, as (words, colour); none where no letters are used."""
    if page.sizes and any(size.page.lettered for size in page.sizes):
        # which rows that are differs by size, and is said with the amounts
        return tuple((f"{yarn.letter}: {_name(yarn)}", yarn.colour) for yarn in all_yarns(page))
    if not page.lettered:
        return ()
    return tuple((f"{_letter(page, yarn)}{_name(yarn)}, {_where(page, yarn)}", yarn.colour) for yarn in page.yarns)


def _name(yarn: PageYarn) -> str:
    return yarn.name or "unnamed yarn"


def _letter(page: Page, yarn: PageYarn) -> str:
    return f"{yarn.letter}: " if page.lettered else ""


def _where(page: Page, yarn: PageYarn) -> str:
    """Say as which colour a yarn is worked, and in which rows where that changes."""
    if not yarn.roles:  # no row is worked in it
        return "The border"
    if not page.lettered:
        return " and ".join(yarn.roles)
    return " and ".join(_spans(page, yarn.letter, role) for role in yarn.roles)


def _spans(page: Page, letter: str, role: Role) -> str:
    of_role = [start for start in page.starts if start.role == role]
    last = max(row for row, colour in enumerate(page.chart.row_colours, 1) if colour == role)
    ends = [start.row - 2 for start in of_role[1:]] + [last]  # every second row is of the other colour
    spans = [(start.row, end) for start, end in zip(of_role, ends, strict=True) if start.letter == letter]
    said = [f"{first} to {last}" if last > first else f"{first}" for first, last in spans]
    if len(said) > _MOST_SPANS:
        said = [*said[:_MOST_SPANS], several(len(said) - _MOST_SPANS, "more stretch")]
    many = "s" if len(said) > 1 or " to " in said[0] else ""
    return f"{role}, {row_word(page)}{many} {', '.join(said[:-1])}{' and ' if len(said) > 1 else ''}{said[-1]}"


def _yarn_line(
    names: Sequence[str], own: Sequence[tuple[Page, PageYarn]], worked: Sequence[bool]
) -> tuple[str, str, str]:
    """Say of a yarn how much of it each size takes; the rows that it is worked in follow, as they differ in words."""
    pages, yarns = zip(*own, strict=True)
    lettered = any(one.lettered for one in pages)
    roles = " and ".join(role for role in ROLES if any(role in yarn.roles for yarn in yarns))
    said = [laid_or_listed(names, [_amount(yarn, roles) for yarn in yarns], worked), advice_of_sizes(yarns, worked)]
    if lettered:
        said.append(laid_or_listed(names, [f"{_where(one, yarn)}." for one, yarn in own], worked))
    name = f"{yarns[0].letter}: {_name(yarns[0])}" if lettered else _name(yarns[0])
    return name, " ".join(filter(None, said)), yarns[0].colour


def _amount(yarn: PageYarn, where: str) -> str:
    return (
        f"{where}: about {rounded_up(yarn.likely_m):g} m "
        f"({rounded_up(yarn.likely_m / METRES_PER_YARD):g} yd), "
        f"from {rounded_down(yarn.low_m):g} to {rounded_up(yarn.high_m):g} m."
    )


@in_all_sizes
def contrast_lines(page: Page) -> tuple[str, ...]:
    """Say of each two yarns that meet whether they can be told apart, once also where they meet again and again."""
    first: dict[tuple[str, str, float, float], Meeting] = {}
    for each in page.meetings:
        first.setdefault((each.mc, each.cc, each.ratio, each.weakest), each)
    # from which row on is said where every two yarns meet in one run of rows
    since = 1 < len(first) == len(page.meetings)
    return tuple(_contrast(meeting, row_word(page) if since else "") for meeting in first.values())


def _contrast(meeting: Meeting, since_what: str) -> str:
    # rounded down, so that a ratio below the limit never reads as the limit
    ratio, weakest = (int(value * 10) / 10 for value in (meeting.ratio, meeting.weakest))
    since = f"From {since_what} {meeting.row} on: " if since_what else ""
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
    head = (what, "Colour", "Yarn", "Stitches", "Yarn (m)", "Range (m)")
    lines: list[tuple[str, ...]] = [
        (f"{what} {use.row}", use.role, use.letter, str(use.stitches), metres(use.likely_m),
         f"{metres(use.low_m)} to {metres(use.high_m)}")
        for use in page.row_use
    ]  # fmt: skip
    lines += [
        (use.what, use.role, use.letter, str(use.stitches or ""), metres(use.likely_m),
         f"{metres(use.low_m)} to {metres(use.high_m)}")
        for use in page.edge_use
    ]  # fmt: skip
    uses: tuple[RowUse | EdgeUse, ...] = (*page.row_use, *page.edge_use)
    total = tuple(sum(getattr(use, name) for use in uses) for name in ("low_m", "likely_m", "high_m"))
    stitches = sum(use.stitches for use in uses)
    lines.append(("All", "", "", str(stitches), metres(total[1]), f"{metres(total[0])} to {metres(total[2])}"))
    left_out = [column for column, leave in ((2, not page.lettered), (3, brief)) if leave]
    kept = [column for column in range(len(head)) if column not in left_out]
    legend = "; ".join(f"{yarn.letter}: {_name(yarn)}" for yarn in page.yarns)
    return PageTable(
        f"Yarn for each {what.lower()}, in metres; tails, chains and strands between {what.lower()}s included."
        + (f" Yarns: {legend}." if page.lettered else ""),
        tuple(head[i] for i in kept),
        tuple(tuple(line[i] for i in kept) for line in lines),
        tuple(place for place, i in enumerate(kept) if i > 2),
    )


def paragraphs(text: str) -> tuple[str, ...]:
    """Split a text at its empty lines."""
    return tuple(" ".join(block.split("\n")).strip() for block in text.split("\n\n") if block.strip())
