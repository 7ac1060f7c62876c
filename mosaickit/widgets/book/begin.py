"""Begin: a new sheet, a motif of the gallery, one of a family, a file, a picture, or one drawn at random.

Whatever is taken replaces all of the design in one step that can be undone: nothing of the one before stays, neither
gauge nor frame nor words. What is only looked at changes nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any
from weakref import WeakKeyDictionary

from mosaickit.errors import FileError, number_of, one_of
from mosaickit.motif import LARGEST_SIDE
from mosaickit.sizes import Design, design_in
from mosaickit.widgets.book.begin_chance import Chance
from mosaickit.widgets.book.begin_family import Relatives
from mosaickit.widgets.book.begin_files import (
    FIRST_SHOWN,
    LARGEST_ARRIVAL,
    Arrival,
    FolderWall,
    arrived_name,
    gallery_design,
    gallery_wall,
)
from mosaickit.widgets.book.begin_picture import HeldPicture
from mosaickit.widgets.book.begin_sheet import USUAL_SHEET, empty_sheet, gauge_in, said_of_size, sheet_in
from mosaickit.widgets.book.panel import Book, Panel

__all__ = ["PANEL", "empty_sheet"]


@dataclass
class _Hand:
    """What is looked at in one workbook, and not taken yet."""

    wall: FolderWall = field(default_factory=FolderWall)
    arrival: Arrival = field(default_factory=Arrival)
    picture: HeldPicture | None = None
    chance: Chance = field(default_factory=Chance)
    relatives: Relatives = field(default_factory=Relatives)


_HANDS: WeakKeyDictionary[Any, _Hand] = WeakKeyDictionary()


class BeginPanel(Panel):
    """A design begins here."""

    name, word, hint = "begin", "Begin", "A new sheet, the gallery, a family, a file, a picture, chance"

    def view(self, book: Book) -> dict[str, Any]:
        """Give the usual size of a sheet, and what is looked at but not taken yet."""
        hand = _hand(book)
        rows, stitches = USUAL_SHEET
        return {
            "rows": rows,
            "stitches": stitches,
            "most": LARGEST_SIDE,
            "megabytes": LARGEST_ARRIVAL // 1_000_000,
            "traced": hand.picture.view if hand.picture else None,
            "chance": hand.chance.view(),
        }

    def do(self, book: Book, name: str, values: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        """Show or take what a design can begin from."""
        does = _SHOWS.get(name) or _TAKES.get(name)
        if does is not None:
            return does(book, values) or {}
        if name == "part":
            return _part(book, values, buffers)
        return super().do(book, name, values, buffers)


def _hand(book: Book) -> _Hand:
    return _HANDS.setdefault(book, _Hand())


# ---- what is only looked at --------------------------------------------------------------------------------


def _gallery(_: Book, __: dict[str, Any]) -> dict[str, Any]:
    return {"tiles": gallery_wall()}


def _family(book: Book, values: dict[str, Any]) -> dict[str, Any]:
    return _hand(book).relatives.show(book.design, values)


def _files(book: Book, values: dict[str, Any]) -> dict[str, Any]:
    return _hand(book).wall.show(book.folder, values.get("most", FIRST_SHOWN))


def _size(_: Book, values: dict[str, Any]) -> dict[str, Any]:
    return {"said": said_of_size(sheet_in(values))}


def _trace(book: Book, values: dict[str, Any]) -> None:
    _held(book).trace(values, gauge_in(values))


def _original(book: Book, _: dict[str, Any]) -> dict[str, Any]:
    return _held(book).shown_small()


def _draw(book: Book, values: dict[str, Any]) -> None:
    _hand(book).chance.draw(values)


def _held(book: Book) -> HeldPicture:
    picture = _hand(book).picture
    if picture is None:
        raise FileError("There is no picture yet: choose one.")
    return picture


# ---- what is taken -----------------------------------------------------------------------------------------


def _take_sheet(book: Book, values: dict[str, Any]) -> None:
    _take(book, sheet_in(values), "new sheet", "A new sheet")


def _take_motif(book: Book, values: dict[str, Any]) -> None:
    design = gallery_design(values.get("name"))
    _take(book, _at(design, values), "from the gallery", f"From the gallery: {design.title}")


def _relative(book: Book, values: dict[str, Any]) -> None:
    design = _hand(book).relatives.design(values)
    _take(book, design, "one of a family", f"One of a family: {values['name']}")


def _open(book: Book, values: dict[str, Any]) -> None:
    design = _hand(book).wall.open(book.folder, values.get("name"))
    _take(book, design, "open a file", f"Opened {values['name']}")


def _use(book: Book, values: dict[str, Any]) -> None:
    picture = _held(book)
    picture.trace(values, gauge_in(values))
    _take(book, picture.design, "from a picture", f"From the picture {picture.name}")


def _keep(book: Book, values: dict[str, Any]) -> None:
    _take(book, _hand(book).chance.design(values), "drawn at random", "Drawn at random")


def _at(design: Design, values: dict[str, Any]) -> Design:
    return design.but(gauge=gauge_in(values))


def _take(book: Book, design: Design, label: str, said: str) -> None:
    """Go on with another design, of which nothing but what it is itself is known."""
    rows, stitches = design.motif.shape
    book.change(design, label)
    book.open_panel("picture")
    size = f"{number_of(stitches, 'stitch')}, {number_of(rows, 'row')}"
    book.say(f"{said}: {size}. Undo brings back what was open before.")


def _part(book: Book, values: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
    """Take a part of a file from the device; with the last one, open it or show what it becomes."""
    use = values.get("use")
    one_of("use", use, ("file", "picture"))
    hand = _hand(book)
    data = hand.arrival.add(values, buffers)
    if data is None:
        return {"whole": False}
    name = arrived_name(values)
    if use == "file":
        _take(book, design_in(data, name), "open a file", f"Opened {name}")
    else:
        picture = HeldPicture.of(data, name)
        picture.trace({}, gauge_in(values))
        hand.picture = picture
    return {"whole": True}


_SHOWS = {
    "gallery": _gallery,
    "family": _family,
    "files": _files,
    "size": _size,
    "trace": _trace,
    "original": _original,
    "draw": _draw,
}
_TAKES = {"sheet": _take_sheet, "motif": _take_motif, "relative": _relative, "open": _open, "use": _use, "keep": _keep}

PANEL = BeginPanel()
