"""One line of text into tokens: words that the table in `terms` knows, numbers, quoted names, colours, marks.

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
from mosaickit.wording.faults import MOST_WORDS, TOO_MANY_WORDS
from mosaickit.wording.terms import HYPHENED, MARKS, NOISE, PHRASES, STITCH_NAMES, Phrase

_NAMES = "|".join(sorted({re.escape(name) for names in STITCH_NAMES.values() for name in names}, key=len, reverse=True))

_RUN = rf"(?:{_NAMES})\ in\ (?:next|last)\ (?:st|[0-9]{{1,5}}\ sts)(?=[,;.\]])"

# What an unclosed quote passed over is one piece, or many of them would each search the rest of the line. A number
# with a point or a thousands mark is no whole number; one that a "tog" is fused to is a decrease, as in sc2tog.
_PATTERN = rf"""(?P<STRING>"(?:[^"\\]|\\.){{0,200}}+"|“[^“”]{{0,200}}+”)
      | (?P<UNCLOSED>"(?:[^"\\]|\\.){{0,200}}+)
      | (?P<COLOUR>\#[0-9a-fA-F]{{6}}(?!\w))
      | (?P<RUN>{_RUN}(?:,\ {_RUN})*+)
      | (?P<DECIMAL>[0-9]+(?:[.,'/][0-9]+)++)
      | (?P<FUSED>[0-9]+[tT][oO][gG])
      | (?P<ORDINAL>[0-9]+(?:nd|rd|th)(?!\w))
      | (?P<NUMBER>[0-9]+)
      | (?P<WORD>[^\W\d_]+)
      | (?P<MARK>\S)
    """
_RAW = re.compile(_PATTERN, re.VERBOSE)
_RAW_WITHOUT_RUNS = re.compile(_PATTERN.replace("(?P<RUN>", "(?P<RUN>(?!)"), re.VERBOSE)

LONGEST_NUMBER = 18
"""Of a number of more digits so many nines are read: both are far beyond all limits."""


# phrases of one word by it, and longer ones by their first two words, the longest first
_ALONE: dict[str, Phrase] = {}
_LONGER: dict[tuple[str, str], list[Phrase]] = {}
for _phrase in (phrase for phrases in PHRASES.values() for phrase in phrases):
    if len(_phrase.words) == 1:
        _ALONE.setdefault(_phrase.words[0], _phrase)
    else:
        _LONGER.setdefault((_phrase.words[0], _phrase.words[1]), []).append(_phrase)


class _Piece(NamedTuple):
    kind: str
    text: str
    start: int
    end: int


def _matches(line: str) -> Iterator[re.Match[str]]:
    """Find the pieces; a run is taken apart where the word or dash before it belongs to its stitch ("BL sc")."""
    joins = False
    for match in _RAW.finditer(line):
        kind = match.lastgroup
        if kind == "RUN" and joins:
            yield from _RAW_WITHOUT_RUNS.finditer(line, match.start(), match.end())
        else:
            yield match
        joins = kind == "WORD" or (kind == "MARK" and MARKS.get(match.group()) == "_DASH")


def _pieces(line: str, most: int) -> list[_Piece]:
    pieces: list[_Piece] = []
    for match in _matches(line):
        kind = match.lastgroup or "MARK"
        start, end = match.span()
        text = match.group()
        if kind == "WORD":
            text = text.lower()
        # a word that is glued to a number, as in "Row 1a", is no noise: it makes another number of it
        if kind != "WORD" or text not in NOISE or line[start - 1 : start].isalnum():
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


def tokens(line: str, number: int = 1, most: int = MOST_WORDS) -> list[Token]:
    """Split a line into tokens.

    Parameters
    ----------
    line : str
        One line of text.
    number : int
        Its number in the text, from 1.
    most : int
        How many pieces it may have.

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
    pieces = _pieces(line, most)
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


def count_words(line: str) -> int:
    """Count the tokens of a line, or a few more, as the limit on a text's words does."""
    return sum(1 for _ in _matches(line))


def _token(pieces: list[_Piece], at: int) -> tuple[str, str, int]:
    """Give type and value of the token at a piece, and the index after it."""
    kind, text, _, _ = pieces[at]
    if kind == "WORD":
        second = at + 1
        if second < len(pieces) and _is_dash(pieces[second]):
            second += 1
        if second < len(pieces):
            for phrase in _LONGER.get((text, pieces[second].text), ()):
                after = _match(phrase, pieces, at)
                if after:
                    return phrase.type, phrase.value, after
        alone = _ALONE.get(text)
        if alone is not None:
            return alone.type, alone.value, at + 1
    elif kind == "MARK":
        return MARKS.get(text, "UNKNOWN"), text, at + 1
    elif kind == "NUMBER" and len(text) > LONGEST_NUMBER:
        return kind, "9" * LONGEST_NUMBER, at + 1
    elif kind == "FUSED":
        return "SHAPING", "decrease", at + 1
    elif kind == "ORDINAL":
        return kind, text[:-2], at + 1
    elif kind not in ("UNCLOSED", "DECIMAL"):
        return kind, text, at + 1
    return "UNKNOWN", text, at + 1
