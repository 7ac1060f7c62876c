"""Many: motifs, gauges, sizes and frames are ticked, and every combination of them is worked out and compared."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from weakref import WeakKeyDictionary

from mosaickit import tables
from mosaickit.errors import MosaickitError, OptionError, one_of
from mosaickit.gauge import UNITS
from mosaickit.orientation import ROLES
from mosaickit.widgets.book.lay_typed import LONGEST_TYPED, desk_of, limit_typed, number_typed, unit_of
from mosaickit.widgets.book.many_choices import Choosing
from mosaickit.widgets.book.many_runs import ManyRun
from mosaickit.widgets.book.many_saving import TableSaving
from mosaickit.widgets.book.panel import Book, Panel
from mosaickit.widgets.parts import file_name

LINES = 24
"""The number of lines shown at first, and added by each press."""


class ManyDesk:
    """What lies on the panel of one workbook: what is ticked, the run, and how it is shown."""

    def __init__(self, book: Book) -> None:
        self.choosing = Choosing.of(book.beside("many"))
        self.choosing.look(book.folder)
        self.run: ManyRun | None = None
        self.by, self.down, self.most = "", False, LINES
        self.saving: TableSaving | None = None
        self._shown: tuple[Any, dict[str, Any]] | None = None

    def lines(self) -> dict[str, Any] | None:
        """Give what the page shows of the run; made again only if something of it changed."""
        if self.run is None:
            return None
        limits = _limits(self.choosing)
        key = id(self.run), len(self.run.slices), self.by, self.down, self.most, limits
        if self._shown is None or self._shown[0] != key:
            self._shown = (key, self.run.view(self.by, self.down, self.most, limits))
        return self._shown[1]


_MANY_DESKS: WeakKeyDictionary[Book, ManyDesk] = WeakKeyDictionary()


class ManyPanel(Panel):
    """Every combination of what is ticked, in a table."""

    name, word, hint = "many", "Many", "Compare many sizes and motifs"

    def entered(self, book: Book) -> dict[str, Any] | None:
        """Give what is ticked and added; the table is worked out again when it is asked for."""
        return _MANY_DESKS[book].choosing.kept() if book in _MANY_DESKS else None

    def view(self, book: Book) -> dict[str, Any]:
        """Give what can be ticked, how many combinations that is, and the lines of the run."""
        desk = many_desk_of(book)
        saving = desk.saving
        return {
            **desk.choosing.view(book.design),
            "tolerance": desk.choosing.tolerance,
            "skeins": book.design.yarn_settings.skeins is not None or (desk.run is not None and desk.run.counts_skeins),
            "limits": desk.choosing.limits,
            "run": desk.lines(),
            "work": saving and saving.view(),
            "asking": saving and saving.question(),
        }

    def do(self, book: Book, name: str, values: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        """Tick, add, run, sort, take a line or save the table."""
        desk, design = many_desk_of(book), book.design
        choosing = desk.choosing
        if name == "tick":
            choosing.tick(str(values.get("group")), str(values.get("key")), bool(values.get("on")))
        elif name == "add":
            choosing.add(str(values.get("group")), values, design)
        elif name == "tolerance":
            choosing.tolerance = str(values.get("value"))[:40]
            _tolerance(choosing)
        elif name == "limit":
            one_of("role", values.get("role"), ROLES)
            label, typed = f"Skeins of {values['role']}", str(values.get("value"))[:LONGEST_TYPED]
            limit_typed(label, typed)
            choosing.limits[values["role"]] = typed
        elif name == "unit":
            one_of("unit", values.get("value"), UNITS)
            desk_of(book).type({"unit": values["value"]})
        elif name == "look":
            choosing.look(book.folder)
            book.say(f"Motifs and designs listed: {len(choosing.motifs)}.")
        elif name == "files":
            read = choosing.take_in([str(each) for each in values.get("names") or []], buffers)
            book.say(f"Files read: {read}.")
        elif name == "start":
            desk.run = ManyRun.begun(design, choosing.chosen(design), _tolerance(choosing), choosing.unit)
            desk.by, desk.down, desk.most, desk.saving = "", False, LINES, None
        elif name == "slice":
            run = _run_of(desk)
            run.step()
            return {"left": len(run.slices)}
        elif name == "sort":
            by = str(values.get("by"))
            shown = desk.lines() or {}
            desk.down = not desk.down if by == shown.get("by") else False
            desk.by, desk.most = by, LINES
        elif name == "more":
            desk.most += LINES
        elif name == "take":
            _take(book, _run_of(desk), values.get("line"))
        elif name == "save":
            _save(book, desk, str(values.get("ending")))
        elif name == "saveAs":
            if desk.saving is None:
                raise OptionError("No file is asked about.")
            book.say(desk.saving.answered(replace=values.get("how") == "replace"))
        elif name == "stop":
            if desk.saving and desk.saving.at_work:
                desk.saving = None
                book.say("Stopped. Nothing was saved.")
        else:
            return super().do(book, name, values, buffers)
        return {}

    def part(self, book: Book) -> dict[str, Any]:
        """Make the next part of a table that is being saved."""
        saving = many_desk_of(book).saving
        if saving is None or not saving.at_work:
            return {"left": False}
        try:
            if said := saving.step():
                book.say(said)
        except MosaickitError:
            many_desk_of(book).saving = None
            raise
        return {"left": saving.at_work}


def many_desk_of(book: Book) -> ManyDesk:
    """Give what lies on the panel of a workbook."""
    if book not in _MANY_DESKS:
        _MANY_DESKS[book] = ManyDesk(book)
    desk = _MANY_DESKS[book]
    desk.choosing.unit = unit_of(book)
    return desk


def _run_of(desk: ManyDesk) -> ManyRun:
    if desk.run is None:
        raise OptionError("Nothing is worked out yet: press Work them out first.")
    return desk.run


def _limits(choosing: Choosing) -> dict[str, int]:
    """Give the most skeins of MC and of CC, where there is a limit."""
    read = {role: limit_typed(f"Skeins of {role}", typed) for role, typed in choosing.limits.items()}
    return {role: most for role, most in read.items() if most is not None}


def _tolerance(choosing: Choosing) -> float:
    return (number_typed("May differ by", choosing.tolerance, 0, 50) or 0) / 100


def _take(book: Book, run: ManyRun, line: Any) -> None:  # noqa: ANN401 — what the page sent
    """Take what a line chooses into the design; all else of the design stays as it is."""
    found = run.design(line if isinstance(line, int) else 0)
    book.change(
        book.design.but(
            motif=found.motif,
            gauge=found.gauge,
            across=found.across,
            up=found.up,
            laying="straight",
            surround=found.surround,
            reversible=found.reversible,
        ),
        f"line {line} of many",
    )
    book.say(f"Line {line} is the design now: {book.design.summary}.")


def _save(book: Book, desk: ManyDesk, ending: str) -> None:
    """Begin to save the table; the page asks for part after part, and a short one has one only."""
    if ending not in tables.TABLE_ENDINGS:
        raise OptionError(f"A table is saved as {' or '.join(tables.TABLE_ENDINGS)}.")
    run = _run_of(desk)
    if not len(run.table):
        raise OptionError("There is no line to save.")
    file = book.folder / f"{file_name(run.title)}-many{ending}"
    desk.saving = TableSaving(tables.TableFile(run.table, ending), file, run.title)
    PANEL.part(book)


PANEL = ManyPanel()
