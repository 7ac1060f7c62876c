"""The stitches of overlay mosaic, the chart that orders them, and the compiler from picture to chart.

A chart is in working order: row 1 is worked first, stitch 1 is the first of a row, at the edge where every row
starts. The right side always faces the maker and each row has one colour. The compiler places stitches by the
two rules of the craft: a square that does not show its row's colour is covered by a double crochet (FLdc) of
the row above; in reversible work a tog-b stands directly above every FLdc, and in the last row, which nothing
can close, the FLdc itself is a tog-f.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from enum import IntEnum
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation, svg
from mosaickit.colours import Yarns, checked_name
from mosaickit.errors import ChartError, UnworkableError, number_of, one_of, true_or_false
from mosaickit.motif import WORKABLE, Motif, check, checked_size, fits_a_screen, fldc_standing
from mosaickit.orientation import HANDS, ROLES, Hand, Role


class Stitch(IntEnum):
    """A stitch of overlay mosaic; its number is what the array of a chart holds.

    Double crochet, back loop and the like are the terms of the Craft Yarn Council's list (US); the fused forms
    are defined here, as that list has none for overlay mosaic.
    """

    SC = 0
    """sc: single crochet into the foundation chain, row 1 only."""
    BLSC = 1
    """BLsc: single crochet into the back loop of the stitch below; its front loop stays free."""
    FLDC = 2
    """FLdc: double crochet into the free front loop two rows below; the stitch just behind it is skipped."""
    TOG_BACK = 3
    """tog-b: sc in the back loop below and dc in the unworked back loop two rows below, closed together."""
    TOG_FRONT = 4
    """tog-f: sc in the back loop below and dc in the free front loop two rows below, closed together."""

    @property
    def abbreviation(self) -> str:
        """How a written row names the stitch (US terms)."""
        return _ABBREVIATIONS[self]

    @property
    def character(self) -> str:
        """How a chart in text draws the stitch."""
        return _CHARACTERS[self]


_ABBREVIATIONS = ("sc", "BLsc", "FLdc", "tog-b", "tog-f")
_CHARACTERS = "..|bf"
_FROM_CHARACTER = {".": Stitch.BLSC, "|": Stitch.FLDC, "b": Stitch.TOG_BACK, "f": Stitch.TOG_FRONT}

Row = Sequence[Stitch] | Sequence[int] | NDArray[Any]


def _stack(rows: Iterable[Row] | NDArray[Any]) -> NDArray[np.uint8]:
    """Put rows of stitches into one array, or say which row has another count or a stitch there is not."""
    if isinstance(rows, np.ndarray) and rows.ndim == 2 and rows.dtype == np.uint8 and rows.size > 0:
        checked_size(*rows.shape)
        if rows.max() < len(Stitch):
            return rows.copy()  # the compiler's own array, in which nothing else can be wrong
    lines = [np.asarray(row) for row in rows]
    if not lines or lines[0].size == 0:
        raise ChartError("A chart needs at least 1 row of 1 stitch; got none.")
    for number, line in enumerate(lines, 1):
        if line.ndim != 1 or line.dtype.kind not in "iu":
            raise ChartError(
                f"Row {number} must be a sequence of stitches; got {line.dtype} of {line.ndim} dimensions."
            )
        if line.size != lines[0].size:
            raise ChartError(
                f"Row {number} has {line.size} stitches, but row 1 has {lines[0].size}: the count across never changes."
            )
        if line.min() < 0 or line.max() >= len(Stitch):
            wrong = int(np.flatnonzero((line < 0) | (line >= len(Stitch)))[0])
            raise ChartError(f"Row {number}, stitch {wrong + 1}: there is no stitch number {int(line[wrong])}.")
    checked_size(len(lines), lines[0].size)
    return np.stack(lines).astype(np.uint8)


@dataclass(frozen=True, eq=False, repr=False)
class Chart:
    """Stitches in working order, with what a maker needs to work them.

    Parameters
    ----------
    stitches : array of Stitch, (R, N)
        Element [r - 1, s - 1] is row r, stitch s. Rows may come as sequences; kept as read-only uint8.
    row_colours : sequence of "MC" and "CC", R long
        The colour of each row, row 1 first; the two alternate.
    yarns : Yarns
        The yarns that play MC and CC, by row.
    hand : "right" or "left"
        The hand that holds the hook; it says at which edge stitch 1 lies.
    in_the_round : bool
        Whether the last stitch of a row meets its first.
    name : str
        One line, may be empty.

    Raises
    ------
    ChartError
        If a row has another count than row 1 or holds what is no stitch; if there is not one
        colour a row, or two rows running have the same.
    """

    stitches: NDArray[np.uint8]
    row_colours: tuple[Role, ...]
    yarns: Yarns = field(default_factory=Yarns)
    hand: Hand = "right"
    in_the_round: bool = False
    name: str = ""

    def __post_init__(self) -> None:
        stitches = _stack(self.stitches)
        stitches.flags.writeable = False
        colours = tuple(self.row_colours)
        if len(colours) != len(stitches) or any(colour not in ROLES for colour in colours):
            raise ChartError(
                f"A chart of {len(stitches)} rows needs {len(stitches)} row colours, each 'MC' or 'CC'; "
                f"got {len(colours)}: {', '.join(map(str, colours[:8]))}{' …' if len(colours) > 8 else ''}."
            )
        same = [row for row, (one, two) in enumerate(pairwise(colours), 2) if one == two]
        if same:
            raise ChartError(
                f"Rows {same[0] - 1} and {same[0]} are both in {colours[same[0] - 1]}: the two colours alternate."
            )
        one_of("hand", self.hand, HANDS)
        checked_name("A chart's name", self.name)
        object.__setattr__(self, "stitches", stitches)
        object.__setattr__(self, "row_colours", colours)

    @classmethod
    def from_text(
        cls,
        text: str,
        first: Role = "MC",
        *,
        yarns: Yarns | None = None,
        hand: Hand = "right",
        in_the_round: bool = False,
        name: str = "",
    ) -> Chart:
        """Read a chart from text as `to_text` writes it: the last row on top, stitch 1 at the working edge.

        ``.`` is a plain stitch (sc in row 1, BLsc above it), ``|`` FLdc, ``b`` tog-b, ``f`` tog-f. The other
        arguments are those of `Chart`; a left-hander's chart has stitch 1 at the left.
        """
        lines = [line.strip() for line in text.strip().splitlines()]
        for number, line in enumerate(lines, 1):
            for column, character in enumerate(line, 1):
                if character not in _FROM_CHARACTER:
                    raise ChartError(
                        f"Line {number}, column {column}: expected '.', '|', 'b' or 'f', found {character!r}."
                    )
        step = -1 if hand == "right" else 1
        rows = [[_FROM_CHARACTER[character] for character in line[::step]] for line in reversed(lines)]
        if rows:
            rows[0] = [Stitch.SC if stitch is Stitch.BLSC else stitch for stitch in rows[0]]
        known = yarns if yarns is not None else Yarns()
        return cls(_stack(rows), _alternating(len(rows), first), known, hand, in_the_round, name)

    def to_text(self) -> str:
        """Write the chart as text, the last row on top and stitch 1 at the working edge."""
        codes = np.frombuffer(_CHARACTERS.encode("ascii"), dtype=np.uint8)[self.stitches]
        return "\n".join(row.tobytes().decode("ascii") for row in orientation.to_seen(codes, self.hand))

    @property
    def shape(self) -> tuple[int, int]:
        """(R, N): rows and stitches of a row."""
        rows, stitches = self.stitches.shape
        return rows, stitches

    @property
    def first(self) -> Role:
        """The colour of row 1."""
        return self.row_colours[0]

    @property
    def reversible(self) -> bool:
        """Whether any stitch closes the back: a chart without FLdc is the same either way."""
        return bool((self.stitches >= Stitch.TOG_BACK).any())

    def plain(self) -> Chart:
        """Give the same front as plain fabric: tog-b becomes BLsc, tog-f becomes FLdc."""
        plain = np.array([Stitch.SC, Stitch.BLSC, Stitch.FLDC, Stitch.BLSC, Stitch.FLDC], dtype=np.uint8)
        return replace(self, stitches=plain[self.stitches])

    @property
    def summary(self) -> str:
        """One line: name, size, kind of fabric, colour of row 1."""
        rows, stitches = self.shape
        name = f"{self.name}: " if self.name else ""
        kind = "reversible" if self.reversible else "plain"
        round_ = " in the round" if self.in_the_round else ""
        return (
            f"{name}{number_of(rows, 'row')} × {number_of(stitches, 'stitch')}, {kind}{round_}, row 1 in {self.first}"
        )

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Chart):
            return NotImplemented
        return np.array_equal(self.stitches, other.stitches) and self._about() == other._about()

    def __hash__(self) -> int:
        return hash((self.stitches.tobytes(), self._about()))

    def _about(self) -> tuple[object, ...]:
        return (self.row_colours, self.yarns, self.hand, self.in_the_round, self.name)

    def __setstate__(self, state: dict[str, Any]) -> None:
        self.__dict__.update(state)
        self.stitches.flags.writeable = False

    def __repr__(self) -> str:
        if fits_a_screen(self.shape):
            return f"<Chart {self.summary}>\n{self.to_text()}"
        return f"<Chart {self.summary}>"

    def _repr_svg_(self) -> str:
        rows, stitches = self.shape
        cc = np.array([colour == "CC" for colour in self.row_colours])
        shown_rows = orientation.to_seen(front_rows(self.stitches), self.hand)
        return svg.notebook_chart(
            orientation.to_seen(self.stitches, self.hand),
            lambda window: svg.yarn_colours(cc[shown_rows[window] - 1], shown_rows[window], self.yarns),
            row_numbers=orientation.row_numbers(rows),
            stitch_numbers=orientation.stitch_numbers(stitches, self.hand),
            edge=orientation.working_edge(self.hand),
            title=self.summary,
            description=self.to_text() if fits_a_screen(self.shape) else "",
        )


def front_rows(stitches: NDArray[np.uint8]) -> NDArray[np.int64]:
    """Find the row whose yarn each square of the front shows, (R, N) in working order, from 1.

    That is its own row, or the one above whose FLdc or tog-f hangs over it. A quick look that refuses nothing;
    the hook is the witness.
    """
    shown = np.repeat(np.arange(1, len(stitches) + 1)[:, np.newaxis], stitches.shape[1], axis=1)
    shown[:-1] += (stitches[1:] == Stitch.FLDC) | (stitches[1:] == Stitch.TOG_FRONT)
    return shown


def _alternating(rows: int, first: Role) -> tuple[Role, ...]:
    return tuple(ROLES[int(cc)] for cc in orientation.contrast_rows(rows, first))


def place_stitches(motif: Motif, reversible: bool = False, hand: Hand = "right") -> NDArray[np.uint8]:
    """Place the stitches of a picture without asking whether it can be worked.

    Parameters
    ----------
    motif : Motif
        Any picture.
    reversible : bool
        Whether to close the back.
    hand : "right" or "left"
        The hand that holds the hook.

    Returns
    -------
    uint8 array, (R, C)
        Stitches in working order. Squares overlaid in row R have no row above that could cover them and are
        left out; a picture that cannot be worked gives a chart that the hook refuses, or another picture.
    """
    fldc = fldc_standing(orientation.to_working(motif.overlaid, hand))
    stitches = np.full(motif.shape, Stitch.BLSC, dtype=np.uint8)
    stitches[0] = Stitch.SC
    if reversible:
        np.copyto(stitches[1:], np.uint8(Stitch.TOG_BACK), where=fldc[:-1])
    # only where the picture cannot be worked may an FLdc want the place of a tog-b: then the FLdc stands
    np.copyto(stitches, np.uint8(Stitch.FLDC), where=fldc)
    if reversible:
        last = stitches[-1]
        last[last == Stitch.FLDC] = Stitch.TOG_FRONT
    return stitches


def compile_chart(motif: Motif, reversible: bool = False, *, hand: Hand = "right", in_the_round: bool = False) -> Chart:
    """Turn a picture into the stitches that make it.

    Parameters
    ----------
    motif : Motif
        A picture that can be worked.
    reversible : bool
        False for plain fabric, whose back shows only the rows' own colours; True to close the back with tog-b
        and tog-f, so that it shows the picture's negative one row higher.
    hand : "right" or "left"
        The hand that holds the hook.
    in_the_round : bool
        Whether the last stitch of a row meets its first.

    Returns
    -------
    Chart
        (R, C) stitches in working order.

    Raises
    ------
    UnworkableError
        If the picture cannot be worked; holds the report.

    Examples
    --------
    >>> from mosaickit.motif import Motif
    >>> print(compile_chart(Motif.from_text('''
    ... ...
    ... ###
    ... .#.
    ... ###
    ... ...
    ... '''), reversible=True).to_text())
    .b.
    .|.
    ...
    ...
    ...
    """
    reversible = true_or_false("reversible", reversible)
    one_of("hand", hand, HANDS)
    report = check(motif, in_the_round=in_the_round, hand=hand, rules=WORKABLE)
    if not report.ok:
        raise UnworkableError(
            f"This picture cannot be worked; `mk.nearest_workable` finds the nearest that can. What is wrong: "
            f"{report.errors_in_words}",
            report,
        )
    return Chart(
        place_stitches(motif, reversible, hand),
        _alternating(motif.shape[0], motif.first),
        yarns=motif.yarns,
        hand=hand,
        in_the_round=in_the_round,
        name=motif.name,
    )
