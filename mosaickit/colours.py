"""Yarns by role and row, and whether their colours can be told apart.

MC and CC are two roles. The yarn that plays a role may change from a given row on, for stripes or a gradient;
`Yarns` holds both roles' yarns by the maker's row number. The second half measures contrast as the Web
Content Accessibility Guidelines 2.2 define it, as seen by most people and through simulations of the three
kinds of colour vision deficiency (Machado, Oliveira and Fernandes, IEEE TVCG 15(6), 2009, severity 1).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby, pairwise

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import MotifError, OptionError, shortly
from mosaickit.orientation import ROLES, Role

LONGEST_NAME = 200
"""A yarn's or a motif's name has at most this many characters, so that labels stay labels."""


COLOUR = r"^#[0-9a-fA-F]{6}$"
"""How a colour is written, as a regular expression: red, green and blue, two hexadecimal digits each."""


def checked_name(what: str, name: object) -> str:
    """Return a name that fits on one line of a label, or raise `MotifError`."""
    if not isinstance(name, str):
        raise MotifError(f"{what} must be text; got {name!r}.")
    if len(name) > LONGEST_NAME:
        raise MotifError(f"{what} must have at most {LONGEST_NAME} characters; got {len(name)}.")
    bad = next((c for c in name if not c.isprintable()), None)
    if bad is not None:
        raise MotifError(f"{what} must be one line of printable characters; found {bad!r}.")
    return name


def _is_colour(value: object) -> bool:
    return isinstance(value, str) and re.fullmatch(COLOUR, value) is not None


@dataclass(frozen=True)
class Yarn:
    """A yarn: what its maker calls it and how it looks on a screen.

    Parameters
    ----------
    name : str
        One line, at most 200 characters.
    colour : str
        Red, green and blue as "#rrggbb"; kept in lower case.

    Raises
    ------
    MotifError
        If the name is not one line of text, or the colour is not of that form.
    """

    name: str
    colour: str

    def __post_init__(self) -> None:
        checked_name("A yarn's name", self.name)
        if not _is_colour(self.colour):
            raise MotifError(f"A yarn's colour must be written '#rrggbb', as '#1f4e79'; got {self.colour!r}.")
        object.__setattr__(self, "colour", self.colour.lower())


CREAM = Yarn("cream", "#f4ead5")
INK = Yarn("ink blue", "#1d3f66")

YarnsOfRole = tuple[tuple[int, Yarn], ...]
"""The yarns of one role: (row from which on, yarn), rows rising, the first of them row 1."""


def _yarns_of_role(role: Role, given: Yarn | Iterable[tuple[int, Yarn]]) -> YarnsOfRole:
    if isinstance(given, Yarn):
        return ((1, given),)
    try:
        changes = tuple((row, yarn) for row, yarn in given)
    except (TypeError, ValueError):
        raise MotifError(f"The yarns of {role} must be a Yarn or pairs of (row, Yarn); got {given!r}.") from None
    for row, yarn in changes:
        if isinstance(row, bool) or not isinstance(row, int | np.integer) or not isinstance(yarn, Yarn):
            raise MotifError(f"The yarns of {role} must be pairs of (row, Yarn); got {(row, yarn)!r}.")
    rows = [int(row) for row, _ in changes]
    if not rows or rows[0] != 1:
        raise MotifError(f"The first yarn of {role} must start at row 1; got rows {rows}.")
    if any(later <= earlier for earlier, later in pairwise(rows)):
        raise MotifError(f"The yarns of {role} must change at rising rows; got rows {rows}.")
    # a change to the same yarn is no change
    runs = groupby(zip(rows, (yarn for _, yarn in changes), strict=True), key=lambda change: change[1])
    return tuple(next(run) for _, run in runs)


@dataclass(frozen=True, init=False)
class Yarns:
    """Which yarn plays each role, and from which row on.

    Parameters
    ----------
    mc, cc : Yarn, or pairs of (row, Yarn)
        One yarn throughout, or the row (from 1, as a maker counts) from which on each yarn is used. The first
        pair starts at row 1 and the rows rise. Kept as a tuple of pairs.

    Raises
    ------
    MotifError
        If a role's yarns do not start at row 1, or their rows do not rise.

    Examples
    --------
    >>> sea = Yarns(mc=Yarn("sand", "#e9dcc3"), cc=[(1, Yarn("deep", "#123f5a")), (9, Yarn("foam", "#3d8f92"))])
    >>> sea.at(12, "CC").name
    'foam'
    """

    mc: YarnsOfRole
    cc: YarnsOfRole

    def __init__(
        self,
        mc: Yarn | Iterable[tuple[int, Yarn]] = CREAM,
        cc: Yarn | Iterable[tuple[int, Yarn]] = INK,
    ) -> None:
        object.__setattr__(self, "mc", _yarns_of_role("MC", mc))
        object.__setattr__(self, "cc", _yarns_of_role("CC", cc))

    @property
    def names(self) -> tuple[str, ...]:
        """The names of all yarns, each once, those of MC first."""
        return tuple(dict.fromkeys(yarn.name for role in ROLES for _, yarn in self.of(role)))

    def of(self, role: Role) -> YarnsOfRole:
        """Give the yarns of a role as (row from which on, yarn)."""
        return self.mc if role == "MC" else self.cc

    def at(self, row: int, role: Role) -> Yarn:
        """Give the yarn that plays a role in a row (from 1; rows below 1 use the first yarn)."""
        return next((yarn for start, yarn in reversed(self.of(role)) if start <= row), self.of(role)[0][1])

    def by_row(self, rows: int, role: Role) -> tuple[Yarn, ...]:
        """Give the yarn that plays a role in each of the rows 1 to `rows`."""
        return tuple(self._walk(rows, role))

    def _walk(self, rows: int, role: Role) -> Iterator[Yarn]:
        changes = dict(self.of(role))
        yarn = changes[1]
        for row in range(1, rows + 1):
            yarn = changes.get(row, yarn)
            yield yarn

    def starts(self, row_colours: Iterable[Role]) -> tuple[tuple[int, Role, Yarn], ...]:
        """Give the rows that begin another yarn than the last row of their colour: row, colour and yarn of each.

        Parameters
        ----------
        row_colours : "MC" and "CC"
            The colour of each row, row 1 first. The first row of each colour begins its yarn.

        Examples
        --------
        >>> sea = Yarns(cc=[(1, Yarn("deep", "#123f5a")), (3, Yarn("foam", "#3d8f92"))])
        >>> [(row, yarn.name) for row, _, yarn in sea.starts(["MC", "CC", "MC", "CC", "MC"])]
        [(1, 'cream'), (2, 'deep'), (4, 'foam')]
        """
        colours = tuple(row_colours)
        by_row = {role: self.by_row(len(colours), role) for role in ROLES}
        last: dict[Role, Yarn] = {}
        found = []
        for row, role in enumerate(colours, 1):
            yarn = by_row[role][row - 1]
            if last.get(role) != yarn:
                found.append((row, role, yarn))
            last[role] = yarn
        return tuple(found)

    def meetings(self, rows: int) -> tuple[tuple[int, Yarn, Yarn], ...]:
        """Give the pairs of yarns that meet in so many rows: the row from which on, that of MC, that of CC."""
        starts = sorted({start for role in ROLES for start, _ in self.of(role) if start <= rows})
        return tuple((start, self.at(start, "MC"), self.at(start, "CC")) for start in starts)

    def gather(self, rows: Iterable[int]) -> Yarns:
        """Move the yarns with their rows: new row i takes the yarns of old row ``rows[i - 1]`` (below 1: of row 1)."""
        if len(self.mc) == len(self.cc) == 1:  # as in most motifs; a change of a design asks for it again and again
            return self
        old = [max(row, 1) for row in rows]
        mc, cc = (self.by_row(max(old), role) for role in ROLES)
        return Yarns(
            mc=[(new, mc[row - 1]) for new, row in enumerate(old, 1)],
            cc=[(new, cc[row - 1]) for new, row in enumerate(old, 1)],
        )


# ---- telling two colours apart -----------------------------------------------------------------------------

# Rows are the red, green and blue that the eye is left with, from linear red, green and blue. Every row sums
# to 1 (copies with sign errors circulate; a test sums them), so greys look as they are.
VISION: dict[str, NDArray[np.float64]] = {
    "most people": np.eye(3),
    "protan vision": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "deutan vision": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "tritan vision": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}


def to_light(tone: NDArray[np.float64]) -> NDArray[np.float64]:
    """Turn tones from 0 to 1 into linear light, by sRGB (IEC 61966-2-1)."""
    light: NDArray[np.float64] = np.where(tone <= 0.04045, tone / 12.92, ((tone + 0.055) / 1.055) ** 2.4)
    return light


def to_tone(light: NDArray[np.float64]) -> NDArray[np.float64]:
    """Turn linear light into the tone that a screen shows: the inverse of `to_light`."""
    bright = 1.055 * np.maximum(light, 0) ** (1 / 2.4) - 0.055
    tone: NDArray[np.float64] = np.where(light <= 0.0031308, light * 12.92, bright)
    return tone


def _linear(colour: str) -> NDArray[np.float64]:
    return to_light(np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255)


def _hex(linear: NDArray[np.float64]) -> str:
    return "#" + "".join(f"{round(255 * float(channel)):02x}" for channel in to_tone(np.clip(linear, 0, 1)))


def seen_by(colour: str, vision: str) -> str:
    """Show a colour as a kind of colour vision sees it.

    Parameters
    ----------
    colour : str
        "#rrggbb".
    vision : str
        A key of `VISION`.

    Returns
    -------
    str
        "#rrggbb", each channel rounded to the nearest of 256.
    """
    return _hex(VISION[vision] @ _linear(colour))


def contrast(one: str, two: str) -> float:
    """Measure the contrast ratio of two colours, from 1 (none) to 21 (black on white).

    Parameters
    ----------
    one, two : str
        "#rrggbb"; their order does not matter.

    Returns
    -------
    float
        (L1 + 0.05) / (L2 + 0.05) of WCAG 2.2; not rounded, since 2.999 does not reach 3.

    Raises
    ------
    OptionError
        If a colour is not of that form.

    Examples
    --------
    >>> contrast("#000000", "#ffffff")
    21.0
    """
    for name, colour in (("one", one), ("two", two)):
        if not _is_colour(colour):
            raise OptionError(f"`{name}` must be a colour, written '#rrggbb', as '#1f4e79'; got {shortly(colour)}.")
    weights = np.array([0.2126, 0.7152, 0.0722])
    darker, lighter = sorted(float(weights @ _linear(colour)) for colour in (one, two))
    return (lighter + 0.05) / (darker + 0.05)


def in_words(vision: str) -> str:
    """Say with what eyes, as the end of a sentence: "for most people", or "with red-blind vision".

    Examples
    --------
    >>> in_words("deutan vision")
    'with green-blind vision'
    """
    blind = {"protan vision": "red", "deutan vision": "green", "tritan vision": "blue"}
    return f"with {blind[vision]}-blind vision" if vision in blind else f"for {vision}"


@lru_cache(maxsize=1024)  # every stroke of a painter and every check of a picture asks for the same few pairs
def weakest_contrast(one: str, two: str) -> tuple[str, float]:
    """Give the kind of colour vision that tells two colours apart least, and their contrast ratio for it."""
    return min(contrast_by_vision(one, two).items(), key=lambda item: item[1])


def contrast_by_vision(one: str, two: str) -> dict[str, float]:
    """Measure the contrast ratio of two colours for each kind of colour vision in `VISION`."""
    return {vision: contrast(seen_by(one, vision), seen_by(two, vision)) for vision in VISION}
