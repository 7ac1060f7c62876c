"""The column under a stitch, drawn from its side: what stands, what is on the hook, and where the hook goes in.

Classes are those of `columns`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from mosaickit.fabric import Column, HookMove, Loop, Stitch, states_of
from mosaickit.guiding.columns import ColumnFrame, cord

COLUMN_VIEW_BOX = "-96 0 220 276"
_FRAME = ColumnFrame(top=86, pitch=58, reach=16, dip=18, bend=30, ring=6)  # row 0 is that of the new stitch
_HOOK_Y, _FIRST_X, _APART = 30, -44, 17  # the hook, its tip at the left, and where loops hang on it


def column_picture(column: Column, labels: list[str]) -> str:
    """Draw the column under a stitch, front at the left: the body of an SVG."""
    drawn = ""
    for below, stitch in reversed([*enumerate(column, 1)]):
        if stitch is None:
            drawn += _FRAME.chain(below)
            drawn += _label(_FRAME.y(below), labels[4])
        elif isinstance(stitch, Stitch):
            drawn += cord(_FRAME.stitch(stitch, below), below)
            if below < 3:
                drawn += _label(_FRAME.y(below), labels[1 + below])
    ends = f'<text x="-92" y="{_FRAME.top - 24}">{labels[0]}</text>'
    ends += f'<text x="120" y="{_FRAME.top - 24}" text-anchor="end">{labels[1]}</text>'
    return drawn + _FRAME.rings(states_of(column)) + ends


def _label(y: int, words: str) -> str:
    return f'<text x="120" y="{y + 38}" text-anchor="end">{words}</text>'


def _hook(loops: int) -> str:
    """Draw the hook with so many loops of yarn on it."""
    bar = f'<path class="mk-hook" d="M120 {_HOOK_Y}H-62q-8 0-8 6 0 5 7 4"/>'
    each = (f"M{_FIRST_X + _APART * n} {_HOOK_Y - 11}q7 11 0 22q-7-11 0-22z" for n in range(loops))
    return bar + cord("".join(each), 0)


def _way_in(loop: Loop) -> str:
    """Draw how the hook goes into a loop: an arrow, and the loop marked."""
    x, y = _FRAME.x(loop.side), _FRAME.y(loop.below)
    if loop.side == "chain":
        path = f"M-70 {y - 22}Q-24 {y - 20} 0 {y - 2}T30 {y + 18}m-9-2l9 2-2-9"
    elif loop == Loop(1, "back"):  # down between the two loops, and under the back loop
        path = f"M-70 {y - 26}Q-8 {y - 30} 0 {y - 2}Q4 {y + 16} 44 {y + 14}m-7-5l7 5-7 5"
    else:  # from its own side of the work under the loop, and up between the two
        out = 78 if loop.side == "back" else -78
        path = f"M{out} {y + 26}Q{out // 2} {y + 26} {x} {y + 11}Q0 {y + 4} 0 {y - 20}m-5 7l5-7 5 7"
    ring = f'<circle class="mk-target" cx="{x}" cy="{y}" r="9"/>'
    return f'{ring}<path class="mk-halo" d="{path}"/><path class="mk-way" d="{path}"/>'


def move_pictures(stitch: Stitch, moves: Iterable[HookMove]) -> Iterator[str]:
    """Draw what each move of a stitch adds to the column: hook, loops, the way in, and the yarn drawn up so far."""
    on_hook: list[list[Loop]] = [[]]  # nearest the tip first: the loops of the fabric that each hangs on
    entered: list[Loop] = []
    for move in moves:
        if move.enters is not None:
            entered = [move.enters]
        elif move.loops > len(on_hook):  # the yarn goes over; just after the hook went in it is drawn up
            on_hook.insert(0, entered)
            entered = []
        else:  # drawn through the loops nearest the tip
            through = len(on_hook) - move.loops + 1
            on_hook[:through] = [[loop for one in on_hook[:through] for loop in one]]
        legs = "".join(
            _FRAME.leg(loop, (_FIRST_X + _APART * number, _HOOK_Y + 11), around=loop.below > 1)
            for number, loops in enumerate(on_hook)
            for loop in loops
        )
        made = cord(_FRAME.stitch(stitch, 0), 0) if len(on_hook) == 1 and on_hook[0] else cord(legs, 0) if legs else ""
        yield made + _hook(move.loops) + (_way_in(move.enters) if move.enters else "")
