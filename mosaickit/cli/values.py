"""Values as they are typed: a number, a gauge, a length, a share, a ratio, what a skein holds."""

from __future__ import annotations

import argparse
import re
from dataclasses import dataclass

from mosaickit.colours import Yarn
from mosaickit.errors import MosaickitError
from mosaickit.gauge import Gauge
from mosaickit.svg import marks_of

_NUMBER = r"(\d+(?:\.\d*)?|\.\d+)"
_GAUGE = re.compile(rf"\s*{_NUMBER}\s*[x×*]\s*{_NUMBER}\s*(?:/\s*{_NUMBER}\s*(cm|in)\s*)?")
_LENGTH = re.compile(rf"\s*{_NUMBER}\s*(cm|in)?\s*")
_SHARE = re.compile(rf"\s*{_NUMBER}\s*(%?)\s*")
_SKEIN = re.compile(rf"\s*{_NUMBER}\s*m\s*/\s*{_NUMBER}\s*g\s*")
_WHOLE = re.compile(r"\s*([+-]?[0-9]{1,15})\s*")
_DECIMAL = re.compile(r"\s*([+-]?(?:[0-9]{1,15}(?:\.[0-9]*)?|\.[0-9]+))\s*")
_RATIO = re.compile(r"\s*([0-9]{1,15})\s*:\s*([0-9]{1,15})\s*")


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


def whole(text: str) -> int:
    """Read a whole number; whether it is in range is for the design to say."""
    return int(_read(_WHOLE, text, "a whole number")[0])


def number(text: str) -> float:
    """Read a number: 4 or 4.5."""
    return float(_read(_DECIMAL, text, "a number, as 4 or 4.5")[0])


def of_repeat(text: str) -> int | str:
    """Read a count of a repeat's stitches, or that it is half of them."""
    return "half" if text == "half" else int(_read(_WHOLE, text, "a whole number, or half")[0])


def ratio(text: str) -> tuple[int, int]:
    """Read stitches to rows: 7:8."""
    stitches, rows = _read(_RATIO, text, "stitches picked up along rows, as 7:8")
    return int(stitches), int(rows)


def threshold(text: str) -> str | float:
    """Read what is dark: a word, or a tone from 0 to 1."""
    if text in ("otsu", "adaptive"):
        return text
    return float(_read(_DECIMAL, text, "otsu, adaptive, or a number from 0 to 1")[0])


def crop(text: str) -> tuple[float, ...]:
    """Read the part of a picture to take, in pixels, or as shares if any of them has a point."""
    parts = text.split(",")
    kind = float if "." in text else int
    try:
        left, top, right, bottom = (kind(_read(_DECIMAL, each, "")[0]) for each in parts)
    except (argparse.ArgumentTypeError, ValueError):
        raise argparse.ArgumentTypeError(
            f"expected left,top,right,bottom, as 10,0,200,180 in pixels or 0.1,0.0,0.9,1.0 as shares; got {text!r}"
        ) from None
    return left, top, right, bottom


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


def letters(text: str) -> dict[str, str]:
    """Read the letters of stitches.

    Examples
    --------
    >>> letters("sc=c, FLdc=X, tog-b=b, tog-f=f")["FLdc"]
    'X'
    """
    pairs = [pair.partition("=") for pair in text.split(",")]
    if not all(sign for _, sign, _ in pairs):
        raise argparse.ArgumentTypeError(f"expected letters of stitches, as sc=c,FLdc=X,tog-b=b,tog-f=f; got {text!r}")
    found = {stitch.strip(): letter.strip() for stitch, _, letter in pairs}
    try:
        marks_of(found)
    except MosaickitError as error:
        raise argparse.ArgumentTypeError(str(error).rstrip(".")) from None
    return found


def skein(text: str) -> tuple[float, float]:
    """Read what a skein holds: 105m/50g."""
    metres, grams = _read(_SKEIN, text, "metres and grams of a skein, as 105m/50g")
    return float(metres), float(grams)


def yarn(text: str) -> Yarn:
    """Read a yarn, its name and then its colour.

    Examples
    --------
    >>> yarn("pale sand #e9dcc3")
    Yarn(name='pale sand', colour='#e9dcc3')
    """
    name, _, colour = text.strip().rpartition(" ")
    if not name:
        raise argparse.ArgumentTypeError(f"expected a yarn's name and its colour, as 'sand #e9dcc3'; got {text!r}")
    try:
        return Yarn(name.strip(), colour)
    except MosaickitError as error:
        raise argparse.ArgumentTypeError(str(error).rstrip(".")) from None
