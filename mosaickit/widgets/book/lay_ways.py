"""Ways out: other choices with which a design that cannot be worked can be; each is tried before it is named."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from mosaickit.errors import MosaickitError, UnworkableError, number_of
from mosaickit.sizes import Design
from mosaickit.widgets.book.entries import ENTRIES


class WayOut(NamedTuple):
    """Another choice, in the words of the entries."""

    key: str
    word: str
    design: Design


def ways_out(design: Design) -> list[WayOut]:
    """Give what makes a design workable, the choices that leave the motif alone first; none if it is workable."""
    if design.layout.workable:
        return []
    try:
        design.layout.must_work()
    except UnworkableError as error:
        cures = error.cures
    ways = []
    # what cures a brick's larger repeat may not be said of the brick, so each is tried on the design itself
    for cure in cures:
        if cure.options and not cure.mend and (better := _changed(design, cure.options)):
            ways.append(way_with(better, cure.options))
    other = swapped(design)
    if not ways and other and other.design.layout.workable:
        ways.append(other)
    return [*ways, *_mended(design)]


def way_with(better: Design, changes: Any) -> WayOut:  # noqa: ANN401 — a mapping of entries' names to values
    """Name a design by what was changed."""
    word = "; ".join(f"{ENTRIES[name].label}: {_said(name, value)}" for name, value in changes.items())
    return WayOut(word, word, better)


def swapped(design: Design) -> WayOut | None:
    """Give the design with every second repeat up in swapped colours, where that makes a difference."""
    if design.surround.colours == "swap" or design.multiple.rows % 2 == 0:
        return None
    return way_with(design.but(colours="swap"), {"colours": "swap"})


def _changed(design: Design, changes: Any) -> Design | None:  # noqa: ANN401 — as `Design.but` takes them
    try:
        better = design.but(**changes)
    except MosaickitError:
        return None
    return better if better.layout.workable else None


def _mended(design: Design) -> Iterator[WayOut]:
    try:
        better = design.mended()
    except UnworkableError:
        return
    changed = int((better.motif.grid != design.motif.grid).sum())
    verb = "changes" if changed == 1 else "change"
    yield WayOut("mend", f"Mend the motif: {number_of(changed, 'square')} {verb}", better)


def _said(name: str, value: object) -> str:
    return next((word for option, word in ENTRIES[name].options if option == value), str(value))
