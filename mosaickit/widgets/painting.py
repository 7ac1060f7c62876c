"""What a hand does to a picture: strokes, parts, and all that is pressed, done to the sketch in the order they come in.

A message says what the hand did; what becomes of it is said here. Which squares follow the hand is in `following`, what
rows and columns are put in or taken out in `changes`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import MosaickitError, OptionError, number_of, one_of, whole_number
from mosaickit.motif import LARGEST_SIDE, RULES, SYMMETRIES, Motif, Repair, nearest_workable
from mosaickit.orientation import ROLES
from mosaickit.sizes import Design
from mosaickit.widgets.changes import CHANGES, ONCE_DONE, TURNS
from mosaickit.widgets.following import Following, Squares, area, box, ellipse, line, placed
from mosaickit.widgets.sketch import Sketch
from mosaickit.widgets.stamps import InHand, StampBox, laid, lettering_in_hand

BETWEEN = {"line": line, "box": box, "ellipse": ellipse}
"""The tools that draw between two squares, and which squares each of them takes."""

TOOLS = ("brush", *BETWEEN, "fill")


class Painting:
    """A sketch in the hand.

    Attributes
    ----------
    sketch : Sketch
        What is painted on, with its steps.
    following : Following
        What follows the hand.
    only_workable : bool
        Whether of a stroke is left out what cannot be worked.
    off : frozenset of str
        The rules whose findings are neither listed nor marked, by their names.
    preview : Repair or None
        What would be changed, while that is shown and neither taken nor left.
    corner : (int, int) or None
        Row and column of the first corner of what the keyboard draws between two squares.
    note : str
        What is to be said of what was done last; "" if nothing.
    stamps : StampBox
        The stamps that there are.
    in_hand : InHand
        What the hand holds to lay on the picture: lettering or a stamp.
    """

    def __init__(self, sketch: Sketch, stamps: StampBox) -> None:
        self.sketch = sketch
        self.following = Following()
        self.only_workable = False
        self.off: frozenset[str] = frozenset()
        self.preview: Repair | None = None
        self.corner: tuple[int, int] | None = None
        self.note = ""
        self.stamps = stamps
        self.in_hand = InHand()
        self._copied: NDArray[np.bool_] | None = None

    def do(self, kind: str, content: dict[str, Any], buffers: Sequence[Any]) -> None:
        """Do what a message of one of the kinds "paint", "part", "take", "act" and "set" says.

        Raises
        ------
        OptionError
            If the message says nothing that can be done; nothing is changed then.
        """
        name = str(content.get("name"))
        if kind == "paint":
            self._stroke(content, *buffers)
        elif kind == "part":
            self._part(name, content)
        elif kind == "take":
            self._take(name, content.get("values") or {})
        elif kind == "act":
            self._act(name, content)
        else:
            self._set(name, content.get("value"))

    def change(self, to: Motif | Design, label: str) -> None:
        """Take a step; see `Sketch.change`."""
        self.preview = self.corner = None
        self.sketch.change(to, label)

    def step(self, name: str) -> None:
        """Take a step back or forward: "undo" or "redo"."""
        self.preview = self.corner = None
        getattr(self.sketch, name)()

    def focus(self, content: dict[str, Any]) -> tuple[int, int]:
        """Give the square in focus, (row, column) as seen: the nearest one where the picture has become smaller."""
        rows, columns = self.sketch.motif.shape
        x, y = whole_number("x", content.get("x")), whole_number("y", content.get("y"))
        return min(y, rows - 1), min(x, columns - 1)

    def _stroke(self, content: dict[str, Any], named: memoryview) -> None:
        one_of("tool", content.get("tool"), TOOLS)
        if memoryview(named).nbytes % 8:
            raise OptionError("A stroke must name squares, each by two numbers.")
        squares = np.frombuffer(named, dtype="<i4").reshape(-1, 2).astype(np.intp)
        if content["tool"] in ("box", "ellipse") and len(squares) == 2:
            rows, columns = self.sketch.motif.shape
            squares = BETWEEN[content["tool"]](*np.clip(squares, -1, (columns, rows)).ravel().tolist())
        self._paint(content, squares)

    def _paint(self, content: dict[str, Any], squares: Squares) -> None:
        """Paint squares in the colour of a message; a fill spreads from the first of them."""
        grid = self.sketch.motif.grid
        if content["tool"] == "fill":
            squares = squares[:1]
            x, y = squares[0].tolist()
            squares = area(grid, x, y) if 0 <= y < grid.shape[0] and 0 <= x < grid.shape[1] else squares[:0]
        self._lay(squares, np.full(len(squares), one_of_two(content.get("colour"))), "paint")

    def _lay(self, squares: Squares, colours: NDArray[np.bool_], label: str) -> None:
        now = self.sketch.motif
        grid = self.following.paint(now, squares, colours)
        if self.only_workable:
            grid = self._kept_workable(now, grid)
        self.change(now.with_grid(grid), label)

    def _kept_workable(self, before: Motif, grid: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """Take back, of a stroke, the fewest squares that leave what cannot be worked."""
        painted = before.grid != grid
        weights = np.where(painted, 1.0, 1.0 + painted.size)  # what was there stays if it can
        mended = nearest_workable(before.with_grid(grid), weights=weights).changed & painted
        if mended.any():
            self.note = f"Squares left out, as they cannot be worked there: {np.count_nonzero(mended)}."
        kept: NDArray[np.bool_] = grid ^ mended
        return kept

    def _part(self, name: str, content: dict[str, Any]) -> None:
        """Copy, paste, clear, move, mirror or turn a part of the picture: the selection, or the square in focus.

        Or lay what is in hand, from the square in focus on.
        """
        grid = self.sketch.motif.grid
        y, x = self.focus(content)
        if name == "lay":
            squares, colours, said = laid(self.in_hand, (y, x), self.sketch.motif, self.sketch.design.hand)
            self._lay(squares, colours, self.in_hand.label)
            self.note = f"{said} {self.note}".strip()
            return
        corners = content.get("box") or (x, y, x, y)
        x0, y0, x1, y1 = (whole_number("box", each, least=-LARGEST_SIDE) for each in corners)
        left, top = max(x0, 0), max(y0, 0)
        held = grid[top : max(y1 + 1, 0), left : max(x1 + 1, 0)]  # what of it is in the picture
        cleared = placed(held, left, top)
        if not held.size and name in ("copy", "clear", "move"):
            self.note = "The selection is outside the picture."
        elif name == "copy":
            self._copied = held.copy()
            self.note = f"Copied {held.shape[1]} × {held.shape[0]} squares."
        elif name == "paste" and self._copied is not None:
            self._lay(placed(self._copied, x0, y0), self._copied.ravel(), "paste")
        elif name == "paste":
            self.note = "Nothing is copied yet."
        elif name in TURNS and not (content.get("box") and held.size):
            self.note = "Select a part of the picture first, to turn it."
        elif name in TURNS:
            self._turn(name, held, left, top)
        elif name == "clear":
            self._lay(cleared, np.zeros(len(cleared), dtype=np.bool_), "clear")
        elif name == "move":
            dx, dy = (whole_number("by", each, least=-LARGEST_SIDE) for each in content.get("by") or ())
            squares = np.concatenate([placed(held, left + dx, top + dy), cleared])
            self._lay(squares, np.concatenate([held.ravel(), np.zeros(len(cleared), dtype=np.bool_)]), "move")
        else:
            raise OptionError(f"A painter cannot {name!r} a part.")

    def _take(self, name: str, values: dict[str, Any]) -> None:
        """Take lettering or a stamp in hand; where that cannot be, nothing is, and why not is said beside it."""
        one_of("name", name, ("lettering", "stamp"))
        try:
            gauge = self.sketch.design.gauge
            self.in_hand = lettering_in_hand(values, gauge) if name == "lettering" else self.stamps.take(values)
        except MosaickitError as error:
            self.in_hand = InHand(said=str(error), fault=True)

    def _turn(self, name: str, held: NDArray[np.bool_], left: int, top: int) -> None:
        """Mirror or turn a part where it lies; row 1 of it keeps its row colour."""
        first = self.sketch.motif.row_is_cc[top + len(held) - 1, 0]
        turned = TURNS[name](Motif(held, first=ROLES[int(first)])).grid
        self._lay(placed(turned, left, top), turned.ravel(), f"{name} of a part")
        if name != "mirror" and len(held) % 2 == 0:
            self.note = f"{self.note} The part has an even number of rows, so its colours are swapped.".strip()

    def _act(self, name: str, content: dict[str, Any]) -> None:
        now = self.sketch.motif
        if name in ("undo", "redo"):
            self.step(name)
        elif name == "nearest":
            self.preview = nearest_workable(now, hand=self.sketch.design.hand)
            if not self.preview.changed.any():
                self.preview, self.note = None, "Nothing to change: this picture can be worked."
        elif name in ("accept", "enter") and self.preview is not None:
            self.change(self.preview.motif, "nearest workable")
        elif name in ("dot", "enter"):
            if content.get("tool") in BETWEEN:
                self._set_corner(content)
            elif content.get("tool") in TOOLS:
                self._paint(content, np.array([self.focus(content)[::-1]], dtype=np.intp))
        elif name in ("accept", "leave"):
            self.preview = None
            if name == "leave":
                self.corner = None
        elif name in CHANGES:
            self.change(CHANGES[name](now, *self.focus(content)), name)
            self.note = ONCE_DONE.get(name, "")
        else:
            raise OptionError(f"A painter cannot {name!r}.")

    def _set_corner(self, content: dict[str, Any]) -> None:
        """Set the first corner where the focus is, or draw from the one that is set to there."""
        at = self.focus(content)
        if self.corner is None:
            one_of_two(content.get("colour"))
            self.corner = at
            row, stitch = orientation.place(at, self.sketch.motif.shape, self.sketch.design.hand)
            what = "end" if content["tool"] == "line" else "corner"
            self.note = (
                f"First {what}: row {row}, stitch {stitch}. Go to the other {what} and press space again to draw, or "
                "Escape to leave it."
            )
        else:
            self._paint(content, BETWEEN[content["tool"]](*self.corner[::-1], *at[::-1]))

    def _set(self, name: str, value: object) -> None:
        if name in SYMMETRIES:
            others = [each for each in self.following.symmetry if each != name]
            kept = tuple(each for each in SYMMETRIES if each in others or (each == name and value is True))
            self.following = replace(self.following, symmetry=kept)
        elif name == "across":
            self.following = replace(self.following, across=whole_number(name, value))
        elif name == "up":
            self.following = replace(self.following, up=whole_number(name, value))
        elif name == "only_workable":
            self.only_workable = value is True
        elif name in ("switch off", "switch on"):
            one_of("kind of finding", value, tuple(rule.name for rule in RULES))
            self.off = self.off | {str(value)} if name == "switch off" else self.off - {str(value)}
            return  # only what is listed changes, so a preview stays
        elif name == "hand":
            self.change(self.sketch.design.but(hand=value), "hand")
        else:
            raise OptionError(f"A painter has no setting {name!r}.")
        self.preview = None

    @property
    def preview_sentence(self) -> str:
        """The sentence about the preview; "" without one."""
        if self.preview is None:
            return ""
        changed = number_of(len(self.preview.squares), "square")
        return f"The nearest workable picture changes {changed}, marked with a dot. "


def one_of_two(colour: object) -> bool:
    """Return whether a hand paints CC, from 0 for MC and 1 for CC, or raise `OptionError`."""
    one_of("colour", colour, (0, 1))
    return colour == 1
