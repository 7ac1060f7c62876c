"""How answers are read: by a reader for each kind of answer.

A reader takes what a learner may well write, as a list for a set, 51.0 for 51 or NumPy's numbers for Python's, and says
in a sentence what else was expected. It takes no more of a list than an answer may have, so one without an end is
answered too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from decimal import Decimal
from fractions import Fraction
from itertools import islice
from types import MappingProxyType
from typing import Any

import numpy as np

from mosaickit.errors import OptionError, as_whole
from mosaickit.fabric import Chart
from mosaickit.motif import LARGEST_SIDE, Motif

Square = tuple[int, int]
"""Row and stitch, from 1."""

MOST_IN_A_LIST = 1000
"""The most things that a list in an answer may hold."""

LONGEST_ANSWER = 10_000
"""The most characters that a text in an answer may have."""

_SHOWN = 80


# ---- readers -----------------------------------------------------------------------------------------------


def one(kind: type, words: str) -> Callable[[object], Any]:
    """Make a reader of one value of a kind.

    Examples
    --------
    >>> one(Motif, "a motif")("###")
    Traceback (most recent call last):
        ...
    mosaickit.errors.OptionError: The answer should be a motif; got '###'.
    """

    def read(answer: object) -> Any:  # noqa: ANN401 — of the kind
        if not isinstance(answer, kind):
            raise OptionError(f"The answer should be {words}; got {short(answer)}.")
        return answer

    return read


motif = one(Motif, "a motif, as `mk.Motif.from_text` makes one")
chart = one(Chart, "a chart, as `mk.compile_chart` makes one")


def text(answer: object) -> str:
    """Read a text."""
    if not isinstance(answer, str):
        raise OptionError(f"The answer should be a text in quotation marks; got {short(answer)}.")
    if len(answer) > LONGEST_ANSWER:
        raise OptionError(f"The answer should be a text of at most {LONGEST_ANSWER:,} characters; yours is longer.")
    return answer


def whole(answer: object) -> int:
    """Read a whole number; NumPy's will do, and so will one written with a decimal point.

    Examples
    --------
    >>> whole(np.int64(3)), whole(51.0)
    (3, 51)
    """
    value = as_whole(answer)
    if value is None and isinstance(answer, float | np.floating | Decimal | Fraction):
        with suppress(ArithmeticError, ValueError):  # what has no end is no whole number
            value = int(answer) if int(answer) == answer else None
    if value is None:
        raise OptionError(f"The answer should be a whole number; got {short(answer)}.")
    return value


def number(answer: object) -> float:
    """Read a finite number."""
    if isinstance(answer, bool | np.bool_) or not isinstance(answer, int | float | np.number | Decimal | Fraction):
        raise OptionError(f"The answer should be a number; got {short(answer)}.")
    try:
        value = float(answer)
    except (OverflowError, TypeError):  # an int beyond all measure, or a complex number
        value = float("nan")
    if not np.isfinite(value):
        raise OptionError(f"The answer should be a number that can be measured; got {short(answer)}.")
    return value


def choice(*options: str) -> Callable[[object], str]:
    """Make a reader of one of several words; capitals and blanks around it do not matter.

    Examples
    --------
    >>> choice("carried", "cut")(" Cut")
    'cut'
    """

    def read(answer: object) -> str:
        said = answer.strip().casefold() if isinstance(answer, str) else None
        for option in options:
            if said == option.casefold():
                return option
        listed = ", ".join(repr(option) for option in options)
        raise OptionError(f"The answer should be one of {listed}; got {short(answer)}.")

    return read


def squares(answer: object) -> frozenset[Square]:
    """Read squares or stitches: pairs of row and stitch, from 1.

    Examples
    --------
    >>> sorted(squares([(2, 5), [1, 3]]))
    [(1, 3), (2, 5)]
    """
    expected = "The answer should be a list of pairs of row and stitch, as [(2, 5), (3, 1)]"
    pairs = []
    for pair in named(answer, expected):
        if not isinstance(pair, Sequence | np.ndarray) or isinstance(pair, str) or len(pair) != 2:
            raise OptionError(f"{expected}; got {short(pair)} among them.")
        pairs.append((whole(pair[0]), whole(pair[1])))
    return frozenset(pairs)


def whole_numbers(answer: object) -> tuple[int, ...]:
    """Read several whole numbers, in their order."""
    return tuple(whole(each) for each in named(answer, "The answer should be a list of whole numbers, as [3, 5]"))


def named(answer: object, expected: str) -> list[Any]:
    """Give what an answer names one by one, or raise `OptionError` with what was expected.

    No more than `MOST_IN_A_LIST` are taken.

    Examples
    --------
    >>> from itertools import count
    >>> named(count(), "The answer should be a list")
    Traceback (most recent call last):
        ...
    mosaickit.errors.OptionError: The answer should be a list of at most 1,000 things; yours has more.
    """
    if not isinstance(answer, Iterable) or isinstance(answer, str | bytes | Mapping):
        raise OptionError(f"{expected}; got {short(answer)}.")
    found = list(islice(answer, MOST_IN_A_LIST + 1))
    if len(found) > MOST_IN_A_LIST:
        raise OptionError(f"The answer should be a list of at most {MOST_IN_A_LIST:,} things; yours has more.")
    return found


def two_counts(answer: object, what: str, *, least: int = 1) -> tuple[int, int]:
    """Read two whole numbers, which `what` names in their order; neither is below `least` nor above 10,000.

    Examples
    --------
    >>> two_counts([20, 30], "stitches and rows")
    (20, 30)
    """
    counts = whole_numbers(answer)
    if len(counts) != 2 or min(counts) < least or max(counts) > LARGEST_SIDE:
        raise OptionError(
            f"The answer should be two numbers, {what}, from {least} to {LARGEST_SIDE:,}; got {short(answer)}."
        )
    return counts[0], counts[1]


def function(answer: object) -> Callable[..., Any]:
    """Read a function."""
    if not callable(answer):
        raise OptionError(f"The answer should be a function, as `def` makes one; got {short(answer)}.")
    return answer


def short(thing: object, say: Callable[[object], str] = repr) -> str:
    """Say what something is in a few words, whatever it does when it is asked."""
    try:
        # what is long is cut before it is written out, which may take long
        said = say(thing[: _SHOWN + 1] if type(thing) in (list, tuple, str, bytes) else thing)  # type: ignore[index]
    except Exception:
        said = f"a {type(thing).__name__}"
    return said if len(said) <= _SHOWN else said[: _SHOWN - 3] + "..."


READERS: Mapping[str, Callable[[object], Any]] = MappingProxyType(
    {
        "a motif": motif,
        "a chart": chart,
        "a number": number,
        "a whole number": whole,
        "whole numbers": whole_numbers,
        "squares": squares,
        "a text": text,
        "a function": function,
    }
)
"""What reads an answer, by the words that say what is asked for; a list of words asks for one of them."""
