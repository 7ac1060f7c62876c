"""The lexicon of each language, and which of them a text is to be read by."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping

from mosaickit.errors import WordingError
from mosaickit.wording.english_words import ENGLISH_WORDS
from mosaickit.wording.german_words import GERMAN_WORDS
from mosaickit.wording.lexicon import Lexicon
from mosaickit.wording.terms import Tongue

_LEXICONS: Mapping[Tongue, Lexicon] = {
    tongue: words for words in (ENGLISH_WORDS, GERMAN_WORDS) for tongue in words.tongues
}

_SAYS_GERMAN = re.compile(r"^[ \t]*(?:(?:häkel)?anleitung )?auf deutsch\.?[ \t]*$", re.MULTILINE | re.IGNORECASE)
_GERMAN_ROW = re.compile(r"^[ \t]*(?:Reihe|Runde)n? [0-9]", re.MULTILINE)


def says_german(text: str) -> bool:
    """Tell whether a line of a text says that it is in German."""
    return _SAYS_GERMAN.search(text) is not None


def is_german_row(line: str) -> bool:
    """Tell whether a line is a row in German."""
    return _GERMAN_ROW.match(line) is not None


_QUOTED = re.compile(r'("(?:[^"\\\n]|\\.)*")')


def composed(text: str) -> str:
    """Put letters and their dots, which some programs keep apart, together everywhere but in names in quotes.

    Examples
    --------
    >>> composed("na\u0308chste")
    'nächste'
    """
    if unicodedata.is_normalized("NFC", text):
        return text
    pieces = _QUOTED.split(text)
    return "".join(piece if place % 2 else unicodedata.normalize("NFC", piece) for place, piece in enumerate(pieces))


def lexicon_of(tongue: Tongue) -> Lexicon:
    """Give the words of a tongue."""
    return _LEXICONS[tongue]


def lexicon_for(text: str, told: Tongue | None) -> Lexicon:
    """Give the words that a text is to be read by: those of its head line, or those that the reader was told.

    Raises
    ------
    WordingError
        If rows are in another language, and nothing says so.
    """
    if says_german(text):
        return GERMAN_WORDS  # also if it is to be read in another one, which is a fault of that line
    if told is None and _GERMAN_ROW.search(text):
        raise WordingError(
            "The text has rows in German, but no line says so: begin it with 'Häkelanleitung auf Deutsch.' or give "
            "language='de'."
        )
    return lexicon_of(told or "US")
