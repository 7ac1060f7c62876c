"""Written rounds back into a chart: what `writing` writes, broken into runs and repeats in any way, and nothing else.

The lines above the rounds must be those that `writing` has for the chart, since each of them says something of it.
"""

from __future__ import annotations

import re
from itertools import zip_longest
from typing import NoReturn

import numpy as np
from numpy.typing import NDArray

from mosaickit.centre.stitches import CentreChart
from mosaickit.centre.working import IN_A_CORNER, work
from mosaickit.centre.writing import IN_THE_RING, above_the_rounds, in_the_corner, in_the_ring
from mosaickit.colours import Yarn, Yarns, checked_name
from mosaickit.errors import MosaickitError, StitchError, WordingError, number_of, text
from mosaickit.fabric import Stitch
from mosaickit.orientation import ROLES, Hand, Role
from mosaickit.wording import LONGEST_TEXT, STITCH_NAMES, Fault, FaultKind, Terms

_QUOTED = r'"((?:[^"\\]|\\["\\])*)"'
_NEXT_YARN = r'"(?P<yarn>(?:[^"\\]|\\["\\])*)"'
_ROUND = re.compile(
    rf"Rnd (?P<number>[1-9]\d{{0,3}}) \((?P<colour>MC|CC)\): (?:change to {_NEXT_YARN}; )?"
    r"(?P<words>.+)\. \((?P<count>[1-9]\d{0,5}) sts\)"
)
_STAR = re.compile(r"\*(?P<inner>[^*]+); rep from \* (?:(?P<one>1 more time)|(?P<more>[1-9]\d{0,5}) more times)")
_BRACKET = re.compile(r"\[(?P<inner>[^\[\]]+)\] (?P<times>[1-9]\d{0,5}) times")
_YARN = re.compile(rf"(?:from row (?P<row>[1-9]\d{{0,3}}): )?{_QUOTED}, (?P<colour>#[0-9a-f]{{6}})(?P<end>; |$)")


class _Line:
    """A line that is read, with its number, and the round that it belongs to."""

    def __init__(self, number: int, told: str, round_number: int | None = None) -> None:
        self.number, self.told, self.round = number, told, round_number

    def refuse(self, kind: FaultKind, column: int, sentence: str, expected: str) -> NoReturn:
        """Stop reading, at a column from 0."""
        fault = Fault(kind, self.number, column + 1, self.round, sentence, expected)
        of_round = f" (round {self.round})" if self.round is not None else ""
        raise WordingError(f"Line {self.number}, column {column + 1}{of_round}: {sentence}", (fault,))


def read(words: str) -> CentreChart:
    """Read written rounds of a square from the centre back into a chart. Experimental.

    Parameters
    ----------
    words : str
        A text as `mk.centre.write` writes it; a round may be broken into other runs and repeats.

    Returns
    -------
    CentreChart
        Such that ``read(write(chart)) == chart``.

    Raises
    ------
    WordingError
        At the first thing that says nothing or something else: names line and column, and what was expected.

    Examples
    --------
    >>> from mosaickit.centre.writing import write
    >>> chart = CentreChart((np.full(8, Stitch.SC), np.full(16, Stitch.BLSC)), ("MC", "CC"))
    >>> read(write(chart)) == chart
    True
    """
    told = text("words", words)
    if len(told) > LONGEST_TEXT:
        raise WordingError(f"A text has at most {LONGEST_TEXT:,} characters; this one has {len(told):,}.")
    lines = [_Line(number, line.strip()) for number, line in enumerate(told.splitlines(), 1) if line.strip()]
    head = [line for line in lines if not line.told.startswith("Rnd ")]
    rows = [line for line in lines if line.told.startswith("Rnd ")]
    if not rows:
        raise WordingError("The text has no rounds: each stands in a line that begins with 'Rnd' and its number.")
    terms: Terms = "UK" if any(line.told == "Written in UK terms." for line in head) else "US"
    hand: Hand = "left" if any(line.told.endswith(", left-handed.") for line in head) else "right"
    first_colour = _ROUND.fullmatch(rows[0].told)
    first: Role = "CC" if first_colour and first_colour["colour"] == "CC" else "MC"
    yarns = _yarns(head)
    rounds = [_read_round(line, number, first, yarns, terms) for number, line in enumerate(rows, 1)]
    colours = tuple(first if number % 2 == 0 else _swap(first) for number in range(len(rounds)))
    chart = CentreChart(tuple(rounds), colours, yarns, hand, _name(head))
    try:
        work(chart)
    except StitchError as error:
        rows[error.row - 1].round = error.row
        rows[error.row - 1].refuse("malformed", 0, str(error), "a stitch that can be made")
    _check_head(head, chart, terms)
    return chart


def _swap(role: Role) -> Role:
    return ROLES[1 - ROLES.index(role)]


# ---- above the rounds --------------------------------------------------------------------------------------


def _unquoted(name: str) -> str:
    return re.sub(r"\\(.)", r"\1", name)


def _name(head: list[_Line]) -> str:
    for line in head:
        found = re.fullmatch(f"Name: {_QUOTED}", line.told)
        if found:
            name = _unquoted(found[1])
            try:
                checked_name("A chart's name", name)
            except MosaickitError as error:
                line.refuse("malformed", 6, str(error), "a name")
            return name
    return ""


def _yarns(head: list[_Line]) -> Yarns:
    found: dict[Role, list[tuple[int, Yarn]]] = {role: [] for role in ROLES}
    for line in head:
        role = next((role for role in ROLES if line.told.startswith(f'{role}: "')), None)
        if role is None or found[role]:
            continue
        at = len(role) + 2
        while at < len(line.told):
            one = _YARN.match(line.told, at)
            if one is None:
                line.refuse(
                    "malformed",
                    at,
                    "expected a yarn, as '\"cream\", #f4ead5' or 'from row 9: …'.",
                    "a yarn and its colour",
                )
            try:
                found[role].append((int(one["row"] or 1), Yarn(_unquoted(one[2]), one["colour"])))
            except MosaickitError as error:
                line.refuse("malformed", at, str(error), "a yarn's name and colour")
            at = one.end()
        try:
            Yarns(mc=found[role])
        except MosaickitError as error:
            line.refuse("colour", 0, str(error), "yarns that start in rising rounds")
    for role in ROLES:
        if not found[role]:
            line = head[-1] if head else _Line(1, "")
            line.refuse(
                "malformed", 0, f"expected a line with the yarn of {role} above the rounds, found none.", f"'{role}:'"
            )
    return Yarns(found["MC"], found["CC"])


def _check_head(head: list[_Line], chart: CentreChart, terms: Terms) -> None:
    """Hold the lines above the rounds against those of the chart; the rounds come after all of them."""
    wanted = [line for section in above_the_rounds(chart, terms) for line in section]
    for line, told in zip_longest(head, wanted):
        if line is None:
            head[-1].refuse(
                "malformed", len(head[-1].told), f"expected {told!r} in a line after it, found no more.", told
            )
        if told is None:
            line.refuse("unknown", 0, f"expected a round, found {line.told[:60]!r}.", "a round")
        if line.told != told:
            same = next(at for at, (one, two) in enumerate(zip_longest(line.told, told)) if one != two)
            line.refuse("malformed", same, f"expected the line {told!r}.", told)


# ---- rounds ------------------------------------------------------------------------------------------------


def _read_round(
    line: _Line, number: int, first: Role, yarns: Yarns | None, terms: Terms, form: re.Pattern[str] = _ROUND
) -> NDArray[np.uint8]:
    """Read a round; without `yarns` no change of yarn is judged, nor is what `form` lets out."""
    line.round = number
    found = form.fullmatch(line.told)
    if found is None:
        line.refuse("malformed", 0, "expected 'Rnd 2 (CC): … . (16 sts)'.", "number, colour, stitches and count")
    if int(found["number"]) != number:
        line.refuse("row", 4, f"expected round {number}, found {found['number']}.", f"Rnd {number}")
    colour = first if number % 2 else _swap(first)
    if found["colour"] != colour:
        line.refuse("colour", found.start("colour"), f"the colours alternate: expected {colour}.", colour)
    if yarns is not None:
        now = yarns.at(number, colour)
        change = now.name if number > 2 and now != yarns.at(number - 2, colour) else None
        if (None if found["yarn"] is None else _unquoted(found["yarn"])) != change:
            said = "no change of yarn" if change is None else f"'change to \"{change}\"; '"
            line.refuse("colour", found.end("colour") + 3, f"by the lines of the yarns, expected {said} here.", said)
    stitches = _Round(line, found.start("words"), number, terms).read(found["words"])
    if found["count"] is not None and int(found["count"]) != len(stitches):
        said = f"the round has {len(stitches)} stitches, but says {found['count']}."
        line.refuse("count", found.start("count"), said, str(len(stitches)))
    return stitches


class _Round:
    """A round that is read: where the hook stands on the round below, and what it has made."""

    def __init__(self, line: _Line, start: int, number: int, terms: Terms) -> None:
        self.line, self.start, self.number, self.terms = line, start, number, terms
        self.made: list[Stitch] = []
        self.passed = 0
        """Stitches of the round below that the hook has come by."""
        names = {STITCH_NAMES[terms][stitch]: stitch for stitch in (Stitch.BLSC, Stitch.FLDC)}
        self.names = names
        self.run = re.compile(rf"(?P<stitch>{'|'.join(names)}) in next (?:st|(?P<count>[1-9]\d{{0,5}}) sts)")

    def refuse(self, kind: FaultKind, at: int, sentence: str, expected: str) -> NoReturn:
        self.line.refuse(kind, self.start + at, sentence, expected)

    def read(self, words: str) -> NDArray[np.uint8]:
        """Read all of a round."""
        if self.number == 1:
            if words != in_the_ring(self.terms):
                self.refuse("malformed", 0, f"expected {in_the_ring(self.terms)!r}.", in_the_ring(self.terms))
            return np.full(IN_THE_RING, Stitch.SC, dtype=np.uint8)
        star = _STAR.fullmatch(words)
        inner, at, times = (star["inner"], 1, 2 if star["one"] else int(star["more"]) + 1) if star else (words, 0, 1)
        for _ in range(times):
            self.items(inner, at)
        below = 8 * (self.number - 1)
        if self.passed < below:
            left = number_of(below - self.passed, "stitch")
            self.refuse("count", len(words), f"round {self.number - 1} has {left} left.", f"{left} more")
        return np.array(self.made, dtype=np.uint8)

    def items(self, words: str, start: int) -> None:
        """Read runs, brackets and corners; `words` begin at `start` of the round's words."""
        at = 0
        corner = in_the_corner(self.terms)
        while True:
            run, bracket = self.run.match(words, at), _BRACKET.match(words, at)
            if run:
                self.work(run, start + at)
                at = run.end()
            elif bracket:
                for _ in range(int(bracket["times"])):
                    self.runs(bracket["inner"], start + bracket.start("inner"))
                at = bracket.end()
            elif words.startswith(corner, at):
                self.corner(start + at)
                at += len(corner)
            else:
                names = " or ".join(self.names)
                said = f"expected {names} 'in next … sts', '[…] n times' or {corner!r}; found {words[at : at + 40]!r}."
                self.refuse("malformed", start + at, said, "stitches")
            if at == len(words):
                return
            if not words.startswith(", ", at):
                self.refuse("malformed", start + at, f"expected ', ' here; found {words[at : at + 20]!r}.", "a comma")
            at += 2

    def runs(self, words: str, start: int) -> None:
        """Read what stands in brackets: runs only."""
        at = 0
        for run in words.split(", "):
            found = self.run.fullmatch(run)
            if found is None:
                self.refuse(
                    "malformed", start + at, f"expected stitches 'in next … sts' in brackets; found {run!r}.", "a run"
                )
            self.work(found, start + at)
            at += len(run) + 2

    def work(self, run: re.Match[str], at: int) -> None:
        """Work a run that stands at a place of the round's words."""
        count, stitch = int(run["count"] or 1), self.names[run["stitch"]]
        if run["count"] == "1":
            self.refuse("malformed", at, "expected 'in next st' for one stitch.", "'st'")
        room = self.to_corner()
        if count > room:
            self.refuse("count", at, f"{self.ahead(room)}; found {run.group()!r}.", f"at most {room}")
        self.made += [stitch] * count
        self.passed += count

    def corner(self, at: int) -> None:
        """Work three stitches into one that stands at a place of the round's words."""
        room = self.to_corner()
        if room or self.passed >= 8 * (self.number - 1):
            self.refuse(
                "count", at, f"{self.ahead(room)}; found a corner.", "stitches before it" if room else "nothing"
            )
        self.made += [Stitch.BLSC] * IN_A_CORNER
        self.passed += 1

    def ahead(self, room: int) -> str:
        """Say what lies before the next corner, or before the end."""
        below = f"round {self.number - 1}"
        if self.passed + room == 8 * (self.number - 1):
            return f"{below} has {number_of(room, 'stitch') if room else 'no stitch'} left"
        if not room:
            return f"the next stitch of {below} is a corner stitch"
        return f"the next corner stitch of {below} comes after {number_of(room, 'more stitch')}"

    def to_corner(self) -> int:
        """Count the stitches of the round below up to its next corner stitch, or to its end."""
        ring = self.number - 1
        ahead = (ring - self.passed) % (2 * ring)
        return min(ahead, 8 * ring - self.passed)
