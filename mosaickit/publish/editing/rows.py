"""What an editor marks in the rows: counts, numbers, colours and repeats that do not come out, and labels."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator

from mosaickit.publish.editing.draft import Draft, DraftRow
from mosaickit.publish.editing.findings import EditKind, Marked
from mosaickit.publish.editing.sources import CRAFT, EDITORS, STYLE_SHEET
from mosaickit.publish.editing.vocabulary import abbreviations_in
from mosaickit.wording import Fault

_NOT_DIVIDING = ("whole repeats", "what the rows are a multiple of")


def _faults(wanted: Callable[[Fault], bool], cure: str) -> Callable[[Draft], Iterator[Marked]]:
    """Give what the reader says of the rows, of some kinds of faults."""

    def found(draft: Draft) -> Iterator[Marked]:
        for rows in draft.sets:
            for fault, spot in rows.faults:
                if wanted(fault):
                    yield spot, _sentence(fault.sentence), cure

    return found


def _sentence(said: str) -> str:
    """Begin with a capital letter, but for an abbreviation."""
    return said if any(abbreviations_in(said.partition(" ")[0], rows=True)) else said[:1].upper() + said[1:]


def _of_kind(kind: str) -> Callable[[Fault], bool]:
    return lambda fault: fault.kind == kind and fault.expected not in _NOT_DIVIDING


def _without_count(draft: Draft) -> Iterator[Marked]:
    for rows in draft.sets:
        for row in rows.rows:
            if not row.tally.strip() and not row.again:
                yield row.spot, f"This {row.what} does not say how many stitches it has.", "Give its count at its end."


def _differs(draft: Draft) -> Iterator[Marked]:
    for rows in draft.sets:
        for each in rows.differs:
            yield each.spot, each.text, "Make the words say what the chart shows, or chart it again."


def _unworkable(draft: Draft) -> Iterator[Marked]:
    for rows in draft.sets:
        if rows.trouble:
            row = re.search(r"[Rr](?:ow|ound) (\d+)", rows.trouble)
            number = int(row[1]) if row else None
            spot = next((each.spot for each in rows.rows if each.spot.row == number), draft.spot("rows"))
            yield spot, rows.trouble, "Work the row by hand, and write what was worked."


def _settled(draft: Draft) -> Iterator[Marked]:
    for rows in draft.sets:
        for said in rows.settled:
            yield said.spot, _sentence(said.text), "Say how often in all, or how many more times."


def _label_shape(row: DraftRow) -> str:
    return re.sub(r"\b(?:MC|CC|GF|KF|[A-Z])\b", "…", re.sub(r"\d+", "1", row.label.replace("RS", "").strip()))


def _labels(draft: Draft) -> Iterator[Marked]:
    for rows in draft.sets:
        single = [row for row in rows.rows if len(re.findall(r"\d+", row.label)) == 1 and not row.again]
        if not single:
            continue
        usual, often = Counter(map(_label_shape, single)).most_common(1)[0]
        other = [row for row in single if _label_shape(row) != usual]
        if other:
            like = next(row for row in single if _label_shape(row) == usual)
            more = f", and {len(other) - 1} more" if len(other) > 1 else ""
            yield (
                other[0].spot,
                f"The label {other[0].label!r}{more} is not made as the {often} others, as {like.label!r}.",
                "Label all rows alike.",
            )


def _first_letters(draft: Draft) -> Iterator[Marked]:
    for rows in draft.sets:
        begun = [(row, word) for row in rows.rows if (word := _first_word(row.text))]
        capital = [row for row, word in begun if word[0].isupper()]
        small = [row for row, word in begun if word[0].islower()]
        if capital and small:
            fewer = min(small, capital, key=len)
            how = "a small letter" if fewer is small else "a capital letter"
            yield fewer[0].spot, f"This row begins with {how}, and others do not.", "Begin all rows alike."


def _first_word(text: str) -> str:
    """Give the word that a row begins with, if it is a word and no abbreviation."""
    match = re.match(r"[A-Za-z][a-z]{2,}\b", text)
    return match.group() if match and not any(abbreviations_in(match.group(), rows=True)) else ""


ROW_KINDS: tuple[EditKind, ...] = (
    EditKind(
        "row without a count", "advice", "Each row says how many stitches it has.", EDITORS, _without_count
    ),
    EditKind(
        "wrong count", "error",
        "A row has the stitches that it says, as many as the row below; a round from the centre has 8 more.", EDITORS,
        _faults(_of_kind("count"), "Count the stitches again."),
    ),
    EditKind(
        "repeat that does not divide", "error",
        "The stitches of a row are what whole repeats and the stitches beside them give.",
        "Stitch patterns state their multiple, repeats of so many stitches plus so many: common practice, no source",
        _faults(lambda fault: fault.expected in _NOT_DIVIDING, "Correct the repeat, or the number of stitches."),
    ),
    EditKind(
        "row out of order", "error", "Every row is there once and in turn.", EDITORS,
        _faults(_of_kind("row"), "Number the rows in their order, each once."),
    ),
    EditKind(
        "colour out of turn", "error", "The two colours take turns.", CRAFT,
        _faults(_of_kind("colour"), "Give the row the colour whose turn it is."),
    ),
    EditKind(
        "said in two ways", "error", "Words mean one thing.", EDITORS,
        _faults(_of_kind("ambiguous"), "Say which of the two is meant."),
    ),
    EditKind(
        "unknown word", "error", "The words of a row are those of the trade, and of the pattern's terms.", EDITORS,
        _faults(_of_kind("unknown"), "Use a stitch of the pattern, or explain the word."),
    ),
    EditKind(
        "words out of order", "error", "The words of a row can be followed.", EDITORS,
        _faults(_of_kind("malformed"), "Write the row as the others are written."),
    ),
    EditKind(
        "not of this fabric", "error", "No row of overlay mosaic turns, or changes its number of stitches.",
        CRAFT,
        _faults(_of_kind("shaping"), "Write the row without it."),
    ),
    EditKind("not as charted", "error", "Words and chart say the same.", EDITORS, _differs),
    EditKind("cannot be worked", "error", "A hook can make every stitch.", CRAFT, _unworkable),
    EditKind(
        "settled by the count", "advice", "How often a repeat is worked is said without doubt.",
        "Spirale, agrafe.over-blog.com (three more) and a blanket, abcdocz.com (eight in all): both ways are in use",
        _settled,
    ),
    EditKind("labels not alike", "advice", "Rows are labelled alike.", STYLE_SHEET, _labels),
    EditKind(
        "first letters not alike", "advice", "Rows begin alike, with a capital or a small letter.",
        "Submission Guidelines, wanderingwolfdesign.com: first letter capital", _first_letters,
    ),
)  # fmt: skip
"""What is looked for in the rows."""
