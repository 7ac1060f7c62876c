"""JSON text read strictly, and how a value of a document is shown to its maker.

JSON as such lets a key stand twice and knows numbers without end; a file that says such a thing is refused before
anything in it is looked at. What comes through is dicts, lists, texts, numbers, true, false and null.
"""

from __future__ import annotations

import json
import reprlib
from typing import Any, NoReturn, cast

from mosaickit.errors import FileError

MOST_DIGITS_IN_A_FILE = 18
"""No whole number in a file has more digits than this, so that one of millions costs nothing."""


def parse(text: str) -> object:
    """Parse JSON strictly, or raise `FileError`: no key twice, no NaN, no endless number or depth."""
    try:
        return cast(
            object, json.loads(text, object_pairs_hook=_once, parse_constant=_no_constant, parse_int=_short_int)
        )
    except json.JSONDecodeError as err:
        raise FileError(f"Line {err.lineno}, column {err.colno}: this is no JSON ({err.msg}).") from None
    except RecursionError:
        raise FileError("Its lists or objects are nested too deeply.") from None


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise FileError(f"The key {reprlib.repr(key)} stands twice in one object; keep one of them.")
        if not _is_whole(key):
            raise FileError(f"The key {reprlib.repr(key)} holds half a character; write it whole.")
        found[key] = value
    return found


def _is_whole(text: str) -> bool:
    """Whether a text can be written as UTF-8, which half of a pair of surrogates cannot."""
    return text.isascii() or not any("\ud800" <= character <= "\udfff" for character in text)


def _no_constant(constant: str) -> NoReturn:
    raise FileError(f"{constant} is no number of JSON.")


def _short_int(digits: str) -> int:
    if len(digits) > MOST_DIGITS_IN_A_FILE:
        raise FileError(f"No number in a file has {len(digits):,} digits; it may have {MOST_DIGITS_IN_A_FILE}.")
    return int(digits)


class _Shown(reprlib.Repr):
    """Shows values cut short if they are long, and null, true and false as a document has them."""

    def repr_NoneType(self, value: None, level: int) -> str:  # noqa: N802 — as reprlib names it
        return "null"

    def repr_bool(self, value: bool, level: int) -> str:
        return "true" if value else "false"


shown = _Shown().repr
"""Show a value of a document, cut short if it is long."""
