"""What is typed on the panel Lay and not taken yet: kept beside its workbook, never in the design, and read here."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple, TypeVar
from weakref import WeakKeyDictionary

from mosaickit.colours import Yarn
from mosaickit.errors import MosaickitError, OptionError
from mosaickit.gauge import Unit
from mosaickit.orientation import ROLES
from mosaickit.sizes import Design
from mosaickit.widgets.book.entries import in_labels
from mosaickit.widgets.book.panel import Book
from mosaickit.yarn import Skein

LONGEST_TYPED = 40
"""The most characters that are kept of a text typed into a box."""

_Made = TypeVar("_Made")


@dataclass
class Desk:
    """What lies on the panel of one workbook.

    Attributes
    ----------
    typed : dict of str to str
        What stands in the boxes: "width", "length", "unit", "tolerance", "worked", and of a yarn "limit:NAME",
        "metres:NAME" and "grams:NAME".
    most : int
        How many fits are shown.
    """

    typed: dict[str, str] = field(
        default_factory=lambda: {"width": "", "length": "", "unit": "cm", "tolerance": "5", "worked": "across"}
    )
    most: int = 12
    _made: dict[str, tuple[Design, dict[str, str], int, Any]] = field(default_factory=dict)

    def type(self, values: Mapping[str, Any]) -> None:
        """Keep what was typed; a new wish is shown from its first fits on."""
        self.typed |= {str(name): str(value)[:LONGEST_TYPED] for name, value in values.items()}
        self.most = 12

    def forget(self, *beginnings: str) -> None:
        """Empty the boxes whose names begin so."""
        self.typed = {name: value for name, value in self.typed.items() if not name.startswith(beginnings)}

    def kept(self, what: str, design: Design, make: Callable[[Design, dict[str, str], int], _Made]) -> _Made:
        """Give what follows from the design and what is typed; made again only if one of them changed."""
        before = self._made.get(what)
        if before is None or before[0] is not design or before[1:3] != (self.typed, self.most):
            before = self._made[what] = (design, dict(self.typed), self.most, make(design, self.typed, self.most))
        made: _Made = before[3]
        return made


_DESKS: WeakKeyDictionary[Book, Desk] = WeakKeyDictionary()


def desk_of(book: Book) -> Desk:
    """Give what lies on the panel of a workbook; at first what its file keeps of it."""
    if book not in _DESKS:
        _DESKS[book] = Desk()
        _DESKS[book].type(book.beside("lay"))
    return _DESKS[book]


def typed_on(book: Book) -> dict[str, str] | None:
    """Give what stands in the boxes; None if nothing was asked of them."""
    return _DESKS[book].typed if book in _DESKS else None


def unit_of(book: Book) -> Unit:
    """Give the unit that the hand has chosen for sizes."""
    return "in" if desk_of(book).typed["unit"] == "in" else "cm"


class Asked(NamedTuple):
    """What was typed, as numbers.

    Attributes
    ----------
    width, length : float or None
        The wanted size in `unit`; None where nothing was typed.
    unit : "cm" or "in"
        Its unit.
    tolerance : float
        The share by which it may differ.
    worked : str
        Whether rows run "across" the width or "along" the length.
    limits : dict of str to int
        The most skeins of a yarn, by its name.
    faults : dict of str to str
        Why something that was typed cannot be read, by the name of its box.
    """

    width: float | None
    length: float | None
    unit: Unit
    tolerance: float
    worked: Any
    limits: dict[str, int]
    faults: dict[str, str]


def asked_for(design: Design, typed: Mapping[str, str]) -> Asked:
    """Read what was typed."""
    faults: dict[str, str] = {}

    def read(name: str, label: str, least: float, most: float) -> float | None:
        try:
            return number_typed(label, typed.get(name, ""), least, most)
        except MosaickitError as error:
            faults[name] = in_labels(str(error))
            return None

    limits: dict[str, int] = {}
    for yarn in yarns_of(design) if design.yarn_settings.skeins is not None else ():
        try:
            limit = limit_typed(f"Skeins of {yarn.name}", typed.get(f"limit:{yarn.name}", ""))
        except MosaickitError as error:
            faults[f"limit:{yarn.name}"] = str(error)
            continue
        if limit is not None:
            limits[yarn.name] = limit
    width, length = read("width", "Width", 0.1, 100_000), read("length", "Length", 0.1, 100_000)
    if length is not None and width is None and "width" not in faults:
        faults["width"] = "Enter the width too."
    tolerance = read("tolerance", "May differ", 0, 50)
    return Asked(
        width=width,
        length=length,
        unit="in" if typed.get("unit") == "in" else "cm",
        tolerance=(tolerance or 0) / 100,
        worked="along" if typed.get("worked") == "along" else "across",
        limits=limits,
        faults=faults,
    )


def number_typed(label: str, typed: str, least: float, most: float) -> float | None:
    """Read a number as people type it, with a point or a comma; None if nothing was typed.

    Raises
    ------
    OptionError
        If it is no number, or not from `least` to `most`.

    Examples
    --------
    >>> number_typed("Width", "22,5", 0.1, 1000)
    22.5
    """
    if not typed.strip():
        return None
    try:
        number = float(typed.strip().replace(",", "."))
    except ValueError:
        raise OptionError(f"{label}: enter a number, as 22 or 22.5; got {typed!r}.") from None
    if not least <= number <= most:
        raise OptionError(f"{label}: enter a number from {least:g} to {most:,g}; got {typed!r}.")
    return number


def limit_typed(label: str, typed: str) -> int | None:
    """Read the most skeins that there may be; None if nothing was typed, which is no limit.

    Raises
    ------
    OptionError
        If it is no whole number from 1 to 10,000.
    """
    limit = number_typed(label, typed, 1, 10_000)
    if limit is not None and limit != int(limit):
        raise OptionError("Skeins are bought whole: enter a whole number.")
    return None if limit is None else int(limit)


def yarns_of(design: Design) -> list[Yarn]:
    """List the yarns of a design's motif, one of each name."""
    yarns = (yarn for role in ROLES for _, yarn in design.motif.yarns.of(role))
    return list({yarn.name: yarn for yarn in yarns}.values())


def skeins_typed(design: Design, typed: Mapping[str, str]) -> Skein | dict[str, Skein]:
    """Read what the yarns of a design are sold in: one skein if all are alike.

    Raises
    ------
    OptionError
        If something is missing or cannot be.
    """
    skeins = {}
    for yarn in yarns_of(design):
        numbers = {
            part: number_typed(f"{yarn.name}, {part}", typed.get(f"{part}:{yarn.name}", ""), 0.1, 1e6)
            for part in ("metres", "grams")
        }
        metres, grams = numbers["metres"], numbers["grams"]
        if metres is None or grams is None:
            raise OptionError(f"Enter metres and grams of a skein of {yarn.name}: both are on its label.")
        skeins[yarn.name] = Skein(metres, grams)
    first, *others = skeins.values()
    return first if all(other == first for other in others) else skeins
