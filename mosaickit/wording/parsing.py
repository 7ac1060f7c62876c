"""One line of written rows into a value, by the grammar in grammar.lark, or into faults.

A line is parsed token by token. A word that is not known is noted and passed over; at a place that is malformed the
rest of the step is left out and the reading goes on at the next one, so that a row shows all its faults at once. What
the words mean in US or UK terms, and whether rows fit each other, is asked later, in `reading`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from lark import Lark, Token, Transformer, UnexpectedToken

from mosaickit.orientation import Hand, Role
from mosaickit.wording.faults import MOST_FAULTS, Fault, Kind, counted
from mosaickit.wording.lines import (
    Count,
    FoundationLine,
    How,
    Line,
    MultipleLine,
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
    YarnsLine,
)
from mosaickit.wording.terms import SHAPING, TOKEN_WORDS

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


@dataclass(frozen=True, slots=True)
class _Amount:
    """How many places are spoken of: their number if it is given, and the word for them."""

    number: int | None
    place: Token | None

    @property
    def count(self) -> int:
        return 1 if self.number is None else self.number


@dataclass(frozen=True, slots=True)
class _Where:
    """Where a run is worked: in so many places, or as far as `often` says."""

    each: bool
    often: Often | None = None
    amount: _Amount | None = None
    last: Token | None = None
    chain: Token | None = None
    ordinal: Token | None = None


@dataclass(frozen=True, slots=True)
class _Onward:
    """The stitch of the step before, as far as this says: the end of "in 2nd ch from hook and in each ch across"."""

    where: _Where


class _Stop(NamedTuple):
    """A full stop between steps."""

    at: int


def _run(word: Token, number: Token | None, where: _Where | None) -> ReadRun:
    """Make a run of its words, and say if its numbers put several stitches in one place."""
    stitches = None if number is None else int(number)
    if where is None:
        return ReadRun(word, 1 if stitches is None else stitches, bare=stitches is not None)
    wrong: tuple[Kind, str, str] | None = None
    count = 1
    if where.often is not None or where.ordinal is not None:
        places = "each stitch" if where.often is not None else "the chain"
        if stitches is not None and stitches != 1 and (where.each or where.ordinal is not None):
            wrong = _increase(f"{stitches} in {places}")
        elif stitches is not None and not where.each and where.ordinal is None:
            sentence = f"a number and 'across' say two things; write '{word} across' or '{stitches} {word}'."
            wrong = ("ambiguous", sentence, "one of the two")
        elif where.ordinal is not None and where.ordinal != "2":
            sentence = (
                f"expected the 2nd chain from the hook, as row 1 starts with a chain of 1; found {where.ordinal}."
            )
            wrong = ("malformed", sentence, "the 2nd chain")
    elif where.amount is not None:
        count, place = where.amount.count, where.amount.place
        if where.amount.number is None and place in ("sts", "chs"):
            wrong = ("malformed", f"expected how many '{place}' that is, as in 'next 4 {place}'.", "a number")
        elif stitches is not None and stitches != count and not (where.each and stitches == 1):
            if where.each or (count and stitches > count):
                wrong = _increase(f"{stitches} in {'each' if where.each else counted(count, 'place')}")
            else:
                sentence = (
                    "expected as many stitches as places, 1 or more: the count across never changes; write "
                    f"'{word} in next {max(count, stitches)} sts' or '{word} in next {counted(stitches, 'st')}'."
                )
                wrong = ("malformed", sentence, "as many stitches as places")
        elif stitches is not None and stitches > 1 and where.each:
            wrong = _increase(f"{stitches} in each")
    return ReadRun(
        word,
        count,
        where.often,
        where.last,
        where.chain,
        first_chain=where.ordinal is not None,
        wrong=wrong,
    )


NEVER = "the count across never changes in this fabric: each stitch of the row below takes one stitch"


def _increase(what: str) -> tuple[Kind, str, str]:
    return "shaping", f"{what} is an increase, but {NEVER}.", "one stitch in each place"


class _Build(Transformer[Token, Any]):
    """Make a value of each rule, from the inside out."""

    def terms(self, children: list[Any]) -> TermsLine:
        nation = _of_type(children, "NATION")[0]
        return TermsLine("UK" if nation == "UK" else "US", nation)

    def name(self, children: list[Any]) -> NameLine:
        return NameLine(_name(children[1]), children[1])

    def worked(self, children: list[Any]) -> WorkedLine:
        hands = _of_type(children, "HANDED")
        hand: Hand | None = None if not hands else "left" if hands[0] == "left" else "right"
        return WorkedLine(bool(_of_type(children, "IN_THE_ROUND")), hand, children[0])

    def yarns(self, children: list[Any]) -> YarnsLine:
        return YarnsLine(children[0])

    def yarn(self, children: list[Any]) -> YarnLine:
        rows = [1, *(int(number) for number in _of_type(children, "NUMBER"))]
        changes = [(row, *change) for row, change in zip(rows, _only(children, tuple), strict=True)]
        return YarnLine(_role(children[0]), tuple(changes), children[0])

    def change(self, children: list[Any]) -> tuple[str, str]:
        return _name(children[0]), str(children[1])

    def multiple(self, children: list[Any]) -> MultipleLine:
        numbers = dict(zip([c.type for c in children[:-1]], children[1:], strict=True))
        plus, more = numbers.get("PLUS"), numbers.get("ADD")
        return MultipleLine(
            int(children[1]), 0 if plus is None else int(plus), None if more is None else int(more), children[0]
        )

    def foundation(self, children: list[Any]) -> FoundationLine:
        chains = _of_type(children, "NUMBER")[0]
        roles = _of_type(children, "ROLE")
        join = next(iter(_of_type(children, "JOIN")), None)
        return FoundationLine(_role(roles[0]) if roles else None, Count(int(chains), chains), join)

    def row(self, children: list[Any]) -> RowLine:
        word, span, *others, (body, count, tail) = children
        change = next((other for other in others if other and isinstance(other[-1], Token)), None)
        roles = next((other for other in others if other is not change), ())
        return RowLine(span, word == "round", roles, body, count, word, change, tail)

    def change_yarn(self, children: list[Any]) -> tuple[str, Token]:
        return _name(children[1]), children[1]

    def again(self, children: list[Any]) -> RowLine:
        body, count, _ = children[0]
        return RowLine(None, False, (), body, count, body.rows.at)

    def span(self, children: list[Any]) -> Span:
        numbers = _of_type(children, "NUMBER")
        return Span(int(numbers[0]), int(numbers[-1]), numbers[0])

    def colour(self, children: list[Any]) -> tuple[Role, ...]:
        return tuple(_role(role) for role in _of_type(children, "ROLE"))

    def mark(self, children: list[Any]) -> Token:
        return children[0]  # type: ignore[no-any-return] # a token as the lexer made it

    def steps(self, children: list[Any]) -> tuple[tuple[Step, ...], Count | None, int]:
        steps, stop = _without_stops(children[0])
        count = next(iter(_only(children, Count)), None)
        last = steps[stop:]
        is_count = count is None and stop and all(isinstance(step, ReadRun) and step.bare for step in last)
        return steps, count, len(last) if is_count else 0

    def rows_again(self, children: list[Any]) -> tuple[RowsAgain, Count | None, int]:
        often = next(iter(_only(children, Often)), None)
        return RowsAgain(children[2], often), next(iter(_only(children, Count)), None), 0

    def in_brackets(self, children: list[Any]) -> Count:
        return _only(children, Count)[0]  # type: ignore[no-any-return] # as the rules below made it

    def bracketed(self, children: list[Any]) -> Count:
        steps, _ = _without_stops(children[0])
        return count_of(steps)

    def total(self, children: list[Any]) -> Count:
        return Count(int(children[0]), children[0])

    def kinds(self, children: list[Any]) -> Count:
        return count_of(tuple(children))

    def kind(self, children: list[Any]) -> ReadRun:
        return ReadRun(children[1], int(children[0]), bare=True)

    def items(self, children: list[Any]) -> list[Step | _Stop]:
        if len(children) == 1:
            return _listed(children[0])
        steps: list[Step | _Stop] = children[0]
        if isinstance(children[-1], _Onward):
            before = steps[-1]
            if isinstance(before, ReadRun):
                steps.append(_run(before.word, None, children[-1].where))
            else:
                where = children[-1].where
                at = children[1] if where.often is None else where.often.at
                at = Token.new_borrow_pos("UNKNOWN", at, at)  # no stitch, as the fault says
                wrong: tuple[Kind, str, str] = ("malformed", "expected which stitch goes on across.", "a stitch")
                steps.append(ReadRun(at, 1, where.often, wrong=wrong))
        else:
            steps += _listed(children[-1])  # in place: a long row would otherwise be copied at every step
        return steps

    def sentence(self, children: list[Any]) -> list[Step | _Stop]:
        steps: list[Step | _Stop] = children[0]
        steps += [_Stop(len(steps)), *_listed(children[-1])]
        return steps

    def run(self, children: list[Any]) -> ReadRun | list[ReadRun]:
        word = _of_type(children, "STITCH", "UNKNOWN", "RUN")[0]
        number = next(iter(_of_type(children, "NUMBER")), None)
        if word.type == "RUN":
            return _runs(word, number)
        return _run(word, number, next(iter(_only(children, _Where)), None))

    def onward(self, children: list[Any]) -> _Onward:
        return _Onward(children[0])

    def where(self, children: list[Any]) -> _Where:
        if isinstance(children[0], _Where):
            return children[0]
        ordinal = next(iter(_of_type(children, "ORDINAL")), None)
        if ordinal is not None:
            return _Where(False, chain=children[2], ordinal=ordinal)
        amount: _Amount = children[-1]
        last = next(iter(_of_type(children, "LAST")), None)
        return _Where(bool(_of_type(children, "EACH")), None, amount, last, _chain([amount.place]))

    def across(self, children: list[Any]) -> _Where:
        often = next(iter(_only(children, Often)), None)
        each = _of_type(children, "EACH")
        return _Where(bool(each), often or Often("to end", 0, children[-1]), chain=_chain(children))

    def reach(self, children: list[Any]) -> Often:
        left = 0 if len(children) == 1 else children[2].count
        if left and children[2].number is None and children[2].place in ("sts", "chs"):
            left = -1  # "to last sts" says no number
        return Often("to end", left, children[0])

    def amount(self, children: list[Any]) -> _Amount:
        number = next((int(child) for child in _of_type(children, "NUMBER")), None)
        return _Amount(number, next(iter(_of_type(children, "ST", "CH")), None))

    def star(self, children: list[Any]) -> ReadRepeat:
        return ReadRepeat(_without_stops(children[1])[0], children[-1], star=True)

    def group(self, children: list[Any]) -> ReadRepeat:
        return ReadRepeat(_without_stops(children[1])[0], _in_all(children[-1]), star=False)

    def following(self, children: list[Any]) -> ReadRepeat:
        return ReadRepeat(_without_stops(children[2])[0], _in_all(children[1]), star=False)

    def more(self, children: list[Any]) -> Often:
        return _often("more", children)

    def times(self, children: list[Any]) -> Often:
        return _often("unclear", children)

    def in_all(self, children: list[Any]) -> Often:
        return _often("in all", children)


def _listed(step: Any) -> list[Any]:  # noqa: ANN401 — a step, or several that one token made
    return step if isinstance(step, list) else [step]


def _without_stops(items: list[Any]) -> tuple[tuple[Step, ...], int]:
    """Give the steps, and how many stand before the last full stop."""
    stops = _only(items, _Stop)
    steps = tuple(item for item in items if not isinstance(item, _Stop))
    return steps, stops[-1].at - len(stops) + 1 if stops else 0


def count_of(steps: tuple[Step, ...]) -> Count:
    """Take steps for the count of a row: "6 BLsc, 2 FLdc"; what is more than numbers and stitches is no count."""
    runs = [step for step in steps if isinstance(step, ReadRun) and step.bare]
    at = first_word(steps)
    kinds = tuple((run.word, run.count) for run in runs)
    return Count(sum(run.count for run in runs), at, kinds, sound=len(runs) == len(steps))


def first_word(steps: tuple[Step, ...]) -> Token:
    """Give the first stitch word of some steps."""
    step = steps[0]
    return step.word if isinstance(step, ReadRun) else first_word(step.steps)


def _runs(words: Token, number: Token | None) -> list[ReadRun]:
    """Take runs in the writer's words apart; a number before them belongs to the first."""
    found = []
    column, line = words.column or 1, words.line
    for text in str(words).split(", "):
        name, where, count = _run_words(text)
        word = Token("STITCH", name, None, line, column)
        last = None
        if where == "last":
            last = Token("LAST", "last", None, line, column + len(name) + len(" in "))
        if number is not None:
            found.append(_run(word, number, _Where(False, None, _Amount(count, None), last)))
            number = None
        else:
            found.append(ReadRun(word, count, None, last))
        column += len(text) + len(", ")
    return found


@lru_cache(maxsize=4096)
def _run_words(text: str) -> tuple[str, str, int]:
    name, _, where, *rest = text.split(" ")
    return name, where, int(rest[0]) if len(rest) == 2 else 1


def _chain(children: list[Any]) -> Token | None:
    return next(iter(_of_type(children, "CH")), None)


def _role(token: str) -> Role:
    return "CC" if token == "CC" else "MC"


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


_ENDS_STEP = {"_SEMI", "_COMMA", "_THEN", "_COLON", "_DOT"}
_BEFORE_PLACES = {"IN", "EACH", "NUMBER", "NEXT", "LAST", "ORDINAL"}
_NO_COUNT = {"turn", "wrong side", "chain"}

LONGEST_QUOTED = 40
"""A fault quotes so many characters of one word."""


def quoted(text: str) -> str:
    """Quote the words of a text, but not without end."""
    return repr(text if len(text) <= LONGEST_QUOTED else text[:LONGEST_QUOTED] + "…")


class _Reading:
    """The tokens of a line on their way through the parser, and the faults they meet."""

    def __init__(self, tokens: list[Token], text_of: Callable[[Token], str]) -> None:
        self.tokens, self.text_of = tokens, text_of
        self.row = row_of(tokens)
        self.faults: list[Fault] = []
        self.malformed = False
        self.shaped = 0  # up to this token a fault has said what changes the count

    def fault(self, kind: Kind, token: Token, expected: str, sentence: str) -> None:
        self.malformed = self.malformed or kind in ("malformed", "shaping")
        self.faults.append(Fault(kind, token.line or 1, token.column or 1, self.row, sentence, expected))

    def found(self, token: Token) -> str:
        return quoted(self.text_of(token))

    def shaping(self, k: int) -> bool:
        """Say what changes the count in the step around a token, if anything does there; once for each step."""
        if k < self.shaped:
            return True
        if self.row is None:
            return False
        start, stop = self.step_around(k)
        spaces = [number for number in range(start, stop) if self.tokens[number] == "space"]
        numbered = False
        for number in range(start, stop):
            key = self.shape_at(start, number, stop, numbered, bool(spaces) and spaces[-1] >= number)
            numbered = numbered or self.tokens[number].type == "NUMBER"
            if key:
                self.shaped = stop
                token = self.tokens[number]
                subject = f"more than one stitch stands before {self.found(token)}, which"
                subject = subject if token.type == "IN" else self.found(token)
                law = "" if key in _NO_COUNT else f"; {NEVER}"
                sentence = f"{subject} {SHAPING[key][1]}{law}."
                self.fault("shaping", token, "one stitch in each place", sentence)
                return True
        return False

    def shape_at(self, start: int, number: int, stop: int, numbered: bool, spaced: bool) -> str:
        """Tell what a token of a step does to the count, as a key of `SHAPING`; empty if nothing.

        Whether a number stands before it in the step, and a space under chains at it or behind, is known to the caller.
        """
        before = self.tokens[number - 1].type if number > start else ""
        token, after = self.tokens[number], self.tokens[number + 1].type if number + 1 < stop else ""
        if token.type == "SHAPING":
            return str(token)
        if token.type == "CH":
            if spaced:
                return "space"
            return "" if before in _BEFORE_PLACES and after != "NUMBER" else "chain"
        if token.type == "IN":
            return "increase" if (numbered and after == "NUMBER") or before in ("RPAR", "RSQ", "RBRACE") else ""
        return ""

    def step_around(self, k: int) -> tuple[int, int]:
        """Give the tokens of the step that a token stands in: first, and behind the last."""
        start = k
        while start and self.tokens[start - 1].type not in _ENDS_STEP:
            start -= 1
        stop = k
        while stop < len(self.tokens) and (stop == k or self.tokens[stop].type not in _ENDS_STEP):
            stop += 1
        return start, stop

    def parse(self, start: str, at: int) -> tuple[Any, int]:
        """Parse from a token on: what the rest of the line says, and where the first malformed place is, if any."""
        state = _lark().parse_interactive(start=start)
        for k in range(at, len(self.tokens)):
            token = self.tokens[k]
            if len(self.faults) >= MOST_FAULTS:
                return None, len(self.tokens)
            if token.type == "UNKNOWN":
                expected = _expected(state)
                why = "is no whole number" if token[0] in "0123456789" else "is not known"
                sentence = f"expected {expected}, found {self.found(token)}, which {why}."
                self.fault("unknown", token, expected, sentence)
            elif token.type == "SHAPING":
                if not self.shaping(k):
                    expected = _expected(state)
                    self.fault("unknown", token, expected, f"expected {expected}, found {self.found(token)}.")
                token = Token.new_borrow_pos("UNKNOWN", token, token)
            try:
                state.feed_token(token)
            except UnexpectedToken:
                if token.type == "UNKNOWN":
                    self.malformed = True  # said already, and passed over
                    continue
                if not self.shaping(k):
                    expected = _expected(state)
                    self.fault("malformed", token, expected, f"expected {expected}, found {self.found(token)}.")
                return None, k
        last = self.tokens[-1]
        try:
            return state.feed_eof(last), len(self.tokens)  # type: ignore[no-untyped-call] # Lark has no types there
        except UnexpectedToken:
            if not self.shaping(len(self.tokens) - 1):
                end = Token("$END", "", line=last.end_line, column=last.end_column)
                expected = _expected(state)
                self.fault("malformed", end, expected, f"expected {expected}, but the line ends.")
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
