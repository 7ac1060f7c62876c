"""The two faces of a fabric as they look, in the proportion that the gauge gives a stitch."""

from __future__ import annotations

import matplotlib.pyplot as plt
from matplotlib.axes import Axes
from matplotlib.ticker import Locator, MaxNLocator, NullLocator

from mosaickit import svg
from mosaickit.draw.style import SMALL, in_cm, rgb, some_axes
from mosaickit.errors import of_kind, one_of
from mosaickit.fabric import Fabric
from mosaickit.gauge import Gauge
from mosaickit.orientation import FACES, Face

_TITLES = {"front": "front (right side)", "back": "back (wrong side), as seen from behind"}

_FLAT = 5
"""A piece that has more than this many times as many stitches as rows is drawn above its back, not beside it."""

_TOO_SHORT = 0.025
"""A side that is no more than this share of the other has room for one number at most, and gets none."""


def face(fabric: Fabric, *, side: Face = "front", gauge: Gauge | None = None, ax: Axes | None = None) -> Axes:
    """Draw one face of a fabric, as seen from its own side.

    Parameters
    ----------
    fabric : Fabric
        What the hook made, (R, N).
    side : "front" or "back"
        Which face; the back is mirrored left to right, as after turning the work over.
    gauge : Gauge, optional
        Gives squares their true proportion and the axes their centimetres; without it squares are square.
    ax : Axes, optional
        Where to draw; a new figure if left out.

    Returns
    -------
    Axes
        In cm from the lower left corner, or in squares without a gauge.

    Raises
    ------
    OptionError
        If there is no such side.

    Examples
    --------
    >>> from matplotlib.figure import Figure
    >>> from mosaickit import Chart, work
    >>> face(work(Chart.from_text("...")), side="back", ax=Figure().add_subplot()).get_title()
    'back (wrong side), as seen from behind'
    """
    of_kind("fabric", fabric, Fabric)
    one_of("side", side, FACES)
    of_kind("gauge", gauge, Gauge, or_none=True)
    of_kind("ax", ax, Axes, or_none=True)
    if ax is None:
        _, ax = plt.subplots(layout="constrained")
    shows, rows = (fabric.front, fabric.front_rows) if side == "front" else (fabric.back, fabric.back_rows)
    index, colours = svg.yarn_colours(shows, rows, fabric.yarns)
    wide, high = (1.0, 1.0) if gauge is None else (gauge.stitch_width_cm, gauge.row_height_cm)
    ax.imshow(
        rgb(index, colours),
        extent=(0, index.shape[1] * wide, 0, index.shape[0] * high),
        interpolation="none",
        aspect="equal",
    )
    name = f"{fabric.name}\n" if fabric.name else ""
    ax.set_title(f"{name}{_TITLES[side]}", fontsize=SMALL + 1, parse_math=False)
    if gauge is None:
        ax.set(xticks=[], yticks=[])
    else:
        in_cm(ax)
        # fewer numbers along the short side of a long piece, or they lie on each other
        rows, columns = index.shape
        ax.yaxis.set_major_locator(_numbers(rows * high / (columns * wide)))
        ax.xaxis.set_major_locator(_numbers(columns * wide / (rows * high)))
    return ax


def _numbers(share: float) -> Locator:
    """Give as many numbers as there is room for along a side of a face that is this share of the other side."""
    return MaxNLocator(min(int(16 * share) + 1, 8), steps=[1, 2, 5, 10]) if share > _TOO_SHORT else NullLocator()


def faces(fabric: Fabric, *, gauge: Gauge | None = None, axes: tuple[Axes, Axes] | None = None) -> tuple[Axes, Axes]:
    """Draw both faces side by side, the front at the left, or, of a long flat piece, above the back; see `face`.

    Parameters
    ----------
    fabric : Fabric
        What the hook made, (R, N).
    gauge : Gauge, optional
        As `face` takes it.
    axes : pair of Axes, optional
        Where to draw front and back; a new figure if left out.

    Returns
    -------
    tuple of Axes
        Those of the front and of the back.
    """
    of_kind("fabric", fabric, Fabric)
    some_axes(axes, 2)
    if axes is None:
        rows, columns = fabric.front.shape
        flat = columns > _FLAT * rows
        high = 2 + 18 * rows / columns if flat else 4.8
        figure = plt.figure(figsize=(9, high), layout="constrained")
        axes = tuple(figure.subplots(2, 1) if flat else figure.subplots(1, 2))
    for ax, side in zip(axes, FACES, strict=True):
        face(fabric, side=side, gauge=gauge, ax=ax)
    return axes
