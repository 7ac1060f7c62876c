"""Editions: what a design was at some time, kept under a line of what changed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING, Generic, TypeVar

from mosaickit.errors import OptionError, of_kind, text
from mosaickit.sizes.designs.words import LONGEST_TITLE, check_prose

if TYPE_CHECKING:
    from mosaickit.sizes.centred.square_design import CentreDesign
    from mosaickit.sizes.designs.design import Design

EitherDesign = TypeVar("EitherDesign", bound="Design | CentreDesign")
"""Either kind of design: one in rows, or a square from the centre."""

_Day = date


@dataclass(frozen=True)
class Edition(Generic[EitherDesign]):
    """What a design was at some time; see `Design.edition`."""

    date: date
    """The day it was kept."""
    changed: str
    """A line of what changed."""
    design: EitherDesign
    """The design of that day, without editions of its own."""


def edition_now(design: EitherDesign, changed: str, day: date | None) -> Edition[EitherDesign]:
    """Give a design as it is now as an edition, without those it has; see `Design.edition`."""
    if not text("changed", changed).strip() or "\n" in changed:
        raise OptionError(f"`changed` must be one line that says what changed; got {changed!r}.")
    check_prose("changed", changed, LONGEST_TITLE)
    of_kind("date", day, date, or_none=True)
    # each edition with all pictures would make the file large
    now = replace(design, editions=(), photographs=())  # type: ignore[arg-type]  # both kinds have them
    if design.editions and design.editions[-1].design == now:
        raise OptionError(f"Nothing changed since edition {len(design.editions)}: {design.editions[-1].changed}")
    return Edition(day or _Day.today(), changed, now)
