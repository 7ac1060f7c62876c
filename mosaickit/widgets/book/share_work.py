"""Files that take long are made in a process of their own: the workbook can be used meanwhile, and it can be stopped.

The typesetter and the drawing of a picture cannot be asked to stop, so what makes them is ended as a whole. A file is
written beside its place and put there in one step, so what is stopped leaves none.
"""

from __future__ import annotations

import signal
import sys
from dataclasses import dataclass
from math import prod
from multiprocessing import get_context
from multiprocessing.connection import Connection
from pathlib import Path
from time import monotonic
from typing import Any, TypeAlias

from mosaickit import publish
from mosaickit.errors import MosaickitError, PublishError
from mosaickit.sizes import Design
from mosaickit.widgets.book.share_files import FILES
from mosaickit.widgets.book.share_options import ShareOptions, Sharing
from mosaickit.widgets.book.share_writing import MOST_SQUARES_DRAWN, laid_once, sheets

LARGE_PIECE = 20_000
"""A piece of no more squares is done while the hand waits: another process would need longer to begin."""

PREVIEW = "preview"
"""What the sheets to look at are called among the files."""

EDIT = "edit"
"""What the marks of a technical editor are called among the files."""

Made: TypeAlias = "Path | tuple[bytes, ...] | publish.EditReport"
"""What comes of a task."""

_SECONDS_BETWEEN_LOOKS = 0.1
_SECONDS_TO_END = 1.0


@dataclass(frozen=True)
class ShareTask:
    """What is to be made: a file, the sheets to look at, or what an editor would mark.

    Attributes
    ----------
    what : str
        The button.
    design : Design
        Of what.
    options : ShareOptions
        What was chosen.
    path : Path, optional
        The file.
    replace : bool
        Whether to replace whatever is there.
    """

    what: str
    design: Design
    options: ShareOptions
    path: Path | None = None
    replace: bool = False

    @property
    def long(self) -> bool:
        """Whether it takes so long that it is done in a process of its own."""
        if self.what not in (PREVIEW, EDIT) and not FILES[self.what][0].owned_as:
            return False
        chart = self.what.startswith("chart")
        squares = prod((laid_once(self.design) if chart and not self.options.whole else self.design).shape)
        return squares > LARGE_PIECE and not (chart and squares > MOST_SQUARES_DRAWN)  # which is refused at once

    def made(self, of: Sharing) -> Made:
        """Make it; gives the file, the sheets, or what an editor would mark."""
        if self.what == EDIT:
            return publish.tech_edit(of.page())
        if self.path is None:
            return sheets(of)
        return FILES[self.what][0].write(of, self.path, replace=self.replace)


class ShareWork:
    """A task that another process is at.

    Attributes
    ----------
    task : ShareTask
        What is made.
    number : int
        The number of the design that it is made of.
    sheet : int
        Which sheet is to be looked at.
    """

    def __init__(self, task: ShareTask, number: int, sheet: int = 1) -> None:
        self.task, self.number, self.sheet = task, number, sheet
        self._begun, self._step = monotonic(), ("beginning", 0, 2)
        own = get_context("spawn")
        self._hears, tells = own.Pipe(duplex=False)
        self._process = own.Process(target=_make, args=(task, tells), daemon=True)
        self._process.start()
        tells.close()

    def part(self) -> Made | None:
        """Wait a moment; gives what was made, or nothing as long as it is not.

        Raises
        ------
        MosaickitError
            If it could not be made.
        """
        try:
            if not self._hears.poll(_SECONDS_BETWEEN_LOOKS):
                return None
            told = self._hears.recv()
        except (EOFError, OSError):
            raise PublishError(
                "It was not made: what worked at it ended by itself. Perhaps the computer's memory was full; close "
                "other things and press the button again."
            ) from None
        if isinstance(told, MosaickitError):
            raise told
        if isinstance(told, list):
            self._step = (told[0], told[1], told[2])
            return None
        found: Made = told
        return found

    def end(self) -> None:
        """End the process, whatever it is at; what it has not finished leaves nothing."""
        self._process.terminate()
        self._process.join(_SECONDS_TO_END)
        self._process.kill()
        self._process.join()
        self._hears.close()

    def view(self) -> dict[str, Any]:
        """Give what the page shows of it; how far the last step is, no one can tell."""
        said, step, of = self._step
        making = "Reading the pattern" if self.task.what == EDIT else "Setting the pages"
        if self.task.path is not None:
            making = f"Saving {self.task.path.name}"
        seconds = monotonic() - self._begun
        return {
            "what": self.task.what,
            "said": f"{making}, step {max(step, 1)} of {of}: {said}. {seconds:.0f} s so far.",
            "done": None if step == of else step,
            "of": of,
        }


def _make(task: ShareTask, tells: Connection) -> None:
    """Do a task, in the other process, and tell of each step and of what came of it."""
    _end_quietly()
    of = Sharing(task.design, task.options, task.design.page, lambda *step: tells.send([*step]))
    try:
        made: object = task.made(of)
    except MosaickitError as error:
        made = error
    except Exception as error:  # which no one would see there
        made = PublishError(f"mosaickit met an error of its own, and nothing was saved: {error!r}")
    tells.send(made)
    # all is written: to be ended while Python is going away would only put an error into the server's log
    signal.signal(signal.SIGTERM, signal.SIG_DFL)


def _end_quietly() -> None:
    """Let this process end when it is asked to, so that what is being written is taken away, and say nothing of it."""
    signal.signal(signal.SIGTERM, lambda *_: sys.exit())
    tell = sys.unraisablehook

    def hook(lost: Any) -> None:  # noqa: ANN401 — its type has no name
        """Ask once more where the end was asked for in a place that lets no error through, as a finalizer."""
        if lost.exc_type is not SystemExit:
            tell(lost)
        elif hasattr(signal, "setitimer"):  # on Windows a process is ended without being asked
            signal.signal(signal.SIGALRM, lambda *_: sys.exit())
            signal.setitimer(signal.ITIMER_REAL, _SECONDS_BETWEEN_LOOKS)

    sys.unraisablehook = hook
