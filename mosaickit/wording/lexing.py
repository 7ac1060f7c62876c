"""One line of text into tokens: words that the table in `terms` knows, numbers, quoted names, colours, marks.

Nothing is refused here: what is no word of the trade becomes an UNKNOWN token, and the grammar says where it stands.
Upper and lower case are one, spaces do not count, and a hyphen within a word ("tog-b") may be any dash or a space.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from lark import Token

from mosaickit.wording.terms import MARKS, NOISE, PHRASES, Phrase

# a quoted name is bounded so that many unclosed quotes do not each search the rest of the line
_RAW = re.compile(
    r"""(?P<STRING>"(?:[^"\\]|\\.){0,200}+"|“[^“”]{0,200}+”)
      | (?P<COLOUR>\#[0-9a-fA-F]{6}(?!\w))
      | (?P<NUMBER>[0-9]+)
      | (?P<WORD>[^\W\d_]+)
      | (?P<MARK>\S)
    """,
    re.VERBOSE,
)

LONGEST_NUMBER = 18
"""Of a number of more digits so many nines are read: both are far beyond all limits."""


class _Piece(NamedTuple):
    kind: str
    text: str
    start: int
    end: int


def _pieces(line: str) -> list[_Piece]:
    pieces = []
    for match in _RAW.finditer(line):
        kind = match.lastgroup or "MARK"
        start, end = match.span()
        text = match.group()
        if kind == "WORD":
            text = text.lower()
        if kind != "WORD" or text not in NOISE:
            pieces.append(_Piece(kind, text, start, end))
    return pieces


def _is_dash(piece: _Piece) -> bool:
    return MARKS.get(piece.text) == "_DASH"


def _match(phrase: Phrase, pieces: list[_Piece], at: int) -> int:
    """Give the index after the phrase if it stands at `at`, 0 otherwise; a dash may stand between its words."""
    for word in phrase.words:
        if at < len(pieces) and _is_dash(pieces[at]):
            at += 1
        if at >= len(pieces) or pieces[at].kind != "WORD" or pieces[at].text != word:
            return 0
        at += 1
    return at


def tokens(line: str, number: int = 1) -> list[Token]:
    """Split a line into tokens.

    Parameters
    ----------
    line : str
        One line of text.
    number : int
        Its number in the text, from 1.

    Returns
    -------
    list of Token
        With type, value, `line`, `column` from 1, `start_pos` and `end_pos` from 0 within the line.

    Examples
    --------
    >>> [(token.type, str(token)) for token in tokens("BLsc in the next 4 sts")]
    [('STITCH', 'BLsc'), ('IN', 'in'), ('NEXT', 'next'), ('NUMBER', '4'), ('ST', 'st')]
    """
    found: list[Token] = []
    pieces = _pieces(line)
    at = 0
    while at < len(pieces):
        piece = pieces[at]
        type_, value, after = _token(pieces, at)
        if type_ == "_THEN" and found and found[-1].type in ("_COMMA", "_SEMI", "_DOT"):
            found.pop()  # "; then" and ". Then" are one break
        end = pieces[after - 1].end
        found.append(Token(type_, value, piece.start, number, piece.start + 1, number, end + 1, end))
        at = after
    return found


def _token(pieces: list[_Piece], at: int) -> tuple[str, str, int]:
    """Give type and value of the token at a piece, and the index after it."""
    kind, text, _, _ = pieces[at]
    if kind == "WORD":
        for phrase in PHRASES.get(text, ()):
            after = _match(phrase, pieces, at)
            if after:
                return phrase.type, phrase.value, after
    elif kind == "MARK":
        return MARKS.get(text, "UNKNOWN"), text, at + 1
    elif kind == "NUMBER" and len(text) > LONGEST_NUMBER:
        return kind, "9" * LONGEST_NUMBER, at + 1
    else:
        return kind, text, at + 1
    return "UNKNOWN", text, at + 1
