"""Values as they are typed: a gauge, a length, a share, what a skein holds."""

from __future__ import annotations

import argparse
import re
from dataclasses import dataclass

from mosaickit.errors import MosaickitError
from mosaickit.gauge import Gauge

_NUMBER = r"(\d+(?:\.\d*)?|\.\d+)"
_GAUGE = re.compile(rf"\s*{_NUMBER}\s*[x×*]\s*{_NUMBER}\s*(?:/\s*{_NUMBER}\s*(cm|in)\s*)?")
_LENGTH = re.compile(rf"\s*{_NUMBER}\s*(cm|in)?\s*")
_SHARE = re.compile(rf"\s*{_NUMBER}\s*(%?)\s*")
_SKEIN = re.compile(rf"\s*{_NUMBER}\s*m\s*/\s*{_NUMBER}\s*g\s*")


@dataclass(frozen=True)
class Length:
    """A length as it was typed."""

    value: float
    unit: str


def _read(pattern: re.Pattern[str], text: str, expected: str) -> tuple[str, ...]:
    found = pattern.fullmatch(text)
    if found is None:
        raise argparse.ArgumentTypeError(f"expected {expected}; got {text!r}")
    return found.groups()


def gauge(text: str) -> Gauge:
    """Read a gauge.

    Examples
    --------
    >>> print(gauge("16x18")), print(gauge("14x16/4in"))
    Gauge: 16 sts by 18 rows = 10 cm (4 in), blocked
    Gauge: 14 sts by 16 rows = 4 in (10 cm), blocked
    (None, None)
    """
    stitches, rows, over, unit = _read(_GAUGE, text, "stitches x rows over 10 cm, as 16x18, or as 16x18/4in")
    try:
        return Gauge(float(stitches), float(rows), float(over or 10), "in" if unit == "in" else "cm")
    except MosaickitError as error:
        raise argparse.ArgumentTypeError(str(error).rstrip(".")) from None


def length(text: str) -> Length:
    """Read a length: 22, 22cm or 8.5in."""
    value, unit = _read(_LENGTH, text, "a length, as 22cm or 8.5in")
    return Length(float(value), unit or "cm")


def share(text: str) -> float:
    """Read a share: 0.05 or 5%."""
    value, percent = _read(_SHARE, text, "a share, as 0.05 or 5%")
    return float(value) / (100 if percent else 1)


def skein(text: str) -> tuple[float, float]:
    """Read what a skein holds: 105m/50g."""
    metres, grams = _read(_SKEIN, text, "metres and grams of a skein, as 105m/50g")
    return float(metres), float(grams)
