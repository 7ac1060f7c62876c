"""A run of the panel Many: every combination worked out a slice at a time, and the lines that came of it.

A slice is one motif at one gauge, handed to `mk.sweep`. The page asks for one after the other, so that it can show how
far it is and stop between any two; what is done stays.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from mosaickit.batches import Batch
from mosaickit.doors import late
from mosaickit.errors import MosaickitError, OptionError, number_of
from mosaickit.gauge import CM_PER_INCH, Gauge, Unit
from mosaickit.sizes import Design, Surround, Sweep, sweep
from mosaickit.widgets.book.entries import in_labels
from mosaickit.widgets.book.ledger import squares_of_motif
from mosaickit.widgets.book.many_choices import number_of_all, surrounds_of

if TYPE_CHECKING:
    import pandas as pd
else:
    pd = late("pandas")

MOST_LINES = 100_000
"""The most lines of a run: each combination has one for every count of repeats that comes near."""

MOST_DRAWN = 400_000
"""The most squares in the pictures of all lines shown together; lines after that have no picture."""

COLUMNS = {
    "motif": "Motif",
    "gauge": "Gauge",
    "rings": "Rings",
    "edges": "Edge stitches",
    "colours": "Every second repeat up",
    "reversible": "Fabric",
    "wanted width cm": "Wanted width (cm)",
    "wanted length cm": "Wanted length (cm)",
    "repeats across": "Across",
    "repeats up": "Up",
    "width cm": "Width (cm)",
    "length cm": "Length (cm)",
    "width off percent": "Width off (%)",
    "length off percent": "Length off (%)",
    "stitches": "Stitches",
    "rows": "Rows",
    "yarn m": "Yarn (m)",
    "skeins": "Skeins",
    "MC skeins": "Skeins of MC",
    "CC skeins": "Skeins of CC",
    "minutes": "Minutes",
}
"""The columns that the page shows, of those that there are, and what each is called; the file has all."""

DIFFERING = ("motif", "gauge", "rings", "edges", "colours", "reversible", "wanted width cm", "wanted length cm")
"""Of these, a column is shown only where lines differ in it."""


@dataclass
class ManyRun:
    """What was asked for, how far it is, and the lines.

    Attributes
    ----------
    title : str
        The title of the design that it began from.
    slices : list of (str, Design, Gauge)
        What is still to be done: a motif's name, the design with it, and a gauge.
    of : int
        How many slices there were.
    swept : list of Sweep
        What is done.
    notes : list of str
        What could not be worked out, and why.
    """

    title: str
    slices: list[tuple[str, Design, Gauge]]
    of: int
    asked: dict[str, Any]
    surrounds: tuple[Surround, ...]
    swept: list[Sweep] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    _table: pd.DataFrame | None = None

    @classmethod
    def begun(cls, design: Design, chosen: dict[str, dict[str, Any]], tolerance: float, unit: Unit) -> ManyRun:
        """Begin a run of what is ticked.

        Raises
        ------
        OptionError
            If there is nothing to work out, or the design's repeats are not laid straight.
        """
        if not number_of_all(chosen):
            raise OptionError("Tick at least one motif.")
        if design.laying != "straight":
            raise OptionError("Many pieces are laid straight: on Lay, choose straight first.")
        sizes = {name: list(chosen[name].values()) or None for name in ("width", "length")}
        counts = {"across": None if sizes["width"] else design.across, "up": None if sizes["length"] else design.up}
        slices = [
            (name, design.but(motif=one.motif), gauge)
            for name, one in chosen["motifs"].items()
            for gauge in chosen["gauge"].values()
        ]
        asked = {
            **sizes,
            **counts,
            "reversible": list(chosen["reversible"].values()),
            "tolerance": tolerance,
            "unit": unit,
        }
        return cls(design.title, slices, len(slices), asked, surrounds_of(design, chosen))

    def step(self) -> None:
        """Work out the next slice; what cannot be is said, and the rest goes on."""
        if not self.slices:
            return
        name, design, gauge = self.slices.pop(0)
        try:
            swept = sweep(
                {name: design},
                [gauge],
                surrounds=self.surrounds,
                yarn_settings=[design.yarn_settings],
                batch=Batch(progress=False),
                **self.asked,
            )
        except MosaickitError as error:
            self.notes.append(f"{name}: {in_labels(str(error))}")
            return
        self.swept.append(swept)
        self._table = None
        if sum(map(len, self.swept)) > MOST_LINES and self.slices:
            self.notes.append(f"Stopped at {MOST_LINES:,} lines; {number_of(len(self.slices), 'part')} not worked out.")
            self.slices.clear()

    @property
    def table(self) -> pd.DataFrame:
        """All lines so far, numbered from 1."""
        if self._table is None:
            tables = [swept.table for swept in self.swept]
            table = pd.concat(tables, ignore_index=True) if tables else pd.DataFrame()
            table.index = pd.RangeIndex(1, len(table) + 1, name="line")
            self._table = table
        return self._table

    @property
    def counts_skeins(self) -> bool:
        """Whether it was known, when it began, what a skein holds."""
        return "skeins" in self.table

    def design(self, line: int) -> Design:
        """Give the design of a line, from 1.

        Raises
        ------
        OptionError
            If there is no such line.
        """
        left = line
        for swept in self.swept:
            if 1 <= left <= len(swept):
                return swept.design(left)
            left -= len(swept)
        raise OptionError("There is no such line any more. Choose again.")

    # ---- what is shown -------------------------------------------------------------------------------------

    def view(self, by: str, down: bool, most: int, limits: dict[str, int]) -> dict[str, Any]:
        """Give how far it is, and the first lines, sorted by a column.

        Those whose size is off by more than the tolerance come after the others, then those that take more skeins of MC
        or CC than `limits` says, and last those that cannot be worked.
        """
        table = self.table
        shown: dict[str, Any] = {"done": self.of - len(self.slices), "of": self.of, "notes": self.notes[:12]}
        if not len(table):
            return shown | {
                "said": "No line yet." if self.slices else "Nothing came of it.",
                "columns": [],
                "lines": [],
                "more": 0,
            }
        columns = [
            name
            for name in COLUMNS
            if name in table and not (name in DIFFERING and table[name].nunique(dropna=False) < 2)
        ]
        by = by if by in columns else next((name for name in columns if name.endswith("percent")), "yarn m")
        key = table[by].abs() if by.endswith("percent") else table[by]
        over, good = pd.Series(False, index=table.index), table["can be worked"]
        known = limits if self.counts_skeins else {}
        for role, limit in known.items():
            over |= table[f"{role} skeins"] > limit
        near = table.get("within tolerance", pd.Series(True, index=table.index))
        best = good & near & ~over
        order = pd.DataFrame({"cannot": ~good, "over": over, "off": ~near, "key": key}).sort_values(
            ["cannot", "over", "off", "key"], ascending=[True, True, True, not down], kind="stable"
        )
        first = [int(line) for line in order.index[:most]]
        said = f"{number_of(len(table), 'line')}, {int(good.sum()):,} of them can be worked."
        if "within tolerance" in table:
            percent = f"{100 * self.asked['tolerance']:g}%"
            lines, close = number_of(len(table), "line"), int((good & near).sum())
            said = f"{lines}: {int(good.sum()):,} can be worked, and {close:,} of those are within {percent}."
        if known:
            said += f" For {int(best.sum()):,} of these there are skeins enough."
        if best.any() and not best.all():
            said += " They come first, whatever the table is sorted by."
        if limits and not known:
            said += " To count their skeins, work them out again."
        return shown | {
            "said": said,
            "by": by,
            "down": down,
            "columns": [{"key": name, "word": self._word(name)} for name in columns],
            "lines": self._lines(first, columns, known),
            "more": len(table) - len(first),
        }

    def _word(self, column: str) -> str:
        return COLUMNS[column].replace("(cm)", f"({self.asked['unit']})")

    def _cell(self, column: str, value: Any) -> str:  # noqa: ANN401 — a cell of any column
        inches = column.endswith(" cm") and self.asked["unit"] == "in"
        return _written(column, value / CM_PER_INCH if inches else value)

    def _lines(self, numbers: list[int], columns: list[str], limits: dict[str, int]) -> list[dict[str, Any]]:
        left, lines = MOST_DRAWN, []
        for number in numbers:
            row: Any = self.table.loc[number]
            squares, drawn = int(row["stitches"]) * int(row["rows"]), None
            if row["can be worked"] and squares <= left:
                left -= squares
                design = self.design(number)
                drawn = squares_of_motif(design.picture, design, word="", about=f"Line {number}")
            lines.append(
                {
                    "line": number,
                    "cells": [self._cell(name, row[name]) for name in columns],
                    "why": str(row["why not"]),
                    "over": "; ".join(
                        f"{number_of(int(row[f'{role} skeins']), 'skein')} of {role}, {limit} at most"
                        for role, limit in limits.items()
                        if row[f"{role} skeins"] > limit
                    ),
                    "picture": drawn,
                }
            )
        return lines


def _written(column: str, value: Any) -> str:  # noqa: ANN401 — a cell of any column
    if column == "reversible":
        return "reversible" if value else "plain"
    if column == "colours":
        return {"keep": "keeps its colours", "swap": "swaps its colours"}[value]
    if column == "gauge":
        return str(value).removeprefix("Gauge: ")
    if isinstance(value, str):
        return value
    if pd.isna(value):
        return "–"
    if column.endswith("percent"):
        return f"{value:+.1f}"
    return f"{value:.1f}" if column.endswith(" cm") else f"{value:,.0f}"
