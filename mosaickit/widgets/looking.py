"""Why a square can or cannot be worked: the column it lies in, loop by loop, with a sentence and a picture.

A square that shows its row's colour is made by its own stitch. One that does not is made by the stitch of the row
above, which comes down in front of it into the free front loop two rows below. Whether that loop is there follows from
the loops that the stitches of the column take and hang over, not from the rules, which say the same in another way.
What could not be made is looked at as if it had been, so that each square can be judged by itself. Rows and stitches
are counted from 1 in working order.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

from mosaickit import orientation
from mosaickit.errors import of_kind, one_of
from mosaickit.fabric import Loop, LoopSide, LoopState, Stitch, hangs_down, place_stitches, state_of
from mosaickit.guiding import RINGS, ColumnFrame, cord
from mosaickit.motif import Motif
from mosaickit.orientation import HANDS, ROLES, Hand

Verdict = Literal["as its row", "overlaid", "cannot be worked"]
VERDICTS: tuple[Verdict, ...] = ("as its row", "overlaid", "cannot be worked")

AROUND = (2, 1, 0, -1, -2)
"""The rows that a look takes in, from the row of the square: a stitch has to do with no row further away."""


class Level(NamedTuple):
    """One row of a column.

    Attributes
    ----------
    stitch : Stitch or None
        What stands there, or would have to; None for the foundation chain.
    front, back : "free", "worked into" or "covered", or None
        How its loops stand when all rows of the look are worked, what cannot be made as if it were; None for the
        foundation chain, and for a row that is not there.
    no_loop : bool
        Whether the loop that the stitch needs two rows below is not free.
    no_row : bool
        Whether there is no such row, and so no stitch.
    """

    stitch: Stitch | None
    front: LoopState | None = None
    back: LoopState | None = None
    no_loop: bool = False
    no_row: bool = False

    @property
    def words(self) -> str:
        """The stitch and its loops, for those who cannot see the picture."""
        if self.stitch is None:
            return "chain"
        if self.no_loop or self.no_row:
            return f"{self.stitch.abbreviation}, which cannot be made"
        return f"{self.stitch.abbreviation}, front loop {self.front}, back loop {self.back}"


@dataclass(frozen=True)
class Look:
    """What there is to say about a square.

    Attributes
    ----------
    row, stitch : int
        Which square, from 1.
    verdict : "as its row", "overlaid" or "cannot be worked"
        How it comes about.
    sentence : str
        The same in words, with what makes it or why nothing can.
    maker : (int, Stitch) or None
        The row and the stitch that make it; None if nothing can, or if its own stitch is not to be had.
    levels : tuple of Level or None
        The rows `AROUND` it, the highest first; None where there is nothing.
    """

    row: int
    stitch: int
    verdict: Verdict
    sentence: str
    maker: tuple[int, Stitch] | None
    levels: tuple[Level | None, ...]


def look(motif: Motif, row: int, stitch: int, *, hand: Hand = "right", reversible: bool = False) -> Look:
    r"""Look at a square: what makes it, or why nothing can.

    Parameters
    ----------
    motif : Motif
        Any picture, (R, C).
    row, stitch : int
        The square, from 1.
    hand : "right" or "left"
        The hand that holds the hook.
    reversible : bool
        Whether the back is closed.

    Returns
    -------
    Look
        Its verdict is "cannot be worked" just where `check` marks the square as an error.

    Raises
    ------
    OptionError
        If there is no such square, or another argument is not as described.

    Examples
    --------
    >>> look(Motif.from_text("...\n###\n.#."), 1, 2).sentence
    'CC over a row in MC, which cannot be worked here: the FLdc that would cover it stands in row 2 and needs a free
    front loop two rows below, where there is only the foundation chain.'
    """
    _checked(motif, hand, reversible)
    orientation.check_square(row, stitch, motif.shape)
    _, left = orientation.square(row, stitch, motif.shape, hand)
    return _Column(motif.with_grid(motif.grid[:, [left]]), reversible).look(row, stitch)


def look_at_all(motif: Motif, *, hand: Hand = "right", reversible: bool = False) -> Iterator[Look]:
    """Look at all squares of a motif, column by column from stitch 1 on, each from row 1 up; arguments as `look`."""
    _checked(motif, hand, reversible)
    rows, stitches = motif.shape
    for stitch in range(1, stitches + 1):
        _, left = orientation.square(1, stitch, motif.shape, hand)
        column = _Column(motif.with_grid(motif.grid[:, [left]]), reversible)
        for row in range(1, rows + 1):
            yield column.look(row, stitch)


def _checked(motif: object, hand: object, reversible: object) -> None:
    of_kind("motif", motif, Motif)
    one_of("hand", hand, HANDS)
    of_kind("reversible", reversible, bool)


# ---- the column --------------------------------------------------------------------------------------------


class _Column:
    """The stitches of one column, and what they do with each other's loops; `motif` is one square wide."""

    def __init__(self, motif: Motif, reversible: bool) -> None:
        self.rows = motif.shape[0]
        self.shows = [ROLES[int(cc)] for (cc,) in orientation.to_working(motif.grid).tolist()]
        self.overlaid = [overlaid for (overlaid,) in orientation.to_working(motif.overlaid).tolist()]
        self.of_row = [orientation.role_of_row(row, motif.first) for row in range(1, self.rows + 1)]
        self.stitches = [Stitch(stitch) for (stitch,) in place_stitches(motif, reversible).tolist()]
        if self.overlaid[-1]:
            self.stitches.append(Stitch.FLDC)  # what would have to stand in a row that is not there

    def look(self, row: int, stitch: int) -> Look:
        verdict, maker, why = self._judge(row)
        shows = f"{self.shows[row - 1]}, as its row"
        if self.overlaid[row - 1]:
            shows = f"{self.shows[row - 1]} over a row in {self.of_row[row - 1]}"
        levels = tuple(self._level(row + up, min(row + AROUND[0], self.rows)) for up in AROUND)
        return Look(row, stitch, verdict, f"{shows}{why}", maker, levels)

    def _judge(self, row: int) -> tuple[Verdict, tuple[int, Stitch] | None, str]:
        if not self.overlaid[row - 1]:
            return "as its row", *self._why_as_its_row(row)
        why = self._why_not(row)
        if why:
            return "cannot be worked", None, f", which cannot be worked here: {why}"
        maker = self.stitches[row]
        how = (
            f": the {maker.abbreviation} of row {row + 1}, worked into the free front loop of row {row - 1}, comes "
            "down in front of it."
        )
        return "overlaid", (row + 1, maker), how

    def _why_as_its_row(self, row: int) -> tuple[tuple[int, Stitch] | None, str]:
        own = self.stitches[row - 1]
        if self._no_loop(row):
            return None, f", though the {own.abbreviation} that the square below needs in its place cannot be made."
        more = ", and comes down over the square below as well" if hangs_down(own) else ""
        return (row, own), f": its own {own.abbreviation} shows{more}."

    def _why_not(self, row: int) -> str:
        """Say why an overlaid square cannot be worked; nothing if it can."""
        if row == self.rows:
            return f"row {row} is the last, so there is no row above it for the FLdc that would cover it."
        wanted = f"the {self.stitches[row].abbreviation} that would cover it"
        if row == 1:
            return (
                f"{wanted} stands in row 2 and needs a free front loop two rows below, where there is only the "
                "foundation chain."
            )
        if self._no_loop(row + 1):
            hiding = self.stitches[row - 1].abbreviation
            return (
                f"{wanted} stands in row {row + 1} and needs the front loop of row {row - 1}, which lies under the "
                f"{hiding} of row {row}, as the square below is overlaid too."
            )
        if self.overlaid[row]:
            return (
                f"{wanted} hides the front loop of row {row}, which the square above, overlaid too, needs for an FLdc "
                "of its own."
            )
        return ""

    def _no_loop(self, row: int) -> bool:
        """Whether the stitch of a row needs a front loop two rows below and finds none that is free."""
        return hangs_down(self.stitches[row - 1]) and (row <= 2 or hangs_down(self.stitches[row - 2]))

    def _level(self, row: int, top: int) -> Level | None:
        """Give one row as it stands when the rows up to `top` are worked."""
        if row < 0 or row > len(self.stitches):
            return None
        if row == 0:
            return Level(None)
        stitch, no_loop = self.stitches[row - 1], self._no_loop(row)
        if row > self.rows:
            return Level(stitch, no_loop=no_loop, no_row=True)
        return Level(stitch, self._state(row, "front", top), self._state(row, "back", top), no_loop)

    def _state(self, row: int, side: LoopSide, top: int) -> LoopState:
        return state_of(side, self.stitches[row : min(row + 2, top)])  # of the next two rows, as far as they are worked


# ---- the picture -------------------------------------------------------------------------------------------

VIEW_BOX = "-66 0 204 252"
_FRAME = ColumnFrame(top=30, pitch=44, reach=15, dip=16, bend=14, ring=5.5)  # row 0 is the highest of the look


def picture(levels: tuple[Level | None, ...]) -> str:
    """Draw the levels of a look from the side, front at the left: the body of an SVG.

    Classes name the yarn of each row, from ``mk-yarn0`` of the highest to ``mk-yarn4``, and how each loop stands. Each
    row has an empty text, ``data-level``, for its name. The page gives colours and names.
    """
    drawn = f'<rect class="mk-here" x="-62" y="{_FRAME.y(2) - 3}" width="196" height="{_FRAME.pitch}"/>'
    drawn += f'<text x="-60" y="12">front</text><text x="{_FRAME.reach + 18}" y="12" text-anchor="end">back</text>'
    standing = [(at, level) for at, level in enumerate(levels) if level is not None]
    for at, level in reversed(standing):
        drawn += _FRAME.chain(at) if level.stitch is None else _stitch(level, level.stitch, at)
        name = "" if level.stitch is None else level.stitch.abbreviation
        y = _FRAME.y(at)
        drawn += f'<text x="58" y="{y + 14}" data-level="{at}"></text><text x="58" y="{y + 27}">{name}</text>'
    return drawn + "".join(_rings(level, at) for at, level in standing) + "".join(_crosses(standing))


def legend() -> str:
    """Draw the three ways in which a loop can stand, and what cannot be made, with their words: an SVG."""
    rings = "".join(
        f'<circle class="{ring}" cx="{x}" cy="9" r="5"/><text x="{x + 9}" y="13">{state}</text>'
        for (state, ring), x in zip(RINGS.items(), (7, 57, 144), strict=True)
    )
    refused = '<path class="mk-refused" d="M4 28h14"/><text x="26" y="32">cannot be made</text>'
    refused += '<path class="mk-cross" d="M125 24l8 8m0-8l-8 8"/><text x="139" y="32">what it lacks</text>'
    return f'<svg viewBox="0 0 212 38" role="img" aria-label="What the drawing means">{rings}{refused}</svg>'


def _stitch(level: Level, stitch: Stitch, at: int) -> str:
    """Draw a stitch, in the yarn of its row or as one that cannot be made."""
    path = _FRAME.stitch(stitch, at)
    return f'<path class="mk-refused" d="{path}"/>' if level.no_loop or level.no_row else cord(path, at)


def _rings(level: Level, at: int) -> str:
    if level.front is None or level.back is None or level.no_loop:
        return ""
    return _FRAME.rings({Loop(at, "front"): level.front, Loop(at, "back"): level.back})


def _crosses(standing: list[tuple[int, Level]]) -> Iterator[str]:
    """Mark what a stitch lacks: the loop that it needs, or the row that it would stand in."""
    places = [(-_FRAME.reach, _FRAME.y(at + 2)) for at, level in standing if level.no_loop and at + 2 < len(AROUND)]
    places += [(0, _FRAME.y(at) + 4) for at, level in standing if level.no_row]
    for x, y in places:
        path = f"M{x - 8} {y - 8}l16 16m0-16l-16 16"
        yield f'<path class="mk-halo" d="{path}"/><path class="mk-cross" d="{path}"/>'
