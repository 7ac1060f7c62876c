"""Reading: from a photograph and a chart to the squares that differ, or a sentence on why that cannot be said.

Experimental: tried on drawn fabric that code photographed, and never on wool. A finding is a place to look.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit.colours import contrast, to_tone
from mosaickit.errors import OptionError, PhotographError, number_of
from mosaickit.fabric import Chart, Stitch
from mosaickit.files import PictureSource, pixels_of
from mosaickit.gauge import Gauge
from mosaickit.motif import read_only
from mosaickit.orientation import Face
from mosaickit.photographed.asked import checked_corners, checked_parts
from mosaickit.photographed.expected import Expected, expected
from mosaickit.photographed.judging import Judged, judged
from mosaickit.photographed.laying import CornersFrom, LaidPicture, coarsely, cost_of_moving, finely
from mosaickit.photographed.outline import corners_of
from mosaickit.photographed.straight import Grid, Reals, colours_of, sides
from mosaickit.photographed.work import PhotographedWork, WrongSquare

LEAST_PIXELS = 6
"""The fewest pixels that a square's side may have in the photograph."""

LEAST_SIDE_SEEN = 3
"""The fewest rows and stitches that can be read."""

LEAST_LIKENESS = 0.65
"""The chart's light and dark agree with the photograph's at least so well, of 1, or it is not laid over it."""

MOST_DIFFERING = 0.2
"""If a larger share of squares differs, the chart is taken for another one."""

LEAST_SHARED = 0.5
"""Overlaid squares of chart and photograph go together at least so well, of 1, if there are a few of them."""

LEAST_APART, SURELY_APART = 2.5, 4.0
"""How many spreads squares of the two colours must lie apart to be read at all, and to be read surely."""

TURNED = 0.04
"""So much better must the chart fit a turned picture, of 1, for it to be taken as turned."""

ROWS_GAP = 0.012
"""How much better one count of rows fits than another, of 2, for odds of e to 1: measured on drawn fabric."""

FEW_ROWS_SURE, FEW_ROWS_MORE = 0.5, 0.07
"""A count of few rows is never surer than the first of these, and so much more for each row."""

SURELY_UPRIGHT = 0.75
"""If the chart fits so well, of 1, no turn is tried."""

TRIED_FINELY, NEAR_ENOUGH = 3, 0.1
"""How many counts of rows are tried finely, and how near to the best they must come coarsely."""

STRAIGHT_PIXELS = 4_000_000
"""The straightened photograph has about so many pixels at most."""


def read_work(
    picture: PictureSource,
    chart: Chart,
    *,
    corners: Any = None,  # noqa: ANN401 — four points in any form
    face: Face = "front",
    rows: tuple[int, int] | None = None,
    stitches: tuple[int, int] | None = None,
    gauge: Gauge | None = None,
) -> PhotographedWork:
    """Lay a photograph of the work over its chart, and find the squares that differ. Experimental: never tried on wool.

    Parameters
    ----------
    picture : path, bytes, PIL image, or array
        The photograph, as `mk.from_picture` takes it: PNG, JPEG and so on, turned as the camera noted. A square needs
        at least 6 pixels a side; 12 are better.
    chart : Chart
        (R, N) stitches that were to be worked.
    corners : four points (x, y), optional
        The outer corners of the four corner squares, in pixels from the top left of the picture, clockwise as the
        fabric is seen upright: top left, top right, bottom right, bottom left. Half a square off is near enough. If
        left out, they are looked for, which needs fabric without a border on a plain ground of another colour; the
        fabric may then lie on its side.
    face : "front" or "back"
        Which face is seen. The back of plain fabric shows stripes whatever was worked, so "back" is for reversible
        fabric.
    rows : (first, last), optional
        Which rows lie between the corners, from 1. If left out, row 1 is at the bottom and the rows are counted, so
        that the photograph may be of work in progress.
    stitches : (first, last), optional
        Which stitches lie between the corners; all if left out. Use it for part of a wide piece, and for work in the
        round that lies flat.
    gauge : Gauge, optional
        Helps to count rows.

    Returns
    -------
    PhotographedWork
        With ``.findings``, ``.rows`` and ``.remarks``; print it, or see `mk.draw.photographed` and
        `mk.tables.wrong_squares`. It is read with the chart at hand: a square is taken to be as the chart says until
        the photograph says otherwise.

    Raises
    ------
    FileError
        If there is no such file, or it holds no picture that is whole and of at most 64,000,000 pixels.
    OptionError
        If an argument is not as described.
    PhotographError
        If the fabric is not found, too small, too poor in contrast, or unlike the chart; says what helps.
    MotifError
        If an array is no picture.
    StitchError
        If no hook can work the chart.

    Examples
    --------
    >>> import mosaickit as mk
    >>> chart = mk.compile_chart(mk.random_motif(14, 14, rng=np.random.default_rng(3)))
    >>> squares = np.kron(mk.work(chart).front, np.ones((12, 12)))
    >>> squares[12:24, 48:60] = 0                        # one FLdc was left out
    >>> found = read_work(0.9 - 0.7 * squares, chart, corners=[(0, 0), (168, 0), (168, 168), (0, 168)])
    >>> print(found.findings[0].message)
    Row 14, stitch 10: BLsc where FLdc should be (over 99% sure). The square below it, in row 13, shows MC; the chart
    says CC.
    """
    seen_rows, seen_stitches = checked_parts(chart, face, rows, stitches, gauge)
    pixels = pixels_of(picture)
    height, width = pixels.shape[:2]
    given = None if corners is None else checked_corners(corners, width, height)
    tones, factor = colours_of(pixels, int(np.clip(40 * max(chart.shape), 1200, 4000)))
    if float(tones.std(axis=(0, 1)).max()) < 0.01:
        raise PhotographError("The photograph shows one colour all over, and no fabric: give the one with the work.")
    whole = expected(chart, face, seen_rows, seen_stitches)
    count = len(whole.numbers)
    if min(whole.shape) < LEAST_SIDE_SEEN:
        raise OptionError(
            f"`chart`, or the part of it that is seen, must have at least {LEAST_SIDE_SEEN} rows and {LEAST_SIDE_SEEN} "
            f"stitches, as squares are told by their neighbours; it has {number_of(count, 'row')} of "
            f"{number_of(whole.shape[1], 'stitch')}."
        )
    counts = range(LEAST_SIDE_SEEN, count + 1) if rows is None else range(count, count + 1)
    how: CornersFrom = "found" if given is None else "given"
    where = corners_of(tones) if given is None else given / factor
    _check_size(where, whole.shape[1], factor)
    aspect = None if gauge is None else gauge.aspect
    laid, rows_sure, turned, second = _laid(tones, where, whole, counts, aspect, how)
    _check_rows(laid)
    read = judged(tones, laid.grid, laid.expected)
    reason = _unlike(laid, read)
    if reason:
        raise PhotographError(f"{reason} {_what_would_fit(tones, where, chart, face, whole, counts, aspect, how)}")
    return _put_together(chart, face, tones, factor, laid, read, rows_sure if rows is None else 1.0, turned, second)


# ---- laying it over ----------------------------------------------------------------------------------------


def _check_size(corners: Reals, columns: int, factor: int) -> None:
    wide = sides(corners)[0] / columns * factor
    if wide < LEAST_PIXELS:
        raise PhotographError(
            f"The squares are about {wide:.1f} pixels wide in this photograph, and at least {LEAST_PIXELS} are needed: "
            "take it from nearer, or in parts, and say which with `rows` and `stitches`."
        )


def _check_rows(laid: LaidPicture) -> None:
    high = sides(laid.grid.corners)[1] / laid.grid.shape[0]
    if high < LEAST_PIXELS * 0.6:
        raise PhotographError(
            f"The rows are about {high:.1f} pixels high in this photograph, too low to be read: take it from nearer "
            "and straight from above, or in parts, and say which with `rows` and `stitches`."
        )


def _laid(
    tones: NDArray[np.float32], corners: Reals, whole: Expected, counts: range, aspect: float | None, how: CornersFrom
) -> tuple[LaidPicture, float, int, int]:
    """Lay the chart over the picture, turned if that fits much better.

    Gives how sure the count of rows is, how many quarter turns were taken, and the second best count or 0.
    """
    best: tuple[float, int, list[LaidPicture]] | None = None
    for turned in range(4 if how == "found" else 1):
        found = coarsely(tones, np.roll(corners, -turned, axis=0), whole, counts, aspect, how)
        if found and not turned and found[0].likeness > SURELY_UPRIGHT:
            best = found[0].likeness, turned, found
            break
        if found and (best is None or found[0].likeness - TURNED * (turned > 0) > best[0]):
            best = found[0].likeness - TURNED * (turned > 0), turned, found
    if best is None:
        raise PhotographError(
            f"The corners are far too wide or too high for {_of_rows(counts)} of "
            f"{number_of(whole.shape[1], 'stitch')}: check `corners`, and say which part is seen with `rows` and "
            "`stitches`."
        )
    _, turned, found = best
    upright = np.roll(corners, -turned, axis=0)
    tried = sorted(
        (
            (each.likeness + fine.likeness - cost_of_moving(upright, fine, how), fine)
            for each in found[:TRIED_FINELY]
            if each.likeness > found[0].likeness - NEAR_ENOUGH
            for fine in [finely(tones, each)]
        ),
        key=lambda pair: -pair[0],
    )
    odds = np.exp([(score - tried[0][0]) / ROWS_GAP for score, _ in tried])
    second = tried[1][1].grid.shape[0] if len(tried) > 1 else 0
    best_one = tried[0][1]
    most = FEW_ROWS_SURE + FEW_ROWS_MORE * best_one.grid.shape[0]
    return best_one, min(float(1 / odds.sum()), most, 0.999), turned, second


def _of_rows(counts: range) -> str:
    return number_of(counts[0], "row") if len(counts) == 1 else f"up to {number_of(counts[-1], 'row')}"


def _unlike(laid: LaidPicture, read: Judged) -> str:
    """Say why the picture does not show what the chart says, or nothing."""
    wanted, seen = laid.expected.overlaid, read.overlaid
    if laid.likeness < LEAST_LIKENESS or read.apart < LEAST_APART:
        return "The chart's light and dark squares were not found in the photograph, or the yarns are too alike in it."
    differ = np.count_nonzero(wanted != seen)
    few = max(3, MOST_DIFFERING * wanted.size)
    shared = 1.0
    if min(wanted.sum(), seen.sum()) >= 6:
        shared = float(np.corrcoef(wanted.ravel(), seen.ravel())[0, 1])
    if differ > few or shared < LEAST_SHARED:
        return f"{differ:,} of {wanted.size:,} squares differ from the chart, too many for mistakes."
    return ""


def _what_would_fit(
    tones: NDArray[np.float32],
    corners: Reals,
    chart: Chart,
    face: Face,
    whole: Expected,
    counts: range,
    aspect: float | None,
    how: CornersFrom,
) -> str:
    """Say what would make the chart fit, if it is one of a few things, or what to look at."""

    def fits(part: Expected) -> bool:
        found = coarsely(tones, corners, part, counts, aspect, how)
        if not found:
            return False
        laid = finely(tones, found[0])
        return not _unlike(laid, judged(tones, laid.grid, laid.expected))

    other: Face = "back" if face == "front" else "front"
    if chart.reversible:
        rows, stitches = whole.numbers, whole.stitches
        spans = (int(rows.min()), int(rows.max())), (int(stitches.min()), int(stitches.max()))
        if fits(expected(chart, other, *spans)):
            return f"The {other} fits: give `face={other!r}`."
    if fits(whole.mirrored()):
        return (
            "Mirrored, it fits: was the picture mirrored by the telephone, or is the chart for the other hand? Mirror "
            "the picture, or compile the chart with the other `hand`."
        )
    return (
        "Check that it is this chart, that `corners` are those of its squares without a border, upright and in order, "
        f"and that this is the {face}; in poor light, photograph it again by day."
    )


# ---- what is said of it ------------------------------------------------------------------------------------


def _put_together(
    chart: Chart,
    face: Face,
    tones: NDArray[np.float32],
    factor: int,
    laid: LaidPicture,
    read: Judged,
    rows_sure: float,
    turned: int,
    second: int,
) -> PhotographedWork:
    part = laid.expected
    cc = np.array([colour == "CC" for colour in chart.row_colours])
    own, above = cc[part.numbers - 1], cc[np.minimum(part.numbers, len(cc) - 1)]
    shows, says = (np.where(over, above[:, np.newaxis], own[:, np.newaxis]) for over in (read.overlaid, part.overlaid))
    colours = tuple(
        (yarn.name, "#" + "".join(f"{round(255 * float(tone)):02x}" for tone in to_tone(light)))
        for yarn, light in zip(part.yarns, read.colours, strict=True)
    )
    straight = _straight(tones, laid.grid)
    return PhotographedWork(
        chart=chart,
        face=face,
        rows=(int(part.numbers.min()), int(part.numbers.max())),
        stitches=(int(part.stitches.min()), int(part.stitches.max())),
        rows_sureness=rows_sure,
        shows_cc=read_only(shows),
        chart_says_cc=read_only(says),
        sureness=read_only(np.maximum(read.chance, 1 - read.chance)),
        findings=tuple(_findings(chart, face, part, read)),
        corners=read_only(laid.grid.outline * factor),
        straight=read_only(straight),
        yarns_seen=colours,
        remarks=tuple(_remarks(laid, read, rows_sure, turned, second, colours)),
    )


def _straight(tones: NDArray[np.float32], grid: Grid) -> NDArray[np.uint8]:
    rows, columns = grid.shape
    wide, high = sides(grid.corners)
    scale = min(1.0, np.sqrt(STRAIGHT_PIXELS / (wide * high)))
    fine = (max(4, round(scale * high / rows)), max(4, round(scale * wide / columns)))
    flat = np.clip(grid.flat(tones, fine), 0, 1)
    result: NDArray[np.uint8] = np.rint(255 * flat).astype(np.uint8)
    return result


def _findings(chart: Chart, face: Face, part: Expected, read: Judged) -> Iterator[WrongSquare]:
    differ = np.argwhere(read.overlaid != part.overlaid)
    places = sorted((int(part.numbers[top]), int(part.stitches[left]), top, left) for top, left in differ)
    colours = chart.row_colours
    over, plain = (
        ({Stitch.FLDC, Stitch.TOG_FRONT}, Stitch.FLDC) if face == "front" else ({Stitch.TOG_BACK}, Stitch.TOG_BACK)
    )
    for row, stitch, top, left in places:
        should = Stitch(int(chart.stitches[row, stitch - 1]))  # of the next row: it hangs over this square
        says, shows = (colours[row - 1 + int(overlaid[top, left])] for overlaid in (part.overlaid, read.overlaid))
        chance = float(read.chance[top, left])
        yield WrongSquare(
            row=row,
            stitch=stitch,
            chart_says=says,
            photograph_shows=shows,
            stitch_row=row + 1,
            should_be=should,
            probably_is=Stitch.BLSC if should in over else plain,
            sureness=max(chance, 1 - chance),
        )


def _remarks(
    laid: LaidPicture, read: Judged, rows_sure: float, turned: int, second: int, colours: tuple[tuple[str, str], ...]
) -> Iterator[str]:
    part = laid.expected
    if rows_sure < 0.9:
        yield f"The count of rows is unsure: it may also be {second}. Count them by hand, and give `rows`."
    if turned:
        yield f"The fabric lies turned in the photograph: it was turned by {turned * 90}° to be read upright."
    if laid.swapped:
        yield "Light and dark are the other way around than the chart's yarns: was it worked with the two swapped?"
    if not part.overlaid.any():
        yield "No square of this part is overlaid, so nothing tells where its stitches are but the corners."
    if read.apart < SURELY_APART:
        least = min((contrast(one, two) for (_, one), (_, two) in combinations(colours, 2)), default=1.0)
        yield (
            f"The squares are hard to tell apart (the yarns' contrast is {least:.1f} : 1 in this light), so nothing "
            "here is sure."
        )
    wrong = np.where(part.overlaid, 1 - read.chance, read.chance)
    doubtful = int(((wrong > 0.2) & (wrong <= 0.5)).sum())
    if doubtful:
        yield f"{number_of(doubtful, 'more square')} may differ, but less surely than 1 in 2: see `.sureness`."
