"""Measuring: figures by which motifs are compared, worked out for all of one size together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.motif import Motif, fldc_standing
from mosaickit.yarn import StitchLengths

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
    standing = fldc_standing(orientation.to_working(overlaid))
    columns = (
        overlaid.mean(axis=(0, 1)),
        _surcharges(standing, lengths),
        grids.mean(axis=(0, 1)),
        _longest_runs(standing),
        _back_contrasts(orientation.to_working(grids), orientation.to_working(own)),
        _similarities(grids, original.grid),
    )
    return (Figures(*numbers) for numbers in zip(*(column.tolist() for column in columns), strict=True))


def _surcharges(standing: NDArray[np.bool_], lengths: StitchLengths) -> NDArray[np.float64]:
    """Compare the stitches' yarn of both fabrics, (K,), from where FLdc stand in working order, (R, C, K)."""
    rows, columns = standing.shape[:2]
    fldc, in_last_row = standing.sum(axis=(0, 1)), standing[-1].sum(axis=0)
    ground = columns * lengths.sc + (columns * (rows - 1) - fldc) * lengths.blsc
    plain = ground + fldc * lengths.fldc
    # the row above closes an FLdc by a tog-b in place of a BLsc; in the last row it is a tog-f itself
    more = (fldc - in_last_row) * (lengths.tog_back - lengths.blsc) + in_last_row * (lengths.tog_front - lengths.fldc)
    surcharges: NDArray[np.float64] = more / plain
    return surcharges


def _longest_runs(standing: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Give the most FLdc side by side in a row, (K,)."""
    run = np.zeros((standing.shape[0], standing.shape[2]), dtype=np.int64)
    longest = run.copy()
    for column in np.moveaxis(standing, 1, 0):
        run = (run + 1) * column
        np.maximum(longest, run, out=longest)
    most: NDArray[np.int64] = longest.max(axis=0)
    return most


def _back_contrasts(front: NDArray[np.bool_], own: NDArray[np.bool_]) -> NDArray[np.float64]:
    """Compare the front, (R, C, K) in working order, with what is behind it; `own` colours of rows are (R, 1, K)."""
    contrasts: NDArray[np.float64] = (front != back_of(front, own)).mean(axis=(0, 1))
    return contrasts


def back_of(front: NDArray[np.bool_], own: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Give what the reversible fabric shows behind each square, as if the front were looked through.

    Parameters
    ----------
    front : bool array, (R, C, …)
        In working order, True for CC.
    own : bool array, (R, 1, …)
        The colours of the rows.

    Returns
    -------
    bool array, (R, C, …)
        The front's negative one row up; the first and the last row show their own colours.
    """
    back = np.broadcast_to(own, front.shape).copy()
    back[1:-1] = ~front[:-2]
    return back


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
