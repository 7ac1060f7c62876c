"""Families: what else a motif could be, each variant workable and measured, so that they can be set side by side.

A family is made by a few kinds of change, one after the other if so wished: flips, counterchange, shifts, layouts,
glides, thinner and thicker lines, other edges, frames. What comes out is mended by `nearest_workable`, and what that
cost is kept. Of variants that are the same repeat, seen shifted along its rows or mirrored, only the first stays.

Since the rules look along columns only, pictures of equal height are laid side by side and mended in one go, and
figures are worked out for all variants of one size together.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, get_args, overload

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import OptionError, number_of, of_kind, one_of, several, whole_number
from mosaickit.motif import (
    LARGEST_SIDE,
    Motif,
    counterchange,
    crop,
    frame,
    half_turn,
    mirror,
    nearest_workable,
    pad,
    shift,
    tile,
    up_down,
)
from mosaickit.yarn import StitchLengths

Kind = Literal["flips", "counterchange", "shifts", "layouts", "glides", "thinner", "thicker", "edges", "frames"]
KINDS: tuple[Kind, ...] = get_args(Kind)

Alike = Literal["repeat", "picture"]
ALIKE: tuple[Alike, ...] = ("repeat", "picture")

FigureName = Literal["fldc_share", "surcharge", "cc_share", "longest_bare", "back_contrast", "similarity"]
FIGURES: tuple[FigureName, ...] = get_args(FigureName)
"""The names of `Figures`."""

USUAL_LENGTHS = StitchLengths.from_size(1, 8 / 9, 1 / 3)
"""Lengths in widths of a stitch, for 16 stitches and 18 rows to a square and a yarn a third as thick as a stitch is
wide: only how they compare with one another matters here."""


@dataclass(frozen=True)
class Figures:
    """What can be said of a variant in numbers.

    Attributes
    ----------
    fldc_share : float
        The share of stitches that are FLdc, 0 to 1.
    surcharge : float
        How much more yarn its stitches take if it is made reversible, as a share; foundation, ends of rows and carried
        strands are left out, so `mk.surcharge` says a little less.
    cc_share : float
        The share of squares that show CC: colours are in balance at 0.5.
    longest_bare : int
        The most FLdc side by side: over so many stitches a carried strand lies bare.
    back_contrast : float
        The share of squares at which the back of the reversible fabric, as if the front were looked through, shows the
        other colour than the front. Each FLdc makes two such squares, but for those at the ends.
    similarity : float
        The largest share of squares that are as in the original, laid again and again, however it is shifted.
    """

    fldc_share: float
    surcharge: float
    cc_share: float
    longest_bare: int
    back_contrast: float
    similarity: float


@dataclass(frozen=True)
class Variant:
    """One of a family.

    Attributes
    ----------
    name : str
        What was done to the original, in words.
    motif : Motif
        Workable.
    changed : int
        How many squares had to change to make it workable.
    figures : Figures
        What can be said of it in numbers.
    """

    name: str
    motif: Motif
    changed: int
    figures: Figures


def in_order(variants: Iterable[Variant], by: FigureName) -> list[Variant]:
    """Sort variants by a figure, the most first; those that are alike stay in their order."""
    return sorted(variants, key=lambda variant: getattr(variant.figures, by), reverse=True)


@dataclass(frozen=True, repr=False)
class Family(Sequence[Variant]):
    """The variants of a motif, the original first: a sequence.

    Attributes
    ----------
    variants : tuple of Variant
        No two with the same name.
    """

    variants: tuple[Variant, ...]

    def __len__(self) -> int:
        return len(self.variants)

    @overload
    def __getitem__(self, index: int) -> Variant: ...
    @overload
    def __getitem__(self, index: slice) -> Family: ...
    def __getitem__(self, index: int | slice) -> Variant | Family:
        return Family(self.variants[index]) if isinstance(index, slice) else self.variants[index]

    def named(self, name: str) -> Variant:
        """Give the variant of that name, or raise `OptionError`."""
        for variant in self.variants:
            if variant.name == name:
                return variant
        raise OptionError(f"No variant is named {name!r}; there are {', '.join(v.name for v in self.variants[:12])}, …")

    def __str__(self) -> str:
        return "\n".join(
            f"{variant.name}: {variant.motif.shape[0]} × {variant.motif.shape[1]}, {variant.changed} mended, "
            f"{variant.figures.fldc_share:.0%} FLdc, {variant.figures.similarity:.0%} similar"
            for variant in self.variants
        )

    def __repr__(self) -> str:
        return f"<Family of {len(self)}>"


def family(
    motif: Motif,
    *,
    kinds: Kind | Iterable[Kind] = KINDS,
    steps: int = 1,
    alike: Alike = "repeat",
    most: int | None = None,
    lengths: StitchLengths = USUAL_LENGTHS,
) -> Family:
    """Make variants of a motif, all workable, with figures to compare them by.

    Parameters
    ----------
    motif : Motif
        Any picture, (R, C); if it is not workable, its nearest workable one stands first.
    kinds : str or several
        What may be done: "flips" (mirror, upside down, half a turn), "counterchange", "shifts" (overlaid squares go
        round by quarters of the size), "layouts" (two by two repeats as brick, half-drop, mirrored), "glides" (the
        mirrored one above, the one upside down beside), "thinner" and "thicker" (lines of CC lose or gain a square),
        "edges" (cropped, re-centred) and "frames" (one to three rings).
    steps : int
        How many changes may be made one after the other, 1 or more; no two of the same kind in a row.
    alike : "repeat" or "picture"
        Which variants count as the same: those that are the same repeat, shifted along its rows or mirrored left to
        right; or only equal pictures. Yarns and their names do not count.
    most : int, optional
        Make at most so many, those of fewer steps first.
    lengths : StitchLengths
        What the surcharge is calculated with.

    Returns
    -------
    Family
        The original and its variants, in the order of `KINDS`.

    Raises
    ------
    OptionError
        If an option has no meaning.
    MotifError
        If layouts or frames make a variant larger than a motif may be.

    Examples
    --------
    >>> leaf = Motif.from_text('''
    ... .....
    ... #####
    ... .##..
    ... #####
    ... .....
    ... ''')
    >>> for variant in family(leaf, kinds=["flips", "frames"])[:3]:
    ...     print(variant.name, variant.motif.shape, variant.changed)
    as it is (5, 5) 0
    framed in 1 ring (7, 7) 0
    framed in 2 rings (9, 9) 0
    """
    of_kind("motif", motif, Motif)
    wanted = several("kinds", kinds, KINDS)
    one_of("alike", alike, ALIKE)
    steps = whole_number("steps", steps, least=1)
    most = whole_number("most", most, least=1) if most is not None else None
    names, drafts = _drafts(motif, [kind for kind in KINDS if kind in wanted], steps)
    mended = _mended(drafts)
    kept = _first_of_each(_canonical([workable for workable, _ in mended], alike))[:most]
    figures = measured([mended[i][0] for i in kept], mended[0][0], lengths=lengths)
    return Family(tuple(Variant(names[i], *mended[i], of_it) for i, of_it in zip(kept, figures, strict=True)))


# ---- making them -------------------------------------------------------------------------------------------

Drafts = Iterator[tuple[str, Motif]]
"""Pictures that need not be workable, each with what was done."""


def _drafts(motif: Motif, kinds: list[Kind], steps: int) -> tuple[list[str], list[Motif]]:
    """Give the original and what comes of so many changes, with names."""
    named: list[tuple[str, Motif]] = [("as it is", motif)]
    before: list[tuple[tuple[str, ...], Kind | None, Motif]] = [((), None, motif)]
    for _ in range(steps):
        after: list[tuple[tuple[str, ...], Kind | None, Motif]] = [
            ((*done, what), kind, result)
            for done, last, start in before
            for kind in kinds
            if kind != last
            for what, result in _CHANGES[kind](start)
        ]
        named += [(", then ".join(done), result) for done, _, result in after]
        before = after
    return [name for name, _ in named], [result for _, result in named]


def _flips(motif: Motif) -> Drafts:
    yield "mirrored", mirror(motif)
    yield "upside down", up_down(motif)
    yield "turned by half", half_turn(motif)


def _counterchange(motif: Motif) -> Drafts:
    yield "counterchanged", counterchange(motif)


def _shifts(motif: Motif) -> Drafts:
    rows, columns = motif.shape
    for right in sorted({columns * n // 4 for n in (1, 2, 3)} - {0}):
        yield f"shifted {number_of(right, 'stitch')} to the right", shift(motif, right=right)
    for up in sorted({rows * n // 4 for n in (1, 2, 3)} - {0}):
        shifted = shift(motif, up=up, colours="swap", must_work=False)
        yield f"shifted {number_of(up, 'row')} up", shifted


def _layouts(motif: Motif) -> Drafts:
    for layout in ("brick", "half-drop"):
        yield (
            f"laid as {layout}",
            tile(motif, across=2, up=2, layout=layout, colours="swap", must_work=False),
        )
    for seam in ("double", "shared"):
        laid = tile(motif, across=2, up=2, layout="mirrored", seam=seam, colours="swap", must_work=False)
        yield f"laid mirrored with a {seam} seam", laid


def _glides(motif: Motif) -> Drafts:
    above = tile(motif, up=2, colours="swap", must_work=False)
    overlaid = np.concatenate([motif.overlaid[:, ::-1], motif.overlaid])
    yield "with the mirrored one above", above.with_grid(overlaid ^ above.row_is_cc)
    beside = tile(motif, across=2, must_work=False)
    overlaid = np.concatenate([motif.overlaid, motif.overlaid[::-1]], axis=1)
    yield "with the one upside down beside", beside.with_grid(overlaid ^ beside.row_is_cc)


def _thinner(motif: Motif) -> Drafts:
    for where, neighbours in _NEIGHBOURS:
        yield f"thinner{where}", motif.with_grid(~_grown(~motif.grid, neighbours))


def _thicker(motif: Motif) -> Drafts:
    for where, neighbours in _NEIGHBOURS:
        yield f"thicker{where}", motif.with_grid(_grown(motif.grid, neighbours))


_NEIGHBOURS = (("", (0, 1)), (" along the rows", (1,)), (" up the columns", (0,)))
"""Along which axes lines gain or lose a square."""


def _grown(squares: NDArray[np.bool_], axes: tuple[int, ...]) -> NDArray[np.bool_]:
    """Mark the squares and their neighbours along these axes; nothing comes round the edge."""
    grown = squares.copy()
    for axis in axes:
        along, source = np.moveaxis(grown, axis, 0), np.moveaxis(squares, axis, 0)
        along[1:] |= source[:-1]
        along[:-1] |= source[1:]
    return grown


def _edges(motif: Motif) -> Drafts:
    rows, columns = motif.shape
    if rows > 2 and columns > 2:
        yield (
            "cropped by a square all round",
            crop(motif, rows=(2, rows - 1), stitches=(2, columns - 1), must_work=False),
        )
    overlaid = np.argwhere(orientation.to_working(motif.overlaid)) + 1
    if not len(overlaid):
        return
    (low, near), (high, far) = overlaid.min(axis=0).tolist(), overlaid.max(axis=0).tolist()
    yield (
        "cropped to what is overlaid",
        crop(motif, rows=(max(low - 1, 1), min(high + 1, rows)), stitches=(near, far), must_work=False),
    )
    up, left = (rows + 1 - low - high) // 2, (columns + 1 - near - far) // 2
    if up or left:
        yield "re-centred", shift(motif, up=up, right=-left, colours="swap", must_work=False)


def _frames(motif: Motif) -> Drafts:
    odd = motif.shape[0] % 2 == 1
    closed = motif if odd else pad(motif, top=1)
    for rings in (1, 2, 3):
        name = f"framed in {number_of(rings, 'ring')}{'' if odd else ', a row added on top'}"
        yield name, frame(closed, rings, colours="swap", must_work=False)


_CHANGES: dict[Kind, Callable[[Motif], Drafts]] = {
    "flips": _flips,
    "counterchange": _counterchange,
    "shifts": _shifts,
    "layouts": _layouts,
    "glides": _glides,
    "thinner": _thinner,
    "thicker": _thicker,
    "edges": _edges,
    "frames": _frames,
}


# ---- mending them ------------------------------------------------------------------------------------------


MENDED_AT_ONCE = 1_000_000
"""Pictures are laid side by side up to so many squares, so that memory stays small."""


def _mended(drafts: list[Motif]) -> list[tuple[Motif, int]]:
    """Give the nearest workable picture to each, and how many squares it changed."""
    mended: list[tuple[Motif, int]] = [(motif, 0) for motif in drafts]
    for places in _side_by_side(drafts):
        first = drafts[places[0]].first
        row = Motif(np.concatenate([drafts[i].grid for i in places], axis=1), first)
        repair = nearest_workable(row)
        ends = np.cumsum([drafts[i].shape[1] for i in places])[:-1]
        pictures = zip(np.split(repair.motif.grid, ends, axis=1), np.split(repair.changed, ends, axis=1), strict=True)
        for i, (grid, changed) in zip(places, pictures, strict=True):
            count = int(np.count_nonzero(changed))
            if count:
                mended[i] = (drafts[i].with_grid(grid), count)
    return mended


def _side_by_side(drafts: list[Motif]) -> Iterator[list[int]]:
    """Give the places of pictures of one height whose row 1 has one colour, as many as make one picture."""
    alike: dict[tuple[int, str], list[int]] = {}
    for i, motif in enumerate(drafts):
        alike.setdefault((motif.shape[0], motif.first), []).append(i)
    for places in alike.values():
        some: list[int] = []
        width = 0
        for i in places:
            width += drafts[i].shape[1]
            if some and (width > LARGEST_SIDE or width * drafts[i].shape[0] > MENDED_AT_ONCE):
                yield some
                some, width = [], drafts[i].shape[1]
            some.append(i)
        yield some


# ---- which are the same ------------------------------------------------------------------------------------


def _first_of_each(keys: list[bytes]) -> list[int]:
    """Give the place at which each key comes first."""
    first: dict[bytes, int] = {}
    for i, key in enumerate(keys):
        first.setdefault(key, i)
    return list(first.values())


def _canonical(motifs: list[Motif], alike: Alike) -> list[bytes]:
    """Give each motif a key that is equal for those that are alike."""
    return [
        f"{motif.shape} {motif.first} ".encode()
        + (motif.grid.tobytes() if alike == "picture" else _least_turn(motif.grid))
        for motif in motifs
    ]


def _least_turn(grid: NDArray[np.bool_]) -> bytes:
    """Give the columns as bytes, read from the place and in the direction from which they come first in order."""
    columns = [column.tobytes() for column in np.packbits(grid, axis=0).T]
    return min(b"".join(turn) for line in (columns, columns[::-1]) for turn in _turns(line))


def _turns(line: list[bytes]) -> Iterator[list[bytes]]:
    """Turn a line that comes round to start at each of its least elements: no other start could come first."""
    least = min(line)
    return (line[i:] + line[:i] for i, column in enumerate(line) if column == least)


# ---- measuring them ----------------------------------------------------------------------------------------


def measured(motifs: Sequence[Motif], original: Motif, *, lengths: StitchLengths = USUAL_LENGTHS) -> list[Figures]:
    """Measure motifs, those of one size at once, beside an original."""
    sizes: dict[tuple[int, int], list[int]] = {}
    for i, motif in enumerate(motifs):
        sizes.setdefault(motif.shape, []).append(i)
    found: dict[int, Figures] = {}
    for places in sizes.values():
        found.update(zip(places, _figures_of_one_size([motifs[i] for i in places], original, lengths), strict=True))
    return [found[i] for i in range(len(motifs))]


def _figures_of_one_size(motifs: list[Motif], original: Motif, lengths: StitchLengths) -> Iterator[Figures]:
    # (R, C, K), so that working order is of the first two
    grids = np.stack([motif.grid for motif in motifs], axis=-1)
    overlaid = np.stack([motif.overlaid for motif in motifs], axis=-1)
    own = np.stack([motif.row_is_cc for motif in motifs], axis=-1)
    working = orientation.to_working(overlaid)
    columns = (
        overlaid.mean(axis=(0, 1)),
        _surcharges(working, lengths),
        grids.mean(axis=(0, 1)),
        _longest_runs(working),
        _back_contrasts(orientation.to_working(grids), orientation.to_working(own)),
        _similarities(grids, original.grid),
    )
    return (Figures(*numbers) for numbers in zip(*(column.tolist() for column in columns), strict=True))


def _surcharges(overlaid: NDArray[np.bool_], lengths: StitchLengths) -> NDArray[np.float64]:
    """Calculate the stitches' yarn of both fabrics, (K,), from the overlaid squares in working order, (R, C, K)."""
    rows, columns = overlaid.shape[:2]
    fldc = overlaid.sum(axis=(0, 1))
    in_last_row = overlaid[-2].sum(axis=0) if rows > 1 else np.zeros_like(fldc)
    ground = columns * lengths.sc + (columns * (rows - 1) - fldc) * lengths.blsc
    plain = ground + fldc * lengths.fldc
    # the row above closes an FLdc by a tog-b in place of a BLsc; in the last row it is a tog-f itself
    more = (fldc - in_last_row) * (lengths.tog_back - lengths.blsc) + in_last_row * (lengths.tog_front - lengths.fldc)
    surcharges: NDArray[np.float64] = more / plain
    return surcharges


def _longest_runs(overlaid: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Give the most neighbours of a row that are overlaid, and so the most FLdc side by side in the row above, (K,)."""
    run = np.zeros((overlaid.shape[0], overlaid.shape[2]), dtype=np.int64)
    longest = run.copy()
    for column in np.moveaxis(overlaid, 1, 0):
        run = (run + 1) * column
        np.maximum(longest, run, out=longest)
    most: NDArray[np.int64] = longest.max(axis=0)
    return most


def _back_contrasts(front: NDArray[np.bool_], own: NDArray[np.bool_]) -> NDArray[np.float64]:
    """Compare the front, (R, C, K) in working order, with what is behind it; `own` colours of rows are (R, 1, K)."""
    back = np.broadcast_to(own, front.shape).copy()
    back[1:-1] = ~front[:-2]  # a negative, one row apart; the first and last row show their own colours
    contrasts: NDArray[np.float64] = (front != back).mean(axis=(0, 1))
    return contrasts


def _similarities(grids: NDArray[np.bool_], original: NDArray[np.bool_]) -> NDArray[np.float64]:
    """Give the best share of squares that agree with the original laid again and again, over all its shifts, (K,)."""
    rows, columns, count = grids.shape
    high, wide = original.shape
    # squares that meet the same square of the original count together
    signs = np.pad(np.where(grids, 1.0, -1.0), ((0, -rows % high), (0, -columns % wide), (0, 0)))
    folded = signs.reshape(-1, high, signs.shape[1] // wide, wide, count).sum(axis=(0, 2))
    spectrum = np.fft.rfft2(np.where(original, 1.0, -1.0))[:, :, np.newaxis]
    product = spectrum * np.conj(np.fft.rfft2(folded, axes=(0, 1)))
    # agreeing less differing squares: whole numbers, so rounding makes them exact
    balance = np.rint(np.fft.irfft2(product, s=(high, wide), axes=(0, 1)).max(axis=(0, 1)))
    shares: NDArray[np.float64] = (rows * columns + balance) / (2 * rows * columns)
    return shares
