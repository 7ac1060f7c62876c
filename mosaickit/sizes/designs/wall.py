"""The wall: designs as pictures side by side, as HTML that needs nothing beside it, with a title and figures below."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit import svg
from mosaickit.errors import number_of
from mosaickit.sizes.centred.square_design import CentreDesign
from mosaickit.sizes.designs.design import Design

MOST_ON_A_WALL = 120
"""A wall shows at most this many designs, and says how many more there are."""
THUMBNAIL = 80
"""A picture shows at most this many rows and stitches: of a larger piece, the part where the work begins."""
_MOST_ROUNDS = THUMBNAIL // 2
_PIXELS = 150.0
_LARGEST_SQUARE = 10.0

# text has the colour of what is around it, so that it reads on a light page and on a dark one
_STYLE = """
.mk-designs ul { display: grid; grid-template-columns: repeat(auto-fill, minmax(190px, 1fr)); gap: 18px 14px;
  list-style: none; margin: 10px 0; padding: 0; }
.mk-designs li { margin: 0; min-width: 0; }
.mk-designs figure { margin: 0; height: 100%; display: flex; flex-direction: column; justify-content: flex-end; }
.mk-designs svg { display: block; max-width: 100%; height: auto; outline: 1px solid #808080; }
.mk-designs figcaption { margin-top: 6px; font: 12px/1.4 system-ui, sans-serif; color: inherit; text-align: left;
  overflow-wrap: anywhere; }
.mk-designs figcaption span { display: block; }
.mk-designs strong { display: block; font-size: 13px; }
.mk-designs .mk-fault { height: auto; border-left: 4px solid #c2185b; padding-left: 8px; }
"""


class DesignTile(NamedTuple):
    """What hangs at one place of the wall."""

    name: str
    """The name of its file."""
    design: Design | CentreDesign | None
    """Whose picture it is; None if the file cannot be read."""
    fault: str
    lines: tuple[str, ...]
    """What is said below: size first, then yarn and date; empty ones are left out."""

    @property
    def title(self) -> str:
        """What it is called: the design's title, or the file's name where there is no design."""
        return self.name if self.design is None else self.design.title

    @property
    def picture(self) -> str:
        """A small picture, an `svg` element that screen readers read as title and size; empty without a design."""
        return "" if self.design is None else thumbnail(self.design, f"{self.title}, {self.lines[0]}")


def wall(said: str, tiles: Sequence[DesignTile], notes: Iterable[str]) -> str:
    """Hang designs side by side.

    Parameters
    ----------
    said : str
        What is here, said above.
    tiles : tiles in order
        At most `MOST_ON_A_WALL` of them are shown.
    notes : sentences
        Said below.

    Returns
    -------
    str
        A ``section`` of HTML; all that comes from files is escaped.
    """
    shown, left = tiles[:MOST_ON_A_WALL], len(tiles) - MOST_ON_A_WALL
    below = list(notes)
    if left > 0:
        below.insert(0, f"Shown are the first {MOST_ON_A_WALL}; {left} more are listed. mk.tables.listed has them all.")
    below += filter(None, [said_of_corners(shown)])
    items = "".join(f"<li>{_hung(tile)}</li>" for tile in shown)
    listed = f'<ul role="list">{items}</ul>' if items else ""
    paragraphs = "".join(f"<p>{escape(note)}</p>" for note in below)
    return (
        f'<section class="mk-designs" aria-label="{escape(said)}"><style>{_STYLE}</style>'
        f"<p>{escape(said)}</p>{listed}{paragraphs}</section>"
    )


def said_of_corners(shown: Iterable[DesignTile]) -> str:
    """Say, where a picture shows a part of its piece, which part that is; empty if all show the whole."""
    large = [tile.design for tile in shown if tile.design is not None and max(tile.design.shape) > THUMBNAIL]
    said = []
    if any(isinstance(design, Design) for design in large):
        said.append(f"Of more than {THUMBNAIL} rows or stitches the picture shows the corner where the work begins.")
    if any(isinstance(design, CentreDesign) for design in large):
        said.append(f"Of a square of more than {_MOST_ROUNDS} rounds it shows the first {_MOST_ROUNDS}.")
    return " ".join(said)


def _hung(tile: DesignTile) -> str:
    lines = "".join(f"<span>{escape(line)}</span>" for line in tile.lines if line)
    if tile.design is None:
        return (
            f'<figure class="mk-fault"><figcaption><strong>{escape(tile.name)}</strong>'
            f"<span>{escape(tile.fault)}</span>{lines}</figcaption></figure>"
        )
    return (
        f"<figure>{tile.picture}<figcaption>"
        f"<strong>{escape(tile.title)}</strong><span>{escape(tile.name)}</span>{lines}</figcaption></figure>"
    )


def thumbnail(design: Design | CentreDesign, title: str) -> str:
    """Draw a design small, in the proportions of its gauge, as an `svg` element; `title` is said by screen readers."""
    index, colours = _middle_of(design) if isinstance(design, CentreDesign) else corner_of(design, THUMBNAIL)
    rows, stitches = index.shape
    if index.shape != design.shape and isinstance(design, CentreDesign):
        title += f"; shown: the first {_MOST_ROUNDS} rounds"
    elif index.shape != design.shape:
        title += f"; shown: the first {number_of(rows, 'row')} and {number_of(stitches, 'stitch')}"
    wide, high = (1.0, 1.0) if design.gauge is None else design.gauge.size_cm(1, 1)
    aspect = wide / high
    square = min(_PIXELS / rows, _PIXELS / (stitches * aspect), _LARGEST_SQUARE)
    return svg.picture(index, colours, title=title, aspect=aspect, square=square)


def _middle_of(design: CentreDesign) -> tuple[NDArray[np.intp], list[str]]:
    """Give the colours of the first rounds of a square, as `svg.yarn_colours` does."""
    square = design.square
    shown = min(square.rounds, _MOST_ROUNDS)
    middle = slice(square.rounds - shown, square.rounds + shown + 1)
    motif = square.motif
    return svg.yarn_colours(motif.grid[middle, middle], square.shown_rounds[middle, middle], motif.yarns)


def corner_of(design: Design, most: int) -> tuple[NDArray[np.intp], list[str]]:
    """Give the colours of the corner where the work begins, as `svg.yarn_colours` does, at most `most` squares a side.

    What lies far from it is not built: repeats differ at most by whether their number is odd, so a piece with fewer of
    them begins in the same way.
    """
    rows, columns = design.motif.shape

    def enough(number: int, size: int) -> int:
        # neighbours that are mirrored may share one; one row more, as its yarn hangs over the last that is shown
        need = 2 + (most + 1) // max(size - 1, 1)
        return min(number, need + (number - need) % 2)

    if design.bands is not None:  # what is near the corner may be another band for other counts
        piece = design.picture
    else:
        piece = design.but(across=enough(design.across, columns), up=enough(design.up, rows)).picture
    high, wide = (min(side, most) for side in design.shape)
    from_row = piece.shape[0] - high
    window = slice(from_row, None), slice(piece.shape[1] - wide, None) if design.hand == "right" else slice(0, wide)
    return svg.yarn_colours(piece.grid[window], piece.shown_rows[window], piece.yarns)
