"""How each stitch is made, move by move, and the loops of the column that it stands on.

A move says what to do, how many loops are on the hook after it, and which loop the hook goes into. The column is as
deep as a stitch reaches and one row more, so that a maker sees what lies below.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit.fabric.stitches import Chart, Stitch
from mosaickit.orientation import check_square

LoopSide = Literal["front", "back", "chain"]
LoopState = Literal["free", "worked into", "covered"]
_SIDES: tuple[LoopSide, ...] = ("front", "back")


class Loop(NamedTuple):
    """A loop of the column under a stitch: how many rows below it lies, and on which side.

    The foundation chain is taken as a whole, so its side is "chain".
    """

    below: int
    side: LoopSide


@dataclass(frozen=True)
class HookMove:
    """One move of the hook.

    Attributes
    ----------
    text : str
        What to do, in US terms.
    loops : int
        The loops on the hook after it.
    enters : Loop or None
        The loop that the hook goes into.
    """

    text: str
    loops: int
    enters: Loop | None = None


# ---- how each stitch is made -------------------------------------------------------------------------------

_CHAIN, _BACK_BELOW = Loop(1, "chain"), Loop(1, "back")
_BACK_TWO_BELOW, _FRONT_TWO_BELOW = Loop(2, "back"), Loop(2, "front")

TAKES: dict[Stitch, tuple[Loop, ...]] = {
    Stitch.SC: (_CHAIN,),
    Stitch.BLSC: (_BACK_BELOW,),
    Stitch.FLDC: (_FRONT_TWO_BELOW,),
    Stitch.TOG_BACK: (_BACK_BELOW, _BACK_TWO_BELOW),
    Stitch.TOG_FRONT: (_BACK_BELOW, _FRONT_TWO_BELOW),
}
"""The loops that each stitch takes, in the order in which the hook enters them."""

_SC_IN_BACK_LOOP = HookMove("Insert the hook under the back loop of the stitch below.", 1, _BACK_BELOW)


def _draw_up(loops: int) -> HookMove:
    return HookMove("Yarn over, draw up a loop.", loops)


def _through(count: int, loops: int) -> HookMove:
    return HookMove(f"Yarn over, draw through {count} loops.", loops)


MOVES: dict[Stitch, tuple[HookMove, ...]] = {
    Stitch.SC: (
        HookMove("Insert the hook into the next chain of the foundation.", 1, _CHAIN),
        _draw_up(2),
        _through(2, 1),
    ),
    Stitch.BLSC: (_SC_IN_BACK_LOOP, _draw_up(2), _through(2, 1)),
    Stitch.FLDC: (
        HookMove("Yarn over.", 2),
        HookMove(
            "In front of the work, insert the hook under the free front loop of the stitch two rows below.",
            2,
            _FRONT_TWO_BELOW,
        ),
        _draw_up(3),
        _through(2, 2),
        _through(2, 1),
    ),
    Stitch.TOG_BACK: (
        _SC_IN_BACK_LOOP,
        _draw_up(2),
        HookMove("Yarn over.", 3),
        HookMove(
            "On the wrong side, insert the hook under the unworked back loop of the stitch two rows below{strand}.",
            3,
            _BACK_TWO_BELOW,
        ),
        _draw_up(4),
        _through(2, 3),
        _through(3, 1),
    ),
    Stitch.TOG_FRONT: (
        _SC_IN_BACK_LOOP,
        _draw_up(2),
        HookMove("Yarn over.", 3),
        HookMove(
            "On the right side, insert the hook under the free front loop of the stitch two rows below.",
            3,
            _FRONT_TWO_BELOW,
        ),
        _draw_up(4),
        _through(2, 3),
        _through(3, 1),
    ),
}

STITCH_NOTES = {
    Stitch.FLDC: "Skip the stitch just behind it.",
    Stitch.TOG_FRONT: "Nothing is skipped.",
}
FIRM = "At the first and last stitch of a row work through both loops, not one, which keeps the edge firm."


def moves(stitch: Stitch) -> tuple[HookMove, ...]:
    """Give the moves of a stitch; one loop is on the hook before the first and after the last.

    Examples
    --------
    >>> [move.loops for move in moves(Stitch.TOG_BACK)]
    [1, 2, 3, 3, 4, 3, 1]
    """
    return tuple(HookMove(move.text.format(strand=""), move.loops, move.enters) for move in MOVES[stitch])


# ---- the column under a stitch -----------------------------------------------------------------------------


class Column(NamedTuple):
    """The stitches one, two and three rows below, None for the foundation chain, and "" for what is under it."""

    one: Stitch | Literal[""] | None
    two: Stitch | Literal[""] | None
    three: Stitch | Literal[""] | None


def column_at(stitches: NDArray[np.uint8], row: int, stitch: int) -> Column:
    """Find the column under a stitch; row and stitch from 0."""
    below = [row - 1, row - 2, row - 3]
    return Column(*(Stitch(int(stitches[r, stitch])) if r >= 0 else None if r == -1 else "" for r in below))


def hangs_down(stitch: Stitch) -> bool:
    """Whether a stitch comes down in front of the one just below it."""
    return _FRONT_TWO_BELOW in TAKES[stitch]


def state_of(side: LoopSide, above: Sequence[Stitch]) -> LoopState:
    """Tell how a loop of a stitch stands, from the stitches worked above it so far, the one just above first."""
    if side == "front" and above and hangs_down(above[0]):
        return "covered"
    taken = any(Loop(below, side) in TAKES[stitch] for below, stitch in enumerate(above[:2], 1))
    return "worked into" if taken else "free"


def states_of(column: Column) -> dict[Loop, LoopState]:
    """Tell which loops of the column are free, before the next stitch is worked."""
    found: dict[Loop, LoopState] = {}
    above: list[Stitch] = []
    for below, stitch in enumerate(column, 1):
        if isinstance(stitch, Stitch):
            found |= {Loop(below, side): state_of(side, above) for side in _SIDES}
            above.insert(0, stitch)
    return found


def loops_below(chart: Chart, row: int, stitch: int) -> dict[Loop, LoopState]:
    r"""Tell how the loops of up to three rows below a place stand, before its stitch is worked.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches that a hook can work.
    row, stitch : int
        The place, from 1.

    Returns
    -------
    dict from Loop to "free", "worked into" or "covered"
        A front loop is covered where a double crochet hangs over it.

    Raises
    ------
    OptionError
        If there is no such place.

    Examples
    --------
    >>> loops_below(Chart.from_text("...\n.|.\n...\n..."), 4, 2)[Loop(2, "back")]
    'free'
    """
    check_square(row, stitch, chart.shape)
    return states_of(column_at(chart.stitches, row - 1, stitch - 1))
