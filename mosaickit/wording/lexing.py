"""One line of text into tokens: words that the lexicon of a language knows, numbers, quoted names, colours, marks.

Nothing is refused here: what is no word of the trade becomes an UNKNOWN token, and the grammar says where it stands.
Upper and lower case are one, spaces do not count, and a hyphen within a word ("tog-b") may be any dash or a space.
Runs in the very words of the writer ("BLsc in next 4 sts, FLdc in next st") are one token, which makes long texts
quick to read.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from lark import Token

from mosaickit.errors import WordingError
from mosaickit.wording.english_words import ENGLISH_WORDS
from mosaickit.wording.faults import MOST_WORDS, TOO_MANY_WORDS
from mosaickit.wording.lexicon import HYPHENED, MARKS, Lexicon, Phrase

LONGEST_NUMBER = 18
"""Of a number of more digits so many nines are read: both are far beyond all limits."""


class _Piece(NamedTuple):
    kind: str
    text: str
    start: int
    end: int


def _matches(line: str, lexicon: Lexicon) -> Iterator[re.Match[str]]:
    """Find the pieces; a run is taken apart where the word or dash before it belongs to its stitch ("BL sc")."""
    joins = False
    for match in lexicon.pieces.finditer(line):
        kind = match.lastgroup
        if kind == "RUN" and joins:
            yield from lexicon.pieces_without_runs.finditer(line, match.start(), match.end())
        else:
            yield match
        joins = kind == "WORD" or (kind == "MARK" and MARKS.get(match.group()) == "_DASH")


def _pieces(line: str, most: int, lexicon: Lexicon) -> list[_Piece]:
    pieces: list[_Piece] = []
    for match in _matches(line, lexicon):
        kind = match.lastgroup or "MARK"
        start, end = match.span()
        text = match.group()
        if kind == "WORD":
            text = text.lower()
        # a word that is glued to a number, as in "Row 1a", is no noise: it makes another number of it
        if kind != "WORD" or text not in lexicon.noise or line[start - 1 : start].isalnum():
            if len(pieces) == most:
                raise WordingError(TOO_MANY_WORDS)
            pieces.append(_Piece(kind, text, start, end))
    return pieces


def _is_dash(piece: _Piece) -> bool:
    return MARKS.get(piece.text) == "_DASH"


def _match(phrase: Phrase, pieces: list[_Piece], at: int) -> int:
    """Give the index after the phrase if it stands at `at`, 0 otherwise; hyphens may join some, as in "tog-b"."""
    for word in phrase.words:
        if phrase.type in HYPHENED and at < len(pieces) and _is_dash(pieces[at]):
            at += 1
        if at >= len(pieces) or pieces[at].kind != "WORD" or pieces[at].text != word:
            return 0
        at += 1
    return at


def tokens(line: str, number: int = 1, most: int = MOST_WORDS, *, lexicon: Lexicon = ENGLISH_WORDS) -> list[Token]:
    """Split a line into tokens, in the order of the grammar.

    Parameters
    ----------
    line : str
        One line of text.
    number : int
        Its number in the text, from 1.
    most : int
        How many pieces it may have.
    lexicon : Lexicon
        The words of its language.

    Returns
    -------
    list of Token
        With type, value, `line`, `column` from 1, `start_pos` and `end_pos` from 0 within the line.

    Raises
    ------
    WordingError
        If the line has more pieces than it may.

    Examples
    --------
    >>> [(token.type, str(token)) for token in tokens("blsc in the next 4 sts")]
    [('STITCH', 'BLsc'), ('IN', 'in'), ('NEXT', 'next'), ('NUMBER', '4'), ('ST', 'sts')]
    >>> [(token.type, str(token)) for token in tokens("BLsc in next 4 sts.")]
    [('RUN', 'BLsc in next 4 sts'), ('_DOT', '.')]
    """
    found: list[Token] = []
    pieces = _pieces(line, most, lexicon)
    at = 0
    while at < len(pieces):
        piece = pieces[at]
        type_, value, after = _token(pieces, at, lexicon)
        if type_ == "_THEN" and found and found[-1].type in ("_COMMA", "_SEMI", "_DOT"):
            found.pop()  # "; then" and ". Then" are one break
        end = pieces[after - 1].end
        found.append(Token(type_, value, piece.start, number, piece.start + 1, number, end + 1, end))
        at = after
    return lexicon.in_order(found)


def count_words(line: str, lexicon: Lexicon) -> int:
    """Count the tokens of a line, or a few more, as the limit on a text's words does."""
    return sum(1 for _ in _matches(line, lexicon))


def _token(pieces: list[_Piece], at: int, lexicon: Lexicon) -> tuple[str, str, int]:
    """Give type and value of the token at a piece, and the index after it."""
    kind, text, _, _ = pieces[at]
    if kind == "WORD":
        second = at + 1
        if second < len(pieces) and _is_dash(pieces[second]):
            second += 1
        if second < len(pieces):
            for phrase in lexicon.longer.get((text, pieces[second].text), ()):
                after = _match(phrase, pieces, at)
                if after:
                    return phrase.type, phrase.value, after
        alone = lexicon.alone.get(text)
        if alone is not None:
            return alone.type, alone.value, at + 1
    elif kind == "MARK":
        return MARKS.get(text, "UNKNOWN"), text, at + 1
    elif kind == "NUMBER" and len(text) > LONGEST_NUMBER:
        return kind, "9" * LONGEST_NUMBER, at + 1
    elif kind == "FUSED":
        return "SHAPING", "decrease", at + 1
    elif kind == "ORDINAL":
        return kind, text.rstrip(".ndrth"), at + 1
    elif kind not in ("UNCLOSED", "DECIMAL"):
        return kind, text, at + 1
    return "UNKNOWN", text, at + 1
