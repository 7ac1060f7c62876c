"""What pages say of publishing: edition and rights, hooks and labels, alike for designs in rows and squares."""

from __future__ import annotations

from collections.abc import Iterable

from mosaickit.gauge import GRAMS_PER_OUNCE, METRES_PER_YARD
from mosaickit.sizes import Publishing, YarnLabel
from mosaickit.yarn import Skein

# the letter is a label, never a key (Craft Yarn Council: rely on the millimetres); sizes of its list only
_US_HOOKS = {2.25: "B-1", 3.5: "E-4", 4.0: "G-6", 5.0: "H-8", 5.5: "I-9", 6.0: "J-10", 6.5: "K-10½", 8.0: "L-11"}

_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_LONGEST_IN_FOOT = 60
"""A longer title is cut at the foot of a page; it stands whole on the first."""


def hook_words(mm: float) -> str:
    """Write a hook in mm, and its US size if it has one.

    Examples
    --------
    >>> hook_words(5), hook_words(4.5)
    ('5 mm (US H-8)', '4.5 mm')
    """
    us = _US_HOOKS.get(mm)
    return f"{mm:g} mm{f' (US {us})' if us else ''}"


def label_words(label: YarnLabel, ball: Skein | None) -> str:
    """Say what the label of a yarn says: what it is, what a ball holds, how it is cared for; "" if nothing."""
    holds = ""
    if ball is not None:
        other = f"{ball.metres / METRES_PER_YARD:.0f} yd / {ball.grams / GRAMS_PER_OUNCE:.1f} oz"
        holds = f"{ball.metres:g} m / {ball.grams:g} g a ball ({other})"
    said = "; ".join(filter(None, (label.line, label.category, label.fibre, holds)))
    care = f"Care: {label.care[:1].lower()}{label.care[1:]}" if label.care else ""
    return " ".join(filter(None, (f"{said}." if said else "", care)))


def care_words(labels: Iterable[YarnLabel]) -> str:
    """Say how the piece is cared for where its yarns differ; "" where they do not."""
    cares = {label.care for label in labels if label.care}
    return "Care for the finished piece as the most delicate of its yarns asks." if len(cares) > 1 else ""


def about_words(own: Publishing) -> tuple[tuple[str, str], ...]:
    """List whom to ask, where corrections are and what is allowed, as (what, text)."""
    day = f"{own.published.day} {_MONTHS[own.published.month - 1]} {own.published.year}" if own.published else ""
    told = (
        ("Edition", ", ".join(filter(None, (own.edition_line, day)))),
        ("Corrections", own.errata),
        ("Questions", own.contact),
        ("Copyright", own.copyright_line),
        ("Licence", own.licence_line),
    )
    return tuple((what, text) for what, text in told if text)


def foot_words(title: str, own: Publishing) -> str:
    """Write what stands at the foot of every page: title, copyright and contact."""
    short = title if len(title) <= _LONGEST_IN_FOOT else f"{title[: _LONGEST_IN_FOOT - 1].rstrip()}…"
    return " · ".join(filter(None, (short, own.copyright_line, own.contact)))
