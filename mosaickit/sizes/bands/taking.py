"""Taking: what a design of bands without a motif of its own takes from them: its field."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeGuard

from mosaickit.errors import OptionError
from mosaickit.sizes.bands.columns import Columns
from mosaickit.sizes.bands.fitting import ways
from mosaickit.sizes.bands.order import Bands, checked_order
from mosaickit.sizes.bands.values import Band, Field

if TYPE_CHECKING:
    from mosaickit.sizes.designs.design import Design

_USUAL = {"across": 1, "up": 1, "laying": "straight", "seam": "double"}
"""What a design says of its repeats if nothing is said."""


def bands_and_field(design: Design) -> dict[str, Any]:
    """Give the bands of a design as a value; and where it has no motif, what it takes from its highest band.

    That band becomes the field: `Field` stands in its place, and what it says is said by the design. Of bands equally
    high it is the lowest in the order. One that is centred or filled takes its width from others, so it is left out.

    Returns
    -------
    dict
        The fields of the design that are otherwise than given.

    Raises
    ------
    OptionError
        If they are no bands, no band can be the field, or it says something that the design says otherwise.
    """
    given: Any = design.bands
    bands = given if isinstance(given, Bands) else Bands(checked_order("bands", given))
    if design.__dict__["motif"] is not None:
        return {"bands": bands}
    if any(isinstance(band, Field) for band in bands.order):
        raise OptionError("These bands have a field, so the design needs its motif: give it, as mk.Design(motif, …).")
    order = list(bands.order)
    laid = {at: _as_band(band) for at, band in enumerate(order) if _gives_motif(band)}
    whole = [at for at, band in laid.items() if band.fit == "whole"]
    if not whole:
        raise OptionError(
            "No band gives the width of the piece: give a `Band` that is neither centred nor filled; or mk.Field() in "
            "the order, and the design its motif."
        )
    at = max(whole, key=lambda at: (_rows(laid[at], design.surround.in_the_round), -at))
    field = laid[at]
    order[at] = Field(upside_down=field.upside_down, mirrored=field.mirrored)
    said = {"across": field.across or 1, "up": field.up, "laying": field.laying, "seam": field.seam}
    for name, usual in _USUAL.items():
        if getattr(design, name) != usual:
            if said[name] not in (usual, getattr(design, name)):
                raise OptionError(
                    f"Band {at + 1} is the field and has {name}={said[name]!r}, the design {name}="
                    f"{getattr(design, name)!r}: leave out one of them."
                )
            said[name] = getattr(design, name)
    closing: dict[str, Any] = {
        "balance_across": field.balance_across,
        "balance_up": field.balance_up,
        "colours": field.colours,
    }
    usual_band = Band(field.motif)
    told = {name: value for name, value in closing.items() if value != getattr(usual_band, name)}
    surround = replace(design.surround, **told)
    return {"motif": field.motif, "bands": replace(bands, order=tuple(order)), "surround": surround, **said}


def _gives_motif(band: object) -> TypeGuard[Band | Columns]:
    return isinstance(band, Band) or (isinstance(band, Columns) and not band.takes_field)


def _as_band(band: Band | Columns) -> Band:
    return band if isinstance(band, Band) else band.band


def _rows(band: Band, in_the_round: bool) -> int:
    _, above = ways(band, band.across or 1, in_the_round)
    return above.whole
