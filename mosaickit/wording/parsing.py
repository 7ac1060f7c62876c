"""One line of written rows into a value, by the grammar in grammar.lark, or into faults.

A line is parsed token by token. A word that is not known is noted and passed over; at a place that is malformed the
rest of the step is left out and the reading goes on at the next one, so that a row shows all its faults at once. What
the words mean in US or UK terms, and whether rows fit each other, is asked later, in `reading`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal

from lark import Lark, Token, Transformer, UnexpectedToken

from mosaickit.orientation import Hand, Role
from mosaickit.wording.faults import MOST_FAULTS, Fault
from mosaickit.wording.lines import (
    Count,
    FoundationLine,
    How,
    Line,
    NameLine,
    Often,
    ReadRepeat,
    ReadRun,
    RowLine,
    RowsAgain,
    Span,
    Step,
    TermsLine,
    WorkedLine,
    YarnLine,
)
from mosaickit.wording.terms import TOKEN_WORDS

DEEPEST = 4
"""Repeats within repeats go no deeper: no pattern has more than two."""

# ---- from tokens to values ---------------------------------------------------------------------------------


def _only(children: list[Any], kind: type | tuple[type, ...]) -> list[Any]:
    return [child for child in children if isinstance(child, kind)]


def _of_type(children: list[Any], *types: str) -> list[Token]:
    return [child for child in children if isinstance(child, Token) and child.type in types]


def _name(quoted: str) -> str:
    if quoted[0] != '"':
        return quoted[1:-1]
    plain, _, rest = quoted[1:-1].partition("\\")
    while rest:
        part, _, more = rest[1:].partition("\\")
        plain, rest = plain + rest[0] + part, more
    return plain


class _Build(Transformer[Token, Any]):
    """Make a value of each rule, from the inside out."""

    def terms(self, children: list[Any]) -> TermsLine:
        nation = _of_type(children, "NATION")[0]
        return TermsLine("UK" if nation == "UK" else "US", nation)

    def name(self, children: list[Any]) -> NameLine:
        return NameLine(_name(children[1]), children[1])

    def worked(self, children: list[Any]) -> WorkedLine:
        hands = _of_type(children, "HANDED")
        return WorkedLine(bool(_of_type(children, "IN_THE_ROUND")), _hand(hands), children[0])

    def yarns(self, children: list[Any]) -> None:
        return None

    def yarn(self, children: list[Any]) -> YarnLine:
        rows = [1, *(int(number) for number in _of_type(children, "NUMBER"))]
        changes = [(row, *change) for row, change in zip(rows, _only(children, tuple), strict=True)]
        return YarnLine(_role(children[0]), tuple(changes), children[0])

    def change(self, children: list[Any]) -> tuple[str, str]:
        return _name(children[0]), str(children[1])

    def foundation(self, children: list[Any]) -> FoundationLine:
        chains = _of_type(children, "NUMBER")[0]
        roles = _of_type(children, "ROLE")
        return FoundationLine(_role(roles[0]) if roles else None, Count(int(chains), chains))

    def row(self, children: list[Any]) -> RowLine:
        word, span, *rest = children
        roles = rest[0] if len(rest) == 2 else ()
        body, count = rest[-1]
        return RowLine(span, word == "round", roles, body, count, word)

    def again(self, children: list[Any]) -> RowLine:
        body, count = children[0]
        return RowLine(None, False, (), body, count, body.rows.at)

    def span(self, children: list[Any]) -> Span:
        numbers = _of_type(children, "NUMBER")
        return Span(int(numbers[0]), int(numbers[-1]), numbers[0])

    def colour(self, children: list[Any]) -> tuple[Role, ...]:
        return tuple(_role(role) for role in _of_type(children, "ROLE"))

    def mark(self, children: list[Any]) -> Token:
        return children[0]  # type: ignore[no-any-return] # a token as the lexer made it

    def steps(self, children: list[Any]) -> tuple[tuple[Step, ...], Count | None]:
        return tuple(children[0]), next(iter(_only(children, Count)), None)

    def rows_again(self, children: list[Any]) -> tuple[RowsAgain, Count | None]:
        often = next(iter(_only(children, Often)), None)
        return RowsAgain(children[2], often), next(iter(_only(children, Count)), None)

    def count(self, children: list[Any]) -> Count:
        return children[0]  # type: ignore[no-any-return] # as `tally` made it

    def bracketed(self, children: list[Any]) -> Count:
        return children[1]  # type: ignore[no-any-return] # as `tally` made it

    def tally(self, children: list[Any]) -> Count:
        numbers = _of_type(children, "NUMBER")
        return Count(sum(map(int, numbers)), numbers[0])

    def items(self, children: list[Any]) -> list[Step]:
        if len(children) == 1:
            return children
        steps: list[Step] = children[0]
        steps.append(children[-1])  # in place: a long row would otherwise be copied at every step
        return steps

    def run(self, children: list[Any]) -> ReadRun:
        word = _of_type(children, "STITCH", "UNKNOWN")[0]
        number = next(iter(_of_type(children, "NUMBER")), None)
        amount, often, last = next(iter(_only(children, tuple)), (None, None, None))
        counts = {int(count) for count in (number, amount) if count is not None} or {1}
        # two counts that differ, as in "4 sc in next 2 sts", are an increase, which no row of these has: 0 says so
        return ReadRun(word, counts.pop() if len(counts) == 1 else 0, often, last)

    def where(self, children: list[Any]) -> tuple[Token | None, Often | None, Token | None]:
        last = next(iter(_of_type(children, "LAST")), None)
        if isinstance(children[-1], Often):
            return None, children[-1], None
        return children[-1], None, last

    def amount(self, children: list[Any]) -> Token | None:
        return next(iter(_of_type(children, "NUMBER")), None)

    def reach(self, children: list[Any]) -> Often:
        left = 0 if len(children) == 1 else int(children[-1] or 1)
        return Often("to end", left, children[0])

    def star(self, children: list[Any]) -> ReadRepeat:
        return ReadRepeat(tuple(children[1]), children[-1], star=True)

    def group(self, children: list[Any]) -> ReadRepeat:
        return ReadRepeat(tuple(children[1]), _in_all(children[-1]), star=False)

    def following(self, children: list[Any]) -> ReadRepeat:
        return ReadRepeat(tuple(children[2]), _in_all(children[1]), star=False)

    def more(self, children: list[Any]) -> Often:
        return _often("more", children)

    def times(self, children: list[Any]) -> Often:
        return _often("unclear", children)

    def in_all(self, children: list[Any]) -> Often:
        return _often("in all", children)


def _role(token: str) -> Role:
    return "CC" if token == "CC" else "MC"


def _hand(tokens: list[Token]) -> Hand:
    return "left" if tokens and tokens[0] == "left" else "right"


def _often(how: How, children: list[Any]) -> Often:
    number = _of_type(children, "NUMBER", "TWICE")[0]
    return Often(how, int(number), number)


def _in_all(often: Often) -> Often:
    """Read "n times" as the trade does where the steps are set in brackets: n in all."""
    return replace(often, how="in all") if often.how == "unclear" else often


# ---- the parser --------------------------------------------------------------------------------------------


@lru_cache(maxsize=1)
def _lark() -> Lark:
    grammar = Path(__file__).with_name("grammar.lark").read_text("utf-8")
    return Lark(grammar, parser="lalr", lexer="basic", start=["start", "body"], transformer=_Build())


_NOTHING_MORE = "nothing more"
_EXPECTED: dict[tuple[Any, ...], str] = {}


def _expected(state: Any) -> str:  # noqa: ANN401 — Lark's InteractiveParser
    """Say which tokens the parser would take; asking it is slow, so each answer is kept."""
    stack = tuple(state.parser_state.state_stack)
    if stack not in _EXPECTED:
        words = sorted({TOKEN_WORDS[type_] for type_ in state.accepts() if type_ in TOKEN_WORDS}) or [_NOTHING_MORE]
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


class _Reading:
    """The tokens of a line on their way through the parser, and the faults they meet."""

    def __init__(self, tokens: list[Token], text_of: Callable[[Token], str]) -> None:
        self.tokens, self.text_of = tokens, text_of
        self.row = row_of(tokens)
        self.faults: list[Fault] = []
        self.malformed = False

    def fault(self, kind: Literal["malformed", "unknown"], token: Token, expected: str, sentence: str) -> None:
        self.malformed = self.malformed or kind == "malformed"
        sentence = f"expected {expected}, {sentence}."
        self.faults.append(Fault(kind, token.line or 1, token.column or 1, self.row, sentence, expected))

    def parse(self, start: str, at: int) -> tuple[Any, int]:
        """Parse from a token on: what the rest of the line says, and where the first malformed place is, if any."""
        state = _lark().parse_interactive(start=start)
        for k in range(at, len(self.tokens)):
            token = self.tokens[k]
            if token.type == "UNKNOWN":
                self.fault("unknown", token, _expected(state), f"found {self.text_of(token)!r}, which is not known")
            try:
                state.feed_token(token)
            except UnexpectedToken:
                if token.type == "UNKNOWN":
                    self.malformed = True  # said already, and passed over
                    continue
                self.fault("malformed", token, _expected(state), f"found {self.text_of(token)!r}")
                return None, k
        last = self.tokens[-1]
        try:
            return state.feed_eof(last), len(self.tokens)  # type: ignore[no-untyped-call] # Lark has no types there
        except UnexpectedToken:
            end = Token("$END", "", line=last.end_line, column=last.end_column)
            self.fault("malformed", end, _expected(state), "but the line ends")
            return None, len(self.tokens)


def parse_line(tokens: list[Token], text_of: Callable[[Token], str]) -> tuple[Line, list[Fault]]:
    """Parse the tokens of one line, or of the lines of one row.

    Parameters
    ----------
    tokens : list of Token
        One or more, as `lexing.tokens` gives them.
    text_of : function
        Gives the words of the text that a token was made of, which faults quote.

    Returns
    -------
    value, list of Fault
        What the line says, None if it says nothing or has a malformed place; and its faults. A malformed row is
        given without its body.
    """
    reading = _Reading(tokens, text_of)
    depths = _depths(tokens)
    if max(depths) > DEEPEST:
        deep = tokens[next(k for k, depth in enumerate(depths) if depth > DEEPEST)]
        reading.fault("malformed", deep, f"repeats {DEEPEST} deep at most", "found one more")
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
