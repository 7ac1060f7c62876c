"""One line of written rows into a value, by the grammar in grammar.lark, or into faults.

A line is parsed token by token. A word that is not known is noted and passed over; at a place that is malformed the
rest of the step is left out and the reading goes on at the next one, so that a row shows all its faults at once. What
the words mean in US or UK terms, and whether rows fit each other, is asked later, in `reading`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from lark import Token, UnexpectedToken

from mosaickit.wording.building import parser
from mosaickit.wording.english_words import ENGLISH_WORDS
from mosaickit.wording.faults import MOST_FAULTS, Fault, FaultKind
from mosaickit.wording.lexicon import Lexicon
from mosaickit.wording.lines import ReadLine, RowLine, Span
from mosaickit.wording.shaping import shaping_around

DEEPEST = 4
"""Repeats within repeats go no deeper: no pattern has more than two."""


_NOTHING_MORE = "nothing more"
_EXPECTED: dict[tuple[Any, ...], str] = {}


def _expected(state: Any, lexicon: Lexicon) -> str:  # noqa: ANN401 — Lark's InteractiveParser
    """Say which tokens the parser would take; asking it is slow, so each answer is kept."""
    stack = (lexicon.tongues, *state.parser_state.state_stack)
    if stack not in _EXPECTED:
        words = sorted({lexicon.token_words[type_] for type_ in state.accepts() if type_ in lexicon.token_words}) or [
            _NOTHING_MORE
        ]
        text = words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"
        if len(_EXPECTED) >= 1000:
            _EXPECTED.clear()
        _EXPECTED[stack] = text
    return _EXPECTED[stack]


_OPENING, _CLOSING = {"LSQ", "LPAR", "LBRACE", "FOLLOWING"}, {"RSQ", "RPAR", "RBRACE", "END_REPEAT"}


def _depths(tokens: list[Token]) -> list[int]:
    """Tell how many repeats are open after each token."""
    depths, depth = [], 0
    for number, token in enumerate(tokens):
        if token.type == "STAR":
            depth += -1 if number and tokens[number - 1].type == "FROM" else 1
        depth += (token.type in _OPENING) - (token.type in _CLOSING)
        depths.append(depth)
    return depths


def row_of(tokens: list[Token]) -> int | None:
    """Give the number of the row that a line is about, if it starts with one."""
    if len(tokens) > 1 and tokens[0].type == "ROW" and tokens[1].type == "NUMBER":
        return int(tokens[1])
    return None


def _without_body(tokens: list[Token]) -> RowLine:
    first = last = int(tokens[1])
    if len(tokens) > 3 and tokens[2].type in ("_DASH", "TO", "AND") and tokens[3].type == "NUMBER":
        last = int(tokens[3])
    return RowLine(Span(first, last, tokens[1]), tokens[0] == "round", (), None, None, tokens[0])


LONGEST_QUOTED = 40
"""A fault quotes so many characters of one word."""


def quoted(text: str) -> str:
    """Quote the words of a text, but not without end."""
    return repr(text if len(text) <= LONGEST_QUOTED else text[:LONGEST_QUOTED] + "…")


class _Reading:
    """The tokens of a line on their way through the parser, and the faults they meet."""

    def __init__(self, tokens: list[Token], text_of: Callable[[Token], str], lexicon: Lexicon) -> None:
        self.tokens, self.text_of, self.lexicon = tokens, text_of, lexicon
        self.row = row_of(tokens)
        self.faults: list[Fault] = []
        self.malformed = False
        self.shaped = 0  # up to this token a fault has said what changes the count

    def fault(self, kind: FaultKind, token: Token, expected: str, sentence: str) -> None:
        self.malformed = self.malformed or kind in ("malformed", "shaping")
        self.faults.append(Fault(kind, token.line or 1, token.column or 1, self.row, sentence, expected))

    def found(self, token: Token) -> str:
        return quoted(self.text_of(token))

    def shaping(self, k: int) -> bool:
        """Say what changes the count in the step around a token, if anything does there; once for each step."""
        if k < self.shaped:
            return True
        found = None if self.row is None else shaping_around(self.tokens, k)
        if found is None:
            return False
        self.shaped = found.stop
        word = self.found(found.token)
        subject = f"more than one stitch stands before {word}, which" if found.token.type == "IN" else word
        self.fault("shaping", found.token, "one stitch in each place", f"{subject} {found.sentence}.")
        return True

    def parse(self, start: str, at: int) -> tuple[Any, int]:
        """Parse from a token on: what the rest of the line says, and where the first malformed place is, if any."""
        state = parser().parse_interactive(start=start)
        for k in range(at, len(self.tokens)):
            token = self.tokens[k]
            if len(self.faults) >= MOST_FAULTS:
                return None, len(self.tokens)
            if token.type == "UNKNOWN":
                expected = _expected(state, self.lexicon)
                why = "is no whole number" if token[0] in "0123456789" else "is not known"
                sentence = f"expected {expected}, found {self.found(token)}, which {why}."
                self.fault("unknown", token, expected, sentence)
            elif token.type == "SHAPING":
                if not self.shaping(k):
                    expected = _expected(state, self.lexicon)
                    self.fault("unknown", token, expected, f"expected {expected}, found {self.found(token)}.")
                token = Token.new_borrow_pos("UNKNOWN", token, token)
            try:
                state.feed_token(token)
            except UnexpectedToken:
                if token.type == "UNKNOWN":
                    self.malformed = True  # said already, and passed over
                    continue
                if not self.shaping(k):
                    expected = _expected(state, self.lexicon)
                    self.fault("malformed", token, expected, f"expected {expected}, found {self.found(token)}.")
                return None, k
        last = self.tokens[-1]
        try:
            return state.feed_eof(last), len(self.tokens)  # type: ignore[no-untyped-call] # Lark has no types there
        except UnexpectedToken:
            if not self.shaping(len(self.tokens) - 1):
                end = Token("$END", "", line=last.end_line, column=last.end_column)
                expected = _expected(state, self.lexicon)
                self.fault("malformed", end, expected, f"expected {expected}, but the line ends.")
            return None, len(self.tokens)


def parse_line(
    tokens: list[Token], text_of: Callable[[Token], str], lexicon: Lexicon = ENGLISH_WORDS
) -> tuple[ReadLine, list[Fault]]:
    """Parse the tokens of one line, or of the lines of one row.

    Parameters
    ----------
    tokens : list of Token
        One or more, as `lexing.tokens` gives them.
    text_of : function
        Gives the words of the text that a token was made of, which faults quote.
    lexicon : Lexicon
        The words of its language, by which faults call what was expected.

    Returns
    -------
    value, list of Fault
        What the line says, None if it says nothing or has a malformed place; and its faults. A malformed row is
        given without its body.
    """
    reading = _Reading(tokens, text_of, lexicon)
    depths = _depths(tokens)
    if max(depths) > DEEPEST:
        deep = tokens[next(k for k, depth in enumerate(depths) if depth > DEEPEST)]
        expected = f"repeats {DEEPEST} deep at most"
        reading.fault("malformed", deep, expected, f"expected {expected}, found one more.")
        return (None if reading.row is None else _without_body(tokens)), reading.faults
    value, stopped = reading.parse("start", 0)
    while stopped < len(tokens) and reading.row is not None and len(reading.faults) < MOST_FAULTS:
        # where the next step begins, from which on the line may make sense again
        ends = ("_SEMI", "_COMMA", "_THEN")
        after = next((k + 1 for k in range(stopped, len(tokens)) if depths[k] <= 0 and tokens[k].type in ends), None)
        if after is None or after == len(tokens):
            break
        _, stopped = reading.parse("body", after)
    if reading.malformed:
        value = None if reading.row is None else _without_body(tokens)
    return value, reading.faults
