"""Skeins by hand: what the yarns are sold in, how many to buy, what they cost, and whether to carry or to cut."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, get_args

from mosaickit.errors import MosaickitError, OptionError, number_of, one_of, text
from mosaickit.motif import BETWEEN_ROWS, BetweenRows
from mosaickit.sizes import USUAL_FINISH, Design, LayoutUsage
from mosaickit.widgets.book.entries import in_labels
from mosaickit.widgets.book.panel import Book
from mosaickit.widgets.book.yarn_colours import yarns_in
from mosaickit.widgets.book.yarn_hand import ALL_YARNS, SoldIn, YarnHand, hand_of, not_yet
from mosaickit.yarn import DYE_LOT, Skein, YarnTotal, accuracy, carry_or_cut_width_cm

LABELS = {"metres": "metres", "grams": "grams"}
"""What is entered of a skein, as its label says it."""


def shown_skeins(design: Design, hand: YarnHand) -> dict[str, Any]:
    """Give what the page asks about skeins: one for all or one for each, the boxes, and what is still to enter."""
    sold_in = hand.sold_in or sold_in_of(design)
    boxes = boxes_of(design, hand, sold_in)
    return {
        "sold_in": sold_in,
        "boxes": [
            {
                "name": name,
                "word": name or "Every yarn",
                **box,
                "price": hand.prices.get(name),
            }
            for name, box in boxes.items()
        ],
        "missing": _missing(boxes) if hand.sold_in else "",
        "currency": hand.currency,
    }


def sold_in_of(design: Design) -> SoldIn:
    """Tell what the yarns of a design are sold in."""
    skeins = design.yarn_settings.skeins
    return "none" if skeins is None else "one" if isinstance(skeins, Skein) else "each"


def boxes_of(design: Design, hand: YarnHand, sold_in: SoldIn) -> dict[str, dict[str, Any]]:
    """Give what stands in the boxes of each skein: what was entered last, else what the design says."""
    known = design.yarn_settings.skeins
    names = {"none": [], "one": [ALL_YARNS], "each": [yarn.name for yarn in yarns_in(design.motif.yarns)]}[sold_in]
    boxes = {}
    for name in dict.fromkeys(names):
        skein = known if known is None or isinstance(known, Skein) else known.get(name)
        box = {"metres": None, "grams": None} if skein is None else {"metres": skein.metres, "grams": skein.grams}
        boxes[name] = box | hand.boxes.get(name, {})
    return boxes


def _missing(boxes: Mapping[str, Mapping[str, Any]]) -> str:
    lacking = [
        f"{label}{f' of {name}' if name else ''}"
        for name, box in boxes.items()
        for key, label in LABELS.items()
        if box[key] is None
    ]
    return f"Still to enter: {', '.join(lacking)}. Until then the design keeps what it had." if lacking else ""


def choose_sold_in(book: Book, values: Mapping[str, Any]) -> None:
    """Choose what the yarns are sold in: nothing known, one skein for all, or one for each."""
    sold_in = values.get("sold_in")
    one_of("sold_in", sold_in, get_args(SoldIn))
    hand = hand_of(book)
    hand.boxes = {}
    hand.sold_in = sold_in
    _take_if_complete(book, hand)


def enter_skein(book: Book, values: Mapping[str, Any]) -> None:
    """Take one number from a skein's label; the design gets them when all are entered."""
    hand, name = hand_of(book), str(values.get("name", ALL_YARNS))
    sold_in = hand.sold_in or sold_in_of(book.design)
    if name not in boxes_of(book.design, hand, sold_in):
        raise OptionError("That yarn is not in the design any more.")
    entered = {key: values[key] for key in LABELS if key in values}
    for key, value in entered.items():
        if value is not None:
            try:
                Skein(**{"metres": 1.0, "grams": 1.0, key: value})  # which says what is wrong with it
            except OptionError as error:
                raise OptionError(str(error).replace(f"`{key}`", key.capitalize())) from error
    hand.boxes.setdefault(name, {}).update(entered)
    hand.sold_in = sold_in
    _take_if_complete(book, hand)


def _take_if_complete(book: Book, hand: YarnHand) -> None:
    sold_in = hand.sold_in or "none"
    boxes = boxes_of(book.design, hand, sold_in)
    if _missing(boxes):
        return
    each = {name: Skein(**box) for name, box in boxes.items()}
    skeins = each[ALL_YARNS] if sold_in == "one" else each or None
    hand.sold_in, hand.boxes = None, {}
    book.change(book.design.but(skeins=skeins), "skeins")


def set_currency(hand: YarnHand, values: Mapping[str, Any]) -> None:
    """Take what prices are paid in."""
    currency = text("currency", values.get("currency")).strip()
    if len(currency) > 12 or not currency.isprintable():
        raise OptionError("The currency must be a short word or sign of at most 12 characters.")
    hand.currency = currency


# ---- what follows ------------------------------------------------------------------------------------------


def shown_totals(design: Design, hand: YarnHand) -> dict[str, Any]:
    """Give how much of each yarn the piece takes, what to buy, what it costs, and carried yarn beside cut yarn."""
    if why := not_yet(design):
        return {"note": why, "totals": []}
    try:
        bare = design.but(finish=USUAL_FINISH)  # a fringe and a double border are of cut yarn only
        ways = {way: bare.but(between_rows=way).usage for way in BETWEEN_ROWS}
        totals = design.usage.by_yarn
        comparison = _compared(design, ways, hand)
        lengths = design.lengths
    except MosaickitError as error:
        return {"note": in_labels(str(error)), "totals": []}
    return {
        "note": "",
        "totals": [_shown_total(total, hand) for total in totals],
        "cost": _cost_in_words(totals, hand),
        "accuracy": accuracy(lengths),
        "dye_lot": DYE_LOT if any(total.skeins for total in totals) else "",
        "compared": comparison,
    }


def _shown_total(total: YarnTotal, hand: YarnHand) -> dict[str, Any]:
    cost = _cost(total, hand)
    return {
        "name": total.yarn.name,
        "colour": total.yarn.colour,
        "metres": f"{total.likely_m:.0f} m",
        "yards": f"{total.likely_yd:.0f} yd",
        "band": f"{total.low_m:.0f} to {total.high_m:.0f} m",
        "grams": "" if total.grams is None else f"{total.grams:.0f} g",
        "advice": total.advice,
        "cost": "" if cost is None else f"costs {_money(cost, hand)}",
    }


def _cost(total: YarnTotal, hand: YarnHand) -> float | None:
    price = hand.prices.get(total.yarn.name, hand.prices.get(ALL_YARNS))
    return None if price is None or total.skeins is None else price * total.skeins


def _cost_in_all(totals: Sequence[YarnTotal], hand: YarnHand) -> float | None:
    """Give what all skeins cost whose price is known; None if no price is."""
    known = [cost for total in totals if (cost := _cost(total, hand)) is not None]
    return sum(known) if known else None


def _cost_in_words(totals: Sequence[YarnTotal], hand: YarnHand) -> str:
    cost = _cost_in_all(totals, hand)
    if cost is None:
        return ""
    without = list(dict.fromkeys(total.yarn.name for total in totals if _cost(total, hand) is None))
    left_out = f", without {' and '.join(without)}, whose price is not entered" if without else ""
    return f"In all {_money(cost, hand)}{left_out}."


def _money(amount: float, hand: YarnHand) -> str:
    return f"{amount:,.2f} {hand.currency}".strip()


def _compared(design: Design, ways: Mapping[BetweenRows, LayoutUsage], hand: YarnHand) -> dict[str, Any]:
    """Lay carried beside cut: each yarn, then all, and how much of it is strands and tails."""
    lines = []
    for of_ways in zip(*(usage.by_yarn for usage in ways.values()), strict=True):
        lines.append({"word": of_ways[0].yarn.name, "amounts": [_amount(total) for total in of_ways]})
    lines.append({"word": "In all", "amounts": [f"{usage.likely_m:.0f} m" for usage in ways.values()]})
    lines.append({"word": "Carried strands in it", "amounts": [f"{usage.carried_m:.1f} m" for usage in ways.values()]})
    lines.append({"word": "Tails in it", "amounts": [f"{usage.tails_m:.1f} m" for usage in ways.values()]})
    costs = [_cost_in_all(usage.by_yarn, hand) for usage in ways.values()]
    if not any(cost is None for cost in costs):
        complete = all(_cost(total, hand) is not None for usage in ways.values() for total in usage.by_yarn)
        word = "Cost" if complete else "Cost, as far as prices are entered"
        lines.append({"word": word, "amounts": [_money(cost, hand) for cost in costs if cost is not None]})
    return {"ways": list(ways), "now": design.yarn_settings.between_rows, "lines": lines, "said": _width_said(design)}


def _amount(total: YarnTotal) -> str:
    skeins = "" if total.skeins is None else f", {number_of(total.skeins, 'skein')}"
    return f"{total.likely_m:.0f} m{skeins}"


def _width_said(design: Design) -> str:
    if design.surround.in_the_round:
        return "In the round, carried yarn only climbs from round to round, whatever the width."
    width = carry_or_cut_width_cm(design.yarn_settings)
    return (
        f"Rows of up to {width:.1f} cm take less yarn if it is carried, wider rows if it is cut. A row of this piece "
        f"is {design.size.width_cm:.1f} cm wide."
    )
