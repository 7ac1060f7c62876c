"""Changing: another design with some decisions changed, and what goes on to it because nothing behind it changed."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import fields, replace
from operator import attrgetter
from typing import TYPE_CHECKING, Any

from mosaickit.errors import OptionError
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


def changed(
    design: EitherDesign,
    changes: Mapping[str, Any],
    parts: Mapping[str, type[Any]] = PARTS_OF_DESIGN,
    what: str = "A design",
) -> EitherDesign:
    """Give a design with some fields changed, its own or those of its parts, of which no two have one of one name."""
    own = {each.name for each in fields(design)}
    of_part = {each.name: part for part, kind in parts.items() for each in fields(kind)}
    whole = {name: value for name, value in changes.items() if name in own}
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
    return replace(design, **whole)


def kept(old: Design, new: Design) -> Design:
    """Hand on to `new` what was worked out for `old` and follows from the same decisions; gives `new`."""
    same: dict[str, bool] = {}
    for name, behind in _BEHIND.items():
        if name not in old.__dict__:
            continue
        for decision in behind:
            if decision not in same:
                before, after = map(attrgetter(decision), (old, new))
                same[decision] = before is after or before == after
        if all(same[decision] for decision in behind):
            new.__dict__[name] = old.__dict__[name]
    return new
