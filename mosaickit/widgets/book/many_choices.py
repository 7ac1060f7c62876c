"""What can be ticked on the panel Many: motifs, gauges, sizes, frames and edges, and how many combinations there are.

Nothing here is part of the design: what is ticked and added lies beside its workbook, as what is typed on Lay does, and
comes back with it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field, replace
from math import prod
from pathlib import Path
from typing import Any

from mosaickit.errors import MosaickitError, OptionError, number_of
from mosaickit.gauge import Gauge, Unit
from mosaickit.orientation import ROLES
from mosaickit.sizes import Design, Surround, all_designs, design_from_json, design_in, design_to_json
from mosaickit.widgets.book.entries import ENTRIES, USUAL_GAUGE, in_labels
from mosaickit.widgets.book.lay_typed import number_typed

MOST_RUN = 20_000
"""The most combinations that are worked out: a longer table is no help."""

MOST_OPTIONS = 200
"""The most lines in a list to tick from."""

THIS = "this design"
"""What the design of the workbook is called among the motifs."""

SIZES: dict[Unit, dict[str, tuple[int, ...]]] = {
    "cm": {"width": (15, 20, 25, 30, 45, 60, 90, 120), "length": (15, 30, 45, 60, 90, 120, 150, 180)},
    "in": {"width": (6, 8, 10, 12, 18, 24, 36, 48), "length": (6, 12, 18, 24, 36, 48, 60, 72)},
}
"""Sizes to tick, by the unit that the hand has chosen; our choice, no source."""

UNIT_WORDS: dict[Unit, str] = {"cm": "cm", "in": "inches"}


@dataclass
class Choosing:
    """What can be ticked on the panel of one workbook, and what is.

    Attributes
    ----------
    added : dict of str to list
        What was added to a list by hand, by the list's key.
    ticked : dict of str to set of str
        The keys of the lines that are ticked, by the list's key.
    tolerance : str
        By how many percent a size may differ, as it was typed.
    limits : dict of str to str
        The most skeins of MC and of CC, as they were typed.
    motifs : dict of str to Design
        What the motifs of the folder and of files that were handed in are, by name.
    notes : list of str
        What could not be read.
    unit : "cm" or "in"
        The unit of widths and lengths: that of Lay. What is ticked and added in one is not in the other.
    handed_in : dict of str to str
        The motifs that came from files of the device and not from the folder, as JSON by name.
    """

    added: dict[str, list[Any]] = field(default_factory=dict)
    ticked: dict[str, set[str]] = field(default_factory=lambda: {"motifs": {THIS}})
    tolerance: str = "5"
    limits: dict[str, str] = field(default_factory=lambda: dict.fromkeys(ROLES, ""))
    motifs: dict[str, Design] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    unit: Unit = "cm"
    handed_in: dict[str, str] = field(default_factory=dict)

    @classmethod
    def of(cls, kept: Mapping[str, Any]) -> Choosing:
        """Make what `kept` gave, or what it is at first."""
        if not kept:
            return cls()
        added = {name: [_read_value(value) for value in values] for name, values in kept["added"].items()}
        ticked = {name: set(keys) for name, keys in kept["ticked"].items()}
        motifs = {name: design_from_json(text) for name, text in kept["motifs"].items()}
        return cls(added, ticked, kept["tolerance"], kept["limits"], motifs, handed_in=dict(kept["motifs"]))

    def kept(self) -> dict[str, Any]:
        """Give what was chosen for JSON, with the motifs that were handed in."""
        return {
            "added": {name: [_kept_value(value) for value in values] for name, values in self.added.items()},
            "ticked": {name: sorted(keys) for name, keys in self.ticked.items()},
            "tolerance": self.tolerance,
            "limits": self.limits,
            "motifs": self.handed_in,
        }

    def look(self, folder: Path) -> None:
        """Read the motifs and designs of a folder; what cannot be read is said."""
        found = all_designs(folder)
        self.notes, faults = [], found.faults
        handed_in = {name: self.motifs[name] for name in self.motifs if name in self.handed_in}
        here = {file.name: file.design for file in found.files[:MOST_OPTIONS] if isinstance(file.design, Design)}
        self.motifs = here | handed_in
        if gone := sorted(self.ticked["motifs"] - {THIS} - {*self.motifs}):
            self.notes.append(f"Ticked before and not in the folder any more: {', '.join(gone)}.")
            self.ticked["motifs"] -= {*gone}
        if faults:
            some = ", ".join([*faults][:3]) + " and others" * (len(faults) > 3)
            self.notes.append(f"Files of the folder that hold no motif: {len(faults)} ({some}).")
        if len(found.files) > MOST_OPTIONS:
            self.notes.append(f"The folder has {len(found.files):,} files; the first {MOST_OPTIONS} are looked into.")

    def take_in(self, names: Sequence[str], contents: Sequence[Any]) -> int:
        """Read motifs from files that were handed in; gives how many could be read, the rest is said."""
        self.notes, read = [], 0
        for name, content in zip(names, contents, strict=True):
            try:
                self.motifs[Path(name).name] = design_in(bytes(content), Path(name).name)
            except MosaickitError as error:
                self.notes.append(in_labels(str(error)))
                continue
            self.ticked["motifs"].add(Path(name).name)
            self.handed_in[Path(name).name] = design_to_json(self.motifs[Path(name).name])
            read += 1
        return read

    def tick(self, group: str, key: str, on: bool) -> None:
        """Tick a line, or take its tick away."""
        ticked = self.ticked.setdefault(group, set())
        (ticked.add if on else ticked.discard)(key)

    def add(self, group: str, values: Mapping[str, Any], design: Design) -> None:
        """Add a line to a list, ticked; raises `OptionError` with why it cannot be."""
        if group == "gauge":
            stitches = number_typed("Stitches", str(values.get("stitches", "")), 0.1, 999)
            rows = number_typed("Rows", str(values.get("rows", "")), 0.1, 999)
            if stitches is None or rows is None:
                raise OptionError("Enter stitches and rows of the gauge.")
            value: Any = replace(design.gauge or USUAL_GAUGE, stitches=stitches, rows=rows)
        elif self.size_in(group):
            value = number_typed(self.size_in(group).capitalize(), str(values.get("size", "")), 0.1, 100_000)
            if value is None:
                raise OptionError(f"Enter a {self.size_in(group)} in {UNIT_WORDS[self.unit]}.")
        else:
            raise OptionError(f"Nothing can be added to {group!r}.")
        if len(self.added.setdefault(group, [])) >= MOST_OPTIONS:
            raise OptionError(f"A list has at most {MOST_OPTIONS} lines.")
        if value not in self.added[group]:
            self.added[group].append(value)
        self.tick(group, key_of(value), True)

    def size_in(self, group: str) -> str:
        """Say which size a list is of, in the unit of now; empty if of none."""
        return next((size for size in SIZES[self.unit] if group == self.key_of_sizes(size)), "")

    def key_of_sizes(self, size: str) -> str:
        """Give the key of the list of a size in the unit of now."""
        return size if self.unit == "cm" else f"{size} in inches"

    # ---- the lists -----------------------------------------------------------------------------------------

    def groups(self, design: Design) -> dict[str, tuple[str, dict[str, Any]]]:
        """Give each list: its heading, and its values by their keys, in their order."""
        gauge = design.gauge or USUAL_GAUGE
        nearby = [
            replace(gauge, stitches=gauge.stitches + n, rows=gauge.rows + n) for n in (-1, 1) if _more_than_one(gauge)
        ]
        flat = not design.surround.in_the_round
        lists: dict[str, tuple[str, Sequence[Any]]] = {
            "gauge": ("Gauges", [gauge, *nearby]),
            **{
                self.key_of_sizes(size): (f"{size.capitalize()}s in {UNIT_WORDS[self.unit]}", values)
                for size, values in SIZES[self.unit].items()
            },
            "rings": ("Rings of the frame", range(4) if flat else ()),
            "edges": ("Edge stitches", range(1, 5) if flat else ()),
            "colours": ("Every second repeat up", ("keep", "swap")),
            "reversible": ("Fabric", (False, True)),
        }
        groups = {"motifs": ("Motifs", {THIS: design} | self.motifs)}
        for name, (word, values) in lists.items():
            every = {key_of(value): value for value in (*values, *self.added.get(name, ()))}
            if every:
                groups[name] = (word, every)
        return groups

    def chosen(self, design: Design) -> dict[str, dict[str, Any]]:
        """Give what is ticked of each kind; where nothing is, what the design has."""
        chosen = {}
        own = {"gauge": design.gauge or USUAL_GAUGE, "reversible": design.reversible}
        own |= {
            "rings": design.surround.rings,
            "edges": design.surround.edge_stitches,
            "colours": design.surround.colours,
        }
        for name, (_, every) in self.groups(design).items():
            ticked = {key: value for key, value in every.items() if key in self.ticked.get(name, ())}
            if not ticked and name in own:
                ticked = {key_of(own[name]): own[name]}
            chosen[self.size_in(name) or name] = ticked
        return chosen

    def view(self, design: Design) -> dict[str, Any]:
        """Give the lists as the page shows them, and how many combinations there are."""
        groups = [
            {
                "key": name,
                "word": word,
                "adds": name if name == "gauge" or self.size_in(name) else "",
                "options": [
                    {"key": key, "word": _said(name, value, key), "on": key in self.ticked.get(name, ())}
                    for key, value in every.items()
                ],
            }
            for name, (word, every) in self.groups(design).items()
        ]
        count = number_of_all(self.chosen(design))
        said = f"{number_of(count, 'combination')}."
        if not count:
            said = "Tick at least one motif."
        elif count > MOST_RUN:
            said = f"{count:,} combinations are more than the {MOST_RUN:,} that are worked out: take some ticks away."
        units = [[unit, word] for unit, word in UNIT_WORDS.items()]
        return {
            "unit": self.unit,
            "units": units,
            "groups": groups,
            "counted": said,
            "count": count,
            "can": 0 < count <= MOST_RUN,
            "notes": self.notes,
        }


def _kept_value(value: Gauge | float) -> dict[str, Any] | float:
    return asdict(value) if isinstance(value, Gauge) else value


def _read_value(value: dict[str, Any] | float) -> Gauge | float:
    if not isinstance(value, dict):
        return value
    over = value["over"]
    return Gauge(**value | {"over": tuple(over) if isinstance(over, list) else over})


def number_of_all(chosen: Mapping[str, Mapping[str, Any]]) -> int:
    """Count the combinations: where no size is ticked, the repeats of the design are one."""
    if not chosen["motifs"]:
        return 0
    return prod(max(len(values), 1) for values in chosen.values())


def surrounds_of(design: Design, chosen: Mapping[str, Mapping[str, Any]]) -> tuple[Surround, ...]:
    """Give what stands around the repeats in every combination; what cannot be ticked is that of the design."""
    own = design.surround
    return Surround.each(
        balance_across=own.balance_across,
        balance_up=own.balance_up,
        rings=list(chosen["rings"].values()) if "rings" in chosen else own.rings,
        edges=list(chosen["edges"].values()) if "edges" in chosen else own.edges,
        rows_below=own.rows_below,
        rows_above=own.rows_above,
        colours=list(chosen["colours"].values()),
        in_the_round=own.in_the_round,
    )


def key_of(value: object) -> str:
    """Give the key of a line: the value as it is written."""
    if isinstance(value, Gauge):
        return value.sentence
    return f"{value:g}" if isinstance(value, float | int) and not isinstance(value, bool) else str(value)


def _said(group: str, value: Any, key: str) -> str:  # noqa: ANN401 — a line of any list
    if isinstance(value, Gauge):
        return value.sentence.removeprefix("Gauge: ")
    if group == "motifs":
        rows, stitches = value.motif.shape
        return f"{key}, {rows} × {stitches}"
    options = ENTRIES[group].options if group in ENTRIES else ()
    return next((word for option, word in options if option is value or option == value), key)


def _more_than_one(gauge: Gauge) -> bool:
    return min(gauge.stitches, gauge.rows) > 1
