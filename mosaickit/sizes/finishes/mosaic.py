"""A mosaic border around a design: which counts of repeats a strip fits on all four sides, found exactly.

The border is worked in the rows of the piece, as a frame is; rounds of mosaic around a finished piece would need joins
and turned stitches for which no practice is known, so there are none here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from mosaickit.errors import OptionError, number_of, of_kind, shortly, whole_number
from mosaickit.motif import Motif, border_works, checked_size, fitting_remainders, mosaic_border, side_fits, strip_marks
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.layouts.surround import Surround

MOST_BORDERS_TRIED = 100_000
"""No more pairs of counts, with all starts of the strip, are tried at once."""


@dataclass(frozen=True, repr=False)
class BorderFit:
    """Counts of repeats that a strip fits around, and where it starts.

    Attributes
    ----------
    design : Design
        What is inside, with these counts of repeats and without edge stitches.
    strip : Motif
        The strip.
    start : int
        The stitch of the strip that stands in the corners, from 1.
    edges : int
        The plain edge stitches beside the border.
    """

    design: Design
    strip: Motif
    start: int
    edges: int

    @property
    def across(self) -> int:
        """Repeats along a row."""
        return self.design.across

    @property
    def up(self) -> int:
        """Repeats one above the other."""
        return self.design.up

    @property
    def shape(self) -> tuple[int, int]:
        """(rows, stitches) of the whole piece, with border and edge stitches."""
        (rows, stitches), rings = self.design.shape, self.strip.shape[0]
        return rows + 2 * rings, stitches + 2 * rings + 2 * self.edges

    @cached_property
    def motif(self) -> Motif:
        """The picture with its border, without edge stitches."""
        return mosaic_border(self.design.picture, self.strip, start=self.start)

    @cached_property
    def bordered(self) -> Design:
        """The design of the whole piece: its motif is the picture with the border, laid once."""
        surround = Surround(edges=self.edges)
        return self.design.but(motif=self.motif, across=1, up=1, laying="straight", surround=surround)

    @property
    def counted(self) -> Design:
        """The same design with the border in its surround: its repeats stay what they are, and all is counted.

        Raises
        ------
        OptionError
            If it has a frame or plain rows, which a surround has outside of a border; `bordered` holds them.
        """
        surround = self.design.surround
        said = next((name for name in ("rings", "rows_below", "rows_above") if getattr(surround, name)), None)
        if said is not None:
            raise OptionError(
                f"`{said}` of this design lies inside the border, but a border that is counted goes right around the "
                "repeats: leave it out, or take `bordered`, whose motif is the whole picture."
            )
        return self.design.but(strip=self.strip, strip_start=self.start, edges=self.edges)

    def __str__(self) -> str:
        rows, stitches = self.shape
        size = f"{number_of(stitches, 'stitch')} × {number_of(rows, 'row')}"
        said = f"{self.across} × {self.up} repeats, start {self.start}: {size}"
        if self.design.gauge is None:
            return said
        width, length = self.design.gauge.size_cm(rows, stitches)
        return f"{said}, {width:.1f} × {length:.1f} cm"

    def __repr__(self) -> str:
        return f"<BorderFit {self}>"


@dataclass(frozen=True, repr=False)
class BorderPlan:
    """All counts of repeats that a strip fits around.

    Attributes
    ----------
    design : Design
        What is inside.
    strip : Motif
        The strip.
    fits : tuple of BorderFit
        Those that turn the corners in symmetry and can be worked, by repeats across, then up, then start.
    """

    design: Design
    strip: Motif
    fits: tuple[BorderFit, ...]

    @property
    def multiples(self) -> tuple[tuple[int, int, int], ...]:
        """What the strip asks of a side, corners included: (start, a multiple of this, plus this)."""
        count = self.strip.shape[1]
        return tuple(
            (start, count, remainder)
            for start in range(1, count + 1)
            for remainder in fitting_remainders(self.strip, start)
        )

    def __str__(self) -> str:
        rings, count = self.strip.shape
        lines = [f"Border of {number_of(rings, 'ring')}, a repeat of {number_of(count, 'stitch')}."]
        sides: dict[tuple[int, int], list[int]] = {}
        for start, multiple, plus in self.multiples:
            sides.setdefault((multiple, plus), []).append(start)
        lines += [
            f"Started with stitch {' or '.join(map(str, starts))}, it turns the corners where all sides are a multiple "
            f"of {multiple}{f' plus {plus}' if plus else ''}, corners included."
            for (multiple, plus), starts in sides.items()
        ]
        if self.fits:
            lines.append(f"{number_of(len(self.fits), 'fit')}:")
        else:
            lines.append(
                "No count of repeats that was tried fits: change what closes the repeats, `balance_across` or "
                "`balance_up`, or the strip."
            )
        return "\n".join([*lines, *(f"  {fit}" for fit in self.fits[:20])])

    def __repr__(self) -> str:
        return f"<BorderPlan {number_of(len(self.fits), 'fit')}>"


def border_fits(
    design: Design, strip: Motif, *, across: int | Iterable[int] = range(1, 21), up: int | Iterable[int] = range(1, 21)
) -> BorderPlan:
    """Find the counts of repeats around which a strip fits on all four sides and turns the corners in symmetry.

    Parameters
    ----------
    design : Design
        What is inside: its repeats with what closes them, a frame and plain rows. Edge stitches go outside the border,
        and a border that it has already is left out.
    strip : Motif
        (rings, stitches), as `mosaic_border` takes it.
    across, up : int, or several
        The counts of repeats that are tried; 1 to 20 if nothing is said.

    Returns
    -------
    BorderPlan
        With ``.fits``, of which each gives the whole piece as ``.counted``, with its repeats, or as ``.bordered``, a
        design of one large motif; empty if none fits.

    Raises
    ------
    OptionError
        If an argument is not as described, the design is in the round, or there are more than 100,000 pairs to try.

    Examples
    --------
    >>> brick = Design(Motif.from_text('''
    ... ....
    ... #..#
    ... ....
    ... '''))
    >>> strip = Motif.from_text('''
    ... ....
    ... #.##
    ... ....
    ... ''')
    >>> plan = border_fits(brick.but(balance_across=3, colours="swap"), strip, across=1, up=[1, 2, 3, 5])
    >>> print(plan)
    Border of 3 rings, a repeat of 4 stitches.
    Started with stitch 1 or 3, it turns the corners where all sides are a multiple of 4 plus 3, corners included.
    Started with stitch 2 or 4, it turns the corners where all sides are a multiple of 4 plus 1, corners included.
    4 fits:
      1 × 1 repeats, start 2: 15 stitches × 9 rows
      1 × 1 repeats, start 4: 15 stitches × 9 rows
      1 × 5 repeats, start 2: 15 stitches × 21 rows
      1 × 5 repeats, start 4: 15 stitches × 21 rows
    """
    of_kind("design", design, Design)
    marks = strip_marks(strip)
    if design.surround.in_the_round:
        raise OptionError("`design` must be worked flat: in the round it has no sides for a border to go up.")
    counts = {name: _counts(name, given) for name, given in (("across", across), ("up", up))}
    starts = strip.shape[1]
    tried = len(counts["across"]) * len(counts["up"]) * starts
    if tried > MOST_BORDERS_TRIED:
        raise OptionError(
            f"These are {tried:,} pairs of `across` and `up` with the starts of the strip; the most are "
            f"{MOST_BORDERS_TRIED:,}, so give fewer."
        )
    inside, rings = design.but(edges=0, strip=None, strip_start=1), len(marks)
    found = []
    for one in (inside.but(across=many, up=high) for many in counts["across"] for high in counts["up"]):
        if not one.layout.workable:
            continue
        rows, stitches = (side + 2 * rings for side in one.shape)
        for start in range(1, starts + 1):
            if not (side_fits(marks, rows, start - 1) and side_fits(marks, stitches, start - 1)):
                continue
            checked_size(rows, stitches)
            if border_works(marks, rows, stitches, start - 1):
                found.append(BorderFit(one, strip, start, design.surround.edge_stitches))
    return BorderPlan(design, strip, tuple(found))


def _counts(name: str, given: object) -> list[int]:
    if isinstance(given, Iterable) and not isinstance(given, str | bytes):
        counts = [whole_number(f"{name}[{at}]", value, least=1) for at, value in enumerate(given)]
        if not counts:
            raise OptionError(f"`{name}` must be one count of repeats or several; got {shortly(given)}.")
        return counts
    return [whole_number(name, given, least=1)]
