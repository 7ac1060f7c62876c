"""Written rows back into a chart, or all that is wrong with them.

Reading is tolerant of how people type and strict in what it takes to be meant: where words say two things, and
nothing in the text settles which, it says so and takes neither. Rows are read in working order, row 1 first.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np
from lark import Token

from mosaickit.colours import CREAM, INK, Yarn, Yarns, checked_name
from mosaickit.errors import MosaickitError, OptionError, one_of
from mosaickit.fabric import Chart
from mosaickit.orientation import Hand, Role, role_of_row
from mosaickit.wording.faults import (
    A_TRIED_LINE,
    LONGEST_TEXT,
    MOST_FAULTS,
    MOST_WORDS,
    TOO_MANY_WORDS,
    Fault,
    Kind,
    WordingError,
    counted,
)
from mosaickit.wording.lexing import LONGEST_NUMBER
from mosaickit.wording.lexing import tokens as tokens_of
from mosaickit.wording.lines import (
    FoundationLine,
    Line,
    MultipleLine,
    NameLine,
    RowLine,
    TermsLine,
    WorkedLine,
    YarnLine,
    YarnsLine,
)
from mosaickit.wording.parsing import parse_line, quoted, row_of
from mosaickit.wording.rows import RowAsRead, Rows
from mosaickit.wording.terms import NOISE, PHRASES, STITCH_NAMES, TERMS, Terms

T = TypeVar("T")


@dataclass(frozen=True, eq=False)
class Reading:
    """What a text says.

    Attributes
    ----------
    chart : Chart
        Its chart.
    rows : tuple of RowAsRead
        Its rows, row 1 first, with the place in the text of every stitch.
    terms : "US" or "UK"
        The terms it was read in.
    notes : tuple of str
        What was settled by other words of the text, as sentences with their places.
    """

    chart: Chart
    rows: tuple[RowAsRead, ...]
    terms: Terms
    notes: tuple[str, ...]


class _Text:
    """A text being read: what its lines said so far, and their faults."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []
        self.notes: list[str] = []
        self.terms_line: TermsLine | None = None
        self.name: NameLine | None = None
        self.worked: WorkedLine | None = None
        self.yarns: dict[Role, tuple[tuple[int, Yarn], ...]] = {}
        self.foundation: FoundationLine | None = None
        self.lines: list[RowLine] = []
        self.stitch_words: dict[str, Token] = {}
        self.multiple: MultipleLine | None = None
        self.has_yarns: YarnsLine | None = None
        self.told_hands: list[tuple[Hand, Token]] = []
        self.told_last_row: tuple[int, Token] | None = None
        self.written: list[str] = []
        self.words = 0

    def fault(self, kind: Kind, at: Token, row: int | None, sentence: str, expected: str) -> None:
        self.faults.append(Fault(kind, at.line or 1, at.column or 1, row, sentence, expected))
        self.stop_at_most()

    def stop_at_most(self) -> None:
        if len(self.faults) >= MOST_FAULTS:
            raise WordingError.of(self.faults[:MOST_FAULTS])

    # ---- lines -----------------------------------------------------------------------------------------

    def read_lines(self, text: str) -> None:
        self.written = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
        self.words = len(self.written) - 1
        if self.words > MOST_WORDS:
            raise WordingError(TOO_MANY_WORDS)
        prose = False
        row: list[Token] = []  # of the row that is being read, which may go on over several lines
        for number, line in enumerate(self.written, 1):
            if prose and line and not line.isspace() and not _MAY_LEAD.match(line):
                self.remark(line, number)
                continue
            found = self.tokens(line, number) if line and not line.isspace() else []
            if row and found and _goes_on(found):
                row += found
                continue
            self.read_row(row)
            row = []
            if not found:
                prose = prose and bool(line.strip())
            elif found[0].type == "PROSE":
                prose = True
                self.remark(line, number)
            elif not prose or _starts_a_row(found) or self.is_heading(found):
                prose = False
                if found[0].type in ("ROW", "REP"):
                    row = found
                else:
                    self.read_line(found)
            else:
                self.remark(line, number)
        self.read_row(row)

    def tokens(self, line: str, number: int) -> list[Token]:
        found = tokens_of(line, number, max(MOST_WORDS - self.words, 0))
        self.words += len(found)
        return found

    def is_heading(self, found: list[Token]) -> bool:
        """Whether a line among remarks is one of those above the rows after all."""
        kinds = tuple(token.type for token in found[:3])
        if kinds[:2] in _HEADINGS or kinds == ("ROLE", "_COLON", "STRING"):
            return True
        if kinds[:2] not in _LIKE_HEADINGS:
            return False
        self.words += A_TRIED_LINE
        value, faults = parse_line(found, self.text_of)
        return value is not None and not faults

    def remark(self, line: str, number: int) -> None:
        """Note what a remark says that has to agree with the rest of the text."""
        for pattern in (_EDGE, _TOWARDS, _HANDED):
            for match in pattern.finditer(line):
                side: Hand = "left" if match.group(1).lower() == "left" else "right"
                other: Hand = "left" if side == "right" else "right"
                start, end = match.span()
                at = Token("HANDED", match.group(), start, number, start + 1, number, end + 1, end)
                self.told_hands.append((other if pattern is _TOWARDS else side, at))
        last = _LAST_ROW.search(line)
        if last:
            at = Token("NUMBER", last.group(1), last.start(1), number, last.start(1) + 1)
            self.told_last_row = int(last.group(1)[:LONGEST_NUMBER]), at
        if _ABBREVIATION.match(line):
            self.abbreviation(self.tokens(line, number))

    def abbreviation(self, found: list[Token]) -> None:
        """Hold the meaning of an abbreviation against that of the word."""
        if len(found) < 3 or found[1].type != "_COLON" or found[0].type not in ("STITCH", "ROLE"):
            return
        short, meant = found[0], found[2]
        if meant.type == short.type and not (short == meant or short.endswith(meant) or short.startswith("tog")):
            sentence = f"the text says that {self.text_of(short)!r} is {self.text_of(meant)!r}, but here it is {short}."
            self.fault("ambiguous", short, None, sentence, str(short))

    def text_of(self, token: Token) -> str:
        return self.written[(token.line or 1) - 1][token.start_pos : token.end_pos]

    def found(self, token: Token) -> str:
        return quoted(self.text_of(token))

    def read_row(self, found: list[Token]) -> None:
        if found:
            self.read_line(found)

    def read_line(self, found: list[Token]) -> None:
        if found[0].type not in _FIRST:
            expected = "a row as 'Row 1 (MC): …' or a heading as 'Notes:'"
            kind: Kind = "unknown" if found[0].type == "UNKNOWN" else "malformed"
            sentence = f"expected {expected}, found {self.found(found[0])}; remarks stand under 'Notes:'."
            self.fault(kind, found[0], None, sentence, expected)
            return
        value, faults = parse_line(found, self.text_of)
        self.faults += faults
        self.stop_at_most()
        if isinstance(value, RowLine):
            self.lines.append(value)
            for token in found:
                if token.type == "STITCH":
                    self.stitch_words.setdefault(str(token), token)
                elif token.type == "RUN":
                    for run in set(str(token).split(", ")):
                        self.stitch_words.setdefault(run.partition(" ")[0], token)
        elif value is not None:
            self.heading(value)

    def heading(self, value: Line) -> None:
        if isinstance(value, TermsLine):
            self.terms_line = self.once(self.terms_line, value, value.at, "the terms")
        elif isinstance(value, NameLine):
            self.name = self.once(self.name, value, value.at, "the name")
            try:
                checked_name("A chart's name", value.name)
            except MosaickitError as error:
                self.fault("malformed", value.at, None, str(error), "a name")
        elif isinstance(value, WorkedLine):
            self.worked = self.once(self.worked, value, value.at, "how it is worked")
        elif isinstance(value, YarnsLine):
            self.has_yarns = self.once(self.has_yarns, value, value.at, "the yarns")
        elif isinstance(value, MultipleLine):
            self.multiple = self.once(self.multiple, value, value.at, "the multiple")
        elif isinstance(value, FoundationLine):
            self.foundation = self.once(self.foundation, value, value.chains.at, "the foundation")
        elif isinstance(value, YarnLine):
            self.once(self.yarns.get(value.role), value, value.at, f"the yarn of {value.role}")
            try:
                changes = tuple((row, Yarn(name, colour)) for row, name, colour in value.changes)
                self.yarns[value.role] = Yarns(mc=changes).mc
            except MosaickitError as error:
                self.fault("malformed", value.at, None, str(error), "a yarn's name and colour")

    def once(self, before: Any, value: T, at: Token, what: str) -> T:  # noqa: ANN401 — what was read before, if anything
        if before is not None:
            self.fault("malformed", at, None, f"expected {what} once, found it a second time.", "nothing more")
        return value

    # ---- terms -----------------------------------------------------------------------------------------

    def settle_terms(self, told: Terms | None) -> Terms:
        stated = self.terms_line.terms if self.terms_line else None
        if told and stated and told != stated and self.terms_line:
            sentence = f"the text says that it is in {stated} terms, but it is to be read in {told} terms."
            self.fault("ambiguous", self.terms_line.at, None, sentence, f"{told} terms")
        if told or stated:
            return told or stated or "US"
        only: dict[Terms, Token] = {}
        words: dict[Terms, str] = {}
        for word, token in self.stitch_words.items():
            knowing = [terms for terms in TERMS if word in STITCH_NAMES[terms]]
            if len(knowing) == 1 and word not in ("sc", "dc"):
                only.setdefault(knowing[0], token)
                words.setdefault(knowing[0], word)
        doubtful = next((word for word in ("sc", "dc") if word in self.stitch_words), None)
        if len(only) == 2:
            sentence = f"{words['US']} is a US word and {words['UK']} a UK word: say on the first line which it is."
            self.fault("ambiguous", only["UK"], None, sentence, "one of the two terms")
        elif not only and doubtful is not None:
            sentence = f"{doubtful} {_TWO_MEANINGS[doubtful]}; {_CURE}"
            self.fault("ambiguous", self.stitch_words[doubtful], None, sentence, "the terms")
        return next(iter(only), "UK" if doubtful == "dc" else "US")

    # ---- rows ------------------------------------------------------------------------------------------

    def in_the_round(self) -> bool:
        """Settle rows or rounds by the heading, or by the first row that says it."""
        labels = [line for line in self.lines if line.label is not None]
        worked = self.worked.in_the_round if self.worked else bool(labels) and labels[0].in_the_round
        for line in labels:
            if line.in_the_round != worked:
                word, other = ("Rnd", "Row") if worked else ("Row", "Rnd")
                sentence = f"expected {word!r}, as the work is {'in the round' if worked else 'flat'}; found {other!r}."
                self.fault("row", line.at, line.label.first if line.label else None, sentence, repr(word))
                break
        return worked

    def reading(self, told: Terms | None) -> Reading:
        terms = self.settle_terms(told)
        in_the_round = self.in_the_round()
        base = self.foundation.chains.stitches - (not in_the_round) if self.foundation else None
        rows = Rows(terms, in_the_round, base if base else None, self.fault, self.note)
        labels = [line.label.first if line.label else None for line in self.lines]
        for line, following in zip(self.lines, [*labels[1:], None], strict=False):
            rows.take(line, following)
        first = rows.first_role(self.foundation.role if self.foundation else None)
        self.check_foundation(rows, base, first, in_the_round)
        self.check_told(rows, in_the_round)
        if not self.lines and not self.faults:
            raise WordingError("The text has no row; expected lines as 'Row 1 (MC): sc in next 16 sts. (16 sts)'.")
        # of a row that is malformed the colour may be lost as well
        if first is None and self.lines and all(line.body is not None for line in self.lines):
            sentence = "no row says its colour; expected (MC) or (CC) in row 1."
            self.fault("ambiguous", self.lines[0].at, 1, sentence, "MC or CC")
        read = tuple(row for row in rows.read if row is not None)
        if self.faults or first is None or len(read) < len(rows.read):
            raise WordingError.of(self.faults)
        yarns = Yarns(self.yarns.get("MC", CREAM), self.yarns.get("CC", INK))
        self.check_changes(rows, yarns, first)
        if self.faults:
            raise WordingError.of(self.faults)
        chart = Chart(
            np.stack([row.stitches for row in read]),
            tuple(role_of_row(row.row, first) for row in read),
            yarns=yarns,
            hand=(self.worked.hand if self.worked else None) or "right",
            in_the_round=in_the_round,
            name=self.name.name if self.name else "",
        )
        return Reading(chart, read, terms, tuple(self.notes))

    def check_foundation(self, rows: Rows, base: int | None, first: Role | None, in_the_round: bool) -> None:
        if self.multiple is not None and rows.width is not None:
            self.check_multiple(self.multiple, rows.width, in_the_round)
        if self.foundation is None:
            return
        at, role, join = self.foundation.chains.at, self.foundation.role, self.foundation.join
        if rows.width is not None and rows.width != base:
            more = "" if in_the_round else " and one to start row 1"
            wanted = counted(rows.width + (not in_the_round), "chain")
            many = counted(rows.width, "stitch", "stitches")
            sentence = f"expected {wanted}, one for each of {many}{more}; found {at!s}."
            self.fault("count", at, None, sentence, wanted)
        if join is not None and not in_the_round:
            sentence = "the foundation is joined, which is work in the round, but the work is flat."
            self.fault("ambiguous", join, None, sentence, "no 'join', or 'Worked in the round'")
        if role is not None and first is not None and role != first:
            sentence = f"expected the foundation in {first}, as row 1 is worked into it; found {role}."
            self.fault("colour", at, None, sentence, first)

    def check_multiple(self, said: MultipleLine, width: int, in_the_round: bool) -> None:
        repeat, plus, chains = said.stitches, said.plus, said.more_chains
        if not repeat or width < repeat + plus or (width - plus) % repeat:
            sentence = (
                f"the rows have {counted(width, 'stitch', 'stitches')}, which is no multiple of {repeat} plus {plus}."
            )
            self.fault("count", said.at, None, sentence, "what the rows are a multiple of")
        if chains is not None and chains != (not in_the_round):
            sentence = f"expected {counted(not in_the_round, 'chain')} more than stitches; found {chains}."
            self.fault("count", said.at, None, sentence, "as many chains as the foundation has")

    def check_told(self, rows: Rows, in_the_round: bool) -> None:
        """Hold what the remarks say against what the other lines do."""
        hand = self.worked.hand if self.worked else None
        for told, at in self.told_hands:
            if told != (hand or "right"):
                what = f"the work is {hand}-handed" if hand else "no line says so, and the work would be right-handed"
                sentence = f"{self.text_of(at)!r} is {told}-handed work, but {what}; write 'Worked … , {told}-handed'."
                self.fault("ambiguous", at, None, sentence.replace("… ", _how(in_the_round)), f"a {told} hand")
                break
        count = len(rows.read)
        if self.told_last_row is not None and self.told_last_row[0] != count and not self.faults:
            last, at = self.told_last_row
            word = "round" if in_the_round else "row"
            sentence = f"the work is said to end after {word} {last}, but the text has {counted(count, word)}."
            self.fault("row", at, None, sentence, f"{word} {count}")

    def check_changes(self, rows: Rows, yarns: Yarns, first: Role) -> None:
        """Hold the changes of yarn that rows speak of against the lines of the yarns."""
        for row, name, at in rows.changes:
            role = role_of_row(row, first)
            now, before = yarns.at(row, role), yarns.at(row - 2, role)
            if now.name != name or row < 3 or now == before:
                have = f"has {now.name!r} from the start" if now == yarns.at(1, role) else f"has {now.name!r}"
                if now.name == name:
                    have = f"already has {name!r}"
                sentence = f"row {row} changes to {name!r}, but by the lines of the yarns {role} {have} there."
                self.fault("colour", at, row, sentence, f"{now.name!r}")

    def note(self, at: Token, row: int, sentence: str) -> None:
        self.notes.append(f"Line {at.line}, column {at.column} (row {row}): {sentence}")


_TWO_MEANINGS = {
    "sc": "is a stitch of its own in US terms, but a slip stitch in old UK ones",
    "dc": "is a double crochet in US terms, but what US terms call sc in UK ones",
}
_CURE = "say 'Written in US terms' or 'Written in UK terms' on the first line, or give `terms`."

_FIRST = {
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
}

# a line among remarks is looked at word by word only if it starts with a word that a heading or a row may start with
_LEADING = sorted({word for word, phrases in PHRASES.items() if any(p.type in _FIRST | {"PROSE"} for p in phrases)})
_MAY_LEAD = re.compile(
    rf"\W*(?:(?:{'|'.join(sorted(NOISE))})\b\W*)*(?:{'|'.join(_LEADING)})(?![^\W\d_])", re.IGNORECASE
)

# what remarks say, in the words of `remarks`, of the hand and the last row, and where they give a word's meaning


def _remark(words: str) -> re.Pattern[str]:
    """Find words whatever spaces and words that carry nothing stand between them."""
    letter = r"[^\W\d_]"
    gap = rf"\s+(?:(?:{'|'.join(sorted(NOISE))})(?!{letter})\s*)*"
    return re.compile(rf"(?<!{letter}){words.replace(' ', gap)}(?!{letter})", re.IGNORECASE)


_EDGE = _remark(r"starts? at (left|right)-hand edge")
_TOWARDS = _remark(r"worked towards (left|right)")
_HANDED = re.compile(r"\bworked\b[^.:]{0,60}\b(left|right)-handed\b", re.IGNORECASE)
_LAST_ROW = _remark(r"after (?:row|rnd|round) ([0-9]+) cut all")
_ABBREVIATION = re.compile(r"\s*[A-Za-z][A-Za-z -]{0,40}:\s")


def _how(in_the_round: bool) -> str:
    return "in the round" if in_the_round else "flat"


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


def read_closely(text: str, *, terms: Terms | None = None) -> Reading:
    """Read written rows, and keep where in the text every stitch stands; `read_rows` says how.

    Parameters
    ----------
    text : str
        The whole text.
    terms : "US" or "UK", optional
        The terms of the stitches, if the text does not say.

    Returns
    -------
    Reading
        The chart, its rows as read, the terms, and notes on what other words settled.

    Raises
    ------
    OptionError, WordingError
        As `read_rows`.

    Examples
    --------
    >>> reading = read_closely("Row 1 (MC): *sc in next 2 sts; rep from * twice. (6 sts)", terms="US")
    >>> reading.notes
    ("Line 1, column 43 (row 1): 'twice' is taken as 3 times in all, as the row's count is 6.",)
    """
    if not isinstance(text, str):
        raise OptionError(f"`text` must be a str; got {type(text).__name__}.")
    if terms is not None:
        one_of("terms", terms, TERMS)
    if len(text) > LONGEST_TEXT:
        raise WordingError(f"A text has at most {LONGEST_TEXT:,} characters; this one has {len(text):,}.")
    reader = _Text()
    reader.read_lines(text)
    return reader.reading(terms)


def read_rows(text: str, *, terms: Terms | None = None) -> Chart:
    """Read written rows back into their chart.

    Upper and lower case, spaces, dashes and the usual spellings (`st`, `sts`, `stitches`, `rep`, `repeat`, "4 BLsc",
    "BLsc in next 4 sts") are one. Remarks stand under "Notes:", up to an empty line, and are passed over.

    Parameters
    ----------
    text : str
        The whole text, as `write_rows` gives it or as people type it.
    terms : "US" or "UK", optional
        The terms of the stitches, if the text does not say.

    Returns
    -------
    Chart
        (R, N) stitches in working order. What the text leaves out is as for any chart: cream and ink blue yarn, flat,
        right-handed, no name.

    Raises
    ------
    OptionError
        If `text` is no str or `terms` no terms.
    WordingError
        If the text is too long or holds no chart; its `faults` are all that is wrong, with line, column and row.

    Examples
    --------
    >>> print(read_rows('''
    ... Written in US terms
    ... Row 1 (MC): 8 sc (8 sts)
    ... Row 2 (CC): BLsc across
    ... Row 3 (MC): [blsc in next 2 sts, FLdc in next st] twice; BLsc in last 2 sts - 8 sts
    ... ''').to_text())
    ..|..|..
    ........
    ........
    """
    return read_closely(text, terms=terms).chart
