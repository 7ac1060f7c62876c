"""Bands on the panel Lay: what lies above and below the motif, in an order that the hand changes, a step each time."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from mosaickit.colours import Yarns
from mosaickit.errors import MosaickitError, OptionError, shortly, true_or_false, whole_number
from mosaickit.ideas import family
from mosaickit.motif import Motif
from mosaickit.orientation import ROLES
from mosaickit.sizes import AnyBand, Band, Bands, Design, Divider, Field, Plain, all_designs, load_design
from mosaickit.widgets.book.begin_files import gallery_design, gallery_names
from mosaickit.widgets.book.panel import Book
from mosaickit.widgets.book.vary import LARGEST_MOTIF

MOST_OFFERED = 200
"""The most files of the folder that are offered."""

MOST_OF_FAMILY = 24

FIT_WORDS = (
    ("whole", "must fit whole"),
    ("centre", "in the middle, plain beside"),
    ("fill", "cut at both sides"),
)
STEP_WORDS = (
    ("divider", "put a plain row in"),
    ("swap", "swap the colours of what follows"),
    ("refuse", "refuse"),
)
"""What is done where repeats do not divide the width, and where row colours get out of step."""

_HAND_WORDS = {
    "; or give it fit=\"centre\" or fit=\"fill\"": "; or let the band stand in the middle, or be cut at both sides",
    "Put mk.Plain(1) below it; or give mk.Bands(…, step=\"divider\") to have such rows put in, or step=\"swap\" to "
    "swap its colours.": "Add a plain row below it, or choose what is done where colours get out of step.",
    "mk.Bands(…, step=\"divider\") puts plain rows between bands that do not go one on the other.": "Plain rows can be "
    "put in between bands that do not go one on the other.",
}  # fmt: skip


def bands_shown(design: Design) -> dict[str, Any]:
    """Give what the page shows of the bands: the highest first, as they lie, with what each is asked for."""
    if design.bands is None:
        return {"on": False, "order": [], "said": [], "step": "", "steps": [], "mirrors": False}
    order = design.bands.order
    rows = {one.band: one for one in getattr(design.layout, "band_rows", ()) if one.band}
    word = "round" if design.surround.in_the_round else "row"
    shown = []
    for at, band in enumerate(order):
        place = rows[at + 1]
        first, last = place.first_row, place.last_row
        which = f"{word} {first}" if first == last else f"{word}s {first} to {last}"
        shown.append({"at": at, "word": _word(band, design), "rows": which, "field": isinstance(band, Field),
                      "asked": _asked(band)})  # fmt: skip
    return {
        "on": True,
        "order": shown[::-1],
        "said": list(design.said),
        "step": design.bands.step,
        "steps": [list(one) for one in STEP_WORDS],
        "mirrors": not isinstance(order[0], Field),
    }


def _word(band: AnyBand, design: Design) -> str:
    if isinstance(band, Field):
        return f"{design.motif.name.strip() or 'The motif'} (the field)"
    return f"{str(band)[:1].upper()}{str(band)[1:]}"


def _asked(band: AnyBand) -> list[dict[str, Any]]:
    """Give what is asked for of a band: name, label, kind, choices and value."""

    def ask(name: str, label: str, kind: str, *options: tuple[Any, str]) -> dict[str, Any]:
        value = getattr(band, name)
        return {"name": name, "label": label, "kind": kind, "options": [list(one) for one in options], "value": value}

    turned = [ask(name, name.replace("_", " ").capitalize(), "tick") for name in ("upside_down", "mirrored")
              if hasattr(band, name)]  # fmt: skip
    match band:
        case Plain():
            return [ask("count", "Rows", "count")]
        case Divider():
            colours = ((None, "as its row"), *((role, role) for role in ROLES))
            return [ask("rows", "Rows", "count"), ask("colour", "Colour", "choice", *colours)]
        case Field():
            return turned
    return [ask("up", "Repeats up", "count"), ask("fit", "In the width", "choice", *FIT_WORDS), *turned]


# ---- what is offered ---------------------------------------------------------------------------------------


def offered(book: Book) -> dict[str, Any]:
    """Name the motifs that a band may be made of: of the gallery, of the folder, and of the motif's own family."""
    try:
        gallery = gallery_names()
    except MosaickitError:
        gallery = []
    try:
        folder = list(all_designs(book.folder).names[:MOST_OFFERED])
    except MosaickitError:
        folder = []
    motif = book.design.motif
    relatives = [] if motif.grid.size > LARGEST_MOTIF else [each.name for each in family(motif, most=MOST_OF_FAMILY)]
    return {"gallery": gallery, "folder": folder, "family": relatives}


def _motif_of(book: Book, values: Mapping[str, Any]) -> Motif:
    name = str(values.get("name"))
    match values.get("of"):
        case "gallery":
            found = gallery_design(name).motif
        case "folder":
            if name not in all_designs(book.folder).names:
                raise OptionError(f"The folder has no file {shortly(name)} any more.")
            found = load_design(book.folder / name).motif
        case "family":
            found = family(book.design.motif, most=MOST_OF_FAMILY).member(name).motif
        case _:
            raise OptionError("Choose a motif for the band first.")
    own = book.design.motif.yarns
    # it is worked in the yarns of the piece
    return found.with_yarns(Yarns(own.mc[0][1], own.cc[0][1]))


# ---- what is done ------------------------------------------------------------------------------------------


def change_bands(book: Book, name: str, values: Mapping[str, Any]) -> dict[str, Any]:
    """Do what was pressed about bands.

    Raises
    ------
    OptionError
        If it cannot be done; in the words of the page.
    """
    try:
        return _DONE[name](book, values)
    except OptionError as error:
        said = str(error)
        for code, words in _HAND_WORDS.items():
            said = said.replace(code, words)
        raise OptionError(said) from None


def _begin(book: Book, _: Mapping[str, Any]) -> dict[str, Any]:
    if book.design.bands is None:
        book.change(book.design.but(bands=Bands((Field(),))), "bands")
    return {}


def _end(book: Book, _: Mapping[str, Any]) -> dict[str, Any]:
    book.change(book.design.but(bands=None), "no bands")
    return {}


def _offer(book: Book, _: Mapping[str, Any]) -> dict[str, Any]:
    return offered(book)


def _add(book: Book, values: Mapping[str, Any]) -> dict[str, Any]:
    """Put a band right below the field, or where it is said."""
    order = _order(book)
    at = next(place for place, band in enumerate(order) if isinstance(band, Field))
    kind = values.get("kind")
    new: AnyBand
    if kind == "plain":
        new = Plain(2)
    elif kind == "divider":
        new = Divider(1)
    else:
        new = _fitting(book.design, order, at, Band(_motif_of(book, values)))
    _lay(book, [*order[:at], new, *order[at:]], f"add {new}")
    return {"at": at}


def _fitting(design: Design, order: list[AnyBand], at: int, band: Band) -> Band:
    """Let a band fit whole where it does, and otherwise stand in the middle, or be cut if it is too wide for that."""
    for fit in ("whole", "centre"):
        tried = replace(band, fit=fit)
        try:
            design.but(bands=replace(_bands(design), order=(*order[:at], tried, *order[at:])))
        except OptionError:
            continue
        return tried
    return replace(band, fit="fill")


def _drop(book: Book, values: Mapping[str, Any]) -> dict[str, Any]:
    order = _order(book)
    gone = order.pop(_place(order, values, "at"))
    if isinstance(gone, Field):
        raise OptionError("The field stays: it gives the width of the piece. Without it there are no bands.")
    _lay(book, order, f"take away {gone}")
    return {}


def _move(book: Book, values: Mapping[str, Any]) -> dict[str, Any]:
    order = _order(book)
    start, to = _place(order, values, "at"), _place(order, values, "to")
    if start != to:
        moved = order.pop(start)
        _lay(book, [*order[:to], moved, *order[to:]], f"move {moved}")
    return {"at": to}


def _set(book: Book, values: Mapping[str, Any]) -> dict[str, Any]:
    order = _order(book)
    at, name, value = _place(order, values, "at"), str(values.get("name")), values.get("value")
    asked = {one["name"]: one for one in _asked(order[at])}
    if name not in asked:
        raise OptionError(f"This band has no {name.replace('_', ' ')!r}.")
    if asked[name]["kind"] == "count":
        value = whole_number(asked[name]["label"], value, least=1)
    elif asked[name]["kind"] == "tick":
        value = true_or_false(asked[name]["label"], value)
    order[at] = replace(order[at], **{name: value})  # type: ignore[arg-type]  # what was asked for is a field of it
    _lay(book, order, f"{asked[name]['label'].lower()} of {order[at]}")
    return {}


def _mirror(book: Book, _: Mapping[str, Any]) -> dict[str, Any]:
    """Lay what is below the field above it too, upside down, in place of what is there."""
    order = _order(book)
    at = next(place for place, band in enumerate(order) if isinstance(band, Field))
    if not at:
        raise OptionError("Nothing lies below the field yet: add a band first.")
    mirrored = Bands.mirrored(order[:at]).order
    _lay(book, [*order[:at], order[at], *mirrored[at + 1 :]], "the same end above")
    return {}


def _step(book: Book, values: Mapping[str, Any]) -> dict[str, Any]:
    bands = replace(_bands(book.design), step=values.get("step"))  # type: ignore[arg-type]  # it says what it may be
    book.change(book.design.but(bands=bands), "row colours of bands")
    return {}


_DONE: dict[str, Callable[[Book, Mapping[str, Any]], dict[str, Any]]] = {
    "bands": _begin,
    "no_bands": _end,
    "band_offer": _offer,
    "band_add": _add,
    "band_drop": _drop,
    "band_move": _move,
    "band_set": _set,
    "band_mirror": _mirror,
    "band_step": _step,
}
BAND_ACTIONS = frozenset(_DONE)
"""What may be pressed about bands."""


def _bands(design: Design) -> Bands:
    if design.bands is None:
        raise OptionError("This piece has no bands: press “Lay in bands” first.")
    return design.bands


def _order(book: Book) -> list[AnyBand]:
    return list(_bands(book.design).order)


def _place(order: list[AnyBand], values: Mapping[str, Any], name: str) -> int:
    at = values.get(name)
    if not isinstance(at, int) or isinstance(at, bool) or not 0 <= at < len(order):
        raise OptionError("The bands have changed since. Choose again.")
    return at


def _lay(book: Book, order: list[AnyBand], label: str) -> None:
    bands = replace(_bands(book.design), order=tuple(order))
    book.change(book.design.but(bands=bands), label)
