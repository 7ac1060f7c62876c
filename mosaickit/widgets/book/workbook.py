"""The workbook: the whole job by hand, from an empty sheet to a published pattern.

One design is open in it. The painter beside it keeps that design and every step of it in a file, so that what one panel
does is undone in another, and all of it comes back when the cell is run again. Nothing is worked out here or in the
page: a panel asks the library, and shows what it says. What the page sends is done in the order in which it comes;
then the traits that changed go out, and then the answer.
"""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from os import PathLike
from pathlib import Path
from typing import Any

import anywidget
import ipywidgets  # type: ignore[import-untyped]  # it ships no types
import traitlets
from IPython import display

from mosaickit.errors import MosaickitError, OptionError, one_of
from mosaickit.files import as_path
from mosaickit.motif import Motif
from mosaickit.scripts import one_script
from mosaickit.sizes import Design, load_design
from mosaickit.widgets.book import begin, lay, look, many, picture, share, vary, words, yarn
from mosaickit.widgets.book.entries import entered, entry_of, in_labels
from mosaickit.widgets.book.ledger import ledger
from mosaickit.widgets.book.panel import Panel
from mosaickit.widgets.book.still import still
from mosaickit.widgets.link import answer_to, unknown_message
from mosaickit.widgets.painter import MotifPainter

PANELS: dict[str, Panel] = {
    panel.name: panel
    for panel in (
        begin.PANEL,
        picture.PANEL,
        lay.PANEL,
        vary.PANEL,
        many.PANEL,
        yarn.PANEL,
        look.PANEL,
        words.PANEL,
        share.PANEL,
    )
}
"""The panels, in the order of the job."""

_HERE = Path(__file__).parent
_notebook: Any = display  # most of it has no types


class Workbook(anywidget.AnyWidget):
    """The place where a design is made, from nothing to a published pattern.

    Parameters
    ----------
    start : Motif, Design or path, optional
        What to start from, or the file that holds it; an empty sheet if left out. May be unworkable.
    autosave : path, optional
        The file that every step is kept in. If it is there, the workbook goes on where it ended, whatever it is given
        to start from. Left out, it has a file of its own in the folder of the notebook, and the same cell comes back
        to it.
    folder : path
        Where what is saved is written, and where designs are looked for.

    Raises
    ------
    OptionError
        If `start` is none of these.
    FileError
        If a file is damaged, cannot be read or written, or another program is writing it.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     book = Workbook(Motif.from_text("..."), autosave=Path(folder) / "dots.sketch")
    ...     book.design = book.design.but(across=4)
    ...     book.design.shape
    (1, 14)
    """

    _esm = one_script(_HERE / "book.js")
    _css = "\n".join(file.read_text("utf-8") for file in (_HERE.with_name("painter.css"), *sorted(_HERE.glob("*.css"))))

    painter = traitlets.Instance(MotifPainter).tag(sync=True, **ipywidgets.widget_serialization)
    """The painter, which keeps the design and its steps."""
    design = traitlets.Instance(Design)
    """The design now. Set it to go on with another; observe it to follow the hand."""
    head = traitlets.Dict().tag(sync=True)
    """The panels, which of them is open, title, undo and redo, and where all is kept."""
    ledger = traitlets.Dict().tag(sync=True)
    """What is shown of the design whatever panel is open."""
    panel = traitlets.Dict().tag(sync=True)
    """What the open panel shows."""
    said = traitlets.Unicode().tag(sync=True)
    """What came of the last thing that was pressed."""
    still = traitlets.Unicode().tag(sync=True)
    """The class of the still picture in the notebook, which the page hides while it is alive."""

    def __init__(
        self,
        start: Motif | Design | str | PathLike[str] | None = None,
        *,
        autosave: str | PathLike[str] | None = None,
        folder: str | PathLike[str] = ".",
    ) -> None:
        self.folder = as_path(folder, "folder")
        if isinstance(start, str | PathLike):
            start = load_design(start)
        begun = begin.empty_sheet() if start is None else start
        painter = MotifPainter(begun, autosave=autosave, folder=self.folder)
        self._turn = painter.turn
        self._stills: list[Any] = []
        self._ledger_of: Design | None = None
        self._hearing = False
        self._open = "picture" if start is not None or painter.restored else "begin"
        super().__init__(painter=painter, design=painter.design, still=f"mk-still-{secrets.token_hex(6)}")
        painter.observe(self._follow, names="design")
        self.observe(self._set_in_python, names="design")
        self.on_msg(self._receive)
        self._show()

    def _ipython_display_(self) -> None:
        """Show the still picture, which the notebook keeps, and the workbook."""
        self._stills.append(_notebook.display(self._still_picture(), display_id=True))
        bundle = self._repr_mimebundle_()
        data, about = bundle if isinstance(bundle, tuple) else (bundle, {})
        _notebook.display(data, metadata=about, raw=True)

    def _still_picture(self) -> object:
        return _notebook.HTML(still(self.design, self.still))

    # ---- what panels may ask for -----------------------------------------------------------------------------

    def change(self, to: Motif | Design, label: str) -> None:
        """Take a step to another design, or to this one with another motif; see `MotifPainter.change`."""
        self.painter.change(to, label)

    def say(self, sentence: str) -> None:
        """Say what came of the last thing that was pressed."""
        self.said = sentence

    def open_panel(self, name: str) -> None:
        """Show a panel, by its name."""
        one_of("panel", name, tuple(PANELS))
        self._open = name

    def beside(self, panel: str) -> dict[str, Any]:
        """Give what the file keeps of a panel beside the design; nothing if it keeps none."""
        return self.painter.beside(panel)

    def offline(self) -> dict[str, dict[str, Any]]:
        """Give what the page needs where there is no Python, by the id of the model: see `mosaickit.sharing`."""
        return {self.model_id: {"note": "To go on with the design, open the notebook: here it is as it was."}}

    # ---- messages ------------------------------------------------------------------------------------------

    def _receive(self, _: object, content: dict[str, Any], buffers: Sequence[Any]) -> None:
        with self._turn:
            if content.get("kind") == "still":
                answer = answer_to(content, self._take_still, kept="the design")
            else:
                if content.get("kind") not in ("ask", "part"):  # which the hand has not pressed
                    self.said = ""
                with self.hold_sync():  # what came of it is said with the panel that shows it, never before
                    self._hearing = True
                    try:
                        answer = answer_to(content, lambda: self._handle(content, buffers), kept="the design")
                    finally:
                        self._hearing = False
                    self._show()
            if "error" in answer:
                answer["error"] = in_labels(answer["error"])
            self.send(answer)

    def _handle(self, content: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        kind = content.get("kind")
        if kind == "open":
            self.open_panel(str(content.get("panel")))
        elif kind in ("undo", "redo"):
            getattr(self.painter, kind)()
        elif kind == "set":
            name = str(content.get("name"))
            design = entered(self.design, name, content.get("value"))
            self.change(design, entry_of(name).label)
        elif kind == "mend":
            self._mend()
        elif kind in ("do", "ask", "part"):
            panel = PANELS.get(str(content.get("panel")))
            if panel is None:
                raise OptionError(f"A workbook has no panel {content.get('panel')!r}.")
            if kind == "part":
                return panel.part(self)
            answer = panel.do(self, str(content.get("name")), content.get("values") or {}, buffers)
            for each in PANELS.values():
                if (kept := each.entered(self)) is not None:
                    self.painter.keep_beside(each.name, kept)
            return answer
        else:
            raise unknown_message("workbook", kind)
        return {}

    def _take_still(self) -> dict[str, Any]:
        """Bring the still pictures up to date: the hand rests."""
        picture = self._still_picture()
        for each in self._stills:
            each.update(picture)
        return {}

    def _mend(self) -> None:
        before, after = self.design, self.design.mended()
        self.change(after, "mend")
        changed = int((before.motif.grid != after.motif.grid).sum())
        self.say(f"Squares of the motif changed: {changed}." if changed else "Nothing to mend.")

    # ---- what follows --------------------------------------------------------------------------------------

    def _follow(self, _: object) -> None:
        """Follow the painter, whose hand or file has another design."""
        with self._turn:
            self.design = self.painter.design
            if not self._hearing:  # else all is shown when what was heard is done
                self._show()

    def _set_in_python(self, change: dict[str, Any]) -> None:
        with self._turn:
            if change["new"] != self.painter.design:
                self.change(change["new"], "set in Python")

    def _show(self) -> None:
        said = self.painter.said
        panel = PANELS[self._open]
        with self.hold_sync():
            self.head = {
                "panels": [{"name": each.name, "word": each.word, "hint": each.hint} for each in PANELS.values()],
                "open": self._open,
                "title": self.design.title,
                "undo": said["undo"],
                "redo": said["redo"],
                "kept": said["trouble"] or f"Kept in {self.painter.autosave.name}",
                "trouble": bool(said["trouble"]),
            }
            if self._ledger_of is not self.design:
                self._ledger_of, self.ledger = self.design, ledger(self.design)
            try:
                self.panel = {"name": panel.name, **panel.view(self)}
            except MosaickitError as error:
                self.panel = {"name": panel.name, "trouble": in_labels(str(error))}
