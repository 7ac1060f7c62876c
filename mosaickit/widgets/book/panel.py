"""What a panel of the workbook is: a view of the design for the page, and what it does when something is pressed."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Protocol

from mosaickit.errors import OptionError
from mosaickit.motif import Motif
from mosaickit.sizes import Design


class Book(Protocol):
    """What a panel may ask of the workbook that it is in."""

    folder: Path
    """Where files are written, and designs are looked for."""

    @property
    def design(self) -> Design:
        """The design now."""

    def change(self, to: Motif | Design, label: str) -> None:
        """Take a step to another design, which can be undone."""

    def say(self, sentence: str) -> None:
        """Say what came of the last thing that was pressed."""

    def open_panel(self, name: str) -> None:
        """Show another panel."""

    def beside(self, panel: str) -> dict[str, Any]:
        """Give what the file keeps of a panel beside the design: what its `entered` said last, or nothing."""


class Panel(ABC):
    """One step of the job.

    Attributes
    ----------
    name : str
        What it is called in messages; its page is the file of this name.
    word : str
        What it is called by people.
    hint : str
        What it is for, in a few words.
    """

    name: str
    word: str
    hint: str

    @abstractmethod
    def view(self, book: Book) -> dict[str, Any]:
        """Give what the page shows of the design: texts, numbers, pictures as SVG; never what takes long unasked."""

    def do(self, book: Book, name: str, values: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        """Do what was pressed, or answer what the page asks by itself, by which no design may be changed.

        Returns
        -------
        dict
            What is to be added to the answer, if anything.

        Raises
        ------
        MosaickitError
            If it cannot be done; nothing is changed then, and the page shows the sentence.
        """
        raise OptionError(f"{self.word} knows no {name.replace('_', ' ')!r}.")

    def entered(self, book: Book) -> dict[str, Any] | None:
        """Give what was entered here and is in no design, for JSON, so that it comes back with the workbook.

        None, as long as nothing of it was asked for.
        """
        return None

    def part(self, book: Book) -> dict[str, Any]:
        """Do the next part of what takes long, as long as the view has such work under `work`; the page asks for it.

        Other messages are done between two parts, so the workbook can be used meanwhile.

        Returns
        -------
        dict
            Under `left` whether there is more to do, and at the end what came of it.

        Raises
        ------
        MosaickitError
            If it cannot go on; there is no such work then any more.
        """
        return {"left": False}
