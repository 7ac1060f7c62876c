"""What a hand holds to lay on the picture: a line of lettering, or a motif as a stamp, and how it is laid.

A stamp is a motif of the gallery or of a file in the folder. What is laid keeps its overlaid squares: where the row
below the hand is in the other colour than the first row of the part, all of its colours are swapped, so that what could
be worked can be worked there too.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import FileError, OptionError, number_of, one_of
from mosaickit.gauge import Gauge
from mosaickit.ideas import lettering
from mosaickit.motif import Motif, counterchange
from mosaickit.orientation import Hand
from mosaickit.widgets.book.begin_files import FIRST_SHOWN, FolderWall, gallery_design, gallery_wall
from mosaickit.widgets.following import Squares, placed

NOTHING_TYPED = "Type a name, a date or a few words."
NOTHING_CHOSEN = "Choose a stamp."


@dataclass(frozen=True, eq=False)
class InHand:
    """What the hand holds.

    Attributes
    ----------
    motif : Motif or None
        What is laid; None while there is nothing to lay.
    label : str
        What the step is called when it is laid.
    said : str
        What there is to say of it, or why there is nothing.
    fault : bool
        Whether that is something wrong.
    behind : str
        How it reads from behind; "" if nothing is read.
    """

    motif: Motif | None = None
    label: str = ""
    said: str = ""
    fault: bool = False
    behind: str = ""

    def shown(self, hand: Hand) -> dict[str, Any]:
        """Give what the page is told of it, but for its squares: size, first square, which rows are CC, sentences."""
        rows, columns = self.motif.shape if self.motif else (0, 0)
        cc = self.motif.row_is_cc[:, 0].tolist() if self.motif else []
        return {
            "rows": rows,
            "columns": columns,
            "row_is_cc": cc,
            "corner": orientation.square(1, 1, (rows, columns), hand)[::-1],
            "said": self.said,
            "fault": self.fault,
            "behind": self.behind,
        }

    @property
    def cells(self) -> bytes:
        """A byte for each square as seen, row by row: 0 MC, 1 CC."""
        return self.motif.grid.tobytes() if self.motif else b""


def lettering_in_hand(values: dict[str, Any], gauge: Gauge | None) -> InHand:
    """Take a line of text in hand, as it was typed and chosen; `values` are arguments of `lettering`, by name."""
    if not str(values.get("text", "")).strip():
        return InHand(said=NOTHING_TYPED)
    names = ("alphabet", "size", "colour", "way", "margin")
    made = lettering(values["text"], gauge=gauge, **{name: values[name] for name in names if name in values})
    return InHand(made.motif, "lettering", f"{made.summary} {made.legible}".strip(), behind=made.back)


@dataclass
class StampBox:
    """The stamps that there are: motifs of the gallery, and files of a folder, which are read again when asked for."""

    folder: Path
    _wall: FolderWall = field(default_factory=FolderWall)

    def show(self, most: object = FIRST_SHOWN) -> dict[str, Any]:
        """Give what is shown of them, `most` files of the folder; what cannot be looked into is said."""
        shown: dict[str, Any] = {"gallery": [], "folder": {"tiles": [], "faults": [], "more": 0}, "fault": ""}
        try:
            shown["gallery"] = gallery_wall()
            shown["folder"] = self._wall.show(self.folder, most)
        except FileError as error:
            shown["fault"] = str(error)
        return shown

    def take(self, values: dict[str, Any]) -> InHand:
        """Take a stamp in hand: `place` is "gallery" or "folder", `name` one of its names; without one, none.

        Raises
        ------
        OptionError, FileError
            If there is none of this name, or it cannot be read.
        """
        name = values.get("name")
        if not name:
            return InHand(said=NOTHING_CHOSEN)
        one_of("place", values.get("place"), ("gallery", "folder"))
        design = gallery_design(name) if values["place"] == "gallery" else self._wall.open(self.folder, name)
        motif = design.motif
        return InHand(motif, f"stamp {motif.name or design.title}", f"{motif.summary}.")


def laid(held: InHand, at: tuple[int, int], on: Motif, hand: Hand) -> tuple[Squares, NDArray[np.bool_], str]:
    """Lay what is in hand, its row 1, stitch 1 on a square, (row, column) as seen.

    Returns
    -------
    int array, (n, 2), and bool array, (n,)
        The squares that it takes, those outside the picture too, and which become CC.
    str
        Where it lies, and what became of it there.

    Raises
    ------
    OptionError
        If there is nothing in hand.
    """
    if held.motif is None:
        raise OptionError(held.said or NOTHING_CHOSEN)
    corner = orientation.square(1, 1, held.motif.shape, hand)
    swapped = bool(held.motif.row_is_cc[corner[0], 0] != on.row_is_cc[at[0], 0])
    part = counterchange(held.motif) if swapped else held.motif
    squares = placed(part.grid, at[1] - corner[1], at[0] - corner[0])
    row, stitch = orientation.place(at, on.shape, hand)
    said = [f"Laid from row {row}, stitch {stitch} on."]
    if swapped:
        said.append("Its rows are in the other colours here, so its colours are swapped; one row up or down they stay.")
    room = np.ptp(np.clip(squares, 0, np.subtract(on.shape[::-1], 1)), axis=0)[::-1] + 1  # since a corner is inside
    beyond = [
        number_of(size - fits, what)
        for size, fits, what in zip(part.shape, room.tolist(), ("row", "stitch"), strict=True)
        if size > fits
    ]
    if beyond:
        said.append(f"{' and '.join(beyond)} of it lie outside the picture and are left out.")
    return squares, part.grid.ravel(), " ".join(said)
