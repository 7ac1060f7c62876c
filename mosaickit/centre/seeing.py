"""A square from the centre as its yarn lies: four sides of fabric, each turned outward and cut slantwise.

Each side is drawn as fabric that is worked in rows. How they look where they meet, at the corners, is not known.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from mosaickit import orientation
from mosaickit.centre.stitches import CentreChart
from mosaickit.errors import of_kind, one_of
from mosaickit.fabric import Chart, Stitch
from mosaickit.gauge import Gauge
from mosaickit.orientation import FACES, Face
from mosaickit.yarn import Pixels, YarnScale, YarnSheet, cut_to_fabric, fabric_laid, mitred, yarn_strip


class SquareSeen(NamedTuple):
    """A square as a picture, (height, width, 4), and where in it the fabric is; all in pixels but the last."""

    image: Pixels
    room: int
    """What is left around the fabric."""
    wide: int
    """How wide the fabric is, and how high."""
    pixel_cm: float
    """The side of a pixel, in cm."""


def square_seen(chart: CentreChart, gauge: Gauge, *, side: Face, across: int, yarn_mm: float | None) -> SquareSeen:
    """Draw a square as its yarn lies.

    Parameters
    ----------
    chart : CentreChart
        A chart that the hook can work.
    gauge : Gauge
        The size of a stitch; what is drawn is square, so each stitch is as wide as its mean with a row's height.
    side : "front" or "back"
        From where it is seen.
    across : int
        Pixels to a yarn's diameter in work, 2 to 100.
    yarn_mm : float, optional
        The yarn's diameter, if it is known.

    Raises
    ------
    OptionError
        If an argument is not as described.
    """
    of_kind("chart", chart, CentreChart)
    of_kind("gauge", gauge, Gauge)
    one_of("side", side, FACES)
    cm = (gauge.stitch_width_cm + gauge.row_height_cm) / 2
    scale = YarnScale.of(Gauge(10 / cm, 10 / cm), yarn_mm, across)
    count, room = len(chart.rounds), scale.pixels(cm)
    deep, wide = scale.pixels(count * cm), scale.pixels(chart.side * cm)
    sheet = YarnSheet.empty(wide + 2 * room, wide + 2 * room)
    ring = yarn_strip(1, 1, chart.yarns.at(1, chart.round_colours[0]), scale, side)
    sheet.lay(ring, room + deep, room + deep)
    away = np.abs(np.arange(-count, count + 1))
    inside = away <= np.arange(count, 0, -1)[:, np.newaxis]
    for turns in range(4):
        of_side = np.where(inside, np.rot90(chart.as_seen, -turns)[:count], Stitch.BLSC).astype(np.uint8)
        rows = Chart(orientation.to_working(of_side, chart.hand), chart.round_colours, chart.yarns, hand=chart.hand)
        image = mitred(cut_to_fabric(fabric_laid(rows, scale, side), rows.shape, scale)[:, :wide], deep)
        placed = turns if side == "front" else -turns % 4
        over = image.shape[0] - deep
        places = [
            (room, room - over),
            (room - over, room),
            (room, room + wide - deep),
            (room + wide - deep, room),
        ]
        sheet.lay(np.rot90(image, placed), *places[placed])
    return SquareSeen(sheet.image, room, wide, scale.pixel_cm)
