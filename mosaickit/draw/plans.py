"""Pieces to scale, beside each other, and what their yarn comes to as they grow wider."""

from __future__ import annotations

from collections.abc import Sequence

import matplotlib.pyplot as plt
import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Rectangle
from matplotlib.ticker import MaxNLocator

from mosaickit import svg
from mosaickit.draw.style import OUTLINE, SMALL, rgb
from mosaickit.errors import OptionError, each_of_kind, of_kind
from mosaickit.sizes import Fit
from mosaickit.yarn import YarnTotal

_MOST = 24
"""More pieces than this beside each other are too small to see."""


def piece(fit: Fit, *, ax: Axes | None = None) -> Axes:
    """Draw the right side of a piece to scale, its width from left to right.

    Parameters
    ----------
    fit : Fit
        One fit of a plan. Where rows run along the length, the piece is on its side: row 1 is at its right-hand edge.
    ax : Axes, optional
        Where to draw; a new figure if left out.

    Returns
    -------
    Axes
        In cm from the lower left corner.
    """
    of_kind("fit", fit, Fit)
    return pieces([fit], ax=ax)


def pieces(fits: Sequence[Fit], *, ax: Axes | None = None) -> Axes:
    """Draw pieces side by side at one scale.

    Parameters
    ----------
    fits : sequence of Fit
        1 to 24 fits, of one plan or of several.
    ax : Axes, optional
        Where to draw; a new figure if left out.

    Returns
    -------
    Axes
        In cm, the pieces in their order from the left with their feet on 0; what is written below each is its count of
        repeats, its width and how far that is off.

    Raises
    ------
    OptionError
        If there is no fit, or more than 24.
    """
    fits = each_of_kind("fits", fits, Fit)
    of_kind("ax", ax, Axes, or_none=True)
    if not 0 < len(fits) <= _MOST:
        raise OptionError(f"`fits` must be 1 to {_MOST} fits, so that each can be seen; got {len(fits)}.")
    gap = 0.15 * max(fit.width_cm for fit in fits)
    if ax is None:
        _, ax = plt.subplots(figsize=(min(1.5 + 1.1 * len(fits), 12), 5), layout="constrained")
    left = 0.0
    for fit in fits:
        picture = fit.layout.build()
        image = rgb(*svg.yarn_colours(picture.grid, picture.shown_rows, picture.yarns))
        if fit.wanted.worked == "along":
            image = np.rot90(image)
        ax.imshow(
            image,
            extent=(left, left + fit.width_cm, 0, fit.length_cm),
            interpolation="auto",  # a long piece has more squares than the page has dots
            aspect="equal",
        )
        ax.add_patch(Rectangle((left, 0), fit.width_cm, fit.length_cm, fill=False, ec=OUTLINE, lw=0.6))
        ax.text(
            left + fit.width_cm / 2,
            -0.01 * max(one.length_cm for one in fits),
            f"{fit.across} × {fit.up}\n{fit.width_cm:.1f} ×\n{fit.length_cm:.0f} cm\n{fit.deviation:+.1%}",
            ha="center",
            va="top",
            fontsize=SMALL,
        )
        left += fit.width_cm + gap
    ax.set_xlim(-gap / 2, left - gap / 2)
    ax.set_ylim(0, max(fit.length_cm for fit in fits))
    ax.set_xticks([])
    ax.set_ylabel("cm", fontsize=SMALL)
    ax.tick_params(labelsize=SMALL)
    for side in ("top", "right", "bottom"):
        ax.spines[side].set_visible(False)
    return ax


def yarn_by_width(fits: Sequence[Fit], *, ax: Axes | None = None) -> Axes:
    """Draw how much of each yarn pieces take against their width, and, where skeins are known, the metres to buy.

    Parameters
    ----------
    fits : sequence of Fit
        1 or more, of one length and of different widths, as of a plan with a wide tolerance.
    ax : Axes, optional
        Where to draw; a new figure if left out.

    Returns
    -------
    Axes
        Widths in cm from the left, metres upward. Each yarn is a line in its colour with a mark at each piece and a
        band from low to high; its skeins are steps.

    Raises
    ------
    OptionError
        If there is no fit.
    """
    fits = each_of_kind("fits", fits, Fit)
    of_kind("ax", ax, Axes, or_none=True)
    if not fits:
        raise OptionError("`fits` must be at least one fit; got none.")
    if ax is None:
        _, ax = plt.subplots(figsize=(7, 4), layout="constrained")
    fits = sorted(fits, key=lambda fit: fit.width_cm)
    widths = [fit.width_cm for fit in fits]
    totals = [{total.yarn: total for total in fit.by_yarn} for fit in fits]
    for number, yarn in enumerate(dict.fromkeys(yarn for of_fit in totals for yarn in of_fit)):
        found = [of_fit.get(yarn) for of_fit in totals]
        low, likely, high = (
            [getattr(total, name) if total else 0.0 for total in found] for name in ("low_m", "likely_m", "high_m")
        )
        ax.fill_between(widths, low, high, color=yarn.colour, alpha=0.25, linewidth=0)
        # each line is thinner than the one before, so that two of one height are both seen, and has an outline, so
        # that a pale yarn shows on white
        wide = max(5.0 - 2.5 * number, 1.5)
        ax.plot(widths, likely, color=OUTLINE, linewidth=wide + 1.2)
        ax.plot(
            widths,
            likely,
            color=yarn.colour,
            linewidth=wide,
            marker=_MARKS[number % len(_MARKS)],
            markersize=wide + 5,
            markeredgecolor=OUTLINE,
            label=f"{yarn.name}, likely; band from low to high",
        )
        if all(total is None or total.skein for total in found):
            ax.step(
                widths,
                [_bought_m(total) for total in found],
                where="mid",
                color=OUTLINE,
                linewidth=1,
                linestyle=_DASHES[number % len(_DASHES)],
                label=f"{yarn.name}, in the skeins to buy",
            )
    ax.set_ylim(bottom=0)
    ax.xaxis.set_major_locator(MaxNLocator(8))
    ax.set_xlabel("width in cm", fontsize=SMALL)
    ax.set_ylabel("metres of yarn", fontsize=SMALL)
    ax.tick_params(labelsize=SMALL)
    ax.grid(color="#cccccc", linewidth=0.5)
    for text in ax.legend(fontsize=SMALL, frameon=False, loc="upper left").get_texts():
        text.set_parse_math(False)
    return ax


def _bought_m(total: YarnTotal | None) -> float:
    return 0.0 if total is None or total.skein is None else (total.skeins or 0) * total.skein.metres


_MARKS = "osD^v"
_DASHES = ("--", ":", "-.")
