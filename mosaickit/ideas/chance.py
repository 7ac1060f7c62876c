"""Chance: how many workable motifs there are, and one of them drawn so that each is as likely as any other.

Everything is said in overlaid squares. Symmetries and repeats make some squares agree; such a class of squares is
overlaid or plain as a whole. Classes that hold neighbours in a column cannot both be overlaid, and no class in row 1
or the last row can be, nor one that is its own neighbour. So the classes of a column, or of a column and its image,
form a chain, some of them closed to a ring; the chains know nothing of one another, and few differ in kind. How many
fillings a chain has with each number of overlaid squares follows from binomials.

To draw a motif, each chain first draws its number of overlaid squares. Where the sum is given, the odds are tilted so
that it is hit often, and what misses it is thrown away, together with as much of the rest as the tilt favours it. Then
each chain draws one of its fillings with that number. Chance is compared with whole numbers, whatever their size, so
nothing is rounded and nothing biased: every motif is exactly as likely as any other.

With an odd number of rows between two squares that agree, one is the colour swap of the other, as in `repair`.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from decimal import MAX_EMAX, MIN_EMIN, Context, Decimal
from functools import cached_property, lru_cache
from itertools import accumulate, groupby, product
from math import ceil, exp, floor, gcd, log, log10, prod, sqrt
from typing import Any, overload

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import Yarns
from mosaickit.errors import OptionError, number_of, one_of, true_or_false, whole_number, within
from mosaickit.motif import COLOURS, Colours, Motif, SymmetryName, checked_size, period, with_the_third
from mosaickit.orientation import ROLES, Role


def count_motifs(
    rows: int,
    stitches: int,
    *,
    symmetry: SymmetryName | Iterable[SymmetryName] = (),
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
        return f"<DrawnMotifs {count} of {number_of(rows, 'row')} × {number_of(columns, 'stitch')}>"


def random_motifs(
    count: int,
    rows: int,
    stitches: int,
    *,
    rng: np.random.Generator,
    symmetry: SymmetryName | Iterable[SymmetryName] = (),
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
        A sequence of K motifs, with their squares in ``.grids``, (K, R, C).

    Raises
    ------
    OptionError
        If an option has no meaning, or no motif is as asked; it then names sizes, or numbers of overlaid squares, that
        would do.

    Examples
    --------
    >>> from mosaickit.motif import check
    >>> drawn = random_motifs(3, 5, 8, rng=np.random.default_rng(7), symmetry="mirror")
    >>> drawn[0].shape, check(drawn[0]).ok
    ((5, 8), True)
    """
    count = whole_number("count", count)
    if not isinstance(rng, np.random.Generator):
        raise OptionError(f"`rng` must be a NumPy Generator, as numpy.random.default_rng(7); got {rng!r}.")
    one_of("first", first, ROLES)
    plan = _plan(rows, stitches, symmetry, repeat_across, repeat_up, repeats_up, colours, overlaid, fldc_share)
    plan.check()
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
            raise OptionError(
                f"No whole number of {number_of(area, 'square')} lies within `fldc_share` {share!r}: widen it."
            )
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
    symmetry: SymmetryName | Iterable[SymmetryName],
    repeat_across: int | None,
    repeat_up: int | None,
    repeats_up: bool,
    colours: Colours,
    overlaid: int | tuple[int, int] | None,
    fldc_share: tuple[float, float] | None,
) -> _Plan:
    """Read what is asked for, and refuse what has no meaning."""
    one_of("colours", colours, COLOURS)
    true_or_false("repeats_up", repeats_up)
    shape = checked_size(whole_number("rows", rows), whole_number("stitches", stitches))
    across, up = period("repeat_across", repeat_across, shape[1]), period("repeat_up", repeat_up, shape[0])
    symmetries = with_the_third(symmetry, "symmetry")
    if repeats_up and shape[0] % up:
        fitting = shape[0] - shape[0] % up
        raise OptionError(
            f"`repeat_up` must divide the {number_of(rows, 'row')} of a picture that itself repeats up; got {up}. "
            f"Sizes that would do: {fitting} or {fitting + up} rows."
        )
    if colours == "keep" and up % 2 and (up < shape[0] or repeats_up):
        raise OptionError(
            f"Repeated every {number_of(up, 'row')}, an odd number, a picture ends up on the other row colours "
            f'and has its colours swapped: take {_even_repeats(shape[0], up, repeats_up)}colours="swap".'
        )
    if colours == "keep" and shape[0] % 2 == 0 and symmetries & {"up-down", "half-turn"}:
        raise OptionError(
            f"Upside down, a picture of {rows} rows, an even number, ends up on the other row colours and has its "
            f'colours swapped: take {rows - 1} or {rows + 1} rows, or colours="swap".'
        )
    allowed = _allowed(shape[0] * shape[1], overlaid, fldc_share)
    return _Plan(shape, _kinds(shape, symmetries, across, up, repeats_up), allowed)


def _even_repeats(rows: int, up: int, repeats_up: bool) -> str:
    """Name the even repeats, or numbers of rows, next to an odd one."""
    if up == rows:
        return " or ".join(str(n) for n in (rows - 1, rows + 1) if n) + " rows, or "
    even = [n for n in range(2, rows + 1, 2) if not (repeats_up and rows % n)]
    near = [max((n for n in even if n < up), default=None), min((n for n in even if n > up), default=None)]
    return "".join(f"repeat_up={n}, or " for n in near if n is not None)


# ---- from columns that agree to chains ----------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class _Column:
    """The classes of rows that a column has, in a chain: each the neighbour of the one before it."""

    place: NDArray[np.int64]
    """Where in the chain each row of the picture has its class, (R,) as seen."""
    ring: bool
    """Whether the last class is also the neighbour of the first."""
    plain: NDArray[np.bool_]
    """Which classes cannot be overlaid, (n,)."""

    @property
    def squares(self) -> list[int]:
        """How many squares of the column each class holds."""
        squares: list[int] = np.bincount(self.place).tolist()
        return squares


def _column(rows: int, up: int, repeats_up: bool, folded: bool) -> _Column:
    """Give the chain of a column, which is its own image upside down if it is folded."""
    row = np.arange(up)
    _, classes = np.unique(np.minimum(row, (rows - 1 - row) % up) if folded else row, return_inverse=True)
    # (of a picture with ends row 1 of each repeat is plain, so what lies round the corner does not matter)
    below, above = (classes, np.roll(classes, -1)) if repeats_up else (classes[:-1], classes[1:])
    neighbours = np.unique(np.sort(np.stack([below, above], axis=1), axis=1), axis=0)
    plain = np.zeros(classes.max() + 1, dtype=np.bool_)
    if not repeats_up:
        plain[classes[[0, (rows - 1) % up]]] = True
    to_itself = neighbours[:, 0] == neighbours[:, 1]
    plain[neighbours[to_itself, 0]] = True
    walk, ring = _walk(len(plain), neighbours[~to_itself].tolist())
    place = np.empty(len(plain), dtype=np.int64)
    place[walk] = np.arange(len(walk))
    return _Column(place[classes[np.arange(rows) % up]], ring, plain[walk])


def _walk(size: int, neighbours: list[list[int]]) -> tuple[list[int], bool]:
    """Walk along the chain, from an end if it has one: the classes in order, and whether they close to a ring."""
    beside: list[list[int]] = [[] for _ in range(size)]
    for one, other in neighbours:
        beside[one].append(other)
        beside[other].append(one)
    start = min(range(size), key=lambda one: len(beside[one]) == 2)
    walk, seen = [start], {start}
    while further := [other for other in beside[walk[-1]] if other not in seen]:
        walk.append(further[0])
        seen.add(further[0])
    return walk, len(beside[start]) == 2


@dataclass(frozen=True, eq=False)
class _Kind:
    """Columns that have the same fillings, each for itself and for its image."""

    columns: NDArray[np.int64]
    """Columns of the repeat, as seen."""
    images: NDArray[np.int64]
    """The column that is the image of each; often itself."""
    turned: bool
    """Whether the image is upside down."""
    column: _Column
    fillings: _Fillings

    @property
    def image_place(self) -> NDArray[np.int64]:
        """Where in the chain each row of the image has its class, (R,) as seen."""
        return self.column.place[::-1] if self.turned else self.column.place


def _kinds(
    shape: tuple[int, int], symmetries: frozenset[SymmetryName], across: int, up: int, repeats_up: bool
) -> list[_Kind]:
    """Sort the columns of a repeat by their fillings."""
    rows, columns = shape
    column = np.arange(across)
    copies = np.bincount(np.arange(columns) % across)
    image = (columns - 1 - column) % across if symmetries & {"mirror", "half-turn"} else column
    turned = "mirror" not in symmetries and "half-turn" in symmetries
    chains = {folded: _column(rows, up, repeats_up, folded) for folded in (False, True)}
    kinds = []
    for alone in (False, True):
        chain = chains["up-down" in symmetries or (turned and alone)]
        for times in np.unique(copies).tolist():
            these = column[(copies == times) & ((image == column) if alone else (column < image))]
            if len(these):
                fillings = _Fillings(chain, times if alone else 2 * times)
                kinds.append(_Kind(these, image[these], turned, chain, fillings))
    return kinds


# ---- the fillings of a chain --------------------------------------------------------------------------------

Polynomial = dict[int, int]
"""How many fillings there are, by their number of overlaid squares; only what is above 0."""


@lru_cache(maxsize=64)
def _ways(classes: int) -> tuple[int, ...]:
    """Count the choices of 0, 1, 2, … out of so many classes in a row, no two of them neighbours.

    There are C(n − m + 1, m) of m out of n. Of −1, which stands for a row that ends before it begins, there is the
    empty choice, and of fewer none.
    """
    if classes < 0:
        return (1,) if classes == -1 else ()
    ways = [1]
    for m in range((classes + 1) // 2):
        ways.append(ways[-1] * (classes - 2 * m + 1) * (classes - 2 * m) // ((classes - m + 1) * (m + 1)))
    return tuple(ways)


class _Fillings:
    """The fillings of a chain, counted by their number of overlaid squares and drawn.

    The chain is cut into runs of classes that hold equally many squares and are all plain or all free. How many ways
    there are to fill a run follows from binomials, given whether the class before it is overlaid and whether its own
    last class is to be; ``counts[j][f, s]`` counts the fillings from run j on, where f and s say whether the first
    class (of a ring; 0 otherwise) and the one before are overlaid.
    """

    def __init__(self, column: _Column, times: int) -> None:
        self.ring = column.ring
        kinds = [(plain, times * squares) for plain, squares in zip(column.plain.tolist(), column.squares, strict=True)]
        # the first class of a ring decides what the last one may be, so it is a run by itself
        alone = [(0, kinds[0]), *((1, kind) for kind in kinds[1:])] if self.ring else [(0, kind) for kind in kinds]
        self.runs = [(len(list(run)), *kind) for (_, kind), run in groupby(alone)]
        firsts = (0, 1) if self.ring else (0,)
        last: dict[tuple[int, int], Polynomial] = {(f, s): {} if f and s else {0: 1} for f in firsts for s in (0, 1)}
        self.counts = [last]
        for j in range(len(self.runs) - 1, -1, -1):
            after, here = self.counts[0], {}
            if self.runs[j][0] * len(after[0, 0]) * len(column.plain) > MOST_PRODUCTS:
                raise OptionError(_say_uneven(len(column.place), len(column.plain)))
            befores = (0,) if j == 0 or self.runs[j - 1][1] else (0, 1)  # after a plain run only 0 can be
            for f, s in product(firsts, befores):
                here[f, s] = total = dict[int, int]()
                for _, squares, ways, further in self._options(j, f, s, after):
                    for more, count in further.items():
                        total[squares + more] = total.get(squares + more, 0) + ways * count
            self.counts.insert(0, here)
        self.polynomial = dict(sorted(self.counts[0][0, 0].items()))
        self.classes = len(kinds)

    def _options(
        self, j: int, f: int, s: int, after: dict[tuple[int, int], Polynomial]
    ) -> Iterator[tuple[int, int, int, Polynomial]]:
        """Give the ways to fill a run: its last class, its overlaid squares, their number, and what may follow."""
        length, plain, squares = self.runs[j]
        for end in (0,) if plain else (0, 1):
            # a class beside one that is overlaid is plain
            free = 0 if plain else length - 1 - s - end
            first = end if self.ring and j == 0 else f
            for chosen, ways in enumerate(_ways(free)):
                yield end, (chosen + end) * squares, ways, after[first, end]

    def draw(self, numbers: NDArray[np.int64], rng: np.random.Generator) -> NDArray[np.bool_]:
        """Draw a filling with each of these numbers, (N,), of overlaid squares: bool (N, n)."""
        chosen = np.zeros((len(numbers), self.classes), dtype=np.bool_)
        left, first, before = numbers.copy(), np.zeros_like(numbers), np.zeros_like(numbers)
        start = 0
        for j, (length, plain, squares) in enumerate(self.runs):
            for state, places in () if plain else _alike((left * 2 + first) * 2 + before):
                f, s = state // 2 % 2, state % 2
                options = [
                    (end, taken, ways * count)
                    for end, taken, ways, further in self._options(j, f, s, self.counts[j + 1])
                    if (count := further.get(state // 4 - taken, 0))
                ]
                picked = _Odds([ways for *_, ways in options]).draw(len(places), rng)
                for option, some in _alike(picked):
                    end, taken, _ = options[option]
                    here = places[some]
                    filled = _choices(length - 1 - s - end, taken // squares - end, len(here), rng)
                    chosen[here[:, np.newaxis], np.arange(start + s, start + s + filled.shape[1])] = filled
                    chosen[here, start + length - 1] = end
                    left[here] -= taken
                    before[here] = end
            if plain:
                before[:] = 0
            if j == 0 and self.ring:
                first = before.copy()
            start += length
        return chosen


def _say_uneven(rows: int, up: int) -> str:
    even = max(n for n in range(1, up + 1) if rows % n == 0)
    return (
        f"Of so long a repeat, the last one cut off, the motifs would take very long to count: take a `repeat_up` that "
        f"divides the {number_of(rows, 'row')}, as repeat_up={even}."
    )


def _alike(values: NDArray[np.int64]) -> Iterator[tuple[int, NDArray[np.int64]]]:
    """Give each value there is, and its places."""
    found, starts = np.unique(np.sort(values), return_index=True)
    return zip(found.tolist(), np.split(np.argsort(values, kind="stable"), starts[1:]), strict=True)


def _choices(classes: int, chosen: int, size: int, rng: np.random.Generator) -> NDArray[np.bool_]:
    """Draw so many choices out of classes in a row, no two of them neighbours, all equally likely: bool (size, n)."""
    filled = np.zeros((size, max(classes, 0)), dtype=np.bool_)
    if chosen:
        # each chosen one but the last takes the next class with it: any choice of the places that are left will do
        places = np.zeros((size, classes - chosen + 1), dtype=np.bool_)
        places[:, :chosen] = True
        which, place = np.nonzero(rng.permuted(places, axis=1))
        filled[which, place + np.tile(np.arange(chosen), size)] = True
    return filled


# ---- chance in whole numbers --------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Tilt:
    """A fraction, ``share / 2**bits``, by whose powers weights are tilted to fewer squares, or to more."""

    share: int = 1
    bits: int = 0
    to_more: bool = False

    @classmethod
    def near(cls, log: float) -> _Tilt:
        """Give a tilt whose factor for each square is near e to some power, good to four digits."""
        exponent = max(0, int(abs(log) / _LOG_2))
        bits = exponent + 14 if log else 0
        return cls(round(exp(-abs(log)) * 2.0**bits), bits, log > 0)

    def happens(self, times: NDArray[np.int64], rng: np.random.Generator) -> NDArray[np.bool_]:
        """Tell for each number of times, (N,), whether something as likely as the fraction happened that often."""
        still = np.flatnonzero(times) if self.bits else np.zeros(0, dtype=np.int64)
        happened = np.ones(len(times), dtype=np.bool_)
        left = times.copy()
        while len(still):
            failed = rng.integers(1 << self.bits, size=len(still)) >= self.share
            happened[still[failed]] = False
            left[still] -= 1
            still = still[~failed & (left[still] > 0)]
        return happened


class _Odds:
    """Draw numbers from 0 on, each as often as its weight says, exactly, however large the weights are.

    A number is drawn as a binary fraction, and of that only as many digits as are needed to tell between which two
    sums of weights it lies: `bits` of them, and more for the few that lie at a border that far. So it is as if all
    digits had been drawn and compared with the exact fractions.

    The borders are worked out with `_ROUGHLY` decimal digits. A weight is off by less than one part in 10⁵⁵ then, a sum
    of 10,000 of them by less than one in 10⁵⁰, and a border by less than 1 in the last of 62 bits, or of 19 decimal
    digits; what lies that near to a border is compared with the exact sums.

    Parameters
    ----------
    counts : sequence of int
        1 or more each.
    numbers : sequence of int, optional
        The weights are the counts times the tilt's fraction for each square more (or fewer) than these.
    """

    def __init__(
        self, counts: Sequence[int], numbers: Sequence[int] = (), tilt: _Tilt | None = None, bits: int = 62
    ) -> None:
        self.counts, self.tilt, self.bits = counts, tilt or _Tilt(), bits
        ends = (min(numbers), max(numbers)) if numbers else (0, 0)
        favoured = [ends[1] - n if self.tilt.to_more else n - ends[0] for n in numbers] or [0] * len(counts)
        self.favoured, self.most = favoured, ends[1] - ends[0]
        fraction = _ROUGHLY.divide(Decimal(self.tilt.share), Decimal(1 << self.tilt.bits))
        weights = (
            _ROUGHLY.multiply(_rough(count), _ROUGHLY.power(fraction, n))
            for count, n in zip(counts, favoured, strict=True)
        )
        *upto, total = accumulate(weights, _ROUGHLY.add)
        scale = _ROUGHLY.divide(Decimal(1 << bits), total)
        self.borders = np.array([int(_ROUGHLY.multiply(border, scale)) for border in upto], dtype=np.uint64)

    def draw(self, size: int | tuple[int, ...], rng: np.random.Generator) -> NDArray[np.int64]:
        """Draw numbers, independent of one another."""
        if not len(self.borders):
            return np.zeros(size, dtype=np.int64)
        fractions = rng.integers(1 << self.bits, size=size, dtype=np.uint64)
        numbers = np.searchsorted(self.borders, fractions, side="right")
        near = (numbers > 0) & (fractions - self.borders[np.maximum(numbers - 1, 0)] < 2)
        near |= (numbers < len(self.borders)) & (
            self.borders[np.minimum(numbers, len(self.borders) - 1)] - fractions < 2
        )
        for place in np.argwhere(near).tolist():
            numbers[tuple(place)] = self._tell(int(fractions[tuple(place)]), rng)
        return numbers

    def _tell(self, fraction: int, rng: np.random.Generator) -> int:
        """Draw more digits, until the fraction lies between two sums of weights, which are exact here."""
        share, places = self.tilt.share, self.tilt.bits
        weights = (
            count * share**n << places * (self.most - n) for count, n in zip(self.counts, self.favoured, strict=True)
        )
        *borders, total = accumulate(weights)
        bits = self.bits
        while any(fraction * total < border << bits < (fraction + 1) * total for border in borders):
            fraction, bits = fraction << 64 | int.from_bytes(rng.bytes(8)), bits + 64
        return sum(border << bits <= fraction * total for border in borders)


_ROUGHLY = Context(prec=60, Emax=MAX_EMAX, Emin=MIN_EMIN)


def _rough(number: int) -> Decimal:
    """Give a whole number with more than enough digits for `_ROUGHLY`: long ones take long to turn into decimals."""
    spare = max(0, number.bit_length() - 256) // 64 * 64
    return _ROUGHLY.multiply(Decimal(number >> spare), _power_of_2(spare))


@lru_cache(maxsize=1024)
def _power_of_2(power: int) -> Decimal:
    return _ROUGHLY.power(Decimal(2), power)


_LOG_2 = log(2)


# ---- all that is asked for ----------------------------------------------------------------------------------

DRAWN_AT_ONCE = 1_000_000
"""Numbers that are drawn in one go, so that memory stays small."""

MOST_STEPS = 20_000_000
"""Sums are made one by one for no more steps than this, some seconds."""

MOST_PRODUCTS = 10_000_000_000
"""Fillings of a chain are counted for no more classes times numbers times classes than this, some seconds."""

MOST_BYTES = 200_000_000
"""Sums are kept for no more than about so many bytes."""

MOST_DIGITS = 20_000_000_000
"""Motifs are counted by their overlaid squares for no more products of digits than this, about a minute."""

MOST_IN_VAIN = 75
"""So many times the deviation of a sum, sums are thrown away in vain: 30 times as often as one fits, if any may be."""


@dataclass(frozen=True, eq=False)
class _Plan:
    """All motifs that are asked for.

    Parameters
    ----------
    allowed : (int, int) or None
        The least and the most squares that may be overlaid; None for any.
    """

    shape: tuple[int, int]
    kinds: list[_Kind]
    allowed: tuple[int, int] | None

    @cached_property
    def polynomials(self) -> list[tuple[Polynomial, int]]:
        """What the chains of each kind may hold, and how many chains there are."""
        return [(kind.fillings.polynomial, len(kind.columns)) for kind in self.kinds]

    @cached_property
    def grain(self) -> int:
        """All numbers of overlaid squares are multiples of this."""
        return gcd(*(number for polynomial, _ in self.polynomials for number in polynomial)) or 1

    @cached_property
    def most(self) -> int:
        """The most squares that can be overlaid."""
        return sum(max(polynomial) * chains for polynomial, chains in self.polynomials)

    @cached_property
    def ends(self) -> tuple[int, int]:
        """The least and the most overlaid squares that are allowed and may be, in grains."""
        least, most = self.allowed or (0, self.most)
        return -(-least // self.grain), min(most, self.most) // self.grain

    @property
    def unlimited(self) -> bool:
        """Whether every workable picture with the symmetries is allowed."""
        least, most = self.ends
        return least <= 0 and most * self.grain >= self.most

    # ---- counting

    @cached_property
    def everything(self) -> int:
        """How many motifs there are with any number of overlaid squares."""
        return prod(sum(polynomial.values()) ** chains for polynomial, chains in self.polynomials)

    @cached_property
    def count(self) -> int:
        """How many motifs there are, or an `OptionError` if that takes too long to count."""
        least, most = self.ends
        if least > most:
            return 0
        if self.unlimited:
            return self.everything
        if self._digits() > MOST_DIGITS:
            raise OptionError(self._say_too_large())
        if most * self.grain >= self.most:
            return self.everything - self._upto(least - 1)
        return self._upto(most) - self._upto(least - 1)

    def _upto(self, most: int) -> int:
        """Count the motifs with at most so many grains overlaid.

        Their numbers are the coefficients q of a product of powers, Q = P₁ⁿ¹ P₂ⁿ² …. With D = P₁ P₂ … its logarithm's
        derivative gives x Q′ D = E Q, and so every coefficient follows from those before it.
        """
        if most < 0:
            return 0
        plain, derived = self._series
        steps = sorted((plain.keys() | derived.keys()) - {0})
        last: deque[int] = deque([1], maxlen=steps[-1] if steps else 1)
        total = 1
        for n in range(1, most + 1):
            found = sum(
                (derived.get(k, 0) - (n - k) * plain.get(k, 0)) * last[-k] for k in steps if k <= n and last[-k]
            )
            last.append(found // n)
            total += last[-1]
        return total

    @cached_property
    def _series(self) -> tuple[Polynomial, Polynomial]:
        """Give D and E of `_upto`, in grains."""
        plain, derived = {0: 1}, dict[int, int]()
        for polynomial, chains in self.polynomials:
            here = {number // self.grain: count for number, count in polynomial.items()}
            own = {number: chains * number * count for number, count in here.items()}
            derived = _sum(_product(derived, here), _product(plain, own))
            plain = _product(plain, here)
        return plain, derived

    def _digits(self) -> int:
        """Estimate how many products of digits `_upto` takes."""
        least, most = self.ends
        steps = least if most * self.grain >= self.most else most
        long, short = self.everything.bit_length() // 30 + 1, max(self._series[1].values()).bit_length() // 30 + 2
        return steps * len(self._series[0]) * (long * short // 2 + 100)

    def _say_too_large(self) -> str:
        rows, columns = self.shape
        return (
            f"Counting the pictures of {number_of(rows, 'row')} × {number_of(columns, 'stitch')} by how many squares "
            f"are overlaid would take very long: there are about 10^{log10(self.everything):,.0f} in all. Leave out "
            "`overlaid` and `fldc_share`, or take fewer stitches; `random_motif` can draw them without counting."
        )

    # ---- what there is

    @cached_property
    def there(self) -> int | None:
        """Which numbers of overlaid squares there are, in grains: the bits of a number; None if too many steps."""
        bits, steps = 1, 0
        for polynomial, chains in self.polynomials:
            numbers = [number // self.grain for number in polynomial]
            step = numbers[1] if len(numbers) > 1 else 1
            if numbers == list(range(0, numbers[-1] + 1, step)):
                bits = _spread(bits, step, chains * numbers[-1] // step)
                continue
            steps += chains * len(numbers) * (self.most // self.grain // 64 + 1)
            if steps > MOST_STEPS:
                return None
            for _ in range(chains):
                before, bits = bits, 0
                for number in numbers:
                    bits |= before << number
        return bits

    def check(self) -> None:
        """Raise `OptionError` if there is no such motif, naming numbers of overlaid squares that there are."""
        least, most = self.ends
        if self.there is None or (least <= most and self.there >> least & ((1 << most - least + 1) - 1)):
            return
        fewer, more = self.there & ((1 << least) - 1), self.there >> most + 1
        near = [(fewer.bit_length() - 1) * self.grain] if fewer else []
        if more:
            near.append((most + (more & -more).bit_length()) * self.grain)
        raise OptionError(f"No workable picture of {self._said}: take {' or '.join(map(str, near))}, or another size.")

    @property
    def _said(self) -> str:
        rows, columns = self.shape
        least, most = self.allowed or (0, self.most)
        asked = number_of(least, "overlaid square") if least == most else f"{least} to {most} overlaid squares"
        return f"{number_of(rows, 'row')} × {number_of(columns, 'stitch')} that is as asked has {asked}"

    # ---- drawing

    def draw(self, count: int, rng: np.random.Generator) -> NDArray[np.bool_]:
        """Draw the overlaid squares of so many motifs, bool (K, R, C)."""
        rows, columns = self.shape
        across = sum(len(kind.columns) + int((kind.images != kind.columns).sum()) for kind in self.kinds)
        repeat = np.empty((count, rows, across), dtype=np.bool_)
        for kind, numbers in zip(self.kinds, self.deal(count, rng), strict=True):
            filled = kind.fillings.draw(numbers.ravel(), rng).reshape(count, len(kind.columns), -1)
            for place, where in ((kind.column.place, kind.columns), (kind.image_place, kind.images)):
                repeat[:, :, where] = np.moveaxis(filled[:, :, place], 1, 2)
        return repeat if across == columns else repeat[:, :, np.arange(columns) % across]

    def deal(self, count: int, rng: np.random.Generator) -> list[NDArray[np.int64]]:
        """Deal out numbers of overlaid squares, (count, chains) for each kind, as uniform motifs have them.

        Each chain draws its number for itself, as its counts say, all tilted alike so that their sum comes near to what
        is allowed. Sums that are not allowed are thrown away; of the others the tilt favours some, and just as much
        more of these are thrown away. What is left is as likely as its number of fillings, exactly. Where hardly any
        sum is allowed, all ways to make it are counted instead.
        """
        found = self._thrown(count, rng)
        missing = count - len(found[0])
        if missing:
            exact = self._dealt(missing, rng)
            found = [np.concatenate(pair) for pair in zip(found, exact, strict=True)]
        return found

    @cached_property
    def _moments(self) -> Callable[[float], tuple[float, float]]:
        """The mean and the variance of the number of overlaid grains, for weights tilted by e to a power."""
        kinds = [
            (np.array(list(polynomial)) / self.grain, np.array([log(n) for n in polynomial.values()]), chains)
            for polynomial, chains in self.polynomials
        ]

        def moments(tilt: float) -> tuple[float, float]:
            mean = variance = 0.0
            for numbers, logs, chains in kinds:
                weights = logs + tilt * numbers
                weights = np.exp(weights - weights.max())
                weights /= weights.sum()
                centre = float(weights @ numbers)
                mean += chains * centre
                variance += chains * float(weights @ (numbers - centre) ** 2)
            return mean, variance

        return moments

    @cached_property
    def _tilt(self) -> tuple[_Tilt, float]:
        """The tilt with which sums come near to what is allowed, and their deviation. Neither needs to be exact."""
        least, most = self.ends
        mean, variance = self._moments(0)
        low, high = (-40.0, 0.0) if mean > most else (0.0, 40.0) if mean < least else (0.0, 0.0)
        # the outermost numbers would need an endless tilt
        wanted = max(most, 0.5) if mean > most else min(least, self.most / self.grain - 0.5)
        for _ in range(50 if low < high else 0):
            middle = (low + high) / 2
            mean, variance = self._moments(middle)
            low, high = (middle, high) if mean < wanted else (low, middle)
        return _Tilt.near((low + high) / 2), sqrt(variance)

    @cached_property
    def _odds(self) -> list[tuple[NDArray[np.int64], _Odds]]:
        """The numbers of grains that a chain of each kind may hold, and their odds."""
        least, most = self.ends
        odds = []
        for polynomial, _ in self.polynomials:
            # with more, or with so few, the sum cannot be what is allowed
            fewest = max(polynomial) // self.grain - (self.most // self.grain - least)
            fitting = {k // self.grain: n for k, n in polynomial.items() if fewest <= k // self.grain <= most}
            odds.append((np.array(list(fitting)), _Odds(list(fitting.values()), list(fitting), self._tilt[0])))
        return odds

    def _thrown(self, count: int, rng: np.random.Generator) -> list[NDArray[np.int64]]:
        """Deal as `deal` does by throwing away, so often as makes sense: (count or fewer, chains) for each kind."""
        (least, most), (tilt, deviation) = self.ends, self._tilt
        width = sum(chains for _, chains in self.polynomials)
        limit, size = max(1, DRAWN_AT_ONCE // width), 2 * count + 16
        found = [[np.zeros((0, chains), dtype=np.int64)] for _, chains in self.polynomials]
        missing, in_vain = count, 0
        while missing and in_vain < MOST_IN_VAIN * (deviation + 1):
            size = min(size, limit)
            drawn = [
                numbers[odds.draw((size, chains), rng)]
                for (numbers, odds), (_, chains) in zip(self._odds, self.polynomials, strict=True)
            ]
            sums = np.sum([numbers.sum(axis=1) for numbers in drawn], axis=0)
            kept = np.flatnonzero((sums >= least) & (sums <= most))
            kept = kept[tilt.happens(sums[kept] - least if tilt.to_more else most - sums[kept], rng)][:missing]
            for some, numbers in zip(found, drawn, strict=True):
                some.append(numbers[kept] * self.grain)
            missing, in_vain, size = missing - len(kept), 0 if len(kept) else in_vain + size, 2 * size
        return [np.concatenate(some) for some in found]

    def _dealt(self, count: int, rng: np.random.Generator) -> list[NDArray[np.int64]]:
        """Deal as `deal` does by counting all ways, if they are not too many, else raise `OptionError`."""
        least, most = self.ends
        chains = [polynomial for polynomial, chains in self.polynomials for _ in range(chains)]
        bytes_ = len(chains) * (most + 2) * (40 + self.everything.bit_length() // 16)
        if bytes_ > MOST_BYTES or sum(map(len, chains)) * (most + 2) > MOST_STEPS:
            raise OptionError(self._say_too_few(rng))
        # how many ways the last 0, 1, 2, … chains have to hold fewer than 0, 1, 2, … grains
        ways = np.ones(most + 2, dtype=object)
        ways[0] = 0
        fewer = [ways]
        for polynomial in chains[:0:-1]:
            ways = np.zeros_like(ways)
            for number, fillings in polynomial.items():
                step = number // self.grain
                ways[step:] += fillings * fewer[-1][: len(ways) - step]
            fewer.append(ways)
        dealt = np.zeros((count, len(chains)), dtype=np.int64)
        used = np.zeros(count, dtype=np.int64)
        for i, polynomial in enumerate(chains):
            numbers = np.array(list(polynomial)) // self.grain
            for so_far, places in _alike(used):
                upto, under = (np.clip(end - so_far - numbers, 0, None) for end in (most + 1, least))
                weights = np.array(list(polynomial.values()), dtype=object) * (fewer[-1][upto] - fewer[-1][under])
                some = np.flatnonzero(weights)
                dealt[places, i] = numbers[some[_Odds(weights[some].tolist()).draw(len(places), rng)]]
            used += dealt[:, i]
            fewer.pop()
        ends = np.cumsum([chains for _, chains in self.polynomials])[:-1]
        return np.split(dealt * self.grain, ends, axis=1)

    def _say_too_few(self, rng: np.random.Generator) -> str:
        """Name a wider range, and draw from it before."""
        least, most = self.allowed or (0, self.most)
        width = max(most - least + 1, int(self._tilt[1] * self.grain / 8))
        while True:
            wider = replace(self, allowed=(max(0, least - width), min(self.most, most + width)))
            if len(wider._thrown(1, rng)[0]):
                break
            width *= 2
        return (
            f"There are too few workable pictures of {self._said}, or none, to draw one of them: take a wider range, "
            f"as overlaid={wider.allowed}."
        )


def _sum(one: Polynomial, other: Polynomial) -> Polynomial:
    return {number: one.get(number, 0) + other.get(number, 0) for number in one.keys() | other.keys()}


def _product(one: Polynomial, other: Polynomial) -> Polynomial:
    made: Polynomial = {}
    for number, ways in one.items():
        for more, count in other.items():
            made[number + more] = made.get(number + more, 0) + ways * count
    return made


def _spread(bits: int, step: int, times: int) -> int:
    """Give the numbers, as bits, that come of adding a step up to so many times."""
    done = 0
    while done < times:
        further = min(done + 1, times - done)
        bits |= bits << further * step
        done += further
    return bits
