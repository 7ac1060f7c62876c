"""A proof as pictures: both faces of what a text makes, with the squares marked that were charted otherwise."""

from __future__ import annotations

import matplotlib.pyplot as plt
import numpy as np
from matplotlib.axes import Axes

from mosaickit.draw.fabrics import face
from mosaickit.draw.style import SMALL, some_axes
from mosaickit.errors import OptionError, of_kind
from mosaickit.gauge import Gauge
from mosaickit.orientation import FACES
from mosaickit.wording import Proof


def proof(proof: Proof, *, gauge: Gauge | None = None, axes: tuple[Axes, Axes] | None = None) -> tuple[Axes, Axes]:
    """Draw both faces of what a text makes, each from its own side, with what differs from the chart marked.

    Parameters
    ----------
    proof : Proof
        Of a text that a hook can work.
    gauge : Gauge, optional
        As `face` takes it.
    axes : pair of Axes, optional
        Where to draw front and back; a new figure if left out.

    Returns
    -------
    tuple of Axes
        Those of the front and of the back. A square that looks otherwise than charted has a cross in a ring on it; no
        square has where the sizes differ, and the title says so.

    Raises
    ------
    OptionError
        If the text cannot be read or worked, so that there is nothing to draw.
    """
    of_kind("proof", proof, Proof)
    of_kind("gauge", gauge, Gauge, or_none=True)
    some_axes(axes, 2)
    if proof.fabric is None:
        raise OptionError(f"There is no fabric to draw. {proof}")
    if axes is None:
        _, (left, right) = plt.subplots(1, 2, layout="constrained")
        axes = left, right
    wide, high = (1.0, 1.0) if gauge is None else (gauge.stitch_width_cm, gauge.row_height_cm)
    for side, ax in zip(FACES, axes, strict=True):
        face(proof.fabric, side=side, gauge=gauge, ax=ax)
        wrong = proof.wrong(side)
        if wrong is None:
            said = "another size than charted"
        else:
            rows, columns = np.nonzero(wrong)
            said = f"{len(rows)} {'square looks' if len(rows) == 1 else 'squares look'} otherwise than charted"
            middle = (columns + 0.5) * wide, (len(wrong) - rows - 0.5) * high
            # black on white, so that the mark shows on either colour
            ax.scatter(*middle, s=40, marker="o", facecolors="white", edgecolors="black", linewidths=1)
            ax.scatter(*middle, s=18, marker="x", color="black", linewidths=1)
        ax.set_title(f"{ax.get_title()}\n{said}", fontsize=SMALL + 1, parse_math=False)
    return axes
