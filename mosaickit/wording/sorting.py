"""The lines of a text, sorted: which are rows, which are headings above the rows, and which are remarks.

Remarks stand under "Notes:", up to an empty line, and are prose: a line among them is a row or a heading only if it can
be nothing else. A row may go on over several lines.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from lark import Token

from mosaickit.errors import WordingError
from mosaickit.wording.faults import A_TRIED_LINE, MOST_WORDS, TOO_MANY_WORDS
from mosaickit.wording.lexicon import Lexicon
from mosaickit.wording.lexing import tokens as tokens_of
from mosaickit.wording.parsing import parse_line, quoted, row_of

_FIRST = {
    "LANGUAGE",
    "WRITTEN",
    "NATION",
    "TERMS",
    "NAME",
    "WORKED",
    "YARNS",
    "ROLE",
    "MULTIPLE",
    "FOUNDATION",
    "WITH",
    "CH",
    "ROW",
    "REP",
}
# a line among remarks that starts so is one of those above the rows, whatever follows
_HEADINGS = {("TERMS", "_COLON"), ("NAME", "_COLON"), ("FOUNDATION", "_COLON"), ("YARNS", "_COLON")}
# and one that starts so is if it says nothing more than they do
_LIKE_HEADINGS = {
    ("WRITTEN", "NATION"),
    ("NATION", "TERMS"),
    ("WORKED", "FLAT"),
    ("WORKED", "IN_THE_ROUND"),
    ("WITH", "ROLE"),
    ("CH", "NUMBER"),
    ("FOUNDATION", "CH"),
    ("FOUNDATION", "WITH"),
    ("MULTIPLE", "NUMBER"),
    ("YARNS",),
    ("LANGUAGE",),
    ("LANGUAGE", "_DOT"),
}


@dataclass(frozen=True)
class Remark:
    """A line of prose, and its number."""

    line: str
    number: int


class Source:
    """The text that is read, and how many of the words that a text may have it has had."""

    def __init__(self, text: str, lexicon: Lexicon) -> None:
        self.lexicon = lexicon
        # a line among remarks is looked at word by word only if a heading or a row may start as it does
        self.may_lead = lexicon.may_lead(_FIRST | {"PROSE"})
        self.written = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
        self.words = len(self.written) - 1
        if self.words > MOST_WORDS:
            raise WordingError(TOO_MANY_WORDS)

    def tokens(self, line: str, number: int) -> list[Token]:
        """Take a line apart; a text of too many words is refused."""
        found = tokens_of(line, number, max(MOST_WORDS - self.words, 0), lexicon=self.lexicon)
        self.words += len(found)
        return found

    def text_of(self, token: Token) -> str:
        """Give the words that a token was made of."""
        return self.written[(token.line or 1) - 1][token.start_pos : token.end_pos]

    def found(self, token: Token) -> str:
        """Quote the words that a token was made of."""
        return quoted(self.text_of(token))

    def lines(self) -> Iterator[list[Token] | Remark]:
        """Give rows and headings as their tokens, and remarks, in the order of the text."""
        prose = False
        row: list[Token] = []  # of the row that is being read, which may go on over several lines
        for number, line in enumerate(self.written, 1):
            if prose and line and not line.isspace() and not self.may_lead.match(line):
                yield Remark(line, number)
                continue
            found = self.tokens(line, number) if line and not line.isspace() else []
            if row and found and _goes_on(found):
                row += found
                continue
            if row:
                yield row
            row = []
            if not found:
                prose = prose and bool(line.strip())
            elif found[0].type == "PROSE":
                prose = True
                yield Remark(line, number)
            elif not prose or _starts_a_row(found) or self._is_heading(found):
                prose = False
                if found[0].type in ("ROW", "REP"):
                    row = found
                else:
                    yield found
            else:
                yield Remark(line, number)
        if row:
            yield row

    def _is_heading(self, found: list[Token]) -> bool:
        """Whether a line among remarks is one of those above the rows after all."""
        kinds = tuple(token.type for token in found[:3])
        if kinds[:2] in _HEADINGS or kinds == ("ROLE", "_COLON", "STRING"):
            return True
        if kinds[:2] not in _LIKE_HEADINGS:
            return False
        self.words += A_TRIED_LINE
        value, faults = parse_line(found, self.text_of, self.lexicon)
        return value is not None and not faults


def may_begin(token: Token) -> bool:
    """Whether a row or a heading may begin with a token."""
    return token.type in _FIRST


def _goes_on(found: list[Token]) -> bool:
    """Whether a line goes on with the row above it: as rows do, but as no line begins."""
    if found[0].type == "REP":
        return len(found) > 1 and found[1].type == "FROM"
    return found[0].type not in _FIRST | {"UNKNOWN", "STRING", "COLOUR", "PROSE"}


def _starts_a_row(found: list[Token]) -> bool:
    """Whether a line among remarks is a row after all: a label, not a sentence about a row."""
    kinds = [token.type for token in found[:4]]
    if kinds[:3] == ["REP", "ROW", "NUMBER"] or kinds[2:] == ["WITH", "ROLE"]:
        return True
    return (
        len(found) > 2
        and row_of(found) is not None
        and kinds[2] in ("_COLON", "LPAR", "_COMMA", "_DASH", "AND", "TO", "ROLE")
    )
