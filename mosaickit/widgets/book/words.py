"""Words: title, terms and notes; the rows as they will be in words; and the editions of the design.

The rows are written when they are asked for, as those of a large piece take seconds, and are given some lines at a
time. What reads otherwise than when they were last asked for is marked, as `mk.compare` finds it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any
from weakref import WeakKeyDictionary

from mosaickit import wording
from mosaickit.errors import OptionError, number_of, whole_number
from mosaickit.sizes import LONGEST_TITLE, Design, Edition, compare
from mosaickit.widgets.book.entries import shown
from mosaickit.widgets.book.panel import Book, Panel
from mosaickit.widgets.book.selling import label_entries

WORDS_GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("The pattern", ("title", "designer", "motif_name", "terms", "phrasing", "level", "for_children")),
    ("In your own words", ("intro", "notes")),
)
"""What is asked for, under which headings."""

SELLING_GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "Edition and rights",
        ("contact", "copyright_line", "licence_line", "edition_line", "published", "errata", "language"),
    ),
    ("Notions and finishing", ("gauge_stitch", "notions", "finishing", "blocking", "unblocked_cm", "blocked_cm")),
)
"""What is asked for besides if a pattern is sold; the labels of its yarns follow."""

LINES_AT_ONCE = 40
"""The number of lines shown at a time."""


@dataclass(frozen=True)
class _Read:
    """The rows that were read last, of which design, and which of them read otherwise than before that."""

    design: Design
    rows: wording.WrittenRows
    changed: frozenset[int] | None = None
    """None if they were not read before."""


class WordsPanel(Panel):
    """Title, terms and notes, rows in words, editions."""

    name, word, hint = "words", "Words", "Title, rows in words, editions"

    def __init__(self) -> None:
        self._read: WeakKeyDictionary[Any, _Read] = WeakKeyDictionary()

    def view(self, book: Book) -> dict[str, Any]:
        """Give the entries under their headings, the editions, and whether the rows can be written."""
        design, read = book.design, self._read.get(book)
        can = design.layout.workable
        return {
            "groups": [{"word": word, "entries": shown(design, names)} for word, names in WORDS_GROUPS],
            "selling": [
                *({"word": word, "entries": shown(design, names)} for word, names in SELLING_GROUPS),
                *(
                    {
                        "word": f"Label of {yarn or 'the yarn without a name'}",
                        "entries": shown(design, label_entries(number)),
                    }
                    for number, yarn in enumerate(design.motif.yarns.names)
                ),
            ],
            "lacks": "" if can else f"The rows cannot be written yet. {design.report.errors_in_words}",
            # rows that follow from the same decisions are the same ones
            "old": read is not None and not (can and design.__dict__.get("rows") is read.rows),
            "most": LONGEST_TITLE,
            "editions": [
                {
                    "number": number,
                    "date": edition.date.isoformat(),
                    "changed": edition.changed,
                    "summary": edition.design.summary,
                    "same": edition.design == replace(design, editions=()),
                }
                for number, edition in enumerate(design.editions, 1)
            ],
        }

    def do(self, book: Book, name: str, values: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        """Write the rows, show other lines of them, or keep, open or compare an edition."""
        does: dict[str, Callable[[], dict[str, Any]]] = {
            "rows": partial(self._rows, book),
            "lines": partial(self._lines, book, values),
            "keep": partial(_keep, book, values),
            "open": partial(_open, book, values),
            "compare": partial(_compare, book, values),
        }
        return does[name]() if name in does else super().do(book, name, values, buffers)

    def _rows(self, book: Book) -> dict[str, Any]:
        """Write the rows of the design as it is now, and mark what reads otherwise than last time."""
        design, before = book.design, self._read.get(book)
        if not design.layout.workable:
            raise OptionError(f"The rows cannot be written yet. {design.report.errors_in_words}")
        rows = design.rows
        changed = None if before is None else frozenset(compare(before.design, design).rows)
        self._read[book] = _Read(design, rows, changed)
        return self._lines(book, {"first": 1})

    def _lines(self, book: Book, values: dict[str, Any]) -> dict[str, Any]:
        """Give some lines of the rows that were read, from one on."""
        read = self._read.get(book)
        if read is None:
            raise OptionError("Write the rows first.")
        lines = read.rows.lines
        first = min(whole_number("first", values.get("first"), least=1), len(lines))
        some = lines[first - 1 : first - 1 + LINES_AT_ONCE]
        return {
            "first": first,
            "last": first - 1 + len(some),
            "of": len(lines),
            "step": LINES_AT_ONCE,
            "lines": [_line(line, read.changed or frozenset()) for line in some],
            "before": [
                *_of_sizes(read.design),
                *read.rows.notes,
                *filter(None, (read.rows.multiple, read.rows.foundation)),
            ],
            "key": [list(pair) for pair in (*read.rows.abbreviations, *read.rows.special_stitches)],
            "said": _changes(read, [line for line in lines if _marked(line, read.changed or frozenset())]),
        }


def _marked(line: wording.WrittenRow, changed: frozenset[int]) -> bool:
    return not changed.isdisjoint(line.numbers)


def _line(line: wording.WrittenRow, changed: frozenset[int]) -> dict[str, Any]:
    text = " ".join(filter(None, (line.change, f"{line.text}.", line.tally)))
    return {"label": line.label, "text": text, "changed": _marked(line, changed)}


def _of_sizes(design: Design) -> list[str]:
    """Say of a design with sizes which rows these are, as the pattern that is shared has those of all sizes."""
    if not design.sizes:
        return []
    names = wording.in_series([size.name for size in design.sizes])
    return [
        f"These are the rows of the piece as it is laid, {design.across} × {design.up} repeats. The pattern that you "
        f"share has the rows of all its sizes, {names}."
    ]


def _changes(read: _Read, marked: list[wording.WrittenRow]) -> str:
    """Say how much of the rows reads otherwise than last time."""
    if read.changed is None:
        return ""
    if not read.changed:
        return "Every row reads as it did last time."
    last = read.rows.lines[-1].last
    there = [row for row in read.changed if row <= last]
    if not there:
        return "The piece has fewer rows than last time; those that are left read as they did."
    said = f"{number_of(len(there), 'row')} of {last:,} changed since you last read them."
    return f"{said} The first is in line {read.rows.lines.index(marked[0]) + 1}; they are marked."


# ---- editions ----------------------------------------------------------------------------------------------


def _edition(book: Book, values: dict[str, Any]) -> tuple[int, Edition[Design]]:
    number = whole_number("edition", values.get("number"), least=1)
    editions = book.design.editions
    if number > len(editions):
        raise OptionError(f"There is no edition {number}; the last is {len(editions)}.")
    return number, editions[number - 1]


def _keep(book: Book, values: dict[str, Any]) -> dict[str, Any]:
    changed = str(values.get("changed") or "").strip()
    if not changed:
        raise OptionError("Say in one line what changed; then it is kept.")
    kept = book.design.edition(changed)
    number = len(kept.editions)
    book.change(kept, f"keep edition {number}")
    book.say(f"Kept as edition {number}.")
    return {}


def _open(book: Book, values: dict[str, Any]) -> dict[str, Any]:
    """Go on with what an edition holds; the editions stay, those after it too."""
    number, edition = _edition(book, values)
    book.change(edition.design.but(editions=book.design.editions), f"open edition {number}")
    book.say(f"This is edition {number} again. Undo brings back what was here.")
    return {}


def _compare(book: Book, values: dict[str, Any]) -> dict[str, Any]:
    """Say in words what differs between an edition and the design now."""
    number, edition = _edition(book, values)
    comparison = compare(edition.design.but(editions=book.design.editions), book.design)
    return {"number": number, "said": str(comparison).splitlines()}


PANEL = WordsPanel()
