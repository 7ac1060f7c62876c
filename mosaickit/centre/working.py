"""The hook in rounds: works a chart from the centre loop by loop and shows what comes out.

It knows nothing of pictures, sides or rules. Round 1 is worked into a ring. Each later round follows the stitches of
the round below: one stitch on each, three on a corner stitch, whose middle one is the new corner. From that alone
follows what each stitch stands on. A BLsc takes the back loop below it (the three of a corner share one, as in a
plain square); an FLdc takes the front loop of what lies below that, if it is free, hangs over the stitch between, and
leaves that stitch's back loop open. What the loops do not decide is refused:

- an FLdc as one of the three in a corner: two other stitches are worked into the very stitch that it would skip, so
  there is no saying what it covers;
- a second FLdc in one front loop, which may happen at corner stitches only, where two sides reach for it;
- an FLdc into the ring at the centre, which has no front loop.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit import svg
from mosaickit.centre.rings import where
from mosaickit.centre.stitches import CentreChart
from mosaickit.colours import Yarns
from mosaickit.errors import StitchError, number_of, of_kind
from mosaickit.fabric import Stitch
from mosaickit.motif import read_only

IN_A_CORNER = 3
"""Three stitches are worked into a corner stitch: the commonest corner ("Borders and Edgings", crochetcabana), and the
one that later rounds of sc take ("Going round the bend", Simply Crochet, 2017)."""


@dataclass(frozen=True, eq=False, repr=False)
class CentreFabric:
    """What the hook made from the centre. Experimental: never tried on wool.

    Attributes
    ----------
    front : bool array, (2n + 1, 2n + 1)
        The front as seen: True where a CC yarn shows. (The back shows each round in its own colour.)
    front_rounds : int array, (2n + 1, 2n + 1)
        The round whose yarn shows at each square; that of the centre is round 1, which is worked into it.
    open_loops : int array, (K, 2)
        Round and stitch, from 1, of every back loop below the last round that was not worked into: those behind FLdc.
    yarns : Yarns
        The yarns that play MC and CC, by round.
    name : str
        The chart's name.
    """

    front: NDArray[np.bool_]
    front_rounds: NDArray[np.int64]
    open_loops: NDArray[np.int64]
    yarns: Yarns = field(default_factory=Yarns)
    name: str = ""

    @property
    def summary(self) -> str:
        """One line: name, size, open back loops, and that it is experimental."""
        name = f"{self.name}: " if self.name else ""
        loops = number_of(len(self.open_loops), "open back loop")
        side = len(self.front)
        return f"{name}{side} × {side} squares worked from the centre, {loops} (experimental)"

    def __repr__(self) -> str:
        return f"<CentreFabric {self.summary}>"

    def _repr_svg_(self) -> str:
        return svg.notebook_picture(
            self.front,
            lambda window: svg.yarn_colours(self.front[window], self.front_rounds[window], self.yarns),
            title=self.summary,
        )


class _Worked(NamedTuple):
    """A round on the hook's way, one element for each of its stitches."""

    below: NDArray[np.intp]
    """Which stitch of the round below it stands on, from 0."""
    corner: NDArray[np.bool_]
    """Whether it is a corner stitch."""
    grouped: NDArray[np.bool_]
    """Whether it is one of three on one stitch."""
    front_free: NDArray[np.bool_]
    back_free: NDArray[np.bool_]
    shows: NDArray[np.int64]
    """The round whose yarn is seen there."""


def work(chart: CentreChart) -> CentreFabric:
    """Work a chart from the centre, loop by loop. Experimental: never tried on wool.

    Parameters
    ----------
    chart : CentreChart
        8i stitches for round i, in working order.

    Returns
    -------
    CentreFabric
        The front, (2n + 1, 2n + 1) as seen, and the back loops left open.

    Raises
    ------
    StitchError
        At the first stitch that cannot be made or whose place the loops do not tell, naming its round and stitch.

    Examples
    --------
    >>> import numpy as np
    >>> work(CentreChart((np.full(8, Stitch.SC), np.full(16, Stitch.BLSC)), ("MC", "CC"))).front
    array([[ True,  True,  True,  True,  True],
           [ True, False, False, False,  True],
           [ True, False, False, False,  True],
           [ True, False, False, False,  True],
           [ True,  True,  True,  True,  True]])
    """
    of_kind("chart", chart, CentreChart)
    worked: list[_Worked] = []
    for number, stitches in enumerate(chart.rounds, 1):
        worked.append(_follow(worked[-1]) if worked else _in_the_ring())
        _refuse(chart, number, _first_refused(number, stitches, worked))
        if number > 1:
            _use_loops(number, stitches, worked)
    shows = chart.on_picture([of_round.shows for of_round in worked], centre=1)
    cc = np.array([colour == "CC" for colour in chart.round_colours])
    left = [
        np.column_stack([np.full(len(stitches), number), stitches + 1])
        for number, of_round in enumerate(worked[:-1], 1)
        for stitches in [np.flatnonzero(of_round.back_free)]
    ]
    return CentreFabric(
        front=read_only(cc[shows - 1]),
        front_rounds=read_only(shows),
        open_loops=read_only(np.concatenate([np.zeros((0, 2), dtype=np.int64), *left])),
        yarns=chart.yarns,
        name=chart.name,
    )


def _new(below: NDArray[np.intp], corner: NDArray[np.bool_], grouped: NDArray[np.bool_], number: int) -> _Worked:
    count = len(below)
    free = np.ones(count, dtype=np.bool_)
    return _Worked(below, corner, grouped, free, free.copy(), np.full(count, number))


def _in_the_ring() -> _Worked:
    """Begin with 8 stitches in a ring; every second one, from the second, is taken as a corner stitch."""
    corner = np.arange(8) % 2 == 1
    return _new(np.zeros(8, dtype=np.intp), corner, np.zeros(8, dtype=np.bool_), 1)


def _follow(before: _Worked) -> _Worked:
    """Go once round the stitches of the round below."""
    below = np.repeat(np.arange(len(before.corner)), np.where(before.corner, IN_A_CORNER, 1))
    grouped = before.corner[below]
    # the middle of three has a neighbour on the same stitch on either side
    corner = grouped & (np.roll(below, 1) == below) & (np.roll(below, -1) == below)
    return _new(below, corner, grouped, int(before.shows[0]) + 1)


def _first_refused(number: int, stitches: NDArray[np.uint8], worked: list[_Worked]) -> tuple[int, str] | None:
    """Find the first stitch of a round that cannot be made, from 0, and why."""
    first = number == 1
    misplaced = stitches != Stitch.SC if first else stitches == Stitch.SC
    why = "round 1 is sc into the ring at the centre" if first else "only round 1 is worked into the ring at the centre"
    found = [(misplaced, why)]
    fldc = stitches == Stitch.FLDC
    if number == 2:
        found.append((fldc, "two rounds below it is the ring at the centre, which has no front loop"))
    elif number > 2:
        here, before, two_before = worked[-1], worked[-2], worked[-3]
        under = before.below[here.below]
        loop = under[fldc]
        again = np.zeros(len(fldc), dtype=np.bool_)
        again[np.flatnonzero(fldc)[_came_before(loop)]] = True
        found += [
            (fldc & here.grouped, "it is one of three in a corner stitch, and loops do not tell what it would cover"),
            (fldc & ~two_before.front_free[under], "the front loop two rounds below it lies under a double crochet"),
            (again, "the front loop of the corner stitch two rounds below it is taken already"),
        ]
    refused = [(int(mask.argmax()), why) for mask, why in found if mask.any()]
    return min(refused, key=lambda one: one[0], default=None)


def _came_before(values: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Tell which of several numbers stood among them before."""
    first = np.unique(values, return_index=True)[1]
    again = np.ones(len(values), dtype=np.bool_)
    again[first] = False
    return again


def _refuse(chart: CentreChart, number: int, refused: tuple[int, str] | None) -> None:
    if refused is not None:
        at, reason = refused
        stitch = Stitch(int(chart.rounds[number - 1][at]))
        place = f"Round {number}, stitch {at + 1} ({where(number, at + 1, chart.hand)})"
        raise StitchError(f"{place}: {stitch.abbreviation} cannot be made, as {reason}.", number, at + 1)


def _use_loops(number: int, stitches: NDArray[np.uint8], worked: list[_Worked]) -> None:
    """Take the loops of a round, all of which are there."""
    here, before = worked[-1], worked[-2]
    fldc = stitches == Stitch.FLDC
    before.back_free[here.below[~fldc]] = False
    if fldc.any():
        behind = here.below[fldc]
        worked[-3].front_free[before.below[behind]] = False
        before.front_free[behind] = False  # it hangs in front of the stitch just below it
        before.shows[behind] = number
