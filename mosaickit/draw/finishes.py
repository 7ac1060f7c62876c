"""A finished piece in true proportion: its front with border and fringe."""

from __future__ import annotations

import matplotlib.pyplot as plt
import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.patches import Rectangle

from mosaickit import orientation, svg
from mosaickit.colours import contrast
from mosaickit.draw.style import OUTLINE, in_cm, rgb
from mosaickit.errors import of_kind
from mosaickit.motif import LEAST_CONTRAST
from mosaickit.sizes import Design

_LEANS = 0.04
"""By which share of its length a strand ends higher or lower than it starts, so that a fringe looks like one."""


def finished(design: Design, *, ax: Axes | None = None) -> Axes:
    """Draw the right side of a finished piece to scale, with its border and its fringe.

    Parameters
    ----------
    design : Design
        Which; it has a gauge, and is worked flat or in the round (then as it is before it is closed).
    ax : Axes, optional
        Where to draw; a new figure if left out.

    Returns
    -------
    Axes
        In cm from the lower left corner of the finished piece; a fringe hangs to the left of it and to the right. A
        line stands between the rounds of a border.

    Raises
    ------
    OptionError
        If it is no design, or has no gauge.
    """
    of_kind("design", design, Design)
    of_kind("ax", ax, Axes, or_none=True)
    (width, length), edging, finish = design.size, design.edging, design.finish
    if ax is None:
        _, ax = plt.subplots(figsize=(5, 5), layout="constrained")
    beside, above = (added / 2 for added in edging.adds_cm)
    deep = edging.rounds_deep if edging.rounds else 0
    light = OUTLINE
    if edging.rounds:
        colour = design.layout.last_yarn(finish.finish_colour).colour
        ax.add_patch(Rectangle((0, 0), width, length, fc=colour, ec="none", zorder=0))
        if contrast(colour, OUTLINE) < LEAST_CONTRAST:
            light = "#ffffff"
    picture = design.picture
    ax.imshow(
        rgb(*svg.yarn_colours(picture.grid, picture.shown_rows, picture.yarns)),
        extent=(beside, width - beside, above, length - above),
        interpolation="auto",
        aspect="equal",
        zorder=0.5,
    )
    high = design.known_gauge.row_height_cm
    for number in range(deep + 1):
        left, low = number * high if beside else 0.0, number * high if above else 0.0
        size = width - 2 * left, length - 2 * low
        between = light if 0 < number < deep else OUTLINE
        ax.add_patch(Rectangle((left, low), *size, fill=False, ec=between, lw=0.5 if number else 0.8))
    hangs = finish.fringe_cm if finish.ends == "fringe" else 0.0
    if hangs:
        _fringe(ax, design, hangs)
    room = 0.02 * max(width + 2 * hangs, length)
    ax.set_xlim(-hangs - room, width + hangs + room)
    ax.set_ylim(-room, length + room)
    in_cm(ax)
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)
    return ax


def _fringe(ax: Axes, design: Design, hangs: float) -> None:
    """Draw the tails of each row in its yarn, those of a knot from one place, and the strands that are added."""
    width, high = design.size.width_cm, design.known_gauge.row_height_cm
    rows, finish = design.shape[0], design.finish
    together = finish.tails_a_knot or 1
    first = design.layout.first
    added = design.layout.last_yarn(finish.finish_colour).colour
    lines, colours = [], []
    for row in range(rows):
        role = orientation.role_of_row(row + 1, first)
        knot = row // together * together
        last = min(knot + together, rows)
        start, end = (knot + last) / 2 * high, (row + 0.5) * high
        strands = [(end, design.picture.yarns.at(row + 1, role).colour)]
        if row == knot and finish.added_strands and finish.tails_a_knot:
            ends = np.linspace(knot + 0.2, last - 0.2, 2 * finish.added_strands) * high
            strands += [(each, added) for each in ends.tolist()]
        for place, colour in strands:
            tip = place + _LEANS * hangs * (-1) ** row
            for edge, way in ((0.0, -1), (width, 1)):
                lines.append([(edge, start), (edge + way * 0.15 * hangs, start), (edge + way * hangs, tip)])
                colours.append(colour)
    # an outline, so that a pale yarn shows on white
    ax.add_collection(LineCollection(lines, colors=OUTLINE, linewidths=1.6))
    ax.add_collection(LineCollection(lines, colors=colours, linewidths=0.9))
