"""From the tokens of a line to its value: what the parser makes of each rule of grammar.lark, from the inside out."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from lark import Lark, Token, Transformer

from mosaickit.orientation import Hand, Role
from mosaickit.wording.faults import FaultKind
from mosaickit.wording.lines import (
    Count,
    FoundationLine,
    How,
    MultipleLine,
    NameLine,
    Often,
    ReadRepeat,
    ReadRun,
    ReadStep,
    RowLine,
    RowsAgain,
    Span,
    TermsLine,
    WorkedLine,
    YarnLine,
    YarnsLine,
    count_of,
)
from mosaickit.wording.runs import HowMany, Where, run_of, runs_of


@dataclass(frozen=True, slots=True)
class _Onward:
    """The stitch of the step before, as far as this says: the end of "in 2nd ch from hook and in each ch across"."""

    where: Where


class _Stop(NamedTuple):
    """A full stop between steps."""

    at: int


class _Build(Transformer[Token, Any]):
    """Make a value of each rule, from the inside out."""

    def terms(self, children: list[Any]) -> TermsLine:
        said = _of_type(children, "NATION", "LANGUAGE")[0]
        return TermsLine("de" if said == "de" else "UK" if said == "UK" else "US", said)

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

    def steps(self, children: list[Any]) -> tuple[tuple[ReadStep, ...], Count | None, int]:
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

    def items(self, children: list[Any]) -> list[ReadStep | _Stop]:
        if len(children) == 1:
            return _listed(children[0])
        steps: list[ReadStep | _Stop] = children[0]
        if isinstance(children[-1], _Onward):
            before = steps[-1]
            if isinstance(before, ReadRun):
                steps.append(run_of(before.word, None, children[-1].where))
            else:
                where = children[-1].where
                at = children[1] if where.often is None else where.often.at
                at = Token.new_borrow_pos("UNKNOWN", at, at)  # no stitch, as the fault says
                wrong: tuple[FaultKind, str, str] = ("malformed", "expected which stitch goes on across.", "a stitch")
                steps.append(ReadRun(at, 1, where.often, wrong=wrong))
        else:
            steps += _listed(children[-1])  # in place: a long row would otherwise be copied at every step
        return steps

    def sentence(self, children: list[Any]) -> list[ReadStep | _Stop]:
        steps: list[ReadStep | _Stop] = children[0]
        steps += [_Stop(len(steps)), *_listed(children[-1])]
        return steps

    def run(self, children: list[Any]) -> ReadRun | list[ReadRun]:
        word = _of_type(children, "STITCH", "UNKNOWN", "RUN")[0]
        number = next(iter(_of_type(children, "NUMBER")), None)
        if word.type == "RUN":
            return runs_of(word, number)
        return run_of(word, number, next(iter(_only(children, Where)), None))

    def onward(self, children: list[Any]) -> _Onward:
        return _Onward(children[0])

    def where(self, children: list[Any]) -> Where:
        if isinstance(children[0], Where):
            return children[0]
        ordinal = next(iter(_of_type(children, "ORDINAL")), None)
        if ordinal is not None:
            return Where(False, chain=children[2], ordinal=ordinal)
        amount: HowMany = children[-1]
        last = next(iter(_of_type(children, "LAST")), None)
        return Where(bool(_of_type(children, "EACH")), None, amount, last, _chain([amount.place]))

    def across(self, children: list[Any]) -> Where:
        often = next(iter(_only(children, Often)), None)
        each = _of_type(children, "EACH")
        return Where(bool(each), often or Often("to end", 0, children[-1]), chain=_chain(children))

    def reach(self, children: list[Any]) -> Often:
        left = 0 if len(children) == 1 else children[2].count
        if left and children[2].number is None and children[2].place in ("sts", "chs"):
            left = -1  # "to last sts" says no number
        return Often("to end", left, children[0])

    def amount(self, children: list[Any]) -> HowMany:
        number = next((int(child) for child in _of_type(children, "NUMBER")), None)
        return HowMany(number, next(iter(_of_type(children, "ST", "CH")), None))

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


def _without_stops(items: list[Any]) -> tuple[tuple[ReadStep, ...], int]:
    """Give the steps, and how many stand before the last full stop."""
    stops = _only(items, _Stop)
    steps = tuple(item for item in items if not isinstance(item, _Stop))
    return steps, stops[-1].at - len(stops) + 1 if stops else 0


@lru_cache(maxsize=1)
def parser() -> Lark:
    """Give the parser of the grammar, which makes the values as it goes."""
    grammar = Path(__file__).with_name("grammar.lark").read_text("utf-8")
    return Lark(grammar, parser="lalr", lexer="basic", start=["start", "body"], transformer=_Build())


# ---- parts of a rule ---------------------------------------------------------------------------------------


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
