"""Values: what a maker says of a piece made of bands, in order from the foundation up."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass, fields
from typing import Literal, get_args

from mosaickit.errors import OptionError, number_of, of_kind, one_of, true_or_false, whole_number
from mosaickit.motif import COLOURS, LARGEST_SIDE, LAYINGS, SEAMS, Colours, Laying, Motif, Seam
from mosaickit.orientation import ROLES, Role

BandFit = Literal["whole", "centre", "fill"]
"""How a band fills the width of the piece."""

InStep = Literal["divider", "swap", "refuse"]
"""How the row colours are kept in step."""

BAND_FITS: tuple[BandFit, ...] = get_args(BandFit)
IN_STEP: tuple[InStep, ...] = get_args(InStep)
LONGEST_DIVIDER = 3
"""The most rows of a line of one colour, so that it stays a line."""


class AsSaid:
    """What writes itself as it was said: what is usual is left out."""

    def __repr__(self) -> str:
        here = {each.name: (getattr(self, each.name), each.default) for each in fields(self) if each.init}  # type: ignore[arg-type]  # all are dataclasses
        said = (
            f"{name}={value.name or 'a motif'!r}" if isinstance(value, Motif) else f"{name}={value!r}"
            for name, (value, usual) in here.items()
            if value != usual
        )
        return f"{type(self).__name__}({', '.join(said)})"


def in_words(turned: AsSaid, name: str) -> str:
    """Write what lies there, how often, and how it is turned."""
    across, up = getattr(turned, "across", None), getattr(turned, "up", 1)
    counts = f" {across} × {up}" if across else f" {up} up" if up > 1 else ""
    ways = [word for name, word in (("upside_down", "upside down"), ("mirrored", "mirrored")) if getattr(turned, name)]
    return f"{name}{counts}{', ' if ways else ''}{' and '.join(ways)}"


def going_on(name: str, *, begins: bool = False) -> str:
    """Write what a band is called so that a sentence goes on behind it, or begins with it: "Band 2, wave,"."""
    return f"{name[0].upper() if begins else name[0]}{name[1:]}{',' * (', ' in name)}"


@dataclass(frozen=True, repr=False)
class Band(AsSaid):
    """A motif laid across the whole width, and up.

    Parameters
    ----------
    motif : Motif
        One repeat, (R, C).
    across : int, optional
        How often it is laid across; as often as the width takes if not given.
    up : int
        How often it is laid upward.
    laying : "straight", "brick", "half-drop" or "mirrored"
        How it is laid; see `tile`.
    seam : "double" or "shared"
        Where it is mirrored, whether the row and column at a mirror line stand twice or once.
    colours : "keep" or "swap"
        What happens to every second repeat up if R is odd; see `repeat`.
    balance_across, balance_up : int
        How many of its first stitches close each row, and of its first rows the band: 0 to C − 1 and R − 1.
    fit : "whole", "centre" or "fill"
        What is done where repeats do not divide the width: refuse; lay as many as it takes, in the middle of plain
        stitches, of which an odd one stands at the left; or lay one more and cut the repeats at both sides alike, an
        odd stitch more at the left.
    upside_down, mirrored : bool
        Whether the band, as it is laid, is turned upside down, and left to right; both are a half turn.

    Raises
    ------
    OptionError
        If one of them is not as described, or does not go together.

    Examples
    --------
    >>> wave = Motif.from_text('''
    ... ....
    ... .##.
    ... ....
    ... ''', name="wave")
    >>> Band(wave, up=2, fit="centre")
    Band(motif='wave', up=2, fit='centre')
    """

    motif: Motif
    _: KW_ONLY
    across: int | None = None
    up: int = 1
    laying: Laying = "straight"
    seam: Seam = "double"
    colours: Colours = "keep"
    balance_across: int = 0
    balance_up: int = 0
    fit: BandFit = "whole"
    upside_down: bool = False
    mirrored: bool = False

    def __post_init__(self) -> None:
        of_kind("motif", self.motif, Motif)
        own = self.__dict__
        one_of("laying", self.laying, LAYINGS)
        one_of("seam", self.seam, SEAMS)
        one_of("colours", self.colours, COLOURS)
        one_of("fit", self.fit, BAND_FITS)
        if self.across is not None:
            own["across"] = whole_number("across", self.across, least=1, most=LARGEST_SIDE)
        own["up"] = whole_number("up", self.up, least=1, most=LARGEST_SIDE)
        rows, columns = self.motif.shape
        own["balance_across"] = whole_number("balance_across", self.balance_across, most=columns - 1)
        own["balance_up"] = whole_number("balance_up", self.balance_up, most=rows - 1)
        for name in ("upside_down", "mirrored"):
            own[name] = true_or_false(name, own[name])
        if self.fit == "fill" and (self.across is not None or self.balance_across):
            raise OptionError(
                "A band that fills the width is cut at both sides, so it has no count across and nothing closes its "
                f"rows: leave out `across` and `balance_across`; got {self.across} and {self.balance_across}."
            )

    def __str__(self) -> str:
        return in_words(self, self.motif.name or "a motif")


@dataclass(frozen=True, repr=False)
class Plain(AsSaid):
    """Plain rows, each in its own colour, so that two or more are stripes; among columns, plain stitches.

    Parameters
    ----------
    count : int
        How many, 1 or more.

    Raises
    ------
    OptionError
        If that is not so.
    """

    count: int = 1

    def __post_init__(self) -> None:
        self.__dict__["count"] = whole_number("count", self.count, least=1, most=LARGEST_SIDE)

    def __str__(self) -> str:
        return number_of(self.count, "plain row")


@dataclass(frozen=True, repr=False)
class Divider(AsSaid):
    """A line of one colour all across.

    A line of two or three rows is of one colour because FLdc cover the row of the other colour beside or between
    its own.

    Parameters
    ----------
    rows : int
        How thick it is: 1, 2 or 3 rows.
    colour : "MC" or "CC", optional
        Its colour; if nothing is said, that of the row it begins on.

    Raises
    ------
    OptionError
        If one of them is not as described.
    """

    rows: int = 1
    _: KW_ONLY
    colour: Role | None = None

    def __post_init__(self) -> None:
        self.__dict__["rows"] = whole_number("rows", self.rows, least=1, most=LONGEST_DIVIDER)
        if self.colour is not None:
            one_of("colour", self.colour, ROLES)

    def __str__(self) -> str:
        return f"a line of {number_of(self.rows, 'row')}" + (f" in {self.colour}" if self.colour else "")


@dataclass(frozen=True, repr=False)
class Field(AsSaid):
    """Where the design's own motif lies, with its own counts of repeats.

    It fills the width, since it gives it. What closes its rows and rows above is said by the design's surround.

    Parameters
    ----------
    upside_down, mirrored : bool
        Whether it is turned, as it is laid.
    """

    _: KW_ONLY
    upside_down: bool = False
    mirrored: bool = False

    def __post_init__(self) -> None:
        for name in ("upside_down", "mirrored"):
            self.__dict__[name] = true_or_false(name, self.__dict__[name])

    def __str__(self) -> str:
        return in_words(self, "the field")
