"""Starting: what a sweep takes from designs among its motifs, where nothing else is given for all of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from mosaickit.errors import OptionError
from mosaickit.sizes.bands.order import Bands
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.finishes.finish import USUAL_FINISH, Finish

_OWN = {"gauges": "gauge", "surrounds": "surround", "yarn_settings": "yarn_settings", "reversible": "reversible"}
"""The arguments that designs say themselves, and where."""


def motifs_of(motifs: Any) -> Any:  # noqa: ANN401 — as `sweep` takes them
    """Give the same with the motif of each design in its place, by the names that they have."""
    if isinstance(motifs, Mapping):
        return {name: _motif(one) for name, one in motifs.items()}
    if isinstance(motifs, list | tuple | set | frozenset):
        return [_motif(one) for one in motifs]
    return _motif(motifs)


def _motif(one: Any) -> Any:  # noqa: ANN401
    return one.motif.named(one.words.title or one.motif.name) if isinstance(one, Design) else one


def bands_of(designs: Sequence[Design | None]) -> tuple[Bands | None, ...]:
    """Give the bands of each design; None for what has none."""
    return tuple(None if design is None else design.bands for design in designs)


def finishes_of(designs: Sequence[Design | None]) -> tuple[Finish, ...]:
    """Give how the edges and ends of each are finished."""
    return tuple(USUAL_FINISH if design is None else design.finish for design in designs)


def each_of(motifs: Any) -> tuple[Any, ...]:  # noqa: ANN401
    """Give the motifs and designs one by one, in the order of the sweep."""
    if isinstance(motifs, Mapping):
        return tuple(motifs.values())
    return tuple(motifs) if isinstance(motifs, list | tuple | set | frozenset) else (motifs,)


def said_by(designs: Sequence[Design], given: Mapping[str, Any]) -> dict[str, Any]:
    """Give the arguments, and in place of those that are None what the designs say alike."""
    told = dict(given)
    for design in designs:
        if design.laying != "straight":
            raise OptionError(
                f"A sweep lays repeats straight, and {design.title!r} is laid {design.laying}: `mk.plan_widths` takes "
                "it, or give its motif."
            )
        if told["yarn_settings"] is None and (design.by_thread or design.swatches):
            raise OptionError(
                f"The lengths of stitches in {design.title!r} were measured, each piece by itself: give "
                "`yarn_settings` for the sweep, as mk.YarnSettings()."
            )
    for name, field in _OWN.items():
        if designs and told[name] is None:
            own = {getattr(design, field) for design in designs}
            if len(own) > 1:
                raise OptionError(f"The designs differ in their {field.replace('_', ' ')}: give `{name}`, for all.")
            (told[name],) = own
    return told
