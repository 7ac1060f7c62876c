"""The lines of a run on their way into a file, a part at a time, so that the page shows how far it is and can stop.

Nothing is written before all of it is made, so what is stopped leaves no file. A file that is another's is asked about;
what was made is kept until the hand has answered.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from mosaickit import tables
from mosaickit.errors import OptionError, TakenError


@dataclass
class TableSaving:
    """One table that is being saved.

    Attributes
    ----------
    made : TableFile
        What the file is to hold, as far as it is made.
    path : Path
        The file.
    title : str
        The title of the design that it belongs to.
    asking : TakenError, optional
        What the hand is asked, where the file is another's.
    saved : bool
        Whether it is in the file.
    """

    made: tables.TableFile
    path: Path
    title: str
    asking: TakenError | None = None
    saved: bool = False

    @property
    def at_work(self) -> bool:
        """Whether there is something left to do that needs no answer."""
        return not (self.saved or self.asking)

    def step(self) -> str:
        """Make the next part, and save the file when all are made; gives what came of it, empty on the way."""
        return "" if self.made.step() else self.keep(self.path)

    def keep(self, path: Path, *, replace: bool = False) -> str:
        """Save what was made; gives a sentence, or nothing if a file is asked about."""
        try:
            saved = tables.save_table(self.made, path, design=self.title, replace=replace)
        except TakenError as taken:
            self.asking = taken
            return ""
        self.saved, self.asking = True, None
        return f"Saved {saved.name}."

    def answered(self, *, replace: bool) -> str:
        """Go on where a file was asked about: under the free name, or in place of what is there."""
        if self.asking is None:
            raise OptionError("No file is asked about.")
        return self.keep(self.asking.path if replace else self.asking.free, replace=replace)

    def view(self) -> dict[str, Any] | None:
        """Give what the page shows while it is at work."""
        if not self.at_work:
            return None
        done, of = self.made.done, self.made.of
        return {"said": f"Saving {self.path.name}: {done:,} of {of:,} lines", "done": done, "of": of}

    def question(self) -> dict[str, str] | None:
        """Give what the page asks."""
        asking = self.asking
        return None if asking is None else {"said": asking.found, "free": asking.free.name, "taken": asking.path.name}
