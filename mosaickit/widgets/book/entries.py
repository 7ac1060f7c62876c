"""Entries: how each decision of a design is asked for, in the words of the trade, and how what was entered is read.

A panel names the decisions it asks for; the page shows a control for each, and sends back the name and what was
entered. Whether that can be is the design's to say: its sentence is shown beside the control.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from mosaickit.errors import MosaickitError, OptionError
from mosaickit.gauge import Gauge
from mosaickit.sizes import LEVELS, Design

Kind = Literal["choice", "count", "number", "line", "text", "tick"]
"""What is entered: one of several, a whole number, a number, a line of text, several lines, yes or no."""

USUAL_GAUGE = Gauge(16, 17)
"""What a design has the proportion of until its gauge is known."""


@dataclass(frozen=True)
class Entry:
    """How one decision is asked for.

    Attributes
    ----------
    label : str
        What it is called.
    kind : str
        What is entered.
    options : tuple of (value, str)
        What can be chosen, and what each is called.
    least, most : float, optional
        Bounds of a number.
    unit : str
        What a number counts; "" if the label says it.
    hint : str
        What more there is to know.
    empty : bool
        Whether it may be left empty, which is then None.
    read : function, optional
        Gives the value that a design has; that of the field of this name if left out.
    put : function, optional
        Gives a design with another value; changes the field of this name if left out.
    """

    label: str
    kind: Kind
    options: tuple[tuple[Any, str], ...] = ()
    least: float | None = None
    most: float | None = None
    unit: str = ""
    hint: str = ""
    empty: bool = False
    read: Callable[[Design], Any] | None = None
    put: Callable[[Design, Any], Design] | None = None


def _of_gauge(name: str) -> dict[str, Any]:
    """Read and put one value of the gauge; one that is not known begins as the usual one."""

    def read(design: Design) -> object:
        return None if design.gauge is None else getattr(design.gauge, name)

    def put(design: Design, value: object) -> Design:
        changes: dict[str, Any] = {name: value}
        return design.but(gauge=replace(design.gauge or USUAL_GAUGE, **changes))

    return {"read": read, "put": put}


def _of_motif(name: str, put: Callable[[Any, Any], Any]) -> dict[str, Any]:
    return {
        "read": lambda design: getattr(design.motif, name),
        "put": lambda design, value: design.but(motif=put(design.motif, value)),
    }


ENTRIES: dict[str, Entry] = {
    # how the motif is laid
    "across": Entry("Repeats across", "count", least=1, most=999),
    "up": Entry("Repeats up", "count", least=1, most=999),
    "laying": Entry(
        "Laid",
        "choice",
        options=(("straight", "straight"), ("brick", "brick"), ("half-drop", "half-drop"), ("mirrored", "mirrored")),
        hint="Brick shifts every second band by half a repeat, half-drop every second column.",
    ),
    "seam": Entry(
        "At a mirror line",
        "choice",
        options=(("double", "row and column stand twice"), ("shared", "row and column stand once")),
    ),
    "colours": Entry(
        "Every second repeat up",
        "choice",
        options=(("keep", "keeps its colours"), ("swap", "swaps its colours")),
        hint="A repeat of an odd number of rows lands on the other row colours; swapping keeps it workable.",
    ),
    "balance_across": Entry("Stitches that close each row", "count", least=0, most=999),
    "balance_up": Entry("Rows that close the piece", "count", least=0, most=999),
    "rings": Entry("Rings of the frame", "count", least=0, most=99),
    "edges": Entry("Edge stitches at each side", "count", least=0, most=99, empty=True, hint="Left empty, there is 1."),
    "rows_below": Entry("Plain rows below", "count", least=0, most=999),
    "rows_above": Entry("Plain rows above", "count", least=0, most=999),
    # the fabric
    "reversible": Entry("Fabric", "choice", options=((False, "plain"), (True, "reversible"))),
    "in_the_round": Entry("Worked", "choice", options=((False, "flat"), (True, "in the round"))),
    "between_rows": Entry("Yarn between rows", "choice", options=(("carried", "carried"), ("cut", "cut"))),
    "hand": Entry("Hand", "choice", options=(("right", "right"), ("left", "left"))),
    # gauge and hook
    "gauge_stitches": Entry("Stitches", "number", least=0.1, most=999, **_of_gauge("stitches")),
    "gauge_rows": Entry("Rows", "number", least=0.1, most=999, **_of_gauge("rows")),
    "gauge_over": Entry("over", "number", least=0.1, most=999, **_of_gauge("over")),
    "gauge_unit": Entry("Unit", "choice", options=(("cm", "cm"), ("in", "inches")), **_of_gauge("unit")),
    "hook_mm": Entry("Hook", "number", least=0.5, most=50, unit="mm", empty=True),
    # yarn
    "yarn_mm": Entry("Thickness of the yarn", "number", least=0.1, most=50, unit="mm", empty=True),
    "tail_cm": Entry("Tails", "number", least=0, most=500, unit="cm each"),
    # words
    "title": Entry("Title", "line"),
    "designer": Entry("Designer", "line"),
    "motif_name": Entry("Name of the motif", "line", **_of_motif("name", lambda motif, value: motif.named(value))),
    "terms": Entry("Terms", "choice", options=(("US", "US"), ("UK", "UK"))),
    "level": Entry("Level", "choice", options=((None, "not said"), *((each, each) for each in LEVELS))),
    "intro": Entry("Introduction", "text", hint="An empty line begins a new paragraph."),
    "notes": Entry(
        "Notes",
        "text",
        hint="A line each.",
        read=lambda design: "\n".join(design.words.notes),
        put=lambda design, value: design.but(notes=[line.strip() for line in value.splitlines() if line.strip()]),
    ),
    "for_children": Entry("For a child", "tick", hint="The cautions about what children wear are then printed."),
}


def shown(design: Design, names: Sequence[str]) -> list[dict[str, Any]]:
    """Give what the page shows of some entries: how each is asked for, and the value that the design has."""
    return [_shown(design, name, ENTRIES[name]) for name in names]


def _shown(design: Design, name: str, entry: Entry) -> dict[str, Any]:
    return {
        "name": name,
        "label": entry.label,
        "kind": entry.kind,
        "options": [list(option) for option in entry.options],
        "least": entry.least,
        "most": entry.most,
        "unit": entry.unit,
        "hint": entry.hint,
        "empty": entry.empty,
        "value": _value(design, name, entry),
    }


def entered(design: Design, name: str, value: object) -> Design:
    """Give the design with what was entered for one decision.

    Raises
    ------
    MosaickitError
        If there is no such entry, it is none of its options, or the design cannot have it.
    """
    if name not in ENTRIES:
        raise OptionError(f"A design has no entry {name!r}.")
    entry = ENTRIES[name]
    if entry.kind == "choice" and value not in [option for option, _ in entry.options]:
        raise OptionError(f"{entry.label} must be one of those to be chosen; got {value!r}.")
    if value is None and not entry.empty and entry.kind != "choice":
        raise OptionError(f"{entry.label}: enter a number.")
    try:
        return entry.put(design, value) if entry.put else design.but(**{name: value})
    except MosaickitError as error:
        raise OptionError(in_labels(str(error))) from None


def in_labels(sentence: str) -> str:
    """Write a sentence of the library with the labels of entries instead of the names that Python has for them.

    Examples
    --------
    >>> in_labels("`rows_below` must be a whole number from 0 to 10,000; got -1.")
    '"Plain rows below" must be a whole number from 0 to 10,000; got -1.'
    """

    def label(name: re.Match[str]) -> str:
        return f'"{ENTRIES[name[1]].label}"' if name[1] in ENTRIES else name[0]

    return re.sub(r"`(\w+)`", label, sentence)


def _value(design: Design, name: str, entry: Entry) -> Any:  # noqa: ANN401 — what an entry is of
    if entry.read:
        return entry.read(design)
    homes = (design, design.surround, design.yarn_settings, design.words)
    return next(getattr(home, name) for home in homes if hasattr(home, name))
