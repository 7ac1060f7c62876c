"""What an editor marks in the words: abbreviations, special stitches, terms and tools, held against their lists."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mosaickit.publish.editing.draft import Draft, Pair, RowsSaid, Said, Spot
from mosaickit.publish.editing.findings import EditKind, Marked
from mosaickit.publish.editing.sources import CHECKLIST, EDITORS, NUMBERS
from mosaickit.publish.editing.vocabulary import abbreviations_in, canonical, is_explained, needs_explaining
from mosaickit.wording import TERMS, Terms

# which only one of the two nations has (Craft Yarn Council, table of US and UK terms)
_ONLY: dict[Terms, str] = {
    "US": r"single crochet|half double|hdc|BLsc|FLdc",
    "UK": r"treble|htr|trtr|BLdc|FLtr",
}
_TOOLS = {
    "stitch markers": r"\bmarkers?\b",
    "a yarn needle": r"\b(?:yarn|tapestry|darning|blunt|wool|sewing) ?needles?\b|\bneedle\b|\bweav(?:e|ing) in\b|\bsew",
    "pins": r"\bpins?\b|\bpinn(?:ed|ing)\b",
    "scissors": r"\bscissors\b",
    "a tape measure": r"\btape measure\b|\bruler\b",
    "a row counter": r"\b(?:row|stitch) counter\b",
    "buttons": r"\bbuttons?\b",
    "a zip": r"\bzip(?:per)?s?\b",
    "a cushion pad": r"\b(?:cushion|pillow) (?:pad|insert|form)s?\b",
    "stuffing": r"\bstuffing\b|\bfibrefill\b|\bfiberfill\b",
}
_LISTED = {"a yarn needle": r"\bneedles?\b"}
_NUMBERED = re.compile(
    r"\W*(?:\d|[½¼¾]|an?\b|one\b|two\b|three\b|four\b|five\b|six\b|seven\b|eight\b|nine\b|ten\b|some\b|scrap|waste|pair)",
    re.IGNORECASE,
)


def _used(draft: Draft, rows: RowsSaid, *, prose: bool = True) -> dict[str, tuple[str, Spot]]:
    """Give the abbreviations that are used, each in its one form with how it is typed and where first."""
    found: dict[str, tuple[str, Spot]] = {}
    told = [(f"{row.label} {row.text} {row.tally}", row.spot, True) for row in rows.rows]
    told += [(each.text, each.spot, True) for each in rows.around[:1]]
    told += [(each.text, each.spot, False) for each in rows.around[1:]]
    told += [(each.meaning, each.spot, False) for each in rows.special]
    if prose:
        told += [(each.text, each.spot, False) for each in draft.prose]
    for text, spot, as_rows in told:
        for word in abbreviations_in(text, rows=as_rows):
            found.setdefault(canonical(word), (word, spot))
    return found


def _words_of(pair: Pair) -> Iterator[str]:
    """Give the abbreviations that one line explains, as "st(s)" and "BL/BLO" do two."""
    short = re.sub(r"\((\w+)\)", "", pair.short)
    yield from (canonical(word) for word in re.split(r"\s*[/,]\s*|\s+or\s+", short) if word.strip())


def _unexplained(draft: Draft) -> Iterator[Marked]:
    for number, rows in enumerate(_in_english(draft)):
        explained = {word for pair in (*rows.abbreviations, *rows.special) for word in _words_of(pair)}
        for word, spot in _used(draft, rows, prose=number == 0).values():
            if not is_explained(word, explained):
                yield (
                    spot,
                    f"{word!r} is used here and explained nowhere.",
                    f"Explain {word!r} among the abbreviations.",
                )


def _in_english(draft: Draft) -> list[RowsSaid]:
    """Give the rows whose vocabulary is known here; `draft_of_page` says so of others."""
    return [rows for rows in draft.sets if rows.terms is None or rows.terms in TERMS]


def _unused(draft: Draft) -> Iterator[Marked]:
    for rows in _in_english(draft):
        used = set(_used(draft, rows))
        used |= {part for word in used for part in re.findall("^(?:bl|fl)|(?:sc|dc|tr|hdc|htr)$", word)}
        for pair in rows.abbreviations if rows.rows else ():
            if not any(word in used for word in _words_of(pair)):
                yield pair.spot, f"{pair.short!r} is explained and never used.", f"Leave out {pair.short!r}."


def _twice(draft: Draft) -> Iterator[Marked]:
    for rows in _in_english(draft):
        for pairs in (rows.abbreviations, rows.special):
            seen: dict[str, Pair] = {}
            for pair in pairs:
                before = seen.setdefault(pair.short.lower(), pair)
                if before is not pair:
                    how = "in two ways" if before.meaning.lower() != pair.meaning.lower() else "twice"
                    yield pair.spot, f"{pair.short!r} is explained {how}.", "Explain it once."


def _special_missing(draft: Draft) -> Iterator[Marked]:
    for rows in _in_english(draft):
        explained = {word for pair in rows.special for word in _words_of(pair)}
        for own, (word, spot) in _used(draft, rows, prose=False).items():
            if needs_explaining(word) and own not in explained:
                yield (
                    spot,
                    f"How {word!r} is made is not explained.",
                    f"Add {word!r} to the special stitches, with how it is made.",
                )
        corner = _corner(rows)
        if corner is not None:
            yield (
                corner,
                "What is worked into a corner stitch is not explained.",
                "Say how all stitches of a corner are made, and which of them is the next corner stitch.",
            )


def _corner(rows: RowsSaid) -> Spot | None:
    """Give the first round that works into a corner stitch, if the text does not explain how; None otherwise."""
    if any("corner" in pair.short.lower() for pair in rows.special):
        return None
    return next((row.spot for row in rows.rows if re.search(r"\bcorner st", row.text)), None)


def _special_unused(draft: Draft) -> Iterator[Marked]:
    for rows in _in_english(draft):
        used = set(_used(draft, RowsSaid(rows.terms, rows.rows, rows.around), prose=True))
        for pair in rows.special if rows.rows else ():
            if needs_explaining(pair.short) and canonical(pair.short) not in used:
                yield pair.spot, f"{pair.short!r} is explained as a special stitch and never worked.", "Leave it out."


def _mixed_terms(draft: Draft) -> Iterator[Marked]:
    terms = draft.sets[0].terms
    if terms not in TERMS:
        return
    other: Terms = "UK" if terms == "US" else "US"
    told: list[Said] = [*draft.prose, *draft.sets[0].around]
    told += [Said(f"{pair.short}: {pair.meaning}", pair.spot) for pair in draft.sets[0].abbreviations]
    told += [Said(pair.meaning, pair.spot) for pair in draft.sets[0].special]
    for said in told:
        match = re.search(rf"\b(?:{_ONLY[other]})\b", said.text)
        if match:
            yield (
                said.spot,
                f"{match.group()!r} is a word of {other} terms, and the pattern is in {terms} terms.",
                f"Use the {terms} word.",
            )


def _tools(draft: Draft) -> Iterator[Marked]:
    listed = "; ".join(said.text for said in draft.notions)
    told = [*draft.prose, *draft.sets[0].around]
    for tool, words in _TOOLS.items():
        if re.search(_LISTED.get(tool, words), listed, re.IGNORECASE):
            continue
        used = next((said for said in told if re.search(words, said.text, re.IGNORECASE)), None)
        if used is not None:
            yield (
                draft.spot("notions"),
                f"{tool.capitalize()} is used ({used.spot.words}) and not listed."
                if tool.startswith("a ") or tool in ("stuffing",)
                else f"{tool.capitalize()} are used ({used.spot.words}) and not listed.",
                f"List {tool} among the notions.",
            )


def _numbers_of_notions(draft: Draft) -> Iterator[Marked]:
    for said in draft.notions:
        for notion in re.split(r"[;,]\s*", said.text):
            if notion.strip() and not _NUMBERED.match(notion):
                yield said.spot, f"{notion.strip()!r} does not say how many.", "Give the number."


WORD_KINDS: tuple[EditKind, ...] = (
    EditKind(
        "abbreviation not explained", "error", "Every abbreviation that is used is explained.", EDITORS,
        _unexplained,
    ),
    EditKind(
        "abbreviation not used", "advice", "Every abbreviation that is explained is used.", EDITORS, _unused
    ),
    EditKind("explained twice", "error", "An abbreviation is explained once.", EDITORS, _twice),
    EditKind(
        "special stitch not explained", "error",
        "Every stitch that is no common one is described: the Craft Yarn Council's lists have none for overlay mosaic.",
        NUMBERS, _special_missing,
    ),
    EditKind(
        "special stitch not used", "advice", "Every special stitch that is described is worked.", EDITORS,
        _special_unused,
    ),
    EditKind(
        "terms mixed", "error", "All words are those of one nation's terms.",
        "Craft Yarn Council, table of US and UK terms", _mixed_terms,
    ),
    EditKind("tool not listed", "advice", "Tools that are used are listed.", CHECKLIST, _tools),
    EditKind(
        "notion without a number", "advice", "Notions have their number.",
        NUMBERS, _numbers_of_notions,
    ),
)  # fmt: skip
"""What is looked for in the words."""
