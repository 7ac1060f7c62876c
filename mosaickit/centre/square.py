"""The square: a picture that is meant to be worked from its centre, and which of its squares are overlaid."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation, svg
from mosaickit.centre.rings import ring_numbers
from mosaickit.colours import Yarns
from mosaickit.errors import MotifError, OptionError, of_kind, one_of, whole_number
from mosaickit.motif import Motif, fits_a_screen, read_only
from mosaickit.orientation import HANDS, Hand, Role

EXPERIMENTAL = "Experimental: worked out from loops, never tried on wool."
"""What everything that is shown of such a square says."""


@dataclass(frozen=True, repr=False)
class CentreOut:
    """A picture to be worked from the centre outward, in rounds. Experimental: never tried on wool.

    Round 1 is worked into a ring, which is the centre square, in the yarn of round 1. Round i makes ring i of the
    picture, 8i squares. The colours of the rounds alternate, and the last may be of either colour.

    Parameters
    ----------
    motif : Motif
        A square picture of an odd side, 3 × 3 or more. Its `first` is the colour of round 1, and its yarns change by
        rounds: "from row 9" is from round 9. It need not be workable: `check` reports.
    hand : "right" or "left"
        The hand that holds the hook: a right-hander works each round against the clock, a left-hander with it.

    Raises
    ------
    MotifError
        If the picture is not square, its side is even or below 3, or a yarn starts after the last round.
    OptionError
        If an argument is of another kind.

    Examples
    --------
    >>> CentreOut(Motif.from_text('''
    ... ###
    ... ###
    ... ###
    ... ''', first="CC"))
    <CentreOut 3 × 3 squares, 1 round from the centre, round 1 in CC (experimental)>
    ###
    ###
    ###
    """

    motif: Motif
    hand: Hand = "right"

    def __post_init__(self) -> None:
        of_kind("motif", self.motif, Motif)
        one_of("hand", self.hand, HANDS)
        rows, columns = self.motif.shape
        if rows != columns or rows % 2 == 0 or rows < 3:
            raise MotifError(
                "A picture worked from the centre must be square with an odd side of 3 or more, as 5 × 5 or 41 × 41, "
                f"so that it has a centre square; got {rows} × {columns}. Crop or pad it."
            )
        yarns = self.motif.yarns
        last = max(yarns.mc[-1][0], yarns.cc[-1][0])
        if last > self.rounds:
            raise MotifError(
                "Worked from the centre, yarns change by rounds: their row numbers must be those of rounds, 1 to "
                f"{self.rounds} for a picture of {rows} × {columns}; got a yarn from {last} on."
            )

    @property
    def rounds(self) -> int:
        """How many rounds there are, n, in a picture of 2n + 1 rows and columns."""
        return len(self.motif.grid) // 2

    @property
    def round_colours(self) -> tuple[Role, ...]:
        """The colour of each round, round 1 first."""
        return tuple(orientation.role_of_row(number, self.motif.first) for number in range(1, self.rounds + 1))

    @cached_property
    def ring_is_cc(self) -> NDArray[np.bool_]:
        """Which squares are worked in CC, (2n + 1, 2n + 1) as seen; the centre is worked in the yarn of round 1."""
        cc = orientation.contrast_rows(self.rounds, self.motif.first)
        return read_only(cc[np.maximum(ring_numbers(self.rounds), 1) - 1])

    @cached_property
    def overlaid(self) -> NDArray[np.bool_]:
        """Which squares do not show the colour of their own round, (2n + 1, 2n + 1) as seen."""
        return read_only(self.motif.grid ^ self.ring_is_cc)

    @property
    def summary(self) -> str:
        """One line: name, size, rounds, and that it is experimental."""
        name = f"{self.motif.name}: " if self.motif.name else ""
        side, rounds = len(self.motif.grid), self.rounds
        count = f"{rounds} round{'s' * (rounds > 1)} from the centre"
        hand = ", left-handed" if self.hand == "left" else ""
        return f"{name}{side} × {side} squares, {count}, round 1 in {self.motif.first}{hand} (experimental)"

    def __repr__(self) -> str:
        text = f"\n{self.motif.to_text()}" if fits_a_screen(self.motif.shape) else ""
        return f"<CentreOut {self.summary}>{text}"

    @cached_property
    def shown_rounds(self) -> NDArray[np.int64]:
        """The round whose yarn each square shows, (2n + 1, 2n + 1) as seen: of an overlaid one the round outside it."""
        return read_only(np.clip(ring_numbers(self.rounds) + self.overlaid, 1, self.rounds))

    def _repr_svg_(self) -> str:
        grid, shown, yarns = self.motif.grid, self.shown_rounds, self.motif.yarns
        return svg.notebook_picture(
            grid,
            lambda window: svg.yarn_colours(grid[window], shown[window], yarns),
            title=self.summary,
        )


def fitted(motif: Motif, *, most: int = 41, hand: Hand = "right") -> CentreOut:
    """Give any motif as a square to be worked from the centre: its middle, or all of it amid plain rounds.

    Parameters
    ----------
    motif : Motif
        Of any size, (R, C). What is left of it need not be workable.
    most : int
        The longest side that it may have, odd and 3 or more: 41 is that of published squares ("Joining Squares",
        ashleeslint).
    hand : "right" or "left"
        The hand that holds the hook.

    Returns
    -------
    CentreOut
        The motif itself if it is such a square already. Yarns that start after the last round are left out.

    Raises
    ------
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> fitted(Motif.from_text("....")).motif.to_text().split()
    ['#####', '#...#', '....#', '#...#', '#####']
    """
    of_kind("motif", motif, Motif)
    most = whole_number("most", most, least=3)
    if most % 2 == 0:
        raise OptionError(f"`most` must be odd, so that there is a centre square; got {most}.")
    side = max(min(max(motif.shape) // 2 * 2 + 1, most), 3)
    rounds = side // 2
    yarns = Yarns(
        mc=[start for start in motif.yarns.mc if start[0] <= rounds],
        cc=[start for start in motif.yarns.cc if start[0] <= rounds],
    )
    plain = CentreOut(Motif(np.zeros((side, side), dtype=np.bool_), motif.first, yarns, motif.name), hand)
    grid = plain.ring_is_cc.copy()
    (rows, columns), kept = motif.shape, np.minimum(motif.shape, side)
    (top, left), (above, before) = (np.array(motif.shape) - kept) // 2, (side - kept) // 2
    part = motif.grid[top : min(top + side, rows), left : min(left + side, columns)]
    grid[above : above + kept[0], before : before + kept[1]] = part
    return CentreOut(plain.motif.with_grid(grid), hand)
