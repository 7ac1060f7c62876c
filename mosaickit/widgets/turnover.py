"""Turn over: a patch of fabric as yarn in space, to be dragged from its front to its back.

Python lays the thread; the page draws its pieces as round tubes and turns them. A page that cannot draw in space shows
both sides as still pictures.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import anywidget
import numpy as np
import traitlets
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.draw import worked_png
from mosaickit.errors import OptionError, of_kind
from mosaickit.fabric import Chart, patch_of
from mosaickit.gauge import Gauge
from mosaickit.scripts import one_script
from mosaickit.widgets.parts import data_url
from mosaickit.yarn import Piece, RowThread, Thread, YarnSettings, thread_of

LARGEST_PATCH = 1000
"""More stitches than this in a patch turn too slowly."""

_OFF = 0.3
"""A curve is sent as straight pieces that stay this close to it, in yarn diameters: fine enough for the eye."""


class TurnOver(anywidget.AnyWidget):
    """A patch of fabric to be turned over.

    Parameters
    ----------
    chart : Chart
        What is worked.
    gauge : Gauge, optional
        The size of a stitch; 16 by 18 over 10 cm if left out.
    rows, stitches : (int, int), optional
        First and last row and stitch of the patch, from 1; 20 rows of 20 stitches from the beginning if left out.
    yarn_mm : float, optional
        The yarn's diameter.

    Attributes
    ----------
    patch : Chart
        The stitches that are shown.

    Raises
    ------
    OptionError
        If the patch is not in the chart, or too large to turn smoothly.

    Examples
    --------
    >>> TurnOver(Chart.from_text("...")).patch.shape
    (1, 3)
    """

    _esm = one_script(Path(__file__).with_name("turnover.js"))
    _css = Path(__file__).with_name("turnover.css")

    points = traitlets.CBytes().tag(sync=True)
    """The centre lines of the yarn one after another: x to the right, y up, z towards the viewer, as float32."""
    lines: traitlets.List[list[int]] = traitlets.List().tag(sync=True)
    """Of each line, how many points it has and which colour."""
    colours: traitlets.List[str] = traitlets.List().tag(sync=True)
    """The colours."""
    yarn = traitlets.Float().tag(sync=True)
    """The yarn's diameter in the unit of the points."""
    about = traitlets.Unicode().tag(sync=True)
    """What is shown, in words."""
    stills = traitlets.Dict().tag(sync=True)
    """Front and back as pictures."""

    def __init__(
        self,
        chart: Chart,
        *,
        gauge: Gauge | None = None,
        rows: tuple[int, int] | None = None,
        stitches: tuple[int, int] | None = None,
        yarn_mm: float | None = None,
    ) -> None:
        of_kind("gauge", gauge, Gauge, or_none=True)
        of_kind("chart", chart, Chart)
        self.patch = patch_of(chart, rows, stitches)
        count = self.patch.stitches.size
        if count > LARGEST_PATCH:
            raise OptionError(
                f"A patch has at most {LARGEST_PATCH:,} stitches, to turn smoothly; this one has {count:,}."
            )
        thread = thread_of(self.patch, gauge or Gauge(16, 18), yarn_settings=YarnSettings(yarn_mm=yarn_mm, tail_cm=0))
        points, lines, colours = _lines(thread, self.patch)
        stills = {side: data_url(worked_png(thread, self.patch, side=side)) for side in ("front", "back")}
        super().__init__(
            points=points.astype("<f4").tobytes(),
            lines=lines,
            colours=colours,
            yarn=thread.yarn_cm,
            about=f"A patch of {self.patch.summary}, as yarn in space.",
            stills=stills,
        )

    def offline(self) -> dict[str, dict[str, Any]]:
        """Give what the page needs where there is no Python, by the id of the model: all of it works there."""
        return {self.model_id: {}}


def _lines(thread: Thread, patch: Chart) -> tuple[NDArray[np.float64], list[list[int]], list[str]]:
    """Give the points of all lines about the middle of the patch, (n, 3), and of each its points and its colour."""
    strands = [strand for strand in thread.strands if strand.kind != "tail"]
    needed: dict[Piece, NDArray[np.int64]] = {}  # a stitch looks the same wherever it stands
    off = _OFF * thread.yarn_cm
    for row in thread.rows:
        for number, piece in enumerate(row.pieces):
            if piece not in needed:
                needed[piece] = _needed(row.of(number), off)
    kept = [row.points[_of_row(row, needed)] for row in thread.rows]
    kept += [strand.points[_needed(strand.points, off)] for strand in strands]
    rows = [*range(1, len(thread.rows) + 1), *(strand.row for strand in strands)]
    yarns = [patch.yarns.at(row, role).colour for row, role in enumerate(patch.row_colours, 1)]
    colours = list(dict.fromkeys(yarns))
    points = np.concatenate(kept)
    points = points - (points.min(axis=0) + points.max(axis=0)) / 2
    if orientation.working_edge(thread.hand) == "right":
        points = points * [-1, 1, 1]
    lines = [[len(one), colours.index(yarns[row - 1])] for row, one in zip(rows, kept, strict=True)]
    return points, lines, colours


def _of_row(row: RowThread, needed: Mapping[Piece, NDArray[np.int64]]) -> NDArray[np.int64]:
    """Choose the points of a row, piece by piece; the last of each is the first of the next."""
    chosen = [start + needed[piece][:-1] for piece, start in zip(row.pieces, row.starts[:-1].tolist(), strict=True)]
    return np.concatenate([*chosen, [len(row.points) - 1]])


def _needed(points: NDArray[np.float64], off: float) -> NDArray[np.int64]:
    """Choose points of a curve, (n, 3), so that straight lines between them stay close to those left out."""
    needed, last = [0], len(points) - 1
    reach = 16  # of the curve's own fine steps: no straight piece is longer
    while needed[-1] < last:
        start = needed[-1]
        part = points[start : min(start + reach, last) + 1] - points[start]
        end = len(part) - 1
        while end > 1:
            along = part[end] / max(float(np.linalg.norm(part[end])), 1e-12)
            away = part[1:end] - (part[1:end] @ along)[:, np.newaxis] * along
            if float((away * away).sum(axis=1).max()) <= off * off:
                break
            end -= max(end // 4, 1)
        needed.append(start + max(end, 1))
    return np.array(needed, dtype=np.int64)
