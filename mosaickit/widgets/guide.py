"""The row guide: leads a maker through a chart stitch by stitch and remembers where they are.

Python lays out everything that is shown and keeps the place; the page moves through it. Each step is in the place file
before it is answered, so that a kernel that dies loses at most the step in hand.
"""

from __future__ import annotations

import re
import weakref
from os import PathLike
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from mosaickit import guiding
from mosaickit.errors import FileError, OptionError, whole_number
from mosaickit.fabric import Chart, Foundation
from mosaickit.gauge import Gauge
from mosaickit.guiding import Place, PlaceFile
from mosaickit.motif import BetweenRows
from mosaickit.scripts import one_script
from mosaickit.widgets.link import answer_to, unknown_message
from mosaickit.wording import Style, Terms

# which guide writes which file: a cell that is run again takes the file over from the guide it made before
_WRITERS: weakref.WeakValueDictionary[Path, RowGuide] = weakref.WeakValueDictionary()


class RowGuide(anywidget.AnyWidget):
    """A chart to be worked stitch by stitch.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches that a hook can work.
    gauge : Gauge, optional
        Gives the proportion of the faces, and how high the work is after each row.
    terms : "US" or "UK"
        The terms of the stitches.
    style : "short" or "plain words"
        How the rows are written.
    between_rows : "carried" or "cut"
        What is done with the yarn between rows.
    place : path, optional
        The file that keeps where you are. Left out, a name is made from the chart, in the folder of the notebook. A
        file that is damaged or belongs to another chart is left as it is; the guide says which it writes instead.
    foundation : "chain" or "foundation sc"
        What row 1 stands on.
    repeat, repeat_from : int, optional
        The columns of the motif that the chart repeats, and where the first repeat begins; see `write_rows`.

    Attributes
    ----------
    at : Place
        How many rows, stitches of the row in hand and moves of the stitch in hand are done.

    Raises
    ------
    StitchError
        If no hook can work the chart.
    OptionError
        If another argument is not as described, or the chart is too large.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     RowGuide(Chart.from_text("..."), place=Path(folder) / "scarf.place").go(1, 3)
    ...     RowGuide(Chart.from_text("..."), place=Path(folder) / "scarf.place").at
    Place(rows=0, stitches=2, moves=0)
    """

    _esm = one_script(Path(__file__).with_name("guide.js"))
    _css = Path(__file__).with_name("guide.css")

    data = traitlets.Dict().tag(sync=True)
    """All that is shown, as `guiding.steps` lays it out."""
    place = traitlets.Dict().tag(sync=True)
    """Rows, stitches and moves done."""
    note = traitlets.Unicode().tag(sync=True)
    """What is to be said about the place file, or about another guide that writes it."""
    trouble = traitlets.Unicode().tag(sync=True)
    """Why the place is not kept; empty while it is."""

    def __init__(
        self,
        chart: Chart,
        *,
        gauge: Gauge | None = None,
        terms: Terms = "US",
        style: Style = "short",
        between_rows: BetweenRows = "carried",
        place: str | PathLike[str] | None = None,
        repeat: int | None = None,
        repeat_from: int | None = None,
        foundation: Foundation = "chain",
    ) -> None:
        data = guiding.steps(
            chart,
            gauge=gauge,
            terms=terms,
            style=style,
            between_rows=between_rows,
            repeat=repeat,
            repeat_from=repeat_from,
            foundation=foundation,
        )
        self._file = PlaceFile(_default_file(chart) if place is None else place, chart)
        self._retired = False
        if self._file.file is not None:
            _take_over(self._file.file, self)
        super().__init__(data=data, note=self._file.note)
        self._show()
        self.on_msg(self._receive)

    @property
    def at(self) -> Place:
        """Where the maker is."""
        return self._file.place

    @property
    def place_file(self) -> Path | None:
        """The file that keeps the place, None if there is none that may be written."""
        return self._file.file

    def go(self, row: int, stitch: int = 1) -> None:
        """Go to a row and stitch, from 1: all before it is done.

        Raises
        ------
        OptionError
            If there is no such place.
        FileError
            If the place file cannot be written, or a guide in another kernel has gone further in it.
        """
        self._refuse_if_retired()
        try:
            self._file.keep(Place(whole_number("row", row, least=1) - 1, whole_number("stitch", stitch, least=1) - 1))
        finally:
            self._show()

    def _receive(self, _: object, content: dict[str, Any], __: object) -> None:
        answer = answer_to(content, lambda: self._handle(content), kept="the place")
        self._show()
        self.send(answer)

    def _handle(self, content: dict[str, Any]) -> dict[str, Any]:
        self._refuse_if_retired()
        if content.get("kind") != "at":
            raise unknown_message("guide", content.get("kind"))
        try:
            self._file.keep(_place_of(content.get("place")))
            self.trouble = ""
        except FileError as error:
            self.trouble = f"{error} For now the place is not kept."
        return {"kind": "done"}

    def offline(self) -> dict[str, dict[str, Any]]:
        """Give what the page needs where there is no Python, by the id of the model: it works, and keeps the place."""
        return {self.model_id: {"key": f"mosaickit-place-{self.data['fingerprint']}"}}

    def _refuse_if_retired(self) -> None:
        if self._retired:
            raise OptionError("This guide went on in a newer one, which keeps the place now.")

    def _show(self) -> None:
        at = self._file.place
        self.note = self._file.note
        self.place = {"rows": at.rows, "stitches": at.stitches, "moves": at.moves}


def _place_of(told: object) -> Place:
    if not isinstance(told, dict) or set(told) != {"rows", "stitches", "moves"}:
        raise OptionError(f"A place must have rows, stitches and moves; got {told!r}.")
    return Place(**told)


def _default_file(chart: Chart) -> Path:
    """Name a place file after a chart, so that other charts have other files."""
    name = re.sub(r"[^\w-]+", "-", chart.name).strip("-") or "chart"
    return Path(f"{name[:40]}-{guiding.fingerprint(chart)[:8]}.place")


def _take_over(file: Path, guide: RowGuide) -> None:
    older = _WRITERS.get(file.absolute())
    if older is not None:
        older._retired = True
    _WRITERS[file.absolute()] = guide
