"""Surround: all that stands around the repeats of a piece, as one value that goes from verb to verb.

What makes no sense whatever the motif is refused when the value is made; what only a motif of a size can refuse, the
closing stitches and rows, when that size is known (`Surround.closing`). Nothing else checks any of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import KW_ONLY, dataclass, fields, replace
from functools import lru_cache
from itertools import product
from math import prod
from typing import Any, Literal

import numpy as np

from mosaickit.errors import OptionError, as_whole, number_of, of_kind, one_of, shortly, true_or_false, whole_number
from mosaickit.motif import COLOURS, LARGEST_SIDE, Colours, Motif, check_sides

MOST_SURROUNDS = 100_000
"""No more combinations than this are made at once."""

_NUMBERS = {
    "balance_across": ", or 'half'",
    "balance_up": "",
    "rings": "",
    "edges": ", or None",
    "rows_below": "",
    "rows_above": "",
}
"""The numbers, and what each may be besides."""


@dataclass(frozen=True, repr=False)
class Surround:
    """What stands around the repeats of a piece.

    From the inside out: after the last repeat, in working order for a right-hander, the first stitches and rows of the
    repeat once more, so that rows can begin and end alike; a frame; edge stitches and plain rows.

    Parameters
    ----------
    balance_across : int or "half"
        How many of the repeat's C stitches, the first ones, close each row: 0 to C − 1, or half of them, rounded down.
    balance_up : int
        How many of its R rows, the first ones, close the fabric: 0 to R − 1.
    rings : int
        The rings of a frame, as `frame` makes them.
    edges : int, optional
        Plain edge stitches at each side; None for 1, and for none in the round.
    rows_below, rows_above : int
        Plain rows.
    colours : "keep" or "swap"
        What happens to every second repeat up if R is odd: see `repeat`. Frame and plain rows leave the colours of the
        squares inside alone; row 1 takes the colour that follows.
    in_the_round : bool
        Whether the last stitch of a row meets its first.
    strip : Motif, optional
        A strip that stands as a mosaic border around the repeats in place of a frame, as `mosaic_border` takes it.
    strip_start : int
        The stitch of the strip that stands in the corners, from 1.

    Raises
    ------
    OptionError
        If a number is not as described or above 10,000, the most rows or columns of a picture; or if edges, closing
        stitches, a frame or a strip are asked for in the round, or a frame and a strip.

    Examples
    --------
    >>> Surround(rings=2).edge_stitches, Surround(in_the_round=True).edge_stitches
    (1, 0)
    >>> [(one.rings, one.edges) for one in Surround.each(edges=[1, 2], rings=[0, 1])]
    [(0, 1), (0, 2), (1, 1), (1, 2)]
    """

    _: KW_ONLY
    balance_across: int | Literal["half"] = 0
    balance_up: int = 0
    rings: int = 0
    edges: int | None = None
    rows_below: int = 0
    rows_above: int = 0
    colours: Colours = "keep"
    in_the_round: bool = False
    strip: Motif | None = None
    strip_start: int = 1

    def __post_init__(self) -> None:
        own = self.__dict__
        for name, or_else in _NUMBERS.items():
            value = own[name]
            if (name == "edges" and value is None) or (name == "balance_across" and _is_half(value)):
                continue
            number = as_whole(value)
            if number is None or not 0 <= number <= LARGEST_SIDE:
                raise OptionError(
                    f"`{name}` must be a whole number from 0 to {LARGEST_SIDE:,}{or_else}; got {shortly(value)}."
                )
            own[name] = number
        one_of("colours", self.colours, COLOURS)
        own["in_the_round"] = true_or_false("in_the_round", self.in_the_round)
        if self.in_the_round and (self.edges or self.balance_across or self.rings):
            raise OptionError(
                "In the round the last stitch meets the first, so there are no edges to close: `edges`, "
                f"`balance_across` and `rings` must be 0; got {self.edges}, {self.balance_across!r} and {self.rings}."
            )

        of_kind("strip", self.strip, Motif, or_none=True)
        own["strip_start"] = whole_number("strip_start", self.strip_start, least=1, most=LARGEST_SIDE)
        if self.strip is not None and (self.rings or self.in_the_round):
            why = "a strip has rings of its own" if self.rings else "in the round there are no sides for it to go up"
            raise OptionError(f"`strip` does not go with `{'rings' if self.rings else 'in_the_round'}`: {why}.")

    def __repr__(self) -> str:
        """Write what was said; what is usual is left out."""
        here = {each.name: (getattr(self, each.name), each.default) for each in fields(self)}
        if self.strip is not None:
            here["strip"] = self.strip.name or "a motif", None
        said = (f"{name}={value!r}" for name, (value, usual) in here.items() if value != usual)
        return f"{type(self).__name__}({', '.join(said)})"

    @classmethod
    def each(
        cls,
        *,
        balance_across: int | Literal["half"] | Sequence[int | Literal["half"]] = 0,
        balance_up: int | Sequence[int] = 0,
        rings: int | Sequence[int] = 0,
        edges: int | Sequence[int | None] | None = None,
        rows_below: int | Sequence[int] = 0,
        rows_above: int | Sequence[int] = 0,
        colours: Colours | Sequence[Colours] = "keep",
        in_the_round: bool | Sequence[bool] = False,
        strip: Motif | Sequence[Motif | None] | None = None,
        strip_start: int | Sequence[int] = 1,
    ) -> tuple[Surround, ...]:
        """Give every combination of some values of each, for a batch.

        Parameters
        ----------
        balance_across, balance_up, rings, edges, rows_below, rows_above, colours, in_the_round, strip, strip_start
            One value as `Surround` takes it, or several in a list or range.

        Returns
        -------
        tuple of Surround
            In the order of the values; `balance_across` changes most slowly and `strip_start` fastest, in the order
            of the parameters whatever order they are given in.

        Raises
        ------
        OptionError
            If there are more than 100,000, a value is not as described, or one combination makes no sense.
        """
        given: tuple[Any, ...] = (
            *(balance_across, balance_up, rings, edges),
            *(rows_below, rows_above, colours, in_the_round, strip, strip_start),
        )
        names = [each.name for each in fields(cls)]
        several = [value if _is_several(value) else [value] for value in given]
        counts = [count_of(values) for values in several]
        for name, count in zip(names, counts, strict=True):
            if not count:
                raise OptionError(f"`{name}` is empty: give one value, or several to choose from.")
        if prod(counts) > MOST_SURROUNDS:
            raise OptionError(
                f"These are {prod(counts):,} combinations; the most are {MOST_SURROUNDS:,}, so leave some out."
            )
        try:
            return tuple(cls(**dict(zip(names, values, strict=True))) for values in product(*several))
        except OptionError as error:
            if in_the_round is True or not str(error).startswith("In the round"):
                raise
            raise OptionError(
                f"{error} Make those in the round by themselves, and add the two: "
                "Surround.each(…) + Surround.each(in_the_round=True, …)."
            ) from None

    @property
    def edge_stitches(self) -> int:
        """The plain edge stitches at each side: 1 if nothing is said of them, none in the round."""
        return int(not self.in_the_round) if self.edges is None else self.edges

    @property
    def rings_around(self) -> int:
        """The rings around the repeats: of a frame, or of a mosaic border."""
        return self.rings if self.strip is None else self.strip.shape[0]

    def closed_by(self, balance_across: int, balance_up: int) -> Surround:
        """Say every number of it: what closes a row, what closes the fabric, and the edge stitches."""
        return _closed_by(self, balance_across, balance_up)

    def around(self, inner: tuple[int, int]) -> tuple[int, int]:
        """Give the (rows, stitches) of a piece from those of its repeats with what closes them.

        Raises
        ------
        OptionError
            If a strip does not turn the corners around repeats of this size; names the nearest counts that fit.
        """
        rows, stitches = (side + 2 * self.rings_around for side in inner)
        if self.strip is not None:
            check_sides(self.strip, self.strip_start, (rows, stitches))
        return rows + self.rows_below + self.rows_above, stitches + 2 * self.edge_stitches

    def closing(self, shape: tuple[int, int]) -> tuple[int, int]:
        """Give how many stitches close each row, and how many rows the fabric.

        Parameters
        ----------
        shape : (int, int)
            The rows and stitches of the repeat.

        Raises
        ------
        OptionError
            If that is all of the repeat, or more than it has.
        """
        rows, columns = shape
        across = columns // 2 if isinstance(self.balance_across, str) else self.balance_across
        for name, closing, all_, what in (
            ("balance_across", across, columns, "stitch"),
            ("balance_up", self.balance_up, rows, "row"),
        ):
            if closing >= all_:
                raise OptionError(
                    f"`{name}` must be below the {number_of(all_, what)} of the repeat, of which it is a part; "
                    f"got {closing}."
                )
        return across, self.balance_up


def check_any_count(surround: Surround) -> None:
    """Raise `OptionError` if a surround goes around few counts of repeats only, where any count is tried."""
    if surround.strip is not None:
        raise OptionError(
            "A mosaic border turns its corners around few counts of repeats: `border_fits` finds the counts; or leave "
            "out `strip`."
        )


@lru_cache(maxsize=256)  # a design that is changed asks for the same one again and again
def _closed_by(surround: Surround, balance_across: int, balance_up: int) -> Surround:
    return replace(surround, edges=surround.edge_stitches, balance_across=balance_across, balance_up=balance_up)


def _is_half(value: object) -> bool:
    return isinstance(value, str) and value == "half"


def _is_several(value: object) -> bool:
    return isinstance(value, list | tuple | range) or (isinstance(value, np.ndarray) and value.ndim > 0)


def count_of(values: Any) -> int:  # noqa: ANN401 — whatever has a length
    """Count the values of a list, an array or a range, however long."""
    if isinstance(values, range):  # of more than the machine's own numbers `len` fails
        return max(0, -((values.start - values.stop) // values.step))
    return len(values)


USUAL_SURROUND = Surround()
"""What stands around repeats if nothing is said: an edge stitch at each side."""
