"""The nearest workable picture: exact, and for all columns at once.

The rules look along columns only. Choosing which squares of a column are overlaid so that no two neighbours are,
at the least cost of change, is a shortest path through two states a row, plain and overlaid; NumPy walks it for
every column in step. A symmetry or a repeat makes some squares agree. Their costs are then added and the path is
walked once for all of them: a column mirrored onto itself is folded at its middle, a repeat that goes on upward
closes into a ring, and what is left is always a path or a ring. So the answer is the least change there is, not
a guess at it.

Everything is said in overlaid squares. With an odd number of rows between two squares that agree, one is the
colour swap of the other: an upside-down picture of even height is symmetric with its colours swapped, and never
otherwise, since no workable picture is.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mosaickit import orientation
from mosaickit.errors import OptionError, number_of, of_kind, one_of, several, true_or_false, whole_number
from mosaickit.motif.motif import Motif
from mosaickit.orientation import HANDS, Hand

SymmetryName = Literal["mirror", "up-down", "half-turn"]
SYMMETRIES: tuple[SymmetryName, ...] = ("mirror", "up-down", "half-turn")
FLIPPED_AXES: dict[SymmetryName, tuple[int, ...]] = {"mirror": (1,), "up-down": (0,), "half-turn": (0, 1)}
"""Along which axes of a picture, (rows, stitches), each of them turns it over."""

KeptFirst = Literal["keep", "either"]
KEPT_FIRSTS: tuple[KeptFirst, ...] = ("keep", "either")

Gains = NDArray[Any]
"""What it costs more to have a square overlaid than plain, whole or real: negative where it is overlaid already."""

Indices = NDArray[np.intp]


@dataclass(frozen=True, eq=False, repr=False)
class Repair:
    """The nearest workable picture and what it cost.

    Attributes
    ----------
    motif : Motif
        (R, C), workable.
    changed : bool array, (R, C)
        As seen: the squares that show another colour than before.
    cost : float
        The sum of the weights of the changed squares: their number, if no weights were given.
    first_changed : bool
        Whether row 1 has another colour than before.
    hand : "right" or "left"
        From which edge `squares` counts its stitches.
    """

    motif: Motif
    changed: NDArray[np.bool_]
    cost: float
    first_changed: bool = False
    hand: Hand = "right"

    @property
    def squares(self) -> tuple[tuple[int, int], ...]:
        """The changed squares as (row, stitch), from 1, row 1 first."""
        places = np.argwhere(orientation.to_working(self.changed, self.hand)) + 1
        return tuple((row, stitch) for row, stitch in places.tolist())

    def __str__(self) -> str:
        squares = self.squares
        first = f" Row 1 is now in {self.motif.first}." if self.first_changed else ""
        if not squares:
            return f"Nothing to change.{first}"
        now = orientation.to_working(self.motif.grid, self.hand)
        shown = "; ".join(
            f"row {row}, stitch {stitch} to {'CC' if now[row - 1, stitch - 1] else 'MC'}"
            for row, stitch in squares[:12]
        )
        more = f"; and {len(squares) - 12} more" if len(squares) > 12 else ""
        return f"Changed {len(squares)} of {number_of(self.changed.size, 'square')}: {shown}{more}.{first}"

    def __repr__(self) -> str:
        return f"<Repair {self}>"


def nearest_workable(
    motif: Motif,
    *,
    weights: ArrayLike | None = None,
    symmetry: SymmetryName | Iterable[SymmetryName] = (),
    repeat_across: int | None = None,
    repeat_up: int | None = None,
    repeats_up: bool = False,
    first: KeptFirst = "keep",
    hand: Hand = "right",
) -> Repair:
    """Find the workable picture that differs least.

    Parameters
    ----------
    motif : Motif
        Any picture, (R, C).
    weights : array, (R, C), optional
        As seen: what changing each square costs, above 0; 1 if not given. Large for squares that matter.
    symmetry : "mirror", "up-down", "half-turn", or several of them
        Symmetries that the result must have (two of them make the third). Upside down, an even number of rows is
        symmetric with its colours swapped.
    repeat_across, repeat_up : int, optional
        The result must repeat every so many stitches, or rows. An odd number of rows repeats with its colours
        swapped.
    repeats_up : bool
        Whether the picture is itself one repeat of a taller one, so that row 1 lies above row R and neither is an
        end; as in `check`.
    first : "keep" or "either"
        Whether row 1 keeps its colour, or takes the one that needs less change (its own when equal).
    hand : "right" or "left"
        From which edge the result names stitches.

    Returns
    -------
    Repair
        With ``.motif``, ``.changed`` and ``.cost``. Exact: no workable picture with these symmetries costs less.

    Raises
    ------
    OptionError
        If the weights are not one finite number above 0 for each square, or a repeat does not fit the picture.

    Examples
    --------
    >>> blot = Motif.from_array([[0, 0, 0], [1, 0, 1], [0, 1, 0], [1, 1, 1], [0, 0, 0]])
    >>> print(nearest_workable(blot))
    Changed 1 of 15 squares: row 3, stitch 2 to MC.
    """
    of_kind("motif", motif, Motif)
    one_of("first", first, KEPT_FIRSTS)
    one_of("hand", hand, HANDS)
    true_or_false("repeats_up", repeats_up)
    rows, columns = motif.shape
    symmetries = with_the_third(symmetry)
    across = period("repeat_across", repeat_across, columns)
    up = period("repeat_up", repeat_up, rows)
    if repeats_up and rows % up:
        raise OptionError(
            f"`repeat_up` must divide the {number_of(rows, 'row')} of a picture that itself repeats up; "
            f"got {repeat_up!r}."
        )
    prices = _weights(weights, motif.shape)

    candidates = []
    for candidate in (motif.first, orientation.other(motif.first))[: 2 if first == "either" else 1]:
        overlaid = motif.with_grid(motif.grid, candidate).overlaid
        gains = np.where(overlaid, -prices, prices)
        chosen = _solve(gains, symmetries, across, up, ring=repeats_up or up < rows, ends=not repeats_up)
        changed = chosen ^ overlaid
        cost = float(changed.sum() if weights is None else prices[changed].sum())
        candidates.append((cost, candidate, changed))
    cost, chosen_first, changed = min(candidates, key=lambda candidate: candidate[0])
    changed.flags.writeable = False
    return Repair(motif.with_grid(motif.grid ^ changed, chosen_first), changed, cost, chosen_first != motif.first, hand)


def with_the_third(symmetry: SymmetryName | Iterable[SymmetryName]) -> frozenset[SymmetryName]:
    """Give the symmetries that a picture with these has: two of the three make the third."""
    wanted = frozenset(several("symmetry", symmetry, SYMMETRIES))
    return frozenset(SYMMETRIES) if len(wanted) > 1 else wanted


def period(name: str, value: int | None, size: int) -> int:
    """Return after how many squares a picture repeats, its whole size if nothing is said, or raise `OptionError`."""
    if value is None:
        return size
    squares = whole_number(name, value, least=1)
    if squares > size:
        raise OptionError(f"`{name}` must be at most the picture's {size}; got {value!r}.")
    return squares


def _weights(weights: ArrayLike | None, shape: tuple[int, int]) -> Gains:
    if weights is None:
        return np.ones((1, 1), dtype=np.int32)
    try:
        prices = np.asarray(weights, dtype=np.float64)
    except (TypeError, ValueError):
        raise OptionError("`weights` must be an array of numbers, one for each square.") from None
    if prices.shape != shape:
        raise OptionError(f"`weights` must have the picture's shape {shape}; got {prices.shape}.")
    wrong = np.argwhere(~((prices > 0) & (prices < np.inf)))
    if len(wrong):
        row, stitch = orientation.place((int(wrong[0][0]), int(wrong[0][1])), shape)
        raise OptionError(
            f"`weights` must be finite and above 0; got {prices[tuple(wrong[0])]} at row {row}, stitch {stitch}."
        )
    return prices


# ---- from squares that agree to paths ----------------------------------------------------------------------


def _solve(
    gains: Gains, symmetries: frozenset[SymmetryName], across: int, up: int, *, ring: bool, ends: bool
) -> NDArray[np.bool_]:
    """Choose the overlaid squares, bool (R, C), at the least sum of gains (R, C)."""
    rows, columns = gains.shape
    forced = np.zeros(up, dtype=np.bool_)  # rows of the repeat in which nothing may be overlaid
    if ends:
        forced[[0, (rows - 1) % up]] = True
    folded = _fold(_fold(gains, up, axis=0), across, axis=1)

    column = np.arange(across)
    partner = (columns - 1 - column) % across
    turned = (rows - 1 - np.arange(up)) % up  # where each row lies after turning upside down
    chosen = np.zeros((up, across), dtype=np.bool_)
    if "up-down" in symmetries:
        lead = column <= partner if "mirror" in symmetries else column >= 0
        sums = _with_partner(folded, column[lead], partner[lead]) if "mirror" in symmetries else folded
        chosen[:, column[lead]] = _choose_upside_down(sums, turned, forced, ring)
    elif "mirror" in symmetries:
        lead = column <= partner
        chosen[:, column[lead]] = _choose(_with_partner(folded, column[lead], partner[lead]), forced, ring)
    elif "half-turn" in symmetries:
        lead, centre = column < partner, column == partner
        sums = folded[:, column[lead]] + folded[turned][:, partner[lead]]
        chosen[:, column[lead]] = _choose(sums, forced, ring)
        chosen[:, partner[lead]] = chosen[turned][:, column[lead]]
        chosen[:, column[centre]] = _choose_upside_down(folded[:, column[centre]], turned, forced, ring)
    else:
        chosen = _choose(folded, forced, ring)
    if "mirror" in symmetries:
        lead = column < partner
        chosen[:, partner[lead]] = chosen[:, column[lead]]
    return chosen[np.arange(rows)[:, np.newaxis] % up, np.arange(columns) % across]


def _fold(gains: Gains, period: int, axis: int) -> Gains:
    """Add up the gains of what repeats: the axis gets the length of one repeat."""
    size = gains.shape[axis]
    if period == size:
        return gains
    starts = np.arange(0, size, period)
    parts = [np.take(gains, range(start, min(start + period, size)), axis=axis) for start in starts]
    total = parts[0].copy()
    for part in parts[1:]:
        total[tuple(slice(length) for length in part.shape)] += part
    return total


def _with_partner(gains: Gains, column: Indices, partner: Indices) -> Gains:
    """Add to each column the one that mirrors it, unless that is the column itself."""
    return gains[:, column] + np.where(column == partner, 0, gains[:, partner])


def _choose(gains: Gains, forced: NDArray[np.bool_], ring: bool) -> NDArray[np.bool_]:
    """Choose in columns of rows that form a path, or a ring: bool (n, K) from gains (n, K)."""
    if not ring:
        return choose_apart(gains, forced)
    if len(gains) == 1:
        return np.zeros(gains.shape, dtype=np.bool_)  # it would be its own neighbour
    # cut the ring at its first row: either that row is plain, or both its neighbours are
    opened, closed = forced.copy(), forced.copy()
    opened[0] = True
    closed[[1, -1]] = True
    plain, overlaid = choose_apart(gains, opened), choose_apart(gains, closed)
    if forced[0]:
        return plain
    better = np.where(overlaid, gains, 0).sum(axis=0) < np.where(plain, gains, 0).sum(axis=0)
    return np.where(better, overlaid, plain)


def _choose_upside_down(gains: Gains, turned: Indices, forced: NDArray[np.bool_], ring: bool) -> NDArray[np.bool_]:
    """Choose in columns that look the same upside down, row i like row ``turned[i]``: fold them and walk one half."""
    size = len(gains)
    fixed = np.flatnonzero(turned == np.arange(size))
    beside = np.flatnonzero(turned == (np.arange(size) + 1) % size)  # rows i that turn onto row i + 1
    if not ring:
        half = np.arange((size + 1) // 2)
    elif len(fixed):
        # from a row that stays in place round to the opposite one, or to the pair opposite
        half = (fixed[0] + np.arange(size // 2 + 1)) % size
    else:
        half = (beside[0] + 1 + np.arange(size // 2)) % size
    image = turned[half]
    # a row next to its own image can't be overlaid, as both would be
    apart = np.abs(image - half)
    next_to_image = (apart == 1) | (ring & (apart == size - 1))
    sums = gains[half] + np.where(image == half, 0, gains[image].T).T
    picked = choose_apart(sums, forced[half] | forced[image] | next_to_image)
    chosen = np.zeros(gains.shape, dtype=np.bool_)
    chosen[half] = picked
    chosen[image] = picked
    return chosen


def choose_apart(gains: Gains, forced: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Choose in columns of rows that form a path: the shortest path through plain and overlaid, all columns at once.

    Parameters
    ----------
    gains : array, (n, K)
        What overlaid costs more than plain.
    forced : bool array, (n,)
        Rows that stay plain.

    Returns
    -------
    bool array, (n, K)
        The overlaid squares.
    """
    rows, columns = gains.shape
    from_overlaid = np.zeros((rows, columns), dtype=np.bool_)  # whether plain here is best reached from overlaid below
    plain = np.zeros(columns, dtype=gains.dtype)
    overlaid = np.zeros(columns, dtype=gains.dtype)
    previous_forced = True  # below the first row lies nothing
    for row in range(rows):
        best = plain
        if not previous_forced:
            np.less(overlaid, plain, out=from_overlaid[row])
            best = np.minimum(plain, overlaid)
        overlaid = plain + gains[row]
        plain = best
        previous_forced = bool(forced[row])
    chosen = np.zeros((rows, columns), dtype=np.bool_)
    above = np.zeros(columns, dtype=np.bool_)
    wanted = np.zeros(columns, dtype=np.bool_) if previous_forced else overlaid < plain
    for row in range(rows - 1, -1, -1):
        np.greater(wanted, above, out=chosen[row])
        above = chosen[row]
        wanted = from_overlaid[row]
    return chosen
