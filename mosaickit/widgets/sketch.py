"""A design that is being made: its present state, undo and redo, and a journal that keeps every step, if there is one.

What can be undone is in `steps`, the file in `journal`.
"""

from __future__ import annotations

import os
import uuid
from collections.abc import Mapping
from os import PathLike

from mosaickit.colours import checked_name
from mosaickit.errors import FileError, OptionError, shortly, whole_number
from mosaickit.files import as_path
from mosaickit.motif import Motif
from mosaickit.sizes import Design
from mosaickit.widgets.journal import Journal, look
from mosaickit.widgets.records import Kept
from mosaickit.widgets.steps import State, Step

MOST_STEPS = 2000
"""How many steps can be undone, unless the sketch is told otherwise."""

CUT_OFF = "The last stroke was not written to the end and was left out."


class Sketch:
    """A design that is being made, step by step.

    Parameters
    ----------
    start : Motif or Design
        What it starts from; a motif begins a design of one repeat.
    journal : path, optional
        The file in which every step is kept; it must not be there yet. None keeps the sketch in memory only.
    most_steps : int
        How many steps can be undone; older ones are forgotten.

    Attributes
    ----------
    identity : str
        32 hexadecimal digits, drawn at random when the drawing is begun and kept in the journal. A copy of the file has
        the same.
    recovered : str
        What was left out when the journal was opened, as a sentence; or "".
    trouble : str
        Why steps are not kept in the journal at present, as a sentence; or "".

    Raises
    ------
    FileError
        If the journal is there already, cannot be written, or another sketch holds it.
    OptionError
        If `start` is neither Motif nor Design, or `most_steps` no whole number of 1 or more.

    Examples
    --------
    >>> with Sketch(Motif.from_text(".#")) as sketch:
    ...     sketch.change(Motif.from_text("##"), "a dot")
    ...     sketch.undo().motif.to_text(), sketch.redo_label
    ('.#', 'a dot')
    """

    def __init__(
        self, start: Motif | Design, *, journal: str | PathLike[str] | None = None, most_steps: int = MOST_STEPS
    ) -> None:
        self._most = whole_number("most_steps", most_steps, least=1)
        begin = design_of(start)
        self._state = State(begin, begin)
        self._journal: Journal | None = None
        self._beside: dict[str, str] = {}
        self._closed = False
        self.identity = uuid.uuid4().hex
        self.recovered = ""
        self.trouble = ""
        if journal is not None:
            self._journal = Journal.begin(as_path(journal), self._state, self.identity, self._most)

    @classmethod
    def _of(cls, kept: Kept, cut_off: bool) -> Sketch:
        """Make a sketch, in memory, of what a journal holds."""
        sketch = cls(kept.state.start, most_steps=kept.most)
        sketch._state, sketch.identity, sketch._beside = kept.state, kept.identity, dict(kept.beside)
        sketch.recovered = CUT_OFF if cut_off else ""
        return sketch

    @classmethod
    def open(cls, journal: str | PathLike[str], *, otherwise: Motif | Design | None = None) -> Sketch:
        """Go on with a journal: the picture, and everything that can be undone and redone.

        Parameters
        ----------
        journal : path
            What an earlier sketch kept.
        otherwise : Motif or Design, optional
            What to start from if there is no such file.

        Raises
        ------
        FileError
            If there is no such file and nothing to start from; if another sketch holds it, naming whose; or if it is
            damaged, of something else, or may not be written. The file is not changed.
        """
        file = as_path(journal)
        if otherwise is not None and not os.path.lexists(file):
            return cls(otherwise, journal=file)
        opened, cut_off = Journal.open(file)
        sketch = cls._of(opened.kept, cut_off)
        sketch._journal = opened
        return sketch

    @classmethod
    def read(cls, journal: str | PathLike[str]) -> Sketch:
        """Look at a journal, which another program may be writing; what is drawn from here on is in memory only.

        Parameters
        ----------
        journal : path
            What a sketch keeps or kept. The file is not changed.

        Raises
        ------
        FileError
            If there is no such file, or it is damaged or of something else.
        """
        return cls._of(*look(as_path(journal)))

    def close(self) -> None:
        """Let others write the file. The design stays, but cannot be changed. Closing once more does nothing."""
        if self._journal is None or self._closed:
            self._closed = True
            return
        try:
            if self.trouble:
                self._go_to(self._state)  # the last chance to keep it
        finally:
            self._closed = True
            self._journal.close()

    def __enter__(self) -> Sketch:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # ---- drawing -------------------------------------------------------------------------------------------

    @property
    def design(self) -> Design:
        """The design now."""
        return self._state.design

    @property
    def motif(self) -> Motif:
        """The motif of the design now."""
        return self._state.design.motif

    @property
    def steps(self) -> int:
        """How many steps can be undone."""
        return self._state.at

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to undo."""
        return self._state.at > 0

    @property
    def can_redo(self) -> bool:
        """Whether there is a step to redo."""
        return self._state.at < len(self._state.steps)

    @property
    def undo_label(self) -> str:
        """What the step that `undo` takes back is called."""
        return self._state.steps[self._state.at - 1].label if self.can_undo else ""

    @property
    def redo_label(self) -> str:
        """What the step that `redo` does again is called."""
        return self._state.steps[self._state.at].label if self.can_redo else ""

    def change(self, to: Motif | Design, label: str = "") -> None:
        """Take a step to another design, or to this one with another motif; none if it is the same.

        What could be redone is dropped.

        Raises
        ------
        MosaickitError
            If `to` is neither Motif nor Design, or does not go with the rest of the design; if `label` is not one line
            of at most 200 characters, or the sketch is closed; nothing is changed.
        """
        self._refuse_if_closed()
        checked_name("A step's label", label)  # here, as one that cannot be read back would spoil the journal
        new = self.design.but(motif=to) if isinstance(to, Motif) else design_of(to)
        if new != self.design:
            self._go_to(self._state.taking(Step.between(self.design, new, label), self._most))

    @property
    def beside(self) -> Mapping[str, str]:
        """What was entered and is in no design: JSON by the name of the panel on which it was entered."""
        return self._beside

    def keep_beside(self, panel: str, entered: str) -> None:
        """Keep what was entered on a panel, as JSON, in place of what is kept of it; this is no step."""
        self._refuse_if_closed()
        self._beside[panel] = entered
        self._go_to(self._state)

    def undo(self) -> Design:
        """Take the last step back, if there is one, and give the design."""
        self._refuse_if_closed()
        if self.can_undo:
            self._go_to(self._state.undoing())
        return self.design

    def redo(self) -> Design:
        """Repeat the step that was undone last, if there is one, and give the design."""
        self._refuse_if_closed()
        if self.can_redo:
            self._go_to(self._state.redoing())
        return self.design

    def _refuse_if_closed(self) -> None:
        if self._closed:
            raise OptionError("This sketch is closed, so it cannot be changed: go on with its file by `Sketch.open`.")

    def _go_to(self, state: State) -> None:
        self._state = state
        if self._journal is None:
            return
        try:
            self._state = self._journal.write(state, self._beside)
            self.trouble = ""
        except FileError as error:
            self.trouble = f"The drawing is kept in memory only, as its file could not be written: {error}"


def design_of(start: Motif | Design) -> Design:
    """Give a design as it is, and of a motif the design of one repeat; raise `OptionError` for anything else."""
    if isinstance(start, Design):
        return start
    if not isinstance(start, Motif):
        raise OptionError(f"`start` must be a `Motif` or a `Design`; got {shortly(start)}.")
    return Design(start)
