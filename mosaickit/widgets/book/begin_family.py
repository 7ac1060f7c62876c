"""One of a family to begin from: a motif of the gallery, or the one in hand, and what it becomes when it is varied."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from mosaickit.errors import OptionError, number_of
from mosaickit.ideas import Family, family
from mosaickit.motif import Motif
from mosaickit.sizes import Design, DesignTile
from mosaickit.widgets.book.begin_files import gallery_design, gallery_names, tile_shown
from mosaickit.widgets.book.begin_sheet import gauge_in
from mosaickit.widgets.book.vary import LARGEST_MOTIF

MOST_RELATIVES = 60
"""The most of a family that are shown to begin from."""


@dataclass
class Relatives:
    """The family that was looked at last."""

    members: Family | None = None

    def show(self, design: Design, values: Mapping[str, Any]) -> dict[str, Any]:
        """Give the family of the motif in hand, or of one of the gallery by its name in `of`.

        Raises
        ------
        OptionError
            If the gallery has no such motif, or the motif is too large for it.
        """
        motif = gallery_design(values["of"]).motif if values.get("of") else design.motif
        if motif.grid.size > LARGEST_MOTIF:
            raise OptionError(
                f"The motif in hand has {number_of(motif.grid.size, 'square')}; a family is made of motifs of up to "
                f"{LARGEST_MOTIF:,}. Choose one of the gallery, or crop yours to the part that repeats."
            )
        self.members = family(motif, most=MOST_RELATIVES)
        tiles = [_tile(each.name, each.motif, each.changed) for each in self.members]
        return {"tiles": tiles, "gallery": gallery_names()}

    def design(self, values: dict[str, Any]) -> Design:
        """Give the one that was chosen as a design, at the gauge that was entered."""
        if self.members is None:
            raise OptionError("No family is shown yet: choose a motif first.")
        return Design(self.members.member(str(values.get("name"))).motif, gauge_in(values))


def _tile(name: str, motif: Motif, changed: int) -> dict[str, Any]:
    rows, stitches = motif.shape
    lines = [
        f"{number_of(rows, 'row')} × {number_of(stitches, 'stitch')}",
        f"{number_of(changed, 'square')} mended" if changed else "",
    ]
    return tile_shown(DesignTile(name, Design(motif.named(name)), "", tuple(lines)))
