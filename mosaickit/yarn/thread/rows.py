"""Rows: the pieces of a chart laid end to end, one thread a row, and the yarn in each kind of stitch.

Working order throughout: x from the working edge along the row, y up the rows from the foundation chain's V, z towards
the viewer, in cm. A right-hander's work is the mirror image.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import of_kind, positive
from mosaickit.fabric import Chart
from mosaickit.gauge import Gauge
from mosaickit.motif import read_only
from mosaickit.orientation import Hand, Role
from mosaickit.yarn.lengths import YARN_OF_STITCH_WIDTH, StitchLengths
from mosaickit.yarn.settings import USUAL_YARN_SETTINGS, YarnSettings
from mosaickit.yarn.thread.curves import Points, length
from mosaickit.yarn.thread.ends import CARRIED, LOCK_END, START_FOOT
from mosaickit.yarn.thread.paths import Piece, curve, sizes
from mosaickit.yarn.usage import used_again

StrandKind = Literal["foundation", "carried", "tail"]

SQUEEZED = 0.6
"""The share of its free diameter that a soft yarn keeps where strands press on one another.

Wraps to the inch give a worsted yarn's free diameter, 2.4 mm for 200 m to 100 g; Peirce's formula for cotton packed in
cloth, d = 0.0374 mm times the root of the count in tex, gives 0.84 mm for the same yarn. Work lies between the two:
their geometric mean is 0.59 of the free diameter. No measurement of crochet was found.
"""


@dataclass(frozen=True, eq=False)
class RowThread:
    """The yarn of one row, from the working edge to the other.

    Attributes
    ----------
    points : float array, (n, 3)
        The yarn's centre line in cm; successive points are neighbours on it.
    pieces : tuple of Piece, N + 2 long
        Start chain, the stitches, lock.
    starts : int array, (N + 3,)
        Piece k lies on ``points[starts[k]:starts[k + 1] + 1]``; it shares its end with the next.
    """

    points: Points
    pieces: tuple[Piece, ...]
    starts: NDArray[np.int64]

    def __post_init__(self) -> None:
        read_only(self.points)
        read_only(self.starts)

    def of(self, stitch: int) -> Points:
        """Give the points of a stitch, from 1; 0 is the start chain and N + 1 the lock."""
        return self.points[self.starts[stitch] : self.starts[stitch + 1] + 1]

    @property
    def stitch(self) -> NDArray[np.int64]:
        """The stitch that each point belongs to, (n,): 0 for the start chain, N + 1 for the lock."""
        counts = np.diff(self.starts)
        counts[-1] += 1
        return np.repeat(np.arange(len(self.pieces)), counts)

    @property
    def length_cm(self) -> float:
        """The yarn from edge to edge."""
        return length(self.points)


@dataclass(frozen=True, eq=False)
class Strand:
    """Yarn that is no stitch of a row.

    Attributes
    ----------
    kind : "foundation", "carried" or "tail"
        What it is.
    row : int
        The row whose yarn it is, from 1; a carried strand comes from this row and is worked over two rows up, or climbs
        to that round.
    points : float array, (n, 3)
        Its centre line in cm.
    """

    kind: StrandKind
    row: int
    points: Points

    def __post_init__(self) -> None:
        read_only(self.points)

    @property
    def length_cm(self) -> float:
        """The yarn in it."""
        return length(self.points)


@dataclass(frozen=True, eq=False, repr=False)
class Thread:
    """The yarn of a chart as curves in space.

    Attributes
    ----------
    rows : tuple of RowThread, R long
        One thread a row, row 1 first.
    strands : tuple of Strand
        The foundation chain, which row 1 goes on from, carried strands and tails.
    width_cm, height_cm, yarn_cm : float
        A stitch's width, a row's height, the yarn's diameter in work.
    row_colours : tuple of "MC" and "CC", R long
        The colour of each row.
    hand : "right" or "left"
        The hand that held the hook.
    """

    rows: tuple[RowThread, ...]
    strands: tuple[Strand, ...]
    width_cm: float
    height_cm: float
    yarn_cm: float
    row_colours: tuple[Role, ...]
    hand: Hand

    @property
    def stitches(self) -> int:
        """The stitches of a row."""
        return len(self.rows[0].pieces) - 2

    @property
    def length_cm(self) -> float:
        """All the yarn."""
        return sum(row.length_cm for row in self.rows) + sum(strand.length_cm for strand in self.strands)

    def __repr__(self) -> str:
        return f"<Thread {len(self.rows)} rows, {self.length_cm / 100:.1f} m, yarn {10 * self.yarn_cm:.1f} mm>"


def _yarn_cm(gauge: Gauge, yarn_mm: float | None) -> float:
    of_kind("gauge", gauge, Gauge)
    if yarn_mm is None:
        return gauge.stitch_width_cm * YARN_OF_STITCH_WIDTH * SQUEEZED
    return positive("yarn_mm", yarn_mm, "mm") / 10 * SQUEEZED


def piece_length_cm(piece: Piece, width_cm: float, height_cm: float, yarn_cm: float) -> float:
    """Give the yarn in one piece, in cm: its curve's length."""
    return length(curve(piece, width_cm, height_cm, yarn_cm))


def lengths_of_thread(gauge: Gauge, yarn_mm: float | None = None) -> StitchLengths:
    """Measure the yarn in one stitch of each kind along its path.

    A piece runs from joint to joint, so it holds the V on top of its own square, and the same V is below every
    stitch: a stitch's length does not depend on its neighbours, nor on whether a carried strand lies under it, which
    only takes room that is there anyway. An sc in the foundation chain goes under its back loop and so is as long
    as a BLsc. A tog-f at an edge is worked through both loops: `thread_of` draws it so, but one length for each kind
    cannot tell it apart. It is longer by a tenth to a quarter of a BLsc, and a piece has two at most.

    Parameters
    ----------
    gauge : Gauge
        The stitch's width and the row's height.
    yarn_mm : float, optional
        The yarn's diameter in mm: 25.4 over the wraps to the inch; in work it is squeezed to `SQUEEZED` of that. A
        third of a stitch's width if not given. Of use while a row is twice as high as the yarn is thick.

    Returns
    -------
    StitchLengths
        For ``YarnSettings(lengths=...)``.

    Raises
    ------
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> lengths = lengths_of_thread(Gauge(16, 18, over=4, unit="in"), yarn_mm=2)
    >>> lengths.chain < lengths.sc == lengths.blsc < lengths.fldc < lengths.tog_back
    True
    """
    yarn_cm = _yarn_cm(gauge, yarn_mm)
    size = gauge.stitch_width_cm, gauge.row_height_cm, yarn_cm
    chain, sc, blsc, fldc, tog_back, tog_front = (
        piece_length_cm(piece, *size)
        for piece in (Piece.CHAIN, Piece.SC, Piece.BLSC, Piece.FLDC, Piece.TOG_BACK, Piece.TOG_FRONT)
    )
    return StitchLengths(chain, sc, blsc, fldc, tog_back, tog_front)


def thread_of(chart: Chart, gauge: Gauge, *, yarn_settings: YarnSettings = USUAL_YARN_SETTINGS) -> Thread:
    """Lay the yarn of a chart as curves in space.

    Rounds are laid out flat, as the rows that they are drawn as; carried yarn climbs from round to round at the join,
    at the far edge. The join itself is drawn as a lock, which is a seventh to a third shorter than the chain that
    `yarn_usage` finds for either.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches in working order. Whether a hook can make them is not asked: `work` tells.
    gauge : Gauge
        The size of a stitch.
    yarn_settings : YarnSettings
        Whose `yarn_mm`, `between_rows` and `tail_cm` it follows; nothing else of it counts. In work yarn is squeezed to
        `SQUEEZED` of its diameter. Strands of yarn as thick as is taken without `yarn_mm`, a third of a stitch's
        width, overlap in places.

    Returns
    -------
    Thread
        R rows, and the foundation chain, carried strands and tails.

    Raises
    ------
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> chart = Chart.from_text('''
    ... |.
    ... ..
    ... ..
    ... ''')
    >>> thread = thread_of(chart, Gauge(16, 18, over=4, unit="in"), yarn_settings=YarnSettings(yarn_mm=0.6))
    >>> [piece.name for piece in thread.rows[2].pieces]
    ['START', 'BLSC', 'FLDC', 'LOCK']
    >>> thread.rows[2].points[0].round(2)
    array([-0.22,  1.13, -0.02])
    """
    of_kind("chart", chart, Chart)
    of_kind("yarn_settings", yarn_settings, YarnSettings)
    yarn_cm = _yarn_cm(gauge, yarn_settings.yarn_mm)
    loom = _Loom(chart, gauge.stitch_width_cm, gauge.row_height_cm, yarn_cm)
    tail = yarn_settings.tail_cm
    rows = tuple(loom.row(row) for row in range(chart.shape[0]))
    carried = () if yarn_settings.between_rows == "cut" else loom.used_again()
    strands = [loom.foundation(rows[0])]
    strands += [loom.carried(row, rows) for row in carried]
    strands += [loom.tail(row, rows[row], tail, -1) for row in range(len(rows)) if row - 2 not in carried]
    strands += [loom.tail(row, rows[row], tail, 1) for row in range(len(rows)) if row not in carried]
    return Thread(rows, tuple(strands), loom.width, loom.height, loom.yarn, chart.row_colours, chart.hand)


@dataclass(frozen=True)
class _Loom:
    """A chart and its sizes in cm; rows are counted from 0."""

    chart: Chart
    width: float
    height: float
    yarn: float

    def at(self, key: tuple[float, ...], row: int, stitch: float = 0) -> Points:
        """Give the point of a key in the square of a row and a stitch, (3,)."""
        point: Points = np.array(key) @ sizes(self.width, self.height, self.yarn)
        return point + self.corner(row, stitch)

    def corner(self, row: int, stitch: float) -> Points:
        return np.array([stitch * self.width, row * self.height, 0.0])

    @cached_property
    def curves(self) -> dict[Piece, Points]:
        return {piece: curve(piece, self.width, self.height, self.yarn) for piece in Piece}

    def row(self, row: int) -> RowThread:
        curves = self.curves
        pieces = (Piece.START, *self.stitches(row), Piece.LOCK)
        parts = [curves[piece][:-1] + self.corner(row, max(number - 1, 0)) for number, piece in enumerate(pieces)]
        starts = np.cumsum([0, *map(len, parts)])
        return RowThread(np.concatenate([*parts, [self.at(LOCK_END, row, len(pieces) - 2)]]), pieces, starts)

    def stitches(self, row: int) -> list[Piece]:
        """Give the pieces of a row's stitches; rounds have no edge that must be firm."""
        pieces = [Piece(stitch) for stitch in self.chart.stitches[row].tolist()]
        for edge in () if self.chart.in_the_round else (0, -1):
            if pieces[edge] == Piece.TOG_FRONT:
                pieces[edge] = Piece.EDGE_TOG_FRONT
        return pieces

    def foundation(self, first: RowThread) -> Strand:
        """Chain from the far edge to the working edge; the work is then turned about, and row 1 goes on from it."""
        stitches = self.chart.shape[1]
        chain = curve(Piece.CHAIN, self.width, self.height, self.yarn)
        chains = [chain[:-1] + self.corner(-1, number) for number in range(stitches)]
        end = chain[-1:] + self.corner(-1, stitches - 1)
        points = np.concatenate([*chains, end]) * [-1, 1, -1] + self.corner(0, stitches)
        over = [self.at((0, -0.1, 0, 0.4, 0.65), 0), self.at((-0.2, 0, 0, 0.9, 0.3), 0)]
        return Strand("foundation", 1, np.concatenate([points, over, first.points[:1]]))

    def used_again(self) -> tuple[int, ...]:
        """Give the rows whose yarn is carried on, if none is cut."""
        yarns = tuple(self.chart.yarns.at(row, colour) for row, colour in enumerate(self.chart.row_colours, 1))
        return tuple(np.flatnonzero(used_again(yarns)).tolist())

    def carried(self, row: int, rows: tuple[RowThread, ...]) -> Strand:
        """Bring the yarn up the side and back along the row above, where its next row works over it.

        In the round it climbs at the join. Laid out flat that is the far edge, where the next of its rounds starts too.
        """
        if self.chart.in_the_round:
            start = rows[row + 2].points[0] + self.corner(0, self.chart.shape[1])
            return Strand("carried", row + 1, np.stack([rows[row].points[-1], start]))
        far = self.at(CARRIED, row + 2, self.chart.shape[1] + 0.9)
        near = self.at(CARRIED, row + 2, START_FOOT[0])
        return Strand("carried", row + 1, np.stack([rows[row].points[-1], far, near, rows[row + 2].points[0]]))

    def tail(self, row: int, thread: RowThread, tail_cm: float, side: Literal[-1, 1]) -> Strand:
        end = thread.points[0 if side < 0 else -1]
        return Strand("tail", row + 1, np.stack([end, end + np.array([side * tail_cm, 0, 0])]))
