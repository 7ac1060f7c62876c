"""The rules of a square worked from the centre: what can be worked near a corner, and what a maker should think about.

They were worked out from loops, as no readable source states them. An overlaid square of ring i is covered by an FLdc
of round i + 1, which goes straight inward into the front loop of round i - 1. `working` knows none of these rules.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import islice
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit.centre.rings import corners, outward, places_of_round, where
from mosaickit.centre.square import EXPERIMENTAL, CentreOut
from mosaickit.colours import in_words, weakest_contrast
from mosaickit.errors import of_kind
from mosaickit.motif import LEAST_CONTRAST
from mosaickit.orientation import role_of_row

MOST_FINDINGS_PRINTED = 20
"""A printed report lists at most this many findings and counts the others."""


@dataclass(frozen=True)
class CentreFinding:
    """One place that a rule minds.

    Attributes
    ----------
    rule : str
        The rule's name.
    severity : "error" or "advice"
        Whether it makes the picture unworkable.
    round, stitch : int
        Where, from 1, as a maker counts; both 0 for the centre square, and the stitch 0 if a whole round is meant.
    side : str
        "top side", "top left corner" and so on as the picture is seen; "centre", or "" for a whole round.
    message : str
        What is found and what to do.
    """

    rule: str
    severity: Literal["error", "advice"]
    round: int
    stitch: int
    side: str
    message: str

    def __str__(self) -> str:
        return f"{self.severity}: {self.message}"


@dataclass(frozen=True, repr=False)
class CentreReport:
    """What `mk.centre.check` found.

    Attributes
    ----------
    square : CentreOut
        What was checked.
    findings : tuple of CentreFinding
        All findings, errors first, each kind from round 1 outward and stitch 1 on.
    """

    square: CentreOut
    findings: tuple[CentreFinding, ...]

    @property
    def ok(self) -> bool:
        """Whether the picture can be worked: no finding is an error."""
        return not self.errors

    @cached_property
    def errors(self) -> tuple[CentreFinding, ...]:
        """The findings that make it unworkable."""
        return tuple(finding for finding in self.findings if finding.severity == "error")

    @property
    def errors_in_words(self) -> str:
        """The first error as its finding says it, and how many more there are."""
        if self.ok:
            return "Nothing."
        others = len(self.errors) - 1
        return self.errors[0].message + (f" And {others:,} more." if others else "")

    def __str__(self) -> str:
        head = "Can be worked" if self.ok else "Cannot be worked"
        shown = [f"  {finding}" for finding in islice(self.findings, MOST_FINDINGS_PRINTED)]
        number = len(self.findings)
        more = [f"  … and {number - MOST_FINDINGS_PRINTED:,} more"] if number > MOST_FINDINGS_PRINTED else []
        return "\n".join([f"{head}. Findings: {number:,}. {EXPERIMENTAL}", *shown, *more])

    def __repr__(self) -> str:
        return f"<CentreReport {self}>"


def check(square: CentreOut) -> CentreReport:
    """Find what cannot be worked in a square from the centre, and what a maker should think about.

    Parameters
    ----------
    square : CentreOut
        Any square picture with its rounds.

    Returns
    -------
    CentreReport
        With ``.ok`` and ``.findings``. An unworkable picture is reported, never raised.

    Examples
    --------
    >>> from mosaickit.motif import Motif
    >>> square = CentreOut(Motif.from_array([[1, 0, 0], [0, 0, 0], [0, 0, 0]]))
    >>> print(check(square).findings[0].message)
    Round 1, stitch 2 (top left corner) does not show its round's colour, but no square of a corner can be overlaid:
    straight inward of it there is no front loop. Make the square MC.
    """
    of_kind("square", square, CentreOut)
    found = [finding for seen in _rounds(square) for finding in _errors_of(square, seen)]
    advice = [finding for seen in _rounds(square) for finding in _advice_of(seen)]
    return CentreReport(square, (*_centre(square), *found, *_contrasts(square), *advice))


# ---- rules -------------------------------------------------------------------------------------------------


class _Round(NamedTuple):
    """A round with what is overlaid in it and in the round outside it, in working order."""

    number: int
    colour: str
    overlaid: NDArray[np.bool_]
    """(8i,)"""
    outer_overlaid: NDArray[np.bool_]
    """(8i,): whether the square straight outward is overlaid too; False for corners and in the last round."""
    square: CentreOut

    def at(self, stitch: int) -> str:
        """Name a stitch, from 1."""
        return f"Round {self.number}, stitch {stitch} ({where(self.number, stitch, self.square.hand)})"


def _rounds(square: CentreOut) -> Iterator[_Round]:
    n, hand = square.rounds, square.hand
    here = square.overlaid[places_of_round(n, 1, hand)]
    for number, colour in enumerate(square.round_colours, 1):
        straight = np.zeros(8 * number, dtype=np.bool_)
        after = here
        if number < n:
            after = square.overlaid[places_of_round(n, number + 1, hand)]
            straight = after[outward(number)] & ~corners(number)
        yield _Round(number, colour, here, straight, square)
        here = after


def _finding(seen: _Round, rule: str, severity: Literal["error", "advice"], at: int, message: str) -> CentreFinding:
    stitch = at + 1
    side = where(seen.number, stitch, seen.square.hand)
    return CentreFinding(rule, severity, seen.number, stitch, side, message)


def _centre(square: CentreOut) -> Iterator[CentreFinding]:
    n = square.rounds
    if square.overlaid[n, n]:
        colour = square.motif.first
        message = (
            "The centre square does not show the colour of round 1: it is the ring that round 1 is worked into, made "
            f"with the yarn of round 1. Make the square {colour}."
        )
        yield CentreFinding("centre", "error", 0, 0, "centre", message)


def _errors_of(square: CentreOut, seen: _Round) -> Iterator[CentreFinding]:
    """Find the errors of a round, stitch 1 on."""
    number, colour, n = seen.number, seen.colour, square.rounds
    corner = corners(number)
    before = np.roll(corner, -1)  # the last square of a side
    both = before & seen.overlaid & np.roll(seen.overlaid, -2)
    for at in np.flatnonzero(seen.overlaid).tolist():
        here = f"{seen.at(at + 1)} does not show its round's colour"
        if corner[at]:
            said = "but no square of a corner can be overlaid: straight inward of it there is no front loop"
            yield _finding(seen, "overlaid corner", "error", at, f"{here}, {said}. Make the square {colour}.")
            continue
        if number == 1:
            said = "and round 2 could only reach the ring at the centre, which has no front loop"
            yield _finding(seen, "overlaid in round 1", "error", at, f"{here}, {said}. Make the square {colour}.")
        elif number == n:
            said = f"and there is no round outside it to cover it. Make the square {colour}, or add a round"
            yield _finding(seen, "overlaid in the last round", "error", at, f"{here}, {said}.")
        if seen.outer_overlaid[at] and 1 < number < n - 1:  # elsewhere one of the two is named by itself
            other = role_of_row(number + 1, square.motif.first)
            message = (
                f"{seen.at(at + 1)} and the square straight outward of it, in round {number + 1}, both show the other "
                "colour, but the FLdc over the inner hides the loop that the FLdc over the outer needs. Make the inner "
                f"{colour} or the outer {other}."
            )
            yield _finding(seen, "two overlaid outward", "error", at, message)
        if both[at] and 1 < number < n:
            stitch = (at + 2) % (8 * number) + 1
            message = (
                f"{seen.at(at + 1)} and stitch {stitch} round the corner are both overlaid, but their two FLdc need "
                f"the one front loop of the corner stitch of round {number - 1}. Make one of them {colour}."
            )
            yield _finding(seen, "two in one corner loop", "error", at, message)


def _advice_of(seen: _Round) -> Iterator[CentreFinding]:
    """Find what lands in the corner stitch two rounds below."""
    number = seen.number
    if not 1 < number < seen.square.rounds:
        return
    corner = corners(number)
    beside = np.roll(corner, -1) | np.roll(corner, 1)
    for at in np.flatnonzero(seen.overlaid & beside).tolist():
        message = (
            f"{seen.at(at + 1)} is covered by an FLdc into the front loop of the corner stitch of round {number - 1}, "
            f"behind which three stitches are worked. Try it on a small square, or make the square {seen.colour}."
        )
        yield _finding(seen, "FLdc into a corner stitch", "advice", at, message)


def _contrasts(square: CentreOut) -> Iterator[CentreFinding]:
    for start, mc, cc in square.motif.yarns.meetings(square.rounds):
        vision, ratio = weakest_contrast(mc.colour, cc.colour)
        if ratio < LEAST_CONTRAST:
            shown = int(ratio * 100) / 100  # rounded down, so that a ratio below the limit never reads as the limit
            message = (
                f"From round {start} on, {mc.name!r} and {cc.name!r} have a contrast of {shown:.2f} to 1 "
                f"{in_words(vision)}, below {LEAST_CONTRAST:g} to 1. Choose a lighter and a darker yarn."
            )
            yield CentreFinding("low contrast", "advice", start, 0, "", message)
