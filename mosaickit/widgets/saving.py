"""The line beneath Save buttons: what was saved, or what is there already, with a button for each way on.

Nothing of a file that is another's is written before one of the two buttons is pressed. They are ordinary buttons whose
names say what they do, they get the keyboard's focus when they appear, and it goes back where it came from afterwards.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets  # type: ignore[import-untyped]  # it ships no types

from mosaickit.errors import MosaickitError, TakenError
from mosaickit.widgets import parts

Write = Callable[..., Path]
"""Saves a file under the path it is called with; takes `replace`."""

Files = list[tuple[Path, Write]]
"""Files to be saved: where, and what saves each."""


class Saving(ipywidgets.HBox):  # type: ignore[misc]  # ipywidgets ships no types
    """Says what became of saving, and asks what to do where a file is another's.

    Attributes
    ----------
    said : HTML
        What was saved, why nothing was, or what is there.
    as_free, replace : Button
        The two ways on; seen only while a file is asked about.
    """

    def __init__(self) -> None:
        self.said = ipywidgets.HTML()
        self.as_free = parts.button("", lambda: self._go_on(self._free))
        self.replace = parts.button("Replace it", lambda: self._go_on(self._taken, replace=True))
        self._files: Callable[[], Files] = list
        self._pressed: Any = None
        self._done: list[str] = []
        self._taken: Path | None = None
        self._free: Path | None = None
        super().__init__([self.said, self.as_free, self.replace], layout=parts.WRAP)
        self._show("")

    def button(self, name: str, files: Callable[[], Files]) -> Any:  # noqa: ANN401 — ipywidgets ships no types
        """Make a button that saves the files that a callable gives; it is asked again when another is pressed here."""
        made = parts.button(name, lambda: self._save(files, made))
        return made

    def _save(self, files: Callable[[], Files], pressed: object) -> None:
        self._files, self._pressed, self._done = files, pressed, []
        self._taken = self._free = None
        self._go_on()

    def _go_on(self, path: Path | None = None, *, replace: bool = False) -> None:
        """Save the files that are still to be saved; the first of them under a path, if one is given."""
        asked = self._free is not None
        try:
            for there, write in self._files()[len(self._done) :]:
                self._done.append(write(path or there, replace=replace).name)
                path, replace = None, False
            self._show("")
        except TakenError as error:
            self._show(error.found, error)
            return
        except MosaickitError as error:
            self._show(str(error))
        if asked:  # else the keys would reach the notebook, where they do other things
            self._pressed.focus()

    def _show(self, said: str, taken: TakenError | None = None) -> None:
        done = f"Saved {', '.join(self._done)}" if self._done else ""
        said = ". ".join(filter(None, [done, said]))
        self.said.value = f"<span role='status'>{escape(said, quote=False)}</span>" if said else ""
        self._taken, self._free = (taken.path, taken.free) if taken else (None, None)
        self.as_free.description = f"Save as {self._free.name}" if self._free else ""
        self.replace.tooltip = f"Replace {self._taken.name}" if self._taken else ""
        for button in (self.as_free, self.replace):
            button.layout.display = None if taken else "none"
        if taken:
            self.as_free.focus()


def written(files: Iterable[tuple[Path, Write]], *, replace: bool) -> list[Path]:
    """Save files and give them; the first that is another's ends it."""
    return [write(path, replace=replace) for path, write in files]
