"""Share: files of the design, for others and for later.

What can be shared is in `share_files`, what writes it in `share_writing`. A file that is another's is left as it is:
the answer says what is there and which name is free, and the hand says which of the two it wants. A file that was saved
here can be fetched by the page, which offers it to the device of the hand.
"""

from __future__ import annotations

import mimetypes
from base64 import b64encode
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import Any
from weakref import WeakKeyDictionary

from mosaickit import publish, wording
from mosaickit.errors import MosaickitError, OptionError, TakenError, number_of, one_of, whole_number
from mosaickit.fabric import Stitch
from mosaickit.files import Owner, ask_first, read_whole
from mosaickit.sizes import Design
from mosaickit.svg import MARK_KINDS, SYMBOLS, USUAL_LETTERS
from mosaickit.widgets.book.entries import in_labels
from mosaickit.widgets.book.panel import Book, Panel
from mosaickit.widgets.book.share_files import FILES, THINGS, lacks, missing, stem
from mosaickit.widgets.book.share_options import SYSTEM_FONTS, ShareOptions, Sharing
from mosaickit.widgets.book.share_photographs import PHOTOGRAPH_DOES, do_photograph, photographs_view
from mosaickit.widgets.book.share_python import python_of
from mosaickit.widgets.book.share_work import EDIT, PREVIEW, ShareTask, ShareWork
from mosaickit.widgets.book.share_writing import laid_once, sheets

GROUP_WORDS = {
    "pattern": "The pattern",
    "chart": "The chart",
    "tables": "Tables",
    "keep": "To keep and go on with",
}
"""The headings, in order."""

MARK_WORDS = {"symbols": "Symbols", "plain": "Squares only", "letters": "Letters"}

PAPER_WORDS = {"a4": "A4", "us-letter": "US Letter"}


@dataclass
class _Kept:
    """What is remembered of one workbook."""

    design: Design | None = None
    number: int = 0
    """Counts the designs that were seen, so that the page can tell whether what it shows is still of this one."""
    page: publish.Page | None = None
    sheets: tuple[ShareOptions, tuple[bytes, ...]] | None = None
    saved: dict[str, Path] = field(default_factory=dict)
    asked: dict[str, TakenError] = field(default_factory=dict)
    work: ShareWork | None = None
    ended: dict[str, Any] = field(default_factory=dict)
    """What came of the last work, until the page has been told."""


class SharePanel(Panel):
    """What is published and saved."""

    name, word, hint = "share", "Share", "Pattern, pictures and files"

    def __init__(self) -> None:
        self._kept: WeakKeyDictionary[Any, _Kept] = WeakKeyDictionary()

    def view(self, book: Book) -> dict[str, Any]:
        """Give what can be shared, and why what cannot."""
        design = book.design
        again = design.across > 1 or design.up > 1
        work = self._of(book).work
        tongue = wording.tongue_of_page(design.words.terms, design.publishing.language)
        return {
            "work": work and work.view(),
            "stem": stem(design),
            "folder": str(book.folder.absolute()),
            "design": self._of(book).number,
            "lacks": missing(design, "gauge"),
            "photographs": photographs_view(book),
            "whole": _counts(design),
            "once": _counts(laid_once(design)) if again else "",
            "forms": [[each, each[0].upper() + each[1:]] for each in publish.FORMS],
            "papers": [[each, PAPER_WORDS[each]] for each in publish.PAPERS],
            "fonts": SYSTEM_FONTS,
            "marks": [[each, MARK_WORDS[each]] for each in MARK_KINDS],
            "letters": {symbol.abbreviation: USUAL_LETTERS.get(symbol.abbreviation, "") for symbol in SYMBOLS},
            "stitches": [[stitch.abbreviation, wording.STITCH_NAMES[tongue][stitch]] for stitch in Stitch],
            "groups": [
                {
                    "name": name,
                    "word": GROUP_WORDS[name],
                    "things": [
                        {
                            "label": thing.label,
                            "hint": thing.hint,
                            "lacks": lacks(design, thing.needs),
                            "files": [[what, file.word] for what, file in thing.files.items()],
                        }
                        for thing in things
                    ],
                }
                for name, things in THINGS.items()
            ],
        }

    def do(self, book: Book, name: str, values: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        """Save, fetch, preview, edit or write code, as `name` says."""
        does: dict[str, Callable[[], dict[str, Any]]] = {
            "save": partial(self._save, book, values),
            "fetch": partial(self._fetch, book, values),
            "preview": partial(self._preview, book, values),
            "edit": partial(self._edit, book, values),
            "stop": partial(self._stop, book),
            "marks": lambda: {"fits": self._sharing(book, values) is not None},
            "python": lambda: {"text": python_of(book.design), "design": self._of(book).number},
        }
        if name in PHOTOGRAPH_DOES:
            return do_photograph(book, name, values)
        return does[name]() if name in does else super().do(book, name, values, buffers)

    # ---- what is kept --------------------------------------------------------------------------------------

    def _of(self, book: Book) -> _Kept:
        """Give what is remembered of a workbook, without what was made of an earlier design."""
        kept = self._kept.setdefault(book, _Kept())
        if kept.design is not book.design:
            kept.design, kept.number = book.design, kept.number + 1
            kept.page = kept.sheets = None
        return kept

    def _sharing(self, book: Book, values: dict[str, Any]) -> Sharing:
        kept, design = self._of(book), book.design

        def page() -> publish.Page:
            if kept.page is None:
                kept.page = design.page()
            return kept.page

        chosen = values.get("options") or {}
        known = {name: chosen[name] for name in ShareOptions.__dataclass_fields__ if name in chosen}
        return Sharing(design, ShareOptions(**known), page)

    # ---- files ---------------------------------------------------------------------------------------------

    def _save(self, book: Book, values: dict[str, Any]) -> dict[str, Any]:
        """Save a file; where it is another's, give what is there and ask, without having written anything."""
        what, answer = values.get("what"), values.get("answer")
        one_of("what", what, FILES)
        one_of("answer", answer, (None, "free", "replace"))
        kept, (file, needs) = self._of(book), FILES[str(what)]
        if said := missing(book.design, needs):
            raise OptionError(said)
        of = self._sharing(book, values)
        path = book.folder / file.name(book.design, of.options)
        task = ShareTask(str(what), book.design, of.options, path, answer == "replace")
        if task.long:
            _idle(kept)
        asked = kept.asked.pop(str(what), None)
        if answer is not None:
            if asked is None:
                raise OptionError("That was not asked: press the button again.")
            task = replace(task, path=asked.free if answer == "free" else asked.path)
        try:
            if task.long:
                if not task.replace:
                    ask_first(path if task.path is None else task.path, Owner(file.owned_as, of.name))
                return self._begin(kept, task)
            return self._saved(kept, task, task.made(of), kept.number)
        except TakenError as error:
            return self._taken(kept, task, error)

    def _saved(self, kept: _Kept, task: ShareTask, made: Any, number: int) -> dict[str, Any]:  # noqa: ANN401
        kept.saved[task.what] = made
        return {"saved": {"name": made.name, "size": _size(made.stat().st_size), "design": number}}

    def _taken(self, kept: _Kept, task: ShareTask, error: TakenError) -> dict[str, Any]:
        kept.asked[task.what] = error
        return {"taken": {"found": error.found, "name": error.path.name, "free": error.free.name}}

    # ---- what takes long -----------------------------------------------------------------------------------

    def _begin(self, kept: _Kept, task: ShareTask, sheet: int = 1) -> dict[str, Any]:
        _idle(kept)
        kept.work = ShareWork(task, kept.number, sheet)
        return {"working": True}

    def part(self, book: Book) -> dict[str, Any]:
        """Wait a moment for what is being made, and take it in when it is."""
        kept = self._of(book)
        work = kept.work
        if work is None:
            ended, kept.ended = kept.ended, {}
            return {"left": False, **ended}
        try:
            made = work.part()
            if made is None:
                return {"left": True}
            outcome = self._come(book, kept, work, made)
        except TakenError as error:
            outcome = self._taken(kept, work.task, error)
            book.say(error.found)
        except MosaickitError as error:
            outcome = {"error": in_labels(str(error))}
        self._end(kept)
        return {"left": False, "what": work.task.what, "outcome": outcome}

    def _come(self, book: Book, kept: _Kept, work: ShareWork, made: Any) -> dict[str, Any]:  # noqa: ANN401
        if isinstance(made, Path):
            book.say(f"Saved {made.name}.")
            return self._saved(kept, work.task, made, work.number)
        if isinstance(made, tuple):
            pictures = made
            if work.number == kept.number:
                kept.sheets = work.task.options, pictures
            return _sheet(pictures, work.sheet, work.number)
        return _marked(made, work.number)

    def _stop(self, book: Book) -> dict[str, Any]:
        kept = self._of(book)
        if kept.work is not None:
            kept.ended = {"what": kept.work.task.what, "outcome": {"stopped": True}}
            self._end(kept)
            book.say("Stopped. Nothing was saved.")
        return {}

    def _end(self, kept: _Kept) -> None:
        work, kept.work = kept.work, None
        if work is not None:
            work.end()

    # ---- what is there -------------------------------------------------------------------------------------

    def _fetch(self, book: Book, values: dict[str, Any]) -> dict[str, Any]:
        """Give the bytes of a file that was saved here."""
        file = self._of(book).saved.get(str(values.get("what")))
        if file is None:
            raise OptionError("Save it first; then it can be downloaded.")
        kind = mimetypes.guess_type(file.name)[0] or "application/octet-stream"
        return {"name": file.name, "kind": kind, "data": b64encode(read_whole(file)).decode("ascii")}

    # ---- what is looked at first ---------------------------------------------------------------------------

    def _preview(self, book: Book, values: dict[str, Any]) -> dict[str, Any]:
        """Give one sheet of the PDF as a picture; all of them are set the first time, and kept."""
        if said := missing(book.design, "gauge"):
            raise OptionError(said)
        of, kept = self._sharing(book, values), self._of(book)
        sheet = whole_number("sheet", values.get("sheet"), least=1)
        if kept.sheets is None or kept.sheets[0] != of.options:
            task = ShareTask(PREVIEW, book.design, of.options)
            if task.long:
                return self._begin(kept, task, sheet)
            kept.sheets = of.options, sheets(of)
        return _sheet(kept.sheets[1], sheet, kept.number)

    def _edit(self, book: Book, values: dict[str, Any]) -> dict[str, Any]:
        """Give what a technical editor would mark in the pattern."""
        if said := missing(book.design, "gauge"):
            raise OptionError(said)
        of, kept = self._sharing(book, values), self._of(book)
        task = ShareTask(EDIT, book.design, of.options)
        return self._begin(kept, task) if task.long else _marked(publish.tech_edit(of.page()), kept.number)


def _marked(report: publish.EditReport, design: int) -> dict[str, Any]:
    """Give a report as the page shows it."""
    return {
        "head": report.head,
        "marks": [
            {"severity": each.severity, "where": each.where, "message": each.message, "cure": each.cure}
            for each in report.findings
        ],
        "unjudged": [*report.unjudged],
        "design": design,
    }


def _idle(kept: _Kept) -> None:
    """Raise `OptionError` if something is being made already."""
    if kept.work is not None:
        raise OptionError("Another file is being made. Wait until it is done, or stop it.")


def _sheet(pictures: tuple[bytes, ...], sheet: int, design: int) -> dict[str, Any]:
    sheet = min(sheet, len(pictures))
    return {
        "sheet": sheet,
        "of": len(pictures),
        "design": design,
        "data": b64encode(pictures[sheet - 1]).decode("ascii"),
    }


def _counts(design: Design) -> str:
    rows, stitches = design.shape
    row = "round" if design.surround.in_the_round else "row"
    return f"{number_of(rows, row)} × {number_of(stitches, 'stitch')}"


def _size(count: int) -> str:
    """Say how long a file is."""
    if count < 1_000:
        return number_of(count, "byte")
    return f"{count / 1_000:.0f} kB" if count < 1_000_000 else f"{count / 1_000_000:.1f} MB"


PANEL = SharePanel()
