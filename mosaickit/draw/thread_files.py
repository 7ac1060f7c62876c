"""Fabric as its yarn lies, as a file: for pages that show it, which need no figure and so not what draws figures."""

from __future__ import annotations

from mosaickit.fabric import Chart
from mosaickit.files import png_of
from mosaickit.orientation import Face
from mosaickit.yarn import SQUARE_ACROSS, Thread, seen


def worked_png(thread: Thread, chart: Chart, *, side: Face = "front", across: int = SQUARE_ACROSS) -> bytes:
    """Give the fabric as its yarn lies, as `worked` draws it, as the bytes of a PNG file.

    Parameters
    ----------
    thread : Thread
        The yarn of the chart.
    chart : Chart
        Gives the colours.
    side : "front" or "back"
        From where it is seen.
    across : int
        Pixels to a yarn's diameter.

    Returns
    -------
    bytes
        The same for the same chart.
    """
    return png_of(seen(thread, chart, side=side, across=across))
