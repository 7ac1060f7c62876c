"""The motif: a frozen picture in two colours, as it is seen.

A motif holds its squares as an array, row 0 on top and column 0 at the left, True where the contrasting colour
(CC) shows; the colour of row 1, from which the row colours alternate; the yarns that play the two roles; and a
name. It is a value: it never changes, two motifs with the same content are equal, and every verb that would
change one gives back a new one. It holds pictures that cannot be worked just as well: `rules.check` judges.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mosaickit import orientation, svg
from mosaickit.colours import Yarns, checked_name
from mosaickit.errors import MotifError, number_of
from mosaickit.orientation import ROLES, Role

LARGEST_SIDE = 10_000
"""No motif has more rows or more columns than this: a blanket of fine yarn has about 2,000."""

LARGEST_AREA = 16_000_000
"""No motif has more squares than this, so that a file cannot ask for all the memory there is."""

MC_CHARACTER, CC_CHARACTER = ".", "#"


def checked_size(rows: int, columns: int) -> tuple[int, int]:
    """Return a size that a motif may have, or raise `MotifError`."""
    if rows < 1 or columns < 1:
        raise MotifError(f"A motif must have at least 1 row and 1 column; got {rows} × {columns}.")
    if max(rows, columns) > LARGEST_SIDE or rows * columns > LARGEST_AREA:
        raise MotifError(
            f"A motif may have at most {LARGEST_SIDE:,} rows or columns and {LARGEST_AREA:,} squares in all; "
            f"got {rows:,} × {columns:,}."
        )
    return rows, columns


def fits_a_screen(shape: tuple[int, int]) -> bool:
    """Whether a picture of so many rows and columns is written out where its value is shown."""
    rows, columns = shape
    return rows <= 40 and columns <= 100


def parse_rows(
    lines: list[str], characters: str = MC_CHARACTER + CC_CHARACTER, line_number: Callable[[int], int] = int
) -> NDArray[np.bool_]:
    """Read equally long lines of two characters into squares.

    Parameters
    ----------
    lines : list of str
        The rows of the picture, the top one first; not stripped.
    characters : str
        The one for MC, then the one for CC.
    line_number : function
        Turns an index into `lines` into what an error calls that line.

    Returns
    -------
    bool array, (R, C)
        As seen, True for CC.

    Raises
    ------
    MotifError
        Naming line and column of the first unknown character, or the first line of another length.
    """
    if not lines or not lines[0]:
        raise MotifError("The picture is empty: a motif needs at least one line of squares.")
    checked_size(len(lines), len(lines[0]))
    for index, line in enumerate(lines):
        unknown = line.translate(str.maketrans("", "", characters))
        if unknown:
            column = line.index(unknown[0]) + 1
            raise MotifError(
                f"Line {line_number(index)}, column {column}: expected {characters[0]!r} for MC or "
                f"{characters[1]!r} for CC, found {unknown[0]!r}."
            )
        if len(line) != len(lines[0]):
            raise MotifError(
                f"Line {line_number(index)} has {number_of(len(line), 'square')}, but line {line_number(0)} has "
                f"{len(lines[0])}: all rows of a picture are equally long."
            )
    codes = np.frombuffer("".join(lines).encode("ascii"), dtype=np.uint8)
    return np.equal(codes.reshape(len(lines), -1), ord(characters[1]))


@dataclass(frozen=True, eq=False, repr=False)
class Motif:
    """A picture in two colours, as seen; see `from_text` and `from_array` for other ways to make one.

    Parameters
    ----------
    grid : bool array, (R, C)
        As seen: row 0 on top, column 0 at the left; True where CC shows. Copied and kept read-only.
    first : "MC" or "CC"
        The colour of row 1, the bottom row; row colours alternate from there.
    yarns : Yarns
        The yarns that play MC and CC, by row.
    name : str
        What its maker calls it; one line, may be empty.

    Raises
    ------
    MotifError
        If `grid` is not a boolean array of two dimensions, or too large; if `first` is not a colour; if a yarn
        starts above row R.

    Examples
    --------
    >>> leaf = Motif.from_text('''
    ... ...
    ... .#.
    ... ...
    ... ''')
    >>> leaf.shape, leaf.first
    ((3, 3), 'MC')
    """

    grid: NDArray[np.bool_]
    first: Role = "MC"
    yarns: Yarns = field(default_factory=Yarns)
    name: str = ""

    def __post_init__(self) -> None:
        grid = np.asarray(self.grid)
        if grid.dtype != np.bool_ or grid.ndim != 2:
            raise MotifError(
                "A motif's grid must be a boolean array of two dimensions, True for CC; "
                f"got {grid.ndim} dimensions of {grid.dtype}."
            )
        checked_size(*grid.shape)
        if not isinstance(self.first, str) or self.first not in ROLES:
            raise MotifError(f"The colour of row 1 must be 'MC' or 'CC'; got {self.first!r}.")
        if not isinstance(self.yarns, Yarns):
            raise MotifError(f"A motif's yarns must be `Yarns`; got {self.yarns!r}.")
        last = max(self.yarns.mc[-1][0], self.yarns.cc[-1][0])
        if last > len(grid):
            raise MotifError(
                f"A motif's yarns must not change above its last row, {len(grid)}; they change at row {last}. Give "
                "yarns for more rows to the finished picture, with `with_yarns`."
            )
        checked_name("A motif's name", self.name)
        grid = np.array(grid, dtype=np.bool_, order="C")
        grid.flags.writeable = False
        object.__setattr__(self, "grid", grid)

    # ---- making one --------------------------------------------------------------------------------------

    @classmethod
    def from_text(cls, text: str, first: Role = "MC", *, yarns: Yarns | None = None, name: str = "") -> Motif:
        """Read a picture from text: ``.`` for MC and ``#`` for CC, the top row first.

        Spaces around a line and empty lines before and after the picture do not count, so that a picture may
        stand indented in code.

        Raises
        ------
        MotifError
            If a line holds another character or is longer or shorter than the first, naming where.
        """
        if not isinstance(text, str):
            raise MotifError(f"A picture in text must be a str; got {text!r}.")
        lines = [line.strip() for line in text.splitlines()]
        start = next((index for index, line in enumerate(lines) if line), len(lines))
        end = next((index for index in range(len(lines), start, -1) if lines[index - 1]), start)
        grid = parse_rows(lines[start:end], line_number=lambda index: start + index + 1)
        return cls(grid, first, yarns if yarns is not None else Yarns(), name)

    @classmethod
    def from_array(cls, as_seen: ArrayLike, first: Role = "MC", *, yarns: Yarns | None = None, name: str = "") -> Motif:
        """Make a motif from a boolean array, or one of 0 and 1, (R, C) as seen, in which True or 1 is CC.

        Raises
        ------
        MotifError
            If the array is ragged, not of two dimensions, or holds anything but 0, 1, False and True.
        """
        try:
            grid = np.asarray(as_seen)
        except ValueError:  # NumPy's own word for ragged lists
            raise MotifError("The rows of a picture must be equally long; these are ragged.") from None
        if grid.ndim != 2:
            raise MotifError(f"A picture must have two dimensions, rows and columns; got {grid.ndim}.")
        if grid.dtype != np.bool_:
            if grid.dtype.kind not in "iuf":
                raise MotifError(f"A picture must hold 0 and 1 or booleans; got {grid.dtype}.")
            wrong = np.argwhere((grid != 0) & (grid != 1))
            if len(wrong):
                top, left = (int(i) for i in wrong[0])
                raise MotifError(
                    f"Line {top + 1}, column {left + 1}: expected 0 for MC or 1 for CC, found {grid[top, left]}."
                )
        return cls(grid.astype(np.bool_), first, yarns if yarns is not None else Yarns(), name)

    def with_grid(self, grid: NDArray[np.bool_], first: Role | None = None, yarns: Yarns | None = None) -> Motif:
        """Give the same motif with other squares, (R, C) as seen, and perhaps another row 1 or other yarns."""
        return Motif(grid, first or self.first, yarns or self.yarns, self.name)

    def with_overlaid(
        self, overlaid: NDArray[np.bool_], first: Role | None = None, yarns: Yarns | None = None
    ) -> Motif:
        """Give the picture in which exactly these squares, (R, C) as seen, are overlaid, whatever is in it now.

        Examples
        --------
        >>> print(Motif.from_text("..").with_overlaid(np.array([[False, True], [True, False]])).to_text())
        #.
        #.
        """
        rows = self.with_grid(overlaid, first, yarns)
        return rows.with_grid(rows.grid ^ rows.row_is_cc)

    def with_yarns(self, yarns: Yarns) -> Motif:
        """Give the same picture in other yarns."""
        return replace(self, yarns=yarns)

    def named(self, name: str) -> Motif:
        """Give the same motif under another name."""
        return replace(self, name=name)

    # ---- reading it --------------------------------------------------------------------------------------

    @cached_property
    def shape(self) -> tuple[int, int]:
        """(R, C): rows and columns, the latter being the stitches of a row."""
        rows, columns = self.grid.shape
        return rows, columns

    @cached_property
    def row_is_cc(self) -> NDArray[np.bool_]:
        """Which rows are worked in CC, (R, 1) as seen, so that it broadcasts over `grid`."""
        working = orientation.contrast_rows(self.shape[0], self.first)
        return read_only(orientation.to_working(working[:, np.newaxis]))

    @cached_property
    def overlaid(self) -> NDArray[np.bool_]:
        """Which squares are overlaid, (R, C) as seen: those that do not show their row's colour."""
        return read_only(self.grid ^ self.row_is_cc)

    @cached_property
    def shown_rows(self) -> NDArray[np.int64]:
        """The row whose yarn each square shows, (R, C) as seen.

        An overlaid square shows the yarn of the row above it, whose double crochet hangs over it. (Above row R
        there is none: such a square, which cannot be worked, is shown in the yarns of row R.)
        """
        rows = self.shape[0]
        return read_only(np.minimum(orientation.row_numbers(rows)[:, np.newaxis] + self.overlaid, rows))

    def to_text(self) -> str:
        """Write the picture as text, the top row first: ``.`` for MC, ``#`` for CC, no line break at the end."""
        codes = np.where(self.grid, np.uint8(ord(CC_CHARACTER)), np.uint8(ord(MC_CHARACTER)))
        return "\n".join(row.tobytes().decode("ascii") for row in codes)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Motif):
            return NotImplemented
        return (
            np.array_equal(self.grid, other.grid)
            and self.first == other.first
            and self.yarns == other.yarns
            and self.name == other.name
        )

    def __hash__(self) -> int:
        return hash((self.grid.tobytes(), self.shape, self.first, self.yarns, self.name))

    def __getstate__(self) -> dict[str, Any]:
        # what is worked out on use stays behind
        return {name: self.__dict__[name] for name in ("grid", "first", "yarns", "name")}

    def __setstate__(self, state: dict[str, Any]) -> None:
        self.__dict__.update(state)
        self.grid.flags.writeable = False

    @property
    def summary(self) -> str:
        """One line: name, size, colour of row 1 and share of CC."""
        rows, columns = self.shape
        name = f"{self.name}: " if self.name else ""
        size = f"{number_of(rows, 'row')} × {number_of(columns, 'stitch')}"
        return f"{name}{size}, row 1 in {self.first}, {self.grid.mean():.0%} of squares CC"

    def __repr__(self) -> str:
        if fits_a_screen(self.shape):
            return f"<Motif {self.summary}>\n{self.to_text()}"
        return f"<Motif {self.summary}>"

    def _repr_svg_(self) -> str:
        return svg.notebook_picture(
            self.grid,
            lambda window: svg.yarn_colours(self.grid[window], self.shown_rows[window], self.yarns),
            title=self.summary,
        )


def read_only(array: NDArray[Any]) -> NDArray[Any]:
    """Close an array that was just made to writing, and give it."""
    array.flags.writeable = False
    return array
