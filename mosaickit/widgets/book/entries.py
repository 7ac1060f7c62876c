"""Entries: how each decision of a design is asked for, in the words of the trade, and how what was entered is read.

A panel names the decisions it asks for; the page shows a control for each, and sends back the name and what was
entered. Whether that can be is the design's to say: its sentence is shown beside the control.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from mosaickit.cures import Cure
from mosaickit.errors import MosaickitError, OptionError
from mosaickit.gauge import Gauge
from mosaickit.sizes import LEVELS, Design, NamedSize
from mosaickit.widgets.book.edges import EDGE_ENTRIES
from mosaickit.widgets.book.entry import Entry
from mosaickit.widgets.book.selling import LABEL_WORDS, SELLING, lines_of, of_label

USUAL_GAUGE = Gauge(16, 17)
"""What a design has the proportion of until its gauge is known."""


def _of_gauge(name: str) -> dict[str, Any]:
    """Read and put one value of the gauge; one that is not known begins as the usual one."""

    def read(design: Design) -> object:
        return None if design.gauge is None else getattr(design.gauge, name)

    def put(design: Design, value: object) -> Design:
        changes: dict[str, Any] = {name: value}
        return design.but(gauge=replace(design.gauge or USUAL_GAUGE, **changes))

    return {"read": read, "put": put}


def _measured(which: int) -> dict[str, Any]:
    """Read and put the length over which stitches (0) or rows (1) were counted: one for both, or one for each."""

    def read(design: Design) -> object:
        if design.gauge is None:
            return None
        over = design.gauge.over
        return over[which] if isinstance(over, tuple) else None if which else over

    def put(design: Design, value: object) -> Design:
        gauge = design.gauge or USUAL_GAUGE
        over: list[Any] = list(gauge.over) if isinstance(gauge.over, tuple) else [gauge.over, None]
        over[which] = value
        both: Any = over[0] if over[1] is None else tuple(over)
        return design.but(gauge=replace(gauge, over=both))

    return {"read": read, "put": put}


def _percent(name: str) -> dict[str, Any]:
    """Read and put a share of the yarn settings in percent."""

    def put(design: Design, value: float) -> Design:
        if not isinstance(value, int | float):
            raise OptionError(f"{ENTRIES[name].label}: enter a number.")
        return design.but(**{name: value / 100})

    return {"read": lambda design: round(100 * getattr(design.yarn_settings, name), 6), "put": put}


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
    "gauge_over": Entry("Measured over", "number", least=0.1, most=999, **_measured(0)),
    "gauge_over_rows": Entry(
        "Rows over another length",
        "number",
        least=0.1,
        most=999,
        empty=True,
        hint="Left empty, the same.",
        **_measured(1),
    ),
    "gauge_unit": Entry("Unit", "choice", options=(("cm", "cm"), ("in", "inches")), **_of_gauge("unit")),
    "gauge_blocked": Entry("Blocked before it was measured", "tick", **_of_gauge("blocked")),
    "hook_mm": Entry("Hook", "number", least=0.5, most=50, unit="mm", empty=True),
    # yarn
    "yarn_mm": Entry(
        "Thickness of the yarn",
        "number",
        least=0.1,
        most=50,
        unit="mm",
        empty=True,
        hint="25.4 divided by the wraps to the inch. Left empty, a third of a stitch's width.",
    ),
    "by_thread": Entry(
        "Yarn in a stitch",
        "choice",
        options=((False, "estimated from the gauge"), (True, "measured along the drawn thread")),
    ),
    "tail_cm": Entry("Tails", "number", least=0, most=1000, unit="cm each"),
    "ease": Entry(
        "Ease of a carried strand",
        "number",
        least=0,
        most=1000,
        unit="%",
        hint="By how much it is longer than the way it goes.",
        **_percent("ease"),
    ),
    "margin": Entry(
        "Buy at least this much more",
        "number",
        least=0,
        most=1000,
        unit="%",
        hint="On top of the likely amount, where the upper end of the range is nearer.",
        **_percent("margin"),
    ),
    # words
    "title": Entry(
        "Title", "line", hint="Left empty, it is the name of the motif.", read=lambda design: design.words.title
    ),
    "designer": Entry("Designer", "line"),
    "motif_name": Entry("Name of the motif", "line", **_of_motif("name", lambda motif, value: motif.named(value))),
    "terms": Entry("Terms", "choice", options=(("US", "US"), ("UK", "UK"))),
    "phrasing": Entry(
        "Rows in words",
        "choice",
        options=(("natural", "by the motif's repeats"), ("shortest", "in the fewest characters")),
    ),
    "level": Entry("Level", "choice", options=((None, "not said"), *((each, each) for each in LEVELS))),
    "intro": Entry("Introduction", "text", hint="An empty line begins a new paragraph."),
    "notes": Entry(
        "Notes",
        "text",
        hint="A line each.",
        read=lambda design: "\n".join(design.words.notes),
        put=lambda design, value: design.but(notes=lines_of(value)),
    ),
    "sizes": Entry(
        "Sizes",
        "text",
        hint="A line each, the smallest first, as S: 4 repeats across, 6 up, or M: 20 cm wide, 160 cm long.",
        read=lambda design: "\n".join(map(str, design.sizes)),
        put=lambda design, value: design.but(sizes=[NamedSize.from_text(line) for line in lines_of(value)]),
    ),
    "for_children": Entry("For a child", "tick", hint="The cautions about what children wear are then printed."),
    **EDGE_ENTRIES,
    **SELLING,
}


def entry_of(name: str) -> Entry:
    """Give how a decision is asked for: one of `ENTRIES`, or one of a yarn's label, as `label_entries` names them.

    Raises
    ------
    OptionError
        If there is no such entry.
    """
    label = re.fullmatch(r"label(\d+)_(\w+)", name)
    if label and label[2] in LABEL_WORDS:
        return of_label(int(label[1]), label[2])
    if name not in ENTRIES:
        raise OptionError(f"A design has no entry {name!r}.")
    return ENTRIES[name]


def shown(design: Design, names: Sequence[str]) -> list[dict[str, Any]]:
    """Give what the page shows of some entries: how each is asked for, and the value that the design has."""
    return [_shown(design, name, entry_of(name)) for name in names]


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
    entry = entry_of(name)
    if entry.kind == "choice" and value not in [option for option, _ in entry.options]:
        raise OptionError(f"{entry.label} must be one of those to be chosen; got {value!r}.")
    if value is None and not entry.empty and entry.kind != "choice":
        raise OptionError(f"{entry.label}: enter a number.")
    try:
        return entry.put(design, value) if entry.put else design.but(**{name: value})
    except MosaickitError as error:
        raise OptionError(in_labels(str(error))) from None


HAND_WORDS = {
    "autosave": "the file that every step is kept in",
    "changed": "What changed",
    "gauge": "Gauge",
    "height": "Length",
    "lengths": "Lengths of your own",
    "length": "Length",
    "motif": "Motif",
    "name": "Name",
    "over": "Measured over",
    "rows": "Rows",
    "sheet": "Page",
    "skeins": "Skeins",
    "stitches": "Stitches",
    "swatches": "Swatches",
    "tolerance": "May differ by",
    "unit": "Unit",
    "width": "Width",
    "width_cm": "Width",
    "yarns": "Yarns",
}
"""What names of the library are called where a hand enters them that are no entries."""

_FOR_CODE = {
    ": give `format='png'`.": ". Rename it so that its name ends in .png.",
    " Give yarns for more rows to the finished picture, with `with_yarns`.": "",
    "`mk.nearest_workable` finds the nearest that can": "“Mend” finds the nearest that can",
    "; `mk.nearest_workable` mends a motif.": ". “Mend” mends the motif.",
    " must be True or False": " must be yes or no",
    " or None; got": "; got",
}
"""Parts of sentences that help in code only, and what helps a hand."""


def in_labels(sentence: str) -> str:
    """Write a sentence of the library with the words that a hand sees instead of the names that Python has.

    Examples
    --------
    >>> in_labels("`rows_below` must be a whole number from 0 to 10,000; got -1.")
    '"Plain rows below" must be a whole number from 0 to 10,000; got -1.'
    >>> in_labels("`with_two` goes with `mk.half_turn` only.")
    '"with two" goes with "half turn" only.'
    """
    for code, words in _FOR_CODE.items():
        sentence = sentence.replace(code, words)
    return re.sub("`([^`]+)`", lambda name: f'"{_word_for(name[1])}"', sentence)


def _word_for(name: str) -> str:
    """Give what a hand knows a name by; other code is left as it is."""
    if name in ENTRIES:
        return ENTRIES[name].label
    if name in LABEL_WORDS:
        return LABEL_WORDS[name]
    plain = name.removeprefix("mk.")
    return HAND_WORDS.get(name, plain.replace("_", " ") if re.fullmatch(r"[\w.]+", plain) else name)


def _value(design: Design, name: str, entry: Entry) -> Any:  # noqa: ANN401 — what an entry is of
    if entry.read:
        return entry.read(design)
    homes = (design, design.surround, design.finish, design.yarn_settings, design.words, design.publishing)
    return next(getattr(home, name) for home in homes if hasattr(home, name))


def cures_by_hand(cures: Sequence[Cure]) -> str:
    """Say what makes a piece workable in the words of its entries; "" if nothing was found.

    Examples
    --------
    >>> cures_by_hand([Cure({"colours": "swap"}), Cure({"rows_above": 1}, mend=True)])
    'Set “Every second repeat up” to “swaps its colours”. Or mend the picture and set “Plain rows above” to 1.'
    """
    said = []
    for cure in cures:
        parts = ["mend the picture"] if cure.mend else []
        parts += [
            f"set “{ENTRIES[name].label}” to {_option_word(ENTRIES[name], value)}"
            for name, value in cure.options.items()
        ]
        said.append(" and ".join(parts))
    return " ".join(
        f"{'Or ' if at else ''}{each if at else each[:1].upper() + each[1:]}." for at, each in enumerate(said)
    )


def _option_word(entry: Entry, value: object) -> str:
    return next((f"“{word}”" for option, word in entry.options if option == value), f"{value}")
