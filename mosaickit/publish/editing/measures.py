"""Figures in an author's words: a gauge, sizes and amounts of yarn, as patterns write them."""

from __future__ import annotations

import re

from mosaickit.errors import MosaickitError
from mosaickit.gauge import CM_PER_INCH, METRES_PER_YARD, Gauge
from mosaickit.publish.editing.draft import DraftYarn, Said, SizeSaid, Spot

_NUMBER = r"(\d+(?:[.,]\d+)?(?:\s?[¼½¾])?|[¼½¾])"
_UNIT = r"(cm|centimet(?:re|er)s?|in\b|inch(?:es)?|\"|″)"
_STITCHES = re.compile(rf"{_NUMBER}\s*(?:sts?\b|stitches|\w{{0,4}}[sd]c\b|tr\b)", re.IGNORECASE)
_ROWS = re.compile(rf"{_NUMBER}\s*(?:rows?|rnds?|rounds?)\b", re.IGNORECASE)
_LENGTH = re.compile(rf"{_NUMBER}\s*{_UNIT}", re.IGNORECASE)
_SIZE = re.compile(
    rf"{_NUMBER}\s*{_UNIT}?\s*(?:wide|across|around|w\b)?\s*(?:x|×|by|and)\s*{_NUMBER}\s*{_UNIT}", re.IGNORECASE
)
_YARN_UNIT = r"(m|met(?:re|er)s?|yds?|yards?)\b"
_SKEINS = re.compile(r"(\d+)\s*(?:skeins?|balls?|hanks?)\b", re.IGNORECASE)
_BALL = re.compile(
    rf"{_NUMBER}\s*{_YARN_UNIT}\s*(?:/|(?:a|per|each|in)\b|\()|\bof\s+{_NUMBER}\s*{_YARN_UNIT}", re.IGNORECASE
)
_RANGE = re.compile(rf"{_NUMBER}\s*(?:{_YARN_UNIT}\s*)?(?:to|–|-)\s*{_NUMBER}\s*{_YARN_UNIT}", re.IGNORECASE)
_MOST = re.compile(rf"\b(?:up to|at most)\s+{_NUMBER}\s*{_YARN_UNIT}", re.IGNORECASE)
_SAMPLE = re.compile(
    rf"\b(?:uses?|used|needs?|takes?|took|about|approx(?:imately)?\.?|requires?|total(?: of)?)\s+(?:about\s+)?{_NUMBER}"
    rf"\s*{_YARN_UNIT}",
    re.IGNORECASE,
)
_OF_LABEL = {
    "weight": re.compile(
        r"\b(?:weight|lace|fingering|sport|dk|worsted|aran|light|medium|bulky|chunky|4 ?ply|cat)", re.I
    ),
    "fibre": re.compile(
        r"\b(?:cotton|wool|acrylic|linen|silk|bamboo|alpaca|polyester|nylon|merino|fib(?:re|er))\b", re.I
    ),
}


def number(text: str) -> float:
    """Read a number as it is printed.

    Examples
    --------
    >>> number("16"), number("4,5"), number("3½")
    (16.0, 4.5, 3.5)
    """
    parts = {"¼": 0.25, "½": 0.5, "¾": 0.75}
    rest = text.strip()
    fraction = parts.get(rest[-1:], 0.0)
    rest = rest[:-1].strip() if fraction else rest
    return (float(rest.replace(",", ".")) if rest else 0.0) + fraction


def _is_cm(unit: str) -> bool:
    return unit.lower().startswith("c")


def _metres(amount: str, unit: str) -> float:
    return number(amount) * (METRES_PER_YARD if unit.lower().startswith("y") else 1.0)


def gauge_in(text: str) -> Gauge | None:
    """Make out a gauge; None if stitches, rows or the length over which they were counted are not told.

    Examples
    --------
    >>> print(gauge_in("16 sts and 18 rows = 4 in (10 cm) in BLsc, blocked"))
    Gauge: 16 sts by 18 rows = 4 in (10 cm), blocked
    """
    stitches, rows, length = _STITCHES.search(text), _ROWS.search(text), _LENGTH.search(text)
    if not (stitches and rows and length):
        return None
    blocked = not re.search(r"\b(?:un|not |before )block", text, re.IGNORECASE)
    try:
        unit = "cm" if _is_cm(length[2]) else "in"
        return Gauge(number(stitches[1]), number(rows[1]), number(length[1]), unit, blocked)  # type: ignore[arg-type]
    except MosaickitError:
        return None


def sizes_in(said: Said) -> tuple[SizeSaid, ...]:
    """Make out the sizes of a text, width and height in whichever order, in both units where both are given.

    Examples
    --------
    >>> sizes_in(Said("31 cm wide × 11 cm high (12.2 × 4.3 in)", Spot("size", "line 3")))[0].inches
    (12.2, 4.3)
    """
    cm: list[tuple[float, float]] = []
    inches: list[tuple[float, float]] = []
    for match in _SIZE.finditer(said.text):
        (cm if _is_cm(match[4]) else inches).append((number(match[1]), number(match[3])))
    many = max(len(cm), len(inches))
    pairs = zip([*cm, *[None] * (many - len(cm))], [*inches, *[None] * (many - len(inches))], strict=True)
    return tuple(SizeSaid(one, other, said.spot) for one, other in pairs)


def in_cm(size: SizeSaid) -> tuple[float, float]:
    """Give a size in cm, from inches where only those are given."""
    if size.cm is not None:
        return size.cm
    assert size.inches is not None
    return size.inches[0] * CM_PER_INCH, size.inches[1] * CM_PER_INCH


def yarn_in(line: str, spot: Spot) -> DraftYarn | None:
    """Make out a line about one yarn; None if the line is about something else.

    Examples
    --------
    >>> found = yarn_in("MC: oat, DK cotton, 2 skeins of 105 m / 50 g; uses 150 to 190 m", Spot("yarn", "line 4"))
    >>> found.name, found.skeins, found.ball_m, found.most_m
    ('MC', 2, 105.0, 190.0)
    """
    name, _, rest = line.partition(":")
    if not rest or len(name) > 40:
        return None
    skeins, ball = _SKEINS.search(rest), _BALL.search(rest)
    ball_m = None
    if ball:
        ball_m = _metres(ball[1] or ball[3], ball[2] or ball[4])
    amounts = rest if not ball else rest[: ball.start()] + ";" + rest[ball.end() :]
    ranged, most, sample = _RANGE.search(amounts), _MOST.search(amounts), _SAMPLE.search(amounts)
    most_m = _metres(most[1], most[2]) if most else _metres(ranged[3], ranged[4]) if ranged else None
    lacks = [what for what, words in _OF_LABEL.items() if not words.search(rest)]
    lacks += [] if ball_m else ["ball"]
    return DraftYarn(
        name=name.strip(" -–•*"),
        spot=spot,
        lacks=tuple(lacks),
        most_m=most_m,
        sample_m=_metres(sample[1], sample[2]) if sample and most_m is None else None,
        skeins=int(skeins[1][:6]) if skeins else None,
        ball_m=ball_m,
    )
