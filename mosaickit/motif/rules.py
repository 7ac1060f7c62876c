"""The rules: what makes a picture unworkable, and what a maker should think about.

Each rule is a small value with a name, a sentence, a severity and a function from a motif to the squares it
minds, as a mask as seen. `check` gathers them into a report and never raises. Three rules of severity "error"
decide: a picture without one of their findings can be worked, and nothing else is impossible. All others are
"advice". Findings name row and stitch as a maker counts them and say what to do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from heapq import merge
from itertools import islice
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import weakest_contrast
from mosaickit.errors import number_of, of_kind, one_of, true_or_false
from mosaickit.motif.motif import Motif
from mosaickit.orientation import HANDS, Hand
from mosaickit.svg import runs

Severity = Literal["error", "advice"]
BetweenRows = Literal["carried", "cut"]
BETWEEN_ROWS: tuple[BetweenRows, ...] = ("carried", "cut")

LONGEST_BARE_RUN = 4
"""A carried strand may lie bare over this many neighbouring FLdc before advice is given: our choice, no source."""

LEAST_CONTRAST = 3.0
"""Yarns should differ by this ratio at least: WCAG 2.2, success criterion 1.4.11, graphical objects."""

MOST_SHOWN = 20
"""A printed report lists so many findings and counts the others."""

Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class Setting:
    """How the picture is meant to be worked.

    Parameters
    ----------
    in_the_round : bool
        Whether the last stitch of a row meets its first.
    repeats_up : bool
        Whether the picture is one repeat of a taller one, so that row 1 lies above row R of the repeat below.
    hand : "right" or "left"
        The hand that holds the hook.
    between_rows : "carried" or "cut"
        Whether each yarn is carried back to the working edge or cut at the end of its row.
    """

    in_the_round: bool = False
    repeats_up: bool = False
    hand: Hand = "right"
    between_rows: BetweenRows = "carried"

    def __post_init__(self) -> None:
        true_or_false("in_the_round", self.in_the_round)
        true_or_false("repeats_up", self.repeats_up)
        one_of("hand", self.hand, HANDS)
        one_of("between_rows", self.between_rows, BETWEEN_ROWS)


@dataclass(frozen=True)
class Rule:
    """One rule of the craft.

    Parameters
    ----------
    name : str
        A short name, as a finding shows it.
    severity : "error" or "advice"
        Whether a finding makes the picture unworkable.
    sentence : str
        What the rule says, for a lesson.
    squares : function of (Motif, Setting)
        Gives the squares that the rule minds, bool (R, C) as seen.
    message : function of (Motif, Setting, row, stitch, last stitch)
        Says what is found there and what to do.
    by_run : bool
        Whether neighbouring squares of a row are one finding.
    rows : int
        How many rows a finding covers, from the square that is marked upward.
    """

    name: str
    severity: Severity
    sentence: str
    squares: Callable[[Motif, Setting], Mask]
    message: Callable[[Motif, Setting, int, int, int], str]
    by_run: bool = False
    rows: int = 1

    def __call__(self, motif: Motif, setting: Setting | None = None) -> Mask:
        """Mark the squares that the rule minds, bool (R, C) as seen."""
        return self.squares(motif, setting or Setting())


@dataclass(frozen=True)
class Finding:
    """One place that a rule minds.

    Attributes
    ----------
    rule : str
        The rule's name.
    severity : "error" or "advice"
        Whether it makes the picture unworkable.
    row, stitch : int
        Where, from 1, as a maker counts.
    message : str
        What is found and what to do.
    last_row, last_stitch : int
        Where it ends: the same unless two rows or a run are meant. Across the join of a repeat, row 1 is last.
    """

    rule: str
    severity: Severity
    row: int
    stitch: int
    message: str
    last_row: int
    last_stitch: int

    def __str__(self) -> str:
        return f"{self.severity}: {self.message}"


@dataclass(frozen=True, eq=False, repr=False)
class Report:
    """What `check` found.

    Attributes
    ----------
    motif : Motif
        The picture that was checked.
    setting : Setting
        How it is meant to be worked.
    masks : tuple of (Rule, bool array)
        The squares that each rule minds, (R, C) as seen, for the rules that mind any.
    """

    motif: Motif
    setting: Setting
    masks: tuple[tuple[Rule, Mask], ...] = field(default=())

    @property
    def ok(self) -> bool:
        """Whether the picture can be worked: no finding is an error."""
        return not any(rule.severity == "error" for rule, _ in self.masks)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, errors first, each kind from row 1 up and stitch 1 on; made when first asked for."""
        return tuple(self._in_order())

    def some(self, most: int) -> tuple[Finding, ...]:
        """Give at most so many of the findings, the first ones, without making the others."""
        return tuple(islice(self._in_order(), most))

    def _in_order(self) -> Iterator[Finding]:
        """Make the findings one by one, errors first, each kind from row 1 up and stitch 1 on."""
        for error in (True, False):
            kinds = [self._find(rule, mask) for rule, mask in self.masks if (rule.severity == "error") is error]
            yield from merge(*kinds, key=lambda finding: (finding.row, finding.stitch))

    def at(self, row: int, stitch: int) -> tuple[Finding, ...]:
        """Give the findings that cover a square, named as a maker counts."""
        rows = len(self.motif.grid)
        found: list[Finding] = []
        for rule, mask in self.masks:
            # a finding of two rows is marked at the lower one
            for start in {(row - 1 - up) % rows + 1 for up in range(rule.rows)}:
                found += self._find(rule, _in_row(self.motif, start, mask))
        return tuple(finding for finding in found if finding.stitch <= stitch <= finding.last_stitch)

    def count(self, severity: Severity) -> int:
        """Count the squares at which findings of this severity start."""
        return sum(int(np.count_nonzero(mask)) for rule, mask in self.masks if rule.severity == severity)

    def _find(self, rule: Rule, mask: Mask) -> Iterator[Finding]:
        """Make the findings of a rule one by one, from row 1 up and stitch 1 on."""
        working = orientation.to_working(mask, self.setting.hand)
        for row in (np.flatnonzero(working.any(axis=1)) + 1).tolist():
            squares = working[row - 1]
            if rule.by_run:
                places = [(start + 1, end) for _, start, end in runs(squares[np.newaxis]).tolist()]
            else:
                places = [(stitch, stitch) for stitch in (np.flatnonzero(squares) + 1).tolist()]
            last_row = (row + rule.rows - 2) % len(mask) + 1
            for stitch, last in places:
                message = rule.message(self.motif, self.setting, row, stitch, last)
                yield Finding(rule.name, rule.severity, row, stitch, message, last_row, last)

    @property
    def number(self) -> int:
        """How many findings there are, without making them."""
        return sum(_number(rule, mask) for rule, mask in self.masks)

    def squares(self, severity: Severity) -> Mask:
        """Mark every square of a finding of this severity, bool (R, C) as seen."""
        marked = _nowhere(self.motif)
        for rule, mask in self.masks:
            if rule.severity == severity:
                for up in range(rule.rows):
                    marked |= np.roll(mask, -up, axis=0)
        return marked

    @property
    def errors_in_words(self) -> str:
        """The first error as its finding says it, and how many more there are."""
        if self.ok:
            return "Nothing."
        others = sum(_number(rule, mask) for rule, mask in self.masks if rule.severity == "error") - 1
        (first,) = self.some(1)
        return first.message + (f" And {others:,} more." if others else "")

    def __str__(self) -> str:
        head = "Can be worked" if self.ok else "Cannot be worked"
        shown = [f"  {finding}" for finding in self.some(MOST_SHOWN)]
        number = self.number
        more = [f"  … and {number - MOST_SHOWN:,} more"] if number > MOST_SHOWN else []
        return "\n".join([f"{head}. Findings: {number:,}.", *shown, *more])

    def __repr__(self) -> str:
        return f"<Report {self}>"


# ---- the three rules that decide ---------------------------------------------------------------------------


def _number(rule: Rule, mask: Mask) -> int:
    """Count the findings of a rule, from the squares that it minds."""
    squares = int(np.count_nonzero(mask))
    return squares - int(np.count_nonzero(mask[:, 1:] & mask[:, :-1])) if rule.by_run else squares


def _nowhere(motif: Motif) -> Mask:
    return np.zeros(motif.shape, dtype=np.bool_)


def _in_row(motif: Motif, row: int, where: Mask) -> Mask:
    """Keep of a mask only one row (from 1)."""
    mask = _nowhere(motif)
    kept, given = orientation.to_working(mask), orientation.to_working(where)
    kept[row - 1] = given[row - 1]
    return mask


def _overlaid_first_row(motif: Motif, setting: Setting) -> Mask:
    return _nowhere(motif) if setting.repeats_up else _in_row(motif, 1, motif.overlaid)


def _overlaid_last_row(motif: Motif, setting: Setting) -> Mask:
    return _nowhere(motif) if setting.repeats_up else _in_row(motif, motif.shape[0], motif.overlaid)


def _two_overlaid(motif: Motif, setting: Setting) -> Mask:
    """Mark the lower of any two overlaid squares that lie one above the other."""
    working = orientation.to_working(motif.overlaid)
    lower = np.zeros_like(working)
    np.logical_and(working[:-1], working[1:], out=lower[:-1])
    if setting.repeats_up:
        lower[-1] = working[-1] & working[0]
    return orientation.to_seen(lower)


def _row_colour(motif: Motif, row: int) -> str:
    return orientation.role_of_row(row, motif.first)


def _say_first_row(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    return (
        f"Row 1, stitch {stitch} does not show its row's colour, and row 2 has nothing two rows below it to reach "
        f"into. Make the square {_row_colour(motif, 1)}, or add a row below the picture."
    )


def _say_last_row(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    return (
        f"Row {row}, stitch {stitch} does not show its row's colour, and there is no row above to cover it. Make the "
        f"square {_row_colour(motif, row)}, or add a row above the picture."
    )


def _say_two_overlaid(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    rows = motif.shape[0]
    above = row % rows + 1
    of_repeat = " of the next repeat" if above == 1 else ""
    return (
        f"Rows {row} and {above}{of_repeat}, stitch {stitch}: both squares show the other colour, but the FLdc over "
        f"the lower hides the loop that the FLdc over the upper needs. Make row {row} {_row_colour(motif, row)} "
        f"or row {above} {_row_colour(motif, above)} there."
    )


# ---- advice ------------------------------------------------------------------------------------------------


def _fldc(motif: Motif, setting: Setting) -> Mask:
    """Mark the squares on which an FLdc stands, bool (R, C) in working order for the setting's hand."""
    overlaid = orientation.to_working(motif.overlaid, setting.hand)
    standing = np.zeros_like(overlaid)
    standing[1:] = overlaid[:-1]
    if setting.repeats_up:
        standing[0] = overlaid[-1]
    return standing


def _bare_strand(motif: Motif, setting: Setting) -> Mask:
    """Mark FLdc in runs of more than `LONGEST_BARE_RUN`; in the round no strand is carried across."""
    if setting.between_rows == "cut" or setting.in_the_round:
        return _nowhere(motif)
    standing = _fldc(motif, setting)
    longest = LONGEST_BARE_RUN + 1
    if standing.shape[1] < longest:
        return _nowhere(motif)
    # a run is long where `longest` neighbours all stand; then give back the squares beside each such window
    width = standing.shape[1] - longest + 1
    window = standing[:, :width].copy()
    for shift in range(1, longest):
        window &= standing[:, shift : shift + width]
    if not window.any():
        return _nowhere(motif)
    marked = np.zeros_like(standing)
    for shift in range(longest):
        marked[:, shift : shift + width] |= window
    return orientation.to_seen(marked, setting.hand)


def _say_bare_strand(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    return (
        f"Row {row}, stitches {stitch} to {last} are {last - stitch + 1} FLdc side by side, which leave a carried "
        "strand bare. Cut the yarn between rows, or break the run with a plain stitch."
    )


def _edge_fldc(motif: Motif, setting: Setting) -> Mask:
    standing = _fldc(motif, setting)
    if setting.in_the_round:
        standing[:] = False
    standing[:, 1:-1] = False
    return orientation.to_seen(standing, setting.hand)


def _say_edge_fldc(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    which = "first" if stitch == 1 else "last"
    return (
        f"Row {row}, stitch {stitch}: an FLdc in the {which} stitch makes a loose edge. Add an edge stitch at each "
        "side with `mk.edge_stitches`."
    )


def _odd_repeat(motif: Motif, setting: Setting) -> Mask:
    odd = setting.repeats_up and motif.shape[0] % 2 == 1
    return _first_stitch(motif, motif.shape[0], setting) if odd else _nowhere(motif)


def _say_odd_repeat(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    return (
        f"Row {row}: {number_of(row, 'row')} is an odd number, so every second repeat upward has its colours swapped. "
        "Add a row with `mk.pad`, or keep the counterchange."
    )


def _ends_differ(motif: Motif, setting: Setting) -> Mask:
    rows = motif.shape[0]
    return _nowhere(motif) if setting.repeats_up or rows % 2 == 1 else _first_stitch(motif, rows, setting)


def _say_ends_differ(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    return (
        f"Row {row} is worked in {_row_colour(motif, row)} and row 1 in {_row_colour(motif, 1)}, so the two ends "
        "differ. Add a row with `mk.pad` if they should match; a frame needs that."
    )


def _first_stitch(motif: Motif, row: int, setting: Setting) -> Mask:
    mask = _nowhere(motif)
    mask[orientation.square(row, 1, motif.shape, setting.hand)] = True
    return mask


def _weak_contrast(motif: Motif, setting: Setting) -> Mask:
    """Mark the row from which on two yarns that are too alike meet."""
    mask = _nowhere(motif)
    for row, mc, cc in motif.yarns.meetings(motif.shape[0]):
        if weakest_contrast(mc.colour, cc.colour)[1] < LEAST_CONTRAST:
            mask |= _first_stitch(motif, row, setting)
    return mask


def _say_weak_contrast(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    mc, cc = (motif.yarns.at(row, role) for role in orientation.ROLES)
    vision, ratio = weakest_contrast(mc.colour, cc.colour)
    # rounded down, so that a ratio below the limit never reads as the limit
    shown = int(ratio * 100) / 100
    return (
        f"From row {row} on, {mc.name!r} and {cc.name!r} differ by {shown:.2f} to 1 for {vision}, below "
        f"{LEAST_CONTRAST:g} to 1. Choose a lighter and a darker yarn."
    )


FIRST_ROW = Rule(
    "overlaid in row 1",
    "error",
    "No square of row 1 can be overlaid: the row above it finds nothing two rows below to reach into.",
    _overlaid_first_row,
    _say_first_row,
)
LAST_ROW = Rule(
    "overlaid in the last row",
    "error",
    "No square of the last row can be overlaid: there is no row above it.",
    _overlaid_last_row,
    _say_last_row,
)
TWO_OVERLAID = Rule(
    "two overlaid in a column",
    "error",
    "No two overlaid squares can lie one above the other.",
    _two_overlaid,
    _say_two_overlaid,
    rows=2,
)
BARE_STRAND = Rule(
    "bare carried strand",
    "advice",
    "FLdc does not enclose a carried strand, so a long run of them leaves it bare.",
    _bare_strand,
    _say_bare_strand,
    by_run=True,
)
EDGE_FLDC = Rule(
    "FLdc at an edge",
    "advice",
    "An FLdc in the first or last stitch of a row makes a loose edge.",
    _edge_fldc,
    _say_edge_fldc,
)
ODD_REPEAT = Rule(
    "odd repeat",
    "advice",
    "An odd number of rows, repeated upward, swaps the colours of every second repeat.",
    _odd_repeat,
    _say_odd_repeat,
)
ENDS_DIFFER = Rule(
    "ends of different colour",
    "advice",
    "With an even number of rows the first and the last row have different colours.",
    _ends_differ,
    _say_ends_differ,
)
WEAK_CONTRAST = Rule(
    "weak contrast",
    "advice",
    "The yarns that meet should differ in lightness for every kind of colour vision.",
    _weak_contrast,
    _say_weak_contrast,
)

WORKABLE: tuple[Rule, ...] = (FIRST_ROW, LAST_ROW, TWO_OVERLAID)
"""The rules that decide whether a picture can be worked."""

RULES: tuple[Rule, ...] = (*WORKABLE, BARE_STRAND, EDGE_FLDC, ODD_REPEAT, ENDS_DIFFER, WEAK_CONTRAST)
"""All rules."""


def check(
    motif: Motif,
    *,
    in_the_round: bool = False,
    repeats_up: bool = False,
    hand: Hand = "right",
    between_rows: BetweenRows = "carried",
    rules: tuple[Rule, ...] = RULES,
) -> Report:
    """Find what cannot be worked in a picture, and what a maker should think about.

    Parameters
    ----------
    motif : Motif
        Any picture, (R, C).
    in_the_round : bool
        Whether the last stitch of a row meets its first, so that there are no edges.
    repeats_up : bool
        Whether the picture is one repeat of a taller one: its row 1 then lies above its row R, and neither is an
        end. With an odd number of rows every second repeat is taken to have its colours swapped.
    hand : "right" or "left"
        The hand that holds the hook; it says from which edge findings count their stitches.
    between_rows : "carried" or "cut"
        What is done with the yarn at the end of a row.
    rules : tuple of Rule
        The rules to check.

    Returns
    -------
    Report
        With ``.ok`` and ``.findings``. An unworkable picture is reported, never raised.

    Examples
    --------
    >>> from mosaickit.motif import Motif
    >>> print(check(Motif.from_array([[1, 0], [1, 1], [0, 0]])).findings[0].message)
    Row 3, stitch 2 does not show its row's colour, and there is no row above to cover it. Make the
    square MC, or add a row above the picture.
    """
    of_kind("motif", motif, Motif)
    setting = Setting(in_the_round, repeats_up, hand, between_rows)
    masks = ((rule, rule(motif, setting)) for rule in rules)
    return Report(motif, setting, tuple((rule, mask) for rule, mask in masks if mask.any()))
