"""The motif painter: a picture to paint on, which says at once what cannot be worked.

Python holds the picture, its history, its settings and every rule; the page in ``painter.js`` holds the hand. The page
sends what the hand did (these squares, with this tool, in this colour; this setting is on now), never what becomes of
it, and Python does it in the order in which it was done. So a stroke that follows a change of settings is painted
under it, however long Python takes to answer, and the picture is the one that a patient hand would have got.

The answer goes out as traits that every view of the painter reads: the squares, their marks, how the sheet is numbered
and coloured, what is to be said, and the number of the last message that each view was heard with. They go in one
message, so that a view never sees half of an answer. Every stroke is in the autosave file before it is answered.

What is painted is the motif of a design. Hand, gauge and what else was decided are the design's; they are kept in the
same file, and a change of them is a step among the strokes.
"""

from __future__ import annotations

import json
import weakref
from collections.abc import Sequence
from os import PathLike
from pathlib import Path
from threading import RLock
from typing import Any

import anywidget
import numpy as np
import traitlets

from mosaickit.errors import OptionError, number_of, one_of
from mosaickit.files import as_path
from mosaickit.gauge import Gauge
from mosaickit.motif import Motif, Report, check
from mosaickit.orientation import Hand
from mosaickit.scripts import one_script
from mosaickit.sizes import Design
from mosaickit.widgets.link import answer_to, heard_with, unknown_message
from mosaickit.widgets.origins import own_file
from mosaickit.widgets.painting import Painting
from mosaickit.widgets.sheets import VIEWS, found_kinds, look_at, sentence_about, sheet_of
from mosaickit.widgets.sketch import Sketch, design_of
from mosaickit.widgets.stamps import StampBox

# which painter writes which file: a cell that is run again takes the file over from the painter it made before
_WRITERS: weakref.WeakValueDictionary[Path, MotifPainter] = weakref.WeakValueDictionary()


class MotifPainter(anywidget.AnyWidget):
    """A picture to paint on.

    Parameters
    ----------
    start : Motif or Design
        What to start from; may be unworkable.
    autosave : path, optional
        The file that every stroke is kept in. If it is there, the painter goes on where it ended, with its undo
        history, hand and gauge, whatever else it is given. Left out, the drawing has a file of its own in the folder of
        the notebook, named after motif and notebook, and the same cell comes back to it.
    hand : "right" or "left", optional
        The hand that holds the hook, where the painter starts from a motif; right if left out.
    gauge : Gauge, optional
        The size of a stitch, where it starts from a motif; it gives the view at true proportion.
    folder : path, optional
        Whose motifs and designs are offered as stamps; if left out, the folder of the autosave file.

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
    design = traitlets.Instance(Design)
    """The design whose motif it is. Set it to go on with another; observe it to follow the hand and the settings."""
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
    held = traitlets.Dict().tag(sync=True)
    """What the hand holds to lay on the picture: size, its square of row 1, stitch 1, row colours, and sentences."""
    held_cells = traitlets.CBytes().tag(sync=True)
    """A byte for each of its squares as seen, row by row: 0 MC, 1 CC."""
    stamps = traitlets.Dict().tag(sync=True)
    """The stamps that there are, once they were asked for."""
    look = traitlets.Unicode().tag(sync=True)
    """The second view, as SVG or a sentence."""

    def __init__(
        self,
        start: Motif | Design,
        *,
        autosave: str | PathLike[str] | None = None,
        hand: Hand | None = None,
        gauge: Gauge | None = None,
        folder: str | PathLike[str] | None = None,
    ) -> None:
        begin = design_of(start)
        if isinstance(start, Design):
            if hand is not None or gauge is not None:
                raise OptionError("A design says its hand and gauge itself: leave out `hand` and `gauge`.")
        else:
            begin = begin.but(hand="right" if hand is None else hand, gauge=gauge)
        self._view = "none"
        self._error = ""
        self._about: tuple[object, ...] = ()
        self._looked_at: tuple[object, ...] = ()
        self._found: tuple[Report, frozenset[str], bytes, list[dict[str, Any]]] | None = None
        self._checked: tuple[Design, Report] | None = None
        self._retired = False
        self.turn = RLock()
        """Held while something is done: messages may come in a thread of their own while a cell is running."""
        self.autosave = as_path(autosave, "autosave") if autosave is not None else own_file(begin)
        """The file that every stroke is kept in."""
        _take_over(self.autosave, self)
        sketch = Sketch.open(self.autosave, otherwise=begin)
        self.restored = bool(sketch.steps or sketch.recovered)
        """Whether it went on with what the file held."""
        stamps = StampBox(self.autosave.parent if folder is None else as_path(folder, "folder"))
        self._painting = Painting(sketch, stamps)
        if self.restored:
            steps = number_of(sketch.steps, "step")
            self._painting.note = f"Restored your last drawing ({steps} to undo). {sketch.recovered}".strip()
        super().__init__(motif=sketch.motif, design=sketch.design)
        self.observe(self._set_in_python, names=["motif", "design"])
        self.on_msg(self._receive)
        self._show()

    # ---- messages ------------------------------------------------------------------------------------------

    def _receive(self, _: object, content: dict[str, Any], buffers: Sequence[Any]) -> None:
        with self.turn:
            before = self._error
            if content.get("kind") != "ask":
                self._painting.note = self._error = ""
            answer = answer_to(content, lambda: self._handle(content, buffers), kept="the picture")
            self._error = answer.get("error", self._error)
            heard = heard_with(self.heard, content)
            if content.get("kind") == "ask" and self._error == before:
                self.heard = heard
            else:
                self._show(heard)
            # observers of the motif may take their time, so the hand is answered first
            if not self._retired:
                self._tell_observers()

    def _handle(self, content: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        self._refuse_if_retired()
        kind = content.get("kind")
        if kind == "ask":
            about = sentence_about(
                self._painting.focus(content),
                self._sketch.motif,
                self._report().without(self._painting.off),
                self._sketch.design.hand,
            )
            self.send({"kind": "told", "view": content.get("view"), "sentence": about})
        elif kind in ("paint", "part", "take", "act", "set"):
            self._painting.do(kind, content, buffers)
        elif kind == "stamps":
            self.stamps = self._painting.stamps.show(content.get("most"))
        elif kind == "look":
            one_of("view", content.get("at"), VIEWS)
            self._view = content["at"]
        else:
            raise unknown_message("painter", kind)
        return {}

    def offline(self) -> dict[str, dict[str, Any]]:
        """Give what the page needs where there is no Python, by the id of the model: see `mosaickit.sharing`."""
        return {self.model_id: {"note": "To paint, open the notebook: here the picture is as it was."}}

    # ---- the picture ---------------------------------------------------------------------------------------

    def change(self, to: Motif | Design, label: str) -> None:
        """Take a step to another design, or to this one with another motif, as a hand would.

        Parameters
        ----------
        to : Motif or Design
            What there is afterwards; may be unworkable.
        label : str
            What the step is called where it is undone, in one line.

        Raises
        ------
        MosaickitError
            If it cannot be taken, as `Sketch.change` says, or the drawing went on in a newer painter.
        """
        with self.turn:
            self._refuse_if_retired()
            self._painting.change(to, label)
            self._show()
            self._tell_observers()

    def undo(self) -> None:
        """Take the last step back, if there is one."""
        self._undo_or_redo("undo")

    def redo(self) -> None:
        """Repeat the step that was undone last, if there is one."""
        self._undo_or_redo("redo")

    def _undo_or_redo(self, name: str) -> None:
        with self.turn:
            self._refuse_if_retired()
            self._painting.step(name)
            self._show()
            self._tell_observers()

    def beside(self, panel: str) -> dict[str, Any]:
        """Give what the file keeps of a panel beside the design; nothing if it keeps none."""
        kept: dict[str, Any] = json.loads(self._sketch.beside.get(panel, "{}"))
        return kept

    def keep_beside(self, panel: str, entered: dict[str, Any]) -> None:
        """Keep what was entered on a panel and is in no design; this is no step."""
        text = json.dumps(entered, ensure_ascii=False)
        with self.turn:
            self._refuse_if_retired()
            if self._sketch.beside.get(panel) != text:
                self._sketch.keep_beside(panel, text)
                self._show()  # in case the file could not be written

    @property
    def _sketch(self) -> Sketch:
        """What was done, and what can be undone and redone."""
        return self._painting.sketch

    def _tell_observers(self) -> None:
        self.design = self._sketch.design
        self.motif = self._sketch.motif

    def _set_in_python(self, change: dict[str, Any]) -> None:
        """Follow a motif or a design that was set from Python; what came from the hand is in the sketch already."""
        with self.turn:
            if change["new"] != getattr(self._sketch, change["name"]):
                self.change(change["new"], "set in Python")

    def _refuse_if_retired(self) -> None:
        if self._retired:
            raise OptionError(f"This drawing went on in a newer painter, which writes {self.autosave.name} now.")

    def _report(self) -> Report:
        design = self._sketch.design
        if self._checked is None or self._checked[0] is not design:
            report = check(
                design.motif,
                hand=design.hand,
                between_rows=design.yarn_settings.between_rows,
                in_the_round=design.surround.in_the_round,
            )
            self._checked = design, report
        return self._checked[1]

    # ---- what every view shows -----------------------------------------------------------------------------

    def _show(self, heard: dict[str, Any] | None = None) -> None:
        design, report = self._sketch.design, self._report()
        motif, hand, gauge = design.motif, design.hand, design.gauge or Gauge(16, 17)
        painting = self._painting
        changed = painting.preview.changed if painting.preview else np.zeros(motif.shape, dtype=np.bool_)
        with self.hold_sync():
            # a stroke changes nothing of the sheet, and a new one has every view drawn again
            about = (motif.shape, motif.first, motif.yarns, hand, design.gauge)
            if about != self._about:
                self._about, self.sheet = about, sheet_of(motif, hand, design.gauge)
            self.follow = {
                "turns": painting.following.turns(motif.shape).tolist(),
                "across": painting.following.across or motif.shape[1],
                "up": painting.following.up or motif.shape[0],
                "row_is_cc": motif.row_is_cc[:, 0].tolist(),
            }
            self.cells = motif.grid.tobytes()
            self.marks, findings = self._marks_and_findings(report)
            self.ghost = changed.tobytes()
            self.said = self._said(findings, report.count("error"))
            self.held, self.held_cells = painting.in_hand.shown(hand), painting.in_hand.cells
            looks_at = (self._view, report)
            if looks_at != self._looked_at:
                self.look = look_at(self._view, motif, report, hand=hand, gauge=gauge)
                self._looked_at = looks_at
            if heard is not None:
                self.heard = heard

    def _marks_and_findings(self, report: Report) -> tuple[bytes, list[dict[str, Any]]]:
        """Give a byte for each square, and the list beside the sheet; most of what a hand does changes neither."""
        off = self._painting.off
        if self._found is None or self._found[0] is not report or self._found[1] != off:
            marked = report.without(off)
            advice = marked.squares("advice") & report.motif.overlaid.any()  # none on a sheet without a painted square
            marks = np.where(marked.squares("error"), 2, advice).astype(np.uint8)
            self._found = report, off, marks.tobytes(), found_kinds(report, off)
        return self._found[2:]

    def _said(self, findings: list[dict[str, Any]], errors: int) -> dict[str, Any]:
        painting, sketch = self._painting, self._sketch
        return {
            "findings": findings,
            "errors": errors,
            "summary": sketch.motif.summary,
            "undo": sketch.undo_label,
            "redo": sketch.redo_label,
            "corner": painting.corner[::-1] if painting.corner else None,
            "preview": painting.preview_sentence,
            "note": self._error or painting.note,
            "trouble": sketch.trouble,
            "only_workable": painting.only_workable,
            "mirror": "mirror" in painting.following.symmetry,
            "up-down": "up-down" in painting.following.symmetry,
            "half-turn": "half-turn" in painting.following.symmetry,
            "across": painting.following.across,
            "up": painting.following.up,
            "hand": sketch.design.hand,
        }


def _take_over(file: Path, painter: MotifPainter) -> None:
    """Let a painter write a file; the one in this kernel that wrote it so far is retired."""
    key = file.absolute()
    older = _WRITERS.get(key)
    if older is not None:
        older._retired = True
        painting = getattr(older, "_painting", None)  # none if its file could not be opened
        if painting is not None:
            painting.sketch.close()
    _WRITERS[key] = painter
