"""The motif painter: a picture to paint on, which says at once what cannot be worked.

Python holds the picture, its history, its settings and every rule; the page in ``painter.js`` holds the hand. The page
sends what the hand did (these squares, with this tool, in this colour; this setting is on now), never what becomes of
it, and Python does it in the order in which it was done. So a stroke that follows a change of settings is painted
under it, however long Python takes to answer, and the picture is the one that a patient hand would have got.

The answer goes out as traits that every view of the painter reads: the squares, their marks, how the sheet is numbered
and coloured, what is to be said, and the number of the last message that each view was heard with. They go in one
message, so that a view never sees half of an answer. Every stroke is in the autosave file before it is answered.
"""

from __future__ import annotations

import weakref
from collections.abc import Sequence
from dataclasses import replace
from os import PathLike
from pathlib import Path
from threading import RLock
from typing import Any, cast

import anywidget
import numpy as np
import traitlets
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import OptionError, number_of, of_kind, one_of, whole_number
from mosaickit.files import as_path
from mosaickit.gauge import Gauge
from mosaickit.motif import (
    LARGEST_SIDE,
    SYMMETRIES,
    Finding,
    Motif,
    Repair,
    Report,
    check,
    nearest_workable,
)
from mosaickit.orientation import HANDS, Hand
from mosaickit.scripts import one_script
from mosaickit.widgets.changes import CHANGES
from mosaickit.widgets.following import Following, Squares, area, box, placed
from mosaickit.widgets.link import answer_to, heard_with, unknown_message
from mosaickit.widgets.origins import own_file
from mosaickit.widgets.sheets import VIEWS, look_at, sentence_about, sheet_of
from mosaickit.widgets.sketch import Sketch

TOOLS = ("brush", "line", "box", "fill")
MOST_FINDINGS = 60
"""The list shows at most so many findings; marks and the square in focus tell the rest."""

# which painter writes which file: a cell that is run again takes the file over from the painter it made before
_WRITERS: weakref.WeakValueDictionary[Path, MotifPainter] = weakref.WeakValueDictionary()


class MotifPainter(anywidget.AnyWidget):
    """A picture to paint on.

    Parameters
    ----------
    motif : Motif
        What to start from; may be unworkable.
    autosave : path, optional
        The file that every stroke is kept in. If it is there, the painter goes on where it ended, with its undo
        history. Left out, the drawing has a file of its own in the folder of the notebook, named after motif and
        notebook, and the same cell comes back to it.
    hand : "right" or "left"
        The hand that holds the hook.
    gauge : Gauge, optional
        The proportion of a stitch, for the view at true proportion.

    Raises
    ------
    OptionError
        If an argument is not as described.
    FileError
        If the autosave file is damaged, cannot be read or written, or another program is writing it.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     painter = MotifPainter(Motif.from_text("..."), autosave=Path(folder) / "dots.sketch")
    ...     painter.motif = Motif.from_text(".#.")
    ...     MotifPainter(Motif.from_text("..."), autosave=Path(folder) / "dots.sketch").motif.to_text()
    '.#.'
    """

    _esm = one_script(Path(__file__).with_name("painter.js"))
    _css = Path(__file__).with_name("painter.css")

    motif = traitlets.Instance(Motif)
    """The picture now. Set it to paint something else; observe it to follow the hand."""
    cells = traitlets.CBytes().tag(sync=True)
    """A byte for each square as seen, row by row: 0 MC, 1 CC."""
    marks = traitlets.CBytes().tag(sync=True)
    """A byte for each square: 0 nothing, 1 advice, 2 cannot be worked."""
    ghost = traitlets.CBytes().tag(sync=True)
    """A byte for each square: 1 where the preview would change it."""
    sheet = traitlets.Dict().tag(sync=True)
    """Size, numbers, colours and what follows the hand."""
    follow = traitlets.Dict().tag(sync=True)
    """What follows the hand, for the page to draw before Python answers: turns, across, up, and which rows are CC."""
    said = traitlets.Dict().tag(sync=True)
    """Findings, undo and redo, settings, and sentences."""
    heard = traitlets.Dict().tag(sync=True)
    """The number of the last message of each view that is in what the other traits say."""
    look = traitlets.Unicode().tag(sync=True)
    """The second view, as SVG or a sentence."""

    def __init__(
        self,
        motif: Motif,
        *,
        autosave: str | PathLike[str] | None = None,
        hand: Hand = "right",
        gauge: Gauge | None = None,
    ) -> None:
        of_kind("motif", motif, Motif)
        one_of("hand", hand, HANDS)
        of_kind("gauge", gauge, Gauge, or_none=True)
        self._hand: Hand = hand
        self._gauge = gauge or Gauge(16, 17)
        self._following = Following()
        self._only_workable = False
        self._view = "none"
        self._preview: Repair | None = None
        self._copied: NDArray[np.bool_] | None = None
        self._note = self._error = ""
        self._about: tuple[object, ...] = ()
        self._checked: tuple[Motif, Hand, Report] | None = None
        self._retired = False
        # messages may come in a thread of their own while a cell is running
        self._turn = RLock()
        self.autosave = as_path(autosave, "autosave") if autosave is not None else own_file(motif)
        """The file that every stroke is kept in."""
        _take_over(self.autosave, self)
        self._sketch = Sketch.open(self.autosave, otherwise=motif)
        if self._sketch.steps or self._sketch.recovered:
            steps = number_of(self._sketch.steps, "step")
            self._note = f"Restored your last drawing ({steps} to undo). {self._sketch.recovered}".strip()
        super().__init__(motif=self._sketch.motif)
        self.observe(self._motif_set, names="motif")
        self.on_msg(self._receive)
        self._show()

    # ---- messages ------------------------------------------------------------------------------------------

    def _receive(self, _: object, content: dict[str, Any], buffers: Sequence[Any]) -> None:
        with self._turn:
            before = self._error
            if content.get("kind") != "ask":
                self._note = self._error = ""
            answer = answer_to(content, lambda: self._handle(content, buffers), kept="the picture")
            self._error = answer.get("error", self._error)
            heard = heard_with(self.heard, content)
            if content.get("kind") == "ask" and self._error == before:
                self.heard = heard
            else:
                self._show(heard)
            # observers of the motif may take their time, so the hand is answered first
            if not self._retired:
                self.motif = self._sketch.motif

    def _handle(self, content: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        self._refuse_if_retired()
        kind = content.get("kind")
        if kind == "ask":
            about = sentence_about(self._focus(content), self._sketch.motif, self._report(), self._hand)
            self.send({"kind": "told", "view": content.get("view"), "sentence": about})
        elif kind == "paint":
            self._stroke(content, *buffers)
        elif kind == "part":
            self._part(str(content.get("name")), content)
        elif kind == "act":
            self._act(str(content.get("name")), content)
        elif kind == "set":
            self._set(str(content.get("name")), content.get("value"))
        elif kind == "look":
            one_of("view", content.get("at"), VIEWS)
            self._view = content["at"]
        else:
            raise unknown_message("painter", kind)
        return {}

    def _focus(self, content: dict[str, Any]) -> tuple[int, int]:
        """Give the square in focus, (row, column) as seen: the nearest one where the picture has become smaller."""
        rows, columns = self._sketch.motif.shape
        x, y = whole_number("x", content.get("x")), whole_number("y", content.get("y"))
        return min(y, rows - 1), min(x, columns - 1)

    def _stroke(self, content: dict[str, Any], named: memoryview) -> None:
        one_of("tool", content.get("tool"), TOOLS)
        if memoryview(named).nbytes % 8:
            raise OptionError("A stroke must name squares, each by two numbers.")
        squares = np.frombuffer(named, dtype="<i4").reshape(-1, 2).astype(np.intp)
        if content["tool"] == "box" and len(squares) == 2:
            rows, columns = self._sketch.motif.shape
            squares = box(*np.clip(squares, -1, (columns, rows)).ravel().tolist())
        self._paint(content, squares)

    def _paint(self, content: dict[str, Any], squares: Squares) -> None:
        """Paint squares in the colour of a message; a fill spreads from the first of them."""
        grid = self._sketch.motif.grid
        if content["tool"] == "fill":
            squares = squares[:1]
            x, y = squares[0].tolist()
            squares = area(grid, x, y) if 0 <= y < grid.shape[0] and 0 <= x < grid.shape[1] else squares[:0]
        self._lay(squares, np.full(len(squares), one_of_two(content.get("colour"))), "paint")

    def _lay(self, squares: Squares, colours: NDArray[np.bool_], label: str) -> None:
        now = self._sketch.motif
        grid = self._following.paint(now, squares, colours)
        if self._only_workable:
            grid = self._kept_workable(now, grid)
        self._change(now.with_grid(grid), label)

    def _kept_workable(self, before: Motif, grid: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """Take back, of a stroke, the fewest squares that leave what cannot be worked."""
        painted = before.grid != grid
        weights = np.where(painted, 1.0, 1.0 + painted.size)  # what was there stays if it can
        mended = nearest_workable(before.with_grid(grid), weights=weights).changed & painted
        if mended.any():
            self._note = f"Squares left out, as they cannot be worked there: {np.count_nonzero(mended)}."
        kept: NDArray[np.bool_] = grid ^ mended
        return kept

    def _part(self, name: str, content: dict[str, Any]) -> None:
        """Copy, paste, clear or move a part of the picture: the selection, or the square in focus."""
        grid = self._sketch.motif.grid
        y, x = self._focus(content)
        corners = content.get("box") or (x, y, x, y)
        x0, y0, x1, y1 = (whole_number("box", each, least=-LARGEST_SIDE) for each in corners)
        left, top = max(x0, 0), max(y0, 0)
        held = grid[top : max(y1 + 1, 0), left : max(x1 + 1, 0)]  # what of it is in the picture
        cleared = placed(held, left, top)
        if not held.size and name in ("copy", "clear", "move"):
            self._note = "The selection is outside the picture."
        elif name == "copy":
            self._copied = held.copy()
            self._note = f"Copied {held.shape[1]} × {held.shape[0]} squares."
        elif name == "paste" and self._copied is not None:
            self._lay(placed(self._copied, x0, y0), self._copied.ravel(), "paste")
        elif name == "paste":
            self._note = "Nothing is copied yet."
        elif name == "clear":
            self._lay(cleared, np.zeros(len(cleared), dtype=np.bool_), "clear")
        elif name == "move":
            dx, dy = (whole_number("by", each, least=-LARGEST_SIDE) for each in content.get("by") or ())
            squares = np.concatenate([placed(held, left + dx, top + dy), cleared])
            self._lay(squares, np.concatenate([held.ravel(), np.zeros(len(cleared), dtype=np.bool_)]), "move")
        else:
            raise OptionError(f"A painter cannot {name!r} a part.")

    def _act(self, name: str, content: dict[str, Any]) -> None:
        now = self._sketch.motif
        if name in ("undo", "redo"):
            self._preview = None
            getattr(self._sketch, name)()
        elif name == "nearest":
            self._preview = nearest_workable(now, hand=self._hand)
            if not self._preview.changed.any():
                self._preview, self._note = None, "Nothing to change: this picture can be worked."
        elif name in ("accept", "enter") and self._preview is not None:
            self._change(self._preview.motif, "nearest workable")
        elif name in ("dot", "enter"):
            if content.get("tool") in TOOLS:
                self._paint(content, np.array([self._focus(content)[::-1]], dtype=np.intp))
        elif name in ("accept", "leave"):
            self._preview = None
        elif name in CHANGES:
            self._change(CHANGES[name](now, *self._focus(content)), name)
        else:
            raise OptionError(f"A painter cannot {name!r}.")

    def _set(self, name: str, value: object) -> None:
        if name in SYMMETRIES:
            others = [each for each in self._following.symmetry if each != name]
            kept = tuple(each for each in SYMMETRIES if each in others or (each == name and value is True))
            self._following = replace(self._following, symmetry=kept)
        elif name == "across":
            self._following = replace(self._following, across=whole_number(name, value))
        elif name == "up":
            self._following = replace(self._following, up=whole_number(name, value))
        elif name == "only_workable":
            self._only_workable = value is True
        elif name == "hand":
            one_of("hand", value, HANDS)
            self._hand = cast(Hand, value)
        else:
            raise OptionError(f"A painter has no setting {name!r}.")
        self._preview = None

    # ---- the picture ---------------------------------------------------------------------------------------

    def _change(self, motif: Motif, label: str) -> None:
        self._preview = None
        self._sketch.change(motif, label)

    def _motif_set(self, change: dict[str, Any]) -> None:
        """Follow a motif that was set from Python; one that came from the hand is in the sketch already."""
        with self._turn:
            if change["new"] != self._sketch.motif:
                self._refuse_if_retired()
                self._change(change["new"], "set in Python")
                self._show()

    def _refuse_if_retired(self) -> None:
        if self._retired:
            raise OptionError(f"This drawing went on in a newer painter, which writes {self.autosave.name} now.")

    def _report(self) -> Report:
        about = (self._sketch.motif, self._hand)
        if self._checked is None or self._checked[0] is not about[0] or self._checked[1] != about[1]:
            self._checked = (*about, check(about[0], hand=about[1]))
        return self._checked[2]

    # ---- what every view shows -----------------------------------------------------------------------------

    def _show(self, heard: dict[str, Any] | None = None) -> None:
        motif, report = self._sketch.motif, self._report()
        marks = np.where(report.squares("error"), 2, report.squares("advice")).astype(np.uint8)
        changed = self._preview.changed if self._preview else np.zeros(motif.shape, dtype=np.bool_)
        with self.hold_sync():
            # a stroke changes nothing of the sheet, and a new one has every view drawn again
            about = (motif.shape, motif.first, motif.yarns, self._hand)
            if about != self._about:
                self._about, self.sheet = about, sheet_of(motif, self._hand)
            self.follow = {
                "turns": self._following.turns(motif.shape).tolist(),
                "across": self._following.across or motif.shape[1],
                "up": self._following.up or motif.shape[0],
                "row_is_cc": motif.row_is_cc[:, 0].tolist(),
            }
            self.cells = motif.grid.tobytes()
            self.marks = marks.tobytes()
            self.ghost = changed.tobytes()
            self.said = self._said(report)
            self.look = look_at(self._view, motif, report, hand=self._hand, gauge=self._gauge)
            if heard is not None:
                self.heard = heard

    def _said(self, report: Report) -> dict[str, Any]:
        return {
            "findings": [self._listed(finding) for finding in report.some(MOST_FINDINGS)],
            "errors": report.count("error"),
            "advice": report.count("advice"),
            "summary": self._sketch.motif.summary,
            "undo": self._sketch.undo_label,
            "redo": self._sketch.redo_label,
            "preview": _preview_sentence(self._preview),
            "note": self._error or self._note,
            "trouble": self._sketch.trouble,
            "only_workable": self._only_workable,
            "mirror": "mirror" in self._following.symmetry,
            "up-down": "up-down" in self._following.symmetry,
            "half-turn": "half-turn" in self._following.symmetry,
            "across": self._following.across,
            "up": self._following.up,
            "hand": self._hand,
        }

    def _listed(self, finding: Finding) -> dict[str, Any]:
        shape = self._sketch.motif.shape
        top, left = orientation.square(finding.row, finding.stitch, shape, self._hand)
        return {"severity": finding.severity, "message": finding.message, "square": top * shape[1] + left}


def one_of_two(colour: object) -> bool:
    """Return whether a hand paints CC, from 0 for MC and 1 for CC, or raise `OptionError`."""
    one_of("colour", colour, (0, 1))
    return colour == 1


def _preview_sentence(preview: Repair | None) -> str:
    if preview is None:
        return ""
    changed = number_of(len(preview.squares), "square")
    return f"The nearest workable picture changes {changed}, marked with a dot. "


def _take_over(file: Path, painter: MotifPainter) -> None:
    """Let a painter write a file; the one in this kernel that wrote it so far is retired."""
    key = file.absolute()
    older = _WRITERS.get(key)
    if older is not None:
        older._retired = True
        sketch = getattr(older, "_sketch", None)  # none if its file could not be opened
        if sketch is not None:
            sketch.close()
    _WRITERS[key] = painter
