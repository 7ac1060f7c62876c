"""The hook: works a chart loop by loop and shows what comes out.

This is the independent witness for the compiler. It knows nothing of pictures, overlaid squares or rules; it
knows loops. Every stitch leaves two loops on its top, front and back. A stitch takes loops that earlier stitches
left, and covers what it hangs over. A loop that was taken is gone; a front loop that a double crochet hangs over
is buried. From that alone it refuses what no hook can do and yields both faces and the back loops that no one
worked into.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NoReturn

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation, svg
from mosaickit.colours import Yarns
from mosaickit.errors import StitchError, number_of, of_kind
from mosaickit.fabric.stitches import Chart, Stitch
from mosaickit.motif import read_only
from mosaickit.orientation import Hand


@dataclass(frozen=True, eq=False, repr=False)
class Fabric:
    """What the hook made: both faces, and the loops it left.

    Attributes
    ----------
    front : bool array, (R, N)
        The front face as seen from the front: True where a CC yarn shows.
    back : bool array, (R, N)
        The back face as seen from behind, so mirrored left to right.
    front_rows, back_rows : int array, (R, N)
        The maker's number of the row whose yarn shows at each square of that face, as seen from its side.
    open_loops : int array, (K, 2)
        Row and stitch, from 1, of every back loop below the last row that was not worked into.
    yarns : Yarns
        The yarns that play MC and CC, by row.
    hand : "right" or "left"
        The hand that held the hook.
    name : str
        The chart's name.
    """

    front: NDArray[np.bool_]
    back: NDArray[np.bool_]
    front_rows: NDArray[np.int64]
    back_rows: NDArray[np.int64]
    open_loops: NDArray[np.int64]
    yarns: Yarns = field(default_factory=Yarns)
    hand: Hand = "right"
    name: str = ""

    @property
    def shape(self) -> tuple[int, int]:
        """(R, N): rows and stitches of a row."""
        rows, stitches = self.front.shape
        return rows, stitches

    @property
    def summary(self) -> str:
        """One line: name, size and open back loops."""
        rows, stitches = self.shape
        name = f"{self.name}: " if self.name else ""
        loops = f"{len(self.open_loops)} open back loops" if len(self.open_loops) else "no open back loop"
        return f"{name}{number_of(rows, 'row')} × {number_of(stitches, 'stitch')} worked, {loops}"

    def __repr__(self) -> str:
        return f"<Fabric {self.summary}>"

    def _repr_svg_(self) -> str:
        part = svg.corner(self.shape, orientation.working_edge(self.hand))
        # the same stitches on both sides: the back is turned to the front, cut, and turned again
        back, back_rows = (orientation.from_behind(face) for face in (self.back, self.back_rows))
        behind = svg.yarn_colours(back[part], back_rows[part], self.yarns)
        return svg.notebook_faces(
            [
                ("front", *svg.yarn_colours(self.front[part], self.front_rows[part], self.yarns)),
                ("back, seen from behind", orientation.from_behind(behind[0]), behind[1]),
            ],
            shape=self.shape,
            title=self.summary,
        )


class _Work:
    """The work in hand: which loops are free, and what each square shows, in working order from 0."""

    def __init__(self, chart: Chart) -> None:
        rows, stitches = chart.shape
        self.front_free = np.ones((rows, stitches), dtype=np.bool_)
        self.back_free = np.ones((rows, stitches), dtype=np.bool_)
        own = np.arange(rows)[:, np.newaxis]
        self.front_row = np.broadcast_to(own, (rows, stitches)).copy()
        self.back_row = self.front_row.copy()

    def refuse(self, row: int, here: NDArray[np.bool_], stitch: Stitch, reason: str) -> None:
        """Stop at the first stitch of the row that `here` marks, if there is one."""
        if here.any():
            _refuse(row + 1, int(np.argmax(here)) + 1, stitch, reason)

    def work_row(self, row: int, stitches: NDArray[np.uint8]) -> None:
        """Work one row; all its stitches use loops of earlier rows only, so they may be made at once."""
        refused = []
        for stitch, make in (
            (Stitch.SC, self.sc),
            (Stitch.BLSC, self.blsc),
            (Stitch.FLDC, self.fldc),
            (Stitch.TOG_BACK, self.tog_back),
            (Stitch.TOG_FRONT, self.tog_front),
        ):
            here = stitches == stitch
            if here.any():
                try:
                    make(row, here)
                except StitchError as error:
                    refused.append(error)
        if refused:
            raise min(refused, key=lambda error: error.stitch)  # the one that the maker meets first

    def sc(self, row: int, here: NDArray[np.bool_]) -> None:
        if row > 0:
            self.refuse(row, here, Stitch.SC, "only row 1 is worked into the foundation chain")

    def blsc(self, row: int, here: NDArray[np.bool_]) -> None:
        self.take_back_loop_below(row, here, Stitch.BLSC)

    def fldc(self, row: int, here: NDArray[np.bool_]) -> None:
        # the back loop below is skipped: it stays free, which is how the count keeps
        self.take_front_loop_two_below(row, here, Stitch.FLDC)

    def tog_back(self, row: int, here: NDArray[np.bool_]) -> None:
        self.take_back_loop_below(row, here, Stitch.TOG_BACK)
        self.reach_two_below(row, here, Stitch.TOG_BACK)
        taken = here & ~self.back_free[row - 2]
        self.refuse(row, taken, Stitch.TOG_BACK, f"the back loop of row {row - 1} below it is already worked into")
        self.back_free[row - 2, here] = False
        self.back_row[row - 1, here] = row

    def tog_front(self, row: int, here: NDArray[np.bool_]) -> None:
        self.take_back_loop_below(row, here, Stitch.TOG_FRONT)
        self.take_front_loop_two_below(row, here, Stitch.TOG_FRONT)

    def take_back_loop_below(self, row: int, here: NDArray[np.bool_], stitch: Stitch) -> None:
        if row == 0:
            self.refuse(row, here, stitch, "there is no row below it, only the foundation chain, which takes sc")
        self.back_free[row - 1, here] = False

    def take_front_loop_two_below(self, row: int, here: NDArray[np.bool_], stitch: Stitch) -> None:
        self.reach_two_below(row, here, stitch)
        buried = here & ~self.front_free[row - 2]
        self.refuse(
            row,
            buried,
            stitch,
            f"the front loop of row {row - 1} below it lies under a double crochet of row {row}",
        )
        self.front_free[row - 2, here] = False
        self.front_free[row - 1, here] = False  # it hangs in front of the stitch just below it
        self.front_row[row - 1, here] = row

    def reach_two_below(self, row: int, here: NDArray[np.bool_], stitch: Stitch) -> None:
        if row < 2:
            self.refuse(row, here, stitch, "there is no row two below it to reach into")


def _refuse(row: int, stitch_number: int, stitch: Stitch, reason: str) -> NoReturn:
    raise StitchError(
        f"Row {row}, stitch {stitch_number}: {stitch.abbreviation} cannot be made, as {reason}.",
        row,
        stitch_number,
    )


def work(chart: Chart) -> Fabric:
    """Work a chart loop by loop.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches in working order.

    Returns
    -------
    Fabric
        Both faces, (R, N) each, seen from their own side, and the back loops left open.

    Raises
    ------
    StitchError
        At the first stitch that cannot be made, naming its row and stitch.

    Examples
    --------
    >>> work(Chart.from_text('''
    ... |.
    ... ..
    ... ..
    ... ''')).front
    array([[False, False],
           [False,  True],
           [False, False]])
    """
    of_kind("chart", chart, Chart)
    hand = chart.hand
    hook = _Work(chart)
    for row, stitches in enumerate(chart.stitches):
        hook.work_row(row, stitches)
    cc = np.array([colour == "CC" for colour in chart.row_colours])
    front_rows = orientation.to_seen(hook.front_row, hand)
    back_rows = orientation.from_behind(orientation.to_seen(hook.back_row, hand))
    return Fabric(
        front=read_only(cc[front_rows]),
        back=read_only(cc[back_rows]),
        front_rows=read_only(front_rows + 1),
        back_rows=read_only(back_rows + 1),
        open_loops=read_only(np.argwhere(hook.back_free[:-1]) + 1),
        yarns=chart.yarns,
        hand=hand,
        name=chart.name,
    )
