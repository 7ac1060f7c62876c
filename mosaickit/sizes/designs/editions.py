"""Editions: whether a design may be kept as it is now, under a line of what changed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from mosaickit.errors import OptionError, of_kind, text
from mosaickit.sizes.designs.changing import kept
from mosaickit.sizes.designs.words import LONGEST_TITLE, check_prose

if TYPE_CHECKING:
    from mosaickit.sizes.designs.design import Design


def as_it_is_now(design: Design, changed: str, day: date | None) -> Design:
    """Check what is said of an edition, and give the design without those it has; see `Design.edition`."""
    if not text("changed", changed).strip() or "\n" in changed:
        raise OptionError(f"`changed` must be one line that says what changed; got {changed!r}.")
    check_prose("changed", changed, LONGEST_TITLE)
    of_kind("date", day, date, or_none=True)
    now = replace(design, editions=(), photographs=())  # each edition with all pictures would make the file large
    if design.editions and design.editions[-1].design == now:
        raise OptionError(f"Nothing changed since edition {len(design.editions)}: {design.editions[-1].changed}")
    return kept(design, now)
