"""What the hand has entered in the yarn panel and no design holds: prices, and skeins of which a number is missing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import inf
from typing import Any, Literal
from weakref import WeakKeyDictionary

from mosaickit.errors import OptionError, as_whole
from mosaickit.sizes import Design
from mosaickit.widgets.book.panel import Book

SoldIn = Literal["none", "one", "each"]
"""What the yarns are sold in: not known, one skein for all, or one for each yarn."""

ALL_YARNS = ""
"""Under this name stands what holds for all yarns together."""

DEAREST = 1e6
"""No skein costs more."""


@dataclass
class YarnHand:
    """What was entered beside one book's design.

    Attributes
    ----------
    sold_in : SoldIn or None
        What was chosen while numbers of it are missing; None where the design says it.
    boxes : dict of str to dict
        By the name of a yarn, what was entered of its skein.
    prices : dict of str to float
        What a skein costs, by the name of its yarn.
    currency : str
        In what it is paid.
    advised : (Design, list) or None
        Which swatch would help most, and with which design.
    """

    sold_in: SoldIn | None = None
    boxes: dict[str, dict[str, Any]] = field(default_factory=dict)
    prices: dict[str, float] = field(default_factory=dict)
    currency: str = ""
    advised: tuple[Design, list[dict[str, Any]]] | None = None


_HANDS: WeakKeyDictionary[Book, YarnHand] = WeakKeyDictionary()


def hand_of(book: Book) -> YarnHand:
    """Give what was entered in a book; at first what its file keeps of it."""
    if book not in _HANDS:
        _HANDS[book] = YarnHand(**book.beside("yarn"))
    return _HANDS[book]


def entered_in(book: Book) -> dict[str, Any] | None:
    """Give what was entered in a book, as `hand_of` takes it back; None if nothing was asked of it."""
    if book not in _HANDS:
        return None
    hand = _HANDS[book]
    return {name: getattr(hand, name) for name in ("sold_in", "boxes", "prices", "currency")}


def not_yet(design: Design) -> str:
    """Say why amounts of yarn cannot be told yet; "" if they can."""
    if not design.layout.workable:
        return "How much yarn the piece takes follows when it can be worked."
    return "How much yarn the piece takes follows when its gauge is entered." if design.gauge is None else ""


def number_in(values: Mapping[str, Any], name: str, label: str) -> float:
    """Give a number above 0 that was entered, or raise `OptionError` with the label of its box."""
    value = values.get(name)
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 < value < inf:
        raise OptionError(f"{label}: enter a number above 0.")
    return float(value)


def whole_in(values: Mapping[str, Any], name: str, label: str, *, least: int, most: int) -> int:
    """Give a whole number that was entered, or raise `OptionError` with the label of its box."""
    value = as_whole(values.get(name))
    if value is None or not least <= value <= most:
        raise OptionError(f"{label}: enter a whole number from {least:,} to {most:,}.")
    return value


def set_price(hand: YarnHand, values: Mapping[str, Any]) -> None:
    """Take the price of a skein that was entered, or forget it where the box is empty."""
    name, value = str(values.get("name", ALL_YARNS)), values.get("price")
    if value is None:
        hand.prices.pop(name, None)
    elif isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value <= DEAREST:
        raise OptionError(f"Price of a skein: enter a number from 0 to {DEAREST:,.0f}.")
    else:
        hand.prices[name] = float(value)
