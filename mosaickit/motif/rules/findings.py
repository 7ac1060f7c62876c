"""What a rule is, what it finds, and the report that gathers the findings; no rule of the craft stands here."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property
from heapq import merge
from itertools import islice
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import one_of, true_or_false
from mosaickit.motif.motif import Motif
from mosaickit.orientation import HANDS, Hand
from mosaickit.svg import runs

Severity = Literal["error", "advice"]
BetweenRows = Literal["carried", "cut"]
BETWEEN_ROWS: tuple[BetweenRows, ...] = ("carried", "cut")

MOST_PRINTED = 20
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
    counted : (str, str)
        What one finding is called, and what several are; the name if it is left out.
    """

    name: str
    severity: Severity
    sentence: str
    squares: Callable[[Motif, Setting], Mask]
    message: Callable[[Motif, Setting, int, int, int], str]
    by_run: bool = False
    rows: int = 1
    counted: tuple[str, str] | None = None

    def __call__(self, motif: Motif, setting: Setting | None = None) -> Mask:
        """Mark the squares that the rule minds, bool (R, C) as seen."""
        return self.squares(motif, setting or Setting())

    def said(self, number: int) -> str:
        """Say how many findings there are, wherever they are folded into one line.

        Examples
        --------
        >>> rule = Rule("bare strand", "advice", "", ..., ..., counted=("bare strand", "bare strands"))
        >>> rule.said(1), rule.said(1_400)
        ('1 bare strand', '1,400 bare strands')
        """
        one, several = self.counted or (self.name, self.name)
        return f"{number:,} {one if number == 1 else several}"


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


class FindingKind(NamedTuple):
    """All findings of one rule, folded."""

    rule: str
    """The rule's name."""
    number: int
    """How many there are."""
    said: str
    """The same in words."""
    first: Finding
    """The first one, from row 1 up and stitch 1 on."""


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
                found += self._find(rule, in_row(self.motif, start, mask))
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

    def kinds(self, severity: Severity) -> tuple[FindingKind, ...]:
        """Fold the findings of a severity into one for each rule that minds any: how many, and the first of them."""
        return tuple(
            FindingKind(rule.name, number, rule.said(number), next(self._find(rule, mask)))
            for rule, mask in self.masks
            if rule.severity == severity
            for number in (_number(rule, mask),)
        )

    def of(self, rule: str, most: int) -> tuple[Finding, ...]:
        """Give the first findings of one rule, by its name, from row 1 up and stitch 1 on; `most` of them."""
        found = (finding for each, mask in self.masks if each.name == rule for finding in self._find(each, mask))
        return tuple(islice(found, most))

    def without(self, rules: Collection[str]) -> Report:
        """Give the report without the findings of some rules, by their names."""
        return replace(self, masks=tuple((rule, mask) for rule, mask in self.masks if rule.name not in rules))

    @property
    def number(self) -> int:
        """How many findings there are, without making them."""
        return sum(_number(rule, mask) for rule, mask in self.masks)

    def squares(self, severity: Severity) -> Mask:
        """Mark every square of a finding of this severity, bool (R, C) as seen."""
        marked = nowhere(self.motif)
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
        shown = [f"  {finding}" for finding in self.some(MOST_PRINTED)]
        number = self.number
        more = [f"  … and {number - MOST_PRINTED:,} more"] if number > MOST_PRINTED else []
        return "\n".join([f"{head}. Findings: {number:,}.", *shown, *more])

    def __repr__(self) -> str:
        return f"<Report {self}>"


def _number(rule: Rule, mask: Mask) -> int:
    """Count the findings of a rule, from the squares that it minds."""
    squares = int(np.count_nonzero(mask))
    return squares - int(np.count_nonzero(mask[:, 1:] & mask[:, :-1])) if rule.by_run else squares


def nowhere(motif: Motif) -> Mask:
    """Mark no square, bool (R, C)."""
    return np.zeros(motif.shape, dtype=np.bool_)


def in_row(motif: Motif, row: int, where: Mask) -> Mask:
    """Keep of a mask only one row (from 1)."""
    mask = nowhere(motif)
    kept, given = orientation.to_working(mask), orientation.to_working(where)
    kept[row - 1] = given[row - 1]
    return mask


def row_colour(motif: Motif, row: int) -> str:
    """Name the colour of a row (from 1)."""
    return orientation.role_of_row(row, motif.first)
