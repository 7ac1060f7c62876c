"""Editions: what a design was earlier, kept with it under a number and a line of what changed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from mosaickit.errors import OptionError, of_kind, text
from mosaickit.sizes.designs.changing import kept
from mosaickit.sizes.designs.words import LONGEST_TITLE, check_prose

if TYPE_CHECKING:
    from mosaickit.sizes.designs.design import Design

_Day = date


@dataclass(frozen=True)
class Edition:
    """What a design was at some time; see `Design.edition`."""

    date: date
    """The day it was kept."""
    changed: str
    """A line of what changed."""
    design: Design
    """The design of that day, without editions of its own."""


def kept_edition(design: Design, changed: str, date: date | None) -> Design:
    """Give the design with an edition more; see `Design.edition`."""
    if not text("changed", changed).strip() or "\n" in changed:
        raise OptionError(f"`changed` must be one line that says what changed; got {changed!r}.")
    check_prose("changed", changed, LONGEST_TITLE)
    of_kind("date", date, _Day, or_none=True)
    now = replace(design, editions=())
    if design.editions and design.editions[-1].design == now:
        raise OptionError(f"Nothing changed since edition {len(design.editions)}: {design.editions[-1].changed}")
    edition = Edition(date or _Day.today(), changed, kept(design, now))
    return kept(design, replace(design, editions=(*design.editions, edition)))
