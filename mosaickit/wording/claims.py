"""What remarks claim of the rest of the text, and have to be right about: the hand, the last row, what a word means."""

from __future__ import annotations

import re

from lark import Token

from mosaickit.orientation import Hand
from mosaickit.wording.faults import Faults, counted
from mosaickit.wording.lexing import LONGEST_NUMBER
from mosaickit.wording.sorting import Remark, Source

_ABBREVIATION = re.compile(r"\s*[A-Za-z][A-Za-z -]{0,40}:\s")


class Claims:
    """What the remarks of a text claim."""

    def __init__(self, source: Source, faults: Faults) -> None:
        self.source, self.faults = source, faults
        lexicon = source.lexicon
        self.sides = lexicon.sides
        self.edge, self.towards = lexicon.remark(lexicon.edge), lexicon.remark(lexicon.towards)
        self.handed = re.compile(lexicon.handed, re.IGNORECASE)
        self.last_row_said = lexicon.remark(lexicon.last_row)
        self.hands: list[tuple[Hand, Token]] = []
        self.last_row: tuple[int, Token] | None = None

    def take(self, remark: Remark) -> None:
        """Note what a remark says that has to agree with the rest of the text."""
        line, number = remark.line, remark.number
        for pattern in (self.edge, self.towards, self.handed):
            for match in pattern.finditer(line):
                side = self.sides[match.group(1).lower()]
                other: Hand = "left" if side == "right" else "right"
                start, end = match.span()
                at = Token("HANDED", match.group(), start, number, start + 1, number, end + 1, end)
                self.hands.append((other if pattern is self.towards else side, at))
        last = self.last_row_said.search(line)
        if last:
            at = Token("NUMBER", last.group(1), last.start(1), number, last.start(1) + 1)
            self.last_row = int(last.group(1)[:LONGEST_NUMBER]), at
        if _ABBREVIATION.match(line):
            self._abbreviation(self.source.tokens(line, number))

    def _abbreviation(self, found: list[Token]) -> None:
        """Hold the meaning of an abbreviation against that of the word."""
        if len(found) < 3 or found[1].type != "_COLON" or found[0].type not in ("STITCH", "ROLE"):
            return
        short, meant = found[0], found[2]
        if meant.type == short.type and not (
            short == meant or short.endswith(meant) or short.startswith("tog") or meant in short.split("-")
        ):
            meaning = self.source.text_of(meant)
            sentence = f"the text says that {self.source.text_of(short)!r} is {meaning!r}, but here it is {short}."
            self.faults.say("ambiguous", short, None, sentence, str(short))

    def check(self, rows: int, hand: Hand | None, in_the_round: bool) -> None:
        """Hold them against what the other lines say: how many rows there are, and the hand if they say it."""
        how = "in the round" if in_the_round else "flat"
        for told, at in self.hands:
            if told != (hand or "right"):
                what = f"the work is {hand}-handed" if hand else "no line says so, and the work would be right-handed"
                cure = f"write 'Worked {how}, {told}-handed'."
                sentence = f"{self.source.text_of(at)!r} is {told}-handed work, but {what}; {cure}"
                self.faults.say("ambiguous", at, None, sentence, f"a {told} hand")
                break
        if self.last_row is not None and self.last_row[0] != rows and not self.faults:
            last, at = self.last_row
            word = "round" if in_the_round else "row"
            sentence = f"the work is said to end after {word} {last}, but the text has {counted(rows, word)}."
            self.faults.say("row", at, None, sentence, f"{word} {rows}")
