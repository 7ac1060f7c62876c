"""What the lines above the rows say, each once: name, yarns, foundation, how it is worked; and if the rows agree."""

from __future__ import annotations

from typing import Any, TypeVar

from lark import Token

from mosaickit.colours import CREAM, INK, Yarn, Yarns, checked_name
from mosaickit.errors import MosaickitError
from mosaickit.orientation import Hand, Role, role_of_row
from mosaickit.wording.faults import Faults, counted
from mosaickit.wording.lines import (
    FoundationLine,
    MultipleLine,
    NameLine,
    ReadLine,
    TermsLine,
    WorkedLine,
    YarnLine,
    YarnsLine,
)

T = TypeVar("T")


class Headings:
    """The headings of a text."""

    def __init__(self, faults: Faults) -> None:
        self.faults = faults
        self.terms: TermsLine | None = None
        self.worked: WorkedLine | None = None
        self.foundation: FoundationLine | None = None
        self._name: NameLine | None = None
        self._has_yarns: YarnsLine | None = None
        self._yarns: dict[Role, tuple[tuple[int, Yarn], ...]] = {}
        self._multiple: MultipleLine | None = None

    @property
    def name(self) -> str:
        """The name of the chart, empty if it has none."""
        return self._name.name if self._name else ""

    @property
    def hand(self) -> Hand | None:
        """The hand that holds the hook, if they say it."""
        return self.worked.hand if self.worked else None

    @property
    def yarns(self) -> Yarns:
        """The yarns, cream and ink blue if they do not say."""
        return Yarns(self._yarns.get("MC", CREAM), self._yarns.get("CC", INK))

    def stitches(self, in_the_round: bool) -> int | None:
        """Give how many stitches the foundation is for, None if there is none."""
        return self.foundation.chains.stitches - (not in_the_round) if self.foundation else None

    def take(self, value: ReadLine) -> None:
        """Take a line, which no other may say once more."""
        if isinstance(value, TermsLine):
            self.terms = self._once(self.terms, value, value.at, "the terms")
        elif isinstance(value, NameLine):
            self._name = self._once(self._name, value, value.at, "the name")
            try:
                checked_name("A chart's name", value.name)
            except MosaickitError as error:
                self.faults.say("malformed", value.at, None, str(error), "a name")
        elif isinstance(value, WorkedLine):
            self.worked = self._once(self.worked, value, value.at, "how it is worked")
        elif isinstance(value, YarnsLine):
            self._has_yarns = self._once(self._has_yarns, value, value.at, "the yarns")
        elif isinstance(value, MultipleLine):
            self._multiple = self._once(self._multiple, value, value.at, "the multiple")
        elif isinstance(value, FoundationLine):
            self.foundation = self._once(self.foundation, value, value.chains.at, "the foundation")
        elif isinstance(value, YarnLine):
            self._once(self._yarns.get(value.role), value, value.at, f"the yarn of {value.role}")
            try:
                changes = tuple((row, Yarn(name, colour)) for row, name, colour in value.changes)
                self._yarns[value.role] = Yarns(mc=changes).mc
            except MosaickitError as error:
                self.faults.say("malformed", value.at, None, str(error), "a yarn's name and colour")

    def _once(self, before: Any, value: T, at: Token, what: str) -> T:  # noqa: ANN401 — what was read before, if anything
        if before is not None:
            self.faults.say("malformed", at, None, f"expected {what} once, found it a second time.", "nothing more")
        return value

    # ---- whether the rows agree ----------------------------------------------------------------------------

    def check_foundation(self, width: int | None, first: Role | None, in_the_round: bool) -> None:
        """Hold the foundation, and the multiple, against the width of the rows and the colour of row 1."""
        if self._multiple is not None and width is not None:
            self._check_multiple(self._multiple, width, in_the_round)
        if self.foundation is None:
            return
        at, role, join = self.foundation.chains.at, self.foundation.role, self.foundation.join
        if width is not None and width != self.stitches(in_the_round):
            more = "" if in_the_round else " and one to start row 1"
            wanted = counted(width + (not in_the_round), "chain")
            many = counted(width, "stitch", "stitches")
            sentence = f"expected {wanted}, one for each of {many}{more}; found {at!s}."
            self.faults.say("count", at, None, sentence, wanted)
        if join is not None and not in_the_round:
            sentence = "the foundation is joined, which is work in the round, but the work is flat."
            self.faults.say("ambiguous", join, None, sentence, "no 'join', or 'Worked in the round'")
        if role is not None and first is not None and role != first:
            sentence = f"expected the foundation in {first}, as row 1 is worked into it; found {role}."
            self.faults.say("colour", at, None, sentence, first)

    def _check_multiple(self, said: MultipleLine, width: int, in_the_round: bool) -> None:
        repeat, plus, chains = said.stitches, said.plus, said.more_chains
        if not repeat or width < repeat + plus or (width - plus) % repeat:
            sentence = (
                f"the rows have {counted(width, 'stitch', 'stitches')}, which is no multiple of {repeat} plus {plus}."
            )
            self.faults.say("count", said.at, None, sentence, "what the rows are a multiple of")
        if chains is not None and chains != (not in_the_round):
            sentence = f"expected {counted(not in_the_round, 'chain')} more than stitches; found {chains}."
            self.faults.say("count", said.at, None, sentence, "as many chains as the foundation has")

    def check_changes(self, changes: list[tuple[int, str, Token]], first: Role) -> None:
        """Hold the changes of yarn that rows speak of against the lines of the yarns."""
        yarns = self.yarns
        for row, name, at in changes:
            role = role_of_row(row, first)
            now, before = yarns.at(row, role), yarns.at(row - 2, role)
            if now.name != name or row < 3 or now == before:
                have = f"has {now.name!r} from the start" if now == yarns.at(1, role) else f"has {now.name!r}"
                if now.name == name:
                    have = f"already has {name!r}"
                sentence = f"row {row} changes to {name!r}, but by the lines of the yarns {role} {have} there."
                self.faults.say("colour", at, row, sentence, f"{now.name!r}")
