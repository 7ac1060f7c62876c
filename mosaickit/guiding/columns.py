"""How a column of stitches is drawn from its side, front at the left: stitches, their loops, and how each loop stands.

Rows are counted down from the highest, which has number 0. Everything is SVG text without a colour of its own: classes
name the yarns by that number, and how each loop stands; the page's style gives them colours.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from mosaickit.fabric import TAKES, Loop, LoopSide, LoopState, Stitch

RINGS: dict[LoopState, str] = {"free": "mk-free", "worked into": "mk-taken", "covered": "mk-covered"}
"""The class of the ring around a loop, by how it stands."""


@dataclass(frozen=True)
class ColumnFrame:
    """The measures of such a drawing, in its own units, and what is drawn with them.

    Attributes
    ----------
    top, pitch : int
        Where the loops of row 0 lie, and how far rows lie apart.
    reach, dip : int
        Half the width of a stitch, and how deep the V of its two loops is.
    bend : int
        How far below its upper end a leg still runs straight down.
    ring : float
        The radius of the ring around a loop.
    """

    top: int
    pitch: int
    reach: int
    dip: int
    bend: int
    ring: float

    def y(self, row: int) -> int:
        """Give the height at which the loops of a row lie."""
        return self.top + self.pitch * row

    def x(self, side: LoopSide) -> int:
        """Give where a loop lies across."""
        return {"front": -self.reach, "chain": 0, "back": self.reach}[side]

    def leg(self, foot: Loop, end: tuple[int, int], *, around: bool) -> str:
        """Draw the way from a loop up to a point: straight, or on the loop's side around the stitch between them."""
        x, (right, top) = self.x(foot.side), end
        out = 3 * x if around else x
        return f"M{x} {self.y(foot.below)}C{out} {self.y(foot.below) - 24} {out} {top + self.bend} {right} {top}"

    def stitch(self, stitch: Stitch, row: int) -> str:
        """Draw a stitch: its legs up from the loops it takes, and the V of its own two; the path alone."""
        top, meet = self.y(row), (0, self.y(row) + self.dip)
        feet = [(Loop(row + loop.below, loop.side), loop.below > 1) for loop in TAKES[stitch]]
        legs = "".join(self.leg(foot, meet, around=around) for foot, around in feet)
        return f"{legs}M{-self.reach} {top}L0 {top + self.dip}L{self.reach} {top}"

    def chain(self, row: int) -> str:
        """Draw the foundation chain, from its end."""
        shape = f'cx="0" cy="{self.y(row)}" rx="{self.reach + 4}" ry="7"'
        return f'<ellipse class="mk-edge" {shape}/><ellipse class="mk-yarn{row}" {shape}/>'

    def rings(self, states: Mapping[Loop, LoopState]) -> str:
        """Mark how loops stand."""
        return "".join(
            f'<circle class="{RINGS[state]}" cx="{self.x(loop.side)}" cy="{self.y(loop.below)}" r="{self.ring:g}"/>'
            for loop, state in states.items()
        )


def cord(path: str, row: int) -> str:
    """Draw yarn along a path: an edge that stands out on any ground, and the yarn's colour within it."""
    return f'<path class="mk-edge" d="{path}"/><path class="mk-yarn{row}" d="{path}"/>'
