"""Fabric as it looks when it is worked: yarn as round tubes, seen straight on from the front or from behind."""

from __future__ import annotations

import matplotlib.pyplot as plt
from matplotlib.axes import Axes

from mosaickit.draw.style import SMALL, in_cm
from mosaickit.errors import of_kind, one_of
from mosaickit.fabric import Chart
from mosaickit.gauge import Gauge
from mosaickit.orientation import FACES, Face
from mosaickit.yarn import SQUARE_ACROSS, YarnSettings, seen, thread_of


def worked(
    chart: Chart,
    *,
    gauge: Gauge,
    side: Face = "front",
    yarn_mm: float | None = None,
    across: int = SQUARE_ACROSS,
    ax: Axes | None = None,
) -> Axes:
    """Draw fabric as its yarn lies.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches that a hook can work.
    gauge : Gauge
        The size of a stitch.
    side : "front" or "back"
        Which face; the back is mirrored left to right, as after turning the work over.
    yarn_mm : float, optional
        The yarn's diameter; a third of a stitch's width if left out.
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
    OptionError
        If an argument is not as described.
    """
    one_of("side", side, FACES)
    of_kind("ax", ax, Axes, or_none=True)
    thread = thread_of(chart, gauge, yarn_settings=YarnSettings(yarn_mm=yarn_mm, tail_cm=0))
    image = seen(thread, chart, side=side, across=across)
    if ax is None:
        _, ax = plt.subplots(layout="constrained")
    pixel = thread.yarn_cm / across
    ax.imshow(
        image, extent=(0, image.shape[1] * pixel, 0, image.shape[0] * pixel), interpolation="auto", aspect="equal"
    )
    name = f"{chart.name}\n" if chart.name else ""
    ax.set_title(f"{name}{side}, as its yarn lies", fontsize=SMALL + 1, parse_math=False)
    in_cm(ax)
    return ax
