"""A finished piece as its yarn lies: the fabric with its border and its fringe, from the front or from behind."""

from __future__ import annotations

import matplotlib.pyplot as plt
import numpy as np
from matplotlib.axes import Axes

from mosaickit import orientation
from mosaickit.centre import square_seen
from mosaickit.draw.style import SMALL, in_cm
from mosaickit.errors import of_kind, one_of
from mosaickit.orientation import FACES, Face
from mosaickit.sizes import CentreDesign, Design
from mosaickit.yarn import Pixels, YarnScale, YarnSheet, fabric_laid, mitred, yarn_strip

PIECE_ACROSS = 3
"""Pixels to a yarn's diameter in work."""


def worked_piece(design: Design, *, side: Face = "front", across: int = PIECE_ACROSS, ax: Axes | None = None) -> Axes:
    """Draw a finished piece as its yarn lies, with its border and its fringe.

    Parameters
    ----------
    design : Design
        Which; it has a gauge and can be worked.
    side : "front" or "back"
        From where it is seen. A piece in the round lies flat: its front is the outside half across from the join, its
        back the outside half with the join in the middle.
    across : int
        Pixels to a yarn's diameter in work, 2 or more.
    ax : Axes, optional
        Where to draw; a new figure if left out.

    Returns
    -------
    Axes
        In cm from the lower left corner of the finished piece; a fringe hangs to the left of it and to the right.

    Raises
    ------
    UnworkableError
        If the piece cannot be worked.
    OptionError
        If an argument is not as described, or the design has no gauge.
    """
    of_kind("design", design, Design)
    one_of("side", side, FACES)
    of_kind("ax", ax, Axes, or_none=True)
    scale = YarnScale.of(design.known_gauge, design.yarn_settings.yarn_mm, across)
    image, beside = _in_the_round(design, scale, side) if design.surround.in_the_round else _flat(design, scale, side)
    return _shown(ax, image, scale.pixel_cm, (beside, design.size.length_cm), f"{design.title}\n{_what(design, side)}")


def worked_square(
    design: CentreDesign, *, side: Face = "front", across: int = PIECE_ACROSS, ax: Axes | None = None
) -> Axes:
    """Draw a square worked from the centre as its yarn lies. Experimental: such squares were never tried on wool.

    Its four sides are drawn as fabric worked in rows, each turned outward; how they look where they meet, at the
    corners, is not known.

    Parameters
    ----------
    design : CentreDesign
        Which; it has a gauge and can be worked.
    side : "front" or "back"
        From where it is seen.
    across : int
        Pixels to a yarn's diameter in work, 2 or more.
    ax : Axes, optional
        Where to draw; a new figure if left out.

    Returns
    -------
    Axes
        In cm from the lower left corner.

    Raises
    ------
    UnworkableError
        If the picture cannot be worked.
    OptionError
        If an argument is not as described, or the design has no gauge.
    """
    of_kind("design", design, CentreDesign)
    one_of("side", side, FACES)
    of_kind("ax", ax, Axes, or_none=True)
    gauge, yarn_mm = design.known_gauge, design.yarn_settings.yarn_mm
    drawn = square_seen(design.chart, gauge, side=side, across=across, yarn_mm=yarn_mm)
    lies = drawn.room, drawn.wide * drawn.pixel_cm
    return _shown(ax, drawn.image, drawn.pixel_cm, lies, f"{design.title}\n{side}, as its yarn lies")


def _shown(ax: Axes | None, image: Pixels, pixel: float, lies: tuple[int, float], title: str) -> Axes:
    """Show a picture; `lies` is how many pixels lie to the left of the piece, and how high it is in cm."""
    if ax is None:
        _, ax = plt.subplots(layout="constrained")
    left = -lies[0] * pixel
    high = image.shape[0] * pixel
    foot = (lies[1] - high) / 2
    extent = (left, left + image.shape[1] * pixel, foot, foot + high)
    ax.imshow(image, extent=extent, interpolation="auto", aspect="equal")
    ax.set_title(title, fontsize=SMALL + 1, parse_math=False)
    in_cm(ax)
    return ax


def _what(design: Design, side: Face) -> str:
    if not design.surround.in_the_round:
        return f"{side}, as its yarn lies"
    return "front, lying flat" if side == "front" else "back, lying flat, with the join in the middle"


def _flat(design: Design, scale: YarnScale, side: Face) -> tuple[Pixels, int]:
    """Draw a piece that was worked flat; and say how many pixels lie to the left of it."""
    edging, finish = design.edging, design.finish
    hangs = scale.pixels(finish.fringe_cm) if finish.ends == "fringe" else 0
    fabric = fabric_laid(design.chart, scale, side)
    wide, high = (scale.pixels(length) for length in scale.gauge.size_cm(*design.shape))
    beside, above = (scale.pixels(added / 2) for added in edging.adds_cm)
    room = fabric.left
    sheet = YarnSheet.empty(wide + 2 * (beside + room + hangs), high + 2 * (above + room))
    left, top = room + hangs + beside, room + above  # of the fabric
    if hangs:
        _fringe(design, scale, sheet, (left, top, wide, high), hangs)
    sheet.lay(fabric.image, left - fabric.left, top + high + fabric.foot - fabric.image.shape[0])
    if edging.rounds:
        _border(design, scale, sheet, (left, top, wide, high), side)
    return sheet.image, room + hangs


Box = tuple[int, int, int, int]
"""Left, top, width and height of the fabric, in pixels."""


def _border(design: Design, scale: YarnScale, sheet: YarnSheet, box: Box, side: Face) -> None:
    """Lay a strip along each side that has one; those that meet in a corner are cut slantwise."""
    left, top, wide, high = box
    edging = design.edging
    yarn = design.layout.last_yarn(design.finish.finish_colour)
    deep = scale.pixels(edging.depth_cm)
    around = edging.edges_apart == 1
    for turns, length in enumerate((wide, high, wide, high)):  # the top, and on against the clock
        if turns % 2 == 0 and edging.adds_cm[1] == 0:
            continue
        whole = length + 2 * deep * around
        stitches = -(-whole // scale.pixels(scale.gauge.stitch_width_cm)) + 1
        image = yarn_strip(edging.rounds_deep, stitches, yarn, scale, side)[:, :whole]
        image = np.rot90(mitred(image, deep) if around else image, turns)
        more = deep * around
        places = [
            (left - more, top - image.shape[0]),
            (left - image.shape[1], top - more),
            (left - more, top + high),
            (left + wide, top - more),
        ]
        sheet.lay(image, *places[turns])


def _fringe(design: Design, scale: YarnScale, sheet: YarnSheet, box: Box, hangs: int) -> None:
    """Lay the tails of each row at both ends, those of a knot from one place, and the strands that are added."""
    left, _, wide, _ = box
    foot = box[1] + box[3]
    rows, finish = design.shape[0], design.finish
    row_px = scale.gauge.row_height_cm / scale.pixel_cm
    together = finish.tails_a_knot or 1
    added = design.layout.last_yarn(finish.finish_colour).colour
    for knot in range(0, rows, together):
        last = min(knot + together, rows)
        gathered = (knot + last) / 2 * row_px
        strands = [
            ((row + 0.5) * row_px, design.picture.yarns.at(row + 1, role).colour)
            for row in range(knot, last)
            for role in [orientation.role_of_row(row + 1, design.layout.first)]
        ]
        if finish.tails_a_knot:
            ends = np.linspace(knot + 0.2, last - 0.2, 2 * finish.added_strands) * row_px
            strands += [(float(end), added) for end in ends]
        at_knot = 0.13 * hangs if finish.tails_a_knot else 0.0
        for number, (start, colour) in enumerate(strands):
            tip = start + 0.25 * row_px * (-1) ** number
            bow = 0.35 * row_px * np.sin(np.linspace(0, np.pi * (1 + number % 2), 12)) * (-1) ** number
            for edge, way in ((left, -1), (left + wide, 1)):
                out = np.array([(edge, start), (edge + way * at_knot, gathered if at_knot else start)])
                along = np.linspace(at_knot, hangs, 12)
                down = np.linspace(out[1, 1], tip, 12) + bow
                path = np.concatenate([out[:1], np.column_stack([edge + way * along, down])])
                sheet.strand(np.column_stack([path[:, 0], foot - path[:, 1]]), colour, scale.across)
        if at_knot and together > 1:
            for edge, way in ((left, -1), (left + wide, 1)):
                x, y = edge + way * at_knot, foot - gathered
                turn = np.array([(x, y - 0.55 * row_px), (x + way * scale.across, y), (x, y + 0.55 * row_px)])
                sheet.strand(turn, strands[0][1], 1.6 * scale.across)


def _in_the_round(design: Design, scale: YarnScale, side: Face) -> tuple[Pixels, int]:
    """Draw half of a piece in the round as it lies flat, its outside always seen."""
    edging = design.edging
    fabric = fabric_laid(design.chart, scale, "front")
    around, high = (scale.pixels(length) for length in scale.gauge.size_cm(*design.shape))
    above, room = scale.pixels(edging.adds_cm[1] / 2), fabric.foot
    half = around // 2
    # the outside twice over, so that any half of it is in one piece
    sheet = YarnSheet.empty(2 * around, high + 2 * (above + room))
    top = room + above
    for start in (0, around):
        sheet.lay(fabric.image, start - fabric.left, top + high + fabric.foot - fabric.image.shape[0])
    if edging.rounds:
        yarn = design.layout.last_yarn(design.finish.finish_colour)
        stitches = -(-2 * around // scale.pixels(scale.gauge.stitch_width_cm)) + 1
        edge = yarn_strip(edging.rounds_deep, stitches, yarn, scale, "front")[:, : 2 * around]
        sheet.lay(edge, 0, top - edge.shape[0])
        sheet.lay(edge[::-1], 0, top + high)
    start = (around - half) // 2 if side == "front" else around - half // 2
    return sheet.image[:, start : start + half], 0
