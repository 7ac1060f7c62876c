"""Changing: another design with some decisions changed, and what goes on to it because nothing behind it changed."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Mapping
from dataclasses import replace
from operator import attrgetter
from typing import TYPE_CHECKING, Any

from mosaickit.errors import OptionError
from mosaickit.sizes.designs.checked import check_field, check_together
from mosaickit.sizes.designs.editions import EitherDesign
from mosaickit.sizes.designs.publishing import Publishing
from mosaickit.sizes.designs.words import PatternWords
from mosaickit.sizes.finishes.finish import Finish
from mosaickit.sizes.layouts.surround import Surround
from mosaickit.yarn import YarnSettings

if TYPE_CHECKING:
    from mosaickit.sizes.designs.design import Design

PARTS_OF_DESIGN: dict[str, type[Any]] = {
    "surround": Surround,
    "finish": Finish,
    "yarn_settings": YarnSettings,
    "words": PatternWords,
    "publishing": Publishing,
}

_LAID = ("motif", "across", "up", "laying", "seam", "bands", "surround")
_SIZED = (*_LAID, "sizes", "gauge", "reversible", "hand", "finish")
_BEHIND = {
    "_sums": ("motif", "laying", "seam", "surround"),
    "shape": _LAID,
    "layout": _LAID,
    "picture": _LAID,
    "report": (*_LAID, "hand", "yarn_settings"),
    "chart": (*_LAID, "reversible", "hand"),
    "fabric": (*_LAID, "reversible", "hand"),
    "counts": (*_LAID, "reversible"),
    "lengths": (*_LAID, "reversible", "gauge", "yarn_settings", "by_thread", "swatches"),
    "edging": (*_LAID, "finish", "gauge"),
    "usage": (*_LAID, "finish", "reversible", "gauge", "yarn_settings", "by_thread", "swatches"),
    # each size is a design of its own, which keeps all that was decided
    "in_sizes": (
        *_SIZED,
        "yarn_settings",
        "by_thread",
        "swatches",
        "hook_mm",
        "words",
        "publishing",
        "photographs",
        "editions",
    ),
    "sized_rows": (*_SIZED, "yarn_settings.between_rows", "words.terms", "publishing.language"),
    "rows": (
        *(*_LAID, "reversible", "hand", "yarn_settings.between_rows"),
        *("words.terms", "words.phrasing", "publishing.language"),
        *("finish.foundation", "finish.ends"),
    ),
}
"""What follows, and the decisions that it follows from; of a part, as "words.terms", only what counts."""
_OF_PARTS = [
    (name, name.partition(".")[0], attrgetter(name))
    for name in dict.fromkeys(name for behind in _BEHIND.values() for name in behind)
    if "." in name
]
"""The decisions that are only a part of a field, the field, and what reads them."""


def changed(design: Design, changes: Mapping[str, Any]) -> Design:
    """Give the design with some fields changed, its own or those of its parts."""
    whole = whole_fields(design, changes, PARTS_OF_DESIGN, "A design")
    if design.bands is not None or not whole.keys().isdisjoint(("bands", "editions")):
        return replace(design, **whole)
    # what did not change was checked before
    new = object.__new__(type(design))
    new.__dict__.update({name: whole.get(name, design.__dict__[name]) for name in _names_of(design)})
    for name in whole:
        check_field(new, name)
    check_together(new)
    return new


def whole_fields(
    design: EitherDesign, changes: Mapping[str, Any], parts: Mapping[str, type[Any]], what: str
) -> dict[str, Any]:
    """Give the fields of a design that changes make, each whole where only something in a part of it changes."""
    own = _names_of(design)
    whole = {name: value for name, value in changes.items() if name in own}
    if len(whole) == len(changes):
        return whole
    of_part = {name: part for part, kind in parts.items() for name in _names_of(kind)}  # no two have one of one name
    of_parts: dict[str, dict[str, Any]] = {}
    for name, value in changes.items():
        if name in own:
            continue
        if name not in of_part:
            near = difflib.get_close_matches(name, [*own, *of_part], n=1)
            meant = f"did you mean `{near[0]}`?" if near else f"known are {', '.join(sorted({*own, *of_part}))}."
            raise OptionError(f"{what} has no `{name}`: {meant}")
        of_parts.setdefault(of_part[name], {})[name] = value
    for part, values in of_parts.items():
        base = whole.get(part, getattr(design, part))
        if not isinstance(base, parts[part]):
            continue  # the design says what it must be
        whole[part] = replace(base, **values)
    return whole


def _names_of(one: Any) -> Collection[str]:  # noqa: ANN401
    names: dict[str, Any] = one.__dataclass_fields__  # `fields` makes a tuple of them each time
    return names


def kept(old: Design, new: Design) -> Design:
    """Hand on to `new` what was worked out for `old` and follows from the same decisions; gives `new`."""
    before, after = old.__dict__, new.__dict__
    differ = {name for name in _names_of(old) if before[name] is not after[name] and before[name] != after[name]}
    differ |= {name for name, part, read in _OF_PARTS if part in differ and read(old) != read(new)}
    for name, behind in _BEHIND.items():
        if name in before and differ.isdisjoint(behind):
            after[name] = before[name]
    return new
