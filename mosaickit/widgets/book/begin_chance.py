"""A motif drawn at random to begin from, shown before it is taken."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from mosaickit.errors import OptionError, number_of, one_of, within
from mosaickit.ideas import random_motif
from mosaickit.motif import Motif, SymmetryName
from mosaickit.sizes import Design
from mosaickit.widgets.book.begin_sheet import USUAL_SHEET, gauge_in
from mosaickit.widgets.book.ledger import squares_of_motif

SYMMETRIES_ASKED: dict[str, tuple[SymmetryName, ...]] = {
    "none": (),
    "mirror": ("mirror",),
    "up-down": ("up-down",),
    "half-turn": ("half-turn",),
    "both": ("mirror", "up-down"),
}
"""What can be asked for, and what that is to the library."""

NEAR = 2
"""The percent of all squares by which a share may be missed."""

USUAL_CHANCE: dict[str, Any] = {"stitches": USUAL_SHEET[1], "rows": USUAL_SHEET[0], "symmetry": "mirror", "share": None}


@dataclass
class Chance:
    """The last motif that was drawn, and what was asked for."""

    settings: dict[str, Any] = field(default_factory=lambda: dict(USUAL_CHANCE))
    motif: Motif | None = None
    rng: np.random.Generator = field(default_factory=np.random.default_rng)

    def draw(self, values: dict[str, Any]) -> None:
        """Draw another one; raises `MosaickitError`, and the last one stays, if none is as asked."""
        asked = {name: values.get(name, usual) for name, usual in USUAL_CHANCE.items()}
        one_of("symmetry", asked["symmetry"], tuple(SYMMETRIES_ASKED))
        share = None if asked["share"] is None else within("share", asked["share"], 0, 100)
        try:
            motif = self._drawn(asked, share)
        except OptionError:
            if share is None:
                raise
            self._drawn(asked, None)  # says what is wrong, if it is not the share
            near = self._nearest(asked, share)
            said = f"No motif of this size and symmetry has about {share:g}% of its squares overlaid"
            raise OptionError(f"{said}; the nearest that can be drawn is about {near:g}%.") from None
        self.settings, self.motif = asked, motif

    def _drawn(self, asked: dict[str, Any], share: float | None) -> Motif:
        return random_motif(
            asked["rows"],
            asked["stitches"],
            rng=self.rng,
            symmetry=SYMMETRIES_ASKED[asked["symmetry"]],
            fldc_share=None if share is None else (max(share - NEAR, 0) / 100, min(share + NEAR, 100) / 100),
        )

    def _nearest(self, asked: dict[str, Any], share: float) -> float:
        """Find the whole percent nearest to a share of which a motif can be drawn."""
        for percent in sorted(range(101), key=lambda each: abs(each - share)):
            try:
                self._drawn(asked, percent)
            except OptionError:
                continue
            return percent
        raise AssertionError("plain rows have no square overlaid")

    def design(self, values: dict[str, Any]) -> Design:
        """Give the motif that is shown as a design, at the gauge that was entered."""
        if self.motif is None:
            raise OptionError("Nothing is drawn yet.")
        return Design(self.motif, gauge_in(values))

    def view(self) -> dict[str, Any]:
        """Give what the page shows of it; `squares` is None before one is drawn."""
        shown: dict[str, Any] = {"settings": self.settings, "squares": None, "said": ""}
        if self.motif is None:
            return shown
        rows, stitches = self.motif.shape
        overlaid = int(self.motif.overlaid.sum())
        said = (
            f"{number_of(stitches, 'stitch')}, {number_of(rows, 'row')}. Overlaid: {overlaid / (rows * stitches):.0%}."
        )
        picture = squares_of_motif(self.motif, Design(self.motif), word=said, about="A motif drawn at random")
        return shown | {"squares": picture, "said": said}
