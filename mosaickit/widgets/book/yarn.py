"""Yarn: the yarns and where each is used, gauge and hook, skeins and cost, carried or cut, and swatches."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from mosaickit.errors import MosaickitError
from mosaickit.sizes import Design
from mosaickit.widgets.book.entries import USUAL_GAUGE, shown
from mosaickit.widgets.book.panel import Book, Panel
from mosaickit.widgets.book.yarn_colours import add_change, alter_yarn, remove_change, shown_colours, use_yarn
from mosaickit.widgets.book.yarn_hand import entered_in, hand_of, set_price
from mosaickit.widgets.book.yarn_skeins import choose_sold_in, enter_skein, set_currency, shown_skeins, shown_totals
from mosaickit.widgets.book.yarn_swatches import (
    add_swatch,
    advise_swatch,
    own_lengths_out,
    remove_swatch,
    shown_swatches,
    stitch_words,
)

ENTRY_GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "Gauge and hook",
        (
            "gauge_stitches",
            "gauge_rows",
            "gauge_over",
            "gauge_unit",
            "gauge_over_rows",
            "hook_mm",
            "gauge_blocked",
        ),
    ),
    ("How the yarn is calculated", ("between_rows", "tail_cm", "ease", "yarn_mm", "by_thread", "margin")),
)
"""What is asked for, under which headings."""

DOES: dict[str, Callable[[Book, dict[str, Any]], None]] = {
    "yarn": alter_yarn,
    "use": use_yarn,
    "add": add_change,
    "remove": remove_change,
    "sold in": choose_sold_in,
    "skein": enter_skein,
    "price": lambda book, values: set_price(hand_of(book), values),
    "currency": lambda book, values: set_currency(hand_of(book), values),
    "swatch": add_swatch,
    "remove swatch": remove_swatch,
    "own lengths out": lambda book, _: own_lengths_out(book),
    "advise": lambda book, _: advise_swatch(book),
}
"""What can be pressed, and what does it."""


class YarnPanel(Panel):
    """Yarns, gauge, skeins and swatches."""

    name, word, hint = "yarn", "Yarn", "Yarns, gauge, skeins and swatches"

    def entered(self, book: Book) -> dict[str, Any] | None:
        """Give prices, and skeins of which a number is missing."""
        return entered_in(book)

    def view(self, book: Book) -> dict[str, Any]:
        """Give the yarns, the entries under their headings, what follows from them, and the swatches."""
        design, hand = book.design, hand_of(book)
        return {
            "colours": shown_colours(design),
            "groups": [{"word": word, "entries": shown(design, names)} for word, names in ENTRY_GROUPS],
            "gauge": _gauge_said(design),
            "lengths": _lengths(design),
            "skeins": shown_skeins(design, hand),
            "buying": shown_totals(design, hand),
            "swatches": shown_swatches(book),
        }

    def do(self, book: Book, name: str, values: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        """Do what was pressed; the names are those of `DOES`."""
        if name not in DOES:
            return super().do(book, name, values, buffers)
        DOES[name](book, values)
        return {}


def _gauge_said(design: Design) -> str:
    if design.gauge is not None:
        return design.gauge.sentence
    return (
        f"No gauge is entered. Once you enter one of its numbers, the others begin as {USUAL_GAUGE.stitches:g} "
        f"stitches and {USUAL_GAUGE.rows:g} rows over 10 cm, blocked: change them to what you measured."
    )


def _lengths(design: Design) -> str:
    """Say how much yarn is in each kind of stitch, if it can be told."""
    if design.gauge is None:
        return ""
    try:
        lengths = design.lengths
    except MosaickitError:
        return ""  # the amounts say why
    of_each = (f"{word} {getattr(lengths, kind):.1f}" for kind, word in stitch_words().items())
    return f"Yarn in a stitch, in cm: {', '.join(of_each)}."


PANEL = YarnPanel()
