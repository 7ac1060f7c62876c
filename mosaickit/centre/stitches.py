"""The chart of a square from the centre: the stitches of each round in working order, and how a picture becomes one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, fields
from functools import cached_property
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mosaickit import svg
from mosaickit.centre.drawing import rounds_svg
from mosaickit.centre.judging import check
from mosaickit.centre.rings import join_line, outward, places_of_round, quarter_turns, where
from mosaickit.centre.square import CentreOut
from mosaickit.colours import Yarns, checked_name
from mosaickit.errors import ChartError, UnworkableError, of_kind, one_of, shortly, true_or_false
from mosaickit.fabric import Stitch
from mosaickit.motif import checked_size, read_only
from mosaickit.orientation import HANDS, ROLES, Hand, Role

KINDS_FROM_CENTRE = (Stitch.SC, Stitch.BLSC, Stitch.FLDC)
"""The stitches of such a square: its back is left open, as no closed back was worked out."""


def _round(number: int, given: object) -> NDArray[np.uint8]:
    """Return the stitches of a round, read-only, or say what is wrong with them."""
    stitches = np.asarray(given)
    if stitches.ndim != 1 or stitches.dtype.kind not in "iu" or len(stitches) != 8 * number:
        raise ChartError(
            f"Round {number} must be a sequence of {8 * number} stitches, 8 more than the round below; "
            f"got {stitches.dtype} of shape {stitches.shape}."
        )
    wrong = np.flatnonzero(~np.isin(stitches, KINDS_FROM_CENTRE))
    if len(wrong):
        kinds = ", ".join(kind.abbreviation for kind in KINDS_FROM_CENTRE)
        raise ChartError(
            f"Round {number}, stitch {wrong[0] + 1}: a square from the centre is made of {kinds}; "
            f"got stitch number {stitches[wrong[0]]}."
        )
    return read_only(stitches.astype(np.uint8))


@dataclass(frozen=True, eq=False, repr=False)
class CentreChart:
    """Stitches of a square worked from the centre, round by round. Experimental: never tried on wool.

    Round 1 is 8 sc in a ring. Every later round works three stitches into each corner stitch of the round below, the
    middle one of which is the new corner stitch, and one into every other, so it has 8 stitches more. It starts in the
    middle of the top side, is joined, and its right side always faces the maker.

    Parameters
    ----------
    rounds : sequence of arrays of Stitch
        Round i, from 1, has 8i stitches in working order.
    round_colours : sequence of "MC" and "CC"
        The colour of each round, round 1 first; the two alternate.
    yarns : Yarns
        The yarns that play MC and CC, by round.
    hand : "right" or "left"
        The hand that holds the hook.
    name : str
        One line, may be empty.

    Raises
    ------
    ChartError
        If a round has another count, or holds another stitch than sc, BLsc and FLdc; if there is not one colour a
        round, or two rounds running have the same.
    """

    rounds: tuple[NDArray[np.uint8], ...]
    round_colours: tuple[Role, ...]
    yarns: Yarns = field(default_factory=Yarns)
    hand: Hand = "right"
    name: str = ""

    def __post_init__(self) -> None:
        given: object = self.rounds
        if not isinstance(given, Iterable):
            raise ChartError(f"`rounds` must be a sequence of rounds of stitches; got {shortly(given)}.")
        rounds = tuple(_round(number, stitches) for number, stitches in enumerate(given, 1))
        if not rounds:
            raise ChartError("A chart from the centre needs at least 1 round; got none.")
        checked_size(2 * len(rounds) + 1, 2 * len(rounds) + 1)
        named: object = self.round_colours
        colours: tuple[Any, ...] = tuple(named) if isinstance(named, Iterable) else ()
        if len(colours) != len(rounds) or any(not isinstance(one, str) or one not in ROLES for one in colours):
            raise ChartError(
                f"`round_colours` must name the colour of each of {len(rounds)} rounds, 'MC' or 'CC'; "
                f"got {shortly(named)}."
            )
        same = [number for number, (one, two) in enumerate(pairwise(colours), 2) if one == two]
        if same:
            raise ChartError(
                f"Rounds {same[0] - 1} and {same[0]} are both in {colours[same[0] - 1]}: the two colours alternate."
            )
        of_kind("yarns", self.yarns, Yarns)
        one_of("hand", self.hand, HANDS)
        checked_name("A chart's name", self.name)
        object.__setattr__(self, "rounds", rounds)
        object.__setattr__(self, "round_colours", colours)

    @property
    def side(self) -> int:
        """The squares of a side of the picture, 2n + 1."""
        return 2 * len(self.rounds) + 1

    @property
    def summary(self) -> str:
        """One line: name, rounds, squares, hand, and that it is experimental."""
        name = f"{self.name}: " if self.name else ""
        rounds = f"{len(self.rounds)} round{'s' * (len(self.rounds) > 1)} from the centre"
        hand = ", left-handed" if self.hand == "left" else ""
        size = f"{self.side} × {self.side} squares, round 1 in {self.round_colours[0]}"
        return f"{name}{rounds}, {size}{hand} (experimental)"

    @cached_property
    def as_seen(self) -> NDArray[np.int64]:
        """The stitch of each square of the picture, (2n + 1, 2n + 1); the centre, which has none, as BLsc."""
        return read_only(self.on_picture(self.rounds, centre=Stitch.BLSC))

    @cached_property
    def front_rounds(self) -> NDArray[np.int64]:
        """The round whose yarn each square of the front shows, (2n + 1, 2n + 1) as seen; the centre that of round 1.

        A quick look that refuses nothing; the hook is the witness.
        """
        shown = [np.full(8 * number, number) for number in range(1, len(self.rounds) + 1)]
        for number, outer in enumerate(self.rounds[1:], 1):
            shown[number - 1] += outer[outward(number)] == Stitch.FLDC
        return read_only(self.on_picture(shown, centre=1))

    @property
    def turns(self) -> NDArray[np.int64]:
        """How the stitch of each square is turned, (2n + 1, 2n + 1) as seen: quarter turns against the clock."""
        return quarter_turns(len(self.rounds))

    @property
    def join(self) -> int:
        """Where rounds are joined: the line between their last and first stitches, in squares from the left."""
        return join_line(len(self.rounds), self.hand)

    def place(self, number: int, stitch: int) -> str:
        """Say where a stitch of a round, both from 1, lies: on which side, or in which corner."""
        return where(number, stitch, self.hand)

    def on_picture(self, values: Sequence[ArrayLike], centre: int) -> NDArray[np.int64]:
        """Lay a number for each stitch, by round, on the squares of the picture, (2n + 1, 2n + 1) as seen."""
        n = len(self.rounds)
        laid = np.full((self.side, self.side), centre, dtype=np.int64)
        for number, of_round in enumerate(values, 1):
            laid[places_of_round(n, number, self.hand)] = of_round
        return laid

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, CentreChart):
            return NotImplemented
        return self._about() == other._about()

    def __hash__(self) -> int:
        return hash(self._about())

    def _about(self) -> tuple[object, ...]:
        stitches = b"".join(of_round.tobytes() for of_round in self.rounds)
        return (stitches, self.round_colours, self.yarns, self.hand, self.name)

    def __setstate__(self, state: dict[str, Any]) -> None:
        self.__dict__.update(state)
        for of_round in self.rounds:
            of_round.flags.writeable = False

    def __getstate__(self) -> dict[str, Any]:
        # what is worked out on use stays behind
        return {each.name: self.__dict__[each.name] for each in fields(self)}

    def __repr__(self) -> str:
        return f"<CentreChart {self.summary}>"

    def _repr_svg_(self) -> str:
        return self.drawn()

    def drawn(self, *, whole: bool = False, filled: bool = True) -> str:
        """Draw the chart as an `svg` element.

        Parameters
        ----------
        whole : bool
            Whether all rounds are drawn; otherwise a large chart is cut to its first ones.
        filled : bool
            Whether squares have the colours of their yarns; otherwise regions of CC are outlined, and thin lines tell
            up to five yarns apart, for paper and little ink.
        """
        true_or_false("filled", filled)
        is_cc = np.array([colour == "CC" for colour in self.round_colours])[self.front_rounds - 1]
        index, colours = svg.yarn_colours(is_cc, self.front_rounds, self.yarns)
        firsts = [self.yarns.of(role)[0][1].colour for role in ROLES]
        return rounds_svg(
            self.as_seen,
            index,
            colours,
            hand=self.hand,
            title=self.summary,
            whole=true_or_false("whole", whole),
            unfilled=None if filled else (is_cc, svg.patterns_of(colours, firsts)),
        )


def place_stitches(square: CentreOut) -> tuple[NDArray[np.uint8], ...]:
    """Place the stitches of a picture, round by round, without asking whether it can be worked.

    What is overlaid in the last round, and the centre, cannot be covered by anything and is left out; a picture that
    cannot be worked gives stitches that the hook refuses, or another picture.
    """
    n, hand = square.rounds, square.hand
    rounds = [np.full(8 * number, Stitch.BLSC, dtype=np.uint8) for number in range(1, n + 1)]
    rounds[0][:] = Stitch.SC
    for number in range(1, n):
        overlaid = square.overlaid[places_of_round(n, number, hand)]
        rounds[number][outward(number)[overlaid]] = Stitch.FLDC
    return tuple(rounds)


def chart(square: CentreOut) -> CentreChart:
    """Turn a square picture into the stitches of its rounds. Experimental: never tried on wool.

    Parameters
    ----------
    square : CentreOut
        A picture that can be worked from the centre.

    Returns
    -------
    CentreChart
        8i stitches for round i, in working order.

    Raises
    ------
    UnworkableError
        If the picture cannot be worked; holds the report of `mk.centre.check`.

    Examples
    --------
    >>> from mosaickit.motif import Motif
    >>> chart(CentreOut(Motif.from_text('''
    ... .....
    ... .###.
    ... .###.
    ... .###.
    ... .....
    ... ''', first="CC")))
    <CentreChart 2 rounds from the centre, 5 × 5 squares, round 1 in CC (experimental)>
    """
    of_kind("square", square, CentreOut)
    report = check(square)
    if not report.ok:
        raise UnworkableError(
            "This picture cannot be worked from the centre; `mk.centre.nearest` finds the nearest that can. What is "
            f"wrong: {report.errors_in_words}",
            report,
        )
    motif = square.motif
    return CentreChart(place_stitches(square), square.round_colours, motif.yarns, square.hand, motif.name)
