"""What is expected: the yarn that each square shows if the chart was followed, and the other that it may show.

A square shows its own row's yarn or, where the stitch above hangs over it, that of the next row: nothing else. As seen
in the photograph throughout, so the back is mirrored.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import Yarn
from mosaickit.fabric import Chart, work
from mosaickit.orientation import Face
from mosaickit.photographed.straight import Reals, in_logarithms


@dataclass(frozen=True, eq=False)
class Expected:
    """The squares of a part of the chart, n rows of C stitches.

    Attributes
    ----------
    overlaid : bool array, (n, C)
        Where the next row's yarn is expected.
    own, above : int array, (n,)
        Which of the yarns the row itself, and the next one, is worked in, from the top down.
    top_is_last : bool
        Whether no row follows the one on top, so that nothing of it can be overlaid.
    yarns : tuple of Yarn
        The yarns.
    numbers : int array, (n,)
        The maker's row numbers, from the top down.
    stitches : int array, (C,)
        The maker's stitch numbers, from the left.
    """

    overlaid: NDArray[np.bool_]
    own: NDArray[np.intp]
    above: NDArray[np.intp]
    top_is_last: bool
    yarns: tuple[Yarn, ...]
    numbers: NDArray[np.int64]
    stitches: NDArray[np.int64]

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and stitches."""
        rows, columns = self.overlaid.shape
        return rows, columns

    @property
    def shows(self) -> NDArray[np.intp]:
        """Which yarn each square is expected to show, (n, C)."""
        return self.showing(self.overlaid)

    def showing(self, overlaid: NDArray[np.bool_]) -> NDArray[np.intp]:
        """Which yarn each square shows if these are overlaid, (n, C)."""
        shown: NDArray[np.intp] = np.where(overlaid, self.above[:, np.newaxis], self.own[:, np.newaxis])
        return shown

    @property
    def tones(self) -> Reals:
        """How light each yarn is on a screen, (K,), about 0 and with a spread of 1: as it goes into the picture."""
        channels = [[int(yarn.colour[at : at + 2], 16) / 255 for at in (1, 3, 5)] for yarn in self.yarns]
        light: Reals = in_logarithms(np.array(channels, dtype=np.float32)).mean(axis=1)
        return light - float(light.mean())

    def lowest(self, rows: int) -> Expected:
        """Give the lowest of its rows, as work in progress: the row on top is the last that was worked."""
        overlaid = self.overlaid[-rows:].copy()
        overlaid[0] = False
        own, above, numbers = (array[-rows:] for array in (self.own, self.above, self.numbers))
        return replace(self, overlaid=overlaid, own=own, above=above, numbers=numbers, top_is_last=True)

    def mirrored(self) -> Expected:
        """Give what a mirrored picture would show."""
        overlaid, stitches = (orientation.from_behind(array) for array in (self.overlaid, self.stitches[np.newaxis]))
        return replace(self, overlaid=overlaid, stitches=stitches[0])


def expected(chart: Chart, face: Face, rows: tuple[int, int], stitches: tuple[int, int]) -> Expected:
    """Work the chart and give the squares of a part of it, as seen from a face.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches that a hook can work.
    face : "front" or "back"
        From where it is seen.
    rows, stitches : (first, last)
        The part, from 1.
    """
    fabric = work(chart)
    shown = fabric.front_rows if face == "front" else fabric.back_rows
    count, across = chart.shape
    numbers, places = orientation.row_numbers(count), orientation.stitch_numbers(across, chart.hand)
    if face == "back":
        places = orientation.from_behind(places[np.newaxis])[0]
    here = (numbers >= rows[0]) & (numbers <= rows[1])
    there = (places >= stitches[0]) & (places <= stitches[1])
    by_row = [chart.yarns.at(row, role) for row, role in enumerate(chart.row_colours, 1)]
    yarns = tuple(dict.fromkeys(by_row))
    index = np.array([yarns.index(yarn) for yarn in by_row])
    numbers = numbers[here]
    return Expected(
        overlaid=(shown[here] != numbers[:, np.newaxis])[:, there],
        own=index[numbers - 1],
        above=index[np.minimum(numbers, count - 1)] if count > 1 else index[numbers - 1],
        top_is_last=rows[1] == count,
        yarns=yarns,
        numbers=numbers,
        stitches=places[there],
    )
