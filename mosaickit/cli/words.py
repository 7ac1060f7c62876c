"""What a pattern says, in a TOML file: the fields of its words and of its publishing, yarns and photographs.

A field is named as in Python. ``[[yarns]]`` are labels, with ``metres`` and ``grams`` of a ball beside them;
``[[photographs]]`` have a ``file``, as seen from the TOML file, a ``text`` and perhaps a ``caption``.
"""

from __future__ import annotations

import difflib
import re
import tomllib
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import TYPE_CHECKING, Any

import mosaickit as mk
from mosaickit.cli.texts import read_named
from mosaickit.errors import FileError, MosaickitError, OptionError, shortly

if TYPE_CHECKING:
    from mosaickit.sizes import CentreDesign, Design, Photograph

_LISTS = ("yarns", "photographs")


@dataclass(frozen=True)
class Words:
    """What a file says: the changes of a design, as `Design.but` takes them, and photographs."""

    changes: dict[str, Any] = field(default_factory=dict)
    photographs: tuple[Photograph, ...] = ()


def words_in(file: Path, design: Design | CentreDesign) -> Words:
    """Read what a pattern of a design says; raises `FileError` or `OptionError` with the name of the file."""
    data = read_named(file)
    try:
        told = tomllib.loads(data.decode("utf-8"))
    except UnicodeDecodeError:
        raise FileError(f"{file.name} is no UTF-8 text, as a TOML file must be.") from None
    except tomllib.TOMLDecodeError as err:
        raise FileError(f"{file.name} is not written as TOML: {str(err)[:1].lower()}{str(err)[1:]}.") from None
    own = {each.name for kind in (mk.PatternWords, mk.Publishing) for each in fields(kind)} - {"labels"}
    _check_names(told, {*own, "hook_mm", *_LISTS}, f"{file.name} has")
    try:
        changes = {name: value for name, value in told.items() if name not in _LISTS}
        changes |= _yarns(_tables(told, "yarns"), design)
        photographs = tuple(_photograph(each, file.parent) for each in _tables(told, "photographs"))
        design.but(**changes)  # refuses what cannot be
    except MosaickitError as err:
        raise OptionError(f"{file.name}: {_in_toml(str(err))}") from None
    return Words(changes, photographs)


def _in_toml(sentence: str) -> str:
    """Leave names as the file writes them, which is in quotes, so that none is taken for an option."""
    return re.sub("`([a-z_]+)`", r'"\1"', sentence)


def _check_names(told: dict[str, Any], known: set[str], where: str) -> None:
    for name in told:
        if name not in known:
            near = difflib.get_close_matches(name, sorted(known), n=1)
            meant = f'did you mean "{near[0]}"?' if near else f"known are {', '.join(sorted(known))}."
            raise OptionError(f'{where} a field "{name}", which is not known: {meant}')


def _tables(told: dict[str, Any], name: str) -> list[dict[str, Any]]:
    tables = told.get(name, [])
    if not isinstance(tables, list) or not all(isinstance(each, dict) for each in tables):
        raise OptionError(f"`{name}` must be tables, each begun with [[{name}]]; got {shortly(tables)}.")
    return tables


def _yarns(tables: list[dict[str, Any]], design: Design | CentreDesign) -> dict[str, Any]:
    """Give the labels of yarns, and what they are sold in if that is said."""
    labels, skeins = [], {}
    names = (design.square if isinstance(design, mk.CentreDesign) else design).motif.yarns.names
    for table in tables:
        _check_names(table, {each.name for each in fields(mk.YarnLabel)} - {"_"} | {"metres", "grams"}, "[[yarns]] has")
        name = table.get("yarn")
        if name not in names:
            raise OptionError(
                f"Each of [[yarns]] must say which `yarn` it is, one of {', '.join(map(repr, names))}; got {name!r}."
            )
        ball = {each: table[each] for each in ("metres", "grams") if each in table}
        if len(ball) == 1:
            raise OptionError(f"The ball of {name!r} needs both `metres` and `grams`; got {next(iter(ball))} only.")
        if ball:
            skeins[name] = mk.Skein(**ball)
        labels.append(mk.YarnLabel(**{each: value for each, value in table.items() if each not in ball}))
    return {**({"labels": labels} if labels else {}), **({"skeins": skeins} if skeins else {})}


def _photograph(table: dict[str, Any], folder: Path) -> Photograph:
    _check_names(table, {"file", "text", "caption"}, "[[photographs]] has")
    file = table.get("file")
    if not isinstance(file, str) or not file:
        raise OptionError(f"Each of [[photographs]] must name its `file`; got {shortly(file)}.")
    return mk.Photograph(folder / file, table.get("text", ""), table.get("caption", ""))
