"""Comparing: what differs between two designs, in decisions and in all that follows from them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import number_of, of_kind
from mosaickit.fabric import Stitch
from mosaickit.motif import Motif, read_only
from mosaickit.orientation import ROLES, to_working
from mosaickit.sizes.designs.changing import PARTS_OF_DESIGN
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.designs.publishing import YarnLabel
from mosaickit.yarn import Skein, StitchLengths

MOST_NAMED = 12
"""So many squares and rows are named in a sentence; the rest are counted."""

FIELD_WORDS = {
    "gauge": "gauge",
    "across": "repeats across",
    "up": "repeats up",
    "laying": "laid",
    "seam": "rows and columns at a mirror line",
    "bands": "bands",
    "reversible": "reversible",
    "hand": "hand",
    "by_thread": "lengths measured along the thread",
    "swatches": "swatches",
    "hook_mm": "hook",
    "sizes": "sizes",
    "photographs": "photographs",
    "editions": "editions kept",
    "balance_across": "stitches that close each row",
    "balance_up": "rows that close the piece",
    "rings": "rings of the frame",
    "edges": "edge stitches at each side",
    "rows_below": "plain rows below",
    "rows_above": "plain rows above",
    "colours": "colours of every second repeat up",
    "in_the_round": "in the round",
    "strip": "mosaic border",
    "strip_start": "stitch of its strip in the corners",
    "foundation": "foundation",
    "ends": "ends",
    "fringe_cm": "fringe",
    "tails_a_knot": "tails in a knot",
    "added_strands": "strands added at a knot",
    "trimmed": "fringe trimmed",
    "border_rounds": "rounds of the border",
    "border_along": "border along",
    "border_corner": "corners of the border",
    "border_ratio": "picked up for the border",
    "crab_stitch": "crab stitch",
    "finish_colour": "colour of border and added strands",
    "between_rows": "yarn between rows",
    "yarn_mm": "thickness of the yarn",
    "lengths": "lengths of your own",
    "skeins": "skeins",
    "tail_cm": "tails",
    "ease": "ease of carried strands",
    "margin": "margin to buy",
    "title": "title",
    "designer": "designer",
    "terms": "terms",
    "phrasing": "phrasing of the rows",
    "level": "level",
    "intro": "introduction",
    "notes": "notes",
    "for_children": "for children",
    "contact": "contact",
    "copyright_line": "copyright",
    "licence_line": "licence",
    "edition_line": "edition",
    "published": "day of the edition",
    "errata": "address of corrections",
    "language": "language of the page",
    "gauge_stitch": "stitch of the gauge",
    "notions": "notions",
    "finishing": "finishing",
    "blocking": "blocking",
    "unblocked_cm": "measured before blocking",
    "blocked_cm": "measured after blocking",
    "labels": "labels of the yarns",
}
"""What the decisions are called in a sentence."""

_UNITS = {"hook_mm": " mm", "yarn_mm": " mm", "tail_cm": " cm", "fringe_cm": " cm"}


class DesignDifference(NamedTuple):
    """One thing that differs, as words of both sides."""

    what: str
    before: str
    after: str

    def __str__(self) -> str:
        return f"{self.what}: {self.before or 'none'}, now {self.after or 'none'}"


@dataclass(frozen=True, repr=False)
class Comparison:
    """What differs between two designs; `str` says it in words.

    Attributes
    ----------
    before, after : Design
        The two.
    """

    before: Design
    after: Design

    @property
    def same(self) -> bool:
        """Whether nothing differs."""
        return self.before == self.after

    @cached_property
    def decisions(self) -> tuple[DesignDifference, ...]:
        """What was decided otherwise, but for the squares of the motif."""
        motifs = self.before.motif, self.after.motif
        found = [
            _difference("motif", *(motif.name for motif in motifs)),
            _difference("size of the motif", *map(_size_in_words, motifs)),
            _difference("colour of row 1", *(motif.first for motif in motifs)),
            _difference("yarns", *(", ".join(_yarns(motif)) for motif in motifs)),
        ]
        for each in fields(Design):
            values = getattr(self.before, each.name), getattr(self.after, each.name)
            if each.name in PARTS_OF_DESIGN:
                for inner in fields(PARTS_OF_DESIGN[each.name]):
                    found.append(_difference(inner.name, *(getattr(value, inner.name) for value in values)))
            elif each.name != "motif":
                found.append(_difference(each.name, *values))
        return tuple(each for each in found if each is not None)

    @cached_property
    def squares(self) -> NDArray[np.bool_] | None:
        """Which squares of the motif show another colour, (R, C) as seen; None if the motifs differ in size."""
        one, other = self.before.motif, self.after.motif
        return read_only(one.grid ^ other.grid) if one.shape == other.shape else None

    @cached_property
    def figures(self) -> tuple[DesignDifference, ...]:
        """What comes out otherwise: size, stitches, yarn and skeins of each colour, where both can tell."""
        before, after = (dict(_figures(design)) for design in (self.before, self.after))
        can_tell = [design.layout.workable and design.gauge is not None for design in (self.before, self.after)]
        # where only one can tell of stitches and yarn, all of it would be said to be new
        names = dict.fromkeys([*before, *after] if all(can_tell) else [name for name in before if name in after])
        found = (DesignDifference(name, before.get(name, ""), after.get(name, "")) for name in names)
        return tuple(each for each in found if each.before != each.after)

    @cached_property
    def rows(self) -> tuple[int, ...]:
        """The rows whose words changed, or that only one of the two has; empty if one cannot be worked."""
        if not (self.before.layout.workable and self.after.layout.workable):
            return ()
        one, other = self.before.rows.by_row, self.after.rows.by_row
        most = max(len(one), len(other))
        return tuple(row for row in range(1, most + 1) if one[row - 1 : row] != other[row - 1 : row])

    @property
    def differences(self) -> tuple[DesignDifference, ...]:
        """Decisions and figures, one after the other."""
        return (*self.decisions, *self.figures)

    def __str__(self) -> str:
        if self.same:
            return "Nothing differs."
        lines = [str(each) for each in self.decisions]
        if self.squares is None:
            lines.append("The motifs differ in size, so their squares cannot be compared one by one.")
        elif self.squares.any():
            lines.append(_squares_in_words(self))
        lines += [str(each) for each in self.figures]
        if self.rows:
            verb = "reads" if len(self.rows) == 1 else "read"
            lines.append(f"{_numbers('row', self.rows)} {verb} otherwise in words.")
        return "\n".join(f"{line[0].upper()}{line[1:]}" for line in lines)

    def __repr__(self) -> str:
        return f"<Comparison {len(self.differences)} differences>"


def compare(before: Design, after: Design) -> Comparison:
    """Say what differs between two designs.

    Parameters
    ----------
    before, after : Design
        Which two; what is said reads as a change from the first to the second.

    Returns
    -------
    Comparison
        Its `str` says it in words; `mk.tables.compared` and `mk.draw.compared` show it.

    Raises
    ------
    OptionError
        If one of them is no design.

    Examples
    --------
    >>> from mosaickit import Gauge, Motif
    >>> narrow = Design(Motif.from_text('''
    ... ....
    ... .##.
    ... ....
    ... '''), Gauge(16, 18)).but(across=3)
    >>> print(compare(narrow, narrow.but(across=4, title="Wide")))
    Repeats across: 3, now 4
    Title: none, now Wide
    Stitches: 14, now 18
    Width: 8.8 cm, now 11.2 cm
    Sc in all: 14, now 18
    BLsc in all: 22, now 28
    FLdc in all: 6, now 8
    Cream, likely: 3 m, now 4 m
    Row 3 reads otherwise in words.
    """
    of_kind("before", before, Design)
    of_kind("after", after, Design)
    return Comparison(before, after)


def _difference(name: str, before: object, after: object) -> DesignDifference | None:
    """Say what differs in a decision, also where the same words stand for two values; None if nothing does."""
    if before == after:
        return None
    said, now = _said(before, name), _said(after, name)
    return DesignDifference(FIELD_WORDS.get(name, name), said, now if now != said else f"{now}, which are others")


def _size_in_words(motif: Motif) -> str:
    rows, columns = motif.shape
    return f"{number_of(rows, 'row')} × {number_of(columns, 'stitch')}"


def _said(value: object, name: str = "") -> str:
    if name == "edges" and value is None:
        return "as usual"
    if value is None or value == () or value == "":
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if name in ("ease", "margin"):
        return f"{value:.0%}"
    if name in ("notes", "notions") and isinstance(value, tuple):
        return " / ".join(value)
    if name == "border_ratio" and isinstance(value, tuple):
        return f"{value[0]} for {number_of(value[1], 'row')}"
    if name in ("unblocked_cm", "blocked_cm") and isinstance(value, tuple):
        return " × ".join(f"{length:g}" for length in value) + " cm"
    if name == "labels" and isinstance(value, tuple):
        return "; ".join(f"{label.yarn}: {_label_in_words(label)}" for label in value)
    if name == "sizes" and isinstance(value, tuple):
        return "; ".join(map(str, value))
    if name == "photographs" and isinstance(value, tuple):
        return "; ".join(each.text for each in value)
    if name in ("swatches", "editions") and isinstance(value, tuple):
        return number_of(len(value), {"swatches": "swatch", "editions": "edition"}[name])
    if isinstance(value, Motif):
        return value.name or f"a strip of {_size_in_words(value)}"
    if isinstance(value, Skein):
        return f"{value.metres:g} m / {value.grams:g} g"
    if isinstance(value, Mapping):
        return ", ".join(f"{yarn} {_said(skein)}" for yarn, skein in value.items())
    if isinstance(value, StitchLengths):
        return ", ".join(f"{each.name} {getattr(value, each.name):.3g}" for each in fields(value))
    return (f"{value:g}" if isinstance(value, float) else str(value)) + _UNITS.get(name, "")


def _label_in_words(label: YarnLabel) -> str:
    return ", ".join(filter(None, (label.line, label.category, label.fibre, label.care)))


def _yarns(motif: Motif) -> Iterator[str]:
    for role in ROLES:
        for row, yarn in motif.yarns.of(role):
            since = f" from row {row}" if row > 1 else ""
            yield f"{role} {yarn.name} {yarn.colour}{since}"


def _figures(design: Design) -> Iterator[tuple[str, str]]:
    layout = design.layout
    yield "rows", str(layout.rows)
    yield "stitches", str(layout.stitches)
    if design.gauge is not None:
        yield "width", f"{design.size.width_cm:.1f} cm"
        yield "length", f"{design.size.length_cm:.1f} cm"
        if design.edging.rounds:
            yield "stitches of the border", f"{design.edging.border_stitches:,}"
    yield "can be worked", _said(layout.workable)
    if not layout.workable:
        return
    for kind, count in zip(Stitch, design.counts.sum(axis=0).tolist(), strict=True):
        if count:
            yield f"{kind.abbreviation} in all", f"{count:,}"
    if design.gauge is None:
        return
    for total in design.usage.by_yarn:
        yield f"{total.yarn.name}, likely", f"{total.likely_m:.0f} m"
        if total.skeins is not None:
            yield f"{total.yarn.name}, to buy", number_of(total.skeins, "skein")


def _squares_in_words(comparison: Comparison) -> str:
    changed = comparison.squares
    assert changed is not None
    places = (np.argwhere(to_working(changed, comparison.after.hand)) + 1).tolist()
    shown = "; ".join(f"row {row}, stitch {stitch}" for row, stitch in places[:MOST_NAMED])
    more = f"; and {len(places) - MOST_NAMED} more" if len(places) > MOST_NAMED else ""
    verb = "shows" if len(places) == 1 else "show"
    return f"{number_of(len(places), 'square')} of the motif {verb} the other colour: {shown}{more}."


def _numbers(what: str, numbers: tuple[int, ...]) -> str:
    """Write numbers with runs drawn together, as "Rows 3, 5 to 9"."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    said = [f"{first} to {last}" if last > first else f"{first}" for first, last in runs]
    more = f" and {sum(b - a + 1 for a, b in runs[MOST_NAMED:])} more" if len(said) > MOST_NAMED else ""
    return f"{what}{'s' * (len(numbers) > 1)} {', '.join(said[:MOST_NAMED])}{more}"
