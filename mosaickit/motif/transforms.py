"""Transforms: motif in, motif out, with the row colours kept in step.

Row colours alternate, so rows that move by an odd number land on the other colour. Every transform that moves
rows says what then happens, by one option: ``colours="keep"`` leaves the squares as they look and lets the
colour of row 1 follow where the whole picture moved; ``colours="swap"`` leaves the colour of row 1 and
counterchanges the squares that landed on the other row colour, so that the same squares stay overlaid. Where a
workable picture would come out unworkable, the verb tries other arguments, and raises `UnworkableError` with those that
cure it; ``must_work=False`` gives the picture all the same. Yarns move with their rows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import chain, combinations
from typing import Any, Literal, NoReturn, cast

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.errors import (
    Cure,
    MotifError,
    OptionError,
    TransformError,
    UnworkableError,
    as_whole,
    cures_in_words,
    number_of,
    of_kind,
    one_of,
    simplest,
    true_or_false,
    whole_number,
)
from mosaickit.motif.motif import Motif, checked_size
from mosaickit.motif.rules import FIRST_ROW, LAST_ROW, WORKABLE, check
from mosaickit.orientation import HANDS, ROLES, Hand, Role

Colours = Literal["keep", "swap"]
Layout = Literal["straight", "brick", "half-drop", "mirrored"]
Seam = Literal["double", "shared"]
Fill = Literal["plain", "MC", "CC"]

COLOURS: tuple[Colours, ...] = ("keep", "swap")
LAYOUTS: tuple[Layout, ...] = ("straight", "brick", "half-drop", "mirrored")
SEAMS: tuple[Seam, ...] = ("double", "shared")
FILLS: tuple[Fill, ...] = ("plain", "MC", "CC")

Move = Callable[[NDArray[Any]], NDArray[Any]]
"""Moves the squares of any array as seen, (R, C)."""


def _from_overlaid(motif: Motif, overlaid: NDArray[np.bool_], first: Role, sources: Iterable[int]) -> Motif:
    """Give the picture in which just these squares, (R, C) as seen, are overlaid, in the yarns of rows `sources`."""
    rows = motif.with_grid(overlaid, first, motif.yarns.gather(sources))
    return rows.with_grid(overlaid ^ rows.row_is_cc)


def _moved(motif: Motif, move: Move, first: Role, colours: Colours) -> Motif:
    """Move squares and the yarns of their rows; `first` is row 1's colour if the squares keep theirs."""
    one_of("colours", colours, COLOURS)
    row_numbers = np.broadcast_to(orientation.row_numbers(motif.shape[0])[:, np.newaxis], motif.shape)
    # in a half-drop the columns differ; the yarns stay with the first one as seen, which does not drop
    sources = orientation.to_working(move(row_numbers)[:, :1])[:, 0].tolist()
    if colours == "swap":
        return _from_overlaid(motif, move(motif.overlaid), motif.first, sources)
    return motif.with_grid(move(motif.grid), first, motif.yarns.gather(sources))


Again = Callable[..., Motif]
"""Does the same to a motif, given first, with some other arguments, whether it can be worked or not."""


def _settled(
    before: Motif,
    after: Motif,
    must_work: bool,
    what: str,
    again: Again,
    others: Iterable[Mapping[str, Any]],
    why: str = "",
    taller: bool = False,
) -> Motif:
    """Give `after`, unless it lost the workability of `before` and has to keep it.

    `others` are arguments that may cure it, to be tried one by one and together; with rows added to the result; and, if
    it may be `taller`, with a row added on top of the motif.
    """
    if true_or_false("must_work", must_work) and check(before, rules=WORKABLE).ok:
        report = check(after, rules=WORKABLE)
        if not report.ok:
            cures = simplest(_cures(before, again, list(others), taller))
            raise UnworkableError(
                f"{what} makes a picture that cannot be worked. {why}{cures_in_words(cures)} (Or take it all the "
                f"same, with must_work=False.) What is wrong: {report.errors_in_words}",
                report,
                cures,
            )
    return after


def _with_rows(motif: Motif, rows: Mapping[str, int]) -> Motif:
    return pad(motif, top=rows.get("top", 0), bottom=rows.get("bottom", 0), must_work=False)


def _cures(motif: Motif, again: Again, others: list[Mapping[str, Any]], taller: bool) -> list[Cure]:
    """Find what cures a move, without added rows first."""
    together = chain.from_iterable(combinations(others, n) for n in range(len(others) + 1))
    cures = []
    for options in ({name: value for other in some for name, value in other.items()} for some in together):
        for before in ({}, {"top": 1}) if taller else ({},):
            try:
                result = again(_with_rows(motif, before), **options)
                ends = {rule.name for rule, _ in check(result, rules=WORKABLE).masks}
                after = {side: 1 for side, rule in (("bottom", FIRST_ROW), ("top", LAST_ROW)) if rule.name in ends}
                if check(_with_rows(result, after), rules=WORKABLE).ok:
                    needed = {**options, "must_work": False} if after else options
                    cures.append(Cure(needed, before, after))
            except (MotifError, OptionError):  # larger than a motif may be, or arguments that do not go together
                continue
    return sorted(cures, key=lambda cure: (len(cure.after), len(cure.before)))


# ---- moves that are always safe ----------------------------------------------------------------------------


def mirror(motif: Motif) -> Motif:
    """Mirror the picture left to right: always safe, since the rules look along columns only.

    Examples
    --------
    >>> print(mirror(Motif.from_text("##.")).to_text())
    .##
    """
    of_kind("motif", motif, Motif)
    return motif.with_grid(motif.grid[:, ::-1])


def up_down(motif: Motif, *, colours: Colours = "keep") -> Motif:
    """Turn the picture upside down, as in water.

    Parameters
    ----------
    motif : Motif
        (R, C).
    colours : "keep" or "swap"
        With an even number of rows, row 1 ends up in the other colour: keep the squares' colours and let the
        colour of row 1 change, or keep row 1's and counterchange the picture. With an odd number both are the same.

    Returns
    -------
    Motif
        (R, C). A workable picture stays workable.

    Examples
    --------
    >>> upside = up_down(Motif.from_array([[1, 1], [0, 1]]))
    >>> print(upside.to_text(), upside.first)
    .#
    ## CC
    """
    of_kind("motif", motif, Motif)
    return _moved(motif, lambda squares: squares[::-1], _colour_of_last_row(motif), colours)


def half_turn(motif: Motif, *, colours: Colours = "keep") -> Motif:
    """Turn the picture by half a turn: upside down and mirrored; `colours` as in `up_down`.

    Examples
    --------
    >>> print(half_turn(Motif.from_text("##.")).to_text())
    .##
    """
    of_kind("motif", motif, Motif)
    return mirror(up_down(motif, colours=colours))


def counterchange(motif: Motif) -> Motif:
    """Swap the colours of all squares and of all rows: the same squares stay overlaid.

    Examples
    --------
    >>> swapped = counterchange(Motif.from_text("##."))
    >>> print(swapped.to_text(), swapped.first)
    ..# CC
    """
    of_kind("motif", motif, Motif)
    return motif.with_grid(~motif.grid, orientation.other(motif.first))


def quarter_turn(motif: Motif) -> NoReturn:
    """Refuse to turn the picture by a quarter: rows are not columns.

    Raises
    ------
    TransformError
        Always, with the reason.
    """
    raise TransformError(
        "A quarter turn is never safe: rows have colours and columns have not, so what was worked along a row would "
        "have to be worked up a column. Redraw the picture turned, and let `mk.nearest_workable` mend it."
    )


def _colour_of_last_row(motif: Motif) -> Role:
    return orientation.role_of_row(motif.shape[0], motif.first)


# ---- moves that may lose workability -----------------------------------------------------------------------


def shift(motif: Motif, *, right: int = 0, up: int = 0, colours: Colours = "keep", must_work: bool = True) -> Motif:
    """Shift the picture, and bring what leaves one side in at the other.

    Parameters
    ----------
    motif : Motif
        (R, C).
    right, up : int
        Squares to the right and rows up; negative for left and down.
    colours : "keep" or "swap"
        What an odd `up` does: keep the squares' colours and let row 1's change, or keep row 1's and counterchange.
    must_work : bool
        Whether to raise if a workable picture comes out unworkable.

    Returns
    -------
    Motif
        (R, C).

    Raises
    ------
    UnworkableError
        If overlaid squares end up in row 1 or row R, or if an odd number of rows is shifted around and the
        colours keep, so that what came around is on the other row colour.
    """
    of_kind("motif", motif, Motif)
    right, up = _any_whole("right", right), _any_whole("up", up)
    first = orientation.role_of_row(1 - up, motif.first)
    result = _moved(motif, lambda squares: np.roll(squares, (-up, right), axis=(0, 1)), first, colours)
    return _settled(
        motif,
        result,
        must_work,
        f"Shifting up by {number_of(up, 'row')}" if up >= 0 else f"Shifting down by {number_of(-up, 'row')}",
        lambda motif, **other: shift(
            motif, **{"right": right, "up": up, "colours": colours, "must_work": False, **other}
        ),
        [{"colours": _other_way(colours)}],
        _say_odd(motif.shape[0]) if motif.shape[0] % 2 and colours == "keep" else "",
    )


def _say_odd(rows: int) -> str:
    return f"{number_of(rows, 'row')} is an odd number, so what comes around is on the other row colours. "


def _other_way(colours: Colours) -> Colours:
    return "swap" if colours == "keep" else "keep"


def _any_whole(name: str, value: object) -> int:
    return whole_number(name, value, least=None)


def crop(
    motif: Motif,
    *,
    rows: tuple[int, int] | None = None,
    stitches: tuple[int, int] | None = None,
    hand: Hand = "right",
    colours: Colours = "keep",
    must_work: bool = True,
) -> Motif:
    """Keep a part of the picture.

    Parameters
    ----------
    motif : Motif
        (R, C).
    rows, stitches : (first, last), or None for all
        What to keep, from 1, as a maker counts, both ends included.
    hand : "right" or "left"
        From which edge stitches are counted.
    colours : "keep" or "swap"
        What happens when the first row kept is an even one: see `shift`.
    must_work : bool
        Whether to raise if a workable picture comes out unworkable.

    Returns
    -------
    Motif
        (last row − first row + 1, last stitch − first stitch + 1).

    Raises
    ------
    OptionError
        If an end lies outside the picture or the two are the wrong way round.
    UnworkableError
        If an overlaid square becomes part of the first or last row.

    Examples
    --------
    >>> print(crop(Motif.from_array([[1, 1, 0], [0, 1, 0], [1, 1, 1]]), rows=(2, 3), stitches=(1, 2)).to_text())
    #.
    #.
    """
    of_kind("motif", motif, Motif)
    one_of("hand", hand, HANDS)
    low, high = _span("rows", rows, motif.shape[0])
    near, far = _span("stitches", stitches, motif.shape[1])

    def keep(squares: NDArray[Any]) -> NDArray[Any]:
        return orientation.to_seen(orientation.to_working(squares, hand)[low - 1 : high, near - 1 : far], hand)

    result = _moved(motif, keep, orientation.role_of_row(low, motif.first), colours)
    return _settled(
        motif,
        result,
        must_work,
        f"Keeping rows {low} to {high}",
        lambda motif, **other: crop(
            motif,
            **{"rows": rows, "stitches": stitches, "hand": hand, "colours": colours, "must_work": False, **other},
        ),
        [{"rows": _up_to_plain_rows(orientation.to_working(motif.overlaid, hand)[:, near - 1 : far], low, high)}],
    )


def _up_to_plain_rows(overlaid: NDArray[np.bool_], low: int, high: int) -> tuple[int, int]:
    """Widen a span of rows, from 1, until nothing is overlaid at its ends, (R, C) in working order."""
    plain = np.flatnonzero(~overlaid.any(axis=1)) + 1
    return int(plain[plain <= low].max(initial=1)), int(plain[plain >= high].min(initial=len(overlaid)))


def _span(name: str, given: tuple[int, int] | None, most: int) -> tuple[int, int]:
    if given is None:
        return 1, most
    try:
        low, high = (whole_number(name, end, least=1) for end in given)
    except (TypeError, ValueError):
        low, high = 1, 0
    if not 1 <= low <= high <= most:
        raise OptionError(f"`{name}` must be (first, last) within 1 to {most}; got {given!r}.")
    return low, high


def pad(
    motif: Motif,
    *,
    top: int = 0,
    bottom: int = 0,
    left: int = 0,
    right: int = 0,
    fill: Fill = "plain",
    colours: Colours = "keep",
    must_work: bool = True,
) -> Motif:
    """Add rows and columns around the picture.

    Parameters
    ----------
    motif : Motif
        (R, C).
    top, bottom, left, right : int
        How many rows or columns to add on each side.
    fill : "plain", "MC" or "CC"
        What the new squares show: their row's colour, or one colour throughout.
    colours : "keep" or "swap"
        What an odd `bottom` does to the picture above it: see `shift`.
    must_work : bool
        Whether to raise if a workable picture comes out unworkable, which a plain fill never does.

    Returns
    -------
    Motif
        (R + top + bottom, C + left + right).

    Examples
    --------
    >>> print(pad(Motif.from_text("#"), top=2, right=1).to_text())
    ..
    ##
    #.
    """
    of_kind("motif", motif, Motif)
    one_of("fill", fill, FILLS)
    one_of("colours", colours, COLOURS)
    top, bottom, left, right = (
        whole_number(name, value)
        for name, value in (("top", top), ("bottom", bottom), ("left", left), ("right", right))
    )
    rows, columns = checked_size(motif.shape[0] + top + bottom, motif.shape[1] + left + right)
    overlaid = np.pad(motif.overlaid, ((top, bottom), (left, right)))
    first = orientation.role_of_row(1 - bottom, motif.first) if colours == "keep" else motif.first
    sources = [min(row - bottom, motif.shape[0]) for row in range(1, rows + 1)]
    result = _from_overlaid(motif, overlaid, first, sources)
    if fill != "plain":
        grid = np.full((rows, columns), fill == "CC")
        inside = np.s_[top : rows - bottom, left : columns - right]
        grid[inside] = result.grid[inside]
        result = result.with_grid(grid)
    return _settled(
        motif,
        result,
        must_work,
        f"Padding with {fill}",
        lambda motif, **other: pad(
            motif,
            **{"top": top, "bottom": bottom, "left": left, "right": right, "fill": fill, "colours": colours, **other},
            must_work=False,
        ),
        [{"fill": "plain"}],
    )


def edge_stitches(motif: Motif, count: int = 1) -> Motif:
    """Add plain stitches at both sides, in each row's own colour: (R, C + 2 × count), always safe.

    Examples
    --------
    >>> print(edge_stitches(Motif.from_array([[0, 1], [0, 0]])).to_text())
    #.##
    ....
    """
    of_kind("motif", motif, Motif)
    count = whole_number("count", count)
    return pad(motif, left=count, right=count)


def repeat(motif: Motif, *, across: int = 1, up: int = 1, colours: Colours = "keep", must_work: bool = True) -> Motif:
    """Repeat the picture across and up.

    Parameters
    ----------
    motif : Motif
        (R, C).
    across, up : int
        How many times in all, 1 or more.
    colours : "keep" or "swap"
        With an odd number of rows, every second repeat up is on the other row colours: keep the squares' colours
        all the same, or counterchange these repeats.
    must_work : bool
        Whether to raise if a workable picture comes out unworkable.

    Returns
    -------
    Motif
        (R × up, C × across).

    Raises
    ------
    UnworkableError
        If an odd number of rows is repeated up with `colours="keep"` and that cannot be worked.

    Examples
    --------
    >>> print(repeat(Motif.from_array([[1, 0], [0, 1]]), across=2).to_text())
    #.#.
    .#.#
    """
    of_kind("motif", motif, Motif)
    return tile(motif, across=across, up=up, colours=colours, must_work=must_work)


def tile(
    motif: Motif,
    *,
    across: int = 1,
    up: int = 1,
    layout: Layout = "straight",
    seam: Seam = "double",
    colours: Colours = "keep",
    must_work: bool = True,
) -> Motif:
    """Cover an area with the picture.

    Parameters
    ----------
    motif : Motif
        (R, C).
    across, up : int
        How many times in all, 1 or more.
    layout : "straight", "brick", "half-drop" or "mirrored"
        Brick: every second row of repeats, from the bottom, lies half a width to the right. Half-drop: every second
        column of repeats, from the left, lies half a height lower. What leaves one side comes in at the other; odd
        sizes are halved downward. Mirrored: every second repeat is mirrored across, and turned upside down up.
    seam : "double" or "shared"
        In a mirrored layout, whether the row and column at a mirror line stand twice or once.
    colours : "keep" or "swap"
        What happens to repeats that land on the other row colours: see `repeat`.
    must_work : bool
        Whether to raise if a workable picture comes out unworkable.

    Returns
    -------
    Motif
        (R × up, C × across); with a shared seam ((R − 1) × up + 1, (C − 1) × across + 1).

    Raises
    ------
    UnworkableError
        If the picture as asked cannot be worked; the message names the cure.
    """
    of_kind("motif", motif, Motif)
    one_of("layout", layout, LAYOUTS)
    one_of("seam", seam, SEAMS)
    across, up = whole_number("across", across, least=1), whole_number("up", up, least=1)
    rows, columns = motif.shape
    checked_size(rows * up, columns * across)

    def lay(squares: NDArray[Any]) -> NDArray[Any]:
        if layout == "mirrored":
            return _mirrored(_mirrored(squares, up, seam, axis=0), across, seam, axis=1)
        laid = np.tile(squares, (up, across))
        # every second one, counted from the bottom up and from the left
        if layout == "brick":
            for j in range(1, up, 2):
                band = laid[rows * (up - j - 1) : rows * (up - j)]
                band[:] = np.roll(band, columns // 2, axis=1)
        elif layout == "half-drop":
            for i in range(1, across, 2):
                column = laid[:, columns * i : columns * (i + 1)]
                column[:] = np.roll(column, rows // 2, axis=0)
        return laid

    result = _moved(motif, lay, motif.first, colours)
    others: list[Mapping[str, Any]] = [{"colours": _other_way(colours)}]
    if layout == "mirrored" and seam == "double":
        others.append({"seam": "shared"})
    return _settled(
        motif,
        result,
        must_work,
        f"Laying {across} × {number_of(up, 'repeat')} {layout}",
        lambda motif, **other: tile(
            motif,
            **{"across": across, "up": up, "layout": layout, "seam": seam, "colours": colours, **other},
            must_work=False,
        ),
        others,
        _why_not(rows, layout, across, up) if colours == "keep" else "",
        taller=True,
    )


def _why_not(rows: int, layout: Layout, across: int, up: int) -> str:
    """Say what lands on the other row colours in a tiling, if anything does."""
    if layout == "mirrored":
        return "A mirrored repeat lands on the other row colours. " if up > 1 else ""
    if rows % 2 and up > 1:
        return f"{number_of(rows, 'row')} is an odd number, so every second repeat lands on the other row colours. "
    if layout == "half-drop" and across > 1:
        if rows % 2:
            return _say_odd(rows)
        if rows // 2 % 2:
            return f"A drop of {number_of(rows // 2, 'row')} lands on the other row colours. "
    return ""


def _mirrored(squares: NDArray[Any], count: int, seam: Seam, axis: int) -> NDArray[Any]:
    """Lay `count` copies along an axis, every second one mirrored; the first copy is the bottom or left one."""
    if axis == 0:
        squares = squares[::-1]
    turned = np.flip(squares, axis=axis)
    copies = [squares if i % 2 == 0 else turned for i in range(count)]
    if seam == "shared":
        copies[1:] = [np.take(copy, range(1, copy.shape[axis]), axis=axis) for copy in copies[1:]]
    laid = np.concatenate(copies, axis=axis)
    return laid[::-1] if axis == 0 else laid


def frame(
    motif: Motif,
    rings: int | Sequence[Role] = 1,
    *,
    colours: Colours = "keep",
    must_work: bool = True,
) -> Motif:
    """Frame the picture in rings one square wide.

    Parameters
    ----------
    motif : Motif
        (R, C), with an odd number of rows: the top and bottom of a ring then have one colour.
    rings : int, or sequence of "MC" and "CC"
        How many, each in the colour of its row so that the frame can be worked; or their colours, the outermost
        first.
    colours : "keep" or "swap"
        An odd number of rings moves the picture up by an odd number of rows. Keep its squares' colours and let row 1
        (and so the rings) take the other colour; or keep row 1's (or the colours asked for) and counterchange the
        picture where it lands on the other row colours.
    must_work : bool
        Whether to raise if a workable picture comes out unworkable.

    Returns
    -------
    Motif
        (R + 2 × rings, C + 2 × rings).

    Raises
    ------
    UnworkableError
        If the picture has an even number of rows, or the colours asked for cannot be worked; the message names the
        cure.

    Examples
    --------
    >>> framed = frame(Motif.from_text("#", first="CC"), 2)
    >>> print(framed.to_text(), framed.first)
    #####
    #...#
    #.#.#
    #...#
    ##### CC
    """
    of_kind("motif", motif, Motif)
    one_of("colours", colours, COLOURS)
    count, asked = _rings(rings)
    inside = pad(motif, top=count, bottom=count, left=count, right=count, colours=colours)
    if asked and inside.first != asked[0]:
        # row 1 has the colour of the outermost ring, whatever becomes of the picture inside
        inside = counterchange(inside) if colours == "swap" else inside.with_grid(inside.grid, asked[0])
    grid = inside.grid.copy()
    for i in range(count):
        colour = asked[i] if asked else orientation.role_of_row(i + 1, inside.first)
        grid[_ring(grid.shape, i)] = colour == "CC"
    result = inside.with_grid(grid)
    others: list[Mapping[str, Any]] = [{"colours": _other_way(colours)}]
    if asked:
        others += [
            {"rings": [orientation.role_of_row(i + 1, asked[0]) for i in range(more)]} for more in (count, count + 1)
        ]
    return _settled(
        motif,
        result,
        must_work,
        f"Framing in {number_of(count, 'ring')}",
        lambda motif, **other: frame(motif, **{"rings": rings, "colours": colours, **other}, must_work=False),
        others,
        ""
        if motif.shape[0] % 2
        else f"A ring closes only around an odd number of rows, and {motif.shape[0]} is even. ",
        taller=True,
    )


def _rings(rings: object) -> tuple[int, tuple[Role, ...] | None]:
    """Give how many rings are asked for, and their colours if they are named."""
    count = as_whole(rings)
    if count is not None and count >= 0:
        return count, None
    colours = None if isinstance(rings, str) or not isinstance(rings, Iterable) else tuple(rings)
    if colours is None or not all(isinstance(ring, str) and ring in ROLES for ring in colours):
        raise OptionError(
            "`rings` must be a whole number of 0 or more, or the colours of the rings, outermost first, as "
            f'["CC", "MC"]; got {rings!r}.'
        )
    return len(colours), cast(tuple[Role, ...], colours)


def _ring(shape: tuple[int, ...], inset: int) -> NDArray[np.bool_]:
    """Mark the squares of the ring that lies `inset` squares from the edge, (R, C)."""
    ring = np.zeros(shape, dtype=np.bool_)
    within = slice(inset, -inset or None)
    ring[within, within] = True
    ring[inset + 1 : -inset - 1, inset + 1 : -inset - 1] = False
    return ring
