"""Motif documents: JSON written and read, and the header that a PNG's note shares with it.

The schema is our own and open: ``motif.schema.json`` beside this module describes it for people and validators. It
is versioned, and a version that is not known is refused. Every fault names its place: keys, and entries from 1.
"""

from __future__ import annotations

import json
import reprlib
from collections.abc import Iterable
from typing import Any, NoReturn, cast

from mosaickit.colours import LONGEST_NAME, Yarn, Yarns
from mosaickit.errors import FileError, MotifError
from mosaickit.motif import LARGEST_SIDE, Motif, parse_rows
from mosaickit.orientation import ROLES, Role

KIND = "mosaickit motif"
VERSION = 1

Place = tuple[str | int, ...]
"""Where in a JSON document: keys, and numbers of entries, from 1."""


def header(motif: Motif) -> dict[str, Any]:
    """Give the keys that every document starts with."""
    return {"format": KIND, "version": VERSION, "name": motif.name, "first": motif.first}


def yarn_entries(yarns: Yarns) -> dict[str, Any]:
    """Give the yarns of both colours as a document lists them."""
    return {
        role: [{"from_row": row, "name": yarn.name, "colour": yarn.colour} for row, yarn in yarns.of(role)]
        for role in ROLES
    }


def to_json(motif: Motif) -> str:
    """Write a motif as a JSON document, one row of the picture a line."""
    document = {**header(motif), "rows": motif.to_text().split("\n"), "yarns": yarn_entries(motif.yarns)}
    return json.dumps(document, ensure_ascii=False, indent=2) + "\n"


def from_json(text: str, first: Role | None) -> Motif:
    """Read a motif from a JSON document, or raise `FileError` with the place of the first fault."""
    document, parts = read_header(parse(text), "rows")
    rows = [
        read_string(row, ("rows", n), LARGEST_SIDE) for n, row in enumerate(read_list(document["rows"], ("rows",)), 1)
    ]
    try:
        grid = parse_rows(rows, line_number=lambda index: index + 1)
    except MotifError as err:
        raise fault(("rows",), str(err)) from None
    check_first(first, parts["first"])
    return Motif(grid, **parts)


def parse(text: str) -> object:
    """Parse JSON strictly: no key twice, no NaN, no endless number or depth."""
    try:
        return cast(
            object, json.loads(text, object_pairs_hook=_once, parse_constant=_no_constant, parse_int=_short_int)
        )
    except json.JSONDecodeError as err:
        raise FileError(f"Line {err.lineno}, column {err.colno}: this is no JSON ({err.msg}).") from None
    except RecursionError:
        raise FileError("This is no motif: its lists or objects are nested too deeply.") from None


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise FileError(f"The key {reprlib.repr(key)} stands twice in one object; keep one of them.")
        found[key] = value
    return found


def _no_constant(constant: str) -> NoReturn:
    raise FileError(f"{constant} is no number of JSON.")


def _short_int(digits: str) -> int:
    if len(digits) > 18:
        raise FileError(f"No number of a motif has {len(digits)} digits.")
    return int(digits)


class _Shown(reprlib.Repr):
    """Shows values cut short if they are long, and null, true and false as a document has them."""

    def repr_NoneType(self, value: None, level: int) -> str:  # noqa: N802 — as reprlib names it
        return "null"

    def repr_bool(self, value: bool, level: int) -> str:
        return "true" if value else "false"


shown = _Shown().repr


def fault(place: Place, sentence: str) -> FileError:
    """Make the error for a place in a document."""
    words = ", ".join(f"entry {part}" if isinstance(part, int) else f'"{part}"' for part in place)
    return FileError(f"At {words}: {sentence}" if words else sentence)


def read_header(document: object, *also: str) -> tuple[dict[str, Any], dict[str, Any]]:
    """Give a document, which has the keys `also` and no unknown ones, and what a `Motif` has beside its grid."""
    if not isinstance(document, dict) or document.get("format") != KIND:
        raise FileError(f'This is no motif: expected an object with "format": "{KIND}".')
    version = read_whole_number(document.get("version"), ("version",))
    if version != VERSION:
        raise FileError(
            f"This file is of version {version}; this mosaickit reads version {VERSION}: save the file in that "
            "version, or read it with a newer mosaickit."
        )
    document = read_object(document, (), ("format", "version", "first", *also), ("name", "yarns"))
    if document["first"] not in ROLES:
        raise fault(("first",), f'Expected "MC" or "CC", found {shown(document["first"])}.')
    name = read_string(document.get("name", ""), ("name",))
    yarns = _read_yarns(document["yarns"]) if "yarns" in document else Yarns()
    return document, {"first": document["first"], "yarns": yarns, "name": name}


def _read_yarns(value: object) -> Yarns:
    entries = read_object(value, ("yarns",), ROLES)
    mc, cc = (
        [_read_yarn(entry, ("yarns", role, n)) for n, entry in enumerate(read_list(entries[role], ("yarns", role)), 1)]
        for role in ROLES
    )
    try:
        return Yarns(mc, cc)
    except MotifError as err:
        raise fault(("yarns",), str(err)) from None


def _read_yarn(value: object, place: Place) -> tuple[int, Yarn]:
    entry = read_object(value, place, ("from_row", "name", "colour"))
    row = read_whole_number(entry["from_row"], (*place, "from_row"))
    name = read_string(entry["name"], (*place, "name"))
    colour = read_colour(entry["colour"], (*place, "colour"))
    try:
        return row, Yarn(name, colour)
    except MotifError as err:
        raise fault((*place, "name"), str(err)) from None


def read_colour(value: object, place: Place) -> str:
    """Read a colour written "#rrggbb"."""
    colour = read_string(value, place)
    try:
        return Yarn("", colour).colour
    except MotifError as err:
        raise fault(place, str(err)) from None


def read_object(value: object, place: Place, needed: Iterable[str], optional: Iterable[str] = ()) -> dict[str, Any]:
    """Read an object that has the needed keys and no unknown ones."""
    if not isinstance(value, dict):
        raise fault(place, f"Expected an object in braces, found {shown(value)}.")
    needed = list(needed)
    known = [*needed, *optional]
    for key in value:
        if key not in known:
            listed = ", ".join(f'"{name}"' for name in known)
            raise fault(place, f"The key {reprlib.repr(key)} is unknown here; known are {listed}.")
    for key in needed:
        if key not in value:
            raise fault(place, f'The key "{key}" is missing.')
    return value


def read_list(value: object, place: Place, longest: int = LARGEST_SIDE) -> list[Any]:
    """Read a list that is not too long."""
    if not isinstance(value, list) or len(value) > longest:
        raise fault(place, f"Expected a list of at most {longest:,} entries, found {shown(value)}.")
    return value


def read_string(value: object, place: Place, longest: int = LONGEST_NAME) -> str:
    """Read a text that is not too long."""
    if not isinstance(value, str) or len(value) > longest:
        found = shown(value)
        raise fault(place, f"Expected text in quotes, of at most {longest:,} characters, found {found}.")
    return value


def read_whole_number(value: object, place: Place) -> int:
    """Read a whole number from 1 to the longest side of a motif."""
    if not isinstance(value, int) or isinstance(value, bool) or not 1 <= value <= LARGEST_SIDE:
        raise fault(place, f"Expected a whole number from 1 to {LARGEST_SIDE:,}, found {shown(value)}.")
    return value


def check_first(first: Role | None, found: Role) -> None:
    """Refuse a `first` that contradicts what the file says."""
    if first is not None and first != found:
        raise FileError(f"The file says that row 1 is worked in {found}, but `first` says {first}: leave `first` out.")
