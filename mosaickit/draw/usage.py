"""Yarn a row as bars, row 1 at the bottom as in the work."""

from __future__ import annotations

import matplotlib.pyplot as plt
import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Patch
from matplotlib.ticker import MaxNLocator

from mosaickit.draw.style import OUTLINE, SMALL
from mosaickit.errors import of_kind
from mosaickit.yarn import Usage


def yarn(usage: Usage, *, ax: Axes | None = None) -> Axes:
    """Draw the yarn that each row takes, in its yarn's colour, with the range from low to high.

    Parameters
    ----------
    usage : Usage
        With `total_m`, `low_m` and `high_m`, (R,) each, and `row_colours` and `yarns`, R long, row 1 first.
    ax : Axes, optional
        Where to draw; a new figure if left out.

    Returns
    -------
    Axes
        Metres from the left, row numbers from the bottom up.
    """
    of_kind("usage", usage, Usage)
    of_kind("ax", ax, Axes, or_none=True)
    rows = np.arange(1, len(usage.total_m) + 1)
    if ax is None:
        _, ax = plt.subplots(figsize=(6, min(max(2.5, 0.14 * len(rows)), 40)), layout="constrained")
    colours = [yarn.colour for yarn in usage.yarns]
    ax.barh(rows, usage.total_m, height=0.8, color=colours, edgecolor=OUTLINE, linewidth=0.6)
    reach = np.stack([usage.total_m - usage.low_m, usage.high_m - usage.total_m])
    ax.errorbar(usage.total_m, rows, xerr=reach, fmt="none", ecolor="black", elinewidth=0.8, capsize=1.5)
    ax.set_ylim(0.4, len(rows) + 0.6)
    ax.set_xlim(left=0)
    ax.yaxis.set_major_locator(MaxNLocator(integer=True))
    ax.tick_params(labelsize=SMALL)
    ax.set_xlabel("metres of yarn (line: from low to high)", fontsize=SMALL)
    ax.set_ylabel("row", fontsize=SMALL)
    different = dict.fromkeys(zip(usage.row_colours, usage.yarns, strict=True))
    samples = [Patch(fc=yarn.colour, ec=OUTLINE, lw=0.6, label=f"{role}: {yarn.name}") for role, yarn in different]
    legend = ax.legend(handles=samples, loc="upper left", bbox_to_anchor=(1, 1), frameon=False, fontsize=SMALL)
    for text in legend.get_texts():
        text.set_parse_math(False)
    return ax
