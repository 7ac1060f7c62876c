"""Chance: how many workable motifs there are, and one of them drawn so that each is as likely as any other.

Everything is said in overlaid squares. Symmetries and repeats make some squares agree; such a class of squares is
overlaid or plain as a whole. Classes that hold neighbours in a column cannot both be overlaid, and no class in row 1
or the last row can be, nor one that is its own neighbour. What is left falls apart into chains of classes, some of
them closed to rings, and the chains know nothing of one another. The fillings of one chain are counted from its far
end by whole numbers, exactly; to draw one, a single whole number below the count is drawn, and the counts say square
by square which filling has that number. Where the number of overlaid squares is given, the counts are kept by that
number too, and the squares are first dealt out to the chains.

Nothing is rounded, so nothing is biased: numbers too large for the machine are Python's own.

With an odd number of rows between two squares that agree, one is the colour swap of the other, as in `repair`.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import ceil, floor, prod
from typing import Any, overload

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import Yarns
from mosaickit.errors import OptionError, one_of, whole_number, within
from mosaickit.motif import Motif, checked_size
from mosaickit.orientation import ROLES, Role
from mosaickit.repair import Symmetry, period, with_the_third
from mosaickit.transforms import COLOURS, Colours

Numbers = NDArray[Any]
"""Counts: uint64 where all of them fit, Python ints otherwise."""


def count_motifs(
    rows: int,
    stitches: int,
    *,
    symmetry: Symmetry | Iterable[Symmetry] = (),
    repeat_across: int | None = None,
    repeat_up: int | None = None,
    repeats_up: bool = False,
    colours: Colours = "swap",
    overlaid: int | tuple[int, int] | None = None,
    fldc_share: tuple[float, float] | None = None,
) -> int:
    """Count the workable motifs of a size, exactly.

    Parameters
    ----------
    rows, stitches : int
        The size, 1 or more each. The colour of row 1 is one or the other; motifs are counted for one of them.
    symmetry : "mirror", "up-down", "half-turn", or several of them
        Symmetries that they must have (two of them make the third).
    repeat_across, repeat_up : int, optional
        They must repeat every so many stitches, or rows.
    repeats_up : bool
        Whether they are one repeat of something taller, so that row 1 lies above the last row and neither is an end.
    colours : "swap" or "keep"
        Upside down an even number of rows, and repeated an odd number of rows further up, a picture is the same only
        with its colours swapped: take it so, or refuse such sizes.
    overlaid : int or (least, most), optional
        How many squares must be overlaid; each is an FLdc.
    fldc_share : (least, most), optional
        The same as shares of all squares, from 0 to 1.

    Returns
    -------
    int
        0 if there is none.

    Raises
    ------
    OptionError
        If an option has no meaning, or the size does not allow what is asked; it then names sizes that would do.

    Examples
    --------
    >>> count_motifs(5, 3)  # each column of 5 rows has 5 fillings, the fifth Fibonacci number
    125
    >>> count_motifs(6, 8, symmetry="half-turn", overlaid=8)
    886
    >>> count_motifs(4, 1, repeats_up=True)  # the fourth Lucas number
    7
    """
    plan = _plan(rows, stitches, symmetry, repeat_across, repeat_up, repeats_up, colours, overlaid, fldc_share)
    return plan.count


@dataclass(frozen=True, eq=False, repr=False)
class DrawnMotifs(Sequence[Motif]):
    """Motifs that were drawn at random: each becomes a `Motif` when it is asked for.

    Attributes
    ----------
    grids : bool array, (K, R, C)
        As seen, True for CC; read-only.
    first : "MC" or "CC"
        The colour of row 1 of all.
    yarns : Yarns
        The yarns of all.
    """

    grids: NDArray[np.bool_]
    first: Role = "MC"
    yarns: Yarns = field(default_factory=Yarns)

    def __len__(self) -> int:
        return len(self.grids)

    @overload
    def __getitem__(self, index: int) -> Motif: ...
    @overload
    def __getitem__(self, index: slice) -> DrawnMotifs: ...
    def __getitem__(self, index: int | slice) -> Motif | DrawnMotifs:
        if isinstance(index, slice):
            return DrawnMotifs(self.grids[index], self.first, self.yarns)
        return Motif(self.grids[index], self.first, self.yarns)

    def __repr__(self) -> str:
        count, rows, columns = self.grids.shape
        return f"<DrawnMotifs {count} of {rows} rows × {columns} stitches>"


def random_motifs(
    count: int,
    rows: int,
    stitches: int,
    *,
    rng: np.random.Generator,
    symmetry: Symmetry | Iterable[Symmetry] = (),
    repeat_across: int | None = None,
    repeat_up: int | None = None,
    repeats_up: bool = False,
    colours: Colours = "swap",
    overlaid: int | tuple[int, int] | None = None,
    fldc_share: tuple[float, float] | None = None,
    first: Role = "MC",
    yarns: Yarns | None = None,
) -> DrawnMotifs:
    """Draw workable motifs, one independent of the other, each of those that `count_motifs` counts equally likely.

    Parameters
    ----------
    count : int
        How many, K; some may be equal.
    rows, stitches, symmetry, repeat_across, repeat_up, repeats_up, colours, overlaid, fldc_share
        What they have to be, as in `count_motifs`.
    rng : numpy.random.Generator
        Where chance comes from: ``numpy.random.default_rng(7)`` draws the same motifs every time.
    first : "MC" or "CC"
        The colour of row 1.
    yarns : Yarns, optional
        The yarns of all.

    Returns
    -------
    DrawnMotifs
        A sequence of K motifs, with their squares in `.grids`, (K, R, C).

    Raises
    ------
    OptionError
        If an option has no meaning, or no motif is as asked; it then names sizes, or numbers of overlaid squares, that
        would do.

    Examples
    --------
    >>> from mosaickit.rules import check
    >>> drawn = random_motifs(3, 5, 8, rng=np.random.default_rng(7), symmetry="mirror")
    >>> drawn[0].shape, check(drawn[0]).ok
    ((5, 8), True)
    """
    count = whole_number("count", count)
    if not isinstance(rng, np.random.Generator):
        raise OptionError(f"`rng` must be a NumPy Generator, as numpy.random.default_rng(7); got {rng!r}.")
    one_of("first", first, ROLES)
    plan = _plan(rows, stitches, symmetry, repeat_across, repeat_up, repeats_up, colours, overlaid, fldc_share)
    if not plan.count:
        raise OptionError(plan.say_what_would_do())
    grids = plan.draw(count, rng)
    grids ^= orientation.to_working(orientation.contrast_rows(plan.shape[0], first)[:, np.newaxis])
    grids.flags.writeable = False
    return DrawnMotifs(grids, first, yarns if yarns is not None else Yarns())


def random_motif(rows: int, stitches: int, *, rng: np.random.Generator, **options: Any) -> Motif:  # noqa: ANN401
    """Draw one workable motif, every one of those asked for equally likely; options as in `random_motifs`.

    Examples
    --------
    >>> motif = random_motif(6, 8, rng=np.random.default_rng(7), symmetry="half-turn", overlaid=8)
    >>> motif.overlaid.sum()
    np.int64(8)
    """
    return random_motifs(1, rows, stitches, rng=rng, **options)[0]


# ---- what is asked for -------------------------------------------------------------------------------------


def _allowed(
    area: int, overlaid: int | tuple[int, int] | None, share: tuple[float, float] | None
) -> tuple[int, int] | None:
    """Give the least and the most overlaid squares that are asked for."""
    if overlaid is not None and share is not None:
        raise OptionError("`overlaid` and `fldc_share` say the same: give one of them.")
    if share is not None:
        low, high = (within("fldc_share", end, 0, 1) for end in _pair("fldc_share", share))
        # 0.3 of 10 squares are 3, whatever the last binary digit says
        least, most = ceil(low * area - 1e-9), floor(high * area + 1e-9)
        if least > most:
            raise OptionError(f"No whole number of {area} squares lies within `fldc_share` {share!r}: widen it.")
        return least, most
    if overlaid is None:
        return None
    least, most = (
        whole_number("overlaid", end)
        for end in (_pair("overlaid", overlaid) if isinstance(overlaid, tuple | list) else (overlaid, overlaid))
    )
    if least > most:
        raise OptionError(f"`overlaid` must be (least, most), the smaller one first; got {overlaid!r}.")
    return least, most


def _pair(name: str, value: Any) -> tuple[Any, Any]:  # noqa: ANN401
    if not isinstance(value, tuple | list) or len(value) != 2:
        raise OptionError(f"`{name}` must be (least, most); got {value!r}.")
    return value[0], value[1]


def _plan(
    rows: int,
    stitches: int,
    symmetry: Symmetry | Iterable[Symmetry],
    repeat_across: int | None,
    repeat_up: int | None,
    repeats_up: bool,
    colours: Colours,
    overlaid: int | tuple[int, int] | None,
    fldc_share: tuple[float, float] | None,
) -> _Plan:
    """Read what is asked for, and refuse what has no meaning."""
    one_of("colours", colours, COLOURS)
    shape = checked_size(whole_number("rows", rows), whole_number("stitches", stitches))
    across, up = period("repeat_across", repeat_across, shape[1]), period("repeat_up", repeat_up, shape[0])
    symmetries = with_the_third(symmetry)
    if repeats_up and shape[0] % up:
        fitting = shape[0] - shape[0] % up
        raise OptionError(
            f"`repeat_up` must divide the {rows} rows of a picture that itself repeats up; got {up}. Sizes that would "
            f"do: {fitting} or {fitting + up} rows."
        )
    if colours == "keep" and up % 2 and (up < shape[0] or repeats_up):
        raise OptionError(
            f"Repeated every {up} rows, an odd number, a picture comes to lie on the other row colours and has "
            f'its colours swapped: take {" or ".join(str(n) for n in (up - 1, up + 1) if n)} rows, or colours="swap".'
        )
    if colours == "keep" and shape[0] % 2 == 0 and symmetries & {"up-down", "half-turn"}:
        raise OptionError(
            f"Upside down, a picture of {rows} rows, an even number, comes to lie on the other row colours and has its "
            f'colours swapped: take {rows - 1} or {rows + 1} rows, or colours="swap".'
        )
    labels, chains = _chains(shape, symmetries, across, up, repeats_up)
    return _Plan(shape, labels, chains, _allowed(shape[0] * shape[1], overlaid, fldc_share))


# ---- from squares that agree to chains ---------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class _Chain:
    """Classes of squares in a row, each the neighbour of the one before it."""

    classes: list[int]
    ring: bool
    """Whether the last is also the neighbour of the first."""
    plain: NDArray[np.bool_]
    """Which of them cannot be overlaid, (n,)."""
    squares: NDArray[np.int64]
    """How many squares of the picture each of them holds, (n,)."""


def _chains(
    shape: tuple[int, int], symmetries: frozenset[Symmetry], across: int, up: int, repeats_up: bool
) -> tuple[NDArray[np.int64], list[_Chain]]:
    """Give the class of each square, (R, C), and the chains that the classes form."""
    rows, columns = shape
    row, column = np.arange(up)[:, np.newaxis], np.arange(across)
    turned, mirrored = (rows - 1 - row) % up, (columns - 1 - column) % across
    images = [row * across + column]
    if "mirror" in symmetries:
        images.append(row * across + mirrored)
    if "up-down" in symmetries:
        images.append(turned * across + column)
    if "half-turn" in symmetries:
        images.append(turned * across + mirrored)
    _, classes = np.unique(np.minimum.reduce(images), return_inverse=True)
    classes = classes.reshape(up, across)
    # (of a picture with ends row 1 of each repeat is plain, so what lies round the corner does not matter)
    below, above = (classes, np.roll(classes, -1, axis=0)) if repeats_up else (classes[:-1], classes[1:])
    neighbours = np.unique(np.sort(np.stack([below.ravel(), above.ravel()], axis=1), axis=1), axis=0)
    plain = np.zeros(classes.max() + 1, dtype=np.bool_)
    if not repeats_up:
        plain[classes[[0, (rows - 1) % up]]] = True
    to_itself = neighbours[:, 0] == neighbours[:, 1]
    plain[neighbours[to_itself, 0]] = True
    labels = classes[np.arange(rows)[:, np.newaxis] % up, np.arange(columns) % across]
    squares = np.bincount(labels.ravel())
    walks = _walks(len(plain), neighbours[~to_itself].tolist())
    return labels, [_Chain(walk, ring, plain[walk], squares[walk]) for walk, ring in walks]


def _walks(size: int, neighbours: list[list[int]]) -> Iterator[tuple[list[int], bool]]:
    """Walk along each chain, those with ends first: the classes in order, and whether they close to a ring."""
    beside: list[list[int]] = [[] for _ in range(size)]
    for one, other in neighbours:
        beside[one].append(other)
        beside[other].append(one)
    seen = [False] * size
    for start in sorted(range(size), key=lambda one: len(beside[one]) == 2):
        if not seen[start]:
            walk = [start]
            seen[start] = True
            while further := [other for other in beside[walk[-1]] if not seen[other]]:
                walk.append(further[0])
                seen[further[0]] = True
            yield walk, len(beside[start]) == 2


# ---- counting and drawing ----------------------------------------------------------------------------------


class _Fillings:
    """The fillings of a chain, counted: ``table[i, f, s, k]`` of them fill what follows from class i on.

    f and s say whether the first class (of a ring; 0 otherwise) and the one before are overlaid; k is the number of
    overlaid squares from i on, or always 0 if they need not be counted.
    """

    def __init__(self, chain: _Chain, counted: bool) -> None:
        self.ring = chain.ring
        self.plain = chain.plain.tolist()
        self.squares = chain.squares.tolist() if counted else [0] * len(self.plain)
        most = sum(n for n, plain in zip(self.squares, self.plain, strict=True) if not plain)
        table = np.zeros((len(self.plain) + 1, 2, 2, most + 1), dtype=object)
        table[-1, :, :, 0] = 1
        if self.ring:
            table[-1, 1, 1, 0] = 0  # the last one would lie beside the first
        for i in range(len(self.plain) - 1, -1, -1):
            table[i] = table[i + 1][:, :1]
            if not self.plain[i]:
                n = self.squares[i]
                table[i, :, 0, n:] += table[i + 1, :, 1, : most + 1 - n]
        if not self.plain[0]:
            n = self.squares[0]
            # the first one decides what the last one may be
            overlaid = table[1, int(self.ring), 1, : most + 1 - n]
            table[0, 0, 0] = table[1, 0, 0]
            table[0, 0, 0, n:] += overlaid
        self.counts: NDArray[Any] = table[0, 0, 0]  # by number of overlaid squares, Python ints
        self.table: Numbers = table if self.counts.sum() >= 1 << 63 else table.astype(np.uint64)

    def draw(self, numbers: NDArray[np.int64], rng: np.random.Generator) -> NDArray[np.bool_]:
        """Draw a filling with each of these numbers of overlaid squares, bool (n, *numbers.shape)."""
        left = numbers.copy()
        rank = np.empty(left.shape, dtype=self.table.dtype)
        for number in np.unique(left).tolist():
            here = left == number
            rank[here] = _below(self.counts[number], int(here.sum()), rng)
        first, before = np.zeros(left.shape, dtype=np.intp), np.zeros(left.shape, dtype=np.intp)
        chosen = np.zeros((len(self.plain), *left.shape), dtype=np.bool_)
        for i, plain in enumerate(self.plain):
            if plain:
                before = np.zeros_like(before)
                continue
            # the fillings in which class i is plain come first
            fewer = self.table[i + 1][first, 0, left]
            chosen[i] = (rank >= fewer) & (before == 0)
            rank = np.where(chosen[i], rank - fewer, rank)
            left = left - chosen[i] * self.squares[i]
            before = chosen[i].astype(np.intp)
            if i == 0 and self.ring:
                first = before
        return chosen


def _below(most: int, size: int, rng: np.random.Generator) -> Numbers:
    """Draw so many whole numbers from 0 up to `most` - 1, all equally likely."""
    if most <= 1 << 63:
        return rng.integers(most, size=size, dtype=np.uint64)
    length = (most - 1).bit_length()
    width, spare = (length + 7) // 8, -length % 8
    numbers: list[int] = []
    while len(numbers) < size:
        drawn = rng.bytes(width * (size - len(numbers)))
        found = (int.from_bytes(drawn[i : i + width], "big") >> spare for i in range(0, len(drawn), width))
        # what is too large is drawn again: cut down to fit, it would favour some
        numbers += [number for number in found if number < most]
    return np.array(numbers, dtype=object)


@dataclass(frozen=True, eq=False)
class _Plan:
    """All motifs that are asked for."""

    shape: tuple[int, int]
    labels: NDArray[np.int64]
    """The class of each square as seen, (R, C)."""
    chains: list[_Chain]
    allowed: tuple[int, int] | None
    """The least and the most squares that may be overlaid; None for any."""

    @cached_property
    def alike(self) -> list[tuple[_Fillings, list[_Chain]]]:
        """The chains, those with the same fillings together."""
        counted = self.allowed is not None
        kinds: dict[tuple[bool, bytes, bytes], list[_Chain]] = {}
        for chain in self.chains:
            squares = chain.squares.tobytes() if counted else b""
            kinds.setdefault((chain.ring, chain.plain.tobytes(), squares), []).append(chain)
        return [(_Fillings(chains[0], counted), chains) for chains in kinds.values()]

    @cached_property
    def sums(self) -> list[NDArray[Any]]:
        """How many ways there are to overlay fewer than 0, 1, 2, … squares in the last 0, 1, 2, … chains."""
        ways = np.array([1], dtype=object)
        sums = [_running(ways)]
        for fillings, chains in reversed(self.alike):
            for _ in chains:
                ways = np.convolve(ways, fillings.counts)
                sums.append(_running(ways))
        return sums

    def _ways(self, chains: int, gone: NDArray[np.int64]) -> NDArray[Any]:
        """How many ways the last so many chains have to bring what is gone to what is allowed, Python ints."""
        least, most = self.allowed or (0, 0)
        sums = self.sums[chains]
        upto, under = (np.clip(end - gone, 0, len(sums) - 1) for end in (most + 1, least))
        ways: NDArray[Any] = sums[upto] - sums[under]
        return ways

    @cached_property
    def count(self) -> int:
        """How many motifs there are."""
        if self.allowed is None:
            return prod(int(fillings.counts.sum()) ** len(chains) for fillings, chains in self.alike)
        return int(self._ways(len(self.chains), np.zeros(1, dtype=np.int64))[0])

    def say_what_would_do(self) -> str:
        """Say which numbers of overlaid squares there are, where none of those asked for is."""
        least, most = self.allowed or (0, 0)
        there = np.flatnonzero(np.diff(self.sums[-1])).tolist()
        near = [max((n for n in there if n < least), default=None), min((n for n in there if n > most), default=None)]
        asked = f"{least}" if least == most else f"{least} to {most}"
        would = " or ".join(str(n) for n in near if n is not None)
        rows, columns = self.shape
        return (
            f"No workable picture of {rows} rows × {columns} stitches that is as asked has {asked} overlaid squares: "
            f"take {would}, or another size."
        )

    def draw(self, count: int, rng: np.random.Generator) -> NDArray[np.bool_]:
        """Draw the overlaid squares of so many motifs, bool (K, R, C)."""
        overlaid = np.zeros((count, self.labels.max() + 1), dtype=np.bool_)
        used = np.zeros(count, dtype=np.int64)
        left = len(self.chains)
        for fillings, chains in self.alike:
            numbers = np.zeros((count, len(chains)), dtype=np.int64)
            if self.allowed is not None:
                for column in numbers.T:
                    left -= 1
                    column[:] = self._deal(fillings.counts, used, left, rng)
                    used += column
            chosen = fillings.draw(numbers, rng)
            overlaid[:, np.array([chain.classes for chain in chains])] = np.moveaxis(chosen, 0, -1)
        return overlaid[:, self.labels]

    def _deal(
        self, counts: NDArray[Any], used: NDArray[np.int64], left: int, rng: np.random.Generator
    ) -> NDArray[np.int64]:
        """Deal out to one chain its number of overlaid squares, (K,), `left` more chains to come."""
        dealt = np.empty_like(used)
        for so_far in np.unique(used).tolist():
            here = used == so_far
            upto = np.cumsum(counts * self._ways(left, so_far + np.arange(len(counts)))).tolist()
            dealt[here] = [bisect_right(upto, rank) for rank in _below(upto[-1], int(here.sum()), rng).tolist()]
        return dealt


def _running(ways: NDArray[Any]) -> NDArray[Any]:
    return np.concatenate([[0], np.cumsum(ways)])
