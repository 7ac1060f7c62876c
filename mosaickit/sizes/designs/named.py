"""Named sizes: one piece in several sizes, by counts of repeats, by a wanted size, or by an article's usual one.

A wanted width or length takes the fewest repeats that reach it. A piece that is short by no more than half a stitch, or
half a row, counts as reaching it: no tape and no gauge is more exact than that. Where the piece cannot be worked with
that count of repeats up, as a ring of a frame closes only around an odd number of rows, the next count that can be
worked is taken.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from dataclasses import KW_ONLY, dataclass, replace
from itertools import pairwise
from math import ceil
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from mosaickit.errors import MotifError, OptionError, number_of, shortly, text, whole_number
from mosaickit.gauge import Unit, to_cm
from mosaickit.motif import LARGEST_SIDE, checked_size
from mosaickit.sizes.designs.laying import LaidWay, ways_of
from mosaickit.sizes.widths.articles import ARTICLES
from mosaickit.wording import MOST_SIZES, check_size_name

if TYPE_CHECKING:
    from mosaickit.sizes.designs.design import Design

_LENGTH = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(cm|in)\s*", re.ASCII)
_PART = re.compile(
    r"\s*(?:(\d[\d,]*)\s+(?:repeats?\s+)?(across|up)|(\d[\d.,]*\s*(?:cm|in))\s+(wide|long))\s*", re.ASCII
)
_AS_LAID = "as the design is laid"
_PART_OF = {"across": "across", "up": "up", "wide": "width", "long": "length"}
_LARGEST_CM = 1e7
_SHORT_BY = 0.5
"""So much of a stitch or of a row a piece may lack: our choice, no source."""


@dataclass(frozen=True)
class NamedSize:
    """One of the sizes that a design comes in.

    Parameters
    ----------
    name : str
        1 to 30 characters, as "M" or "to 40"; without commas, colons, stars, brackets and quotes.
    across, up : int, optional
        How often the motif is laid; left out, as the design itself is laid.
    width, length : str, optional
        In place of these what the finished piece is to measure, with its unit, as "20 cm" or "8 in"; in the round the
        width is the way around. It is met by the fewest repeats that reach it, at the gauge of the design.

    Raises
    ------
    OptionError
        If one of them is not as described, or a count is given beside the size that it makes.

    Examples
    --------
    >>> print(NamedSize("S", across=3, up=5))
    S: 3 repeats across, 5 up
    >>> print(NamedSize("M", width="20 cm", length="64,5in"))
    M: 20 cm wide, 64.5 in long
    """

    name: str
    _: KW_ONLY
    across: int | None = None
    up: int | None = None
    width: str | None = None
    length: str | None = None

    def __post_init__(self) -> None:
        check_size_name(self.name)
        for count, wanted in (("across", "width"), ("up", "length")):
            number, size = getattr(self, count), getattr(self, wanted)
            if number is not None and size is not None:
                raise OptionError(
                    f"Size {self.name} says `{count}` and `{wanted}`, and one follows from the other: leave one out."
                )
            if number is not None:
                object.__setattr__(self, count, whole_number(count, number, least=1))
            if size is not None:
                number, unit = _measured(wanted, size)
                object.__setattr__(self, wanted, f"{number:.10g} {unit}")

    @classmethod
    def usual(cls, article: str, *, name: str = "", unit: Unit = "cm") -> NamedSize:
        """Give the size that an article usually has.

        Parameters
        ----------
        article : str
            One of `ARTICLES`, as "crib blanket", where each has the address of its source.
        name : str
            What the size is called; the article if nothing is said.
        unit : "cm" or "in"
            The unit in which it is kept: whole cm, or inches.

        Raises
        ------
        OptionError
            If there is no such article; the message names the nearest.

        Examples
        --------
        >>> print(NamedSize.usual("crib blanket", name="Crib", unit="in"))
        Crib: 45 in wide, 60 in long
        """
        if text("article", article) not in ARTICLES:
            near = difflib.get_close_matches(article, ARTICLES, n=3, cutoff=0.4)
            near += [each for each in ARTICLES if article.lower() in each and each not in near][:3] if article else []
            meant = f"did you mean {' or '.join(map(repr, near))}?" if near else f"known are {', '.join(ARTICLES)}."
            raise OptionError(f"No usual size is known of the `article` {shortly(article)}: {meant}")
        to_cm("width", 1, unit)  # which says what a unit may be
        wide, long = ARTICLES[article].size(unit)
        # a straight apostrophe may not stand in the name of a size
        return cls(name or article.replace("'", "’"), width=f"{wide:g} {unit}", length=f"{long:g} {unit}")

    @classmethod
    def from_text(cls, line: str) -> NamedSize:
        """Read a size as `str` writes it.

        Raises
        ------
        OptionError
            If the line says anything else; the message shows what it may say.

        Examples
        --------
        >>> NamedSize.from_text("M: 4 across, 160 cm long")
        NamedSize(name='M', across=4, up=None, width=None, length='160 cm')
        """
        name, colon, told = text("line", line).partition(":")
        found: dict[str, int | str] = {}
        for part in re.split(r",\s", told):
            said = _PART.fullmatch(part)
            if part.strip() == _AS_LAID and colon:
                continue
            if said is None or not colon or _PART_OF[said[2] or said[4]] in found:
                raise OptionError(
                    "A size is a line as 'M: 4 repeats across, 6 up' or 'M: 20 cm wide, 160 cm long'; got "
                    f"{shortly(line)}."
                )
            if said[2]:
                found[said[2]] = int(said[1].replace(",", ""))
            else:
                found[_PART_OF[said[4]]] = said[3]
        across, up, width, length = map(found.get, ("across", "up", "width", "length"))
        return cls(
            name.strip(),
            across=across if isinstance(across, int) else None,
            up=up if isinstance(up, int) else None,
            width=width if isinstance(width, str) else None,
            length=length if isinstance(length, str) else None,
        )

    @property
    def width_cm(self) -> float | None:
        """The wanted width in cm, if one was asked for."""
        return None if self.width is None else _cm(self.width)

    @property
    def length_cm(self) -> float | None:
        """The wanted length in cm, if one was asked for."""
        return None if self.length is None else _cm(self.length)

    def __str__(self) -> str:
        across = f"{self.width} wide" if self.width else self.across and f"{number_of(self.across, 'repeat')} across"
        up = f"{self.length} long" if self.length else self.up and f"{self.up:,}{'' if self.across else ' repeats'} up"
        return f"{self.name}: {', '.join(filter(None, (across or '', up or ''))) or _AS_LAID}"


def _measured(name: str, size: object) -> tuple[float, str]:
    found = _LENGTH.fullmatch(size) if isinstance(size, str) else None
    number = float(found[1].replace(",", ".")) if found else 0.0
    if found is None or not 0 < number <= _LARGEST_CM:
        raise OptionError(f"`{name}` must be a length with its unit, as '20 cm' or '8 in'; got {shortly(size)}.")
    return number, found[2]


def _cm(size: str) -> float:
    number, unit = _measured("size", size)
    return to_cm("size", number, "cm" if unit == "cm" else "in")


# ---- the sizes of a design ---------------------------------------------------------------------------------


class _Laid(NamedTuple):
    """How a size is laid, and the rows and stitches that it then has."""

    name: str
    across: int
    up: int
    shape: tuple[int, int]

    def __str__(self) -> str:
        rows, stitches = self.shape
        return f"{number_of(rows, 'row')} × {number_of(stitches, 'stitch')}"


def check_sizes(design: Design) -> None:
    """Raise `OptionError` unless sizes have names of their own, a gauge for what is wanted, and are in order."""
    names = [size.name for size in design.sizes]
    if len(names) > MOST_SIZES:
        raise OptionError(f"`sizes` must be at most {MOST_SIZES}; got {len(names)}.")
    for number, name in enumerate(names):
        if name in names[:number]:
            raise OptionError(f"Each of `sizes` has its own name, and {name!r} stands there twice.")
    _check_order([_laid(design, size) for size in design.sizes])


def designs_in_sizes(design: Design) -> Mapping[str, Design]:
    """Lay a design in each of its sizes; see `Design.in_sizes`."""
    found = {size.name: _design_in(design, size) for size in design.sizes}
    _check_order([_Laid(name, one.across, one.up, one.shape) for name, one in found.items()])
    return MappingProxyType(found)


def _check_order(laid: list[_Laid]) -> None:
    for before, after in pairwise(laid):
        if before.shape == after.shape:
            raise OptionError(
                f"Sizes {before.name} and {after.name} come out the same, {after.across} × {after.up} repeats: leave "
                "one of them out of `sizes`, or let them lie further apart."
            )
        if after.shape[0] * after.shape[1] < before.shape[0] * before.shape[1]:
            raise OptionError(
                f"`sizes` go from the smallest to the largest; size {after.name}, {after}, is smaller than size "
                f"{before.name} before it, {before}: put {after.name} before {before.name}."
            )


def _laid(design: Design, size: NamedSize) -> _Laid:
    """Count the repeats that a size takes, whether they can be worked or not."""
    across, up = size.across or design.across, size.up or design.up
    wanted = _wanted(design, size)
    if design.bands is not None:
        return _laid_in_bands(design, size, wanted, across, up)
    along, above = ways_of(design.motif, 1, 1, design.surround, design.laying, design.seam)
    rows, stitches = design.surround.around((above.closing + above.shared, along.closing + along.shared))
    if wanted[0] is not None:
        across = _fewest(f"Size {size.name} of {size.width} wide", wanted[0] - stitches, along)
    if wanted[1] is not None:
        up = _fewest(f"Size {size.name} of {size.length} long", wanted[1] - rows, above)
    ways = ways_of(design.motif, across, up, design.surround, design.laying, design.seam)
    shape = design.surround.around((ways[1].whole, ways[0].whole))
    try:
        checked_size(*shape)
    except MotifError as error:
        raise OptionError(f"Size {size.name} of `sizes` is too large: {error}") from None
    return _Laid(size.name, across, up, shape)


def _wanted(design: Design, size: NamedSize) -> tuple[float | None, float | None]:
    """Give how many stitches and rows a wanted width and length are, without what a border adds; None if not wanted."""
    if size.width is None and size.length is None:
        return None, None
    if design.gauge is None:
        raise OptionError(
            f"Size {size.name} of `sizes` says what the piece is to measure, and the design has no gauge to count "
            "repeats by: give it one, as `design.but(gauge=mk.Gauge(16, 18))`, or say `across` and `up`."
        )
    wider, longer = design.edging.adds_cm
    return (
        None if size.width_cm is None else (size.width_cm - wider) / design.gauge.stitch_width_cm,
        None if size.length_cm is None else (size.length_cm - longer) / design.gauge.row_height_cm,
    )


def _laid_in_bands(
    design: Design, size: NamedSize, wanted: tuple[float | None, float | None], across: int, up: int
) -> _Laid:
    """Count the field's repeats of a piece of bands, which asks its layout for every count."""
    one = design.but(sizes=())
    stitches, rows = wanted
    try:
        if stitches is not None:
            counts = one.layout.counts_across
            across = next((n for n in counts if one.but(across=n).shape[1] >= stitches - _SHORT_BY), 0)
        if rows is not None and across:
            ups = range(1, LARGEST_SIDE + 1)
            up = next((n for n in ups if one.but(across=across, up=n).shape[0] >= rows - _SHORT_BY), 0)
        if across and up:
            return _Laid(size.name, across, up, one.but(across=across, up=up).shape)
    except MotifError as error:
        raise OptionError(f"Size {size.name} of `sizes` is too large: {error}") from None
    raise OptionError(f"Size {size.name} of `sizes` cannot be reached by repeats of the field among these bands.")


def _fewest(what: str, wanted: float, way: LaidWay) -> int:
    """Give the fewest repeats that reach a count of stitches or rows, or come within half a stitch or row of it."""
    if way.step == 0:
        if wanted > _SHORT_BY:
            raise OptionError(f"{what} cannot be reached: with a shared seam, repeats of 1 add nothing.")
        return 1
    return max(1, ceil((wanted - _SHORT_BY) / way.step - 1e-9))


def _design_in(design: Design, size: NamedSize) -> Design:
    """Lay a design in one size: with the counts it takes, or the next that can be worked where they follow."""
    laid = _laid(design, size)
    drops = design.laying == "half-drop"  # a drop moves the joins, so there repeats across decide too
    more_across = (0, 1) if size.width is not None and drops else (0,)
    more_up = (0, 1, 2) if size.length is not None else (0,)
    found = design.but(across=laid.across, up=laid.up, sizes=())
    for across, up in ((laid.across + i, laid.up + j) for i in more_across for j in more_up):
        try:
            one = design.but(across=across, up=up, sizes=())
        except MotifError:
            continue  # larger than a picture may be
        if one.layout.workable:
            found = one
            break
    own = design.publishing
    if found.shape == design.shape or design.gauge is None or not (own.blocked_cm or own.unblocked_cm):
        return found
    shares = [new / old for new, old in zip(found.size, design.size, strict=True)]

    def taken_over(pair: tuple[float, float] | None) -> tuple[float, float] | None:
        return pair and (round(pair[0] * shares[0], 1), round(pair[1] * shares[1], 1))

    blocked, unblocked = taken_over(own.blocked_cm), taken_over(own.unblocked_cm)
    return found.but(publishing=replace(own, blocked_cm=blocked, unblocked_cm=unblocked))


def sizes_in_words(design: Design) -> tuple[str, ...]:
    """Say of each size how it is laid and what it then measures, and what was wanted; see `Design.sizes_in_words`."""
    said = []
    for size in design.sizes:
        one = design.in_sizes[size.name]
        rows, stitches = one.shape
        told = (
            f"{size.name}: {one.across} × {one.up} repeats, {number_of(rows, 'row')} × {number_of(stitches, 'stitch')}"
        )
        told += "" if one.gauge is None else f", {one.size}"
        wanted = " and ".join(
            filter(None, (size.width and f"{size.width} wide", size.length and f"{size.length} long"))
        )
        said.append(f"{told}; wanted {wanted}" if wanted else told)
    return tuple(said)
